//! One stretch of the horizon: an unbroken range of azimuths with one curve as its upper edge.
//!
//! In: a range of azimuths and a [`Curve`]. Out: the altitude of the edge at an azimuth, its highest point in a range,
//! and the hour angles between which a star stands behind it. It must not know obstacles.
//!
//! A straight edge seen from a point is part of a great circle, so the tangent of its altitude is a sine of the
//! azimuth. A sphere's edge and a level altitude are small circles. A star's height over the plane of any of these circles
//! is a sine of its hour angle: it crosses the edge at most once between two extremes of that sine, so no crossing is missed.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use super::place::{direction, full_turn};
use super::refraction::{Air, seen};

/// The upper edge of a stretch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Curve {
    /// The same altitude everywhere.
    Level {
        /// The altitude, rad; a quarter turn for what covers the zenith.
        altitude: f64,
        /// Its tangent.
        tangent: f64,
    },
    /// A straight edge: tan(altitude) = `east` sin(azimuth) + `north` cos(azimuth).
    Edge {
        /// The part that goes with the sine.
        east: f64,
        /// The part that goes with the cosine.
        north: f64,
    },
    /// The upper limb of a sphere that covers neither zenith nor eye.
    Limb {
        /// Direction to its centre: east, north, up.
        centre: [f64; 3],
        /// Cosine of its angular radius.
        cos_radius: f64,
    },
}

impl Curve {
    /// The same altitude (rad) everywhere.
    pub(super) fn level(altitude: f64) -> Self {
        Self::Level { altitude, tangent: altitude.tan() }
    }

    /// Altitude (rad) of the edge at an azimuth.
    pub(super) fn altitude(&self, azimuth: f64) -> f64 {
        match *self {
            Self::Level { altitude, .. } => altitude,
            Self::Edge { .. } | Self::Limb { .. } => self.tangent(azimuth.sin_cos()).atan(),
        }
    }

    /// Tangent of the altitude of the edge, from sine and cosine of the azimuth.
    pub(super) fn tangent(&self, (sin, cos): (f64, f64)) -> f64 {
        match *self {
            Self::Level { tangent, .. } => tangent,
            Self::Edge { east, north } => east * sin + north * cos,
            Self::Limb { centre: [east, north, up], cos_radius: c } => {
                // The direction (1, T) in the vertical plane of this azimuth makes the angular radius with the
                // centre: (up T + forward)² = c² (1 + T²), and the upper root of that.
                let forward = east * sin + north * cos;
                let root = (up * up + forward * forward - c * c).max(0.0).sqrt();
                (up * forward + c * root) / (c * c - up * up)
            }
        }
    }

    /// Azimuth at which the edge is highest, if it has one.
    fn peak(&self) -> Option<f64> {
        match *self {
            Self::Level { .. } => None,
            Self::Edge { east, north } | Self::Limb { centre: [east, north, _], .. } => Some(east.atan2(north)),
        }
    }

    /// Normal (east, north, up) of the circle's plane.
    fn normal(&self) -> [f64; 3] {
        match *self {
            Self::Level { .. } => [0.0, 0.0, 1.0],
            Self::Edge { east, north } => [-east, -north, 1.0],
            Self::Limb { centre, .. } => centre,
        }
    }
}

/// A sector of the horizon, by azimuth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Sector {
    /// Azimuth at which it begins, rad.
    pub(super) from: f64,
    /// How far it goes on clockwise, rad.
    pub(super) width: f64,
    /// Its upper edge.
    pub(super) curve: Curve,
}

/// Azimuths closer than this are one, rad.
pub(super) const SAME: f64 = 1e-12;

impl Sector {
    /// All round at one altitude.
    pub(super) fn all_round(altitude: f64) -> Self {
        Self { from: 0.0, width: TAU, curve: Curve::level(altitude) }
    }

    /// Everything, zenith included.
    pub(super) fn overhead() -> Self {
        Self::all_round(FRAC_PI_2)
    }

    pub(super) fn covers(&self, azimuth: f64) -> bool {
        let offset = full_turn(azimuth - self.from);
        offset <= self.width + SAME || offset >= TAU - SAME
    }

    /// Highest point (azimuth, altitude) within the part that begins `start` and ends `end` (rad) after the sector's
    /// own beginning.
    pub(super) fn highest(&self, start: f64, end: f64) -> (f64, f64) {
        let peak = self.curve.peak().map(|azimuth| full_turn(azimuth - self.from));
        let inside = peak.filter(|offset| (start..=end).contains(offset));
        [Some(start), Some(end), inside]
            .into_iter()
            .flatten()
            .map(|offset| self.from + offset)
            .map(|azimuth| (full_turn(azimuth), self.curve.altitude(azimuth)))
            .max_by(|a, b| a.1.total_cmp(&b.1))
            .unwrap_or((self.from, self.curve.altitude(self.from)))
    }

    /// Ranges of hour angle (from, to; rad, within −π to π) in which the star stands behind this sector.
    pub(super) fn hides(&self, star: &Star) -> Vec<(f64, f64)> {
        let mut hidden = Vec::new();
        let marks = self.marks(star);
        for (&from, &to) in marks.iter().zip(marks.iter().skip(1)) {
            let middle = f64::midpoint(from, to);
            if to - from < SAME || !self.covers(star.azimuth(middle)) {
                continue;
            }
            let clear = |hour_angle: f64| self.clears(star, hour_angle);
            // Between two marks the star can cross the edge at most once on either side of the middle.
            let behind_middle = !clear(middle);
            let first = root(&clear, from, middle, behind_middle);
            let last = root(&clear, to, middle, behind_middle);
            if behind_middle {
                hidden.push((first.unwrap_or(from), last.unwrap_or(to)));
            } else {
                hidden.extend(first.map(|crossing| (from, crossing)));
                hidden.extend(last.map(|crossing| (crossing, to)));
            }
        }
        hidden
    }

    fn clears(&self, star: &Star, hour_angle: f64) -> bool {
        let [east, north, up] = star.direction(hour_angle);
        let altitude = seen(up.atan2(east.hypot(north)), star.air);
        altitude > self.curve.altitude(east.atan2(north))
    }

    /// Hour angles between which the star crosses the edge at most once: where it is furthest from the edge on either side,
    /// where it passes the ends of the sector, and where it culminates.
    fn marks(&self, star: &Star) -> Vec<f64> {
        let mut marks = vec![-PI, 0.0, PI];
        marks.extend(star.extremes(self.curve.normal()));
        marks.extend(star.passes(self.from));
        marks.extend(star.passes(self.from + self.width));
        marks.sort_by(f64::total_cmp);
        marks
    }
}

/// Where between `end` and `middle` the answer changes, if `clear` says otherwise at `end` than in the middle.
fn root(clear: &impl Fn(f64) -> bool, end: f64, middle: f64, behind_middle: bool) -> Option<f64> {
    // A hair inside: the marks themselves lie on the edge, where rounding decides.
    let (mut outside, mut inside) = (end + (middle - end) * 1e-9, middle);
    if clear(outside) != behind_middle {
        return None;
    }
    for _ in 0..50 {
        let half = f64::midpoint(outside, inside);
        if clear(half) == behind_middle {
            outside = half;
        } else {
            inside = half;
        }
    }
    Some(inside)
}

/// A star in its daily turn over one place.
#[derive(Debug, Clone, Copy)]
pub(super) struct Star {
    pub(super) declination: f64,
    pub(super) latitude: f64,
    pub(super) air: Option<Air>,
}

impl Star {
    fn direction(&self, hour_angle: f64) -> [f64; 3] {
        direction(hour_angle, self.declination, self.latitude)
    }

    fn azimuth(&self, hour_angle: f64) -> f64 {
        let [east, north, _] = self.direction(hour_angle);
        east.atan2(north)
    }

    /// `normal` times the star's direction is `mean + swing · cos(H − phase)`.
    fn sinusoid(&self, [east, north, up]: [f64; 3]) -> (f64, f64, f64) {
        let (sin_d, cos_d) = self.declination.sin_cos();
        let (sin_p, cos_p) = self.latitude.sin_cos();
        let mean = sin_d * (north * cos_p + up * sin_p);
        let with_cos = cos_d * (up * cos_p - north * sin_p);
        let with_sin = -cos_d * east;
        (mean, with_cos.hypot(with_sin), with_sin.atan2(with_cos))
    }

    /// Hour angles at which the star stands at an azimuth or right opposite.
    fn passes(&self, azimuth: f64) -> Vec<f64> {
        let (sin, cos) = azimuth.sin_cos();
        let (mean, swing, phase) = self.sinusoid([cos, -sin, 0.0]);
        if mean.abs() > swing || swing == 0.0 {
            return Vec::new();
        }
        let half = (-mean / swing).acos();
        vec![half_turn(phase - half), half_turn(phase + half)]
    }

    /// Hour angles at which the star is furthest to either side of a plane through the eye, or parallel to it.
    fn extremes(&self, normal: [f64; 3]) -> [f64; 2] {
        let (_, _, phase) = self.sinusoid(normal);
        [half_turn(phase), half_turn(phase + PI)]
    }
}

/// An angle from −π to π.
fn half_turn(angle: f64) -> f64 {
    full_turn(angle + PI) - PI
}
