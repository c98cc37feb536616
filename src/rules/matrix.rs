//! States and actions: what was looked at in each state, and what was not.
//!
//! In: the states of the vocabulary with what each says of every action, and findings. Out: how each stands. It must not know
//! what an action is.

use super::{Finding, Verdict};
use crate::design::State;
use smol_str::SmolStr;

/// How an action in a state stands in a design.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// A rule has looked at it and has an answer, whatever that is.
    Checked,
    /// Rules would look at it, and lines are missing or nothing is there to look at.
    Open,
    /// No rule looks at it.
    NotChecked,
}

impl Standing {
    /// As it is written.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Checked => "checked",
            Self::Open => "open",
            Self::NotChecked => "not_checked",
        }
    }
}

/// An action in a state, in a checked design.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Looked<'c> {
    /// The state.
    pub state: &'c str,
    /// The action.
    pub action: &'c str,
    /// The rules that look at it.
    pub rules: &'c [SmolStr],
    /// Why none does.
    pub why: &'c str,
    /// How it stands.
    pub standing: Standing,
}

/// Every action in every state, in their order.
#[must_use]
pub fn cells<'c>(states: &'c [State], findings: &[Finding]) -> Vec<Looked<'c>> {
    let standing = |rules: &[SmolStr]| {
        if rules.is_empty() {
            return Standing::NotChecked;
        }
        let of = || findings.iter().filter(|finding| rules.contains(&finding.rule));
        let all_known = of().all(|finding| finding.verdict != Verdict::Undetermined);
        if of().next().is_some() && all_known { Standing::Checked } else { Standing::Open }
    };
    let each = states.iter().flat_map(|state| state.cells.iter().map(move |cell| (state, cell)));
    each.map(|(state, cell)| Looked {
        state: &state.name,
        action: &cell.action,
        rules: &cell.rules,
        why: &cell.why_not,
        standing: standing(&cell.rules),
    })
    .collect()
}

/// An action in a state that nothing has looked at to the end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Unlooked<'c> {
    /// The state.
    pub state: &'c str,
    /// The action.
    pub action: &'c str,
    /// Why: as the vocabulary says, or what it waits for.
    pub why: &'c str,
    /// Rules would look at it, were all lines written.
    pub open: bool,
}

/// What was not checked, in the order of the states.
#[must_use]
pub fn not_checked<'c>(states: &'c [State], findings: &[Finding]) -> Vec<Unlooked<'c>> {
    let left = cells(states, findings).into_iter().filter(|cell| cell.standing != Standing::Checked);
    left.map(|cell| {
        let open = cell.standing == Standing::Open;
        let why = if open { "the rules about it wait for lines that are not written" } else { cell.why };
        Unlooked { state: cell.state, action: cell.action, why, open }
    })
    .collect()
}
