//! All expressions of a design, each where it stands.

use super::super::papers::Paper;
use super::super::rules::Rule;
use super::*;
use rustc_hash::FxHashSet;
use std::sync::Arc;

impl Design {
    /// Asks for the sort of every expression of the design itself. `before` is the design before an edit, if there was
    /// one: what is still there is not looked at again while every name stands for what it did and is of the sort it was.
    pub(in crate::design) fn check_sorts(&mut self, before: Option<&Design>) {
        let Some(formulas) = self.formulas else { return };
        let mut typing = Typing::new(self, formulas);
        let sorts_of_named: Vec<Sort> = (0..self.named.len()).map(|at| typing.named(at)).collect();
        let same = |before: &&Design| before.names == self.names && before.same_vocabulary(self) && before.sorts_of_named == sorts_of_named;
        let known = before.filter(same).map(|before| &before.well_typed);
        let mut well_typed: FxHashSet<usize> = FxHashSet::default();
        let mut seen: FxHashSet<usize> = FxHashSet::default();
        // An expression with a name that stands for nothing has been told already.
        let mut each = |typing: &mut Typing<'_>, value: &Arc<Expr>, ask: &dyn Fn(&mut Typing<'_>)| {
            let address = Arc::as_ptr(value) as usize;
            if !self.clean.contains(&address) || !seen.insert(address) {
                return;
            }
            let told = typing.problems.len();
            if !known.is_some_and(|known| known.contains(&address)) {
                ask(typing);
            }
            if typing.problems.len() == told {
                well_typed.insert(address);
            }
        };
        for named in &self.named {
            each(&mut typing, &named.value, &|typing| {
                typing.sort(&named.value, &mut Surroundings::of(Writer::Design, None, false));
            });
        }
        for component in self.components.iter().filter(|component| !component.span.file.is_built_in()) {
            let kind = self.kind(component.kind);
            for (property, written) in component.lines() {
                let Some(declared) = kind.properties.get(property) else { continue };
                each(&mut typing, &written.value, &|typing| {
                    let mut around = Surroundings::of(Writer::Design, Some(component.kind), component.element.is_some());
                    typing.due(&written.value, &declared.ty, &declared.name, &mut around);
                });
            }
        }
        // Whichever of the alternatives is chosen.
        for (id, property, written) in &self.alternatives {
            let component = self.component(*id);
            let Some(declared) = self.kind(component.kind).properties.get(*property) else { continue };
            each(&mut typing, &written.value, &|typing| {
                let mut around = Surroundings::of(Writer::Design, Some(component.kind), component.element.is_some());
                typing.due(&written.value, &declared.ty, &declared.name, &mut around);
            });
        }
        for (_, line) in &self.named_alternatives {
            each(&mut typing, &line.value, &|typing| {
                typing.sort(&line.value, &mut Surroundings::of(Writer::Design, None, false));
            });
        }
        typing.declared(self.library.0, self.library.1);
        (self.mistyped, self.well_typed, self.sorts_of_named) = (typing.problems, well_typed, sorts_of_named);
    }

    /// What is wrong in the kinds and rules of the vocabulary itself, their lines, names and sorts, and the expressions in it
    /// whose sort cannot be told.
    #[must_use]
    pub fn wrong_in_vocabulary(&self) -> (Vec<Problem>, Vec<Span>) {
        let Some(formulas) = self.formulas else { return Default::default() };
        let mut typing = Typing::new(self, formulas);
        typing.problems.extend(self.problems.iter().cloned().chain(self.names_in_vocabulary()));
        typing.declared(0, 0);
        (typing.problems, typing.unknown)
    }

    /// As [`Design::wrong_in_vocabulary`] for papers of the library: their words, their names and their sorts.
    #[must_use]
    pub fn paper_sorts(&self, papers: &[Paper]) -> (Vec<Problem>, Vec<Span>) {
        let (Some(formulas), Some(forms)) = (self.formulas, self.forms) else { return Default::default() };
        let mut typing = Typing::new(self, formulas);
        typing.problems.extend(papers.iter().flat_map(|paper| self.unlike_its_form(paper, forms())));
        typing.problems.extend(self.names_on_paper(papers));
        typing.papers(papers);
        (typing.problems, typing.unknown)
    }
}

impl Typing<'_> {
    /// The kinds and rules from these numbers on.
    fn declared(&mut self, first_kind: usize, first_rule: usize) {
        let design = self.design;
        for (at, kind) in (0_u32..).zip(&design.kinds).skip(first_kind) {
            for condition in kind.belongings.iter().filter_map(|belonging| belonging.each_has.as_ref()) {
                self.condition(condition, &mut Surroundings::of(Writer::Kind, Some(KindId(at)), false));
            }
            for property in &kind.properties {
                let mut around = Surroundings::of(Writer::Kind, Some(KindId(at)), false);
                if let Some(default) = &property.default {
                    self.due(default, &property.ty, &property.name, &mut around);
                }
                for limit in &property.limits {
                    let part = match &property.ty {
                        Type::Range(dim) | Type::Size(dim) => Type::Quantity(*dim),
                        Type::List(of) => of.as_ref().clone(),
                        ty => ty.clone(),
                    };
                    self.due(&limit.value, &part, &property.name, &mut around);
                }
                for (usual, dim) in property.usual.iter().filter_map(|usual| Some((usual, property.ty.dim()?))) {
                    self.due(&usual.range, &Type::Range(dim), &property.name, &mut around);
                }
            }
        }
        design.rules.iter().skip(first_rule).for_each(|rule| self.rule(rule));
        self.papers(&design.papers);
    }

    /// These papers, each by its form.
    fn papers(&mut self, papers: &[Paper]) {
        // The forms are read only where there is something to hold against them.
        let Some(forms) = self.design.forms.filter(|_| !papers.is_empty()) else { return };
        for paper in papers {
            if let Some(form) = forms().form(paper.sort.word()) {
                self.paper(paper, form);
            }
        }
    }

    fn rule(&mut self, rule: &Rule) {
        let mut around = Surroundings::of(Writer::Rule, None, false);
        rule.each.iter().for_each(|binder| self.bind(binder, &mut around));
        let (early, late): (Vec<_>, Vec<_>) = rule.lets.iter().partition(|line| !line.is_of_results());
        for line in early {
            self.sort(&line.value, &mut around);
        }
        for condition in [&rule.when, &rule.require, &rule.tight_if].into_iter().flatten() {
            self.condition(condition, &mut around);
        }
        let demand = rule.demand.as_ref().map(|demand| self.sort(demand, &mut around));
        let capacity = rule.capacity.as_ref().map(|capacity| self.sort(capacity, &mut around));
        if let (Some(demand), Some(capacity), Some(at), Some(beside)) = (&demand, &capacity, &rule.demand, &rule.capacity)
            && demand
                .common(capacity)
                .is_none_or(|common| !matches!(common, Sort::Quantity(_) | Sort::Unknown | Sort::Itself) || differ(demand, capacity))
        {
            let (demand, capacity) = (self.describe(demand), self.describe(capacity));
            self.refuse(refusals::unlike_demand((demand, at.span), (capacity, beside.span)));
        }
        if let Some(reserve) = &rule.reserve {
            self.due(reserve, &Type::Quantity(Dim::NUMBER), "reserve", &mut around);
        }
        if let Some(lines) = &rule.points_to {
            self.sort(lines, &mut around);
        }
        let results = [("demand", demand), ("capacity", capacity), ("ratio", Some(Sort::NUMBER)), ("reserve", Some(Sort::NUMBER))];
        around.bound.extend(results.map(|(name, sort)| (SmolStr::new_static(name), sort.unwrap_or(Sort::Unknown))));
        for line in late {
            self.sort(&line.value, &mut around);
        }
        for text in [&rule.says, &rule.otherwise, &rule.help].into_iter().flatten() {
            self.due(text, &Type::Text, "the text", &mut around);
        }
        for mend in [&rule.mend, &rule.suffices].into_iter().flatten() {
            self.mend(mend, &mut around);
        }
    }

    /// `s.station to 6.15 m`: a line, and a value that fits it.
    fn mend(&mut self, mend: &Expr, around: &mut Surroundings) {
        match &mend.node {
            Node::List(items) => items.iter().for_each(|item| self.mend(item, around)),
            Node::Range(line, value) => {
                let (sort, given) = (self.sort(line, around), self.sort(value, around));
                if sort.common(&given).is_none() || differ(&sort, &given) {
                    let (due, what) = (self.describe(&sort), self.describe(&given));
                    self.refuse(Problem::error(format!("this line is {due}, and its new value {what}"), value.span, what));
                }
            }
            _ => {
                self.sort(mend, around);
            }
        }
    }
}

/// Whether both have a dimension, and not the same.
fn differ(a: &Sort, b: &Sort) -> bool {
    matches!((a, b), (Sort::Quantity(Some(a)), Sort::Quantity(Some(b))) if a != b)
}
