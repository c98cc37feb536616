//! Signs, halves and pushes that a run of the whole would hold only by chance: asked by themselves, checked by statics.

use approx::assert_relative_eq;
use wallplate::calc::holddown::share_sideways;
use wallplate::design::Choice;
use wallplate::rules::{Options, range};
use wallplate::session::{NoShelf, Session};
use wallplate::text::Source;
use wallplate::values::{Scope, Value};

fn read(text: &str) -> Session {
    Session::read(vec![Source::new("test.plate", text)], &NoShelf, &Choice::default())
}

fn number(text: &str, expression: &str) -> f64 {
    let (_, outcome) = read(text).value(expression).unwrap();
    outcome.unwrap().si().unwrap()
}

fn numbers(text: &str, expression: &str) -> Vec<f64> {
    let (_, outcome) = read(text).value(expression).unwrap();
    let Ok(Value::List(items)) = outcome else { panic!("{outcome:?}") };
    items.iter().map(|item| item.si().unwrap()).collect()
}

/// By the lever: two holds 3 m apart, the push 1 m from the first. It takes two thirds.
#[test]
fn the_hold_that_is_nearer_takes_more() {
    let shares = numbers("", "sideways_shares(push 900 N, at 1 m, stations [0 m, 3 m])");
    assert_relative_eq!(shares[0], 600.0, max_relative = 1e-12);
    assert_relative_eq!(shares[1], 300.0, max_relative = 1e-12);
    // A push across at the origin goes through the one that stands there, by moments about it; likewise one along.
    for (places, force) in [([(0.0, 0.0), (2.0, 0.0)], (0.0, 10.0)), ([(0.0, 0.0), (0.0, 2.0)], (10.0, 0.0))] {
        let found = share_sideways(&places, force).unwrap();
        for ((x, y), (due_x, due_y)) in found.iter().zip([force, (0.0, 0.0)]) {
            assert!((x - due_x).abs() < 1e-9 && (y - due_y).abs() < 1e-9, "{found:?}");
        }
    }
}

/// Four clamps in a square of 2 m, the push along them 0.5 m to the side of their middle: 100 N each, and of the couple of 200 N m
/// `M y / sum(r^2)` along and `M x / sum(r^2)` across, 25 N either way (AISC Manual Part 7, elastic method).
#[test]
fn the_couple_of_a_push_beside_the_middle_adds_where_it_turns() {
    let places = [(-1.0, -1.5), (1.0, -1.5), (-1.0, 0.5), (1.0, 0.5)];
    let found = share_sideways(&places, (400.0, 0.0)).unwrap();
    let couple = 400.0 * 0.5 / (4.0 * 2.0);
    for ((x, y), place) in found.iter().zip(places) {
        // The push passes at 0, nearer to those at 0.5 than to those at -1.5: they take more.
        let along = if place.1 > -0.5 { 100.0 + couple } else { 100.0 - couple };
        assert_relative_eq!(*x, along, max_relative = 1e-12);
        assert_relative_eq!(y.abs(), couple, max_relative = 1e-12);
    }
}

/// `k x^2 / 2 = E + F x`: what pushes on behind the roof presses the stop in farther, and is energy for it too.
#[test]
fn what_pushes_on_is_taken_by_the_stop() {
    let share =
        |push: &str, what: &str| number("", &format!("stop_share(stiffness 20 kN/m, energy 25 J, push {push}, others [], lags []).{what}"));
    assert_relative_eq!(share("0 N", "pressed_in"), 0.05, max_relative = 1e-9);
    let pressed = (300.0 + (300.0_f64.powi(2) + 2.0 * 20_000.0 * 25.0).sqrt()) / 20_000.0;
    assert_relative_eq!(share("300 N", "pressed_in"), pressed, max_relative = 1e-9);
    assert_relative_eq!(share("300 N", "energy"), 25.0 + 300.0 * pressed, max_relative = 1e-9);
    assert_relative_eq!(share("300 N", "force"), 20_000.0 * pressed, max_relative = 1e-9);
}

/// A weight where a mass is due is that over 9.80665 m/s2 (ISO 80000-3), and a mass where a force is due that times it.
#[test]
fn a_weight_is_a_mass_and_a_mass_a_weight() {
    let kind = "kind crate \"a crate\" { heavy mass required \"m\"; load force required \"f\" }\n";
    let text = format!("{kind}crate one {{ heavy 980.665 N; load 100 kg ± 10 kg }}\n");
    assert_relative_eq!(number(&text, "one.heavy"), 100.0, max_relative = 1e-12);
    assert_relative_eq!(number(&text, "one.load"), 980.665, max_relative = 1e-12);
}

/// The least and the most over the tolerances: both ends of each, and nothing where nothing is off.
#[test]
fn a_difference_is_least_where_one_end_meets_the_other() {
    let text = "let a 10 m +3 mm -1 mm\nlet b 4 m ± 2 mm\nlet c 1 m\n";
    let of = |expression: &str| {
        let mut session = read(text);
        let (expr, _) = session.value(expression).unwrap();
        let evaluator = &session.evaluator;
        let work = || evaluator.evaluate(&expr, &mut Scope::default()).ok().and_then(|value| value.si());
        let (_, reads) = evaluator.reading(work);
        range(evaluator, &reads, &work)
    };
    let (least, most) = of("a - b").unwrap();
    assert_relative_eq!(least, 5.997, max_relative = 1e-12);
    assert_relative_eq!(most, 6.005, max_relative = 1e-12);
    let (least, most) = of("c / (a - b)").unwrap();
    assert_relative_eq!(least, 1.0 / 6.005, max_relative = 1e-12);
    assert_relative_eq!(most, 1.0 / 5.997, max_relative = 1e-12);
    assert_eq!(of("c + 1 m"), None);
}

/// A share of the capacity has a meaning where there is one, and something is asked of it.
#[test]
fn a_ratio_is_shown_where_it_has_a_meaning() {
    let ratio = |demand: &str, capacity: &str| {
        let rule = format!("rule own.holds \"It holds\" {{ each o in observatory; demand {demand}; capacity {capacity}; says \"so\" }}");
        let session = read(&format!("observatory o {{ rolls_open east }}\n{rule}\n"));
        assert!(session.problems().is_empty(), "{:?}", session.problems());
        let found = session.check(&Options::default());
        found.into_iter().find(|finding| finding.rule == "own.holds").unwrap().ratio
    };
    assert_eq!(ratio("3 m", "4 m"), Some(0.75));
    assert_eq!(ratio("0 m", "4 m"), Some(0.0));
    assert_eq!(ratio("3 m", "0 m"), None);
    assert_eq!(ratio("3 m", "-4 m"), None);
    assert_eq!(ratio("-3 m", "4 m"), None);
    assert_eq!(ratio("-3 m", "-4 m"), None);
}

/// A share is one of the number that it stands behind: of each end of a range and each side of a size its own.
#[test]
fn each_end_of_a_range_is_off_by_a_share_of_itself() {
    let kind = "kind crate \"a crate\" { runs range of length required \"r\"; section size of length required \"s\" }\n";
    let text = format!("{kind}crate one {{ runs 2 m ± 10 % to 5 m ± 1 %; section 40 mm ± 5 % by 90 mm ± 10 % }}\n");
    let of = |expression: &str| {
        let mut session = read(&text);
        let (expr, _) = session.value(expression).unwrap();
        let evaluator = &session.evaluator;
        let work = || evaluator.evaluate(&expr, &mut Scope::default()).ok().and_then(|value| value.si());
        let (_, reads) = evaluator.reading(work);
        range(evaluator, &reads, &work).unwrap()
    };
    for (expression, due) in [
        ("one.runs.from", (1.8, 2.2)),
        ("one.runs.to", (4.95, 5.05)),
        ("one.section.first", (0.038, 0.042)),
        ("one.section.second", (0.081, 0.099)),
        ("one.runs.to - one.runs.from", (2.75, 3.25)),
    ] {
        let (least, most) = of(expression);
        assert_relative_eq!(least, due.0, max_relative = 1e-12);
        assert_relative_eq!(most, due.1, max_relative = 1e-12);
    }
}
