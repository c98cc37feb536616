//! Ratings that cannot be, by the size of the part and by what comes on it: just believed and just not.

use super::just::{FAIL, PASS, TIGHT, findings, first};

const CHAIN: &str = include_str!("../../../examples/broken/chain_off_its_label.plate");
const ROTOR: &str = include_str!("../../../examples/broken/rotor_in_the_wrong_unit.plate");
const CRANE: &str = include_str!("../../../examples/broken/wheels_rated_for_a_crane.plate");
const NAILED: &str = include_str!("../../../examples/broken/wheels_nailed_on.plate");
const LOCK: &str = include_str!("../../../examples/broken/lock_stronger_than_its_rail.plate");
const HERON: &str = "heron_fold.plate";

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
