//! The drive from shaft to rack, a person's push, and two stops that are not touched together.

use approx::assert_relative_eq;
use proptest::prelude::*;
use wallplate::calc::drive::*;
use wallplate::calc::gear::Pinion;
use wallplate::calc::impact::{Elastic, shared_impact, skew};
use wallplate::calc::stopping::spring_buffer;

/// Recomputed to the digits shown.
const ARITHMETIC: f64 = 1e-4;

fn diameter(teeth: f64) -> f64 {
    Pinion::new(0.004, teeth, 20_f64.to_radians()).unwrap().pitch_diameter()
}

/// T = F d / (2η), recomputed for 16 teeth of module 4, 800 N, η = 0.9; and back.
#[test]
fn torque_and_pull() {
    let torque = pinion_torque(800.0, diameter(16.0), 0.9).unwrap();
    assert_relative_eq!(torque, 28.44, max_relative = 2e-4);
    assert_relative_eq!(pull(torque, 1.0, 0.9, diameter(16.0)).unwrap(), 800.0, max_relative = 1e-12);
    // 1.2 N·m through 30:1 with η = 0.6 on a radius of 32 mm: 675 N (recomputed)
    assert_relative_eq!(pull(1.2, 30.0, 0.6, 0.064).unwrap(), 675.0, max_relative = 1e-12);
}

/// v = n π d, recomputed, in mm/s.
#[test]
fn speeds() {
    for (teeth, rpm, millimetres) in [(16.0, 60.0, 201.06), (20.0, 40.0, 167.55), (17.0, 50.0, 178.02)] {
        let got = speed(rpm / 60.0, diameter(teeth)).unwrap();
        assert_relative_eq!(got * 1000.0, millimetres, max_relative = ARITHMETIC);
        assert_relative_eq!(turns(got, diameter(teeth)).unwrap() * 60.0, rpm, max_relative = 1e-12);
    }
}

/// By hand.
#[test]
fn rated_pull_and_hand_force() {
    assert_relative_eq!(hand_force(120.0, 1.5, 40.0, 25.0).unwrap(), 245.0, max_relative = 1e-12);
    assert_relative_eq!(hand_force(100.0, 1.0, -300.0, 0.0).unwrap(), 0.0);
    assert!(power(100.0, 0.1, 0.0).is_err() && power(100.0, 0.1, 1.1).is_err());
}

fn stops(rates: [f64; 2], gap: f64) -> [Elastic; 2] {
    [Elastic { rate: rates[0], touched_at: 0.0 }, Elastic { rate: rates[1], touched_at: gap }]
}

/// Two equal stops touched together are one of twice the rate; one that is never reached leaves the other alone.
#[test]
fn two_stops_and_one() {
    let energy = 0.5 * 1200.0 * 0.10 * 0.10;
    let both = shared_impact(&stops([15e3; 2], 0.0), energy, 400.0).unwrap();
    let one = spring_buffer(1200.0, 0.10, 30e3, 400.0).unwrap();
    assert_relative_eq!(both.strokes[0], one.stroke, max_relative = 1e-12);
    assert_relative_eq!(both.forces[0] + both.forces[1], one.force, max_relative = 1e-12);
    assert_relative_eq!(both.energies[0], both.energies[1], max_relative = 1e-12);
    // 1200 kg, 0.10 m/s, 15 kN/m, 400 N: 65.54 mm, 983.1 N (recomputed from the conservation of energy)
    let alone = shared_impact(&stops([15e3; 2], 0.1), energy, 400.0).unwrap();
    assert_relative_eq!(alone.strokes[0] * 1000.0, 65.54, max_relative = ARITHMETIC);
    assert_relative_eq!(alone.forces[0], 983.1, max_relative = ARITHMETIC);
    assert_relative_eq!(alone.forces[1], 0.0);
    // at rest, by hand: 400 N on two springs of 15 kN/m, 10 mm apart: 150 N close the gap, the rest is shared
    // 1 mm of play either way over 3 m: 2 mm
    assert_relative_eq!(skew(0.001, 3.0).unwrap(), 0.002 / 3.0, max_relative = 1e-12);
}

/// The textbook bilinear spring by hand, no push: k = 20 kN/m alone over 10 mm takes 1 J; of 10 J the other 9 J go into
/// 10 x^2 + 10 (x - 10)^2 with x in mm and 20 kN/m each: x = 5 + sqrt(10^3 / 2 - 25) = 26.794 mm.
#[test]
fn the_second_stop_comes_later() {
    let shared = shared_impact(&stops([20e3; 2], 0.010), 10.0, 0.0).unwrap();
    let x = 5.0 + f64::sqrt(500.0 - 25.0);
    assert_relative_eq!(shared.strokes[0] * 1e3, x, max_relative = 1e-9);
    assert_relative_eq!(shared.strokes[1] * 1e3, x - 10.0, max_relative = 1e-9);
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    /// Energy in equals energy stored, and force balances the push at rest, whatever the order in which they are named.
    #[test]
    fn stops_keep_the_energy(
        rates in proptest::collection::vec(1e3..1e6_f64, 1..5), gaps in proptest::collection::vec(-0.05..0.05_f64, 4),
        energy in 0.0..200.0_f64, push in 0.0..2000.0_f64,
    ) {
        let mut all: Vec<Elastic> = rates.iter().zip(&gaps).map(|(rate, gap)| Elastic { rate: *rate, touched_at: *gap }).collect();
        let s = shared_impact(&all, energy, push).unwrap();
        let way = s.strokes.iter().copied().fold(0.0, f64::max);
        let into = energy + push * way;
        prop_assert!((s.energies.iter().sum::<f64>() - into).abs() <= 1e-9 * into.max(1e-9));
        // one that is touched later still, and was not the first, never relieves the others
        let last = rates.len() - 1;
        if gaps[..last].iter().any(|gap| *gap < gaps[last]) {
            all[last].touched_at += 0.01;
            let later = shared_impact(&all, energy, push).unwrap();
            for (force, before) in later.forces.iter().zip(&s.forces).take(last) {
                prop_assert!(*force >= before * (1.0 - 1e-9));
            }
        }
    }
}
