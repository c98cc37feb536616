//! States and their combinations, shares of a rigid body, distances of fasteners.

use approx::assert_relative_eq;
use std::f64::consts::FRAC_PI_2;
use wallplate::calc::fastener::{en_layout, nds_layout};
use wallplate::calc::holddown::{Resultant, Support, share_both_ways, share_sideways};
use wallplate::calc::loads::PerAction;
use wallplate::calc::loads::states::{Code, Level, State, effect};

const EFFECTS: PerAction =
    PerAction { dead: 4.0, moving: 5.0, roof_live: 2.0, snow: 6.0, wind: 3.0, open_dead: 5.0, open_snow: 7.0, open_wind: 2.0 };

fn combined(code: Code, level: Level) -> [f64; 6] {
    State::ALL.map(|state| effect(&EFFECTS, state, code, level).unwrap().value)
}

/// EN 1990 eq. 6.10 by hand with Tables A1.1, A1.2(B): 1.35 G; 1.5 Q; 1.35 G + 1.5 S; 1.35 G + 1.5 Q (people on a roof never with
/// snow or wind, EN 1991-1-1 §3.3.2(1)); the larger of 1.35 G + 1.5 W + 0.75 S and 1.35 G + 1.5 S + 0.9 W. Eq. 6.14b the same
/// without 1.35 and 1.5. Left open 1.35 x 5 + 1.5 S + 0.9 W.
#[test]
fn states_by_the_eurocode() {
    let strength = combined(Code::Eurocode, Level::Strength);
    for (ours, by_hand) in strength.iter().zip([5.4, 7.5, 14.4, 8.4, 17.1, 19.05]) {
        assert_relative_eq!(*ours, by_hand, max_relative = 1e-12);
    }
    let working = combined(Code::Eurocode, Level::Working);
    for (ours, by_hand) in working.iter().zip([4.0, 5.0, 10.0, 6.0, 11.8, 13.2]) {
        assert_relative_eq!(*ours, by_hand, max_relative = 1e-12);
    }
}

/// ASCE 7-16 §2.4.1 by hand: D; L (all that rolls); D + S; D + Lr; the largest of D + 0.6 W, D + 0.45 W + 0.75 Lr,
/// D + 0.45 W + 0.75 S; left open D + S.
#[test]
fn states_by_asce7() {
    for level in [Level::Strength, Level::Working] {
        for (ours, by_hand) in combined(Code::Asce7, level).iter().zip([4.0, 5.0, 10.0, 6.0, 9.85, 12.0]) {
            assert_relative_eq!(*ours, by_hand, max_relative = 1e-12);
        }
    }
    // More wind than snow: D + 0.6 W.
    let windy = PerAction { wind: 40.0, snow: 1.0, roof_live: 1.0, ..EFFECTS };
    assert_relative_eq!(effect(&windy, State::Wind, Code::Asce7, Level::Strength).unwrap().value, 28.0, max_relative = 1e-12);
}

/// Nine piles 1.2 m apart, 300 at 0.5 m and 0.2 m off the middle: 62.5, 54.167, 45.83, 41.67, 33.33, 25, 20.83, 12.5, 4.16.
/// Source: lecture notes on pile caps (worked example).
#[test]
fn a_published_pile_cap() {
    let at = [1.2, 0.0, -1.2];
    let piles: Vec<Support> = at.iter().flat_map(|x| at.iter().map(|y| Support::new(*x, *y))).collect();
    let mut ours = share_both_ways(&piles, Resultant::at(300.0, 0.5, 0.2)).unwrap();
    ours.sort_by(|a, b| b.total_cmp(a));
    for (ours, printed) in ours.iter().zip([62.5, 54.167, 45.83, 41.67, 33.33, 25.0, 20.83, 12.5, 4.16]) {
        assert_relative_eq!(*ours, printed, epsilon = 0.01);
    }
    let line = [Support::new(0.0, 0.0), Support::new(1.0, 0.0), Support::new(2.0, 0.0)];
    assert!(share_both_ways(&line, Resultant::at(1.0, 0.0, 0.5)).is_err());
}

/// Eccentric bolt group by the elastic method (AISC Manual Part 7), by hand: four bolts at the corners of 3 by 3 in, 10 kip at
/// 5 in: 2.5 + 50 x 1.5 / 18 = 6.667 kip one way, 4.167 the other: 7.862 kip.
#[test]
fn an_eccentric_group() {
    let bolts = [(5.0 - 1.5, -1.5), (5.0 - 1.5, 1.5), (5.0 + 1.5, -1.5), (5.0 + 1.5, 1.5)];
    let shares = share_sideways(&bolts, (0.0, 10.0)).unwrap();
    let hardest = shares.iter().map(|(x, y)| x.hypot(*y)).fold(0.0, f64::max);
    assert_relative_eq!(hardest, 7.862, max_relative = 1e-4);
    let sum = shares.iter().fold((0.0, 0.0), |sum, share| (sum.0 + share.0, sum.1 + share.1));
    assert!(sum.0.abs() < 1e-12 && (sum.1 - 10.0).abs() < 1e-12);
    // Moment about the origin, where the force acts: none.
    let moment: f64 = bolts.iter().zip(&shares).map(|(at, share)| at.0 * share.1 - at.1 * share.0).sum();
    assert!(moment.abs() < 1e-9);
}

/// NDS 2018 Tables 12.5.1A to C (from memory), softwood: 7D pulled along the grain, 4D across; edge 1.5D along, 4D loaded
/// across; 4D in a row.
#[test]
fn distances_by_the_nds() {
    let (along, across) = (nds_layout::distances(0.0), nds_layout::distances(FRAC_PI_2));
    assert_eq!((along.spacing, along.end, along.edge), (4.0, 7.0, 1.5));
    assert_eq!((across.spacing, across.end, across.edge), (4.0, 4.0, 4.0));
}

/// EN 1995-1-1 Table 8.2 (from memory), timber to 420 kg/m3, no holes: thin nails 10d and 5d in a row, 15d and 10d to a loaded
/// end, 5d and 7d to a loaded edge; from 5 mm on 12d in a row and 10d to a loaded edge.
#[test]
fn distances_of_nails_by_the_eurocode() {
    let thin = [0.0, FRAC_PI_2].map(|angle| en_layout::nail_distances(0.0031, angle));
    assert_relative_eq!(thin[0].along, 10.0);
    assert_relative_eq!(thin[1].along, 5.0, epsilon = 1e-12);
    assert_relative_eq!(thin[0].loaded_end, 15.0);
    assert_relative_eq!(thin[1].loaded_end, 10.0, epsilon = 1e-12);
    assert_relative_eq!(thin[0].loaded_edge, 5.0);
    assert_relative_eq!(thin[1].loaded_edge, 7.0);
    let thick = en_layout::nail_distances(0.006, 0.0);
    assert_relative_eq!(thick.along, 12.0);
    assert_relative_eq!(en_layout::nail_distances(0.006, FRAC_PI_2).loaded_edge, 10.0);
}
