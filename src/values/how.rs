//! Where a value came from: the lines it stands on, step by step, with the numbers put in.

use super::Outcome;
use super::evaluator::{Evaluator, Scope};
use super::value::Value;
use crate::design::{NodeId, NodeKind, Origin, Writer};
use crate::syntax::tree::{Expr, Node, Unary};
use crate::text::Span;
use rustc_hash::FxHashSet;

/// One step of a calculation.
#[derive(Debug, Clone)]
pub struct Step {
    /// The value's name.
    pub name: String,
    /// Its node.
    pub node: NodeId,
    /// What it is worth.
    pub value: Outcome,
    /// The expression as written, if it is more than a number.
    pub formula: Option<Span>,
    /// The expression with the numbers put in.
    pub with_numbers: Option<String>,
    /// Where the line stands.
    pub span: Span,
    /// What the property means.
    pub doc: String,
    /// On whose word.
    pub source: Option<String>,
    /// Why it may be assumed, if it is a habit and not a derivation.
    pub assumed: Option<String>,
    /// What it replaces: a variant or a measurement.
    pub origin: Option<String>,
    /// What it stands on. Empty where an earlier step has shown it already.
    pub from: Vec<Step>,
    /// Shown before.
    pub shown_before: bool,
}

impl Evaluator {
    /// How a value was worked out, down to the lines that were written.
    #[must_use]
    pub fn how(&self, node: NodeId) -> Step {
        self.step(node, &mut FxHashSet::default())
    }

    fn step(&self, node: NodeId, seen: &mut FxHashSet<NodeId>) -> Step {
        let mut step = self.step_alone(node);
        step.shown_before = !seen.insert(node);
        if !step.shown_before {
            step.from =
                self.reads(node).iter().map(|read| stacker::maybe_grow(64 * 1024, 1024 * 1024, || self.step(*read, seen))).collect();
        }
        step
    }

    /// How a value was worked out, without the steps of what it stands on.
    #[must_use]
    pub fn step_alone(&self, node: NodeId) -> Step {
        let value = self.value(node);
        let mut step = Step {
            name: self.design.node_name(node),
            node,
            value,
            formula: None,
            with_numbers: None,
            span: self.design.node_span(node),
            doc: String::new(),
            source: None,
            assumed: None,
            origin: None,
            from: Vec::new(),
            shown_before: false,
        };
        let mut scope = Scope::default();
        let expr = match self.design.node_kind(node) {
            NodeKind::Named(at) => self.design.named.get(at).map(|named| &named.value),
            NodeKind::Property(id, property) => {
                let component = self.design.component(id);
                let declared = self.design.kind(component.kind).properties.get(property);
                scope.own = Some(id);
                if let Some(declared) = declared {
                    step.doc = declared.doc.to_string();
                    step.source = declared.source.as_ref().map(ToString::to_string);
                }
                match (component.written(property), declared) {
                    (Some(written), _) => {
                        step.origin = match &written.origin {
                            Origin::Own => None,
                            Origin::Pattern(name) => Some(format!("from the pattern {name}")),
                            Origin::Variant(name) => Some(format!("in the variant {name}")),
                            Origin::Measured(date) => Some(format!("measured {date}")),
                        };
                        Some(&written.value)
                    }
                    (None, Some(declared)) => {
                        scope.writer = Writer::Kind;
                        step.assumed = declared.assumed.as_ref().map(ToString::to_string);
                        declared.default.as_ref()
                    }
                    _ => None,
                }
            }
        };
        if let Some(expr) = expr.filter(|expr| !is_plain(expr)) {
            step.formula = Some(expr.span);
            step.with_numbers = Some(self.with_numbers(expr, &mut scope));
        }
        step
    }

    /// The expression with the values of its names put in.
    #[must_use]
    pub fn with_numbers(&self, expr: &Expr, scope: &mut Scope) -> String {
        let worth = |scope: &mut Scope| match self.evaluate(expr, scope) {
            // A table has a step of its own, under its name.
            Ok(Value::Record(record)) => match &expr.node {
                Node::Name(name) => name.to_string(),
                Node::Field(_, word) => word.text.to_string(),
                _ => brief(&self.show_value(&Value::Record(record))),
            },
            Ok(value) => brief(&self.show_value(&value)),
            Err(_) => "?".to_owned(),
        };
        match &expr.node {
            Node::Binary(operator, _, a, b) => {
                let (a, b) = (self.with_numbers(a, scope), self.with_numbers(b, scope));
                format!("{} {} {}", bracketed(&a), operator.sign(), bracketed(&b))
            }
            Node::Unary(Unary::Negate, of) => format!("-{}", bracketed(&self.with_numbers(of, scope))),
            Node::Unary(Unary::Not, of) => format!("not {}", bracketed(&self.with_numbers(of, scope))),
            Node::Call(name, arguments) => {
                let arguments: Vec<String> = arguments
                    .iter()
                    .map(|argument| {
                        let value = self.with_numbers(&argument.value, scope);
                        argument.name.as_ref().map_or_else(|| value.clone(), |name| format!("{} {value}", name.text))
                    })
                    .collect();
                format!("{}({})", name.text, arguments.join(", "))
            }
            Node::Aggregate { name, value, binders } => {
                let mut items = Vec::new();
                self.for_each(binders, scope, &mut |scope, undecided| {
                    items.push(if undecided.is_some() { "?".to_owned() } else { self.with_numbers(value, scope) });
                });
                format!("{}({})", name.text, items.join("; "))
            }
            Node::If(condition, a, b) => match self.condition(condition, scope) {
                Ok(holds) => self.with_numbers(if holds { a } else { b }, scope),
                Err(_) => "?".to_owned(),
            },
            _ => worth(scope),
        }
    }
}

fn is_plain(expr: &Expr) -> bool {
    match &expr.node {
        Node::Quantity(_) | Node::Text(_) | Node::Flag(_) | Node::Date(_) | Node::Name(_) => true,
        Node::Tolerance { value, .. } => is_plain(value),
        Node::Unary(Unary::Negate, of) => is_plain(of),
        Node::List(items) | Node::Size(items) => items.iter().all(is_plain),
        Node::Range(a, b) => is_plain(a) && is_plain(b),
        _ => false,
    }
}

/// Brackets around what an operator would tear apart.
fn bracketed(text: &str) -> String {
    let torn = [" + ", " - ", " * ", " / ", " and ", " or "].iter().any(|sign| text.contains(sign)) && !text.ends_with(')');
    if torn { format!("({text})") } else { text.to_owned() }
}

/// A value that would fill a page is cut.
fn brief(text: &str) -> String {
    const MOST: usize = 160;
    match text.char_indices().nth(MOST) {
        Some((at, _)) => format!("{}…", text.get(..at).unwrap_or(text)),
        None => text.to_owned(),
    }
}

impl Step {
    /// The value, if there is one.
    #[must_use]
    pub fn worth(&self) -> Option<&Value> {
        self.value.as_ref().ok()
    }
}
