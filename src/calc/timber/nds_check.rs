//! Stresses in sawn beams and what a bearing or a notch leaves of them, by the NDS.
//!
//! In: forces, sections, adjusted design values. Out: stresses, strengths. It must not know how a force came about.

use super::section::Rectangle;
use crate::calc::FormulaError;
use crate::calc::check::{not_negative, positive};
use crate::calc::inch_pound::INCH;

/// Bending stress (Pa) for a moment (N·m): M/S. Source: NDS 2018 eq. 3.3-2.
#[must_use]
pub fn bending_stress(moment: f64, section: Rectangle) -> f64 {
    moment.abs() / section.modulus()
}

/// Shear stress (Pa) for a shear (N): 3V/2bd. Source: NDS 2018 eq. 3.4-2.
#[must_use]
pub fn shear_stress(shear: f64, section: Rectangle) -> f64 {
    1.5 * shear.abs() / section.area()
}

/// Largest shear (N) of a beam notched on its tension side at the support, `left` (m) of the depth remaining:
/// `V′ = (2/3·F′v·b·dn)·(dn/d)²`. Source: NDS 2018 §3.4.3.2, eq. 3.4-3.
///
/// # Errors
/// Where the remaining depth is more than the depth, or nothing.
pub fn notched_shear_capacity(shear: f64, section: Rectangle, left: f64) -> Result<f64, FormulaError> {
    positive("the depth left at the notch", left)?;
    if left > section.depth {
        return Err(FormulaError::domain("the depth left at the notch", "less than the beam's depth"));
    }
    Ok(2.0 / 3.0 * shear * section.breadth * left * (left / section.depth).powi(2))
}

/// Bearing area factor Cb for a bearing of `length` along the grain (m): `(lb + 0.375 in)/lb` for bearings shorter than
/// 6 in and at least 3 in from the member's end, else 1. For a washer the length is its diameter.
/// Source: NDS 2018 §3.10.4, eq. 3.10-2.
///
/// # Errors
/// Where the length is not more than zero.
pub fn bearing_area_factor(length: f64, from_end: f64) -> Result<f64, FormulaError> {
    let length = positive("the bearing length", length)?;
    let short_and_inside = length < 6.0 * INCH && from_end >= 3.0 * INCH - 1e-9;
    Ok(if short_and_inside { (length + 0.375 * INCH) / length } else { 1.0 })
}

/// Long-term deflection (m): `ΔT = Kcr·ΔLT + ΔST`, from the immediate deflections under the lasting and the passing load;
/// Kcr 1.5 for seasoned lumber used dry, 2.0 for unseasoned lumber or wet use. Source: NDS 2018 §3.5.2, eq. 3.5-1.
///
/// # Errors
/// Where a deflection is not a number of at least zero.
pub fn long_term_deflection(lasting: f64, passing: f64, wet: bool) -> Result<f64, FormulaError> {
    let lasting = not_negative("the deflection under lasting load", lasting)?;
    let passing = not_negative("the deflection under passing load", passing)?;
    Ok(if wet { 2.0 } else { 1.5 } * lasting + passing)
}
