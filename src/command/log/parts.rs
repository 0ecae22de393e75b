//! The parts of an entry, each checked against what the project knows.

use crate::command::args::LogArgs;
use crate::command::keep::{Header, Known, Person, WHATS, Word, unknown};
use crate::diagnostic::{Diagnostic, did_you_mean, nearest};
use crate::quantity::{Dimension, Quantity};

/// The words after `log`: what, subject, note. `snag found` may be written as
/// two words or with a hyphen.
pub(super) fn split(words: &[String]) -> Result<(&'static str, Option<&str>, Option<String>), Diagnostic> {
    let same = |known: &str, word: &str| known == word.trim() || known.replace(' ', "-") == word.trim();
    let one = |word: &str| WHATS.into_iter().find(|known| same(known, word));
    let (what, rest) = match words {
        [] => (None, words),
        [first, rest @ ..] => match (one(first), rest) {
            (Some(what), _) => (Some(what), rest),
            (None, [second, rest @ ..]) => (one(&format!("{first} {second}")), rest),
            (None, []) => (None, rest),
        },
    };
    let Some(what) = what else {
        let said = words.first().map_or("", String::as_str);
        let message =
            if said.is_empty() { "what was done?".to_owned() } else { format!("the log has no word `{said}`") };
        let message = Diagnostic::error("log::what", message);
        let all = format!("its words are {}", WHATS.join(", "));
        return Err(message.help(match nearest(said, WHATS) {
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

/// The title of a subject that is known.
pub(super) fn title(known: &Known, what: &str, subject: &str) -> Result<String, Diagnostic> {
    let zones: &[Word] = if matches!(what, "opened" | "closed") { &known.words.zones } else { &[] };
    let all: Vec<&Word> = known.words.subjects.iter().chain(&known.header.parts).chain(zones).collect();
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

/// Two things to do, one after the other.
fn joined(help: Option<&str>, more: &str) -> String {
    match help {
        Some(question) if question.ends_with('?') => format!("{question} {more}"),
        Some(help) => format!("{help}; {more}"),
        None => more.to_owned(),
    }
}

/// A part of the builder's own, and a remark where no pack's part is above it.
pub(super) fn own_part(known: &Known, subject: &str, title: &str) -> Result<(Word, Option<String>), Diagnostic> {
    let letter = |letter: char| letter.is_ascii_lowercase() || letter.is_ascii_digit() || matches!(letter, '-' | '_');
    let word = |word: &str| word.starts_with(|c: char| c.is_ascii_lowercase()) && word.chars().all(letter);
    if !subject.split('.').all(word) {
        let message = format!("`{subject}` is no name for a part");
        return Err(Diagnostic::error("part::name", message)
            .help("write small letters, digits and hyphens, with points between: controls.elevator.pushrod"));
    }
    let there = known.words.subjects.iter().chain(&known.words.zones).chain(&known.header.parts);
    if there.into_iter().any(|word| word.name == subject) {
        let message = format!("`{subject}` is known already");
        return Err(Diagnostic::error("part::twice", message).help("leave --part out"));
    }
    if title.trim().is_empty() {
        return Err(Diagnostic::error("part::title", "a part needs a title").help("write --part \"Elevator pushrod\""));
    }
    let above = known
        .words
        .subjects
        .iter()
        .any(|above| subject.strip_prefix(above.name.as_str()).is_some_and(|rest| rest.starts_with('.')));
    let remark =
        (!above).then(|| format!("No part of the packs stands above `{subject}`: work on others does not touch it."));
    Ok((Word { name: subject.to_owned(), title: title.trim().to_owned() }, remark))
}

/// Who did it, whether that was taken for granted, and the role to be written.
pub(super) struct Who {
    pub(super) person: Person,
    pub(super) granted: bool,
    pub(super) role: Option<String>,
}

pub(super) fn who(args: &LogArgs, known: &Known) -> Result<Who, Diagnostic> {
    let people = &known.header.people;
    if let (Some(key), Some(name)) = (&args.who, &args.person) {
        return new_person(args, known, key, name);
    }
    let builder = |person: &&Person| person.roles.iter().any(|role| role == "builder");
    let (person, granted) = match &args.who {
        Some(who) => (named(people, who)?, false),
        None => {
            let only = people.first().filter(|_| people.len() == 1);
            let person = people.iter().find(builder).or(only).ok_or_else(|| {
                Diagnostic::error("log::who", "project.toml names no builder under [people]")
                    .help("say who once: --who rosa --person \"Rosa Example\" --role builder")
            })?;
            (person, true)
        }
    };
    let role = role(args, person, granted)?;
    Ok(Who { person: person.clone(), granted, role })
}

fn named<'p>(people: &'p [Person], who: &str) -> Result<&'p Person, Diagnostic> {
    let by_name = |person: &&Person| person.name.to_lowercase() == who.trim().to_lowercase();
    if let Some(person) = people.iter().find(|person| person.key == who).or_else(|| people.iter().find(by_name)) {
        return Ok(person);
    }
    let words: Vec<Word> =
        people.iter().map(|person| Word { name: person.key.clone(), title: person.name.clone() }).collect();
    let mut message = unknown("log::who", "person", who, &words.iter().collect::<Vec<_>>());
    let more = format!("somebody new: --who {who} --person \"Whole Name\" --role helper");
    message.help = Some(joined(message.help.as_deref(), &more));
    Err(message)
}

/// The role to write: only where there are several to choose from.
fn role(args: &LogArgs, person: &Person, granted: bool) -> Result<Option<String>, Diagnostic> {
    let roles = &person.roles;
    let listed = roles.join(", ");
    match &args.role {
        Some(role) if !roles.contains(role) => {
            let message = format!("`{}` is not recorded as {role}", person.key);
            Err(Diagnostic::error("log::role", message)
                .help(format!("project.toml has the role {listed}; add to it there if that is not all")))
        }
        Some(role) => Ok((roles.len() > 1).then(|| role.clone())),
        None if roles.len() < 2 => Ok(None),
        None if granted => Ok(Some("builder".to_owned())),
        None => {
            let message = format!("`{}` has several roles: in which one?", person.key);
            Err(Diagnostic::error("log::role", message).help(format!("add --role with one of {listed}")))
        }
    }
}

fn new_person(args: &LogArgs, known: &Known, key: &str, name: &str) -> Result<Who, Diagnostic> {
    if known.header.people.iter().any(|person| person.key == key) {
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
    let person = Person { key: key.to_owned(), name: name.trim().to_owned(), roles: vec![role.clone()] };
    Ok(Who { person, granted: false, role: None })
}

/// The text of `project.toml` with what is new; nothing where nothing is.
pub(super) fn project(
    known: &Known,
    part: Option<&Word>,
    zone: Option<&str>,
    person: Option<&Person>,
) -> Result<Option<String>, Diagnostic> {
    let mut text = known.text.clone();
    if let Some(part) = part {
        text = Header::with_part(&text, part, zone);
    }
    if let Some(person) = person {
        text = Header::with_person(&text, person);
    }
    let header = Header::read(&text);
    let kept = known.header.people.iter().all(|person| header.people.contains(person))
        && known.header.parts.iter().all(|part| header.parts.contains(part))
        && known.header.packs == header.packs;
    let there = part.is_none_or(|part| header.parts.contains(part))
        && person.is_none_or(|person| header.people.contains(person));
    if !(kept && there) {
        let message = "there is no place for it in project.toml as it is written";
        return Err(Diagnostic::error("project::form", message)
            .help("begin [parts] and [people] on lines of their own, with one line below for each"));
    }
    Ok((text != known.text).then_some(text))
}

/// One of a few words, or the nearest.
pub(super) fn one_of(option: &str, word: &str, known: &[&str]) -> Result<String, Diagnostic> {
    if known.contains(&word) {
        return Ok(word.to_owned());
    }
    let message = format!("{option} does not know `{word}`");
    Err(Diagnostic::error("log::word", message).help(
        did_you_mean(word, known.iter().copied()).unwrap_or_else(|| format!("it is one of {}", known.join(", "))),
    ))
}

/// An option that goes with some words of the log only.
pub(super) fn only_with(option: &str, given: bool, what: &str, with: &[&str]) -> Result<(), Diagnostic> {
    if given && !with.contains(&what) {
        let message = format!("{option} does not go with `{what}`");
        return Err(Diagnostic::error("log::option", message).help(format!("it goes with {}", with.join(", "))));
    }
    Ok(())
}

/// A length of time with its unit.
pub(super) fn takes(text: &str) -> Result<(), Diagnostic> {
    let wrong = |why: String| {
        Diagnostic::error("log::takes", format!("`{text}` is no length of time: {why}"))
            .help("write --takes \"45 min\"")
    };
    let quantity = Quantity::parse(text).map_err(|error| wrong(error.to_string()))?;
    if quantity.dimension() == Dimension::TIME {
        return Ok(());
    }
    Err(wrong(format!("it is {}", quantity.dimension().describe())))
}

/// A path inside the project, as evidence is named everywhere.
pub(super) fn evidence(path: &str) -> Result<String, Diagnostic> {
    let path = path.strip_prefix("./").unwrap_or(path);
    let outside = path.starts_with(['/', '~'])
        || path.chars().nth(1) == Some(':')
        || path.contains("://")
        || path.contains('\\')
        || path.split('/').any(|part| part == "..");
    if outside || path.trim().is_empty() {
        let message = format!("`{path}` is not a path inside the project");
        return Err(Diagnostic::error("evidence::outside", message)
            .help("put a copy into the project's folder and write its path from there, with `/`"));
    }
    Ok(path.to_owned())
}
