//! A roof on its tracks by small steps of time.

use super::chance::Chance;
use super::how_many;
use wallplate::calc::motion::{Direction, Drive, End, Halt, Motion, Sensor, Spring, Stop, Stretch, Track, run};
use wallplate::calc::stopping;

/// One step, s.
const STEP: f64 = 5e-5;
const FOREVER: f64 = 200.0;

/// How it went: where and when it came to rest or hit something, and how fast it then was.
#[derive(Debug)]
struct Went {
    travel: f64,
    time: f64,
    tripped: Option<f64>,
    touched: Option<f64>,
    deepest: f64,
}

fn pull(drive: Drive, speed: f64, mass: f64, others: f64) -> f64 {
    match drive {
        Drive::Motor { stall, no_load_speed, limit, holds_back } => (stall * (1.0 - speed / no_load_speed)).clamp(-holds_back, limit),
        // As much as the wanted speed needs, up to what it has.
        Drive::Geared { speed: wanted, ramp, pull, holds_back } => {
            let gains = ((wanted - speed) / STEP).clamp(-ramp, ramp);
            (mass * gains - others).clamp(-holds_back, pull)
        }
    }
}

/// The forces along the travel: what pushes, what holds.
fn along(track: &[Stretch], travel: f64) -> (f64, f64) {
    let here = track.iter().find(|stretch| travel <= stretch.to).unwrap_or(track.last().unwrap());
    (here.push + here.rate * (travel - here.from), here.resistance)
}

/// The roof opens from rest at travel 0, until it rests or its spring is solid.
fn stepped(motion: &Motion) -> Option<Went> {
    let (mut x, mut v, mut t) = (motion.start, 0.0_f64, 0.0);
    let sensor = motion.sensor.unwrap();
    let stop = motion.open_stop.unwrap();
    let spring = stop.spring.unwrap();
    let mut went = Went { travel: 0.0, time: 0.0, tripped: None, touched: None, deepest: 0.0 };
    while t < FOREVER {
        if went.tripped.is_none() && x >= sensor.at {
            went.tripped = Some(t);
        }
        let cut = went.tripped.is_some_and(|tripped| t >= tripped + sensor.reaction);
        let (push, resistance) = along(motion.track.stretches(), x);
        let pressed = (x - stop.at).max(0.0);
        if pressed > 0.0 && went.touched.is_none() {
            went.touched = Some(v);
        }
        went.deepest = went.deepest.max(pressed);
        let push = push - spring.rate * pressed;
        let (brake, damping) = match motion.halt {
            Halt::Coast { brake, damping } if cut => (brake, damping),
            _ => (0.0, 0.0),
        };
        let friction = resistance + brake;
        let others = push - friction - damping * v;
        let drive = if cut { 0.0 } else { pull(motion.drive.unwrap(), v, motion.mass, others) };
        let force = others + drive;
        let next = v + STEP * force / motion.mass;
        if next <= 0.0 {
            // Friction holds it, or it starts to roll back, which is not looked at here.
            if (push + drive).abs() > friction && v > 0.0 {
                return None;
            }
            if v > 0.0 || cut {
                (went.travel, went.time) = (x, t);
                return Some(went);
            }
            return None;
        }
        x += STEP * (v + next) / 2.0;
        v = next;
        t += STEP;
        if pressed > spring.stroke {
            return None;
        }
    }
    None
}

fn drawn(chance: &mut Chance) -> Motion {
    let length = chance.between(2.0, 5.0);
    let resistance = chance.between(40.0, 300.0);
    let mut track = Track::level(0.0, length + 1.0, resistance).unwrap();
    if chance.once_in(2) {
        track = track.push(chance.between(-150.0, 60.0)).unwrap();
    }
    if chance.once_in(2) {
        let from = chance.between(0.1, length / 2.0);
        track = track.push_between(from, from + 0.5, chance.between(-80.0, 80.0), chance.between(-80.0, 80.0)).unwrap();
    }
    if chance.once_in(2) {
        track = track.resist_between(0.1, 0.6, chance.between(10.0, 150.0)).unwrap();
    }
    let drive = if chance.once_in(2) {
        let stall = chance.between(600.0, 2500.0);
        Drive::Motor {
            stall,
            no_load_speed: chance.between(0.1, 0.4),
            limit: if chance.once_in(2) { f64::INFINITY } else { stall * 0.7 },
            holds_back: 0.0,
        }
    } else {
        Drive::Geared {
            speed: chance.between(0.06, 0.3),
            ramp: chance.between(0.05, 0.6),
            pull: chance.between(600.0, 2000.0),
            holds_back: 300.0,
        }
    };
    let at = length - 0.02;
    Motion {
        mass: chance.between(250.0, 1500.0),
        track,
        direction: Direction::Opening,
        start: 0.0,
        speed: 0.0,
        breakaway: 1.0,
        drive: Some(drive),
        sensor: Some(Sensor { at: at - chance.between(0.01, 0.3), reaction: chance.between(0.0, 0.5) }),
        halt: Halt::Coast { brake: chance.between(0.0, 200.0), damping: if chance.once_in(2) { 0.0 } else { chance.between(10.0, 800.0) } },
        shut_stop: None,
        open_stop: Some(Stop { at, spring: Some(Spring { rate: chance.between(5e3, 8e4), stroke: 0.2 }) }),
    }
}

#[test]
fn a_roof_rolls_as_small_steps_of_time_do() {
    let (mut compared, mut touched) = (0, 0);
    for seed in 0..how_many(12).min(4000) {
        let motion = drawn(&mut Chance::new(seed));
        let Some(went) = stepped(&motion) else { continue };
        let found = run(&motion).unwrap();
        // A spring that pushes it back is another story, told by energy in `published`.
        if !matches!(found.end, End::Rests | End::AtStop) || found.rolls_back.is_some() {
            continue;
        }
        compared += 1;
        let close = |what: &str, due: f64, found: f64, within: f64| {
            assert!((due - found).abs() <= within, "seed {seed}: {what} {due}, found {found}\n{motion:?}");
        };
        close("rests at", went.travel, found.last.travel, 2e-4);
        close("rests after", went.time, found.last.time, 0.02 + 2e-3 * went.time);
        close("trips after", went.tripped.unwrap_or(0.0), found.trip.map_or(0.0, |trip| trip.time), 1e-2);
        if let (Some(speed), Some(contact)) = (went.touched, found.contact) {
            touched += 1;
            close("touches with", speed, contact.moment.speed, 1e-3);
            close("presses in by", went.deepest, contact.compression, 2e-4);
        } else {
            assert!(
                went.touched.is_none() && found.contact.is_none() || went.deepest < 1e-4,
                "seed {seed}: {went:?}, found {:?}",
                found.contact
            );
        }
    }
    println!("{compared} motions compared, {touched} of them into the stop");
    assert!(compared > 4, "{compared}");
}

/// `v t + v^2 / 2a` and `m v^2 / 2 + F x = k x^2 / 2` by steps of time.
#[test]
fn stopping_and_buffers_are_those_of_small_steps() {
    for seed in 0..how_many(60).min(20_000) {
        let mut chance = Chance::new(seed);
        let (speed, reaction, slows) = (chance.between(0.02, 0.6), chance.between(0.0, 1.0), chance.between(0.05, 1.0));
        let (mut x, mut v, mut t) = (0.0, speed, 0.0);
        while v > 0.0 {
            x += v * 1e-4;
            t += 1e-4;
            v -= if t > reaction { slows * 1e-4 } else { 0.0 };
        }
        let found = stopping::stopping_distance(speed, reaction, slows).unwrap();
        assert!((x - found).abs() <= 1e-3 * found + 2e-4, "seed {seed}: {x}, found {found}");
        let (mass, stiffness, push) = (chance.between(200.0, 2000.0), chance.between(5e3, 1e5), chance.between(0.0, 1500.0));
        let (mut x, mut v) = (0.0, speed);
        while v > 0.0 {
            v += (push - stiffness * x) / mass * 1e-5;
            x += v * 1e-5;
        }
        let found = stopping::spring_buffer(mass, speed, stiffness, push).unwrap();
        assert!((x - found.stroke).abs() <= 1e-3 * found.stroke, "seed {seed}: {x}, found {}", found.stroke);
        assert!((stiffness * x - found.force).abs() <= 1e-3 * found.force, "seed {seed}: {}, found {}", stiffness * x, found.force);
    }
}
