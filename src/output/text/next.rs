//! What next: the lines that most checks wait for, with how many that are, whether each has to be written, and how one comes to
//! its number.

use super::look::Look;
use crate::design::{Design, Entry};
use crate::output::Checked;
use crate::output::digest::{line_to_write, position};
use crate::rules::Finding;
use crate::values::MissingLine;
use rustc_hash::FxHashMap;
use std::cmp::Reverse;

/// Printed lines of the list, which is to leave room for the rest of an answer on one screen.
const MOST_PRINTED: usize = 11;
/// Components that are named where several lack the same line.
const MOST_NAMES: usize = 3;

/// One line of several components of a kind.
struct Wanted<'f> {
    line: &'f MissingLine,
    kind: &'f str,
    components: Vec<&'f str>,
    /// That wait for the one that most wait for.
    checks: usize,
}

/// The list, and the first line of it.
pub(super) fn list(findings: &[&Finding], checked: &Checked, look: &Look) -> (String, Option<String>) {
    let design = checked.session.design();
    let wanted = wanted(findings, design);
    let mut out = String::new();
    let mut told = 0;
    for one in &wanted {
        let text = one.written(design);
        let lines = look.wrap(&format!("  {:>6}  ", one.checks), &" ".repeat(10), 10, &text);
        if out.lines().count() + lines.lines().count() > MOST_PRINTED {
            break;
        }
        told += 1;
        out.push_str(&lines);
    }
    if told < wanted.len() {
        out.push_str(&look.paragraph(2, &format!("and {} more; `--all` lists them by component", wanted.len() - told)));
    }
    let first = wanted.first().map(|one| format!("{}{}", place_of(checked, &one.line.component, ": "), line_to_write(one.line)));
    (out, first)
}

fn wanted<'f>(findings: &[&'f Finding], design: &'f Design) -> Vec<Wanted<'f>> {
    let mut waiting: FxHashMap<&MissingLine, usize> = FxHashMap::default();
    // In the order in which the checks ask for them.
    let mut lines: Vec<&MissingLine> = Vec::new();
    for line in findings.iter().flat_map(|finding| finding.missing.iter()).map(AsRef::as_ref) {
        let count = waiting.entry(line).or_default();
        *count += 1;
        if *count == 1 {
            lines.push(line);
        }
    }
    let mut all: Vec<Wanted<'f>> = Vec::new();
    let mut alike: FxHashMap<(&str, &str), usize> = FxHashMap::default();
    for line in lines {
        let checks = waiting.get(line).copied().unwrap_or(0);
        let kind = kind_of(design, &line.component);
        let whole = line.property.is_empty() || kind.is_empty();
        match alike.get(&(kind, &*line.property)).filter(|_| !whole).and_then(|at| all.get_mut(*at)) {
            Some(one) => {
                one.components.push(&line.component);
                one.checks = one.checks.max(checks);
            }
            None => {
                alike.entry((kind, &line.property)).or_insert(all.len());
                all.push(Wanted { line, kind, components: vec![&line.component], checks });
            }
        }
    }
    all.sort_by_key(|one| Reverse(one.checks));
    all
}

impl Wanted<'_> {
    /// `mass of main_roof: weigh it …`, with how one comes to the number where that is known, else what it is.
    fn written(&self, design: &Design) -> String {
        if self.line.property.is_empty() {
            let doc = if self.line.doc.is_empty() { String::new() } else { format!(": {}", self.line.doc) };
            return format!("{}{doc}", crate::problem::quoted_with_article(&self.line.component));
        }
        let kind = design.kind_named(self.kind).map(|id| design.kind(id));
        let declared = kind.and_then(|kind| kind.properties.get(kind.property(&self.line.property)?));
        let may = if declared.is_some_and(|property| property.required) { "required" } else { "optional" };
        let mut names = self.components.iter().take(MOST_NAMES).copied().collect::<Vec<_>>().join(", ");
        if self.components.len() > MOST_NAMES {
            names = format!("{names} and {} more", self.components.len() - MOST_NAMES);
        }
        let found = declared.and_then(|property| property.found.as_deref()).unwrap_or(&self.line.doc);
        let how = if found.is_empty() { String::new() } else { format!(": {found}") };
        format!("`{}` of {names} ({may}){how}", self.line.property)
    }
}

/// The kind of a component by its name; empty where there is none of that name.
pub(super) fn kind_of<'d>(design: &'d Design, component: &str) -> &'d str {
    // An element of an array is known by the array's name.
    match design.entry(component.split('[').next().unwrap_or(component)) {
        Some(Entry::Component(id) | Entry::Array(id, ..)) => design.kind_of(id).name.as_str(),
        _ => "",
    }
}

/// Where a component stands, with something after it; empty where there is none of that name.
pub(super) fn place_of(checked: &Checked, component: &str, after: &str) -> String {
    let design = checked.session.design();
    match design.entry(component.split('[').next().unwrap_or(component)) {
        Some(Entry::Component(id) | Entry::Array(id, ..)) => {
            format!("{}{after}", position(&checked.session.sources, design.component(id).header))
        }
        _ => String::new(),
    }
}
