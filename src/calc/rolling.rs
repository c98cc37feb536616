//! What it takes to roll the roof: wheels and bearings, flanges, grade, wind, acceleration.
//!
//! In: loads on the wheels, their dimensions and coefficients, grade, wind. Out: forces along the
//! travel. It must not know a drive, a place along the travel or a catalogue.
//!
//! The lever arm of rolling friction `f` is a *length* (half a millimetre for steel on steel), not a
//! coefficient; to take one for the other is the usual mistake by a factor of 25 or 1000.

use crate::calc::{FormulaError, check};

/// Gravity as the worked examples of drive engineering take it, m/s².
pub const GRAVITY: f64 = 9.81;

/// Air density (kg/m³) behind the 0.613 V² of wind standards (15 °C, sea level), halved.
const HALF_AIR_DENSITY: f64 = 0.613;

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
/// ((2/D)(μ d/2 + f)) · wedge + c. Source: the travelling-drive formula of drive makers' handbooks,
/// `F = m g [(2/D)(μ_L d/2 + f) + c]`; the wedge factor multiplies what the tread and the bearing
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

/// Rolling resistance, N, in the crane handbooks' form `W (2f + μd)/D · k`, in which a `factor` k
/// (1.5 to 2.5, from memory) stands for the flanges instead of a share of the load.
///
/// # Errors
/// As [`resistance_ratio`], or if the load is negative or the factor below 1.
pub fn resistance_with_factor(load: f64, wheel: &Wheel, factor: f64) -> Result<f64, FormulaError> {
    check::within("flange factor", factor, 1.0, f64::INFINITY, "1 or more")?;
    let load = check::not_negative("load on the wheels", load)?;
    Ok(load * tread_ratio(wheel)? * wedge(wheel)? * factor)
}

/// Rolling resistance, N, of a vehicle of the old pocketbooks: `(W + w) f + W F d/D`.
///
/// `body` and `wheels` are weights (N), `rolling` a coefficient here, `axle_friction` that of the
/// journal, `ratio` journal diameter over wheel diameter. Source: Molesworth, *Pocketbook of
/// Engineering Formulae*, p. 219.
///
/// # Errors
/// If one of the numbers is negative.
pub fn pocketbook_resistance(body: f64, wheels: f64, rolling: f64, axle_friction: f64, ratio: f64) -> Result<f64, FormulaError> {
    let body = check::not_negative("weight of the body", body)?;
    let wheels = check::not_negative("weight of the wheels", wheels)?;
    let rolling = check::not_negative("coefficient of rolling friction", rolling)?;
    let axle = check::not_negative("coefficient of axle friction", axle_friction)?;
    let ratio = check::not_negative("journal over wheel diameter", ratio)?;
    Ok((body + wheels) * rolling + body * axle * ratio)
}

/// Rolling resistance, N, of a castor or plain roller: load (N) times lever arm over wheel radius (m).
///
/// # Errors
/// If the load or lever arm is negative or the radius not above zero.
pub fn castor_resistance(load: f64, lever_arm: f64, radius: f64) -> Result<f64, FormulaError> {
    let load = check::not_negative("load on the wheels", load)?;
    let lever_arm = check::not_negative("lever arm of rolling friction", lever_arm)?;
    Ok(load * lever_arm / check::positive("wheel radius", radius)?)
}

/// Force down the slope, N, of `weight` (N) on a `grade` (rad); multiply a rolling resistance by
/// the cosine of the grade where that matters.
///
/// # Errors
/// If the weight is negative or the grade steeper than upright.
pub fn grade_force(weight: f64, grade: f64) -> Result<f64, FormulaError> {
    let upright = std::f64::consts::FRAC_PI_2;
    check::within("grade", grade, -upright, upright, "between −90° and 90°")?;
    Ok(check::not_negative("weight", weight)? * grade.sin())
}

/// Grade (rad) of a rise (m) over a level run (m).
///
/// # Errors
/// If the run is not above zero.
pub fn grade_angle(rise: f64, run: f64) -> Result<f64, FormulaError> {
    Ok(check::finite("rise", rise)?.atan2(check::positive("run", run)?))
}

/// Wind force along the travel, N, at a wind `speed` (m/s) on an `area` (m²) with a force
/// `coefficient`: `0.613 V² A C`. For operating winds; design winds come from the codes.
///
/// Source: dynamic pressure of air at 15 °C and sea level, as in ASCE 7 and ISO 4302.
///
/// # Errors
/// If one of the numbers is negative.
pub fn wind_force(speed: f64, area: f64, coefficient: f64) -> Result<f64, FormulaError> {
    let speed = check::not_negative("wind speed", speed)?;
    let area = check::not_negative("area in the wind", area)?;
    let coefficient = check::not_negative("force coefficient", coefficient)?;
    Ok(HALF_AIR_DENSITY * speed * speed * area * coefficient)
}

/// Largest force, N, that driven wheels pass to their rail: friction coefficient times the load (N)
/// on them. Steel on dry steel rail: 0.15.
///
/// # Errors
/// If one of the numbers is negative.
pub fn grip(friction: f64, load: f64) -> Result<f64, FormulaError> {
    let friction = check::not_negative("friction between wheel and rail", friction)?;
    Ok(friction * check::not_negative("load on the driven wheels", load)?)
}

/// Wheels of one make and what they carry together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WheelGroup {
    /// Load, N.
    pub load: f64,
    /// The wheel.
    pub wheel: Wheel,
}

/// What the drive has to overcome, term by term, N.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Traction {
    /// Wheels, bearings, flanges.
    pub rolling: f64,
    /// Up the grade.
    pub grade: f64,
    /// Against the wind.
    pub wind: f64,
    /// To speed up.
    pub acceleration: f64,
}

impl Traction {
    /// All together, N.
    #[must_use]
    pub fn total(&self) -> f64 {
        self.rolling + self.grade + self.wind + self.acceleration
    }
}

/// Traction on a steady grade (rad, positive uphill) against a `wind` force (N), speeding `mass` (kg)
/// up at `acceleration` (m/s²).
///
/// The wheel loads are taken as they are given: on the grades of a roof their cosine is 1.
///
/// # Errors
/// As [`resistance`] and [`grade_force`].
pub fn traction(groups: &[WheelGroup], grade: f64, wind: f64, mass: f64, acceleration: f64) -> Result<Traction, FormulaError> {
    let mut rolling = 0.0;
    let mut weight = 0.0;
    for group in groups {
        rolling += resistance(group.load, &group.wheel)?;
        weight += group.load;
    }
    Ok(Traction {
        rolling,
        grade: grade_force(weight, grade)?,
        wind: check::finite("wind force along the travel", wind)?,
        acceleration: check::not_negative("moving mass", mass)? * check::finite("acceleration", acceleration)?,
    })
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
