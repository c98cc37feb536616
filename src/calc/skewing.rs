//! What guides a frame on rails is pushed across where the frame runs askew. EN 1991-3 2.7.4.
//!
//! In: the play of its guides, where its axles are, what it weighs. Out: the push on the guiding wheel that leads.
//! It must not know whether that is too much.

use super::{FormulaError, check};

/// Part of the skewing angle that no play explains: tolerances of axles and rails. EN 1991-3 Table 2.7, α0.
pub const TOLERANCE: f64 = 0.001;

/// Skewing angle α = 0.75 x / a + y / a + 0.001: `play` x and `wear` y of the guides (m) over `base` a, the distance of the
/// outermost guiding wheels (m). Beyond 0.015 the standard asks for other guides.
///
/// # Errors
/// Where the base is not more than zero, or another number less than zero.
///
/// Source: EN 1991-3:2006 2.7.4(3), Table 2.7; from memory.
pub fn angle(play: f64, wear: f64, base: f64) -> Result<f64, FormulaError> {
    let (play, wear) = (check::not_negative("the play of the guides", play)?, check::not_negative("the wear of the guides", wear)?);
    Ok((0.75 * play + wear) / check::positive("the distance of the guiding wheels", base)? + TOLERANCE)
}

/// Non-positive factor f = 0.3 (1 - exp(-250 α)), at most 0.3: how much of the load rubs across at a skewing angle.
///
/// Source: EN 1991-3:2006 eq. 2.10, 2.7.4(2).
#[must_use]
pub fn factor(angle: f64) -> f64 {
    0.3 * (1.0 - (-250.0 * angle).exp())
}

/// Force factor λS = 1 - Σe / (n h), h = Σe² / Σe, of axles at distances `e` (m) behind the guide that leads, wheels that turn
/// freely on both sides and keep their place across (IFF, m = 0).
///
/// # Errors
/// Where there are not two axles at different places.
///
/// Source: EN 1991-3:2006 2.7.4(4), Tables 2.8, 2.9.
pub fn share(behind: &[f64]) -> Result<f64, FormulaError> {
    let (sum, squares) = (behind.iter().sum::<f64>(), behind.iter().map(|e| e * e).sum::<f64>());
    if sum <= 0.0 || squares <= 0.0 {
        return Err(FormulaError::domain("the axles", "two at least, at different places"));
    }
    #[expect(clippy::cast_precision_loss, reason = "a few axles")]
    let count = behind.len() as f64;
    Ok(1.0 - sum * sum / (count * squares))
}

/// Push across on the guiding wheel that leads, N: S = f λS ΣQr, with axles at `stations` (m), all that they carry `load` (N).
///
/// # Errors
/// As [`angle`] and [`share`].
///
/// Source: EN 1991-3:2006 eq. 2.6 to 2.9.
pub fn push(play: f64, wear: f64, stations: &[f64], load: f64) -> Result<f64, FormulaError> {
    let (first, last) = stations.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| (low.min(*at), high.max(*at)));
    let behind = |from: f64| stations.iter().map(|at| (at - from).abs()).collect::<Vec<_>>();
    let most = share(&behind(first))?.max(share(&behind(last))?);
    Ok(factor(angle(play, wear, last - first)?) * most * check::not_negative("the load", load)?)
}
