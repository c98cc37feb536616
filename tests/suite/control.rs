//! The control, explored: each interlock that is taken out of a sound control shows in a story, each story that needs a
//! fault has it, and what the program prints of it.

use crate::examples::read;
use std::path::Path;
use std::process::Command;
use wallplate::papers::accounts;
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
    failing_in(told(text))
}

fn failing_in(found: Vec<Finding>) -> Vec<(String, String)> {
    let failing = found.into_iter().filter(|finding| finding.verdict == Verdict::Fail);
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
                    "plunger { stops roof_drive; contact normally_open;",
                    "plunger { stops roof_drive; contact normally_closed;",
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
        (
            "ways/held_in_view.plate",
            &[
                ("  in_reach      button_plug\n", "", "control.clamps_are_open", "you press open_button"),
                ("held_by clamp_sw, clamp_ne", "held_by clamp_ne", "control.clamps_are_open", "you open clamp_ne"),
                ("springs_back  yes", "springs_back  no", "control.waits_after_power", "you switch open_button on"),
            ][..],
        ),
        (
            "ways/tapped.plate",
            &[
                ("open_sensor or opening_edge", "open_sensor", "control.stays_when_they_step_back", "steps back"),
                (
                    "contact normally_closed; end_resistor yes",
                    "contact normally_open; end_resistor no",
                    "control.stops_for_people",
                    "in the way of the closing roof",
                ),
                (" or\n                not (sw_switch and ne_switch)", "", "control.hands_off_the_clamps", "you open clamp"),
                ("stop_button or open_sensor", "open_sensor", "control.stop_turned_out", "you turn stop_button out again"),
                ("(opening_latch or back_open)", "opening_latch", "control.runs_back_off_them", "in the way of the closing roof"),
                ("(closing_latch or back_shut)", "closing_latch", "control.runs_back_off_them", "in the way of the opening roof"),
                (
                    "closing_edge and closing_latch",
                    "closing_edge and closing_latch and open_sensor",
                    "control.runs_back_off_them",
                    "in the way of the closing roof",
                ),
            ][..],
        ),
        (
            "ways/from_the_house.plate",
            &[
                ("open_order and not stopped", "open_order", "control.stays_stopped", "open_order arrives, late"),
                ("after_power   works_on", "after_power   keeps", "control.stays_stopped", "the power fails"),
            ][..],
        ),
        ("ways/by_itself.plate", &[("close_order or siren", "close_order", "control.shuts_by_itself", "comes up")][..]),
    ] {
        let sound = example(example_name);
        assert_eq!(failing(&sound), Vec::new(), "{example_name} holds");
        for (from, to, rule, story) in interlocks {
            let found = failing(&with(&sound, from, to));
            assert!(found.iter().any(|(known, said)| known == rule && said.contains(story)), "{from}: {found:?}");
        }
    }
}

/// Somebody who holds a button, a tap, a computer in the house, a computer alone: nothing of what moves them is open.
#[test]
fn the_four_ways_of_control_hold() {
    for (name, by) in [("held_in_view", "hold_to_run"), ("tapped", "push_button"), ("from_the_house", "remote"), ("by_itself", "by_itself")]
    {
        let mut session = read(name, &example(&format!("ways/{name}.plate")));
        assert_eq!(session.problems(), Vec::new());
        for area in ["control", "travel"] {
            let found = session.check(&Options { only: Some(area.into()), ..Options::default() });
            assert!(found.len() > 12, "{name} is hardly checked");
            let open: Vec<_> = found.iter().filter(|finding| finding.verdict != Verdict::Pass).map(|finding| &finding.message).collect();
            assert!(open.is_empty(), "{name}: {open:?}");
        }
        let (_, outcome) = session.value("roof_drive.commanded_by").unwrap();
        assert_eq!(session.evaluator.show_value(&outcome.unwrap()), by);
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

/// Each broken control is a mistake that people make; its story has these steps, in this order, whatever else there is.
const STORIES: [(&str, &str, &[&str]); 42] = [
    ("both_buttons_pressed", "control.one_way_at_a_time", &["you press open_button", "you press close_button"]),
    ("button_past_the_sensor", "control.stops_at_its_ends", &["you press close_button", "it is at closed_stop"]),
    ("button_that_opens_its_circuit", "control.only_while_held", &["the wire of open_button breaks", "the opening contactor pulls in"]),
    ("caught_and_held", "control.runs_back_off_them", &["the closing contactor pulls in", "in the way of the closing roof", "drops out"]),
    ("clamp_left_to_memory", "control.clamps_are_open", &["you press open_button", "the opening contactor pulls in"]),
    ("clamp_switch_on_the_near_side", "control.clamps_are_open", &["you open clamp_sw", "the opening contactor pulls in"]),
    ("clamp_switch_that_opens", "control.clamps_are_open", &["the wire of sw_switch breaks", "the opening contactor pulls in"]),
    ("computer_that_tries_again", "control.stays_stopped", &["you strike stop_button", "sends open_order again"]),
    ("edge_of_one_end", "control.stops_for_people", &["you press open_button", "in the way of the opening roof"]),
    ("edge_on_a_broken_wire", "control.stops_for_people", &["breaks", "in the way of the"]),
    ("edge_that_only_interrupts", "control.stays_when_they_step_back", &["stands in the way", "steps back", "contactor pulls in"]),
    ("fair_again_and_open", "control.fair_weather", &["rain comes up", "rain is over", "the opening contactor pulls in"]),
    ("fault_lamp_that_nobody_resets", "control.can_be_shut", &["you press open_button", "you press close_button", "locked holds"]),
    ("held_by_a_latch", "control.only_while_held", &["opening_latch holds", "you let go of open_button"]),
    ("kept_apart_by_the_program", "control.one_way_at_a_time", &["the opening contactor welds shut", "the closing contactor pulls in"]),
    ("latch_that_outlives_the_power", "control.waits_after_power", &["the power fails", "the power comes back", "contactor pulls in"]),
    ("limit_switch_in_front_of_its_sensor", "control.can_be_opened", &["never opens"]),
    ("order_that_comes_late", "control.stays_stopped", &["sends open_order", "you strike stop_button", "open_order arrives, late"]),
    ("order_that_stands", "control.stop_turned_out", &["sends open_order", "you turn stop_button out again", "contactor pulls in"]),
    ("park_switch_of_one_telescope", "control.telescopes_are_down", &["you press open_button", "reflector is turned to the sky"]),
    ("park_switch_that_opens", "control.telescopes_are_down", &["the wire of refractor_parked breaks", "refractor is turned to the sky"]),
    ("parked_is_asked_on_closing_only", "control.telescopes_are_down", &["the opening contactor pulls in", "is turned to the sky"]),
    ("plug_on_one_clamp", "control.clamps_are_open", &["you open clamp_sw", "you press open_button", "the opening contactor pulls in"]),
    ("rain_sets_it_off", "control.alone_the_weather_waits", &["rain comes up", "the closing contactor pulls in"]),
    ("rain_shuts_whatever_is_up", "control.telescopes_are_down", &["rain comes up", "is turned to the sky"]),
    ("rain_that_only_the_computer_hears", "control.shuts_by_itself", &["sends open_order", "rain comes up"]),
    ("relay_that_buzzes", "control.comes_to_rest", &["for ever", "you press open_button"]),
    ("relay_that_drops_out", "control.stops_at_its_ends", &["the power fails", "the power comes back", "it is at closed_stop"]),
    ("sensor_that_opens_no_circuit", "control.stops_at_its_ends", &["the wire of open_sensor breaks", "it is at open_stop"]),
    ("sensors_swapped", "control.stops_at_its_ends", &["you press close_button", "it is at closed_stop"]),
    ("shuts_from_open_only", "control.can_be_shut", &["you press open_button", "between closed_sensor and open_sensor"]),
    ("start_without_a_stop", "control.can_be_stopped", &["you press open_button", "opening_latch holds"]),
    ("stop_of_one_direction", "control.emergency_stop_stops", &["you press open_button", "you strike stop_button"]),
    ("stop_that_closes_a_circuit", "control.emergency_stop_stops", &["you strike stop_button", "the wire of stop_button breaks"]),
    ("stop_that_forgets_nothing", "control.stop_turned_out", &["you strike stop_button", "you turn stop_button out again", "pulls in"]),
    ("switch_that_nobody_asks", "control.everything_is_asked", &["nothing asks", "sw_switch"]),
    ("tap_open_tap_close", "control.stops_at_its_ends", &["you press open_button", "you press close_button", "it is at closed_stop"]),
    ("tapped_before_the_clamps", "control.hands_off_the_clamps", &["opening_latch holds", "you open clamp_ne", "contactor pulls in"]),
    ("timer_in_place_of_a_sensor", "control.stops_at_its_ends", &["opening_latch holds", "it is at open_stop (after"]),
    ("toggle_switch", "control.waits_after_power", &["you switch open_button on", "the power fails", "the power comes back"]),
    ("two_sensors_that_have_to_agree", "control.stops_at_its_ends", &["the wire of", "breaks", "it is at open_stop"]),
    ("wind_that_flutters", "control.weather_lets_go_lower", &["lets go at", "6 m/s"]),
];

#[test]
fn each_broken_control_tells_its_story() {
    for (name, rule, steps) in STORIES {
        let session = read("control.plate", &example(&format!("broken/{name}.plate")));
        let found = failing_in(session.check(&Options { only: Some(rule.into()), ..Options::default() }));
        let [(_, said)] = found.as_slice() else { panic!("{name}: {found:?}") };
        let mut left = said.as_str();
        for step in steps {
            let Some(at) = left.find(step) else { panic!("{name}: `{step}` comes not, or not in its turn: {said}") };
            left = &left[at + step.len()..];
        }
    }
}

/// What is not written is not known: nothing is promised of a sensor of which nobody says how it is wired.
#[test]
fn what_is_not_written_is_not_promised() {
    let text = with(
        &example("heron_fold.plate"),
        "  contact             normally_closed  # opens when it trips: a broken wire stops the roof too\n",
        "",
    );
    // Whether the stop stands in `stops_on` is read there, and promised by no story.
    let told: Vec<Finding> = told(&text).into_iter().filter(|finding| finding.rule != "control.stop_drops_its_contactor").collect();
    assert!(told.iter().all(|finding| finding.verdict == Verdict::Undetermined), "{told:?}");
    assert!(told.iter().all(|finding| finding.missing.iter().any(|line| line.property == "contact")), "{told:?}");
}

/// A story keeps to the times of the design: the timer is longer than the way, and the last step comes when the roof can be there.
#[test]
fn a_story_keeps_to_the_clock() {
    let text = example("broken/timer_in_place_of_a_sensor.plate");
    // 3.46 m at 90 mm/s, a fifth faster at most.
    let least = 3.46 / (0.090 * 1.2);
    // The sensor that the timer takes the place of is wired to nothing, and that is said as well.
    let found = failing(&text);
    let ends = found.iter().find(|(rule, _)| rule == "control.stops_at_its_ends");
    let Some((_, said)) = ends else { panic!("{found:?}") };
    assert!(said.contains(&format!("(after {least:.0} s)")), "{said}");
    // Run out before the roof can be there, that story is none; that another is, by pressing twice, the search does not
    // find, and it says so: never a pass.
    let short = with(&text, "after 50 s", "after 20 s");
    assert!(failing(&short).iter().all(|(rule, _)| rule == "control.everything_is_asked"));
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

/// What the next step needs is found by exploring: what is asked already is kept, what is missing is named with its story.
#[test]
fn what_the_next_step_needs_is_tried() {
    let told = |text: &str| {
        let mut session = read("control.plate", text);
        let papers = session.papers();
        let accounts = accounts::of(&session, &papers, &[]);
        let next = accounts.parts.into_iter().find(|part| part.heading.starts_with("What the next step needs")).unwrap();
        next.lines.iter().map(ToString::to_string).collect::<Vec<_>>()
    };
    let held = example("ways/held_in_view.plate");
    let says = |lines: &[String], beginning: &str, has: &str| {
        assert!(lines.iter().any(|line| line.starts_with(beginning) && line.contains(has)), "{beginning}…{has}: {lines:#?}");
    };
    says(&told(&held), "breaks: pushes nobody", "Tried, this keeps it: a safety edge for each way");
    let guarded = with(
        &with(
            &with(&held, "opens_while   open_button", "opens_while   open_button and not back"),
            "close_button and",
            "close_button and not front and",
        ),
        "trapped_key",
        "safety_edge front { of main_roof; end closed; contact normally_closed }\nsafety_edge back { of main_roof; end open; contact normally_closed }\n\
         trapped_key",
    );
    says(&told(&guarded), "kept: pushes nobody", "");
    let unparked = held.replace(" and newtonian_parked", "");
    says(&told(&unparked), "breaks: never rolls over a telescope", "this keeps it: a park switch of each telescope");
    let unstopped = with(&held, "  stops_on      stop_button\n", "");
    says(&told(&unstopped), "breaks: whoever is there can stop it", "keeps it: an emergency stop");
    let tapped = told(&example("ways/tapped.plate"));
    says(&tapped, "breaks: can be opened, nobody there", "this keeps it: clamps that a motor opens");
    says(&tapped, "breaks: moves only while its computer is heard", "this keeps it: a watchdog");
}

/// Signal cables are as long as along and across, and as leads are longer than that; where no place is written they are not known.
#[test]
fn signal_cables_have_the_length_of_their_way() {
    let text = example("ways/held_in_view.plate");
    let metres = |text: &str, of: &str| {
        let mut session = read("control.plate", text);
        let (_, outcome) = session.value(&format!("{of}.lead")).unwrap();
        outcome.ok().and_then(|value| value.si())
    };
    // From 0.30 m and 2.60 m: 4.95 m along to the sensor, 2.63 m across, 3 m more; 1.30 m and 1.15 m to the telescope.
    assert!((metres(&text, "open_sensor").unwrap() - 10.58).abs() < 1e-9);
    assert!((metres(&text, "newtonian_parked").unwrap() - 5.45).abs() < 1e-9);
    assert_eq!(metres(&with(&text, "  offset        2.60 m\n", ""), "open_sensor"), None);
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/ways/tapped.plate");
    let done = Command::new(env!("CARGO_BIN_EXE_wallplate")).env("NO_COLOR", "1").arg("takeoff").arg(path).output().unwrap();
    let takeoff = String::from_utf8(done.stdout).unwrap();
    assert!(takeoff.contains("not known") && takeoff.contains("Signal cable (open_button"), "{takeoff}");
}

/// The circuit sheet of a whole design: each coil, each terminal, and a relay for what two circuits ask.
#[test]
fn the_circuit_is_drawn_and_listed() {
    let desk = tempfile::tempdir().unwrap();
    let folder = desk.path();
    let run = |arguments: &[&str]| {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/heron_fold.plate");
        let done = Command::new(env!("CARGO_BIN_EXE_wallplate")).env("NO_COLOR", "1").args(arguments).arg(path).output().unwrap();
        String::from_utf8(done.stdout).unwrap()
    };
    run(&["draw", "--sheet", "circuit_roof_control", "--replace", "--into", &folder.to_string_lossy()]);
    let sheet = std::fs::read_to_string(folder.join("circuit_roof_control.svg")).unwrap();
    for words in ["open button", "X1: 9, 10", "R1", "refractor parked", "K0", "feeds the motor", "A1, A2", "406"] {
        assert!(sheet.contains(words), "{words}");
    }
    let told = run(&["control"]);
    for line in
        ["X1: 7 to wire 1, X1: 8 to wire 401: open_button, open at rest", "X1: 9 to wire 401, X1: 10 to wire 402: open_sensor, closed"]
    {
        assert!(told.contains(line), "{line}: {told}");
    }
}

/// Behind a sensor that has lost its magnet stands the limit switch: only both faults together drive the roof into its stop.
#[test]
fn two_faults_break_what_neither_breaks_alone() {
    let mut session = read("control.plate", &example("ways/held_in_view.plate"));
    let promise = "promises never(\"it\", roof_control.opens and within(roof_drive.course, from 3.65 m))";
    let mut says = |formula: &str| {
        let (_, outcome) = session.value(&format!("{formula}(machine roof_control.machine, {promise})")).unwrap();
        session.evaluator.show_value(&outcome.unwrap())
    };
    let alone = says("each_fault");
    let both = says("each_pair");
    for fault in ["open_sensor has lost its magnet", "the wire of open_limit is pinched, its cores touch"] {
        assert!(alone.contains(&format!("{fault}; breaks none")), "{alone}");
        assert!(both.contains(fault), "{both}");
    }
    assert!(!both.contains("close_button"), "a pair that breaks nothing more is not told: {both}");
}
