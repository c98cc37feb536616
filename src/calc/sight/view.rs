//! All of a view: every edge of every part, what of it shows, and the faces of the cut.

use super::eye::Eye;
use super::facets::{Edge, FACING, Face, Facets, around};
use super::stretch::{self, Stretch};
use super::strokes::{self, Shown, Stroke};
use crate::calc::space::solid::Point;
use std::f64::consts::TAU;

/// A part that is looked at.
#[derive(Debug, Clone)]
pub struct Part {
    /// Its pieces; between those there are no seams where a face goes on.
    pub pieces: Vec<Facets>,
    /// Its edges are drawn where something hides them, too.
    pub through: bool,
    /// No cut goes through it: it is drawn whole, or not at all where its middle is nearer.
    pub whole: bool,
}

/// What is seen.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Seen {
    /// The lines, part after part.
    pub strokes: Vec<Stroke>,
    /// The cut faces with the number of their part, each as its corners, m.
    pub faces: Vec<(usize, Vec<[f64; 2]>)>,
}

/// An edge with what it belongs to.
struct Drawn<'p> {
    part: usize,
    piece: usize,
    edge: Edge,
    faces: Option<[&'p Face; 2]>,
}

/// What hides: the part, the piece, its box in the view and how near it comes.
struct Before<'p> {
    part: usize,
    piece: usize,
    facets: &'p Facets,
    low: [f64; 2],
    high: [f64; 2],
    nearest: f64,
}

/// Lines of the outline of a ball.
const ROUND: u32 = 72;

/// What is seen of these parts from there, all nearer than `cut` (m towards the eye) taken away.
#[must_use]
pub fn look(parts: &[Part], eye: &Eye, cut: Option<f64>) -> Seen {
    let left: Vec<Vec<Facets>> = parts.iter().map(|part| remains(part, eye, cut)).collect();
    let before: Vec<Before> = left.iter().enumerate().flat_map(|(part, pieces)| befores(part, pieces, eye)).collect();
    let mut lines = Vec::new();
    for (part, pieces) in left.iter().enumerate() {
        let through = parts.get(part).is_some_and(|part| part.through);
        for (piece, facets) in pieces.iter().enumerate() {
            for drawn in drawn(part, piece, facets, eye) {
                show(&drawn, &before, pieces, eye, through, &mut lines);
            }
        }
    }
    let cut_faces = |(part, pieces): (usize, &Vec<Facets>)| {
        let faces = pieces.iter().filter_map(|piece| if let Facets::Flat(faces) = piece { Some(faces) } else { None }).flatten();
        let cut = faces.filter(|face| face.cut);
        cut.map(|face| (part, face.ring.iter().map(|at| eye.see(*at)).collect())).collect::<Vec<_>>()
    };
    Seen { strokes: strokes::joined(lines), faces: left.iter().enumerate().flat_map(cut_faces).collect() }
}

fn remains(part: &Part, eye: &Eye, cut: Option<f64>) -> Vec<Facets> {
    let Some(cut) = cut else { return part.pieces.clone() };
    if part.whole {
        let depths = part.pieces.iter().flat_map(corners).map(|at| eye.depth(at));
        let [low, high] = depths.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], at| [low.min(at), high.max(at)]);
        return if f64::midpoint(low, high) <= cut { part.pieces.clone() } else { Vec::new() };
    }
    part.pieces.iter().filter_map(|piece| piece.behind(eye, cut)).collect()
}

fn corners(facets: &Facets) -> Vec<Point> {
    match facets {
        Facets::Flat(faces) => faces.iter().flat_map(|face| face.ring.iter().copied()).collect(),
        Facets::Ball { centre, .. } => vec![*centre],
    }
}

fn befores<'p>(part: usize, pieces: &'p [Facets], eye: &Eye) -> Vec<Before<'p>> {
    let before = |(piece, facets): (usize, &'p Facets)| {
        let grown = if let Facets::Ball { radius, .. } = facets { *radius } else { 0.0 };
        let (mut low, mut high, mut nearest) = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2], f64::NEG_INFINITY);
        for at in corners(facets) {
            let seen = eye.see(at);
            low = [low[0].min(seen[0] - grown), low[1].min(seen[1] - grown)];
            high = [high[0].max(seen[0] + grown), high[1].max(seen[1] + grown)];
            nearest = nearest.max(eye.depth(at) + grown);
        }
        Before { part, piece, facets, low, high, nearest }
    };
    pieces.iter().enumerate().map(before).collect()
}

/// The edges of a piece that can show.
fn drawn<'p>(part: usize, piece: usize, facets: &'p Facets, eye: &Eye) -> Vec<Drawn<'p>> {
    match facets {
        Facets::Flat(faces) => {
            let faces_of = |edge: Edge| {
                let [one, other] = edge.faces.map(|at| faces.get(at));
                Some(Drawn { part, piece, edge, faces: Some([one?, other?]) })
            };
            facets.edges(eye).into_iter().filter_map(faces_of).collect()
        }
        Facets::Ball { centre, radius } => {
            let at = |step: u32| {
                let (sin, cos) = (f64::from(step) / f64::from(ROUND) * TAU).sin_cos();
                let reach = |axis: usize| centre[axis] + radius * (eye.right[axis] * cos + eye.up[axis] * sin);
                [reach(0), reach(1), reach(2)]
            };
            let ring: Vec<Point> = (0..ROUND).map(at).collect();
            around(&ring).map(|(from, to)| Drawn { part, piece, edge: Edge { from, to, faces: [0, 0] }, faces: None }).collect()
        }
    }
}

fn show(drawn: &Drawn, before: &[Before], own: &[Facets], eye: &Eye, through: bool, lines: &mut Vec<strokes::Line>) {
    let Edge { from, to, .. } = drawn.edge;
    let [a, b] = [eye.see(from), eye.see(to)];
    let (low, high) = ([a[0].min(b[0]), a[1].min(b[1])], [a[0].max(b[0]), a[1].max(b[1])]);
    let farthest = eye.depth(from).min(eye.depth(to));
    let is_cut = drawn.faces.is_some_and(|faces| faces.iter().any(|face| face.cut));
    let mut seams: Vec<Stretch> = seams(drawn, own);
    let mut hidden: Vec<Stretch> = Vec::new();
    if drawn.faces.is_some_and(|faces| faces.iter().all(|face| super::eye::dot(face.normal, eye.toward) <= FACING)) {
        hidden.push([0.0, 1.0]);
    } else {
        let may = |other: &&Before| {
            let is_own = other.part == drawn.part && other.piece == drawn.piece;
            !is_own && other.nearest > farthest && (0..2).all(|at| other.low[at] <= high[at] && other.high[at] >= low[at])
        };
        hidden.extend(before.iter().filter(may).filter_map(|other| stretch::hidden(other.facets, from, to, eye)));
    }
    let mut line = |shown: Shown, [start, end]: Stretch| {
        let at = |part: f64| [a[0] + part * (b[0] - a[0]), a[1] + part * (b[1] - a[1])];
        lines.push(strokes::Line { part: drawn.part, shown, from: at(start), to: at(end) });
    };
    let mut gone: Vec<Stretch> = hidden.iter().chain(&seams).copied().collect();
    for shown in stretch::without(&mut gone) {
        line(if is_cut { Shown::Cut } else { Shown::Plain }, shown);
    }
    if through {
        // Hidden, and no seam: what is left when all that shows and all seams are taken out.
        let mut rest = stretch::without(&mut hidden);
        rest.append(&mut seams);
        for shown in stretch::without(&mut rest) {
            line(Shown::Hidden, shown);
        }
    }
}

/// Where another piece of the same part goes on beyond the edge, on a face that is seen.
fn seams(drawn: &Drawn, own: &[Facets]) -> Vec<Stretch> {
    let Some(faces) = drawn.faces else { return Vec::new() };
    let others = own.iter().enumerate().filter(|(at, _)| *at != drawn.piece).filter_map(|(_, piece)| match piece {
        Facets::Flat(faces) => Some(faces),
        Facets::Ball { .. } => None,
    });
    let Edge { from, to, .. } = drawn.edge;
    let beyond = |other: &Face| faces.iter().find_map(|face| stretch::goes_on(face, from, to, other));
    others.flatten().filter_map(beyond).collect()
}
