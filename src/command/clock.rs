//! The only place that asks what day it is.

use crate::measure::Date;
use jiff::ToSpan;
use std::time::{SystemTime, UNIX_EPOCH};

/// Seconds of a day of UTC, which has no leap seconds on this clock.
const DAY: u64 = 86_400;

/// Today's date in UTC; `None` where the system clock stands before 1970 or
/// beyond the calendar. An audit near midnight should say `--on`.
#[expect(clippy::disallowed_methods, reason = "the one place that reads the clock")]
pub(super) fn today() -> Option<Date> {
    let since = SystemTime::now().duration_since(UNIX_EPOCH).ok()?;
    day(since.as_secs())
}

/// The day of so many seconds after 1970 began.
fn day(seconds: u64) -> Option<Date> {
    let days = i32::try_from(seconds.checked_div(DAY)?).ok()?;
    let date = jiff::civil::date(1970, 1, 1).checked_add(days.days()).ok()?;
    Date::parse(&date.to_string()).ok()
}

#[cfg(test)]
mod tests {
    use super::day;

    /// POSIX.1-2017, Base Definitions 4.16: 1 000 000 000 seconds since the
    /// Epoch is 2001-09-09T01:46:40Z by its formula.
    #[test]
    fn seconds_since_the_epoch_are_a_day() {
        for (seconds, expected) in
            [(0, "1970-01-01"), (86_399, "1970-01-01"), (86_400, "1970-01-02"), (1_000_000_000, "2001-09-09")]
        {
            assert_eq!(day(seconds).map(|date| date.to_string()).as_deref(), Some(expected));
        }
        assert_eq!(day(u64::MAX), None);
    }
}
