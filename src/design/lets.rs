//! What a rule gives a name, put in place of that name.
//!
//! In: the `let` lines of a rule, or of something for paper, and its other lines. Out: the lines without those names,
//! so that nothing behind needs to know of them: a value that only a help speaks of is asked for by the help alone.

use crate::problem::Problem;
use crate::syntax::tree::{Argument, Binder, Expr, Let, Node, TemplatePart};
use rustc_hash::FxHashMap;
use smol_str::SmolStr;
use std::sync::Arc;

/// The names that a rule gives, each with its value in which no such name is left.
#[derive(Debug, Default)]
pub(super) struct Lets {
    values: FxHashMap<SmolStr, Arc<Expr>>,
}

impl Lets {
    /// Those of a rule that goes over `each`; a name may speak of those above it.
    pub(super) fn of(each: &[Binder], lets: &[Let], problems: &mut Vec<Problem>) -> Lets {
        let mut all = Lets::default();
        for line in lets {
            let taken = each.iter().map(|binder| &binder.name).find(|name| name.text == line.name.text).map(|name| name.span);
            let before = lets.iter().map(|line| &line.name).find(|name| name.text == line.name.text).map(|name| name.span);
            if let Some(first) = taken.or(before.filter(|first| *first != line.name.span)) {
                let problem = Problem::error(format!("`{}` is already taken", line.name.text), line.name.span, "the second");
                problems.push(problem.also(first, "the first").help("give one of them another name"));
                continue;
            }
            let value = all.put(&line.value, problems);
            all.values.insert(line.name.text.clone(), value);
        }
        all
    }

    /// An expression without these names.
    pub(super) fn put(&self, expr: &Arc<Expr>, problems: &mut Vec<Problem>) -> Arc<Expr> {
        let mut named = false;
        expr.walk(&mut |inner| named |= matches!(&inner.node, Node::Name(name) if self.values.contains_key(name)));
        if named { Arc::new(self.inside(expr, &mut Vec::new(), problems)) } else { Arc::clone(expr) }
    }

    fn inside(&self, expr: &Expr, bound: &mut Vec<SmolStr>, problems: &mut Vec<Problem>) -> Expr {
        stacker::maybe_grow(64 * 1024, 2 * 1024 * 1024, || self.inside_here(expr, bound, problems))
    }

    fn inside_here(&self, expr: &Expr, bound: &mut Vec<SmolStr>, problems: &mut Vec<Problem>) -> Expr {
        let mut put = |inner: &Expr, bound: &mut Vec<SmolStr>| Box::new(self.inside(inner, bound, problems));
        let node = match &expr.node {
            Node::Name(name) if !bound.contains(name) => match self.values.get(name) {
                None => expr.node.clone(),
                Some(value) => {
                    // The value would mean something else here: a name in it stands for another one.
                    if let Some(other) = bound.iter().find(|other| speaks_of(value, other)) {
                        let problem =
                            Problem::error(format!("`{name}` speaks of another `{other}` than the one here"), expr.span, "this name");
                        problems.push(problem.also(value.span, "its value").help(format!("give the `{other}` behind `for` another name")));
                    }
                    return value.as_ref().clone();
                }
            },
            Node::Quantity(_) | Node::Date(_) | Node::Text(_) | Node::Flag(_) | Node::Name(_) => expr.node.clone(),
            Node::Template(pieces) => Node::Template(
                pieces
                    .iter()
                    .map(|piece| match piece {
                        TemplatePart::Text(text) => TemplatePart::Text(text.clone()),
                        TemplatePart::Value(inner) => TemplatePart::Value(*put(inner, bound)),
                    })
                    .collect(),
            ),
            Node::Field(of, word) => Node::Field(put(of, bound), word.clone()),
            Node::Index(of, at) => Node::Index(put(of, bound), put(at, bound)),
            Node::Call(name, arguments) => {
                let put = |argument: &Argument| Argument { name: argument.name.clone(), value: *put(&argument.value, bound) };
                Node::Call(name.clone(), arguments.iter().map(put).collect())
            }
            Node::Aggregate { name, value, binders } => {
                let before = bound.len();
                let mut inner = Vec::with_capacity(binders.len());
                for binder in binders {
                    let source = Arc::from(put(&binder.source, bound));
                    bound.push(binder.name.text.clone());
                    let condition = binder.condition.as_ref().map(|condition| Arc::from(put(condition, bound)));
                    inner.push(Binder { span: binder.span, name: binder.name.clone(), source, condition });
                }
                let value = put(value, bound);
                bound.truncate(before);
                Node::Aggregate { name: name.clone(), value, binders: inner }
            }
            Node::Unary(operator, of) => Node::Unary(*operator, put(of, bound)),
            Node::Binary(operator, sign, a, b) => Node::Binary(*operator, *sign, put(a, bound), put(b, bound)),
            Node::If(condition, a, b) => Node::If(put(condition, bound), put(a, bound), put(b, bound)),
            Node::Range(a, b) => Node::Range(put(a, bound), put(b, bound)),
            Node::Size(parts) => Node::Size(parts.iter().map(|part| *put(part, bound)).collect()),
            Node::List(items) => Node::List(items.iter().map(|item| *put(item, bound)).collect()),
            Node::Tolerance { value, down, up } => {
                Node::Tolerance { value: put(value, bound), down: down.as_ref().map(|down| put(down, bound)), up: put(up, bound) }
            }
            Node::In(of, unit) => Node::In(put(of, bound), unit.clone()),
        };
        Expr { span: expr.span, node }
    }
}

fn speaks_of(expr: &Expr, name: &str) -> bool {
    let mut found = false;
    expr.walk(&mut |inner| found |= matches!(&inner.node, Node::Name(word) if word == name));
    found
}
