//! Straight lines by the squares of the paper that they pass through: of thousands a name lies near to a few.

use super::sheet::{Point, Rect};
use rustc_hash::FxHashMap;
use std::ops::RangeInclusive;

/// A straight line from one point to the other, mm.
pub(super) type Line = (Point, Point);

/// Side of a square, mm: about as wide as a name.
const SIDE: f64 = 15.0;
/// A line that may pass through more squares than this lies near to everything.
const MOST_SQUARES: i64 = 1_000;

/// Straight lines, found by where they are.
#[derive(Debug, Default)]
pub(super) struct Lines {
    squares: FxHashMap<(i64, i64), Vec<Line>>,
    everywhere: Vec<Line>,
}

impl Lines {
    /// Puts a line where it is.
    pub(super) fn add(&mut self, (from, to): Line) {
        match squares(&Rect::around(&[from, to])) {
            Some(of) => of.for_each(|square| self.squares.entry(square).or_default().push((from, to))),
            None => self.everywhere.push((from, to)),
        }
    }

    /// Whether this is so of one of the lines that may touch a place; it is asked of some others as well.
    pub(super) fn any_near(&self, place: &Rect, is_so: impl Fn(Point, Point) -> bool) -> bool {
        let is_so = |line: &Line| is_so(line.0, line.1);
        let here = match squares(place) {
            Some(mut of) => of.any(|square| self.squares.get(&square).is_some_and(|lines| lines.iter().any(is_so))),
            None => self.squares.values().flatten().any(is_so),
        };
        here || self.everywhere.iter().any(is_so)
    }
}

/// The squares that a place has a part in, unless there are very many.
fn squares(of: &Rect) -> Option<impl Iterator<Item = (i64, i64)> + use<>> {
    #[expect(clippy::cast_possible_truncation, reason = "what lies farther out than that is in one square")]
    let along = |at: usize| -> RangeInclusive<i64> { (of.from[at] / SIDE).floor() as i64..=(of.to[at] / SIDE).floor() as i64 };
    let (x, y) = (along(0), along(1));
    let many = |one: &RangeInclusive<i64>| one.end().saturating_sub(*one.start()).saturating_add(1);
    (many(&x).saturating_mul(many(&y)) <= MOST_SQUARES).then(|| x.flat_map(move |x| y.clone().map(move |y| (x, y))))
}
