//! Vee wheels and the gauge of two tracks.

use std::f64::consts::{FRAC_1_SQRT_2, SQRT_2};

use approx::assert_relative_eq;
use wallplate::calc::gauge::*;
use wallplate::calc::vee::*;

/// Recomputed to the digits shown.
const ARITHMETIC: f64 = 1e-4;

/// Statics; the √2 of a right-angled trough is a textbook result.
#[test]
fn wedge() {
    for (degrees, flank, sum) in [(60.0_f64, 1.0000, 2.0000), (90.0, FRAC_1_SQRT_2, SQRT_2), (120.0, 0.5774, 1.1547)] {
        let angle = degrees.to_radians();
        assert_relative_eq!(wedge_factor(angle).unwrap(), sum, max_relative = ARITHMETIC);
        let [a, b] = flank_forces(1.0, 0.0, angle).unwrap();
        assert_relative_eq!(a, flank, max_relative = ARITHMETIC);
        assert_relative_eq!(a, b, max_relative = 1e-12);
    }
    assert_relative_eq!(wedge_factor(90_f64.to_radians()).unwrap(), SQRT_2, max_relative = 1e-12);
}

/// Recomputed by statics: forces on both flanks and the sideways force at which one lifts off.
#[test]
fn sideways_force() {
    for (degrees, load, aside, first, second, lifts) in
        [(90.0_f64, 2000.0, 300.0, 1626.35, 1202.08, 2000.0), (60.0, 1500.0, 200.0, 1615.47, 1384.53, 2598.08)]
    {
        let angle = degrees.to_radians();
        let [a, b] = flank_forces(load, aside, angle).unwrap();
        assert_relative_eq!(a, first, max_relative = ARITHMETIC);
        assert_relative_eq!(b, second, max_relative = ARITHMETIC);
        // At lift-off the one flank is free, beyond it stays so and the other goes on growing.
        let [a, b] = flank_forces(load, lifts, angle).unwrap();
        assert!(b.abs() < 1e-5 * load);
        let [more, none] = flank_forces(load, lifts * 1.001, angle).unwrap();
        assert!(more > a && none == 0.0);
        // Without friction a wheel climbs as soon as a flank lifts off.
        assert_relative_eq!(climbing_force(load, 0.0, angle).unwrap(), lifts, max_relative = ARITHMETIC);
    }
}

/// Nadal's limit as railways quote it: 1.13 for a 75° flange with μ = 0.5 (from memory); a flank slope of 75° is an
/// included angle of 30°. Friction makes it easier to climb, never harder.
#[test]
fn wheel_climb() {
    assert_relative_eq!(climbing_force(1.0, 0.5, 30_f64.to_radians()).unwrap(), 1.13, max_relative = 4e-3);
    assert!(climbing_force(1.0, 1.2, 90_f64.to_radians()).unwrap() == 0.0);
    assert!(climbing_force(1.0, 0.15, 90_f64.to_radians()).unwrap() < 1.0);
}

#[test]
fn no_groove_without_an_angle() {
    assert!(wedge_factor(0.0).is_err() && wedge_factor(180_f64.to_radians()).is_err());
    assert!(wedge_factor(f64::NAN).is_err());
}

/// ISO 12488-1 construction tolerance of the span, as a national edition reproduces it.
#[test]
fn span_tolerance_iso() {
    for (span, millimetres) in [(20.0, [4.0, 6.0, 9.0]), (60.0, [10.0, 15.0, 19.0]), (4.5, [3.0, 5.0, 8.0]), (16.0, [3.0, 5.0, 8.0])] {
        for (class, mm) in [Class::One, Class::Two, Class::Three].into_iter().zip(millimetres) {
            assert_relative_eq!(span_tolerance(span, class).unwrap() * 1000.0, mm, max_relative = 1e-12);
        }
    }
}
