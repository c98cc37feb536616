//! Stretches of an edge, as parts of its length from 0 to 1: what a body hides of it, where a face goes on beyond it.

use super::eye::{Eye, cross, dot, less};
use super::facets::{Face, Facets, around};
use crate::calc::space::solid::Point;

/// What is not nearer to the eye by this is not before it, m: bodies that touch do not hide each other's edges.
const SKIN: f64 = 1e-5;
/// To the side, bodies that touch leave no slit to see through, m.
const SLIT: f64 = 1e-9;
/// Shorter stretches are none.
const LEAST: f64 = 1e-9;

/// A stretch, from and to.
pub(super) type Stretch = [f64; 2];

/// The stretch of the way from `from` to `to` that the body hides from the eye; `None` if it hides nothing.
pub(super) fn hidden(body: &Facets, from: Point, to: Point, eye: &Eye) -> Option<Stretch> {
    let along = less(to, from);
    match body {
        Facets::Flat(faces) => {
            // A point of the edge, and a way from there to the eye: inside the body where it is behind each face.
            let farthest = faces.iter().flat_map(|face| &face.ring).map(|point| eye.depth(*point)).fold(f64::NEG_INFINITY, f64::max);
            let reach = farthest - eye.depth(from).min(eye.depth(to));
            if reach <= SKIN {
                return None;
            }
            let mut inside = vec![[0.0, SKIN], [1.0, SKIN], [1.0, reach], [0.0, reach]];
            for face in faces {
                let limit = face.offset + SLIT - dot(face.normal, from);
                inside = clip(&inside, [dot(face.normal, along), dot(face.normal, eye.toward)], limit);
                if inside.len() < 3 {
                    return None;
                }
            }
            span(inside.iter().map(|at| at[0]))
        }
        Facets::Ball { centre, radius } => {
            let (start, way) = (less(from, *centre), along);
            let [start_flat, way_flat] = [start, way].map(|at| eye.see(at));
            // Within its outline, and inside it or behind its middle.
            let outline = within(start_flat.iter().zip(way_flat).map(|(a, b)| (*a, b)), *radius)?;
            let inner = within(start.iter().zip(way).map(|(a, b)| (*a, b)), *radius);
            let (depth, rise) = (eye.depth(start), eye.depth(way));
            let behind = match rise {
                rise if rise.abs() < 1e-12 => (depth < 0.0).then_some([0.0, 1.0]),
                rise if rise > 0.0 => Some([0.0, -depth / rise]),
                rise => Some([-depth / rise, 1.0]),
            };
            let both = [inner, behind].into_iter().flatten().filter_map(|one| overlap(one, outline));
            span(both.flatten())
        }
    }
}

/// The stretch of an edge of `face` beyond which another face in the same plane goes on.
pub(super) fn goes_on(face: &Face, from: Point, to: Point, other: &Face) -> Option<Stretch> {
    if dot(face.normal, other.normal) < 1.0 - 1e-9 || (face.offset - other.offset).abs() > SKIN {
        return None;
    }
    // A hair beyond the edge, away from the face.
    let along = less(to, from);
    let beyond = super::eye::unit(cross(along, face.normal))?;
    let middle = face.ring.iter().fold([0.0; 3], |sum, at| [sum[0] + at[0], sum[1] + at[1], sum[2] + at[2]]);
    #[expect(clippy::cast_precision_loss, reason = "a few corners")]
    let middle = middle.map(|sum| sum / face.ring.len().max(1) as f64);
    let beyond = if dot(beyond, less(middle, from)) > 0.0 { beyond.map(|x| -x) } else { beyond };
    let start = [from[0] + 2.0 * SKIN * beyond[0], from[1] + 2.0 * SKIN * beyond[1], from[2] + 2.0 * SKIN * beyond[2]];
    let centre = other.ring.first()?;
    let mut stretch: Stretch = [0.0, 1.0];
    let turns: f64 = around(&other.ring).map(|(a, b)| dot(cross(less(a, *centre), less(b, *centre)), other.normal)).sum();
    for (a, b) in around(&other.ring) {
        let Some(inward) = super::eye::unit(cross(other.normal, less(b, a))) else { continue };
        let inward = if turns < 0.0 { inward.map(|x| -x) } else { inward };
        // dot(inward, start + t along - a) >= 0
        let (at, slope) = (dot(inward, less(start, a)), dot(inward, along));
        if slope.abs() < 1e-12 {
            if at < -SKIN {
                return None;
            }
        } else if slope > 0.0 {
            stretch[0] = stretch[0].max(-at / slope);
        } else {
            stretch[1] = stretch[1].min(-at / slope);
        }
    }
    (stretch[1] - stretch[0] > LEAST).then_some(stretch)
}

/// What is left of 0 to 1 without these stretches.
pub(super) fn without(stretches: &mut [Stretch]) -> Vec<Stretch> {
    stretches.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let mut left = Vec::new();
    let mut at = 0.0;
    for [from, to] in stretches.iter() {
        if from - at > LEAST {
            left.push([at, *from]);
        }
        at = to.max(at);
    }
    if 1.0 - at > LEAST {
        left.push([at, 1.0]);
    }
    left
}

/// The part of a flat polygon where `slope · at <= limit`.
fn clip(polygon: &[[f64; 2]], slope: [f64; 2], limit: f64) -> Vec<[f64; 2]> {
    let over = |at: [f64; 2]| slope[0] * at[0] + slope[1] * at[1] - limit;
    let mut kept = Vec::with_capacity(polygon.len() + 1);
    for (one, next) in around(polygon) {
        let (a, b) = (over(one), over(next));
        if a <= 0.0 {
            kept.push(one);
        }
        if (a < 0.0 && b > 0.0) || (a > 0.0 && b < 0.0) {
            let part = a / (a - b);
            kept.push([one[0] + part * (next[0] - one[0]), one[1] + part * (next[1] - one[1])]);
        }
    }
    kept
}

fn span(parts: impl Iterator<Item = f64>) -> Option<Stretch> {
    let [from, to] = parts.fold([f64::INFINITY, f64::NEG_INFINITY], |[from, to], part| [from.min(part), to.max(part)]);
    (to - from > LEAST).then_some([from.max(0.0), to.min(1.0)])
}

fn overlap(one: Stretch, other: Stretch) -> Option<Stretch> {
    let both = [one[0].max(other[0]), one[1].min(other[1])];
    (both[0] < both[1]).then_some(both)
}

/// The stretch that lies within `radius` of the origin, of a way given by its start and its direction in each measure.
fn within(measures: impl Iterator<Item = (f64, f64)>, radius: f64) -> Option<Stretch> {
    let (mut a, mut b, mut c) = (0.0, 0.0, -radius * radius);
    for (start, way) in measures {
        a += way * way;
        b += start * way;
        c += start * start;
    }
    if a < 1e-18 {
        return (c < 0.0).then_some([0.0, 1.0]);
    }
    let root = (b * b - a * c).max(0.0).sqrt();
    overlap([(-b - root) / a, (-b + root) / a], [0.0, 1.0])
}
