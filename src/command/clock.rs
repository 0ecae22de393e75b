//! The only place that asks what day it is, and where.

use chrono::{DateTime, Local, TimeZone};
use cotterpin_engine::quantity::Date;

/// Today's date in the shed: by the system's clock and time zone, for in New
/// Zealand it is tomorrow for half of the day. Where no time zone is set it is
/// that of UTC. `None` where the clock stands beyond the calendar.
#[expect(clippy::disallowed_methods, reason = "the one place that reads the clock")]
pub(super) fn today() -> Option<Date> {
    day(&Local::now())
}

/// Now in the shed: the day, and the time of day as TOML writes it.
#[expect(clippy::disallowed_methods, reason = "the one place that reads the clock")]
pub(super) fn now() -> Option<(Date, String)> {
    let now = Local::now();
    Some((day(&now)?, now.format("%H:%M:%S").to_string()))
}

/// The day that a moment is part of, where its zone is.
fn day<Z: TimeZone>(moment: &DateTime<Z>) -> Option<Date> {
    Date::parse(&moment.date_naive().to_string()).ok()
}

#[cfg(test)]
mod tests {
    use super::day;
    use chrono::{DateTime, FixedOffset};

    /// POSIX.1-2017, Base Definitions 4.16: 1 000 000 000 seconds since the
    /// Epoch is 2001-09-09T01:46:40Z by its formula. Twelve hours east of
    /// Greenwich that is the same day, six hours west the one before.
    #[test]
    fn a_moment_is_a_day_somewhere() {
        let zone = |hours: i32| FixedOffset::east_opt(hours * 3600).expect("a zone");
        for (seconds, hours, expected) in [
            (0, 0, "1970-01-01"),
            (86_399, 0, "1970-01-01"),
            (86_399, 12, "1970-01-02"),
            (86_400, 0, "1970-01-02"),
            (1_000_000_000, 0, "2001-09-09"),
            (1_000_000_000, 12, "2001-09-09"),
            (1_000_000_000, -6, "2001-09-08"),
        ] {
            let moment = DateTime::from_timestamp_secs(seconds).expect("a moment").with_timezone(&zone(hours));
            assert_eq!(day(&moment).map(|date| date.to_string()).as_deref(), Some(expected));
        }
    }
}
