//! Rolling resistance and traction against published examples and coefficients.
//!
//! Where a source gives the formula and the coefficients but no result, the result is independent
//! arithmetic and the check says "recomputed".

use approx::assert_relative_eq;
use wallplate::calc::drive;
use wallplate::calc::gear::Pinion;
use wallplate::calc::rolling::*;

const LBF: f64 = 4.448_222;
const INCH: f64 = 0.0254;
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

/// A geared-motor maker's travelling-drive example: 3000 kg on wheels of 250 mm with 60 mm bearings, f = 0.5 mm,
/// μ = 0.005, c = 0.003: 241 N, and 141 W at 0.5 m/s with η = 0.90 · 0.95. Half the mass is recomputed.
#[test]
fn travelling_drive_example() {
    let wheel = wheel(250.0, 60.0, 0.5, 0.005, 0.003);
    assert_relative_eq!(resistance_ratio(&wheel).unwrap(), 0.0082, max_relative = 1e-12);
    let full = resistance(3000.0 * GRAVITY, &wheel).unwrap();
    assert_relative_eq!(full, 241.0, max_relative = 2e-3); // printed without decimals
    assert_relative_eq!(full, 241.33, max_relative = ARITHMETIC);
    assert_relative_eq!(resistance(1500.0 * GRAVITY, &wheel).unwrap(), 120.66, max_relative = ARITHMETIC);
    assert_relative_eq!(drive::power(full, 0.5, 0.90 * 0.95).unwrap(), 141.1, max_relative = 3e-4);
}

/// The same formula with the published coefficients, recomputed, metric and US.
#[test]
fn resistance_with_published_coefficients() {
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

/// A published rack-and-pinion exercise: 1098.1 N on a 75 mm pinion with η = 0.92:
/// 44.76 N·m.
#[test]
fn rack_and_pinion_exercise() {
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
