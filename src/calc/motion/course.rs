//! A motion made ready for the engine: seen along the direction of the drive, checked, and with the
//! stops' springs as stretches of their own.
//!
//! In: a [`Motion`]. Out: the row of stretches that the roof may move through and what bounds them.
//! It must not know time. "Forward" here is always the way the drive pulls; `mirror` is what turns
//! forward back into travel.

use super::{Direction, Drive, Halt, Motion, Stop, Stretch};
use crate::calc::{FormulaError, check};

/// What is beyond an end of the course.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Edge {
    /// Something that does not give way.
    Rigid,
    /// Nothing: the roof leaves the track.
    Open,
    /// Track without end, for the question how far the roof would coast.
    Endless,
}

/// A leg of the course: one stretch of track, or the spring of a stop.
#[derive(Debug, Clone, Copy)]
pub(super) struct Leg {
    pub stretch: Stretch,
    /// It is the spring of a stop.
    pub in_stop: bool,
}

/// Where the roof may be, in the forward frame.
#[derive(Debug, Clone)]
pub(super) struct Course {
    pub legs: Vec<Leg>,
    pub back: Edge,
    pub front: Edge,
    /// Contact with the stops, in the forward frame.
    pub back_stop: Option<f64>,
    pub front_stop: Option<f64>,
    /// +1 or −1: travel = mirror · forward.
    pub mirror: f64,
}

impl Course {
    /// The course of a motion; without its stops and their ends if `endless`.
    pub fn new(motion: &Motion, endless: bool) -> Result<Self, FormulaError> {
        check_numbers(motion)?;
        let mirror = match motion.direction {
            Direction::Opening => 1.0,
            Direction::Shutting => -1.0,
        };
        let mut legs: Vec<Leg> = motion.track.stretches().iter().map(|s| Leg { stretch: mirrored(s, mirror), in_stop: false }).collect();
        let (mut back_stop, mut front_stop) = (motion.shut_stop, motion.open_stop);
        if mirror < 0.0 {
            legs.reverse();
            std::mem::swap(&mut back_stop, &mut front_stop);
        }
        let contact = |stop: Option<Stop>| stop.map(|s| s.at * mirror);
        let mut course =
            Self { legs, back: Edge::Open, front: Edge::Open, back_stop: contact(back_stop), front_stop: contact(front_stop), mirror };
        if endless {
            course.open_both_ends();
        } else {
            course.cut_at_stops(back_stop, front_stop)?;
        }
        let start = motion.start * mirror;
        if course.legs.is_empty() || start < course.from() || start > course.to() {
            return Err(FormulaError::domain("the roof at the start", "on its track, between the stops"));
        }
        Ok(course)
    }

    pub fn from(&self) -> f64 {
        self.legs.first().map_or(0.0, |p| p.stretch.from)
    }

    pub fn to(&self) -> f64 {
        self.legs.last().map_or(0.0, |p| p.stretch.to)
    }

    fn open_both_ends(&mut self) {
        if let Some(first) = self.legs.first().copied() {
            let push = first.stretch.push;
            self.legs.insert(0, endless(first, f64::NEG_INFINITY, first.stretch.from, push));
        }
        if let Some(last) = self.legs.last().copied() {
            let push = last.stretch.push_at(last.stretch.to);
            self.legs.push(endless(last, last.stretch.to, f64::INFINITY, push));
        }
        (self.back, self.front) = (Edge::Endless, Edge::Endless);
        (self.back_stop, self.front_stop) = (None, None);
    }

    fn cut_at_stops(&mut self, back: Option<Stop>, front: Option<Stop>) -> Result<(), FormulaError> {
        if let (Some(a), Some(b)) = (self.back_stop, self.front_stop)
            && a >= b
        {
            return Err(FormulaError::domain("the stops", "one at each end, with travel between them"));
        }
        if let (Some(stop), Some(at)) = (front, self.front_stop) {
            self.cut_at_front(stop, at);
        }
        if let (Some(stop), Some(at)) = (back, self.back_stop) {
            self.turn();
            self.cut_at_front(stop, -at);
            self.turn();
        }
        Ok(())
    }

    /// Ends the course at a stop, with its spring as a last leg.
    fn cut_at_front(&mut self, stop: Stop, at: f64) {
        if at > self.to() {
            return; // the track ends before: the roof leaves it without touching the stop
        }
        self.legs.retain(|p| p.stretch.from < at);
        let Some(last) = self.legs.last_mut() else { return };
        last.stretch.to = at;
        let last = *last;
        self.front = Edge::Rigid;
        if let Some(spring) = stop.spring {
            let stretch = Stretch {
                from: at,
                to: at + spring.stroke,
                push: last.stretch.push_at(at),
                rate: last.stretch.rate - spring.rate,
                resistance: last.stretch.resistance,
            };
            self.legs.push(Leg { stretch, in_stop: true });
        }
    }

    /// Looks at the course from the other side.
    fn turn(&mut self) {
        for p in &mut self.legs {
            p.stretch = mirrored(&p.stretch, -1.0);
        }
        self.legs.reverse();
        std::mem::swap(&mut self.back, &mut self.front);
    }
}

fn endless(next_to: Leg, from: f64, to: f64, push: f64) -> Leg {
    let stretch = Stretch { from, to, push, rate: 0.0, ..next_to.stretch };
    Leg { stretch, in_stop: false }
}

fn mirrored(s: &Stretch, mirror: f64) -> Stretch {
    if mirror > 0.0 {
        return *s;
    }
    Stretch { from: -s.to, to: -s.from, push: -s.push_at(s.to), ..*s }
}

fn check_numbers(motion: &Motion) -> Result<(), FormulaError> {
    check::positive("moving mass", motion.mass)?;
    check::finite("travel at the start", motion.start)?;
    check::finite("speed at the start", motion.speed)?;
    let needs = "1 or more";
    check::within("ratio of resistance at rest", motion.breakaway, 1.0, f64::MAX, needs)?;
    if let Some(drive) = motion.drive {
        check_drive(drive)?;
    }
    match motion.halt {
        Halt::Coast { brake, damping } => {
            check::not_negative("force of the brake", brake)?;
            check::not_negative("damping", damping)?;
        }
        Halt::RampDown { ramp, brake } => {
            check::positive("deceleration", ramp)?;
            check::not_negative("force of the brake", brake)?;
            if !matches!(motion.drive, Some(Drive::Geared { .. })) {
                let needs = "geared, with a set speed";
                return Err(FormulaError::domain("a drive that slows the roof down", needs));
            }
        }
    }
    if let Some(sensor) = motion.sensor {
        check::finite("travel at which the sensor trips", sensor.at)?;
        check::not_negative("reaction time", sensor.reaction)?;
    }
    for stop in [motion.shut_stop, motion.open_stop].into_iter().flatten() {
        check::finite("place of the stop", stop.at)?;
        if let Some(spring) = stop.spring {
            check::positive("spring rate of the stop", spring.rate)?;
            check::positive("stroke of the stop", spring.stroke)?;
        }
    }
    Ok(())
}

fn check_drive(drive: Drive) -> Result<(), FormulaError> {
    // a limit that is not there is an infinite one
    let above_zero = |what: &str, value: f64| {
        if value > 0.0 { Ok(()) } else { Err(FormulaError::domain(what, "more than zero")) }
    };
    match drive {
        Drive::Motor { stall, no_load_speed, limit, holds_back } => {
            check::positive("pull of the stalled motor", stall)?;
            check::positive("speed of the motor without load", no_load_speed)?;
            above_zero("limit of the motor's pull", limit)?;
            check::within("force that holds back", holds_back, 0.0, f64::INFINITY, "zero or more")?;
        }
        Drive::Geared { speed, ramp, pull, holds_back } => {
            check::positive("speed of the drive", speed)?;
            above_zero("acceleration of the drive", ramp)?;
            check::positive("pull of the drive", pull)?;
            check::not_negative("force that holds back", holds_back)?;
        }
    }
    Ok(())
}
