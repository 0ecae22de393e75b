//! Rules and a record to findings: evaluate, judge, explain.
//!
//! In: checked [`Rules`], one [`Record`], a day. Out: plain data. This room
//! reads no disk and no clock, and never sees the tree.

mod added;
mod change;
mod columns;
mod conditions;
mod disturb;
mod empty;
mod evaluate;
mod examples;
mod explain;
mod facts;
mod finding;
mod heard;
mod judge;
mod kept;
mod lapse;
mod mean;
mod notices;
mod number;
mod project;
mod quick;
mod seen;
mod shown;
pub mod since;
mod smallest;
mod spoken;
mod tell;
mod wanting;

pub use change::Index;
pub(crate) use disturb::zone_of_entry;
pub(crate) use empty::passes_when_empty;
pub use evaluate::Evaluation;
pub use examples::{ExampleResult, run_examples};
pub use facts::{Facts, store_of};
pub use finding::{
    AddedNeed, Audit, Cited, Conceded, Deferred, Finding, Held, Lapse, Missing, Question, REMINDER, Reason, Seen,
    SetAside, Summary, Titles, Told, Verdict,
};
pub use judge::{Judge, Judged};
pub use project::{Request, audit, audit_in_brief};

use crate::measure::Truth;
use crate::program::RowId;
use crate::record::{Rows, Value};
use crate::rules::{Item, ListId, Rules};

/// What each record of a list is called: its named field, or its number from 1.
#[must_use]
pub fn record_names(rules: &Rules, id: ListId, rows: &Rows) -> Vec<String> {
    (0..rows.rows.len()).filter_map(|at| record_name(rules, id, rows, RowId::new(at))).collect()
}

/// What one record of a list is called, if there is one in that place.
fn record_name(rules: &Rules, id: ListId, rows: &Rows, at: RowId) -> Option<String> {
    let row = rows.rows.get(at.index())?;
    let named_by = rules.list(id).and_then(|list| list.named_by);
    let field = named_by.and_then(|n| row.fields.get(n)).and_then(Option::as_ref);
    Some(match field.map(|recorded| &recorded.value) {
        Some(Value::Text(text)) => text.clone(),
        _ => at.index().saturating_add(1).to_string(),
    })
}

/// Whether an item's need holds with nothing recorded at all.
pub(crate) fn passes_unrecorded(rules: &Rules, item: &Item, facts: &Facts) -> bool {
    let Some(day) = crate::measure::Date::new(2000, 1, 1).map(crate::measure::DateRange::day) else { return false };
    Evaluation::new(&rules.program, facts, day).decide_for(item.need, None) == Truth::True
}
