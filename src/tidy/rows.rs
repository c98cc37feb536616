//! From tokens and comments to rows: what will stand together on a line, before it is laid out.
//!
//! In: the tokens of a text in order, and its comments. Out: rows in order, each with its depth; here
//! it is settled where each comment goes, which breaks of the writer stay and which blocks stay on
//! one line. Columns and widths are not worked out here.

use crate::syntax::tree::Comment;
use crate::syntax::{Joint, Token};
use crate::text::Span;

/// The number of characters that a line should not exceed: what a printed page and half a screen hold.
pub const WIDTH: usize = 100;

/// What stands together on one line, or on several if it is long.
#[derive(Debug)]
pub struct Row<'t> {
    /// How many blocks are open around it.
    pub depth: usize,
    /// An empty line stands before it.
    pub apart: bool,
    /// It opens a block, or it closes one.
    pub brace: bool,
    /// Its lines.
    pub lines: Vec<RowLine<'t>>,
}

/// A line of a row, between two breaks.
#[derive(Debug, Default)]
pub struct RowLine<'t> {
    /// Its words and signs; none if it is only a comment.
    pub words: Vec<Word<'t>>,
    /// The comment at its end.
    pub comment: Option<&'t str>,
}

/// A word or sign with what stands before it.
#[derive(Debug, Clone, Copy)]
pub struct Word<'t> {
    /// As it is written.
    pub text: &'t str,
    /// What stands before it.
    pub gap: Gap,
}

/// What stands between two words.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Gap {
    /// Nothing.
    Touching,
    /// One blank.
    Blank,
    /// The column of values.
    Value,
    /// The column of what follows a property's type.
    Clause,
    /// `; ` between the lines of a block that stands on one line.
    Semicolon,
}

impl Gap {
    /// What stands there where no columns are kept.
    pub fn plain(self) -> &'static str {
        match self {
            Gap::Touching => "",
            Gap::Blank => " ",
            Gap::Value | Gap::Clause => "  ",
            Gap::Semicolon => "; ",
        }
    }
}

/// The rows of a text.
pub fn rows<'t>(text: &'t str, tokens: &[Token], comments: &[Comment]) -> Vec<Row<'t>> {
    let mut builder = Builder { text, rows: Vec::new(), depth: 0, brackets: 0, end: 0, opened: true, held: Vec::new() };
    let mut comments = comments.iter().copied().peekable();
    let mut at = 0;
    while let Some(token) = tokens.get(at) {
        while let Some(comment) = comments.next_if(|comment| comment.span.start < token.span.start) {
            builder.comment(comment, Some(token));
        }
        at += 1;
        if builder.word_of(token) == "{" {
            at += builder.block(tokens.get(at - 1..).unwrap_or_default(), comments.peek());
        } else {
            builder.token(token);
        }
    }
    comments.for_each(|comment| builder.comment(comment, None));
    builder.rows
}

struct Builder<'t> {
    text: &'t str,
    rows: Vec<Row<'t>>,
    depth: usize,
    /// How many brackets of the row are open.
    brackets: usize,
    /// Where the last token or comment ended.
    end: usize,
    /// A block has just been opened, or the file has just begun: no empty line here.
    opened: bool,
    /// Comments between a header and its `{`: they go behind it.
    held: Vec<Comment>,
}

impl<'t> Builder<'t> {
    fn word_of(&self, token: &Token) -> &'t str {
        match slice(self.text, token.span) {
            "−" => "-",
            word => word,
        }
    }

    fn line_ends(&self, start: u32) -> usize {
        let between = self.text.get(self.end..start as usize).unwrap_or_default();
        between.bytes().filter(|byte| *byte == b'\n').count() + between.replace("\r\n", "\n").matches('\r').count()
    }

    fn row(&mut self, start: u32, brace: bool) {
        let apart = !self.opened && self.line_ends(start) > 1;
        self.rows.push(Row { depth: self.depth, apart, brace, lines: vec![RowLine::default()] });
        self.opened = false;
    }

    fn line(&mut self) -> Option<&mut RowLine<'t>> {
        self.rows.last_mut()?.lines.last_mut()
    }

    fn new_line(&mut self) {
        if let Some(row) = self.rows.last_mut() {
            row.lines.push(RowLine::default());
        }
    }

    fn comment(&mut self, comment: Comment, before: Option<&Token>) {
        let begins = before.is_none_or(|token| token.joint == Joint::Begins);
        if !begins && before.is_some_and(|token| self.word_of(token) == "{") {
            self.held.push(comment);
            return;
        }
        let text = slice(self.text, comment.span).trim_end();
        let free = self.line().is_some_and(|line| line.comment.is_none());
        match (begins, comment.own_line || !free) {
            (_, false) => {
                if let Some(line) = self.line() {
                    line.comment = Some(text);
                }
            }
            (true, true) => {
                self.row(comment.span.start, false);
                if let Some(line) = self.line() {
                    line.comment = Some(text);
                }
            }
            (false, true) => {
                self.new_line();
                if let Some(line) = self.line() {
                    line.comment = Some(text);
                }
            }
        }
        self.end = comment.span.end as usize;
    }

    fn token(&mut self, token: &Token) {
        let text = self.word_of(token);
        if token.joint == Joint::Begins {
            if text == "}" {
                self.depth = self.depth.saturating_sub(1);
                self.opened = true;
            }
            self.row(token.span.start, text == "}");
        }
        if token.joint == Joint::Begins {
            self.brackets = 0;
        }
        let gap = gap(token.joint);
        let last = self.line().and_then(|line| line.words.last().copied());
        let broken_here = self.line_ends(token.span.start) > 0;
        // A comment ends its line; else a break stays where a long line would be broken too.
        let after_comment = self.line().is_some_and(|line| line.comment.is_some());
        let kept =
            last.is_some_and(|last| broken_here && (break_rank(last.text, text, gap, self.brackets).is_some() || goes_on(text, gap)));
        if after_comment || kept {
            self.new_line();
        }
        if let Some(line) = self.line() {
            line.words.push(Word { text, gap });
        }
        match text {
            "(" | "[" => self.brackets += 1,
            ")" | "]" => self.brackets = self.brackets.saturating_sub(1),
            _ => {}
        }
        self.end = token.span.end as usize;
    }

    /// A `{` and, if the whole block stays on one line, all up to its `}`: how many more tokens that takes.
    fn block(&mut self, tokens: &[Token], comment: Option<&Comment>) -> usize {
        let Some((open, inner)) = tokens.split_first() else { return 0 };
        let after = closing(inner, |token| self.word_of(token));
        let last = after.checked_sub(1).and_then(|at| inner.get(at)).unwrap_or(open);
        let written = self.text.get(open.span.start as usize..last.span.end as usize).unwrap_or_default();
        let together = self.held.is_empty()
            && (after == 1 || !written.contains(['\n', '\r']))
            && comment.is_none_or(|comment| comment.span.start >= last.span.end);
        if together {
            let words = self.on_one_line(open, inner.get(..after).unwrap_or_default());
            if self.width() + words.iter().map(|word| word.gap.plain().len() + word.text.chars().count()).sum::<usize>() <= WIDTH {
                if let Some(line) = self.line() {
                    line.words.extend(words);
                }
                self.end = last.span.end as usize;
                return after;
            }
        }
        if let Some(line) = self.line() {
            line.words.push(Word { text: "{", gap: Gap::Blank });
        }
        if let Some(row) = self.rows.last_mut() {
            row.brace = true;
        }
        self.end = open.span.end as usize;
        self.depth += 1;
        self.opened = true;
        for comment in std::mem::take(&mut self.held) {
            self.comment(comment, None);
        }
        0
    }

    /// The width of the row so far, all on one line.
    fn width(&self) -> usize {
        let Some(row) = self.rows.last() else { return 0 };
        let words = row.lines.iter().flat_map(|line| &line.words);
        2 * row.depth + words.map(|word| word.gap.plain().len() + word.text.chars().count()).sum::<usize>()
    }

    fn on_one_line(&self, open: &Token, inner: &[Token]) -> Vec<Word<'t>> {
        let mut words = vec![Word { text: self.word_of(open), gap: Gap::Blank }];
        let mut after_open = true;
        for token in inner {
            let text = self.word_of(token);
            let gap = match token.joint {
                Joint::Begins if after_open || text == "}" => Gap::Blank,
                Joint::Begins => Gap::Semicolon,
                Joint::Touching => Gap::Touching,
                _ => Gap::Blank,
            };
            words.push(Word { text, gap });
            after_open = text == "{";
        }
        words
    }
}

fn gap(joint: Joint) -> Gap {
    match joint {
        Joint::Begins | Joint::Touching => Gap::Touching,
        Joint::Apart => Gap::Blank,
        Joint::Value => Gap::Value,
        Joint::Clause => Gap::Clause,
    }
}

/// How many tokens there are up to the `}` that closes the block just opened, itself included.
fn closing<'t>(inner: &[Token], word: impl Fn(&Token) -> &'t str) -> usize {
    let mut open = 1_usize;
    for (at, token) in inner.iter().enumerate() {
        match word(token) {
            "{" => open += 1,
            "}" => open -= 1,
            _ => {}
        }
        if open == 0 {
            return at + 1;
        }
    }
    inner.len()
}

/// Whether a property goes on in a line that begins with this word.
pub fn goes_on(word: &str, gap: Gap) -> bool {
    gap == Gap::Clause && (word.starts_with('"') || matches!(word, "default" | "assumed" | "usually" | "found"))
}

/// Whether a line may be broken between two words, and how gladly: the less the better.
///
/// Where `brackets` are open, the two sides of a choice begin their lines; elsewhere that would end the line.
pub fn break_rank(before: &str, after: &str, gap: Gap, brackets: usize) -> Option<usize> {
    let rank = match before {
        "," => 0,
        _ if brackets > 0 && matches!(after, "then" | "else") => 0,
        "because" => 0,
        "else" | "then" if brackets > 0 => return None,
        "else" => 1,
        "then" => 2,
        "where" | "for" => 3,
        "or" => 4,
        "and" => 5,
        "==" | "!=" | "<" | ">" | "<=" | ">=" | "≠" | "≤" | "≥" => 6,
        "+" | "-" => 7,
        "*" | "/" | "·" | "⋅" => 8,
        "(" | "[" => 9,
        _ if matches!(after, ")" | "]") => 9,
        _ => return None,
    };
    // A sign that touches what follows is not an operator: `-x`, `+3 mm -1 mm`.
    let fits = if rank == 9 { gap == Gap::Touching } else { gap == Gap::Blank };
    fits.then_some(rank)
}

/// What stands in a text at a span.
pub(super) fn slice(text: &str, span: Span) -> &str {
    text.get(span.start as usize..span.end as usize).unwrap_or_default()
}
