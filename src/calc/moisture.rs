//! How timber swells and shrinks, how damp it becomes in a climate, and thermal expansion.
//!
//! In: dimensions across the grain, moisture contents as fractions of the dry mass (0.12), climate.
//! Out: changes of dimension, moisture contents. It must not know a species: coefficients come from
//! the catalogue.
//!
//! Source: USDA Forest Products Laboratory, *Wood Handbook*, FPL-GTR-190 (2010), chapters 4 and 13.

use crate::calc::{FormulaError, check};

/// No timber of Table 13-5 moves more for each 1 % of moisture; the largest there is below 0.005 (from memory).
const LARGEST_COEFFICIENT: f64 = 0.006;

/// Moisture contents between which the coefficients of Table 13-5 hold. Source: Wood Handbook eq. 13-2.
pub const LINEAR: std::ops::RangeInclusive<f64> = 0.06..=0.14;

/// Change of a `dimension` (m) across the grain, m, when the moisture content goes from `before` to
/// `after` (both 0.06 to 0.14); positive if it swells.
///
/// `ΔD = D·C·(MF − MI)`, the moisture contents in percent. `coefficient` is CR (radial) or CT
/// (tangential) of Table 13-5, the change for each 1 % of moisture. Source: Wood Handbook eq. 13-2.
///
/// # Errors
/// If the dimension or coefficient is negative, the coefficient more than there is, or a moisture content is outside 6 % to 14 %, for
/// which [`movement_by_shrinkage`] is meant.
pub fn movement(dimension: f64, coefficient: f64, before: f64, after: f64) -> Result<f64, FormulaError> {
    let dimension = check::not_negative("dimension of the timber", dimension)?;
    let needs = "the change for each 1 % of moisture, at most 0.006: 0.0024 is 0.24 %";
    let coefficient = check::within("coefficient of dimensional change", coefficient, 0.0, LARGEST_COEFFICIENT, needs)?;
    for content in [before, after] {
        check::within("moisture content", content, *LINEAR.start(), *LINEAR.end(), "between 6 % and 14 %")?;
    }
    Ok(dimension * coefficient * 100.0 * (after - before))
}

/// The same beyond 6 % to 14 %, from the `shrinkage` (0.076 for 7.6 %) between green and oven-dry of
/// Table 4-3 and the moisture content at which it begins (`saturation`, see [`FIBRE_SATURATION`]).
///
/// `ΔD = D (MF − MI) / (30·100/S − 30 + MI)`, all in percent. Source: Wood Handbook eq. 13-3.
///
/// # Errors
/// If the dimension is negative, the shrinkage not between 0 and 1, or a moisture content negative or
/// above saturation, where wood no longer moves.
pub fn movement_by_shrinkage(dimension: f64, shrinkage: f64, saturation: f64, before: f64, after: f64) -> Result<f64, FormulaError> {
    let dimension = check::not_negative("dimension of the timber", dimension)?;
    let per_percent = saturation_over_shrinkage(shrinkage, saturation)?;
    for content in [before, after] {
        check::within("moisture content", content, 0.0, saturation, "between 0 % and that at which shrinking begins")?;
    }
    Ok(dimension * (after - before) / (per_percent - saturation + before))
}

/// Coefficient CR or CT of Table 13-5, for each 1 % of moisture, from the `shrinkage` between green and
/// oven-dry: what eq. 13-3 gives at a moisture content of 10 %.
///
/// Western redcedar, redwood and northern white-cedar begin to shrink at 22 % (from memory).
///
/// # Errors
/// If the shrinkage is not between 0 and 1 or the saturation not above 10 %.
pub fn coefficient_from_shrinkage(shrinkage: f64, saturation: f64) -> Result<f64, FormulaError> {
    let per_percent = saturation_over_shrinkage(shrinkage, saturation)?;
    Ok(0.01 / (per_percent - saturation + 0.10))
}

fn saturation_over_shrinkage(shrinkage: f64, saturation: f64) -> Result<f64, FormulaError> {
    let needs = "more than 0 % and less than 50 %";
    check::within("shrinkage", shrinkage, 1e-6, 0.5, needs)?;
    let needs = "between 10 % and 40 %";
    check::within("moisture content at which shrinking begins", saturation, 0.1, 0.4, needs)?;
    Ok(saturation / shrinkage)
}

/// Moisture content that wood tends to in air of a `temperature` (K) and a relative `humidity` (0 to 1).
///
/// Source: Wood Handbook eq. 4-5 with the coefficients for °C. The printed Table 4-2 differs from it
/// by up to 0.1 % of moisture at outdoor temperatures.
///
/// # Errors
/// If the humidity is not between 0 and 1 or the temperature beyond −20 °C to 130 °C.
pub fn equilibrium(temperature: f64, humidity: f64) -> Result<f64, FormulaError> {
    let h = check::within("relative humidity", humidity, 0.0, 1.0, "between 0 % and 100 %")?;
    let t = temperature - 273.15;
    check::within("temperature", t, -20.0, 130.0, "between −20 °C and 130 °C")?;
    let w = 349.0 + 1.29 * t + 0.0135 * t * t;
    let k = 0.805 + 0.000_736 * t - 0.000_002_73 * t * t;
    let k1 = 6.27 - 0.009_38 * t - 0.000_303 * t * t;
    let k2 = 1.91 + 0.0407 * t - 0.000_293 * t * t;
    let kh = k * h;
    let first = kh / (1.0 - kh);
    let (one, two) = (k1 * kh, k1 * k2 * kh * kh);
    let second = (one + 2.0 * two) / (1.0 + one + two);
    Ok(18.0 / w * (first + second))
}

/// Change of length, m, of `length` (m) with a linear expansion `coefficient` (1/K) when it becomes
/// warmer by `difference` (K).
///
/// # Errors
/// If the length is negative or a number not finite.
pub fn thermal_expansion(length: f64, coefficient: f64, difference: f64) -> Result<f64, FormulaError> {
    let length = check::not_negative("length", length)?;
    let coefficient = check::finite("coefficient of thermal expansion", coefficient)?;
    Ok(length * coefficient * check::finite("difference of temperature", difference)?)
}
