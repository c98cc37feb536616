//! Findings that someone has looked at and taken on.

use super::finding::{Accepted, Finding, Verdict};
use super::options::Options;
use crate::design::Design;
use crate::units;
use crate::values::Evaluator;
use rustc_hash::FxHashMap;
use std::rc::Rc;

/// Marks the findings that someone has taken on.
pub(super) fn accept(evaluator: &Evaluator, options: &Options, findings: &mut [Finding]) {
    let by_rule = by_rule(evaluator.design());
    for finding in findings {
        finding.accepted = accepted(evaluator.design(), &by_rule, options, finding);
    }
}

/// As [`accept`], where findings are shared with what is remembered of them.
pub(super) fn accept_shared(evaluator: &Evaluator, options: &Options, findings: &mut [Rc<Finding>]) {
    let by_rule = by_rule(evaluator.design());
    for finding in findings {
        let accepted = accepted(evaluator.design(), &by_rule, options, finding);
        if finding.accepted != accepted {
            Rc::make_mut(finding).accepted = accepted;
        }
    }
}

fn by_rule(design: &Design) -> FxHashMap<&str, Vec<usize>> {
    let mut by_rule: FxHashMap<&str, Vec<usize>> = FxHashMap::default();
    for (at, acceptance) in design.acceptances.iter().enumerate() {
        by_rule.entry(&acceptance.rule).or_default().push(at);
    }
    by_rule
}

/// Who has taken a finding on; of several the last.
fn accepted(design: &Design, by_rule: &FxHashMap<&str, Vec<usize>>, options: &Options, finding: &Finding) -> Option<Box<Accepted>> {
    let mut taken_on = None;
    {
        if finding.verdict == Verdict::Pass {
            return None;
        }
        let candidates = by_rule.get(finding.rule.as_str())?;
        for acceptance in candidates.iter().filter_map(|at| design.acceptances.get(*at)) {
            if !acceptance.on.is_empty() && !acceptance.on.iter().any(|taken| taken.means(&finding.subjects)) {
                continue;
            }
            let expired = acceptance.until.zip(options.today).filter(|(until, today)| today > until);
            let worse = acceptance.up_to.zip(finding.ratio).filter(|(up_to, ratio)| ratio > up_to && !units::same(*up_to, *ratio));
            let lapsed = match (expired, worse) {
                (Some((until, _)), _) => Some(format!("the acceptance ran until {until}")),
                (None, Some((up_to, ratio))) => {
                    Some(format!("it was accepted up to {} and is now {}", units::percent(up_to), units::percent(ratio)))
                }
                (None, None) => None,
            };
            taken_on = Some(Box::new(Accepted { because: acceptance.because.clone(), until: acceptance.until, lapsed }));
        }
    }
    taken_on
}
