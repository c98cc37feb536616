//! Loads on their way into the ground: whole designs against published worked examples, and statics that must hold.
//!
//! The formulas themselves are held against their sources in `published`; here the whole way is: text, catalogue,
//! component graph, value. Sources stand beside each check.

use approx::assert_relative_eq;
use wallplate::design::Choice;
use wallplate::session::{NoShelf, Session};
use wallplate::text::Source;
use wallplate::values::Value;

const POUND: f64 = 4.448_221_615_260_5;
const PSI: f64 = 6_894.757_293_168;
const FOOT: f64 = 0.3048;

fn read(text: &str) -> Session {
    let session = Session::read(vec![Source::new("test.plate", text)], &NoShelf, &Choice::default());
    assert!(session.problems().is_empty(), "{:?}", session.problems());
    session
}

fn number(session: &mut Session, expression: &str) -> f64 {
    let (_, outcome) = session.value(expression).unwrap_or_else(|problems| panic!("{expression}: {problems:?}"));
    outcome.as_ref().ok().and_then(Value::si).unwrap_or_else(|| panic!("{expression}: {outcome:?}"))
}

fn numbers(session: &mut Session, expression: &str) -> Vec<f64> {
    let (_, outcome) = session.value(expression).unwrap_or_else(|problems| panic!("{expression}: {problems:?}"));
    match outcome {
        Ok(Value::List(items)) => items.iter().filter_map(Value::si).collect(),
        other => panic!("{expression}: {other:?}"),
    }
}

/// From wind speed to lag screw, by hand: 98 mph, exposure C at 15 ft: 0.00256·0.849·0.85·98² = 17.742 psf (ASCE 7-16 eq.
/// 26.10-1); a coefficient of 4.2 on 10.8 ft²: 0.6·804.8 = 482.9 lb, less 0.6·27.5 lb: 466.4 lb (§2.4.1); a 5/16 in lag screw
/// with 2 in of thread in Douglas Fir-Larch: 266·2·1.6 = 851.2 lb (NDS 2018 Tables 12.2A, 2.3.2).
#[test]
fn a_hold_down_chain_by_hand() {
    let mut chain = read(
        "use timber
         observatory chain { rolls_open east; design_code asce7 }
         let q     asce7_velocity_pressure(speed 98 mph, exposure exposure_c, height 15 ft)
         let wind  q * 4.2 * 10.8 ft * 1 ft
         let net   net_uplift(uplift wind, weight 27.5 lb, combination asd)
         fastener lag { sort lag_screw; diameter 5/16 in; root 0.227 in; length 2.5 in; thread 2.2 in; tip 0.2 in; tensile_strength 60 ksi }
         joint foot {
           joined    screwed
           fastener  lag
           through   0.3 in
           into      douglas_fir_no_2
           wood      3-1/2 in
           damp      covered
         }
        ",
    );
    let psf = 47.880_258_98;
    assert_relative_eq!(number(&mut chain, "q") / psf, 17.742, max_relative = 1e-3);
    assert_relative_eq!(number(&mut chain, "0.6 * wind") / POUND, 482.9, max_relative = 1e-3);
    assert_relative_eq!(number(&mut chain, "net") / POUND, 466.4, max_relative = 1e-3);
    assert_relative_eq!(number(&mut chain, "foot.one_pulled.wood") / POUND, 851.2, max_relative = 1e-3);
}

/// The same chain in a whole design that can fail: one such screw at each of four clamps, `pull` against `holds_up`.
/// The screw's value is that of NDS 2018 Table 12.2A, G 0.50, 5/16 in: 266 lb/in, times 1.6 for wind.
#[test]
fn a_joint_compares_what_comes_to_it_with_the_table() {
    let mut design = read(GANTRY);
    let per_inch = number(&mut design, "clamp_screws.one_pulled.per_length") * 0.0254 / POUND;
    assert_relative_eq!(per_inch, 266.0, max_relative = 2e-3);
    let holds = number(&mut design, "clamp_screws.one_pulled.wood") / POUND;
    assert_relative_eq!(holds, 266.0 * 1.6 * (2.0 - 3.0 / 16.0), max_relative = 2e-3);
}

/// Simple span of 40 ft, wheels of 24, 24 and 6 kip at 16 and 12 ft: 323 kip-ft, with a reaction of 30.90 kip
/// there. Statics (the rule: the resultant as far beyond the middle as the wheel before it).
#[test]
fn a_published_train_of_wheels_on_a_beam() {
    let mut beam = read("observatory train { rolls_open east; design_code asce7 }");
    let call = "track_beam(first_end 0 ft, last_end 40 ft, rigidity 1e9 N*m2, own_weight 0 N/m, supports [0 ft, 40 ft],
        wheels [-28 ft, -12 ft, 0 ft], loads [24000 lbf, 24000 lbf, 6000 lbf], snow [0 lbf, 0 lbf, 0 lbf], travel 68 ft, code asce7)"
        .replace('\n', " ");
    // The source rounds to the kip-foot and to four figures.
    assert_relative_eq!(number(&mut beam, &format!("{call}.moment")) / (1000.0 * POUND * FOOT), 323.0, max_relative = 2e-3);
    let by_hand = "moment_by_hand(first_end 0 ft, last_end 40 ft, rigidity 1e9 N*m2, own_weight 0 N/m, supports [0 ft, 40 ft],
        wheels [-28 ft, -12 ft, 0 ft], loads [24000 lbf, 24000 lbf, 6000 lbf], travel TRAVEL m, section SECTION m)"
        .replace('\n', " ")
        .replace("TRAVEL", &number(&mut beam, &format!("{call}.moment_travel")).to_string())
        .replace("SECTION", &number(&mut beam, &format!("{call}.moment_at")).to_string());
    let reactions = numbers(&mut beam, &format!("{by_hand}.reactions"));
    assert_relative_eq!(reactions.iter().copied().fold(0.0, f64::max) / (1000.0 * POUND), 30.90, max_relative = 1e-3);
    // The forces of one side make the same moment.
    let terms = numbers(&mut beam, &format!("{by_hand}.moments"));
    assert_relative_eq!(terms.iter().sum::<f64>(), number(&mut beam, &format!("{call}.moment")), max_relative = 1e-6);
}

/// A timber beam: C24 indoors under a load of medium duration, fm,d = 0.8 x 24 / 1.3 = 14.769 N/mm2 (EN 1995-1-1:2004 eq. 2.14),
/// for a depth of 150 mm, where kh is 1.
#[test]
fn a_published_timber_strength() {
    let metric = "use timber
        observatory c { rolls_open east; design_code eurocode }
        let bent  track_beam(first_end 0 m, last_end 3.6 m, rigidity 305.8636 kN*m2, own_weight 0 N/m, supports [0 m, 3.6 m],
            wheels [0 m, 1.5 m], loads [2 kN, 2 kN], snow [0 N, 0 N], travel 2.1 m, code eurocode)
        let held  timber_beam(bent bent, values c24.values, section timber_section(breadth 45 mm, depth 195 mm, piece 45 mm),
            unbraced 0 m, damp indoors, shared (no), seats [], code eurocode)";
    let mut beam = read(metric);
    // Sweep with two independent programs (PyNiteFEA, anastruct): 2.25625 kN m and 9.861 mm.
    assert_relative_eq!(number(&mut beam, "bent.moment"), 2_256.25, max_relative = 1e-5);
    assert_relative_eq!(number(&mut beam, "bent.sag"), 9.861e-3, max_relative = 1e-4);
    assert_relative_eq!(number(&mut beam, "held.bending_strength"), 14.769e6, max_relative = 1e-4);
    // M/W with W = 45 x 195^2 / 6, and 1.5 on a variable action (EN 1990 Table A1.2(B)).
    assert_relative_eq!(number(&mut beam, "held.bending_stress"), 1.5 * 2_256.25 / (0.045 * 0.195 * 0.195 / 6.0), max_relative = 1e-5);
}

/// A column: HUD, Residential Structural Design Guide, example 5.6: 4x4 Spruce-Pine-Fir No. 2, 7.3 ft, CD 1.0, 4800 lb:
/// F'c 579 psi, used to 0.677.
#[test]
fn a_published_column() {
    let post = "use timber
        observatory p { rolls_open east; design_code asce7 }
        let post  timber_post(values spruce_pine_fir_no_2.values, section timber_section(breadth sawn_4x4.breadth,
            depth sawn_4x4.depth, piece sawn_4x4.breadth), length 7.3 ft, damp covered, forces [0 lbf, 4800 lbf, 0 lbf, 0 lbf, 0 lbf], code asce7)";
    let mut column = read(post);
    assert_relative_eq!(number(&mut column, "post.strength") / PSI, 579.0, max_relative = 1e-3);
    assert_relative_eq!(number(&mut column, "post.load / post.holds"), 0.677, max_relative = 1e-3);
}

/// IBC Table 1806.2 (2012, as an engineering textbook reprints it; the same in 2018): pressure in psf, lateral psf by foot;
/// National Building Code of Canada Table 9.4.4.1 (as printed on a builder's plan sheet), kPa.
#[test]
fn presumed_soil() {
    let (psf, per_foot) = (47.880_258_98, 47.880_258_98 / FOOT);
    let mut soil = read("use soil\nobservatory s { rolls_open east; design_code asce7 }\nsoil { class clay }");
    assert_relative_eq!(number(&mut soil, "soil.bearing") / psf, 1500.0, max_relative = 1e-9);
    let table = [("bedrock", 12_000.0, 1200.0), ("soft_rock", 4000.0, 400.0), ("gravel", 3000.0, 200.0), ("sand", 2000.0, 150.0)];
    for (class, bearing, lateral) in table.into_iter().chain([("clay", 1500.0, 100.0)]) {
        assert_relative_eq!(number(&mut soil, &format!("{class}.bearing")) / psf, bearing, max_relative = 1e-9);
        assert_relative_eq!(number(&mut soil, &format!("{class}.lateral")) / per_foot, lateral, max_relative = 1e-9);
    }
    for (class, friction) in [("bedrock", 0.70), ("soft_rock", 0.35), ("gravel", 0.35), ("sand", 0.25)] {
        assert_relative_eq!(number(&mut soil, &format!("{class}.friction")), friction);
    }
    assert_relative_eq!(number(&mut soil, "clay.cohesion") / psf, 130.0, max_relative = 1e-9);
    let canada = [
        ("dense_sand", 150.0),
        ("loose_sand", 50.0),
        ("dense_silt", 100.0),
        ("stiff_clay", 150.0),
        ("firm_clay", 75.0),
        ("soft_clay", 40.0),
    ];
    for (class, bearing) in canada {
        assert_relative_eq!(number(&mut soil, &format!("{class}.bearing")), 1000.0 * bearing, max_relative = 1e-9);
    }
}

/// Ground snow of 30 psf, partly exposed among woods, warm, ordinary: 0.7 x 30 = 21.0 psf on a flat roof. Source: ASCE 7-16
/// eq. 7.3-1. Eurocode: 0.65 kN/m2 at 8.5 degrees gives 0.52. Source: Steel Buildings in Europe,
/// Single-storey, Part 3, appendix A.
#[test]
fn published_snow() {
    let mut us = read("observatory s { rolls_open east; design_code asce7 }");
    let call = "asce7_snow(ground 30 psf, land sheltered_land, stands partly_exposed, warmth heated, risk_category 2, slope 0 deg, slippery (no), run 20 ft, gable (no)).flat";
    assert_relative_eq!(number(&mut us, call) / 47.880_258_98, 21.0, max_relative = 1e-6);
    let call = "eurocode_snow(ground 0.65 kN/m2, stands partly_exposed, slope 8.5 deg, slippery (yes), thermal_factor 1).load";
    assert_relative_eq!(number(&mut us, call), 520.0, max_relative = 1e-6);
}

/// A small building with a gantry of one post a side and a clamp at each corner.
const GANTRY: &str = "
use timber
use fasteners
use soil
observatory o { rolls_open east; design_code asce7 }
site { wind_speed 100 mph; exposure exposure_c; ground_level -6 in; frost_depth 20 in }
snow { ground_load 20 psf }
soil { class sand }
slab floor { thickness 4 in; plan_area 10 ft * 8 ft }
footing pad[1..2] { size 16 in by 16 in; depth 30 in }
joint anchor { joined rated; rated_up 2000 lbf }
joint clamp_screws { joined screwed; fastener lag_5_16x3; through 0.75 in; into douglas_fir_no_2; wood 3-1/2 in; damp covered }
pattern wall side { stands_on floor; tied_to floor; tied_by anchor; ties 3; height 6 ft; runs 0 ft to 10 ft; stud_spacing 16 in }
wall left like side { offset 8 ft }
wall right like side { offset 0 ft }
pattern post end_post { grade douglas_fir_post_no_2; stock timber_6x6; height 6 ft; station 16 ft }
post left_post like end_post { stands_on pad[1]; offset 8 ft }
post right_post like end_post { stands_on pad[2]; offset 0 ft }
pattern beam track_beam { grade douglas_fir_no_2; stock sawn_4x8; runs 0 ft to 20 ft }
beam left_beam like track_beam { rests_on left, left_post; offset 8 ft }
beam right_beam like track_beam { rests_on right, right_post; offset 0 ft }
pattern track rail { runs 0 ft to 20 ft; level 6 ft 8 in }
track left_rail like rail { profile flat; offset 8 ft; rests_on left_beam }
track right_rail like rail { profile vee; offset 0 ft; rests_on right_beam }
pattern wheels pair { stations 1 ft, 9 ft }
wheels left_wheels like pair { runs_on left_rail }
wheels right_wheels like pair { runs_on right_rail }
roof top {
  shape gable; pitch 15 deg; ridge along; start 0 ft; length 10 ft; right_edge -6 in; width 9 ft; eaves_level 6 ft 9 in
  mass 700 lb; mass_station 5.5 ft; rolls_on left_wheels, right_wheels; enclosure enclosed
}
pattern clamp corner { holds top; working_load 1000 lbf; anchored_by clamp_screws }
clamp c1 like corner { station 6 in; offset 8 ft; anchored_to left }
clamp c2 like corner { station 9.5 ft; offset 8 ft; anchored_to left }
clamp c3 like corner { station 6 in; offset 0 ft; anchored_to right }
clamp c4 like corner { station 9.5 ft; offset 0 ft; anchored_to right }
pattern stop s { stops top; fixed_to right_beam }
stop open_stop like s { end open; station 19.5 ft; meets 10 ft }
stop closed_stop like s { end closed; station -1 in; meets 0 ft }
";

#[test]
fn the_wheels_carry_the_roof_and_no_more() {
    let mut design = read(GANTRY);
    let weight = number(&mut design, "top.weight");
    assert_relative_eq!(numbers(&mut design, "top.wheel_shares.loads").iter().sum::<f64>(), weight, max_relative = 1e-9);
    let snow = number(&mut design, "top.snow_weight");
    assert_relative_eq!(numbers(&mut design, "top.snow_shares.loads").iter().sum::<f64>(), snow, max_relative = 1e-9);
    // By hand: the weight half a foot beyond the middle of axles 8 ft apart, half of it on each side.
    let near = weight / 2.0 * (9.0 - 5.5) / 8.0;
    let far = weight / 2.0 * (5.5 - 1.0) / 8.0;
    let loads = numbers(&mut design, "left_wheels.loads");
    assert_relative_eq!(loads[0], near, max_relative = 1e-6);
    assert_relative_eq!(loads[1], far, max_relative = 1e-6);
}

#[test]
fn reactions_carry_wheels_and_beam_and_the_footing_gets_its_part() {
    let mut design = read(GANTRY);
    let up = numbers(&mut design, "left_beam.by_hand.reactions").iter().sum::<f64>();
    let wheels = numbers(&mut design, "left_beam.by_hand.wheel_loads").iter().sum::<f64>();
    let own = number(&mut design, "left_beam.own_weight * 20 ft");
    assert_relative_eq!(up, wheels + own, max_relative = 1e-8);
    let moments = numbers(&mut design, "left_beam.by_hand.moments").iter().sum::<f64>();
    assert_relative_eq!(moments, number(&mut design, "left_beam.moment"), max_relative = 1e-6);
    // post: beam and its own weight; footing: post and its own weight
    let post = number(&mut design, "left_post.presses");
    let footing = number(&mut design, "pad[1].pressed");
    assert_relative_eq!(footing, post + number(&mut design, "pad[1].concrete_weight"), max_relative = 1e-9);
}

#[test]
fn a_heavier_roof_never_asks_less() {
    let asked = |mass: u32| {
        let mut design = read(&GANTRY.replace("mass 700 lb", &format!("mass {mass} lb")));
        [
            "left_wheels.hardest",
            "left_beam.checked.bending_stress",
            "left_beam.checked.shear_stress",
            "left_beam.checked.bearing_stress",
            "left_beam.bent.sag",
            "left_post.column.load",
            "pad[1].pressure",
        ]
        .map(|what| number(&mut design, what))
    };
    let mut before = asked(300);
    for mass in [450, 700, 1100, 1800] {
        let now = asked(mass);
        assert!(before.iter().zip(&now).all(|(light, heavy)| heavy > light), "{mass} lb: {before:?} {now:?}");
        before = now;
    }
}

#[test]
fn the_plane_of_the_hardest_pull_gives_each_clamp_its_share() {
    let mut design = read(GANTRY);
    let (a, b, c) =
        (number(&mut design, "top.held.plane_a"), number(&mut design, "top.held.plane_b"), number(&mut design, "top.held.plane_c"));
    let list = |design: &mut Session, name: &str| numbers(design, &format!("top.held.{name}"));
    let (x, y) = (list(&mut design, "in_play_along"), list(&mut design, "in_play_across"));
    let (k, up) = (list(&mut design, "in_play_k"), list(&mut design, "in_play_up"));
    assert!(up.len() >= 3);
    for i in 0..up.len() {
        assert_relative_eq!(k[i] * (a + b * x[i] + c * y[i]), up[i], max_relative = 1e-6, epsilon = 1e-6);
    }
    // Force and moment balance with the net load (statics).
    let net = number(&mut design, "top.held.worst_net");
    assert_relative_eq!(up.iter().sum::<f64>(), net, max_relative = 1e-6);
    let along = up.iter().zip(&x).map(|(f, x)| f * x).sum::<f64>();
    assert_relative_eq!(along, net * number(&mut design, "top.held.worst_net_along"), max_relative = 1e-6, epsilon = 1e-6);
    // ASCE 7-16 2.4.1(7): 0.6 W - 0.6 D.
    let wind = number(&mut design, "top.held.worst_wind");
    assert_relative_eq!(net, 0.6 * wind - 0.6 * number(&mut design, "top.weight"), max_relative = 1e-9);
}

#[test]
fn the_weakest_part_of_a_way_is_the_one_with_the_least_left() {
    let mut design = read(GANTRY);
    let (pull, holds) = (number(&mut design, "c2.weakest.pull"), number(&mut design, "c2.weakest.holds"));
    let parts = [
        ("c2.pull", "c2.working_load"),
        ("c2.pull", "clamp_screws.holds_up"),
        ("left.part.pull", "left.part.holds"),
        ("floor.part.pull", "floor.part.holds"),
    ];
    let used = parts.map(|(pull, holds)| number(&mut design, pull) / number(&mut design, holds));
    assert_relative_eq!(pull / holds, used.into_iter().fold(0.0, f64::max), max_relative = 1e-9);
    let mut weaker = read(&GANTRY.replace("rated_up 2000 lbf", "rated_up 40 lbf"));
    let (_, name) = weaker.value("c2.weakest.name").unwrap();
    assert_eq!(name, Ok(Value::Text("the hardest pulled tie of left".into())));
}

#[test]
fn what_is_not_written_stays_open() {
    use wallplate::rules::{Options, Verdict};
    let open = |text: &str, rule: &str| {
        let session = read(text);
        let found = session.check(&Options::default());
        let of_rule: Vec<Verdict> = found.iter().filter(|finding| finding.rule == rule).map(|finding| finding.verdict).collect();
        assert!(!of_rule.is_empty(), "{rule}");
        of_rule.iter().all(|verdict| *verdict == Verdict::Undetermined)
    };
    assert!(open(&GANTRY.replace("grade douglas_fir_no_2; stock sawn_4x8; ", "stock sawn_4x8; "), "structure.track_beam_bending"));
    assert!(open(&GANTRY.replace("snow { ground_load 20 psf }", ""), "running.wheel_rating"));
    assert!(open(&GANTRY.replace("soil { class sand }", ""), "structure.footing_bearing"));
    assert!(open(&GANTRY.replace("tied_by anchor; ", ""), "holddown.load_path_is_strong"));
}
