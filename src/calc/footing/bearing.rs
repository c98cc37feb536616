//! Pressure under a footing, on centre and off, and what keeps it from turning over or sliding.
//!
//! In: forces at the underside of the footing, plan sizes. Out: pressures, safety factors.
//! It must not know what the soil allows. Rigid footing, no tension between footing and soil (statics).

use std::f64::consts::PI;

use crate::calc::FormulaError;
use crate::calc::check::{not_negative, positive};

/// Plan of a footing, m.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Plan {
    /// Side along the moment's direction, and side across.
    Rectangle {
        /// Side along which the pressure varies.
        along: f64,
        /// Other side.
        across: f64,
    },
    /// A round pier.
    Round {
        /// Diameter.
        diameter: f64,
    },
}

impl Plan {
    /// Area, m².
    #[must_use]
    pub fn area(self) -> f64 {
        match self {
            Self::Rectangle { along, across } => along * across,
            Self::Round { diameter } => PI / 4.0 * diameter * diameter,
        }
    }

    /// The rectangle that stands for it: a round one counts as the square of equal area (common practice).
    #[must_use]
    pub fn rectangle(self) -> (f64, f64) {
        match self {
            Self::Rectangle { along, across } => (along, across),
            Self::Round { diameter } => {
                let side = diameter * PI.sqrt() / 2.0;
                (side, side)
            }
        }
    }
}

/// Pressure under a footing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pressure {
    /// Largest pressure, Pa.
    pub largest: f64,
    /// Smallest pressure, Pa; zero where part of the footing lifts off.
    pub smallest: f64,
    /// Eccentricity M/N, m.
    pub eccentricity: f64,
    /// Length of the footing that still presses, m.
    pub contact: f64,
}

/// Pressure under a footing for a vertical force (N, down) and a moment (N·m) about its middle:
/// within the middle third `N/A·(1 ± 6e/B)`, beyond it `2N/(3L(B/2 − e))` on three times the distance to the edge.
///
/// # Errors
/// Where there is no downward force, or it passes outside the footing: it turns over. Source: statics.
pub fn pressure(plan: Plan, force: f64, moment: f64) -> Result<Pressure, FormulaError> {
    let (b, l) = plan.rectangle();
    positive("the footing's size", b.min(l))?;
    let n = positive("the downward force on the soil", force)?;
    let e = moment.abs() / n;
    if e >= b / 2.0 {
        return Err(FormulaError::Unstable { what: "the footing turns over: the force passes outside it".to_owned() });
    }
    let mean = n / (b * l);
    Ok(if e <= b / 6.0 {
        let part = 6.0 * e / b;
        Pressure { largest: mean * (1.0 + part), smallest: mean * (1.0 - part), eccentricity: e, contact: b }
    } else {
        let contact = 3.0 * (b / 2.0 - e);
        Pressure { largest: 2.0 * n / (contact * l), smallest: 0.0, eccentricity: e, contact }
    })
}

/// Largest pressure (Pa) under moments about both axes while the force stays within the kern: `N/A·(1 + 6ex/B + 6ey/L)`.
///
/// # Errors
/// Beyond the kern (6ex/B + 6ey/L > 1), where part lifts off: use [`effective_pressure`]. Source: statics.
pub fn pressure_two_ways(along: f64, across: f64, force: f64, moment_along: f64, moment_across: f64) -> Result<f64, FormulaError> {
    let n = positive("the downward force on the soil", force)?;
    let (b, l) = (positive("the footing's size", along)?, positive("the footing's size", across)?);
    let part = 6.0 * moment_along.abs() / n / b + 6.0 * moment_across.abs() / n / l;
    if part > 1.0 + 1e-12 {
        return Err(FormulaError::domain("the force on the footing", "inside its kern"));
    }
    Ok(n / (b * l) * (1.0 + part))
}

/// Even pressure (Pa) on the part of the footing that is centred under the force: `N/((B − 2ex)(L − 2ey))`.
/// Source: EN 1997-1 Annex D.4 (effective area, after Meyerhof).
///
/// # Errors
/// Where the force passes outside the footing.
pub fn effective_pressure(along: f64, across: f64, force: f64, moment_along: f64, moment_across: f64) -> Result<f64, FormulaError> {
    let n = positive("the downward force on the soil", force)?;
    let b = along - 2.0 * moment_along.abs() / n;
    let l = across - 2.0 * moment_across.abs() / n;
    if b <= 0.0 || l <= 0.0 {
        return Err(FormulaError::Unstable { what: "the footing turns over: the force passes outside it".to_owned() });
    }
    Ok(n / (b * l))
}

/// Safety against turning over its edge: holding moment N·B/2 over the overturning moment. 1.5 is what building codes ask
/// (IBC 1807.2.3 for walls; common practice for footings) where no 0.6·D combination is used.
///
/// # Errors
/// Where a number is out of range.
pub fn overturning_safety(along: f64, force: f64, moment: f64) -> Result<f64, FormulaError> {
    let holding = not_negative("the downward force", force)? * positive("the footing's size", along)? / 2.0;
    Ok(if moment == 0.0 { f64::INFINITY } else { holding / moment.abs() })
}

/// What keeps a footing from sliding.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Sliding {
    /// Sand, gravel, rock: friction coefficient on the dead load.
    Friction(f64),
    /// Clay and silt: cohesion (Pa) on the area, at most half the dead load.
    Cohesion(f64),
}

/// Resistance (N) to sliding, from dead load (N) and contact area (m²). Source: IBC 2018 §1806.3.2, Table 1806.2.
#[must_use]
pub fn sliding_resistance(sliding: Sliding, dead: f64, area: f64) -> f64 {
    match sliding {
        Sliding::Friction(coefficient) => coefficient * dead.max(0.0),
        Sliding::Cohesion(cohesion) => (cohesion * area).min(0.5 * dead.max(0.0)),
    }
}
