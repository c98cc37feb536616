//! First the answer: what fails, what is not known, what is tight; the line of the design, and what would have to change.

use super::page::{Page, Section, finding_mark, measure, standing_mark};
use crate::output::digest::{in_order, lacking, position, state, waiting_alike, worst};
use crate::output::{Standing, Summary};
use crate::problem::{Place, Severity};
use crate::rules::Finding;
use crate::trade::says::{LAST_WORD, NOT_CHECKED};
use crate::units::percent;
use maud::{Markup, html};

/// Findings of one standing that are set out in full; the picture of everything has the others.
const MOST_SHOWN: usize = 60;
/// Checks that are named where several wait for the same lines.
const MOST_NAMED: usize = 12;

pub(super) fn section(page: &Page<'_>) -> Section {
    let checked = page.checked;
    let summary = checked.summary();
    let errors = checked.problems.iter().filter(|problem| problem.severity == Severity::Error).count();
    let body = html! {
        div class={ "verdict " (worst(&summary, errors).word()) } {
            p { (state(&summary, &checked.findings, errors)) }
            p.is_not { (LAST_WORD) " " (NOT_CHECKED) }
        }
        (tally(&summary))
        (not_begun(&summary))
        (problems(page))
        @for (standing, title) in [
            (Standing::Fail, "What fails"),
            (Standing::Undetermined, "What is not known"),
            (Standing::Tight, "What is tight"),
            (Standing::Accepted, "What was taken on"),
        ] { (group(page, standing, title)) }
    };
    Section { id: "answer", title: "The answer", body }
}

fn tally(summary: &Summary) -> Markup {
    html! {
        ul.tally {
            @for standing in [Standing::Fail, Standing::Undetermined, Standing::Tight, Standing::Accepted, Standing::Pass] {
                li class=[(summary.count(standing) == 0).then_some("none")] { b { (summary.count(standing)) } " " (standing_mark(standing)) }
            }
        }
    }
}

fn not_begun(summary: &Summary) -> Markup {
    html! {
        @if !summary.not_begun.is_empty() {
            h3 { "What is not begun" }
            p { "A whole building has this too; until it is written nothing of it is checked." }
            ul { @for one in &summary.not_begun { li { (lacking(one)) } } }
        }
    }
}

fn problems(page: &Page<'_>) -> Markup {
    let problems = &page.checked.problems;
    html! {
        @if !problems.is_empty() {
            h3 { "Mistakes in the text" }
            @for problem in problems.iter().take(MOST_SHOWN) {
                article.finding.fail {
                    h4 { (problem.message) }
                    (lines(page, &problem.places))
                    @if let Some(help) = &problem.help { (change(help)) }
                }
            }
            (more(problems.len(), MOST_SHOWN))
        }
    }
}

fn group(page: &Page<'_>, standing: Standing, title: &str) -> Markup {
    let found = in_order(&page.checked.findings, standing);
    let mut groups = if standing == Standing::Undetermined {
        waiting_alike(&found)
    } else {
        found.iter().map(|finding| (*finding, Vec::new())).collect()
    };
    if standing == Standing::Undetermined {
        groups.sort_by_key(|(finding, others)| (finding.caution.is_none(), std::cmp::Reverse(others.len())));
    }
    html! {
        @if !groups.is_empty() {
            h3 { (title) }
            @for (finding, others) in groups.iter().take(MOST_SHOWN) { (shown(page, finding, others)) }
            (more(groups.len(), MOST_SHOWN))
        }
    }
}

fn more(all: usize, shown: usize) -> Markup {
    html! { @if all > shown { p { "And " (all - shown) " more." } } }
}

fn shown(page: &Page<'_>, finding: &Finding, others: &[&Finding]) -> Markup {
    let standing = Standing::of(finding);
    html! {
        article class={ "finding " (standing.word()) } data-rule=(finding.rule) data-subjects=(finding.subjects.join(", ")) {
            h4 {
                (finding_mark(finding)) " " (finding.title)
                @if !finding.subjects.is_empty() { " " span.subjects { (finding.subjects.join(", ")) } }
            }
            p.message { (finding.message) @if finding.advice && !finding.advice_not_met { " (advice, not a requirement)" } }
            @if let Some(accepted) = &finding.accepted {
                p {
                    "Taken on because “" (accepted.because) "”, "
                    @match accepted.until { Some(day) => { "until " (day) } None => { "for good" } }
                    @if let Some(lapsed) = &accepted.lapsed { ". No longer: " (lapsed) } "."
                }
            }
            (lines(page, &finding.places))
            @if let Some(help) = &finding.help { (change(help)) }
            @for line in finding.missing.iter().skip(1) {
                p.change { b { "And: " }
                    @if line.property.is_empty() { "write a " code { (line.component) } " block: " (line.doc) }
                    @else { "add a line " code { (line.property) " …" } " to " (line.component) ": " (line.doc) }
                }
            }
            (numbers(page, finding))
            @if !others.is_empty() {
                p { "As well: "
                    @for (at, other) in others.iter().take(MOST_NAMED).enumerate() {
                        @if at > 0 { "; " } (other.title) @if !other.subjects.is_empty() { " (" (other.subjects.join(", ")) ")" }
                    }
                    @if others.len() > MOST_NAMED { "; and " (others.len() - MOST_NAMED) " more" } "."
                }
            }
            @if let Some(caution) = &finding.caution { p.caution { b { "Caution: " } (caution) "." } }
            p.meta { a href={ "#rule-" (finding.rule) } { code { (finding.rule) } } @if let Some(state) = &finding.state { " · " (state.of) " " (state.name) } }
        }
    }
}

fn change(help: &str) -> Markup {
    html! { p.change { b { "What would have to change: " } (help) "." } }
}

/// Demand and capacity at the worst of the tolerances, and as written where that differs.
pub(super) fn numbers(page: &Page<'_>, finding: &Finding) -> Markup {
    let (Some(demand), Some(capacity)) = (&finding.demand, &finding.capacity) else { return html! {} };
    let nominal = finding.nominal.as_deref().filter(|(d, c)| d.text != demand.text || c.text != capacity.text);
    let worst = if nominal.is_some() { " at worst" } else { "" };
    html! {
        dl.numbers {
            div { dt { "Demand" } dd { (measure(demand)) (worst) @if let Some((d, _)) = nominal { ", " (measure(d)) " as written" } } }
            div { dt { "Capacity" } dd { (measure(capacity)) (worst) @if let Some((_, c)) = nominal { ", " (measure(c)) " as written" } } }
            @if let Some(ratio) = finding.ratio { div { dt { "Used" } dd { span.n { (percent(ratio)) } } } }
            @for influence in finding.influences.iter().take(3) {
                div { dt { "Tolerance" } dd { "of " (influence.name) " takes " (measure(&influence.takes)) " (" (position(&page.checked.session.sources, influence.place.span)) ")" } }
            }
        }
    }
}

/// The lines of the design, with what stands in them.
fn lines(page: &Page<'_>, places: &[Place]) -> Markup {
    let own: Vec<&Place> = places.iter().filter(|place| !place.span.file.is_built_in()).collect();
    html! {
        @if !own.is_empty() {
            ul.lines {
                @for place in own {
                    li {
                        span.where { (page.place(place.span)) }
                        code { (page.line(place.span).trim_start()) }
                        @if !place.label.is_empty() { span.label { (place.label) } }
                    }
                }
            }
        }
    }
}
