//! A machine packed: each state one number, each condition a test of its bits.

use super::bits::Test;
use super::layout::{Field, Layout, State};
use super::machine::{Event, Follow, Machine};
use crate::calc::FormulaError;
use smol_str::SmolStr;

/// So often what follows is looked at after one event: a chain of relays is shorter, what goes on changing flutters.
const MOST_ROUNDS: usize = 64;

/// Events are told apart by so many at once: as many as a number has bits.
const SET: usize = u128::BITS as usize;

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
    /// When it may happen; one pattern is told by the states of the parts already, each for itself.
    when: Option<Test>,
    put: Put,
}

impl PackedEvent {
    /// The state that it makes of another that its parts allow, before anything follows; none if it may not happen there or
    /// changes nothing.
    fn of(&self, state: State) -> Option<State> {
        let put = self.put.on(state);
        (put != state && self.when.as_ref().is_none_or(|when| when.holds(state))).then_some(put)
    }
}

/// For each state of a part the events that it does not forbid, a bit for each, as many numbers as they take.
#[derive(Debug, Clone)]
struct Allows {
    shift: u32,
    low: State,
    sets: Vec<u128>,
}

/// The events that may happen in a state, from the first.
pub(super) struct Happening<'p> {
    packed: &'p Packed,
    state: State,
    /// Which set of events is gone through, and what is left of it.
    set: usize,
    left: u128,
}

impl Iterator for Happening<'_> {
    type Item = (usize, State);

    fn next(&mut self) -> Option<(usize, State)> {
        loop {
            while self.left == 0 {
                self.set += 1;
                if self.set >= self.packed.sets {
                    return None;
                }
                self.left = self.packed.allowed(self.state, self.set);
            }
            let at = self.set * SET + self.left.trailing_zeros() as usize;
            self.left &= self.left.wrapping_sub(1);
            let event = self.packed.events.get(at)?;
            if let Some(put) = event.of(self.state) {
                return Some((event.number, put));
            }
        }
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
    /// How many sets the events take.
    sets: usize,
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
        let mut packed =
            Packed { layout: Layout::default(), begins: 0, events: Vec::new(), sets: 0, allows: Vec::new(), follows: Vec::new() };
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
        let mut tests = Vec::new();
        for (number, Event { when, sets, .. }) in machine.events.iter().enumerate() {
            let put = sets.iter().try_fold(Put::default(), |put, turn| self.put(&turn.part, &turn.to).map(|more| put.and(more)))?;
            let when = Test::of(when, &self.layout)?;
            self.events.push(PackedEvent { number, when: (!when.is_one_pattern()).then(|| when.clone()), put });
            tests.push(when);
        }
        self.sets = self.events.len().div_ceil(SET);
        for part in &machine.parts {
            let field = self.layout.field_of(&part.name)?;
            let mut allowed = Vec::with_capacity(part.states.len() * self.sets);
            for at in 0..part.states.len() as State {
                let may = |(event, when): (&PackedEvent, &Test)| when.may_be(field, at) && !event.put.is_so_while(field, at);
                let events = self.events.chunks(SET).zip(tests.chunks(SET));
                allowed
                    .extend(events.map(|(events, tests)| events.iter().zip(tests).rev().fold(0, |set, of| set << 1 | u128::from(may(of)))));
            }
            // A part of one state has no bits, and may stand behind the last.
            let shift = if field.bits == 0 { 0 } else { field.shift };
            self.allows.push(Allows { shift, low: (1 << field.bits) - 1, sets: allowed });
        }
        Ok(())
    }

    /// The events of one set that no part forbids in a state.
    fn allowed(&self, state: State, set: usize) -> u128 {
        self.allows.iter().fold(u128::MAX, |events, Allows { shift, low, sets }| {
            let at = usize::try_from(state >> shift & low).unwrap_or(usize::MAX);
            events & sets.get(at.saturating_mul(self.sets).saturating_add(set)).copied().unwrap_or(0)
        })
    }

    /// The events that may happen in a state, in their order, each with what it makes of the state before anything follows.
    pub(super) fn events(&self, state: State) -> Happening<'_> {
        let left = if self.sets == 0 { 0 } else { self.allowed(state, 0) };
        Happening { packed: self, state, set: 0, left }
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
