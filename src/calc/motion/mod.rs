//! The roof's motion from standstill to standstill, worked out exactly, piece by piece.
//!
//! In: the mass, the forces along the travel, the drive, the sensor, what happens when it trips, the
//! stops. Out: the pieces of the motion with time, place, speed and pull, and what people ask of
//! them: time of travel, peak pull, coast, margin, speed and energy at the stop.
//! Each piece ends at an event (a place, a speed, a moment), never at a fixed time step, and has a
//! closed form. It must not know a component, a rule or a tolerance: whoever wants the worst case
//! asks again with other numbers.

mod course;
mod engine;
pub mod law;
mod passing;
mod pull;
mod run;
mod track;
mod travel;

pub use engine::run;
pub use passing::passing;
pub use run::{Contact, End, Moment, Phase, Run, Segment};
pub use track::{Peak, SOME_TRAVEL, Stretch, Track};
pub use travel::{ENDLESS, Travel, travel};

/// Which way the roof is told to go.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Direction {
    /// Towards growing travel.
    Opening,
    /// Towards travel 0.
    Shutting,
}

/// What pulls the roof, as far as the roof feels it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Drive {
    /// A motor whose pull falls in a straight line with speed, as a permanent-magnet motor's does.
    Motor {
        /// Pull at standstill, N.
        stall: f64,
        /// Speed at which the pull is zero, m/s.
        no_load_speed: f64,
        /// Pull that is never exceeded (current limit, clutch), N; infinite if there is none.
        limit: f64,
        /// How hard it holds a roof back that overruns it, N; infinite if the line just goes on,
        /// 0 for an overrunning clutch.
        holds_back: f64,
    },
    /// A geared drive that runs up at a set acceleration and then keeps its speed as long as its
    /// pull suffices.
    Geared {
        /// Speed it keeps, m/s.
        speed: f64,
        /// Acceleration it runs up with, m/s²; infinite if it starts as hard as it can.
        ramp: f64,
        /// Largest pull, N.
        pull: f64,
        /// How hard it holds back a roof that overruns it, N.
        holds_back: f64,
    },
}

/// The sensor that ends the drive's work as soon as the roof is there or beyond.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sensor {
    /// Travel at which it trips, m.
    pub at: f64,
    /// Time from there until the drive lets go, s.
    pub reaction: f64,
}

/// How the roof comes to rest once the drive has let go.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Halt {
    /// It coasts, slowed by a friction brake or the friction of a gear that is driven backwards
    /// (`brake`, N, holds at rest as well) and a short-circuited motor (`damping`, N·s/m).
    Coast {
        /// Friction, N.
        brake: f64,
        /// Force for each unit of speed, N·s/m.
        damping: f64,
    },
    /// A geared drive slows it down at `ramp` (m/s²) as far as its forces reach, then `brake` (N)
    /// holds it.
    RampDown {
        /// Deceleration, m/s².
        ramp: f64,
        /// Friction at rest, N.
        brake: f64,
    },
}

/// What stops the roof when nothing else did.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stop {
    /// Travel at which the roof touches it, m.
    pub at: f64,
    /// Its spring and how far that gives way; rigid without.
    pub spring: Option<Spring>,
}

/// A buffer with a straight characteristic.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spring {
    /// Force for each unit of way, N/m.
    pub rate: f64,
    /// Way until it is solid, m.
    pub stroke: f64,
}

/// One motion to be worked out.
#[derive(Debug, Clone, PartialEq)]
pub struct Motion {
    /// Moving mass, with the rotor's inertia as the mass it is worth at the rack, kg.
    pub mass: f64,
    /// Forces along the travel.
    pub track: Track,
    /// Which way the drive pulls.
    pub direction: Direction,
    /// Travel at the start, m.
    pub start: f64,
    /// Speed at the start, positive if the roof is opening, m/s.
    pub speed: f64,
    /// Resistance at rest over resistance in motion, 1 or more.
    pub breakaway: f64,
    /// What pulls; nothing for a roof that is let go.
    pub drive: Option<Drive>,
    /// What ends the pull; nothing if it has failed or is not there.
    pub sensor: Option<Sensor>,
    /// What happens after that.
    pub halt: Halt,
    /// The stop at the shut end.
    pub shut_stop: Option<Stop>,
    /// The stop at the open end.
    pub open_stop: Option<Stop>,
}
