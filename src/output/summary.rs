//! How many findings stand how. Every output counts here, so that they cannot disagree.

use crate::rules::{Finding, NotBegun, Verdict};

/// How a finding counts: its verdict, unless someone has taken it on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Standing {
    /// It does not hold.
    Fail,
    /// Something that it needs is not written.
    Undetermined,
    /// It holds, with less than the reserve wanted left.
    Tight,
    /// Someone has taken it on, and that still counts.
    Accepted,
    /// It holds.
    Pass,
}

impl Standing {
    /// How a finding counts.
    #[must_use]
    pub fn of(finding: &Finding) -> Standing {
        if finding.is_accepted() {
            return Standing::Accepted;
        }
        match finding.verdict {
            Verdict::Pass => Standing::Pass,
            Verdict::Tight => Standing::Tight,
            Verdict::Undetermined => Standing::Undetermined,
            Verdict::Fail => Standing::Fail,
        }
    }

    /// As it is written.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Fail => "fail",
            Self::Undetermined => "undetermined",
            Self::Tight => "tight",
            Self::Accepted => "accepted",
            Self::Pass => "pass",
        }
    }
}

/// How many findings stand how. An accepted finding counts as accepted and not by its verdict.
#[derive(Debug, Clone, Default, PartialEq, Eq, serde::Serialize)]
pub struct Summary {
    /// Hold.
    pub pass: usize,
    /// Hold with little left.
    pub tight: usize,
    /// Do not hold.
    pub fail: usize,
    /// Miss a line.
    pub undetermined: usize,
    /// Taken on by someone.
    pub accepted: usize,
    /// What a whole building has and this one has not: no verdict, for nothing that is written is wrong.
    pub not_begun: Vec<NotBegun>,
}

impl Summary {
    /// Counts findings.
    #[must_use]
    pub fn of<'f>(findings: impl IntoIterator<Item = &'f Finding>) -> Summary {
        let mut summary = Summary::default();
        for finding in findings {
            *summary.count_mut(Standing::of(finding)) += 1;
        }
        summary
    }

    /// How many stand so.
    #[must_use]
    pub fn count(&self, standing: Standing) -> usize {
        match standing {
            Standing::Fail => self.fail,
            Standing::Undetermined => self.undetermined,
            Standing::Tight => self.tight,
            Standing::Accepted => self.accepted,
            Standing::Pass => self.pass,
        }
    }

    fn count_mut(&mut self, standing: Standing) -> &mut usize {
        match standing {
            Standing::Fail => &mut self.fail,
            Standing::Undetermined => &mut self.undetermined,
            Standing::Tight => &mut self.tight,
            Standing::Accepted => &mut self.accepted,
            Standing::Pass => &mut self.pass,
        }
    }

    /// The counts with the areas that are not begun, on one line.
    #[must_use]
    pub fn in_a_line(&self) -> String {
        match self.areas_not_begun().as_slice() {
            [] => self.to_string(),
            areas => format!("{self}; not begun: {}", areas.join(", ")),
        }
    }

    /// The areas in which something of a whole building is lacking, each once.
    #[must_use]
    pub fn areas_not_begun(&self) -> Vec<&str> {
        let mut areas: Vec<&str> = Vec::new();
        for lacking in &self.not_begun {
            if !areas.contains(&lacking.area.as_str()) {
                areas.push(&lacking.area);
            }
        }
        areas
    }
}

impl std::fmt::Display for Summary {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let Summary { pass, tight, fail, undetermined, accepted, not_begun: _ } = self;
        write!(f, "{pass} pass, {tight} tight, {fail} fail, {undetermined} undetermined, {accepted} accepted")
    }
}
