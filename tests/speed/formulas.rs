//! The heavy formulas alone: a moving load on a long beam, a whole travel, a horizon, a sweep.

use super::timed;
use std::hint::black_box;
use wallplate::calc::FormulaError;
use wallplate::calc::beam::{Beam, Train, Wheel, envelope};
use wallplate::calc::motion::{Direction, Drive, Halt, Motion, Sensor, Spring, Stop, Track, travel};
use wallplate::calc::sky::{horizon::Horizon, outline::Obstacle};
use wallplate::calc::space::{body::Body, solid::Solid, sweep};

/// Prints the median of each, with what was asked of it.
pub fn print() -> Result<(), FormulaError> {
    let beam = long_beam();
    let train = eight_wheels();
    println!("envelope, 12 supports and 8 wheels: {:.0?} (1 ms wanted)", timed(101, || black_box(envelope(&beam, &train, 90.0))));
    let motion = whole_travel()?;
    println!("travel, start to stop both with and without the sensor: {:.0?}", timed(101, || black_box(travel(&motion))));
    let obstacles = two_hundred_obstacles()?;
    let horizon = timed(51, || Horizon::new([0.0; 3], 0.0, &obstacles).map(|horizon| horizon.all_round(1440)));
    println!("horizon at 0.25 deg, 200 obstacles: {horizon:.0?} (1 ms wanted)");
    let (parts, bodies) = (roof_parts()?, telescopes()?);
    let track = sweep::Track::new([0.0, 1.0, 0.0], 0.0, 4.0)?;
    let pass = timed(51, || black_box(sweep::closest_pass(&parts, &bodies, &track)));
    println!("closest pass over the whole travel, {} parts by {} bodies: {pass:.0?} (5 ms wanted)", parts.len(), bodies.len());
    Ok(())
}

fn long_beam() -> Beam {
    let supports: Vec<f64> = (0..12).map(|at| 0.4 + f64::from(at) * 2.4).collect();
    Beam::uniform(0.0, 27.2, 3.0e5, &supports)
}

fn eight_wheels() -> Train {
    let wheels = (0..8).map(|at| Wheel { offset: f64::from(at) * 0.9, load: 1500.0 + 130.0 * f64::from(at * 3 % 5) }).collect();
    Train { wheels, from: 0.3, to: 16.0 }
}

fn whole_travel() -> Result<Motion, FormulaError> {
    let weight = 900.0 * 9.81;
    let levels: Vec<(f64, f64)> = (0..12).map(|at| (f64::from(at) * 0.9 - 0.5, 2.1 + 0.002 * f64::from((at * 7) % 5))).collect();
    let mut track = Track::level(0.0, 4.8, 0.014 * weight)?;
    for station in [0.2, 1.6, 3.0, 4.4] {
        track = track.grade_under(&levels, station, weight / 4.0)?;
    }
    Ok(Motion {
        mass: 900.0,
        track: track.push_between(0.0, 4.8, -60.0, -200.0)?,
        direction: Direction::Opening,
        start: 0.0,
        speed: 0.0,
        breakaway: 1.5,
        drive: Some(Drive::Motor { stall: 900.0, no_load_speed: 0.15, limit: 700.0, holds_back: f64::INFINITY }),
        sensor: Some(Sensor { at: 4.6, reaction: 0.2 }),
        halt: Halt::Coast { brake: 50.0, damping: 0.0 },
        shut_stop: Some(Stop { at: 0.0, spring: None }),
        open_stop: Some(Stop { at: 4.8, spring: Some(Spring { rate: 30e3, stroke: 0.05 }) }),
    })
}

fn two_hundred_obstacles() -> Result<Vec<Obstacle>, FormulaError> {
    (0..200_u32)
        .map(|at| {
            let (azimuth, distance) = (f64::from(at) * 0.7, 3.0 + f64::from(at % 17));
            Ok(match at % 4 {
                0 => Obstacle::Solid(Solid::gabled([-1.0, distance, 0.0], [1.0, distance + 2.0, 1.0], 2.0).turned(azimuth)),
                1 => Obstacle::Sphere { centre: [distance * azimuth.sin(), distance * azimuth.cos(), 0.5], radius: 0.6 },
                2 => Obstacle::Site { from: azimuth, to: azimuth + 0.2, altitude: 0.2 },
                _ => Obstacle::Solid(Solid::cuboid([-1.0, distance, 0.0], [1.0, distance + 2.0, 1.0]).turned(azimuth)),
            })
        })
        .collect()
}

fn roof_parts() -> Result<Vec<Body>, FormulaError> {
    let slabs = Solid::slabs(&[[-2.0, 2.0], [0.0, 3.0], [2.0, 2.0]], 0.1, 0.0, 4.0)?;
    let ties = (0..10).map(|at| Solid::cuboid([-2.0, f64::from(at) * 0.4, 2.0], [2.0, f64::from(at) * 0.4 + 0.05, 2.1]));
    slabs.into_iter().chain(ties).map(|solid| Body::solid(&solid)).collect()
}

fn telescopes() -> Result<Vec<Body>, FormulaError> {
    (0..6).map(|at| f64::from(at) * 0.5 - 1.2).map(|x| Body::capsule([x, 1.0, 1.0], [x, 1.5, 1.6], 0.2)).collect()
}
