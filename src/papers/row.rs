//! What goes onto paper, bound to the components of a design.
//!
//! In: papers (pictures, purchases, tasks, reminders) as the trade library and the design write them.
//! Out: one row for each of what a paper goes over, whose lines can be worked out. It knows neither
//! sheets nor lists; what a line means is for the room that asks.

use super::unknown::Unknown;
use crate::design::{ComponentId, Paper, PaperSort, Writer};
use crate::syntax::tree::Expr;
use crate::units::Dim;
use crate::values::{Evaluator, Lack, Measure, Outcome, Quantity, Scope, Value};
use smol_str::SmolStr;
use std::sync::Arc;

/// One thing for paper: a paper on one of its bindings.
#[derive(Debug)]
pub struct Row<'p> {
    /// What it says.
    pub paper: &'p Paper,
    /// What cannot be decided about whether it applies at all; its lines stay unknown then.
    pub lack: Option<Lack>,
    evaluator: &'p Evaluator,
    scope: Scope,
}

/// The papers of one sort on all their bindings, in the order of the papers and of the text.
#[must_use]
pub fn rows<'p>(evaluator: &'p Evaluator, papers: &'p [Paper], sort: PaperSort) -> Vec<Row<'p>> {
    rows_with(evaluator, papers, sort, &[])
}

/// As [`rows`], with names that stand for something besides those of the `each` lines.
#[must_use]
pub fn rows_with<'p>(evaluator: &'p Evaluator, papers: &'p [Paper], sort: PaperSort, given: &[(SmolStr, Value)]) -> Vec<Row<'p>> {
    let mut rows = Vec::new();
    for paper in papers.iter().filter(|paper| paper.sort == sort) {
        let mut scope = Scope { writer: Writer::Rule, bound: given.to_vec(), ..Scope::default() };
        evaluator.for_each(&paper.each, &mut scope, &mut |scope, undecided| {
            let applies = match (undecided, &paper.when) {
                (Some(lack), _) => Err(lack),
                (None, Some(when)) => evaluator.condition(when, scope),
                (None, None) => Ok(true),
            };
            if applies != Ok(false) {
                rows.push(Row { paper, lack: applies.err(), evaluator, scope: scope.clone() });
            }
        });
    }
    rows
}

impl Row<'_> {
    /// The components that it is about, the first first.
    pub fn subjects(&self) -> impl Iterator<Item = ComponentId> {
        self.scope.bound.iter().filter_map(|(_, value)| match value {
            Value::Component(id) => Some(*id),
            _ => None,
        })
    }

    /// What a name of the `each` line stands for.
    #[must_use]
    pub fn bound(&self, name: &str) -> Option<&Value> {
        self.scope.bound.iter().find(|(word, _)| word == name).map(|(_, value)| value)
    }

    /// What a line says; `None` where the paper has no such line.
    #[must_use]
    pub fn value(&self, line: &str) -> Option<Outcome> {
        Some(self.work_out(self.paper.line(line)?))
    }

    /// A line that is a text, with the values put into it.
    ///
    /// # Errors
    /// What is missing for it.
    pub fn text(&self, line: &str) -> Result<Option<SmolStr>, Lack> {
        self.typed(line, |value| match value {
            Value::Text(text) => Some(text),
            Value::Word(word) => Some(word),
            _ => None,
        })
    }

    /// A line that is one text or several.
    ///
    /// # Errors
    /// What is missing for it.
    pub fn texts(&self, line: &str) -> Result<Vec<SmolStr>, Lack> {
        fn texts(value: &Value) -> Option<Vec<SmolStr>> {
            match value {
                Value::Text(text) => Some(vec![text.clone()]),
                Value::List(items) => Some(items.iter().map(texts).collect::<Option<Vec<_>>>()?.concat()),
                _ => None,
            }
        }
        Ok(self.typed(line, |value| texts(&value))?.unwrap_or_default())
    }

    /// The names of the components that it is about, the first first.
    #[must_use]
    pub fn names(&self) -> Vec<SmolStr> {
        self.subjects().map(|id| self.evaluator.design().component(id).name.clone()).collect()
    }

    /// A number as the design shows it.
    #[must_use]
    pub fn measure(&self, quantity: Quantity) -> Measure {
        self.evaluator.measure(quantity)
    }

    /// What cannot be said for lack of something.
    #[must_use]
    pub fn unknown(&self, lack: &Lack) -> Unknown {
        Unknown::of(self.evaluator.design(), self.paper, self.names(), lack)
    }

    /// A line that is `yes` or `no`.
    ///
    /// # Errors
    /// What is missing for it.
    pub fn flag(&self, line: &str) -> Result<Option<bool>, Lack> {
        self.typed(line, |value| match value {
            Value::Flag(flag) => Some(flag),
            _ => None,
        })
    }

    /// A line that is a number with its unit.
    ///
    /// # Errors
    /// What is missing for it.
    pub fn quantity(&self, line: &str) -> Result<Option<Quantity>, Lack> {
        self.typed(line, |value| match value {
            Value::Quantity(quantity) => Some(quantity),
            Value::Zero => Some(Quantity::new(0.0, Dim::NUMBER)),
            _ => None,
        })
    }

    fn typed<T>(&self, line: &str, take: impl Fn(Value) -> Option<T>) -> Result<Option<T>, Lack> {
        match self.value(line) {
            None => Ok(None),
            Some(Ok(value)) => take(value).map(Some).ok_or(Lack::Faulty),
            Some(Err(lack)) => Err(lack),
        }
    }

    fn work_out(&self, line: &Arc<Expr>) -> Outcome {
        match &self.lack {
            Some(lack) => Err(lack.clone()),
            None => self.evaluator.evaluate(line, &mut self.scope.clone()),
        }
    }
}
