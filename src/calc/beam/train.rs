//! Wheels that roll along the beam, and the worst that they do on their way.
//!
//! In: the beam, its own weight, the wheels with their distances and loads, where the first wheel starts and ends.
//! Out: the extremes of moment, shear, each reaction and deflection, each with the position that causes it.
//! It must not know which way the roof opens, or how the loads came about.
//!
//! The governing positions are found by analysis. Between two moments at which a wheel passes a node, each quantity
//! is a polynomial in the position of the train, so its extremes stand at the ends and at the level places
//! (`forces`). The deepest deflection is closed in along the beam with a bound from its curvature (`sag`).

use super::forces;
use super::influence::Influence;
use super::model::Beam;
use super::response::{Load, respond};
use super::sag;
use super::stiffness::Solved;
use crate::calc::FormulaError;

/// One wheel of a train.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wheel {
    /// Distance to the right of the train's position, m.
    pub offset: f64,
    /// Load on the beam, N, down.
    pub load: f64,
}

/// Wheels at fixed distances, rolling from one position to another. A wheel beyond the beam's ends does not load it.
#[derive(Debug, Clone, PartialEq)]
pub struct Train {
    /// The wheels in any order.
    pub wheels: Vec<Wheel>,
    /// Position at one end of the way, m (a wheel stands at position + offset).
    pub from: f64,
    /// Position at the other end, m, left or right of `from`.
    pub to: f64,
}

/// An extreme value with what causes it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Governing {
    /// The value, in the unit of its quantity.
    pub value: f64,
    /// Position of the train that causes it, m.
    pub train: f64,
    /// Place along the beam, m.
    pub at: f64,
}

/// What one support carries at most and at least.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SupportRange {
    /// The largest reaction, N, up.
    pub largest: Governing,
    /// The smallest reaction, N; negative where the beam pulls the support up.
    pub smallest: Governing,
}

/// The extremes over all positions of a train.
#[derive(Debug, Clone, PartialEq)]
pub struct Envelope {
    /// Largest sagging moment, N·m (zero where the beam never sags).
    pub sagging: Governing,
    /// Largest hogging moment, N·m, negative (zero where the beam never hogs).
    pub hogging: Governing,
    /// Largest positive shear, N.
    pub shear_largest: Governing,
    /// Largest negative shear, N.
    pub shear_smallest: Governing,
    /// Each support's reactions, in the order of the beam's supports.
    pub reactions: Vec<SupportRange>,
    /// Deepest deflection, m, down.
    pub deepest: Governing,
    /// Highest rise, m, negative.
    pub highest: Governing,
}

/// The worst that a train does to a beam on its way, together with the beam's own weight (N/m, down).
///
/// # Errors
/// Where the beam is not held ([`FormulaError::Unstable`] names the loose part) or a number is out of range.
///
/// Source: direct stiffness method; influence lines by the Müller-Breslau principle.
pub fn envelope(beam: &Beam, train: &Train, self_weight: f64) -> Result<Envelope, FormulaError> {
    let finite = train.wheels.iter().all(|w| w.offset.is_finite() && w.load.is_finite());
    if !finite || !train.from.is_finite() || !train.to.is_finite() || !self_weight.is_finite() {
        return Err(FormulaError::domain("each wheel's place and load", "a number"));
    }
    let resting = respond(beam, &[Load::self_weight(beam, self_weight)])?;
    let influence = Influence::new(Solved::new(beam)?);
    let passes = Passes::new(&influence, train);
    let forces = forces::scan(beam, &influence, &passes, &resting, self_weight);
    let (deepest, highest) = sag::search(&influence, &passes, &resting, &forces.bands);
    Ok(Envelope {
        sagging: forces.sagging,
        hogging: forces.hogging,
        shear_largest: forces.shear_largest,
        shear_smallest: forces.shear_smallest,
        reactions: forces.reactions,
        deepest,
        highest,
    })
}

/// How far (m, down) the beam sinks under each wheel while the train stands at a position (m), with the beam's own weight
/// (N/m); `None` for a wheel beyond the beam. In the order of the wheels.
///
/// # Errors
/// Where the beam is not held or a number is out of range.
pub fn under_wheels(beam: &Beam, wheels: &[Wheel], position: f64, self_weight: f64) -> Result<Vec<Option<f64>>, FormulaError> {
    let on_beam = |wheel: &Wheel| {
        let at = position + wheel.offset;
        (at >= beam.start && at <= beam.end).then_some(at)
    };
    let mut loads = vec![Load::self_weight(beam, self_weight)];
    loads.extend(wheels.iter().filter_map(|w| on_beam(w).map(|at| Load::Point { at, force: w.load })));
    let answer = respond(beam, &loads)?;
    Ok(wheels.iter().map(|w| on_beam(w).map(|at| answer.deflection(at))).collect())
}

/// The way of the train, cut where a wheel passes a node.
pub(super) struct Passes {
    /// The wheels from left to right.
    pub wheels: Vec<Wheel>,
    /// Positions of the train in rising order, from one end of the way to the other.
    pub cuts: Vec<f64>,
    /// Where the beam begins and ends.
    beam: (f64, f64),
}

impl Passes {
    fn new(influence: &Influence, train: &Train) -> Self {
        let nodes = &influence.solved.mesh.nodes;
        let (first, last) = (train.from.min(train.to), train.from.max(train.to));
        let mut cuts: Vec<f64> = train
            .wheels
            .iter()
            .flat_map(|wheel| nodes.iter().map(move |node| node.at - wheel.offset))
            .filter(|&position| position > first && position < last)
            .collect();
        cuts.push(first);
        cuts.push(last);
        cuts.sort_by(f64::total_cmp);
        let ends = |at: Option<&super::model::Node>| at.map_or(0.0, |n| n.at);
        let mut wheels = train.wheels.clone();
        wheels.sort_by(|one, other| one.offset.total_cmp(&other.offset));
        Self { wheels, cuts, beam: (ends(nodes.first()), ends(nodes.last())) }
    }

    /// The stretches of the way in which no wheel passes a node: where each starts, and how long it is.
    /// The two ends of the way come as stretches without length, for a wheel that just reaches a free end there.
    pub(super) fn stretches(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        let (first, last) = self.way();
        let between = self.cuts.windows(2).filter_map(|pair| match pair {
            [start, end] => Some((*start, end - start)),
            _ => None,
        });
        [(first, 0.0), (last, 0.0)].into_iter().chain(between.filter(|&(_, width)| width > 1e-12))
    }

    /// The first and the last position.
    pub(super) fn way(&self) -> (f64, f64) {
        (self.cuts.first().copied().unwrap_or(0.0), self.cuts.last().copied().unwrap_or(0.0))
    }

    /// Positions closer than this are one position, m.
    pub(super) fn near(&self) -> f64 {
        1e-9 * (self.beam.1 - self.beam.0)
    }

    /// The place of a wheel in the middle of a stretch, if it is on the beam then.
    pub(super) fn on_beam(&self, wheel: &Wheel, start: f64, width: f64) -> Option<f64> {
        let middle = start + 0.5 * width + wheel.offset;
        (middle >= self.beam.0 - self.near() && middle <= self.beam.1 + self.near()).then_some(middle)
    }
}
