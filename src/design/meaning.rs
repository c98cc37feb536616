//! What each word of an expression stands for: the names that a reader could ask about.
//!
//! In: an expression with the place it stands in. Out: each name in it with what it means, found by
//! the same walk that checks the names, so that an editor and the checks cannot disagree.

use super::names::{Scope, Writer};
use super::near::Names;
use super::{Design, KindId, Type};
use crate::problem::Problem;
use crate::syntax::tree::{self, Expr};
use crate::text::Span;
use smol_str::SmolStr;

/// What a word stands for.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Meaning {
    /// A component, an array or a named value of the design, by its name.
    Entry(SmolStr),
    /// A kind; in an expression all components of it, or the only one.
    Kind(KindId),
    /// A property, by its number in its kind.
    Property(KindId, usize),
    /// One of the words that a property may be.
    Choice(SmolStr),
    /// A name that is bound where it stands: behind `for` or `each`, `this`, `index`.
    Local(SmolStr),
    /// A function, or a word that gathers.
    Function(SmolStr),
}

/// What a walk over expressions finds.
#[derive(Debug, Default)]
pub(super) struct Found {
    pub(super) problems: Vec<Problem>,
    /// `None` where nobody asks for meanings.
    pub(super) meanings: Option<Vec<(Span, Meaning)>>,
    /// The names of the design, once one was met that stands for nothing.
    near: Option<Names>,
}

impl Found {
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

    pub(super) fn means(&mut self, span: Span, meaning: impl FnOnce() -> Meaning) {
        if let Some(meanings) = &mut self.meanings {
            meanings.push((span, meaning()));
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
}

impl Design {
    /// Each name of an expression with what it stands for, in the order of the walk.
    #[must_use]
    pub fn meanings(&self, expr: &Expr, stands: Stands) -> Vec<(Span, Meaning)> {
        let mut found = Found { meanings: Some(Vec::new()), ..Found::default() };
        let (writer, own, in_array) = match stands {
            Stands::Alone => (Writer::Design, None, false),
            Stands::Line(kind, property, in_array) => (Writer::Design, Some((kind, property)), in_array),
            Stands::Declared(kind, property) => (Writer::Kind, Some((kind, property)), false),
        };
        let mut scope = Scope { writer, own: own.map(|(kind, _)| kind), in_array, bound: Vec::new() };
        match own.and_then(|(kind, property)| self.kind(kind).properties.get(property)) {
            Some(declared) => self.check_as(expr, &declared.ty, &declared.name, &mut scope, &mut found),
            None => self.check(expr, &mut scope, &mut found),
        }
        found.meanings.unwrap_or_default()
    }

    /// As [`Design::meanings`] for all lines of a rule: what it goes over, and its other lines in order.
    #[must_use]
    pub fn meanings_of_rule(&self, rule: &tree::Rule) -> Vec<(Span, Meaning)> {
        let mut found = Found { meanings: Some(Vec::new()), ..Found::default() };
        let mut scope = Scope { writer: Writer::Rule, own: None, in_array: false, bound: Vec::new() };
        if let Some(repeated) = &rule.repeated {
            self.repeated(repeated, &mut scope, &mut found);
        }
        for binder in &rule.each {
            self.bind(binder, &mut scope, &mut found);
        }
        scope.bound.extend(super::lets::RESULTS.map(|name| (SmolStr::new_static(name), None)));
        for line in &rule.lets {
            self.check(&line.value, &mut scope, &mut found);
            found.means(line.name.span, || Meaning::Local(line.name.text.clone()));
            scope.bound.push((line.name.text.clone(), self.leads_to(&line.value, &scope)));
        }
        for line in &rule.lines {
            self.check(&line.value, &mut scope, &mut found);
        }
        found.meanings.unwrap_or_default()
    }

    /// The name of a `for` line may be whichever of its words.
    fn repeated(&self, repeated: &tree::Repeated, scope: &mut Scope, found: &mut Found) {
        let name = || Meaning::Local(repeated.name.text.clone());
        found.means(repeated.name.span, name);
        repeated.in_title.iter().for_each(|span| found.means(*span, name));
        let mut kinds = Vec::new();
        for word in &repeated.words {
            let kind = self.kind_named(&word.text);
            kinds.extend(kind);
            found.means(word.span, || kind.map_or_else(|| Meaning::Choice(word.text.clone()), Meaning::Kind));
        }
        scope.bound.push((repeated.name.text.clone(), (!kinds.is_empty()).then_some(kinds)));
    }

    /// What a bare word stands for, by the order in which values are looked up.
    pub(super) fn meaning_of(&self, name: &SmolStr, scope: &Scope) -> Option<Meaning> {
        if scope.bound.iter().any(|(bound, _)| bound == name) {
            return Some(Meaning::Local(name.clone()));
        }
        let own = || scope.own.and_then(|kind| Some(Meaning::Property(kind, self.kind(kind).property(name)?)));
        if scope.writer == Writer::Kind
            && let Some(own) = own()
        {
            return Some(own);
        }
        if scope.own.is_some() && (name == "this" || (name == "index" && (scope.in_array || scope.writer == Writer::Kind))) {
            return Some(Meaning::Local(name.clone()));
        }
        if scope.writer != Writer::Kind && self.entry(name).is_some() {
            return Some(Meaning::Entry(name.clone()));
        }
        own()
            .or_else(|| self.kind_named(name).map(Meaning::Kind))
            .or_else(|| (self.is_choice_word(name) || self.carries(name).is_some()).then(|| Meaning::Choice(name.clone())))
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
