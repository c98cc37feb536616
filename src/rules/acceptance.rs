//! Findings that someone has looked at and taken on.

use super::engine::Options;
use super::finding::{Accepted, Finding, Verdict};
use crate::units;
use crate::values::Evaluator;
use rustc_hash::FxHashMap;

/// Marks the findings that someone has taken on.
pub(super) fn accept(evaluator: &Evaluator, options: &Options, findings: &mut [Finding]) {
    let design = evaluator.design();
    let mut by_rule: FxHashMap<&str, Vec<usize>> = FxHashMap::default();
    for (at, acceptance) in design.acceptances.iter().enumerate() {
        by_rule.entry(&acceptance.rule).or_default().push(at);
    }
    for finding in findings {
        if finding.verdict == Verdict::Pass {
            continue;
        }
        let Some(candidates) = by_rule.get(finding.rule.as_str()) else { continue };
        for acceptance in candidates.iter().filter_map(|at| design.acceptances.get(*at)) {
            let meant = acceptance.on.is_empty()
                || acceptance
                    .on
                    .iter()
                    .any(|name| finding.subjects.iter().any(|subject| subject == name || subject.starts_with(&format!("{name}["))));
            if !meant {
                continue;
            }
            let expired = acceptance.until.zip(options.today).filter(|(until, today)| today > until);
            let worse = acceptance.up_to.zip(finding.ratio).filter(|(up_to, ratio)| ratio > up_to && !units::same(*up_to, *ratio));
            let lapsed = match (expired, worse) {
                (Some((until, _)), _) => Some(format!("the acceptance ran until {until}")),
                (None, Some((up_to, ratio))) => {
                    Some(format!("it was accepted up to {:.0} % and is now {:.0} %", up_to * 100.0, ratio * 100.0))
                }
                (None, None) => None,
            };
            finding.accepted = Some(Accepted { because: acceptance.because.clone(), until: acceptance.until, lapsed });
        }
    }
}
