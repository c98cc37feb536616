//! Load combinations and rigid sharing among hold-downs against published values.

use approx::{assert_abs_diff_eq, assert_relative_eq};
use proptest::prelude::*;
use wallplate::calc::FormulaError;
use wallplate::calc::holddown::{
    CONTACT_STIFFNESS, Combination, Resultant, Support, envelope, share, share_gravity, share_uplift, share_without,
};

const LB: f64 = 4.448_221_615_260_5;

fn supports(places: &[(f64, f64)]) -> Vec<Support> {
    places.iter().map(|&(x, y)| Support::new(x, y)).collect()
}

fn in_line(places: &[f64]) -> Vec<Support> {
    places.iter().map(|&x| Support::new(x, 0.0)).collect()
}

fn assert_forces(forces: &[f64], expected: &[f64], within: f64) {
    assert_eq!(forces.len(), expected.len());
    for (force, wanted) in forces.iter().zip(expected) {
        assert_abs_diff_eq!(force, wanted, epsilon = within);
    }
}

#[test]
fn nine_piles() {
    // Worked example of a pile cap, 3 x 3 piles at 1.2 m, Q 300 at (0.5, 0.2) (lecture notes). It
    // prints 62.5 54.167 45.83 41.67 33.33 25 20.83 12.5 4.16, largest corner to smallest.
    let grid = [-1.2, 0.0, 1.2];
    let places: Vec<(f64, f64)> = grid.iter().flat_map(|&y| grid.iter().map(move |&x| (x, y))).collect();
    let shares = share_gravity(&supports(&places), Resultant::at(-300.0, 0.5, 0.2)).unwrap();
    let mut forces = shares.wheels;
    forces.sort_by(|a, b| b.total_cmp(a));
    assert_forces(&forces, &[62.5, 54.167, 45.83, 41.67, 33.33, 25.0, 20.83, 12.5, 4.16], 0.01);
}

#[test]
fn hold_downs_in_a_row() {
    // Rigid beam on equal springs; figures worked out in a separate script from ΣR and ΣRx.
    let shares = share_uplift(&in_line(&[0.0, 1.2, 2.4, 3.6]), Resultant::at(8.0, 1.2, 0.0)).unwrap();
    assert_forces(&shares.clamps, &[3.2, 2.4, 1.6, 0.8], 1e-6);
    // Stiffness 1 : 2 : 1.
    let mut uneven = in_line(&[0.0, 1.5, 3.0]);
    uneven[1].stiffness = 2.0;
    let shares = share_uplift(&uneven, Resultant::at(9.0, 1.2, 0.0)).unwrap();
    assert_forces(&shares.clamps, &[3.15, 4.5, 1.35], 1e-6);
}

#[test]
fn a_slack_hold_down_is_dropped() {
    // With springs that also push: -0.1111 .6325 2.1197 3.3590; pulling only, the first is slack and
    // the rest solved again give 0 .5055 2.0879 3.4066 (separate script).
    let places = in_line(&[0.0, 0.9, 2.7, 4.2]);
    let shares = share_uplift(&places, Resultant::at(6.0, 3.4, 0.0)).unwrap();
    assert_forces(&shares.clamps, &[0.0, 0.5055, 2.0879, 3.4066], 6e-5);
}

#[test]
fn hold_downs_without_symmetry() {
    // Σxy ≠ 0; figures worked out in a separate script.
    let places = supports(&[(0.0, 0.0), (3.0, 0.0), (3.0, 2.0), (0.0, 4.0)]);
    let shares = share_uplift(&places, Resultant::at(12.0, 1.2, 1.1)).unwrap();
    assert_forces(&shares.clamps, &[4.8, 3.0, 1.8, 2.4], 1e-5);
    let places = supports(&[(0.0, 0.0), (2.0, 0.0), (4.0, 0.0), (0.0, 3.0), (2.0, 3.0), (4.0, 3.0)]);
    let shares = share_uplift(&places, Resultant::at(15.0, 2.5, 1.2)).unwrap();
    assert_forces(&shares.clamps, &[2.0625, 3.0, 3.9375, 1.0625, 2.0, 2.9375], 1e-5);
}

#[test]
fn prying_about_the_wheels() {
    // A beam on two supports, 0 and 10, lifted by 6 at 12, beyond the clamp at 10: by moments about
    // the wheel at 0 that clamp pulls 6 · 12 / 10 = 7.2, more than the whole uplift, and the wheel
    // pushes 1.2 (statics).
    let (clamps, wheels) = (in_line(&[0.0, 10.0]), in_line(&[0.0, 10.0]));
    let load = Resultant::at(6.0, 12.0, 0.0);
    assert!(matches!(share_uplift(&clamps, load), Err(FormulaError::Unstable { .. })));
    let shares = share(&clamps, &wheels, load).unwrap();
    assert_forces(&shares.clamps, &[0.0, 7.2], 1e-5);
    assert_forces(&shares.wheels, &[1.2, 0.0], 1e-5);
    assert_eq!(shares.worst_clamp().map(|(index, _)| index), Some(1));
}

#[test]
fn a_roof_heavier_than_the_wind_stands_on_its_wheels() {
    let corners = supports(&[(-1.5, -1.0), (1.5, -1.0), (1.5, 1.0), (-1.5, 1.0)]);
    let shares = share(&corners, &corners, Resultant::at(-800.0, 0.0, 0.0)).unwrap();
    assert_forces(&shares.clamps, &[0.0; 4], 1e-5);
    assert_forces(&shares.wheels, &[200.0; 4], 1e-5);
}

/// x, y, stiffness.
type Places = [(f64, f64, f64)];

/// Clamps, wheels, load, pulls, pushes.
type Held<'a> = (&'a Places, &'a Places, [f64; 3], &'a [f64], &'a [f64]);

#[test]
fn least_complementary_energy() {
    // Expected: holddown_reference.py, scipy 1.x lsq_linear on the complementary energy.
    let cases: [Held; 4] = [
        (
            &[(-2.2, -1.6, 1.0), (0.0, -1.6, 1.0), (2.2, -1.6, 1.0), (-2.2, 1.6, 1.0), (0.0, 1.6, 1.0), (2.2, 1.6, 1.0)],
            &[(-1.8, -1.5, 100.0), (1.8, -1.5, 100.0), (-1.8, 1.5, 100.0), (1.8, 1.5, 100.0)],
            [1500.0, 300.0, 3900.0],
            &[0.0, 0.0, 0.0, 660.287, 661.29, 662.294],
            &[324.042, 159.829, 0.0, 0.0],
        ),
        (
            &[(-2.2, -1.6, 1.0), (2.2, -1.6, 1.0), (-2.2, 1.6, 1.0), (2.2, 1.6, 1.0)],
            &[(-1.8, -1.5, 100.0), (1.8, -1.5, 100.0), (-1.8, 1.5, 100.0), (1.8, 1.5, 100.0)],
            [400.0, 1800.0, -900.0],
            &[103.33, 388.66, 0.0, 251.673],
            &[0.0, 0.0, 343.663, 0.0],
        ),
        (
            &[(-2.0, -1.4, 2.0), (2.1, -1.4, 1.0), (-1.9, 1.5, 1.0), (2.0, 1.5, 3.0)],
            &[(-1.7, -1.3, 100.0), (0.0, -1.3, 100.0), (1.8, -1.3, 100.0), (-1.6, 1.3, 60.0), (1.7, 1.3, 60.0)],
            [-900.0, 2600.0, 700.0],
            &[0.0, 77.389, 0.0, 220.945],
            &[782.6, 0.0, 0.0, 415.734, 0.0],
        ),
        (
            &[(-2.5, -1.2, 1.0), (-0.4, -1.5, 2.0), (2.2, -1.1, 0.5), (1.9, 1.6, 1.5), (-2.1, 1.3, 1.0)],
            &[],
            [5200.0, -3900.0, 2700.0],
            &[1009.636, 714.842, 0.0, 1552.156, 1923.366],
            &[],
        ),
    ];
    let built = |places: &Places| -> Vec<Support> { places.iter().map(|&(x, y, stiffness)| Support { x, y, stiffness }).collect() };
    for (clamps, wheels, [force, moment_along, moment_across], pulls, pushes) in cases {
        let load = Resultant { force, moment_along, moment_across };
        let shares = share(&built(clamps), &built(wheels), load).unwrap();
        assert_forces(&shares.clamps, pulls, 0.01);
        assert_forces(&shares.wheels, pushes, 0.01);
    }
}

#[test]
fn what_cannot_be_held_is_named() {
    let unstable = |result: Result<_, FormulaError>| match result {
        Err(FormulaError::Unstable { what }) => what,
        other => panic!("expected an unstable roof, got {other:?}"),
    };
    let lift = Resultant::at(1000.0, 0.0, 0.5);
    assert!(unstable(share_uplift(&[], lift)).contains("nothing holds"));
    let two = supports(&[(-1.0, 0.0), (1.0, 0.0)]);
    assert!(unstable(share_uplift(&two, lift)).contains("one line"));
    let corners = supports(&[(-1.5, -1.0), (1.5, -1.0), (1.5, 1.0), (-1.5, 1.0)]);
    let outside = Resultant::at(1000.0, 0.0, 1.4);
    assert!(unstable(share_uplift(&corners, outside)).contains("outside the area"));
    assert!(unstable(share_uplift(&corners, outside)).contains("left side lifts"));
    let tipping = Resultant::at(-1000.0, 2.0, 0.0);
    assert!(unstable(share_gravity(&corners, tipping)).contains("closed end lifts"));
    assert!(unstable(share_gravity(&corners, lift)).contains("no clamp"));
    assert!(unstable(share_uplift(&corners, lift.times(-1.0))).contains("no wheel"));
    // Two clamps hold a load that acts right between them.
    let between = share_uplift(&two, Resultant::at(1000.0, 0.0, 0.0)).unwrap();
    assert_forces(&between.clamps, &[500.0, 500.0], 1e-5);
    let mut soft = corners.clone();
    soft[0].stiffness = 0.0;
    assert!(matches!(share_uplift(&soft, lift), Err(FormulaError::Domain { .. })));
    assert!(share_uplift(&corners, Resultant::at(f64::NAN, 0.0, 0.0)).is_err());
}

#[test]
fn one_clamp_forgotten() {
    // Four corners lifted in the middle, one left open: the two beside it can carry no moment about
    // the diagonal that they lie on, so they share the load and the one opposite hangs slack
    // (statics).
    let corners = supports(&[(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)]);
    let shares = share_without(&corners, &[], Resultant::at(1000.0, 0.0, 0.0), 0).unwrap();
    assert_forces(&shares.clamps, &[0.0, 500.0, 0.0, 500.0], 1e-2);
    assert!(share_without(&corners, &[], Resultant::at(1000.0, 0.0, 0.0), 4).is_err());
}

#[test]
fn factors_of_the_codes() {
    // ASCE 7-16 §2.4.1 combination 7 and §2.3.1 combination 5; EN 1990 Table A1.2(A) EQU 0.90 and
    // 1.50, A1.2(B) STR 1.00 and 1.50 (printed in Steel Buildings in Europe, Multi-storey part 3,
    // Table 3.1).
    let factors = |combination: Combination| (combination.wind_factor(), combination.dead_factor());
    assert_eq!(factors(Combination::Asd), (0.6, 0.6));
    assert_eq!(factors(Combination::Lrfd), (1.0, 0.9));
    assert_eq!(factors(Combination::Equilibrium), (1.5, 0.9));
    assert_eq!(factors(Combination::Strength), (1.5, 1.0));
    // 1500 lb of strength-level wind on 900 lb: 360 lb allowable stress, 690 lb strength; 5.0 kN on
    // 4.0 kN by EQU: 3.9 kN (worked out by hand).
    let (wind, dead) = (Resultant::at(1500.0, 0.0, 0.0), Resultant::at(900.0, 0.0, 0.0));
    assert_relative_eq!(Combination::Asd.net(wind, dead).force, 360.0, max_relative = 1e-12);
    assert_relative_eq!(Combination::Lrfd.net(wind, dead).force, 690.0, max_relative = 1e-12);
    let net = Combination::Equilibrium.net(Resultant::at(5e3, 0.0, 0.0), Resultant::at(4e3, 0.0, 0.0));
    assert_relative_eq!(net.force, 3.9e3, max_relative = 1e-12);
    assert_relative_eq!(net.force / Combination::Equilibrium.working_load_divisor(), 2.6e3, max_relative = 1e-12);
}

#[test]
fn uplift_against_dead_load() {
    // ASCE 7-16 §2.4.1 combination 7, by hand: 0.6·W − 0.6·D with 17.8 psf on 10.8 ft², 27.5 lb: GCp 1.5: 0.6·288.36 − 16.5.
    let cases = [(1.5, 156.516), (2.5, 271.86), (3.6, 398.7384)];
    for (coefficient, expected) in cases {
        let wind = Resultant::at(17.8 * coefficient * 10.8 * LB, 0.0, 0.0);
        let dead = Resultant::at(27.5 * LB, 0.0, 0.0);
        let net = Combination::Asd.net(wind, dead).force / LB;
        assert_relative_eq!(net, expected, max_relative = 1e-9);
    }
}

#[test]
fn a_worst_case_for_each_clamp() {
    let clamps = in_line(&[0.0, 4.0]);
    let loads = [Resultant::at(100.0, 1.0, 0.0), Resultant::at(100.0, 3.0, 0.0)];
    let worst = envelope(&clamps, &[], &loads).unwrap();
    assert_abs_diff_eq!(worst[0].force, 75.0, epsilon = 1e-5);
    assert_abs_diff_eq!(worst[1].force, 75.0, epsilon = 1e-5);
    assert_eq!((worst[0].case, worst[1].case), (0, 1));
}

#[test]
fn a_horizontal_force_lifts_the_side_it_comes_from() {
    // 300 N towards +x, 0.5 m up, on supports 3 m apart: 300 · 0.5 / 3 = 50 N (statics).
    let couple = Resultant::overturning(300.0, 0.0, 0.5);
    let load = couple.and(Resultant::at(-2000.0, 0.0, 0.0));
    let wheels = in_line(&[-1.5, 1.5]);
    let shares = share_gravity(&wheels, load).unwrap();
    assert_forces(&shares.wheels, &[950.0, 1050.0], 1e-3);
}

fn roof_supports() -> impl Strategy<Value = Vec<Support>> {
    prop::collection::vec((-3.0..3.0_f64, -2.0..2.0_f64, 0.2..5.0_f64), 4..12)
        .prop_map(|places| places.into_iter().map(|(x, y, stiffness)| Support { x, y, stiffness }).collect())
}

/// A load among the supports: a weighted mean of their places.
fn among(places: &[Support], weights: &[f64], force: f64) -> Resultant {
    let total: f64 = places.iter().zip(weights).map(|(_, weight)| weight).sum();
    let mean = |part: fn(&Support) -> f64| places.iter().zip(weights).map(|(place, weight)| part(place) * weight).sum::<f64>() / total;
    Resultant::at(force, mean(|place| place.x), mean(|place| place.y))
}

fn assert_balance(clamps: &[Support], wheels: &[Support], load: Resultant) -> Result<(), TestCaseError> {
    let shares = share(clamps, wheels, load).map_err(|error| TestCaseError::fail(format!("not held: {error}")))?;
    prop_assert!(shares.clamps.iter().chain(&shares.wheels).all(|force| *force >= 0.0));
    let sum = |part: fn(&Support) -> f64| {
        let pull: f64 = clamps.iter().zip(&shares.clamps).map(|(at, force)| part(at) * force).sum();
        let push: f64 = wheels.iter().zip(&shares.wheels).map(|(at, force)| part(at) * force).sum();
        pull - push
    };
    let most = load.force.abs().max(load.moment_along.abs()).max(load.moment_across.abs());
    prop_assert!((sum(|_| 1.0) - load.force).abs() <= 1e-5 * most);
    prop_assert!((sum(|at| at.x) - load.moment_along).abs() <= 1e-4 * most);
    prop_assert!((sum(|at| at.y) - load.moment_across).abs() <= 1e-4 * most);
    Ok(())
}

proptest! {
    #[test]
    fn clamps_balance_the_load(
        clamps in roof_supports(),
        weights in prop::collection::vec(0.05..1.0_f64, 12),
        force in 10.0..1e5_f64,
    ) {
        assert_balance(&clamps, &[], among(&clamps, &weights, force))?;
    }

    #[test]
    fn wheels_balance_the_weight(
        wheels in roof_supports(),
        weights in prop::collection::vec(0.05..1.0_f64, 12),
        force in 10.0..1e5_f64,
    ) {
        assert_balance(&[], &wheels, among(&wheels, &weights, -force))?;
    }

    #[test]
    fn clamps_and_wheels_balance_anything_they_can_hold(
        clamps in roof_supports(),
        wheels in roof_supports(),
        pull in prop::collection::vec(0.05..1.0_f64, 12),
        push in prop::collection::vec(0.05..1.0_f64, 12),
        lift in 10.0..1e4_f64,
        weight in 10.0..1e4_f64,
    ) {
        let wheels: Vec<Support> = wheels
            .into_iter()
            .map(|wheel| Support { stiffness: CONTACT_STIFFNESS, ..wheel })
            .collect();
        // A load that some pulls and pushes can hold is one that must be found held.
        let load = among(&clamps, &pull, lift).and(among(&wheels, &push, -weight));
        assert_balance(&clamps, &wheels, load)?;
    }

    #[test]
    fn a_symmetric_roof_shares_symmetrically(
        x in 0.5..4.0_f64, y in 0.5..3.0_f64, force in 1.0..1e5_f64,
    ) {
        let corners = supports(&[(-x, -y), (x, -y), (x, y), (-x, y)]);
        let shares = share(&corners, &corners, Resultant::at(force, 0.0, 0.0)).unwrap();
        for pull in &shares.clamps {
            prop_assert!((pull / force - 0.25).abs() < 1e-6);
        }
    }

    #[test]
    fn twice_the_load_is_twice_the_pull(
        clamps in roof_supports(),
        weights in prop::collection::vec(0.05..1.0_f64, 12),
    ) {
        let load = among(&clamps, &weights, 1000.0);
        let once = share_uplift(&clamps, load).unwrap();
        let twice = share_uplift(&clamps, load.times(2.0)).unwrap();
        for (a, b) in once.clamps.iter().zip(&twice.clamps) {
            prop_assert!((2.0 * a - b).abs() < 1e-2);
        }
    }
}
