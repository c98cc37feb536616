//! More limits that stand in rules, just holding and just failing: concrete, fasteners, what is believed of numbers, and ways of loads.

use super::just::{FAIL, PASS, TIGHT, american, findings, first, on_a_beam};
use super::{EU, number};
use std::f64::consts::PI;
use wallplate::rules::Verdict;

const OPEN: Option<Verdict> = Some(Verdict::Undetermined);

/// IBC 2018 Table 1808.8.1: 2500 psi; EN 206 as DIN 1045-2 softens it: C16/20. Which mix it is has to be written.
#[test]
fn concrete_is_no_lean_mix() {
    let with = |mix: &str| {
        format!(
            "use concrete\n{EU}mix m {{ strength {mix}; density 2400 kg/m3 }}\nslab s {{ thickness 120 mm; mix m }}\n\
             wall w {{ stands_on s; runs 0 m to 3 m; offset 0 m; height 2 m }}\nfooting f {{ size 0.4 m by 0.4 m; depth 0.7 m; mix m }}\n\
             post p {{ stands_on f }}\n"
        )
    };
    for rule in ["structure.slab_mix_is_strong", "structure.footing_mix_is_strong"] {
        for (mix, due) in [("16 MPa", PASS), ("15.9 MPa", FAIL)] {
            assert_eq!(first(&with(mix), rule), due, "{rule} {mix}");
        }
        for (mix, due) in [("2500 psi", PASS), ("2490 psi", FAIL)] {
            assert_eq!(first(&american(&with(mix)), rule), due, "{rule} {mix}");
        }
        assert_eq!(first(&with("20 MPa").replace("; mix m", ""), rule), OPEN, "{rule}");
        let idle = with("12 MPa").replace("stands_on s", "stands_on f").replace("post p { stands_on f }", "");
        assert_eq!(first(&idle, rule), if rule.contains("slab") { None } else { FAIL }, "{rule}");
    }
}

/// Statics: without steel a slab is not lifted in one piece. Nothing pulls at one that nothing is tied to.
#[test]
fn a_slab_that_is_pulled_up_has_steel() {
    let with = |line: &str, lifted: &str| format!("{EU}slab s {{ thickness 120 mm; lifted {lifted}; {line} }}\n");
    for (line, lifted, due) in [
        ("reinforcement \"mesh\"", "1 N", PASS),
        ("reinforcement \"none\"", "1 N", FAIL),
        ("reinforcement \"without\"", "1 N", FAIL),
        ("", "1 N", OPEN),
        ("", "0 N", None),
        ("reinforcement \"none\"", "0 N", None),
    ] {
        assert_eq!(first(&with(line, lifted), "structure.slab_has_steel"), due, "{line} {lifted}");
    }
}

/// IRC 2018 R506.1: 3-1/2 in, which is 88.9 mm.
#[test]
fn a_slab_is_thick_enough() {
    let with = |thick: &str| format!("{EU}slab s {{ thickness {thick} }}\n");
    for (thick, due) in [("89 mm", PASS), ("88.9 mm", FAIL), ("60 mm", FAIL)] {
        assert_eq!(first(&with(thick), "structure.slab_is_thick_enough"), due, "{thick}");
    }
    for (thick, due) in [("3.5 in", PASS), ("3.49 in", FAIL)] {
        assert_eq!(first(&american(&with(thick)), "structure.slab_is_thick_enough"), due, "{thick}");
    }
    assert_eq!(first(&with("").replace("thickness", ""), "structure.slab_is_thick_enough"), OPEN);
}

/// Geometry: 4 m by 3 m are 12 m2, and three in a hundred more 12.36 m2.
#[test]
fn a_slab_is_as_large_as_it_goes() {
    let with = |area: &str| format!("{EU}slab s {{ thickness 120 mm; runs 0 m to 4 m; spans 0 m to 3 m; plan_area {area} }}\n");
    for (area, due) in [("12.35 m2", None), ("12.37 m2", FAIL), ("9 m2", None)] {
        assert_eq!(first(&with(area), "structure.slab_area_is_its_size"), due, "{area}");
    }
}

/// Geometry: the wall stands at 4 m and is 100 mm thick; the floor may end 150 mm before its inner face.
#[test]
fn a_floor_goes_up_to_the_door() {
    let with = |until: &str, spans: &str| {
        format!(
            "{EU}footing f {{ size 0.3 m by 3 m; depth 0.7 m; top 0 m; station 4 m; offset 1.5 m }}\n\
             slab s {{ thickness 120 mm; runs 0 m to {until}; spans {spans} }}\n\
             wall w {{ stands_on f; station 4 m; spans 0 m to 3 m; thickness 100 mm; height 2 m; door_opens 1 m to 2 m; door_height 1.8 m }}\n"
        )
    };
    for (until, spans, due) in
        [("3.801 m", "0 m to 3 m", None), ("3.799 m", "0 m to 3 m", FAIL), ("4 m", "0 m to 1.801 m", None), ("4 m", "0 m to 1.79 m", FAIL)]
    {
        assert_eq!(first(&with(until, spans), "space.floor_reaches_the_door"), due, "{until}, {spans}");
    }
}

/// Statics: about one bolt nothing keeps a part from turning. What has a data sheet answers for itself.
#[test]
fn a_foot_and_a_hook_have_two_fasteners() {
    let held = |joint: &str, kind: &str, how: &str| {
        let place = "working_load 3 kN; station 2 m; offset 0 m";
        on_a_beam(
            joint,
            &format!(
                "sill s {{ of r; runs 0 m to 8 m; offset 0 m; grade c24; stock timber_100_150 }}\n{kind} k {{ holds r; {how}; {place} }}"
            ),
        )
    };
    for (kind, how, rule) in [
        ("clamp", "anchored_to b; anchored_by j", "structure.clamp_does_not_turn"),
        ("keeper", "anchored_to b; anchored_by j", "structure.keeper_does_not_turn"),
        ("clamp", "anchored_to b; hooked_to s; hooked_by j", "structure.hook_does_not_turn"),
    ] {
        assert_eq!(first(&held("count 1", kind, how), rule), FAIL, "{rule}");
        assert_eq!(first(&held("", kind, how), rule), FAIL, "{rule}: one is taken where none is written");
        assert_eq!(first(&held("count 2", kind, how), rule), None, "{rule}");
        let rated = held("", kind, how)
            .replace("joined bolted; fastener bolt_m10; into c24; wood 100 mm; through 8 mm;", "joined rated; rated_up 3 kN");
        assert_eq!(first(&rated, rule), None, "{rule}");
    }
}

/// NDS 2018 Tables 12.5.1A, B, C for 3/8 in: half of 4 D, 3/4 in, to the end, 4 D, 1-1/2 in, to the edge, 3 D, 1-1/8 in, apart;
/// EN 1995-1-1:2004 Table 8.4 for 10 mm across the grain: 80 mm, 40 mm, 40 mm.
#[test]
fn fasteners_stand_no_nearer_than_their_code_lets_them() {
    let with = |line: &str| on_a_beam(&format!("count 2; {line}"), "");
    for (line, rule, due) in [
        ("end_distance 80 mm", "structure.joint_end_distance", PASS),
        ("end_distance 79 mm", "structure.joint_end_distance", FAIL),
        ("edge_distance 40 mm", "structure.joint_edge_distance", PASS),
        ("edge_distance 39 mm", "structure.joint_edge_distance", FAIL),
        ("spacing 40 mm", "structure.joint_spacing", PASS),
        ("spacing 39 mm", "structure.joint_spacing", FAIL),
        ("", "structure.joint_end_distance", OPEN),
        ("", "structure.joint_edge_distance", OPEN),
        ("", "structure.joint_spacing", OPEN),
    ] {
        assert_eq!(first(&with(line), rule), due, "{line}");
    }
    for (line, rule, due) in [
        ("end_distance 1.5 in", "structure.joint_end_distance", PASS),
        ("end_distance 1.49 in", "structure.joint_end_distance", TIGHT),
        ("end_distance 0.75 in", "structure.joint_end_distance", TIGHT),
        ("end_distance 0.74 in", "structure.joint_end_distance", FAIL),
        ("edge_distance 1.5 in", "structure.joint_edge_distance", PASS),
        ("edge_distance 1.49 in", "structure.joint_edge_distance", FAIL),
        ("spacing 1.5 in", "structure.joint_spacing", PASS),
        ("spacing 1.13 in", "structure.joint_spacing", TIGHT),
        ("spacing 1.12 in", "structure.joint_spacing", FAIL),
    ] {
        let text = american(&with(line)).replace("bolt_m10", "bolt_3_8");
        assert_eq!(first(&text, rule), due, "{line}");
    }
}

/// ASCE 7-16 Figure 26.5-1: 85 mph; the least of the European national maps: 17 m/s and a little.
#[test]
fn the_design_wind_is_off_a_map() {
    let with = |wind: &str| format!("{EU}site {{ wind_speed {wind} }}\n");
    for (wind, due) in [("17 m/s", PASS), ("16.9 m/s", FAIL), ("24 mph", FAIL)] {
        assert_eq!(first(&with(wind), "lines.wind_is_off_a_map"), due, "{wind}");
    }
    // The national annexes of the United Kingdom and Ireland begin at 21.5 m/s and at 25 m/s.
    for (wind, due) in [("21 m/s", PASS), ("20.9 m/s", FAIL)] {
        let british = with(wind).replace("site {", "site { latitude 54 deg; longitude -2 deg;");
        assert_eq!(first(&british, "lines.wind_is_off_a_map"), due, "{wind}");
        let german = with(wind).replace("site {", "site { latitude 54 deg; longitude 9 deg;");
        assert_eq!(first(&german, "lines.wind_is_off_a_map"), PASS, "{wind}");
    }
    for (wind, due) in [("85 mph", PASS), ("84 mph", FAIL), ("37 m/s", FAIL)] {
        assert_eq!(first(&american(&with(wind)), "lines.wind_is_off_a_map"), due, "{wind}");
    }
}

/// UK National Annex to EN 1991-1-4, 4.2(2)P: 1 + 0.001 A on what the map has for the sea; France has another map.
#[test]
fn the_design_wind_is_raised_for_the_height() {
    let place = |place: &str| format!("{EU}site {{ wind_speed 25.2 m/s; {place} }}\n");
    for (here, due) in [
        ("latitude 54 deg; longitude -2 deg; elevation 200 m", None),
        ("latitude 54 deg; longitude -2 deg; elevation 215 m", TIGHT),
        ("latitude 50.8 deg; longitude 0 deg; elevation 215 m", TIGHT),
        ("latitude 50 deg; longitude 1 deg; elevation 215 m", None),
        ("latitude 54 deg; longitude 9 deg; elevation 400 m", None),
        ("latitude 54 deg; longitude -2 deg", None),
    ] {
        assert_eq!(first(&place(here), "lines.wind_rises_with_the_height"), due, "{here}");
    }
}

/// Common practice, no source: 45 mm of boards on both sides; a stud that stands out of its wall by 6 mm is another one's.
#[test]
fn a_wall_is_as_thick_as_its_studs() {
    let with = |thick: &str| {
        format!(
            "{EU}slab s {{ thickness 120 mm }}\nstock k {{ breadth 50 mm; depth 140 mm }}\n\
             wall w {{ stands_on s; runs 0 m to 3 m; offset 0 m; height 2 m; stud k; thickness {thick} }}\n"
        )
    };
    for (thick, due) in [("185 mm", None), ("186 mm", TIGHT), ("209 mm", TIGHT), ("211 mm", FAIL), ("134 mm", None), ("133 mm", FAIL)] {
        assert_eq!(first(&with(thick), "structure.wall_as_thick_as_its_studs"), due, "{thick}");
    }
}

/// AGMA 2001-D04 Table 4: 75 ksi.
#[test]
fn teeth_are_of_no_better_steel_than_there_is() {
    let with = |stress: &str| {
        format!(
            "{EU}roof r {{ mass 400 kg }}\ndrive d {{ moves r; speed 0.1 m/s; reaction_time 0.1 s }}\n\
             pinion p {{ driven_by d; module 4 mm; teeth 18; tooth_stress {stress} }}\nrack k {{ meshes_with p; fixed_to r; tooth_stress {stress} }}\n"
        )
    };
    for rule in ["drive.pinion_is_of_a_material", "drive.rack_is_of_a_material"] {
        for (stress, due) in [("75 ksi", PASS), ("76 ksi", FAIL), ("517 MPa", PASS), ("518 MPa", FAIL)] {
            assert_eq!(first(&with(stress), rule), due, "{rule} {stress}");
        }
    }
}

/// Common practice, no source: sliding gates run 0.3 m/s at the most.
#[test]
fn a_roof_is_no_faster_than_a_gate() {
    let with = |speed: &str| format!("{EU}roof r {{ mass 400 kg }}\ndrive d {{ moves r; speed {speed}; reaction_time 0.1 s }}\n");
    for (speed, due) in [("0.3 m/s", PASS), ("0.301 m/s", FAIL), ("0.67 mph", PASS), ("0.68 mph", FAIL)] {
        assert_eq!(first(&with(speed), "drive.no_faster_than_a_gate"), due, "{speed}");
    }
}

/// Geometry: half of a beam 200 mm deep, bolted through its middle; half of the thinner side of a sill of 100 by 150 mm; four fifths of
/// 3 m between the tracks.
#[test]
fn timber_that_moves_is_counted_whole() {
    let with = |fixed: &str, size: &str| {
        format!(
            "use moisture\n{EU}roof r {{ mass 400 kg }}\ndrive d {{ moves r; speed 0.1 m/s; reaction_time 0.1 s }}\n\
             pinion p {{ driven_by d; module 4 mm; teeth 18 }}\nrack k {{ meshes_with p; fixed_to {fixed}; spacers x }}\n\
             spacer x {{ timber norway_spruce; lies radial; size {size} }}\n\
             drive_beam b {{ of r; grade c24; stock timber_75_200; runs 0 m to 3 m; offset 1 m; level 2 m; hung_at 0.2 m }}\n\
             sill s {{ of r; runs 0 m to 4 m; offset 0 m; grade c24; stock timber_100_150 }}\n"
        )
    };
    for (fixed, size, due) in [("b", "100 mm", None), ("b", "99 mm", FAIL), ("r", "50 mm", None), ("r", "49 mm", TIGHT)] {
        assert_eq!(first(&with(fixed, size), "drive.spacers_reach_their_rack"), due, "{fixed} {size}");
    }
    let across = |lies: &str, size: &str| {
        format!(
            "use moisture\n{EU}slab s {{ thickness 120 mm }}\npattern wall w {{ stands_on s; runs 0 m to 4 m }}\n\
             wall a like w {{ offset 0 m }}\nwall b like w {{ offset 3 m }}\n\
             track t {{ profile vee; offset 0 m; rests_on a; runs 0 m to 4 m }}\ntrack u {{ profile flat; offset 3 m; rests_on b; runs 0 m to 4 m }}\n\
             wheels l {{ runs_on t; stations 1 m }}\nwheels m {{ runs_on u; stations 1 m }}\n\
             roof r {{ mass 400 kg; rolls_on l, m; gauge_spacers x }}\nspacer x {{ timber norway_spruce; lies {lies}; size {size} }}\n"
        )
    };
    for (lies, size, due) in
        [("along", "2.4 m", None), ("along", "2.39 m", FAIL), ("tangential", "160 mm", None), ("along", "160 mm", FAIL)]
    {
        assert_eq!(first(&across(lies, size), "running.spacers_reach_across"), due, "{lies} {size}");
    }
}

/// Statics: a pull that goes 200 mm aside. The clamp stands 100 mm beside the sill, the beam another 100 mm beside the clamp.
#[test]
fn a_clamp_pulls_upright() {
    let with = |beam: &str| {
        format!(
            "{EU}roof r {{ mass 400 kg }}\nsill s {{ of r; runs 0 m to 4 m; offset 0 m; grade c24; stock timber_100_150 }}\n\
             beam b {{ rests_on []; grade c24; stock timber_100_150; runs 0 m to 8 m; offset {beam}; level 2 m }}\n\
             clamp k {{ holds r; hooked_to s; anchored_to b; working_load 3 kN; station 2 m; offset 150 mm }}\n"
        )
    };
    for (beam, due) in [("299 mm", None), ("301 mm", FAIL), ("150 mm", None)] {
        assert_eq!(first(&with(beam), "holddown.clamp_pulls_upright"), due, "{beam}");
    }
}

/// Geometry: what is fixed to the floor reaches a metre up, or has an anchor.
#[test]
fn a_lock_on_the_floor_reaches_the_roof() {
    let with = |level: &str, more: &str| {
        format!(
            "{EU}slab s {{ thickness 120 mm; top 0 m }}\nwall w {{ stands_on s; runs 0 m to 8 m; offset 0 m }}\n\
             track t {{ profile vee; offset 0 m; rests_on w; runs 0 m to 8 m; level {level} }}\nwheels l {{ runs_on t; stations 1 m }}\n\
             roof r {{ mass 400 kg; rolls_on l }}\njoint j {{ joined rated; rated_up 3 kN }}\n\
             parking_lock k {{ holds r; works open; fixed_to s; working_load 1 kN; {more} }}\n"
        )
    };
    for (level, more, due) in [("1 m", "", None), ("1.01 m", "", FAIL), ("1.01 m", "anchored_by j", None)] {
        assert_eq!(first(&with(level, more), "storm.lock_reaches_the_roof"), due, "{level} {more}");
    }
}

/// Statics; common practice: a third of a roof 3 m wide, from the guide at 0 m or from the pinion at 2 m.
#[test]
fn a_single_stop_stands_by_the_guide() {
    let with = |offset: &str, more: &str| {
        format!(
            "{EU}slab s {{ thickness 120 mm }}\nwall w {{ stands_on s; runs 0 m to 8 m; offset 0 m }}\n\
             track t {{ profile vee; offset 0 m; rests_on w; runs 0 m to 8 m; level 2 m }}\nwheels l {{ runs_on t; stations 1 m }}\n\
             roof r {{ mass 400 kg; rolls_on l; width 3 m }}\nstop e {{ stops r; end open; fixed_to w; station 7 m; offset {offset} }}\n{more}\n"
        )
    };
    let driven = "drive d { moves r; speed 0.1 m/s; reaction_time 0.1 s }\npinion p { driven_by d; offset 2 m }";
    let beside = "stop f { stops r; end open; fixed_to w; station 7 m; offset 0 m }";
    for (offset, more, due) in
        [("0.999 m", "", None), ("1.001 m", "", FAIL), ("1.001 m", driven, None), ("3.001 m", driven, FAIL), ("3.001 m", beside, None)]
    {
        assert_eq!(first(&with(offset, more), "travel.one_stop_meets_the_drive"), due, "{offset} {more}");
    }
}

/// Statics: F l / 4 over pi d^3 / 32, 3 kN on a hub 10 mm wider than a tread of 30 mm, 30 Nm; at 300 N/mm2 10.062 mm, at 500 8.486 mm.
#[test]
fn an_axle_is_not_bent() {
    let with = |thick: &str| {
        format!(
            "{EU}roof r {{ mass 400 kg; rolls_on l }}\ntrack t {{ profile flat; offset 0 m; runs 0 m to 8 m }}\n\
             wheels l {{ runs_on t; stations 1 m; hardest 3 kN; tread_width 30 mm; axle_diameter {thick} }}\n"
        )
    };
    for (thick, due) in [("10.07 mm", None), ("10.06 mm", TIGHT), ("8.49 mm", TIGHT), ("8.48 mm", FAIL)] {
        assert_eq!(first(&with(thick), "running.axle_carries"), due, "{thick}");
    }
}

/// EN 1995-1-1:2004 eq. 6.21 to 6.29, by hand: C24 pressed along the grain, 21 N/mm2, E0.05 7400 N/mm2, kmod 0.9, gamma 1.3, both ends
/// hinged; over 1.5 to the level of working loads. A tenth of it is left.
#[test]
fn a_tie_does_not_bow_out() {
    const LATHS: &str = "broken/ties_of_lath.plate";
    let text = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/examples/broken/ties_of_lath.plate")).unwrap();
    let (press, length) = (number(&text, "rafter_tie.press"), number(&text, "rafter_tie.length"));
    let holds = |breadth: f64| {
        let slender = length / (breadth / 12.0_f64.sqrt()) / PI * (21.0_f64 / 7400.0).sqrt();
        let k = 0.5 * (1.0 + 0.2 * (slender - 0.3) + slender * slender);
        21e6 * 0.9 / 1.3 / 1.5 * breadth * 0.058 / (k + (k * k - slender * slender).sqrt())
    };
    let mut seen = [0; 3];
    for tenths in (380..430).step_by(2) {
        let breadth = f64::from(tenths) / 10_000.0;
        let due = if press > holds(breadth) { 0 } else { 1 + usize::from(press <= 0.9 * holds(breadth)) };
        seen[due] += 1;
        let found = findings(LATHS, &format!("lath {{ breadth {} mm }}", f64::from(tenths) / 10.0), "roofing.tie_does_not_buckle");
        assert_eq!(found.first().map(|finding| finding.verdict), [FAIL, TIGHT, PASS][due], "{tenths}");
    }
    assert!(seen.iter().all(|count| *count > 3), "{seen:?}");
}

/// Statics: two shares for two ties, 100 % together, but for what is rounded.
#[test]
fn shares_of_a_pull_make_up_all_of_it() {
    let with = |shares: &str| {
        on_a_beam(
            "count 2",
            &format!(
                "beam c {{ rests_on []; grade c24; stock timber_100_150; runs 0 m to 8 m; offset 1 m; level 2 m }}\nbracket k {{ rests_on b; tied_to b, c; pull_shares {shares}; station 2 m; offset 0 m }}"
            ),
        )
    };
    for (shares, due) in
        [("50 %, 50 %", PASS), ("50 %, 49.91 %", PASS), ("50 %, 49.89 %", FAIL), ("100 %", FAIL), ("50 %, 30 %, 20 %", FAIL)]
    {
        assert_eq!(first(&with(shares), "holddown.pull_is_shared_out"), due, "{shares}");
    }
}

/// By hand, as in `just`: the boards are 108 kg, rafters 56.7 kg and sills 33.6 kg. What a sheet weighs is not known where its thickness
/// is not; what is too light without it is too light with it.
#[test]
fn a_sheet_of_unknown_thickness_leaves_the_mass_open() {
    let with = |mass: &str, layer: &str| {
        format!(
            "{EU}stock thin {{ breadth 50 mm; depth 100 mm }}\nstock thick {{ breadth 100 mm; depth 100 mm }}\n\
             roof r {{ shape flat; length 4 m; width 3 m; start 0 m; right_edge 0 m; mass {mass} }}\n\
             sill a {{ of r; runs 0 m to 4 m; offset 0.1 m; grade c24; stock thick }}\n\
             sill b {{ of r; runs 0 m to 4 m; offset 2.9 m; grade c24; stock thick }}\n\
             rafter f {{ of r; grade c24; stock thin; span 2.8 m; spacing 500 mm }}\n\
             roof_layer d {{ of r; lies_on f; made_of boards; thickness 20 mm }}\nroof_layer s {{ of r; lies_on d; {layer} }}\n"
        )
    };
    // 1.1 x 198.3 kg = 218.1 kg.
    for (mass, layer, due) in [
        ("218 kg", "made_of sheet", FAIL),
        ("219 kg", "made_of sheet", OPEN),
        ("2 t", "made_of sheet", OPEN),
        ("219 kg", "made_of boards", OPEN),
        ("219 kg", "made_of glued", None),
    ] {
        assert_eq!(first(&with(mass, layer), "lines.weighs_as_its_parts"), due, "{mass}, {layer}");
    }
}

/// Clapeyron's three moments (1857) and a cantilever's: a wall of 7 m under an even line load, w, that walls square to it hold at
/// 0.05 m, 3.15 m and 6.95 m; without the last of them 3.85 m of it stand free, and its top is bent by more than from end to end.
#[test]
fn the_top_of_a_wall_spans_between_the_walls_square_to_it() {
    let whole = include_str!("../../designs/teal_over_walls.plate");
    let (begun, from) = (whole.find("wall neighbours_wall").unwrap(), "pattern beam plate");
    let free = format!("{}{}", &whole[..begun], &whole[whole.find(from).unwrap()..]);
    let bent = |text: &str| {
        let line = number(text, "max(right_wall.storm_line, right_wall.shut_line)");
        number(text, "right_wall.spans_across.moment") / line
    };
    let (end, near, far) = (0.05_f64.powi(2) / 2.0, 3.10_f64, 3.80_f64);
    let three = ((near.powi(3) + far.powi(3)) / 4.0 - end * (near + far)) / (2.0 * (near + far));
    approx::assert_relative_eq!(bent(whole), three, max_relative = 1e-3);
    approx::assert_relative_eq!(bent(&free), 3.85_f64.powi(2) / 2.0, max_relative = 1e-3);
    assert_eq!([whole, free.as_str()].map(|text| first(text, "sideways.plate_spans")), [PASS, FAIL]);
    // One that it does not meet holds nothing.
    let apart = whole.replace("station       6.95 m", "station       12 m");
    approx::assert_relative_eq!(bent(&apart), bent(&free), max_relative = 1e-9);
    // Of one alone it is not known what else does: then its ends.
    let alone = free.replace("wall far_wall like framed {\n  station       3.15 m", "wall far_wall like framed {\n  station       13.15 m");
    assert_ne!(alone, free);
    approx::assert_relative_eq!(bent(&alone), 7.0_f64.powi(2) / 8.0, max_relative = 1e-3);
}
