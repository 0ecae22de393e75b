//! `cotterpin log --take-back`: the last line of the log, taken out again.
//!
//! Only what this command wrote last, and only while it still stands at the
//! end of its file, letter for letter. What is taken back is kept, as text that
//! no reader takes for an entry.

use super::files::{LOG, last};
use crate::command::clock::today;
use crate::command::edit::{Folder, changing, parsed};
use crate::command::messages::Messages;
use crate::command::{Done, Status, width};
use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::project::TAKEN_BACK;
use cotterpin_engine::report::Page;
use std::path::Path;

pub(super) fn take_back(project: &Path) -> Done {
    let folder = Folder::open(project).map_err(Messages::one)?;
    let nothing = |help: &str| {
        Messages::one(Diagnostic::error("log::take-back", "there is no last line to take back").help(help))
    };
    let remembered = folder.read(&last()).map_err(Messages::one)?;
    let remembered = remembered.and_then(|bytes| String::from_utf8(bytes).ok());
    let Some((name, added)) = remembered.as_deref().and_then(|text| text.split_once('\n')) else {
        return Err(nothing("one line can be taken back, the one written last; take others out of the file by hand"));
    };
    if !name.starts_with(&format!("{LOG}/")) || name.split('/').any(|part| part == "..") {
        return Err(nothing("what was written last is no file of the log"));
    }
    let old = parsed(name, &folder.read(name).map_err(Messages::one)?.unwrap_or_default())?;
    let Some(rest) = old.strip_suffix(added).filter(|_| added.contains("[[log]]")) else {
        let message = format!("{name} has changed since the last line was written; it stays as it is");
        let help = format!("take the line out of {name} by hand");
        return Err(Messages::one(Diagnostic::error("log::changed", message).help(help)));
    };
    parsed(name, rest.as_bytes())?;
    let before = folder.read(TAKEN_BACK).map_err(Messages::one)?.unwrap_or_default();
    let day = today().map_or_else(|| "an unknown day".to_owned(), |day| day.to_string());
    let mut after = before.clone();
    after.extend_from_slice(format!("# Taken back on {day} from {name}\n{}\n", added.trim_start()).as_bytes());
    // First kept, then taken out: whatever happens between, nothing is lost.
    for (name, was, now) in [(TAKEN_BACK, before.as_slice(), after.as_slice()), (name, old.as_bytes(), rest.as_bytes())]
    {
        if !folder.replace(name, was, now).map_err(Messages::one)? {
            return Err(Messages::one(changing(name)));
        }
    }
    folder.remove(&last()).map_err(Messages::one)?;
    let mut page = Page::new(width());
    page.line(0, &format!("Taken back from {name}:"));
    for line in added.trim().lines() {
        page.verbatim(&format!("    {line}"));
    }
    page.line(0, &format!("It is kept in {TAKEN_BACK}, which no audit reads."));
    Ok((page.finish(), Status::Settled))
}
