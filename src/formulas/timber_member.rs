//! A timber member: the design strengths of its grade where it stands, in each state of the roof.
//!
//! In: design values of a grade, a section, how damp it is. Out: strengths with the factors on the way, by the NDS 2018
//! or by EN 1995-1-1. It must not know whether it is a beam or a post.

use super::tables::{table, word};
use crate::calc::FormulaError;
use crate::calc::loads::states::State;
use crate::calc::timber::section::Rectangle;
use crate::calc::timber::{en1995, en1995_check, nds, nds_check, nds_size, nds_stability};

impl From<word::Class> for nds_size::GradeClass {
    fn from(class: word::Class) -> Self {
        match class {
            word::Class::Structural => Self::Structural,
            word::Class::Stud => Self::Stud,
            word::Class::Construction => Self::Construction,
            word::Class::Utility => Self::Utility,
        }
    }
}

impl From<word::Damp> for en1995::ServiceClass {
    fn from(damp: word::Damp) -> Self {
        match damp {
            word::Damp::Indoors => Self::One,
            word::Damp::Covered => Self::Two,
            word::Damp::Outdoors => Self::Three,
        }
    }
}

/// Whether the NDS counts it as wet.
const fn is_wet(damp: word::Damp) -> bool {
    match damp {
        word::Damp::Indoors | word::Damp::Covered => false,
        word::Damp::Outdoors => true,
    }
}

/// By which standard a grade's values are used, and what that has to know of it.
#[derive(Clone, Copy)]
pub(super) enum Standard {
    Nds(nds_size::Table),
    Eurocode(en1995::Material),
}

impl Standard {
    fn of(values: &table::TimberValues) -> Self {
        match values.table {
            word::Table::Table4a => Self::Nds(nds_size::Table::T4A(values.class.into())),
            word::Table::Table4b => Self::Nds(nds_size::Table::T4B),
            word::Table::Table4d => Self::Nds(nds_size::Table::T4D),
            word::Table::Table5a => Self::Nds(nds_size::Table::T5A),
            word::Table::En338 => Self::Eurocode(en1995::Material::Solid),
            word::Table::En14080 => Self::Eurocode(en1995::Material::Glulam),
        }
    }
}

/// Design strengths for one state of load.
pub(super) struct Strengths {
    pub(super) bending: f64,
    pub(super) shear: f64,
    pub(super) bearing: f64,
    pub(super) compression: f64,
    pub(super) factors: table::BeamFactors,
}

/// What a member is: its grade's values, its section, and where it stands.
pub(super) struct Member {
    pub(super) values: table::TimberValues,
    pub(super) whole: Rectangle,
    pub(super) piece: Rectangle,
    pub(super) damp: word::Damp,
    /// Three or more side by side share the load.
    pub(super) shared: bool,
    pub(super) standard: Standard,
}

impl Member {
    /// One that shares its load with no other.
    ///
    /// # Errors
    /// Where the section is none, or the grade is not one of the code.
    pub(super) fn new(
        values: table::TimberValues,
        section: &table::TimberSection,
        damp: word::Damp,
        code: word::Code,
    ) -> Result<Self, FormulaError> {
        let (whole, piece) = (Rectangle::new(section.breadth, section.depth)?, Rectangle::new(section.piece, section.depth)?);
        let standard = Standard::of(&values);
        let needs = match (code, standard) {
            (word::Code::Asce7, Standard::Nds(_)) | (word::Code::Eurocode, Standard::Eurocode(_)) => {
                return Ok(Self { values, whole, piece, damp, shared: false, standard });
            }
            (word::Code::Asce7, Standard::Eurocode(_)) => "one of the NDS Supplement 2018 for a design by asce7",
            (word::Code::Eurocode, Standard::Nds(_)) => "one of EN 338:2016 or EN 14080:2013 for a design by eurocode",
        };
        Err(FormulaError::domain("the timber's grade", needs))
    }

    /// Modulus of elasticity for deflections, Pa.
    pub(super) fn elasticity(&self) -> Result<f64, FormulaError> {
        match self.standard {
            Standard::Nds(table) => Ok(self.adjusted(table, State::Moving)?.elasticity),
            Standard::Eurocode(_) => Ok(self.values.elasticity),
        }
    }

    /// Its values by the NDS in a state.
    pub(super) fn adjusted(&self, table: nds_size::Table, case: State) -> Result<nds::Adjusted, FormulaError> {
        let values = &self.values;
        let reference = nds::Reference {
            bending: values.bending,
            tension: values.tension,
            shear: values.shear,
            bearing: values.bearing,
            compression: values.compression,
            elasticity: values.elasticity,
            elasticity_min: values.elasticity_min,
        };
        let used = nds::Use {
            duration: case.into(),
            wet: is_wet(self.damp),
            temperature: nds::ORDINARY_TEMPERATURE,
            incised: false,
            repetitive: self.shared,
            table,
        };
        nds::adjust(&reference, self.piece, &used)
    }

    /// Its design strengths in a state, held from tipping at this distance, m; held all along if it is 0.
    pub(super) fn strengths(&self, case: State, unbraced: f64) -> Result<Strengths, FormulaError> {
        match self.standard {
            Standard::Nds(table) => self.by_the_nds(table, case, unbraced),
            Standard::Eurocode(material) => self.by_the_eurocode(material, case, unbraced),
        }
    }

    fn by_the_nds(&self, table: nds_size::Table, case: State, unbraced: f64) -> Result<Strengths, FormulaError> {
        let adjusted = self.adjusted(table, case)?;
        let stability = if unbraced > 0.0 && self.whole.depth > self.whole.breadth {
            let effective = nds_stability::effective_length(nds_stability::Loading::Other, unbraced, self.whole.depth)?;
            nds_stability::stability(self.whole, effective, adjusted.bending, adjusted.elasticity_min)?.factor
        } else {
            1.0
        };
        Ok(Strengths {
            bending: adjusted.bending * adjusted.flat_use * stability,
            shear: adjusted.shear,
            bearing: adjusted.bearing,
            compression: adjusted.compression,
            factors: table::BeamFactors {
                duration: Some(adjusted.duration),
                size: Some(adjusted.size.bending),
                wet_bending: Some(adjusted.wet.bending),
                wet_shear: Some(adjusted.wet.shear),
                wet_bearing: Some(adjusted.wet.bearing),
                repetitive: Some(adjusted.repetitive),
                ..table::BeamFactors::of_stability(stability)
            },
        })
    }

    fn by_the_eurocode(&self, material: en1995::Material, case: State, unbraced: f64) -> Result<Strengths, FormulaError> {
        let values = &self.values;
        let (kmod, gamma_m) = (en1995::kmod(self.damp.into(), case.into()), en1995::gamma_m(material));
        let design = |characteristic: f64| en1995::design_value(characteristic, kmod, gamma_m);
        let depth = en1995::depth_factor(material, self.whole.depth, 0.0)?;
        let system = if self.shared { en1995::SYSTEM } else { 1.0 };
        let stability = if unbraced > 0.0 {
            let effective =
                en1995::effective_length(en1995::Loading::ConstantMoment, unbraced, self.whole.depth, en1995::Edge::Compression);
            let critical = en1995::critical_bending_stress(self.whole.breadth, self.whole.depth, values.elasticity_min, effective)?;
            en1995::kcrit(en1995::relative_slenderness_bending(values.bending, critical))
        } else {
            1.0
        };
        Ok(Strengths {
            bending: design(values.bending) * depth * system * stability,
            shear: design(values.shear),
            bearing: design(values.bearing),
            compression: design(values.compression),
            factors: table::BeamFactors {
                kmod: Some(kmod),
                gamma_m: Some(gamma_m),
                depth: Some(depth),
                system: Some(system),
                crack: Some(en1995::crack_factor(material)),
                ..table::BeamFactors::of_stability(stability)
            },
        })
    }

    /// What is left of the shear strength of the whole section, notched so deep on its underside at a support, the corner so
    /// far from the middle of that.
    pub(super) fn notched(&self, depth: f64, from: f64) -> Result<f64, FormulaError> {
        if depth <= 0.0 {
            return Ok(1.0);
        }
        let left = self.whole.depth - depth;
        match self.standard {
            Standard::Nds(_) => {
                let whole = nds_check::notched_shear_capacity(1.0, self.whole, self.whole.depth)?;
                Ok(nds_check::notched_shear_capacity(1.0, self.whole, left)? / whole)
            }
            Standard::Eurocode(material) => {
                let notch = en1995_check::Notch { depth: self.whole.depth, left, to_corner: from, slope: 0.0 };
                Ok(en1995_check::notch_factor(material, &notch)? * left / self.whole.depth)
            }
        }
    }

    /// The stress of a shear force (N), Pa.
    pub(super) fn shear_stress(&self, shear: f64) -> Result<f64, FormulaError> {
        match self.standard {
            Standard::Nds(_) => Ok(nds_check::shear_stress(shear, self.whole)),
            Standard::Eurocode(material) => en1995_check::shear_stress(shear, self.whole, en1995::crack_factor(material)),
        }
    }
}

impl table::BeamFactors {
    /// Those of a member with no other factor than that it may tip.
    pub(super) const fn of_stability(stability: f64) -> Self {
        Self {
            stability,
            kmod: None,
            gamma_m: None,
            depth: None,
            system: None,
            crack: None,
            duration: None,
            size: None,
            wet_bending: None,
            wet_shear: None,
            wet_bearing: None,
            repetitive: None,
        }
    }
}
