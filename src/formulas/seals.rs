//! What closes gaps: how much a rod or brush is squeezed.
//!
//! In: sizes of gap and seal. Out: compressions as shares of one, diameters. Which compression is good is a rule.

use super::body::Formula;
use super::tables::word;
use crate::calc::FormulaError;
use crate::calc::seal;

include!(concat!(env!("OUT_DIR"), "/formulas_seals.rs"));

impl From<word::Foam> for seal::Foam {
    fn from(foam: word::Foam) -> Self {
        match foam {
            word::Foam::ClosedCells => Self::Closed,
            word::Foam::OpenCells => Self::Open,
        }
    }
}

impl Formula for SealCompression {
    fn answer(self) -> Result<f64, FormulaError> {
        seal::compression(self.free, self.gap)
    }
}

impl Formula for SealOversize {
    fn answer(self) -> Result<f64, FormulaError> {
        seal::oversize(self.free, self.gap)
    }
}

impl Formula for BackerRodDiameter {
    fn answer(self) -> Result<f64, FormulaError> {
        seal::backer_rod_diameter(self.foam.into(), self.gap).map(|(least, _)| least)
    }
}

impl Formula for SealantDepth {
    fn answer(self) -> Result<f64, FormulaError> {
        seal::sealant_depth(self.gap)
    }
}
