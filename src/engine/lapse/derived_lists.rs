//! Lists the log keeps: what is fitted for the time being, snags, and what was
//! opened. Packs write needs about them as about any list.
//!
//! A pack declares the lists and the fields it needs; a field it does not
//! declare is left out. `grammar/README.md` says which there are.

use super::disturbance::zone_of_entry;
use super::removals::Removals;
use crate::ir::{ChoiceSet, Fact, List, ListId, Rules};
use crate::project::{Entry, Record, Recorded, Row, Rows, Value};
use crate::quantity::{Date, DateRange, Exact, ExactInterval};
use crate::source::Span;
use crate::vocabulary::Event;
use std::collections::BTreeMap;
use std::num::NonZeroU32;

/// A value of a kept list before the kind of its field is known.
enum DerivedValue {
    Text(String),
    Day(DateRange),
    YesNo(bool),
    Absent,
}

/// A record before the kinds of its fields are known.
struct DerivedRow {
    /// The entry it comes from.
    place: Span,
    values: Vec<(&'static str, DerivedValue)>,
    /// Fields that come from another entry, and that entry.
    elsewhere: Vec<(&'static str, Span)>,
}

/// Makes the records of one list from the entries.
type Make = fn(&Log<'_>) -> Vec<DerivedRow>;

/// The entries up to a day.
struct Log<'a> {
    rules: &'a Rules,
    record: &'a Record,
    entries: Vec<&'a Entry>,
    removals: &'a Removals<'a>,
    today: Date,
}

/// Lists the log keeps, beside those of the record.
pub(crate) type DerivedLists = BTreeMap<ListId, Rows>;

/// The lists the log keeps, as of a day.
pub(crate) fn lists(rules: &Rules, record: &Record, removals: &Removals<'_>, today: Date) -> DerivedLists {
    let mut made = DerivedLists::new();
    let lists: [(&str, Make); 3] = [("log.fittings", fittings), ("log.snags", snags), ("log.openings", openings)];
    let entries = record.log.iter().filter(|entry| entry.on.first <= today).collect();
    let log = Log { rules, record, entries, removals, today };
    for (name, make) in lists {
        let Some((id, list)) = rules.list_by_name.get(name).and_then(|id| Some((*id, rules.list(*id)?))) else {
            continue;
        };
        // In a worked example the list may be given as it is.
        if !record.lists.contains_key(&id) {
            made.insert(id, rows(rules, list, make(&log)));
        }
    }
    made
}

fn rows(rules: &Rules, list: &List, kept: Vec<DerivedRow>) -> Rows {
    let row = |DerivedRow { place, mut values, elsewhere }: DerivedRow| Row {
        fields: list
            .fields
            .iter()
            .map(|field| {
                let at = values.iter().position(|(name, _)| *name == field.name)?;
                let place = elsewhere.iter().find(|(name, _)| *name == field.name).map_or(place, |(_, at)| *at);
                recorded(rules, field, values.swap_remove(at).1, place)
            })
            .collect(),
        how_many: NonZeroU32::MIN,
        part: None,
        place,
    };
    Rows { rows: kept.into_iter().map(row).collect(), place: list.place }
}

/// A value as the field's own kind; nothing where the two do not agree.
fn recorded(rules: &Rules, field: &Fact, kept: DerivedValue, place: Span) -> Option<Recorded> {
    let words = rules.words(field.kind);
    let bit = |word: &str| words.iter().position(|known| *known == word).map(|at| Value::Words(ChoiceSet::word(at)));
    let (value, text) = match kept {
        DerivedValue::Text(text) if words.is_empty() => (Value::Text(text.clone()), text),
        DerivedValue::Text(word) => (bit(&word)?, word),
        DerivedValue::YesNo(yes) => {
            let word = if yes { "yes" } else { "no" };
            (bit(word)?, word.to_owned())
        }
        DerivedValue::Day(day) => {
            let at = |date: Date| Some(Exact::from_int(i64::from(date.days())));
            (Value::Number(ExactInterval::new(at(day.first), at(day.last))), day.to_string())
        }
        DerivedValue::Absent => (Value::Absent, "none".to_owned()),
    };
    Some(Recorded { value, text, read_as: None, unit: None, taken: None, place })
}

impl<'a> Log<'a> {
    /// The entry that certainly comes after all others, and before the day is over.
    fn latest(&self, entries: &[&'a Entry]) -> Option<&'a Entry> {
        let last = entries.iter().copied().max_by_key(|entry| order(entry))?;
        let after = |other: &&Entry| std::ptr::eq(*other, last) || other.before(last);
        (last.on.last <= self.today && entries.iter().all(after)).then_some(last)
    }

    /// What was opened or closed, with its moves.
    fn moved(&self) -> BTreeMap<&'a str, Vec<&'a Entry>> {
        let mut moved: BTreeMap<&str, Vec<&Entry>> = BTreeMap::new();
        for entry in self.entries.iter().filter(|entry| matches!(entry.event, Event::Opened | Event::Closed)) {
            moved.entry(&entry.subject).or_default().push(entry);
        }
        moved
    }

    /// Zones of which it is known whether they are closed.
    fn closed(&self) -> BTreeMap<&'a str, bool> {
        let mut zones: BTreeMap<&str, BTreeMap<&str, Vec<&Entry>>> = BTreeMap::new();
        for (what, moves) in self.moved() {
            // Where a line says none it is that of what was moved, the same for all of them.
            let own = moves.iter().find(|entry| entry.zone.is_none());
            let own = own.and_then(|entry| zone_of_entry(self.rules, self.record, entry));
            for entry in moves {
                if let Some(zone) = entry.zone.as_deref().or(own) {
                    zones.entry(zone).or_default().entry(what).or_default().push(entry);
                }
            }
        }
        let known = |(zone, moved): (&'a str, BTreeMap<&str, Vec<&'a Entry>>)| Some((zone, self.state(zone, &moved)?));
        zones.into_iter().filter_map(known).collect()
    }

    /// Whether a zone is closed: by the last word about the zone itself, or
    /// where every panel of it is in the same state.
    fn state(&self, zone: &str, moved: &BTreeMap<&str, Vec<&'a Entry>>) -> Option<bool> {
        let all: Vec<&Entry> = moved.values().flatten().copied().collect();
        if let Some(last) = self.latest(&all).filter(|last| last.subject == zone) {
            return Some(last.event == Event::Closed);
        }
        let mut states = moved.values().map(|moves| self.latest(moves).map(|last| last.event == Event::Closed));
        let first = states.next()??;
        states.all(|state| state == Some(first)).then_some(first)
    }
}

/// Later entries come later where that can be known.
fn order(entry: &Entry) -> (Date, Date, Option<u32>, Span) {
    (entry.on.last, entry.on.first, entry.at, entry.place)
}

fn fittings(log: &Log<'_>) -> Vec<DerivedRow> {
    let closed = log.closed();
    let mut fitted: BTreeMap<&str, Vec<&Entry>> = BTreeMap::new();
    // What is off is fitted neither for trial nor for good.
    let on = |entry: &&&Entry| entry.fit.is_some() && log.removals.off(&entry.subject).is_none();
    for entry in log.entries.iter().filter(on) {
        fitted.entry(&entry.subject).or_default().push(entry);
    }
    let mut off_or_on: BTreeMap<&str, Vec<&Entry>> = BTreeMap::new();
    for entry in log.entries.iter().filter(|entry| matches!(entry.event, Event::Removed | Event::Refitted)) {
        off_or_on.entry(&entry.subject).or_default().push(entry);
    }
    let row = |(part, entries): (&str, Vec<&Entry>)| {
        let last = log.latest(&entries);
        let place = last.or(entries.last().copied())?.place;
        let mut values = vec![("part", DerivedValue::Text(part.to_owned()))];
        let zone = entries.iter().rev().find_map(|entry| zone_of_entry(log.rules, log.record, entry));
        values.push(("zone", zone.map_or(DerivedValue::Absent, |zone| DerivedValue::Text(zone.to_owned()))));
        if let Some(closed) = zone.and_then(|zone| closed.get(zone)) {
            values.push(("closed", DerivedValue::YesNo(*closed)));
        } else if zone.is_none() {
            values.push(("closed", DerivedValue::YesNo(false)));
        }
        // Taken off or put back since, it is fitted nobody says how.
        let moved = |last: &&Entry| {
            let again = |entry: &&Entry| entry.fit.is_none() && !entry.before(last);
            !off_or_on.get(part).into_iter().flatten().any(again)
        };
        if let Some((last, fit)) = last.filter(moved).and_then(|last| Some((last, last.fit?))) {
            values.push(("fit", DerivedValue::Text(fit.word().to_owned())));
            values.push(("since", DerivedValue::Day(last.on)));
            values.push(("note", last.note.clone().map_or(DerivedValue::Absent, DerivedValue::Text)));
        }
        Some(DerivedRow { place, values, elsewhere: Vec::new() })
    };
    fitted.into_iter().filter_map(row).collect()
}

fn snags(log: &Log<'_>) -> Vec<DerivedRow> {
    let of = |event: Event| log.entries.iter().copied().filter(move |entry| entry.event == event);
    let cleared: BTreeMap<u32, &Entry> =
        of(Event::SnagCleared).filter_map(|entry| Some((entry.snag?, entry))).collect();
    // One of a month that is not over may not be there yet: the list is open, and does not hold it.
    let mut found: Vec<&Entry> = of(Event::SnagFound).filter(|found| found.on.last <= log.today).collect();
    found.sort_by_key(|entry| (entry.snag, entry.place));
    let mut times: BTreeMap<Option<u32>, usize> = BTreeMap::new();
    for entry in &found {
        let times = times.entry(entry.snag).or_default();
        *times = times.saturating_add(1);
    }
    let row = |found: &Entry| {
        let text = |text: &Option<String>| text.clone().map_or(DerivedValue::Absent, DerivedValue::Text);
        let zone = zone_of_entry(log.rules, log.record, found).map(str::to_owned);
        let name = found.snag.map_or_else(|| "snag without a number".to_owned(), |number| format!("snag {number}"));
        let mut values = vec![
            ("snag", DerivedValue::Text(name)),
            ("part", DerivedValue::Text(found.subject.clone())),
            ("found", DerivedValue::Day(found.on)),
            ("due", text(&found.by)),
            ("zone", text(&zone)),
            ("note", text(&found.note)),
        ];
        // Cleared in a month that is not over, or one of two of the same number: not known.
        let mut elsewhere = Vec::new();
        match found.snag.and_then(|number| cleared.get(&number)) {
            None => values.push(("cleared", DerivedValue::Absent)),
            Some(entry) if entry.on.last <= log.today && times.get(&found.snag) == Some(&1) => {
                values.push(("cleared", DerivedValue::Day(entry.on)));
                elsewhere.push(("cleared", entry.place));
            }
            Some(_) => {}
        }
        DerivedRow { place: found.place, values, elsewhere }
    };
    found.into_iter().map(row).collect()
}

fn openings(log: &Log<'_>) -> Vec<DerivedRow> {
    let row = |(what, moves): (&str, Vec<&Entry>)| {
        let is_open = |entry: &&&Entry| entry.event == Event::Opened;
        let opened = moves.iter().filter(is_open).max_by_key(|entry| order(entry))?;
        // Opened for the first time in a month that is not over: perhaps not yet.
        moves.iter().filter(is_open).find(|entry| entry.on.last <= log.today)?;
        let zone = zone_of_entry(log.rules, log.record, opened).map(str::to_owned);
        let mut values = vec![
            ("what", DerivedValue::Text(what.to_owned())),
            ("opened", DerivedValue::Day(opened.on)),
            ("for_visit", DerivedValue::YesNo(opened.for_visit)),
            ("zone", zone.map_or(DerivedValue::Absent, DerivedValue::Text)),
        ];
        let last = log.latest(&moves);
        values.extend(last.map(|last| ("closed", DerivedValue::YesNo(last.event == Event::Closed))));
        let elsewhere = last.map(|last| ("closed", last.place)).into_iter().collect();
        Some(DerivedRow { place: opened.place, values, elsewhere })
    };
    log.moved().into_iter().filter_map(row).collect()
}
