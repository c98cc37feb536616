//! Design strengths of timber by EN 1995-1-1.
//!
//! In: characteristic values (catalogue), service class, load duration, size. Out: factors and design values.
//! It must not know a strength class. Recommended values of the code, not a National Annex.
//! Source: EN 1995-1-1:2004 with A1:2008 and A2:2014.

use crate::calc::FormulaError;
use crate::calc::check::positive;
use crate::calc::loads::states::State;

/// What the member is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Material {
    /// Solid timber, EN 14081-1.
    Solid,
    /// Glued laminated timber, EN 14080.
    Glulam,
    /// Laminated veneer lumber, EN 14374.
    Lvl,
}

/// How damp the surroundings are. Source: EN 1995-1-1 §2.3.1.3.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ServiceClass {
    /// Indoors, heated.
    One,
    /// Under a roof, unheated.
    Two,
    /// In the weather.
    Three,
}

/// Load-duration class. Source: EN 1995-1-1 Table 2.1, 2.2.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Duration {
    /// More than ten years: own weight.
    Permanent,
    /// Half a year to ten years: storage.
    Long,
    /// A week to half a year: imposed load, lasting snow.
    Medium,
    /// Less than a week: snow, wind (National Annexes differ).
    Short,
    /// Moments: wind gusts, accidents.
    Instantaneous,
}

/// The load of each state of the roof that lasts shortest: rolling wheels as an imposed load; people who mend the roof stay for
/// less than a week. Source: EN 1995-1-1 Table 2.1, 2.2 (snow and wind of short term, National Annexes differ).
impl From<State> for Duration {
    fn from(state: State) -> Self {
        match state {
            State::Shut => Self::Permanent,
            State::Moving => Self::Medium,
            State::Snow | State::Live | State::Wind | State::Open => Self::Short,
        }
    }
}

/// Modification factor kmod for solid timber, glulam and LVL. Source: EN 1995-1-1 Table 3.1.
#[must_use]
pub fn kmod(service: ServiceClass, duration: Duration) -> f64 {
    let outdoors = service == ServiceClass::Three;
    match (duration, outdoors) {
        (Duration::Permanent, false) => 0.6,
        (Duration::Permanent, true) => 0.5,
        (Duration::Long, false) | (Duration::Short, true) => 0.7,
        (Duration::Long, true) => 0.55,
        (Duration::Medium, false) => 0.8,
        (Duration::Medium, true) => 0.65,
        (Duration::Short, false) | (Duration::Instantaneous, true) => 0.9,
        (Duration::Instantaneous, false) => 1.1,
    }
}

/// Deformation factor kdef for solid timber, glulam and LVL. Source: EN 1995-1-1 Table 3.2.
/// Timber put in near its fibre saturation point and drying under load: add 1.0 (§3.2(4)).
#[must_use]
pub fn kdef(service: ServiceClass) -> f64 {
    match service {
        ServiceClass::One => 0.6,
        ServiceClass::Two => 0.8,
        ServiceClass::Three => 2.0,
    }
}

/// Partial factor γM of a member. Source: EN 1995-1-1 Table 2.3 (recommended values).
#[must_use]
pub fn gamma_m(material: Material) -> f64 {
    match material {
        Material::Solid => 1.3,
        Material::Glulam => 1.25,
        Material::Lvl => 1.2,
    }
}

/// Partial factor γM of a connection. Source: EN 1995-1-1 Table 2.3 (recommended value).
pub const GAMMA_M_CONNECTION: f64 = 1.3;

/// Design value (Pa, N): `kmod·Xk/γM`. Source: EN 1995-1-1 eq. 2.14, 2.17.
#[must_use]
pub fn design_value(characteristic: f64, kmod: f64, gamma_m: f64) -> f64 {
    kmod * characteristic / gamma_m
}

/// Depth factor kh for bending (depth, m) or tension (larger side, m): solid timber up to 150 mm `(150/h)^0.2 ≤ 1.3`,
/// glulam up to 600 mm `(600/h)^0.1 ≤ 1.1`, LVL `(300/h)^s ≤ 1.2` with the maker's exponent (`lvl_exponent`, 0.15 or so).
/// Source: EN 1995-1-1 eq. 3.1, 3.2, 3.3.
///
/// # Errors
/// Where the depth is not more than zero.
pub fn depth_factor(material: Material, depth: f64, lvl_exponent: f64) -> Result<f64, FormulaError> {
    let mm = 1000.0 * positive("the section's depth", depth)?;
    Ok(match material {
        Material::Solid if mm < 150.0 => (150.0 / mm).powf(0.2).min(1.3),
        Material::Glulam if mm < 600.0 => (600.0 / mm).powf(0.1).min(1.1),
        Material::Lvl => (300.0 / mm).powf(lvl_exponent).min(1.2),
        _ => 1.0,
    })
}

/// Crack factor kcr on the breadth that carries shear: 0.67 for solid timber and glulam, 1.0 otherwise.
/// Source: EN 1995-1-1 §6.1.7(2) (A1:2008, recommended values).
#[must_use]
pub fn crack_factor(material: Material) -> f64 {
    match material {
        Material::Solid | Material::Glulam => 0.67,
        Material::Lvl => 1.0,
    }
}

/// System strength factor ksys of members that share loads: 1.1. Source: EN 1995-1-1 §6.6.
pub const SYSTEM: f64 = 1.1;

/// How the beam is loaded, for its effective length. Source: EN 1995-1-1 Table 6.1.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Loading {
    /// Simple span, constant moment.
    ConstantMoment,
    /// Simple span, uniform load.
    Uniform,
    /// Simple span, load in the middle.
    Middle,
    /// Cantilever, uniform load.
    CantileverUniform,
    /// Cantilever, load at the tip.
    CantileverTip,
}

/// On which edge the load stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Edge {
    /// On the compression edge (a beam loaded from above): it tips more easily.
    Compression,
    /// At mid-depth.
    Middle,
    /// On the tension edge.
    Tension,
}

/// Effective length lef (m) against tipping sideways, for the span between braces and the depth (m).
/// Source: EN 1995-1-1 Table 6.1 with its note.
#[must_use]
pub fn effective_length(loading: Loading, span: f64, depth: f64, edge: Edge) -> f64 {
    let part = match loading {
        Loading::ConstantMoment => 1.0,
        Loading::Uniform => 0.9,
        Loading::Middle | Loading::CantileverTip => 0.8,
        Loading::CantileverUniform => 0.5,
    };
    let shift = match edge {
        Edge::Compression => 2.0 * depth,
        Edge::Middle => 0.0,
        Edge::Tension => -0.5 * depth,
    };
    (part * span + shift).max(0.0)
}

/// Critical bending stress (Pa) of a rectangular softwood section: `0.78·b²·E0.05/(h·lef)`.
/// Source: EN 1995-1-1 eq. 6.32.
///
/// # Errors
/// Where a number is not more than zero.
pub fn critical_bending_stress(breadth: f64, depth: f64, elasticity_05: f64, effective_length: f64) -> Result<f64, FormulaError> {
    let b = positive("the section's breadth", breadth)?;
    let h = positive("the section's depth", depth)?;
    Ok(0.78 * b * b * positive("E0.05", elasticity_05)? / (h * positive("the effective length", effective_length)?))
}

/// Relative slenderness for bending: `√(fm,k/σm,crit)`. Source: EN 1995-1-1 eq. 6.30.
#[must_use]
pub fn relative_slenderness_bending(bending_k: f64, critical: f64) -> f64 {
    (bending_k / critical).sqrt()
}

/// Factor kcrit for a relative slenderness. Source: EN 1995-1-1 eq. 6.34.
#[must_use]
pub fn kcrit(slenderness: f64) -> f64 {
    match slenderness {
        l if l <= 0.75 => 1.0,
        l if l <= 1.4 => 1.56 - 0.75 * l,
        l => 1.0 / (l * l),
    }
}

/// Factor km on the smaller bending stress of two axes: 0.7 for rectangular sections of solid timber, glulam and LVL.
/// Source: EN 1995-1-1 §6.1.6(2).
pub const KM_RECTANGLE: f64 = 0.7;
