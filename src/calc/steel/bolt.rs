//! Bolts between steel parts, bearing type.
//!
//! In: diameter, grade stresses, plates, forces. Out: what a bolt carries and combined ratios.
//! It must not know the bolt's name. Source: AISC 360-16 §J3 (ASD, Ω 2.00); EN 1993-1-8 §3.6, Table 3.4.

use std::f64::consts::PI;

use super::member::GAMMA_M2;
use crate::calc::FormulaError;
use crate::calc::check::positive;

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

/// Nominal tension stress (Pa) left beside a shear stress (Pa, ASD): `1.3·Fnt − Ω·Fnt/Fnv·frv ≤ Fnt`.
/// Source: AISC 360-16 §J3.7, eq. J3-3b.
#[must_use]
pub fn aisc_tension_beside_shear(stress: NominalStress, shear_stress: f64) -> f64 {
    (1.3 * stress.tension - OMEGA_BOLT * stress.tension / stress.shear * shear_stress).clamp(0.0, stress.tension)
}

/// Allowable bearing (N) of a bolt on a plate: `2.4·d·t·Fu` or tearing out `1.2·lc·t·Fu`, over Ω; lengths in m, lc clear
/// from hole to edge or next hole. Deformation at the hole counts. Source: AISC 360-16 eq. J3-6a, J3-6c.
#[must_use]
pub fn aisc_bearing(diameter: f64, thickness: f64, clear: f64, tensile_strength: f64) -> f64 {
    (2.4 * diameter).min(1.2 * clear).max(0.0) * thickness * tensile_strength / OMEGA_BOLT
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

/// Ratio of a bolt sheared and pulled at once: `Fv/Fv,Rd + Ft/(1.4·Ft,Rd)`, and Ft/Ft,Rd alone.
/// Source: EN 1993-1-8 Table 3.4.
#[must_use]
pub fn en_combined_ratio(shear: f64, shear_resistance: f64, tension: f64, tension_resistance: f64) -> f64 {
    (shear / shear_resistance + tension / (1.4 * tension_resistance)).max(tension / tension_resistance)
}

/// Distances of a bolt's hole, m. Along is the direction of the force.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hole {
    /// Bolt diameter d.
    pub diameter: f64,
    /// Hole diameter d0.
    pub hole: f64,
    /// End distance along the force e1.
    pub end: f64,
    /// Edge distance across the force e2.
    pub edge: f64,
    /// Spacing along the force p1, if there is a next bolt.
    pub spacing_along: Option<f64>,
    /// Spacing across the force p2, if there is a next bolt.
    pub spacing_across: Option<f64>,
}

/// Design bearing (N) of a bolt on a plate (thickness m, strengths Pa): `k1·αb·fu·d·t/γM2`.
/// Source: EN 1993-1-8 Table 3.4.
///
/// # Errors
/// Where a distance is below the least of Table 3.3 (1.2·d0 to ends and edges, 2.2·d0 and 2.4·d0 between bolts).
pub fn en_bearing(hole: &Hole, thickness: f64, plate_strength: f64, bolt_strength: f64) -> Result<f64, FormulaError> {
    let d0 = positive("the hole's diameter", hole.hole)?;
    let short = |distance: Option<f64>, least: f64| distance.is_some_and(|d| d < least * d0 - 1e-9);
    if short(Some(hole.end), 1.2) || short(Some(hole.edge), 1.2) {
        return Err(FormulaError::domain("the bolt's end and edge distances", "at least 1.2 hole diameters"));
    }
    if short(hole.spacing_along, 2.2) || short(hole.spacing_across, 2.4) {
        return Err(FormulaError::domain("the bolts' spacing", "at least 2.2 hole diameters along and 2.4 across the force"));
    }
    let end = hole.end / (3.0 * d0);
    let between = hole.spacing_along.map_or(f64::INFINITY, |p| p / (3.0 * d0) - 0.25);
    let alpha = end.min(between).min(bolt_strength / plate_strength).min(1.0);
    let edge = 2.8 * hole.edge / d0 - 1.7;
    let beside = hole.spacing_across.map_or(f64::INFINITY, |p| 1.4 * p / d0 - 1.7);
    let k1 = edge.min(beside).min(2.5);
    Ok(k1 * alpha * plate_strength * hole.diameter * thickness / GAMMA_M2)
}

/// Design punching (N) of a pulled bolt through a plate: `0.6·π·dm·tp·fu/γM2`, dm the mean head or nut width (m).
/// Source: EN 1993-1-8 Table 3.4.
#[must_use]
pub fn en_punching(mean_head: f64, thickness: f64, plate_strength: f64) -> f64 {
    0.6 * PI * mean_head * thickness * plate_strength / GAMMA_M2
}
