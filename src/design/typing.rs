//! The sort of every expression, before anything is worked out.
//!
//! In: an expression, and what the names around it stand for. Out: its [`Sort`], and a problem at each place
//! where things of different sorts meet, in the words in which a value of the wrong sort is refused. So a slip in a
//! branch that no value takes today is found all the same. What a name stands for is asked in `names.rs` first.

mod calls;
mod operators;
mod papers;
mod places;
mod walk;

use super::formulas::{Formulas, Table};
use super::meaning::{Around, Meaning, Writer, is_due};
use super::{Design, Entry, KindId, Sort, Type, refusals};
use crate::problem::Problem;
use crate::syntax::tree::{Binary, Binder, Expr, Node, Part, TemplatePart, Unary, Word};
use crate::text::Span;
use crate::units::{self, Dim, Unit};
use rustc_hash::FxHashMap;
use smol_str::SmolStr;

/// What the names around an expression stand for.
#[derive(Clone)]
pub(super) struct Surroundings {
    pub(super) writer: Writer,
    pub(super) own: Option<KindId>,
    pub(super) in_array: bool,
    pub(super) bound: Vec<(SmolStr, Sort)>,
}

impl Surroundings {
    pub(super) fn of(writer: Writer, own: Option<KindId>, in_array: bool) -> Surroundings {
        Surroundings { writer, own, in_array, bound: Vec::new() }
    }

    fn is_bound(&self, word: &str) -> bool {
        self.bound.iter().any(|(bound, _)| bound == word)
    }
}

/// One walk over the expressions of a design.
pub(super) struct Typing<'d> {
    design: &'d Design,
    formulas: fn() -> &'static Formulas,
    pub(super) problems: Vec<Problem>,
    /// Sorts of named values and of tables that properties hold; `None` while they are being asked.
    named: FxHashMap<usize, Option<Sort>>,
    tables: FxHashMap<(KindId, usize), Option<Sort>>,
    /// A table was met that stands on itself.
    met_itself: bool,
    /// Expressions whose sort could not be told.
    pub(super) unknown: Vec<Span>,
}

impl<'d> Typing<'d> {
    pub(super) fn new(design: &'d Design, formulas: fn() -> &'static Formulas) -> Typing<'d> {
        Typing {
            design,
            formulas,
            problems: Vec::new(),
            named: FxHashMap::default(),
            tables: FxHashMap::default(),
            met_itself: false,
            unknown: Vec::new(),
        }
    }

    fn describe(&self, sort: &Sort) -> String {
        sort.describe(self.design)
    }

    fn refuse(&mut self, problem: Problem) -> Sort {
        self.problems.push(problem);
        Sort::Unknown
    }

    /// Asks without telling what is wrong: it is told where it stands.
    fn quietly(&mut self, ask: impl FnOnce(&mut Self) -> Sort) -> Sort {
        let (told, unknown) = (self.problems.len(), self.unknown.len());
        let sort = ask(self);
        self.problems.truncate(told);
        self.unknown.truncate(unknown);
        sort
    }

    /// The sort of an expression.
    pub(super) fn sort(&mut self, expr: &Expr, around: &mut Surroundings) -> Sort {
        let sort = stacker::maybe_grow(64 * 1024, 2 * 1024 * 1024, || self.sort_here(expr, around));
        if sort == Sort::Unknown {
            self.unknown.push(expr.span);
        }
        sort
    }

    fn sort_here(&mut self, expr: &Expr, around: &mut Surroundings) -> Sort {
        match &expr.node {
            Node::Quantity(parts) => self.quantity(parts),
            Node::Date(_) => Sort::Date,
            Node::Text(_) => Sort::Text,
            Node::Template(pieces) => {
                for piece in pieces {
                    if let TemplatePart::Value(inner) = piece {
                        self.sort(inner, around);
                    }
                }
                Sort::Text
            }
            Node::Flag(_) => Sort::Flag,
            Node::Name(name) => self.name(name, around),
            Node::Field(of, word) => {
                let of = self.sort(of, around);
                self.field(&of, word)
            }
            Node::Index(of, at) => self.element(of, at, around),
            Node::Call(name, arguments) => self.call(name, arguments, expr.span, around),
            Node::Aggregate { name, value, binders } => self.gather(name, value, binders, around),
            Node::Unary(Unary::Not, of) => self.so(of, around),
            Node::Unary(Unary::Negate, of) => match self.sort(of, around) {
                number @ (Sort::Quantity(_) | Sort::Unknown | Sort::Itself) => number,
                other => {
                    let what = self.describe(&other);
                    self.refuse(refusals::no_negative(what, of.span))
                }
            },
            Node::Binary(Binary::And | Binary::Or, _, left, right) => {
                let (first, second) = (self.so(left, around), self.so(right, around));
                first.common(&second).unwrap_or(Sort::Flag)
            }
            Node::Binary(operator, sign, left, right) => self.operate(*operator, *sign, left, right, around),
            Node::If(condition, a, b) => {
                self.condition(condition, around);
                let (first, second) = (self.sort(a, around), self.sort(b, around));
                first.common(&second).unwrap_or_else(|| {
                    let (first, second) = (self.describe(&first), self.describe(&second));
                    let problem = Problem::error(format!("this is {first} or {second}, as it happens"), b.span, second);
                    self.refuse(problem.also(a.span, first).help("both sides of `else` have to be of one sort"))
                })
            }
            Node::Range(from, to) => Sort::Range(self.ends(&[from, to], around)),
            Node::Size(parts) => Sort::Size(self.ends(&parts.iter().collect::<Vec<_>>(), around)),
            Node::List(items) => {
                let sorts: Vec<Sort> = items.iter().map(|item| self.sort(item, around)).collect();
                let common = sorts.into_iter().map(Some).reduce(|a, b| a?.common(&b?));
                // A list of unlike things is read by its place in the line, one by one.
                common.flatten().unwrap_or(Sort::Unknown).several()
            }
            Node::Tolerance { value, down, up } => {
                let nominal = self.sort(value, around);
                for part in down.iter().map(|down| &**down).chain([&**up]) {
                    self.tolerance(&nominal, part, around);
                }
                nominal
            }
            Node::In(value, unit) => self.shown_in(value, unit, around),
        }
    }

    /// An expression that has to be yes or no.
    pub(super) fn condition(&mut self, expr: &Expr, around: &mut Surroundings) {
        match self.sort(expr, around) {
            Sort::Flag | Sort::Unknown | Sort::Itself => {}
            other => {
                let what = self.describe(&other);
                self.refuse(refusals::no_condition(what, expr.span));
            }
        }
    }

    /// An expression that is so or not so, now or at each moment: of a component its signal.
    fn so(&mut self, expr: &Expr, around: &mut Surroundings) -> Sort {
        let sort = self.sort(expr, around);
        self.truth(sort, expr)
    }

    /// Whether a sort is yes or no, or a condition.
    fn truth(&mut self, sort: Sort, expr: &Expr) -> Sort {
        match sort {
            Sort::Condition => Sort::Condition,
            Sort::Flag | Sort::Unknown | Sort::Itself => Sort::Flag,
            Sort::Component(kinds) => {
                let silent = kinds.iter().map(|kind| self.design.kind(*kind)).find(|kind| kind.signal().is_none());
                if let Some(kind) = silent {
                    let what = if let Node::Name(name) = &expr.node { name } else { &kind.name };
                    self.refuse(refusals::no_signal(what, &kind.name, expr.span));
                }
                Sort::Condition
            }
            other => {
                let what = self.describe(&other);
                self.refuse(refusals::no_condition(what, expr.span));
                Sort::Flag
            }
        }
    }

    /// An expression where something of this type is due: branch by branch, item by item.
    pub(super) fn due(&mut self, expr: &Expr, ty: &Type, what: &str, around: &mut Surroundings) {
        match (ty, &expr.node) {
            (_, Node::If(condition, a, b)) => {
                self.condition(condition, around);
                self.due(a, ty, what, around);
                self.due(b, ty, what, around);
            }
            (Type::List(of), Node::List(items)) => items.iter().for_each(|item| self.due(item, of, what, around)),
            (Type::Link { many: true, .. }, Node::List(items)) => items.iter().for_each(|item| self.due(item, ty, what, around)),
            (Type::Word(words), Node::Name(word)) if is_due(words, word, around.is_bound(word)) => {}
            // What a link in a design leads to has been looked at with its name.
            (Type::Link { .. }, Node::Name(_)) if around.writer == Writer::Design => {}
            _ => {
                let mut sort = self.sort(expr, around);
                if *ty == Type::Condition && matches!(sort, Sort::Component(_)) {
                    sort = self.truth(sort, expr);
                }
                if !sort.fits(ty) {
                    let (due, given) = (self.describe(&Sort::declared(ty)), self.describe(&sort));
                    self.refuse(Problem::error(format!("`{what}` is {due}, and this is {given}"), expr.span, given));
                }
            }
        }
    }

    fn quantity(&mut self, parts: &[Part]) -> Sort {
        let mut dim = Some(Dim::NUMBER);
        for part in parts {
            dim = match &part.unit {
                None => dim,
                Some(unit) => self.unit(unit).map(|unit| unit.dim),
            };
        }
        Sort::Quantity(dim)
    }

    fn unit(&mut self, word: &Word) -> Option<Unit> {
        match Unit::parse(&word.text) {
            Ok(unit) => Some(unit),
            Err(unknown) => {
                self.refuse(Problem::error(unknown.to_string(), word.span, "this unit").help("`wallplate rules units` lists the units"));
                None
            }
        }
    }

    /// The dimension of the parts of a range or a size: that of the first with a unit.
    fn ends(&mut self, parts: &[&Expr], around: &mut Surroundings) -> Option<Dim> {
        let mut dims = Vec::with_capacity(parts.len());
        // The first that says what it measures: a bare number beside it takes its unit.
        let mut first: Option<(Dim, Span)> = None;
        for part in parts {
            match self.sort(part, around) {
                Sort::Quantity(dim) => {
                    dims.push(dim);
                    let Some(dim) = dim.filter(|dim| !dim.is_number()) else { continue };
                    match first {
                        None => first = Some((dim, part.span)),
                        Some((due, at)) if dim != due && !units::as_mass(due, dim) && !units::as_weight(due, dim) => {
                            self.refuse(refusals::unlike_ends((due.describe(), at), (dim.describe(), part.span)));
                        }
                        Some(_) => {}
                    }
                }
                Sort::Unknown | Sort::Itself => dims.push(None),
                other => {
                    let what = self.describe(&other);
                    self.refuse(refusals::no_number(what, part.span));
                    dims.push(None);
                }
            }
        }
        first.map(|(dim, _)| dim).or_else(|| dims.first().copied().flatten())
    }

    fn tolerance(&mut self, nominal: &Sort, part: &Expr, around: &mut Surroundings) {
        let given = self.sort(part, around);
        if let (Sort::Quantity(Some(nominal)), Sort::Quantity(Some(given))) = (nominal, &given)
            && !given.is_number()
            && nominal.difference() != given.difference()
        {
            let (nominal, given) = (nominal.describe(), given.describe());
            self.refuse(Problem::error(format!("the tolerance is {nominal}, and this is {given}"), part.span, given));
        }
    }

    fn shown_in(&mut self, value: &Expr, word: &Word, around: &mut Surroundings) -> Sort {
        let sort = self.sort(value, around);
        let Some(unit) = self.unit(word) else { return sort };
        match sort.item() {
            Sort::Unknown | Sort::Itself | Sort::Quantity(None) => {}
            Sort::Quantity(Some(dim)) if dim == unit.dim || units::as_mass(unit.dim, dim) || units::as_weight(unit.dim, dim) => {}
            other => {
                let (what, should) = (self.describe(&other), unit.dim.describe());
                let problem = Problem::error(format!("{what} cannot be shown in `{}`", word.text), word.span, should);
                return self.refuse(problem.also(value.span, what));
            }
        }
        let shown = Sort::Quantity(Some(unit.dim));
        if matches!(sort, Sort::List(_)) { shown.several() } else { shown }
    }
}
