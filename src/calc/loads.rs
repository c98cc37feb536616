//! Which actions stand together, and with what factors.
//!
//! Net uplift of a whole roof is in `holddown`; this is for members, joints and footings.
//!
//! In: the effect of each action alone (a force, a moment, a stress: anything linear, one sign convention for all).
//! Out: the combined effects, and the combination that governs.
//! It must not know where an effect comes from or what resists it.

pub mod states;

use super::FormulaError;

/// A number for each action: either its effect, or its factor in a combination.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct PerAction {
    /// Dead load: what stays.
    pub dead: f64,
    /// Wheels that roll across. Taken as a live load, as crane wheels are (ASCE 7-16 §4.9; EN 1991-3).
    pub moving: f64,
    /// Roof live load: people and material on the roof.
    pub roof_live: f64,
    /// Snow.
    pub snow: f64,
    /// Wind, at the level of the code's own design wind (strength level in ASCE 7-16; characteristic in EN 1991-1-4).
    pub wind: f64,
    /// Dead load with the roof left open, parked where it stands then.
    pub open_dead: f64,
    /// Snow on the roof left open.
    pub open_snow: f64,
    /// Wind that presses the roof left open down, as `wind`.
    pub open_wind: f64,
}

impl PerAction {
    /// Two by two.
    #[must_use]
    pub fn with(&self, other: &Self, each: impl Fn(f64, f64) -> f64) -> Self {
        Self {
            dead: each(self.dead, other.dead),
            moving: each(self.moving, other.moving),
            roof_live: each(self.roof_live, other.roof_live),
            snow: each(self.snow, other.snow),
            wind: each(self.wind, other.wind),
            open_dead: each(self.open_dead, other.open_dead),
            open_snow: each(self.open_snow, other.open_snow),
            open_wind: each(self.open_wind, other.open_wind),
        }
    }

    /// This many times the same.
    #[must_use]
    pub fn times(&self, factor: f64) -> Self {
        self.with(self, |one, _| one * factor)
    }
}

/// One combination of actions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Combination {
    /// Clause of the code.
    pub clause: &'static str,
    /// The combination in the code's letters, or the action that leads it.
    pub text: &'static str,
    /// Factor of each action.
    pub factors: PerAction,
}

impl Combination {
    const fn new(clause: &'static str, text: &'static str, [dead, moving, roof_live, snow, wind]: [f64; 5]) -> Self {
        Self { clause, text, factors: PerAction { dead, moving, roof_live, snow, wind, open_dead: 0.0, open_snow: 0.0, open_wind: 0.0 } }
    }

    /// The combined effect, in the unit of the effects.
    #[must_use]
    pub fn of(&self, effects: &PerAction) -> f64 {
        let f = &self.factors;
        let shut = f.roof_live * effects.roof_live + f.snow * effects.snow + f.wind * effects.wind;
        let open = f.open_dead * effects.open_dead + f.open_snow * effects.open_snow + f.open_wind * effects.open_wind;
        f.dead * effects.dead + f.moving * effects.moving + shut + open
    }
}

/// Allowable-stress combinations without earthquake, flood or rain. Source: ASCE 7-16 §2.4.1, numbers 1 to 7.
pub const ASCE7_ASD: &[Combination] = &[
    Combination::new("ASCE 7-16 §2.4.1(1)", "D", [1.0, 0.0, 0.0, 0.0, 0.0]),
    Combination::new("ASCE 7-16 §2.4.1(2)", "D + L", [1.0, 1.0, 0.0, 0.0, 0.0]),
    Combination::new("ASCE 7-16 §2.4.1(3)", "D + Lr", [1.0, 0.0, 1.0, 0.0, 0.0]),
    Combination::new("ASCE 7-16 §2.4.1(3)", "D + S", [1.0, 0.0, 0.0, 1.0, 0.0]),
    Combination::new("ASCE 7-16 §2.4.1(4)", "D + 0.75L + 0.75Lr", [1.0, 0.75, 0.75, 0.0, 0.0]),
    Combination::new("ASCE 7-16 §2.4.1(4)", "D + 0.75L + 0.75S", [1.0, 0.75, 0.0, 0.75, 0.0]),
    Combination::new("ASCE 7-16 §2.4.1(5)", "D + 0.6W", [1.0, 0.0, 0.0, 0.0, 0.6]),
    Combination::new("ASCE 7-16 §2.4.1(6)", "D + 0.75L + 0.75(0.6W) + 0.75Lr", [1.0, 0.75, 0.75, 0.0, 0.45]),
    Combination::new("ASCE 7-16 §2.4.1(6)", "D + 0.75L + 0.75(0.6W) + 0.75S", [1.0, 0.75, 0.0, 0.75, 0.45]),
    Combination::new("ASCE 7-16 §2.4.1(7)", "0.6D + 0.6W", [0.6, 0.0, 0.0, 0.0, 0.6]),
];

/// Strength combinations without earthquake, flood or rain. Source: ASCE 7-16 §2.3.1, numbers 1 to 5.
pub const ASCE7_STRENGTH: &[Combination] = &[
    Combination::new("ASCE 7-16 §2.3.1(1)", "1.4D", [1.4, 0.0, 0.0, 0.0, 0.0]),
    Combination::new("ASCE 7-16 §2.3.1(2)", "1.2D + 1.6L + 0.5Lr", [1.2, 1.6, 0.5, 0.0, 0.0]),
    Combination::new("ASCE 7-16 §2.3.1(2)", "1.2D + 1.6L + 0.5S", [1.2, 1.6, 0.0, 0.5, 0.0]),
    Combination::new("ASCE 7-16 §2.3.1(3)", "1.2D + 1.6Lr + L", [1.2, 1.0, 1.6, 0.0, 0.0]),
    Combination::new("ASCE 7-16 §2.3.1(3)", "1.2D + 1.6S + L", [1.2, 1.0, 0.0, 1.6, 0.0]),
    Combination::new("ASCE 7-16 §2.3.1(3)", "1.2D + 1.6Lr + 0.5W", [1.2, 0.0, 1.6, 0.0, 0.5]),
    Combination::new("ASCE 7-16 §2.3.1(3)", "1.2D + 1.6S + 0.5W", [1.2, 0.0, 0.0, 1.6, 0.5]),
    Combination::new("ASCE 7-16 §2.3.1(4)", "1.2D + 1.0W + L + 0.5Lr", [1.2, 1.0, 0.5, 0.0, 1.0]),
    Combination::new("ASCE 7-16 §2.3.1(4)", "1.2D + 1.0W + L + 0.5S", [1.2, 1.0, 0.0, 0.5, 1.0]),
    Combination::new("ASCE 7-16 §2.3.1(5)", "0.9D + 1.0W", [0.9, 0.0, 0.0, 0.0, 1.0]),
];

/// Combination factors ψ of the variable actions for EN 1990.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Psi {
    /// ψ0 of each action: its share beside another leading action. `dead` is not read.
    pub combination: PerAction,
    /// ψ1: its frequent share.
    pub frequent: PerAction,
    /// ψ2: its lasting share.
    pub quasi_permanent: PerAction,
}

impl Psi {
    /// The recommended values of EN 1990 Table A1.1: snow at or below 1000 m outside the Nordic countries, wind,
    /// roofs (category H). Rolling wheels: ψ0 = 1.0, ψ1 = 0.9 of EN 1991-3 Table A.2, and ψ2 = `lasting_share`, the
    /// part of the wheel load that is always there (the roof's own weight over the whole).
    #[must_use]
    pub fn recommended(lasting_share: f64) -> Self {
        let per = |moving, snow, wind| PerAction { moving, snow, wind, ..PerAction::default() };
        Self { combination: per(1.0, 0.5, 0.6), frequent: per(0.9, 0.2, 0.2), quasi_permanent: per(lasting_share, 0.0, 0.0) }
    }

    /// The same above 1000 m, where snow stays: ψ = 0.7, 0.5, 0.2 (EN 1990 Table A1.1).
    #[must_use]
    pub fn recommended_high_altitude(lasting_share: f64) -> Self {
        let mut psi = Self::recommended(lasting_share);
        (psi.combination.snow, psi.frequent.snow, psi.quasi_permanent.snow) = (0.7, 0.5, 0.2);
        psi
    }
}

/// What a set of EN 1990 combinations is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EnState {
    /// Strength of members and joints: EN 1990 eq. 6.10 with Table A1.2(B): 1.35/1.0 G, 1.5 Q.
    Strength,
    /// Loss of balance (hold-down, overturning): eq. 6.10 with Table A1.2(A): 1.10/0.9 G, 1.5 Q.
    Equilibrium,
    /// Deflection, irreversible: eq. 6.14b.
    Characteristic,
    /// Deflection, reversible: eq. 6.15b.
    Frequent,
    /// Deflection that lasts: eq. 6.16b.
    QuasiPermanent,
}

/// The EN 1990 combinations of one state, each variable action leading in turn, and the dead load helping or harming.
///
/// The recommended factors, not a National Annex.
/// Source: EN 1990:2002 §6.4.3.2, §6.5.3, Tables A1.2(A), A1.2(B), A1.4.
#[must_use]
pub fn en1990(state: EnState, psi: &Psi) -> Vec<Combination> {
    let (harming, helping, variable) = match state {
        EnState::Strength => (1.35, 1.0, 1.5),
        EnState::Equilibrium => (1.10, 0.9, 1.5),
        _ => (1.0, 1.0, 1.0),
    };
    let clause = match state {
        EnState::Strength => "EN 1990 eq. 6.10, Table A1.2(B)",
        EnState::Equilibrium => "EN 1990 eq. 6.10, Table A1.2(A)",
        EnState::Characteristic => "EN 1990 eq. 6.14b",
        EnState::Frequent => "EN 1990 eq. 6.15b",
        EnState::QuasiPermanent => "EN 1990 eq. 6.16b",
    };
    let full = PerAction { dead: 1.0, moving: 1.0, roof_live: 1.0, snow: 1.0, wind: 1.0, ..PerAction::default() };
    let (leader, beside) = match state {
        EnState::Frequent => (psi.frequent, psi.quasi_permanent),
        EnState::QuasiPermanent => (psi.quasi_permanent, psi.quasi_permanent),
        _ => (full, psi.combination),
    };
    let mut list = Vec::new();
    for dead in [harming, helping] {
        let alone = PerAction { dead, ..PerAction::default() };
        let together = PerAction {
            dead,
            moving: variable * beside.moving,
            roof_live: variable * beside.roof_live,
            snow: variable * beside.snow,
            wind: variable * beside.wind,
            ..PerAction::default()
        };
        list.extend([
            Combination { clause, text: "dead load alone", factors: alone },
            Combination { clause, text: "wheels lead", factors: PerAction { moving: variable * leader.moving, ..together } },
            Combination { clause, text: "roof live load leads", factors: PerAction { roof_live: variable * leader.roof_live, ..together } },
            Combination { clause, text: "snow leads", factors: PerAction { snow: variable * leader.snow, ..together } },
            Combination { clause, text: "wind leads", factors: PerAction { wind: variable * leader.wind, ..together } },
        ]);
    }
    list
}

/// A combined effect and the combination that causes it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Combined {
    /// The effect, in the unit of the effects given.
    pub value: f64,
    /// The combination.
    pub combination: Combination,
}

/// The largest combined effect; for the smallest, turn the signs of the effects round. A variable action whose effect helps is left out of its combination, as the codes say
/// (ASCE 7-16 §2.3.1 exception and §2.4.1: "one or more loads not acting"; EN 1990 §6.4.3: unfavourable only).
///
/// # Errors
/// Where there is no combination.
pub fn largest(effects: &PerAction, combinations: &[Combination]) -> Result<Combined, FormulaError> {
    combinations
        .iter()
        .map(|combination| {
            let harming = |effect: f64| effect.max(0.0);
            let acting = PerAction {
                dead: effects.dead,
                moving: harming(effects.moving),
                roof_live: harming(effects.roof_live),
                snow: harming(effects.snow),
                wind: harming(effects.wind),
                open_dead: effects.open_dead,
                open_snow: harming(effects.open_snow),
                open_wind: harming(effects.open_wind),
            };
            Combined { value: combination.of(&acting), combination: *combination }
        })
        .max_by(|one, other| one.value.total_cmp(&other.value))
        .ok_or_else(|| FormulaError::domain("the list of load combinations", "at least one long"))
}
