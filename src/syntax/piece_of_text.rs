//! A piece of a text that the grammar does not let through, as those look at it who say why.

use super::grammar::Rule;
use crate::text::{FileId, Span};

/// A piece that could not be read.
pub struct PieceOfText<'t> {
    /// The production that it should have been.
    pub strict: Rule,
    /// As the grammar sees it.
    pub masked: &'t str,
    /// As it stands in the file.
    pub written: &'t str,
    /// A block follows it.
    pub block: bool,
    /// Its file.
    pub file: FileId,
    /// Where it begins there.
    pub at: u32,
}

impl PieceOfText<'_> {
    /// The place of some bytes of the piece.
    pub fn span(&self, start: usize, end: usize) -> Span {
        let span = Span::within(self.written, self.file, start, end);
        Span { start: self.at.saturating_add(span.start), end: self.at.saturating_add(span.end), ..span }
    }

    /// The word that it begins with; a path keeps its dots.
    pub fn first_word(&self) -> &str {
        let end = self.masked.find(|c: char| !(c.is_alphanumeric() || c == '_' || c == '.')).unwrap_or(self.masked.len());
        self.masked.get(..end).unwrap_or_default()
    }
}

/// The characters that do not stand in quotes, with their places.
pub(super) fn outside_quotes(text: &str) -> impl Iterator<Item = (usize, char)> {
    let (mut quoted, mut escaped) = (false, false);
    text.char_indices().filter(move |(_, c)| {
        let mark = *c == '"' && !escaped;
        escaped = quoted && *c == '\\' && !escaped;
        quoted ^= mark;
        !quoted && !mark
    })
}

pub(super) fn is_line(strict: Rule) -> bool {
    matches!(strict, Rule::only_line | Rule::only_property | Rule::only_rule_line | Rule::only_change)
}
