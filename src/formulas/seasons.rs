//! How timber moves with the seasons, and metal with the temperature.

use super::body::Formula;
use crate::calc::{FormulaError, moisture};

include!(concat!(env!("OUT_DIR"), "/formulas_seasons.rs"));

impl Formula for TimberMovement {
    fn answer(self) -> Result<f64, FormulaError> {
        if moisture::LINEAR.contains(&self.before) && moisture::LINEAR.contains(&self.after) {
            return moisture::movement(self.dimension, self.coefficient, self.before, self.after);
        }
        // Above saturation nothing moves any more.
        let (before, after) = (self.before.min(self.saturation), self.after.min(self.saturation));
        moisture::movement_by_shrinkage(self.dimension, self.shrinkage, self.saturation, before, after)
    }
}

impl Formula for ShrinkageCoefficient {
    fn answer(self) -> Result<f64, FormulaError> {
        moisture::coefficient_from_shrinkage(self.shrinkage, self.saturation)
    }
}

impl Formula for WoodMoisture {
    fn answer(self) -> Result<f64, FormulaError> {
        moisture::equilibrium(self.temperature, self.humidity)
    }
}

impl Formula for ThermalMovement {
    fn answer(self) -> Result<f64, FormulaError> {
        moisture::thermal_expansion(self.length, self.coefficient, self.after - self.before)
    }
}
