//! What stands in the way of a telescope, turned into stretches of its horizon.
//!
//! In: obstacles with positions in m (x east, y north, z up), and the eye. Out: the sectors of horizon that they make.
//! It must not know which obstacle is a house and which a roof.
//!
//! All sky below an obstacle's upper edge counts as lost, also what could be seen under a roof or between posts.

use std::f64::consts::{FRAC_PI_2, TAU};

use super::place::full_turn;
use super::sector::{Curve, Sector};
use crate::calc::FormulaError;
use crate::calc::check::{finite, positive, within};
use crate::calc::space::solid::{Point, Solid};

/// Something that hides sky.
#[derive(Debug, Clone, PartialEq)]
pub enum Obstacle {
    /// A thin wall (or ridge, or wire) by the two ends of its top edge.
    Wall {
        /// One end of the top edge, m.
        from: Point,
        /// The other end, m.
        to: Point,
    },
    /// A body with flat faces: a parked roof, a pier, a house.
    Solid(Solid),
    /// A sphere: the swing of another telescope.
    Sphere {
        /// Its centre, m.
        centre: Point,
        /// Its radius, m.
        radius: f64,
    },
    /// Something far away, measured from the spot: all that lies clockwise from one azimuth to another is hidden up to
    /// an altitude.
    Site {
        /// Azimuth at which it begins, rad.
        from: f64,
        /// Azimuth at which it ends, clockwise, rad.
        to: f64,
        /// Its altitude, rad.
        altitude: f64,
    },
}

impl Obstacle {
    /// The stretches of horizon that it makes for an `eye` (m: where the axes of the mount meet).
    ///
    /// # Errors
    /// When a coordinate is no number, the eye is inside a sphere, a radius is not positive or an altitude is beyond the zenith.
    pub(super) fn sectors(&self, eye: Point) -> Result<Vec<Sector>, FormulaError> {
        let points = match self {
            Self::Wall { from, to } => &[*from, *to],
            Self::Solid(solid) => solid.vertices(),
            Self::Sphere { centre, .. } => std::slice::from_ref(centre),
            Self::Site { from, to, .. } => &[[*from, *to, 0.0]],
        };
        for coordinate in points.iter().chain([&eye]).flatten() {
            finite("a coordinate of an obstacle", *coordinate)?;
        }
        let seen = |point: Point| [point[0] - eye[0], point[1] - eye[1], point[2] - eye[2]];
        match self {
            Self::Wall { from, to } => Ok(vec![edge(seen(*from), seen(*to))]),
            Self::Solid(solid) => {
                let is_overhead = solid.faces().any(|face| is_under(&face.into_iter().map(seen).collect::<Vec<_>>()));
                if is_overhead {
                    return Ok(vec![Sector::overhead()]);
                }
                Ok(solid.edges().map(|(a, b)| edge(seen(a), seen(b))).collect())
            }
            Self::Sphere { centre, radius } => Ok(vec![limb(seen(*centre), *radius)?]),
            Self::Site { from, to, altitude } => {
                let altitude = within("the altitude of an obstacle", *altitude, -FRAC_PI_2, FRAC_PI_2, "from -90 to 90 deg")?;
                let width = if to - from >= TAU { TAU } else { full_turn(to - from) };
                Ok(vec![Sector { from: *from, width, curve: Curve::level(altitude) }])
            }
        }
    }
}

/// A straight edge between two points seen from the origin.
fn edge(p: Point, q: Point) -> Sector {
    let upward = |point: Point| point[2].atan2(point[0].hypot(point[1]));
    let azimuth = |point: Point| point[0].atan2(point[1]);
    // The plane through the eye and the edge has the normal p × q.
    let normal = [p[1] * q[2] - p[2] * q[1], p[2] * q[0] - p[0] * q[2], p[0] * q[1] - p[1] * q[0]];
    let plan = p[0].hypot(p[1]) * q[0].hypot(q[1]);
    if normal[2].abs() <= 1e-12 * plan {
        // The edge points at the eye, or runs over it.
        let towards = p[0] * q[0] + p[1] * q[1];
        if towards <= 0.0 && height_over_eye(p, q) > 0.0 {
            return Sector::overhead();
        }
        let highest = if upward(p) >= upward(q) { p } else { q };
        let curve = Curve::level(upward(highest));
        return Sector { from: azimuth(highest), width: 0.0, curve };
    }
    let curve = Curve::Edge { east: -normal[0] / normal[2], north: -normal[1] / normal[2] };
    let clockwise = full_turn(azimuth(q) - azimuth(p));
    if clockwise <= TAU / 2.0 {
        Sector { from: azimuth(p), width: clockwise, curve }
    } else {
        Sector { from: azimuth(q), width: TAU - clockwise, curve }
    }
}

/// Height at which an edge in a vertical plane with the eye passes over it.
fn height_over_eye(p: Point, q: Point) -> f64 {
    let (to_p, to_q) = (p[0].hypot(p[1]), q[0].hypot(q[1]));
    if to_p + to_q > 0.0 { (p[2] * to_q + q[2] * to_p) / (to_p + to_q) } else { p[2].max(q[2]) }
}

/// The upper limb of a sphere seen from the origin.
fn limb(centre: Point, radius: f64) -> Result<Sector, FormulaError> {
    positive("the radius of the other telescope's swing", radius)?;
    let plan = centre[0].hypot(centre[1]);
    let distance = plan.hypot(centre[2]);
    if distance <= radius {
        return Err(FormulaError::domain("the distance to the other telescope", "more than the radius of its swing"));
    }
    let angular = (radius / distance).asin();
    let azimuth = centre[0].atan2(centre[1]);
    let altitude = centre[2].atan2(plan);
    if altitude + angular >= FRAC_PI_2 {
        return Ok(Sector::overhead());
    }
    // How far it reaches to either side; one below the eye that covers the nadir is seen all round.
    let half = if altitude - angular <= -FRAC_PI_2 { TAU / 2.0 } else { (angular.sin() / altitude.cos()).min(1.0).asin() };
    let curve = Curve::Limb { centre: centre.map(|c| c / distance), cos_radius: angular.cos() };
    Ok(Sector { from: azimuth - half, width: 2.0 * half, curve })
}

/// Whether the origin lies under a face.
fn is_under(face: &[Point]) -> bool {
    let next = || face.iter().cycle().skip(1);
    // Newell's normal of the ring, and whether a ray along x in plan crosses it an odd number of times.
    let mut normal = [0.0; 3];
    let mut is_inside = false;
    for (a, b) in face.iter().zip(next()) {
        normal[0] += (a[1] - b[1]) * (a[2] + b[2]);
        normal[1] += (a[2] - b[2]) * (a[0] + b[0]);
        normal[2] += (a[0] - b[0]) * (a[1] + b[1]);
        if (a[1] > 0.0) != (b[1] > 0.0) && a[0] - a[1] * (b[0] - a[0]) / (b[1] - a[1]) > 0.0 {
            is_inside = !is_inside;
        }
    }
    let Some(corner) = face.first() else { return false };
    let height: f64 = normal.iter().zip(corner).map(|(n, c)| n * c).sum::<f64>() / normal[2];
    is_inside && height > 0.0
}
