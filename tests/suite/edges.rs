//! Each side of what a rule asks, one after the other: a part moved past one side only, one of several left out.
//!
//! What is wrong on any side has to be said, whichever of two numbers a rule takes the larger of.

use crate::examples::{changed, read};
use std::path::Path;
use wallplate::rules::{Finding, Only, Options, Verdict};
use wallplate::syntax::tree::Date;

/// What a rule finds in a design with some of its lines changed.
fn found(name: &str, rule: &str, changes: &[(&str, &str)]) -> Vec<Finding> {
    let text = std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(name)).unwrap();
    let text = changes.iter().fold(text, |text, (from, to)| changed(&text, from, to));
    let session = read(name, &text);
    assert!(session.problems().is_empty(), "{changes:?}: {:?}", session.problems());
    let today = Some(Date { year: 2027, month: 6, day: 1 });
    let findings = session.check(&Options { today, only: Some(Only::from(rule)) });
    assert!(!findings.is_empty(), "{rule} is not asked");
    findings
}

/// The subjects of what does not pass.
fn wrong_in(name: &str, rule: &str, changes: &[(&str, &str)]) -> Vec<String> {
    let findings = found(name, rule, changes);
    let fails = findings.iter().filter(|finding| finding.verdict != Verdict::Pass);
    fails.map(|finding| finding.subjects.iter().map(|name| name.to_string()).collect::<Vec<_>>().join(" ")).collect()
}

fn wrong(rule: &str, changes: &[(&str, &str)]) -> Vec<String> {
    wrong_in("heron_fold.plate", rule, changes)
}

#[test]
fn a_clamp_beyond_any_side_of_the_roof_is_told() {
    let rule = "holddown.clamps_hold_the_roof";
    assert_eq!(wrong(rule, &[]), Vec::<String>::new());
    for (from, to, whose) in [
        ("clamp clamp_se like east_clamp { station 0.20 m }", "clamp clamp_se like east_clamp { station -0.90 m }", "clamp_se"),
        ("clamp clamp_nw like west_clamp { station 4.00 m }", "clamp clamp_nw like west_clamp { station 5.20 m }", "clamp_nw"),
    ] {
        assert_eq!(wrong(rule, &[(from, to)]), [whose], "{to}");
    }
    assert_eq!(wrong(rule, &[("offset east_line + 85 mm", "offset east_line - 900 mm")]).len(), 3);
    assert_eq!(wrong(rule, &[("offset west_line - 60 mm", "offset west_line + 900 mm")]).len(), 3);
}

#[test]
fn each_end_without_its_sensor_is_told() {
    let rule = "travel.each_end_has_both";
    assert_eq!(wrong(rule, &[]), Vec::<String>::new());
    for end in ["open", "closed"] {
        let other = if end == "open" { "closed" } else { "open" };
        assert_eq!(wrong(rule, &[(&format!("marks {end}"), &format!("marks {other}"))]), [format!("main_roof {end}")]);
    }
}

#[test]
fn a_riding_keeper_beyond_any_side_of_the_roof_is_told() {
    let wrong = |from: &str, to: &str| wrong_in("sorrel_kettle.plate", "holddown.keepers_hold_the_roof", &[(from, to)]);
    let west = "keeper keeper_w like beam_hook { station 1 ft 6 in; offset sw_line - 3-1/4 in;";
    assert_eq!(wrong(west, west), Vec::<String>::new());
    for place in [
        "station -4 ft; offset sw_line - 3-1/4 in;",
        "station 16 ft; offset sw_line - 3-1/4 in;",
        "station 1 ft 6 in; offset sw_line - 4 ft;",
        "station 1 ft 6 in; offset ne_line + 4 ft;",
    ] {
        assert_eq!(wrong(west, &format!("keeper keeper_w like beam_hook {{ {place}")), ["keeper_w"], "{place}");
    }
}

#[test]
fn a_fixing_before_or_behind_the_rack_is_told() {
    let wrong = |from: &str, to: &str| wrong("drive.rack_fixings_in_order", &[(from, to)]);
    let first = "fixings 0.10 m,";
    assert_eq!(wrong(first, "fixings 0 m,"), Vec::<String>::new());
    assert_eq!(wrong(first, "fixings -0.01 m,").len(), 1);
    assert_eq!(wrong(first, "fixings 0.10 m, 0.10 m,").len(), 1);
    assert_eq!(wrong(first, "fixings 40 m, 0.10 m,").len(), 1);
}

/// Between the nearer of two stops and the sensor that trips last; a stop that stands farther off than its like changes nothing.
#[test]
fn the_nearer_of_two_stops_counts() {
    let room = |changes: &[(&str, &str)], end: &str| {
        let findings = found("heron_fold.plate", "drive.stops_in_the_wind", changes);
        let finding = findings.iter().find(|finding| finding.subjects.last().is_some_and(|last| last == end)).unwrap();
        finding.nominal.as_ref().unwrap().1.quantity.si
    };
    let west = "end open; station 8.675 m ± 3 mm; meets 4.35 m";
    let (at_first, shut) = (room(&[], "open"), room(&[], "closed"));
    let with = |station: &str| room(&[(west, &format!("end open; station {station} ± 3 mm; meets 4.35 m"))], "open");
    assert!((with("8.655 m") - (at_first - 0.020)).abs() < 1e-9, "{at_first}");
    assert!((with("8.695 m") - at_first).abs() < 1e-9, "{at_first}");
    let west = "end closed; station -0.190 m ± 3 mm; meets -0.15 m";
    let with = |station: &str| room(&[(west, &format!("end closed; station {station} ± 3 mm; meets -0.15 m"))], "closed");
    assert!((with("-0.170 m") - (shut - 0.020)).abs() < 1e-9, "{shut}");
    assert!((with("-0.210 m") - shut).abs() < 1e-9, "{shut}");
}

/// NDS 2018 §3.2.3 with §4.4.3: at its ends sawn lumber may be notched by a quarter of its depth, a 2x6 (5-1/2 in) by 1-3/8 in and a
/// 2x10 (9-1/4 in) by 2-5/16 in.
#[test]
fn a_notch_of_a_quarter_is_the_last_that_is_allowed() {
    for (rule, head, allowed, too_deep) in [
        ("structure.rafter_notch", "rafter roof_rafter \"2x6 rafters\" {", "1-3/8 in", "1-7/16 in"),
        ("structure.beam_notch", "pattern beam track_beam {", "2-5/16 in", "2-3/8 in"),
    ] {
        let with = |notch: &str| wrong_in("sorrel_kettle.plate", rule, &[(head, &format!("{head}\nnotch {notch}"))]);
        assert_eq!(with(allowed), Vec::<String>::new(), "{rule}");
        assert!(!with(too_deep).is_empty(), "{rule}");
    }
}
