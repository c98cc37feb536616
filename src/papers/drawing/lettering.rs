//! How long a text is on the paper, and how a length is written in a dimension.
//!
//! Widths are those of Helvetica, which the usual sans-serif fonts share or keep below; whoever writes a text out
//! holds it to this length, so that nothing runs into its neighbour with any font.

use crate::units::{METRE_PER_INCH, System};

/// Height of small text on a sheet, mm: labels and notes. ISO 3098-1.
pub const SMALL: f64 = 1.8;
/// Height of dimensions, mm. ISO 3098-1.
pub const NORMAL: f64 = 2.5;
/// Height of titles, mm. ISO 3098-1.
pub const LARGE: f64 = 3.5;

/// What hangs below the base line, as a part of the height of capitals.
pub const BELOW: f64 = 0.3;
/// Size of a font as a part of the height of its capitals: Helvetica's capitals are 0.718 of its size.
pub const FONT_SIZE: f64 = 1.0 / 0.718;

/// Widths of Helvetica from the space to `~`, in thousandths of the font's size. Source: Adobe Font Metrics, Helvetica
/// (from memory).
const WIDTHS: [u16; 95] = [
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 278,
    278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778, 667, 778, 722, 667, 611, 722,
    667, 944, 667, 667, 611, 278, 278, 278, 469, 556, 333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556, 556,
    556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
];
/// Of any other sign.
const OTHER: u16 = 600;
/// Of a sign of a script that fills a square.
const SQUARE: u16 = 1000;

/// How long a text is, mm, when its capitals are `height` mm high.
#[must_use]
pub fn length(text: &str, height: f64) -> f64 {
    let width = |c: char| {
        let code = u32::from(c);
        let narrow = usize::try_from(code).ok().and_then(|code| code.checked_sub(32)).and_then(|at| WIDTHS.get(at).copied());
        narrow.unwrap_or(if code >= 0x1100 && c != '→' { SQUARE } else { OTHER })
    };
    let thousandths: u64 = text.chars().map(|c| u64::from(width(c))).sum();
    #[expect(clippy::cast_precision_loss, reason = "texts are far shorter than 2^52")]
    let parts = thousandths as f64 / 1000.0;
    parts * height * FONT_SIZE
}

/// A text broken into lines that are no longer than that, mm. A word that is longer stands by itself.
#[must_use]
pub fn lines(text: &str, height: f64, most: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if length(&format!("{line} {word}"), height) <= most => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

/// A text cut so that it is no longer than that, mm.
#[must_use]
pub fn cut(text: &str, height: f64, most: f64) -> String {
    if length(text, height) <= most {
        return text.to_owned();
    }
    let mut kept = String::new();
    for c in text.chars() {
        if length(&kept, height) + length("…", height) + length(&c.to_string(), height) > most {
            break;
        }
        kept.push(c);
    }
    kept.trim_end().to_owned() + "…"
}

/// Parts of an inch to which a dimension is written.
const PARTS_OF_AN_INCH: f64 = 16.0;

/// A length (m) in a dimension: millimetres without a unit, or feet and inches to the sixteenth. What does not lie
/// on the mark it is written with has a `~` before it.
#[must_use]
pub fn dimension(si: f64, system: System) -> String {
    let sign = if si < -1e-9 { "-" } else { "" };
    if system == System::Us {
        let inches = (si / METRE_PER_INCH).abs();
        let sixteenths = (inches * PARTS_OF_AN_INCH).round();
        let about = if (inches * PARTS_OF_AN_INCH - sixteenths).abs() > 0.02 { "~" } else { "" };
        return format!("{about}{sign}{}", feet_and_inches(sixteenths));
    }
    let mm = (si * 1000.0).abs();
    let tenths = (mm * 10.0).round() / 10.0;
    let about = if (mm - tenths).abs() > 0.01 { "~" } else { "" };
    if (tenths - tenths.round()).abs() < 1e-9 { format!("{about}{sign}{tenths:.0}") } else { format!("{about}{sign}{tenths:.1}") }
}

fn feet_and_inches(sixteenths: f64) -> String {
    let feet = (sixteenths / (12.0 * PARTS_OF_AN_INCH)).floor();
    let rest = sixteenths - feet * 12.0 * PARTS_OF_AN_INCH;
    let inches = (rest / PARTS_OF_AN_INCH).floor();
    let (mut above, mut below) = (rest - inches * PARTS_OF_AN_INCH, PARTS_OF_AN_INCH);
    while above > 0.0 && above % 2.0 == 0.0 {
        (above, below) = (above / 2.0, below / 2.0);
    }
    let part = if above > 0.0 { format!("{above:.0}/{below:.0}") } else { String::new() };
    let whole = match (inches > 0.0, part.is_empty()) {
        (true, true) => format!("{inches:.0}\""),
        (true, false) => format!("{inches:.0}-{part}\""),
        (false, false) => format!("{}{part}\"", if feet > 0.0 { "0-" } else { "" }),
        (false, true) => "0\"".to_owned(),
    };
    if feet > 0.0 { format!("{feet:.0}'-{whole}") } else { whole }
}
