//! What is seen of a part on a plane of the building: from above, from the side, along the travel.
//!
//! In: the tables of shapes and bodies that the language gives. Out: flat lines in metres. It must not know sheets.

use crate::calc::space::piece::Form;
use crate::calc::space::prism::Prism;
use crate::calc::space::solid::Point as Space;
use crate::calc::wind::roof::Axis as Drawn;
use crate::formulas::{Table, table, word};
use crate::values::Value;

/// A measure of the building.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Axis {
    /// Along the travel.
    Station,
    /// Across it.
    Offset,
    /// Up.
    Level,
}

impl Axis {
    const ALL: [(&'static str, Axis); 3] = [("station", Axis::Station), ("offset", Axis::Offset), ("level", Axis::Level)];

    /// The measure of that name.
    pub fn named(word: &str) -> Option<Axis> {
        Self::ALL.iter().find(|(name, _)| *name == word).map(|(_, axis)| *axis)
    }

    /// This measure of a point in space.
    fn of(self, point: Space) -> f64 {
        // The axes of bodies are to the right, along the travel, up.
        match self {
            Axis::Station => point[1],
            Axis::Offset => -point[0],
            Axis::Level => point[2],
        }
    }
}

/// The plane of a view.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Plane {
    /// The measure that goes across the paper.
    pub across: Axis,
    /// The measure that goes up the paper.
    pub up: Axis,
}

impl Plane {
    /// From above, the way the roof opens to the right.
    pub const PLAN: Plane = Plane { across: Axis::Station, up: Axis::Offset };
    /// From the right-hand side, the way the roof opens to the right.
    pub const SIDE: Plane = Plane { across: Axis::Station, up: Axis::Level };
    /// Looking the way the roof opens: what is on the left is on the left.
    pub const SECTION: Plane = Plane { across: Axis::Offset, up: Axis::Level };

    /// Offsets grow to the left; seen along the travel they run against the paper.
    pub fn mirrored(self) -> bool {
        self.across == Axis::Offset
    }

    fn depth(self) -> (Axis, f64) {
        // The measure that is looked along, and 1 if the eye is at its lower end.
        match (self.across, self.up) {
            (Axis::Station, Axis::Offset) => (Axis::Level, -1.0),
            (Axis::Station, _) => (Axis::Offset, 1.0),
            _ => (Axis::Station, 1.0),
        }
    }

    fn see(self, point: Space) -> [f64; 2] {
        [self.across.of(point), self.up.of(point)]
    }
}

/// A flat shape, m.
#[derive(Debug, Clone, PartialEq)]
pub enum Flat {
    /// From point to point.
    Path {
        /// In order.
        points: Vec<[f64; 2]>,
        /// Whether the last leads to the first.
        closed: bool,
    },
    /// A circle.
    Circle {
        /// Its middle.
        centre: [f64; 2],
        /// From there to its line.
        radius: f64,
    },
    /// The mark of a middle.
    Mark([f64; 2]),
    /// An arrow to the north; the roof opens to this azimuth, rad.
    North(f64),
    /// Places along one measure.
    Places {
        /// The measure.
        axis: Axis,
        /// Where on it.
        values: Vec<f64>,
    },
}

/// The shapes of a value on a plane; none of those that lie in another plane.
pub fn flats(value: &Value, plane: Plane) -> Vec<Flat> {
    let record = match value {
        Value::List(items) => return items.iter().flat_map(|item| flats(item, plane)).collect(),
        Value::Solid(pieces) => return pieces.iter().flat_map(|piece| body(&piece.form, plane)).collect(),
        Value::Record(record) => record,
        _ => return Vec::new(),
    };
    if let Some(figure) = table::Figure::of_record(record) {
        return drawn(figure, plane);
    }
    if let Some(north) = table::NorthArrow::of_record(record) {
        return if plane == Plane::PLAN { vec![Flat::North(north.azimuth)] } else { Vec::new() };
    }
    Vec::new()
}

/// A shape that the language gives flat.
fn drawn(figure: table::Figure, plane: Plane) -> Vec<Flat> {
    let values = |axis: Axis| match axis {
        Axis::Station => figure.station.as_ref(),
        Axis::Offset => figure.offset.as_ref(),
        Axis::Level => figure.level.as_ref(),
    };
    if figure.shape == word::FigureShape::At {
        let place = |axis: Axis| values(axis).map(|values| Flat::Places { axis, values: values.clone() });
        return Axis::ALL.into_iter().find_map(|(_, axis)| place(axis)).into_iter().collect();
    }
    let (Some(across), Some(up)) = (values(plane.across), values(plane.up)) else { return Vec::new() };
    let points: Vec<[f64; 2]> = across.iter().copied().zip(up.iter().copied()).map(|(u, v)| [u, v]).collect();
    match (figure.shape, points.first()) {
        (word::FigureShape::Rectangle, _) => match (across.as_slice(), up.as_slice()) {
            (&[a, b], &[c, d]) => vec![closed(vec![[a, c], [b, c], [b, d], [a, d]])],
            _ => Vec::new(),
        },
        (word::FigureShape::Circle, Some(centre)) => {
            vec![Flat::Circle { centre: *centre, radius: figure.diameter.unwrap_or_default() / 2.0 }]
        }
        (word::FigureShape::Mark, Some(at)) => vec![Flat::Mark(*at)],
        (word::FigureShape::Line | word::FigureShape::Circle | word::FigureShape::Mark | word::FigureShape::At, _) => {
            vec![Flat::Path { points, closed: false }]
        }
    }
}

fn closed(points: Vec<[f64; 2]>) -> Flat {
    Flat::Path { points, closed: true }
}

fn body(form: &Form, plane: Plane) -> Vec<Flat> {
    match form {
        Form::Prism(prism) => seen(prism, plane),
        // A face that is seen from its edge is a line on the outline of the others.
        Form::Block(solid) => solid.faces().map(|face| closed(face.into_iter().map(|corner| plane.see(corner)).collect())).collect(),
        Form::Ball { centre, radius } => vec![Flat::Circle { centre: plane.see(*centre), radius: *radius }],
        Form::Tube { from, to, diameter } => vec![tube(plane.see(*from), plane.see(*to), diameter / 2.0)],
        Form::Edge { from, to } => vec![Flat::Path { points: vec![plane.see(*from), plane.see(*to)], closed: false }],
        Form::Stretch { .. } => Vec::new(),
    }
}

/// A tube from the side, or its round end.
fn tube(from: [f64; 2], to: [f64; 2], radius: f64) -> Flat {
    let way = [to[0] - from[0], to[1] - from[1]];
    let length = way[0].hypot(way[1]);
    if length < radius * 1e-3 {
        return Flat::Circle { centre: from, radius };
    }
    let side = [-way[1] / length * radius, way[0] / length * radius];
    let corner = |end: [f64; 2], sign: f64| [end[0] + sign * side[0], end[1] + sign * side[1]];
    closed(vec![corner(from, 1.0), corner(to, 1.0), corner(to, -1.0), corner(from, -1.0)])
}

/// A prism: its outline where it is looked at along the way that it is drawn, else its sides with the edges on the
/// near side.
pub fn seen(prism: &Prism, plane: Plane) -> Vec<Flat> {
    let (drawn, first) = match prism.drawn {
        Drawn::Along => (Axis::Station, Axis::Offset),
        Drawn::Across => (Axis::Offset, Axis::Station),
    };
    if plane.across != drawn && plane.up != drawn {
        let turned = plane.across == Axis::Level;
        return vec![closed(prism.outline.iter().map(|[u, level]| if turned { [*level, *u] } else { [*u, *level] }).collect())];
    }
    // One measure of the outline shows, the other is looked along.
    let (depth, sign) = plane.depth();
    let shows_first = depth != first;
    let split = |corner: &[f64; 2]| if shows_first { (corner[0], sign * corner[1]) } else { (corner[1], sign * corner[0]) };
    let corners: Vec<(f64, f64)> = prism.outline.iter().map(split).collect();
    let (least, most) =
        corners.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), (shown, _)| (least.min(*shown), most.max(*shown)));
    let place = |along: f64, shown: f64| if plane.across == drawn { [along, shown] } else { [shown, along] };
    let (from, to) = (prism.from, prism.to);
    let mut flats = vec![closed(vec![place(from, least), place(to, least), place(to, most), place(from, most)])];
    let near = |shown: f64| {
        let next = corners.iter().cycle().skip(1);
        corners.iter().zip(next).filter_map(move |(a, b)| crossing(*a, *b, shown)).fold(f64::INFINITY, f64::min)
    };
    for (shown, deep) in &corners {
        let inside = *shown > least + 1e-9 && *shown < most - 1e-9;
        if inside && *deep <= near(*shown) + 1e-9 {
            flats.push(Flat::Path { points: vec![place(from, *shown), place(to, *shown)], closed: false });
        }
    }
    flats
}

/// The depth at which the edge from `a` to `b` passes what shows at `shown`, the nearer if it lies along it.
fn crossing(a: (f64, f64), b: (f64, f64), shown: f64) -> Option<f64> {
    let (low, high) = (a.0.min(b.0), a.0.max(b.0));
    if shown < low - 1e-12 || shown > high + 1e-12 {
        return None;
    }
    if high - low < 1e-12 {
        return Some(a.1.min(b.1));
    }
    Some(a.1 + (b.1 - a.1) * (shown - a.0) / (b.0 - a.0))
}
