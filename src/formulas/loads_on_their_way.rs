//! Loads on their way down: what each thing passes on, by what causes it, before load factors.
//!
//! In: forces by action. Out: tables of the same, and what they come to in each state by the code's combinations.
//! It must not know what carries them.

use super::body::{may, needs};
use super::structure::CODES;
use super::timber::when;
use crate::calc::FormulaError;
use crate::calc::loads::PerAction;
use crate::calc::loads::states::{Code, Level, State, effect};
use crate::units::Dim;
use crate::values::Arguments;
use crate::values::{Body, Function, Parameter, Takes};
use crate::values::{Record, Value};
use smol_str::SmolStr;

const FORCE: Takes = Takes::Quantity(Dim::FORCE);
pub(super) const LEVELS: &[&str] = &["strength", "working"];

/// Whose combinations; `high` is the flag of ground above 1000 m.
pub(super) fn code(word: &str, high: bool) -> Code {
    match (word, high) {
        ("asce7", _) => Code::Asce7,
        (_, true) => Code::EurocodeHigh,
        _ => Code::Eurocode,
    }
}

pub(super) const HIGH: Parameter = may("high", Takes::Flag, "ground above 1000 m: in EN 1990 snow beside the wind counts 0.7, not 0.5");

fn force(si: f64) -> Value {
    Value::quantity(si, Dim::FORCE)
}

/// A table of loads.
pub(super) fn table_of(load: &PerAction) -> Value {
    Value::record(vec![
        ("dead", force(load.dead)),
        ("moving", force(load.moving)),
        ("snow", force(load.snow)),
        ("live", force(load.roof_live)),
        ("wind", force(load.wind)),
    ])
}

/// The loads that a table holds.
pub(super) fn of_table(record: &Record) -> Result<PerAction, FormulaError> {
    let number = |name: &str| record.get(name).and_then(Value::si).ok_or_else(|| FormulaError::domain("the loads", "a table of `loads`"));
    Ok(PerAction {
        dead: number("dead")?,
        moving: number("moving")?,
        roof_live: number("live")?,
        snow: number("snow")?,
        wind: number("wind")?,
    })
}

/// The forces of a list, each with its state.
pub(super) fn by_state(forces: &[f64]) -> Result<[(State, f64); State::ALL.len()], FormulaError> {
    let each: [f64; State::ALL.len()] = forces
        .try_into()
        .map_err(|_| FormulaError::domain("the forces", "five: shut, moving, snow, live, wind, as `load_states` gives them"))?;
    let mut states = State::ALL.map(|state| (state, 0.0));
    states.iter_mut().zip(each).for_each(|(state, force)| state.1 = force);
    Ok(states)
}

/// Tables of loads, however deep in lists.
pub(super) fn gathered(value: Option<&Value>, found: &mut Vec<PerAction>) -> Result<(), FormulaError> {
    match value {
        Some(Value::Record(record)) => found.push(of_table(record)?),
        Some(Value::List(items)) => {
            for item in items.iter() {
                gathered(Some(item), found)?;
            }
        }
        _ => {}
    }
    Ok(())
}

fn all(a: &Arguments) -> Result<Vec<PerAction>, FormulaError> {
    let mut found = Vec::new();
    gathered(a.value(0), &mut found)?;
    Ok(found)
}

fn loads(a: &Arguments) -> Result<Value, FormulaError> {
    let dead = a.si(0);
    Ok(table_of(&PerAction {
        dead,
        moving: a.optional(1).unwrap_or(dead),
        snow: a.optional(2).unwrap_or(0.0),
        roof_live: a.optional(3).unwrap_or(0.0),
        wind: a.optional(4).unwrap_or(0.0),
    }))
}

fn loads_together(a: &Arguments) -> Result<Value, FormulaError> {
    Ok(table_of(&all(a)?.iter().fold(PerAction::default(), |sum, load| sum.with(load, |one, other| one + other))))
}

fn hardest_loads(a: &Arguments) -> Result<Value, FormulaError> {
    Ok(table_of(&all(a)?.iter().fold(PerAction::default(), |most, load| most.with(load, f64::max))))
}

fn part_of_loads(a: &Arguments) -> Result<Value, FormulaError> {
    let load = a.record(0).ok_or_else(|| FormulaError::domain("the loads", "a table of `loads`"))?;
    Ok(table_of(&of_table(load)?.times(a.si(1))))
}

fn load_states(a: &Arguments) -> Result<Value, FormulaError> {
    let load = of_table(a.record(0).ok_or_else(|| FormulaError::domain("the loads", "a table of `loads`"))?)?;
    let level = if a.word(2) == "working" { Level::Working } else { Level::Strength };
    let states: Vec<(State, f64, &'static str)> = State::ALL
        .into_iter()
        .map(|state| effect(&load, state, code(a.word(1), a.flag(3)), level).map(|found| (state, found.value, found.combination.text)))
        .collect::<Result<_, _>>()?;
    let worst = states.iter().max_by(|one, other| one.1.total_cmp(&other.1));
    let (state, most, text) = worst.copied().unwrap_or((State::Shut, 0.0, ""));
    let mut fields: Vec<(&'static str, Value)> = states.iter().map(|(state, value, _)| (state.word(), force(*value))).collect();
    fields.extend([
        ("most", force(most)),
        ("most_when", when(state.word())),
        ("combination", Value::Text(SmolStr::new_static(text))),
        ("forces", Value::list_of(states.iter().map(|(_, value, _)| *value), Dim::FORCE)),
    ]);
    Ok(Value::record(fields))
}

const TABLES: Parameter = needs("all", Takes::Anything, "tables of `loads`, in lists or not");
const TABLE: Parameter = needs("load", Takes::Record, "a table of `loads`");
const GIVES: &str = "table: dead, moving, snow, live, wind";

/// The table of this subject.
pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "loads",
        doc: "what presses on something, by what causes it, before load factors",
        parameters: &[
            needs("dead", FORCE, "of its own weight and what stands on it, the roof shut"),
            may("moving", FORCE, "all that presses while the roof rolls, the dead load included; the dead load if it is not given"),
            may("snow", FORCE, "of snow"),
            may("live", FORCE, "of people on the roof"),
            may("wind", FORCE, "of the design wind that presses down, as the code gives it"),
        ],
        gives: GIVES,
        source: "statics",
        remembered: false,
        body: Body::Formula(loads),
    },
    Function {
        name: "loads_together",
        doc: "the sum of several loads",
        parameters: &[TABLES],
        gives: GIVES,
        source: "statics",
        remembered: false,
        body: Body::Formula(loads_together),
    },
    Function {
        name: "hardest_loads",
        doc: "of several places the hardest load of each cause, though not all need be at one place",
        parameters: &[TABLES],
        gives: GIVES,
        source: "statics, on the safe side",
        remembered: false,
        body: Body::Formula(hardest_loads),
    },
    Function {
        name: "part_of_loads",
        doc: "this many times a load",
        parameters: &[TABLE, needs("part", Takes::Quantity(Dim::NUMBER), "how many times")],
        gives: GIVES,
        source: "statics",
        remembered: false,
        body: Body::Formula(part_of_loads),
    },
    Function {
        name: "load_states",
        doc: "what a load comes to by the code's combinations, in each state: roof shut, moving, with snow, with people on it, in the wind",
        parameters: &[
            TABLE,
            needs("code", Takes::Word(CODES), "whose combinations"),
            needs("level", Takes::Word(LEVELS), "strength: for a member's strength; working: for rated and presumed values"),
            HIGH,
        ],
        gives: "table: shut, moving, snow, live, wind; most, most_when, combination; forces in that order",
        source: "ASCE 7-16 §2.4.1; EN 1990:2002 eq. 6.10 with Table A1.2(B), eq. 6.14b; EN 1991-1-1:2002 §3.3.2(1)",
        remembered: true,
        body: Body::Formula(load_states),
    },
];
