//! A convex body with a rounding, and the gap between two of them.
//!
//! In: corner points in m and a radius. Out: a [`Body`]; gaps in m, less than nothing where bodies overlap.
//! It must not know which way anything moves.
//!
//! A sphere is a point with a radius, a capsule (a tube with round ends) two points with one, a box its eight
//! corners with none, a tube with flat ends the corners of a prism about it. Distances come from the geometry library's
//! GJK on the corners alone, which ends exactly (on a true disc it ends early: centimetres off); the radius is taken off
//! afterwards.

use std::f64::consts::PI;

use parry3d_f64::math::{Pose, Vector};
use parry3d_f64::query::details::{contact_support_map_support_map, distance_support_map_support_map};
use parry3d_f64::shape::SupportMap;

use super::solid::{Point, Solid};
use crate::calc::FormulaError;
use crate::calc::check::{finite, not_negative, positive};

/// All points within `radius` of the convex hull of some corners.
#[derive(Debug, Clone, PartialEq)]
pub struct Body {
    corners: Vec<Vector>,
    radius: f64,
    /// Lowest and highest corner of a box whose edges lie along the axes: what two of those have in common is worked out
    /// exactly, and far sooner than by any search.
    cuboid: Option<[Vector; 2]>,
}

/// The shortest way from one body to another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Way {
    /// The gap, m; less than nothing where they share room.
    pub gap: f64,
    /// By how much the first has to move so that they just touch, m.
    pub by: Point,
}

/// Flat sides of a tube.
const SIDES: u32 = 64;
/// A body that reaches farther is a slip, and the geometry library loses its way in it, m.
const FARTHEST: f64 = 1e4;
/// A depth below this is none, or the library's search for it has ended at once, m.
const LOST: f64 = 1e-9;
/// Halvings that find the way out along an axis to better than a micrometre.
const HALVINGS: u32 = 40;
/// No building is so large that its parts are farther apart, m.
const FAR: f64 = 1e6;

impl Body {
    /// The hull of `corners` (at least one, m), rounded by `radius` (m).
    ///
    /// # Errors
    /// When there is no corner, a coordinate is no number or the radius is negative.
    pub fn new(corners: &[Point], radius: f64) -> Result<Self, FormulaError> {
        if corners.is_empty() {
            return Err(FormulaError::domain("a body", "at least one point"));
        }
        not_negative("the radius of a body", radius)?;
        for coordinate in corners.iter().flatten() {
            finite("a coordinate of a body", *coordinate)?;
            if coordinate.abs() > FARTHEST {
                return Err(FormulaError::domain("each place of a body", "within 10 km of the zero that all is set out from"));
            }
        }
        let corners: Vec<Vector> = corners.iter().map(|[x, y, z]| Vector::new(*x, *y, *z)).collect();
        Ok(Self::of(corners, radius))
    }

    fn of(corners: Vec<Vector>, radius: f64) -> Self {
        let cuboid = if radius > 0.0 { None } else { cuboid(&corners) };
        Self { corners, radius, cuboid }
    }

    /// A sphere: what a telescope sweeps when it turns every way about its mount.
    ///
    /// # Errors
    /// As for [`Body::new`].
    pub fn sphere(centre: Point, radius: f64) -> Result<Self, FormulaError> {
        Self::new(&[centre], radius)
    }

    /// A tube with round ends: a telescope parked in one pose.
    ///
    /// # Errors
    /// As for [`Body::new`].
    pub fn capsule(from: Point, to: Point, radius: f64) -> Result<Self, FormulaError> {
        Self::new(&[from, to], radius)
    }

    /// A tube with flat ends, of this outside `diameter` (m): a prism of [`SIDES`] round it, so that no corner of the
    /// tube stands out of the body, and the body stands out of the tube by 0.12 % of its radius.
    ///
    /// # Errors
    /// When it has no length, or a number is none.
    pub fn tube(from: Point, to: Point, diameter: f64) -> Result<Self, FormulaError> {
        positive("the diameter of a tube", diameter)?;
        let axis = Vector::new(to[0] - from[0], to[1] - from[1], to[2] - from[2]);
        positive("the length of a tube", axis.length())?;
        // Any direction square to the axis: that of the coordinate which the axis has least of.
        let least = if axis.x.abs() <= axis.y.abs() && axis.x.abs() <= axis.z.abs() {
            Vector::new(1.0, 0.0, 0.0)
        } else if axis.y.abs() <= axis.z.abs() {
            Vector::new(0.0, 1.0, 0.0)
        } else {
            Vector::new(0.0, 0.0, 1.0)
        };
        let one = axis.cross(least).normalize();
        let other = axis.cross(one).normalize();
        let radius = diameter / 2.0 / (PI / f64::from(SIDES)).cos();
        let ring = |end: Point| {
            (0..SIDES).map(move |side| {
                let (sin, cos) = (2.0 * PI * f64::from(side) / f64::from(SIDES)).sin_cos();
                let at = one * (radius * cos) + other * (radius * sin);
                [end[0] + at.x, end[1] + at.y, end[2] + at.z]
            })
        };
        Self::new(&ring(from).chain(ring(to)).collect::<Vec<_>>(), 0.0)
    }

    /// A body with flat faces (the hull of it, if it is not convex).
    ///
    /// # Errors
    /// As for [`Body::new`].
    pub fn solid(solid: &Solid) -> Result<Self, FormulaError> {
        Self::new(solid.vertices(), 0.0)
    }

    /// The same body moved by `by` (m).
    #[must_use]
    pub fn shifted(&self, by: Point) -> Self {
        let by = Vector::new(by[0], by[1], by[2]);
        let cuboid = self.cuboid.map(|ends| ends.map(|end| end + by));
        Self { corners: self.corners.iter().map(|c| *c + by).collect(), radius: self.radius, cuboid }
    }

    /// Everything the body passes through on a straight way between two shifts: the hull of both.
    #[must_use]
    pub fn swept(&self, from: Point, to: Point) -> Self {
        let (first, last) = (self.shifted(from), self.shifted(to));
        // A box that moves along one of its edges sweeps a box.
        if let (Some([low, high]), Some([other_low, other_high])) = (first.cuboid, last.cuboid) {
            let moved = other_low - low;
            if [moved.x, moved.y, moved.z].into_iter().filter(|way| *way != 0.0).count() <= 1 {
                return Self::between(low.min(other_low), high.max(other_high));
            }
        }
        let mut corners = first.corners;
        corners.extend(last.corners);
        Self::of(corners, self.radius)
    }

    /// The box from its lowest corner to its highest.
    fn between(low: Vector, high: Vector) -> Self {
        let ends = [low, high];
        let corners = (0..8).map(|n: usize| Vector::new(ends[n & 1].x, ends[n >> 1 & 1].y, ends[n >> 2].z)).collect();
        Self { corners, radius: 0.0, cuboid: Some(ends) }
    }

    /// Gap (m) to another body. Where the roundings overlap it is less than nothing by the overlap; where the
    /// hulls themselves overlap it stays at the sum of the radii below nothing, which is at least that deep.
    #[must_use]
    pub fn gap(&self, other: &Self) -> f64 {
        if let (Some(one), Some(other)) = (self.cuboid, other.cuboid) {
            return way_of_boxes(one, other).gap.max(0.0);
        }
        let between_hulls = distance_support_map_support_map(&Pose::IDENTITY, self, other);
        between_hulls - self.radius - other.radius
    }

    /// The shortest way to another body (m). Where they share room it is the shortest way out of it.
    #[must_use]
    pub fn way(&self, other: &Self) -> Option<Way> {
        if let (Some(one), Some(other)) = (self.cuboid, other.cuboid) {
            return Some(way_of_boxes(one, other));
        }
        let contact = contact_support_map_support_map(&Pose::IDENTITY, self, other, FAR)?;
        if contact.dist > -LOST && distance_support_map_support_map(&Pose::IDENTITY, self, other) <= 0.0 {
            // Hulls that meet: the search for how deep has lost its way, or they only touch.
            return Some(self.way_along_axes(other));
        }
        let gap = contact.dist - self.radius - other.radius;
        let by = contact.normal1 * gap;
        Some(Way { gap, by: [by.x, by.y, by.z] })
    }

    /// The shortest way out of another body's hull along an axis.
    fn way_along_axes(&self, other: &Self) -> Way {
        let ([low, high], [other_low, other_high]) = (self.bounds(), other.bounds());
        let mut out = Way { gap: f64::NEG_INFINITY, by: [0.0; 3] };
        for axis in 0..3 {
            for farthest in [other_low[axis] - high[axis], other_high[axis] - low[axis]] {
                let shift = |way: f64| {
                    let mut by = [0.0; 3];
                    by[axis] = way;
                    by
                };
                let (mut within, mut beyond) = (0.0, farthest);
                for _ in 0..HALVINGS {
                    let middle = f64::midpoint(within, beyond);
                    if self.shifted(shift(middle)).gap(other) > 0.0 { beyond = middle } else { within = middle }
                }
                if -beyond.abs() > out.gap {
                    out = Way { gap: -beyond.abs(), by: shift(beyond) };
                }
            }
        }
        out
    }

    /// Its lowest and its highest corner (m), rounding included.
    #[must_use]
    pub fn bounds(&self) -> [Point; 2] {
        let reach = |axis: Vector| self.local_support_point(axis).dot(axis) + self.radius;
        let axes = [Vector::new(1.0, 0.0, 0.0), Vector::new(0.0, 1.0, 0.0), Vector::new(0.0, 0.0, 1.0)];
        [axes.map(|axis| -reach(-axis)), axes.map(reach)]
    }

    /// Lowest and highest z (m), rounding included.
    #[must_use]
    pub fn heights(&self) -> (f64, f64) {
        let [low, high] = self.bounds();
        (low[2], high[2])
    }
}

/// Lowest and highest corner, if these are the corners of a box along the axes, flat in some of them or in none.
fn cuboid(corners: &[Vector]) -> Option<[Vector; 2]> {
    let first = *corners.first()?;
    let (low, high) = corners.iter().fold((first, first), |(low, high), corner| (low.min(*corner), high.max(*corner)));
    // Which of the eight a corner is; of what is flat several are one.
    let number = |corner: &Vector| -> Option<u8> {
        let axes = [(corner.x, low.x, high.x), (corner.y, low.y, high.y), (corner.z, low.z, high.z)];
        axes.into_iter().enumerate().try_fold(0, |number, (axis, (at, low, high))| match at {
            at if at == low => Some(number),
            at if at == high => Some(number | 1 << axis),
            _ => None,
        })
    };
    let mut there = 0_u8;
    for corner in corners {
        there |= 1 << number(corner)?;
    }
    let wanted = (0..8_u8).all(|n| {
        let end = |axis: u8, low: f64, high: f64| if n >> axis & 1 == 1 { high } else { low };
        number(&Vector::new(end(0, low.x, high.x), end(1, low.y, high.y), end(2, low.z, high.z))).is_some_and(|at| there >> at & 1 == 1)
    });
    wanted.then_some([low, high])
}

/// The shortest way from one box along the axes to another: across the gap, or out by the nearest side.
fn way_of_boxes([low, high]: [Vector; 2], [other_low, other_high]: [Vector; 2]) -> Way {
    let axes = [
        (low.x, high.x, other_low.x, other_high.x),
        (low.y, high.y, other_low.y, other_high.y),
        (low.z, high.z, other_low.z, other_high.z),
    ];
    // How far the first is from the second where it lies before it, and where it lies behind it.
    let apart = axes.map(|(low, high, other_low, other_high)| (other_low - high, low - other_high));
    let across = apart.map(|(before, behind)| {
        if before > 0.0 {
            before
        } else if behind > 0.0 {
            -behind
        } else {
            0.0
        }
    });
    let gap = across[0].hypot(across[1]).hypot(across[2]);
    if gap > 0.0 || apart.iter().any(|(before, behind)| *before == 0.0 || *behind == 0.0) {
        return Way { gap, by: across };
    }
    let mut out = Way { gap: f64::NEG_INFINITY, by: [0.0; 3] };
    for (axis, (before, behind)) in apart.into_iter().enumerate() {
        let (gap, way) = if before >= behind { (before, before) } else { (behind, -behind) };
        if gap > out.gap {
            out = Way { gap, by: [0.0; 3] };
            out.by[axis] = way;
        }
    }
    out
}

impl SupportMap for Body {
    fn local_support_point(&self, direction: Vector) -> Vector {
        let mut best = Vector::ZERO;
        let mut furthest = f64::NEG_INFINITY;
        for corner in &self.corners {
            let along = corner.dot(direction);
            if along > furthest {
                (best, furthest) = (*corner, along);
            }
        }
        best
    }
}
