//! The structure under the roof: wheels, beams that wheels roll along, and what the wind pulls up.
//!
//! In: positions, stiffness, loads. Out: tables with the worst of each and the numbers to work it out again by hand.
//! What a beam is made of stands in `timber` and `steel`. It must not know whether a result is too much.

use super::arguments::Arguments;
use super::{Body, Function, Refusal, Takes, needs};
use crate::calc::FormulaError;
use crate::calc::beam::{self, Beam, Load, Response, Train, Wheel};
use crate::calc::holddown::{self, Resultant, Support};
use crate::calc::loads::{self, EnState, PerAction, Psi};
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

/// Factors on dead load, rolling wheels and snow for strength.
struct Factors {
    shut: f64,
    moving: f64,
    snow: PerAction,
}

impl Factors {
    fn of(code: &str) -> Result<Self, FormulaError> {
        let one = PerAction::default();
        let all = match code {
            "asce7" => loads::ASCE7_ASD.to_vec(),
            _ => loads::en1990(EnState::Strength, &Psi::recommended(1.0)),
        };
        let factors = |effects: PerAction| loads::largest(&effects, &all).map(|combined| combined.combination.factors);
        Ok(Self {
            shut: factors(PerAction { dead: 1.0, ..one })?.dead,
            moving: factors(PerAction { moving: 1.0, ..one })?.moving,
            snow: factors(PerAction { dead: 1.0, snow: 1.0, ..one })?,
        })
    }
}

/// One state of the roof on a beam, factored for strength.
struct State {
    case: &'static str,
    moment: f64,
    shear: f64,
    presses: Vec<f64>,
}

impl State {
    fn standing(case: &'static str, response: &Response, supports: usize) -> Self {
        let worst = |one: f64, other: f64| one.abs().max(other.abs());
        Self {
            case,
            moment: worst(response.sagging().value, response.hogging().value),
            shear: worst(response.shear_largest().value, response.shear_smallest().value),
            presses: (0..supports).map(|at| response.reactions.get(at).copied().unwrap_or(0.0).max(0.0)).collect(),
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

/// Numbers of the supports used, in the order of the supports given; nothing on one that is beside the beam.
fn placed(values: &[f64], places: &[Option<usize>]) -> Value {
    Value::list_of(places.iter().map(|place| place.and_then(|at| values.get(at)).copied().unwrap_or(0.0)), Dim::FORCE)
}

fn loose(what: String) -> Value {
    let none = || Value::List(Vec::new().into());
    let state = || Value::record(vec![("presses", none())]);
    Value::record(vec![
        ("held", Value::Flag(false)),
        ("why", text(what)),
        ("presses", none()),
        ("lifts", none()),
        ("cases", Value::List([state(), state(), state()].into())),
    ])
}

fn track_beam(a: &Arguments) -> Result<Value, FormulaError> {
    let (start, end, rigidity, own) = (a.si(0), a.si(1), a.si(2), a.si(3));
    let (supports, places) = under(start, end, &a.list(4));
    let (stations, loads, snow, travel) = (a.list(5), a.list(6), a.list(7), a.si(8));
    if stations.len() != loads.len() || stations.len() != snow.len() {
        return Err(FormulaError::domain("the wheels", "given with one station and one load each"));
    }
    let beam = Beam::uniform(start, end, rigidity, &supports);
    let wheels: Vec<Wheel> = stations.iter().zip(&loads).map(|(offset, load)| Wheel { offset: *offset, load: *load }).collect();
    let train = Train { wheels: wheels.clone(), from: 0.0, to: travel };
    let envelope = match beam::envelope(&beam, &train, own) {
        Ok(envelope) => envelope,
        Err(FormulaError::Unstable { what }) => return Ok(loose(what)),
        Err(error) => return Err(error),
    };
    let factors = Factors::of(a.word(9))?;
    let standing = |own_factor: f64, snow_factor: f64| {
        let mut all = vec![Load::self_weight(&beam, own * own_factor)];
        let each = stations.iter().zip(loads.iter().zip(&snow)).filter(|(at, _)| **at >= start && **at <= end);
        all.extend(each.map(|(at, (dead, snow))| Load::Point { at: *at, force: dead * own_factor + snow * snow_factor }));
        beam::respond(&beam, &all)
    };
    let count = supports.len();
    let (weight, with_snow) = (standing(factors.shut, 0.0)?, standing(factors.snow.dead, factors.snow.snow)?);
    let (shut, snowed) = (State::standing("shut", &weight, count), State::standing("snow", &with_snow, count));
    // Reactions are linear in the loads: those without factors follow from both.
    let unfactored = weight.reactions.iter().zip(&with_snow.reactions).map(|(weight, both)| {
        let dead = weight / factors.shut;
        dead + (both - dead * factors.snow.dead) / factors.snow.snow
    });
    let worst = if envelope.hogging.value.abs() > envelope.sagging.value { envelope.hogging } else { envelope.sagging };
    let shear =
        if envelope.shear_smallest.value.abs() > envelope.shear_largest.value { envelope.shear_smallest } else { envelope.shear_largest };
    let rolls: Vec<f64> = envelope.reactions.iter().map(|range| range.largest.value.max(0.0)).collect();
    let lifts: Vec<f64> = envelope.reactions.iter().map(|range| (-range.smallest.value).max(0.0)).collect();
    let moving = State {
        case: "moving",
        moment: factors.moving * worst.value.abs(),
        shear: factors.moving * shear.value.abs(),
        presses: rolls.iter().map(|press| factors.moving * press).collect(),
    };
    let presses: Vec<f64> = rolls.iter().zip(unfactored).map(|(rolls, rests)| rolls.max(rests)).collect();
    let longest = supports.windows(2).map(|pair| if let [a, b] = pair { b - a } else { 0.0 }).fold(0.0, f64::max);
    let overhang = supports.first().map_or(0.0, |first| first - start).max(supports.last().map_or(0.0, |last| end - last));
    let beside = places.iter().filter(|place| place.is_none()).count();
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
        ("sag", length(envelope.deepest.value.max(0.0))),
        ("sag_at", length(envelope.deepest.at)),
        ("sag_travel", length(envelope.deepest.train)),
        ("rise", length((-envelope.highest.value).max(0.0))),
        ("longest_span", length(longest)),
        ("longest_overhang", length(overhang)),
        #[expect(clippy::cast_precision_loss, reason = "far fewer supports than 2^52")]
        ("beside", Value::number(beside as f64)),
        ("presses", placed(&presses, &places)),
        ("lifts", placed(&lifts, &places)),
        ("cases", Value::List([&moving, &shut, &snowed].map(|state| state.value(&places)).into())),
    ]))
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
    let on_beam: Vec<(f64, f64)> = wheels.filter(|(x, _)| *x >= beam.start && *x <= beam.end).collect();
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
    let (span, overhang, rigidity, dead, snow) = (a.si(0), a.si(1), a.si(2), a.si(3), a.si(4));
    let factors = Factors::of(a.word(5))?;
    let beam = Beam::uniform(-overhang, span, rigidity, &[0.0, span]);
    let state =
        |case, load: f64| Ok::<_, FormulaError>(State::standing(case, &beam::respond(&beam, &[Load::self_weight(&beam, load)])?, 2));
    let places = [Some(0), Some(1)];
    let all = beam::respond(&beam, &[Load::self_weight(&beam, dead + snow)])?;
    let (shut, snowed) = (state("shut", factors.shut * dead)?, state("snow", factors.snow.dead * dead + factors.snow.snow * snow)?);
    Ok(Value::record(vec![
        ("held", Value::Flag(true)),
        ("moment", moment(all.sagging().value.max(-all.hogging().value))),
        ("shear", force(all.shear_largest().value.max(-all.shear_smallest().value))),
        ("sag", length(all.deepest().value.max(0.0))),
        ("longest_span", length(span)),
        ("presses", placed(&all.reactions, &places)),
        ("cases", Value::List([&shut, &snowed].map(|state| state.value(&places)).into())),
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
        ],
        gives: "table: held, why, moment with moment_at and moment_travel, sagging, hogging, shear, sag, rise, presses and lifts by support, cases (moving, shut, snow: moment, shear, presses)",
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
