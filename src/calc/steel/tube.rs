//! The walls of rectangular tubes: where a bolt bears in them, where a washer pulls at them, where the tube lies on a support.
//!
//! In: widths and thicknesses, steel, what presses. Out: what a wall takes, ASD or design resistance.
//! It must not know what is bolted. Sections without slender walls (check with `walls`).

use super::member::{GAMMA_M0, GAMMA_M2};
use crate::calc::FormulaError;
use crate::calc::check::positive;
use crate::calc::column::steel::{Curve, en_reduction_factor};
use std::f64::consts::PI;

/// Safety factor of bearing on a pin or on a bolt through a tube, ASD. Source: AISC 360-16 §J7.
pub const OMEGA_BEARING: f64 = 2.0;
/// Safety factor of a wall that yields in lines, ASD. Source: AISC 360-10 Table K2.2 (from memory).
pub const OMEGA_FACE: f64 = 1.5;
/// Safety factor of a side wall that yields over a support, ASD. Source: AISC 360-16 §J10.2.
pub const OMEGA_YIELDING: f64 = 1.5;
/// Safety factor of a side wall that cripples over a support, ASD. Source: AISC 360-16 §J10.3.
pub const OMEGA_CRIPPLING: f64 = 2.0;
/// A washer so broad in parts of the wall presses on the corners, and no lines form. Source: EN 1993-1-8 Table 7.11 (β ≤ 0.85).
pub const BROADEST: f64 = 0.85;

/// Allowable push (N) of a bolt that passes right through a tube, on one wall: `1.8·Fy·d·t/Ω`. Source: AISC 360-16 §J3.10(c), eq. J7-1.
#[must_use]
pub fn aisc_bearing(diameter: f64, wall: f64, yield_stress: f64) -> f64 {
    1.8 * yield_stress * diameter * wall / OMEGA_BEARING
}

/// Design push (N) of a bolt on one wall: `1.5·fu·d·t/γM2`, the limit of a lap with one row of bolts.
/// Source: EN 1993-1-8 §3.6.1(10).
#[must_use]
pub fn en_bearing(diameter: f64, wall: f64, tensile_strength: f64) -> f64 {
    1.5 * tensile_strength * diameter * wall / GAMMA_M2
}

/// Pull (N) of a washer that bears over a square of this side on the middle of a tube's wall and draws it in or out until lines in it
/// yield: `fy·t²·(2η/(1−β) + 4/√(1−β))`, η = β = side over the tube's breadth. Characteristic: divide by [`OMEGA_FACE`] or γM5 = 1.
/// Source: AISC 360-10 eq. K2-7; EN 1993-1-8 Table 7.11, chord face failure of a T joint (both from memory).
///
/// # Errors
/// Where a number is not more than zero, or the washer is broader than 0.85 of the wall.
pub fn face_yields(breadth: f64, wall: f64, yield_stress: f64, washer: f64) -> Result<f64, FormulaError> {
    let part = positive("the washer", washer)? / positive("the tube's breadth", breadth)?;
    if part > BROADEST {
        return Err(FormulaError::domain("the washer", "at most 0.85 of the breadth of the tube: a broader one presses on its corners"));
    }
    let free = 1.0 - part;
    Ok(yield_stress * wall * wall * (2.0 * part / free + 4.0 / free.sqrt()))
}

/// Side of the square that covers as much as a round washer of this diameter (m).
#[must_use]
pub fn square_of_round(diameter: f64) -> f64 {
    (PI / 4.0).sqrt() * diameter
}

/// Allowable load (N) on a support at an end of a tube, both side walls: yielding `Fy·t·(2.5k + lb)` each, k = 1.5t, or crippling
/// `0.40·t²·(1 + 3·lb/d)·√(E·Fy)` each, lb/d not above 0.2. On the safe side of a support away from the end.
/// Source: AISC 360-16 eq. J10-3, J10-5a; k of tubes from AISC 360-10 §K1.3b (from memory).
///
/// # Errors
/// Where a number is not more than zero.
pub fn aisc_end_bearing(depth: f64, wall: f64, seat: f64, yield_stress: f64, elasticity: f64) -> Result<f64, FormulaError> {
    let (t, lb) = (positive("the tube's wall", wall)?, positive("the seat", seat)?);
    let yields = yield_stress * t * (2.5 * 1.5 * t + lb) / OMEGA_YIELDING;
    let over_depth = (lb / positive("the tube's depth", depth)?).min(0.2);
    let cripples = 0.40 * t * t * (1.0 + 3.0 * over_depth) * (elasticity * yield_stress).sqrt() / OMEGA_CRIPPLING;
    Ok(2.0 * yields.min(cripples))
}

/// Design load (N) on a support at an end of a tube, both side walls: `2·χ·fy·t·(lb + 2.5t)/γM5`, χ of curve c for the slenderness
/// `3.46·(h/t − 2)/(π·√(E/fy))`; the load spreads to one side only. Source: EN 1993-1-8 Table 7.11, chord side wall buckling (2h + 10t
/// away from an end; from memory).
///
/// # Errors
/// Where a number is not more than zero.
pub fn en_end_bearing(depth: f64, wall: f64, seat: f64, yield_stress: f64, elasticity: f64) -> Result<f64, FormulaError> {
    let (t, lb) = (positive("the tube's wall", wall)?, positive("the seat", seat)?);
    let slenderness = 3.46 * (depth / t - 2.0) / (PI * (elasticity / yield_stress).sqrt());
    let buckles = en_reduction_factor(slenderness, Curve::C);
    Ok(2.0 * buckles * yield_stress * t * (lb + 2.5 * t) / GAMMA_M0)
}
