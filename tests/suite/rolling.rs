//! The roof at one place of its travel: what the report's slider reads off, held against mechanics by hand.

use approx::assert_relative_eq;
use wallplate::design::Choice;
use wallplate::session::{NoShelf, Session};
use wallplate::text::Source;
use wallplate::values::Value;

fn example() -> Session {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/heron_fold.plate");
    let session =
        Session::read(vec![Source::new("heron_fold.plate", std::fs::read_to_string(path).unwrap())], &NoShelf, &Choice::default());
    assert_eq!(session.problems(), []);
    session
}

fn number(session: &mut Session, expression: &str) -> f64 {
    let (_, outcome) = session.value(expression).unwrap_or_else(|problems| panic!("{expression}: {problems:?}"));
    outcome.as_ref().ok().and_then(Value::si).unwrap_or_else(|| panic!("{expression}: {outcome:?}"))
}

/// One wheel in the middle of a beam on two supports: P L³ / 48 E I, and half of P on each; no weight of its own.
/// Source: AISC Steel Construction Manual, Table 3-23, case 7.
#[test]
fn a_beam_under_one_wheel() {
    let mut calculator = Session::read(Vec::new(), &NoShelf, &Choice::default());
    let beam = |travel: &str, field: &str| {
        format!(
            "beam_under_wheels(beam_line(first_end 0 m, last_end 3 m, rigidity 100 kN*m2, own_weight 0 N/m, supports [0 m, 3 m], \
             wheels [0.5 m], loads [4 kN]), travel {travel}).{field}"
        )
    };
    assert_relative_eq!(number(&mut calculator, &beam("1 m", "sag")), 4e3 * 27.0 / (48.0 * 100e3), max_relative = 1e-9);
    assert_relative_eq!(number(&mut calculator, &beam("1 m", "under_wheels")), 4e3 * 27.0 / (48.0 * 100e3), max_relative = 1e-9);
    assert_relative_eq!(number(&mut calculator, &beam("1 m", "most")), 2e3, max_relative = 1e-9);
    // At x from the left support it takes P (L - x) / L.
    assert_relative_eq!(number(&mut calculator, &beam("0.25 m", "most")), 4e3 * 2.25 / 3.0, max_relative = 1e-9);
    // Beyond the end of the beam nothing presses.
    assert_eq!(number(&mut calculator, &beam("4 m", "sag")), 0.0);
}

/// Where the envelope of the whole way found the deepest sag, the beam under the wheels sags by that much, and nowhere more.
#[test]
fn the_beam_at_one_place_agrees_with_the_whole_way() {
    let mut session = example();
    let at = |travel: &str| format!("beam_under_wheels(east_plate.line, {travel}).sag");
    let deepest = number(&mut session, "east_plate.bent.sag");
    assert_relative_eq!(number(&mut session, &at("east_plate.bent.sag_travel")), deepest, max_relative = 1e-6);
    for step in 0..=20 {
        let here = number(&mut session, &at(&format!("{} m", 0.2 * f64::from(step))));
        assert!(here <= deepest * (1.0 + 1e-9), "{here} at step {step}, {deepest} on the whole way");
    }
}

/// Under steady forces: speeding up over 0.5 s to 0.07 m/s takes 17.5 mm (v = √(2 a x)); then 0.07 m/s against the rolling
/// resistance alone; after the signal v t at full speed, then v² falls evenly with the way. By hand from the design's lines.
#[test]
fn the_roof_at_a_travel_by_hand() {
    let mut session = example();
    // The rotor is slowed down with the roof; how much it counts is for a formula with a test of its own.
    let moved = 640.0 + number(&mut session, "main_roof.turning_mass / (1 kg)");
    let mut at = |travel: f64, field: &str| number(&mut session, &format!("moment_at(run main_roof.opening, travel {travel} m).{field}"));
    let start = -0.04;
    let v: f64 = 0.07;
    let acceleration = v / 0.5;
    assert_relative_eq!(at(start + 0.01, "speed"), (2.0 * acceleration * 0.01).sqrt(), max_relative = 1e-6);
    assert_relative_eq!(at(start + 0.01, "time"), (2.0 * 0.01 / acceleration).sqrt(), max_relative = 1e-6);
    assert_relative_eq!(at(2.0, "speed"), v, max_relative = 1e-9);
    assert_relative_eq!(at(2.0, "time"), 0.5 + (2.0 - start - 0.0175) / v, max_relative = 1e-9);
    let resistance = 640.0 * 9.80665 * 0.5 * (0.01856 + 0.014);
    assert_relative_eq!(at(2.0, "pull"), resistance, max_relative = 1e-3);
    // The sensor trips at 4.2 m; 14 mm further the motor lets go.
    assert_relative_eq!(at(4.21, "speed"), v, max_relative = 1e-9);
    let slows = resistance / moved;
    assert_relative_eq!(at(4.229, "speed"), (v * v - 2.0 * slows * 0.015_f64).sqrt(), max_relative = 1e-3);
    assert_eq!(at(4.229, "pull"), 0.0);
}

#[test]
fn a_travel_that_the_roof_never_comes_by_is_refused() {
    let mut session = example();
    let problems = session.value("moment_at(run main_roof.opening, travel 4.3 m).speed").unwrap_err();
    assert!(problems[0].message.contains("travel"), "{problems:?}");
}
