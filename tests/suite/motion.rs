//! Whole designs that roll, mesh and stop: published values reached through the language, and what has to hold of any
//! design whatever the formulas are.

use approx::assert_relative_eq;
use proptest::prelude::*;
use wallplate::design::Choice;
use wallplate::rules::{Finding, Options, Verdict};
use wallplate::session::{NoShelf, Session};
use wallplate::text::Source;

/// The worked examples take g = 9.81 m/s², the program the standard 9.80665: they differ by 0.034 %.
const GRAVITY: f64 = 4e-4;
/// Recomputed to the digits shown.
const ARITHMETIC: f64 = 1e-4;

fn read(text: &str) -> Session {
    let session = Session::read(vec![Source::new("motion.plate", text)], &NoShelf, &Choice::default());
    let problems: Vec<String> = session.problems().into_iter().map(|problem| problem.message).collect();
    assert_eq!(problems, Vec::<String>::new(), "{text}");
    session
}

/// In SI base units.
fn number(session: &mut Session, expression: &str) -> f64 {
    match session.value(expression) {
        Ok((_, Ok(value))) => value.si().unwrap_or_else(|| panic!("{expression} is {}", value.describe())),
        other => panic!("{expression}: {other:?}"),
    }
}

fn findings(session: &Session, areas: &[&str]) -> Vec<Finding> {
    areas.iter().flat_map(|area| session.check(&Options { only: Some((*area).into()), ..Options::default() })).collect()
}

/// A small roof on two tracks, 2.8 m apart; what a test is about is written into `{…}` of the parts.
struct Design {
    mass: &'static str,
    track: String,
    wheels: &'static str,
    roof: &'static str,
    drive: String,
    rest: String,
    /// −1 turns left and right round.
    side: f64,
}

impl Default for Design {
    fn default() -> Self {
        Self {
            mass: "900 kg",
            track: String::new(),
            wheels: "lever_arm 0.5 mm; bearing_friction 0.005; rim_friction 0.003",
            roof: "",
            drive: "speed 0.12 m/s; reaction_time 0.2 s".to_owned(),
            rest: String::new(),
            side: 1.0,
        }
    }
}

impl Design {
    fn text(&self) -> String {
        let (one, other) = (1.4 * self.side, -1.4 * self.side);
        format!(
            "use moisture
use racks
observatory o {{ rolls_open south; design_code eurocode }}
slab floor {{ thickness 120 mm }}
wall left_wall {{ stands_on floor; height 1.9 m; runs 0 m to 12 m }}
pattern track rail {{ runs 0 m to 12 m; level 2 m; rests_on left_wall; {track} }}
track guide like rail {{ profile channel; offset {one} m; tread_width 50 mm }}
track plain like rail {{ profile flat; offset {other} m; tread_width 80 mm }}
pattern wheels wheel_set {{ stations 0.5 m, 3.5 m; diameter 100 mm; axle_diameter 20 mm; tread_width 46 mm; {wheels} }}
wheels guided like wheel_set {{ runs_on guide }}
wheels free like wheel_set {{ runs_on plain }}
roof r {{ rolls_on guided, free; mass {mass}; mass_station 2 m; mass_offset {off} m; gauge_spacers []; {roof} }}
drive d {{ moves r; {drive} }}
magnet m {{ fixed_to r; station 2 m; offset {one} m }}
sensor open_sensor {{ marks open; watches m; station 8 m ± 3 mm; operates_within 12 mm; gap 6 mm }}
sensor closed_sensor {{ marks closed; watches m; station 2.1 m ± 3 mm; operates_within 12 mm; gap 6 mm }}
stop open_stop {{ end open; stops r; fixed_to left_wall; station 10.2 m ± 2 mm; meets 4 m }}
stop closed_stop {{ end closed; stops r; fixed_to left_wall; station -0.1 m ± 2 mm; meets 0 m }}
{rest}
",
            track = self.track,
            wheels = self.wheels,
            mass = self.mass,
            off = 0.2 * self.side,
            roof = self.roof,
            drive = self.drive,
            rest = self.rest,
        )
    }

    fn read(&self) -> Session {
        read(&self.text())
    }
}

/// Moments about the axle, recomputed: 900 kg on wheels of 100 mm with axles of 20 mm,
/// f = 0.5 mm, ball bearings: 123.606 N, 1.4 % of the weight.
#[test]
fn rolling_resistance() {
    let mut session = Design::default().read();
    assert_relative_eq!(number(&mut session, "guided.resistance"), 0.0140, max_relative = 1e-12);
    assert_relative_eq!(number(&mut session, "r.way.resistance"), 123.606, max_relative = GRAVITY);
}

/// The same roof up 0.3°, against 12 m/s of wind on 3.2 m² (Cf = 1.3: 367.21 N), speeding up by 0.05 m/s², through a
/// pinion of 20 teeth, module 4, and a gear of 60 %: 582.05 N, 38.80 N·m, 116.4 W, 28.65 turns a minute (recomputed).
#[test]
fn traction_from_wheel_to_shaft() {
    let rise = 12.0 * 0.3_f64.to_radians().tan();
    let mut session = Design {
        track: format!("rises_to_open {rise} m"),
        roof: "operating_drag 367.21 N; breakaway 1",
        drive: "speed 0.12 m/s; reaction_time 0.2 s; start_time 2.4 s".to_owned(),
        rest: "pinion p like module_4_pinion { driven_by d; teeth 20 }".to_owned(),
        ..Design::default()
    }
    .read();
    assert_relative_eq!(number(&mut session, "r.way.grade"), 46.23, max_relative = GRAVITY);
    assert_relative_eq!(number(&mut session, "r.acceleration_pull"), 45.0, max_relative = 1e-12);
    assert_relative_eq!(number(&mut session, "r.pull_needed"), 582.05, max_relative = GRAVITY);
    assert_relative_eq!(number(&mut session, "pinion_torque(r.pull_needed, p.diameter, 60 %)"), 38.80, max_relative = GRAVITY);
    assert_relative_eq!(number(&mut session, "drive_power(r.pull_needed, d.speed, 60 %)"), 116.4, max_relative = GRAVITY);
    assert_relative_eq!(number(&mut session, "p.turns") * 60.0, 28.65, max_relative = 2e-4);
}

/// v²/2a with a = 0.014 g from 0.15 m/s: 0.0819 m (recomputed); it is the same both ways on a level track.
#[test]
fn free_coast() {
    let mut session = Design { drive: "speed 0.15 m/s; reaction_time 0.000000000001 s".to_owned(), ..Design::default() }.read();
    // 0.0819 has three figures.
    assert_relative_eq!(number(&mut session, "r.coast_distance"), 0.0819, max_relative = 7e-4);
    let (open, closed) = (number(&mut session, "r.coasting_open.coast"), number(&mut session, "r.coasting_closed.coast"));
    assert_relative_eq!(open, closed, max_relative = 1e-9);
}

/// v t + v²/2a (recomputed): 0.0500, 0.13875 and 0.0900 m, the deceleration being that of a brake on 900 kg.
#[test]
fn reaction_and_brake() {
    for (speed, reaction, deceleration, way) in [(0.10, 0.25, 0.20, 0.0500), (0.15, 0.30, 0.12, 0.13875), (0.20, 0.20, 0.40, 0.0900)] {
        let mut session = Design {
            wheels: "resistance 0",
            drive: format!("speed {speed} m/s; reaction_time {reaction} s; brake_force {} N", 900.0 * deceleration),
            ..Design::default()
        }
        .read();
        assert_relative_eq!(number(&mut session, "r.coast_distance"), way, max_relative = 1e-9);
    }
}

/// ½ m v² (recomputed): 4.500 J at 0.10 m/s, 30.00 J for 1500 kg at 0.20 m/s, with the sensor failed.
#[test]
fn energy_into_the_stop() {
    for (mass, speed, energy) in [("900 kg", 0.10, 4.5), ("1500 kg", 0.20, 30.0)] {
        let mut session = Design { mass, drive: format!("speed {speed} m/s; reaction_time 0.2 s"), ..Design::default() }.read();
        assert_relative_eq!(number(&mut session, "r.stop_energy"), energy, max_relative = 1e-9);
        assert_relative_eq!(number(&mut session, "max(r.opening.speed_at_stop, r.closing.speed_at_stop)"), speed, max_relative = 1e-9);
    }
}

/// A spring of 20 kN/m catches 900 kg at 0.15 m/s, the drive off: 31.82 mm and 636.4 N (recomputed).
#[test]
fn spring_at_the_end() {
    let mut session = Design::default().read();
    let buffer = "spring_buffer(900 kg, 0.15 m/s, 20 kN/m, 0 N)";
    assert_relative_eq!(number(&mut session, &format!("{buffer}.stroke")), 0.03182, max_relative = 2e-4);
    assert_relative_eq!(number(&mut session, &format!("{buffer}.force")), 636.4, max_relative = ARITHMETIC);
}

/// Statics of a body in a trough, recomputed: 2000 N and 300 N to the side in a right-angled vee, 1626.35 N on the harder
/// pressed flank. ISO 12488-1, class 3: 8 mm either way at 4.5 m, 19 mm at 60 m.
#[test]
fn wedge_and_gauge() {
    let mut session = Design::default().read();
    assert_relative_eq!(number(&mut session, "flank_force(2000 N, 300 N, 90 deg)"), 1626.35, max_relative = 1e-5);
    assert_relative_eq!(number(&mut session, "wedge_factor(60 deg)"), 2.0, max_relative = 1e-12);
    assert_relative_eq!(number(&mut session, "gauge_tolerance(4.5 m)"), 0.008, max_relative = 1e-12);
    assert_relative_eq!(number(&mut session, "gauge_tolerance(60 m)"), 0.019, max_relative = 1e-12);
}

fn meshed(teeth: u32, gap: &str) -> Session {
    Design {
        drive: "speed 0.12 m/s; reaction_time 0.2 s; stall_force 500 N".to_owned(),
        rest: format!(
            "pinion p like module_4_pinion {{ driven_by d; teeth {teeth}; station 4 m }}
rack k like module_4_steel {{ meshes_with p; fixed_to r; runs -2.3 m to 4.2 m; gap {gap} }}"
        ),
        ..Design::default()
    }
    .read()
}

/// ISO 53 and 54 proportions: module 4 has a pitch of 12.5664 mm; 18 teeth a pitch diameter of 72 mm and, set tight, 1.7553
/// teeth in contact; 20 teeth 1.7688, 1.5212 at a gap of 1 mm, 1.2736 at 2 mm (recomputed).
#[test]
fn teeth_in_contact() {
    let mut tight = meshed(18, "0 mm");
    assert_relative_eq!(number(&mut tight, "k.pitch"), 0.012_566_4, max_relative = ARITHMETIC);
    assert_relative_eq!(number(&mut tight, "p.diameter"), 0.072, max_relative = 1e-12);
    assert_relative_eq!(number(&mut tight, "k.overlap"), 1.7553, max_relative = ARITHMETIC);
    for (gap, overlap) in [("0 mm", 1.7688), ("1 mm", 1.5212), ("2 mm", 1.2736)] {
        assert_relative_eq!(number(&mut meshed(20, gap), "k.overlap"), overlap, max_relative = ARITHMETIC);
    }
}

/// 2 ΔC tan α: 0.36397 mm of backlash at a gap of 0.5 mm; F tan α: 181.99 N apart at a pull of 500 N (recomputed).
#[test]
fn backlash_and_separating_force() {
    let mut session = meshed(20, "0.5 mm");
    assert_relative_eq!(number(&mut session, "k.backlash"), 0.000_363_97, max_relative = ARITHMETIC);
    assert_relative_eq!(number(&mut session, "k.separating"), 181.99, max_relative = ARITHMETIC);
}

/// Lewis with Y of Shigley's Table 14-2: 1000 N on 20 mm of module 4 stress 16 teeth (Y = 0.296) with 42.23 MPa and a rack
/// (Y = 0.485) with 25.77 MPa (recomputed).
#[test]
fn strength_of_a_tooth() {
    let mut session = meshed(20, "0.5 mm");
    let force = number(&mut session, "tooth_force(42.23 MPa, 20 mm, 4 mm, 16, 20 deg)");
    assert_relative_eq!(force, 1000.0, max_relative = 2e-4);
    let force = number(&mut session, "tooth_force(25.77 MPa, 20 mm, 4 mm, 0, 20 deg)");
    assert_relative_eq!(force, 1000.0, max_relative = 3e-4);
}

/// Wood Handbook FPL-GTR-190, the example after eq. 13-2: white fir 232 mm, flat-sawn, 8 to 11 %: 1.705 mm. Douglas-fir
/// 9.25 in, 8 to 13 %: 0.1235 in; eq. 13-3, 250 mm from 19 to 11 %: 5.212 mm less (both recomputed).
#[test]
fn timber_over_the_year() {
    let rest = "spacer fir { timber white_fir; size 232 mm; moisture 8 % to 11 % }
spacer douglas { timber douglas_fir; size 9.25 in; moisture 8 % to 13 % }"
        .to_owned();
    let mut session = Design { rest, ..Design::default() }.read();
    assert_relative_eq!(number(&mut session, "fir.movement"), 0.001_705, max_relative = 2e-4);
    assert_relative_eq!(number(&mut session, "douglas.movement") / 0.0254, 0.1235, max_relative = 2e-4);
    let shrinks =
        number(&mut session, "timber_movement(250 mm, douglas_fir.tangential, douglas_fir.tangential_shrinkage, 30 %, 19 %, 11 %)");
    assert_relative_eq!(shrinks, -0.005_212, max_relative = ARITHMETIC);
}

/// The catalogue's two columns come from two tables of the Wood Handbook, 13-5 (five decimals) and 4-3 (0.1 %): one follows
/// from the other. White oak is left out: its coefficients are those of a mixture of species.
#[test]
fn moisture_catalogue_agrees_with_itself() {
    let mut session = Design::default().read();
    let species = [
        "douglas_fir",
        "white_fir",
        "western_hemlock",
        "eastern_white_pine",
        "ponderosa_pine",
        "southern_pine",
        "sitka_spruce",
        "western_redcedar",
        "redwood",
        "norway_spruce",
        "scots_pine",
    ];
    for name in species {
        for way in ["radial", "tangential"] {
            let written = number(&mut session, &format!("{name}.{way}"));
            let follows = number(&mut session, &format!("shrinkage_coefficient({name}.{way}_shrinkage, {name}.saturation)"));
            assert!((written - follows).abs() <= 0.6e-5, "{name}, {way}: {written} and {follows}");
        }
    }
}

/// A stiff brake that lets go: without any resistance nothing ever stops the roof, and the message says so.
#[test]
fn what_never_stops_is_said() {
    let session = Design {
        wheels: "resistance 0",
        roof: "operating_drag 200 N",
        drive: "speed 0.1 m/s; reaction_time 0.2 s; holding_force 50 N".to_owned(),
        ..Design::default()
    }
    .read();
    let found: Vec<Finding> =
        findings(&session, &["drive"]).into_iter().filter(|finding| finding.rule == "drive.stops_in_the_wind").collect();
    assert_eq!(found.len(), 2);
    for finding in found {
        assert_eq!(finding.verdict, Verdict::Fail);
        assert!(finding.message.contains("sails on"), "{}", finding.message);
    }
}

/// How bad a finding is: demand less capacity.
fn badness(finding: &Finding) -> Option<f64> {
    Some(finding.demand.as_ref()?.quantity.si - finding.capacity.as_ref()?.quantity.si)
}

fn complete(side: f64, reaction: f64) -> Design {
    Design {
        track: "rises_to_open 0 mm ± 4 mm".to_owned(),
        wheels: "lever_arm 0.5 mm ± 0.1 mm; bearing_friction 0.005; rim_friction 0.003",
        roof: "operating_drag 90 N; opening_wanted 5.9 m; gauge_tolerance 5 mm",
        drive: format!("speed 0.1 m/s; reaction_time {reaction} s ± 0.05 s; holding_force 300 N; stall_force 900 N; rated_pull 700 N"),
        rest: "pinion p like module_4_pinion { driven_by d; teeth 20; station 4.0 m ± 5 mm }
rack k like module_4_steel { meshes_with p; fixed_to r; runs -2.3 m to 4.2 m; gap 1.4 mm ± 0.2 mm; spacers []; sag 0.2 mm }"
            .to_owned(),
        side,
        ..Design::default()
    }
}

const AREAS: [&str; 3] = ["running", "drive", "travel"];

/// Left and right turned round: nothing along the travel changes.
#[test]
fn a_mirrored_design_has_the_same_margins() {
    let (one, other) = (findings(&complete(1.0, 0.2).read(), &AREAS), findings(&complete(-1.0, 0.2).read(), &AREAS));
    assert_eq!(one.len(), other.len());
    let mut compared = 0;
    for (a, b) in one.iter().zip(&other) {
        assert_eq!((&a.rule, &a.subjects, a.verdict), (&b.rule, &b.subjects, b.verdict));
        if let (Some(a), Some(b)) = (badness(a), badness(b)) {
            assert_relative_eq!(a, b, max_relative = 1e-6, epsilon = 1e-9);
            compared += 1;
        }
    }
    assert!(compared >= 12, "only {compared} compared");
}

/// What is known better is never judged worse.
#[test]
fn deleting_a_tolerance_never_makes_a_check_worse() {
    let text = complete(1.0, 0.2).text();
    let before = findings(&read(&text), &AREAS);
    let places: Vec<usize> = text.match_indices(" ± ").map(|(at, _)| at).collect();
    assert!(places.len() >= 8);
    for at in places {
        let end = text[at..].find([';', '}', '\n']).unwrap() + at;
        let known = format!("{}{}", &text[..at], text[end..].trim_start_matches(' '));
        let known = if text[end..].starts_with('}') { format!("{} {}", &text[..at], &text[end..]) } else { known };
        let after = findings(&read(&known), &AREAS);
        assert_eq!(before.len(), after.len());
        for (b, a) in before.iter().zip(&after) {
            assert_eq!((&b.rule, &b.subjects), (&a.rule, &a.subjects));
            if let (Some(before), Some(after)) = (badness(b), badness(a)) {
                assert!(after <= before + 1e-9 * before.abs().max(1e-3), "{} {:?}: {before} became {after}", b.rule, b.subjects);
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 12, ..ProptestConfig::default() })]

    /// Later is never better.
    #[test]
    fn a_longer_reaction_never_gives_more_margin(reaction in 0.06..0.6_f64, longer in 0.0..0.5_f64) {
        let margins = |reaction: f64| -> Vec<f64> {
            let session = complete(1.0, reaction).read();
            findings(&session, &["travel"]).iter().filter(|f| f.rule.ends_with("sensor_margin")).filter_map(badness).collect()
        };
        let (short, long) = (margins(reaction), margins(reaction + longer));
        prop_assert_eq!(short.len(), 2);
        for (short, long) in short.iter().zip(&long) {
            prop_assert!(*long >= short - 1e-12, "{short} m, and {long} m later");
        }
    }
}
