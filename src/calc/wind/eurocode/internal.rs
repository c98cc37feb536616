//! EN 1991-1-4 7.2.9: the pressure inside a building.
//!
//! In: openings. Out: internal pressure coefficients cpi, outwards on the roof when positive.
//! It must not know the roof.

use crate::calc::wind::table::interpolate;
use crate::calc::{FormulaError, check};

/// Both values to be taken where the openings are not known: the worse of +0.2 and -0.3.
/// EN 1991-1-4 7.2.9(6) note 2.
pub const UNKNOWN: [f64; 2] = [0.2, -0.3];

/// cpi of a building without a dominant face, from the opening ratio μ: the openings where the
/// outside pressure is zero or below, over all openings (0 to 1).
///
/// EN 1991-1-4 7.2.9(6), Figure 7.13: +0.35 up to μ = 0.33, falling straight to -0.3 at 0.90 where
/// `height_to_depth` h/d is at most 0.25, and to -0.5 at 0.95 where it is above 1.0; between the
/// two straight-line in h/d.
///
/// # Errors
/// If μ is not between 0 and 1, or h/d not above zero.
pub fn by_opening_ratio(opening_ratio: f64, height_to_depth: f64) -> Result<f64, FormulaError> {
    check::within("opening ratio", opening_ratio, 0.0, 1.0, "between 0 and 1")?;
    check::positive("height to depth of the building", height_to_depth)?;
    let low = interpolate([0.33, 0.90], [0.35, -0.3], opening_ratio);
    let tall = interpolate([0.33, 0.95], [0.35, -0.5], opening_ratio);
    Ok(interpolate([0.25, 1.0], [low, tall], height_to_depth))
}

/// cpi of a building with a dominant face: one whose openings are at least twice all the others.
///
/// `face_coefficient` is cpe at the openings of that face; `dominance` is their area over the area
/// of all other openings. 0.75 cpe at twice, 0.90 cpe at three times or more, straight-line
/// between. EN 1991-1-4 7.2.9(5), (7.1) and (7.2). A half-open roof is such a face.
///
/// # Errors
/// If the openings of the face are less than twice the others, so that it does not dominate.
pub fn of_dominant_face(face_coefficient: f64, dominance: f64) -> Result<f64, FormulaError> {
    check::finite("pressure coefficient of the open face", face_coefficient)?;
    if dominance.is_nan() || dominance < 2.0 {
        return Err(FormulaError::domain("openings of the dominant face", "at least twice all other openings together"));
    }
    Ok(face_coefficient * interpolate([2.0, 3.0], [0.75, 0.90], dominance))
}
