//! Where in a text somebody is writing, read off the text itself: it may be broken at that very place.
//!
//! In: a text and an offset. Out: the blocks that are open there, the line up to there, the word that
//! is being written. It knows the shape of the language and not what anything means.

use crate::syntax;

/// Where somebody is writing.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Cursor {
    /// The headers of the blocks that are open here, the outermost first: `clamp ne like corner_clamp`.
    pub blocks: Vec<String>,
    /// The first words of the innermost block's other lines.
    pub written: Vec<String>,
    /// The line from its first word up to here.
    pub before: String,
    /// The innermost block from its `{` up to here; outside of blocks the line.
    pub so_far: String,
    /// Where the word begins that is being written; here, if none is.
    pub word: usize,
    /// Inside a text in quotes or a comment.
    pub inside: Inside,
}

/// What surrounds a place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Inside {
    /// The language itself.
    #[default]
    Line,
    /// A text in quotes, from its first byte.
    Text(usize),
    /// A comment.
    Comment,
}

impl Cursor {
    /// The place of an offset.
    #[must_use]
    pub fn at(text: &str, offset: usize) -> Cursor {
        let offset = floor(text, offset);
        let (masked, statements, comments) = syntax::statements(text);
        let in_comment = |comment: &&syntax::tree::Comment| (comment.span.start as usize) < offset && offset <= comment.span.end as usize;
        if comments.iter().find(in_comment).is_some() {
            return Cursor { inside: Inside::Comment, word: offset, ..Cursor::default() };
        }
        // A place behind the last statement belongs to it while its line goes on.
        let own = statements.iter().rev().find(|range| range.start <= offset).cloned().unwrap_or(offset..offset);
        let closed =
            own.end < offset && masked.get(own.end..offset).is_some_and(|rest| rest.contains(['\n', '\r']) || own.end == own.start);
        let mut place = Cursor::default();
        let start = if closed || is_whole(&masked, &own, offset) { line_start(&masked, offset) } else { own.start };
        let mut walk = Walk { blocks: Vec::new(), line: start };
        place.inside = walk.to(&masked, start, offset);
        place.before = masked.get(walk.line..offset).unwrap_or_default().trim_start().to_owned();
        let typed = text.get(..offset).unwrap_or_default();
        place.word = typed
            .rfind(|c: char| !is_word(c))
            .map_or(0, |at| at + typed.get(at..).and_then(|rest| rest.chars().next()).map_or(1, char::len_utf8));
        let opened = walk.blocks.last().map_or(walk.line, |(opened, _)| *opened);
        place.so_far = masked.get(opened..offset).unwrap_or_default().to_owned();
        if let Some((opened, _)) = walk.blocks.last() {
            let here = walk.line;
            place.written = first_words(&masked, *opened, here);
        }
        place.blocks = walk.blocks.into_iter().map(|(_, header)| header).collect();
        place
    }

    /// The words of the line before the one that is being written.
    #[must_use]
    pub fn words(&self) -> Vec<&str> {
        let mut words: Vec<&str> = self.before.split_whitespace().collect();
        if self.before.ends_with(is_word) {
            words.pop();
        }
        words
    }

    /// The name of the rule that is accepted here, as far as it is written: it has a dot in it.
    #[must_use]
    pub fn accepted(&self) -> Option<&str> {
        let rest = self.before.strip_prefix("accept").filter(|rest| self.blocks.is_empty() && rest.starts_with([' ', '\t']))?;
        let rule = rest.trim_start();
        rule.chars().all(|c| is_word(c) || c == '.').then_some(rule)
    }

    /// The word that is being written, as far as it is.
    #[must_use]
    pub fn typed(&self) -> &str {
        let at = self
            .before
            .rfind(|c: char| !is_word(c))
            .map_or(0, |at| at + self.before.get(at..).and_then(|rest| rest.chars().next()).map_or(1, char::len_utf8));
        self.before.get(at..).unwrap_or_default()
    }
}

/// A character of a name or a number.
fn is_word(c: char) -> bool {
    c.is_alphanumeric() || c == '_'
}

fn floor(text: &str, offset: usize) -> usize {
    let mut offset = offset.min(text.len());
    while !text.is_char_boundary(offset) {
        offset -= 1;
    }
    offset
}

fn line_start(text: &str, offset: usize) -> usize {
    text.get(..offset).and_then(|before| before.rfind(['\n', '\r', ';'])).map_or(0, |at| at + 1)
}

/// Whether the statement is over before the offset: a block that has been closed.
fn is_whole(masked: &str, own: &std::ops::Range<usize>, offset: usize) -> bool {
    own.end <= offset && own.end > own.start && masked.get(own.clone()).is_some_and(|text| text.trim_end().ends_with('}'))
}

struct Walk {
    /// The open blocks: the offset behind the `{`, and the header.
    blocks: Vec<(usize, String)>,
    /// Where the line begins.
    line: usize,
}

impl Walk {
    fn to(&mut self, masked: &str, from: usize, to: usize) -> Inside {
        let mut inside = None;
        let mut after_escape = false;
        for (at, c) in masked.get(from..to).unwrap_or_default().char_indices().map(|(at, c)| (from + at, c)) {
            if let Some(start) = inside {
                match c {
                    _ if after_escape => after_escape = false,
                    '\\' => after_escape = true,
                    '"' | '\n' | '\r' => inside = None,
                    _ => inside = Some(start),
                }
                continue;
            }
            match c {
                '"' => inside = Some(at),
                '{' => {
                    let header = masked.get(self.line..at).unwrap_or_default().split_whitespace().collect::<Vec<_>>().join(" ");
                    self.blocks.push((at + 1, header));
                    self.line = at + 1;
                }
                '}' => {
                    self.blocks.pop();
                    self.line = at + 1;
                }
                '\n' | '\r' | ';' => self.line = at + 1,
                _ => {}
            }
        }
        inside.map_or(Inside::Line, Inside::Text)
    }
}

/// The first words of the lines of a block that is opened before `from`, but for the line that begins at `but`.
fn first_words(masked: &str, from: usize, but: usize) -> Vec<String> {
    let mut words = Vec::new();
    let mut depth = 0_usize;
    let mut line = from;
    let mut quoted = false;
    let mut take = |line: usize, at: usize, depth: usize| {
        if depth == 0
            && line != but
            && let Some(word) = masked.get(line..at).and_then(|text| text.split_whitespace().next())
        {
            words.push(word.to_owned());
        }
    };
    let mut end = masked.len();
    for (at, c) in masked.get(from..).unwrap_or_default().char_indices().map(|(at, c)| (from + at, c)) {
        match c {
            '"' => quoted = !quoted,
            '\n' | '\r' | ';' => {
                quoted = false;
                take(line, at, depth);
                line = at + 1;
            }
            _ if quoted => {}
            '{' => {
                take(line, at, depth);
                depth += 1;
                line = at + 1;
            }
            '}' if depth == 0 => {
                end = at;
                break;
            }
            '}' => {
                depth -= 1;
                line = at + 1;
            }
            _ => {}
        }
    }
    take(line, end, depth);
    words
}
