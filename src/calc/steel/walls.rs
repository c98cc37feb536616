//! Walls too thin to use the whole section.
//!
//! In: widths and thicknesses, steel. Out: whether a wall is slender. It must not know what to do then: the formulas here
//! and in `column` hold only for sections that are not slender.

use crate::calc::FormulaError;
use crate::calc::check::positive;

/// A plate of the section and how it is held.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wall {
    /// Wall of a rectangular tube, flat width over thickness.
    Tube,
    /// Round tube, diameter over thickness.
    Round,
    /// Leg of a single angle, leg over thickness.
    Leg,
    /// Flange of a channel or an I, width beyond the web over thickness.
    Flange,
}

/// Width-to-thickness ratio over the limit beyond which a wall in compression or bending is slender or noncompact enough
/// to buckle before it yields: 1.40√(E/Fy) for tube walls in compression, 0.11E/Fy for round tubes, 0.45√(E/Fy) for single
/// angles, 0.56√(E/Fy) for flanges. More than 1 is slender. Source: AISC 360-16 Table B4.1a.
///
/// # Errors
/// Where a number is not more than zero.
pub fn aisc_ratio(wall: Wall, width_to_thickness: f64, yield_stress: f64, elasticity: f64) -> Result<f64, FormulaError> {
    let r = positive("the modulus of elasticity", elasticity)? / positive("the yield stress", yield_stress)?;
    let limit = match wall {
        Wall::Tube => 1.40 * r.sqrt(),
        Wall::Round => 0.11 * r,
        Wall::Leg => 0.45 * r.sqrt(),
        Wall::Flange => 0.56 * r.sqrt(),
    };
    Ok(width_to_thickness / limit)
}

/// Width-to-thickness ratio over the class 3 limit in compression: 42ε for tube walls, 90ε² for round tubes, 15ε for the
/// leg of an angle, 14ε for flanges, ε = √(235 MPa/fy). More than 1 is class 4. Source: EN 1993-1-1 Table 5.2.
///
/// # Errors
/// Where the yield stress is not more than zero.
pub fn en_ratio(wall: Wall, width_to_thickness: f64, yield_stress: f64) -> Result<f64, FormulaError> {
    let square = 235.0e6 / positive("the yield stress", yield_stress)?;
    let limit = match wall {
        Wall::Tube => 42.0 * square.sqrt(),
        Wall::Round => 90.0 * square,
        Wall::Leg => 15.0 * square.sqrt(),
        Wall::Flange => 14.0 * square.sqrt(),
    };
    Ok(width_to_thickness / limit)
}
