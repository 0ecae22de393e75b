//! `cotterpin log`: one line on the command line, one entry in the log.

mod compose;
mod files;
mod newest;
mod parts;
mod snags;
mod take_back;

use super::args::LogArgs;
use super::clock::today;
use super::edit::{Folder, ProjectNames, TRIES, Word, changing, parsed};
use super::messages::Messages;
use super::recording::{Project, changed};
use super::{Afterwards, Done, Status, width};
use compose::{Composed, Log};
use cotterpin_engine::audit::shortfalls;
use cotterpin_engine::project::keys::log::{
    ANOTHER, BY, EVIDENCE, FIT, FOR, INSTRUMENT, NOTE, ON, POINTS, SNAG, TAKES, WHO, ZONE,
};
use cotterpin_engine::project::{Fit, PROJECT};
use cotterpin_engine::report::{self, Page};
use cotterpin_engine::vocabulary::Event;
use cotterpin_engine::workers::both;
use files::{LOG, last};
use newest::newest;

/// Ends with status 0 when an entry was written, taken back or subjects listed.
pub(super) fn log(args: &LogArgs, afterwards: Afterwards) -> Done {
    let done = if args.take_back {
        take_back::take_back(&args.place.project)
    } else if let Some(part) = &args.subjects {
        subjects(args, part)
    } else {
        write(args, afterwards)
    };
    done.map_err(Messages::of_writing)
}

fn write(args: &LogArgs, afterwards: Afterwards) -> Done {
    let folder = Folder::open(&args.place.project).map_err(Messages::one)?;
    // A line is written however much else is wrong: only what it changed cannot be said then.
    let project = today().and_then(|today| Project::open(&args.place.project, today).ok());
    let newest = newest(project.as_ref(), &folder);
    // How everything stood is worked out while the line is written.
    let written = || -> Result<_, Messages> {
        let log = Log { folder: &folder, newest: newest.as_ref(), project: project.as_ref() };
        let composed = declared(args, log)?;
        folder.folder(LOG).map_err(Messages::one)?;
        let name = format!("{LOG}/{}.toml", composed.month);
        let line = appended(&folder, &name, &composed)?;
        let files = project.as_ref().and_then(|project| project.files().ok());
        Ok((said(&composed, &name, line), name, line, files))
    };
    let (before, written) = both(|| project.as_ref().and_then(Project::standing), written);
    let (mut text, name, line, files) = written?;
    if let (Some(mut project), Some(files)) = (project, files)
        && project.refresh_from(files).is_ok()
    {
        let (now, shown) = both(|| project.outline(), || shows(&project, &name, line));
        text.push_str(&shown);
        text.push_str(&changed(before.as_ref(), now.as_ref()));
        afterwards.done_with((project, before, now));
    }
    text.push_str("Wrong? cotterpin log --take-back\n");
    Ok((text, Status::Settled))
}

/// The entry, with the part and the person that are new declared in `project.toml`.
fn declared(args: &LogArgs, log: Log<'_>) -> Result<Composed, Messages> {
    let folder = log.folder;
    for _ in 0..TRIES {
        let known = ProjectNames::read(folder, &args.place.project)?;
        let composed = compose::compose(args, log, &known)?;
        let Some(project) = &composed.project else { return Ok(composed) };
        parsed(PROJECT, project.as_bytes())?;
        if folder.replace(PROJECT, known.text.as_bytes(), project.as_bytes()).map_err(Messages::one)? {
            return Ok(composed);
        }
    }
    Err(Messages::one(changing(PROJECT)))
}

/// Puts the entry at the end of its month, and says on which line it begins.
fn appended(folder: &Folder, name: &str, composed: &Composed) -> Result<usize, Messages> {
    for _ in 0..TRIES {
        let old = parsed(name, &folder.read(name).map_err(Messages::one)?.unwrap_or_default())?;
        let added = added(&old, composed);
        let new = format!("{old}{added}");
        parsed(name, new.as_bytes())?;
        folder.remember(&last(), format!("{name}\n{added}").as_bytes()).map_err(Messages::one)?;
        if folder.replace(name, old.as_bytes(), new.as_bytes()).map_err(Messages::one)? {
            let lead = added.find("[[log]]").and_then(|at| added.get(..at)).unwrap_or("");
            return Ok(old.matches('\n').count().saturating_add(lead.matches('\n').count()).saturating_add(1));
        }
    }
    Err(Messages::one(changing(name)))
}

/// What the entry that begins there shows less than was perhaps meant.
fn shows(project: &Project, file: &str, line: usize) -> String {
    let sources = &project.record.sources;
    let begins = |entry: &&cotterpin_engine::project::Entry| {
        let is_of_file = sources.file(entry.place.source).is_some_and(|own| own.name == file);
        is_of_file && sources.place(entry.place).line as usize == line
    };
    let mut page = Page::new(width());
    if let Some(entry) = project.record.log.iter().find(begins) {
        let of_snag = |one: &&cotterpin_engine::project::Entry| {
            one.event == Event::SnagFound && one.snag == entry.snag && entry.event == Event::SnagCleared
        };
        if let Some(found) = project.record.log.iter().find(of_snag) {
            let note = found.note.as_deref().unwrap_or("it has no note");
            page.hanging(0, 2, &format!("What was found: {note} ({})", sources.place(found.place)));
        }
        if matches!(entry.event, Event::Inspected | Event::Tested | Event::Measured) {
            let subject = &entry.subject;
            page.hanging(
                0,
                2,
                &format!("It says that all was well. If not: cotterpin log snag found {subject} \"...\""),
            );
        }
        for short in shortfalls(&project.rules, &project.record, project.on, entry) {
            page.hanging(0, 2, &report::shortfall(&short));
        }
    }
    page.finish()
}

/// The text to put at the end of a month's file.
fn added(old: &str, composed: &Composed) -> String {
    let end = if old.contains("\r\n") { "\r\n" } else { "\n" };
    let close = if old.is_empty() || old.ends_with('\n') { "" } else { end };
    let gap = if old.is_empty() { "" } else { end };
    format!("{close}{gap}{}", composed.entry.text().replace('\n', end))
}

/// What was written, with everything that was taken for granted.
fn said(composed: &Composed, name: &str, line: usize) -> String {
    let entry = &composed.entry;
    let mut page = Page::new(width());
    page.line(0, &format!("Written to {name}, line {line}:"));
    page.hanging(4, 8, &format!("{} {} ({})", entry.what.words(), entry.subject, composed.title));
    let mut row = |label: &str, text: &str| page.labelled(4, 12, label, text);
    row(ON, &composed.on);
    row(WHO, &composed.who);
    if !entry.points.is_empty() {
        row(POINTS, &entry.points.join(", "));
    }
    if let Some(number) = entry.snag {
        row(SNAG, &number.to_string());
    }
    for (label, text) in [
        (FIT, entry.fit.map(Fit::word)),
        (INSTRUMENT, entry.instrument.as_deref()),
        (FOR, entry.purpose()),
        (ANOTHER, entry.another.then_some("yes")),
        (TAKES, entry.takes.as_deref()),
        (BY, entry.by.as_deref()),
        (ZONE, entry.zone.as_deref()),
        (NOTE, entry.note.as_deref()),
    ] {
        if let Some(text) = text {
            row(label, text);
        }
    }
    if !entry.evidence.is_empty() {
        row(EVIDENCE, &entry.evidence.join(", "));
    }
    for remark in &composed.remarks {
        page.line(0, remark);
    }
    page.finish()
}

/// Every subject with its title, parts of the builder's own among them.
fn subjects(args: &LogArgs, part: &str) -> Done {
    let folder = Folder::look(&args.place.project).map_err(Messages::one)?;
    let known = ProjectNames::read(&folder, &args.place.project)?;
    let mut page = Page::new(width());
    let part = part.trim().to_lowercase();
    let has_it = |text: &str| text.to_lowercase().contains(&part);
    let mut list = |title: &str, words: &[Word]| {
        let mut words: Vec<&Word> = words.iter().filter(|word| has_it(&word.name) || has_it(&word.title)).collect();
        words.sort_by(|a, b| a.name.cmp(&b.name));
        if !words.is_empty() {
            page.gap();
            page.line(0, title);
            let widest = words.iter().map(|word| word.name.chars().count()).max().unwrap_or(0);
            for word in words {
                page.labelled(4, widest.saturating_add(2), &word.name, &word.title);
            }
        }
    };
    list("Subjects of the packs:", &known.words.subjects);
    list("Parts of your own:", &known.words.parts);
    list("Zones, to open and close:", &known.words.zones);
    let text = page.finish();
    let text = if text.is_empty() { format!("No subject has `{part}` in its name or title.\n") } else { text };
    Ok((text, Status::Settled))
}
