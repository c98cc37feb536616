//! Calling a function: arguments matched with parameters, types checked, faults put in their place.

mod arguments;
#[cfg(debug_assertions)]
mod declared;
mod remembered;

pub use arguments::Arguments;
pub(super) use remembered::Remembered;

use super::function::{Body, Function, Parameter, Refusal, Takes};
use crate::calc::FormulaError;
use crate::design::{Carries, KindId, Type, is_due, placed, refusals};
use crate::problem::Problem;
use crate::syntax::tree::{Argument, Expr, Node, Word};
use crate::text::Span;
use crate::units;
use crate::values::Outcome;
use crate::values::evaluator::{Evaluator, Scope};
use crate::values::lack::Lack;
use crate::values::value::Value;
use arguments::Given;

impl Evaluator {
    pub(in crate::values) fn call(&self, name: &Word, arguments: &[Argument], span: Span, scope: &mut Scope) -> Outcome {
        if name.text == "given" {
            return self.given(name, arguments, scope);
        }
        if name.text == "as_written" {
            return self.as_written(name, arguments, scope);
        }
        let Some(function) = self.functions.find(&name.text) else {
            return Err(self.fault(refusals::no_function(name, self.functions.names())));
        };
        let placed = placed(function.name, function.parameters, arguments, span).map_err(|slip| self.fault(slip))?;
        let mut values: Vec<Option<Given>> = Vec::with_capacity(placed.len());
        let mut lack: Option<Lack> = None;
        for (parameter, exprs) in function.parameters.iter().zip(placed) {
            let given = match exprs.all() {
                [] => Ok(None),
                [expr] if parameter.takes != Takes::Quantities => self.take(parameter, expr, scope).map(Some),
                many => self.take_many(many, scope).map(Some),
            };
            match given {
                Ok(value) => values.push(value),
                Err(more) => lack = Some(lack.map_or(more.clone(), |lack| lack.with(more))),
            }
        }
        if let Some(lack) = lack {
            return Err(lack);
        }
        if only_of_nothing(function, &mut values) {
            return Ok(Value::Zero);
        }
        let values = Arguments(values);
        let mut question = None;
        let result = match function.body {
            Body::Formula(body) if function.remembered => {
                let (asked, known) = self.remembered.borrow_mut().answer(function, &values);
                if let Some(known) = known {
                    return Ok(known);
                }
                question = Some(asked);
                body(&values).map_err(Refusal::Formula)
            }
            Body::Formula(body) => body(&values).map_err(Refusal::Formula),
            Body::Design(body) => body(self, &values),
        };
        #[cfg(debug_assertions)]
        if let (Ok(answer), Some(formulas)) = (&result, self.design.formulas) {
            debug_assert!(declared::is_declared(formulas(), function.name, answer), "{} gives {answer:?}", function.name);
        }
        match result {
            Ok(value) if is_finite(&value) => {
                if let Some(question) = question {
                    self.remembered.borrow_mut().keep(question, values, &value);
                }
                Ok(value)
            }
            Ok(_) => Err(self.fault(Problem::error(format!("`{}` has no finite answer for these numbers", name.text), span, "here"))),
            Err(Refusal::Lack(lack)) => Err(lack),
            Err(Refusal::Formula(error)) => Err(self.fault(formula_problem(&name.text, &error, span))),
        }
    }

    /// Whether a value can be worked out: the one question about a missing line that has an answer.
    fn given(&self, name: &Word, arguments: &[Argument], scope: &mut Scope) -> Outcome {
        match arguments {
            [argument] => match self.evaluate(&argument.value, scope) {
                Ok(_) => Ok(Value::Flag(true)),
                Err(Lack::Missing(_)) => Ok(Value::Flag(false)),
                Err(Lack::Faulty) => Err(Lack::Faulty),
            },
            _ => Err(self.fault(Problem::error("`given` asks about one value", name.span, "here").help("write `given(x.y)`"))),
        }
    }

    /// A value with the tolerance of its line, as one would measure it.
    fn as_written(&self, name: &Word, arguments: &[Argument], scope: &mut Scope) -> Outcome {
        let [argument] = arguments else {
            return Err(self.fault(Problem::error("`as_written` takes one value", name.span, "here").help("write `as_written(x.y)`")));
        };
        let (outcome, reads) = self.reading(|| self.evaluate(&argument.value, scope));
        reads.iter().for_each(|node| self.note_read(*node));
        let value = outcome?;
        // On the tape it reads in feet and inches, however it was worked out.
        let mut text = match &value {
            Value::Quantity(quantity) if self.system == units::System::Us && quantity.dim == units::Dim::LENGTH => {
                self.show_value(&Value::quantity(quantity.si, quantity.dim))
            }
            other => self.show_value(other),
        };
        if let (Value::Quantity(quantity), Some(tolerance)) = (&value, self.tolerance_of(&argument.value, &reads)) {
            let show = |si| self.show_value(&Value::quantity(si, quantity.dim.difference()));
            text.push_str(&if units::same(tolerance.down, tolerance.up) {
                format!(" ± {}", show(tolerance.up))
            } else {
                format!(" + {} - {}", show(tolerance.up), show(tolerance.down))
            });
        }
        Ok(Value::Text(text.into()))
    }

    fn take(&self, parameter: &Parameter, expr: &Expr, scope: &mut Scope) -> Result<Given, Lack> {
        match parameter.takes {
            Takes::Kinds => self.kinds_of(expr).map(Given::Kinds),
            Takes::Carrying => self.carrying_of(expr).map(Given::Carrying),
            Takes::Word(words) => match &expr.node {
                Node::Name(word) if is_due(words, word, scope.is_bound(word)) => Ok(Given::Value(Value::Word(word.clone()))),
                Node::Name(word) if self.meaning(word, scope).is_none() => Err(self.wrong_word(words, word, parameter.name, expr)),
                _ => match self.evaluate(expr, scope)? {
                    Value::Word(word) if words.contains(&word.as_str()) => Ok(Given::Value(Value::Word(word))),
                    other => {
                        let is_text = matches!(other, Value::Text(_));
                        Err(self.fault(refusals::no_word(parameter.name, words, other.describe(), is_text, expr.span)))
                    }
                },
            },
            Takes::Quantity(dim) => self.evaluate_as(expr, &Type::Quantity(dim), parameter.name, scope).map(Given::Value),
            Takes::List(dim) => self.evaluate_as(expr, &Type::List(Box::new(Type::Quantity(dim))), parameter.name, scope).map(Given::Value),
            Takes::Flag => self.evaluate_as(expr, &Type::Flag, parameter.name, scope).map(Given::Value),
            Takes::Text => self.evaluate_as(expr, &Type::Text, parameter.name, scope).map(Given::Value),
            Takes::Date => self.evaluate_as(expr, &Type::Date, parameter.name, scope).map(Given::Value),
            Takes::Anything | Takes::Quantities => self.evaluate(expr, scope).map(Given::Value),
            Takes::AnyQuantity => {
                self.of_sort(expr, scope, parameter, "a number", |value| matches!(value, Value::Quantity(_) | Value::Zero))
            }
            Takes::Component => self.of_sort(expr, scope, parameter, "a component", |value| matches!(value, Value::Component(_))),
            Takes::Components => {
                self.of_sort(expr, scope, parameter, "components", |value| matches!(value, Value::Component(_) | Value::List(_)))
            }
            Takes::Record => self.of_sort(expr, scope, parameter, "a table", |value| matches!(value, Value::Record(_))),
        }
    }

    fn of_sort(
        &self,
        expr: &Expr,
        scope: &mut Scope,
        parameter: &Parameter,
        sort: &str,
        fits: impl Fn(&Value) -> bool,
    ) -> Result<Given, Lack> {
        let value = self.evaluate(expr, scope)?;
        if fits(&value) {
            return Ok(Given::Value(value));
        }
        Err(self.fault(refusals::no_such_argument(parameter.name, parameter.doc, sort, value.describe(), expr)))
    }

    /// Several arguments, or lists of them, as one list.
    fn take_many(&self, exprs: &[&Expr], scope: &mut Scope) -> Result<Given, Lack> {
        let mut all = Vec::new();
        let mut lack: Option<Lack> = None;
        for expr in exprs {
            match self.evaluate(expr, scope) {
                Ok(Value::List(items)) => all.extend(items.iter().cloned()),
                Ok(value) => all.push(value),
                Err(more) => lack = Some(lack.map_or(more.clone(), |lack| lack.with(more))),
            }
        }
        match lack {
            Some(lack) => Err(lack),
            None => Ok(Given::Value(Value::List(all.into()))),
        }
    }

    fn kinds_of(&self, expr: &Expr) -> Result<Vec<KindId>, Lack> {
        let items = match &expr.node {
            Node::List(items) => items.iter().collect(),
            _ => vec![expr],
        };
        items
            .into_iter()
            .map(|item| match &item.node {
                Node::Name(name) => self.design.kind_named(name).ok_or_else(|| {
                    let known = self.design.kinds.iter().map(|kind| kind.name.as_str());
                    self.fault(refusals::no_kind(name, item.span, known))
                }),
                _ => Err(self.fault(refusals::no_kinds_name(item.span))),
            })
            .collect()
    }

    fn carrying_of(&self, expr: &Expr) -> Result<Carries, Lack> {
        match &expr.node {
            Node::Name(word) => self.design.carries(word).ok_or_else(|| self.fault(self.design.not_carried(word, expr.span))),
            _ => Err(self.fault(refusals::nothing_carried(expr.span))),
        }
    }
}

fn formula_problem(name: &str, error: &FormulaError, span: Span) -> Problem {
    let told = match error {
        // The text is understood: what is built so cannot stand. What rests on it stays open, and a rule says what fails.
        FormulaError::Unstable { .. } if span.file.is_built_in() => Problem::warning,
        _ => Problem::error,
    };
    told(format!("`{name}` has no answer: {error}"), span, "worked out here")
}

fn is_finite(value: &Value) -> bool {
    match value {
        Value::Quantity(quantity) => quantity.si.is_finite(),
        Value::Range(ends) => ends.iter().all(|end| end.si.is_finite()),
        Value::Size(parts) => parts.iter().all(|part| part.si.is_finite()),
        Value::List(items) => items.iter().all(is_finite),
        Value::Record(record) => record.fields.iter().all(|(_, value)| is_finite(value)),
        _ => true,
    }
}

/// The sum of nothing is zero of whatever the quantities beside it are; whether it has none beside it, and gives what is of its own
/// sort: of nothing again.
fn only_of_nothing(function: &Function, values: &mut [Option<Given>]) -> bool {
    let is_nothing = |given: &Option<Given>| matches!(given, Some(Given::Value(Value::Zero)));
    let quantities =
        || function.parameters.iter().enumerate().filter(|(_, parameter)| parameter.takes == Takes::AnyQuantity).map(|(at, _)| at);
    if !quantities().any(|at| values.get(at).is_some_and(is_nothing)) {
        return false;
    }
    let beside = quantities().find_map(|at| match values.get(at) {
        Some(Some(Given::Value(Value::Quantity(quantity)))) if !quantity.dim.is_point() => Some(quantity.dim),
        _ => None,
    });
    let Some(dim) = beside else { return function.gives.starts_with("the sort of") };
    for at in quantities() {
        if let Some(given) = values.get_mut(at).filter(|given| is_nothing(given)) {
            *given = Some(Given::Value(Value::quantity(0.0, dim)));
        }
    }
    false
}
