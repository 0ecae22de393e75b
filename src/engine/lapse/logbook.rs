//! What the log shows: an inspection, a test or a measurement counts while
//! nothing logged later has disturbed its part.
//!
//! Entries known only to the month may overlap. Then nobody can say which came
//! first, and what the log shows is undecided.

use super::by_part::ByPart;
use super::disturbance::{Extent, Reach, Through, part_of, places, related};
use super::instruments::Instruments;
use super::removals::{Removals, about_parts};
use super::states::{self, Aspect, StateOf, ValueState};
use crate::ir::{Arena, IdOf, Logged, LoggedId, PartOrAll, RoleSet, Rules};
use crate::project::{Entry, Moment, Persons, Record, Recorded, Value};
use crate::quantity::{Date, DateRange};
use crate::vocabulary::Event;
use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

/// Whether an entry still counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum EntryStanding<'a> {
    /// It does.
    Counts,
    /// The entry that certainly undid it, the earliest of several.
    Lapsed(&'a Entry),
    /// An entry that may have undone it.
    Unclear(&'a Entry),
    /// It has no day, so this entry may have come after it.
    Undated(&'a Entry),
    /// The part is off, by this entry.
    Off(&'a Entry),
    /// It may lie after the audit date.
    NotYet,
    /// The instrument was out of calibration, or nothing says that it was in.
    Weak,
}

/// By what something is disturbed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum By {
    /// Work on it, taking it off or putting it back.
    Work,
    /// It was only opened.
    Opening,
    /// It was closed: no part is another for it, but what was said of the whole aircraft as it stood.
    Closing,
    /// A snag was found at it, and nothing done.
    Snag,
}

/// What entries about one part have in common that disturb the same.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Same<'a> {
    by: By,
    /// It is another in itself after it.
    changes: bool,
    /// For the visit, which reaches as far as this zone.
    visit: Option<Option<&'a str>>,
    /// They disturb it if it was off before, and nobody knows whether it was.
    perhaps: bool,
}

type GroupId = IdOf<Group<'static>>;

/// Entries that disturb the same, sorted by their first possible day.
#[derive(Debug)]
struct Group<'a> {
    part: &'a str,
    by: By,
    /// Whether they change the part in itself.
    changes: bool,
    /// Whether they only may have disturbed it.
    perhaps: bool,
    reach: Reach<'a>,
    entries: Vec<&'a Entry>,
    /// Those that may have been the last.
    last: Vec<&'a Entry>,
    /// The latest first possible day of those that certainly happened.
    surely: Option<Date>,
}

/// What has disturbed a part that some need asks about.
#[derive(Debug, Default, Clone)]
pub(super) struct Disturbed<'a> {
    groups: Vec<GroupId>,
    /// Of all entries, those that may have been the last. An entry that
    /// certainly comes after them comes after all.
    pub(super) last: Vec<&'a Entry>,
    /// The latest day on or after which it was certainly disturbed.
    surely: Option<Date>,
}

/// The log up to a day, sorted by what it shows and what it disturbs.
#[derive(Debug)]
pub(crate) struct Logbook<'a> {
    pub(super) rules: &'a Rules,
    record: &'a Record,
    today: Date,
    groups: Arena<GroupId, Group<'a>>,
    /// The groups by the parts from which they disturb something.
    reaching: ByPart<'a, (GroupId, Extent)>,
    /// The groups that change their part in itself, by that.
    changing: ByPart<'a, GroupId>,
    /// By what something is a state of.
    disturbing: BTreeMap<StateOf<'a>, Disturbed<'a>>,
    instruments: Instruments,
    removals: Removals<'a>,
    /// Who is who.
    persons: Persons<'a>,
    /// Entries that may show something, by event and part, in the order written.
    showing: BTreeMap<Event, BTreeMap<&'a str, Vec<&'a Entry>>>,
}

impl<'a> Logbook<'a> {
    /// The log as it stood on a day.
    pub(crate) fn new(rules: &'a Rules, record: &'a Record, today: Date) -> Self {
        let parts = about_parts(record, today);
        let mut logbook = Self {
            rules,
            record,
            today,
            groups: Arena::default(),
            reaching: ByPart::default(),
            changing: ByPart::default(),
            disturbing: BTreeMap::new(),
            instruments: Instruments::of(rules, record),
            removals: Removals::of_parts(&parts, today),
            persons: Persons::of(&record.people),
            showing: BTreeMap::new(),
        };
        let (inspected, spoken_of) = (rules.program.logged.iter(), rules.program.abouts.iter().flatten());
        let inspected = inspected.map(|logged| Some(logged.subject.as_str()));
        let fitted = inspected.chain(spoken_of.map(PartOrAll::part)).map(StateOf::looked_at);
        let states: BTreeSet<StateOf<'_>> = fitted.chain(states::all(rules, record)).collect();
        if states.is_empty() {
            return logbook;
        }
        let mut grouped: Vec<(&str, BTreeMap<Same<'_>, Vec<&Entry>>)> = Vec::new();
        for (part, entries) in parts {
            let mut of_part: BTreeMap<Same<'_>, Vec<&Entry>> = BTreeMap::new();
            let mut showing: BTreeMap<Event, Vec<&Entry>> = BTreeMap::new();
            for (number, entry) in entries {
                // Whatever else is written with it, an entry that puts a part back disturbs as a refit does.
                let back = logbook.removals.put_back(number);
                let by = match entry.event {
                    Event::Opened => Some(By::Opening),
                    event if event.disturbs() || back.is_some() => Some(By::Work),
                    Event::Closed => Some(By::Closing),
                    Event::SnagFound => Some(By::Snag),
                    _ => None,
                };
                if let Some(by) = by {
                    let same = Same {
                        by,
                        changes: entry.changes_part() || back.is_some_and(|back| back.for_good),
                        visit: entry.for_visit.then_some(entry.zone.as_deref()),
                        perhaps: by == By::Work && !entry.event.disturbs() && !back.is_some_and(|back| back.surely),
                    };
                    of_part.entry(same).or_default().push(entry);
                }
                if !entry.event.disturbs() {
                    showing.entry(entry.event).or_default().push(entry);
                }
            }
            for (event, entries) in showing {
                logbook.showing.entry(event).or_default().insert(part, entries);
            }
            grouped.push((part, of_part));
        }
        if grouped.iter().any(|(_, of_part)| !of_part.is_empty()) {
            logbook.add_groups(grouped);
        }
        logbook.disturbing = states.into_iter().map(|of| (of, logbook.disturbed(of))).collect();
        logbook
    }

    fn add_groups(&mut self, grouped: Vec<(&'a str, BTreeMap<Same<'a>, Vec<&'a Entry>>)>) {
        let places = places(self.rules, self.record);
        let groups = grouped.into_iter().flat_map(|(part, of_part)| of_part.into_iter().map(move |one| (part, one)));
        for (part, (Same { by, changes, perhaps, .. }, mut entries)) in groups {
            entries.sort_by_key(|entry| (entry.on.first, entry.place));
            if let Some(first) = entries.first() {
                let reach = match by {
                    By::Work | By::Opening => Reach::of(self.rules, self.record, &places, first),
                    By::Closing => Reach::of_no_part(),
                    By::Snag => Reach::of_snag(part),
                };
                let last = last_of(entries.iter().copied());
                let happened = entries.iter().rev().find(|entry| entry.on.last <= self.today);
                let surely = happened.filter(|_| !perhaps).map(|entry| entry.on.first);
                self.groups.push(Group { part, by, changes, perhaps, reach, entries, last, surely });
            }
        }
        let reached = self.groups.with_ids().flat_map(|(id, group)| {
            let parts = group.reach.parts();
            parts.map(move |(part, extent)| (part, (id, extent)))
        });
        self.reaching = ByPart::of(reached);
        let changing = self.groups.with_ids().filter(|(_, group)| group.changes);
        self.changing = ByPart::of(changing.map(|(id, group)| (group.part, id)));
    }

    /// The groups that disturb something, in their order.
    fn groups_disturbing(&self, of: StateOf<'_>) -> Vec<GroupId> {
        let all = |touching: &dyn Fn(&Group<'_>) -> bool| -> Vec<GroupId> {
            self.groups.with_ids().filter(|(_, group)| touching(group)).map(|(id, _)| id).collect()
        };
        let mut groups: Vec<GroupId> = match (of.part, of.aspect) {
            (None, Aspect::LookedAt) => return all(&|_| true),
            (None, Aspect::Fitted) => {
                return all(&|group| group.by != By::Closing && group.reach.touches_anything_as_fitted());
            }
            (None, Aspect::Itself) => return all(&|group| group.changes),
            (Some(part), Aspect::LookedAt | Aspect::Fitted) => {
                let below = self.reaching.below(part).filter(|(_, extent)| extent.upward);
                let reached = self.reaching.at(part).chain(self.reaching.above(part)).chain(below);
                let counts = |extent: Extent| of.aspect == Aspect::LookedAt || !extent.laid_open;
                reached.filter(|(_, extent)| counts(*extent)).map(|(id, _)| id).collect()
            }
            // What only a pack's declaration reaches is the same as it was.
            (Some(part), Aspect::Itself) => {
                let all = self.changing.at(part).chain(self.changing.above(part));
                all.chain(self.changing.below(part)).collect()
            }
        };
        groups.sort_unstable();
        groups.dedup();
        groups
    }

    fn disturbed(&self, of: StateOf<'_>) -> Disturbed<'a> {
        let groups = self.groups_disturbing(of);
        let of_part = || groups.iter().filter_map(|id| self.groups.get(*id));
        let last = last_of(of_part().flat_map(|group| group.last.iter().copied()));
        let surely = of_part().filter_map(|group| group.surely).max();
        Disturbed { groups, last, surely }
    }

    /// What the log shows of every need the program has of it: the first day of the latest
    /// entries that show it, which a need that asks for a later day is held against.
    pub(crate) fn shown(&self) -> Arena<LoggedId, Option<Date>> {
        self.rules.program.logged.iter().map(|logged| self.shows(logged)).collect()
    }

    /// The first day of the latest entries that show a need. Without any it is not shown, never refused.
    fn shows(&self, logged: &Logged) -> Option<Date> {
        let asked: BTreeSet<&str> = logged.points.iter().map(String::as_str).collect();
        let mut earliest: Option<Date> = None;
        let (mut noted, mut complete): (BTreeMap<&str, BTreeSet<&str>>, _) = (BTreeMap::new(), BTreeSet::new());
        let of = StateOf::looked_at(Some(&logged.subject));
        if self.off(of).is_some() {
            return None;
        }
        // Looked up once for all of them; see `counts`.
        let last = &self.disturbed_of(of).last;
        let counts = |entry: &&Entry| {
            let undisturbed = || last.iter().all(|other| comes_before(other, entry));
            entry.on.last <= self.today && undisturbed() && !self.weak(entry) && self.signs(entry, logged)
        };
        for entry in self.entries(logged).iter().rev().copied().filter(counts) {
            earliest = Some(earliest.map_or(entry.on.first, |first| first.min(entry.on.first)));
            let person = self.person(entry);
            let points = noted.entry(person).or_default();
            points.extend(entry.points.iter().map(String::as_str).filter(|point| asked.contains(point)));
            if points.len() == asked.len() {
                complete.insert(person);
            }
            if complete.len() >= logged.people as usize {
                return earliest;
            }
        }
        None
    }

    /// Whether an entry certainly comes after everything that disturbed a part,
    /// and stands by itself.
    pub(crate) fn counts(&self, entry: &Entry, part: &str) -> bool {
        entry.on.last <= self.today && self.undisturbed(entry, StateOf::looked_at(Some(part)))
    }

    fn undisturbed(&self, entry: &Entry, of: StateOf<'_>) -> bool {
        let last_before = || self.disturbed_of(of).last.iter().all(|other| comes_before(other, entry));
        self.off(of).is_none() && last_before() && !self.weak(entry)
    }

    /// Whether an entry was made before some day on or after which the part was
    /// certainly disturbed. It may have lapsed where this says no.
    pub(crate) fn surely_lapsed(&self, entry: &Entry, part: &str) -> bool {
        let surely = self.disturbed_of(StateOf::looked_at(Some(part))).surely;
        surely.is_some_and(|day| entry.on.last < day)
    }

    /// The entries that could show a need, by people whose word is a signature for it.
    pub(crate) fn signed<'s>(&'s self, logged: &'s Logged) -> impl DoubleEndedIterator<Item = &'a Entry> + 's {
        self.entries(logged).iter().copied().filter(|entry| self.signs(entry, logged))
    }

    /// All entries of the event and part, whoever made them.
    pub(crate) fn entries(&self, logged: &Logged) -> &[&'a Entry] {
        self.shown_of(logged.event, &logged.subject)
    }

    fn shown_of(&self, event: Event, part: &str) -> &[&'a Entry] {
        self.showing.get(&event).and_then(|parts| parts.get(part)).map_or(&[], Vec::as_slice)
    }

    /// All entries of the event and part of this one, and it.
    pub(crate) fn like(&self, entry: &Entry) -> &[&'a Entry] {
        self.shown_of(entry.event, &entry.subject)
    }

    /// Whether the role an entry was made in counts for a need.
    pub(crate) fn signs(&self, entry: &Entry, logged: &Logged) -> bool {
        let role = self.rules.roles.position(|role| role.name == entry.role);
        let Some((at, role)) = role.and_then(|at| Some((at, self.rules.roles.get(at)?))) else { return false };
        let out_of_role = || role.other_than_builder && self.persons.is_builder(&entry.who);
        role.signs && logged.roles.signs(at) && !out_of_role() && self.is_somebody_else(entry, logged.other_than)
    }

    /// Whether whoever made an entry has none of these roles.
    fn is_somebody_else(&self, entry: &Entry, than: RoleSet) -> bool {
        let roles = || self.persons.role_set(self.rules, &entry.who);
        than == RoleSet::ANY || roles().is_some_and(|roles| !roles.meets(than))
    }

    /// Who is who.
    pub(crate) fn persons(&self) -> &Persons<'a> {
        &self.persons
    }

    /// The person behind an entry; the short name of one whom the project does not name.
    pub(crate) fn person<'s>(&'s self, entry: &'s Entry) -> &'s str {
        self.persons.person(&entry.who).unwrap_or(&entry.who)
    }

    /// How an entry stands, and what undid it first. [`counts`](Self::counts)
    /// says quickly whether it counts.
    pub(crate) fn standing(&self, entry: &Entry, of: StateOf<'_>) -> EntryStanding<'a> {
        let disturbed = self.disturbed_of(of);
        let groups: Vec<&Group<'_>> = disturbed.groups.iter().filter_map(|id| self.groups.get(*id)).collect();
        let first = |group: &&Group<'a>| {
            let from = group.entries.partition_point(|other| other.on.first < entry.on.first);
            let undid = |other: &&Entry| entry.before(other) && other.on.last <= self.today;
            group.entries.get(from..).unwrap_or(&[]).iter().copied().find(undid)
        };
        let certain = groups.iter().filter(|group| !group.perhaps);
        if let Some(undone) = certain.filter_map(first).min_by_key(|other| (other.on.first, other.place)) {
            return EntryStanding::Lapsed(undone);
        }
        if let Some(by) = self.off(of) {
            return EntryStanding::Off(by);
        }
        if let Some(unclear) = disturbed.last.iter().copied().find(|other| !comes_before(other, entry)) {
            return EntryStanding::Unclear(unclear);
        }
        if entry.on.last > self.today {
            EntryStanding::NotYet
        } else if self.weak(entry) {
            EntryStanding::Weak
        } else {
            EntryStanding::Counts
        }
    }

    /// Whether a recorded value still counts. [`standing_of_value`](Self::standing_of_value) says why not.
    pub(crate) fn value_counts(&self, recorded: &Recorded, state: Option<ValueState<'_>>) -> bool {
        let on = moment_of(recorded, state);
        let instrument = recorded.taken.as_deref().and_then(|taken| taken.instrument.as_deref());
        match (on, state) {
            // Nobody knows whether the instrument was good on that day.
            (None, _) if instrument.is_some() => false,
            (None, state) => state.is_none_or(|state| self.disturbed_of(state.of).last.is_empty()),
            (Some(on), Some(state)) => {
                // Of a day to come that the value itself names, what is asked of it decides.
                let known = on.on.last <= self.today || names_its_day(recorded);
                known && self.undisturbed(&taken_as_entry(on, instrument), state.of)
            }
            (Some(on), None) => {
                let entry = taken_as_entry(on, instrument);
                entry.on.last <= self.today && !self.weak(&entry)
            }
        }
    }

    /// How a recorded value stands.
    pub(crate) fn standing_of_value(&self, recorded: &Recorded, state: Option<ValueState<'_>>) -> EntryStanding<'a> {
        let instrument = recorded.taken.as_deref().and_then(|taken| taken.instrument.as_deref());
        let on = moment_of(recorded, state);
        match self.standing_of_moment(on, instrument, state.map(|state| state.of)) {
            EntryStanding::NotYet if state.is_some() && names_its_day(recorded) => EntryStanding::Counts,
            standing => standing,
        }
    }

    /// How something of a day stands that no line of the log shows: a value, a file, leave, a word.
    pub(crate) fn standing_of_moment(
        &self,
        on: Option<Moment>,
        instrument: Option<&str>,
        of: Option<StateOf<'_>>,
    ) -> EntryStanding<'a> {
        match (on, of) {
            (None, _) if instrument.is_some() => EntryStanding::Weak,
            (None, Some(of)) if self.off(of).is_some() => self.off(of).map_or(EntryStanding::Weak, EntryStanding::Off),
            (None, Some(of)) => {
                let last = self.disturbed_of(of).last.first().copied();
                last.map_or(EntryStanding::Counts, EntryStanding::Undated)
            }
            (None, None) => EntryStanding::Counts,
            (Some(on), Some(of)) => self.standing(&taken_as_entry(on, instrument), of),
            (Some(on), None) if on.on.last > self.today => EntryStanding::NotYet,
            (Some(on), None) if self.weak(&taken_as_entry(on, instrument)) => EntryStanding::Weak,
            (Some(_), None) => EntryStanding::Counts,
        }
    }

    /// The removals that stand.
    pub(crate) fn removals(&self) -> &Removals<'a> {
        &self.removals
    }

    /// The removal by which a part is off, for what is of it as fitted.
    pub(super) fn off(&self, of: StateOf<'_>) -> Option<&'a Entry> {
        match (of.part, of.aspect) {
            (_, Aspect::Itself) | (None, Aspect::Fitted) => None,
            (Some(part), _) => self.removals.off_in_part(part).or_else(|| self.off_among_many(part)),
            // Of the whole aircraft nobody can speak while it is not there.
            (None, Aspect::LookedAt) => self.removals.something_off(),
        }
    }

    /// The removal of a part that stands for many, of which this may be the one that is off.
    fn off_among_many(&self, part: &str) -> Option<&'a Entry> {
        let of_many = self.rules.disturbances.iter().filter(|one| one.itself);
        let mut among = of_many.filter(|one| one.also.iter().any(|also| related(also, part)));
        among.find_map(|one| self.removals.off_in_part(&one.subject))
    }

    /// What has disturbed something: made ready for all that a need asks about, worked out for the rest.
    pub(super) fn disturbed_of<'s>(&'s self, of: StateOf<'s>) -> Cow<'s, Disturbed<'a>> {
        match self.disturbing.get(&of) {
            Some(ready) => Cow::Borrowed(ready),
            None => Cow::Owned(self.disturbed(of)),
        }
    }

    /// Every entry that disturbs something, or may have done so.
    pub(crate) fn entries_disturbing(&self, of: StateOf<'_>) -> Vec<&'a Entry> {
        let groups = self.groups_disturbing(of);
        groups.iter().filter_map(|id| self.groups.get(*id)).flat_map(|group| group.entries.iter().copied()).collect()
    }

    /// How an entry came to disturb a part, step by step.
    pub(crate) fn how(&self, entry: &Entry, of: StateOf<'_>) -> Vec<Through> {
        match of.part {
            None => Vec::new(),
            Some(part) if of.aspect == Aspect::Itself => part_of(&entry.subject, part).into_iter().collect(),
            Some(part) => {
                // Worked out already for all that disturb the same.
                let same = |group: &&Group<'_>| group.entries.iter().any(|known| std::ptr::eq(*known, entry));
                let known = self.groups.iter().filter(|group| group.part == entry.subject).find(same);
                match known {
                    Some(group) => group.reach.how(self.rules, part),
                    None => Reach::of(self.rules, self.record, &places(self.rules, self.record), entry)
                        .how(self.rules, part),
                }
            }
        }
    }

    /// Whether it rests on an instrument that is not known to have been good.
    pub(crate) fn weak(&self, entry: &Entry) -> bool {
        entry.instrument.as_ref().is_some_and(|instrument| !self.instruments.was_good(instrument, entry.on))
    }

    /// The last day on which an instrument is calibrated, if one is recorded.
    pub(crate) fn calibrated_until(&self, instrument: &str) -> Option<DateRange> {
        self.instruments.calibrated_until(instrument)
    }
}

/// Whether a disturbance comes before an entry, or is that entry: what is
/// inspected as it is put back is inspected in its place. One whose place in its
/// day nobody knows may stand for others like it (`last_of`).
fn comes_before(disturbing: &Entry, entry: &Entry) -> bool {
    let placed = entry.in_order && entry.on.first == entry.on.last;
    disturbing.before(entry) || placed && std::ptr::eq(disturbing, entry)
}

/// When a value was so: on its day; one that is a day, on that day, unless it
/// was written down before, or may have been.
pub(crate) fn moment_of(recorded: &Recorded, state: Option<ValueState<'_>>) -> Option<Moment> {
    let written = recorded.taken.as_deref().and_then(|taken| taken.on);
    let named = match &recorded.value {
        Value::Number(range) if state.is_some_and(|state| state.own_day) => range.days(),
        _ => None,
    };
    let named = named.and_then(|(first, last)| DateRange::new(Date::from_days(first), Date::from_days(last)));
    match (written, named) {
        (written, None) => written,
        (Some(written), Some(named)) if written.on.last <= named.first => Some(written),
        (Some(Moment { on: written, .. }), Some(named)) => {
            let (first, last) = (written.first.min(named.first), written.last.min(named.last));
            DateRange::new(first, last).map(|on| Moment { on, at: None, place: recorded.place })
        }
        (None, Some(on)) => Some(Moment { on, at: None, place: recorded.place }),
    }
}

/// Whether the day that a value names is all that is known of when it was so.
/// One that was written on a day to come is not known yet.
fn names_its_day(recorded: &Recorded) -> bool {
    recorded.taken.as_deref().and_then(|taken| taken.on).is_none()
}

/// As an entry that stands in no file of the log: of two of one day nobody
/// knows which came first, unless both have times.
pub(crate) fn taken_as_entry(Moment { on, at, place }: Moment, instrument: Option<&str>) -> Entry {
    let instrument = instrument.map(str::to_owned);
    Entry { at, instrument, in_order: false, ..Entry::new(Event::Measured, "", "", on, place) }
}

/// Of entries that disturb, those that no other certainly comes after, as far
/// as they reach the latest day: what comes after them comes after all.
fn last_of<'e>(entries: impl Iterator<Item = &'e Entry> + Clone) -> Vec<&'e Entry> {
    let Some(day) = entries.clone().map(|entry| entry.on.last).max() else { return Vec::new() };
    let mut last: Vec<&Entry> = Vec::new();
    for entry in entries.filter(|entry| entry.on.last == day) {
        // Not known to the day, or in a file whose lines say nothing: one stands for all of them.
        let alike = |known: &Entry| {
            let unplaced = entry.on.first != day || !entry.in_order && entry.place.source == known.place.source;
            unplaced && (known.on, known.at, known.in_order) == (entry.on, entry.at, entry.in_order)
        };
        let covered = |known: &&Entry| entry.before(known) || alike(known);
        if !last.iter().any(covered) {
            last.retain(|known| !known.before(entry));
            last.push(entry);
        }
    }
    last
}
