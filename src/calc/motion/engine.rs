//! From event to event.
//!
//! In: a checked course and what is to be done on it. Out: the run. Each turn of the loop finds the
//! law that holds now and the first event that ends it: a place, a speed, a moment. The number of
//! events is bounded, so no design can hang it. It must not know formulas of forces (`pull`) nor of
//! motion (`law`).

use super::course::{Course, Edge};
use super::law::Arrival;
use super::pull::{PullLine, Regime, Situation, Told};
use super::run::{Contact, End, Moment, Phase, Run, Segment};
use super::{Direction, Drive, Halt, Motion, law};
use crate::calc::FormulaError;

/// More events than any roof has. A roof without friction in a dip of its track would rock for ever.
const MOST_EVENTS: usize = 4000;

/// A roof that turned three times within this distance (m) has rocked itself to rest. In a dip it would go on rocking ever
/// less, without end.
const ROCKED_OUT: f64 = 1e-6;

#[derive(Debug, Clone, Copy, PartialEq)]
enum Mode {
    Driven,
    Reacting { until: f64 },
    Halting { told: Told, then: Told },
}

/// What a roof at rest does next.
enum AtRest {
    Goes(f64),
    Waits(f64),
    Stays(End),
}

enum Event {
    Standstill,
    Speed(f64),
    Place(f64),
    Cut,
    Never,
}

/// Works a motion out until the roof rests, hits a stop or leaves the track.
///
/// # Errors
/// If a number of the motion makes no sense; the message names it.
pub fn run(motion: &Motion) -> Result<Run, FormulaError> {
    let course = Course::new(motion, false)?;
    Ok(work_out(motion, &course))
}

/// The same with the stops and the ends of the track taken away.
pub(super) fn run_without_stops(motion: &Motion) -> Result<Run, FormulaError> {
    let course = Course::new(motion, true)?;
    Ok(work_out(motion, &course))
}

fn work_out(motion: &Motion, course: &Course) -> Run {
    let x = motion.start * course.mirror;
    let mode = if motion.drive.is_some() { Mode::Driven } else { halting(motion.halt) };
    let mut engine = Engine {
        motion,
        course,
        x,
        v: motion.speed * course.mirror,
        t: 0.0,
        i: course.legs.iter().position(|p| x <= p.stretch.to).unwrap_or(0),
        mode,
        turned_at: [f64::INFINITY; 3],
        segments: Vec::with_capacity(2 * course.legs.len() + 8),
        trip: None,
        cut: None,
        contact: None,
        peak_pull: None,
        rolls_back: None,
    };
    let end = engine.follow();
    let last = engine.now(0.0);
    Run {
        end,
        last: engine.segments.last().map_or(last, |s| s.end),
        segments: engine.segments,
        trip: engine.trip,
        cut: engine.cut,
        contact: engine.contact,
        peak_pull: engine.peak_pull,
        rolls_back: engine.rolls_back,
    }
}

fn halting(halt: Halt) -> Mode {
    match halt {
        Halt::Coast { brake, damping } => {
            let told = Told::LetGo { brake, damping };
            Mode::Halting { told, then: told }
        }
        Halt::RampDown { ramp, brake } => Mode::Halting { told: Told::SlowDown(ramp), then: Told::LetGo { brake, damping: 0.0 } },
    }
}

struct Engine<'a> {
    motion: &'a Motion,
    course: &'a Course,
    x: f64,
    v: f64,
    t: f64,
    /// Index of the leg that the roof is in, or is about to leave.
    i: usize,
    mode: Mode,
    /// The last three places at which it stood.
    turned_at: [f64; 3],
    segments: Vec<Segment>,
    trip: Option<Moment>,
    cut: Option<Moment>,
    contact: Option<Contact>,
    peak_pull: Option<Moment>,
    rolls_back: Option<Moment>,
}

impl Engine<'_> {
    fn follow(&mut self) -> End {
        let most = MOST_EVENTS + 4 * self.course.legs.len();
        for _ in 0..most {
            self.look_at_sensor();
            let side = if self.v == 0.0 {
                match self.at_rest() {
                    AtRest::Goes(side) => side,
                    AtRest::Stays(end) => return end,
                    AtRest::Waits(until) => {
                        self.wait(until);
                        continue;
                    }
                }
            } else {
                self.v.signum()
            };
            if side < 0.0 && self.rolls_back.is_none() {
                self.rolls_back = Some(self.now(0.0));
            }
            if let Some(end) = self.enter_leg(side) {
                return end;
            }
            if let Some(end) = self.advance(side) {
                return end;
            }
        }
        End::NeverRests
    }

    /// Finds the first event of the law that holds now, and goes there.
    fn advance(&mut self, side: f64) -> Option<End> {
        let Some(leg) = self.course.legs.get(self.i) else { return Some(End::NeverRests) };
        let here = Situation { mass: self.motion.mass, stretch: &leg.stretch, x: self.x, v: self.v, side };
        let regime = here.regime(self.motion.drive, self.told());
        let place = self.next_place(side, &regime);

        let mut first = regime.law.standstill(self.v);
        let mut event = if first.is_finite() { Event::Standstill } else { Event::Never };
        if let Mode::Reacting { until } = self.mode
            && until - self.t <= first
        {
            (first, event) = ((until - self.t).max(0.0), Event::Cut);
        }
        match regime.law.place_reached(self.v, place - self.x, first) {
            Arrival::At(t) => (first, event) = (t, Event::Place(place)),
            Arrival::Later => {}
            Arrival::Creeps { y, t } if self.keeps_its_regime(&regime, t) => {
                self.record(&regime, t, self.x + y, 0.0);
                self.turned_at = [self.x; 3]; // nothing pushes it away from there
                return self.stopped_by_spring(side);
            }
            Arrival::Creeps { .. } => {}
        }
        for level in [regime.slower, regime.faster] {
            if level.is_finite() {
                let t = regime.law.speed_reached(self.v, level, first);
                if t.is_finite() {
                    (first, event) = (t, Event::Speed(level));
                }
            }
        }
        let (y, v) = if first.is_finite() { regime.law.state(self.v, first) } else { (0.0, 0.0) };
        let x = (self.x + y).clamp(leg.stretch.from, leg.stretch.to);
        match event {
            Event::Never => return Some(End::NeverRests),
            Event::Standstill => {
                self.record(&regime, first, x, 0.0);
                self.come_to_rest();
                return self.stopped_by_spring(side);
            }
            Event::Speed(level) => self.record(&regime, first, x, level),
            Event::Place(place) => {
                let stands = v * side <= 0.0;
                self.record(&regime, first, place, if stands { 0.0 } else { v });
                if stands {
                    self.come_to_rest();
                }
            }
            Event::Cut => {
                self.record(&regime, first, x, v);
                self.let_go();
            }
        }
        None
    }

    /// No other regime begins within a time.
    fn keeps_its_regime(&self, regime: &Regime, time: f64) -> bool {
        [regime.slower, regime.faster]
            .into_iter()
            .all(|level| level.is_infinite() || regime.law.speed_reached(self.v, level, time).is_infinite())
    }

    /// The next place at which something changes, the way the roof goes.
    fn next_place(&self, side: f64, regime: &Regime) -> f64 {
        let Some(leg) = self.course.legs.get(self.i) else { return self.x };
        let stretch = &leg.stretch;
        let mut place = if side > 0.0 { stretch.to } else { stretch.from };
        if regime.distance.is_finite() {
            let other = self.x + regime.distance;
            place = if side > 0.0 { place.min(other) } else { place.max(other) };
        }
        if let (Mode::Driven, Some(sensor)) = (self.mode, self.sensor_at())
            && side > 0.0
            && sensor > self.x
        {
            place = place.min(sensor);
        }
        place
    }

    /// Takes the step to the end of a segment.
    fn record(&mut self, regime: &Regime, lasts: f64, x: f64, v: f64) {
        let start = self.now(regime.pull.at(0.0, self.v));
        let (speed, y) = (self.v, x - self.x);
        (self.t, self.x, self.v) = (self.t + lasts, x, v);
        let end = self.now(regime.pull.at(y, v));
        let in_stop = self.course.legs.get(self.i).is_some_and(|p| p.in_stop);
        let phase = match self.mode {
            _ if in_stop => Phase::InStop,
            Mode::Driven => Phase::Driven,
            Mode::Reacting { .. } => Phase::Reacting,
            Mode::Halting { .. } => Phase::Halting,
        };
        let segment = Segment { phase, start, end, law: regime.law, pull: regime.pull, mirror: self.course.mirror };
        self.note_pull(start);
        self.note_pull(end);
        if regime.pull.per_speed != 0.0 && regime.law.b != 0.0 {
            // the speed may have a least value inside
            let turn = regime.law.turn(speed);
            if turn < lasts {
                self.note_pull(segment.at(start.time + turn));
            }
        }
        self.segments.push(segment);
    }

    fn note_pull(&mut self, moment: Moment) {
        if moment.pull > self.peak_pull.map_or(0.0, |p| p.pull) {
            self.peak_pull = Some(moment);
        }
    }

    fn look_at_sensor(&mut self) {
        let (Mode::Driven, Some(sensor), Some(at)) = (self.mode, self.motion.sensor, self.sensor_at()) else {
            return;
        };
        if self.x >= at {
            self.trip = Some(self.now(self.pull_now()));
            if sensor.reaction > 0.0 {
                self.mode = Mode::Reacting { until: self.t + sensor.reaction };
            } else {
                self.let_go();
            }
        }
    }

    fn let_go(&mut self) {
        self.cut = Some(self.now(self.pull_now()));
        self.mode = halting(self.motion.halt);
        self.turned_at = [f64::INFINITY; 3];
        if self.v <= 0.0 {
            self.end_ramp();
        }
    }

    fn come_to_rest(&mut self) {
        let [_, before, last] = self.turned_at;
        self.turned_at = [before, last, self.x];
        self.end_ramp();
    }

    /// A ramp down ends at the first standstill; then the brake takes over.
    fn end_ramp(&mut self) {
        if let Mode::Halting { then, .. } = self.mode {
            self.mode = Mode::Halting { told: then, then };
        }
    }

    fn rocked_out(&self) -> bool {
        let [first, second, third] = self.turned_at;
        (first - third).abs() < ROCKED_OUT && (second - third).abs() < ROCKED_OUT
    }

    fn wait(&mut self, until: f64) {
        let start = self.now(self.pull_at_rest());
        self.t = until;
        let end = self.now(self.pull_at_rest());
        self.note_pull(start);
        self.segments.push(Segment {
            phase: Phase::Reacting,
            start,
            end,
            law: law::Law { a: 0.0, b: 0.0, c: 0.0 },
            pull: PullLine { base: start.pull, ..PullLine::NONE },
            mirror: self.course.mirror,
        });
        self.let_go();
    }

    /// What a roof at rest does: goes forward if it can, else back if it is pushed, else stays.
    fn at_rest(&self) -> AtRest {
        let pull = self.pull_at_rest();
        let brake = match self.told() {
            Told::LetGo { brake, .. } => brake,
            Told::Pull | Told::SlowDown(_) => 0.0,
        };
        let gives_way = |side: f64| {
            let Some(i) = self.leg_towards(side) else {
                // beyond the last leg: something solid, or nothing
                let edge = if side > 0.0 { self.course.front } else { self.course.back };
                let here = self.course.legs.get(self.i).map(|p| p.stretch.push_at(self.x));
                return edge == Edge::Open && side * (here.unwrap_or(0.0) + pull) > brake;
            };
            self.course.legs.get(i).is_some_and(|p| {
                let holds = self.motion.breakaway * p.stretch.resistance + brake;
                side * (p.stretch.push_at(self.x) + pull) > holds
            })
        };
        for side in [1.0, -1.0] {
            if !self.rocked_out() && gives_way(side) {
                return AtRest::Goes(side);
            }
        }
        match self.mode {
            Mode::Driven => AtRest::Stays(End::Stalls),
            Mode::Reacting { until } => AtRest::Waits(until),
            Mode::Halting { .. } => AtRest::Stays(End::Rests),
        }
    }

    /// The leg on one side of the roof.
    fn leg_towards(&self, side: f64) -> Option<usize> {
        let stretch = &self.course.legs.get(self.i)?.stretch;
        if side > 0.0 && self.x >= stretch.to {
            (self.i + 1 < self.course.legs.len()).then_some(self.i + 1)
        } else if side < 0.0 && self.x <= stretch.from {
            self.i.checked_sub(1)
        } else {
            Some(self.i)
        }
    }

    /// Moves on to the leg that the roof goes into; the end of the run if there is none.
    fn enter_leg(&mut self, side: f64) -> Option<End> {
        let Some(next) = self.leg_towards(side) else {
            let edge = if side > 0.0 { self.course.front } else { self.course.back };
            if edge == Edge::Rigid {
                self.hit_something_solid(side);
                return Some(End::AtStop);
            }
            return Some(End::LeavesTrack);
        };
        if next != self.i {
            self.i = next;
            if self.goes_into_spring(side) {
                self.contact = Some(self.touch(side));
            }
        }
        None
    }

    fn touch(&self, side: f64) -> Contact {
        let opening = side * self.course.mirror > 0.0;
        Contact {
            stop: if opening { Direction::Opening } else { Direction::Shutting },
            moment: self.now(self.segments.last().map_or(0.0, |s| s.end.pull)),
            energy: 0.5 * self.motion.mass * self.v * self.v,
            compression: 0.0,
            spring_force: None,
            hard_speed: None,
        }
    }

    fn hit_something_solid(&mut self, side: f64) {
        let mut contact = self.contact.unwrap_or_else(|| self.touch(side));
        contact.hard_speed = Some(self.v.abs());
        self.contact = Some(self.compressed(contact, side));
    }

    /// The roof stands: the end of the run if it went into a stop's spring.
    fn stopped_by_spring(&mut self, side: f64) -> Option<End> {
        if !self.goes_into_spring(side) {
            return None;
        }
        let contact = self.contact.unwrap_or_else(|| self.touch(side));
        self.contact = Some(self.compressed(contact, side));
        Some(End::AtStop)
    }

    fn compressed(&self, contact: Contact, side: f64) -> Contact {
        let at = if side > 0.0 { self.course.front_stop } else { self.course.back_stop };
        let compression = at.map_or(0.0, |at| (self.x - at).abs());
        let stop = match contact.stop {
            Direction::Opening => self.motion.open_stop,
            Direction::Shutting => self.motion.shut_stop,
        };
        let spring = stop.and_then(|s| s.spring);
        Contact { compression, spring_force: spring.map(|s| s.rate * compression), ..contact }
    }

    /// The roof is in a stop's spring and goes further in.
    fn goes_into_spring(&self, side: f64) -> bool {
        let last = self.course.legs.len().saturating_sub(1);
        let end = if side > 0.0 { last } else { 0 };
        self.i == end && self.course.legs.get(end).is_some_and(|p| p.in_stop)
    }

    fn sensor_at(&self) -> Option<f64> {
        self.motion.sensor.map(|s| s.at * self.course.mirror)
    }

    fn told(&self) -> Told {
        match self.mode {
            Mode::Driven | Mode::Reacting { .. } => Told::Pull,
            Mode::Halting { told, .. } => told,
        }
    }

    fn pull_now(&self) -> f64 {
        self.segments.last().map_or_else(|| self.pull_at_rest(), |s| s.end.pull)
    }

    /// The most that the drive pulls with at rest.
    fn pull_at_rest(&self) -> f64 {
        match (self.told(), self.motion.drive) {
            (Told::Pull, Some(Drive::Motor { stall, limit, .. })) => stall.min(limit),
            (Told::Pull, Some(Drive::Geared { pull, .. })) => pull,
            _ => 0.0,
        }
    }

    fn now(&self, pull: f64) -> Moment {
        let mirror = self.course.mirror;
        // adding 0 turns −0 into 0
        Moment { time: self.t, travel: mirror * self.x + 0.0, speed: mirror * self.v + 0.0, pull }
    }
}
