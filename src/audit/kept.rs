//! Lists the log keeps: what is fitted for the time being, snags, and what was
//! opened. Packs write needs about them as about any list.
//!
//! A pack declares the lists and the fields it needs; a field it does not
//! declare is left out. `grammar/README.md` says which there are.

use super::disturb::zone_of_entry;
use crate::measure::{Date, DateRange, Exact, Range};
use crate::record::{Entry, Record, Recorded, Row, Rows, Value};
use crate::rules::{Event, Fact, List, ListId, Rules};
use crate::source::Span;
use std::borrow::Cow;
use std::collections::BTreeMap;

/// A value of a kept list before the kind of its field is known.
enum Kept {
    Text(String),
    Day(DateRange),
    YesNo(bool),
    Absent,
}

type KeptRow = (Span, Vec<(&'static str, Kept)>);

/// Makes the records of one list from the entries.
type Make = fn(&Rules, &Record, &[&Entry]) -> Vec<KeptRow>;

/// The record with the lists the log keeps, as of a day.
pub(super) fn with_lists<'a>(rules: &Rules, record: &'a Record, today: Date) -> Cow<'a, Record> {
    let mut made: Vec<(ListId, Rows)> = Vec::new();
    let lists: [(&str, Make); 3] = [("log.fittings", fittings), ("log.snags", snags), ("log.openings", openings)];
    let entries: Vec<&Entry> = record.log.iter().filter(|entry| entry.on.first <= today).collect();
    for (name, make) in lists {
        let Some((id, list)) = rules.list_by_name.get(name).and_then(|id| Some((*id, rules.list(*id)?))) else {
            continue;
        };
        // In a worked example the list may be given as it is.
        if !record.lists.contains_key(&id) {
            made.push((id, rows(rules, list, make(rules, record, &entries))));
        }
    }
    if made.is_empty() {
        return Cow::Borrowed(record);
    }
    let mut record = record.clone();
    record.lists.extend(made);
    Cow::Owned(record)
}

fn rows(rules: &Rules, list: &List, kept: Vec<KeptRow>) -> Rows {
    let row = |(place, mut values): KeptRow| Row {
        fields: list
            .fields
            .iter()
            .map(|field| {
                let at = values.iter().position(|(name, _)| *name == field.name)?;
                recorded(rules, field, values.swap_remove(at).1, place)
            })
            .collect(),
        place,
    };
    Rows { rows: kept.into_iter().map(row).collect(), place: list.place }
}

/// A value as the field's own kind; nothing where the two do not agree.
fn recorded(rules: &Rules, field: &Fact, kept: Kept, place: Span) -> Option<Recorded> {
    let words = rules.words(field.kind);
    let bit = |word: &str| words.iter().position(|known| *known == word).map(|at| Value::Words(1u64 << at.min(62)));
    let (value, text) = match kept {
        Kept::Text(text) if words.is_empty() => (Value::Text(text.clone()), text),
        Kept::Text(word) => (bit(&word)?, word),
        Kept::YesNo(yes) => {
            let word = if yes { "yes" } else { "no" };
            (bit(word)?, word.to_owned())
        }
        Kept::Day(day) => {
            let at = |date: Date| Some(Exact::from_int(i64::from(date.days())));
            (Value::Number(Range::new(at(day.first), at(day.last))), day.to_string())
        }
        Kept::Absent => (Value::Absent, "none".to_owned()),
    };
    Some(Recorded { value, text, unit: None, place })
}

/// The entry that certainly comes after all others.
fn latest<'e>(entries: &[&'e Entry]) -> Option<&'e Entry> {
    let last = entries.iter().copied().max_by_key(|entry| (entry.on.last, entry.on.first, entry.at, entry.place))?;
    entries.iter().all(|other| std::ptr::eq(*other, last) || other.before(last)).then_some(last)
}

/// Zones of which it is known whether they are closed: by their last opening or closing.
fn closed<'e>(rules: &'e Rules, record: &'e Record, entries: &[&'e Entry]) -> BTreeMap<&'e str, bool> {
    let mut moves: BTreeMap<&str, Vec<&Entry>> = BTreeMap::new();
    for entry in entries.iter().filter(|entry| matches!(entry.event, Event::Opened | Event::Closed)) {
        if let Some(zone) = zone_of_entry(rules, record, entry) {
            moves.entry(zone).or_default().push(entry);
        }
    }
    let last = |(zone, moves): (&'e str, Vec<&'e Entry>)| Some((zone, latest(&moves)?.event == Event::Closed));
    moves.into_iter().filter_map(last).collect()
}

fn fittings(rules: &Rules, record: &Record, entries: &[&Entry]) -> Vec<KeptRow> {
    let closed = closed(rules, record, entries);
    let mut fitted: BTreeMap<&str, Vec<&Entry>> = BTreeMap::new();
    for entry in entries.iter().filter(|entry| entry.fit.is_some()) {
        fitted.entry(&entry.subject).or_default().push(entry);
    }
    let row = |(part, entries_of): (&str, Vec<&Entry>)| {
        let last = latest(&entries_of);
        let place = last.or(entries_of.last().copied())?.place;
        let mut values = vec![("part", Kept::Text(part.to_owned()))];
        let zone = entries_of.iter().rev().find_map(|entry| zone_of_entry(rules, record, entry));
        values.push(("zone", zone.map_or(Kept::Absent, |zone| Kept::Text(zone.to_owned()))));
        if let Some(closed) = zone.and_then(|zone| closed.get(zone)) {
            values.push(("closed", Kept::YesNo(*closed)));
        } else if zone.is_none() {
            values.push(("closed", Kept::YesNo(false)));
        }
        if let Some((last, fit)) = last.and_then(|last| Some((last, last.fit?))) {
            values.push(("fit", Kept::Text(fit.word().to_owned())));
            values.push(("since", Kept::Day(last.on)));
            values.push(("note", last.note.clone().map_or(Kept::Absent, Kept::Text)));
        }
        Some((place, values))
    };
    fitted.into_iter().filter_map(row).collect()
}

fn snags(rules: &Rules, record: &Record, entries: &[&Entry]) -> Vec<KeptRow> {
    let of = |event: Event| entries.iter().copied().filter(move |entry| entry.event == event);
    let cleared: BTreeMap<u32, DateRange> =
        of(Event::SnagCleared).filter_map(|entry| Some((entry.snag?, entry.on))).collect();
    let mut numbers: Vec<(u32, &Entry)> = of(Event::SnagFound).filter_map(|entry| Some((entry.snag?, entry))).collect();
    numbers.sort_by_key(|(number, entry)| (*number, entry.place));
    let row = |(number, found): (u32, &Entry)| {
        let text = |text: &Option<String>| text.clone().map_or(Kept::Absent, Kept::Text);
        let zone = zone_of_entry(rules, record, found).map(str::to_owned);
        let values = vec![
            ("snag", Kept::Text(format!("snag {number}"))),
            ("part", Kept::Text(found.subject.clone())),
            ("found", Kept::Day(found.on)),
            ("cleared", cleared.get(&number).map_or(Kept::Absent, |on| Kept::Day(*on))),
            ("due", text(&found.by)),
            ("zone", text(&zone)),
            ("note", text(&found.note)),
        ];
        (found.place, values)
    };
    numbers.into_iter().map(row).collect()
}

fn openings(rules: &Rules, record: &Record, entries: &[&Entry]) -> Vec<KeptRow> {
    let mut moved: BTreeMap<&str, Vec<&Entry>> = BTreeMap::new();
    for entry in entries.iter().filter(|entry| matches!(entry.event, Event::Opened | Event::Closed)) {
        moved.entry(&entry.subject).or_default().push(entry);
    }
    let row = |(what, moves): (&str, Vec<&Entry>)| {
        let opened = moves.iter().rev().find(|entry| entry.event == Event::Opened)?;
        let zone = zone_of_entry(rules, record, opened).map(str::to_owned);
        let mut values = vec![
            ("what", Kept::Text(what.to_owned())),
            ("opened", Kept::Day(opened.on)),
            ("for_visit", Kept::YesNo(opened.for_visit)),
            ("zone", zone.map_or(Kept::Absent, Kept::Text)),
        ];
        values.extend(latest(&moves).map(|last| ("closed", Kept::YesNo(last.event == Event::Closed))));
        Some((opened.place, values))
    };
    moved.into_iter().filter_map(row).collect()
}
