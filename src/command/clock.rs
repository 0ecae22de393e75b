//! The only place that asks what day it is, and where.

use crate::quantity::Date;
use jiff::{Timestamp, tz::TimeZone};

/// Today's date in the shed: by the system's clock and time zone, for in New
/// Zealand it is tomorrow for half of the day. Where no time zone is set it is
/// that of UTC. `None` where the clock stands beyond the calendar.
#[expect(clippy::disallowed_methods, reason = "the one place that reads the clock")]
pub(super) fn today() -> Option<Date> {
    day(Timestamp::now(), &TimeZone::system())
}

/// The day that a moment is part of, somewhere.
fn day(moment: Timestamp, zone: &TimeZone) -> Option<Date> {
    Date::parse(&zone.to_datetime(moment).date().to_string()).ok()
}

#[cfg(test)]
mod tests {
    use super::day;
    use jiff::{
        Timestamp,
        tz::{Offset, TimeZone},
    };

    /// POSIX.1-2017, Base Definitions 4.16: 1 000 000 000 seconds since the
    /// Epoch is 2001-09-09T01:46:40Z by its formula. Twelve hours east of
    /// Greenwich that is the same day, six hours west the one before.
    #[test]
    fn a_moment_is_a_day_somewhere() {
        let zone = |hours: i8| TimeZone::fixed(Offset::constant(hours));
        for (seconds, hours, expected) in [
            (0, 0, "1970-01-01"),
            (86_399, 0, "1970-01-01"),
            (86_399, 12, "1970-01-02"),
            (86_400, 0, "1970-01-02"),
            (1_000_000_000, 0, "2001-09-09"),
            (1_000_000_000, 12, "2001-09-09"),
            (1_000_000_000, -6, "2001-09-08"),
        ] {
            let moment = Timestamp::from_second(seconds).expect("a moment");
            assert_eq!(day(moment, &zone(hours)).map(|date| date.to_string()).as_deref(), Some(expected));
        }
    }
}
