//! EN 1991-1-4: peak velocity pressure by terrain (section 4), friction (7.5).
//!
//! In: basic wind speed, terrain, height. Out: speeds, pressures, factors.
//! It must not know the shape of the roof; that is [`closed_roof`], [`internal`] and [`canopy`].
//!
//! The recommended values are used throughout; a National Annex may have others.

pub mod canopy;
pub mod closed_roof;
pub mod internal;

use crate::calc::{FormulaError, check};

/// Density of air, kg/m³, the recommended value. EN 1991-1-4 4.5(1) note 2.
pub const AIR_DENSITY: f64 = 1.25;

/// Orography factor co of flat ground. EN 1991-1-4 4.3.3(1).
pub const FLAT_GROUND: f64 = 1.0;

/// Loaded area of a whole roof, m2: from this on the coefficients cpe,10 count. EN 1991-1-4 7.2.1(1).
pub const LOADED_AREA: f64 = 10.0;

/// Greatest height that section 4 covers, m. EN 1991-1-4 4.3.2(1).
pub const GREATEST_HEIGHT: f64 = 200.0;

/// The ground upwind. EN 1991-1-4 Table 4.1.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Terrain {
    /// 0: sea, or coast facing the open sea.
    Sea,
    /// I: lakes, flat ground without obstacles.
    Lake,
    /// II: low vegetation such as grass, single obstacles at least 20 of their heights apart.
    Country,
    /// III: villages, suburbs, forest.
    Suburb,
    /// IV: at least 15 % covered with buildings higher than 15 m on average.
    Town,
}

impl Terrain {
    /// Roughness length z0, m.
    #[must_use]
    pub const fn roughness_length(self) -> f64 {
        match self {
            Self::Sea => 0.003,
            Self::Lake => 0.01,
            Self::Country => 0.05,
            Self::Suburb => 0.3,
            Self::Town => 1.0,
        }
    }

    /// Height zmin below which the wind is taken as no weaker, m.
    #[must_use]
    pub const fn least_height(self) -> f64 {
        match self {
            Self::Sea | Self::Lake => 1.0,
            Self::Country => 2.0,
            Self::Suburb => 5.0,
            Self::Town => 10.0,
        }
    }

    /// Terrain factor kr = 0.19 (z0 / 0.05)^0.07. EN 1991-1-4 (4.5).
    #[must_use]
    pub fn factor(self) -> f64 {
        0.19 * (self.roughness_length() / Self::Country.roughness_length()).powf(0.07)
    }

    /// ln(z/z0), with z not below zmin.
    fn log_height(self, height: f64) -> Result<f64, FormulaError> {
        check::within("height above ground", height, 0.0, GREATEST_HEIGHT, "between the ground and 200 m")?;
        Ok((height.max(self.least_height()) / self.roughness_length()).ln())
    }
}

/// K of the probability factor as recommended. EN 1991-1-4 4.2(2), note 4.
pub const PROBABILITY_SHAPE: f64 = 0.2;
/// n of the probability factor as recommended. EN 1991-1-4 4.2(2), note 4.
pub const PROBABILITY_EXPONENT: f64 = 0.5;

/// Probability factor cprob for a yearly probability `p` of the wind being exceeded (0.02 for the
/// usual 50 years). `shape` K is 0.2 and `exponent` n is 0.5 unless a National Annex says
/// otherwise. EN 1991-1-4 (4.2).
///
/// # Errors
/// If `p` is not between 0 and 1, or so near 1 that the factor has no value.
pub fn probability_factor(p: f64, shape: f64, exponent: f64) -> Result<f64, FormulaError> {
    const NEEDS: &str = "between 0 and 1";
    if !(p > 0.0 && p < 1.0) {
        return Err(FormulaError::domain("yearly probability of the wind", NEEDS));
    }
    let term = |q: f64| 1.0 - shape * (-(1.0 - q).ln()).ln();
    let ratio = term(p) / term(0.02);
    if !ratio.is_finite() || ratio <= 0.0 {
        return Err(FormulaError::domain("yearly probability of the wind", NEEDS));
    }
    Ok(ratio.powf(exponent))
}

/// Roughness factor cr(z) = kr ln(z/z0) at `height` m, with z not below zmin. EN 1991-1-4 (4.4).
///
/// # Errors
/// If the height is not between 0 and 200 m.
pub fn roughness_factor(terrain: Terrain, height: f64) -> Result<f64, FormulaError> {
    Ok(terrain.factor() * terrain.log_height(height)?)
}

/// Mean wind speed vm(z), m/s, of a basic speed `basic` (m/s, 10-minute mean at 10 m over terrain
/// II). `orography` is co, 1 on flat ground. EN 1991-1-4 (4.3).
///
/// # Errors
/// If the speed is negative, the orography factor not above zero, or the height outside 0 to 200 m.
pub fn mean_speed(basic: f64, terrain: Terrain, height: f64, orography: f64) -> Result<f64, FormulaError> {
    check::not_negative("wind speed", basic)?;
    check::positive("orography factor", orography)?;
    Ok(roughness_factor(terrain, height)? * orography * basic)
}

/// Turbulence intensity Iv(z) = 1 / (co ln(z/z0)), with z not below zmin and kI = 1.
/// EN 1991-1-4 (4.7).
///
/// # Errors
/// If the orography factor is not above zero or the height outside 0 to 200 m.
pub fn turbulence_intensity(terrain: Terrain, height: f64, orography: f64) -> Result<f64, FormulaError> {
    check::positive("orography factor", orography)?;
    Ok(1.0 / (orography * terrain.log_height(height)?))
}

/// Peak velocity pressure qp(z), Pa: (1 + 7 Iv) ½ ρ vm². EN 1991-1-4 (4.8).
///
/// Arguments as in [`mean_speed`]; `density` in kg/m³, usually [`AIR_DENSITY`].
///
/// # Errors
/// As [`mean_speed`], or if the density is not above zero.
pub fn peak_velocity_pressure(basic: f64, terrain: Terrain, height: f64, orography: f64, density: f64) -> Result<f64, FormulaError> {
    check::positive("density of air", density)?;
    let mean = mean_speed(basic, terrain, height, orography)?;
    let turbulence = turbulence_intensity(terrain, height, orography)?;
    Ok((1.0 + 7.0 * turbulence) * 0.5 * density * mean * mean)
}

/// How rough a surface is to a wind that brushes along it. EN 1991-1-4 Table 7.10.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Surface {
    /// Steel, smooth concrete.
    Smooth,
    /// Rough concrete, tar-boards.
    Rough,
    /// Ripples, ribs, folds.
    VeryRough,
}

impl Surface {
    /// Friction coefficient cfr.
    #[must_use]
    pub const fn friction_coefficient(self) -> f64 {
        match self {
            Self::Smooth => 0.01,
            Self::Rough => 0.02,
            Self::VeryRough => 0.04,
        }
    }
}

/// Friction force, N, of a peak velocity pressure (Pa) along a surface of `area` m² (both faces of
/// a canopy). Ffr = cfr qp Afr, EN 1991-1-4 (5.7).
///
/// # Errors
/// If the pressure or the area is negative.
pub fn friction_force(pressure: f64, surface: Surface, area: f64) -> Result<f64, FormulaError> {
    check::not_negative("velocity pressure", pressure)?;
    check::not_negative("area brushed by the wind", area)?;
    Ok(surface.friction_coefficient() * pressure * area)
}
