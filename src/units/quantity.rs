//! What may pass for what: a mass given where its weight is due, two values that are the same.
//!
//! In come dimensions, or values in SI base units; out comes yes or no.
//! This file must not know units as they are written, nor the language.

use super::dim::Dim;

/// Standard acceleration of free fall, m/s². Source: NIST SP 811 (2008) appendix B.8,
/// "acceleration of free fall, standard (gn)", exact.
pub const STANDARD_GRAVITY: f64 = 9.80665;

/// May a quantity of dimension `given` be taken as the weight of that mass where `wanted` is due?
///
/// True for kg where N is due, lb/ft2 where Pa is due, kg/m where N/m is due. The value times
/// [`STANDARD_GRAVITY`] is then the weight. A pound-force per area (`psf`) is a force already.
#[must_use]
pub fn as_weight(wanted: Dim, given: Dim) -> bool {
    given.0[1] == 1 && given.times(Dim::ACCELERATION) == wanted
}

/// The other way round: may a weight of dimension `given` be taken as a mass where `wanted` is due?
///
/// True for kN/m3 where kg/m3 is due. The value over [`STANDARD_GRAVITY`] is then the mass.
#[must_use]
pub fn as_mass(wanted: Dim, given: Dim) -> bool {
    as_weight(given, wanted)
}

/// Are two values the same but for the rounding of binary arithmetic (1e-12 of the larger)?
///
/// Ten times 0.1 in is not bit for bit 1 in; a check at exactly its limit must not turn on that.
#[must_use]
#[allow(clippy::float_cmp)] // equality settles infinities, for which the difference is no number
pub fn same(a: f64, b: f64) -> bool {
    let apart = (a - b).abs();
    a == b || (apart.is_finite() && apart <= 1e-12 * a.abs().max(b.abs()))
}
