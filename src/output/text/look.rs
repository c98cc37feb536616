//! How a page looks: its width, whether it may be coloured, which signs the reader's terminal has.

use std::borrow::Cow;

/// What the reader's terminal, or the file that takes its place, can show.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Look {
    /// Columns to write in.
    pub width: usize,
    /// Colours may be used.
    pub colour: bool,
    /// Signs beyond ASCII may be used.
    pub unicode: bool,
    /// Said in words and not drawn, for a screen reader.
    pub narrated: bool,
}

/// What a piece of text is for; its colour follows from that and never carries meaning alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tone {
    /// It does not hold, or could not be understood.
    Bad,
    /// It holds with little left.
    Near,
    /// Not known.
    Open,
    /// It holds.
    Good,
    /// To be found quickly.
    Strong,
    /// For who looks for it.
    Quiet,
}

/// Keys of a list of facts are this wide.
const KEY: usize = 10;
/// Where there is less room than this after the key, the page runs over: words torn apart help nobody.
const LEAST_TEXT: usize = 20;

impl Look {
    /// Text in a tone.
    #[must_use]
    pub fn paint(&self, tone: Tone, text: &str) -> String {
        if !self.colour || text.is_empty() {
            return text.to_owned();
        }
        let code = match tone {
            Tone::Bad => "1;31",
            Tone::Near => "1;33",
            Tone::Open => "1;36",
            Tone::Good => "32",
            Tone::Strong => "1",
            Tone::Quiet => "2",
        };
        format!("\u{1b}[{code}m{text}\u{1b}[0m")
    }

    /// Text that a terminal can only show: no control characters, no sign that turns the writing round,
    /// and no typographer's sign where only ASCII can be counted on.
    #[must_use]
    pub fn tame<'t>(&self, text: &'t str) -> Cow<'t, str> {
        let fits = |sign: char| !is_wild(sign) && (self.unicode || in_ascii(sign).is_none());
        if text.chars().all(fits) {
            return Cow::Borrowed(text);
        }
        let mut tamed = String::with_capacity(text.len());
        for sign in text.chars() {
            match (is_wild(sign), self.unicode) {
                (true, true) => tamed.push('\u{FFFD}'),
                (true, false) => tamed.push('?'),
                (false, true) => tamed.push(sign),
                (false, false) => match in_ascii(sign) {
                    Some(plain) => tamed.push_str(plain),
                    None => tamed.push(sign),
                },
            }
        }
        Cow::Owned(tamed)
    }

    /// Text wrapped to the page, the first line after `first`, the others after `rest` (both already painted;
    /// `indent` columns wide).
    #[must_use]
    pub fn wrap(&self, first: &str, rest: &str, indent: usize, text: &str) -> String {
        let text = self.tame(text);
        let room = self.width.saturating_sub(indent).max(LEAST_TEXT);
        let lines = textwrap::wrap(&text, textwrap::Options::new(room).break_words(false));
        let mut out = String::new();
        for (at, line) in lines.iter().enumerate() {
            out.push_str(if at == 0 { first } else { rest });
            out.push_str(line);
            out.push('\n');
        }
        out
    }

    /// A paragraph.
    #[must_use]
    pub fn paragraph(&self, indent: usize, text: &str) -> String {
        let blank = " ".repeat(indent);
        self.wrap(&blank, &blank, indent, text)
    }

    /// One fact of a list: a key and what there is to say, the text of all facts in one column.
    #[must_use]
    pub fn fact(&self, key: &str, text: &str) -> String {
        if self.narrated {
            return if key.is_empty() { self.paragraph(2, text) } else { self.wrap(&format!("  {key}: "), "", key.len() + 4, text) };
        }
        let start = format!("  {}  ", self.paint(Tone::Quiet, &format!("{key:<KEY$}")));
        self.wrap(&start, &" ".repeat(KEY + 4), KEY + 4, text)
    }

    /// A dash between two parts of a line.
    #[must_use]
    pub fn dash(&self) -> &'static str {
        if self.unicode { "–" } else { "-" }
    }
}

/// Signs that move the cursor, start an escape sequence or turn the writing round.
pub(super) fn is_wild(sign: char) -> bool {
    sign.is_control() || matches!(sign, '\u{200E}' | '\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}')
}

/// Typographer's signs that this program itself writes, in ASCII.
fn in_ascii(sign: char) -> Option<&'static str> {
    Some(match sign {
        '…' => "...",
        '→' => "->",
        '–' | '−' => "-",
        '±' => "+-",
        '×' => "x",
        '·' => "*",
        '≤' => "<=",
        '≥' => ">=",
        '°' => "deg",
        '²' => "2",
        '³' => "3",
        '⁴' => "4",
        _ => return None,
    })
}
