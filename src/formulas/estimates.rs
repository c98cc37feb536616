//! Estimates of what no data sheet says, each with how far it may be off.
//!
//! In: a nameplate, a build-up, a hand test. Out: tables of a number and its spread.

use super::body::Formula;
use super::tables::{table, word};
use crate::calc::FormulaError;
use crate::calc::estimates::{self, Covering, HandTest, Motor};

include!(concat!(env!("OUT_DIR"), "/formulas_estimates.rs"));

impl Formula for StallForceFromNameplate {
    fn answer(self) -> Result<table::EstimatedForce, FormulaError> {
        let motor = match (self.works, self.idle) {
            (word::Works::ThreePhase, _) => Motor::ThreePhase,
            (word::Works::PermanentMagnet, Some(idle)) => Motor::PermanentMagnet(idle),
            (word::Works::PermanentMagnet, None) => {
                return Err(FormulaError::domain(
                    "a motor with magnets",
                    "its `idle` turns: its torque falls in a line from stall to there",
                ));
            }
        };
        let pull = estimates::stall_pull(motor, self.power, self.turns, self.ratio, self.efficiency, self.radius)?;
        Ok(table::EstimatedForce { force: pull.middle(), spread: pull.spread() })
    }
}

impl Formula for RoofBuildUp {
    fn answer(self) -> Result<table::EstimatedBuildUp, FormulaError> {
        let covering = match self.covering {
            word::Covering::SheetMetal => Covering::SheetMetal,
            word::Covering::Membrane => Covering::Membrane,
            word::Covering::AsphaltShingles => Covering::AsphaltShingles,
            word::Covering::WoodShingles => Covering::WoodShingles,
            word::Covering::ClayTile => Covering::ClayTile,
            word::Covering::Slate => Covering::Slate,
        };
        let weighs = estimates::roof_build_up(covering, self.boards, self.rafter_width, self.rafter_depth, self.spacing)?;
        Ok(table::EstimatedBuildUp { build_up: weighs.middle(), spread: weighs.spread() })
    }
}

impl Formula for ClayByHand {
    fn answer(self) -> Result<table::Clay, FormulaError> {
        let test = match self.test {
            word::Test::OozesBetweenFingers => HandTest::OozesBetweenFingers,
            word::Test::MouldsLightly => HandTest::MouldsLightly,
            word::Test::MouldsHard => HandTest::MouldsHard,
            word::Test::ThumbDents => HandTest::ThumbDents,
            word::Test::NailDents => HandTest::NailDents,
        };
        let strength = estimates::clay_strength(test);
        Ok(table::Clay { strength: strength.least, most: strength.most, bearing: estimates::clay_bearing(strength.least)? })
    }
}
