//! Calculation sheets: each rule with its formula, the numbers put in, the result and the source, on each of its parts.

use super::answer::numbers;
use super::page::{Page, Section, finding_mark, typeset};
use super::values;
use crate::rules::{Finding, Side, working};
use crate::values::Lack;
use maud::{Markup, html};

/// Values that a side is said to stand on.
const MOST_READ: usize = 12;

pub(super) fn section(page: &Page<'_>) -> Option<Section> {
    let findings = &page.checked.findings;
    if findings.is_empty() {
        return None;
    }
    let mut rules: Vec<(&str, Vec<&Finding>)> = Vec::new();
    for finding in findings {
        match rules.last_mut().filter(|(rule, _)| *rule == finding.rule) {
            Some((_, of)) => of.push(finding),
            None => rules.push((&finding.rule, vec![finding])),
        }
    }
    let mut areas: Vec<(&str, Vec<Vec<&Finding>>)> = Vec::new();
    for (_, of) in rules {
        let area = of.first().map(|finding| finding.area()).unwrap_or_default();
        match areas.iter_mut().find(|(known, _)| *known == area) {
            Some((_, rules)) => rules.push(of),
            None => areas.push((area, vec![of])),
        }
    }
    let body = html! {
        p { "For each rule: what is asked and what can be given, first as the formula, then with the numbers of each part, every line as it is written. Where tolerances count, the worst of them stands below. " a href="#values" { "Where each value comes from" } " is set out at the end, line by line." }
        @for (area, rules) in areas {
            details.area open {
                summary { h3 { (area) } }
                @for of in rules { (rule(page, &of)) }
            }
        }
    };
    Some(Section { id: "sheets", title: "Calculation sheets", body })
}

fn rule(page: &Page<'_>, findings: &[&Finding]) -> Markup {
    let Some(first) = findings.first() else { return html! {} };
    let sides: Vec<Vec<Side>> = findings.iter().map(|finding| working(&page.checked.session.evaluator, finding)).collect();
    html! {
        div.working id={ "rule-" (first.rule) } {
            h4 { (first.title) }
            p.meta {
                code { (first.rule) }
                @if let Some(state) = &first.state { " · " (state.of) " " (state.name) }
                @if first.advice { " · advice" }
                @if let Some(source) = &first.source { " · source: " (source) }
            }
            @if let Some(sides) = sides.first() {
                dl.formula { @for side in sides { div { dt { (word(side)) } dd { code { (page.formula(side.formula)) } } } } }
            }
            @for (finding, sides) in findings.iter().zip(&sides) { (binding(page, finding, sides)) }
        }
    }
}

fn word(side: &Side) -> &'static str {
    match side.word {
        "demand" => "Demand",
        "capacity" => "Capacity",
        _ => "Condition",
    }
}

fn binding(page: &Page<'_>, finding: &Finding, sides: &[Side]) -> Markup {
    html! {
        div.binding {
            h5 { (finding_mark(finding)) " " (finding.subjects.join(", ")) }
            @for side in sides { (self::side(page, side)) }
            p.message { (finding.message) }
            @if finding.nominal.is_some() || finding.ratio.is_some() { (numbers(page, finding)) }
        }
    }
}

fn side(page: &Page<'_>, side: &Side) -> Markup {
    let evaluator = &page.checked.session.evaluator;
    let worth = match &side.worth {
        Ok(value) => evaluator.show_value(value),
        Err(Lack::Missing(_)) => "not known: a line is missing".to_owned(),
        Err(Lack::Faulty) => "not known: a line that it stands on is wrong".to_owned(),
    };
    html! {
        div.side {
            span.word { (word(side)) }
            div {
                @if side.with_numbers != worth { p { "= " (typeset(&side.with_numbers)) } }
                p { "= " b.n { (worth) } }
                @if !side.reads.is_empty() {
                    p.reads { "from "
                        @for (at, node) in side.reads.iter().take(MOST_READ).enumerate() {
                            @if at > 0 { ", " } (values::link(page, *node))
                        }
                        @if side.reads.len() > MOST_READ { " and " (side.reads.len() - MOST_READ) " more" }
                    }
                }
            }
        }
    }
}
