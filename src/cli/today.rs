//! Which day it is.

use crate::syntax::tree::Date;
use std::time::{SystemTime, UNIX_EPOCH};

const SECONDS_A_DAY: i64 = 86_400;

/// Today by UTC; `SOURCE_DATE_EPOCH` (<https://reproducible-builds.org/specs/source-date-epoch/>), if it is
/// set, stands in for the clock, so that a check can be repeated as of a day. `None` without a clock that works.
pub(super) fn today() -> Option<Date> {
    let fixed = std::env::var("SOURCE_DATE_EPOCH").ok().and_then(|seconds| seconds.trim().parse::<i64>().ok());
    let now = || i64::try_from(SystemTime::now().duration_since(UNIX_EPOCH).ok()?.as_secs()).ok();
    date_of(fixed.or_else(now)?.div_euclid(SECONDS_A_DAY))
}

/// The date of a day counted from 1970-01-01, by the Gregorian calendar.
///
/// 400 years have 146,097 days; a year that is counted from 1 March ends with the day that leap years add.
fn date_of(days: i64) -> Option<Date> {
    // Days from 0000-03-01.
    let days = days.checked_add(719_468)?;
    let era = days.div_euclid(146_097);
    let day_of_era = days.rem_euclid(146_097);
    let year_of_era = (day_of_era - day_of_era / 1_460 + day_of_era / 36_524 - day_of_era / 146_096) / 365;
    let day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    // Months from March on have 31, 30, 31, 30, 31 days, over and over: 153 in five.
    let month = (5 * day_of_year + 2) / 153;
    let day = day_of_year - (153 * month + 2) / 5 + 1;
    let (month, turn) = if month < 10 { (month + 3, 0) } else { (month - 9, 1) };
    let year = era.checked_mul(400)?.checked_add(year_of_era + turn)?;
    Date::new(i32::try_from(year).ok()?, u8::try_from(month).ok()?, u8::try_from(day).ok()?)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Day numbers from the Julian dates of the Astronomical Almanac's epochs: 1970-01-01 is JD 2440587.5,
    /// 2000-01-01 is JD 2451544.5.
    #[test]
    fn days_are_dates() {
        let date = |days| date_of(days).map(|date| date.to_string());
        assert_eq!(date(0).as_deref(), Some("1970-01-01"));
        assert_eq!(date(2_451_544 - 2_440_587).as_deref(), Some("2000-01-01"));
        assert_eq!(date(-1).as_deref(), Some("1969-12-31"));
    }

    /// Counts the calendar day by day, the slow and obvious way.
    #[test]
    fn every_day_of_eight_centuries() {
        let (mut year, mut month, mut day) = (1600, 1, 1);
        let first = -135_140;
        for days in first..first + 2 * 146_097 {
            assert_eq!(date_of(days), Date::new(year, month, day), "day {days}");
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
