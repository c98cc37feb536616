//! What tasks say of each other.

use super::arguments::Arguments;
use super::{Body, Function, Takes, may, needs};
use crate::calc::FormulaError;
use crate::units::Dim;
use crate::values::value::Value;

fn done(a: &Arguments) -> Result<Value, FormulaError> {
    let Some(task) = a.value(0) else { return Err(FormulaError::domain("the task", "a name")) };
    let mut fields = vec![("task", task.clone())];
    if let Some(of) = a.value(1) {
        let of = if matches!(of, Value::Component(_)) { Value::List(std::sync::Arc::new([of.clone()])) } else { of.clone() };
        fields.push(("of", of));
    }
    fields.push(("wait", a.value(2).cloned().unwrap_or_else(|| Value::quantity(0.0, Dim::TIME))));
    Ok(Value::record(fields))
}

/// The table of this subject.
pub(super) const FUNCTIONS: &[Function] = &[Function {
    name: "done",
    doc: "in the line `after` of a task: what has to be done before, and how long before; the task on these components only, or all of it",
    parameters: &[
        needs("task", Takes::Text, "the name of the task, like \"frame.wall\""),
        may("of", Takes::Components, "on which components"),
        may("wait", Takes::Quantity(Dim::TIME), "time that passes in between, like curing"),
    ],
    gives: "a table: task, of, wait",
    source: "definition",
    body: Body::Formula(done),
}];
