//! Timber columns by EN 1995-1-1, alone and bent.
//!
//! In: slenderness, characteristic and design strengths, stresses. Out: kc and the ratios of §6.2 and §6.3.
//! It must not know strength classes. Source: EN 1995-1-1:2004 with A1, A2.

use std::f64::consts::PI;

use crate::calc::FormulaError;
use crate::calc::check::{not_negative, positive};
use crate::calc::timber::en1995::Material;

/// Relative slenderness `λ/π·√(fc,0,k/E0.05)` for an effective length and a radius of gyration (m). Source: eq. 6.21, 6.22.
///
/// # Errors
/// Where a number is out of range.
pub fn relative_slenderness(effective_length: f64, radius: f64, compression_k: f64, elasticity_05: f64) -> Result<f64, FormulaError> {
    let slenderness = not_negative("the column's effective length", effective_length)? / positive("the radius of gyration", radius)?;
    let strength = positive("fc,0,k", compression_k)? / positive("E0.05", elasticity_05)?;
    Ok(slenderness / PI * strength.sqrt())
}

/// Straightness factor βc: 0.2 for solid timber, 0.1 for glulam and LVL. Source: eq. 6.29.
#[must_use]
pub fn straightness_factor(material: Material) -> f64 {
    match material {
        Material::Solid => 0.2,
        Material::Glulam | Material::Lvl => 0.1,
    }
}

/// Buckling factor kc; 1 up to a relative slenderness of 0.3. Source: eq. 6.25–6.29, §6.3.2(2).
#[must_use]
pub fn buckling_factor(slenderness: f64, material: Material) -> f64 {
    if slenderness <= 0.3 {
        return 1.0;
    }
    let k = 0.5 * (1.0 + straightness_factor(material) * (slenderness - 0.3) + slenderness * slenderness);
    1.0 / (k + (k * k - slenderness * slenderness).sqrt())
}

/// Stresses and design strengths of a bent column, Pa.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BentColumn {
    /// σc,0,d.
    pub compression: f64,
    /// σm,y,d.
    pub bending_y: f64,
    /// σm,z,d.
    pub bending_z: f64,
    /// fc,0,d.
    pub compression_strength: f64,
    /// fm,y,d.
    pub bending_strength_y: f64,
    /// fm,z,d.
    pub bending_strength_z: f64,
    /// λrel,y.
    pub slenderness_y: f64,
    /// λrel,z.
    pub slenderness_z: f64,
}

/// Ratio of a column under compression and bending about both axes, km for the section.
/// Stocky columns (both relative slendernesses at most 0.3) follow eq. 6.19 and 6.20, others eq. 6.23 and 6.24.
#[must_use]
pub fn bent_column_ratio(c: &BentColumn, material: Material, km: f64) -> f64 {
    let pressed = c.compression / c.compression_strength;
    let y = c.bending_y.abs() / c.bending_strength_y;
    let z = c.bending_z.abs() / c.bending_strength_z;
    let (along_y, along_z) = if c.slenderness_y <= 0.3 && c.slenderness_z <= 0.3 {
        (pressed * pressed, pressed * pressed)
    } else {
        (pressed / buckling_factor(c.slenderness_y, material), pressed / buckling_factor(c.slenderness_z, material))
    };
    (along_y + y + km * z).max(along_z + km * y + z)
}
