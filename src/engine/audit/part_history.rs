//! The history of one part: what the log, the recorded values and people's words say of it, in order, and what each undid.

use crate::ir::{Fact, PartOrAll, Rules};
use crate::lapse::{EntryStanding, Logbook, StateOf, Through, moment_of, of_fact, part_is_below};
use crate::project::{Confirmation, Entry, Record, Recorded};
use crate::quantity::{Date, DateRange};
use crate::source::Span;
use crate::vocabulary::Event;

/// What happened to a part, or was said or recorded of it, in order.
#[derive(Debug)]
pub struct PartHistory<'a> {
    /// The earliest first; what has no day before all that has one.
    pub events: Vec<PartEvent<'a>>,
}

/// One line of it.
#[derive(Debug)]
pub struct PartEvent<'a> {
    /// What.
    pub what: PartEventKind<'a>,
    /// The day, or the days between which it was.
    pub on: Option<DateRange>,
    /// The time of that day in seconds, where it was written.
    pub at: Option<u32>,
    /// Where it is written.
    pub place: Span,
    /// Of what shows something: why that is so no longer, or not surely.
    pub standing: PartStanding<'a>,
    /// How work on another part comes to disturb this one.
    pub through: Vec<Through>,
    /// So many of the others it undid.
    pub undid: usize,
}

/// What a line of a part's history tells.
#[derive(Debug, Clone, Copy)]
pub enum PartEventKind<'a> {
    /// A line of the log.
    Entry(&'a Entry),
    /// A fact and what is recorded of it.
    Value(&'a Fact, &'a Recorded),
    /// What somebody has said of an item, by its title.
    Word(&'a str, &'a Confirmation),
}

/// Whether something still counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PartStanding<'a> {
    /// As far as the log undoes nothing of it.
    Stands,
    /// This entry undid it.
    Undone(&'a Entry),
    /// This entry may have come after it.
    Perhaps(&'a Entry),
    /// The part is off, by this entry.
    Off(&'a Entry),
    /// It rests on an instrument that is not known to have been good.
    Weak,
    /// It may lie after the day.
    NotYet,
}

impl<'a> From<EntryStanding<'a>> for PartStanding<'a> {
    fn from(standing: EntryStanding<'a>) -> Self {
        match standing {
            EntryStanding::Counts => Self::Stands,
            EntryStanding::Lapsed(by) => Self::Undone(by),
            EntryStanding::Unclear(by) | EntryStanding::Undated(by) => Self::Perhaps(by),
            EntryStanding::Off(by) => Self::Off(by),
            EntryStanding::Weak => Self::Weak,
            EntryStanding::NotYet => Self::NotYet,
        }
    }
}

impl<'a> PartHistory<'a> {
    /// Of a part, with its own parts and what it is a part of, as the log stood on a day.
    #[must_use]
    pub fn of(rules: &'a Rules, record: &'a Record, on: Date, part: &str) -> Self {
        let gathering = Gathering { rules, record, part, logbook: Logbook::new(rules, record, on) };
        let mut events = gathering.entries(on);
        events.extend(gathering.values());
        events.extend(gathering.words());
        events.sort_by_key(|event| (event.on.map(|on| (on.first, on.last)), event.at, event.place));
        let undone =
            |event: &PartEvent<'a>| if let PartStanding::Undone(by) = event.standing { Some(by) } else { None };
        let undoing: Vec<&Entry> = events.iter().filter_map(undone).collect();
        for event in &mut events {
            if let PartEventKind::Entry(entry) = event.what {
                event.undid = undoing.iter().filter(|by| std::ptr::eq(**by, entry)).count();
            }
        }
        // What was done elsewhere belongs to its history for what it undid.
        events.retain(|event| event.through.is_empty() || event.undid > 0);
        Self { events }
    }
}

struct Gathering<'a, 'p> {
    rules: &'a Rules,
    record: &'a Record,
    part: &'p str,
    logbook: Logbook<'a>,
}

impl<'a> Gathering<'a, '_> {
    /// Whether a part is this one, one of its parts, or what it is a part of.
    fn is_of_it(&self, part: &str) -> bool {
        part == self.part || part_is_below(part, self.part) || part_is_below(self.part, part)
    }

    /// The lines of the log about it, and those that disturb it from elsewhere.
    fn entries(&self, on: Date) -> Vec<PartEvent<'a>> {
        let state = StateOf::looked_at(Some(self.part));
        let reaching = self.logbook.entries_disturbing(state);
        let mut events = Vec::new();
        for entry in &self.record.log {
            let of_it = self.is_of_it(&entry.subject);
            let reaches = reaching.iter().any(|other| std::ptr::eq(*other, entry));
            if !of_it && !reaches {
                continue;
            }
            let shows = matches!(entry.event, Event::Inspected | Event::Tested | Event::Measured);
            let standing = match shows {
                _ if entry.on.first > on => PartStanding::NotYet,
                true => self.logbook.standing(entry, StateOf::looked_at(Some(&entry.subject))).into(),
                false => PartStanding::Stands,
            };
            events.push(PartEvent {
                what: PartEventKind::Entry(entry),
                on: Some(entry.on),
                at: entry.at,
                place: entry.place,
                standing,
                through: if of_it { Vec::new() } else { self.logbook.how(entry, state) },
                undid: 0,
            });
        }
        events
    }

    /// What is recorded that is a state of it.
    fn values(&self) -> Vec<PartEvent<'a>> {
        let value = |(id, recorded): (&crate::ir::FactId, &'a Recorded)| {
            let fact = self.rules.fact(*id)?;
            let state = of_fact(fact)?;
            self.is_of_it(state.of.part?).then_some(())?;
            let moment = moment_of(recorded, Some(state));
            Some(PartEvent {
                what: PartEventKind::Value(fact, recorded),
                on: moment.map(|moment| moment.on),
                at: moment.and_then(|moment| moment.at),
                place: recorded.place,
                standing: self.logbook.standing_of_value(recorded, Some(state)).into(),
                through: Vec::new(),
                undid: 0,
            })
        };
        self.record.facts.iter().filter_map(value).collect()
    }

    /// What people have said of it.
    fn words(&self) -> Vec<PartEvent<'a>> {
        let mut events = Vec::new();
        for item in &self.rules.items {
            let abouts = self.rules.program.words_of(item.need).into_iter().filter_map(|word| word.about);
            let about: Vec<&PartOrAll> =
                abouts.filter_map(|about| self.rules.program.abouts.get(about)).flatten().collect();
            if !about.iter().filter_map(|about| about.part()).any(|part| self.is_of_it(part)) {
                continue;
            }
            let full_name = self.rules.full_name(item);
            let about: Vec<PartOrAll> = about.into_iter().cloned().collect();
            for word in &self.record.confirmations {
                if word.item != full_name && word.item != *item.name {
                    continue;
                }
                let (standing, _) = self.logbook.standing_of_word(word, &about);
                events.push(PartEvent {
                    what: PartEventKind::Word(&item.title, word),
                    on: Some(word.on),
                    at: word.at,
                    place: word.place,
                    standing: standing.into(),
                    through: Vec::new(),
                    undid: 0,
                });
            }
        }
        events
    }
}
