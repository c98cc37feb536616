//! Every name in every expression stands for something, before anything is worked out.
//!
//! So a slip in a branch that no value takes today is found all the same. Which kind a name stands
//! for is followed through links as far as the declarations tell.

use super::kinds::BUILT_IN_PROPERTIES;
use super::lets::RESULTS;
use super::meaning::{Around, Found, Meaning, Writer, is_due};
use super::near::offered;
use super::papers::Paper;
use super::{Design, Entry, KindId, Rule, Type, refusals};
use crate::problem::{Problem, with_article};
use crate::syntax::examples;
use crate::syntax::tree::{Binary, Binder, Expr, Node, TemplatePart};
use crate::text::Span;
use rustc_hash::FxHashSet;
use smol_str::SmolStr;
use std::collections::BTreeSet;
use std::hash::{Hash, Hasher};
use std::sync::Arc;

pub(super) struct Scope {
    pub(super) writer: Writer,
    pub(super) own: Option<KindId>,
    pub(super) in_array: bool,
    pub(super) bound: Vec<(SmolStr, Option<Vec<KindId>>)>,
}

impl Scope {
    fn is_bound(&self, word: &str) -> bool {
        self.number_of(word).is_some()
    }

    fn number_of(&self, word: &str) -> Option<usize> {
        self.bound.iter().rposition(|(bound, _)| bound == word)
    }
}

impl Design {
    /// Checks all names. `before` is the design before an edit, if there was one: its expressions that are still
    /// there are not looked at again while every name stands for what it did.
    pub(super) fn check_names(&mut self, before: Option<&Design>) {
        self.names = self.signature();
        let known = before.filter(|before| before.names == self.names && before.same_vocabulary(self)).map(|before| &before.clean);
        let mut found = Found::default();
        let mut clean: FxHashSet<usize> = FxHashSet::default();
        let mut seen: FxHashSet<usize> = FxHashSet::default();
        // Each expression once, and none that is known to be clean.
        let mut check = |found: &mut Found, value: &Arc<Expr>, check: &dyn Fn(&mut Found)| {
            let address = Arc::as_ptr(value) as usize;
            if clean.contains(&address) || !seen.insert(address) {
                return;
            }
            let told = found.problems.len();
            if !known.is_some_and(|known| known.contains(&address)) {
                check(found);
            }
            if found.problems.len() == told {
                clean.insert(address);
            }
        };
        for named in &self.named {
            check(&mut found, &named.value, &|found| {
                let mut scope = Scope { writer: Writer::Design, own: None, in_array: false, bound: Vec::new() };
                self.check(&named.value, &mut scope, found);
            });
        }
        for component in &self.components {
            let kind = self.kind(component.kind);
            for (property, written) in component.lines() {
                check(&mut found, &written.value, &|found| {
                    let mut scope = Scope {
                        writer: Writer::Design,
                        own: Some(component.kind),
                        in_array: component.element.is_some(),
                        bound: Vec::new(),
                    };
                    match kind.properties.get(property) {
                        Some(declared) => self.check_as(&written.value, &declared.ty, &declared.name, &mut scope, found),
                        None => self.check(&written.value, &mut scope, found),
                    }
                });
            }
        }
        for (id, property, written) in &self.alternatives {
            let component = self.component(*id);
            check(&mut found, &written.value, &|found| {
                let (own, in_array) = (Some(component.kind), component.element.is_some());
                let mut scope = Scope { writer: Writer::Design, own, in_array, bound: Vec::new() };
                if let Some(declared) = self.kind(component.kind).properties.get(*property) {
                    self.check_as(&written.value, &declared.ty, &declared.name, &mut scope, found);
                }
            });
        }
        for (_, line) in &self.named_alternatives {
            check(&mut found, &line.value, &|found| {
                let mut scope = Scope { writer: Writer::Design, own: None, in_array: false, bound: Vec::new() };
                self.check(&line.value, &mut scope, found);
            });
        }
        // The library is sound by itself: its kinds know nothing of a design, and of its rules only those could say something
        // else that use a name of the design.
        let (kinds, rules) = self.library;
        self.find_in_kinds(kinds, &mut found);
        let met = self.rules_that_meet_a_name();
        self.find_in_rules(met.into_iter().filter_map(|at| self.rules.get(at)).chain(self.rules.iter().skip(rules)), &mut found);
        self.find_on_paper(&self.papers, &mut found);
        self.clean = clean;
        self.unnamed = found.problems.iter().map(Problem::span).collect();
        self.problems.extend(found.problems);
    }

    /// What is wrong with the names in the kinds and rules of the vocabulary itself, all of them looked at beside the names of
    /// this design.
    #[must_use]
    pub fn names_in_vocabulary(&self) -> Vec<Problem> {
        let mut found = Found::default();
        self.find_in_kinds(0, &mut found);
        self.find_in_rules(&self.rules, &mut found);
        found.problems
    }

    /// In the kinds from this one on.
    fn find_in_kinds(&self, from: usize, found: &mut Found) {
        for (at, kind) in (0_u32..).zip(&self.kinds).skip(from) {
            for property in &kind.properties {
                let mut scope = Scope { writer: Writer::Kind, own: Some(KindId(at)), in_array: false, bound: Vec::new() };
                if let Some(default) = &property.default {
                    self.check_as(default, &property.ty, &property.name, &mut scope, found);
                }
                for limit in &property.limits {
                    self.check(&limit.value, &mut scope, found);
                }
                for usual in &property.usual {
                    self.check(&usual.range, &mut scope, found);
                }
            }
        }
    }

    fn find_in_rules<'r>(&self, rules: impl IntoIterator<Item = &'r Arc<Rule>>, found: &mut Found) {
        for rule in rules {
            let mut scope = Scope { writer: Writer::Rule, own: None, in_array: false, bound: Vec::new() };
            for binder in &rule.each {
                self.bind(binder, &mut scope, found);
            }
            let (early, late): (Vec<_>, Vec<_>) = rule.lets.iter().partition(|line| !line.is_of_results());
            for expr in early.iter().map(|line| &line.value).chain(rule.asked()) {
                self.check(expr, &mut scope, found);
            }
            scope.bound.extend(RESULTS.map(|name| (SmolStr::new_static(name), None)));
            for expr in late.iter().map(|line| &line.value).chain(rule.said()) {
                self.check(expr, &mut scope, found);
            }
        }
    }

    fn find_on_paper(&self, papers: &[Paper], found: &mut Found) {
        // The forms are read only where there is something to hold against them.
        let Some(forms) = self.forms.filter(|_| !papers.is_empty()) else { return };
        for (paper, form) in papers.iter().filter_map(|paper| Some((paper, forms().form(paper.sort.word())?))) {
            let bound = form.binds.iter().map(|(name, ..)| (name.clone(), None)).collect();
            let mut scope = Scope { writer: Writer::Rule, own: None, in_array: false, bound };
            for binder in &paper.each {
                self.bind(binder, &mut scope, found);
            }
            for expr in paper.when.iter().chain(paper.expressions(form).map(|(_, value)| value)) {
                self.check(expr, &mut scope, found);
            }
        }
    }

    /// What is wrong with the names in these papers.
    pub(super) fn names_on_paper(&self, papers: &[Paper]) -> Vec<Problem> {
        let mut found = Found::default();
        self.find_on_paper(papers, &mut found);
        found.problems
    }

    /// The library's rules that use a name which the design gives to something else, in their order.
    fn rules_that_meet_a_name(&self) -> BTreeSet<usize> {
        let is_its_kind = |name: &SmolStr, entry| matches!(entry, Entry::Component(id) if self.kind(self.component(id).kind).name == *name);
        let names = self.entries().filter(|(name, entry)| !is_its_kind(name, *entry)).map(|(name, _)| name);
        names.flat_map(|name| self.free_names.rules(name)).copied().collect()
    }

    /// What a name of the design stands for, as far as what it means in an expression hangs on it: its sort, the number of
    /// its kind, and of an array the first element and how many.
    #[must_use]
    pub fn stands_for(&self, entry: Entry) -> (u8, u32, u32, u32) {
        match entry {
            Entry::Component(id) => (1, self.component(id).kind.0, 0, 0),
            Entry::Array(id, first, count) => (2, self.component(id).kind.0, first, count),
            Entry::Named(_) => (3, 0, 0, 0),
        }
    }

    /// One number for what all names stand for; the order of the text does not count.
    fn signature(&self) -> u64 {
        let one = |(name, entry): (&SmolStr, Entry)| {
            let mut hasher = rustc_hash::FxHasher::default();
            (name, self.stands_for(entry)).hash(&mut hasher);
            hasher.finish()
        };
        let unread = |name: &SmolStr| {
            let mut hasher = rustc_hash::FxHasher::default();
            (name, 4).hash(&mut hasher);
            hasher.finish()
        };
        self.entries().map(one).chain(self.unreadable.iter().map(unread)).fold(0, u64::wrapping_add)
    }

    /// An expression whose type is known: bare words of a choice, names of a link.
    pub(super) fn check_as(&self, expr: &Expr, ty: &Type, property: &str, scope: &mut Scope, found: &mut Found) {
        match (ty, &expr.node) {
            (Type::Word(words), Node::Name(word)) if is_due(words, word, scope.is_bound(word)) => {
                found.means(expr.span, word, Meaning::Choice);
            }
            (Type::Word(words), Node::Name(word)) if !self.is_a_value(word, scope) => {
                found.push(refusals::no_such_word(property, words, word, expr.span));
            }
            (Type::Text, Node::Name(word)) if self.meaning(word, scope).is_none() => {
                found.push(
                    Problem::error(format!("`{property}` is a text, and this is a bare word"), expr.span, "this word")
                        .help("write it in quotes")
                        .mend("put quotes around it", expr.span, format!("\"{word}\"")),
                );
            }
            (Type::Flag, Node::Name(word)) if self.meaning(word, scope).is_none() => {
                found.push(
                    Problem::error(format!("`{property}` is `yes` or `no`, and this is the word `{word}`"), expr.span, "this word")
                        .help(format!("write `{property} yes` or `{property} no`")),
                );
            }
            (Type::Word(_) | Type::List(_), Node::If(condition, a, b)) => {
                self.check(condition, scope, found);
                self.check_as(a, ty, property, scope, found);
                self.check_as(b, ty, property, scope, found);
            }
            (Type::List(of), Node::List(items)) => {
                for item in items {
                    self.check_as(item, of, property, scope, found);
                }
            }
            (Type::Link { many: true, .. }, Node::List(items)) => {
                for item in items {
                    self.check_as(item, ty, property, scope, found);
                }
            }
            (Type::Link { kinds, .. }, Node::Name(name)) if scope.writer == Writer::Design => {
                self.check_link(name, expr.span, kinds, property, found);
            }
            _ => self.check(expr, scope, found),
        }
    }

    /// What a bare word stands for.
    fn meaning(&self, word: &str, scope: &Scope) -> Option<Meaning> {
        let around = Around { writer: scope.writer, own: scope.own, in_array: scope.in_array };
        self.meaning_of(word, around, |word| scope.number_of(word))
    }

    /// Whether a bare word stands for something that has a value, and is not only a word.
    fn is_a_value(&self, word: &str, scope: &Scope) -> bool {
        let only_a_word = |meaning| matches!(meaning, Meaning::Kind(_) | Meaning::Choice | Meaning::Unreadable);
        self.meaning(word, scope).is_some_and(|meaning| !only_a_word(meaning))
    }

    fn check_link(&self, name: &SmolStr, span: Span, kinds: &[KindId], property: &str, found: &mut Found) {
        let wanted = || {
            let names: Vec<&str> = kinds.iter().map(|kind| self.kind(*kind).name.as_str()).collect();
            with_article(&names.join(" or "))
        };
        let meaning = self.entry(name).map(Meaning::Entry).or_else(|| self.kind_named(name).map(Meaning::Kind));
        found.means(span, name, meaning.unwrap_or(Meaning::Unreadable));
        let target = match self.entry(name) {
            Some(Entry::Component(id) | Entry::Array(id, ..)) => Some(id),
            Some(Entry::Named(_)) => return,
            None => self.kind_named(name).and_then(|kind| self.only_one(kind)),
        };
        if target.is_none() && self.is_unreadable(name) {
            return;
        }
        let Some(target) = target else {
            if let Some(problem) = self.not_used(name, span) {
                return found.push(problem);
            }
            let problem = Problem::error(format!("there is no component `{name}`"), span, "this name").once();
            let near = found.nearest(self, name, |kind| kind.is_some_and(|kind| kinds.contains(&kind)), []);
            let problem = offered(problem, near, span, format!("`{property}` names {} of this design{}", wanted(), self.looked_up(kinds)));
            found.push(problem);
            return;
        };
        let component = self.component(target);
        if !kinds.contains(&component.kind) {
            found.push(
                Problem::error(
                    format!("`{property}` cannot lead to `{name}`, which is {}", with_article(&self.kind(component.kind).name)),
                    span,
                    "this component",
                )
                .also(component.header, "it stands here")
                .help(format!("it leads to {}", wanted())),
            );
        }
    }

    pub(super) fn bind(&self, binder: &Binder, scope: &mut Scope, found: &mut Found) {
        let kinds = match (&binder.source.node, self.gone_through(&binder.source, |word| scope.is_bound(word))) {
            (Node::Name(name), Some(kind)) => {
                found.means(binder.source.span, name, Meaning::Kind(kind));
                Some(vec![kind])
            }
            (Node::Name(name), None) if self.meaning(name, scope).is_none() => {
                let kinds = self.kinds.iter().map(|kind| kind.name.as_str());
                found.push(Problem::error(format!("there is no kind `{name}` to go through"), binder.source.span, "this kind").nearest_or(
                    name,
                    binder.source.span,
                    kinds,
                    format!("behind `in` stands a kind, like `{}`, or a list", examples::GONE_THROUGH),
                ));
                None
            }
            _ => {
                self.check(&binder.source, scope, found);
                self.leads_to(&binder.source, scope)
            }
        };
        found.means(binder.name.span, &binder.name.text, Meaning::Bound(scope.bound.len()));
        scope.bound.push((binder.name.text.clone(), kinds));
        if let Some(condition) = &binder.condition {
            self.check(condition, scope, found);
        }
    }

    pub(super) fn check(&self, expr: &Expr, scope: &mut Scope, found: &mut Found) {
        stacker::maybe_grow(64 * 1024, 2 * 1024 * 1024, || self.check_inner(expr, scope, found));
    }

    fn check_inner(&self, expr: &Expr, scope: &mut Scope, found: &mut Found) {
        match &expr.node {
            Node::Name(name) => self.check_name(name, expr.span, scope, found),
            Node::Field(of, word) => {
                self.check(of, scope, found);
                if let Some(kinds) = self.leads_to(of, scope) {
                    self.check_field(&kinds, &word.text, word.span, found);
                }
            }
            Node::Aggregate { name, value, binders } => {
                found.means(name.span, &name.text, Meaning::Function);
                let before = scope.bound.len();
                for binder in binders {
                    self.bind(binder, scope, found);
                }
                self.check(value, scope, found);
                scope.bound.truncate(before);
            }
            // Beside `==` a bare word may be a choice of the other side's property.
            Node::Binary(Binary::Equal | Binary::NotEqual, _, a, b) => {
                for (side, other) in [(a, b), (b, a)] {
                    match (&side.node, self.type_of(other, scope)) {
                        (Node::Name(word), Some(ty @ Type::Word(_))) if !scope.is_bound(word) => {
                            let property = match &other.node {
                                Node::Field(_, word) => word.text.as_str(),
                                Node::Name(word) => word.as_str(),
                                _ => "",
                            };
                            self.check_as(side, &ty, property, scope, found);
                        }
                        _ => self.check(side, scope, found),
                    }
                }
            }
            // A bare word may be one that the function knows: that is a question of its sort.
            Node::Call(name, arguments) => {
                found.means(name.span, &name.text, Meaning::Function);
                for argument in arguments {
                    let is_word = matches!(&argument.value.node, Node::Name(name) if self.meaning(name, scope).is_none());
                    if !is_word {
                        self.check(&argument.value, scope, found);
                    }
                }
            }
            Node::Template(pieces) => {
                for piece in pieces {
                    if let TemplatePart::Value(inner) = piece {
                        self.check(inner, scope, found);
                    }
                }
            }
            _ => expr.children(&mut |child| self.check(child, scope, found)),
        }
    }

    fn check_name(&self, name: &SmolStr, span: Span, scope: &Scope, found: &mut Found) {
        if let Some(meaning) = self.meaning(name, scope) {
            found.means(span, name, meaning);
            return;
        }
        let problem = refusals::stands_for_nothing(name, span);
        if name == "index" {
            found.push(problem.help(format!("`index` is the element's number in an array like `{}`", examples::ARRAY)));
            return;
        }
        if scope.writer == Writer::Rule && RESULTS.contains(&name.as_str()) {
            found
                .push(problem.help("what a rule comes to is known where it speaks: in `says`, `otherwise`, `help`, `mend` and `suffices`"));
            return;
        }
        if let Some(problem) = self.not_used(name, span).filter(|_| scope.writer == Writer::Design) {
            return found.push(problem);
        }
        let problem = problem.once();
        let own = scope.own.iter().flat_map(|kind| self.kind(*kind).properties.iter().map(|property| property.name.as_str()));
        let others = scope.bound.iter().map(|(name, _)| name.as_str()).chain(own);
        let near = found.nearest(self, name, |_| scope.writer != Writer::Kind, others);
        let problem = offered(problem, near, span, format!("name a component, or write `let {name} …` with its value"));
        found.push(problem);
    }

    fn check_field(&self, kinds: &[KindId], word: &SmolStr, span: Span, found: &mut Found) {
        if let Some((kind, property)) = kinds.iter().find_map(|kind| Some((*kind, self.kind(*kind).property(word)?))) {
            found.means(span, word, Meaning::Property(kind, property));
            return;
        }
        if BUILT_IN_PROPERTIES.contains(&word.as_str()) || kinds.is_empty() {
            return;
        }
        // A rule that is written once for several kinds is gone over for each of them.
        if found.told.insert(span) {
            found.push(self.no_property(kinds, word, span));
        }
    }

    /// A property that no component of these kinds has.
    pub(super) fn no_property(&self, kinds: &[KindId], word: &str, span: Span) -> Problem {
        let names: Vec<&str> = kinds.iter().map(|kind| self.kind(*kind).name.as_str()).collect();
        let Some(first) = names.first() else {
            return Problem::error(format!("no kind has {}", crate::problem::quoted_with_article(word)), span, "this property");
        };
        let known = kinds.iter().flat_map(|kind| self.kind(*kind).properties.iter().map(|property| property.name.as_str()));
        let problem = Problem::error(format!("{} has no `{word}`", with_article(&names.join(" or "))), span, "this property");
        problem.nearest_or(word, span, known, format!("`wallplate rules {first}` lists its properties"))
    }

    /// Which kinds of component an expression can be, as far as the declarations tell.
    pub(super) fn leads_to(&self, expr: &Expr, scope: &Scope) -> Option<Vec<KindId>> {
        match &expr.node {
            Node::Name(name) => match self.meaning(name, scope)? {
                Meaning::Bound(at) => scope.bound.get(at)?.1.clone(),
                Meaning::This => scope.own.map(|kind| vec![kind]),
                Meaning::Entry(Entry::Component(id)) => Some(vec![self.component(id).kind]),
                Meaning::Property(..) => match self.type_of(expr, scope) {
                    Some(Type::Link { kinds, .. }) => Some(kinds),
                    _ => None,
                },
                Meaning::Kind(kind) => Some(vec![kind]),
                _ => None,
            },
            Node::Field(..) => match self.type_of(expr, scope) {
                Some(Type::Link { kinds, .. }) => Some(kinds),
                _ => None,
            },
            Node::Index(of, _) => match &of.node {
                Node::Name(name) => match self.meaning(name, scope) {
                    Some(Meaning::Entry(Entry::Array(id, ..))) => Some(vec![self.component(id).kind]),
                    _ => self.leads_to(of, scope),
                },
                _ => self.leads_to(of, scope),
            },
            _ => None,
        }
    }

    fn type_of(&self, expr: &Expr, scope: &Scope) -> Option<Type> {
        let of = |kind: KindId, word: &str| {
            let kind = self.kind(kind);
            kind.property(word).and_then(|at| kind.properties.get(at)).map(|property| property.ty.clone())
        };
        match &expr.node {
            Node::Name(name) => match self.meaning(name, scope)? {
                Meaning::Property(kind, at) => self.kind(kind).properties.get(at).map(|property| property.ty.clone()),
                _ => None,
            },
            Node::Field(inner, word) => self.leads_to(inner, scope)?.into_iter().find_map(|kind| of(kind, &word.text)),
            _ => None,
        }
    }
}
