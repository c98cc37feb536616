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
    let uphill = grade_force(2000.0 * LBF, 0.5_f64.to_radians()).unwrap() / LBF;
    assert_relative_eq!(uphill, 17.453, max_relative = ARITHMETIC);
}

/// Molesworth's pocketbook, p. 219, with its coefficients: 9000 lb on 1000 lb of wheels, f = 0.001, F = 0.018,
/// d/D = 0.1: 26.2 lb (recomputed).
#[test]
fn pocketbook_form() {
    let pounds = pocketbook_resistance(9000.0 * LBF, 1000.0 * LBF, 0.001, 0.018, 0.1).unwrap() / LBF;
    assert_relative_eq!(pounds, 26.2, max_relative = ARITHMETIC);
}

/// Algebra: with a factor k and no flange share the crane handbooks' `W (2f + μd)/D · k` is the same formula
/// times k; with a wedge of √2 (a 90° vee) only the flange share stays as it was.
#[test]
fn factor_and_wedge() {
    let plain = wheel(100.0, 20.0, 0.5, 0.005, 0.0);
    let once = resistance(1000.0, &plain).unwrap();
    assert_relative_eq!(once, 1000.0 * (2.0 * 0.5 + 0.005 * 20.0) / 100.0, max_relative = 1e-12);
    let twice = resistance_with_factor(1000.0, &plain, 2.0).unwrap();
    assert_relative_eq!(twice, 2.0 * once, max_relative = 1e-12);
    let vee = Wheel { wedge: 2_f64.sqrt(), flange: 0.003, ..plain };
    assert_relative_eq!(resistance(1000.0, &vee).unwrap(), once * 2_f64.sqrt() + 3.0, max_relative = 1e-12);
    assert!(resistance(1000.0, &Wheel { wedge: 0.9, ..plain }).is_err());
    assert!(resistance_with_factor(1000.0, &plain, 0.5).is_err());
}

/// Castor form F = W f / R: 1000 N, 0.5 mm, 50 mm: 10 N.
#[test]
fn castor() {
    assert_relative_eq!(castor_resistance(1000.0, 0.0005, 0.05).unwrap(), 10.0, max_relative = 1e-12);
}

/// Grades, recomputed: 1 % under 1000 kg, 2° under 800 kg.
#[test]
fn grades() {
    let one_percent = grade_angle(0.01, 1.0).unwrap();
    assert_relative_eq!(grade_force(1000.0 * GRAVITY, one_percent).unwrap(), 98.095, max_relative = ARITHMETIC);
    let two = 2_f64.to_radians();
    assert_relative_eq!(grade_force(800.0 * GRAVITY, two).unwrap(), 273.89, max_relative = ARITHMETIC);
}

/// A university course's drive-wheel torque notes: 35 lb up 2°, rolling coefficient 0.01, 1.5 ft/s in 1 s. The notes
/// divide by g = 32.2 ft/s², hence the tolerance.
#[test]
fn drive_wheel_notes() {
    let weight = 35.0 * LBF;
    let rolling = grip(0.01, weight).unwrap() / LBF;
    assert_relative_eq!(rolling, 0.350, max_relative = ARITHMETIC);
    let t = traction(&[], 0.0, 0.0, 35.0 * 0.453_592_37, 1.5 * 0.3048).unwrap();
    assert_relative_eq!(t.acceleration / LBF, 1.6304, max_relative = 1e-3);
    let grade = grade_force(weight, 2_f64.to_radians()).unwrap() / LBF;
    assert_relative_eq!(grade, 1.2215, max_relative = ARITHMETIC);
    assert_relative_eq!(rolling + grade + t.acceleration / LBF, 3.202, max_relative = 1e-3);
}

/// A published rack-and-pinion exercise: 500 kg, μ = 0.05, 2 m/s²: 1245 N; and 1098.1 N on a 75 mm pinion with η = 0.92:
/// 44.76 N·m.
#[test]
fn rack_and_pinion_exercise() {
    let t = traction(&[], 0.0, 0.0, 500.0, 2.0).unwrap();
    let force = grip(0.05, 500.0 * GRAVITY).unwrap() + t.total();
    assert_relative_eq!(force, 1245.25, max_relative = ARITHMETIC);
    assert_relative_eq!(drive::pinion_torque(1098.1, 0.075, 0.92).unwrap(), 44.76, max_relative = ARITHMETIC);
}

/// Wind pressure 0.613 V² (Pa, m/s), recomputed; and the US form 0.00256 V² (psf, mph), whose rounded
/// constant differs by 0.06 %.
#[test]
fn wind_pressure() {
    for (speed, pascal) in [(10.0, 61.3), (15.0, 137.9), (20.0, 245.2)] {
        assert_relative_eq!(wind_force(speed, 1.0, 1.0).unwrap(), pascal, max_relative = 4e-4);
    }
    let psf = LBF / (0.3048 * 0.3048);
    for (miles, pounds) in [(40.0, 4.096), (90.0, 20.736), (100.0, 25.60)] {
        let pressure = wind_force(miles * 0.447_04, 1.0, 1.0).unwrap() / psf;
        assert_relative_eq!(pressure, pounds, max_relative = 1e-3);
    }
}

/// A light roof from the wheels to the motor, recomputed link by link: wind and grade exceed the rolling.
#[test]
fn whole_chain() {
    let group = WheelGroup { load: 900.0 * GRAVITY, wheel: wheel(100.0, 20.0, 0.5, 0.005, 0.003) };
    let wind = wind_force(12.0, 3.2, 1.3).unwrap();
    let t = traction(&[group], 0.3_f64.to_radians(), wind, 900.0, 0.05).unwrap();
    assert_relative_eq!(t.rolling, 123.61, max_relative = ARITHMETIC);
    assert_relative_eq!(t.grade, 46.23, max_relative = ARITHMETIC);
    assert_relative_eq!(t.wind, 367.21, max_relative = ARITHMETIC);
    assert_relative_eq!(t.acceleration, 45.00, max_relative = ARITHMETIC);
    assert_relative_eq!(t.total(), 582.05, max_relative = ARITHMETIC);
    let pinion = Pinion::new(0.004, 20.0, 20_f64.to_radians()).unwrap().pitch_diameter();
    assert_relative_eq!(drive::pinion_torque(t.total(), pinion, 0.6).unwrap(), 38.80, max_relative = ARITHMETIC);
    assert_relative_eq!(drive::power(t.total(), 0.12, 0.6).unwrap(), 116.4, max_relative = 2e-4);
    assert_relative_eq!(60.0 * drive::turns(0.12, pinion).unwrap(), 28.65, max_relative = ARITHMETIC);
}

#[test]
fn nonsense_is_refused() {
    let good = wheel(100.0, 20.0, 0.5, 0.005, 0.003);
    for bad in [Wheel { tread_diameter: 0.0, ..good }, Wheel { lever_arm: -INCH, ..good }, Wheel { bearing_friction: f64::NAN, ..good }] {
        assert!(resistance(100.0, &bad).is_err());
    }
    assert!(resistance(-1.0, &good).is_err());
    assert!(grade_force(1.0, 2.0).is_err());
}
