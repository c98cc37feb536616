//! What has no answer because the state does not exist, and combinations that depend on the place.

use super::{EU, US, number, problems, refused, verdicts};
use approx::assert_relative_eq;
use wallplate::rules::Verdict;

/// 3 kN with 1 kN m act a third of a metre beside the middle of a footing 0.6 m wide: outside it.
#[test]
fn a_footing_that_tips_presses_with_nothing_that_one_could_name() {
    let call = |moment: &str| format!("footing_pressure(along 0.6 m, across 0.6 m, force 3 kN, moment {moment})");
    for field in ["largest", "smallest", "contact"] {
        assert!(refused(US, &format!("{}.{field}", call("1 kN*m"))).contains("turns over"));
    }
    // e = B/6: nothing left on one side, N/A (1 + 1) on the other.
    assert_relative_eq!(number(US, &format!("{}.largest", call("300 N*m"))), 2.0 * 3000.0 / 0.36, max_relative = 1e-9);
}

#[test]
fn the_rule_about_tipping_fails_and_the_one_about_the_ground_is_silent() {
    let design = "observatory o { rolls_open east; design_code eurocode }\nsite { wind_speed 26 m/s; terrain open_country; latitude 52 deg; frost_depth 0.5 m }\n\
        soil { bearing 100 kPa }\nfooting f { size 0.4 m by 0.4 m; depth 0.6 m }\n\
        pier_section tube { shape pipe; material steel; diameter 168 mm; wall 5 mm }\n\
        pier p { stands_on f; section tube; foot_level 0 m; top_level 1.2 m }\n\
        telescope t { stands_on p; mass 30 kg; axes_height 0.3 m; swing 0.6 m }\n";
    assert_eq!(problems(design), []);
    assert_eq!(verdicts(design, "piers.footing_does_not_tip")[0].0, Verdict::Fail);
    assert_eq!(verdicts(design, "piers.footing_bears"), []);
}

/// EN 1990:2002 Table A1.1: ψ0 of snow 0.5 up to 1000 m above the sea, 0.7 above. Wind leads: 1.35 G + 1.5 W + 1.5 ψ0 S.
#[test]
fn snow_counts_for_more_above_a_thousand_metres() {
    let wind = |elevation: &str| {
        let design = format!("{EU}site {{ wind_speed 26 m/s; terrain open_country; elevation {elevation} }}\n");
        number(
            &design,
            "load_states(load loads(dead 1 kN, snow 4 kN, wind 6 kN), code observatory.design_code, level strength, high observatory.high_ground).wind",
        )
    };
    assert_relative_eq!(wind("1000 m"), 1350.0 + 9000.0 + 1.5 * 0.5 * 4000.0, max_relative = 1e-9);
    assert_relative_eq!(wind("1001 m"), 1350.0 + 9000.0 + 1.5 * 0.7 * 4000.0, max_relative = 1e-9);
}

/// The same for a whole design: what a beam under a track passes on.
#[test]
fn the_beam_under_the_track_feels_it_too() {
    let call = |high: &str| {
        format!(
            "track_beam(first_end 0 m, last_end 4 m, rigidity 1 MN*m2, own_weight 0 N/m, supports [0 m, 4 m], wheels [2 m], loads [1 kN], snow [4 kN], travel 0 m, code eurocode, wind [6 kN]{high}).cases"
        )
    };
    let of_wind = |high: &str| number(EU, &format!("item({}, 5).moment", call(high)));
    // M = P L / 4, L 4 m.
    assert_relative_eq!(of_wind(""), 13_350.0, max_relative = 1e-9);
    assert_relative_eq!(of_wind(", high (yes)"), 14_550.0, max_relative = 1e-9);
}

#[test]
fn a_steel_section_is_not_of_a_timber_grade() {
    let beam = |grade: &str, stock: &str| {
        format!(
            "use timber\nuse steel\nobservatory o {{ rolls_open east; design_code eurocode }}\nslab s {{ thickness 0.1 m }}\nwall w {{ stands_on s; tied_to s; height 2 m }}\n\
                 beam b {{ rests_on w; runs 0 m to 3 m; grade {grade}; stock {stock} }}\n"
        )
    };
    let verdict = |grade: &str, stock: &str| verdicts(&beam(grade, stock), "structure.beam_material")[0].0;
    assert_eq!(verdict("c24", "timber_100_200"), Verdict::Pass);
    let (steel, tube) = steel_names();
    assert_eq!(verdict(&steel, &tube), Verdict::Pass);
    assert_eq!(verdict("c24", &tube), Verdict::Fail);
    assert_eq!(verdict(&steel, "timber_100_200"), Verdict::Fail);
}

/// The first grade and the first section of the built-in steel.
fn steel_names() -> (String, String) {
    let catalogue = include_str!("../../../src/trade/catalogue/steel.plate");
    let first = |kind: &str| {
        let line = catalogue.lines().find(|line| line.starts_with(kind)).unwrap();
        line.split_whitespace().nth(1).unwrap().to_owned()
    };
    (first("grade "), first("stock "))
}
