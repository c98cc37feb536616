//! Lateral-torsional buckling: how far a steel beam can be bent before it tips sideways.
//!
//! In: section properties, unbraced length. Out: moments. It must not know a shape's name.
//! Square and round tubes do not tip at the slendernesses of a small building: AISC 360-16 §F7 (user note to F7.4: seldom
//! governs), EN 1993-1-1 §6.3.2.1(2); their moment is the elastic one of `member`. Channels and angles do tip.

use std::f64::consts::PI;

use super::member::{GAMMA_M1, OMEGA_BENDING};
use crate::calc::FormulaError;
use crate::calc::check::positive;
use crate::calc::column::steel::{Curve, en_reduction_factor};

/// Moment factor Cb, C1 of a moment that is the same all along: on the safe side of any other.
/// Source: AISC 360-16 §F1(c); NCCI SN003 (Access Steel).
pub const EVEN_MOMENT: f64 = 1.0;

/// Poisson's ratio of steel. Source: EN 1993-1-1 §3.2.6.
pub const POISSON: f64 = 0.3;

/// A beam that is held all along is one that is held at this distance, m: its critical moment is finite and plays no part.
const HELD_ALL_ALONG: f64 = 1e-3;

/// An open section bent about its strong axis: channel or I.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OpenSection {
    /// Elastic section modulus Sx, m³.
    pub modulus: f64,
    /// Second moment of area about the weak axis Iy, m⁴.
    pub weak_inertia: f64,
    /// Torsional constant J, m⁴.
    pub torsion: f64,
    /// Warping constant Cw, m⁶.
    pub warping: f64,
    /// Distance between the flanges' middles ho, m.
    pub between_flanges: f64,
    /// Radius of gyration about the weak axis ry, m.
    pub weak_radius: f64,
    /// A channel, not an I.
    pub channel: bool,
}

/// Allowable moment (N·m) of an open section braced at this distance (m), with a moment gradient factor Cb (1.0 is safe):
/// at most first yield, between Lp and Lr on the straight line from there, beyond elastic buckling.
/// Source: AISC 360-16 §F2, eq. F2-2 to F2-8 with the plastic moment replaced by Fy·Sx (safe side).
///
/// # Errors
/// Where a number is not more than zero.
pub fn aisc_open_section_moment(
    s: &OpenSection,
    yield_stress: f64,
    elasticity: f64,
    unbraced: f64,
    gradient: f64,
) -> Result<f64, FormulaError> {
    let fy = positive("the yield stress", yield_stress)?;
    let e = positive("the modulus of elasticity", elasticity)?;
    let sx = positive("the section modulus", s.modulus)?;
    let ho = positive("the distance between the flanges", s.between_flanges)?;
    let first_yield = fy * sx;
    let lp = 1.76 * s.weak_radius * (e / fy).sqrt();
    if unbraced <= lp {
        return Ok(first_yield / OMEGA_BENDING);
    }
    let rts = ((s.weak_inertia * s.warping).sqrt() / sx).sqrt();
    let c = if s.channel { ho / 2.0 * (s.weak_inertia / s.warping).sqrt() } else { 1.0 };
    let twist = s.torsion * c / (sx * ho);
    let lr = 1.95 * rts * e / (0.7 * fy) * (twist + (twist * twist + 6.76 * (0.7 * fy / e).powi(2)).sqrt()).sqrt();
    let nominal = if unbraced <= lr {
        gradient * (first_yield - (first_yield - 0.7 * first_yield) * (unbraced - lp) / (lr - lp))
    } else {
        let slenderness = unbraced / rts;
        gradient * PI * PI * e / (slenderness * slenderness) * (1.0 + 0.078 * twist * slenderness * slenderness).sqrt() * sx
    };
    Ok(nominal.min(first_yield) / OMEGA_BENDING)
}

/// Elastic critical moment (N·m) of a doubly symmetric section under a moment factor C1 (1.0 is safe), load at mid-depth:
/// `C1·π²EIz/L²·√(Iw/Iz + L²GIt/(π²EIz))`. For channels without eccentric load it is used as an estimate.
/// Source: elastic theory, as in NCCI SN003 (Access Steel).
///
/// # Errors
/// Where a number is not more than zero.
pub fn critical_moment(s: &OpenSection, elasticity: f64, shear_modulus: f64, unbraced: f64, gradient: f64) -> Result<f64, FormulaError> {
    let l = positive("the unbraced length", unbraced)?;
    let iz = positive("the second moment of area about the weak axis", s.weak_inertia)?;
    let euler = PI * PI * positive("the modulus of elasticity", elasticity)? * iz / (l * l);
    Ok(gradient * euler * (s.warping / iz + shear_modulus * s.torsion / euler).sqrt())
}

/// Design moment (N·m) of an open section that may tip: χLT·Wel·fy/γM1, general case; channels and angles take curve d.
/// Source: EN 1993-1-1 §6.3.2.2, Table 6.4.
///
/// # Errors
/// Where a number is not more than zero.
pub fn en_moment(modulus: f64, yield_stress: f64, critical: f64, curve: Curve) -> Result<f64, FormulaError> {
    let first_yield = positive("the section modulus", modulus)? * positive("the yield stress", yield_stress)?;
    let slenderness = (first_yield / positive("the critical moment", critical)?).sqrt();
    Ok(en_reduction_factor(slenderness, curve) * first_yield / GAMMA_M1)
}

/// Design moment (N·m) of a rolled open section braced at this distance (m) under an even moment; its breadth (m) decides with its
/// depth how an I tips. Source: EN 1993-1-1 §6.3.2.2, Table 6.4: rolled I sections curve a up to h/b = 2 and b beyond, others d.
///
/// # Errors
/// Where a number is not more than zero.
pub fn en_open_section_moment(
    s: &OpenSection,
    yield_stress: f64,
    elasticity: f64,
    unbraced: f64,
    breadth: f64,
) -> Result<f64, FormulaError> {
    let shear_modulus = elasticity / (2.0 * (1.0 + POISSON));
    let critical = critical_moment(s, elasticity, shear_modulus, unbraced.max(HELD_ALL_ALONG), EVEN_MOMENT)?;
    let curve = match s.channel {
        true => Curve::D,
        false if s.between_flanges <= 2.0 * breadth => Curve::A,
        false => Curve::B,
    };
    en_moment(s.modulus, yield_stress, critical, curve)
}
