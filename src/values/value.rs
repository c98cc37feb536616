//! What a property can be worth.

use crate::calc::explore::Condition;
use crate::calc::space::piece::Piece;
use crate::design::ComponentId;
use crate::syntax::tree::Date;
use crate::units::{Dim, Unit};
use smol_str::SmolStr;
use std::sync::Arc;

/// A number with its dimension, and the unit in which its writer thinks of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Quantity {
    /// In SI base units.
    pub si: f64,
    /// Its dimension.
    pub dim: Dim,
    /// The unit to show it in; by size and system if nobody wrote one.
    pub unit: Option<Arc<Unit>>,
}

impl Quantity {
    /// A quantity that nobody gave a unit.
    #[must_use]
    pub fn new(si: f64, dim: Dim) -> Self {
        Self { si, dim, unit: None }
    }
}

/// What the parts of a size are called.
pub(super) const PARTS_OF_A_SIZE: [&str; 3] = ["first", "second", "third"];

/// How far a written number may be off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tolerance {
    /// Which part of a size, range or list, counted through the parts of its parts; 0 for a single number.
    pub part: usize,
    /// How much less it may be, in SI base units, zero or more.
    pub down: f64,
    /// How much more it may be, in SI base units, zero or more.
    pub up: f64,
}

/// What a property can be worth.
#[derive(Debug, Clone)]
pub enum Value {
    /// The sum of nothing: zero of whatever dimension is due.
    Zero,
    /// A number with its dimension.
    Quantity(Quantity),
    /// From one to another.
    Range(Arc<[Quantity; 2]>),
    /// One by another (by a third).
    Size(Arc<[Quantity]>),
    /// Several.
    List(Arc<[Value]>),
    /// A text.
    Text(SmolStr),
    /// A choice.
    Word(SmolStr),
    /// Yes or no.
    Flag(bool),
    /// A day.
    Date(Date),
    /// A component.
    Component(ComponentId),
    /// What fills room: the bodies of a part, or of several.
    Solid(Arc<[Piece]>),
    /// Yes or no, as it is at each moment.
    Condition(Arc<Condition>),
    /// What a formula gives: several values by name.
    Record(Arc<Record>),
}

impl PartialEq for Value {
    /// Most tables and lists that are compared are one and the same: that is asked first.
    fn eq(&self, other: &Value) -> bool {
        match (self, other) {
            (Value::Zero, Value::Zero) => true,
            (Value::Quantity(a), Value::Quantity(b)) => a == b,
            (Value::Range(a), Value::Range(b)) => Arc::ptr_eq(a, b) || a == b,
            (Value::Size(a), Value::Size(b)) => Arc::ptr_eq(a, b) || a == b,
            (Value::List(a), Value::List(b)) => Arc::ptr_eq(a, b) || a == b,
            (Value::Text(a), Value::Text(b)) | (Value::Word(a), Value::Word(b)) => a == b,
            (Value::Flag(a), Value::Flag(b)) => a == b,
            (Value::Date(a), Value::Date(b)) => a == b,
            (Value::Component(a), Value::Component(b)) => a == b,
            (Value::Solid(a), Value::Solid(b)) => Arc::ptr_eq(a, b) || a == b,
            (Value::Condition(a), Value::Condition(b)) => Arc::ptr_eq(a, b) || a == b,
            (Value::Record(a), Value::Record(b)) => Arc::ptr_eq(a, b) || a == b,
            _ => false,
        }
    }
}

/// The shape of a table that a formula gives.
#[derive(Debug, PartialEq)]
pub struct Shape {
    /// The table's name.
    pub name: &'static str,
    /// Its fields, in order.
    pub fields: &'static [&'static str],
}

/// Several values by name, in order.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Record {
    /// Which table it is.
    pub shape: Option<&'static Shape>,
    /// The fields.
    pub fields: Vec<(SmolStr, Value)>,
}

impl Record {
    /// A table of that shape with a value for each of its fields, none for one that has no meaning in its state.
    #[must_use]
    pub fn of(shape: &'static Shape, values: Vec<Option<Value>>) -> Self {
        let fields = shape.fields.iter().zip(values).filter_map(|(name, value)| Some((SmolStr::new_static(name), value?))).collect();
        Self { shape: Some(shape), fields }
    }

    /// Whether it is a table of that shape.
    #[must_use]
    pub fn is(&self, shape: &'static Shape) -> bool {
        self.shape.is_none_or(|own| std::ptr::eq(own, shape) || own == shape)
    }

    /// The field of that name.
    #[must_use]
    pub fn get(&self, name: &str) -> Option<&Value> {
        self.fields.iter().find(|(field, _)| field == name).map(|(_, value)| value)
    }
}

impl Value {
    /// Whether it is a component, or one is in it.
    #[must_use]
    pub fn names_component(&self) -> bool {
        match self {
            Value::Component(_) => true,
            Value::List(items) => items.iter().any(Value::names_component),
            Value::Record(record) => record.fields.iter().any(|(_, field)| field.names_component()),
            _ => false,
        }
    }

    /// A quantity in SI base units.
    #[must_use]
    pub fn quantity(si: f64, dim: Dim) -> Value {
        Value::Quantity(Quantity::new(si, dim))
    }

    /// A plain number.
    #[must_use]
    pub fn number(number: f64) -> Value {
        Value::quantity(number, Dim::NUMBER)
    }

    /// Several values by name.
    #[must_use]
    pub fn record(fields: Vec<(&str, Value)>) -> Value {
        Value::Record(Arc::new(Record {
            shape: None,
            fields: fields.into_iter().map(|(name, value)| (SmolStr::new(name), value)).collect(),
        }))
    }

    /// Several quantities of one dimension.
    #[must_use]
    pub fn list_of(values: impl IntoIterator<Item = f64>, dim: Dim) -> Value {
        Value::List(values.into_iter().map(|si| Value::quantity(si, dim)).collect())
    }

    /// The bodies of a solid, or of all solids in a list and its lists; `None` if something else is among them.
    #[must_use]
    pub fn solid(&self) -> Option<Arc<[Piece]>> {
        fn gather(value: &Value, found: &mut Vec<Piece>) -> Option<()> {
            match value {
                Value::List(items) => items.iter().try_for_each(|item| gather(item, found)),
                Value::Solid(pieces) => {
                    found.extend(pieces.iter().cloned());
                    Some(())
                }
                _ => None,
            }
        }
        if let Value::Solid(pieces) = self {
            return Some(Arc::clone(pieces));
        }
        let mut found = Vec::new();
        gather(self, &mut found)?;
        Some(found.into())
    }

    /// The condition that it is: what is yes or no is always so, or never.
    #[must_use]
    pub fn as_condition(&self) -> Option<Condition> {
        match self {
            Value::Flag(flag) => Some(Condition::Always(*flag)),
            Value::Condition(condition) => Some(condition.as_ref().clone()),
            _ => None,
        }
    }

    /// A condition as a value; what is always so, or never, is yes or no.
    #[must_use]
    pub fn of_condition(condition: Condition) -> Value {
        match condition {
            Condition::Always(so) => Value::Flag(so),
            other => Value::Condition(Arc::new(other)),
        }
    }

    /// What it is, for messages: "a length", "a word".
    #[must_use]
    pub fn describe(&self) -> String {
        match self {
            Value::Zero => "zero".to_owned(),
            Value::Quantity(quantity) => quantity.dim.describe(),
            Value::Range(_) => "a range".to_owned(),
            Value::Size(_) => "a size".to_owned(),
            Value::List(_) => "a list".to_owned(),
            Value::Text(_) => "a text".to_owned(),
            Value::Word(word) => format!("the word `{word}`"),
            Value::Flag(_) => "yes or no".to_owned(),
            Value::Date(_) => "a date".to_owned(),
            Value::Component(_) => "a component".to_owned(),
            Value::Solid(_) => "a solid".to_owned(),
            Value::Condition(_) => "a condition".to_owned(),
            Value::Record(_) => "a table".to_owned(),
        }
    }

    /// How many numbers it has, counted through its parts.
    #[must_use]
    pub fn numbers(&self) -> usize {
        match self {
            Value::Range(_) => 2,
            Value::Size(parts) => parts.len(),
            Value::List(items) => items.iter().map(Value::numbers).sum(),
            _ => 1,
        }
    }

    /// Its numbers, in the order in which they are counted.
    #[must_use]
    pub fn quantities(&self) -> Vec<Quantity> {
        match self {
            Value::Zero => vec![Quantity::new(0.0, Dim::NUMBER)],
            Value::Quantity(quantity) => vec![quantity.clone()],
            Value::Range(ends) => ends.to_vec(),
            Value::Size(parts) => parts.to_vec(),
            Value::List(items) => items.iter().flat_map(Value::quantities).collect(),
            _ => Vec::new(),
        }
    }

    /// The number in SI base units, if it is one.
    #[must_use]
    pub fn si(&self) -> Option<f64> {
        match self {
            Value::Zero => Some(0.0),
            Value::Quantity(quantity) => Some(quantity.si),
            _ => None,
        }
    }
}
