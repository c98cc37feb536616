//! Snow load by ASCE 7-16 chapter 7.
//!
//! In: ground snow load, exposure, warmth and importance of the building, slope and surface of the roof.
//! Out: snow loads on plan, snow density, drifts. It must not know the site's ground snow load map.

use crate::calc::FormulaError;
use crate::calc::inch_pound::{FOOT, PCF, PSF};

/// Terrain roughness, ASCE 7-16 §26.7.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Terrain {
    /// Towns, suburbs, woods.
    B,
    /// Open country.
    C,
    /// Flat, unobstructed, by the water.
    D,
    /// Above the tree line in windswept mountains.
    AboveTreeLine,
}

/// How the roof itself stands to the wind, ASCE 7-16 Table 7.3-1 note a.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Exposure {
    /// No shelter on any side.
    Fully,
    /// All others.
    Partially,
    /// Tight in among conifers.
    Sheltered,
}

/// Exposure factor Ce. Source: ASCE 7-16 Table 7.3-1.
///
/// # Errors
/// For a sheltered roof above the tree line, which the table does not know.
pub fn exposure_factor(terrain: Terrain, exposure: Exposure) -> Result<f64, FormulaError> {
    Ok(match (terrain, exposure) {
        (Terrain::AboveTreeLine, Exposure::Fully) => 0.7,
        (Terrain::D, Exposure::Fully) | (Terrain::AboveTreeLine, Exposure::Partially) => 0.8,
        (Terrain::B | Terrain::C, Exposure::Fully) | (Terrain::D, Exposure::Partially) => 0.9,
        (Terrain::B | Terrain::C, Exposure::Partially) | (Terrain::D, Exposure::Sheltered) => 1.0,
        (Terrain::C, Exposure::Sheltered) => 1.1,
        (Terrain::B, Exposure::Sheltered) => 1.2,
        (Terrain::AboveTreeLine, Exposure::Sheltered) => {
            return Err(FormulaError::domain("the roof's exposure above the tree line", "fully or partially exposed"));
        }
    })
}

/// How warm the building is kept in winter, ASCE 7-16 Table 7.3-2.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Warmth {
    /// Heated.
    Heated,
    /// Kept just above freezing, or a ventilated roof over insulation.
    JustAboveFreezing,
    /// Unheated, or open to the air below.
    Unheated,
    /// Kept below freezing.
    Freezer,
}

impl Warmth {
    /// Thermal factor Ct. Source: ASCE 7-16 Table 7.3-2.
    #[must_use]
    pub fn factor(self) -> f64 {
        match self {
            Self::Heated => 1.0,
            Self::JustAboveFreezing => 1.1,
            Self::Unheated => 1.2,
            Self::Freezer => 1.3,
        }
    }
}

/// Importance factor for snow, Is, for risk category 1 to 4. Source: ASCE 7-16 Table 1.5-2.
///
/// # Errors
/// For any other category.
pub fn importance_factor(risk_category: u8) -> Result<f64, FormulaError> {
    match risk_category {
        1 => Ok(0.8),
        2 => Ok(1.0),
        3 => Ok(1.1),
        4 => Ok(1.2),
        _ => Err(FormulaError::domain("the risk category", "1, 2, 3 or 4")),
    }
}

/// Snow load on a flat roof (Pa): `pf = 0.7·Ce·Ct·Is·pg`, ground snow `pg` in Pa. Source: ASCE 7-16 eq. 7.3-1.
#[must_use]
pub fn flat_roof(ground: f64, exposure: f64, thermal: f64, importance: f64) -> f64 {
    0.7 * exposure * thermal * importance * ground
}

/// The least snow load (Pa) on a low-slope roof: Is·pg up to 20 psf of ground snow, Is·20 psf above. It is a load case
/// of its own, not with drifts or unbalanced snow. Source: ASCE 7-16 §7.3.4.
#[must_use]
pub fn low_slope_minimum(ground: f64, importance: f64) -> f64 {
    importance * ground.min(20.0 * PSF)
}

/// Whether the minimum of §7.3.4 applies: mono-slope, hip and gable roofs of less than 15° (slope in rad).
#[must_use]
pub fn is_low_slope(slope: f64) -> bool {
    slope.to_degrees() < 15.0
}

/// Slope factor Cs for a slope (rad), a thermal factor and a surface. `slippery` needs a surface that lets snow slide,
/// and nothing in its way. Source: ASCE 7-16 §7.4.1–7.4.4, Fig. 7.4-1 (a straight line from the start to 70°).
///
/// # Errors
/// For a slope beyond 0° to 90°.
pub fn slope_factor(slope: f64, thermal: f64, slippery: bool) -> Result<f64, FormulaError> {
    let degrees = slope.to_degrees();
    if !(0.0..=90.0).contains(&degrees) {
        return Err(FormulaError::domain("the roof slope", "between 0° and 90°"));
    }
    let start = match (thermal, slippery) {
        (t, true) if t <= 1.0 => 5.0,
        (t, true) if t < 1.2 => 10.0,
        (_, true) => 15.0,
        (t, false) if t <= 1.0 => 30.0,
        (t, false) if t < 1.2 => 37.5,
        (_, false) => 45.0,
    };
    Ok(((70.0 - degrees) / (70.0 - start)).clamp(0.0, 1.0))
}

/// Snow load on a sloped roof (Pa of plan area): `ps = Cs·pf`. Source: ASCE 7-16 eq. 7.4-1.
#[must_use]
pub fn sloped_roof(flat: f64, slope_factor: f64) -> f64 {
    slope_factor * flat
}

/// Weight of the snow (N/m³) for a ground snow load (Pa): `γ = 0.13·pg + 14 ≤ 30` pcf. Source: ASCE 7-16 eq. 7.7-1.
#[must_use]
pub fn density(ground: f64) -> f64 {
    (0.13 * ground / PSF + 14.0).min(30.0) * PCF
}

/// Rain on snow (Pa), to add to the balanced snow: 5 psf where the ground snow is more than 0 and at most 20 psf and the
/// slope (in degrees) is less than W/50, W being the plan distance from eave to ridge in feet.
/// `slope` in rad, `eave_to_ridge` in m. Source: ASCE 7-16 §7.10.
#[must_use]
pub fn rain_on_snow(ground: f64, slope: f64, eave_to_ridge: f64) -> f64 {
    let little = ground > 0.0 && ground <= 20.0 * PSF;
    if little && slope.to_degrees() < eave_to_ridge / FOOT / 50.0 { 5.0 * PSF } else { 0.0 }
}

/// A drift against a wall or a higher roof.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Drift {
    /// Height of the drift, m.
    pub height: f64,
    /// How far it reaches, m.
    pub width: f64,
    /// Its load at the wall, over the balanced snow, Pa.
    pub load: f64,
}

/// Height (m) of the drift that wind piles up over an upwind length `fetch` (m):
/// `hd = (0.43·∛lu·⁴√(pg + 10) − 1.5)·√Is` in feet and psf, with lu at least 20 ft (the
/// least from memory; it is on the safe side). Source: ASCE 7-16 Fig. 7.6-1.
#[must_use]
pub fn drift_height(fetch: f64, ground: f64, importance: f64) -> f64 {
    let lu = (fetch / FOOT).max(20.0);
    let pg = ground / PSF;
    let feet = (0.43 * lu.cbrt() * (pg + 10.0).powf(0.25) - 1.5) * importance.sqrt();
    feet.max(0.0) * FOOT
}

/// The drift on a lower roof. `upper` and `lower` are the upwind lengths (m) of the roof above (leeward drift) and of the
/// lower roof itself (windward, three quarters of it); `clear` is the height (m) from the top of the balanced snow to the
/// upper roof; `balanced` is the balanced snow load, Pa. No drift where clear/balanced height is less than 0.2.
/// Source: ASCE 7-16 §7.7.1.
///
/// # Errors
/// Where no ground snow is given.
pub fn drift_on_lower_roof(upper: f64, lower: f64, clear: f64, balanced: f64, ground: f64, importance: f64) -> Result<Drift, FormulaError> {
    if ground <= 0.0 {
        return Err(FormulaError::domain("the ground snow load", "more than zero"));
    }
    let density = density(ground);
    let none = Drift { height: 0.0, width: 0.0, load: 0.0 };
    if clear / (balanced / density) < 0.2 {
        return Ok(none);
    }
    let leeward = drift_height(upper, ground, importance);
    let windward = 0.75 * drift_height(lower, ground, importance);
    let height = leeward.max(windward);
    let (height, width) = if height <= clear { (height, 4.0 * height) } else { (clear, (4.0 * height * height / clear).min(8.0 * clear)) };
    Ok(Drift { height, width, load: height * density })
}

/// What is left of a drift at a step of `step` m where the lower roof begins `gap` m beyond the higher one: no higher than
/// (6 h - s)/6, no farther than 6 h - s; nothing from 20 ft or six steps on.
///
/// Source: ASCE 7-16 §7.7.2, from memory.
#[must_use]
pub fn drift_beyond_a_gap(drift: Drift, step: f64, gap: f64, ground: f64) -> Drift {
    if gap <= 0.0 {
        return drift;
    }
    if gap >= 20.0 * FOOT || gap >= 6.0 * step {
        return Drift { height: 0.0, width: 0.0, load: 0.0 };
    }
    let reach = 6.0 * step - gap;
    let height = drift.height.min(reach / 6.0);
    Drift { height, width: (6.0 * height).min(reach), load: height * density(ground) }
}

/// Load (Pa) of snow that slides off a higher roof onto a lower one: 0.4 pf W for each length of eave, spread over 15 ft; with
/// `gap` m between them the part that is thrown no farther. `flat` is pf (Pa), `run` W from eave to ridge (m), `slope` in rad.
///
/// Nothing off a slope up to 1/4 in 12 where it is slippery, up to 2 in 12 where it is not, nor beyond 15 ft or one step.
///
/// Source: ASCE 7-16 §7.9; the slopes and the gap from memory.
#[must_use]
pub fn sliding(flat: f64, run: f64, slope: f64, slippery: bool, step: f64, gap: f64) -> f64 {
    let least = if slippery { 0.25 / 12.0 } else { 2.0 / 12.0 };
    let thrown = 15.0 * FOOT;
    if slope.tan() <= least || gap >= thrown || gap > step {
        return 0.0;
    }
    0.4 * flat * run / thrown
}

/// Unbalanced snow on a gable roof.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unbalanced {
    /// Load on the windward side, Pa.
    pub windward: f64,
    /// Load on the whole leeward side, Pa.
    pub leeward: f64,
    /// Load added on the leeward side next to the ridge, Pa.
    pub ridge: f64,
    /// How far that reaches from the ridge, m.
    pub ridge_width: f64,
}

/// Unbalanced snow on a gable roof of slope 2.38° to 30.2° (rad), `eave_to_ridge` in m; outside that range none.
/// Up to 20 ft from eave to ridge with simply supported rafters the leeward side carries Is·pg and the other nothing;
/// beyond, 0.3·ps windward, ps leeward and a drift hd·γ/√S over 8/3·√S·hd from the ridge (S = run for a rise of one).
/// Source: ASCE 7-16 §7.6.1, Fig. 7.6-2.
#[must_use]
pub fn unbalanced_gable(ground: f64, importance: f64, sloped: f64, slope: f64, eave_to_ridge: f64) -> Option<Unbalanced> {
    if !(2.38..=30.2).contains(&slope.to_degrees()) {
        return None;
    }
    if eave_to_ridge <= 20.0 * FOOT {
        return Some(Unbalanced { windward: 0.0, leeward: importance * ground, ridge: 0.0, ridge_width: 0.0 });
    }
    let run = 1.0 / slope.tan();
    let height = drift_height(eave_to_ridge, ground, importance);
    Some(Unbalanced {
        windward: 0.3 * sloped,
        leeward: sloped,
        ridge: height * density(ground) / run.sqrt(),
        ridge_width: 8.0 / 3.0 * height * run.sqrt(),
    })
}
