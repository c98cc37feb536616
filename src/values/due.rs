//! What to write where a quantity of another dimension is due: the units that would do, and the slips that builders make
//! between hours and degrees, turns and radians, kelvins and degrees.
//!
//! In: the dimension that is due and the quantity that was given. Out: words for the help of a problem.

use super::value::Quantity;
use crate::units::{self, Dim, System};
use std::f64::consts::{PI, TAU};

/// An hour of hour angle or right ascension: 24 h are a full turn. Source: IAU, Astronomical Almanac, Glossary ("hour angle").
const HOUR: f64 = 3600.0;

/// Which units would do for a dimension, or what else is usually meant.
pub(super) fn units_that_would_do(due: Dim, given: &Quantity) -> String {
    let usual = units::units_for(due).join(", ");
    match (due, given.dim) {
        (Dim::TEMPERATURE, Dim::TEMPERATURE_DIFFERENCE) => format!("a value in {usual} would do; K counts differences"),
        (Dim::TEMPERATURE_DIFFERENCE, Dim::TEMPERATURE) => format!("a value in {usual} would do, or one temperature less another"),
        (Dim::ANGLE, Dim::TIME) => {
            let angle = degrees_of_hours(given.si / HOUR);
            format!("an hour angle is 15 deg for each hour: write `{angle}`")
        }
        (Dim::ANGULAR_SPEED, Dim::FREQUENCY) => format!("turns are counted in rpm: `{}`", rpm(given.si * TAU)),
        (Dim::FREQUENCY, Dim::ANGULAR_SPEED) => "turns in a time are a turning speed over `360 deg`".to_owned(),
        (due, given) if due.without_angle() == given.without_angle() && !due.is_number() => match more_of_an_angle(due, given) {
            true => "an angle is counted in it: divide by `1 rad`, or take the way of one turn times the turns".to_owned(),
            false => "an angle is not yet counted in it: multiply by `1 rad`".to_owned(),
        },
        _ => format!("a value in {usual} would do"),
    }
}

/// The angle of some hours, as it is written.
pub(super) fn degrees_of_hours(hours: f64) -> String {
    let degrees = hours * 15.0;
    units::show_exact(degrees * PI / 180.0, Dim::ANGLE, units::Unit::parse("deg").ok().as_ref(), System::Metric)
}

fn rpm(si: f64) -> String {
    units::show(si, Dim::ANGULAR_SPEED, units::Unit::parse("rpm").ok().as_ref(), System::Metric)
}

fn more_of_an_angle(due: Dim, given: Dim) -> bool {
    let angle = |dim: Dim| dim.0[5];
    angle(given) > angle(due)
}
