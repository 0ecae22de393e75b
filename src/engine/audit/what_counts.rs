//! What of a record counts on a day: what has been undone, and the records of
//! parts that the aircraft is without, are taken out before anything is judged.

use crate::eval::Facts;
use crate::ir::{Fact, Kind, ListId, Named, PartOrAll, Rules, Value};
use crate::lapse::{Logbook, of_fact, of_field};
use crate::project::{Record, Recorded, Row, Rows};
use std::collections::{BTreeMap, BTreeSet};

/// What is left of lists where a record is of a part that the aircraft is without.
pub(super) fn without_gone(rules: &Rules, record: &Record, logbook: &Logbook<'_>) -> BTreeMap<ListId, Rows> {
    let removals = logbook.removals();
    if !removals.any_gone() {
        return BTreeMap::new();
    }
    let left = record.lists.iter().filter_map(|(id, rows)| {
        let list = rules.list(*id)?;
        let of_list = list.part.as_ref().and_then(PartOrAll::part);
        let gone = |row: &Row| row.part.as_deref().or(of_list).is_some_and(|part| removals.gone(part).is_some());
        if !rows.rows.iter().any(gone) {
            return None;
        }
        let kept = rows.rows.iter().filter(|row| !gone(row)).cloned().collect();
        Some((*id, Rows { rows: kept, place: rows.place }))
    });
    left.collect()
}

/// Why what is named shows nothing: nobody has the name, or nothing of its kind.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum WhyUnknown {
    Nobody,
    NoSuch(Named),
}

/// Why a value that names somebody, or a file, shows nothing; `None` where it does.
pub(super) fn why_unknown(
    kind: Kind,
    recorded: &Recorded,
    record: &Record,
    logbook: &Logbook<'_>,
) -> Option<WhyUnknown> {
    let Value::Text(text) = &recorded.value else { return None };
    match kind {
        Kind::Named(Named::Person) if logbook.persons().roles(text).is_none() => Some(WhyUnknown::Nobody),
        Kind::Named(named) if record.unknown_names.contains(&(named, text.clone())) => Some(WhyUnknown::NoSuch(named)),
        _ => None,
    }
}

/// Makes the roles of all who are named in facts and records known.
pub(super) fn name_people(rules: &Rules, record: &Record, logbook: &Logbook<'_>, facts: &mut Facts) {
    let mut named: BTreeSet<&str> = BTreeSet::new();
    let person = |fact: &Fact| fact.kind == Kind::Named(Named::Person);
    for (_, recorded) in record.facts.iter().filter(|(id, _)| rules.fact(**id).is_some_and(person)) {
        if let Value::Text(name) = &recorded.value {
            named.insert(name);
        }
    }
    for (id, rows) in &record.lists {
        let Some(list) = rules.list(*id).filter(|list| list.fields.iter().any(person)) else { continue };
        for row in &rows.rows {
            for (_, cell) in list.fields.iter().zip(&row.fields).filter(|(field, _)| person(field)) {
                if let Some(Recorded { value: Value::Text(name), .. }) = cell {
                    named.insert(name);
                }
            }
        }
    }
    for name in named {
        if let Some(roles) = logbook.persons().role_set(rules, name) {
            facts.set_person(name, roles);
        }
    }
}

/// Takes out of the facts what no longer counts: it is as if it were not recorded. Says whether anything was.
pub(super) fn undo(
    rules: &Rules,
    (record, left): (&Record, &BTreeMap<ListId, Rows>),
    logbook: &Logbook<'_>,
    facts: &mut Facts,
) -> bool {
    let mut some = false;
    for (id, recorded) in &record.facts {
        let fact = rules.fact(*id);
        let of = fact.and_then(of_fact);
        let unknown = fact.is_some_and(|fact| why_unknown(fact.kind, recorded, record, logbook).is_some());
        if unknown || (of.is_some() || recorded.taken.is_some()) && !logbook.value_counts(recorded, of) {
            facts.set(rules, *id, None);
            some = true;
        }
    }
    for (id, rows) in &record.lists {
        let Some(list) = rules.list(*id) else { continue };
        let rows = left.get(id).unwrap_or(rows);
        let undone = |row: &Row, (field, recorded): (&Fact, &Option<Recorded>)| {
            let Some(recorded) = recorded else { return false };
            let of = of_field(list, field, row);
            why_unknown(field.kind, recorded, record, logbook).is_some()
                || (of.is_some() || recorded.taken.is_some()) && !logbook.value_counts(recorded, of)
        };
        let any = rows.rows.iter().any(|row| list.fields.iter().zip(&row.fields).any(|cell| undone(row, cell)));
        if any {
            let mut left = rows.clone();
            for (row, left) in rows.rows.iter().zip(&mut left.rows) {
                for (cell, left) in list.fields.iter().zip(&row.fields).zip(&mut left.fields) {
                    if undone(row, cell) {
                        *left = None;
                    }
                }
            }
            facts.set_list(rules, *id, &left);
            some = true;
        }
    }
    some
}
