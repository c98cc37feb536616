//! Holding the roof down: load combinations, and how a rigid roof shares a load out to clamps that
//! can only pull and wheels that can only push.
//!
//! In: resultants of wind and weight, plan positions and stiffnesses. Out: the force in each clamp
//! and on each wheel.
//! It must not know what a clamp is rated for.
//!
//! The roof counts as rigid: the lift of each support lies in one plane, R = k (a + bx + cy). That
//! is statics with real positions, not uplift divided by n. Stiffness of the clamps' own anchorage
//! (a post, a long bolt) belongs in k; equal stiffness is the usual first estimate.
//!
//! Two questions, two answers. [`share_uplift`] asks what the clamps carry alone: it is the sum an
//! engineer writes down, right when the whole roof wants to lift. [`share`] asks again with the
//! wheels standing on the track: where the wind lifts one side only, the other side presses on its
//! wheels and the roof pries itself up about them, which can load a clamp with more than the whole
//! net uplift. Where the wheels' positions are known, [`share`] is the one to trust.

mod actions;
mod rigid;
mod tipping;

pub use actions::{Combination, Resultant, Support};
pub use tipping::{MOST_TIMES, Tie, Tipping, tipping};

use crate::calc::{FormulaError, check};
use nalgebra::{Matrix3, Vector3};
use rigid::motion_words;

/// What each support carries.
#[derive(Debug, Clone, PartialEq)]
pub struct Shares {
    /// Pull in each clamp, N, in the order given; 0 in a slack one.
    pub clamps: Vec<f64>,
    /// Push on each wheel, N, in the order given; 0 on one that is off the track.
    pub wheels: Vec<f64>,
}

impl Shares {
    /// The clamp that pulls hardest: (index, N).
    #[must_use]
    pub fn worst_clamp(&self) -> Option<(usize, f64)> {
        worst(&self.clamps)
    }
}

fn worst(forces: &[f64]) -> Option<(usize, f64)> {
    forces.iter().copied().enumerate().max_by(|a, b| a.1.total_cmp(&b.1))
}

/// How much stiffer than the clamps the track is taken to be where a wheel stands on it, when the
/// wheels' own stiffness is not known: contact hardly gives. Common practice, no source; between
/// 30 and 1000 the clamp forces change by a few per cent.
pub const CONTACT_STIFFNESS: f64 = 100.0;

/// Shares a net uplift out to clamps that can only pull. A clamp that would have to push goes slack
/// and the rest carry the load.
///
/// # Errors
/// If a stiffness is not above zero or a number is missing; [`FormulaError::Unstable`] if the
/// clamps cannot hold the load: the uplift acts outside the area they span.
pub fn share_uplift(clamps: &[Support], load: Resultant) -> Result<Shares, FormulaError> {
    share(clamps, &[], load)
}

/// Shares a load (weight downwards) out to wheels that can only push.
///
/// # Errors
/// As [`share_uplift`]: the weight acts outside the area that the wheels span.
pub fn share_gravity(wheels: &[Support], load: Resultant) -> Result<Shares, FormulaError> {
    share(&[], wheels, load)
}

/// Shares a load out to clamps that can only pull and wheels that can only push.
///
/// # Errors
/// If a stiffness is not above zero or a number is missing; [`FormulaError::Unstable`] if nothing
/// keeps the roof from lifting or tipping.
pub fn share(clamps: &[Support], wheels: &[Support], load: Resultant) -> Result<Shares, FormulaError> {
    for support in clamps.iter().chain(wheels) {
        check::finite("position of a hold-down or wheel", support.x)?;
        check::finite("position of a hold-down or wheel", support.y)?;
        check::positive("stiffness of a hold-down or wheel", support.stiffness)?;
    }
    for number in load.numbers() {
        check::finite("load on the roof", number)?;
    }
    let (clamps, wheels) = rigid::solve(clamps, wheels, load)?;
    Ok(Shares { clamps, wheels })
}

/// The same with clamp number `forgotten` (counted from 0) left open: its force is 0.
///
/// # Errors
/// As [`share`], or if there is no such clamp.
pub fn share_without(clamps: &[Support], wheels: &[Support], load: Resultant, forgotten: usize) -> Result<Shares, FormulaError> {
    if forgotten >= clamps.len() {
        return Err(FormulaError::domain("the clamp left open", "one of the clamps"));
    }
    let left: Vec<Support> = clamps.iter().enumerate().filter_map(|(index, clamp)| (index != forgotten).then_some(*clamp)).collect();
    let mut shares = share(&left, wheels, load)?;
    shares.clamps.insert(forgotten, 0.0);
    Ok(shares)
}

/// Upward force that each support of a rigid body takes of an upward load, N, as if all held both ways:
/// `R = k·(a + b·x + c·y)`. Right as long as the weight keeps every wheel on its track.
///
/// # Errors
/// If the supports stand in one line, or a number is missing. Source: rigid-body statics.
pub fn share_both_ways(supports: &[Support], load: Resultant) -> Result<Vec<f64>, FormulaError> {
    for support in supports {
        check::finite("position of a support", support.x)?;
        check::finite("position of a support", support.y)?;
        check::positive("stiffness of a support", support.stiffness)?;
    }
    let sums = supports.iter().fold(Matrix3::zeros(), |sums, support| {
        let arm = Vector3::new(1.0, support.x, support.y);
        sums + arm * arm.transpose() * support.stiffness
    });
    let loads = Vector3::new(load.force, load.moment_along, load.moment_across);
    let plane = sums.lu().solve(&loads).filter(|plane| plane.iter().all(|number| number.is_finite()));
    let plane = plane.ok_or_else(|| FormulaError::Unstable { what: "the supports stand in one line".to_owned() })?;
    Ok(supports.iter().map(|support| support.stiffness * (plane[0] + plane[1] * support.x + plane[2] * support.y)).collect())
}

/// The plane of forces `R = k (a + b x + c y)`, a in N, b and c in N/m, on which supports that take these forces (N) lie, k their
/// stiffness; none if no three of them stand out of line. Source: rigid-body statics.
#[must_use]
pub fn plane(in_play: &[(Support, f64)]) -> Option<[f64; 3]> {
    let (sums, load) = in_play.iter().fold((Matrix3::zeros(), Vector3::zeros()), |(sums, load), (support, force)| {
        let arm = Vector3::new(1.0, support.x, support.y);
        (sums + arm * arm.transpose() * support.stiffness, load + arm * *force)
    });
    let plane = sums.lu().solve(&load).filter(|plane| plane.iter().all(|number| number.is_finite()))?;
    Some([plane[0], plane[1], plane[2]])
}

/// Horizontal force on each of several equal fasteners of a rigid body (x, y in N), for a horizontal force at its plan's
/// centre: an even share, and a couple about the fasteners' own centre `F = M·r/Σr²`.
///
/// # Errors
/// If there is none, or they all stand in one place and the force turns about it. Source: statics; the elastic method of
/// eccentric bolt groups (AISC Manual Part 7).
pub fn share_sideways(places: &[(f64, f64)], force: (f64, f64)) -> Result<Vec<(f64, f64)>, FormulaError> {
    if places.is_empty() {
        return Err(FormulaError::Unstable { what: "nothing holds the roof sideways".to_owned() });
    }
    #[expect(clippy::cast_precision_loss, reason = "far fewer clamps than 2^52")]
    let count = places.len() as f64;
    let middle = places.iter().fold((0.0, 0.0), |sum, place| (sum.0 + place.0 / count, sum.1 + place.1 / count));
    // The force acts at the origin, `-middle` away from the fasteners' centre.
    let moment = -middle.0 * force.1 + middle.1 * force.0;
    let polar: f64 = places.iter().map(|place| (place.0 - middle.0).powi(2) + (place.1 - middle.1).powi(2)).sum();
    if polar <= 1e-9 && moment.abs() > 1e-6 {
        return Err(FormulaError::Unstable { what: "one place alone does not keep the roof from turning".to_owned() });
    }
    let turn = if polar > 0.0 { moment / polar } else { 0.0 };
    let share = |place: &(f64, f64)| (force.0 / count - turn * (place.1 - middle.1), force.1 / count + turn * (place.0 - middle.0));
    Ok(places.iter().map(share).collect())
}

/// The hardest pull of a clamp over several load cases.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Worst {
    /// Pull, N.
    pub force: f64,
    /// Index of the load case that gives it.
    pub case: usize,
}

/// For each clamp the hardest pull over all `loads`; empty if there are no clamps or no loads.
///
/// # Errors
/// As [`share`] for the first load case that cannot be held.
pub fn envelope(clamps: &[Support], wheels: &[Support], loads: &[Resultant]) -> Result<Vec<Worst>, FormulaError> {
    let mut hardest: Vec<Worst> = Vec::new();
    for (case, &load) in loads.iter().enumerate() {
        let shares = share(clamps, wheels, load)?;
        let worsts = shares.clamps.iter().map(|&force| Worst { force, case });
        hardest = if hardest.is_empty() {
            worsts.collect()
        } else {
            hardest.iter().zip(worsts).map(|(&old, new)| if new.force > old.force { new } else { old }).collect()
        };
    }
    Ok(hardest)
}
