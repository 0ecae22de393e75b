//! What in a record says who somebody is, or which aircraft or thing it is.
//!
//! The kind of a fact decides first: a `person` is one. Of texts the name of
//! the fact or field decides, by the words between its dots and underscores.

use super::StandIns;
use crate::ir::{Fact, Kind, Named, Rules, Value};
use crate::project::{Concession, Confirmation, Deferral, Record, Recorded, Whole, WholeLog};

/// Words in the name of a text that say what it is, and what stands for it.
/// Of counts it is the same for addresses and serial numbers.
const SORTS: [(&str, &[&str]); 5] = [
    (PERSON, &["builder", "owner", "signer", "inspector", "pilot", "who", "by"]),
    ("serial", &["serial"]),
    ("registration", &["registration", "mark", "marks", "sign"]),
    ("address", &["address", "id"]),
    ("number", &["number", "certificate"]),
];

/// What stands for people.
pub(super) const PERSON: &str = "person";

/// Sorts that a count may be of: an address is sometimes written in decimal.
const OF_COUNTS: [&str; 2] = ["serial", "address"];

/// What a fact or field is, if it says who or which; the most telling word goes first.
pub(super) fn sort(fact: &Fact, name: &str) -> Option<&'static str> {
    let words = || name.split(['.', '_', '-']);
    let named = || {
        let telling = |(_, known): &&(&str, &[&str])| words().any(|word| known.contains(&word));
        let last = |(_, known): &&(&str, &[&str])| words().next_back().is_some_and(|word| known.contains(&word));
        SORTS.iter().find(last).or_else(|| SORTS.iter().find(telling)).map(|(sort, _)| *sort)
    };
    match fact.kind {
        Kind::Named(Named::Person) => Some(PERSON),
        Kind::Text => named(),
        Kind::Count => named().filter(|sort| OF_COUNTS.contains(sort)),
        Kind::YesNo | Kind::Choice(_) | Kind::Named(_) | Kind::Number(_) | Kind::Date => None,
    }
}

/// Enters everything that a record says of people and of which aircraft it is.
pub(super) fn enter(stand_ins: &mut StandIns, rules: &Rules, record: &Record) {
    // Whole names of all come before parts of any.
    for person in record.people.values() {
        stand_ins.enter_person(&person.name);
    }
    for (short, person) in &record.people {
        stand_ins.enter_short_name(short, &person.name);
    }
    for (name, fact, recorded) in values(rules, record) {
        stand_ins.known_values(&name, fact, fact.pack.index() < rules.prebuilt_packs);
        let (Some(sort), Some(recorded)) = (sort(fact, &name), recorded) else { continue };
        match &recorded.value {
            Value::Text(text) if sort == PERSON => stand_ins.enter_person(text),
            Value::Text(text) => stand_ins.enter(sort, text),
            Value::Number(_) => {
                stand_ins.enter(sort, &recorded.text);
                recorded.read_as.iter().for_each(|strict| stand_ins.enter(sort, strict));
            }
            Value::Words(_) | Value::Absent => {}
        }
    }
    for name in names(record) {
        stand_ins.enter_person(name);
    }
    stand_ins.enter_words_of_names();
}

/// Every fact and field by its name, each with every value recorded of it.
fn values<'a>(rules: &'a Rules, record: &'a Record) -> Vec<(String, &'a Fact, Option<&'a Recorded>)> {
    let mut values = Vec::new();
    for (id, fact) in rules.facts.with_ids() {
        values.push((fact.name.to_string(), fact, record.facts.get(&id)));
    }
    for (id, list) in rules.lists.with_ids() {
        for (field_id, field) in list.fields.with_ids() {
            let name = format!("{}.{}", list.name, field.name);
            values.push((name.clone(), field, None));
            let rows = record.lists.get(&id).map_or(&[][..], |rows| &rows.rows);
            values.extend(rows.iter().map(|row| (name.clone(), field, row.field(field_id))));
        }
    }
    values
}

/// Everybody who is named beside what they did or said.
fn names(record: &Record) -> impl Iterator<Item = &str> {
    let entries = record.log.iter().map(|entry| entry.who.as_str());
    let words = record.confirmations.iter().map(|Confirmation { who, .. }| who.as_str());
    let leave = record.concessions.iter().map(|Concession { granted_by, .. }| granted_by.as_str());
    let deferrals = record.deferrals.iter().map(|Deferral { who, .. }| who.as_str());
    let lists = record.whole.values().filter_map(|whole| match whole {
        Whole::Said { word, .. } => Some(word.who.as_str()),
        Whole::Given => None,
    });
    let log = record.whole_log.iter().filter_map(|whole| match whole {
        WholeLog::Said { word, .. } => Some(word.who.as_str()),
        WholeLog::Given => None,
    });
    entries.chain(words).chain(leave).chain(deferrals).chain(lists).chain(log)
}
