//! Dates as the builder may write them.

use super::freehand::{self, Freehand, NotTaken};
use crate::quantity::{Date, DateError, DateRange};
use toml::de::DeValue;
use toml::value::{Date as Day, Datetime};

/// A date of TOML, or a text such as `"2026-10-04"`, `"2026-10"`, `"10 Dec 2026"`,
/// or `2026`. The error says in a few words what is wrong.
pub(super) fn read(written: &DeValue<'_>) -> Result<DateRange, String> {
    read_freehand(written).map(|read| read.value)
}

/// The same with its strict form.
pub(super) fn read_freehand(written: &DeValue<'_>) -> Result<Freehand<DateRange>, String> {
    let text = match written {
        DeValue::Datetime(stamp) if stamp.time.is_some() => {
            return Err("leave out the time of day: 2026-10-04".to_owned());
        }
        DeValue::Datetime(Datetime { date: Some(day), .. }) => {
            return written_day(*day).map(|value| Freehand { value, strict: None });
        }
        DeValue::String(text) if matches!(in_quotes(text.trim()), Some(Ok(_))) => {
            return Err("leave out the time of day: 2026-10-04".to_owned());
        }
        DeValue::String(text) => text.trim(),
        DeValue::Integer(year) if year.radix() == 10 => year.as_str(),
        _ => return Err("expected a date such as 2026-10-04, \"2026-10\" or \"2026\"".to_owned()),
    };
    freehand::date(text).map_err(|why| why.to_string())
}

/// A date of TOML, whose numbers are read already.
fn written_day(day: Day) -> Result<DateRange, String> {
    let year = i16::try_from(day.year).unwrap_or(i16::MAX);
    let day = Date::written(year, day.month.into(), day.day.into());
    day.map(DateRange::day).map_err(|error| error.to_string())
}

/// A day with a time that stands in quotes, as it would without them; nothing where no time is written.
fn in_quotes(text: &str) -> Option<Result<Datetime, String>> {
    text.contains(':').then(|| {
        let stamp = text.parse::<Datetime>().ok().filter(|stamp| stamp.date.is_some() && stamp.time.is_some());
        stamp.ok_or_else(|| format!("`{text}` is not a day with a time; write 2026-10-04T14:30:00, or 2026-10-04"))
    })
}

/// The same, and the time of day in seconds where it is written: `2026-09-20T14:30:00`.
pub(super) fn read_with_time(written: &DeValue<'_>) -> Result<(DateRange, Option<u32>), String> {
    let timed = match written {
        DeValue::Datetime(stamp) => stamp.date.zip(stamp.time).map(|(day, time)| (day, time, stamp.offset)),
        DeValue::String(text) => match in_quotes(text.trim()) {
            Some(text) => return read_with_time(&DeValue::Datetime(text?)),
            None => None,
        },
        _ => None,
    };
    let Some((day, time, offset)) = timed else {
        let range = match written {
            DeValue::String(text) => freehand::date(text.trim()).map(|read| read.value).map_err(|why| match why {
                NotTaken::NoDate(DateError::Malformed { .. }) => {
                    format!("{why}; with a time, write 2026-10-04T14:30:00")
                }
                why => why.to_string(),
            }),
            _ => read(written),
        };
        return Ok((range?, None));
    };
    if offset.is_some() {
        return Err("leave out the offset: the time is that of the shed".to_owned());
    }
    if time.nanosecond.is_some_and(|fraction| fraction > 0) {
        return Err("leave out the fraction of the second".to_owned());
    }
    let seconds = u32::from(time.hour)
        .saturating_mul(3600)
        .saturating_add(u32::from(time.minute).saturating_mul(60))
        .saturating_add(time.second.map_or(0, u32::from));
    Ok((written_day(day)?, Some(seconds)))
}
