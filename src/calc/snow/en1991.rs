//! Snow load by EN 1991-1-3.
//!
//! In: characteristic ground snow load, roof slope, exposure and warmth. Out: snow loads on plan, Pa.
//! It must not know the maps of Annex C: the ground snow load is given.

use crate::calc::FormulaError;

/// How the wind finds the roof. Source: EN 1991-1-3 Table 5.1.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Topography {
    /// Flat and open on all sides.
    Windswept,
    /// No marked removal of snow by wind.
    Normal,
    /// Much lower than its surroundings, or among high trees.
    Sheltered,
}

impl Topography {
    /// Exposure coefficient Ce. Source: EN 1991-1-3 Table 5.1.
    #[must_use]
    pub fn exposure(self) -> f64 {
        match self {
            Self::Windswept => 0.8,
            Self::Normal => 1.0,
            Self::Sheltered => 1.2,
        }
    }
}

/// Shape coefficient μ1 for a slope (rad). Where snow cannot slide off (a parapet, a snow guard) it is at least 0.8.
/// Source: EN 1991-1-3 Table 5.2, §5.3.2(2), §5.3.3(2).
///
/// # Errors
/// For a slope beyond 0° to 90°.
pub fn shape_mu1(slope: f64, held: bool) -> Result<f64, FormulaError> {
    let degrees = slope.to_degrees();
    if !(0.0..=90.0).contains(&degrees) {
        return Err(FormulaError::domain("the roof slope", "between 0° and 90°"));
    }
    if held {
        return Ok(0.8);
    }
    Ok((0.8 * (60.0 - degrees) / 30.0).clamp(0.0, 0.8))
}

/// Shape coefficient μ2 for the valley between two roofs of mean slope (rad), up to 60°: 0.8 + 0.8·α/30°, at most 1.6.
/// Source: EN 1991-1-3 Table 5.2, §5.3.4.
///
/// # Errors
/// For a slope beyond 0° to 60°.
pub fn shape_mu2(slope: f64) -> Result<f64, FormulaError> {
    let degrees = slope.to_degrees();
    if !(0.0..=60.0).contains(&degrees) {
        return Err(FormulaError::domain("the mean slope of the valley", "between 0° and 60°"));
    }
    Ok((0.8 + 0.8 * degrees / 30.0).min(1.6))
}

/// Snow load on the roof (Pa of plan area): `s = μ·Ce·Ct·sk`. Source: EN 1991-1-3 eq. 5.1.
#[must_use]
pub fn roof(shape: f64, exposure: f64, thermal: f64, ground: f64) -> f64 {
    shape * exposure * thermal * ground
}

/// Exceptional snow on the ground (Pa): `sAd = Cesl·sk`, Cesl = 2.0 recommended. Source: EN 1991-1-3 eq. 4.1.
#[must_use]
pub fn exceptional_ground(ground: f64, coefficient: f64) -> f64 {
    coefficient * ground
}

/// Loads on the two sides of a duo-pitch roof (Pa): undrifted, then each side in turn with half of it.
/// Source: EN 1991-1-3 §5.3.3, Fig. 5.3 cases (i) to (iii).
#[must_use]
pub fn duopitch_cases(left: f64, right: f64) -> [(f64, f64); 3] {
    [(left, right), (0.5 * left, right), (left, 0.5 * right)]
}

/// Shape coefficient of the lower roof beyond the drift: mu1 of a flat one. Source: EN 1991-1-3 §5.3.6, eq. 5.6.
pub const BESIDE_THE_DRIFT: f64 = 0.8;

/// Shape coefficient of what slides off a higher roof steeper than 15° (rad) of `run` m from eave to ridge: half of the most snow
/// on it. As a coefficient, 0.4, or as a load spread as a triangle over ls, 0.8·run/ls: the clause is read both ways; the larger.
/// Source: EN 1991-1-3 §5.3.6(1), §5.3.3: 0.8 is the most that lies on the slope.
///
/// # Errors
/// Where the step (m) is not more than zero.
pub fn sliding_onto_lower(slope: f64, run: f64, step: f64) -> Result<f64, FormulaError> {
    if step <= 0.0 {
        return Err(FormulaError::domain("the step between the roofs", "more than zero"));
    }
    if slope.to_degrees() <= 15.0 {
        return Ok(0.0);
    }
    Ok((0.5 * BESIDE_THE_DRIFT).max(BESIDE_THE_DRIFT * run / (2.0 * step).clamp(5.0, 15.0)))
}

/// A drift on a roof that lies against a taller building.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Drift {
    /// Shape coefficient of the wind-blown part, μw.
    pub blown: f64,
    /// Shape coefficient at the wall, μ2 = μs + μw.
    pub at_wall: f64,
    /// Length of the drift, m.
    pub length: f64,
}

/// The drift against a taller building: `μw = (b1 + b2)/2h`, at most γ·h/sk and between 0.8 and 4; length `2h`, 5 to 15 m.
/// `upper_width` b1 and `lower_width` b2 and `step` h in m, ground snow `sk` in Pa, `sliding` μs from the upper roof
/// (0 for upper slopes up to 15°). Snow weight γ is 2 kN/m³. Source: EN 1991-1-3 §5.3.6, eq. 5.7–5.9.
///
/// # Errors
/// Where the step or the ground snow load is not more than zero.
pub fn drift_against_taller(upper_width: f64, lower_width: f64, step: f64, ground: f64, sliding: f64) -> Result<Drift, FormulaError> {
    if step <= 0.0 || ground <= 0.0 {
        return Err(FormulaError::domain("the step between the roofs and the ground snow load", "more than zero"));
    }
    let blown = ((upper_width + lower_width) / (2.0 * step)).min(2000.0 * step / ground).clamp(0.8, 4.0);
    Ok(Drift { blown, at_wall: sliding + blown, length: (2.0 * step).clamp(5.0, 15.0) })
}

/// Exceptional drift behind a parapet of height `h`: `μ = min(2h/sk, 2b/ls, 8)` and its length `ls = min(5h, b, 15 m)`,
/// with h in m, b the larger roof width beside it (m), and sk in Pa (kN/m² in the formula).
/// Source: EN 1991-1-3 Annex B4 (from memory; it reproduces a printed pair).
///
/// # Errors
/// Where a number is not more than zero.
pub fn drift_behind_parapet(height: f64, width: f64, ground: f64) -> Result<(f64, f64), FormulaError> {
    if height <= 0.0 || width <= 0.0 || ground <= 0.0 {
        return Err(FormulaError::domain("the parapet's height, the roof's width and the ground snow load", "more than zero"));
    }
    let length = (5.0 * height).min(width).min(15.0);
    let shape = (2.0 * height / (ground / 1000.0)).min(2.0 * width / length).min(8.0);
    Ok((shape, length))
}

/// Weight of snow (N/m³) by its age. Source: EN 1991-1-3 Table E.1 (the means of its ranges).
#[must_use]
pub fn density(age: SnowAge) -> f64 {
    match age {
        SnowAge::Fresh => 1.0e3,
        SnowAge::Settled => 2.0e3,
        SnowAge::Old => 3.0e3,
        SnowAge::Wet => 4.0e3,
    }
}

/// How long the snow has lain. Source: EN 1991-1-3 Table E.1.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SnowAge {
    /// Just fallen.
    Fresh,
    /// Some hours or days old.
    Settled,
    /// Some weeks or months old.
    Old,
    /// Wet.
    Wet,
}
