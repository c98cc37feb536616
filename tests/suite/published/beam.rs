//! The beam solver against printed values, a general-purpose structural library, and a slow sweep of its own.

use approx::assert_relative_eq;
use proptest::prelude::*;
use serde::Deserialize;
use wallplate::calc::FormulaError;
use wallplate::calc::beam::{Beam, Envelope, Governing, Load, Stretch, Support, Train, UnderWheels, Wheel, envelope, respond};

const INCH: f64 = 0.0254;
const POUND: f64 = 4.448_221_615_260_5;

fn close(value: f64, expected: f64, tolerance: f64) {
    assert!((value - expected).abs() <= tolerance, "{value} is not {expected} ± {tolerance}");
}

fn wheels(load: f64, offsets: &[f64]) -> Vec<Wheel> {
    offsets.iter().map(|&offset| Wheel { offset, load }).collect()
}

fn at(train: f64, wheels: &[Wheel]) -> Vec<Load> {
    wheels.iter().map(|w| Load::Point { at: train + w.offset, force: w.load }).collect()
}

// ---- a general-purpose structural library ---------------------------------------------------------------------

#[derive(Deserialize)]
struct Reference {
    start: f64,
    end: f64,
    supports: Vec<f64>,
    springs: Vec<Option<f64>>,
    stretches: Vec<ReferenceStretch>,
    loads: Vec<ReferenceLoad>,
    reactions: Vec<f64>,
    looks: Vec<Look>,
}

#[derive(Deserialize)]
struct ReferenceStretch {
    until: f64,
    ei: f64,
}

#[derive(Deserialize)]
#[serde(untagged)]
enum ReferenceLoad {
    Point { at: f64, force: f64 },
    Spread { from: f64, to: f64, first: f64, last: f64 },
}

#[derive(Deserialize)]
struct Look {
    at: f64,
    moment: f64,
    shear: f64,
    deflection: f64,
}

/// 240 random beams worked out with PyNiteFEA 3.2.0 (reactions of those without springs also with anastruct 1.7.0);
/// `beam_reference.py` beside this file makes the numbers anew.
#[test]
fn random_beams_agree_with_a_structural_library() {
    let text = include_str!("data/beam_reference.json");
    let references: Vec<Reference> = serde_json::from_str(text).expect("the reference file is JSON");
    assert!(references.len() >= 200);
    for (number, reference) in references.iter().enumerate() {
        let beam = Beam {
            start: reference.start,
            end: reference.end,
            stretches: reference.stretches.iter().map(|s| Stretch { until: s.until, bending_stiffness: s.ei }).collect(),
            supports: reference.supports.iter().zip(&reference.springs).map(|(&at, &spring)| Support { at, spring }).collect(),
            hinges: vec![],
        };
        let loads: Vec<Load> = reference
            .loads
            .iter()
            .map(|load| match *load {
                ReferenceLoad::Point { at, force } => Load::Point { at, force },
                ReferenceLoad::Spread { from, to, first, last } => Load::Spread { from, to, first, last },
            })
            .collect();
        let answer = respond(&beam, &loads).unwrap();
        let force = reference.reactions.iter().fold(1.0, |most: f64, r| most.max(r.abs()));
        let moment = reference.looks.iter().fold(1.0, |most: f64, l| most.max(l.moment.abs()));
        let deep = reference.looks.iter().fold(1e-9, |most: f64, l| most.max(l.deflection.abs()));
        for (mine, theirs) in answer.reactions.iter().zip(&reference.reactions) {
            assert!((mine - theirs).abs() < 1e-7 * force, "beam {number}: reaction {mine}, not {theirs}");
        }
        for look in &reference.looks {
            let (m, v, d) = (answer.moment(look.at), answer.shear(look.at), answer.deflection(look.at));
            assert!((m - look.moment).abs() < 1e-7 * moment, "beam {number} at {}: moment {m}, not {}", look.at, look.moment);
            assert!((v - look.shear).abs() < 1e-7 * force, "beam {number} at {}: shear {v}, not {}", look.at, look.shear);
            assert!((d - look.deflection).abs() < 1e-7 * deep, "beam {number} at {}: deflection {d}, not {}", look.at, look.deflection);
        }
    }
}

// ---- printed tables ---------------------------------------------------------------------------------------------

/// Karnovsky & Lebed, *Advanced Methods of Structural Analysis*, Table A.13 (p. 567): two equal spans, unit load at
/// station k of 12 over both spans.
#[test]
fn influence_of_a_unit_load_on_two_spans() {
    let beam = Beam::uniform(0.0, 2.0, 1.0, &[0.0, 1.0, 2.0]);
    for (station, middle, left) in [(1.0, -0.0405, 0.7928), (3.0, -0.0938, 0.4062), (5.0, -0.0636, 0.1031)] {
        let answer = respond(&beam, &[Load::Point { at: station / 6.0, force: 1.0 }]).unwrap();
        close(answer.moment(1.0), middle, 0.6e-4);
        // The table prints 0.1031 where 0.10301 rounds to 0.1030.
        close(answer.reactions[0], left, 1.0e-4);
    }
    for (station, moment) in [(1.0, 0.1323), (3.0, 0.2031)] {
        let place = station / 6.0;
        let answer = respond(&beam, &[Load::Point { at: place, force: 1.0 }]).unwrap();
        close(answer.moment(place), moment, 2.1e-4);
    }
}

/// Hicks, *Civil Engineering Formulas*, Table 2.1 (p. 50): uniform load on equal spans, in parts of w·l and w·l².
#[test]
fn uniform_load_on_equal_spans() {
    let three = Beam::uniform(0.0, 2.0, 1.0, &[0.0, 1.0, 2.0]);
    let answer = respond(&three, &[Load::self_weight(&three, 1.0)]).unwrap();
    for (reaction, expected) in answer.reactions.iter().zip([3.0 / 8.0, 10.0 / 8.0, 3.0 / 8.0]) {
        close(*reaction, expected, 1e-12);
    }
    close(answer.hogging().value, -1.0 / 8.0, 1e-12);
    close(answer.sagging().value, 0.0703, 0.5e-4);

    let four = Beam::uniform(0.0, 3.0, 1.0, &[0.0, 1.0, 2.0, 3.0]);
    let answer = respond(&four, &[Load::self_weight(&four, 1.0)]).unwrap();
    close(answer.reactions[0], 0.4, 1e-12);
    close(answer.reactions[1], 1.1, 1e-12);
    close(answer.hogging().value, -0.1, 1e-12);
    close(answer.sagging().value, 0.08, 1e-12);
    close(answer.moment(1.5), 0.025, 1e-12);
}

/// AISC *Manual* Table 3-23, closed forms from memory: uniform load, load in the middle, load at the tip of an overhang,
/// triangular load; a couple at one end is the same beam with an end moment.
#[test]
fn handbook_deflections() {
    let beam = Beam::uniform(0.0, 3.0, 2.0e4, &[0.0, 3.0]);
    let even = respond(&beam, &[Load::self_weight(&beam, 500.0)]).unwrap();
    assert_relative_eq!(even.deepest().value, 5.0 * 500.0 * 81.0 / (384.0 * 2.0e4), max_relative = 1e-12);
    close(even.deepest().at, 1.5, 1e-9);
    let middle = respond(&beam, &[Load::Point { at: 1.5, force: 900.0 }]).unwrap();
    assert_relative_eq!(middle.deepest().value, 900.0 * 27.0 / (48.0 * 2.0e4), max_relative = 1e-12);
    // Overhang a = 0.8 m beyond a span of 3 m, P at the tip: Δ = P·a²·(l + a)/3EI; Δup = P·a·l²/(9√3·EI) at l/√3.
    let over = Beam::uniform(0.0, 3.8, 2.0e4, &[0.0, 3.0]);
    let tip = respond(&over, &[Load::Point { at: 3.8, force: 700.0 }]).unwrap();
    assert_relative_eq!(tip.deepest().value, 700.0 * 0.64 * 3.8 / (3.0 * 2.0e4), max_relative = 1e-12);
    assert_relative_eq!(tip.highest().value, -700.0 * 0.8 * 9.0 / (9.0 * 3.0_f64.sqrt() * 2.0e4), max_relative = 1e-12);
    close(tip.highest().at, 3.0 / 3.0_f64.sqrt(), 1e-9);
    // A triangular load: the moment is greatest at l/√3, w·l²/(9√3) (case 2, with w the peak).
    let rising = respond(&beam, &[Load::Spread { from: 0.0, to: 3.0, first: 0.0, last: 600.0 }]).unwrap();
    assert_relative_eq!(rising.sagging().value, 600.0 * 9.0 / (9.0 * 3.0_f64.sqrt()), max_relative = 1e-12);
    close(rising.sagging().at, 3.0 / 3.0_f64.sqrt(), 1e-9);
    // A couple at one end of a simple span: M·l²/(9√3·EI) at most.
    let turned = respond(&beam, &[Load::Couple { at: 0.0, moment: 400.0 }]).unwrap();
    assert_relative_eq!(turned.sagging().value, 400.0, max_relative = 1e-12);
    assert_relative_eq!(turned.deepest().value, 400.0 * 9.0 / (9.0 * 3.0_f64.sqrt() * 2.0e4), max_relative = 1e-12);
    close(turned.reactions[0], -400.0 / 3.0, 1e-9);
}

/// Structural notes of a civil engineering course: axles 24, 24 and 6 kip, 16 ft and 12 ft apart, on 40 ft.
#[test]
fn three_axles_on_a_simple_span() {
    let beam = Beam::uniform(0.0, 40.0, 1.0, &[0.0, 40.0]);
    let train = Train {
        wheels: vec![Wheel { offset: 0.0, load: 24.0 }, Wheel { offset: 16.0, load: 24.0 }, Wheel { offset: 28.0, load: 6.0 }],
        from: -28.0,
        to: 40.0,
    };
    let worst = envelope(&beam, &train, 0.0).unwrap();
    close(worst.sagging.value, 323.0, 0.6);
    // The middle axle stands as far beyond mid-span as the resultant before it, and the reaction is 30.90 kip then.
    close(worst.sagging.at, 20.0 + (16.0 - (24.0 * 16.0 + 6.0 * 28.0) / 54.0) / 2.0, 1e-9);
    let there = respond(&beam, &at(worst.sagging.train, &train.wheels)).unwrap();
    close(there.reactions[0].max(there.reactions[1]), 30.90, 0.5e-2);
    // The largest reaction of all has the first axle over its support: 24 + 24·24/40 + 6·12/40.
    close(worst.reactions[0].largest.value, 40.2, 1e-9);
}

/// A board examination problem: 50 kN and 30 kN, 2.5 m apart, on 12 m: 203.96 kN·m at 5.531 m; exact
/// (P·L − P₂·d)²/4PL.
#[test]
fn two_unequal_wheels_on_a_simple_span() {
    let beam = Beam::uniform(0.0, 12.0, 1.0, &[0.0, 12.0]);
    let train = Train { wheels: vec![Wheel { offset: 0.0, load: 50.0 }, Wheel { offset: 2.5, load: 30.0 }], from: 0.0, to: 9.5 };
    let worst = envelope(&beam, &train, 0.0).unwrap();
    close(worst.sagging.value, 203.96, 0.5e-2);
    close(worst.sagging.at, 5.531, 0.5e-3);
    assert_relative_eq!(worst.sagging.value, (80.0 * 12.0 - 30.0 * 2.5_f64).powi(2) / (4.0 * 80.0 * 12.0), max_relative = 1e-12);
}

/// A crane-beam example: wheel 7.8 kN, wheelbase 2.8 m, span 4.3 m; one wheel off the span governs, PL/4 = 8.385 kN·m.
#[test]
fn one_wheel_off_the_span_can_govern() {
    let beam = Beam::uniform(0.0, 4.3, 1.0, &[0.0, 4.3]);
    let train = Train { wheels: wheels(7.8, &[0.0, 2.8]), from: -2.8, to: 4.3 };
    close(envelope(&beam, &train, 0.0).unwrap().sagging.value, 8.385, 1e-9);
}

/// AISC *Manual* Table 3-23 case 41 (from memory; the rule is also in Hicks, *Civil Engineering Formulas*, p. 64):
/// P/2L·(L − a/2)² at ½(L − a/2) from the support while a < 0.586 L, else PL/4; Rmax = P(2 − a/L).
#[test]
fn two_equal_wheels_follow_the_rule() {
    for a in [0.4, 1.0, 2.0, 2.3, 2.4, 3.0] {
        let (p, l) = (2000.0, 4.0);
        let beam = Beam::uniform(0.0, l, 1.0e5, &[0.0, l]);
        let train = Train { wheels: wheels(p, &[0.0, a]), from: l, to: -a };
        let worst = envelope(&beam, &train, 0.0).unwrap();
        let expected = if a < 0.586 * l { p / (2.0 * l) * (l - a / 2.0) * (l - a / 2.0) } else { p * l / 4.0 };
        assert_relative_eq!(worst.sagging.value, expected, max_relative = 1e-12);
        for range in &worst.reactions {
            assert_relative_eq!(range.largest.value, p * (2.0 - a / l), max_relative = 1e-12);
            close(range.smallest.value, 0.0, 1e-9);
        }
    }
}

// ---- continuous beams under trains, worked out with two structural libraries ---------------------------------------

struct Case {
    beam: Beam,
    wheels: Vec<Wheel>,
    way: (f64, f64),
}

/// Six beams, statics from PyNiteFEA 3.2.0 and anastruct 1.7.0, envelopes from a
/// sweep in steps of 1 mm (0.05 in for the fourth), with all wheels on the beam.
fn cases() -> [Case; 6] {
    let uniform = |length: f64, supports: &[f64], ei: f64| Beam::uniform(0.0, length, ei, supports);
    let inches = |v: &[f64]| v.iter().map(|x| x * INCH).collect::<Vec<_>>();
    let stiff = 1.6e6 * 48.526 * POUND * INCH * INCH;
    [
        Case { beam: uniform(3.6, &[0.0, 3.6], 305_863.6), wheels: wheels(2000.0, &[0.0, 1.5]), way: (0.0, 2.1) },
        Case { beam: uniform(4.8, &[0.0, 2.4, 4.8], 200_000.0), wheels: wheels(2500.0, &[0.0, 1.2]), way: (0.0, 3.6) },
        Case { beam: uniform(6.0, &[0.0, 1.2, 3.0, 4.8, 6.0], 150_000.0), wheels: wheels(3000.0, &[0.0, 2.0]), way: (0.0, 4.0) },
        Case {
            beam: uniform(240.0 * INCH, &inches(&[0.0, 72.0, 168.0, 240.0]), stiff),
            wheels: wheels(500.0 * POUND, &[0.0, 60.0 * INCH]),
            way: (0.0, 180.0 * INCH),
        },
        Case { beam: uniform(4.6, &[0.0, 2.0, 4.0], 120_000.0), wheels: wheels(1800.0, &[0.0, 1.6]), way: (0.0, 3.0) },
        Case { beam: uniform(4.5, &[0.0, 4.5], 585_900.0), wheels: wheels(2200.0, &[0.0, 1.0, 2.5]), way: (0.0, 2.0) },
    ]
}

fn worst(case: &Case) -> Envelope {
    envelope(&case.beam, &Train { wheels: case.wheels.clone(), from: case.way.0, to: case.way.1 }, 0.0).unwrap()
}

/// A sweep finds the extreme at most too small by the square of its step; the printed digits allow half a unit.
fn met(found: Governing, value: f64, digit: f64, train: Option<f64>) {
    assert!((found.value - value).abs() <= 0.5 * digit + 2e-6 * value.abs(), "{found:?} is not {value}");
    if let Some(train) = train {
        assert!((found.train - train).abs() < 0.006, "{found:?} is not at {train}");
    }
}

#[test]
fn envelopes_of_the_reference_sheet() {
    let [one, two, three, four, five, six] = cases();

    let w = worst(&one);
    // The mirrored position (train at 1.425) is as bad.
    met(w.sagging, 2256.25, 0.01, None);
    close((w.sagging.train - 1.05).abs(), 0.375, 0.006);
    met(w.deepest, 9.861e-3, 1e-6, Some(1.05));
    close(w.deepest.at, 1.8, 0.001);
    met(w.reactions[0].largest, 3166.67, 0.01, Some(0.0));
    met(w.reactions[0].smallest, 833.33, 0.01, Some(2.1));

    let w = worst(&two);
    met(w.sagging, 1395.04, 0.01, None);
    met(w.hogging, -984.38, 0.01, Some(1.8));
    met(w.deepest, 3.4485e-3, 1e-7, None);
    for (range, most) in w.reactions.iter().zip([3515.63, 4570.31, 3515.63]) {
        met(range.largest, most, 0.01, None);
    }
    met(w.reactions[0].smallest, -352.37, 0.01, Some(2.951));
    met(w.reactions[1].smallest, 1718.75, 0.01, None);
    met(w.reactions[2].smallest, -352.37, 0.01, Some(0.649));

    let w = worst(&three);
    met(w.sagging, 881.79, 0.01, None);
    met(w.hogging, -766.88, 0.01, Some(2.0));
    met(w.deepest, 1.18783e-3, 1e-8, None);
    for (range, (least, most)) in w.reactions.iter().zip([(-328.33, 2577.34), (-394.56, 2807.88), (1541.52, 3083.03)]) {
        met(range.largest, most, 0.01, None);
        met(range.smallest, least, 0.01, None);
    }

    let w = worst(&four);
    let pound_inch = POUND * INCH;
    met(w.sagging, 7503.9 * pound_inch, 0.1 * pound_inch, None);
    met(w.hogging, -7485.8 * pound_inch, 0.1 * pound_inch, None);
    met(w.deepest, 0.054_955 * INCH, 1e-6 * INCH, None);
    met(w.reactions[0].largest, 553.63 * POUND, 0.01 * POUND, None);
    met(w.reactions[1].largest, 802.37 * POUND, 0.01 * POUND, Some(47.45 * INCH));
    met(w.reactions[0].smallest, -68.014 * POUND, 0.001 * POUND, Some(92.6 * INCH));
    met(w.reactions[1].smallest, -37.133 * POUND, 0.001 * POUND, None);

    let w = worst(&five);
    met(w.sagging, 647.99, 0.01, Some(1.694));
    met(w.hogging, -1080.0, 0.01, Some(3.0));
    met(w.deepest, 2.5425e-3, 1e-7, Some(3.0));
    close(w.deepest.at, 4.6, 1e-9);
    for (range, (least, most)) in w.reactions.iter().zip([(-129.9, 2030.4), (427.5, 2851.2), (-129.9, 3206.25)]) {
        met(range.largest, most, 0.1, None);
        met(range.smallest, least, 0.1, None);
    }

    let w = worst(&six);
    met(w.sagging, 4685.19, 0.01, Some(1.167));
    met(w.deepest, 15.949e-3, 1e-6, Some(1.128));
    // The sheet's 2.216 m is the nearest place of its sampling; the deflection is level there.
    close(w.deepest.at, 2.216, 0.005);
    for (range, (least, most)) in w.reactions.iter().zip([(1955.56, 4888.89), (1711.11, 4644.44)]) {
        met(range.largest, most, 0.01, None);
        met(range.smallest, least, 0.01, None);
    }
}

#[test]
fn statics_of_the_reference_sheet() {
    let [one, two, three, four, five, six] = cases();
    let solve = |case: &Case, train: f64| respond(&case.beam, &at(train, &case.wheels)).unwrap();
    let reactions = |found: &[f64], expected: &[f64], digit: f64| {
        assert_eq!(found.len(), expected.len());
        for (r, e) in found.iter().zip(expected) {
            close(*r, *e, 0.6 * digit);
        }
    };

    let r = solve(&one, 0.0);
    reactions(&r.reactions, &[3166.67, 833.33], 0.01);
    close(r.sagging().value, 1750.0, 0.01);
    close(r.deepest().value, 6.1259e-3, 0.6e-7);
    close(r.deepest().at, 1.71, 0.005);
    let r = solve(&one, 1.05);
    reactions(&r.reactions, &[2000.0, 2000.0], 0.01);
    close(r.sagging().value, 2100.0, 0.01);

    let r = solve(&two, 0.0);
    reactions(&r.reactions, &[3515.62, 1718.75, -234.37], 0.01);
    close(r.moment(2.4), -562.5, 0.01);
    close(r.sagging().value, 1218.75, 0.01);
    close(r.deepest().value, 2.5941e-3, 0.6e-7);
    close(r.highest().value, -1.0392e-3, 0.6e-7);
    let r = solve(&two, 0.6);
    reactions(&r.reactions, &[2148.44, 3203.12, -351.56], 0.01);
    close(r.deepest().value, 3.4476e-3, 0.6e-7);
    close(r.highest().value, -1.5588e-3, 0.6e-7);
    let r = solve(&two, 1.8);
    reactions(&r.reactions, &[214.84, 4570.31, 214.84], 0.01);
    close(r.moment(2.4), -984.37, 0.01);
    close(r.deepest().value, 0.7050e-3, 0.6e-7);

    let r = solve(&three, 0.6);
    reactions(&r.reactions, &[1066.8, 2717.58, 2438.03, -299.4, 76.99], 0.01);
    for (x, m) in [(1.2, -519.84), (3.0, -307.95), (4.8, 92.39)] {
        close(r.moment(x), m, 0.01);
    }
    close(r.deepest().value, 0.4928e-3, 0.6e-7);
    let r = solve(&three, 1.1);
    reactions(&r.reactions, &[188.31, 2794.68, 2876.07, 189.54, -48.61], 0.01);
    let r = solve(&three, 2.0);
    reactions(&r.reactions, &[-326.8, 1785.28, 3083.03, 1785.28, -326.8], 0.01);
    close(r.deepest().value, 0.8436e-3, 0.6e-7);

    let r = solve(&four, 36.0 * INCH);
    reactions(&r.reactions, &[152.083, 783.854, 80.729, -16.667].map(|v| v * POUND), 0.001 * POUND);
    close(r.moment(72.0 * INCH), -7050.0 * POUND * INCH, 0.6 * POUND * INCH);
    close(r.sagging().value, 5475.0 * POUND * INCH, 0.6 * POUND * INCH);
    close(r.deepest().value, 0.021_203 * INCH, 0.6e-6 * INCH);
    let r = solve(&four, 90.0 * INCH);
    reactions(&r.reactions, &[-67.708, 567.708, 567.708, -67.708].map(|v| v * POUND), 0.001 * POUND);
    close(r.deepest().value, 0.054_945 * INCH, 0.6e-6 * INCH);

    let r = solve(&five, 0.2);
    reactions(&r.reactions, &[1678.5, 2043.0, -121.5], 0.1);
    close(r.deepest().value, 0.980_81e-3, 0.6e-8);
    close(r.highest().value, -0.5196e-3, 0.6e-7);
    let r = solve(&five, 3.0);
    reactions(&r.reactions, &[-33.75, 427.5, 3206.25], 0.01);
    close(r.moment(4.0), -1080.0, 0.01);
    close(r.deepest().value, 2.5425e-3, 0.6e-7);

    let r = solve(&six, 1.0);
    reactions(&r.reactions, &[3422.22, 3177.78], 0.01);
    close(r.sagging().value, 4644.44, 0.01);
    // The sheet gives the deflection at 2.216 m, the nearest place of its sampling.
    close(r.deflection(2.216), 15.8858e-3, 0.6e-7);
    assert!(r.deepest().value >= 15.8858e-3);
}

// ---- what is loose is named ---------------------------------------------------------------------------------------

fn loose(beam: &Beam) -> String {
    match respond(beam, &[]) {
        Err(FormulaError::Unstable { what }) => what,
        other => panic!("expected a mechanism, got {other:?}"),
    }
}

#[test]
fn a_mechanism_is_named() {
    assert_eq!(loose(&Beam::uniform(0.0, 3.0, 1.0, &[])), "the beam falls: it has no support");
    assert_eq!(loose(&Beam::uniform(0.0, 3.0, 1.0, &[1.0])), "the beam rotates about its only support at 1.000 m");
    let mut spliced = Beam::uniform(0.0, 6.0, 1.0, &[0.0, 1.5, 3.0, 4.5]);
    spliced.hinges = vec![3.5, 4.0];
    // The short length between the splices holds, hung on both; one splice more and it does not.
    assert!(respond(&spliced, &[]).is_err());
    spliced.supports.push(Support::stiff(6.0));
    assert!(respond(&spliced, &[]).is_ok());
    spliced.hinges = vec![3.5, 3.7, 4.0];
    assert!(loose(&spliced).contains("from 3.500 m to 3.700 m falls: it hangs on its hinges alone"));
    let mut end = Beam::uniform(0.0, 6.0, 1.0, &[0.0, 1.5, 5.0]);
    end.hinges = vec![2.0];
    assert!(respond(&end, &[]).is_ok());
    end.hinges = vec![1.5];
    assert!(respond(&end, &[]).is_ok());
    end.hinges = vec![2.0, 5.0];
    assert!(loose(&end).contains("from 5.000 m to 6.000 m"));
}

#[test]
fn numbers_out_of_range_are_refused() {
    let beam = |supports: &[f64]| Beam::uniform(0.0, 3.0, 1.0, supports);
    assert!(respond(&beam(&[0.0, 3.5]), &[]).is_err());
    assert!(respond(&beam(&[0.0, 1.0, 1.0]), &[]).is_err());
    assert!(respond(&Beam::uniform(0.0, 3.0, 0.0, &[0.0, 3.0]), &[]).is_err());
    assert!(respond(&Beam::uniform(3.0, 3.0, 1.0, &[3.0]), &[]).is_err());
    assert!(respond(&beam(&[0.0, 3.0]), &[Load::Point { at: 4.0, force: 1.0 }]).is_err());
    assert!(respond(&beam(&[0.0, 3.0]), &[Load::Point { at: f64::NAN, force: 1.0 }]).is_err());
    let mut soft = beam(&[0.0, 3.0]);
    soft.supports[0].spring = Some(0.0);
    assert!(respond(&soft, &[]).is_err());
}

/// A splice over a support makes two simple spans of one beam: PL/4 in the middle of each (closed form).
#[test]
fn a_hinge_over_a_support_makes_simple_spans() {
    let mut beam = Beam::uniform(0.0, 4.0, 1.0e5, &[0.0, 2.0, 4.0]);
    beam.hinges = vec![2.0];
    let train = Train { wheels: wheels(1000.0, &[0.0]), from: 0.0, to: 4.0 };
    let worst = envelope(&beam, &train, 0.0).unwrap();
    assert_relative_eq!(worst.sagging.value, 500.0, max_relative = 1e-12);
    close(worst.hogging.value, 0.0, 1e-9);
    assert_relative_eq!(worst.deepest.value, 1000.0 * 8.0 / 48.0e5, max_relative = 1e-7);
    assert_relative_eq!(worst.reactions[1].largest.value, 1000.0, max_relative = 1e-12);
}

/// PL³/48EI under a wheel in the middle (closed form); a wheel beyond the end loads nothing and sinks nowhere.
#[test]
fn the_beam_sinks_under_its_wheels() {
    let beam = Beam::uniform(0.0, 2.0, 1.0e5, &[0.0, 2.0]);
    let sinks = UnderWheels::new(&beam, 0.0).unwrap().at(&wheels(1000.0, &[0.0, 1.5]), 1.0);
    assert_relative_eq!(sinks[0].unwrap(), 1000.0 * 8.0 / 48.0e5, max_relative = 1e-12);
    assert_eq!(sinks[1], None);
}

/// The same beam solved anew for each place: a hinge, a spring, an overhang at either end, two stiffnesses, wheels on supports
/// and close together, some of them beyond the beam.
#[test]
fn the_beam_sinks_as_one_that_is_solved_anew_for_each_place() {
    let mut beam = Beam::uniform(-0.4, 6.3, 9.0e4, &[0.0, 2.0, 4.1, 6.0]);
    beam.stretches = vec![Stretch { until: 3.0, bending_stiffness: 4.0e4 }, Stretch { until: 6.3, bending_stiffness: 9.0e4 }];
    beam.supports[1].spring = Some(2.0e6);
    beam.hinges = vec![5.2];
    let train = wheels(1500.0, &[0.0, 0.2, 2.0]);
    let many = UnderWheels::new(&beam, 250.0).unwrap();
    for step in 0..=90 {
        let position = -0.8 + 0.08 * f64::from(step);
        let on_beam = |offset: f64| Some(position + offset).filter(|at| (-0.4..=6.3).contains(at));
        let mut loads = vec![Load::self_weight(&beam, 250.0)];
        loads.extend(train.iter().filter_map(|w| on_beam(w.offset).map(|at| Load::Point { at, force: w.load })));
        let anew = respond(&beam, &loads).unwrap();
        for (wheel, sinks) in train.iter().zip(many.at(&train, position)) {
            let expected = on_beam(wheel.offset).map(|at| anew.deflection(at));
            assert_eq!(sinks.is_some(), expected.is_some());
            close(sinks.unwrap_or(0.0), expected.unwrap_or(0.0), 1e-12);
        }
    }
}

/// Without wheels the envelope is the answer to the beam's own weight.
#[test]
fn no_wheels_leave_the_own_weight() {
    let beam = Beam::uniform(0.0, 5.0, 1.0e5, &[0.5, 2.5, 4.5]);
    let resting = respond(&beam, &[Load::self_weight(&beam, 300.0)]).unwrap();
    let worst = envelope(&beam, &Train { wheels: vec![], from: 0.0, to: 1.0 }, 300.0).unwrap();
    assert_relative_eq!(worst.sagging.value, resting.sagging().value, max_relative = 1e-9);
    assert_relative_eq!(worst.hogging.value, resting.hogging().value, max_relative = 1e-9);
    assert_relative_eq!(worst.deepest.value, resting.deepest().value, max_relative = 1e-6);
    assert_relative_eq!(worst.shear_largest.value, resting.shear_largest().value, max_relative = 1e-9);
    for (range, reaction) in worst.reactions.iter().zip(&resting.reactions) {
        assert_relative_eq!(range.largest.value, *reaction, max_relative = 1e-9);
        assert_relative_eq!(range.smallest.value, *reaction, max_relative = 1e-9);
    }
}

// ---- the slow and obvious way, and properties -----------------------------------------------------------------------

#[derive(Debug, Clone)]
struct Drawn {
    beam: Beam,
    train: Train,
    weight: f64,
}

fn drawn_beam() -> impl Strategy<Value = Beam> {
    let spans = prop::collection::vec(0.4..3.5_f64, 1..5);
    let overhang = || prop_oneof![Just(0.0), 0.1..0.9_f64];
    let changes = prop::collection::vec((0.1..0.9_f64, 0.4..2.5_f64), 0..3);
    let springs = prop_oneof![3 => Just(None), 1 => (1.0e5..1.0e7_f64).prop_map(Some)];
    let hinge = prop_oneof![3 => Just(None), 1 => (0.05..0.95_f64).prop_map(Some)];
    (spans, overhang(), overhang(), changes, prop::collection::vec(springs, 6), hinge).prop_map(
        |(spans, left, right, mut changes, springs, hinge)| {
            let mut x = left;
            let mut supports = vec![Support { at: x, spring: springs[0] }];
            for (span, spring) in spans.iter().zip(&springs[1..]) {
                x += span;
                supports.push(Support { at: x, spring: *spring });
            }
            let end = x + right;
            changes.sort_by(|a, b| a.0.total_cmp(&b.0));
            let mut stretches: Vec<Stretch> =
                changes.iter().map(|(part, stiff)| Stretch { until: part * end, bending_stiffness: stiff * 1.5e5 }).collect();
            stretches.dedup_by(|b, a| b.until - a.until < 0.05);
            // Lengths of a millimetre between two nodes cost the precision that the properties below ask for: the stiffness
            // grows with the third power of 1/length, and a double has sixteen digits.
            stretches.retain(|s| end - s.until > 0.05 && supports.iter().all(|support| (support.at - s.until).abs() > 0.05));
            let hinge = hinge.map(|part: f64| left + part * (x - left));
            stretches.retain(|s| hinge.is_none_or(|at| (at - s.until).abs() > 0.05));
            stretches.push(Stretch { until: end, bending_stiffness: 1.5e5 });
            // One splice takes one freedom's worth of support away: with three supports the beam still holds,
            // as long as the splice does not cut off an end that has fewer than two.
            let hinges = hinge
                .filter(|&at| supports.iter().all(|support| (support.at - at).abs() > 0.05))
                .filter(|&at| supports.len() >= 3 && (at > supports[1].at || at < supports[supports.len() - 2].at))
                .into_iter()
                .collect();
            Beam { start: 0.0, end, stretches, supports, hinges }
        },
    )
}

fn drawn() -> impl Strategy<Value = Drawn> {
    let wheel = (0.0..4.0_f64, 300.0..4000.0_f64);
    (drawn_beam(), prop::collection::vec(wheel, 1..6), -1.2..1.2_f64, -1.2..1.2_f64, prop_oneof![Just(0.0), 20.0..900.0_f64]).prop_map(
        |(beam, wheels, from, to, weight)| {
            let wheels = wheels.into_iter().map(|(offset, load)| Wheel { offset, load }).collect();
            let train = Train { wheels, from: from * beam.end, to: to * beam.end };
            Drawn { beam, train, weight }
        },
    )
}

fn statics(drawn: &Drawn, position: f64) -> wallplate::calc::beam::Response {
    let mut loads: Vec<Load> = drawn
        .train
        .wheels
        .iter()
        .map(|w| Load::Point { at: position + w.offset, force: w.load })
        .filter(|load| matches!(load, Load::Point { at, .. } if *at >= drawn.beam.start - 1e-9 && *at <= drawn.beam.end + 1e-9))
        .collect();
    loads.push(Load::self_weight(&drawn.beam, drawn.weight));
    respond(&drawn.beam, &loads).unwrap()
}

/// The extremes that a sweep in even steps finds, with the positions where a wheel stands on an end or a support.
fn sweep(drawn: &Drawn, steps: usize) -> Vec<(f64, f64)> {
    let (from, to) = (drawn.train.from, drawn.train.to);
    let mut positions: Vec<f64> = (0..=steps).map(|i| from + (to - from) * i as f64 / steps as f64).collect();
    let special = [drawn.beam.start, drawn.beam.end].into_iter().chain(drawn.beam.supports.iter().map(|s| s.at));
    for x in special {
        for wheel in &drawn.train.wheels {
            let position = x - wheel.offset;
            if position >= from.min(to) && position <= from.max(to) {
                // Just beside a support the shear is greater than over it.
                positions.extend([position - 1e-7, position, position + 1e-7].map(|p| p.clamp(from.min(to), from.max(to))));
            }
        }
    }
    let mut found = vec![(f64::NEG_INFINITY, f64::INFINITY); 3 + drawn.beam.supports.len()];
    for position in positions {
        let r = statics(drawn, position);
        let mut pairs = vec![
            (r.sagging().value, r.hogging().value),
            (r.shear_largest().value, r.shear_smallest().value),
            (r.deepest().value, r.highest().value),
        ];
        pairs.extend(r.reactions.iter().map(|v| (*v, *v)));
        for (best, (high, low)) in found.iter_mut().zip(pairs) {
            best.0 = best.0.max(high);
            best.1 = best.1.min(low);
        }
    }
    found
}

fn analysed(drawn: &Drawn) -> Vec<(Governing, Governing)> {
    let e = envelope(&drawn.beam, &drawn.train, drawn.weight).unwrap();
    let mut pairs = vec![(e.sagging, e.hogging), (e.shear_largest, e.shear_smallest), (e.deepest, e.highest)];
    pairs.extend(e.reactions.iter().map(|r| (r.largest, r.smallest)));
    pairs
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..ProptestConfig::default() })]

    /// The analysis finds at least what a sweep finds; that it finds nothing that is not there, the next test shows.
    #[test]
    fn the_analysis_agrees_with_a_sweep(drawn in drawn()) {
        let analysed = analysed(&drawn);
        let swept = sweep(&drawn, 100);
        for (index, ((most, least), (high, low))) in analysed.iter().zip(&swept).enumerate() {
            let whole = drawn.train.wheels.iter().map(|w| w.load).sum::<f64>();
            let scale = high.abs().max(low.abs()).max(if index == 2 { 1e-9 } else { 1e-3 * whole });
            let slack = if index == 2 { 3e-8 } else { 1e-8 };
            prop_assert!(most.value >= high - slack * scale, "quantity {}: {:?} below the sweep's {}", index, most, high);
            prop_assert!(least.value <= low + slack * scale, "quantity {}: {:?} above the sweep's {}", index, least, low);
        }
    }

    /// Each governing position, put in as loads that stand still, gives the value claimed for it.
    #[test]
    fn governing_positions_give_their_values(drawn in drawn()) {
        let e = envelope(&drawn.beam, &drawn.train, drawn.weight).unwrap();
        let scale = drawn.train.wheels.iter().map(|w| w.load).sum::<f64>() + drawn.weight * drawn.beam.end;
        let span = drawn.beam.end;
        // A wheel that just reaches or just leaves the beam may stand a rounding error beside it; the nudge that brings it
        // back changes the forces in their sixth digit.
        let near = |g: &Governing, value: &dyn Fn(&wallplate::calc::beam::Response) -> f64, tolerance: f64| {
            // Zero is what stands for "never rises", "never sags".
            g.value == 0.0 || [0.0, 1e-7, -1e-7].iter().any(|nudge| (value(&statics(&drawn, g.train + nudge)) - g.value).abs() <= tolerance)
        };
        prop_assert!(near(&e.sagging, &|r| r.sagging().value, 1e-5 * scale * span));
        prop_assert!(near(&e.hogging, &|r| r.hogging().value, 1e-5 * scale * span));
        prop_assert!(near(&e.sagging, &|r| r.moment(e.sagging.at), 1e-5 * scale * span));
        prop_assert!(near(&e.shear_largest, &|r| r.shear_largest().value, 1e-5 * scale));
        prop_assert!(near(&e.shear_smallest, &|r| r.shear_smallest().value, 1e-5 * scale));
        let deep = e.deepest.value.max(-e.highest.value).max(1e-12);
        prop_assert!(near(&e.deepest, &|r| r.deflection(e.deepest.at), 1e-5 * deep));
        prop_assert!(near(&e.highest, &|r| r.deflection(e.highest.at), 1e-5 * deep));
        for (i, range) in e.reactions.iter().enumerate() {
            prop_assert!(near(&range.largest, &|r| r.reactions[i], 1e-5 * scale));
            prop_assert!(near(&range.smallest, &|r| r.reactions[i], 1e-5 * scale));
        }
    }

    /// Which way the roof rolls does not matter.
    #[test]
    fn both_ways_are_alike(drawn in drawn()) {
        let there = envelope(&drawn.beam, &drawn.train, drawn.weight).unwrap();
        let back = Train { from: drawn.train.to, to: drawn.train.from, ..drawn.train.clone() };
        prop_assert_eq!(there, envelope(&drawn.beam, &back, drawn.weight).unwrap());
    }

    /// Statics: the reactions carry the loads and balance their moments about any point.
    #[test]
    fn reactions_balance_the_loads(beam in drawn_beam(), loads in prop::collection::vec((0.0..1.0_f64, -4000.0..4000.0_f64), 1..6), weight in 0.0..500.0_f64) {
        let mut all = vec![Load::self_weight(&beam, weight)];
        all.extend(loads.iter().map(|(part, force)| Load::Point { at: part * beam.end, force: *force }));
        let answer = respond(&beam, &all).unwrap();
        let force: f64 = loads.iter().map(|l| l.1).sum::<f64>() + weight * beam.end;
        let moment: f64 = loads.iter().map(|l| l.0 * beam.end * l.1).sum::<f64>() + weight * beam.end * beam.end / 2.0;
        let scale: f64 = loads.iter().map(|l| l.1.abs()).sum::<f64>() + weight * beam.end;
        let up: f64 = answer.reactions.iter().sum();
        let about: f64 = answer.reactions.iter().zip(&beam.supports).map(|(r, s)| r * s.at).sum();
        prop_assert!((up - force).abs() <= 1e-8 * scale);
        prop_assert!((about - moment).abs() <= 1e-8 * scale * beam.end.max(1.0));
    }

    /// Maxwell-Betti: the deflection at one place under a load at another is the same the other way round.
    #[test]
    fn deflections_are_reciprocal(beam in drawn_beam(), one in 0.0..1.0_f64, other in 0.0..1.0_f64) {
        let (a, b) = (one * beam.end, other * beam.end);
        let there = respond(&beam, &[Load::Point { at: a, force: 1000.0 }]).unwrap().deflection(b);
        let back = respond(&beam, &[Load::Point { at: b, force: 1000.0 }]).unwrap().deflection(a);
        prop_assert!((there - back).abs() <= 1e-9 * there.abs().max(1e-6));
    }

    /// A symmetric beam under a symmetric load answers symmetrically.
    #[test]
    fn symmetric_beams_answer_symmetrically(spans in prop::collection::vec(0.5..3.0_f64, 1..4), over in prop_oneof![Just(0.0), 0.05..0.8_f64], load in 0.0..1.0_f64) {
        let mut x = over;
        let mut supports = vec![x];
        for span in spans.iter().chain(spans.iter().rev()) {
            x += span;
            supports.push(x);
        }
        let beam = Beam::uniform(0.0, x + over, 8.0e4, &supports);
        let places = [load * beam.end, beam.end - load * beam.end];
        let answer = respond(&beam, &places.map(|at| Load::Point { at, force: 1500.0 })).unwrap();
        for (left, right) in answer.reactions.iter().zip(answer.reactions.iter().rev()) {
            prop_assert!((left - right).abs() < 1e-7 * 3000.0);
        }
        for part in [0.05, 0.2, 0.35] {
            let (left, right) = (answer.deflection(part * beam.end), answer.deflection(beam.end - part * beam.end));
            prop_assert!((left - right).abs() < 1e-9);
        }
    }

    /// A heavier wheel never bends the beam less, and a stiffer beam never sinks more under stiff supports.
    #[test]
    fn more_load_bends_more(drawn in drawn(), more in 1.0..2.0_f64) {
        let light = envelope(&drawn.beam, &drawn.train, 0.0).unwrap();
        let heavier = Train {
            wheels: drawn.train.wheels.iter().map(|w| Wheel { load: w.load * more, ..*w }).collect(),
            ..drawn.train.clone()
        };
        let heavy = envelope(&drawn.beam, &heavier, 0.0).unwrap();
        prop_assert!((heavy.sagging.value - more * light.sagging.value).abs() <= 1e-9 * heavy.sagging.value.max(1.0));
        prop_assert!((heavy.deepest.value - more * light.deepest.value).abs() <= 1e-7 * heavy.deepest.value.max(1e-7));
        let mut stiffer = drawn.beam.clone();
        for stretch in &mut stiffer.stretches {
            stretch.bending_stiffness *= more;
        }
        for support in &mut stiffer.supports {
            support.spring = support.spring.map(|k| k * more);
        }
        let stiff = envelope(&stiffer, &drawn.train, 0.0).unwrap();
        prop_assert!(stiff.deepest.value <= light.deepest.value * (1.0 + 1e-7) + 1e-12);
    }
}
