//! The lists for the site: what to buy, the order of work, the cards on the wall.
//!
//! In: a takeoff, a sequence, cards. Out: text for a terminal, Markdown, CSV, a bar chart, a calendar, a page to print. It
//! works nothing out.

mod accounts;
mod calendar;
mod cards;
mod chart;
pub mod markdown;
mod order;
mod takeoff;

pub use accounts::accounts_text;
pub use calendar::{CALENDAR_MARK, sequence_calendar};
pub use cards::{cards_html, cards_markdown, cards_text};
pub use chart::sequence_chart;
pub use order::{sequence_markdown, sequence_text};
pub use takeoff::{CSV_HEAD, takeoff_csv, takeoff_markdown, takeoff_text};

pub(super) use cards::cautions;
pub(super) use order::{remark, summary, takes, title_of, visit_title, waits};
pub(super) use takeoff::{buy, cuts, money, to_order, total, uses, verdict};

use crate::papers::unknown::Unknown;
use crate::syntax::tree::Date;
use smol_str::SmolStr;

/// Stands at the head of a document that can carry a comment.
const MADE: &str = "made by wallplate";

/// `east_gantry[1] to [3], west_gantry[1]`: elements of an array that follow each other, together.
pub fn names(names: &[SmolStr]) -> String {
    let mut parts: Vec<(String, Option<(u32, u32)>)> = Vec::new();
    for name in names {
        let element =
            name.strip_suffix(']').and_then(|name| name.rsplit_once('[')).and_then(|(name, at)| Some((name, at.parse::<u32>().ok()?)));
        match (element, parts.last_mut()) {
            (Some((name, at)), Some((known, Some((_, last))))) if known == name && at == *last + 1 => *last = at,
            (Some((name, at)), _) => parts.push((name.to_owned(), Some((at, at)))),
            (None, _) => parts.push((name.to_string(), None)),
        }
    }
    let shown = parts.into_iter().map(|(name, run)| match run {
        None => name,
        Some((first, last)) if first == last => format!("{name}[{first}]"),
        Some((first, last)) => format!("{name}[{first}] to [{last}]"),
    });
    shown.collect::<Vec<_>>().join(", ")
}

fn unknown(unknown: &Unknown) -> String {
    let of = if unknown.of.is_empty() { String::new() } else { format!(" ({})", names(&unknown.of)) };
    format!("{}{of}: {}", unknown.what, unknown.help())
}

/// A day counted from 0, as a date where the first day is known: `day 3`, `2027-05-06`.
pub(super) fn day(days: f64, start: Option<Date>) -> String {
    #[expect(clippy::cast_possible_truncation, reason = "days of a building site")]
    let whole = (days + 1e-6).floor() as i64;
    match start.and_then(|start| Date::of_number(start.number() + whole)) {
        Some(date) => date.to_string(),
        None => format!("day {}", whole + 1),
    }
}

/// `3`, `2.5`: days as one says them.
fn count(days: f64) -> String {
    let rounded = (days * 10.0).round() / 10.0;
    if (rounded - rounded.round()).abs() < 1e-9 { format!("{rounded:.0}") } else { format!("{rounded:.1}") }
}

/// `1/4 day`, `2-1/2 days`: work to the eighth of a day.
pub fn work(days: f64) -> String {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "days of a building site")]
    let eighths = (days * 8.0).round().max(0.0) as u64;
    let (whole, rest) = (eighths / 8, eighths % 8);
    let part = match rest {
        0 => String::new(),
        2 | 6 => format!("{}/4", rest / 2),
        4 => "1/2".to_owned(),
        odd => format!("{odd}/8"),
    };
    match (whole, part.is_empty()) {
        (1, true) => "1 day".to_owned(),
        (_, true) => format!("{whole} days"),
        (0, false) => format!("{part} day"),
        (_, false) => format!("{whole}-{part} days"),
    }
}
