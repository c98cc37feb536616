//! Factors on a fastener's reference value by the NDS: moisture, place, end grain, toe-nailing, temperature.
//!
//! In: how the joint is made and used. Out: factors. It must not know the reference value.
//! CD comes from `timber::nds::load_duration_factor` (no impact for joints: 2018 Table 11.3.1, note 1), the group action
//! factor from `group`, the geometry factor from `nds_layout`. Source: NDS 2018 Table 11.3.1, §11.3, §12.5.

use super::dowel_bearing::is_large;
use crate::calc::FormulaError;

/// Moisture content of the wood: above 19 % when the joint is made, and in service.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Moisture {
    /// Wet when made.
    pub made_wet: bool,
    /// Wet in service.
    pub used_wet: bool,
}

/// What pulls or pushes the fastener.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Action {
    /// Lateral load, any dowel-type fastener.
    Lateral,
    /// Withdrawal of a lag or wood screw.
    ScrewWithdrawal,
    /// Withdrawal of a smooth nail.
    NailWithdrawal,
}

/// Wet service factor CM. A lateral joint made wet and drying keeps its full value where splitting is no danger: one
/// fastener, one row along the grain, or separate splice plates for each row (`cannot_split`); 0.7 for diameters under ¼ in.
/// Source: NDS 2018 Table 11.3.3 with its notes.
#[must_use]
pub fn wet_service_factor(action: Action, moisture: Moisture, diameter: f64, cannot_split: bool) -> f64 {
    match (action, moisture.made_wet, moisture.used_wet) {
        (Action::Lateral | Action::ScrewWithdrawal, _, true) => 0.7,
        (Action::Lateral, true, false) if cannot_split => 1.0,
        (Action::Lateral, true, false) if !is_large(diameter) => 0.7,
        (Action::Lateral, true, false) => 0.4,
        (Action::NailWithdrawal, made, used) if made != used => 0.25,
        _ => 1.0,
    }
}

/// Temperature factor Ct of a joint, sustained temperature in K. Source: NDS 2018 Table 11.3.4.
///
/// # Errors
/// Above 150 °F.
pub fn temperature_factor(temperature: f64, wet: bool) -> Result<f64, FormulaError> {
    let fahrenheit = temperature * 9.0 / 5.0 - 459.67;
    match fahrenheit {
        f if f <= 100.0 + 1e-6 => Ok(1.0),
        f if f <= 125.0 + 1e-6 => Ok(if wet { 0.7 } else { 0.8 }),
        f if f <= 150.0 + 1e-6 => Ok(if wet { 0.5 } else { 0.7 }),
        _ => Err(FormulaError::domain("the joint's sustained temperature", "at most 150 °F")),
    }
}

/// End grain factor Ceg of a lateral load on a fastener in end grain: 0.67. Source: NDS 2018 §12.5.2.
pub const END_GRAIN_LATERAL: f64 = 0.67;

/// Toe-nail factor Ctn: lateral 0.83, withdrawal 0.67 (and then no CM). Source: NDS 2018 §12.5.4.
#[must_use]
pub fn toe_nail_factor(action: Action) -> f64 {
    if action == Action::Lateral { 0.83 } else { 0.67 }
}
