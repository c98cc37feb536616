//! What pushes and what holds the roof, along its travel.
//!
//! In: the level of the tracks as built or measured, where the wheels are and what they carry, wind,
//! seals. Out: stretches of the travel on which the push is linear in the place and the resistance
//! constant. It must not know time, speed or a drive.
//!
//! Everything is a function of the *travel*: 0 where the roof stands shut, growing the way it opens.

use crate::calc::{FormulaError, check};

/// Travel that is looked at where a design has no length of its own yet, m.
pub const SOME_TRAVEL: f64 = 1.0;
/// A drive without a known limit pulls this many times what moves against it: no number of a result hangs on it.
const PLENTY: f64 = 1e3;

/// A part of the travel with one law of force.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stretch {
    /// Travel at which it begins, m.
    pub from: f64,
    /// Travel at which it ends, m.
    pub to: f64,
    /// Force at `from` that pushes the roof open (negative: pushes it shut), N.
    pub push: f64,
    /// Change of that force along the travel, N/m.
    pub rate: f64,
    /// Force against the motion, whichever way it goes, N.
    pub resistance: f64,
}

impl Stretch {
    /// The push (N) at a travel (m).
    #[must_use]
    pub fn push_at(&self, travel: f64) -> f64 {
        // at the very start also for a stretch that begins infinitely far away
        if self.rate == 0.0 { self.push } else { self.push + self.rate * (travel - self.from) }
    }
}

/// A force and the travel at which it acts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Peak {
    /// Force, N.
    pub force: f64,
    /// Travel, m.
    pub travel: f64,
}

/// The travel, shut to fully open, as a row of stretches without gaps.
#[derive(Debug, Clone, PartialEq)]
pub struct Track {
    stretches: Vec<Stretch>,
}

impl Track {
    /// A level travel from `from` to `to` (m) with the same rolling `resistance` (N) all along.
    ///
    /// # Errors
    /// If the travel has no length or the resistance is negative.
    pub fn level(from: f64, to: f64, resistance: f64) -> Result<Self, FormulaError> {
        if !(from.is_finite() && to.is_finite() && to > from) {
            return Err(FormulaError::domain("travel of the roof", "longer than nothing"));
        }
        check::not_negative("rolling resistance", resistance)?;
        Ok(Self { stretches: vec![Stretch { from, to, push: 0.0, rate: 0.0, resistance }] })
    }

    /// A pull (N) that is plenty for a mass (kg) on this track: many times all that moves against the drive and the mass that it
    /// speeds up at 1 m/s².
    #[must_use]
    pub fn plenty(&self, mass: f64) -> f64 {
        let against = self.stretches.iter().map(|stretch| stretch.resistance + stretch.push.abs()).fold(0.0, f64::max);
        PLENTY * (against + mass)
    }

    /// The stretches, from shut to open.
    #[must_use]
    pub fn stretches(&self) -> &[Stretch] {
        &self.stretches
    }

    /// Adds a force that acts all along, N: operating wind, positive where it helps to open.
    ///
    /// # Errors
    /// If the force is not a number.
    pub fn push(self, force: f64) -> Result<Self, FormulaError> {
        let (from, to) = (self.from(), self.to());
        self.push_between(from, to, force, force)
    }

    /// Adds a force (N) that grows linearly from `at_from` to `at_to` between two travels (m), such as
    /// the wind on a roof that comes out of the lee of its walls.
    ///
    /// # Errors
    /// If the stretch has no length or a number is not finite.
    pub fn push_between(mut self, from: f64, to: f64, at_from: f64, at_to: f64) -> Result<Self, FormulaError> {
        check::finite("push along the travel", at_from + at_to)?;
        let rate = (at_to - at_from) / (to - from);
        self.over(from, to, |s| {
            s.push += at_from + rate * (s.from - from);
            s.rate += rate;
        })?;
        Ok(self)
    }

    /// Adds `extra` resistance (N) between two travels (m): a brush seal, a bent rail.
    ///
    /// # Errors
    /// If the stretch has no length, or the resistance falls below zero.
    pub fn resist_between(mut self, from: f64, to: f64, extra: f64) -> Result<Self, FormulaError> {
        check::finite("extra resistance", extra)?;
        self.over(from, to, |s| s.resistance += extra)?;
        for s in &self.stretches {
            check::not_negative("resistance along the travel", s.resistance)?;
        }
        Ok(self)
    }

    /// Adds the grade under one wheel: `levels` are points (station m, level m) of its track, joined by
    /// straight lines and continued beyond the ends; `station` is where the wheel stands with the
    /// roof shut (m), `load` what it carries (N). Call it once for each wheel.
    ///
    /// The push is `load · sin(slope)` down the slope.
    ///
    /// # Errors
    /// If there are fewer than two points, or they do not follow one another along the track.
    pub fn grade_under(mut self, levels: &[(f64, f64)], station: f64, load: f64) -> Result<Self, FormulaError> {
        check::finite("station of the wheel", station)?;
        check::finite("load on the wheel", load)?;
        let in_order = levels.windows(2).all(|w| matches!(w, [a, b] if b.0 > a.0));
        let all_finite = levels.iter().all(|p| p.0.is_finite() && p.1.is_finite());
        if levels.len() < 2 || !in_order || !all_finite {
            return Err(FormulaError::domain("levels along a track", "two points or more, each further along than the one before"));
        }
        let last = levels.len() - 2;
        for (i, pair) in levels.windows(2).enumerate() {
            let &[(s0, z0), (s1, z1)] = pair else { continue };
            let (run, rise) = (s1 - s0, z1 - z0);
            let force = -load * rise / run.hypot(rise);
            let from = if i == 0 { self.from() } else { s0 - station };
            let to = if i == last { self.to() } else { s1 - station };
            let (from, to) = (from.max(self.from()), to.min(self.to()));
            if from < to {
                self.over(from, to, |s| s.push += force)?;
            }
        }
        Ok(self)
    }

    /// Where the roof is nearest to rolling off by itself, or does: the travel at which the push,
    /// either way, exceeds what holds it by most (or falls short of it by least). `breakaway` is the
    /// ratio of resistance at rest to resistance in motion, `held_by` what a brake or a drive at rest
    /// adds (N). The force is positive where the roof would set itself in motion.
    #[must_use]
    pub fn nearest_to_rolling_off(&self, breakaway: f64, held_by: f64) -> Peak {
        self.peak(|push, resistance| push.abs() - breakaway * resistance - held_by)
    }

    /// The largest steady pull (N) that moving the roof slowly takes: opening if `opening`, else
    /// shutting. Negative if the roof has to be held back all the way.
    #[must_use]
    pub fn governing_pull(&self, opening: bool) -> Peak {
        let way = if opening { 1.0 } else { -1.0 };
        self.peak(|push, resistance| resistance - way * push)
    }

    fn peak(&self, force: impl Fn(f64, f64) -> f64) -> Peak {
        let mut worst = Peak { force: f64::NEG_INFINITY, travel: self.from() };
        for s in &self.stretches {
            for travel in [s.from, s.to] {
                let here = force(s.push_at(travel), s.resistance);
                if here > worst.force {
                    worst = Peak { force: here, travel };
                }
            }
        }
        worst
    }

    /// Changes the stretches between two travels, which are split off first.
    fn over(&mut self, from: f64, to: f64, change: impl Fn(&mut Stretch)) -> Result<(), FormulaError> {
        if !(from.is_finite() && to.is_finite() && to > from) {
            return Err(FormulaError::domain("stretch of the travel", "longer than nothing"));
        }
        self.split(from);
        self.split(to);
        for s in &mut self.stretches {
            if s.from >= from && s.to <= to {
                change(s);
            }
        }
        Ok(())
    }

    fn split(&mut self, at: f64) {
        let Some(i) = self.stretches.iter().position(|s| s.from < at && at < s.to) else { return };
        let Some(first) = self.stretches.get_mut(i) else { return };
        let second = Stretch { from: at, push: first.push_at(at), ..*first };
        first.to = at;
        self.stretches.insert(i + 1, second);
    }

    /// Travel at which the track begins, m.
    #[must_use]
    pub fn from(&self) -> f64 {
        self.stretches.first().map_or(0.0, |s| s.from)
    }

    /// Travel at which the track ends, m.
    #[must_use]
    pub fn to(&self) -> f64 {
        self.stretches.last().map_or(0.0, |s| s.to)
    }
}
