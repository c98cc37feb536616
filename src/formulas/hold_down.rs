//! Holding the roof down: combinations, and each clamp's share by rigid-body statics.

use super::body::Formula;
use super::tables::{table, word};
use crate::calc::FormulaError;
use crate::calc::holddown::{self, CONTACT_STIFFNESS, Combination, Resultant, Support};
use smol_str::SmolStr;

include!(concat!(env!("OUT_DIR"), "/formulas_hold_down.rs"));

impl From<word::Combination> for Combination {
    fn from(combination: word::Combination) -> Self {
        match combination {
            word::Combination::Asd => Self::Asd,
            word::Combination::Lrfd => Self::Lrfd,
            word::Combination::Equilibrium => Self::Equilibrium,
            word::Combination::Strength => Self::Strength,
            word::Combination::Measured => Self::Measured,
        }
    }
}

/// A direction as one along the travel and across it, to the left.
fn towards(direction: word::WindCaseDirection) -> (f64, f64) {
    match direction {
        word::WindCaseDirection::Opening => (1.0, 0.0),
        word::WindCaseDirection::Closing => (-1.0, 0.0),
        word::WindCaseDirection::Left => (0.0, 1.0),
        word::WindCaseDirection::Right => (0.0, -1.0),
    }
}

/// One wind case of a roof's table as a load on its hold-downs, in plan coordinates about the roof's centre.
pub(super) struct Case<'a> {
    pub(super) name: &'a SmolStr,
    /// Of the wind alone, before factors, its drag's tipping with it.
    pub(super) wind: Resultant,
    /// Along and across, before factors.
    drag: (f64, f64),
    /// How high above wheels and clamps it acts, m.
    arm: f64,
    zones: &'a [table::WindZone],
    /// Net of the weight, factored.
    pub(super) load: Resultant,
}

/// Each wind case of a roof as a load on what holds it, `arm` below its eaves.
pub(super) fn cases<'a>(wind: &'a table::RoofWind, dead: Resultant, arm: f64, combination: Combination) -> Vec<Case<'a>> {
    let case = |case: &'a table::WindCase| {
        let (along, across) = towards(case.direction);
        let lifting = Resultant { force: case.uplift, moment_along: case.moment_along, moment_across: case.moment_across };
        // The drag acts above the level at which clamps and wheels hold the roof: it tips it as well.
        let tips = case.drag * arm + case.drag_moment;
        let wind = lifting.and(Resultant::overturning(along, across, tips));
        Case {
            name: &case.case,
            wind,
            drag: (case.drag * along, case.drag * across),
            arm: if case.drag == 0.0 { 0.0 } else { tips / case.drag },
            zones: &case.zones,
            load: combination.net(wind, dead).times(1.0 / combination.working_load_divisor()),
        }
    };
    wind.cases.iter().map(case).collect()
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

impl Formula for NetUplift {
    fn answer(self) -> Result<f64, FormulaError> {
        let combination = Combination::from(self.combination);
        let net = combination.net(Resultant::at(self.uplift, 0.0, 0.0), Resultant::at(self.weight, 0.0, 0.0));
        Ok(net.force / combination.working_load_divisor())
    }
}

impl Formula for HoldDown {
    fn answer(self) -> Result<table::HoldDown, FormulaError> {
        let centre = (self.centre_station, self.centre_offset);
        let dead = Resultant::at(self.weight, self.weight_station - centre.0, self.weight_offset - centre.1);
        let clamps = supports(&self.clamp_stations, &self.clamp_offsets, centre, 1.0, "clamps")?;
        let wheels = supports(&self.wheel_stations, &self.wheel_offsets, centre, CONTACT_STIFFNESS, "wheels")?;
        let cases = cases(&self.wind, dead, self.arm, self.combination.into());
        let net = cases.iter().max_by(|a, b| a.load.force.total_cmp(&b.load.force));
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a number that is no clamp's is refused by `share_without`"
        )]
        let left_open = self.left_open.map(|number| (number.max(0.0) as usize).wrapping_sub(1));
        let (pulls, why) = match pulls(&clamps, &wheels, &cases, left_open) {
            Ok(pulls) => (Some(pulls), String::new()),
            Err(FormulaError::Unstable { what }) => (None, what),
            Err(error) => return Err(error),
        };
        let hardest = pulls.iter().flatten().max_by(|a, b| a.0.total_cmp(&b.0)).and_then(|(_, case)| cases.get(*case));
        let worst = hardest.filter(|_| left_open.is_none());
        let in_play = worst.map(|case| in_play(case, &clamps, &wheels)).transpose()?;
        // Three that are not in line make a plane; fewer hang the roof without one.
        let plane = in_play.as_deref().and_then(holddown::plane);
        let zone = |number: fn(&table::WindZone) -> f64| worst.map(|case| case.zones.iter().map(number).collect());
        let each = |number: fn(&(Support, f64)) -> f64| in_play.as_ref().map(|all| all.iter().map(number).collect());
        Ok(table::HoldDown {
            net_uplift: net.map_or(0.0, |case| case.load.force),
            net_case: net.map(|case| case.name.clone()).unwrap_or_default(),
            stable: pulls.is_some(),
            why: why.into(),
            pull_cases: pulls.as_ref().map(|pulls| pulls.iter().map(|(_, case)| name(&cases, *case)).collect()),
            worst: pulls.as_ref().map(|pulls| pulls.iter().map(|(pull, _)| *pull).fold(0.0, f64::max)),
            pulls: pulls.map(|pulls| pulls.into_iter().map(|(pull, _)| pull).collect()),
            worst_case: worst.map(|case| case.name.clone()),
            zones: worst.map(|case| case.zones.iter().map(|zone| zone.zone.clone()).collect()),
            zone_areas: zone(|zone| zone.area),
            zone_coefficients: zone(|zone| zone.coefficient),
            zone_pressures: zone(|zone| zone.pressure),
            zone_uplifts: zone(|zone| -zone.pressure * zone.area),
            zone_places_along: zone(|zone| zone.along),
            zone_places_across: zone(|zone| zone.across),
            drag: worst.map(|case| case.drag.0.hypot(case.drag.1)),
            drag_arm: worst.map(|case| case.arm),
            worst_wind: worst.map(|case| case.wind.force),
            worst_wind_along: worst.map(|case| place(case.wind, case.wind.moment_along)),
            worst_wind_across: worst.map(|case| place(case.wind, case.wind.moment_across)),
            worst_net: worst.map(|case| case.load.force),
            worst_net_along: worst.map(|case| place(case.load, case.load.moment_along)),
            worst_net_across: worst.map(|case| place(case.load, case.load.moment_across)),
            plane_a: plane.map(|[a, _, _]| a),
            plane_b: plane.map(|[_, b, _]| b),
            plane_c: plane.map(|[_, _, c]| c),
            in_play_along: each(|(support, _)| support.x),
            in_play_across: each(|(support, _)| support.y),
            in_play_k: each(|(support, _)| support.stiffness),
            in_play_up: each(|(_, force)| *force),
        })
    }
}

/// For each clamp its hardest pull and the case that gives it.
fn pulls(clamps: &[Support], wheels: &[Support], cases: &[Case], left_open: Option<usize>) -> Result<Vec<(f64, usize)>, FormulaError> {
    let Some(open) = left_open else {
        let loads: Vec<Resultant> = cases.iter().map(|case| case.load).collect();
        let worst = holddown::envelope(clamps, wheels, &loads)?;
        return Ok(worst.into_iter().map(|worst| (worst.force, worst.case)).collect());
    };
    let mut hardest = vec![(0.0_f64, 0); clamps.len()];
    for (number, case) in cases.iter().enumerate() {
        let shares = holddown::share_without(clamps, wheels, case.load, open)?;
        for (old, new) in hardest.iter_mut().zip(shares.clamps) {
            if new > old.0 {
                *old = (new, number);
            }
        }
    }
    Ok(hardest)
}

fn name(cases: &[Case], at: usize) -> SmolStr {
    cases.get(at).map(|case| case.name.clone()).unwrap_or_default()
}

/// Where a load acts that has this moment.
fn place(load: Resultant, moment: f64) -> f64 {
    if load.force == 0.0 { 0.0 } else { moment / load.force }
}

/// Each clamp (up: it pulls) and wheel (down: it pushes) that takes a part of that load, so that it can be worked out again
/// on paper.
fn in_play(case: &Case, clamps: &[Support], wheels: &[Support]) -> Result<Vec<(Support, f64)>, FormulaError> {
    /// A force that rounding leaves, N.
    const NONE: f64 = 1e-9;
    let shares = holddown::share(clamps, wheels, case.load)?;
    let clamps = clamps.iter().copied().zip(shares.clamps);
    let wheels = wheels.iter().copied().zip(shares.wheels.into_iter().map(|push| -push));
    Ok(clamps.chain(wheels).filter(|(_, force)| force.abs() > NONE).collect())
}

/// What the wind of each case, before load factors, adds to each wheel; kept is what presses hardest.
impl Formula for WheelWind {
    fn answer(self) -> Result<table::WheelWind, FormulaError> {
        let wheels = supports(&self.wheel_stations, &self.wheel_offsets, (self.centre_station, self.centre_offset), 1.0, "wheels")?;
        let mut hardest = vec![(0.0_f64, SmolStr::new_static("no wind presses it")); wheels.len()];
        // Of a wind before load factors no combination is asked.
        for case in cases(&self.wind, Resultant::default(), self.arm, Combination::Asd) {
            let shares = match holddown::share_both_ways(&wheels, case.wind) {
                Ok(shares) => shares,
                // No list of loads: whatever stands on these wheels is not known.
                Err(FormulaError::Unstable { what }) => {
                    return Ok(table::WheelWind { stands: false, why: what.into(), loads: Vec::new(), most: None, case: None });
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
        Ok(table::WheelWind {
            stands: true,
            why: SmolStr::default(),
            most: Some(worst.map_or(0.0, |(press, _)| *press)),
            case: Some(worst.map(|(_, case)| case.clone()).unwrap_or_default()),
            loads: hardest.into_iter().map(|(press, _)| press).collect(),
        })
    }
}

/// Each clamp's push by the drag of the wind, factored, and the case that gives it.
impl Formula for DragShares {
    fn answer(self) -> Result<table::DragShares, FormulaError> {
        let combination = Combination::from(self.combination);
        let clamps = supports(&self.clamp_stations, &self.clamp_offsets, (self.centre_station, self.centre_offset), 1.0, "clamps")?;
        let places: Vec<(f64, f64)> = clamps.iter().map(|clamp| (clamp.x, clamp.y)).collect();
        let factor = combination.wind_factor() / combination.working_load_divisor();
        let mut hardest = vec![(0.0_f64, 0.0_f64, 0.0_f64, SmolStr::default()); places.len()];
        for case in cases(&self.wind, Resultant::default(), 0.0, combination) {
            for (old, (x, y)) in hardest.iter_mut().zip(holddown::share_sideways(&places, case.drag)?) {
                let push = factor * x.hypot(y);
                (old.1, old.2) = (old.1.max(factor * x.abs()), old.2.max(factor * y.abs()));
                if push > old.0 {
                    (old.0, old.3) = (push, case.name.clone());
                }
            }
        }
        Ok(table::DragShares {
            pushes: hardest.iter().map(|push| push.0).collect(),
            along: hardest.iter().map(|push| push.1).collect(),
            across: hardest.iter().map(|push| push.2).collect(),
            cases: hardest.into_iter().map(|push| push.3).collect(),
        })
    }
}

impl Formula for SidewaysShares {
    fn answer(self) -> Result<Vec<f64>, FormulaError> {
        let places: Vec<(f64, f64)> = self.stations.into_iter().map(|station| (station - self.at, 0.0)).collect();
        let shares = holddown::share_sideways(&places, (0.0, self.push))?;
        Ok(shares.into_iter().map(|(_, across)| across.abs()).collect())
    }
}
