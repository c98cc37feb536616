//! What a value is to a formula: arguments and fields taken as the type that is declared.

use crate::calc::FormulaError;
use crate::calc::explore::Condition;
use crate::calc::space::piece::Piece;
use crate::design::ComponentId;
use crate::syntax::tree::Date;
use crate::values::{Quantity, Record, Shape, Value};
use smol_str::SmolStr;
use std::sync::Arc;

/// A table that a formula gives, as plain data; the build writes one for each that is declared.
pub trait Table: Sized {
    /// Its name and fields.
    const SHAPE: &'static Shape;

    /// The table that a record holds; none if it holds another.
    fn read(record: &Record) -> Option<Self>;

    /// The values of its fields in order, none for one that has no meaning in its state.
    fn values(self) -> Vec<Option<Value>>;

    /// The table that a record holds, if it holds this one.
    #[must_use]
    fn of_record(record: &Record) -> Option<Self> {
        if Self::is(record) { Self::read(record) } else { None }
    }

    /// Whether a record holds this table.
    #[must_use]
    fn is(record: &Record) -> bool {
        record.is(Self::SHAPE)
    }
}

/// Components that are given to a formula, as they are: a long list of them need not be copied.
#[derive(Debug, Clone)]
pub struct Components(Value);

impl Components {
    /// Those that a value holds.
    #[expect(clippy::unnecessary_wraps, reason = "it stands among those that may find nothing")]
    pub(super) fn of(value: &Value) -> Option<Self> {
        Some(Self(value.clone()))
    }

    /// The value that holds them.
    #[must_use]
    pub fn value(&self) -> &Value {
        &self.0
    }

    /// Each of them, in lists or not.
    #[must_use]
    pub fn ids(&self) -> Vec<ComponentId> {
        components(&self.0).unwrap_or_default()
    }
}

/// An argument that has to be given.
pub(super) fn required<T>(value: Option<&Value>, taker: impl Fn(&Value) -> Option<T>, name: &str, sort: &str) -> Result<T, FormulaError> {
    value.and_then(taker).ok_or_else(|| not(name, sort))
}

/// An argument that may be left out.
pub(super) fn optional<T>(
    value: Option<&Value>,
    taker: impl Fn(&Value) -> Option<T>,
    name: &str,
    sort: &str,
) -> Result<Option<T>, FormulaError> {
    value.map(|value| taker(value).ok_or_else(|| not(name, sort))).transpose()
}

fn not(name: &str, sort: &str) -> FormulaError {
    FormulaError::domain(format!("`{name}`"), crate::problem::with_article(sort))
}

/// A quantity in SI base units.
pub(super) fn number(value: &Value) -> Option<f64> {
    value.si()
}

/// A quantity with its dimension and unit.
pub(super) fn quantity(value: &Value) -> Option<Quantity> {
    match value {
        Value::Quantity(quantity) => Some(quantity.clone()),
        Value::Zero => Some(Quantity::new(0.0, crate::units::Dim::NUMBER)),
        _ => None,
    }
}

/// A text or a word.
pub(super) fn text(value: &Value) -> Option<SmolStr> {
    match value {
        Value::Text(text) | Value::Word(text) => Some(text.clone()),
        _ => None,
    }
}

/// One of the words of a choice.
pub(super) fn word<T>(value: &Value, of: impl Fn(&str) -> Option<T>) -> Option<T> {
    match value {
        Value::Word(word) | Value::Text(word) => of(word),
        _ => None,
    }
}

/// A day.
pub(super) fn date(value: &Value) -> Option<Date> {
    if let Value::Date(date) = value { Some(*date) } else { None }
}

/// The bodies of one solid, or of lists of them.
pub(super) fn solid(value: &Value) -> Option<Arc<[Piece]>> {
    value.solid()
}

/// A condition; what is yes or no is always so, or never.
pub(super) fn condition(value: &Value) -> Option<Condition> {
    value.as_condition()
}

/// Yes or no.
pub(super) fn flag(value: &Value) -> Option<bool> {
    if let Value::Flag(flag) = value { Some(*flag) } else { None }
}

/// A component.
pub(super) fn component(value: &Value) -> Option<ComponentId> {
    components(value)?.first().copied()
}

/// Components, in lists or not.
pub(super) fn components(value: &Value) -> Option<Vec<ComponentId>> {
    fn gather(value: &Value, found: &mut Vec<ComponentId>) {
        match value {
            Value::Component(id) => found.push(*id),
            Value::List(items) => items.iter().for_each(|item| gather(item, found)),
            _ => {}
        }
    }
    let mut found = Vec::new();
    gather(value, &mut found);
    Some(found)
}

/// As it is.
#[expect(clippy::unnecessary_wraps, reason = "it stands among those that may find nothing")]
pub(super) fn value(value: &Value) -> Option<Value> {
    Some(value.clone())
}

/// Several values as they are.
#[expect(clippy::unnecessary_wraps, reason = "it stands among those that may find nothing")]
pub(super) fn values(value: &Value) -> Option<Vec<Value>> {
    match value {
        Value::List(items) => Some(items.to_vec()),
        one => Some(vec![one.clone()]),
    }
}

/// Several of one sort; one alone is a list of one.
pub(super) fn several<T>(value: &Value, taker: impl Fn(&Value) -> Option<T>) -> Option<Vec<T>> {
    match value {
        Value::List(items) => items.iter().map(taker).collect(),
        one => Some(vec![taker(one)?]),
    }
}

/// What stands in lists, however deep, one after the other; one alone is all.
pub(super) fn flat(value: &Value) -> Vec<&Value> {
    match value {
        Value::List(items) => items.iter().flat_map(flat).collect(),
        one => vec![one],
    }
}

/// All tables of one shape that stand in lists, however deep.
pub(super) fn all<T: Table>(value: &Value, what: &str) -> Result<Vec<T>, FormulaError> {
    let found: Option<Vec<T>> = flat(value).into_iter().map(table).collect();
    found.ok_or_else(|| FormulaError::domain(what, "such tables, in lists or not"))
}

/// From one to another, in SI base units.
#[allow(dead_code, reason = "called where a declaration says so, and at times none does")]
pub(super) fn range(value: &Value) -> Option<[f64; 2]> {
    if let Value::Range(ends) = value { Some([ends[0].si, ends[1].si]) } else { None }
}

/// From one to another, with their units.
#[allow(dead_code, reason = "called where a declaration says so, and at times none does")]
pub(super) fn ends(value: &Value) -> Option<[Quantity; 2]> {
    if let Value::Range(ends) = value { Some(<[Quantity; 2]>::clone(ends)) } else { None }
}

/// The parts of a size, in SI base units.
#[allow(dead_code, reason = "called where a declaration says so, and at times none does")]
pub(super) fn parts(value: &Value) -> Option<Vec<f64>> {
    if let Value::Size(parts) = value { Some(parts.iter().map(|part| part.si).collect()) } else { None }
}

/// Whichever table it is.
pub(super) fn record(value: &Value) -> Option<Arc<Record>> {
    if let Value::Record(record) = value { Some(Arc::clone(record)) } else { None }
}

/// The table that is declared.
pub(super) fn table<T: Table>(value: &Value) -> Option<T> {
    match value {
        Value::Record(record) => T::of_record(record),
        _ => None,
    }
}
