//! What keeps the rolling roof on its tracks, the clamps off: its weight, its wheels, its keepers.

use super::body::Formula;
use super::hold_down::{Case, cases, supports};
use super::tables::table;
use crate::calc::FormulaError;
use crate::calc::holddown::{self, CONTACT_STIFFNESS, Combination, MOST_TIMES, Resultant, Support, Tie, Tipping};
use smol_str::SmolStr;

include!(concat!(env!("OUT_DIR"), "/formulas_hold_down_rolling.rs"));

/// Places between two at which a keeper of the building begins or ceases to hold.
const BETWEEN: u32 = 8;
/// How near such a place is looked at, m.
const NEAR: f64 = 1e-6;

/// A keeper: where it holds the shut roof from its centre, what it may be pulled with, whether it rolls with the roof.
#[derive(Clone, Copy)]
struct Keeper {
    x: f64,
    y: f64,
    rating: f64,
    rides: bool,
}

struct Roof<'a> {
    keepers: Vec<Keeper>,
    wheels: Vec<Support>,
    cases: Vec<Case<'a>>,
    /// The weight as a downward force, at its place.
    weight: Resultant,
    /// From the centre to its closed and to its open end, m.
    ends: (f64, f64),
    combination: Combination,
}

/// What comes out at the place where the wind may grow least.
struct First {
    tipping: Tipping,
    case: SmolStr,
    travel: f64,
}

impl Roof<'_> {
    /// Travels to look at: both ends, wherever a keeper of the building begins or ceases to hold, and some between.
    fn travels(&self, from: f64, to: f64) -> Vec<f64> {
        let mut places = vec![from, to];
        for keeper in self.keepers.iter().filter(|keeper| !keeper.rides) {
            for end in [self.ends.0, self.ends.1] {
                places.extend([keeper.x - end - NEAR, keeper.x - end + NEAR].into_iter().filter(|at| from < *at && *at < to));
            }
        }
        if places.len() > 2 || self.keepers.iter().any(|keeper| !keeper.rides) {
            places.sort_by(f64::total_cmp);
            let pairs: Vec<(f64, f64)> = places.iter().copied().zip(places.iter().copied().skip(1)).collect();
            places.extend(pairs.iter().flat_map(|(a, b)| (1..BETWEEN).map(move |at| a + (b - a) * f64::from(at) / f64::from(BETWEEN))));
        }
        places
    }

    /// Which keepers hold the roof when it has rolled so far, and where, from its centre.
    fn ties(&self, travel: f64) -> Vec<(usize, Tie)> {
        let tie = |(index, keeper): (usize, &Keeper)| {
            let x = if keeper.rides { keeper.x } else { keeper.x - travel };
            let holds = keeper.rides || (self.ends.0 <= x && x <= self.ends.1);
            holds.then_some((index, Tie { at: Support::new(x, keeper.y), rating: keeper.rating }))
        };
        self.keepers.iter().enumerate().filter_map(tie).collect()
    }

    fn first(&self, travels: &[f64]) -> Result<Option<First>, FormulaError> {
        let working = self.combination.wind_factor() / self.combination.working_load_divisor();
        let weight = self.weight.times(self.combination.dead_factor() / self.combination.working_load_divisor());
        let mut first: Option<First> = None;
        for travel in travels {
            let ties: Vec<Tie> = self.ties(*travel).into_iter().map(|(_, tie)| tie).collect();
            for case in &self.cases {
                let tipping = holddown::tipping(&ties, &self.wheels, case.wind.times(working), weight)?;
                if first.as_ref().is_none_or(|before| tipping.factor < before.tipping.factor) {
                    first = Some(First { tipping, case: case.name.clone(), travel: *travel });
                }
            }
        }
        Ok(first)
    }

    /// Each keeper's hardest pull with its case; whether the keepers hold the roof in every case, however strong they are.
    /// Where they do not, each that is there is pulled with all that it is rated for before the roof goes.
    fn pulls(&self, travels: &[f64]) -> Result<(Vec<(f64, SmolStr)>, bool), FormulaError> {
        let mut hardest = vec![(0.0_f64, SmolStr::default()); self.keepers.len()];
        let mut stable = true;
        for travel in travels {
            let ties = self.ties(*travel);
            let at: Vec<Support> = ties.iter().map(|(_, tie)| tie.at).collect();
            for case in &self.cases {
                let pulls = match holddown::share(&at, &self.wheels, case.load) {
                    Ok(shares) => shares.clamps,
                    Err(FormulaError::Unstable { .. }) => {
                        stable = false;
                        ties.iter().map(|(_, tie)| tie.rating).collect()
                    }
                    Err(error) => return Err(error),
                };
                for ((keeper, _), pull) in ties.iter().zip(pulls) {
                    if let Some(old) = hardest.get_mut(*keeper)
                        && pull > old.0
                    {
                        *old = (pull, case.name.clone());
                    }
                }
            }
        }
        Ok((hardest, stable))
    }
}

impl Formula for MovingHold {
    fn answer(self) -> Result<table::MovingHold, FormulaError> {
        let roof = self.roof()?;
        let asked = self.travels.as_deref().unwrap_or_default();
        let least = asked.iter().copied().fold(f64::INFINITY, f64::min);
        let most = asked.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let travels = if asked.is_empty() { vec![0.0] } else { roof.travels(least, most) };
        let first = match roof.first(&travels) {
            Ok(Some(first)) => first,
            Ok(None) => return Err(FormulaError::domain("the winds", "tables of roof-wind functions")),
            Err(FormulaError::Unstable { what }) => return Ok(never(what, roof.keepers.len())),
            Err(error) => return Err(error),
        };
        let (pulls, stable) = roof.pulls(&travels)?;
        let (pulls, pull_cases) = pulls.into_iter().unzip();
        let tipping = first.tipping;
        Ok(table::MovingHold {
            factor: tipping.factor.min(MOST_TIMES),
            stable,
            why: SmolStr::new_static(tipping.lifts),
            case: first.case,
            travel: Some(first.travel),
            wind_moment: Some(tipping.wind),
            weight_moment: Some(tipping.weight),
            keepers_moment: Some(tipping.ties),
            line_along: Some(tipping.line.iter().map(|place| place.0).collect()),
            line_across: Some(tipping.line.iter().map(|place| place.1).collect()),
            pulls,
            pull_cases,
        })
    }
}

impl MovingHold {
    fn roof(&self) -> Result<Roof<'_>, FormulaError> {
        let combination = Combination::from(self.combination);
        let centre = (self.centre_station, self.centre_offset);
        let weight = Resultant::at(self.weight, self.weight_station - centre.0, self.weight_offset - centre.1);
        let places = supports(&self.keeper_stations, &self.keeper_offsets, centre, 1.0, "keepers")?;
        if self.ratings.len() != places.len() || self.rides.len() != places.len() {
            return Err(FormulaError::domain("the keepers", "given with one place, one rating, and whether they ride, each"));
        }
        let keepers = places.iter().zip(&self.ratings).zip(&self.rides);
        Ok(Roof {
            keepers: keepers.map(|((place, rating), rides)| Keeper { x: place.x, y: place.y, rating: *rating, rides: *rides }).collect(),
            wheels: supports(&self.wheel_stations, &self.wheel_offsets, centre, CONTACT_STIFFNESS, "wheels")?,
            cases: self.winds.iter().flat_map(|wind| cases(wind, weight, self.arm, combination)).collect(),
            weight,
            ends: (self.roof_from.unwrap_or_default() - centre.0, self.roof_to.unwrap_or_default() - centre.0),
            combination,
        })
    }
}

/// The answer for a roof that no wind is needed to tip.
fn never(what: String, keepers: usize) -> table::MovingHold {
    table::MovingHold {
        factor: 0.0,
        stable: false,
        why: what.into(),
        case: SmolStr::new_static("no wind is needed"),
        travel: None,
        wind_moment: None,
        weight_moment: None,
        keepers_moment: None,
        line_along: None,
        line_across: None,
        pulls: vec![0.0; keepers],
        pull_cases: vec![SmolStr::default(); keepers],
    }
}
