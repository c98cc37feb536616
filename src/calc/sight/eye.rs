//! Where one looks from, very far away.

use crate::calc::space::solid::Point;

/// A direction to look, as the axes of the view: they are square to each other and one long.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Eye {
    /// To the right in the view.
    pub right: Point,
    /// Up in the view.
    pub up: Point,
    /// From what is seen towards the eye.
    pub toward: Point,
}

impl Eye {
    /// From above, the travel to the right.
    pub const ABOVE: Eye = Eye { right: [0.0, 1.0, 0.0], up: [-1.0, 0.0, 0.0], toward: [0.0, 0.0, 1.0] };
    /// From the right when looking the way the roof opens: the travel to the right.
    pub const RIGHT: Eye = Eye { right: [0.0, 1.0, 0.0], up: [0.0, 0.0, 1.0], toward: [1.0, 0.0, 0.0] };
    /// From the left: the travel to the left.
    pub const LEFT: Eye = Eye { right: [0.0, -1.0, 0.0], up: [0.0, 0.0, 1.0], toward: [-1.0, 0.0, 0.0] };
    /// From the closed end, the way the roof opens.
    pub const CLOSED_END: Eye = Eye { right: [1.0, 0.0, 0.0], up: [0.0, 0.0, 1.0], toward: [0.0, -1.0, 0.0] };
    /// From the open end, against it.
    pub const OPEN_END: Eye = Eye { right: [-1.0, 0.0, 0.0], up: [0.0, 0.0, 1.0], toward: [0.0, 1.0, 0.0] };

    /// Over the right-hand corner of the closed end, isometric (ISO 5456-3:1996, 5.1): all three measures are shortened alike.
    #[must_use]
    pub fn corner() -> Eye {
        let (third, half, sixth) = (3.0_f64.sqrt().recip(), 2.0_f64.sqrt().recip(), 6.0_f64.sqrt().recip());
        Eye { right: [half, half, 0.0], up: [-sixth, sixth, 2.0 * sixth], toward: [third, -third, third] }
    }

    /// Where a point stands in the view, m.
    #[must_use]
    pub fn see(&self, point: Point) -> [f64; 2] {
        [dot(self.right, point), dot(self.up, point)]
    }

    /// How near to the eye a point is, m from the datum.
    #[must_use]
    pub fn depth(&self, point: Point) -> f64 {
        dot(self.toward, point)
    }
}

pub(super) fn dot(a: Point, b: Point) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

pub(super) fn less(a: Point, b: Point) -> Point {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

/// The point that lies at this part of the way from one to another.
pub(super) fn between(from: Point, to: Point, part: f64) -> Point {
    [from[0] + part * (to[0] - from[0]), from[1] + part * (to[1] - from[1]), from[2] + part * (to[2] - from[2])]
}

pub(super) fn cross(a: Point, b: Point) -> Point {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

pub(super) fn unit(a: Point) -> Option<Point> {
    let length = dot(a, a).sqrt();
    (length > 1e-12).then(|| a.map(|x| x / length))
}
