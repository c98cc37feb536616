//! One linear law of motion against integration in many small steps.

use wallplate::calc::motion::law::{Arrival, Law};

/// A body that creeps counts as standing once it is nearer than this, m.
const CREEP: f64 = 1e-9;

/// Runge-Kutta of fourth order with many small steps: an independent way to the same place.
fn integrated(law: Law, speed: f64, time: f64) -> (f64, f64) {
    let steps = 20_000;
    let h = time / f64::from(steps);
    let slope = |(y, v): (f64, f64)| (v, law.acceleration(y, v));
    let along = |(y, v): (f64, f64), (dy, dv): (f64, f64), h: f64| (y + h * dy, v + h * dv);
    (0..steps).fold((0.0, speed), |s, _| {
        let k1 = slope(s);
        let k2 = slope(along(s, k1, h / 2.0));
        let k3 = slope(along(s, k2, h / 2.0));
        let k4 = slope(along(s, k3, h));
        let sum = |f: fn((f64, f64)) -> f64| (f(k1) + 2.0 * f(k2) + 2.0 * f(k3) + f(k4)) / 6.0;
        (s.0 + h * sum(|k| k.0), s.1 + h * sum(|k| k.1))
    })
}

#[test]
fn every_kind_of_law_agrees_with_integration() {
    for (a, b, c) in [
        (0.3, 0.0, 0.0),
        (0.3, 0.0, -4.0),
        (0.3, 0.0, -1e-3),
        (-0.2, -20.0, 0.0),
        (-0.2, -20.0, -3.0),
        (-0.2, -1.0, -2.0),
        (0.2, -0.5, -6.0),
        (0.05, 0.2, 0.0),
        (0.05, 0.2, -1.5),
        (0.05, 1e-9, -1e-9),
        (0.05, -1e-4, -5.0),
    ] {
        for t in [1e-3, 0.1, 0.7, 3.0, 9.0] {
            let law = Law { a, b, c };
            let (y, v) = law.state(0.12, t);
            let (y2, v2) = integrated(law, 0.12, t);
            assert!((y - y2).abs() < 1e-9 * y2.abs().max(1.0), "{law:?} {t}: {y} {y2}");
            assert!((v - v2).abs() < 1e-9 * v2.abs().max(1.0), "{law:?} {t}: {v} {v2}");
        }
    }
}

#[test]
fn moments_found_are_moments() {
    for (a, b, c, speed) in [(-0.3, 0.0, 0.0, 0.2), (-0.3, 0.0, -2.0, 0.2), (-0.1, -20.0, -1.0, 0.2), (0.3, -2.0, -3.5, 0.0)] {
        let law = Law { a, b, c };
        let rest = law.standstill(speed);
        if rest.is_finite() {
            assert!(law.state(speed, rest).1.abs() < 1e-12);
        }
        let half = law.speed_reached(speed, 0.5 * speed, f64::INFINITY);
        if speed > 0.0 {
            assert!((law.state(speed, half).1 - 0.5 * speed).abs() < 1e-12);
        }
        let y = 0.001;
        let Arrival::At(t) = law.place_reached(speed, y, rest) else { panic!("{law:?}") };
        assert!((law.state(speed, t).0 - y).abs() < 1e-14);
    }
}

/// A speed that is just touched at its greatest value is reached there or not at all, never before.
#[test]
fn a_speed_just_touched() {
    let law = Law { a: 0.02, b: -0.104_695_158_254_596_58, c: 0.0 };
    let speed = 0.265_295_851_712_518_7;
    let turn = law.turn(speed);
    let greatest = law.state(speed, turn).1;
    let t = law.speed_reached(speed, greatest, f64::INFINITY);
    assert!(t.is_infinite() || (t - turn).abs() < 1e-3 * turn, "{t} {turn}");
    assert!(law.speed_reached(speed, greatest * (1.0 + 1e-9), f64::INFINITY).is_infinite());
}

/// Overdamped without a standstill: the body creeps to the place where the spring balances.
#[test]
fn creeping() {
    let law = Law { a: 0.2, b: -0.5, c: -6.0 };
    assert!(law.standstill(0.0).is_infinite());
    let Arrival::Creeps { y, t } = law.place_reached(0.0, 1.0, f64::INFINITY) else { panic!("reached a place beyond its balance") };
    assert!((y - 0.4).abs() < 1e-12);
    assert!((law.state(0.0, t).0 - 0.4).abs() < 1.1 * CREEP);
}
