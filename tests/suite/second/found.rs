//! What the two said differently once, worked out by hand.

use approx::assert_relative_eq;
use wallplate::calc::beam::{Beam, Train, Wheel, envelope};
use wallplate::calc::holddown::{Resultant, Support, share};
use wallplate::design::Choice;
use wallplate::rules::{Finding, Options, Verdict};
use wallplate::session::{NoShelf, Session};
use wallplate::text::Source;

fn finding(lines: &str) -> Finding {
    let text = format!("kind thing \"a thing\" {{\n  size  length  required  \"its size\"\n}}\nthing one {{ size 1 m }}\n{lines}\n");
    let session = Session::read(vec![Source::new("test.plate", text)], &NoShelf, &Choice::default());
    assert!(session.problems().is_empty(), "{:?}", session.problems());
    let found = session.check(&Options::default());
    found.into_iter().find(|finding| finding.rule == "own.holds").unwrap()
}

fn sides(finding: &Finding) -> (f64, f64) {
    (finding.demand.as_ref().unwrap().quantity.si, finding.capacity.as_ref().unwrap().quantity.si)
}

fn rule(demand: &str, capacity: &str) -> String {
    format!("rule own.holds \"It holds\" {{\n  each  t in thing\n  demand  {demand}\n  capacity  {capacity}\n  says  \"so\"\n}}")
}

/// `b` is 1 m more than `a`, and off by 5 mm besides: 10 mm + 5 mm together. Before, its own tolerance put that of `a` out of mind.
#[test]
fn a_line_with_a_tolerance_moves_with_the_lines_that_it_stands_on() {
    let found = finding(&format!("let a 2 m ± 10 mm\nlet b a + 1 m ± 5 mm\n{}", rule("b", "3.013 m")));
    assert_relative_eq!(sides(&found).0, 3.015, max_relative = 1e-12);
    assert_eq!(found.verdict, Verdict::Fail);
    // The other way they take each other's away: b - a is 1 m, off by 5 mm and no more.
    let found = finding(&format!("let a 2 m ± 10 mm\nlet b a + 1 m ± 5 mm\n{}", rule("b - a", "1.2 m")));
    assert_relative_eq!(sides(&found).0, 1.005, max_relative = 1e-12);
}

/// Two gaps of 3 mm that only touch together, beside one that always counts: 2 mm + (6 mm - 5 mm). Before, the one that adds up
/// with nothing kept the pair from being looked at.
#[test]
fn two_that_only_hurt_together_are_found_beside_one_that_hurts_alone() {
    let lines = "let x 0 mm ± 3 mm\nlet y 0 mm ± 3 mm\nlet z 10 mm ± 2 mm";
    let found = finding(&format!("{lines}\n{}", rule("z + max(0 mm, x + y - 5 mm)", "12.5 mm")));
    assert_relative_eq!(sides(&found).0, 0.013, max_relative = 1e-12);
    assert_eq!(found.verdict, Verdict::Fail);
}

/// The sign of what `y` does turns with that of `x`: at x = -0.9 the lower end of `y` hurts, 10 + 0.9 x 1.1 - 0.9 x 0.9.
#[test]
fn an_end_that_helps_by_itself_may_hurt_beside_another() {
    let found = finding(&format!("let x 0.1 ± 1\nlet y 1 ± 0.1\n{}", rule("10 - 30 * x - x * y", "100")));
    assert_relative_eq!(sides(&found).0, 10.0 + 27.0 + 0.9 * 1.1, max_relative = 1e-12);
    // Beside five more, too many to try every combination.
    let more: String = ["a", "b", "c", "d", "e"].map(|name| format!("let {name} 1 ± 0.5\n")).concat();
    let found = finding(&format!("let x 0.1 ± 1\nlet y 1 ± 0.1\n{more}{}", rule("10 - 30 * x - x * y + a + b + c + d + e", "100")));
    assert_relative_eq!(sides(&found).0, 10.0 + 27.0 + 0.9 * 1.1 + 5.0 * 1.5, max_relative = 1e-12);
}

/// At the upper end of `a` the other branch counts, and there `b` has a tolerance of its own.
#[test]
fn what_counts_only_at_an_end_has_its_ends_too() {
    let lines = "let a 1.0 m ± 0.1 m\nlet b 2.0 m ± 0.3 m";
    let found = finding(&format!("{lines}\n{}", rule("if a > 1.05 m then b else 1 m", "2.2 m")));
    assert_relative_eq!(sides(&found).0, 2.3, max_relative = 1e-12);
    assert_eq!(found.verdict, Verdict::Fail);
    // The neighbour: a condition that only fails there.
    let condition =
        "rule own.holds \"It holds\" {\n  each  t in thing\n  require  if a > 1.05 m then b < 2.2 m else yes\n  says  \"so\"\n}";
    assert_eq!(finding(&format!("{lines}\n{condition}")).verdict, Verdict::Fail);
}

/// The sum of nothing is zero of whatever is due, and stays so through a product, a quotient and a formula.
#[test]
fn nothing_stays_nothing() {
    let nothing = "sum(c.station for c in clamp)";
    for side in [
        format!("1 m + abs({nothing})"),
        format!("1 m + {nothing} * 2"),
        format!("1 m + sqrt({nothing} * 2 m)"),
        format!("(1 m2 + {nothing} * 3 m) / 1 m"),
        format!("(2 + {nothing} / 2 m) * 0.5 m"),
        format!("1 m + round_up({nothing}, 1 m)"),
        format!("between({nothing}, 1 m, 2 m)"),
    ] {
        let found = finding(&rule(&side, "1.5 m"));
        assert_eq!((found.verdict, sides(&found).0), (Verdict::Pass, 1.0), "{side}");
    }
}

/// A wheel that stands, but for rounding, on the place that is looked at when the train sets out. Two spans of 2 m: one wheel of
/// 1 kN sinks them by no more than the middle of one simple span does, P L^3 / 48 EI = 1.67 mm (AISC Manual Table 3-23, case 7).
#[test]
fn a_wheel_on_the_place_looked_at_is_on_one_side_of_it() {
    for part in 1..64 {
        for offset in [0.1, 0.3, 0.7, 1.1] {
            let beam = Beam::uniform(0.0, 4.0, 1.0e5, &[0.0, 2.0, 4.0]);
            let wheels = vec![Wheel { offset: 0.0, load: 0.0 }, Wheel { offset, load: 1000.0 }];
            let train = Train { wheels, from: f64::from(part) / 32.0 - offset, to: 3.0 };
            let found = envelope(&beam, &train, 0.0).unwrap();
            assert!(found.deepest.value <= 1000.0 * 8.0 / 48.0 / 1.0e5, "{part} {offset}: {:?}", found.deepest);
        }
    }
}

/// Three clamps of unlike stiffness and two wheels near one line: the pulls are eight times the load, and hold it.
#[test]
fn a_load_with_a_long_lever_is_held() {
    // Moments about the wheel at 0: the clamp at 0.1 pulls 1000 x 0.8 / 0.1, and the wheel pushes the rest.
    let clamps = [Support { x: 0.1, y: -1.0, stiffness: 0.2 }, Support { x: 0.1, y: 1.0, stiffness: 0.2 }];
    let wheels = [Support { x: 0.0, y: -1.0, stiffness: 50.0 }, Support { x: 0.0, y: 1.0, stiffness: 50.0 }];
    let found = share(&clamps, &wheels, Resultant::at(1000.0, 0.8, 0.0)).unwrap();
    for pull in &found.clamps {
        assert_relative_eq!(*pull, 4000.0, max_relative = 1e-5);
    }
    for push in &found.wheels {
        assert_relative_eq!(*push, 3500.0, max_relative = 1e-5);
    }
}
