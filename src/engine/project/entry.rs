//! One line of the log: what happened to which part, when, by whom.

use super::words::normal_word;
use crate::quantity::{DateRange, ExactInterval};
use crate::source::Span;
use crate::vocabulary::Event;

/// How a part was fitted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Fit {
    /// To see whether it goes together.
    Trial,
    /// For the time being: it must be replaced.
    Temporary,
    /// To stay.
    Final,
}

impl Fit {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Trial, Self::Temporary, Self::Final];

    /// The word for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Trial => "trial",
            Self::Temporary => "temporary",
            Self::Final => "final",
        }
    }

    /// The one that a word stands for.
    pub fn named(word: &str) -> Option<Self> {
        let word = normal_word(word);
        Self::ALL.into_iter().find(|fit| fit.word() == word)
    }
}

/// One entry of the log.
///
/// ```
/// use cotterpin_engine::quantity::{Date, DateRange};
/// use cotterpin_engine::project::Entry;
/// use cotterpin_engine::vocabulary::Event;
/// use cotterpin_engine::source::{Sources, Span};
/// let place = Span::new(Sources::default().add("log.toml", ""), 0, 0);
/// if let Some(day) = Date::new(2026, 8, 29) {
///     let entry = Entry::new(Event::Inspected, "controls.elevator", "rosa", DateRange::day(day), place);
///     assert!(!entry.event.disturbs());
/// }
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// When: a day, or a month or year where no more is known.
    pub on: DateRange,
    /// The time of day in seconds, where it was written.
    pub at: Option<u32>,
    /// What happened.
    pub event: Event,
    /// The part, or the zone that was opened or closed.
    pub subject: String,
    /// Who, by the short name of the project's people.
    pub who: String,
    /// In what role.
    pub role: String,
    /// What was looked at: `assembly`, `locking`.
    pub points: Vec<String>,
    /// How a part was fitted.
    pub fit: Option<Fit>,
    /// The instrument used.
    pub instrument: Option<String>,
    /// Opened so that the inspector can see: what lies there counts as disturbed.
    pub for_visit: bool,
    /// Removed, and not to come back: the aircraft is without it.
    pub for_good: bool,
    /// Refitted: with another one in its place.
    pub another: bool,
    /// The number of a snag.
    pub snag: Option<u32>,
    /// How long a snag takes, in seconds.
    pub takes: Option<ExactInterval>,
    /// The hold point by which a snag must be cleared.
    pub by: Option<String>,
    /// The zone, where it is not the part's own.
    pub zone: Option<String>,
    /// A remark.
    pub note: Option<String>,
    /// Whether the lines of its file stand in the order of the days, so that of
    /// two lines of one day the upper came first.
    pub in_order: bool,
    /// Where it is written.
    pub place: Span,
}

impl Entry {
    /// An entry with nothing but what every entry has. The role is left empty.
    #[must_use]
    pub fn new(event: Event, subject: &str, who: &str, on: DateRange, place: Span) -> Self {
        Self {
            on,
            at: None,
            event,
            subject: subject.to_owned(),
            who: who.to_owned(),
            role: String::new(),
            points: Vec::new(),
            fit: None,
            instrument: None,
            for_visit: false,
            for_good: false,
            another: false,
            snag: None,
            takes: None,
            by: None,
            zone: None,
            note: None,
            in_order: true,
            place,
        }
    }

    /// Whether the part is another in itself after it. Taken off and put back it is the same.
    pub(crate) fn changes_part(&self) -> bool {
        match self.event {
            Event::WorkDone | Event::Adjusted | Event::SnagCleared => true,
            Event::Refitted => self.another,
            Event::Removed
            | Event::Opened
            | Event::Closed
            | Event::Inspected
            | Event::Tested
            | Event::Measured
            | Event::SnagFound => false,
        }
    }

    /// Whether it certainly happened before another entry: on an earlier day,
    /// earlier the same day, or on an earlier line of the same file and day. In
    /// a file written from the latest day to the earliest, lines say nothing.
    #[must_use]
    pub fn before(&self, other: &Self) -> bool {
        if self.on.last < other.on.first {
            return true;
        }
        let one_day = self.on.first == self.on.last && self.on == other.on;
        if !one_day {
            return false;
        }
        match (self.at, other.at) {
            (Some(at), Some(then)) if at != then => at < then,
            (Some(_), Some(_)) | (None, None) => {
                let one_file = self.place.source == other.place.source;
                one_file && self.in_order && other.in_order && self.place.start < other.place.start
            }
            (Some(_), None) | (None, Some(_)) => false,
        }
    }
}
