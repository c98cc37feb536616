//! The roof's half of the way of the wind's pull: from the covering to the clamps.

use approx::assert_relative_eq;
use std::path::Path;
use wallplate::design::Choice;
use wallplate::rules::{Finding, Options, Verdict};
use wallplate::session::{NoShelf, Session};
use wallplate::syntax::tree::Date;
use wallplate::text::Source;
use wallplate::values::Value;

fn example(name: &str) -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(name)).unwrap()
}

fn read(text: &str) -> Session {
    let session = Session::read(vec![Source::new("a.plate", text)], &NoShelf, &Choice::default());
    assert_eq!(session.problems(), Vec::new());
    session
}

fn check(text: &str, rule: &str) -> Vec<Finding> {
    let session = read(text);
    let found = session.check(&Options { only: Some(rule.into()), today: Some(Date { year: 2027, month: 6, day: 1 }) });
    assert_eq!(session.problems(), Vec::new());
    found
}

fn verdicts(text: &str, rule: &str) -> Vec<Verdict> {
    check(text, rule).into_iter().map(|finding| finding.verdict).collect()
}

fn number(text: &str, expression: &str) -> f64 {
    let mut session = read(text);
    let (_, outcome) = session.value(expression).unwrap();
    outcome.as_ref().ok().and_then(Value::si).unwrap_or_else(|| panic!("{expression}: {outcome:?}"))
}

fn heron(from: &str, to: &str) -> String {
    let text = example("heron_fold.plate");
    assert!(text.contains(from), "{from}");
    text.replace(from, to)
}

/// IRC 2018 Table R802.5.2, its note on ties above the plate, prints 1.5, 1.33, 1.25, 1.2, 1.11 for the force in ties at 1/3,
/// 1/4, 1/5, 1/6, 1/10 of the rise, and Table R802.4.1 0.67, 0.76, 0.83, 0.90 for the spans of their rafters at the first four:
/// the moment then is that of the span over the factor squared. Both from memory.
#[test]
fn ties_above_the_plate() {
    for (part, force, span) in [(3.0, 1.5, 0.67), (4.0, 1.33, 0.76), (5.0, 1.25, 0.83), (6.0, 1.2, 0.90), (10.0, 1.11, 1.0)] {
        let rise = 1.55 * 20_f64.to_radians().tan();
        let text = heron("raised_by     60 mm", &format!("raised_by     {:.4} mm", 1000.0 * rise / part));
        assert_relative_eq!(number(&text, "rafter_tie.raised"), force, max_relative = 0.005);
        assert_relative_eq!(number(&text, "rafter_tie.bends").sqrt().recip(), span, max_relative = 0.01);
    }
}

/// w L^2 / (8 h) by hand: L twice 1.55 m, h 1.55 m tan 20 deg; w what presses one rafter at its hardest, without snow factors.
#[test]
fn rafters_push_outwards() {
    let text = example("heron_fold.plate");
    let line = |name: &str| number(&text, &format!("roof_rafter.{name}"));
    let w = line("dead_line") + line("snow_line");
    let h = 1.55 * 20_f64.to_radians().tan();
    let by_hand = w * 3.1 * 3.1 / (8.0 * h);
    let thrust = number(&text, "roof_rafter.thrust");
    assert!(thrust >= by_hand * 0.999 && thrust < 1.5 * by_hand, "{thrust} {by_hand}");
    // Pulled square to its slopes a pair opens with p l^2 / (2 h) at the ridge: moments about a foot.
    let p = number(&text, "roof_rafter.suction.edge") * 0.6;
    let sloping = 1.55 / 20_f64.to_radians().cos();
    assert_relative_eq!(number(&text, "roof_rafter.ridge_pull"), p * sloping * sloping / (2.0 * h), max_relative = 1e-9);
    // A ridge beam takes the push away.
    let beam = "ridge_beam r { of main_roof; carried_at -0.1 m, 4.3 m; carries_each 5 kN; grade c24; stock timber_75_225 }\n";
    assert_relative_eq!(number(&format!("{text}{beam}"), "roof_rafter.thrust"), 0.0);
}

/// 8d common nail in Douglas fir by hand: W = 1380 G^2.5 D = 1380 x 0.5^2.5 x 0.131 = 31.96 lb/in (NDS 2018 eq. 12.2-3), 2.5 in
/// less 7/16 in of board, CD 1.6.
#[test]
fn a_nail_of_the_deck() {
    let text = example("sorrel_kettle.plate");
    let by_hand = 1380.0 * 0.5_f64.powf(2.5) * 0.131 * (2.5 - 0.4375) * 1.6 * 4.448_221_6;
    assert_relative_eq!(number(&text, "roof_deck.holds"), by_hand, max_relative = 1e-3);
    // AISI S100-16 eq. J4.4.2-1 by hand: 1.5 x 0.0142 in x 0.5 in x 60 ksi / 3.0 = 213 lb.
    assert_relative_eq!(number(&text, "roof_sheet.head_holds"), 213.0 * 4.448_221_6, max_relative = 1e-3);
}

/// The way from the covering to the ground breaks where any of its links does, and is not known where one is not written.
#[test]
fn each_link_of_the_way_counts() {
    let path = "roofing.path_is_whole";
    assert_eq!(verdicts(&example("heron_fold.plate"), path), [Verdict::Pass]);
    assert_eq!(verdicts(&heron("hooked_to     sill_w", "# hooked_to"), path), [Verdict::Undetermined]);
    assert_eq!(verdicts(&heron("hooked_to     sill_w", "hooked_to     sill_e"), path), [Verdict::Fail]);
    let unknown = verdicts(&heron("tied_to       sill_e, sill_w", "# tied_to"), path);
    assert!(!unknown.is_empty() && unknown.iter().all(|verdict| *verdict == Verdict::Undetermined), "{unknown:?}");
    assert_eq!(verdicts(&heron("tied_to       floor   #", "# tied_to"), path), [Verdict::Fail]);
    for (line, rule) in [
        ("  tied_by       rafter_bracket\n", "roofing.rafter_is_tied_down"),
        ("  ridge_by      ridge_strap\n", "roofing.ridge_is_joined"),
        ("; mounted_by bracket_bolts", "roofing.wheel_bracket_holds"),
        ("  thickness       0.6 mm\n", "roofing.fasteners_hold_covering"),
        ("  fastened_by   tie_screws\n", "roofing.tie_holds"),
    ] {
        assert!(verdicts(&heron(line, ""), rule).contains(&Verdict::Undetermined), "{rule}");
    }
    let hooks = "  hooked_by     hook_bolts\n";
    assert_eq!(verdicts(&heron(hooks, ""), "roofing.hooks_hold"), [Verdict::Undetermined]);
    assert_eq!(verdicts(&heron(hooks, ""), "roofing.locks_hold_the_roof"), [Verdict::Undetermined]);
}

/// A sill by hand: three wheels under an even load, q l^2 / 8 over the middle one.
#[test]
fn a_sill_over_three_wheels() {
    let text = example("heron_fold.plate").replace("runs          -0.15 m to 4.35 m", "runs          0.25 m to 3.95 m");
    let q = ["dead_line", "snow_line"].map(|name| number(&text, &format!("sill_e.{name}"))).iter().sum::<f64>();
    let most = number(&text, "sill_e.bent.moment");
    assert!(most >= q * 1.85 * 1.85 / 8.0 * 0.999, "{most}");
    let still = text.replace("ground_load   0.6 kN/m2", "ground_load   0 kN/m2");
    let quiet = still.replace("wind_speed          24 m/s", "wind_speed          1 m/s");
    let dead = number(&quiet, "sill_e.dead_line");
    let live = number(&quiet, "sill_e.live_line");
    let person = 1000.0;
    // People: spread evenly, or one of them in the middle of a span, 13/64 P l + 9/128 q l^2 at the most.
    let even = (dead + live) * 1.85 * 1.85 / 8.0;
    let one = 13.0 / 64.0 * person * 1.85 + dead * 1.85 * 1.85 / 16.0;
    let found = number(&quiet, "sill_e.bent.moment");
    assert!((found - even.max(one)).abs() < 0.02 * found, "{found} {even} {one}");
}
