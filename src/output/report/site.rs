//! What goes from the report to the shop, the site and the wall: how the parts behave, what to buy, the order of work, the cards.

use super::page::{Page, Section};
use crate::output::lists::{self, names, remark, title_of, visit_title};
use crate::papers::takeoff::{Cutting, Group};
use crate::papers::unknown::Unknown;
use crate::trade::says;
use maud::{Markup, html};

pub(super) fn accounts(page: &Page<'_>) -> Option<Section> {
    let accounts = page.content.accounts;
    if accounts.parts.is_empty() && accounts.unknown.is_empty() {
        return None;
    }
    let body = html! {
        @for part in &accounts.parts {
            h3 { (part.heading) }
            @if part.numbered {
                ol { @for line in &part.lines { li { (line) } } }
            } @else {
                ul { @for line in &part.lines { li { (line) } } }
            }
        }
        (not_known(&accounts.unknown))
        p { (says::MORE_ACCOUNTS) }
    };
    Some(Section { id: "behaves", title: "How it behaves", body })
}

pub(super) fn takeoff(page: &Page<'_>) -> Option<Section> {
    let takeoff = page.content.takeoff;
    if takeoff.groups.is_empty() && takeoff.unknown.is_empty() {
        return None;
    }
    let body = html! {
        @for group in &takeoff.groups { (to_buy(group)) }
        (not_known(&takeoff.unknown))
        p { (lists::total(takeoff)) }
    };
    Some(Section { id: "takeoff", title: "What to buy", body })
}

fn to_buy(group: &Group) -> Markup {
    html! {
        h3 { (group.name) }
        div.scroll tabindex="0" role="group" aria-label=(group.name) {
            table.plain {
                thead { tr { th scope="col" { "Buy" } th scope="col" { "Of" } th scope="col" { "For" } th scope="col" { "Cost" } th scope="col" { "Note" } } }
                tbody {
                    @for line in &group.lines {
                        tr {
                            td.n { (lists::buy(line)) }
                            th scope="row" { (line.item) }
                            td { (lists::uses(line)) @if let Some(cutting) = &line.cutting { (cuts(cutting)) } }
                            td.n { @if let Some(cost) = line.cost { (lists::money(cost)) } }
                            td { @for note in line.notes.iter().chain(&line.cautions) { (note) " " } }
                        }
                    }
                }
            }
        }
    }
}

/// The list to cut by.
fn cuts(cutting: &Cutting) -> Markup {
    html! {
        ul.cuts {
            @for bars in &cutting.bars { li { (lists::cuts(bars)) } }
            @for cut in &cutting.too_long { li { (lists::to_order(cut)) } }
        }
        p.meta { (lists::verdict(cutting)) }
    }
}

pub(super) fn order(page: &Page<'_>) -> Option<Section> {
    let sequence = page.content.sequence;
    if sequence.steps.is_empty() && sequence.unknown.is_empty() && sequence.circle.is_none() {
        return None;
    }
    let body = html! {
        @if let Some(circle) = &sequence.circle { p.meta { (circle.message) ": there is no order of work until it is mended" } }
        @for line in lists::summary(sequence) { p { (line) } }
        @for visit in &sequence.visits {
            @let title = format!("{}, {}", lists::day(visit.start, None), visit_title(visit));
            h3 { (title) }
            div.scroll tabindex="0" role="group" aria-label=(title) {
                table.plain {
                    thead { tr { th scope="col" { "Step" } th scope="col" { "Takes" } th scope="col" { "After" } th scope="col" { "Measure before going on" } th scope="col" { "Note" } } }
                    tbody {
                        @for (at, step) in sequence.steps.iter().enumerate().skip(visit.steps.start).take(visit.steps.len()) {
                            tr {
                                th scope="row" { (at + 1) ". " (title_of(step)) @for does in &step.does { br; (remark(does)) } }
                                td { (lists::takes(step)) }
                                td { (lists::waits(sequence, step).unwrap_or_default()) }
                                td { @for (at, hold) in step.holds.iter().enumerate() { @if at > 0 { br; } (remark(hold)) } }
                                td { @for note in step.notes.iter().chain(&step.cautions) { (note) " " } }
                            }
                        }
                    }
                }
            }
        }
        (not_known(&sequence.unknown))
    };
    Some(Section { id: "order", title: "Order of work", body })
}

pub(super) fn cards(page: &Page<'_>) -> Option<Section> {
    let cards = page.content.cards;
    if cards.cards.is_empty() && cards.unknown.is_empty() {
        return None;
    }
    let body = html! {
        p { code { "wallplate cards" } " " (says::CARDS_FOR) }
        @for card in &cards.cards {
            h3 { (card.name) }
            ul.cautions {
                @for line in &card.lines { li { (line.says) } }
            }
            @for caution in lists::cautions(card) { p.meta { "Caution: " (caution) } }
        }
        (not_known(&cards.unknown))
    };
    Some(Section { id: "cards", title: says::CARDS_TITLE, body })
}

fn not_known(unknown: &[Unknown]) -> Markup {
    html! {
        @if !unknown.is_empty() {
            h3 { "Not known" }
            ul.cautions { @for one in unknown { li { (one.what) @if !one.of.is_empty() { " (" (names(&one.of)) ")" } ": " (one.help()) } } }
        }
    }
}
