//! What a worked example gives, as a builder would have recorded it.

use crate::ir::{
    BUILDER, Example, Fact, Given, GivenEntry, GivenList, GivenValue, GivenWord, Item, Kind, ListId, Named, Rules,
    Value,
};
use crate::project::{
    Confirmation, Entry, Evidence, Moment, Person, Record, Recorded, Row, Rows, Taken, Whole, WholeLog, record_names,
};
use crate::source::{SharedText, Span};
use std::num::NonZeroU32;

/// Who signs where the example names nobody. Nobody else in it may be taken for that person.
const SOMEBODY: &str = "somebody";

/// Who builds, in every example.
const BUILDER_OF_ALL: &str = "who builds it";

/// The record that an example of an item stands for.
#[must_use]
pub fn record_of(rules: &Rules, item: &Item, example: &Example) -> Record {
    let Given { facts, lists, log, words, evidence, people, visit } = &example.given;
    let mut record = Record { sources: rules.sources.clone(), visit: *visit, ..Record::default() };
    record.facts = facts.iter().map(|(id, value)| (*id, recorded(rules, value))).collect();
    record.lists = lists.iter().map(|(id, list)| (*id, rows(rules, list))).collect();
    record.whole = lists.iter().filter(|(_, list)| list.whole).map(|(id, _)| (*id, Whole::Given)).collect();
    record.whole_log = Some(WholeLog::Given);
    for (name, role) in people {
        add_person(name, Some(role), item.place, &mut record);
    }
    for name in persons_named(rules, &record) {
        add_person(&name, None, item.place, &mut record);
    }
    // Somebody builds in every example, so that others can be told from a builder.
    add_person(BUILDER_OF_ALL, Some(BUILDER), item.place, &mut record);
    for given in log {
        add_entry(given, &mut record);
    }
    for word in words {
        add_word(rules, item, word, &mut record);
    }
    for given in evidence {
        let each = item.each.filter(|_| given.per_record);
        for subject in each.and_then(|id| keys(rules, id, &record)).unwrap_or_else(|| vec![given.subject.to_string()]) {
            let kind = given.kind.to_string();
            record.evidence.push(Evidence {
                subject,
                kind,
                file: String::new(),
                found: true,
                dated: None,
                place: given.place,
            });
        }
    }
    record
}

fn recorded(rules: &Rules, given: &GivenValue) -> Recorded {
    let GivenValue { value, unit, on, instrument, place } = given.clone();
    let taken = Taken {
        on: on.map(|on| Moment { on, at: None, place }),
        instrument: instrument.map(|instrument| instrument.to_string()),
        ..Taken::default()
    };
    let taken = (taken != Taken::default()).then(|| Box::new(taken));
    Recorded { value, text: rules.sources.text(place).to_owned(), read_as: None, unit, taken, place }
}

fn rows(rules: &Rules, list: &GivenList) -> Rows {
    let field = |field: &Option<GivenValue>| field.as_ref().map(|value| recorded(rules, value));
    let row = |((fields, how_many), part): ((&Vec<Option<GivenValue>>, &NonZeroU32), &Option<SharedText>)| Row {
        fields: fields.iter().map(field).collect(),
        how_many: *how_many,
        part: part.as_ref().map(ToString::to_string),
        place: list.place,
    };
    let records = list.records.iter().zip(&list.how_many).zip(&list.parts);
    Rows { rows: records.map(row).collect(), place: list.place }
}

/// What evidence of each record is named by, if the list is given.
fn keys(rules: &Rules, id: ListId, record: &Record) -> Option<Vec<String>> {
    let list = rules.list(id)?.name.as_str();
    let names = record_names(rules, id, record.lists.get(&id)?);
    Some(names.into_iter().map(|name| format!("{list}[{name}]")).collect())
}

/// Makes somebody known to the project, with one role more.
fn add_person(name: &str, role: Option<&str>, place: Span, record: &mut Record) {
    let person = Person { name: name.to_owned(), roles: Vec::new(), place };
    let person = record.people.entry(name.to_owned()).or_insert(person);
    person.roles.extend(role.map(str::to_owned));
}

/// Whoever is named in a fact or field: in an example everybody is known.
fn persons_named(rules: &Rules, record: &Record) -> Vec<String> {
    let mut named = Vec::new();
    let mut add = |fact: &Fact, value: &Value| {
        if let (Kind::Named(Named::Person), Value::Text(name)) = (fact.kind, value) {
            named.push(name.clone());
        }
    };
    for (id, recorded) in &record.facts {
        rules.fact(*id).into_iter().for_each(|fact| add(fact, &recorded.value));
    }
    for (id, rows) in &record.lists {
        let Some(list) = rules.list(*id) else { continue };
        for row in &rows.rows {
            let cells = list.fields.iter().zip(&row.fields);
            cells.for_each(|(field, cell)| cell.iter().for_each(|cell| add(field, &cell.value)));
        }
    }
    named
}

fn add_entry(given: &GivenEntry, record: &mut Record) {
    let who = given.who.as_ref().map_or(SOMEBODY, |who| who.as_str());
    add_person(who, Some(&given.role), given.place, record);
    record.log.push(Entry {
        instrument: given.instrument.as_ref().map(ToString::to_string),
        points: given.points.iter().map(ToString::to_string).collect(),
        role: given.role.to_string(),
        for_good: given.for_good,
        another: given.another,
        ..Entry::new(given.event, &given.subject, who, given.on, given.place)
    });
}

/// A word about an item that is raised per record is one about each of them.
fn add_word(rules: &Rules, item: &Item, word: &GivenWord, record: &mut Record) {
    let names = item.each.and_then(|id| record.lists.get(&id).map(|rows| record_names(rules, id, rows)));
    let subjects = names.map_or_else(|| vec![None], |names| names.into_iter().map(Some).collect());
    let who = format!("who speaks as {}", word.role);
    add_person(&who, Some(&word.role), word.place, record);
    for subject in subjects {
        record.confirmations.push(Confirmation {
            item: rules.full_name(item),
            subject,
            who: who.clone(),
            role: word.role.to_string(),
            on: word.on,
            at: None,
            holds: word.holds,
            note: None,
            // It is of the wording that the example stands with.
            wording: item.from,
            place: word.place,
        });
    }
}
