//! Where the blow on a stop goes, just held and just not: through the rail it is fixed to, the beam below, the wall.

use super::just::{FAIL, PASS, TIGHT, findings, first};
use wallplate::rules::Verdict;

const CLIPS: &str = include_str!("../../../examples/broken/rail_on_two_clips.plate");
const GABLE: &str = include_str!("../../../examples/broken/stop_against_the_gable.plate");
const HERON: &str = "heron_fold.plate";
const OPEN: Option<Verdict> = Some(Verdict::Undetermined);

/// Conservation of energy: k = 2 x 40 J / (15 mm)^2; k x^2 / 2 = 20 J + 600 N x gives 12.427 mm, and with that 4418.6 N. A tenth is left.
#[test]
fn the_rail_holds_the_stop_on_it() {
    let (stiffness, energy, push): (f64, f64, f64) = (2.0 * 40.0 / 0.015_f64.powi(2), 20.0, 600.0);
    let force = push + (push * push + 2.0 * stiffness * energy).sqrt();
    assert!((force - 4418.6).abs() < 0.1, "{force}");
    let rule = "structure.rail_takes_the_blow";
    let held = |line: &str| CLIPS.replace("held_sideways  900 N", line);
    for (holds, due) in [(force / 0.9 + 1.0, PASS), (force / 0.9 - 1.0, TIGHT), (force - 0.1, FAIL)] {
        assert_eq!(first(&held(&format!("held_sideways {holds} N")), rule), due, "{holds}");
    }
    assert_eq!(first(&held(""), rule), OPEN);
    // The stalled drive may push harder than the blow.
    let stalls = |stall: &str| held("held_sideways 5 kN").replace("stall_force 1 kN", stall);
    for (stall, due) in [("stall_force 4.49 kN", PASS), ("stall_force 4.51 kN", TIGHT), ("stall_force 5.01 kN", FAIL)] {
        assert_eq!(first(&stalls(stall), rule), due, "{stall}");
    }
}

#[test]
fn a_wall_across_the_travel_is_no_place_for_a_stop() {
    let rule = "structure.stop_not_on_a_wall_across";
    assert_eq!(first(GABLE, rule), FAIL);
    assert_eq!(first(&GABLE.replace("station       0 m", "offset 0 m"), rule), None);
    assert_eq!(first(&GABLE.replace("built         studs", "built solid"), rule), TIGHT);
}

/// What pushes on the beam is the same whether the stop is bolted to it or to the rail on it.
#[test]
fn the_blow_goes_on_through_the_rail() {
    let demand = |changes: &str, rule: &str, of: &str| {
        let found = findings(HERON, changes, rule).into_iter().find(|finding| finding.subjects.iter().any(|subject| subject == of));
        found.and_then(|finding| finding.demand).map(|demand| demand.quantity.si)
    };
    let on = |part: &str| format!("open_stop {{ fixed_to {part} }}\nclosed_stop {{ fixed_to {part} }}");
    for (rule, of) in [("sideways.push_along_is_held", "east_plate"), ("sideways.wall_racking", "east_wall")] {
        let on_beam = demand(&on("east_plate"), rule, of);
        assert!(on_beam.is_some_and(|push| push > 2000.0), "{rule}: {on_beam:?}");
        assert_eq!(demand(&on("east_track"), rule, of), on_beam, "{rule}");
    }
    let on_wall = demand(&on("east_wall"), "sideways.wall_racking", "east_wall");
    assert_eq!(on_wall, demand("", "sideways.wall_racking", "east_wall"));
}

const BOLLARD: &str = include_str!("../../../examples/broken/stop_on_a_bollard.plate");
const ANGLE: &str = include_str!("../../../examples/broken/stop_on_a_bent_angle.plate");
const CROSS: &str = include_str!("../../../examples/broken/stop_on_the_end_beam.plate");
const POSTS: &str = include_str!("../../../examples/broken/gantry_apart_from_its_walls.plate");

/// The blow on one stop alone, as above: 4418.7 N.
fn blow() -> f64 {
    let (stiffness, energy, push): (f64, f64, f64) = (2.0 * 40.0 / 0.015_f64.powi(2), 20.0, 600.0);
    push + (push * push + 2.0 * stiffness * energy).sqrt()
}

#[test]
fn the_blow_goes_on_through_a_bracket() {
    let rule = "sideways.bracket_takes_the_blow";
    let held = |sideways: f64| ANGLE.replace("rated_sideways 1.6 kN", &format!("rated_sideways {sideways} N"));
    for (holds, due) in [(blow() / 0.9 + 1.0, PASS), (blow() / 0.9 - 1.0, TIGHT), (blow() - 0.5, FAIL)] {
        assert_eq!(first(&held(holds), rule), due, "{holds}");
    }
    // What only lies on its beam holds nothing; a cleat that keeps it from sliding does.
    let laid = held(9000.0).replace("tied_to       west_plate\n  tied_by", "kept_by       []\n  tied_by");
    assert_eq!(first(&laid, rule), FAIL);
    let cleat = held(9000.0).replace("tied_to       west_plate\n  tied_by", "kept_by       west_plate\n  kept_with");
    assert_eq!(first(&cleat, rule), PASS);
}

/// A lever on its foot: 4418.7 N at the top of the post, 2.20 m above its foot, 3.00 m above the ground of the hole.
#[test]
fn a_post_takes_the_blow_like_a_flagpole() {
    let turned = blow() * 2.20;
    let holds = |moment: f64| BOLLARD.replace("foot_holds    2 kNm", &format!("foot_holds    {moment} Nm"));
    for (moment, due) in [(turned / 0.9 + 1.0, PASS), (turned / 0.9 - 1.0, TIGHT), (turned - 1.0, FAIL)] {
        assert_eq!(first(&holds(moment), "sideways.post_takes_the_blow"), due, "{moment}");
    }
    assert_eq!(first(&BOLLARD.replace("foot_holds    2 kNm", ""), "sideways.post_takes_the_blow"), OPEN);
    let tied = |sideways: f64| BOLLARD.replace("rated_sideways 3 kN", &format!("rated_sideways {sideways} N"));
    for (sideways, due) in [(blow() / 0.9 + 1.0, PASS), (blow() / 0.9 - 1.0, TIGHT), (blow() - 0.5, FAIL)] {
        assert_eq!(first(&tied(sideways), "sideways.post_stays_in_the_blow"), due, "{sideways}");
    }
    // IBC 2018 Table 1806.2, sand: 150 psf for each foot; its triangle about the bottom of the hole, and 0.6 of what stands there.
    let soil = 23_563.0 * 0.8_f64.powi(3) / 6.0 * 3.0;
    let least = |length: f64| 0.6 * (length * 3.0 * 0.8 * 24_000.0) * length / 2.0 + soil;
    let (mut short, mut long) = (0.1, 3.0);
    for _ in 0..60 {
        let middle = (short + long) / 2.0;
        if least(middle) < blow() * 3.0 { short = middle } else { long = middle }
    }
    let pad = |length: f64| BOLLARD.replace("size 500 mm by 500 mm", &format!("size {length} m by 3 m"));
    assert_eq!(first(&pad(long * 0.98), "sideways.footing_bears_the_blow"), FAIL);
    assert_eq!(first(&pad(long * 1.15), "sideways.footing_bears_the_blow"), PASS);
}

/// Seen whole: bent by 1.5 of the blow (EN 1990), C24 in the rain 24 x 0.7 / 1.3 N/mm2 (EN 1995-1-1).
#[test]
fn a_post_bends_in_the_blow() {
    let text = std::fs::read_to_string(std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/heron_fold.plate")).unwrap();
    let more = "footing bollard_pad { size 900 mm by 600 mm; depth 700 mm; mix c25_30 }\npost bollard { stands_on bollard_pad; tied_to bollard_pad; \
                tied_by post_base; station 8.80 m; offset east_line; height 2.3 m; grade c24; stock sawn }\nstock sawn \"Sawn\" { breadth 200 mm; depth SIZE mm }\n";
    let with = |size: f64| {
        let stopped = text.replacen("stop open_stop like east_stop {", "stop open_stop like east_stop {\n  fixed_to bollard", 1);
        format!("{stopped}\n{}", more.replace("SIZE", &size.to_string()))
    };
    let found = first(&with(100.0), "sideways.post_bends_in_the_blow");
    assert_eq!(found, FAIL);
    let strength: f64 = 24e6 * 0.7 / 1.3;
    let deep = (6.0 * 1.5 * 4417.7 * 2.3 / (strength * 0.2)).sqrt() * 1000.0;
    assert_eq!(first(&with(deep * 0.96), "sideways.post_bends_in_the_blow"), FAIL, "{deep}");
    assert_eq!(first(&with(deep * 1.10), "sideways.post_bends_in_the_blow"), PASS, "{deep}");
    // Tied to the plate, which a wall holds: the plate takes the push, and no foot need be good for it.
    let gantry = text.replacen("stop open_stop like east_stop {", "stop open_stop like east_stop {\n  fixed_to east_gantry[3]", 1);
    assert_eq!(first(&gantry, "sideways.post_takes_the_blow"), None);
    assert_eq!(first(&gantry, "sideways.push_along_is_held"), PASS);
}

/// Two stops of one end on one plate share one energy: k of both together, and what pushes on while only the softer is touched.
#[test]
fn two_stops_on_one_beam_push_together() {
    let text = std::fs::read_to_string(std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/heron_fold.plate")).unwrap();
    let demand = |text: &str| {
        let session = super::read(text);
        let asked = wallplate::rules::Options { only: Some("sideways.push_along_is_held".into()), ..Default::default() };
        let found = session.check(&asked).into_iter().find(|finding| finding.subjects == ["east_plate"]).unwrap();
        found.demand.unwrap().quantity.si
    };
    let both = text.replacen("stop open_stop_w like west_stop {", "stop open_stop_w like west_stop { fixed_to east_plate;", 1);
    let (energy, push) = (super::number(&text, "open_stop.brought"), super::number(&text, "open_stop.push"));
    let stiffness = 2.0 * (2.0 * 40.0 / 0.015_f64.powi(2));
    let force = push + (push * push + 2.0 * stiffness * (energy + push * push / (2.0 * stiffness))).sqrt();
    approx::assert_relative_eq!(super::number(&text, "open_stop.together.force"), force, max_relative = 1e-6);
    let (one, two) = (demand(&text), demand(&both));
    assert!(two > one * 1.2 && two < one * 2.0, "{one} {two}");
}

/// Three stops of one end, struck one after the other: whatever the lags are, no more than `together`; with the softest first and the
/// others after P / k just that. By bisection of the work done.
#[test]
fn three_stops_push_no_more_than_together() {
    let text = std::fs::read_to_string(std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/heron_fold.plate")).unwrap();
    let third = format!(
        "{text}\nstop open_stop_m like oak_stop {{ end open; station 8.675 m; meets 4.35 m; fixed_to east_plate; offset 1.6 m; stiffness 150 N/mm }}\n"
    );
    let (energy, push) = (super::number(&third, "open_stop.brought"), super::number(&third, "open_stop.push"));
    let hard = [2.0 * 40.0 / 0.015_f64.powi(2), 2.0 * 40.0 / 0.015_f64.powi(2), 150_000.0];
    let force = |lags: [f64; 3]| {
        let springs = || hard.iter().zip(lags);
        let left = |x: f64| energy + push * x - springs().map(|(k, lag)| k * (x - lag).max(0.0).powi(2) / 2.0).sum::<f64>();
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..100 {
            let middle = (low + high) / 2.0;
            if left(middle) > 0.0 { low = middle } else { high = middle }
        }
        springs().map(|(k, lag)| k * (low - lag).max(0.0)).sum::<f64>()
    };
    let together = super::number(&third, "open_stop.together.force");
    let late = push / 150_000.0;
    approx::assert_relative_eq!(force([late, late, 0.0]), together, max_relative = 1e-6);
    for lags in [[0.0, 0.0, 0.0], [0.0, 0.005, 0.010], [late, late / 2.0, 0.0], [late * 2.0, late, 0.0], [0.0, late, late]] {
        assert!(force(lags) <= together * (1.0 + 1e-9), "{lags:?}");
    }
}

/// One knee at 45 degrees from 1.40 m to the top of a hinged post of 2.00 m: of its 1.414 kN along the beam a lever leaves 0.6 m in 2 m.
#[test]
fn posts_alone_hold_a_beam_along() {
    let rule = "sideways.posts_hold_along";
    let knee = |holds: f64| {
        POSTS.replace(
            "joint knee_screws { joined rated; rated_sideways 2 kN }",
            &format!("joint knee_screws {{ joined rated; rated_sideways {holds} N }}"),
        )
    };
    let along = blow() * std::f64::consts::SQRT_2 * 2.0 / 0.6;
    for (holds, due) in [(along / 0.9 + 6.0, PASS), (along / 0.9 - 6.0, TIGHT), (along - 6.0, FAIL)] {
        assert_eq!(first(&knee(holds), rule), due, "{holds}");
    }
    // As far down as the foot it holds all of what lies along the beam.
    let whole =
        |holds: f64| knee(holds).replace("6.80 m, 0.05 m, 1.40 m", "6.80 m, 0.05 m, 0 m").replace("6.20 m, 0.05 m", "4.80 m, 0.05 m");
    let along = blow() * std::f64::consts::SQRT_2;
    for (holds, due) in [(along / 0.9 + 2.0, PASS), (along / 0.9 - 2.0, TIGHT), (along - 2.0, FAIL)] {
        assert_eq!(first(&whole(holds), rule), due, "{holds}");
    }
    // A wall across the travel holds nothing along it: the posts still have to.
    let gable = POSTS.replace(
        "tied_to       west_post\n  tied_by       post_strap\n  runs",
        "tied_to       west_post, gable\n  tied_by       post_strap\n  runs",
    );
    let gable = format!("{gable}wall gable {{ stands_on floor; tied_to floor; station 0.05 m }}\n");
    assert_eq!(first(&gable, rule), FAIL);
    // Without the knee its feet, which nobody has said anything of; three of them good for 3 kNm each hold 4.5 kN at 2 m.
    let (before, after) = POSTS.split_once("brace west_knee {").unwrap();
    let (_, after) = after.split_once("}\n").unwrap();
    let bare = format!("{before}{after}");
    assert_eq!(first(&bare, rule), OPEN);
    let feet = |moment: f64| bare.replace("stock         timber_100_100", &format!("stock timber_100_100\n  foot_holds {moment} Nm"));
    let each = blow() * 2.0 / 3.0;
    for (moment, due) in [(each / 0.9 + 2.0, PASS), (each - 2.0, FAIL)] {
        assert_eq!(first(&feet(moment), rule), due, "{moment}");
    }
}

/// What the knee takes goes on into the foot of its post: all of the blow, for it is the only one; a brace from the foot up as well.
#[test]
fn a_knee_pushes_the_foot_of_its_post() {
    let rule = "sideways.foot_takes_the_push_along";
    let held = |sideways: f64| POSTS.replace("rated_up 5 kN; rated_sideways 3 kN", &format!("rated_up 5 kN; rated_sideways {sideways} N"));
    for (holds, due) in [(blow() / 0.9 + 1.0, PASS), (blow() / 0.9 - 1.0, TIGHT), (blow() - 0.5, FAIL)] {
        assert_eq!(first(&held(holds), rule), due, "{holds}");
    }
}

/// Two knees, 1.50 m above the feet: half of 4417.7 N each, and 3313 Nm in a post of 100 by 100 mm; 1.5 of that over 24 x 0.7 / 1.3 N/mm2.
#[test]
fn a_knee_bends_its_post() {
    let text = std::fs::read_to_string(std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/heron_fold.plate")).unwrap();
    let apart = text.replacen("tied_to        east_wall, east_gantry", "tied_to        east_gantry", 1);
    let with = |low: f64, reach: f64| {
        let knee = |name: &str, post: usize, at: f64, to: f64| {
            format!(
                "brace {name} {{ joins east_gantry[{post}], east_plate; grade c24; stock timber_75_100; fastened_by brace_bolts; \
                 from {at} m, 0.05 m, {low} m; to {to} m, 0.05 m, 1.85 m }}\n"
            )
        };
        format!("{apart}\n{}{}", knee("knee_1", 1, 5.7, 5.7 + reach), knee("knee_3", 3, 8.5, 8.5 - reach))
    };
    let session = super::read(&with(1.35, 0.5));
    let asked = wallplate::rules::Options { only: Some("sideways.post_bends_at_its_knee".into()), ..Default::default() };
    let used: Vec<f64> =
        session.check(&asked).iter().filter_map(|finding| finding.demand.as_ref()).map(|demand| demand.quantity.si).collect();
    let bent = 1.5 * 4417.7 / 2.0 * 1.5 / (0.1_f64.powi(3) / 6.0) / (24e6 * 0.7 / 1.3);
    assert!(used.len() == 2 && used.iter().all(|used| *used > bent && *used < bent * 1.03), "{used:?} {bent}");
    let long = session_verdicts(&with(-0.10, 1.4));
    assert!(!long.is_empty() && long.iter().all(|verdict| Some(*verdict) == PASS), "{long:?}");
}

/// A level brace has no lever on hinged posts: it holds nothing, and there is nothing to divide by.
#[test]
fn a_level_brace_holds_nothing_along() {
    let level = POSTS.replace("6.20 m, 0.05 m, 2.00 m", "6.20 m, 0.05 m, 1.40 m");
    assert_ne!(level, POSTS);
    assert_eq!(first(&level, "sideways.posts_hold_along"), FAIL);
    for rule in ["sideways.post_bends_at_its_knee", "sideways.foot_takes_the_push_along"] {
        assert_eq!(first(&level, rule), None, "{rule}");
    }
}

const PAIR: &str = include_str!("../../../examples/broken/braced_pair_that_tips.plate");

/// A couple: 4418.7 N at 2.00 m on two posts half a metre apart lift the one with 17 675 N and press the other; less 0.6 of what stands there.
#[test]
fn a_braced_pair_tips() {
    let couple = blow() * 2.0 / 0.5;
    approx::assert_relative_eq!(super::number(PAIR, "west_post[2].lifted_along"), couple, max_relative = 1e-4);
    approx::assert_relative_eq!(super::number(PAIR, "pair_post[3].lifted_along"), couple, max_relative = 1e-4);
    assert!(super::number(PAIR, "west_post[1].lifted_along").abs() < 1e-9);
    let dead = super::number(PAIR, "west_post[2].loads.dead");
    let least = couple - 0.6 * dead;
    let tied = |up: f64| PAIR.replace("rated_up 9 kN", &format!("rated_up {up} N"));
    let rule = "sideways.post_stays_down_in_the_push";
    let verdicts = |text: &str, rule: &str| super::verdicts(text, rule).into_iter().map(|(verdict, _)| Some(verdict)).collect::<Vec<_>>();
    // The other one has a little less on it.
    for (up, due) in [(least / 0.9 + 200.0, PASS), (least - 200.0, FAIL)] {
        assert_eq!(verdicts(&tied(up), rule), [due, due], "{up}");
    }
    // The foot of the diagonal pushes its pad along, 0.10 m above it; the soil as for a flagpole.
    let foot = blow() / (1.85 / 2.0) * 1.9 / 2.0;
    let (rule, soil) = ("sideways.footing_stays_in_the_push", 23_563.0 * 0.7_f64.powi(3) / 6.0 * 1.5);
    let holds = |length: f64| 0.6 * (length * 1.5 * 0.7 * 24_000.0 + dead) * length / 2.0 + soil - foot * 0.7 - couple * length / 2.0;
    let (mut short, mut long) = (0.3, 3.0);
    for _ in 0..60 {
        let middle = (short + long) / 2.0;
        if holds(middle) < 0.0 { short = middle } else { long = middle }
    }
    let pad = |length: f64| PAIR.replace("size 500 mm by 500 mm", &format!("size {length} m by 1.5 m"));
    assert_eq!(first(&pad(long * 0.97), rule), FAIL, "{long}");
    assert_eq!(first(&pad(long * 1.15), rule), PASS, "{long}");
    // One knee in the middle of a row: what it lifts at one post it presses at the next, over the space between them.
    let knee = super::number(POSTS, "west_post[2].lifted_along");
    approx::assert_relative_eq!(knee, blow() * 2.0 / 2.2, max_relative = 1e-4);
}

/// A strut from 1.80 m up to a wall along the travel, of a push at 2.00 m: it is reckoned to act at its lower end, and the wall takes that.
#[test]
fn a_strut_pushes_the_wall_that_it_leans_on() {
    let gable = include_str!("../../../examples/broken/strut_against_the_gable.plate");
    let rule = "sideways.strut_not_on_a_wall_across";
    assert_eq!(first(gable, rule), FAIL);
    assert_eq!(first(&gable.replace("station 0.05 m }", "station 0.05 m; built solid }"), rule), TIGHT);
    let along = gable.replace("thickness 100 mm; station 0.05 m }", "thickness 100 mm; offset 0.05 m; runs 0 m to 0.2 m }");
    assert_eq!(first(&along, rule), None);
    approx::assert_relative_eq!(super::number(&along, "gable.from_blow"), blow() * 2.0 / 1.8, max_relative = 1e-4);
    assert!(
        super::number(&along.replace("joins         west_post[1], gable", "joins west_post[1], floor"), "gable.from_blow").abs() < 1e-9
    );
}

fn session_verdicts(text: &str) -> Vec<Verdict> {
    super::verdicts(text, "sideways.post_bends_at_its_knee").into_iter().map(|(verdict, _)| verdict).collect()
}

const STRAPPED: &str = include_str!("../../../examples/broken/stop_on_a_strapped_post.plate");

/// All of the blow goes through the one strap on the post; a stop on the plate itself asks nothing of it.
#[test]
fn the_head_of_a_post_passes_the_blow_on() {
    let rule = "sideways.post_head_passes_on_the_blow";
    let held = |sideways: f64| STRAPPED.replace("rated_sideways 1.6 kN", &format!("rated_sideways {sideways} N"));
    for (holds, due) in [(blow() / 0.9 + 1.0, PASS), (blow() / 0.9 - 1.0, TIGHT), (blow() - 0.5, FAIL)] {
        assert_eq!(first(&held(holds), rule), due, "{holds}");
    }
    assert_eq!(first(&STRAPPED.replace("fixed_to      last_post", "fixed_to      west_plate"), rule), None);
    assert_eq!(first(&STRAPPED.replace("fixed_to      last_post", "fixed_to      west_plate, last_post"), rule), None);
}

/// Posts that nothing braces along the travel give way: only ties at a wall count, if there is one.
#[test]
fn ties_at_hinged_posts_take_nothing_along() {
    let one = super::number(STRAPPED, "west_plate.takes_along");
    let (before, after) = STRAPPED.split_once("tied_to       west_wall, last_post").unwrap();
    let walled = format!("{before}tied_to       west_wall{after}");
    approx::assert_relative_eq!(one, super::number(&walled, "west_plate.takes_along"), max_relative = 1e-9);
    let braced = format!(
        "{STRAPPED}brace knee {{ joins last_post, west_plate; from 7.0 m, 0.05 m, 1.4 m; to 6.4 m, 0.05 m, 2 m; \
         grade c24; stock timber_75_100; fastened_by post_base }}\n"
    );
    approx::assert_relative_eq!(super::number(&braced, "west_plate.takes_along"), one + 1600.0, max_relative = 1e-9);
}

/// A short post on the plate is a stop of its own: its push goes on into the plate, and turns its foot.
#[test]
fn a_stub_on_the_plate_pushes_the_plate() {
    let stub = STRAPPED.replace("fixed_to      last_post", "fixed_to      stub");
    let stub = format!(
        "{stub}post stub {{ stands_on west_plate; tied_to west_plate; tied_by post_base; station 7.1 m; offset 0.05 m; height 0.3 m; \
         grade c24; stock timber_100_100 }}\n"
    );
    assert!((super::number(&stub, "count(b for b in open_stop.along_beams where b == west_plate)") - 1.0).abs() < 1e-9);
    assert_eq!(first(&stub, "sideways.post_takes_the_blow"), OPEN);
}

/// F L / 4 = 3424.5 Nm in a beam that lies flat to it: 1.5 of that over h b^2 / 6 and 24 x 0.7 / 1.3 N/mm2; then its ties, and the plate.
#[test]
fn a_beam_across_takes_the_blow_flat() {
    let moment = blow() * 3.1 / 4.0;
    let broad = (6.0 * 1.5 * moment / (24e6 * 0.7 / 1.3 * 0.1)).sqrt() * 1000.0;
    let with = |breadth: f64| {
        CROSS.replace("stock         timber_75_100", &format!("stock sawn\n}}\nstock sawn \"Sawn\" {{ breadth {breadth} mm; depth 100 mm"))
    };
    let rule = "sideways.cross_beam_bends_in_the_blow";
    for (breadth, due) in [(broad * 0.97, FAIL), (broad * 1.08, PASS)] {
        assert_eq!(first(&with(breadth), rule), due, "{breadth}");
    }
    let tied = |sideways: f64| CROSS.replace("rated_sideways 3 kN", &format!("rated_sideways {sideways} N"));
    for (sideways, due) in [(blow() / 0.9 + 1.0, PASS), (blow() / 0.9 - 1.0, TIGHT), (blow() - 0.5, FAIL)] {
        assert_eq!(first(&tied(sideways), "sideways.cross_beam_stays_in_the_blow"), due, "{sideways}");
    }
    // It goes on into the plate that the beam is tied to.
    let along = |name: &str| format!("count(b for b in open_stop.along_beams where b == {name})");
    assert!((super::number(CROSS, &along("west_plate")) - 1.0).abs() < 1e-9);
    assert!(super::number(CROSS, &along("end_beam")).abs() < 1e-9);
    assert!((super::number(CROSS, "length_of(open_stop.into_walls)") - 1.0).abs() < 1e-9);
    // On the plate of a wall across the travel, that plate pushes the wall over.
    let gable = CROSS.replace("rests_on      west_plate\n  tied_to       west_plate", "rests_on      gable\n  tied_to       gable");
    let gable = format!("{gable}wall gable {{ stands_on floor; tied_to floor; station 7.15 m; built studs }}\n");
    assert_eq!(first(&gable, "structure.stop_not_on_a_wall_across"), FAIL);
    assert_eq!(first(CROSS, "structure.stop_not_on_a_wall_across"), None);
}

const BENCH: &str = include_str!("../../../examples/broken/posts_on_the_bases_of_a_bench.plate");
const PEAT: &str = include_str!("../../../examples/broken/pads_on_peat.plate");

/// Statics: a push at the heads of two hinged posts, 1.90 m up and 2.60 m apart, lifts the one foot and presses the other with 1.90 / 2.60 of it.
#[test]
fn a_pair_of_posts_is_lifted_and_pressed_by_the_wind_across() {
    let number = |of: &str| super::number(BENCH, &format!("left_post[1].{of}"));
    let couple = number("pushed_across") * 1.90 / 2.60;
    approx::assert_relative_eq!(number("foot_lifted"), couple, max_relative = 1e-3);
    approx::assert_relative_eq!(number("pressed_across"), number("loads.moving") + couple, max_relative = 1e-3);

    let hardest = |of: &dyn Fn(&str) -> f64| {
        ["left_post[1]", "left_post[2]", "right_post[1]", "right_post[2]"].iter().map(|post| of(post)).fold(0.0, f64::max)
    };
    let lifts = hardest(&|post| {
        let of = |line: &str| super::number(BENCH, &format!("{post}.{line}"));
        of("foot_lifted") + of("lifted") - 0.6 * of("loads.dead")
    });
    let worst = |text: &str, rule: &str| {
        let found: Vec<_> = super::verdicts(text, rule).into_iter().map(|(verdict, _)| verdict).collect();
        [Verdict::Fail, Verdict::Tight, Verdict::Pass].into_iter().find(|verdict| found.contains(verdict))
    };
    for (holds, due) in [(lifts / 0.9 + 2.0, PASS), (lifts / 0.9 - 2.0, TIGHT), (lifts - 2.0, FAIL)] {
        let text = BENCH.replace("rated_up 0.5 kN", &format!("rated_up {holds} N"));
        assert_eq!(worst(&text, "sideways.post_stays_down_across"), due, "{holds}");
    }

    let presses = hardest(&|post| {
        let pad = post.replace("left_post[1]", "pad[1]").replace("left_post[2]", "pad[2]");
        let pad = pad.replace("right_post[1]", "pad[3]").replace("right_post[2]", "pad[4]");
        super::number(PEAT, &format!("{pad}.pressure")) + super::number(PEAT, &format!("{post}.foot_lifted")) / (0.46 * 0.76)
    });
    for (bears, due) in [(presses / 0.9 + 20.0, PASS), (presses / 0.9 - 20.0, TIGHT), (presses - 20.0, FAIL)] {
        let text = PEAT.replace("bearing 40 kPa", &format!("bearing {bears} Pa"));
        assert_eq!(worst(&text, "sideways.ground_bears_the_row"), due, "{bears}");
    }
}
