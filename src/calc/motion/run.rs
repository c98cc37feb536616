//! What came of a motion: its segments and its end.
//!
//! In: a motion. Out: a [`Run`]. It must not know how the events are found (that is `engine`).

use super::Direction;
use super::law::Law;
use super::pull::PullLine;

/// The roof at one moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Moment {
    /// Time since the start, s.
    pub time: f64,
    /// Travel, m.
    pub travel: f64,
    /// Speed, positive if opening, m/s.
    pub speed: f64,
    /// Pull of the drive, positive in the direction it is told to go, N.
    pub pull: f64,
}

/// What the roof is doing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Phase {
    /// The drive pulls.
    Driven,
    /// The sensor has tripped, the drive still pulls.
    Reacting,
    /// The drive has let go (or was never there): coasting, braked, or slowed down by the drive.
    Halting,
    /// The roof is in a stop's spring.
    InStop,
}

/// A piece of the motion under one law.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Segment {
    /// What the roof is doing.
    pub phase: Phase,
    /// How it begins.
    pub start: Moment,
    /// How it ends.
    pub end: Moment,
    pub(super) law: Law,
    pub(super) pull: PullLine,
    pub(super) mirror: f64,
}

impl Segment {
    /// The roof at a moment between start and end (s since the start of the run).
    #[must_use]
    pub fn at(&self, time: f64) -> Moment {
        let (y, v) = self.law.state(self.mirror * self.start.speed, time - self.start.time);
        Moment { time, travel: self.start.travel + self.mirror * y, speed: self.mirror * v, pull: self.pull.at(y, v) }
    }
}

/// How a run ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// It comes to rest by itself, the drive off.
    Rests,
    /// It stands (or never started) with the drive pulling in vain.
    Stalls,
    /// A stop brought it to rest, or hit it hard; see [`Run::contact`].
    AtStop,
    /// It runs off the end of a track that has no stop.
    LeavesTrack,
    /// It goes on for ever, or rocks for longer than anybody would follow.
    NeverRests,
}

/// The roof's meeting with a stop.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Contact {
    /// Which stop: the one that it meets when opening, or when shutting.
    pub stop: Direction,
    /// The moment of touching.
    pub moment: Moment,
    /// Energy of the moving mass at that moment, J.
    pub energy: f64,
    /// How far the spring gave way, m; 0 for a rigid stop.
    pub compression: f64,
    /// Largest force of the spring, N; none for a rigid stop, where it hangs on what breaks first.
    pub spring_force: Option<f64>,
    /// Speed (m/s) with which the roof hits something solid: a rigid stop, or a spring at its end.
    pub hard_speed: Option<f64>,
}

impl Contact {
    /// Energy that the spring has taken up, J: `½ F s`, with what the drive and the wind added on the way; 0 for a
    /// rigid stop.
    #[must_use]
    pub fn absorbed(&self) -> f64 {
        0.5 * self.spring_force.unwrap_or(0.0) * self.compression
    }
}

/// A motion, worked out.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// The pieces, in order. Empty if nothing moves.
    pub segments: Vec<Segment>,
    /// How it ends.
    pub end: End,
    /// The last moment.
    pub last: Moment,
    /// The sensor trips.
    pub trip: Option<Moment>,
    /// The drive lets go.
    pub cut: Option<Moment>,
    /// The roof meets a stop.
    pub contact: Option<Contact>,
    /// The largest pull of the drive.
    pub peak_pull: Option<Moment>,
    /// The first moment at which it moves, or turns, against the direction it was told.
    pub rolls_back: Option<Moment>,
}

impl Run {
    /// Way from where the sensor trips to the end of the run, m.
    #[must_use]
    pub fn coast(&self) -> Option<f64> {
        self.trip.map(|t| (self.last.travel - t.travel).abs())
    }

    /// The roof at a moment, s since the start.
    #[must_use]
    pub fn at(&self, time: f64) -> Option<Moment> {
        let i = self.segments.partition_point(|s| s.end.time < time);
        let segment = self.segments.get(i)?;
        (time >= segment.start.time).then(|| segment.at(time))
    }
}
