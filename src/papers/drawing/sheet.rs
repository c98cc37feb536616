//! A sheet as plain data: views made of groups of lines and texts, in millimetres of the paper.
//!
//! The origin is the upper left corner of the paper, x to the right, y down. Whoever writes a sheet out
//! (SVG, DXF, a report) needs nothing else; it must not know how the sheet came about.

use super::lettering;
use super::paper::{PaperSize, Scale};
use smol_str::SmolStr;

/// A place on the paper, mm.
pub type Point = [f64; 2];

/// A line type of ISO 128-2: what it shows decides how it is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum LineType {
    /// Edge of what is cut through: continuous, extra wide.
    Cut,
    /// Visible edge: continuous, wide.
    Outline,
    /// Dimension, leader, hatching: continuous, narrow.
    Thin,
    /// Hidden edge: dashed, narrow.
    Hidden,
    /// Middle of something, or a path: long-dashed dotted, narrow.
    Centre,
    /// Another place of something that moves: long-dashed double-dotted, narrow.
    Moved,
}

impl LineType {
    /// The words for them in a `picture`.
    pub const WORDS: [(&str, LineType); 6] = [
        ("cut", LineType::Cut),
        ("outline", LineType::Outline),
        ("thin", LineType::Thin),
        ("hidden", LineType::Hidden),
        ("centre", LineType::Centre),
        ("moved", LineType::Moved),
    ];

    /// The word for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        Self::WORDS.iter().find(|(_, line)| *line == self).map_or("", |(word, _)| word)
    }

    /// Its width, mm: line group 0.35 of ISO 128-23 (narrow, wide, extra wide as 1 : 2 : 4).
    #[must_use]
    pub fn width(self) -> f64 {
        match self {
            LineType::Cut => 0.7,
            LineType::Outline => 0.35,
            LineType::Thin | LineType::Hidden | LineType::Centre | LineType::Moved => 0.18,
        }
    }

    /// Lengths of dash and gap in turn, mm; none if it is continuous. ISO 128-20: dash 12 d, long dash 24 d,
    /// dot 0.5 d, gap 3 d.
    #[must_use]
    pub fn dashes(self) -> &'static [f64] {
        match self {
            LineType::Cut | LineType::Outline | LineType::Thin => &[],
            LineType::Hidden => &[2.16, 0.54],
            LineType::Centre => &[4.32, 0.54, 0.09, 0.54],
            LineType::Moved => &[4.32, 0.54, 0.09, 0.54, 0.09, 0.54],
        }
    }
}

/// Which end of a text stands at its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// Its beginning.
    Start,
    /// Its middle.
    Middle,
    /// Its end.
    End,
}

/// A line of text.
#[derive(Debug, Clone, PartialEq)]
pub struct Text {
    /// Where it stands, on its base line.
    pub at: Point,
    /// What it says.
    pub words: String,
    /// Height of its capitals, mm.
    pub height: f64,
    /// Which end stands there.
    pub anchor: Anchor,
    /// Turned a quarter to the left: read from the right side of the sheet (ISO 129-1).
    pub turned: bool,
}

impl Text {
    /// How long it is, mm.
    #[must_use]
    pub fn length(&self) -> f64 {
        lettering::length(&self.words, self.height)
    }

    /// What it covers, from the base line to the top of its capitals, with what hangs below.
    #[must_use]
    pub fn bounds(&self) -> Rect {
        let length = self.length();
        let before = match self.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => length / 2.0,
            Anchor::End => length,
        };
        let (above, below) = (self.height, self.height * lettering::BELOW);
        let [x, y] = self.at;
        if self.turned {
            Rect { from: [x - above, y - length + before], to: [x + below, y + before] }
        } else {
            Rect { from: [x - before, y - above], to: [x - before + length, y + below] }
        }
    }
}

/// One thing on the paper.
#[derive(Debug, Clone, PartialEq)]
pub enum Item {
    /// A line from point to point.
    Path {
        /// Its points.
        points: Vec<Point>,
        /// Back to its beginning.
        closed: bool,
        /// How it is drawn.
        line: LineType,
    },
    /// A circle.
    Circle {
        /// Its middle.
        centre: Point,
        /// mm.
        radius: f64,
        /// How it is drawn.
        line: LineType,
    },
    /// A filled shape without an edge: the head of an arrow, a dot.
    Fill {
        /// Its corners.
        points: Vec<Point>,
    },
    /// A text.
    Text(Text),
}

impl Item {
    /// A line between two points.
    #[must_use]
    pub fn segment(from: Point, to: Point, line: LineType) -> Item {
        Item::Path { points: vec![from, to], closed: false, line }
    }

    /// What it covers.
    #[must_use]
    pub fn bounds(&self) -> Rect {
        match self {
            Item::Path { points, .. } | Item::Fill { points } => Rect::around(points),
            Item::Circle { centre, radius, .. } => Rect::around(&[*centre]).grown(*radius),
            Item::Text(text) => text.bounds(),
        }
    }
}

/// Things that belong together: what is drawn of one component, a dimension chain, the title block.
#[derive(Debug, Clone, PartialEq)]
pub struct Group {
    /// What it is of: a component's name, or `dimensions`, `frame`, `title_block`, `notes`.
    pub of: SmolStr,
    /// The kind of the component, for the layers of a drawing that is carried on: `wall`, `dimension`.
    pub layer: SmolStr,
    /// The roof that it rolls with.
    pub moves_with: Option<SmolStr>,
    /// The things.
    pub items: Vec<Item>,
}

/// A picture on a sheet, with its own place of the datum.
#[derive(Debug, Clone, PartialEq)]
pub struct View {
    /// Its name: `shut`.
    pub name: SmolStr,
    /// What stands above it.
    pub title: String,
    /// Where the datum (station, offset and level nought) lies on the paper, mm.
    pub origin: Point,
    /// Paper over building: 0.02 for 1:50. 0 for a diagram, which has no scale.
    pub ratio: f64,
    /// How far what rolls is drawn rolled open, m.
    pub travel: f64,
    /// Its things, what lies under others first.
    pub groups: Vec<Group>,
}

impl View {
    /// What it covers.
    #[must_use]
    pub fn bounds(&self) -> Rect {
        let bounds = self.groups.iter().flat_map(|group| &group.items).map(Item::bounds);
        bounds.reduce(Rect::with).unwrap_or_default()
    }
}

/// A sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// Its name, which is also its file's: `plan`, `horizon_refractor`.
    pub name: SmolStr,
    /// What it shows.
    pub title: String,
    /// The paper.
    pub paper: PaperSize,
    /// Its scale; none for a diagram.
    pub scale: Option<Scale>,
    /// The pictures.
    pub views: Vec<View>,
    /// Frame, title block and notes.
    pub frame: Vec<Group>,
    /// What the design does not say and is therefore not drawn, in words.
    pub missing: Vec<String>,
}

/// An upright rectangle on the paper, mm.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Rect {
    /// Upper left.
    pub from: Point,
    /// Lower right.
    pub to: Point,
}

impl Rect {
    /// The least that holds these points.
    #[must_use]
    pub fn around(points: &[Point]) -> Rect {
        let mut rect = Rect { from: [f64::INFINITY; 2], to: [f64::NEG_INFINITY; 2] };
        for point in points {
            rect = rect.with(Rect { from: *point, to: *point });
        }
        rect
    }

    /// The least that holds both.
    #[must_use]
    pub fn with(self, other: Rect) -> Rect {
        Rect {
            from: [self.from[0].min(other.from[0]), self.from[1].min(other.from[1])],
            to: [self.to[0].max(other.to[0]), self.to[1].max(other.to[1])],
        }
    }

    /// Larger by that much on every side.
    #[must_use]
    pub fn grown(self, by: f64) -> Rect {
        Rect { from: self.from.map(|x| x - by), to: self.to.map(|x| x + by) }
    }

    /// Whether the two share more than an edge.
    #[must_use]
    pub fn overlaps(&self, other: &Rect) -> bool {
        (0..2).all(|at| self.from[at] < other.to[at] && other.from[at] < self.to[at])
    }

    /// Whether it holds the other.
    #[must_use]
    pub fn holds(&self, other: &Rect) -> bool {
        (0..2).all(|at| self.from[at] <= other.from[at] && other.to[at] <= self.to[at])
    }

    /// Its breadth, mm.
    #[must_use]
    pub fn breadth(&self) -> f64 {
        self.to[0] - self.from[0]
    }

    /// Its height, mm.
    #[must_use]
    pub fn height(&self) -> f64 {
        self.to[1] - self.from[1]
    }

    /// Whether a line between two points comes into it.
    #[must_use]
    pub fn is_crossed_by(&self, from: Point, to: Point) -> bool {
        // Liang and Barsky: the part of the line that lies between each pair of sides.
        let (mut enters, mut leaves) = (0.0_f64, 1.0_f64);
        for at in 0..2 {
            let way = to[at] - from[at];
            if way.abs() < 1e-12 {
                if from[at] <= self.from[at] || from[at] >= self.to[at] {
                    return false;
                }
                continue;
            }
            let (a, b) = ((self.from[at] - from[at]) / way, (self.to[at] - from[at]) / way);
            enters = enters.max(a.min(b));
            leaves = leaves.min(a.max(b));
        }
        enters < leaves
    }
}
