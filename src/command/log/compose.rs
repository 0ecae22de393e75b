//! From the words and options given to an entry that can be written.

use super::newest::Newest;
use super::parts;
use super::snags::Snags;
use crate::command::args::LogArgs;
use crate::command::clock::{no_date, now};
use crate::command::edit::{Entry, Folder, ProjectNames, Word, unknown};
use crate::command::find::evidence;
use crate::command::messages::Messages;
use crate::command::recording::{Project, Speaker, When, by_another, doubt, says_well, snag_found, snags_at};
use cotterpin_engine::audit::removal_of;
use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::project::keys::log::{ANOTHER, BY, FIT, FOR, FOR_GOOD, FOR_VISIT, SNAG, TAKES};
use cotterpin_engine::project::{Fit, lies_in_a_zone};
use cotterpin_engine::quantity::Date;
use cotterpin_engine::vocabulary::Event;

/// An entry with what is to be said of it.
pub(super) struct Composed {
    pub(super) entry: Entry,
    /// The title of its subject.
    pub(super) title: String,
    pub(super) on: String,
    pub(super) who: String,
    /// The name of the file: `2026-08`.
    pub(super) month: String,
    /// The new text of `project.toml`, where a part or a person was declared.
    pub(super) project: Option<String>,
    pub(super) remarks: Vec<String>,
}

/// What is known of the log so far; nothing but its folder where the project cannot be read.
#[derive(Clone, Copy)]
pub(super) struct Log<'a> {
    pub(super) folder: &'a Folder,
    pub(super) newest: Option<&'a Newest>,
    pub(super) project: Option<&'a Project>,
}

pub(super) fn compose(args: &LogArgs, log: Log<'_>, known: &ProjectNames) -> Result<Composed, Messages> {
    composed(args, log, known).map_err(Messages::one)
}

fn composed(
    args: &LogArgs,
    Log { folder, newest, project }: Log<'_>,
    known: &ProjectNames,
) -> Result<Composed, Diagnostic> {
    let mut remarks = Vec::new();
    let (what, mut subject, mut note) = parts::split(&args.words)?;
    let (snag, cleared) = snag(args, folder, what)?;
    if let (Some(_), Some(word)) = (&cleared, subject)
        && parts::title(known, what, word).is_err()
    {
        // A snag has its subject already: the words are the note.
        note = Some(note.map_or_else(|| word.to_owned(), |note| format!("{word} {note}")));
        subject = None;
    }
    if let (Some(number), Some(found), Some(word)) = (snag, &cleared, subject)
        && found != word
    {
        let message = format!("snag {number} was found at {found}, not at {word}");
        let help = format!("if it is snag {number} that is done: cotterpin log snag cleared --snag {number} \"...\"");
        return Err(Diagnostic::error("snag::elsewhere", message).help(help));
    }
    let subject = subject.map(str::to_owned).or(cleared).ok_or_else(|| {
        Diagnostic::error("log::subject", format!("what was {}?", what.words()))
            .help("write the subject after it; `cotterpin log --subjects` lists them")
    })?;
    let part = match &args.part {
        Some(title) => {
            let (part, remark) = parts::own_part(known, &subject, title)?;
            remarks.push(format!("Declared in project.toml: the part {} ({}).", part.name, part.title));
            remarks.extend(remark);
            Some(part)
        }
        None => None,
    };
    if let Some(word) = note.as_deref().and_then(doubt).filter(|_| shows_that_all_is_well(what)) {
        return Err(doubted(what, &subject, &word));
    }
    let fit = note.as_deref().filter(|_| args.fit.is_none()).and_then(|note| for_a_while(what, note));
    if let Some(fit) = fit {
        let message = format!("the note says {fit}, and without --fit the part counts as fitted for good");
        let help = format!("add --fit {fit}; or --fit final, if that is what it is");
        return Err(Diagnostic::error("log::fit", message).help(help));
    }
    let title = match &part {
        Some(part) => part.title.clone(),
        None => parts::title(known, what, &subject)?,
    };
    let who = parts::who(args, known)?;
    let is_new = !known.header.people.contains_key(&who.short);
    let person = args.person.as_ref().filter(|_| is_new).map(|_| &who.person);
    remarks.extend(person.map(|person| format!("Declared in project.toml: {} ({}).", who.short, person.name)));
    let (when, on) = when(args, newest, &mut remarks)?;
    let is_open = |today: Date| when.days.first <= today && today < when.days.last;
    if what == Event::SnagFound && now().is_some_and(|(today, _)| is_open(today)) {
        let message = format!("{} is not over, and an audit raises a snag only once its day is sure", when.text);
        return Err(
            Diagnostic::error("log::snag-day", message).help("give the day on which you found it: --on 2026-11-25")
        );
    }
    if let Some(found) = project.zip(snag).and_then(|(project, number)| snag_found(project, number))
        && what == Event::SnagCleared
        && (when.days.last < found.on.first
            || when.days == found.on && when.second().zip(found.at).is_some_and(|(cleared, at)| cleared < at))
    {
        let message = format!("that snag was found on {}, and {} is before that", found.on, when.text);
        return Err(Diagnostic::error("log::snag-order", message).help("give the day or the time when it was mended"));
    }
    let says_all =
        shows_that_all_is_well(what) && what != Event::SnagCleared && !note.as_deref().is_some_and(says_well);
    if let Some(open) = project.filter(|_| says_all).and_then(|project| snags_at(project, &subject).into_iter().next())
    {
        let message = format!("{open} is open there, and `{}` says that all is well", what.words());
        let help = "clear it first; if all is well so far, begin the note with ok:";
        return Err(Diagnostic::error("log::open-snag", message).help(help));
    }
    if let Some(other) = note.as_deref().and_then(|note| by_another(note, &who.short, &known.header)) {
        let message = format!("the note names `{other}`, and the line would be by {}", who.short);
        return Err(Diagnostic::error("log::who", message)
            .help(format!("add --who {other}; or leave the name out of the note")));
    }
    let role = who.role.clone();
    let mut entry = Entry { role, snag, note, ..Entry::new(what, subject, who.short.clone(), when.toml) };
    options(args, known, &mut entry, &mut remarks)?;
    if entry.for_good {
        parts::can_be_left_off(known, &entry)?;
    }
    if let Some(project) = project {
        fits_what_is_logged(project, &entry)?;
    }
    for file in entry.evidence.iter().filter(|file| !file.contains(['*', '?', '[']) && !folder.has_exactly(file)) {
        remarks.push(format!("There is no file {file} yet; it counts once it is there."));
    }
    let project =
        parts::project(known, part.as_ref(), args.zone.as_deref(), person.map(|person| (who.short.as_str(), person)))?;
    Ok(Composed { entry, title, on, who: who_said(&who), month: when.month, project, remarks })
}

/// The number of the snag, and the subject of one that is cleared.
fn snag(args: &LogArgs, folder: &Folder, what: Event) -> Result<(Option<u32>, Option<String>), Diagnostic> {
    match what {
        Event::SnagFound => Ok((Some(Snags::read(folder)?.next(args.snag)?), None)),
        Event::SnagCleared => {
            let (number, subject) = Snags::read(folder)?.open(args.snag)?;
            Ok((Some(number), Some(subject)))
        }
        _ => Ok((args.snag, None)),
    }
}

/// How a part is fitted by what the note of its line says, if not for good.
fn for_a_while(what: Event, note: &str) -> Option<&'static str> {
    let note = note.to_lowercase().replace('-', " ");
    let says = |words: &[&str]| words.iter().any(|word| note.contains(word));
    let (trial, temporary) = match what {
        Event::WorkDone => (true, false),
        Event::Refitted => (true, true),
        _ => (false, false),
    };
    if trial && says(&["trial fit", "for trial", "on trial", "dry fit"]) {
        Some("trial")
    } else if temporary && says(&["temporary", "temporarily", "for now", "for the time being"]) {
        Some("temporary")
    } else {
        None
    }
}

/// Whether an entry of the kind counts as that all was well, whatever its note says.
fn shows_that_all_is_well(what: Event) -> bool {
    matches!(what, Event::Inspected | Event::Tested | Event::Measured | Event::SnagCleared)
}

/// What is said of a note that reads like a fault.
fn doubted(what: Event, subject: &str, word: &str) -> Diagnostic {
    let message = format!("`{word}` in the note reads as if all were not well, and `{}` says that it is", what.words());
    let instead = match what {
        Event::SnagCleared => "a snag that is not done stays open".to_owned(),
        _ => format!("write it as a snag: cotterpin log snag found {subject} \"...\""),
    };
    Diagnostic::error("log::doubt", message).help(format!("{instead}; if all is well, begin the note with ok:"))
}

/// What would leave the log so that nothing can be judged, or would say something else than is meant.
fn fits_what_is_logged(project: &Project, entry: &Entry) -> Result<(), Diagnostic> {
    let (rules, record, subject) = (&project.rules, &project.record, &entry.subject);
    let is_known = record.parts.contains_key(subject) || rules.subjects.iter().any(|part| part.name == *subject);
    if entry.for_visit && entry.zone.is_none() && is_known && !lies_in_a_zone(rules, record, subject) {
        let message = format!("nobody says in which zone `{subject}` lies, and what lies there counts as disturbed");
        return Err(Diagnostic::error("log::zone", message).help("add --zone with the zone that is open for the visit"));
    }
    let off = removal_of(record, project.on, subject).filter(|line| line.subject == *subject);
    if let Some(off) = off.filter(|_| entry.what == Event::Removed) {
        let place = record.sources.place(off.place);
        let message = format!("`{subject}` is off already, since {} ({place})", off.on);
        let help = "if it was back between, log that first; if another one is meant, name it as a part of its own: --part \"Left aileron\"; what it is off for is changed in that line";
        return Err(Diagnostic::error("log::off-already", message).help(help));
    }
    Ok(())
}

fn when(args: &LogArgs, newest: Option<&Newest>, remarks: &mut Vec<String>) -> Result<(When, String), Diagnostic> {
    let now = now();
    let Some(text) = &args.on else {
        let (today, time) = now.ok_or_else(|| no_date("give the day: --on 2026-11-25"))?;
        let second = time.split(':').try_fold(0u32, |sum, part| sum.checked_mul(60)?.checked_add(part.parse().ok()?));
        if let Some(newest) = newest {
            remarks.extend(newest.against_clock(today, second)?);
        }
        let when = When::moment(today, &time);
        let said = format!("{}, today, because --on was not given", when.text);
        return Ok((when, said));
    };
    let (when, as_written) = When::read(text)?;
    // A day is what an audit is of: an entry of a later hour would count before it is so.
    if let Some((today, time)) = &now
        && when.days.first == *today
        && when.text.contains('T')
        && format!("{today}T{time}") < when.text
    {
        let message = format!("{} lies ahead: it is {time} now", when.text);
        return Err(Diagnostic::error("value::ahead", message).help("log it when it is done, or without a time"));
    }
    // East of Greenwich it may be tomorrow already.
    let tomorrow = now.as_ref().and_then(|(today, _)| today.add_days(1));
    if tomorrow.is_some_and(|limit| when.days.first > limit) {
        // Where the log is ahead of the clock it may be the clock that is wrong.
        if !newest.zip(tomorrow).is_some_and(|(newest, limit)| newest.is_after(limit)) {
            let message = format!("{} lies ahead: nobody has done or seen it yet", when.text);
            let help = "log it when it is done; what is to be done is `cotterpin job`";
            return Err(Diagnostic::error("value::ahead", message).help(help));
        }
        remarks.push(format!("{} lies ahead. Is that the right day?", when.text));
    }
    remarks.extend(newest.and_then(|newest| newest.remark(&when)));
    let said = if as_written { when.text.clone() } else { format!("{}, read from {text}", when.text) };
    Ok((when, said))
}

fn who_said(who: &Speaker) -> String {
    let role = who.role.as_deref().or_else(|| who.person.roles.first().map(String::as_str));
    let role = role.map_or_else(String::new, |role| format!(", {role}"));
    let granted = if who.granted { ", because --who was not given" } else { "" };
    format!("{} ({}){role}{granted}", who.short, who.person.name)
}

/// Everything that may be said besides.
fn options(
    args: &LogArgs,
    known: &ProjectNames,
    entry: &mut Entry,
    remarks: &mut Vec<String>,
) -> Result<(), Diagnostic> {
    for (key, given) in [
        (SNAG, args.snag.is_some()),
        (TAKES, args.takes.is_some()),
        (BY, args.by.is_some()),
        (FOR, args.purpose.is_some()),
        (ANOTHER, args.another),
    ] {
        parts::only_with(key, given, entry.what)?;
    }
    if let Some(fit) = &args.fit {
        let known = Fit::named(fit).ok_or_else(|| parts::none_of(FIT, fit, &Fit::ALL.map(Fit::word)))?;
        entry.fit = Some(known);
    }
    if let Some(purpose) = &args.purpose {
        (entry.for_visit, entry.for_good) = (purpose == FOR_VISIT, purpose == FOR_GOOD);
        if !entry.for_visit && !entry.for_good {
            return Err(parts::none_of(FOR, purpose, &[FOR_VISIT, FOR_GOOD]));
        }
    }
    entry.another = args.another;
    if let Some(takes) = &args.takes {
        let (text, as_written) = parts::takes(takes)?;
        if !as_written {
            remarks.push(format!("It takes {text}, read from {takes}."));
        }
        entry.takes = Some(text);
    }
    entry.by = args.by.as_ref().map(|by| declared("hold point", by, &known.words.hold_points)).transpose()?;
    entry.zone = args.zone.as_ref().map(|zone| declared("zone", zone, &known.words.zones)).transpose()?;
    entry.instrument = args.instrument.as_ref().map(|text| text.trim().to_owned()).filter(|text| !text.is_empty());
    entry.points = args.points.iter().map(|point| point.trim().to_owned()).filter(|point| !point.is_empty()).collect();
    entry.evidence = args.evidence.iter().map(|path| evidence(&args.place.project, path)).collect::<Result<_, _>>()?;
    Ok(())
}

fn declared(what: &str, word: &str, known: &[Word]) -> Result<String, Diagnostic> {
    if known.iter().any(|known| known.name == word) {
        return Ok(word.to_owned());
    }
    Err(unknown("log::word", what, word, &known.iter().collect::<Vec<_>>()))
}
