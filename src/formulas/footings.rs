//! Footings: what their weight holds down.
//!
//! In: weights. Out: forces at the level of working loads.
//! It must not know a site's frost or soil report.

use super::body::Formula;
use super::tables::word;
use crate::calc::FormulaError;
use crate::calc::footing::uplift::{Code, Reading, uplift};
use crate::calc::holddown::Combination;

include!(concat!(env!("OUT_DIR"), "/formulas_footings.rs"));

/// The wind's factor is taken out again, for it stands in the pull that this is compared with.
impl Formula for WeightHolds {
    fn answer(self) -> Result<f64, FormulaError> {
        Ok(match self.code {
            word::Code::Asce7 => uplift(Code::Asd(Reading::FactorEverything), 0.0, 0.0, self.weight).1,
            word::Code::Eurocode => uplift(Code::Eurocode, 0.0, 0.0, self.weight).1 / Combination::Equilibrium.working_load_divisor(),
        })
    }
}
