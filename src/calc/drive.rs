//! From the motor's shaft to the rack, and what is left for a person's arms.
//!
//! In: torque, gear ratio, efficiency, pinion diameter, speeds. Out: pull at the rack, torque, power.
//! It must not know a rack's teeth (`gear`), nor how the roof moves (`motion`). The pull of a stalled
//! motor is in [`crate::calc::stopping::stall_force`].
//!
//! Source: mechanics: `T = F d / (2η)`, `P = F v / η`,
//! `n = v / (π d)`, `M = P / ω` (`9550 P / n` with kW and 1/min).

use std::f64::consts::PI;

use crate::calc::{FormulaError, check};

/// Pull at the rack, N, of a motor's `torque` (N·m) through a gear of `ratio` and `efficiency` (0 to 1)
/// on a pinion of pitch `diameter` (m).
///
/// # Errors
/// If the torque is negative, the efficiency not between 0 and 1, ratio or diameter not above zero.
pub fn pull(torque: f64, ratio: f64, efficiency: f64, diameter: f64) -> Result<f64, FormulaError> {
    let torque = check::not_negative("torque of the motor", torque)?;
    let ratio = check::positive("gear ratio", ratio)?;
    Ok(2.0 * torque * ratio * efficient(efficiency)? / pinion(diameter)?)
}

/// Torque on the pinion's shaft, N·m, for a `pull` (N) at the rack: `F d / (2η)`, η the efficiency of
/// the mesh.
///
/// # Errors
/// If the pull is negative, the efficiency not between 0 and 1 or the diameter not above zero.
pub fn pinion_torque(pull: f64, diameter: f64, efficiency: f64) -> Result<f64, FormulaError> {
    let pull = check::not_negative("pull", pull)?;
    Ok(pull * pinion(diameter)? / (2.0 * efficient(efficiency)?))
}

/// Power, W, that the motor gives for a `pull` (N) at a `speed` (m/s): `F v / η`.
///
/// # Errors
/// If pull or speed is negative or the efficiency not between 0 and 1.
pub fn power(pull: f64, speed: f64, efficiency: f64) -> Result<f64, FormulaError> {
    let pull = check::not_negative("pull", pull)?;
    let speed = check::not_negative("speed", speed)?;
    Ok(pull * speed / efficient(efficiency)?)
}

/// Turns of the pinion in a second, 1/s, for a `speed` (m/s) of the rack.
///
/// # Errors
/// If the speed is negative or the diameter not above zero.
pub fn turns(speed: f64, diameter: f64) -> Result<f64, FormulaError> {
    Ok(check::not_negative("speed", speed)? / (PI * pinion(diameter)?))
}

/// Speed of the rack, m/s, for the `turns` of the pinion in a second (1/s).
///
/// # Errors
/// If the turns are negative or the diameter not above zero.
pub fn speed(turns: f64, diameter: f64) -> Result<f64, FormulaError> {
    Ok(check::not_negative("turns of the pinion", turns)? * PI * pinion(diameter)?)
}

/// Force, N, that a person needs to get the roof moving with the drive disengaged: rolling
/// `resistance` (N) times `breakaway` (its ratio at rest, 1 or more), plus what wind and grade
/// push against (`against`, N, negative if they help), plus the `drag` (N) of a gear that cannot be
/// disengaged.
///
/// # Errors
/// If resistance or drag is negative or the breakaway factor below 1.
pub fn hand_force(resistance: f64, breakaway: f64, against: f64, drag: f64) -> Result<f64, FormulaError> {
    let resistance = check::not_negative("rolling resistance", resistance)?;
    let needs = "1 or more";
    check::within("ratio of resistance at rest", breakaway, 1.0, f64::INFINITY, needs)?;
    let against = check::finite("push of wind and grade", against)?;
    let drag = check::not_negative("drag of the gear", drag)?;
    Ok((resistance * breakaway + against + drag).max(0.0))
}

fn efficient(efficiency: f64) -> Result<f64, FormulaError> {
    if efficiency > 0.0 && efficiency <= 1.0 {
        Ok(efficiency)
    } else {
        Err(FormulaError::domain("efficiency", "more than 0 and at most 1"))
    }
}

fn pinion(diameter: f64) -> Result<f64, FormulaError> {
    check::positive("pitch diameter of the pinion", diameter)
}
