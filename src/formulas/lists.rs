//! Lists and dates.

use super::body::{Formula, Survey};
use crate::calc::FormulaError;
use crate::units::{Dim, Unit};
use crate::values::{Evaluator, Quantity, Refusal, Value};
use std::sync::Arc;

include!(concat!(env!("OUT_DIR"), "/formulas_lists.rs"));

impl Formula for LengthOf {
    #[expect(clippy::cast_precision_loss, reason = "lists are far shorter than 2^52")]
    fn answer(self) -> Result<f64, FormulaError> {
        Ok(items(&self.list).len() as f64)
    }
}

impl Formula for Item {
    fn answer(self) -> Result<Value, FormulaError> {
        let items = items(&self.list);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a fraction or a number out of the list finds nothing")]
        let at = (self.number.max(0.0) as usize).checked_sub(1);
        at.and_then(|at| items.get(at)).cloned().ok_or_else(|| FormulaError::domain("the number", format!("from 1 to {}", items.len())))
    }
}

/// What a list holds; one alone is a list of one.
pub(super) fn items(value: &Value) -> &[Value] {
    match value {
        Value::List(items) => items,
        one => std::slice::from_ref(one),
    }
}

/// The value that stands in `values` at the place at which `component` stands in `components`.
impl Survey for Of {
    fn answer(self, evaluator: &Evaluator) -> Result<Value, Refusal> {
        let at = match self.components.value() {
            Value::List(components) => evaluator.place_in(components, self.component),
            Value::Component(only) if *only == self.component => Some(0),
            _ => None,
        };
        let name = &evaluator.design().component(self.component).name;
        let found = at.and_then(|at| items(&self.values).get(at)).cloned();
        found.ok_or_else(|| FormulaError::domain(format!("`{name}`"), "among the components").into())
    }
}

/// The number of a component in a list, from 1.
impl Survey for PlaceOf {
    #[expect(clippy::cast_precision_loss, reason = "lists are far shorter than 2^52")]
    fn answer(self, evaluator: &Evaluator) -> Result<f64, Refusal> {
        let name = &evaluator.design().component(self.component).name;
        let place = self.components.ids().iter().position(|id| *id == self.component);
        place.map(|at| at as f64 + 1.0).ok_or_else(|| FormulaError::domain(format!("`{name}`"), "among the components").into())
    }
}

impl Formula for LeastStep {
    fn answer(self) -> Result<f64, FormulaError> {
        let step = |pair: &[f64]| pair.first().zip(pair.last()).map_or(0.0, |(one, next)| next - one);
        let least = self.list.windows(2).map(step).min_by(f64::total_cmp);
        least.ok_or_else(|| FormulaError::domain("the list", "two or more"))
    }
}

impl Formula for DaysBetween {
    fn answer(self) -> Result<Quantity, FormulaError> {
        #[expect(clippy::cast_precision_loss, reason = "days of the calendar are far fewer than 2^52")]
        let days = (self.until.number() - self.from.number()) as f64;
        let unit = Unit::parse("day").ok().map(Arc::new);
        let seconds = unit.as_ref().map_or(f64::NAN, |day| days * day.factor);
        Ok(Quantity { si: seconds, dim: Dim::TIME, unit })
    }
}

/// In the unit in which its end is written.
impl Formula for Stretches {
    fn answer(self) -> Result<Vec<Quantity>, FormulaError> {
        let (from, to) = (self.first, self.last.si);
        let mut at: Vec<f64> = self.at.into_iter().filter(|at| *at > from && *at < to).collect();
        at.sort_by(f64::total_cmp);
        let ends: Vec<f64> = [from].into_iter().chain(at).chain([to]).collect();
        let piece = |pair: &[f64]| pair.first().zip(pair.last()).map_or(0.0, |(from, to)| to - from);
        Ok(ends.windows(2).map(|pair| Quantity { si: piece(pair), ..self.last.clone() }).collect())
    }
}
