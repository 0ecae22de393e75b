//! What the records of a list are called.

use super::{Rows, SaidRecord, Value};
use crate::ir::{ListId, RowId, Rules};

/// What each record of a list is called: its named field, or its number from 1.
#[must_use]
pub fn record_names(rules: &Rules, id: ListId, rows: &Rows) -> Vec<String> {
    (0..rows.rows.len()).filter_map(|at| record_name(rules, id, rows, RowId::new(at))).collect()
}

/// Each record of a list, with the number of things it stands for.
pub(crate) fn said_records(rules: &Rules, id: ListId, rows: &Rows) -> Vec<SaidRecord> {
    let many = rows.rows.iter().map(|row| row.how_many);
    let names = record_names(rules, id, rows).into_iter();
    names.zip(many).map(|(name, how_many)| SaidRecord { name, how_many }).collect()
}

/// What one record of a list is called, if there is one in that place.
pub(crate) fn record_name(rules: &Rules, id: ListId, rows: &Rows, at: RowId) -> Option<String> {
    let row = rows.rows.get(at.index())?;
    let named_by = rules.list(id).and_then(|list| list.named_by);
    let field = named_by.and_then(|field| row.field(field));
    Some(match field.map(|recorded| &recorded.value) {
        Some(Value::Text(text)) => text.clone(),
        _ => at.index().saturating_add(1).to_string(),
    })
}
