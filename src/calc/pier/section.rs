//! Area and second moment of area of the sections that piers are made of.
//!
//! In: outside sizes and wall thickness in m. Out: a [`Section`].
//! It must not know materials or standard pipe sizes: those stand in the catalogues.

use std::f64::consts::PI;

use crate::calc::FormulaError;
use crate::calc::check::positive;

/// A cross-section that bends about an axis through its centre.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Section {
    /// Area of the material, m².
    pub area: f64,
    /// Second moment of area about the bending axis, m⁴.
    pub second_moment: f64,
}

impl Section {
    /// Two sections sharing one axis and bending together, as steel and its concrete filling do.
    /// Only for the same material; for two materials add E·I of each instead.
    #[must_use]
    pub fn joined(self, other: Self) -> Self {
        Self { area: self.area + other.area, second_moment: self.second_moment + other.second_moment }
    }
}

/// Round pipe from its outside diameter (m) and wall thickness (m), nominal sizes.
///
/// `A = π/4 (D² − d²)`, `I = π/64 (D⁴ − d⁴)`. The handbook tables for ASME B36.10 pipe use the nominal
/// wall; structural tables for the same pipe use 0.93 of it and give about 6 % less.
///
/// # Errors
/// When a size is not positive or the wall does not fit into the diameter.
///
/// Source: mechanics of materials; checked against ASME B36.10 pipe properties.
pub fn pipe(outside_diameter: f64, wall: f64) -> Result<Section, FormulaError> {
    positive("the outside diameter of the pipe", outside_diameter)?;
    positive("the wall of the pipe", wall)?;
    if 2.0 * wall > outside_diameter {
        return Err(FormulaError::domain("the wall of the pipe", "at most half its diameter"));
    }
    let inside = outside_diameter - 2.0 * wall;
    Ok(Section {
        area: PI / 4.0 * (outside_diameter.powi(2) - inside.powi(2)),
        second_moment: PI / 64.0 * (outside_diameter.powi(4) - inside.powi(4)),
    })
}

/// Solid round section from its diameter (m): `A = π D²/4`, `I = π D⁴/64`.
///
/// # Errors
/// When the diameter is not positive.
pub fn round(diameter: f64) -> Result<Section, FormulaError> {
    positive("the diameter", diameter)?;
    Ok(Section { area: PI / 4.0 * diameter.powi(2), second_moment: PI / 64.0 * diameter.powi(4) })
}

/// Solid rectangle, `depth` (m) in the plane of bending and `width` (m) across it: `I = b h³/12`.
///
/// # Errors
/// When a side is not positive.
pub fn rectangle(depth: f64, width: f64) -> Result<Section, FormulaError> {
    positive("the depth of the section", depth)?;
    positive("the width of the section", width)?;
    Ok(Section { area: depth * width, second_moment: width * depth.powi(3) / 12.0 })
}

/// Square tube from its outside side (m) and wall (m), corners taken as sharp: `I = (a⁴ − b⁴)/12`.
/// Rounded corners cost a few per cent of that.
///
/// # Errors
/// When a size is not positive or the wall does not fit into the side.
pub fn square_tube(side: f64, wall: f64) -> Result<Section, FormulaError> {
    positive("the side of the tube", side)?;
    positive("the wall of the tube", wall)?;
    if 2.0 * wall > side {
        return Err(FormulaError::domain("the wall of the tube", "at most half its side"));
    }
    let inside = side - 2.0 * wall;
    Ok(Section { area: side.powi(2) - inside.powi(2), second_moment: (side.powi(4) - inside.powi(4)) / 12.0 })
}
