//! Weight against the wind: what a footing and the soil on it hold down, and how deep it has to be.
//!
//! In: sizes, densities, wind uplift, dead load. Out: weights, what is left, margins.
//! It must not know the site. Source: statics; ASCE 7-16 §2.4.1, §2.3.1; EN 1990 Table A1.2(A); IBC 2018 §1809.

/// How the footing's own weight counts against uplift in allowable-stress design.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reading {
    /// 0.6 on all dead load, the footing included: the words of ASCE 7-16 §2.4.1(7), and the safe reading.
    FactorEverything,
    /// 0.6 on the structure, the footing in full: some engineers' reading, for its weight is known well.
    FootingInFull,
}

/// Which code's combination holds the footing down.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Code {
    /// 0.6·D against 0.6·W. Source: ASCE 7-16 §2.4.1(7).
    Asd(Reading),
    /// 0.9·D against 1.0·W. Source: ASCE 7-16 §2.3.1(5).
    Strength,
    /// 0.9·G against 1.5·W. Source: EN 1990 Table A1.2(A), eq. 6.10.
    Eurocode,
}

/// Demand (the wind's pull, factored) and capacity (the weights, factored), N. It holds while demand ≤ capacity.
#[must_use]
pub fn uplift(code: Code, wind: f64, structure: f64, footing: f64) -> (f64, f64) {
    match code {
        Code::Asd(Reading::FactorEverything) => (0.6 * wind, 0.6 * (structure + footing)),
        Code::Asd(Reading::FootingInFull) => (0.6 * wind, 0.6 * structure + footing),
        Code::Strength => (wind, 0.9 * (structure + footing)),
        Code::Eurocode => (1.5 * wind, 0.9 * (structure + footing)),
    }
}
