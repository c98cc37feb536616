//! Calls of formulas and words that gather: arguments matched with what is declared.

use super::super::call::{ABOUT_A_LINE, placed};
use super::super::formulas::{Gives, Parameter, Takes};
use super::*;
use crate::design::Carries;
use crate::syntax::tree::Argument;

impl Typing<'_> {
    pub(super) fn call(&mut self, name: &Word, arguments: &[Argument], span: Span, around: &mut Surroundings) -> Sort {
        if ABOUT_A_LINE.contains(&name.text.as_str()) {
            for argument in arguments {
                self.sort(&argument.value, around);
            }
            return if name.text == "given" { Sort::Flag } else { Sort::Text };
        }
        let formulas = (self.formulas)();
        let Some(formula) = formulas.formula(&name.text) else {
            let known = formulas.all().map(|formula| formula.name.as_str()).chain(ABOUT_A_LINE);
            return self.refuse(refusals::no_function(name, known));
        };
        let placed = match placed(&formula.name, &formula.parameters, arguments, span) {
            Ok(placed) => placed,
            Err(slip) => return self.refuse(slip),
        };
        let mut sorts: Vec<Sort> = Vec::with_capacity(placed.len());
        let carried =
            formula.parameters.iter().zip(&placed).find(|(parameter, _)| parameter.takes == Takes::Carried).and_then(|(_, given)| {
                match given.all().first().map(|expr| &expr.node) {
                    Some(Node::Name(word)) => self.design.carries(word),
                    _ => None,
                }
            });
        for (parameter, given) in formula.parameters.iter().zip(placed) {
            let given: Vec<Sort> = given.all().iter().map(|expr| self.argument(parameter, expr, around)).collect();
            if parameter.takes == Takes::Quantities
                && let Some(slip) = not_of_one_sort(&formula.name, &given, span)
            {
                return self.refuse(slip);
            }
            sorts.push(given.into_iter().next().unwrap_or(Sort::Unknown));
        }
        let of = |at: usize| sorts.get(at).cloned().unwrap_or(Sort::Unknown);
        let is_many = |at: usize| formula.parameters.get(at).is_some_and(|parameter| parameter.takes == Takes::Quantities);
        match formula.gives {
            Gives::Sort(ref sort) => sort.clone(),
            Gives::As(at) if is_many(at) => of(at).item(),
            Gives::As(at) => of(at),
            Gives::ItemOf(at) => of(at).item(),
            Gives::RootOf(at) => match of(at) {
                Sort::Quantity(Some(dim)) => Sort::Quantity(dim.root(2)),
                other => other,
            },
            Gives::LinksTo(at) => Sort::Component(self.linking(&of(at), carried)).several(),
        }
    }

    /// The kinds that have a link to one of these which carries that.
    fn linking(&self, to: &Sort, carried: Option<Carries>) -> Vec<KindId> {
        let Sort::Component(to) = to else { return Vec::new() };
        let leads = |ty: &Type| match ty {
            Type::Link { kinds, .. } => to.is_empty() || kinds.iter().any(|kind| to.contains(kind)),
            _ => false,
        };
        let all = (0_u32..).zip(&self.design.kinds);
        all.filter(|(_, kind)| {
            kind.properties.iter().any(|property| carried.is_none_or(|carried| property.carries.holds(carried)) && leads(&property.ty))
        })
        .map(|(at, _)| KindId(at))
        .collect()
    }

    fn argument(&mut self, parameter: &Parameter, expr: &Expr, around: &mut Surroundings) -> Sort {
        match (&parameter.takes, &expr.node) {
            (Takes::Kinds, _) => self.kinds(expr),
            (Takes::Carried, Node::Name(word)) if self.design.carries(word).is_some() => Sort::Word,
            (Takes::Words(words), Node::Name(word)) if is_due(words, word, around.is_bound(word)) => Sort::Word,
            (takes, Node::Name(word)) if self.meaning(word, around).is_none() => {
                let slip = match takes {
                    Takes::Words(words) => refusals::no_such_word(&parameter.name, words, word, expr.span),
                    Takes::Carried => self.design.not_carried(word, expr.span),
                    _ => self.stands_for_nothing(word, expr.span, around),
                };
                self.refuse(slip)
            }
            (Takes::Words(_), Node::If(condition, a, b)) => {
                self.condition(condition, around);
                self.argument(parameter, a, around);
                self.argument(parameter, b, around)
            }
            (Takes::Sort(due), _) if let Some(ty) = numbers(due) => {
                self.due(expr, &ty, &parameter.name, around);
                due.clone()
            }
            (takes, _) => {
                let sort = self.sort(expr, around);
                self.of_sort(takes, &sort, parameter, expr);
                sort
            }
        }
    }

    /// The names of kinds: components of these.
    fn kinds(&mut self, expr: &Expr) -> Sort {
        let items = match &expr.node {
            Node::List(items) => items.as_slice(),
            _ => std::slice::from_ref(expr),
        };
        let mut kinds = Vec::with_capacity(items.len());
        for item in items {
            match &item.node {
                Node::Name(name) => match self.design.kind_named(name) {
                    Some(kind) => kinds.push(kind),
                    None => {
                        let known = self.design.kinds.iter().map(|kind| kind.name.as_str());
                        self.refuse(refusals::no_kind(name, item.span, known));
                    }
                },
                _ => {
                    self.refuse(refusals::no_kinds_name(item.span));
                }
            }
        }
        Sort::Component(kinds).several()
    }

    fn of_sort(&mut self, takes: &Takes, sort: &Sort, parameter: &Parameter, expr: &Expr) {
        let (fits, due) = match takes {
            Takes::Anything | Takes::Kinds => return,
            _ if sort.is_open() => return,
            Takes::Words(words) => return self.of_words(words, sort, parameter, expr),
            Takes::Components => (matches!(sort.item(), Sort::Component(_) | Sort::Unknown | Sort::Itself), "components".to_owned()),
            Takes::Carried => {
                self.refuse(refusals::nothing_carried(expr.span));
                return;
            }
            Takes::Quantities => (matches!(sort.item(), Sort::Quantity(_) | Sort::Unknown | Sort::Itself), "numbers".to_owned()),
            // Several solids together are one.
            Takes::Sort(Sort::Solid) => (Sort::Solid.common(&sort.innermost()).is_some(), self.describe(&Sort::Solid)),
            Takes::Sort(due) => (due.common(sort).is_some(), self.describe(due)),
        };
        if !fits {
            let what = match &expr.node {
                Node::Name(word) if *sort == Sort::Word => format!("the word `{word}`"),
                _ => self.describe(sort),
            };
            self.refuse(refusals::no_such_argument(&parameter.name, &parameter.doc, &due, what, expr));
        }
    }

    /// One of these words. A word of another line may be one of them; one that is written here has to be.
    fn of_words(&mut self, words: &[SmolStr], sort: &Sort, parameter: &Parameter, expr: &Expr) {
        match (&expr.node, sort) {
            (Node::Name(word), Sort::Word)
                if self.design.entry(word).is_none() && !words.contains(word) && self.design.is_choice_word(word) =>
            {
                self.refuse(refusals::no_such_word(&parameter.name, words, word, expr.span));
            }
            (_, Sort::Word) => {}
            _ => {
                let what = self.describe(sort);
                self.refuse(refusals::no_word(&parameter.name, words, what, *sort == Sort::Text, expr.span));
            }
        }
    }

    pub(super) fn gather(&mut self, name: &Word, value: &Expr, binders: &[Binder], around: &mut Surroundings) -> Sort {
        let before = around.bound.len();
        binders.iter().for_each(|binder| self.bind(binder, around));
        let sort = self.sort(value, around);
        around.bound.truncate(before);
        let what = self.describe(&sort);
        let (fits, gathers, gives) = match name.text.as_str() {
            "count" => (true, "", Sort::NUMBER),
            "list" => (true, "", sort.clone().several()),
            "first" => (true, "", sort.clone()),
            "all" | "any" if matches!(sort, Sort::Condition | Sort::Component(_)) => (true, "", self.truth(sort.clone(), value)),
            "all" | "any" => (matches!(sort, Sort::Flag | Sort::Unknown | Sort::Itself), "yes and no", Sort::Flag),
            "sum" | "min" | "max" | "mean" => (matches!(sort, Sort::Quantity(_) | Sort::Unknown | Sort::Itself), "numbers", sort.clone()),
            _ => return self.refuse(refusals::no_gatherer(name)),
        };
        if fits {
            return gives;
        }
        self.refuse(refusals::not_gathered(name, gathers, what, value.span))
    }
}

/// Several values, or lists of them, are of one dimension, as far as that can be told.
fn not_of_one_sort(formula: &str, given: &[Sort], span: Span) -> Option<Problem> {
    let mut dims = given.iter().map(Sort::item).filter_map(|sort| match sort {
        Sort::Quantity(dim) => dim,
        _ => None,
    });
    let first = dims.next()?;
    let other = dims.find(|dim| *dim != first)?;
    Some(refusals::not_of_one_sort(formula, &first.describe(), &other.describe(), span))
}

/// Numbers of one dimension, one or several, as a property is declared.
fn numbers(sort: &Sort) -> Option<Type> {
    match sort {
        Sort::Quantity(Some(dim)) => Some(Type::Quantity(*dim)),
        Sort::List(of) => numbers(of).map(|of| Type::List(Box::new(of))),
        _ => None,
    }
}
