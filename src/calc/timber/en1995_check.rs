//! Stresses and utilisations of timber beams by EN 1995-1-1.
//!
//! In: forces, sections, design strengths. Out: stresses and ratios (more than 1 is too much).
//! It must not know how a force came about. Source: EN 1995-1-1:2004 with A1:2008 and A2:2014.

use super::en1995::Material;
use super::section::Rectangle;
use crate::calc::FormulaError;
use crate::calc::check::positive;

/// Bending about both axes: the larger of eq. 6.11 and 6.12. Stresses and strengths in Pa, km from `en1995`.
#[must_use]
pub fn bending_ratio(stress_y: f64, stress_z: f64, strength_y: f64, strength_z: f64, km: f64) -> f64 {
    let (y, z) = (stress_y.abs() / strength_y, stress_z.abs() / strength_z);
    (y + km * z).max(km * y + z)
}

/// Bending about the strong axis of a beam that may tip: σ/(kcrit·fm,d). Source: eq. 6.33.
#[must_use]
pub fn tipping_ratio(stress: f64, strength: f64, kcrit: f64) -> f64 {
    stress.abs() / (kcrit * strength)
}

/// Shear stress (Pa) of a rectangular section, 3V/2·(kcr·b)·h. Source: §6.1.7, eq. 6.13a.
///
/// # Errors
/// Where the crack factor is not more than zero.
pub fn shear_stress(shear: f64, section: Rectangle, crack_factor: f64) -> Result<f64, FormulaError> {
    Ok(1.5 * shear.abs() / (positive("the crack factor", crack_factor)? * section.area()))
}

/// What a bearing across the grain stands on, for kc,90.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BearingKind {
    /// The member lies on the support along its whole length (a sill plate under posts).
    Continuous,
    /// The member spans between single supports (a beam on posts).
    Discrete,
}

/// Factor kc,90 on the strength across the grain. `clear` is the distance (m) between neighbouring bearings, `depth` the
/// member's depth (m), `length` the contact length along the grain (m). Softwood.
/// Source: EN 1995-1-1 §6.1.5(2)–(4) (A1:2008).
#[must_use]
pub fn kc90(kind: BearingKind, material: Material, clear: f64, depth: f64, length: f64) -> f64 {
    let far_apart = clear >= 2.0 * depth;
    match (kind, material) {
        (BearingKind::Continuous, Material::Solid) if far_apart => 1.25,
        (BearingKind::Discrete, Material::Solid) | (BearingKind::Continuous, Material::Glulam) if far_apart => 1.5,
        (BearingKind::Discrete, Material::Glulam) if far_apart && length <= 0.4 => 1.75,
        _ => 1.0,
    }
}

/// Effective contact length (m) along the grain: the contact length plus 30 mm at each side, but no more than the overhang
/// beyond it, the contact length itself, or half the distance to the next bearing.
/// Source: EN 1995-1-1 §6.1.5(1) (A1:2008).
#[must_use]
pub fn effective_contact_length(length: f64, overhang_left: f64, overhang_right: f64, clear: f64) -> f64 {
    let more = |overhang: f64| 0.030_f64.min(overhang.max(0.0)).min(length).min((0.5 * clear).max(0.0));
    length + more(overhang_left) + more(overhang_right)
}

/// Compression across the grain: σ/(kc,90·fc,90,d) with the effective area (m²). Source: eq. 6.3, 6.4.
///
/// # Errors
/// Where the area is not more than zero.
pub fn bearing_ratio(force: f64, effective_area: f64, strength: f64, kc90: f64) -> Result<f64, FormulaError> {
    Ok(force.abs() / (positive("the bearing area", effective_area)? * kc90 * strength))
}

/// Compression at an angle α (rad) to the grain: the stress allowed (Pa), between fc,0,d and kc,90·fc,90,d.
/// Source: eq. 6.16.
#[must_use]
pub fn compression_at_angle(along: f64, across: f64, kc90: f64, angle: f64) -> f64 {
    along / (along / (kc90 * across) * angle.sin().powi(2) + angle.cos().powi(2))
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
