//! What holds the roof down, shut and rolling: whole designs, by hand.

use approx::assert_relative_eq;
use wallplate::design::Choice;
use wallplate::rules::{Finding, Options, Verdict};
use wallplate::session::{NoShelf, Session};
use wallplate::text::Source;
use wallplate::values::Value;

/// Standard acceleration of free fall (ISO 80000-3).
const G: f64 = 9.806_65;

fn read(text: &str) -> Session {
    let session = Session::read(vec![Source::new("holding.plate", text)], &NoShelf, &Choice::default());
    let problems: Vec<String> = session.problems().into_iter().map(|problem| problem.message).collect();
    assert_eq!(problems, Vec::<String>::new(), "{text}");
    session
}

fn value(session: &mut Session, expression: &str) -> Value {
    match session.value(expression) {
        Ok((_, Ok(value))) => value.clone(),
        other => panic!("{expression}: {other:?}"),
    }
}

fn number(session: &mut Session, expression: &str) -> f64 {
    value(session, expression).si().unwrap_or_else(|| panic!("{expression} is no number"))
}

fn numbers(session: &mut Session, expression: &str) -> Vec<f64> {
    match value(session, expression) {
        Value::List(items) => items.iter().filter_map(Value::si).collect(),
        other => vec![other.si().unwrap_or_else(|| panic!("{expression} is no list"))],
    }
}

fn findings(session: &Session, rule: &str) -> Vec<Finding> {
    session.check(&Options { only: Some(rule.into()), ..Options::default() })
}

fn verdicts(session: &Session, rule: &str) -> Vec<Verdict> {
    findings(session, rule).into_iter().map(|finding| finding.verdict).collect()
}

/// A flat roof of 4 m by 3 m on four wheels 3 m and 2.6 m apart, its middle at station and offset 0; `{…}` is what a test
/// is about.
fn rolling(code: &str, roof: &str, rest: &str) -> String {
    format!(
        "observatory o {{ rolls_open south; design_code {code} }}
site {{ wind_speed 30 m/s; operating_wind 15 m/s; exposure exposure_c; terrain open_country }}
slab floor {{ thickness 200 mm; plan_area 12 m2 }}
joint strap {{ joined rated; rated_up 2 kN; rated_sideways 1 kN }}
wall side {{ stands_on floor; tied_to floor; tied_by strap; ties 3; height 1.9 m; runs -2 m to 2 m; offset 1.3 m }}
wall other {{ stands_on floor; tied_to floor; tied_by strap; ties 3; height 1.9 m; runs -2 m to 2 m; offset -1.3 m }}
pattern track rail {{ runs -2 m to 9 m; level 2 m; rests_on side }}
track guide like rail {{ profile channel; offset 1.3 m; tread_width 50 mm }}
track plain like rail {{ profile flat; offset -1.3 m; tread_width 80 mm }}
pattern wheels wheel_set {{ stations -1.5 m, 1.5 m; diameter 100 mm; axle_diameter 20 mm; tread_width 46 mm }}
wheels guided like wheel_set {{ runs_on guide }}
wheels free like wheel_set {{ runs_on plain }}
roof r {{ shape flat; length 4 m; width 3 m; start -2 m; right_edge -1.5 m; eaves_level 2 m; rolls_on guided, free; enclosure enclosed; {roof} }}
stop open_stop {{ end open; stops r; fixed_to side; station 6 m; meets 2 m; stroke 20 mm }}
stop closed_stop {{ end closed; stops r; fixed_to side; station -2 m; meets -2 m; stroke 20 mm }}
{rest}
"
    )
}

/// About the lee wheels, 1.5 m from the middle: the wind's moment stands in the table of its case; 0.6 of the weight holds
/// it by 1.5 m or 1.3 m. A wind that is measured comes with its whole force, by either code.
#[test]
fn a_measured_wind_comes_whole() {
    for code in ["asce7", "eurocode"] {
        let mut session = read(&rolling(code, "mass 500 kg", ""));
        let arms = numbers(&mut session, "r.rolling_hold.line_across");
        let arm = if arms[0] == arms[1] { 1.3 } else { 1.5 };
        let weight = number(&mut session, "r.rolling_hold.weight_moment");
        assert_relative_eq!(weight, 0.6 * 500.0 * G * arm, max_relative = 1e-9);
        // A flat roof without a fascia: no drag, and the lift acts where the table says, whole.
        let along = numbers(&mut session, "list(c.uplift * 1.5 m + abs(c.moment_along) for w in [r.wind_ajar, r.wind_off], c in w.cases)");
        let across =
            numbers(&mut session, "list(c.uplift * 1.3 m + abs(c.moment_across) for w in [r.wind_ajar, r.wind_off], c in w.cases)");
        let hardest = |moments: Vec<f64>, arm: f64| moments.into_iter().fold(0.0, f64::max) / (0.6 * 500.0 * G * arm);
        let worst = hardest(along, 1.5).max(hardest(across, 1.3));
        assert_relative_eq!(1.0 / number(&mut session, "r.rolling_hold.factor"), worst, max_relative = 1e-9, epsilon = 1e-9);
        assert_relative_eq!(number(&mut session, "net_uplift(uplift 1000 N, weight 500 N, combination measured)"), 700.0);
    }
}

/// The finding compares pressures, both above zero, however light the wind: its ratio is one over the factor.
#[test]
fn a_wind_that_does_not_lift_has_a_ratio_too() {
    let heavy = read(&rolling("eurocode", "mass 5000 kg", ""));
    let light = read(&rolling("eurocode", "mass 700 kg", ""));
    let ratio = |session: &Session| findings(session, "holddown.moving_roof_stays_down")[0].ratio.unwrap();
    assert!(0.0 < ratio(&heavy) && ratio(&heavy) < ratio(&light), "{} {}", ratio(&heavy), ratio(&light));
    assert_relative_eq!(ratio(&light) / ratio(&heavy), 5000.0 / 700.0, max_relative = 1e-9);
}

/// Keepers without a place, or of which nobody has said whether they ride, decide nothing.
#[test]
fn a_keeper_without_a_place_holds_nothing_down() {
    let keeper = |lines: &str| format!("keeper k {{ holds r; anchored_to side; working_load 5 kN; anchored_by strap; {lines} }}");
    for lines in ["station 0 m; offset 1.3 m", "rides yes; offset 1.3 m", "rides yes; station 0 m"] {
        let session = read(&rolling("eurocode", "mass 150 kg", &keeper(lines)));
        assert_eq!(verdicts(&session, "holddown.moving_roof_stays_down"), [Verdict::Undetermined], "{lines}");
        assert_eq!(verdicts(&session, "holddown.keepers_resist_uplift"), [Verdict::Undetermined], "{lines}");
    }
}

/// Two pulls of 900 N at the ends of a wall with ties at its ends and in its middle go to the ends; one in the middle of a
/// span of two equal ones goes to its neighbours by 13/32 and 22/32, and lifts the far one off by 3/32 (Roark, two equal spans,
/// one loaded in its middle: -3/32, 11/16, 13/32).
#[test]
fn each_tie_of_a_wall_takes_what_is_near_it() {
    let clamp = |name: &str, station: &str| {
        format!("clamp {name} {{ holds r; anchored_to side; station {station}; offset 1.3 m; working_load 3 kN; pull 900 N }}")
    };
    let ends = format!("{}\n{}", clamp("a", "-2 m"), clamp("b", "2 m"));
    let mut session = read(&rolling("eurocode", "mass 500 kg", &ends));
    let shares = numbers(&mut session, "side.tie_shares");
    for (share, wanted) in shares.iter().zip([900.0, 0.0, 900.0]) {
        assert!((share - wanted).abs() < 1e-6, "{shares:?}");
    }
    let mut session = read(&rolling("eurocode", "mass 500 kg", &clamp("a", "-1 m")));
    let shares = numbers(&mut session, "side.tie_shares");
    for (share, part) in shares.iter().zip([13.0 / 32.0, 22.0 / 32.0, 0.0]) {
        assert_relative_eq!(*share, 900.0 * part, max_relative = 1e-9, epsilon = 1e-6);
    }
    // What nobody has counted is not known.
    let text = rolling("eurocode", "mass 500 kg", &clamp("a", "-1 m")).replace("ties 3; ", "");
    assert_eq!(value(&mut read(&text), "given(side.part)"), Value::Flag(false));
    // None at all holds nothing.
    let mut session = read(&text.replace("tied_by strap; height", "tied_by strap; ties 0; height"));
    assert_relative_eq!(number(&mut session, "side.part.holds"), 0.0);
    assert_relative_eq!(number(&mut session, "side.part.pull"), 900.0);
}

/// A bracket between a beam that bears and a rod that ties: without a word each takes all of the pull; what it only hangs on
/// takes no push, what only keeps it from sliding no pull.
#[test]
fn what_ties_a_bracket_says_how() {
    let bracket = |lines: &str| {
        format!(
            "joint screws {{ joined rated; rated_up 2 kN; rated_sideways 1 kN }}
joint rod {{ joined rated; rated_up 3 kN; rated_sideways 1 kN }}
joint cleat {{ joined rated; rated_up 1 kN; rated_sideways 4 kN }}
bracket plate {{ rests_on side; station 0 m; offset 1.3 m; {lines} }}
clamp a {{ holds r; anchored_to plate; station 0 m; offset 1.3 m; working_load 3 kN; pull 900 N; push 400 N; anchored_by strap }}"
        )
    };
    let mut two = read(&rolling("eurocode", "mass 500 kg", &bracket("tied_to side, other; tied_by screws")));
    assert_eq!(numbers(&mut two, "plate.ups"), [900.0, 900.0]);
    let mut worked_out = read(&rolling("eurocode", "mass 500 kg", &bracket("tied_to side, other; tied_by screws; pull_shares 0.7, 0.3")));
    assert_eq!(numbers(&mut worked_out, "plate.ups"), [630.0, 270.0]);
    let lines = "hung_on side; hung_by rod; kept_by side; kept_with cleat";
    let mut said = read(&rolling("eurocode", "mass 500 kg", &bracket(lines)));
    let of = |session: &mut Session, joint: &str| (number(session, &format!("{joint}.pull")), number(session, &format!("{joint}.push")));
    assert_eq!(of(&mut said, "rod"), (900.0, 0.0));
    assert_eq!(of(&mut said, "cleat"), (0.0, 400.0));
    let short = read(&rolling("eurocode", "mass 500 kg", &bracket("tied_to side, other; tied_by screws; pull_shares 0.4, 0.3")));
    assert_eq!(verdicts(&short, "holddown.pull_is_shared_out"), [Verdict::Fail]);
}

/// Two drives: forces and masses add up, the slower reaction and the faster speed count.
#[test]
fn several_drives_count_together() {
    let drives = "pattern drive motor { moves r; rated_pull 500 N; rotor_inertia 1 kg*cm2; gear_ratio 50; pinion_radius 50 mm }
drive a like motor { speed 80 mm/s; reaction_time 0.2 s; stall_force 900 N; holding_force 300 N; brake_force 200 N }
drive b like motor { speed 90 mm/s; reaction_time 0.4 s; stall_force 700 N; holding_force 100 N; brake_force 50 N }";
    let mut session = read(&rolling("eurocode", "mass 500 kg", drives));
    let mut is = |expression: &str, wanted: f64| assert_relative_eq!(number(&mut session, expression), wanted, max_relative = 1e-9);
    is("r.stall_pull", 1600.0);
    is("r.held_back", 400.0);
    is("r.drive_brake", 250.0);
    is("r.reaction", 0.4);
    is("r.speed", 0.09);
    // J (i / r)^2, twice.
    is("r.turning_mass", 2.0 * 1e-4 * (50.0_f64 / 0.05).powi(2));
    is("open_stop.push - r.operating_drag", 1600.0);
}

/// 4 m and what the stop gives way, at both ends.
#[test]
fn a_stop_that_gives_way_lengthens_the_travel() {
    let mut session = read(&rolling("eurocode", "mass 500 kg", ""));
    assert_relative_eq!(number(&mut session, "r.full_travel"), 4.02, max_relative = 1e-9);
    assert_relative_eq!(number(&mut session, "r.shut_travel"), -0.02, max_relative = 1e-9);
    assert_relative_eq!(number(&mut session, "r.rests_open"), 4.0, max_relative = 1e-9);
    // Where nobody says how far it gives way, it is said that 50 mm are taken.
    let mut session = read(&rolling("eurocode", "mass 500 kg", "").replace("; stroke 20 mm", ""));
    assert_relative_eq!(number(&mut session, "r.full_travel"), 4.05, max_relative = 1e-9);
}

/// A lever arm cannot be had by writing a place where there is no roof.
#[test]
fn what_holds_the_roof_stands_where_it_is() {
    let far = "clamp a { holds r; anchored_to side; station 1 m; offset 9 m; working_load 3 kN }
keeper k { holds r; anchored_to side; rides yes; station -6 m; offset 1.3 m; working_load 3 kN }";
    let session = read(&rolling("eurocode", "mass 150 kg", far));
    assert_eq!(verdicts(&session, "holddown.clamps_hold_the_roof"), [Verdict::Fail]);
    assert_eq!(verdicts(&session, "holddown.keepers_hold_the_roof"), [Verdict::Fail]);
}

/// A beam whose only tie is not under it holds nothing: the tie is asked for all of the pull.
#[test]
fn a_tie_beside_its_beam_is_no_way_out() {
    let beam = "post far { stands_on floor; tied_to floor; tied_by strap; station 30 m; offset 1.3 m }
beam b { rests_on side, far; tied_to far; tied_by strap; runs -2 m to 2 m; offset 1.3 m; level 2 m }
clamp a { holds r; anchored_to b; station 0 m; offset 1.3 m; working_load 3 kN; pull 900 N }";
    let mut session = read(&rolling("eurocode", "mass 500 kg", beam));
    assert_relative_eq!(number(&mut session, "b.part.pull"), 900.0);
    assert_relative_eq!(number(&mut session, "far.lifted"), 900.0);
}

/// Four hooks under two beams: what the post at the end is asked for is what two hooks above it pull with at the most.
#[test]
fn a_riding_keeper_pulls_wherever_the_roof_stands() {
    let hooks = "post end { stands_on floor; tied_to floor; tied_by strap; station 6 m; offset 1.3 m }
beam b { rests_on side, end; tied_to side, end; tied_by strap; runs -2 m to 6.2 m; offset 1.3 m; level 2 m }
keeper k { holds r; anchored_to b; rides yes; station 1.4 m; offset 1.3 m; working_load 3 kN; anchored_by strap; pull 800 N; storm_pull 0 N }";
    let mut session = read(&rolling("eurocode", "mass 150 kg", hooks));
    // 1.4 m + 4.02 m of travel: 3.42 m from the wall's last stud, which is 4 m from the post. The beam goes on over the wall:
    // between clamped there (P a^2 (3 L - a) / 2 L^3, Roark) and a hinge there (P a / L).
    let (a, span) = (1.4 + 4.02 - 2.0_f64, 4.0);
    let at_the_post = number(&mut session, "end.lifted");
    let clamped = 800.0 * a * a * (3.0 * span - a) / (2.0 * span.powi(3));
    assert!(clamped < at_the_post && at_the_post < 800.0 * a / span, "{at_the_post}");
    let mut still = read(&rolling("eurocode", "mass 150 kg", hooks).replace("rides yes", "rides no"));
    assert!(number(&mut still, "end.lifted").abs() < 200.0);
}
