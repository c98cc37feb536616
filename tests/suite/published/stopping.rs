//! Coast, stop and buffer against published values.

use approx::assert_relative_eq;
use proptest::prelude::*;
use wallplate::calc::FormulaError;
use wallplate::calc::stopping::{
    coasting_deceleration, deceleration, equivalent_mass, kinetic_energy, spring_buffer, stall_force, stopping_distance,
};

#[test]
fn stopping_distances() {
    // Kinematics, v t + v²/2a; figures worked out in a separate script.
    let cases = [(0.10, 0.25, 0.20, 0.0500), (0.15, 0.30, 0.12, 0.13875), (0.20, 0.20, 0.40, 0.0900)];
    for (speed, reaction, slowing, expected) in cases {
        let distance = stopping_distance(speed, reaction, slowing).unwrap();
        assert_relative_eq!(distance, expected, max_relative = 1e-9);
    }
}

#[test]
fn coasting_on_rolling_resistance() {
    // Rolling resistance 0.014 of the weight from 0.15 m/s, worked out with g = 9.81 m/s²: 0.13734
    // m/s², 0.0819 m, 1.092 s. Standard gravity is 0.034 % less.
    let slowing = coasting_deceleration(0.014, 0.0).unwrap();
    assert_relative_eq!(slowing, 0.137_34, max_relative = 4e-4);
    assert_relative_eq!(stopping_distance(0.15, 0.0, slowing).unwrap(), 0.0819, max_relative = 1e-3);
    // 1000 kg on a 1 % grade is pulled by 98.095 N (g = 9.81).
    let downhill = coasting_deceleration(0.0, -0.01).unwrap();
    assert_relative_eq!(downhill * 1000.0, -98.095, max_relative = 4e-4);
}

#[test]
fn a_roof_that_nothing_slows_does_not_stop() {
    assert!(matches!(stopping_distance(0.1, 0.0, 0.0), Err(FormulaError::Domain { .. })));
    assert!(stopping_distance(f64::NAN, 0.0, 1.0).is_err());
    assert!(kinetic_energy(-1.0, 1.0).is_err());
}

#[test]
fn energy_at_the_stop() {
    // ½ m v². At 40 % of the speed (CMAA 70; Michigan Admin. Code
    // R 408.12019) and at a third (trolley bumpers).
    let cases = [(900.0, 0.10, 4.5, 0.72, 0.5), (1500.0, 0.20, 30.0, 4.8, 3.3333), (780.0, 0.12, 5.616, 0.898_56, 0.624)];
    for (mass, speed, full, forty, third) in cases {
        assert_relative_eq!(kinetic_energy(mass, speed).unwrap(), full, max_relative = 1e-9);
        assert_relative_eq!(kinetic_energy(mass, 0.4 * speed).unwrap(), forty, max_relative = 1e-9);
        assert_relative_eq!(kinetic_energy(mass, speed / 3.0).unwrap(), third, max_relative = 1e-4);
    }
}

#[test]
fn turning_parts_as_mass() {
    // Conservation of energy, J (i/r)²; figures worked out in a separate script.
    let cases = [(2e-4, 30.0, 0.032, 175.8), (5e-4, 50.0, 0.04, 781.25), (1.2e-4, 60.0, 0.034, 373.70)];
    for (inertia, ratio, radius, expected) in cases {
        let mass = equivalent_mass(inertia, ratio, radius).unwrap();
        assert_relative_eq!(mass, expected, max_relative = 2e-4);
    }
    // The same force on 900 kg and 100 kg of turning parts: F = m a.
    assert_relative_eq!(deceleration(123.606, 900.0, 100.0).unwrap(), 0.123_606, max_relative = 1e-9);
}

#[test]
fn spring_buffers() {
    // Conservation of energy; figures worked out in a separate script.
    let free = spring_buffer(900.0, 0.15, 20e3, 0.0).unwrap();
    assert_relative_eq!(free.stroke, 31.82e-3, max_relative = 2e-4);
    assert_relative_eq!(free.force, 636.4, max_relative = 1e-4);
    let pushed = spring_buffer(1200.0, 0.10, 15e3, 400.0).unwrap();
    assert_relative_eq!(pushed.stroke, 65.54e-3, max_relative = 1e-4);
    assert_relative_eq!(pushed.force, 983.1, max_relative = 1e-4);
}

#[test]
fn stalled_drive() {
    // F = T η i / r; figure worked out in a separate script.
    let force = stall_force(1.2, 0.6, 30.0, 0.032).unwrap();
    assert_relative_eq!(force, 675.0, max_relative = 1e-9);
}

proptest! {
    #[test]
    fn a_buffer_takes_all_the_energy(
        mass in 50.0..5000.0_f64,
        speed in 0.0..1.0_f64,
        stiffness in 1e3..1e6_f64,
        push in 0.0..5000.0_f64,
    ) {
        let buffer = spring_buffer(mass, speed, stiffness, push).unwrap();
        let given = kinetic_energy(mass, speed).unwrap() + push * buffer.stroke;
        let taken = 0.5 * stiffness * buffer.stroke * buffer.stroke;
        prop_assert!((given - taken).abs() <= 1e-9 * given.max(1e-9));
        prop_assert!(buffer.force >= 2.0 * push * (1.0 - 1e-12));
    }

    #[test]
    fn stopping_grows_with_the_square_of_the_speed(speed in 0.01..1.0_f64, slowing in 0.01..2.0_f64) {
        let once = stopping_distance(speed, 0.0, slowing).unwrap();
        let twice = stopping_distance(2.0 * speed, 0.0, slowing).unwrap();
        prop_assert!((twice / once - 4.0).abs() < 1e-9);
        // What the roof carries is m a over just that distance.
        prop_assert!((kinetic_energy(100.0, speed).unwrap() / (100.0 * slowing * once) - 1.0).abs() < 1e-9);
    }
}
