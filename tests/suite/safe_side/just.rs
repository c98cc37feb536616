//! Limits that stand in rules: just holding and just failing. The number of each is that of the source that the rule names; which
//! side of it a design is on is plain from what is written.

use super::{EU, verdicts};
use std::path::Path;
use wallplate::design::Choice;
use wallplate::rules::{Finding, Options, Verdict};
use wallplate::session::{NoShelf, Session};
use wallplate::text::Source;

const PASS: Option<Verdict> = Some(Verdict::Pass);
const TIGHT: Option<Verdict> = Some(Verdict::Tight);
const FAIL: Option<Verdict> = Some(Verdict::Fail);

/// A motor on a cable from a supply.
fn motor(supply: &str, cable: &str, motor: &str) -> String {
    format!(
        "{EU}use wire\nsupply s {{ {supply} }}\ncable c {{ from s; wire awg_14; length 5 m; {cable} }}\nroof r {{ mass 400 kg }}\n\
         drive d {{ moves r; speed 0.1 m/s; reaction_time 0.1 s }}\nmotor m {{ moves d; fed_by c; {motor} }}\n"
    )
}

/// A motor on a battery that is charged over a cable.
fn battery(charger: &str, motor: &str) -> String {
    format!(
        "{EU}use wire\nsupply s {{ voltage 120 V }}\ncable c {{ from s; wire awg_14; length 5 m; current {charger} }}\n\
         battery b {{ charge 100 Ah; voltage 12 V; charged_by c }}\ncable k {{ from b; wire awg_14; length 2 m }}\n\
         roof r {{ mass 400 kg }}\ndrive d {{ moves r; speed 0.1 m/s; reaction_time 0.1 s }}\n\
         motor m {{ moves d; fed_by k; sort direct_current; current 8 A; {motor} }}\n"
    )
}

fn first(text: &str, rule: &str) -> Option<Verdict> {
    verdicts(text, rule).first().map(|(verdict, _)| *verdict)
}

const RUNS: &str = "sort alternating_current; current 8 A";

/// IEC 60364-4-41:2005 411.3.3: 30 mA protects people; 411.1, 414: up to 50 V of alternating current are extra-low.
#[test]
fn leakage_is_cut_at_thirty_milliamperes_above_fifty_volts() {
    for (supply, due) in [
        ("voltage 50 V; earth_fault none", None),
        ("voltage 51 V; earth_fault none", FAIL),
        ("voltage 230 V; earth_fault rcd; trips_at 30 mA", PASS),
        ("voltage 230 V; earth_fault rcd; trips_at 31 mA", FAIL),
        ("voltage 230 V; earth_fault rcd", PASS),
        ("voltage 120 V; earth_fault gfci", PASS),
    ] {
        assert_eq!(first(&motor(supply, "fuse 10 A", RUNS), "power.earth_fault_protection"), due, "{supply}");
    }
}

/// IEC 60034-1:2017 7.3, from memory: 10 % off at the most, either way; 20 % is borne. A battery stands as much above its name again.
#[test]
fn a_motor_gets_its_voltage() {
    let on = |volts: &str| motor(&format!("voltage {volts}"), "fuse 10 A", &format!("{RUNS}; voltage 100 V"));
    for (volts, due) in [
        ("110 V", PASS),
        ("110.5 V", TIGHT),
        ("120 V", TIGHT),
        ("120.5 V", FAIL),
        ("90 V", PASS),
        ("89.5 V", TIGHT),
        ("80 V", TIGHT),
        ("79.5 V", FAIL),
    ] {
        assert_eq!(first(&on(volts), "power.motor_on_its_voltage"), due, "{volts}");
    }
    // 12 V stored: 12 / 10 is 20 % off, 12 / 9.9 is 21 %, 12 / 9.2 is 30.4 %.
    for (volts, due) in [("10 V", PASS), ("9.9 V", TIGHT), ("9.3 V", TIGHT), ("9.2 V", FAIL)] {
        assert_eq!(first(&battery("1 A", &format!("voltage {volts}")), "power.motor_on_its_voltage"), due, "{volts}");
    }
}

/// NEC 2020 Table 430.52, from memory: 250 % of the motor's current, and a fuse of the next size up; four times of direct current.
/// 2.5 x 8 A + 5 A = 25 A, 4 x 8 A + 5 A = 37 A; one that protects itself needs none.
#[test]
fn a_fuse_saves_its_motor() {
    for (fuse, runs, due) in [
        ("25 A", "sort alternating_current; current 8 A", None),
        ("26 A", "sort alternating_current; current 8 A", TIGHT),
        ("26 A", "sort alternating_current; current 8 A; overload 9 A", None),
        ("37 A", "sort direct_current; current 8 A", None),
        ("38 A", "sort direct_current; current 8 A", TIGHT),
    ] {
        let text = motor("voltage 120 V", &format!("fuse {fuse}"), runs);
        assert_eq!(first(&text, "power.fuse_saves_the_motor"), due, "{fuse}: {runs}");
    }
    // IEC 60269-1:2006, from memory: six times its rating open a fuse in a tenth of a second.
    for (starts, due) in [("60 A", None), ("61 A", TIGHT)] {
        let text = motor("voltage 120 V", "fuse 10 A", &format!("{RUNS}; start_current {starts}"));
        assert_eq!(first(&text, "power.fuse_lets_it_start"), due, "{starts}");
    }
}

/// IEC 60038:2009 Table 1, from memory, and 6 % about each: 480 V to 508.8 V, 100 V down to 94 V; 60 V and less are no mains.
#[test]
fn mains_have_a_voltage_of_mains() {
    for (volts, due) in
        [("60 V", None), ("61 V", TIGHT), ("508 V", PASS), ("509.5 V", TIGHT), ("94.5 V", PASS), ("93.5 V", TIGHT), ("230 V", PASS)]
    {
        assert_eq!(first(&motor(&format!("voltage {volts}"), "fuse 10 A", RUNS), "power.voltage_exists"), due, "{volts}");
    }
}

/// 100 Ah of 12 V are 1200 Wh, of which seven tenths get in: 120 V x 0.2976 A x 0.7 x 48 h.
#[test]
fn a_battery_is_full_within_two_days() {
    for (charger, due) in [("0.298 A", None), ("0.297 A", FAIL)] {
        assert_eq!(first(&battery(charger, "voltage 12 V"), "power.battery_fills_up"), due, "{charger}");
    }
}

fn changed(name: &str, changes: &str) -> Session {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(name);
    let text = format!("{}\nvariant other \"Another\" {{\n  {changes}\n}}\n", std::fs::read_to_string(file).unwrap());
    let choice = Choice { variant: Some("other".into()), ..Choice::default() };
    let session = Session::read(vec![Source::new("just.plate", text)], &NoShelf, &choice);
    assert!(session.problems().is_empty(), "{changes}: {:?}", session.problems());
    session
}

fn findings(name: &str, changes: &str, rule: &str) -> Vec<Finding> {
    changed(name, changes).check(&Options { only: Some(rule.into()), ..Options::default() })
}

/// The numbers of common practice, each just kept and just passed in a whole design.
#[test]
fn whole_designs_just_hold_and_just_fail() {
    const HERON: &str = "heron_fold.plate";
    const ALONE: &str = "ways/by_itself.plate";
    const WIND: &str = "broken/cut_wire_reads_fair.plate";
    for (name, changes, rule, due) in [
        // A clamp is a forearm long, what hangs farther than a metre a chain.
        (HERON, "clamp_se { hangs_down 1 m }", "holddown.no_clamp_on_a_long_chain", None),
        (HERON, "clamp_se { hangs_down 1.01 m }", "holddown.no_clamp_on_a_long_chain", TIGHT),
        // Half of 15 mm that the stops give way, 6 mm of it by tolerances.
        (HERON, "open_stop_w { station 8.6765 m ± 3 mm }", "travel.stops_touch_together", PASS),
        (HERON, "open_stop_w { station 8.6766 m ± 3 mm }", "travel.stops_touch_together", TIGHT),
        // Four fifths of what jams: 2 x 0.4774 x 3.1 m / 3.7 m = 0.79997.
        (HERON, "east_wheels { guide_friction 0.4774 }", "sideways.roof_does_not_jam", PASS),
        (HERON, "east_wheels { guide_friction 0.4775 }", "sideways.roof_does_not_jam", TIGHT),
        (HERON, "east_wheels { guide_friction 0.5967 }", "sideways.roof_does_not_jam", TIGHT),
        (HERON, "east_wheels { guide_friction 0.5969 }", "sideways.roof_does_not_jam", FAIL),
        // Four fifths of 5 m/s.
        (WIND, "wind { is_over_at 4 m/s }", "control.weather_lets_go_lower", PASS),
        (WIND, "wind { is_over_at 4.1 m/s }", "control.weather_lets_go_lower", FAIL),
        // EN 60204-1:2018 9.2.3.2, from memory: a warning before a start that nobody sees; 5 s.
        (ALONE, "siren { after 5 s }", "control.alone_it_warns", PASS),
        (ALONE, "siren { after 4.9 s }", "control.alone_it_warns", FAIL),
    ] {
        let found = findings(name, changes, rule);
        assert_eq!(found.first().map(|finding| finding.verdict), due, "{changes}: {found:?}");
    }
}

/// What a stop is pressed in by may use 95 % of its way, and no more: the tenth that is usually left would be too much to ask.
#[test]
fn a_stop_keeps_a_twentieth_of_its_way() {
    let (mut held, mut tight, mut failed) = (0.0_f64, f64::INFINITY, 0);
    for speed in (110..220).step_by(5) {
        let found = findings("heron_fold.plate", &format!("roof_drive {{ speed 0.{speed} m/s }}"), "travel.stop_stays_soft");
        for finding in &found {
            let share = finding.ratio.unwrap();
            match finding.verdict {
                Verdict::Pass => held = held.max(share),
                Verdict::Tight => tight = tight.min(share),
                _ => failed += usize::from(share > 1.0),
            }
        }
    }
    assert!(held <= 0.95 && held > 0.9 && tight > 0.95 && tight <= 1.0 && failed > 0, "{held} holds, {tight} is tight, {failed} fail");
}

/// Geometry: 300 mm beyond the walls and 25 mm of trims; twice as far is another drawing's.
#[test]
fn an_overhang_is_no_more_than_is_drawn() {
    let with = |overhang: &str| {
        format!(
            "{EU}slab s {{ thickness 120 mm }}\npattern wall side {{ stands_on s; runs 0 m to 3 m; thickness 100 mm }}\n\
             wall a like side {{ offset 50 mm }}\nwall b like side {{ offset 2.45 m }}\n\
             roof r {{ start -0.3 m; length 3.6 m; right_edge -0.3 m; width 3.1 m; overhang {overhang} }}\n"
        )
    };
    for (overhang, due) in [("325 mm", None), ("326 mm", TIGHT), ("625 mm", TIGHT), ("626 mm", FAIL)] {
        assert_eq!(first(&with(overhang), "structure.overhang_no_more_than_drawn"), due, "{overhang}");
    }
}

/// Common practice, no source: a post with its head is 300 mm wide at the most; over a wall a joint may lie anywhere.
#[test]
fn a_joint_of_a_rail_lies_over_a_post() {
    let with = |joint: &str| {
        format!(
            "{EU}slab s {{ thickness 120 mm }}\nwall w {{ stands_on s; runs 0 m to 2 m; offset 0 m; height 2 m }}\n\
             post p[1..2] {{ stands_on s; station 2 m + index * 2 m; offset 0 m }}\nbeam b {{ rests_on w, p; runs 0 m to 6 m; offset 0 m }}\n\
             track t {{ profile flat; runs 0 m to 6 m; offset 0 m; rests_on b; joints {joint} }}\n"
        )
    };
    for (joint, due) in [("1.1 m", None), ("3.85 m", None), ("3.84 m", TIGHT), ("4.15 m", None), ("4.16 m", TIGHT), ("5 m", TIGHT)] {
        assert_eq!(first(&with(joint), "running.joints_over_supports"), due, "{joint}");
    }
}

/// IEC 60038:2009, from memory: mains are of 100 V and of 240 V; a motor for either looks alike.
#[test]
fn a_motor_on_the_mains_says_its_voltage() {
    for (supply, more, due) in [
        ("voltage 240 V", "", Some(Verdict::Undetermined)),
        ("voltage 120 V", "", Some(Verdict::Undetermined)),
        ("voltage 240 V", "; voltage 230 V", None),
        ("voltage 48 V", "", None),
    ] {
        assert_eq!(first(&motor(supply, "fuse 10 A", &format!("{RUNS}{more}")), "power.motor_voltage_is_known"), due, "{supply}{more}");
    }
}
