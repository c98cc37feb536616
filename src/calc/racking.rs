//! Framed walls that are pushed along themselves, their boards nailed on as panels.
//!
//! In: panels, nails, spacings, lengths without openings. Out: what the wall may be pushed with. It must not know what
//! pushes. Sources: AWC SDPWS-2015 §4.3 (nominal values of Table 4.3A for wind, from a public reprint); EN 1995-1-1:2004
//! §9.2.4.2.

use super::FormulaError;
use super::check::positive;
use super::inch_pound::{FOOT, INCH, POUND};

/// A sort of wood structural panel, SDPWS Table 4.3A.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Panel {
    /// Structural I, 15/32 in.
    Structural15,
    /// Sheathing, 3/8 in.
    Plain12,
    /// Sheathing, 7/16 in.
    Plain14,
    /// Sheathing, 15/32 in.
    Plain15,
}

/// A common or galvanised box nail.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Nail {
    /// 8d.
    Eight,
    /// 10d.
    Ten,
}

/// Spacings of the table, in.
const SPACINGS: [f64; 4] = [6.0, 4.0, 3.0, 2.0];
/// Specific gravity of the framing for which the table is printed: Douglas fir-larch, southern pine.
const TABLE_GRAVITY: f64 = 0.5;
/// A spacing that is written in another unit is that of the table to within this, in.
const ROUNDING: f64 = 0.02;
/// Nominal over allowable unit shear in wind. Source: SDPWS-2015 §4.3.3.
const ALLOWABLE: f64 = 2.0;
/// Height over width beyond which a blocked panel does not count. Source: SDPWS-2015 Table 4.3.4.
const SLENDEREST: f64 = 3.5;

/// Nominal unit shear in wind, N/m, nails `spacing` (m) apart at the edges of the panels, at most 6 in; wider apart than a
/// column of the table counts as the next wider one. Times 1 − (0.5 − G) for lighter framing.
///
/// # Errors
/// For nails farther apart than 6 in, or a panel that the table does not have with such nails.
///
/// Source: AWC SDPWS-2015 Table 4.3A, with its note 3.
pub fn sdpws_nominal(panel: Panel, nail: Nail, spacing: f64, gravity: f64) -> Result<f64, FormulaError> {
    let row = match (panel, nail) {
        (Panel::Structural15, Nail::Eight) => [785.0, 1205.0, 1540.0, 2045.0],
        (Panel::Structural15, Nail::Ten) => [950.0, 1430.0, 1860.0, 2435.0],
        (Panel::Plain12, Nail::Eight) => [615.0, 895.0, 1150.0, 1485.0],
        (Panel::Plain14, Nail::Eight) => [670.0, 980.0, 1260.0, 1640.0],
        (Panel::Plain15, Nail::Eight) => [730.0, 1065.0, 1370.0, 1790.0],
        (Panel::Plain15, Nail::Ten) => [870.0, 1290.0, 1680.0, 2155.0],
        (Panel::Plain12 | Panel::Plain14, Nail::Ten) => {
            return Err(FormulaError::domain("nails of 3/8 and 7/16 in sheathing", "8d: the table has no others"));
        }
    };
    let inches = positive("the spacing of the nails", spacing)? / INCH;
    let column = SPACINGS.iter().zip(row).filter(|(column, _)| inches <= **column + ROUNDING).map(|(_, value)| value).next_back();
    let value = column.ok_or_else(|| FormulaError::domain("the spacing of the nails along the edges", "at most 6 in"))?;
    let species = (1.0 - (TABLE_GRAVITY - positive("the specific gravity of the framing", gravity)?)).min(1.0);
    Ok(value * species * POUND / FOOT)
}

/// What a wall of such panels may be pushed with along itself, N, by allowable stress: `nominal` (N/m) over two, times the
/// lengths of its full-height pieces, each with the lesser of 1.25 − 0.125 h/b and 2 b/h where h/b is more than 2; and times
/// the factor of a perforated wall where openings interrupt it.
///
/// # Errors
/// Where a length is not more than zero.
///
/// Source: AWC SDPWS-2015 §4.3.4.2, 4.3.3.4.1, 4.3.3.5 with eq. 4.3-5.
pub fn sdpws_wall(nominal: f64, height: f64, length: f64, full: &[f64], opening_height: f64) -> Result<f64, FormulaError> {
    let (height, length) = (positive("the wall's height", height)?, positive("the wall's length", length)?);
    let counted: Vec<f64> = full.iter().copied().filter(|width| *width > 0.0 && height / width <= SLENDEREST).collect();
    let sum: f64 = counted.iter().sum();
    if sum <= 0.0 {
        return Ok(0.0);
    }
    let effective: f64 = counted
        .iter()
        .map(|width| {
            let slender = height / width;
            let factor = if slender > 2.0 { (1.25 - 0.125 * slender).min(2.0 / slender) } else { 1.0 };
            factor * width
        })
        .sum();
    let perforated = perforated_factor(height, length, sum, (length - sum).max(0.0) * opening_height.clamp(0.0, height));
    Ok(nominal / ALLOWABLE * effective * perforated)
}

/// Co of a perforated wall: `r/(3 − 2r) · Ltot/ΣLi`, `r = 1/(1 + Ao/(h ΣLi))`, at most 1. Lengths in m, `openings` in m².
/// Source: AWC SDPWS-2015 eq. 4.3-5, 4.3-6.
#[must_use]
pub fn perforated_factor(height: f64, length: f64, full: f64, openings: f64) -> f64 {
    let r = 1.0 / (1.0 + openings / (height * full));
    (r / (3.0 - 2.0 * r) * length / full).min(1.0)
}

/// Design racking strength of a wall, N, method A: the sum of `Ff,Rd · b · c / s` over its sheets, c = 1 for b of half of the
/// height and more and b/(h/2) below; sheets narrower than a quarter of the height do not count. `fastener` in N, lengths in m.
///
/// # Errors
/// Where a number is not more than zero.
///
/// Source: EN 1995-1-1:2004 §9.2.4.2, eq. 9.20, 9.21, 9.22.
pub fn en_method_a(fastener: f64, spacing: f64, height: f64, full: &[f64]) -> Result<f64, FormulaError> {
    let (fastener, spacing) = (positive("the strength of a fastener", fastener)?, positive("the spacing of the fasteners", spacing)?);
    let whole = positive("the wall's height", height)? / 2.0;
    let counted = full.iter().filter(|width| **width >= whole / 2.0);
    Ok(counted.map(|width| fastener * width * (width / whole).min(1.0) / spacing).sum())
}
