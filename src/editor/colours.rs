//! What each word is, by the names that the protocol has for it; which colour that is, the editor's theme says.

use super::desk::Desk;
use super::uses::{Symbol, uses_of};
use crate::syntax::{STATEMENTS, tree::Item};
use crate::text::{FileId, Span};

/// The types of words, in the order of their numbers (LSP 3.17, "Semantic Tokens").
pub const TYPES: [&str; 13] = [
    "keyword",
    "class",
    "variable",
    "property",
    "enumMember",
    "function",
    "number",
    "string",
    "comment",
    "operator",
    "parameter",
    "type",
    "namespace",
];
/// What is said of them besides, in the order of their bits.
pub const MODIFIERS: [&str; 2] = ["declaration", "readonly"];

const KEYWORDS: [&str; 45] = [
    "use", "let", "pattern", "variant", "measured", "accept", "kind", "rule", "like", "to", "by", "for", "in", "where", "if", "then",
    "else", "and", "or", "not", "yes", "no", "each", "required", "default", "assumed", "because", "source", "carrying", "above", "below",
    "at_least", "at_most", "usually", "found", "guessed", "link", "links", "one", "of", "list", "range", "size", "on", "until",
];

/// A coloured word.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Colour {
    /// Where.
    pub span: Span,
    /// Its type, as a number into [`TYPES`].
    pub ty: u32,
    /// Its modifiers, as bits of [`MODIFIERS`].
    pub modifiers: u32,
}

fn number(ty: &str) -> u32 {
    TYPES.iter().position(|known| *known == ty).and_then(|at| u32::try_from(at).ok()).unwrap_or(0)
}

fn is_between(span: Span, from: u32, to: u32) -> bool {
    span.start <= to && from <= span.end
}

/// The colours of a file between two offsets, in the order of the text.
#[must_use]
pub fn colours(desk: &Desk, file: FileId, from: u32, to: u32) -> Vec<Colour> {
    let Some(source) = desk.source(file) else { return Vec::new() };
    let mut found: Vec<Colour> = Vec::new();
    let items: Vec<&Item> = desk.items(file).filter(|item| is_between(desk.whole(item), from, to)).collect();
    for item in &items {
        for one in uses_of(desk.design(), item) {
            let named = matches!(item, Item::Let(_)) && one.defines;
            let ty = match one.symbol {
                Symbol::Entry(_) | Symbol::Variant(_) => "variable",
                Symbol::Pattern(_) | Symbol::Kind(_) => "class",
                Symbol::Property(..) => "property",
                Symbol::Choice(_) => "enumMember",
                Symbol::Local(_) => "parameter",
                Symbol::Function(_) => "function",
                Symbol::Rule(_) | Symbol::Catalogue(_) => "namespace",
                Symbol::File(_) => "string",
                Symbol::Unit(_) => "type",
            };
            found.push(Colour {
                span: desk.sources().settle(one.span),
                ty: number(ty),
                modifiers: u32::from(one.defines) | u32::from(named) << 1,
            });
        }
    }
    let known = found.len();
    let mut at = 0;
    let tokens = items.iter().flat_map(|item| {
        let begins = item.span().start;
        desk.tokens(item).iter().map(|token| (desk.sources().settle(token.span), token.span.start == begins)).collect::<Vec<_>>()
    });
    for (span, begins) in tokens {
        // A token that names something, or holds such a word, is told by that.
        while found.get(at).filter(|_| at < known).is_some_and(|colour| colour.span.end <= span.start) {
            at += 1;
        }
        let inner = found.get(at).filter(|_| at < known).map(|colour| colour.span).filter(|inner| inner.start < span.end);
        let text = source.text.get(span.start as usize..span.end as usize).unwrap_or_default();
        let first = text.chars().next().unwrap_or(' ');
        let ty = if first == '"' {
            "string"
        } else if first.is_ascii_digit() || (first == '.' && text.len() > 1) {
            "number"
        } else if KEYWORDS.contains(&text) || begins && STATEMENTS.contains(&text) {
            "keyword"
        } else if text.chars().all(|c| "+-*/^<>=!±·≤≥≠−⋅".contains(c)) {
            "operator"
        } else if first.is_ascii_lowercase() {
            "property"
        } else {
            continue;
        };
        let span = match inner {
            // The number before its unit.
            Some(inner) if ty == "number" && inner.start > span.start => Span { end: inner.start, ..span },
            Some(_) => continue,
            None => span,
        };
        found.push(Colour { span, ty: number(ty), modifiers: 0 });
    }
    let comments = desk.comments(file).iter().map(|comment| comment.span).filter(|span| is_between(*span, from, to));
    found.extend(comments.map(|span| Colour { span, ty: number("comment"), modifiers: 0 }));
    found.sort_by_key(|colour| (colour.span.start, colour.span.end));
    // Nothing overlaps: the protocol counts from one word to the next.
    let mut end = 0;
    found.retain(|colour| {
        let apart = colour.span.start >= end && colour.span.start < colour.span.end;
        end = if apart { colour.span.end } else { end };
        apart
    });
    found
}
