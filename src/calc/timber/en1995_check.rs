//! Stresses and utilisations of timber beams by EN 1995-1-1.
//!
//! In: forces, sections, design strengths. Out: stresses and ratios (more than 1 is too much).
//! It must not know how a force came about. Source: EN 1995-1-1:2004 with A1:2008 and A2:2014.

use super::en1995::Material;
use super::section::Rectangle;
use crate::calc::FormulaError;
use crate::calc::check::positive;

/// Shear stress (Pa) of a rectangular section, 3V/2·(kcr·b)·h. Source: §6.1.7, eq. 6.13a.
///
/// # Errors
/// Where the crack factor is not more than zero.
pub fn shear_stress(shear: f64, section: Rectangle, crack_factor: f64) -> Result<f64, FormulaError> {
    Ok(1.5 * shear.abs() / (positive("the crack factor", crack_factor)? * section.area()))
}

/// A notch at a support.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Notch {
    /// Depth of the beam, m.
    pub depth: f64,
    /// Depth left at the notch, m.
    pub left: f64,
    /// Distance from the line of the support reaction to the corner of the notch, m.
    pub to_corner: f64,
    /// Run of the notch's slope for a rise of one; 0 for a square notch.
    pub slope: f64,
}

/// Reduction factor kv of the shear strength of a beam notched on the support's side. Source: EN 1995-1-1 §6.5.2,
/// eq. 6.62, 6.63 (kn 5 for solid timber, 6.5 for glulam, 4.5 for LVL).
///
/// # Errors
/// Where a depth is not more than zero, or more is left than there was.
pub fn notch_factor(material: Material, notch: &Notch) -> Result<f64, FormulaError> {
    let h = 1000.0 * positive("the beam's depth", notch.depth)?;
    let left = positive("the depth left at the notch", notch.left)? / notch.depth;
    if left > 1.0 {
        return Err(FormulaError::domain("the depth left at the notch", "less than the beam's depth"));
    }
    let kn = match material {
        Material::Solid => 5.0,
        Material::Glulam => 6.5,
        Material::Lvl => 4.5,
    };
    let over = kn * (1.0 + 1.1 * notch.slope.powf(1.5) / h.sqrt());
    let under = h.sqrt() * ((left * (1.0 - left)).sqrt() + 0.8 * notch.to_corner / notch.depth * (1.0 / left - left * left).sqrt());
    Ok(if under > 0.0 { (over / under).min(1.0) } else { 1.0 })
}

/// Final deflection (m) of a lasting action: `u·(1 + kdef)`. Source: EN 1995-1-1 eq. 2.3.
#[must_use]
pub fn final_deflection_permanent(immediate: f64, kdef: f64) -> f64 {
    immediate * (1.0 + kdef)
}

/// Final deflection (m) of the leading variable action: `u·(1 + ψ2·kdef)`. Source: EN 1995-1-1 eq. 2.4.
#[must_use]
pub fn final_deflection_leading(immediate: f64, psi2: f64, kdef: f64) -> f64 {
    immediate * (1.0 + psi2 * kdef)
}

/// Final deflection (m) of another variable action: `u·(ψ0 + ψ2·kdef)`. Source: EN 1995-1-1 eq. 2.5.
#[must_use]
pub fn final_deflection_other(immediate: f64, psi0: f64, psi2: f64, kdef: f64) -> f64 {
    immediate * (psi0 + psi2 * kdef)
}
