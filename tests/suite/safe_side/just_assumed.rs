//! What a builder writes in place of what is taken on the safe side: just believed and just not.

use super::just::{FAIL, TIGHT, first};

const SHORT: &str = include_str!("../../../examples/broken/posts_bow_over_half_a_metre.plate");
const GRAIN: &str = include_str!("../../../examples/broken/pushed_along_the_grain.plate");
const HELD: &str = include_str!("../../../examples/broken/rafters_held_down_by_words.plate");
const SKY: &str = include_str!("../../../examples/broken/end_board_in_the_sky.plate");
const NAMED: &str = include_str!("../../../examples/broken/wall_named_for_its_plate.plate");
const MONDAY: &str = include_str!("../../../examples/broken/somebody_comes_on_monday.plate");

/// 0.85 of 2.20 m and of 2.40 m; a post that is held half way in both directions bows over half of it.
#[test]
fn posts_and_beams_are_braced_as_they_say() {
    let rule = "structure.post_is_braced_as_written";
    let post = |free: &str| SHORT.replace("unbraced      0.5 m", &format!("unbraced {free}"));
    for (free, due) in [("1.88 m", None), ("1.86 m", FAIL)] {
        assert_eq!(first(&post(free), rule), due, "{free}");
    }
    let along = "brace along { joins east_post[1], pad[1]; from 2.4 m, 0.05 m, 1 m; to 3 m, 0.05 m, -150 mm }\n";
    let across = "brace across { joins east_post[1], pad[1]; from 2.4 m, 0.05 m, 1 m; to 2.4 m, 0.6 m, -150 mm }\n";
    for (braces, due) in [(String::new(), 2), (along.to_owned(), 2), (across.to_owned(), 2), (format!("{along}{across}"), 1)] {
        assert_eq!(super::verdicts(&format!("{SHORT}{braces}"), rule).len(), due, "{braces}");
    }
    let rule = "structure.beam_is_braced_as_written";
    let beam = |free: &str| SHORT.replace("unbraced      0.6 m", &format!("unbraced {free}"));
    for (free, due) in [("2.05 m", None), ("2.03 m", FAIL)] {
        assert_eq!(first(&beam(free), rule), due, "{free}");
    }
}

/// EN 1991-1-1:2002 Table A.1: 24 kN/m3, 25 with its steel; 6 % are let pass, twelve are no concrete of that mix.
#[test]
fn concrete_weighs_what_its_mix_weighs() {
    let slab = |density: f64| SHORT.replace("2600 kg/m3", &format!("{density} kg/m3"));
    for (density, due) in [(2543.0, None), (2545.0, TIGHT), (2687.0, TIGHT), (2689.0, FAIL)] {
        assert_eq!(first(&slab(density), "structure.slab_weighs_as_its_mix"), due, "{density}");
    }
    let mix = super::number(SHORT, "pad[1].mix.density");
    let pad = |density: f64| SHORT.replace("2800 kg/m3", &format!("{density} kg/m3"));
    for (part, due) in [(1.059, None), (1.061, TIGHT), (1.121, FAIL)] {
        assert_eq!(first(&pad(mix * part), "structure.footing_weighs_as_its_mix"), due, "{part}");
    }
}

/// 430 kg over its slope, 4.20 m by 3.20 m over the cosine of 7 degrees: 31.8 kg/m2.
#[test]
fn rafters_hold_down_no_more_than_the_roof() {
    let whole = 430.0 * 7_f64.to_radians().cos() / (4.2 * 3.2);
    let with = |weight: f64| HELD.replace("45 kg/m2", &format!("{weight} kg/m2"));
    for (weight, due) in [(whole - 0.1, super::just::PASS), (whole + 0.1, FAIL)] {
        assert_eq!(first(&with(weight), "roofing.covering_within_the_roof"), due, "{weight}");
    }
}

#[test]
fn promises_are_told() {
    for (angle, due) in [(80.0, None), (79.0, TIGHT)] {
        let text = GRAIN.replace("push_angle    0 deg", &format!("push_angle {angle} deg"));
        assert_eq!(first(&text, "holddown.wind_pushes_from_any_side"), due, "{angle}");
    }
    assert_eq!(first(MONDAY, "storm.somebody_comes_within_days"), TIGHT);
    assert_eq!(first(&MONDAY.replace("days  #", "any_time  #"), "storm.somebody_comes_within_days"), None);
}

/// A rod is as strong as the weaker of its data sheet and of what fastens its ends.
#[test]
fn a_tie_holds_no_more_than_its_ends() {
    let heron = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/heron_fold.plate");
    let text = std::fs::read_to_string(heron).unwrap();
    let rated = |pull: &str| text.replacen("  raised_by     60 mm\n", &format!("  raised_by     60 mm\n  rated_pull {pull}\n"), 1);
    for (pull, due) in [("20 kN", 4000.0), ("3 kN", 3000.0)] {
        approx::assert_relative_eq!(super::number(&rated(pull), "rafter_tie.holds"), due, max_relative = 1e-9);
    }
}

/// 40 N/mm2 on 100 by 100 mm: W = b d^2 / 6 = 166 667 mm3, 6.667 kNm.
#[test]
fn a_foot_is_no_stronger_than_its_post() {
    for (holds, due) in [(6.66, None), (6.67, FAIL)] {
        let text = SHORT.replace("60 kNm", &format!("{holds} kNm"));
        assert_eq!(first(&text, "sideways.foot_no_stronger_than_its_post"), due, "{holds}");
    }
}

/// Half of 3.00 m at 20 degrees over eaves of 2.20 m: 2.746 m.
#[test]
fn an_open_end_hangs_below_its_roof() {
    for (level, due) in [(2.74, None), (2.75, FAIL)] {
        let text = SKY.replace("7.5 m", &format!("{level} m"));
        assert_eq!(first(&text, "space.open_end_hangs_below_the_roof"), due, "{level}");
    }
}

/// Two plates of 45 mm on the studs, in a wall of 100 mm: 105 mm of wood at the most.
#[test]
fn a_wall_has_the_wood_of_its_plates() {
    for rule in ["structure.clamp_wood_in_its_wall", "structure.bracket_wood_in_its_wall"] {
        for (wood, due) in [(105.0, None), (106.0, TIGHT)] {
            let text = NAMED.replace("wood          150 mm", &format!("wood {wood} mm"));
            assert_eq!(first(&text, rule), due, "{rule} {wood}");
        }
    }
    assert_eq!(first(&NAMED.replace("anchored_to   left_wall", "anchored_to   left_plate"), "structure.clamp_wood_in_its_wall"), None);
}

const ROWS: &str = include_str!("../../../examples/broken/rows_stronger_than_their_screws.plate");
const BRIDGE: &str = include_str!("../../../examples/broken/screws_of_a_bridge.plate");
const WORM: &str = include_str!("../../../examples/broken/worm_stronger_than_its_teeth.plate");
const BESIDE: &str = include_str!("../../../examples/broken/telescope_beside_its_pier.plate");

/// A row of two screws that is rated for 1.4 kN up and 1.1 kN sideways; a hundredth is let pass.
#[test]
fn a_motor_plate_holds_as_what_fastens_it() {
    let rule = "drive.plate_holds_as_its_joint";
    for (line, due) in [
        ("row_tension 1.41 kN", None),
        ("row_tension 1.42 kN", FAIL),
        ("shear 2.22 kN", None),
        ("shear 2.23 kN", FAIL),
        ("row_tension 0.5 kN; shear 0.5 kN", None),
    ] {
        let text = ROWS.replace("row_tension   2.8 kN  #", &format!("{line}  #"));
        assert_eq!(first(&text, rule), due, "{line}");
    }
}

/// NDS 2018 Table 12B: 45 N/mm2 on the square of a hole of 11 mm, 5.445 kN a bolt in wood; bolts of 8.8 in steel 250 N/mm2, 30.25 kN.
#[test]
fn a_motor_plate_holds_as_its_bolts() {
    let rule = "drive.plate_holds_as_its_bolts";
    let with = |pull: f64, shear: f64| {
        BRIDGE
            .replace("row_tension   22 kN", &format!("row_tension {pull} kN"))
            .replace("shear         18 kN", &format!("shear {shear} kN"))
    };
    for (pull, shear, due) in
        [(10.8, 21.7, None), (11.0, 10.0, TIGHT), (10.0, 21.9, TIGHT), (16.2, 10.0, TIGHT), (16.4, 10.0, FAIL), (10.0, 32.8, FAIL)]
    {
        assert_eq!(first(&with(pull, shear), rule), due, "{pull} {shear}");
    }
    let steel =
        with(60.0, 60.0).replace("use timber", "use timber\nuse steel").replace("c24", "s235").replace("timber_100_100", "shs_100_5");
    assert_eq!(first(&steel, rule), None);
    assert_eq!(first(&steel.replace("row_tension 60 kN", "row_tension 61 kN"), rule), TIGHT);
}

/// What holds the roof at the rack goes through its teeth.
#[test]
fn a_gear_holds_no_harder_than_its_teeth() {
    let teeth = super::number(WORM, "sill_rack.tooth_pull");
    for (holds, due) in [(teeth - 1.0, None), (teeth + 1.0, FAIL)] {
        let text = WORM.replace("holding_force  4 kN", &format!("holding_force {holds} N"));
        assert_eq!(first(&text, "drive.holds_no_harder_than_its_teeth"), due, "{holds}");
    }
    let chained =
        WORM[..WORM.find("pinion drive_pinion").unwrap()].replace("stall_force    1.4 kN", "stall_force 1.4 kN; chain_holds 3.9 kN");
    assert_eq!(first(&chained, "drive.holds_no_harder_than_its_teeth"), FAIL);
    assert_eq!(first(&chained.replace("3.9 kN", "4.1 kN"), "drive.holds_no_harder_than_its_teeth"), None);
}

/// Common practice, no source: the axes of a mount meet no farther from its foot than its own half, here 280 mm.
#[test]
fn a_telescope_stands_on_its_pier() {
    for (station, due) in [("2.33 m", None), ("2.31 m", TIGHT), ("2.05 m", TIGHT), ("2.03 m", FAIL), ("3.17 m", FAIL)] {
        let text = BESIDE.replace("1.60 m  #", &format!("{station}  #"));
        assert_eq!(first(&text, "sky.telescope_on_its_pier"), due, "{station}");
    }
}

/// Geometry: from the first post to the third 2.40 m, on a pad of half a metre; a strip as long as that carries them all.
#[test]
fn posts_stand_on_their_footing_together() {
    const GRASS: &str = include_str!("../../../examples/broken/three_posts_on_one_pad.plate");
    let rule = "space.posts_fit_on_their_footing";
    assert_eq!(first(GRASS, rule), FAIL);
    assert_eq!(first(&GRASS.replace("stands_on     pad[1]", "stands_on pad[index]"), rule), None);
    for (size, due) in [("2.41 m by 500 mm", None), ("2.39 m by 500 mm", FAIL), ("500 mm by 2.41 m", FAIL)] {
        assert_eq!(first(&GRASS.replace("500 mm by 500 mm", size), rule), due, "{size}");
    }
}
