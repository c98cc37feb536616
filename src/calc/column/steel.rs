//! Steel columns by AISC 360-16 and by EN 1993-1-1, alone and bent.
//!
//! In: section properties, lengths, steel. Out: strengths and ratios. It must not know a shape's name.
//! Sections without slender walls (check with `steel::walls`).

use std::f64::consts::PI;

use crate::calc::FormulaError;
use crate::calc::check::{not_negative, positive};

/// Safety factor of compression, ASD. Source: AISC 360-16 §E1.
pub const OMEGA_COMPRESSION: f64 = 1.67;

/// Critical stress (Pa) for flexural buckling, for a slenderness Lc/r, yield stress and modulus (Pa).
/// Source: AISC 360-16 §E3, eq. E3-2, E3-3, E3-4.
///
/// # Errors
/// Where a number is out of range. The code advises Lc/r of at most 200 (§E2 user note); this is not an error.
pub fn aisc_critical_stress(slenderness: f64, yield_stress: f64, elasticity: f64) -> Result<f64, FormulaError> {
    let fy = positive("the yield stress", yield_stress)?;
    let e = positive("the modulus of elasticity", elasticity)?;
    let slenderness = not_negative("the column's slenderness", slenderness)?;
    if slenderness == 0.0 {
        return Ok(fy);
    }
    let elastic = PI * PI * e / (slenderness * slenderness);
    Ok(if fy / elastic <= 2.25 { 0.658_f64.powf(fy / elastic) * fy } else { 0.877 * elastic })
}

/// Ratio of a column under compression and bending, required over available strengths (both axes' moments as ratios).
/// Source: AISC 360-16 §H1.1, eq. H1-1a, H1-1b.
#[must_use]
pub fn aisc_bent_column_ratio(axial: f64, moment_strong: f64, moment_weak: f64) -> f64 {
    let bending = moment_strong + moment_weak;
    if axial >= 0.2 { axial + 8.0 / 9.0 * bending } else { axial / 2.0 + bending }
}

/// Buckling curve of EN 1993-1-1 Table 6.1, 6.2.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Curve {
    /// a0: hot-finished tubes of S460.
    A0,
    /// a: hot-finished tubes.
    A,
    /// b: angles.
    B,
    /// c: cold-formed tubes, channels, solid bars.
    C,
    /// d.
    D,
}

impl Curve {
    /// Imperfection factor α. Source: EN 1993-1-1 Table 6.1.
    #[must_use]
    pub fn imperfection(self) -> f64 {
        match self {
            Self::A0 => 0.13,
            Self::A => 0.21,
            Self::B => 0.34,
            Self::C => 0.49,
            Self::D => 0.76,
        }
    }
}

/// Relative slenderness `√(A·fy/Ncr)` for area (m²), second moment of area (m⁴), buckling length (m).
/// Source: EN 1993-1-1 §6.3.1.2, `Ncr = π²EI/L²`.
///
/// # Errors
/// Where a number is not more than zero.
pub fn en_relative_slenderness(
    area: f64,
    inertia: f64,
    buckling_length: f64,
    yield_stress: f64,
    elasticity: f64,
) -> Result<f64, FormulaError> {
    let l = positive("the buckling length", buckling_length)?;
    let critical = PI * PI * positive("the modulus of elasticity", elasticity)? * positive("the second moment of area", inertia)? / (l * l);
    Ok((positive("the area", area)? * positive("the yield stress", yield_stress)? / critical).sqrt())
}

/// Reduction factor χ. Source: EN 1993-1-1 §6.3.1.2, eq. 6.49; 1 up to a slenderness of 0.2.
#[must_use]
pub fn en_reduction_factor(slenderness: f64, curve: Curve) -> f64 {
    if slenderness <= 0.2 {
        return 1.0;
    }
    let phi = 0.5 * (1.0 + curve.imperfection() * (slenderness - 0.2) + slenderness * slenderness);
    (1.0 / (phi + (phi * phi - slenderness * slenderness).sqrt())).min(1.0)
}

/// Equivalent moment factors Cmy, Cmz of a moment that is the same all along: on the safe side of any other.
/// Source: EN 1993-1-1 Table B.3.
pub const EVEN_MOMENTS: (f64, f64) = (1.0, 1.0);

/// Axial force over its buckling resistance about each axis, with moments over their elastic resistances.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EnBent {
    /// NEd/(χy·NRk/γM1).
    pub axial_y: f64,
    /// NEd/(χz·NRk/γM1).
    pub axial_z: f64,
    /// My,Ed/(χLT·My,Rk/γM1).
    pub moment_y: f64,
    /// Mz,Ed/(Mz,Rk/γM1).
    pub moment_z: f64,
    /// Relative slenderness about y.
    pub slenderness_y: f64,
    /// Relative slenderness about z.
    pub slenderness_z: f64,
    /// Equivalent moment factors Cmy, Cmz of Table B.3 (1.0 is on the safe side).
    pub moment_factors: (f64, f64),
}

/// Ratio of a bent column, elastic sections not prone to twisting (tubes): the larger of eq. 6.61 and 6.62 with the
/// interaction factors of Annex B, Table B.1, elastic properties (class 3 and better, on the safe side for 1 and 2).
/// Source: EN 1993-1-1 §6.3.3, Annex B.
#[must_use]
pub fn en_bent_column_ratio(b: &EnBent) -> f64 {
    let (cmy, cmz) = b.moment_factors;
    let grow = |cm: f64, slenderness: f64, axial: f64| cm * (1.0 + 0.6 * slenderness.min(1.0) * axial);
    let kyy = grow(cmy, b.slenderness_y, b.axial_y);
    let kzz = grow(cmz, b.slenderness_z, b.axial_z);
    // Table B.1: kyz = kzz, kzy = 0.8·kyy.
    let about_y = b.axial_y + kyy * b.moment_y + kzz * b.moment_z;
    let about_z = b.axial_z + 0.8 * kyy * b.moment_y + kzz * b.moment_z;
    about_y.max(about_z)
}
