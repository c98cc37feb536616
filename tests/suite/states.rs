//! The states of a roof: in none of a sound design is an action silent, and what was not checked is said with every answer.

use crate::cli::desk::Desk;
use std::collections::BTreeSet;
use std::path::Path;
use wallplate::design::Choice;
use wallplate::rules::matrix::{Standing, cells, not_checked};
use wallplate::rules::{Finding, Options, Verdict};
use wallplate::session::{NoShelf, Session};
use wallplate::syntax::tree::Date;
use wallplate::text::Source;
use wallplate::values::Value;

const DESIGNS: [&str; 2] = ["heron_fold.plate", "sorrel_kettle.plate"];

fn example(name: &str) -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(name)).unwrap()
}

fn read(text: &str) -> Session {
    Session::read(vec![Source::new("a.plate", text)], &NoShelf, &Choice::default())
}

fn options() -> Options {
    Options { today: Some(Date { year: 2027, month: 6, day: 1 }), ..Options::default() }
}

fn check(session: &Session) -> Vec<Finding> {
    session.check(&options())
}

fn verdict(text: &str, rule: &str) -> Vec<Verdict> {
    let session = read(text);
    assert_eq!(session.problems(), Vec::new());
    check(&session).into_iter().filter(|finding| finding.rule == rule).map(|finding| finding.verdict).collect()
}

fn with(name: &str, from: &str, to: &str) -> String {
    let text = example(name);
    assert!(text.contains(from), "{from}");
    text.replacen(from, to, 1)
}

fn number(text: &str, expression: &str) -> f64 {
    let mut session = read(text);
    let (_, outcome) = session.value(expression).unwrap();
    outcome.as_ref().ok().and_then(Value::si).unwrap_or_else(|| panic!("{expression}: {outcome:?}"))
}

#[test]
fn no_action_is_silent_in_a_sound_design() {
    for name in DESIGNS {
        let session = read(&example(name));
        let findings = check(&session);
        let states = &session.design().states;
        for cell in cells(states, &findings, &session.not_begun(&options())) {
            assert_ne!(cell.standing, Standing::Open, "{name}: {} of {}", cell.action, cell.state);
            assert!(cell.standing == Standing::Checked || !cell.why.is_empty(), "{name}: {} of {}", cell.action, cell.state);
        }
    }
}

/// Every state but the last says something of each of six actions, and the rules that it names are rules.
#[test]
fn each_state_speaks_of_each_action() {
    let session = read("");
    let design = session.design();
    let known: BTreeSet<&str> = design.rules.iter().map(|rule| rule.name.as_str()).collect();
    for state in &design.states {
        let actions: BTreeSet<&str> = state.cells.iter().map(|cell| cell.action.as_str()).collect();
        if state.name != "always" {
            assert_eq!(actions, BTreeSet::from(["own_weight", "snow", "people", "wind", "blow", "stall"]), "{}", state.name);
        }
        for cell in state.cells.iter() {
            assert!(cell.rules.is_empty() != cell.why_not.is_empty(), "{} of {}", cell.action, state.name);
            assert!(cell.rules.iter().all(|rule| known.contains(rule.as_str())), "{:?}", cell.rules);
        }
    }
    assert_eq!(design.states.len(), 7);
}

#[test]
fn what_was_not_checked_is_said() {
    let desk = Desk::new().file("a.plate", example(DESIGNS[0]));
    let usual = desk.run(&["check", "a.plate"]).out;
    assert!(usual.contains("not checked: "), "{usual}");
    assert!(usual.lines().count() <= 45, "{}", usual.lines().count());
    let all = desk.run(&["check", "a.plate", "--all"]).out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(all.contains("not checked: always, earthquake: earthquakes"), "{all}");
    let json: serde_json::Value = serde_json::from_str(&desk.run(&["check", "a.plate", "--format", "json"]).out).unwrap();
    assert_eq!(json["states"].as_array().unwrap().len(), 7);
    assert_eq!(json["states"][0]["actions"][3]["standing"], "checked");
    let page = desk.run(&["rules", "states"]).out;
    assert!(page.contains("left_open: At its open stop in snow or storm"), "{page}");
    // A line that is left out opens an action.
    let begun = read(&with(DESIGNS[0], "  takes_energy  40 J\n", ""));
    let findings = check(&begun);
    assert!(
        not_checked(&begun.design().states, &findings, &begun.not_begun(&options())).iter().any(|one| one.open && one.action == "blow")
    );
}

/// The roof left open: without its ties it fails, with a plan in place of them it is asked for the plan.
#[test]
fn a_storm_wants_ties_or_a_plan() {
    let none = with(DESIGNS[0], "  rated_up      3 kN ", "  # rated_up      3 kN ");
    assert_eq!(verdict(&none, "storm.left_open_stays_down"), [Verdict::Fail]);
    let plan = "storm_plan p { of main_roof; does \"shut it\"; takes 10 min; warned 1 h; pulls 2 kN }\n";
    assert_eq!(verdict(&format!("{none}{plan}"), "storm.left_open_stays_down"), []);
    assert_eq!(verdict(&format!("{none}{plan}"), "storm.plan_is_quick_enough"), [Verdict::Pass]);
    let late = plan.replace("10 min", "2 h");
    assert_eq!(verdict(&format!("{none}{late}"), "storm.plan_is_quick_enough"), [Verdict::Fail]);
    assert_eq!(verdict(&with(DESIGNS[0], "  closes_at           5 m/s", "  # closes_at"), "storm.shuts_in_time"), [Verdict::Undetermined]);
}

/// Where somebody surely comes within days the wind is that of two years: cprob 0.776 (EN 1991-1-4:2005 eq. 4.2 by hand:
/// 1 - 0.2 ln(-ln 0.5) = 1.0733, over 1.7804, to the power 0.5), no less than 20 m/s (EN 1991-1-6:2005 4.7, from memory).
#[test]
fn days_left_open_want_the_wind_of_two_years() {
    let days = |wind: &str| {
        let text = with(DESIGNS[0], "  closes_at           5 m/s ", "  stands_open         days\n  closes_at           5 m/s ");
        number(&text.replace("wind_speed          24 m/s ", &format!("wind_speed          {wind} ")), "site.storm_wind")
    };
    approx::assert_relative_eq!(days("24 m/s"), 20.0, max_relative = 1e-9);
    approx::assert_relative_eq!(days("30 m/s"), 30.0 * (1.0733_f64 / 1.7804).sqrt(), max_relative = 1e-4);
    approx::assert_relative_eq!(number(&example(DESIGNS[0]), "site.storm_wind"), 24.0, max_relative = 1e-9);
}

/// Snow on the open roof comes down to the pads: all of it, on six wheels with the share factor, and its beams are asked.
#[test]
fn snow_on_the_open_roof_comes_down_to_the_gantry() {
    let text = example(DESIGNS[0]);
    let plan = 4.5 * 3.5;
    let snow = number(&text, "main_roof.snow_load") * plan;
    approx::assert_relative_eq!(number(&text, "sum(east_plate.open_snow) + sum(west_plate.open_snow)"), 1.5 * snow, max_relative = 1e-9);
    let posts = number(&text, "sum(p.loads.open_snow for p in post)");
    let walls = number(&text, "sum(w.total.open_snow for w in wall)");
    approx::assert_relative_eq!(posts + walls, 1.5 * snow, max_relative = 1e-6);
    assert!(posts > 0.7 * 1.5 * snow, "{posts}");
}

/// A diagonal by hand: 1 kN at the east post's top goes through the strut to the west post and down the diagonal, N = P d / b.
#[test]
fn a_diagonal_takes_what_the_strut_brings() {
    let text = example(DESIGNS[0]);
    let (b, h) = (3.10 - 0.015, 1.60 - 0.05);
    let diagonal = number(&text, "abs(item(east_gantry[1].across.axial, 4))");
    assert!((diagonal / (1000.0 * f64::hypot(b, h) / b) - 1.0).abs() < 0.4, "{diagonal}");
    // Without its diagonals nothing holds the posts.
    let bare = text.replace("brace gantry_diagonal[1..3] like gantry_brace {", "pattern brace gone like gantry_brace {");
    let found = verdict(&bare, "sideways.post_is_held_across");
    assert!(found.len() == 6 && found.iter().all(|verdict| *verdict == Verdict::Fail), "{found:?}");
}
