//! The ground as a bed of springs (Winkler), for those who have a modulus of subgrade reaction.
//!
//! In: subgrade modulus in N/m³, plan sizes in m. Out: a rocking stiffness in N·m/rad.
//! It must not be mixed with the half space of `footing`: on the same ground it is several times softer,
//! because the subgrade modulus is that of settlement, not of the tiny strains of a gust.

use std::f64::consts::PI;

use crate::calc::FormulaError;
use crate::calc::check::positive;

/// Width of the plate on which the subgrade modulus is measured, m (1 ft in Terzaghi's paper).
const PLATE: f64 = 0.3;

/// Rocking stiffness (N·m/rad) of a rectangular footing on springs: `ks B L³/12`, `along` (m) in the plane
/// of rocking.
///
/// # Errors
/// When an argument is not positive.
///
/// Source: Winkler's bed; statics.
pub fn rocking_rectangle(subgrade_modulus: f64, along: f64, across: f64) -> Result<f64, FormulaError> {
    positive("the subgrade modulus", subgrade_modulus)?;
    positive("the side of the footing", along)?;
    positive("the side of the footing", across)?;
    Ok(subgrade_modulus * across * along.powi(3) / 12.0)
}

/// Rocking stiffness (N·m/rad) of a round footing on springs: `ks π r⁴/4`.
///
/// # Errors
/// When an argument is not positive.
///
/// Source: Winkler's bed; statics.
pub fn rocking_round(subgrade_modulus: f64, radius: f64) -> Result<f64, FormulaError> {
    positive("the subgrade modulus", subgrade_modulus)?;
    positive("the radius of the footing", radius)?;
    Ok(subgrade_modulus * PI * radius.powi(4) / 4.0)
}

/// Subgrade modulus (N/m³) under a square footing of `width` (m) on sand, from that of a 0.3 m plate:
/// `k₁ ((B + 0.3)/(2 B))²`.
///
/// # Errors
/// When an argument is not positive.
///
/// Source: Terzaghi 1955, Evaluation of coefficients of subgrade reaction.
pub fn modulus_on_sand(plate_modulus: f64, width: f64) -> Result<f64, FormulaError> {
    positive("the subgrade modulus of the plate", plate_modulus)?;
    positive("the width of the footing", width)?;
    Ok(plate_modulus * ((width + PLATE) / (2.0 * width)).powi(2))
}

/// Subgrade modulus (N/m³) under a square footing of `width` (m) on stiff clay, from that of a 0.3 m plate:
/// `k₁ · 0.3/B`.
///
/// # Errors
/// When an argument is not positive.
///
/// Source: Terzaghi 1955, Evaluation of coefficients of subgrade reaction.
pub fn modulus_on_clay(plate_modulus: f64, width: f64) -> Result<f64, FormulaError> {
    positive("the subgrade modulus of the plate", plate_modulus)?;
    positive("the width of the footing", width)?;
    Ok(plate_modulus * PLATE / width)
}
