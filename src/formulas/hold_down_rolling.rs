//! What keeps the rolling roof on its tracks, the clamps off: its weight, its wheels, its keepers.

use super::body::{may, needs};
use super::hold_down::{COMBINATIONS, Case, cases, combination, supports};
use crate::calc::FormulaError;
use crate::calc::holddown::{self, CONTACT_STIFFNESS, Combination, Resultant, Support, Tie, Tipping};
use crate::units::Dim;
use crate::values::Arguments;
use crate::values::{Body, Function, Takes};
use crate::values::{Record, Value};
use smol_str::SmolStr;

const FORCE: Takes = Takes::Quantity(Dim::FORCE);
const LENGTH: Takes = Takes::Quantity(Dim::LENGTH);
/// More than this many times the wind is said to be this many: what no wind turns has no number.
const MOST: f64 = 1000.0;
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

struct Roof {
    keepers: Vec<Keeper>,
    wheels: Vec<Support>,
    cases: Vec<Case>,
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

impl Roof {
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

fn winds(a: &Arguments) -> Result<Vec<Record>, FormulaError> {
    let record = |value: Value| match value {
        Value::Record(record) => Ok(record.as_ref().clone()),
        _ => Err(FormulaError::domain("the winds", "tables of roof-wind functions")),
    };
    a.values(0).into_iter().map(record).collect()
}

fn moving_hold(a: &Arguments) -> Result<Value, FormulaError> {
    let combination = combination(a.word(13));
    let centre = (a.si(4), a.si(5));
    let weight = Resultant::at(a.si(1), a.si(2) - centre.0, a.si(3) - centre.1);
    let rides: Vec<bool> = a.values(9).iter().map(|value| matches!(value, Value::Flag(true))).collect();
    let places = supports(&a.list(6), &a.list(7), centre, 1.0, "keepers")?;
    let ratings = a.list(8);
    if ratings.len() != places.len() || rides.len() != places.len() {
        return Err(FormulaError::domain("the keepers", "given with one place, one rating, and whether they ride, each"));
    }
    let keepers = places.iter().zip(ratings).zip(rides);
    let mut all = Vec::new();
    for wind in winds(a)? {
        all.extend(cases(&wind, weight, a.si(12), combination)?);
    }
    let roof = Roof {
        keepers: keepers.map(|((place, rating), rides)| Keeper { x: place.x, y: place.y, rating, rides }).collect(),
        wheels: supports(&a.list(10), &a.list(11), centre, CONTACT_STIFFNESS, "wheels")?,
        cases: all,
        weight,
        ends: (a.optional(14).unwrap_or(0.0) - centre.0, a.optional(15).unwrap_or(0.0) - centre.0),
        combination,
    };
    let asked = a.list(16);
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
    let tipping = first.tipping;
    let moment = |si: f64| Value::quantity(si, Dim::MOMENT);
    let length = |si: f64| Value::quantity(si, Dim::LENGTH);
    Ok(Value::record(vec![
        ("factor", Value::number(tipping.factor.min(MOST))),
        ("stable", Value::Flag(stable)),
        ("why", Value::Text(SmolStr::new_static(tipping.lifts))),
        ("case", Value::Text(first.case)),
        ("travel", length(first.travel)),
        ("wind_moment", moment(tipping.wind)),
        ("weight_moment", moment(tipping.weight)),
        ("keepers_moment", moment(tipping.ties)),
        ("line_along", Value::list_of(tipping.line.iter().map(|place| place.0), Dim::LENGTH)),
        ("line_across", Value::list_of(tipping.line.iter().map(|place| place.1), Dim::LENGTH)),
        ("pulls", Value::list_of(pulls.iter().map(|pull| pull.0), Dim::FORCE)),
        ("pull_cases", Value::List(pulls.into_iter().map(|pull| Value::Text(pull.1)).collect())),
    ]))
}

/// The answer for a roof that no wind is needed to tip.
fn never(what: String, keepers: usize) -> Value {
    Value::record(vec![
        ("factor", Value::number(0.0)),
        ("stable", Value::Flag(false)),
        ("why", Value::Text(what.into())),
        ("case", Value::Text(SmolStr::new_static("no wind is needed"))),
        ("pulls", Value::list_of(std::iter::repeat_n(0.0, keepers), Dim::FORCE)),
        ("pull_cases", Value::List(std::iter::repeat_n(Value::Text(SmolStr::default()), keepers).collect())),
    ])
}

/// The table of this subject.
pub(super) const FUNCTIONS: &[Function] = &[Function {
    name: "moving_hold",
    doc: "what keeps a rolling roof on its tracks: how many times the wind may come before the roof turns about the line that gives way first, its weight and its keepers holding it, each at its rating; and each keeper's hardest pull over all wind cases",
    parameters: &[
        needs("winds", Takes::Anything, "the tables of roof-wind functions"),
        needs("weight", FORCE, "dead weight of the roof"),
        needs("weight_station", LENGTH, "where the weight acts, along the travel"),
        needs("weight_offset", LENGTH, "where the weight acts, across the travel"),
        needs("centre_station", LENGTH, "centre of the roof's plan, along the travel"),
        needs("centre_offset", LENGTH, "centre of the roof's plan, across the travel"),
        needs("keeper_stations", Takes::List(Dim::LENGTH), "the keepers, along the travel, roof shut"),
        needs("keeper_offsets", Takes::List(Dim::LENGTH), "the keepers, across the travel"),
        needs("ratings", Takes::List(Dim::FORCE), "what each may be pulled with"),
        needs("rides", Takes::Anything, "whether each rolls with the roof, yes or no"),
        needs("wheel_stations", Takes::List(Dim::LENGTH), "the wheels, along the travel"),
        needs("wheel_offsets", Takes::List(Dim::LENGTH), "the wheels, across the travel"),
        needs("arm", LENGTH, "height of the eaves above the level at which the roof is held"),
        needs("combination", Takes::Word(COMBINATIONS), "the load combination; see net_uplift"),
        may("roof_from", LENGTH, "station of its closed end, roof shut: a keeper that does not ride holds what lies over it"),
        may("roof_to", LENGTH, "station of its open end, roof shut"),
        may("travels", Takes::List(Dim::LENGTH), "from where to where it rolls, if a keeper does not ride"),
    ],
    gives: "table: factor on the wind (1000 at the most), stable (whether the keepers would hold it, however strong they were), why, case, travel; about the line that gives way first wind_moment, weight_moment and keepers_moment, line_along and line_across of two places on it from the roof's centre; pulls and pull_cases in the order of the keepers",
    source: "rigid-body statics (moment balance about every line through two places that hold it); ASCE 7-16 §2.4.1; EN 1990:2002 6.4.2, Table A1.2(A)",
    remembered: false,
    body: Body::Formula(moving_hold),
}];
