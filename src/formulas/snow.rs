//! Snow on the roof by ASCE 7-16 and EN 1991-1-3.
//!
//! In: the ground's snow, how the roof stands to the wind and how warm it is. Out: the load on its plan with each
//! factor on the way. It must not know how the roof carries it.

use super::body::Formula;
use super::tables::{table, word};
use crate::calc::FormulaError;
use crate::calc::snow::{asce7, en1991};

include!(concat!(env!("OUT_DIR"), "/formulas_snow.rs"));

impl From<word::Land> for asce7::Terrain {
    fn from(land: word::Land) -> Self {
        match land {
            word::Land::ShelteredLand => Self::B,
            word::Land::OpenLand => Self::C,
            word::Land::Waterside => Self::D,
            word::Land::WindsweptMountain => Self::AboveTreeLine,
        }
    }
}

impl From<word::Stands> for asce7::Exposure {
    fn from(stands: word::Stands) -> Self {
        match stands {
            word::Stands::Exposed => Self::Fully,
            word::Stands::PartlyExposed => Self::Partially,
            word::Stands::Sheltered => Self::Sheltered,
        }
    }
}

impl From<word::Stands> for en1991::Topography {
    fn from(stands: word::Stands) -> Self {
        match stands {
            word::Stands::Exposed => Self::Windswept,
            word::Stands::PartlyExposed => Self::Normal,
            word::Stands::Sheltered => Self::Sheltered,
        }
    }
}

impl From<word::Warmth> for asce7::Warmth {
    fn from(warmth: word::Warmth) -> Self {
        match warmth {
            word::Warmth::Heated => Self::Heated,
            word::Warmth::JustAboveFreezing => Self::JustAboveFreezing,
            word::Warmth::Unheated => Self::Unheated,
            word::Warmth::KeptFreezing => Self::Freezer,
        }
    }
}

/// A risk category; a number that is none is refused by what takes it.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "what is too large or below nothing becomes the nearest that there is"
)]
fn category(number: f64) -> u8 {
    number.round() as u8
}

impl Formula for Asce7Snow {
    fn answer(self) -> Result<table::Asce7Snow, FormulaError> {
        let (ground, slope, run) = (self.ground, self.slope, self.run);
        let thermal_factor = asce7::Warmth::from(self.warmth).factor();
        let exposure_factor = asce7::exposure_factor(self.land.into(), self.stands.into())?;
        let importance = asce7::importance_factor(category(self.risk_category))?;
        let flat = asce7::flat_roof(ground, exposure_factor, thermal_factor, importance);
        let slope_factor = asce7::slope_factor(slope, thermal_factor, self.slippery)?;
        let sloped = asce7::sloped_roof(flat, slope_factor);
        let balanced = sloped + asce7::rain_on_snow(ground, slope, run);
        let least = if asce7::is_low_slope(slope) { asce7::low_slope_minimum(ground, importance) } else { 0.0 };
        let heaped = self.gable.then(|| asce7::unbalanced_gable(ground, importance, sloped, slope, run)).flatten();
        let one_side = heaped.map_or(0.0, |heaped| heaped.leeward);
        Ok(table::Asce7Snow {
            load: balanced.max(least).max(one_side),
            exposure_factor,
            thermal_factor,
            importance,
            flat,
            slope_factor,
            balanced,
            least,
            one_side,
        })
    }
}

impl Formula for Asce7SnowFromAbove {
    fn answer(self) -> Result<table::SnowFromAbove, FormulaError> {
        if self.ground <= 0.0 {
            return Ok(table::SnowFromAbove { drift: 0.0, reaches: 0.0, slide: 0.0, load: 0.0 });
        }
        let importance = asce7::importance_factor(category(self.risk_category))?;
        let clear = self.step - self.flat / asce7::density(self.ground);
        let at_step = asce7::drift_on_lower_roof(self.upper, self.lower, clear, self.flat, self.ground, importance)?;
        let drift = asce7::drift_beyond_a_gap(at_step, self.step, self.gap, self.ground);
        let slide = asce7::sliding(self.flat, self.run, self.slope, self.slippery, self.step, self.gap);
        Ok(table::SnowFromAbove { drift: drift.load, reaches: drift.width, slide, load: drift.load.max(slide) })
    }
}

impl Formula for EurocodeSnowFromAbove {
    fn answer(self) -> Result<table::SnowFromAbove, FormulaError> {
        if self.ground <= 0.0 {
            return Ok(table::SnowFromAbove { drift: 0.0, reaches: 0.0, slide: 0.0, load: 0.0 });
        }
        let sliding = en1991::sliding_onto_lower(self.slope, self.run, self.step)?;
        let found = en1991::drift_against_taller(self.upper, self.lower, self.step, self.ground, sliding)?;
        let left = (1.0 - self.gap / found.length).max(0.0);
        let over = |shape: f64| (shape - en1991::BESIDE_THE_DRIFT).max(0.0) * self.ground * left;
        let (drift, slide) = (over(found.blown), sliding * self.ground * left);
        Ok(table::SnowFromAbove { drift, reaches: found.length, slide, load: over(found.at_wall) })
    }
}

impl Formula for EurocodeSnow {
    fn answer(self) -> Result<table::EurocodeSnow, FormulaError> {
        let exposure_factor = en1991::Topography::from(self.stands).exposure();
        let (shape_coefficient, thermal_factor) = (en1991::shape_mu1(self.slope, !self.slippery)?, self.thermal_factor);
        let load = en1991::roof(shape_coefficient, exposure_factor, thermal_factor, self.ground);
        Ok(table::EurocodeSnow { load, shape_coefficient, exposure_factor, thermal_factor })
    }
}
