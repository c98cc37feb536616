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
use std::cell::RefCell;

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

/// What came out for one promise: stories as numbers of events.
#[derive(Debug, Clone, PartialEq)]
enum Came {
    Kept,
    Broken(Vec<usize>),
    TooMany,
    OutOfTime,
}

/// All that a machine can come to, gone through.
///
/// Clocks are asked only whether some stories can happen in time. Where they answer the same, all else is the same too: so a
/// machine that differs in its times alone need not be gone through again.
#[derive(Debug, Clone, PartialEq)]
pub struct Course {
    states: usize,
    came: Vec<Came>,
    flutters: Option<Vec<usize>>,
    /// The stories about which the clocks were asked, and whether they can happen.
    asked: Vec<(Vec<usize>, bool)>,
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
    let course = Course::of(machine, promises, allowed, limits)?;
    course.told(machine, promises, allowed)?.ok_or_else(|| FormulaError::domain("clocks", "of one mind"))
}

impl Course {
    /// Goes through a machine.
    ///
    /// # Errors
    /// As [`explore`].
    pub fn of(machine: &Machine, promises: &[Promise], allowed: &dyn Fn(&Event) -> bool, limits: &Limits) -> Result<Course, FormulaError> {
        let (reduced, fixed) = Reduced::with(machine, allowed);
        let player = Player::new(machine, allowed);
        let promises: Vec<Promise> = promises.iter().map(|promise| reduce::promised(promise, &fixed)).collect();
        let mut course = Course { states: 0, came: vec![Came::Kept; promises.len()], flutters: None, asked: Vec::new() };
        for (parts, members) in groups(&reduced, &promises) {
            let part = reduced.only(&parts);
            let packed = Packed::of(&part.machine)?;
            let by: Vec<SmolStr> = part.machine.events.iter().map(|event| event.by.clone()).collect();
            let asked: Vec<&Promise> = members.iter().filter_map(|at| promises.get(*at)).collect();
            let whole = |way: &[usize]| -> Vec<usize> { way.iter().filter_map(|event| part.numbers.get(*event).copied()).collect() };
            let stories = RefCell::new(std::mem::take(&mut course.asked));
            let fits = |way: &[usize]| {
                let story = whole(way);
                let fits = player.play(&story).is_some();
                stories.borrow_mut().push((story, fits));
                fits
            };
            let searched = search::search(&packed, &by, &asked, limits.most_states, &fits)?;
            course.asked = stories.into_inner();
            course.states += searched.states;
            if course.flutters.is_none() {
                course.flutters = searched.flutters.as_deref().map(whole);
            }
            for (found, at) in searched.found.into_iter().zip(members) {
                let Some(came) = course.came.get_mut(at) else { continue };
                *came = match found {
                    Found::Kept if searched.whole => Came::Kept,
                    Found::Kept => Came::TooMany,
                    Found::OutOfTime(_) => Came::OutOfTime,
                    Found::Broken(way) => Came::Broken(whole(&way)),
                };
            }
        }
        Ok(course)
    }

    /// What came of it, with the stories in the times of that machine, which may differ from those of the one that was gone
    /// through; nothing where its clocks answer otherwise.
    ///
    /// # Errors
    /// A story that does not happen again as it was found.
    pub fn told(
        &self,
        machine: &Machine,
        promises: &[Promise],
        allowed: &dyn Fn(&Event) -> bool,
    ) -> Result<Option<Explored>, FormulaError> {
        let player = Player::new(machine, allowed);
        if !self.asked.iter().all(|(story, fits)| player.play(story).is_some() == *fits) {
            return Ok(None);
        }
        let verdict = |(came, promise): (&Came, &Promise)| match came {
            Came::Kept => Ok(Verdict::Kept),
            Came::TooMany => Ok(Verdict::TooMany),
            Came::OutOfTime => Ok(Verdict::OutOfTime),
            Came::Broken(way) => {
                let story = player.play(way).filter(|_| player.breaks(way, promise));
                story.map(Verdict::Broken).ok_or_else(|| FormulaError::domain("a story", "one that happens again as it was told"))
            }
        };
        let verdicts = self.came.iter().zip(promises).map(verdict).collect::<Result<Vec<Verdict>, FormulaError>>()?;
        Ok(Some(Explored { states: self.states, verdicts, flutters: self.flutters.clone() }))
    }
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
