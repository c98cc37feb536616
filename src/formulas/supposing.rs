//! What would be if some components had another number: the same values, worked out again.

use super::body::needs;
use crate::calc::FormulaError;
use crate::design::{ComponentId, NodeId};
use crate::values::Arguments;
use crate::values::Evaluator;
use crate::values::Lack;
use crate::values::Value;
use crate::values::{Body, Function, Refusal, Takes};

/// The line of that name of a component.
fn line(evaluator: &Evaluator, component: ComponentId, name: &str) -> Result<NodeId, FormulaError> {
    let design = evaluator.design();
    let property = design.kind(design.component(component).kind).property(name);
    property
        .map(|property| design.node(component, property))
        .ok_or_else(|| FormulaError::domain(format!("`{name}`"), "a line of each of them"))
}

fn all_known(evaluator: &Evaluator, lines: &[NodeId]) -> Result<Vec<Value>, Refusal> {
    let outcomes: Vec<Result<Value, Lack>> = lines.iter().map(|line| evaluator.value(*line)).collect();
    match outcomes.iter().filter_map(|outcome| outcome.as_ref().err().cloned()).reduce(Lack::with) {
        Some(lack) => Err(Refusal::Lack(lack)),
        None => Ok(outcomes.into_iter().filter_map(Result::ok).collect()),
    }
}

fn supposing(evaluator: &Evaluator, a: &Arguments) -> Result<Value, Refusal> {
    let components = a.components(0);
    let values = a.values(2);
    if values.len() != components.len() {
        return Err(FormulaError::domain("the values", "as many as the components").into());
    }
    let lines = |name: &str| components.iter().map(|id| line(evaluator, *id, name)).collect::<Result<Vec<NodeId>, _>>();
    let (replaced, asked) = (lines(a.word(1))?, lines(a.word(3))?);
    // What stands on what is known only of values that have been worked out.
    all_known(evaluator, &replaced)?;
    all_known(evaluator, &asked)?;
    let found = evaluator.what_if(replaced.into_iter().zip(values), || all_known(evaluator, &asked))?;
    Ok(Value::List(found.into()))
}

/// The table of this subject.
pub(super) const FUNCTIONS: &[Function] = &[Function {
    name: "supposing",
    doc: "a line of each of these components as it would be if another line of theirs had other values; all that lies between is worked out again",
    parameters: &[
        needs("components", Takes::Components, "whose lines"),
        needs("line", Takes::Text, "the name of the line that has other values"),
        needs("values", Takes::Anything, "these, in the order of the components"),
        needs("asked", Takes::Text, "the name of the line that is asked for"),
    ],
    gives: "list",
    source: "the same rules as for the design as it is",
    remembered: false,
    body: Body::Design(supposing),
}];
