//! What the log shows of one need, in words: the entries that count, those
//! that lapsed and what undid them, and what is still missing.

use super::cause::{Calibration, EntryRef, EntryState, MissingCause, Note, ObservedValue};
use super::finding::{Lapse, LineKind, LogLine, Observed};
use crate::ir::{Logged, Rules};
use crate::lapse::{EntryStanding, Logbook, StateOf};
use crate::project::{EQUIPMENT, Entry, Evidence, Record};
use std::collections::BTreeSet;

/// At most so many entries of each kind are told.
const MOST: usize = 4;

/// So many entries that do not count are looked at one by one; more would
/// bury what there is to tell.
const ENOUGH: usize = 24;

/// What there is to tell of one need.
#[derive(Debug)]
pub(super) struct Proof {
    /// Entries with how they stand.
    pub(super) values: Vec<Observed>,
    pub(super) lapses: Vec<Lapse>,
    pub(super) notes: Vec<Note>,
    /// What is missing.
    pub(super) why: MissingCause,
}

impl Proof {
    /// Nothing told yet.
    pub(super) fn of(why: MissingCause) -> Self {
        Self { values: Vec::new(), lapses: Vec::new(), notes: Vec::new(), why }
    }
}

/// An entry in brief.
pub(super) fn entry_ref(record: &Record, entry: &Entry) -> EntryRef {
    EntryRef {
        event: entry.event.words().to_owned(),
        subject: entry.subject.clone(),
        on: entry.on.to_string(),
        place: record.sources.place(entry.place),
    }
}

/// One line of the log, to be told.
pub(super) fn log_line(record: &Record, entry: &Entry) -> LogLine {
    LogLine {
        kind: LineKind::Entry,
        on: entry.on.to_string(),
        event: entry.event.words().to_owned(),
        subject: entry.subject.clone(),
        who: record.people.get(&entry.who).map_or_else(|| entry.who.clone(), |person| person.name.clone()),
        role: entry.role.clone(),
        note: entry.note.clone(),
        place: record.sources.place(entry.place),
        evidence: evidence_of_entry(record, entry),
    }
}

/// The files that an entry of the log names, as far as they are there.
fn evidence_of_entry(record: &Record, entry: &Entry) -> Vec<String> {
    let its_own = |one: &&Evidence| one.found && one.dated.is_some_and(|moment| moment.place == entry.place);
    let mut files: Vec<String> = record.evidence.iter().filter(its_own).map(|one| one.file.clone()).collect();
    files.dedup();
    files
}

impl Logbook<'_> {
    /// Tells what the log shows of a need.
    pub(super) fn proof_of(&self, rules: &Rules, record: &Record, logged: &Logged) -> Proof {
        let mut proof = Proof::of(MissingCause::NoEntry);
        let (mut people, mut told_lapsed) = (BTreeSet::new(), BTreeSet::new());
        let (mut causes, mut looked_at) = (Vec::new(), 0usize);
        for entry in self.signed(logged).rev() {
            let person = self.person(entry);
            let standing = if self.counts(entry, &logged.subject) {
                // Where no points are asked for, the last one of each person says enough.
                if !people.insert(person) && logged.points.is_empty() {
                    continue;
                }
                EntryStanding::Counts
            } else {
                let told = people.contains(person) || told_lapsed.contains(person);
                if looked_at >= ENOUGH || told && self.surely_lapsed(entry, &logged.subject) {
                    continue;
                }
                looked_at = looked_at.saturating_add(1);
                self.standing(entry, StateOf::looked_at(Some(&logged.subject)))
            };
            let line = log_line(record, entry);
            let state = match standing {
                EntryStanding::Counts => EntryState::Counts(entry.points.clone()),
                EntryStanding::Lapsed(by) => {
                    // The last one of each person says enough.
                    if !people.contains(person) && told_lapsed.insert(person) && proof.lapses.len() < MOST {
                        let through = self.how(by, StateOf::looked_at(Some(&logged.subject)));
                        proof.lapses.push(Lapse { shown: line, undone_by: log_line(record, by), through });
                    }
                    continue;
                }
                EntryStanding::Unclear(other) | EntryStanding::Undated(other) => {
                    causes.push(which_first(record, entry, other));
                    EntryState::UnclearOrder(entry_ref(record, other))
                }
                EntryStanding::Off(by) => {
                    causes.push(MissingCause::Off(entry_ref(record, by)));
                    EntryState::Off(entry_ref(record, by))
                }
                EntryStanding::NotYet => {
                    causes.push(MissingCause::DayBeforeAudit(line.place.clone()));
                    EntryState::UnclearBeforeAudit
                }
                EntryStanding::Weak => {
                    let calibration = Calibration {
                        instrument: entry.instrument.clone().unwrap_or_default(),
                        until: self
                            .calibrated_until(entry.instrument.as_deref().unwrap_or(""))
                            .map(|until| until.to_string()),
                        list: EQUIPMENT.to_owned(),
                    };
                    causes.push(MissingCause::Calibration(calibration.clone()));
                    EntryState::Weak(calibration)
                }
            };
            if proof.values.len() < MOST {
                proof.values.push(seen(line, state));
            }
        }
        proof.values.reverse();
        proof.lapses.reverse();
        self.summary(rules, logged, people.len(), causes, &mut proof);
        proof
    }

    fn summary(&self, rules: &Rules, logged: &Logged, people: usize, causes: Vec<MissingCause>, proof: &mut Proof) {
        let unsigned = self.entries(logged).iter().filter(|entry| !self.signs(entry, logged)).count();
        if proof.lapses.is_empty() && proof.values.is_empty() {
            proof.notes.push(Note::NothingInLog(logged.subject.clone()));
        }
        if logged.people > 1 && people > 0 {
            proof.notes.push(Note::People(people, logged.people));
        }
        if unsigned > 0 {
            let roles = rules
                .roles
                .iter()
                .filter(|role| {
                    self.entries(logged).iter().any(|entry| entry.role == role.name && !self.signs(entry, logged))
                })
                .map(|role| role.name.to_string())
                .collect();
            proof.notes.push(Note::NoSignature(unsigned, roles));
        }
        proof.why = if let [first, ..] = causes.as_slice() {
            first.clone()
        } else if !proof.lapses.is_empty() && people == 0 {
            MissingCause::EntryLapsed
        } else if people > 0 {
            let points = logged.points.iter().map(ToString::to_string).collect();
            MissingCause::People { have: people, asked: logged.people, points }
        } else {
            MissingCause::NoEntry
        };
    }
}

/// What would settle which of two entries came first.
pub(super) fn which_first(record: &Record, entry: &Entry, other: &Entry) -> MissingCause {
    let (one, two) = (record.sources.place(entry.place), record.sources.place(other.place));
    let known = |entry: &Entry| entry.on.first == entry.on.last;
    if entry.on == other.on && known(entry) {
        MissingCause::TimesOf(vec![one, two], entry.on.to_string())
    } else {
        let open = [(entry, one), (other, two)].into_iter().filter(|(e, _)| !known(e)).map(|(_, at)| at);
        MissingCause::DaysOf(open.collect())
    }
}

/// A line as a value that was looked at.
pub(super) fn seen(told: LogLine, state: EntryState) -> Observed {
    Observed {
        name: format!("{} {} by {}, {}", told.event, told.subject, told.who, told.role),
        value: ObservedValue::Entry(told.on, state),
        typed: None,
        place: Some(told.place),
        evidence: told.evidence,
    }
}
