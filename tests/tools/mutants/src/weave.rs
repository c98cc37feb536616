//! Writes changes into the text of a file so that each can be chosen when the program runs.

use crate::sites::Change;
use std::fmt::Write as _;

/// A change with its number.
pub struct Numbered<'c> {
    /// By what it is chosen.
    pub number: usize,
    /// What changes.
    pub change: &'c Change,
}

/// The text with all changes in it, each behind a question; those of one place follow each other.
///
/// Within what is changed the text stands as it was: so it grows with the depth of an expression and no faster.
pub fn woven(text: &str, changes: &[Numbered]) -> String {
    let mut sorted: Vec<&Numbered> = changes.iter().collect();
    sorted.sort_by_key(|one| (one.change.place.start, std::cmp::Reverse(one.change.place.end), one.number));
    let mut out = String::with_capacity(text.len() * 2);
    between(text, 0..text.len(), &sorted, &mut out);
    out
}

fn between(text: &str, range: std::ops::Range<usize>, mut changes: &[&Numbered], out: &mut String) {
    let mut at = range.start;
    while let Some(first) = changes.first() {
        let place = first.change.place.clone();
        out.push_str(&text[at..place.start]);
        at = place.end;
        let here = changes.iter().take_while(|one| one.change.place == place).count();
        let inside = changes[here..].iter().take_while(|one| one.change.place.start < place.end).count();
        let (same, rest) = changes.split_at(here);
        let (inner, rest) = rest.split_at(inside);
        changes = rest;
        if first.change.leaves {
            for one in same {
                let _ = write!(out, " if crate::mutants::on({}) {{ return /*m{}*/ {}; }}", one.number, one.number, one.change.text);
            }
            continue;
        }
        out.push('(');
        for one in same {
            let line = one.change.text.split_whitespace().collect::<Vec<_>>().join(" ");
            let _ = write!(out, "if crate::mutants::on({}) {{\n/*m{}*/ {line}\n}} else ", one.number, one.number);
        }
        out.push_str("{ ");
        between(text, place, inner, out);
        out.push_str(" })");
    }
    out.push_str(&text[at..range.end]);
}
