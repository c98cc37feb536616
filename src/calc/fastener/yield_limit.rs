//! Lateral load of one fastener in wood: the yield limit equations of the NDS.
//!
//! In: diameter, bending yield strength, bearing lengths and strengths of the members, angle. Out: the load of each yield
//! mode, and the least. It must not know species, nor load duration (`adjustment`). Source: NDS 2018 §12.3.1, Table 12.3.1A.

use std::f64::consts::FRAC_PI_2;

use super::dowel_bearing::{LARGE, is_large};
use crate::calc::FormulaError;
use crate::calc::check::{positive, within};
use crate::calc::inch_pound::INCH;

/// A fastener through two members, in single or symmetric double shear.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Joint {
    /// Nominal diameter, m: decides whether the grain counts.
    pub nominal: f64,
    /// Diameter D in the equations, m: the root for threads in the shear plane (lag and wood screws), else the shank.
    pub diameter: f64,
    /// Bending yield strength Fyb, Pa.
    pub bending_yield: f64,
    /// Bearing length in the main member lm, m (where the point ends in it, see [`main_bearing_length`]).
    pub main_length: f64,
    /// Bearing length in the side member ls, m.
    pub side_length: f64,
    /// Dowel bearing strength of the main member Fem, Pa.
    pub main_bearing: f64,
    /// Dowel bearing strength of the side member Fes, Pa.
    pub side_bearing: f64,
    /// Largest angle between load and grain of either member θ, rad.
    pub angle: f64,
}

/// How the joint gives way. Source: NDS 2018 Appendix I, Fig. I1.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mode {
    /// The main member crushes.
    Im,
    /// The side member crushes.
    Is,
    /// The fastener turns, crushing both.
    II,
    /// The fastener bends in the main member.
    IIIm,
    /// The fastener bends in the side member.
    IIIs,
    /// The fastener bends in both.
    IV,
}

/// The load of each mode (N) and the least.
#[derive(Debug, Clone, PartialEq)]
pub struct Yield {
    /// Modes that exist for this joint, with their loads divided by the reduction term.
    pub modes: Vec<(Mode, f64)>,
    /// The mode that governs.
    pub mode: Mode,
    /// Reference lateral design value Z, N.
    pub value: f64,
}

/// Least penetration of a lag screw, in diameters, without its tip. Source: NDS 2018 §12.1.4.6.
pub const LEAST_OF_LAG_SCREW: f64 = 4.0;
/// Least penetration of wood screws and nails, in diameters, the tip with it. Source: NDS 2018 §12.1.5.6, §12.1.6.5.
pub const LEAST_OF_SCREW_OR_NAIL: f64 = 6.0;

/// Bearing length (m) of the point in the main member for a penetration `p` that includes the tapered tip `tip`: all of it
/// from ten diameters on, below that less half the tip. Source: NDS 2018 §12.3.5.3.
///
/// # Errors
/// Where the penetration is less than four diameters (lag screws, tip left out: §12.1.4.6) or six (nails and wood screws:
/// §12.1.5.6, §12.1.6.5) – `least` says which.
pub fn main_bearing_length(penetration: f64, tip: f64, diameter: f64, least: f64) -> Result<f64, FormulaError> {
    if penetration < least * diameter - 1e-9 {
        return Err(FormulaError::domain("the screw's or nail's penetration", format!("at least {least} diameters")));
    }
    Ok(if penetration >= 10.0 * diameter { penetration } else { penetration - tip / 2.0 })
}

/// Reduction terms Rd for modes I, II, and III with IV. Source: NDS 2018 Table 12.3.1B.
///
/// Fasteners of ¼ in and more: 4Kθ, 3.6Kθ, 3.2Kθ with Kθ = 1 + θ/360°; smaller: KD = 2.2 up to 0.17 in, else 10D + 0.5;
/// threaded ones of ¼ in and more whose root is under ¼ in: KD·Kθ at the root.
fn reduction_terms(joint: &Joint) -> [f64; 3] {
    let by_angle = 1.0 + 0.25 * joint.angle / FRAC_PI_2;
    let d = joint.diameter / INCH;
    let by_diameter = if d <= 0.17 { 2.2 } else { 10.0 * d + 0.5 };
    if !is_large(joint.nominal) {
        [by_diameter; 3]
    } else if joint.diameter < LARGE - 1e-9 {
        [by_diameter * by_angle; 3]
    } else {
        [4.0, 3.6, 3.2].map(|k| k * by_angle)
    }
}

fn check(joint: &Joint) -> Result<(), FormulaError> {
    for (what, value) in [
        ("the nominal diameter", joint.nominal),
        ("the diameter", joint.diameter),
        ("the bending yield strength", joint.bending_yield),
        ("the bearing length in the main member", joint.main_length),
        ("the bearing length in the side member", joint.side_length),
        ("the dowel bearing strength of the main member", joint.main_bearing),
        ("the dowel bearing strength of the side member", joint.side_bearing),
    ] {
        positive(what, value)?;
    }
    within("the diameter", joint.diameter, 0.0, INCH + 1e-9, "at most 1 inch for the yield limit equations")?;
    within("the angle between load and grain", joint.angle, 0.0, FRAC_PI_2 + 1e-9, "between 0° and 90°")?;
    Ok(())
}

/// Single shear: all six modes. Source: NDS 2018 eq. 12.3-1 to 12.3-6.
///
/// # Errors
/// Where a number is out of range.
pub fn single_shear(joint: &Joint) -> Result<Yield, FormulaError> {
    check(joint)?;
    let [i, ii, iii] = reduction_terms(joint);
    let Joint { diameter: d, main_length: lm, side_length: ls, main_bearing: fem, side_bearing: fes, bending_yield: fyb, .. } = *joint;
    let (re, rt) = (fem / fes, lm / ls);
    let k1 = ((re + 2.0 * re * re * (1.0 + rt + rt * rt) + rt * rt * re.powi(3)).sqrt() - re * (1.0 + rt)) / (1.0 + re);
    let k2 = -1.0 + (2.0 * (1.0 + re) + 2.0 * fyb * (1.0 + 2.0 * re) * d * d / (3.0 * fem * lm * lm)).sqrt();
    let modes = vec![
        (Mode::Im, d * lm * fem / i),
        (Mode::Is, d * ls * fes / i),
        (Mode::II, k1 * d * ls * fes / ii),
        (Mode::IIIm, k2 * d * lm * fem / ((1.0 + 2.0 * re) * iii)),
        (Mode::IIIs, side_bending(joint) / iii),
        (Mode::IV, both_bending(joint) / iii),
    ];
    Ok(least(modes))
}

/// `k3·D·ls·Fem/(2 + Re)`.
fn side_bending(joint: &Joint) -> f64 {
    let Joint { diameter: d, side_length: ls, main_bearing: fem, side_bearing: fes, bending_yield: fyb, .. } = *joint;
    let re = fem / fes;
    let k3 = -1.0 + (2.0 * (1.0 + re) / re + 2.0 * fyb * (2.0 + re) * d * d / (3.0 * fem * ls * ls)).sqrt();
    k3 * d * ls * fem / (2.0 + re)
}

/// `D²·√(2·Fem·Fyb/3(1 + Re))`.
fn both_bending(joint: &Joint) -> f64 {
    let re = joint.main_bearing / joint.side_bearing;
    joint.diameter * joint.diameter * (2.0 * joint.main_bearing * joint.bending_yield / (3.0 * (1.0 + re))).sqrt()
}

fn least(modes: Vec<(Mode, f64)>) -> Yield {
    let (mode, value) = modes.iter().copied().fold((Mode::Im, f64::INFINITY), |least, mode| if mode.1 < least.1 { mode } else { least });
    Yield { modes, mode, value }
}
