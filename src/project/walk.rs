//! The walk through a file's tables: every key is a fact, a list, a group,
//! evidence or a person's word, or else an error.

use super::evidence::Files;
use super::job;
use super::keys::log::LOG;
use super::known_names::{NameUse, Names};
use super::log;
use super::statements::{self, Word};
use super::text::Page;
use super::unread::Unread;
use super::whole::{self, WHOLE};
use super::words::{asked, in_words, question};
use super::{Record, value};
use crate::diagnostic::Diagnostic;
use crate::ir::{Fact, FactId, List, Rules};
use crate::source::Span;
use std::collections::BTreeMap;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// A value with its key.
pub(super) type KeyAndValue<'a> = (Span, &'a Spanned<DeValue<'a>>);

/// Gathers the record of one project, file by file.
pub(super) struct Walk<'r> {
    pub(super) rules: &'r Rules,
    pub(super) files: Files<'r>,
    names: Names<'r>,
    /// Where each fact and list was first written, readable or not.
    seen: BTreeMap<String, Span>,
    /// Where each list was first said to be whole.
    said_whole: BTreeMap<String, Span>,
    pub(super) record: Record,
    pub(super) unread: Unread,
    pub(super) messages: Vec<Diagnostic>,
}

impl<'r> Walk<'r> {
    pub(super) fn new(rules: &'r Rules, paths: &'r [String]) -> Self {
        Self {
            rules,
            files: Files::new(rules, paths),
            names: Names::new(rules),
            seen: BTreeMap::new(),
            said_whole: BTreeMap::new(),
            record: Record::default(),
            unread: Unread::default(),
            messages: Vec::new(),
        }
    }

    /// Takes in one file.
    pub(super) fn page(&mut self, page: &Page<'_>) {
        let before = self.messages.len();
        for (key, written) in &page.table {
            let at = page.span(key);
            match Word::of(key.get_ref()) {
                None if key.get_ref() == LOG => {
                    let into = (&mut self.record, &mut self.unread);
                    let said = log::read(self.rules, &self.files, page, (at, written.get_ref()), into);
                    self.messages.extend(said);
                }
                None if key.get_ref() == job::JOB => {
                    let into = (&mut self.record, &mut self.unread);
                    let said = job::read(self.rules, page, (at, written.get_ref()), into);
                    self.messages.extend(said);
                }
                Some(word) => {
                    let said = statements::read(word, self.rules, page, (at, written.get_ref()), &mut self.record);
                    self.messages.extend(said);
                }
                None if key.get_ref() == WHOLE => {
                    let into = (&mut self.record, &mut self.said_whole);
                    self.messages.extend(whole::read(self.rules, page, (at, written.get_ref()), into));
                }
                None => self.entry(page, key.get_ref(), (at, written)),
            }
        }
        let said = self.messages.split_off(before);
        self.messages.extend(said.into_iter().filter(|message| page.stands(message)));
    }

    /// The keys below a group, a fact or a list. Depth is that of known names.
    fn table(&mut self, page: &Page<'_>, group: &str, table: &DeTable<'_>) {
        for (key, written) in table {
            let at = page.span(key);
            if key.get_ref() == "evidence" {
                self.evidence(page, group, written);
            } else {
                self.entry(page, &format!("{group}.{}", key.get_ref()), (at, written));
            }
        }
    }

    fn entry(&mut self, page: &Page<'_>, name: &str, (key, written): KeyAndValue<'_>) {
        let known = self.names.find(name);
        if known.nothing() {
            let (message, help) = self.names.unknown(name, written.get_ref().is_table());
            self.messages.push(Diagnostic::error("fact::unknown", message).at(key, "not known").help(help));
            return;
        }
        match written.get_ref() {
            DeValue::Table(table) if known.group => self.table(page, name, table),
            DeValue::Table(table) => self.only_evidence(page, known, (name, key), table),
            DeValue::Array(_) => match known.list {
                Some((id, list)) if self.first_list(name, key) => {
                    let rows = self.rows(page, list, (key, written));
                    self.record.lists.insert(id, rows);
                }
                Some(_) => {}
                None => self.misshapen(known, name, (key, written.get_ref())),
            },
            _ => match known.fact {
                Some(fact) => self.fact(page, (name, fact), (key, written)),
                None => self.misshapen(known, name, (key, written.get_ref())),
            },
        }
    }

    fn fact(&mut self, page: &Page<'_>, (name, (id, fact)): (&str, (FactId, &Fact)), (key, written): KeyAndValue<'_>) {
        let help = "keep one of them; a measured spread is written as one value, such as \"12.1 in ± 0.1 in\"";
        if !self.first(name, key, help) {
            return;
        }
        let text = self.record.sources.text(page.span(written));
        match value::value(self.rules, (name, fact), page, written, text) {
            Ok(recorded) => {
                self.record.facts.insert(id, recorded);
            }
            Err(message) => self.messages.push(*message),
        }
    }

    /// Whether a list is written for the first time.
    fn first_list(&mut self, name: &str, key: Span) -> bool {
        self.first(name, key, "a list stands in one file, in one form: put its records together there")
    }

    /// Whether a fact or list is written for the first time.
    fn first(&mut self, name: &str, key: Span, help: &str) -> bool {
        let Some(before) = self.seen.get(name) else {
            self.seen.insert(name.to_owned(), key);
            return true;
        };
        let message = Diagnostic::error("fact::twice", format!("`{name}` is recorded twice"))
            .at(key, "here again")
            .at(*before, "first recorded here")
            .help(help);
        self.messages.push(message);
        false
    }

    pub(super) fn evidence(&mut self, page: &Page<'_>, subject: &str, written: &Spanned<DeValue<'_>>) {
        let (found, said) = self.files.read(page, subject, written);
        self.record.evidence.extend(found);
        self.messages.extend(said);
    }

    /// A table in the place of a single fact or a list may hold its evidence,
    /// and nothing else.
    fn only_evidence(&mut self, page: &Page<'_>, known: NameUse<'_>, (name, key): (&str, Span), table: &DeTable<'_>) {
        if let Some(evidence) = table.get("evidence") {
            self.evidence(page, name, evidence);
        }
        let other = table.keys().find(|key| key.get_ref() != "evidence").map(|key| page.span(key));
        if let Some(place) = other.or_else(|| table.is_empty().then_some(key)) {
            self.misshapen(known, name, (place, &DeValue::Table(DeTable::new())));
        }
    }

    /// A table, one value or several, where another of them is expected.
    fn misshapen(&mut self, known: NameUse<'_>, name: &str, (place, written): (Span, &DeValue<'_>)) {
        let found = format!("this is {}", in_words(written));
        let (message, help) = match known {
            NameUse { fact: Some((_, fact)), .. } => (
                format!("`{name}` asks for {}", asked(self.rules, fact.kind)),
                question(&fact.ask, fact.example.as_deref()),
            ),
            NameUse { list: Some((_, list)), .. } => {
                (format!("`{name}` is a list of records: begin each with [[{name}]]"), question(&list.ask, None))
            }
            _ => (
                format!("`{name}` is a group of facts, not a fact"),
                format!("in it there is {}", self.names.inside(name)),
            ),
        };
        self.messages.push(Diagnostic::error("fact::form", message).at(place, found).help(help));
    }

    pub(super) fn list_form(&mut self, list: &List, place: Span, written: &DeValue<'_>) {
        let message = format!("a record of `{}` is a table of its fields", list.name);
        let label = format!("this is {}", in_words(written));
        self.messages.push(Diagnostic::error("fact::form", message).at(place, label).help(question(&list.ask, None)));
    }
}
