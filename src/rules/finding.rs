//! What a rule found.

use crate::design::State;
use crate::problem::{Mend, Place};
use crate::syntax::tree::Date;
use crate::values::{Measure, MissingLine, Value};
use smol_str::SmolStr;
use std::sync::Arc;

/// Whether it holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Verdict {
    /// It holds, with the reserve wanted.
    Pass,
    /// It holds, with less than the reserve wanted left.
    Tight,
    /// Something that it needs is not written.
    Undetermined,
    /// It does not hold.
    Fail,
}

impl Verdict {
    /// As it is written.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Pass => "pass",
            Self::Tight => "tight",
            Self::Undetermined => "undetermined",
            Self::Fail => "fail",
        }
    }
}

/// A habit of the trade that stands in for a line.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Assumed {
    /// Whose line.
    pub component: SmolStr,
    /// Which property.
    pub property: SmolStr,
    /// What is assumed.
    pub value: String,
    /// Why it may be.
    pub because: SmolStr,
}

/// A line of which its writer says that nobody knows the number yet.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Guess {
    /// Whose line and which: `main_roof.mass`, or a named value.
    pub name: SmolStr,
    /// What is guessed, without how far it may be off.
    pub value: String,
}

/// How much of the margin one tolerance takes.
#[derive(Debug, Clone, PartialEq)]
pub struct Influence {
    /// The value with the tolerance: `open_sensor.station`.
    pub name: String,
    /// The tolerance's line.
    pub place: Place,
    /// What it takes of the margin, in the unit of the demand.
    pub takes: Measure,
}

/// Someone has looked at the finding and taken it on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Accepted {
    /// Why.
    pub because: SmolStr,
    /// Until when; for good if absent.
    pub until: Option<Date>,
    /// Why it no longer counts: the day has passed, or the numbers got worse.
    pub lapsed: Option<String>,
}

/// What a rule found on one of its bindings.
///
/// A design of 100,000 lines can have three times as many of them: what most do without stands apart.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// The rule's name.
    pub rule: SmolStr,
    /// What should hold.
    pub title: SmolStr,
    /// The components that it is about, by name.
    pub subjects: Vec<SmolStr>,
    /// What the names of the rule's `each` line stand for here.
    pub bound: Vec<(SmolStr, Value)>,
    /// Whether it holds.
    pub verdict: Verdict,
    /// A piece of advice, not a requirement.
    pub advice: bool,
    /// A piece of advice that is not followed: its verdict is tight, for advice never fails.
    pub advice_not_met: bool,
    /// What is asked, at the worst combination of the tolerances.
    pub demand: Option<Box<Measure>>,
    /// What can be given, at the worst combination of the tolerances.
    pub capacity: Option<Box<Measure>>,
    /// Demand over capacity; `None` where that has no meaning.
    pub ratio: Option<f64>,
    /// Demand and capacity with no tolerance, where there is any.
    pub nominal: Option<Box<(Measure, Measure)>>,
    /// What is said.
    pub message: String,
    /// What to change.
    pub help: Option<String>,
    /// On whose word.
    pub source: Option<SmolStr>,
    /// What can hurt.
    pub caution: Option<SmolStr>,
    /// The state that it is about.
    pub state: Option<State>,
    /// Changes of the text after which the rule holds.
    pub mends: Vec<Mend>,
    /// Numbers that another part would have to have for the rule to hold: said, but no change that one could simply write.
    pub suffices: Vec<Mend>,
    /// Lines that are not written: of more than [`MOST_MISSING`](crate::values::MOST_MISSING) the first.
    pub missing: Arc<[Arc<MissingLine>]>,
    /// Habits of the trade that it stands on.
    pub assumed: Vec<Assumed>,
    /// Guesses that it stands on.
    pub guessed: Vec<Guess>,
    /// The lines that it stands on, the one to mend first.
    pub places: Vec<Place>,
    /// Tolerances, the one that takes most of the margin first.
    pub influences: Vec<Influence>,
    /// Someone has taken it on.
    pub accepted: Option<Box<Accepted>>,
}

impl Finding {
    /// Without the room that its lists keep to grow.
    pub(super) fn settled(mut self) -> Finding {
        self.subjects.shrink_to_fit();
        self.message.shrink_to_fit();
        if let Some(help) = &mut self.help {
            help.shrink_to_fit();
        }
        self.mends.shrink_to_fit();
        self.suffices.shrink_to_fit();
        self.assumed.shrink_to_fit();
        self.guessed.shrink_to_fit();
        self.places.shrink_to_fit();
        self.influences.shrink_to_fit();
        self
    }

    /// Whether someone has taken it on, and that still counts.
    #[must_use]
    pub fn is_accepted(&self) -> bool {
        self.accepted.as_ref().is_some_and(|accepted| accepted.lapsed.is_none())
    }

    /// How it stands, in a word: its verdict, and `advice` where that is not followed.
    #[must_use]
    pub fn word(&self) -> &'static str {
        if self.advice_not_met { "advice" } else { self.verdict.word() }
    }

    /// The rule's name before the dot.
    #[must_use]
    pub fn area(&self) -> &str {
        self.rule.split('.').next().unwrap_or_default()
    }
}
