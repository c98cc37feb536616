//! What is shown beside the lines while they are written: mistakes in the text, and what the rules found.

use super::desk::Desk;
use crate::problem::{Mend, Place, Problem, Severity};
use crate::rules::{Finding, Verdict};
use crate::text::Span;
use crate::values::MissingLine;
use rustc_hash::FxHashMap;
use std::rc::Rc;
use std::sync::Arc;

/// How urgent a notice is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Weight {
    /// A mistake in the text, or a check that fails.
    Error,
    /// A check that holds with too little left; a slip.
    Warning,
    /// A check that waits for a line; a piece of advice.
    Information,
    /// A finding that someone has taken on.
    Hint,
}

/// Something to show beside a line.
#[derive(Debug, Clone, PartialEq)]
pub struct Notice {
    /// Where; `None` where no line of the person's own is to blame.
    pub span: Option<Span>,
    /// How urgent.
    pub weight: Weight,
    /// The rule's name; nothing for a mistake in the text.
    pub rule: Option<String>,
    /// What is said, and what to write instead.
    pub message: String,
    /// Other places, with what is there.
    pub related: Vec<Place>,
    /// Changes of the text that would mend it.
    pub mends: Vec<Mend>,
    /// Lines that it waits for.
    pub missing: Arc<[Arc<MissingLine>]>,
}

/// Rules that are named where many wait for one line.
const MOST_NAMED: usize = 8;

/// All notices of a design: mistakes first, then findings by rule.
#[must_use]
pub fn notices(desk: &Desk) -> Vec<Notice> {
    let findings = findings(desk);
    desk.problems.iter().map(of_problem).chain(findings.iter().map(|(finding, also)| of_finding(finding, also))).collect()
}

/// The findings that are worth a notice, each with the other rules that wait for the same line.
///
/// Checks that wait for the same line are one notice, since one line settles them.
#[must_use]
pub fn findings(desk: &Desk) -> Vec<(&Rc<Finding>, Vec<&str>)> {
    let has_errors = desk.problems.iter().any(|problem| problem.severity == Severity::Error);
    let mut found: Vec<(&Rc<Finding>, Vec<&str>)> = Vec::new();
    let mut waiting: FxHashMap<(Option<Span>, &str), usize> = FxHashMap::default();
    for finding in desk.findings() {
        // What rests on a wrong line is told at that line.
        if finding.verdict == Verdict::Pass || (finding.verdict == Verdict::Undetermined && finding.missing.is_empty() && has_errors) {
            continue;
        }
        if finding.verdict == Verdict::Undetermined && !finding.is_accepted() {
            let first = own_places(finding).next().map(|place| place.span);
            let at = *waiting.entry((first, finding.message.as_str())).or_insert(found.len());
            if let Some((first, also)) = found.get_mut(at) {
                if first.rule != finding.rule {
                    also.push(&finding.rule);
                }
                continue;
            }
        }
        found.push((finding, Vec::new()));
    }
    for (_, also) in &mut found {
        also.sort_unstable();
        also.dedup();
    }
    found
}

/// A mistake in the text.
#[must_use]
pub fn of_problem(problem: &Problem) -> Notice {
    let mut message = problem.message.clone();
    if let Some(help) = &problem.help {
        message.push_str("\nhelp: ");
        message.push_str(help);
    }
    Notice {
        span: problem.places.first().map(|place| place.span),
        weight: match problem.severity {
            Severity::Error => Weight::Error,
            Severity::Warning => Weight::Warning,
        },
        rule: None,
        message,
        related: problem.places.iter().skip(1).cloned().collect(),
        mends: problem.mends.clone(),
        missing: Arc::new([]),
    }
}

/// The places of a finding in the person's own text, the one where it is shown first.
pub fn own_places(finding: &Finding) -> impl Iterator<Item = &Place> {
    finding.places.iter().filter(|place| !place.span.file.is_built_in())
}

/// What a rule found; `also` are the other rules that wait for the same line.
#[must_use]
pub fn of_finding(finding: &Finding, also: &[&str]) -> Notice {
    let weight = match finding.verdict {
        _ if finding.is_accepted() => Weight::Hint,
        Verdict::Fail => Weight::Error,
        Verdict::Tight if finding.advice => Weight::Information,
        Verdict::Tight => Weight::Warning,
        Verdict::Undetermined => Weight::Information,
        Verdict::Pass => Weight::Hint,
    };
    let mut message = format!("{}: {}", finding.verdict.word(), finding.message);
    let mut add = |word: &str, text: Option<&str>| {
        if let Some(text) = text {
            message.push_str(&format!("\n{word}: {text}"));
        }
    };
    if let Some(accepted) = &finding.accepted {
        match &accepted.lapsed {
            Some(lapsed) => add("no longer accepted", Some(lapsed)),
            None => add("accepted", Some(&accepted.because)),
        }
    }
    add("help", finding.help.as_deref());
    if finding.verdict != Verdict::Undetermined {
        add("caution", finding.caution.as_deref());
    }
    if !also.is_empty() {
        let more = also.len().saturating_sub(MOST_NAMED);
        let named = also.iter().take(MOST_NAMED).copied().collect::<Vec<_>>().join(", ");
        let more = if more > 0 { format!(" and {more} more") } else { String::new() };
        message.push_str(&format!("\nalso waiting for it: {named}{more}"));
    }
    let mut places = own_places(finding);
    Notice {
        span: places.next().map(|place| place.span),
        weight,
        rule: Some(finding.rule.to_string()),
        message,
        related: places.cloned().collect(),
        mends: finding.mends.clone(),
        missing: Arc::clone(&finding.missing),
    }
}
