//! How the numbers of a finding were worked out: the sides of its rule as formulas, with the numbers put in.

use super::finding::Finding;
use crate::design::{NodeId, Writer};
use crate::text::Span;
use crate::values::{Evaluator, Outcome, Scope};

/// One side of a check, as one would set it down to check it by hand; every line as it is written, without its tolerance.
#[derive(Debug, Clone)]
pub struct Side {
    /// `demand`, `capacity`, or `require` for a condition.
    pub word: &'static str,
    /// The formula in the rule.
    pub formula: Span,
    /// The formula with the values of its names put in.
    pub with_numbers: String,
    /// What it comes to.
    pub worth: Outcome,
    /// The values that it was worked out from.
    pub reads: Vec<NodeId>,
}

/// The sides of the check that gave a finding.
#[must_use]
pub fn working(evaluator: &Evaluator, finding: &Finding) -> Vec<Side> {
    let Some(rule) = evaluator.design().rule(&finding.rule) else { return Vec::new() };
    let mut scope = Scope { writer: Writer::Rule, bound: finding.bound.clone(), ..Scope::default() };
    [("demand", &rule.demand), ("capacity", &rule.capacity), ("require", &rule.require)]
        .into_iter()
        .filter_map(|(word, expr)| {
            let expr = expr.as_ref()?;
            let (worth, reads) = evaluator.reading(|| evaluator.evaluate(expr, &mut scope));
            Some(Side { word, formula: expr.span, with_numbers: evaluator.with_numbers(expr, &mut scope), worth, reads })
        })
        .collect()
}
