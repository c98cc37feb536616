//! The horizon that a telescope really has.
//!
//! In: where its axes meet, the open horizon, the obstacles. Out: the lowest visible altitude at an azimuth, all round in
//! equal steps, and the worst azimuth of a wanted view. It must not know stars.

use std::f64::consts::TAU;

use super::outline::Obstacle;
use super::place::full_turn;
use super::sector::{SAME, Sector};
use crate::calc::FormulaError;
use crate::calc::check::within;
use crate::calc::space::solid::Point;

/// A view narrower than this hides nothing, rad: an obstacle that ends where the view begins is not in it.
const NARROWEST: f64 = 1e-9;

/// Steps round the horizon where nobody asks for others: whole degrees (common practice, no source).
pub const STEPS: f64 = 360.0;
/// Finest steps round the horizon: half a minute of arc, as wide as the eye sees at its best (common practice, no source).
pub const FINEST_STEPS: f64 = 43_200.0;

/// The lowest visible altitude at every azimuth.
#[derive(Debug, Clone, PartialEq)]
pub struct Horizon {
    /// The sectors, each with the obstacle that it belongs to; the open horizon belongs to none.
    pub(super) sectors: Vec<(Sector, Option<usize>)>,
}

/// A point of the horizon and what makes it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Skyline {
    /// Azimuth, rad.
    pub azimuth: f64,
    /// Lowest visible altitude there, rad; a quarter turn where the zenith is covered.
    pub altitude: f64,
    /// Which of the obstacles makes it; `None` for the open horizon.
    pub obstacle: Option<usize>,
}

impl Horizon {
    /// What an `eye` (m; east, north, up) sees over `obstacles`, whose points count in the same axes. `open` (rad) is
    /// the altitude of the horizon where nothing stands, most often nothing.
    ///
    /// # Errors
    /// When the open horizon or an obstacle is beyond the zenith, or the eye is inside another telescope's swing.
    pub fn new(eye: Point, open: f64, obstacles: &[Obstacle]) -> Result<Self, FormulaError> {
        let quarter = TAU / 4.0;
        within("the open horizon", open, -quarter, quarter, "from -90 to 90 deg")?;
        let mut sectors = vec![(Sector::all_round(open), None)];
        for (index, obstacle) in obstacles.iter().enumerate() {
            sectors.extend(obstacle.sectors(eye)?.into_iter().map(|sector| (sector, Some(index))));
        }
        Ok(Self { sectors })
    }

    /// Lowest visible altitude at an azimuth (rad). Just where an obstacle ends, it still counts.
    #[must_use]
    pub fn at(&self, azimuth: f64) -> Skyline {
        let azimuth = full_turn(azimuth);
        highest(
            self.sectors
                .iter()
                .filter(|(sector, _)| sector.covers(azimuth))
                .map(|(sector, obstacle)| (azimuth, sector.curve.altitude(azimuth), *obstacle)),
        )
    }

    /// Lowest visible altitudes (rad) at `steps` equally spaced azimuths from north over east: exact at each.
    #[must_use]
    pub fn all_round(&self, steps: u32) -> Vec<f64> {
        let step = TAU / f64::from(steps.max(1));
        let turns: Vec<(f64, f64)> = (0..steps).map(|i| (step * f64::from(i)).sin_cos()).collect();
        let mut tangents = vec![f64::NEG_INFINITY; turns.len()];
        for (sector, _) in &self.sectors {
            let from = full_turn(sector.from);
            // Counted in steps; the rounding takes in a sample that lies on the very end of the sector.
            let first = ((from - SAME) / step).ceil();
            let last = ((from + sector.width + SAME) / step).floor();
            let samples = usize::try_from(whole(last - first) + 1).unwrap_or(0).min(turns.len());
            let skip = usize::try_from(whole(first)).unwrap_or(0) % turns.len().max(1);
            let mut raise = |(tangent, turn): (&mut f64, &(f64, f64))| {
                *tangent = tangent.max(sector.curve.tangent(*turn));
            };
            let until = (skip + samples).min(turns.len());
            let wrapped = samples - (until - skip);
            tangents.iter_mut().zip(&turns).take(until).skip(skip).for_each(&mut raise);
            tangents.iter_mut().zip(&turns).take(wrapped).for_each(&mut raise);
        }
        tangents.into_iter().map(f64::atan).collect()
    }

    /// The highest point of the horizon clockwise from one azimuth to another (rad): where a view wanted there is worst.
    /// It is found from the edges themselves, not from samples.
    #[must_use]
    pub fn worst_between(&self, from: f64, to: f64) -> Skyline {
        let width = if to - from >= TAU { TAU } else { full_turn(to - from) };
        if width < NARROWEST {
            return self.at(from);
        }
        highest(self.sectors.iter().flat_map(|(sector, obstacle)| {
            // The view in the sector's own count, and once more for a sector that comes round from the other side.
            let start = full_turn(from - sector.from);
            [start, start - TAU].into_iter().filter_map(move |start| {
                let (begin, end) = (start.max(0.0), (start + width).min(sector.width));
                let seen = end - begin >= NARROWEST;
                seen.then(|| sector.highest(begin, end)).map(|(azimuth, altitude)| (azimuth, altitude, *obstacle))
            })
        }))
    }
}

fn highest(points: impl Iterator<Item = (f64, f64, Option<usize>)>) -> Skyline {
    points
        .map(|(azimuth, altitude, obstacle)| Skyline { azimuth, altitude, obstacle })
        .reduce(|highest, next| if next.altitude > highest.altitude { next } else { highest })
        // The open horizon covers every azimuth, so there is always a point.
        .unwrap_or(Skyline { azimuth: 0.0, altitude: 0.0, obstacle: None })
}

/// A float that holds a whole number of samples.
#[expect(clippy::cast_possible_truncation, reason = "a count of samples, far below 2^53")]
fn whole(count: f64) -> i64 {
    count as i64
}
