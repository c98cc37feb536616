//! A rafter, purlin or joist on two supports: loads spread evenly, or a person in place of those of people.

use super::{BeamState, EvenlyLoadedBeam, bending, placed, shearing};
use crate::calc::FormulaError;
use crate::calc::beam::{self, Beam, Load, Response};
use crate::calc::loads::PerAction;
use crate::calc::loads::states::{Level, State, combinations};
use crate::formulas::body::Formula;
use crate::formulas::loads_on_their_way::combined_by;
use crate::formulas::tables::table;

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

impl Formula for EvenlyLoadedBeam {
    fn answer(self) -> Result<table::EvenlyLoadedBeam, FormulaError> {
        let given = Option::unwrap_or_default;
        let load =
            PerAction { dead: self.dead, snow: self.snow, roof_live: given(self.live), wind: given(self.wind), ..PerAction::default() };
        let (span, code, person) = (self.span, combined_by(self.code, self.high), given(self.person));
        let beam = Beam::uniform(-self.overhang, span, self.rigidity, &[0.0, span]);
        let places = [Some(0), Some(1)];
        let states = [State::Shut, State::Snow, State::Live, State::Wind];
        let responses = |state: State, level: Level| {
            let all = combinations(state, code, level);
            let each = all.iter().map(|each| with_a_person(&beam, &load, person, &each.factors));
            each.collect::<Result<Vec<_>, _>>().map(|all| all.concat())
        };
        let mut cases = Vec::new();
        for state in states {
            cases.push(BeamState::hardest(state, &responses(state, Level::Strength)?, places.len()));
        }
        let working = states.into_iter().map(|state| responses(state, Level::Working)).collect::<Result<Vec<_>, _>>()?.concat();
        let worst = |number: &dyn Fn(&Response) -> f64| working.iter().map(number).fold(0.0, f64::max);
        let presses: Vec<f64> = (0..places.len()).map(|at| worst(&|all| all.reactions.get(at).copied().unwrap_or(0.0))).collect();
        Ok(table::EvenlyLoadedBeam {
            held: true,
            moment: worst(&bending),
            shear: worst(&shearing),
            sag: worst(&|all| all.deepest().value),
            longest_span: span,
            presses: placed(&presses, &places),
            cases: cases.iter().map(|state| state.told(&places)).collect(),
        })
    }
}
