//! Wheels on tracks: resistance, the wedge of a vee, what a guided wheel feels.

use super::body::Formula;
use crate::calc::{FormulaError, gauge, rolling, vee};

include!(concat!(env!("OUT_DIR"), "/formulas_wheels_and_tracks.rs"));

impl Formula for WheelResistance {
    fn answer(self) -> Result<f64, FormulaError> {
        rolling::resistance_ratio(&rolling::Wheel {
            tread_diameter: self.diameter,
            bearing_diameter: self.axle_diameter,
            lever_arm: self.lever_arm,
            bearing_friction: self.bearing_friction,
            flange: self.rim_friction,
            wedge: self.wedge.unwrap_or(rolling::FLAT_TREAD),
        })
    }
}

impl Formula for WedgeFactor {
    fn answer(self) -> Result<f64, FormulaError> {
        vee::wedge_factor(self.angle)
    }
}

impl Formula for FlankForce {
    fn answer(self) -> Result<f64, FormulaError> {
        vee::flank_forces(self.load, self.sideways, self.angle).map(|[harder, _]| harder)
    }
}

impl Formula for VeeClimbingForce {
    fn answer(self) -> Result<f64, FormulaError> {
        vee::climbing_force(self.load, self.friction, self.angle)
    }
}

impl Formula for GaugeTolerance {
    fn answer(self) -> Result<f64, FormulaError> {
        gauge::span_tolerance(self.gauge, gauge::Class::Three)
    }
}
