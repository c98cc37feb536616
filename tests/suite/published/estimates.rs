//! Estimates against handbook numbers: what is known of a case has to lie within what is said of it.

use approx::assert_relative_eq;
use std::f64::consts::PI;
use wallplate::calc::estimates::*;

const RPM: f64 = PI / 30.0;
const PSF: f64 = 4.882_427_636; // kg/m2, NIST SP 811
const HORSEPOWER: f64 = 745.699_87; // W, NIST SP 811

/// NEMA MG 1-2016 Tables 12-2 and 12-3, from memory: 1 hp, four poles: locked rotor 275 %, breakdown 300 % of full load; 1 hp,
/// eight poles: 135 % and 215 %; 1-1/2 hp, two poles: 175 % and 250 %.
#[test]
fn three_phase_motors_lie_within_their_estimate() {
    for (hp, rpm, locked, breakdown) in [(1.0, 1750.0, 2.75, 3.0), (1.0, 850.0, 1.35, 2.15), (1.5, 3450.0, 1.75, 2.5)] {
        let rated = hp * HORSEPOWER / (rpm * RPM);
        let torque = stall_torque(Motor::ThreePhase, hp * HORSEPOWER, rpm * RPM).unwrap();
        for share in [locked, breakdown] {
            assert!(torque.least <= share * rated * (1.0 + 1e-9) && share * rated <= torque.most * (1.0 + 1e-9), "{hp} hp {rpm}: {share}");
        }
    }
}

/// The line of a magnet motor by its own constants: k = 0.05 N·m/A, R = 1 Ω, 24 V: stall 24 V / R × k = 1.2 N·m, idle 480 rad/s.
/// At a third of its stall torque it turns two thirds of that, 320 rad/s, and gives 128 W (recomputed). At 100 degC copper of
/// 20 degC resists 1.314 times as much: 0.913 N·m.
#[test]
fn magnet_motors_fall_in_a_line() {
    let torque = stall_torque(Motor::PermanentMagnet(480.0), 128.0, 320.0).unwrap();
    assert!(torque.least < 0.913 && 1.2 < torque.most, "{torque:?}");
    assert_relative_eq!(torque.most, 1.2 * 1.1, max_relative = 1e-9);
    assert_relative_eq!(torque.least, 1.2 / 1.314 * 0.9, max_relative = 1e-9);
    assert!(stall_torque(Motor::PermanentMagnet(320.0), 128.0, 320.0).is_err());
    // Through a gear of 20 with 0.5 on a pinion of 40 mm: ten times the torque over 0.04 m.
    let pull = stall_pull(Motor::PermanentMagnet(480.0), 128.0, 320.0, 20.0, 0.5, 0.04).unwrap();
    assert_relative_eq!(pull.most, 1.32 * 10.0 / 0.04, max_relative = 1e-9);
    assert!(stall_pull(Motor::ThreePhase, 128.0, 320.0, 20.0, 1.5, 0.04).is_err());
    assert!(stall_pull(Motor::ThreePhase, 128.0, 320.0, 20.0, 0.5, 0.0).is_err());
}

/// ASCE 7-16 Table C3.1-1a, from memory: asphalt shingles 2 psf, plywood 0.4 psf for each 1/8 in, so 1.6 psf for 1/2 in. Rafters
/// 2x8 (1-1/2 in by 7-1/4 in) at 16 in of 26 pcf (416 kg/m3, EN 338 C24: 420) weigh 1.47 psf (recomputed): 5.07 psf together.
#[test]
fn a_roof_of_shingles_on_plywood() {
    let inch = 0.0254;
    let weighs = roof_build_up(Covering::AsphaltShingles, 0.5 * inch, 1.5 * inch, 7.25 * inch, 16.0 * inch).unwrap();
    assert_relative_eq!(weighs.middle() / PSF, 5.07, max_relative = 5e-3);
    assert!(weighs.least / PSF < 4.4 && weighs.most / PSF > 5.7, "{weighs:?}");
    // Without boards and with the lightest timber it is never less than its covering.
    let bare = roof_build_up(Covering::Membrane, 0.0, 0.045, 0.145, 0.6).unwrap();
    assert!(bare.least > 0.7 * PSF && bare.least < weighs.least);
    assert!(roof_build_up(Covering::Membrane, 0.0, 0.045, 0.145, 0.0).is_err());
}

/// EN ISO 14688-2:2018 Table 5, from memory: very low 10 to 20 kPa, low to 40, medium to 75, high to 150, very high to 300.
/// BS 8004:1986 Table 1, from memory: presumed bearing of soft clay below 75 kPa, firm 75 to 150, stiff 150 to 300, very stiff
/// 300 to 600 kPa: what is said here of the least of a class is never more than the most of these.
#[test]
fn clay_by_its_class() {
    let all = [HandTest::OozesBetweenFingers, HandTest::MouldsLightly, HandTest::MouldsHard, HandTest::ThumbDents, HandTest::NailDents];
    let edges = [10e3, 20e3, 40e3, 75e3, 150e3, 300e3];
    for (at, test) in all.into_iter().enumerate() {
        let strength = clay_strength(test);
        assert_relative_eq!(strength.least, edges[at]);
        assert_relative_eq!(strength.most, edges[at + 1]);
        let bearing = clay_bearing(strength.least).unwrap();
        assert!(bearing < [75e3, 75e3, 150e3, 300e3, 600e3][at], "{bearing}");
    }
    assert_relative_eq!(clay_bearing(60e3).unwrap(), 5.141_592_65 * 20e3, max_relative = 1e-8);
    assert!(clay_bearing(0.0).is_err());
}
