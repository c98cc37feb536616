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
