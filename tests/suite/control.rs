//! The control, explored: each interlock that is taken out of a sound control shows in a story, each story that needs a
//! fault has it, and what the program prints of it.

use crate::examples::read;
use std::path::Path;
use std::process::Command;
use wallplate::rules::{Finding, Options, Verdict};

fn example(name: &str) -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(name)).unwrap()
}

/// The findings of the control.
fn told(text: &str) -> Vec<Finding> {
    let session = read("control.plate", text);
    assert_eq!(session.problems(), Vec::new());
    session.check(&Options { only: Some("control".into()), ..Options::default() })
}

/// The rules that fail, each with what is said.
fn failing(text: &str) -> Vec<(String, String)> {
    let failing = told(text).into_iter().filter(|finding| finding.verdict == Verdict::Fail);
    failing.map(|finding| (finding.rule.to_string(), finding.message)).collect()
}

fn with(text: &str, from: &str, to: &str) -> String {
    assert!(text.contains(from), "{from}");
    text.replacen(from, to, 1)
}

#[test]
fn each_interlock_that_is_taken_out_shows_in_a_story() {
    for (example_name, interlocks) in [
        (
            "heron_fold.plate",
            &[
                ("open_button and not open_sensor", "open_button", "control.stops_at_its_ends", "it is at open_stop"),
                ("close_button and not closed_sensor", "close_button", "control.stops_at_its_ends", "it is at closed_stop"),
                (
                    "open_button and not open_sensor and refractor_parked",
                    "open_button and not open_sensor",
                    "control.telescopes_are_down",
                    "refractor is turned to the sky",
                ),
                (
                    "close_button and not closed_sensor and refractor_parked and reflector_parked",
                    "close_button and not closed_sensor and refractor_parked",
                    "control.telescopes_are_down",
                    "reflector is turned to the sky",
                ),
                ("  stops_on      stop_button\n", "", "control.emergency_stop_stops", "you strike stop_button"),
                ("kept_apart    by_contacts", "kept_apart    in_program ", "control.one_way_at_a_time", "welds shut"),
                ("kept_apart    by_contacts", "kept_apart    not_at_all ", "control.one_way_at_a_time", "you press close_button"),
                (
                    "contact             normally_closed",
                    "contact             normally_open",
                    "control.stops_at_its_ends",
                    "the wire of open_sensor breaks",
                ),
                ("kept_without_power  yes", "kept_without_power  no", "control.stops_at_its_ends", "the power fails"),
                ("forgets_when        seen_again", "forgets_when        told_back", "control.stops_at_its_ends", "you press open_button"),
                (
                    "plunger { stops roof_drive; contact normally_open }",
                    "plunger { stops roof_drive; contact normally_closed }",
                    "control.telescopes_are_down",
                    "the wire of refractor_parked breaks",
                ),
                (
                    "button held_button { springs_back yes;",
                    "button held_button { springs_back no;",
                    "control.waits_after_power",
                    "the power comes back",
                ),
                ("sideways      2.5 kN", "sideways      1.5 kN", "control.clamps_are_open", "you press open_button"),
            ][..],
        ),
        (
            "sorrel_kettle.plate",
            &[
                ("open_button and not open_sensor", "open_button", "control.stops_at_its_ends", "it is at open_stop"),
                ("closed_sensor and newtonian_parked", "closed_sensor", "control.telescopes_are_down", "newtonian is turned to the sky"),
                ("kept_apart    mechanically", "kept_apart    in_program", "control.one_way_at_a_time", "welds shut"),
                ("strip         3 in", "strip         0 in", "control.stops_at_its_ends", "you press"),
            ][..],
        ),
    ] {
        let sound = example(example_name);
        assert_eq!(failing(&sound), Vec::new(), "{example_name} holds");
        for (from, to, rule, story) in interlocks {
            let found = failing(&with(&sound, from, to));
            assert!(found.iter().any(|(known, said)| known == rule && said.contains(story)), "{from}: {found:?}");
        }
    }
}

/// A control that one fault breaks keeps its promise while no fault is asked about, and breaks it by that one.
#[test]
fn a_fault_that_a_story_needs_makes_it_appear() {
    let text = example("broken/sensor_that_opens_no_circuit.plate");
    let mut session = read("control.plate", &text);
    let mut says = |expression: &str| {
        let (_, outcome) = session.value(expression).unwrap();
        session.evaluator.show_value(&outcome.unwrap())
    };
    let without = "told(explored(machine roof_control.machine, promises never(\"it\", roof_control.opens and is(roof_control.ready, \"ready\") and \
                   within(roof_drive.course, from 3.65 m))), \"it\")";
    assert_eq!(says(&format!("{without}.kept")), "yes");
    let with_it = without.replace("from 3.65 m))", "from 3.65 m), despite [\"cut wire\"])");
    assert_eq!(says(&format!("{with_it}.kept")), "no");
    assert_eq!(says(&format!("{with_it}.fault")), "the wire of open_sensor breaks");
}

/// What is not written is not known: nothing is promised of a sensor of which nobody says how it is wired.
#[test]
fn what_is_not_written_is_not_promised() {
    let text = with(
        &example("heron_fold.plate"),
        "  contact             normally_closed  # opens when it trips: a broken wire stops the roof too\n",
        "",
    );
    let open: Vec<Finding> = told(&text).into_iter().filter(|finding| finding.verdict != Verdict::Undetermined).collect();
    assert!(open.is_empty(), "{open:?}");
    let names = |finding: &Finding| finding.missing.iter().any(|line| line.property == "contact");
    assert!(told(&text).iter().all(names));
}

/// A story keeps to the times of the design: the timer is longer than the way, and the last step comes when the roof can be there.
#[test]
fn a_story_keeps_to_the_clock() {
    let text = example("broken/timer_in_place_of_a_sensor.plate");
    // 3.46 m at 90 mm/s, a fifth faster at most.
    let least = 3.46 / (0.090 * 1.2);
    let found = failing(&text);
    let [(rule, said)] = found.as_slice() else { panic!("{found:?}") };
    assert_eq!(rule, "control.stops_at_its_ends");
    assert!(said.contains(&format!("(after {least:.0} s)")), "{said}");
    // Run out before the roof can be there, that story is none; that another is, by pressing twice, the search does not
    // find, and it says so: never a pass.
    let short = with(&text, "after 50 s", "after 20 s");
    assert_eq!(failing(&short), Vec::new());
    let open: Vec<Finding> = told(&short).into_iter().filter(|finding| finding.verdict == Verdict::Undetermined).collect();
    assert!(matches!(open.as_slice(), [finding] if finding.rule == "control.stops_at_its_ends"), "{open:?}");
}

#[test]
fn the_program_tells_zones_promises_and_stories() {
    let run = |name: &str| {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(name);
        let done = Command::new(env!("CARGO_BIN_EXE_wallplate")).env("NO_COLOR", "1").args(["control"]).arg(path).output().unwrap();
        String::from_utf8(done.stdout).unwrap()
    };
    let sound = run("sorrel_kettle.plate");
    assert!(sound.contains("kept: never pushes on a stop") && !sound.contains("BROKEN"), "{sound}");
    assert!(sound.contains("the wire of open_sensor breaks: breaks can be opened"), "{sound}");
    let broken = run("broken/tap_open_tap_close.plate");
    for line in [
        "BROKEN: never pushes on a stop",
        "  1. you press open_button: the opening contactor pulls in",
        "  3. you press close_button: the closing contactor pulls in",
        "  4. the roof rolls on: it is at closed_stop",
    ] {
        assert!(broken.contains(line), "{line}: {broken}");
    }
}
