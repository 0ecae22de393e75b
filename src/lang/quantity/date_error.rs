//! Why a text is no date, and the names of months that this takes.

use std::error::Error;
use std::fmt;

/// Why a text is no date.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum DateError {
    /// Not built like a date.
    Malformed {
        /// What was written.
        text: String,
    },
    /// A year outside 1900 to 2199.
    Year {
        /// What was written.
        year: i16,
    },
    /// A month outside 1 to 12.
    Month {
        /// What was written.
        month: i16,
    },
    /// A day that this month does not have.
    Day {
        /// The year.
        year: i16,
        /// The month.
        month: i16,
        /// What was written.
        day: i16,
        /// The last day that the month has.
        last: i8,
    },
}

/// The name of a month from 1 to 12.
#[must_use]
pub fn month_name(month: i16) -> &'static str {
    const NAMES: [&str; 12] = [
        "January",
        "February",
        "March",
        "April",
        "May",
        "June",
        "July",
        "August",
        "September",
        "October",
        "November",
        "December",
    ];
    let index = usize::try_from(month.saturating_sub(1)).unwrap_or(usize::MAX);
    NAMES.get(index).copied().unwrap_or("the month")
}

impl fmt::Display for DateError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            DateError::Malformed { text } => {
                write!(f, "`{text}` is not a date; write 2026-10-04, or 2026-10 or 2026 where no more is known")
            }
            DateError::Year { year } => write!(f, "the year {year} is not between 1900 and 2199"),
            DateError::Month { month } => {
                write!(f, "there is no month {month}; months run from 01 to 12")
            }
            DateError::Day { year, month, day, last } => {
                let name = month_name(*month);
                write!(f, "there is no day {day} in {name}; {name} {year} has {last} days")
            }
        }
    }
}

impl Error for DateError {}
