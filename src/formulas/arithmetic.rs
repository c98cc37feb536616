//! Arithmetic and trigonometry.

use super::body::{Formula, Survey};
use crate::calc::FormulaError;
use crate::units::{Dim, STANDARD_GRAVITY, System, as_weight, display_unit};
use crate::values::{Evaluator, Quantity, Refusal, Value};

include!(concat!(env!("OUT_DIR"), "/formulas_arithmetic.rs"));

fn same_sort(values: Vec<Value>) -> Result<Vec<Quantity>, FormulaError> {
    let mut found: Vec<Quantity> = Vec::new();
    for value in values {
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

fn extreme(values: Vec<Value>, pick: fn(f64, f64) -> bool) -> Result<Value, FormulaError> {
    let of_nothing = values.contains(&Value::Zero);
    let mut found = same_sort(values)?;
    // A sum of nothing counts: it is 0 of whatever the others are.
    match found.first().map(|first| first.dim) {
        None if of_nothing => return Ok(Value::Zero),
        Some(dim) if of_nothing && !dim.is_point() => found.push(Quantity { si: 0.0, dim, unit: None }),
        _ => {}
    }
    let found = found.into_iter().reduce(|a, b| if pick(b.si, a.si) { b } else { a });
    found.map(Value::Quantity).ok_or_else(|| FormulaError::domain("the list", "not empty"))
}

impl Formula for Max {
    fn answer(self) -> Result<Value, FormulaError> {
        extreme(self.values, |a, b| a > b)
    }
}

impl Formula for Min {
    fn answer(self) -> Result<Value, FormulaError> {
        extreme(self.values, |a, b| a < b)
    }
}

/// A temperature has no size, no sign and no sum: it is a point on its scale.
fn amount(quantity: Quantity) -> Result<Quantity, FormulaError> {
    if quantity.dim.is_point() { Err(FormulaError::domain("the value", "an amount, and a temperature is none")) } else { Ok(quantity) }
}

impl Formula for Sum {
    fn answer(self) -> Result<Value, FormulaError> {
        let amounts: Vec<Quantity> = same_sort(self.values)?.into_iter().map(amount).collect::<Result<_, _>>()?;
        Ok(amounts.into_iter().reduce(|a, b| Quantity { si: a.si + b.si, ..a }).map_or(Value::Zero, Value::Quantity))
    }
}

impl Formula for Abs {
    fn answer(self) -> Result<Value, FormulaError> {
        let quantity = amount(self.value)?;
        Ok(with_si(&quantity, quantity.si.abs()))
    }
}

impl Formula for Sqrt {
    fn answer(self) -> Result<Value, FormulaError> {
        let quantity = amount(self.value)?;
        let dim = quantity.dim.root(2).ok_or_else(|| FormulaError::domain("the unit", "a square, like m2"))?;
        if quantity.si < 0.0 {
            return Err(FormulaError::domain("the number", "zero or more"));
        }
        Ok(Value::quantity(quantity.si.sqrt(), dim))
    }
}

impl Survey for Round {
    fn answer(self, evaluator: &Evaluator) -> Result<Value, Refusal> {
        rounded(&self.value, self.step, evaluator.system(), f64::round)
    }
}

impl Survey for RoundUp {
    fn answer(self, evaluator: &Evaluator) -> Result<Value, Refusal> {
        rounded(&self.value, self.step, evaluator.system(), f64::ceil)
    }
}

impl Survey for RoundDown {
    fn answer(self, evaluator: &Evaluator) -> Result<Value, Refusal> {
        rounded(&self.value, self.step, evaluator.system(), f64::floor)
    }
}

fn rounded(quantity: &Quantity, step: Option<Quantity>, system: System, round: fn(f64) -> f64) -> Result<Value, Refusal> {
    let step = step.unwrap_or_else(|| usual_step(quantity, system));
    if step.dim != quantity.dim.difference() {
        return Err(FormulaError::domain("the step", format!("{}, like the value", quantity.dim.difference().describe())).into());
    }
    if step.si <= 0.0 {
        return Err(FormulaError::domain("the step", "more than zero").into());
    }
    // A value that is a whole number of steps but for rounding is that number.
    let zero = zero_of(quantity);
    let steps = (quantity.si - zero) / step.si;
    let near = steps.round();
    let whole = if (steps - near).abs() < 1e-9 * near.abs().max(1.0) { near } else { round(steps) };
    Ok(with_si(quantity, zero + whole * step.si))
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

impl Formula for Between {
    fn answer(self) -> Result<Value, FormulaError> {
        if self.value.dim != self.low.dim || self.value.dim != self.high.dim {
            return Err(FormulaError::domain("all three", "of one sort"));
        }
        Ok(with_si(&self.value, self.value.si.max(self.low.si).min(self.high.si)))
    }
}

impl Formula for Weight {
    fn answer(self) -> Result<Quantity, FormulaError> {
        let dim = self.mass.dim.times(Dim::ACCELERATION);
        if as_weight(dim, self.mass.dim) {
            Ok(Quantity::new(self.mass.si * STANDARD_GRAVITY, dim))
        } else {
            Err(FormulaError::domain("the value", "a mass, or a mass by length or area"))
        }
    }
}

impl Formula for Sin {
    fn answer(self) -> Result<f64, FormulaError> {
        Ok(self.angle.sin())
    }
}

impl Formula for Cos {
    fn answer(self) -> Result<f64, FormulaError> {
        Ok(self.angle.cos())
    }
}

impl Formula for Tan {
    fn answer(self) -> Result<f64, FormulaError> {
        Ok(self.angle.tan())
    }
}

impl Formula for Asin {
    fn answer(self) -> Result<f64, FormulaError> {
        angle_of(self.sine.asin())
    }
}

impl Formula for Acos {
    fn answer(self) -> Result<f64, FormulaError> {
        angle_of(self.cosine.acos())
    }
}

impl Formula for Atan {
    fn answer(self) -> Result<f64, FormulaError> {
        angle_of(self.slope.atan())
    }
}

impl Formula for Atan2 {
    fn answer(self) -> Result<f64, FormulaError> {
        let (rise, run) = (amount(self.rise)?, amount(self.run)?);
        if rise.dim != run.dim {
            return Err(FormulaError::domain("both", "of one sort"));
        }
        angle_of(rise.si.atan2(run.si))
    }
}

fn angle_of(angle: f64) -> Result<f64, FormulaError> {
    if angle.is_finite() { Ok(angle) } else { Err(FormulaError::domain("the number", "from -1 to 1")) }
}

impl Formula for Radians {
    fn answer(self) -> Result<f64, FormulaError> {
        Ok(self.angle)
    }
}
