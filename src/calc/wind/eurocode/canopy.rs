//! EN 1991-1-4 7.3: overall force coefficients of canopies, roofs without permanent walls.
//!
//! In: pitch (rad), degree of blockage. Out: cf, top and underside together, downwards positive.
//! It must not know where the force acts: that is in [`crate::calc::wind::roof_uplift`]. A roll-off
//! roof standing on its outrigger tracks is a canopy.

use crate::calc::wind::table::{degrees, interpolate};
use crate::calc::{FormulaError, check};

/// Steepest pitch of the tables, degrees.
pub const STEEPEST_DEGREES: f64 = 30.0;

/// Pitch below which a gable canopy has no values of its own, degrees.
pub const FIRST_DUOPITCH_DEGREES: f64 = 5.0;

/// Net coefficient of a free-standing vertical face (fascia, gable end) of a canopy: zone D of
/// Table 7.9, solidity 1. Shelter of one face by another is neglected.
pub const VERTICAL_FACE: f64 = 1.2;

/// The greatest and the least overall force coefficient.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Extremes {
    /// cf max: downwards.
    pub down: f64,
    /// cf min: upwards, below zero.
    pub up: f64,
}

/// cf of a mono-pitch (or flat) canopy of `pitch` rad with `blockage` φ, 0 (empty) to 1 (blocked
/// to the downwind eaves). EN 1991-1-4 Table 7.6; straight-line between pitches and in φ.
///
/// # Errors
/// If the pitch is not between 0 and 30 degrees, or the blockage not between 0 and 1.
pub fn monopitch(pitch: f64, blockage: f64) -> Result<Extremes, FormulaError> {
    let at = pitch_in_table(pitch)?;
    let read = |row: [f64; 7]| interpolate([0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0], row, at);
    extremes(
        read([0.2, 0.4, 0.5, 0.7, 0.8, 1.0, 1.2]),
        read([-0.5, -0.7, -0.9, -1.1, -1.3, -1.6, -1.8]),
        read([-1.3, -1.4, -1.4, -1.4, -1.4, -1.4, -1.4]),
        blockage,
    )
}

/// cf of a gable canopy, arguments as in [`monopitch`]. EN 1991-1-4 Table 7.7, which begins at
/// 5 degrees; below that Table 7.6 is used.
///
/// # Errors
/// If the pitch is not between 0 and 30 degrees, or the blockage not between 0 and 1.
pub fn duopitch(pitch: f64, blockage: f64) -> Result<Extremes, FormulaError> {
    let at = pitch_in_table(pitch)?;
    if at < FIRST_DUOPITCH_DEGREES {
        return monopitch(pitch, blockage);
    }
    duopitch_table(at, blockage)
}

/// cf of a trough (a gable upside down) of `pitch` rad, 5 to 20 degrees, arguments as in
/// [`monopitch`]. EN 1991-1-4 Table 7.7, negative pitches.
///
/// # Errors
/// If the pitch is not between 5 and 20 degrees, or the blockage not between 0 and 1.
pub fn trough(pitch: f64, blockage: f64) -> Result<Extremes, FormulaError> {
    let at = check::within("pitch", degrees(pitch), 5.0, 20.0, "between 5 and 20 degrees")?;
    duopitch_table(-at, blockage)
}

fn duopitch_table(at: f64, blockage: f64) -> Result<Extremes, FormulaError> {
    let heads = [-20.0, -15.0, -10.0, -5.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0];
    let read = |row: [f64; 10]| interpolate(heads, row, at);
    extremes(
        read([0.7, 0.5, 0.4, 0.3, 0.3, 0.4, 0.4, 0.6, 0.7, 0.9]),
        read([-0.7, -0.6, -0.6, -0.5, -0.6, -0.7, -0.8, -0.9, -1.0, -1.0]),
        read([-1.3, -1.4, -1.4, -1.3, -1.3, -1.3, -1.3, -1.3, -1.3, -1.3]),
        blockage,
    )
}

fn pitch_in_table(pitch: f64) -> Result<f64, FormulaError> {
    check::within("pitch", degrees(pitch), 0.0, STEEPEST_DEGREES, "between 0 and 30 degrees")
}

fn extremes(down: f64, up_empty: f64, up_blocked: f64, blockage: f64) -> Result<Extremes, FormulaError> {
    check::within("blockage under the roof", blockage, 0.0, 1.0, "between 0 and 1")?;
    Ok(Extremes { down, up: interpolate([0.0, 1.0], [up_empty, up_blocked], blockage) })
}
