//! What the records of a list are called.

use super::{Row, Rows, SaidRecord, Value};
use crate::ir::{ListId, RowId, Rules};

/// What each record of a list is called. In a worked example, and in a project
/// in which a name is missing and told of, a record goes by its number from 1.
#[must_use]
pub fn record_names(rules: &Rules, id: ListId, rows: &Rows) -> Vec<String> {
    (0..rows.rows.len()).filter_map(|at| record_name(rules, id, rows, RowId::new(at))).collect()
}

/// Each record of a list that has a name, with the number of things it stands for.
pub fn said_records(rules: &Rules, id: ListId, rows: &Rows) -> Vec<SaidRecord> {
    let said = |row: &Row| Some(SaidRecord { name: name(rules, id, row)?.to_owned(), how_many: row.how_many });
    rows.rows.iter().filter_map(said).collect()
}

/// What one record of a list is called, if there is one in that place.
pub(crate) fn record_name(rules: &Rules, id: ListId, rows: &Rows, at: RowId) -> Option<String> {
    let row = rows.rows.get(at.index())?;
    let number = || at.index().saturating_add(1).to_string();
    Some(name(rules, id, row).map_or_else(number, str::to_owned))
}

/// The name that a record has of its own.
fn name<'r>(rules: &Rules, id: ListId, row: &'r Row) -> Option<&'r str> {
    match &row.field(rules.list(id)?.named_by)?.value {
        Value::Text(name) => Some(name),
        _ => None,
    }
}
