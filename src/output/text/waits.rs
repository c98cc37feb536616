//! The lines that checks wait for, component by component: what a design that is only begun lacks.

use super::depth::Depth;
use super::look::{Look, Tone};
use crate::design::{Design, Entry};
use crate::output::Checked;
use crate::output::digest::position;
use crate::rules::Finding;
use crate::values::MissingLine;
use rustc_hash::FxHashMap;
use std::cmp::Reverse;
use std::fmt::Write;

/// Components, or groups of components that lack the same, that are listed.
const MOST_LISTED: usize = 30;
/// Printed lines of the list unless all is asked for.
const MOST_USUAL: usize = 10;
/// Components that are named where several lack the same lines.
const MOST_NAMES: usize = 6;
/// Lines in the column of names are at least this wide.
const COLUMN: usize = 16;

/// Lines that one component lacks, or several that lack the same.
struct Gap<'f> {
    components: Vec<&'f str>,
    /// The kind of the components; empty for kinds of which there is no component.
    kind: &'f str,
    lines: Vec<&'f MissingLine>,
    /// How many checks wait for one of them, at most.
    checks: usize,
}

/// What is missing, what most checks wait for first, and the first of it with its place: in brief it is only counted, usually
/// what most checks wait for is listed.
pub(super) fn list(findings: &[&Finding], checked: &Checked, look: &Look, depth: Depth) -> (String, Option<String>) {
    let brief = depth == Depth::Brief;
    let word = "undetermined";
    let start = format!("{}  ", look.paint(Tone::Open, word));
    let checks = if findings.len() == 1 { "1 check waits".to_owned() } else { format!("{} checks wait", findings.len()) };
    let hint = if brief { "" } else { " (`--all` shows each of them)" };
    let mut out = look.wrap(&start, "    ", word.len() + 2, &format!("{checks} for lines that are not written{hint}"));
    if brief {
        return (out, None);
    }
    let gaps = gaps(findings, checked.session.design());
    let mut room = if depth == Depth::Usual { MOST_USUAL } else { usize::MAX };
    let mut told = 0;
    for gap in gaps.iter().take(MOST_LISTED) {
        if room == 0 {
            break;
        }
        let before = out.len();
        told += gap.write(&mut out, checked, look, room);
        room = room.saturating_sub(out.get(before..).unwrap_or_default().lines().count());
    }
    let all: usize = gaps.iter().map(|gap| gap.lines.len()).sum();
    if all > told {
        let how = if depth == Depth::Usual { "; `--all` lists them" } else { "" };
        out.push_str(&look.paragraph(2, &format!("and {} more lines{how}", all - told)));
    }
    let first = gaps.first().and_then(|gap| Some(format!("{}{}", gap.place(checked, ": "), name_of(gap.lines.first()?, true))));
    (out, first)
}

/// `build_up`, or with its component `build_up of main_roof`; a component that is missing as a whole by its kind.
fn name_of(line: &MissingLine, whole: bool) -> String {
    match (line.property.is_empty(), whole) {
        (true, false) => line.component.to_string(),
        (true, true) => format!("there is no `{}`", line.component),
        (false, false) => line.property.to_string(),
        (false, true) => format!("`{}` of {} is not written", line.property, line.component),
    }
}

fn gaps<'f>(findings: &[&'f Finding], design: &'f Design) -> Vec<Gap<'f>> {
    let mut waiting: FxHashMap<&MissingLine, usize> = FxHashMap::default();
    // In the order in which the checks ask for them.
    let mut by_component: Vec<(&str, Vec<&MissingLine>)> = Vec::new();
    let mut at: FxHashMap<&str, usize> = FxHashMap::default();
    for line in findings.iter().flat_map(|finding| finding.missing.iter()).map(AsRef::as_ref) {
        let count = waiting.entry(line).or_default();
        *count += 1;
        if *count == 1 {
            // All components that are missing as a whole stand together.
            let owner = if line.property.is_empty() { "" } else { line.component.as_str() };
            let place = *at.entry(owner).or_insert_with(|| {
                by_component.push((owner, Vec::new()));
                by_component.len() - 1
            });
            if let Some((_, lines)) = by_component.get_mut(place) {
                lines.push(line);
            }
        }
    }
    let count = |line: &MissingLine| waiting.get(line).copied().unwrap_or(0);
    let mut gaps: Vec<Gap<'f>> = Vec::new();
    let mut alike: FxHashMap<(&str, Vec<&str>), usize> = FxHashMap::default();
    for (component, mut lines) in by_component {
        lines.sort_by_key(|line| Reverse(count(line)));
        let checks = lines.iter().map(|line| count(line)).max().unwrap_or(0);
        let kind = kind_of(design, component);
        let key = (kind, lines.iter().map(|line| line.property.as_str()).collect());
        match alike.get(&key).filter(|_| !kind.is_empty()).and_then(|at| gaps.get_mut(*at)) {
            Some(gap) => gap.components.push(component),
            None => {
                alike.entry(key).or_insert(gaps.len());
                gaps.push(Gap { components: vec![component], kind, lines, checks });
            }
        }
    }
    gaps.sort_by_key(|gap| Reverse(gap.checks));
    gaps
}

fn kind_of<'d>(design: &'d Design, component: &str) -> &'d str {
    // An element of an array is known by the array's name.
    match design.entry(component.split('[').next().unwrap_or(component)) {
        Some(Entry::Component(id) | Entry::Array(id, ..)) => design.kind_of(id).name.as_str(),
        _ => "",
    }
}

impl Gap<'_> {
    /// Where the first of its components stands, with something after it; empty where there is none.
    fn place(&self, checked: &Checked, after: &str) -> String {
        let design = checked.session.design();
        match self.components.first().and_then(|name| design.entry(name.split('[').next().unwrap_or(name))) {
            Some(Entry::Component(id) | Entry::Array(id, ..)) => {
                format!("{}{after}", position(&checked.session.sources, design.component(id).header))
            }
            _ => String::new(),
        }
    }

    /// Writes what it lacks, as long as there is room for another line; how many of its lines those are.
    fn write(&self, out: &mut String, checked: &Checked, look: &Look, room: usize) -> usize {
        let end = out.lines().count().saturating_add(room);
        let names: Vec<&str> = self.components.iter().take(MOST_NAMES).copied().collect();
        let mut heading = match (self.components.first(), self.kind) {
            (None | Some(&""), _) => "nothing is written of".to_owned(),
            // A kind of which there is one only needs no name.
            (Some(name), kind) if kind.is_empty() || *name == kind => (*name).to_owned(),
            (_, kind) => format!("{kind} {}", names.join(", ")),
        };
        if self.components.len() > names.len() {
            let _ = write!(heading, " and {} more", self.components.len() - names.len());
        }
        let place = self.place(checked, "");
        if !place.is_empty() {
            let _ = write!(heading, " ({place})");
        }
        out.push_str(&look.wrap("  ", "    ", 4, &heading));
        let column = self.lines.iter().map(|line| name_of(line, false).chars().count()).max().unwrap_or(0).max(COLUMN);
        let mut told = 0;
        for line in &self.lines {
            if told > 0 && out.lines().count() >= end {
                break;
            }
            told += 1;
            let name = name_of(line, false);
            if look.narrated || column + 6 > look.width / 2 {
                let doc = if line.doc.is_empty() { String::new() } else { format!(": {}", line.doc) };
                out.push_str(&look.wrap("    ", "      ", 6, &format!("{name}{doc}")));
            } else if line.doc.is_empty() {
                out.push_str(&look.paragraph(4, &name));
            } else {
                out.push_str(&look.wrap(&format!("    {name:<column$}  "), &" ".repeat(column + 6), column + 6, &line.doc));
            }
        }
        told
    }
}
