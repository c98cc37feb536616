//! Beam stability factor CL of the NDS: a deep beam tips sideways before it breaks.
//!
//! In: section, unbraced length, adjusted values. Out: effective length, slenderness ratio, CL.
//! It must not know the loads' size, only how they are arranged. Source: NDS 2018 §3.3.3.

use super::section::Rectangle;
use crate::calc::FormulaError;
use crate::calc::check::{not_negative, positive};

/// How the loads stand on the unbraced length. Source: NDS 2018 Table 3.3.3.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Loading {
    /// Simple span, uniform load.
    Uniform,
    /// Simple span, one load in the middle, no brace there.
    MiddleUnbraced,
    /// Simple span, one load in the middle, braced there.
    MiddleBraced,
    /// Simple span, this many (2 to 6) equal loads at even distances, each braced.
    Braced(u8),
    /// Simple span, seven or more equal loads at even distances, each braced; or equal end moments.
    Even,
    /// Cantilever, uniform load.
    CantileverUniform,
    /// Cantilever, load at the free end.
    CantileverTip,
    /// Anything else: footnote 1 of the table.
    Other,
}

/// Effective length le (m) for an unbraced length lu and a depth d (m). Source: NDS 2018 Table 3.3.3.
///
/// # Errors
/// Where a length is out of range.
pub fn effective_length(loading: Loading, unbraced: f64, depth: f64) -> Result<f64, FormulaError> {
    let lu = not_negative("the unbraced length", unbraced)?;
    let d = positive("the beam's depth", depth)?;
    let short = lu / d < 7.0;
    Ok(match loading {
        Loading::Uniform if short => 2.06 * lu,
        Loading::Uniform => 1.63 * lu + 3.0 * d,
        Loading::MiddleUnbraced if short => 1.80 * lu,
        Loading::MiddleUnbraced => 1.37 * lu + 3.0 * d,
        Loading::MiddleBraced => 1.11 * lu,
        Loading::Braced(2) => 1.68 * lu,
        Loading::Braced(3) => 1.54 * lu,
        Loading::Braced(4) => 1.68 * lu,
        Loading::Braced(5) => 1.73 * lu,
        Loading::Braced(6) => 1.78 * lu,
        Loading::Braced(_) => return Err(FormulaError::domain("the number of braced loads", "2 to 6")),
        Loading::Even => 1.84 * lu,
        Loading::CantileverUniform if short => 1.33 * lu,
        Loading::CantileverUniform => 0.90 * lu + 3.0 * d,
        Loading::CantileverTip if short => 1.87 * lu,
        Loading::CantileverTip => 1.44 * lu + 3.0 * d,
        Loading::Other if short => 2.06 * lu,
        Loading::Other if lu / d <= 14.3 => 1.63 * lu + 3.0 * d,
        Loading::Other => 1.84 * lu,
    })
}

/// The stability of a beam, step by step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stability {
    /// Slenderness ratio RB.
    pub slenderness: f64,
    /// Critical buckling design value FbE, Pa.
    pub critical: f64,
    /// Beam stability factor CL.
    pub factor: f64,
}

/// Slenderness ratio `RB = √(le·d/b²)`. Source: NDS 2018 eq. 3.3-5.
#[must_use]
pub fn slenderness_ratio(section: Rectangle, effective_length: f64) -> f64 {
    (effective_length * section.depth).sqrt() / section.breadth
}

/// Beam stability factor CL for an effective length (m), Fb* and E′min (Pa): `FbE = 1.20·E′min/RB²`,
/// `CL = (1 + F)/1.9 − √(((1 + F)/1.9)² − F/0.95)` with `F = FbE/Fb*`.
/// A beam no deeper than broad, or without unbraced length (its compression edge held throughout), has CL = 1.
///
/// # Errors
/// Where the slenderness ratio exceeds 50, the code's limit. Source: NDS 2018 §3.3.3, eq. 3.3-6.
pub fn stability(section: Rectangle, effective_length: f64, bending: f64, elasticity_min: f64) -> Result<Stability, FormulaError> {
    if section.depth <= section.breadth || effective_length <= 0.0 {
        return Ok(Stability { slenderness: 0.0, critical: f64::INFINITY, factor: 1.0 });
    }
    positive("the bending design value", bending)?;
    positive("the modulus of elasticity", elasticity_min)?;
    let slenderness = slenderness_ratio(section, effective_length);
    if slenderness > 50.0 {
        return Err(FormulaError::domain("the beam's slenderness ratio RB", "at most 50: brace it sideways or make it broader"));
    }
    let critical = 1.20 * elasticity_min / (slenderness * slenderness);
    let ratio = critical / bending;
    let half = (1.0 + ratio) / 1.9;
    Ok(Stability { slenderness, critical, factor: half - (half * half - ratio / 0.95).sqrt() })
}
