//! Promises held against all that can happen.

use super::condition::Condition;
use super::machine::{Asks, Event, Machine, Promise};
use super::packed::Packed;
use super::reduce::{self, Reduced};
use super::search::{self, Found};
use super::story::{Player, Story};
use crate::calc::FormulaError;
use rustc_hash::FxHashSet;
use smol_str::SmolStr;

/// How far an exploration goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Limits {
    /// So many states are met at most, about 80 bytes each.
    pub most_states: usize,
}

impl Default for Limits {
    fn default() -> Self {
        Self { most_states: 2_000_000 }
    }
}

/// What was found of a promise.
#[derive(Debug, Clone, PartialEq)]
pub enum Verdict {
    /// Nothing that can happen breaks it.
    Kept,
    /// The shortest story that breaks it.
    Broken(Story),
    /// There are more states than are explored.
    TooMany,
    /// Events in this order would break it, but not in their time; whether others do is not settled.
    OutOfTime,
}

/// What came of an exploration.
#[derive(Debug, Clone, PartialEq)]
pub struct Explored {
    /// How many states were met, all searches together.
    pub states: usize,
    /// What was found, in the order of the promises.
    pub verdicts: Vec<Verdict>,
    /// The way to where something goes on changing for ever.
    pub flutters: Option<Vec<usize>>,
}

/// Holds promises against everything that the events which are allowed can bring about.
///
/// # Errors
/// A condition that names a part or a state that is not there; more parts than can be told apart.
pub fn explore(
    machine: &Machine,
    promises: &[Promise],
    allowed: &dyn Fn(&Event) -> bool,
    limits: &Limits,
) -> Result<Explored, FormulaError> {
    let (reduced, fixed) = Reduced::with(machine, allowed);
    let player = Player::new(machine, allowed);
    let promises: Vec<Promise> = promises.iter().map(|promise| reduce::promised(promise, &fixed)).collect();
    let mut explored = Explored { states: 0, verdicts: vec![Verdict::Kept; promises.len()], flutters: None };
    for (parts, members) in groups(&reduced, &promises) {
        let part = reduced.only(&parts);
        let packed = Packed::of(&part.machine)?;
        let by: Vec<SmolStr> = part.machine.events.iter().map(|event| event.by.clone()).collect();
        let asked: Vec<&Promise> = members.iter().filter_map(|at| promises.get(*at)).collect();
        let whole = |way: &[usize]| -> Vec<usize> { way.iter().filter_map(|event| part.numbers.get(*event).copied()).collect() };
        let searched = search::search(&packed, &by, &asked, limits.most_states, &|way| player.play(&whole(way)).is_some())?;
        explored.states += searched.states;
        if explored.flutters.is_none() {
            explored.flutters = searched.flutters.as_deref().map(whole);
        }
        for ((found, promise), at) in searched.found.into_iter().zip(asked).zip(members) {
            let Some(verdict) = explored.verdicts.get_mut(at) else { continue };
            *verdict = match found {
                Found::Kept if searched.whole => Verdict::Kept,
                Found::Kept => Verdict::TooMany,
                Found::OutOfTime(_) => Verdict::OutOfTime,
                Found::Broken(way) => {
                    let way = whole(&way);
                    match player.play(&way).filter(|_| player.breaks(&way, promise)) {
                        Some(story) => Verdict::Broken(story),
                        None => return Err(FormulaError::domain("a story", "one that happens again as it was told")),
                    }
                }
            };
        }
    }
    Ok(explored)
}

/// Promises that are held against the same parts: those of a smaller cone go with a larger that holds it.
fn groups(reduced: &Reduced, promises: &[Promise]) -> Vec<(FxHashSet<SmolStr>, Vec<usize>)> {
    let mut cones: Vec<(FxHashSet<SmolStr>, usize)> = Vec::new();
    for (at, promise) in promises.iter().enumerate() {
        if !is_plainly_kept(promise) {
            cones.push((reduced.cone(reduce::read_by(promise)), at));
        }
    }
    cones.sort_by_key(|(cone, at)| (std::cmp::Reverse(cone.len()), *at));
    let mut groups: Vec<(FxHashSet<SmolStr>, Vec<usize>)> = Vec::new();
    for (cone, at) in cones {
        match groups.iter_mut().find(|(parts, members)| members.len() < search::PROMISES && cone.is_subset(parts)) {
            Some((_, members)) => members.push(at),
            None => groups.push((cone, vec![at])),
        }
    }
    groups
}

/// Whether nothing has to be looked at to see that it is kept.
fn is_plainly_kept(promise: &Promise) -> bool {
    match &promise.asks {
        Asks::Never(condition) => *condition == Condition::Always(false),
        Asks::NeverBy { becomes, unless, .. } => *becomes == Condition::Always(false) || *unless == Condition::Always(true),
        Asks::Possible { goal, whenever, .. } => *goal == Condition::Always(true) || *whenever == Condition::Always(false),
    }
}
