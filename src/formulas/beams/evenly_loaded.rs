//! A beam under even loads, and a person in place of those of people: a rafter on two supports, a sill on several.

use super::{BeamState, EvenlyLoadedBeam, SillBeam, bending, placed, shearing};
use crate::calc::FormulaError;
use crate::calc::beam::{self, Beam, Load, Response, bearings};
use crate::calc::loads::PerAction;
use crate::calc::loads::states::{Code, Level, State, combinations};
use crate::formulas::body::Formula;
use crate::formulas::loads_on_their_way::combined_by;
use crate::formulas::tables::table;

/// Where a person stands: in the middle of a span for the moment, beside the supports for the shear, at the tip of an
/// overhang for both. So near to a support, as a part of the span, that hardly anything of the shear goes into it.
const BESIDE: f64 = 1e-3;

/// The places where a person may hurt a beam most.
fn stands_at(beam: &Beam, supports: &[f64]) -> Vec<f64> {
    let mut edges = vec![beam.start];
    edges.extend(supports.iter().copied());
    edges.push(beam.end);
    let mut places = vec![beam.start, beam.end];
    for pair in edges.windows(2) {
        if let [from, to] = pair
            && to > from
        {
            places.extend([BESIDE, 0.5, 1.0 - BESIDE].map(|part| from + part * (to - from)));
        }
    }
    places
}

/// The even loads of one state and, in place of those of people, one person at each place that may be the worst.
fn with_a_person(beam: &Beam, load: &PerAction, person: f64, places: &[f64], factors: &PerAction) -> Result<Vec<Response>, FormulaError> {
    let even = load.with(factors, |load, factor| load * factor);
    let line = |line: f64| Load::self_weight(beam, line);
    let mut responses = vec![beam::respond(beam, &[line(even.dead + even.snow + even.wind + even.roof_live)])?];
    let stands = factors.roof_live * person;
    if stands > 0.0 {
        for at in places {
            responses.push(beam::respond(beam, &[line(even.dead + even.snow + even.wind), Load::Point { at: *at, force: stands }])?);
        }
    }
    Ok(responses)
}

/// The worst of all states. `supports` as they were given, and where each of them is among those of the beam.
fn all_states(
    beam: &Beam,
    supports: &[f64],
    given: &[Option<usize>],
    load: &PerAction,
    person: f64,
    code: Code,
) -> Result<table::EvenlyLoadedBeam, FormulaError> {
    let states = [State::Shut, State::Snow, State::Live, State::Wind];
    let stands = stands_at(beam, supports);
    let responses = |state: State, level: Level| {
        let all = combinations(state, code, level);
        let each = all.iter().map(|each| with_a_person(beam, load, person, &stands, &each.factors));
        each.collect::<Result<Vec<_>, _>>().map(|all| all.concat())
    };
    let mut cases = Vec::new();
    for state in states {
        cases.push(BeamState::hardest(state, &responses(state, Level::Strength)?, supports.len()));
    }
    let working = states.into_iter().map(|state| responses(state, Level::Working)).collect::<Result<Vec<_>, _>>()?.concat();
    let worst = |number: &dyn Fn(&Response) -> f64| working.iter().map(number).fold(0.0, f64::max);
    let presses: Vec<f64> = (0..supports.len()).map(|at| worst(&|all| all.reactions.get(at).copied().unwrap_or(0.0))).collect();
    Ok(table::EvenlyLoadedBeam {
        held: true,
        moment: worst(&bending),
        shear: worst(&shearing),
        sag: worst(&|all| all.deepest().value),
        longest_span: bearings::longest_span(supports),
        presses: placed(&presses, given),
        cases: cases.iter().map(|state| state.told(given)).collect(),
    })
}

impl Formula for EvenlyLoadedBeam {
    fn answer(self) -> Result<table::EvenlyLoadedBeam, FormulaError> {
        let given = Option::unwrap_or_default;
        let load =
            PerAction { dead: self.dead, snow: self.snow, roof_live: given(self.live), wind: given(self.wind), ..PerAction::default() };
        let supports = [0.0, self.span];
        let beam = Beam::uniform(-self.overhang, self.span, self.rigidity, &supports);
        all_states(&beam, &supports, &[Some(0), Some(1)], &load, given(self.person), combined_by(self.code, self.high))
    }
}

impl Formula for SillBeam {
    fn answer(self) -> Result<table::EvenlyLoadedBeam, FormulaError> {
        let given = Option::unwrap_or_default;
        let load =
            PerAction { dead: self.dead, snow: self.snow, roof_live: given(self.live), wind: given(self.wind), ..PerAction::default() };
        let (supports, places) = bearings::under(self.first_end, self.last_end, &self.supports);
        if supports.len() < 2 {
            return Err(FormulaError::domain("what holds the beam", "at two places of it at least"));
        }
        let beam = Beam::uniform(self.first_end, self.last_end, self.rigidity, &supports);
        all_states(&beam, &supports, &places, &load, given(self.person), combined_by(self.code, self.high))
    }
}
