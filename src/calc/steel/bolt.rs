//! Bolts between steel parts, bearing type.
//!
//! In: diameter, grade stresses, plates, forces. Out: what a bolt carries and combined ratios.
//! It must not know the bolt's name. Source: AISC 360-16 §J3 (ASD, Ω 2.00); EN 1993-1-8 §3.6, Table 3.4.

use std::f64::consts::PI;

use super::member::GAMMA_M2;

/// Safety factor of bolts, ASD. Source: AISC 360-16 §J3.6.
pub const OMEGA_BOLT: f64 = 2.0;

/// Nominal stresses (Pa) of a bolt on its full shank area. Source of values: AISC 360-16 Table J3.2.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NominalStress {
    /// Tension Fnt.
    pub tension: f64,
    /// Shear Fnv.
    pub shear: f64,
}

/// Nominal stresses of a threaded part from its tensile strength (Pa): 0.75·Fu in tension, 0.450·Fu in shear with threads
/// in the shear plane, 0.563·Fu without. Source: AISC 360-16 Table J3.2, last two lines.
#[must_use]
pub fn threaded_part(tensile_strength: f64, threads_in_plane: bool) -> NominalStress {
    let shear = if threads_in_plane { 0.450 } else { 0.563 };
    NominalStress { tension: 0.75 * tensile_strength, shear: shear * tensile_strength }
}

/// Area of the shank (m²).
#[must_use]
pub fn shank_area(diameter: f64) -> f64 {
    PI * diameter * diameter / 4.0
}

/// Allowable tension (N). Source: AISC 360-16 eq. J3-1.
#[must_use]
pub fn aisc_tension(diameter: f64, stress: NominalStress) -> f64 {
    stress.tension * shank_area(diameter) / OMEGA_BOLT
}

/// Allowable shear (N) for one shear plane. Source: AISC 360-16 eq. J3-1.
#[must_use]
pub fn aisc_shear(diameter: f64, stress: NominalStress) -> f64 {
    stress.shear * shank_area(diameter) / OMEGA_BOLT
}

/// Property class of a bolt, ISO 898-1.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PropertyClass {
    /// 4.6.
    C4_6,
    /// 5.6.
    C5_6,
    /// 8.8.
    C8_8,
    /// 10.9.
    C10_9,
    /// Stainless A2-70 or A4-70.
    A70,
}

impl PropertyClass {
    /// The class of a bolt of that tensile strength (Pa): that of Table 3.1 whose nominal strength is nearest, 6.8 as 5.6 on the safe
    /// side. Source: EN 1993-1-8 Table 3.1; the limits between them are common practice, no source.
    #[must_use]
    pub fn of_strength(tensile_strength: f64) -> Self {
        match tensile_strength / 1.0e6 {
            t if t < 450.0 => Self::C4_6,
            t if t < 650.0 => Self::C5_6,
            t if t < 750.0 => Self::A70,
            t if t < 900.0 => Self::C8_8,
            _ => Self::C10_9,
        }
    }

    /// Ultimate strength fub (Pa). Source: EN 1993-1-8 Table 3.1; ISO 3506-1 for stainless.
    #[must_use]
    pub fn tensile_strength(self) -> f64 {
        match self {
            Self::C4_6 => 400.0e6,
            Self::C5_6 => 500.0e6,
            Self::C8_8 => 800.0e6,
            Self::C10_9 => 1000.0e6,
            Self::A70 => 700.0e6,
        }
    }

    /// Factor αv with threads in the shear plane. Source: EN 1993-1-8 Table 3.4 (stainless: EN 1993-1-4 §6.2, 0.5).
    #[must_use]
    pub fn shear_factor(self) -> f64 {
        match self {
            Self::C4_6 | Self::C5_6 | Self::C8_8 => 0.6,
            Self::C10_9 | Self::A70 => 0.5,
        }
    }
}

/// Stress area (m²) of a coarse metric thread, diameter and pitch in m: `π/4·(d − 0.9382·P)²`. Source: ISO 898-1 §9.1.6.
#[must_use]
pub fn stress_area(diameter: f64, pitch: f64) -> f64 {
    PI / 4.0 * (diameter - 0.938_2 * pitch).powi(2)
}

/// Design shear (N) for one plane through the thread (stress area, m²): αv·fub·As/γM2. Source: EN 1993-1-8 Table 3.4.
#[must_use]
pub fn en_shear(class: PropertyClass, stress_area: f64) -> f64 {
    class.shear_factor() * class.tensile_strength() * stress_area / GAMMA_M2
}

/// Design tension (N): 0.9·fub·As/γM2. Source: EN 1993-1-8 Table 3.4.
#[must_use]
pub fn en_tension(class: PropertyClass, stress_area: f64) -> f64 {
    0.9 * class.tensile_strength() * stress_area / GAMMA_M2
}
