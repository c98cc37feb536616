//! Which of several supports a beam lies on.
//!
//! In: its ends and stations along it, m. Out: the same in order, distances between them.

/// Supports that are no farther apart carry as one, and one that is no farther beyond an end is under it, m.
/// Common practice, no source: a bearing is longer than this.
pub const SAME_PLACE: f64 = 0.02;

/// Whether a station is on a beam.
#[must_use]
pub fn is_on(start: f64, end: f64, at: f64) -> bool {
    start - SAME_PLACE <= at && at <= end + SAME_PLACE
}

/// The supports that are under a beam in order, and for each support given its place among them.
///
/// Two that stand in the same place carry as one.
#[must_use]
pub fn under(start: f64, end: f64, given: &[f64]) -> (Vec<f64>, Vec<Option<usize>>) {
    let mut order: Vec<usize> = (0..given.len()).collect();
    let at = |index: usize| given.get(index).copied().unwrap_or(f64::NAN);
    order.sort_by(|one, other| at(*one).total_cmp(&at(*other)));
    let (mut kept, mut places): (Vec<f64>, Vec<Option<usize>>) = (Vec::new(), vec![None; given.len()]);
    for index in order {
        let x = at(index);
        if x < start - SAME_PLACE || x > end + SAME_PLACE {
            continue;
        }
        let x = x.clamp(start, end);
        if kept.last().is_none_or(|last| x - last > SAME_PLACE) {
            kept.push(x);
        }
        if let Some(place) = places.get_mut(index) {
            *place = kept.len().checked_sub(1);
        }
    }
    (kept, places)
}

/// The longest span between supports in order, m.
#[must_use]
pub fn longest_span(supports: &[f64]) -> f64 {
    supports.windows(2).map(|pair| if let [a, b] = pair { b - a } else { 0.0 }).fold(0.0, f64::max)
}

/// The longer of what stands out beyond the first and the last of supports in order, m.
#[must_use]
pub fn longest_overhang(start: f64, end: f64, supports: &[f64]) -> f64 {
    supports.first().map_or(0.0, |first| first - start).max(supports.last().map_or(0.0, |last| end - last))
}
