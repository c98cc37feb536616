//! A machine packed: each state one number, each condition a test of its bits.

use super::bits::Test;
use super::condition::Condition;
use super::layout::{Field, Layout, State};
use super::machine::{Event, Follow, Machine, Part};
use super::reduce::{Fixed, answered};
use crate::calc::FormulaError;
use smol_str::SmolStr;

/// So often what follows is looked at after one event: a chain of relays is shorter, what goes on changing flutters.
const MOST_ROUNDS: usize = 64;

/// Events are sorted by so many states of parts at most.
const MOST_SORTS: usize = 1_024;

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
}

/// What an event does, and its number in the machine.
#[derive(Debug, Clone)]
pub(super) struct PackedEvent {
    pub(super) number: usize,
    when: Test,
    put: Put,
}

impl PackedEvent {
    /// The state that it makes of another, before anything follows; none if it may not happen there or changes nothing.
    pub(super) fn of(&self, state: State) -> Option<State> {
        let put = self.put.on(state);
        (put != state && self.when.holds(state)).then_some(put)
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
    /// The two parts of most states, and the events that may happen at all while they are in each of them.
    sorted_by: [Field; 2],
    /// How many states the second of them has.
    seconds: usize,
    events: Vec<Vec<PackedEvent>>,
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
        let mut packed = Packed {
            layout: Layout::default(),
            begins: 0,
            sorted_by: [Field { shift: 0, bits: 0 }; 2],
            seconds: 1,
            events: Vec::new(),
            follows: Vec::new(),
        };
        for part in &machine.parts {
            if part.begins >= part.states.len() {
                return Err(FormulaError::domain(format!("the state in which `{}` begins", part.name), "one of its states"));
            }
            let field = packed.layout.add(part)?;
            packed.begins |= field.of(part.begins as State);
        }
        packed.sort_events(machine)?;
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

    /// Sorts the events by the states of the two parts that have most of them.
    fn sort_events(&mut self, machine: &Machine) -> Result<(), FormulaError> {
        let mut parts: Vec<&Part> = machine.parts.iter().collect();
        parts.sort_by_key(|part| std::cmp::Reverse(part.states.len()));
        let (first, second) = (parts.first().copied(), parts.get(1).copied());
        if let Some(first) = first {
            self.sorted_by[0] = self.layout.field_of(&first.name)?;
        }
        let few = |second: &&Part| first.is_some_and(|first| first.states.len() * second.states.len() <= MOST_SORTS);
        if let Some(second) = second.filter(few) {
            self.sorted_by[1] = self.layout.field_of(&second.name)?;
            self.seconds = second.states.len();
        }
        let known = |state: &SmolStr| first.map(|part| (part.name.clone(), state.clone())).into_iter().collect::<Fixed>();
        let anything = [SmolStr::default()];
        for state in first.map_or(anything.as_slice(), |part| part.states.as_slice()) {
            let events = self.events_while(machine, &known(state))?;
            for at in 0..self.seconds as State {
                let within = |event: &PackedEvent| Some(PackedEvent { when: event.when.within(self.sorted_by[1], at)?, ..event.clone() });
                self.events.push(events.iter().filter_map(within).collect());
            }
        }
        Ok(())
    }

    /// The events that may happen while some parts are in states that are known.
    fn events_while(&self, machine: &Machine, known: &Fixed) -> Result<Vec<PackedEvent>, FormulaError> {
        let mut events = Vec::new();
        for (number, Event { when, sets, .. }) in machine.events.iter().enumerate() {
            let put = sets.iter().try_fold(Put::default(), |put, turn| self.put(&turn.part, &turn.to).map(|more| put.and(more)))?;
            let when = answered(when, known);
            if when != Condition::Always(false) {
                events.push(PackedEvent { number, when: Test::of(&when, &self.layout)?, put });
            }
        }
        Ok(events)
    }

    /// The events that may happen in a state, in their order, some that may not among them.
    pub(super) fn events(&self, state: State) -> &[PackedEvent] {
        let [first, second] = self.sorted_by.map(|field| usize::try_from(field.at(state)).unwrap_or(0));
        self.events.get(first * self.seconds + second).map(Vec::as_slice).unwrap_or_default()
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
