//! What a formula answers, as a value.

use super::take::Table;
use crate::units::Dim;
use crate::values::{Quantity, Record, Value};
use std::sync::Arc;

/// From one to another, in SI base units.
#[allow(dead_code, reason = "called where a declaration says so, and at times none does")]
pub(super) fn range([from, to]: [f64; 2], dim: Dim) -> Value {
    Value::Range(Arc::new([Quantity::new(from, dim), Quantity::new(to, dim)]))
}

/// The parts of a size, in SI base units.
#[allow(dead_code, reason = "called where a declaration says so, and at times none does")]
pub(super) fn size(parts: Vec<f64>, dim: Dim) -> Value {
    Value::Size(parts.into_iter().map(|part| Quantity::new(part, dim)).collect())
}

/// A table.
pub(super) fn table<T: Table>(table: T) -> Value {
    Value::Record(Arc::new(Record::of(T::SHAPE, table.values())))
}
