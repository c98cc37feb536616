//! What the drive does at one moment, and for how long it goes on doing the same.
//!
//! In: the drive, what it is told to do, the other forces. Out: the pull as a straight line over place
//! and speed, the law of motion that follows, and the speeds and the place at which another line
//! begins. It must not know how events are found. All is in the forward frame of [`super::course`].

use super::law::Law;
use super::{Drive, Stretch};

/// Relative nearness at which a pull counts as being at its limit.
const NEAR: f64 = 1e-9;

/// The pull, N, as a straight line around the start of a segment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct PullLine {
    /// At the start's place, without speed.
    pub base: f64,
    /// Change with place, N/m.
    pub per_metre: f64,
    /// Change with speed, N·s/m.
    pub per_speed: f64,
}

impl PullLine {
    pub const NONE: Self = Self::constant(0.0);

    const fn constant(pull: f64) -> Self {
        Self { base: pull, per_metre: 0.0, per_speed: 0.0 }
    }

    /// The pull (N) at distance `y` (m) from the start and speed `v` (m/s).
    pub fn at(&self, y: f64, v: f64) -> f64 {
        self.base + self.per_metre * y + self.per_speed * v
    }
}

/// What the drive is told to do.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Told {
    /// Pull.
    Pull,
    /// Slow the roof down at this rate, m/s².
    SlowDown(f64),
    /// Let go; what remains are a brake (N) and a damping (N·s/m).
    LetGo { brake: f64, damping: f64 },
}

/// The roof at one moment, as far as forces go.
#[derive(Debug, Clone, Copy)]
pub(super) struct Situation<'a> {
    pub mass: f64,
    pub stretch: &'a Stretch,
    pub x: f64,
    pub v: f64,
    /// +1 or −1: the way the roof moves, or is about to.
    pub side: f64,
}

/// One law, and where it ends.
#[derive(Debug, Clone, Copy)]
pub(super) struct Regime {
    pub law: Law,
    pub pull: PullLine,
    /// Speeds at which another regime begins, one below and one above.
    pub slower: f64,
    pub faster: f64,
    /// Distance (m, signed) at which another regime begins, infinite if nowhere.
    pub distance: f64,
}

impl Situation<'_> {
    /// The regime that begins here.
    pub fn regime(&self, drive: Option<Drive>, told: Told) -> Regime {
        match (told, drive) {
            (Told::LetGo { brake, damping }, _) => {
                let mut regime = self.constant(0.0, brake);
                regime.law.c = -damping / self.mass;
                regime
            }
            (Told::Pull, Some(Drive::Motor { stall, no_load_speed, limit, holds_back })) => {
                self.motor(stall, no_load_speed, limit, holds_back)
            }
            (Told::Pull, Some(Drive::Geared { speed, ramp, pull, holds_back })) => self.geared(speed, ramp, pull, holds_back),
            (Told::SlowDown(ramp), Some(Drive::Geared { pull, holds_back, .. })) => {
                self.tracking(-ramp, -holds_back, pull).unwrap_or_else(|sat| sat)
            }
            (Told::Pull | Told::SlowDown(_), _) => self.constant(0.0, 0.0),
        }
    }

    /// Push and resistance, N.
    fn others(&self) -> f64 {
        self.stretch.push_at(self.x) - self.side * self.stretch.resistance
    }

    /// The same pull whatever happens.
    fn constant(&self, pull: f64, brake: f64) -> Regime {
        let force = self.others() - self.side * brake + pull;
        Regime {
            law: Law { a: force / self.mass, b: self.stretch.rate / self.mass, c: 0.0 },
            pull: PullLine::constant(pull),
            slower: f64::NEG_INFINITY,
            faster: f64::INFINITY,
            distance: f64::INFINITY,
        }
    }

    fn motor(&self, stall: f64, no_load_speed: f64, limit: f64, holds_back: f64) -> Regime {
        let speed_of = |pull: f64| no_load_speed * (1.0 - pull / stall);
        let (limited_below, held_above) = (speed_of(limit), speed_of(-holds_back));
        let line = stall * (1.0 - self.v / no_load_speed);
        let gaining = self.others() + line.clamp(-holds_back, limit);
        if self.v < limited_below || (self.v == limited_below && gaining < 0.0) {
            return Regime { faster: limited_below, ..self.constant(limit, 0.0) };
        }
        if self.v > held_above || (self.v == held_above && gaining > 0.0) {
            return Regime { slower: held_above, ..self.constant(-holds_back, 0.0) };
        }
        let mut regime = self.constant(stall, 0.0);
        regime.pull.per_speed = -stall / no_load_speed;
        regime.law.c = regime.pull.per_speed / self.mass;
        Regime { slower: limited_below, faster: held_above, ..regime }
    }

    fn geared(&self, speed: f64, ramp: f64, pull: f64, holds_back: f64) -> Regime {
        let mut below = self.v < speed;
        if self.v == speed {
            match self.tracking(0.0, -holds_back, pull) {
                Ok(keeps) => return keeps,
                // without the force to keep the speed it falls, without the force to hold it rises
                Err(at_limit) => below = at_limit.pull.base > 0.0,
            }
        }
        if below {
            let regime = self.tracking(ramp, -holds_back, pull).unwrap_or_else(|sat| sat);
            Regime { faster: speed, ..regime }
        } else {
            let regime = self.tracking(-ramp, -holds_back, pull).unwrap_or_else(|sat| sat);
            Regime { slower: speed, ..regime }
        }
    }

    /// The pull that gives a wanted acceleration, as long as it lies between `low` and `high`; else
    /// (`Err`) the limit itself, until the wanted one comes back into reach.
    fn tracking(&self, wanted: f64, low: f64, high: f64) -> Result<Regime, Regime> {
        let needed = self.mass * wanted - self.others();
        let trend = -self.stretch.rate * self.side;
        let near = |limit: f64| (needed - limit).abs() <= NEAR * (high - low);
        let distance_to = |limit: f64| (needed - limit) / self.stretch.rate;
        if needed > high && !near(high) || near(high) && trend > 0.0 {
            let back = if trend < 0.0 { distance_to(high) } else { f64::INFINITY };
            return Err(Regime { distance: back, ..self.constant(high, 0.0) });
        }
        if needed < low && !near(low) || near(low) && trend < 0.0 {
            let back = if trend > 0.0 { distance_to(low) } else { f64::INFINITY };
            return Err(Regime { distance: back, ..self.constant(low, 0.0) });
        }
        let distance = if trend > 0.0 {
            distance_to(high)
        } else if trend < 0.0 {
            distance_to(low)
        } else {
            f64::INFINITY
        };
        Ok(Regime {
            law: Law { a: wanted, b: 0.0, c: 0.0 },
            pull: PullLine { base: needed, per_metre: -self.stretch.rate, per_speed: 0.0 },
            slower: f64::NEG_INFINITY,
            faster: f64::INFINITY,
            distance,
        })
    }
}
