//! Embedment strength of timber and yield moment of fasteners by EN 1995-1-1.
//!
//! In: density (kg/m³), diameter (m), angle (rad), steel. Out: fh,k (Pa), My,Rk (N·m).
//! It must not know the joint. Source: EN 1995-1-1:2004 §8.3.1, §8.5.1, §8.7.1.

use crate::calc::FormulaError;
use crate::calc::check::positive;

/// Which wood, for the factor k90.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wood {
    /// Softwood.
    Softwood,
    /// Hardwood.
    Hardwood,
    /// Laminated veneer lumber.
    Lvl,
}

/// fh,k (Pa) of a nail up to 8 mm: `0.082·ρk·d^−0.3` MPa without, `0.082·(1 − 0.01d)·ρk` MPa with predrilled holes.
/// Source: EN 1995-1-1 eq. 8.15, 8.16.
///
/// # Errors
/// Where a number is not more than zero or the nail thicker than 8 mm.
pub fn nail(density: f64, diameter: f64, predrilled: bool) -> Result<f64, FormulaError> {
    let (rho, d) = (positive("the timber's density", density)?, 1000.0 * positive("the diameter", diameter)?);
    if d > 8.0 + 1e-9 {
        return Err(FormulaError::domain("the nail's diameter", "at most 8 mm; thicker ones count as bolts"));
    }
    Ok(1.0e6 * 0.082 * rho * if predrilled { 1.0 - 0.01 * d } else { d.powf(-0.3) })
}

/// fh,α,k (Pa) of a bolt or dowel up to 30 mm at an angle α to the grain: `0.082·(1 − 0.01d)·ρk` MPa along it, Hankinson with
/// k90 = 1.35 + 0.015d (softwood), 0.90 + 0.015d (hardwood), 1.30 + 0.015d (LVL). Source: EN 1995-1-1 eq. 8.31–8.33.
///
/// # Errors
/// Where a number is not more than zero or the bolt thicker than 30 mm.
pub fn bolt(density: f64, diameter: f64, angle: f64, wood: Wood) -> Result<f64, FormulaError> {
    let (rho, d) = (positive("the timber's density", density)?, 1000.0 * positive("the diameter", diameter)?);
    if d > 30.0 + 1e-9 {
        return Err(FormulaError::domain("the bolt's diameter", "at most 30 mm"));
    }
    let along = 0.082 * (1.0 - 0.01 * d) * rho;
    let k90 = 0.015 * d
        + match wood {
            Wood::Softwood => 1.35,
            Wood::Hardwood => 0.90,
            Wood::Lvl => 1.30,
        };
    let (sin, cos) = angle.sin_cos();
    Ok(1.0e6 * along / (k90 * sin * sin + cos * cos))
}

/// My,Rk (N·m) of a round fastener: `0.3·fu·d^2.6` N·mm, tensile strength in Pa. Nails, bolts, dowels.
/// Source: EN 1995-1-1 eq. 8.14, 8.30.
///
/// # Errors
/// Where a number is not more than zero.
pub fn yield_moment_round(tensile_strength: f64, diameter: f64) -> Result<f64, FormulaError> {
    let (fu, d) = (positive("the tensile strength", tensile_strength)? / 1.0e6, 1000.0 * positive("the diameter", diameter)?);
    Ok(0.3 * fu * d.powf(2.6) / 1000.0)
}
