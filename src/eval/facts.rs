//! A record bound to a program's slots: typed, dense, ready to be read.

use crate::ir::{ABSENT_WORD, Columns, Program, Store};
use crate::ir::{FactId, ListId, Rules};
use crate::project::{Record, Recorded, Value};
use crate::quantity::{Date, Interval, Range, Truth};
use std::collections::BTreeMap;

/// A text nobody recorded.
pub(crate) const UNKNOWN_TEXT: u32 = u32::MAX;
/// A text known to be absent.
pub(crate) const ABSENT_TEXT: u32 = u32::MAX - 1;

/// One store of values: numbers in two forms, words, texts.
#[derive(Debug, Clone, Default)]
pub(crate) struct Values {
    pub(crate) numbers: Vec<Interval>,
    pub(crate) exact: Vec<Range>,
    pub(crate) words: Vec<u64>,
    pub(crate) texts: Vec<u32>,
}

/// The records of a list, column by column.
#[derive(Debug, Clone, Default)]
pub(crate) struct ListValues {
    /// How many records; `None` if the list is not recorded.
    pub(crate) len: Option<u32>,
    pub(crate) numbers: Vec<Vec<Interval>>,
    pub(crate) exact: Vec<Vec<Range>>,
    pub(crate) words: Vec<Vec<u64>>,
    pub(crate) texts: Vec<Vec<u32>>,
}

/// All facts of one project.
#[derive(Debug, Clone, Default)]
pub struct Facts {
    pub(crate) values: Values,
    pub(crate) lists: Vec<ListValues>,
    pub(crate) strings: Vec<String>,
    /// What the log shows, by place in the program.
    pub(crate) logged: Vec<Truth>,
    /// For each of what people's words are about, the last day on which it may have been disturbed.
    pub(crate) disturbed: Vec<Option<Date>>,
    by_text: BTreeMap<String, u32>,
}

impl Facts {
    /// Binds a record.
    #[must_use]
    pub fn bind(rules: &Rules, record: &Record) -> Self {
        let mut facts = Self::unknown(&rules.program);
        for (id, recorded) in &record.facts {
            facts.set(rules, *id, Some(recorded));
        }
        for (id, rows) in &record.lists {
            facts.set_list(rules, *id, rows);
        }
        facts
    }

    /// Nothing recorded at all.
    fn unknown(program: &Program) -> Self {
        let mut facts = Self { strings: program.texts.clone(), ..Self::default() };
        facts.by_text = (0u32..).zip(&program.texts).map(|(n, text)| (text.clone(), n)).collect();
        let numbers = program.slots.numbers.len();
        facts.values.numbers = vec![Interval::EVERYTHING; numbers];
        facts.values.exact = vec![Range::everything(); numbers];
        facts.values.words = program.slots.words.iter().map(|(_, all)| *all).collect();
        facts.values.texts = vec![UNKNOWN_TEXT; program.slots.texts.len()];
        facts.lists = vec![ListValues::default(); program.columns.len()];
        facts
    }

    /// Sets one fact; `None` makes it unrecorded again.
    pub fn set(&mut self, rules: &Rules, id: FactId, recorded: Option<&Recorded>) {
        let Some(fact) = rules.fact(id) else { return };
        let slot = fact.slot as usize;
        let value = recorded.map(|r| &r.value);
        match fact.kind.store() {
            Store::Numbers => {
                let (interval, range) = number(value);
                put(&mut self.values.numbers, slot, interval);
                put(&mut self.values.exact, slot, range);
            }
            Store::Words => {
                let all = rules.program.slots.words.get(slot).map_or(u64::MAX, |(_, all)| *all);
                put(&mut self.values.words, slot, words(value, all));
            }
            Store::Texts => {
                let text = self.text(value);
                put(&mut self.values.texts, slot, text);
            }
        }
    }

    pub(crate) fn set_list(&mut self, rules: &Rules, id: ListId, rows: &crate::project::Rows) {
        let Some(columns) = rules.program.columns.get(id.0 as usize) else { return };
        let Columns { numbers, words: word_columns, texts } = columns;
        let mut values = ListValues { len: u32::try_from(rows.rows.len()).ok(), ..ListValues::default() };
        let column = |field: u32| {
            rows.rows.iter().map(move |row| row.fields.get(field as usize).and_then(Option::as_ref).map(|r| &r.value))
        };
        for field in numbers {
            let (intervals, ranges) = column(*field).map(number).unzip();
            values.numbers.push(intervals);
            values.exact.push(ranges);
        }
        for (field, all) in word_columns {
            values.words.push(column(*field).map(|value| words(value, *all)).collect());
        }
        for field in texts {
            let column: Vec<_> = column(*field).collect();
            values.texts.push(column.into_iter().map(|value| self.text(value)).collect());
        }
        put(&mut self.lists, id.0 as usize, values);
    }

    fn text(&mut self, value: Option<&Value>) -> u32 {
        match value {
            Some(Value::Text(text)) => {
                if let Some(id) = self.by_text.get(text) {
                    return *id;
                }
                let id = u32::try_from(self.strings.len()).unwrap_or(UNKNOWN_TEXT);
                self.strings.push(text.clone());
                self.by_text.insert(text.clone(), id);
                id
            }
            Some(Value::Absent) => ABSENT_TEXT,
            Some(Value::Words(_) | Value::Number(_)) | None => UNKNOWN_TEXT,
        }
    }

    /// The text of an id.
    pub(crate) fn string(&self, id: u32) -> Option<&str> {
        self.strings.get(id as usize).map(String::as_str)
    }
}

fn put<T>(store: &mut [T], at: usize, value: T) {
    if let Some(place) = store.get_mut(at) {
        *place = value;
    }
}

fn number(value: Option<&Value>) -> (Interval, Range) {
    match value {
        Some(Value::Number(range)) => (range.to_interval(), range.clone()),
        Some(Value::Absent) => (Interval::ABSENT, Range::absent()),
        Some(Value::Words(_) | Value::Text(_)) | None => (Interval::EVERYTHING, Range::everything()),
    }
}

fn words(value: Option<&Value>, all: u64) -> u64 {
    match value {
        Some(Value::Words(set)) => *set,
        Some(Value::Absent) => ABSENT_WORD,
        Some(Value::Text(_) | Value::Number(_)) | None => all,
    }
}

impl Facts {
    /// Sets only the number of records of a list, none of them known.
    pub(crate) fn set_len(&mut self, id: ListId, len: Option<u32>) {
        if let Some(list) = self.lists.get_mut(id.0 as usize) {
            list.len = len;
        }
    }
}
