//! Foam rods and brushes that close a gap: how much they are squeezed.
//!
//! In: sizes of the gap and of the seal in m. Out: compressions as shares of one, diameters in m.
//! It must not decide which compression is good: that is a rule.

use super::FormulaError;
use super::check::positive;

/// Width from which a closed-cell rod is chosen by share and no longer by a fixed amount, m (3/4 in).
const WIDE_GAP: f64 = 0.019_05;
/// What a closed-cell rod is wider than a narrow gap, m (1/8 in).
const NARROW_GAP_ADDITION: f64 = 0.003_175;

/// Share of its own thickness by which a soft part is squeezed in a gap: `(free − gap)/free`. Less than nothing
/// means that it does not reach.
///
/// A rod 25 % wider than its gap is compressed by 20 %: see [`oversize`] for the other share.
///
/// # Errors
/// When a size is not positive.
///
/// Source: definition.
pub fn compression(free: f64, gap: f64) -> Result<f64, FormulaError> {
    positive("the free size of the seal", free)?;
    positive("the gap", gap)?;
    Ok((free - gap) / free)
}

/// Share of the gap by which a rod is wider than the gap: `(free − gap)/gap`.
///
/// # Errors
/// When a size is not positive.
///
/// Source: definition.
pub fn oversize(free: f64, gap: f64) -> Result<f64, FormulaError> {
    positive("the free size of the seal", free)?;
    positive("the gap", gap)?;
    Ok((free - gap) / gap)
}

/// The foam of a backer rod.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Foam {
    /// Closed cells: sheds water.
    Closed,
    /// Open cells: soaks, not for gaps that lie flat.
    Open,
}

/// Diameters (m, least and most) of the backer rod for a gap (m): closed cells 1/8 in more than a gap below
/// 3/4 in and 25 to 30 % more from there on, open cells about 25 % more.
///
/// # Errors
/// When the gap is not positive.
///
/// Source: suppliers' sizing rule as printed on roofing and sealant pages; common practice.
pub fn backer_rod_diameter(foam: Foam, gap: f64) -> Result<(f64, f64), FormulaError> {
    positive("the gap", gap)?;
    Ok(match foam {
        // A gap given as 3/4 in must not fall short of it by rounding.
        Foam::Closed if gap < WIDE_GAP - 1e-9 => (gap + NARROW_GAP_ADDITION, gap + NARROW_GAP_ADDITION),
        Foam::Closed => (1.25 * gap, 1.30 * gap),
        Foam::Open => (1.25 * gap, 1.25 * gap),
    })
}

/// Depth (m) of sealant over a backer rod: half the width of the joint (m).
///
/// # Errors
/// When the width is not positive.
///
/// Source: suppliers' sizing rule; common practice.
pub fn sealant_depth(joint: f64) -> Result<f64, FormulaError> {
    Ok(positive("the joint", joint)? / 2.0)
}
