//! How far a condition is from turning over.
//!
//! Yes and no have no slope to follow: of two combinations in which a condition holds, the one in which its sides are nearer to
//! each other is nearer to one in which it does not.

use super::engine::Engine;
use crate::syntax::tree::{Binary, Expr, Node, Unary};
use crate::values::Scope;

/// Nothing that could be measured: as far as it goes.
const FAR: f64 = 1.0;

impl Engine<'_> {
    /// Above 0 while a condition holds, below while it does not, at most 1 either way, and 0 where its sides are the same or not
    /// known: the difference of two sides over their size, of several conditions that of the one which decides.
    pub(super) fn margin(&self, condition: &Expr, scope: &mut Scope) -> f64 {
        match &condition.node {
            // What follows may be asked only where the first holds.
            Node::Binary(Binary::And, _, a, b) => match self.margin(a, scope) {
                first if first < 0.0 => first,
                first => first.min(self.margin(b, scope)),
            },
            Node::Binary(Binary::Or, _, a, b) => self.margin(a, scope).max(self.margin(b, scope)),
            Node::Unary(Unary::Not, of) => -self.margin(of, scope),
            Node::Binary(Binary::Less | Binary::LessOrEqual, _, a, b) => self.between(a, b, condition, scope),
            Node::Binary(Binary::Greater | Binary::GreaterOrEqual, _, a, b) => self.between(b, a, condition, scope),
            Node::If(asked, a, b) => match self.evaluator.condition(asked, scope) {
                Ok(so) => self.margin(if so { a } else { b }, scope),
                Err(_) => 0.0,
            },
            Node::Aggregate { name, value, binders } if name.text == "all" || name.text == "any" => {
                let all = name.text == "all";
                let mut least = if all { FAR } else { -FAR };
                self.evaluator.for_each(binders, scope, &mut |scope, undecided| {
                    let margin = if undecided.is_some() { 0.0 } else { self.margin(value, scope) };
                    least = if all { least.min(margin) } else { least.max(margin) };
                });
                least
            }
            _ => self.plain(condition, scope),
        }
    }

    /// How much less one side is than the other.
    fn between(&self, less: &Expr, more: &Expr, condition: &Expr, scope: &mut Scope) -> f64 {
        let number = |expr: &Expr, scope: &mut Scope| self.evaluator.evaluate(expr, scope).ok()?.si();
        let Some((less, more)) = number(less, scope).zip(number(more, scope)) else { return self.plain(condition, scope) };
        // The power of two above their size: what adds up in the sides adds up in their difference over it as well.
        let size = (less.abs() + more.abs()).log2().ceil().exp2();
        if size > 0.0 && size.is_finite() { (more - less) / size } else { 0.0 }
    }

    fn plain(&self, condition: &Expr, scope: &mut Scope) -> f64 {
        match self.evaluator.condition(condition, scope) {
            Ok(true) => FAR,
            Ok(false) => -FAR,
            Err(_) => 0.0,
        }
    }
}
