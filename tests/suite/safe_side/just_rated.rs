//! Ratings that cannot be, by the size of the part and by what comes on it: just believed and just not.

use super::just::{FAIL, PASS, TIGHT, findings, first};

const CHAIN: &str = include_str!("../../../examples/broken/chain_off_its_label.plate");
const ROTOR: &str = include_str!("../../../examples/broken/rotor_in_the_wrong_unit.plate");
const CRANE: &str = include_str!("../../../examples/broken/wheels_rated_for_a_crane.plate");
const NAILED: &str = include_str!("../../../examples/broken/wheels_nailed_on.plate");
const LOCK: &str = include_str!("../../../examples/broken/lock_stronger_than_its_rail.plate");
const WELDS: &str = include_str!("../../../examples/broken/weld_of_all_six_feet.plate");
const SCREWS: &str = include_str!("../../../examples/broken/screws_counted_from_the_sheet.plate");
const PULLED: &str = include_str!("../../../examples/broken/straps_that_only_pull.plate");
const PLAIN: &str = include_str!("../../../examples/broken/snow_of_the_plain.plate");
const HOUSES: &str = include_str!("../../../examples/broken/houses_that_are_not_there.plate");
const LEADS: &str = include_str!("../../../examples/broken/leads_of_one_metre.plate");
const HERON: &str = "heron_fold.plate";
const OPEN: Option<wallplate::rules::Verdict> = Some(wallplate::rules::Verdict::Undetermined);

/// Geometry: pitch / 2 = r sin(180 degrees / 9); ASME B29.1: 12500 lbf/in2 are 86.18 N/mm2, a B chain a third more: 112; a fifth of it.
#[test]
fn a_chain_fits_its_sprocket() {
    let pitch = 2.0 * 0.031 * 20_f64.to_radians().sin();
    let most = 112e6 * pitch * pitch / 5.0;
    let with = |holds: f64| CHAIN.replace("13.9 kN", &format!("{holds} N"));
    for (holds, due) in [(most - 1.0, PASS), (most + 1.0, FAIL)] {
        assert_eq!(first(&with(holds), "drive.chain_fits_its_sprocket"), due, "{holds}");
    }
    // Half of an inch breaks at 13.9 kN: a seventh of that is no news, what it breaks at round the smallest sprocket of nine teeth is.
    assert_eq!(first(&with(1986.0), "drive.chain_fits_its_sprocket"), PASS);
    assert_eq!(first(&CHAIN.replace("31 mm", "18.6 mm"), "drive.chain_fits_its_sprocket"), FAIL);
}

/// J w^2 / 2 with w = 0.1 m/s x 60 / 40 mm = 150 rad/s: 250 W in 4 ms are 1 J, or 0.889 kg cm2; a quarter of it is no motor.
#[test]
fn a_rotor_is_of_its_motor() {
    let least = 2.0 * 250.0 * 0.004 / (150.0 * 150.0) * 1e4;
    let with = |inertia: f64| ROTOR.replace("0.4 kg*cm2", &format!("{inertia} kg*cm2"));
    let rule = "drive.rotor_of_its_motor";
    for (inertia, due) in [(least * 1.01, None), (least * 0.99, TIGHT), (least * 0.26, TIGHT), (least * 0.24, FAIL)] {
        assert_eq!(first(&with(inertia), rule), due, "{inertia}");
    }
    assert_eq!(first(&with(0.01).replace("alternating_current", "direct_current"), rule), None);
}

/// W = pi d^3 / 32 = 785.4 mm3; F = 4 x 355 N/mm2 x W / 30 mm = 37.18 kN.
#[test]
fn an_axle_bears_what_its_wheel_is_rated_for() {
    let with = |load: f64| CRANE.replace("50 kN", &format!("{load} kN"));
    for (load, due) in [(37.1, PASS), (37.3, FAIL)] {
        assert_eq!(first(&with(load), "running.axle_fits_its_rating"), due, "{load}");
    }
}

#[test]
fn wheels_are_bolted_on() {
    assert_eq!(first(NAILED, "running.no_nails_at_a_wheel"), FAIL);
    assert_eq!(first(&NAILED.replace("joined        nailed", "joined        screwed"), "running.no_nails_at_a_wheel"), None);
    let rule = "structure.joint_rated_as_its_like";
    let with = |rated: &str| NAILED.replace("rated_up 14000 lbf; rated_sideways 9000 lbf", rated);
    for (rated, due) in [
        ("rated_sideways 25 kN", None),
        ("rated_sideways 25.1 kN", TIGHT),
        ("rated_up 25 kN; rated_sideways 20 kN", None),
        ("rated_up 25.1 kN; rated_sideways 20 kN", TIGHT),
    ] {
        assert_eq!(first(&with(rated), rule), due, "{rated}");
    }
}

/// A lock holds no more than the rail that it grips; where it grips the beam as well, the rail is not asked.
#[test]
fn a_lock_is_as_strong_as_its_rail() {
    let rule = "storm.rail_holds_its_lock";
    let with = |load: f64| LOCK.replace("working_load  4 kN", &format!("working_load {load} N"));
    for (load, due) in [(1349.0, PASS), (1351.0, TIGHT), (1501.0, FAIL)] {
        assert_eq!(first(&with(load), rule), due, "{load}");
    }
    assert_eq!(first(&LOCK.replace("fixed_to      west_track", "fixed_to west_track, west_plate"), rule), None);
    assert_eq!(first(&LOCK.replace("  held_sideways  1.5 kN\n", ""), rule), None);
}

/// What is told of a whole design: a point one place to the right.
#[test]
fn a_point_too_far_is_told() {
    for (changes, rule) in [
        ("ridge_strap { rated_up 36 kN }", "roofing.ridge_rated_beyond_need"),
        ("plate_strap { rated_sideways 16 kN }", "structure.ties_sideways_beyond_need"),
        ("tie_screws { rated_sideways 40 kN }", "structure.joint_rated_as_its_like"),
        ("storm_tie_e[1] { rated_up 30 kN }", "lines.in_proportion"),
        ("tie_eye { rated_up 50 kN; rated_sideways 30 kN }", "structure.joint_rated_as_its_like"),
        ("roof_battery { exponent 1 }", "lines.in_proportion"),
        ("roof_sheet { rows_apart 50 mm }", "lines.in_proportion"),
    ] {
        let found = findings(HERON, changes, rule);
        assert!(found.iter().any(|finding| Some(finding.verdict) == TIGHT), "{changes}: {rule}");
    }
    for (changes, rule) in [
        ("ridge_strap { rated_up 14 kN }", "roofing.ridge_rated_beyond_need"),
        ("plate_strap { rated_sideways 8 kN }", "structure.ties_sideways_beyond_need"),
        ("tie_screws { rated_sideways 24 kN }", "structure.joint_rated_as_its_like"),
        ("storm_tie_e[1] { rated_up 4 kN }", "lines.in_proportion"),
        ("roof_battery { exponent 1.1 }", "lines.in_proportion"),
        ("roof_battery { exponent 1; usable 80 % }", "lines.in_proportion"),
    ] {
        let found = findings(HERON, changes, rule);
        assert!(found.iter().all(|finding| Some(finding.verdict) == PASS), "{changes}: {rule}");
    }
    let told = findings(HERON, "storm_tie_e[1] { works anywhere }", "storm.hook_works_where_it_hangs");
    assert_eq!(told.first().map(|finding| finding.verdict), FAIL);
    assert!(findings(HERON, "", "storm.hook_works_where_it_hangs").is_empty());
}

/// Statics: only the rail that guides holds the open roof across. 4.20 m in spaces of 600 mm, the last joist within the edge: eight feet.
#[test]
fn rafter_feet_hold_the_wind_across() {
    let rule = "roofing.rafter_feet_hold_across";
    let storm = super::number(PULLED, "max(list(w.crosswind_open for w in main_roof.rolls_on))");
    let shut = super::number(PULLED, "main_roof.wind_shut.drag_across / 2");
    let each = storm.max(shut) / 8.0;
    let with = |holds: &str| PULLED.replace("rated_sideways  0.3 kN", holds);
    for (holds, due) in [(each / 0.9 + 0.5, PASS), (each / 0.9 - 0.5, TIGHT), (each - 0.5, FAIL)] {
        assert_eq!(first(&with(&format!("rated_sideways {holds} N")), rule), due, "{holds}");
    }
    assert_eq!(first(&with(""), rule), OPEN);
}

/// Geometry: 12 mm of plywood are crossed before the rafter; a screw that is to hold in the plywood alone is not asked.
#[test]
fn screws_cross_the_boards_below_their_sheet() {
    let rule = "roofing.screws_cross_what_is_below";
    let with = |through: f64| SCREWS.replace("through       1 mm", &format!("through {through} mm"));
    for (through, due) in [(12.0, None), (11.1, None), (10.9, FAIL)] {
        assert_eq!(first(&with(through), rule), due, "{through}");
    }
    assert_eq!(first(&SCREWS.replace("wood          145 mm", "wood 12 mm"), rule), None);
}

/// Common practice, no source: a foot of 60 by 60 mm has 250 mm of edge all round.
#[test]
fn a_weld_is_as_long_as_its_foot() {
    let with = |length: f64| WELDS.replace("weld_length     600 mm", &format!("weld_length {length} mm"));
    for rule in ["structure.clamp_weld_fits", "structure.keeper_weld_fits", "structure.lock_weld_fits"] {
        for (length, due) in [(250.0, None), (251.0, TIGHT), (600.0, TIGHT), (601.0, FAIL)] {
            assert_eq!(first(&with(length), rule), due, "{rule} {length}");
        }
    }
}

/// EN 1991-1-3:2003 Table C.1, zone 1: 0.164 - 0.082 + 920 / 966 = 1.034; 0.140 - 0.1 + 240 / 501 = 0.519 kN/m2.
#[test]
fn snow_grows_with_the_height() {
    let rule = "lines.snow_goes_with_the_height";
    let with = |load: f64| PLAIN.replace("0.7 kN/m2", &format!("{load} kN/m2"));
    for (load, due) in [(1.04, None), (1.03, TIGHT), (0.52, TIGHT), (0.51, FAIL)] {
        assert_eq!(first(&with(load), rule), due, "{load}");
    }
    let british = |load: f64| with(load).replace("longitude     13 deg", "longitude -2 deg").replace("920 m", "240 m");
    for (load, due) in [(0.52, None), (0.51, TIGHT), (0.25, FAIL)] {
        assert_eq!(first(&british(load), rule), due, "{load}");
    }
    assert_eq!(first(&PLAIN.replace("latitude      50 deg", "latitude 40 deg"), rule), None);
    assert_eq!(first(&PLAIN.replace("eurocode", "asce7").replace("terrain       open_country", "exposure exposure_c"), rule), None);
}

#[test]
fn houses_break_the_wind_where_they_stand() {
    let rule = "lines.shelter_is_seen";
    assert_eq!(first(&HOUSES.replace("suburb", "open_country"), rule), None);
    let hidden = |until: f64| HOUSES.replace("to 55 deg", &format!("to {until} deg"));
    for (until, due) in [(139.0, TIGHT), (141.0, None)] {
        assert_eq!(first(&hidden(until), rule), due, "{until}");
    }
    assert_eq!(first(&HOUSES.replace("from 20 deg; to 55 deg", "from 300 deg; to 61 deg"), rule), None);
    let (unseen, _) = HOUSES.split_once("view south").unwrap();
    assert_eq!(first(unseen, rule), None);
    assert_eq!(first(&HOUSES.replace("suburb", "town"), rule), TIGHT);
    let american = HOUSES.replace("eurocode", "asce7").replace("terrain       suburb", "exposure exposure_b");
    assert_eq!(first(&american, rule), TIGHT);
}

/// Geometry: 5.25 m - 1.84 m = 3.41 m.
#[test]
fn two_leads_meet_in_one_box() {
    let rule = "control.leads_reach_one_box";
    let with = |lead: f64| LEADS.replace("lead             1.2 m", &format!("lead {lead} m"));
    for (lead, due) in [(1.71, None), (1.70, TIGHT)] {
        assert_eq!(first(&with(lead), rule), due, "{lead}");
    }
}

/// The point of a clamp's rating: three times what fastens it is what it breaks at.
#[test]
fn a_clamp_is_not_rated_beyond_its_bolts() {
    for (load, due) in [("16 kN", PASS), ("17.5 kN", TIGHT)] {
        let found = findings(HERON, &format!("clamp_se {{ working_load {load} }}"), "lines.in_proportion");
        let told = found.iter().any(|finding| Some(finding.verdict) == TIGHT);
        assert_eq!(told, due == TIGHT, "{load}");
    }
}

const ZIP: &str = include_str!("../../../examples/broken/nails_like_a_zip.plate");
const COAST: &str = include_str!("../../../examples/broken/frost_of_another_coast.plate");
const HALF: &str = include_str!("../../../examples/broken/cable_for_half_an_ampere.plate");

/// SDPWS-2015 §4.3.7.1: at 2 in the studs are 3 in nominal; EN 1995-1-1:2004: 0.85 of ten diameters, 36 mm of a nail of 4.2 mm.
#[test]
fn nails_at_an_edge_split_no_stud() {
    let rule = "structure.edge_nails_split_nothing";
    for (spacing, stud, due) in [
        ("51 mm", "timber_47_100", None),
        ("50 mm", "timber_47_100", TIGHT),
        ("36.1 mm", "timber_47_100", TIGHT),
        ("35 mm", "timber_47_100", FAIL),
        ("37 mm", "timber_75_100", None),
        ("35 mm", "timber_75_100", FAIL),
    ] {
        let text = ZIP.replace("26 mm  #", &format!("{spacing}  #")).replace("timber_47_100", stud);
        assert_eq!(first(&text, rule), due, "{spacing} {stud}");
    }
}

/// From memory: 12 in at 47.6 degrees in Seattle, 0.45 m in Great Britain; south of 47 degrees a coast may have none.
#[test]
fn frost_goes_with_the_place() {
    for (latitude, frost, due) in
        [("-55 deg", "240 mm", TIGHT), ("47.6 deg", "12 in", None), ("47 deg", "249 mm", TIGHT), ("46.9 deg", "100 mm", None)]
    {
        let text = COAST.replace("55.2 deg", latitude).replace("100 mm", frost);
        assert_eq!(first(&text, "lines.frost_goes_with_the_place"), due, "{latitude} {frost}");
    }
}

/// Two motors on one cable take 12 A together; they need not run at once.
#[test]
fn a_cable_carries_what_its_motors_take() {
    let second = "motor flap { moves roof_drive; fed_by motor_cable; sort direct_current; voltage 24 V; current 4 A }\n";
    for (current, more, due) in
        [("8 A", "", None), ("7 A", "", FAIL), ("12 A", second, None), ("11 A", second, TIGHT), ("7 A", second, FAIL)]
    {
        let text = format!("{}{more}", HALF.replace("current       0.5 A", &format!("current {current}")));
        assert_eq!(first(&text, "power.cable_carries_its_motors"), due, "{current} {more}");
    }
}
