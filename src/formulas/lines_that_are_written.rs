//! Which lines have to be written and are not.

use super::body::Survey;
use crate::design::{ComponentId, NodeId};
use crate::values::{Evaluator, Lack, Missing, Quantity, Refusal};

include!(concat!(env!("OUT_DIR"), "/formulas_lines_that_are_written.rs"));

/// The lines that a component has to have and has not.
fn missing(evaluator: &Evaluator, id: ComponentId) -> impl Iterator<Item = NodeId> {
    let design = evaluator.design();
    let component = design.component(id);
    let due = design.kind_of(id).properties.iter().enumerate().filter(|(_, property)| property.required && property.default.is_none());
    due.filter(|(at, _)| component.written(*at).is_none()).map(move |(at, _)| design.node(id, at))
}

impl Survey for Unfinished {
    fn answer(self, evaluator: &Evaluator) -> Result<Vec<ComponentId>, Refusal> {
        let own = (0_u32..).zip(&evaluator.design().components).filter(|(_, component)| !component.span.file.is_built_in());
        Ok(own.map(|(at, _)| ComponentId(at)).filter(|id| missing(evaluator, *id).next().is_some()).collect())
    }
}

/// Refuses with the lines that are missing.
impl Survey for IsFinished {
    fn answer(self, evaluator: &Evaluator) -> Result<bool, Refusal> {
        match missing(evaluator, self.component).map(|line| Lack::missing(Missing::Line(line))).reduce(Lack::with) {
            Some(lack) => Err(Refusal::Lack(lack)),
            None => Ok(true),
        }
    }
}

/// Refuses with that line.
impl Survey for Unwritten {
    fn answer(self, evaluator: &Evaluator) -> Result<Quantity, Refusal> {
        let design = evaluator.design();
        let property = design.kind_of(self.component).property(&self.line);
        let line = property.map(|at| design.node(self.component, at));
        Err(Refusal::Lack(line.map_or(Lack::Faulty, |line| Lack::missing(Missing::Line(line)))))
    }
}
