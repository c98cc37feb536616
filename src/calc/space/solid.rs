//! Bodies with flat faces: boxes, prisms, roof slabs. What a building is made of, for clearance and for the sky.
//!
//! In: corner points in m, `[x, y, z]` with z up. Out: a [`Solid`] of vertices and faces.
//! It must not know what it is part of.

use crate::calc::FormulaError;
use crate::calc::check::positive;

/// A point or a vector, m: x, y and z (up).
pub type Point = [f64; 3];

/// A body with flat faces.
#[derive(Debug, Clone, PartialEq)]
pub struct Solid {
    vertices: Vec<Point>,
    /// Pairs of vertices.
    edges: Vec<[usize; 2]>,
    /// Rings of vertices.
    faces: Vec<Vec<usize>>,
}

impl Solid {
    /// A box from its lowest corner to its highest.
    #[must_use]
    pub fn cuboid(low: Point, high: Point) -> Self {
        let profile = [[low[0], low[2]], [high[0], low[2]], [high[0], high[2]], [low[0], high[2]]];
        Self::extruded(&profile, low[1], high[1])
    }

    /// A prism: `profile`, points (x, z) in order round a convex outline, drawn along y from `start` to `end`.
    ///
    /// # Errors
    /// When the profile has fewer than three points.
    pub fn prism(profile: &[[f64; 2]], start: f64, end: f64) -> Result<Self, FormulaError> {
        if profile.len() < 3 {
            return Err(FormulaError::domain("the profile of a prism", "three points or more"));
        }
        Ok(Self::extruded(profile, start, end))
    }

    /// A round column that stands upright on `from` and ends at the height of `to`, of this outside `diameter` (m): a prism of
    /// 32 sides round it, 0.5 % of the radius wider at its corners.
    ///
    /// # Errors
    /// When the profile has fewer than three points.
    pub fn column(from: Point, to: Point, diameter: f64) -> Result<Self, FormulaError> {
        const SIDES: u32 = 32;
        let half = std::f64::consts::PI / f64::from(SIDES);
        let radius = diameter / 2.0 / half.cos();
        let corner = |side: u32| {
            let (sin, cos) = (2.0 * half * f64::from(side)).sin_cos();
            [from[0] + radius * cos, from[1] + radius * sin]
        };
        let profile: Vec<[f64; 2]> = (0..SIDES).map(corner).collect();
        // Drawn along y, then stood up.
        Ok(Self::prism(&profile, from[2], to[2])?.mapped(|[x, z, y]| [x, y, z]))
    }

    /// A gable-roofed block with its ridge along y: a box from `low` to `high` (whose z is the eaves) with a
    /// ridge at height `ridge` (m) over its middle.
    #[must_use]
    pub fn gabled(low: Point, high: Point, ridge: f64) -> Self {
        let profile = [[low[0], low[2]], [high[0], low[2]], [high[0], high[2]], [f64::midpoint(low[0], high[0]), ridge], [low[0], high[2]]];
        Self::extruded(&profile, low[1], high[1])
    }

    /// The slabs of a roof skin: under each length of `outline` (points (x, z) from one eave over the ridge to the
    /// other) a slab of this `depth` (m, measured plumb), along y from `start` to `end`.
    ///
    /// # Errors
    /// When the outline has fewer than two points.
    pub fn slabs(outline: &[[f64; 2]], depth: f64, start: f64, end: f64) -> Result<Vec<Self>, FormulaError> {
        if outline.len() < 2 {
            return Err(FormulaError::domain("the outline of a roof", "two points or more"));
        }
        let slab = |(a, b): (&[f64; 2], &[f64; 2])| Self::extruded(&[[a[0], a[1] - depth], [b[0], b[1] - depth], *b, *a], start, end);
        Ok(outline.iter().zip(outline.iter().skip(1)).map(slab).collect())
    }

    /// A straight piece with square ends from the middle of one to that of the other (m), in any direction: `breadth` (m) level
    /// and square to it, `depth` (m) square to both; of one that stands plumb the breadth lies along x.
    ///
    /// # Errors
    /// When it has no length, or a size is not positive.
    pub fn strut(from: Point, to: Point, breadth: f64, depth: f64) -> Result<Self, FormulaError> {
        positive("the breadth of a straight piece", breadth)?;
        positive("the depth of a straight piece", depth)?;
        let way = [to[0] - from[0], to[1] - from[1], to[2] - from[2]];
        let length = way[0].hypot(way[1]).hypot(way[2]);
        positive("the length of a straight piece", length)?;
        let along = way.map(|part| part / length);
        let level = along[0].hypot(along[1]);
        let side = if level > 0.0 { [along[1] / level, -along[0] / level, 0.0] } else { [1.0, 0.0, 0.0] };
        let up =
            [side[1] * along[2] - side[2] * along[1], side[2] * along[0] - side[0] * along[2], side[0] * along[1] - side[1] * along[0]];
        let (b, d) = (breadth / 2.0, depth / 2.0);
        let lying = Self::extruded(&[[-b, -d], [b, -d], [b, d], [-b, d]], 0.0, length);
        let turned = |[x, y, z]: Point| {
            let at = |axis: usize| from[axis] + side[axis] * x + along[axis] * y + up[axis] * z;
            [at(0), at(1), at(2)]
        };
        Ok(lying.mapped(turned))
    }

    fn extruded(profile: &[[f64; 2]], start: f64, end: f64) -> Self {
        let n = profile.len();
        let next = |i: usize| (i + 1) % n;
        let at = |y: f64| profile.iter().map(move |[x, z]| [*x, y, *z]);
        let mut faces: Vec<Vec<usize>> = vec![(0..n).collect(), (n..2 * n).collect()];
        faces.extend((0..n).map(|i| vec![i, next(i), n + next(i), n + i]));
        let edges = (0..n).flat_map(|i| [[i, next(i)], [n + i, n + next(i)], [i, n + i]]).collect();
        Self { vertices: at(start).chain(at(end)).collect(), edges, faces }
    }

    /// The same body moved.
    #[must_use]
    pub fn shifted(&self, by: Point) -> Self {
        self.mapped(|p| [p[0] + by[0], p[1] + by[1], p[2] + by[2]])
    }

    /// The same body seen in axes east, north, up, when the building's y axis points to the azimuth `azimuth_of_y`
    /// (rad, from north over east) and its x axis to the right of that.
    #[must_use]
    pub fn turned(&self, azimuth_of_y: f64) -> Self {
        self.mapped(|p| turned(p, azimuth_of_y))
    }

    /// The same body with every corner moved by `f`; what was flat needs to stay flat.
    #[must_use]
    pub fn mapped(&self, f: impl Fn(Point) -> Point) -> Self {
        Self { vertices: self.vertices.iter().map(|p| f(*p)).collect(), ..self.clone() }
    }

    /// Its corners.
    #[must_use]
    pub fn vertices(&self) -> &[Point] {
        &self.vertices
    }

    /// Its edges, each once, from corner to corner.
    pub fn edges(&self) -> impl Iterator<Item = (Point, Point)> {
        self.edges.iter().filter_map(|&[a, b]| Some((*self.vertices.get(a)?, *self.vertices.get(b)?)))
    }

    /// Its faces, each as the corners round it.
    pub fn faces(&self) -> impl Iterator<Item = Vec<Point>> {
        self.faces.iter().map(|face| face.iter().filter_map(|&i| self.vertices.get(i).copied()).collect())
    }
}

/// A point of a building in axes east, north, up: the building's y axis points to the azimuth `azimuth_of_y`
/// (rad, from north over east) and its x axis to the right of that.
#[must_use]
pub fn turned(point: Point, azimuth_of_y: f64) -> Point {
    let (sin, cos) = azimuth_of_y.sin_cos();
    let [x, y, z] = point;
    [x * cos + y * sin, y * cos - x * sin, z]
}
