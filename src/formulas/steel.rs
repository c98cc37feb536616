//! Steel beams by AISC 360-16 (allowable stress) and by EN 1993-1-1.
//!
//! In: yield stress and section, what a beam carries in each state. Out: the state that governs with stress and
//! strength, elastic. It must not know a section's name: that is the catalogue's.

use super::beams::cases;
use super::body::Formula;
use super::governing::{Governs, checked};
use super::tables::{table, word};
use crate::calc::FormulaError;
use crate::calc::holddown::Combination;
use crate::calc::steel::tipping::{self, OpenSection};
use crate::calc::steel::{bolt, member, tube};

include!(concat!(env!("OUT_DIR"), "/formulas_steel.rs"));

impl Formula for SteelValues {
    fn answer(self) -> Result<table::SteelValues, FormulaError> {
        Ok(table::SteelValues {
            family: word::Family::Steel,
            yield_stress: self.yield_stress,
            tensile_strength: self.tensile_strength,
            elasticity: self.elasticity,
        })
    }
}

impl Formula for SteelShape {
    fn answer(self) -> Result<table::SteelShape, FormulaError> {
        let open = self.torsion.is_some();
        Ok(table::SteelShape {
            breadth: self.breadth,
            area: self.area,
            modulus: self.modulus,
            inertia: self.inertia,
            shear_area: self.shear_area,
            weak_radius: self.weak_radius,
            weak_modulus: self.weak_modulus,
            torsion: self.torsion,
            warping: open.then(|| self.warping.unwrap_or_default()),
            between_flanges: open.then(|| self.between_flanges.unwrap_or_default()),
            channel: open.then_some(self.channel),
        })
    }
}

/// Two side by side are twice as much of all but what is a distance between parts of one.
impl Formula for SteelSection {
    fn answer(self) -> Result<table::SteelShape, FormulaError> {
        let (one, pieces) = (self.shape, self.pieces);
        Ok(table::SteelShape {
            breadth: one.breadth * pieces,
            area: one.area * pieces,
            modulus: one.modulus * pieces,
            inertia: one.inertia * pieces,
            shear_area: one.shear_area * pieces,
            weak_modulus: one.weak_modulus * pieces,
            torsion: one.torsion.map(|torsion| torsion * pieces),
            warping: one.warping.map(|warping| warping * pieces),
            ..one
        })
    }
}

impl table::SteelShape {
    /// An open section, if it is one: it tips sideways where a tube does not.
    fn open_section(&self) -> Option<OpenSection> {
        Some(OpenSection {
            modulus: self.modulus,
            weak_inertia: self.area * self.weak_radius * self.weak_radius,
            torsion: self.torsion?,
            warping: self.warping?,
            between_flanges: self.between_flanges?,
            weak_radius: self.weak_radius,
            channel: self.channel?,
        })
    }
}

impl Formula for SteelRigidity {
    fn answer(self) -> Result<f64, FormulaError> {
        Ok(self.values.elasticity * self.section.inertia)
    }
}

impl Formula for SteelBeam {
    fn answer(self) -> Result<table::CheckedBeam, FormulaError> {
        let states = cases(&self.bent)?;
        let (fy, elasticity) = (self.values.yield_stress, self.values.elasticity);
        let (modulus, area) = (self.section.modulus, self.section.shear_area);
        let (yields, shear_holds) = match self.code {
            word::Code::Asce7 => (member::aisc_moment(fy, modulus), member::aisc_shear(fy, area)),
            word::Code::Eurocode => (member::en_moment(fy, modulus), member::en_shear(fy, area)),
        };
        let moment_holds = match (self.section.open_section(), self.code) {
            (None, _) => yields,
            (Some(open), word::Code::Asce7) => {
                tipping::aisc_open_section_moment(&open, fy, elasticity, self.unbraced, tipping::EVEN_MOMENT)?
            }
            (Some(open), word::Code::Eurocode) => {
                tipping::en_open_section_moment(&open, fy, elasticity, self.unbraced, self.section.breadth)?
            }
        };
        let (mut bending, mut shear) = (Governs::default(), Governs::default());
        for beam in states {
            let case = beam.case.into();
            bending.meet(beam.moment / modulus, moment_holds / modulus, case);
            shear.meet(beam.shear / area, shear_holds / area, case);
        }
        let factors = table::BeamFactors::of_stability(moment_holds / yields);
        Ok(checked(&bending, &shear, &Governs { strength: fy, ..Governs::default() }, 0, factors))
    }
}

impl Formula for BoltThroughTube {
    fn answer(self) -> Result<table::BoltThroughTube, FormulaError> {
        let (fy, fu) = (self.values.yield_stress, self.values.tensile_strength);
        let face = tube::face_yields(self.breadth, self.wall, fy, tube::square_of_round(self.washer))?;
        let (bolt_pulled, face, bolt_pushed, wall_pushed) = match self.code {
            word::Code::Asce7 => {
                let stress = bolt::threaded_part(self.tensile_strength, true);
                let (pulled, pushed) = (bolt::aisc_tension(self.diameter, stress), bolt::aisc_shear(self.diameter, stress));
                (pulled, face / tube::OMEGA_FACE, pushed, tube::aisc_bearing(self.diameter, self.wall, fy))
            }
            word::Code::Eurocode => {
                let class = bolt::PropertyClass::of_strength(self.tensile_strength);
                let worked = |design: f64| design / Combination::Equilibrium.working_load_divisor();
                let (pulled, pushed) = (bolt::en_tension(class, self.stress_area), bolt::en_shear(class, self.stress_area));
                (worked(pulled), worked(face), worked(pushed), worked(tube::en_bearing(self.diameter, self.wall, fu)))
            }
        };
        let (pulled, pushed) = (bolt_pulled.min(face), bolt_pushed.min(wall_pushed));
        Ok(table::BoltThroughTube { bolt_pulled, face, pulled, bolt_pushed, wall_pushed, pushed })
    }
}

/// Compared with what presses at the level of working loads.
impl Formula for TubeOnSupport {
    fn answer(self) -> Result<f64, FormulaError> {
        let (fy, elasticity) = (self.values.yield_stress, self.values.elasticity);
        match self.code {
            word::Code::Asce7 => tube::aisc_end_bearing(self.depth, self.wall, self.seat, fy, elasticity),
            word::Code::Eurocode => {
                Ok(tube::en_end_bearing(self.depth, self.wall, self.seat, fy, elasticity)?
                    / Combination::Equilibrium.working_load_divisor())
            }
        }
    }
}
