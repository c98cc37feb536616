//! Breadth first through all states that a packed machine can come to.

use super::bits::Test;
use super::layout::State;
use super::machine::{Asks, Promise};
use super::packed::{Packed, Settled};
use crate::calc::FormulaError;
use rustc_hash::FxHashMap;
use smol_str::SmolStr;

/// So many stories that their clocks forbid are looked at for one promise, in search of one that they allow.
const MOST_TRIED: usize = 200;
/// The state that comes before the first.
const NONE: u32 = u32::MAX;
/// So many promises are held at once: a bit for each.
pub(super) const PROMISES: usize = u64::BITS as usize;

/// What came out for one promise: stories as numbers of events in the packed machine.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Found {
    /// No state and no step that was met breaks it.
    Kept,
    /// This breaks it.
    Broken(Vec<usize>),
    /// This would break it, but cannot happen in time; nothing that can was found.
    OutOfTime(Vec<usize>),
}

/// What was met.
pub(super) struct Searched {
    pub(super) states: usize,
    /// Whether all states were met.
    pub(super) whole: bool,
    pub(super) found: Vec<Found>,
    /// The way to where something goes on changing for ever.
    pub(super) flutters: Option<Vec<usize>>,
}

/// A promise as tests on packed states.
enum Asked {
    Never(Test),
    NeverBy { by: Vec<bool>, becomes: Test, unless: Test },
    Possible { by: Vec<bool>, goal: Test, whenever: Test },
}

/// Whether a story, told as numbers of events in the packed machine, can happen in time.
pub(super) type Fits<'f> = &'f dyn Fn(&[usize]) -> bool;

/// What was found of a promise so far.
struct Tally {
    asked: Asked,
    /// The bits of a state that it asks about.
    reads: State,
    found: Found,
    /// How many stories were tried that their clocks forbid.
    tried: usize,
}

impl Tally {
    fn is_open(&self) -> bool {
        !matches!(self.found, Found::Broken(_)) && self.tried < MOST_TRIED
    }

    fn note(&mut self, way: Vec<usize>, fits: Fits<'_>) {
        if fits(&way) {
            self.found = Found::Broken(way);
            return;
        }
        self.tried += 1;
        if self.found == Found::Kept {
            self.found = Found::OutOfTime(way);
        }
    }
}

/// What followed where events had made these states, and the numbers of those: of all that share a place the last.
#[derive(Default)]
struct Followed {
    places: Vec<(State, State, u32)>,
}

impl Followed {
    const PLACES: usize = 1 << 13;

    fn place(put: State) -> usize {
        // The upper bits of a product by the golden ratio: Knuth, The Art of Computer Programming 3, 6.4.
        usize::try_from(put.wrapping_mul(0x9E37_79B9_7F4A_7C15) >> 51).unwrap_or(0)
    }

    fn of(&self, put: State) -> Option<(State, u32)> {
        let (known, after, met) = self.places.get(Self::place(put))?;
        (*known == put && *met != NONE).then_some((*after, *met))
    }

    fn note(&mut self, put: State, after: State, met: u32) {
        if self.places.is_empty() {
            self.places = vec![(0, 0, NONE); Self::PLACES];
        }
        if let Some(place) = self.places.get_mut(Self::place(put)) {
            *place = (put, after, met);
        }
    }
}

/// What each promise says of a state, a bit for each.
#[derive(Debug, Clone, Copy, Default)]
struct Told {
    /// What it forbids is so.
    so: u64,
    /// And nothing excuses it.
    breaks: u64,
}

#[derive(Default)]
struct Search {
    states: Vec<State>,
    told: Vec<Told>,
    /// From which state, and by which event.
    before: Vec<(u32, u32)>,
    known: FxHashMap<State, u32>,
    followed: Followed,
    /// Where states lead, by which event, and how many such ways begin before each state's first; if somebody asks what can
    /// be reached from there.
    leads: Vec<(u32, u32)>,
    first: Vec<usize>,
}

/// Goes through all states, or as many as are allowed; `by` says who brings about each event. Of promises no more than
/// [`PROMISES`].
pub(super) fn search(
    packed: &Packed,
    by: &[SmolStr],
    promises: &[&Promise],
    most_states: usize,
    fits: Fits<'_>,
) -> Result<Searched, FormulaError> {
    let tally = |promise: &&Promise| {
        let asked = asked(packed, by, promise)?;
        Ok(Tally { reads: asked.reads(), asked, found: Found::Kept, tried: 0 })
    };
    let mut tallies = promises.iter().map(tally).collect::<Result<Vec<_>, FormulaError>>()?;
    let looks_ahead = tallies.iter().any(|tally| matches!(tally.asked, Asked::Possible { .. }));
    let never = bits(tallies.iter().map(|tally| matches!(tally.asked, Asked::Never(_))));
    // The promises that each event can break.
    let can_break: Vec<u64> = (0..by.len()).map(|event| bits(tallies.iter().map(|tally| tally.asked.is_of(event)))).collect();
    let mut search = Search::default();
    let mut flutters = None;
    match packed.first() {
        Settled::At(state) => {
            search.meet(state, NONE, NONE, &tallies);
        }
        Settled::Flutters => flutters = Some(Vec::new()),
    }
    let mut whole = true;
    let mut at = 0;
    while let Some((state, told)) = search.states.get(at).copied().zip(search.told.get(at).copied()) {
        let here = u32::try_from(at).unwrap_or(NONE);
        if told.so & never != 0 {
            open(&mut tallies, told.so & never).for_each(|tally| tally.note(search.way(here), fits));
        }
        if !tallies.is_empty() && !looks_ahead && !tallies.iter().any(Tally::is_open) {
            break;
        }
        search.first.push(search.leads.len());
        for (number, put) in packed.events(state) {
            let known = search.followed.of(put);
            let after = match known.map_or_else(|| packed.after(put, state), |(after, _)| Settled::At(after)) {
                Settled::At(after) if after == state => {
                    search.followed.note(put, after, here);
                    continue;
                }
                Settled::At(after) => after,
                Settled::Flutters => {
                    flutters.get_or_insert_with(|| search.way_and(here, number));
                    continue;
                }
            };
            let event = u32::try_from(number).unwrap_or(NONE);
            let met = match known {
                Some((_, met)) => met,
                None => {
                    let met = search.meet(after, here, event, &tallies);
                    search.followed.note(put, after, met);
                    met
                }
            };
            let breaks = can_break.get(number).copied().unwrap_or(0) & !told.so & search.breaks(met);
            if breaks != 0 {
                open(&mut tallies, breaks).for_each(|tally| tally.note(search.way_and(here, number), fits));
            }
            if looks_ahead {
                search.leads.push((met, event));
            }
        }
        at += 1;
        if search.states.len() > most_states {
            whole = false;
            break;
        }
    }
    if whole {
        tallies.iter_mut().for_each(|tally| search.look_ahead(tally, fits));
    }
    let found = tallies.into_iter().map(|tally| tally.found).collect();
    Ok(Searched { states: search.states.len(), whole, found, flutters })
}

/// Those of these promises that are still to be settled.
fn open(tallies: &mut [Tally], among: u64) -> impl Iterator<Item = &mut Tally> {
    tallies.iter_mut().enumerate().filter(move |(at, tally)| among >> at & 1 == 1 && tally.is_open()).map(|(_, tally)| tally)
}

/// A bit for each, the first the lowest.
fn bits(of: impl Iterator<Item = bool>) -> u64 {
    of.take(PROMISES).enumerate().fold(0, |bits, (at, so)| bits | u64::from(so) << at)
}

fn asked(packed: &Packed, by_whom: &[SmolStr], promise: &Promise) -> Result<Asked, FormulaError> {
    let of = |wanted: &[SmolStr]| by_whom.iter().map(|by| wanted.is_empty() || wanted.contains(by)).collect();
    Ok(match &promise.asks {
        Asks::Never(condition) => Asked::Never(Test::of(condition, &packed.layout)?),
        Asks::NeverBy { by, becomes, unless } => {
            Asked::NeverBy { by: of(by), becomes: Test::of(becomes, &packed.layout)?, unless: Test::of(unless, &packed.layout)? }
        }
        Asks::Possible { by, goal, whenever } => {
            Asked::Possible { by: of(by), goal: Test::of(goal, &packed.layout)?, whenever: Test::of(whenever, &packed.layout)? }
        }
    })
}

impl Asked {
    /// The bits of a state that it asks about, of those that are asked of each state.
    fn reads(&self) -> State {
        match self {
            Asked::Never(condition) => condition.reads(),
            Asked::NeverBy { becomes, unless, .. } => becomes.reads() | unless.reads(),
            Asked::Possible { .. } => 0,
        }
    }

    /// Whether it is about what this event makes of a state.
    fn is_of(&self, event: usize) -> bool {
        matches!(self, Asked::NeverBy { by, .. } if by.get(event).copied().unwrap_or(false))
    }
}

impl Told {
    /// What is said of a state, where that is known of another: most is said of bits that are the same in both.
    fn of(state: State, other: Option<(State, Told)>, tallies: &[Tally]) -> Told {
        let (apart, mut told) = other.map_or((None, Told::default()), |(other, told)| (Some(state ^ other), told));
        // Of the first state all is asked, what depends on nothing as well.
        let asked = tallies.iter().enumerate().filter(|(_, tally)| apart.is_none_or(|apart| tally.reads & apart != 0));
        for (at, tally) in asked {
            let (so, breaks) = match &tally.asked {
                Asked::Never(condition) => (condition.holds(state), false),
                Asked::NeverBy { becomes, unless, .. } => {
                    let becomes = becomes.holds(state);
                    (becomes, becomes && !unless.holds(state))
                }
                Asked::Possible { .. } => (false, false),
            };
            told.so = told.so & !(1 << at) | u64::from(so) << at;
            told.breaks = told.breaks & !(1 << at) | u64::from(breaks) << at;
        }
        told
    }
}

impl Search {
    /// Tells the nearest state from which what has to be in reach is not.
    fn look_ahead(&self, tally: &mut Tally, fits: Fits<'_>) {
        let Asked::Possible { by, goal, whenever } = &tally.asked else { return };
        let stuck = self.stuck(by, goal);
        let failing = (0..).zip(self.states.iter().zip(&stuck)).filter(|(_, (state, stuck))| **stuck && whenever.holds(**state));
        for way in failing.map(|(at, _)| self.way(at)).take(MOST_TRIED).collect::<Vec<_>>() {
            if tally.is_open() {
                tally.note(way, fits);
            }
        }
    }

    /// The number of a state, a new one if it is new.
    fn meet(&mut self, state: State, from: u32, event: u32, tallies: &[Tally]) -> u32 {
        let next = u32::try_from(self.states.len()).unwrap_or(NONE);
        let number = *self.known.entry(state).or_insert(next);
        if number == next {
            let other = self.states.get(from as usize).copied().zip(self.told.get(from as usize).copied());
            self.told.push(Told::of(state, other, tallies));
            self.states.push(state);
            self.before.push((from, event));
        }
        number
    }

    /// The promises that a step to a state breaks, if what they forbid was not so before.
    fn breaks(&self, number: u32) -> u64 {
        self.told.get(number as usize).map_or(0, |told| told.breaks)
    }

    /// The events that lead to a state, from the beginning.
    fn way(&self, to: u32) -> Vec<usize> {
        let (mut at, mut way) = (to, Vec::new());
        while let Some((from, event)) = self.before.get(at as usize).filter(|(from, _)| *from != NONE) {
            way.push(*event as usize);
            at = *from;
        }
        way.reverse();
        way
    }

    fn way_and(&self, to: u32, event: usize) -> Vec<usize> {
        let mut way = self.way(to);
        way.push(event);
        way
    }

    /// Whether from each state events of these cannot bring about what is wanted.
    fn stuck(&self, by: &[bool], goal: &Test) -> Vec<bool> {
        let (first, sources) = self.comes_from(by);
        let mut stuck: Vec<bool> = self.states.iter().map(|state| !goal.holds(*state)).collect();
        let mut left: Vec<usize> = stuck.iter().enumerate().filter(|(_, stuck)| !**stuck).map(|(at, _)| at).collect();
        while let Some(at) = left.pop() {
            let (from, to) = (first.get(at).copied().unwrap_or(0), first.get(at + 1).copied().unwrap_or(0));
            for source in sources.get(from..to).unwrap_or_default() {
                let at = *source as usize;
                if let Some(stuck) = stuck.get_mut(at).filter(|stuck| **stuck) {
                    *stuck = false;
                    left.push(at);
                }
            }
        }
        stuck
    }

    /// From where events of these lead to each state: all such states in a row, and where those of each state begin.
    fn comes_from(&self, by: &[bool]) -> (Vec<usize>, Vec<u32>) {
        let ends = self.first.iter().skip(1).copied().chain([self.leads.len()]);
        let ways = (0_u32..).zip(self.first.iter().zip(ends)).flat_map(|(from, (first, end))| {
            let leads = self.leads.get(*first..end).unwrap_or_default();
            leads.iter().filter(|(_, event)| by.get(*event as usize) == Some(&true)).map(move |(to, _)| (from, *to as usize))
        });
        // The number of ways to each state; then where they begin; last where the next one goes.
        let mut first = vec![0; self.states.len() + 1];
        for (_, to) in ways.clone() {
            first.get_mut(to + 1).into_iter().for_each(|count| *count += 1);
        }
        let mut before = 0;
        for first in &mut first {
            before += *first;
            *first = before;
        }
        let mut next = first.clone();
        let mut sources = vec![0; first.last().copied().unwrap_or(0)];
        for (from, to) in ways {
            if let Some(place) = next.get_mut(to) {
                sources.get_mut(*place).into_iter().for_each(|source| *source = from);
                *place += 1;
            }
        }
        (first, sources)
    }
}
