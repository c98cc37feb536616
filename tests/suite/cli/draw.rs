//! `draw`: sheets of the sound designs, the design's numbers read back from the lines, what is missing, what is broken.
//!
//! Expected numbers are those written in the example files, read by eye.

use super::desk::Desk;
use std::path::Path;

pub(super) fn example(name: &str) -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(name)).unwrap()
}

/// The sheets of an example, drawn by the program.
pub(super) fn drawn(name: &str, arguments: &[&str]) -> Desk {
    let desk = Desk::new().file("a.plate", example(name));
    let all: Vec<&str> =
        ["draw", "a.plate", "--date", "2027-04-01", "--revision", "B"].into_iter().chain(arguments.iter().copied()).collect();
    let done = desk.run(&all);
    assert_eq!((done.status, done.err.as_str()), (Some(0), ""), "{name}");
    desk
}

/// The value of an attribute of the first element in a text.
pub(super) fn attribute<'t>(text: &'t str, name: &str) -> &'t str {
    let (_, rest) = text.split_once(&format!("{name}=\"")).unwrap_or_else(|| panic!("no {name} in {}", &text[..text.len().min(200)]));
    rest.split('"').next().unwrap()
}

pub(super) fn numbers(text: &str) -> Vec<f64> {
    text.split([' ', 'M', 'L', 'Z']).filter_map(|part| part.parse().ok()).collect()
}

/// One view of a sheet, and the way from its paper to the building.
pub(super) struct View<'t> {
    pub text: &'t str,
    /// What grows to the left.
    mirrored: bool,
    pub origin: [f64; 2],
    pub ratio: f64,
}

/// The views whose measure across grows to the left.
const MIRRORED: [&str; 3] = ["section", "closed_end", "left"];

pub(super) fn view<'t>(svg: &'t str, name: &str) -> View<'t> {
    let (_, text) = svg.split_once(&format!("data-view=\"{name}\"")).unwrap_or_else(|| panic!("no view {name}"));
    let text = text.split("class=\"view\"").next().unwrap();
    let origin = numbers(attribute(text, "data-origin"));
    let mirrored = MIRRORED.contains(&name);
    View { text, mirrored, origin: [origin[0], origin[1]], ratio: attribute(text, "data-ratio").parse().unwrap() }
}

impl View<'_> {
    /// What is drawn of a component.
    pub fn of(&self, name: &str) -> Vec<&str> {
        self.text.split("<g ").filter(|group| group.starts_with(&format!("data-of=\"{name}\""))).collect()
    }

    /// The least and the largest of both measures of what is drawn of a component, m.
    fn extent(&self, name: &str) -> [f64; 4] {
        let mut extent = [f64::INFINITY, f64::NEG_INFINITY, f64::INFINITY, f64::NEG_INFINITY];
        for path in self.of(name).iter().flat_map(|group| group.split("<path ").skip(1)) {
            for pair in numbers(attribute(path, " d")).chunks(2) {
                let across = (pair[0] - self.origin[0]) / self.ratio / 1000.0;
                let u = if self.mirrored { -across } else { across };
                let v = (self.origin[1] - pair[1]) / self.ratio / 1000.0;
                extent = [extent[0].min(u), extent[1].max(u), extent[2].min(v), extent[3].max(v)];
            }
        }
        extent
    }
}

/// Paper is drawn to a thousandth of a millimetre: at 1:100 that is 0.1 mm of the building, both ends 0.2.
fn near(found: [f64; 4], written: [f64; 4]) {
    assert!(found.iter().zip(written).all(|(a, b)| (a - b).abs() < 2e-4), "{found:?} is not {written:?}");
}

#[test]
fn the_plan_has_the_numbers_of_the_design() {
    let desk = drawn("heron_fold.plate", &["--sheet", "plan"]);
    let svg = desk.read("drawings/plan.svg");
    let plan = view(&svg, "plan");
    near(plan.extent("east_wall"), [0.0, 4.2, 0.0, 0.1]);
    near(plan.extent("north_wall"), [4.1, 4.2, 0.1, 3.1]);
    near(plan.extent("east_gantry[1]"), [5.65, 5.75, 0.0, 0.1]);
    let circle = plan.of("north_pier")[0];
    let at = |name: &str| attribute(circle, name).parse::<f64>().unwrap();
    let middle = [(at(" cx") - plan.origin[0]) / plan.ratio / 1000.0, (plan.origin[1] - at(" cy")) / plan.ratio / 1000.0];
    assert!((middle[0] - 2.90).abs() < 2e-4 && (middle[1] - 1.60).abs() < 2e-4, "{middle:?}");
    assert!((at(" r") / plan.ratio / 1000.0 - 0.273 / 2.0).abs() < 2e-4);
    for said in ["2027-04-01", ">B<", "Heron Fold, roof to the north"] {
        assert!(svg.contains(said), "{said}");
    }
}

/// What a sheet shows of a part: sheet, view, part, least and largest of both measures, m (inches of the second design / 39.37).
type Written = (&'static str, &'static str, &'static str, [f64; 4]);

fn read_back(design: &str, written: &[Written], unit: f64) {
    let sheets: std::collections::BTreeSet<&str> = written.iter().map(|(sheet, ..)| *sheet).collect();
    let arguments: Vec<&str> = sheets.iter().flat_map(|sheet| ["--sheet", sheet]).collect();
    let desk = drawn(design, &arguments);
    for (sheet, name, part, extent) in written {
        let svg = desk.read(&format!("drawings/{sheet}.svg"));
        let found = view(&svg, name).extent(part);
        let off = found.iter().zip(extent).map(|(a, b)| (a - b * unit).abs()).fold(0.0, f64::max);
        assert!(off < 2e-4, "{part} on {sheet}, {name}: {:?} is not {extent:?}", found.map(|x| x / unit));
    }
    read_back_from_dxf(design, written, &arguments, unit);
}

/// The same from DXF: at full size from the datum of each view, millimetres or inches; what grows to the left is negative. Points of
/// one kind share their layers: each end of a part has to be an end of something there.
fn read_back_from_dxf(design: &str, written: &[Written], arguments: &[&str], unit: f64) {
    let text = example(design);
    let desk = drawn(design, &[arguments, &["--format", "dxf"]].concat());
    for (sheet, name, part, extent) in written {
        let bare = part.split('[').next().unwrap();
        let block = text.lines().find(|line| line.split_whitespace().nth(1).is_some_and(|word| word.split('[').next() == Some(bare)));
        let kind = block.and_then(|line| line.split_whitespace().next()).unwrap().to_uppercase();
        let dxf = desk.read(&format!("drawings/{sheet}.dxf"));
        let [across, up] = ends_on_layers(&dxf, &kind);
        // A sheet of one view has no other datum than the origin.
        let [x, y] = ends_on_layers(&dxf, &format!("DATUM_{}", name.to_uppercase()));
        let (x, y) = (x.first().copied().unwrap_or(0.0), y.first().copied().unwrap_or(0.0));
        let sign = if MIRRORED.contains(name) { -1.0 } else { 1.0 };
        let across: Vec<f64> = across.iter().map(|at| (at - x) * sign).collect();
        let up: Vec<f64> = up.iter().map(|at| at - y).collect();
        // A length of the text in the unit of the drawing: inches of the second and third design, else millimetres.
        let per = if unit < 1.0 { 1.0 } else { 1000.0 };
        let has = |places: &[f64], wanted: f64| places.iter().any(|at| (at - wanted * per).abs() < 0.2 * per / 1000.0 / unit);
        let all = has(&across, extent[0]) && has(&across, extent[1]) && has(&up, extent[2]) && has(&up, extent[3]);
        assert!(all, "{part} on {sheet}.dxf, {name}: {extent:?} is not among {across:?} by {up:?}");
    }
    assert!(written.len() >= 20, "{}", written.len());
}

/// Where lines begin, bend and end on the layers of a kind: across the sheet, and up it.
fn ends_on_layers(dxf: &str, kind: &str) -> [Vec<f64>; 2] {
    let lines: Vec<&str> = dxf.lines().map(str::trim).collect();
    let pairs: Vec<(&str, &str)> = lines.chunks(2).map(|pair| (pair[0], pair[1])).collect();
    let mut ends = [Vec::new(), Vec::new()];
    let mut on = false;
    for (code, value) in pairs {
        match code {
            "0" => on = false,
            "8" => on = value.strip_prefix(kind).is_some_and(|rest| rest.starts_with('-')),
            "10" | "11" if on => ends[0].push(value.parse().unwrap()),
            "20" | "21" if on => ends[1].push(value.parse().unwrap()),
            _ => {}
        }
    }
    ends
}

#[test]
fn parts_of_the_metric_design_stand_where_its_lines_say() {
    let slope = 20_f64.to_radians().tan();
    read_back(
        "heron_fold.plate",
        &[
            ("plan", "plan", "east_wall", [0.0, 4.2, 0.0, 0.1]),
            ("plan", "plan", "west_wall", [0.0, 4.2, 3.1, 3.2]),
            ("plan", "plan", "south_wall", [0.0, 0.1, 0.1, 3.1]),
            ("plan", "plan", "north_wall", [4.1, 4.2, 0.1, 3.1]),
            ("plan", "plan", "east_gantry[1]", [5.65, 5.75, 0.0, 0.1]),
            ("plan", "plan", "east_gantry[3]", [8.45, 8.55, 0.0, 0.1]),
            ("plan", "plan", "west_gantry[2]", [7.05, 7.15, 3.085, 3.185]),
            ("plan", "plan", "east_plate", [-0.35, 8.8, 0.0, 0.1]),
            ("foundation", "foundation", "floor", [0.0, 4.2, 0.0, 3.2]),
            ("foundation", "foundation", "south_block", [0.85, 1.75, 1.15, 2.05]),
            ("foundation", "foundation", "north_block", [2.45, 3.35, 1.15, 2.05]),
            ("foundation", "foundation", "gantry_pad[1]", [5.4, 6.0, -0.3, 0.4]),
            ("side", "shut", "east_wall", [0.0, 4.2, 0.0, 1.85]),
            ("side", "shut", "east_plate", [-0.35, 8.8, 1.85, 2.0]),
            ("side", "shut", "main_roof", [-0.15, 4.35, 1.93, 2.28 + 1.75 * slope]),
            ("side", "open", "main_roof", [4.05, 8.55, 1.93, 2.28 + 1.75 * slope]),
            ("side", "shut", "gantry_pad[2]", [6.8, 7.4, -0.85, -0.15]),
            ("section", "section", "west_wall", [3.1, 3.2, 0.0, 1.85]),
            ("section", "section", "south_block", [1.15, 2.05, -1.05, -0.18]),
            ("section", "section", "main_roof", [-0.15, 3.35, 1.93, 2.28 + 1.75 * slope]),
            ("ends", "open_end", "north_block", [1.15, 2.05, -1.05, -0.18]),
            ("ends", "closed_end", "south_wall", [0.1, 3.1, 0.0, 2.0]),
            ("ends", "closed_end", "main_roof", [-0.15, 3.35, 1.93, 2.28 + 1.75 * slope]),
            ("wall_frames", "right", "east_wall", [0.0, 4.2, 0.0, 1.85]),
            ("wall_frames", "left", "west_wall", [0.0, 4.2, 0.0, 1.85]),
            ("wall_frames", "closed_end", "south_wall", [0.1, 3.1, 0.0, 2.0]),
            ("wall_frames", "open_end", "north_wall", [0.1, 3.1, 0.0, 2.0]),
            ("roof_frame", "roof_frame", "sill_w", [-0.15, 4.35, 3.15 - 0.0975, 3.15 + 0.0975]),
            ("roof_frame", "roof_frame", "roof_rafter", [-0.15, 4.35, -0.15, 3.35]),
        ],
        1.0,
    );
}

#[test]
fn parts_of_the_us_design_stand_where_its_lines_say() {
    // Lines of the tracks at 2-3/4 in and 9 ft 9-1/4 in; a 2x10 is 1-1/2 by 9-1/4 in, a 6x6 5-1/2 in square (ALSC PS 20-20, dressed dry).
    let (sw, ne) = (2.75, 117.25);
    let slope = 7_f64.to_radians().tan();
    // Up from the plate: rail, half a wheel, bracket, a 2x6 on edge, and the slope, which meets the line 8-3/4 in from its edge.
    let eaves = 76.5 + 1.75 + 2.5 + 3.0 + 5.5 + 7.0 - 8.75 * slope;
    let (drip, ridge) = (eaves - 20.75, eaves + 132.0 * slope);
    read_back(
        "sorrel_kettle.plate",
        &[
            ("plan", "plan", "sw_wall", [0.0, 144.0, sw - 2.75, sw + 2.75]),
            ("plan", "plan", "ne_wall", [0.0, 144.0, ne - 2.75, ne + 2.75]),
            ("plan", "plan", "nw_wall", [0.0, 5.5, 5.5, 114.5]),
            ("plan", "plan", "se_wall", [138.5, 144.0, 5.5, 114.5]),
            ("plan", "plan", "sw_gantry[1]", [191.25, 196.75, sw - 2.75, sw + 2.75]),
            ("plan", "plan", "ne_gantry[3]", [291.25, 296.75, ne - 2.75, ne + 2.75]),
            ("plan", "plan", "sw_beam", [0.0, 300.0, sw - 1.5, sw + 1.5]),
            ("foundation", "foundation", "sw_hole[1]", [186.0, 202.0, sw - 8.0, sw + 8.0]),
            ("foundation", "foundation", "pier_block", [54.0, 90.0, 42.0, 78.0]),
            ("foundation", "foundation", "sw_stem", [0.0, 144.0, sw - 4.0, sw + 4.0]),
            ("side", "shut", "sw_beam", [0.0, 300.0, 67.25, 76.5]),
            ("side", "shut", "sw_wall", [0.0, 144.0, -18.0, 67.25]),
            ("side", "shut", "main_roof", [-6.0, 150.0, drip, ridge]),
            ("side", "open", "main_roof", [132.0, 288.0, drip, ridge]),
            ("side", "shut", "pier_block", [54.0, 90.0, -66.0, -18.0]),
            ("side", "shut", "sw_gantry[2]", [241.25, 246.75, -18.0, 67.25]),
            ("section", "section", "sw_wall", [sw - 2.75, sw + 2.75, -18.0, 67.25]),
            ("section", "section", "ne_beam", [ne - 1.5, ne + 1.5, 67.25, 76.5]),
            ("ends", "closed_end", "sw_wall", [sw - 2.75, sw + 2.75, -18.0, 67.25]),
            ("wall_frames", "right", "sw_wall", [0.0, 144.0, -18.0, 67.25]),
            ("roof_frame", "roof_frame", "ne_sill", [-6.0, 150.0, ne - 1.5, ne + 1.5]),
            ("section", "section", "pier_block", [42.0, 78.0, -66.0, -18.0]),
            ("section", "section", "main_roof", [-6.0, 126.0, drip, ridge]),
        ],
        0.0254,
    );
}

#[test]
fn parts_of_the_design_of_steel_beams_stand_where_its_lines_say() {
    // Lines of the beams at 2-3/4 in and 10 ft 3-1/4 in; HSS 4x4 is 4 in square (ASTM A500), a 6x6 5-1/2 in (ALSC PS 20-20, dressed dry).
    let (south, north) = (2.75, 123.25);
    let slope = 30_f64.to_radians().tan();
    // Up from the beam: rail, half a wheel, bracket, a 2x6 on edge, and the slope, which meets the line 8-3/4 in from its edge.
    let eaves = 80.0 + 1.25 + 2.0 + 2.5 + 5.5 + 7.25 - 8.75 * slope;
    let (drip, ridge) = (eaves - 15.5, eaves + 69.0 * slope);
    read_back(
        "tamarack_bench.plate",
        &[
            ("plan", "plan", "south_wall", [0.0, 168.0, 0.0, 5.5]),
            ("plan", "plan", "north_wall", [0.0, 168.0, 120.5, 126.0]),
            ("plan", "plan", "west_wall", [0.0, 5.5, 5.5, 120.5]),
            ("plan", "plan", "east_wall", [162.5, 168.0, 5.5, 120.5]),
            ("plan", "plan", "south_timber", [219.25, 224.75, 0.0, 5.5]),
            ("plan", "plan", "south_steel[2]", [340.0, 344.0, south - 2.0, south + 2.0]),
            ("plan", "plan", "north_steel[1]", [280.0, 284.0, north - 2.0, north + 2.0]),
            ("plan", "plan", "south_beam", [0.0, 348.0, south - 2.0, south + 2.0]),
            ("foundation", "foundation", "floor", [6.75, 161.25, 6.75, 119.25]),
            ("foundation", "foundation", "south_pad[1]", [207.0, 237.0, south - 15.0, south + 15.0]),
            ("foundation", "foundation", "pier_block", [57.0, 99.0, 42.0, 84.0]),
            ("foundation", "foundation", "west_stem", [-1.25, 6.75, 6.75, 119.25]),
            ("foundation", "foundation", "south_stem", [-1.25, 169.25, -1.25, 6.75]),
            ("side", "shut", "south_beam", [0.0, 348.0, 76.0, 80.0]),
            ("side", "shut", "south_wall", [0.0, 168.0, 0.0, 76.0]),
            ("side", "shut", "main_roof", [-6.0, 174.0, drip, ridge]),
            ("side", "open", "main_roof", [158.0, 338.0, drip, ridge]),
            ("side", "shut", "south_steel[1]", [280.0, 284.0, -8.0, 76.0]),
            ("section", "section", "south_wall", [0.0, 5.5, 0.0, 76.0]),
            ("section", "section", "north_beam", [north - 2.0, north + 2.0, 76.0, 80.0]),
            ("ends", "open_end", "east_wall", [5.5, 120.5, 0.0, 80.0]),
            ("wall_frames", "left", "north_wall", [0.0, 168.0, 0.0, 76.0]),
            // A glulam of 3-1/8 in between the rafters, from gable to gable.
            ("roof_frame", "roof_frame", "roof_ridge", [-3.0, 171.0, 63.0 - 1.5625, 63.0 + 1.5625]),
            ("section", "section", "pier_block", [42.0, 84.0, -56.0, -8.0]),
            ("section", "section", "main_roof", [-6.0, 132.0, drip, ridge]),
        ],
        0.0254,
    );
}

#[test]
fn parts_of_the_flat_design_stand_where_its_lines_say() {
    read_back(
        "lapwing_ledge.plate",
        &[
            ("plan", "plan", "east_wall", [0.0, 3.6, 0.0, 0.1]),
            ("plan", "plan", "west_wall", [0.0, 3.6, 3.0, 3.1]),
            ("plan", "plan", "south_wall", [0.0, 0.1, 0.1, 3.0]),
            ("plan", "plan", "north_wall", [3.5, 3.6, 0.1, 3.0]),
            ("plan", "plan", "east_post[1]", [4.95, 5.05, 0.02, 0.12]),
            ("plan", "plan", "west_post[3]", [7.35, 7.45, 2.98, 3.08]),
            ("plan", "plan", "east_plate", [0.0, 7.6, 0.0, 0.14]),
            ("plan", "plan", "pier_block", [1.35, 2.25, 1.25, 2.15]),
            ("foundation", "foundation", "floor", [0.0, 3.6, 0.0, 3.1]),
            ("foundation", "foundation", "pier_block", [1.35, 2.25, 1.25, 2.15]),
            ("foundation", "foundation", "east_pad[2]", [5.9, 6.5, -0.23, 0.37]),
            ("side", "shut", "east_plate", [0.0, 7.6, 1.87, 2.05]),
            ("side", "shut", "east_wall", [0.0, 3.6, 0.0, 1.87]),
            ("side", "shut", "main_roof", [-0.15, 3.75, 1.99, 2.65]),
            ("side", "open", "main_roof", [3.3, 7.2, 1.99, 2.65]),
            ("side", "shut", "east_post[2]", [6.15, 6.25, -0.15, 1.87]),
            ("section", "section", "west_wall", [3.0, 3.1, 0.0, 1.87]),
            ("section", "section", "east_plate", [0.0, 0.14, 1.87, 2.05]),
            ("section", "section", "pier_block", [1.25, 2.15, -1.05, 0.0]),
            // With its thickened edge.
            ("section", "section", "floor", [0.0, 3.1, -0.6, 0.0]),
            ("section", "section", "main_roof", [-0.15, 3.25, 1.99, 2.65]),
            ("section", "section", "drive_beam", [0.86, 0.94, 2.19, 2.35]),
            ("ends", "closed_end", "south_wall", [0.1, 3.0, 0.0, 2.05]),
            ("wall_frames", "open_end", "north_wall", [0.1, 3.0, 0.0, 2.05]),
            ("roof_frame", "roof_frame", "sill_e", [-0.15, 3.75, 0.07 - 0.0375, 0.07 + 0.0375]),
        ],
        1.0,
    );
}

/// A tube of 273 by 8 mm cut through its axis shows two walls of 8 mm and nothing between them; sills, rafters and the slab's edge of
/// 600 by 300 mm stand in the section; both diagonals over walls of 4.20 by 3.20 m are 5.28 m long (Pythagoras), and 4.00 by 3.00 m
/// are clear between walls of 100 mm.
#[test]
fn what_is_hollow_is_drawn_hollow_and_the_roof_with_its_timber() {
    let desk =
        drawn("heron_fold.plate", &["--sheet", "section", "--sheet", "foundation", "--sheet", "plan", "--sheet", "travel_main_roof"]);
    let svg = desk.read("drawings/section.svg");
    let section = view(&svg, "section");
    let (left, right) = (1.60 + 0.273 / 2.0, 1.60 - 0.273 / 2.0);
    let pier = section.of("south_pier").concat();
    let walls: Vec<Vec<f64>> = pier.split("<path ").skip(1).map(|path| numbers(attribute(path, " d"))).collect();
    let offsets = |path: &[f64]| -> Vec<f64> { path.chunks(2).map(|at| (section.origin[0] - at[0]) / section.ratio / 1000.0).collect() };
    for wall in [[right, right + 0.008], [left - 0.008, left]] {
        let stands = |path: &[f64]| {
            let at = offsets(path);
            let (low, high) = at.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), x| (low.min(*x), high.max(*x)));
            (low - wall[0]).abs() < 2e-4 && (high - wall[1]).abs() < 2e-4
        };
        assert!(walls.iter().any(|path| stands(path)), "{wall:?} in {pier}");
    }
    // The sill's middle is 200 mm in from the edge of the roof: 2.28 + 0.20 tan 20 - 0.14 up, 45 mm thick.
    let top = 2.28 + 0.2 * 20_f64.to_radians().tan() - 0.14;
    near(section.extent("sill_e"), [0.05 - 0.0975, 0.05 + 0.0975, top - 0.045, top]);
    assert!(!section.of("roof_rafter").is_empty());
    near(section.extent("floor"), [0.0, 3.2, -0.6, 0.0]);
    let foundation = desk.read("drawings/foundation.svg");
    assert!(foundation.contains("5.28 m") && foundation.contains("600 mm deep, 300 mm wide"), "diagonals and edge");
    let plan = desk.read("drawings/plan.svg");
    assert!(plan.contains(">4000<") && plan.contains(">3000<"), "clear sizes");
    assert!(desk.read("drawings/travel_main_roof.svg").contains("Travel of main roof"));
}

/// Of two leaders that cross nobody sees which is whose, and one that crosses a dimension is read as one of it.
#[test]
fn no_leader_crosses_another_or_a_dimension() {
    for design in ["heron_fold", "lapwing_ledge", "tamarack_bench"] {
        let sheets = ["travel_main_roof", "foundation", "plan", "section", "roof_frame"];
        let desk = drawn(&format!("{design}.plate"), &sheets.iter().flat_map(|sheet| ["--sheet", sheet]).collect::<Vec<_>>());
        for sheet in sheets {
            let svg = desk.read(&format!("drawings/{sheet}.svg"));
            for names in svg.split("<g data-of=\"name\"").skip(1).filter_map(|rest| rest.split("</g>").next()) {
                let leaders: Vec<Vec<f64>> =
                    names.split("<path ").skip(1).map(|path| numbers(attribute(path, " d"))).filter(|line| line.len() == 4).collect();
                let dimensions: Vec<Vec<f64>> = svg
                    .split("<g data-of=\"dimension\"")
                    .skip(1)
                    .filter_map(|rest| rest.split("</g>").next())
                    .flat_map(|group| group.split("<path ").skip(1).map(|path| numbers(attribute(path, " d"))))
                    .filter(|line| line.len() == 4)
                    .collect();
                let side = |line: &[f64], x: f64, y: f64| (line[2] - line[0]) * (y - line[1]) - (line[3] - line[1]) * (x - line[0]);
                let apart = |one: &[f64], other: &[f64]| side(one, other[0], other[1]) * side(one, other[2], other[3]) >= 0.0;
                for (at, one) in leaders.iter().enumerate() {
                    for other in leaders[at + 1..].iter().chain(&dimensions) {
                        assert!(apart(one, other) || apart(other, one), "{design}, {sheet}: {one:?} and {other:?}");
                    }
                }
            }
        }
    }
}

/// README shows this picture; `WALLPLATE_REFERENCE=write` draws it anew.
#[test]
fn the_picture_of_the_readme_is_what_is_drawn() {
    let desk = drawn("heron_fold.plate", &["--sheet", "frame"]);
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/heron_fold.svg");
    let svg = desk.read("drawings/frame.svg");
    if std::env::var_os("WALLPLATE_REFERENCE").is_some() {
        std::fs::write(&path, &svg).unwrap();
    }
    assert!(std::fs::read_to_string(&path).unwrap() == svg, "run this test with WALLPLATE_REFERENCE=write and look at the picture");
}

#[test]
fn the_frames_agree_with_the_cut_list() {
    // Heron: walls of 4.20 m and 3.00 m, studs of 45 mm at 600 mm at the most; three plates of 45 mm; rafters of 47 x 100 mm at 20 deg
    // under a roof 3.50 m wide: 1.75 / cos 20 + 0.100 tan 20.
    let desk = drawn("heron_fold.plate", &["--sheet", "wall_frames", "--sheet", "roof_frame"]);
    let walls = desk.read("drawings/wall_frames.svg");
    near(view(&walls, "right").extent("east_wall"), [0.0, 4.2, 0.0, 1.85]);
    let slope = 20_f64.to_radians();
    let length = 1.75 / slope.cos() + 0.1 * slope.tan();
    let roof = desk.read("drawings/roof_frame.svg");
    assert!(roof.contains(&format!("18 of {length:.3} m")), "{length}");
    near(view(&roof, "roof_frame").extent("roof_rafter"), [-0.15, 4.35, -0.15, 3.35]);
}

#[test]
fn the_roof_stands_shut_and_open() {
    let desk = drawn("heron_fold.plate", &["--sheet", "side"]);
    let svg = desk.read("drawings/side.svg");
    // Start -0.15 m, length 4.50 m; drip 2.28 - 0.35 m, ridge 2.28 + 1.75 tan 20 deg; it trips at 6.300 - 2.10 m.
    let ridge = 2.28 + 1.75 * 20_f64.to_radians().tan();
    near(view(&svg, "shut").extent("main_roof"), [-0.15, 4.35, 1.93, ridge]);
    near(view(&svg, "open").extent("main_roof"), [4.05, 8.55, 1.93, ridge]);
    assert!(view(&svg, "open").of("main_roof")[0].contains("data-moves-with=\"main_roof\""));
}

#[test]
fn a_template_is_printed_at_full_size_with_a_rule_to_check_it() {
    for (design, name, paper, rule) in [
        ("heron_fold.plate", "template_south_bolts_1", ["297", "210"], 100.0),
        ("sorrel_kettle.plate", "template_pier_bolts_1", ["279.4", "215.9"], 101.6),
    ] {
        let desk = drawn(design, &[]);
        let svg = desk.read(&format!("drawings/{name}.svg"));
        let [breadth, height] = paper;
        assert_eq!(attribute(&svg, "width"), format!("{breadth}mm"));
        assert_eq!(attribute(&svg, "viewBox"), format!("0 0 {breadth} {height}"), "a unit is a millimetre");
        let group = view(&svg, "template").of("check_rule")[0].to_owned();
        let line = numbers(attribute(&group, " d"));
        assert!((line[2] - line[0] - rule).abs() < 2e-3 && line[1] == line[3], "{line:?}");
    }
}

/// A text's box on the paper: left, top, right, bottom.
fn boxes(svg: &str) -> Vec<(String, [f64; 4])> {
    let number = |text: &str, name: &str| attribute(text, name).parse::<f64>().unwrap();
    let text = |text: &str| {
        let head = text.split('>').next().unwrap();
        let (x, y, size, length) = (number(head, "x"), number(head, " y"), number(head, "font-size"), number(head, "textLength"));
        let before = if head.contains("middle") {
            length / 2.0
        } else if head.contains("\"end\"") {
            length
        } else {
            0.0
        };
        // Capitals of Helvetica are 0.718 of its size; a hair is left so that what just touches does not count.
        let height = size * 0.718;
        let bounds = if head.contains("rotate") {
            [x - height, y - length + before, x, y + before]
        } else {
            [x - before, y - height, x - before + length, y]
        };
        (text.split(['>', '<']).nth(1).unwrap().to_owned(), [bounds[0] + 0.05, bounds[1] + 0.05, bounds[2] - 0.05, bounds[3] - 0.05])
    };
    svg.split("<text ").skip(1).map(text).collect()
}

#[test]
fn no_text_lies_over_another() {
    for design in ["heron_fold.plate", "sorrel_kettle.plate"] {
        let desk = drawn(design, &[]);
        let mut sheets = 0;
        for sheet in std::fs::read_dir(desk.path("drawings")).unwrap().flatten() {
            let svg = std::fs::read_to_string(sheet.path()).unwrap();
            let boxes = boxes(&svg);
            assert!(boxes.len() > 5, "{:?} has texts", sheet.path());
            for (at, (words, a)) in boxes.iter().enumerate() {
                for (other, b) in &boxes[at + 1..] {
                    let apart = a[2] <= b[0] || b[2] <= a[0] || a[3] <= b[1] || b[3] <= a[1];
                    assert!(apart, "{design} {:?}: `{words}` lies over `{other}`", sheet.file_name());
                }
            }
            sheets += 1;
        }
        assert!(sheets >= 10, "{design}: {sheets}");
    }
}

#[test]
fn what_is_missing_is_named_and_not_drawn() {
    let text = example("heron_fold.plate").replace("  front          420 mm\n", "");
    let desk = Desk::new().file("a.plate", text);
    let done = desk.run(&["draw", "a.plate", "--sheet", "side"]);
    assert_eq!(done.status, Some(0), "{}", done.err);
    let svg = desk.read("drawings/side.svg");
    assert!(svg.contains("front of refractor"), "the sheet says it");
    assert!(view(&svg, "shut").of("refractor").is_empty());
    assert!(!view(&svg, "shut").of("reflector").is_empty());
}

#[test]
fn a_broken_design_draws_what_it_can() {
    let text = example("heron_fold.plate").replace("  station       1.30 m\n", "  station       1.30\n");
    let desk = Desk::new().file("a.plate", text);
    let done = desk.run(&["draw", "a.plate", "--sheet", "plan"]);
    assert_eq!(done.status, Some(2));
    assert!(done.err.contains("the design has mistakes"), "{}", done.err);
    let svg = desk.read("drawings/plan.svg");
    near(view(&svg, "plan").extent("east_wall"), [0.0, 4.2, 0.0, 0.1]);
    assert!(svg.contains("south_pier, whose lines have a mistake"), "the sheet says it");
}

#[test]
fn a_sheet_that_there_is_not_is_refused_with_the_nearest() {
    let desk = Desk::new().file("a.plate", example("heron_fold.plate"));
    let done = desk.run(&["draw", "a.plate", "--sheet", "plann"]);
    assert_eq!(done.status, Some(2));
    assert!(done.err.contains("did you mean `plan`?"), "{}", done.err);
    assert!(!desk.path("drawings").exists());
}

#[test]
fn the_dxf_is_at_full_size_from_the_datum() {
    let desk = drawn("heron_fold.plate", &["--sheet", "plan", "--format", "dxf"]);
    let dxf = desk.read("drawings/plan.dxf");
    let lines: Vec<&str> = dxf.lines().map(str::trim).collect();
    let pairs: Vec<(&str, &str)> = lines.chunks(2).map(|pair| (pair[0], pair[1])).collect();
    // The corners of what is cut through on the layer of walls, mm.
    let mut corners = Vec::new();
    for (at, pair) in pairs.iter().enumerate() {
        if *pair == ("0", "VERTEX") && pairs[at + 1] == ("8", "WALL-CUT") {
            corners.push([pairs[at + 2].1.parse::<f64>().unwrap(), pairs[at + 3].1.parse::<f64>().unwrap()]);
        }
    }
    for corner in [[0.0, 0.0], [4200.0, 0.0], [4200.0, 100.0], [4100.0, 3100.0]] {
        let found = corners.iter().any(|known| (known[0] - corner[0]).abs() < 0.01 && (known[1] - corner[1]).abs() < 0.01);
        assert!(found, "{corner:?} in {corners:?}");
    }
}

/// ISO 128: what a line means is said by its sort, not by its colour.
#[test]
fn the_layers_of_the_dxf_are_one_ink_and_six_sorts_of_line() {
    let desk = drawn("heron_fold.plate", &["--sheet", "plan", "--format", "dxf"]);
    let dxf = desk.read("drawings/plan.dxf");
    let lines: Vec<&str> = dxf.lines().map(str::trim).collect();
    let pairs: Vec<(&str, &str)> = lines.chunks(2).map(|pair| (pair[0], pair[1])).collect();
    let mut types = std::collections::BTreeMap::new();
    for at in pairs.iter().enumerate().filter(|(_, pair)| **pair == ("0", "LAYER")).map(|(at, _)| at) {
        let [(_, name), _, colour, line] = [pairs[at + 1], pairs[at + 2], pairs[at + 3], pairs[at + 4]];
        assert_eq!((colour, line.0), (("62", "7"), "6"), "{name}");
        if let Some((_, sort)) = name.rsplit_once('-') {
            types.insert(sort, line.1);
        }
    }
    assert!(types.len() >= 6, "{types:?}");
    for (sort, line) in types {
        assert_eq!(line, if sort == "TEXT" { "CONTINUOUS" } else { sort });
    }
}

/// What people read on each sheet, in the order in which it is drawn.
#[test]
fn what_the_sheets_say() {
    for name in ["heron_fold", "sorrel_kettle"] {
        let desk = drawn(&format!("{name}.plate"), &[]);
        let mut files: Vec<_> = std::fs::read_dir(desk.path("drawings")).unwrap().flatten().map(|file| file.path()).collect();
        files.sort();
        let mut said = String::new();
        for file in files {
            let svg = std::fs::read_to_string(&file).unwrap();
            let words: Vec<String> = boxes(&svg).into_iter().map(|(words, _)| words).collect();
            said.push_str(&format!("== {}\n{}\n", file.file_name().unwrap().display(), words.join(" | ")));
        }
        insta::assert_snapshot!(format!("draw_{name}"), said);
    }
}

#[test]
fn all_sheets_are_written_or_none() {
    let desk = Desk::new().file("a.plate", example("heron_fold.plate")).file("drawings/side.svg", "my own drawing");
    let done = desk.run(&["draw", "a.plate"]);
    assert_eq!(done.status, Some(2));
    assert!(done.err.contains("drawings/side.svg") && done.err.contains("nothing was written"), "{}", done.err);
    assert_eq!(desk.read("drawings/side.svg"), "my own drawing");
    assert_eq!(std::fs::read_dir(desk.path("drawings")).unwrap().count(), 1);
}

/// Twelve studs 168 - 1-1/2 in apart from the first to the last: eleven equal steps of 15-9/64 in have no room for their text each at
/// 3/8 in to the foot, and are told as one. Where there is room each is told.
#[test]
fn equal_steps_without_room_are_told_as_one() {
    let desk = drawn("tamarack_bench.plate", &["--sheet", "wall_frames"]);
    let svg = desk.read("drawings/wall_frames.svg");
    assert!(svg.contains("11 × ~1&#39;-3-1/8") || svg.contains("11 × ~1'-3-1/8"), "eleven steps");
    let desk = drawn("lapwing_ledge.plate", &["--sheet", "wall_frames"]);
    assert_eq!(desk.read("drawings/wall_frames.svg").matches(">587.5<").count(), 12, "six steps of both side walls");
}
