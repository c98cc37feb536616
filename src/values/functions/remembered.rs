//! What formulas that give a table were asked before, and what they answered.
//!
//! Two beams that are alike, and a worst case that changes nothing for them, need not be worked out twice. One number is
//! worked out sooner than looked up, and what looks at the design may answer otherwise the next time: neither is kept.

use super::Function;
use super::arguments::{Arguments, Given};
use crate::values::value::Value;
use rustc_hash::{FxHashMap, FxHasher};
use std::hash::{Hash, Hasher};

/// More answers than this are not kept: a design of many thousand lines asks more than it repeats.
const MOST: usize = 1024;

/// Answers by what was asked.
#[derive(Debug, Default)]
pub(in crate::values) struct Remembered(FxHashMap<u64, (Arguments, Value)>);

impl Remembered {
    /// The answer to the same question, with the mark to keep a new one by.
    pub(super) fn answer(&self, function: &Function, arguments: &Arguments) -> (u64, Option<Value>) {
        let mut hasher = FxHasher::default();
        function.name.hash(&mut hasher);
        for given in arguments.0.iter().flatten() {
            if let Given::Value(value) = given {
                mark(value, &mut hasher);
            }
        }
        let question = hasher.finish();
        (question, self.0.get(&question).filter(|(asked, _)| asked == arguments).map(|(_, answer)| answer.clone()))
    }

    /// Keeps an answer, if it is a table.
    pub(super) fn keep(&mut self, question: u64, arguments: Arguments, answer: &Value) {
        if matches!(answer, Value::Record(_)) {
            if self.0.len() >= MOST {
                self.0.clear();
            }
            self.0.insert(question, (arguments, answer.clone()));
        }
    }
}

/// What tells one question from another; whether they are the same is asked afterwards.
fn mark(value: &Value, hasher: &mut FxHasher) {
    let numbers = |parts: &[crate::values::value::Quantity], hasher: &mut FxHasher| {
        for part in parts {
            part.si.to_bits().hash(hasher);
        }
    };
    match value {
        Value::Zero | Value::Date(_) => {}
        Value::Quantity(quantity) => quantity.si.to_bits().hash(hasher),
        Value::Range(ends) => numbers(ends.as_slice(), hasher),
        Value::Size(parts) => numbers(parts, hasher),
        Value::List(items) => {
            items.len().hash(hasher);
            items.iter().for_each(|item| mark(item, hasher));
        }
        Value::Text(text) | Value::Word(text) => text.hash(hasher),
        Value::Flag(flag) => flag.hash(hasher),
        Value::Component(id) => id.0.hash(hasher),
        Value::Record(record) => record.fields.iter().for_each(|(_, field)| mark(field, hasher)),
    }
}
