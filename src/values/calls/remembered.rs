//! What formulas that give a table were asked before, and what they answered.
//!
//! Two beams that are alike, and a worst case that changes nothing for them, need not be worked out twice. One number is
//! worked out sooner than looked up, and what looks at the design may answer otherwise the next time: neither is kept.

use super::arguments::{Arguments, Given};
use crate::values::function::Function;
use crate::values::value::Value;
use rustc_hash::{FxHashMap, FxHasher};
use std::hash::{Hash, Hasher};

/// So many answers are kept at least, and twice as many at most: a design of many thousand lines asks more than it repeats.
const LEAST: usize = 1024;
/// So many values of a table tell it from another.
const MOST_MARKS: usize = 24;

/// What was asked, what was answered, and whether it speaks of components: a formula can only answer with those it was given.
#[derive(Debug)]
struct Known {
    asked: Arguments,
    answer: Value,
    of_components: bool,
}

type Answers = FxHashMap<u64, Known>;

/// Answers by what was asked. They hold from one state of a text to the next: a formula knows its arguments and nothing else.
#[derive(Debug, Default)]
pub(in crate::values) struct Remembered {
    newer: Answers,
    older: Answers,
}

impl Remembered {
    /// The answer to the same question, with the mark to keep a new one by.
    pub(super) fn answer(&mut self, function: &Function, arguments: &Arguments) -> (u64, Option<Value>) {
        let (mut hasher, mut left) = (FxHasher::default(), usize::MAX);
        function.name.hash(&mut hasher);
        for given in arguments.0.iter().flatten() {
            if let Given::Value(value) = given {
                mark(value, &mut hasher, &mut left);
            }
        }
        let question = hasher.finish();
        let same = |known: &&Known| known.asked == *arguments;
        if let Some(known) = self.newer.get(&question).filter(same) {
            return (question, Some(known.answer.clone()));
        }
        if self.older.get(&question).filter(same).is_none() {
            return (question, None);
        }
        let known = self.older.remove(&question);
        let answer = known.as_ref().map(|known| known.answer.clone());
        if let Some(known) = known {
            self.put(question, known);
        }
        (question, answer)
    }

    /// Keeps an answer, if it is a table.
    pub(super) fn keep(&mut self, question: u64, asked: Arguments, answer: &Value) {
        if matches!(answer, Value::Record(_)) {
            let speaks = |given: &Given| matches!(given, Given::Value(value) if value.names_component());
            let of_components = asked.0.iter().flatten().any(speaks);
            self.put(question, Known { asked, answer: answer.clone(), of_components });
        }
    }

    fn put(&mut self, question: u64, known: Known) {
        if self.newer.len() >= LEAST {
            self.older = std::mem::take(&mut self.newer);
        }
        self.newer.insert(question, known);
    }

    /// Leaves out what speaks of components: they have other numbers now.
    pub(in crate::values) fn without_components(mut self) -> Remembered {
        for answers in [&mut self.newer, &mut self.older] {
            answers.retain(|_, known| !known.of_components);
        }
        self
    }
}

impl Value {
    /// Puts into a mark what tells this value from most others; values that are the same put the same.
    pub(crate) fn mark(&self, hasher: &mut FxHasher) {
        let mut all = usize::MAX;
        mark(self, hasher, &mut all);
    }
}

/// What tells one question from another; whether they are the same is asked afterwards.
fn mark(value: &Value, hasher: &mut FxHasher, left: &mut usize) {
    let numbers = |parts: &[crate::values::value::Quantity], hasher: &mut FxHasher| {
        for part in parts {
            part.si.to_bits().hash(hasher);
        }
    };
    if *left == 0 {
        return;
    }
    *left -= 1;
    match value {
        Value::Zero | Value::Date(_) => {}
        Value::Quantity(quantity) => quantity.si.to_bits().hash(hasher),
        Value::Range(ends) => numbers(ends.as_slice(), hasher),
        Value::Size(parts) => numbers(parts, hasher),
        Value::List(items) => {
            items.len().hash(hasher);
            items.iter().for_each(|item| mark(item, hasher, left));
        }
        Value::Text(text) | Value::Word(text) => text.hash(hasher),
        Value::Flag(flag) => flag.hash(hasher),
        Value::Component(id) => id.0.hash(hasher),
        Value::Condition(condition) => condition.hash(hasher),
        Value::Solid(pieces) => {
            for corner in pieces.iter().filter_map(|piece| piece.room.as_ref()).flat_map(|room| room.bounds).flatten() {
                corner.to_bits().hash(hasher);
            }
        }
        Value::Record(record) => {
            let mut own = MOST_MARKS.min(*left);
            record.fields.iter().for_each(|(_, field)| mark(field, hasher, &mut own));
        }
    }
}
