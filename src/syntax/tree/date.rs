//! Days of the calendar, as they are written and as they are counted.

use serde::{Deserialize, Serialize};

/// A day of the calendar.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Date {
    /// Year.
    pub year: i32,
    /// Month, 1 to 12.
    pub month: u8,
    /// Day of the month.
    pub day: u8,
}

impl std::fmt::Display for Date {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

impl Date {
    /// A day that is in the calendar.
    #[must_use]
    pub fn new(year: i32, month: u8, day: u8) -> Option<Date> {
        let leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
        let last = match month {
            4 | 6 | 9 | 11 => 30,
            2 if leap => 29,
            2 => 28,
            1..=12 => 31,
            _ => return None,
        };
        (1..=last).contains(&day).then_some(Date { year, month, day })
    }

    /// The day counted from 1970-01-01, by the Gregorian calendar.
    ///
    /// A year that is counted from 1 March ends with the day that leap years add.
    #[must_use]
    pub fn number(self) -> i64 {
        let (year, month) =
            if self.month <= 2 { (self.year - 1, i64::from(self.month) + 9) } else { (self.year, i64::from(self.month) - 3) };
        let year = i64::from(year);
        let of_years = year * 365 + year.div_euclid(4) - year.div_euclid(100) + year.div_euclid(400);
        of_years + (month * 153 + 2) / 5 + i64::from(self.day) - 719_469
    }

    /// The date of a day counted from 1970-01-01: 400 years have 146,097 days.
    #[must_use]
    pub fn of_number(days: i64) -> Option<Date> {
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
}
