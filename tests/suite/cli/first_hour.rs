//! What somebody asks who has begun with the program today.

use super::desk::Desk;
use std::io::Write;
use std::process::Stdio;

const DESIGN: &str = "lid big { uplift 3 kN }\nlid small { uplift 1 kN }\n\
    peg one { holds big; working_load 4 kN; height 1 m }\npeg row[1..2] { holds small; working_load 4 kN; height 3 m }\n";

/// The rules and what each is about, of a check.
fn found(arguments: &[&str]) -> Vec<String> {
    let json = Desk::with(DESIGN).run(&[&["check", "a.plate", "--format", "json"], arguments].concat()).json();
    let of = |result: &serde_json::Value| format!("{} {}", result["rule"].as_str().unwrap(), result["subjects"][0].as_str().unwrap());
    json["results"].as_array().unwrap().iter().map(of).collect()
}

#[test]
fn several_areas_rules_and_components() {
    let all = found(&[]);
    assert_eq!(all.len(), 6, "{all:?}");
    assert_eq!(found(&["--only", "lidding,reach"]), all);
    assert_eq!(found(&["--only", "lidding.pegs_hold", "--only", "reach"]), all);
    assert_eq!(found(&["--only", "one"]), ["lidding.pegs_hold one", "reach.peg_in_reach one"]);
    // Of an array all of it, or one.
    assert_eq!(found(&["--only", "row"]).len(), 4);
    assert_eq!(found(&["--only", "row[2]"]), ["lidding.pegs_hold row[2]", "reach.peg_in_reach row[2]"]);
    assert_eq!(found(&["--only", "one,lidding"]).len(), 4);
    let done = Desk::with(DESIGN).run(&["check", "a.plate", "--only", "lidding,onne"]);
    assert_eq!(done.status, Some(2));
    assert!(done.err.contains("there is no area, rule or component `onne`") && done.err.contains("did you mean `one`?"), "{}", done.err);
}

/// A rule is asked for by its name, on all that it is about or on some of it: both sides with their steps.
#[test]
fn both_sides_of_a_rule() {
    let desk = Desk::with(DESIGN);
    let done = desk.run(&["value", "a.plate", "--rule", "lidding.pegs_hold", "one", "--how"]);
    assert_eq!(done.status, Some(0), "{}", done.err);
    for line in [
        "lidding.pegs_hold (one): Each peg holds its share",
        "  fail: one is pulled with 3 kN and holds 2 kN",
        "  needed = p.share",
        "  available = p.capacity",
        "    one.capacity = working_load * grip",
    ] {
        assert!(done.out.lines().any(|one| one == line), "{line}\n{}", done.out);
    }
    assert!(!done.out.contains("row"), "{}", done.out);
    let brief = desk.run(&["value", "a.plate", "--rule", "lidding.pegs_hold"]).out;
    assert_eq!(brief.matches("lidding.pegs_hold (").count(), 3, "{brief}");
    assert!(!brief.contains("working_load * grip"), "{brief}");
    for (arguments, says) in [
        (&["--rule", "lidding.pegs_hold", "big"][..], "`lidding.pegs_hold` says nothing of big"),
        (&["--rule", "lidding.pegs_hold", "big"], "it is about one; row[1]; row[2]"),
        (&["--rule", "lidding.peg_hold"], "did you mean `lidding.pegs_hold`?"),
    ] {
        let done = desk.run(&[&["value", "a.plate"], arguments].concat());
        assert_eq!(done.status, Some(2));
        assert!(done.err.contains(says), "{says}: {}", done.err);
    }
}

#[test]
fn a_design_from_standard_input() {
    let desk = Desk::with("");
    let mut command = desk.command(&["check", "-"]);
    let mut child = command.stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().unwrap();
    let text = format!("use \"vocabulary.plate\"\n{DESIGN}");
    child.stdin.take().unwrap().write_all(text.as_bytes()).unwrap();
    let out = String::from_utf8(child.wait_with_output().unwrap().stdout).unwrap();
    assert!(out.contains("fail  lidding.pegs_hold (one)") && out.contains("[standard input:4:"), "{out}");
}

/// What is no name is looked for in names, titles and meanings.
#[test]
fn words_are_looked_for_in_what_is_said() {
    let desk = Desk::new();
    let out = desk.run(&["rules", "torque"]).out;
    assert!(out.contains("  pinion_torque ") && out.contains("  stall_force "), "{out}");
    let both = desk.run(&["rules", "stalled", "motor"]).out;
    assert!(both.contains("  stall_force ") && !both.contains("  pinion_torque "), "{both}");
    // A part of a word is none: `ten` does not stand in `often`, nor `ear` in `gear`.
    assert!(!desk.run(&["rules", "ear"]).out.contains("gear"));
    let slip = desk.run(&["rules", "horizn"]);
    assert!(slip.err.contains("nothing speaks of it") && slip.err.contains("did you mean `horizon`?"), "{}", slip.err);
}

/// First what a person writes, by how much stands on it; then what is worked out, a line each.
#[test]
fn the_page_of_a_kind_says_first_what_is_written() {
    let out = Desk::new().run(&["rules", "roof"]).out;
    let at = |text: &str| out.find(text).unwrap_or_else(|| panic!("{text}: {out}"));
    assert!(at("  to be written") < at("\n  may be written") && at("\n  may be written") < at("\n  worked out, unless written"));
    assert!(at("\n  pitch ") < at("\n  live_load ") && at("\n  overhang ") < at("\n  drag "), "{out}");
    assert!(out.lines().count() < 320, "{}", out.lines().count());
    assert!(out.contains("`wallplate rules roof.NAME` has the formula and the source of each"), "{out}");
}

#[test]
fn catalogues_of_patterns_have_their_entries() {
    let desk = Desk::new();
    for (catalogue, entry) in [("racks", "rack: Steel rack, module 4, 22 mm by 22 mm"), ("wheels", "wheels: "), ("sensors", "sensor: ")] {
        let out = desk.run(&["rules", catalogue]).out;
        assert!(out.contains(entry), "{out}");
    }
}
