//! Events of which at most one happens, as often as it likes: what each of them alone brings about, gone through in one go.
//!
//! What can be before any of them has happened is met once, and not again for each of them.

use super::condition::Condition;
use super::machine::{Asks, Event, Machine, Part, Promise, Turn};
use smol_str::{SmolStr, ToSmolStr};

/// The part that says which of them has happened. No part of a machine is called so: their names have no blanks.
const WHICH: &str = "which has happened";
const NONE: SmolStr = SmolStr::new_static("none");

/// The machine with one part more, which says which of these events, by their numbers, has happened. Once one has, no other can.
#[must_use]
pub fn at_most_one(machine: &Machine, of: &[usize]) -> Machine {
    let mut parts = machine.parts.clone();
    let states = std::iter::once(NONE).chain(of.iter().map(|number| number.to_smolstr())).collect();
    parts.push(Part { name: SmolStr::new_static(WHICH), states, begins: 0 });
    let noted = |(number, event): (usize, &Event)| {
        let mut event = event.clone();
        if of.contains(&number) {
            let free = Condition::Is { part: SmolStr::new_static(WHICH), states: [NONE, number.to_smolstr()].into() };
            event.when = Condition::all([free, event.when]);
            event.sets.push(Turn { part: SmolStr::new_static(WHICH), to: number.to_smolstr() });
        }
        event
    };
    Machine { parts, events: machine.events.iter().enumerate().map(noted).collect(), follows: machine.follows.clone() }
}

/// The promise asked only once one of these events has happened.
///
/// What is kept before any of them and so after each is kept with each of them alone.
#[must_use]
pub fn after_one(promise: &Promise, of: &[usize]) -> Promise {
    let states = of.iter().map(|number| number.to_smolstr()).collect();
    let after = Condition::Is { part: SmolStr::new_static(WHICH), states };
    let asks = match promise.asks.clone() {
        Asks::Never(condition) => Asks::Never(Condition::all([after, condition])),
        // Not by what it becomes: where it was so before, the event itself brought nothing about.
        Asks::NeverBy { by, becomes, unless } => Asks::NeverBy { by, becomes, unless: Condition::any([after.negated(), unless]) },
        Asks::Possible { by, goal, whenever } => Asks::Possible { by, goal, whenever: Condition::all([after, whenever]) },
    };
    Promise { name: promise.name.clone(), asks }
}
