//! Worked examples: what a pack's author gives, and what it must come to.
//! They are checked here and run by whoever can evaluate.

use super::{ChoiceSet, FactId, ListId};
use crate::quantity::{Date, DateRange, ExactInterval, Unit};
use crate::source::{SharedText, Span};
use crate::vocabulary::{Event, Verdict};
use std::collections::BTreeMap;
use std::num::NonZeroU32;

/// A set of possible values of one fact.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Value {
    /// The possible words of a choice, or of no and yes.
    Words(ChoiceSet),
    /// One text.
    Text(String),
    /// A number, a quantity in its base, or a date in days.
    Number(ExactInterval),
    /// Known to be absent.
    Absent,
}

/// A worked example of an item.
#[derive(Debug, Clone)]
pub struct Example {
    /// Its name.
    pub name: SharedText,
    /// What is given.
    pub given: Given,
    /// The audit date, if it says one.
    pub on: Option<Date>,
    /// What it must come to.
    pub expect: Verdict,
    /// Where it stands.
    pub place: Span,
}

/// What a worked example gives.
#[derive(Debug, Clone, Default)]
pub struct Given {
    /// Facts.
    pub facts: BTreeMap<FactId, GivenValue>,
    /// Lists.
    pub lists: BTreeMap<ListId, GivenList>,
    /// Lines of the log, in the order written.
    pub log: Vec<GivenEntry>,
    /// Words of people about the item.
    pub words: Vec<GivenWord>,
    /// Evidence that is there.
    pub evidence: Vec<GivenEvidence>,
    /// People, each with a role.
    pub people: Vec<(SharedText, SharedText)>,
    /// The planned visit.
    pub visit: Option<DateRange>,
}

/// A given value of a fact or field.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GivenValue {
    /// What it means.
    pub value: Value,
    /// The unit it was written in.
    pub unit: Option<Unit>,
    /// The day it is of.
    pub on: Option<DateRange>,
    /// The instrument it was measured with.
    pub instrument: Option<SharedText>,
    /// Where it is written.
    pub place: Span,
}

/// A given list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GivenList {
    /// The records: values in the order of the list's fields, `None` for a field not given.
    pub records: Vec<Vec<Option<GivenValue>>>,
    /// For how many things alike each of them stands.
    pub how_many: Vec<NonZeroU32>,
    /// The part that each of them is of, where it names its own.
    pub parts: Vec<Option<SharedText>>,
    /// Whether these are all.
    pub whole: bool,
    /// Where it is written.
    pub place: Span,
}

/// A given line of the log.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GivenEntry {
    /// What happened.
    pub event: Event,
    /// The part, or the zone that was opened or closed.
    pub subject: SharedText,
    /// Who; `None` for somebody.
    pub who: Option<SharedText>,
    /// In what role.
    pub role: SharedText,
    /// When.
    pub on: DateRange,
    /// The instrument used.
    pub instrument: Option<SharedText>,
    /// Removed for good.
    pub for_good: bool,
    /// Refitted with another in its place.
    pub another: bool,
    /// What was looked at.
    pub points: Vec<SharedText>,
    /// Where it is written.
    pub place: Span,
}

/// A given word of a person about the item, or about each of the records it is raised for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GivenWord {
    /// Whether it is so.
    pub holds: bool,
    /// In what role.
    pub role: SharedText,
    /// When; long ago where the example does not say.
    pub on: DateRange,
    /// Where it is written.
    pub place: Span,
}

/// Given evidence.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GivenEvidence {
    /// Its kind's name.
    pub kind: SharedText,
    /// The fact, list or part it is of.
    pub subject: SharedText,
    /// Whether the subject is the item's own name for a record, so that the evidence is of each of them.
    pub per_record: bool,
    /// Where it is written.
    pub place: Span,
}
