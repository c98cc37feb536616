//! The reading pass: one walk over the bytes before the grammar sees them.
//!
//! It blanks comments, wide blanks and the newlines that do not end a line (byte for byte, so every offset
//! stays that of the file), collects the comments, and cuts the file into top-level statements. So the
//! grammar parses one statement at a time, a mistake stays in its statement, and a missing `}` costs
//! one block and not the rest of the file.

use super::tree::Comment;
use crate::text::{FileId, Span};

/// How deep brackets and braces may nest: far more than a schedule needs, far less than a stack holds.
pub const DEEPEST_NESTING: usize = 60;
/// The longest statement line after joining: an expression that long is not read by a person.
pub const LONGEST_LINE: usize = 20_000;

/// A file prepared for the grammar.
pub struct Reading {
    /// The text with comments and joined newlines blanked; same length and offsets as the file.
    pub masked: String,
    /// The top-level statements in order.
    pub statements: Vec<StatementStretch>,
    /// The comments in order.
    pub comments: Vec<Comment>,
    /// What is wrong with the braces and the line lengths.
    pub faults: Vec<Fault>,
}

/// One top-level statement's stretch of the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StatementStretch {
    /// From its first to past its last byte.
    pub range: std::ops::Range<usize>,
    /// Its lines and its nesting are within the bounds, so that the grammar may see it.
    pub within_bounds: bool,
    /// The length of its longest line.
    pub longest_line: usize,
    /// How many `}` it lacks; the fault is already told.
    pub unclosed: usize,
}

/// What the reading pass itself finds wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fault {
    /// A block is opened and never closed: the place of its header.
    NeverClosed(Span),
    /// A `}` that closes nothing.
    ClosesNothing(Span),
    /// Nested deeper than [`DEEPEST_NESTING`].
    TooDeep(Span),
    /// Longer than [`LONGEST_LINE`].
    TooLong(Span),
}

/// Prepares a text for the grammar.
#[must_use]
pub fn read(text: &str, file: FileId) -> Reading {
    let mut walk = Walk::new(text, file);
    walk.mask();
    let Walk { bytes, comments, faults, .. } = walk;
    let masked = String::from_utf8(bytes).unwrap_or_else(|_| text.to_owned());
    let mut reading = Reading { statements: Vec::new(), masked, comments, faults };
    cut(&mut reading, file);
    reading
}

fn span(file: FileId, range: std::ops::Range<usize>) -> Span {
    let at = |offset: usize| u32::try_from(offset).unwrap_or(u32::MAX);
    Span { file, start: at(range.start), end: at(range.end) }
}

struct Walk {
    bytes: Vec<u8>,
    file: FileId,
    comments: Vec<Comment>,
    faults: Vec<Fault>,
    /// Offsets of the newlines met since the oldest open bracket.
    inside: Vec<usize>,
    /// Offsets of the open brackets.
    open: Vec<usize>,
}

impl Walk {
    fn new(text: &str, file: FileId) -> Self {
        Self { bytes: text.as_bytes().to_vec(), file, comments: Vec::new(), faults: Vec::new(), inside: Vec::new(), open: Vec::new() }
    }

    fn byte(&self, at: usize) -> u8 {
        self.bytes.get(at).copied().unwrap_or(b'\n')
    }

    fn blank(&mut self, range: std::ops::Range<usize>) {
        if let Some(stretch) = self.bytes.get_mut(range) {
            stretch.fill(b' ');
        }
    }

    fn mask(&mut self) {
        let mut at = 0;
        let mut line_is_blank = true;
        // The last byte before here that is neither blank nor comment.
        let mut last: Option<usize> = None;
        // A newline that a `{` on the next line would join.
        let mut before_brace: Option<usize> = None;
        while at < self.bytes.len() {
            match self.byte(at) {
                b'"' => {
                    let closed;
                    (at, closed) = end_of_text(&self.bytes, at);
                    last = closed.then(|| at.saturating_sub(1));
                    if !closed {
                        // Its line ends here, whatever it ends with: no quote of a later line may close it.
                        self.open.clear();
                        self.inside.clear();
                    }
                    line_is_blank = false;
                    before_brace = None;
                    continue;
                }
                b'#' => {
                    let end = self.end_of_line(at);
                    self.comments.push(Comment { span: span(self.file, at..end), own_line: line_is_blank });
                    self.blank(at..end);
                    at = end;
                    continue;
                }
                b'\n' | b'\r' => {
                    if self.open.is_empty() {
                        if last.is_some_and(|last| self.asks_for_more(last)) {
                            self.blank(at..at + 1);
                        } else {
                            before_brace = before_brace.or(Some(at));
                            last = None;
                        }
                    } else {
                        self.inside.push(at);
                    }
                    line_is_blank = true;
                }
                byte @ (b'(' | b'[') => {
                    if self.open.len() == DEEPEST_NESTING {
                        self.faults.push(Fault::TooDeep(span(self.file, at..at + 1)));
                    }
                    if self.open.len() > DEEPEST_NESTING {
                        // Blanked, so that no later pass can nest deeper; the fault is said once.
                        self.blank(at..at + 1);
                    }
                    self.open.push(at);
                    last = Some(at);
                    line_is_blank = false;
                    before_brace = None;
                    debug_assert!(byte == b'(' || byte == b'[');
                }
                b')' | b']' => {
                    if self.open.len() > DEEPEST_NESTING + 1 {
                        self.blank(at..at + 1);
                    }
                    self.open.pop();
                    if self.open.is_empty() {
                        self.join_inside();
                    }
                    last = Some(at);
                    line_is_blank = false;
                    before_brace = None;
                }
                b'{' | b'}' => {
                    if self.byte(at) == b'{'
                        && let Some(newline) = before_brace
                    {
                        self.blank(newline..at);
                    }
                    // A bracket still open here was never closed: its newlines stay line ends.
                    self.open.clear();
                    self.inside.clear();
                    last = None;
                    line_is_blank = false;
                    before_brace = None;
                }
                b' ' | b'\t' => {}
                _ => {
                    if let Some(length) = self.wide_blank(at) {
                        self.blank(at..at + length);
                        at += length;
                        continue;
                    }
                    last = Some(at);
                    line_is_blank = false;
                    before_brace = None;
                }
            }
            at += 1;
        }
    }

    /// The length of a blank that is not plain: U+00A0, U+2009 or U+202F, as word processors set them between a number and its unit.
    fn wide_blank(&self, at: usize) -> Option<usize> {
        match (self.byte(at), self.byte(at + 1), self.byte(at + 2)) {
            (0xC2, 0xA0, _) => Some(2),
            (0xE2, 0x80, 0x89 | 0xAF) => Some(3),
            _ => None,
        }
    }

    fn join_inside(&mut self) {
        for newline in std::mem::take(&mut self.inside) {
            self.blank(newline..newline + 1);
        }
    }

    fn end_of_line(&self, from: usize) -> usize {
        let mut at = from;
        while at < self.bytes.len() && !matches!(self.byte(at), b'\n' | b'\r') {
            at += 1;
        }
        at
    }

    /// Whether a line that ends at `last` goes on: after a comma, an operator or a word that needs a right-hand side.
    fn asks_for_more(&self, last: usize) -> bool {
        let byte = self.byte(last);
        if matches!(byte, b',' | b'+' | b'-' | b'*' | b'/' | b'^' | b'<' | b'>' | b'=') {
            return true;
        }
        if !byte.is_ascii() {
            let up_to_here = self.bytes.get(..=last).unwrap_or_default();
            return ["±", "−", "·", "⋅", "≤", "≥", "≠"].iter().any(|sign| up_to_here.ends_with(sign.as_bytes()));
        }
        if !byte.is_ascii_lowercase() {
            return false;
        }
        let mut start = last;
        while start > 0 && (self.byte(start - 1).is_ascii_alphanumeric() || matches!(self.byte(start - 1), b'_' | b'.')) {
            start -= 1;
        }
        let word = self.bytes.get(start..=last).unwrap_or_default();
        // `in` is not among them: a line may end in inches. Nor may the first word of a line be one.
        let goes_on = [b"and".as_slice(), b"or", b"not", b"then", b"else", b"where", b"for", b"because"].contains(&word);
        goes_on && !self.begins_line(start)
    }

    fn begins_line(&self, start: usize) -> bool {
        let mut at = start;
        while at > 0 && matches!(self.byte(at - 1), b' ' | b'\t') {
            at -= 1;
        }
        at == 0 || matches!(self.byte(at - 1), b'\n' | b'\r' | b'{' | b';')
    }
}

/// Cuts the masked text into top-level statements.
fn cut(reading: &mut Reading, file: FileId) {
    let careful = !is_balanced(&reading.masked);
    let bytes = reading.masked.as_bytes();
    let mut cutter = Cutter { bytes, file, ..Cutter::default() };
    let mut at = 0;
    while at < bytes.len() {
        match bytes.get(at).copied().unwrap_or(b'\n') {
            b'"' => {
                cutter.start = cutter.start.or(Some(at));
                (at, _) = end_of_text(bytes, at);
                continue;
            }
            b'\n' | b'\r' => {
                cutter.end_line(at);
                // Only a file whose braces do not match is read with this suspicion, since a whole
                // design may stand at the left margin.
                if careful && cutter.depth > 0 && opens_block_at_margin(bytes, at + 1) {
                    cutter.never_closed();
                    cutter.end_statement(at);
                }
            }
            b'{' => {
                cutter.start = cutter.start.or(Some(at));
                cutter.depth += 1;
                if cutter.depth == DEEPEST_NESTING {
                    cutter.faults.push(Fault::TooDeep(span(file, at..at + 1)));
                    cutter.within_bounds = false;
                }
            }
            b'}' if cutter.depth == 0 && cutter.start.is_none() => {
                cutter.faults.push(Fault::ClosesNothing(span(file, at..at + 1)));
            }
            b'}' if cutter.depth == 0 => {}
            b'}' => {
                cutter.depth -= 1;
                if cutter.depth == 0 {
                    cutter.end_statement(at + 1);
                }
            }
            b';' if cutter.depth == 0 => cutter.end_statement(at),
            b' ' | b'\t' => {}
            _ => cutter.start = cutter.start.or(Some(at)),
        }
        at += 1;
    }
    cutter.end_line(bytes.len());
    if cutter.depth > 0 {
        cutter.never_closed();
    }
    cutter.end_statement(bytes.len());
    let Cutter { statements, faults, .. } = cutter;
    reading.statements = statements;
    reading.faults.extend(faults);
}

struct Cutter<'b> {
    bytes: &'b [u8],
    file: FileId,
    statements: Vec<StatementStretch>,
    faults: Vec<Fault>,
    depth: usize,
    start: Option<usize>,
    line_start: usize,
    longest_line: usize,
    within_bounds: bool,
}

impl Default for Cutter<'_> {
    fn default() -> Self {
        Self {
            bytes: &[],
            file: FileId::default(),
            statements: Vec::new(),
            faults: Vec::new(),
            depth: 0,
            start: None,
            line_start: 0,
            longest_line: 0,
            within_bounds: true,
        }
    }
}

impl Cutter<'_> {
    fn end_line(&mut self, at: usize) {
        let length = at.saturating_sub(self.line_start);
        self.longest_line = self.longest_line.max(length);
        if length > LONGEST_LINE && self.start.is_some() {
            let rest = self.bytes.get(self.line_start + 1..at).unwrap_or_default();
            let first = 1 + rest.iter().take_while(|byte| **byte & 0b1100_0000 == 0b1000_0000).count();
            self.faults.push(Fault::TooLong(span(self.file, self.line_start..self.line_start + first)));
            self.within_bounds = false;
        }
        self.line_start = at + 1;
        if self.depth == 0 {
            self.end_statement(at);
        }
    }

    fn end_statement(&mut self, end: usize) {
        if let Some(start) = self.start.take() {
            let longest_line = self.longest_line.max(end.saturating_sub(self.line_start));
            let within_bounds = self.within_bounds && longest_line <= LONGEST_LINE;
            self.statements.push(StatementStretch { range: start..end, within_bounds, longest_line, unclosed: self.depth });
        }
        self.depth = 0;
        self.longest_line = 0;
        self.within_bounds = true;
    }

    fn never_closed(&mut self) {
        if let Some(start) = self.start {
            self.faults.push(Fault::NeverClosed(header_span(self.bytes, self.file, start)));
        }
    }
}

/// Where a text ends: one past its closing quote, or if it is never closed with its line; and whether it is closed.
fn end_of_text(bytes: &[u8], from: usize) -> (usize, bool) {
    let mut at = from + 1;
    while let Some(byte) = bytes.get(at) {
        match byte {
            b'\\' if matches!(bytes.get(at + 1), Some(b'"' | b'\\')) => at += 2,
            b'"' => return (at + 1, true),
            b'\n' | b'\r' => return (at, false),
            _ => at += 1,
        }
    }
    (at, false)
}

fn is_balanced(text: &str) -> bool {
    let bytes = text.as_bytes();
    let mut depth = 0_i64;
    let mut at = 0;
    while let Some(byte) = bytes.get(at) {
        match byte {
            b'"' => {
                (at, _) = end_of_text(bytes, at);
                continue;
            }
            b'{' => depth += 1,
            b'}' => depth -= 1,
            _ => {}
        }
        if depth < 0 {
            return false;
        }
        at += 1;
    }
    depth == 0
}

fn opens_block_at_margin(bytes: &[u8], line_start: usize) -> bool {
    let Some(rest) = bytes.get(line_start..) else { return false };
    if !rest.first().is_some_and(u8::is_ascii_lowercase) {
        return false;
    }
    let line = rest.split(|byte| matches!(byte, b'\n' | b'\r')).next().unwrap_or_default();
    let statement = line.starts_with(b"use ") || line.starts_with(b"let ");
    let mut inside = false;
    statement
        || line.iter().any(|byte| {
            inside ^= *byte == b'"';
            !inside && *byte == b'{'
        })
}

fn header_span(bytes: &[u8], file: FileId, from: usize) -> Span {
    let header = bytes.get(from..).unwrap_or_default();
    let length = header.iter().position(|byte| matches!(byte, b'{' | b'\n' | b'\r')).unwrap_or(header.len());
    let trimmed = header.get(..length).unwrap_or_default().trim_ascii_end().len();
    span(file, from..from + trimmed)
}
