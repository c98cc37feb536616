//! Slips of the pen that a number shows: told at their line, in a builder's words.

use super::{EU, US, number, problems, refused};
use approx::assert_relative_eq;

/// The one problem of these lines: what is under it and what is said.
fn slip(lines: &str) -> (String, String) {
    let said = problems(&format!("{EU}{lines}\n"));
    assert_eq!(said.len(), 1, "{said:?}");
    said.into_iter().next().unwrap()
}

#[test]
fn wheels_that_cannot_be() {
    let wheels = |lines: &str| {
        slip(&format!(
            "wheels w {{ runs_on t; stations 0 m, 1 m; diameter 100 mm; axle_diameter 12 mm; {lines} }}\ntrack t {{ profile flat; runs 0 m to 3 m; offset 0 m; level 2 m; rests_on k }}\nwall k {{ stands_on s; height 2 m }}\nslab s {{ thickness 0.1 m }}"
        ))
    };
    assert_eq!(
        wheels("lever_arm 0.0005 mm"),
        ("0.0005 mm".to_owned(), "`lever_arm` cannot be 0.0005 mm: it is at least 0.01 mm".to_owned())
    );
    assert_eq!(wheels("lever_arm 500 mm").0, "500 mm");
    assert_eq!(wheels("bearing_friction 5").0, "5");
    let call = |lines: &str| format!("wheel_resistance(diameter 100 mm, {lines}, rim_friction 0.003)");
    assert!(refused(EU, &call("axle_diameter 12 mm, lever_arm 0.0005 mm, bearing_friction 0.005")).contains("half a millimetre"));
    assert!(refused(EU, &call("axle_diameter 12 mm, lever_arm 500 mm, bearing_friction 0.005")).contains("half a millimetre"));
    assert!(refused(EU, &call("axle_diameter 120 mm, lever_arm 0.5 mm, bearing_friction 0.005")).contains("no larger than the wheel"));
    assert!(refused(EU, &call("axle_diameter 12 mm, lever_arm 0.5 mm, bearing_friction 5")).contains("coefficient"));
    // Half a millimetre: (2 x 0.5 + 0.005 x 12) / 100 + 0.003.
    assert_relative_eq!(number(EU, &call("axle_diameter 12 mm, lever_arm 0.5 mm, bearing_friction 0.005")), 0.0136, max_relative = 1e-9);
}

#[test]
fn an_axle_is_not_thicker_than_its_wheel() {
    let (under, said) = slip(
        "wheels w { runs_on t; stations 0 m, 1 m; diameter 100 mm; axle_diameter 120 mm }\ntrack t { profile flat; runs 0 m to 3 m; offset 0 m; level 2 m; rests_on k }\nwall k { stands_on s; height 2 m }\nslab s { thickness 0.1 m }",
    );
    assert_eq!((under.as_str(), said.contains("at most 100 mm")), ("120 mm", true), "{said}");
}

#[test]
fn wood_as_heavy_as_lead() {
    assert_eq!(slip("grade g { family timber; gravity 50 }").0, "50");
    let lag = "nds_lag_screw(gravity 50, diameter 6 mm, root 4 mm, tensile_strength 400 MPa, length 60 mm, thread 40 mm, tip 4 mm, through 5 mm, wood 90 mm, grain side, damp covered)";
    assert!(refused(US, lag).contains("that of a wood"));
    assert!(
        refused(US, "nds_nail_pulled(gravity 50, diameter 4 mm, length 90 mm, through 20 mm, wood 90 mm, grain side, damp covered)")
            .contains("that of a wood")
    );
}

/// Wood Handbook Table 13-5: 0.0024 for a softwood is 0.24 % for each 1 % of moisture.
#[test]
fn a_shrinkage_coefficient_in_percent() {
    assert_eq!(slip("species s { tangential 0.24 }").0, "0.24");
    let call = |coefficient: &str| {
        format!("timber_movement(dimension 200 mm, coefficient {coefficient}, shrinkage 0.078, saturation 0.3, before 0.08, after 0.12)")
    };
    assert!(refused(EU, &call("0.24")).contains("0.0024 is 0.24 %"));
    assert_relative_eq!(number(EU, &call("0.24 %")), 0.2 * 0.0024 * 4.0, max_relative = 1e-9);
}

#[test]
fn numbers_of_the_sky_and_the_air() {
    assert_eq!(slip("site { wind_speed 26 m/s; latitude 92 deg }").0, "92 deg");
    for call in [
        "celestial_pole(latitude 92 deg)",
        "time_above(altitude 30 deg, declination 10 deg, latitude 92 deg)",
        "star(hour_angle 10 deg, declination 10 deg, latitude 92 deg)",
    ] {
        assert!(refused(EU, call).contains("from -90 to 90 deg"), "{call}");
    }
    assert!(refused(EU, "star(hour_angle 10 deg, declination 100 deg, latitude 52 deg)").contains("declination"));
    assert!(refused(EU, "refraction(altitude 10 deg, formula bennett, pressure 1013 kPa)").contains("from 300 to 1100 hPa"));
    assert!(number(EU, "refraction(altitude 10 deg, formula bennett, pressure 101.3 kPa)") > 0.0);
    assert!(refused(EU, "assured_distance(rated 8 mm, reduction 40)").contains("at most 1"));
}

#[test]
fn half_a_bolt() {
    let pier = "pier p { stands_on f; top_level 1 m; foot_level 0 m }\nfooting f { size 0.6 m by 0.6 m; depth 0.6 m }\n";
    let (under, said) = slip(&format!("{pier}base_bolts b {{ under p; count 4.5; circle 200 mm; working_load 2 kN }}"));
    assert_eq!((under.as_str(), said.as_str()), ("4.5", "`count` cannot be 4.5: it counts things: a whole number"));
    assert!(refused(EU, "bolt_pull(moment 1 kN*m, weight 1 kN, bolts 4.5, circle 200 mm)").contains("whole number"));
    for lines in [
        "joint j { joined nailed; count 2.5 }",
        "rafter r { of x; grade c24; stock timber_80_200; span 2 m; spacing 0.6 m; pieces 1.5 }\nroof x { mass 400 kg }",
        "pinion n { driven_by d; teeth 17.5 }\nroof x { mass 400 kg }\ndrive d { moves x; speed 0.1 m/s; reaction_time 0.1 s }",
    ] {
        assert!(slip(lines).1.contains("a whole number"), "{lines}");
    }
}

#[test]
fn lists_that_do_not_match() {
    let section = "timber_section(breadth 100 mm, depth 100 mm, piece 100 mm)";
    let post = |forces: &str| {
        format!("timber_post(values c24.values, section {section}, length 2 m, damp covered, forces {forces}, code eurocode).used")
    };
    for forces in ["[1 kN, 1 kN, 1 kN, 1 kN, 1 kN, 1 kN, 90 kN]", "[1 kN, 1 kN]"] {
        assert!(refused(EU, &post(forces)).contains("six"), "{forces}");
    }
    assert!(number(EU, &post("[1 kN, 1 kN, 1 kN, 1 kN, 1 kN]")) > 0.0);
    let bearing = format!(
        "timber_bearing(values c24.values, section {section}, damp covered, forces [1 kN, 1 kN, 1 kN, 1 kN, 1 kN, 1 kN, 90 kN], area 1 m2, code eurocode).stress"
    );
    assert!(refused(EU, &bearing).contains("six"));
    let by_hand = |wheels: &str, section: &str| {
        format!(
            "moment_by_hand(first_end 0 m, last_end 4 m, rigidity 1 MN*m2, own_weight 0 N/m, supports [0 m, 4 m], wheels {wheels}, loads [1 kN], travel 0 m, section {section}).moment"
        )
    };
    assert!(refused(EU, &by_hand("[1 m, 2 m]", "2 m")).contains("one station and one load each"));
    assert!(refused(EU, &by_hand("[2 m]", "5 m")).contains("on the beam"));
    assert_relative_eq!(number(EU, &by_hand("[2 m]", "2 m")), 1000.0, max_relative = 1e-9);
    let line =
        "beam_line(first_end 0 m, last_end 4 m, rigidity 1 MN*m2, own_weight 0 N/m, supports [0 m, 4 m], wheels [1 m, 2 m], loads [1 kN])";
    assert!(refused(EU, &format!("beam_under_wheels(line {line}, travel 0 m).sag")).contains("one station and one load each"));
}

#[test]
fn wheels_beside_the_beam_are_counted() {
    let off = |travel: &str| {
        number(
            EU,
            &format!(
                "track_beam(first_end 0 m, last_end 4 m, rigidity 1 MN*m2, own_weight 0 N/m, supports [0 m, 4 m], wheels [0.5 m, 2.5 m], loads [1 kN, 1 kN], snow [0 N, 0 N], travel {travel}, code eurocode).wheels_off"
            ),
        )
    };
    assert_relative_eq!(off("1.5 m"), 0.0);
    assert_relative_eq!(off("2 m"), 1.0);
    assert_relative_eq!(off("4 m"), 2.0);
}
