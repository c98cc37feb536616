//! What is shown at the end of a line while it is written: what its expression is worth, and what is
//! asked of it beside what it can give.

use super::desk::{Desk, Written, item_span};
use crate::rules::{Finding, Verdict};
use crate::syntax::tree::{Expr, Item, Node, Unary};
use crate::text::{FileId, Span};
use crate::units;
use rustc_hash::FxHashMap;

/// A value longer than this is not shown at the end of a line.
const LONGEST: usize = 60;
/// Checks that are shown at the end of one line.
const MOST_CHECKS: usize = 2;

/// A text at the end of a line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hint {
    /// Behind which byte it stands.
    pub at: Span,
    /// What is shown.
    pub text: String,
    /// More about it.
    pub more: String,
}

/// The hints of the lines between two offsets.
#[must_use]
pub fn hints(desk: &Desk, file: FileId, start: u32, end: u32) -> Vec<Hint> {
    let mut checks: FxHashMap<Span, Vec<&Finding>> = FxHashMap::default();
    for finding in desk.findings() {
        let place = finding.places.iter().find(|place| !place.span.file.is_built_in());
        if let Some(place) = place.filter(|_| finding.demand.is_some()) {
            checks.entry(place.span).or_default().push(finding);
        }
    }
    let mut found = Vec::new();
    let mut line = |written: Written<'_>, span: Span, value: &Expr| {
        let place = desk.sources().settle(span);
        if place.end < start || place.start > end {
            return;
        }
        let mut texts = Vec::new();
        let mut more = Vec::new();
        if !is_plain(value)
            && let Some(text) = worth(desk, written)
        {
            texts.push(format!("= {text}"));
        }
        if let Some(findings) = checks.get(&span) {
            let mut findings = findings.clone();
            findings.sort_by(|a, b| b.verdict.cmp(&a.verdict).then(b.ratio.unwrap_or(0.0).total_cmp(&a.ratio.unwrap_or(0.0))));
            for finding in findings.into_iter().take(MOST_CHECKS) {
                // What holds and has no share in what can be given says nothing beside a line: `-1.9 kN of 0 N`.
                let tells = finding.ratio.is_some() || finding.verdict != Verdict::Pass;
                if let (Some(demand), Some(capacity), true) = (&finding.demand, &finding.capacity, tells) {
                    let share = finding.ratio.map_or_else(String::new, |ratio| format!(" ({})", units::percent(ratio)));
                    let verdict = if finding.verdict == Verdict::Pass { "" } else { finding.verdict.word() };
                    let text = format!("{verdict} {} of {}{share}", demand.text, capacity.text).trim_start().to_owned();
                    // A pattern's line stands for several that may come to the same.
                    if !texts.contains(&text) {
                        texts.push(text);
                    }
                    more.push(format!("{}: {}", finding.rule, finding.message));
                }
            }
        }
        if !texts.is_empty() {
            found.push(Hint { at: span.after(), text: texts.join(" · "), more: more.join("\n") });
        }
    };
    for item in desk.items(file) {
        let span = desk.sources().settle(item_span(item));
        if span.end < start || span.start > end {
            continue;
        }
        match item {
            Item::Let(named) => line(Written::Let(named), named.span, &named.value),
            Item::Component(block) | Item::Pattern(block) => {
                block.lines.iter().for_each(|one| line(Written::Line(block, one), one.span, &one.value));
            }
            _ => {}
        }
    }
    found
}

/// What a line is worth; of an array or a pattern the first and the last.
fn worth(desk: &Desk, written: Written<'_>) -> Option<String> {
    let nodes = desk.nodes(written);
    let show = |at: &(crate::design::NodeId, Option<crate::design::ComponentId>)| {
        let value = desk.session().evaluator.known(at.0)?.ok()?;
        Some(desk.session().evaluator.show_value(&value))
    };
    let first = show(nodes.first()?)?;
    let last = show(nodes.last()?)?;
    let text = if first == last { first } else { format!("{first} … {last}") };
    (text.chars().count() <= LONGEST).then_some(text)
}

/// Whether the line says its value itself.
fn is_plain(expr: &Expr) -> bool {
    match &expr.node {
        Node::Quantity(_) | Node::Text(_) | Node::Flag(_) | Node::Date(_) | Node::Index(..) => true,
        // A name is a component or a choice, or stands for a number that its own line shows.
        Node::Name(_) => true,
        Node::Tolerance { value, .. } => is_plain(value),
        Node::Unary(Unary::Negate, of) => is_plain(of),
        Node::List(items) | Node::Size(items) => items.iter().all(is_plain),
        Node::Range(a, b) => is_plain(a) && is_plain(b),
        _ => false,
    }
}
