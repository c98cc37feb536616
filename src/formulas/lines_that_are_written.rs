//! Which lines have to be written and are not.

use super::body::{Formula, Survey};
use crate::calc::FormulaError;
use crate::design::{ComponentId, NodeId, Origin, Property, Type};
use crate::syntax::tree::Node;
use crate::values::{Evaluator, Lack, Missing, Quantity, Question, Refusal};
use smol_str::SmolStr;

include!(concat!(env!("OUT_DIR"), "/formulas_lines_that_are_written.rs"));

/// The lines that a component has to have and has not.
fn missing(evaluator: &Evaluator, id: ComponentId) -> impl Iterator<Item = NodeId> {
    let design = evaluator.design();
    let component = design.component(id);
    let due = design.kind_of(id).properties.iter().enumerate().filter(|(_, property)| property.required && property.default.is_none());
    // An empty list of links leads nowhere.
    let empty = |at: usize, property: &Property| {
        let written = component.written(at);
        written.is_none_or(|line| {
            matches!(property.ty, Type::Link { .. }) && matches!(&line.value.node, Node::List(items) if items.is_empty())
        })
    };
    due.filter(move |(at, property)| empty(*at, property)).map(move |(at, _)| design.node(id, at))
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

/// What a line would be worked out to is not asked: so two lines that follow from each other do not wait for each other.
impl Survey for IsWritten {
    fn answer(self, evaluator: &Evaluator) -> Result<bool, Refusal> {
        evaluator.ask(Question::Written(self.component));
        let design = evaluator.design();
        let at = design.kind_of(self.component).property(&self.line);
        let at = at.ok_or_else(|| FormulaError::domain(format!("`{}`", self.line), "a line of the component"))?;
        Ok(design.component(self.component).written(at).is_some())
    }
}

/// The lines of a component that a person planned though they follow from others; what was measured is no plan.
fn results(evaluator: &Evaluator, id: ComponentId) -> Vec<SmolStr> {
    let component = evaluator.design().component(id);
    let planned =
        |at: usize| component.written(at).is_some_and(|line| !line.span.file.is_built_in() && !matches!(line.origin, Origin::Measured(_)));
    let properties = evaluator.design().kind_of(id).properties.iter().enumerate();
    properties.filter(|(at, property)| property.follows && planned(*at)).map(|(_, property)| property.name.clone()).collect()
}

impl Survey for WithResultsWritten {
    fn answer(self, evaluator: &Evaluator) -> Result<Vec<ComponentId>, Refusal> {
        let design = evaluator.design();
        let ids = design.kinds.iter().filter_map(|kind| design.kind_named(&kind.name)).flat_map(|kind| evaluator.members(kind)).copied();
        let own = ids.filter(|id| !design.component(*id).span.file.is_built_in());
        Ok(own
            .filter(|id| {
                evaluator.ask(Question::Written(*id));
                !results(evaluator, *id).is_empty()
            })
            .collect())
    }
}

impl Survey for ResultsWritten {
    fn answer(self, evaluator: &Evaluator) -> Result<Vec<SmolStr>, Refusal> {
        evaluator.ask(Question::Written(self.component));
        Ok(results(evaluator, self.component))
    }
}

/// What the line says is read, so that whoever points here points at it.
impl Survey for LineOf {
    fn answer(self, evaluator: &Evaluator) -> Result<SmolStr, Refusal> {
        let at = evaluator.design().kind_of(self.component).property(&self.line);
        let at = at.ok_or_else(|| FormulaError::domain(format!("`{}`", self.line), "a line of the component"))?;
        evaluator.property(self.component, at).map_err(Refusal::Lack)?;
        Ok(self.line)
    }
}

impl Formula for SpeaksOf {
    fn answer(self) -> Result<bool, FormulaError> {
        let read = self.text.to_lowercase();
        let mut found = read.split(|sign: char| !sign.is_alphanumeric());
        Ok(found.any(|word| self.words.iter().any(|wanted| wanted.to_lowercase() == word)))
    }
}
