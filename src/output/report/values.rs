//! Where each value comes from: formula, numbers put in, result, source and line, each value once, part by part.

use super::page::{Page, Section, typeset};
use crate::design::{NodeId, NodeKind};
use crate::rules::working;
use crate::values::{Lack, Outcome, Step, Value};
use maud::{Markup, html};
use rustc_hash::FxHashSet;
use std::collections::BTreeSet;

/// A value longer than this is cut: nobody reads a list of three hundred angles.
const LONGEST: usize = 220;

pub(super) fn section(page: &Page<'_>) -> Option<Section> {
    let all = stood_on(page);
    if all.is_empty() {
        return None;
    }
    let design = page.checked.session.design();
    // By part, in the order in which the design numbers them.
    let mut parts: Vec<(String, Vec<NodeId>)> = Vec::new();
    for node in all {
        let part = match design.node_kind(node) {
            NodeKind::Named(_) => "Named values".to_owned(),
            NodeKind::Property(id, _) => {
                let component = design.component(id);
                let title = component.title.as_ref().map_or_else(String::new, |title| format!(", {title}"));
                format!("{} {}{title}", design.kind(component.kind).name, component.name)
            }
        };
        match parts.last_mut().filter(|(known, _)| *known == part) {
            Some((_, nodes)) => nodes.push(node),
            None => parts.push((part, vec![node])),
        }
    }
    // The design's own parts before what they are made of.
    parts.sort_by_key(|(_, nodes)| nodes.first().is_some_and(|node| is_of_the_library(page, *node)));
    let body = html! {
        p { "Every value that a check stands on. A formula comes from the trade library or from the design's own line; below it the numbers put in, then the result, with its source and the line that it stands in." }
        @for (part, nodes) in parts {
            details.part {
                summary { h3 { (part) } }
                dl.values { @for node in nodes { (value(page, node)) } }
            }
        }
    };
    Some(Section { id: "values", title: "Where each value comes from", body })
}

fn is_of_the_library(page: &Page<'_>, node: NodeId) -> bool {
    let design = page.checked.session.design();
    match design.node_kind(node) {
        NodeKind::Property(id, _) => design.component(id).span.file.is_built_in(),
        NodeKind::Named(_) => false,
    }
}

/// All values below the checks, in the order of the design.
fn stood_on(page: &Page<'_>) -> BTreeSet<NodeId> {
    let evaluator = &page.checked.session.evaluator;
    let mut waiting: Vec<NodeId> =
        page.checked.findings.iter().flat_map(|finding| working(evaluator, finding)).flat_map(|side| side.reads).collect();
    let mut seen: FxHashSet<NodeId> = FxHashSet::default();
    while let Some(node) = waiting.pop() {
        if seen.insert(node) {
            waiting.extend(evaluator.reads(node).iter().copied());
        }
    }
    // A link is no number: it can be read in the design.
    let is_link = |node: &NodeId| match evaluator.known(*node) {
        Some(Ok(Value::Component(_))) => true,
        Some(Ok(Value::List(items))) => matches!(items.first(), Some(Value::Component(_))),
        _ => false,
    };
    seen.into_iter().filter(|node| !is_link(node)).collect()
}

/// The value's name, leading to where it is set out.
pub(super) fn link(page: &Page<'_>, node: NodeId) -> Markup {
    let name = page.checked.session.design().node_name(node);
    let is_link = matches!(page.checked.session.evaluator.known(node), Some(Ok(Value::Component(_))));
    html! { @if is_link { code { (name) } } @else { a href={ "#v" (node.0) } { code { (name) } } } }
}

fn value(page: &Page<'_>, node: NodeId) -> Markup {
    let step = page.checked.session.evaluator.step_alone(node);
    let worth = worth(page, &step.value);
    let numbers =
        step.with_numbers.as_ref().filter(|numbers| step.formula.is_some_and(|span| page.formula(span) != **numbers) && **numbers != worth);
    html! {
        div id={ "v" (node.0) } {
            dt { code { (step.name) } @if !step.doc.is_empty() { " " span.doc { (step.doc) } } }
            dd {
                @if let Some(span) = step.formula { p.formula { "= " code { (page.formula(span)) } } }
                @if let Some(numbers) = numbers { p { "= " (typeset(numbers)) } }
                p { "= " b { (worth) } " " span.where { (page.place(step.formula.unwrap_or(step.span))) } }
                (notes(&step))
            }
        }
    }
}

fn notes(step: &Step) -> Markup {
    html! {
        @if let Some(because) = &step.assumed { p.note { b { "Assumed: " } (because) } }
        @if let Some(origin) = &step.origin { p.note { (origin) } }
        @if let Some(source) = &step.source { p.note { "Source: " (source) } }
    }
}

fn worth(page: &Page<'_>, outcome: &Outcome) -> String {
    match outcome {
        Ok(value) => brief(page.checked.session.evaluator.show_value(value)),
        Err(Lack::Missing(_)) => "not known: a line is missing".to_owned(),
        Err(Lack::Faulty) => "not known: a line that it stands on is wrong".to_owned(),
    }
}

fn brief(text: String) -> String {
    match text.char_indices().nth(LONGEST) {
        Some((at, _)) => format!("{}…", text.get(..at).unwrap_or(&text)),
        None => text,
    }
}
