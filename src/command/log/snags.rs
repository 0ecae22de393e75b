//! The numbers of the snags in a project's log.

use super::LOG;
use crate::command::keep::Folder;
use crate::diagnostic::Diagnostic;
use toml::{Table, Value};

/// A snag as it was found.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Found {
    number: u32,
    subject: String,
}

/// The snags of all files of the log.
#[derive(Debug, Clone, Default)]
pub(super) struct Snags {
    found: Vec<Found>,
    cleared: Vec<u32>,
    /// Every number that stands anywhere, so that none is given twice.
    used: Vec<u32>,
}

impl Snags {
    pub(super) fn read(folder: &Folder) -> Result<Self, Diagnostic> {
        let mut snags = Self::default();
        for name in folder.list(LOG).into_iter().filter(|name| name.ends_with(".toml") && !name.starts_with('.')) {
            let bytes = folder.read(&format!("{LOG}/{name}"))?.unwrap_or_default();
            let text = String::from_utf8_lossy(&bytes);
            snags.used.extend(text.lines().filter_map(number_in));
            // A month that cannot be read still keeps its numbers.
            let table: Table = text.parse().unwrap_or_default();
            let entries = table.get("log").and_then(Value::as_array);
            for entry in entries.into_iter().flatten().filter_map(Value::as_table) {
                snags.entry(entry);
            }
        }
        Ok(snags)
    }

    fn entry(&mut self, entry: &Table) {
        let text = |key: &str| entry.get(key).and_then(Value::as_str).unwrap_or("");
        let number = entry.get("snag").and_then(Value::as_integer).and_then(|number| u32::try_from(number).ok());
        let Some(number) = number else { return };
        self.used.push(number);
        match text("what") {
            "snag found" => self.found.push(Found { number, subject: text("subject").to_owned() }),
            "snag cleared" => self.cleared.push(number),
            _ => {}
        }
    }

    /// The number of a new snag.
    pub(super) fn next(&self, wanted: Option<u32>) -> Result<u32, Diagnostic> {
        match wanted {
            Some(number) if self.used.contains(&number) => {
                let message = format!("there is a snag {number} already");
                Err(Diagnostic::error("snag::twice", message).help("leave --snag out: the next free number is taken"))
            }
            Some(number) => Ok(number),
            None => Ok(self.used.iter().max().map_or(1, |number| number.saturating_add(1))),
        }
    }

    /// The number and the subject of the snag that is cleared.
    pub(super) fn open(&self, wanted: Option<u32>) -> Result<(u32, String), Diagnostic> {
        let open: Vec<&Found> = self.found.iter().filter(|found| !self.cleared.contains(&found.number)).collect();
        let listed: Vec<String> = open.iter().map(|found| format!("{} ({})", found.number, found.subject)).collect();
        let help = match listed.as_slice() {
            [] => "no snag is open".to_owned(),
            _ => format!("open are {}", listed.join(", ")),
        };
        let Some(number) = wanted else {
            return Err(
                Diagnostic::error("snag::which", "which snag is cleared? give its number: --snag 14").help(help)
            );
        };
        if self.cleared.contains(&number) {
            return Err(Diagnostic::error("snag::cleared", format!("snag {number} was cleared already")).help(help));
        }
        match open.iter().find(|found| found.number == number) {
            Some(found) => Ok((number, found.subject.clone())),
            None => Err(Diagnostic::error("snag::unknown", format!("there is no snag {number}")).help(help)),
        }
    }
}

/// `snag = 14` on a line of its own.
fn number_in(line: &str) -> Option<u32> {
    let value = line.trim_start().strip_prefix("snag")?.trim_start().strip_prefix('=')?.trim();
    value.split(|letter: char| !letter.is_ascii_digit()).next()?.parse().ok()
}
