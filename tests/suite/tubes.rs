//! Bolts right through steel tubes, and what follows the joint that is written: whole designs against numbers by hand.

use crate::examples;
use approx::assert_relative_eq;
use wallplate::design::Choice;
use wallplate::rules::Options;
use wallplate::session::{NoShelf, Session};
use wallplate::text::Source;
use wallplate::values::Value;

const POUND: f64 = 4.448_221_615_260_5;

fn bench() -> String {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/tamarack_bench.plate");
    std::fs::read_to_string(path).unwrap()
}

fn number(session: &mut Session, expression: &str) -> f64 {
    let (_, outcome) = session.value(expression).unwrap_or_else(|problems| panic!("{expression}: {problems:?}"));
    outcome.as_ref().ok().and_then(Value::si).unwrap_or_else(|| panic!("{expression}: {outcome:?}"))
}

fn nobody_speaks_of(session: &Session) -> Vec<String> {
    let findings = session.check(&Options::default());
    findings
        .iter()
        .filter(|finding| finding.rule == "lines.spoken_of")
        .flat_map(|finding| finding.subjects.iter().map(ToString::to_string))
        .collect()
}

/// AISC 360-16 Table J3.2: a ½ in bolt of A307 steel, 60 ksi, threads in the plane: 0.45·60·0.1963/2 = 2651 lb in shear, and its wall
/// of 0.233 in and 50 ksi bears 5243 lb (eq. J7-1). §J2.4: 4 in of 3/16 in fillet, E70: 0.6·70·0.1326·4/2 = 11 137 lb, the plate beside
/// it more.
#[test]
fn a_motor_plate_holds_what_its_joint_holds() {
    let text = bench();
    let mut bolted = examples::read("tamarack_bench.plate", &text);
    assert_relative_eq!(number(&mut bolted, "gear_plate.row_tension") / POUND, 2651.0, max_relative = 5e-4);
    assert_relative_eq!(number(&mut bolted, "gear_plate.shear") / POUND, 2.0 * 2651.0, max_relative = 5e-4);
    assert_relative_eq!(number(&mut bolted, "plate_bolts.in_tube.wall_pushed") / POUND, 5243.0, max_relative = 5e-4);
    let choice = Choice { variant: Some("welded_plate".into()), ..Choice::default() };
    let mut welded = Session::read(vec![Source::new("tamarack_bench.plate", text)], &NoShelf, &choice);
    assert_relative_eq!(number(&mut welded, "gear_plate.row_tension") / POUND, 11_137.0, max_relative = 5e-4);
}

/// What only another variant names is not forgotten; what none names is.
#[test]
fn a_joint_of_another_variant_is_spoken_of() {
    let text = bench();
    assert_eq!(nobody_speaks_of(&examples::read("tamarack_bench.plate", &text)), Vec::<String>::new());
    let choice = Choice { variant: Some("welded_plate".into()), ..Choice::default() };
    let welded = Session::read(vec![Source::new("tamarack_bench.plate", text.clone())], &NoShelf, &choice);
    assert_eq!(nobody_speaks_of(&welded), Vec::<String>::new());
    let without = text.split("variant welded_plate").next().unwrap();
    assert_eq!(nobody_speaks_of(&examples::read("tamarack_bench.plate", without)), ["plate_welds"]);
}

/// AISC 360-10 eq. K2-7 by hand: a washer of 1-3/8 in is a square of 1.2185 in, β 0.3046 of a wall of 4 in; of 0.116 in, 50 ksi:
/// 50·0.116²·(2·0.3046/0.6954 + 4/√0.6954)/1.5 = 2544 lb, less than the bolt's 4418 lb. Of 0.174 in the bolt comes first.
/// From the side a pull pushes the bolt: 2651 lb.
#[test]
fn a_thin_wall_gives_before_the_bolt() {
    let design = |tube: &str, way: &str| {
        let text = format!(
            "use steel\nuse fasteners\nobservatory reed {{ rolls_open east; design_code asce7 }}\n\
             joint eye {{ joined bolted; fastener bolt_1_2; through 0 in; tube {tube}; tube_grade a500_c; sleeved yes; from_the_side {way} }}\n"
        );
        number(&mut examples::read("reed.plate", &text), "eye.holds_up") / POUND
    };
    assert_relative_eq!(design("hss_4x4x1_8", "no"), 2544.0, max_relative = 1e-3);
    assert_relative_eq!(design("hss_4x4x3_16", "no"), 4418.0, max_relative = 1e-3);
    assert_relative_eq!(design("hss_4x4x3_16", "yes"), 2651.0, max_relative = 5e-4);
}
