//! A vee wheel on a vee track: the wedge, and what a sideways force does to it.
//!
//! In: load, sideways force, the included angle of the vee. Out: flank forces, the force at which a
//! flank lifts off or the wheel climbs, the shape of the groove. It must not know how many wheels
//! there are.
//!
//! Source: statics of a body in a trough; for 90° the factor √2 of the textbooks' right-angled trough.

use std::f64::consts::PI;

use crate::calc::{FormulaError, check};

/// Sum of the two flank forces over the load: `1 / sin(θ/2)`, θ the included `angle` (rad).
///
/// # Errors
/// If the angle is not between 0 and 180°.
pub fn wedge_factor(angle: f64) -> Result<f64, FormulaError> {
    Ok(1.0 / half(angle)?.sin())
}

/// Forces on the two flanks, N, square to them, frictionless: `P / (2 sin(θ/2)) ± H / (2 cos(θ/2))`.
///
/// `load` (N) presses down, `sideways` (N) towards the first flank, `angle` (rad) is the included
/// angle. Beyond [`lift_off`] the second flank is clear and the first carries what a wheel that
/// climbs it would feel.
///
/// # Errors
/// If the load or the sideways force is negative, or the angle not between 0 and 180°.
pub fn flank_forces(load: f64, sideways: f64, angle: f64) -> Result<[f64; 2], FormulaError> {
    let half = half(angle)?;
    let load = check::not_negative("load on the vee wheel", load)?;
    let sideways = check::not_negative("sideways force", sideways)?;
    let (down, across) = (load / (2.0 * half.sin()), sideways / (2.0 * half.cos()));
    if down < across {
        return Ok([load * half.sin() + sideways * half.cos(), 0.0]);
    }
    Ok([down + across, down - across])
}

/// Sideways force, N, at which a rolling wheel can climb the flank, with `friction` between them:
/// `P (tan δ − μ) / (1 + μ tan δ)`, δ = 90° − θ/2 the slope of the flank; 0 if it climbs by itself.
///
/// Source: Nadal, *Locomotives à vapeur* (1908), the railways' limit of wheel climb.
///
/// # Errors
/// If the load or the friction is negative or the angle not between 0 and 180°.
pub fn climbing_force(load: f64, friction: f64, angle: f64) -> Result<f64, FormulaError> {
    let slope = 1.0 / half(angle)?.tan();
    let friction = check::not_negative("friction on the flank", friction)?;
    let load = check::not_negative("load on the vee wheel", load)?;
    Ok((load * (slope - friction) / (1.0 + friction * slope)).max(0.0))
}

fn half(angle: f64) -> Result<f64, FormulaError> {
    if angle > 0.0 && angle < PI {
        Ok(angle / 2.0)
    } else {
        Err(FormulaError::domain("included angle of the vee", "between 0° and 180°"))
    }
}
