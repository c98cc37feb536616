//! The texts as they stand in the editor, and places in them as the protocol counts.
//!
//! Source: LSP 3.17, "Position" and "TextDocumentContentChangeEvent".

use crate::text::{LineIndex, Source};
use gen_lsp_types::{Position, Range};

/// How the editor counts columns.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Encoding {
    /// In bytes.
    Utf8,
    /// In UTF-16 units: what every editor can do.
    #[default]
    Utf16,
}

impl Encoding {
    /// The place of a byte offset.
    #[must_use]
    pub fn position(self, text: &str, lines: &LineIndex, offset: u32) -> Position {
        match self {
            Encoding::Utf16 => {
                let (line, character) = lines.utf16(text, offset);
                Position { line, character }
            }
            Encoding::Utf8 => {
                let offset = offset.min(u32::try_from(text.len()).unwrap_or(u32::MAX));
                let line = lines.line_of(offset);
                Position { line: u32::try_from(line).unwrap_or(u32::MAX), character: offset - lines.start_of(line) }
            }
        }
    }

    /// The byte offset of a place; past the end of its line it is that end, past the last line the end of the text.
    #[must_use]
    pub fn offset(self, text: &str, lines: &LineIndex, position: Position) -> u32 {
        match self {
            Encoding::Utf16 => lines.offset_of_utf16(text, position.line, position.character),
            Encoding::Utf8 => {
                let line = position.line as usize;
                if line >= lines.count() {
                    return u32::try_from(text.len()).unwrap_or(u32::MAX);
                }
                let start = lines.start_of(line);
                let own = lines.text_of(text, line);
                let mut column = own.len().min(position.character as usize);
                while !own.is_char_boundary(column) {
                    column -= 1;
                }
                start + u32::try_from(column).unwrap_or(0)
            }
        }
    }

    /// The range of two byte offsets in a file.
    #[must_use]
    pub fn range(self, source: &Source, start: u32, end: u32) -> Range {
        let at = |offset| self.position(&source.text, source.lines(), offset);
        Range { start: at(start), end: at(end) }
    }
}

/// What an edit does to places that were told before: they move with what they stand on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Shift {
    /// Where the text was that has been replaced.
    from: Position,
    to: Position,
    /// Where what stands there now ends.
    now: Position,
}

impl Shift {
    fn behind(self, at: Position) -> Position {
        let line = self.now.line + (at.line - self.to.line);
        let character = if at.line == self.to.line { self.now.character + (at.character - self.to.character) } else { at.character };
        Position { line, character }
    }

    /// Where the stretch is now; nothing if all of it has been replaced.
    #[must_use]
    pub fn range(self, range: Range) -> Option<Range> {
        let Range { start, end } = range;
        if start < end && self.from <= start && end <= self.to {
            return None;
        }
        let start = match start {
            at if at >= self.to => self.behind(at),
            at if at > self.from => self.now,
            at => at,
        };
        let end = match end {
            at if at > self.to || (at == self.to && at > self.from) => self.behind(at),
            at if at > self.from => self.from,
            at => at,
        };
        Some(Range { start, end: end.max(start) })
    }
}

/// A text that is open in the editor.
#[derive(Debug)]
pub struct Document {
    /// The editor's count of its versions.
    pub version: i32,
    text: String,
    lines: LineIndex,
}

impl Document {
    /// A text that has just been opened.
    #[must_use]
    pub fn new(version: i32, text: String) -> Document {
        let lines = LineIndex::new(&text);
        Document { version, text, lines }
    }

    /// The text.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Where its lines begin.
    #[must_use]
    pub fn lines(&self) -> &LineIndex {
        &self.lines
    }

    /// Puts a text in the place of a range, or of everything; says what that does to places told before.
    /// A range that runs backwards is turned round.
    pub fn change(&mut self, encoding: Encoding, range: Option<Range>, text: &str) -> Shift {
        let (replaced, new) = match range {
            None => difference(&self.text, text),
            Some(range) => {
                let at = |position| encoding.offset(&self.text, &self.lines, position) as usize;
                let (start, end) = (at(range.start), at(range.end));
                (start.min(end)..start.max(end), text)
            }
        };
        let offset = |at: usize| u32::try_from(at).unwrap_or(u32::MAX);
        let place = |document: &Document, at: usize| encoding.position(&document.text, &document.lines, offset(at));
        let (from, to) = (place(self, replaced.start), place(self, replaced.end));
        let end = replaced.start + new.len();
        self.text.replace_range(replaced, new);
        self.lines = LineIndex::new(&self.text);
        Shift { from, to, now: place(self, end) }
    }
}

/// What a text has in another's place, between the lines at the beginning and at the end that both have.
fn difference<'t>(before: &str, after: &'t str) -> (std::ops::Range<usize>, &'t str) {
    let lines = |text| str::split_inclusive(text, '\n');
    let head: usize = lines(before).zip(lines(after)).take_while(|(a, b)| a == b).map(|(a, _)| a.len()).sum();
    let (old, new) = (before.get(head..).unwrap_or_default(), after.get(head..).unwrap_or_default());
    let tail: usize = lines(old).rev().zip(lines(new).rev()).take_while(|(a, b)| a == b).map(|(a, _)| a.len()).sum();
    (head..before.len() - tail, new.get(..new.len() - tail).unwrap_or_default())
}
