//! Lines that say of themselves that nobody knows their number yet: `mass 320 kg ± 60 kg guessed`.
//!
//! In: the trees of a design. Out: what is wrong with such lines. A guess that does not say how far it may be off would be
//! checked as if it were exact; what was measured is no guess, and a rule has none.

use super::Design;
use crate::problem::Problem;
use crate::syntax::tree::{Changes, Expr, Item, Let, Line, Node, Tree};
use crate::text::Span;
use std::sync::Arc;

impl Design {
    /// Looks through all lines for guesses that are none.
    pub(super) fn check_guesses(&mut self, files: &[Arc<Tree>]) {
        for item in files.iter().flat_map(|tree| &tree.items) {
            match item {
                Item::Component(block) | Item::Pattern(block) => block.lines.iter().for_each(|line| self.without_spread(line)),
                Item::Let(line) => self.named_without_spread(line),
                Item::Variant(variant) => self.changes_without_spread(&variant.changes),
                Item::Measured(measured) => {
                    let lines = measured.changes.components.iter().flat_map(|change| &change.lines).map(|line| line.guessed);
                    let all: Vec<Span> = lines.chain(measured.changes.lets.iter().map(|line| line.guessed)).flatten().collect();
                    self.no_guess(all, "what was measured is no guess", "write it as it was read, with the tolerance of the tape");
                }
                Item::Rule(rule) => {
                    let all = rule.lines.iter().filter_map(|line| line.guessed).chain(rule.lets.iter().filter_map(|line| line.guessed));
                    self.no_guess(all.collect(), "a rule knows no guesses", "take the word out: a line of the design is guessed");
                }
                Item::Kind(kind) => {
                    let all = kind.lets.iter().filter_map(|line| line.guessed).collect();
                    self.no_guess(all, "a kind knows no guesses", "take the word out: a line of the design is guessed");
                }
                Item::Paper(paper) => {
                    let all = paper.block.lines.iter().filter_map(|line| line.guessed).collect();
                    self.no_guess(all, "what goes onto paper knows no guesses", "take the word out: a line of the design is guessed");
                }
                Item::Accept(accept) => {
                    let all = accept.lines.iter().filter_map(|line| line.guessed).collect();
                    self.no_guess(all, "an acceptance knows no guesses", "take the word out: a line of the design is guessed");
                }
                _ => {}
            }
        }
    }

    /// Whether any line is guessed: most designs have none, and nobody need look for it.
    #[must_use]
    pub fn has_guesses(&self) -> bool {
        self.named.iter().any(|named| named.guessed)
            || self.components.iter().any(|component| component.lines().any(|(_, line)| line.guessed))
    }

    fn changes_without_spread(&mut self, changes: &Changes) {
        changes.components.iter().flat_map(|change| &change.lines).for_each(|line| self.without_spread(line));
        changes.lets.iter().for_each(|line| self.named_without_spread(line));
    }

    fn no_guess(&mut self, all: Vec<Span>, message: &str, help: &str) {
        self.problems.extend(all.into_iter().map(|span| Problem::error(message, span, "this word").help(help)));
    }

    fn without_spread(&mut self, line: &Line) {
        self.spread(&line.name.text, &line.value, line.guessed);
    }

    fn named_without_spread(&mut self, line: &Let) {
        self.spread(&line.name.text, &line.value, line.guessed);
    }

    fn spread(&mut self, name: &str, value: &Expr, guessed: Option<Span>) {
        // An expression has the tolerances of the lines that it stands on.
        if let Some(word) = guessed.filter(|_| value.numbers().iter().any(|number| matches!(number.node, Node::Quantity(_)))) {
            let message = format!("`{name}` is guessed, and nothing says how far it may be off");
            let problem = Problem::warning(message, value.span, "checked as if it were exact").also(word, "a guess");
            self.problems.push(problem.help("write how far, before `guessed`: `320 kg ± 60 kg guessed`"));
        }
    }
}
