//! The arguments of a call, each of the type that its parameter takes.

use crate::design::{Carries, ComponentId, KindId};
use crate::syntax::tree::Date;
use crate::values::value::{Quantity, Record, Value};

/// One argument as its parameter takes it.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Given {
    Value(Value),
    Kinds(Vec<KindId>),
    Carrying(Carries),
}

/// The arguments of a call, in the order of the parameters.
#[derive(Debug, Clone, PartialEq)]
pub struct Arguments(pub(super) Vec<Option<Given>>);

impl Arguments {
    /// The argument as it is, if it was given.
    #[must_use]
    pub fn value(&self, at: usize) -> Option<&Value> {
        match self.0.get(at)? {
            Some(Given::Value(value)) => Some(value),
            _ => None,
        }
    }

    /// Whether an optional argument was given.
    #[must_use]
    pub fn has(&self, at: usize) -> bool {
        self.0.get(at).is_some_and(Option::is_some)
    }

    /// A quantity in SI base units, if it was given.
    #[must_use]
    pub fn optional(&self, at: usize) -> Option<f64> {
        self.value(at).and_then(Value::si)
    }

    /// A quantity in SI base units. The call has checked that it is there.
    #[must_use]
    pub fn si(&self, at: usize) -> f64 {
        self.optional(at).unwrap_or(f64::NAN)
    }

    /// A quantity with its dimension and unit.
    #[must_use]
    pub fn quantity(&self, at: usize) -> Quantity {
        match self.value(at) {
            Some(Value::Quantity(quantity)) => quantity.clone(),
            _ => Quantity::new(0.0, crate::units::Dim::NUMBER),
        }
    }

    /// Several quantities in SI base units.
    #[must_use]
    pub fn list(&self, at: usize) -> Vec<f64> {
        match self.value(at) {
            Some(Value::List(items)) => items.iter().filter_map(Value::si).collect(),
            Some(value) => value.si().into_iter().collect(),
            None => Vec::new(),
        }
    }

    /// Several values as they are.
    #[must_use]
    pub fn values(&self, at: usize) -> Vec<Value> {
        match self.value(at) {
            Some(Value::List(items)) => items.to_vec(),
            Some(value) => vec![value.clone()],
            None => Vec::new(),
        }
    }

    /// A word; empty if it was not given.
    #[must_use]
    pub fn word(&self, at: usize) -> &str {
        match self.value(at) {
            Some(Value::Word(word) | Value::Text(word)) => word,
            _ => "",
        }
    }

    /// Yes or no; no if it was not given.
    #[must_use]
    pub fn flag(&self, at: usize) -> bool {
        matches!(self.value(at), Some(Value::Flag(true)))
    }

    /// A day.
    #[must_use]
    pub fn date(&self, at: usize) -> Option<Date> {
        match self.value(at) {
            Some(Value::Date(date)) => Some(*date),
            _ => None,
        }
    }

    /// A table.
    #[must_use]
    pub fn record(&self, at: usize) -> Option<&Record> {
        match self.value(at) {
            Some(Value::Record(record)) => Some(record),
            _ => None,
        }
    }

    /// A component.
    #[must_use]
    pub fn component(&self, at: usize) -> Option<ComponentId> {
        self.components(at).first().copied()
    }

    /// Several components.
    #[must_use]
    pub fn components(&self, at: usize) -> Vec<ComponentId> {
        fn gather(value: &Value, found: &mut Vec<ComponentId>) {
            match value {
                Value::Component(id) => found.push(*id),
                Value::List(items) => items.iter().for_each(|item| gather(item, found)),
                _ => {}
            }
        }
        let mut found = Vec::new();
        if let Some(value) = self.value(at) {
            gather(value, &mut found);
        }
        found
    }

    /// Kinds.
    #[must_use]
    pub fn kinds(&self, at: usize) -> &[KindId] {
        match self.0.get(at) {
            Some(Some(Given::Kinds(kinds))) => kinds,
            _ => &[],
        }
    }

    /// What a link carries.
    #[must_use]
    pub fn carrying(&self, at: usize) -> Carries {
        match self.0.get(at) {
            Some(Some(Given::Carrying(carries))) => *carries,
            _ => Carries::NONE,
        }
    }

    /// A field of a table argument in SI base units.
    #[must_use]
    pub fn field(&self, at: usize, name: &str) -> Option<f64> {
        self.record(at).and_then(|record| record.get(name)).and_then(Value::si)
    }
}
