//! Clearances against closed forms of solid geometry and against slow searches.
//!
//! There are no printed tables of such things: the outside check is geometry that anybody can do by hand, and a second
//! way that shares nothing with the first (distances to a box by clamping, ternary search, stepping along the track).

use approx::assert_abs_diff_eq;
use proptest::prelude::*;
use wallplate::calc::space::body::Body;
use wallplate::calc::space::prism::{self, PlacedRoof, Prism};
use wallplate::calc::space::solid::{Point, Solid, turned};
use wallplate::calc::space::sweep::{Track, closest_pass, gap_at, gaps_along, least_gap, lowering_needed, stretch_within};

const NEAR: f64 = 1e-6;

fn cuboid(low: Point, high: Point) -> Body {
    Body::solid(&Solid::cuboid(low, high)).unwrap()
}

fn sphere(centre: Point, radius: f64) -> Body {
    Body::sphere(centre, radius).unwrap()
}

/// A gable end of 40 mm that rolls along y: over it a triangle, its lower edge at `bottom`.
fn gable_end(bottom: f64) -> Body {
    let profile = [[-2.0, bottom], [2.0, bottom], [0.0, bottom + 1.0]];
    Body::solid(&Solid::prism(&profile, 0.0, 0.04).unwrap()).unwrap()
}

#[test]
fn gaps_that_can_be_done_by_hand() {
    // Two spheres 3-4-5 apart; a sphere beside a face, an edge and a corner of a box; a rod across a box.
    assert_abs_diff_eq!(sphere([0.0; 3], 1.0).gap(&sphere([3.0, 4.0, 0.0], 1.5)), 2.5, epsilon = NEAR);
    let unit = cuboid([0.0; 3], [1.0; 3]);
    assert_abs_diff_eq!(unit.gap(&sphere([0.5, 0.5, 2.0], 0.25)), 0.75, epsilon = NEAR);
    assert_abs_diff_eq!(unit.gap(&sphere([4.0, 5.0, 0.5], 1.0)), 4.0, epsilon = NEAR);
    assert_abs_diff_eq!(unit.gap(&sphere([3.0, 4.0, 7.0], 0.0)), 49.0_f64.sqrt(), epsilon = NEAR);
    let rod = Body::capsule([-5.0, 0.5, 1.3], [5.0, 0.5, 1.3], 0.1).unwrap();
    assert_abs_diff_eq!(unit.gap(&rod), 0.2, epsilon = NEAR);
    // Roundings that overlap go below nothing by the overlap.
    assert_abs_diff_eq!(unit.gap(&sphere([0.5, 0.5, 1.2], 0.3)), -0.1, epsilon = NEAR);
    // Two skew rods: 1 apart at their crossing (distance of skew lines).
    let x = Body::capsule([-1.0, 0.0, 0.0], [1.0, 0.0, 0.0], 0.2).unwrap();
    let y = Body::capsule([0.0, -1.0, 1.0], [0.0, 1.0, 1.0], 0.3).unwrap();
    assert_abs_diff_eq!(x.gap(&y), 0.5, epsilon = NEAR);
    assert_eq!(unit.heights(), (0.0, 1.0));
    assert!(Body::new(&[], 0.1).is_err());
    assert!(Body::sphere([f64::NAN, 0.0, 0.0], 0.1).is_err());
    assert!(Body::sphere([0.0; 3], -0.1).is_err());
}

#[test]
fn a_tube_stands_out_of_itself_by_an_eighth_of_a_per_cent_at_most() {
    // A level tube of 0.3 m, its axis 1 m over a floor: 0.85 m of air, by the prism 1/cos(π/64) − 1 = 0.12 % of 0.15 m less.
    let floor = cuboid([-5.0, -5.0, -1.0], [5.0, 5.0, 0.0]);
    let tube = Body::tube([-0.4, 0.0, 1.0], [0.5, 0.1, 1.0], 0.3).unwrap();
    let gap = tube.gap(&floor);
    assert!((0.85 - 0.15 * 0.00121..=0.85 + NEAR).contains(&gap), "{gap}");
    // Upright its flat end counts, and no rounding: 0.6 m up from the floor at the foot.
    let upright = Body::tube([0.0, 0.0, 0.6], [0.0, 0.0, 1.4], 0.3).unwrap();
    assert_abs_diff_eq!(upright.gap(&floor), 0.6, epsilon = NEAR);
    assert_abs_diff_eq!(upright.heights().1, 1.4, epsilon = NEAR);
    // Between two upright ones, the distance of their axes less both radii, whichever way one lies from the other.
    for degrees in [0.0_f64, 17.0, 45.0, 101.0, 250.0] {
        let (sin, cos) = degrees.to_radians().sin_cos();
        let beside = upright.shifted([sin, cos, 0.1]);
        assert_abs_diff_eq!(upright.gap(&beside), 1.0 - 0.3, epsilon = 2.0 * 0.15 * 0.00121);
    }
    assert!(Body::tube([0.0; 3], [0.0; 3], 0.3).is_err());
    assert!(Body::tube([0.0; 3], [1.0, 0.0, 0.0], 0.0).is_err());
}

#[test]
fn a_strut_leans_as_its_ends_say() {
    // Geometry: a square piece of 0.1 m from (0, 0, 0) to (0, 1, 1) leans at 45 degrees; its lowest edge lies 0.05 cos 45 under its end.
    let leaning = Body::solid(&Solid::strut([0.0; 3], [0.0, 1.0, 1.0], 0.1, 0.1).unwrap()).unwrap();
    let edge = 0.05 / 2.0_f64.sqrt();
    let (low, high) = leaning.heights();
    assert_abs_diff_eq!(low, -edge, epsilon = NEAR);
    assert_abs_diff_eq!(high, 1.0 + edge, epsilon = NEAR);
    // A point straight above its middle by 0.5 m is 0.5 cos 45 from its axis; one beside it by 0.5 m is 0.45 m from its side.
    assert_abs_diff_eq!(leaning.gap(&sphere([0.0, 0.5, 1.0], 0.0)), 0.5 / 2.0_f64.sqrt() - 0.05, epsilon = NEAR);
    assert_abs_diff_eq!(leaning.gap(&sphere([0.5, 0.5, 0.5], 0.0)), 0.45, epsilon = NEAR);
    // Level and plumb it is a box: 0.2 m broad, 0.06 m deep.
    let level = Body::solid(&Solid::strut([0.0; 3], [0.0, 2.0, 0.0], 0.2, 0.06).unwrap()).unwrap();
    assert_eq!(level.bounds(), cuboid([-0.1, 0.0, -0.03], [0.1, 2.0, 0.03]).bounds());
    let plumb = Body::solid(&Solid::strut([0.0; 3], [0.0, 0.0, 2.0], 0.2, 0.06).unwrap()).unwrap();
    assert_eq!(plumb.bounds(), cuboid([-0.1, -0.03, 0.0], [0.1, 0.03, 2.0]).bounds());
    // Either way round it fills the same room.
    let back = Body::solid(&Solid::strut([0.3, 2.0, 1.0], [0.0; 3], 0.2, 0.06).unwrap()).unwrap();
    let forth = Body::solid(&Solid::strut([0.0; 3], [0.3, 2.0, 1.0], 0.2, 0.06).unwrap()).unwrap();
    for (a, b) in back.bounds().iter().flatten().zip(forth.bounds().iter().flatten()) {
        assert_abs_diff_eq!(a, b, epsilon = NEAR);
    }
    assert!(Solid::strut([0.0; 3], [0.0; 3], 0.1, 0.1).is_err());
    assert!(Solid::strut([0.0; 3], [1.0, 0.0, 0.0], 0.0, 0.1).is_err());
}

#[test]
fn the_way_between_two_bodies_is_the_shortest() {
    // Geometry: boxes 2 m by 2 m by 2 m; from corner to corner of a cube it is the space diagonal.
    let cube = |at: Point| cuboid([at[0] - 1.0, at[1] - 1.0, at[2] - 1.0], [at[0] + 1.0, at[1] + 1.0, at[2] + 1.0]);
    let apart = cube([0.0; 3]).way(&cube([3.0, 0.5, 0.0])).unwrap();
    assert_abs_diff_eq!(apart.gap, 1.0, epsilon = NEAR);
    assert_abs_diff_eq!(apart.by[0], 1.0, epsilon = NEAR);
    let corner = cube([0.0; 3]).way(&cube([3.0, 3.0, 3.0])).unwrap();
    assert_abs_diff_eq!(corner.gap, 3.0_f64.sqrt(), epsilon = NEAR);
    corner.by.iter().for_each(|by| assert_abs_diff_eq!(*by, 1.0, epsilon = NEAR));
    // Sharing 0.25 m of height and more of the rest: the first gets out by going down that much.
    let within = cube([0.0; 3]).way(&cube([0.5, 0.5, 1.75])).unwrap();
    assert_abs_diff_eq!(within.gap, -0.25, epsilon = NEAR);
    assert_abs_diff_eq!(within.by[2], -0.25, epsilon = NEAR);
    // Two strips of 0.4 m by 4 m by 0.7 m, one 3.085 m beside the other: they share 0.4 m of the one way, 0.7 m of the other.
    let strip = |middle: f64| cuboid([middle - 2.0, 5.5, -0.85], [middle + 2.0, 5.9, -0.15]);
    assert_abs_diff_eq!(strip(0.05).way(&strip(3.135)).unwrap().gap, -0.4, epsilon = NEAR);
    // A thin column upright in the middle of a block 1 m wide, of which it stands out by 2 m above: a square one as a round one.
    let block = cuboid([0.0; 3], [1.0; 3]);
    assert_abs_diff_eq!(cuboid([0.45, 0.45, 0.4], [0.55, 0.55, 3.0]).way(&block).unwrap().gap, -0.55, epsilon = NEAR);
    let round = Body::tube([0.5, 0.5, 0.4], [0.5, 0.5, 3.0], 0.1).unwrap();
    assert_abs_diff_eq!(round.way(&block).unwrap().gap, -0.55, epsilon = 1e-3);
    // A ball whose middle is in a box gets out by the way to the nearest face and its own radius.
    let ball = Body::sphere([0.0, 0.0, 0.9], 0.2).unwrap();
    assert_abs_diff_eq!(ball.way(&cube([0.0; 3])).unwrap().gap, -0.3, epsilon = 1e-6);
}

/// A part that is there twice, or begins in the corner of another, is as deep in it as any: by hand, the least of the ways out.
#[test]
fn what_begins_in_one_corner_shares_room_all_the_same() {
    let beam = cuboid([0.0; 3], [4.0, 0.1, 0.15]);
    assert_abs_diff_eq!(beam.way(&beam).unwrap().gap, -0.1, epsilon = 3e-4);
    let cube = cuboid([0.0; 3], [2.0; 3]);
    assert_abs_diff_eq!(cube.way(&cuboid([0.0; 3], [1.0, 3.0, 3.0])).unwrap().gap, -1.0, epsilon = 3e-4);
    assert_abs_diff_eq!(cube.way(&cuboid([-1.0, 0.0, 0.0], [2.0, 0.5, 5.0])).unwrap().gap, -0.5, epsilon = 3e-4);
    // What only touches, face to face or corner to corner, still does.
    assert_abs_diff_eq!(cube.way(&cuboid([2.0, 0.0, 0.0], [3.0, 2.0, 2.0])).unwrap().gap, 0.0, epsilon = 1e-9);
    assert_abs_diff_eq!(cube.way(&cuboid([0.0, 0.0, 2.0], [2.0, 0.1, 3.0])).unwrap().gap, 0.0, epsilon = 1e-9);
    assert_abs_diff_eq!(cube.way(&cuboid([-1.0; 3], [0.0; 3])).unwrap().gap, 0.0, epsilon = 1e-9);
}

#[test]
fn roofs_in_their_place() {
    use wallplate::calc::wind::roof::{Axis, Heading, Shape};
    let pitch = 30.0_f64.to_radians();
    let roof = |shape| PlacedRoof { shape, stations: [1.0, 5.0], offsets: [-1.5, 1.5], eaves: 2.0 };
    let top = |roof: PlacedRoof| Body::solid(&roof.outside(1.8).solid().unwrap()).unwrap().heights();
    // Rise by the tangent of 30°: half of 3 m with the ridge along, half of 4 m across; whole for one slope.
    let tangent = 1.0 / 3.0_f64.sqrt();
    for (shape, rise) in [
        (Shape::Gable { pitch, ridge: Axis::Along }, 1.5 * tangent),
        (Shape::Gable { pitch, ridge: Axis::Across }, 2.0 * tangent),
        (Shape::MonoPitch { pitch, rises: Heading::Left }, 3.0 * tangent),
        (Shape::MonoPitch { pitch, rises: Heading::Opening }, 4.0 * tangent),
        (Shape::Flat { parapet: 0.2 }, 0.2),
    ] {
        let (low, high) = top(roof(shape));
        assert_abs_diff_eq!(low, 1.8, epsilon = NEAR);
        assert_abs_diff_eq!(high, 2.0 + rise, epsilon = NEAR);
    }
    // The high side is where it rises to: a point over the left edge is under the surface, one over the right is not.
    let leaning = Body::solid(&roof(Shape::MonoPitch { pitch, rises: Heading::Left }).outside(1.8).solid().unwrap()).unwrap();
    let at = |offset: f64, level: f64| sphere(prism::point(3.0, offset, level), 0.0);
    assert_abs_diff_eq!(leaning.gap(&at(1.4, 3.0)), 0.0, epsilon = NEAR);
    assert!(leaning.gap(&at(-1.4, 3.0)) > 0.5);
    // Under a slope of 0.1 m (plumb), 0.3 m below its surface: 0.2 m plumb, by the cosine of 30° to the slab.
    let slopes = roof(Shape::Gable { pitch, ridge: Axis::Along }).slopes(0.1);
    assert_eq!(slopes.len(), 2);
    let level = 2.0 + 0.75 * tangent - 0.3;
    let nearest =
        slopes.iter().map(|slope| Body::solid(&slope.solid().unwrap()).unwrap().gap(&at(-0.75, level))).fold(f64::INFINITY, f64::min);
    assert_abs_diff_eq!(nearest, 0.2 * pitch.cos(), epsilon = NEAR);
    // A wall as a box, looked at from 1 m beside it.
    let wall = Prism::cuboid([0.0, 4.0], [-0.05, 0.05], [0.0, 1.9]);
    assert_abs_diff_eq!(Body::solid(&wall.solid().unwrap()).unwrap().gap(&at(1.05, 1.0)), 1.0, epsilon = NEAR);
}

#[test]
fn a_telescope_forty_millimetres_too_tall_for_the_gable() {
    // Parked telescope: a sphere of 0.4 m about (0.3, 2.0, 1.64), top at 2.04; the gable's lower edge at 2.00.
    let telescope = sphere([0.3, 2.0, 1.64], 0.4);
    let track = Track::new([0.0, 1.0, 0.0], 0.0, 4.0).unwrap();
    let gable = gable_end(2.0);
    assert_abs_diff_eq!(least_gap(&gable, &telescope, &track), -0.04, epsilon = NEAR);
    assert_abs_diff_eq!(lowering_needed(&gable, &telescope, &track, 0.0, 0.0), 0.04, epsilon = NEAR);
    assert_abs_diff_eq!(lowering_needed(&gable, &telescope, &track, 0.05, 0.0), 0.09, epsilon = NEAR);
    // It touches where the edge, 0.36 over the centre, is within √(0.4² − 0.36²) = 0.17436 of it.
    let reach = (0.4_f64.powi(2) - 0.36_f64.powi(2)).sqrt();
    let (entry, exit) = stretch_within(&gable, &telescope, &track, 0.0).unwrap();
    assert_abs_diff_eq!(entry, 2.0 - 0.04 - reach, epsilon = NEAR);
    assert_abs_diff_eq!(exit, 2.0 + reach, epsilon = NEAR);
    let pass = closest_pass(&[gable_end(3.0), gable], &[sphere([0.0, 2.0, 0.5], 0.3), telescope], &track).unwrap();
    assert_eq!((pass.part, pass.body), (1, 1));
    assert_abs_diff_eq!(pass.gap, -0.04, epsilon = NEAR);
    // The gap is least from where the edge comes over the centre: 2.0 − 0.04 (flat there to a ten-thousandth).
    assert_abs_diff_eq!(pass.travel, 1.96, epsilon = 1e-3);
    // Opened before the telescope was moved so far: the roof that stops short of it never touches.
    let short = Track::new([0.0, 2.0, 0.0], 0.0, 1.5).unwrap();
    assert_eq!(stretch_within(&gable_end(2.0), &sphere([0.3, 2.0, 1.64], 0.4), &short, 0.0), None);
}

#[test]
fn a_telescope_through_the_roof_is_found_though_its_axis_is_inside() {
    // A tube parked upright through the skin: the hulls themselves cross.
    let slabs = Solid::slabs(&[[-2.0, 2.0], [0.0, 3.0], [2.0, 2.0]], 0.1, 0.0, 3.0).unwrap();
    assert_eq!(slabs.len(), 2);
    let tube = Body::capsule([1.0, 1.0, 1.0], [1.0, 1.0, 2.6], 0.15).unwrap();
    let track = Track::new([0.0, 1.0, 0.0], 0.0, 4.0).unwrap();
    let right = Body::solid(&slabs[1]).unwrap();
    assert!(least_gap(&right, &tube, &track) <= -0.15 + NEAR);
    let (entry, exit) = stretch_within(&right, &tube, &track, 0.0).unwrap();
    assert_abs_diff_eq!(entry, 0.0, epsilon = NEAR);
    // The skin's end passes y = 1 + 0.15 when its beginning (y = travel) does.
    assert_abs_diff_eq!(exit, 1.15, epsilon = NEAR);
    // Down until the round top is one radius below the slope: the under side at x = 1 is 2.4, sloping 1 in 2.
    let square = 0.15 * (1.0_f64 + 0.25).sqrt();
    assert_abs_diff_eq!(lowering_needed(&right, &tube, &track, 0.0, 0.0), 2.6 - (2.4 - square), epsilon = NEAR);
}

#[test]
fn nothing_to_check_has_no_pass() {
    let track = Track::new([1.0, 0.0, 0.0], 0.0, 1.0).unwrap();
    assert_eq!(closest_pass(&[], &[sphere([0.0; 3], 1.0)], &track), None);
    assert_eq!(closest_pass(&[sphere([0.0; 3], 1.0)], &[], &track), None);
    assert!(Track::new([0.0; 3], 0.0, 1.0).is_err());
    assert!(Track::new([1.0, 0.0, 0.0], 0.0, f64::INFINITY).is_err());
    assert!(Solid::prism(&[[0.0, 0.0], [1.0, 0.0]], 0.0, 1.0).is_err());
    assert!(Solid::slabs(&[[0.0, 0.0]], 0.1, 0.0, 1.0).is_err());
}

#[test]
fn solids_have_the_edges_and_faces_of_their_kind() {
    // Euler: corners − edges + faces = 2.
    for solid in [
        Solid::cuboid([0.0; 3], [1.0, 2.0, 3.0]),
        Solid::gabled([0.0; 3], [1.0, 2.0, 3.0], 4.0),
        Solid::prism(&[[0.0, 0.0], [1.0, 0.0], [0.0, 1.0]], 0.0, 1.0).unwrap(),
    ] {
        let (v, e, f) = (solid.vertices().len(), solid.edges().count(), solid.faces().count());
        assert_eq!(v + f, e + 2);
        // Each edge lies on two faces.
        let sides: usize = solid.faces().map(|face| face.len()).sum();
        assert_eq!(sides, 2 * e);
    }
    // North-pointing y turned to east: x points south.
    let quarter = std::f64::consts::FRAC_PI_2;
    let [east, north, up] = turned([1.0, 2.0, 3.0], quarter);
    assert_abs_diff_eq!(east, 2.0, epsilon = 1e-12);
    assert_abs_diff_eq!(north, -1.0, epsilon = 1e-12);
    assert_abs_diff_eq!(up, 3.0, epsilon = 1e-12);
}

/// Distance from a point to a box by clamping each coordinate.
fn point_to_box(p: Point, low: Point, high: Point) -> f64 {
    (0..3).map(|i| (low[i] - p[i]).max(p[i] - high[i]).max(0.0).powi(2)).sum::<f64>().sqrt()
}

/// Distance from a segment to a box: the former is convex along the segment, so thirds close in on its least.
fn segment_to_box(a: Point, b: Point, low: Point, high: Point) -> f64 {
    let at = |t: f64| point_to_box([0, 1, 2].map(|i| a[i] + t * (b[i] - a[i])), low, high);
    let (mut from, mut to) = (0.0, 1.0);
    for _ in 0..120 {
        let (left, right) = (from + (to - from) / 3.0, to - (to - from) / 3.0);
        if at(left) <= at(right) { to = right } else { from = left }
    }
    at(0.0).min(at(1.0)).min(at(f64::midpoint(from, to)))
}

/// Coordinates from a coarse grid as often as from anywhere: touching, parallel and flat cases must come up.
fn coordinate() -> impl Strategy<Value = f64> {
    prop_oneof![(-6..=6_i32).prop_map(|i| f64::from(i) * 0.5), -3.0..3.0_f64]
}

fn point() -> impl Strategy<Value = Point> {
    [coordinate(), coordinate(), coordinate()]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn capsules_and_boxes_agree_with_clamping(p in point(), q in point(), a in point(), b in point(), r in 0.0..0.5_f64) {
        let low = [0, 1, 2].map(|i| p[i].min(q[i]));
        let high = [0, 1, 2].map(|i| p[i].max(q[i]));
        let ours = cuboid(low, high).gap(&Body::capsule(a, b, r).unwrap());
        prop_assert!((ours - (segment_to_box(a, b, low, high) - r)).abs() < 1e-7);
    }

    #[test]
    fn the_least_gap_is_the_least_of_all_steps(
        p in point(), q in point(), a in point(), b in point(), r in 0.01..0.5_f64, direction in point(), travel in 0.1..5.0_f64,
    ) {
        prop_assume!(direction.iter().any(|d| d.abs() > 0.1));
        let part = cuboid([0, 1, 2].map(|i| p[i].min(q[i])), [0, 1, 2].map(|i| p[i].max(q[i])));
        let body = Body::capsule(a, b, r).unwrap();
        let track = Track::new(direction, -0.3, travel).unwrap();
        let least = least_gap(&part, &body, &track);
        let steps = gaps_along(std::slice::from_ref(&part), std::slice::from_ref(&body), &track, 500);
        let stepped = steps.iter().map(|s| s.1).fold(f64::INFINITY, f64::min);
        // No step is closer, and the closest step is at most one step's travel further.
        prop_assert!(least <= stepped + 1e-7);
        prop_assert!(stepped <= least + (travel + 0.3) / 500.0 + 1e-7);
        let pass = closest_pass(std::slice::from_ref(&part), std::slice::from_ref(&body), &track).unwrap();
        prop_assert!((gap_at(&part, &body, &track, pass.travel) - least).abs() < 1e-6);
        // The stretch of collision holds just the steps that collide.
        let stretch = stretch_within(&part, &body, &track, 0.0);
        for (at, gap) in steps {
            let inside = stretch.is_some_and(|(from, to)| from - 1e-6 <= at && at <= to + 1e-6);
            let outside = stretch.is_none_or(|(from, to)| at <= from + 1e-6 || at >= to - 1e-6);
            prop_assert!(gap >= -1e-7 || inside);
            prop_assert!(gap <= 1e-7 || outside);
        }
    }

    #[test]
    fn a_mirror_changes_no_gap(p in point(), q in point(), a in point(), b in point(), r in 0.0..0.5_f64) {
        let flip = |v: Point| [-v[0], v[1], v[2]];
        let here = Body::capsule(p, q, r).unwrap().gap(&Body::capsule(a, b, r).unwrap());
        let there = Body::capsule(flip(p), flip(q), r).unwrap().gap(&Body::capsule(flip(a), flip(b), r).unwrap());
        prop_assert!((here - there).abs() < 1e-9);
        prop_assert!((Body::capsule(a, b, r).unwrap().gap(&Body::capsule(p, q, r).unwrap()) - here).abs() < 1e-9);
    }

    #[test]
    fn lowered_as_told_it_just_clears(z in 1.0..3.0_f64, x in -1.5..1.5_f64, r in 0.05..0.6_f64, wanted in 0.0..0.2_f64) {
        let (gable, track) = (gable_end(2.0), Track::new([0.0, 1.0, 0.0], 0.0, 4.0).unwrap());
        let body = sphere([x, 2.0, z], r);
        let down = lowering_needed(&gable, &body, &track, wanted, 0.0);
        let gap = least_gap(&gable, &body.shifted([0.0, 0.0, -down]), &track);
        prop_assert!(gap >= wanted - 1e-6);
        prop_assert!(down == 0.0 || gap <= wanted + 1e-6);
    }
}
