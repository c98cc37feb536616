//! The structure under the roof: wheels, beams that wheels roll along, and what the wind pulls up.
//!
//! In: positions, stiffness, loads. Out: tables with the worst of each and the numbers to work it out again by hand.
//! What a beam is made of stands in `timber` and `steel`. It must not know whether a result is too much.

use super::arguments::Arguments;
use super::loads::{code, gathered, table_of};
use super::{Body, Function, Refusal, Takes, may, needs};
use crate::calc::FormulaError;
use crate::calc::beam::{self, Beam, Load, Response, Train, Wheel};
use crate::calc::holddown::{self, Resultant, Support};
use crate::calc::loads::PerAction;
use crate::calc::loads::states::{Code, Level, State, combinations, effect};
use crate::units::Dim;
use crate::values::evaluator::Evaluator;
use crate::values::lack::Lack;
use crate::values::value::{Record, Value};
use smol_str::SmolStr;

const FORCE: Takes = Takes::Quantity(Dim::FORCE);
const LENGTH: Takes = Takes::Quantity(Dim::LENGTH);
const LENGTHS: Takes = Takes::List(Dim::LENGTH);
const FORCES: Takes = Takes::List(Dim::FORCE);
const LINE_LOAD: Takes = Takes::Quantity(Dim::LINE_LOAD);
pub(super) const CODES: &[&str] = &["asce7", "eurocode"];
/// More supports than this on one beam are a slip of the pen (a spacing in the wrong unit).
const MOST_SUPPORTS: f64 = 200.0;

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

// ── wheels ───────────────────────────────────────────────────────────────────────────────────────

fn wheel_loads(a: &Arguments) -> Result<Value, FormulaError> {
    let (weight, stations, offsets) = (a.si(0), a.list(3), a.list(4));
    if stations.len() != offsets.len() {
        return Err(FormulaError::domain("the wheels", "given with one station and one offset each"));
    }
    // About the point at which the weight acts, so that it has no moment.
    let wheels: Vec<Support> = stations.iter().zip(&offsets).map(|(x, y)| Support::new(x - a.si(1), y - a.si(2))).collect();
    match holddown::share_gravity(&wheels, Resultant::at(-weight, 0.0, 0.0)) {
        Ok(shares) => Ok(Value::record(vec![
            ("stands", Value::Flag(true)),
            ("why", text("")),
            ("loads", Value::list_of(shares.wheels.iter().copied(), Dim::FORCE)),
            ("most", force(shares.wheels.iter().copied().fold(0.0, f64::max))),
            ("least", force(shares.wheels.iter().copied().fold(f64::INFINITY, f64::min).min(weight))),
        ])),
        // No list of loads: whatever stands on them is not known.
        Err(FormulaError::Unstable { what }) => {
            Ok(Value::record(vec![("stands", Value::Flag(false)), ("why", text(what)), ("loads", Value::List(Vec::new().into()))]))
        }
        Err(error) => Err(error),
    }
}

/// The values that stand in a list at the places at which a component stands in another.
fn all_of(_: &Evaluator, a: &Arguments) -> Result<Value, Refusal> {
    let Some(wanted) = a.component(1) else { return Err(FormulaError::domain("the component", "one").into()) };
    let values = a.values(0);
    if values.is_empty() && !a.components(2).is_empty() {
        // The table that should hold them has said why it does not: a roof that tips, a beam that is not held.
        return Err(Refusal::Lack(Lack::Faulty));
    }
    let at = a.components(2).into_iter().enumerate().filter(|(_, id)| *id == wanted);
    Ok(Value::List(at.filter_map(|(at, _)| values.get(at).cloned()).collect()))
}

/// The components of a list that are of one of these kinds.
fn of_kind(evaluator: &Evaluator, a: &Arguments) -> Result<Value, Refusal> {
    let (kinds, design) = (a.kinds(1), evaluator.design());
    let found = a.components(0).into_iter().filter(|id| kinds.contains(&design.component(*id).kind));
    Ok(Value::List(found.map(Value::Component).collect()))
}

fn spread_out(a: &Arguments) -> Result<Value, FormulaError> {
    let (from, to, spacing) = (a.si(0).min(a.si(1)), a.si(0).max(a.si(1)), a.si(2));
    if !(spacing > 0.0 && (to - from) / spacing <= MOST_SUPPORTS) {
        return Err(FormulaError::domain("the spacing", format!("more than zero, and no more than {MOST_SUPPORTS} of them")));
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounded just before")]
    let spaces = (((to - from) / spacing - 1e-9).ceil().max(1.0)) as u32;
    let each = (to - from) / f64::from(spaces);
    Ok(Value::list_of((0..=spaces).map(|i| from + f64::from(i) * each), Dim::LENGTH))
}

// ── beams ────────────────────────────────────────────────────────────────────────────────────────

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
    let code = code(a.word(9));
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
    let train = Train { wheels, from: 0.0, to: travel };
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

fn pulled_beam(a: &Arguments) -> Result<Value, FormulaError> {
    let (start, end) = (a.si(0), a.si(1));
    let (ties, places) = under(start, end, &a.list(2));
    let (stations, pulls) = (a.list(3), a.list(4));
    if stations.len() != pulls.len() {
        return Err(FormulaError::domain("the pulls", "given with one station each"));
    }
    // Only the ratio of stiffnesses counts on stiff supports: any will do.
    let beam = Beam::uniform(start, end, 1.0, &ties);
    let up: Vec<Load> = stations.iter().zip(&pulls).map(|(at, pull)| Load::Point { at: at.clamp(start, end), force: -pull }).collect();
    let shares = match beam::respond(&beam, &up) {
        Ok(response) => response.reactions.iter().map(|reaction| (-reaction).max(0.0)).collect(),
        // One tie alone takes all of it: what keeps the beam from turning is that it presses on its other supports.
        Err(FormulaError::Unstable { .. }) => vec![pulls.iter().sum::<f64>(); ties.len()],
        Err(error) => return Err(error),
    };
    let shares: Vec<f64> = shares;
    Ok(Value::record(vec![
        ("pulls", placed(&shares, &places)),
        ("most", force(shares.iter().copied().fold(0.0, f64::max))),
        ("total", force(pulls.iter().sum())),
    ]))
}

fn evenly_loaded_beam(a: &Arguments) -> Result<Value, FormulaError> {
    let (span, overhang, rigidity) = (a.si(0), a.si(1), a.si(2));
    let line = |at: usize| a.optional(at).unwrap_or(0.0);
    let load = PerAction { dead: a.si(3), moving: 0.0, snow: a.si(4), roof_live: line(6), wind: line(7) };
    let code = code(a.word(5));
    let beam = Beam::uniform(-overhang, span, rigidity, &[0.0, span]);
    let places = [Some(0), Some(1)];
    let respond = |load: f64| beam::respond(&beam, &[Load::self_weight(&beam, load)]);
    let mut cases = Vec::new();
    for state in [State::Shut, State::Snow, State::Live, State::Wind] {
        let response = respond(effect(&load, state, code, Level::Strength)?.value)?;
        cases.push(BeamState::hardest(state, &[response], 2));
    }
    let all = respond(hardest(&load, code)?)?;
    Ok(Value::record(vec![
        ("held", Value::Flag(true)),
        ("moment", moment(bending(&all))),
        ("shear", force(shearing(&all))),
        ("sag", length(all.deepest().value.max(0.0))),
        ("longest_span", length(span)),
        ("presses", placed(&all.reactions, &places)),
        ("cases", Value::List(cases.iter().map(|state| state.value(&places)).collect())),
    ]))
}

// ── the weakest part of a way ────────────────────────────────────────────────────────────────────

fn part_of_a_way(a: &Arguments) -> Result<Value, FormulaError> {
    Ok(Value::record(vec![("name", text(format!("{} {}", a.word(0), a.word(1)))), ("pull", force(a.si(2))), ("holds", force(a.si(3)))]))
}

fn weakest(a: &Arguments) -> Result<Value, FormulaError> {
    fn gather(value: &Value, found: &mut Vec<std::sync::Arc<Record>>) {
        match value {
            Value::Record(record) => found.push(std::sync::Arc::clone(record)),
            Value::List(items) => items.iter().for_each(|item| gather(item, found)),
            _ => {}
        }
    }
    let mut parts = Vec::new();
    if let Some(value) = a.value(0) {
        gather(value, &mut parts);
    }
    let number = |record: &Record, name: &str| record.get(name).and_then(Value::si).unwrap_or(0.0);
    let used = |record: &Record| {
        let (pull, holds) = (number(record, "pull"), number(record, "holds"));
        if pull <= 0.0 {
            0.0
        } else if holds <= 0.0 {
            f64::MAX
        } else {
            pull / holds
        }
    };
    let worst = parts.iter().max_by(|one, other| used(one).total_cmp(&used(other)));
    let Some(worst) = worst else { return Err(FormulaError::domain("the way", "at least one part long")) };
    let mut fields: Vec<(SmolStr, Value)> = worst.fields.clone();
    fields.push((SmolStr::new_static("margin"), force(number(worst, "holds") - number(worst, "pull"))));
    fields.push((SmolStr::new_static("parts"), Value::List(parts.iter().map(|part| Value::Record(std::sync::Arc::clone(part))).collect())));
    Ok(Value::Record(std::sync::Arc::new(Record { fields })))
}

/// The table of this subject.
pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "wheel_loads",
        doc: "the weight on each wheel of a rigid roof, by force and moment balance; a wheel that would have to pull carries nothing",
        parameters: &[
            needs("weight", FORCE, "of the roof, or the snow on it"),
            needs("station", LENGTH, "where it acts, along the travel"),
            needs("offset", LENGTH, "where it acts, across the travel"),
            needs("wheel_stations", LENGTHS, "the wheels, along the travel"),
            needs("wheel_offsets", LENGTHS, "the wheels, across the travel"),
        ],
        gives: "table: stands, why, loads in the order of the wheels, most, least",
        source: "rigid-body statics",
        body: Body::Formula(wheel_loads),
    },
    Function {
        name: "all_of",
        doc: "all values that belong to a component, from a list of values in the order of a list of components",
        parameters: &[
            needs("values", Takes::Anything, "the values"),
            needs("component", Takes::Component, "whose"),
            needs("components", Takes::Components, "the components in the same order"),
        ],
        gives: "list",
        source: "arithmetic",
        body: Body::Design(all_of),
    },
    Function {
        name: "of_kind",
        doc: "those components of a list that are of one of these kinds",
        parameters: &[needs("components", Takes::Components, "the list"), needs("kinds", Takes::Kinds, "the kinds to keep")],
        gives: "components",
        source: "the design",
        body: Body::Design(of_kind),
    },
    Function {
        name: "spread_out",
        doc: "the places of studs, bolts, rafters along a length: one at each end, and between them evenly, no farther apart than the spacing",
        parameters: &[
            needs("first", LENGTH, "the first"),
            needs("last", LENGTH, "the last"),
            needs("spacing", LENGTH, "from one to the next"),
        ],
        gives: "list of lengths",
        source: "arithmetic",
        body: Body::Formula(spread_out),
    },
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
        ],
        gives: "table: held, why, moment with moment_at and moment_travel, sagging, hogging, shear, sag, rise (these of the wheels and the beam itself); presses (the hardest, before load factors), lifts and loads (as of `loads`) by support; cases (moving, shut, snow, live, wind: moment, shear, presses)",
        source: "direct stiffness method; ASCE 7-16 §2.4.1; EN 1990 eq. 6.10",
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
        body: Body::Formula(moment_by_hand),
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
        ],
        gives: "table: pulls by tie, most, total",
        source: "direct stiffness method",
        body: Body::Formula(pulled_beam),
    },
    Function {
        name: "evenly_loaded_beam",
        doc: "a rafter, purlin or joist on two supports under its share of the roof's weight and snow; `cases` are factored for strength",
        parameters: &[
            needs("span", LENGTH, "from support to support"),
            needs("overhang", LENGTH, "beyond one of them"),
            needs("rigidity", Takes::Quantity(Dim::FLEXURAL_RIGIDITY), "E I"),
            needs("dead", LINE_LOAD, "weight that stays"),
            needs("snow", LINE_LOAD, "snow"),
            needs("code", Takes::Word(CODES), "whose combinations"),
            may("live", LINE_LOAD, "people on the roof"),
            may("wind", LINE_LOAD, "the design wind that presses down"),
        ],
        gives: "table: moment, shear, sag, presses, cases",
        source: "statics; ASCE 7-16 §2.4.1; EN 1990 eq. 6.10",
        body: Body::Formula(evenly_loaded_beam),
    },
    Function {
        name: "part_of_a_way",
        doc: "one part on the way of a pull: its name, the pull on it, and what it holds",
        parameters: &[
            needs("what", Takes::Text, "what it is"),
            needs("of", Takes::Text, "the name of what it belongs to"),
            needs("pull", FORCE, "on it"),
            needs("holds", FORCE, "what it can take"),
        ],
        gives: "table: name, pull, holds",
        source: "statics",
        body: Body::Formula(part_of_a_way),
    },
    Function {
        name: "weakest",
        doc: "the part of a way that has the least left: the largest pull over what it holds",
        parameters: &[needs("parts", Takes::Anything, "tables of part_of_a_way")],
        gives: "table: name, pull, holds, margin, parts",
        source: "a chain is as strong as its weakest link",
        body: Body::Formula(weakest),
    },
];
