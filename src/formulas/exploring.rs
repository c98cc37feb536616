//! Machines of finitely many states: of tables as the language has them to what is explored, and back to stories.
//!
//! In: what changes, what may happen, what follows, what is promised, each as a table with conditions. Out: for each promise
//! whether it is kept, and the story that breaks it. How it is explored stands in `calc::explore`.

use super::body::Formula;
use super::tables::{table, word};
use super::take;
use crate::calc::FormulaError;
use crate::calc::explore::{self, Condition, Limits, Verdict};
use crate::values::Value;
use smol_str::SmolStr;
use std::fmt::Write as _;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

include!(concat!(env!("OUT_DIR"), "/formulas_exploring.rs"));

/// Who brings about a fault: what stands behind it is the sort.
const FAULT: &str = "fault: ";
/// Farther than anything moves, m.
const FAR: f64 = 1e6;
/// Two marks that lie nearer than this are one, m.
const SAME: f64 = 1e-6;
/// Times from here on are told, s: what happens at once needs none.
const TOLD_FROM: f64 = 0.5;

/// With blanks between; what is empty is left out.
fn joined(pieces: &[SmolStr]) -> SmolStr {
    pieces.iter().filter(|piece| !piece.is_empty()).map(SmolStr::as_str).collect::<Vec<_>>().join(" ").into()
}

impl Formula for Sentence {
    fn answer(self) -> Result<SmolStr, FormulaError> {
        Ok(joined(&self.of))
    }
}

impl Formula for Changing {
    fn answer(self) -> Result<table::Changing, FormulaError> {
        let states = self.states;
        let reads = self.reads.unwrap_or_default();
        if states.is_empty() || !reads.is_empty() && reads.len() != states.len() {
            return Err(FormulaError::domain("the states", "one at least, and as many as `reads`"));
        }
        let begins = self.begins.or_else(|| states.first().cloned()).unwrap_or_default();
        if !states.contains(&begins) {
            return Err(FormulaError::domain("the state that it begins in", "one of its states"));
        }
        Ok(table::Changing { name: self.name.join(".").into(), states, reads, begins })
    }
}

impl table::Changing {
    /// Refuses what is no state of it.
    fn has(&self, state: &SmolStr) -> Result<(), FormulaError> {
        let known = self.states.contains(state);
        if known { Ok(()) } else { Err(FormulaError::domain(format!("the state `{state}`"), format!("one of {}", self.states.join(", ")))) }
    }
}

impl Formula for Is {
    fn answer(self) -> Result<Condition, FormulaError> {
        self.what.has(&self.state)?;
        Ok(Condition::is(&self.what.name, &self.state))
    }
}

impl Formula for OverWire {
    fn answer(self) -> Result<Condition, FormulaError> {
        let wire = |state: &str| Condition::is(&self.wire.name, state);
        let (one, other) = match self.contact {
            word::Contact::NormallyOpen => ("cut", "shorted"),
            word::Contact::NormallyClosed => ("shorted", "cut"),
        };
        // What reads as no whatever the contact does, and what reads as yes.
        Ok(Condition::any([Condition::all([self.so, wire(one).negated()]), wire(other)]))
    }
}

// ── ways in zones ────────────────────────────────────────────────────────────────────────────────

impl Formula for WayInZones {
    fn answer(self) -> Result<table::WayInZones, FormulaError> {
        if self.marks.is_empty() || self.marks.len() != self.called.len() {
            return Err(FormulaError::domain("the marks", "one at least, and as many as `called`"));
        }
        let mut marks: Vec<(f64, SmolStr)> = Vec::new();
        for (at, called) in self.marks.into_iter().zip(self.called) {
            match marks.iter_mut().find(|(known, _)| (known - at).abs() < SAME) {
                Some((_, known)) if !known.contains(called.as_str()) => *known = format!("{known} and {called}").into(),
                Some(_) => {}
                None => marks.push((at, called)),
            }
        }
        marks.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut zones = Vec::with_capacity(marks.len() + 1);
        for number in 0..=marks.len() {
            let (before, after) = (number.checked_sub(1).and_then(|at| marks.get(at)), marks.get(number));
            let reads = match (before, after) {
                (None, Some((_, to))) => format!("at {to}"),
                (Some((_, from)), Some((_, to))) => format!("between {from} and {to}"),
                (Some((_, from)), None) => format!("at {from}"),
                (None, None) => String::new(),
            };
            let (from, to) = (before.map_or(-FAR, |mark| mark.0), after.map_or(FAR, |mark| mark.0));
            zones.push(table::WayZone { name: format!("zone {number}").into(), reads: reads.into(), from, to, middle: (from + to) / 2.0 });
        }
        let begins = zones.iter().find(|zone| self.begins <= zone.to).map(|zone| zone.name.clone()).unwrap_or_default();
        let place = table::Changing {
            name: self.name.clone(),
            states: zones.iter().map(|zone| zone.name.clone()).collect(),
            reads: zones.iter().map(|zone| format!("it is {}", zone.reads).into()).collect(),
            begins,
        };
        Ok(table::WayInZones { place, zones })
    }
}

impl Formula for InZone {
    fn answer(self) -> Result<Condition, FormulaError> {
        Ok(Condition::Is { part: self.way.place.name, states: [self.zone.name].into() })
    }
}

impl Formula for Within {
    fn answer(self) -> Result<Condition, FormulaError> {
        let (from, to) = (self.from.unwrap_or(-FAR), self.until.unwrap_or(FAR));
        let inside = |zone: &&table::WayZone| zone.from > from - SAME && zone.to < to + SAME;
        let states: Vec<SmolStr> = self.way.zones.iter().filter(inside).map(|zone| zone.name.clone()).collect();
        Ok(if states.is_empty() { Condition::Always(false) } else { Condition::Is { part: self.way.place.name, states: states.into() } })
    }
}

// ── what may happen, what follows ────────────────────────────────────────────────────────────────

impl Formula for Turned {
    fn answer(self) -> Result<table::Turned, FormulaError> {
        self.what.has(&self.state)?;
        Ok(table::Turned { part: self.what.name, state: self.state })
    }
}

impl Formula for Event {
    fn answer(self) -> Result<table::Event, FormulaError> {
        let takes = match (self.least, self.most) {
            (None, None) => Vec::new(),
            (least, most) => vec![least.unwrap_or(0.0), most.unwrap_or(f64::MAX)],
        };
        if takes.first() > takes.last() {
            return Err(FormulaError::domain("`least`", "no more than `most`"));
        }
        Ok(table::Event { says: joined(&self.says), who: self.who, when: self.when, sets: self.sets, takes })
    }
}

impl Formula for FollowCase {
    fn answer(self) -> Result<table::FollowCase, FormulaError> {
        Ok(table::FollowCase { state: self.state, when: self.when })
    }
}

impl Formula for Follow {
    fn answer(self) -> Result<table::Follow, FormulaError> {
        self.cases.iter().try_for_each(|case| self.what.has(&case.state))?;
        Ok(table::Follow { part: self.what.name, cases: self.cases })
    }
}

impl Formula for Machine {
    fn answer(self) -> Result<table::Machine, FormulaError> {
        Ok(table::Machine {
            parts: take::all(&self.parts, "the parts")?,
            events: take::all(&self.events, "the events")?,
            follows: take::all(&self.follows, "what follows")?,
        })
    }
}

// ── promises ─────────────────────────────────────────────────────────────────────────────────────

fn promise(name: SmolStr, asks: word::Asks, condition: Condition) -> table::Promise {
    table::Promise { name, asks, condition, who: Vec::new(), whenever: Condition::Always(true), despite: Vec::new() }
}

impl Formula for Never {
    fn answer(self) -> Result<table::Promise, FormulaError> {
        Ok(table::Promise { despite: self.despite.unwrap_or_default(), ..promise(self.name, word::Asks::Never, self.condition) })
    }
}

impl Formula for NeverBy {
    fn answer(self) -> Result<table::Promise, FormulaError> {
        let plain = promise(self.name, word::Asks::NeverBy, self.becomes);
        Ok(table::Promise { who: self.who, whenever: self.unless, despite: self.despite.unwrap_or_default(), ..plain })
    }
}

impl Formula for Possible {
    fn answer(self) -> Result<table::Promise, FormulaError> {
        Ok(table::Promise {
            who: self.who.unwrap_or_default(),
            whenever: self.whenever.unwrap_or(Condition::Always(true)),
            despite: self.despite.unwrap_or_default(),
            ..promise(self.name, word::Asks::Possible, self.goal)
        })
    }
}

impl From<&table::Promise> for explore::Promise {
    fn from(promise: &table::Promise) -> Self {
        let (condition, whenever) = (promise.condition.clone(), promise.whenever.clone());
        let asks = match promise.asks {
            word::Asks::Never => explore::Asks::Never(condition),
            word::Asks::NeverBy => explore::Asks::NeverBy { by: promise.who.clone(), becomes: condition, unless: whenever },
            word::Asks::Possible => explore::Asks::Possible { by: promise.who.clone(), goal: condition, whenever },
        };
        Self { name: promise.name.clone(), asks }
    }
}

impl From<&table::Machine> for explore::Machine {
    fn from(machine: &table::Machine) -> Self {
        let parts = machine.parts.iter().map(|part| explore::Part {
            name: part.name.clone(),
            states: part.states.clone(),
            begins: part.states.iter().position(|state| *state == part.begins).unwrap_or(0),
        });
        let events = machine.events.iter().map(|event| explore::Event {
            name: event.says.clone(),
            by: event.who.clone(),
            when: event.when.clone(),
            sets: event.sets.iter().map(|turn| explore::Turn { part: turn.part.clone(), to: turn.state.clone() }).collect(),
            takes: if let [least, most] = event.takes.as_slice() { Some([*least, *most]) } else { None },
        });
        let follows = machine.follows.iter().map(|follow| explore::Follow {
            part: follow.part.clone(),
            cases: follow.cases.iter().map(|case| explore::Case { to: case.state.clone(), when: case.when.clone() }).collect(),
        });
        Self { parts: parts.collect(), events: events.collect(), follows: follows.collect() }
    }
}

// ── exploring ────────────────────────────────────────────────────────────────────────────────────

/// So many explorations are kept.
const MOST_KNOWN: usize = 64;

/// What one exploration was asked: how it goes depends on nothing else but its clocks.
struct Asked {
    faults: Vec<usize>,
    limits: Limits,
    promises: Vec<explore::Promise>,
    machine: Arc<explore::Machine>,
}

impl Asked {
    /// Whether it goes like another, as far as the clocks answer the same.
    fn goes_like(&self, other: &Asked) -> bool {
        // What tells most of them apart comes first.
        self.faults == other.faults
            && self.limits == other.limits
            && self.promises == other.promises
            && self.machine.goes_like(&other.machine)
    }
}

/// What was asked last, and how it went: a design that is read again, or of which another line is edited, has the same machine,
/// the end of a tolerance one with other times, and exploring it takes longer than all else that is asked of it.
fn known() -> MutexGuard<'static, Vec<(Asked, explore::Course)>> {
    static KNOWN: Mutex<Vec<(Asked, explore::Course)>> = Mutex::new(Vec::new());
    KNOWN.lock().unwrap_or_else(PoisonError::into_inner)
}

/// A machine with what is told of it.
struct Exploration<'t> {
    told: &'t table::Machine,
    machine: Arc<explore::Machine>,
    limits: Limits,
}

impl<'t> Exploration<'t> {
    fn of(told: &'t table::Machine, most_states: Option<f64>) -> Self {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a number of states, cut to what there is")]
        let limits = most_states.map_or_else(Limits::default, |most| Limits { most_states: most.max(1.0) as usize });
        Exploration { told, machine: Arc::new(told.into()), limits }
    }

    /// With at most each of these faults once.
    fn explored(&self, promises: &[explore::Promise], faults: &[usize]) -> Result<explore::Explored, FormulaError> {
        let asked = Asked { machine: self.machine.clone(), promises: promises.to_vec(), faults: faults.to_vec(), limits: self.limits };
        let number = |event: &explore::Event| self.machine.events.iter().position(|one| std::ptr::eq(one, event));
        let allowed = |event: &explore::Event| !event.by.starts_with(FAULT) || number(event).is_some_and(|number| faults.contains(&number));
        let told = |course: &explore::Course| course.told(&self.machine, promises, &allowed);
        let went = known().iter().filter(|(known, _)| known.goes_like(&asked)).find_map(|(_, course)| told(course).transpose());
        if let Some(explored) = went {
            return explored;
        }
        let course = explore::Course::of(&self.machine, promises, &allowed, &self.limits)?;
        let explored = told(&course)?.ok_or_else(|| FormulaError::domain("clocks", "of one mind"))?;
        let mut known = known();
        known.truncate(MOST_KNOWN - 1);
        known.insert(0, (asked, course));
        Ok(explored)
    }

    /// Takes all faults of `borne` out that the promises bear, by their places: gone through together. What does not bear all of
    /// its faults keeps them, for them to be looked at one by one. Gives how many states were met.
    fn bear(&self, promises: &[explore::Promise], borne: &mut [Vec<usize>]) -> usize {
        let mut faults: Vec<usize> = borne.concat();
        faults.sort_unstable();
        faults.dedup();
        if faults.len() < 2 {
            return 0;
        }
        let together = Exploration { machine: Arc::new(explore::at_most_one(&self.machine, &faults)), ..*self };
        let open: Vec<usize> = (0..promises.len()).filter(|at| borne.get(*at).is_some_and(|faults| !faults.is_empty())).collect();
        let asked: Vec<explore::Promise> =
            open.iter().filter_map(|at| Some(explore::after_one(promises.get(*at)?, borne.get(*at)?))).collect();
        // More parts may be too many to be packed: then one by one.
        let Ok(explored) = together.explored(&asked, &faults) else { return 0 };
        for (at, verdict) in open.into_iter().zip(explored.verdicts) {
            if let (Some(faults), Verdict::Kept) = (borne.get_mut(at), verdict) {
                faults.clear();
            }
        }
        explored.states
    }

    /// The faults, each with its number and its sort.
    fn faults(&self) -> impl Iterator<Item = (usize, &str)> {
        self.machine.events.iter().enumerate().filter_map(|(at, event)| Some((at, event.by.strip_prefix(FAULT)?)))
    }

    fn says(&self, event: usize) -> SmolStr {
        self.told.events.get(event).map(|event| event.says.clone()).unwrap_or_default()
    }

    /// What is said when a part comes into a state.
    fn reads(&self, part: usize, state: usize) -> Option<SmolStr> {
        let reads = self.told.parts.get(part)?.reads.get(state)?;
        (!reads.is_empty()).then(|| reads.clone())
    }

    fn steps(&self, story: &explore::Story) -> Vec<SmolStr> {
        let step = |step: &explore::Step| {
            let mut said = self.says(step.event).to_string();
            let follows: Vec<SmolStr> = step.changed.iter().filter_map(|changed| self.reads(changed.part, changed.to)).collect();
            if !follows.is_empty() {
                write!(said, ": {}", follows.join(", ")).ok();
            }
            if step.at >= TOLD_FROM {
                write!(said, " (after {:.0} s)", step.at).ok();
            }
            said.into()
        };
        story.steps.iter().map(step).collect()
    }

    fn told(&self, name: &SmolStr, verdict: &Verdict, fault: Option<usize>) -> table::Told {
        let why = match verdict {
            Verdict::Kept | Verdict::Broken(_) => String::new(),
            Verdict::TooMany => format!("more than {} states: not all were looked at", self.limits.most_states),
            Verdict::OutOfTime => "what would break it was found only in an order that the times rule out".to_owned(),
        };
        let steps = if let Verdict::Broken(story) = verdict { self.steps(story) } else { Vec::new() };
        let stands = |story: &explore::Story| story.ends.iter().enumerate().filter_map(|(part, state)| self.reads(part, *state)).collect();
        table::Told {
            name: name.clone(),
            kept: why.is_empty().then_some(matches!(verdict, Verdict::Kept)),
            why: why.into(),
            fault: fault.map(|fault| self.says(fault)).unwrap_or_default(),
            story: numbered(&steps).into(),
            steps,
            stands: if let Verdict::Broken(story) = verdict { stands(story) } else { Vec::new() },
        }
    }
}

/// `1. you press it; 2. the roof rolls`.
fn numbered(steps: &[SmolStr]) -> String {
    let mut story = String::new();
    for (number, step) in (1..).zip(steps) {
        write!(story, "{}{number}. {step}", if number == 1 { "" } else { "; " }).ok();
    }
    story
}

impl Formula for Explored {
    fn answer(self) -> Result<table::Explored, FormulaError> {
        let promises: Vec<table::Promise> = take::all(&self.promises, "the promises")?;
        let exploration = Exploration::of(&self.machine, self.most_states);
        let asked: Vec<explore::Promise> = promises.iter().map(Into::into).collect();
        let plain = exploration.explored(&asked, &[])?;
        let mut told: Vec<table::Told> =
            promises.iter().zip(&plain.verdicts).map(|(promise, verdict)| exploration.told(&promise.name, verdict, None)).collect();
        // The faults that each promise has to bear, if it is kept without any.
        let bears = |(promise, told): (&table::Promise, &table::Told)| -> Vec<usize> {
            let borne = exploration.faults().filter(|(_, sort)| told.kept == Some(true) && promise.despite.iter().any(|one| one == sort));
            borne.map(|(fault, _)| fault).collect()
        };
        let mut borne: Vec<Vec<usize>> = promises.iter().zip(&told).map(bears).collect();
        let mut states = plain.states + exploration.bear(&asked, &mut borne);
        for (fault, _) in exploration.faults() {
            let is_open = |at: &usize| {
                borne.get(*at).is_some_and(|faults| faults.contains(&fault)) && told.get(*at).is_some_and(|told| told.kept == Some(true))
            };
            let open: Vec<usize> = (0..promises.len()).filter(is_open).collect();
            let some: Vec<explore::Promise> = open.iter().filter_map(|at| asked.get(*at).cloned()).collect();
            if some.is_empty() {
                continue;
            }
            let explored = exploration.explored(&some, &[fault])?;
            states += explored.states;
            for (at, verdict) in open.into_iter().zip(&explored.verdicts) {
                if let (Some(place), Some(promise), true) = (told.get_mut(at), promises.get(at), *verdict != Verdict::Kept) {
                    *place = exploration.told(&promise.name, verdict, Some(fault));
                }
            }
        }
        let flutters = plain.flutters.map(|way| numbered(&way.iter().map(|event| exploration.says(*event)).collect::<Vec<_>>()));
        #[expect(clippy::cast_precision_loss, reason = "far fewer states than 2^52")]
        let states = states as f64;
        Ok(table::Explored { states, told, flutters: flutters.unwrap_or_default().into() })
    }
}

impl Formula for Told {
    fn answer(self) -> Result<table::Told, FormulaError> {
        let found = self.of.told.into_iter().find(|told| told.name == self.name);
        found.ok_or_else(|| FormulaError::domain(format!("`{}`", self.name), "a promise that was looked at"))
    }
}

impl Formula for EachFault {
    fn answer(self) -> Result<Vec<table::Borne>, FormulaError> {
        let promises: Vec<table::Promise> = take::all(&self.promises, "the promises")?;
        let exploration = Exploration::of(&self.machine, self.most_states);
        let asked: Vec<explore::Promise> = promises.iter().map(Into::into).collect();
        let one = |fault: usize| {
            let verdicts = exploration.explored(&asked, &[fault])?.verdicts;
            let broken = promises.iter().zip(verdicts).filter(|(_, verdict)| *verdict != Verdict::Kept);
            Ok(table::Borne { fault: exploration.says(fault), breaks: broken.map(|(promise, _)| promise.name.clone()).collect() })
        };
        exploration.faults().map(|(fault, _)| one(fault)).collect()
    }
}

// ── trying ───────────────────────────────────────────────────────────────────────────────────────

impl Formula for MachineWith {
    fn answer(self) -> Result<table::Machine, FormulaError> {
        let parts: Vec<table::Changing> = take::all(&self.parts, "the parts")?;
        let names: Vec<SmolStr> = parts.iter().map(|part| part.name.clone()).collect();
        let is_one = |name: &SmolStr| names.contains(name);
        let table::Machine { parts: mut known, mut events, mut follows } = self.machine;
        events.retain(|event| !event.sets.iter().any(|turn| is_one(&turn.part)));
        follows.retain(|follow| !is_one(&follow.part));
        known.retain(|part| !is_one(&part.name));
        known.extend(parts);
        if let Some(more) = &self.events {
            events.extend(take::all::<table::Event>(more, "the events")?);
        }
        if let Some(more) = &self.follows {
            follows.extend(take::all::<table::Follow>(more, "what follows")?);
        }
        Ok(table::Machine { parts: known, events, follows })
    }
}

impl Formula for Trial {
    fn answer(self) -> Result<table::Trial, FormulaError> {
        Ok(table::Trial { says: self.says, machine: self.machine })
    }
}

impl Formula for Needed {
    fn answer(self) -> Result<Vec<table::Needed>, FormulaError> {
        let promises: Vec<table::Promise> = take::all(&self.promises, "the promises")?;
        let asked: Vec<explore::Promise> = promises.iter().map(Into::into).collect();
        let plain = Exploration::of(&self.machine, None);
        let verdicts = plain.explored(&asked, &[])?.verdicts;
        let broken: Vec<explore::Promise> =
            asked.iter().zip(&verdicts).filter(|(_, verdict)| **verdict != Verdict::Kept).map(|(promise, _)| promise.clone()).collect();
        let keeps = |machine: &table::Machine| -> Result<Vec<SmolStr>, FormulaError> {
            let verdicts = Exploration::of(machine, None).explored(&broken, &[])?.verdicts;
            let kept = broken.iter().zip(verdicts).filter(|(_, verdict)| *verdict == Verdict::Kept);
            Ok(kept.map(|(promise, _)| promise.name.clone()).collect())
        };
        let tried: Vec<(SmolStr, Vec<SmolStr>)> =
            self.trials.iter().map(|trial| Ok((trial.says.clone(), keeps(&trial.machine)?))).collect::<Result<_, FormulaError>>()?;
        let together = keeps(&self.all)?;
        let one = |(promise, verdict): (&table::Promise, &Verdict)| {
            let by: Vec<SmolStr> = tried.iter().filter(|(_, kept)| kept.contains(&promise.name)).map(|(says, _)| says.clone()).collect();
            table::Needed {
                promise: promise.name.clone(),
                kept: *verdict == Verdict::Kept,
                story: plain.told(&promise.name, verdict, None).story,
                together: by.is_empty() && together.contains(&promise.name),
                by,
            }
        };
        Ok(promises.iter().zip(&verdicts).map(one).collect())
    }
}

impl Formula for IsAsked {
    fn answer(self) -> Result<bool, FormulaError> {
        let parts: Vec<table::Changing> = take::all(&self.parts, "the parts")?;
        let mut is_asked = false;
        for condition in take::flat(&self.conditions).into_iter().filter_map(Value::as_condition) {
            let mut look = |name: &SmolStr| is_asked |= parts.iter().any(|part| part.name == *name);
            if self.to_be_so {
                condition.waits_for(&mut look);
            } else {
                condition.reads(&mut |name, _| look(name));
            }
        }
        Ok(is_asked)
    }
}

impl Formula for EachPair {
    fn answer(self) -> Result<Vec<table::PairBorne>, FormulaError> {
        let promises: Vec<table::Promise> = take::all(&self.promises, "the promises")?;
        let exploration = Exploration::of(&self.machine, None);
        let asked: Vec<explore::Promise> = promises.iter().map(Into::into).collect();
        let faults: Vec<usize> = exploration.faults().map(|(at, _)| at).collect();
        let kept = |with: &[usize], of: &[usize]| -> Result<Vec<usize>, FormulaError> {
            let some: Vec<explore::Promise> = of.iter().filter_map(|at| asked.get(*at).cloned()).collect();
            let verdicts = exploration.explored(&some, with)?.verdicts;
            Ok(of.iter().copied().zip(verdicts).filter(|(_, verdict)| *verdict == Verdict::Kept).map(|(at, _)| at).collect())
        };
        let all_promises: Vec<usize> = (0..promises.len()).collect();
        let alone: Vec<Vec<usize>> = faults.iter().map(|fault| kept(&[*fault], &all_promises)).collect::<Result<_, _>>()?;
        let mut told = Vec::new();
        for (first, kept_by_first) in faults.iter().zip(&alone) {
            for (second, kept_by_second) in faults.iter().zip(&alone).filter(|(second, _)| *second > first) {
                let both: Vec<usize> = kept_by_first.iter().copied().filter(|at| kept_by_second.contains(at)).collect();
                if both.is_empty() {
                    continue;
                }
                let left = kept(&[*first, *second], &both)?;
                let names = both.iter().filter(|at| !left.contains(at)).filter_map(|at| Some(promises.get(*at)?.name.clone()));
                let breaks: Vec<SmolStr> = names.collect();
                if !breaks.is_empty() {
                    told.push(table::PairBorne { faults: vec![exploration.says(*first), exploration.says(*second)], breaks });
                }
            }
        }
        Ok(told)
    }
}

impl Formula for ToldApart {
    fn answer(self) -> Result<table::ToldApart, FormulaError> {
        Ok(table::ToldApart { name: self.name, when: self.when })
    }
}

impl Formula for StateTable {
    fn answer(self) -> Result<Vec<table::Transition>, FormulaError> {
        let exploration = Exploration::of(&self.machine, None);
        let states: Vec<Condition> = self.states.iter().map(|state| state.when.clone()).collect();
        let allowed = |event: &explore::Event| !event.by.starts_with(FAULT);
        let found = explore::transitions(&exploration.machine, &states, &allowed, &exploration.limits)?;
        let name = |at: Option<usize>| at.and_then(|at| self.states.get(at)).map(|state| state.name.clone()).unwrap_or_default();
        let mut told: Vec<table::Transition> = Vec::new();
        for one in found {
            let (from, to, says) = (name(one.from), name(one.to), exploration.says(one.event));
            match told.iter_mut().find(|known| known.from == from && known.to == to) {
                Some(known) if known.says.contains(&says) => {}
                Some(known) => known.says.push(says),
                None => told.push(table::Transition { from, says: vec![says], to }),
            }
        }
        Ok(told)
    }
}
