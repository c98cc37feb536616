//! Which state of the roof governs a member, and what a check of a beam says: the same for timber and steel.

use super::loads_on_their_way::when;
use super::tables::table;
use crate::calc::loads::states::State;
use smol_str::SmolStr;

/// The state with the largest stress for its strength.
#[derive(Default)]
pub(super) struct Governs {
    pub(super) stress: f64,
    pub(super) strength: f64,
    /// None before the first.
    pub(super) case: Option<State>,
}

impl Governs {
    /// Takes a state in; whether it is the worst so far.
    pub(super) fn meet(&mut self, stress: f64, strength: f64, case: State) -> bool {
        let worse = self.strength == 0.0 || stress * self.strength > self.stress * strength;
        if worse {
            *self = Self { stress, strength, case: Some(case) };
        }
        worse
    }

    /// The state; shut before the first.
    pub(super) fn state(&self) -> State {
        self.case.unwrap_or(State::Shut)
    }

    /// The state, as one says it.
    pub(super) fn when(&self) -> SmolStr {
        when(self.state())
    }
}

/// What a check of a beam says, `seat` counted from 0.
pub(super) fn checked(
    bending: &Governs,
    shear: &Governs,
    bearing: &Governs,
    seat: usize,
    factors: table::BeamFactors,
) -> table::CheckedBeam {
    #[expect(clippy::cast_precision_loss, reason = "far fewer supports than 2^52")]
    let bearing_seat = seat as f64 + 1.0;
    table::CheckedBeam {
        bending_stress: bending.stress,
        bending_strength: bending.strength,
        bending_case: bending.state().into(),
        bending_when: bending.when(),
        shear_stress: shear.stress,
        shear_strength: shear.strength,
        shear_case: shear.state().into(),
        bearing_stress: bearing.stress,
        bearing_strength: bearing.strength,
        bearing_case: bearing.case.map(Into::into),
        bearing_seat,
        factors,
    }
}
