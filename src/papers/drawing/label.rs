//! Names beside what they name: each where it lies over no line and no other text, with a leader to its part.
//!
//! In: what is drawn already, and the names that are wanted. Out: texts and leaders. A name without a free place is
//! given back, so that nobody thinks there was none.

use super::lettering::{BELOW, SMALL};
use super::sheet::{Anchor, Item, LineType, Point, Rect, Text};
use super::squares::{Line, Lines};

/// A name that is wanted.
#[derive(Debug)]
pub(super) struct Wish {
    pub words: String,
    /// Places on the part that its leader may point to, the best first, mm.
    pub anchors: Vec<Point>,
    /// What it covers, if it is an area: its name may stand in it.
    pub own: Option<Rect>,
}

/// Around each text, mm.
const AIR: f64 = 0.6;
/// How far from its part a name is looked for, mm.
const REACHES: [f64; 13] = [2.5, 4.0, 6.0, 8.5, 11.0, 14.0, 18.0, 22.0, 27.0, 33.0, 40.0, 48.0, 57.0];
/// Ways in which it is looked for: the slanting ones first, for leaders along an edge are read as edges.
const WAYS: [f64; 20] = [
    60.0, 120.0, -60.0, -120.0, 45.0, 135.0, -45.0, -135.0, 30.0, 150.0, -30.0, -150.0, 75.0, 105.0, -75.0, -105.0, 15.0, 165.0, -15.0,
    -165.0,
];
/// Radius of the dot at the end of a leader, mm. ISO 129-1: a dot where it ends within an outline.
const DOT: f64 = 0.45;
/// Sides of the dot.
const DOT_SIDES: u32 = 8;

/// What must not be written over.
#[derive(Debug, Default)]
pub(super) struct Obstacles {
    /// Everything that is drawn, leaders too.
    lines: Lines,
    texts: Vec<Rect>,
    /// What is filled: a leader may begin on it or pass over it, a name may not stand there.
    fills: Vec<Rect>,
    leaders: Vec<Line>,
    /// Lines of dimensions: a leader that crosses them is read as one of them.
    dimensions: Vec<Line>,
    /// What closed lines cover.
    areas: Vec<Rect>,
}

impl Obstacles {
    /// Keeps clear of an item.
    pub fn add(&mut self, item: &Item) {
        match item {
            Item::Path { points, closed: true, .. } if !points.is_empty() => self.areas.push(Rect::around(points)),
            Item::Circle { .. } => self.areas.push(item.bounds()),
            Item::Fill { points } => self.fills.push(Rect::around(points)),
            Item::Text(text) => self.texts.push(text.bounds()),
            Item::Path { .. } => {}
        }
        lines_of(item).into_iter().for_each(|line| self.lines.add(line));
    }

    /// Keeps clear of an item of a chain of dimensions.
    pub fn add_dimension(&mut self, item: &Item) {
        self.add(item);
        self.dimensions.extend(lines_of(item));
    }

    /// Keeps clear of a leader.
    fn add_leader(&mut self, leader: Line) {
        self.lines.add(leader);
        self.leaders.push(leader);
    }

    /// Whether nothing lies there.
    fn is_free(&self, rect: &Rect) -> bool {
        !self.texts.iter().chain(&self.fills).any(|taken| taken.overlaps(rect))
            && !self.lines.any_near(rect, |from, to| touches(rect, from, to))
    }

    /// Whether no smaller area lies around a place of this one: a name there would be read as the smaller one's.
    fn is_innermost(&self, own: &Rect, at: Point) -> bool {
        let at = Rect { from: at, to: at };
        let size = |rect: &Rect| rect.breadth() * rect.height();
        !self.areas.iter().any(|area| area.holds(&at) && size(area) < size(own) * 0.999)
    }

    /// Whether a leader lies over no text and crosses no dimension and no other leader: of two that cross nobody sees which is whose.
    fn leader_is_free(&self, from: Point, to: Point) -> bool {
        let mut crossed = self.leaders.iter().chain(&self.dimensions);
        !self.texts.iter().any(|text| touches(text, from, to)) && !crossed.any(|other| cross(*other, (from, to)))
    }
}

/// The straight lines of an item; a circle in 24 steps.
fn lines_of(item: &Item) -> Vec<Line> {
    match item {
        Item::Path { points, closed, .. } => {
            let mut lines: Vec<Line> = points.windows(2).filter_map(|pair| Some((*pair.first()?, *pair.get(1)?))).collect();
            if let (true, Some(first), Some(last)) = (closed, points.first(), points.last()) {
                lines.push((*last, *first));
            }
            lines
        }
        Item::Circle { centre, radius, .. } => {
            let at = |turn: f64| [centre[0] + radius * turn.cos(), centre[1] + radius * turn.sin()];
            let turns = (0..24).map(|step| f64::from(step) * std::f64::consts::TAU / 24.0);
            turns.map(|turn| (at(turn), at(turn + std::f64::consts::TAU / 24.0))).collect()
        }
        Item::Fill { .. } | Item::Text(_) => Vec::new(),
    }
}

/// Whether two straight lines cross; that they begin at one place is no crossing.
fn cross((a, b): (Point, Point), (c, d): (Point, Point)) -> bool {
    let side = |from: Point, to: Point, at: Point| (to[0] - from[0]) * (at[1] - from[1]) - (to[1] - from[1]) * (at[0] - from[0]);
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}

fn touches(rect: &Rect, from: Point, to: Point) -> bool {
    let bounds = Rect::around(&[from, to]);
    let apart = (0..2).any(|at| bounds.to[at] < rect.from[at] || bounds.from[at] > rect.to[at]);
    !apart && rect.is_crossed_by(from, to)
}

/// Places the names within `area`; gives those that found no place.
pub(super) fn place(wishes: &[Wish], obstacles: &mut Obstacles, area: &Rect, items: &mut Vec<Item>) -> Vec<String> {
    let mut unplaced = Vec::new();
    for wish in wishes {
        match ways_to_write(&wish.words).into_iter().find_map(|rows| find(wish, &rows, obstacles, area)) {
            Some((texts, leader)) => {
                if let Some((from, to)) = leader {
                    items.push(Item::segment(from, to, LineType::Thin));
                    items.push(dot(from));
                    obstacles.add_leader((from, to));
                }
                obstacles.texts.extend(texts.iter().map(|text| text.bounds().grown(AIR)));
                items.extend(texts.into_iter().map(Item::Text));
            }
            None => unplaced.push(wish.words.clone()),
        }
    }
    unplaced
}

/// On one line, else what it is below what it is called, else each thing that is said of it on a line.
fn ways_to_write(words: &str) -> Vec<Vec<&str>> {
    let mut ways = vec![vec![words]];
    if let Some((name, said)) = words.split_once(": ") {
        ways.push(vec![name, said]);
        ways.extend(said.split_once(", ").map(|(one, other)| vec![name, one, other]));
    }
    ways
}

/// Where a name stands, and its leader if it has one.
type Placed = (Vec<Text>, Option<(Point, Point)>);

fn find(wish: &Wish, rows: &[&str], obstacles: &Obstacles, area: &Rect) -> Option<Placed> {
    let texts = |[x, y]: Point, anchor: Anchor| -> Vec<Text> {
        let down = std::iter::successors(Some(y), |y| Some(y + SMALL_ROW));
        let row = |(words, y): (&&str, f64)| Text { at: [x, y], words: (*words).to_owned(), height: SMALL, anchor, turned: false };
        rows.iter().zip(down).map(row).collect()
    };
    let fits = |texts: &[Text]| {
        let mut bounds = texts.iter().map(|text| text.bounds().grown(AIR));
        bounds.all(|bounds| area.holds(&bounds) && obstacles.is_free(&bounds))
    };
    // On the part itself, where it is roomy.
    let first = wish.anchors.first()?;
    let on = texts([first[0], first[1] + SMALL / 2.0], Anchor::Middle);
    if wish.own.is_none_or(|own| obstacles.is_innermost(&own, *first)) && fits(&on) {
        return Some((on, None));
    }
    // A dot on a smaller part that lies in this one would name that.
    let own: Vec<Point> = match wish.own {
        Some(own) => wish.anchors.iter().copied().filter(|at| obstacles.is_innermost(&own, *at)).collect(),
        None => Vec::new(),
    };
    let anchors = if own.is_empty() { &wish.anchors } else { &own };
    for reach in REACHES {
        for anchor in anchors {
            for way in WAYS {
                let (sin, cos) = f64::to_radians(way).sin_cos();
                let end = [anchor[0] + reach * cos, anchor[1] - reach * sin];
                let (side, start) = if cos > 0.0 { (Anchor::Start, end[0] + AIR) } else { (Anchor::End, end[0] - AIR) };
                let texts = texts([start, end[1] + SMALL / 2.0], side);
                if fits(&texts) && obstacles.leader_is_free(*anchor, end) {
                    return Some((texts, Some((*anchor, end))));
                }
            }
        }
    }
    None
}

fn dot(at: Point) -> Item {
    let corner = |side: u32| {
        let turn = f64::from(side) / f64::from(DOT_SIDES) * std::f64::consts::TAU;
        [at[0] + DOT * turn.cos(), at[1] + DOT * turn.sin()]
    };
    Item::Fill { points: (0..DOT_SIDES).map(corner).collect() }
}

/// Height of a row of small text, mm.
pub(super) const SMALL_ROW: f64 = SMALL * (1.0 + BELOW) + 0.9;
