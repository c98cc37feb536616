//! Whole designs with telescopes: the published values reached through the language, and the symmetries of the sky.
//!
//! A design that is turned, mirrored or moved to the other hemisphere has to give the same answers in its own measures:
//! these hold whatever the formulas are.

use approx::{assert_abs_diff_eq, assert_relative_eq};
use proptest::prelude::*;
use std::fmt::Write as _;
use wallplate::design::Choice;
use wallplate::formulas;
use wallplate::rules::{Finding, Options, Verdict};
use wallplate::session::{NoShelf, Session};
use wallplate::text::Source;
use wallplate::values::Value;

fn read(text: &str) -> Session {
    let session = Session::read(vec![Source::new("sky.plate", text)], &NoShelf, &Choice::default());
    let problems: Vec<String> = session.problems().into_iter().map(|problem| problem.message).collect();
    assert_eq!(problems, Vec::<String>::new(), "{text}");
    session
}

fn value(session: &mut Session, expression: &str) -> Value {
    match session.value(expression) {
        Ok((_, Ok(value))) => value,
        other => panic!("{expression}: {other:?}"),
    }
}

/// In SI base units.
fn number(session: &mut Session, expression: &str) -> f64 {
    value(session, expression).si().unwrap_or_else(|| panic!("{expression} is no number"))
}

fn degrees(session: &mut Session, expression: &str) -> f64 {
    number(session, expression).to_degrees()
}

fn text(session: &mut Session, expression: &str) -> String {
    match value(session, expression) {
        Value::Text(text) => text.to_string(),
        other => panic!("{expression} is {}", other.describe()),
    }
}

fn horizon(session: &mut Session, telescope: &str) -> Vec<f64> {
    match value(session, &format!("{telescope}.horizon")) {
        Value::List(items) => items.iter().filter_map(Value::si).collect(),
        other => panic!("a horizon is {}", other.describe()),
    }
}

fn findings(session: &Session, area: &str) -> Vec<Finding> {
    session.check(&Options { only: Some(area.into()), ..Options::default() })
}

fn finding(session: &Session, rule: &str) -> Finding {
    let mut found = findings(session, rule);
    assert_eq!(found.len(), 1, "{rule}");
    found.remove(0)
}

// ── a design in its own measures, put down on the ground in several ways ────

/// Where and how a design is put down.
#[derive(Debug, Clone, Copy)]
struct Put {
    latitude: f64,
    /// Azimuth to which the roof opens, degrees.
    opens: f64,
    /// Left and right changed over.
    mirrored: bool,
    /// Level of the wall tops, m.
    walls: f64,
    /// Level of the pier's top, m.
    pier: f64,
    /// Station of the pier, m.
    station: f64,
    /// Declination of what should be seen, degrees.
    declination: f64,
    /// Something beside the building: azimuth from the way the roof opens, width, altitude, degrees.
    trees: Option<(f64, f64, f64)>,
}

const PUT: Put = Put { latitude: 48.0, opens: 0.0, mirrored: false, walls: 1.8, pier: 0.9, station: 1.4, declination: -5.0, trees: None };

/// A shed roof that rises to one side, one pier out of the middle, another telescope: nothing in it is symmetric.
fn design(put: Put) -> String {
    let Put { latitude, walls, pier, station, declination, .. } = put;
    let side = if put.mirrored { -1.0 } else { 1.0 };
    let across = |a: f64, b: f64| if put.mirrored { (-b, -a) } else { (a, b) };
    // Clockwise from the way the roof opens; mirrored it is counted the other way round.
    let azimuth = |a: f64| (put.opens + side * a).rem_euclid(360.0);
    let from_to = |a: f64, b: f64| if put.mirrored { (azimuth(b), azimuth(a)) } else { (azimuth(a), azimuth(b)) };
    let (right, left) = across(0.0, 3.0);
    let right_edge = across(-0.2, 3.2).0;
    let rises = if put.mirrored { "right" } else { "left" };
    let (view_from, view_to) = from_to(100.0, 230.0);
    let park = azimuth(70.0);
    let mut text = format!(
        r"
        use pipe
        observatory o {{ rolls_open north; opening_azimuth {opens} deg; design_code eurocode }}
        site {{ latitude {latitude} deg; ground_level -150 mm; frost_depth 500 mm }}
        soil {{ bearing 100 kN/m2; shear_modulus 60 MPa }}
        slab floor {{ thickness 150 mm }}
        pattern wall side {{ stands_on floor; height {walls} m; runs 0 m to 4 m; thickness 100 mm }}
        wall one_side like side {{ offset {one} m }}
        wall other_side like side {{ offset {other} m }}
        wall end {{ stands_on floor; height {walls} m + 100 mm; station 0.05 m; spans {right} m to {left} m; thickness 100 mm }}
        track rail {{ profile flat; runs 0 m to 8 m; offset {one} m; level {walls} m + 60 mm; rests_on one_side }}
        roof r {{
          shape mono_pitch; pitch 9 deg; rises {rises}; length 4.4 m; width 3.4 m; start -0.2 m; right_edge {right_edge} m
          eaves_level {walls} m + 150 mm; fascia 120 mm; slope_depth 120 mm; closed_end_bottom {walls} m + 120 mm
        }}
        stop open_stop {{ end open; stops r; fixed_to one_side; station 8.25 m; meets 4.2 m }}
        footing block {{ size 900 mm by 900 mm; depth 800 mm }}
        pattern pier column {{
          stands_on block; section tube_219_8; foot_level -150 mm; top_level {pier} m; concrete_age 28 day
        }}
        pier p like column {{ station {station} m; offset {p} m }}
        pier q like column {{ station {station} m + 1.5 m; offset {q} m }}
        pattern telescope scope {{
          mass 40 kg; axes_height 350 mm; swing 550 mm; front 420 mm; back 330 mm; tube_diameter 120 mm; mount_radius 280 mm
          park_altitude 10 deg; park_azimuth {park} deg; focal_length 600 mm; pixel 5.4 um; gust 4 m/s
        }}
        telescope t like scope {{ stands_on p }}
        telescope u like scope {{ stands_on q }}
        view v {{ of t; from {view_from} deg; to {view_to} deg; altitude 30 deg }}
        target x {{ of t; declination {declination} deg; time_wanted 3 h }}
        ",
        opens = put.opens,
        one = side * 0.05,
        other = side * 2.95,
        p = side * 1.3,
        q = side * 1.6,
    );
    if let Some((middle, width, altitude)) = put.trees {
        let (from, to) = from_to(middle - width / 2.0, middle + width / 2.0);
        let _ = writeln!(text, "obstacle trees {{ from {from} deg; to {to} deg; altitude {altitude} deg }}");
    }
    text
}

/// Everything about sky and clearance, without the azimuths that the messages name.
fn verdicts(session: &Session) -> Vec<(String, Vec<String>, Verdict, Option<f64>)> {
    let mut all: Vec<_> = findings(session, "sky")
        .into_iter()
        .map(|finding| {
            (finding.rule.to_string(), finding.subjects.iter().map(ToString::to_string).collect(), finding.verdict, finding.ratio)
        })
        .collect();
    all.sort_by(|a, b| (&a.0, &a.1).cmp(&(&b.0, &b.1)));
    all
}

fn assert_same_verdicts(a: &Session, b: &Session) {
    let (a, b) = (verdicts(a), verdicts(b));
    assert!(a.len() > 8, "hardly anything is checked");
    assert_eq!(a.len(), b.len());
    for (a, b) in a.iter().zip(&b) {
        assert_eq!((&a.0, &a.1, a.2), (&b.0, &b.1, b.2));
        match (a.3, b.3) {
            (Some(a), Some(b)) => assert_relative_eq!(a, b, max_relative = 1e-6),
            (a, b) => assert_eq!(a.is_some(), b.is_some()),
        }
    }
}

fn assert_same_horizon(a: &[f64], b: impl Fn(usize) -> f64) {
    assert_eq!(a.len(), 360);
    for (at, altitude) in a.iter().enumerate() {
        assert_abs_diff_eq!(*altitude, b(at), epsilon = 1e-9);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 12, ..ProptestConfig::default() })]

    /// East and west changed over, the building too: the horizon is its own mirror image, and every answer stays.
    #[test]
    fn mirrored_east_to_west(station in 0.9..2.2_f64, walls in 1.5..2.2_f64, declination in -30.0..60.0_f64, trees in -170.0..170.0_f64) {
        let put = Put { station, walls, declination, trees: Some((trees, 40.0, 22.0)), ..PUT };
        let (mut plain, mut mirrored) = (read(&design(put)), read(&design(Put { mirrored: true, ..put })));
        let other = horizon(&mut mirrored, "t");
        assert_same_horizon(&horizon(&mut plain, "t"), |at| other[(360 - at) % 360]);
        assert_same_verdicts(&plain, &mirrored);
    }

    /// The other hemisphere: the building turned by half a turn, the declination with the other sign.
    #[test]
    fn the_other_hemisphere(latitude in 5.0..70.0_f64, pier in 0.6..1.2_f64, declination in -30.0..60.0_f64, trees in -170.0..170.0_f64) {
        let put = Put { latitude, pier, declination, trees: Some((trees, 40.0, 22.0)), ..PUT };
        let south = Put { latitude: -latitude, opens: 180.0, declination: -declination, ..put };
        let (mut north, mut south) = (read(&design(put)), read(&design(south)));
        let other = horizon(&mut south, "t");
        assert_same_horizon(&horizon(&mut north, "t"), |at| other[(at + 180) % 360]);
        assert_same_verdicts(&north, &south);
        assert_abs_diff_eq!(degrees(&mut south, "t.pole.azimuth"), 180.0, epsilon = 1e-9);
    }

    /// A building turned by whole degrees sees the same horizon, turned; what rolls and swings does not notice.
    #[test]
    fn a_turned_building(turn in 1..359_u32, station in 0.9..2.2_f64) {
        let put = Put { station, ..PUT };
        let (mut plain, mut turned) = (read(&design(put)), read(&design(Put { opens: f64::from(turn), ..put })));
        let other = horizon(&mut turned, "t");
        assert_same_horizon(&horizon(&mut plain, "t"), |at| other[(at + turn as usize) % 360]);
        let gap = "item(t.roof_over_parked, 1).gap";
        assert_abs_diff_eq!(number(&mut plain, gap), number(&mut turned, gap), epsilon = 1e-6);
    }

    /// Whatever is added to the site hides sky or does not: it never shows more.
    #[test]
    fn an_obstacle_never_shows_more(middle in -180.0..180.0_f64, width in 1.0..120.0_f64, altitude in 0.0..60.0_f64, declination in -35.0..80.0_f64) {
        let put = Put { declination, ..PUT };
        let (mut before, mut after) = (read(&design(put)), read(&design(Put { trees: Some((middle, width, altitude)), ..put })));
        let (open, hidden) = (horizon(&mut before, "t"), horizon(&mut after, "t"));
        prop_assert!(open.iter().zip(&hidden).all(|(open, hidden)| hidden >= open));
        prop_assert!(number(&mut after, "x.visible.total") <= number(&mut before, "x.visible.total") + 1e-6);
        prop_assert!(number(&mut after, "v.worst.altitude") >= number(&mut before, "v.worst.altitude"));
    }

    /// Higher walls hide more, a higher pier sees more over walls that stay.
    #[test]
    fn walls_and_piers_do_what_they_should(walls in 1.4..2.0_f64, more in 0.05..0.5_f64) {
        let (mut low, mut high) = (read(&design(Put { walls, ..PUT })), read(&design(Put { walls: walls + more, ..PUT })));
        prop_assert!(number(&mut high, "v.worst.altitude") > number(&mut low, "v.worst.altitude"));
        let mut raised = read(&design(Put { walls, pier: PUT.pier + more, ..PUT }));
        prop_assert!(number(&mut raised, "v.worst.altitude") < number(&mut low, "v.worst.altitude"));
    }
}

#[test]
fn the_pole_stands_as_high_as_the_latitude() {
    for latitude in [-62.5, -33.9, 0.0, 14.2, 51.0] {
        let mut session = read(&design(Put { latitude, ..PUT }));
        assert_abs_diff_eq!(degrees(&mut session, "t.pole.altitude"), f64::abs(latitude), epsilon = 1e-9);
    }
    // The roof parks to the north: its upper edge is seen at one altitude, and the pole clears it or not.
    let mut session = read(&design(PUT));
    let roof = degrees(&mut session, "t.at_the_pole.altitude");
    let verdict = |latitude: f64, opens: f64| {
        let session = read(&design(Put { latitude, opens, ..PUT }));
        findings(&session, "sky.pole_is_visible").into_iter().find(|finding| finding.subjects == ["t"]).unwrap().verdict
    };
    assert_eq!(verdict(roof + 0.1, 0.0), Verdict::Pass);
    assert_eq!(verdict(roof - 0.1, 0.0), Verdict::Fail);
    // With the roof parked to the south in the south it is the same; parked away from the pole the end wall is what hides.
    assert_eq!(verdict(-(roof - 0.1), 180.0), Verdict::Fail);
    let mut away = read(&design(Put { latitude: -48.0, ..PUT }));
    assert_eq!(text(&mut away, "t.at_the_pole.behind"), "end");
}

// ── published values, reached through the language ──────────────────────────

/// One pier with one telescope and nothing around it.
fn bare_pier(section: &str, height: &str, rest: &str) -> String {
    format!(
        r"
        use pipe
        observatory o {{ rolls_open north; design_code asce7 }}
        site {{ latitude 40 deg; ground_level 0 m; frost_depth 0 m }}
        soil {{ bearing 100 kN/m2; shear_modulus 30 MPa; poisson 0.3 }}
        footing block {{ size 1.2 m by 1.2 m; depth 1 m }}
        pier p {{ stands_on block; section {section}; foot_level 0 m; top_level {height}; station 0 m; offset 0 m }}
        telescope t {{ stands_on p; {rest}; swing 0.5 m }}
        "
    )
}

/// Dunkerley's frequency lies below Rayleigh's, which is what is printed, by less than 2 %: the true one is between them.
fn from_below(frequency: f64, rayleigh: f64) {
    assert!(frequency < rayleigh && frequency > 0.98 * rayleigh, "{frequency} and {rayleigh}");
}

#[test]
fn a_pipe_pier_bends_and_swings_as_published() {
    // NPS 8 (I = 72.49 in⁴, Mott Table A16-6), 1.2 m, 40 kg on top, 22.24 N: Rayleigh 71.43 Hz, 0.5471 arcsec; the force
    // 0.3 m above the top 0.8206 arcsec.
    let at_the_top = bare_pier("nps_8_schedule_40", "1.2 m", "mass 40 kg; axes_height 0 mm; push 22.24 N");
    let mut session = read(&at_the_top);
    from_below(number(&mut session, "t.bending_frequency"), 71.43);
    assert_relative_eq!(number(&mut session, "t.push_tilt.bending in arcsec").to_degrees() * 3600.0, 0.5471, max_relative = 5e-4);
    assert_relative_eq!(number(&mut session, "p.mass"), 51.06, max_relative = 5e-4);
    let mut session = read(&at_the_top.replace("axes_height 0 mm", "axes_height 0.3 m; mass_height 0 m"));
    assert_relative_eq!(degrees(&mut session, "t.push_tilt.bending") * 3600.0, 0.8206, max_relative = 5e-4);
    // NPS 6, 1.0 m, 30 kg: 69.69 Hz, 0.9788 arcsec.
    let mut session = read(&bare_pier("nps_6_schedule_40", "1.0 m", "mass 30 kg; axes_height 0 mm; push 22.24 N"));
    from_below(number(&mut session, "t.bending_frequency"), 69.69);
    assert_relative_eq!(degrees(&mut session, "t.push_tilt.bending") * 3600.0, 0.9788, max_relative = 5e-4);
}

#[test]
fn a_concrete_pier_as_published() {
    // 12 in diameter, 48 in, f'c 3000 psi, 150 pcf, 100 lb on top, 5 lbf: E = 57000 √f'c (ACI 318), 63.20 Hz, 0.374 arcsec.
    let column = "pier_section c { shape round; material concrete; diameter 12 in; strength 3000 psi; concrete_density 150 pcf }\n";
    let mut session = read(&(column.to_owned() + &bare_pier("c", "48 in", "mass 100 lb; axes_height 0 mm; push 5 lbf")));
    assert_relative_eq!(number(&mut session, "c.modulus in psi") / 6_894.757, 3.122e6, max_relative = 5e-4);
    from_below(number(&mut session, "t.bending_frequency"), 63.20);
    assert_abs_diff_eq!(degrees(&mut session, "t.push_tilt.bending") * 3600.0, 0.374, epsilon = 5e-4);
}

#[test]
fn a_pier_in_two_pieces_is_the_pier_in_one() {
    let pipe = "pier_section lower { shape pipe; material steel; diameter 8.625 in; wall 0.322 in }\n";
    let whole = bare_pier("nps_8_schedule_40", "1.2 m", "mass 40 kg; axes_height 0.3 m");
    let pieces = whole.replace("section nps_8_schedule_40", "section lower, nps_8_schedule_40; lengths 0.5 m, 0.7 m");
    let (mut whole, mut pieces) = (read(&whole), read(&(pipe.to_owned() + &pieces)));
    for what in ["t.frequency", "t.push_tilt.total", "p.mass"] {
        assert_relative_eq!(number(&mut whole, what), number(&mut pieces, what), max_relative = 1e-9);
    }
    // A pipe full of concrete is stiffer and heavier: E I and masses of both add up.
    let filled = bare_pier("filled", "1.2 m", "mass 40 kg; axes_height 0 mm");
    let section = "pier_section filled { shape pipe; material steel; diameter 200 mm; wall 5 mm; fill concrete; strength 3000 psi }\n";
    let mut filled = read(&(section.to_owned() + &filled));
    let pi = std::f64::consts::PI;
    let (steel, core) = (pi / 64.0 * (0.2_f64.powi(4) - 0.19_f64.powi(4)), pi / 64.0 * 0.19_f64.powi(4));
    // ACI 318: 3.122e6 psi for 3000 psi.
    let rigidity = 200e9 * steel + 3.122e6 * 6_894.757 * core;
    assert_relative_eq!(number(&mut filled, "filled.rigidity"), rigidity, max_relative = 5e-4);
    let mass = 7850.0 * pi / 4.0 * (0.2_f64.powi(2) - 0.19_f64.powi(2)) + 2400.0 * pi / 4.0 * 0.19_f64.powi(2);
    assert_relative_eq!(number(&mut filled, "filled.mass_per_length"), mass, max_relative = 1e-9);
}

#[test]
fn a_footing_rocks_as_published() {
    // 1.2 m square, G = 30 MPa, ν = 0.3: Pais and Kausel 3.703e7 N m/rad (geofound 1.1.4).
    let mut session = read(&bare_pier("nps_8_schedule_40", "1.2 m", "mass 40 kg; axes_height 0 mm"));
    assert_relative_eq!(number(&mut session, "p.rocking"), 3.703e7, max_relative = 5e-4);
    // A force 2 m above the underside: F h/K.
    assert_relative_eq!(number(&mut session, "t.push_tilt.rocking"), 22.0 * 2.2 / 3.703e7, max_relative = 5e-4);
    // The softer way counts: 1.5 by 1.0 m rocks across its short side with 3.000e7 N m/rad.
    let mut session =
        read(&bare_pier("nps_8_schedule_40", "1.2 m", "mass 40 kg; axes_height 0 mm").replace("1.2 m by 1.2 m", "1.5 m by 1.0 m"));
    assert_relative_eq!(number(&mut session, "p.rocking"), 3.000e7, max_relative = 5e-4);
    assert_relative_eq!(number(&mut session, "p.ground_along.rocking"), 5.432e7, max_relative = 5e-4);
}

#[test]
fn a_wall_hides_what_trigonometry_says() {
    // Top 0.9 m above the axes, face 2.0 m away: 24.228° straight on, 21.291°, 17.651°, 12.680° at 30°, 45°, 60° to the side.
    let wall = "slab floor { thickness 0.1 m }\nwall w { stands_on floor; height 2.4 m; station -2.05 m; spans -20 m to 20 m; thickness 100 mm }\n";
    let scope = bare_pier("nps_8_schedule_40", "1.5 m", "mass 40 kg; axes_height 0 mm");
    let mut session = read(&(wall.to_owned() + &scope));
    for (azimuth, altitude) in [(180.0, 24.228), (210.0, 21.291), (135.0, 17.651), (240.0, 12.680)] {
        let expression = format!("lowest_altitude(eye t.eye, around t.around, azimuth {azimuth} deg).altitude");
        assert_abs_diff_eq!(degrees(&mut session, &expression), altitude, epsilon = 6e-4);
    }
    assert_eq!(text(&mut session, "lowest_altitude(eye t.eye, around t.around, azimuth 180 deg).behind"), "w");
    assert_abs_diff_eq!(degrees(&mut session, "item(t.horizon, 181)"), 24.228, epsilon = 6e-4);
    assert_abs_diff_eq!(degrees(&mut session, "item(t.horizon, 1)"), 0.0, epsilon = 1e-9);
}

#[test]
fn stars_and_hours_as_published() {
    let mut session = read("");
    // Latitude, hour angle, declination → azimuth, altitude: pyerfa 2.0.1.5 hd2ae.
    for (latitude, hours, declination, azimuth, altitude) in [(40.0, 2.0, 20.0, 240.9388, 57.4851), (-34.0, 3.0, -60.0, 214.1987, 51.0217)]
    {
        let star = format!("star(hour_angle {} deg, declination ({declination} deg), latitude ({latitude} deg))", hours * 15.0);
        assert_abs_diff_eq!(degrees(&mut session, &format!("{star}.azimuth")), azimuth, epsilon = 6e-5);
        assert_abs_diff_eq!(degrees(&mut session, &format!("{star}.altitude")), altitude, epsilon = 6e-5);
    }
    // Hours of the clock above 20° for declination 0 at latitude 40 (each root confirmed with erfa): 8.4412; 15°, −60, −34: 16.3485.
    assert_abs_diff_eq!(
        number(&mut session, "time_above(altitude 20 deg, declination 0 deg, latitude 40 deg)") / 3600.0,
        8.4412,
        epsilon = 6e-5
    );
    assert_abs_diff_eq!(
        number(&mut session, "time_above(altitude 15 deg, declination (-60 deg), latitude (-34 deg))") / 3600.0,
        16.3485,
        epsilon = 6e-5
    );
    // Meeus, example 16.a: Bennett at 0.5° 28.754 minutes of arc.
    assert_abs_diff_eq!(degrees(&mut session, "refraction(altitude 0.5 deg, formula bennett)") * 60.0, 28.754, epsilon = 6e-4);
    // A telescope with nothing around it has a level horizon all round: 11.9672 h for the equator of the sky.
    let bare =
        bare_pier("nps_8_schedule_40", "1.2 m", "mass 40 kg; axes_height 0 mm") + "target x { of t; declination 0 deg; time_wanted 10 h }";
    let mut session = read(&bare);
    assert_abs_diff_eq!(number(&mut session, "x.visible.total") / 3600.0, 11.9672, epsilon = 6e-5);
    // The air adds some minutes, and only where it is asked for by name.
    let mut lifted = read(&bare.replace("time_wanted 10 h", "time_wanted 10 h; refraction saemundsson"));
    let more = number(&mut lifted, "x.visible.total") - number(&mut session, "x.visible.total");
    assert!((180.0..480.0).contains(&more), "{more} s");
}

/// A roof whose closed end hangs at 2.00 m, and a telescope whose mount reaches to `top` m: nothing else is as tall.
fn parked_under_a_gable(top: f64) -> String {
    format!(
        "observatory o {{ rolls_open north; design_code eurocode }}
         site {{ latitude 50 deg }}
         slab floor {{ thickness 0.1 m }}
         wall w {{ stands_on floor; height 1.5 m }}
         roof r {{ shape gable; pitch 30 deg; ridge along; length 4 m; width 4 m; start 0 m; right_edge -2 m; eaves_level 2.2 m
                   slope_depth 100 mm; closed_end_bottom 2.00 m }}
         stop e {{ end open; stops r; fixed_to w; station 8 m; meets 4 m }}
         footing f {{ size 1 m by 1 m; depth 1 m }}
         pier p {{ stands_on f; foot_level 0 m; top_level 1 m; station 2 m; offset 0.3 m }}
         telescope t {{ stands_on p; mass 40 kg; axes_height {axes} m; swing 0.6 m; front 0.3 m; back 0.3 m; tube_diameter 0.1 m
                        mount_radius 0.4 m; park_azimuth 0 deg; park_altitude 0 deg; roof_gap_wanted 0 mm }}",
        axes = top - 1.0 - 0.4
    )
}

#[test]
fn a_telescope_forty_millimetres_too_tall() {
    let session = read(&parked_under_a_gable(2.04));
    let found = finding(&session, "sky.telescopes_clear_the_roof");
    assert_eq!(found.verdict, Verdict::Fail);
    // The ball of 0.4 m about 1.64 m is met 0.36 m above its middle: from √(0.4² − 0.36²) = 0.1744 m before it, less the 20 mm
    // that the closed end is thick.
    assert!(found.message.contains("40 mm too tall"), "{}", found.message);
    assert!(found.message.contains("when it is 1.806 m open"), "{}", found.message);
    assert!(found.message.contains("the closed end of r hits t"), "{}", found.message);
    let session = read(&parked_under_a_gable(1.999));
    assert_eq!(finding(&session, "sky.telescopes_clear_the_roof").verdict, Verdict::Pass);
    // A tie below the slopes is met first, and by its name; the lamp over nobody is not.
    let hung = parked_under_a_gable(1.90)
        + "roof_part tie { part_of r; stations 1 m to 1.1 m; offsets -2 m to 2 m; bottom 1.85 m }
           roof_part lamp { part_of r; stations 1 m to 1.1 m; offsets 1.5 m to 2 m; bottom 1.5 m }";
    let found = finding(&read(&hung), "sky.telescopes_clear_the_roof");
    assert!(found.message.contains("tie of r hits t") && found.message.contains("50 mm too tall"), "{}", found.message);
    // It says how much lower would do: 40 mm and the 30 mm that are wanted.
    let wanted = parked_under_a_gable(2.04).replace("roof_gap_wanted 0 mm", "roof_gap_wanted 30 mm");
    assert!(finding(&read(&wanted), "sky.telescopes_clear_the_roof").help.unwrap().contains("p.top_level of 0.93 m would do"));
}

#[test]
fn wires_lose_what_is_published() {
    let circuit = |volts: &str, amps: &str, wire: &str, length: &str, more: &str| {
        format!(
            "use wire\nobservatory o {{ rolls_open north; design_code asce7 }}
             supply s {{ voltage {volts}; earth_fault gfci }}
             cable c {{ from s; wire {wire}; length {length}; current {amps}; {more} }}"
        )
    };
    // 2 I R L with NEC chapter 9 Table 8, stranded at 75 °C: 12 AWG 7.92 V, 6.6 %; 14 AWG 120 ft 8 A 6.029 V.
    let mut session = read(&circuit("120 V", "20 A", "awg_12", "100 ft", "drop_allowed 3 %"));
    assert_relative_eq!(number(&mut session, "c.drop"), 7.92, max_relative = 1e-3);
    assert_eq!(finding(&session, "power.voltage_drop").verdict, Verdict::Fail);
    let mut session = read(&circuit("120 V", "8 A", "awg_14", "120 ft", "drop_allowed 3 %"));
    assert_relative_eq!(number(&mut session, "c.drop"), 6.029, max_relative = 1e-3);
    // IEC 60228, 2.5 mm², 10 A, 10 m: 1.482 V at 20 °C, 1.773 V at 70 °C, flexible 1.596 V at 20 °C; 6 mm² 20 A 4 m 0.4928 V.
    for (wire, amps, length, at, volts) in [
        ("copper_2_5", "10 A", "10 m", "20 degC", 1.482),
        ("copper_2_5", "10 A", "10 m", "70 degC", 1.773),
        ("flexible_2_5", "10 A", "10 m", "20 degC", 1.596),
        ("copper_6", "20 A", "4 m", "20 degC", 0.4928),
    ] {
        let mut session = read(&circuit("24 V", amps, wire, length, &format!("works_at {at}")));
        assert_relative_eq!(number(&mut session, "c.drop"), volts, max_relative = 1e-3);
    }
    // NEC Table 310.16 with its note: 12 AWG at 40 °C 25 → 22 A, and never more than 20 A (240.4(D)).
    let mut session = read(&circuit("120 V", "15 A", "awg_12", "10 ft", "ambient 40 degC"));
    assert_relative_eq!(number(&mut session, "c.heat_factor"), 0.88, max_relative = 5e-3);
    assert_relative_eq!(number(&mut session, "c.carries"), 20.0, max_relative = 1e-9);
    // 8 AWG at 40 °C: 50 → 44.1 A, and no more than 40 A, the 60 °C column of its terminals (110.14(C)(1)(a)); at 60 °C 28.9 A.
    let mut session = read(&circuit("120 V", "15 A", "awg_8", "10 ft", "ambient 40 degC"));
    assert_relative_eq!(number(&mut session, "c.heat_factor") * 50.0, 44.1, max_relative = 2e-3);
    assert_relative_eq!(number(&mut session, "c.carries"), 40.0, max_relative = 1e-9);
    let mut session = read(&circuit("120 V", "15 A", "awg_8", "10 ft", "ambient 60 degC"));
    assert_relative_eq!(number(&mut session, "c.carries"), 28.9, max_relative = 2e-3);
}

#[test]
fn motors_and_batteries_as_published() {
    let mut session = read("");
    // Ohm: 24 V over 0.35 Ω. NEMA code G, 20 hp, 460 V: 158 A. 100 Ah at 20 h, k 1.2, 10 A: 8.706 h.
    assert_relative_eq!(number(&mut session, "stall_current(voltage 24 V, resistance 0.35 ohm)"), 68.6, max_relative = 1e-3);
    let locked = "locked_rotor_current(power 20 hp, code_letter \"G\", voltage 460 V, circuit three_phase)";
    assert_relative_eq!(number(&mut session, locked), 158.0, max_relative = 2e-3);
    let lasts = "battery_lasts(charge 100 Ah, rated_time 20 h, exponent 1.2, current 10 A)";
    assert_relative_eq!(number(&mut session, lasts) / 3600.0, 8.706, max_relative = 1e-3);
    let stroke = "stroke_charge(currents [9 A, 40 A], times [45 s, 0.3 s])";
    assert_relative_eq!(number(&mut session, stroke) / 3600.0, 0.1158, max_relative = 1e-3);
}

#[test]
fn concrete_and_seals_as_published() {
    let mut session = read("");
    // ACI 209R-92 eq. 2-1: 0.7035 at 7 days; EN 1992-1-1 eq. 3.2, class N: 0.7788.
    assert_relative_eq!(number(&mut session, "concrete_share(code asce7, cement ordinary, age 7 day)"), 0.7035, max_relative = 5e-4);
    assert_relative_eq!(number(&mut session, "concrete_share(code eurocode, cement ordinary, age 7 day)"), 0.7788, max_relative = 5e-4);
    // 20 mm gap, 25 mm rod: 25 % oversize is 20 % compression.
    assert_relative_eq!(number(&mut session, "seal_compression(free 25 mm, gap 20 mm)"), 0.20, max_relative = 1e-9);
    assert_relative_eq!(number(&mut session, "seal_oversize(free 25 mm, gap 20 mm)"), 0.25, max_relative = 1e-9);
    assert_relative_eq!(number(&mut session, "backer_rod_diameter(foam closed_cells, gap 1/2 in)"), 0.625 * 0.0254, max_relative = 1e-9);
}

#[test]
fn a_dated_pour_gives_the_age() {
    let dates = bare_pier("nps_8_schedule_40", "1.2 m", "mass 40 kg; axes_height 0 mm")
        .replace("depth 1 m", "depth 1 m; poured 2027-04-02")
        .replace("foot_level 0 m", "foot_level 0 m; loaded 2027-04-05");
    let session = read(&dates);
    // ACI 209 at 3 days: 0.458.
    let found = finding(&session, "piers.cured_before_loaded");
    assert_eq!(found.verdict, Verdict::Fail);
    assert_abs_diff_eq!(found.capacity.unwrap().quantity.si, 0.458, epsilon = 5e-4);
}

#[test]
fn what_is_not_written_stays_open() {
    // Without the shear modulus nobody knows how the ground rocks; without the gable nobody knows what passes over.
    let session = read(&bare_pier("nps_8_schedule_40", "1.2 m", "mass 40 kg; axes_height 0 mm").replace("shear_modulus 30 MPa;", ""));
    let found = finding(&session, "piers.stiff_enough");
    assert_eq!(found.verdict, Verdict::Undetermined);
    assert!(found.missing.iter().any(|line| line.component == "soil" && line.property == "shear_modulus"), "{:?}", found.missing);
    let session = read(&parked_under_a_gable(1.9).replace("; closed_end_bottom 2.00 m", ""));
    assert_eq!(finding(&session, "sky.telescopes_clear_the_roof").verdict, Verdict::Undetermined);
}

#[test]
fn each_function_has_its_own_name() {
    let mut seen = std::collections::BTreeSet::new();
    for function in formulas::all().subjects().iter().flat_map(|(_, table)| table.iter()) {
        assert!(seen.insert(function.name), "two functions `{}`", function.name);
    }
}

#[test]
fn parameters_can_be_written_by_name() {
    // Words that an expression needs for itself cannot stand in front of an argument.
    let reserved = [
        "and", "or", "not", "if", "then", "else", "to", "by", "in", "for", "where", "like", "yes", "no", "required", "default", "assumed",
        "because", "source", "carrying", "at_least", "at_most", "above", "below",
    ];
    let subjects = ["piers", "concrete", "bodies and clearances", "sky", "power", "seals"];
    let tables = formulas::all().subjects().iter().filter(|(subject, _)| subjects.contains(subject));
    for function in tables.flat_map(|(_, table)| table.iter()) {
        for parameter in function.parameters {
            assert!(!reserved.contains(&parameter.name), "`{}` of `{}` cannot be written", parameter.name, function.name);
        }
    }
}

/// A broken example with one line changed: what the rule says then.
fn mended(example: &str, rule: &str, from: &str, to: &str) -> Vec<Verdict> {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/broken").join(example);
    let text = std::fs::read_to_string(path).unwrap();
    let failed = findings(&read(&text), rule);
    assert!(failed.iter().any(|finding| finding.verdict == Verdict::Fail), "{example}: {rule}");
    findings(&read(&crate::examples::changed(&text, from, to)), rule).into_iter().map(|finding| finding.verdict).collect()
}

#[test]
fn what_the_help_says_mends_it() {
    let all_pass = |verdicts: Vec<Verdict>| assert!(verdicts.iter().all(|verdict| *verdict == Verdict::Pass), "{verdicts:?}");
    // "dig pier_block to 48 in or deeper"; "wait 7 day"
    all_pass(mended("footing_above_the_frost.plate", "piers.footing_below_frost", "30 in            #", "48 in            #"));
    all_pass(mended("footing_above_the_frost.plate", "piers.cured_before_loaded", "concrete_age    2 day", "concrete_age    7 day"));
    // "a rod of 54 mm to 80 mm suits a gap of 40 mm"; "openings of 6 mm or less"
    for size in ["54 mm", "80 mm"] {
        all_pass(mended("mesh_for_rats.plate", "piers.infill_compresses", "size            40 mm", &format!("size            {size}")));
    }
    all_pass(mended("mesh_for_rats.plate", "piers.keeps_mice_out", "12.7 mm", "6 mm"));
    // "be content with 36 deg"; "park reflector 71 mm lower"; "set the piers 130 mm farther apart"
    all_pass(mended("wall_before_the_galaxy.plate", "sky.view_is_clear", "altitude        30 deg", "altitude        36 deg"));
    all_pass(mended(
        "gable_meets_the_telescope.plate",
        "sky.telescopes_clear_the_roof",
        "top_level       1.10 m",
        "top_level       1.029 m",
    ));
    all_pass(mended("nobody_tells_the_drive.plate", "sky.telescopes_clear_each_other", "station 2.55 m", "station 2.68 m"));
    // "a battery of 5 Ah or more of the same sort"; "a fuse of 16 A or less"; 6.4 times the copper of 1.5 mm2
    all_pass(mended("battery_too_small.plate", "power.battery_strokes", "2.9 Ah", "5 Ah"));
    all_pass(mended("mains_in_a_damp_shed.plate", "power.fuse_protects_wire", "fuse            32 A", "fuse            16 A"));
    all_pass(mended("wire_too_thin.plate", "power.voltage_drop", "flexible_1_5     #", "flexible_10      #"));
    // "a band 80 mm deeper"; "48 mm to 75 mm suit a gap of 45 mm" (which works by 5 mm either way)
    all_pass(mended("water_in_the_channel.plate", "weather.eave_overlap", "fascia          90 mm ", "fascia          170 mm"));
    all_pass(mended("water_in_the_channel.plate", "weather.seals_close", "size            30 mm", "size            60 mm"));
}
