//! Withdrawal of lag screws, wood screws and nails by the NDS.
//!
//! In: specific gravity of the wood, diameter, lengths. Out: load for each metre of penetration, penetration, load.
//! It must not know how long the load lasts (`adjustment`). Source: NDS 2018 §12.2.

use super::dowel_bearing::specific_gravity;
use crate::calc::FormulaError;
use crate::calc::check::{not_negative, positive};
use crate::calc::inch_pound::{INCH, POUND};

const POUND_PER_INCH: f64 = POUND / INCH;

/// Lag screw in side grain (N for each m of thread in the main member): `1800·G^(3/2)·D^(3/4)` lb/in.
/// Source: NDS 2018 eq. 12.2-1.
///
/// # Errors
/// Where a number is not more than zero.
pub fn lag_screw(gravity: f64, diameter: f64) -> Result<f64, FormulaError> {
    let (g, d) = (specific_gravity(gravity)?, positive("the diameter", diameter)? / INCH);
    Ok(1800.0 * g.powf(1.5) * d.powf(0.75) * POUND_PER_INCH)
}

/// Wood screw in side grain (N for each m of thread in the main member): `2850·G²·D` lb/in.
/// Source: NDS 2018 eq. 12.2-2.
///
/// # Errors
/// Where a number is not more than zero.
pub fn wood_screw(gravity: f64, diameter: f64) -> Result<f64, FormulaError> {
    let (g, d) = (specific_gravity(gravity)?, positive("the diameter", diameter)? / INCH);
    Ok(2850.0 * g * g * d * POUND_PER_INCH)
}

/// Smooth nail in side grain (N for each m in the main member): `1380·G^(5/2)·D` lb/in. Source: NDS 2018 eq. 12.2-3.
///
/// # Errors
/// Where a number is not more than zero.
pub fn nail(gravity: f64, diameter: f64) -> Result<f64, FormulaError> {
    let (g, d) = (specific_gravity(gravity)?, positive("the diameter", diameter)? / INCH);
    Ok(1380.0 * g.powf(2.5) * d * POUND_PER_INCH)
}

/// Lag screws in end grain hold three quarters of that: end grain factor Ceg for withdrawal.
/// Source: NDS 2018 §12.2.1, §12.5.2.
pub const END_GRAIN_LAG: f64 = 0.75;

/// Thread of a standard lag screw, m: half the length plus ½ in, at most 6 in; all of it where that is longer.
/// Source: NDS 2018 Appendix L, Table L2.
#[must_use]
pub fn lag_thread_length(length: f64) -> f64 {
    (0.5 * length + 0.5 * INCH).min(6.0 * INCH).min(length)
}

/// Thread that holds in the main member (m): the part of the thread, without the tapered tip, that lies in it.
/// `length` is the screw's under the head, `outside` what it crosses before the main member (washer, bracket, side member),
/// `main` the main member's thickness along the screw. Source: NDS 2018 §12.2.1 ("not including
/// the length of the tapered tip").
///
/// # Errors
/// Where a length is out of range.
pub fn thread_in_main(length: f64, outside: f64, thread: f64, tip: f64, main: f64) -> Result<f64, FormulaError> {
    let length = positive("the screw's length", length)?;
    let outside = not_negative("what the screw crosses first", outside)?;
    let from_head = length - positive("the thread's length", thread)?.min(length);
    let end = (length - not_negative("the tapered tip", tip)?).min(outside + positive("the main member's thickness", main)?);
    Ok((end - outside.max(from_head)).max(0.0))
}

/// Load (N) that pulls the screw apart at its root, at an allowable stress of half the tensile strength (Pa).
/// Source: NDS 2018 §12.2.1 asks for the check; AISC 360-16 §D2 (rupture, Ω 2.00) gives the stress.
#[must_use]
pub fn shank_tension(tensile_strength: f64, root_diameter: f64) -> f64 {
    0.5 * tensile_strength * std::f64::consts::PI / 4.0 * root_diameter * root_diameter
}
