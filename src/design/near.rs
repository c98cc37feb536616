//! The name that was meant, in a design of many thousand names.
//!
//! In: the names that may be meant, once; then one word after the other that stands for nothing. Out: the nearest name
//! of each. A text in which thousands of names stand for nothing has one cause, like a file that is not taken in: there
//! the looking ends after so many names that it never takes longer than the rest of the reading.

use super::KindId;
use crate::problem::{Nearest, Problem, Wanted};
use crate::text::Span;
use smol_str::SmolStr;

/// Names that are looked at for all words together: a fifth of a second.
const MOST_LOOKS: usize = 20_000_000;
/// How much longer it takes to compare two words letter by letter than to pass one over at a glance.
const COMPARING: usize = 100;

/// A name that may be meant.
#[derive(Debug)]
struct Name {
    text: SmolStr,
    letters: u64,
    /// Of a component, its kind.
    kind: Option<KindId>,
}

/// The names that may be meant.
#[derive(Debug)]
pub(super) struct Names {
    all: Vec<Name>,
    looks: usize,
}

impl Names {
    pub(super) fn of(names: impl Iterator<Item = (SmolStr, Option<KindId>)>) -> Names {
        let mut all: Vec<Name> = names.map(|(text, kind)| Name { letters: crate::problem::letters_of(&text), text, kind }).collect();
        // A word is only near to one of about its length.
        all.sort_unstable_by_key(|name| name.text.len());
        Names { all, looks: 0 }
    }

    /// The nearest of these names and of `others`, if one is near enough; of the components only those of a kind that
    /// is `fitting`, where that is asked.
    pub(super) fn nearest<'n>(
        &'n mut self,
        written: &str,
        fitting: impl Fn(Option<KindId>) -> bool,
        others: impl IntoIterator<Item = &'n str>,
    ) -> Option<&'n str> {
        let wanted = Wanted::new(written);
        let lengths = wanted.lengths();
        let from = self.all.partition_point(|name| name.text.len() < *lengths.start());
        let to = self.all.partition_point(|name| name.text.len() <= *lengths.end());
        let mut near = Nearest::default();
        for name in self.all.get(from..to).unwrap_or_default() {
            if self.looks >= MOST_LOOKS {
                break;
            }
            self.looks += 1;
            if wanted.may_be(name.letters) && fitting(name.kind) {
                self.looks += COMPARING;
                near.look_at(&wanted, &name.text);
            }
        }
        others.into_iter().for_each(|other| near.look_at(&wanted, other));
        near.word()
    }
}

/// A problem with the nearest name offered, or other help where none is near.
pub(super) fn offered(problem: Problem, near: Option<&str>, span: Span, otherwise: String) -> Problem {
    match near {
        Some(word) => problem.offering(span, word),
        None => problem.help(otherwise),
    }
}
