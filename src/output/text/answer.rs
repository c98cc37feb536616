//! The answer of `check`, on about one screen: how the design stands, what fails by its cause, what has least room, how much is
//! checked, and a count of what is left out.

use super::check::{MOST_SHOWN, Report, counted, errors, last_word};
use super::depth::Depth;
use super::finding::{in_a_line, several_in_a_line, shown};
use super::look::{Look, Tone};
use crate::design::Design;
use crate::output::{Checked, Standing, digest};
use crate::rules::matrix::not_checked;
use crate::rules::{Finding, Verdict};
use rustc_hash::FxHashSet;

/// Causes of what fails that are set out in full unless all is asked for.
const MOST_IN_FULL: usize = 3;
/// Rules in the list of what has least room.
const LEAST_ROOM: usize = 10;
/// Cautions below the answer unless all are asked for: more are not read.
const MOST_CAUTIONS: usize = 3;

/// What of a checked design is told besides what there is to mend.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Wanted {
    /// Everything, one line for each check that holds.
    pub all: bool,
    /// What is assumed because no line says otherwise.
    pub assumed: bool,
    /// All that can hurt, also where it does not decide the answer.
    pub cautions: bool,
}

/// The report of a checked design: in a sentence how it stands, what fails, what has least room, how much is checked.
///
/// What is left out is counted, with the switch that shows it; what can hurt stays where it decides the answer.
#[must_use]
pub fn check(checked: &Checked, look: &Look, wanted: Wanted) -> String {
    let summary = checked.summary();
    let errors = errors(checked);
    let tone = match digest::worst(&summary, errors) {
        Standing::Fail => Tone::Bad,
        Standing::Pass | Standing::Accepted => Tone::Good,
        _ => Tone::Strong,
    };
    let mut out = look.paint(tone, look.paragraph(0, &digest::state(&summary, &checked.findings, errors)).trim_end());
    out.push_str("\n\n");
    let wanted = if wanted.all { Wanted { all: true, assumed: true, cautions: true } } else { wanted };
    let mut report = Report::new(checked, look, if wanted.all { Depth::All } else { Depth::Usual });
    report.told();
    report.passes();
    report.least_room();
    report.counts();
    report.how_far();
    report.measured();
    report.guesses(wanted.assumed);
    report.assumptions(wanted.assumed);
    report.cautions(wanted.cautions);
    report.not_checked(wanted.all);
    last_word(&mut report.out, !checked.findings.is_empty(), look);
    out + &report.out
}

impl<'c> Report<'c> {
    /// What fails, by cause: one slip, one block. A few in full, the others in a line each.
    pub(super) fn failures(&mut self, found: &[&'c Finding]) {
        let groups = causes(found, self.checked.session.design());
        for (at, (finding, others)) in groups.iter().enumerate() {
            if self.left == 0 {
                let hidden: usize = groups.iter().skip(at).map(|(_, others)| 1 + others.len()).sum();
                self.out.push_str(
                    &self.look.paragraph(0, &format!("and {hidden} more fail, not shown; `--all` or `--only` an area shows them\n")),
                );
                break;
            }
            self.left -= 1;
            if at < MOST_IN_FULL {
                let background = !self.explained.contains(&finding.rule.as_str());
                self.explained.push(&finding.rule);
                let text = shown(finding, others, background, self.checked, self.look);
                self.show(finding, &text);
            } else {
                self.out.push_str(&in_a_line(finding, self.look));
                self.dangers.push(finding);
            }
            self.dangers.extend(others);
        }
        if groups.len() > MOST_IN_FULL {
            self.out.push_str(&self.look.paragraph(0, "the last in a line each; `--all` or `--only` an area sets them out"));
            self.out.push('\n');
        }
    }

    /// What holds with the least room, and what is tight: a line each.
    fn least_room(&mut self) {
        if self.depth != Depth::Usual {
            return;
        }
        let tight = self.standing(Standing::Tight);
        let summary = self.checked.summary();
        // In a design that is only begun what is missing says more than what has room.
        let most = if summary.undetermined > summary.pass { 0 } else { LEAST_ROOM };
        let mut holds: Vec<&Finding> =
            self.standing_in_order(Standing::Pass).into_iter().filter(|finding| finding.ratio.is_some()).collect();
        holds.sort_by(|a, b| b.ratio.unwrap_or(0.0).total_cmp(&a.ratio.unwrap_or(0.0)));
        let mut rules: Vec<&str> = Vec::new();
        // Of one rule the hardest says enough.
        holds.retain(|finding| {
            let is_new = !rules.contains(&finding.rule.as_str());
            rules.push(&finding.rule);
            is_new
        });
        holds.truncate(most.saturating_sub(of_one_rule(&tight).len()));
        if tight.is_empty() && holds.is_empty() {
            return;
        }
        self.out.push_str("least room, the hardest of each rule:\n");
        let by_rule = of_one_rule(&tight);
        for (finding, others) in by_rule.iter().take(MOST_SHOWN) {
            self.out.push_str(&several_in_a_line(finding, others, self.look));
            if let Some(help) = &finding.help {
                self.out.push_str(&self.look.fact("help", help));
            }
        }
        for finding in &holds {
            self.out.push_str(&in_a_line(finding, self.look));
        }
        if by_rule.len() > MOST_SHOWN {
            let text = format!("and {} more rules that are tight; `--all` shows them", by_rule.len() - MOST_SHOWN);
            self.out.push_str(&self.look.paragraph(2, &text));
        }
        self.first = self.first.take().or_else(|| tight.first().map(|finding| finding.rule.to_string()));
        self.out.push('\n');
        self.dangers.extend(tight);
        self.dangers.extend(holds);
    }

    /// How much of each area is checked, of all that is known of it, and what a whole building has besides.
    fn how_far(&mut self) {
        let findings = &self.checked.findings;
        if findings.is_empty() && self.checked.not_begun.is_empty() {
            return;
        }
        let decided: FxHashSet<&str> =
            findings.iter().filter(|finding| finding.verdict != Verdict::Undetermined).map(|finding| finding.rule.as_str()).collect();
        let asked: FxHashSet<&str> = findings.iter().map(Finding::area).collect();
        let mut areas: Vec<(&str, usize, usize)> = Vec::new();
        for rule in self.checked.session.design().rules.iter().filter(|rule| !rule.last_resort && !rule.by_line) {
            let at = areas.iter().position(|(area, ..)| *area == rule.area()).unwrap_or_else(|| {
                areas.push((rule.area(), 0, 0));
                areas.len() - 1
            });
            if let Some((_, done, known)) = areas.get_mut(at) {
                *done += usize::from(decided.contains(rule.name.as_str()));
                *known += 1;
            }
        }
        // With `--only` an area the others were not asked.
        let asked_all = self.checked.only.is_none();
        let not_begun = self.checked.summary();
        let not_begun = not_begun.areas_not_begun();
        let each = areas.iter().filter(|(area, ..)| asked_all || asked.contains(area)).map(|(area, done, known)| match done {
            0 if not_begun.contains(area) => format!("{area} not begun"),
            _ => format!("{area} {done} of {known}"),
        });
        let text = format!("rules with an answer: {}", each.collect::<Vec<_>>().join(", "));
        self.out.push_str(&self.look.paragraph(0, &text));
    }

    /// That there are measured values, and whether the building holds with them, where that was asked for.
    fn measured(&mut self) {
        let Some(day) = self.checked.session.design().measured.iter().max().filter(|_| !self.checked.choice.as_built) else { return };
        let (tone, text) = match &self.checked.built {
            None => (Tone::Open, format!("on {day}, not looked at here; `--as-built` does, and `--strict` counts it")),
            Some(built) if self.checked.is_built_otherwise() => {
                (Tone::Bad, format!("on {day}; with that {built}: `--as-built` shows what"))
            }
            Some(built) => (Tone::Open, format!("on {day}; with that {built}")),
        };
        let key = self.look.paint(tone, "measured:");
        self.out.push_str(&self.look.wrap(&format!("{key} "), "    ", 10, &text));
    }

    /// What no rule looked at, state by state: in a line, or all of it.
    fn not_checked(&mut self, all: bool) {
        if self.checked.findings.is_empty() || self.checked.only.is_some() {
            return;
        }
        let left = not_checked(&self.checked.session.design().states, &self.checked.findings, &self.checked.not_begun);
        if left.is_empty() {
            return;
        }
        // A design that is only begun has a screen that is full already.
        if all || left.iter().all(|one| !one.open) {
            self.out.push('\n');
        }
        let key = self.look.paint(Tone::Open, "not checked:");
        if !all {
            let waiting = left.iter().filter(|one| one.open).count();
            let text = if waiting > 0 {
                format!("{} in some state, {waiting} more wait for lines; `--all` says which", left.len() - waiting)
            } else {
                let mut actions: Vec<String> = Vec::new();
                for one in &left {
                    let words = one.action.replace('_', " ");
                    if !actions.contains(&words) {
                        actions.push(words);
                    }
                }
                format!("{} in some state: {}; `--all` says which and why", left.len(), actions.join(", "))
            };
            self.out.push_str(&self.look.wrap(&format!("{key} "), "    ", 13, &text));
            return;
        }
        for one in left {
            let text = format!("{}, {}: {}", one.state.replace('_', " "), one.action.replace('_', " "), one.why);
            self.out.push_str(&self.look.wrap(&format!("{key} "), "    ", 13, &text));
        }
    }

    /// What can hurt: all of it, or what bears on the answer and has not been said beside a finding.
    fn cautions(&mut self, all: bool) {
        let every = digest::cautions(&self.checked.findings);
        let beside: Vec<&str> = self
            .checked
            .findings
            .iter()
            .filter(|finding| self.explained.contains(&finding.rule.as_str()))
            .filter_map(|finding| finding.caution.as_deref())
            .collect();
        let mut told: Vec<&str> = if all {
            every.clone()
        } else {
            digest::cautions(self.dangers.iter().copied()).into_iter().filter(|caution| !beside.contains(caution)).collect()
        };
        if !all {
            told.truncate(MOST_CAUTIONS);
        }
        if !told.is_empty() {
            self.out.push('\n');
        }
        for caution in &told {
            let key = self.look.paint(Tone::Near, "caution:");
            self.out.push_str(&self.look.wrap(&format!("{key} "), "         ", 9, caution));
        }
        let left = every.iter().filter(|caution| !told.contains(caution) && !beside.contains(caution)).count();
        if left > 0 {
            let text = format!("{}: `--cautions` lists them", counted(left, "more caution", "more cautions"));
            self.out.push_str(&self.look.paragraph(0, &text));
        }
    }
}

/// Findings of one rule together, the hardest first.
fn of_one_rule<'f>(found: &[&'f Finding]) -> Vec<(&'f Finding, Vec<&'f Finding>)> {
    let mut groups: Vec<(&Finding, Vec<&Finding>)> = Vec::new();
    for finding in found {
        match groups.iter_mut().find(|(first, _)| first.rule == finding.rule) {
            Some((_, others)) => others.push(finding),
            None => groups.push((finding, Vec::new())),
        }
    }
    groups
}

/// A message with each name of the design left out: said of two posts, or of two plates on them, it is the same.
fn without_names(message: &str, design: &Design) -> String {
    let is_of_a_name = |sign: char| sign.is_ascii_alphanumeric() || sign == '_';
    let mut out = String::with_capacity(message.len());
    let mut rest = message;
    while let Some(start) = rest.find(is_of_a_name) {
        let (before, from) = rest.split_at(start);
        let (word, behind) = from.split_at(from.find(|sign| !is_of_a_name(sign)).unwrap_or(from.len()));
        out.push_str(before);
        if design.entry(word).is_some() {
            out.push('…');
            // `post[2]`: its number goes with its name.
            let number = behind.strip_prefix('[').and_then(|inner| inner.split_once(']')).filter(|(at, _)| at.parse::<u32>().is_ok());
            rest = number.map_or(behind, |(_, behind)| behind);
        } else {
            out.push_str(word);
            rest = behind;
        }
    }
    out + rest
}

/// Findings of one cause together, the worst first: of one line of the text, or of one rule in the same words.
fn causes<'f>(found: &[&'f Finding], design: &Design) -> Vec<(&'f Finding, Vec<&'f Finding>)> {
    let place = |finding: &Finding| finding.places.iter().map(|place| place.span).find(|span| !span.file.is_built_in());
    let words = |finding: &Finding| without_names(&finding.message, design);
    let mut groups: Vec<(&Finding, Vec<&Finding>)> = Vec::new();
    for finding in found {
        let same = |other: &Finding| other.rule == finding.rule && words(other) == words(finding);
        let alike = |(first, others): &&mut (&Finding, Vec<&Finding>)| {
            (place(first).is_some() && place(first) == place(finding)) || same(first) || others.iter().any(|other| same(other))
        };
        match groups.iter_mut().find(alike) {
            Some((_, others)) => others.push(finding),
            None => groups.push((finding, Vec::new())),
        }
    }
    groups
}
