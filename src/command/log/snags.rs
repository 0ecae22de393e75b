//! The numbers of the snags in a project's log.

use super::LOG;
use crate::command::edit::Folder;
use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::project::encoding::decoded;
use cotterpin_engine::project::{FileText, Snag, snag_numbers, snags};
use cotterpin_engine::vocabulary::Event;

/// The snags of all files of the log.
#[derive(Debug, Clone, Default)]
pub(super) struct Snags {
    found: Vec<Snag>,
    cleared: Vec<u32>,
    /// Every number that stands anywhere, so that none is given twice.
    used: Vec<u32>,
}

impl Snags {
    pub(super) fn read(folder: &Folder) -> Result<Self, Diagnostic> {
        let mut all = Self::default();
        for name in folder.list(LOG).into_iter().filter(|name| name.ends_with(".toml") && !name.starts_with('.')) {
            let bytes = folder.read(&format!("{LOG}/{name}"))?.unwrap_or_default();
            let text = decoded(&bytes);
            // A month that cannot be read still keeps its numbers.
            all.used.extend(snag_numbers(&text));
            for snag in snags(&FileText { name, bytes: text.into_bytes() }) {
                all.used.push(snag.number);
                match snag.event {
                    Some(Event::SnagFound) => all.found.push(snag),
                    Some(Event::SnagCleared) => all.cleared.push(snag.number),
                    _ => {}
                }
            }
        }
        Ok(all)
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
        let open: Vec<&Snag> = self.found.iter().filter(|found| !self.cleared.contains(&found.number)).collect();
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
