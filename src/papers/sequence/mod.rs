//! The order of work.
//!
//! In: a session and its papers. Out: a [`Sequence`]: the visits of the trades with the steps of each, when they can be
//! and when they must, what to measure before going on; or the circle in which tasks wait for each other. Times are days from
//! the beginning: it knows no calendar. What comes before what stands in the papers.

mod network;
mod plan;

use crate::design::{Paper, PaperSort};
use crate::papers::row::rows;
use crate::papers::unknown::Unknown;
use crate::problem::Problem;
use crate::session::Session;
use smol_str::SmolStr;

/// The work in order.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Sequence {
    /// The visits of the trades, in order.
    pub visits: Vec<Visit>,
    /// The steps, visit by visit.
    pub steps: Vec<Step>,
    /// Days from the beginning to the end.
    pub days: f64,
    /// Days that it would take if every trade came whenever it was wanted.
    pub fewest_days: f64,
    /// A chain of steps that decides the end, by their places.
    pub critical_path: Vec<usize>,
    /// No order of work has fewer visits.
    pub visits_bound: usize,
    /// What belongs to the work and is not known.
    pub unknown: Vec<Unknown>,
    /// Tasks that wait for each other in a circle; there is no order then.
    pub circle: Option<Problem>,
}

/// A trade comes, does its steps, and goes.
#[derive(Debug, Clone, PartialEq)]
pub struct Visit {
    /// Which trade.
    pub trade: SmolStr,
    /// Its first, second, … visit.
    pub number: usize,
    /// How often it comes in all.
    pub of: usize,
    /// Day on which it begins, from 0.
    pub start: f64,
    /// Day by which it is over.
    pub finish: f64,
    /// Places of its steps.
    pub steps: std::ops::Range<usize>,
}

/// One step: a task on one component or several.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// The task's name.
    pub task: SmolStr,
    /// What is done.
    pub title: SmolStr,
    /// On which components.
    pub of: Vec<SmolStr>,
    /// What is done on each, where there is more to say.
    pub does: Vec<Remark>,
    /// What to measure before going on, with the tolerance that the checks rely on.
    pub holds: Vec<Remark>,
    /// The trade.
    pub trade: SmolStr,
    /// Place of its visit.
    pub visit: usize,
    /// Day on which it begins, from 0.
    pub start: f64,
    /// Day by which it is done.
    pub finish: f64,
    /// Days of work.
    pub takes: f64,
    /// Days that it can be put off without delaying the end.
    pub float: f64,
    /// Whether it decides the end.
    pub critical: bool,
    /// What it waits for.
    pub after: Vec<Wait>,
    /// What else to know.
    pub notes: Vec<SmolStr>,
    /// What may happen.
    pub cautions: Vec<SmolStr>,
    /// On whose word.
    pub sources: Vec<SmolStr>,
}

/// What is said of a step, or of some of its components.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Remark {
    /// Of which components, where it is not all of the step's.
    pub of: Vec<SmolStr>,
    /// What.
    pub says: SmolStr,
}

/// What a step waits for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wait {
    /// Place of the step.
    pub step: usize,
    /// Days that pass in between.
    pub days: f64,
}

/// The order of work of a design.
#[must_use]
pub fn of(session: &Session, papers: &[Paper]) -> Sequence {
    let rows = rows(&session.evaluator, papers, PaperSort::Task);
    let (jobs, unknown) = network::jobs(&session.evaluator, papers, &rows);
    let mut sequence = plan::plan(session.design(), &jobs);
    sequence.unknown = Unknown::gather(unknown);
    sequence
}
