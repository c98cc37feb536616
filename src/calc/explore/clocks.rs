//! Whether a story can happen in time.
//!
//! Each timed event happens so long after it can, no sooner and no later, as a transition of a time Petri net (Merlin and
//! Farber 1976); so the times of the steps stand in differences of which each has a bound, and a set of those can be met
//! unless it holds a circle that is less than nothing (Dechter, Meiri and Pearl 1991).

/// `later − earlier ≤ most`, s.
#[derive(Debug, Clone, Copy)]
pub(super) struct Apart {
    pub(super) earlier: usize,
    pub(super) later: usize,
    pub(super) most: f64,
}

/// Rounding must not make a circle of nothing less than nothing, s.
const NOTHING: f64 = 1e-6;

/// The earliest time of each of `steps` (s; that of the first is 0), none if the differences cannot all be met.
pub(super) fn earliest(steps: usize, apart: &[Apart]) -> Option<Vec<f64>> {
    // Earliest times are least distances back to the first step, turned about.
    let mut back = vec![f64::INFINITY; steps];
    *back.first_mut()? = 0.0;
    let shorter = |back: &[f64], one: &Apart| {
        // later − earlier ≤ most, so −earlier ≤ most − later.
        let (earlier, later) = (back.get(one.earlier)?, back.get(one.later)?);
        let through = later + one.most;
        (through < earlier - NOTHING).then_some((one.earlier, through))
    };
    for _ in 0..=steps {
        let mut changed = false;
        for one in apart {
            if let Some((at, length)) = shorter(&back, one)
                && let Some(place) = back.get_mut(at)
            {
                *place = length;
                changed = true;
            }
        }
        if !changed {
            return Some(back.into_iter().map(|length| if length.is_finite() { (-length).max(0.0) } else { 0.0 }).collect());
        }
    }
    None
}
