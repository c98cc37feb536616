//! The structure under the roof: its wheels, what belongs to which part, and the weakest part on the way of a pull.
//!
//! In: positions, loads. Out: tables with the worst of each. Beams stand in `beams`.
//! It must not know whether a result is too much.

use super::body::needs;
use crate::calc::FormulaError;
use crate::calc::holddown::{self, Resultant, Support};
use crate::units::Dim;
use crate::values::Arguments;
use crate::values::Evaluator;
use crate::values::Lack;
use crate::values::{Body, Function, Refusal, Takes};
use crate::values::{Record, Value};
use smol_str::SmolStr;

const FORCE: Takes = Takes::Quantity(Dim::FORCE);
pub(super) const LENGTH: Takes = Takes::Quantity(Dim::LENGTH);
pub(super) const LENGTHS: Takes = Takes::List(Dim::LENGTH);
pub(super) const FORCES: Takes = Takes::List(Dim::FORCE);
pub(super) const LINE_LOAD: Takes = Takes::Quantity(Dim::LINE_LOAD);
pub(super) const CODES: &[&str] = &["asce7", "eurocode"];
/// More supports than this on one beam are a slip of the pen (a spacing in the wrong unit).
const MOST_SUPPORTS: f64 = 200.0;

pub(super) fn force(si: f64) -> Value {
    Value::quantity(si, Dim::FORCE)
}

pub(super) fn length(si: f64) -> Value {
    Value::quantity(si, Dim::LENGTH)
}

pub(super) fn moment(si: f64) -> Value {
    Value::quantity(si, Dim::MOMENT)
}

pub(super) fn text(text: impl Into<SmolStr>) -> Value {
    Value::Text(text.into())
}

// ── wheels ───────────────────────────────────────────────────────────────────────────────────────

fn wheel_loads(a: &Arguments) -> Result<Value, FormulaError> {
    let (weight, stations, offsets) = (a.si(0), a.list(3), a.list(4));
    if stations.len() != offsets.len() {
        return Err(FormulaError::domain("the wheels", "given with one station and one offset each"));
    }
    // About the point at which the weight acts, so that it has no moment.
    let wheels: Vec<Support> = stations.iter().zip(&offsets).map(|(x, y)| Support::new(x - a.si(1), y - a.si(2))).collect();
    match holddown::share_gravity(&wheels, Resultant::at(-weight, 0.0, 0.0)) {
        Ok(shares) => Ok(Value::record(vec![
            ("stands", Value::Flag(true)),
            ("why", text("")),
            ("loads", Value::list_of(shares.wheels.iter().copied(), Dim::FORCE)),
            ("most", force(shares.wheels.iter().copied().fold(0.0, f64::max))),
            ("least", force(shares.wheels.iter().copied().fold(f64::INFINITY, f64::min).min(weight))),
        ])),
        // No list of loads: whatever stands on them is not known.
        Err(FormulaError::Unstable { what }) => {
            Ok(Value::record(vec![("stands", Value::Flag(false)), ("why", text(what)), ("loads", Value::List(Vec::new().into()))]))
        }
        Err(error) => Err(error),
    }
}

/// The values that stand in a list at the places at which a component stands in another.
fn all_of(_: &Evaluator, a: &Arguments) -> Result<Value, Refusal> {
    let Some(wanted) = a.component(1) else { return Err(FormulaError::domain("the component", "one").into()) };
    let values = a.values(0);
    if values.is_empty() && !a.components(2).is_empty() {
        // The table that should hold them has said why it does not: a roof that tips, a beam that is not held.
        return Err(Refusal::Lack(Lack::Faulty));
    }
    let at = a.components(2).into_iter().enumerate().filter(|(_, id)| *id == wanted);
    Ok(Value::List(at.filter_map(|(at, _)| values.get(at).cloned()).collect()))
}

/// The components of a list that are of one of these kinds.
fn of_kind(evaluator: &Evaluator, a: &Arguments) -> Result<Value, Refusal> {
    let (kinds, design) = (a.kinds(1), evaluator.design());
    let found = a.components(0).into_iter().filter(|id| kinds.contains(&design.component(*id).kind));
    Ok(Value::List(found.map(Value::Component).collect()))
}

fn spread_out(a: &Arguments) -> Result<Value, FormulaError> {
    let (from, to, spacing) = (a.si(0).min(a.si(1)), a.si(0).max(a.si(1)), a.si(2));
    if !(spacing > 0.0 && (to - from) / spacing <= MOST_SUPPORTS) {
        return Err(FormulaError::domain("the spacing", format!("more than zero, and no more than {MOST_SUPPORTS} of them")));
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounded just before")]
    let spaces = (((to - from) / spacing - 1e-9).ceil().max(1.0)) as u32;
    let each = (to - from) / f64::from(spaces);
    Ok(Value::list_of((0..=spaces).map(|i| from + f64::from(i) * each), Dim::LENGTH))
}

// ── the weakest part of a way ────────────────────────────────────────────────────────────────────

fn part_of_a_way(a: &Arguments) -> Result<Value, FormulaError> {
    Ok(Value::record(vec![("name", text(format!("{} {}", a.word(0), a.word(1)))), ("pull", force(a.si(2))), ("holds", force(a.si(3)))]))
}

fn weakest(a: &Arguments) -> Result<Value, FormulaError> {
    fn gather(value: &Value, found: &mut Vec<std::sync::Arc<Record>>) {
        match value {
            Value::Record(record) => found.push(std::sync::Arc::clone(record)),
            Value::List(items) => items.iter().for_each(|item| gather(item, found)),
            _ => {}
        }
    }
    let mut parts = Vec::new();
    if let Some(value) = a.value(0) {
        gather(value, &mut parts);
    }
    let number = |record: &Record, name: &str| record.get(name).and_then(Value::si).unwrap_or(0.0);
    let used = |record: &Record| {
        let (pull, holds) = (number(record, "pull"), number(record, "holds"));
        if pull <= 0.0 {
            0.0
        } else if holds <= 0.0 {
            f64::MAX
        } else {
            pull / holds
        }
    };
    let worst = parts.iter().max_by(|one, other| used(one).total_cmp(&used(other)));
    let Some(worst) = worst else { return Err(FormulaError::domain("the way", "at least one part long")) };
    // Of a way's weakest part, as of a part, only these count: it may be one of several ways.
    let plain =
        |part: &Record| part.fields.iter().filter(|(name, _)| ["name", "pull", "holds"].contains(&name.as_str())).cloned().collect();
    let mut fields: Vec<(SmolStr, Value)> = plain(worst);
    fields.push((SmolStr::new_static("margin"), force(number(worst, "holds") - number(worst, "pull"))));
    fields.push((
        SmolStr::new_static("parts"),
        Value::List(parts.iter().map(|part| Value::Record(std::sync::Arc::new(Record { shape: None, fields: plain(part) }))).collect()),
    ));
    Ok(Value::Record(std::sync::Arc::new(Record { shape: None, fields })))
}

/// The table of this subject.
pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "wheel_loads",
        doc: "the weight on each wheel of a rigid roof, by force and moment balance; a wheel that would have to pull carries nothing",
        parameters: &[
            needs("weight", FORCE, "of the roof, or the snow on it"),
            needs("station", LENGTH, "where it acts, along the travel"),
            needs("offset", LENGTH, "where it acts, across the travel"),
            needs("wheel_stations", LENGTHS, "the wheels, along the travel"),
            needs("wheel_offsets", LENGTHS, "the wheels, across the travel"),
        ],
        gives: "table: stands, why, loads in the order of the wheels, most, least",
        source: "rigid-body statics",
        remembered: true,
        body: Body::Formula(wheel_loads),
    },
    Function {
        name: "all_of",
        doc: "all values that belong to a component, from a list of values in the order of a list of components",
        parameters: &[
            needs("values", Takes::Anything, "the values"),
            needs("component", Takes::Component, "whose"),
            needs("components", Takes::Components, "the components in the same order"),
        ],
        gives: "list",
        source: "arithmetic",
        remembered: false,
        body: Body::Design(all_of),
    },
    Function {
        name: "of_kind",
        doc: "those components of a list that are of one of these kinds",
        parameters: &[needs("components", Takes::Components, "the list"), needs("kinds", Takes::Kinds, "the kinds to keep")],
        gives: "components",
        source: "the design",
        remembered: false,
        body: Body::Design(of_kind),
    },
    Function {
        name: "spread_out",
        doc: "the places of studs, bolts, rafters along a length: one at each end, and between them evenly, no farther apart than the spacing",
        parameters: &[
            needs("first", LENGTH, "the first"),
            needs("last", LENGTH, "the last"),
            needs("spacing", LENGTH, "from one to the next"),
        ],
        gives: "list of lengths",
        source: "arithmetic",
        remembered: false,
        body: Body::Formula(spread_out),
    },
    Function {
        name: "part_of_a_way",
        doc: "one part on the way of a pull: its name, the pull on it, and what it holds",
        parameters: &[
            needs("what", Takes::Text, "what it is"),
            needs("of", Takes::Text, "the name of what it belongs to"),
            needs("pull", FORCE, "on it"),
            needs("holds", FORCE, "what it can take"),
        ],
        gives: "table: name, pull, holds",
        source: "statics",
        remembered: true,
        body: Body::Formula(part_of_a_way),
    },
    Function {
        name: "weakest",
        doc: "the part of a way that has the least left: the largest pull over what it holds",
        parameters: &[needs("parts", Takes::Anything, "tables of part_of_a_way")],
        gives: "table: name, pull, holds, margin, parts",
        source: "definition: a chain is as strong as its weakest link",
        remembered: true,
        body: Body::Formula(weakest),
    },
];
