//! The moving roof as a whole: what the operating wind does to it, what the motor's rotor adds, what its stops share, what
//! day it is; and that nothing of it is decided by a number that nobody wrote.

use approx::assert_relative_eq;
use wallplate::design::Choice;
use wallplate::rules::{Finding, Options, Verdict};
use wallplate::session::{NoShelf, Session};
use wallplate::syntax::tree::Date;
use wallplate::text::Source;

/// Standard acceleration of free fall (ISO 80000-3).
const G: f64 = 9.806_65;
/// Rolling resistance by hand: (2 x 0.5 mm + 0.005 x 20 mm) / 100 mm + 0.003.
const ROLLING: f64 = 0.014;

/// 900 kg on four wheels, sensors 10 m apart on a level track; `{…}` is what a test is about.
fn text(roof: &str, drive: &str, rest: &str) -> String {
    format!(
        "observatory o {{ rolls_open south; design_code eurocode }}
slab floor {{ thickness 120 mm }}
wall left_wall {{ stands_on floor; height 1.9 m; runs 0 m to 16 m }}
pattern track rail {{ runs 0 m to 16 m; level 2 m; rests_on left_wall }}
track guide like rail {{ profile channel; offset 1.5 m; tread_width 50 mm }}
track plain like rail {{ profile flat; offset -1.5 m; tread_width 80 mm }}
pattern wheels wheel_set {{ stations 0.5 m, 3.5 m; diameter 100 mm; axle_diameter 20 mm; tread_width 46 mm }}
wheels guided like wheel_set {{ runs_on guide }}
wheels free like wheel_set {{ runs_on plain }}
roof r {{ rolls_on guided, free; mass_station 2 m; mass_offset 0 m; gauge_spacers []; {roof} }}
drive d {{ moves r; {drive} }}
magnet m {{ fixed_to r; station 2 m }}
sensor open_sensor {{ marks open; watches m; station 12 m; operates_within 12 mm; gap 6 mm }}
sensor closed_sensor {{ marks closed; watches m; station 2 m; operates_within 12 mm; gap 6 mm }}
stop closed_stop {{ end closed; stops r; fixed_to left_wall; station -0.5 m; meets 0 m; stroke 20 mm; takes_energy 60 J; offset 0 m }}
{rest}
"
    )
}

const OPEN_STOP: &str =
    "stop open_stop { end open; stops r; fixed_to left_wall; station 14.5 m; meets 4 m; stroke 20 mm; takes_energy 60 J }";

fn read(text: &str) -> Session {
    let session = Session::read(vec![Source::new("moving.plate", text)], &NoShelf, &Choice::default());
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

fn findings(session: &Session, rule: &str, today: Option<Date>) -> Vec<Finding> {
    session.check(&Options { only: Some(rule.into()), today })
}

fn verdicts(session: &Session, rule: &str, today: Option<Date>) -> Vec<Verdict> {
    findings(session, rule, today).into_iter().map(|finding| finding.verdict).collect()
}

/// By hand on a level track: up to 0.1 m/s in 0.5 s, the rest at full speed to the sensor, then on for the reaction time and
/// v / a; the pull is m a while it speeds up, and what holds it, with the wind for it or against it.
#[test]
fn the_whole_travel_in_the_wind() {
    let (mass, v, wind): (f64, f64, f64) = (900.0, 0.1, 60.0);
    let drive = "speed 0.1 m/s; reaction_time 0.2 s; start_time 0.5 s; stall_force 900 N; holding_force 300 N";
    let mut session = read(&text("mass 900 kg; breakaway 1; operating_drag 60 N", drive, OPEN_STOP));
    let rolling = mass * G * ROLLING;
    for (run, push) in [("opening_in_wind", wind), ("opening_in_wind", -wind), ("closing_in_wind", -wind), ("closing_in_wind", wind)] {
        let at = usize::from(push < 0.0) + 1;
        let (way, with) = if run.starts_with("opening") { (10.0 + 0.5, push) } else { (10.5, -push) };
        let until_trip = 0.5 + (way - 0.5 * v * 0.5) / v;
        let halted = v * mass / (rolling + 300.0 - with);
        let expected = until_trip + 0.2 + halted;
        let got = number(&mut session, &format!("item(r.{run}, {at}).time"));
        assert_relative_eq!(got, expected, max_relative = 1e-9);
        let pull = number(&mut session, &format!("item(r.{run}, {at}).peak_pull"));
        assert_relative_eq!(pull, rolling - with + mass * v / 0.5, max_relative = 1e-9);
    }
    assert_relative_eq!(
        number(&mut session, "max(r.opening_in_wind.peak_pull, r.closing_in_wind.peak_pull)"),
        rolling + wind + mass * v / 0.5,
        max_relative = 1e-9
    );
    assert_relative_eq!(
        number(&mut session, "max(r.opening_in_wind.speed_at_stop, r.closing_in_wind.speed_at_stop)"),
        v,
        max_relative = 1e-9
    );
    assert_eq!(verdicts(&session, "drive.gets_there", None), [Verdict::Pass; 2]);
    let weak = read(&text("mass 900 kg; breakaway 1; operating_drag 60 N", &drive.replace("900 N", "180 N"), OPEN_STOP));
    assert_eq!(verdicts(&weak, "drive.gets_there", None), [Verdict::Fail; 2], "123.6 N and 60 N against 180 N");
}

/// J (i/r)² (recomputed): 5e-4 kg m², 50 : 1 on 40 mm are 781.25 kg. They coast along: v² / 2a with a = F / (m + 781.25 kg).
#[test]
fn the_rotor_coasts_along() {
    let drive = "speed 0.1 m/s; reaction_time 0.000000000001 s; rotor_inertia 5000 g*cm2; gear_ratio 50; pinion_radius 40 mm";
    let mut session = read(&text("mass 900 kg", drive, OPEN_STOP));
    assert_relative_eq!(number(&mut session, "d.equivalent_mass"), 781.25, max_relative = 1e-9);
    let deceleration = 900.0 * G * ROLLING / (900.0 + 781.25);
    assert_relative_eq!(number(&mut session, "r.coast_distance"), 0.01 / (2.0 * deceleration), max_relative = 1e-9);
    assert_relative_eq!(number(&mut session, "r.coasting_open.deceleration"), deceleration, max_relative = 1e-9);
    let forgotten = read(&text("mass 900 kg", "speed 0.1 m/s; reaction_time 0.000000000001 s", OPEN_STOP));
    let margin = findings(&forgotten, "travel.open_sensor_margin", None);
    let assumed: Vec<&str> = margin.iter().flat_map(|finding| &finding.assumed).map(|assumed| assumed.property.as_str()).collect();
    for habit in ["rotor_left_out", "friction_share", "brake_left_out", "rises_to_open"] {
        assert!(assumed.contains(&habit), "{habit} is not told: {assumed:?}");
    }
}

#[test]
fn without_its_weight_nobody_knows_how_far_it_coasts() {
    let drive = "speed 0.1 m/s; reaction_time 0.2 s";
    let session = read(&text("", drive, OPEN_STOP));
    assert_eq!(verdicts(&session, "travel.open_sensor_margin", None), [Verdict::Undetermined]);
    // as written the track is level and the weight does not matter; at an end of the tolerance it does
    let sloping =
        text("", &format!("{drive}; holding_force 0 N"), OPEN_STOP).replace("level 2 m;", "level 2 m; rises_to_open 0 mm ± 4 mm;");
    assert_eq!(verdicts(&read(&sloping), "running.level_enough", None), [Verdict::Undetermined]);
}

/// Two stops of 300 N/mm, 3 m apart, and 1 mm of play of the wheels over 3 m: askew by 2 mm. By hand, the drive off: the
/// first takes ½ k x², the other ½ k (x − 2 mm)², together the 4.5 J of 900 kg at 0.1 m/s.
#[test]
fn two_stops_share_the_blow() {
    let drive = "speed 0.1 m/s; reaction_time 0.2 s; start_time 0.5 s; stall_force 900 N; holding_force 300 N";
    let stop = |name: &str, offset: &str| {
        format!(
            "stop {name} {{ end open; stops r; fixed_to left_wall; station 14.5 m; meets 4 m; offset {offset}; stroke 20 mm; takes_energy 60 J; stiffness 300 N/mm }}\n"
        )
    };
    let both = stop("left_stop", "1.5 m") + &stop("right_stop", "-1.5 m");
    let text = text("mass 900 kg; operating_drag 0 N", drive, &both).replace("profile channel", "profile vee");
    let mut session = read(&text);
    assert_relative_eq!(number(&mut session, "r.askew"), 0.002 / 3.0, max_relative = 1e-9);
    let (energy, push, k) = (4.5, 900.0, 300e3_f64);
    let x = number(&mut session, "left_stop.share.pressed_in");
    let (own, other) = (0.5 * k * x * x, 0.5 * k * (x - 0.002) * (x - 0.002));
    assert_relative_eq!(own + other, energy + push * x, max_relative = 1e-9);
    assert_relative_eq!(number(&mut session, "left_stop.blow"), own, max_relative = 1e-9);
    // either may be the first: each is judged as if it were
    assert_relative_eq!(number(&mut session, "right_stop.blow"), own, max_relative = 1e-9);
    assert!(own > 0.5 * number(&mut session, "left_stop.share.of"));
}

#[test]
fn a_temporary_stop_lasts_until_its_day() {
    let on = |drive: &str, today: Option<Date>| {
        let stop = OPEN_STOP.replace("stroke", "temporary_until 2027-05-16; stroke");
        let session = read(&text("mass 900 kg", drive, &stop));
        let rules = ["travel.temporary_stop", "travel.temporary_stop_is_watched", "travel.temporary_stop_goes"];
        rules.map(|rule| verdicts(&session, rule, today)[0])
    };
    let day = |day: u8| Some(Date { year: 2027, month: 5, day });
    let held = "speed 0.1 m/s; commanded_by hold_to_run";
    assert_eq!(on(held, day(16)), [Verdict::Pass, Verdict::Pass, Verdict::Tight]);
    assert_eq!(on(held, day(17)), [Verdict::Fail, Verdict::Pass, Verdict::Tight]);
    assert_eq!(on(held, None), [Verdict::Undetermined, Verdict::Pass, Verdict::Tight]);
    assert_eq!(on("speed 0.1 m/s; commanded_by by_itself", day(1)), [Verdict::Pass, Verdict::Fail, Verdict::Tight]);
    assert_eq!(on("speed 0.1 m/s", day(1)), [Verdict::Pass, Verdict::Undetermined, Verdict::Tight]);
}

/// Axial field of a cylinder magnet, magpylib 6.3.0 (reference library): 10 mm by 5 mm with 1.32 T has 35.809 mT at 10 mm.
#[test]
fn a_sensor_by_its_field() {
    let at = |gap: &str| {
        let text = text("mass 900 kg", "speed 0.1 m/s", OPEN_STOP)
            .replace("station 2 m }\nsensor", "station 2 m; remanence 1.32 T; diameter 10 mm; length 5 mm }\nsensor")
            .replace(
                "operates_within 12 mm; gap 6 mm",
                &format!("operates_at 35.809 mT; keenest_at 20 mT; releases_at 10 mT; side_play 0 mm; gap {gap}"),
            );
        let mut session = read(&text);
        (number(&mut session, "open_sensor.operates_within"), verdicts(&session, "travel.sensor_is_reached", None))
    };
    let (reach, verdicts) = at("8.9 mm");
    assert_relative_eq!(reach, 0.010, max_relative = 1e-4);
    assert_eq!(verdicts, [Verdict::Pass; 2]);
    assert_eq!(at("10.2 mm").1, [Verdict::Fail; 2]);
}
