//! How much wind a rolling roof takes, against a linear program and against an edge worked out by hand.
//!
//! Data made without our code: `tipping_reference.py` beside this file.

use approx::assert_relative_eq;
use serde::Deserialize;
use wallplate::calc::FormulaError;
use wallplate::calc::holddown::{Resultant, Support, Tie, tipping};

#[derive(Deserialize)]
struct Case {
    wheels: Vec<(f64, f64)>,
    ties: Vec<(f64, f64, f64)>,
    wind: (f64, f64, f64),
    weight: (f64, f64, f64),
    factor: f64,
}

fn wheels(places: &[(f64, f64)]) -> Vec<Support> {
    places.iter().map(|&(x, y)| Support::new(x, y)).collect()
}

fn load((force, moment_along, moment_across): (f64, f64, f64)) -> Resultant {
    Resultant { force, moment_along, moment_across }
}

/// The tipping lines (upper bound) meet the best set of forces (lower bound) in each of 60 random roofs.
#[test]
fn the_line_that_gives_way_is_what_a_linear_program_finds() {
    let cases: Vec<Case> = serde_json::from_str(include_str!("data/tipping.json")).unwrap();
    assert_eq!(cases.len(), 60);
    for case in cases {
        let ties: Vec<Tie> = case.ties.iter().map(|&(x, y, rating)| Tie { at: Support::new(x, y), rating }).collect();
        let found = tipping(&ties, &wheels(&case.wheels), load(case.wind), load(case.weight)).unwrap();
        assert_relative_eq!(found.factor.min(1e6), case.factor, max_relative = 1e-6, epsilon = 1e-6);
    }
}

/// By hand: 4 kN of roof on wheels 3 m apart, lifted by 3 kN in its middle and pushed over by 3 kNm: about the lee wheels
/// 4 kN x 1.5 m hold against 3 kN x 1.5 m + 3 kNm, 6 / 7.5. A keeper for 1 kN on the windward side holds 1 kN x 3 m more,
/// 9 / 7.5; two of them on the lee side, above the wheels about which it turns, hold nothing.
#[test]
fn a_roof_tips_about_its_lee_wheels() {
    let four = wheels(&[(-2.0, -1.5), (2.0, -1.5), (-2.0, 1.5), (2.0, 1.5)]);
    let (wind, weight) = (load((3000.0, 0.0, 3000.0)), Resultant::at(4000.0, 0.0, 0.0));
    let keeper = |x: f64, y: f64| Tie { at: Support::new(x, y), rating: 1000.0 };
    let factor = |ties: &[Tie]| tipping(ties, &four, wind, weight).unwrap().factor;
    assert_relative_eq!(factor(&[]), 0.8, max_relative = 1e-12);
    assert_relative_eq!(factor(&[keeper(0.0, 1.5)]), 1.2, max_relative = 1e-12);
    assert_relative_eq!(factor(&[keeper(-1.0, -1.5), keeper(1.0, -1.5)]), 0.8, max_relative = 1e-12);
    assert_eq!(tipping(&[], &four, wind, weight).unwrap().lifts, "its left side lifts, looking the way it opens");
}

#[test]
fn wheels_in_one_line_hold_nothing() {
    let line = wheels(&[(-2.0, 0.0), (0.0, 0.0), (2.0, 0.0)]);
    let asked = tipping(&[], &line, load((0.0, 0.0, 0.0)), Resultant::at(4000.0, 0.0, 0.0));
    assert!(matches!(asked, Err(FormulaError::Unstable { .. })), "{asked:?}");
    // It tips by itself: the weight acts beyond the wheels.
    let four = wheels(&[(-2.0, -1.5), (2.0, -1.5), (-2.0, 1.5), (2.0, 1.5)]);
    let found = tipping(&[], &four, load((0.0, 0.0, 0.0)), Resultant::at(4000.0, 2.5, 0.0)).unwrap();
    assert_relative_eq!(found.factor, 0.0);
}
