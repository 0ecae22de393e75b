//! What the log shows: an inspection, a test or a measurement counts while
//! nothing logged later has disturbed its part.
//!
//! Entries known only to the month may overlap. Then nobody can say which came
//! first, and what the log shows is undecided.

use super::disturb::Reach;
use super::number::Arithmetic;
use crate::measure::{Date, DateRange, Truth};
use crate::program::Logged;
use crate::record::{Entry, Record, Value};
use crate::rules::{Event, Rules};
use std::collections::{BTreeMap, BTreeSet};

/// The list of measuring equipment, if a pack declares one: its calibration is looked up there.
const EQUIPMENT: &str = "measuring.equipment";

/// Whether an entry still counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Standing<'a> {
    /// It does.
    Counts,
    /// The entry that certainly undid it, the earliest of several.
    Lapsed(&'a Entry),
    /// An entry that may have undone it.
    Unclear(&'a Entry),
    /// It may lie after the audit date.
    NotYet,
    /// The instrument was out of calibration, or nothing says that it was in.
    Weak,
}

/// What entries have in common that disturb the same: the part, whether it was
/// only opened, and for the visit, which reaches as far as its zone.
type Same<'a> = (&'a str, bool, Option<Option<&'a str>>);

/// Entries that disturb the same, sorted by their last possible day.
#[derive(Debug)]
struct Group<'a> {
    reach: Reach<'a>,
    entries: Vec<&'a Entry>,
}

/// The log up to a day, sorted by what it shows and what it disturbs.
#[derive(Debug)]
pub(super) struct Logbook<'a> {
    rules: &'a Rules,
    record: &'a Record,
    today: Date,
    groups: Vec<Group<'a>>,
    /// Groups that disturb a part that some need asks about.
    disturbing: BTreeMap<&'a str, Vec<usize>>,
    /// Entries that may show something, by event and part, in the order written.
    showing: BTreeMap<Event, BTreeMap<&'a str, Vec<&'a Entry>>>,
}

impl<'a> Logbook<'a> {
    /// The log as it stood on a day.
    pub(super) fn new(rules: &'a Rules, record: &'a Record, today: Date) -> Self {
        let mut logbook =
            Self { rules, record, today, groups: Vec::new(), disturbing: BTreeMap::new(), showing: BTreeMap::new() };
        if rules.program.logged.is_empty() {
            return logbook;
        }
        let mut grouped: BTreeMap<Same<'_>, Vec<&Entry>> = BTreeMap::new();
        for entry in record.log.iter().filter(|entry| entry.on.first <= today) {
            if entry.event.disturbs() {
                let opened = entry.event == Event::Opened;
                let visit = (opened && entry.for_visit).then_some(entry.zone.as_deref());
                grouped.entry((&entry.subject, opened, visit)).or_default().push(entry);
            } else {
                logbook.showing.entry(entry.event).or_default().entry(&entry.subject).or_default().push(entry);
            }
        }
        for mut entries in grouped.into_values() {
            entries.sort_by_key(|entry| entry.on.last);
            if let Some(first) = entries.first() {
                logbook.groups.push(Group { reach: Reach::of(rules, record, first), entries });
            }
        }
        let parts: BTreeSet<&str> = rules.program.logged.iter().map(|logged| logged.subject.as_str()).collect();
        for part in parts {
            let touching = |(_, group): &(usize, &Group<'_>)| group.reach.touches(part);
            let groups = logbook.groups.iter().enumerate().filter(touching).map(|(n, _)| n).collect();
            logbook.disturbing.insert(part, groups);
        }
        logbook
    }

    /// What the log shows of every need the program has of it.
    pub(super) fn truths(&self) -> Vec<Truth> {
        self.rules.program.logged.iter().map(|logged| self.shows(logged)).collect()
    }

    /// True, or undecided: an inspection nobody logged is not shown, never refused.
    fn shows(&self, logged: &Logged) -> Truth {
        let mut people: BTreeMap<String, BTreeSet<&str>> = BTreeMap::new();
        for entry in self.signed(logged).rev() {
            let person = self.person(entry);
            if logged.points.is_empty() && people.contains_key(&person) {
                continue;
            }
            if self.standing(entry, &logged.subject, false) == Standing::Counts {
                people.entry(person).or_default().extend(entry.points.iter().map(String::as_str));
                if enough(&people, logged) {
                    return Truth::True;
                }
            }
        }
        Truth::Undecided
    }

    /// The entries that could show a need, by people whose word is a signature for it.
    pub(super) fn signed<'s>(&'s self, logged: &'s Logged) -> impl DoubleEndedIterator<Item = &'a Entry> + 's {
        self.entries(logged).iter().copied().filter(|entry| self.signs(entry, logged))
    }

    /// All entries of the event and part, whoever made them.
    pub(super) fn entries(&self, logged: &Logged) -> &[&'a Entry] {
        let parts = self.showing.get(&logged.event);
        parts.and_then(|parts| parts.get(logged.subject.as_str())).map_or(&[], Vec::as_slice)
    }

    /// Whether the role an entry was made in counts for a need.
    pub(super) fn signs(&self, entry: &Entry, logged: &Logged) -> bool {
        let role = self.rules.roles.iter().position(|role| role.name == entry.role);
        let Some((at, role)) = role.and_then(|at| Some((at, self.rules.roles.get(at)?))) else { return false };
        role.signs && (logged.roles == 0 || logged.roles & (1u64 << at.min(62)) != 0)
    }

    /// The person behind an entry: two short names of one full name are one person.
    pub(super) fn person(&self, entry: &Entry) -> String {
        let name = self.record.people.get(&entry.who).map_or(entry.who.as_str(), |person| person.name.as_str());
        name.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
    }

    /// Whether an entry still counts for a part. Which entry undid it first is
    /// worked out only where it is to be told.
    pub(super) fn standing(&self, entry: &Entry, part: &str, tell: bool) -> Standing<'a> {
        let (mut undone, mut unclear): (Option<&'a Entry>, Option<&'a Entry>) = (None, None);
        for at in self.disturbing.get(part).into_iter().flatten() {
            let Some(group) = self.groups.get(*at) else { continue };
            let from = group.entries.partition_point(|other| other.on.last < entry.on.first);
            for other in group.entries.get(from..).unwrap_or(&[]).iter().rev() {
                if entry.before(other) {
                    let earlier = |known: &Entry| (other.on.first, other.place) < (known.on.first, known.place);
                    if undone.is_none_or(earlier) {
                        undone = Some(other);
                    }
                    if !tell {
                        return Standing::Lapsed(other);
                    }
                } else if !other.before(entry) {
                    unclear = Some(other);
                }
            }
        }
        match (undone, unclear) {
            (Some(undone), _) => Standing::Lapsed(undone),
            (None, Some(unclear)) => Standing::Unclear(unclear),
            (None, None) if entry.on.last > self.today => Standing::NotYet,
            (None, None) if self.weak(entry) => Standing::Weak,
            (None, None) => Standing::Counts,
        }
    }

    /// How an entry came to disturb a part, where that needs a word.
    pub(super) fn how(&self, entry: &Entry, part: &str) -> Option<String> {
        Reach::of(self.rules, self.record, entry).how(self.rules, part)
    }

    /// Whether it rests on an instrument that is not known to have been in calibration.
    fn weak(&self, entry: &Entry) -> bool {
        let Some(instrument) = &entry.instrument else { return false };
        let Some(id) = self.rules.list_by_name.get(EQUIPMENT) else { return false };
        match self.calibrated_until(*id, instrument) {
            Calibration::NotNeeded => false,
            Calibration::Until(until) => entry.on.last > until.first,
            Calibration::NotRecorded => true,
        }
    }

    /// Until when an instrument is calibrated, in words.
    pub(super) fn calibration(&self, entry: &Entry) -> String {
        let instrument = entry.instrument.as_deref().unwrap_or("");
        let id = self.rules.list_by_name.get(EQUIPMENT);
        match id.map_or(Calibration::NotRecorded, |id| self.calibrated_until(*id, instrument)) {
            Calibration::Until(until) => format!("`{instrument}` was in calibration until {until}"),
            Calibration::NotRecorded | Calibration::NotNeeded => {
                format!("the calibration of `{instrument}` is not recorded in `{EQUIPMENT}`")
            }
        }
    }

    fn calibrated_until(&self, id: crate::rules::ListId, instrument: &str) -> Calibration {
        let field = |name: &str| self.rules.list(id)?.fields.iter().position(|field| field.name == name);
        let (Some(name), Some(until)) = (field("name"), field("calibrated_until")) else {
            return Calibration::NotRecorded;
        };
        let rows = self.record.lists.get(&id).map_or(&[][..], |rows| rows.rows.as_slice());
        let value = |row: &'a crate::record::Row, at: usize| {
            row.fields.get(at).and_then(Option::as_ref).map(|recorded| &recorded.value)
        };
        let named =
            |row: &&'a crate::record::Row| matches!(value(row, name), Some(Value::Text(text)) if text == instrument);
        match rows.iter().find(named).and_then(|row| value(row, until)) {
            Some(Value::Absent) => Calibration::NotNeeded,
            Some(Value::Number(range)) => {
                let days = range
                    .days()
                    .and_then(|(first, last)| DateRange::new(Date::from_days(first), Date::from_days(last)));
                days.map_or(Calibration::NotRecorded, Calibration::Until)
            }
            _ => Calibration::NotRecorded,
        }
    }
}

enum Calibration {
    NotNeeded,
    Until(DateRange),
    NotRecorded,
}

/// Whether so many people have noted every point.
fn enough(people: &BTreeMap<String, BTreeSet<&str>>, logged: &Logged) -> bool {
    let complete = |noted: &&BTreeSet<&str>| logged.points.iter().all(|point| noted.contains(point.as_str()));
    people.values().filter(complete).count() >= logged.people as usize
}
