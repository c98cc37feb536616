//! What people read off the sheets, and off what is bought for them.

use super::desk::Desk;
use super::draw::{attribute, drawn, example, numbers, view};

/// What a carpenter asks of the sheets: where the door is (1050 + 900 + 1050 between walls 3000 apart) and how high (1750), how long studs
/// are between plates of 75 mm (1850 - 3 x 75), where rafters of 47 mm stand ((4500 - 47) / 8) and wheels (0.25 m from a roof that begins at
/// -0.15 m), how large the hole in the slab is (273 + 2 x 35), and whose east and west is meant.
#[test]
fn sheets_say_what_a_builder_asks_of_them() {
    let sheets = ["plan", "ends", "wall_frames", "roof_frame", "foundation", "levels"];
    let desk = drawn("heron_fold.plate", &sheets.iter().flat_map(|sheet| ["--sheet", sheet]).collect::<Vec<_>>());
    for (sheet, words) in [
        ("plan", vec![">1050<", ">900<", ">Door, 0.9 m wide<", ">South-east clamp<", ">West closed stop<"]),
        ("ends", vec![">1050<", ">900<", ">1750<", ">3000<", ">3200<", ">3500<"]),
        ("wall_frames", vec![">1625<", ">75<", ">4200<", ">3000<", ">1750<"]),
        ("roof_frame", vec![">~556.6<", ">400<", ">1850<", "195 by 45 mm, laid flat<", "West sill", ">Rafter tie: 9 of 2.77 m<"]),
        ("foundation", vec![">Opening in floor: 343 mm by 343 mm<", ">1300<", ">1500<"]),
        ("levels", vec!["Top of east sill, west sill"]),
    ] {
        let svg = desk.read(&format!("drawings/{sheet}.svg"));
        for word in words {
            assert!(svg.contains(word), "{word} on {sheet}");
        }
    }
    // In the plan the wall is cut on both sides of its door and open between.
    let plan = desk.read("drawings/plan.svg");
    let plan = view(&plan, "plan");
    let cut = plan.of("south_wall").concat();
    let offsets = cut.split("<path ").skip(1).filter(|path| path.contains("class=\"cut\"")).flat_map(|path| {
        let at = numbers(attribute(path, " d"));
        at.chunks(2).map(|at| (plan.origin[1] - at[1]) / plan.ratio / 1000.0).collect::<Vec<_>>()
    });
    let offsets: Vec<f64> = offsets.collect();
    assert!(offsets.len() >= 8 && offsets.iter().all(|at| *at < 1.1502 || *at > 2.0498), "{offsets:?}");
}

/// Of bars of 3.6 m at most no sill of 4.50 m is made in one piece: it may be joined over the wheel that is within 3.6 m of both ends, at
/// 2.10 m of 0.25, 2.10 and 3.95 m. A ridge beam of 14 ft 6 in that two posts carry is joined nowhere.
#[test]
fn what_is_longer_than_sold_says_where_it_may_be_joined() {
    let short = example("heron_fold.plate").replace("merchant { }", "merchant { timber_lengths 3 m, 3.6 m }");
    let bought = Desk::with(&short).run(&["takeoff", "a.plate"]).out;
    let bought = bought.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(bought.contains("joint of east sill, where it is not ordered in one piece: over the wheel at 2.1 m"), "{bought}");
    assert!(!bought.contains("joint of roof rafter"), "1.90 m is sold");
    let short = example("tamarack_bench.plate").replace("merchant { ", "merchant { timber_lengths 8 ft, 12 ft; ");
    let bought = Desk::with(&short).run(&["takeoff", "a.plate"]).out;
    let bought = bought.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(bought.contains("no joint of roof ridge: ordered in one piece of 14 ft 6 in"), "{bought}");
}

/// What stands somewhere has its side in words; a cable's letter may be neutral or earth.
#[test]
fn points_of_the_compass_are_said_in_words() {
    let text = format!("{}\ncable cable_n {{ from mains; wire copper_2_5; length 4 m }}\n", example("heron_fold.plate"));
    let desk = Desk::with(&text);
    for (asked, said) in [
        ("clamp_se.in_words", "south-east clamp"),
        ("closed_stop_w.in_words", "west closed stop"),
        ("storm_tie_e[2].in_words", "east storm tie 2"),
        ("east_gantry[1].in_words", "east gantry 1"),
        ("cable_n.in_words", "cable n"),
    ] {
        let done = desk.run(&["value", "a.plate", asked]);
        assert_eq!(done.out.trim(), said, "{}", done.err);
    }
}

/// A shed roof of 13 by 11 ft that rises the way it opens has its rafters along the travel: they stand along its 11 ft and are 13 ft long.
#[test]
fn rafters_lie_the_way_the_roof_falls() {
    let turned = example("sorrel_kettle.plate").replace("rises              left", "rises              opening");
    for (text, run, reach) in [(example("sorrel_kettle.plate"), "13 ft", "11 ft"), (turned, "11 ft", "13 ft")] {
        let desk = Desk::with(&text);
        let value = |asked: &str| desk.run(&["value", "a.plate", asked]).out.trim().to_owned();
        assert_eq!([value("roof_rafter.run"), value("roof_rafter.reach"), value("main_roof.eave_to_ridge")], [run, reach, reach]);
    }
}
