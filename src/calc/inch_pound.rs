//! The inch-pound units in which some standards write their empirical formulas.
//!
//! In: nothing. Out: the size of each unit in SI base units.
//! It must not know a formula. Source: NIST Special Publication 811, Appendix B (exact definitions).

/// Inch, m.
pub const INCH: f64 = 0.0254;
/// Foot, m.
pub const FOOT: f64 = 0.3048;
/// Pound-force, N.
pub const POUND: f64 = 4.448_221_615_260_5;
/// Pound-force per square inch, Pa.
pub const PSI: f64 = POUND / (INCH * INCH);
/// Pound-force per square foot, Pa.
pub const PSF: f64 = POUND / (FOOT * FOOT);
/// Pound-force per cubic foot, N/m³.
pub const PCF: f64 = POUND / (FOOT * FOOT * FOOT);
