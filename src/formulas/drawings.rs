//! Shapes of a drawing as tables: what is seen of a part when it is looked at from above, from the side, along the travel.
//!
//! In: two of the three measures of the building, each one value, a range or a list. Out: a table that the drawings
//! read. It must not know on which sheet a shape goes, nor how lines are drawn.

use super::body::{may, needs};
use crate::calc::FormulaError;
use crate::calc::sky::place::horizontal;
use crate::units::Dim;
use crate::values::Arguments;
use crate::values::Value;
use crate::values::{Body, Function, Parameter, Takes};
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

/// Places on a circle about the datum, from `first` on, counted from the way the roof opens to the left.
fn ring(a: &Arguments) -> Result<Value, FormulaError> {
    let (count, circle, first) = (a.si(0), a.si(1), a.si(2));
    if !(1.0..=MOST_OF_A_RING).contains(&count) || count.fract() != 0.0 {
        return Err(FormulaError::domain("the count", format!("a whole number from 1 to {MOST_OF_A_RING}")));
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounded just before")]
    let places = (0..count as u32).map(|at| first + f64::from(at) / count * std::f64::consts::TAU);
    let one = |turn: f64| {
        let measures = vec![("station", vec![circle / 2.0 * turn.cos()]), ("offset", vec![circle / 2.0 * turn.sin()])];
        match a.optional(3) {
            Some(diameter) => shape("circle", measures, Some(("diameter", diameter))),
            None => shape("mark", measures, None),
        }
    };
    Ok(Value::List(places.map(one).collect()))
}

/// More than this on one circle is a slip.
const MOST_OF_A_RING: f64 = 360.0;

fn diagram(name: &'static str, fields: &[(&'static str, Value)]) -> Value {
    let word = ("shape", Value::Word(SmolStr::new_static(name)));
    Value::record(std::iter::once(word).chain(fields.iter().cloned()).collect())
}

fn curve(a: &Arguments) -> Result<Value, FormulaError> {
    let (across, up) = (a.values(0), a.values(1));
    if across.len() != up.len() || across.len() < 2 {
        return Err(FormulaError::domain("the lists", "as long as each other, two at least"));
    }
    Ok(diagram("curve", &[("across", Value::List(across.into())), ("up", Value::List(up.into()))]))
}

fn upright(a: &Arguments) -> Result<Value, FormulaError> {
    Ok(diagram("upright", &[("across", Value::List(a.values(0).into()))]))
}

fn area(a: &Arguments) -> Result<Value, FormulaError> {
    let (across, up) = (a.values(0), a.values(1));
    if across.len() != 2 || up.len() != 2 {
        return Err(FormulaError::domain("each side", "a list of two: from and to"));
    }
    Ok(diagram("area", &[("across", Value::List(across.into())), ("up", Value::List(up.into()))]))
}

/// Values at even steps.
fn evenly(a: &Arguments) -> Result<Value, FormulaError> {
    let (first, last, count) = (a.quantity(0), a.quantity(1), a.si(2));
    if first.dim != last.dim {
        return Err(FormulaError::domain("the ends", "of one dimension"));
    }
    if !(2.0..=MOST_STEPS).contains(&count) || count.fract() != 0.0 {
        return Err(FormulaError::domain("the count", format!("a whole number from 2 to {MOST_STEPS}")));
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounded just before")]
    let parts = (0..count as u32).map(|at| f64::from(at) / (count - 1.0));
    Ok(Value::list_of(parts.map(|part| first.si + part * (last.si - first.si)), first.dim))
}

/// More values than this are a slip.
const MOST_STEPS: f64 = 10_000.0;

/// Steps of the way of a star in a day: every ten minutes.
const STEPS_OF_A_DAY: u32 = 144;

fn star_track(a: &Arguments) -> Result<Value, FormulaError> {
    let (declination, latitude) = (a.si(0), a.si(1));
    // A day begins where the star is due north if it is, so that its azimuths run on without a leap.
    let start = if declination > latitude { 0.0 } else { -std::f64::consts::PI };
    let turns = (0..=STEPS_OF_A_DAY).map(|step| start + f64::from(step) / f64::from(STEPS_OF_A_DAY) * std::f64::consts::TAU);
    let places = turns.map(|turn| horizontal(turn, declination, latitude)).filter(|place| place.altitude >= 0.0);
    let (across, up): (Vec<f64>, Vec<f64>) = places.map(|place| (place.azimuth, place.altitude)).unzip();
    if across.len() < 2 {
        return Err(FormulaError::domain("the star", "one that rises at this latitude"));
    }
    Ok(diagram("curve", &[("across", Value::list_of(across, Dim::ANGLE)), ("up", Value::list_of(up, Dim::ANGLE))]))
}

fn around(a: &Arguments) -> Result<Value, FormulaError> {
    let (middle, size) = (a.quantity(0), a.si(1));
    let end = |si: f64| crate::values::Quantity { si, dim: Dim::LENGTH, unit: middle.unit.clone() };
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
        remembered: true,
        body: Body::Formula(rectangle),
    },
    Function {
        name: "line",
        doc: "a line on a drawing from point to point: lists of two of the three measures, or one length for all points",
        parameters: &[STATION, OFFSET, LEVEL],
        gives: "table: a shape",
        source: SOURCE,
        remembered: true,
        body: Body::Formula(line),
    },
    Function {
        name: "circle",
        doc: "a circle on a drawing: its middle by two of the three measures",
        parameters: &[STATION, OFFSET, LEVEL, needs("diameter", Takes::Quantity(Dim::LENGTH), "of the circle")],
        gives: "table: a shape",
        source: SOURCE,
        remembered: true,
        body: Body::Formula(circle),
    },
    Function {
        name: "mark",
        doc: "the mark of a middle on a drawing, by two of the three measures; it has no size of its own",
        parameters: &[STATION, OFFSET, LEVEL],
        gives: "table: a shape",
        source: SOURCE,
        remembered: true,
        body: Body::Formula(mark),
    },
    Function {
        name: "at",
        doc: "a place along one of the three measures, or several, to be dimensioned",
        parameters: &[STATION, OFFSET, LEVEL],
        gives: "table: a shape",
        source: SOURCE,
        remembered: true,
        body: Body::Formula(at),
    },
    Function {
        name: "north_arrow",
        doc: "an arrow to the north on a plan",
        parameters: &[needs("opening", Takes::Quantity(Dim::ANGLE), "azimuth to which the roof opens, from north over east")],
        gives: "table: a shape",
        source: "geometry: azimuths run clockwise",
        remembered: true,
        body: Body::Formula(north_arrow),
    },
    Function {
        name: "ring",
        doc: "marks evenly on a circle about the datum; circles where they have a diameter",
        parameters: &[
            needs("count", Takes::Quantity(Dim::NUMBER), "how many"),
            needs("circle", Takes::Quantity(Dim::LENGTH), "diameter of the circle that they lie on"),
            needs("first", Takes::Quantity(Dim::ANGLE), "of the first, from the way the roof opens to the left"),
            may("diameter", Takes::Quantity(Dim::LENGTH), "of each"),
        ],
        gives: "list of tables: shapes",
        source: SOURCE,
        remembered: false,
        body: Body::Formula(ring),
    },
    Function {
        name: "curve",
        doc: "a curve in a diagram, from point to point",
        parameters: &[needs("across", Takes::Anything, "a list of values across"), needs("up", Takes::Anything, "as many values up")],
        gives: "table: a shape of a diagram",
        source: "drawing",
        remembered: true,
        body: Body::Formula(curve),
    },
    Function {
        name: "upright",
        doc: "an upright line in a diagram",
        parameters: &[needs("across", Takes::AnyQuantity, "where")],
        gives: "table: a shape of a diagram",
        source: "drawing",
        remembered: true,
        body: Body::Formula(upright),
    },
    Function {
        name: "area",
        doc: "a rectangle in a diagram",
        parameters: &[needs("across", Takes::Anything, "a list: from, to"), needs("up", Takes::Anything, "a list: from, to")],
        gives: "table: a shape of a diagram",
        source: "drawing",
        remembered: true,
        body: Body::Formula(area),
    },
    Function {
        name: "evenly",
        doc: "values at even steps from one to another",
        parameters: &[
            needs("first", Takes::AnyQuantity, "the first"),
            needs("last", Takes::AnyQuantity, "the last"),
            needs("count", Takes::Quantity(Dim::NUMBER), "how many, both ends counted"),
        ],
        gives: "list",
        source: "arithmetic",
        remembered: false,
        body: Body::Formula(evenly),
    },
    Function {
        name: "star_track",
        doc: "the way of a star over the sky of a day, where it is up",
        parameters: &[
            needs("declination", Takes::Quantity(Dim::ANGLE), "of the star"),
            needs("latitude", Takes::Quantity(Dim::ANGLE), "of the place"),
        ],
        gives: "table: a shape of a diagram, azimuth across, altitude up",
        source: "Meeus, Astronomical Algorithms (2nd ed. 1998), ch. 13",
        remembered: true,
        body: Body::Formula(star_track),
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
        remembered: false,
        body: Body::Formula(around),
    },
];
