//! What a checked design lacks and stands on: mistakes in the text, findings by urgency, the count, the assumptions.

use super::depth::Depth;
use super::finding::{accepted, passed, shown, waiting};
use super::look::{Look, Tone};
use super::snippet::{Weight, draw};
use super::waits;
use crate::output::digest::{self, Assumption, position};
use crate::output::{Checked, Standing};
use crate::problem::{Problem, Severity};
use crate::rules::Finding;
use crate::session::LAST_WORD;
use crate::syntax::tree::Date;
use crate::text::Sources;
use rustc_hash::FxHashSet;

/// How many mistakes and findings are shown in full: more are not read in one sitting, and mending the
/// first few often mends others.
pub const MOST_SHOWN: usize = 30;
/// How many sets of missing lines are drawn at their places; of more, the design is only begun and a list says it better.
const MOST_DRAWN: usize = 3;
/// How many assumptions are listed after the count.
const MOST_ASSUMED: usize = 40;
/// Lines of what is not begun that are shown unless all is asked for.
const MOST_NOT_BEGUN: usize = 4;
/// Guesses that are named behind their count.
const MOST_GUESSES: usize = 3;
/// Components that are named where several share one assumption.
const MOST_NAMES: usize = 4;

/// What there is to mend, the count and what was assumed.
pub(super) fn body(checked: &Checked, look: &Look, depth: Depth) -> String {
    let mut report = Report::new(checked, look, depth);
    report.told();
    report.passes();
    report.counts();
    report.guesses(depth == Depth::All);
    report.assumptions(depth == Depth::All);
    report.out
}

pub(super) fn errors(checked: &Checked) -> usize {
    checked.problems.iter().filter(|problem| problem.severity == Severity::Error).count()
}

/// Who has the last word, where something was checked.
pub(super) fn last_word(out: &mut String, findings: bool, look: &Look) {
    if findings {
        out.push('\n');
        out.push_str(&look.paragraph(0, LAST_WORD));
    }
}

/// Mistakes in a text, worst first.
#[must_use]
pub fn problems(problems: &[Problem], sources: &Sources, look: &Look) -> String {
    let mut out = String::new();
    for problem in by_severity(problems).take(MOST_SHOWN) {
        out.push_str(&one_problem(problem, sources, look));
    }
    if problems.len() > MOST_SHOWN {
        out.push_str(&look.paragraph(0, &format!("and {} more mistakes in the text", problems.len() - MOST_SHOWN)));
    }
    out
}

fn by_severity(problems: &[Problem]) -> impl Iterator<Item = &Problem> {
    let of = |severity| problems.iter().filter(move |problem| problem.severity == severity);
    of(Severity::Error).chain(of(Severity::Warning))
}

fn one_problem(problem: &Problem, sources: &Sources, look: &Look) -> String {
    let (weight, sign) = match problem.severity {
        Severity::Error => (Weight::Error, "error:"),
        Severity::Warning => (Weight::Warning, "warning:"),
    };
    let mut out = draw(weight, sign, &problem.message, &problem.places, sources, look);
    if let Some(help) = &problem.help {
        out.push_str(&look.fact("help", help));
    }
    out.push('\n');
    out
}

/// How many checks stand on lines that are wrong.
fn rests(checks: usize, look: &Look) -> String {
    let word = Standing::Undetermined.word();
    let text = format!("{} on lines that are wrong; `--all` names them", counted(checks, "check rests", "checks rest"));
    look.wrap(&format!("{}  ", look.paint(Tone::Open, word)), "    ", word.len() + 2, &text)
}

pub(super) struct Report<'c> {
    pub(super) checked: &'c Checked,
    pub(super) look: &'c Look,
    pub(super) depth: Depth,
    pub(super) out: String,
    /// How many may still be shown in full.
    pub(super) left: usize,
    /// The first thing to mend: where, and what.
    pub(super) first: Option<String>,
    /// Rules whose source and caution have been shown.
    pub(super) explained: Vec<&'c str>,
    /// What can hurt and has not been shown beside a finding, though it bears on the answer.
    pub(super) dangers: Vec<&'c Finding>,
}

impl<'c> Report<'c> {
    pub(super) fn new(checked: &'c Checked, look: &'c Look, depth: Depth) -> Report<'c> {
        Report { checked, look, depth, out: String::new(), left: MOST_SHOWN, first: None, explained: Vec::new(), dangers: Vec::new() }
    }

    /// What there is to mend.
    pub(super) fn told(&mut self) {
        self.problems();
        self.findings();
    }

    fn problems(&mut self) {
        let sources = &self.checked.session.sources;
        for problem in by_severity(&self.checked.problems).take(self.left) {
            self.out.push_str(&one_problem(problem, sources, self.look));
            if self.first.is_none() && problem.severity == Severity::Error {
                self.first = problem.places.first().map(|place| format!("{}: {}", position(sources, place.span), problem.message));
            }
        }
        let all = self.checked.problems.len();
        if all > self.left {
            let more = format!("and {} more mistakes in the text, not shown\n", all - self.left);
            self.out.push_str(&self.look.paragraph(0, &more));
        }
        self.left = self.left.saturating_sub(all);
    }

    fn findings(&mut self) {
        for standing in [Standing::Fail, Standing::Undetermined, Standing::Tight] {
            let found = self.standing(standing);
            let mut hidden = 0;
            if self.depth == Depth::Usual && standing == Standing::Tight {
                // They head the list of what has least room.
                continue;
            }
            if self.depth == Depth::Usual && standing == Standing::Fail {
                self.failures(&found);
                continue;
            }
            if standing == Standing::Undetermined {
                let mut groups = digest::waiting_alike(&found);
                let most = match self.depth {
                    Depth::Brief => 0,
                    Depth::Usual => MOST_DRAWN,
                    Depth::All => usize::MAX,
                };
                if groups.iter().filter(|(finding, _)| !finding.missing.is_empty()).count() > most {
                    let lacking: Vec<&Finding> = found.into_iter().filter(|finding| !finding.missing.is_empty()).collect();
                    let (text, first) = waits::list(&lacking, self.checked, self.look, self.depth);
                    self.dangers.extend(lacking);
                    self.out.push_str(&text);
                    self.out.push('\n');
                    self.first = self.first.take().or(first);
                    groups.retain(|(finding, _)| finding.missing.is_empty());
                }
                // The line that most checks wait for comes first.
                groups.sort_by_key(|(finding, others)| (finding.caution.is_none(), std::cmp::Reverse(others.len())));
                if self.depth == Depth::Usual && self.checked.has_errors() {
                    // What is wrong has been said; how many checks hang on it is enough.
                    let resting: usize =
                        groups.iter().filter(|(finding, _)| finding.missing.is_empty()).map(|(_, others)| 1 + others.len()).sum();
                    if resting > MOST_DRAWN {
                        groups.retain(|(finding, _)| !finding.missing.is_empty());
                        self.out.push_str(&rests(resting, self.look));
                        self.out.push('\n');
                    }
                }
                for (finding, others) in groups {
                    if self.left == 0 {
                        hidden += 1 + others.len();
                        continue;
                    }
                    self.left -= 1;
                    let text = if finding.missing.is_empty() && self.checked.has_errors() {
                        waiting(finding, &others, self.look)
                    } else {
                        shown(finding, &others, false, self.checked, self.look)
                    };
                    self.show(finding, &text);
                }
            } else {
                for finding in found {
                    if self.left == 0 {
                        hidden += 1;
                        continue;
                    }
                    self.left -= 1;
                    let background = !self.explained.contains(&finding.rule.as_str());
                    self.explained.push(&finding.rule);
                    let text = shown(finding, &[], background, self.checked, self.look);
                    self.show(finding, &text);
                }
            }
            if hidden > 0 {
                let more = format!("and {hidden} more {}, not shown; `--only` an area, or `--format json`, shows them\n", standing.word());
                self.out.push_str(&self.look.paragraph(0, &more));
            }
        }
        let taken_on = self.standing(Standing::Accepted);
        for finding in taken_on.iter().take(MOST_SHOWN) {
            self.out.push_str(&accepted(finding, self.look));
        }
        if taken_on.len() > MOST_SHOWN {
            self.out.push_str(&self.look.paragraph(0, &format!("and {} more accepted", taken_on.len() - MOST_SHOWN)));
        }
        if !taken_on.is_empty() {
            self.out.push('\n');
        }
        self.acceptances_without_finding();
    }

    pub(super) fn show(&mut self, finding: &Finding, text: &str) {
        self.out.push_str(text);
        self.out.push('\n');
        if self.first.is_none() {
            let place = finding.places.iter().find(|place| !place.span.file.is_built_in());
            let place = place.map(|place| position(&self.checked.session.sources, place.span));
            self.first = Some(format!("{}{}", place.map_or_else(String::new, |place| format!("{place}: ")), finding.rule));
        }
    }

    /// Findings that stand so, what can hurt first, then what is furthest over.
    pub(super) fn standing(&self, standing: Standing) -> Vec<&'c Finding> {
        digest::in_order(&self.checked.findings, standing)
    }

    /// An acceptance of what now holds should be taken out of the text.
    fn acceptances_without_finding(&mut self) {
        let findings = &self.checked.findings;
        let checked: FxHashSet<&str> = findings.iter().map(|finding| finding.rule.as_str()).collect();
        let used: FxHashSet<(&str, &str, Option<Date>)> = findings
            .iter()
            .filter_map(|finding| {
                finding.accepted.as_ref().map(|accepted| (finding.rule.as_str(), accepted.because.as_str(), accepted.until))
            })
            .collect();
        for acceptance in &self.checked.session.design().acceptances {
            let rule = acceptance.rule.as_str();
            if checked.contains(rule) && !used.contains(&(rule, acceptance.because.as_str(), acceptance.until)) {
                let place = position(&self.checked.session.sources, acceptance.span);
                let text = format!("{place}: nothing is left to accept for {rule}; the `accept` block can go");
                self.out.push_str(&self.look.paragraph(0, &text));
                self.out.push('\n');
            }
        }
    }

    pub(super) fn passes(&mut self) {
        if self.depth != Depth::All {
            return;
        }
        let passes = self.standing_in_order(Standing::Pass);
        for finding in &passes {
            self.out.push_str(&passed(finding, self.look));
        }
        if !passes.is_empty() {
            self.out.push('\n');
        }
    }

    pub(super) fn standing_in_order(&self, standing: Standing) -> Vec<&'c Finding> {
        self.checked.findings.iter().filter(|finding| Standing::of(finding) == standing).collect()
    }

    pub(super) fn counts(&mut self) {
        let errors = errors(self.checked);
        if errors > 0 {
            let text = format!("{}: part of the design is not checked", counted(errors, "mistake in the text", "mistakes in the text"));
            self.out.push_str(&self.look.paint(Tone::Bad, self.look.paragraph(0, &text).trim_end()));
            self.out.push('\n');
        }
        let summary = self.checked.summary();
        let tone = match (errors, summary.fail, summary.tight, summary.undetermined) {
            (0, 0, 0, 0) if summary.not_begun.is_empty() => Tone::Good,
            _ => Tone::Strong,
        };
        self.out.push_str(&self.look.paint(tone, self.look.paragraph(0, &summary.to_string()).trim_end()));
        self.out.push('\n');
        if self.checked.findings.is_empty() && errors == 0 {
            self.out.push_str(&self.look.paragraph(0, "no rule has anything to say about what is written here"));
        }
        let most = match self.depth {
            Depth::Brief => 0,
            Depth::Usual => MOST_NOT_BEGUN,
            Depth::All => usize::MAX,
        };
        if self.checked.not_begun.len() > most && most > 0 {
            let more = self.checked.not_begun.len() - most;
            self.out
                .push_str(&self.look.paragraph(0, &format!("{more} more of what a whole building has are not begun: `--all` lists them")));
        }
        for one in self.checked.not_begun.iter().take(most) {
            let key = self.look.paint(Tone::Open, "not begun:");
            self.out.push_str(&self.look.wrap(&format!("{key} "), "    ", 11, &digest::lacking(one)));
        }
        let several = summary.fail + summary.tight + summary.undetermined + errors > 1;
        if let Some(first) = self.first.as_ref().filter(|_| several) {
            self.out.push_str(&self.look.paragraph(0, &format!("first to mend: {first}")));
        }
    }

    /// What nobody knows yet, and how much hangs on it.
    pub(super) fn guesses(&mut self, listed: bool) {
        let found = digest::guesses(&self.checked.findings);
        if found.is_empty() {
            return;
        }
        let close = |one: &digest::Guessed<'_>| match one.close {
            0 => String::new(),
            1 => ", one of them fails or is tight".to_owned(),
            close => format!(", {close} of them fail or are tight"),
        };
        if !listed {
            let names: Vec<String> = found
                .iter()
                .take(MOST_GUESSES)
                .map(|one| format!("{} ({}{})", one.guess.name, counted(one.checks, "check", "checks"), close(one)))
                .collect();
            let more = if found.len() > MOST_GUESSES { format!(", and {} more", found.len() - MOST_GUESSES) } else { String::new() };
            let how = if self.depth == Depth::Usual { "; `--assumed` lists them" } else { "" };
            let text = format!("{}: {}{more}{how}", counted(found.len(), "number is guessed", "numbers are guessed"), names.join(", "));
            self.out.push_str(&self.look.paragraph(0, &text));
            return;
        }
        self.out.push_str("\nguessed, what decides most first:\n");
        for one in &found {
            let text = format!(
                "{} = {}: {} on it{}",
                one.guess.name,
                one.guess.value,
                counted(one.checks, "check stands", "checks stand"),
                close(one)
            );
            self.out.push_str(&self.look.wrap("  ", "    ", 4, &text));
        }
    }

    /// What the verdicts stood on without its being written, each once: same property, value and reason in one line.
    pub(super) fn assumptions(&mut self, listed: bool) {
        let found = digest::assumptions(&self.checked.findings);
        if found.is_empty() {
            return;
        }
        if !listed {
            let grave = found.iter().filter(|one| one.grave).count();
            let how = match (self.depth == Depth::Usual, grave) {
                (true, 0) => "; `--assumed` lists them".to_owned(),
                (true, _) => format!("; `--assumed` lists them, first {grave} that safety stands on"),
                (false, _) => String::new(),
            };
            let text = format!("{}{how}", counted(found.len(), "line is assumed", "lines are assumed"));
            self.out.push_str(&self.look.paragraph(0, &text));
            return;
        }
        let grave = found.iter().filter(|one| one.grave).count();
        let all = found.len();
        let most = grave.max(MOST_ASSUMED);
        for (at, Assumption { property, value, because, names, .. }) in found.into_iter().enumerate().take(most) {
            if at == 0 && grave > 0 {
                self.out.push('\n');
                let says = "assumed, because no line says otherwise; checks on what can hurt somebody stand on these:";
                self.out.push_str(&self.look.paragraph(0, says));
            } else if at == grave {
                self.out.push_str("\nassumed, because no line says otherwise:\n");
            }
            let some: Vec<String> = names.iter().take(MOST_NAMES).map(|name| format!("{name}.{property}")).collect();
            let more = if names.len() > MOST_NAMES { format!(" and {} more", names.len() - MOST_NAMES) } else { String::new() };
            let text = format!("{}{more} = {value}: {because}", some.join(", "));
            self.out.push_str(&self.look.wrap("  ", "    ", 4, &text));
        }
        if all > most {
            self.out.push_str(&self.look.paragraph(2, &format!("and {} more; `--format json` lists them", all - most)));
        }
    }
}

pub(super) fn counted(count: usize, one: &str, several: &str) -> String {
    if count == 1 { format!("1 {one}") } else { format!("{count} {several}") }
}
