//! The folder of saved audits: which there are, reading one, keeping one.

use super::args::ProjectArgs;
use super::day::day;
use super::edit::{Others, create, replace, settle};
use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::files::{bytes, shown, what_to_do, why};
use cotterpin_engine::history::Saved;
use cotterpin_engine::project::freehand::{self, Freehand, NotTaken};
use cotterpin_engine::quantity::{Date, DateError};
use cotterpin_engine::source::MOST_BYTES;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// Says that a file is there already.
pub(super) const THERE: &str = "saved::there";
/// Where a project keeps its saved audits.
const FOLDER: &str = "audits";

/// A saved audit by its file name: `2026-11-25.json`, or `2026-11-25-2.json`
/// for the second one of that day.
struct SavedFile {
    file: String,
    day: Date,
    number: u32,
}

/// The saved audits of a project, oldest first. Files with other names are
/// the builder's own affair.
fn saved_audits(project: &Path) -> Result<Vec<SavedFile>, Diagnostic> {
    let folder = project.join(FOLDER);
    let entries = match fs::read_dir(&folder) {
        Ok(entries) => entries,
        Err(problem) if problem.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
        Err(problem) => return Err(unreadable(&shown(&folder), &problem)),
    };
    let mut known = Vec::new();
    for entry in entries {
        let entry = entry.map_err(|problem| unreadable(&shown(&folder), &problem))?;
        known.extend(entry.file_name().to_str().and_then(named));
    }
    known.sort_by_key(|known| (known.day, known.number));
    Ok(known)
}

fn named(file: &str) -> Option<SavedFile> {
    let stem = file.strip_suffix(".json")?;
    let (day, rest) = stem.split_at_checked(10)?;
    let number = match rest.strip_prefix('-') {
        Some(digits) => digits.parse().ok().filter(|number| *number > 1 && digits == format!("{number}"))?,
        None if rest.is_empty() => 1,
        None => return None,
    };
    Some(SavedFile { file: file.to_owned(), day: Date::parse(day).ok()?, number })
}

/// The newest of them on or before a day.
fn on_or_before(known: &[SavedFile], day: Date) -> Option<&str> {
    known.iter().rfind(|known| known.day <= day).map(|known| known.file.as_str())
}

/// Reads a saved audit; `name` is what messages call it.
fn read(path: &Path, name: &str) -> Result<Saved, Diagnostic> {
    let bytes = bytes(path).map_err(|problem| unreadable(name, &problem))?;
    if bytes.len() > MOST_BYTES {
        let message = format!("`{name}` is larger than {} MB, and no saved audit is", MOST_BYTES >> 20);
        return Err(Diagnostic::error("file::too-large", message).help("name the file of a saved audit"));
    }
    Saved::read(name, &bytes)
}

/// Where an audit of `day` goes in a project: a file of its own, or with
/// `replace` the newest of that day.
pub(super) fn place(project: &Path, day: &str, replace: bool) -> Result<PathBuf, Diagnostic> {
    let known = saved_audits(project)?;
    let last = Date::parse(day).ok().and_then(|day| known.iter().rfind(|known| known.day == day));
    let file = match last {
        None => format!("{day}.json"),
        Some(last) if replace => last.file.clone(),
        Some(last) => format!("{day}-{}.json", last.number.saturating_add(1)),
    };
    Ok(project.join(FOLDER).join(file))
}

/// Writes a saved audit to `path`; what is there is replaced only if asked.
pub(super) fn keep(saved: &Saved, path: &Path, may_replace: bool) -> Result<(), Diagnostic> {
    if !may_replace && fs::symlink_metadata(path).is_ok() {
        return Err(there(path));
    }
    if may_replace {
        is_saved_audit(path)?;
    }
    let text = saved.to_text();
    if text.len() > MOST_BYTES {
        let message = format!("this audit takes more than {} MB, and could not be read again", MOST_BYTES >> 20);
        let help = "nothing was written; save less of it at once: --by with a hold point";
        return Err(Diagnostic::error("saved::too-large", message).help(help));
    }
    let written = folder_of_its_own(path).and_then(|()| match may_replace {
        true => replace(path, text.as_bytes(), Others::Possible),
        false => create(path, text.as_bytes(), Others::Possible),
    });
    written.map_err(|problem| {
        if problem.kind() == io::ErrorKind::AlreadyExists {
            return there(path);
        }
        let message = format!("`{}` cannot be written: {}", shown(path), why(&problem));
        let help = what_to_do(&problem, "see to it that the folder is there and that you may write in it");
        Diagnostic::error("file::unwritable", message).help(help)
    })
}

/// Only a saved audit is replaced by another: `--save` beside a name that means something else is a slip.
fn is_saved_audit(path: &Path) -> Result<(), Diagnostic> {
    if fs::symlink_metadata(path).is_err() || read(path, &shown(path)).is_ok() {
        return Ok(());
    }
    let message = format!("`{}` is no saved audit, and stays as it is", shown(path));
    Err(Diagnostic::error("saved::other", message)
        .help("--replace puts an audit in the place of a saved one alone: give another name"))
}

/// The folder of saved audits is made; any other has to be there.
fn folder_of_its_own(path: &Path) -> io::Result<()> {
    match path.parent().filter(|folder| folder.file_name().is_some_and(|last| last == FOLDER)) {
        Some(folder) if !folder.is_dir() => {
            fs::create_dir_all(folder)?;
            settle(folder);
            Ok(())
        }
        Some(_) => Ok(()),
        None => Ok(()),
    }
}

fn there(path: &Path) -> Diagnostic {
    let message = format!("`{}` is there already", shown(path));
    Diagnostic::error(THERE, message).help("give another name, or add --replace")
}

fn unreadable(name: &str, problem: &io::Error) -> Diagnostic {
    Diagnostic::error("file::unreadable", format!("`{name}` cannot be read: {}", why(problem)))
        .help(what_to_do(problem, "give a day such as 2026-11-25, or the file of a saved audit"))
}

/// The saved audit that was meant, and where it was found.
pub(super) fn earlier(when: &str, project: &ProjectArgs) -> Result<(Saved, String), Diagnostic> {
    let Some(day) = meant_day(when)? else {
        let kept = shown(Path::new(when));
        return Ok((read(Path::new(when), &kept)?, kept));
    };
    if project.demo {
        let message = "the demo project has no folder with saved audits";
        return Err(Diagnostic::error("saved::none", message)
            .help("save one with `cotterpin audit --demo --save-to FILE`, and give that file"));
    }
    let folder = &project.folder;
    let all = saved_audits(folder)?;
    let Some(name) = on_or_before(&all, day) else {
        return Err(none(when, &all.iter().map(|known| known.file.as_str()).collect::<Vec<_>>()));
    };
    let kept = format!("{FOLDER}/{name}");
    Ok((read(&folder.join(FOLDER).join(name), &kept)?, kept))
}

/// The day that was given; nothing where it is the name of a file.
fn meant_day(when: &str) -> Result<Option<Date>, Diagnostic> {
    let strict = Date::parse(when).ok();
    if strict.is_some() || Path::new(when).is_file() {
        return Ok(strict);
    }
    let help = "write a day such as 2026-11-25, or the file of a saved audit";
    let no_day = || Diagnostic::error("saved::day", format!("`{when}` is no day of the calendar"));
    let why = match freehand::date(when) {
        Ok(Freehand { value, .. }) if value.first == value.last => return Ok(Some(value.first)),
        Ok(_) => return Err(no_day().help(help)),
        Err(NotTaken::NoDate(DateError::Malformed { .. })) if !looks_like_a_day(when) => {
            // Today and yesterday, or the name of a file.
            return Ok(day(when).ok());
        }
        Err(NotTaken::NoDate(_)) => return Err(no_day().help(help)),
        Err(why) => why,
    };
    Err(Diagnostic::error("saved::day", format!("`{when}` is not taken as a day: {why}")).help(help))
}

/// Digits and what stands between them only, as in 2026-11 or 30/02/2026.
fn looks_like_a_day(text: &str) -> bool {
    text.starts_with(|first: char| first.is_ascii_digit())
        && text.chars().all(|letter| letter.is_ascii_digit() || matches!(letter, '-' | '/' | '.' | ' '))
}

fn none(day: &str, known: &[&str]) -> Diagnostic {
    let message = format!("there is no saved audit of {day} or before");
    let help = match known {
        [] => format!("{FOLDER}/ has none yet; `cotterpin audit --save` saves one"),
        _ => format!("{FOLDER}/ has {}; `cotterpin audit --save` saves one of today", known.join(", ")),
    };
    Diagnostic::error("saved::none", message).help(help)
}
