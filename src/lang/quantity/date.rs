//! Civil dates: days, and calendar months.

use serde::{Deserialize, Serialize};
use std::fmt;

use chrono::{Datelike, Days, Months, NaiveDate};

use super::date_error::DateError;

/// The years a date may be written with.
const YEARS: std::ops::RangeInclusive<i16> = 1900..=2199;
/// The first day of year -9999, the earliest that is held.
const FIRST_DAY: i32 = -4_371_587;
/// The last day of year 9999, the latest that is held.
const LAST_DAY: i32 = 2_932_896;

/// A day of the Gregorian calendar, held as days since 1970-01-01.
///
/// ```
/// use cotterpin_lang::quantity::Date;
/// let due = Date::new(2024, 2, 10).and_then(|day| day.end_of_month_after(24));
/// assert_eq!(due, Date::new(2026, 2, 28));
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(into = "String", try_from = "String")]
pub struct Date(i32);

impl From<Date> for String {
    fn from(day: Date) -> Self {
        day.to_string()
    }
}

impl TryFrom<String> for Date {
    type Error = DateError;

    fn try_from(text: String) -> Result<Self, DateError> {
        Self::parse(&text)
    }
}

impl Date {
    /// The day, if there is one, in any year from -9999 to 9999.
    #[must_use]
    pub fn new(year: i16, month: i8, day: i8) -> Option<Date> {
        let month = u32::try_from(month).ok()?;
        let day = u32::try_from(day).ok()?;
        NaiveDate::from_ymd_opt(year.into(), month, day).and_then(Date::of)
    }

    /// Reads `2026-10-04`, in a year from 1900 to 2199.
    ///
    /// # Errors
    /// A [`DateError`] that says what is wrong.
    pub fn parse(text: &str) -> Result<Date, DateError> {
        let malformed = || DateError::Malformed { text: text.to_owned() };
        let (year, rest) = text.split_once('-').ok_or_else(malformed)?;
        let (month, day) = rest.split_once('-').ok_or_else(malformed)?;
        let numbers = digits(year, 4).zip(digits(month, 2)).zip(digits(day, 2));
        let ((year, month), day) = numbers.ok_or_else(malformed)?;
        Date::written(year, month, day)
    }

    /// The day of these numbers, in a year from 1900 to 2199.
    ///
    /// # Errors
    /// A [`DateError`] that says what is wrong.
    pub fn written(year: i16, month: i16, day: i16) -> Result<Date, DateError> {
        check_month(year, month)?;
        let last = || Date::last_of_month(year, month).map_or(0, Date::day);
        let no_such_day = || DateError::Day { year, month, day, last: last() };
        let found = i8::try_from(day).ok().zip(i8::try_from(month).ok());
        found.and_then(|(day, month)| Date::new(year, month, day)).ok_or_else(no_such_day)
    }

    /// The last day of a month.
    pub(super) fn last_of_month(year: i16, month: i16) -> Option<Date> {
        let first = NaiveDate::from_ymd_opt(year.into(), u32::try_from(month).ok()?, 1)?;
        Date::of(last_of_month(first)?)
    }

    fn of(date: NaiveDate) -> Option<Date> {
        let days = date.to_epoch_days();
        (FIRST_DAY..=LAST_DAY).contains(&days).then_some(Date(days))
    }

    fn civil(self) -> NaiveDate {
        // Every day that is held is one of this calendar's.
        NaiveDate::from_epoch_days(self.0).unwrap_or_default()
    }

    /// The day so many days after 1970-01-01 (before it, where negative). Days
    /// outside the years -9999 to 9999 are held at the first or last of those.
    #[must_use]
    pub fn from_days(days: i32) -> Date {
        Date(days.clamp(FIRST_DAY, LAST_DAY))
    }

    /// Days since 1970-01-01.
    #[inline]
    #[must_use]
    pub const fn days(self) -> i32 {
        self.0
    }

    /// The year.
    #[must_use]
    pub fn year(self) -> i16 {
        i16::try_from(self.civil().year()).unwrap_or_default()
    }

    /// The month, from 1 to 12.
    #[must_use]
    pub fn month(self) -> i8 {
        i8::try_from(self.civil().month()).unwrap_or_default()
    }

    /// The day of the month, from 1.
    #[must_use]
    pub fn day(self) -> i8 {
        i8::try_from(self.civil().day()).unwrap_or_default()
    }

    /// The same day so many months on, or the last of that month.
    pub(super) fn into_month_after(self, months: i32) -> Option<Date> {
        let size = Months::new(months.unsigned_abs());
        let day = self.civil();
        let moved = if months < 0 { day.checked_sub_months(size) } else { day.checked_add_months(size) };
        moved.and_then(Date::of)
    }

    /// The last day of the month so many months after this day's month: a
    /// calendar-month interval runs to it.
    #[must_use]
    pub fn end_of_month_after(self, months: i32) -> Option<Date> {
        let moved = self.into_month_after(months)?;
        Date::of(last_of_month(moved.civil())?)
    }

    /// The day so many days on; `None` outside the years -9999 to 9999.
    #[must_use]
    pub fn add_days(self, days: i32) -> Option<Date> {
        let moved = self.0.checked_add(days)?;
        (FIRST_DAY..=LAST_DAY).contains(&moved).then_some(Date(moved))
    }
}

impl fmt::Display for Date {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.civil())
    }
}

fn last_of_month(day: NaiveDate) -> Option<NaiveDate> {
    let last = u64::from(day.num_days_in_month()).checked_sub(1)?;
    day.with_day(1)?.checked_add_days(Days::new(last))
}

/// Exactly so many digits.
pub(super) fn digits(text: &str, count: usize) -> Option<i16> {
    let right = text.len() == count && text.bytes().all(|b| b.is_ascii_digit());
    right.then(|| text.parse().ok())?
}

/// Refuses a year out of bounds, then a month that does not exist.
pub(super) fn check_month(year: i16, month: i16) -> Result<(), DateError> {
    check_year(year)?;
    if (1..=12).contains(&month) { Ok(()) } else { Err(DateError::Month { month }) }
}

/// Refuses a year that can only be a slip.
pub(super) fn check_year(year: i16) -> Result<(), DateError> {
    if YEARS.contains(&year) { Ok(()) } else { Err(DateError::Year { year }) }
}
