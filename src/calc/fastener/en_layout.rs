//! Rows, distances and splitting of bolted timber joints by EN 1995-1-1.
//!
//! In: numbers, distances, member sizes. Out: fasteners that count, least distances, splitting load.
//! It must not know the load of one fastener. Source: EN 1995-1-1:2004 with A1:2008, §8.1.4, §8.5.1.

use crate::calc::FormulaError;
use crate::calc::check::positive;

/// A row of fasteners is no longer than this: what is written as more is reckoned as this many. Common practice, no source.
pub const LONGEST_ROW: f64 = 1000.0;

/// Bolts that count of n in a row along the grain: `min(n, n^0.9·⁴√(a1/13d))`; n across the grain; between, straight.
/// Spacing a1 and diameter in m, angle in rad. Source: EN 1995-1-1 eq. 8.34, §8.5.1.1(4).
///
/// # Errors
/// Where a number is not more than zero.
pub fn effective_bolts(count: u32, spacing: f64, diameter: f64, angle: f64) -> Result<f64, FormulaError> {
    let n = f64::from(count);
    if count <= 1 {
        return Ok(n);
    }
    let room = positive("the spacing", spacing)? / (13.0 * positive("the diameter", diameter)?);
    let along = n.min(n.powf(0.9) * room.powf(0.25));
    let across = (angle / std::f64::consts::FRAC_PI_2).clamp(0.0, 1.0);
    Ok(along + across * (n - along))
}

/// Nails that count of n in a row along the grain: n^kef, kef by spacing over diameter: 1.0 at 14, 0.85 at 10, 0.7 at 7,
/// 0.5 at 4 (predrilled only). Source: EN 1995-1-1 eq. 8.17, Table 8.1.
///
/// # Errors
/// Where the spacing is less than 4d (7d without predrilling).
pub fn effective_nails(count: u32, spacing: f64, diameter: f64, predrilled: bool) -> Result<f64, FormulaError> {
    let a = spacing / positive("the diameter", diameter)?;
    let kef = match a {
        a if a >= 14.0 => 1.0,
        a if a >= 10.0 => 0.85 + 0.15 * (a - 10.0) / 4.0,
        a if a >= 7.0 - 1e-9 => 0.7 + 0.15 * (a - 7.0) / 3.0,
        a if a >= 4.0 - 1e-9 && predrilled => 0.5 + 0.2 * (a - 4.0) / 3.0,
        _ => return Err(FormulaError::domain("the nails' spacing", "at least 7 diameters, or 4 in predrilled holes")),
    };
    Ok(f64::from(count).powf(kef))
}

/// Nails that count of n in a row at an angle α (rad) to the load: [`effective_nails`] along it, all of them across it or
/// staggered, between, straight; not predrilled, and nearer than 7 diameters as if at 7, which is the nearest that they may stand.
/// Source: EN 1995-1-1 §8.3.1.1(8); between, common practice, no source.
///
/// # Errors
/// Where the diameter is not more than zero.
pub fn effective_nails_at(count: u32, spacing: f64, diameter: f64, angle: f64) -> Result<f64, FormulaError> {
    let along = effective_nails(count, spacing.max(7.0 * diameter), diameter, false)?;
    Ok(along + (angle / std::f64::consts::FRAC_PI_2).clamp(0.0, 1.0) * (f64::from(count) - along))
}

/// The least distance of a bolt to a loaded end, m, however thin it is. Source: EN 1995-1-1 Table 8.4.
pub const LEAST_LOADED_END: f64 = 0.080;

/// Least distances of bolts, in diameters.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BoltDistances {
    /// a1, along the grain.
    pub along: f64,
    /// a2, across the grain.
    pub across: f64,
    /// a3,t, to a loaded end (also at least 80 mm).
    pub loaded_end: f64,
    /// a3,c, to an unloaded end.
    pub unloaded_end: f64,
    /// a4,t, to a loaded edge.
    pub loaded_edge: f64,
    /// a4,c, to an unloaded edge.
    pub unloaded_edge: f64,
}

/// Least distances of bolts for a load at an angle α (rad) to the grain. For a3,c the angle counts from the unloaded end.
/// Source: EN 1995-1-1 Table 8.4.
#[must_use]
pub fn bolt_distances(angle: f64) -> BoltDistances {
    let (sin, cos) = (angle.sin().abs(), angle.cos().abs());
    BoltDistances {
        along: 4.0 + cos,
        across: 4.0,
        loaded_end: 7.0,
        unloaded_end: if sin <= 0.5 { 4.0 } else { 1.0 + 6.0 * sin },
        loaded_edge: (2.0 + 2.0 * sin).max(3.0),
        unloaded_edge: 3.0,
    }
}

/// Least distances of nails without predrilling in timber of up to 420 kg/m³, in diameters, for a load at an angle α (rad) to
/// the grain; thin nails (d < 5 mm) or thick ones. Source: EN 1995-1-1 Table 8.2.
#[must_use]
pub fn nail_distances(diameter: f64, angle: f64) -> BoltDistances {
    let (sin, cos) = (angle.sin().abs(), angle.cos().abs());
    let thin = diameter < 0.005;
    BoltDistances {
        along: if thin { 5.0 + 5.0 * cos } else { 5.0 + 7.0 * cos },
        across: 5.0,
        loaded_end: 10.0 + 5.0 * cos,
        unloaded_end: 10.0,
        loaded_edge: if thin { 5.0 + 2.0 * sin } else { 5.0 + 5.0 * sin },
        unloaded_edge: 5.0,
    }
}

/// Splitting F90,Rk (N) of a softwood member by a load across the grain: `14·b·w·√(he/(1 − he/h))`, breadth b, depth h and
/// distance he from the loaded edge to the farthest fastener in m; w = 1 but for punched metal plates.
/// The shear on each side of the joint must not exceed its design value. Source: EN 1995-1-1 eq. 8.4.
///
/// # Errors
/// Where a number is not more than zero, or the fastener outside the member.
pub fn splitting(breadth: f64, depth: f64, from_loaded_edge: f64) -> Result<f64, FormulaError> {
    let (b, h) = (1000.0 * positive("the member's breadth", breadth)?, 1000.0 * positive("the member's depth", depth)?);
    let he = 1000.0 * positive("the distance from the loaded edge", from_loaded_edge)?;
    if he >= h {
        return Err(FormulaError::domain("the distance from the loaded edge", "less than the member's depth"));
    }
    Ok(14.0 * b * (he / (1.0 - he / h)).sqrt())
}
