//! Dates as the builder may write them.

use crate::quantity::DateRange;
use toml::de::DeValue;

/// A date of TOML, or `"2026-10-04"`, `"2026-10"`, `"2026"`, or `2026`. The
/// error says in a few words what is wrong.
pub(super) fn read(written: &DeValue<'_>) -> Result<DateRange, String> {
    let text = match written {
        DeValue::Datetime(stamp) if stamp.time.is_some() => {
            return Err("leave out the time of day: 2026-10-04".to_owned());
        }
        DeValue::Datetime(stamp) => stamp.to_string(),
        DeValue::String(text) => text.trim().to_owned(),
        DeValue::Integer(year) if year.radix() == 10 => year.as_str().to_owned(),
        _ => return Err("expected a date such as 2026-10-04, \"2026-10\" or \"2026\"".to_owned()),
    };
    DateRange::parse(&text).map_err(|error| error.to_string())
}
