//! The visits of the trades in a calendar: iCalendar (RFC 5545), an event of whole days for each.

use super::order::{remark, title_of, visit_title};
use crate::papers::sequence::Sequence;
use crate::syntax::tree::Date;
use std::fmt::Write;

/// Names the program that made a calendar (RFC 5545 §3.7.3): by it an earlier one is known for ours.
pub const CALENDAR_MARK: &str = "PRODID:-//Wallplate//Order of work//EN";
/// A line has at most 75 octets (RFC 5545 §3.1).
const LINE: usize = 75;

/// The visits as events, the first day of work on `start`. The same work gives the same text: who takes it in again changes
/// the events that he has.
#[must_use]
pub fn sequence_calendar(sequence: &Sequence, name: &str, start: Date) -> String {
    let mut out = String::new();
    for line in ["BEGIN:VCALENDAR", "VERSION:2.0", CALENDAR_MARK, "CALSCALE:GREGORIAN"] {
        fold(&mut out, line);
    }
    fold(&mut out, &format!("NAME:{}", escape(&format!("Order of work: {name}"))));
    for visit in &sequence.visits {
        let (Some(first), Some(last)) = (on(start, visit.start.floor()), on(start, visit.finish.ceil().max(visit.start.floor() + 1.0)))
        else {
            continue;
        };
        let steps = sequence.steps.get(visit.steps.clone()).unwrap_or_default();
        let mut description = String::new();
        for (at, step) in steps.iter().enumerate() {
            let _ = writeln!(description, "{}. {}", visit.steps.start + at + 1, title_of(step));
            for hold in &step.holds {
                let _ = writeln!(description, "   measure: {}", remark(hold));
            }
            for caution in &step.cautions {
                let _ = writeln!(description, "   caution: {caution}");
            }
        }
        let trade: String = visit.trade.chars().filter(|sign| sign.is_ascii_alphanumeric()).collect();
        let titles: Vec<&str> = steps.iter().map(|step| step.title.as_str()).collect();
        fold(&mut out, "BEGIN:VEVENT");
        fold(&mut out, &format!("UID:{trade}-{}-{}@wallplate", visit.number, uid(name)));
        fold(&mut out, &format!("DTSTAMP:{}T000000Z", compact(start)));
        fold(&mut out, &format!("DTSTART;VALUE=DATE:{}", compact(first)));
        fold(&mut out, &format!("DTEND;VALUE=DATE:{}", compact(last)));
        fold(&mut out, &format!("SUMMARY:{}", escape(&format!("{}: {}", visit_title(visit), titles.join(", ")))));
        fold(&mut out, &format!("DESCRIPTION:{}", escape(description.trim_end())));
        fold(&mut out, "END:VEVENT");
    }
    fold(&mut out, "END:VCALENDAR");
    out
}

fn on(start: Date, days: f64) -> Option<Date> {
    #[expect(clippy::cast_possible_truncation, reason = "days of a building site")]
    Date::of_number(start.number() + days as i64)
}

fn compact(date: Date) -> String {
    date.to_string().replace('-', "")
}

fn uid(name: &str) -> String {
    name.chars().filter(|sign| sign.is_ascii_alphanumeric()).collect()
}

/// TEXT of RFC 5545 §3.3.11.
fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for sign in text.chars() {
        match sign {
            '\\' | ';' | ',' => {
                out.push('\\');
                out.push(sign);
            }
            '\n' => out.push_str("\\n"),
            sign if sign.is_control() => {}
            sign => out.push(sign),
        }
    }
    out
}

/// A content line, folded so that no line is longer than it may be and no sign is torn (RFC 5545 §3.1).
fn fold(out: &mut String, line: &str) {
    let mut room = LINE;
    for sign in line.chars() {
        if sign.len_utf8() > room {
            out.push_str("\r\n ");
            room = LINE - 1;
        }
        out.push(sign);
        room -= sign.len_utf8();
    }
    out.push_str("\r\n");
}
