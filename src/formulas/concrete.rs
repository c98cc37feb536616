//! Concrete: its strength by age, and its stiffness.
//!
//! In: strength at 28 days, age, density. Out: shares of that strength, ages, moduli. All of it is for curing kept moist
//! near 20 degC: no formula here knows frost.

use super::body::{may, needs};
use crate::calc::FormulaError;
use crate::calc::concrete::{self, AciCuring, CementClass};
use crate::units::Dim;
use crate::values::Arguments;
use crate::values::Value;
use crate::values::{Body, Function, Parameter, Takes};

const PRESSURE: Takes = Takes::Quantity(Dim::PRESSURE);
const CODES: &[&str] = &["asce7", "eurocode"];
const CEMENTS: &[&str] = &["ordinary", "rapid", "slow"];

const CODE: Parameter = needs("code", Takes::Word(CODES), "asce7: ACI 209 and 318; eurocode: EN 1992-1-1");
const CEMENT: Parameter =
    needs("cement", Takes::Word(CEMENTS), "ordinary: type I, class N; rapid: type III, class R; slow: class S, no ACI constants");

fn class(word: &str) -> CementClass {
    match word {
        "rapid" => CementClass::R,
        "slow" => CementClass::S,
        _ => CementClass::N,
    }
}

fn curing(word: &str) -> Result<AciCuring, FormulaError> {
    match word {
        "rapid" => Ok(AciCuring::MoistTypeIII),
        "slow" => Err(FormulaError::domain("the cement", "`ordinary` or `rapid`: ACI 209 has no constants for a slow one")),
        _ => Ok(AciCuring::MoistTypeI),
    }
}

fn share(a: &Arguments) -> Result<Value, FormulaError> {
    let share = match a.word(0) {
        "asce7" => concrete::share_of_strength_aci(curing(a.word(1))?, a.si(2)),
        _ => concrete::share_of_strength_eurocode(class(a.word(1)), a.si(2)),
    };
    share.map(Value::number)
}

fn age(a: &Arguments) -> Result<Value, FormulaError> {
    let age = match a.word(0) {
        "asce7" => concrete::age_for_share_aci(curing(a.word(1))?, a.si(2)),
        _ => concrete::age_for_share_eurocode(class(a.word(1)), a.si(2)),
    };
    age.map(|age| Value::quantity(age, Dim::TIME))
}

fn modulus(a: &Arguments) -> Result<Value, FormulaError> {
    let modulus = match (a.word(0), a.optional(2)) {
        ("asce7", Some(density)) => concrete::modulus_aci_by_density(a.si(1), density),
        ("asce7", None) => concrete::modulus_aci(a.si(1)),
        _ => concrete::modulus_eurocode(a.si(1)),
    };
    modulus.map(|modulus| Value::quantity(modulus, Dim::PRESSURE))
}

const AGEING: &str = "ACI 209R-92 eq. 2-1 and Table 2.2.1; EN 1992-1-1:2004 3.1.2(6)";

/// The table of this subject.
pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "concrete_share",
        doc: "share of its 28-day strength that concrete has at an age, kept moist near 20 degC",
        parameters: &[CODE, CEMENT, needs("age", Takes::Quantity(Dim::TIME), "since it was poured")],
        gives: "number",
        source: AGEING,
        remembered: false,
        body: Body::Formula(share),
    },
    Function {
        name: "concrete_age",
        doc: "age at which concrete has a share of its 28-day strength, kept moist near 20 degC",
        parameters: &[CODE, CEMENT, needs("share", Takes::Quantity(Dim::NUMBER), "of the 28-day strength")],
        gives: "time",
        source: AGEING,
        remembered: false,
        body: Body::Formula(age),
    },
    Function {
        name: "concrete_modulus",
        doc: "modulus of elasticity of normal-weight concrete from its strength",
        parameters: &[
            CODE,
            needs("strength", PRESSURE, "at 28 days: specified (asce7), characteristic of the cylinder (eurocode)"),
            may("density", Takes::Quantity(Dim::DENSITY), "with asce7: w^1.5 33 sqrt(f'c) instead of 57000 sqrt(f'c)"),
        ],
        gives: "pressure",
        source: "ACI 318-05 8.5.1; EN 1992-1-1:2004 Table 3.1",
        remembered: false,
        body: Body::Formula(modulus),
    },
];
