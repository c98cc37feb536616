//! Adjusted design values of sawn lumber by the NDS.
//!
//! In: reference values (Pa), section, how long the load lasts, how wet and warm the wood is. Out: adjusted values with
//! every factor, so that a reader can follow. Stability factors (CL, CP) are in `nds_stability` and `column`.
//! It must not know a species. Allowable stress design throughout. Source: NDS 2018, Table 4.3.1.

use super::nds_size::{SizeFactors, Table, flat_use_factor, size_factors};
use super::section::Rectangle;
use crate::calc::FormulaError;
use crate::calc::check::within;
use crate::calc::inch_pound::PSI;
use crate::calc::loads::states::State;

/// Reference design values (Pa), as in the NDS Supplement.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reference {
    /// Bending Fb.
    pub bending: f64,
    /// Tension along the grain Ft.
    pub tension: f64,
    /// Shear along the grain Fv.
    pub shear: f64,
    /// Compression across the grain Fc⊥.
    pub bearing: f64,
    /// Compression along the grain Fc.
    pub compression: f64,
    /// Modulus of elasticity E.
    pub elasticity: f64,
    /// Modulus of elasticity for stability Emin.
    pub elasticity_min: f64,
}

/// The load of a combination that lasts shortest decides CD.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Duration {
    /// Dead load alone.
    Permanent,
    /// Ten years: floor live load, rolling wheels.
    TenYears,
    /// Two months: snow.
    TwoMonths,
    /// Seven days: construction, roof live load.
    SevenDays,
    /// Ten minutes: wind.
    TenMinutes,
    /// Impact. Not for connections, nor for pressure-treated wood.
    Impact,
}

/// The load of each state of the roof that lasts shortest. Source: NDS 2018 Table 2.3.2; rolling wheels as a floor's live load.
impl From<State> for Duration {
    fn from(state: State) -> Self {
        match state {
            State::Shut => Self::Permanent,
            State::Moving => Self::TenYears,
            State::Snow | State::Open => Self::TwoMonths,
            State::Live => Self::SevenDays,
            State::Wind => Self::TenMinutes,
        }
    }
}

/// Load duration factor CD. Not for E, Emin or Fc⊥. Source: NDS 2018 Table 2.3.2.
#[must_use]
pub fn load_duration_factor(duration: Duration) -> f64 {
    match duration {
        Duration::Permanent => 0.9,
        Duration::TenYears => 1.0,
        Duration::TwoMonths => 1.15,
        Duration::SevenDays => 1.25,
        Duration::TenMinutes => 1.6,
        Duration::Impact => 2.0,
    }
}

/// How the wood is used.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Use {
    /// The shortest load of the combination.
    pub duration: Duration,
    /// More than 19 % moisture content for long.
    pub wet: bool,
    /// Sustained temperature, K.
    pub temperature: f64,
    /// Incised for treatment.
    pub incised: bool,
    /// Three or more members side by side, at most 24 in apart, joined by a load-distributing deck.
    pub repetitive: bool,
    /// Table of the Supplement.
    pub table: Table,
}

/// One factor for each design value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PerValue {
    /// On Fb.
    pub bending: f64,
    /// On Ft.
    pub tension: f64,
    /// On Fv.
    pub shear: f64,
    /// On Fc⊥.
    pub bearing: f64,
    /// On Fc.
    pub compression: f64,
    /// On E and Emin.
    pub elasticity: f64,
}

/// Wet service factor CM on bearing across the grain, of every sort of sawn lumber. Source: NDS 2018 Supplement, Tables 4A, 4B, 4D.
pub const WET_BEARING: f64 = 0.67;

/// Wet service factor CM. Bending is spared where Fb·CF ≤ 1150 psi and compression where Fc·CF ≤ 750 psi.
/// Source: NDS 2018 Supplement, wet service factors of Tables 4A, 4B and 4D; of Table 5A from memory.
#[must_use]
pub fn wet_service_factor(wet: bool, reference: &Reference, size: &SizeFactors, table: Table) -> PerValue {
    let dry = PerValue { bending: 1.0, tension: 1.0, shear: 1.0, bearing: 1.0, compression: 1.0, elasticity: 1.0 };
    if !wet {
        return dry;
    }
    if table == Table::T4D {
        return PerValue { bearing: WET_BEARING, compression: 0.91, ..dry };
    }
    if table == Table::T5A {
        return PerValue { bending: 0.8, tension: 0.8, shear: 0.875, bearing: 0.53, compression: 0.73, elasticity: 0.833 };
    }
    let weak_bending = reference.bending * size.bending <= 1150.0 * PSI;
    let weak_compression = reference.compression * size.compression <= 750.0 * PSI;
    PerValue {
        bending: if weak_bending { 1.0 } else { 0.85 },
        tension: 1.0,
        shear: 0.97,
        bearing: WET_BEARING,
        compression: if weak_compression { 1.0 } else { 0.8 },
        elasticity: 0.9,
    }
}

/// An ordinary outdoor temperature, K: no factor on the timber up to 100 °F. Source: NDS 2018 Table 2.3.3.
pub const ORDINARY_TEMPERATURE: f64 = 293.15;

/// Temperature factor Ct for a sustained temperature (K) up to 150 °F. Source: NDS 2018 Table 2.3.3.
///
/// # Errors
/// Above 150 °F (338.7 K).
pub fn temperature_factor(temperature: f64, wet: bool) -> Result<PerValue, FormulaError> {
    within("the wood's sustained temperature", temperature, 0.0, fahrenheit(150.0), "at most 150 °F")?;
    let (stiff, others) = match temperature {
        t if t <= fahrenheit(100.0) => (1.0, 1.0),
        t if t <= fahrenheit(125.0) => (0.9, if wet { 0.7 } else { 0.8 }),
        _ => (0.9, if wet { 0.5 } else { 0.7 }),
    };
    Ok(PerValue { bending: others, tension: stiff, shear: others, bearing: others, compression: others, elasticity: stiff })
}

fn fahrenheit(degrees: f64) -> f64 {
    (degrees + 459.67) * 5.0 / 9.0 + 1e-9
}

/// Incising factor Ci. Source: NDS 2018 Table 4.3.8.
#[must_use]
pub fn incising_factor(incised: bool) -> PerValue {
    let (strength, elasticity) = if incised { (0.8, 0.95) } else { (1.0, 1.0) };
    PerValue { bending: strength, tension: strength, shear: strength, bearing: 1.0, compression: strength, elasticity }
}

/// Adjusted design values with every factor in them but stability (CL, CP), flat use and bearing area.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Adjusted {
    /// Fb*: all factors but CL and Cfu, Pa.
    pub bending: f64,
    /// F′t, Pa.
    pub tension: f64,
    /// F′v, Pa.
    pub shear: f64,
    /// F′c⊥ without Cb, Pa.
    pub bearing: f64,
    /// Fc*: all factors but CP, Pa.
    pub compression: f64,
    /// E′, Pa.
    pub elasticity: f64,
    /// E′min, Pa.
    pub elasticity_min: f64,
    /// CD.
    pub duration: f64,
    /// CM.
    pub wet: PerValue,
    /// Ct.
    pub temperature: PerValue,
    /// CF.
    pub size: SizeFactors,
    /// Cfu, to multiply into bending for a piece laid flat.
    pub flat_use: f64,
    /// Cfu, to multiply into bending about the weak axis, whichever way the piece stands.
    pub weak_axis: f64,
    /// Ci.
    pub incising: PerValue,
    /// Cr.
    pub repetitive: f64,
}

/// Repetitive member factor Cr. Source: NDS 2018 §4.3.9.
pub const REPETITIVE: f64 = 1.15;

/// Adjusts reference values (Pa) to a section and its use. Source: NDS 2018 Table 4.3.1 (ASD).
///
/// # Errors
/// Above 150 °F.
pub fn adjust(reference: &Reference, section: Rectangle, used: &Use) -> Result<Adjusted, FormulaError> {
    let duration = load_duration_factor(used.duration);
    let size = size_factors(used.table, section);
    let wet = wet_service_factor(used.wet, reference, &size, used.table);
    let temperature = temperature_factor(used.temperature, used.wet)?;
    let incising = incising_factor(used.incised);
    let repetitive = if used.repetitive && !matches!(used.table, Table::T4D | Table::T5A) { REPETITIVE } else { 1.0 };
    let all = |of: fn(&PerValue) -> f64| of(&wet) * of(&temperature) * of(&incising);
    Ok(Adjusted {
        bending: reference.bending * duration * all(|f| f.bending) * size.bending * repetitive,
        tension: reference.tension * duration * all(|f| f.tension) * size.tension,
        shear: reference.shear * duration * all(|f| f.shear),
        bearing: reference.bearing * all(|f| f.bearing),
        compression: reference.compression * duration * all(|f| f.compression) * size.compression,
        elasticity: reference.elasticity * all(|f| f.elasticity),
        elasticity_min: reference.elasticity_min * all(|f| f.elasticity),
        duration,
        wet,
        temperature,
        size,
        flat_use: flat_use_factor(used.table, section),
        weak_axis: flat_use_factor(used.table, section.laid_flat()),
        incising,
        repetitive,
    })
}
