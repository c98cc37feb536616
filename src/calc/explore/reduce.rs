//! What never changes, and what nobody asks about, is left out before exploring.

use super::condition::Condition;
use super::machine::{Asks, Case, Event, Machine, Promise};
use rustc_hash::{FxHashMap, FxHashSet};
use smol_str::SmolStr;

/// The machine with the events that are allowed, each with its number in the whole.
pub(super) struct Reduced {
    pub(super) machine: Machine,
    /// The number that each event has in the whole machine.
    pub(super) numbers: Vec<usize>,
}

/// Parts that never leave the state in which they begin.
pub(super) type Fixed = FxHashMap<SmolStr, SmolStr>;

impl Reduced {
    /// The machine with those events only that are allowed, and conditions on what never changes answered.
    pub(super) fn with(machine: &Machine, allowed: &dyn Fn(&Event) -> bool) -> (Reduced, Fixed) {
        let mut events: Vec<(usize, Event)> =
            machine.events.iter().enumerate().filter(|(_, event)| allowed(event)).map(|(at, event)| (at, event.clone())).collect();
        let mut follows = machine.follows.clone();
        let mut fixed = Fixed::default();
        loop {
            let changes = |part: &str, begins: &str| {
                events.iter().any(|(_, event)| event.sets.iter().any(|turn| turn.part == part && turn.to != begins))
                    || follows.iter().any(|follow| follow.part == part && follow.cases.iter().any(|case| case.to != begins))
            };
            let mut more = false;
            for part in &machine.parts {
                let begins = part.states.get(part.begins).cloned().unwrap_or_default();
                if !fixed.contains_key(&part.name) && !changes(&part.name, &begins) {
                    fixed.insert(part.name.clone(), begins);
                    more = true;
                }
            }
            if !more {
                break;
            }
            for (_, event) in &mut events {
                event.when = answered(&event.when, &fixed);
                event.sets.retain(|turn| !fixed.contains_key(&turn.part));
            }
            events.retain(|(_, event)| event.when != Condition::Always(false) && !event.sets.is_empty());
            for follow in &mut follows {
                follow.cases = cases(&follow.cases, &fixed);
            }
            follows.retain(|follow| !fixed.contains_key(&follow.part) && !follow.cases.is_empty());
        }
        let parts = machine.parts.iter().filter(|part| !fixed.contains_key(&part.name)).cloned().collect();
        let (numbers, events) = events.into_iter().unzip();
        (Reduced { machine: Machine { parts, events, follows }, numbers }, fixed)
    }

    /// What these parts depend on, themselves among it.
    pub(super) fn cone(&self, of: FxHashSet<SmolStr>) -> FxHashSet<SmolStr> {
        let mut cone = of;
        loop {
            let before = cone.len();
            for event in &self.machine.events {
                if event.sets.iter().any(|turn| cone.contains(&turn.part)) {
                    event.when.reads(&mut |part, _| {
                        cone.insert(part.clone());
                    });
                }
            }
            for follow in &self.machine.follows {
                if cone.contains(&follow.part) {
                    for case in &follow.cases {
                        case.when.reads(&mut |part, _| {
                            cone.insert(part.clone());
                        });
                    }
                }
            }
            if cone.len() == before {
                return cone;
            }
        }
    }

    /// Only these parts, and what changes them.
    pub(super) fn only(&self, parts: &FxHashSet<SmolStr>) -> Reduced {
        let mut events = Vec::new();
        let mut numbers = Vec::new();
        for (event, number) in self.machine.events.iter().zip(&self.numbers) {
            let sets: Vec<_> = event.sets.iter().filter(|turn| parts.contains(&turn.part)).cloned().collect();
            if !sets.is_empty() {
                events.push(Event { sets, ..event.clone() });
                numbers.push(*number);
            }
        }
        let machine = Machine {
            parts: self.machine.parts.iter().filter(|part| parts.contains(&part.name)).cloned().collect(),
            events,
            follows: self.machine.follows.iter().filter(|follow| parts.contains(&follow.part)).cloned().collect(),
        };
        Reduced { machine, numbers }
    }
}

/// The cases that can still be so; what stands behind one that always is so never counts.
fn cases(of: &[Case], fixed: &Fixed) -> Vec<Case> {
    let mut left = Vec::new();
    for case in of {
        let when = answered(&case.when, fixed);
        if when == Condition::Always(false) {
            continue;
        }
        let always = when == Condition::Always(true);
        left.push(Case { to: case.to.clone(), when });
        if always {
            break;
        }
    }
    left
}

/// A condition with the answers that are known.
pub(super) fn answered(condition: &Condition, fixed: &Fixed) -> Condition {
    match condition {
        Condition::Always(so) => Condition::Always(*so),
        Condition::Is { part, states } => match fixed.get(part) {
            Some(state) => Condition::Always(states.contains(state)),
            None => condition.clone(),
        },
        Condition::Not(inner) => answered(inner, fixed).negated(),
        Condition::All(inner) => Condition::all(inner.iter().map(|one| answered(one, fixed))),
        Condition::Any(inner) => Condition::any(inner.iter().map(|one| answered(one, fixed))),
    }
}

/// A promise with the answers that are known.
pub(super) fn promised(promise: &Promise, fixed: &Fixed) -> Promise {
    let asks = match &promise.asks {
        Asks::Never(condition) => Asks::Never(answered(condition, fixed)),
        Asks::NeverBy { by, becomes, unless } => {
            Asks::NeverBy { by: by.clone(), becomes: answered(becomes, fixed), unless: answered(unless, fixed) }
        }
        Asks::Possible { by, goal, whenever } => {
            Asks::Possible { by: by.clone(), goal: answered(goal, fixed), whenever: answered(whenever, fixed) }
        }
    };
    Promise { name: promise.name.clone(), asks }
}

/// The parts that a promise reads.
pub(super) fn read_by(promise: &Promise) -> FxHashSet<SmolStr> {
    let mut found = FxHashSet::default();
    let mut note = |condition: &Condition| {
        condition.reads(&mut |part, _| {
            found.insert(part.clone());
        });
    };
    match &promise.asks {
        Asks::Never(condition) => note(condition),
        Asks::NeverBy { becomes, unless, .. } => {
            note(becomes);
            note(unless);
        }
        Asks::Possible { goal, whenever, .. } => {
            note(goal);
            note(whenever);
        }
    }
    found
}
