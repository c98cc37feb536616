//! Beams: the track's, with wheels that roll along it. Those under a pull, those evenly loaded and what is asked of a beam
//! in one place of the roof stand in files of their own.
//!
//! In: supports, stiffness, loads. Out: the worst moment, shear and sag, what each support gets, in each state of the roof.
//! What a beam is made of stands in `timber` and `steel`. It must not know whether a result is too much.

mod evenly_loaded;
mod in_one_place;
mod pulled;

use super::body::Formula;
use super::loads_on_their_way::{combined_by, gathered};
use super::tables::table;
use super::take::Table;
use crate::calc::FormulaError;
use crate::calc::beam::{self, Beam, Load, Response, Train, Wheel, bearings};
use crate::calc::loads::PerAction;
use crate::calc::loads::states::{Code, Level, State, combinations, effect};
use crate::values::{Record, Value};

include!(concat!(env!("OUT_DIR"), "/formulas_beams.rs"));

/// A wheel (m) that is beyond an end by less has not left the beam, and a section as near to it is on it: it comes from rounding.
const NO_WAY: f64 = 1e-9;

/// The states of a beam, from the table of a beam function.
///
/// # Errors
/// Where it is another table, or the beam is not held.
pub(super) fn cases(bent: &Record) -> Result<Vec<table::BeamCase>, FormulaError> {
    let rolled_over = || table::TrackBeam::read(bent).and_then(|beam| beam.cases);
    let evenly = || table::EvenlyLoadedBeam::read(bent).map(|beam| beam.cases);
    let found = if table::TrackBeam::is(bent) { rolled_over() } else { None };
    let found = found.or_else(|| if table::EvenlyLoadedBeam::is(bent) { evenly() } else { None });
    found.ok_or_else(|| FormulaError::domain("the beam", "the table of a beam function"))
}

/// One state of the roof on a beam, factored for strength.
struct BeamState {
    case: State,
    moment: f64,
    shear: f64,
    presses: Vec<f64>,
}

impl BeamState {
    /// The hardest of several responses, each with its loads already factored.
    fn hardest(case: State, responses: &[Response], supports: usize) -> Self {
        let worst = |number: &dyn Fn(&Response) -> f64| responses.iter().map(number).fold(0.0, f64::max);
        Self {
            case,
            moment: worst(&bending),
            shear: worst(&shearing),
            presses: (0..supports).map(|at| worst(&|response| response.reactions.get(at).copied().unwrap_or(0.0))).collect(),
        }
    }

    fn told(&self, places: &[Option<usize>]) -> table::BeamCase {
        let presses = placed(&self.presses, places);
        table::BeamCase { case: self.case.into(), moment: self.moment, shear: self.shear, presses }
    }
}

/// The largest moment of a response, whichever way it bends.
fn bending(response: &Response) -> f64 {
    response.sagging().value.abs().max(response.hogging().value.abs())
}

fn shearing(response: &Response) -> f64 {
    response.shear_largest().value.abs().max(response.shear_smallest().value.abs())
}

/// Numbers of the supports used, in the order of the supports given; nothing on one that is beside the beam.
fn placed(values: &[f64], places: &[Option<usize>]) -> Vec<f64> {
    places.iter().map(|place| place.and_then(|at| values.get(at)).copied().unwrap_or(0.0)).collect()
}

/// Wheels with their loads, by station.
///
/// # Errors
/// Where there is not one load for each station.
fn wheels(stations: &[f64], loads: &[f64]) -> Result<Vec<Wheel>, FormulaError> {
    if stations.len() != loads.len() {
        return Err(FormulaError::domain("the wheels", "given with one station and one load each"));
    }
    Ok(stations.iter().zip(loads).map(|(offset, load)| Wheel { offset: *offset, load: *load }).collect())
}

/// What rests on a beam: a list of places and a table of loads for each.
fn from_above(stations: Option<Vec<f64>>, loads: Option<&Value>) -> Result<Vec<(f64, PerAction)>, FormulaError> {
    let stations = stations.unwrap_or_default();
    let loads = loads.map(gathered).transpose()?.unwrap_or_default();
    if stations.len() != loads.len() {
        return Err(FormulaError::domain("what rests on the beam", "given with one place and one load each"));
    }
    Ok(stations.into_iter().zip(loads).collect())
}

/// What stands still on a beam: its own weight, the wheels of the shut roof, what rests on it.
struct Standing {
    own: f64,
    points: Vec<(f64, PerAction)>,
}

impl Standing {
    /// The beam under these actions with these factors.
    fn respond(&self, beam: &Beam, factors: &PerAction) -> Result<Response, FormulaError> {
        let mut all = vec![Load::self_weight(beam, self.own * (factors.dead + factors.moving + factors.open_dead))];
        all.extend(self.points.iter().map(|(at, load)| {
            let each = load.with(factors, |force, factor| force * factor);
            Load::Point {
                at: *at,
                force: each.dead + each.moving + each.roof_live + each.snow + each.wind + each.open_dead + each.open_snow + each.open_wind,
            }
        }));
        beam::respond(beam, &all)
    }

    /// By support what each action brings it, before load factors.
    fn passes(&self, beam: &Beam, count: usize) -> Result<Vec<PerAction>, FormulaError> {
        let none = PerAction::default();
        let one = |factors: PerAction| self.respond(beam, &factors).map(|response| response.reactions);
        let (dead, snow) = (one(PerAction { dead: 1.0, ..none })?, one(PerAction { snow: 1.0, ..none })?);
        let (live, wind) = (one(PerAction { roof_live: 1.0, ..none })?, one(PerAction { wind: 1.0, ..none })?);
        let at = |reactions: &[f64], place: usize| reactions.get(place).copied().unwrap_or(0.0);
        Ok((0..count)
            .map(|place| PerAction {
                dead: at(&dead, place),
                moving: 0.0,
                roof_live: at(&live, place),
                snow: at(&snow, place),
                wind: at(&wind, place),
                ..none
            })
            .collect())
    }
}

/// The hardest of all states at the level of working loads.
fn hardest(load: &PerAction, code: Code) -> Result<f64, FormulaError> {
    State::ALL.into_iter().try_fold(0.0_f64, |most, state| effect(load, state, code, Level::Working).map(|found| most.max(found.value)))
}

/// How many, as a number of the language.
#[expect(clippy::cast_precision_loss, reason = "far fewer supports and wheels than 2^52")]
const fn count_of(many: usize) -> f64 {
    many as f64
}

/// A beam that is not held.
fn loose(why: String) -> table::TrackBeam {
    table::TrackBeam {
        held: false,
        why: why.into(),
        moment: None,
        moment_at: None,
        moment_travel: None,
        sagging: None,
        hogging: None,
        shear: None,
        shear_at: None,
        shear_travel: None,
        sag: None,
        sag_at: None,
        sag_travel: None,
        rise: None,
        longest_span: None,
        longest_overhang: None,
        beside: None,
        wheels_off: None,
        presses: Vec::new(),
        lifts: Vec::new(),
        loads: Vec::new(),
        cases: None,
    }
}

impl Formula for TrackBeam {
    fn answer(self) -> Result<table::TrackBeam, FormulaError> {
        let (start, end, own, travel, stations) = (self.first_end, self.last_end, self.own_weight, self.travel, &self.wheels);
        let (supports, places) = bearings::under(start, end, &self.supports);
        let (code, from) = (combined_by(self.code, self.high), self.from.unwrap_or_default());
        let none = || vec![0.0; stations.len()];
        let (loads, snow, live, wind) = (self.loads, self.snow, self.live.unwrap_or_else(none), self.wind.unwrap_or_else(none));
        let (parked, open_snow, open_wind) =
            (self.parked.unwrap_or(travel), self.open_snow.unwrap_or_else(none), self.open_wind.unwrap_or_else(none));
        for list in [&snow, &live, &wind, &open_snow, &open_wind] {
            wheels(stations, list)?;
        }
        let rolling = wheels(stations, &loads)?;
        let above = from_above(self.resting_at, self.resting.as_ref())?;
        let beam = Beam::uniform(start, end, self.rigidity, &supports);
        // A beam that nothing rolls along has one wheel without weight.
        let rolling = if rolling.is_empty() { vec![Wheel { offset: start, load: 0.0 }] } else { rolling };
        let envelope = match beam::envelope(&beam, &Train { wheels: rolling, from, to: travel }, own) {
            Ok(envelope) => envelope,
            Err(FormulaError::Unstable { what }) => return Ok(loose(what)),
            Err(error) => return Err(error),
        };
        let wheels = stations.iter().enumerate().filter(|(_, at)| **at >= start && **at <= end).map(|(wheel, at)| {
            let of = |list: &[f64]| list.get(wheel).copied().unwrap_or(0.0);
            let shut = PerAction { dead: of(&loads), roof_live: of(&live), snow: of(&snow), wind: of(&wind), ..PerAction::default() };
            (*at, shut)
        });
        let left_open = stations.iter().enumerate().map(|(wheel, at)| (wheel, at + parked)).filter(|(_, at)| *at >= start && *at <= end);
        let left_open = left_open.map(|(wheel, at)| {
            let of = |list: &[f64]| list.get(wheel).copied().unwrap_or(0.0);
            (at, PerAction { open_dead: of(&loads), open_snow: of(&open_snow), open_wind: of(&open_wind), ..PerAction::default() })
        });
        let resting: Vec<(f64, PerAction)> = above.iter().map(|(at, load)| (at.clamp(start, end), *load)).collect();
        let standing = Standing {
            own,
            points: wheels
                .chain(
                    resting
                        .iter()
                        .map(|(at, load)| (*at, PerAction { moving: 0.0, open_dead: 0.0, open_snow: 0.0, open_wind: 0.0, ..*load })),
                )
                .collect(),
        };
        let only_open = |load: &PerAction| {
            let (open_dead, open_snow, open_wind) = (load.open_dead, load.open_snow, load.open_wind);
            PerAction { open_dead, open_snow, open_wind, ..PerAction::default() }
        };
        let open = Standing { own, points: left_open.chain(resting.iter().map(|(at, load)| (*at, only_open(load)))).collect() };
        // While the roof rolls what rests on the beam stands still beside the wheels: both at their hardest.
        let beside = Standing { own: 0.0, points: resting }.respond(&beam, &PerAction { moving: 1.0, ..PerAction::default() })?;
        let count = supports.len();
        let worst = if envelope.hogging.value.abs() > envelope.sagging.value { envelope.hogging } else { envelope.sagging };
        let (down, up) = (envelope.shear_smallest, envelope.shear_largest);
        let shear = if down.value.abs() > up.value { down } else { up };
        let rests = |place: usize| beside.reactions.get(place).copied().unwrap_or(0.0);
        let by_support = || envelope.reactions.iter().enumerate();
        let struck = self.struck.unwrap_or(1.0);
        let rolls: Vec<f64> = by_support().map(|(at, range)| (struck * range.largest.value + rests(at)).max(0.0)).collect();
        let lifts: Vec<f64> = by_support().map(|(at, range)| (-range.smallest.value - rests(at)).max(0.0)).collect();
        let mut passes = standing.passes(&beam, count)?;
        passes.iter_mut().zip(&rolls).for_each(|(load, rolls)| load.moving = *rolls);
        let of_open = |factors: PerAction| Ok::<_, FormulaError>(open.respond(&beam, &factors)?.reactions);
        let from_weight = of_open(PerAction { open_dead: 1.0, ..PerAction::default() })?;
        let from_snow = of_open(PerAction { open_snow: 1.0, ..PerAction::default() })?;
        let from_wind = of_open(PerAction { open_wind: 1.0, ..PerAction::default() })?;
        for (load, ((dead, snow), wind)) in passes.iter_mut().zip(from_weight.iter().zip(&from_snow).zip(&from_wind)) {
            (load.open_dead, load.open_snow, load.open_wind) = (*dead, *snow, *wind);
        }
        let mut cases = Vec::new();
        for state in [State::Moving, State::Shut, State::Snow, State::Live, State::Wind, State::Open] {
            let all = combinations(state, code, Level::Strength);
            cases.push(if state == State::Moving {
                let factor = all.iter().map(|each| each.factors.moving).fold(0.0, f64::max);
                BeamState {
                    case: state,
                    moment: factor * (struck * worst.value.abs() + bending(&beside)),
                    shear: factor * (struck * shear.value.abs() + shearing(&beside)),
                    presses: rolls.iter().map(|press| factor * press).collect(),
                }
            } else {
                let standing = if state == State::Open { &open } else { &standing };
                let responses: Vec<Response> = all.iter().map(|each| standing.respond(&beam, &each.factors)).collect::<Result<_, _>>()?;
                BeamState::hardest(state, &responses, count)
            });
        }
        let presses: Vec<f64> = passes.iter().map(|load| hardest(load, code)).collect::<Result<_, _>>()?;
        let outside = places.iter().filter(|place| place.is_none()).count();
        let runs_off = stations.iter().filter(|at| **at + from < start - NO_WAY || **at + travel > end + NO_WAY).count();
        let by_place = places.iter().map(|place| place.and_then(|at| passes.get(at)).copied().unwrap_or_default().into());
        Ok(table::TrackBeam {
            held: true,
            why: "".into(),
            moment: Some(worst.value),
            moment_at: Some(worst.at),
            moment_travel: Some(worst.train),
            sagging: Some(envelope.sagging.value),
            hogging: Some(envelope.hogging.value),
            shear: Some(shear.value.abs()),
            shear_at: Some(shear.at),
            shear_travel: Some(shear.train),
            sag: Some(envelope.deepest.value.max(0.0) + beside.deepest().value.max(0.0)),
            sag_at: Some(envelope.deepest.at),
            sag_travel: Some(envelope.deepest.train),
            rise: Some((-envelope.highest.value).max(0.0)),
            longest_span: Some(bearings::longest_span(&supports)),
            longest_overhang: Some(bearings::longest_overhang(start, end, &supports)),
            beside: Some(count_of(outside)),
            wheels_off: Some(count_of(runs_off)),
            presses: placed(&presses, &places),
            lifts: placed(&lifts, &places),
            loads: by_place.collect(),
            cases: Some(cases.iter().map(|state| state.told(&places)).collect()),
        })
    }
}
