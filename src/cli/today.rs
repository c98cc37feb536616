//! Which day it is, and which day is meant.

use crate::syntax::tree::Date;
use std::time::{SystemTime, UNIX_EPOCH};

const SECONDS_A_DAY: i64 = 86_400;

/// Today by UTC; `SOURCE_DATE_EPOCH` (<https://reproducible-builds.org/specs/source-date-epoch/>), if it is
/// set, stands in for the clock, so that a check can be repeated as of a day. `None` without a clock that works.
pub(super) fn today() -> Option<Date> {
    let fixed = std::env::var("SOURCE_DATE_EPOCH").ok().and_then(|seconds| seconds.trim().parse::<i64>().ok());
    let now = || i64::try_from(SystemTime::now().duration_since(UNIX_EPOCH).ok()?.as_secs()).ok();
    Date::of_number(fixed.or_else(now)?.div_euclid(SECONDS_A_DAY))
}

/// A day as it is written on the command line: `2027-05-02`.
///
/// # Errors
/// How to write one.
pub(super) fn day(text: &str) -> Result<Date, String> {
    let mut parts = text.split('-');
    let mut part = |digits: usize| parts.next().filter(|part| part.len() == digits && part.bytes().all(|byte| byte.is_ascii_digit()));
    let (year, month, day) = (part(4), part(2), part(2));
    let read = || Date::new(year?.parse().ok()?, month?.parse().ok()?, day?.parse().ok()?);
    let date = read().filter(|_| parts.next().is_none());
    date.ok_or_else(|| "not a day of the calendar; write it as year-month-day, like 2027-05-02".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Day numbers from the Julian dates of the Astronomical Almanac's epochs: 1970-01-01 is JD 2440587.5,
    /// 2000-01-01 is JD 2451544.5.
    #[test]
    fn days_are_dates() {
        let date = |days| Date::of_number(days).map(|date| date.to_string());
        assert_eq!(date(0).as_deref(), Some("1970-01-01"));
        assert_eq!(date(2_451_544 - 2_440_587).as_deref(), Some("2000-01-01"));
        assert_eq!(date(-1).as_deref(), Some("1969-12-31"));
    }

    #[test]
    fn a_day_is_written_one_way() {
        assert_eq!(day("2027-05-02").map(|day| day.to_string()).as_deref(), Ok("2027-05-02"));
        for wrong in ["2027-02-30", "2.5.2027", "2027-05", "2027-05-02-1", "", "27-05-02", "2027-5-2", "+027-05-02"] {
            assert!(day(wrong).is_err(), "{wrong}");
        }
    }

    /// Counts the calendar day by day, the slow and obvious way.
    #[test]
    fn every_day_of_eight_centuries() {
        let (mut year, mut month, mut day) = (1600, 1, 1);
        let first = -135_140;
        for days in first..first + 2 * 146_097 {
            assert_eq!(Date::of_number(days), Date::new(year, month, day), "day {days}");
            assert_eq!(Date::new(year, month, day).unwrap().number(), days);
            day += 1;
            if Date::new(year, month, day).is_none() {
                (month, day) = (month + 1, 1);
                if month > 12 {
                    (year, month) = (year + 1, 1);
                }
            }
        }
    }
}
