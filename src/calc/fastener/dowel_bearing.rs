//! Dowel bearing strength: how hard a fastener can press on the wood or steel beside it.
//!
//! In: specific gravity, diameter, angle to the grain; or the steel's strength. Out: Fe, Pa.
//! It must not know the joint. Source: NDS 2018 §12.3.3, Table 12.3.3.

use crate::calc::FormulaError;
use crate::calc::check::{positive, within};
use crate::calc::inch_pound::{INCH, PSI};

/// Below this nominal diameter (m) the grain does not matter: ¼ in.
pub const LARGE: f64 = 0.25 * INCH;

/// Whether the grain's direction matters for this diameter (m).
#[must_use]
pub fn is_large(diameter: f64) -> bool {
    diameter >= LARGE - 1e-9
}

/// The specific gravity of a wood, if it is one: the lightest of NDS 2018 Table 12.3.3A has 0.31, the heaviest 0.73.
///
/// # Errors
/// Where it is less than 0.2 or more than 1.
pub(super) fn specific_gravity(gravity: f64) -> Result<f64, FormulaError> {
    within("the specific gravity", gravity, 0.2, 1.0, "that of a wood, from 0.2 to 1: 0.5 for Douglas fir-larch")
}

/// Fe (Pa) for a load at an angle θ (rad) to the grain, nominal diameter in m:
/// D ≥ ¼ in: 11200·G along, 6100·G^1.45/√D across, Hankinson between; D < ¼ in: 16600·G^1.84.
/// A fastener in end grain presses across the grain (§12.3.3.4). Source: NDS 2018 Table 12.3.3, eq. 12.3-11.
///
/// # Errors
/// Where a number is not more than zero.
pub fn wood(gravity: f64, diameter: f64, angle: f64) -> Result<f64, FormulaError> {
    let (g, d) = (specific_gravity(gravity)?, positive("the diameter", diameter)?);
    if !is_large(d) {
        return Ok(16_600.0 * g.powf(1.84) * PSI);
    }
    let along = 11_200.0 * g;
    let across = 6_100.0 * g.powf(1.45) / (d / INCH).sqrt();
    let (sin, cos) = angle.sin_cos();
    Ok(along * across / (along * sin * sin + across * cos * cos) * PSI)
}

/// Fe (Pa) of hot-rolled steel: 1.5·Fu (87,000 psi for A36). Source: NDS 2018 Appendix I.2.
#[must_use]
pub fn hot_rolled_steel(tensile_strength: f64) -> f64 {
    1.5 * tensile_strength
}

/// Fe (Pa) of cold-formed steel: 1.375·Fu (61,850 psi for A653 grade 33). Source: NDS 2018 Appendix I.2.
#[must_use]
pub fn cold_formed_steel(tensile_strength: f64) -> f64 {
    1.375 * tensile_strength
}
