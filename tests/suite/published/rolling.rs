//! Rolling resistance and traction against statics.
//!
//! The formula is the moment about the axle: `F D/2 = W f + μ W d/2`, with a share of the load for rims (common practice, no
//! source; so are the coefficients). The results are independent arithmetic; the checks say "recomputed".

use approx::assert_relative_eq;
use wallplate::calc::drive;
use wallplate::calc::gear::Pinion;
use wallplate::calc::rolling::*;

const LBF: f64 = 4.448_222;
const INCH: f64 = 0.0254;
/// As the worked examples of drive engineering take it, m/s².
const GRAVITY: f64 = 9.81;
/// Figures recomputed to the digits shown.
const ARITHMETIC: f64 = 1e-4;

/// Diameters and lever arm in millimetres.
fn wheel(tread: f64, bearing: f64, lever_arm: f64, friction: f64, flange: f64) -> Wheel {
    Wheel {
        tread_diameter: tread / 1000.0,
        bearing_diameter: bearing / 1000.0,
        lever_arm: lever_arm / 1000.0,
        bearing_friction: friction,
        flange,
        wedge: 1.0,
    }
}

/// By hand: wheels of 200 mm on 50 mm axles, f = 0.6 mm, μ = 0.006, c = 0.002: (2·0.6 + 0.006·50)/200 + 0.002 = 0.0095;
/// 10 kN roll against 95 N; 0.4 m/s through a gear of 0.8: 47.5 W.
#[test]
fn moments_about_the_axle() {
    let wheel = wheel(200.0, 50.0, 0.6, 0.006, 0.002);
    assert_relative_eq!(resistance_ratio(&wheel).unwrap(), 0.0095, max_relative = 1e-12);
    let full = resistance(10_000.0, &wheel).unwrap();
    assert_relative_eq!(full, 95.0, max_relative = 1e-12);
    assert_relative_eq!(drive::power(full, 0.4, 0.8).unwrap(), 47.5, max_relative = 1e-12);
}

/// The same formula with usual coefficients, recomputed, metric and US.
#[test]
fn resistance_with_usual_coefficients() {
    for (mass, wheel, newton) in [
        (900.0, wheel(100.0, 20.0, 0.5, 0.005, 0.003), 123.606),
        (650.0, wheel(75.0, 12.0, 0.8, 0.10, 0.005), 269.94),
        (1200.0, wheel(150.0, 25.0, 0.5, 0.0015, 0.005), 140.283),
        (2200.0, wheel(200.0, 40.0, 0.5, 0.005, 0.003), 194.238),
    ] {
        assert_relative_eq!(resistance(mass * GRAVITY, &wheel).unwrap(), newton, max_relative = ARITHMETIC);
    }
    let six_inch = wheel(6.0 * 25.4, 25.4, 0.02 * 25.4, 0.005, 0.003);
    let pounds = resistance(2000.0 * LBF, &six_inch).unwrap() / LBF;
    assert_relative_eq!(pounds, 21.00, max_relative = ARITHMETIC);
}

/// Algebra: with a wedge of √2 (a 90° vee) only the flange share stays as it was.
#[test]
fn wedge_multiplies_the_tread() {
    let plain = wheel(100.0, 20.0, 0.5, 0.005, 0.0);
    let once = resistance(1000.0, &plain).unwrap();
    assert_relative_eq!(once, 1000.0 * (2.0 * 0.5 + 0.005 * 20.0) / 100.0, max_relative = 1e-12);
    let vee = Wheel { wedge: 2_f64.sqrt(), flange: 0.003, ..plain };
    assert_relative_eq!(resistance(1000.0, &vee).unwrap(), once * 2_f64.sqrt() + 3.0, max_relative = 1e-12);
    assert!(resistance(1000.0, &Wheel { wedge: 0.9, ..plain }).is_err());
}

/// Mechanics, F d/2η, recomputed: 1098.1 N on a 75 mm pinion with η = 0.92: 44.76 N·m.
#[test]
fn torque_on_the_pinion() {
    assert_relative_eq!(drive::pinion_torque(1098.1, 0.075, 0.92).unwrap(), 44.76, max_relative = ARITHMETIC);
}

/// A light roof from the wheels to the motor, recomputed link by link: wind and grade exceed the rolling.
#[test]
fn whole_chain() {
    let pinion = Pinion::new(0.004, 20.0, 20_f64.to_radians()).unwrap().pitch_diameter();
    assert_relative_eq!(60.0 * drive::turns(0.12, pinion).unwrap(), 28.65, max_relative = ARITHMETIC);
    let rolling = resistance(900.0 * GRAVITY, &wheel(100.0, 20.0, 0.5, 0.005, 0.003)).unwrap();
    assert_relative_eq!(rolling, 123.61, max_relative = ARITHMETIC);
    // Grade 46.23, wind 367.21, acceleration 45.00 N.
    let all = rolling + 46.23 + 367.21 + 45.00;
    assert_relative_eq!(drive::pinion_torque(all, pinion, 0.6).unwrap(), 38.80, max_relative = ARITHMETIC);
    assert_relative_eq!(drive::power(all, 0.12, 0.6).unwrap(), 116.4, max_relative = 2e-4);
}

#[test]
fn nonsense_is_refused() {
    let good = wheel(100.0, 20.0, 0.5, 0.005, 0.003);
    for bad in [Wheel { tread_diameter: 0.0, ..good }, Wheel { lever_arm: -INCH, ..good }, Wheel { bearing_friction: f64::NAN, ..good }] {
        assert!(resistance(100.0, &bad).is_err());
    }
    assert!(resistance(-1.0, &good).is_err());
}
