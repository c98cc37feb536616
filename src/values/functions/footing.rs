//! Footings: what their weight holds down.
//!
//! In: weights. Out: forces at the level of working loads.
//! It must not know a site's frost or soil report.

use super::arguments::Arguments;
use super::structure::CODES;
use super::{Body, Function, Takes, needs};
use crate::calc::FormulaError;
use crate::calc::footing::uplift;
use crate::calc::holddown::Combination;
use crate::units::Dim;
use crate::values::value::Value;

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

/// The table of this subject.
pub(super) const FUNCTIONS: &[Function] = &[Function {
    name: "weight_holds",
    doc: "what a dead weight holds against a pull that is already at the level of working loads: 0.6 D, or 0.9 G / 1.5",
    parameters: &[needs("weight", Takes::Quantity(Dim::FORCE), "of the footing"), needs("code", Takes::Word(CODES), "whose combination")],
    gives: "force",
    source: "ASCE 7-16 §2.4.1(7), the footing's own weight factored like any dead load; EN 1990:2002 Table A1.2(A)",
    body: Body::Formula(weight_holds),
}];
