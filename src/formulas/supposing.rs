//! What would be if some components had another number: the same values, worked out again.

use super::body::Survey;
use super::take;
use crate::calc::FormulaError;
use crate::design::{ComponentId, NodeId};
use crate::values::{Evaluator, Lack, Refusal, Value};

include!(concat!(env!("OUT_DIR"), "/formulas_supposing.rs"));

/// The line of that name of a component.
pub(super) fn line(evaluator: &Evaluator, component: ComponentId, name: &str) -> Result<NodeId, FormulaError> {
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

impl Survey for Supposing {
    fn answer(self, evaluator: &Evaluator) -> Result<Vec<Value>, Refusal> {
        let components = self.components.ids();
        let values = take::values(&self.values).unwrap_or_default();
        if values.len() != components.len() {
            return Err(FormulaError::domain("the values", "as many as the components").into());
        }
        let lines = |name: &str| components.iter().map(|id| line(evaluator, *id, name)).collect::<Result<Vec<NodeId>, _>>();
        let (replaced, asked) = (lines(&self.line)?, lines(&self.asked)?);
        // What stands on what is known only of values that have been worked out.
        all_known(evaluator, &replaced)?;
        all_known(evaluator, &asked)?;
        evaluator.what_if(replaced.into_iter().zip(values), || all_known(evaluator, &asked))
    }
}
