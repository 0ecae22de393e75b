//! What people say of an item: `[[confirmed]]` and `[[concession]]`.

use super::text::Page;
use super::value::whole_number;
use super::words::{in_words, normal_word};
use super::{Concession, Confirmation, Record, dates};
use crate::diagnostic::{Diagnostic, nearest};
use crate::measure::DateRange;
use crate::rules::Rules;
use crate::source::Span;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// The two kinds of entry; both stand at the top of a file.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Word {
    /// `[[confirmed]]`
    Confirmed,
    /// `[[concession]]`
    Concession,
}

impl Word {
    /// The entry of that key.
    pub(super) fn of(key: &str) -> Option<Self> {
        match key {
            "confirmed" => Some(Self::Confirmed),
            "concession" => Some(Self::Concession),
            _ => None,
        }
    }

    fn key(self) -> &'static str {
        match self {
            Self::Confirmed => "confirmed",
            Self::Concession => "concession",
        }
    }

    fn keys(self) -> &'static [&'static str] {
        match self {
            Self::Confirmed => &["item", "of", "who", "role", "on", "holds", "note"],
            Self::Concession => &["item", "of", "reason", "granted_by", "role", "on", "until"],
        }
    }
}

/// One entry and what has been found wrong in it. An entry with anything wrong
/// does not count.
struct Entry<'a> {
    word: Word,
    rules: &'a Rules,
    page: &'a Page<'a>,
    table: &'a DeTable<'a>,
    place: Span,
    messages: Vec<Diagnostic>,
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
        return vec![form(word, key, written)];
    };
    for piece in pieces {
        let place = page.span(piece);
        let Some(table) = piece.get_ref().as_table() else {
            messages.push(form(word, place, piece.get_ref()));
            continue;
        };
        let mut entry = Entry { word, rules, page, table, place, messages: Vec::new() };
        entry.unknown_keys();
        match word {
            Word::Confirmed => record.confirmations.extend(entry.confirmation()),
            Word::Concession => record.concessions.extend(entry.concession()),
        }
        messages.append(&mut entry.messages);
    }
    messages
}

fn form(word: Word, place: Span, written: &DeValue<'_>) -> Diagnostic {
    let key = word.key();
    Diagnostic::error("record::form", format!("`{key}` is a list of entries, not {}", in_words(written)))
        .at(place, "")
        .help(format!("begin each entry with [[{key}]]"))
}

impl Entry<'_> {
    fn confirmation(&mut self) -> Option<Confirmation> {
        let item = self.text("item", "the item it is about");
        let who = self.text("who", "the name of the person");
        let role = self.role();
        let on = self.date("on", "the day");
        let (subject, note, holds) = (self.subject(), self.optional_text("note"), self.holds());
        self.messages.is_empty().then_some(())?;
        Some(Confirmation {
            item: item?,
            subject,
            who: who?,
            role: role?,
            on: on?,
            holds: holds?,
            note,
            place: self.place,
        })
    }

    fn concession(&mut self) -> Option<Concession> {
        let item = self.text("item", "the item it is about");
        let reason = self.text("reason", "why it may stay as it is");
        let granted_by = self.text("granted_by", "the name of the person who granted it");
        let role = self.role();
        let on = self.date("on", "the day it was granted");
        let until = self.date("until", "the last day it holds");
        let subject = self.subject();
        if let (Some(on), Some(until)) = (&on, &until)
            && until.last.days() < on.first.days()
        {
            self.wrong("until", "record::dates", "ends before it begins".to_owned());
        }
        self.messages.is_empty().then_some(())?;
        Some(Concession {
            item: item?,
            subject,
            reason: reason?,
            granted_by: granted_by?,
            role: role?,
            on: on?,
            until: until?,
            place: self.place,
        })
    }

    fn unknown_keys(&mut self) {
        let (table, page) = (self.table, self.page);
        for key in table.keys().filter(|key| !self.word.keys().contains(&key.get_ref().as_ref())) {
            let help = match nearest(key.get_ref(), self.word.keys().iter().copied()) {
                Some(near) => format!("did you mean `{near}`?"),
                None => format!("its keys are {}", self.word.keys().join(", ")),
            };
            let message = format!("`{}` has no `{}`", self.word.key(), key.get_ref());
            self.messages.push(Diagnostic::error("record::unknown", message).at(page.span(key), "").help(help));
        }
    }

    fn find(&self, key: &str) -> Option<&Spanned<DeValue<'_>>> {
        self.table.get(key)
    }

    fn missing(&mut self, key: &str, what: &str) {
        let message = format!("this `{}` does not count: its `{key}` is missing", self.word.key());
        let help = format!("add `{key}`, {what}");
        self.messages.push(Diagnostic::error("record::missing", message).at(self.place, "").help(help));
    }

    fn wrong(&mut self, key: &str, code: &'static str, label: String) {
        let place = self.find(key).map_or(self.place, |value| self.page.span(value));
        let message = format!("this `{}` does not count: its `{key}` is not right", self.word.key());
        self.messages.push(Diagnostic::error(code, message).at(place, label).help(format!("mend `{key}`")));
    }

    /// A text that must be there.
    fn text(&mut self, key: &str, what: &str) -> Option<String> {
        if self.find(key).is_none() {
            self.missing(key, what);
            return None;
        }
        self.optional_text(key)
    }

    fn optional_text(&mut self, key: &str) -> Option<String> {
        let written = self.find(key)?.get_ref();
        let text = written.as_str().filter(|text| !text.trim().is_empty()).map(|text| text.trim().to_owned());
        if text.is_none() {
            let label = match written {
                DeValue::String(_) => "this is empty".to_owned(),
                other => format!("expected a text in quotes, this is {}", in_words(other)),
            };
            self.wrong(key, "record::form", label);
        }
        text
    }

    /// The record it is about: its name, or its number.
    fn subject(&mut self) -> Option<String> {
        match self.find("of")?.get_ref() {
            DeValue::Integer(number) => whole_number(number).map(|number| number.to_string()),
            _ => self.optional_text("of"),
        }
    }

    fn holds(&mut self) -> Option<bool> {
        let Some(written) = self.find("holds") else {
            return Some(true);
        };
        let holds = match written.get_ref() {
            DeValue::Boolean(holds) => Some(*holds),
            DeValue::String(text) if text == "yes" => Some(true),
            DeValue::String(text) if text == "no" => Some(false),
            _ => None,
        };
        if holds.is_none() {
            self.wrong("holds", "record::form", "expected true or false".to_owned());
        }
        holds
    }

    fn role(&mut self) -> Option<String> {
        let role = normal_word(&self.text("role", "the role in which the person speaks")?);
        let known: Vec<&str> = self.rules.roles.iter().map(|role| role.name.as_str()).collect();
        if known.contains(&role.as_str()) {
            return Some(role);
        }
        let label = match nearest(&role, known.iter().copied()) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("the packs know {}", known.join(", ")),
        };
        self.wrong("role", "record::role", label);
        None
    }

    fn date(&mut self, key: &str, what: &str) -> Option<DateRange> {
        let Some(written) = self.find(key) else {
            self.missing(key, what);
            return None;
        };
        match dates::read(written.get_ref()) {
            Ok(range) => Some(range),
            Err(why) => {
                self.wrong(key, "value::date", why);
                None
            }
        }
    }
}
