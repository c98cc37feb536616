//! Dimensions of an involute spur pinion with full-depth teeth.
//!
//! In: module, teeth, pressure angle. Out: diameters, pitches, travel for each turn. It must not know
//! what it meshes with.
//!
//! Source: the standard proportions of ISO 53 and ISO 54 (addendum 1 m, dedendum 1.25 m), as any gear
//! handbook gives them.

use std::f64::consts::PI;

use crate::calc::{FormulaError, check};

/// Fewest teeth that a pinion of this form is made with.
const FEWEST_TEETH: f64 = 6.0;

/// A spur pinion.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pinion {
    module: f64,
    teeth: f64,
    pressure_angle: f64,
}

impl Pinion {
    /// A pinion of `module` (m) with so many `teeth` and a `pressure_angle` (rad).
    ///
    /// # Errors
    /// If the module is not above zero, the teeth are not a whole number of 6 or more, or the pressure
    /// angle is not between 10 and 35°.
    pub fn new(module: f64, teeth: f64, pressure_angle: f64) -> Result<Self, FormulaError> {
        if teeth < FEWEST_TEETH || teeth.fract() != 0.0 || !teeth.is_finite() {
            return Err(FormulaError::domain("teeth of the pinion", "a whole number, 6 or more"));
        }
        Ok(Self { module: check::positive("module", module)?, teeth, pressure_angle: usual_angle(pressure_angle)? })
    }

    /// Module, m.
    #[must_use]
    pub fn module(&self) -> f64 {
        self.module
    }

    /// Number of teeth.
    #[must_use]
    pub fn teeth(&self) -> f64 {
        self.teeth
    }

    /// Pressure angle, rad.
    #[must_use]
    pub fn pressure_angle(&self) -> f64 {
        self.pressure_angle
    }

    /// Pitch diameter, m: `m z`.
    #[must_use]
    pub fn pitch_diameter(&self) -> f64 {
        self.module * self.teeth
    }

    /// Tip diameter, m: `d + 2 m`.
    #[must_use]
    pub fn tip_diameter(&self) -> f64 {
        self.pitch_diameter() + 2.0 * self.module
    }

    /// Root diameter, m: `d − 2.5 m`.
    #[must_use]
    pub fn root_diameter(&self) -> f64 {
        self.pitch_diameter() - 2.5 * self.module
    }

    /// Base diameter, m: `d cos α`.
    #[must_use]
    pub fn base_diameter(&self) -> f64 {
        self.pitch_diameter() * self.pressure_angle.cos()
    }

    /// Pitch along the rack, m: `π m`.
    #[must_use]
    pub fn pitch(&self) -> f64 {
        PI * self.module
    }

    /// Pitch along the line of action, m: `π m cos α`.
    #[must_use]
    pub fn base_pitch(&self) -> f64 {
        self.pitch() * self.pressure_angle.cos()
    }
}

/// Module, m, of a diametral pitch (teeth for each inch of pitch diameter): `25.4 mm / P`.
///
/// # Errors
/// If the pitch is not above zero.
pub fn module_of_diametral_pitch(per_inch: f64) -> Result<f64, FormulaError> {
    Ok(0.0254 / check::positive("diametral pitch", per_inch)?)
}

/// Module, m, of a pitch along the rack (m): `p / π`.
///
/// # Errors
/// If the pitch is not above zero.
pub fn module_of_pitch(pitch: f64) -> Result<f64, FormulaError> {
    Ok(check::positive("pitch of the rack", pitch)? / PI)
}

/// Pitch along the rack, m, of teeth of a module (m): `π m`.
///
/// # Errors
/// If the module is not above zero.
pub fn rack_pitch(module: f64) -> Result<f64, FormulaError> {
    Ok(PI * check::positive("module", module)?)
}

/// The pressure angle (rad), if it is one that teeth are made with.
pub(super) fn usual_angle(angle: f64) -> Result<f64, FormulaError> {
    let (low, high) = (10_f64.to_radians(), 35_f64.to_radians());
    check::within("pressure angle", angle, low, high, "between 10° and 35°")
}
