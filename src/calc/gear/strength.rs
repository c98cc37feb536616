//! Bending strength of a tooth by Lewis.
//!
//! In: force, tooth dimensions, speed. Out: stress, allowed force. It must not know materials.
//!
//! Source: Lewis' equation `σ = K_v F / (b m Y)` with Barth's velocity factors and the form factors Y of
//! Budynas and Nisbett, *Shigley's Mechanical Engineering Design*, Table 14-2 (20° full depth). It
//! takes the whole load on the tip of one tooth and knows no stress concentration: for slow, hand-sized
//! drives a usual first check, not a gear rating.

use super::geometry::Pinion;
use crate::calc::{FormulaError, check};

/// Y by number of teeth. Another table in print differs by up to 1.1 %.
const FORM_FACTORS: [(f64, f64); 25] = [
    (12.0, 0.245),
    (13.0, 0.261),
    (14.0, 0.277),
    (15.0, 0.290),
    (16.0, 0.296),
    (17.0, 0.303),
    (18.0, 0.309),
    (19.0, 0.314),
    (20.0, 0.322),
    (21.0, 0.328),
    (22.0, 0.331),
    (24.0, 0.337),
    (26.0, 0.346),
    (28.0, 0.353),
    (30.0, 0.359),
    (34.0, 0.371),
    (38.0, 0.384),
    (43.0, 0.397),
    (50.0, 0.409),
    (60.0, 0.422),
    (75.0, 0.435),
    (100.0, 0.447),
    (150.0, 0.460),
    (300.0, 0.472),
    (400.0, 0.480),
];

/// Y of a rack in the same table.
const RACK_FORM_FACTOR: f64 = 0.485;

/// Speeds in Barth's factors are feet in a minute.
const FOOT_PER_MINUTE: f64 = 0.3048 / 60.0;

/// How the teeth were made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Making {
    /// Cast.
    Cast,
    /// Cut or milled.
    Cut,
}

/// Form factor Y of a pinion with 20° full-depth teeth, linear between the table's rows; beyond 400
/// teeth towards the rack's.
///
/// # Errors
/// If the pinion has fewer than 12 teeth or another pressure angle, for which the table has no value.
pub fn form_factor(pinion: &Pinion) -> Result<f64, FormulaError> {
    let angle = pinion.pressure_angle();
    if (angle - 20_f64.to_radians()).abs() > 1e-6 {
        return Err(FormulaError::domain("pressure angle for Lewis' form factor", "20°"));
    }
    let teeth = pinion.teeth();
    check::within("teeth for Lewis' form factor", teeth, 12.0, f64::INFINITY, "12 or more")?;
    for pair in FORM_FACTORS.windows(2) {
        if let &[(z0, y0), (z1, y1)] = pair
            && teeth <= z1
        {
            return Ok(y0 + (y1 - y0) * (teeth - z0) / (z1 - z0));
        }
    }
    // above the last row Y goes with 1/z to the rack's, which is a gear of endless teeth
    Ok(RACK_FORM_FACTOR - (RACK_FORM_FACTOR - 0.480) * 400.0 / teeth)
}

/// Form factor Y of a rack with 20° full-depth teeth.
#[must_use]
pub fn rack_form_factor() -> f64 {
    RACK_FORM_FACTOR
}

/// Barth's velocity factor, 1 or more, at a `speed` (m/s) of the pitch line: `(1200 + V)/1200` for cut,
/// `(600 + V)/600` for cast teeth, V in ft/min.
///
/// # Errors
/// If the speed is negative.
pub fn velocity_factor(speed: f64, making: Making) -> Result<f64, FormulaError> {
    let feet = check::not_negative("speed of the rack", speed)? / FOOT_PER_MINUTE;
    let scale = match making {
        Making::Cast => 600.0,
        Making::Cut => 1200.0,
    };
    Ok(1.0 + feet / scale)
}

/// Pull, N, at which a tooth reaches the `allowed` stress (Pa): `σ b m Y / K_v`.
///
/// # Errors
/// As [`tooth_stress`].
pub fn force_allowed(allowed: f64, width: f64, module: f64, form: f64, velocity: f64) -> Result<f64, FormulaError> {
    let allowed = check::not_negative("allowed stress", allowed)?;
    Ok(allowed * section(width, module, form)? / fast(velocity)?)
}

fn fast(velocity: f64) -> Result<f64, FormulaError> {
    check::within("velocity factor", velocity, 1.0, f64::INFINITY, "1 or more")
}

fn section(width: f64, module: f64, form: f64) -> Result<f64, FormulaError> {
    Ok(check::positive("width of the teeth", width)? * check::positive("module", module)? * check::positive("form factor", form)?)
}
