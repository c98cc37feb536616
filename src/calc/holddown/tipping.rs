//! How much more of a wind a roof takes before it tips off its wheels: the moments about every line that it could turn
//! about.
//!
//! In: wheels that push, ties that pull up to what they are rated for, the wind and the weight as resultants. Out: how
//! many times the wind may come, and about which line it turns the roof. It must not know what the ties are.
//!
//! A rigid roof on wheels leaves them by turning about a line, and the line that gives way first passes through two of the
//! places that hold it: of all small motions that press no wheel into its track those are the corners (the kinematic
//! theorem; a linear program has its least value in a corner). So every pair of places is tried, which is what an engineer
//! does by hand for the edge that he fears most.

use super::rigid::in_one_line;
use super::{Resultant, Support, motion_words};
use crate::calc::{FormulaError, check};

/// A wind that may come more often than this is said to be this many: what no wind turns has no number. Common practice, no
/// source.
pub const MOST_TIMES: f64 = 1000.0;

/// A tie that pulls the roof down, and what it may be pulled with, N.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tie {
    /// Where it pulls.
    pub at: Support,
    /// What it may be pulled with, N.
    pub rating: f64,
}

/// The line about which a roof gives way first; moments are about it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tipping {
    /// How many times the wind may come; infinite if no wind of this kind turns the roof.
    pub factor: f64,
    /// Of the wind, N·m.
    pub wind: f64,
    /// Of the weight that holds it, N·m.
    pub weight: f64,
    /// Of the ties, each at its rating, N·m.
    pub ties: f64,
    /// Two places (m) on that line.
    pub line: [(f64, f64); 2],
    /// What lifts.
    pub lifts: &'static str,
}

/// The line about which `wind` turns a roof of this `weight` first (both upward resultants about one place, factored; the
/// weight is held as a downward one, its force above zero).
///
/// # Errors
/// If a number is missing, a rating is below zero, or the wheels stand in one line ([`FormulaError::Unstable`]).
/// Source: statics of a rigid body, upper-bound theorem; every wheel pushes only, every tie pulls only.
pub fn tipping(ties: &[Tie], wheels: &[Support], wind: Resultant, weight: Resultant) -> Result<Tipping, FormulaError> {
    /// Lift by which a wheel would be pressed into its track and that counts as none, m.
    const NONE: f64 = 1e-9;
    for tie in ties {
        check::finite("position of a tie", tie.at.x)?;
        check::finite("position of a tie", tie.at.y)?;
        check::not_negative("rating of a tie", tie.rating)?;
    }
    for number in wheels.iter().flat_map(|wheel| [wheel.x, wheel.y]).chain([wind, weight].iter().flat_map(|load| load.numbers())) {
        check::finite("wheel, wind or weight", number)?;
    }
    if wheels.is_empty() {
        return Err(FormulaError::Unstable { what: "no wheel carries the roof".to_owned() });
    }
    if in_one_line(&wheels.iter().collect::<Vec<_>>()) {
        return Err(FormulaError::Unstable { what: "its wheels stand in one line".to_owned() });
    }
    let places: Vec<Support> = wheels.iter().copied().chain(ties.iter().map(|tie| tie.at)).collect();
    let mut first: Option<Tipping> = None;
    for from in &places {
        for to in &places {
            let (x_way, y_way) = (to.x - from.x, to.y - from.y);
            let length = x_way.hypot(y_way);
            if length <= NONE {
                continue;
            }
            // For a turn by one radian about the line through both: the distance from it, m.
            let lift = |x: f64, y: f64| (x_way * (y - from.y) - y_way * (x - from.x)) / length;
            if wheels.iter().any(|wheel| lift(wheel.x, wheel.y) < -NONE) {
                continue;
            }
            let (along, across) = (lift(1.0, 0.0) - lift(0.0, 0.0), lift(0.0, 1.0) - lift(0.0, 0.0));
            let work = |load: Resultant| load.force * lift(0.0, 0.0) + load.moment_along * along + load.moment_across * across;
            let held: f64 = ties.iter().map(|tie| tie.rating * lift(tie.at.x, tie.at.y).max(0.0)).sum();
            let (turns, weighs) = (work(wind), work(weight));
            let small = 1e-9 * (wind.force.abs() + weight.force.abs()).max(1.0);
            let factor = match (turns > small, weighs + held) {
                // It tips by itself.
                (_, holds) if holds < -small => 0.0,
                (true, holds) => holds.max(0.0) / turns,
                (false, _) => f64::INFINITY,
            };
            if first.is_none_or(|before| factor < before.factor) {
                let line = [(from.x, from.y), (to.x, to.y)];
                first = Some(Tipping { factor, wind: turns, weight: weighs, ties: held, line, lifts: motion_words(0.0, along, across) });
            }
        }
    }
    first.ok_or_else(|| FormulaError::Unstable { what: "nothing holds the roof".to_owned() })
}
