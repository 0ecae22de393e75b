//! Days known only as some day of a month or year.

use serde::{Deserialize, Serialize};
use std::fmt;

use super::date::{Date, check_month, check_year, digits};
use super::date_error::DateError;
use super::interval::Interval;

/// The days from one to another, both included: what a date can be.
///
/// ```
/// use cotterpin_lang::quantity::DateRange;
/// let month = DateRange::parse("2026-02").map(|range| range.last.to_string());
/// assert_eq!(month, Ok("2026-02-28".to_owned()));
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(into = "String", try_from = "String")]
pub struct DateRange {
    /// The earliest possible day.
    pub first: Date,
    /// The latest possible day.
    pub last: Date,
}

impl From<DateRange> for String {
    fn from(days: DateRange) -> Self {
        days.to_string()
    }
}

impl TryFrom<String> for DateRange {
    type Error = DateError;

    fn try_from(text: String) -> Result<Self, DateError> {
        Self::parse(&text)
    }
}

impl Date {
    /// The same day so many months on. Where that month has no such day it may
    /// as well be its last day as the day after, so it is both; `None` outside
    /// the years -9999 to 9999.
    #[must_use]
    pub fn add_months(self, months: i32) -> Option<DateRange> {
        let first = self.into_month_after(months)?;
        let last = if first.day() == self.day() { first } else { first.add_days(1)? };
        DateRange::new(first, last)
    }
}

impl DateRange {
    /// The days from `first` to `last`; `None` where they do not ascend.
    #[must_use]
    pub fn new(first: Date, last: Date) -> Option<DateRange> {
        (first <= last).then_some(DateRange { first, last })
    }

    /// One day.
    #[must_use]
    pub fn day(day: Date) -> DateRange {
        DateRange { first: day, last: day }
    }

    /// Reads `2026-10-04`, `2026-10` (some day of that month) or `2026`.
    ///
    /// # Errors
    /// A [`DateError`] that says what is wrong.
    pub fn parse(text: &str) -> Result<DateRange, DateError> {
        let text = text.trim();
        let malformed = || DateError::Malformed { text: text.to_owned() };
        let mut parts = text.split('-');
        let year = parts.next().and_then(|year| digits(year, 4)).ok_or_else(malformed)?;
        let month = match parts.next() {
            None => None,
            Some(month) => Some(digits(month, 2).ok_or_else(malformed)?),
        };
        match (month, parts.next()) {
            (Some(_), Some(_)) => Date::parse(text).map(DateRange::day),
            (Some(month), None) => {
                check_month(year, month)?;
                DateRange::months(year, month, month).ok_or_else(malformed)
            }
            (None, _) => {
                check_year(year)?;
                DateRange::months(year, 1, 12).ok_or_else(malformed)
            }
        }
    }

    fn months(year: i16, from: i16, to: i16) -> Option<DateRange> {
        let first = Date::new(year, i8::try_from(from).ok()?, 1)?;
        DateRange::new(first, Date::last_of_month(year, to)?)
    }

    /// The same days, as days since 1970-01-01.
    #[must_use]
    pub fn to_interval(self) -> Interval {
        Interval::new(f64::from(self.first.days()), f64::from(self.last.days()))
    }
}

/// The form it would be written in: `2026-10-04`, `2026-10`, `2026`, or
/// `2026-10-04 to 2026-10-09` where the days are no whole month or year.
impl fmt::Display for DateRange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.first == self.last {
            return self.first.fmt(f);
        }
        let (year, month) = (self.first.year(), i16::from(self.first.month()));
        if DateRange::months(year, 1, 12) == Some(*self) {
            write!(f, "{year:04}")
        } else if DateRange::months(year, month, month) == Some(*self) {
            write!(f, "{year:04}-{month:02}")
        } else {
            write!(f, "{} to {}", self.first, self.last)
        }
    }
}
