//! A story played again on the whole machine, condition by condition as they are written, with its clocks.
//!
//! It shares nothing with the packed search but the machine: what both say is so.

use super::clocks::{self, Apart};
use super::condition::Condition;
use super::machine::{Asks, Event, Machine, Promise};
use rustc_hash::FxHashMap;
use smol_str::SmolStr;

/// So often what follows is looked at after one event.
const MOST_ROUNDS: usize = 64;

/// A part that has changed its state.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Changed {
    /// The number of the part.
    pub part: usize,
    /// The number of its state now.
    pub to: usize,
}

/// One step of a story.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// The number of the event in the machine.
    pub event: usize,
    /// The earliest time at which it can be, s from the beginning.
    pub at: f64,
    /// What changes, of itself or because it follows.
    pub changed: Vec<Changed>,
}

/// What happens, step by step, and how everything stands in the end.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Story {
    /// In order.
    pub steps: Vec<Step>,
    /// The state of each part in the end, by number.
    pub ends: Vec<usize>,
}

pub(super) struct Player<'m> {
    machine: &'m Machine,
    parts: FxHashMap<&'m str, usize>,
    /// The numbers of events with a clock that may happen at all.
    timed: Vec<usize>,
}

/// A course: the states in between, the first and the last among them.
struct Course {
    states: Vec<Vec<usize>>,
}

impl<'m> Player<'m> {
    pub(super) fn new(machine: &'m Machine, allowed: &dyn Fn(&Event) -> bool) -> Player<'m> {
        let parts = machine.parts.iter().enumerate().map(|(at, part)| (part.name.as_str(), at)).collect();
        let is_timed = |event: &Event| event.takes.is_some() && allowed(event);
        let timed = machine.events.iter().enumerate().filter(|(_, event)| is_timed(event)).map(|(at, _)| at).collect();
        Player { machine, parts, timed }
    }

    /// The story of these events; none if one of them cannot happen where it should, or not in time.
    pub(super) fn play(&self, events: &[usize]) -> Option<Story> {
        let course = self.course(events)?;
        let times = clocks::earliest(events.len() + 1, &self.apart(events, &course))?;
        let mut steps = Vec::with_capacity(events.len());
        for (at, event) in events.iter().enumerate() {
            let (before, after) = (course.states.get(at)?, course.states.get(at + 1)?);
            let changed = before.iter().zip(after).enumerate().filter(|(_, (before, after))| before != after);
            let changed = changed.map(|(part, (_, to))| Changed { part, to: *to }).collect();
            steps.push(Step { event: *event, at: times.get(at + 1).copied().unwrap_or(0.0), changed });
        }
        Some(Story { steps, ends: course.states.last()?.clone() })
    }

    /// Whether a story ends in what breaks the promise; what can be reached from there it does not ask.
    pub(super) fn breaks(&self, story: &[usize], promise: &Promise) -> bool {
        let Some(course) = self.course(story) else { return false };
        let [.., last] = course.states.as_slice() else { return false };
        let before = course.states.len().checked_sub(2).and_then(|at| course.states.get(at));
        match &promise.asks {
            Asks::Never(condition) => self.is_so(condition, last),
            Asks::NeverBy { becomes, unless, .. } => {
                before.is_some_and(|before| !self.is_so(becomes, before)) && self.is_so(becomes, last) && !self.is_so(unless, last)
            }
            Asks::Possible { goal, whenever, .. } => self.is_so(whenever, last) && !self.is_so(goal, last),
        }
    }

    fn course(&self, events: &[usize]) -> Option<Course> {
        let begins: Vec<usize> = self.machine.parts.iter().map(|part| part.begins).collect();
        let mut states = vec![self.settled(begins)?];
        for event in events {
            let event = self.machine.events.get(*event)?;
            let mut state = states.last()?.clone();
            if !self.is_so(&event.when, &state) {
                return None;
            }
            for turn in &event.sets {
                self.turn(&turn.part, &turn.to, &mut state);
            }
            states.push(self.settled(state)?);
        }
        Some(Course { states })
    }

    fn settled(&self, mut state: Vec<usize>) -> Option<Vec<usize>> {
        for _ in 0..MOST_ROUNDS {
            let before = state.clone();
            for follow in &self.machine.follows {
                if let Some(case) = follow.cases.iter().find(|case| self.is_so(&case.when, &state)) {
                    self.turn(&follow.part, &case.to, &mut state);
                }
            }
            if state == before {
                return Some(state);
            }
        }
        None
    }

    fn turn(&self, part: &str, to: &str, state: &mut [usize]) {
        let Some(number) = self.parts.get(part).copied() else { return };
        let states = self.machine.parts.get(number).map(|part| part.states.as_slice()).unwrap_or_default();
        if let (Some(to), Some(place)) = (states.iter().position(|one| one == to), state.get_mut(number)) {
            *place = to;
        }
    }

    fn is_so(&self, condition: &Condition, state: &[usize]) -> bool {
        match condition {
            Condition::Always(so) => *so,
            Condition::Is { part, states } => self.stands(part, state).is_some_and(|stands| states.contains(stands)),
            Condition::Not(inner) => !self.is_so(inner, state),
            Condition::All(inner) => inner.iter().all(|one| self.is_so(one, state)),
            Condition::Any(inner) => inner.iter().any(|one| self.is_so(one, state)),
        }
    }

    fn stands(&self, part: &str, state: &[usize]) -> Option<&'m SmolStr> {
        let number = self.parts.get(part).copied()?;
        self.machine.parts.get(number)?.states.get(*state.get(number)?)
    }

    /// How far the times of the steps may be apart; step 0 is the beginning.
    fn apart(&self, events: &[usize], course: &Course) -> Vec<Apart> {
        // Time does not run back.
        let mut apart: Vec<Apart> = (0..events.len()).map(|at| Apart { earlier: at + 1, later: at, most: 0.0 }).collect();
        for number in &self.timed {
            let Some((event, [least, most])) = self.machine.events.get(*number).and_then(|event| Some((event, event.takes?))) else {
                continue;
            };
            let mut since: Option<usize> = None;
            for (at, state) in course.states.iter().enumerate() {
                let happened = at.checked_sub(1).and_then(|step| events.get(step)) == Some(number);
                if let (true, Some(from)) = (happened, since) {
                    apart.push(Apart { earlier: at, later: from, most: -least });
                    apart.push(Apart { earlier: from, later: at, most });
                    since = None;
                } else if let Some(from) = since {
                    // Whatever happens meanwhile, it must not be past its time.
                    apart.push(Apart { earlier: from, later: at, most });
                }
                let can = self.is_so(&event.when, state);
                since = if can { since.or(Some(at)) } else { None };
            }
        }
        apart
    }
}
