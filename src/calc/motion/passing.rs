//! The roof where it comes by a place of its run.
//!
//! In: moments of a run. Out: one more between two of them. It must not know what the roof is doing there.

use super::run::Moment;
use crate::calc::FormulaError;

/// A travel this near to the end of a run is its end, m: no tape reads it.
const AT_THE_END: f64 = 1e-9;

/// The roof where it first comes by a travel (m), and the number of the moment before. Between two moments the force is taken
/// as steady: the square of the speed changes evenly with the way (Newton's second law).
///
/// # Errors
/// If it does not come by there.
pub fn passing(moments: &[Moment], travel: f64) -> Result<(usize, Moment), FormulaError> {
    let (Some(first), Some(last)) = (moments.first(), moments.last()) else {
        return Err(FormulaError::domain("the run", "of one moment at least"));
    };
    let near = |x: f64, end: f64| if (x - end).abs() < AT_THE_END { end } else { x };
    let at = near(near(travel, first.travel), last.travel);
    let by = |before: &Moment, after: &Moment| before.travel != after.travel && (at - before.travel) * (at - after.travel) <= 0.0;
    let pieces = moments.iter().zip(moments.iter().skip(1)).enumerate();
    let Some((place, (before, after))) = pieces.into_iter().find(|(_, (before, after))| by(before, after)) else {
        let travels = || moments.iter().map(|moment| moment.travel);
        let (least, most) = (travels().fold(first.travel, f64::min), travels().fold(first.travel, f64::max));
        return Err(FormulaError::domain("the travel", format!("one that the roof comes by, {least:.3} m to {most:.3} m")));
    };
    let way = after.travel - before.travel;
    let share = (at - before.travel) / way;
    let (v0, v1) = (before.speed.abs(), after.speed.abs());
    let v = (v0 * v0 + share * (v1 * v1 - v0 * v0)).max(0.0).sqrt();
    let passed = if v0 + v > 0.0 { before.time + 2.0 * (at - before.travel).abs() / (v0 + v) } else { before.time };
    let moment = Moment {
        time: passed.min(after.time),
        travel: at,
        speed: v * way.signum(),
        pull: before.pull + share * (after.pull - before.pull),
    };
    Ok((place, moment))
}
