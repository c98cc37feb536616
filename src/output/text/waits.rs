//! The lines that checks wait for, component by component: what a design that is only begun lacks.

use super::depth::Depth;
use super::look::{Look, Tone};
use super::next::{self, kind_of, place_of};
use crate::design::Design;
use crate::output::Checked;
use crate::output::digest::line_to_write;
use crate::rules::Finding;
use crate::values::MissingLine;
use rustc_hash::FxHashMap;
use std::cmp::Reverse;
use std::fmt::Write;

/// Components, or groups of components that lack the same, that are listed.
const MOST_LISTED: usize = 30;
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
    let hint = if depth == Depth::Usual { "; first the lines that most of them wait for, with how many do" } else { "" };
    let mut out = look.wrap(&start, "    ", word.len() + 2, &format!("{checks} for lines that are not written{hint}"));
    if brief {
        return (out, None);
    }
    if depth == Depth::Usual {
        let (text, first) = next::list(findings, checked, look);
        return (out + &text, first);
    }
    let gaps = gaps(findings, checked.session.design());
    let mut told = 0;
    for gap in gaps.iter().take(MOST_LISTED) {
        gap.write(&mut out, checked, look);
        told += gap.lines.len();
    }
    let all: usize = gaps.iter().map(|gap| gap.lines.len()).sum();
    if all > told {
        out.push_str(&look.paragraph(2, &format!("and {} more lines", all - told)));
    }
    let first = gaps
        .first()
        .and_then(|gap| Some(format!("{}{}", place_of(checked, gap.components.first()?, ": "), line_to_write(gap.lines.first()?))));
    (out, first)
}

/// `build_up`; a component that is missing as a whole by its kind.
fn name_of(line: &MissingLine) -> &str {
    if line.property.is_empty() { &line.component } else { &line.property }
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

impl Gap<'_> {
    /// Writes what it lacks.
    fn write(&self, out: &mut String, checked: &Checked, look: &Look) {
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
        let place = self.components.first().map_or_else(String::new, |name| place_of(checked, name, ""));
        if !place.is_empty() {
            let _ = write!(heading, " ({place})");
        }
        out.push_str(&look.wrap("  ", "    ", 4, &heading));
        let column = self.lines.iter().map(|line| name_of(line).chars().count()).max().unwrap_or(0).max(COLUMN);
        for line in &self.lines {
            let name = name_of(line);
            if look.narrated || column + 6 > look.width / 2 {
                let doc = if line.doc.is_empty() { String::new() } else { format!(": {}", line.doc) };
                out.push_str(&look.wrap("    ", "      ", 6, &format!("{name}{doc}")));
            } else if line.doc.is_empty() {
                out.push_str(&look.paragraph(4, name));
            } else {
                out.push_str(&look.wrap(&format!("    {name:<column$}  "), &" ".repeat(column + 6), column + 6, &line.doc));
            }
        }
    }
}
