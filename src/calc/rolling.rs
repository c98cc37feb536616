//! What it takes to roll the roof: wheels and bearings, flanges, grade, wind, acceleration.
//!
//! In: loads on the wheels, their dimensions and coefficients, grade, wind. Out: forces along the
//! travel. It must not know a drive, a place along the travel or a catalogue.
//!
//! The lever arm of rolling friction `f` is a *length* (half a millimetre for steel on steel), not a
//! coefficient; to take one for the other is the usual mistake by a factor of 25 or 1000.

use crate::calc::{FormulaError, check};

/// The wedge factor of a tread that is flat: its one line of contact carries the load. Source: statics.
pub const FLAT_TREAD: f64 = 1.0;

/// A running wheel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wheel {
    /// Diameter on which it rolls, m.
    pub tread_diameter: f64,
    /// Diameter on which its bearing rubs or rolls, m.
    pub bearing_diameter: f64,
    /// Lever arm of rolling friction between wheel and rail, m.
    pub lever_arm: f64,
    /// Coefficient of friction of the bearing.
    pub bearing_friction: f64,
    /// Share of the load for rims, flanges or guide rollers.
    pub flange: f64,
    /// Sum of the flank forces over the load: 1 for a flat tread, more for a vee (see
    /// [`crate::calc::vee::wedge_factor`]).
    pub wedge: f64,
}

/// Resistance of a wheel over the load on it.
///
/// ((2/D)(μ d/2 + f)) · wedge + c. Source: statics, the moments about the axle, with a share c for the rims (common
/// practice, no source); the wedge factor multiplies what the tread and the bearing
/// carry, not the flange term (engineering use of the wedge, no source).
///
/// # Errors
/// If a diameter is not above zero, the axle thicker than the wheel, a coefficient or the lever arm beyond what there is, or the
/// wedge factor below 1.
pub fn resistance_ratio(wheel: &Wheel) -> Result<f64, FormulaError> {
    Ok(tread_ratio(wheel)? * wedge(wheel)? + check::within("flange share", wheel.flange, 0.0, 1.0, "a part of the load, from 0 to 1")?)
}

/// Rolling resistance, N, of wheels that carry `load` (N) together. Their number does not matter.
///
/// # Errors
/// As [`resistance_ratio`], or if the load is negative.
pub fn resistance(load: f64, wheel: &Wheel) -> Result<f64, FormulaError> {
    Ok(check::not_negative("load on the wheels", load)? * resistance_ratio(wheel)?)
}

fn tread_ratio(wheel: &Wheel) -> Result<f64, FormulaError> {
    let tread = check::positive("wheel diameter", wheel.tread_diameter)?;
    let bearing = check::not_negative("bearing diameter", wheel.bearing_diameter)?;
    check::within("bearing or axle diameter", bearing, 0.0, tread, "no larger than the wheel")?;
    let needs = "a length from 0.01 mm to 25 mm: half a millimetre for steel on steel";
    let lever_arm = check::within("lever arm of rolling friction", wheel.lever_arm, 1e-5, 0.025, needs)?;
    let needs = "a coefficient from 0 to 1: 0.005 for ball bearings, 0.1 for plain ones";
    let friction = check::within("bearing friction", wheel.bearing_friction, 0.0, 1.0, needs)?;
    Ok(2.0 / tread * (friction * bearing / 2.0 + lever_arm))
}

fn wedge(wheel: &Wheel) -> Result<f64, FormulaError> {
    check::within("wedge factor", wheel.wedge, 1.0, f64::INFINITY, "1 or more")
}
