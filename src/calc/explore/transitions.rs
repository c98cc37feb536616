//! Which event leads from where to where, of the states that somebody tells apart: a state table.

use super::bits::Test;
use super::condition::Condition;
use super::layout::State;
use super::machine::{Asks, Event, Machine, Promise};
use super::packed::{Packed, Settled};
use super::promises::Limits;
use super::reduce::{self, Reduced};
use crate::calc::FormulaError;
use rustc_hash::FxHashSet;

/// An event that leads from one of the states that are told apart to another.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Transition {
    /// The number of the condition that is so before; none if no other is.
    pub from: Option<usize>,
    /// The number of the event in the machine.
    pub event: usize,
    /// The number of the condition that is so afterwards.
    pub to: Option<usize>,
}

/// All that lead from one state to another, sorted; a state is the first of the conditions that is so.
///
/// # Errors
/// A condition that names a part or a state that is not there; more states than are explored.
pub fn transitions(
    machine: &Machine,
    states: &[Condition],
    allowed: &dyn Fn(&Event) -> bool,
    limits: &Limits,
) -> Result<Vec<Transition>, FormulaError> {
    let (reduced, fixed) = Reduced::with(machine, allowed);
    let states: Vec<Condition> = states.iter().map(|state| reduce::answered(state, &fixed)).collect();
    let asks_all = Promise { name: Default::default(), asks: Asks::Never(Condition::Any(states.as_slice().into())) };
    let part = reduced.only(&reduced.cone(reduce::read_by(&asks_all)));
    let packed = Packed::of(&part.machine)?;
    let tests = states.iter().map(|state| Test::of(state, &packed.layout)).collect::<Result<Vec<Test>, FormulaError>>()?;
    let told = |state: State| tests.iter().position(|test| test.holds(state));
    let mut known = FxHashSet::default();
    let mut open = Vec::new();
    if let Settled::At(first) = packed.first() {
        known.insert(first);
        open.push(first);
    }
    let mut found = FxHashSet::default();
    while let Some(state) = open.pop() {
        for (number, put) in packed.events(state) {
            let (Settled::At(after), Some(number)) = (packed.after(put, state), part.numbers.get(number)) else { continue };
            let (from, to) = (told(state), told(after));
            if from != to {
                found.insert(Transition { from, event: *number, to });
            }
            if known.insert(after) {
                open.push(after);
            }
        }
        if known.len() > limits.most_states {
            return Err(FormulaError::domain("the states that are met", format!("no more than {}", limits.most_states)));
        }
    }
    let mut found: Vec<Transition> = found.into_iter().collect();
    found.sort_unstable();
    Ok(found)
}
