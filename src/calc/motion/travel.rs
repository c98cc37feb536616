//! The questions that a builder asks of a motion.
//!
//! In: a [`Motion`]. Out: the run as it should be, how far the roof would coast if no stop were there,
//! what is left of the room before the stop, and the run with the sensor failed. It must not know
//! how a run is worked out.

use super::engine::run_without_stops;
use super::run::End;
use super::{Contact, Direction, Motion, Peak, Run, run};
use crate::calc::FormulaError;

/// What stands for the coast of a roof that does not come to rest by itself, m: farther than any travel.
pub const ENDLESS: f64 = 100.0;

/// One travel of the roof.
#[derive(Debug, Clone, PartialEq)]
pub struct Travel {
    /// The motion as it should be.
    pub run: Run,
    /// Time from the start until the roof rests (or hits a stop, or stalls), s.
    pub time: f64,
    /// Way from where the sensor trips to rest, were there no stop, m. None if there is no sensor, if
    /// it is not reached, or if the roof would never come to rest by itself.
    pub coast: Option<f64>,
    /// Way from where the sensor trips to the stop, m.
    pub room: Option<f64>,
    /// Room less coast, m; negative if the roof hits the stop.
    pub margin: Option<f64>,
    /// The largest steady pull on the way, wind and grade included, and where, N.
    pub governing_pull: Peak,
    /// The motion with the sensor failed: the drive pulls until a stop holds it.
    pub sensor_failed: Run,
}

impl Travel {
    /// The meeting with the stop if the sensor fails.
    #[must_use]
    pub fn failed_contact(&self) -> Option<Contact> {
        self.sensor_failed.contact
    }
}

/// Works out a whole travel: as it should be, and with the sensor failed.
///
/// # Errors
/// If a number of the motion makes no sense; the message names it.
pub fn travel(motion: &Motion) -> Result<Travel, FormulaError> {
    let as_it_should_be = run(motion)?;
    let rests_freely = as_it_should_be.end == End::Rests && as_it_should_be.contact.is_none();
    let coast = if motion.sensor.is_none() {
        None
    } else if rests_freely {
        as_it_should_be.coast()
    } else {
        let free = run_without_stops(motion)?;
        (free.end == End::Rests).then(|| free.coast()).flatten()
    };
    let way = match motion.direction {
        Direction::Opening => 1.0,
        Direction::Shutting => -1.0,
    };
    let stop = match motion.direction {
        Direction::Opening => motion.open_stop,
        Direction::Shutting => motion.shut_stop,
    };
    let room = stop.zip(motion.sensor).map(|(stop, sensor)| way * (stop.at - sensor.at));
    let failed = Motion { sensor: None, ..motion.clone() };
    Ok(Travel {
        time: as_it_should_be.last.time,
        run: as_it_should_be,
        coast,
        room,
        margin: room.zip(coast).map(|(room, coast)| room - coast),
        governing_pull: motion.track.governing_pull(motion.direction == Direction::Opening),
        sensor_failed: run(&failed)?,
    })
}
