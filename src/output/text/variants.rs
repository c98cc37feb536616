//! The variants of a design side by side: what differs between them, and what does not hold in one of them.

use super::look::{Look, Tone};
use crate::output::{Checked, Standing};
use crate::rules::Finding;
use crate::units::percent;
use rustc_hash::FxHashMap;
use std::fmt::Write;

/// Rows of the table.
const MOST_ROWS: usize = 60;

/// A table with a row for each check and a column for each of the designs.
#[must_use]
pub fn side_by_side(designs: &[(String, Checked)], look: &Look) -> String {
    let mut rows: Vec<(String, Vec<Option<&Finding>>)> = Vec::new();
    let mut known: FxHashMap<(&str, &[smol_str::SmolStr]), usize> = FxHashMap::default();
    for (column, (_, checked)) in designs.iter().enumerate() {
        for finding in &checked.findings {
            let key = (finding.rule.as_str(), finding.subjects.as_slice());
            let at = *known.entry(key).or_insert_with(|| {
                let subjects = if finding.subjects.is_empty() { String::new() } else { format!(" ({})", finding.subjects.join(", ")) };
                rows.push((format!("{}{subjects}", finding.rule), vec![None; designs.len()]));
                rows.len() - 1
            });
            if let Some(cell) = rows.get_mut(at).and_then(|(_, cells)| cells.get_mut(column)) {
                *cell = Some(finding);
            }
        }
    }
    let all = rows.len();
    rows.retain(|(_, cells)| {
        let first = cells.first().map(|cell| text_of(*cell));
        cells.iter().any(|cell| Some(text_of(*cell)) != first || cell.is_some_and(|finding| Standing::of(finding) != Standing::Pass))
    });
    let same = all - rows.len();
    let column = |at: usize, name: &str| {
        let cells = rows.iter().filter_map(|(_, cells)| cells.get(at));
        cells.map(|cell| text_of(*cell).chars().count()).max().unwrap_or(0).max(name.chars().count()).max(4)
    };
    let widths: Vec<usize> = designs.iter().enumerate().map(|(at, (name, _))| column(at, name)).collect();
    let mut out = String::new();
    for ((name, _), width) in designs.iter().zip(&widths) {
        let _ = write!(out, "{}  ", look.paint(Tone::Strong, &format!("{name:<width$}")));
    }
    out.push('\n');
    for (name, cells) in rows.iter().take(MOST_ROWS) {
        for (cell, width) in cells.iter().zip(&widths) {
            let tone = match cell.map(Standing::of) {
                Some(Standing::Fail) => Tone::Bad,
                Some(Standing::Tight) => Tone::Near,
                Some(Standing::Undetermined) => Tone::Open,
                Some(Standing::Pass) => Tone::Good,
                Some(Standing::Accepted) | None => Tone::Quiet,
            };
            let _ = write!(out, "{}  ", look.paint(tone, &format!("{:<width$}", text_of(*cell))));
        }
        let _ = writeln!(out, "{}", look.tame(name));
    }
    if rows.len() > MOST_ROWS {
        let _ = writeln!(out, "and {} more that differ", rows.len() - MOST_ROWS);
    }
    if same > 0 {
        let _ = writeln!(out, "and {same} that hold alike in all of them");
    }
    out.push('\n');
    let widest = designs.iter().map(|(name, _)| name.chars().count()).max().unwrap_or(0);
    for (name, checked) in designs {
        let errors = if checked.has_errors() { "; mistakes in the text" } else { "" };
        let _ = writeln!(out, "{name:<widest$}  {}{errors}", checked.summary().in_a_line());
    }
    out
}

fn text_of(cell: Option<&Finding>) -> String {
    match cell {
        None => "-".to_owned(),
        Some(finding) => {
            let ratio = finding.ratio.map_or_else(String::new, |ratio| format!(" {}", percent(ratio)));
            let word = if Standing::of(finding) == Standing::Tight { finding.word() } else { Standing::of(finding).word() };
            format!("{word}{ratio}")
        }
    }
}
