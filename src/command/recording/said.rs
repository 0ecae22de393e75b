//! A person's word as an entry: that something is so or not, that a list or the log is whole.

use super::project::{Project, What, WrittenAt};
use super::still_open::to_do_before;
use super::{Put, moment, says_well};
use crate::command::edit::{Step, quoted};
use crate::command::messages::Messages;
use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::ir::{Confirmed, HOW_MANY, Item, ListId, RoleSet, Rules};
use cotterpin_engine::project::keys::whole::{ENTRIES, ON, RECORDS, UP_TO, WHO, WHOLE};
use cotterpin_engine::project::whole::LOG;
use cotterpin_engine::project::{SaidRecord, said_records};
use cotterpin_engine::quantity::Date;

/// The key of people's words.
const CONFIRMED: &str = "confirmed";

/// What a person says of an item.
pub(in crate::command) struct Word<'a> {
    /// As the item is written.
    pub(in crate::command) item: &'a str,
    /// The record it is about.
    pub(in crate::command) of: Option<&'a str>,
    /// The short name.
    pub(in crate::command) who: &'a str,
    pub(in crate::command) role: &'a str,
    /// The day, as TOML; now, if it is not said.
    pub(in crate::command) on: Option<&'a str>,
    pub(in crate::command) holds: bool,
    pub(in crate::command) note: Option<&'a str>,
}

/// The roles whose word an item asks for; none where anybody's will do.
pub(in crate::command) fn roles_asked(rules: &Rules, item: &Item) -> Vec<String> {
    let needs = rules.program.words_of(item.need);
    let heard = |need: &&Confirmed| {
        let roles = need.roles;
        let heard = rules.roles.with_ids().filter(move |(id, _)| roles != RoleSet::ANY && roles.hears(*id));
        heard.map(|(_, role)| role.name.to_string()).collect::<Vec<_>>()
    };
    let mut roles: Vec<String> = needs.iter().flat_map(heard).collect();
    roles.sort();
    roles.dedup();
    roles
}

/// Writes a person's word about an item, beside the others.
///
/// # Errors
/// It says that all is so, and snags or jobs of the builder's own are open that come before that.
pub(in crate::command) fn confirmed(project: &mut Project, word: &Word<'_>) -> Result<WrittenAt, Messages> {
    let open =
        if word.holds && !word.note.is_some_and(says_well) { to_do_before(project, word.item) } else { Vec::new() };
    if let Some(first) = open.first() {
        let more = if open.len() > 1 { format!(" and {} more", open.len().saturating_sub(1)) } else { String::new() };
        let message = format!("what is still to be done comes before this: {first}{more}");
        let help = "do that first, or change what is said of it; if it is so all the same, confirm it with a note that begins with ok:";
        return Err(Messages::one(Diagnostic::error("confirm::jobs", message).help(help)));
    }
    let on = word.on.map_or_else(|| moment(project), str::to_owned);
    let keys = [
        ("item", Some(quoted(word.item))),
        ("of", word.of.map(quoted)),
        ("who", Some(quoted(word.who))),
        ("role", Some(quoted(word.role))),
        ("on", Some(on)),
        ("holds", (!word.holds).then(|| false.to_string())),
        ("note", word.note.map(quoted)),
    ];
    let lines: String = keys.into_iter().filter_map(|(key, value)| Some(format!("{key} = {}\n", value?))).collect();
    let text = format!("[[{CONFIRMED}]]\n{lines}");
    let others = project.record.confirmations.iter().max_by_key(|word| word.place);
    let file = others.map(|word| project.record.sources.place(word.place).file);
    let way = [Step::Key(CONFIRMED.to_owned())];
    project.put_one(Put { way: &way, file: file.as_deref(), what: What::Records(&text) })
}

/// Writes the word that the records a list has are all, or that it has none.
pub(in crate::command) fn whole_list(project: &mut Project, id: ListId, who: &str) -> Result<WrittenAt, Messages> {
    let list = project.rules.list(id).map(|list| list.name.to_string()).unwrap_or_default();
    let records = project.record.lists.get(&id).map_or_else(Vec::new, |rows| said_records(&project.rules, id, rows));
    let record = |record: &SaidRecord| match record.how_many.get() {
        1 => quoted(&record.name),
        many => format!("{{ name = {}, {HOW_MANY} = {many} }}", quoted(&record.name)),
    };
    let records: Vec<String> = records.iter().map(record).collect();
    whole(project, &list, &format!("{RECORDS} = [{}]", records.join(", ")), who)
}

/// Writes the word that the log tells all work up to the day: so many entries.
pub(in crate::command) fn whole_log(project: &mut Project, who: &str) -> Result<WrittenAt, Messages> {
    let (on, entries) = (project.on, entries(project).map_err(Messages::one)?);
    whole(project, LOG, &format!("{ENTRIES} = {entries}, {UP_TO} = {on}"), who)
}

/// How many entries the log has up to the day.
///
/// # Errors
/// Of a month that is not over nobody knows whether an entry is of this day or a later one.
pub(in crate::command) fn entries(project: &Project) -> Result<usize, Diagnostic> {
    let on: Date = project.on;
    if let Some(later) = project.record.log.iter().find(|entry| entry.on.first <= on && entry.on.last > on) {
        let place = project.record.sources.place(later.place);
        let message = format!("an entry may be of a later day ({place})");
        return Err(Diagnostic::error("whole::later", message).help("write its day first"));
    }
    Ok(project.record.log.iter().filter(|entry| entry.on.last <= on).count())
}

fn whole(project: &mut Project, of: &str, what: &str, who: &str) -> Result<WrittenAt, Messages> {
    let word = format!("{{ {what}, {WHO} = {}, {ON} = {} }}", quoted(who), project.on);
    let way = [Step::Key(WHOLE.to_owned()), Step::Key(of.to_owned())];
    project.put_one(Put { way: &way, file: None, what: What::Value(&word) })
}
