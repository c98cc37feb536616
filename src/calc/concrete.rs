//! Concrete gaining strength with age, and its stiffness.
//!
//! In: strength at 28 days in Pa, age in s, density in kg/m³. Out: shares of the 28-day strength, ages, moduli in Pa.
//! It must not decide when concrete is strong enough: that is a rule.
//!
//! All of it is for curing kept moist near 20 °C. Below about 5 °C concrete hardly hardens, and freshly placed
//! concrete that freezes is spoiled: no formula here knows the weather.

use super::FormulaError;
use super::check::{not_negative, positive, within};

/// One day, s.
const DAY: f64 = 86_400.0;
/// One pound-force per square inch, Pa.
const PSI: f64 = 6_894.757_293_168;
/// One megapascal, Pa.
const MPA: f64 = 1.0e6;

/// Cement and curing as ACI 209 tells them apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AciCuring {
    /// Type I (ordinary) cement, kept moist.
    MoistTypeI,
    /// Type III (early strength) cement, kept moist.
    MoistTypeIII,
    /// Type I cement, steam cured.
    SteamTypeI,
    /// Type III cement, steam cured.
    SteamTypeIII,
}

impl AciCuring {
    /// The constants a (days) and b of `t/(a + b t)`.
    fn constants(self) -> (f64, f64) {
        match self {
            Self::MoistTypeI => (4.0, 0.85),
            Self::MoistTypeIII => (2.3, 0.92),
            Self::SteamTypeI => (1.0, 0.95),
            Self::SteamTypeIII => (0.70, 0.98),
        }
    }
}

/// Share of the 28-day strength at `age` (s): `t/(a + b t)`, t in days. It passes 1 by 0.7 % at 28 days for
/// type I, as printed.
///
/// # Errors
/// When the age is negative.
///
/// Source: ACI 209R-92, equation 2-1 and Table 2.2.1.
pub fn share_of_strength_aci(curing: AciCuring, age: f64) -> Result<f64, FormulaError> {
    let t = not_negative("the age of the concrete", age)? / DAY;
    let (a, b) = curing.constants();
    Ok(t / (a + b * t))
}

/// Age (s) at which ACI 209 reaches a `share` of the 28-day strength: `a s/(1 − b s)`.
///
/// # Errors
/// When the share is negative or never reached (it tends to 1/b).
///
/// Source: ACI 209R-92, equation 2-1 turned round.
pub fn age_for_share_aci(curing: AciCuring, share: f64) -> Result<f64, FormulaError> {
    let (a, b) = curing.constants();
    not_negative("the share of the strength", share)?;
    if share * b >= 1.0 {
        return Err(FormulaError::domain("the share of the strength", "one that is ever reached"));
    }
    Ok(a * share / (1.0 - b * share) * DAY)
}

/// Hardening class of the cement as EN 1992-1-1 has them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CementClass {
    /// Rapid: CEM 42.5 R, 52.5 N, 52.5 R.
    R,
    /// Normal: CEM 32.5 R, 42.5 N.
    N,
    /// Slow: CEM 32.5 N.
    S,
}

impl CementClass {
    fn coefficient(self) -> f64 {
        match self {
            Self::R => 0.20,
            Self::N => 0.25,
            Self::S => 0.38,
        }
    }
}

/// Share of the mean 28-day strength at `age` (s): `exp(s (1 − √(28/t)))`, t in days.
///
/// # Errors
/// When the age is negative.
///
/// Source: EN 1992-1-1:2004, 3.1.2(6), equation 3.2.
pub fn share_of_strength_eurocode(class: CementClass, age: f64) -> Result<f64, FormulaError> {
    let t = not_negative("the age of the concrete", age)? / DAY;
    Ok((class.coefficient() * (1.0 - (28.0 / t).sqrt())).exp())
}

/// Age (s) at which EN 1992-1-1 reaches a `share` of the mean 28-day strength.
///
/// # Errors
/// When the share is not positive or never reached (it tends to exp s).
///
/// Source: EN 1992-1-1:2004, equation 3.2 turned round.
pub fn age_for_share_eurocode(class: CementClass, share: f64) -> Result<f64, FormulaError> {
    positive("the share of the strength", share)?;
    let root = 1.0 - share.ln() / class.coefficient();
    if root <= 0.0 {
        return Err(FormulaError::domain("the share of the strength", "one that is ever reached"));
    }
    Ok(28.0 / root.powi(2) * DAY)
}

/// Modulus of elasticity (Pa) of normal-weight concrete from its strength (Pa): `57 000 √f'c` in psi.
///
/// # Errors
/// When the strength is not positive.
///
/// Source: ACI 318-05, 8.5.1 (318-19, 19.2.2.1). The SI edition rounds to [`modulus_aci_metric`], 0.7 % lower.
pub fn modulus_aci(strength: f64) -> Result<f64, FormulaError> {
    positive("the strength of the concrete", strength)?;
    Ok(57_000.0 * (strength / PSI).sqrt() * PSI)
}

/// Modulus of elasticity (Pa) from strength (Pa) and `density` (kg/m³): `33 w^1.5 √f'c` in lb/ft³ and psi, for
/// densities of 90 to 160 lb/ft³.
///
/// # Errors
/// When the strength is not positive or the density is outside 1440 to 2570 kg/m³.
///
/// Source: ACI 318-05, 8.5.1.
pub fn modulus_aci_by_density(strength: f64, density: f64) -> Result<f64, FormulaError> {
    const POUND_PER_CUBIC_FOOT: f64 = 16.018_463_373_960_14;
    positive("the strength of the concrete", strength)?;
    let w = density / POUND_PER_CUBIC_FOOT;
    within("the density of the concrete", w, 89.9, 160.5, "from 1440 to 2570 kg/m³")?;
    Ok(33.0 * w.powf(1.5) * (strength / PSI).sqrt() * PSI)
}

/// Secant modulus of elasticity (Pa) from the characteristic strength (Pa): `22 GPa (fcm/10 MPa)^0.3` with
/// `fcm = fck + 8 MPa`, quartzite aggregate (limestone 10 %, sandstone 30 % less, basalt 20 % more).
///
/// # Errors
/// When the strength is not positive.
///
/// Source: EN 1992-1-1:2004, Table 3.1 and 3.1.3(2).
pub fn modulus_eurocode(characteristic: f64) -> Result<f64, FormulaError> {
    positive("the strength of the concrete", characteristic)?;
    let mean = characteristic / MPA + 8.0;
    Ok(22.0e9 * (mean / 10.0).powf(0.3))
}
