//! A body rolling along a straight track past bodies that stand still.
//!
//! In: the parts that roll, the bodies that stand, a [`Track`]. Out: the gap at a travel, the least gap and where,
//! the stretch of travel with a collision, how far a body would have to come down.
//! It must not know what is rolling.
//!
//! The gap between two convex bodies, one of them moving straight, is a convex function of the travel: it has one
//! valley. So the least gap needs no sampling, and a collision is one unbroken stretch of travel.

use super::body::Body;
use super::solid::Point;
use crate::calc::FormulaError;
use crate::calc::check::finite;

/// Gaps and travels are found to this, m.
const FINE: f64 = 1e-7;
/// Halvings that bring the longest track below [`FINE`].
const STEPS: u32 = 60;

/// A straight way of travel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Track {
    direction: Point,
    from: f64,
    to: f64,
}

impl Track {
    /// A track along `direction` (any length), on which the parts as given stand at travel nothing and roll
    /// between the travels `from` and `to` (m).
    ///
    /// # Errors
    /// When the direction has no length or a number is none.
    pub fn new(direction: Point, from: f64, to: f64) -> Result<Self, FormulaError> {
        let length = direction.iter().map(|d| d * d).sum::<f64>().sqrt();
        if !(length.is_finite() && length > 0.0) {
            return Err(FormulaError::domain("the direction of travel", "some length"));
        }
        finite("the travel", from)?;
        finite("the travel", to)?;
        let direction = direction.map(|d| d / length);
        Ok(Self { direction, from: from.min(to), to: to.max(from) })
    }

    fn shift(&self, travel: f64) -> Point {
        self.direction.map(|d| d * travel)
    }
}

/// The closest that a rolling part comes to a standing body.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pass {
    /// Which of the parts.
    pub part: usize,
    /// Which of the standing bodies.
    pub body: usize,
    /// The gap, m; less than nothing for a collision.
    pub gap: f64,
    /// First travel at which it is so, m.
    pub travel: f64,
}

/// Gap (m) between a part at a `travel` (m) and a standing body.
#[must_use]
pub fn gap_at(part: &Body, body: &Body, track: &Track, travel: f64) -> f64 {
    part.shifted(track.shift(travel)).gap(body)
}

/// Least gap (m) over the whole track: that of everything the part sweeps through.
#[must_use]
pub fn least_gap(part: &Body, body: &Body, track: &Track) -> f64 {
    part.swept(track.shift(track.from), track.shift(track.to)).gap(body)
}

/// The closest pass of all parts and bodies; `None` when there are no parts or no bodies.
#[must_use]
pub fn closest_pass(parts: &[Body], bodies: &[Body], track: &Track) -> Option<Pass> {
    let mut closest: Option<Pass> = None;
    for (p, part) in parts.iter().enumerate() {
        for (b, body) in bodies.iter().enumerate() {
            let gap = least_gap(part, body, track);
            if closest.is_none_or(|so_far| gap < so_far.gap) {
                closest = Some(Pass { part: p, body: b, gap, travel: track.from });
            }
        }
    }
    let mut pass = closest?;
    let (part, body) = (parts.get(pass.part)?, bodies.get(pass.body)?);
    pass.travel = stretch_within(part, body, track, pass.gap + FINE)?.0;
    Some(pass)
}

/// The stretch of travel (m) on which a part comes closer to a body than `wanted` (m; nothing asks for collisions),
/// or `None` if it never does.
#[must_use]
pub fn stretch_within(part: &Body, body: &Body, track: &Track, wanted: f64) -> Option<(f64, f64)> {
    let gap = |travel: f64| gap_at(part, body, track, travel);
    let lowest = valley(&gap, track.from, track.to, wanted);
    if gap(lowest) >= wanted {
        return None;
    }
    let entry = edge(&gap, lowest, track.from, wanted);
    let exit = edge(&gap, lowest, track.to, wanted);
    Some((entry, exit))
}

/// The gaps along the track in equal steps of travel, as (travel, least gap of all parts and bodies), for drawing.
#[must_use]
pub fn gaps_along(parts: &[Body], bodies: &[Body], track: &Track, steps: u32) -> Vec<(f64, f64)> {
    (0..=steps)
        .map(|step| {
            let share = f64::from(step) / f64::from(steps.max(1));
            let travel = track.from + (track.to - track.from) * share;
            let least = parts
                .iter()
                .flat_map(|part| {
                    let there = part.shifted(track.shift(travel));
                    bodies.iter().map(move |body| there.gap(body))
                })
                .fold(f64::INFINITY, f64::min);
            (travel, least)
        })
        .collect()
}

/// How far (m) a body must come down for the part to sweep over it with a gap of `wanted` (m); nothing if it already
/// does, and where coming down by `enough` (m) does it with some to spare.
#[must_use]
pub fn lowering_needed(part: &Body, body: &Body, track: &Track, wanted: f64, enough: f64) -> f64 {
    let swept = part.swept(track.shift(track.from), track.shift(track.to));
    let gap = |down: f64| swept.gap(&body.shifted([0.0, 0.0, -down]));
    if gap(0.0) >= wanted || enough > 0.0 && gap(enough) >= wanted + FINE {
        return 0.0;
    }
    // Far enough down that the whole body lies under the whole part.
    let clear = body.heights().1 - swept.heights().0 + wanted.max(0.0);
    edge(&gap, 0.0, clear.max(0.0), wanted)
}

/// Where a convex function is least between two places; it stops early at a place below `enough`.
fn valley(f: &impl Fn(f64) -> f64, from: f64, to: f64, enough: f64) -> f64 {
    const GOLDEN: f64 = 0.618_033_988_749_894_9;
    let (mut low, mut high) = (from, to);
    let mut left = high - GOLDEN * (high - low);
    let mut right = low + GOLDEN * (high - low);
    let (mut at_left, mut at_right) = (f(left), f(right));
    while high - low > FINE * 1e-3 {
        if at_left < enough {
            return left;
        }
        if at_right < enough {
            return right;
        }
        if at_left <= at_right {
            (high, right, at_right) = (right, left, at_left);
            left = high - GOLDEN * (high - low);
            at_left = f(left);
        } else {
            (low, left, at_left) = (left, right, at_right);
            right = low + GOLDEN * (high - low);
            at_right = f(right);
        }
    }
    f64::midpoint(low, high)
}

/// The place towards `outer` where a function that is below `level` at `inner` rises to it; `outer` if it does not.
fn edge(f: &impl Fn(f64) -> f64, inner: f64, outer: f64, level: f64) -> f64 {
    if f(outer) < level {
        return outer;
    }
    let (mut below, mut above) = (inner, outer);
    for _ in 0..STEPS {
        let middle = f64::midpoint(below, above);
        // No number lies between them any more.
        if middle == below || middle == above {
            break;
        }
        if f(middle) < level {
            below = middle;
        } else {
            above = middle;
        }
    }
    above
}
