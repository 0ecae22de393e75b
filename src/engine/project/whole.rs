//! The builder's word that a list is whole: `[whole]`. What is recorded of a
//! list stands for every list that has those records; only somebody's word
//! makes it exactly those.

use super::Record;
use super::copies::doubles;
use super::form::Form;
use super::keys::whole as keys;
use super::log::who;
use super::text::Page;
use super::value::whole_number;
use super::words::in_words;
use crate::diagnostic::{Diagnostic, did_you_mean};
use crate::ir::{HOW_MANY, Rules};
use crate::quantity::DateRange;
use crate::source::Span;
use std::collections::BTreeMap;
use std::num::NonZeroU32;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

pub use super::keys::log::LOG;
pub use super::keys::whole::WHOLE;

/// What makes a list whole.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Whole {
    /// A worked example gives it so.
    Given,
    /// Somebody says that these records are all.
    Said {
        /// Each of them.
        records: Vec<SaidRecord>,
        /// By whom, when and where.
        word: Word,
    },
}

/// A record as somebody's word names it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct SaidRecord {
    /// What it is called.
    pub name: String,
    /// For how many things alike it stood.
    pub how_many: NonZeroU32,
}

impl std::fmt::Display for SaidRecord {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self.how_many {
            NonZeroU32::MIN => f.write_str(&self.name),
            many => write!(f, "{} ({many})", self.name),
        }
    }
}

/// What makes the log whole, and with it the lists derived from it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum WholeLog {
    /// A worked example gives it so.
    Given,
    /// Somebody says that it tells all work up to a day.
    Said {
        /// How many entries it had.
        entries: usize,
        /// The last day of which it tells all.
        up_to: DateRange,
        /// By whom, when and where.
        word: Word,
    },
}

/// Says that entries of the log are gone since somebody said how many there were:
/// what they told of parts would else be as if it had never happened.
/// What stands twice, if anything does, is one entry.
pub(super) fn entries_gone(record: &Record, some_twice: bool) -> Option<Diagnostic> {
    let Some(WholeLog::Said { entries, up_to, word }) = &record.whole_log else { return None };
    let doubles = if some_twice { doubles(&record.log) } else { BTreeMap::new() };
    let told =
        record.log.iter().enumerate().filter(|(at, entry)| entry.on.first <= up_to.last && !doubles.contains_key(at));
    let now = told.count();
    (now < *entries).then(|| {
        let message = format!("the log was said to have {entries} entries up to {up_to}, and has {now}");
        Diagnostic::error("whole::entries-gone", message)
            .at(word.place, "said here")
            .help("bring back the lines that are gone; if they were taken out on purpose, say anew how many there are")
    })
}

/// Who says it, and when.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Word {
    /// The person, as written.
    pub who: String,
    /// The day.
    pub on: DateRange,
    /// Where it is written.
    pub place: Span,
}

/// Reads the table of words into `record`. A list of which two files speak is
/// told; `first` holds where each was spoken of.
pub(super) fn read(
    rules: &Rules,
    page: &Page<'_>,
    (key, written): (Span, &DeValue<'_>),
    (record, first): (&mut Record, &mut BTreeMap<String, Span>),
) -> Vec<Diagnostic> {
    let DeValue::Table(table) = written else {
        let message = format!("`{WHOLE}` is a table of lists, not {}", in_words(written));
        let help = format!(
            "write [{WHOLE}], and below it \"fuel.tanks\" = {{ records = [\"left\"], who = \"ada\", on = ... }}"
        );
        return vec![Diagnostic::error("record::form", message).at(key, "").help(help)];
    };
    let mut messages = Vec::new();
    for (name, written) in table {
        let (place, name) = (page.span(name), name.get_ref().as_ref());
        if let Some(before) = first.get(name) {
            let message = format!("`{name}` is said to be whole twice");
            let help = "keep the later word, and take the other out";
            messages.push(
                Diagnostic::error("fact::twice", message).at(place, "here again").at(*before, "first here").help(help),
            );
            continue;
        }
        first.insert(name.to_owned(), place);
        let Some(word) = written.get_ref().as_table() else {
            let message = format!("what is said of `{name}` is a table, not {}", in_words(written.get_ref()));
            let help = "write { records = [\"left\"], who = \"ada\", on = ... }: each record by its name, none as []";
            messages.push(Diagnostic::error("record::form", message).at(page.span(written), "").help(help));
            continue;
        };
        let at = page.span(written);
        if name == LOG {
            record.whole_log = log_word(rules, page, (word, at), record, &mut messages);
            continue;
        }
        match rules.list_by_name.get(name).copied() {
            Some(id) if rules.list(id).is_some_and(|list| !list.derived()) => {
                if let Some(said) = list_word(rules, page, (word, at), record, &mut messages) {
                    record.whole.insert(id, said);
                }
            }
            Some(_) => messages.push(of_the_log(name, place)),
            None if dotted(rules, name, word).is_some() => {
                let list = dotted(rules, name, word).unwrap_or_default();
                let message = format!("`{list}` is one name here: without quotes it is read as a table in a table");
                let help = format!("put it in quotes: \"{list}\" = {{ ... }}");
                messages.push(Diagnostic::error("record::form", message).at(place, "").help(help));
            }
            None => messages.push(unknown(rules, name, place)),
        }
    }
    messages
}

/// The list that was meant where its name was written without quotes.
fn dotted(rules: &Rules, name: &str, word: &DeTable<'_>) -> Option<String> {
    let (next, below) = word.iter().next()?;
    let name = format!("{name}.{}", next.get_ref());
    if rules.list_by_name.contains_key(name.as_str()) {
        return Some(name);
    }
    // No name of a list has more parts than the packs give it.
    let known = rules.list_by_name.keys().any(|list| list.starts_with(&format!("{name}.")));
    dotted(rules, &name, below.get_ref().as_table().filter(|_| known)?)
}

fn of_the_log(name: &str, place: Span) -> Diagnostic {
    let message = format!("`{name}` comes from the log: it is as whole as that");
    let help = format!("say it of the log: {LOG} = {{ entries = ..., up_to = ..., who = \"ada\", on = ... }}");
    Diagnostic::error("record::form", message).at(place, "").help(help)
}

fn unknown(rules: &Rules, name: &str, place: Span) -> Diagnostic {
    let known = rules.lists.iter().filter(|list| !list.derived()).map(|list| list.name.as_str());
    let help = did_you_mean(name, known)
        .unwrap_or_else(|| "`cotterpin questions` names the lists that are asked for".to_owned());
    Diagnostic::error("fact::unknown", format!("none of the packs in use has a list `{name}`"))
        .at(place, "not known")
        .help(help)
}

/// Who says that a list is whole, and with which records.
fn list_word(
    rules: &Rules,
    page: &Page<'_>,
    (table, place): (&DeTable<'_>, Span),
    record: &Record,
    messages: &mut Vec<Diagnostic>,
) -> Option<Whole> {
    let mut form = Form::new(WHOLE, &keys::OF_A_LIST, rules, page, (table, place));
    let records = records(&mut form);
    let word = word(&mut form, record);
    let whole = form.messages.is_empty();
    messages.append(&mut form.messages);
    whole.then_some(())?;
    Some(Whole::Said { records: records?, word: word? })
}

/// Each record by its name, or by name and number where it stands for many.
fn records(form: &mut Form<'_>) -> Option<Vec<SaidRecord>> {
    let Some(written) = form.find(keys::RECORDS) else {
        form.missing(keys::RECORDS, "the name of each record there is; [] where there is none");
        return None;
    };
    let record = |piece: &Spanned<DeValue<'_>>| match piece.get_ref() {
        DeValue::String(name) => Some(SaidRecord { name: name.trim().to_owned(), how_many: NonZeroU32::MIN }),
        DeValue::Table(table) if table.len() == 2 => {
            let name = table.get("name")?.get_ref().as_str()?.trim().to_owned();
            let DeValue::Integer(number) = table.get(HOW_MANY)?.get_ref() else { return None };
            let how_many = whole_number(number).and_then(|many| u32::try_from(many).ok()).and_then(NonZeroU32::new)?;
            Some(SaidRecord { name, how_many })
        }
        _ => None,
    };
    let records = written.get_ref().as_array().and_then(|pieces| pieces.iter().map(record).collect());
    if records.is_none() {
        let expected = "expected names such as [\"left\", { name = \"cover screws\", how_many = 48 }]";
        form.wrong(keys::RECORDS, "record::form", expected.to_owned());
    }
    records
}

/// Who says up to which day the log is whole, and with how many entries.
fn log_word(
    rules: &Rules,
    page: &Page<'_>,
    (table, place): (&DeTable<'_>, Span),
    record: &Record,
    messages: &mut Vec<Diagnostic>,
) -> Option<WholeLog> {
    let mut form = Form::new(WHOLE, &keys::OF_THE_LOG, rules, page, (table, place));
    let entries = form.count(keys::ENTRIES, "the number of entries in the log");
    let up_to = form.date(keys::UP_TO, "the last day of which the log tells all work");
    let word = word(&mut form, record);
    let whole = form.messages.is_empty();
    messages.append(&mut form.messages);
    whole.then_some(())?;
    Some(WholeLog::Said { entries: entries?, up_to: up_to?, word: word? })
}

fn word(form: &mut Form<'_>, record: &Record) -> Option<Word> {
    let who = who(form, record);
    let on = form.date(keys::ON, "the day on which it is said");
    Some(Word { who: who?, on: on?, place: form.place })
}
