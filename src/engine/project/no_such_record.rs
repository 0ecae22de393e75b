//! Words, leave, deferrals and instruments that name a record that is not there, or
//! no record where they must: they count for nothing, and that is told where they
//! are written.

use super::named;
use super::whole::LOG;
use super::{Record, Taken, Value, record_names};
use crate::diagnostic::{Diagnostic, did_you_mean};
use crate::ir::{Item, ListId, Named, Rules};
use crate::source::Span;
use std::collections::BTreeSet;

/// The list of instruments, if a pack declares one.
pub(crate) const EQUIPMENT: &str = "measuring.equipment";

pub(super) fn check(rules: &Rules, record: &Record) -> Vec<Diagnostic> {
    let words = record.confirmations.iter().map(|one| ("confirmation", &one.item, &one.subject, one.place));
    let leave = record.concessions.iter().map(|one| ("concession", &one.item, &one.subject, one.place));
    let deferrals = record.deferrals.iter().map(|one| ("deferral", &one.item, &one.subject, one.place));
    let all = words.chain(leave).chain(deferrals);
    let told = all.filter_map(|(kind, item, of, place)| said_of(rules, record, kind, item, of.as_deref(), place));
    told.chain(instruments(rules, record)).chain(not_known(rules, record)).collect()
}

/// Parts, zones and instruments that facts name and nothing has. That a file is not there, or a person not
/// named, the findings tell: either may be there tomorrow.
fn not_known(rules: &Rules, record: &Record) -> Vec<Diagnostic> {
    let told = named::names(rules, record).filter_map(|(named, name, recorded)| {
        let is_told = matches!(named, Named::Part | Named::Zone | Named::Instrument);
        if !is_told || !record.unknown_names.contains(&(named, name.clone())) {
            return None;
        }
        let known: Vec<String> = match named {
            Named::Part => {
                rules.subjects.iter().map(|part| part.name.to_string()).chain(record.parts.keys().cloned()).collect()
            }
            Named::Zone => rules.zones.iter().map(|zone| zone.name.to_string()).collect(),
            _ => rules.list_by_name.get(EQUIPMENT).and_then(|list| names(rules, record, *list)).unwrap_or_default(),
        };
        let help = did_you_mean(name, known.iter().map(String::as_str));
        let help = help.unwrap_or_else(|| format!("write the name of one, or declare the {} first", named.word()));
        let message = format!("`{name}` is no {} that is known, so it is as if it had not been written", named.word());
        Some(Diagnostic::warning("value::not-known", message).at(recorded.place, "").help(help))
    });
    told.collect()
}

fn said_of(
    rules: &Rules,
    record: &Record,
    kind: &str,
    item: &str,
    of: Option<&str>,
    place: Span,
) -> Option<Diagnostic> {
    let items: Vec<&Item> = rules.find_items(item).into_iter().filter_map(|id| rules.item(id)).collect();
    let Some(first) = items.first() else { return no_such_item(rules, kind, item, place) };
    let (label, help) = match (first.each, of) {
        (None, Some(_)) if items.iter().all(|item| item.each.is_none()) => {
            let help = format!("`{item}` is judged once, for the whole aircraft: take `of` out");
            ("`of` has no meaning here".to_owned(), help)
        }
        (Some(list), of) if items.iter().all(|item| item.each == Some(list)) => {
            let known = names(rules, record, list);
            match (of, &known) {
                (Some(of), Some(known)) if !known.iter().any(|name| name == of) => {
                    let near = did_you_mean(of, known.iter().map(String::as_str));
                    (format!("no record is called `{of}`"), near.unwrap_or_else(|| these(known)))
                }
                (None, known) => {
                    let any = || "write of = \"...\", the name of the record".to_owned();
                    let help = known.as_ref().map_or_else(any, |known| these(known));
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

/// An item of a pack that is not in use is none: the pack may be in use again tomorrow. That leave cannot be given
/// over a list is told of the audit.
fn no_such_item(rules: &Rules, kind: &str, item: &str, place: Span) -> Option<Diagnostic> {
    let in_use = |pack: &str| rules.packs.iter().any(|known| known.name == pack);
    let of_other_pack = item.split_once('/').is_some_and(|(pack, _)| !in_use(pack));
    if of_other_pack || item == LOG || rules.list_by_name.contains_key(item) {
        return None;
    }
    let names: Vec<String> =
        rules.items.iter().flat_map(|item| [item.name.to_string(), rules.full_name(item)]).collect();
    let help = did_you_mean(item, names.iter().map(String::as_str));
    let help = help.unwrap_or_else(|| "the packs of this project have none; take it out, or name its pack".to_owned());
    let message = format!("there is no item `{item}`, so this {kind} does not count");
    Some(Diagnostic::warning("record::no-such-item", message).at(place, "").help(help))
}

/// Instruments that nobody has recorded: what was measured with one shows nothing.
fn instruments(rules: &Rules, record: &Record) -> Vec<Diagnostic> {
    let Some(list) = rules.list_by_name.get(EQUIPMENT).copied() else { return Vec::new() };
    let known = names(rules, record, list).unwrap_or_default();
    let facts = record.facts.values();
    let fields = record.lists.values().flat_map(|rows| &rows.rows).flat_map(|row| row.fields.iter().flatten());
    let named = |taken: &Option<Box<Taken>>| taken.as_ref().and_then(|taken| taken.instrument.clone());
    let of_values = facts.chain(fields).filter(|value| value.value != Value::Absent);
    let of_values = of_values.filter_map(|value| Some((named(&value.taken)?, value.place)));
    let of_entries = record.log.iter().filter_map(|entry| Some((entry.instrument.clone()?, entry.place)));
    let mut told = BTreeSet::new();
    let unknown = of_values.chain(of_entries).filter(|(name, _)| !known.contains(name));
    // Once for each: a table names it for all its values.
    let first = unknown.filter(|(name, _)| told.insert(name.clone()));
    let message = |(name, place): (String, Span)| {
        let message = format!("`{name}` is no instrument of {EQUIPMENT}, so what was measured with it shows nothing");
        let help = did_you_mean(&name, known.iter().map(String::as_str)).unwrap_or_else(|| {
            format!("write a record of {EQUIPMENT} with its name and its calibration, or that it needs none")
        });
        Diagnostic::warning("value::no-such-instrument", message).at(place, "measured with it").help(help)
    };
    first.map(message).collect()
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
