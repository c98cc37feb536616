//! How still a telescope pier stands: sections, bending, the ground under its footing, tilt of the telescope.
//!
//! In: sizes, stiffnesses and masses. Out: stiffnesses, frequencies, angles, forces. A column of several sections is
//! given as lists from the foot upward.

use super::body::Formula;
use super::tables::{table, word};
use crate::calc::FormulaError;
use crate::calc::footing::bearing;
use crate::calc::pier::column::{Column, Head, Stretch};
use crate::calc::pier::footing::{Plan, Soil, disk_twisting, on_half_space};
use crate::calc::pier::section::{self, Section};
use crate::calc::pier::{anchor, pointing, subgrade, swing};
use crate::values::Value;
use smol_str::SmolStr;

include!(concat!(env!("OUT_DIR"), "/formulas_piers.rs"));

impl From<Section> for table::ColumnSection {
    fn from(Section { area, second_moment }: Section) -> Self {
        Self { area, second_moment }
    }
}

impl Formula for PipeSection {
    fn answer(self) -> Result<table::ColumnSection, FormulaError> {
        section::pipe(self.diameter, self.wall).map(Into::into)
    }
}

impl Formula for RoundSection {
    fn answer(self) -> Result<table::ColumnSection, FormulaError> {
        section::round(self.diameter).map(Into::into)
    }
}

impl Formula for RectangleSection {
    fn answer(self) -> Result<table::ColumnSection, FormulaError> {
        section::rectangle(self.depth, self.width).map(Into::into)
    }
}

impl Formula for SquareTubeSection {
    fn answer(self) -> Result<table::ColumnSection, FormulaError> {
        section::square_tube(self.side, self.wall).map(Into::into)
    }
}

/// A column from three lists: lengths, flexural rigidities, masses per length (none where only its bending is asked).
fn column(lengths: &[f64], rigidities: &[f64], masses: Option<&[f64]>) -> Result<Column, FormulaError> {
    if lengths.len() != rigidities.len() || masses.is_some_and(|masses| masses.len() != lengths.len()) {
        return Err(FormulaError::domain("each section of the column", "given with its length, rigidity and mass"));
    }
    let masses = masses.unwrap_or_default().iter().copied().chain(std::iter::repeat(0.0));
    let sections = lengths.iter().zip(rigidities).zip(masses);
    Column::new(
        sections.map(|((length, rigidity), mass_per_length)| Stretch { length: *length, rigidity: *rigidity, mass_per_length }).collect(),
    )
}

impl Formula for ColumnBend {
    fn answer(self) -> Result<table::ColumnBend, FormulaError> {
        let bend = column(&self.lengths, &self.rigidities, None)?.bend(self.force, self.height.unwrap_or_default())?;
        Ok(table::ColumnBend { deflection: bend.deflection, slope: bend.slope, deflection_at_force: bend.deflection_at_force })
    }
}

impl Formula for ColumnFrequency {
    fn answer(self) -> Result<f64, FormulaError> {
        let (height, own_inertia) = (self.height.unwrap_or_default(), self.own_inertia.unwrap_or_default());
        let head = Head { mass: self.head, height, own_inertia };
        column(&self.lengths, &self.rigidities, Some(&self.masses))?.lowest_frequency(&head)
    }
}

impl Formula for GroundStiffness {
    fn answer(self) -> Result<table::GroundStiffness, FormulaError> {
        let (along, across) = (self.along, self.across);
        let plan = if self.round { Plan::Round { radius: along / 2.0 } } else { Plan::Rectangle { along, across } };
        let stiffness = on_half_space(plan, Soil { shear_modulus: self.shear_modulus, poisson: self.poisson })?;
        Ok(table::GroundStiffness { vertical: stiffness.vertical, sway: stiffness.sway, rocking: stiffness.rocking })
    }
}

impl Formula for GroundTwisting {
    fn answer(self) -> Result<f64, FormulaError> {
        disk_twisting(self.diameter / 2.0, self.shear_modulus)
    }
}

impl Formula for SubgradeRocking {
    fn answer(self) -> Result<f64, FormulaError> {
        if self.round {
            subgrade::rocking_round(self.modulus, self.along / 2.0)
        } else {
            subgrade::rocking_rectangle(self.modulus, self.along, self.across)
        }
    }
}

impl Formula for SubgradeModulus {
    fn answer(self) -> Result<f64, FormulaError> {
        match self.ground {
            word::Ground::Sand => subgrade::modulus_on_sand(self.plate_modulus, self.width),
            word::Ground::Clay => subgrade::modulus_on_clay(self.plate_modulus, self.width),
        }
    }
}

impl Formula for RockingInertia {
    fn answer(self) -> Result<f64, FormulaError> {
        if self.masses.len() != self.heights.len() || self.own.as_ref().is_some_and(|own| own.len() != self.masses.len()) {
            return Err(FormulaError::domain("each mass", "given with its height"));
        }
        let own = self.own.unwrap_or_default().into_iter().chain(std::iter::repeat(0.0));
        let parts = self.masses.into_iter().zip(self.heights).zip(own);
        let parts: Vec<_> = parts.map(|((mass, height), own_inertia)| swing::RockingMass { mass, height, own_inertia }).collect();
        swing::rocking_inertia(&parts)
    }
}

impl Formula for RockingFrequency {
    fn answer(self) -> Result<f64, FormulaError> {
        swing::rocking_frequency(self.stiffness, self.inertia)
    }
}

impl Formula for SwayingFrequency {
    fn answer(self) -> Result<f64, FormulaError> {
        swing::swaying_frequency(self.stiffness, self.mass)
    }
}

impl Formula for FrequencyTogether {
    fn answer(self) -> Result<f64, FormulaError> {
        let frequencies: Vec<f64> = self.frequencies.iter().filter_map(Value::si).collect();
        swing::together(&frequencies)
    }
}

impl Formula for PierTilt {
    fn answer(self) -> Result<table::PierTilt, FormulaError> {
        let column = column(&self.lengths, &self.rigidities, None)?;
        let tilt = pointing::tilt(&column, self.force, self.height, self.foot, self.rocking)?;
        Ok(table::PierTilt { bending: tilt.bending, rocking: tilt.rocking, total: tilt.total() })
    }
}

impl Formula for GustForce {
    fn answer(self) -> Result<f64, FormulaError> {
        pointing::gust_force(self.pressure, self.area, self.drag)
    }
}

impl Formula for PixelScale {
    fn answer(self) -> Result<f64, FormulaError> {
        pointing::pixel_scale(self.pixel, self.focal_length)
    }
}

impl Formula for BoltPull {
    fn answer(self) -> Result<f64, FormulaError> {
        if !(anchor::FEWEST_BOLTS..=anchor::MOST_BOLTS).contains(&self.bolts) || self.bolts.fract() != 0.0 {
            return Err(FormulaError::domain("the number of anchor bolts", "a whole number, at least three"));
        }
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounded just before")]
        let bolts = self.bolts as u32;
        anchor::bolt_pull(self.moment, self.weight, bolts, self.circle)
    }
}

/// A footing that turns over is an answer; what it presses with has none.
impl Formula for FootingPressure {
    fn answer(self) -> Result<table::FootingPressure, FormulaError> {
        let (along, across) = (self.along, self.across);
        let plan = if self.round { bearing::Plan::Round { diameter: along } } else { bearing::Plan::Rectangle { along, across } };
        let (pressure, why) = match bearing::pressure(plan, self.force, self.moment) {
            Ok(pressure) => (Some(pressure), SmolStr::default()),
            Err(FormulaError::Unstable { what }) => (None, what.into()),
            Err(error) => return Err(error),
        };
        Ok(table::FootingPressure {
            stable: pressure.is_some(),
            why,
            largest: pressure.map(|pressure| pressure.largest),
            smallest: pressure.map(|pressure| pressure.smallest),
            contact: pressure.map(|pressure| pressure.contact),
        })
    }
}
