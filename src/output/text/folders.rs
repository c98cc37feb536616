//! Designs in folders, one after the other, and a table of them all at the end.

use super::answer::Wanted;
use super::check::{body, counted, last_word};
use super::depth::Depth;
use super::look::{Look, Tone};
use crate::output::{Checked, Folders, Standing, Summary, digest};
use std::cmp::Reverse;
use std::fmt::Write;

/// The columns of the table, what is worst first.
const COLUMNS: [Standing; 5] = [Standing::Fail, Standing::Undetermined, Standing::Tight, Standing::Accepted, Standing::Pass];

/// The report of the designs in folders: of each what fails, then how they all stand, the worst first.
///
/// What is left out is counted; the cautions of what fails stay beside it.
#[must_use]
pub fn folders(found: &Folders, look: &Look, wanted: Wanted) -> String {
    let mut out = String::new();
    let parts = match found.parts {
        0 => String::new(),
        parts => format!(", and {} that they use", counted(parts, "file", "files")),
    };
    out.push_str(&look.paragraph(0, &format!("{} in {}{parts}", counted(found.designs.len(), "design", "designs"), found.named)));
    for (name, checked) in &found.designs {
        let _ = write!(out, "\n{}\n\n", look.paint(Tone::Strong, &look.tame(name)));
        out.push_str(&body(checked, look, if wanted.all { Depth::All } else { Depth::Brief }));
    }
    cautions(&mut out, found, look, wanted.all || wanted.cautions);
    if !wanted.all && !found.designs.is_empty() {
        out.push('\n');
        out.push_str(&look.paragraph(0, "`wallplate check` on one file lists the lines that it lacks and what is assumed"));
    }
    last_word(&mut out, found.designs.iter().any(|(_, checked)| !checked.findings.is_empty()), look);
    if found.designs.len() > 1 {
        out.push('\n');
        table(&mut out, found, look);
    }
    out
}

/// What can hurt in any of the designs, each once, or how much that is.
fn cautions(out: &mut String, found: &Folders, look: &Look, all: bool) {
    let cautions = digest::cautions(found.designs.iter().flat_map(|(_, checked)| &checked.findings));
    if cautions.is_empty() {
        return;
    }
    out.push('\n');
    if !all {
        out.push_str(&look.paragraph(0, &format!("{} in all; `--cautions` lists them", counted(cautions.len(), "caution", "cautions"))));
        return;
    }
    for caution in cautions {
        let key = look.paint(Tone::Near, "caution:");
        out.push_str(&look.wrap(&format!("{key} "), "         ", 9, caution));
    }
}

/// How the designs stand, one in a line, the worst first.
fn table(out: &mut String, found: &Folders, look: &Look) {
    let mut rows: Vec<(&str, &Checked, Summary)> =
        found.designs.iter().map(|(name, checked)| (name.as_str(), checked, checked.summary())).collect();
    // Of two that stand alike the first stays the first.
    rows.sort_by_key(|(_, checked, summary)| {
        Reverse((checked.has_errors(), summary.fail, summary.undetermined, summary.areas_not_begun().len(), summary.tight))
    });
    let heading = COLUMNS.map(Standing::word);
    let widest = rows.iter().map(|(name, ..)| name.chars().count()).max().unwrap_or(0);
    if look.narrated || widest + heading.join("  ").len() + 2 > look.width {
        for (name, checked, summary) in rows {
            let said = [vec![summary.to_string()], remarks(checked, &summary)].concat().join("; ");
            out.push_str(&look.wrap("", "    ", 4, &format!("{}: {said}", look.tame(name))));
        }
        return;
    }
    let _ = writeln!(out, "{}", look.paint(Tone::Quiet, &format!("{:<widest$}  {}", "", heading.join("  "))));
    for (name, checked, summary) in rows {
        let mut line = format!("{:<widest$}", look.tame(name));
        for (standing, word) in COLUMNS.into_iter().zip(heading) {
            let _ = write!(line, "  {:>wide$}", summary.count(standing), wide = word.len());
        }
        let remarks = remarks(checked, &summary).join("; ");
        if remarks.is_empty() {
            let _ = writeln!(out, "{line}");
        } else {
            let indent = line.chars().count() + 2;
            out.push_str(&look.wrap(&format!("{line}  "), &" ".repeat(indent), indent, &remarks));
        }
    }
}

/// What no number says.
fn remarks(checked: &Checked, summary: &Summary) -> Vec<String> {
    let mut said: Vec<String> = Vec::new();
    if checked.has_errors() {
        said.push("mistakes in the text".to_owned());
    }
    let areas = summary.areas_not_begun();
    if !areas.is_empty() {
        said.push(format!("{} not begun", counted(areas.len(), "area", "areas")));
    }
    said
}
