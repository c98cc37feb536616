//! The roof on its way: forces along the travel, how far it coasts, the whole run from end to end.
//!
//! In: where the wheels stand, what they carry and how they roll, the levels of the tracks, drive,
//! sensor, stops. Out: tables. What may be missing comes as a list, empty if it is not there. How a
//! motion is worked out stands in `calc::motion`; it must not know a component.

use super::body::Formula;
use super::tables::{table, word};
use super::take;
use crate::calc::FormulaError;
use crate::calc::motion::{
    Direction, Drive, ENDLESS, End, Halt, Moment, Motion, Phase, Run, SOME_TRAVEL, Sensor, Spring, Stop, Stretch, Track, passing, travel,
};
use crate::values::Value;
use smol_str::SmolStr;

include!(concat!(env!("OUT_DIR"), "/formulas_motion.rs"));

/// A roof that rolls has nothing to break away from.
const ROLLING: f64 = 1.0;
/// Moments within each piece of a run that a curve is drawn through: so many that it looks round on paper.
const MOMENTS: u32 = 16;

impl From<word::Direction> for Direction {
    fn from(direction: word::Direction) -> Self {
        match direction {
            word::Direction::Opening => Self::Opening,
            word::Direction::Closing => Self::Shutting,
        }
    }
}

impl From<End> for word::Ends {
    fn from(end: End) -> Self {
        match end {
            End::Rests => Self::Rests,
            End::Stalls => Self::Stalls,
            End::AtStop => Self::AtStop,
            End::LeavesTrack => Self::LeavesTrack,
            End::NeverRests => Self::NeverRests,
        }
    }
}

fn positive(what: &str, si: f64) -> Result<f64, FormulaError> {
    if si > 0.0 { Ok(si) } else { Err(FormulaError::domain(what, "above zero")) }
}

fn sign(direction: Direction) -> f64 {
    match direction {
        Direction::Opening => 1.0,
        Direction::Shutting => -1.0,
    }
}

fn numbers(value: &Value) -> Vec<f64> {
    take::values(value).unwrap_or_default().iter().filter_map(Value::si).collect()
}

impl From<&Stretch> for table::WayStretch {
    fn from(stretch: &Stretch) -> Self {
        Self { from: stretch.from, to: stretch.to, push: stretch.push, rate: stretch.rate }
    }
}

impl Formula for RoofWay {
    fn answer(self) -> Result<table::RoofWay, FormulaError> {
        let (stations, loads, resistances) = (self.wheel_stations, self.wheel_loads, self.wheel_resistances);
        let all = |value: &Value| take::values(value).unwrap_or_default();
        let (places, levels) = (all(&self.track_stations), all(&self.track_levels));
        if stations.is_empty() || [loads.len(), resistances.len(), places.len(), levels.len()] != [stations.len(); 4] {
            return Err(FormulaError::domain("the wheels", "as many as their loads, resistances and tracks"));
        }
        let rolling: f64 = loads.iter().zip(&resistances).map(|(load, share)| load * share).sum();
        let resistance = rolling + self.drag.unwrap_or_default();
        let travels = || self.travels.iter().filter_map(Value::si);
        let from = travels().fold(0.0, f64::min);
        let to = travels().fold(from, f64::max);
        let to = if to > from { to } else { from + SOME_TRAVEL };
        let mut track = Track::level(from, to, resistance)?;
        for (((station, load), places), levels) in stations.iter().zip(&loads).zip(&places).zip(&levels) {
            let (places, levels) = (numbers(places), numbers(levels));
            if places.len() != levels.len() {
                return Err(FormulaError::domain("the levels of a track", "one for each station at which it was levelled"));
            }
            let points: Vec<(f64, f64)> = places.into_iter().zip(levels).collect();
            track = track.grade_under(&points, *station, *load)?;
        }
        let steeper = |worst: (f64, f64), stretch: &Stretch| {
            if stretch.push.abs() > worst.0 { (stretch.push.abs(), stretch.from) } else { worst }
        };
        let (grade, grade_at) = track.stretches().iter().fold((0.0, from), steeper);
        let (opening, closing) = (track.governing_pull(true), track.governing_pull(false));
        Ok(table::RoofWay {
            resistance,
            grade,
            grade_at,
            opening_pull: opening.force,
            opening_pull_at: opening.travel,
            closing_pull: closing.force,
            closing_pull_at: closing.travel,
            stretches: track.stretches().iter().map(table::WayStretch::from).collect(),
        })
    }
}

impl table::RoofWay {
    /// The track that it describes, with a steady `wind` (N) that pushes the roof open.
    fn track(&self, wind: f64) -> Result<Track, FormulaError> {
        let (Some(first), Some(last)) = (self.stretches.first(), self.stretches.last()) else {
            return Err(FormulaError::domain("the way", "the table of `roof_way`"));
        };
        let mut track = Track::level(first.from, last.to, self.resistance)?;
        for table::WayStretch { from, to, push, rate } in &self.stretches {
            track = track.push_between(*from, *to, *push, push + rate * (to - from))?;
        }
        if wind == 0.0 { Ok(track) } else { track.push(wind) }
    }
}

/// What is not written is not there: no turning parts, no wind.
impl Formula for RoofCoast {
    fn answer(self) -> Result<table::RoofCoast, FormulaError> {
        let direction = self.direction.into();
        let mass = positive("mass of the roof", self.mass)? + self.equivalent_mass.unwrap_or_default();
        let (v, reaction, brake) = (positive("speed", self.speed)?, self.reaction, self.brake);
        let track = self.way.track(self.wind.unwrap_or_default())?;
        let way = sign(direction);
        let end = if direction == Direction::Opening { track.to() } else { track.from() };
        let at = self.sensor.first().copied().unwrap_or(end).clamp(track.from(), track.to());
        let pull = track.plenty(mass);
        let here = track.stretches().iter().find(|stretch| at <= stretch.to);
        let held_by = here.map_or(0.0, |stretch| stretch.resistance) + brake;
        let pushed_by = way * here.map_or(0.0, |stretch| stretch.push_at(at));
        let motion = Motion {
            mass,
            track,
            direction,
            start: at,
            speed: way * v,
            breakaway: ROLLING,
            drive: Some(Drive::Geared { speed: v, ramp: f64::INFINITY, pull, holds_back: pull }),
            sensor: Some(Sensor { at, reaction }),
            halt: Halt::Coast { brake, damping: 0.0 },
            shut_stop: None,
            open_stop: None,
        };
        let coast = travel(&motion)?.coast;
        let rests = coast.is_some();
        let coast = coast.unwrap_or(ENDLESS).min(ENDLESS);
        let reacting = (v * reaction).min(coast);
        Ok(table::RoofCoast {
            coast,
            reacting,
            slowing: coast - reacting,
            held_by,
            pushed_by,
            moving: mass,
            deceleration: (held_by - pushed_by) / mass,
            rests,
            from: at,
        })
    }
}

impl RoofRun {
    /// The motion that it asks about.
    fn motion(&self) -> Result<Motion, FormulaError> {
        let direction = self.direction.into();
        let mass = positive("mass of the roof", self.mass)? + self.equivalent_mass.unwrap_or_default();
        let speed = positive("speed", self.speed)?;
        let track = self.way.track(self.wind.unwrap_or_default())?;
        let first = |list: &Option<Vec<f64>>| list.as_ref().and_then(|list| list.first().copied());
        let limit = first(&self.pull).unwrap_or_else(|| track.plenty(mass));
        let drive = match first(&self.no_load_speed) {
            Some(no_load_speed) if self.pull.as_ref().is_some_and(|pull| pull.len() == 1) => {
                Drive::Motor { stall: limit, no_load_speed, limit: f64::INFINITY, holds_back: f64::INFINITY }
            }
            _ => {
                let ramp = if self.start_time > 0.0 { speed / self.start_time } else { f64::INFINITY };
                Drive::Geared { speed, ramp, pull: limit, holds_back: limit }
            }
        };
        let spring = match (first(&self.stop_rate), first(&self.stop_stroke)) {
            (Some(rate), Some(stroke)) if rate > 0.0 && stroke > 0.0 => Some(Spring { rate, stroke }),
            _ => None,
        };
        let stop = |at: f64, spring| Stop { at: at.clamp(track.from(), track.to()), spring };
        // Of several stops at one end the roof meets the nearest.
        let open = self.open_stop.iter().copied().reduce(f64::min);
        let shut = self.closed_stop.iter().copied().reduce(f64::max);
        let opening = direction == Direction::Opening;
        let start = if opening { shut.unwrap_or(track.from()) } else { open.unwrap_or(track.to()) };
        Ok(Motion {
            mass,
            direction,
            start: start.clamp(track.from(), track.to()),
            speed: 0.0,
            breakaway: self.breakaway,
            drive: Some(drive),
            sensor: self.sensor.first().map(|at| Sensor { at: *at, reaction: self.reaction }),
            halt: Halt::Coast { brake: self.brake.unwrap_or_default(), damping: 0.0 },
            shut_stop: shut.map(|at| stop(at, spring.filter(|_| !opening))),
            open_stop: open.map(|at| stop(at, spring.filter(|_| opening))),
            track,
        })
    }
}

impl Formula for RoofRun {
    fn answer(self) -> Result<table::RoofRun, FormulaError> {
        let motion = self.motion()?;
        let whole = travel(&motion)?;
        let contact = whole.failed_contact();
        let peak = whole.run.peak_pull;
        // A stop that does not give way presses with what nobody can work out.
        let solid = contact.is_some_and(|contact| contact.spring_force.is_none());
        Ok(table::RoofRun {
            time: whole.time,
            ends: whole.run.end.into(),
            stalls: whole.run.end == End::Stalls,
            rests_at: whole.run.last.travel,
            peak_pull: peak.map_or(0.0, |peak| peak.pull),
            peak_pull_at: peak.map_or(motion.start, |peak| peak.travel),
            speed_at_trip: whole.run.trip.map_or(0.0, |trip| trip.speed.abs()),
            rolls_back: whole.run.rolls_back.is_some(),
            meets_stop: contact.is_some(),
            speed_at_stop: contact.map_or(0.0, |contact| contact.moment.speed.abs()),
            energy_at_stop: contact.map_or(0.0, |contact| contact.energy),
            pressed_in: contact.map_or(0.0, |contact| contact.compression),
            hits_solid: contact.is_some_and(|contact| contact.hard_speed.is_some()),
            why: SmolStr::new_static(if solid { "the stop does not give way, and its force is not known" } else { "" }),
            course: (&whole.run).into(),
            force_on_stop: if solid { None } else { Some(contact.and_then(|contact| contact.spring_force).unwrap_or_default()) },
        })
    }
}

/// The run as lists of the same moments.
impl From<&Run> for table::RunCourse {
    fn from(run: &Run) -> Self {
        let moments = run.segments.iter().flat_map(|segment| {
            let (from, to) = (segment.start.time, segment.end.time);
            (0..=MOMENTS).map(move |at| (segment.at(from + f64::from(at) / f64::from(MOMENTS) * (to - from)), segment.phase))
        });
        let (moments, phases): (Vec<Moment>, Vec<Phase>) = moments.unzip();
        let each = |of: fn(&Moment) -> f64| moments.iter().map(of).collect();
        Self {
            time: each(|moment| moment.time),
            travel: each(|moment| moment.travel),
            speed: each(|moment| moment.speed),
            pull: each(|moment| moment.pull),
            doing: phases.into_iter().map(doing).collect(),
        }
    }
}

fn doing(phase: Phase) -> SmolStr {
    SmolStr::new_static(match phase {
        Phase::Driven => "driven",
        Phase::Reacting => "still driven after the signal",
        Phase::Halting => "let go, slowing down",
        Phase::InStop => "in the stop",
    })
}

impl table::RunCourse {
    fn moments(&self) -> Vec<Moment> {
        let pairs = self.time.iter().zip(&self.travel).zip(self.speed.iter().zip(&self.pull));
        pairs.map(|((time, travel), (speed, pull))| Moment { time: *time, travel: *travel, speed: *speed, pull: *pull }).collect()
    }
}

impl Formula for MomentAt {
    fn answer(self) -> Result<table::MomentAt, FormulaError> {
        let course = &self.run.course;
        let (before, moment) = passing(&course.moments(), self.travel)?;
        let doing = course.doing.get(before).cloned().unwrap_or_default();
        Ok(table::MomentAt { time: moment.time, travel: moment.travel, speed: moment.speed.abs(), pull: moment.pull, doing })
    }
}
