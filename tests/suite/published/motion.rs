//! The piecewise motion against closed forms of kinematics and against a general-purpose ODE solver.

use approx::assert_relative_eq;
use proptest::prelude::*;
use serde::Deserialize;
use wallplate::calc::motion::{Direction, Drive, End, Halt, Motion, Run, Sensor, Spring, Stop, Track, run, travel};

#[derive(Deserialize)]
struct File {
    drives: Vec<Entry>,
}

#[derive(Deserialize)]
struct Entry {
    case: Case,
    expect: Expect,
}

#[derive(Deserialize)]
struct Case {
    mass: f64,
    track: TrackCase,
    direction: String,
    start: f64,
    speed: f64,
    breakaway: f64,
    drive: Option<DriveCase>,
    sensor: Option<SensorCase>,
    halt: HaltCase,
    shut_stop: Option<StopCase>,
    open_stop: Option<StopCase>,
}

#[derive(Deserialize)]
struct TrackCase {
    from: f64,
    to: f64,
    resistance: f64,
    rails: Vec<Vec<(f64, f64)>>,
    wheels: Vec<WheelCase>,
    pushes: Vec<(f64, f64, f64, f64)>,
    seals: Vec<(f64, f64, f64)>,
}

#[derive(Deserialize)]
struct WheelCase {
    rail: usize,
    station: f64,
    load: f64,
}

#[derive(Deserialize)]
#[serde(tag = "kind", rename_all = "lowercase")]
enum DriveCase {
    Motor { stall: f64, no_load_speed: f64, limit: f64, holds_back: f64 },
    Geared { speed: f64, ramp: f64, pull: f64, holds_back: f64 },
}

#[derive(Deserialize)]
struct SensorCase {
    at: f64,
    reaction: f64,
}

#[derive(Deserialize)]
#[serde(tag = "kind", rename_all = "lowercase")]
enum HaltCase {
    Coast { brake: f64, damping: f64 },
    Ramp { ramp: f64, brake: f64 },
}

#[derive(Deserialize)]
struct StopCase {
    at: f64,
    spring: Option<SpringCase>,
}

#[derive(Deserialize)]
struct SpringCase {
    rate: f64,
    stroke: f64,
}

#[derive(Deserialize)]
struct Expect {
    end: String,
    time: f64,
    travel: f64,
    speed: f64,
    peak_pull: f64,
    trip_time: Option<f64>,
    trip_speed: Option<f64>,
    cut_time: Option<f64>,
    cut_travel: Option<f64>,
    contact_time: Option<f64>,
    contact_speed: Option<f64>,
    contact_travel: Option<f64>,
    hard_speed: Option<f64>,
    spring_force: Option<f64>,
    back_time: Option<f64>,
}

fn stop(case: &Option<StopCase>) -> Option<Stop> {
    case.as_ref().map(|s| Stop { at: s.at, spring: s.spring.as_ref().map(|s| Spring { rate: s.rate, stroke: s.stroke }) })
}

fn motion(case: &Case) -> Motion {
    let t = &case.track;
    let mut track = Track::level(t.from, t.to, t.resistance).unwrap();
    for w in &t.wheels {
        track = track.grade_under(&t.rails[w.rail], w.station, w.load).unwrap();
    }
    for &(from, to, at_from, at_to) in &t.pushes {
        track = track.push_between(from, to, at_from, at_to).unwrap();
    }
    for &(from, to, extra) in &t.seals {
        track = track.resist_between(from, to, extra).unwrap();
    }
    Motion {
        mass: case.mass,
        track,
        direction: match case.direction.as_str() {
            "opening" => Direction::Opening,
            _ => Direction::Shutting,
        },
        start: case.start,
        speed: case.speed,
        breakaway: case.breakaway,
        drive: case.drive.as_ref().map(|d| match *d {
            DriveCase::Motor { stall, no_load_speed, limit, holds_back } => Drive::Motor { stall, no_load_speed, limit, holds_back },
            DriveCase::Geared { speed, ramp, pull, holds_back } => Drive::Geared { speed, ramp, pull, holds_back },
        }),
        sensor: case.sensor.as_ref().map(|s| Sensor { at: s.at, reaction: s.reaction }),
        halt: match case.halt {
            HaltCase::Coast { brake, damping } => Halt::Coast { brake, damping },
            HaltCase::Ramp { ramp, brake } => Halt::RampDown { ramp, brake },
        },
        shut_stop: stop(&case.shut_stop),
        open_stop: stop(&case.open_stop),
    }
}

/// scipy 1.17.1, solve_ivp DOP853 with events, see `motion_reference.py`. The two solver tolerances
/// agree to 1e-7 on every drive in the file, so ten times that is allowed here.
#[test]
fn random_drives_agree_with_an_ode_solver() {
    let file: File = serde_json::from_str(include_str!("data/motion_drives.json")).unwrap();
    assert!(file.drives.len() >= 100);
    let mut wrong = Vec::new();
    for (i, Entry { case, expect }) in file.drives.iter().enumerate() {
        let got = run(&motion(case)).unwrap();
        let end = match got.end {
            End::Rests => "rests",
            End::Stalls => "stalls",
            End::AtStop => "at_stop",
            End::LeavesTrack => "leaves_track",
            End::NeverRests => "never_rests",
        };
        let mut miss = Vec::new();
        if end != expect.end {
            miss.push(format!("end {end}, solver {}", expect.end));
        }
        if expect.end == "never_rests" && miss.is_empty() {
            continue; // where the two give up counting is no property of the roof
        }
        let contact = got.contact;
        let pairs = [
            ("time", Some(got.last.time), Some(expect.time)),
            ("travel", Some(got.last.travel), Some(expect.travel)),
            ("speed", Some(got.last.speed), Some(expect.speed)),
            ("peak pull", Some(got.peak_pull.map_or(0.0, |p| p.pull)), Some(expect.peak_pull)),
            ("trip", got.trip.map(|m| m.time), expect.trip_time),
            ("trip speed", got.trip.map(|m| m.speed), expect.trip_speed),
            ("cut", got.cut.map(|m| m.time), expect.cut_time),
            ("cut travel", got.cut.map(|m| m.travel), expect.cut_travel),
            ("contact", contact.map(|c| c.moment.time), expect.contact_time),
            ("contact speed", contact.map(|c| c.moment.speed), expect.contact_speed),
            ("contact travel", contact.map(|c| c.moment.travel), expect.contact_travel),
            ("hard speed", contact.and_then(|c| c.hard_speed), expect.hard_speed),
            ("spring force", contact.and_then(|c| c.spring_force), expect.spring_force),
            ("rolls back", got.rolls_back.map(|m| m.time), expect.back_time),
        ];
        for (what, got, solver) in pairs {
            let same = match (got, solver) {
                (Some(a), Some(b)) => (a - b).abs() <= 1e-6 * b.abs().max(1.0),
                (a, b) => a.is_none() && b.is_none(),
            };
            if !same {
                miss.push(format!("{what} {got:?}, solver {solver:?}"));
            }
        }
        if !miss.is_empty() {
            wrong.push(format!("drive {i}: {}", miss.join("; ")));
        }
    }
    assert!(wrong.is_empty(), "{} of {}\n{}", wrong.len(), file.drives.len(), wrong.join("\n"));
}

const GRAVITY: f64 = 9.81;

/// A level track without resistance and everything off; each test changes what it is about.
fn bare(mass: f64, length: f64, resistance: f64) -> Motion {
    Motion {
        mass,
        track: Track::level(0.0, length, resistance).unwrap(),
        direction: Direction::Opening,
        start: 0.0,
        speed: 0.0,
        breakaway: 1.0,
        drive: None,
        sensor: None,
        halt: Halt::Coast { brake: 0.0, damping: 0.0 },
        shut_stop: Some(Stop { at: 0.0, spring: None }),
        open_stop: Some(Stop { at: length, spring: None }),
    }
}

fn geared(speed: f64, pull: f64) -> Drive {
    Drive::Geared { speed, ramp: f64::INFINITY, pull, holds_back: pull }
}

/// v²/2a and v/a with a = 0.014 g from 0.15 m/s: 0.0819 m, 1.092 s (recomputed).
#[test]
fn free_coast_is_the_parabola() {
    let motion = Motion { speed: 0.15, ..bare(700.0, 5.0, 0.014 * 700.0 * GRAVITY) };
    let got = run(&motion).unwrap();
    assert_eq!(got.end, End::Rests);
    assert_relative_eq!(got.last.travel, 0.0819, max_relative = 2e-4);
    assert_relative_eq!(got.last.time, 1.092, max_relative = 3e-4);
}

/// v t + v²/2a after the sensor trips (recomputed): 0.0500, 0.13875 and 0.0900 m.
#[test]
fn reaction_and_coast() {
    for (speed, reaction, deceleration, way) in [(0.10, 0.25, 0.20, 0.0500), (0.15, 0.30, 0.12, 0.13875), (0.20, 0.20, 0.40, 0.0900)] {
        let mass = 800.0;
        let motion = Motion {
            drive: Some(geared(speed, 5000.0)),
            sensor: Some(Sensor { at: 3.0, reaction }),
            ..bare(mass, 5.0, mass * deceleration)
        };
        let got = travel(&motion).unwrap();
        assert_relative_eq!(got.coast.unwrap(), way, max_relative = 1e-9);
        assert_relative_eq!(got.room.unwrap(), 2.0, max_relative = 1e-12);
        assert_relative_eq!(got.margin.unwrap(), 2.0 - way, max_relative = 1e-9);
        // the same by a drive that slows the roof down itself, on a track without resistance
        let ramped =
            Motion { track: Track::level(0.0, 5.0, 0.0).unwrap(), halt: Halt::RampDown { ramp: deceleration, brake: 0.0 }, ..motion };
        assert_relative_eq!(travel(&ramped).unwrap().coast.unwrap(), way, max_relative = 1e-9);
    }
}

/// Spring stops (recomputed): 900 kg at 0.15 m/s into 20 kN/m, drive off: 31.82 mm, 636.4 N; 1200 kg at 0.10 m/s into
/// 15 kN/m with 400 N still pushing: 65.54 mm, 983.1 N. Energy of 900 kg at 0.10 m/s: 4.5 J.
#[test]
fn spring_stops() {
    let off = Motion {
        speed: 0.15,
        open_stop: Some(Stop { at: 5.0, spring: Some(Spring { rate: 20e3, stroke: 0.1 }) }),
        ..bare(900.0, 5.0, 0.0)
    };
    let contact = run(&off).unwrap().contact.unwrap();
    assert_relative_eq!(contact.compression * 1000.0, 31.82, max_relative = 2e-4);
    assert_relative_eq!(contact.spring_force.unwrap(), 636.4, max_relative = 2e-4);
    assert_eq!(contact.hard_speed, None);

    let pushing = Motion {
        start: 5.0,
        speed: 0.10,
        drive: Some(Drive::Motor { stall: 1e9, no_load_speed: 1.0, limit: 400.0, holds_back: 0.0 }),
        open_stop: Some(Stop { at: 5.0, spring: Some(Spring { rate: 15e3, stroke: 0.1 }) }),
        ..bare(1200.0, 5.0, 0.0)
    };
    let contact = run(&pushing).unwrap().contact.unwrap();
    assert_relative_eq!(contact.compression * 1000.0, 65.54, max_relative = 2e-4);
    assert_relative_eq!(contact.spring_force.unwrap(), 983.1, max_relative = 2e-4);
    // 6 J of motion and what 400 N add over the stroke
    assert_relative_eq!(contact.energy, 6.0, max_relative = 1e-9);
    assert_relative_eq!(contact.absorbed(), 6.0 + 400.0 * contact.compression, max_relative = 1e-9);

    let rigid = run(&Motion { speed: 0.10, ..bare(900.0, 5.0, 0.0) }).unwrap();
    let contact = rigid.contact.unwrap();
    assert_eq!(rigid.end, End::AtStop);
    assert_relative_eq!(contact.energy, 4.5, max_relative = 1e-9);
    assert_relative_eq!(contact.hard_speed.unwrap(), 0.10, max_relative = 1e-12);
    assert_relative_eq!(rigid.last.time, 50.0, max_relative = 1e-12);
}

/// A spring that is too short: by energy, what is left of the speed at its solid end.
#[test]
fn spring_goes_solid() {
    let motion = Motion {
        speed: -0.3,
        start: 2.0,
        shut_stop: Some(Stop { at: 0.0, spring: Some(Spring { rate: 10e3, stroke: 0.05 }) }),
        ..bare(900.0, 5.0, 0.0)
    };
    let got = run(&motion).unwrap();
    let contact = got.contact.unwrap();
    let left = (0.3_f64.powi(2) - 10e3 * 0.05_f64.powi(2) / 900.0).sqrt();
    assert_eq!(contact.stop, Direction::Shutting);
    assert_relative_eq!(contact.hard_speed.unwrap(), left, max_relative = 1e-9);
    assert_relative_eq!(got.last.travel, -0.05, max_relative = 1e-9);
    assert_relative_eq!(contact.spring_force.unwrap(), 500.0, max_relative = 1e-9);
}

/// A motor with a straight line is a first-order system (any textbook of drives): after one time constant m v₀ / F the
/// roof has 1 − 1/e of the no-load speed and has gone v₀ τ / e.
#[test]
fn motor_line_is_the_exponential() {
    let (mass, stall, no_load) = (900.0, 600.0, 0.2);
    let constant = mass * no_load / stall;
    let e = std::f64::consts::E;
    let motion = Motion {
        drive: Some(Drive::Motor { stall, no_load_speed: no_load, limit: f64::INFINITY, holds_back: f64::INFINITY }),
        sensor: Some(Sensor { at: no_load * constant / e, reaction: 0.0 }),
        ..bare(mass, 5.0, 0.0)
    };
    let got = run(&motion).unwrap();
    let trip = got.trip.unwrap();
    assert_relative_eq!(trip.time, constant, max_relative = 1e-12);
    assert_relative_eq!(trip.speed, no_load * (1.0 - 1.0 / e), max_relative = 1e-12);
    assert_relative_eq!(got.peak_pull.unwrap().pull, stall, max_relative = 1e-12);
    assert_relative_eq!(got.peak_pull.unwrap().travel, 0.0);
    // with resistance the speed settles where the line meets it
    let loaded = Motion { sensor: None, track: Track::level(0.0, 50.0, 150.0).unwrap(), open_stop: None, ..motion };
    let settled = run(&loaded).unwrap();
    assert_eq!(settled.end, End::LeavesTrack);
    assert_relative_eq!(settled.last.speed, no_load * (1.0 - 150.0 / stall), max_relative = 1e-9);
    assert_relative_eq!(settled.at(settled.last.time).unwrap().pull, 150.0, max_relative = 1e-6);
}

/// A short-circuited motor brakes in proportion to the speed: without other resistance the roof creeps to a place
/// m v / c away and never quite gets there.
#[test]
fn damping_alone_creeps() {
    let motion = Motion { speed: 0.2, halt: Halt::Coast { brake: 0.0, damping: 400.0 }, ..bare(800.0, 5.0, 0.0) };
    let got = run(&motion).unwrap();
    assert_eq!(got.end, End::Rests);
    assert_relative_eq!(got.last.travel, 0.4, max_relative = 1e-9);
}

/// Without friction, but with much damping, on a wind that turns round on the way: the roof creeps to where the wind is nil
/// and stays there, whatever rounding leaves of the wind.
#[test]
fn creeps_into_balance() {
    for i in 1..40 {
        let (one, other) = (10.0 + 7.7 * f64::from(i), -3.3 * f64::from(i));
        let track = Track::level(0.0, 5.0, 0.0).unwrap().push_between(0.0, 5.0, one, other).unwrap();
        let motion = Motion { track, halt: Halt::Coast { brake: 0.0, damping: 2000.0 }, ..bare(800.0, 5.0, 0.0) };
        let got = run(&motion).unwrap();
        assert_eq!((got.end, got.segments.len()), (End::Rests, 1));
        assert_relative_eq!(got.last.travel, 5.0 * one / (one - other), max_relative = 1e-8);
    }
}

/// On a crest it rolls off the way it was told, whichever that is.
#[test]
fn on_a_crest() {
    let crest = [(0.0, 2.0), (2.5, 2.05), (5.0, 2.0)];
    let level = bare(800.0, 5.0, 20.0);
    let track = level.track.clone().grade_under(&crest, 0.0, 8000.0).unwrap();
    for (direction, end) in [(Direction::Opening, 5.0), (Direction::Shutting, 0.0)] {
        let got = run(&Motion { start: 2.5, direction, track: track.clone(), ..level.clone() }).unwrap();
        assert_relative_eq!(got.last.travel, end);
        assert_eq!(got.contact.unwrap().stop, direction);
    }
}

/// A sensor that the roof stands on, or beyond, when it is told to go cuts the drive at once.
#[test]
fn already_beyond_the_sensor() {
    for speed in [0.0, -0.05] {
        let motion = Motion {
            start: 4.5,
            speed,
            drive: Some(geared(0.1, 500.0)),
            sensor: Some(Sensor { at: 4.4, reaction: 0.0 }),
            ..bare(800.0, 5.0, 100.0)
        };
        let got = run(&motion).unwrap();
        assert_relative_eq!(got.cut.unwrap().time, 0.0);
        assert_relative_eq!(got.last.travel, 4.5 - speed * speed * 800.0 / 200.0, max_relative = 1e-12);
    }
}

/// The sensor has tripped but the drive still holds the roof against the wind; when it lets go the wind takes it.
#[test]
fn held_until_the_drive_lets_go() {
    let motion = Motion {
        start: 4.0,
        track: Track::level(0.0, 5.0, 150.0).unwrap().push(-200.0).unwrap(),
        drive: Some(geared(0.1, 300.0)),
        sensor: Some(Sensor { at: 4.0, reaction: 0.5 }),
        ..bare(800.0, 5.0, 0.0)
    };
    let got = run(&motion).unwrap();
    assert_relative_eq!(got.cut.unwrap().time, 0.5);
    // it holds with all it has, and that is the most it pulls with
    assert_relative_eq!(got.peak_pull.unwrap().pull, 300.0);
    assert_relative_eq!(got.rolls_back.unwrap().time, 0.5);
    assert_eq!(got.contact.unwrap().stop, Direction::Shutting);
    assert_relative_eq!(got.last.speed, -(2.0 * 50.0 / 800.0 * 4.0_f64).sqrt(), max_relative = 1e-9);
}

/// A drive that ramps down has nothing to ramp down when the roof goes the wrong way: the brake takes it.
#[test]
fn no_ramp_backwards() {
    let motion = Motion {
        start: 4.0,
        speed: -0.05,
        drive: Some(geared(0.1, 300.0)),
        sensor: Some(Sensor { at: 4.0, reaction: 0.0 }),
        halt: Halt::RampDown { ramp: 0.1, brake: 100.0 },
        ..bare(800.0, 5.0, 100.0)
    };
    let got = run(&motion).unwrap();
    assert_eq!(got.end, End::Rests);
    assert_relative_eq!(got.last.travel, 4.0 - 0.05 * 0.05 * 800.0 / (2.0 * 200.0), max_relative = 1e-12);
}

/// A roof that rests against its stop in the wind is at rest, it does not hit it.
#[test]
fn leaning_on_the_stop() {
    let level = bare(800.0, 5.0, 100.0);
    let windy = Motion { track: level.track.clone().push(-300.0).unwrap(), ..level.clone() };
    let got = run(&windy).unwrap();
    assert_eq!((got.end, got.segments.len(), got.contact), (End::Rests, 0, None));
    // a stop beyond the end of the track is no stop
    let beyond = Motion { speed: 1.0, start: 4.0, open_stop: Some(Stop { at: 6.0, spring: None }), ..level.clone() };
    assert_eq!(run(&beyond).unwrap().end, End::LeavesTrack);
    let both = Some(Stop { at: 2.0, spring: None });
    assert!(run(&Motion { start: 2.0, shut_stop: both, open_stop: both, ..level }).is_err());
}

/// The largest pull of a motor is where the roof is slowest, also when that is on the way.
#[test]
fn peak_pull_on_the_way() {
    let motion = Motion {
        speed: 0.2,
        track: Track::level(0.0, 5.0, 100.0).unwrap().push_between(0.0, 5.0, -300.0, 300.0).unwrap(),
        drive: Some(Drive::Motor { stall: 900.0, no_load_speed: 0.2, limit: f64::INFINITY, holds_back: f64::INFINITY }),
        ..bare(900.0, 5.0, 0.0)
    };
    let got = run(&motion).unwrap();
    let peak = got.peak_pull.unwrap();
    let steps = 20_000;
    let largest = (0..=steps)
        .filter_map(|i| got.at(got.last.time * f64::from(i) / f64::from(steps)))
        .max_by(|a, b| a.pull.total_cmp(&b.pull))
        .unwrap();
    assert_relative_eq!(peak.pull, largest.pull, max_relative = 1e-6);
    assert!(peak.travel > 0.01 && peak.travel < 4.9);
}

/// A geared drive at its limit takes its ramp up again as soon as the wind lets it: `m a + R − push`.
#[test]
fn ramp_after_the_limit() {
    let motion = Motion {
        track: Track::level(0.0, 5.0, 100.0).unwrap().push_between(0.0, 5.0, -150.0, 200.0).unwrap(),
        drive: Some(Drive::Geared { speed: 0.12, ramp: 0.065, pull: 300.0, holds_back: 300.0 }),
        ..bare(800.0, 5.0, 0.0)
    };
    let got = run(&motion).unwrap();
    let needed = |travel: f64| 800.0 * 0.065 + 100.0 + 150.0 - 70.0 * travel;
    let (mut limited, mut ramped) = (0, 0);
    for i in 0..200 {
        let m = got.at(f64::from(i) * 0.01).unwrap();
        if m.speed >= 0.12 {
            break;
        }
        assert_relative_eq!(m.pull, needed(m.travel).min(300.0), max_relative = 1e-9);
        if needed(m.travel) > 300.0 { limited += 1 } else { ramped += 1 }
    }
    assert!(limited > 10 && ramped > 10, "{limited} {ramped}");
}

/// Statics and √(2 a s): the roof on a grade rolls off by itself if the grade exceeds its resistance, with the drive off
/// at the start and after the sensor has tripped.
#[test]
fn rolls_off_by_itself() {
    let weight = 800.0 * GRAVITY;
    let down = [(-1.0, 2.05), (6.0, 2.05 - 7.0 * 0.01)];
    let slope = 0.01_f64.atan().sin();
    let on_grade = |resistance: f64| {
        let level = bare(800.0, 5.0, resistance);
        let track = level.track.clone().grade_under(&down, 0.3, weight / 2.0).unwrap();
        Motion { track: track.grade_under(&down, 0.8, weight / 2.0).unwrap(), ..level }
    };
    let rolls = on_grade(0.004 * weight);
    let got = run(&rolls).unwrap();
    assert_eq!(got.end, End::AtStop);
    let a = GRAVITY * (slope - 0.004);
    assert_relative_eq!(got.contact.unwrap().moment.speed, (2.0 * a * 5.0).sqrt(), max_relative = 1e-9);
    let nearest = rolls.track.nearest_to_rolling_off(1.0, 0.0);
    assert_relative_eq!(nearest.force, weight * (slope - 0.004), max_relative = 1e-9);
    let stays = on_grade(0.014 * weight);
    assert_eq!(run(&stays).unwrap().end, End::Rests);
    assert!(run(&stays).unwrap().segments.is_empty());
    assert!(stays.track.nearest_to_rolling_off(1.0, 0.0).force < 0.0);
    assert!(rolls.track.nearest_to_rolling_off(1.0, 0.01 * weight).force < 0.0);
    assert!(rolls.track.nearest_to_rolling_off(3.0, 0.0).force < 0.0);
    // the drive lets go and the roof does not stop: there is no coast distance to speak of
    let lets_go = Motion { drive: Some(geared(0.1, 2000.0)), sensor: Some(Sensor { at: 4.0, reaction: 0.0 }), ..rolls };
    let got = travel(&lets_go).unwrap();
    assert_eq!(got.coast, None);
    assert!(got.run.contact.unwrap().moment.speed > 0.1);
}

/// Statics: a drive that is too weak does not move the roof, one that meets a rise stalls at its foot, and against too
/// much wind the roof goes the wrong way.
#[test]
fn too_weak() {
    let weak = Motion { drive: Some(geared(0.1, 99.0)), ..bare(800.0, 5.0, 100.0) };
    let got = run(&weak).unwrap();
    assert_eq!((got.end, got.segments.len()), (End::Stalls, 0));
    assert_relative_eq!(got.last.travel, 0.0);

    let weight = 800.0 * GRAVITY;
    let rise = [(0.0, 2.0), (3.0, 2.0), (6.0, 2.03)];
    let level = bare(800.0, 5.0, 100.0);
    let track = level.track.clone().grade_under(&rise, 0.0, weight).unwrap();
    let foot = Motion { track, drive: Some(geared(0.05, 150.0)), ..level };
    let got = run(&foot).unwrap();
    assert_eq!(got.end, End::Stalls);
    // it runs on by what its speed is worth: v²/2a
    let rising = weight * 0.01_f64.atan().sin() + 100.0 - 150.0;
    assert_relative_eq!(got.last.travel, 3.0 + 0.05_f64.powi(2) * 800.0 / (2.0 * rising), max_relative = 1e-9);
    assert_relative_eq!(foot.track.governing_pull(true).force, rising + 150.0, max_relative = 1e-9);
    assert_relative_eq!(foot.track.governing_pull(true).travel, 3.0);
    assert_relative_eq!(foot.track.governing_pull(false).force, 100.0, max_relative = 1e-9);

    let wind = Motion { track: Track::level(0.0, 5.0, 100.0).unwrap().push(-600.0).unwrap(), start: 2.0, ..weak };
    let got = run(&wind).unwrap();
    assert_eq!(got.end, End::AtStop);
    assert_eq!(got.contact.unwrap().stop, Direction::Shutting);
    assert_relative_eq!(got.rolls_back.unwrap().travel, 2.0);
    let a: f64 = (600.0 - 99.0 - 100.0) / 800.0;
    assert_relative_eq!(got.last.speed, -(2.0 * a * 2.0).sqrt(), max_relative = 1e-9);
}

/// Resistance at rest above resistance in motion: the drive must exceed the former to start, no more.
#[test]
fn breaking_away() {
    let motion = |pull: f64| Motion { breakaway: 2.0, drive: Some(geared(0.1, pull)), ..bare(800.0, 5.0, 100.0) };
    assert_eq!(run(&motion(199.0)).unwrap().end, End::Stalls);
    assert_eq!(run(&motion(201.0)).unwrap().end, End::AtStop);
}

/// Without friction a roof in a dip rocks for ever; the answer comes all the same.
#[test]
fn never_hangs() {
    let dip = [(0.0, 2.05), (2.5, 2.0), (6.0, 2.07)];
    let level = bare(800.0, 5.0, 0.0);
    let track = level.track.clone().grade_under(&dip, 0.0, 8000.0).unwrap();
    let got = run(&Motion { start: 2.0, track: track.clone(), ..level.clone() }).unwrap();
    assert_eq!(got.end, End::NeverRests);
    assert!(got.segments.len() < 10_000);
    // with some damping it settles in the dip
    let damped = Motion { start: 2.0, track: track.clone(), halt: Halt::Coast { brake: 0.0, damping: 300.0 }, ..level.clone() };
    let got = run(&damped).unwrap();
    assert_eq!(got.end, End::Rests);
    assert_relative_eq!(got.last.travel, 2.5, max_relative = 1e-6);
    let endless = Motion { drive: Some(geared(0.1, 500.0)), ..bare(800.0, 5.0, 100.0) };
    assert_eq!(travel(&endless).unwrap().coast, None);
}

/// By hand: the sensor works, the roof rests 2.0 − 0.14 m before the stop; it fails, and the drive pushes the roof into
/// the stop at full speed.
#[test]
fn sensor_failed() {
    let motion = Motion { drive: Some(geared(0.12, 600.0)), sensor: Some(Sensor { at: 4.8, reaction: 0.2 }), ..bare(900.0, 5.0, 120.0) };
    let got = travel(&motion).unwrap();
    let coast = 0.12 * 0.2 + 0.12 * 0.12 * 900.0 / (2.0 * 120.0);
    assert_relative_eq!(got.margin.unwrap(), 0.2 - coast, max_relative = 1e-9);
    assert_eq!(got.run.end, End::Rests);
    assert_relative_eq!(got.run.coast().unwrap(), coast, max_relative = 1e-9);
    assert_relative_eq!(got.time, got.run.cut.unwrap().time + 0.12 * 900.0 / 120.0, max_relative = 1e-9);
    let failed = got.failed_contact().unwrap();
    assert_relative_eq!(failed.moment.speed, 0.12, max_relative = 1e-12);
    assert_relative_eq!(failed.energy, 0.5 * 900.0 * 0.12 * 0.12, max_relative = 1e-12);
    // with the sensor too near the stop the roof hits it, at what is left of its speed by v² − 2 a s
    let late = Motion { sensor: Some(Sensor { at: 4.95, reaction: 0.2 }), ..motion.clone() };
    let hits = travel(&late).unwrap();
    assert_relative_eq!(hits.coast.unwrap(), coast, max_relative = 1e-9);
    assert_relative_eq!(hits.margin.unwrap(), 0.05 - coast, max_relative = 1e-9);
    let left = (0.12_f64.powi(2) - 2.0 * 120.0 / 900.0 * (0.05 - 0.12 * 0.2)).sqrt();
    assert_eq!(hits.run.end, End::AtStop);
    assert_relative_eq!(hits.run.contact.unwrap().hard_speed.unwrap(), left, max_relative = 1e-9);
    // shutting is the same seen from the other side
    let back = Motion { direction: Direction::Shutting, start: 5.0, sensor: Some(Sensor { at: 0.2, reaction: 0.2 }), ..motion };
    let mirrored = travel(&back).unwrap();
    assert_relative_eq!(mirrored.margin.unwrap(), got.margin.unwrap(), max_relative = 1e-9);
    assert_relative_eq!(mirrored.time, got.time, max_relative = 1e-9);
}

#[test]
fn nonsense_is_refused() {
    let good = Motion { drive: Some(geared(0.1, 500.0)), ..bare(800.0, 5.0, 100.0) };
    let motor = Drive::Motor { stall: 500.0, no_load_speed: 0.2, limit: f64::NAN, holds_back: 0.0 };
    for bad in [
        Motion { mass: 0.0, ..good.clone() },
        Motion { mass: f64::NAN, ..good.clone() },
        Motion { start: 5.1, ..good.clone() },
        Motion { breakaway: 0.5, ..good.clone() },
        Motion { drive: Some(geared(0.0, 500.0)), ..good.clone() },
        Motion { drive: Some(motor), ..good.clone() },
        Motion { drive: None, halt: Halt::RampDown { ramp: 0.1, brake: 0.0 }, ..good.clone() },
        Motion { sensor: Some(Sensor { at: f64::NAN, reaction: 0.0 }), ..good.clone() },
        Motion { sensor: Some(Sensor { at: 1.0, reaction: -1.0 }), ..good.clone() },
        Motion { shut_stop: Some(Stop { at: 6.0, spring: None }), ..good.clone() },
        Motion { open_stop: Some(Stop { at: 5.0, spring: Some(Spring { rate: 0.0, stroke: 0.1 }) }), ..good },
    ] {
        assert!(run(&bad).is_err(), "{bad:?}");
    }
    assert!(Track::level(1.0, 1.0, 10.0).is_err());
    let track = Track::level(0.0, 5.0, 10.0).unwrap();
    assert!(track.clone().grade_under(&[(0.0, 1.0)], 0.0, 1.0).is_err());
    assert!(track.clone().grade_under(&[(1.0, 1.0), (0.0, 1.0)], 0.0, 1.0).is_err());
    assert!(track.clone().push_between(2.0, 2.0, 1.0, 1.0).is_err());
    assert!(track.resist_between(1.0, 2.0, -20.0).is_err());
}

prop_compose! {
    fn any_track()(
        length in 2.0..7.0_f64,
        resistance in prop_oneof![1 => Just(0.0), 4 => 20.0..400.0_f64],
        tilt in -0.01..0.01_f64,
        bumps in prop::collection::vec(-0.004..0.004_f64, 8),
        wind in (-300.0..300.0_f64, -300.0..300.0_f64),
        seal in 0.0..80.0_f64,
    ) -> Track {
        let levels: Vec<(f64, f64)> = bumps
            .iter()
            .enumerate()
            .map(|(i, bump)| (i as f64 * 2.0 - 1.0, 2.0 + tilt * i as f64 * 2.0 + bump))
            .collect();
        let mut track = Track::level(0.0, length, resistance).unwrap();
        for station in [0.2, length * 0.9] {
            track = track.grade_under(&levels, station, 3500.0).unwrap();
        }
        let track = track.push_between(0.0, length, wind.0, wind.1).unwrap();
        track.resist_between(0.1, 0.4, seal).unwrap()
    }
}

fn any_drive() -> impl Strategy<Value = Option<Drive>> {
    prop_oneof![
        1 => Just(None),
        3 => (100.0..2500.0_f64, 0.05..0.4_f64, 0.3..1.5_f64, 0.0..1.0_f64).prop_map(|(stall, v, limit, back)| {
            Some(Drive::Motor { stall, no_load_speed: v, limit: stall * limit, holds_back: stall * back })
        }),
        3 => (100.0..2000.0_f64, 0.05..0.3_f64, 0.02..0.6_f64, 0.0..1.0_f64).prop_map(|(pull, speed, ramp, back)| {
            Some(Drive::Geared { speed, ramp, pull, holds_back: pull * back })
        }),
    ]
}

fn any_stop() -> impl Strategy<Value = Option<Option<Spring>>> {
    prop_oneof![
        1 => Just(None),
        2 => Just(Some(None)),
        3 => (2e3..1e5_f64, 0.01..0.15_f64).prop_map(|(rate, stroke)| Some(Some(Spring { rate, stroke }))),
    ]
}

prop_compose! {
    fn any_motion()(
        track in any_track(),
        drive in any_drive(),
        stops in (any_stop(), any_stop()),
        mass in 200.0..2500.0_f64,
        opening in any::<bool>(),
        (from_start, speed) in prop_oneof![
            2 => Just((0.0, 0.0)),
            1 => (0.05..0.95_f64, -0.2..0.2_f64),
        ],
        breakaway in 1.0..2.0_f64,
        sensor in prop::option::of((0.02..0.4_f64, prop_oneof![Just(0.0), 0.0..0.8_f64])),
        halt in (0.0..300.0_f64, prop_oneof![Just(0.0), 0.0..2000.0_f64], 0.03..0.4_f64, any::<bool>()),
    ) -> Motion {
        let (shut, open) = (0.03, track.to() - 0.03);
        let stop = |at: f64, stop: Option<Option<Spring>>| stop.map(|spring| Stop { at, spring });
        let (brake, damping, ramp, ramped) = halt;
        let along = if opening { from_start } else { 1.0 - from_start };
        Motion {
            mass,
            direction: if opening { Direction::Opening } else { Direction::Shutting },
            start: shut + along * (open - shut),
            speed,
            breakaway,
            drive,
            sensor: sensor.map(|(before, reaction)| Sensor {
                at: if opening { open - before } else { shut + before },
                reaction,
            }),
            halt: if ramped && matches!(drive, Some(Drive::Geared { .. })) {
                Halt::RampDown { ramp, brake }
            } else {
                Halt::Coast { brake, damping }
            },
            shut_stop: stop(shut, stops.0),
            open_stop: stop(open, stops.1),
            track,
        }
    }
}

/// It turned so often that rounding decides which turn is taken as the last.
fn rocks(run: &Run) -> bool {
    run.segments.iter().filter(|s| s.end.speed == 0.0).count() > 5
}

/// Without friction a roof comes back exactly to where it was, and rounding decides whether it touches the stop there.
fn has_friction(motion: &Motion) -> bool {
    motion.track.stretches().iter().all(|s| s.resistance > 0.0)
}

/// The same roof seen in a mirror.
fn mirrored(motion: &Motion) -> Motion {
    let m = motion.clone();
    let mut track = Track::level(-m.track.to(), -m.track.from(), 0.0).unwrap();
    for s in m.track.stretches() {
        let (from, to) = (-s.to, -s.from);
        track = track.push_between(from, to, -s.push_at(s.to), -s.push_at(s.from)).unwrap();
        track = track.resist_between(from, to, s.resistance).unwrap();
    }
    let stop = |s: Option<Stop>| s.map(|s| Stop { at: -s.at, ..s });
    Motion {
        track,
        direction: match m.direction {
            Direction::Opening => Direction::Shutting,
            Direction::Shutting => Direction::Opening,
        },
        start: -m.start,
        speed: -m.speed,
        sensor: m.sensor.map(|s| Sensor { at: -s.at, ..s }),
        shut_stop: stop(m.open_stop),
        open_stop: stop(m.shut_stop),
        ..m
    }
}

/// Integral of a function of time by five-point Gauss-Legendre on many pieces, crowded towards the beginning, where a
/// stiff motor has its say.
fn integral(from: f64, to: f64, f: impl Fn(f64) -> f64) -> f64 {
    const POINTS: [(f64, f64); 5] = [
        (0.0, 0.568_888_888_888_888_9),
        (0.538_469_310_105_683_1, 0.478_628_670_499_366_5),
        (-0.538_469_310_105_683_1, 0.478_628_670_499_366_5),
        (0.906_179_845_938_664, 0.236_926_885_056_189_1),
        (-0.906_179_845_938_664, 0.236_926_885_056_189_1),
    ];
    let pieces = 300;
    let place = |i: i32| from + (to - from) * (f64::from(i) / f64::from(pieces)).powi(4);
    (0..pieces)
        .map(|i| {
            let (middle, step) = (f64::midpoint(place(i), place(i + 1)), place(i + 1) - place(i));
            POINTS.iter().map(|(x, w)| w * f(middle + x * step / 2.0)).sum::<f64>() * step / 2.0
        })
        .sum()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    /// It ends, in finite time, and each piece begins where the one before ended.
    #[test]
    fn ends_and_hangs_together(motion in any_motion()) {
        let got = run(&motion).unwrap();
        prop_assert!(got.last.time.is_finite() && got.last.travel.is_finite() && got.last.speed.is_finite());
        let mut at = (0.0, motion.start, motion.speed);
        for s in &got.segments {
            prop_assert!((s.start.time, s.start.travel, s.start.speed) == at);
            prop_assert!(s.end.time >= s.start.time);
            // the closed form leads to the end that is written down
            let end = s.at(s.end.time);
            prop_assert!((end.travel - s.end.travel).abs() < 1e-7, "{s:?} {end:?}");
            prop_assert!((end.speed - s.end.speed).abs() < 2e-6, "{s:?} {end:?}");
            at = (s.end.time, s.end.travel, s.end.speed);
            // no pull on the way is larger than the peak
            let peak = got.peak_pull.map_or(0.0, |p| p.pull);
            for i in 0..=20 {
                let time = s.start.time + f64::from(i) / 20.0 * (s.end.time - s.start.time);
                prop_assert!(s.at(time).pull <= peak * (1.0 + 1e-7) + 1e-6);
            }
        }
        prop_assert!(at == (got.last.time, got.last.travel, got.last.speed));
    }

    /// What the drive, wind, grade and springs put in, less what friction takes, is the energy of motion.
    #[test]
    fn energy_balances(motion in any_motion()) {
        let got = run(&motion).unwrap();
        if got.end == End::NeverRests {
            return Ok(());
        }
        let way = if motion.direction == Direction::Opening { 1.0 } else { -1.0 };
        let energy = |v: f64| 0.5 * motion.mass * v * v;
        let mut scale: f64 = 1.0;
        let mut letting_go = motion.drive.is_none();
        let mut ramping = false;
        for s in &got.segments {
            let (a, b) = (s.start, s.end);
            let middle = f64::midpoint(a.travel, b.travel);
            let stretches = motion.track.stretches();
            let near = middle.clamp(
                motion.shut_stop.map_or(motion.track.from(), |s| s.at),
                motion.open_stop.map_or(motion.track.to(), |s| s.at),
            );
            let stretch = stretches
                .iter()
                .filter(|s| s.from <= near && near <= s.to)
                .min_by(|p, q| {
                    let off = |s: &wallplate::calc::motion::Stretch| (f64::midpoint(s.from, s.to) - near).abs() / (s.to - s.from);
                    off(p).total_cmp(&off(q))
                })
                .unwrap();
            let push = |x: f64| stretch.push_at(x);
            let way_gone = (b.travel - a.travel).abs();
            let mut work = f64::midpoint(push(a.travel), push(b.travel)) * (b.travel - a.travel);
            work -= stretch.resistance * way_gone;
            for stop in [motion.shut_stop, motion.open_stop].into_iter().flatten() {
                let beyond = if stop.at < motion.track.to() / 2.0 { middle < stop.at } else { middle > stop.at };
                if let (Some(spring), true) = (stop.spring, beyond) {
                    work -= 0.5 * spring.rate * ((b.travel - stop.at).powi(2) - (a.travel - stop.at).powi(2));
                }
            }
            if got.cut.is_some_and(|c| a.time >= c.time) && !letting_go {
                letting_go = true;
                ramping = matches!(motion.halt, Halt::RampDown { .. }) && a.speed * way > 0.0;
            }
            if a.speed == 0.0 {
                ramping = false;
            }
            if letting_go && !ramping {
                let (brake, damping) = match motion.halt {
                    Halt::Coast { brake, damping } => (brake, damping),
                    Halt::RampDown { brake, .. } => (brake, 0.0),
                };
                work -= brake * way_gone;
                work -= integral(a.time, b.time, |t| damping * s.at(t).speed.powi(2));
            }
            work += integral(a.time, b.time, |t| {
                let m = s.at(t);
                m.pull * m.speed * way
            });
            scale = scale.max(energy(a.speed)).max(work.abs());
            let change = energy(b.speed) - energy(a.speed);
            prop_assert!((change - work).abs() < 1e-5 * scale, "{change} {work} {s:?}");
        }
    }

    /// Seen in a mirror everything is the same.
    #[test]
    fn no_side_is_special(motion in any_motion()) {
        if !has_friction(&motion) {
            return Ok(());
        }
        let (a, b) = (run(&motion).unwrap(), run(&mirrored(&motion)).unwrap());
        prop_assert_eq!(a.end, b.end);
        if a.end != End::NeverRests {
            prop_assert!((a.last.travel + b.last.travel).abs() < 3e-6);
            prop_assert!((a.last.speed + b.last.speed).abs() < 1e-6);
            if !rocks(&a) {
                prop_assert!((a.last.time - b.last.time).abs() < 1e-6 * a.last.time.max(1.0));
            }
        }
    }

    /// To cut the track in pieces without changing a force changes nothing.
    #[test]
    fn pieces_do_not_matter(motion in any_motion(), cuts in prop::collection::vec(0.05..0.95_f64, 1..5)) {
        if !has_friction(&motion) {
            return Ok(());
        }
        let mut track = motion.track.clone();
        for cut in cuts {
            track = track.push_between(0.0, cut * motion.track.to(), 0.0, 0.0).unwrap();
        }
        let (a, b) = (run(&motion).unwrap(), run(&Motion { track, ..motion }).unwrap());
        prop_assert_eq!(a.end, b.end);
        if a.end != End::NeverRests {
            prop_assert!((a.last.travel - b.last.travel).abs() < 3e-6);
            if !rocks(&a) {
                prop_assert!((a.last.time - b.last.time).abs() < 1e-6 * a.last.time.max(1.0));
            }
        }
    }

    /// Heavier, faster or slower to react coasts further; a brake shortens it. Heavier or faster hits harder.
    #[test]
    fn coast_is_monotone(
        mass in 200.0..2000.0_f64, resistance in 20.0..300.0_f64, speed in 0.05..0.25_f64,
        reaction in 0.0..0.6_f64, brake in 0.0..200.0_f64, more in 1.01..1.5_f64,
    ) {
        let motion = Motion {
            drive: Some(geared(speed, 5000.0)),
            sensor: Some(Sensor { at: 30.0, reaction }),
            halt: Halt::Coast { brake, damping: 0.0 },
            ..bare(mass, 60.0, resistance)
        };
        let all = |motion: &Motion| {
            let t = travel(motion).unwrap();
            (t.coast.unwrap(), t.failed_contact().unwrap().energy)
        };
        let (coast, energy) = all(&motion);
        let heavier = all(&Motion { mass: mass * more, ..motion.clone() });
        prop_assert!(heavier.0 > coast && heavier.1 > energy);
        let faster = all(&Motion { drive: Some(geared(speed * more, 5000.0)), ..motion.clone() });
        prop_assert!(faster.0 > coast && faster.1 > energy);
        let later = all(&Motion { sensor: Some(Sensor { at: 30.0, reaction: reaction + 0.1 }), ..motion.clone() });
        prop_assert!(later.0 > coast);
        let braked = all(&Motion { halt: Halt::Coast { brake: brake + 50.0, damping: 0.0 }, ..motion });
        prop_assert!(braked.0 < coast);
    }
}
