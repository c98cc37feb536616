//! What the answer stands on and who has to look at it: assumptions, cautions, reviews.

use super::page::{Page, Section};
use crate::design::PaperSort;
use crate::output::Standing;
use crate::output::digest;
use crate::papers::row::rows;
use crate::rules::matrix;
use maud::html;

pub(super) fn assumed(page: &Page<'_>) -> Option<Section> {
    let assumptions = digest::assumptions(&page.checked.findings);
    let guesses = digest::guesses(&page.checked.findings);
    if assumptions.is_empty() && guesses.is_empty() {
        return None;
    }
    let body = html! {
        @if !guesses.is_empty() {
            p { "Nobody has weighed or measured these yet: the lines say so. What decides most stands first." }
            div.scroll tabindex="0" role="group" aria-label="Guesses" {
                table.plain {
                    thead { tr { th scope="col" { "Line" } th scope="col" { "Guessed as" } th scope="col" { "Checks on it" } th scope="col" { "Of them fail or are tight" } } }
                    tbody {
                        @for one in &guesses {
                            tr { th scope="row" { code { (one.guess.name) } } td.n { (one.guess.value) } td.n { (one.checks) } td.n { (one.close) } }
                        }
                    }
                }
            }
        }
        p {
            "No line of the design says these things; a habit of the trade stands in for each. If one of them is not so with you, write the line. "
            "Those on which a check on what can hurt somebody stands come first: " (assumptions.iter().filter(|one| one.grave).count()) " of " (assumptions.len()) "."
        }
        div.scroll tabindex="0" role="group" aria-label="Assumptions" {
            table.plain.assumed {
                thead { tr { th scope="col" { "Line" } th scope="col" { "Taken as" } th scope="col" { "Because" } th scope="col" { "Of" } } }
                tbody {
                    @for one in &assumptions {
                        tr { th scope="row" { code { (one.property) } } td.n { (one.value) } td { (one.because) } td { (one.names.join(", ")) } }
                    }
                }
            }
        }
    };
    Some(Section { id: "assumed", title: "What was assumed", body })
}

pub(super) fn cautions(page: &Page<'_>) -> Option<Section> {
    let cautions = digest::cautions(&page.checked.findings);
    if cautions.is_empty() {
        return None;
    }
    let body = html! { ul.cautions { @for caution in cautions { li { (caution) } } } };
    Some(Section { id: "cautions", title: "Cautions", body })
}

pub(super) fn reviews(page: &Page<'_>) -> Option<Section> {
    let rows = rows(&page.checked.session.evaluator, page.content.papers, PaperSort::Review);
    if rows.is_empty() {
        return None;
    }
    let findings = &page.checked.findings;
    let of = |areas: &[String]| findings.iter().filter(|finding| areas.iter().any(|area| area == finding.area())).collect::<Vec<_>>();
    let body = html! {
        p { "What this report finds early is theirs to judge, and so is what it does not find." }
        div.scroll tabindex="0" role="group" aria-label="Who has to look at it" {
            table.plain {
                thead { tr { th scope="col" { "Who" } th scope="col" { "At what" } th scope="col" { "In this report" } } }
                tbody {
                    @for row in &rows {
                        @let areas = row.paper.line("areas").map(|line| words(line)).unwrap_or_default();
                        @let their = of(&areas);
                        @let open = their.iter().filter(|finding| !matches!(Standing::of(finding), Standing::Pass)).count();
                        tr {
                            th scope="row" { (row.paper.title) }
                            td { (row.text("looks_at").ok().flatten().unwrap_or_default()) }
                            td { (areas.join(", ")) ": " (their.len()) " for them to look at" @if open > 0 { ", " (open) " of them not clear" } }
                        }
                    }
                }
            }
        }
        p.meta { @for row in &rows { @if let Ok(Some(source)) = row.text("source") { (row.paper.title) ": " (source) ". " } } }
    };
    Some(Section { id: "reviews", title: "Who has to look at it", body })
}

/// The bare words of a line: `holddown, structure`.
fn words(line: &crate::syntax::tree::Expr) -> Vec<String> {
    use crate::syntax::tree::Node;
    match &line.node {
        Node::Name(word) => vec![word.to_string()],
        Node::List(items) => items.iter().flat_map(words).collect(),
        _ => Vec::new(),
    }
}

/// The states of the roof, and what was looked at in each.
pub(super) fn states(page: &Page<'_>) -> Option<Section> {
    let cells = matrix::cells(&page.checked.session.design().states, &page.checked.findings, &page.checked.not_begun);
    if cells.is_empty() || page.checked.findings.is_empty() {
        return None;
    }
    let body = html! {
        p { "In each state, what was looked at and by how many rules; the others found nothing of theirs to look at. What was not says why: it is for others to look at." }
        div.scroll tabindex="0" role="group" aria-label="States and actions" {
            table.plain {
                thead { tr { th scope="col" { "State" } th scope="col" { "Action" } th scope="col" { "Looked at" } } }
                tbody {
                    @for cell in &cells {
                        tr {
                            th scope="row" { (cell.state.replace('_', " ")) }
                            td { (cell.action.replace('_', " ")) }
                            td { @match cell.standing {
                                matrix::Standing::Checked => { "by " (cell.answered) @if cell.answered < cell.rules.len() { " of " (cell.rules.len()) } @if cell.rules.len() == 1 { " rule" } @else { " rules" } }
                                matrix::Standing::Open => { "open: it waits for lines" }
                                matrix::Standing::NotChecked => { "not checked: " (cell.why) }
                            } }
                        }
                    }
                }
            }
        }
    };
    Some(Section { id: "states", title: "What was looked at, and what was not checked", body })
}
