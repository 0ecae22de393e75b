//! The only place that asks what day it is, and where.

use chrono::{DateTime, Local, TimeZone};
use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::quantity::Date;
use std::time::{Duration, SystemTime, UNIX_EPOCH};

/// Seconds from 1970 to the second day of 2200: no date is written with a year beyond 2199, in any time zone. Far
/// beyond it the calendar of a time zone cannot be worked out at all.
const BEYOND: u64 = 7_258_204_800;

/// Today's date in the shed: by the system's clock and time zone, for in New
/// Zealand it is tomorrow for half of the day. Where no time zone is set it is
/// that of UTC. `None` where the clock stands beyond the calendar.
pub(super) fn today() -> Option<Date> {
    now().map(|(day, _)| day)
}

/// Now in the shed: the day, and the time of day as TOML writes it.
#[expect(clippy::disallowed_methods, reason = "the one place that reads the clock")]
pub(super) fn now() -> Option<(Date, String)> {
    let now = moment(SystemTime::now().duration_since(UNIX_EPOCH).ok()?, &Local)?;
    Some((day(&now)?, now.format("%H:%M:%S").to_string()))
}

/// Says that the clock is of no use.
pub(super) fn no_date(help: &str) -> Diagnostic {
    Diagnostic::error("clock::unset", NO_DATE).help(help)
}

/// What is wrong with a clock that says no date.
pub(super) const NO_DATE: &str = "the system clock says no usable date: it stands outside of the years 1970 to 2199";

/// The moment so long after the Epoch, if dates of its year are written.
fn moment<Z: TimeZone>(since: Duration, zone: &Z) -> Option<DateTime<Z>> {
    let seconds = i64::try_from(since.as_secs()).ok().filter(|_| since.as_secs() < BEYOND)?;
    Some(DateTime::from_timestamp_secs(seconds)?.with_timezone(zone))
}

/// The day that a moment is part of, where its zone is.
fn day<Z: TimeZone>(moment: &DateTime<Z>) -> Option<Date> {
    Date::parse(&moment.date_naive().to_string()).ok()
}

#[cfg(test)]
mod tests {
    use super::{BEYOND, day, moment};
    use chrono::{DateTime, FixedOffset, Local, Utc};
    use std::time::Duration;

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

    /// Year 10,000 and what no calendar can hold: no date, and no panic.
    #[test]
    fn a_clock_beyond_the_calendar_says_no_date() {
        let of = |seconds: u64| moment(Duration::from_secs(seconds), &Utc).and_then(|now| day(&now));
        assert_eq!(of(BEYOND - 86_401).map(|date| date.to_string()).as_deref(), Some("2199-12-31"));
        for seconds in [BEYOND, 253_402_300_800, 8_210_266_876_799, 8_210_266_876_800, u64::MAX / 2, u64::MAX] {
            assert_eq!(of(seconds), None, "{seconds}");
            assert!(moment(Duration::from_secs(seconds), &Local).is_none(), "{seconds}");
        }
    }
}
