//! What every output says of findings in the same order and the same words, so that they cannot disagree.

use super::{Standing, Summary};
use crate::rules::{Assumed, Finding, Guess, NotBegun};
use crate::text::{Sources, Span};
use crate::values::MissingLine;
use rustc_hash::{FxHashMap, FxHashSet};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Areas that the first line names; of more it says only how many checks.
const MOST_NAMED: usize = 5;

/// How a design stands as a whole.
pub(super) fn worst(summary: &Summary, errors: usize) -> Standing {
    match summary {
        _ if errors > 0 || summary.fail > 0 => Standing::Fail,
        _ if summary.undetermined > 0 || !summary.not_begun.is_empty() => Standing::Undetermined,
        _ if summary.tight > 0 => Standing::Tight,
        _ => Standing::Pass,
    }
}

/// What can hurt and is not decided: how many checks, and of which areas.
fn undecided_danger(findings: &[Finding]) -> (usize, Vec<&str>) {
    let mut areas: Vec<&str> = Vec::new();
    let open = findings.iter().filter(|finding| Standing::of(finding) == Standing::Undetermined && finding.caution.is_some());
    let count = open
        .inspect(|finding| {
            if !areas.contains(&finding.area()) {
                areas.push(finding.area());
            }
        })
        .count();
    (count, areas)
}

/// How a design stands, in a sentence; what can hurt and is not decided is in it.
pub(super) fn state(summary: &Summary, findings: &[Finding], errors: usize) -> String {
    let all = summary.pass + summary.tight + summary.fail + summary.undetermined + summary.accepted;
    let of = |count: usize| if count == 1 { format!("One of {all} checks") } else { format!("{count} of {all} checks") };
    let (fails, lacks, holds) = match (summary.fail, summary.undetermined, summary.tight) {
        (1, _, _) => ("fails", "", ""),
        (_, 1, _) => ("fail", "lacks", "holds"),
        (_, _, 1) => ("fail", "lack", "holds"),
        _ => ("fail", "lack", "hold"),
    };
    let (danger, areas) = undecided_danger(findings);
    let areas = if areas.len() > MOST_NAMED { String::new() } else { format!(" ({})", areas.join(", ")) };
    let first = if all == 0 {
        "Nothing was checked: no rule has anything to say about what is written.".to_owned()
    } else if summary.fail > 0 {
        let also = match danger {
            0 => String::new(),
            1 => format!(" One more that is about what can hurt somebody cannot be decided{areas}."),
            _ => format!(" {danger} more that are about what can hurt somebody cannot be decided{areas}."),
        };
        format!("{} {fails}. Do not build it like this.{also}", of(summary.fail))
    } else if summary.undetermined > 0 {
        let hurts = match danger {
            0 => String::new(),
            _ if danger == summary.undetermined => format!(": what can hurt somebody is among it{areas}"),
            _ => format!(", {danger} of them about what can hurt somebody{areas}"),
        };
        format!("Nothing fails, but {} {lacks} a line and cannot be decided{hurts}.", of(summary.undetermined).to_lowercase())
    } else if summary.tight > 0 {
        format!("Nothing fails, but {} {holds} with less in reserve than is wanted.", of(summary.tight).to_lowercase())
    } else if summary.accepted > 0 {
        "Nothing that was checked speaks against it, or it was taken on with a reason.".to_owned()
    } else {
        match all {
            1 => "Nothing in the one check speaks against it.".to_owned(),
            _ => format!("Nothing in the {all} checks speaks against it."),
        }
    };
    let first = match summary.areas_not_begun().as_slice() {
        [] => first,
        [one] => format!("{first} It is no whole building yet: {one} is not begun."),
        areas => format!("{first} It is no whole building yet: {} are not begun.", areas.join(", ")),
    };
    if errors > 0 { format!("Part of the design could not be understood and is not checked. {first}") } else { first }
}

/// Findings that stand so, what can hurt first, then what is furthest over.
pub(super) fn in_order(findings: &[Finding], standing: Standing) -> Vec<&Finding> {
    let mut found: Vec<&Finding> = findings.iter().filter(|finding| Standing::of(finding) == standing).collect();
    if standing != Standing::Undetermined && standing != Standing::Accepted {
        // No ratio: nothing is there to meet the demand, or a condition does not hold at all.
        let over = |finding: &Finding| finding.ratio.unwrap_or(f64::INFINITY);
        found.sort_by(|a, b| b.caution.is_some().cmp(&a.caution.is_some()).then(over(b).total_cmp(&over(a))));
    }
    found
}

/// Findings that wait for the same lines, as one: the first of them and the others.
pub(super) fn waiting_alike<'f>(findings: &[&'f Finding]) -> Vec<(&'f Finding, Vec<&'f Finding>)> {
    let mut groups: Vec<(&Finding, Vec<&Finding>)> = Vec::new();
    let mut by_missing: FxHashMap<&[Arc<MissingLine>], usize> = FxHashMap::default();
    for finding in findings {
        let known = by_missing.get(&*finding.missing).and_then(|at| groups.get_mut(*at));
        if let Some((_, others)) = known {
            others.push(finding);
        } else {
            by_missing.insert(&finding.missing, groups.len());
            groups.push((finding, Vec::new()));
        }
    }
    groups
}

/// That `mass` of a roof is not written, or that a component is missing as a whole.
pub(super) fn line_to_write(line: &MissingLine) -> String {
    match line.property.as_str() {
        "" => format!("there is no `{}`", line.component),
        property => format!("`{property}` of {} is not written", line.component),
    }
}

/// What verdicts stood on without its being written: one property, value and reason, for all that it was assumed of.
pub(super) struct Assumption<'f> {
    /// A check on what can hurt somebody stands on it.
    pub grave: bool,
    pub property: &'f str,
    pub value: &'f str,
    pub because: &'f str,
    pub names: Vec<&'f str>,
}

/// The assumptions of all findings, each once; those on which a check on what can hurt somebody stands come first.
pub(super) fn assumptions(findings: &[Finding]) -> Vec<Assumption<'_>> {
    let mut found: BTreeMap<(bool, &str, &str, &str), Vec<&str>> = BTreeMap::new();
    let dangers = findings.iter().filter(|finding| finding.caution.is_some()).flat_map(|finding| &finding.assumed);
    let grave: FxHashSet<(&str, &str, &str)> =
        dangers.map(|Assumed { property, value, because, .. }| (&**property, &**value, &**because)).collect();
    let mut seen: FxHashSet<&Assumed> = FxHashSet::default();
    for assumed in findings.iter().flat_map(|finding| &finding.assumed).filter(|assumed| seen.insert(assumed)) {
        let Assumed { component, property, value, because } = assumed;
        let light = !grave.contains(&(&**property, &**value, &**because));
        found.entry((light, property, value, because)).or_default().push(component);
    }
    let each = found.into_iter();
    each.map(|((light, property, value, because), names)| Assumption { grave: !light, property, value, because, names }).collect()
}

/// A guess, and what hangs on it.
pub(super) struct Guessed<'f> {
    pub guess: &'f Guess,
    /// Checks that stand on it.
    pub checks: usize,
    /// Of these that fail or are tight.
    pub close: usize,
}

/// The guesses of all findings, those first that decide most.
pub(super) fn guesses(findings: &[Finding]) -> Vec<Guessed<'_>> {
    let mut found: BTreeMap<&Guess, (usize, usize)> = BTreeMap::new();
    for finding in findings {
        let close = matches!(Standing::of(finding), Standing::Fail | Standing::Tight);
        for guess in &finding.guessed {
            let count = found.entry(guess).or_default();
            count.0 += 1;
            count.1 += usize::from(close);
        }
    }
    let mut all: Vec<Guessed<'_>> = found.into_iter().map(|(guess, (checks, close))| Guessed { guess, checks, close }).collect();
    all.sort_by_key(|one| std::cmp::Reverse((one.close, one.checks)));
    all
}

/// What can hurt, each once.
pub(super) fn cautions<'f>(findings: impl IntoIterator<Item = &'f Finding>) -> Vec<&'f str> {
    let mut seen: Vec<&str> = Vec::new();
    for caution in findings.into_iter().filter_map(|finding| finding.caution.as_deref()) {
        if !seen.contains(&caution) {
            seen.push(caution);
        }
    }
    seen
}

/// `power: roof_drive lacks a motor that turns it`
pub(super) fn lacking(one: &NotBegun) -> String {
    let NotBegun { area, lacks, component } = one;
    match component {
        Some(name) => format!("{area}: {name} lacks {lacks}"),
        None => format!("{area}: there is no {}", lacks.strip_prefix("a ").or(lacks.strip_prefix("an ")).unwrap_or(lacks)),
    }
}

/// `a.plate:12:3`
pub(super) fn position(sources: &Sources, span: Span) -> String {
    let name = sources.get(span.file).map_or("", |source| source.name.as_str());
    let place = sources.position(span);
    format!("{name}:{}:{}", place.line, place.column)
}
