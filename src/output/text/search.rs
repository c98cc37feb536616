//! `rules WORD`, where the word is no name: what speaks of it, by names, titles and meanings.
//!
//! In: a word, or several. Out: rules, kinds, properties, functions and entries of catalogues that speak of all of them,
//! those first that have it in their name.

use super::look::{Look, Tone};
use crate::formulas;
use crate::output::words::of_entry;
use crate::session::Session;
use crate::trade;

/// Lines of each sort that are shown: of more another word says which is meant.
const MOST: usize = 12;
/// Names longer than this do not push the column of their texts to the right.
const LONGEST_NAME: usize = 36;

/// What speaks of a word; none if nothing does.
#[must_use]
pub fn search(session: &Session, words: &str, look: &Look) -> Option<String> {
    let words: Vec<String> = words.to_lowercase().split([' ', '_', '-']).filter(|word| word.len() > 1).map(str::to_owned).collect();
    let design = session.design();
    let rules = design.rules.iter().map(|rule| {
        let more = [rule.note.as_deref().unwrap_or_default(), rule.caution.as_deref().unwrap_or_default()].join(" ");
        (rule.name.to_string(), rule.title.to_string(), more)
    });
    let kinds = design.kinds.iter().map(|kind| (kind.name.to_string(), kind.doc.to_string(), String::new()));
    let properties = design.kinds.iter().flat_map(|kind| {
        kind.properties.iter().map(|property| (format!("{}.{}", kind.name, property.name), property.doc.to_string(), String::new()))
    });
    let functions = formulas::all().subjects().iter().flat_map(|(_, table)| table.iter()).map(|function| {
        let takes: Vec<&str> = function.parameters.iter().map(|parameter| parameter.doc).collect();
        (function.name.to_owned(), function.doc.to_owned(), takes.join(" "))
    });
    let entries = trade::catalogues().iter().flat_map(|part| {
        let one = |entry| (format!("use {}: {}", part.name, name_of(entry)), of_entry(entry), String::new());
        trade::entries_of(part).map(one)
    });
    let groups: [(&str, Vec<Entry>); 5] = [
        ("rules", rules.collect()),
        ("kinds", kinds.collect()),
        ("lines to write, and what is worked out", properties.collect()),
        ("functions", functions.collect()),
        ("in catalogues", entries.collect()),
    ];
    let mut out = String::new();
    for (title, entries) in groups {
        out.push_str(&group(title, entries, &words, look));
    }
    (!words.is_empty() && !out.is_empty()).then_some(out)
}

/// A name, what it is, and what else is said of it.
type Entry = (String, String, String);

fn name_of(entry: &crate::syntax::tree::Component) -> &str {
    entry.name.as_ref().map_or("", |name| name.text.as_str())
}

fn group(title: &str, entries: Vec<Entry>, words: &[String], look: &Look) -> String {
    let mut found: Vec<(usize, Entry)> = entries.into_iter().filter_map(|entry| Some((how_near(&entry, words)?, entry))).collect();
    // Of two that are as near the order of the library stays.
    found.sort_by_key(|(near, _)| *near);
    if found.is_empty() {
        return String::new();
    }
    let mut out = format!("{}\n", look.paint(Tone::Strong, title));
    let column = found.iter().take(MOST).map(|(_, (name, ..))| name.chars().count()).max().unwrap_or(0).min(LONGEST_NAME);
    for (_, (name, doc, _)) in found.iter().take(MOST) {
        if look.narrated || column + 4 > look.width / 2 {
            out.push_str(&look.wrap("  ", "      ", 6, &format!("{name}: {doc}")));
        } else if doc.is_empty() {
            out.push_str(&look.paragraph(2, name));
        } else {
            out.push_str(&look.wrap(&format!("  {name:<column$}  "), &" ".repeat(column + 4), column + 4, doc));
        }
    }
    if found.len() > MOST {
        out.push_str(&look.paragraph(2, &format!("and {} more; a second word says which", found.len() - MOST)));
    }
    out.push('\n');
    out
}

/// How near an entry is to what is looked for, the nearest 0: it has the words in its name, in what it is, in what else is
/// said of it. None if it does not speak of them all.
fn how_near((name, doc, more): &Entry, words: &[String]) -> Option<usize> {
    let texts = [name.to_lowercase(), doc.to_lowercase(), more.to_lowercase()];
    let near = |word: &String| texts.iter().position(|text| begins_a_word(text, word));
    words.iter().map(near).try_fold(0, |worst, near| Some(worst.max(near?)))
}

/// Whether some word of the text begins with this: `torque` in `torque_at_stall`, not `ten` in `often`.
fn begins_a_word(text: &str, word: &str) -> bool {
    text.match_indices(word).any(|(at, _)| !text.get(..at).unwrap_or_default().ends_with(char::is_alphanumeric))
}
