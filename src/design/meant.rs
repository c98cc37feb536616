//! Each name of an expression with its meaning, for an editor: found by the same walk that checks the names.

use super::Design;
use super::meaning::{Found, Meaning, Meant, Stands, Writer};
use super::names::Scope;
use crate::syntax::tree::{self, Expr};
use smol_str::SmolStr;

impl Design {
    /// Each name of an expression with what it stands for, in the order of the walk.
    #[must_use]
    pub fn meanings(&self, expr: &Expr, stands: Stands) -> Vec<Meant> {
        let mut found = Found::with_meanings();
        let (writer, own, in_array) = match stands {
            Stands::Alone => (Writer::Design, None, false),
            Stands::Line(kind, property, in_array) => (Writer::Design, Some((kind, Some(property))), in_array),
            Stands::Declared(kind, property) => (Writer::Kind, Some((kind, Some(property))), false),
            Stands::Step(kind) => (Writer::Kind, Some((kind, None)), false),
        };
        let steps = own.filter(|_| writer == Writer::Kind).into_iter().flat_map(|(kind, _)| &self.kind(kind).steps);
        let bound = steps.map(|name| (name.clone(), None)).collect();
        let mut scope = Scope { writer, own: own.map(|(kind, _)| kind), in_array, bound };
        match own.and_then(|(kind, property)| self.kind(kind).properties.get(property?)) {
            Some(declared) => self.check_as(expr, &declared.ty, &declared.name, &mut scope, &mut found),
            None => self.check(expr, &mut scope, &mut found),
        }
        found.meanings.unwrap_or_default()
    }

    /// As [`Design::meanings`] for all lines of a rule: what it goes over, and its other lines in order.
    #[must_use]
    pub fn meanings_of_rule(&self, rule: &tree::Rule) -> Vec<Meant> {
        let mut found = Found::with_meanings();
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
            found.means(line.name.span, &line.name.text, Meaning::Bound(scope.bound.len()));
            scope.bound.push((line.name.text.clone(), self.leads_to(&line.value, &scope)));
        }
        for line in &rule.lines {
            self.check(&line.value, &mut scope, &mut found);
        }
        found.meanings.unwrap_or_default()
    }

    /// The name of a `for` line may be whichever of its words.
    fn repeated(&self, repeated: &tree::Repeated, scope: &mut Scope, found: &mut Found) {
        let (name, at) = (&repeated.name.text, scope.bound.len());
        found.means(repeated.name.span, name, Meaning::Bound(at));
        repeated.in_title.iter().for_each(|span| found.means(*span, name, Meaning::Bound(at)));
        let mut kinds = Vec::new();
        for word in &repeated.words {
            let kind = self.kind_named(&word.text);
            kinds.extend(kind);
            found.means(word.span, &word.text, kind.map_or(Meaning::Choice, Meaning::Kind));
        }
        scope.bound.push((repeated.name.text.clone(), (!kinds.is_empty()).then_some(kinds)));
    }
}
