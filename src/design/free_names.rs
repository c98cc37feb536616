//! Which rules of the trade library a name of the design could give another meaning.
//!
//! In: a rule. Out: its bare words that nothing in the rule itself binds. A name that a rule binds stands there for what it
//! binds, whatever the design calls by it; a kind's own lines never look at the names of a design.

use super::Rule;
use super::lets::RESULTS;
use crate::syntax::tree::{Binder, Expr, Node};
use rustc_hash::FxHashMap;
use smol_str::SmolStr;
use std::sync::Arc;

/// The rules, by their numbers, that use each word freely.
#[derive(Debug, Default)]
pub struct FreeNames {
    rules: FxHashMap<SmolStr, Vec<usize>>,
}

impl FreeNames {
    /// Those of these rules.
    pub(super) fn of(rules: &[Arc<Rule>]) -> FreeNames {
        let mut free = FreeNames::default();
        for (at, rule) in rules.iter().enumerate() {
            let mut walk = Walk { bound: Vec::new(), rule: at, found: &mut free.rules };
            rule.each.iter().for_each(|binder| walk.bind(binder));
            rule.asked().for_each(|expr| walk.take(expr));
            walk.bound.extend(RESULTS);
            rule.said().for_each(|expr| walk.take(expr));
        }
        free
    }

    /// Whether some rule uses the word freely.
    #[must_use]
    pub fn contains(&self, word: &str) -> bool {
        self.rules.contains_key(word)
    }

    /// The rules that use the word freely.
    pub(super) fn rules(&self, word: &str) -> &[usize] {
        self.rules.get(word).map_or(&[], Vec::as_slice)
    }
}

struct Walk<'w> {
    bound: Vec<&'w str>,
    rule: usize,
    found: &'w mut FxHashMap<SmolStr, Vec<usize>>,
}

impl<'w> Walk<'w> {
    fn bind(&mut self, binder: &'w Binder) {
        self.take(&binder.source);
        self.bound.push(&binder.name.text);
        if let Some(condition) = &binder.condition {
            self.take(condition);
        }
    }

    fn take(&mut self, expr: &'w Expr) {
        stacker::maybe_grow(64 * 1024, 2 * 1024 * 1024, || self.take_here(expr));
    }

    fn take_here(&mut self, expr: &'w Expr) {
        match &expr.node {
            Node::Name(name) if !self.bound.contains(&name.as_str()) => match self.found.get_mut(name) {
                Some(rules) if rules.last() == Some(&self.rule) => {}
                Some(rules) => rules.push(self.rule),
                None => {
                    self.found.insert(name.clone(), vec![self.rule]);
                }
            },
            Node::Aggregate { value, binders, .. } => {
                let before = self.bound.len();
                binders.iter().for_each(|binder| self.bind(binder));
                self.take(value);
                self.bound.truncate(before);
            }
            _ => expr.children(&mut |child| self.take(child)),
        }
    }
}
