//! How far apart the two tracks may be from what was drawn: published limits for crane runways.
//!
//! In: the distance between the tracks, a class. Out: the allowed deviation. It must not know a wheel.
//! The limits are for flanged or flat wheels that span metres; a vee wheel has no float, so the track
//! across from it must leave room for all of it.

use crate::calc::{FormulaError, check};

/// Tolerance class of ISO 12488-1 by the way travelled in a lifetime.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Class {
    /// More than 50 000 km.
    One,
    /// 10 000 to 50 000 km.
    Two,
    /// Less than 10 000 km.
    Three,
}

/// Allowed deviation, m, either way, of the `span` (m) of two rails when they are built.
///
/// ±a up to 16 m, ±(a + 0.25 (S − 16)) mm above, with a cap. Source: ISO 12488-1, construction
/// tolerances, as a national edition reproduces them.
///
/// # Errors
/// If the span is not above zero.
pub fn span_tolerance(span: f64, class: Class) -> Result<f64, FormulaError> {
    let span = check::positive("distance between the tracks", span)?;
    let (base, cap) = match class {
        Class::One => (3.0, 10.0),
        Class::Two => (5.0, 15.0),
        Class::Three => (8.0, 20.0),
    };
    let beyond: f64 = (span - 16.0).max(0.0);
    Ok((base + 0.25 * beyond).min(cap) / 1000.0)
}
