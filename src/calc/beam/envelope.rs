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
use super::train::{Governing, Passes, SupportRange, Train};
use crate::calc::FormulaError;

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
