//! Why a line could not be read, in a builder's words.
//!
//! The usual slips are looked for first and named; for the rest the strict grammar is run again on
//! the broken piece and the furthest place that it reached says what was expected there.

use super::grammar::{Grammar, Rule};
use crate::problem::Problem;
use crate::text::{FileId, Span};
use pest::Parser;
use pest::error::{ErrorVariant, InputLocation};

/// What to say of a piece that the grammar does not let through.
///
/// `strict` is the production that it should have been, `masked` the piece as the grammar sees it,
/// `written` as it stands in the file, `at` its offset there.
pub fn broken(strict: Rule, masked: &str, written: &str, file: FileId, at: u32) -> Problem {
    let lead = masked.len() - masked.trim_start().len();
    let masked = masked.get(lead..).unwrap_or_default();
    let written = written.get(lead..).unwrap_or(masked);
    let piece = PieceOfText { masked, written, file, at: at + u32::try_from(lead).unwrap_or(0) };
    piece.usual_slip(strict).unwrap_or_else(|| piece.expected(strict))
}

struct PieceOfText<'t> {
    masked: &'t str,
    written: &'t str,
    file: FileId,
    at: u32,
}

impl PieceOfText<'_> {
    fn span(&self, start: usize, end: usize) -> Span {
        let offset = |byte: usize| self.at + u32::try_from(byte).unwrap_or(0);
        Span { file: self.file, start: offset(start), end: offset(end.max(start)) }
    }

    fn first_word(&self) -> &str {
        let end = self.masked.find(|c: char| !(c.is_alphanumeric() || c == '_' || c == '.')).unwrap_or(self.masked.len());
        self.masked.get(..end).unwrap_or_default()
    }

    fn usual_slip(&self, strict: Rule) -> Option<Problem> {
        self.odd_character()
            .or_else(|| self.open_text())
            .or_else(|| self.sign_after_name(strict))
            .or_else(|| self.capital_in_name(strict))
            .or_else(|| self.blank_in_fraction())
            .or_else(|| self.tape_marks())
            .or_else(|| self.no_block(strict))
            .or_else(|| self.no_value(strict))
            .or_else(|| self.single_equal_sign())
    }

    /// Characters that look like others, outside quoted text.
    fn odd_character(&self) -> Option<Problem> {
        let mut quoted = false;
        for (at, c) in self.masked.char_indices() {
            quoted ^= c == '"';
            let plain = c.is_ascii() && (!c.is_ascii_control() || c.is_ascii_whitespace());
            if quoted || plain || "°º℃℉µμΩΩ€£¹²³⁴⁻·⋅±−≤≥≠\u{A0}\u{2009}\u{202F}".contains(c) {
                continue;
            }
            let span = self.span(at, at + c.len_utf8());
            let problem = |what: &str| Problem::error(what.to_owned(), span, "this character");
            return Some(match c {
                '×' => {
                    problem("`×` could be a size or a multiplication").help("write `by` for a size (`3.6 m by 4.8 m`), `*` to multiply")
                }
                '“' | '”' | '„' | '«' | '»' => problem("text stands in straight quotes")
                    .help("write `\"` in place of the curly quotes")
                    .mend("write a straight quote", span, "\""),
                '‘' | '’' | '′' | '″' => problem("feet and inches are written out").help("write `6 ft 2-1/2 in`"),
                '–' | '—' | '‐' | '‑' => problem("this dash is not a minus sign").help("write `-`").mend("write `-`", span, "-"),
                '⁄' | '½' | '¼' | '¾' | '⅛' | '⅜' | '⅝' | '⅞' => {
                    problem("a fraction is written with plain figures").help("write `3-1/2 in` or `5/8 in`")
                }
                '\u{200B}' | '\u{200C}' | '\u{200D}' | '\u{FEFF}' | '\u{2060}' | '\u{AD}' => {
                    problem("an invisible character stands here").help("delete it").mend("delete it", span, "")
                }
                c if c.is_alphabetic() => problem(&format!("the letter `{c}` (U+{:04X}) cannot stand in a name", u32::from(c)))
                    .help("names are plain lower-case letters a to z, digits and `_`; any text may stand in quotes"),
                // What is not to be seen, or turns the text around, is called by its number.
                c if c.is_control() || c.is_whitespace() || ('\u{200E}'..='\u{206F}').contains(&c) => {
                    problem(&format!("the character U+{:04X} cannot stand here", u32::from(c))).help("delete it").mend("delete it", span, "")
                }
                c => problem(&format!("the character `{c}` (U+{:04X}) cannot stand here", u32::from(c)))
                    .help("outside quoted text only plain letters, digits and signs are used"),
            });
        }
        None
    }

    fn open_text(&self) -> Option<Problem> {
        let mut open = None;
        let mut escaped = false;
        for (at, c) in self.masked.char_indices() {
            match c {
                _ if escaped => escaped = false,
                '\\' if open.is_some() => escaped = true,
                '"' => open = if open.is_some() { None } else { Some(at) },
                _ => {}
            }
        }
        let from = open?;
        let before = self.masked.get(..from).unwrap_or_default().trim_end();
        if before.ends_with(|c: char| c.is_ascii_digit()) {
            return Some(
                Problem::error("inches are written out", self.span(before.len() - 1, from + 1), "this mark")
                    .help("write `in` for inches and `ft` for feet: `6 ft 2-1/2 in`")
                    .mend("write `in`", self.span(from, from + 1), " in"),
            );
        }
        Some(
            Problem::error("this text is never closed", self.span(from, self.masked.trim_end().len()), "opened here")
                .help("close it with `\"` on the same line"),
        )
    }

    /// `station = 4.2 m`, `station: 4.2 m`
    fn sign_after_name(&self, strict: Rule) -> Option<Problem> {
        if !matches!(strict, Rule::only_line | Rule::only_property | Rule::only_rule_line | Rule::only_change | Rule::only_header) {
            return None;
        }
        let (mut name, mut from) = (self.first_word(), 0);
        if name == "let" {
            let rest = self.masked.get(3..)?;
            from = 3 + rest.len() - rest.trim_start().len();
            let rest = rest.trim_start();
            let end = rest.find(|c: char| !(c.is_alphanumeric() || c == '_')).unwrap_or(rest.len());
            name = rest.get(..end)?;
        }
        let after = self.masked.get(from + name.len()..)?;
        let at = from + name.len() + after.len() - after.trim_start().len();
        let sign = after.trim_start().chars().next().filter(|c| matches!(c, '=' | ':'))?;
        let rest = self.masked.get(at + 1..)?;
        (!name.is_empty() && !rest.starts_with('=')).then(|| {
            Problem::error(format!("no `{sign}` between a name and its value"), self.span(at, at + 1), "not needed")
                .help(format!("write `{name} {}`", rest.trim()))
                .mend(format!("take out `{sign}`"), self.span(from + name.len(), at + 1 + rest.len() - rest.trim_start().len()), " ")
        })
    }

    fn capital_in_name(&self, strict: Rule) -> Option<Problem> {
        let word = self.first_word();
        // The value of a `let` may hold any unit: only its name is looked at.
        let named = if word == "let" { 2 } else { usize::MAX };
        let named = if strict == Rule::only_header { named } else { 1 };
        let mut at = 0;
        let mut seen = 0;
        for token in self.masked.split_inclusive(|c: char| !(c.is_alphanumeric() || c == '_')) {
            let bare = token.trim_end_matches(|c: char| !(c.is_alphanumeric() || c == '_'));
            seen += usize::from(!bare.is_empty());
            if seen > named {
                break;
            }
            if bare.starts_with(|c: char| c.is_ascii_alphabetic())
                && bare.contains(|c: char| c.is_ascii_uppercase())
            {
                let lower = bare.to_ascii_lowercase();
                let span = self.span(at, at + bare.len());
                return Some(
                    Problem::error(format!("names are lower case: `{bare}`"), span, "here").help(format!("write `{lower}`")).mend(
                        format!("write `{lower}`"),
                        span,
                        lower,
                    ),
                );
            }
            if token.contains('"') {
                break;
            }
            at += token.len();
        }
        None
    }

    /// `2 1/2 in`
    fn blank_in_fraction(&self) -> Option<Problem> {
        let bytes = self.masked.as_bytes();
        let digit = |at: usize| bytes.get(at).is_some_and(u8::is_ascii_digit);
        let slash = |at: usize| bytes.get(at) == Some(&b'/');
        for at in 1..bytes.len() {
            if bytes.get(at) != Some(&b' ') || !digit(at - 1) || !digit(at + 1) {
                continue;
            }
            let mut end = at + 1;
            while digit(end) {
                end += 1;
            }
            if slash(end) && digit(end + 1) {
                let mut start = at;
                while start > 0 && digit(start - 1) {
                    start -= 1;
                }
                while digit(end + 1) {
                    end += 1;
                }
                let span = self.span(start, end + 1);
                let mended = self.masked.get(start..=end)?.replacen(' ', "-", 1);
                return Some(
                    Problem::error("a mixed fraction has no blank in it", span, "one number").help(format!("write `{mended}`")).mend(
                        format!("write `{mended}`"),
                        span,
                        mended,
                    ),
                );
            }
        }
        None
    }

    /// `6'`
    fn tape_marks(&self) -> Option<Problem> {
        let at = self.masked.find('\'')?;
        Some(Problem::error("feet and inches are written out", self.span(at, at + 1), "this mark").help("write `6 ft 2-1/2 in`").mend(
            "write `ft`",
            self.span(at, at + 1),
            " ft ",
        ))
    }

    fn no_block(&self, strict: Rule) -> Option<Problem> {
        if strict != Rule::only_header || self.masked.contains(['{', '}']) {
            return None;
        }
        // The header itself is right: what is missing is its block.
        Grammar::parse(Rule::only_header, self.masked).ok()?;
        let word = self.first_word();
        Some(
            Problem::error(format!("`{word}` has no block of lines"), self.span(0, self.masked.len()), "a block should follow")
                .help("write its lines between `{` and `}`"),
        )
    }

    fn no_value(&self, strict: Rule) -> Option<Problem> {
        let word = self.first_word();
        let alone = word.len() == self.masked.trim_end().len() && !word.is_empty();
        let is_line = matches!(strict, Rule::only_line | Rule::only_rule_line | Rule::only_property | Rule::only_change);
        (alone && is_line).then(|| {
            let what = if strict == Rule::only_property { "type" } else { "value" };
            Problem::error(format!("`{word}` has no {what}"), self.span(0, word.len()), format!("a {what} should follow")).help(
                if strict == Rule::only_property {
                    format!("say what may stand there, like `{word} length required`")
                } else {
                    "a line is a name and its value, like `station 4.40 m`".to_owned()
                },
            )
        })
    }

    fn single_equal_sign(&self) -> Option<Problem> {
        let bytes = self.masked.as_bytes();
        let mut quoted = false;
        for (at, byte) in bytes.iter().enumerate() {
            quoted ^= *byte == b'"';
            let before = at.checked_sub(1).and_then(|before| bytes.get(before));
            let alone = bytes.get(at + 1) != Some(&b'=') && !matches!(before, Some(b'=' | b'<' | b'>' | b'!'));
            if !quoted && *byte == b'=' && alone {
                return Some(
                    Problem::error("`=` does not compare", self.span(at, at + 1), "here")
                        .help("write `==` to ask whether two are equal")
                        .mend("write `==`", self.span(at, at + 1), "=="),
                );
            }
        }
        None
    }

    /// What the strict grammar expected at the furthest place that it reached.
    fn expected(&self, strict: Rule) -> Problem {
        let error = match Grammar::parse(strict, self.masked) {
            Ok(_) => return Problem::error("this cannot stand here", self.span(0, self.masked.len()), "here"),
            Err(error) => error,
        };
        let (InputLocation::Pos(at) | InputLocation::Span((at, _))) = error.location;
        let mut words: Vec<&str> = match &error.variant {
            ErrorVariant::ParsingError { positives, .. } => positives.iter().filter_map(|rule| in_words(*rule)).collect(),
            ErrorVariant::CustomError { .. } => Vec::new(),
        };
        words.sort_unstable();
        words.dedup();
        if words.contains(&"a value") {
            words.retain(|word| !VALUES.contains(word));
        }
        let expected = either(&words);
        let rest = self.masked.get(at..).unwrap_or_default();
        let found = found_word(rest);
        if found.is_empty() {
            let end = self.masked.trim_end().len();
            let from = self.masked.get(..end).unwrap_or_default().rfind(char::is_whitespace).map_or(0, |blank| blank + 1);
            return Problem::error("this line stops too early", self.span(from, end), "the last thing read").help(if expected.is_empty() {
                "finish the line".to_owned()
            } else {
                format!("{expected} should follow")
            });
        }
        let shown = self.written.get(at..at + found.len()).unwrap_or(found);
        let problem = Problem::error(format!("`{shown}` cannot stand here"), self.span(at, at + found.len()), "read as far as here");
        if expected.is_empty() { problem } else { problem.help(format!("{expected} could stand here")) }
    }
}

fn found_word(rest: &str) -> &str {
    let rest = rest.trim_end();
    let Some(first) = rest.chars().next() else { return "" };
    let end = if first.is_alphanumeric() {
        rest.find(|c: char| !(c.is_alphanumeric() || c == '_')).unwrap_or(rest.len())
    } else {
        first.len_utf8()
    };
    rest.get(..end).unwrap_or(rest)
}

fn either(words: &[&str]) -> String {
    match words {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [most @ .., last] => format!("{} or {last}", most.join(", ")),
    }
}

/// What goes without saying where a value is expected.
const VALUES: [&str; 6] =
    ["a name", "a number with its unit", "a text in quotes", "a date like 2027-05-02", "`yes` or `no`", "an argument"];

/// What each production is called to a person; `None` where naming it would not help.
fn in_words(rule: Rule) -> Option<&'static str> {
    Some(match rule {
        Rule::name | Rule::word | Rule::reserved => "a name",
        Rule::path => "a rule's name with its area, like `travel.open_sensor_margin`",
        Rule::text | Rule::text_inside => "a text in quotes",
        Rule::number | Rule::quantity | Rule::digits_token => "a number with its unit",
        Rule::unit => "a unit",
        Rule::date => "a date like 2027-05-02",
        Rule::value | Rule::item | Rule::toleranced | Rule::expression => "a value",
        Rule::tolerance | Rule::signed_pair => "a tolerance like `± 5 mm`",
        Rule::or | Rule::and | Rule::eq | Rule::ne | Rule::lt | Rule::le | Rule::gt | Rule::ge => "a comparison",
        Rule::add | Rule::sub | Rule::mul | Rule::div | Rule::pow => "an operator like `+` or `*`",
        Rule::field | Rule::index => "`.` and a property",
        Rule::neg | Rule::not => "a value",
        Rule::yes | Rule::no => "`yes` or `no`",
        Rule::group | Rule::list | Rule::call | Rule::call_open | Rule::choice_of_two => "a value",
        Rule::argument | Rule::argument_name => "an argument",
        Rule::binder => "`name in kind`",
        Rule::line | Rule::let_line | Rule::each_line => "a line: a name and its value",
        Rule::elements => "`[1..4]`",
        Rule::like => "`like` and a pattern's name",
        Rule::body | Rule::kind_body | Rule::rule_body | Rule::changes => "`{` and its lines",
        Rule::component | Rule::change => "a block",
        Rule::property_type | Rule::plain_type | Rule::link_type | Rule::link_kw | Rule::links_kw => {
            "a type like `length`, `link to post` or `one of open, shut`"
        }
        Rule::one_of | Rule::list_of | Rule::range_of | Rule::size_of => "a type like `length`, `link to post` or `one of open, shut`",
        Rule::clause | Rule::required | Rule::default | Rule::assumed | Rule::source | Rule::carrying => {
            "`required`, `default`, `assumed … because`, `source`, `carrying` or a text"
        }
        Rule::because => "`because` and the reason in quotes",
        Rule::bound | Rule::bound_word => "`at_least`, `at_most`, `above` or `below`",
        // Blocks, lines and silent productions: to name them would not help.
        _ => return None,
    })
}
