//! The slips that everybody makes, each with what to write instead.
//!
//! In: a piece that the grammar does not let through. Out: the first usual slip that is found in it.
//! They are looked for in the order in which one hides another.

use super::grammar::{Grammar, Rule};
use super::piece_of_text::{PieceOfText, is_line, outside_quotes};
use super::slips_of_numbers::{
    blank_in_fraction, hours_and_minutes, inches_in_a_unit, mark_of_thousands, size_with_x, tape_marks, unit_runs_into_call,
};
use crate::problem::Problem;
use pest::Parser;

/// The usual slip that a piece holds, if there is one.
pub fn usual(piece: &PieceOfText<'_>) -> Option<Problem> {
    let slips: [fn(&PieceOfText<'_>) -> Option<Problem>; 21] = [
        odd_character,
        mark_of_thousands,
        tape_marks,
        open_text,
        comment_marks,
        not_known,
        sign_after_name,
        capital_in_name,
        dash_in_name,
        blank_in_fraction,
        no_block,
        no_value,
        sign_after_argument,
        single_equal_sign,
        open_bracket,
        unit_runs_into_call,
        inches_in_a_unit,
        hours_and_minutes,
        size_with_x,
        blank_after_dot,
        word_before_number,
    ];
    slips.iter().find_map(|slip| slip(piece))
}

/// Characters that look like others.
fn odd_character(piece: &PieceOfText<'_>) -> Option<Problem> {
    let known = |c: char| {
        let plain = c.is_ascii() && (!c.is_ascii_control() || c.is_ascii_whitespace());
        plain || "°º℃℉µμΩΩ€£¹²³⁴⁻·⋅±−≤≥≠".contains(c)
    };
    let (at, c) = outside_quotes(piece.masked).find(|(_, c)| !known(*c))?;
    let span = piece.span(at, at + c.len_utf8());
    let problem = |what: &str| Problem::error(what.to_owned(), span, "this character");
    Some(match c {
        '×' => problem("`×` could be a size or a multiplication").help("write `by` for a size (`3.6 m by 4.8 m`), `*` to multiply"),
        '“' | '”' | '„' | '«' | '»' => {
            let is_curly = |c: char| "“”„«»".contains(c);
            let last = piece.masked.char_indices().rfind(|(_, c)| is_curly(*c));
            let end = last.map_or(at + c.len_utf8(), |(last, c)| last + c.len_utf8());
            let straight = piece.written.get(at..end).unwrap_or_default().replace(is_curly, "\"");
            problem("text stands in straight quotes").help("write `\"` in place of the curly quotes").mend(
                "write straight quotes",
                piece.span(at, end),
                straight,
            )
        }
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
    })
}

/// `velocity_pressure(speed = 26 m/s)`
fn sign_after_argument(piece: &PieceOfText<'_>) -> Option<Problem> {
    let text = piece.masked;
    let alone = |at: usize| {
        let (before, after) = (text.get(..at).unwrap_or_default(), text.get(at + 1..).unwrap_or_default());
        !after.starts_with('=') && !before.ends_with(['=', '<', '>', '!'])
    };
    let is_word = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_';
    outside_quotes(text).filter(|(at, c)| matches!(c, '=' | ':') && alone(*at)).find_map(|(at, sign)| {
        let named = text.get(..at)?.trim_end();
        let before = named.trim_end_matches(is_word);
        let open = before.trim_end();
        let name = named.get(before.len()..).filter(|name| name.starts_with(|c: char| c.is_ascii_lowercase()))?;
        if !is_in_call(open) || !open.ends_with(['(', ',']) {
            return None;
        }
        let rest = text.get(at + 1..)?;
        let end = at + 1 + rest.len() - rest.trim_start().len();
        let value: String = rest.trim_start().chars().take_while(|c| !matches!(c, ',' | ')')).collect();
        Some(
            Problem::error(format!("no `{sign}` between an argument's name and its value"), piece.span(at, at + 1), "not needed")
                .help(format!("write `{name} {}`", value.trim_end()))
                .mend(format!("take out `{sign}`"), piece.span(named.len(), end), " "),
        )
    })
}

/// Whether the last bracket that is open in a text is the one of a call.
fn is_in_call(text: &str) -> bool {
    let mut open: Vec<bool> = Vec::new();
    for (at, c) in outside_quotes(text) {
        match c {
            '(' => open.push(
                text.get(..at).is_some_and(|before| before.ends_with(|c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_')),
            ),
            '[' => open.push(false),
            ')' | ']' => drop(open.pop()),
            _ => {}
        }
    }
    open.last().copied().unwrap_or(false)
}

fn open_text(piece: &PieceOfText<'_>) -> Option<Problem> {
    let (mut open, mut escaped) = (None, false);
    for (at, c) in piece.masked.char_indices() {
        match c {
            _ if escaped => escaped = false,
            '\\' if open.is_some() => escaped = true,
            '"' => open = if open.is_some() { None } else { Some(at) },
            _ => {}
        }
    }
    Some(
        Problem::error("this text is never closed", piece.span(open?, piece.masked.trim_end().len()), "opened here")
            .help("close it with `\"` on the same line"),
    )
}

/// `station 4.2 m // by tape`
fn comment_marks(piece: &PieceOfText<'_>) -> Option<Problem> {
    let (at, _) = outside_quotes(piece.masked).find(|(at, _)| piece.masked.get(*at..).is_some_and(|rest| rest.starts_with("//")))?;
    let span = piece.span(at, at + 2);
    Some(Problem::error("a comment begins with `#`", span, "here").help("write `#` in place of `//`").mend("write `#`", span, "#"))
}

/// `station ?`
fn not_known(piece: &PieceOfText<'_>) -> Option<Problem> {
    let (at, _) = outside_quotes(piece.masked).find(|(_, c)| *c == '?').filter(|_| is_line(piece.strict))?;
    Some(
        Problem::error("what is not known yet is left out", piece.span(at, at + 1), "not a value")
            .help("put `#` before the line: the checks that wait for it are then undetermined, and say so"),
    )
}

/// `wind speed 24 m/s`, `wind_speed m/s 24`
fn word_before_number(piece: &PieceOfText<'_>) -> Option<Problem> {
    let name = piece.first_word();
    let rest = piece.masked.get(name.len()..).filter(|rest| is_line(piece.strict) && rest.starts_with([' ', '\t']))?;
    let word = rest.split_whitespace().next().filter(|word| word.starts_with(|c: char| c.is_alphabetic()))?;
    let start = name.len() + rest.len() - rest.trim_start().len();
    let behind = piece.masked.get(start + word.len()..)?;
    let number = behind.trim_start();
    let digits = number.find(|c: char| !(c.is_ascii_digit() || c == '.')).unwrap_or(number.len());
    if digits == 0 || !number.starts_with(|c: char| c.is_ascii_digit()) {
        return None;
    }
    let end = start + word.len() + behind.len() - number.len() + digits;
    if number.len() == digits || number.get(digits..)?.trim().is_empty() {
        let turned = format!("{} {word}", number.get(..digits)?);
        return Some(
            Problem::error("a number stands before its unit", piece.span(start, end), "the other way round")
                .help(format!("write `{turned}`"))
                .mend(format!("write `{turned}`"), piece.span(start, end), turned),
        );
    }
    let is_name = word.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_');
    is_name.then(|| {
        let joined = format!("{name}_{word}");
        Problem::error("a name is one word, and its value stands behind it", piece.span(start, start + word.len()), "a second word")
            .help(format!("write `{joined}`, or take `{word}` out"))
    })
}

/// `station = 4.2 m`, `station: 4.2 m`
fn sign_after_name(piece: &PieceOfText<'_>) -> Option<Problem> {
    if !is_line(piece.strict) && piece.strict != Rule::only_header {
        return None;
    }
    let (mut name, mut from) = (piece.first_word(), 0);
    let is_let = name == "let";
    if is_let {
        let rest = piece.masked.get(3..)?;
        from = 3 + rest.len() - rest.trim_start().len();
        let rest = rest.trim_start();
        let end = rest.find(|c: char| !(c.is_alphanumeric() || c == '_')).unwrap_or(rest.len());
        name = rest.get(..end)?;
    }
    let after = piece.masked.get(from + name.len()..)?;
    let at = from + name.len() + after.len() - after.trim_start().len();
    let sign = after.trim_start().chars().next().filter(|c| matches!(c, '=' | ':'))?;
    let rest = piece.masked.get(at + 1..)?;
    (!name.is_empty() && !rest.starts_with('=')).then(|| {
        let shown = format!("{}{name} {}", if is_let { "let " } else { "" }, rest.trim());
        Problem::error(format!("no `{sign}` between a name and its value"), piece.span(at, at + 1), "not needed")
            .help(format!("write `{shown}`"))
            .mend(format!("take out `{sign}`"), piece.span(from + name.len(), at + 1 + rest.len() - rest.trim_start().len()), " ")
    })
}

fn capital_in_name(piece: &PieceOfText<'_>) -> Option<Problem> {
    // The value of a `let` or of a line may hold any unit: only the names in front are looked at.
    let named = match (piece.strict, piece.first_word()) {
        (Rule::only_header, "let") => 2,
        (Rule::only_header, _) => usize::MAX,
        _ => 1,
    };
    let is_word = |c: char| c.is_alphanumeric() || c == '_';
    let (mut at, mut seen) = (0, 0);
    for token in piece.masked.split_inclusive(|c: char| !is_word(c)) {
        let bare = token.trim_end_matches(|c: char| !is_word(c));
        seen += usize::from(!bare.is_empty());
        if seen > named {
            return None;
        }
        if bare.starts_with(|c: char| c.is_ascii_alphabetic()) && bare.contains(|c: char| c.is_ascii_uppercase()) {
            let (lower, span) = (bare.to_ascii_lowercase(), piece.span(at, at + bare.len()));
            return Some(Problem::error(format!("names are lower case: `{bare}`"), span, "here").help(format!("write `{lower}`")).mend(
                format!("write `{lower}`"),
                span,
                lower,
            ));
        }
        if token.contains('"') {
            return None;
        }
        at += token.len();
    }
    None
}

/// `peg north-peg { … }`
fn dash_in_name(piece: &PieceOfText<'_>) -> Option<Problem> {
    if piece.strict != Rule::only_header || matches!(piece.first_word(), "let" | "use" | "measured") {
        return None;
    }
    let is_word = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_';
    let at = outside_quotes(piece.masked).find(|(_, c)| *c == '-').map(|(at, _)| at)?;
    let (before, after) = (piece.masked.get(..at)?, piece.masked.get(at..)?);
    let start = before.rfind(|c: char| !is_word(c)).map_or(0, |last| last + 1);
    let end = at + after.find(|c: char| !is_word(c) && c != '-').unwrap_or(after.len());
    let word = piece.masked.get(start..end)?;
    (start < at && end > at + 1).then(|| {
        let joined = word.replace('-', "_");
        Problem::error("a name has no `-` in it", piece.span(start, end), "this name").help(format!("write `{joined}`")).mend(
            format!("write `{joined}`"),
            piece.span(start, end),
            joined,
        )
    })
}

/// A header alone, or a line that stands in no block.
fn no_block(piece: &PieceOfText<'_>) -> Option<Problem> {
    if piece.strict != Rule::only_header || piece.block || piece.masked.contains(['{', '}']) {
        return None;
    }
    let (word, whole) = (piece.first_word(), piece.span(0, piece.masked.trim_end().len()));
    if Grammar::parse(Rule::only_header, piece.masked).is_ok() {
        return Some(
            Problem::error(format!("`{word}` has no block of lines"), whole, "a block should follow")
                .help("write its lines between `{` and `}`"),
        );
    }
    (word != "let" && word != "use" && Grammar::parse(Rule::only_line, piece.masked).is_ok()).then(|| {
        Problem::error("this line stands in no block", whole, "outside any block")
            .help("a line stands between the `{` and the `}` of what it is about")
    })
}

fn no_value(piece: &PieceOfText<'_>) -> Option<Problem> {
    let word = piece.first_word();
    let alone = word.len() == piece.masked.trim_end().len() && !word.is_empty();
    if !alone || !is_line(piece.strict) {
        return None;
    }
    let what = if piece.strict == Rule::only_property { "type" } else { "value" };
    let problem = Problem::error(format!("`{word}` has no {what}"), piece.span(0, word.len()), format!("a {what} should follow"));
    Some(if piece.strict == Rule::only_property {
        problem.help(format!("say what may stand there, like `{word} length required`"))
    } else {
        problem.help("a line is a name and its value, like `station 4.40 m`")
    })
}

/// `if a = b then …`
fn single_equal_sign(piece: &PieceOfText<'_>) -> Option<Problem> {
    let bytes = piece.masked.as_bytes();
    let alone = |at: usize| {
        let before = at.checked_sub(1).and_then(|before| bytes.get(before));
        bytes.get(at + 1) != Some(&b'=') && !matches!(before, Some(b'=' | b'<' | b'>' | b'!'))
    };
    let (at, _) = outside_quotes(piece.masked).find(|(at, c)| *c == '=' && alone(*at))?;
    Some(Problem::error("`=` does not compare", piece.span(at, at + 1), "here").help("write `==` to ask whether two are equal").mend(
        "write `==`",
        piece.span(at, at + 1),
        "==",
    ))
}

/// A bracket without its partner.
fn open_bracket(piece: &PieceOfText<'_>) -> Option<Problem> {
    let mut open: Vec<(usize, char)> = Vec::new();
    for (at, c) in outside_quotes(piece.masked) {
        let partner = match c {
            '(' | '[' => {
                open.push((at, c));
                continue;
            }
            ')' => '(',
            ']' => '[',
            _ => continue,
        };
        match open.pop() {
            Some((_, bracket)) if bracket == partner => {}
            Some((at, bracket)) => {
                open.push((at, bracket));
                break;
            }
            None => {
                let span = piece.span(at, at + 1);
                return Some(
                    Problem::error(format!("this `{c}` closes nothing"), span, "no bracket is open here")
                        .help("take it out, or open the bracket before it")
                        .mend(format!("take out `{c}`"), span, ""),
                );
            }
        }
    }
    let (at, bracket) = open.pop()?;
    let close = if bracket == '(' { ')' } else { ']' };
    Some(
        Problem::error("this bracket is never closed", piece.span(at, at + 1), "opened here")
            .help(format!("write `{close}` where it ends")),
    )
}

/// `north_wall. height`
fn blank_after_dot(piece: &PieceOfText<'_>) -> Option<Problem> {
    let behind = |at: usize| piece.masked.get(at + 1..).unwrap_or_default();
    let (at, _) = outside_quotes(piece.masked).find(|(at, c)| {
        let rest = behind(*at);
        *c == '.' && rest.starts_with([' ', '\t']) && rest.trim_start().starts_with(|c: char| c.is_ascii_lowercase())
    })?;
    let rest = behind(at);
    let blanks = piece.span(at + 1, at + 1 + rest.len() - rest.trim_start().len());
    Some(Problem::error("no blank behind the `.` of a property", piece.span(at, at + 1), "here").help("write `north_wall.height`").mend(
        "take out the blank",
        blanks,
        "",
    ))
}
