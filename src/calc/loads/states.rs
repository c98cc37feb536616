//! The states of the roof in which a member is worked out, and the combinations of each in both codes.
//!
//! In: the effect of each action alone. Out: the largest combined effect of a state.
//! It must not know which member it is.

use super::{ASCE7_ASD, Combination, Combined, EnState, PerAction, Psi, en1990, largest};
use crate::calc::FormulaError;

/// Whose combinations.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Code {
    /// ASCE 7-16 §2.4.1, allowable stress.
    Asce7,
    /// EN 1990 eq. 6.10 with the recommended factors, at or below 1000 m.
    Eurocode,
    /// The same above 1000 m, where snow stays and counts for more beside the wind.
    EurocodeHigh,
}

/// What the combined effect is compared with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Level {
    /// The strength of a member: EN 1990 Table A1.2(B). ASCE 7 makes no difference: allowable stress both times.
    Strength,
    /// A rated or a presumed value at the level of working loads: EN 1990 eq. 6.14b.
    Working,
}

/// The state of the roof.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum State {
    /// Shut, dead load only.
    Shut,
    /// Rolling.
    Moving,
    /// Shut, snow.
    Snow,
    /// Shut, people on it who mend it.
    Live,
    /// Shut, the design wind presses it down, with its part of snow or people.
    Wind,
    /// Left open: snow or a storm finds it at its open stop.
    Open,
}

impl State {
    /// All, in the order of lists of forces.
    pub const ALL: [Self; 6] = [Self::Shut, Self::Moving, Self::Snow, Self::Live, Self::Wind, Self::Open];

    /// The word for it in tables.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Shut => "shut",
            Self::Moving => "moving",
            Self::Snow => "snow",
            Self::Live => "live",
            Self::Wind => "wind",
            Self::Open => "open",
        }
    }

    /// What acts in this state. While the roof rolls `moving` is all that presses, the dead load included.
    const fn acting(self, code: Code) -> PerAction {
        let none =
            PerAction { dead: 0.0, moving: 0.0, roof_live: 0.0, snow: 0.0, wind: 0.0, open_dead: 0.0, open_snow: 0.0, open_wind: 0.0 };
        match (self, code) {
            (Self::Shut, _) => PerAction { dead: 1.0, ..none },
            (Self::Moving, _) => PerAction { moving: 1.0, ..none },
            (Self::Snow, _) => PerAction { dead: 1.0, snow: 1.0, ..none },
            (Self::Live, _) => PerAction { dead: 1.0, roof_live: 1.0, ..none },
            (Self::Wind, Code::Asce7) => PerAction { dead: 1.0, roof_live: 1.0, snow: 1.0, wind: 1.0, ..none },
            // EN 1991-1-1 §3.3.2(1): people on a roof need not be combined with snow or wind.
            (Self::Wind, Code::Eurocode | Code::EurocodeHigh) => PerAction { dead: 1.0, snow: 1.0, wind: 1.0, ..none },
            // Nobody is on it.
            (Self::Open, _) => PerAction { open_dead: 1.0, open_snow: 1.0, open_wind: 1.0, ..none },
        }
    }

    /// The action that this state is about.
    const fn own(self, factors: &PerAction) -> f64 {
        match self {
            Self::Shut => factors.dead,
            Self::Moving => factors.moving,
            Self::Snow => factors.snow,
            Self::Live => factors.roof_live,
            Self::Wind => factors.wind,
            Self::Open => factors.open_snow + factors.open_wind,
        }
    }
}

/// Each factor no more than the other's.
fn no_more(one: &PerAction, other: &PerAction) -> bool {
    let pairs = [(one.dead, other.dead), (one.moving, other.moving), (one.roof_live, other.roof_live), (one.snow, other.snow)];
    let open = one.open_dead <= other.open_dead && one.open_snow <= other.open_snow && one.open_wind <= other.open_wind;
    pairs.iter().all(|(a, b)| a <= b) && one.wind <= other.wind && open
}

/// The combinations of one state, without those that another one covers.
///
/// Source: ASCE 7-16 §2.4.1; EN 1990 eq. 6.10 with Table A1.2(B), eq. 6.14b; EN 1991-1-1 §3.3.2(1).
#[must_use]
pub fn combinations(state: State, code: Code, level: Level) -> Vec<Combination> {
    let of_level = match level {
        Level::Strength => EnState::Strength,
        Level::Working => EnState::Characteristic,
    };
    let all = match code {
        Code::Asce7 => ASCE7_ASD.to_vec(),
        Code::Eurocode => en1990(of_level, &Psi::recommended(1.0)),
        Code::EurocodeHigh => en1990(of_level, &Psi::recommended_high_altitude(1.0)),
    };
    let acting = state.acting(code);
    let kept = all.into_iter().filter_map(|combination| {
        let mut f = combination.factors;
        if state == State::Open {
            (f.open_dead, f.open_snow, f.open_wind) = (f.dead, f.snow, f.wind);
        }
        let factors = PerAction {
            dead: f.dead * acting.dead,
            moving: f.moving * acting.moving,
            roof_live: f.roof_live * acting.roof_live,
            snow: f.snow * acting.snow,
            wind: f.wind * acting.wind,
            open_dead: f.open_dead * acting.open_dead,
            open_snow: f.open_snow * acting.open_snow,
            open_wind: f.open_wind * acting.open_wind,
        };
        (state.own(&factors) > 0.0).then_some(Combination { factors, ..combination })
    });
    let mut chosen: Vec<Combination> = Vec::new();
    for combination in kept {
        if chosen.iter().any(|other| no_more(&combination.factors, &other.factors)) {
            continue;
        }
        chosen.retain(|other| !no_more(&other.factors, &combination.factors));
        chosen.push(combination);
    }
    chosen
}

/// The largest combined effect of a state.
///
/// # Errors
/// Where there is no combination, which cannot be.
pub fn effect(effects: &PerAction, state: State, code: Code, level: Level) -> Result<Combined, FormulaError> {
    largest(effects, &combinations(state, code, level))
}
