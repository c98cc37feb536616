//! Designs in folders, one after the other, and a list of them all at the end.

use super::check::{body, close};
use super::depth::Depth;
use super::look::{Look, Tone};
use crate::output::{Checked, Folders};
use std::fmt::Write;

/// The report of the designs in folders.
///
/// `all` also lists what holds, one line each.
#[must_use]
pub fn folders(found: &Folders, look: &Look, all: bool) -> String {
    let mut out = String::new();
    let count = |number: usize, one: &str| if number == 1 { format!("1 {one}") } else { format!("{number} {one}s") };
    let parts = match found.parts {
        0 => String::new(),
        parts => format!(", and {} that they use", count(parts, "file")),
    };
    out.push_str(&look.paragraph(0, &format!("{} in {}{parts}", count(found.designs.len(), "design"), found.named)));
    for (name, checked) in &found.designs {
        let _ = write!(out, "\n{}\n\n", look.paint(Tone::Strong, &look.tame(name)));
        out.push_str(&body(checked, look, if all { Depth::All } else { Depth::Brief }));
    }
    if found.designs.len() > 1 {
        out.push('\n');
        let widest = found.designs.iter().map(|(name, _)| name.chars().count()).max().unwrap_or(0);
        for (name, checked) in &found.designs {
            let name = look.tame(name).into_owned();
            if look.narrated || widest > look.width / 2 {
                out.push_str(&look.wrap("", "    ", 4, &format!("{name}: {}", counts(checked))));
            } else {
                out.push_str(&look.wrap(&format!("{name:<widest$}  "), &" ".repeat(widest + 2), widest + 2, &counts(checked)));
            }
        }
    }
    if !all && !found.designs.is_empty() {
        out.push('\n');
        out.push_str(&look.paragraph(0, "`wallplate check` on one file lists the lines that it lacks and what is assumed"));
    }
    close(&mut out, found.designs.iter().flat_map(|(_, checked)| &checked.findings), look);
    out
}

fn counts(checked: &Checked) -> String {
    let errors = if checked.has_errors() { "; mistakes in the text" } else { "" };
    format!("{}{errors}", checked.summary().in_a_line())
}
