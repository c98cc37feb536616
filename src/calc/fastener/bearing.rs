//! Washers and plates that press on wood when a bolt is pulled.
//!
//! In: washer, hole, wood. Out: the pull that the wood under the washer takes.
//! It must not know the bolt's own strength. Source: NDS 2018 §3.10, EN 1995-1-1 §8.5.2.

use std::f64::consts::PI;

use crate::calc::FormulaError;
use crate::calc::check::positive;
use crate::calc::timber::nds_check::bearing_area_factor;

/// Area under a round washer (m²), less the hole, diameters in m.
///
/// # Errors
/// Where the hole is not smaller than the washer.
pub fn round_washer_area(washer: f64, hole: f64) -> Result<f64, FormulaError> {
    if positive("the hole's diameter", hole)? >= washer {
        return Err(FormulaError::domain("the washer's diameter", "more than the hole's"));
    }
    Ok(PI / 4.0 * (washer * washer - hole * hole))
}

/// Allowable pull (N) of a washer: F′c⊥·Cb·area, with the washer's diameter or side as bearing length (m) and its distance
/// from the member's end. Fc⊥ without CD. Source: NDS 2018 §3.10.2, §3.10.4.
///
/// # Errors
/// Where a number is not more than zero.
pub fn nds_washer(bearing: f64, area: f64, length: f64, from_end: f64) -> Result<f64, FormulaError> {
    Ok(positive("F′c⊥", bearing)? * positive("the washer's area", area)? * bearing_area_factor(length, from_end)?)
}

/// Characteristic pull (N) of a washer: 3.0·fc,90,k on its area. Source: EN 1995-1-1 §8.5.2(2).
#[must_use]
pub fn en_washer(bearing_k: f64, area: f64) -> f64 {
    3.0 * bearing_k * area
}
