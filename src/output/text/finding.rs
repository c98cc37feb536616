//! One finding as people read it: in full where something is to be mended, in a line where not.

use super::look::{Look, Tone};
use super::snippet::{Weight, draw};
use crate::output::digest::position;
use crate::output::{Checked, Standing};
use crate::problem::Place;
use crate::rules::{Finding, Verdict};
use crate::syntax::tree::{Changes, Item, Measured, Variant};
use crate::text::{FileId, Span};
use crate::units::percent;
use crate::values::{Measure, MissingLine};

/// Components that are named where one rule waits for one line on several.
const MOST_WAITING: usize = 8;
/// Habits that are named below a finding: `--assumed` lists them all.
const MOST_ASSUMED: usize = 4;
/// Findings of other rules on the same line that are told in words.
const MOST_OTHERS: usize = 4;
/// Tolerances that are named where several eat the margin.
const MOST_INFLUENCES: usize = 2;

/// A finding in full; `others` wait for the same lines. `background` adds on whose word it is asked and what
/// can hurt: once for each rule is enough.
pub(super) fn shown(finding: &Finding, others: &[&Finding], background: bool, checked: &Checked, look: &Look) -> String {
    let (tone, weight, sign) = match finding.verdict {
        Verdict::Fail => (Tone::Bad, Weight::Error, if look.unicode { "×" } else { "x" }),
        Verdict::Tight => (Tone::Near, Weight::Warning, "!"),
        Verdict::Undetermined | Verdict::Pass => (Tone::Open, Weight::Note, "?"),
    };
    let advice = if finding.advice && !finding.advice_not_met { " (advice)" } else { "" };
    let name = format!("{}{advice}: {}", call(finding), finding.title);
    let word = finding.word();
    let mut out = look.wrap(&format!("{}  ", look.paint(tone, word)), "    ", word.len() + 2, &name);
    let places = places(finding, checked);
    out.push_str(&draw(weight, sign, &finding.message, &places, &checked.session.sources, look));
    let mut fact = |key: &str, text: &str| out.push_str(&look.fact(key, text));
    if let Some(help) = &finding.help {
        fact("help", help);
    }
    if let (Some(demand), Some(capacity)) = (&finding.demand, &finding.capacity) {
        let nominal = finding.nominal.as_deref().filter(|(d, c)| d.text != demand.text || c.text != capacity.text);
        let used = finding.ratio.map_or_else(String::new, |ratio| format!(" ({} used)", percent(ratio)));
        // What no tolerance moves is said once.
        let side = |worst: &Measure, used: &str, written: Option<&Measure>| match written.filter(|written| written.text != worst.text) {
            Some(written) => format!("{} at worst{used}, {} as written", worst.text, written.text),
            None => format!("{}{used}", worst.text),
        };
        fact("needed", &side(demand, "", nominal.map(|(d, _)| d)));
        fact("available", &side(capacity, &used, nominal.map(|(_, c)| c)));
    }
    for influence in finding.influences.iter().take(MOST_INFLUENCES) {
        let place = position(&checked.session.sources, influence.place.span);
        fact("tolerance", &format!("of {} takes {} of the margin ({place})", influence.name, influence.takes.text));
    }
    if finding.influences.len() > MOST_INFLUENCES {
        fact("", &format!("and {} more take less", finding.influences.len() - MOST_INFLUENCES));
    }
    for line in finding.missing.iter().skip(1) {
        fact("also needs", &missing(line));
    }
    let (alike, unlike): (Vec<&Finding>, Vec<&Finding>) =
        others.iter().partition(|other| other.rule == finding.rule || other.verdict == Verdict::Undetermined);
    if !alike.is_empty() {
        fact("as well", &names(&alike));
    }
    // Of another rule the name alone would not say what is wrong.
    let mut by_rule: Vec<Vec<&Finding>> = Vec::new();
    for other in unlike {
        match by_rule.iter_mut().find(|of| of.first().is_some_and(|first| first.rule == other.rule)) {
            Some(of) => of.push(other),
            None => by_rule.push(vec![other]),
        }
    }
    for of in by_rule.iter().take(MOST_OTHERS) {
        let message = of.first().map_or("", |first| first.message.as_str());
        fact("as well", &format!("{}: {message}", names(of)));
    }
    if by_rule.len() > MOST_OTHERS {
        fact("as well", &names(&by_rule.get(MOST_OTHERS..).unwrap_or_default().concat()));
    }
    if let Some(state) = finding.state.as_ref().filter(|_| background) {
        fact(&state.of, &state.name);
    }
    if let Some(source) = finding.source.as_ref().filter(|_| background) {
        fact("source", source);
    }
    if !finding.assumed.is_empty() {
        let assumed: Vec<String> =
            finding.assumed.iter().map(|assumed| format!("{}.{} {}", assumed.component, assumed.property, assumed.value)).collect();
        let more = assumed.len().saturating_sub(MOST_ASSUMED);
        let more = if more > 0 { format!("; and {more} more") } else { String::new() };
        fact("assumed", &format!("{}{more}", assumed.iter().take(MOST_ASSUMED).map(String::as_str).collect::<Vec<_>>().join("; ")));
    }
    if !finding.guessed.is_empty() {
        let guessed: Vec<String> = finding.guessed.iter().map(|guess| format!("{} {}", guess.name, guess.value)).collect();
        fact("guessed", &guessed.join("; "));
    }
    if let Some(caution) = finding.caution.as_ref().filter(|_| background) {
        fact("caution", caution);
    }
    if let Some(accepted) = &finding.accepted
        && let Some(lapsed) = &accepted.lapsed
    {
        fact("accepted", &format!("no longer: {lapsed} (\"{}\")", accepted.because));
    }
    out
}

/// Checks that stand on a line that is wrong: the line has been shown, so they are only named.
pub(super) fn waiting(finding: &Finding, others: &[&Finding], look: &Look) -> String {
    let mut all = vec![finding];
    all.extend(others);
    let word = finding.verdict.word();
    let start = format!("{}  ", look.paint(Tone::Open, word));
    let text = format!("rests on lines that are wrong: {}", names(&all));
    look.wrap(&start, "    ", word.len() + 2, &text)
}

/// A finding that someone has taken on.
pub(super) fn accepted(finding: &Finding, look: &Look) -> String {
    let mut text = format!("{}: {}, {}", call(finding), finding.word(), finding.message);
    if let Some(accepted) = &finding.accepted {
        let until = accepted.until.map_or_else(|| "for good".to_owned(), |until| format!("until {until}"));
        text = format!("{text}; accepted because \"{}\", {until}", accepted.because);
    }
    let word = Standing::Accepted.word();
    look.wrap(&format!("{}  ", look.paint(Tone::Quiet, word)), "    ", word.len() + 2, &text)
}

/// A finding that holds, in one line.
pub(super) fn passed(finding: &Finding, look: &Look) -> String {
    look.wrap(&format!("{}  ", look.paint(Tone::Good, "pass")), "      ", 6, &format!("{}: {}", call(finding), numbers(finding)))
}

/// A finding in one line, how much of it is used first.
pub(super) fn in_a_line(finding: &Finding, look: &Look) -> String {
    let (tone, word) = match Standing::of(finding) {
        Standing::Fail => (Tone::Bad, "fail"),
        Standing::Tight => (Tone::Near, finding.word()),
        _ => (Tone::Good, ""),
    };
    let used = finding.ratio.map_or_else(|| "–".to_owned(), percent);
    let start = format!("  {:>6}  ", look.tame(&used));
    let word = if word.is_empty() { String::new() } else { format!("{} ", look.paint(tone, word)) };
    let text = format!("{}: {}", call(finding), if finding.ratio.is_some() { sides(finding) } else { finding.message.clone() });
    look.wrap(&format!("{start}{word}"), &" ".repeat(10), 10, &text)
}

/// Findings of one rule in a line: the first of them, and the names of the others.
pub(super) fn several_in_a_line(finding: &Finding, others: &[&Finding], look: &Look) -> String {
    let mut out = in_a_line(finding, look);
    if !others.is_empty() {
        let subjects: Vec<String> = others.iter().take(MOST_WAITING).map(|other| other.subjects.join(", ")).collect();
        let more = if others.len() > MOST_WAITING { format!("; and {} more", others.len() - MOST_WAITING) } else { String::new() };
        out.push_str(&look.fact("as well", &format!("{}{more}", subjects.join("; "))));
    }
    out
}

/// `48 mm of 60 mm`, or what is said where nothing is measured.
fn sides(finding: &Finding) -> String {
    match (finding.demand.as_deref(), finding.capacity.as_deref()) {
        (Some(Measure { text: demand, .. }), Some(Measure { text: capacity, .. })) => format!("{demand} of {capacity}"),
        _ => finding.message.clone(),
    }
}

fn numbers(finding: &Finding) -> String {
    let ratio = finding.ratio.map_or_else(String::new, |ratio| format!(", {}", percent(ratio)));
    if finding.demand.is_some() && finding.capacity.is_some() { format!("{}{ratio}", sides(finding)) } else { finding.message.clone() }
}

/// `holddown.load_path (ne, ne_post)`
fn call(finding: &Finding) -> String {
    if finding.subjects.is_empty() { finding.rule.to_string() } else { format!("{} ({})", finding.rule, finding.subjects.join(", ")) }
}

/// Findings by name, those of one rule together: `holddown.load_path (ne; se), travel.margin (stop)`.
fn names(findings: &[&Finding]) -> String {
    let mut by_rule: Vec<(&str, Vec<String>)> = Vec::new();
    for finding in findings {
        let subjects = finding.subjects.join(", ");
        match by_rule.iter_mut().find(|(rule, _)| *rule == finding.rule) {
            Some((_, known)) => known.push(subjects),
            None => by_rule.push((&finding.rule, vec![subjects])),
        }
    }
    let one = |(rule, mut subjects): (&str, Vec<String>)| {
        let all = subjects.len();
        subjects.truncate(MOST_WAITING);
        let more = if all > MOST_WAITING { format!("; and {} more", all - MOST_WAITING) } else { String::new() };
        format!("{rule} ({}{more})", subjects.join("; "))
    };
    by_rule.into_iter().map(one).collect::<Vec<_>>().join(", ")
}

fn missing(line: &MissingLine) -> String {
    if line.property.is_empty() {
        format!("{}: {}", crate::problem::quoted_with_article(&line.component), line.doc)
    } else {
        format!("`{}` of {}: {}", line.property, line.component, line.doc)
    }
}

/// The lines to show: those of the person's own text (of the library only if there are no others), each
/// with whose line it is, and the tolerance that takes most of the margin.
fn places(finding: &Finding, checked: &Checked) -> Vec<Place> {
    let own = |place: &&Place| !place.span.file.is_built_in();
    let any_own = finding.places.iter().any(|place| own(&place));
    let mut places: Vec<Place> = Vec::new();
    for place in finding.places.iter().filter(|place| own(place) == any_own) {
        match places.iter_mut().find(|known| known.span == place.span) {
            Some(known) if known.label.is_empty() => known.label.clone_from(&place.label),
            Some(known) if place.label.is_empty() || known.label.contains(&place.label) => {}
            Some(known) => known.label = format!("{}, {}", known.label, place.label),
            None => places.push(place.clone()),
        }
    }
    if let Some(influence) = finding.influences.first().filter(|influence| !influence.place.span.file.is_built_in()) {
        let label = format!("its tolerance takes {}", influence.takes.text);
        match places.iter_mut().find(|place| place.span == influence.place.span) {
            Some(place) if place.label.is_empty() => place.label = label,
            Some(_) => {}
            None => places.push(Place { span: influence.place.span, label }),
        }
    }
    let lines: Vec<(FileId, u32)> = places.iter().map(|place| (place.span.file, line(checked, place.span))).collect();
    for place in &mut places {
        if place.label.is_empty()
            && let Some((owner, heading)) = owner(checked, place.span)
            // Where the heading is shown as well, it can be read there.
            && !lines.contains(&(heading.file, line(checked, heading)))
        {
            place.label = format!("of {owner}");
        }
    }
    places
}

fn line(checked: &Checked, span: Span) -> u32 {
    checked.session.sources.position(span).line
}

/// The component in whose block a line stands, and the block.
fn owner(checked: &Checked, span: Span) -> Option<(&str, Span)> {
    let (_, tree) = checked.session.trees.iter().find(|(file, _)| *file == span.file)?;
    let around = |outer: Span| outer.start <= span.start && span.end <= outer.end;
    let at = tree.items.partition_point(|item| item.span().start <= span.start).checked_sub(1)?;
    let changed = |changes: &'_ Changes| changes.components.iter().position(|change| around(change.span));
    match tree.items.get(at)? {
        Item::Component(block) | Item::Pattern(block) if around(block.span) => {
            Some((block.name.as_ref().unwrap_or(&block.kind).text.as_str(), block.span))
        }
        Item::Variant(Variant { changes, .. }) | Item::Measured(Measured { changes, .. }) => {
            let change = changes.components.get(changed(changes)?)?;
            Some((change.name.text.as_str(), change.span))
        }
        _ => None,
    }
}
