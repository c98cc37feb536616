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

    /// Puts a text in the place of a range, or of everything. A range that runs backwards is turned round.
    pub fn change(&mut self, encoding: Encoding, range: Option<Range>, text: &str) {
        match range {
            None => text.clone_into(&mut self.text),
            Some(range) => {
                let at = |position| encoding.offset(&self.text, &self.lines, position) as usize;
                let (start, end) = (at(range.start), at(range.end));
                self.text.replace_range(start.min(end)..start.max(end), text);
            }
        }
        self.lines = LineIndex::new(&self.text);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn range(from: (u32, u32), to: (u32, u32)) -> Option<Range> {
        let at = |(line, character)| Position { line, character };
        Some(Range { start: at(from), end: at(to) })
    }

    #[test]
    fn changes_in_both_encodings() {
        let mut document = Document::new(1, "a ± b\nsecond \u{1F52D} line\n".to_owned());
        document.change(Encoding::Utf16, range((0, 2), (0, 3)), "+");
        assert_eq!(document.text(), "a + b\nsecond \u{1F52D} line\n");
        document.change(Encoding::Utf16, range((1, 9), (1, 10)), "_");
        assert_eq!(document.text(), "a + b\nsecond \u{1F52D}_line\n");
        document.change(Encoding::Utf8, range((1, 11), (1, 12)), " ");
        assert_eq!(document.text(), "a + b\nsecond \u{1F52D} line\n");
        document.change(Encoding::Utf8, range((99, 0), (0, 0)), "");
        assert_eq!(document.text(), "");
        document.change(Encoding::Utf16, None, "let a 1 m\r\nlet b 2 m");
        document.change(Encoding::Utf16, range((1, 400), (7, 7)), "m");
        assert_eq!(document.text(), "let a 1 m\r\nlet b 2 mm");
    }
}
