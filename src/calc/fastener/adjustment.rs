//! Factors on a fastener's reference value by the NDS: moisture, place, end grain, toe-nailing, temperature.
//!
//! In: how the joint is made and used. Out: factors. It must not know the reference value.
//! CD comes from `timber::nds::load_duration_factor` (no impact for joints: 2018 Table 11.3.1, note 1), the group action
//! factor from `group`. Source: NDS 2018 Table 11.3.1, §11.3, §12.5.

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

/// Diaphragm factor Cdi of nails in a diaphragm. Source: NDS 2018 §12.5.3.
pub const DIAPHRAGM: f64 = 1.1;

/// Which way the load goes, and toward what.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Toward {
    /// Along the grain, away from the member's end (the end may tear out): softwood.
    EndSoftwood,
    /// The same in hardwood.
    EndHardwood,
    /// Along the grain, away from the end (the member is pressed).
    Middle,
    /// Across the grain.
    Edge,
}

/// Distances of a fastener, m.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// Diameter.
    pub diameter: f64,
    /// Distance to the member's end.
    pub end: f64,
    /// Distance to the nearer edge for loads along the grain; to the loaded edge for loads across.
    pub edge: f64,
    /// Distance to the unloaded edge for loads across the grain.
    pub unloaded_edge: f64,
    /// Spacing in a row, if there is a next fastener.
    pub spacing: Option<f64>,
}

/// Geometry factor CΔ of a fastener of ¼ in and more: the least of end distance over what full value needs (7D pulled
/// toward a softwood end, 5D hardwood, 4D pressed or across) and spacing over 4D. Smaller fasteners: 1.
/// Source: NDS 2018 §12.5.1, Tables 12.5.1A, B, C.
///
/// # Errors
/// Where a distance is below the least allowed (half the end distance; spacing 3D; edges 1.5D, and 4D for a loaded edge).
pub fn geometry_factor(place: &Place, toward: Toward) -> Result<f64, FormulaError> {
    if !is_large(place.diameter) {
        return Ok(1.0);
    }
    let d = place.diameter;
    let short = |distance: f64, least: f64| distance < least * d - 1e-9;
    let full = match toward {
        Toward::EndSoftwood => 7.0,
        Toward::EndHardwood => 5.0,
        Toward::Middle | Toward::Edge => 4.0,
    };
    if short(place.end, 0.5 * full) {
        return Err(FormulaError::domain("the fastener's end distance", format!("at least {} diameters", 0.5 * full)));
    }
    if place.spacing.is_some_and(|spacing| short(spacing, 3.0)) {
        return Err(FormulaError::domain("the fasteners' spacing in a row", "at least 3 diameters"));
    }
    if toward == Toward::Edge {
        if short(place.edge, 4.0) {
            return Err(FormulaError::domain("the distance to the loaded edge", "at least 4 diameters"));
        }
        if short(place.unloaded_edge, 1.5) {
            return Err(FormulaError::domain("the distance to the unloaded edge", "at least 1.5 diameters"));
        }
    } else if short(place.edge, 1.5) {
        return Err(FormulaError::domain("the fastener's edge distance", "at least 1.5 diameters"));
    }
    let by_end = place.end / (full * d);
    let by_spacing = place.spacing.map_or(1.0, |spacing| spacing / (4.0 * d));
    Ok(by_end.min(by_spacing).min(1.0))
}

/// Least distance between rows (m): 1.5D along the grain; across it 2.5D up to l/D = 2, (5l + 10D)/8 up to 6, then 5D.
/// `slenderness` l/D is the fastener's length in the main member, or in all side members if that is less, over D.
/// Source: NDS 2018 Table 12.5.1D.
#[must_use]
pub fn row_spacing(diameter: f64, slenderness: f64, across: bool) -> f64 {
    let in_diameters = match slenderness {
        _ if !across => 1.5,
        s if s <= 2.0 => 2.5,
        s if s < 6.0 => (5.0 * s + 10.0) / 8.0,
        _ => 5.0,
    };
    in_diameters * diameter
}
