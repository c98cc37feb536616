//! Steel beams and posts by AISC 360-16 (allowable stress) and by EN 1993-1-1.
//!
//! In: yield stress and section, what a beam or post carries in each state. Out: the state that governs with stress and
//! strength, elastic. It must not know a section's name: that is the catalogue's.

use super::body::{may, needs};
use super::timber::{CODE, Governs, SECTION, VALUES, checked, number_in, pressure, states, table};
use crate::calc::FormulaError;
use crate::calc::column::steel::Curve;
use crate::calc::steel::member;
use crate::calc::steel::tipping::{self, OpenSection};
use crate::units::Dim;
use crate::values::Arguments;
use crate::values::{Body, Function, Takes};
use crate::values::{Record, Value};
use smol_str::SmolStr;

const LENGTH: Takes = Takes::Quantity(Dim::LENGTH);
const PRESSURE: Takes = Takes::Quantity(Dim::PRESSURE);

fn steel_values(a: &Arguments) -> Result<Value, FormulaError> {
    Ok(Value::record(vec![
        ("family", Value::Word(SmolStr::new_static("steel"))),
        ("yield_stress", pressure(a.si(0))),
        ("tensile_strength", pressure(a.si(1))),
        ("elasticity", pressure(a.si(2))),
    ]))
}

fn steel_shape(a: &Arguments) -> Result<Value, FormulaError> {
    let mut fields = vec![
        ("breadth", Value::quantity(a.si(0), Dim::LENGTH)),
        ("area", Value::quantity(a.si(1), Dim::AREA)),
        ("modulus", Value::quantity(a.si(2), Dim::SECTION_MODULUS)),
        ("inertia", Value::quantity(a.si(3), Dim::SECOND_MOMENT)),
        ("shear_area", Value::quantity(a.si(4), Dim::AREA)),
        ("weak_radius", Value::quantity(a.si(5), Dim::LENGTH)),
        ("weak_modulus", Value::quantity(a.si(6), Dim::SECTION_MODULUS)),
    ];
    if a.has(7) {
        fields.extend([
            ("torsion", Value::quantity(a.si(7), Dim::SECOND_MOMENT)),
            ("warping", Value::quantity(a.optional(8).unwrap_or(0.0), Dim::WARPING)),
            ("between_flanges", Value::quantity(a.optional(9).unwrap_or(0.0), Dim::LENGTH)),
            ("channel", Value::Flag(a.flag(10))),
        ]);
    }
    Ok(Value::record(fields))
}

fn steel_section(a: &Arguments) -> Result<Value, FormulaError> {
    let (mut section, pieces) = (table(a, 0, "the shape")?, a.si(1));
    for (name, value) in &mut section.fields {
        // Two side by side are twice as much of all but what is a distance.
        if let (Value::Quantity(quantity), false) = (&mut *value, ["weak_radius", "between_flanges"].contains(&name.as_str())) {
            quantity.si *= pieces;
        }
    }
    Ok(Value::Record(std::sync::Arc::new(section)))
}

/// An open section, if the table is of one: it tips sideways where a tube does not.
fn open_section(section: &Record) -> Result<Option<OpenSection>, FormulaError> {
    if section.get("torsion").is_none() {
        return Ok(None);
    }
    let (area, radius) = (number_in(section, "area")?, number_in(section, "weak_radius")?);
    Ok(Some(OpenSection {
        modulus: number_in(section, "modulus")?,
        weak_inertia: area * radius * radius,
        torsion: number_in(section, "torsion")?,
        warping: number_in(section, "warping")?,
        between_flanges: number_in(section, "between_flanges")?,
        weak_radius: radius,
        channel: section.get("channel") == Some(&Value::Flag(true)),
    }))
}

/// The moment that an open section carries before it tips, C1 and Cb 1.
fn tipping_moment(open: &OpenSection, fy: f64, elasticity: f64, unbraced: f64, by_aisc: bool, breadth: f64) -> Result<f64, FormulaError> {
    const POISSON: f64 = 0.3;
    if by_aisc {
        return tipping::aisc_open_section_moment(open, fy, elasticity, unbraced, 1.0);
    }
    let critical = tipping::critical_moment(open, elasticity, elasticity / (2.0 * (1.0 + POISSON)), unbraced.max(1e-3), 1.0)?;
    let curve = match open.channel {
        true => Curve::D,
        false if open.between_flanges <= 2.0 * breadth => Curve::A,
        false => Curve::B,
    };
    tipping::en_moment(open.modulus, fy, critical, curve)
}

fn steel_beam(a: &Arguments) -> Result<Value, FormulaError> {
    let (bent, values, section) = (table(a, 0, "the beam")?, table(a, 1, "the grade's values")?, table(a, 2, "the section")?);
    let by_aisc = a.word(4) == "asce7";
    let (fy, elasticity) = (number_in(&values, "yield_stress")?, number_in(&values, "elasticity")?);
    let (modulus, area) = (number_in(&section, "modulus")?, number_in(&section, "shear_area")?);
    let (yields, shear_holds) = if by_aisc {
        (member::aisc_moment(fy, modulus), member::aisc_shear(fy, area))
    } else {
        (member::en_moment(fy, modulus), member::en_shear(fy, area))
    };
    let moment_holds = match open_section(&section)? {
        None => yields,
        Some(open) => tipping_moment(&open, fy, elasticity, a.si(3), by_aisc, number_in(&section, "breadth")?)?,
    };
    let (mut bending, mut shear) = (Governs::default(), Governs::default());
    for (case, moment, force, _) in states(&bent)? {
        bending.meet(moment / modulus, moment_holds / modulus, &case);
        shear.meet(force / area, shear_holds / area, &case);
    }
    let factors = Value::record(vec![("stability", Value::number(moment_holds / yields))]);
    Ok(checked(&bending, &shear, &Governs { strength: fy, ..Governs::default() }, 0, factors))
}

fn steel_rigidity(a: &Arguments) -> Result<Value, FormulaError> {
    let (values, section) = (table(a, 0, "the grade's values")?, table(a, 1, "the section")?);
    Ok(Value::quantity(number_in(&values, "elasticity")? * number_in(&section, "inertia")?, Dim::FLEXURAL_RIGIDITY))
}

/// The table of this subject.
pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "steel_values",
        doc: "design values of a grade of steel",
        parameters: &[
            needs("yield_stress", PRESSURE, "Fy, fy"),
            needs("tensile_strength", PRESSURE, "Fu, fu"),
            needs("elasticity", PRESSURE, "E"),
        ],
        gives: "table",
        source: "ASTM A36/A36M-14, A500/A500M-13; EN 10025-2:2004, EN 10210-1:2006",
        remembered: true,
        body: Body::Formula(steel_values),
    },
    Function {
        name: "steel_shape",
        doc: "what one steel section offers; with its torsion constant it counts as an open section, which tips sideways",
        parameters: &[
            needs("breadth", LENGTH, "of its flanges or its side"),
            needs("area", Takes::Quantity(Dim::AREA), "of the section"),
            needs("modulus", Takes::Quantity(Dim::SECTION_MODULUS), "elastic, about the strong axis"),
            needs("inertia", Takes::Quantity(Dim::SECOND_MOMENT), "about the strong axis"),
            needs("shear_area", Takes::Quantity(Dim::AREA), "of its webs"),
            needs("weak_radius", LENGTH, "smallest radius of gyration"),
            needs("weak_modulus", Takes::Quantity(Dim::SECTION_MODULUS), "elastic, about the weak axis"),
            may("torsion", Takes::Quantity(Dim::SECOND_MOMENT), "J, It, of an open section"),
            may("warping", Takes::Quantity(Dim::WARPING), "Cw, Iw"),
            may("between_flanges", LENGTH, "distance between the middles of its flanges"),
            may("channel", Takes::Flag, "a channel, not an I"),
        ],
        gives: "table of all of these",
        source: "geometry",
        remembered: true,
        body: Body::Formula(steel_shape),
    },
    Function {
        name: "steel_section",
        doc: "several steel sections side by side",
        parameters: &[needs("shape", Takes::Record, "a table of steel_shape"), needs("pieces", Takes::Quantity(Dim::NUMBER), "how many")],
        gives: "table as of steel_shape",
        source: "geometry",
        remembered: true,
        body: Body::Formula(steel_section),
    },
    Function {
        name: "steel_rigidity",
        doc: "E I of a steel member",
        parameters: &[VALUES, SECTION],
        gives: "flexural rigidity",
        source: "statics",
        remembered: false,
        body: Body::Formula(steel_rigidity),
    },
    Function {
        name: "steel_beam",
        doc: "bending at first yield and shear of a steel beam in the state that governs each; an open section tips sideways before it yields",
        parameters: &[
            needs("bent", Takes::Record, "the table of a beam function"),
            VALUES,
            SECTION,
            needs("unbraced", LENGTH, "between points that keep it from tipping; of no matter for a tube"),
            CODE,
        ],
        gives: "table as of timber_beam",
        source: "AISC 360-16 §F1, F2, G; EN 1993-1-1:2005 6.2.5, 6.2.6, 6.3.2.2",
        remembered: true,
        body: Body::Formula(steel_beam),
    },
];
