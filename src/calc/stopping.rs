//! Stopping a rolling roof: coast, energy at the stop, buffer stroke.
//!
//! In: speeds, masses, forces, inertias (SI). Out: distances, energies, forces.
//! It must not know where the stop stands; how the roof gets up to speed is a matter for the
//! motion formulas. Formulas are kinematics and the conservation of energy.

use crate::calc::{FormulaError, check};

/// Standard acceleration of free fall, m/s² (exact by definition, ISO 80000-3; NIST SP 811).
pub const STANDARD_GRAVITY: f64 = 9.806_65;

/// Distance from the signal to standstill, m: v t + v² / (2 a), for a `speed` (m/s), a `reaction`
/// time before anything slows it (s) and a `deceleration` (m/s²).
///
/// # Errors
/// If the speed or the time is negative, or the deceleration not above zero: it would never stop.
pub fn stopping_distance(speed: f64, reaction: f64, deceleration: f64) -> Result<f64, FormulaError> {
    check::not_negative("speed", speed)?;
    check::not_negative("reaction time", reaction)?;
    check::positive("deceleration", deceleration)?;
    Ok(speed * reaction + speed * speed / (2.0 * deceleration))
}

/// Deceleration of a coasting roof, m/s²: the `resistance` of rolling as a part of the weight
/// (dimensionless) plus the `slope` it climbs (rise over run; negative downhill), times g.
///
/// Zero or less means that the roof does not stop by itself.
///
/// # Errors
/// If the resistance is negative or the slope is not a number.
pub fn coasting_deceleration(resistance: f64, slope: f64) -> Result<f64, FormulaError> {
    check::not_negative("rolling resistance", resistance)?;
    check::finite("slope of the track", slope)?;
    let angle = slope.atan();
    Ok(STANDARD_GRAVITY * (resistance * angle.cos() + angle.sin()))
}

/// Deceleration, m/s², that a `force` (N: resistance, brake) gives to a `mass` (kg) with an
/// `equivalent` mass of turning parts (kg, [`equivalent_mass`]), which keeps on pushing.
///
/// # Errors
/// If the force or the equivalent mass is negative or the mass not above zero.
pub fn deceleration(force: f64, mass: f64, equivalent: f64) -> Result<f64, FormulaError> {
    check::not_negative("force that slows the roof", force)?;
    check::positive("mass of the roof", mass)?;
    check::not_negative("equivalent mass of turning parts", equivalent)?;
    Ok(force / (mass + equivalent))
}

/// Kinetic energy, J: ½ m v² (`mass` kg, `speed` m/s).
///
/// # Errors
/// If the mass or the speed is negative.
pub fn kinetic_energy(mass: f64, speed: f64) -> Result<f64, FormulaError> {
    check::not_negative("mass of the roof", mass)?;
    check::not_negative("speed", speed)?;
    Ok(0.5 * mass * speed * speed)
}

/// Mass, kg, that a rotor of `inertia` J (kg m²) adds to the roof through a gear of `ratio` i
/// (motor turns to pinion turns) and a pinion of `radius` r (m): J (i/r)².
///
/// # Errors
/// If the inertia is negative, or ratio or radius not above zero.
pub fn equivalent_mass(inertia: f64, ratio: f64, radius: f64) -> Result<f64, FormulaError> {
    check::not_negative("inertia of the motor", inertia)?;
    check::positive("gear ratio", ratio)?;
    check::positive("radius of the pinion", radius)?;
    Ok(inertia * (ratio / radius).powi(2))
}

/// Force at the rack, N, of a stalled motor: its `torque` (N·m) times `efficiency` and `ratio`
/// over the pinion `radius` (m).
///
/// # Errors
/// If the torque is negative, the efficiency not between 0 and 1, or ratio or radius not above
/// zero.
pub fn stall_force(torque: f64, efficiency: f64, ratio: f64, radius: f64) -> Result<f64, FormulaError> {
    check::not_negative("stall torque", torque)?;
    check::within("efficiency of the gear", efficiency, 0.0, 1.0, "between 0 and 1")?;
    check::positive("gear ratio", ratio)?;
    check::positive("radius of the pinion", radius)?;
    Ok(torque * efficiency * ratio / radius)
}

/// How a spring buffer takes the roof.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Buffer {
    /// How far it gives way, m.
    pub stroke: f64,
    /// Its greatest force, N.
    pub force: f64,
}

/// Stroke and greatest force of a spring buffer of `stiffness` (N/m) that catches `mass` (kg,
/// turning parts included) at `speed` (m/s) while the drive goes on pushing with `push` (N).
///
/// From ½ m v² + F x = ½ k x²: x = (F + √(F² + k m v²)) / k. The spring is taken as long enough.
///
/// # Errors
/// If the mass, speed or push is negative or the stiffness not above zero.
pub fn spring_buffer(mass: f64, speed: f64, stiffness: f64, push: f64) -> Result<Buffer, FormulaError> {
    check::not_negative("mass of the roof", mass)?;
    check::not_negative("speed", speed)?;
    check::positive("stiffness of the buffer", stiffness)?;
    check::not_negative("push of the drive", push)?;
    let force = push + (push * push + stiffness * mass * speed * speed).sqrt();
    Ok(Buffer { stroke: force / stiffness, force })
}
