//! Holding the roof down: combinations, and each clamp's share by rigid-body statics.

use super::body::{may, needs};
use crate::calc::FormulaError;
use crate::calc::holddown::{self, CONTACT_STIFFNESS, Combination, Resultant, Support};
use crate::units::Dim;
use crate::values::Arguments;
use crate::values::{Body, Function, Takes};
use crate::values::{Record, Value};
use nalgebra::{Matrix3, Vector3};
use smol_str::SmolStr;

const FORCE: Takes = Takes::Quantity(Dim::FORCE);
const LENGTH: Takes = Takes::Quantity(Dim::LENGTH);
pub(super) const COMBINATIONS: &[&str] = &["asd", "lrfd", "equilibrium", "strength", "measured"];

pub(super) fn combination(word: &str) -> Combination {
    match word {
        "measured" => Combination::Measured,
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
pub(super) struct Case {
    pub(super) name: SmolStr,
    uplift: f64,
    /// Of the wind alone, before factors, its drag's tipping with it.
    pub(super) wind: Resultant,
    /// Along and across, before factors.
    drag: (f64, f64),
    /// How high above wheels and clamps it acts, m.
    arm: f64,
    /// Each zone of the roof: its name, its area, its pressure, its place.
    zones: Vec<Zone>,
    /// Net of the weight, factored.
    pub(super) load: Resultant,
}

/// A zone of the roof under one wind: plan area, m², pressure downwards, Pa, its middle from the roof's centre, m.
struct Zone {
    name: SmolStr,
    area: f64,
    coefficient: f64,
    pressure: f64,
    along: f64,
    across: f64,
}

fn zones(case: &Record) -> Vec<Zone> {
    let Some(Value::List(zones)) = case.get("zones") else { return Vec::new() };
    let zone = |value: &Value| {
        let Value::Record(zone) = value else { return None };
        let number = |name: &str| zone.get(name).and_then(Value::si);
        let Some(Value::Text(name)) = zone.get("zone") else { return None };
        Some(Zone {
            name: name.clone(),
            area: number("area")?,
            coefficient: number("coefficient")?,
            pressure: number("pressure")?,
            along: number("along")?,
            across: number("across")?,
        })
    };
    zones.iter().filter_map(zone).collect()
}

pub(super) fn cases(wind: &Record, dead: Resultant, arm: f64, combination: Combination) -> Result<Vec<Case>, FormulaError> {
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
            let wind = lifting.and(tipping);
            let net = combination.net(wind, dead).times(1.0 / divisor);
            let tips = drag * arm + drag_moment;
            let arm = if drag == 0.0 { 0.0 } else { tips / drag };
            Ok(Case { name, uplift: net.force, wind, drag: (drag * along, drag * across), arm, zones: zones(case), load: net })
        })
        .collect()
}

pub(super) fn supports(
    along: &[f64],
    across: &[f64],
    centre: (f64, f64),
    stiffness: f64,
    what: &str,
) -> Result<Vec<Support>, FormulaError> {
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
            let hardest = pulls.iter().max_by(|a, b| a.0.total_cmp(&b.0)).and_then(|(_, case)| cases.get(*case));
            if let (Some(case), None) = (hardest, left_open) {
                fields.extend(by_hand(case, &clamps, &wheels)?);
            }
        }
        Err(FormulaError::Unstable { what }) => {
            fields.push(("stable", Value::Flag(false)));
            fields.push(("why", Value::Text(what.into())));
        }
        Err(error) => return Err(error),
    }
    Ok(Value::record(fields))
}

/// What the wind of each case, before load factors, adds to each wheel; kept is what presses hardest.
fn wheel_wind(a: &Arguments) -> Result<Value, FormulaError> {
    let Some(wind) = a.record(0) else { return Err(FormulaError::domain("the wind", "the table of a roof-wind function")) };
    let wheels = supports(&a.list(3), &a.list(4), (a.si(1), a.si(2)), 1.0, "wheels")?;
    let mut hardest = vec![(0.0_f64, SmolStr::new_static("no wind presses it")); wheels.len()];
    for case in cases(wind, Resultant::default(), a.si(5), Combination::Asd)? {
        let shares = match holddown::share_both_ways(&wheels, case.wind) {
            Ok(shares) => shares,
            // No list of loads: whatever stands on these wheels is not known.
            Err(FormulaError::Unstable { what }) => {
                return Ok(Value::record(vec![
                    ("stands", Value::Flag(false)),
                    ("why", Value::Text(what.into())),
                    ("loads", Value::List(Vec::new().into())),
                ]));
            }
            Err(error) => return Err(error),
        };
        for (old, up) in hardest.iter_mut().zip(shares) {
            if -up > old.0 {
                *old = (-up, case.name.clone());
            }
        }
    }
    let worst = hardest.iter().max_by(|one, other| one.0.total_cmp(&other.0));
    Ok(Value::record(vec![
        ("stands", Value::Flag(true)),
        ("why", Value::Text(SmolStr::default())),
        ("loads", Value::list_of(hardest.iter().map(|(press, _)| *press), Dim::FORCE)),
        ("most", Value::quantity(worst.map_or(0.0, |(press, _)| *press), Dim::FORCE)),
        ("case", Value::Text(worst.map(|(_, case)| case.clone()).unwrap_or_default())),
    ]))
}

/// Each clamp's push by the drag of the wind, factored, and the case that gives it.
fn drag_shares(a: &Arguments) -> Result<Value, FormulaError> {
    let Some(wind) = a.record(0) else { return Err(FormulaError::domain("the wind", "the table of a roof-wind function")) };
    let combination = combination(a.word(5));
    let clamps = supports(&a.list(3), &a.list(4), (a.si(1), a.si(2)), 1.0, "clamps")?;
    let places: Vec<(f64, f64)> = clamps.iter().map(|clamp| (clamp.x, clamp.y)).collect();
    let factor = combination.wind_factor() / combination.working_load_divisor();
    let mut hardest = vec![(0.0_f64, 0.0_f64, 0.0_f64, SmolStr::default()); places.len()];
    for case in cases(wind, Resultant::default(), 0.0, combination)? {
        for (old, (x, y)) in hardest.iter_mut().zip(holddown::share_sideways(&places, case.drag)?) {
            let push = factor * x.hypot(y);
            (old.1, old.2) = (old.1.max(factor * x.abs()), old.2.max(factor * y.abs()));
            if push > old.0 {
                (old.0, old.3) = (push, case.name.clone());
            }
        }
    }
    Ok(Value::record(vec![
        ("pushes", Value::list_of(hardest.iter().map(|push| push.0), Dim::FORCE)),
        ("along", Value::list_of(hardest.iter().map(|push| push.1), Dim::FORCE)),
        ("across", Value::list_of(hardest.iter().map(|push| push.2), Dim::FORCE)),
        ("cases", Value::List(hardest.iter().map(|push| Value::Text(push.3.clone())).collect())),
    ]))
}

/// What each of several equal holds in a row along the travel takes of a push across it.
fn sideways_shares(a: &Arguments) -> Result<Value, FormulaError> {
    let places: Vec<(f64, f64)> = a.list(2).into_iter().map(|station| (station - a.si(1), 0.0)).collect();
    let shares = holddown::share_sideways(&places, (0.0, a.si(0)))?;
    Ok(Value::list_of(shares.into_iter().map(|(_, across)| across.abs()), Dim::FORCE))
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

/// The wind case of the hardest pull, so that it can be worked out again on paper: the wind and the net load with the
/// places where they act, the plane of forces `R = k (a + b along + c across)` about the roof's centre, and each clamp
/// (up: it pulls) and wheel (down: it pushes) in play.
fn by_hand(case: &Case, clamps: &[Support], wheels: &[Support]) -> Result<Vec<(&'static str, Value)>, FormulaError> {
    let shares = holddown::share(clamps, wheels, case.load)?;
    let clamps = clamps.iter().zip(&shares.clamps).map(|(support, pull)| (support, *pull));
    let wheels = wheels.iter().zip(&shares.wheels).map(|(support, push)| (support, -push));
    let in_play: Vec<(&Support, f64)> = clamps.chain(wheels).filter(|(_, force)| force.abs() > 1e-9).collect();
    let (sums, load) = in_play.iter().fold((Matrix3::zeros(), Vector3::zeros()), |(sums, load), (support, force)| {
        let arm = Vector3::new(1.0, support.x, support.y);
        (sums + arm * arm.transpose() * support.stiffness, load + arm * *force)
    });
    let place = |load: &Resultant, moment: f64| Value::quantity(if load.force == 0.0 { 0.0 } else { moment / load.force }, Dim::LENGTH);
    let zone = |number: &dyn Fn(&Zone) -> f64, dim: Dim| Value::list_of(case.zones.iter().map(number), dim);
    let mut fields = vec![
        ("worst_case", Value::Text(case.name.clone())),
        ("zones", Value::List(case.zones.iter().map(|zone| Value::Text(zone.name.clone())).collect())),
        ("zone_areas", zone(&|zone| zone.area, Dim::AREA)),
        ("zone_coefficients", zone(&|zone| zone.coefficient, Dim::NUMBER)),
        ("zone_pressures", zone(&|zone| zone.pressure, Dim::PRESSURE)),
        ("zone_uplifts", zone(&|zone| -zone.pressure * zone.area, Dim::FORCE)),
        ("zone_places_along", zone(&|zone| zone.along, Dim::LENGTH)),
        ("zone_places_across", zone(&|zone| zone.across, Dim::LENGTH)),
        ("drag", Value::quantity(case.drag.0.hypot(case.drag.1), Dim::FORCE)),
        ("drag_arm", Value::quantity(case.arm, Dim::LENGTH)),
        ("worst_wind", Value::quantity(case.wind.force, Dim::FORCE)),
        ("worst_wind_along", place(&case.wind, case.wind.moment_along)),
        ("worst_wind_across", place(&case.wind, case.wind.moment_across)),
        ("worst_net", Value::quantity(case.load.force, Dim::FORCE)),
        ("worst_net_along", place(&case.load, case.load.moment_along)),
        ("worst_net_across", place(&case.load, case.load.moment_across)),
    ];
    // Three that are not in line make a plane; fewer hang the roof without one.
    if let Some(plane) = sums.lu().solve(&load).filter(|plane| plane.iter().all(|number| number.is_finite())) {
        fields.push(("plane_a", Value::quantity(plane[0], Dim::FORCE)));
        fields.push(("plane_b", Value::quantity(plane[1], Dim::LINE_LOAD)));
        fields.push(("plane_c", Value::quantity(plane[2], Dim::LINE_LOAD)));
    }
    let all = |number: &dyn Fn(&(&Support, f64)) -> f64, dim: Dim| Value::list_of(in_play.iter().map(number), dim);
    fields.push(("in_play_along", all(&|(support, _)| support.x, Dim::LENGTH)));
    fields.push(("in_play_across", all(&|(support, _)| support.y, Dim::LENGTH)));
    fields.push(("in_play_k", all(&|(support, _)| support.stiffness, Dim::NUMBER)));
    fields.push(("in_play_up", all(&|(_, force)| *force, Dim::FORCE)));
    Ok(fields)
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
                "asd 0.6 W - 0.6 D; lrfd (1.0 W - 0.9 D) x 0.6; equilibrium (1.5 W - 0.9 G) / 1.5; strength (1.5 W - 1.0 G) / 1.5; measured 1.0 W - 0.6 D, of a wind that is measured and not mapped",
            ),
        ],
        gives: "force",
        source: "ASCE 7-16 §2.4.1, §2.3.1; EN 1990:2002 Table A1.2(A), A1.2(B)",
        remembered: false,
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
        gives: "table: net_uplift, net_case, stable, why, pulls and pull_cases in the order of the clamps, worst; for the hardest pull worst_case, the zones of the roof (area, pressure downwards, uplift, place from the roof's centre), the drag and the arm by which it tips, worst_wind and worst_net with their places, the plane R = k (a + b along + c across), and what is in play: in_play_along, in_play_across, in_play_k, in_play_up",
        source: "rigid-body statics (force and moment balance); ASCE 7-16 §2.4.1; EN 1990:2002 Table A1.2(A)",
        remembered: true,
        body: Body::Formula(hold_down),
    },
    Function {
        name: "wheel_wind",
        doc: "what the design wind adds to each wheel where it presses hardest, before load factors: pressure from above and the tipping by its drag, as if all wheels and clamps held both ways",
        parameters: &[
            needs("wind", Takes::Record, "the table of a roof-wind function"),
            needs("centre_station", LENGTH, "centre of the roof's plan, along the travel"),
            needs("centre_offset", LENGTH, "centre of the roof's plan, across the travel"),
            needs("wheel_stations", Takes::List(Dim::LENGTH), "the wheels, along the travel"),
            needs("wheel_offsets", Takes::List(Dim::LENGTH), "the wheels, across the travel"),
            needs("arm", LENGTH, "height of the eaves above the level at which the roof is held"),
        ],
        gives: "table: stands, why, loads in the order of the wheels, most, case",
        source: "rigid-body statics",
        remembered: true,
        body: Body::Formula(wheel_wind),
    },
    Function {
        name: "drag_shares",
        doc: "each clamp's push by the drag of the wind, at the level of working loads: an even share, and the couple where the clamps' centre is off the roof's; wheels and stops do not help",
        parameters: &[
            needs("wind", Takes::Record, "the table of a roof-wind function"),
            needs("centre_station", LENGTH, "centre of the roof's plan, along the travel"),
            needs("centre_offset", LENGTH, "centre of the roof's plan, across the travel"),
            needs("clamp_stations", Takes::List(Dim::LENGTH), "the clamps, along the travel"),
            needs("clamp_offsets", Takes::List(Dim::LENGTH), "the clamps, across the travel"),
            needs("combination", Takes::Word(COMBINATIONS), "the load combination; see net_uplift"),
        ],
        gives: "table: pushes with their cases, the hardest along and across, in the order of the clamps",
        source: "statics; elastic method for eccentric bolt groups, AISC Manual (15th ed. 2017) Part 7; ASCE 7-16 §2.4.1; EN 1990:2002 Table A1.2(A)",
        remembered: true,
        body: Body::Formula(drag_shares),
    },
    Function {
        name: "sideways_shares",
        doc: "what each of several equal holds in a row along the travel takes of a push across it: an even share, and the couple where their centre is off the push",
        parameters: &[
            needs("push", Takes::Quantity(Dim::FORCE), "across the travel"),
            needs("at", LENGTH, "station at which it acts"),
            needs("stations", Takes::List(Dim::LENGTH), "of what holds against it"),
        ],
        gives: "list of force, in the order of the stations",
        source: "statics; elastic method for eccentric bolt groups, AISC Manual (15th ed. 2017) Part 7",
        remembered: false,
        body: Body::Formula(sideways_shares),
    },
];
