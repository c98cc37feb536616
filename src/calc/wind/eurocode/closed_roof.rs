//! EN 1991-1-4 7.2: external pressure coefficients of walls and roofs, Tables 7.1 to 7.4.
//!
//! In: pitch (rad), h/d, parapet height. Out: cpe,10 and cpe,1 zone by zone, towards the surface
//! positive.
//! It must not know how large a zone is on a given roof.

use crate::calc::wind::table::{degrees, interpolate};

/// Pitch below which a roof counts as flat: 5 degrees. EN 1991-1-4 7.2.3(1).
pub const FLAT_BELOW_DEGREES: f64 = 5.0;

/// External pressure coefficient of a zone for a large and for a small loaded area.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cpe {
    /// cpe,10, for 10 m² and more: the structure as a whole.
    pub ten: f64,
    /// cpe,1, for 1 m² and less: a sheet, a screw.
    pub one: f64,
}

impl Cpe {
    /// cpe for a loaded `area`, m²: cpe,1 - (cpe,1 - cpe,10) log10 A between 1 and 10 m².
    /// EN 1991-1-4 7.2.1(1), Figure 7.2.
    #[must_use]
    pub fn for_area(self, area: f64) -> f64 {
        self.one - (self.one - self.ten) * area.clamp(1.0, 10.0).log10()
    }
}

const fn cpe(ten: f64, one: f64) -> Cpe {
    Cpe { ten, one }
}

const fn both(value: f64) -> Cpe {
    Cpe { ten: value, one: value }
}

/// Whether the roof counts as flat.
#[must_use]
pub fn is_flat(pitch: f64) -> bool {
    degrees(pitch) < FLAT_BELOW_DEGREES
}

/// cpe of the windward wall, zone D, by `height_to_depth` h/d. EN 1991-1-4 Table 7.1.
#[must_use]
pub fn windward_wall(height_to_depth: f64) -> Cpe {
    cpe(interpolate([0.25, 1.0], [0.7, 0.8], height_to_depth), 1.0)
}

/// cpe of the leeward wall, zone E, by `height_to_depth` h/d. EN 1991-1-4 Table 7.1.
#[must_use]
pub fn leeward_wall(height_to_depth: f64) -> Cpe {
    both(interpolate([0.25, 1.0, 5.0], [-0.3, -0.5, -0.7], height_to_depth))
}

/// Zones of a face or a roof in the order in which the wind meets them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EdgeZones {
    /// F: the windward corners (on a mono-pitch roof with the wind across: the high one).
    pub corner: Cpe,
    /// F low: the corner at the low eaves of a mono-pitch roof with the wind across it.
    pub low_corner: Cpe,
    /// G: the windward edge between the corners.
    pub edge: Cpe,
    /// H: behind F and G.
    pub middle: Cpe,
    /// I: the rest, where the figure has it.
    pub rest: Cpe,
}

/// Flat roof, Table 7.2: `parapet` is hp/h, 0 for sharp eaves. The two results differ in zone I,
/// which has to stand both.
#[must_use]
pub fn flat(parapet: f64) -> [EdgeZones; 2] {
    let by_parapet = |row: [f64; 4]| interpolate([0.0, 0.025, 0.05, 0.10], row, parapet);
    let corner = cpe(by_parapet([-1.8, -1.6, -1.4, -1.2]), by_parapet([-2.5, -2.2, -2.0, -1.8]));
    let edge = cpe(by_parapet([-1.2, -1.1, -0.9, -0.8]), by_parapet([-2.0, -1.8, -1.6, -1.4]));
    [-0.2, 0.2].map(|rest| EdgeZones { corner, low_corner: corner, edge, middle: cpe(-0.7, -1.2), rest: both(rest) })
}

/// Windward slope of a gable roof, or mono-pitch roof with the low eaves to the wind (θ = 0):
/// first all suction, then all pressure; the two are not mixed. Tables 7.3a and 7.4a.
#[must_use]
pub fn windward_slope(pitch: f64) -> [EdgeZones; 2] {
    let at = degrees(pitch);
    let f10 = by_pitch([-1.7, -0.9, -0.5, 0.0, 0.0, 0.0], at);
    let f1 = by_pitch([-2.5, -2.0, -1.5, 0.0, 0.0, 0.0], at);
    let g10 = by_pitch([-1.2, -0.8, -0.5, 0.0, 0.0, 0.0], at);
    let g1 = by_pitch([-2.0, -1.5, -1.5, 0.0, 0.0, 0.0], at);
    let h10 = by_pitch([-0.6, -0.3, -0.2, 0.0, 0.0, 0.0], at);
    let h1 = by_pitch([-1.2, -0.3, -0.2, 0.0, 0.0, 0.0], at);
    let fg = both(by_pitch([0.0, 0.2, 0.7, 0.7, 0.7, 0.8], at));
    let h = both(by_pitch([0.0, 0.2, 0.4, 0.6, 0.7, 0.8], at));
    let zones = |corner, edge, middle| EdgeZones { corner, low_corner: corner, edge, middle, rest: middle };
    [zones(cpe(f10, f1), cpe(g10, g1), cpe(h10, h1)), zones(fg, fg, h)]
}

/// Mono-pitch roof with the high eaves to the wind (θ = 180), Table 7.3a.
#[must_use]
pub fn high_eaves_first(pitch: f64) -> EdgeZones {
    let at = degrees(pitch);
    let zone = |ten, one| cpe(by_pitch(ten, at), by_pitch(one, at));
    let corner = zone([-2.3, -2.5, -1.1, -0.6, -0.5, -0.5], [-2.5, -2.8, -2.3, -1.3, -1.0, -1.0]);
    let middle = zone([-0.8, -0.9, -0.8, -0.7, -0.5, -0.5], [-1.2, -1.2, -0.8, -0.7, -0.5, -0.5]);
    EdgeZones {
        corner,
        low_corner: corner,
        edge: zone([-1.3, -1.3, -0.8, -0.5, -0.5, -0.5], [-2.0, -2.0, -1.5, -0.5, -0.5, -0.5]),
        middle,
        rest: middle,
    }
}

/// Mono-pitch roof with the wind across its fall (θ = 90), Table 7.3b.
#[must_use]
pub fn across_fall(pitch: f64) -> EdgeZones {
    let at = degrees(pitch);
    let zone = |ten, one| cpe(by_pitch(ten, at), by_pitch(one, at));
    EdgeZones {
        corner: zone([-2.1, -2.4, -2.1, -1.5, -1.2, -1.2], [-2.6, -2.9, -2.9, -2.4, -2.0, -2.0]),
        low_corner: zone([-2.1, -1.6, -1.3, -1.3, -1.2, -1.2], [-2.4, -2.4, -2.0, -2.0, -2.0, -2.0]),
        edge: zone([-1.8, -1.9, -1.5, -1.4, -1.2, -1.2], [-2.0, -2.5, -2.0, -2.0, -2.0, -2.0]),
        middle: zone([-0.6, -0.8, -1.0, -1.0, -1.0, -1.0], [-1.2, -1.2, -1.3, -1.3, -1.3, -1.3]),
        rest: zone([-0.5, -0.7, -0.8, -0.9, -0.7, -0.5], [-0.5, -1.2, -1.2, -1.2, -1.2, -0.5]),
    }
}

/// Gable roof with the wind along its ridge (θ = 90), Table 7.4b.
#[must_use]
pub fn along_ridge(pitch: f64) -> EdgeZones {
    let at = degrees(pitch);
    let zone = |ten, one| cpe(by_pitch(ten, at), by_pitch(one, at));
    let corner = zone([-1.6, -1.3, -1.1, -1.1, -1.1, -1.1], [-2.2, -2.0, -1.5, -1.5, -1.5, -1.5]);
    EdgeZones {
        corner,
        low_corner: corner,
        edge: zone([-1.3, -1.3, -1.4, -1.4, -1.2, -1.2], [-2.0, -2.0, -2.0, -2.0, -2.0, -2.0]),
        middle: zone([-0.7, -0.6, -0.8, -0.9, -0.8, -0.8], [-1.2, -1.2, -1.2, -1.2, -1.0, -1.0]),
        rest: both(by_pitch([-0.6, -0.5, -0.5, -0.5, -0.5, -0.5], at)),
    }
}

/// Zones of the leeward slope of a gable roof.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LeewardSlope {
    /// J: along the ridge.
    pub ridge: Cpe,
    /// I: the rest.
    pub rest: Cpe,
}

/// Leeward slope of a gable roof (θ = 0), Table 7.4a: the smallest values, then the largest.
/// From 60 degrees on the table has one value, which is then both.
#[must_use]
pub fn leeward_slope(pitch: f64) -> [LeewardSlope; 2] {
    let at = degrees(pitch);
    let least = LeewardSlope {
        ridge: cpe(by_pitch([-0.6, -1.0, -0.5, -0.3, -0.3, -0.3], at), by_pitch([-0.6, -1.5, -0.5, -0.3, -0.3, -0.3], at)),
        rest: both(by_pitch([-0.6, -0.4, -0.4, -0.2, -0.2, -0.2], at)),
    };
    let greatest = LeewardSlope {
        ridge: both(by_pitch([0.2, 0.0, 0.0, 0.0, -0.3, -0.3], at)),
        rest: both(by_pitch([-0.6, 0.0, 0.0, 0.0, -0.2, -0.2], at)),
    };
    [least, greatest]
}

fn by_pitch(row: [f64; 6], at: f64) -> f64 {
    interpolate([5.0, 15.0, 30.0, 45.0, 60.0, 75.0], row, at)
}
