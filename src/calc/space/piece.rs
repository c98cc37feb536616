//! A body with its name and its form: what messages call it, what drawings and horizons make of it.
//!
//! In: forms in m. Out: a [`Piece`] with the convex body it fills and the box around that.
//! It must not know what a part is for.

use super::body::Body;
use super::prism::Prism;
use super::solid::{Point, Solid};
use crate::calc::FormulaError;
use smol_str::SmolStr;

/// One of the bodies of a part.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// What messages call it.
    pub name: SmolStr,
    /// What it is in space.
    pub form: Form,
    /// The room that it fills; none of what only hides sky.
    pub room: Option<Room>,
}

/// A form in space; points are to the right, along the travel, up.
#[derive(Debug, Clone, PartialEq)]
pub enum Form {
    /// An outline drawn straight.
    Prism(Prism),
    /// Flat faces in any direction.
    Block(Solid),
    /// All within a radius, m.
    Ball {
        /// Its middle.
        centre: Point,
        /// m.
        radius: f64,
    },
    /// A round tube, m.
    Tube {
        /// One end of its axis.
        from: Point,
        /// The other.
        to: Point,
        /// m.
        diameter: f64,
    },
    /// A thin edge.
    Edge {
        /// One end.
        from: Point,
        /// The other.
        to: Point,
    },
    /// A stretch of horizon, rad.
    Stretch {
        /// Azimuth at which it begins.
        from: f64,
        /// Azimuth at which it ends, clockwise.
        to: f64,
        /// Of its top.
        altitude: f64,
    },
}

/// The room that a piece fills.
#[derive(Debug, Clone, PartialEq)]
pub struct Room {
    /// The body itself.
    pub body: Body,
    /// Its lowest and its highest corner, m.
    pub bounds: [Point; 2],
}

impl Room {
    /// That of a body.
    #[must_use]
    pub fn of(body: Body) -> Self {
        let bounds = body.bounds();
        Self { body, bounds }
    }

    /// Whether the boxes around both are apart by this much or more (m) in one direction; asked before any distance.
    #[must_use]
    pub fn is_clear_of(&self, other: &Self, by: f64) -> bool {
        let [low, high] = self.bounds;
        let [other_low, other_high] = other.bounds;
        (0..3).any(|axis| low[axis] - other_high[axis] >= by || other_low[axis] - high[axis] >= by)
    }

    /// The same room moved by `by` (m).
    #[must_use]
    pub fn shifted(&self, by: Point) -> Self {
        let moved = |at: Point| [at[0] + by[0], at[1] + by[1], at[2] + by[2]];
        Self { body: self.body.shifted(by), bounds: self.bounds.map(moved) }
    }
}

/// The lowest and the highest corner of the box around all that fill room, m; `None` where none does.
#[must_use]
pub fn bounds(pieces: &[Piece]) -> Option<[Point; 2]> {
    let of = pieces.iter().filter_map(|piece| piece.room.as_ref().map(|room| room.bounds));
    of.reduce(|[low, high], [other_low, other_high]| {
        let both = |a: Point, b: Point, of: fn(f64, f64) -> f64| [of(a[0], b[0]), of(a[1], b[1]), of(a[2], b[2])];
        [both(low, other_low, f64::min), both(high, other_high, f64::max)]
    })
}

impl Piece {
    /// A piece of that form.
    ///
    /// # Errors
    /// When the form has no length, or a number is none.
    pub fn new(name: SmolStr, form: Form) -> Result<Self, FormulaError> {
        let body = match &form {
            Form::Prism(prism) => Some(Body::solid(&prism.solid()?)?),
            Form::Block(solid) => Some(Body::solid(solid)?),
            Form::Ball { centre, radius } => Some(Body::sphere(*centre, *radius)?),
            Form::Tube { from, to, diameter } => Some(Body::tube(*from, *to, *diameter)?),
            Form::Edge { from, to } => Some(Body::new(&[*from, *to], 0.0)?),
            Form::Stretch { .. } => None,
        };
        Ok(Self { name, form, room: body.map(Room::of) })
    }
}
