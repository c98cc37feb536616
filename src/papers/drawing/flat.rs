//! What is seen of a part on a plane of the building: from above, from the side, along the travel.
//!
//! In: the tables of shapes that the language gives. Out: flat lines in metres. It must not know sheets.

use crate::calc::sight::Eye;
use crate::calc::space::prism::point;
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
    const ALL: [Axis; 3] = [Axis::Station, Axis::Offset, Axis::Level];

    /// How near to the eye a value of this measure is, m from the datum; nought where it is not looked along.
    pub fn depth(self, eye: &Eye, value: f64) -> f64 {
        match self {
            Axis::Station => eye.depth(point(value, 0.0, 0.0)),
            Axis::Offset => eye.depth(point(0.0, value, 0.0)),
            Axis::Level => eye.depth(point(0.0, 0.0, value)),
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
    /// The measure across grows to the left.
    pub mirrored: bool,
}

impl Plane {
    /// From above, the way the roof opens to the right.
    pub const PLAN: Plane = Plane { across: Axis::Station, up: Axis::Offset, mirrored: false };
    /// From the right-hand side, the way the roof opens to the right.
    pub const SIDE: Plane = Plane { across: Axis::Station, up: Axis::Level, mirrored: false };
    /// From the left-hand side, the way the roof opens to the left.
    pub const OTHER_SIDE: Plane = Plane { mirrored: true, ..Plane::SIDE };
    /// Looking the way the roof opens: what is on the left is on the left.
    pub const SECTION: Plane = Plane { across: Axis::Offset, up: Axis::Level, mirrored: true };
    /// Looking the way the roof closes.
    pub const OPEN_END: Plane = Plane { mirrored: false, ..Plane::SECTION };
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

/// The shapes of a value on a plane; none of those that lie in another plane, and no bodies.
pub fn flats(value: &Value, plane: Plane) -> Vec<Flat> {
    let record = match value {
        Value::List(items) => return items.iter().flat_map(|item| flats(item, plane)).collect(),
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
        return Axis::ALL.into_iter().find_map(place).into_iter().collect();
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
