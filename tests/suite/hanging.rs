//! What hangs and what bears from below: the drive beam under a roof, a base under a plate, a block that comes up through its
//! floor. Whole designs against numbers by hand.

use crate::examples;
use approx::assert_relative_eq;
use wallplate::rules::{Options, Verdict};
use wallplate::session::Session;
use wallplate::values::Value;

fn ledge() -> String {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/lapwing_ledge.plate");
    std::fs::read_to_string(path).unwrap()
}

fn with(from: &str, to: &str) -> Session {
    let text = ledge();
    assert!(text.contains(from), "{from}");
    examples::read("lapwing_ledge.plate", &text.replacen(from, to, 1))
}

fn number(session: &mut Session, expression: &str) -> f64 {
    let (_, outcome) = session.value(expression).unwrap_or_else(|problems| panic!("{expression}: {problems:?}"));
    outcome.as_ref().ok().and_then(Value::si).unwrap_or_else(|| panic!("{expression}: {outcome:?}"))
}

/// The rules that fail on a design.
fn failing(session: &Session) -> Vec<String> {
    let findings = session.check(&Options::default());
    let mut rules: Vec<String> =
        findings.iter().filter(|finding| finding.verdict == Verdict::Fail).map(|finding| finding.rule.to_string()).collect();
    rules.sort();
    rules.dedup();
    rules
}

/// Stalled with 1.6 kN, teeth of 20 degrees: 1600·tan 20° = 582.4 N press rack and beam up (statics). On hangers 1.2 m apart that
/// bends a beam of one span to F·L/4; one that goes on over four hangers bends less, and its own weight of 0.08·0.16·5 kN/m3 adds
/// little. The thrust, 190 mm below the header, tips the beam over 3.6 m: 1600·0.19/3.6 = 84.4 N in the outermost hanger, the teeth
/// and a fourth of the weight (3.78 m of 64 N/m) on top.
#[test]
fn a_drive_beam_by_hand() {
    let mut ledge = examples::read("lapwing_ledge.plate", &ledge());
    let pressed = 1600.0 * 20.0_f64.to_radians().tan();
    assert_relative_eq!(number(&mut ledge, "drive_beam.separating"), pressed, max_relative = 1e-9);
    let moment = number(&mut ledge, "drive_beam.bent.moment").abs();
    assert!(moment < pressed * 1.2 / 4.0 + 64.0 * 1.2 * 1.2 / 8.0 && moment > 0.6 * pressed * 1.2 / 4.0, "{moment}");
    let pull = 1600.0 * (0.16 + 0.03) / 3.6 + pressed + 64.0 * 3.78 / 4.0;
    assert_relative_eq!(number(&mut ledge, "drive_beam.hanger_pull"), pull, max_relative = 1e-9);
    assert_relative_eq!(number(&mut ledge, "beam_hanger.push"), 2.0 * 1600.0 / 4.0, max_relative = 1e-9);
}

/// fc,90,k of GL24h is 2.5 N/mm2 (EN 14080:2013 Table 5), outdoors kmod of a gust 0.7, γM 1.3 (EN 1995-1-1 Table 2.3, joints): 120 by
/// 40 mm bear 2.5·4800·0.7/1.3/1.5 = 4308 N in the wind.
#[test]
fn a_base_under_a_plate_by_hand() {
    let mut ledge = examples::read("lapwing_ledge.plate", &ledge());
    assert_relative_eq!(number(&mut ledge, "base_e.bearing_holds"), 2.5e6 * 0.0048 * 0.7 / 1.3 / 1.5, max_relative = 1e-9);
    // Springs side by side: 6 and 8 kN/mm.
    assert_relative_eq!(number(&mut ledge, "item(base_e.pull_shares, 2)"), 8.0 / 14.0, max_relative = 1e-9);
}

/// 900 mm of block and 40 mm of gap all round leave an opening of 980 mm; 2·0.9·0.06·150 kPa/0.04 = 405 kN/m of foam.
#[test]
fn a_block_in_its_opening_by_hand() {
    let mut ledge = examples::read("lapwing_ledge.plate", &ledge());
    assert_relative_eq!(number(&mut ledge, "main_pier.opening_along"), 0.98, max_relative = 1e-9);
    assert_relative_eq!(number(&mut ledge, "block_foam.stiffness"), 405e3, max_relative = 1e-9);
    assert_relative_eq!(number(&mut ledge, "floor.cut_out"), 0.98 * 0.98, max_relative = 1e-9);
}

/// Each slip is told by the rule that is about it, and the sound design is not.
#[test]
fn what_hangs_or_bears_wrong_is_told() {
    assert_eq!(failing(&examples::read("lapwing_ledge.plate", &ledge())), Vec::<String>::new());
    for (from, to, rule) in [
        ("level         2.35 m\n", "level         2.53 m\n", "drive.beam_is_under_the_roof"),
        ("level         2.35 m\n", "level         2.05 m\n", "drive.beam_is_under_the_roof"),
        ("level         2.35 m\n", "level         2.30 m\n", "drive.pinion_reaches_up"),
        ("hung_at       0.00 m, 1.20 m, 2.40 m, 3.60 m", "hung_at       0.00 m, 1.20 m, 2.40 m, 4.60 m", "drive.beam_hangs"),
        ("gap_around    block", "gap_around    column", "piers.gap_is_around_what_comes_up"),
        ("modulus       150 kPa", "modulus       15 MPa", "piers.infill_is_soft"),
        ("base          120 mm by 40 mm", "base          20 mm by 10 mm", "holddown.wood_over_the_base"),
        (
            "rated_up        5 kN\n  rated_sideways  3 kN\n}\n# Four",
            "rated_up        0.5 kN\n  rated_sideways  0.3 kN\n}\n# Four",
            "structure.joint_strength",
        ),
    ] {
        let told = failing(&with(from, to));
        assert!(told.contains(&rule.to_owned()), "{to}: {told:?}");
    }
}

/// A door of 0.90 m stands between its own studs, with a head over it: none of the studs that would stand there otherwise is left, and
/// it is told where the door's sides are.
#[test]
fn no_stud_stands_in_a_door() {
    let mut ledge = examples::read("lapwing_ledge.plate", &ledge());
    let count = number(&mut ledge, "count(s for s in south_wall.stud_places where s > 1.10 m - 150 mm and s < 2.00 m + 75 mm)");
    assert_relative_eq!(count, 0.0);
    assert_relative_eq!(number(&mut ledge, "length_of(south_wall.stud_places)"), 4.0);
    assert_relative_eq!(number(&mut ledge, "length_of(south_wall.frame_places)"), 6.0);
}
