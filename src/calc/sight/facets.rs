//! Pieces with their faces and edges, and what a cut leaves of them.
//!
//! In: forms in m. Out: [`Facets`], convex bodies bounded by flat faces, or balls.

use super::eye::{Eye, between, cross, dot, less, unit};
use crate::calc::space::piece::Form;
use crate::calc::space::solid::Point;
use std::collections::HashMap;
use std::f64::consts::TAU;

/// Flats of a tube; at 1:10 a chord of a 300 mm tube lies 0.02 mm beside its circle on paper.
const FLATS: u32 = 72;
/// Points nearer than this are one, m.
const SAME: f64 = 1e-7;

/// A convex body that is looked at.
#[derive(Debug, Clone, PartialEq)]
pub enum Facets {
    /// Bounded by flat faces.
    Flat(Vec<Face>),
    /// A ball.
    Ball {
        /// Its middle.
        centre: Point,
        /// m.
        radius: f64,
    },
}

/// A flat face, its corners in order.
#[derive(Debug, Clone, PartialEq)]
pub struct Face {
    /// The corners.
    pub ring: Vec<Point>,
    /// Away from the body, one long.
    pub normal: Point,
    /// Distance of its plane from the datum along the normal, m.
    pub offset: f64,
    /// One of the flats of something round: between two of those there is no edge.
    pub round: bool,
    /// Made by the cut.
    pub cut: bool,
}

/// An edge between two faces, by their numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Edge {
    /// One end.
    pub from: Point,
    /// The other.
    pub to: Point,
    /// The faces on both sides; the same twice where there is no other.
    pub faces: [usize; 2],
}

impl Facets {
    /// What a form is to the eye; `None` of what has no faces.
    #[must_use]
    pub fn of(form: &Form) -> Option<Facets> {
        match form {
            Form::Prism(prism) => Some(flat(prism.solid().ok()?.faces())),
            Form::Block(solid) => Some(flat(solid.faces())),
            Form::Ball { centre, radius } => Some(Facets::Ball { centre: *centre, radius: *radius }),
            Form::Tube { from, to, diameter } => tube(*from, *to, diameter / 2.0),
            Form::Edge { .. } | Form::Stretch { .. } => None,
        }
    }

    /// The same moved.
    #[must_use]
    pub fn shifted(&self, by: Point) -> Facets {
        let moved = |at: &Point| [at[0] + by[0], at[1] + by[1], at[2] + by[2]];
        match self {
            Facets::Flat(faces) => {
                let face = |face: &Face| Face {
                    ring: face.ring.iter().map(moved).collect(),
                    offset: face.offset + dot(face.normal, by),
                    ..face.clone()
                };
                Facets::Flat(faces.iter().map(face).collect())
            }
            Facets::Ball { centre, radius } => Facets::Ball { centre: moved(centre), radius: *radius },
        }
    }

    /// What lies no nearer to the eye than `depth` (m); a ball is kept whole or not at all.
    #[must_use]
    pub fn behind(&self, eye: &Eye, depth: f64) -> Option<Facets> {
        let faces = match self {
            Facets::Ball { centre, .. } => return (eye.depth(*centre) <= depth + SAME).then(|| self.clone()),
            Facets::Flat(faces) => faces,
        };
        let is_near = |point: &Point| eye.depth(*point) > depth + SAME;
        let points = || faces.iter().flat_map(|face| &face.ring);
        if !points().any(is_near) {
            return Some(self.clone());
        }
        if points().all(|point| eye.depth(*point) > depth - SAME) {
            return None;
        }
        let mut kept: Vec<Face> = Vec::with_capacity(faces.len() + 1);
        let mut on_cut: Vec<Point> = Vec::new();
        for face in faces {
            let mut ring: Vec<Point> = Vec::with_capacity(face.ring.len() + 1);
            for (one, next) in around(&face.ring) {
                if !is_near(&one) {
                    ring.push(one);
                }
                if is_near(&one) != is_near(&next) {
                    let part = (depth - eye.depth(one)) / (eye.depth(next) - eye.depth(one));
                    let at = between(one, next, part);
                    ring.push(at);
                    on_cut.push(at);
                }
            }
            ring.dedup_by(|a, b| is_one(*a, *b));
            if ring.len() >= 3 {
                kept.push(Face { ring, ..face.clone() });
            }
        }
        let middle = on_cut.iter().fold([0.0; 2], |sum, at| [sum[0] + eye.see(*at)[0], sum[1] + eye.see(*at)[1]]);
        #[expect(clippy::cast_precision_loss, reason = "a few corners")]
        let middle = middle.map(|sum| sum / on_cut.len().max(1) as f64);
        let turn = |at: &Point| (eye.see(*at)[1] - middle[1]).atan2(eye.see(*at)[0] - middle[0]);
        on_cut.sort_by(|a, b| turn(a).total_cmp(&turn(b)));
        on_cut.dedup_by(|a, b| is_one(*a, *b));
        if on_cut.len() >= 3 {
            kept.push(Face { ring: on_cut, normal: eye.toward, offset: depth, round: false, cut: true });
        }
        Some(Facets::Flat(kept))
    }

    /// Its edges; none between two flats of something round unless one of them is turned away from the eye.
    #[must_use]
    pub fn edges(&self, eye: &Eye) -> Vec<Edge> {
        let Facets::Flat(faces) = self else { return Vec::new() };
        let mut beside: HashMap<([i64; 3], [i64; 3]), Edge> = HashMap::new();
        let mut order: Vec<([i64; 3], [i64; 3])> = Vec::new();
        for (at, face) in faces.iter().enumerate() {
            for (from, to) in around(&face.ring) {
                let (a, b) = (place(from), place(to));
                let ends = if a < b { (a, b) } else { (b, a) };
                let edge = beside.entry(ends).or_insert_with(|| {
                    order.push(ends);
                    Edge { from, to, faces: [at, at] }
                });
                edge.faces[1] = at;
            }
        }
        let shows = |at: usize| faces.get(at).is_some_and(|face| dot(face.normal, eye.toward) > FACING);
        let is_edge = |edge: &Edge| {
            let [one, other] = edge.faces.map(|at| faces.get(at));
            match (one, other) {
                (Some(one), Some(other)) if one.round && other.round => shows(edge.faces[0]) != shows(edge.faces[1]),
                (Some(one), Some(other)) => edge.faces[0] == edge.faces[1] || dot(one.normal, other.normal) < 1.0 - 1e-9,
                _ => false,
            }
        };
        order.iter().filter_map(|ends| beside.get(ends).copied()).filter(is_edge).collect()
    }
}

/// A face is turned to the eye if its normal leans to it by more than this.
pub(super) const FACING: f64 = 1e-9;

fn place(point: Point) -> [i64; 3] {
    #[expect(clippy::cast_possible_truncation, reason = "bodies reach no farther than 10 km")]
    point.map(|x| (x / 1e-6).round() as i64)
}

fn is_one(a: Point, b: Point) -> bool {
    a.iter().zip(b).all(|(x, y)| (x - y).abs() < SAME)
}

/// Pairs of neighbours round a ring.
pub(super) fn around<T: Copy>(ring: &[T]) -> impl Iterator<Item = (T, T)> + '_ {
    ring.iter().copied().zip(ring.iter().copied().cycle().skip(1))
}

fn flat(rings: impl Iterator<Item = Vec<Point>>) -> Facets {
    let rings: Vec<Vec<Point>> = rings.collect();
    let middle = middle_of(rings.iter().flatten());
    Facets::Flat(rings.into_iter().filter_map(|ring| face(ring, middle, false)).collect())
}

fn middle_of<'p>(points: impl Iterator<Item = &'p Point> + Clone) -> Point {
    #[expect(clippy::cast_precision_loss, reason = "a few corners")]
    let count = points.clone().count().max(1) as f64;
    points.fold([0.0; 3], |sum, at| [sum[0] + at[0], sum[1] + at[1], sum[2] + at[2]]).map(|sum| sum / count)
}

/// A face whose normal leads away from `inside`; none where its corners lie on a line.
fn face(ring: Vec<Point>, inside: Point, round: bool) -> Option<Face> {
    // Newell: the sum over all corners does not mind that some of them lie on a line.
    let first = *ring.first()?;
    let normal = around(&ring).fold([0.0; 3], |sum, (a, b)| {
        let part = cross(less(a, first), less(b, first));
        [sum[0] + part[0], sum[1] + part[1], sum[2] + part[2]]
    });
    let normal = unit(normal)?;
    let normal = if dot(normal, less(first, inside)) < 0.0 { normal.map(|x| -x) } else { normal };
    Some(Face { offset: dot(normal, first), ring, normal, round, cut: false })
}

fn tube(from: Point, to: Point, radius: f64) -> Option<Facets> {
    let axis = unit(less(to, from))?;
    let least = if axis[2].abs() < 0.9 { [0.0, 0.0, 1.0] } else { [1.0, 0.0, 0.0] };
    let one = unit(cross(axis, least))?;
    let other = cross(axis, one);
    let at = |end: Point, flat: u32| {
        let (sin, cos) = (f64::from(flat) / f64::from(FLATS) * TAU).sin_cos();
        let reach = |axis: usize| radius * (one[axis] * cos + other[axis] * sin);
        [end[0] + reach(0), end[1] + reach(1), end[2] + reach(2)]
    };
    let middle = between(from, to, 0.5);
    let ring = |end: Point| (0..FLATS).map(|flat| at(end, flat)).collect();
    let mut faces: Vec<Face> = [ring(from), ring(to)].into_iter().filter_map(|ring| face(ring, middle, false)).collect();
    let side = |flat: u32| {
        let next = (flat + 1) % FLATS;
        face(vec![at(from, flat), at(from, next), at(to, next), at(to, flat)], middle, true)
    };
    faces.extend((0..FLATS).filter_map(side));
    Some(Facets::Flat(faces))
}
