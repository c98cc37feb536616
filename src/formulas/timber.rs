//! Timber beams and posts by the NDS 2018 and by EN 1995-1-1.
//!
//! In: design values of a grade, a section, what a beam or post carries in each state. Out: the state that governs with
//! stress, strength and the factors on the way. It must not know a species: that is the catalogue's.

use super::body::{may, needs};
use super::loads_on_their_way::by_state;
use super::structure::CODES;
use crate::calc::FormulaError;
use crate::calc::timber::section::Rectangle;
use crate::calc::timber::{en1995, en1995_check, nds, nds_check, nds_size, nds_stability};
use crate::units::Dim;
use crate::values::Arguments;
use crate::values::{Body, Function, Parameter, Takes};
use crate::values::{Record, Value};
use smol_str::SmolStr;

const LENGTH: Takes = Takes::Quantity(Dim::LENGTH);
const PRESSURE: Takes = Takes::Quantity(Dim::PRESSURE);
const TABLES: &[&str] = &["table_4a", "table_4b", "table_4d", "en_338", "en_14080"];
const CLASSES: &[&str] = &["structural", "stud", "construction", "utility"];
pub(super) const DAMP: &[&str] = &["indoors", "covered", "outdoors"];
/// An ordinary outdoor temperature, K: no factor on the timber (NDS 2018 Table 2.3.3: up to 100 °F).
const ORDINARY: f64 = 293.15;

pub(super) fn pressure(si: f64) -> Value {
    Value::quantity(si, Dim::PRESSURE)
}

pub(super) fn number_in(record: &Record, name: &str) -> Result<f64, FormulaError> {
    record.get(name).and_then(Value::si).ok_or_else(|| FormulaError::domain(format!("`{name}`"), "in the table"))
}

pub(super) fn word_in<'r>(record: &'r Record, name: &str) -> &'r str {
    match record.get(name) {
        Some(Value::Word(word)) => word.as_str(),
        _ => "",
    }
}

pub(super) fn table(a: &Arguments, at: usize, what: &str) -> Result<Record, FormulaError> {
    a.record(at).cloned().ok_or_else(|| FormulaError::domain(what, "a table"))
}

fn timber_values(a: &Arguments) -> Result<Value, FormulaError> {
    let word = |at: usize| Value::Word(SmolStr::new(a.word(at)));
    let strength = |at: usize| pressure(a.si(at));
    Ok(Value::record(vec![
        ("family", Value::Word(SmolStr::new_static("timber"))),
        ("table", word(0)),
        ("class", word(1)),
        ("bending", strength(2)),
        ("tension", strength(3)),
        ("shear", strength(4)),
        ("bearing", strength(5)),
        ("compression", strength(6)),
        ("elasticity", strength(7)),
        ("elasticity_min", strength(8)),
    ]))
}

fn timber_section(a: &Arguments) -> Result<Value, FormulaError> {
    let section = Rectangle::new(a.si(0), a.si(1))?;
    let piece = Rectangle::new(a.si(2), a.si(1))?;
    Ok(Value::record(vec![
        ("breadth", Value::quantity(section.breadth, Dim::LENGTH)),
        ("depth", Value::quantity(section.depth, Dim::LENGTH)),
        ("piece", Value::quantity(piece.breadth, Dim::LENGTH)),
        ("area", Value::quantity(section.area(), Dim::AREA)),
        ("modulus", Value::quantity(section.modulus(), Dim::SECTION_MODULUS)),
        ("inertia", Value::quantity(section.inertia(), Dim::SECOND_MOMENT)),
    ]))
}

/// Design strengths for one state of load.
pub(super) struct Strengths {
    pub(super) bending: f64,
    shear: f64,
    bearing: f64,
    pub(super) compression: f64,
    factors: Value,
}

/// What a member is: its grade's values, its section, and where it stands.
pub(super) struct Member {
    pub(super) values: Record,
    pub(super) whole: Rectangle,
    pub(super) piece: Rectangle,
    damp: SmolStr,
    shared: bool,
    pub(super) by_nds: bool,
}

impl Member {
    pub(super) fn new(a: &Arguments, [values, section, damp, code]: [usize; 4], shared: bool) -> Result<Self, FormulaError> {
        let (values, section) = (table(a, values, "the grade's values")?, table(a, section, "the section")?);
        let (breadth, depth) = (number_in(&section, "breadth")?, number_in(&section, "depth")?);
        let (whole, piece) = (Rectangle::new(breadth, depth)?, Rectangle::new(number_in(&section, "piece")?, depth)?);
        let by_nds = a.word(code) == "asce7";
        let european = word_in(&values, "table").starts_with("en_");
        if by_nds == european {
            let needs = if by_nds {
                "one of the NDS Supplement 2018 for a design by asce7"
            } else {
                "one of EN 338:2016 or EN 14080:2013 for a design by eurocode"
            };
            return Err(FormulaError::domain("the timber's grade", needs));
        }
        Ok(Self { values, whole, piece, damp: SmolStr::new(a.word(damp)), shared, by_nds })
    }

    pub(super) fn value(&self, name: &str) -> Result<f64, FormulaError> {
        number_in(&self.values, name)
    }

    fn reference(&self) -> Result<nds::Reference, FormulaError> {
        Ok(nds::Reference {
            bending: self.value("bending")?,
            tension: self.value("tension")?,
            shear: self.value("shear")?,
            bearing: self.value("bearing")?,
            compression: self.value("compression")?,
            elasticity: self.value("elasticity")?,
            elasticity_min: self.value("elasticity_min")?,
        })
    }

    pub(super) fn adjusted(&self, case: &str) -> Result<nds::Adjusted, FormulaError> {
        let duration = match case {
            "shut" => nds::Duration::Permanent,
            "snow" => nds::Duration::TwoMonths,
            "live" => nds::Duration::SevenDays,
            "wind" => nds::Duration::TenMinutes,
            _ => nds::Duration::TenYears,
        };
        let class = match word_in(&self.values, "class") {
            "stud" => nds_size::GradeClass::Stud,
            "construction" => nds_size::GradeClass::Construction,
            "utility" => nds_size::GradeClass::Utility,
            _ => nds_size::GradeClass::Structural,
        };
        let table = match word_in(&self.values, "table") {
            "table_4b" => nds_size::Table::T4B,
            "table_4d" => nds_size::Table::T4D,
            _ => nds_size::Table::T4A(class),
        };
        let used =
            nds::Use { duration, wet: self.damp == "outdoors", temperature: ORDINARY, incised: false, repetitive: self.shared, table };
        nds::adjust(&self.reference()?, self.piece, &used)
    }

    pub(super) fn material(&self) -> en1995::Material {
        if word_in(&self.values, "table") == "en_14080" { en1995::Material::Glulam } else { en1995::Material::Solid }
    }

    fn kmod(&self, case: &str) -> f64 {
        let service = match self.damp.as_str() {
            "indoors" => en1995::ServiceClass::One,
            "outdoors" => en1995::ServiceClass::Three,
            _ => en1995::ServiceClass::Two,
        };
        let duration = match case {
            "shut" => en1995::Duration::Permanent,
            "snow" | "wind" | "live" => en1995::Duration::Short,
            _ => en1995::Duration::Medium,
        };
        en1995::kmod(service, duration)
    }

    pub(super) fn strengths(&self, case: &str, unbraced: f64) -> Result<Strengths, FormulaError> {
        if self.by_nds { self.by_the_nds(case, unbraced) } else { self.by_the_eurocode(case, unbraced) }
    }

    fn by_the_nds(&self, case: &str, unbraced: f64) -> Result<Strengths, FormulaError> {
        let adjusted = self.adjusted(case)?;
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
            factors: Value::record(vec![
                ("duration", Value::number(adjusted.duration)),
                ("size", Value::number(adjusted.size.bending)),
                ("wet_bending", Value::number(adjusted.wet.bending)),
                ("wet_shear", Value::number(adjusted.wet.shear)),
                ("wet_bearing", Value::number(adjusted.wet.bearing)),
                ("repetitive", Value::number(adjusted.repetitive)),
                ("stability", Value::number(stability)),
            ]),
        })
    }

    fn by_the_eurocode(&self, case: &str, unbraced: f64) -> Result<Strengths, FormulaError> {
        let material = self.material();
        let (kmod, gamma) = (self.kmod(case), en1995::gamma_m(material));
        let design = |name: &str| Ok::<_, FormulaError>(en1995::design_value(self.value(name)?, kmod, gamma));
        let depth = en1995::depth_factor(material, self.whole.depth, 0.0)?;
        let system = if self.shared { en1995::SYSTEM } else { 1.0 };
        let stability = if unbraced > 0.0 {
            let effective =
                en1995::effective_length(en1995::Loading::ConstantMoment, unbraced, self.whole.depth, en1995::Edge::Compression);
            let critical = en1995::critical_bending_stress(self.whole.breadth, self.whole.depth, self.value("elasticity_min")?, effective)?;
            en1995::kcrit(en1995::relative_slenderness_bending(self.value("bending")?, critical))
        } else {
            1.0
        };
        Ok(Strengths {
            bending: design("bending")? * depth * system * stability,
            shear: design("shear")?,
            bearing: design("bearing")?,
            compression: design("compression")?,
            factors: Value::record(vec![
                ("kmod", Value::number(kmod)),
                ("gamma_m", Value::number(gamma)),
                ("depth", Value::number(depth)),
                ("system", Value::number(system)),
                ("stability", Value::number(stability)),
                ("crack", Value::number(en1995::crack_factor(material))),
            ]),
        })
    }

    /// What is left of the shear strength of the whole section, notched so deep on its underside at a support, the corner so
    /// far from the middle of that.
    fn notched(&self, depth: f64, from: f64) -> Result<f64, FormulaError> {
        if depth <= 0.0 {
            return Ok(1.0);
        }
        let left = self.whole.depth - depth;
        if self.by_nds {
            let whole = nds_check::notched_shear_capacity(1.0, self.whole, self.whole.depth)?;
            return Ok(nds_check::notched_shear_capacity(1.0, self.whole, left)? / whole);
        }
        let notch = en1995_check::Notch { depth: self.whole.depth, left, to_corner: from, slope: 0.0 };
        Ok(en1995_check::notch_factor(self.material(), &notch)? * left / self.whole.depth)
    }

    fn shear_stress(&self, shear: f64) -> Result<f64, FormulaError> {
        if self.by_nds {
            Ok(nds_check::shear_stress(shear, self.whole))
        } else {
            en1995_check::shear_stress(shear, self.whole, en1995::crack_factor(self.material()))
        }
    }
}

/// The state with the largest stress for its strength.
#[derive(Default)]
pub(super) struct Governs {
    pub(super) stress: f64,
    pub(super) strength: f64,
    pub(super) case: SmolStr,
}

impl Governs {
    pub(super) fn meet(&mut self, stress: f64, strength: f64, case: &str) -> bool {
        let worse = self.strength == 0.0 || stress * self.strength > self.stress * strength;
        if worse {
            *self = Self { stress, strength, case: SmolStr::new(case) };
        }
        worse
    }
}

/// One state of a beam's table: name, moment, shear, force on each support.
type State = (SmolStr, f64, f64, Vec<f64>);

/// The states of a beam's table.
pub(super) fn states(bent: &Record) -> Result<Vec<State>, FormulaError> {
    let wrong = || FormulaError::domain("the beam", "the table of a beam function");
    let Some(Value::List(items)) = bent.get("cases") else { return Err(wrong()) };
    let state = |item: &Value| {
        let Value::Record(state) = item else { return Err(wrong()) };
        let presses = match state.get("presses") {
            Some(Value::List(items)) => items.iter().filter_map(Value::si).collect(),
            _ => Vec::new(),
        };
        Ok((SmolStr::new(word_in(state, "case")), number_in(state, "moment")?, number_in(state, "shear")?, presses))
    };
    items.iter().map(state).collect()
}

/// A state of the roof, as one says it.
pub(super) fn when(case: &str) -> Value {
    Value::Text(SmolStr::new_static(match case {
        "moving" => "as the roof rolls",
        "snow" => "with snow on the roof",
        "live" => "with people on the roof",
        "wind" => "with the wind pressing down",
        _ => "with the roof shut",
    }))
}

/// What a beam check gives, the same for timber and steel.
pub(super) fn checked(bending: &Governs, shear: &Governs, bearing: &Governs, seat: usize, factors: Value) -> Value {
    #[expect(clippy::cast_precision_loss, reason = "far fewer supports than 2^52")]
    let seat = seat as f64 + 1.0;
    Value::record(vec![
        ("bending_stress", pressure(bending.stress)),
        ("bending_strength", pressure(bending.strength)),
        ("bending_case", Value::Word(bending.case.clone())),
        ("bending_when", when(&bending.case)),
        ("shear_stress", pressure(shear.stress)),
        ("shear_strength", pressure(shear.strength)),
        ("shear_case", Value::Word(shear.case.clone())),
        ("bearing_stress", pressure(bearing.stress)),
        ("bearing_strength", pressure(bearing.strength)),
        ("bearing_case", Value::Word(bearing.case.clone())),
        ("bearing_seat", Value::number(seat)),
        ("factors", factors),
    ])
}

fn timber_beam(a: &Arguments) -> Result<Value, FormulaError> {
    let bent = table(a, 0, "the beam")?;
    let member = Member::new(a, [1, 2, 4, 7], a.flag(5))?;
    let (unbraced, seats) = (a.si(3), a.list(6));
    let notched = member.notched(a.optional(8).unwrap_or(0.0), a.optional(9).unwrap_or(0.0))?;
    let (mut bending, mut shear, mut bearing) = (Governs::default(), Governs::default(), Governs::default());
    let (mut seat_at, mut factors) = (0, Value::record(Vec::new()));
    for (case, moment, force, presses) in states(&bent)? {
        let strengths = member.strengths(&case, unbraced)?;
        if bending.meet(nds_check::bending_stress(moment, member.whole), strengths.bending, &case) {
            factors = strengths.factors;
        }
        shear.meet(member.shear_stress(force)?, strengths.shear * notched, &case);
        for (at, (press, seat)) in presses.iter().zip(&seats).enumerate() {
            if *seat > 0.0 && bearing.meet(press / (seat * member.whole.breadth), strengths.bearing, &case) {
                seat_at = at;
            }
        }
    }
    Ok(checked(&bending, &shear, &bearing, seat_at, factors))
}

fn timber_bearing(a: &Arguments) -> Result<Value, FormulaError> {
    let member = Member::new(a, [0, 1, 2, 5], false)?;
    let (forces, area) = (a.list(3), a.si(4));
    let mut worst = Governs::default();
    for (state, force) in by_state(&forces)? {
        worst.meet(force / area, member.strengths(state.word(), 0.0)?.bearing, state.word());
    }
    Ok(Value::record(vec![("stress", pressure(worst.stress)), ("strength", pressure(worst.strength)), ("when", when(&worst.case))]))
}

fn timber_rigidity(a: &Arguments) -> Result<Value, FormulaError> {
    let member = Member::new(a, [0, 1, 2, 3], false)?;
    let elasticity = if member.by_nds { member.adjusted("moving")?.elasticity } else { member.value("elasticity")? };
    Ok(Value::quantity(elasticity * member.whole.inertia(), Dim::FLEXURAL_RIGIDITY))
}

pub(super) const VALUES: Parameter = needs("values", Takes::Record, "design values of the grade");
pub(super) const SECTION: Parameter = needs("section", Takes::Record, "the section");
pub(super) const CODE: Parameter = needs("code", Takes::Word(CODES), "asce7: NDS or AISC 360; eurocode: EN 1995 or EN 1993");
pub(super) const DAMPNESS: Parameter =
    needs("damp", Takes::Word(DAMP), "indoors, covered or outdoors: service class 1, 2, 3; outdoors counts as wet in the NDS");
/// The table of this subject.
pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "timber_values",
        doc: "design values of a grade of timber, as its table gives them",
        parameters: &[
            needs("table", Takes::Word(TABLES), "of the NDS Supplement, or EN 338, EN 14080"),
            needs("class", Takes::Word(CLASSES), "grades that share size factors in Table 4A"),
            needs("bending", PRESSURE, "Fb; fm,k"),
            needs("tension", PRESSURE, "Ft; ft,0,k"),
            needs("shear", PRESSURE, "Fv; fv,k"),
            needs("bearing", PRESSURE, "Fc across the grain; fc,90,k"),
            needs("compression", PRESSURE, "Fc; fc,0,k"),
            needs("elasticity", PRESSURE, "E; E0,mean"),
            needs("elasticity_min", PRESSURE, "Emin; E0.05"),
        ],
        gives: "table",
        source: "NDS Supplement 2018; EN 338:2016",
        remembered: true,
        body: Body::Formula(timber_values),
    },
    Function {
        name: "timber_section",
        doc: "area, section modulus and second moment of a rectangle, of one piece or several side by side",
        parameters: &[
            needs("breadth", LENGTH, "of all pieces together"),
            needs("depth", LENGTH, "in the direction of the load"),
            needs("piece", LENGTH, "breadth of one piece"),
        ],
        gives: "table: breadth, depth, piece, area, modulus, inertia",
        source: "geometry",
        remembered: true,
        body: Body::Formula(timber_section),
    },
    Function {
        name: "timber_rigidity",
        doc: "E I of a timber member, E for the place it stands in",
        parameters: &[VALUES, SECTION, DAMPNESS, CODE],
        gives: "flexural rigidity",
        source: "NDS 2018 Table 4.3.1; EN 1995-1-1:2004",
        remembered: false,
        body: Body::Formula(timber_rigidity),
    },
    Function {
        name: "timber_beam",
        doc: "bending, shear and bearing of a timber beam in the state that governs each; bearing without the increase of short lengths (Cb, kc,90), on the safe side",
        parameters: &[
            needs("bent", Takes::Record, "the table of a beam function"),
            VALUES,
            SECTION,
            needs("unbraced", LENGTH, "between points that keep it from tipping; 0 if it is held all along"),
            DAMPNESS,
            needs("shared", Takes::Flag, "whether three or more pieces or beams side by side share the load"),
            needs("seats", Takes::List(Dim::LENGTH), "length of each bearing along the beam"),
            CODE,
            may("notch", LENGTH, "depth cut out of its underside at a support"),
            may("notch_from", LENGTH, "from the middle of that support to the corner of the notch"),
        ],
        gives: "table: bending, shear and bearing: stress, strength, case; factors of the bending strength",
        source: "NDS 2018 §3.3, 3.4, 3.10, Table 4.3.1; EN 1995-1-1:2004 §6.1, 6.3.3",
        remembered: true,
        body: Body::Formula(timber_beam),
    },
    Function {
        name: "timber_bearing",
        doc: "pressure across the grain where something stands on timber, in the state that governs, without the increase of short lengths",
        parameters: &[
            VALUES,
            SECTION,
            DAMPNESS,
            needs("forces", Takes::List(Dim::FORCE), "on it, factored, in the order of `load_states`: shut, moving, snow, live, wind"),
            needs("area", Takes::Quantity(Dim::AREA), "that presses"),
            CODE,
        ],
        gives: "table: stress, strength, when",
        source: "NDS 2018 §3.10, without Cb; EN 1995-1-1:2004 §6.1.5, without kc,90",
        remembered: true,
        body: Body::Formula(timber_bearing),
    },
];
