//! Hidden lines against ray casting: the general-purpose library `parry3d` casts a ray to the eye from points of edges.

use parry3d_f64::math::{Pose, Vector};
use parry3d_f64::query::{Ray, RayCast};
use parry3d_f64::shape::{Ball, ConvexPolyhedron};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use wallplate::calc::sight::eye::Eye;
use wallplate::calc::sight::facets::Facets;
use wallplate::calc::sight::{Part, Seen, Shown, look};
use wallplate::calc::space::piece::Form;
use wallplate::calc::space::prism::Prism;
use wallplate::calc::space::solid::{Point, Solid};

const EYES: [Eye; 5] = [Eye::ABOVE, Eye::RIGHT, Eye::LEFT, Eye::CLOSED_END, Eye::OPEN_END];

fn part(facets: Facets) -> Part {
    Part { pieces: vec![facets], through: false, whole: false }
}

fn block(low: Point, size: Point, turn: [f64; 2]) -> Form {
    let high = [low[0] + size[0], low[1] + size[1], low[2] + size[2]];
    let (sin, cos) = turn[0].sin_cos();
    let (sin2, cos2) = turn[1].sin_cos();
    Form::Block(Solid::cuboid(low, high).mapped(|[x, y, z]| {
        let [x, y] = [x * cos - y * sin, x * sin + y * cos];
        [x * cos2 - z * sin2, y, x * sin2 + z * cos2]
    }))
}

fn distance(point: [f64; 2], a: [f64; 2], b: [f64; 2]) -> f64 {
    let way = [b[0] - a[0], b[1] - a[1]];
    let along = ((point[0] - a[0]) * way[0] + (point[1] - a[1]) * way[1]) / (way[0] * way[0] + way[1] * way[1]).max(1e-30);
    let along = along.clamp(0.0, 1.0);
    (point[0] - a[0] - along * way[0]).hypot(point[1] - a[1] - along * way[1])
}

fn is_drawn(seen: &Seen, of: Option<usize>, at: [f64; 2]) -> bool {
    seen.strokes.iter().filter(|stroke| of.is_none_or(|part| stroke.part == part) && stroke.shown != Shown::Hidden).any(|stroke| {
        let closing = stroke.closed.then(|| (*stroke.points.last().unwrap(), stroke.points[0]));
        stroke.points.windows(2).map(|pair| (pair[0], pair[1])).chain(closing).any(|(a, b)| distance(at, a, b) < 1e-4)
    })
}

fn hides(form: &Form, from: Point, eye: &Eye) -> Option<f64> {
    // From a little off the surface, so that a body does not hide what lies on it.
    let [x, y, z] = from;
    let toward = Vector::new(eye.toward[0], eye.toward[1], eye.toward[2]);
    let ray = Ray::new(Vector::new(x, y, z) + toward * 1e-3, toward);
    match form {
        Form::Ball { centre, radius } => {
            let at = Pose::from_translation(Vector::new(centre[0], centre[1], centre[2]));
            Ball::new(*radius).cast_ray(&at, &ray, 1e3, true)
        }
        Form::Block(solid) => {
            let points: Vec<Vector> = solid.vertices().iter().map(|p| Vector::new(p[0], p[1], p[2])).collect();
            ConvexPolyhedron::from_convex_hull(&points).unwrap().cast_ray(&Pose::IDENTITY, &ray, 1e3, true)
        }
        _ => unreachable!(),
    }
}

fn forms() -> impl Strategy<Value = Vec<Form>> {
    let place = || prop::array::uniform3(-2.0..2.0_f64);
    let boxes = (place(), prop::array::uniform3(0.2..2.0_f64), prop::array::uniform2(0.1..3.0_f64))
        .prop_map(|(low, size, turn)| block(low, size, turn));
    let balls = (place(), 0.2..1.0_f64).prop_map(|(centre, radius)| Form::Ball { centre, radius });
    prop::collection::vec(prop_oneof![3 => boxes, 1 => balls], 2..6)
}

proptest! {
    #![proptest_config(ProptestConfig { rng_seed: RngSeed::Fixed(17), ..ProptestConfig::with_cases(300) })]

    #[test]
    fn an_edge_shows_where_a_ray_to_the_eye_is_free(forms in forms(), from in 0..6_usize, parts in prop::collection::vec(0.02..0.98_f64, 4)) {
        let eye = EYES.get(from).copied().unwrap_or_else(Eye::corner);
        let bodies: Vec<Part> = forms.iter().map(|form| part(Facets::of(form).unwrap())).collect();
        let seen = look(&bodies, &eye, None);
        let mut asked = 0;
        for (number, form) in forms.iter().enumerate() {
            let Form::Block(solid) = form else { continue };
            for (a, b) in solid.edges() {
                // Of an edge that is looked along, what shows and what does not lie within a hair of each other.
                let ([u, v], [w, z]) = (eye.see(a), eye.see(b));
                if (u - w).hypot(v - z) < 0.1 * (eye.depth(a) - eye.depth(b)).abs() {
                    continue;
                }
                for part in &parts {
                    let at = [0, 1, 2].map(|axis| a[axis] + part * (b[axis] - a[axis]));
                    // A ray that grazes says nothing: the same from four places a hair aside has to agree.
                    let hair = [[0.0, 0.0], [1e-3, 0.0], [-1e-3, 0.0], [0.0, 1e-3], [0.0, -1e-3]];
                    let aside = |[u, v]: [f64; 2]| [0, 1, 2].map(|axis| at[axis] + u * eye.right[axis] + v * eye.up[axis]);
                    let hidden = |by: [f64; 2]| {
                        forms.iter().enumerate().any(|(other, form)| other != number && hides(form, aside(by), &eye).is_some())
                    };
                    let answers: Vec<bool> = hair.into_iter().map(hidden).collect();
                    // Nor does one that begins a hair within a body.
                    let back = [0, 1, 2].map(|axis| at[axis] - 2e-3 * eye.toward[axis]);
                    let behind = forms.iter().enumerate().any(|(other, form)| other != number && hides(form, back, &eye).is_some());
                    if answers.iter().any(|answer| *answer != behind) {
                        continue;
                    }
                    asked += 1;
                    // Its own body: within its outline the edge is on the far side.
                    let own: Vec<bool> = hair.into_iter().map(|by| hides(form, aside(by), &eye).is_some()).collect();
                    if own.iter().skip(1).all(|hidden| *hidden) {
                        prop_assert!(answers[0] || own[0] || is_drawn(&seen, None, eye.see(at)), "an edge of {number} at {at:?} is not drawn");
                        continue;
                    }
                    if own[0] {
                        continue;
                    }
                    prop_assert_eq!(is_drawn(&seen, Some(number), eye.see(at)), !answers[0], "part {} at {:?} from {:?}", number, at, eye);
                }
            }
        }
        prop_assert!(asked > 0 || forms.iter().all(|form| matches!(form, Form::Ball { .. })), "no ray was clear");
    }
}

fn cuboid(stations: [f64; 2], offsets: [f64; 2], levels: [f64; 2]) -> Facets {
    Facets::of(&Form::Prism(Prism::cuboid(stations, offsets, levels))).unwrap()
}

fn long(seen: &Seen, shown: Shown) -> f64 {
    let of = |points: &[[f64; 2]], closed: bool| {
        let closing = closed.then(|| (*points.last().unwrap(), points[0]));
        points.windows(2).map(|pair| (pair[0], pair[1])).chain(closing).map(|(a, b)| (a[0] - b[0]).hypot(a[1] - b[1])).sum::<f64>()
    };
    seen.strokes.iter().filter(|stroke| stroke.shown == shown).map(|stroke| of(&stroke.points, stroke.closed)).sum()
}

#[test]
fn a_cut_box_has_its_outline_and_nothing_nearer() {
    // Cut at station 1 of 3: 0.4 by 0.6, and the box that ends before the cut is gone.
    let parts = [part(cuboid([0.0, 3.0], [0.0, 0.4], [0.0, 0.6])), part(cuboid([-1.0, 0.5], [0.1, 0.3], [0.0, 2.0]))];
    // From the closed end the depth is less the station.
    let seen = look(&parts, &Eye::CLOSED_END, Some(-1.0));
    assert!((long(&seen, Shown::Cut) - 2.0).abs() < 1e-9, "{seen:?}");
    assert_eq!(long(&seen, Shown::Plain), 0.0);
    assert_eq!(seen.faces.len(), 1);
}

#[test]
fn pieces_of_one_part_have_no_seam_and_two_parts_have_one() {
    let (one, other) = (cuboid([0.0, 1.0], [0.0, 1.0], [0.0, 1.0]), cuboid([1.0, 2.0], [0.0, 1.0], [0.0, 1.0]));
    let together = Part { pieces: vec![one.clone(), other.clone()], through: true, whole: false };
    assert!((long(&look(&[together], &Eye::RIGHT, None), Shown::Plain) - 6.0).abs() < 1e-9);
    let seen = look(&[part(one), part(other)], &Eye::RIGHT, None);
    assert!((long(&seen, Shown::Plain) - 7.0).abs() < 1e-9, "{seen:?}");
}

#[test]
fn what_stands_behind_is_dashed_only_where_it_is_asked_for() {
    // A post of 0.1 behind a beam of 0.3 depth: 2 sides of 2 m, hidden on 0.3 m each.
    let beam = part(cuboid([-1.0, 1.0], [0.0, 0.1], [1.7, 2.0]));
    let post = |through: bool| Part { pieces: vec![cuboid([-0.05, 0.05], [0.1, 0.2], [0.0, 2.0])], through, whole: false };
    let plain = look(&[beam.clone(), post(false)], &Eye::RIGHT, None);
    assert_eq!(long(&plain, Shown::Hidden), 0.0);
    assert!((long(&plain, Shown::Plain) - (2.0 * 2.0 + 2.0 * 0.3 + 2.0 * 1.7 + 0.1)).abs() < 1e-4);
    let dashed = look(&[beam, post(true)], &Eye::RIGHT, None);
    assert!((long(&dashed, Shown::Hidden) - 0.6).abs() < 1e-3, "{dashed:?}");
}

#[test]
fn a_pipe_is_a_circle_from_above_and_a_rectangle_from_the_side() {
    let pipe = Facets::of(&Form::Tube { from: [0.0, 0.0, 0.0], to: [0.0, 0.0, 1.0], diameter: 0.2 }).unwrap();
    let above = look(&[part(pipe.clone())], &Eye::ABOVE, None);
    assert_eq!(above.strokes.len(), 1);
    assert!(above.strokes[0].closed && above.strokes[0].points.iter().all(|[x, y]| (x.hypot(*y) - 0.1).abs() < 1e-9));
    let side = look(&[part(pipe)], &Eye::RIGHT, None);
    assert!((long(&side, Shown::Plain) - 2.4).abs() < 1e-3, "{side:?}");
}

#[test]
fn what_a_house_hides_from_a_corner_is_a_known_sum() {
    // Of the 12 edges of a cube 9 are seen from a corner, each as long as the root of 2/3 (ISO 5456-3, isometric).
    let seen = look(&[part(cuboid([0.0, 1.0], [0.0, 1.0], [0.0, 1.0]))], &Eye::corner(), None);
    assert!((long(&seen, Shown::Plain) - 9.0 * (2.0_f64 / 3.0).sqrt()).abs() < 1e-9);
}

#[test]
fn a_roof_of_slopes_and_boards_shows_no_seam_between_them() {
    use wallplate::calc::space::prism::PlacedRoof;
    use wallplate::calc::wind::roof::{Axis, Shape};
    let roof = PlacedRoof {
        shape: Shape::Gable { pitch: 20_f64.to_radians(), ridge: Axis::Along },
        stations: [-0.15, 4.35],
        offsets: [-0.15, 3.35],
        eaves: 2.28,
    };
    let pieces: Vec<Facets> =
        roof.shell(0.14, 0.02, 1.93, [2.06, 2.06]).into_iter().map(|p| Facets::of(&Form::Prism(p)).unwrap()).collect();
    let seen = look(&[Part { pieces, through: false, whole: false }], &Eye::CLOSED_END, None);
    // The outline: two slopes, two edges down to the boards, along those of 20 mm and up behind the gable, its foot.
    let slope = 1.75 / 20_f64.to_radians().cos();
    let outline = 2.0 * slope + 2.0 * 0.35 + 2.0 * (0.02 + 0.13) + 3.5;
    assert!((long(&seen, Shown::Plain) - outline).abs() < 1e-3, "{} is not {outline}: {seen:#?}", long(&seen, Shown::Plain));
}
