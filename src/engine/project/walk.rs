//! The walk through a file's tables: every key is a fact, a list, a group,
//! evidence or a person's word, or else an error.

use super::evidence::Files;
use super::job;
use super::keys::log::{EVIDENCE, LOG};
use super::known_names::{NameUse, Names};
use super::log;
use super::statements::{self, Word};
use super::taken::{DATED, INSTRUMENT, VALUE, taken};
use super::text::{FileText, Page, added, parse};
use super::unread::Unread;
use super::whole::{self, WHOLE};
use super::words::{asked, in_words, question};
use super::{Record, Taken, value};
use crate::diagnostic::{Diagnostic, did_you_mean};
use crate::ir::{Fact, FactId, List, Rules};
use crate::source::{SourceId, Span};
use crate::workers::each_of;
use std::cell::OnceCell;
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
    /// Made ready for the first log.
    words: OnceCell<log::Words<'r>>,
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
            words: OnceCell::new(),
            seen: BTreeMap::new(),
            said_whole: BTreeMap::new(),
            record: Record::default(),
            unread: Unread::default(),
            messages: Vec::new(),
        }
    }

    /// Adds a file; nothing where it cannot be read as text.
    pub(super) fn added<'t>(&mut self, file: &'t FileText) -> Option<(SourceId, &'t str)> {
        let added = added(file, &mut self.record.sources);
        let wrong = |message: Box<Diagnostic>| {
            self.unread.file();
            self.messages.push(*message);
        };
        added.map_err(wrong).ok()
    }

    /// Takes in files that were added, the logs among them by so many workers at once. Which of them are nothing but a
    /// log, plainly written, of which nothing is to be said.
    pub(super) fn texts(&mut self, texts: &[(SourceId, &str)], workers: usize) -> Vec<SourceId> {
        let mut logs: Vec<Option<log::Read>> = texts.iter().map(|_| None).collect();
        let against = self.against();
        each_of(
            texts,
            workers,
            // Files are looked for in the order of what names them, as far as the bounds of that let them.
            |(source, text)| {
                let ahead = workers > 1 && !text.contains(EVIDENCE);
                ahead.then(|| log::read_plain(against, (*source, text))).flatten()
            },
            |number, read| {
                if let Some(log) = logs.get_mut(number) {
                    *log = read;
                }
            },
        );
        // Once for all, not again and again as it grows.
        self.record.log.reserve(logs.iter().flatten().map(log::Read::len).sum());
        let mut plain = Vec::new();
        for ((source, text), log) in texts.iter().zip(logs) {
            let before = self.messages.len();
            if let Some(log) = log.or_else(|| log::read_plain(self.against(), (*source, text))) {
                log.put_into(&mut self.record, &mut self.unread, &mut self.messages);
                plain.extend((self.messages.len() == before).then_some(*source));
                continue;
            }
            let (page, said) = parse(*source, 0, text);
            if said.iter().any(Diagnostic::is_error) {
                self.unread.file();
            }
            self.messages.extend(said);
            if let Some(page) = page {
                self.page(&page);
            }
        }
        plain
    }

    /// Takes in a text that is nothing but a log, plainly written. Whether it is.
    pub(super) fn plain_log(&mut self, source: SourceId, text: &str) -> bool {
        let Some(log) = log::read_plain(self.against(), (source, text)) else { return false };
        log.put_into(&mut self.record, &mut self.unread, &mut self.messages);
        true
    }

    /// What entries of the log are read against.
    fn against(&self) -> log::Against<'_> {
        let words = self.words.get_or_init(|| log::Words::of(self.rules));
        log::Against { rules: self.rules, words, files: &self.files, record: &self.record }
    }

    /// Takes in one file that was parsed.
    pub(super) fn page(&mut self, page: &Page<'_>) {
        let before = self.messages.len();
        for (key, written) in &page.table {
            let at = page.span(key);
            match Word::of(key.get_ref()) {
                None if key.get_ref() == LOG => {
                    let read = log::read(self.against(), page, (at, written.get_ref()));
                    read.put_into(&mut self.record, &mut self.unread, &mut self.messages);
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
                None => self.entry(page, key.get_ref(), (at, written), None),
            }
        }
        let said = self.messages.split_off(before);
        self.messages.extend(said.into_iter().filter(|message| page.stands(message)));
    }

    /// The keys below a group, a fact or a list. Depth is that of known names.
    /// A day or an instrument in it is that of the values in it, not of the tables in it.
    fn table(&mut self, page: &Page<'_>, group: &str, table: &DeTable<'_>) {
        let taken = taken(page, table, None, &mut self.messages);
        for (key, written) in table {
            let at = page.span(key);
            match key.get_ref().as_ref() {
                "evidence" => self.evidence(page, group, written, taken.as_ref()),
                DATED | INSTRUMENT => {}
                last => self.entry(page, &[group, last].join("."), (at, written), taken.as_ref()),
            }
        }
    }

    fn entry(&mut self, page: &Page<'_>, name: &str, (key, written): KeyAndValue<'_>, around: Option<&Taken>) {
        // However its name is written: in tables, with points, in quotes.
        if log::DERIVED_LISTS.contains(&name) {
            self.messages.push(log::kept(name).at(key, "not written by hand"));
            return;
        }
        let known = self.names.find(name);
        let is_table = written.get_ref().is_table();
        let is_group = (is_table || known.nothing()) && self.names.is_group(name);
        if known.nothing() && !is_group {
            let (message, help) = self.names.unknown(name, is_table);
            self.messages.push(Diagnostic::error("fact::unknown", message).at(key, "not known").help(help));
            return;
        }
        match written.get_ref() {
            DeValue::Table(table) if known.fact.is_some() && table.contains_key(VALUE) => {
                self.value_table(page, known, (name, key), table, around);
            }
            DeValue::Table(table) if is_group => self.table(page, name, table),
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
                Some(fact) => self.fact(page, (name, fact), (key, written), around),
                None => self.misshapen(known, name, (key, written.get_ref())),
            },
        }
    }

    /// `{ value = "18.4 gal/h", dated = 2026-10-04, instrument = "kitchen scale" }`
    fn value_table(
        &mut self,
        page: &Page<'_>,
        known: NameUse<'_>,
        (name, key): (&str, Span),
        table: &DeTable<'_>,
        around: Option<&Taken>,
    ) {
        let taken = taken(page, table, around, &mut self.messages);
        for (inner, written) in table {
            match (inner.get_ref().as_ref(), known.fact) {
                (VALUE, Some(fact)) => self.fact(page, (name, fact), (key, written), taken.as_ref()),
                ("evidence", _) => self.evidence(page, name, written, taken.as_ref()),
                (DATED | INSTRUMENT, _) => {}
                // Facts whose names begin with that of this one.
                (other, _) if self.is_known(&format!("{name}.{other}")) => {
                    let at = page.span(inner);
                    self.entry(page, &format!("{name}.{other}"), (at, written), None);
                }
                (other, _) => self.messages.push(beside_value(name, other, page.span(inner))),
            }
        }
    }

    fn is_known(&self, name: &str) -> bool {
        !self.names.find(name).nothing() || self.names.is_group(name)
    }

    fn fact(
        &mut self,
        page: &Page<'_>,
        (name, (id, fact)): (&str, (FactId, &Fact)),
        (key, written): KeyAndValue<'_>,
        taken: Option<&Taken>,
    ) {
        let help = "keep one of them; a measured spread is written as one value, such as \"12.1 in ± 0.1 in\"";
        if !self.first(name, key, help) {
            return;
        }
        let text = self.record.sources.text(page.span(written));
        match value::value(self.rules, (name, fact), page, written, text, taken) {
            Ok(recorded) if !taken.is_some_and(|taken| taken.unread) => {
                self.record.facts.insert(id, recorded);
            }
            Ok(_) => self.record.not_taken_in(name, page.span(written)),
            Err(message) => {
                self.record.not_taken_in(name, page.span(written));
                self.messages.push(message.of_one_value());
            }
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

    pub(super) fn evidence(
        &mut self,
        page: &Page<'_>,
        subject: &str,
        written: &Spanned<DeValue<'_>>,
        beside: Option<&Taken>,
    ) {
        let (found, said) = self.files.read(page, subject, written, beside.and_then(|taken| taken.on));
        self.record.evidence.extend(found);
        self.messages.extend(said);
    }

    /// A table in the place of a single fact or a list may hold its evidence,
    /// and nothing else.
    fn only_evidence(&mut self, page: &Page<'_>, known: NameUse<'_>, (name, key): (&str, Span), table: &DeTable<'_>) {
        let taken = taken(page, table, None, &mut self.messages);
        if let Some(evidence) = table.get("evidence") {
            self.evidence(page, name, evidence, taken.as_ref());
        }
        // A day is that of the evidence.
        let known_keys: &[&str] = if table.contains_key("evidence") { &["evidence", DATED] } else { &[] };
        let other = table.keys().find(|key| !known_keys.contains(&key.get_ref().as_ref())).map(|key| page.span(key));
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
                let (first, rest) = name.split_at(name.find('.').unwrap_or(name.len()));
                // A name with its pack before it stands in quotes.
                let heading = if first.contains('/') { format!("{first:?}{rest}") } else { name.to_owned() };
                (format!("`{name}` is a list of records: begin each with [[{heading}]]"), question(&list.ask, None))
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

/// A key beside a value that means nothing there.
pub(super) fn beside_value(name: &str, key: &str, place: Span) -> Diagnostic {
    let known = [VALUE, DATED, INSTRUMENT, "evidence"];
    let help = did_you_mean(key, known).unwrap_or_else(|| format!("beside a value stand {}", known.join(", ")));
    Diagnostic::error("fact::unknown", format!("the value of `{name}` has no `{key}`"))
        .at(place, "not known")
        .help(help)
}
