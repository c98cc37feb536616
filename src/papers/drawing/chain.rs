//! Dimension chains outside a view, after ISO 129-1: from one place to the next, or running from the datum.
//!
//! In: places on the paper with what stands at them. Out: lines and texts that do not lie over one another, and how
//! much room they took. It must not know what is dimensioned.

use super::lettering::{self, BELOW, NORMAL, SMALL};
use super::sheet::{Anchor, Item, LineType, Point, Rect, Text};
use super::spread::apart;

/// The side of a view on which a chain runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Its places are along the paper, the chain lies below.
    Below,
    /// Its places are up the paper, the chain lies to the left.
    Left,
    /// Its places are up the paper, the chain lies to the right.
    Right,
}

/// Where something stands along a chain that runs from a datum, and how far from it that is.
#[derive(Debug, Clone)]
pub struct Chainage {
    /// Along the chain, mm of the paper.
    pub along: f64,
    /// What is written there, in a running chain.
    pub words: String,
}

/// A stroke of 45° across the end of a dimension, half its length along each axis, mm.
const STROKE: f64 = 1.1;
/// How far lines run beyond the dimension line, mm.
const BEYOND: f64 = 1.5;
/// Between what is dimensioned and the beginning of its extension line, mm.
const OFF: f64 = 1.5;
/// Around each text, mm.
const AIR: f64 = 0.7;
/// From one row of dimension texts to the next, mm.
const ROW: f64 = NORMAL * (1.0 + BELOW) + AIR;
/// Room in which a leader of a running chain bends to its text, mm.
const BEND: f64 = 4.0;
/// Rows that are tried before a text is put where it is.
const MOST_ROWS: usize = 6;
/// Where a text is tried over its own stretch, as parts of what it may be moved.
const OUT_OF_THE_MIDDLE: [f64; 7] = [0.0, 0.5, -0.5, 0.75, -0.75, 1.0, -1.0];

/// Where a chain begins: outside the view, at this distance from it.
pub struct Base {
    /// On which side of the view.
    pub side: Side,
    /// The edge of what is dimensioned, mm of the paper.
    pub edge: f64,
    /// Where the chain may begin, mm of the paper; beyond the chains before it.
    pub start: f64,
    /// Along the chain, where the extension lines of the chains farther out pass, mm.
    pub passing: Vec<f64>,
}

impl Base {
    /// A place so far along the chain and so far out from `from`.
    fn at(&self, along: f64, from: f64, out: f64) -> Point {
        match self.side {
            Side::Below => [along, from + out],
            Side::Left => [from - out, along],
            Side::Right => [from + out, along],
        }
    }

    /// Whether no extension line of a chain farther out runs through a text along the chain.
    fn is_clear(&self, text: &Rect) -> bool {
        let at = usize::from(self.side != Side::Below);
        !self.passing.iter().any(|along| text.from[at] - AIR < *along && *along < text.to[at] + AIR)
    }

    /// A text along the chain, about its middle, from `near` to further out.
    fn along(&self, middle: f64, from: f64, near: f64, words: &str) -> Text {
        let text =
            Text { at: [0.0, 0.0], words: words.to_owned(), height: NORMAL, anchor: Anchor::Middle, turned: self.side != Side::Below };
        let (above, below) = (NORMAL, NORMAL * BELOW);
        let at = match self.side {
            Side::Below => [middle, from + near + above],
            Side::Left => [from - near - below, middle],
            Side::Right => [from + near + above, middle],
        };
        Text { at, ..text }
    }
}

/// As many equal steps, one after the other, are told as one where their text has no room over each of them.
const ALIKE: usize = 3;

/// What a chain tells, each with where it begins and ends, and whether it is of several steps: `11 × 400` of so many equal ones (ISO
/// 129-1, equidistant features).
fn told(places: &[f64], words: &[String]) -> Vec<([f64; 2], String, bool)> {
    let mut told = Vec::new();
    let mut from = 0;
    for alike in words.chunk_by(|one, next| one == next) {
        let until = from + alike.len();
        let (Some(stretch), Some(one)) = (places.get(from..=until), alike.first()) else { break };
        let narrow = |pair: &[f64]| matches!(pair, [a, b] if (a - b).abs() < lettering::length(one, NORMAL) + 2.0 * STROKE);
        match stretch {
            [first, .., last] if alike.len() >= ALIKE && stretch.windows(2).all(narrow) => {
                told.push(([*first, *last], format!("{} × {one}", alike.len()), true));
            }
            _ => told.extend(stretch.windows(2).filter_map(|pair| Some(([*pair.first()?, *pair.last()?], one.clone(), false)))),
        }
        from = until;
    }
    told
}

/// A chain from one place to the next; `words` are the dimensions between them. Gives the outermost place it took.
pub fn steps(base: &Base, places: &[f64], words: &[String], items: &mut Vec<Item>) -> f64 {
    let towards_view = ROW;
    let out_sign = if base.side == Side::Left { -1.0 } else { 1.0 };
    let line = base.start + out_sign * towards_view;
    let (Some(first), Some(last)) = (places.first(), places.last()) else { return base.start };
    items.push(Item::segment(base.at(*first, line, 0.0), base.at(*last, line, 0.0), LineType::Thin));
    let edge = base.edge + out_sign * OFF;
    for place in places {
        items.push(Item::segment(base.at(*place, edge, 0.0), base.at(*place, line, BEYOND), LineType::Thin));
        let [x, y] = base.at(*place, line, 0.0);
        items.push(Item::segment([x - STROKE, y + STROKE], [x + STROKE, y - STROKE], LineType::Outline));
    }
    let mut taken: Vec<Rect> = Vec::new();
    let mut leaders: Vec<(Point, Point)> = Vec::new();
    // Of texts beside their stretches: the middles of these, and where they stand along the chain.
    let mut outside: Vec<(f64, f64)> = Vec::new();
    let mut farthest = base.at(*first, line, BEYOND + AIR);
    for ([a, b], words, of_several) in told(places, words) {
        let words = words.as_str();
        let (low, high) = (a.min(b), a.max(b));
        let middle = f64::midpoint(a, b);
        let length = lettering::length(words, NORMAL);
        // Over its own stretch, where it has the room; out of the middle if a line passes there.
        let slack = (high - low - length) / 2.0 - STROKE;
        let over = OUT_OF_THE_MIDDLE.iter().map(|part| base.along(middle + part * slack, line, -ROW + AIR * 0.3, words));
        // Over several steps their own lines would run through it.
        let mut over = over.filter(|text| slack > 0.0 && !of_several && base.is_clear(&text.bounds()));
        if let Some(over) = over.find(|text| !taken.iter().any(|rect| rect.overlaps(&text.bounds()))) {
            taken.push(over.bounds());
            items.push(Item::Text(over));
            continue;
        }
        let mut placed = None;
        // A dimension is never left out: where nothing is clear of all lines, it stands clear of the other texts.
        let rows = (0..MOST_ROWS).map(|row| (row, true)).chain((0..MOST_ROWS + places.len()).map(|row| (row, false)));
        // Texts beside their stretches stand in the order of these.
        let in_order = |shift: f64| outside.iter().all(|(other, at)| (middle - other) * (middle + shift * length - at) > 0.0);
        // Beside its stretch farther out rather than far away along the chain, where it would be read as another's.
        let inwards = if f64::midpoint(*first, *last) < middle { -1.0 } else { 1.0 };
        let shifts = [0.0, 0.55, 0.8, -0.55, -0.8, 1.2, -1.2, 1.7, -1.7].map(|shift| shift * inwards);
        let near_by = (0..2).flat_map(|row| shifts.iter().take(5).map(move |shift| (row, true, *shift)));
        let everywhere = rows.flat_map(|(row, of_lines)| shifts.map(|shift| (row, of_lines, shift)));
        let tried = near_by.chain(everywhere.clone()).filter(|(.., shift)| in_order(*shift));
        for (row, of_lines, shift) in tried.chain(everywhere) {
            #[expect(clippy::cast_precision_loss, reason = "a few rows")]
            let near = BEYOND + AIR + row as f64 * ROW;
            let text = base.along(middle + shift * length, line, near, words);
            let bounds = text.bounds().grown(AIR / 2.0);
            let leader = (base.at(middle, line, 0.0), base.at(middle, line, near));
            let clear_of_lines = || {
                base.is_clear(&bounds)
                    && !taken.iter().any(|rect| rect.is_crossed_by(leader.0, leader.1))
                    && !leaders.iter().any(|(from, to)| bounds.is_crossed_by(*from, *to))
            };
            if !taken.iter().any(|rect| rect.overlaps(&bounds)) && (!of_lines || clear_of_lines()) {
                let joint = base.at(middle + shift * length, line, near);
                placed = Some((text, bounds, leader, joint));
                outside.push((middle, middle + shift * length));
                break;
            }
        }
        if let Some((text, bounds, leader, joint)) = placed {
            items.push(Item::segment(leader.0, leader.1, LineType::Thin));
            if joint != leader.1 {
                items.push(Item::segment(leader.1, joint, LineType::Thin));
            }
            leaders.push(leader);
            taken.push(bounds);
            items.push(Item::Text(text));
            let end = match base.side {
                Side::Below => [0.0, bounds.to[1]],
                Side::Left => [bounds.from[0], 0.0],
                Side::Right => [bounds.to[0], 0.0],
            };
            farthest = match base.side {
                Side::Below => [0.0, farthest[1].max(end[1])],
                Side::Left => [farthest[0].min(end[0]), 0.0],
                Side::Right => [farthest[0].max(end[0]), 0.0],
            };
        }
    }
    out(base.side, farthest)
}

/// A running chain: each place by itself from the datum, its text at right angles to the chain. Gives the outermost
/// place it took.
pub fn running(base: &Base, places: &[Chainage], datum: f64, items: &mut Vec<Item>) -> f64 {
    let out_sign = if base.side == Side::Left { -1.0 } else { 1.0 };
    let line = base.start + out_sign * AIR * 2.0;
    let edge = base.edge + out_sign * OFF;
    let alongs: Vec<f64> = places.iter().map(|place| place.along).collect();
    let spread = apart(&alongs, &vec![SMALL * (1.0 + BELOW) + AIR; alongs.len()]);
    let ends = places.iter().map(|place| place.along).chain([datum]);
    let (least, most) = ends.fold((datum, datum), |(least, most), along| (least.min(along), most.max(along)));
    items.push(Item::segment(base.at(least, line, 0.0), base.at(most, line, 0.0), LineType::Thin));
    items.push(Item::Circle { centre: base.at(datum, line, 0.0), radius: 1.0, line: LineType::Thin });
    let mut farthest = base.at(datum, line, BEYOND);
    for (place, along) in places.iter().zip(spread) {
        let tip = base.at(place.along, line, 0.0);
        items.push(Item::segment(base.at(place.along, edge, 0.0), tip, LineType::Thin));
        items.push(Item::segment(tip, base.at(along, line, BEND), LineType::Thin));
        if (place.along - datum).abs() > 1e-6 {
            items.push(arrow(base, place.along, line, datum));
        }
        let text = beside(base, along, line, BEND + AIR, &place.words);
        let bounds = text.bounds().grown(AIR);
        farthest = [
            if base.side == Side::Left { farthest[0].min(bounds.from[0]) } else { farthest[0].max(bounds.to[0]) },
            farthest[1].max(bounds.to[1]),
        ];
        items.push(Item::Text(text));
    }
    out(base.side, farthest)
}

fn out(side: Side, place: Point) -> f64 {
    if side == Side::Below { place[1] } else { place[0] }
}

/// A text that runs away from the chain, its base line so that its middle is at `along`.
fn beside(base: &Base, along: f64, line: f64, near: f64, words: &str) -> Text {
    let half = SMALL / 2.0;
    let words = words.to_owned();
    match base.side {
        // Read from the right, its end next to the chain.
        Side::Below => Text { at: [along + half, line + near], words, height: SMALL, anchor: Anchor::End, turned: true },
        Side::Left => Text { at: [line - near, along + half], words, height: SMALL, anchor: Anchor::End, turned: false },
        Side::Right => Text { at: [line + near, along + half], words, height: SMALL, anchor: Anchor::Start, turned: false },
    }
}

/// The head of an arrow that points away from the datum.
fn arrow(base: &Base, along: f64, line: f64, datum: f64) -> Item {
    let back = if along > datum { -2.0 } else { 2.0 };
    let corner = |out: f64| base.at(along + back, line, out);
    Item::Fill { points: vec![base.at(along, line, 0.0), corner(0.35), corner(-0.35)] }
}
