//! ASCE 7-16: velocity pressure and internal pressure for buildings (chapter 26).
//!
//! In: wind speed, exposure, heights, openings. Out: factors and pressures (Pa).
//! It must not know the shape of the roof; that is [`closed_roof`] and [`free_roof`].
//!
//! This is the 2016 edition: 7-22 has other exposure constants and moves Kd out of the velocity
//! pressure into the pressure equations. The two must not be mixed.

pub mod closed_roof;
pub mod free_roof;

use crate::calc::{FormulaError, check};

/// Gust-effect factor of a rigid building, G. ASCE 7-16 §26.11.1.
pub const GUST_EFFECT: f64 = 0.85;

/// Wind directionality factor of a building, Kd. ASCE 7-16 Table 26.6-1.
pub const DIRECTIONALITY: f64 = 0.85;

/// Topographic factor Kzt of flat ground. ASCE 7-16 §26.8.2.
pub const FLAT_GROUND: f64 = 1.0;

/// Ground elevation that is on the safe side anywhere, m. ASCE 7-16 Table 26.9-1 note 1.
pub const SEA_LEVEL: f64 = 0.0;

/// Height below which the velocity pressure does not fall any further: 15 ft, m. ASCE 7-16
/// Table 26.10-1.
pub const LEAST_HEIGHT: f64 = 4.572;

/// The ground upwind. ASCE 7-16 §26.7.3.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Exposure {
    /// Town, suburb, woodland: many obstructions the size of a house or larger.
    B,
    /// Open terrain with scattered obstructions lower than 30 ft.
    C,
    /// Flat, unobstructed ground and water.
    D,
}

impl Exposure {
    /// Power-law exponent α. ASCE 7-16 Table 26.11-1.
    #[must_use]
    pub const fn exponent(self) -> f64 {
        match self {
            Self::B => 7.0,
            Self::C => 9.5,
            Self::D => 11.5,
        }
    }

    /// Gradient height zg (1200, 900, 700 ft), m. ASCE 7-16 Table 26.11-1.
    #[must_use]
    pub const fn gradient_height(self) -> f64 {
        match self {
            Self::B => 365.76,
            Self::C => 274.32,
            Self::D => 213.36,
        }
    }
}

/// Velocity pressure exposure coefficient Kz at `height` (m above ground).
///
/// By the formula of Table 26.10-1 note 1, Kz = 2.01 (z/zg)^(2/α), not by the table's rounded
/// values, which lie up to 0.8 % below it; below 15 ft it stays at its value there.
///
/// # Errors
/// If the height is negative or above the gradient height of the exposure.
pub fn exposure_coefficient(exposure: Exposure, height: f64) -> Result<f64, FormulaError> {
    let gradient = exposure.gradient_height();
    check::within(
        "height above ground",
        height,
        0.0,
        gradient,
        "between the ground and the gradient height of the exposure (700 to 1200 ft)",
    )?;
    Ok(2.01 * (height.max(LEAST_HEIGHT) / gradient).powf(2.0 / exposure.exponent()))
}

/// Ground elevation factor Ke for a site `elevation` m above sea level (below it: negative).
///
/// Ke = exp(-0.000119 zg), ASCE 7-16 Table 26.9-1 note 2. Ke = 1 is always allowed.
///
/// # Errors
/// If the elevation is not a number.
pub fn ground_elevation_factor(elevation: f64) -> Result<f64, FormulaError> {
    check::finite("ground elevation", elevation).map(|above_sea| (-0.000_119 * above_sea).exp())
}

/// Velocity pressure q, Pa, of a basic wind speed `speed` (m/s, 3-second gust, strength level).
///
/// q = 0.613 Kz Kzt Kd Ke V², ASCE 7-16 equation 26.10-1.SI; `kz` from [`exposure_coefficient`],
/// `kzt` the topographic factor (1 on flat ground, §26.8), `kd` from [`DIRECTIONALITY`], `ke` from
/// [`ground_elevation_factor`].
///
/// # Errors
/// If a factor is not above zero, or the speed is negative.
pub fn velocity_pressure(speed: f64, kz: f64, kzt: f64, kd: f64, ke: f64) -> Result<f64, FormulaError> {
    check::not_negative("wind speed", speed)?;
    check::positive("velocity pressure exposure coefficient", kz)?;
    check::positive("topographic factor", kzt)?;
    check::positive("wind directionality factor", kd)?;
    check::positive("ground elevation factor", ke)?;
    Ok(0.613 * kz * kzt * kd * ke * speed * speed)
}

/// How far the building is closed. ASCE 7-16 §26.12.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Enclosure {
    /// Closed on all sides.
    Enclosed,
    /// None of the others.
    PartiallyOpen,
    /// One wall is open and the rest is not: the wind blows the inside up like a bag.
    PartiallyEnclosed,
    /// Each wall at least 80 % open.
    Open,
}

impl Enclosure {
    /// Internal pressure coefficient `(GCpi)`, to be taken both ways. ASCE 7-16 Table 26.13-1.
    #[must_use]
    pub const fn internal_coefficient(self) -> f64 {
        match self {
            Self::Enclosed | Self::PartiallyOpen => 0.18,
            Self::PartiallyEnclosed => 0.55,
            Self::Open => 0.0,
        }
    }
}

/// Whether one open wall makes the building partially enclosed.
///
/// `wall_openings` and `wall_area` belong to the wall that takes the wind (m²), `other_openings`
/// and `other_area` to the rest of the envelope, roof included (m²). ASCE 7-16 §26.2: Ao > 1.10
/// Aoi, Ao above the smaller of 4 ft² and 1 % of the wall, and Aoi/Agi at most 0.20.
///
/// # Errors
/// If an area is negative, or the rest of the envelope has none.
pub fn is_partially_enclosed(wall_openings: f64, wall_area: f64, other_openings: f64, other_area: f64) -> Result<bool, FormulaError> {
    const FOUR_SQUARE_FEET: f64 = 0.371_612_16;
    check::not_negative("openings in the wall", wall_openings)?;
    check::not_negative("area of the wall", wall_area)?;
    check::not_negative("openings elsewhere", other_openings)?;
    check::positive("area of the rest of the envelope", other_area)?;
    Ok(wall_openings > 1.10 * other_openings
        && wall_openings > FOUR_SQUARE_FEET.min(0.01 * wall_area)
        && other_openings / other_area <= 0.20)
}
