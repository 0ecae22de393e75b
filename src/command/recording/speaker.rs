//! Who says or did something, and in which role.

use crate::command::edit::{Word, people_of, unknown};
use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::project::{Header, Person, normal_word};

/// Who did it, whether that was taken for granted, and the role to be written.
pub(in crate::command) struct Speaker {
    /// The short name.
    pub(in crate::command) short: String,
    pub(in crate::command) person: Person,
    pub(in crate::command) granted: bool,
    pub(in crate::command) role: Option<String>,
}

impl Speaker {
    /// The role in which it is said: the one written, or the only one the person has.
    pub(in crate::command) fn role(&self) -> &str {
        self.role.as_deref().or_else(|| self.person.roles.first().map(String::as_str)).unwrap_or("")
    }
}

/// The person named, by the short name or the full one; the builder where nobody is.
pub(in crate::command) fn speaker(
    header: &Header,
    who: Option<&str>,
    role: Option<&str>,
) -> Result<Speaker, Diagnostic> {
    let speaker = answering(header, who)?;
    let role = role_of(role, (&speaker.short, &speaker.person), speaker.granted)?;
    Ok(Speaker { role, ..speaker })
}

/// The same, in whatever role each question asks for.
pub(in crate::command) fn answering(header: &Header, who: Option<&str>) -> Result<Speaker, Diagnostic> {
    let people = people_of(header);
    let builder = |(_, person): &&(&str, &Person)| person.roles.iter().any(|role| role == "builder");
    let ((short, person), granted) = match who {
        Some(who) => (named(&people, who)?, false),
        None => {
            let only = people.first().filter(|_| people.len() == 1);
            let person = people.iter().find(builder).or(only).copied().ok_or_else(|| {
                Diagnostic::error("log::who", "project.toml names no builder under [people]")
                    .help("say who once: --who rosa --person \"Rosa Example\" --role builder")
            })?;
            (person, true)
        }
    };
    Ok(Speaker { short: short.to_owned(), person: person.clone(), granted, role: None })
}

fn named<'p>(people: &[(&'p str, &'p Person)], who: &str) -> Result<(&'p str, &'p Person), Diagnostic> {
    let by_name = |(_, person): &&(&str, &Person)| person.name.to_lowercase() == who.trim().to_lowercase();
    if let Some(person) = people.iter().find(|(short, _)| *short == who).or_else(|| people.iter().find(by_name)) {
        return Ok(*person);
    }
    let words: Vec<Word> =
        people.iter().map(|(short, person)| Word { name: (*short).to_owned(), title: person.name.clone() }).collect();
    let mut message = unknown("log::who", "person", who, &words.iter().collect::<Vec<_>>());
    let more = format!("somebody new: cotterpin log ... --who {who} --person \"Whole Name\" --role helper");
    message.help = Some(joined(message.help.as_deref(), &more));
    Err(message)
}

/// The role to write, the only one too: whoever gets another later did not have it then.
fn role_of(role: Option<&str>, (short, person): (&str, &Person), granted: bool) -> Result<Option<String>, Diagnostic> {
    let roles = &person.roles;
    let listed = roles.join(", ");
    match role.map(normal_word) {
        Some(role) if !roles.contains(&role) => {
            let message = format!("`{short}` is not recorded as {role}");
            Err(Diagnostic::error("log::role", message)
                .help(format!(
                    "project.toml has {listed}; if that is not all, write there: {short} = {{ name = \"{}\", roles = [{}] }}",
                    person.name,
                    roles.iter().chain([&role]).map(|role| format!("\"{role}\"")).collect::<Vec<_>>().join(", ")
                )))
        }
        Some(role) => Ok(Some(role)),
        None if roles.len() < 2 => Ok(roles.first().cloned()),
        None if granted => Ok(Some("builder".to_owned())),
        None => {
            let message = format!("`{short}` has several roles: in which one?");
            Err(Diagnostic::error("log::role", message).help(format!("add --role with one of {listed}")))
        }
    }
}

/// Two things to do, one after the other.
pub(in crate::command) fn joined(help: Option<&str>, more: &str) -> String {
    match help {
        Some(question) if question.ends_with('?') => format!("{question} {more}"),
        Some(help) => format!("{help}; {more}"),
        None => more.to_owned(),
    }
}

/// Somebody else of the project by whom a note says that it was done or said.
pub(in crate::command) fn by_another(note: &str, who: &str, header: &Header) -> Option<String> {
    let words: Vec<String> = note.split(|sign: char| !sign.is_alphanumeric()).map(str::to_lowercase).collect();
    let other =
        |name: &String| header.people.keys().find(|short| *short != who && short.to_lowercase() == *name).cloned();
    words.windows(2).find_map(|pair| match pair {
        [by, name] if by == "by" => other(name),
        [name, says] if ["says", "said", "did", "saw"].contains(&says.as_str()) => other(name),
        _ => None,
    })
}
