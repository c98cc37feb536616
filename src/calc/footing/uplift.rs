//! Weight against the wind: what a footing and the soil on it hold down, and how deep it has to be.
//!
//! In: sizes, densities, wind uplift, dead load. Out: weights, what is left, margins.
//! It must not know the site. Source: statics; ASCE 7-16 §2.4.1, §2.3.1; EN 1990 Table A1.2(A); IBC 2018 §1809.

use std::f64::consts::PI;

use crate::calc::FormulaError;
use crate::calc::check::{not_negative, positive, within};
use crate::calc::inch_pound::PCF;

/// Weight density of concrete, N/m³: 150 pcf (common value in the United States).
pub const CONCRETE_US: f64 = 150.0 * PCF;
/// Weight density of reinforced concrete, N/m³. Source: EN 1991-1-1 Table A.1 (24 plain, 25 with steel).
pub const CONCRETE_EN: f64 = 25.0e3;

/// Volume of a round pier (m³).
#[must_use]
pub fn round_volume(diameter: f64, height: f64) -> f64 {
    PI / 4.0 * diameter * diameter * height
}

/// Weight (N) of the soil that stands on the part of a footing that sticks out around its stem: plan areas in m².
#[must_use]
pub fn overburden(footing_area: f64, stem_area: f64, cover: f64, soil_density: f64) -> f64 {
    (footing_area - stem_area).max(0.0) * cover.max(0.0) * soil_density
}

/// Weight (N) of the soil in the cone that a pulled footing lifts, beyond what stands on it: it widens upward by `spread`
/// (rad from the vertical; 20° to 30° is used in practice) from a round base of equal area. An option: many leave it out,
/// for frost and digging take it away; common practice, no source.
///
/// # Errors
/// Where the spread is not between 0° and 45° or a length is negative.
pub fn soil_cone(footing_area: f64, cover: f64, spread: f64, soil_density: f64) -> Result<f64, FormulaError> {
    within("the soil cone's spread", spread, 0.0, PI / 4.0, "between 0° and 45°")?;
    let h = not_negative("the soil's depth over the footing", cover)?;
    let r = (positive("the footing's area", footing_area)? / PI).sqrt();
    let top = r + h * spread.tan();
    let frustum = PI * h / 3.0 * (r * r + r * top + top * top);
    Ok((frustum - footing_area * h) * soil_density)
}

/// How the footing's own weight counts against uplift in allowable-stress design.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reading {
    /// 0.6 on all dead load, the footing included: the words of ASCE 7-16 §2.4.1(7), and the safe reading.
    FactorEverything,
    /// 0.6 on the structure, the footing in full: some engineers' reading, for its weight is known well.
    FootingInFull,
}

/// Which code's combination holds the footing down.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Code {
    /// 0.6·D against 0.6·W. Source: ASCE 7-16 §2.4.1(7).
    Asd(Reading),
    /// 0.9·D against 1.0·W. Source: ASCE 7-16 §2.3.1(5).
    Strength,
    /// 0.9·G against 1.5·W. Source: EN 1990 Table A1.2(A), eq. 6.10.
    Eurocode,
}

/// Demand (the wind's pull, factored) and capacity (the weights, factored), N. It holds while demand ≤ capacity.
#[must_use]
pub fn uplift(code: Code, wind: f64, structure: f64, footing: f64) -> (f64, f64) {
    match code {
        Code::Asd(Reading::FactorEverything) => (0.6 * wind, 0.6 * (structure + footing)),
        Code::Asd(Reading::FootingInFull) => (0.6 * wind, 0.6 * structure + footing),
        Code::Strength => (wind, 0.9 * (structure + footing)),
        Code::Eurocode => (1.5 * wind, 0.9 * (structure + footing)),
    }
}

/// How far (m) a footing's underside is below the frost; negative where it is not deep enough. The frost depth is the local
/// authority's. Source: IBC 2018 §1809.5 (below the frost line, unless on rock or specially protected).
#[must_use]
pub fn below_frost(depth: f64, frost: f64) -> f64 {
    depth - frost
}

/// Least depth (m) of a footing's underside below undisturbed ground, frost or not: 12 in. Source: IBC 2018 §1809.4.
pub const LEAST_DEPTH: f64 = 0.3048;
