//! Rules and a record to findings: evaluate, judge, explain.
//!
//! In: checked [`Rules`], one [`Record`], a day. Out: plain data. This room
//! reads no disk and no clock, and never sees the tree.

mod change;
mod columns;
mod conditions;
mod evaluate;
mod explain;
mod facts;
mod finding;
mod judge;
mod mean;
mod number;
mod project;
mod quick;
mod wanting;

pub use change::Index;
pub use evaluate::Evaluation;
pub use facts::{Facts, store_of};
pub use finding::{
    Audit, Cited, Conceded, Finding, Held, Missing, Question, REMINDER, Reason, Seen, SetAside, Summary, Titles,
    Verdict,
};
pub use judge::{Judge, Judged};
pub use project::{ExampleResult, Request, audit, audit_in_brief, run_examples};

use crate::measure::Truth;
use crate::record::{Rows, Value};
use crate::rules::{Item, ListId, Rules};

/// What each record of a list is called: its named field, or its number from 1.
#[must_use]
pub fn record_names(rules: &Rules, id: ListId, rows: &Rows) -> Vec<String> {
    (0..rows.rows.len()).filter_map(|at| record_name(rules, id, rows, at)).collect()
}

/// What one record of a list is called, if there is one in that place.
fn record_name(rules: &Rules, id: ListId, rows: &Rows, at: usize) -> Option<String> {
    let row = rows.rows.get(at)?;
    let named_by = rules.list(id).and_then(|list| list.named_by);
    let field = named_by.and_then(|n| row.fields.get(n)).and_then(Option::as_ref);
    Some(match field.map(|recorded| &recorded.value) {
        Some(Value::Text(text)) => text.clone(),
        _ => at.saturating_add(1).to_string(),
    })
}

/// Whether an item's need holds with nothing recorded at all.
pub(crate) fn passes_unrecorded(rules: &Rules, item: &Item, facts: &Facts) -> bool {
    let Some(day) = crate::measure::Date::new(2000, 1, 1).map(crate::measure::DateRange::day) else { return false };
    Evaluation::new(&rules.program, facts, day).decide_for(item.need, u32::MAX) == Truth::True
}

/// Whether an item's need holds with one list recorded as empty and nothing
/// else known: then an empty list would let it pass without a look.
pub(crate) fn passes_when_empty(rules: &Rules, item: &Item, id: ListId, facts: &mut Facts) -> bool {
    let Some(day) = crate::measure::Date::new(2000, 1, 1).map(crate::measure::DateRange::day) else { return false };
    facts.set_len(id, Some(0));
    let evaluation = Evaluation::new(&rules.program, facts, day);
    let applies = item.when.is_none_or(|when| evaluation.decide(when) != Truth::False);
    let passes = applies && evaluation.decide(item.need) == Truth::True;
    facts.set_len(id, None);
    passes
}
