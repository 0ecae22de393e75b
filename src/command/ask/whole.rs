//! The word that a list is whole, or the log: asked for by what there is.

use super::Next;
use super::dialogue::{Dialogue, Reply, bare};
use crate::command::messages::Messages;
use crate::command::recording::{Project, WrittenAt, entries, whole_list, whole_log};
use crate::command::width;
use cotterpin_engine::ir::ListId;
use cotterpin_engine::project::whole::LOG;
use cotterpin_engine::project::{Person, SaidRecord, Whole, is_to_come, said_records};
use cotterpin_engine::report::Page;

/// Asks whether the records of a list are all; nothing where they are not, so that others are to be asked for.
pub(super) fn ask(project: &mut Project, talk: &mut Dialogue<'_>, id: ListId) -> Result<Option<Next>, Messages> {
    let names: Vec<String> = records(project, id).iter().map(ToString::to_string).collect();
    let mut page = Page::new(width());
    let before = said_before(project, id, &names);
    if !before.is_empty() {
        page.hanging(
            3,
            3,
            &format!("It was said to be whole with these, which are not recorded now: {}.", before.join("; ")),
        );
    }
    page.hanging(3, 3, &format!("Are these all of them: {}? yes or no", names.join("; ")));
    talk.say(&page.finish());
    match yes_or_no(talk) {
        Said::Yes => write(project, talk, id).map(Some),
        Said::No => Ok(None),
        Said::Nothing => Ok(Some(Next::Skipped)),
        Said::Back => Ok(Some(Next::Back)),
        Said::Stop => Ok(Some(Next::Stop)),
    }
}

/// Asks whether the log tells all work up to the day.
pub(super) fn ask_log(project: &mut Project, talk: &mut Dialogue<'_>) -> Result<Next, Messages> {
    let on = project.on;
    let entries = match entries(project) {
        Ok(entries) => entries,
        Err(why) => {
            let help = why.help.map_or_else(String::new, |help| format!(": {help}"));
            talk.say(&format!("{}{help}.\n", with_capital(&why.message)));
            return Ok(Next::Skipped);
        }
    };
    let mut page = Page::new(width());
    let counted = if entries == 1 { "1 entry".to_owned() } else { format!("{entries} entries") };
    page.hanging(3, 3, &format!("It has {counted} up to {on}. Is that all work that was done? yes or no"));
    talk.say(&page.finish());
    match yes_or_no(talk) {
        Said::Yes => said(project, talk, LOG, whole_log),
        Said::No => {
            talk.say("Log what is missing: cotterpin log ...\n");
            Ok(Next::Skipped)
        }
        Said::Nothing => Ok(Next::Skipped),
        Said::Back => Ok(Next::Back),
        Said::Stop => Ok(Next::Stop),
    }
}

/// Writes the word that the records a list has are all, or that it has none.
pub(super) fn write(project: &mut Project, talk: &mut Dialogue<'_>, id: ListId) -> Result<Next, Messages> {
    let Some(list) = project.rules.list(id).map(|list| list.name.to_string()) else { return Ok(Next::Skipped) };
    said(project, talk, &list, |project, who| whole_list(project, id, who))
}

/// Writes a word by the builder on the day.
fn said(
    project: &mut Project,
    talk: &mut Dialogue<'_>,
    of: &str,
    write: impl FnOnce(&mut Project, &str) -> Result<WrittenAt, Messages>,
) -> Result<Next, Messages> {
    let who = match speaker(project, talk) {
        Speaker::Named(who) => who,
        Speaker::Nobody => {
            talk.say("Only somebody whom project.toml names under [people] can say so, and it names nobody.\n");
            return Ok(Next::Skipped);
        }
        Speaker::NotNow => return Ok(Next::Skipped),
        Speaker::Stop => return Ok(Next::Stop),
    };
    let written = write(project, &who)?;
    talk.say(&format!("Written to {}, line {}: {who} says that {of} is whole.\n", written.file, written.line));
    Ok(Next::Answered)
}

/// Who says it.
enum Speaker {
    Named(String),
    Nobody,
    NotNow,
    Stop,
}

/// The only builder; where there are several, or none, whoever is asked for.
fn speaker(project: &Project, talk: &mut Dialogue<'_>) -> Speaker {
    let people: Vec<&str> = project.record.people.keys().map(String::as_str).collect();
    let is_builder = |person: &Person| person.roles.iter().any(|role| role == "builder");
    let mut builders = project.record.people.iter().filter(|(_, person)| is_builder(person));
    match (people.as_slice(), builders.next(), builders.next()) {
        ([], ..) => return Speaker::Nobody,
        (_, Some((only, _)), None) => return Speaker::Named(only.clone()),
        _ => {}
    }
    talk.say(&format!("   Who says so: {}?\n", people.join(", ")));
    loop {
        match talk.reply() {
            Reply::Stop => return Speaker::Stop,
            Reply::Skip | Reply::Unknown | Reply::Back => return Speaker::NotNow,
            Reply::Text(text) if people.contains(&text.as_str()) => return Speaker::Named(text),
            Reply::Text(_) => talk.say(&format!("Expected one of {}.\n", people.join(", "))),
        }
    }
}

/// What the last word named, and what is not recorded any more.
fn said_before(project: &Project, id: ListId, now: &[String]) -> Vec<String> {
    let Some(Whole::Said { records, .. }) = project.record.whole.get(&id) else { return Vec::new() };
    records.iter().map(ToString::to_string).filter(|name| !now.contains(name)).collect()
}

fn with_capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

fn records(project: &Project, id: ListId) -> Vec<SaidRecord> {
    project.record.lists.get(&id).map_or_else(Vec::new, |rows| said_records(&project.rules, id, rows))
}

/// A yes or no, as somebody gave it.
pub(super) enum Said {
    Yes,
    No,
    Nothing,
    Back,
    Stop,
}

pub(super) fn yes_or_no(talk: &mut Dialogue<'_>) -> Said {
    loop {
        match talk.reply() {
            Reply::Stop => return Said::Stop,
            Reply::Back => return Said::Back,
            Reply::Skip | Reply::Unknown => return Said::Nothing,
            Reply::Text(text) => match bare(&text).as_str() {
                "yes" | "y" => return Said::Yes,
                "no" | "n" => return Said::No,
                _ if is_to_come(&text) => return Said::Nothing,
                _ => talk.say("Expected yes or no; ? if you do not know, or not yet.\n"),
            },
        }
    }
}
