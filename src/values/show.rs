//! A value as a person reads it.

use super::evaluator::Evaluator;
use super::reads::Question;
use super::value::{Quantity, Value};
use crate::calc::explore::Condition;
use crate::calc::space::piece::{Piece, bounds};
use crate::design::ComponentId;
use crate::units::{self, Dim};

/// A number as it is handed on: the quantity and how it reads.
#[derive(Debug, Clone, PartialEq)]
pub struct Measure {
    /// The quantity.
    pub quantity: Quantity,
    /// How it reads, in the author's unit.
    pub text: String,
}

impl Evaluator {
    /// In the author's unit where one was written, else in a usual unit of the design's system.
    #[must_use]
    pub fn show_value(&self, value: &Value) -> String {
        match value {
            Value::Zero => "0".to_owned(),
            Value::Quantity(quantity) => self.show_quantity(quantity),
            Value::Range(ends) => {
                let [from, to] = ends.as_ref();
                format!("{} to {}", self.show_quantity(from), self.show_quantity(to))
            }
            Value::Size(parts) => parts.iter().map(|part| self.show_quantity(part)).collect::<Vec<_>>().join(" by "),
            Value::List(items) if items.is_empty() => "none".to_owned(),
            Value::List(items) => items.iter().map(|item| self.show_value(item)).collect::<Vec<_>>().join(", "),
            Value::Text(text) => text.to_string(),
            Value::Word(word) => word.to_string(),
            Value::Flag(flag) => if *flag { "yes" } else { "no" }.to_owned(),
            Value::Date(date) => date.to_string(),
            Value::Component(id) => self.name_of(*id),
            Value::Solid(pieces) => self.show_solid(pieces),
            Value::Condition(condition) => show_condition(condition),
            Value::Record(record) => record
                .fields
                .iter()
                .filter(|(_, value)| !matches!(value, Value::Record(_)))
                .map(|(name, value)| match value {
                    Value::List(items) if matches!(items.first(), Some(Value::Record(_))) => match items.len() {
                        1 => format!("{name} [1 entry]"),
                        many => format!("{name} [{many} entries]"),
                    },
                    _ => format!("{name} {}", self.show_value(value)),
                })
                .collect::<Vec<_>>()
                .join("; "),
        }
    }

    /// Where it reaches to, by the building's own measures.
    fn show_solid(&self, pieces: &[Piece]) -> String {
        let Some([low, high]) = bounds(pieces) else { return "no body".to_owned() };
        let length = |metres: f64| units::show(metres, Dim::LENGTH, None, self.system);
        let reach = |measure: &str, from: f64, to: f64| format!("{measure} {} to {}", length(from), length(to));
        // The axes of bodies are to the right, along the travel, up.
        [reach("station", low[1], high[1]), reach("offset", -high[0], -low[0]), reach("level", low[2], high[2])].join("; ")
    }

    /// A component's name; that it is shown is noted.
    pub(crate) fn name_of(&self, id: ComponentId) -> String {
        self.ask(Question::Title(id));
        self.design.component(id).name.to_string()
    }

    /// As [`Evaluator::show_value`] for a quantity.
    #[must_use]
    pub fn show_quantity(&self, quantity: &Quantity) -> String {
        units::show(quantity.si, quantity.dim, quantity.unit.as_deref(), self.system)
    }
    /// A quantity with how it reads.
    #[must_use]
    pub fn measure(&self, quantity: Quantity) -> Measure {
        Measure { text: self.show_quantity(&quantity), quantity }
    }
}

/// What a condition depends on: the conditions themselves are longer than anybody reads.
fn show_condition(condition: &Condition) -> String {
    let mut names: Vec<&str> = Vec::new();
    condition.reads(&mut |part, _| {
        let name = part.split_once('.').map_or(part.as_str(), |(name, _)| name);
        if !names.contains(&name) {
            names.push(name);
        }
    });
    if let Condition::Always(so) = condition {
        return if *so { "yes" } else { "no" }.to_owned();
    }
    format!("as it may be, by {}", names.join(", "))
}
