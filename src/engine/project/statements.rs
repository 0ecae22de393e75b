//! What people say of an item: `[[confirmed]]`, `[[concession]]` and `[[deferred]]`.

use super::form::{Form, not_a_list};
use super::full_names::{is_no_name, is_nobody, names_of_roles, one_name};
use super::text::Page;
use super::{Concession, Confirmation, Deferral, Person, Record};
use crate::diagnostic::Diagnostic;
use crate::ir::Rules;
use crate::quantity::Date;
use crate::source::Span;
use std::collections::BTreeMap;
use toml::de::DeValue;

/// The key of the wording that was spoken of.
const WORDING: &str = "wording";

/// The people of the project, by short name.
type People = BTreeMap<String, Person>;

/// The kinds of entry; all stand at the top of a file.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Word {
    /// `[[confirmed]]`
    Confirmed,
    /// `[[concession]]`
    Concession,
    /// `[[deferred]]`
    Deferred,
}

impl Word {
    /// The entry of that key.
    pub(super) fn of(key: &str) -> Option<Self> {
        match key {
            "confirmed" => Some(Self::Confirmed),
            "concession" => Some(Self::Concession),
            "deferred" => Some(Self::Deferred),
            _ => None,
        }
    }

    fn key(self) -> &'static str {
        match self {
            Self::Confirmed => "confirmed",
            Self::Concession => "concession",
            Self::Deferred => "deferred",
        }
    }

    fn keys(self) -> &'static [&'static str] {
        match self {
            Self::Confirmed => &["item", "of", "who", "role", "on", WORDING, "holds", "note"],
            Self::Concession => &["item", "of", "reason", "granted_by", "role", "on", "until", WORDING],
            Self::Deferred => &["item", "of", "reason", "limit", "test", "who", "on", "by", "result", WORDING],
        }
    }
}

/// Reads all entries behind one of the two keys into `record`.
pub(super) fn read(
    word: Word,
    rules: &Rules,
    page: &Page<'_>,
    (key, written): (Span, &DeValue<'_>),
    record: &mut Record,
) -> Vec<Diagnostic> {
    let mut messages = Vec::new();
    let Some(pieces) = written.as_array() else {
        return vec![not_a_list(word.key(), key, written)];
    };
    for piece in pieces {
        let place = page.span(piece);
        let Some(table) = piece.get_ref().as_table() else {
            messages.push(not_a_list(word.key(), place, piece.get_ref()));
            continue;
        };
        let mut entry = Form::new(word.key(), word.keys(), rules, page, (table, place));
        match word {
            Word::Confirmed => record.confirmations.extend(confirmation(&mut entry, &record.people)),
            Word::Concession => record.concessions.extend(concession(&mut entry, &record.people)),
            Word::Deferred => record.deferrals.extend(deferral(&mut entry, &record.people)),
        }
        messages.append(&mut entry.messages);
    }
    messages
}

/// The role in which somebody speaks. Of a person whom `project.toml` names, by
/// the short name or the full one, it is one of the roles given there, as in
/// the log; others, such as the inspector, need not be named.
fn role(form: &mut Form<'_>, who: Option<&str>, people: &People) -> Option<String> {
    let role = form.role()?;
    let who = who?;
    let key = if form.find("who").is_some() { "who" } else { "granted_by" };
    is_somebody(form, key, who, people).then_some(())?;
    // As nearly always: named letter for letter.
    if people.iter().any(|(short, person)| (short == who || person.name == who) && person.roles.contains(&role)) {
        return Some(role);
    }
    let name = one_name(who);
    let is_named = |(short, person): &(&String, &Person)| {
        *short == who || !name.is_empty() && (one_name(short) == name || one_name(&person.name) == name)
    };
    let mut roles: Vec<&str> =
        people.iter().filter(is_named).flat_map(|(_, person)| &person.roles).map(String::as_str).collect();
    if roles.is_empty() || roles.contains(&role.as_str()) {
        return Some(role);
    }
    roles.dedup();
    form.wrong("role", "record::role", format!("{who} is named in project.toml as {}", roles.join(", ")));
    None
}

/// Whether somebody is named; says so where nobody is. `me` may be the short name of one.
fn is_somebody(form: &mut Form<'_>, key: &str, who: &str, people: &People) -> bool {
    // Of the full names in `project.toml` that was looked at already.
    let is_known = || people.contains_key(who) || people.values().any(|person| person.name == who);
    let is_role = || form.rules.roles.iter().any(|role| role.name == who);
    let nobody = is_nobody(who) || is_role() || !is_known() && is_no_name(&names_of_roles(form.rules), who);
    if nobody {
        form.wrong(key, "record::form", "this is nobody's name".to_owned());
    }
    !nobody
}

/// The item that is spoken of: of one pack.
fn item(form: &mut Form<'_>) -> Option<String> {
    let item = form.text("item", "the item it is about")?;
    let rules = form.rules;
    let packs = || rules.find_items(&item).into_iter().filter_map(|id| rules.item(id)).map(|item| item.pack);
    if packs().any(|pack| Some(pack) != packs().next()) {
        let mut names: Vec<String> = rules
            .find_items(&item)
            .into_iter()
            .filter_map(|id| rules.item(id))
            .map(|one| rules.full_name(one))
            .collect();
        names.dedup();
        form.wrong("item", "record::two-items", format!("an item of more than one pack: write {}", names.join(" or ")));
        return None;
    }
    Some(item)
}

/// The wording that was spoken of, by its first day: one that the packs have.
fn wording(form: &mut Form<'_>, item: Option<&str>) -> Option<Date> {
    form.find(WORDING)?;
    let day = form.date(WORDING, "the first day of the wording it was given to")?;
    let rules = form.rules;
    let known = |first: Date| {
        let named = item.map(|item| rules.find_items(item)).unwrap_or_default();
        named.is_empty() || named.iter().filter_map(|id| rules.item(*id)).any(|item| item.from == Some(first))
    };
    if day.first != day.last || !known(day.first) {
        let label = "no wording of this item begins on that day".to_owned();
        form.wrong(WORDING, "record::wording", label);
        return None;
    }
    Some(day.first)
}

fn confirmation(form: &mut Form<'_>, people: &People) -> Option<Confirmation> {
    let item = item(form);
    let who = form.text("who", "the name of the person");
    let role = role(form, who.as_deref(), people);
    let on = form.moment("on", "the day");
    let (subject, note, holds) = (form.subject(), form.optional_text("note"), form.holds());
    let wording = wording(form, item.as_deref());
    form.messages.is_empty().then_some(())?;
    let (item, who, role, (on, at), holds) = (item?, who?, role?, on?, holds?);
    Some(Confirmation { item, subject, who, role, on, at, holds, note, wording, place: form.place })
}

fn concession(form: &mut Form<'_>, people: &People) -> Option<Concession> {
    let item = item(form);
    let reason = form.telling("reason", "why it may stay as it is");
    let granted_by = form.text("granted_by", "the name of the person who granted it");
    let role = role(form, granted_by.as_deref(), people);
    let on = form.date("on", "the day it was granted");
    let until = form.date("until", "the last day it holds");
    let subject = form.subject();
    let wording = wording(form, item.as_deref());
    if let (Some(on), Some(until)) = (&on, &until)
        && until.last.days() < on.first.days()
    {
        form.wrong("until", "record::dates", "ends before it begins".to_owned());
    }
    form.messages.is_empty().then_some(())?;
    Some(Concession {
        item: item?,
        subject,
        reason: reason?,
        granted_by: granted_by?,
        role: role?,
        on: on?,
        until: until?,
        wording,
        place: form.place,
    })
}

fn deferral(form: &mut Form<'_>, people: &People) -> Option<Deferral> {
    let item = item(form);
    let reason = form.telling("reason", "why it cannot be shown before flight");
    let limit = form.telling("limit", "what is kept to until it is shown");
    let test = form.telling("test", "the test in flight that will show it");
    let who = form.text("who", "the name of the person who deferred it");
    let who = who.filter(|who| is_somebody(form, "who", who, people));
    let on = form.date("on", "the day");
    let by = form.hold_point("by", "the hold point by which the test must have shown it");
    let (subject, result) = (form.subject(), form.optional_text("result"));
    let wording = wording(form, item.as_deref());
    form.messages.is_empty().then_some(())?;
    let (reason, limit, test, who, on, by) = (reason?, limit?, test?, who?, on?, by?);
    Some(Deferral { item: item?, subject, reason, limit, test, who, on, by, result, wording, place: form.place })
}
