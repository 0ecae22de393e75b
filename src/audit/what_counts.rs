//! What of a record counts on a day: what has been undone, and the records of
//! parts that the aircraft is without, are taken out before anything is judged.

use crate::eval::Facts;
use crate::ir::{Fact, ListId, PartOrAll, Rules};
use crate::lapse::{Logbook, of_fact, of_field};
use crate::project::{Record, Recorded, Row, Rows};
use std::collections::BTreeMap;

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

/// Takes out of the facts what no longer counts: it is as if it were not recorded. Says whether anything was.
pub(super) fn undo(
    rules: &Rules,
    (record, left): (&Record, &BTreeMap<ListId, Rows>),
    logbook: &Logbook<'_>,
    facts: &mut Facts,
) -> bool {
    let mut some = false;
    for (id, recorded) in &record.facts {
        let of = rules.fact(*id).and_then(of_fact);
        if (of.is_some() || recorded.taken.is_some()) && !logbook.value_counts(recorded, of) {
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
            (of.is_some() || recorded.taken.is_some()) && !logbook.value_counts(recorded, of)
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
