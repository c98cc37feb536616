//! Limits of what moves the roof, just holding and just failing: chains, gears, timers, two roofs, and what a telescope reaches.

use super::just::{FAIL, PASS, TIGHT, american, first};
use super::{EU, number, verdicts};
use std::f64::consts::PI;
use wallplate::rules::Verdict;

const OPEN: Option<Verdict> = Some(Verdict::Undetermined);
const ALONE: &str = include_str!("../../../examples/ways/by_itself.plate");
const HALVES: &str = include_str!("../../../examples/broken/halves_on_one_track.plate");

/// Statics: what pulls the roof bears the motor that is held fast, and the brake. With a rack it is its teeth that are asked.
#[test]
fn a_chain_bears_the_stalled_drive() {
    let with = |lines: &str, more: &str| {
        format!(
            "use racks\n{EU}roof r {{ mass 400 kg }}\ndrive d {{ moves r; speed 0.1 m/s; reaction_time 0.1 s; stall_force 1 kN; {lines} }}\n{more}\n"
        )
    };
    let rule = "drive.chain_stands_the_stall";
    for (lines, due) in [
        ("pinion_radius 30 mm; chain_holds 2 kN", PASS),
        ("pinion_radius 30 mm; chain_holds 1.01 kN", TIGHT),
        ("pinion_radius 30 mm; chain_holds 0.99 kN", FAIL),
        ("pinion_radius 30 mm; chain_holds 2 kN; brake_force 2.01 kN", FAIL),
        ("pinion_radius 30 mm", OPEN),
        ("", None),
    ] {
        assert_eq!(first(&with(lines, ""), rule), due, "{lines}");
    }
    assert_eq!(first(&with("", "pinion p like module_4_pinion { driven_by d; teeth 20 }"), rule), None);
}

/// Kinematics: 0.1 m/s on a sprocket of 30 mm, 60 to 1, are 1909.9 turns a minute; a third more or less is borne.
#[test]
fn motor_gear_and_pinion_give_the_speed() {
    let with = |turns: &str, gear: &str| {
        format!(
            "{EU}use wire\nsupply s {{ voltage 230 V }}\ncable c {{ from s; wire copper_2_5; length 5 m }}\nroof r {{ mass 400 kg }}\n\
             drive d {{ moves r; speed 0.1 m/s; reaction_time 0.1 s; pinion_radius 30 mm; {gear} }}\n\
             motor m {{ moves d; fed_by c; sort alternating_current; current 2 A; {turns} }}\n"
        )
    };
    let exact: f64 = 0.1 / (2.0 * PI * 0.03) * 60.0 * 60.0;
    assert!((exact - 1909.86).abs() < 0.01);
    let rule = "drive.speed_fits_its_gear";
    for (turns, due) in [(exact, PASS), (exact * 1.349, PASS), (exact * 1.351, FAIL), (exact / 1.349, PASS), (exact / 1.351, FAIL)] {
        assert_eq!(first(&with(&format!("turns {turns} rpm"), "gear_ratio 60"), rule), due, "{turns}");
    }
    // The same motor behind half of the gear.
    assert_eq!(first(&with(&format!("turns {exact} rpm"), "gear_ratio 30"), rule), FAIL);
    assert_eq!(first(&with("", "gear_ratio 60"), rule), OPEN);
    assert_eq!(first(&with("", ""), rule), None);
}

/// Geometry: 2.20 m from -0.10 m on are 2.10 m. Beside each other two roofs never meet; on one track the one that moves meets the other.
#[test]
fn two_roofs_keep_apart() {
    let rule = "space.roofs_keep_apart";
    let at = |start: &str| HALVES.replace("start         2.14 m", &format!("start         {start}"));
    for (start, due) in [("2.14 m", TIGHT), ("2.11 m", TIGHT), ("2.09 m", FAIL), ("-0.10 m", FAIL)] {
        assert_eq!(first(&at(start), rule), due, "{start}");
    }
    let beside = HALVES.replace("start         2.14 m", "right_edge    2.30 m\n  start         2.14 m");
    assert_eq!(first(&beside, rule), PASS);
    let above = HALVES.replace("start         2.14 m", "eaves_level   2.70 m\n  closed_end_bottom 2.60 m\n  start         0.50 m");
    assert_eq!(first(&above, rule), PASS, "the larger one rolls over the smaller");
    let (alone, _) = HALVES.split_once("roof front_half").unwrap();
    let (alone, _) = alone.split_once("pattern wheels front_wheels").unwrap();
    assert_eq!(first(alone, rule), None);
    // Both rest at one place when they are open: 4.50 m of way for the rear one, 2.26 m for the other.
    let short = HALVES.replace("station 8.84 m", "station 6.60 m");
    assert_eq!(first(&short, rule), FAIL);
}

/// A sensor that stops the drive of one roof says nothing to that of another.
#[test]
fn a_park_sensor_stops_the_roof_that_it_names() {
    let text = HALVES
        .replace(
            "push_handle rear_bar { of rear_half; station 1 m; offset -90 mm; level 1.1 m }",
            "drive rear { moves rear_half; speed 0.1 m/s; reaction_time 0.1 s }",
        )
        .replace(
            "push_handle front_bar { of front_half; station 3 m; offset -90 mm; level 1.1 m }",
            "drive front { moves front_half; speed 0.1 m/s; reaction_time 0.1 s }",
        );
    let with = |stops: &str| {
        format!(
            "{text}\npier p {{ station 1 m; offset 1 m; top_level 1.8 m }}\n\
             telescope t {{ stands_on p; mass 30 kg; axes_height 0.4 m; swing 0.5 m }}\npark_sensor s {{ watches t; stops {stops} }}\n"
        )
    };
    let said = |stops: &str| verdicts(&with(stops), "sky.unparked_telescope_stops_the_roof");
    let rear = said("rear");
    assert_eq!(rear.iter().map(|(verdict, _)| *verdict).collect::<Vec<_>>(), [Verdict::Pass, Verdict::Pass], "{rear:?}");
    let front = said("front");
    assert!(front.iter().any(|(verdict, told)| *verdict == Verdict::Fail && told.contains("nothing stops its drive")), "{front:?}");
}

/// By hand: from 5 to 8 m/s at 0.02 m/s2 there are 150 s; 40 s of them park the telescope.
#[test]
fn the_siren_counts_in_the_time_to_shut() {
    let after = |siren: &str| ALONE.replace("  after         20 s", &format!("  after         {siren}"));
    let rolls = number(&after("20 s"), "main_roof.slowest_time + main_roof.reaction");
    let left = 150.0 - 40.0 - rolls;
    assert!(left > 40.0 && left < 80.0, "{left}");
    let rule = "storm.shuts_in_time";
    assert_eq!(first(&after("20 s"), rule), PASS);
    assert_ne!(first(&after(&format!("{} s", left - 0.5)), rule), FAIL);
    assert_eq!(first(&after(&format!("{} s", left + 0.5)), rule), FAIL);
    // What waits for fair weather keeps nobody from shutting it.
    let calm = format!("{ALONE}\ntimer calm {{ of roof_drive; runs_while not (rain or wind); after 20 min }}\n");
    assert_eq!(first(&calm, rule), PASS);
}

/// EN ISO 14119, EN 60204-1: what guards opens its contact; where somebody holds the button the stop is seen to be met.
#[test]
fn a_limit_switch_opens_its_contact() {
    let with = |contact: &str, by: &str| {
        ALONE
            .replace("end_switch { of main_roof; contact normally_closed }", &format!("end_switch {{ of main_roof; contact {contact} }}"))
            .replace("commanded_by     by_itself", &format!("commanded_by     {by}"))
    };
    let rule = "control.limit_switch_opens";
    for (contact, by, due) in [
        ("normally_closed", "by_itself", PASS),
        ("normally_open", "by_itself", FAIL),
        ("normally_open", "remote", FAIL),
        ("normally_open", "hold_to_run", TIGHT),
        ("normally_closed", "hold_to_run", PASS),
    ] {
        assert_eq!(first(&with(contact, by), rule), due, "{contact} {by}");
    }
}

/// EN 60204-1 7.3.1, 9.1.4: where nobody is there, something else than the sensor ends the run.
#[test]
fn what_moves_by_itself_gives_up() {
    let rule = "control.alone_it_gives_up";
    assert_eq!(first(ALONE, rule), PASS);
    let without =
        ALONE.replace("limit_switch open_limit like end_switch { marks open; trips_at 3.55 m }\n", "").replace(" and not open_limit", "");
    assert_eq!(first(&without, rule), FAIL, "one end is not both");
    let gives_up = without.replace("kept_apart    by_contacts", "kept_apart    by_contacts\n  runs_at_most  90 s");
    assert_eq!(first(&gives_up, rule), PASS);
    assert_eq!(first(&without.replace("commanded_by     by_itself", "commanded_by     hold_to_run"), rule), None);
    let motor = |lines: &str| {
        format!(
            "use wire\n{without}\nsupply s {{ voltage 230 V }}\ncable c {{ from s; wire copper_2_5; length 5 m }}\n\
             motor m {{ moves roof_drive; fed_by c; sort alternating_current; current 2 A; {lines} }}\n"
        )
    };
    assert_eq!(first(&motor("overload 3 A"), rule), PASS);
    assert_eq!(first(&motor(""), rule), FAIL);
}

/// From maps: where the ground freezes two feet deep a quarter of a kilonewton of snow lies at the least; 5.2 psf are 0.249 kN/m2.
#[test]
fn deep_frost_goes_with_snow() {
    let with = |frost: &str, snow: &str| format!("{EU}site {{ frost_depth {frost} }}\nsnow {{ ground_load {snow} }}\n");
    let rule = "lines.snow_goes_with_the_frost";
    for (frost, snow, due) in
        [("0.6 m", "0.25 kN/m2", None), ("0.6 m", "0.249 kN/m2", TIGHT), ("0.599 m", "0.1 kN/m2", None), ("1 m", "0 kN/m2", TIGHT)]
    {
        assert_eq!(first(&with(frost, snow), rule), due, "{frost} {snow}");
    }
    for (snow, due) in [("5.3 psf", None), ("5.2 psf", TIGHT)] {
        assert_eq!(first(&american(&with("42 in", snow)), rule), due, "{snow}");
    }
}

/// Geometry: the rim of a tube of 160 mm that is 300 mm long in front is 310.5 mm from where the axes meet.
#[test]
fn the_swing_goes_to_the_rim_of_the_tube() {
    let with = |swing: &str, tube: &str| {
        format!(
            "{EU}pier p {{ station 1 m; offset 1 m; top_level 1 m }}\n\
             telescope t {{ stands_on p; mass 20 kg; axes_height 0.3 m; swing {swing}; front 300 mm; back 250 mm; mount_radius 200 mm; {tube} }}\n"
        )
    };
    let rule = "sky.telescope_is_within_its_swing";
    for (swing, tube, due) in
        [("310.5 mm", "tube_diameter 160 mm", PASS), ("310.4 mm", "tube_diameter 160 mm", FAIL), ("300 mm", "", OPEN), ("299 mm", "", FAIL)]
    {
        assert_eq!(first(&with(swing, tube), rule), due, "{swing} {tube}");
    }
}

/// EN 60204-1 7.5: what holds must hold when the supply fails. A gear that cannot be pushed back is left.
#[test]
fn a_brake_comes_on_when_the_power_fails() {
    let with = |lines: &str| format!("{EU}roof r {{ mass 400 kg }}\ndrive d {{ moves r; speed 0.1 m/s; reaction_time 0.1 s; {lines} }}\n");
    for (lines, due) in [
        ("brake_force 500 N; spring_set yes", PASS),
        ("brake_force 500 N; spring_set no", FAIL),
        ("brake_force 500 N; spring_set no; holding_force 400 N", TIGHT),
        ("brake_force 500 N; spring_set no; holding_force 0 N", FAIL),
        ("brake_force 500 N", OPEN),
        ("brake_force 0 N", None),
        ("holding_force 400 N", None),
    ] {
        assert_eq!(first(&with(lines), "drive.brake_needs_no_power"), due, "{lines}");
    }
}

/// Up to 60 V what a motor hangs on comes out of a converter, or out of no mains at all: which of them has to be written.
#[test]
fn a_converter_hangs_on_a_cable() {
    let with = |volts: &str, line: &str| {
        format!(
            "{EU}use wire\nsupply mains {{ voltage 230 V }}\ncable house {{ from mains; wire copper_2_5; length 20 m; current 1 A }}\n\
             supply s {{ voltage {volts}; {line} }}\ncable own {{ from s; wire flexible_6; length 4 m; current 5 A }}\n"
        )
    };
    for (volts, line, due) in [
        ("24 V", "fed_by house", &[Verdict::Pass][..]),
        ("24 V", "fed_by []", &[Verdict::Pass]),
        ("24 V", "", &[Verdict::Undetermined]),
        ("24 V", "fed_by own", &[Verdict::Fail]),
        ("60 V", "", &[Verdict::Undetermined]),
        ("61 V", "", &[]),
    ] {
        let said = verdicts(&with(volts, line), "power.converter_is_fed");
        assert_eq!(said.iter().map(|(verdict, _)| *verdict).collect::<Vec<_>>(), due, "{volts} {line}");
    }
}
