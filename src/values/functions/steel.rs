//! Steel beams and posts by AISC 360-16 (allowable stress) and by EN 1993-1-1.
//!
//! In: yield stress and section, what a beam or post carries in each state. Out: the state that governs with stress and
//! strength, elastic. It must not know a section's name: that is the catalogue's.

use super::arguments::Arguments;
use super::timber::{CODE, Governs, SECTION, VALUES, checked, column_value, number_in, pressed, pressure, states, table};
use super::{Body, Function, Takes, needs};
use crate::calc::FormulaError;
use crate::calc::column::steel as column;
use crate::calc::steel::member;
use crate::units::Dim;
use crate::values::value::Value;
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

fn steel_section(a: &Arguments) -> Result<Value, FormulaError> {
    let pieces = a.si(6);
    Ok(Value::record(vec![
        ("breadth", Value::quantity(a.si(0) * pieces, Dim::LENGTH)),
        ("area", Value::quantity(a.si(1) * pieces, Dim::AREA)),
        ("modulus", Value::quantity(a.si(2) * pieces, Dim::SECTION_MODULUS)),
        ("inertia", Value::quantity(a.si(3) * pieces, Dim::SECOND_MOMENT)),
        ("shear_area", Value::quantity(a.si(4) * pieces, Dim::AREA)),
        ("weak_radius", Value::quantity(a.si(5), Dim::LENGTH)),
    ]))
}

fn steel_beam(a: &Arguments) -> Result<Value, FormulaError> {
    let (bent, values, section) = (table(a, 0, "the beam")?, table(a, 1, "the grade's values")?, table(a, 2, "the section")?);
    let by_aisc = a.word(3) == "asce7";
    let fy = number_in(&values, "yield_stress")?;
    let (modulus, area) = (number_in(&section, "modulus")?, number_in(&section, "shear_area")?);
    let (moment_holds, shear_holds) = if by_aisc {
        (member::aisc_moment(fy, modulus), member::aisc_shear(fy, area))
    } else {
        (member::en_moment(fy, modulus), member::en_shear(fy, area))
    };
    let (mut bending, mut shear) = (Governs::default(), Governs::default());
    for (case, moment, force, _) in states(&bent)? {
        bending.meet(moment / modulus, moment_holds / modulus, &case);
        shear.meet(force / area, shear_holds / area, &case);
    }
    Ok(checked(&bending, &shear, &Governs { strength: fy, ..Governs::default() }, 0, Value::record(Vec::new())))
}

fn steel_rigidity(a: &Arguments) -> Result<Value, FormulaError> {
    let (values, section) = (table(a, 0, "the grade's values")?, table(a, 1, "the section")?);
    Ok(Value::quantity(number_in(&values, "elasticity")? * number_in(&section, "inertia")?, Dim::FLEXURAL_RIGIDITY))
}

fn steel_post(a: &Arguments) -> Result<Value, FormulaError> {
    let (values, section, length) = (table(a, 0, "the grade's values")?, table(a, 1, "the section")?, a.si(2));
    let (fy, elasticity) = (number_in(&values, "yield_stress")?, number_in(&values, "elasticity")?);
    let (area, radius) = (number_in(&section, "area")?, number_in(&section, "weak_radius")?);
    let strength = if a.word(4) == "asce7" {
        column::aisc_critical_stress(length / radius, fy, elasticity)? / column::OMEGA_COMPRESSION
    } else {
        let relative = column::en_relative_slenderness(area, area * radius * radius, length, fy, elasticity)?;
        column::en_reduction_factor(relative, column::Curve::C) * fy / member::GAMMA_M1
    };
    let mut worst = Governs::default();
    for (case, force) in pressed(a, 3) {
        worst.meet(force / area, strength, case);
    }
    Ok(column_value(&worst, area, length / radius, strength / fy))
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
        source: "ASTM; EN 10025, EN 10210",
        body: Body::Formula(steel_values),
    },
    Function {
        name: "steel_section",
        doc: "what a steel section offers, of one or several side by side",
        parameters: &[
            needs("breadth", LENGTH, "of one"),
            needs("area", Takes::Quantity(Dim::AREA), "of one"),
            needs("modulus", Takes::Quantity(Dim::SECTION_MODULUS), "elastic, of one"),
            needs("inertia", Takes::Quantity(Dim::SECOND_MOMENT), "of one"),
            needs("shear_area", Takes::Quantity(Dim::AREA), "of one: its webs"),
            needs("weak_radius", LENGTH, "smallest radius of gyration"),
            needs("pieces", Takes::Quantity(Dim::NUMBER), "how many"),
        ],
        gives: "table: breadth, area, modulus, inertia, shear_area, weak_radius",
        source: "geometry",
        body: Body::Formula(steel_section),
    },
    Function {
        name: "steel_rigidity",
        doc: "E I of a steel member",
        parameters: &[VALUES, SECTION],
        gives: "flexural rigidity",
        source: "statics",
        body: Body::Formula(steel_rigidity),
    },
    Function {
        name: "steel_beam",
        doc: "bending at first yield and shear of a steel beam that cannot tip (a tube, or held all along), in the state that governs each",
        parameters: &[needs("bent", Takes::Record, "the table of a beam function"), VALUES, SECTION, CODE],
        gives: "table as of timber_beam",
        source: "AISC 360-16 chapters F, G; EN 1993-1-1 6.2.5, 6.2.6",
        body: Body::Formula(steel_beam),
    },
    Function {
        name: "steel_post",
        doc: "what a steel post carries before it bows out, pinned at both ends; EN 1993 by buckling curve c, on the safe side",
        parameters: &[
            VALUES,
            SECTION,
            needs("length", LENGTH, "between its ends or braces"),
            needs("forces", Takes::List(Dim::FORCE), "on it, factored: roof shut, moving, with snow"),
            CODE,
        ],
        gives: "table as of timber_post",
        source: "AISC 360-16 §E3; EN 1993-1-1 6.3.1",
        body: Body::Formula(steel_post),
    },
];
