//! A track's beam with the roof in one place: its moment worked out by hand, how far it sags, and how far the tracks of a
//! roof sag apart.

use super::{BeamLine, BeamUnderWheels, MomentByHand, NO_WAY, TracksApart, count_of, from_above, wheels};
use crate::calc::FormulaError;
use crate::calc::beam::{self, Beam, Load, UnderWheels, Wheel, bearings};
use crate::formulas::body::Formula;
use crate::formulas::lists::items;
use crate::formulas::tables::{table, word};
use crate::formulas::take;
use crate::values::Value;

/// Two stations (m) that differ by less are the same place, as a person would write them.
const SAME_STATION: f64 = 1e-6;

/// The moment at a section from what stands on its shorter side: each force up, its arm, its moment.
impl Formula for MomentByHand {
    fn answer(self) -> Result<table::MomentByHand, FormulaError> {
        let (start, end, own, travel, at) = (self.first_end, self.last_end, self.own_weight, self.travel, self.section);
        let (supports, _) = bearings::under(start, end, &self.supports);
        let beam = Beam::uniform(start, end, self.rigidity, &supports);
        let rolling = wheels(&self.wheels, &self.loads)?.into_iter().map(|wheel| (travel + wheel.offset, wheel.load));
        if at < start - NO_WAY || at > end + NO_WAY {
            return Err(FormulaError::domain("the section", "on the beam"));
        }
        let above = from_above(self.resting_at, self.resting.as_ref())?;
        let resting = above.into_iter().map(|(x, load)| (x.clamp(start, end), load.moving));
        let on_beam: Vec<(f64, f64)> = rolling.filter(|(x, _)| *x >= beam.start && *x <= beam.end).chain(resting).collect();
        let mut loads = vec![Load::self_weight(&beam, own)];
        loads.extend(on_beam.iter().map(|(at, force)| Load::Point { at: *at, force: *force }));
        let response = beam::respond(&beam, &loads)?;
        let all: Vec<(f64, f64)> =
            supports.iter().copied().zip(response.reactions.iter().copied()).chain(on_beam.iter().map(|(x, load)| (*x, -load))).collect();
        let left = all.iter().filter(|(x, _)| *x < at).count() <= all.iter().filter(|(x, _)| *x > at).count();
        let end = if left { beam.start } else { beam.end };
        let beyond = |x: f64| if left { x < at } else { x > at };
        let mut forces: Vec<(f64, f64)> = all.into_iter().filter(|(x, _)| beyond(*x) && (*x - at).abs() >= SAME_STATION).collect();
        forces.push((0.5 * (at + end), -own * (at - end).abs()));
        let arm = |x: f64| (x - at).abs();
        Ok(table::MomentByHand {
            section: at,
            travel,
            wheels: on_beam.iter().map(|(x, _)| *x).collect(),
            wheel_loads: on_beam.iter().map(|(_, load)| *load).collect(),
            supports,
            side: if left { word::MomentByHandSide::Closing } else { word::MomentByHandSide::Opening },
            stations: forces.iter().map(|(x, _)| *x).collect(),
            up: forces.iter().map(|(_, up)| *up).collect(),
            arms: forces.iter().map(|(x, _)| arm(*x)).collect(),
            moments: forces.iter().map(|(x, up)| up * arm(*x)).collect(),
            moment: response.moment(at),
            reactions: response.reactions,
        })
    }
}

impl Formula for BeamLine {
    fn answer(self) -> Result<table::BeamLine, FormulaError> {
        Ok(table::BeamLine {
            first_end: self.first_end,
            last_end: self.last_end,
            rigidity: self.rigidity,
            own_weight: self.own_weight,
            supports: self.supports,
            wheels: self.wheels,
            loads: self.loads,
        })
    }
}

/// A beam with the wheels of the shut roof.
struct Line {
    beam: Beam,
    own: f64,
    wheels: Vec<Wheel>,
}

impl Line {
    fn of(line: &table::BeamLine) -> Result<Self, FormulaError> {
        let (supports, _) = bearings::under(line.first_end, line.last_end, &line.supports);
        let beam = Beam::uniform(line.first_end, line.last_end, line.rigidity, &supports);
        Ok(Self { beam, own: line.own_weight, wheels: wheels(&line.wheels, &line.loads)? })
    }

    /// Those of one track.
    fn of_track(track: &Value) -> Result<Vec<Self>, FormulaError> {
        let lines = items(track).iter().map(take::table::<table::BeamLine>);
        let wrong = || FormulaError::domain("the track", "a list of tables of `beam_line`");
        lines.map(|line| Self::of(&line.ok_or_else(wrong)?)).collect()
    }
}

/// How far each wheel of a track has sunk when the roof has rolled so far; none for a wheel that is on no beam.
fn sunk(track: &[(UnderWheels, Vec<Wheel>)], travel: f64) -> Vec<Option<f64>> {
    let mut all: Vec<Option<f64>> = Vec::new();
    for (beam, wheels) in track {
        let here = beam.at(wheels, travel);
        all.resize(all.len().max(here.len()), None);
        all.iter_mut().zip(here).for_each(|(known, here)| *known = known.or(here));
    }
    all
}

impl Formula for BeamUnderWheels {
    fn answer(self) -> Result<table::BeamUnderWheels, FormulaError> {
        let line = Line::of(&self.line)?;
        let beam = &line.beam;
        let on_beam =
            line.wheels.iter().map(|wheel| (wheel.offset + self.travel, wheel.load)).filter(|(at, _)| *at >= beam.start && *at <= beam.end);
        let mut loads = vec![Load::self_weight(beam, line.own)];
        loads.extend(on_beam.clone().map(|(at, force)| Load::Point { at, force }));
        let response = beam::respond(beam, &loads)?;
        let deepest = response.deepest();
        Ok(table::BeamUnderWheels {
            sag: deepest.value.max(0.0),
            sag_at: deepest.at,
            under_wheels: on_beam.map(|(at, _)| response.deflection(at)).fold(0.0, f64::max),
            most: response.reactions.iter().copied().fold(0.0, f64::max),
        })
    }
}

impl Formula for TracksApart {
    fn answer(self) -> Result<table::TracksApart, FormulaError> {
        /// Places of the roof that are looked at: between two of them a beam's sag hardly changes.
        const PLACES: u32 = 60;
        let solved = |line: Line| Ok((UnderWheels::new(&line.beam, line.own)?, line.wheels));
        let of_track = |track: &Value| Line::of_track(track)?.into_iter().map(solved).collect::<Result<Vec<_>, FormulaError>>();
        let tracks = items(&self.tracks).iter().map(of_track).collect::<Result<Vec<_>, _>>()?;
        let (mut apart, mut at, mut wheel) = (0.0, 0.0, 0);
        let from = self.from.unwrap_or_default();
        for place in 0..=PLACES {
            let travel = from + (self.travel - from) * f64::from(place) / f64::from(PLACES);
            let sunk: Vec<Vec<Option<f64>>> = tracks.iter().map(|track| sunk(track, travel)).collect();
            let axles = sunk.iter().map(Vec::len).min().unwrap_or(0);
            for axle in 0..axles {
                let depths = || sunk.iter().filter_map(|track| track.get(axle).copied().flatten());
                let difference = depths().fold(f64::NEG_INFINITY, f64::max) - depths().fold(f64::INFINITY, f64::min);
                if difference > apart {
                    (apart, at, wheel) = (difference, travel, axle + 1);
                }
            }
        }
        Ok(table::TracksApart { apart, travel: at, axle: count_of(wheel) })
    }
}
