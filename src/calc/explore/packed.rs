//! A machine packed: each state one number, each condition a test of its bits.

use super::bits::Test;
use super::layout::{Field, Layout, State};
use super::machine::{Event, Follow, Machine};
use crate::calc::FormulaError;
use smol_str::SmolStr;

/// So often what follows is looked at after one event: a chain of relays is shorter, what goes on changing flutters.
const MOST_ROUNDS: usize = 64;

/// Events are told apart by so many at once: as many as a number has bits.
const SET: usize = u64::BITS as usize;

/// Some bits of a state put in place of others.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Put {
    mask: State,
    bits: State,
}

impl Put {
    pub(super) fn on(self, state: State) -> State {
        state & !self.mask | self.bits
    }

    /// Whether it changes nothing while a part is in a state.
    fn is_so_while(self, field: Field, at: State) -> bool {
        self.mask & !field.mask() == 0 && self.on(field.of(at)) == field.of(at)
    }
}

/// What an event does, and its number in the machine.
#[derive(Debug, Clone)]
struct PackedEvent {
    number: usize,
    when: Test,
    put: Put,
}

impl PackedEvent {
    /// The state that it makes of another, before anything follows; none if it may not happen there or changes nothing.
    fn of(&self, state: State) -> Option<State> {
        let put = self.put.on(state);
        (put != state && self.when.holds(state)).then_some(put)
    }
}

/// For each state of a part the events that it does not forbid, a bit for each.
#[derive(Debug, Clone)]
struct Allows {
    field: Field,
    sets: Vec<Vec<u64>>,
}

impl Allows {
    fn of(&self, state: State, chunk: usize) -> u64 {
        let at = usize::try_from(self.field.at(state)).unwrap_or(usize::MAX);
        self.sets.get(at).and_then(|sets| sets.get(chunk)).copied().unwrap_or(u64::MAX)
    }
}

/// A part that follows from others.
#[derive(Debug, Clone)]
struct PackedFollow {
    /// The bits on which it depends, its own among them: while they do not change, it does not.
    reads: State,
    cases: Vec<(Test, Put)>,
}

/// A machine that can be run.
#[derive(Debug, Clone)]
pub(super) struct Packed {
    pub(super) layout: Layout,
    begins: State,
    /// In their order.
    events: Vec<PackedEvent>,
    allows: Vec<Allows>,
    follows: Vec<PackedFollow>,
}

/// What an event leads to.
#[derive(Debug, Clone, Copy)]
pub(super) enum Settled {
    /// Nothing more follows.
    At(State),
    /// It goes on changing for ever.
    Flutters,
}

impl Packed {
    pub(super) fn of(machine: &Machine) -> Result<Packed, FormulaError> {
        let mut packed = Packed { layout: Layout::default(), begins: 0, events: Vec::new(), allows: Vec::new(), follows: Vec::new() };
        for part in &machine.parts {
            if part.begins >= part.states.len() {
                return Err(FormulaError::domain(format!("the state in which `{}` begins", part.name), "one of its states"));
            }
            let field = packed.layout.add(part)?;
            packed.begins |= field.of(part.begins as State);
        }
        packed.pack_events(machine)?;
        for Follow { part, cases } in &machine.follows {
            let packs = cases.iter().map(|case| Ok((Test::of(&case.when, &packed.layout)?, packed.put(part, &case.to)?)));
            let packs: Result<Vec<_>, FormulaError> = packs.collect();
            // Two that move one part may pass it to and fro for ever: they are always looked at.
            let alone = machine.follows.iter().filter(|other| other.part == *part).count() == 1;
            let mut reads = if alone { packed.layout.field_of(part)?.mask() } else { State::MAX };
            let mut note = |name: &SmolStr| reads |= packed.layout.field_of(name).map_or(0, Field::mask);
            cases.iter().for_each(|case| case.when.reads(&mut |name, _| note(name)));
            packed.follows.push(PackedFollow { reads, cases: packs? });
        }
        Ok(packed)
    }

    /// Packs the events, and notes which of them each state of each part allows.
    fn pack_events(&mut self, machine: &Machine) -> Result<(), FormulaError> {
        for (number, Event { when, sets, .. }) in machine.events.iter().enumerate() {
            let put = sets.iter().try_fold(Put::default(), |put, turn| self.put(&turn.part, &turn.to).map(|more| put.and(more)))?;
            self.events.push(PackedEvent { number, when: Test::of(when, &self.layout)?, put });
        }
        for part in &machine.parts {
            let field = self.layout.field_of(&part.name)?;
            let of = |at: usize| {
                let may = |event: &PackedEvent| event.when.may_be(field, at as State) && !event.put.is_so_while(field, at as State);
                self.events.chunks(SET).map(|events| events.iter().rev().fold(0, |set, event| set << 1 | u64::from(may(event)))).collect()
            };
            let sets: Vec<Vec<u64>> = (0..part.states.len()).map(of).collect();
            self.allows.push(Allows { field, sets });
        }
        Ok(())
    }

    /// The events that may happen in a state, in their order, each with what it makes of the state before anything follows.
    pub(super) fn events(&self, state: State) -> impl Iterator<Item = (usize, State)> + '_ {
        let allowed = move |chunk: usize| self.allows.iter().fold(u64::MAX, |set, allows| set & allows.of(state, chunk));
        let numbers = |set: u64| {
            std::iter::successors(Some(set), |left| Some(left & left.wrapping_sub(1)))
                .take_while(|left| *left != 0)
                .map(|left| left.trailing_zeros() as usize)
        };
        let chunks = self.events.chunks(SET).enumerate();
        let events = chunks.flat_map(move |(chunk, events)| numbers(allowed(chunk)).filter_map(move |at| events.get(at)));
        events.filter_map(move |event| Some((event.number, event.of(state)?)))
    }

    fn put(&self, part: &str, state: &str) -> Result<Put, FormulaError> {
        let at = self.layout.state(self.layout.part(part)?, state)?;
        let field = self.layout.field_of(part)?;
        Ok(Put { mask: field.mask(), bits: field.of(at) })
    }

    /// The state that it begins in, with what follows of that.
    pub(super) fn first(&self) -> Settled {
        self.settle(self.begins, State::MAX)
    }

    /// What follows where an event has made this of a state of which nothing follows.
    pub(super) fn after(&self, put: State, state: State) -> Settled {
        self.settle(put, put ^ state)
    }

    /// What follows of a state, until nothing changes; `changed` are the bits that differ from a state of which nothing
    /// follows.
    fn settle(&self, state: State, changed: State) -> Settled {
        let (mut state, mut changed) = (state, changed);
        for _ in 0..MOST_ROUNDS {
            let before = state;
            let mut changes = 0;
            for follow in &self.follows {
                if follow.reads & (changed | changes) == 0 {
                    continue;
                }
                if let Some((_, put)) = follow.cases.iter().find(|(when, _)| when.holds(state)) {
                    let after = put.on(state);
                    changes |= after ^ state;
                    state = after;
                }
            }
            if state == before {
                return Settled::At(state);
            }
            changed = changes;
        }
        Settled::Flutters
    }
}

impl Put {
    fn and(self, more: Put) -> Put {
        Put { mask: self.mask | more.mask, bits: self.bits & !more.mask | more.bits }
    }
}
