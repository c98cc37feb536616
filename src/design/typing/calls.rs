//! Calls of formulas and words that gather: arguments matched with what is declared.

use super::super::formulas::{Formula, Gives, Parameter, Takes};
use super::*;
use crate::design::Carries;
use crate::syntax::tree::Argument;

/// The questions that look at the line of a value and not at its worth.
const ABOUT_A_LINE: [(&str, Sort); 2] = [("given", Sort::Flag), ("as_written", Sort::Text)];

impl Typing<'_> {
    pub(super) fn call(&mut self, name: &Word, arguments: &[Argument], span: Span, around: &mut Surroundings) -> Sort {
        if let Some((_, gives)) = ABOUT_A_LINE.iter().find(|(word, _)| *word == name.text) {
            for argument in arguments {
                self.sort(&argument.value, around);
            }
            return gives.clone();
        }
        let formulas = (self.formulas)();
        let Some(formula) = formulas.formula(&name.text) else { return self.no_such_formula(name) };
        let Some(placed) = self.placed(formula, arguments, span) else { return Sort::Unknown };
        let mut sorts: Vec<Sort> = Vec::with_capacity(placed.len());
        let carried =
            formula.parameters.iter().zip(&placed).find(|(parameter, _)| parameter.takes == Takes::Carried).and_then(|(_, given)| {
                match given.first().map(|expr| &expr.node) {
                    Some(Node::Name(word)) => self.design.carries(word),
                    _ => None,
                }
            });
        for (parameter, given) in formula.parameters.iter().zip(placed) {
            let given: Vec<Sort> = given.into_iter().map(|expr| self.argument(parameter, expr, around)).collect();
            if parameter.takes == Takes::Quantities {
                self.of_one_sort(&formula.name, &given, span);
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

    /// Several values, or lists of them, are of one dimension, as far as that can be told.
    fn of_one_sort(&mut self, formula: &str, given: &[Sort], span: Span) {
        let mut dims = given.iter().map(Sort::item).filter_map(|sort| match sort {
            Sort::Quantity(dim) => dim,
            _ => None,
        });
        let Some(first) = dims.next() else { return };
        if let Some(other) = dims.find(|dim| *dim != first) {
            self.refuse(refusals::not_of_one_sort(formula, &first.describe(), &other.describe(), span));
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

    fn no_such_formula(&mut self, name: &Word) -> Sort {
        let problem = Problem::error(format!("there is no function `{}`", name.text), name.span, "this function");
        let formulas = (self.formulas)();
        let known = || formulas.all().map(|formula| formula.name.as_str()).chain(ABOUT_A_LINE.iter().map(|(word, _)| *word));
        self.refuse(match nearest(&name.text, known()) {
            Some(_) => problem.nearest(&name.text, name.span, known()),
            None => problem.help("`wallplate rules functions` lists them"),
        })
    }

    /// Which expressions go to which parameter.
    fn placed<'e>(&mut self, formula: &Formula, arguments: &'e [Argument], span: Span) -> Option<Vec<Vec<&'e Expr>>> {
        let mut placed: Vec<Vec<&Expr>> = formula.parameters.iter().map(|_| Vec::new()).collect();
        let mut next = 0;
        for argument in arguments {
            let named =
                argument.name.as_ref().map(|name| (name, formula.parameters.iter().position(|parameter| parameter.name == name.text)));
            let at = match named {
                None => next,
                Some((_, Some(at))) => at,
                Some((name, None)) => {
                    let known = || formula.parameters.iter().map(|parameter| parameter.name.as_str());
                    let problem = Problem::error(format!("`{}` takes no `{}`", formula.name, name.text), name.span, "this argument")
                        .help(format!("it takes {}", known().collect::<Vec<_>>().join(", ")))
                        .nearest(&name.text, name.span, known());
                    self.refuse(problem);
                    return None;
                }
            };
            let many = formula.parameters.get(at).is_some_and(|parameter| parameter.takes == Takes::Quantities);
            match placed.get_mut(at) {
                Some(place) if place.is_empty() || many => place.push(&argument.value),
                Some(_) => {
                    self.refuse(Problem::error("this argument is given twice", argument.value.span, "the second"));
                    return None;
                }
                None => {
                    let takes = match formula.parameters.len() {
                        1 => "one argument".to_owned(),
                        count => format!("{count} arguments"),
                    };
                    self.refuse(Problem::error(format!("`{}` takes {takes}", formula.name), argument.value.span, "one too many"));
                    return None;
                }
            }
            next = if many { at } else { at + 1 };
        }
        let missing = formula.parameters.iter().zip(&placed).find(|(parameter, place)| parameter.required && place.is_empty());
        if let Some((parameter, _)) = missing {
            self.refuse(Problem::error(format!("`{}` needs `{}`: {}", formula.name, parameter.name, parameter.doc), span, "this call"));
            return None;
        }
        Some(placed)
    }

    fn argument(&mut self, parameter: &Parameter, expr: &Expr, around: &mut Surroundings) -> Sort {
        match (&parameter.takes, &expr.node) {
            (Takes::Kinds, _) => self.kinds(expr),
            (Takes::Carried, Node::Name(word)) if self.design.carries(word).is_some() => Sort::Word,
            (Takes::Words(words), Node::Name(word)) if is_due(words, word, around.is_bound(word)) => Sort::Word,
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
                        let problem = Problem::error(format!("there is no kind `{name}`"), item.span, "this kind");
                        let problem = problem.nearest(name, item.span, known);
                        self.refuse(problem);
                    }
                },
                _ => {
                    self.refuse(Problem::error("this is not the name of a kind", item.span, "here"));
                }
            }
        }
        Sort::Component(kinds).several()
    }

    fn of_sort(&mut self, takes: &Takes, sort: &Sort, parameter: &Parameter, expr: &Expr) {
        let (fits, due) = match takes {
            Takes::Anything | Takes::Kinds => return,
            _ if sort.is_open() => return,
            Takes::Words(words) => {
                // A word of another line may be one of these; one that is written here has to be.
                let wrong = matches!(&expr.node, Node::Name(word) if self.design.entry(word).is_none() && !words.contains(word)
                    && self.design.is_choice_word(word));
                (*sort == Sort::Word && !wrong, format!("one of {}", words.join(", ")))
            }
            Takes::Components => (matches!(sort.item(), Sort::Component(_) | Sort::Unknown | Sort::Itself), "components".to_owned()),
            Takes::Carried => (false, "what a link carries".to_owned()),
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
            let problem = Problem::error(format!("`{}` is {due}, and this is {what}", parameter.name), expr.span, what);
            self.refuse(problem.help(parameter.doc.to_string()));
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
            "all" | "any" => (matches!(sort, Sort::Flag | Sort::Unknown | Sort::Itself), "yes and no", Sort::Flag),
            "sum" | "min" | "max" | "mean" => (matches!(sort, Sort::Quantity(_) | Sort::Unknown | Sort::Itself), "numbers", sort.clone()),
            other => return self.refuse(Problem::error(format!("`{other}` does not gather values"), name.span, "this word")),
        };
        if fits {
            return gives;
        }
        self.refuse(Problem::error(format!("`{}` gathers {gathers}, and this is {what}", name.text), value.span, what))
    }
}

/// Numbers of one dimension, one or several, as a property is declared.
fn numbers(sort: &Sort) -> Option<Type> {
    match sort {
        Sort::Quantity(Some(dim)) => Some(Type::Quantity(*dim)),
        Sort::List(of) => numbers(of).map(|of| Type::List(Box::new(of))),
        _ => None,
    }
}
