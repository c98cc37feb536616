//! Withdrawal and pull-through of nails and screws by EN 1995-1-1, and the two loads together.
//!
//! In: density, diameters, lengths, direction. Out: characteristic loads, N; ratios.
//! It must not know durations. Source: EN 1995-1-1:2004 with A1:2008, §8.3.2, §8.3.3, §8.7.2, §8.7.3.

use crate::calc::FormulaError;
use crate::calc::check::{not_negative, positive};

/// Least depth of a smooth nail in the member with its point, in diameters. Source: EN 1995-1-1 §8.3.2(7).
pub const LEAST_OF_SMOOTH_NAIL: f64 = 8.0;
/// Least length of a screw's thread in the member with its point, in diameters. Source: EN 1995-1-1 §8.7.2(3).
pub const LEAST_THREAD: f64 = 6.0;
/// Exponent of the number of screws that count. Source: EN 1995-1-1 eq. 8.41.
const SCREWS_COUNT: f64 = 0.9;

/// Withdrawal parameter fax,k (Pa) of a smooth nail, `20e-6·ρk²` MPa, for a point at least 12d deep; between 8d and 12d it
/// falls to nothing: times tpen/4d − 2. Source: EN 1995-1-1 eq. 8.25, §8.3.2(7).
///
/// # Errors
/// Where the point is less than 8d deep, or a number is not more than zero.
pub fn smooth_nail_parameter(density: f64, diameter: f64, point_depth: f64) -> Result<f64, FormulaError> {
    let depth = point_depth / positive("the nail's diameter", diameter)?;
    if depth < LEAST_OF_SMOOTH_NAIL - 1e-9 {
        return Err(FormulaError::domain("the nail's depth in the member with the point", "at least 8 diameters"));
    }
    Ok(1.0e6 * 20.0e-6 * positive("the timber's density", density)?.powi(2) * (depth / 4.0 - 2.0).min(1.0))
}

/// Head pull-through parameter fhead,k (Pa) of a nail: `70e-6·ρk²` MPa. Source: EN 1995-1-1 eq. 8.26.
#[must_use]
pub fn nail_head_parameter(density: f64) -> f64 {
    70.0 * density * density
}

/// A nail pulled along its axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Nail {
    /// Diameter d, m.
    pub diameter: f64,
    /// Head diameter dh, m.
    pub head: f64,
    /// Depth of the point tpen, m (threaded length for threaded nails).
    pub point_depth: f64,
    /// Thickness of the member under the head t, m.
    pub head_side: f64,
}

/// Withdrawal Fax,Rk (N) of a smooth nail: the point's hold, or the head's with that of the shank in the head's member.
/// Smooth nails must not carry lasting pulls (§8.3.2(1)). Source: EN 1995-1-1 eq. 8.24.
#[must_use]
pub fn smooth_nail(nail: &Nail, parameter: f64, head_parameter: f64) -> f64 {
    let point = parameter * nail.diameter * nail.point_depth;
    let head = parameter * nail.diameter * nail.head_side + head_parameter * nail.head * nail.head;
    point.min(head)
}

/// Screws pulled along their axes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Screws {
    /// Outer thread diameter d, m.
    pub diameter: f64,
    /// Inner thread diameter d1, m.
    pub root: f64,
    /// Length of thread in the member with the point lef, m.
    pub thread: f64,
    /// Angle between the screw's axis and the grain α, rad, at least 30°.
    pub angle: f64,
    /// Number acting together n.
    pub count: u32,
}

/// Number that counts: n^0.9. Source: EN 1995-1-1 eq. 8.41.
#[must_use]
pub fn effective_count(count: u32) -> f64 {
    f64::from(count).powf(SCREWS_COUNT)
}

/// What each of `count` screws holds of what one alone does, so that `count` times it is the group; 1 for one.
/// Source: EN 1995-1-1 eq. 8.41.
#[must_use]
pub fn share_in_group(count: f64) -> f64 {
    if count > 1.0 { count.powf(SCREWS_COUNT) / count } else { 1.0 }
}

/// Characteristic load (N) that pulls a screw apart at its root: its steel's tensile strength (Pa) on the root's area.
/// Source: EN 1995-1-1 §8.7.2(3), which asks for the check; statics.
#[must_use]
pub fn shank_tension(tensile_strength: f64, root: f64) -> f64 {
    tensile_strength * std::f64::consts::FRAC_PI_4 * root * root
}

fn along_axis(screws: &Screws) -> Result<f64, FormulaError> {
    if screws.angle < 30.0_f64.to_radians() - 1e-9 {
        return Err(FormulaError::domain("the angle between screw and grain", "at least 30°"));
    }
    if positive("the thread's length in the member with the point", screws.thread)? < LEAST_THREAD * screws.diameter - 1e-9 {
        return Err(FormulaError::domain("the thread's length in the member with the point", "at least 6 diameters"));
    }
    let (sin, cos) = screws.angle.sin_cos();
    Ok(1.2 * cos * cos + sin * sin)
}

/// Withdrawal Fax,α,Rk (N) of screws of 6 to 12 mm with a root of 0.6 to 0.75 of the diameter:
/// `nef·fax,k·d·lef·kd/(1.2cos²α + sin²α)`, `fax,k = 0.52·d^−0.5·lef^−0.1·ρk^0.8` MPa, `kd = min(d/8 mm, 1)`.
/// Source: EN 1995-1-1 eq. 8.38–8.40 (A1:2008).
///
/// # Errors
/// Where the screw is outside these sizes ([`declared_screws`] serves then), too short in the wood or too near the grain.
pub fn screws(screws: &Screws, density: f64) -> Result<f64, FormulaError> {
    let d = 1000.0 * positive("the screw's diameter", screws.diameter)?;
    let root = positive("the screw's root diameter", screws.root)? / screws.diameter;
    if !(6.0 - 1e-9..=12.0 + 1e-9).contains(&d) || !(0.6 - 1e-9..=0.75 + 1e-9).contains(&root) {
        return Err(FormulaError::domain("the screw", "6 to 12 mm thick with a root of 0.6 to 0.75 of that"));
    }
    let direction = along_axis(screws)?;
    let lef = 1000.0 * screws.thread;
    let parameter = 0.52 * d.powf(-0.5) * lef.powf(-0.1) * positive("the timber's density", density)?.powf(0.8);
    Ok(effective_count(screws.count) * parameter * d * lef * (d / 8.0).min(1.0) / direction)
}

/// Withdrawal Fax,α,Rk (N) of screws with a declared parameter fax,k (Pa) at a declared density ρa:
/// `nef·fax,k·d·lef/(1.2cos²α + sin²α)·(ρk/ρa)^0.8`. Source: EN 1995-1-1 eq. 8.40a (A1:2008).
///
/// # Errors
/// Where the screw is too short in the wood or too near the grain.
pub fn declared_screws(screws: &Screws, parameter: f64, density: f64, declared_density: f64) -> Result<f64, FormulaError> {
    let direction = along_axis(screws)?;
    let lighter = positive("the timber's density", density)? / positive("the declared density", declared_density)?;
    Ok(effective_count(screws.count) * parameter * screws.diameter * screws.thread / direction * lighter.powf(0.8))
}

/// Ratio of smooth nails under both loads: the parts are added. Source: EN 1995-1-1 eq. 8.27.
///
/// # Errors
/// Where a load is negative or a resistance not more than zero.
pub fn smooth_nail_ratio(axial: f64, axial_design: f64, lateral: f64, lateral_design: f64) -> Result<f64, FormulaError> {
    let (axial, lateral) = parts(axial, axial_design, lateral, lateral_design)?;
    Ok(axial + lateral)
}

/// Ratio of screws, bolts and other nails under both loads: the sum of the squares (more than 1 is too much).
/// Source: EN 1995-1-1 eq. 8.28, §8.7.3.
///
/// # Errors
/// Where a load is negative or a resistance not more than zero.
pub fn screw_ratio(axial: f64, axial_design: f64, lateral: f64, lateral_design: f64) -> Result<f64, FormulaError> {
    let (axial, lateral) = parts(axial, axial_design, lateral, lateral_design)?;
    Ok(axial * axial + lateral * lateral)
}

fn parts(axial: f64, axial_design: f64, lateral: f64, lateral_design: f64) -> Result<(f64, f64), FormulaError> {
    let part = |load: f64, design: f64, what: &str| -> Result<f64, FormulaError> {
        match not_negative(what, load)? {
            0.0 => Ok(0.0),
            load => Ok(load / positive(&format!("the resistance to {what}"), design)?),
        }
    };
    Ok((part(axial, axial_design, "the pull")?, part(lateral, lateral_design, "the push")?))
}
