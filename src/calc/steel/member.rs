//! Elastic bending, shear and their combination in steel members.
//!
//! In: section modulus, shear area, steel, forces. Out: strengths (ASD, or design resistance) and ratios.
//! It must not know a shape. Tipping sideways is in `tipping`, thin walls in `walls`.

/// Safety factor of bending, ASD. Source: AISC 360-16 §F1.
pub const OMEGA_BENDING: f64 = 1.67;
/// Safety factor of shear, ASD, for all but stocky rolled webs. Source: AISC 360-16 §G1.
pub const OMEGA_SHEAR: f64 = 1.67;
/// Safety factor of tension yielding, ASD. Source: AISC 360-16 §D2.
pub const OMEGA_TENSION_YIELD: f64 = 1.67;
/// Safety factor of rupture, ASD. Source: AISC 360-16 §D2, §J4.
pub const OMEGA_RUPTURE: f64 = 2.0;

/// Allowable moment (N·m) at first yield: Fy·S/Ω, modulus S in m³, yield stress in Pa.
/// On the safe side of AISC 360-16 chapter F, which lets compact sections reach the plastic moment.
#[must_use]
pub fn aisc_moment(yield_stress: f64, modulus: f64) -> f64 {
    yield_stress * modulus / OMEGA_BENDING
}

/// Allowable shear (N): 0.6·Fy·Aw/Ω for webs that do not buckle (Cv = 1), shear area in m².
/// Rectangular tubes: 2·h·t with h the flat height; round tubes: half the area. Source: AISC 360-16 §G2.1, §G4, §G5.
#[must_use]
pub fn aisc_shear(yield_stress: f64, shear_area: f64) -> f64 {
    0.6 * yield_stress * shear_area / OMEGA_SHEAR
}

/// Allowable tension (N): yielding of the gross section or rupture of the effective net section (areas m², stresses Pa).
/// Source: AISC 360-16 §D2, eq. D2-1, D2-2.
#[must_use]
pub fn aisc_tension(yield_stress: f64, tensile_strength: f64, gross_area: f64, net_area: f64) -> f64 {
    (yield_stress * gross_area / OMEGA_TENSION_YIELD).min(tensile_strength * net_area / OMEGA_RUPTURE)
}

/// Partial factor γM0. Source: EN 1993-1-1 §6.1 (recommended value).
pub const GAMMA_M0: f64 = 1.0;
/// Partial factor γM1. Source: EN 1993-1-1 §6.1 (recommended value).
pub const GAMMA_M1: f64 = 1.0;
/// Partial factor γM2. Source: EN 1993-1-1 §6.1, EN 1993-1-8 Table 2.1 (recommended value).
pub const GAMMA_M2: f64 = 1.25;

/// Design moment (N·m) at first yield: Wel·fy/γM0. Source: EN 1993-1-1 eq. 6.14.
#[must_use]
pub fn en_moment(yield_stress: f64, modulus: f64) -> f64 {
    yield_stress * modulus / GAMMA_M0
}

/// Design shear (N): Av·(fy/√3)/γM0. Source: EN 1993-1-1 eq. 6.18.
#[must_use]
pub fn en_shear(yield_stress: f64, shear_area: f64) -> f64 {
    shear_area * yield_stress / 3.0_f64.sqrt() / GAMMA_M0
}

/// Design tension (N): A·fy/γM0 or 0.9·Anet·fu/γM2. Source: EN 1993-1-1 eq. 6.6, 6.7.
#[must_use]
pub fn en_tension(yield_stress: f64, tensile_strength: f64, gross_area: f64, net_area: f64) -> f64 {
    (yield_stress * gross_area / GAMMA_M0).min(0.9 * net_area * tensile_strength / GAMMA_M2)
}
