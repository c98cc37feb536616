//! What was found, for each sort of reader: people at a terminal, programs, code review.
//!
//! In: a [`Session`] and the findings of its rules. Out: text. It opens no file, asks no clock and
//! does not know the command line; how wide and how colourful a page is comes in as a
//! [`Look`](text::Look).

mod digest;
pub mod dxf;
pub mod json;
mod lines;
pub mod lists;
pub mod markdown;
pub mod report;
pub mod sarif;
mod summary;
pub mod svg;
pub mod text;
mod valued;
mod words;
mod xml;

pub use summary::{Standing, Summary};
pub use valued::Valued;

use crate::design::Choice;
use crate::problem::{Problem, Severity};
use crate::rules::{Finding, NotBegun, Only};
use crate::session::Session;
use crate::syntax::tree::Date;

/// A design that has been read and checked.
pub struct Checked {
    /// The design.
    pub session: Session,
    /// With which of its alternatives it was read.
    pub choice: Choice,
    /// What the rules found, in the order of the rules and of the text.
    pub findings: Vec<Finding>,
    /// What a whole building has and this one has not.
    pub not_begun: Vec<NotBegun>,
    /// What is wrong with the text.
    pub problems: Vec<Problem>,
    /// The only areas, rules and components that were asked about.
    pub only: Option<Only>,
    /// The day on which acceptances were judged.
    pub today: Option<Date>,
    /// The counts with what was measured in place of what was planned, where somebody asked for them beside the plan.
    pub built: Option<Summary>,
}

/// The designs that were found in folders, each checked by itself.
pub struct Folders {
    /// The folders, as they were named.
    pub named: String,
    /// Each design with the name of its file.
    pub designs: Vec<(String, Checked)>,
    /// How many more files these use.
    pub parts: usize,
    /// What could not be read.
    pub unread: Vec<Problem>,
}

impl Folders {
    /// The counts of all designs together.
    #[must_use]
    pub fn summary(&self) -> Summary {
        let findings = self.designs.iter().flat_map(|(_, checked)| &checked.findings);
        let not_begun = self.designs.iter().flat_map(|(_, checked)| checked.not_begun.iter().cloned());
        Summary { not_begun: not_begun.collect(), ..Summary::of(findings) }
    }
}

impl Checked {
    /// Whether part of the design could not be understood.
    #[must_use]
    pub fn has_errors(&self) -> bool {
        self.problems.iter().any(|problem| problem.severity == Severity::Error)
    }

    /// The counts.
    #[must_use]
    pub fn summary(&self) -> Summary {
        Summary { not_begun: self.not_begun.clone(), ..Summary::of(&self.findings) }
    }

    /// Whether something does not hold, or is open, with the values that were measured.
    #[must_use]
    pub fn is_built_otherwise(&self) -> bool {
        self.built.as_ref().is_some_and(|built| built.fail + built.tight + built.undetermined > 0)
    }

    /// Whether an acceptance has run out or been outgrown.
    #[must_use]
    pub fn has_lapsed_acceptance(&self) -> bool {
        let lapsed = |finding: &Finding| finding.accepted.as_ref().is_some_and(|accepted| accepted.lapsed.is_some());
        let past = |until: Date| self.today.is_some_and(|today| today > until);
        self.findings.iter().any(lapsed) || self.session.design().acceptances.iter().filter_map(|one| one.until).any(past)
    }
}
