//! The slips that everybody makes in numbers, units and sizes, each with what to write instead.
//!
//! In: a piece that the grammar does not let through. Out: the slip, if it is that one.

use super::grammar::{Grammar, Rule};
use super::piece_of_text::{PieceOfText, is_line, outside_quotes};
use crate::problem::Problem;
use pest::Parser;

/// `6' 2"`, `6'`, `2-1/2"`
pub(super) fn tape_marks(piece: &PieceOfText<'_>) -> Option<Problem> {
    let text = piece.masked;
    // An odd quote behind a figure is the mark for inches: a text never begins there.
    let inches = text.rfind('"').filter(|at| {
        let quotes = text.matches('"').count();
        quotes % 2 == 1 && text.get(..*at).is_some_and(|before| before.trim_end().ends_with(|c: char| c.is_ascii_digit()))
    });
    let feet = outside_quotes(text).find(|(_, c)| *c == '\'').map(|(at, _)| at);
    let (mark, end) = match (feet, inches) {
        (Some(feet), Some(inches)) if feet < inches => (feet, inches + 1),
        (Some(feet), _) => (feet, feet + 1),
        (None, Some(inches)) => (inches, inches + 1),
        (None, None) => return None,
    };
    let before = text.get(..mark)?.trim_end();
    let number = |c: char| c.is_ascii_digit() || matches!(c, '.' | '/' | '-');
    let start = before.len() - before.chars().rev().take_while(|c| number(*c)).count();
    let reading = |text: &str| text.split_whitespace().collect::<Vec<_>>().join("-");
    let first = before.get(start..)?;
    let degrees = before.get(..start)?.trim_end();
    if degrees.ends_with("deg") || degrees.ends_with(['°', 'º']) {
        return minutes_of_arc(piece, start, end, feet, inches);
    }
    let written = match (feet, inches) {
        (Some(feet), Some(inches)) if feet < inches => {
            let rest = reading(text.get(feet + 1..inches)?);
            format!("{first} ft {} in", rest.trim_start_matches('-'))
        }
        (Some(_), _) => format!("{first} ft"),
        _ => format!("{first} in"),
    };
    Some(Problem::error("feet and inches are written out", piece.span(start, end), "these marks").help(format!("write `{written}`")).mend(
        format!("write `{written}`"),
        piece.span(start, end),
        written,
    ))
}

/// `57 deg 12' 30"`
fn minutes_of_arc(piece: &PieceOfText<'_>, start: usize, end: usize, minutes: Option<usize>, seconds: Option<usize>) -> Option<Problem> {
    let text = piece.masked;
    let written = match (minutes, seconds) {
        (Some(minutes), Some(seconds)) if minutes < seconds => {
            format!("{} arcmin {} arcsec", text.get(start..minutes)?.trim(), text.get(minutes + 1..seconds)?.trim())
        }
        (Some(minutes), _) => format!("{} arcmin", text.get(start..minutes)?.trim()),
        (None, Some(seconds)) => format!("{} arcsec", text.get(start..seconds)?.trim()),
        (None, None) => return None,
    };
    let span = piece.span(start, end);
    Some(Problem::error("minutes and seconds of arc are written out", span, "these marks").help(format!("write `{written}`")).mend(
        format!("write `{written}`"),
        span,
        written,
    ))
}

/// `1'000 mm`, `12'500.5 N`
pub(super) fn mark_of_thousands(piece: &PieceOfText<'_>) -> Option<Problem> {
    let text = piece.masked;
    let digits = |text: &str| text.len() - text.trim_start_matches(|c: char| c.is_ascii_digit()).len();
    let (at, _) = outside_quotes(text).find(|(at, c)| {
        let before = text.get(..*at).unwrap_or_default();
        *c == '\'' && before.ends_with(|c: char| c.is_ascii_digit()) && digits(text.get(at + 1..).unwrap_or_default()) == 3
    })?;
    let before = text.get(..at)?;
    let start = before.trim_end_matches(|c: char| c.is_ascii_digit() || c == '\'').len();
    let behind = text.get(at + 1..)?;
    let number = behind.len() - behind.trim_start_matches(|c: char| c.is_ascii_digit() || c == '\'').len();
    let span = piece.span(start, at + 1 + number);
    let written = text.get(start..at + 1 + number)?.replace('\'', "");
    Some(Problem::error("thousands are written without a mark", span, "one number").help(format!("write `{written}`")).mend(
        format!("write `{written}`"),
        span,
        written,
    ))
}

/// `8 m*tan(45 deg)`: a unit has no blanks inside, so the function's name was read as a part of it.
pub(super) fn unit_runs_into_call(piece: &PieceOfText<'_>) -> Option<Problem> {
    let text = piece.masked;
    let is_word = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_';
    outside_quotes(text).filter(|(_, c)| *c == '(').find_map(|(open, _)| {
        let before = text.get(..open)?;
        let name = before.trim_end_matches(is_word);
        let sign = name.chars().next_back().filter(|c| matches!(c, '*' | '/' | '·' | '⋅' | '-'))?;
        let unit_end = name.len() - sign.len_utf8();
        let unit = text.get(..unit_end)?;
        let number = unit.trim_end_matches(|c: char| c.is_alphanumeric() || "^*/·⋅°µ%²³".contains(c));
        let is_unit =
            unit.len() > number.len() && number.trim_end().ends_with(|c: char| c.is_ascii_digit() || c == '.') && name.len() < open;
        let is_unit = is_unit || unit.get(number.len()..)?.starts_with(|c: char| c.is_ascii_digit());
        if !is_unit || !unit.ends_with(|c: char| c.is_alphabetic() || "°%²³".contains(c)) {
            return None;
        }
        let span = piece.span(unit_end, unit_end + sign.len_utf8());
        let function = text.get(name.len()..open)?;
        let read = text.get(number.len()..open)?.trim_start_matches(|c: char| c.is_ascii_digit());
        Some(
            Problem::error(format!("`{read}` is read as one unit"), piece.span(open - read.len(), open), "no blank ends the unit")
                .help(format!("put blanks around the `{sign}`: `{sign} {function}(…)`"))
                .mend(format!("put blanks around the `{sign}`"), span, format!(" {sign} ")),
        )
    })
}

/// `load * 1.5 in kN`: the `in` was read as inches.
pub(super) fn inches_in_a_unit(piece: &PieceOfText<'_>) -> Option<Problem> {
    if piece.strict != Rule::shown {
        return None;
    }
    let text = piece.masked.trim_end();
    let unit_start = text.rfind([' ', '\t'])? + 1;
    let unit = text.get(unit_start..)?;
    let before = text.get(..unit_start)?.trim_end();
    let value = before.strip_suffix("in").filter(|value| value.ends_with([' ', '\t']))?.trim_end();
    let is_unit = unit.starts_with(|c: char| c.is_alphabetic() || c == '°' || c == '%');
    if !is_unit || !value.ends_with(|c: char| c.is_ascii_digit()) || Grammar::parse(Rule::shown, value).is_err() {
        return None;
    }
    let turned = format!("({value}) in {unit}");
    Some(
        Problem::error("`in` behind a number is inches", piece.span(before.len() - 2, before.len()), "read as inches")
            .help(format!("put brackets around what is to be shown in {unit}: `{turned}`"))
            .mend("put brackets around it", piece.span(0, text.len()), turned.clone()),
    )
}

/// `6h30m`
pub(super) fn hours_and_minutes(piece: &PieceOfText<'_>) -> Option<Problem> {
    let text = piece.masked;
    let digits = |text: &str| text.len() - text.trim_start_matches(|c: char| c.is_ascii_digit()).len();
    outside_quotes(text).filter(|(_, c)| *c == 'h').find_map(|(at, _)| {
        let before = text.get(..at)?;
        let start = before.trim_end_matches(|c: char| c.is_ascii_digit()).len();
        let count = digits(text.get(at + 1..)?);
        let rest = text.get(at + 1 + count..)?;
        let (hours, minutes) = (text.get(start..at)?, text.get(at + 1..at + 1 + count)?);
        let (hours_of, minutes_of): (f64, f64) = (hours.parse().ok()?, minutes.parse().ok()?);
        if !rest.starts_with('m') || rest.get(1..)?.starts_with(|c: char| c.is_ascii_alphabetic()) || minutes_of >= 60.0 {
            return None;
        }
        let degrees = hours_of * 15.0 + minutes_of / 4.0;
        Some(
            Problem::error("hours and minutes are written apart", piece.span(start, at + 2 + count), "hours and minutes")
                .help(format!("as an hour angle (15 deg for each hour) write `{degrees} deg`, as a time `{hours} h {minutes} min`")),
        )
    })
}

/// `2 1/2 in`
pub(super) fn blank_in_fraction(piece: &PieceOfText<'_>) -> Option<Problem> {
    let bytes = piece.masked.as_bytes();
    let digit = |at: usize| bytes.get(at).is_some_and(u8::is_ascii_digit);
    let slash = |at: usize| bytes.get(at) == Some(&b'/');
    for (at, _) in outside_quotes(piece.masked).filter(|(at, c)| *c == ' ' && *at > 0) {
        if !digit(at - 1) || !digit(at + 1) {
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
            let span = piece.span(start, end + 1);
            let mended = piece.masked.get(start..=end)?.replacen(' ', "-", 1);
            return Some(Problem::error("a mixed fraction has no blank in it", span, "one number").help(format!("write `{mended}`")).mend(
                format!("write `{mended}`"),
                span,
                mended,
            ));
        }
    }
    None
}

/// `3 m x 4 m`
pub(super) fn size_with_x(piece: &PieceOfText<'_>) -> Option<Problem> {
    let (at, _) = outside_quotes(piece.masked).find(|(at, c)| {
        let (before, after) = (piece.masked.get(..*at).unwrap_or_default(), piece.masked.get(at + 1..).unwrap_or_default());
        *c == 'x' && before.ends_with(' ') && after.starts_with(' ') && after.trim_start().starts_with(|c: char| c.is_ascii_digit())
    })?;
    let from = piece.first_word().len();
    (is_line(piece.strict) && at > from + 1).then(|| {
        Problem::error("a size is written with `by`", piece.span(at, at + 1), "here").help("write `3.6 m by 4.8 m`").mend(
            "write `by`",
            piece.span(at, at + 1),
            "by",
        )
    })
}
