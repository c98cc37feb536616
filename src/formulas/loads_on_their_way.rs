//! Loads on their way down: what each thing passes on, by what causes it, before load factors.
//!
//! In: forces by action. Out: tables of the same, and what they come to in each state by the code's combinations.
//! It must not know what carries them.

use super::body::Formula;
use super::tables::{table, word};
use super::take;
use crate::calc::FormulaError;
use crate::calc::loads::PerAction;
use crate::calc::loads::states::{Code, Level, State, effect};
use crate::values::Value;
use smol_str::SmolStr;

include!(concat!(env!("OUT_DIR"), "/formulas_loads_on_their_way.rs"));

// ── the words of it ──────────────────────────────────────────────────────────────────────────────

/// Whose combinations; `high` is ground above 1000 m.
pub(super) const fn combined_by(code: word::Code, high: bool) -> Code {
    match (code, high) {
        (word::Code::Asce7, _) => Code::Asce7,
        (word::Code::Eurocode, true) => Code::EurocodeHigh,
        (word::Code::Eurocode, false) => Code::Eurocode,
    }
}

impl From<word::Level> for Level {
    fn from(level: word::Level) -> Self {
        match level {
            word::Level::Strength => Self::Strength,
            word::Level::Working => Self::Working,
        }
    }
}

impl From<word::Case> for State {
    fn from(case: word::Case) -> Self {
        match case {
            word::Case::Shut => Self::Shut,
            word::Case::Moving => Self::Moving,
            word::Case::Snow => Self::Snow,
            word::Case::Live => Self::Live,
            word::Case::Wind => Self::Wind,
            word::Case::Open => Self::Open,
        }
    }
}

/// The state of the roof as each field of a table names it.
macro_rules! fields_that_name_a_state {
    ($($field:ident),*) => {$(
        impl From<State> for word::$field {
            fn from(state: State) -> Self {
                match state {
                    State::Shut => Self::Shut,
                    State::Moving => Self::Moving,
                    State::Snow => Self::Snow,
                    State::Live => Self::Live,
                    State::Wind => Self::Wind,
                    State::Open => Self::Open,
                }
            }
        }
    )*};
}
fields_that_name_a_state!(Case, BendingCase, ShearCase, BearingCase);

/// A state of the roof, as one says it.
pub(super) const fn when(state: State) -> SmolStr {
    SmolStr::new_static(match state {
        State::Shut => "with the roof shut",
        State::Moving => "as the roof rolls",
        State::Snow => "with snow on the roof",
        State::Live => "with people on the roof",
        State::Wind => "with the wind pressing down",
        State::Open => "left open in snow or storm",
    })
}

// ── tables of loads ──────────────────────────────────────────────────────────────────────────────

impl From<table::Loads> for PerAction {
    fn from(loads: table::Loads) -> Self {
        Self {
            dead: loads.dead,
            moving: loads.moving,
            roof_live: loads.live,
            snow: loads.snow,
            wind: loads.wind,
            open_dead: loads.open_dead,
            open_snow: loads.open_snow,
            open_wind: loads.open_wind,
        }
    }
}

impl From<PerAction> for table::Loads {
    fn from(load: PerAction) -> Self {
        Self {
            dead: load.dead,
            moving: load.moving,
            snow: load.snow,
            live: load.roof_live,
            wind: load.wind,
            open_dead: load.open_dead,
            open_snow: load.open_snow,
            open_wind: load.open_wind,
        }
    }
}

/// The forces of a list, each with its state.
pub(super) fn by_state(forces: &[f64]) -> Result<[(State, f64); State::ALL.len()], FormulaError> {
    // The last may be left out: what never stands open has no force then.
    if forces.len() != State::ALL.len() && forces.len() + 1 != State::ALL.len() {
        return Err(FormulaError::domain("the forces", "six: shut, moving, snow, live, wind, open, as `load_states` gives them"));
    }
    let mut states = State::ALL.map(|state| (state, 0.0));
    states.iter_mut().zip(forces).for_each(|(state, force)| state.1 = *force);
    Ok(states)
}

/// Tables of loads, however deep in lists.
pub(super) fn gathered(value: &Value) -> Result<Vec<PerAction>, FormulaError> {
    let all = take::flat(value).into_iter().map(take::table::<table::Loads>);
    all.map(|loads| loads.map(PerAction::from).ok_or_else(|| FormulaError::domain("the loads", "tables of `loads`"))).collect()
}

impl Formula for Loads {
    fn answer(self) -> Result<table::Loads, FormulaError> {
        Ok(table::Loads {
            dead: self.dead,
            moving: self.moving.unwrap_or(self.dead),
            snow: self.snow.unwrap_or_default(),
            live: self.live.unwrap_or_default(),
            wind: self.wind.unwrap_or_default(),
            open_dead: self.open_dead.unwrap_or(self.dead),
            open_snow: self.open_snow.unwrap_or_default(),
            open_wind: self.open_wind.unwrap_or_default(),
        })
    }
}

impl Formula for LoadsTogether {
    fn answer(self) -> Result<table::Loads, FormulaError> {
        Ok(gathered(&self.all)?.iter().fold(PerAction::default(), |sum, load| sum.with(load, |one, other| one + other)).into())
    }
}

impl Formula for HardestLoads {
    fn answer(self) -> Result<table::Loads, FormulaError> {
        Ok(gathered(&self.all)?.iter().fold(PerAction::default(), |most, load| most.with(load, f64::max)).into())
    }
}

impl Formula for PartOfLoads {
    fn answer(self) -> Result<table::Loads, FormulaError> {
        Ok(PerAction::from(self.load).times(self.part).into())
    }
}

impl Formula for LoadStates {
    fn answer(self) -> Result<table::LoadStates, FormulaError> {
        let (load, code, level) = (self.load.into(), combined_by(self.code, self.high), self.level.into());
        let of = |state| effect(&load, state, code, level);
        let all = [of(State::Shut)?, of(State::Moving)?, of(State::Snow)?, of(State::Live)?, of(State::Wind)?, of(State::Open)?];
        let [shut, moving, snow, live, wind, open] = all.map(|found| found.value);
        let by_state = State::ALL.into_iter().zip(&all);
        let worst = by_state.max_by(|(_, one), (_, other)| one.value.total_cmp(&other.value));
        let (state, most) = worst.unwrap_or((State::Shut, &all[0]));
        Ok(table::LoadStates {
            shut,
            moving,
            snow,
            live,
            wind,
            open,
            most: most.value,
            most_when: when(state),
            combination: SmolStr::new_static(most.combination.text),
            forces: vec![shut, moving, snow, live, wind, open],
        })
    }
}
