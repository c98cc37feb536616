//! Magnets and proximity switches: how far away, and where along the travel, a roof is noticed.
//!
//! In: magnet dimensions and remanence, switching fields or rated distances, lateral gap (SI).
//! Out: fields (T) and distances (m).
//! It must not know which end of the travel it watches.

use std::f64::consts::{FRAC_PI_2, PI};

use crate::calc::{FormulaError, check};

/// A cylinder magnet, magnetised along its axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cylinder {
    /// Remanence Br, T.
    pub remanence: f64,
    /// Diameter, m.
    pub diameter: f64,
    /// Length along the axis, m.
    pub length: f64,
}

impl Cylinder {
    fn checked(self) -> Result<Self, FormulaError> {
        check::positive("remanence of the magnet", self.remanence)?;
        check::positive("diameter of the magnet", self.diameter)?;
        check::positive("length of the magnet", self.length)?;
        Ok(self)
    }
}

/// Flux density on the axis, T, at `distance` m from the pole face.
///
/// B = (Br/2) [ (L+z)/√(R²+(L+z)²) - z/√(R²+z²) ], the field of a uniformly magnetised cylinder
/// (Derby and Olbert, Am. J. Phys. 78 (2010) 229); steel near by changes it.
///
/// # Errors
/// If a dimension of the magnet is not above zero or the distance is negative.
pub fn axial_field(magnet: Cylinder, distance: f64) -> Result<f64, FormulaError> {
    let magnet = magnet.checked()?;
    check::not_negative("distance from the magnet", distance)?;
    Ok(on_axis(magnet, distance))
}

fn on_axis(magnet: Cylinder, distance: f64) -> f64 {
    let radius = magnet.diameter / 2.0;
    let part = |z: f64| z / radius.hypot(z);
    magnet.remanence / 2.0 * (part(magnet.length + distance) - part(distance))
}

/// Flux density along the axis' direction, T, at `distance` m in front of the pole face and
/// `aside` m off the axis: what a sensor sees that passes the magnet instead of meeting it.
///
/// By the generalised complete elliptic integral of Derby and Olbert, Cylindrical magnets and ideal
/// solenoids, Am. J. Phys. 78 (2010) 229, equations (2) to (5).
///
/// # Errors
/// If a dimension of the magnet is not above zero, or the distance is negative or zero at the rim.
pub fn field_aside(magnet: Cylinder, distance: f64, aside: f64) -> Result<f64, FormulaError> {
    let magnet = magnet.checked()?;
    check::not_negative("distance from the magnet", distance)?;
    check::not_negative("distance from the axis of the magnet", aside)?;
    let radius = magnet.diameter / 2.0;
    if distance == 0.0 && (aside - radius).abs() <= 1e-12 * radius {
        return Err(FormulaError::domain("the sensor", "away from the rim of the magnet"));
    }
    Ok(off_axis(magnet, distance, aside))
}

fn off_axis(magnet: Cylinder, distance: f64, aside: f64) -> f64 {
    let radius = magnet.diameter / 2.0;
    let gamma = (radius - aside) / (radius + aside);
    let end = |z: f64| {
        let far = z.hypot(radius + aside);
        let modulus = (z * z + (radius - aside).powi(2)).sqrt() / far;
        z / far * elliptic(modulus, gamma * gamma, 1.0, gamma)
    };
    let ends = end(distance + magnet.length) - end(distance);
    magnet.remanence / PI * radius / (radius + aside) * ends
}

/// Bulirsch's generalised complete elliptic integral cel(kc, p, a, b), Numer. Math. 13 (1969) 305.
fn elliptic(modulus: f64, parameter: f64, cosine: f64, sine: f64) -> f64 {
    const TOLERANCE: f64 = 1e-12;
    // Abreast of the rim the parameter is 0; its limit is taken from the side that is allowed.
    let mut root = parameter.max(1e-300).sqrt();
    let mut small = modulus.abs().max(1e-150);
    let mut product = small;
    let mut mean = 1.0;
    let mut cosine_sum = cosine + sine / parameter.max(1e-300);
    let mut sine_sum = 2.0 * (sine / root + cosine * small / root);
    let mut before = mean;
    root += small / root;
    mean += small;
    for _ in 0..64 {
        if (before - small).abs() <= before * TOLERANCE {
            break;
        }
        small = 2.0 * product.sqrt();
        product = small * mean;
        let ratio = product / root;
        let previous = cosine_sum;
        cosine_sum += sine_sum / root;
        sine_sum = 2.0 * (sine_sum + previous * ratio);
        root += ratio;
        before = mean;
        mean += small;
    }
    FRAC_PI_2 * (sine_sum + cosine_sum * mean) / (mean * (mean + root))
}

/// Distance from the pole face, m, at which the field on the axis has fallen to `field` T: the
/// distance at which a switch with that operate (or release) point switches.
///
/// # Errors
/// If a dimension of the magnet or the field is not above zero, or the magnet is too weak to reach
/// that field even at its face.
pub fn switching_distance(magnet: Cylinder, field: f64) -> Result<f64, FormulaError> {
    let magnet = magnet.checked()?;
    check::positive("switching field of the sensor", field)?;
    let at_face = on_axis(magnet, 0.0);
    if at_face < field {
        return Err(FormulaError::domain("switching field of the sensor", "less than the field at the face of the magnet"));
    }
    Ok(crossing(|distance| on_axis(magnet, distance) - field, magnet.diameter))
}

/// Distance off the axis, m, at which a sensor that passes the magnet at a gap of `distance` m in
/// front of its face, looking the way of its axis, first sees `field` T.
///
/// # Errors
/// As [`switching_distance`], with the field at that gap in place of the field at the face: then
/// the sensor never sees the magnet.
pub fn passing_distance(magnet: Cylinder, distance: f64, field: f64) -> Result<f64, FormulaError> {
    let magnet = magnet.checked()?;
    check::positive("gap between magnet and sensor", distance)?;
    check::positive("switching field of the sensor", field)?;
    if on_axis(magnet, distance) < field {
        return Err(FormulaError::domain("switching field of the sensor", "less than the field of the magnet at that gap"));
    }
    Ok(crossing(|aside| off_axis(magnet, distance, aside) - field, magnet.diameter))
}

/// Where a function that begins at zero or above first falls below zero, to the last bits; `step`
/// is a length of the right order.
fn crossing(function: impl Fn(f64) -> f64, step: f64) -> f64 {
    let (mut low, mut high) = (0.0, step);
    for _ in 0..200 {
        if function(high) < 0.0 {
            break;
        }
        low = high;
        high *= 1.5;
    }
    for _ in 0..120 {
        let middle = f64::midpoint(low, high);
        if function(middle) < 0.0 {
            high = middle;
        } else {
            low = middle;
        }
    }
    f64::midpoint(low, high)
}

/// Reduction factor of the target for which distances are rated: mild steel (IEC 60947-5-2).
pub const MILD_STEEL: f64 = 1.0;

/// The distances of a proximity switch, m, of which only the least is promised.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OperatingRange {
    /// Sa: within it every specimen switches at every permitted temperature and voltage.
    pub assured: f64,
    /// Least effective distance of a specimen, 0.9 Sn.
    pub least_effective: f64,
    /// Greatest effective distance of a specimen, 1.1 Sn.
    pub greatest_effective: f64,
    /// Greatest usable distance, 1.21 Sn: beyond it none switches.
    pub greatest_usable: f64,
    /// Greatest differential travel (hysteresis): 20 % of the greatest effective distance.
    pub greatest_hysteresis: f64,
}

/// The distances of a proximity switch of rated operating distance `rated` Sn (m) for a target
/// whose `reduction` factor is 1 for mild steel (others: data sheet).
///
/// IEC 60947-5-2: 0.9 Sn ≤ Sr ≤ 1.1 Sn, 0.9 Sr ≤ Su ≤ 1.1 Sr, Sa = 0.81 Sn, H ≤ 0.2 Sr.
///
/// # Errors
/// If the rated distance or the factor is not above zero, or the factor above 1.
pub fn operating_range(rated: f64, reduction: f64) -> Result<OperatingRange, FormulaError> {
    check::positive("rated operating distance", rated)?;
    check::positive("reduction factor of the target", reduction)?;
    check::within("reduction factor of the target", reduction, 0.0, MILD_STEEL, "at most 1, that of mild steel")?;
    let rated = rated * reduction;
    Ok(OperatingRange {
        assured: 0.81 * rated,
        least_effective: 0.9 * rated,
        greatest_effective: 1.1 * rated,
        greatest_usable: 1.21 * rated,
        greatest_hysteresis: 0.2 * 1.1 * rated,
    })
}

/// How far before its middle a target that passes at a lateral `gap` (m) is first seen by a sensor
/// that sees it at `reach` (m): √(reach² - gap²). It is the half chord of the sensor's circle.
///
/// # Errors
/// If the reach is not above zero, the gap negative, or the gap larger than the reach: then the
/// target is never seen.
pub fn first_seen(reach: f64, gap: f64) -> Result<f64, FormulaError> {
    check::positive("operating distance of the sensor", reach)?;
    check::not_negative("gap between magnet and sensor", gap)?;
    if gap > reach {
        return Err(FormulaError::domain("gap between magnet and sensor", "within the operating distance of the sensor"));
    }
    Ok(((reach - gap) * (reach + gap)).sqrt())
}
