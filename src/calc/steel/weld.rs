//! Fillet welds.
//!
//! In: leg or throat, length, electrode or steel. Out: what the weld carries, and what it needs to be.
//! It must not know how the force came about. Source: AISC 360-16 §J2, §J4; EN 1993-1-8 §4.5.

use super::member::GAMMA_M2;
use crate::calc::FormulaError;
use crate::calc::check::positive;
use crate::calc::inch_pound::INCH;

/// Safety factor of fillet welds, ASD. Source: AISC 360-16 Table J2.5.
pub const OMEGA_WELD: f64 = 2.0;

/// Throat (m) of an equal-leg fillet weld: leg/√2.
#[must_use]
pub fn throat(leg: f64) -> f64 {
    leg / 2.0_f64.sqrt()
}

/// Allowable load (N) of a straight fillet weld of this leg and length (m), electrode strength FEXX (Pa), loaded at an
/// angle θ (rad) to its length: `0.60·FEXX·(1 + 0.50·sin^1.5 θ)·throat·length/Ω`. Take θ = 0 for a weld group, or when in
/// doubt. Welds longer than 100 legs lose strength: β = 1.2 − 0.002·l/w; beyond 300 legs only 180 legs count.
/// Source: AISC 360-16 eq. J2-4, J2-5, §J2.2b(d).
///
/// # Errors
/// Where a number is not more than zero, or the weld is shorter than four legs (§J2.2b(c)).
pub fn aisc_fillet(leg: f64, length: f64, electrode: f64, angle: f64) -> Result<f64, FormulaError> {
    let w = positive("the weld's leg", leg)?;
    let l = positive("the weld's length", length)?;
    if l < 4.0 * w {
        return Err(FormulaError::domain("the weld's length", "at least four times its leg"));
    }
    let effective = match l / w {
        legs if legs <= 100.0 => l,
        legs if legs <= 300.0 => (1.2 - 0.002 * legs) * l,
        _ => 180.0 * w,
    };
    let stress = 0.60 * electrode * (1.0 + 0.50 * angle.sin().abs().powf(1.5));
    Ok(stress * throat(w) * effective / OMEGA_WELD)
}

/// Allowable load (N) of the plate beside the weld in shear, thickness and length in m: yielding 0.6·Fy/1.50 or rupture
/// 0.6·Fu/2.00. Source: AISC 360-16 §J4.2.
#[must_use]
pub fn aisc_base_metal(thickness: f64, length: f64, yield_stress: f64, tensile_strength: f64) -> f64 {
    thickness * length * (0.6 * yield_stress / 1.5).min(0.6 * tensile_strength / 2.0)
}

/// Smallest leg (m) of a fillet weld for the thinner part joined (m). Source: AISC 360-16 Table J2.4.
#[must_use]
pub fn aisc_smallest_leg(thinner: f64) -> f64 {
    let sixteenths = match thinner / INCH + 1e-9 {
        t if t <= 0.25 + 1e-6 => 2.0,
        t if t <= 0.5 + 1e-6 => 3.0,
        t if t <= 0.75 + 1e-6 => 4.0,
        _ => 5.0,
    };
    sixteenths / 16.0 * INCH
}

/// Correlation factor βw for the yield stress of the weaker part (Pa). Source: EN 1993-1-8 Table 4.1.
#[must_use]
pub fn en_correlation_factor(yield_stress: f64) -> f64 {
    match yield_stress / 1.0e6 {
        f if f <= 235.0 => 0.8,
        f if f <= 275.0 => 0.85,
        f if f <= 355.0 => 0.9,
        _ => 1.0,
    }
}

/// Design load (N) of a fillet weld of this throat and length (m), whichever way it is loaded: `fu/(√3·βw·γM2)·a·l`, with
/// the tensile strength of the weaker part (Pa). Source: EN 1993-1-8 §4.5.3.3, eq. 4.2–4.4 (simplified method).
///
/// # Errors
/// Where a number is not more than zero, the throat is under 3 mm (§4.5.2) or the weld under 30 mm or six throats (§4.5.1).
pub fn en_fillet(throat: f64, length: f64, tensile_strength: f64, correlation: f64) -> Result<f64, FormulaError> {
    let a = positive("the weld's throat", throat)?;
    if a < 0.003 - 1e-9 {
        return Err(FormulaError::domain("the weld's throat", "at least 3 mm"));
    }
    if length < 0.030_f64.max(6.0 * a) - 1e-9 {
        return Err(FormulaError::domain("the weld's length", "at least 30 mm and six times its throat"));
    }
    Ok(tensile_strength / (3.0_f64.sqrt() * positive("the correlation factor", correlation)? * GAMMA_M2) * a * length)
}
