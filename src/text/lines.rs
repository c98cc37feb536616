//! From byte offsets to lines and columns, by a table of line starts.

/// A place for people: both counted from 1; the column counts characters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Position {
    /// Line number, from 1.
    pub line: u32,
    /// Column number in characters, from 1.
    pub column: u32,
}

/// The byte offset at which each line begins.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LineIndex {
    starts: Vec<u32>,
}

impl LineIndex {
    /// Reads the text once. A line ends with `\n`, `\r\n` or a lone `\r`.
    #[must_use]
    pub fn new(text: &str) -> Self {
        let bytes = text.as_bytes();
        let mut starts = vec![0];
        for (at, byte) in (0_u32..).zip(bytes) {
            let lone_return = *byte == b'\r' && bytes.get(at as usize + 1) != Some(&b'\n');
            if *byte == b'\n' || lone_return {
                starts.push(at + 1);
            }
        }
        Self { starts }
    }

    /// The line (from 0) that holds a byte offset.
    #[must_use]
    pub fn line_of(&self, offset: u32) -> usize {
        self.starts.partition_point(|start| *start <= offset).saturating_sub(1)
    }

    /// Where line `line` (from 0) begins; past the last line, where the last begins.
    #[must_use]
    pub fn start_of(&self, line: usize) -> u32 {
        self.starts.get(line).or(self.starts.last()).copied().unwrap_or(0)
    }

    /// How many lines there are, at least one.
    #[must_use]
    pub fn count(&self) -> usize {
        self.starts.len()
    }

    /// The text of line `line` (from 0), without its end.
    #[must_use]
    pub fn text_of<'t>(&self, text: &'t str, line: usize) -> &'t str {
        let start = self.start_of(line) as usize;
        let end = self.starts.get(line + 1).map_or(text.len(), |next| *next as usize);
        text.get(start..end).unwrap_or_default().trim_end_matches(['\n', '\r'])
    }

    /// Line and column (characters, from 1) of a byte offset; an offset past the end is the end.
    #[must_use]
    pub fn position(&self, text: &str, offset: u32) -> Position {
        let offset = (offset as usize).min(text.len());
        #[expect(clippy::cast_possible_truncation, reason = "files are limited to far less than 4 GiB")]
        let line = self.line_of(offset as u32);
        let start = self.start_of(line) as usize;
        let column = text.get(start..offset).map_or(0, |before| before.chars().count());
        #[expect(clippy::cast_possible_truncation, reason = "files are limited to far less than 4 GiB")]
        Position { line: line as u32 + 1, column: column as u32 + 1 }
    }

    /// Line (from 0) and UTF-16 column (from 0) of a byte offset, as editors count.
    #[must_use]
    pub fn utf16(&self, text: &str, offset: u32) -> (u32, u32) {
        let line = self.line_of(offset);
        let start = self.start_of(line) as usize;
        let end = (offset as usize).min(text.len());
        let column = text.get(start..end).map_or(0, |before| before.encode_utf16().count());
        #[expect(clippy::cast_possible_truncation, reason = "files are limited to far less than 4 GiB")]
        (line as u32, column as u32)
    }

    /// The byte offset of a line and UTF-16 column (both from 0); a column past the end of its line is its end.
    #[must_use]
    pub fn offset_of_utf16(&self, text: &str, line: u32, column: u32) -> u32 {
        if line as usize >= self.count() {
            return u32::try_from(text.len()).unwrap_or(u32::MAX);
        }
        let start = self.start_of(line as usize);
        let mut units = 0;
        for (at, character) in self.text_of(text, line as usize).char_indices() {
            if units >= column {
                return start + u32::try_from(at).unwrap_or(0);
            }
            units += u32::try_from(character.len_utf16()).unwrap_or(1);
        }
        start + u32::try_from(self.text_of(text, line as usize).len()).unwrap_or(0)
    }
}
