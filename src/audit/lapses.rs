//! What the log shows of one need, in words: the entries that count, those
//! that lapsed and what undid them, and what is still wanting.

use super::finding::{Lapse, Seen, Told};
use crate::ir::{Logged, Rules};
use crate::lapse::{Logbook, Standing};
use crate::project::{Entry, Record};
use crate::source::Sources;
use std::collections::BTreeSet;

/// At most so many entries of each kind are told.
const MOST: usize = 4;

/// So many entries that do not count are looked at one by one; more would
/// bury what there is to tell.
const ENOUGH: usize = 24;

/// What there is to tell of one need.
#[derive(Debug, Default)]
pub(super) struct Shown {
    /// Entries with how they stand.
    pub(super) values: Vec<Seen>,
    pub(super) lapses: Vec<Lapse>,
    pub(super) note: Option<String>,
    /// What is wanting, in a few words.
    pub(super) why: String,
}

/// One line of the log, to be told.
pub(super) fn told(record: &Record, sources: &Sources, entry: &Entry) -> Told {
    Told {
        on: entry.on.to_string(),
        event: entry.event.words().to_owned(),
        subject: entry.subject.clone(),
        who: record.people.get(&entry.who).map_or_else(|| entry.who.clone(), |person| person.name.clone()),
        role: entry.role.clone(),
        note: entry.note.clone(),
        place: sources.place(entry.place),
    }
}

impl Logbook<'_> {
    /// Tells what the log shows of a need.
    pub(super) fn tell(&self, rules: &Rules, record: &Record, sources: &Sources, logged: &Logged) -> Shown {
        let mut shown = Shown::default();
        let (mut people, mut told_lapsed) = (BTreeSet::new(), BTreeSet::new());
        let (mut wanting, mut looked_at) = (Vec::new(), 0usize);
        for entry in self.signed(logged).rev() {
            let person = self.person(entry);
            let standing = if self.counts(entry, &logged.subject) {
                // Where no points are asked for, the last one of each person says enough.
                if !people.insert(person) && logged.points.is_empty() {
                    continue;
                }
                Standing::Counts
            } else {
                let told = people.contains(person) || told_lapsed.contains(person);
                if looked_at >= ENOUGH || told && self.surely_lapsed(entry, &logged.subject) {
                    continue;
                }
                looked_at = looked_at.saturating_add(1);
                self.standing(entry, Some(&logged.subject))
            };
            let line = told(record, sources, entry);
            let state = match standing {
                Standing::Counts => noted(entry),
                Standing::Lapsed(by) => {
                    // The last one of each person says enough.
                    if !people.contains(person) && told_lapsed.insert(person) && shown.lapses.len() < MOST {
                        let through = self.how(by, &logged.subject);
                        shown.lapses.push(Lapse { shown: line, undone_by: told(record, sources, by), through });
                    }
                    continue;
                }
                Standing::Unclear(other) => {
                    wanting.push(which_first(sources, entry, other));
                    let (event, subject, on) = (other.event.words(), &other.subject, other.on);
                    let place = sources.place(other.place);
                    format!("not clear whether before or after: {event} {subject}, {on} ({place})")
                }
                Standing::NotYet => {
                    wanting.push(format!("the day of {} would settle whether it lies before the audit", line.place));
                    "not clear whether before the audit date".to_owned()
                }
                Standing::Weak => {
                    let calibration = self.calibration(entry);
                    wanting.push(format!("do it again with an instrument in calibration: {calibration}"));
                    format!("weak: {calibration}")
                }
            };
            if shown.values.len() < MOST {
                shown.values.push(Seen {
                    name: format!("{} {} by {}, {}", line.event, line.subject, line.who, line.role),
                    value: if state.is_empty() { line.on } else { format!("{}; {state}", line.on) },
                    place: Some(line.place),
                });
            }
        }
        shown.values.reverse();
        shown.lapses.reverse();
        self.summary(rules, logged, people.len(), wanting, &mut shown);
        shown
    }

    fn summary(&self, rules: &Rules, logged: &Logged, people: usize, wanting: Vec<String>, shown: &mut Shown) {
        let unsigned = self.entries(logged).iter().filter(|entry| !self.signs(entry, logged)).count();
        let mut notes = Vec::new();
        if shown.lapses.is_empty() && shown.values.is_empty() {
            notes.push(format!("nothing in the log shows it for `{}`", logged.subject));
        }
        if logged.people > 1 && people > 0 {
            notes.push(format!("{people} of {} different people", logged.people));
        }
        if unsigned > 0 {
            let roles: Vec<&str> = rules
                .roles
                .iter()
                .filter(|role| {
                    self.entries(logged).iter().any(|entry| entry.role == role.name && !self.signs(entry, logged))
                })
                .map(|role| role.name.as_str())
                .collect();
            let entries = if unsigned == 1 { "one entry is".to_owned() } else { format!("{unsigned} entries are") };
            notes.push(format!("{entries} no signature here: made as {}", roles.join(", ")));
        }
        shown.note = (!notes.is_empty()).then(|| notes.join("; "));
        shown.why = if let [first, ..] = wanting.as_slice() {
            first.clone()
        } else if !shown.lapses.is_empty() && people == 0 {
            "what the log had shown has lapsed".to_owned()
        } else if people > 0 {
            let points = if logged.points.is_empty() {
                String::new()
            } else {
                format!(", each noting {}", logged.points.join(", "))
            };
            format!("{people} of {} different people so far{points}", logged.people)
        } else {
            "no log entry".to_owned()
        };
    }
}

/// What would settle which of two entries came first.
fn which_first(sources: &Sources, entry: &Entry, other: &Entry) -> String {
    let (one, two) = (sources.place(entry.place), sources.place(other.place));
    let known = |entry: &Entry| entry.on.first == entry.on.last;
    if entry.on == other.on && known(entry) {
        format!("the time of day of {one} and of {two} would settle which came first: write on = {}T14:30:00", entry.on)
    } else {
        let open: Vec<String> =
            [(entry, one), (other, two)].into_iter().filter(|(e, _)| !known(e)).map(|(_, at)| at.to_string()).collect();
        format!("the day of {} would settle which came first", open.join(" and of "))
    }
}

fn noted(entry: &Entry) -> String {
    if entry.points.is_empty() { String::new() } else { format!("noted {}", entry.points.join(", ")) }
}
