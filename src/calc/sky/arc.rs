//! How long a star stays above one altitude all round.
//!
//! In: altitude, declination, latitude in rad. Out: a [`DailyArc`]; times in s.
//! It must not know a horizon that changes with azimuth: that is `visible`.

use std::f64::consts::{PI, TAU};

use crate::calc::FormulaError;
use crate::calc::check::within;

/// Length of a sidereal day in seconds of the clock: 86 400 / 1.002 737 909 35.
///
/// Source: Explanatory Supplement to the Astronomical Almanac, ratio of mean solar to sidereal time.
pub const SIDEREAL_DAY: f64 = 86_400.0 / 1.002_737_909_35;

/// The part of a star's daily turn that lies above an altitude.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum DailyArc {
    /// It never rises so high.
    Never,
    /// It never sinks so low.
    Always,
    /// It is above between this hour angle before and after culmination, rad.
    Half(f64),
}

impl DailyArc {
    /// The whole arc as an angle of the sky's turning, rad: a full turn for a star that is always above.
    #[must_use]
    pub fn angle(self) -> f64 {
        match self {
            Self::Never => 0.0,
            Self::Always => TAU,
            Self::Half(hour_angle) => 2.0 * hour_angle,
        }
    }
}

/// When a star is above `altitude`: `cos H = (sin a − sin φ sin δ)/(cos φ cos δ)`; above 1 never, below −1 always.
///
/// # Errors
/// When the declination or latitude is beyond a pole.
///
/// Source: Meeus, Astronomical Algorithms, ch. 15.
pub fn above(altitude: f64, declination: f64, latitude: f64) -> Result<DailyArc, FormulaError> {
    let quarter = PI / 2.0;
    within("the declination", declination, -quarter, quarter, "from -90 to 90 deg")?;
    within("the latitude", latitude, -quarter, quarter, "from -90 to 90 deg")?;
    let level = altitude.sin() - latitude.sin() * declination.sin();
    let swing = latitude.cos() * declination.cos();
    // At a pole of the earth or the sky nothing rises or sets.
    if level.abs() >= swing {
        return Ok(if level > 0.0 { DailyArc::Never } else { DailyArc::Always });
    }
    Ok(DailyArc::Half((level / swing).acos()))
}

/// Sidereal hours in an angle (rad) of the sky's turning.
#[must_use]
pub fn sidereal_hours(angle: f64) -> f64 {
    angle * 12.0 / PI
}

/// Seconds of the clock in which the sky turns by an angle (rad).
#[must_use]
pub fn clock_time(angle: f64) -> f64 {
    angle / TAU * SIDEREAL_DAY
}
