//! Whether what a body gives is of the sort that is declared: asked of every answer where the program is built for tests.

use crate::design::{Formulas, Gives, Sort};
use crate::values::value::Value;

/// Whether the answer of that formula is what the trade library declares.
pub(super) fn is_declared(formulas: &Formulas, name: &str, answer: &Value) -> bool {
    match formulas.formula(name).map(|formula| &formula.gives) {
        Some(Gives::Sort(sort)) => fits(formulas, sort, answer),
        // What follows an argument has been looked at with it.
        Some(_) => true,
        None => false,
    }
}

fn fits(formulas: &Formulas, sort: &Sort, value: &Value) -> bool {
    match (sort, value) {
        (Sort::Unknown | Sort::Itself, _) | (_, Value::Zero) => true,
        (Sort::Quantity(dim), Value::Quantity(quantity)) => dim.is_none_or(|dim| dim == quantity.dim),
        (Sort::Text, Value::Text(_)) | (Sort::Date, Value::Date(_)) | (Sort::Flag, Value::Flag(_)) => true,
        (Sort::Condition, Value::Condition(_) | Value::Flag(_)) => true,
        (Sort::Solid, Value::Solid(_)) | (Sort::Word, Value::Word(_)) | (Sort::Component(_), Value::Component(_)) => true,
        (Sort::Range(dim), Value::Range(ends)) => ends.iter().all(|end| dim.is_none_or(|dim| dim == end.dim)),
        (Sort::Size(dim), Value::Size(parts)) => parts.iter().all(|part| dim.is_none_or(|dim| dim == part.dim)),
        (Sort::List(of), Value::List(items)) => items.iter().all(|item| fits(formulas, of, item)),
        (Sort::Table(shapes), Value::Record(record)) => {
            shapes.is_empty()
                || shapes.iter().filter_map(|shape| formulas.table(shape)).any(|table| {
                    record.fields.iter().all(|(name, value)| table.field(name).is_some_and(|sort| fits(formulas, sort, value)))
                })
        }
        _ => false,
    }
}
