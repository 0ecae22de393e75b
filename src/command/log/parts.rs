//! The parts of an entry, each checked against what the project knows.

use crate::command::args::LogArgs;
use crate::command::edit::{Entry, ProjectNames, Word, header_of, parsed, unknown, with_part, with_person};
use crate::command::recording::{Speaker, joined, speaker};
use cotterpin_engine::diagnostic::{Diagnostic, did_you_mean, nearest};
use cotterpin_engine::project::freehand::unquoted;
use cotterpin_engine::project::keys::log::{events_with, is_of_zones};
use cotterpin_engine::project::{PROJECT, Person, event_named, is_name, length_of_time, may_stand_above};
use cotterpin_engine::source::Span;
use cotterpin_engine::vocabulary::Event;

/// The words after `log`: what, subject, note. `snag found` may be written as
/// two words or with a hyphen.
pub(super) fn split(words: &[String]) -> Result<(Event, Option<&str>, Option<String>), Diagnostic> {
    let (what, rest) = match words {
        [] => (None, words),
        [first, rest @ ..] => match (event_named(first), rest) {
            (Some(what), _) => (Some(what), rest),
            (None, [second, rest @ ..]) => (event_named(&format!("{first} {second}")), rest),
            (None, []) => (None, rest),
        },
    };
    let Some(what) = what else {
        let said = words.first().map_or("", String::as_str);
        let message =
            if said.is_empty() { "what was done?".to_owned() } else { format!("the log has no word `{said}`") };
        let message = Diagnostic::error("log::what", message);
        let known = Event::ALL.map(Event::words);
        let all = format!("its words are {}", known.join(", "));
        let near = nearest(said, known).or_else(|| meant(said).map(Event::words));
        return Err(message.help(match near {
            Some(near) if !said.is_empty() => format!("did you mean `{near}`? {all}"),
            _ => all,
        }));
    };
    let (subject, note) = match rest {
        [] => (None, ""),
        [subject, note @ ..] => (Some(subject.as_str()), &*note.join(" ")),
    };
    let note = Some(note.to_owned()).filter(|note| !note.trim().is_empty());
    Ok((what, subject, note))
}

/// What somebody may mean who says it in a word of the trade.
fn meant(said: &str) -> Option<Event> {
    let said = said.to_lowercase();
    let event = match said.as_str() {
        "torqued" | "tightened" | "safetied" | "wired" | "drilled" | "riveted" | "bonded" | "painted" | "installed"
        | "built" | "made" | "fitted" | "replaced" | "repaired" | "rigged" | "did" | "done" | "worked" | "cleaned"
        | "greased" => Event::WorkDone,
        "looked" | "checked" | "saw" | "seen" | "verified" => Event::Inspected,
        "weighed" => Event::Measured,
        "took" | "taken" | "stripped" => Event::Removed,
        "reinstalled" | "reassembled" => Event::Refitted,
        "set" | "trimmed" => Event::Adjusted,
        "found" | "noticed" | "broke" | "cracked" => Event::SnagFound,
        "fixed" | "mended" | "cleared" => Event::SnagCleared,
        _ => return None,
    };
    Some(event)
}

/// The title of a subject that is known.
pub(super) fn title(known: &ProjectNames, what: Event, subject: &str) -> Result<String, Diagnostic> {
    let zones: &[Word] = if is_of_zones(what) { &known.words.zones } else { &[] };
    let all: Vec<&Word> = known.words.subjects.iter().chain(&known.words.parts).chain(zones).collect();
    if let Some(word) = all.iter().find(|word| word.name == subject) {
        return Ok(word.title.clone());
    }
    let mut message = unknown("log::subject", "subject", subject, &all);
    let is_zone = known.words.zones.iter().any(|zone| zone.name == subject);
    let more = if is_zone {
        "a zone can be opened and closed; all else is done to a part of the aircraft".to_owned()
    } else {
        format!("`cotterpin log --subjects` lists all, and --part \"Title\" declares `{subject}` as a part of your own")
    };
    message.help = Some(joined(message.help.as_deref(), &more));
    Err(message)
}

/// A part of the builder's own, and a remark where no pack's part is above it.
pub(super) fn own_part(known: &ProjectNames, subject: &str, title: &str) -> Result<(Word, Option<String>), Diagnostic> {
    let letter = |letter: char| letter.is_ascii_lowercase() || letter.is_ascii_digit() || matches!(letter, '-' | '_');
    let word = |word: &str| word.starts_with(|c: char| c.is_ascii_lowercase()) && word.chars().all(letter);
    if !subject.split('.').all(word) {
        let message = format!("`{subject}` is no name for a part");
        return Err(Diagnostic::error("part::name", message)
            .help("write small letters, digits and hyphens, with points between: controls.elevator.pushrod"));
    }
    let there = known.words.subjects.iter().chain(&known.words.zones).chain(&known.words.parts);
    if there.into_iter().any(|word| word.name == subject) {
        let message = format!("`{subject}` is known already");
        return Err(Diagnostic::error("part::twice", message).help("leave --part out"));
    }
    let names = [&known.words.subjects, &known.words.parts].map(|words| words.iter().map(|word| word.name.as_str()));
    let [declared, own] = names;
    let above = may_stand_above(declared, own);
    if let Some((part, _)) = subject.rsplit_once('.').filter(|(part, _)| !above.contains(part)) {
        let help = did_you_mean(part, above)
            .unwrap_or_else(|| format!("declare `{part}` first, or begin its name with a part that is known"));
        return Err(Diagnostic::error("part::name", format!("there is no part `{part}`")).help(help));
    }
    if title.trim().is_empty() {
        return Err(Diagnostic::error("part::title", "a part needs a title").help("write --part \"Elevator pushrod\""));
    }
    let above = known
        .words
        .subjects
        .iter()
        .any(|above| subject.strip_prefix(above.name.as_str()).is_some_and(|rest| rest.starts_with('.')));
    let group = subject.split_once('.').map(|(group, _)| format!("{group}."));
    let beside =
        known.words.subjects.iter().filter(|one| group.as_ref().is_some_and(|group| one.name.starts_with(group)));
    let beside: Vec<String> = beside.map(|one| format!("{} ({})", one.name, one.title)).collect();
    if !above && !beside.is_empty() {
        let message = format!("`{subject}` stands below no part of the packs, so work on it would undo no inspection");
        let help = format!("name it below one of these, or take that one: {}", beside.join(", "));
        return Err(Diagnostic::error("part::above", message).help(help));
    }
    let remark =
        (!above).then(|| format!("No part of the packs stands above `{subject}`, so work on it undoes no inspection but its own. If it belongs to one of theirs, begin its name with that: controls.elevator.pushrod."));
    Ok((Word { name: subject.to_owned(), title: title.trim().to_owned() }, remark))
}

pub(super) fn who(args: &LogArgs, known: &ProjectNames) -> Result<Speaker, Diagnostic> {
    if let (Some(key), Some(name)) = (&args.who, &args.person) {
        return new_person(args, known, key, name);
    }
    speaker(&known.header, args.who.as_deref(), args.role.as_deref())
}

fn new_person(args: &LogArgs, known: &ProjectNames, key: &str, name: &str) -> Result<Speaker, Diagnostic> {
    // The same person once more, perhaps in a role that is still to be given.
    if known.header.people.get(key).is_some_and(|there| there.name.to_lowercase() == name.trim().to_lowercase()) {
        return speaker(&known.header, args.who.as_deref(), args.role.as_deref());
    }
    if known.header.people.contains_key(key) {
        let message = format!("`{key}` is the short name of somebody already");
        return Err(
            Diagnostic::error("person::twice", message).help("choose another short name, or leave --person out")
        );
    }
    let bare = |letter: char| letter.is_alphanumeric() || matches!(letter, '-' | '_');
    if key.is_empty() || !key.chars().all(bare) || name.trim().is_empty() {
        let message = Diagnostic::error("person::name", "a person has a short name of one word, and a name");
        return Err(message.help("write --who rosa --person \"Rosa Example\" --role builder"));
    }
    let roles: Vec<&Word> = known.words.roles.iter().collect();
    if !is_name(roles.iter().flat_map(|role| [role.name.as_str(), role.title.as_str()]), name) {
        let message = format!("`{}` is nobody's name", name.trim());
        return Err(Diagnostic::error("person::name", message).help("write the full name: --person \"Rosa Example\""));
    }
    let Some(role) = &args.role else {
        let names: Vec<&str> = roles.iter().map(|role| role.name.as_str()).collect();
        let message = format!("in which role does {name} work on the aircraft?");
        return Err(
            Diagnostic::error("log::role", message).help(format!("add --role with one of {}", names.join(", ")))
        );
    };
    if !roles.iter().any(|known| known.name == *role) {
        return Err(unknown("log::role", "role", role, &roles));
    }
    let person = Person { name: name.trim().to_owned(), roles: vec![role.clone()], place: known.header.place };
    Ok(Speaker { short: key.to_owned(), person, granted: false, role: Some(role.clone()) })
}

/// The text of `project.toml` with what is new; nothing where nothing is.
pub(super) fn project(
    known: &ProjectNames,
    part: Option<&Word>,
    zone: Option<&str>,
    person: Option<(&str, &Person)>,
) -> Result<Option<String>, Diagnostic> {
    let mut text = known.text.clone();
    if let Some(part) = part {
        text = with_part(&text, part, zone);
    }
    if let Some((short, person)) = person {
        text = with_person(&text, short, &person.name, &person.roles);
    }
    let header = parsed(PROJECT, text.as_bytes()).and_then(|text| header_of(&text));
    let placed = header.is_ok_and(|header| {
        let has_person = |short: &str, person: &Person| {
            let there = header.people.get(short);
            there.is_some_and(|there| (&there.name, &there.roles) == (&person.name, &person.roles))
        };
        let has_part = |name: &str, title: &str| header.parts.get(name).is_some_and(|part| part.title == title);
        let names = |packs: &[(String, Span)]| packs.iter().map(|(name, _)| name.clone()).collect::<Vec<_>>();
        known.header.people.iter().all(|(short, person)| has_person(short, person))
            && known.header.parts.iter().all(|(name, part)| has_part(name, &part.title))
            && names(&known.header.packs) == names(&header.packs)
            && part.is_none_or(|part| has_part(&part.name, &part.title))
            && person.is_none_or(|(short, person)| has_person(short, person))
    });
    if !placed {
        let message = "there is no place for it in project.toml as it is written";
        return Err(Diagnostic::error("project::form", message)
            .help("begin [parts] and [people] on lines of their own, with one line below for each"));
    }
    Ok((text != known.text).then_some(text))
}

/// What is said of a word that is none of the few that an option takes.
pub(super) fn none_of(key: &str, word: &str, known: &[&str]) -> Diagnostic {
    let message = format!("--{key} does not know `{word}`");
    Diagnostic::error("log::word", message)
        .help(did_you_mean(word, known.iter().copied()).unwrap_or_else(|| format!("it is one of {}", known.join(", "))))
}

/// An option is named after its key, and goes with the words of the log that have that.
pub(super) fn only_with(key: &str, given: bool, what: Event) -> Result<(), Diagnostic> {
    let Some(with) = events_with(key).filter(|with| given && !with.contains(&what)) else { return Ok(()) };
    let message = format!("--{key} does not go with `{}`", what.words());
    let with: Vec<&str> = with.iter().map(|event| event.words()).collect();
    Err(Diagnostic::error("log::option", message).help(format!("it goes with {}", with.join(", "))))
}

/// A length of time with its unit, as the file has it, and whether it was given so.
pub(super) fn takes(text: &str) -> Result<(String, bool), Diagnostic> {
    let text = unquoted(text);
    let time = length_of_time(text).map_err(|why| {
        Diagnostic::error("log::takes", format!("`{text}` is not taken as a length of time: {why}"))
            .help("write --takes \"45 min\"")
    })?;
    Ok((time.strict.clone().unwrap_or_else(|| text.to_owned()), time.strict.is_none()))
}

/// What is removed for good the aircraft must be able to fly without.
pub(super) fn can_be_left_off(known: &ProjectNames, entry: &Entry) -> Result<(), Diagnostic> {
    if entry.what != Event::Removed {
        let message = format!("what was {} is not so for good", entry.what.words());
        return Err(Diagnostic::error("log::for", message).help("only what is removed can be removed for good"));
    }
    if known.words.can_be_left_off.contains(&entry.subject) {
        return Ok(());
    }
    let message = format!("nobody says that the aircraft can be without `{}`", entry.subject);
    let help =
        "leave --for out; of a part of your own, write can_be_left_off = true behind it under [parts] in project.toml";
    Err(Diagnostic::error("log::for", message).help(help))
}
