//! Holding the roof down: combinations, and each clamp's share by rigid-body statics.

use super::arguments::Arguments;
use super::{Body, Function, Takes, may, needs};
use crate::calc::FormulaError;
use crate::calc::holddown::{self, CONTACT_STIFFNESS, Combination, Resultant, Support};
use crate::units::Dim;
use crate::values::value::{Record, Value};
use smol_str::SmolStr;

const FORCE: Takes = Takes::Quantity(Dim::FORCE);
const LENGTH: Takes = Takes::Quantity(Dim::LENGTH);
const COMBINATIONS: &[&str] = &["asd", "lrfd", "equilibrium", "strength"];

fn combination(word: &str) -> Combination {
    match word {
        "lrfd" => Combination::Lrfd,
        "equilibrium" => Combination::Equilibrium,
        "strength" => Combination::Strength,
        _ => Combination::Asd,
    }
}

fn net_uplift(a: &Arguments) -> Result<Value, FormulaError> {
    let combination = combination(a.word(2));
    let net = combination.net(Resultant::at(a.si(0), 0.0, 0.0), Resultant::at(a.si(1), 0.0, 0.0));
    Ok(Value::quantity(net.force / combination.working_load_divisor(), Dim::FORCE))
}

/// One wind case of a roof's table as a load on its hold-downs, in plan coordinates about the roof's centre.
struct Case {
    name: SmolStr,
    uplift: f64,
    load: Resultant,
}

fn cases(wind: &Record, dead: Resultant, arm: f64, combination: Combination) -> Result<Vec<Case>, FormulaError> {
    let wrong = || FormulaError::domain("the wind", "the table of a roof-wind function");
    let Some(Value::List(items)) = wind.get("cases") else { return Err(wrong()) };
    let divisor = combination.working_load_divisor();
    items
        .iter()
        .map(|item| {
            let Value::Record(case) = item else { return Err(wrong()) };
            let number = |name: &str| case.get(name).and_then(Value::si).ok_or_else(wrong);
            let (name, direction) = match (case.get("case"), case.get("direction")) {
                (Some(Value::Text(name)), Some(Value::Word(direction))) => (name.clone(), direction.clone()),
                _ => return Err(wrong()),
            };
            let (along, across) = match direction.as_str() {
                "opening" => (1.0, 0.0),
                "closing" => (-1.0, 0.0),
                "left" => (0.0, 1.0),
                _ => (0.0, -1.0),
            };
            let (drag, drag_moment) = (number("drag")?, number("drag_moment")?);
            let lifting =
                Resultant { force: number("uplift")?, moment_along: number("moment_along")?, moment_across: number("moment_across")? };
            // The drag acts above the level at which clamps and wheels hold the roof: it tips it as well.
            let tipping = Resultant::overturning(along, across, drag * arm + drag_moment);
            let net = combination.net(lifting.and(tipping), dead).times(1.0 / divisor);
            Ok(Case { name, uplift: net.force, load: net })
        })
        .collect()
}

fn supports(along: &[f64], across: &[f64], centre: (f64, f64), stiffness: f64, what: &str) -> Result<Vec<Support>, FormulaError> {
    if along.len() != across.len() {
        return Err(FormulaError::domain(format!("the {what}"), "given with one station and one offset each"));
    }
    Ok(along.iter().zip(across).map(|(x, y)| Support { x: x - centre.0, y: y - centre.1, stiffness }).collect())
}

fn hold_down(a: &Arguments) -> Result<Value, FormulaError> {
    let Some(wind) = a.record(0) else { return Err(FormulaError::domain("the wind", "the table of a roof-wind function")) };
    let combination = combination(a.word(11));
    let centre = (a.si(4), a.si(5));
    let dead = Resultant::at(a.si(1), a.si(2) - centre.0, a.si(3) - centre.1);
    let clamps = supports(&a.list(6), &a.list(7), centre, 1.0, "clamps")?;
    let wheels = supports(&a.list(8), &a.list(9), centre, CONTACT_STIFFNESS, "wheels")?;
    let cases = cases(wind, dead, a.si(10), combination)?;
    let loads: Vec<Resultant> = cases.iter().map(|case| case.load).collect();
    let worst_case = cases.iter().max_by(|a, b| a.uplift.total_cmp(&b.uplift));
    let net = worst_case.map_or(0.0, |case| case.uplift);
    let mut fields = vec![
        ("net_uplift", Value::quantity(net, Dim::FORCE)),
        ("net_case", Value::Text(worst_case.map(|case| case.name.clone()).unwrap_or_default())),
    ];
    let forgotten = a.optional(12);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a number that is no clamp's is refused below")]
    let left_open = forgotten.map(|number| (number.max(0.0) as usize).wrapping_sub(1));
    match pulls(&clamps, &wheels, &loads, left_open) {
        Ok(pulls) => {
            fields.push(("stable", Value::Flag(true)));
            fields.push(("why", Value::Text(SmolStr::default())));
            fields.push(("pulls", Value::list_of(pulls.iter().map(|pull| pull.0), Dim::FORCE)));
            let names = pulls.iter().map(|(_, case)| cases.get(*case).map(|case| case.name.clone()).unwrap_or_default());
            fields.push(("pull_cases", Value::List(names.map(Value::Text).collect())));
            fields.push(("worst", Value::quantity(pulls.iter().map(|pull| pull.0).fold(0.0, f64::max), Dim::FORCE)));
        }
        Err(FormulaError::Unstable { what }) => {
            fields.push(("stable", Value::Flag(false)));
            fields.push(("why", Value::Text(what.into())));
        }
        Err(error) => return Err(error),
    }
    Ok(Value::record(fields))
}

/// For each clamp its hardest pull and the case that gives it.
fn pulls(clamps: &[Support], wheels: &[Support], loads: &[Resultant], left_open: Option<usize>) -> Result<Vec<(f64, usize)>, FormulaError> {
    match left_open {
        None => {
            let worst = holddown::envelope(clamps, wheels, loads)?;
            Ok(worst.into_iter().map(|worst| (worst.force, worst.case)).collect())
        }
        Some(open) => {
            let mut hardest = vec![(0.0_f64, 0); clamps.len()];
            for (case, load) in loads.iter().enumerate() {
                let shares = holddown::share_without(clamps, wheels, *load, open)?;
                for (old, new) in hardest.iter_mut().zip(shares.clamps) {
                    if new > old.0 {
                        *old = (new, case);
                    }
                }
            }
            Ok(hardest)
        }
    }
}

/// The table of this subject.
pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "net_uplift",
        doc: "factored wind uplift less the factored weight that holds it, at the level of working loads",
        parameters: &[
            needs("uplift", FORCE, "upward force of the wind"),
            needs("weight", FORCE, "dead weight that is surely there"),
            needs(
                "combination",
                Takes::Word(COMBINATIONS),
                "asd 0.6 W - 0.6 D; lrfd (1.0 W - 0.9 D) x 0.6; equilibrium (1.5 W - 0.9 G) / 1.5; strength (1.5 W - 1.0 G) / 1.5",
            ),
        ],
        gives: "force",
        source: "ASCE 7-16 §2.4.1, §2.3.1; EN 1990 Table A1.2(A), A1.2(B)",
        body: Body::Formula(net_uplift),
    },
    Function {
        name: "hold_down",
        doc: "each clamp's hardest pull over all wind cases: a rigid roof on clamps that only pull and wheels that only push, in force and moment balance about both axes",
        parameters: &[
            needs("wind", Takes::Record, "the table of a roof-wind function"),
            needs("weight", FORCE, "dead weight of the roof"),
            needs("weight_station", LENGTH, "where the weight acts, along the travel"),
            needs("weight_offset", LENGTH, "where the weight acts, across the travel"),
            needs("centre_station", LENGTH, "centre of the roof's plan, along the travel"),
            needs("centre_offset", LENGTH, "centre of the roof's plan, across the travel"),
            needs("clamp_stations", Takes::List(Dim::LENGTH), "the clamps, along the travel"),
            needs("clamp_offsets", Takes::List(Dim::LENGTH), "the clamps, across the travel"),
            needs("wheel_stations", Takes::List(Dim::LENGTH), "the wheels, along the travel"),
            needs("wheel_offsets", Takes::List(Dim::LENGTH), "the wheels, across the travel"),
            needs("arm", LENGTH, "height of the eaves above the level at which the roof is held"),
            needs("combination", Takes::Word(COMBINATIONS), "the load combination; see net_uplift"),
            may("left_open", Takes::Quantity(Dim::NUMBER), "the number of a clamp that was forgotten, from 1"),
        ],
        gives: "table: net_uplift, net_case, stable, why, pulls and pull_cases in the order of the clamps, worst",
        source: "rigid-body statics (force and moment balance); ASCE 7-16 §2.4.1; EN 1990 Table A1.2(A)",
        body: Body::Formula(hold_down),
    },
];
