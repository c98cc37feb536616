//! What each word of an expression stands for.
//!
//! In: a bare word with the place it stands in. Out: its [`Meaning`], decided here and nowhere else: the checks, the sorts,
//! the evaluator and the editor all ask [`Design::meaning_of`].

use super::constants::{Constant, constant};
use super::near::Names;
use super::{Design, Entry, KindId, Type};
use crate::problem::Problem;
use crate::syntax::tree::{Expr, Node};
use crate::text::Span;
use rustc_hash::FxHashSet;
use smol_str::SmolStr;

/// What a word stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Meaning {
    /// A name that is bound where it stands, behind `for`, `each` or a rule's `let`: its number among those, counted from
    /// the outermost.
    Bound(usize),
    /// The day on which a rule judges.
    Today,
    /// The component whose line it is.
    This,
    /// The number of an element of an array.
    Index,
    /// A component, an array or a named value of the design.
    Entry(Entry),
    /// A property, by its number in its kind.
    Property(KindId, usize),
    /// A kind: all components of it, or the only one.
    Kind(KindId),
    /// One of the words that a property may be, or that a link carries.
    Choice,
    /// A number that has a name in the language itself.
    Constant(&'static Constant),
    /// What could not be read, which has been told.
    Unreadable,
    /// A function, or a word that gathers.
    Function,
}

/// Who wrote an expression, which decides what its bare words mean.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Writer {
    /// A line of the design: components and named values come first.
    #[default]
    Design,
    /// A default of a kind: its own properties, and nothing of a particular design.
    Kind,
    /// A rule, or what goes onto paper: what it goes over.
    Rule,
}

/// Where a bare word stands, as far as that decides what it means.
#[derive(Debug, Clone, Copy)]
pub struct Around {
    /// Who wrote it.
    pub writer: Writer,
    /// The kind whose line it is.
    pub own: Option<KindId>,
    /// That line is one of an element of an array.
    pub in_array: bool,
}

/// A word of an expression with what it stands for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Meant {
    /// Where it stands.
    pub span: Span,
    /// The word.
    pub word: SmolStr,
    /// What it stands for.
    pub meaning: Meaning,
}

/// What a walk over expressions finds.
#[derive(Debug, Default)]
pub(super) struct Found {
    pub(super) problems: Vec<Problem>,
    /// `None` where nobody asks for meanings.
    pub(super) meanings: Option<Vec<Meant>>,
    /// Where a property is named that there is not.
    pub(super) told: FxHashSet<Span>,
    /// The names of the design, once one was met that stands for nothing.
    near: Option<Names>,
}

impl Found {
    /// With room for the meanings.
    pub(super) fn with_meanings() -> Self {
        Self { meanings: Some(Vec::new()), ..Self::default() }
    }

    pub(super) fn push(&mut self, problem: Problem) {
        self.problems.push(problem);
    }

    /// The name of the design, or of `others`, that is nearest to what stands for nothing.
    pub(super) fn nearest<'n>(
        &'n mut self,
        design: &Design,
        written: &str,
        fitting: impl Fn(Option<KindId>) -> bool,
        others: impl IntoIterator<Item = &'n str>,
    ) -> Option<&'n str> {
        self.near.get_or_insert_with(|| Names::of(design.names_with_kinds())).nearest(written, fitting, others)
    }

    pub(super) fn means(&mut self, span: Span, word: &SmolStr, meaning: Meaning) {
        if let Some(meanings) = &mut self.meanings {
            meanings.push(Meant { span, word: word.clone(), meaning });
        }
    }
}

/// Where an expression stands.
#[derive(Debug, Clone, Copy)]
pub enum Stands {
    /// In a named value.
    Alone,
    /// In a line of a component, or of a pattern, of that kind; in an array or not.
    Line(KindId, usize, bool),
    /// In a default or a limit of a kind's property.
    Declared(KindId, usize),
    /// In a step of a kind.
    Step(KindId),
}

/// Whether a bare word is one of those that are due where it stands: so it is whatever else has the name, but for a name that
/// is bound there.
#[must_use]
pub fn is_due<W: AsRef<str>>(words: &[W], word: &str, is_bound: bool) -> bool {
    !is_bound && words.iter().any(|one| one.as_ref() == word)
}

impl Design {
    /// What a bare word stands for; `None` if for nothing. `bound` tells the number of the name that is bound there.
    #[must_use]
    pub fn meaning_of(&self, word: &str, around: Around, bound: impl FnOnce(&str) -> Option<usize>) -> Option<Meaning> {
        if let Some(at) = bound(word) {
            return Some(Meaning::Bound(at));
        }
        let of_kind = around.writer == Writer::Kind;
        let own = || around.own.and_then(|kind| Some(Meaning::Property(kind, self.kind(kind).property(word)?)));
        if of_kind && let Some(own) = own() {
            return Some(own);
        }
        match word {
            "today" if around.writer == Writer::Rule => return Some(Meaning::Today),
            "this" if around.own.is_some() => return Some(Meaning::This),
            "index" if around.own.is_some() && (around.in_array || of_kind) => return Some(Meaning::Index),
            _ => {}
        }
        if !of_kind && let Some(found) = self.entry(word).map(Meaning::Entry).or_else(own) {
            return Some(found);
        }
        if let Some(kind) = self.kind_named(word) {
            return Some(Meaning::Kind(kind));
        }
        if self.is_choice_word(word) || self.carries(word).is_some() {
            return Some(Meaning::Choice);
        }
        if let Some(constant) = constant(word) {
            return Some(Meaning::Constant(constant));
        }
        (!of_kind && self.is_unreadable(word)).then_some(Meaning::Unreadable)
    }

    /// Whether a bare word beside `==` is a choice if the other side is one: so it is whatever else has the name, but for a
    /// name that is bound there.
    #[must_use]
    pub fn may_be_choice(&self, expr: &Expr, is_bound: impl FnOnce(&str) -> bool) -> bool {
        matches!(&expr.node, Node::Name(word) if self.is_choice_word(word) && !is_bound(word))
    }

    /// The kind that a binder goes through: behind `in` the name of a kind is all components of it, whatever else has the
    /// name, but for a name that is bound there.
    #[must_use]
    pub fn gone_through(&self, source: &Expr, is_bound: impl FnOnce(&str) -> bool) -> Option<KindId> {
        match &source.node {
            Node::Name(word) => self.kind_named(word).filter(|_| !is_bound(word)),
            _ => None,
        }
    }

    /// The kinds whose components fit where a value of this type is due.
    #[must_use]
    pub fn linked_kinds(ty: &Type) -> &[KindId] {
        match ty {
            Type::Link { kinds, .. } => kinds,
            _ => &[],
        }
    }
}
