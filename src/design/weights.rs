//! How many rules stand on a line, as far as the names in the library's expressions tell.
//!
//! In: rules and kinds. Out: for each name of a property the rules that speak of it, or of something that is worked out from
//! it. Names are not told apart by kind: it orders what a reader is shown, and decides nothing.

use super::{Design, Rule};
use crate::syntax::tree::{Expr, Node};
use rustc_hash::{FxHashMap, FxHashSet};
use smol_str::SmolStr;

impl Design {
    /// For each name of a property, how many rules stand on it.
    #[must_use]
    pub fn rules_on_each_line(&self) -> FxHashMap<SmolStr, usize> {
        let mut speaks: FxHashMap<&str, FxHashSet<&str>> = FxHashMap::default();
        for property in self.kinds.iter().flat_map(|kind| &kind.properties) {
            if let Some(default) = &property.default {
                speaks.entry(&property.name).or_default().extend(words(default));
            }
        }
        let mut counts: FxHashMap<SmolStr, usize> = FxHashMap::default();
        for rule in &self.rules {
            let mut waiting: Vec<&str> = expressions(rule).flat_map(words).collect();
            let mut seen: FxHashSet<&str> = FxHashSet::default();
            while let Some(word) = waiting.pop() {
                if seen.insert(word) {
                    waiting.extend(speaks.get(word).into_iter().flatten());
                }
            }
            for word in seen {
                *counts.entry(word.into()).or_default() += 1;
            }
        }
        counts
    }
}

fn expressions(rule: &Rule) -> impl Iterator<Item = &Expr> {
    let conditions = rule.each.iter().filter_map(|binder| binder.condition.as_deref());
    let lines = [&rule.when, &rule.demand, &rule.capacity, &rule.require];
    lines.into_iter().flatten().map(AsRef::as_ref).chain(conditions)
}

/// The words of an expression that may be names of properties.
fn words(expr: &Expr) -> Vec<&str> {
    let mut found = Vec::new();
    expr.walk(&mut |inner| match &inner.node {
        Node::Name(name) => found.push(name.as_str()),
        Node::Field(_, word) => found.push(word.text.as_str()),
        _ => {}
    });
    found
}
