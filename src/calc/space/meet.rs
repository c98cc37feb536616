//! Whether two parts meet, and which of many share room.
//!
//! In: the pieces of parts, m. Out: the shortest way between them; the pairs that share more room than a joint lets in.
//! It must not know what holds what.

use super::body::Way;
use super::piece::{Piece, Room};

/// The shortest way from the pieces of one part to those of another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Between {
    /// Which piece of the one.
    pub this: usize,
    /// Which of the other.
    pub that: usize,
    /// The way.
    pub way: Way,
}

/// The shortest way between two parts; `None` where one of them fills no room.
#[must_use]
pub fn between(these: &[Piece], those: &[Piece]) -> Option<Between> {
    let mut shortest: Option<Between> = None;
    for (this, one) in rooms(these) {
        for (that, other) in rooms(those) {
            if shortest.is_some_and(|found| one.is_clear_of(other, found.way.gap)) {
                continue;
            }
            let Some(way) = one.body.way(&other.body) else { continue };
            if shortest.is_none_or(|found| way.gap < found.way.gap) {
                shortest = Some(Between { this, that, way });
            }
        }
    }
    shortest
}

/// Two parts that share room.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shared {
    /// The number of the first among the parts.
    pub one: usize,
    /// The number of the second, which is the larger.
    pub other: usize,
    /// The shortest way of the first out of the second; its gap is less than nothing by how deep they are in each other.
    pub way: Way,
}

/// The pairs of parts that are deeper in each other than `play` (m), in the order of the parts.
///
/// `parts`: the pieces of each part; `may`: whether two of them may share room.
#[must_use]
pub fn shared(parts: &[&[Piece]], play: f64, may: impl Fn(usize, usize) -> bool) -> Vec<Shared> {
    // Sorted by where they begin along one axis, only those that begin before one ends can meet it.
    let mut spans: Vec<(usize, &Room)> =
        parts.iter().enumerate().flat_map(|(at, pieces)| rooms(pieces).map(move |(_, room)| (at, room))).collect();
    spans.sort_by(|(_, a), (_, b)| a.bounds[0][1].total_cmp(&b.bounds[0][1]));
    let mut found: Vec<Shared> = Vec::new();
    for (at, (one, room)) in spans.iter().enumerate() {
        for (other, beside) in spans.iter().skip(at + 1) {
            if beside.bounds[0][1] >= room.bounds[1][1] - play {
                break;
            }
            if one == other || room.is_clear_of(beside, -play) {
                continue;
            }
            let (first, second) = if one < other { ((*one, *room), (*other, *beside)) } else { ((*other, *beside), (*one, *room)) };
            if may(first.0, second.0) {
                continue;
            }
            let Some(way) = first.1.body.way(&second.1.body).filter(|way| way.gap < -play) else { continue };
            match found.iter_mut().find(|pair| (pair.one, pair.other) == (first.0, second.0)) {
                Some(pair) if way.gap < pair.way.gap => pair.way = way,
                Some(_) => {}
                None => found.push(Shared { one: first.0, other: second.0, way }),
            }
        }
    }
    found.sort_by_key(|pair| (pair.one, pair.other));
    found
}

fn rooms(pieces: &[Piece]) -> impl Iterator<Item = (usize, &Room)> {
    pieces.iter().enumerate().filter_map(|(at, piece)| Some((at, piece.room.as_ref()?)))
}
