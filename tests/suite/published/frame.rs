//! Plane frames: a library of frames on random gantries, published portals and hand sums.

use approx::assert_relative_eq;
use wallplate::calc::frame::{Bar, Hold, Push, second_order, skew_jam, solve};

/// Reads `data/frames.json`, which `frame_reference.py` writes: 120 gantries worked out by PyNiteFEA 3.2.0.
fn frames() -> Vec<serde_json::Value> {
    serde_json::from_str(include_str!("data/frames.json")).unwrap()
}

fn number(value: &serde_json::Value) -> f64 {
    value.as_f64().unwrap()
}

#[test]
fn random_gantries_by_a_library_of_frames() {
    let all = frames();
    assert!(all.len() >= 100);
    for frame in &all {
        let bars: Vec<Bar> = frame["bars"]
            .as_array()
            .unwrap()
            .iter()
            .map(|bar| Bar {
                from: (number(&bar[0]), number(&bar[1])),
                to: (number(&bar[2]), number(&bar[3])),
                axial_stiffness: number(&bar[4]),
                bending_stiffness: number(&bar[5]),
                hinged: [bar[6].as_bool().unwrap(), bar[7].as_bool().unwrap()],
            })
            .collect();
        let holds: Vec<Hold> = frame["holds"]
            .as_array()
            .unwrap()
            .iter()
            .map(|hold| Hold { at: (number(&hold[0]), number(&hold[1])), clamped: hold[2].as_bool().unwrap() })
            .collect();
        let push = Push { at: (number(&frame["push"][0]), number(&frame["push"][1])), across: 1.0, up: 0.0 };
        let answer = solve(&bars, &holds, &[push], 0.15).unwrap();
        assert_relative_eq!(answer.sways[0], number(&frame["sway"]), max_relative = 1e-3);
        let close = |ours: &[f64], theirs: &serde_json::Value, signed: bool| {
            let theirs: Vec<f64> = theirs.as_array().unwrap().iter().map(number).collect();
            let largest = theirs.iter().fold(0.0_f64, |most, one| most.max(one.abs()));
            for (one, other) in ours.iter().zip(&theirs) {
                let (one, other) = if signed { (*one, *other) } else { (one.abs(), other.abs()) };
                assert!((one - other).abs() <= 2e-3 * largest + 1e-9, "{ours:?} {theirs:?}");
            }
        };
        close(&answer.axial, &frame["axial"], true);
        close(&answer.moments, &frame["moments"], false);
    }
}

fn portal(width: f64, height: f64, column: f64, beam: f64) -> Vec<Bar> {
    let bar = |from, to, bending| Bar { from, to, axial_stiffness: 1e12, bending_stiffness: bending, hinged: [false; 2] };
    let (left, right) = ((0.0, height), (width, height));
    vec![bar((0.0, 0.0), left, column), bar((width, 0.0), right, column), bar(left, right, beam)]
}

/// The notebook `maresjiri/Simple-portal-frame` prints 29.296 mm and 43.00 kN·m for 20 kN at the eaves, 15.36 kN up and down at
/// the feet: L 5.6 m, H 4.3 m, Ic 8356 cm4, Ib 5790 cm4, E 210 GPa, hinged feet.
#[test]
fn a_printed_portal() {
    let bars = portal(5.6, 4.3, 210e9 * 8356e-8, 210e9 * 5790e-8);
    let holds = [(0.0, 0.0), (5.6, 0.0)].map(|at| Hold { at, clamped: false });
    let answer = solve(&bars, &holds, &[Push { at: (0.0, 4.3), across: 20e3, up: 0.0 }], 0.15).unwrap();
    assert_relative_eq!(answer.sways[0], 0.029_296, max_relative = 1e-3);
    assert_relative_eq!(answer.moments[0], 43.0e3, max_relative = 1e-3);
    assert_relative_eq!(answer.reactions[1][1], 15.36e3, max_relative = 1e-3);
}

/// Portal formulas of the handbooks (from memory): hinged `h³/(12 E Ic) (2k+1)/k`, clamped `h³/(12 E Ic) (3k+2)/(6k+1)`,
/// k = Ib h / (Ic L).
#[test]
fn portals_by_their_formulas() {
    for (width, height, column, beam) in [(3.0, 2.0, 9e4, 2e5), (3.6, 2.4, 3.5e5, 5.5e5)] {
        let k = beam * height / (column * width);
        for (clamped, expected) in [(false, (2.0 * k + 1.0) / k), (true, (3.0 * k + 2.0) / (6.0 * k + 1.0))] {
            let holds = [(0.0, 0.0), (width, 0.0)].map(|at| Hold { at, clamped });
            let answer =
                solve(&portal(width, height, column, beam), &holds, &[Push { at: (0.0, height), across: 1.0, up: 0.0 }], 0.15).unwrap();
            assert_relative_eq!(answer.sways[0], height.powi(3) / (12.0 * column) * expected, max_relative = 1e-4);
        }
    }
}

/// What folds is said so: two posts on hinges, a bar across on hinges; and a bar without length is refused.
#[test]
fn what_folds_is_not_held() {
    let hinged = |from, to| Bar { from, to, axial_stiffness: 1e6, bending_stiffness: 1e4, hinged: [true, true] };
    let bars = [hinged((0.0, 0.0), (0.0, 2.0)), hinged((3.0, 0.0), (3.0, 2.0)), hinged((0.0, 2.0), (3.0, 2.0))];
    let holds = [(0.0, 0.0), (3.0, 0.0)].map(|at| Hold { at, clamped: false });
    let push = [Push { at: (0.0, 2.0), across: 1.0, up: 0.0 }];
    assert!(solve(&bars, &holds, &push, 0.15).is_err());
    assert!(solve(&[hinged((0.0, 0.0), (0.0, 0.0))], &holds, &push, 0.15).is_err());
    // One diagonal: K = E A b²/(L d³) with E A of the diagonal alone, stiff posts and bar. b 3, h 2, d² 13.
    let diagonal = Bar { axial_stiffness: 1e4, ..hinged((0.0, 0.0), (3.0, 2.0)) };
    let stiff = bars.map(|bar| Bar { axial_stiffness: 1e12, ..bar });
    let answer = solve(&[stiff[0], stiff[1], stiff[2], diagonal], &holds, &push, 0.15).unwrap();
    let d = 13.0_f64.sqrt();
    assert_relative_eq!(answer.sways[0], d.powi(3) / (1e4 * 9.0), max_relative = 1e-4);
    assert_relative_eq!(answer.axial[3].abs(), d / 3.0, max_relative = 1e-4);
}

/// Where a brace is drawn to the face of its post it belongs to the post all the same.
#[test]
fn an_end_at_the_face_belongs_to_the_post() {
    let post = |x: f64| Bar { from: (x, 0.0), to: (x, 2.0), axial_stiffness: 1e9, bending_stiffness: 1e5, hinged: [false, true] };
    let fitted = |from, to| Bar { from, to, axial_stiffness: 1e8, bending_stiffness: 1e4, hinged: [true, true] };
    let holds = [(0.0, 0.0), (3.0, 0.0)].map(|at| Hold { at, clamped: false });
    let push = [Push { at: (0.0, 2.0), across: 1e3, up: 0.0 }];
    let sway = |short: f64| {
        let bars = [post(0.0), post(3.0), fitted((short, 1.9), (3.0 - short, 1.9)), fitted((0.0, 0.0), (3.0 - short, 1.8))];
        solve(&bars, &holds, &push, 0.15).unwrap().sways[0]
    };
    assert_relative_eq!(sway(0.05), sway(0.0), max_relative = 0.02);
}

/// Two braces that are drawn to one place beside a post are joined to it there, as one of them is: two diagonals in one place
/// stand as one of twice the stiffness does.
#[test]
fn two_ends_that_meet_beside_a_post_belong_to_it() {
    let post = |x: f64| Bar { from: (x, 0.0), to: (x, 2.0), axial_stiffness: 1e9, bending_stiffness: 1e5, hinged: [false, true] };
    let fitted = |to: (f64, f64), stiffness: f64| Bar {
        from: (0.0, 0.0),
        to,
        axial_stiffness: stiffness,
        bending_stiffness: 1e4,
        hinged: [true, true],
    };
    let strut = Bar { from: (0.0, 1.8), ..fitted((3.0, 1.8), 1e8) };
    let holds = [(0.0, 0.0), (3.0, 0.0)].map(|at| Hold { at, clamped: false });
    let sways = |braces: &[Bar]| {
        let bars: Vec<Bar> = [post(0.0), post(3.0), strut].iter().chain(braces).copied().collect();
        solve(&bars, &holds, &[Push { at: (0.0, 2.0), across: 1.0, up: 0.0 }], 0.15).unwrap().sways[0]
    };
    for beside in [0.0, 0.015, 0.06] {
        let end = (3.0 + beside, 1.6);
        assert_relative_eq!(sways(&[fitted(end, 1e8), fitted(end, 1e8)]), sways(&[fitted(end, 2e8)]), max_relative = 1e-9);
    }
}

/// The same notebook: H 20.47 kN, V 112 kN, sway 29.981 mm, h 4.3 m give alpha 26.21 and 1.0397.
#[test]
fn second_order_by_the_printed_alpha() {
    assert_relative_eq!(second_order(112e3, 4.3, 20.47e3 / 0.029_981).unwrap(), 1.0397, max_relative = 1e-4);
    assert_relative_eq!(second_order(0.0, 2.0, 1e5).unwrap(), 1.0);
    assert!(second_order(3e5, 2.0, 1e5).unwrap() >= 1000.0);
    // A drawer twice as deep as it is wide, friction a half: 2 x 0.5 x 0.5 / 1.
    assert_relative_eq!(skew_jam(0.5, 0.5, 1.0).unwrap(), 0.5);
}
