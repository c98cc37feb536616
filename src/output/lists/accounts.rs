//! What is told of how the parts behave.

use super::unknown;
use crate::output::text::{Look, Tone};
use crate::papers::accounts::Accounts;
use crate::session::LAST_WORD;
use std::fmt::Write;

/// For people at a terminal.
#[must_use]
pub fn accounts_text(accounts: &Accounts, look: &Look) -> String {
    let mut out = String::new();
    if accounts.parts.is_empty() && accounts.unknown.is_empty() {
        out.push_str("The design says nothing that could be told here.\n\n");
    }
    for part in &accounts.parts {
        let _ = writeln!(out, "{}", look.paint(Tone::Strong, &look.tame(&part.heading)));
        for (number, line) in (1..).zip(&part.lines) {
            let head = if part.numbered { format!("  {number}. ") } else { "  - ".to_owned() };
            out.push_str(&look.wrap(&head, "     ", 5, line));
        }
        out.push('\n');
    }
    if !accounts.unknown.is_empty() {
        let _ = writeln!(out, "{}", look.paint(Tone::Open, "not known"));
        for one in &accounts.unknown {
            out.push_str(&look.wrap("  ", "      ", 6, &unknown(one)));
        }
        out.push('\n');
    }
    out.push_str(&look.paragraph(0, LAST_WORD));
    out
}
