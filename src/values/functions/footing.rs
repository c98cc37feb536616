//! Footings: what their weight holds down, and what the ground takes where nobody has tested it.
//!
//! In: weights, sizes, a class of soil. Out: forces at the level of working loads, pressures.
//! It must not know a site's frost or soil report.

use super::arguments::Arguments;
use super::structure::CODES;
use super::{Body, Function, Takes, needs};
use crate::calc::FormulaError;
use crate::calc::footing::{presumptive, uplift};
use crate::calc::holddown::Combination;
use crate::units::Dim;
use crate::values::value::Value;

const SOILS: &[&str] = &["bedrock", "soft_rock", "gravel", "sand", "clay"];

/// The wind's factor is taken out again, for it stands in the pull that this is compared with.
fn weight_holds(a: &Arguments) -> Result<Value, FormulaError> {
    let weight = a.si(0);
    let holds = if a.word(1) == "asce7" {
        uplift::uplift(uplift::Code::Asd(uplift::Reading::FactorEverything), 0.0, 0.0, weight).1
    } else {
        uplift::uplift(uplift::Code::Eurocode, 0.0, 0.0, weight).1 / Combination::Equilibrium.working_load_divisor()
    };
    Ok(Value::quantity(holds, Dim::FORCE))
}

fn presumptive_soil(a: &Arguments) -> Result<Value, FormulaError> {
    let values = presumptive::values(match a.word(0) {
        "bedrock" => presumptive::Soil::Bedrock,
        "soft_rock" => presumptive::Soil::SoftRock,
        "gravel" => presumptive::Soil::Gravel,
        "clay" => presumptive::Soil::Clay,
        _ => presumptive::Soil::Sand,
    });
    Ok(Value::quantity(values.bearing, Dim::PRESSURE))
}

/// The table of this subject.
pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "weight_holds",
        doc: "what a dead weight holds against a pull that is already at the level of working loads: 0.6 D, or 0.9 G / 1.5",
        parameters: &[
            needs("weight", Takes::Quantity(Dim::FORCE), "of the footing"),
            needs("code", Takes::Word(CODES), "whose combination"),
        ],
        gives: "force",
        source: "ASCE 7-16 §2.4.1(7), the footing's own weight factored like any dead load; EN 1990 Table A1.2(A)",
        body: Body::Formula(weight_holds),
    },
    Function {
        name: "presumptive_soil",
        doc: "the bearing pressure that the code allows on a class of soil that nobody has tested",
        parameters: &[needs("soil", Takes::Word(SOILS), "the class")],
        gives: "pressure",
        source: "IBC 2018 Table 1806.2",
        body: Body::Formula(presumptive_soil),
    },
];
