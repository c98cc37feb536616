//! One expression worked out in a design, with everything that its outputs show.

use crate::design::Design;
use crate::problem::Problem;
use crate::rules::{self};
use crate::session::Session;
use crate::syntax::tree::Node;
use crate::values::{Lack, MissingLine, Outcome, Quantity, Scope, Step, Value};
use std::collections::HashSet;

/// An expression with its value.
pub struct Valued {
    /// As it was asked.
    pub text: String,
    /// Its value, or what is missing for it.
    pub outcome: Outcome,
    /// The lines that are missing for it.
    pub missing: Vec<MissingLine>,
    /// The least and the most that it can be over the tolerances it stands on.
    pub range: Option<[Quantity; 2]>,
    /// The expression with the values of its names put in; none where it is one name or number.
    pub with_numbers: Option<String>,
    /// The values that it was worked out from, each with its own steps.
    pub steps: Vec<Step>,
}

impl Valued {
    /// Works an expression out, with its steps if `how`.
    ///
    /// # Errors
    /// What is wrong with the expression.
    pub fn work_out(session: &mut Session, text: &str, how: bool) -> Result<Valued, Vec<Problem>> {
        let (expr, _) = session.value(text)?;
        let evaluator = &session.evaluator;
        let work = || evaluator.evaluate(&expr, &mut Scope::default());
        let (stated, reads) = evaluator.reading(|| {
            let value = work()?;
            let own = evaluator.tolerances_in(&expr, &value, &mut Scope::default())?;
            Ok((value, own))
        });
        let (outcome, own) = stated.map_or_else(|lack| (Err(lack), Vec::new()), |(value, own)| (Ok(value), own));
        let quantity = match &outcome {
            Ok(Value::Quantity(quantity)) => Some(quantity.clone()),
            _ => None,
        };
        let range = quantity.and_then(|quantity| {
            let over_lines = rules::range(evaluator, &reads, &|| work().ok().and_then(|value| value.si()));
            let (least, most) = over_lines.unwrap_or((quantity.si, quantity.si));
            // The expression's own tolerance stands at its end.
            let (down, up) = own.iter().fold((0.0, 0.0), |(down, up), one| (down + one.down, up + one.up));
            let (least, most) = (least - down, most + up);
            let with = |si| Quantity { si, ..quantity.clone() };
            (!crate::units::same(least, most)).then(|| [with(least), with(most)])
        });
        let (mut with_numbers, mut steps) = (None, Vec::new());
        if how {
            let inner = match &expr.node {
                Node::In(inner, _) => inner.as_ref(),
                _ => &expr,
            };
            if !matches!(inner.node, Node::Name(_) | Node::Field(..) | Node::Quantity(_)) {
                with_numbers = Some(evaluator.with_numbers(inner, &mut Scope::default()));
            }
            let mut shown = HashSet::new();
            for node in reads {
                if shown.insert(node) {
                    steps.push(evaluator.how(node));
                }
            }
        }
        let missing = outcome.as_ref().err().map(|lack| missing_lines(lack, session.design())).unwrap_or_default();
        Ok(Valued { text: text.to_owned(), outcome, missing, range, with_numbers, steps })
    }
}

/// The lines that stand in the way of a value, in words.
fn missing_lines(lack: &Lack, design: &Design) -> Vec<MissingLine> {
    lack.lines().iter().map(|missing| MissingLine::of(design, missing)).collect()
}
