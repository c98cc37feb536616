//! ASCE 7-16 Figure 27.3-1: pressure coefficients of walls and roofs of closed buildings.
//!
//! In: pitch (rad), mean height to length h/L, area (m²). Out: Cp, towards the surface positive,
//! to be multiplied by `q_h` and the gust-effect factor.
//! It must not know where a zone lies on a roof.

use crate::calc::wind::table::{by_sign, degrees, interpolate};

/// Cp of the windward wall, for use with `q_z`.
pub const WINDWARD_WALL: f64 = 0.8;

/// The other value of Cp that a roof has to stand when the wind runs along it: nearly nothing.
pub const ALONG_ALTERNATIVE: f64 = -0.18;

/// Pitch below which the wind makes no difference between slopes: 10 degrees.
pub const LOW_SLOPE_DEGREES: f64 = 10.0;

/// Cp of the leeward wall by L/B, the building's length along the wind to its breadth.
#[must_use]
pub fn leeward_wall(length_to_breadth: f64) -> f64 {
    interpolate([1.0, 2.0, 4.0], [-0.5, -0.3, -0.2], length_to_breadth)
}

/// Factor on the value -1.3 by the area (m²) over which it acts. Footnote b: 1.0 up to 100 ft²,
/// 0.9 at 250 ft², 0.8 from 1000 ft².
#[must_use]
pub fn area_reduction(area: f64) -> f64 {
    const SQUARE_FOOT: f64 = 0.092_903_04;
    interpolate([100.0, 250.0, 1000.0], [1.0, 0.9, 0.8], area / SQUARE_FOOT)
}

/// Whether the roof takes the values by distance from the windward edge whichever way the wind
/// blows: pitch (rad) below 10 degrees.
#[must_use]
pub fn is_low_slope(pitch: f64) -> bool {
    degrees(pitch) < LOW_SLOPE_DEGREES
}

/// A strip of roof across the wind, and its Cp.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strip {
    /// What the figure calls it.
    pub name: &'static str,
    /// Where it begins, in mean roof heights from the windward edge.
    pub from: f64,
    /// Where it ends, in mean roof heights from the windward edge.
    pub to: f64,
    /// Cp, the negative of its two values; the other is [`ALONG_ALTERNATIVE`].
    pub coefficient: f64,
}

/// Roof strips for wind along the ridge (any pitch), or any wind on a pitch below 10 degrees.
///
/// `height_to_length` is h/L with L along the wind; between 0.5 and 1.0 each strip is interpolated
/// (note 2). `first_area` is the plan area of the strip from the edge to h/2, m², for footnote b.
#[must_use]
pub fn strips(height_to_length: f64, first_area: f64) -> [Strip; 4] {
    let between = |low: f64, tall: f64| interpolate([0.5, 1.0], [low, tall], height_to_length);
    let strip = |name, from, to, coefficient| Strip { name, from, to, coefficient };
    [
        strip("0 to h/2", 0.0, 0.5, between(-0.9, -1.3 * area_reduction(first_area))),
        strip("h/2 to h", 0.5, 1.0, between(-0.9, -0.7)),
        strip("h to 2h", 1.0, 2.0, between(-0.5, -0.7)),
        strip("beyond 2h", 2.0, f64::INFINITY, between(-0.3, -0.7)),
    ]
}

/// The two values of Cp of a windward slope, both of which the roof has to stand: first the
/// suction (never above zero), then the alternative.
///
/// Pitch (rad) 10 to 60 degrees; `height_to_length` is h/L; `area` is the slope's plan area, m²
/// (footnote b). Interpolated in pitch, then in h/L between values of one sign only, 0.0 standing
/// in where a row has none (notes 2 and 3).
#[must_use]
pub fn windward_slope(pitch: f64, height_to_length: f64, area: f64) -> [f64; 2] {
    let at = degrees(pitch);
    let steep = -1.3 * area_reduction(area);
    let suction = [
        [-0.7, -0.5, -0.3, -0.2, -0.2, 0.0, 0.0, 0.0],
        [-0.9, -0.7, -0.4, -0.3, -0.2, -0.2, 0.0, 0.0],
        [steep, -1.0, -0.7, -0.5, -0.3, -0.2, 0.0, 0.0],
    ]
    .map(|row| by_pitch(row, at));
    let alternative = [
        [-0.18, 0.0, 0.2, 0.3, 0.3, 0.4, 0.4, 0.6],
        [-0.18, -0.18, 0.0, 0.2, 0.2, 0.3, 0.4, 0.6],
        [-0.18, -0.18, -0.18, 0.0, 0.2, 0.2, 0.3, 0.6],
    ]
    .map(|row| by_pitch(row, at));
    let pushing = by_height(alternative.map(|value| by_sign(value).0), height_to_length);
    let pulling = by_height(alternative.map(|value| by_sign(value).1), height_to_length);
    let other = if pushing > 0.0 { pushing } else { pulling };
    [by_height(suction, height_to_length), other]
}

/// Cp of a leeward slope; arguments as in [`windward_slope`].
#[must_use]
pub fn leeward_slope(pitch: f64, height_to_length: f64) -> f64 {
    let at = degrees(pitch);
    let rows = [[-0.3, -0.5, -0.6], [-0.5, -0.5, -0.6], [-0.7, -0.6, -0.6]];
    by_height(rows.map(|row| interpolate([10.0, 15.0, 20.0], row, at)), height_to_length)
}

fn by_pitch(row: [f64; 8], at: f64) -> f64 {
    interpolate([10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 45.0, 60.0], row, at)
}

fn by_height(column: [f64; 3], height_to_length: f64) -> f64 {
    interpolate([0.25, 0.5, 1.0], column, height_to_length)
}
