//! What every answer has to be, whatever the text says.

use wallplate::problem::Problem;
use wallplate::rules::Finding;
use wallplate::text::{Sources, Span};

/// Each problem says something, at a place that lies in its file and cuts no character in two.
pub fn sound(text: &str, problems: &[Problem]) {
    for problem in problems {
        let mends = problem.mends.iter().map(|mend| mend.span);
        for span in problem.places.iter().map(|place| place.span).chain(mends).filter(|span| !span.file.is_built_in()) {
            assert!(text.get(span.start as usize..span.end as usize).is_some(), "out of place: {span:?} of {problem:?}");
        }
        assert!(!problem.message.is_empty() && !problem.places.is_empty(), "says nothing: {problem:?}");
        assert!(!problem.message.ends_with('.'), "a full stop: {problem:?}");
        assert!(problem.help.as_ref().is_none_or(|help| !help.trim().is_empty()), "an empty help: {problem:?}");
    }
}

/// Likewise for what the rules found.
pub fn sound_findings(sources: &Sources, findings: &[Finding]) {
    let inside = |span: Span| {
        let span = sources.settle(span);
        sources.get(span.file).is_some_and(|source| source.text.get(span.start as usize..span.end as usize).is_some())
    };
    for finding in findings {
        let influences = finding.influences.iter().map(|influence| influence.place.span);
        let mends = finding.mends.iter().map(|mend| mend.span);
        for span in finding.places.iter().map(|place| place.span).chain(influences).chain(mends) {
            assert!(inside(span), "out of place: {span:?} of {finding:?}");
        }
        assert!(finding.ratio.is_none_or(|ratio| !ratio.is_nan()), "a ratio that is no number: {finding:?}");
    }
}
