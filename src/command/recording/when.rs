//! When something was done, as the builder says it.

use crate::command::day::{day, days};
use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::project::freehand::{Freehand, unquoted};
use cotterpin_engine::quantity::{Date, DateRange};

/// A day, a month, a year, or a moment of a day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::command) struct When {
    /// As TOML.
    pub(in crate::command) toml: String,
    /// As said back.
    pub(in crate::command) text: String,
    /// The name of the file for it: `2026-08`.
    pub(in crate::command) month: String,
    pub(in crate::command) days: DateRange,
}

impl When {
    /// The second of its day, where the time is said.
    pub(in crate::command) fn second(&self) -> Option<u32> {
        let (_, time) = self.text.split_once('T')?;
        let mut parts = time.split(':').map(|part| part.parse::<u32>().ok());
        let (hours, minutes) = (parts.next()??, parts.next()??);
        let seconds = parts.next().flatten().unwrap_or(0);
        hours.checked_mul(60)?.checked_add(minutes)?.checked_mul(60)?.checked_add(seconds)
    }

    pub(in crate::command) fn day(day: Date) -> Self {
        let text = day.to_string();
        let month = text.get(..7).unwrap_or(&text).to_owned();
        Self { toml: text.clone(), text, month, days: DateRange::day(day) }
    }

    /// A moment of a day, the time as TOML writes it.
    pub(in crate::command) fn moment(day: Date, time: &str) -> Self {
        let both = format!("{day}T{time}");
        Self { toml: both.clone(), text: both, ..Self::day(day) }
    }

    /// What `--on` says of something that has been so, up to today.
    pub(in crate::command) fn past(text: &str, today: Date) -> Result<Self, Diagnostic> {
        let (when, _) = Self::read(text)?;
        if today < when.days.first {
            let message = format!("{} lies ahead: nobody has seen or said it yet", when.text);
            return Err(Diagnostic::error("value::ahead", message).help("write it on that day"));
        }
        Ok(when)
    }

    /// What `--on` says, and whether it says it as the file does.
    pub(in crate::command) fn read(text: &str) -> Result<(Self, bool), Diagnostic> {
        let text = unquoted(text);
        let wrong = |why: String| {
            Diagnostic::error("value::date", format!("`{text}` is not taken as a date: {why} (given by --on)"))
                .help("write 2026-09-01, 2026-09 or 2026, or 2026-09-01T14:30 for a moment of a day")
        };
        if let Some((before, time)) = text.rsplit_once(['T', ' ']).filter(|(_, time)| time.contains(':')) {
            let first = day(before).map_err(wrong)?;
            let time = moment(time).ok_or_else(|| wrong(format!("`{time}` is no time of day")))?;
            return Ok((Self::moment(first, &time), before == first.to_string()));
        }
        let Freehand { value: days, strict } = days(text).map_err(wrong)?;
        let as_written = strict.is_none();
        if days.first == days.last {
            return Ok((Self::day(days.first), as_written));
        }
        let text = days.to_string();
        Ok((Self { toml: format!("\"{text}\""), text: text.clone(), month: text, days }, as_written))
    }
}

/// `14:30` or `14:30:05`, with seconds.
fn moment(text: &str) -> Option<String> {
    let two = |part: &str, below: u8| {
        let digits = part.len() == 2 && part.bytes().all(|byte| byte.is_ascii_digit());
        part.parse::<u8>().ok().filter(|number| digits && *number < below)
    };
    let mut parts = text.split(':');
    let hour = two(parts.next()?, 24)?;
    let minute = two(parts.next()?, 60)?;
    let second = parts.next().map_or(Some(0), |part| two(part, 60))?;
    parts.next().is_none().then(|| format!("{hour:02}:{minute:02}:{second:02}"))
}

#[cfg(test)]
mod tests {
    use super::When;

    #[test]
    fn dates_are_written_as_toml_takes_them() {
        for (text, toml, month) in [
            ("2026-08-29", "2026-08-29", "2026-08"),
            ("2026-08", "\"2026-08\"", "2026-08"),
            ("2026", "\"2026\"", "2026"),
            ("2026-08-29T14:30", "2026-08-29T14:30:00", "2026-08"),
            ("2026-08-29T14:30:59", "2026-08-29T14:30:59", "2026-08"),
            ("2026-08-29 14:30", "2026-08-29T14:30:00", "2026-08"),
            ("29/8/2026 14:30", "2026-08-29T14:30:00", "2026-08"),
            ("29 AUGUST 2026", "2026-08-29", "2026-08"),
            ("10 OCT 2026", "2026-10-10", "2026-10"),
            ("‘Aug 2026’", "\"2026-08\"", "2026-08"),
        ] {
            let (when, _) = When::read(text).unwrap_or_else(|why| panic!("{text}: {}", why.message));
            assert_eq!((when.toml.as_str(), when.month.as_str()), (toml, month));
            assert!(format!("on = {toml}\n").parse::<toml::Table>().is_ok());
        }
        for wrong in [
            "",
            "tomorrow",
            "9/8/2026",
            "29/8",
            "2026-02-30",
            "2026-08-29T",
            "2026-08-29T24:00",
            "2026-08T10:00",
            "2026-08-29T1:00",
        ] {
            assert!(When::read(wrong).is_err(), "{wrong}");
        }
    }
}
