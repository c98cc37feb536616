//! Concrete: its strength by age, and its stiffness.
//!
//! In: strength at 28 days, age, density. Out: shares of that strength, ages, moduli. All of it is for curing kept moist
//! near 20 degC: no formula here knows frost.

use super::body::Formula;
use super::tables::word;
use crate::calc::FormulaError;
use crate::calc::concrete::{self, AciCuring, CementClass};

include!(concat!(env!("OUT_DIR"), "/formulas_concrete.rs"));

impl From<word::Cement> for CementClass {
    fn from(cement: word::Cement) -> Self {
        match cement {
            word::Cement::Ordinary => Self::N,
            word::Cement::Rapid => Self::R,
            word::Cement::Slow => Self::S,
        }
    }
}

impl TryFrom<word::Cement> for AciCuring {
    type Error = FormulaError;

    fn try_from(cement: word::Cement) -> Result<Self, FormulaError> {
        match cement {
            word::Cement::Ordinary => Ok(Self::MoistTypeI),
            word::Cement::Rapid => Ok(Self::MoistTypeIII),
            word::Cement::Slow => Err(FormulaError::domain("the cement", "`ordinary` or `rapid`: ACI 209 has no constants for a slow one")),
        }
    }
}

impl Formula for ConcreteShare {
    fn answer(self) -> Result<f64, FormulaError> {
        match self.code {
            word::Code::Asce7 => concrete::share_of_strength_aci(self.cement.try_into()?, self.age),
            word::Code::Eurocode => concrete::share_of_strength_eurocode(self.cement.into(), self.age),
        }
    }
}

impl Formula for ConcreteAge {
    fn answer(self) -> Result<f64, FormulaError> {
        match self.code {
            word::Code::Asce7 => concrete::age_for_share_aci(self.cement.try_into()?, self.share),
            word::Code::Eurocode => concrete::age_for_share_eurocode(self.cement.into(), self.share),
        }
    }
}

impl Formula for ConcreteModulus {
    fn answer(self) -> Result<f64, FormulaError> {
        match (self.code, self.density) {
            (word::Code::Asce7, Some(density)) => concrete::modulus_aci_by_density(self.strength, density),
            (word::Code::Asce7, None) => concrete::modulus_aci(self.strength),
            (word::Code::Eurocode, _) => concrete::modulus_eurocode(self.strength),
        }
    }
}
