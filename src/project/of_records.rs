//! Words, leave and deferrals that name no record, of an item that is judged for
//! each record of a list, or a record that is not there: they count for nothing,
//! and that is told where they are written.

use super::{Record, record_names};
use crate::diagnostic::{Diagnostic, did_you_mean};
use crate::ir::{Item, ListId, Rules};
use crate::source::Span;

pub(super) fn check(rules: &Rules, record: &Record) -> Vec<Diagnostic> {
    let words = record.confirmations.iter().map(|one| ("confirmation", &one.item, &one.subject, one.place));
    let leave = record.concessions.iter().map(|one| ("concession", &one.item, &one.subject, one.place));
    let deferrals = record.deferrals.iter().map(|one| ("deferral", &one.item, &one.subject, one.place));
    let all = words.chain(leave).chain(deferrals);
    all.filter_map(|(kind, item, of, place)| told(rules, record, kind, item, of.as_deref(), place)).collect()
}

fn told(rules: &Rules, record: &Record, kind: &str, item: &str, of: Option<&str>, place: Span) -> Option<Diagnostic> {
    let items: Vec<&Item> = rules.find_items(item).into_iter().filter_map(|id| rules.item(id)).collect();
    let first = items.first()?;
    let (label, help) = match (first.each, of) {
        (None, Some(_)) if items.iter().all(|item| item.each.is_none()) => (
            "`of` has no meaning here".to_owned(),
            format!("`{item}` is judged once, for the whole aircraft: take `of` out"),
        ),
        (Some(list), of) if items.iter().all(|item| item.each == Some(list)) => {
            let known = names(rules, record, list);
            match (of, &known) {
                (Some(of), Some(known)) if !known.iter().any(|name| name == of) => {
                    let near = did_you_mean(of, known.iter().map(String::as_str));
                    (format!("no record is called `{of}`"), near.unwrap_or_else(|| these(known)))
                }
                (None, known) => {
                    let help = known
                        .as_ref()
                        .map_or_else(|| "write of = \"...\", the name of the record".to_owned(), |known| these(known));
                    (format!("`{item}` is judged for each record of {}", rules.list(list)?.name), help)
                }
                _ => return None,
            }
        }
        _ => return None,
    };
    let message = format!("this {kind} of `{item}` names no record of it, and does not count");
    Some(Diagnostic::warning("record::of", message).at(place, label).help(help))
}

/// What the records of a list are called, where somebody has written them.
fn names(rules: &Rules, record: &Record, list: ListId) -> Option<Vec<String>> {
    Some(record_names(rules, list, record.lists.get(&list)?))
}

/// The names to choose from, if there are some.
fn these(known: &[String]) -> String {
    let shown: Vec<String> = known.iter().take(8).map(|name| format!("\"{name}\"")).collect();
    match (shown.as_slice(), known.len().saturating_sub(shown.len())) {
        ([], _) => "none is recorded yet: write the record first, then of = and its name".to_owned(),
        (_, 0) => format!("write of = and one of {}; one entry for each", shown.join(", ")),
        (_, more) => format!("write of = and one of {}, or {more} more; one entry for each", shown.join(", ")),
    }
}
