//! The whole pier swinging: bending, rocking and swaying put together.
//!
//! In: stiffnesses in N/m and N·m/rad, masses with their heights. Out: frequencies in Hz.
//! It must not know where the stiffnesses come from.

use std::f64::consts::TAU;

use crate::calc::FormulaError;
use crate::calc::check::{not_negative, positive};

/// A mass that rocks with the footing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RockingMass {
    /// Mass, kg.
    pub mass: f64,
    /// Height of its centre of mass above the underside of the footing, m.
    pub height: f64,
    /// Moment of inertia about its own centre of mass, kg·m²; a slender column of length L has `m L²/12`.
    pub own_inertia: f64,
}

/// Moment of inertia (kg·m²) about the underside of the footing: `Σ (m h² + J)`.
///
/// # Errors
/// When a mass or an inertia is negative.
pub fn rocking_inertia(masses: &[RockingMass]) -> Result<f64, FormulaError> {
    masses.iter().try_fold(0.0, |sum, part| {
        not_negative("a mass on the footing", part.mass)?;
        not_negative("a moment of inertia on the footing", part.own_inertia)?;
        Ok(sum + part.mass * part.height.powi(2) + part.own_inertia)
    })
}

/// Frequency (Hz) of a stiff pier rocking on the ground: `1/2π √(Kφ/J)`, `stiffness` in N·m/rad and
/// `inertia` in kg·m² about the underside of the footing.
///
/// # Errors
/// When an argument is not positive.
pub fn rocking_frequency(stiffness: f64, inertia: f64) -> Result<f64, FormulaError> {
    positive("the rocking stiffness", stiffness)?;
    positive("the moment of inertia that rocks", inertia)?;
    Ok((stiffness / inertia).sqrt() / TAU)
}

/// Frequency (Hz) of pier and footing swaying on the ground as one: `1/2π √(K/m)`, `stiffness` in N/m,
/// `mass` of all that moves in kg.
///
/// # Errors
/// When an argument is not positive.
pub fn swaying_frequency(stiffness: f64, mass: f64) -> Result<f64, FormulaError> {
    positive("the swaying stiffness", stiffness)?;
    positive("the mass that sways", mass)?;
    Ok((stiffness / mass).sqrt() / TAU)
}

/// Lowest frequency (Hz) of a pier that bends, rocks and sways at once, from the frequency of each alone:
/// `1/f² = Σ 1/fᵢ²`. It never errs upward: the true frequency lies at or above it.
///
/// # Errors
/// When there is no frequency or one is not positive.
///
/// Source: Dunkerley's rule, any vibration handbook.
pub fn together(frequencies: &[f64]) -> Result<f64, FormulaError> {
    if frequencies.is_empty() {
        return Err(FormulaError::domain("the frequencies to put together", "at least one"));
    }
    let softness = frequencies.iter().try_fold(0.0, |sum, &f| Ok(sum + positive("a natural frequency", f)?.powi(-2)))?;
    Ok(softness.sqrt().recip())
}
