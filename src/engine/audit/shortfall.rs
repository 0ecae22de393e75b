//! Why a line of the log, just written, shows less than whoever wrote it may think; and after which work a value,
//! just written, was so.

use super::cause::{Calibration, EntryRef};
use super::proof::entry_ref;
use crate::ir::{FactId, FieldId, ListId, Logged, Rules};
use crate::lapse::{EntryStanding, Logbook, StateOf, ValueState, of_fact, of_field};
use crate::project::{EQUIPMENT, Entry, Record};
use crate::quantity::Date;
use crate::vocabulary::Event;
use std::collections::BTreeSet;

/// Why an entry of the log shows nothing, or not all that was meant.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Shortfall {
    /// No item asks for it of this part; asked are these instead, of the part or of what it belongs to.
    NothingAsks(Vec<(Event, String)>),
    /// No item counts what is signed in this role; these are the roles that it counts.
    NoSignature(String, Vec<String>),
    /// No item asks for these points; it asks for those.
    PointsNotAsked(Vec<String>, Vec<String>),
    /// So many people have done it, and so many are asked for; an entry of somebody else that counts no more, and what
    /// undid it.
    MorePeople(usize, u32, Option<(EntryRef, EntryRef)>),
    /// Points that are asked for and not named in it.
    PointsLeftOut(Vec<String>),
    /// The instrument is not known to have been good.
    Instrument(Calibration),
    /// The instrument of a line that shows nothing by itself is not known to be good either.
    InstrumentOfWork(Calibration),
    /// The part is off.
    Off(EntryRef),
    /// What came later has undone it already.
    Undone(EntryRef),
    /// Nobody knows whether that came before it or after.
    Unclear(EntryRef),
    /// It undoes those entries unless they came after it, which nobody knows.
    OrderUnknown(Vec<EntryRef>),
}

/// The most entries that are told one by one.
const MOST: usize = 3;

/// What an entry of the record falls short of on a day; nothing of entries that are not there to show something.
#[must_use]
pub fn shortfalls(rules: &Rules, record: &Record, on: Date, entry: &Entry) -> Vec<Shortfall> {
    let book = Logbook::new(rules, record, on);
    if !matches!(entry.event, Event::Inspected | Event::Tested | Event::Measured) {
        let instrument = book.weak(entry).then(|| Shortfall::InstrumentOfWork(calibration(&book, entry)));
        return order_unknown(record, &book, entry).into_iter().chain(instrument).collect();
    }
    let mut found = asked(rules, record, &book, entry);
    match book.standing(entry, StateOf::looked_at(Some(&entry.subject))) {
        EntryStanding::Lapsed(by) => found.push(Shortfall::Undone(entry_ref(record, by))),
        EntryStanding::Off(by) => found.push(Shortfall::Off(entry_ref(record, by))),
        EntryStanding::Unclear(other) | EntryStanding::Undated(other) => {
            found.push(Shortfall::Unclear(entry_ref(record, other)));
        }
        EntryStanding::Weak => found.push(Shortfall::Instrument(calibration(&book, entry))),
        EntryStanding::Counts | EntryStanding::NotYet => {}
    }
    found
}

/// The last work, up to a day, that undoes a fact if that was so before; nothing where no work does.
#[must_use]
pub fn last_work_on_fact(rules: &Rules, record: &Record, on: Date, fact: FactId) -> Option<EntryRef> {
    last_work(rules, record, on, of_fact(rules.fact(fact)?)?)
}

/// The same of a field of a record, by its row.
#[must_use]
pub fn last_work_on_field(
    rules: &Rules,
    record: &Record,
    on: Date,
    (list, row, field): (ListId, usize, FieldId),
) -> Option<EntryRef> {
    let (list, row) = (rules.list(list)?, record.lists.get(&list)?.rows.get(row)?);
    last_work(rules, record, on, of_field(list, list.fields.get(field)?, row)?)
}

fn last_work(rules: &Rules, record: &Record, on: Date, state: ValueState<'_>) -> Option<EntryRef> {
    let book = Logbook::new(rules, record, on);
    match book.standing_of_moment(None, None, Some(state.of)) {
        EntryStanding::Undated(work) => Some(entry_ref(record, work)),
        _ => None,
    }
}

fn calibration(book: &Logbook<'_>, entry: &Entry) -> Calibration {
    let instrument = entry.instrument.clone().unwrap_or_default();
    let until = book.calibrated_until(&instrument).map(|until| until.to_string());
    Calibration { instrument, until, list: EQUIPMENT.to_owned() }
}

/// What has been looked at on days that an entry may be of, and may have been undone by it.
fn order_unknown(record: &Record, book: &Logbook<'_>, entry: &Entry) -> Option<Shortfall> {
    let same_day = |other: &&Entry| other.on.first <= entry.on.last && entry.on.first <= other.on.last;
    let unclear = |other: &&Entry| {
        let standing = book.standing(other, StateOf::looked_at(Some(&other.subject)));
        standing == EntryStanding::Unclear(entry)
    };
    let shown = |other: &&Entry| matches!(other.event, Event::Inspected | Event::Tested | Event::Measured);
    let others = record.log.iter().filter(shown).filter(same_day).filter(unclear);
    let others: Vec<EntryRef> = others.take(MOST).map(|other| entry_ref(record, other)).collect();
    (!others.is_empty()).then_some(Shortfall::OrderUnknown(others))
}

/// What of it no item asks for.
fn asked(rules: &Rules, record: &Record, book: &Logbook<'_>, entry: &Entry) -> Vec<Shortfall> {
    let needs = || rules.program.logged.iter().filter(|need| need.subject == entry.subject);
    let asked: Vec<&Logged> = needs().filter(|need| need.event == entry.event).collect();
    if asked.is_empty() {
        let above = entry.subject.rsplit_once('.').map_or("", |(above, _)| above);
        let nearby = rules.program.logged.iter().filter(|need| need.subject == above);
        let instead: BTreeSet<(Event, String)> =
            needs().chain(nearby).map(|need| (need.event, need.subject.clone())).collect();
        return vec![Shortfall::NothingAsks(instead.into_iter().collect())];
    }
    let mut found = Vec::new();
    let signing: Vec<&&Logged> = asked.iter().filter(|need| book.signs(entry, need)).collect();
    if signing.is_empty() {
        let counts = |need: &&Logged| {
            let roles = rules.roles.with_ids().filter(|(id, role)| role.signs && need.roles.signs(*id));
            roles.map(|(_, role)| role.name.to_string()).collect::<Vec<_>>()
        };
        let roles: BTreeSet<String> = asked.iter().flat_map(counts).collect();
        found.push(Shortfall::NoSignature(entry.role.clone(), roles.into_iter().collect()));
    }
    let people = |need: &Logged| -> usize {
        let counting = book.signed(need).filter(|one| book.counts(one, &need.subject));
        counting.map(|one| book.person(one)).collect::<BTreeSet<&str>>().len()
    };
    let short = signing.iter().filter(|need| need.people > 1).map(|need| (people(need), need.people));
    if let Some((have, asked)) = short.filter(|(have, asked)| *have > 0 && *have < *asked as usize).max() {
        let of = StateOf::looked_at(Some(&entry.subject));
        let others = book.like(entry).iter().rev().filter(|other| book.person(other) != book.person(entry));
        let undone = others.take(MOST).find_map(|other| match book.standing(other, of) {
            EntryStanding::Lapsed(by) => Some((entry_ref(record, other), entry_ref(record, by))),
            _ => None,
        });
        found.push(Shortfall::MorePeople(have, asked, undone));
    }
    let points: BTreeSet<&String> = asked.iter().flat_map(|need| &need.points).collect();
    let (unasked, named): (Vec<&String>, Vec<&String>) = entry.points.iter().partition(|point| !points.contains(point));
    if !unasked.is_empty() {
        let texts = |all: Vec<&String>| all.into_iter().cloned().collect();
        found.push(Shortfall::PointsNotAsked(texts(unasked), texts(points.into_iter().collect())));
    }
    let left_out = |need: &&&Logged| -> Vec<String> {
        need.points.iter().filter(|point| !named.contains(point)).cloned().collect()
    };
    // Where it shows one need in full, the others are of somebody else or of another day.
    if let Some(left) = signing.iter().map(left_out).min_by_key(Vec::len).filter(|left| !left.is_empty()) {
        found.push(Shortfall::PointsLeftOut(left));
    }
    found
}
