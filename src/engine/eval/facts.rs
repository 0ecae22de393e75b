//! A record bound to a program's slots: typed, dense, ready to be read.

use crate::ir::{
    AboutId, Arena, ChoiceSet, ColumnId, Columns, ConstantId, FactId, FieldId, InStore, ListId, LoggedId, Numbers,
    Place, Program, RoleSet, RowId, Rules, SlotId, TextId, Texts, Words,
};
use crate::project::{LastDisturbed, Record, Recorded, Row, Rows, Value, Whole};
use crate::quantity::{Date, ExactInterval, Interval, Truth};
use std::collections::{BTreeMap, BTreeSet};

/// What is known of a text.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Text {
    /// Nobody recorded it.
    Unknown,
    /// It is known to be none.
    Absent,
    /// It is this one.
    Is(TextId),
}

impl Text {
    /// A constant of the program.
    pub(crate) fn of_constant(constant: ConstantId<Texts>) -> Self {
        Self::Is(TextId::of_constant(constant))
    }

    /// Whether two texts are one; undecided where either is not known, or is none.
    pub(crate) fn same(self, other: Self) -> Truth {
        self.id().zip(other.id()).map_or(Truth::Undecided, |(a, b)| Truth::from(a == b))
    }

    /// The text, if there is one and it is known.
    pub(crate) fn id(self) -> Option<TextId> {
        if let Self::Is(id) = self { Some(id) } else { None }
    }
}

/// One field of all records of a list.
pub(crate) type Column<T> = Arena<RowId, T>;

/// One store of values: numbers in two forms, words, texts.
#[derive(Debug, Clone, Default)]
pub(crate) struct Values {
    pub(crate) numbers: Arena<SlotId<Numbers>, Interval>,
    pub(crate) exact: Arena<SlotId<Numbers>, ExactInterval>,
    pub(crate) words: Arena<SlotId<Words>, ChoiceSet>,
    pub(crate) texts: Arena<SlotId<Texts>, Text>,
}

impl Values {
    /// Sets one fact; a field is set with its whole list.
    fn set(&mut self, rules: &Rules, id: FactId, value: Option<&Value>, text: Text) {
        match rules.fact(id).map(|fact| fact.slot) {
            Some(Place::Slot(InStore::Numbers(slot))) => {
                let (interval, range) = number(value);
                self.numbers.set(slot, interval);
                self.exact.set(slot, range);
            }
            Some(Place::Slot(InStore::Words(slot))) => {
                let all = rules.program.slots.words.get(slot).map_or(ChoiceSet::ANYTHING, |one| one.all);
                self.words.set(slot, words(value, all));
            }
            Some(Place::Slot(InStore::Texts(slot))) => {
                self.texts.set(slot, text);
            }
            Some(Place::Column(_)) | None => {}
        }
    }
}

/// The records of a list, column by column.
#[derive(Debug, Clone, Default)]
pub(crate) struct ListValues {
    /// How many records are known.
    pub(crate) len: u32,
    /// Whether these are all there are, because somebody says so.
    pub(crate) whole: bool,
    /// For how many things each record stands; nothing where each stands for one.
    pub(crate) how_many: Column<u32>,
    pub(crate) numbers: Arena<ColumnId<Numbers>, Column<Interval>>,
    pub(crate) exact: Arena<ColumnId<Numbers>, Column<ExactInterval>>,
    pub(crate) words: Arena<ColumnId<Words>, Column<ChoiceSet>>,
    pub(crate) texts: Arena<ColumnId<Texts>, Column<Text>>,
}

/// What would be if facts that nobody recorded were none.
#[derive(Debug, Clone)]
struct Until {
    facts: BTreeSet<FactId>,
    values: Values,
}

/// All facts of one project.
#[derive(Debug, Clone, Default)]
pub struct Facts {
    pub(crate) values: Values,
    /// The same, with some that nobody recorded taken as none.
    until: Option<Until>,
    pub(crate) lists: Arena<ListId, ListValues>,
    strings: Arena<TextId, String>,
    /// What the log shows of each need: the first day of the latest entries that show it.
    pub(crate) logged: Arena<LoggedId, Option<Date>>,
    /// The roles of those who are named in facts.
    persons: BTreeMap<TextId, RoleSet>,
    /// For each of what people's words are about, when it may have been disturbed last.
    pub(crate) disturbed: Arena<AboutId, Option<LastDisturbed>>,
    by_text: BTreeMap<String, TextId>,
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
        // Of what somebody says, whoever knows the day decides whether it counts.
        for (id, _) in record.whole.iter().filter(|(_, whole)| **whole == Whole::Given) {
            facts.set_whole(*id, true);
        }
        facts
    }

    /// Nothing recorded at all.
    fn unknown(program: &Program) -> Self {
        let mut facts = Self { strings: program.texts.iter().cloned().collect(), ..Self::default() };
        let texts = program.texts.with_ids();
        facts.by_text = texts.map(|(id, text)| (text.clone(), TextId::of_constant(id))).collect();
        let numbers = program.slots.numbers.len();
        facts.values.numbers = Arena::filled(Interval::EVERYTHING, numbers);
        facts.values.exact = Arena::filled(ExactInterval::everything(), numbers);
        facts.values.words = program.slots.words.iter().map(|one| one.all).collect();
        facts.values.texts = Arena::filled(Text::Unknown, program.slots.texts.len());
        facts.lists = Arena::filled(ListValues::default(), program.columns.len());
        facts
    }

    /// Sets one fact; `None` makes it unrecorded again.
    pub fn set(&mut self, rules: &Rules, id: FactId, recorded: Option<&Recorded>) {
        let value = recorded.map(|r| &r.value);
        let text = self.text(value);
        self.values.set(rules, id, value, text);
        if let Some(until) = &mut self.until {
            match value {
                None if until.facts.contains(&id) => until.values.set(rules, id, Some(&Value::Absent), Text::Absent),
                _ => until.values.set(rules, id, value, text),
            }
        }
    }

    /// Takes facts that nobody recorded as none, for those who ask what would be then.
    pub(crate) fn take_as_none(&mut self, rules: &Rules, facts: BTreeSet<FactId>) {
        let mut values = self.values.clone();
        for id in &facts {
            values.set(rules, *id, Some(&Value::Absent), Text::Absent);
        }
        self.until = (!facts.is_empty()).then_some(Until { facts, values });
    }

    /// The values if those facts were none.
    pub(crate) fn until(&self) -> &Values {
        self.until.as_ref().map_or(&self.values, |until| &until.values)
    }

    pub(crate) fn set_list<'r>(&mut self, rules: &Rules, id: ListId, rows: &'r Rows) {
        let Some(columns) = rules.program.columns.get(id) else { return };
        let Columns { numbers, words: word_columns, texts } = columns;
        // No text that is read has so many records that their number would not fit.
        let len = u32::try_from(rows.rows.len()).unwrap_or(0);
        let whole = self.lists.get(id).is_some_and(|list| list.whole);
        let mut values = ListValues { len, whole, ..ListValues::default() };
        if rows.rows.iter().any(|row| row.how_many.get() > 1) {
            values.how_many = rows.rows.iter().map(|row| row.how_many.get()).collect();
        }
        let column = |field: FieldId| {
            let of_row = move |row: &'r Row| row.fields.get(field.index()).and_then(Option::as_ref);
            rows.rows.iter().map(move |row| of_row(row).map(|r| &r.value))
        };
        for field in numbers {
            let (intervals, ranges): (Vec<_>, Vec<_>) = column(field.of).map(number).unzip();
            values.numbers.push(intervals.into());
            values.exact.push(ranges.into());
        }
        for field in word_columns {
            values.words.push(column(field.of).map(|value| words(value, field.all)).collect());
        }
        for field in texts {
            values.texts.push(column(*field).map(|value| self.text(value)).collect());
        }
        self.lists.set(id, values);
    }

    fn text(&mut self, value: Option<&Value>) -> Text {
        match value {
            Some(Value::Text(text)) => {
                if let Some(id) = self.by_text.get(text) {
                    return Text::Is(*id);
                }
                let id = self.strings.push(text.clone());
                self.by_text.insert(text.clone(), id);
                Text::Is(id)
            }
            Some(Value::Absent) => Text::Absent,
            Some(Value::Words(_) | Value::Number(_)) | None => Text::Unknown,
        }
    }

    /// Makes the roles of somebody known.
    pub(crate) fn set_person(&mut self, name: &str, roles: RoleSet) {
        if let Text::Is(id) = self.text(Some(&Value::Text(name.to_owned()))) {
            self.persons.insert(id, roles);
        }
    }

    /// Whether somebody has none of these roles; undecided of somebody who is not known.
    pub(crate) fn is_somebody_else(&self, person: Text, than: RoleSet) -> Truth {
        let roles = person.id().and_then(|id| self.persons.get(&id));
        roles.map_or(Truth::Undecided, |roles| Truth::from(!roles.meets(than)))
    }

    /// A text, if there is one and it is known.
    pub(crate) fn string(&self, text: Text) -> Option<&str> {
        self.strings.get(text.id()?).map(String::as_str)
    }
}

fn number(value: Option<&Value>) -> (Interval, ExactInterval) {
    match value {
        Some(Value::Number(range)) => (range.to_interval(), range.clone()),
        Some(Value::Absent) => (Interval::ABSENT, ExactInterval::absent()),
        Some(Value::Words(_) | Value::Text(_)) | None => (Interval::EVERYTHING, ExactInterval::everything()),
    }
}

fn words(value: Option<&Value>, all: ChoiceSet) -> ChoiceSet {
    match value {
        Some(Value::Words(set)) => *set,
        Some(Value::Absent) => ChoiceSet::ABSENT,
        Some(Value::Text(_) | Value::Number(_)) | None => all,
    }
}

impl Facts {
    /// Says whether the records known of a list are all there are.
    pub(crate) fn set_whole(&mut self, id: ListId, whole: bool) {
        if let Some(list) = self.lists.get_mut(id) {
            list.whole = whole;
        }
    }
}
