//! Wood columns by the NDS, alone and bent.
//!
//! In: section, unbraced lengths, adjusted design values. Out: CP and the ratios of §3.9.
//! It must not know grades. Source: NDS 2018 §3.6, §3.7, §3.9, §15.3.

use crate::calc::FormulaError;
use crate::calc::check::{not_negative, positive};

/// What the column is made of: the constant c of the column formula. Source: NDS 2018 §3.7.1.5.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Sawn lumber.
    Sawn,
    /// Round timber pole.
    Pole,
    /// Glulam or structural composite lumber.
    Glued,
}

impl Kind {
    fn constant(self) -> f64 {
        match self {
            Self::Sawn => 0.8,
            Self::Pole => 0.85,
            Self::Glued => 0.9,
        }
    }
}

/// Buckling-length factor Ke for common ends (recommended values of the table).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ends {
    /// Both fixed.
    FixedFixed,
    /// One fixed, one pinned.
    FixedPinned,
    /// One fixed, one that moves sideways but does not turn.
    FixedGuided,
    /// Both pinned.
    PinnedPinned,
    /// One fixed, one free: a post that nothing holds at the top.
    FixedFree,
    /// One pinned, one that moves sideways but does not turn.
    PinnedGuided,
}

/// Buckling-length factor Ke. Source: NDS 2018 Appendix G, Table G1 (recommended values).
#[must_use]
pub fn buckling_length_factor(ends: Ends) -> f64 {
    match ends {
        Ends::FixedFixed => 0.65,
        Ends::FixedPinned => 0.80,
        Ends::FixedGuided => 1.2,
        Ends::PinnedPinned => 1.0,
        Ends::FixedFree => 2.10,
        Ends::PinnedGuided => 2.4,
    }
}

/// The slenderness le/d above which no column is allowed, but while building. Source: NDS 2018 §3.7.1.4.
pub const MOST_SLENDER: f64 = 50.0;

/// Kf of a built-up column that is nailed, where its laminations buckle about each other. Source: NDS 2018 §15.3.2.
pub const NAILED: f64 = 0.6;

/// Critical buckling value (Pa) `FcE = 0.822·E′min/(le/d)²` for an effective length and a depth in the same plane (m).
///
/// # Errors
/// Where le/d exceeds 50 (75 while building). Source: NDS 2018 §3.7.1.4, §3.7.1.5.
pub fn critical_stress(elasticity_min: f64, effective_length: f64, depth: f64) -> Result<f64, FormulaError> {
    let slenderness = not_negative("the column's effective length", effective_length)? / positive("the column's depth", depth)?;
    if slenderness > MOST_SLENDER {
        return Err(FormulaError::domain("the column's slenderness le/d", "at most 50: make it thicker or brace it"));
    }
    Ok(if slenderness > 0.0 { 0.822 * elasticity_min / (slenderness * slenderness) } else { f64::INFINITY })
}

/// Column stability factor CP for FcE and Fc* (Pa): `CP = a − √(a² − (FcE/Fc*)/c)`, `a = (1 + FcE/Fc*)/2c`.
/// `built_up` Kf multiplies it: 1 for one piece, 0.6 nailed or 0.75 bolted where the laminations buckle about each other
/// (§15.3.2). Source: NDS 2018 eq. 3.7-1, 15.3-1.
///
/// # Errors
/// Where a stress is not more than zero.
pub fn stability_factor(kind: Kind, critical: f64, compression: f64, built_up: f64) -> Result<f64, FormulaError> {
    if critical == f64::INFINITY {
        return Ok(built_up);
    }
    let ratio = positive("FcE", critical)? / positive("Fc*", compression)?;
    let c = kind.constant();
    let a = (1.0 + ratio) / (2.0 * c);
    Ok(built_up * (a - (a * a - ratio / c).sqrt()))
}

/// Stresses in a column that is compressed and bent, and what it can take (all Pa, positive).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BentColumn {
    /// Compression stress fc.
    pub compression: f64,
    /// Bending stress about the strong axis fb1 (load on the narrow face).
    pub bending_strong: f64,
    /// Bending stress about the weak axis fb2 (load on the wide face).
    pub bending_weak: f64,
    /// F′c with CP.
    pub compression_value: f64,
    /// F′b1 with CL.
    pub bending_value_strong: f64,
    /// F′b2 with Cfu.
    pub bending_value_weak: f64,
    /// FcE1, buckling in the plane of strong-axis bending.
    pub critical_strong: f64,
    /// FcE2, buckling in the plane of weak-axis bending.
    pub critical_weak: f64,
    /// FbE, tipping sideways.
    pub critical_tipping: f64,
}

/// Ratio of a bent column, the larger of eq. 3.9-3 and 3.9-4; more than 1 is too much.
///
/// # Errors
/// Where a stress reaches its critical value: the column buckles. Source: NDS 2018 §3.9.2.
pub fn bent_column_ratio(c: &BentColumn) -> Result<f64, FormulaError> {
    let buckles = (c.bending_strong > 0.0 && c.compression >= c.critical_strong)
        || (c.bending_weak > 0.0 && c.compression >= c.critical_weak)
        || c.bending_strong >= c.critical_tipping;
    if buckles {
        return Err(FormulaError::domain("the column's stress", "less than the stress at which it buckles"));
    }
    let strong = match c.bending_strong > 0.0 {
        true => c.bending_strong / (c.bending_value_strong * (1.0 - c.compression / c.critical_strong)),
        false => 0.0,
    };
    let tipping = c.bending_strong / c.critical_tipping;
    let left = 1.0 - c.compression / c.critical_weak - tipping * tipping;
    let weak = if c.bending_weak > 0.0 { c.bending_weak / (c.bending_value_weak * left) } else { 0.0 };
    if weak < 0.0 {
        return Err(FormulaError::domain("the column's stress", "less than the stress at which it buckles"));
    }
    let sum = (c.compression / c.compression_value).powi(2) + strong + weak;
    let alone = if c.bending_weak > 0.0 { c.compression / c.critical_weak + tipping * tipping } else { 0.0 };
    Ok(sum.max(alone))
}
