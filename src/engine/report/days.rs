//! Days and times as people say them.

use crate::quantity::{Date, month_name};

const WEEKDAYS: [&str; 7] = ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"];

/// 1970-01-01, from which days are counted, was a Thursday.
const FIRST: i32 = 3;

/// `Saturday 5 December 2026`.
pub(super) fn in_words(date: Date) -> String {
    let weekday = usize::try_from(date.days().saturating_add(FIRST).rem_euclid(7)).unwrap_or(0);
    let weekday = WEEKDAYS.get(weekday).unwrap_or(&"");
    format!("{weekday} {} {} {}", date.day(), month_name(date.month().into()), date.year())
}

/// `today`, `tomorrow`, `in 12 days`, `yesterday`, `3 days ago`.
pub(super) fn from_now(date: Date, on: Date) -> String {
    match date.days().saturating_sub(on.days()) {
        0 => "today".to_owned(),
        1 => "tomorrow".to_owned(),
        -1 => "yesterday".to_owned(),
        days if days > 0 => format!("in {days} days"),
        days => format!("{} days ago", days.unsigned_abs()),
    }
}

/// `45 min`, `2 h`, `1 h 30 min`.
pub(super) fn hours(minutes: u64) -> String {
    match (minutes / 60, minutes % 60) {
        (0, minutes) => format!("{minutes} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, minutes) => format!("{hours} h {minutes} min"),
    }
}

/// `1 day`, `12 days`.
pub(super) fn days(days: u64) -> String {
    if days == 1 { "1 day".to_owned() } else { format!("{days} days") }
}

#[cfg(test)]
mod tests {
    use super::{from_now, hours, in_words};
    use crate::quantity::Date;

    fn day(text: &str) -> Date {
        Date::parse(text).expect("a date")
    }

    /// ISO 8601-1:2019 gives 1985-04-12 as a Friday (1985-W15-5) in its examples; 2000-01-01 was a Saturday.
    #[test]
    fn days_have_their_names() {
        assert_eq!(in_words(day("1985-04-12")), "Friday 12 April 1985");
        assert_eq!(in_words(day("2000-01-01")), "Saturday 1 January 2000");
        assert_eq!(in_words(day("1969-12-31")), "Wednesday 31 December 1969");
    }

    #[test]
    fn times_are_said_in_words() {
        assert_eq!([45, 60, 150].map(hours), ["45 min", "1 h", "2 h 30 min"]);
        let on = day("2026-11-25");
        let said = ["2026-11-25", "2026-11-26", "2026-12-10", "2026-11-24", "2026-11-20"];
        let words = said.map(|other| from_now(day(other), on));
        assert_eq!(words, ["today", "tomorrow", "in 15 days", "yesterday", "5 days ago"]);
    }
}
