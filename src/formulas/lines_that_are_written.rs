//! Which lines have to be written and are not.

use super::body::needs;
use crate::calc::FormulaError;
use crate::design::{ComponentId, NodeId};
use crate::values::Arguments;
use crate::values::Evaluator;
use crate::values::Value;
use crate::values::{Body, Function, Refusal, Takes};
use crate::values::{Lack, Missing};

const SOURCE: &str = "the vocabulary: a kind says which of its lines are required";

/// The lines that a component has to have and has not.
fn missing(evaluator: &Evaluator, id: ComponentId) -> impl Iterator<Item = NodeId> {
    let design = evaluator.design();
    let component = design.component(id);
    let due = design.kind_of(id).properties.iter().enumerate().filter(|(_, property)| property.required && property.default.is_none());
    due.filter(|(at, _)| component.written(*at).is_none()).map(move |(at, _)| design.node(id, at))
}

fn unfinished(evaluator: &Evaluator, _: &Arguments) -> Result<Value, Refusal> {
    let own = (0_u32..).zip(&evaluator.design().components).filter(|(_, component)| !component.span.file.is_built_in());
    let lacking = own.map(|(at, _)| ComponentId(at)).filter(|id| missing(evaluator, *id).next().is_some());
    Ok(Value::List(lacking.map(Value::Component).collect()))
}

/// Refuses with the lines that are missing.
fn is_finished(evaluator: &Evaluator, arguments: &Arguments) -> Result<Value, Refusal> {
    let id = arguments.component(0).ok_or_else(|| FormulaError::domain("the component", "a component"))?;
    match missing(evaluator, id).map(|line| Lack::missing(Missing::Line(line))).reduce(Lack::with) {
        Some(lack) => Err(Refusal::Lack(lack)),
        None => Ok(Value::Flag(true)),
    }
}

/// The table of this subject.
pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "unfinished",
        doc: "the components of which a required line is not written",
        parameters: &[],
        gives: "components",
        source: SOURCE,
        remembered: false,
        body: Body::Design(unfinished),
    },
    Function {
        name: "is_finished",
        doc: "whether all required lines of a component are written; not known, with each of them, while they are not",
        parameters: &[needs("component", Takes::Component, "which")],
        gives: "yes or no",
        source: SOURCE,
        remembered: false,
        body: Body::Design(is_finished),
    },
];
