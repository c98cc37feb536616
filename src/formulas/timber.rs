//! Timber beams and what stands on timber, by the NDS 2018 and by EN 1995-1-1.
//!
//! In: design values of a grade, a section, what a beam carries in each state. Out: the state that governs with
//! stress, strength and the factors on the way. It must not know a species: that is the catalogue's.

use super::beams::cases;
use super::body::Formula;
use super::governing::{Governs, checked};
use super::loads_on_their_way::by_state;
use super::tables::{table, word};
use super::timber_member::Member;
use crate::calc::FormulaError;
use crate::calc::timber::nds_check;
use crate::calc::timber::section::Rectangle;

include!(concat!(env!("OUT_DIR"), "/formulas_timber.rs"));

impl Formula for TimberValues {
    fn answer(self) -> Result<table::TimberValues, FormulaError> {
        Ok(table::TimberValues {
            family: word::Family::Timber,
            table: self.table,
            class: self.class,
            bending: self.bending,
            tension: self.tension,
            shear: self.shear,
            bearing: self.bearing,
            compression: self.compression,
            elasticity: self.elasticity,
            elasticity_min: self.elasticity_min,
        })
    }
}

impl Formula for TimberSection {
    fn answer(self) -> Result<table::TimberSection, FormulaError> {
        let section = Rectangle::new(self.breadth, self.depth)?;
        let piece = Rectangle::new(self.piece, self.depth)?;
        Ok(table::TimberSection {
            breadth: section.breadth,
            depth: section.depth,
            piece: piece.breadth,
            area: section.area(),
            modulus: section.modulus(),
            inertia: section.inertia(),
        })
    }
}

impl Formula for TimberRigidity {
    fn answer(self) -> Result<f64, FormulaError> {
        let member = Member::new(self.values, &self.section, self.damp, self.code)?;
        Ok(member.elasticity()? * member.whole.inertia())
    }
}

impl Formula for TimberBeam {
    fn answer(self) -> Result<table::CheckedBeam, FormulaError> {
        let states = cases(&self.bent)?;
        let member = Member { shared: self.shared, ..Member::new(self.values, &self.section, self.damp, self.code)? };
        let notched = member.notched(self.notch.unwrap_or_default(), self.notch_from.unwrap_or_default())?;
        let (mut bending, mut shear, mut bearing) = (Governs::default(), Governs::default(), Governs::default());
        let (mut seat_at, mut factors) = (0, None);
        for beam in states {
            let case = beam.case.into();
            let strengths = member.strengths(case, self.unbraced)?;
            if bending.meet(nds_check::bending_stress(beam.moment, member.whole), strengths.bending, case) {
                factors = Some(strengths.factors);
            }
            shear.meet(member.shear_stress(beam.shear)?, strengths.shear * notched, case);
            for (at, (press, seat)) in beam.presses.iter().zip(&self.seats).enumerate() {
                if *seat > 0.0 && bearing.meet(press / (seat * member.whole.breadth), strengths.bearing, case) {
                    seat_at = at;
                }
            }
        }
        let factors = factors.ok_or_else(|| FormulaError::domain("the beam", "in one state of the roof at least"))?;
        Ok(checked(&bending, &shear, &bearing, seat_at, factors))
    }
}

impl Formula for TimberBearing {
    fn answer(self) -> Result<table::TimberBearing, FormulaError> {
        let member = Member::new(self.values, &self.section, self.damp, self.code)?;
        let mut worst = Governs::default();
        for (state, force) in by_state(&self.forces)? {
            worst.meet(force / self.area, member.strengths(state, 0.0)?.bearing, state);
        }
        Ok(table::TimberBearing { stress: worst.stress, strength: worst.strength, when: worst.when() })
    }
}
