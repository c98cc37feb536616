//! Magnets and proximity switches against published and independently computed values.

use approx::assert_relative_eq;
use proptest::prelude::*;
use wallplate::calc::FormulaError;
use wallplate::calc::sensing::{Cylinder, axial_field, field_aside, first_seen, operating_range, passing_distance, switching_distance};

const N42: Cylinder = Cylinder { remanence: 1.32, diameter: 0.010, length: 0.005 };
const SMALL: Cylinder = Cylinder { remanence: 1.2, diameter: 0.008, length: 0.003 };
const FERRITE: Cylinder = Cylinder { remanence: 0.40, diameter: 0.020, length: 0.005 };

#[test]
fn field_on_the_axis() {
    // Expected: magpylib 6.3.0 (reference library), which agrees with the textbook formula.
    let cases = [(N42, 0.005, 123.63e-3), (N42, 0.010, 35.809e-3), (N42, 0.020, 6.889e-3), (FERRITE, 0.010, 24.989e-3)];
    for (magnet, distance, expected) in cases {
        let field = axial_field(magnet, distance).unwrap();
        assert_relative_eq!(field, expected, max_relative = 1e-4);
    }
}

#[test]
fn field_beside_the_axis() {
    // Expected: magpylib 6.3.0 (reference library), component along the axis.
    let cases = [
        (N42, 0.010, 0.005, 24.954e-3),
        (FERRITE, 0.010, 0.005, 21.344e-3),
        (N42, 0.003, 0.008, 8.043_17e-3),
        (N42, 0.002, 0.005, 120.104_83e-3),
        (SMALL, 0.006, 0.004, 29.346_28e-3),
        (SMALL, 0.012, 0.015, 0.671_71e-3),
    ];
    for (magnet, distance, aside, expected) in cases {
        let field = field_aside(magnet, distance, aside).unwrap();
        assert_relative_eq!(field, expected, max_relative = 1e-4);
    }
}

#[test]
fn field_beside_the_axis_far_away_is_that_of_a_dipole() {
    // Dipole field, e.g. Jackson, Classical Electrodynamics, section 5.6:
    // Bz = m (2 z² - ρ²) / (4π r⁵) μ0, with μ0 m = Br V.
    let (z, rho) = (0.6, 0.8_f64);
    let volume = std::f64::consts::PI * 0.005_f64.powi(2) * 0.005;
    let from_middle = z + 0.0025;
    let distance = f64::hypot(from_middle, rho);
    let dipole = 1.32 * volume * (2.0 * from_middle * from_middle - rho * rho) / (4.0 * std::f64::consts::PI * distance.powi(5));
    assert_relative_eq!(field_aside(N42, z, rho).unwrap(), dipole, max_relative = 1e-3);
}

#[test]
fn operate_and_release_distances() {
    // Expected: the axial formula solved in a separate script (double precision, bisection).
    let cases = [(N42, 4.8e-3, 22.97e-3), (N42, 3.0e-3, 27.40e-3), (SMALL, 6e-3, 14.972e-3), (SMALL, 4e-3, 17.466e-3)];
    for (magnet, field, expected) in cases {
        let distance = switching_distance(magnet, field).unwrap();
        assert_relative_eq!(distance, expected, max_relative = 3e-4);
    }
}

#[test]
fn a_sensor_out_of_reach_never_switches() {
    assert!(matches!(switching_distance(N42, 0.6), Err(FormulaError::Domain { .. })));
    assert!(matches!(passing_distance(N42, 0.030, 4.8e-3), Err(FormulaError::Domain { .. })));
    assert!(matches!(first_seen(0.012, 0.013), Err(FormulaError::Domain { .. })));
    assert!(first_seen(0.012, f64::NAN).is_err());
}

#[test]
fn proximity_switch_distances() {
    // Data sheets to IEC 60947-5-2: Sn 5 mm assured 0 to 4.05, effective 4.5 to 5.5 mm; Sn 2 mm
    // assured 1.62 mm; Sn 1.5 mm assured 1.21, effective 1.35 to 1.65 mm; Sn 6 mm hysteresis up to
    // 1.2 mm, Sn 2 mm up to 0.44 mm. Printed to two decimals.
    let five = operating_range(5e-3, 1.0).unwrap();
    assert_relative_eq!(five.assured, 4.05e-3, max_relative = 1e-9);
    assert_relative_eq!(five.least_effective, 4.5e-3, max_relative = 1e-9);
    assert_relative_eq!(five.greatest_effective, 5.5e-3, max_relative = 1e-9);
    // Su at most 1.1 Sr, Sr at most 1.1 Sn: IEC 60947-5-2, from memory.
    assert_relative_eq!(five.greatest_usable, 6.05e-3, max_relative = 1e-9);
    let two = operating_range(2e-3, 1.0).unwrap();
    assert_relative_eq!(two.assured, 1.62e-3, max_relative = 1e-9);
    assert_relative_eq!(two.greatest_hysteresis, 0.44e-3, max_relative = 1e-9);
    let small = operating_range(1.5e-3, 1.0).unwrap();
    assert_relative_eq!(small.assured, 1.21e-3, epsilon = 0.006e-3);
    assert_relative_eq!(small.least_effective, 1.35e-3, max_relative = 1e-9);
    assert_relative_eq!(small.greatest_effective, 1.65e-3, max_relative = 1e-9);
    // Aluminium target, factor 0.35: the same ratios of a shorter distance.
    assert_relative_eq!(operating_range(5e-3, 0.35).unwrap().assured, 1.4175e-3, max_relative = 1e-9);
}

#[test]
fn half_chord_of_the_sensors_circle() {
    // Euclid: the 3-4-5 and 5-12-13 triangles.
    assert_relative_eq!(first_seen(0.005, 0.003).unwrap(), 0.004, max_relative = 1e-12);
    assert_relative_eq!(first_seen(0.013, 0.005).unwrap(), 0.012, max_relative = 1e-12);
    assert_relative_eq!(first_seen(0.013, 0.0).unwrap(), 0.013, max_relative = 1e-12);
    // 13 - 5 apart at a gap of 12: chords √(13² - 12²) = 5 and √(15² - 12²) = 9.
}

proptest! {
    #[test]
    fn a_stronger_field_is_nearer(field in 1e-4..0.05_f64, more in 1.01..3.0_f64) {
        let far = switching_distance(N42, field).unwrap();
        let near = switching_distance(N42, field * more).unwrap();
        prop_assert!(near < far);
        prop_assert!((axial_field(N42, far).unwrap() / field - 1.0).abs() < 1e-9);
    }

    #[test]
    fn beside_and_on_the_axis_agree(distance in 1e-3..0.05_f64, remanence in 0.2..1.4_f64) {
        let magnet = Cylinder { remanence, ..N42 };
        let on = axial_field(magnet, distance).unwrap();
        let beside = field_aside(magnet, distance, 0.0).unwrap();
        prop_assert!((on / beside - 1.0).abs() < 1e-9);
    }

    #[test]
    fn the_field_abreast_of_the_rim_is_continuous(distance in 1e-3..0.05_f64) {
        let at = field_aside(N42, distance, 0.005).unwrap();
        let beside = field_aside(N42, distance, 0.005 + 1e-9).unwrap();
        let inside = field_aside(N42, distance, 0.005 - 1e-9).unwrap();
        prop_assert!((at - beside).abs() < 1e-5 && (at - inside).abs() < 1e-5);
    }

    #[test]
    fn passing_is_where_the_field_falls_off(gap in 2e-3..0.02_f64, part in 0.05..0.95_f64) {
        let field = axial_field(N42, gap).unwrap() * part;
        let aside = passing_distance(N42, gap, field).unwrap();
        prop_assert!(aside > 0.0);
        prop_assert!((field_aside(N42, gap, aside).unwrap() / field - 1.0).abs() < 1e-6);
    }
}
