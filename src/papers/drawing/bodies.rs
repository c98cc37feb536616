//! Bodies on paper: what is seen of them, where they are cut, hatched.
//!
//! In: the bodies of the parts of a view. Out: lines and hatching of each, in millimetres of paper.

use super::gather::Drawn;
use super::sheet::{Item, LineType, Point, Rect};
use crate::calc::sight::facets::Facets;
use crate::calc::sight::{Eye, Part, Seen, Shown, look};
use crate::calc::space::solid::Point as Space;
use crate::values::Value;

/// The bodies of a picture.
#[derive(Debug, Clone, Default)]
pub(super) struct Bodies {
    pieces: Vec<Facets>,
    /// No cut goes through them.
    whole: bool,
    /// They are dashed where something is before them.
    behind: bool,
}

/// Between lines of hatching, mm.
const HATCHING: f64 = 2.2;
/// The ways to hatch: a part that touches another is hatched the other way or closer (ISO 128-50:2001, 4.2).
const HATCHINGS: [(f64, f64); 4] = [(1.0, HATCHING), (-1.0, HATCHING), (1.0, HATCHING * 0.6), (-1.0, HATCHING * 0.6)];
/// Thinner cut faces are filled, mm (ISO 128-50:2001, 6).
const THIN: f64 = 1.2;

impl Bodies {
    /// Those of a value.
    pub fn of(value: &Value, whole: bool, behind: bool) -> Bodies {
        fn pieces(value: &Value) -> Vec<Facets> {
            match value {
                Value::Solid(found) => found.iter().filter_map(|piece| Facets::of(&piece.form)).collect(),
                Value::List(items) => items.iter().flat_map(pieces).collect(),
                _ => Vec::new(),
            }
        }
        Bodies { pieces: pieces(value), whole, behind }
    }

    /// Each piece but the first by itself, which is left: they are drawn with the lines between them.
    pub fn split_off(&mut self) -> Vec<Bodies> {
        let others = self.pieces.split_off(self.pieces.len().min(1));
        others.into_iter().map(|piece| Bodies { pieces: vec![piece], ..*self }).collect()
    }

    pub fn are_none(&self) -> bool {
        self.pieces.is_empty()
    }

    fn part(&self, line: LineType, by: Space) -> Part {
        let pieces = self.pieces.iter().map(|piece| piece.shifted(by)).collect();
        Part { pieces, through: self.behind || line == LineType::Hidden, whole: self.whole }
    }
}

/// How a view looks at bodies.
#[derive(Debug, Clone, Copy)]
pub(super) struct Looked {
    pub eye: Eye,
    /// All nearer than this is taken away, m.
    pub cut: Option<f64>,
    /// What rolls is looked at as if nothing else stood there, and the other way round: it will roll away.
    pub apart: bool,
}

/// What is seen of the bodies of a view, at any scale.
#[derive(Debug, Default)]
pub(super) struct Scene {
    /// Pictures by their numbers, with what is seen of them together.
    seen: Vec<(Vec<usize>, Seen)>,
}

/// Whether a picture's bodies stand in a view; else they are another place of something, or a path: nothing hides those.
fn stands(drawn: &Drawn) -> bool {
    matches!(drawn.line, LineType::Outline | LineType::Cut | LineType::Hidden)
}

impl Scene {
    /// What is seen of these pictures; `shift`: how far each has rolled, m.
    pub fn of(drawn: &[Drawn], looked: &Looked, shift: impl Fn(&Drawn) -> f64) -> Scene {
        let part = |drawn: &Drawn| drawn.bodies.part(drawn.line, [0.0, shift(drawn), 0.0]);
        let groups: &[Option<bool>] = if looked.apart { &[Some(false), Some(true)] } else { &[None] };
        let mut seen = Vec::new();
        for group in groups {
            let is_in = |drawn: &Drawn| stands(drawn) && group.is_none_or(|rolls| rolls == drawn.moves_with.is_some());
            let (numbers, parts): (Vec<usize>, Vec<Part>) =
                drawn.iter().enumerate().filter(|(_, drawn)| is_in(drawn)).map(|(at, drawn)| (at, part(drawn))).unzip();
            seen.push((numbers, look(&parts, &looked.eye, looked.cut)));
        }
        let alone = drawn.iter().enumerate().filter(|(_, drawn)| !stands(drawn) && !drawn.bodies.are_none());
        seen.extend(alone.map(|(at, drawn)| (vec![at], look(&[part(drawn)], &looked.eye, None))));
        Scene { seen }
    }

    /// The lines of each picture on paper; `per_metre`: millimetres for a metre.
    pub fn items(&self, drawn: &[Drawn], per_metre: f64) -> Vec<Vec<Item>> {
        let mut items: Vec<Vec<Item>> = vec![Vec::new(); drawn.len()];
        for (numbers, seen) in &self.seen {
            let picture = |part: usize| numbers.get(part).and_then(|at| drawn.get(*at));
            let line = |part: usize, shown: Shown| match (picture(part).map(|drawn| (stands(drawn), drawn.line)), shown) {
                (Some((false, line)), _) => line,
                (_, Shown::Cut) => LineType::Cut,
                // The ground is before it, though nothing else may be.
                (Some((_, LineType::Hidden)), _) | (_, Shown::Hidden) => LineType::Hidden,
                (_, Shown::Plain) => LineType::Outline,
            };
            let mut lines = vec![Vec::new(); numbers.len()];
            hatch(seen, per_metre, &mut lines);
            stroke(seen, per_metre, line, &mut lines);
            for (number, lines) in numbers.iter().zip(lines) {
                if let Some(items) = items.get_mut(*number) {
                    *items = lines;
                }
            }
        }
        items
    }
}

fn on_paper(at: [f64; 2], per_metre: f64) -> Point {
    [at[0] * per_metre, -at[1] * per_metre]
}

fn stroke(seen: &Seen, per_metre: f64, line: impl Fn(usize, Shown) -> LineType, items: &mut [Vec<Item>]) {
    for stroke in &seen.strokes {
        let line = line(stroke.part, stroke.shown);
        let points: Vec<Point> = stroke.points.iter().map(|at| on_paper(*at, per_metre)).collect();
        let item = match circle(&points).filter(|_| stroke.closed) {
            Some((centre, radius)) => Item::Circle { centre, radius, line },
            None => Item::Path { points, closed: stroke.closed, line },
        };
        if let Some(items) = items.get_mut(stroke.part) {
            items.push(item);
        }
    }
}

/// The circle through the corners of what has very many, all as far from its middle.
fn circle(points: &[Point]) -> Option<(Point, f64)> {
    if points.len() < 24 {
        return None;
    }
    #[expect(clippy::cast_precision_loss, reason = "a few corners")]
    let count = points.len() as f64;
    let centre = [0, 1].map(|at| points.iter().map(|point| point[at]).sum::<f64>() / count);
    let radius = |point: &Point| (point[0] - centre[0]).hypot(point[1] - centre[1]);
    let first = radius(points.first()?);
    points.iter().all(|point| (radius(point) - first).abs() < 1e-3 * first).then_some((centre, first))
}

/// Hatches the cut faces.
fn hatch(seen: &Seen, per_metre: f64, items: &mut [Vec<Item>]) {
    let faces: Vec<(usize, Vec<Point>)> =
        seen.faces.iter().map(|(part, face)| (*part, face.iter().map(|at| on_paper(*at, per_metre)).collect())).collect();
    let mut ways: Vec<(usize, usize, Rect)> = Vec::new();
    let parts = seen.faces.iter().map(|(part, _)| *part);
    let mut done: Vec<usize> = Vec::new();
    for part in parts {
        if done.contains(&part) {
            continue;
        }
        done.push(part);
        let own: Vec<&[Point]> = faces.iter().filter(|(of, _)| *of == part).map(|(_, face)| face.as_slice()).collect();
        let near: Vec<Rect> = own.iter().map(|face| Rect::around(face).grown(0.3)).collect();
        let taken = |way: usize| ways.iter().any(|(_, other, rect)| *other == way && near.iter().any(|own| own.overlaps(rect)));
        let way = (0..HATCHINGS.len()).find(|way| !taken(*way)).unwrap_or(0);
        ways.extend(near.iter().map(|rect| (part, way, *rect)));
        let Some((slope, spacing)) = HATCHINGS.get(way).copied() else { continue };
        let Some(items) = items.get_mut(part) else { continue };
        let thin = |face: &&[Point]| Rect::around(face).breadth().min(Rect::around(face).height()) < THIN;
        items.extend(own.iter().copied().filter(thin).map(|face| Item::Fill { points: face.to_vec() }));
        let thick: Vec<&[Point]> = own.iter().copied().filter(|face| !thin(face)).collect();
        items.extend(lines(&thick, slope, spacing));
    }
}

/// Lines at 45° over faces that may overlap.
fn lines(faces: &[&[Point]], slope: f64, spacing: f64) -> Vec<Item> {
    // A line of hatching is `y - slope x = height`; heights are whole steps, so that it goes on from piece to piece.
    let height = |at: Point| at[1] - slope * at[0];
    let step = spacing * std::f64::consts::SQRT_2;
    let [low, high] = faces
        .iter()
        .flat_map(|face| face.iter())
        .fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], at| [low.min(height(*at)), high.max(height(*at))]);
    let mut items = Vec::new();
    let mut number = (low / step).ceil();
    while number * step < high {
        let level = number * step;
        let mut stretches: Vec<[f64; 2]> = faces.iter().filter_map(|face| crossed(face, height, level)).collect();
        stretches.sort_by(|a, b| a[0].total_cmp(&b[0]));
        let mut merged: Vec<[f64; 2]> = Vec::new();
        for stretch in stretches {
            match merged.last_mut() {
                Some(last) if stretch[0] <= last[1] => last[1] = last[1].max(stretch[1]),
                _ => merged.push(stretch),
            }
        }
        let at = |x: f64| [x, level + slope * x];
        items.extend(merged.into_iter().map(|[from, to]| Item::segment(at(from), at(to), LineType::Thin)));
        number += 1.0;
    }
    items
}

/// From where to where (across the paper) a line of hatching runs in a convex face.
fn crossed(face: &[Point], height: impl Fn(Point) -> f64, level: f64) -> Option<[f64; 2]> {
    let ring = face.iter().zip(face.iter().cycle().skip(1));
    let places = ring.filter_map(|(a, b)| {
        let (from, to) = (height(*a) - level, height(*b) - level);
        ((from < 0.0) != (to < 0.0)).then(|| a[0] + (b[0] - a[0]) * from / (from - to))
    });
    let [from, to] = places.fold([f64::INFINITY, f64::NEG_INFINITY], |[from, to], x| [from.min(x), to.max(x)]);
    (from < to).then_some([from, to])
}
