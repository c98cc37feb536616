//! Shapes of a drawing as tables: what is seen of a part when it is looked at from above, from the side, along the travel.
//!
//! In: two of the three measures of the building, each one value, a range or a list. Out: a table that the drawings
//! read. It must not know on which sheet a shape goes, nor how lines are drawn.

use super::arguments::Arguments;
use super::{Body, Function, Parameter, Takes, may, needs};
use crate::calc::FormulaError;
use crate::units::Dim;
use crate::values::value::Value;
use smol_str::SmolStr;

const SOURCE: &str = "geometry: station along the travel, offset to the left, level up from the slab";
/// The measures of the building, in the order of the parameters.
const MEASURES: [&str; 3] = ["station", "offset", "level"];

/// The values of one measure: one, both ends of a range, or those of a list.
fn along(value: &Value) -> Result<Vec<f64>, FormulaError> {
    let wrong = || FormulaError::domain("each measure", "a length, a range of lengths or a list of lengths");
    let length = |value: &Value| match value {
        Value::Zero => Ok(0.0),
        Value::Quantity(quantity) if quantity.dim == Dim::LENGTH => Ok(quantity.si),
        _ => Err(wrong()),
    };
    match value {
        Value::Range(ends) if ends.iter().all(|end| end.dim == Dim::LENGTH) => Ok(ends.iter().map(|end| end.si).collect()),
        Value::List(items) => items.iter().map(length).collect(),
        value => Ok(vec![length(value)?]),
    }
}

/// The measures that were given, in the order station, offset, level.
fn measures(a: &Arguments) -> Result<Vec<(&'static str, Vec<f64>)>, FormulaError> {
    let given = MEASURES.into_iter().enumerate().filter_map(|(at, name)| a.value(at).map(|value| (name, value)));
    given.map(|(name, value)| Ok((name, along(value)?))).collect()
}

fn shape(name: &'static str, measures: Vec<(&'static str, Vec<f64>)>, more: Option<(&'static str, f64)>) -> Value {
    let mut fields = vec![("shape", Value::Word(SmolStr::new_static(name)))];
    fields.extend(measures.into_iter().map(|(name, values)| (name, Value::list_of(values, Dim::LENGTH))));
    fields.extend(more.map(|(name, si)| (name, Value::quantity(si, Dim::LENGTH))));
    Value::record(fields)
}

fn two(measures: &[(&'static str, Vec<f64>)]) -> Result<(), FormulaError> {
    if measures.len() == 2 { Ok(()) } else { Err(FormulaError::domain("the measures", "two of station, offset and level")) }
}

fn rectangle(a: &Arguments) -> Result<Value, FormulaError> {
    let measures = measures(a)?;
    two(&measures)?;
    if measures.iter().any(|(_, values)| values.len() != 2) {
        return Err(FormulaError::domain("each measure", "a range: from one side to the other"));
    }
    Ok(shape("rectangle", measures, None))
}

fn line(a: &Arguments) -> Result<Value, FormulaError> {
    let mut measures = measures(a)?;
    two(&measures)?;
    let points = measures.iter().map(|(_, values)| values.len()).max().unwrap_or(0);
    for (_, values) in &mut measures {
        if let [only] = values.as_slice() {
            *values = vec![*only; points];
        }
        if values.len() != points || points < 2 {
            return Err(FormulaError::domain("the measures", "as many of one as of the other, two at least"));
        }
    }
    Ok(shape("line", measures, None))
}

fn circle(a: &Arguments) -> Result<Value, FormulaError> {
    let measures = measures(a)?;
    two(&measures)?;
    if a.si(3) <= 0.0 {
        return Err(FormulaError::domain("the diameter", "above zero"));
    }
    single(&measures)?;
    Ok(shape("circle", measures, Some(("diameter", a.si(3)))))
}

fn mark(a: &Arguments) -> Result<Value, FormulaError> {
    let measures = measures(a)?;
    two(&measures)?;
    single(&measures)?;
    Ok(shape("mark", measures, None))
}

fn single(measures: &[(&'static str, Vec<f64>)]) -> Result<(), FormulaError> {
    if measures.iter().all(|(_, values)| values.len() == 1) { Ok(()) } else { Err(FormulaError::domain("each measure", "one length")) }
}

fn at(a: &Arguments) -> Result<Value, FormulaError> {
    let measures = measures(a)?;
    if measures.len() != 1 {
        return Err(FormulaError::domain("the measure", "one of station, offset and level"));
    }
    Ok(shape("at", measures, None))
}

fn north_arrow(a: &Arguments) -> Result<Value, FormulaError> {
    Ok(Value::record(vec![("shape", Value::Word(SmolStr::new_static("north_arrow"))), ("azimuth", Value::quantity(a.si(0), Dim::ANGLE))]))
}

fn around(a: &Arguments) -> Result<Value, FormulaError> {
    let (middle, size) = (a.quantity(0), a.si(1));
    let end = |si: f64| crate::values::value::Quantity { si, dim: Dim::LENGTH, unit: middle.unit.clone() };
    Ok(Value::Range([end(middle.si - size / 2.0), end(middle.si + size / 2.0)].into()))
}

const STATION: Parameter = may("station", Takes::Anything, "along the travel: a length, a range or a list");
const OFFSET: Parameter = may("offset", Takes::Anything, "across it");
const LEVEL: Parameter = may("level", Takes::Anything, "up from the slab");

/// The table of this subject.
pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "rectangle",
        doc: "a rectangle on a drawing: ranges of two of the three measures",
        parameters: &[STATION, OFFSET, LEVEL],
        gives: "table: a shape",
        source: SOURCE,
        body: Body::Formula(rectangle),
    },
    Function {
        name: "line",
        doc: "a line on a drawing from point to point: lists of two of the three measures, or one length for all points",
        parameters: &[STATION, OFFSET, LEVEL],
        gives: "table: a shape",
        source: SOURCE,
        body: Body::Formula(line),
    },
    Function {
        name: "circle",
        doc: "a circle on a drawing: its middle by two of the three measures",
        parameters: &[STATION, OFFSET, LEVEL, needs("diameter", Takes::Quantity(Dim::LENGTH), "of the circle")],
        gives: "table: a shape",
        source: SOURCE,
        body: Body::Formula(circle),
    },
    Function {
        name: "mark",
        doc: "the mark of a middle on a drawing, by two of the three measures; it has no size of its own",
        parameters: &[STATION, OFFSET, LEVEL],
        gives: "table: a shape",
        source: SOURCE,
        body: Body::Formula(mark),
    },
    Function {
        name: "at",
        doc: "a place along one of the three measures, or several, to be dimensioned",
        parameters: &[STATION, OFFSET, LEVEL],
        gives: "table: a shape",
        source: SOURCE,
        body: Body::Formula(at),
    },
    Function {
        name: "north_arrow",
        doc: "an arrow to the north on a plan",
        parameters: &[needs("opening", Takes::Quantity(Dim::ANGLE), "azimuth to which the roof opens, from north over east")],
        gives: "table: a shape",
        source: "geometry: azimuths run clockwise",
        body: Body::Formula(north_arrow),
    },
    Function {
        name: "around",
        doc: "the range of a size about its middle",
        parameters: &[
            needs("middle", Takes::Quantity(Dim::LENGTH), "of the range"),
            needs("size", Takes::Quantity(Dim::LENGTH), "from one end to the other"),
        ],
        gives: "range of length",
        source: SOURCE,
        body: Body::Formula(around),
    },
];
