//! What a telescope sees: the pole, the horizon that is really there, the hours above it.
//!
//! In: an eye and the bodies around it as tables, angles. Out: altitudes, azimuths, times. Azimuths count from north over
//! east, hour angles and offsets as `calc::sky` has them. It must not know which body is a house and which a roof.

use super::bodies_and_clearances::{Form, Thing, sky_stretch, things};
use super::body::{may, needs};
use crate::calc::FormulaError;
use crate::calc::clearance::prism::point;
use crate::calc::clearance::solid::{Point, turned};
use crate::calc::sky::arc::{above, clock_time};
use crate::calc::sky::horizon::{Horizon, Skyline};
use crate::calc::sky::outline::Obstacle;
use crate::calc::sky::place;
use crate::calc::sky::refraction::{Air, bennett, saemundsson};
use crate::calc::sky::visible::when_visible;
use crate::units::Dim;
use crate::values::Arguments;
use crate::values::Value;
use crate::values::{Body, Function, Parameter, Takes};
use smol_str::SmolStr;
use std::f64::consts::{FRAC_PI_2, TAU};

const LENGTH: Takes = Takes::Quantity(Dim::LENGTH);
const ANGLE: Takes = Takes::Quantity(Dim::ANGLE);
const COMPASS: &[&str] = &["north", "north_east", "east", "south_east", "south", "south_west", "west", "north_west"];

/// Steps round the horizon where nobody asks for others: whole degrees.
const STEPS: f64 = 360.0;
/// Finest steps round the horizon: half a minute of arc.
const MOST_STEPS: f64 = 43_200.0;

fn angle(si: f64) -> Value {
    Value::quantity(si, Dim::ANGLE)
}

fn time(si: f64) -> Value {
    Value::quantity(si, Dim::TIME)
}

#[expect(clippy::cast_precision_loss, reason = "a place among eight")]
fn compass(a: &Arguments) -> Result<Value, FormulaError> {
    let eighth = COMPASS.iter().position(|word| *word == a.word(0)).unwrap_or(0);
    Ok(angle(TAU / 8.0 * eighth as f64))
}

fn eye(a: &Arguments) -> Result<Value, FormulaError> {
    Ok(Value::record(vec![
        ("station", Value::quantity(a.si(0), Dim::LENGTH)),
        ("offset", Value::quantity(a.si(1), Dim::LENGTH)),
        ("level", Value::quantity(a.si(2), Dim::LENGTH)),
        ("facing", angle(a.si(3))),
    ]))
}

/// The horizon of the eye and bodies that stand first among the arguments, with the names of the bodies.
struct Around {
    horizon: Horizon,
    names: Vec<SmolStr>,
}

impl Around {
    fn of(a: &Arguments, open: usize) -> Result<Self, FormulaError> {
        let wrong = || FormulaError::domain("the eye", "the table of `eye`");
        let number = |field: &str| a.field(0, field).ok_or_else(wrong);
        let facing = number("facing")?;
        let eye = turned(point(number("station")?, number("offset")?, number("level")?), facing);
        let (mut names, mut obstacles) = (Vec::new(), Vec::new());
        for thing in things(a.value(1))? {
            obstacles.push(obstacle(&thing, eye, facing)?);
            names.push(thing.name);
        }
        Ok(Self { horizon: Horizon::new(eye, a.optional(open).unwrap_or(0.0), &obstacles)?, names })
    }

    fn named(&self, skyline: Skyline) -> SmolStr {
        let name = skyline.obstacle.and_then(|at| self.names.get(at));
        name.cloned().unwrap_or_else(|| SmolStr::new_static("the open horizon"))
    }
}

fn obstacle(thing: &Thing, eye: Point, facing: f64) -> Result<Obstacle, FormulaError> {
    let turned = |at: Point| turned(at, facing);
    Ok(match &thing.form {
        Form::Prism(prism) => Obstacle::Solid(prism.solid()?.mapped(turned)),
        Form::Edge { from, to } => Obstacle::Wall { from: turned(*from), to: turned(*to) },
        Form::Stretch { from, to, altitude } => Obstacle::Site { from: *from, to: *to, altitude: *altitude },
        Form::Ball { centre, radius } => {
            let centre = turned(*centre);
            let distance = centre.iter().zip(eye).map(|(c, e)| (c - e).powi(2)).sum::<f64>().sqrt();
            // Where one telescope swings round the other's axes, nothing is sure to be seen.
            let is_around = distance <= *radius;
            if is_around {
                Obstacle::Site { from: 0.0, to: TAU, altitude: FRAC_PI_2 }
            } else {
                Obstacle::Sphere { centre, radius: *radius }
            }
        }
        Form::Tube { .. } => {
            return Err(FormulaError::domain(format!("`{}`", thing.name), "a body that hides the same sky in every pose: a `ball`"));
        }
    })
}

fn horizon(a: &Arguments) -> Result<Value, FormulaError> {
    let steps = a.optional(2).unwrap_or(STEPS);
    if !(1.0..=MOST_STEPS).contains(&steps) {
        return Err(FormulaError::domain("the steps", format!("from 1 to {MOST_STEPS}")));
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounded just before")]
    let steps = steps.round() as u32;
    Ok(Value::list_of(Around::of(a, 3)?.horizon.all_round(steps), Dim::ANGLE))
}

fn skyline(around: &Around, skyline: Skyline) -> Value {
    let behind = Value::Text(around.named(skyline));
    Value::record(vec![("altitude", angle(skyline.altitude)), ("azimuth", angle(skyline.azimuth)), ("behind", behind)])
}

fn lowest_altitude(a: &Arguments) -> Result<Value, FormulaError> {
    let around = Around::of(a, 3)?;
    Ok(skyline(&around, around.horizon.at(a.si(2))))
}

fn highest_between(a: &Arguments) -> Result<Value, FormulaError> {
    let around = Around::of(a, 4)?;
    Ok(skyline(&around, around.horizon.worst_between(a.si(2), a.si(3))))
}

/// The air of the arguments from `at` on (pressure, temperature); the formulas' own where not given.
fn air(a: &Arguments, at: usize) -> Result<Air, FormulaError> {
    match (a.optional(at), a.optional(at + 1)) {
        (None, None) => Ok(Air::STANDARD),
        (pressure, temperature) => Air::new(pressure.unwrap_or(101_000.0), temperature.unwrap_or(283.15)),
    }
}

/// An angle from one pole to the other: a latitude, a declination.
fn from_pole_to_pole(what: &str, angle: f64) -> Result<f64, FormulaError> {
    if angle.abs() <= FRAC_PI_2 + 1e-9 { Ok(angle) } else { Err(FormulaError::domain(what, "from -90 to 90 deg")) }
}

fn latitude(a: &Arguments, at: usize) -> Result<f64, FormulaError> {
    from_pole_to_pole("the latitude", a.si(at))
}

fn declination(a: &Arguments, at: usize) -> Result<f64, FormulaError> {
    from_pole_to_pole("the declination", a.si(at))
}

fn time_visible(a: &Arguments) -> Result<Value, FormulaError> {
    let around = Around::of(a, 7)?;
    let air = if a.word(4) == "saemundsson" { Some(air(a, 5)?) } else { None };
    let seen = when_visible(&around.horizon, declination(a, 2)?, latitude(a, 3)?, air)?;
    let arc = |(from, to): &(f64, f64)| Value::record(vec![("from", angle(*from)), ("to", angle(*to))]);
    Ok(Value::record(vec![("total", time(clock_time(seen.angle()))), ("arcs", Value::List(seen.arcs.iter().map(arc).collect()))]))
}

fn time_above(a: &Arguments) -> Result<Value, FormulaError> {
    above(a.si(0), declination(a, 1)?, latitude(a, 2)?).map(|arc| time(clock_time(arc.angle())))
}

fn star(a: &Arguments) -> Result<Value, FormulaError> {
    let star = place::horizontal(a.si(0), declination(a, 1)?, latitude(a, 2)?);
    Ok(Value::record(vec![("altitude", angle(star.altitude)), ("azimuth", angle(star.azimuth))]))
}

fn celestial_pole(a: &Arguments) -> Result<Value, FormulaError> {
    let pole = place::pole(latitude(a, 0)?);
    Ok(Value::record(vec![("altitude", angle(pole.altitude)), ("azimuth", angle(pole.azimuth))]))
}

fn refraction(a: &Arguments) -> Result<Value, FormulaError> {
    let air = air(a, 2)?;
    Ok(angle(if a.word(1) == "bennett" { bennett(a.si(0), air) } else { saemundsson(a.si(0), air) }))
}

const EYE: Parameter = needs("eye", Takes::Record, "where it looks from; see eye");
const AROUND: Parameter = needs("around", Takes::Anything, "bodies that hide sky; all below their upper edge counts as hidden");
const OPEN: Parameter = may("open", ANGLE, "altitude of the horizon where nothing stands; level if not given");
const PRESSURE: Parameter = may("pressure", Takes::Quantity(Dim::PRESSURE), "of the air at the place itself; 1010 hPa if not given");
const TEMPERATURE: Parameter = may("temperature", Takes::Quantity(Dim::TEMPERATURE), "of the air; 10 degC if not given");
const LATITUDE: Parameter = needs("latitude", ANGLE, "of the place, north positive");
const DECLINATION: Parameter = needs("declination", ANGLE, "of the star, north positive");

const GREAT_CIRCLES: &str = "geometry: a straight edge seen from a point is part of a great circle";
const SPHERE: &str = "Meeus, Astronomical Algorithms (2nd ed. 1998), ch. 13 and 15 (there the azimuth counts from south)";

/// The table of this subject.
pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "compass",
        doc: "the azimuth of a point of the compass, from north over east",
        parameters: &[needs("point", Takes::Word(COMPASS), "north, north_east, …")],
        gives: "angle",
        source: "definition",
        remembered: false,
        body: Body::Formula(compass),
    },
    Function {
        name: "eye",
        doc: "the point that a telescope looks from: where the axes of its mount meet",
        parameters: &[
            needs("station", LENGTH, "along the travel"),
            needs("offset", LENGTH, "to the left"),
            needs("level", LENGTH, "above the slab"),
            needs("facing", ANGLE, "azimuth to which the roof opens"),
        ],
        gives: "table: station, offset, level, facing",
        source: "geometry: station along the travel, offset to the left, level up from the slab",
        remembered: true,
        body: Body::Formula(eye),
    },
    Function {
        name: "sky_stretch",
        doc: "something far away that hides sky: all that lies clockwise from one azimuth to another, up to an altitude",
        parameters: &[
            needs("name", Takes::Text, "what messages call it"),
            needs("from", ANGLE, "azimuth at which it begins"),
            needs("until", ANGLE, "azimuth at which it ends, clockwise"),
            needs("altitude", ANGLE, "of its top"),
        ],
        gives: "table: a body",
        source: "geometry",
        remembered: true,
        body: Body::Formula(sky_stretch),
    },
    Function {
        name: "horizon",
        doc: "the lowest visible altitude all round, in equal steps of azimuth from north over east",
        parameters: &[EYE, AROUND, may("steps", Takes::Quantity(Dim::NUMBER), "how many; 360 if not given"), OPEN],
        gives: "list of angles",
        source: GREAT_CIRCLES,
        remembered: false,
        body: Body::Formula(horizon),
    },
    Function {
        name: "lowest_altitude",
        doc: "the lowest visible altitude at one azimuth, and what makes it",
        parameters: &[EYE, AROUND, needs("azimuth", ANGLE, "from north over east"), OPEN],
        gives: "table: altitude, azimuth, behind",
        source: GREAT_CIRCLES,
        remembered: true,
        body: Body::Formula(lowest_altitude),
    },
    Function {
        name: "highest_between",
        doc: "where the horizon is highest clockwise from one azimuth to another, found from the edges themselves",
        parameters: &[EYE, AROUND, needs("from", ANGLE, "where it begins"), needs("until", ANGLE, "where it ends, clockwise"), OPEN],
        gives: "table: altitude, azimuth, behind",
        source: GREAT_CIRCLES,
        remembered: true,
        body: Body::Formula(highest_between),
    },
    Function {
        name: "time_visible",
        doc: "how long in a day and night a star stands above the horizon that is really there",
        parameters: &[
            EYE,
            AROUND,
            DECLINATION,
            LATITUDE,
            may(
                "refraction",
                Takes::Word(&["none", "saemundsson"]),
                "whether and by which formula the air lifts the star; none if not given",
            ),
            PRESSURE,
            TEMPERATURE,
            OPEN,
        ],
        gives: "table: total (time of the clock), arcs (hour angles from and to)",
        source: "Meeus, Astronomical Algorithms (2nd ed. 1998), ch. 13, 15 and 16.4",
        remembered: true,
        body: Body::Formula(time_visible),
    },
    Function {
        name: "time_above",
        doc: "how long in a day and night a star stands above one altitude all round: cos H = (sin a - sin phi sin delta)/(cos phi cos delta)",
        parameters: &[needs("altitude", ANGLE, "all round"), DECLINATION, LATITUDE],
        gives: "time",
        source: "Meeus, Astronomical Algorithms (2nd ed. 1998), ch. 15",
        remembered: false,
        body: Body::Formula(time_above),
    },
    Function {
        name: "star",
        doc: "where a star stands: altitude, and azimuth from north over east",
        parameters: &[needs("hour_angle", ANGLE, "since it culminated, westward; an hour is 15 deg"), DECLINATION, LATITUDE],
        gives: "table: altitude, azimuth",
        source: SPHERE,
        remembered: true,
        body: Body::Formula(star),
    },
    Function {
        name: "celestial_pole",
        doc: "where the sky turns about: as high as the latitude, due north in the north and due south in the south",
        parameters: &[LATITUDE],
        gives: "table: altitude, azimuth",
        source: "definition of latitude",
        remembered: true,
        body: Body::Formula(celestial_pole),
    },
    Function {
        name: "refraction",
        doc: "how far the air lifts a star: `bennett` by the altitude at which it is seen, `saemundsson` by that without air",
        parameters: &[
            needs("altitude", ANGLE, "of the star"),
            needs("formula", Takes::Word(&["bennett", "saemundsson"]), "which"),
            PRESSURE,
            TEMPERATURE,
        ],
        gives: "angle",
        source: "Bennett 1982, Saemundsson 1986, as in Meeus, Astronomical Algorithms (2nd ed. 1998), 16.3 and 16.4",
        remembered: false,
        body: Body::Formula(refraction),
    },
];
