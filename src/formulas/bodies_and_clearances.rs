//! Bodies of the building as tables, and whether they come close: what rolls over what, what stands beside what.
//!
//! In: stations, offsets and levels of walls, roofs and telescopes. Out: one table for each body, which the functions
//! of this file and of `sky` take; gaps, and the travel at which they are least. It must not know which of the bodies
//! may touch which.

use super::body::{may, needs};
use crate::calc::FormulaError;
use crate::calc::clearance::body;
use crate::calc::clearance::prism::{PlacedRoof, Prism, point};
use crate::calc::clearance::solid::Point;
use crate::calc::clearance::sweep::{Track, least_gap, lowering_needed, stretch_within};
use crate::calc::wind::roof::Axis;
use crate::units::Dim;
use crate::values::Arguments;
use crate::values::{Body, Function, Parameter, Takes};
use crate::values::{Record, Value};
use smol_str::SmolStr;

const LENGTH: Takes = Takes::Quantity(Dim::LENGTH);
const ANGLE: Takes = Takes::Quantity(Dim::ANGLE);
const NAME: Parameter = needs("name", Takes::Text, "what messages call it");

/// Bodies with flat faces have no depth of overlap, only none or some: what touches within this is an overlap, m.
const TOUCH: f64 = 1e-6;
/// Flat sides of a tube: so many that its corners stand out by 0.5 % of its radius.
const TUBE_SIDES: u32 = 32;

/// A body or a stretch of horizon that a table describes.
#[derive(Debug, Clone, PartialEq)]
pub struct Thing {
    /// What messages call it.
    pub name: SmolStr,
    /// What it is in space.
    pub form: Form,
}

/// Its form; points are to the right, along the travel, up.
#[derive(Debug, Clone, PartialEq)]
pub enum Form {
    /// An outline drawn straight.
    Prism(Prism),
    /// All within a radius, m.
    Ball {
        /// Its middle.
        centre: Point,
        /// m.
        radius: f64,
    },
    /// A round tube, m.
    Tube {
        /// One end of its axis.
        from: Point,
        /// The other.
        to: Point,
        /// m.
        diameter: f64,
    },
    /// A thin edge.
    Edge {
        /// One end.
        from: Point,
        /// The other.
        to: Point,
    },
    /// A stretch of horizon, rad.
    Stretch {
        /// Azimuth at which it begins.
        from: f64,
        /// Azimuth at which it ends, clockwise.
        to: f64,
        /// Of its top.
        altitude: f64,
    },
}

fn wrong() -> FormulaError {
    FormulaError::domain("each body", "a table of `box`, `ball`, `tube`, `top_edge`, `sky_stretch`, `roof_outside` or `roof_slopes`")
}

/// All bodies of an argument: one table, or lists of them in lists.
///
/// # Errors
/// Where something is not the table of a body.
pub fn things(value: Option<&Value>) -> Result<Vec<Thing>, FormulaError> {
    fn gather(value: &Value, found: &mut Vec<Thing>) -> Result<(), FormulaError> {
        match value {
            Value::Record(record) => found.push(thing(record)?),
            Value::List(items) => items.iter().try_for_each(|item| gather(item, found))?,
            _ => return Err(wrong()),
        }
        Ok(())
    }
    let mut found = Vec::new();
    if let Some(value) = value {
        gather(value, &mut found)?;
    }
    Ok(found)
}

fn thing(record: &Record) -> Result<Thing, FormulaError> {
    let text = |field: &str| match record.get(field) {
        Some(Value::Text(text) | Value::Word(text)) => Ok(text.clone()),
        _ => Err(wrong()),
    };
    let number = |field: &str| record.get(field).and_then(Value::si).ok_or_else(wrong);
    let numbers = |field: &str| match record.get(field) {
        Some(Value::List(items)) => Ok(items.iter().filter_map(Value::si).collect::<Vec<f64>>()),
        _ => Err(wrong()),
    };
    let place = |field: &str| match numbers(field)?.as_slice() {
        &[station, offset, level] => Ok(point(station, offset, level)),
        _ => Err(wrong()),
    };
    let form = match text("shape")?.as_str() {
        "prism" => Form::Prism(Prism {
            drawn: if text("drawn")? == "across" { Axis::Across } else { Axis::Along },
            outline: numbers("outline")?.into_iter().zip(numbers("levels")?).map(|(u, level)| [u, level]).collect(),
            from: number("from")?,
            to: number("to")?,
        }),
        "ball" => Form::Ball { centre: place("centre")?, radius: number("radius")? },
        "tube" => Form::Tube { from: place("from")?, to: place("to")?, diameter: number("diameter")? },
        "edge" => Form::Edge { from: place("from")?, to: place("to")? },
        "stretch" => Form::Stretch { from: number("from")?, to: number("to")?, altitude: number("altitude")? },
        _ => return Err(wrong()),
    };
    Ok(Thing { name: text("name")?, form })
}

/// A body with its name, for gaps.
struct Named {
    name: SmolStr,
    body: body::Body,
}

fn bodies(value: Option<&Value>) -> Result<Vec<Named>, FormulaError> {
    let solid = |thing: Thing| {
        let body = match thing.form {
            Form::Prism(prism) => body::Body::solid(&prism.solid()?)?,
            Form::Ball { centre, radius } => body::Body::sphere(centre, radius)?,
            Form::Tube { from, to, diameter } => body::Body::tube(from, to, diameter, TUBE_SIDES)?,
            Form::Edge { from, to } => body::Body::new(&[from, to], 0.0)?,
            Form::Stretch { .. } => return Err(FormulaError::domain(format!("`{}`", thing.name), "a body, not a stretch of sky")),
        };
        Ok(Named { name: thing.name, body })
    };
    things(value)?.into_iter().map(solid).collect()
}

fn prism(name: &str, prism: &Prism) -> Value {
    let length = |at: usize| Value::list_of(prism.outline.iter().filter_map(|corner| corner.get(at).copied()), Dim::LENGTH);
    Value::record(vec![
        ("name", Value::Text(SmolStr::new(name))),
        ("shape", Value::Word(SmolStr::new_static("prism"))),
        ("drawn", Value::Word(SmolStr::new_static(if prism.drawn == Axis::Across { "across" } else { "along" }))),
        ("outline", length(0)),
        ("levels", length(1)),
        ("from", Value::quantity(prism.from, Dim::LENGTH)),
        ("to", Value::quantity(prism.to, Dim::LENGTH)),
    ])
}

fn cuboid(a: &Arguments) -> Result<Value, FormulaError> {
    Ok(prism(a.word(0), &Prism::cuboid([a.si(1), a.si(2)], [a.si(3), a.si(4)], [a.si(5), a.si(6)])))
}

fn shaped(name: &str, shape: &'static str, mut fields: Vec<(&str, Value)>) -> Value {
    let mut all = vec![("name", Value::Text(SmolStr::new(name))), ("shape", Value::Word(SmolStr::new_static(shape)))];
    all.append(&mut fields);
    Value::record(all)
}

fn place(station: f64, offset: f64, level: f64) -> Value {
    Value::list_of([station, offset, level], Dim::LENGTH)
}

fn top_edge(a: &Arguments) -> Result<Value, FormulaError> {
    let (from, to) = (place(a.si(1), a.si(3), a.si(5)), place(a.si(2), a.si(4), a.si(5)));
    Ok(shaped(a.word(0), "edge", vec![("from", from), ("to", to)]))
}

fn ball(a: &Arguments) -> Result<Value, FormulaError> {
    let centre = place(a.si(1), a.si(2), a.si(3));
    Ok(shaped(a.word(0), "ball", vec![("centre", centre), ("radius", Value::quantity(a.si(4), Dim::LENGTH))]))
}

/// The tube's axis on the compass, turned into the building's own measures.
fn tube(a: &Arguments) -> Result<Value, FormulaError> {
    let (station, offset, level, front, back) = (a.si(1), a.si(2), a.si(3), a.si(4), a.si(5));
    let (altitude, to_the_right) = (a.si(8), a.si(7) - a.si(9));
    let (along, right, up) = (altitude.cos() * to_the_right.cos(), altitude.cos() * to_the_right.sin(), altitude.sin());
    let at = |way: f64| place(station + way * along, offset - way * right, level + way * up);
    let diameter = Value::quantity(a.si(6), Dim::LENGTH);
    Ok(shaped(a.word(0), "tube", vec![("from", at(-back)), ("to", at(front)), ("diameter", diameter)]))
}

pub(super) fn sky_stretch(a: &Arguments) -> Result<Value, FormulaError> {
    let angle = |at: usize| Value::quantity(a.si(at), Dim::ANGLE);
    Ok(shaped(a.word(0), "stretch", vec![("from", angle(1)), ("to", angle(2)), ("altitude", angle(3))]))
}

fn placed(a: &Arguments, travel: f64) -> Result<PlacedRoof, FormulaError> {
    let form = a.value(1).and_then(super::take::table::<super::tables::table::RoofForm>);
    let roof = form.ok_or_else(|| FormulaError::domain("the form", "the table of `roof_form`"))?.roof()?;
    let (start, right) = (a.si(2) + travel, a.si(3));
    Ok(PlacedRoof { shape: roof.shape, stations: [start, start + roof.length], offsets: [right, right + roof.width], eaves: a.si(4) })
}

fn roof_outside(a: &Arguments) -> Result<Value, FormulaError> {
    Ok(prism(a.word(0), &placed(a, a.optional(6).unwrap_or(0.0))?.outside(a.si(5))))
}

fn roof_slopes(a: &Arguments) -> Result<Value, FormulaError> {
    Ok(Value::List(placed(a, 0.0)?.slopes(a.si(5)).iter().map(|slope| prism(a.word(0), slope)).collect()))
}

fn sweep(a: &Arguments) -> Result<Value, FormulaError> {
    let (parts, standing) = (bodies(a.value(0))?, bodies(a.value(1))?);
    let track = Track::new(point(1.0, 0.0, 0.0), a.si(2), a.si(3))?;
    let wanted = a.optional(4).unwrap_or(0.0);
    let pairs = || parts.iter().flat_map(|part| standing.iter().map(move |still| (part, still)));
    let lowering = |(part, still): (&Named, &Named), wanted: f64| lowering_needed(&part.body, &still.body, &track, wanted);
    // Of those that meet, the pair that has most to give way; else the closest.
    let deepest = pairs().map(|pair| (lowering(pair, TOUCH), pair)).max_by(|a, b| a.0.total_cmp(&b.0));
    let (gap, (part, still), closer_than) = match deepest {
        Some((too_tall, pair)) if too_tall > 0.0 => (-too_tall, pair, TOUCH),
        Some(_) => {
            let nearest = pairs().map(|pair| (least_gap(&pair.0.body, &pair.1.body, &track), pair)).min_by(|a, b| a.0.total_cmp(&b.0));
            let (gap, pair) = nearest.ok_or_else(wrong)?;
            (gap, pair, if gap < wanted { wanted } else { gap + TOUCH })
        }
        None => return Err(FormulaError::domain("the bodies", "at least one that rolls and one that stands")),
    };
    let needed = pairs().map(|pair| lowering(pair, wanted)).fold(0.0, f64::max);
    let (travel, until) = stretch_within(&part.body, &still.body, &track, closer_than).unwrap_or((a.si(2), a.si(2)));
    let length = |si: f64| Value::quantity(si, Dim::LENGTH);
    Ok(Value::record(vec![
        ("gap", length(gap)),
        ("lowering", length(needed)),
        ("part", Value::Text(part.name.clone())),
        ("body", Value::Text(still.name.clone())),
        ("travel", length(travel)),
        ("until", length(until)),
    ]))
}

fn gap_between(a: &Arguments) -> Result<Value, FormulaError> {
    let (these, those) = (bodies(a.value(0))?, bodies(a.value(1))?);
    let pairs = these.iter().flat_map(|a| those.iter().map(move |b| (a.body.gap(&b.body), a, b)));
    let (gap, this, that) =
        pairs.min_by(|a, b| a.0.total_cmp(&b.0)).ok_or_else(|| FormulaError::domain("the bodies", "at least one on each side"))?;
    Ok(Value::record(vec![
        ("gap", Value::quantity(gap, Dim::LENGTH)),
        ("this", Value::Text(this.name.clone())),
        ("that", Value::Text(that.name.clone())),
    ]))
}

const MEASURES: &str = "geometry: station along the travel, offset to the left, level up from the slab";
const DISTANCE: &str =
    "solid geometry: distance of convex bodies (Gilbert, Johnson and Keerthi 1988); along a straight way the gap has one valley";

macro_rules! length {
    ($name:literal, $doc:literal) => {
        needs($name, LENGTH, $doc)
    };
}

const FORM: Parameter = needs("form", Takes::Record, "the roof's form; see roof_form");
const START: Parameter = length!("start", "station of its closed-end edge, roof shut");
const RIGHT_EDGE: Parameter = length!("right_edge", "offset of its right-hand edge");
const EAVES_LEVEL: Parameter = length!("eaves_level", "level of the lower edge of the slope");

/// The table of this subject.
pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "box",
        doc: "a body with square corners: a wall, a gable end, a tie",
        parameters: &[
            NAME,
            length!("station_from", "its beginning along the travel"),
            length!("station_to", "its end along the travel"),
            length!("offset_from", "its right side"),
            length!("offset_to", "its left side"),
            length!("level_from", "its underside"),
            length!("level_to", "its top"),
        ],
        gives: "table: a body",
        source: MEASURES,
        remembered: true,
        body: Body::Formula(cuboid),
    },
    Function {
        name: "top_edge",
        doc: "a thin edge at one level: the top of a rail, a ridge, a wire",
        parameters: &[
            NAME,
            length!("station_from", "one end"),
            length!("station_to", "the other end"),
            length!("offset_from", "one end"),
            length!("offset_to", "the other end"),
            length!("level", "of the edge"),
        ],
        gives: "table: a body",
        source: MEASURES,
        remembered: true,
        body: Body::Formula(top_edge),
    },
    Function {
        name: "ball",
        doc: "everything within a radius: what a telescope sweeps when it turns every way about its mount",
        parameters: &[
            NAME,
            length!("station", "of the middle"),
            length!("offset", "of the middle"),
            length!("level", "of the middle"),
            length!("radius", "from the middle to whatever reaches farthest"),
        ],
        gives: "table: a body",
        source: MEASURES,
        remembered: true,
        body: Body::Formula(ball),
    },
    Function {
        name: "tube",
        doc: "a round tube in one pose: a parked telescope",
        parameters: &[
            NAME,
            length!("station", "of the point where the axes of the mount meet"),
            length!("offset", "of that point"),
            length!("level", "of that point"),
            length!("front", "from that point to the front end"),
            length!("back", "from that point to the back end"),
            length!("diameter", "outside"),
            needs("azimuth", ANGLE, "to which the front end points, from north over east"),
            needs("altitude", ANGLE, "to which it points, above the level"),
            needs("facing", ANGLE, "azimuth to which the roof opens"),
        ],
        gives: "table: a body",
        source: MEASURES,
        remembered: true,
        body: Body::Formula(tube),
    },
    Function {
        name: "roof_outside",
        doc: "the roof as one closed body: what it hides",
        parameters: &[
            NAME,
            FORM,
            START,
            RIGHT_EDGE,
            EAVES_LEVEL,
            length!("bottom", "level of its lowest edge"),
            may("travel", LENGTH, "how far it is rolled open; shut if not given"),
        ],
        gives: "table: a body",
        source: MEASURES,
        remembered: true,
        body: Body::Formula(roof_outside),
    },
    Function {
        name: "roof_slopes",
        doc: "the slopes of the shut roof as slabs: what passes over",
        parameters: &[NAME, FORM, START, RIGHT_EDGE, EAVES_LEVEL, length!("depth", "of covering and rafters, measured plumb")],
        gives: "list of tables: a body for each slope",
        source: MEASURES,
        remembered: false,
        body: Body::Formula(roof_slopes),
    },
    Function {
        name: "sweep",
        doc: "how close bodies that roll the way the roof opens come to bodies that stand still; a gap less than nothing says how far the standing one is too tall",
        parameters: &[
            needs("moving", Takes::Anything, "bodies, where they are with the roof shut"),
            needs("standing", Takes::Anything, "bodies"),
            length!("from", "travel at which it begins"),
            length!("until", "travel at which it ends"),
            may("wanted", LENGTH, "the gap that is wanted; none if not given"),
        ],
        gives: "table: gap, lowering (of the standing body, to have the wanted gap), part, body, travel and until (between which they meet, or are closer than wanted; else the travel at which they are closest)",
        source: DISTANCE,
        remembered: true,
        body: Body::Formula(sweep),
    },
    Function {
        name: "gap_between",
        doc: "the least gap between two bodies, or two groups of them; less than nothing where they overlap",
        parameters: &[needs("these", Takes::Anything, "bodies"), needs("those", Takes::Anything, "bodies")],
        gives: "table: gap, this, that (the two that are closest)",
        source: DISTANCE,
        remembered: true,
        body: Body::Formula(gap_between),
    },
];
