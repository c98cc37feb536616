//! The roof on its way: forces along the travel, how far it coasts, the whole run from end to end.
//!
//! In: where the wheels stand, what they carry and how they roll, the levels of the tracks, drive,
//! sensor, stops. Out: tables. What may be missing comes as a list, empty if it is not there. How a
//! motion is worked out stands in `calc::motion`; it must not know a component.

use super::body::{may, needs};
use crate::calc::FormulaError;
use crate::calc::motion::{Direction, Drive, End, Halt, Moment, Motion, Phase, Run, Sensor, Spring, Stop, Track, travel};
use crate::units::Dim;
use crate::values::Arguments;
use crate::values::{Body, Function, Parameter, Takes};
use crate::values::{Record, Value};
use smol_str::SmolStr;

const SPEED: Takes = Takes::Quantity(Dim::SPEED);
const MASS: Takes = Takes::Quantity(Dim::MASS);
const FORCE: Takes = Takes::Quantity(Dim::FORCE);
const TIME: Takes = Takes::Quantity(Dim::TIME);
const NUMBER: Takes = Takes::Quantity(Dim::NUMBER);
const DIRECTIONS: &[&str] = &["opening", "closing"];

/// What stands for the coast of a roof that does not come to rest by itself, m: farther than any travel.
const ENDLESS: f64 = 100.0;
/// Travel that is looked at where a design has no length of its own yet, m.
const SOME_TRAVEL: f64 = 1.0;
/// A travel this near to the end of a run is its end, m.
const AT_THE_END: f64 = 1e-9;
/// A drive without a known limit pulls this many times what moves against it.
const PLENTY: f64 = 1e3;

fn length(si: f64) -> Value {
    Value::quantity(si, Dim::LENGTH)
}

fn force(si: f64) -> Value {
    Value::quantity(si, Dim::FORCE)
}

fn speed(si: f64) -> Value {
    Value::quantity(si, Dim::SPEED)
}

fn time(si: f64) -> Value {
    Value::quantity(si, Dim::TIME)
}

fn positive(what: &str, si: f64) -> Result<f64, FormulaError> {
    if si > 0.0 { Ok(si) } else { Err(FormulaError::domain(what, "above zero")) }
}

fn direction(a: &Arguments, at: usize) -> Direction {
    if a.word(at) == "closing" { Direction::Shutting } else { Direction::Opening }
}

fn sign(direction: Direction) -> f64 {
    if direction == Direction::Opening { 1.0 } else { -1.0 }
}

fn way(a: &Arguments) -> Result<Value, FormulaError> {
    let (stations, loads, resistances) = (a.list(0), a.list(1), a.list(2));
    let (places, levels) = (a.values(3), a.values(4));
    let travels = a.list(6);
    if stations.is_empty() || [loads.len(), resistances.len(), places.len(), levels.len()] != [stations.len(); 4] {
        return Err(FormulaError::domain("the wheels", "as many as their loads, resistances and tracks"));
    }
    let rolling: f64 = loads.iter().zip(&resistances).map(|(load, share)| load * share).sum();
    let resistance = rolling + a.optional(5).unwrap_or(0.0);
    let from = travels.iter().copied().fold(0.0, f64::min);
    let to = travels.iter().copied().fold(from, f64::max);
    let to = if to > from { to } else { from + SOME_TRAVEL };
    let mut track = Track::level(from, to, resistance)?;
    for (((station, load), places), levels) in stations.iter().zip(&loads).zip(&places).zip(&levels) {
        let (places, levels) = (numbers(places), numbers(levels));
        if places.len() != levels.len() {
            return Err(FormulaError::domain("the levels of a track", "one for each station at which it was levelled"));
        }
        let points: Vec<(f64, f64)> = places.into_iter().zip(levels).collect();
        track = track.grade_under(&points, *station, *load)?;
    }
    let steepest =
        track.stretches().iter().fold(
            (0.0, from),
            |worst: (f64, f64), stretch| {
                if stretch.push.abs() > worst.0 { (stretch.push.abs(), stretch.from) } else { worst }
            },
        );
    let (opening, closing) = (track.governing_pull(true), track.governing_pull(false));
    let stretch = |s: &crate::calc::motion::Stretch| {
        Value::record(vec![
            ("from", length(s.from)),
            ("to", length(s.to)),
            ("push", force(s.push)),
            ("rate", Value::quantity(s.rate, Dim::LINE_LOAD)),
        ])
    };
    Ok(Value::record(vec![
        ("resistance", force(resistance)),
        ("grade", force(steepest.0)),
        ("grade_at", length(steepest.1)),
        ("opening_pull", force(opening.force)),
        ("opening_pull_at", length(opening.travel)),
        ("closing_pull", force(closing.force)),
        ("closing_pull_at", length(closing.travel)),
        ("stretches", Value::List(track.stretches().iter().map(stretch).collect())),
    ]))
}

fn numbers(value: &Value) -> Vec<f64> {
    match value {
        Value::List(items) => items.iter().filter_map(Value::si).collect(),
        value => value.si().into_iter().collect(),
    }
}

/// The track that a table of `roof_way` describes, with a steady `wind` (N) that pushes it open.
fn track(way: Option<&Record>, wind: f64) -> Result<Track, FormulaError> {
    let wrong = || FormulaError::domain("the way", "the table of `roof_way`");
    let way = way.ok_or_else(wrong)?;
    let Some(Value::List(stretches)) = way.get("stretches") else { return Err(wrong()) };
    let parts: Vec<[f64; 4]> = stretches
        .iter()
        .map(|stretch| {
            let Value::Record(stretch) = stretch else { return Err(wrong()) };
            let number = |name: &str| stretch.get(name).and_then(Value::si).ok_or_else(wrong);
            Ok([number("from")?, number("to")?, number("push")?, number("rate")?])
        })
        .collect::<Result<_, _>>()?;
    let (Some(first), Some(last)) = (parts.first(), parts.last()) else { return Err(wrong()) };
    let resistance = way.get("resistance").and_then(Value::si).ok_or_else(wrong)?;
    let mut track = Track::level(first[0], last[1], resistance)?;
    for [from, to, push, rate] in parts {
        track = track.push_between(from, to, push, push + rate * (to - from))?;
    }
    if wind == 0.0 { Ok(track) } else { track.push(wind) }
}

/// All that moves against the drive, and the mass it speeds up: a measure of what is plenty.
fn plenty(track: &Track, mass: f64) -> f64 {
    let against = track.stretches().iter().map(|s| s.resistance + s.push.abs()).fold(0.0, f64::max);
    PLENTY * (against + mass)
}

fn coast(a: &Arguments) -> Result<Value, FormulaError> {
    let direction = direction(a, 0);
    let mass = positive("mass of the roof", a.si(2))? + a.optional(7).unwrap_or(0.0);
    let (v, reaction, brake) = (positive("speed", a.si(3))?, a.si(4), a.si(5));
    let track = track(a.record(1), a.optional(8).unwrap_or(0.0))?;
    let way = sign(direction);
    let end = if direction == Direction::Opening { track.to() } else { track.from() };
    let at = a.list(6).into_iter().next().unwrap_or(end).clamp(track.from(), track.to());
    let pull = plenty(&track, mass);
    let here = track.stretches().iter().find(|stretch| at <= stretch.to);
    let held_by = here.map_or(0.0, |stretch| stretch.resistance) + brake;
    let pushed_by = way * here.map_or(0.0, |stretch| stretch.push_at(at));
    let motion = Motion {
        mass,
        track,
        direction,
        start: at,
        speed: way * v,
        breakaway: 1.0,
        drive: Some(Drive::Geared { speed: v, ramp: f64::INFINITY, pull, holds_back: pull }),
        sensor: Some(Sensor { at, reaction }),
        halt: Halt::Coast { brake, damping: 0.0 },
        shut_stop: None,
        open_stop: None,
    };
    let coast = travel(&motion)?.coast;
    let rests = coast.is_some();
    let coast = coast.unwrap_or(ENDLESS).min(ENDLESS);
    let reacting = (v * reaction).min(coast);
    Ok(Value::record(vec![
        ("coast", length(coast)),
        ("reacting", length(reacting)),
        ("slowing", length(coast - reacting)),
        ("held_by", force(held_by)),
        ("pushed_by", force(pushed_by)),
        ("moving", Value::quantity(mass, Dim::MASS)),
        ("deceleration", Value::quantity((held_by - pushed_by) / mass, Dim::ACCELERATION)),
        ("rests", Value::Flag(rests)),
        ("from", length(at)),
    ]))
}

fn run(a: &Arguments) -> Result<Value, FormulaError> {
    let direction = direction(a, 0);
    let mass = positive("mass of the roof", a.si(2))? + a.optional(10).unwrap_or(0.0);
    let v = positive("speed", a.si(3))?;
    let start_time = a.si(5);
    let track = track(a.record(1), a.optional(11).unwrap_or(0.0))?;
    let first = |at: usize| a.list(at).into_iter().next();
    let limit = first(12).unwrap_or_else(|| plenty(&track, mass));
    let drive = match first(13) {
        Some(no_load_speed) if a.list(12).len() == 1 => {
            Drive::Motor { stall: limit, no_load_speed, limit: f64::INFINITY, holds_back: f64::INFINITY }
        }
        _ => {
            Drive::Geared { speed: v, ramp: if start_time > 0.0 { v / start_time } else { f64::INFINITY }, pull: limit, holds_back: limit }
        }
    };
    let spring = match (first(14), first(15)) {
        (Some(rate), Some(stroke)) if rate > 0.0 && stroke > 0.0 => Some(Spring { rate, stroke }),
        _ => None,
    };
    let stop = |at: f64, spring| Stop { at: at.clamp(track.from(), track.to()), spring };
    // Of several stops at one end the roof meets the nearest.
    let open = a.list(8).into_iter().reduce(f64::min);
    let shut = a.list(9).into_iter().reduce(f64::max);
    let opening = direction == Direction::Opening;
    let start = if opening { shut.unwrap_or(track.from()) } else { open.unwrap_or(track.to()) }.clamp(track.from(), track.to());
    let motion = Motion {
        mass,
        direction,
        start,
        speed: 0.0,
        breakaway: a.si(6),
        drive: Some(drive),
        sensor: first(7).map(|at| Sensor { at, reaction: a.si(4) }),
        halt: Halt::Coast { brake: a.optional(16).unwrap_or(0.0), damping: 0.0 },
        shut_stop: shut.map(|at| stop(at, spring.filter(|_| !opening))),
        open_stop: open.map(|at| stop(at, spring.filter(|_| opening))),
        track,
    };
    let whole = travel(&motion)?;
    let contact = whole.failed_contact();
    let peak = whole.run.peak_pull;
    // A stop that does not give way presses with what nobody can work out.
    let solid = contact.is_some_and(|contact| contact.spring_force.is_none());
    let mut fields = vec![
        ("time", time(whole.time)),
        ("ends", Value::Word(SmolStr::new_static(end_word(&whole.run)))),
        ("stalls", Value::Flag(whole.run.end == End::Stalls)),
        ("rests_at", length(whole.run.last.travel)),
        ("peak_pull", force(peak.map_or(0.0, |peak| peak.pull))),
        ("peak_pull_at", length(peak.map_or(motion.start, |peak| peak.travel))),
        ("speed_at_trip", speed(whole.run.trip.map_or(0.0, |trip| trip.speed.abs()))),
        ("rolls_back", Value::Flag(whole.run.rolls_back.is_some())),
        ("meets_stop", Value::Flag(contact.is_some())),
        ("speed_at_stop", speed(contact.map_or(0.0, |contact| contact.moment.speed.abs()))),
        ("energy_at_stop", Value::quantity(contact.map_or(0.0, |contact| contact.energy), Dim::ENERGY)),
        ("pressed_in", length(contact.map_or(0.0, |contact| contact.compression))),
        ("hits_solid", Value::Flag(contact.is_some_and(|contact| contact.hard_speed.is_some()))),
        ("why", Value::Text(SmolStr::new_static(if solid { "the stop does not give way, and its force is not known" } else { "" }))),
        ("course", course(&whole.run)),
    ];
    if !solid {
        fields.push(("force_on_stop", force(contact.and_then(|contact| contact.spring_force).unwrap_or(0.0))));
    }
    Ok(Value::record(fields))
}

/// The roof where it first comes by a travel. Between two moments of a course the force is taken as steady: the square
/// of the speed changes evenly with the way.
fn moment_at(a: &Arguments) -> Result<Value, FormulaError> {
    let wrong = || FormulaError::domain("the run", "the table of `roof_run`");
    let Some(Value::Record(course)) = a.record(0).and_then(|run| run.get("course")) else { return Err(wrong()) };
    let list = |name: &str| course.get(name).map(numbers).ok_or_else(wrong);
    let (times, travels, speeds, pulls) = (list("time")?, list("travel")?, list("speed")?, list("pull")?);
    let Some(Value::List(doing)) = course.get("doing") else { return Err(wrong()) };
    let (Some(first), Some(last)) = (travels.first(), travels.last()) else { return Err(wrong()) };
    let near = |x: f64, end: &f64| if (x - end).abs() < AT_THE_END { *end } else { x };
    let at = near(near(a.si(1), first), last);
    let by = travels.windows(2).position(|pair| match pair {
        [from, to] => from != to && (at - from) * (at - to) <= 0.0,
        _ => false,
    });
    let Some(by) = by else {
        let (least, most) = travels.iter().fold((*first, *first), |(least, most), x| (least.min(*x), most.max(*x)));
        return Err(FormulaError::domain("the travel", format!("one that the roof comes by, {least:.3} m to {most:.3} m")));
    };
    let pair = |of: &[f64]| -> Option<(f64, f64)> { Some((*of.get(by)?, *of.get(by + 1)?)) };
    let (Some((from, to)), Some((v0, v1)), Some((t0, t1)), Some((p0, p1))) =
        (pair(&travels), pair(&speeds).map(|(a, b)| (a.abs(), b.abs())), pair(&times), pair(&pulls))
    else {
        return Err(wrong());
    };
    let share = (at - from) / (to - from);
    let v = (v0 * v0 + share * (v1 * v1 - v0 * v0)).max(0.0).sqrt();
    let passed = if v0 + v > 0.0 { t0 + 2.0 * (at - from).abs() / (v0 + v) } else { t0 };
    Ok(Value::record(vec![
        ("time", time(passed.min(t1))),
        ("travel", length(at)),
        ("speed", speed(v)),
        ("pull", force(p0 + share * (p1 - p0))),
        ("doing", doing.get(by).cloned().ok_or_else(wrong)?),
    ]))
}

/// Moments within each piece of a run that a curve is drawn through.
const MOMENTS: u32 = 16;

/// The run as lists of the same moments: time, travel, speed, pull, what it is doing.
fn course(run: &Run) -> Value {
    let moments = run.segments.iter().flat_map(|segment| {
        let (from, to) = (segment.start.time, segment.end.time);
        (0..=MOMENTS).map(move |at| (segment.at(from + f64::from(at) / f64::from(MOMENTS) * (to - from)), segment.phase))
    });
    let (moments, phases): (Vec<Moment>, Vec<Phase>) = moments.unzip();
    let doing = |phase: &Phase| {
        Value::Text(SmolStr::new_static(match phase {
            Phase::Driven => "driven",
            Phase::Reacting => "still driven after the signal",
            Phase::Halting => "let go, slowing down",
            Phase::InStop => "in the stop",
        }))
    };
    Value::record(vec![
        ("time", Value::list_of(moments.iter().map(|moment| moment.time), Dim::TIME)),
        ("travel", Value::list_of(moments.iter().map(|moment| moment.travel), Dim::LENGTH)),
        ("speed", Value::list_of(moments.iter().map(|moment| moment.speed), Dim::SPEED)),
        ("pull", Value::list_of(moments.iter().map(|moment| moment.pull), Dim::FORCE)),
        ("doing", Value::List(phases.iter().map(doing).collect())),
    ])
}

fn end_word(run: &Run) -> &'static str {
    match run.end {
        End::Rests => "rests",
        End::Stalls => "stalls",
        End::AtStop => "at_stop",
        End::LeavesTrack => "leaves_track",
        End::NeverRests => "never_rests",
    }
}

const DIRECTION: Parameter = needs("direction", Takes::Word(DIRECTIONS), "which way it is told to go");
const WAY: Parameter = needs("way", Takes::Record, "forces along the travel; see roof_way");
const TURNING: Parameter = may("equivalent_mass", MASS, "turning parts as a mass at the rack; see equivalent_mass");
const WIND: Parameter = may("wind", FORCE, "steady push that opens the roof; negative if it shuts it");

/// The table of this subject.
pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "roof_way",
        doc: "what holds and what pushes the roof along its travel: rolling, and the grade under each wheel",
        parameters: &[
            needs("wheel_stations", Takes::List(Dim::LENGTH), "of the wheels, roof shut"),
            needs("wheel_loads", Takes::List(Dim::FORCE), "what each carries"),
            needs("wheel_resistances", Takes::List(Dim::NUMBER), "rolling resistance of each as a part of its load"),
            needs("track_stations", Takes::Anything, "for each wheel the stations at which the level of its track is known"),
            needs("track_levels", Takes::Anything, "for each wheel the levels there"),
            may("drag", FORCE, "more that drags all the way: brush seals"),
            needs("travels", Takes::Quantities, "at which the roof may stand: sensors and stops"),
        ],
        gives: "table: resistance, grade (largest push of the grade, either way), opening_pull and closing_pull (largest steady pull) with their places, stretches",
        source: "statics; the track is straight between the places where its level is known",
        remembered: true,
        body: Body::Formula(way),
    },
    Function {
        name: "roof_coast",
        doc: "how far the roof goes on after the sensor's signal, worked out piece by piece along the track, no stop in its way",
        parameters: &[
            DIRECTION,
            WAY,
            needs("mass", MASS, "of the roof"),
            needs("speed", SPEED, "at the signal"),
            needs("reaction", TIME, "until the motor lets go"),
            needs("brake", FORCE, "that holds it back after that: a brake, a gear that resists; 0 N if it rolls freely"),
            needs("sensor", Takes::List(Dim::LENGTH), "travel at which it trips; the end of the travel if there is none"),
            TURNING,
            WIND,
        ],
        gives: "table: coast = reacting (v t) + slowing (v^2 / 2a where the track is straight); at the sensor held_by (resistance and brake), pushed_by (grade and wind), moving (with the turning parts), deceleration a = (held_by - pushed_by) / moving; rests (yes or no), from",
        source: "Newton's second law, piece by piece",
        remembered: true,
        body: Body::Formula(coast),
    },
    Function {
        name: "roof_run",
        doc: "the roof from one end to the other: start, run, trip, coast; and the same with the sensor failed, into the stop",
        parameters: &[
            DIRECTION,
            WAY,
            needs("mass", MASS, "of the roof"),
            needs("speed", SPEED, "at full drive"),
            needs("reaction", TIME, "from the sensor's signal until the motor lets go"),
            needs("start_time", TIME, "to come up to speed"),
            needs("breakaway", NUMBER, "resistance at rest over resistance in motion"),
            needs("sensor", Takes::List(Dim::LENGTH), "travel at which it trips; none if there is none"),
            needs("open_stop", Takes::List(Dim::LENGTH), "travel at which the roof touches it"),
            needs("closed_stop", Takes::List(Dim::LENGTH), "travel at which the roof touches it"),
            TURNING,
            WIND,
            may("pull", Takes::List(Dim::FORCE), "of the drive at standstill; without it the drive pulls what is needed"),
            may("no_load_speed", Takes::List(Dim::SPEED), "of a motor whose pull falls in a straight line with its speed"),
            may("stop_rate", Takes::List(Dim::LINE_LOAD), "force of the stop's spring for each length that it gives way"),
            may("stop_stroke", Takes::List(Dim::LENGTH), "how far the stop gives way"),
            may("brake", FORCE, "that holds the roof back once the motor has let go"),
        ],
        gives: "table: time, ends, stalls (yes or no), rests_at, peak_pull, peak_pull_at, speed_at_trip, rolls_back, course (lists of time, travel, speed, pull, doing at the same moments); with the sensor failed: meets_stop, speed_at_stop, energy_at_stop, pressed_in, force_on_stop, hits_solid",
        source: "Newton's second law, piece by piece",
        remembered: true,
        body: Body::Formula(run),
    },
    Function {
        name: "moment_at",
        doc: "the roof on its run where it first comes by a travel",
        parameters: &[needs("run", Takes::Record, "see roof_run"), needs("travel", Takes::Quantity(Dim::LENGTH), "at which it comes by")],
        gives: "table: time, travel, speed, pull, doing (in words)",
        source: "Newton's second law: under a steady force the square of the speed changes evenly with the way",
        remembered: true,
        body: Body::Formula(moment_at),
    },
];
