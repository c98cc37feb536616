//! Beams: the track's, with wheels that roll along it, those under a pull, those evenly loaded.
//!
//! In: supports, stiffness, loads. Out: the worst moment, shear and sag, what each support gets, in each state of the roof.
//! What a beam is made of stands in `timber` and `steel`. It must not know whether a result is too much.

use super::body::{may, needs};
use super::loads_on_their_way::{HIGH, code, gathered, table_of};
use super::structure::CODES;
use crate::calc::FormulaError;
use crate::calc::beam::{self, Beam, Load, Response, Train, Wheel};
use crate::calc::loads::PerAction;
use crate::calc::loads::states::{Code, Level, State, combinations, effect};
use crate::units::Dim;
use crate::values::Arguments;
use crate::values::Value;
use crate::values::{Body, Function, Takes};
use smol_str::SmolStr;

const LENGTH: Takes = Takes::Quantity(Dim::LENGTH);
const LENGTHS: Takes = Takes::List(Dim::LENGTH);
const FORCES: Takes = Takes::List(Dim::FORCE);
const LINE_LOAD: Takes = Takes::Quantity(Dim::LINE_LOAD);

fn force(si: f64) -> Value {
    Value::quantity(si, Dim::FORCE)
}

fn length(si: f64) -> Value {
    Value::quantity(si, Dim::LENGTH)
}

fn moment(si: f64) -> Value {
    Value::quantity(si, Dim::MOMENT)
}

fn text(text: impl Into<SmolStr>) -> Value {
    Value::Text(text.into())
}

/// The supports that are under the beam, and for each support given its place among them.
///
/// Two that stand in the same place carry as one.
fn under(start: f64, end: f64, given: &[f64]) -> (Vec<f64>, Vec<Option<usize>>) {
    const SAME_PLACE: f64 = 0.02;
    let mut order: Vec<usize> = (0..given.len()).collect();
    let at = |index: usize| given.get(index).copied().unwrap_or(f64::NAN);
    order.sort_by(|one, other| at(*one).total_cmp(&at(*other)));
    let (mut kept, mut places): (Vec<f64>, Vec<Option<usize>>) = (Vec::new(), vec![None; given.len()]);
    for index in order {
        let x = at(index);
        if x < start - SAME_PLACE || x > end + SAME_PLACE {
            continue;
        }
        let x = x.clamp(start, end);
        if kept.last().is_none_or(|last| x - last > SAME_PLACE) {
            kept.push(x);
        }
        if let Some(place) = places.get_mut(index) {
            *place = kept.len().checked_sub(1);
        }
    }
    (kept, places)
}

/// One state of the roof on a beam, factored for strength.
struct BeamState {
    case: &'static str,
    moment: f64,
    shear: f64,
    presses: Vec<f64>,
}

impl BeamState {
    /// The hardest of several responses, each with its loads already factored.
    fn hardest(case: State, responses: &[Response], supports: usize) -> Self {
        let worst = |number: &dyn Fn(&Response) -> f64| responses.iter().map(number).fold(0.0, f64::max);
        Self {
            case: case.word(),
            moment: worst(&bending),
            shear: worst(&shearing),
            presses: (0..supports).map(|at| worst(&|response| response.reactions.get(at).copied().unwrap_or(0.0))).collect(),
        }
    }

    fn value(&self, places: &[Option<usize>]) -> Value {
        Value::record(vec![
            ("case", Value::Word(SmolStr::new_static(self.case))),
            ("moment", moment(self.moment)),
            ("shear", force(self.shear)),
            ("presses", placed(&self.presses, places)),
        ])
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
fn placed(values: &[f64], places: &[Option<usize>]) -> Value {
    Value::list_of(places.iter().map(|place| place.and_then(|at| values.get(at)).copied().unwrap_or(0.0)), Dim::FORCE)
}

fn loose(what: String) -> Value {
    let none = || Value::List(Vec::new().into());
    Value::record(vec![("held", Value::Flag(false)), ("why", text(what)), ("presses", none()), ("lifts", none()), ("loads", none())])
}

/// What stands still on a beam: its own weight, the wheels of the shut roof, what rests on it.
struct Standing {
    own: f64,
    points: Vec<(f64, PerAction)>,
}

impl Standing {
    /// The beam under these actions with these factors.
    fn respond(&self, beam: &Beam, factors: &PerAction) -> Result<Response, FormulaError> {
        let mut all = vec![Load::self_weight(beam, self.own * (factors.dead + factors.moving))];
        all.extend(self.points.iter().map(|(at, load)| {
            let each = load.with(factors, |force, factor| force * factor);
            Load::Point { at: *at, force: each.dead + each.moving + each.roof_live + each.snow + each.wind }
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
            })
            .collect())
    }
}

/// What rests on a beam: a list of places and a table of loads for each.
fn from_above(a: &Arguments, stations: usize, loads: usize) -> Result<Vec<(f64, PerAction)>, FormulaError> {
    let mut tables = Vec::new();
    gathered(a.value(loads), &mut tables)?;
    let stations = a.list(stations);
    if stations.len() != tables.len() {
        return Err(FormulaError::domain("what rests on the beam", "given with one place and one load each"));
    }
    Ok(stations.into_iter().zip(tables).collect())
}

fn track_beam(a: &Arguments) -> Result<Value, FormulaError> {
    let (start, end, rigidity, own) = (a.si(0), a.si(1), a.si(2), a.si(3));
    let (supports, places) = under(start, end, &a.list(4));
    let (stations, loads, snow, travel) = (a.list(5), a.list(6), a.list(7), a.si(8));
    let code = code(a.word(9), a.flag(14));
    let none = || vec![0.0; stations.len()];
    let (live, wind) = (if a.has(10) { a.list(10) } else { none() }, if a.has(11) { a.list(11) } else { none() });
    if [&loads, &snow, &live, &wind].iter().any(|list| list.len() != stations.len()) {
        return Err(FormulaError::domain("the wheels", "given with one station and one load each"));
    }
    let above = from_above(a, 12, 13)?;
    let beam = Beam::uniform(start, end, rigidity, &supports);
    // A beam that nothing rolls along has one wheel without weight.
    let wheels: Vec<Wheel> = match stations.is_empty() {
        true => vec![Wheel { offset: start, load: 0.0 }],
        false => stations.iter().zip(&loads).map(|(offset, load)| Wheel { offset: *offset, load: *load }).collect(),
    };
    let train = Train { wheels, from: a.optional(15).unwrap_or(0.0), to: travel };
    let envelope = match beam::envelope(&beam, &train, own) {
        Ok(envelope) => envelope,
        Err(FormulaError::Unstable { what }) => return Ok(loose(what)),
        Err(error) => return Err(error),
    };
    let wheels = stations.iter().enumerate().filter(|(_, at)| **at >= start && **at <= end).map(|(wheel, at)| {
        let of = |list: &[f64]| list.get(wheel).copied().unwrap_or(0.0);
        (*at, PerAction { dead: of(&loads), moving: 0.0, roof_live: of(&live), snow: of(&snow), wind: of(&wind) })
    });
    let resting: Vec<(f64, PerAction)> = above.iter().map(|(at, load)| (at.clamp(start, end), *load)).collect();
    let standing =
        Standing { own, points: wheels.chain(resting.iter().map(|(at, load)| (*at, PerAction { moving: 0.0, ..*load }))).collect() };
    // While the roof rolls what rests on the beam stands still beside the wheels: both at their hardest.
    let beside = Standing { own: 0.0, points: resting }.respond(&beam, &PerAction { moving: 1.0, ..PerAction::default() })?;
    let count = supports.len();
    let worst = if envelope.hogging.value.abs() > envelope.sagging.value { envelope.hogging } else { envelope.sagging };
    let shear =
        if envelope.shear_smallest.value.abs() > envelope.shear_largest.value { envelope.shear_smallest } else { envelope.shear_largest };
    let rests = |place: usize| beside.reactions.get(place).copied().unwrap_or(0.0);
    let rolls: Vec<f64> = envelope.reactions.iter().enumerate().map(|(at, range)| (range.largest.value + rests(at)).max(0.0)).collect();
    let lifts: Vec<f64> = envelope.reactions.iter().enumerate().map(|(at, range)| (-range.smallest.value - rests(at)).max(0.0)).collect();
    let mut passes = standing.passes(&beam, count)?;
    passes.iter_mut().zip(&rolls).for_each(|(load, rolls)| load.moving = *rolls);
    let mut cases = Vec::new();
    for state in [State::Moving, State::Shut, State::Snow, State::Live, State::Wind] {
        let all = combinations(state, code, Level::Strength);
        cases.push(if state == State::Moving {
            let factor = all.iter().map(|each| each.factors.moving).fold(0.0, f64::max);
            BeamState {
                case: state.word(),
                moment: factor * (worst.value.abs() + bending(&beside)),
                shear: factor * (shear.value.abs() + shearing(&beside)),
                presses: rolls.iter().map(|press| factor * press).collect(),
            }
        } else {
            let responses: Vec<Response> = all.iter().map(|each| standing.respond(&beam, &each.factors)).collect::<Result<_, _>>()?;
            BeamState::hardest(state, &responses, count)
        });
    }
    let presses: Vec<f64> = passes.iter().map(|load| hardest(load, code)).collect::<Result<_, _>>()?;
    let longest = supports.windows(2).map(|pair| if let [a, b] = pair { b - a } else { 0.0 }).fold(0.0, f64::max);
    let overhang = supports.first().map_or(0.0, |first| first - start).max(supports.last().map_or(0.0, |last| end - last));
    let outside = places.iter().filter(|place| place.is_none()).count();
    let from = a.optional(15).unwrap_or(0.0);
    let runs_off = stations.iter().filter(|at| **at + from < start - 1e-9 || **at + travel > end + 1e-9).count();
    let nothing = PerAction::default();
    let by_place = places.iter().map(|place| table_of(place.and_then(|at| passes.get(at)).unwrap_or(&nothing)));
    Ok(Value::record(vec![
        ("held", Value::Flag(true)),
        ("why", text("")),
        ("moment", moment(worst.value)),
        ("moment_at", length(worst.at)),
        ("moment_travel", length(worst.train)),
        ("sagging", moment(envelope.sagging.value)),
        ("hogging", moment(envelope.hogging.value)),
        ("shear", force(shear.value.abs())),
        ("shear_at", length(shear.at)),
        ("shear_travel", length(shear.train)),
        ("sag", length(envelope.deepest.value.max(0.0) + beside.deepest().value.max(0.0))),
        ("sag_at", length(envelope.deepest.at)),
        ("sag_travel", length(envelope.deepest.train)),
        ("rise", length((-envelope.highest.value).max(0.0))),
        ("longest_span", length(longest)),
        ("longest_overhang", length(overhang)),
        #[expect(clippy::cast_precision_loss, reason = "far fewer supports than 2^52")]
        ("beside", Value::number(outside as f64)),
        #[expect(clippy::cast_precision_loss, reason = "far fewer wheels than 2^52")]
        ("wheels_off", Value::number(runs_off as f64)),
        ("presses", placed(&presses, &places)),
        ("lifts", placed(&lifts, &places)),
        ("loads", Value::List(by_place.collect())),
        ("cases", Value::List(cases.iter().map(|state| state.value(&places)).collect())),
    ]))
}

/// The hardest of all states at the level of working loads.
fn hardest(load: &PerAction, code: Code) -> Result<f64, FormulaError> {
    State::ALL.into_iter().try_fold(0.0_f64, |most, state| effect(load, state, code, Level::Working).map(|found| most.max(found.value)))
}

/// Whether two stations are the same place, as a person would write them.
fn same_place(one: f64, other: f64) -> bool {
    (one - other).abs() < 1e-6
}

/// The moment at a section from what stands on its shorter side: each force up, its arm, its moment.
fn moment_by_hand(a: &Arguments) -> Result<Value, FormulaError> {
    let (start, end, own, travel, at) = (a.si(0), a.si(1), a.si(3), a.si(7), a.si(8));
    let (supports, _) = under(start, end, &a.list(4));
    let beam = Beam::uniform(start, end, a.si(2), &supports);
    let (stations, each) = (a.list(5), a.list(6));
    if stations.len() != each.len() {
        return Err(FormulaError::domain("the wheels", "given with one station and one load each"));
    }
    if at < start - 1e-9 || at > end + 1e-9 {
        return Err(FormulaError::domain("the section", "on the beam"));
    }
    let wheels = stations.iter().zip(&each).map(|(offset, load)| (travel + offset, *load));
    let resting = from_above(a, 9, 10)?.into_iter().map(|(x, load)| (x.clamp(start, end), load.moving));
    let on_beam: Vec<(f64, f64)> = wheels.filter(|(x, _)| *x >= beam.start && *x <= beam.end).chain(resting).collect();
    let mut loads = vec![Load::self_weight(&beam, own)];
    loads.extend(on_beam.iter().map(|(at, force)| Load::Point { at: *at, force: *force }));
    let response = beam::respond(&beam, &loads)?;
    let all: Vec<(f64, f64)> =
        supports.iter().copied().zip(response.reactions.iter().copied()).chain(on_beam.iter().map(|(x, load)| (*x, -load))).collect();
    let left = all.iter().filter(|(x, _)| *x < at).count() <= all.iter().filter(|(x, _)| *x > at).count();
    let end = if left { beam.start } else { beam.end };
    let beyond = |x: f64| if left { x < at } else { x > at };
    let mut forces: Vec<(f64, f64)> = all.into_iter().filter(|(x, _)| beyond(*x) && !same_place(*x, at)).collect();
    forces.push((0.5 * (at + end), -own * (at - end).abs()));
    let arm = |x: f64| (x - at).abs();
    Ok(Value::record(vec![
        ("section", length(at)),
        ("travel", length(travel)),
        ("wheels", Value::list_of(on_beam.iter().map(|(x, _)| *x), Dim::LENGTH)),
        ("wheel_loads", Value::list_of(on_beam.iter().map(|(_, load)| *load), Dim::FORCE)),
        ("supports", Value::list_of(supports.iter().copied(), Dim::LENGTH)),
        ("reactions", Value::list_of(response.reactions.iter().copied(), Dim::FORCE)),
        ("side", Value::Word(SmolStr::new_static(if left { "closing" } else { "opening" }))),
        ("stations", Value::list_of(forces.iter().map(|(x, _)| *x), Dim::LENGTH)),
        ("up", Value::list_of(forces.iter().map(|(_, up)| *up), Dim::FORCE)),
        ("arms", Value::list_of(forces.iter().map(|(x, _)| arm(*x)), Dim::LENGTH)),
        ("moments", Value::list_of(forces.iter().map(|(x, up)| up * arm(*x)), Dim::MOMENT)),
        ("moment", moment(response.moment(at))),
    ]))
}

/// A beam with the wheels of the shut roof, for [`tracks_apart`].
struct Line {
    beam: Beam,
    own: f64,
    wheels: Vec<Wheel>,
}

fn beam_line(a: &Arguments) -> Result<Value, FormulaError> {
    Ok(Value::record(vec![
        ("first_end", length(a.si(0))),
        ("last_end", length(a.si(1))),
        ("rigidity", Value::quantity(a.si(2), Dim::FLEXURAL_RIGIDITY)),
        ("own_weight", Value::quantity(a.si(3), Dim::LINE_LOAD)),
        ("supports", Value::list_of(a.list(4), Dim::LENGTH)),
        ("wheels", Value::list_of(a.list(5), Dim::LENGTH)),
        ("loads", Value::list_of(a.list(6), Dim::FORCE)),
    ]))
}

impl Line {
    fn of(value: &Value) -> Result<Self, FormulaError> {
        let wrong = || FormulaError::domain("the track", "a list of tables of `beam_line`");
        let Value::Record(record) = value else { return Err(wrong()) };
        let number = |name: &str| record.get(name).and_then(Value::si).ok_or_else(wrong);
        let numbers = |name: &str| match record.get(name) {
            Some(Value::List(items)) => Ok(items.iter().filter_map(Value::si).collect::<Vec<f64>>()),
            _ => Err(wrong()),
        };
        let (start, end) = (number("first_end")?, number("last_end")?);
        let (supports, _) = under(start, end, &numbers("supports")?);
        let (stations, loads) = (numbers("wheels")?, numbers("loads")?);
        if stations.len() != loads.len() {
            return Err(FormulaError::domain("the wheels", "given with one station and one load each"));
        }
        let wheels = stations.into_iter().zip(loads).map(|(offset, load)| Wheel { offset, load });
        let beam = Beam::uniform(start, end, number("rigidity")?, &supports);
        Ok(Self { beam, own: number("own_weight")?, wheels: wheels.collect() })
    }
}

/// How far each wheel of a track has sunk when the roof has rolled so far; none for a wheel that is on no beam.
fn sunk(track: &[Line], travel: f64) -> Result<Vec<Option<f64>>, FormulaError> {
    let mut all: Vec<Option<f64>> = Vec::new();
    for line in track {
        let here = beam::under_wheels(&line.beam, &line.wheels, travel, line.own)?;
        all.resize(all.len().max(here.len()), None);
        all.iter_mut().zip(here).for_each(|(known, here)| *known = known.or(here));
    }
    Ok(all)
}

fn beam_under_wheels(a: &Arguments) -> Result<Value, FormulaError> {
    let line = a.value(0).map_or_else(|| Err(FormulaError::domain("the line", "a table of `beam_line`")), Line::of)?;
    let (beam, travel) = (&line.beam, a.si(1));
    let on_beam =
        line.wheels.iter().map(|wheel| (wheel.offset + travel, wheel.load)).filter(|(at, _)| *at >= beam.start && *at <= beam.end);
    let mut loads = vec![Load::self_weight(beam, line.own)];
    loads.extend(on_beam.clone().map(|(at, force)| Load::Point { at, force }));
    let response = beam::respond(beam, &loads)?;
    let deepest = response.deepest();
    Ok(Value::record(vec![
        ("sag", length(deepest.value.max(0.0))),
        ("sag_at", length(deepest.at)),
        ("under_wheels", length(on_beam.map(|(at, _)| response.deflection(at)).fold(0.0, f64::max))),
        ("most", force(response.reactions.iter().copied().fold(0.0, f64::max))),
    ]))
}

fn tracks_apart(a: &Arguments) -> Result<Value, FormulaError> {
    /// Places of the roof that are looked at: between two of them a beam's sag hardly changes.
    const PLACES: u32 = 60;
    let track = |value: &Value| match value {
        Value::List(items) => items.iter().map(Line::of).collect::<Result<Vec<_>, _>>(),
        one => Ok(vec![Line::of(one)?]),
    };
    let tracks: Vec<Vec<Line>> = a.values(0).iter().map(track).collect::<Result<_, _>>()?;
    let (mut apart, mut at, mut wheel) = (0.0, 0.0, 0);
    let from = a.optional(2).unwrap_or(0.0);
    for place in 0..=PLACES {
        let travel = from + (a.si(1) - from) * f64::from(place) / f64::from(PLACES);
        let sunk: Vec<Vec<Option<f64>>> = tracks.iter().map(|track| sunk(track, travel)).collect::<Result<_, _>>()?;
        let axles = sunk.iter().map(Vec::len).min().unwrap_or(0);
        for axle in 0..axles {
            let depths = || sunk.iter().filter_map(|track| track.get(axle).copied().flatten());
            let difference = depths().fold(f64::NEG_INFINITY, f64::max) - depths().fold(f64::INFINITY, f64::min);
            if difference > apart {
                (apart, at, wheel) = (difference, travel, axle + 1);
            }
        }
    }
    #[expect(clippy::cast_precision_loss, reason = "far fewer axles than 2^52")]
    let wheel = wheel as f64;
    Ok(Value::record(vec![("apart", length(apart)), ("travel", length(at)), ("axle", Value::number(wheel))]))
}

/// Places of a roof's travel at which the pull of its keepers on a beam is looked at, besides those at a tie.
const KEEPER_PLACES: u32 = 40;

/// A pull on a beam, N, and where.
struct Pull {
    at: f64,
    force: f64,
    /// Rolls with the roof.
    rides: bool,
}

/// How the ties of a beam share pulls that stand still.
fn tied(beam: &Beam, pulls: &[(f64, f64)]) -> Result<Vec<f64>, FormulaError> {
    let up: Vec<Load> = pulls.iter().map(|(at, pull)| Load::Point { at: at.clamp(beam.start, beam.end), force: -pull }).collect();
    match beam::respond(beam, &up) {
        Ok(response) => Ok(response.reactions.iter().map(|reaction| (-reaction).max(0.0)).collect()),
        // One tie alone takes all of it: what keeps the beam from turning is that it presses on its other supports.
        Err(FormulaError::Unstable { .. }) => Ok(vec![pulls.iter().map(|(_, pull)| pull).sum::<f64>(); beam.supports.len()]),
        Err(error) => Err(error),
    }
}

/// The travels at which the keepers' pulls on the ties are looked at: each keeper at each tie, and places between.
fn keeper_travels(ties: &[f64], pulls: &[Pull], travel: f64) -> Vec<f64> {
    let mut travels: Vec<f64> = (0..=KEEPER_PLACES).map(|at| travel * f64::from(at) / f64::from(KEEPER_PLACES)).collect();
    let riding = || pulls.iter().filter(|pull| pull.rides);
    travels.extend(riding().flat_map(|pull| ties.iter().map(move |tie| tie - pull.at)).filter(|at| 0.0 <= *at && *at <= travel));
    if riding().next().is_none() { vec![0.0] } else { travels }
}

fn pulled_beam(a: &Arguments) -> Result<Value, FormulaError> {
    const ON_IT: f64 = 0.02;
    let (start, end) = (a.si(0), a.si(1));
    let (ties, places) = under(start, end, &a.list(2));
    let flags = |at: usize| -> Vec<bool> { a.values(at).iter().map(|value| matches!(value, Value::Flag(true))).collect() };
    let (stations, forces, rolling) = (a.list(3), a.list(4), flags(5));
    let (keepers, kept, rides) = (a.list(6), a.list(7), flags(8));
    let flagged = stations.len() == rolling.len() || !a.has(5);
    if stations.len() != forces.len() || !flagged || keepers.len() != kept.len() || keepers.len() != rides.len() {
        return Err(FormulaError::domain("the pulls", "given with one station each"));
    }
    let standing: Vec<Pull> = stations.iter().zip(&forces).map(|(at, force)| Pull { at: *at, force: *force, rides: false }).collect();
    let keeping = keepers.iter().zip(&kept).zip(&rides);
    let keeping: Vec<Pull> = keeping.map(|((at, force), rides)| Pull { at: *at, force: *force, rides: *rides }).collect();
    // Only the ratio of stiffnesses counts on stiff supports: any will do.
    let beam = Beam::uniform(start, end, 1.0, &ties);
    let mut shares = tied(&beam, &standing.iter().map(|pull| (pull.at, pull.force)).collect::<Vec<_>>())?;
    if !keeping.is_empty() {
        let still = standing.iter().zip(&rolling).filter_map(|(pull, rolling)| rolling.then_some(pull));
        let all: Vec<&Pull> = still.chain(&keeping).collect();
        for travel in keeper_travels(&ties, &keeping, a.optional(9).unwrap_or(0.0)) {
            let here = all.iter().map(|pull| (if pull.rides { pull.at + travel } else { pull.at }, pull));
            // A keeper that has rolled off this beam pulls at the next.
            let here = here.filter(|(at, pull)| !pull.rides || (start - ON_IT <= *at && *at <= end + ON_IT));
            let now = tied(&beam, &here.map(|(at, pull)| (at, pull.force)).collect::<Vec<_>>())?;
            shares.iter_mut().zip(now).for_each(|(most, now)| *most = most.max(now));
        }
    }
    // None of its ties is on it: whatever pulls at it, each of them would have to hold all.
    if ties.is_empty() {
        let all = forces.iter().sum::<f64>().max(kept.iter().sum());
        return Ok(Value::record(vec![
            ("pulls", Value::list_of(places.iter().map(|_| all), Dim::FORCE)),
            ("most", force(all)),
            ("total", force(forces.iter().sum())),
        ]));
    }
    Ok(Value::record(vec![
        ("pulls", placed(&shares, &places)),
        ("most", force(shares.iter().copied().fold(0.0, f64::max))),
        ("total", force(forces.iter().sum())),
    ]))
}

/// Where a person stands: in the middle of the span for the moment, beside the supports for the shear, at the tip of the
/// overhang for both. So near to a support, as a part of the span, that hardly anything of the shear goes into it.
const BESIDE: f64 = 1e-3;

/// The even loads of one state and, in place of those of people, one person at each place that may be the worst.
fn with_a_person(beam: &Beam, load: &PerAction, person: f64, factors: &PerAction) -> Result<Vec<Response>, FormulaError> {
    let (overhang, span) = (-beam.start, beam.end);
    let even = load.with(factors, |load, factor| load * factor);
    let line = |line: f64| Load::self_weight(beam, line);
    let mut responses = vec![beam::respond(beam, &[line(even.dead + even.snow + even.wind + even.roof_live)])?];
    let stands = factors.roof_live * person;
    if stands > 0.0 {
        let places = [-overhang, -overhang.min(BESIDE * span), BESIDE * span, 0.5 * span, (1.0 - BESIDE) * span];
        for at in places {
            responses.push(beam::respond(beam, &[line(even.dead + even.snow + even.wind), Load::Point { at, force: stands }])?);
        }
    }
    Ok(responses)
}

fn evenly_loaded_beam(a: &Arguments) -> Result<Value, FormulaError> {
    let (span, overhang, rigidity) = (a.si(0), a.si(1), a.si(2));
    let given = |at: usize| a.optional(at).unwrap_or(0.0);
    let load = PerAction { dead: a.si(3), moving: 0.0, snow: a.si(4), roof_live: given(6), wind: given(7) };
    let (code, person) = (code(a.word(5), a.flag(8)), given(9));
    let beam = Beam::uniform(-overhang, span, rigidity, &[0.0, span]);
    let places = [Some(0), Some(1)];
    let states = [State::Shut, State::Snow, State::Live, State::Wind];
    let responses = |state: State, level: Level| {
        let all = combinations(state, code, level);
        all.iter().map(|each| with_a_person(&beam, &load, person, &each.factors)).collect::<Result<Vec<_>, _>>().map(|all| all.concat())
    };
    let mut cases = Vec::new();
    for state in states {
        cases.push(BeamState::hardest(state, &responses(state, Level::Strength)?, 2));
    }
    let working = states.into_iter().map(|state| responses(state, Level::Working)).collect::<Result<Vec<_>, _>>()?.concat();
    let worst = |number: &dyn Fn(&Response) -> f64| working.iter().map(number).fold(0.0, f64::max);
    let presses: Vec<f64> = (0..places.len()).map(|at| worst(&|all| all.reactions.get(at).copied().unwrap_or(0.0))).collect();
    Ok(Value::record(vec![
        ("held", Value::Flag(true)),
        ("moment", moment(worst(&bending))),
        ("shear", force(worst(&shearing))),
        ("sag", length(worst(&|all| all.deepest().value))),
        ("longest_span", length(span)),
        ("presses", placed(&presses, &places)),
        ("cases", Value::List(cases.iter().map(|state| state.value(&places)).collect())),
    ]))
}

/// The table of this subject.
pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "track_beam",
        doc: "a continuous beam over its supports with all wheels rolling across from shut to open: the worst moment, shear, sag and the force on each support; `cases` are factored for strength, the beam's own weight with the wheels' factor",
        parameters: &[
            needs("first_end", LENGTH, "station of its one end"),
            needs("last_end", LENGTH, "station of its other end"),
            needs("rigidity", Takes::Quantity(Dim::FLEXURAL_RIGIDITY), "E I"),
            needs("own_weight", LINE_LOAD, "of the beam"),
            needs("supports", LENGTHS, "stations of its supports"),
            needs("wheels", LENGTHS, "stations of the wheels, roof shut"),
            needs("loads", FORCES, "on the wheels, of the roof's weight"),
            needs("snow", FORCES, "on the wheels, of snow; it lies on the shut roof only"),
            needs("travel", LENGTH, "as far as the roof rolls"),
            needs("code", Takes::Word(CODES), "whose combinations"),
            may("live", FORCES, "on the wheels, of people on the shut roof"),
            may("wind", FORCES, "on the wheels, of the design wind that presses the shut roof down"),
            may("resting_at", LENGTHS, "where something else rests on it: a post, another beam"),
            may("resting", Takes::Anything, "a table of `loads` for each of these places"),
            HIGH,
            may("from", LENGTH, "where its travel begins: below zero where a stop that gives way lets it roll on beyond shut"),
        ],
        gives: "table: held, why, moment with moment_at and moment_travel, sagging, hogging, shear, sag, rise, wheels_off (how many at some time stand beside the beam: what carries them there is not asked; these of the wheels and the beam itself); presses (the hardest, before load factors), lifts and loads (as of `loads`) by support; cases (moving, shut, snow, live, wind: moment, shear, presses)",
        source: "direct stiffness method; ASCE 7-16 §2.4.1; EN 1990:2002 eq. 6.10",
        remembered: true,
        body: Body::Formula(track_beam),
    },
    Function {
        name: "moment_by_hand",
        doc: "the moment of a beam at one section with the wheels in one place, from the forces on its shorter side: up, arm, moment of each, the beam's own weight last",
        parameters: &[
            needs("first_end", LENGTH, "station of its one end"),
            needs("last_end", LENGTH, "station of its other end"),
            needs("rigidity", Takes::Quantity(Dim::FLEXURAL_RIGIDITY), "E I"),
            needs("own_weight", LINE_LOAD, "of the beam"),
            needs("supports", LENGTHS, "stations of its supports"),
            needs("wheels", LENGTHS, "stations of the wheels, roof shut"),
            needs("loads", FORCES, "on the wheels"),
            needs("travel", LENGTH, "how far the roof has rolled"),
            needs("section", LENGTH, "where the moment is wanted"),
            may("resting_at", LENGTHS, "where something else rests on it"),
            may("resting", Takes::Anything, "a table of `loads` for each of these places"),
        ],
        gives: "table: wheels, wheel_loads, supports, reactions, side, stations, up, arms, moments, moment",
        source: "statics",
        remembered: true,
        body: Body::Formula(moment_by_hand),
    },
    Function {
        name: "beam_line",
        doc: "a track's beam with its wheels, for tracks_apart and beam_under_wheels",
        parameters: &[
            needs("first_end", LENGTH, "station of its one end"),
            needs("last_end", LENGTH, "station of its other end"),
            needs("rigidity", Takes::Quantity(Dim::FLEXURAL_RIGIDITY), "E I"),
            needs("own_weight", LINE_LOAD, "of the beam"),
            needs("supports", LENGTHS, "stations of its supports"),
            needs("wheels", LENGTHS, "stations of the wheels, roof shut"),
            needs("loads", FORCES, "on the wheels"),
        ],
        gives: "table of all of these",
        source: "arithmetic",
        remembered: true,
        body: Body::Formula(beam_line),
    },
    Function {
        name: "beam_under_wheels",
        doc: "a track's beam with the roof in one place, before load factors",
        parameters: &[needs("line", Takes::Record, "see beam_line"), needs("travel", LENGTH, "how far the roof has rolled")],
        gives: "table: sag with sag_at, under_wheels (the deepest under a wheel), most (of what presses on its supports)",
        source: "direct stiffness method",
        remembered: true,
        body: Body::Formula(beam_under_wheels),
    },
    Function {
        name: "tracks_apart",
        doc: "the most by which the wheels of one axle sink differently on the roof's tracks, at one and the same place of the roof; of 61 places along its travel",
        parameters: &[
            needs("tracks", Takes::Anything, "for each track the list of its beam_line tables"),
            needs("travel", LENGTH, "as far as the roof rolls"),
            may("from", LENGTH, "where its travel begins"),
        ],
        gives: "table: apart, travel where it is so, axle (its number from the closed end)",
        source: "direct stiffness method",
        remembered: true,
        body: Body::Formula(tracks_apart),
    },
    Function {
        name: "pulled_beam",
        doc: "how a beam that is pulled up shares the pull out to its ties",
        parameters: &[
            needs("first_end", LENGTH, "station of its one end"),
            needs("last_end", LENGTH, "station of its other end"),
            needs("ties", LENGTHS, "stations of its ties"),
            needs("stations", LENGTHS, "where it is pulled"),
            needs("pulls", FORCES, "how hard"),
            may("rolling", Takes::Anything, "whether each of those pulls while the roof rolls, yes or no; without it none does"),
            may("keepers", LENGTHS, "where keepers pull, the roof shut, while it rolls"),
            may("keeper_pulls", FORCES, "how hard"),
            may("rides", Takes::Anything, "whether each of them rolls with the roof"),
            may("travel", LENGTH, "as far as the roof rolls"),
        ],
        gives: "table: pulls by tie (the hardest, roof shut or rolling), most, total (roof shut)",
        source: "direct stiffness method",
        remembered: true,
        body: Body::Formula(pulled_beam),
    },
    Function {
        name: "evenly_loaded_beam",
        doc: "a rafter, purlin or joist on two supports under its share of the roof's weight, snow and wind, and under people: spread evenly, or one person where it hurts most; `cases` are factored for strength",
        parameters: &[
            needs("span", LENGTH, "from support to support"),
            needs("overhang", LENGTH, "beyond one of them"),
            needs("rigidity", Takes::Quantity(Dim::FLEXURAL_RIGIDITY), "E I"),
            needs("dead", LINE_LOAD, "weight that stays"),
            needs("snow", LINE_LOAD, "snow"),
            needs("code", Takes::Word(CODES), "whose combinations"),
            may("live", LINE_LOAD, "people on the roof"),
            may("wind", LINE_LOAD, "the design wind that presses down"),
            HIGH,
            may("person", Takes::Quantity(Dim::FORCE), "one person, in place of the even load of people, not beside it"),
        ],
        gives: "table: moment, shear, sag, presses, cases",
        source: "statics; ASCE 7-16 §2.4.1, 4.4; EN 1990:2002 eq. 6.10; EN 1991-1-1:2002 6.3.4.2",
        remembered: true,
        body: Body::Formula(evenly_loaded_beam),
    },
];
