//! Lateral load of one fastener in one shear plane by EN 1995-1-1 (Johansen's theory).
//!
//! In: thicknesses, embedment strengths, diameter, yield moment, withdrawal. Out: the load of each failure mode, the least.
//! It must not know densities or durations. Characteristic values. Source: EN 1995-1-1:2004 §8.2.

use crate::calc::FormulaError;
use crate::calc::check::{not_negative, positive};

/// Screws up to this diameter follow the rules of nails, m. Source: EN 1995-1-1 §8.7.1(4), (5).
pub const LIKE_A_NAIL: f64 = 0.006;
/// Least depth of a smooth nail in the member with its point, in diameters. Source: EN 1995-1-1 §8.3.1.2(1).
pub const LEAST_OF_SMOOTH_NAIL: f64 = 8.0;
/// Least depth of a screw that follows the rules of nails, in diameters. Source: EN 1995-1-1 §8.3.1.2(2).
pub const LEAST_OF_THIN_SCREW: f64 = 6.0;
/// Least depth of a thicker screw, in diameters. Source: EN 1995-1-1 §8.7.1(2).
pub const LEAST_OF_THICK_SCREW: f64 = 4.0;

/// The fastener.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dowel {
    /// Diameter d, m (effective diameter of a screw).
    pub diameter: f64,
    /// Yield moment My,Rk, N·m.
    pub yield_moment: f64,
    /// Withdrawal capacity Fax,Rk, N; 0 where the rope effect is not to be counted.
    pub withdrawal: f64,
    /// The most that the rope effect may add, as part of the Johansen load.
    pub rope_limit: f64,
}

/// The most that the rope effect may add. Source: EN 1995-1-1 §8.2.2(2).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rope {
    /// Round nails, 15 %.
    RoundNail,
    /// Square and grooved nails, 25 %.
    SquareNail,
    /// Other nails, 50 %.
    OtherNail,
    /// Screws, 100 %.
    Screw,
    /// Bolts, 25 %.
    Bolt,
    /// Dowels, 0 %.
    Dowel,
}

impl Rope {
    /// The limit as a part of the Johansen load.
    #[must_use]
    pub fn limit(self) -> f64 {
        match self {
            Self::RoundNail => 0.15,
            Self::SquareNail | Self::Bolt => 0.25,
            Self::OtherNail => 0.5,
            Self::Screw => 1.0,
            Self::Dowel => 0.0,
        }
    }
}

/// A timber member at the fastener.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Member {
    /// Thickness, or depth of the point in it, m.
    pub thickness: f64,
    /// Embedment strength fh,k at the load's angle, Pa.
    pub embedment: f64,
}

/// The load of each mode and the least, N for one shear plane.
#[derive(Debug, Clone, PartialEq)]
pub struct Lateral {
    /// Modes by the letter of the code's figures, with their loads.
    pub modes: Vec<(char, f64)>,
    /// The letter of the mode that governs.
    pub mode: char,
    /// Characteristic load Fv,Rk, N.
    pub value: f64,
}

impl Dowel {
    fn check(&self, members: &[Member]) -> Result<(), FormulaError> {
        positive("the fastener's diameter", self.diameter)?;
        positive("the yield moment", self.yield_moment)?;
        not_negative("the withdrawal capacity", self.withdrawal)?;
        for member in members {
            positive("the timber's thickness", member.thickness)?;
            positive("the embedment strength", member.embedment)?;
        }
        Ok(())
    }

    /// A Johansen load with the rope effect: plus Fax/4, at most the limit.
    fn roped(&self, johansen: f64) -> f64 {
        johansen + (self.withdrawal / 4.0).min(self.rope_limit * johansen)
    }
}

fn least(modes: Vec<(char, f64)>) -> Lateral {
    let (mode, value) = modes.iter().copied().fold((' ', f64::INFINITY), |least, mode| if mode.1 < least.1 { mode } else { least });
    Lateral { modes, mode, value }
}

/// Timber to timber, single shear, modes a to f; `head` is the member on the head's side. Source: eq. 8.6.
///
/// # Errors
/// Where a number is not more than zero.
pub fn timber_single(dowel: &Dowel, head: Member, point: Member) -> Result<Lateral, FormulaError> {
    dowel.check(&[head, point])?;
    let (d, my) = (dowel.diameter, dowel.yield_moment);
    let (f1, t1, t2) = (head.embedment, head.thickness, point.thickness);
    let beta = point.embedment / f1;
    let ratio = t2 / t1;
    let turning = (beta + 2.0 * beta * beta * (1.0 + ratio + ratio * ratio) + beta.powi(3) * ratio * ratio).sqrt() - beta * (1.0 + ratio);
    let hinge = |t: f64, sum: f64, by: f64| 4.0 * beta * sum * my / (f1 * d * t * t) * by;
    let d_mode = f1 * t1 * d / (2.0 + beta) * ((2.0 * beta * (1.0 + beta) + hinge(t1, 2.0 + beta, 1.0)).sqrt() - beta);
    let e_mode = f1 * t2 * d / (1.0 + 2.0 * beta) * ((2.0 * beta * beta * (1.0 + beta) + hinge(t2, 1.0 + 2.0 * beta, 1.0)).sqrt() - beta);
    Ok(least(vec![
        ('a', f1 * t1 * d),
        ('b', point.embedment * t2 * d),
        ('c', dowel.roped(f1 * t1 * d / (1.0 + beta) * turning)),
        ('d', dowel.roped(1.05 * d_mode)),
        ('e', dowel.roped(1.05 * e_mode)),
        ('f', dowel.roped(1.15 * both_bend(dowel, f1, beta))),
    ]))
}

/// `√(2β/(1+β))·√(2·My·fh,1·d)`: the fastener bends in both members.
fn both_bend(dowel: &Dowel, embedment: f64, beta: f64) -> f64 {
    (2.0 * beta / (1.0 + beta)).sqrt() * (2.0 * dowel.yield_moment * embedment * dowel.diameter).sqrt()
}

/// A plate between thin (at most d/2) and thick (at least d, holes tight within 0.1d) gets a value between.
/// Source: EN 1995-1-1 §8.2.3(1).
fn between(thin: Lateral, thick: Lateral, plate: f64, diameter: f64) -> Lateral {
    let part = ((plate / diameter - 0.5) / 0.5).clamp(0.0, 1.0);
    if part <= 0.0 {
        return thin;
    }
    if part >= 1.0 {
        return thick;
    }
    let value = thin.value + part * (thick.value - thin.value);
    let mode = if part < 0.5 { thin.mode } else { thick.mode };
    Lateral { modes: thin.modes.into_iter().chain(thick.modes).collect(), mode, value }
}

/// Thickness (m) with which a steel plate counts at a fastener of this `nominal` diameter (m): in a hole wider by a tenth of it or
/// more the fastener turns, and even a thick plate is a thin one. Source: EN 1995-1-1 §8.2.3(1).
#[must_use]
pub fn plate_in_hole(plate: f64, nominal: f64, hole: f64) -> f64 {
    if hole - nominal >= 0.1 * nominal - 1e-9 { plate.min(nominal / 2.0) } else { plate }
}

/// Steel plate (thickness m) on timber, single shear, modes a to e. Source: eq. 8.9, 8.10.
///
/// # Errors
/// Where a number is not more than zero.
pub fn steel_single(dowel: &Dowel, plate: f64, timber: Member) -> Result<Lateral, FormulaError> {
    dowel.check(&[timber])?;
    let (d, my) = (positive("the fastener's diameter", dowel.diameter)?, dowel.yield_moment);
    let (f, t) = (timber.embedment, timber.thickness);
    let full = f * t * d;
    let thin = least(vec![('a', 0.4 * full), ('b', dowel.roped(1.15 * (2.0 * my * f * d).sqrt()))]);
    let thick = least(vec![
        ('c', full),
        ('d', dowel.roped(full * ((2.0 + 4.0 * my / (f * d * t * t)).sqrt() - 1.0))),
        ('e', dowel.roped(2.3 * (my * f * d).sqrt())),
    ]);
    Ok(between(thin, thick, positive("the steel plate's thickness", plate)?, d))
}
