//! The picture of everything: how much of its capacity each part uses, area by area, the fullest first.

use super::page::{Page, Section, finding_mark, measure};
use crate::output::Standing;
use crate::rules::Finding;
use crate::units::percent;
use maud::{Markup, html};

/// The bar reaches this far, in per cent of the capacity; what is over is cut there, with a point.
const REACH: f64 = 125.0;

pub(super) fn section(page: &Page<'_>) -> Option<Section> {
    let findings = &page.checked.findings;
    if findings.is_empty() {
        return None;
    }
    let mut areas: Vec<&str> = Vec::new();
    for finding in findings {
        if !areas.contains(&finding.area()) {
            areas.push(finding.area());
        }
    }
    let body = html! {
        p { "Each bar is what is asked of a part, as a share of what it can give, at the worst combination of the tolerances. The line marks all of it: a bar that crosses it does not hold." }
        (patterns())
        @for area in areas { (self::area(findings.iter().filter(|finding| finding.area() == area).collect(), area)) }
    };
    Some(Section { id: "used", title: "How much of everything is used", body })
}

/// Fills that differ in shape as well as in colour.
fn patterns() -> Markup {
    html! {
        svg.patterns width="0" height="0" aria-hidden="true" focusable="false" {
            defs {
                pattern id="p-fail" width="6" height="6" patternUnits="userSpaceOnUse" {
                    rect.fill-fail width="6" height="6" {} path.stripe d="M-1 7 7 -1 M-1 1 1 -1 M5 7 7 5" {}
                }
                pattern id="p-tight" width="6" height="6" patternUnits="userSpaceOnUse" {
                    rect.fill-tight width="6" height="6" {} path.stripe d="M3 0V6" {}
                }
                pattern id="p-accepted" width="6" height="6" patternUnits="userSpaceOnUse" {
                    rect.fill-accepted width="6" height="6" {} path.stripe d="M0 3H6" {}
                }
            }
        }
    }
}

fn area(mut findings: Vec<&Finding>, area: &str) -> Markup {
    let over = |finding: &Finding| if Standing::of(finding) == Standing::Fail { f64::INFINITY } else { finding.ratio.unwrap_or(-1.0) };
    findings.sort_by(|a, b| over(b).total_cmp(&over(a)));
    html! {
        div.scroll tabindex="0" role="group" aria-label={ "Checks of " (area) } {
            table.used {
                caption { (area) }
                thead { tr { th scope="col" { "Check" } th scope="col" { "Stands" } th scope="col" { "Demand of capacity" } th.bar scope="col" { "Used" } } }
                tbody {
                    @for (at, finding) in findings.iter().enumerate() {
                        @let again = at.checked_sub(1).and_then(|before| findings.get(before)).is_some_and(|before| before.rule == finding.rule);
                        (row(finding, again))
                    }
                }
            }
        }
    }
}

/// `again` where the row above is of the same rule: its title is not shown twice.
fn row(finding: &Finding, again: bool) -> Markup {
    let standing = Standing::of(finding);
    html! {
        tr class=(standing.word()) data-rule=(finding.rule) data-subjects=(finding.subjects.join(", ")) {
            th scope="row" {
                a href={ "#rule-" (finding.rule) } class=[again.then_some("again")] { (finding.title) }
                @if !finding.subjects.is_empty() { " " span.subjects { (finding.subjects.join(", ")) } }
            }
            td { (finding_mark(finding)) }
            @match (&finding.demand, &finding.capacity) {
                (Some(demand), Some(capacity)) => {
                    td.of { (measure(demand)) " of " (measure(capacity)) }
                    td.bar { @if let Some(ratio) = finding.ratio { (bar(ratio, standing)) span.n { (percent(ratio)) } } @else { "–" } }
                }
                _ => { td.says colspan="2" { (finding.message) } }
            }
        }
    }
}

fn bar(ratio: f64, standing: Standing) -> Markup {
    let share = 100.0 * ratio;
    let long = share.min(REACH);
    let fill = match standing {
        Standing::Pass | Standing::Undetermined => "fill-pass",
        Standing::Fail => "with-fail",
        Standing::Tight => "with-tight",
        Standing::Accepted => "with-accepted",
    };
    html! {
        svg.gauge viewBox={ "0 0 " (REACH) " 12" } preserveAspectRatio="none" aria-hidden="true" focusable="false" {
            rect.rail width=(REACH) height="12" {}
            @if share > REACH { path class=(fill) d={ "M0 1H" (REACH - 6.0) "L" (REACH) " 6L" (REACH - 6.0) " 11H0Z" } {} }
            @else { rect class=(fill) y="1" width=(format!("{long:.1}")) height="10" {} }
            path.full d="M100 0V12" {}
        }
    }
}
