//! Arithmetic and trigonometry.

use super::arguments::Arguments;
use super::{Body, Function, Refusal, Takes, may, needs};
use crate::calc::FormulaError;
use crate::units::{Dim, STANDARD_GRAVITY, System, as_weight, display_unit};
use crate::values::evaluator::Evaluator;
use crate::values::value::{Quantity, Value};

const SOURCE: &str = "arithmetic";

fn same_sort(arguments: &Arguments, at: usize) -> Result<Vec<Quantity>, FormulaError> {
    let mut found: Vec<Quantity> = Vec::new();
    for value in arguments.values(at) {
        match value {
            Value::Quantity(quantity) => found.push(quantity),
            Value::Zero => {}
            other => return Err(FormulaError::domain("every value", format!("a number, and one is {}", other.describe()))),
        }
    }
    if let Some(first) = found.first()
        && let Some(other) = found.iter().find(|quantity| quantity.dim != first.dim)
    {
        return Err(FormulaError::domain(
            "every value",
            format!("of one sort; these are {} and {}", first.dim.describe(), other.dim.describe()),
        ));
    }
    Ok(found)
}

fn with_si(quantity: &Quantity, si: f64) -> Value {
    Value::Quantity(Quantity { si, ..quantity.clone() })
}

fn extreme(arguments: &Arguments, pick: fn(f64, f64) -> bool) -> Result<Value, FormulaError> {
    same_sort(arguments, 0)?
        .into_iter()
        .reduce(|a, b| if pick(b.si, a.si) { b } else { a })
        .map(Value::Quantity)
        .ok_or_else(|| FormulaError::domain("the list", "not empty"))
}

fn largest(arguments: &Arguments) -> Result<Value, FormulaError> {
    extreme(arguments, |a, b| a > b)
}

fn smallest(arguments: &Arguments) -> Result<Value, FormulaError> {
    extreme(arguments, |a, b| a < b)
}

/// A temperature has no size, no sign and no sum: it is a point on its scale.
fn amount(quantity: Quantity) -> Result<Quantity, FormulaError> {
    if quantity.dim.is_point() { Err(FormulaError::domain("the value", "an amount, and a temperature is none")) } else { Ok(quantity) }
}

fn sum(arguments: &Arguments) -> Result<Value, FormulaError> {
    let amounts: Vec<Quantity> = same_sort(arguments, 0)?.into_iter().map(amount).collect::<Result<_, _>>()?;
    Ok(amounts.into_iter().reduce(|a, b| Quantity { si: a.si + b.si, ..a }).map_or(Value::Zero, Value::Quantity))
}

fn absolute(arguments: &Arguments) -> Result<Value, FormulaError> {
    let quantity = amount(arguments.quantity(0))?;
    Ok(with_si(&quantity, quantity.si.abs()))
}

fn square_root(arguments: &Arguments) -> Result<Value, FormulaError> {
    let quantity = amount(arguments.quantity(0))?;
    let dim = quantity.dim.root(2).ok_or_else(|| FormulaError::domain("the unit", "a square, like m2"))?;
    if quantity.si < 0.0 {
        return Err(FormulaError::domain("the number", "zero or more"));
    }
    Ok(Value::quantity(quantity.si.sqrt(), dim))
}

fn rounded(evaluator: &Evaluator, arguments: &Arguments, round: fn(f64) -> f64) -> Result<Value, Refusal> {
    let quantity = arguments.quantity(0);
    let step = if arguments.has(1) { arguments.quantity(1) } else { usual_step(&quantity, evaluator.system()) };
    if step.dim != quantity.dim.difference() {
        return Err(FormulaError::domain("the step", format!("{}, like the value", quantity.dim.difference().describe())).into());
    }
    if step.si <= 0.0 {
        return Err(FormulaError::domain("the step", "more than zero").into());
    }
    // A value that is a whole number of steps but for rounding is that number.
    let zero = zero_of(&quantity);
    let steps = (quantity.si - zero) / step.si;
    let near = steps.round();
    let whole = if (steps - near).abs() < 1e-9 * near.abs().max(1.0) { near } else { round(steps) };
    Ok(with_si(&quantity, zero + whole * step.si))
}

/// From where the steps of rounding are counted, in SI base units: for a temperature the zero of its own scale, or of degC.
fn zero_of(quantity: &Quantity) -> f64 {
    let scale = quantity.dim.is_point().then(|| display_unit(quantity.si, quantity.dim, quantity.unit.as_deref(), System::Metric));
    scale.flatten().map_or(0.0, |unit| unit.offset)
}

/// To what a builder rounds: a whole number, a mark of the tape, or else two figures of the unit it is read in.
fn usual_step(quantity: &Quantity, system: System) -> Quantity {
    const MILLIMETRE: f64 = 1e-3;
    const SIXTEENTH: f64 = 0.0254 / 16.0;
    let step = |si| Quantity { si, dim: quantity.dim.difference(), unit: None };
    if quantity.dim.is_number() {
        return step(1.0);
    }
    if quantity.dim == Dim::LENGTH {
        return step(if system == System::Us { SIXTEENTH } else { MILLIMETRE });
    }
    let one = display_unit(quantity.si, quantity.dim, quantity.unit.as_deref(), system).map_or(1.0, |unit| unit.factor);
    let figures = ((quantity.si - zero_of(quantity)) / one).abs().max(f64::MIN_POSITIVE).log10().floor() - 1.0;
    step(one * 10_f64.powf(figures))
}

fn weight(arguments: &Arguments) -> Result<Value, FormulaError> {
    let quantity = arguments.quantity(0);
    let dim = quantity.dim.times(Dim::ACCELERATION);
    if as_weight(dim, quantity.dim) {
        Ok(Value::quantity(quantity.si * STANDARD_GRAVITY, dim))
    } else {
        Err(FormulaError::domain("the value", "a mass, or a mass by length or area"))
    }
}

fn angle_of(value: f64) -> Result<Value, FormulaError> {
    if value.is_finite() { Ok(Value::quantity(value, Dim::ANGLE)) } else { Err(FormulaError::domain("the number", "from -1 to 1")) }
}

fn direction(arguments: &Arguments) -> Result<Value, FormulaError> {
    let (y, x) = (arguments.quantity(0), arguments.quantity(1));
    let (y, x) = (amount(y)?, amount(x)?);
    if y.dim != x.dim {
        return Err(FormulaError::domain("both", "of one sort"));
    }
    angle_of(y.si.atan2(x.si))
}

fn between(arguments: &Arguments) -> Result<Value, FormulaError> {
    let (value, low, high) = (arguments.quantity(0), arguments.quantity(1), arguments.quantity(2));
    if value.dim != low.dim || value.dim != high.dim {
        return Err(FormulaError::domain("all three", "of one sort"));
    }
    Ok(with_si(&value, value.si.max(low.si).min(high.si)))
}

macro_rules! function {
    ($name:literal, $doc:literal, [$($parameter:expr),* $(,)?], $gives:literal, Body::Design($body:expr)) => {
        Function { name: $name, doc: $doc, parameters: &[$($parameter),*], gives: $gives, source: SOURCE, body: Body::Design($body) }
    };
    ($name:literal, $doc:literal, [$($parameter:expr),* $(,)?], $gives:literal, $body:expr) => {
        Function { name: $name, doc: $doc, parameters: &[$($parameter),*], gives: $gives, source: SOURCE, body: Body::Formula($body) }
    };
}

const ANGLE: Takes = Takes::Quantity(Dim::ANGLE);
const NUMBER: Takes = Takes::Quantity(Dim::NUMBER);

/// The table of this subject.
pub(super) const FUNCTIONS: &[Function] = &[
    function!(
        "max",
        "the largest of several values or of a list",
        [needs("values", Takes::Quantities, "the values")],
        "the same sort",
        largest
    ),
    function!(
        "min",
        "the smallest of several values or of a list",
        [needs("values", Takes::Quantities, "the values")],
        "the same sort",
        smallest
    ),
    function!(
        "sum",
        "all values of a list added up; zero of none",
        [needs("values", Takes::Quantities, "the values")],
        "the same sort",
        sum
    ),
    function!("abs", "the size without the sign", [needs("value", Takes::AnyQuantity, "the value")], "the same sort", absolute),
    function!("sqrt", "the square root", [needs("value", Takes::AnyQuantity, "the value, zero or more")], "the root's sort", square_root),
    function!(
        "round",
        "the nearest whole number, or multiple of a step; of a quantity without a step a mark of the tape or two figures",
        [needs("value", Takes::AnyQuantity, "the value"), may("step", Takes::AnyQuantity, "the step")],
        "the same sort",
        Body::Design(|evaluator, arguments| rounded(evaluator, arguments, f64::round))
    ),
    function!(
        "round_up",
        "the next whole number up, or multiple of a step; of a quantity without a step a mark of the tape or two figures",
        [needs("value", Takes::AnyQuantity, "the value"), may("step", Takes::AnyQuantity, "the step")],
        "the same sort",
        Body::Design(|evaluator, arguments| rounded(evaluator, arguments, f64::ceil))
    ),
    function!(
        "round_down",
        "the next whole number down, or multiple of a step; of a quantity without a step a mark of the tape or two figures",
        [needs("value", Takes::AnyQuantity, "the value"), may("step", Takes::AnyQuantity, "the step")],
        "the same sort",
        Body::Design(|evaluator, arguments| rounded(evaluator, arguments, f64::floor))
    ),
    function!(
        "between",
        "the value, but no less than `low` and no more than `high`",
        [
            needs("value", Takes::AnyQuantity, "the value"),
            needs("low", Takes::AnyQuantity, "the least"),
            needs("high", Takes::AnyQuantity, "the most"),
        ],
        "the same sort",
        between
    ),
    function!(
        "weight",
        "the weight of a mass at standard gravity, 9.80665 m/s2",
        [needs("mass", Takes::AnyQuantity, "the mass")],
        "force",
        weight
    ),
    function!("sin", "the sine", [needs("angle", ANGLE, "the angle")], "number", |a| Ok(Value::number(a.si(0).sin()))),
    function!("cos", "the cosine", [needs("angle", ANGLE, "the angle")], "number", |a| Ok(Value::number(a.si(0).cos()))),
    function!("tan", "the tangent", [needs("angle", ANGLE, "the angle")], "number", |a| Ok(Value::number(a.si(0).tan()))),
    function!("asin", "the angle of a sine", [needs("sine", NUMBER, "from -1 to 1")], "angle", |a| angle_of(a.si(0).asin())),
    function!("acos", "the angle of a cosine", [needs("cosine", NUMBER, "from -1 to 1")], "angle", |a| angle_of(a.si(0).acos())),
    function!("atan", "the angle of a slope", [needs("slope", NUMBER, "rise over run")], "angle", |a| angle_of(a.si(0).atan())),
    function!(
        "atan2",
        "the angle of a rise and a run, with their signs",
        [needs("rise", Takes::AnyQuantity, "the rise"), needs("run", Takes::AnyQuantity, "the run")],
        "angle",
        direction
    ),
    function!("radians", "an angle as a plain number: arc over radius", [needs("angle", ANGLE, "the angle")], "number", |a| Ok(
        Value::number(a.si(0))
    )),
];
