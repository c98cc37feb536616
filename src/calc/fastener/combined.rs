//! A fastener pulled out and pushed sideways at once, by the NDS.
//!
//! In: adjusted withdrawal and lateral values, the direction of the load. Out: the load that they allow together.
//! It must not know how the values came about. Source: NDS 2018 §12.4.

use std::f64::consts::FRAC_PI_2;

use crate::calc::FormulaError;
use crate::calc::check::{not_negative, positive, within};

/// How much is used of a joint that holds nothing of what pulls or pushes it: more than any joint is, for there is no number for it.
/// Common practice, no source.
pub const HOLDS_NOTHING: f64 = 65_535.0;

/// Allowable load (N) of a lag or wood screw at an angle α (rad) between the wood's surface and the load:
/// `Z′α = W′p·Z′/(W′p·cos²α + Z′·sin²α)`. α = 0 pushes sideways, 90° pulls straight out. Source: NDS 2018 eq. 12.4-1.
///
/// # Errors
/// Where a value is not more than zero or the angle beyond 0° to 90°.
pub fn screw(withdrawal: f64, lateral: f64, angle: f64) -> Result<f64, FormulaError> {
    let (w, z) = (positive("the withdrawal value", withdrawal)?, positive("the lateral value", lateral)?);
    let (sin, cos) = within("the load's angle to the surface", angle, 0.0, FRAC_PI_2 + 1e-9, "between 0° and 90°")?.sin_cos();
    Ok(w * z / (w * cos * cos + z * sin * sin))
}

/// Allowable load (N) of a nail at an angle α (rad): `Z′α = W′p·Z′/(W′p·cosα + Z′·sinα)`. Source: NDS 2018 eq. 12.4-2.
///
/// # Errors
/// Where a value is not more than zero or the angle beyond 0° to 90°.
pub fn nail(withdrawal: f64, lateral: f64, angle: f64) -> Result<f64, FormulaError> {
    let (w, z) = (positive("the withdrawal value", withdrawal)?, positive("the lateral value", lateral)?);
    let (sin, cos) = within("the load's angle to the surface", angle, 0.0, FRAC_PI_2 + 1e-9, "between 0° and 90°")?.sin_cos();
    Ok(w * z / (w * cos + z * sin))
}

/// Ratio of a screw under a pull and a push (N): the resultant over its allowable load at its angle.
///
/// # Errors
/// Where a number is out of range.
pub fn screw_ratio(pull: f64, push: f64, withdrawal: f64, lateral: f64) -> Result<f64, FormulaError> {
    let (pull, push) = (not_negative("the pull", pull)?, not_negative("the push", push)?);
    Ok(pull.hypot(push) / screw(withdrawal, lateral, pull.atan2(push))?)
}

/// Ratio of a nail under a pull and a push (N).
///
/// # Errors
/// Where a number is out of range.
pub fn nail_ratio(pull: f64, push: f64, withdrawal: f64, lateral: f64) -> Result<f64, FormulaError> {
    let (pull, push) = (not_negative("the pull", pull)?, not_negative("the push", push)?);
    Ok(pull.hypot(push) / nail(withdrawal, lateral, pull.atan2(push))?)
}
