//! What a rule gives a name, put in place of that name.
//!
//! In: the `let` lines of a rule, or of something for paper, and its other lines. Out: the lines without those names,
//! so that nothing behind needs to know of them: a value that only a help speaks of is asked for by the help alone.

use crate::problem::Problem;
use crate::syntax::tree::{Binder, Expr, Let, Node};
use crate::text::Span;
use rustc_hash::FxHashMap;
use smol_str::SmolStr;
use std::sync::Arc;

/// Names that a rule's words may use besides what it goes over.
pub(super) const RESULTS: [&str; 4] = ["demand", "capacity", "ratio", "reserve"];

/// What a rule gives a name: it stands in the other lines already, wherever they speak of it.
#[derive(Debug, Clone)]
pub struct RuleLet {
    /// The name.
    pub name: SmolStr,
    /// Its value as it is written.
    pub written: Span,
    /// Its value, with no such name left in it.
    pub value: Arc<Expr>,
}

impl RuleLet {
    /// Whether it speaks of what the rule comes to, so that only its words can speak of it.
    #[must_use]
    pub fn is_of_results(&self) -> bool {
        let mut found = false;
        self.value.walk(&mut |inner| found |= matches!(&inner.node, Node::Name(name) if RESULTS.contains(&name.as_str())));
        found
    }

    /// Whether it takes longer to work out than to remember, and is the same wherever it stands: a text is not.
    #[must_use]
    pub fn is_worth_keeping(&self) -> bool {
        let mut is_text = false;
        self.value.walk(&mut |inner| is_text |= matches!(inner.node, Node::Template(_)));
        matches!(self.value.node, Node::Call(..) | Node::Aggregate { .. }) && !is_text && !self.is_of_results()
    }
}

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

    /// All of them, by their lines.
    pub(super) fn all(&self, lets: &[Let]) -> Vec<RuleLet> {
        let one = |line: &Let| {
            let value = Arc::clone(self.values.get(&line.name.text)?);
            Some(RuleLet { name: line.name.text.clone(), written: line.value.span, value })
        };
        lets.iter().filter_map(one).collect()
    }

    /// An expression without these names.
    pub(super) fn put(&self, expr: &Arc<Expr>, problems: &mut Vec<Problem>) -> Arc<Expr> {
        if self.values.is_empty() {
            return Arc::clone(expr);
        }
        let mut named = false;
        expr.walk(&mut |inner| named |= matches!(&inner.node, Node::Name(name) if self.values.contains_key(name)));
        if named { Arc::new(self.inside(expr, &mut Vec::new(), problems)) } else { Arc::clone(expr) }
    }

    fn inside(&self, expr: &Expr, bound: &mut Vec<SmolStr>, problems: &mut Vec<Problem>) -> Expr {
        stacker::maybe_grow(64 * 1024, 2 * 1024 * 1024, || self.inside_here(expr, bound, problems))
    }

    fn inside_here(&self, expr: &Expr, bound: &mut Vec<SmolStr>, problems: &mut Vec<Problem>) -> Expr {
        match &expr.node {
            Node::Name(name) if !bound.contains(name) => {
                let Some(value) = self.values.get(name) else { return expr.clone() };
                // The value would mean something else here: a name in it stands for another one.
                if let Some(other) = bound.iter().find(|other| speaks_of(value, other)) {
                    let problem = Problem::error(format!("`{name}` speaks of another `{other}` than the one here"), expr.span, "this name");
                    problems.push(problem.also(value.span, "its value").help(format!("give the `{other}` behind `for` another name")));
                }
                value.as_ref().clone()
            }
            Node::Aggregate { name, value, binders } => {
                let before = bound.len();
                let mut inner = Vec::with_capacity(binders.len());
                for binder in binders {
                    let source = Arc::new(self.inside(&binder.source, bound, problems));
                    bound.push(binder.name.text.clone());
                    let condition = binder.condition.as_ref().map(|condition| Arc::new(self.inside(condition, bound, problems)));
                    inner.push(Binder { span: binder.span, name: binder.name.clone(), source, condition });
                }
                let value = Box::new(self.inside(value, bound, problems));
                bound.truncate(before);
                Expr { span: expr.span, node: Node::Aggregate { name: name.clone(), value, binders: inner } }
            }
            _ => expr.with_parts(&mut |part| self.inside(part, bound, problems)),
        }
    }
}

fn speaks_of(expr: &Expr, name: &str) -> bool {
    let mut found = false;
    expr.walk(&mut |inner| found |= matches!(&inner.node, Node::Name(word) if word == name));
    found
}
