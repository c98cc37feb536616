//! Lists and dates.

use super::arguments::Arguments;
use super::{Body, Function, Refusal, Takes, needs};
use crate::calc::FormulaError;
use crate::units::Dim;
use crate::values::evaluator::Evaluator;
use crate::values::value::{Quantity, Value};
use rustc_hash::FxHashMap;
use std::rc::Rc;

const SOURCE: &str = "arithmetic";

#[expect(clippy::cast_precision_loss, reason = "lists are far shorter than 2^52")]
fn length(arguments: &Arguments) -> Result<Value, FormulaError> {
    Ok(Value::number(arguments.values(0).len() as f64))
}

fn item(arguments: &Arguments) -> Result<Value, FormulaError> {
    let (items, number) = (arguments.values(0), arguments.si(1));
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a fraction or a number out of the list finds nothing")]
    let at = (number.max(0.0) as usize).checked_sub(1);
    at.and_then(|at| items.get(at)).cloned().ok_or_else(|| FormulaError::domain("the number", format!("from 1 to {}", items.len())))
}

/// The value that stands in `values` at the place at which `component` stands in `components`.
fn of(evaluator: &Evaluator, arguments: &Arguments) -> Result<Value, Refusal> {
    let Some(wanted) = arguments.component(1) else { return Err(FormulaError::domain("the component", "one").into()) };
    let at = match arguments.value(2) {
        // The index is kept by the list's address: all elements of one list ask in a row.
        Some(Value::List(items)) => {
            let address = items.as_ptr() as usize;
            let known = evaluator.places.borrow().get(&address).map(Rc::clone);
            let places = known.unwrap_or_else(|| {
                let mut places = FxHashMap::default();
                for (at, item) in items.iter().enumerate() {
                    if let Value::Component(id) = item {
                        places.entry(*id).or_insert(at);
                    }
                }
                let places = Rc::new(places);
                if evaluator.scenario.borrow().is_none() {
                    evaluator.places.borrow_mut().insert(address, Rc::clone(&places));
                }
                places
            });
            places.get(&wanted).copied()
        }
        Some(Value::Component(only)) if *only == wanted => Some(0),
        _ => None,
    };
    let found = match (at, arguments.value(0)) {
        (Some(at), Some(Value::List(items))) => items.get(at).cloned(),
        (Some(0), Some(value)) => Some(value.clone()),
        _ => None,
    };
    found.ok_or_else(|| FormulaError::domain(format!("`{}`", evaluator.design().component(wanted).name), "among the components").into())
}

/// The number of a component in a list, from 1.
#[expect(clippy::cast_precision_loss, reason = "lists are far shorter than 2^52")]
fn place_of(evaluator: &Evaluator, arguments: &Arguments) -> Result<Value, Refusal> {
    let Some(wanted) = arguments.component(0) else { return Err(FormulaError::domain("the component", "one").into()) };
    let place = arguments.components(1).iter().position(|id| *id == wanted);
    place
        .map(|at| Value::number(at as f64 + 1.0))
        .ok_or_else(|| FormulaError::domain(format!("`{}`", evaluator.design().component(wanted).name), "among the components").into())
}

fn days(arguments: &Arguments) -> Result<Value, FormulaError> {
    let (Some(from), Some(to)) = (arguments.date(0), arguments.date(1)) else { return Err(FormulaError::domain("both", "dates")) };
    #[expect(clippy::cast_precision_loss, reason = "days of the calendar are far fewer than 2^52")]
    let days = (to.number() - from.number()) as f64;
    let unit = crate::units::Unit::parse("day").ok().map(std::sync::Arc::new);
    Ok(Value::Quantity(Quantity { si: days * 86_400.0, dim: Dim::TIME, unit }))
}

fn stretches(arguments: &Arguments) -> Result<Value, FormulaError> {
    let (from, to) = (arguments.si(0), arguments.si(1));
    let mut at: Vec<f64> = arguments.list(2).into_iter().filter(|at| *at > from && *at < to).collect();
    at.sort_by(f64::total_cmp);
    let ends: Vec<f64> = [from].into_iter().chain(at).chain([to]).collect();
    let unit = arguments.quantity(1).unit;
    let piece = |pair: &[f64]| pair.first().zip(pair.last()).map_or(0.0, |(from, to)| to - from);
    let quantity = |si| Value::Quantity(Quantity { si, dim: Dim::LENGTH, unit: unit.clone() });
    Ok(Value::List(ends.windows(2).map(|pair| quantity(piece(pair))).collect()))
}

/// The table of this subject.
pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "length_of",
        doc: "how many a list has",
        parameters: &[needs("list", Takes::Anything, "the list")],
        gives: "number",
        source: SOURCE,
        body: Body::Formula(length),
    },
    Function {
        name: "item",
        doc: "one of a list by its number, from 1",
        parameters: &[needs("list", Takes::Anything, "the list"), needs("number", Takes::Quantity(Dim::NUMBER), "which, from 1")],
        gives: "what the list holds",
        source: SOURCE,
        body: Body::Formula(item),
    },
    Function {
        name: "of",
        doc: "the value that belongs to a component, from a list of values in the order of a list of components",
        parameters: &[
            needs("values", Takes::Anything, "the values"),
            needs("component", Takes::Component, "whose"),
            needs("components", Takes::Components, "the components in the same order"),
        ],
        gives: "what the list holds",
        source: SOURCE,
        body: Body::Design(of),
    },
    Function {
        name: "place_of",
        doc: "the number of a component in a list, from 1",
        parameters: &[needs("component", Takes::Component, "which"), needs("components", Takes::Components, "the list")],
        gives: "number",
        source: SOURCE,
        body: Body::Design(place_of),
    },
    Function {
        name: "stretches",
        doc: "the lengths into which a run falls where it is cut",
        parameters: &[
            needs("first", Takes::Quantity(Dim::LENGTH), "where it begins"),
            needs("last", Takes::Quantity(Dim::LENGTH), "where it ends"),
            needs("at", Takes::List(Dim::LENGTH), "where it is cut"),
        ],
        gives: "list of length",
        source: SOURCE,
        body: Body::Formula(stretches),
    },
    Function {
        name: "days_between",
        doc: "the days from one date to another; negative if it is earlier",
        parameters: &[needs("from", Takes::Date, "the first day"), needs("until", Takes::Date, "the second day")],
        gives: "time",
        source: "definition: the Gregorian calendar",
        body: Body::Formula(days),
    },
];
