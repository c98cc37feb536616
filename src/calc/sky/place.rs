//! Where a star stands in the sky of a place.
//!
//! In: hour angle, declination, latitude in rad. Out: azimuth and altitude in rad, and back.
//! It must not know refraction or anything in the way.

use crate::calc::FormulaError;
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// An angle this little beyond a pole is at it, rad: 90 deg in another unit.
const AT_THE_POLE: f64 = 1e-9;

/// A direction in the sky of a place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Horizontal {
    /// From north over east, rad, from nothing to less than a full turn. (Some books count from south.)
    pub azimuth: f64,
    /// Above the level, rad.
    pub altitude: f64,
}

/// Direction towards a star as components east, north, up.
///
/// Source: spherical trigonometry; the convention is that of the IAU's SOFA routine for hour angle and declination.
#[must_use]
pub fn direction(hour_angle: f64, declination: f64, latitude: f64) -> [f64; 3] {
    let (sin_h, cos_h) = hour_angle.sin_cos();
    let (sin_d, cos_d) = declination.sin_cos();
    let (sin_p, cos_p) = latitude.sin_cos();
    [-cos_d * sin_h, sin_d * cos_p - cos_d * cos_h * sin_p, sin_d * sin_p + cos_d * cos_h * cos_p]
}

/// Azimuth and altitude of a star at `hour_angle` (rad, west positive), `declination` and `latitude` (rad, north
/// positive). `sin a = sin φ sin δ + cos φ cos δ cos H`; the azimuth by both its sine and cosine, so that stars
/// below the pole come out in the north.
///
/// Source: Meeus, Astronomical Algorithms, ch. 13 (there the azimuth counts from south); SOFA `iauHd2ae`.
#[must_use]
pub fn horizontal(hour_angle: f64, declination: f64, latitude: f64) -> Horizontal {
    let [east, north, up] = direction(hour_angle, declination, latitude);
    Horizontal { azimuth: full_turn(east.atan2(north)), altitude: up.atan2(east.hypot(north)) }
}

/// The way of a star over a day and night in so many steps, where it is above the level. It begins due north if the star is
/// ever there, else due south, so that its azimuths run on without a leap.
///
/// Source: that of [`horizontal`].
#[must_use]
pub fn daily_way(declination: f64, latitude: f64, steps: u32) -> Vec<Horizontal> {
    let start = if declination > latitude { 0.0 } else { -PI };
    let turns = (0..=steps).map(|step| start + f64::from(step) / f64::from(steps) * TAU);
    turns.map(|turn| horizontal(turn, declination, latitude)).filter(|place| place.altitude >= 0.0).collect()
}

/// Hour angle and declination (rad) of a direction in the sky: [`horizontal`] turned round.
///
/// Source: Meeus, Astronomical Algorithms, ch. 13; SOFA `iauAe2hd`.
#[must_use]
pub fn hour_angle_and_declination(place: Horizontal, latitude: f64) -> (f64, f64) {
    let (sin_z, cos_z) = place.azimuth.sin_cos();
    let (sin_a, cos_a) = place.altitude.sin_cos();
    let (sin_p, cos_p) = latitude.sin_cos();
    let x = sin_a * cos_p - cos_a * cos_z * sin_p;
    let y = -cos_a * sin_z;
    let z = cos_a * cos_z * cos_p + sin_a * sin_p;
    (y.atan2(x), z.atan2(x.hypot(y)))
}

/// The celestial pole above the horizon: as high as the latitude, due north in the north and due south in the south.
///
/// Source: definition of latitude.
#[must_use]
pub fn pole(latitude: f64) -> Horizontal {
    Horizontal { azimuth: if latitude < 0.0 { PI } else { 0.0 }, altitude: latitude.abs() }
}

/// The azimuth (rad, from north over east) of a point of the compass, counted in eighths of a turn.
///
/// Source: definition.
#[must_use]
pub fn point_of_compass(eighths: u8) -> f64 {
    TAU / 8.0 * f64::from(eighths)
}

/// An angle (rad) from one pole to the other: a latitude, a declination.
///
/// # Errors
/// If it is beyond a pole.
pub fn from_pole_to_pole(what: &str, angle: f64) -> Result<f64, FormulaError> {
    if angle.abs() <= FRAC_PI_2 + AT_THE_POLE { Ok(angle) } else { Err(FormulaError::domain(what, "from -90 to 90 deg")) }
}

/// An angle (rad) from nothing to less than a full turn.
#[must_use]
pub fn full_turn(angle: f64) -> f64 {
    let turned = angle.rem_euclid(TAU);
    // A tiny negative angle comes out of the remainder as a full turn itself.
    if turned >= TAU { 0.0 } else { turned }
}
