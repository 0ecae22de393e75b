//! The newest day in the log, against which the day of a new line is held: a
//! clock that went wrong, or a slip in the year, would put the line where
//! nothing that it undoes hears of it.

use super::LOG;
use crate::command::edit::Folder;
use crate::command::recording::{Project, When};
use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::quantity::Date;

/// The newest line of the log.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Newest {
    /// The first day on which it can have been.
    day: Date,
    /// The second of that day, where its time is written.
    at: Option<u32>,
    /// The file, with the line where that is known.
    place: String,
}

/// Of the lines that could be read, and by their names of the months that could not.
pub(super) fn newest(project: Option<&Project>, folder: &Folder) -> Option<Newest> {
    let months = folder.list(LOG).into_iter().filter_map(|name| {
        let day = Date::parse(&format!("{}-01", name.strip_suffix(".toml")?)).ok()?;
        Some(Newest { day, at: None, place: format!("{LOG}/{name}") })
    });
    let read = project.and_then(|project| {
        let entry = project.record.log.iter().max_by_key(|entry| (entry.on.first, entry.at))?;
        let place = project.record.sources.place(entry.place).to_string();
        Some(Newest { day: entry.on.first, at: entry.at, place })
    });
    months.chain(read).max_by_key(|newest| newest.day)
}

impl Newest {
    /// Whether it is of a day after one.
    pub(super) fn is_after(&self, day: Date) -> bool {
        day < self.day
    }

    /// What is to be said of a day that lies before it.
    pub(super) fn remark(&self, when: &When) -> Option<String> {
        when.days.last.lt(&self.day).then(|| {
            format!(
                "Mind the day: {} lies before {}, the newest in the log ({}). It undoes nothing that came after it.",
                when.text, self.day, self.place
            )
        })
    }

    /// A day and a second of it by the clock: refused where the clock must be wrong, or the log. One day is that of
    /// another time zone, and an hour that of summer time.
    pub(super) fn against_clock(&self, today: Date, second: Option<u32>) -> Result<Option<String>, Diagnostic> {
        if today.add_days(1).is_some_and(|tomorrow| tomorrow < self.day) {
            let message = format!(
                "by the system clock it is {today}, and the log has a line of {} already ({})",
                self.day, self.place
            );
            return Err(Diagnostic::error("clock::behind", message).help(
                "if the clock is wrong, set it, or give the day: --on 2026-11-25; if that line is wrong, mend it first",
            ));
        }
        let ahead = today < self.day || today == self.day && self.at.zip(second).is_some_and(|(at, now)| now < at);
        Ok(ahead.then(|| {
            format!(
                "By the clock this is before the newest line of the log ({}). It undoes nothing that came after it.",
                self.place
            )
        }))
    }
}
