//! Words of a choice that a `let` of the same block covers.
//!
//! In: a rule or a kind as it is written, before its `let` lines are put in place. Out: a problem at each comparison that
//! reads as one with a word, `x.ridge == along`, and would be one with the value of the `let` of that name.

use super::{Design, Type, refusals};
use crate::problem::Problem;
use crate::syntax::tree::{self, Binary, Expr, Let, Node};

impl Design {
    /// Looks through the lines of a rule.
    pub(super) fn find_covered_in_rule(&mut self, rule: &tree::Rule) {
        if rule.lets.is_empty() {
            return;
        }
        let found = self.covered(&rule.lets, rule.lines.iter().map(|line| line.value.as_ref()));
        self.problems.extend(found);
    }

    /// Looks through the properties of a kind.
    pub(super) fn find_covered_in_kind(&mut self, kind: &tree::Kind) {
        if kind.lets.is_empty() {
            return;
        }
        let properties = kind.properties.iter().flat_map(|property| {
            let usual = property.usual.iter().map(|usual| &usual.range);
            property.default.iter().chain(property.bounds.iter().map(|(_, limit)| limit)).chain(usual)
        });
        let facts = kind.facts.iter().map(|fact| &fact.value);
        let found = self.covered(&kind.lets, properties.chain(facts).map(AsRef::as_ref));
        self.problems.extend(found);
    }

    fn covered<'e>(&self, lets: &[Let], exprs: impl Iterator<Item = &'e Expr>) -> Vec<Problem> {
        let covering: Vec<(usize, &Let)> = lets.iter().enumerate().filter(|(_, line)| self.is_choice_word(&line.name.text)).collect();
        let mut found = Vec::new();
        if covering.is_empty() {
            return found;
        }
        // A `let` speaks of those above it, and of them alone.
        let own = lets.iter().enumerate().map(|(at, line)| (line.value.as_ref(), at));
        for (expr, above) in exprs.map(|expr| (expr, lets.len())).chain(own) {
            expr.walk(&mut |inner| {
                let Node::Binary(Binary::Equal | Binary::NotEqual, _, left, right) = &inner.node else { return };
                for (word, other) in [(left, right), (right, left)] {
                    let (Node::Name(name), Some(line)) = (&word.node, last_word(other)) else { continue };
                    if let Some((_, covering)) = covering.iter().find(|(at, covering)| *at < above && covering.name.text == *name)
                        && self.may_be(line, name)
                    {
                        // At the whole of it: that the sorts do not go together follows from this.
                        found.push(refusals::covered_word(name, line, inner.span, covering.name.span));
                    }
                }
            });
        }
        found
    }

    /// Whether some kind has a line of this name that may be this word.
    fn may_be(&self, line: &str, word: &str) -> bool {
        let declared = self.kinds.iter().filter_map(|kind| kind.properties.get(kind.property(line)?));
        declared.into_iter().any(|property| matches!(&property.ty, Type::Word(words) if words.iter().any(|one| one == word)))
    }
}

/// The line that an expression reads: `ridge` of `roof.ridge`.
fn last_word(expr: &Expr) -> Option<&str> {
    match &expr.node {
        Node::Field(_, word) => Some(&word.text),
        Node::Name(name) => Some(name),
        _ => None,
    }
}
