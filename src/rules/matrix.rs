//! States and actions: what was looked at in each state, and what was not.
//!
//! In: the states of the vocabulary with what each says of every action, and findings. Out: how each stands. It must not know
//! what an action is.

use super::{Finding, NotBegun, Verdict};
use crate::design::State;
use rustc_hash::FxHashMap;
use smol_str::SmolStr;

/// How an action in a state stands in a design.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// Rules have looked at it and have an answer, whatever that is; nothing that belongs to it is undetermined.
    Checked,
    /// Rules would look at it, and lines are missing, nothing is there to look at, or what a whole building has of it is not begun.
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
    /// How many of them had something to look at.
    pub answered: usize,
    /// Why none does.
    pub why: &'c str,
    /// How it stands.
    pub standing: Standing,
}

/// Every action in every state, in their order. One is checked only where nothing that belongs to it is undetermined: none of
/// its rules waits for a line, one at least had something to look at, and none is of an area in which a part is not begun.
#[must_use]
pub fn cells<'c>(states: &'c [State], findings: &[Finding], not_begun: &[NotBegun]) -> Vec<Looked<'c>> {
    // Whether all that a rule has found is known; of a rule that has found nothing, nothing.
    let mut known: FxHashMap<&str, bool> = FxHashMap::default();
    for finding in findings {
        *known.entry(&finding.rule).or_insert(true) &= finding.verdict != Verdict::Undetermined;
    }
    let answered = |rules: &[SmolStr]| rules.iter().filter(|rule| known.contains_key(rule.as_str())).count();
    let standing = |rules: &[SmolStr]| {
        if rules.is_empty() {
            return Standing::NotChecked;
        }
        let all_known = rules.iter().filter_map(|rule| known.get(rule.as_str())).all(|known| *known);
        let area = |rule: &SmolStr| rule.split('.').next().unwrap_or_default().to_owned();
        let unasked = |rule: &SmolStr| !known.contains_key(rule.as_str());
        let begun = !rules.iter().any(|rule| unasked(rule) && not_begun.iter().any(|one| one.area == area(rule)));
        if answered(rules) > 0 && all_known && begun { Standing::Checked } else { Standing::Open }
    };
    let each = states.iter().flat_map(|state| state.cells.iter().map(move |cell| (state, cell)));
    each.map(|(state, cell)| Looked {
        state: &state.name,
        action: &cell.action,
        rules: &cell.rules,
        answered: answered(&cell.rules),
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
pub fn not_checked<'c>(states: &'c [State], findings: &[Finding], not_begun: &[NotBegun]) -> Vec<Unlooked<'c>> {
    let left = cells(states, findings, not_begun).into_iter().filter(|cell| cell.standing != Standing::Checked);
    left.map(|cell| {
        let open = cell.standing == Standing::Open;
        let why = if open { "the rules about it wait for lines that are not written" } else { cell.why };
        Unlooked { state: cell.state, action: cell.action, why, open }
    })
    .collect()
}
