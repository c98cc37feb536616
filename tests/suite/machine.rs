//! What moves and what it can do to somebody: rolling friction at both its ends, a drive that is let go, a person on a rafter,
//! the blow of an edge, the wind from the side. Designs as one writes them, against statics by hand and printed limits.

use approx::assert_relative_eq;
use wallplate::design::Choice;
use wallplate::rules::{Finding, Options, Verdict};
use wallplate::session::{NoShelf, Session};
use wallplate::text::Source;

/// Standard acceleration of free fall (ISO 80000-3).
const G: f64 = 9.806_65;
const POUND: f64 = 4.448_221_615_260_5;
/// Rolling resistance by hand: (2 x 0.5 mm + 0.005 x 20 mm) / 100 mm + 0.003.
const ROLLING: f64 = 0.014;
/// The least of what the coefficients say, as the vocabulary assumes it.
const LEAST: f64 = 0.4;

/// 800 kg on four wheels, a level vee track that guides and a flat one; `{…}` is what a test is about.
fn text(roof: &str, drive: &str, rest: &str) -> String {
    format!(
        "observatory o {{ rolls_open south; design_code eurocode }}
site {{ wind_speed 24 m/s; operating_wind 9 m/s; terrain open_country }}
slab floor {{ thickness 120 mm }}
wall left_wall {{ stands_on floor; height 1.9 m; runs 0 m to 10 m }}
pattern track rail {{ runs 0 m to 10 m; level 2 m; rests_on left_wall }}
track guide like rail {{ profile vee; offset 0 m }}
track plain like rail {{ profile flat; offset 3 m; tread_width 80 mm }}
pattern wheels wheel_set {{ stations 0.5 m, 3.5 m; diameter 100 mm; axle_diameter 20 mm; rated_load 20 kN }}
wheels guided like wheel_set {{ runs_on guide }}
wheels free like wheel_set {{ runs_on plain }}
roof r {{ shape flat; length 4 m; width 3 m; start 0 m; right_edge 0 m; eaves_level 2.1 m; enclosure enclosed; mass 800 kg
  rolls_on guided, free; gauge_spacers []; {roof} }}
drive d {{ moves r; speed 0.1 m/s; reaction_time 0.2 s; {drive} }}
magnet m {{ fixed_to r; station 2 m }}
sensor open_sensor {{ marks open; watches m; station 6 m; operates_within 12 mm; gap 6 mm }}
sensor closed_sensor {{ marks closed; watches m; station 2 m; operates_within 12 mm; gap 6 mm }}
stop open_stop {{ end open; stops r; fixed_to left_wall; station 8.2 m; meets 4 m }}
stop closed_stop {{ end closed; stops r; fixed_to left_wall; station -0.2 m; meets 0 m }}
{rest}
"
    )
}

fn read(text: &str) -> Session {
    let session = Session::read(vec![Source::new("machine.plate", text)], &NoShelf, &Choice::default());
    let problems: Vec<String> = session.problems().into_iter().map(|problem| problem.message).collect();
    assert_eq!(problems, Vec::<String>::new(), "{text}");
    session
}

fn number(session: &mut Session, expression: &str) -> f64 {
    match session.value(expression) {
        Ok((_, Ok(value))) => value.si().unwrap_or_else(|| panic!("{expression} is {}", value.describe())),
        other => panic!("{expression}: {other:?}"),
    }
}

fn one(session: &Session, rule: &str) -> Finding {
    let mut found = session.check(&Options { only: Some(rule.into()), ..Options::default() });
    assert_eq!(found.len(), 1, "{rule}: {found:?}");
    found.remove(0)
}

fn sides(finding: &Finding) -> (f64, f64) {
    let side = |measure: &Option<Box<wallplate::values::Measure>>| measure.as_ref().map_or(f64::NAN, |measure| measure.quantity.si);
    (side(&finding.demand), side(&finding.capacity))
}

/// v t + v² / 2a with the least resistance where the roof coasts, the whole of it where the motor has to pull.
#[test]
fn each_check_reads_the_end_of_the_friction_that_hurts() {
    let drive = "rated_pull 1 kN; service_factor 1; start_time 100 s";
    // The wedge of the right-angled vee, √2, on half of the weight; not on what rubs at the rim.
    let share = (ROLLING + (ROLLING - 0.003) * std::f64::consts::SQRT_2 + 0.003) / 2.0;
    let session = read(&text("breakaway 1; operating_drag 0 N; drag 0 N", drive, ""));
    let (coast, _) = sides(&one(&session, "travel.open_sensor_margin"));
    assert_relative_eq!(coast, 0.1 * 0.2 + 0.01 / (2.0 * LEAST * share * G), max_relative = 1e-6);
    let (pull, _) = sides(&one(&session, "drive.pull"));
    assert_relative_eq!(pull, 800.0 * (share * G + 0.1 / 100.0), max_relative = 1e-6);
    let measured = read(&text("breakaway 1; operating_drag 0 N; friction_share 1.2 ± 0.1", drive, ""));
    let (coast, _) = sides(&one(&measured, "travel.open_sensor_margin"));
    assert_relative_eq!(coast, 0.1 * 0.2 + 0.01 / (2.0 * 1.1 * share * G), max_relative = 1e-6);
    let (pull, _) = sides(&one(&measured, "drive.pull"));
    assert_relative_eq!(pull, 800.0 * (1.3 * share * G + 0.1 / 100.0), max_relative = 1e-6);
}

/// A motor has a rotor: who writes the one has to know the other.
#[test]
fn a_motor_whose_rotor_nobody_knows_leaves_the_coast_open() {
    let motor = "battery b { voltage 24 V; charge 20 Ah; peak_current 90 A; fuse 20 A }
                 cable c { from b; length 3 m }
                 motor electric { moves d; fed_by c; sort direct_current; current 6 A; resistance 0.4 ohm }";
    let unknown = one(&read(&text("", "", motor)), "travel.open_sensor_margin");
    assert_eq!(unknown.verdict, Verdict::Undetermined);
    assert!(unknown.missing.iter().any(|line| line.property == "rotor_inertia"), "{:?}", unknown.missing);
    let known = read(&text("", "rotor_inertia 50 g*cm2; gear_ratio 80; pinion_radius 40 mm", motor));
    assert_ne!(one(&known, "travel.open_sensor_margin").verdict, Verdict::Undetermined);
}

/// A rigid table on four legs stands on two across a diagonal, half of its weight on each (any textbook of statics).
#[test]
fn a_stiff_roof_on_four_wheels_stands_on_two() {
    let mut session = read(&text("", "", ""));
    assert_relative_eq!(number(&mut session, "max(guided.design_loads)"), 800.0 * G / 2.0, max_relative = 1e-9);
}

/// What the clutch or a hand release takes away holds nothing: the wind and the grade against the wheels and what else is there.
#[test]
fn a_drive_that_is_let_go_holds_nothing() {
    let held = |drive: &str, lock: &str| {
        let drive = format!("holding_force 5 kN; {drive}");
        one(&read(&text("operating_drag 300 N", &drive, lock)), "running.held_when_let_go")
    };
    let chock = |works: &str, load: &str| format!("parking_lock k {{ holds r; fixed_to guide; works {works}; working_load {load} }}");
    let alone = held("lets_go yes", "");
    assert_eq!(alone.verdict, Verdict::Fail);
    let share = (ROLLING + (ROLLING - 0.003) * std::f64::consts::SQRT_2 + 0.003) / 2.0;
    let (demand, capacity) = sides(&alone);
    assert_relative_eq!(demand, 300.0, max_relative = 1e-9);
    assert_relative_eq!(capacity, LEAST * share * 800.0 * G, max_relative = 1e-6);
    assert!(alone.help.unwrap().contains("parking_lock"));
    assert_eq!(held("lets_go yes", &chock("open", "5 kN")).verdict, Verdict::Fail, "a pin at one end holds it nowhere else");
    assert_eq!(held("lets_go yes", &chock("anywhere", "200 N")).verdict, Verdict::Fail);
    assert_eq!(held("lets_go yes", &chock("anywhere", "400 N")).verdict, Verdict::Pass);
    assert_eq!(held("", &chock("anywhere", "400 N")).verdict, Verdict::Undetermined, "nobody says whether it can be let go");
    let fixed = text("operating_drag 300 N", "holding_force 5 kN; lets_go no", "");
    assert!(read(&fixed).check(&Options { only: Some("running.held_when_let_go".into()), ..Options::default() }).is_empty());
}

/// A pin that has its hole where the roof stands open holds it there, the drive or none beside it.
#[test]
fn a_pin_holds_the_open_roof() {
    let open = |lock: &str| {
        let text = text("operating_drag 300 N", "holding_force 0 N", lock);
        one(&read(&text), "holddown.open_roof_stays_put").verdict
    };
    let pin = |works: &str| format!("parking_lock pin {{ holds r; fixed_to plain; works {works}; working_load 2 kN }}");
    assert_eq!(open(""), Verdict::Fail);
    assert_eq!(open(&pin("closed")), Verdict::Fail);
    assert_eq!(open(&pin("open")), Verdict::Pass);
}

const RAFTER: &str = "rafter joist { of r; grade wood; stock size; span 2.4 m; overhang 0 m; spacing 0.5 m; dead 20 kg/m2 }
    stock size { breadth 45 mm; depth 80 mm }";

/// By hand: 1.35 g l² / 8 + 1.5 Q l / 4 and 1.35 g l / 2 + 1.5 Q with Q = 1.0 kN of EN 1991-1-1:2002 Table 6.10 (category H),
/// against 1.5 times 0.4 kN/m² spread over the roof; not beside snow (3.3.2).
#[test]
fn one_person_on_a_rafter_by_the_eurocode() {
    let wood = "grade wood { family timber; table en_338; bending 24 MPa; tension 14 MPa; shear 4 MPa; bearing 2.5 MPa; compression 21 MPa
        elasticity 11 GPa; elasticity_min 7.4 GPa }";
    let mut session = read(&text("", "", &format!("{RAFTER}\n{wood}\nsnow {{ ground_load 0 kN/m2 }}")));
    let (span, dead) = (2.4, 20.0 * G * 0.5);
    let state = "item(joist.bent.cases, 3)";
    let moment = 1.35 * dead * span * span / 8.0 + 1.5 * 1000.0 * span / 4.0;
    assert_relative_eq!(number(&mut session, &format!("{state}.moment")), moment, max_relative = 1e-9);
    let shear = 1.35 * dead * span / 2.0 + 1.5 * 1000.0;
    assert_relative_eq!(number(&mut session, &format!("{state}.shear")), shear, max_relative = 2e-3);
    assert!(moment > 1.5 * (1.35 * dead + 1.5 * 400.0 * 0.5) * span * span / 8.0, "the even load hides the person");
    // P l³ / 48 E I and 5 g l⁴ / 384 E I, EN 338's mean modulus in service class 2: no creep in this check.
    let rigidity = number(&mut session, "joist.rigidity");
    let sag = 1000.0 * span.powi(3) / (48.0 * rigidity) + 5.0 * dead * span.powi(4) / (384.0 * rigidity);
    assert_relative_eq!(number(&mut session, "joist.bent.sag"), sag, max_relative = 1e-6);
    assert_eq!(one(&session, "structure.rafter_bending").verdict, Verdict::Fail, "{}", one(&session, "structure.rafter_bending").message);
    let mut light = read(&text("person 0 N", "", &format!("{RAFTER}\n{wood}\nsnow {{ ground_load 0 kN/m2 }}")));
    assert_eq!(one(&light, "structure.rafter_bending").verdict, Verdict::Pass);
    assert!(number(&mut light, "joist.checked.bending_stress / joist.checked.bending_strength") < 0.5, "half used without the person");
}

/// D + Lr with the 300 lb of ASCE 7-16 Table 4.3-1 (roofs subject to maintenance) in place of the even load (§4.4).
#[test]
fn one_person_on_a_rafter_by_asce7() {
    let wood = "grade wood { family timber; table table_4a; bending 900 psi; tension 575 psi; shear 180 psi; bearing 625 psi
        compression 1350 psi; elasticity 1.6e6 psi; elasticity_min 580000 psi }";
    let us = text("", "", &format!("{RAFTER}\n{wood}\nsnow {{ ground_load 0 psf }}"))
        .replace("design_code eurocode", "design_code asce7")
        .replace("terrain open_country", "exposure exposure_c");
    let mut session = read(&us);
    let moment = 20.0 * G * 0.5 * 2.4 * 2.4 / 8.0 + 300.0 * POUND * 2.4 / 4.0;
    assert_relative_eq!(number(&mut session, "item(joist.bent.cases, 3).moment"), moment, max_relative = 1e-9);
    assert_relative_eq!(number(&mut session, "item(joist.bent.cases, 3).shear"), 20.0 * G * 0.6 + 300.0 * POUND, max_relative = 2e-3);
}

/// By energy: F + √(F² + k m v²) with the instrument's 500 N/mm (EN 12445:2000). The limits are those of EN 12453:2000 Table A.1
/// as the gate trade prints them: 400 N for 0.75 s in gaps up to 500 mm, 150 N after it.
#[test]
fn what_an_unwatched_roof_does_to_somebody() {
    let drive = |more: &str| {
        format!(
            "rotor_inertia 0 kg*m2; gear_ratio 1; pinion_radius 40 mm; brake_force 800 N; commanded_by by_itself; edge_guarded yes; emergency_stop yes; {more}"
        )
    };
    let session = |more: &str| read(&text("operating_drag 0 N", &drive(more), ""));
    let hard = session("stall_force 675 N");
    let blow = one(&hard, "travel.blow_is_bearable");
    let by_hand = 675.0 + (675.0_f64.powi(2) + 5e5 * 800.0 * 0.01).sqrt();
    assert_relative_eq!(sides(&blow).0, by_hand, max_relative = 1e-9);
    assert_relative_eq!(sides(&blow).1, 400.0, max_relative = 1e-9);
    assert_eq!(blow.verdict, Verdict::Fail);
    assert_eq!(one(&hard, "travel.who_is_watching").verdict, Verdict::Pass, "the parts are there; the numbers say what they are worth");
    // A published check of the same curve: 675 N of a stalled drive against 150 N.
    let squeeze = one(&hard, "travel.squeeze_lets_go");
    assert_eq!((squeeze.verdict, sides(&squeeze)), (Verdict::Fail, (675.0, 150.0)));
    let back = |time: &str| one(&session(&format!("stall_force 675 N; runs_back_after {time}")), "travel.squeeze_lets_go").verdict;
    assert_eq!((back("0.7 s"), back("0.8 s")), (Verdict::Pass, Verdict::Fail));
    assert_eq!(
        one(&session("edge_gives 0 mm"), "travel.blow_is_bearable").verdict,
        Verdict::Undetermined,
        "nobody says how hard it pushes"
    );
    // v t + v² / 2a, a = (800 N + the least rolling) / 800 kg, is 24.7 mm; with 1.2 times that 29.6 mm.
    let edge = |gives: &str| one(&session(&format!("stall_force 675 N; edge_gives {gives}")), "travel.edge_gives_enough").verdict;
    assert_eq!((edge("29 mm"), edge("31 mm")), (Verdict::Fail, Verdict::Pass));
}

/// A button that is let go has to stop it within the 100 mm of EN 12453:2000.
#[test]
fn what_a_held_button_is_worth() {
    let overrun = |brake: &str| {
        let drive = format!("holding_force 900 N; commanded_by hold_to_run; clear_view yes; {brake}");
        one(&read(&text("operating_drag 0 N; friction_share 0.35", &drive, "")), "travel.button_let_go")
    };
    let share = (ROLLING + (ROLLING - 0.003) * std::f64::consts::SQRT_2 + 0.003) / 2.0;
    let free = overrun("brake_force 0 N");
    let (demand, capacity) = sides(&free);
    assert_relative_eq!(demand, 0.02 + 0.01 / (2.0 * 0.35 * share * G), max_relative = 1e-6);
    assert_relative_eq!(capacity, 0.1, max_relative = 1e-9);
    assert_eq!((free.verdict, overrun("brake_force 400 N").verdict), (Verdict::Fail, Verdict::Pass));
}

/// The crosswind acts in the middle of the roof, between the two wheels of the guiding track: half on each. In a right-angled
/// vee N = (P + H) / √2 (statics of a body in a trough).
#[test]
fn the_wind_from_the_side_comes_to_what_guides() {
    let mut session = read(&text("", "", "snow { ground_load 0 kN/m2 }"));
    let across = number(&mut session, "max(r.wind_shut.drag_across, r.wind_off.drag_across, r.wind_ajar.drag_across)");
    assert!(across > 0.0);
    assert_relative_eq!(number(&mut session, "guided.sideways"), across / 2.0, max_relative = 1e-9);
    assert_relative_eq!(number(&mut session, "free.sideways"), 0.0);
    let (flank, _) = sides(&one(&session, "running.vee_wheel_rating"));
    let pressed = number(&mut session, "guided.hardest");
    assert_relative_eq!(flank, (pressed + across / 2.0) / std::f64::consts::SQRT_2, max_relative = 1e-9);
    assert_eq!(one(&session, "running.track_is_held_sideways").verdict, Verdict::Undetermined, "no line says what fastens the track");
    let fastened = |held: &str| {
        let text = text("", "", "").replace("profile vee;", &format!("profile vee; held_sideways {held};"));
        let session = read(&text);
        one(&session, "running.track_is_held_sideways")
    };
    assert_relative_eq!(sides(&fastened("50 kN")).0, across, max_relative = 1e-9);
    assert_eq!((fastened("50 kN").verdict, fastened("10 N").verdict), (Verdict::Pass, Verdict::Fail));
}
