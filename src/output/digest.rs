//! What every output says of findings in the same order and the same words, so that they cannot disagree.

use super::Standing;
use crate::rules::{Assumed, Finding, MissingLine};
use crate::text::{Sources, Span};
use rustc_hash::{FxHashMap, FxHashSet};
use std::collections::BTreeMap;

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
    let mut by_missing: FxHashMap<&[MissingLine], usize> = FxHashMap::default();
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

/// What verdicts stood on without its being written: one property, value and reason, for all that it was assumed of.
pub(super) struct Assumption<'f> {
    pub property: &'f str,
    pub value: &'f str,
    pub because: &'f str,
    pub names: Vec<&'f str>,
}

/// The assumptions of all findings, each once.
pub(super) fn assumptions(findings: &[Finding]) -> Vec<Assumption<'_>> {
    let mut found: BTreeMap<(&str, &str, &str), Vec<&str>> = BTreeMap::new();
    let mut seen: FxHashSet<&Assumed> = FxHashSet::default();
    for assumed in findings.iter().flat_map(|finding| &finding.assumed).filter(|assumed| seen.insert(assumed)) {
        let Assumed { component, property, value, because } = assumed;
        found.entry((property, value, because)).or_default().push(component);
    }
    found.into_iter().map(|((property, value, because), names)| Assumption { property, value, because, names }).collect()
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

/// `a.plate:12:3`
pub(super) fn position(sources: &Sources, span: Span) -> String {
    let name = sources.get(span.file).map_or("", |source| source.name.as_str());
    let place = sources.position(span);
    format!("{name}:{}:{}", place.line, place.column)
}
