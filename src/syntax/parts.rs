//! The parts of an expression: its numbers, and the same expression with other things in place of its parts.

use super::tree::{Argument, Binder, Expr, Node, Part, TemplatePart};
use crate::text::Span;
use std::sync::Arc;

impl Expr {
    /// The value without its tolerance.
    #[must_use]
    pub fn nominal(&self) -> &Expr {
        match &self.node {
            Node::Tolerance { value, .. } => value,
            _ => self,
        }
    }

    /// The numbers of a size, a range or a list, each with its tolerance; of anything else that itself. A list of sizes
    /// has the numbers of all of them.
    #[must_use]
    pub fn numbers(&self) -> Vec<&Expr> {
        match &self.node {
            Node::Range(from, to) => vec![from, to],
            Node::Size(parts) => parts.iter().collect(),
            Node::List(items) => items.iter().flat_map(Expr::numbers).collect(),
            _ => vec![self],
        }
    }

    /// The parts of the number that stands here, if it is a number and nothing else, and the place of them together.
    #[must_use]
    pub fn written(&self) -> Option<(&[Part], Span)> {
        let Node::Quantity(parts) = &self.nominal().node else { return None };
        let span = parts.iter().map(|part| part.span).reduce(Span::to)?;
        Some((parts, span))
    }

    /// The same expression with each of its parts put through `put`; one without parts as it is.
    #[must_use]
    pub fn with_parts(&self, put: &mut dyn FnMut(&Expr) -> Expr) -> Expr {
        let mut boxed = |part: &Expr| Box::new(put(part));
        let node = match &self.node {
            Node::Quantity(_) | Node::Date(_) | Node::Text(_) | Node::Flag(_) | Node::Name(_) => self.node.clone(),
            Node::Template(pieces) => Node::Template(
                pieces
                    .iter()
                    .map(|piece| match piece {
                        TemplatePart::Text(text) => TemplatePart::Text(text.clone()),
                        TemplatePart::Value(inner) => TemplatePart::Value(put(inner)),
                    })
                    .collect(),
            ),
            Node::Field(of, word) => Node::Field(boxed(of), word.clone()),
            Node::Index(of, at) => Node::Index(boxed(of), boxed(at)),
            Node::Call(name, arguments) => {
                let argument = |argument: &Argument| Argument { name: argument.name.clone(), value: put(&argument.value) };
                Node::Call(name.clone(), arguments.iter().map(argument).collect())
            }
            Node::Aggregate { name, value, binders } => {
                let binders = binders.iter().map(|binder| binder.with_parts(put)).collect();
                Node::Aggregate { name: name.clone(), value: Box::new(put(value)), binders }
            }
            Node::Unary(operator, of) => Node::Unary(*operator, boxed(of)),
            Node::Binary(operator, sign, a, b) => Node::Binary(*operator, *sign, boxed(a), boxed(b)),
            Node::If(condition, a, b) => Node::If(boxed(condition), boxed(a), boxed(b)),
            Node::Range(a, b) => Node::Range(boxed(a), boxed(b)),
            Node::Size(parts) => Node::Size(parts.iter().map(put).collect()),
            Node::List(items) => Node::List(items.iter().map(put).collect()),
            Node::Tolerance { value, down, up } => {
                Node::Tolerance { value: boxed(value), down: down.as_ref().map(|down| boxed(down)), up: boxed(up) }
            }
            Node::In(of, unit) => Node::In(boxed(of), unit.clone()),
        };
        Expr { span: self.span, node }
    }
}

impl Binder {
    /// The same binder with what it goes over and its condition put through `put`.
    #[must_use]
    pub fn with_parts(&self, put: &mut dyn FnMut(&Expr) -> Expr) -> Binder {
        Binder {
            span: self.span,
            name: self.name.clone(),
            source: Arc::new(put(&self.source)),
            condition: self.condition.as_ref().map(|condition| Arc::new(put(condition))),
        }
    }
}
