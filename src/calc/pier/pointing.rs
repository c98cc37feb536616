//! What a gust or a push does to the picture: tilt of the telescope against the scale of the image.
//!
//! In: forces in N, stiffnesses, the camera's pixel and the focal length in m. Out: angles in rad.
//! It must not decide how much is too much.
//!
//! Only tilt counts: a pier top that shifts sideways by a millimetre moves no star.
//! The answers are static: a gust is slow against a pier of 10 Hz or more.

use crate::calc::FormulaError;
use crate::calc::check::{not_negative, positive};
use crate::calc::pier::column::Column;

/// One second of arc, rad.
pub const ARCSECOND: f64 = std::f64::consts::PI / (180.0 * 3600.0);

/// Wind force (N) on a telescope: `q A Cd` with the gust's pressure `q` (Pa), the area facing it (m²) and a
/// drag coefficient.
///
/// # Errors
/// When an argument is negative.
///
/// Source: definition of the drag coefficient.
pub fn gust_force(pressure: f64, area: f64, drag_coefficient: f64) -> Result<f64, FormulaError> {
    not_negative("the wind pressure", pressure)?;
    not_negative("the area in the wind", area)?;
    not_negative("the drag coefficient", drag_coefficient)?;
    Ok(pressure * area * drag_coefficient)
}

/// Tilt of a pier's head under a sideways force, part by part.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tilt {
    /// From the column's bending, rad.
    pub bending: f64,
    /// From the footing's rocking on the ground, rad.
    pub rocking: f64,
}

impl Tilt {
    /// Both together, rad.
    #[must_use]
    pub fn total(&self) -> f64 {
        self.bending + self.rocking
    }
}

/// Tilt of the head under a `force` (N) acting `height_above_top` (m) above the column, whose foot stands
/// `foot_above_ground_contact` (m) above the underside of the footing; the ground resists tilting with
/// `rocking_stiffness` (N·m/rad).
///
/// # Errors
/// When a height is negative or the stiffness is not positive.
///
/// Source: superposition of the cantilever's slope and moment over rocking stiffness.
pub fn tilt(
    column: &Column,
    force: f64,
    height_above_top: f64,
    foot_above_ground_contact: f64,
    rocking_stiffness: f64,
) -> Result<Tilt, FormulaError> {
    not_negative("the height of the pier's foot above the underside of the footing", foot_above_ground_contact)?;
    let lever = foot_above_ground_contact + column.length() + height_above_top;
    Ok(Tilt { bending: column.bend(force, height_above_top)?.slope, rocking: footing_tilt(force, lever, rocking_stiffness)? })
}

/// Tilt (rad) of a footing under a `force` (N) acting `lever` (m) above its underside: `F h/Kφ`.
///
/// # Errors
/// When the lever is negative or the stiffness is not positive.
pub fn footing_tilt(force: f64, lever: f64, rocking_stiffness: f64) -> Result<f64, FormulaError> {
    not_negative("the height of the force above the footing", lever)?;
    positive("the rocking stiffness", rocking_stiffness)?;
    Ok(force * lever / rocking_stiffness)
}

/// Angle of sky on one pixel, rad: pixel size over focal length (both m). In the usual units
/// `206.265 · µm/mm` seconds of arc.
///
/// # Errors
/// When an argument is not positive.
///
/// Source: definition of the plate scale.
pub fn pixel_scale(pixel: f64, focal_length: f64) -> Result<f64, FormulaError> {
    positive("the pixel size", pixel)?;
    positive("the focal length", focal_length)?;
    Ok(pixel / focal_length)
}
