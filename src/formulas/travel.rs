//! Stopping, energy, and magnets that a sensor sees. What is not written is not there: no turning parts.

use super::body::Formula;
use crate::calc::FormulaError;
use crate::calc::sensing::Cylinder;
use crate::calc::{sensing, stopping};

include!(concat!(env!("OUT_DIR"), "/formulas_travel.rs"));

impl Formula for StoppingDistance {
    fn answer(self) -> Result<f64, FormulaError> {
        stopping::stopping_distance(self.speed, self.reaction, self.deceleration)
    }
}

impl Formula for CoastingDeceleration {
    fn answer(self) -> Result<f64, FormulaError> {
        stopping::coasting_deceleration(self.resistance, self.slope)
    }
}

impl Formula for Deceleration {
    fn answer(self) -> Result<f64, FormulaError> {
        stopping::deceleration(self.force, self.mass, self.equivalent_mass.unwrap_or_default())
    }
}

impl Formula for EquivalentMass {
    fn answer(self) -> Result<f64, FormulaError> {
        stopping::equivalent_mass(self.inertia, self.ratio, self.radius)
    }
}

impl Formula for KineticEnergy {
    fn answer(self) -> Result<f64, FormulaError> {
        stopping::kinetic_energy(self.mass, self.speed)
    }
}

impl Formula for MagnetSwitchingDistance {
    fn answer(self) -> Result<f64, FormulaError> {
        let magnet = Cylinder { remanence: self.remanence, diameter: self.diameter, length: self.length };
        sensing::switching_distance(magnet, self.field)
    }
}

impl Formula for MagnetField {
    fn answer(self) -> Result<f64, FormulaError> {
        let magnet = Cylinder { remanence: self.remanence, diameter: self.diameter, length: self.length };
        sensing::axial_field(magnet, self.distance)
    }
}

impl Formula for MagnetSeenAhead {
    fn answer(self) -> Result<f64, FormulaError> {
        let magnet = Cylinder { remanence: self.remanence, diameter: self.diameter, length: self.length };
        if sensing::axial_field(magnet, self.gap)? < self.field {
            return Ok(0.0);
        }
        sensing::passing_distance(magnet, self.gap, self.field)
    }
}

impl Formula for AssuredDistance {
    fn answer(self) -> Result<f64, FormulaError> {
        sensing::operating_range(self.rated, self.reduction.unwrap_or(sensing::MILD_STEEL)).map(|range| range.assured)
    }
}

impl Formula for SeenAhead {
    fn answer(self) -> Result<f64, FormulaError> {
        if self.gap > self.operating_distance { Ok(0.0) } else { sensing::first_seen(self.operating_distance, self.gap) }
    }
}
