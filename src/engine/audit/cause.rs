//! Why a finding is as it is, as data. The sentences stand in `report`.

use super::item_ref::ItemRef;
use crate::eval::ConfirmationOutcome;
use crate::ir::{Named, NotSetAside};
use crate::source::Place;
use crate::vocabulary::{Basis, Verdict};
use serde::{Deserialize, Serialize};

/// What kind of thing is missing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum MissingKind {
    /// A fact, or a field of a record.
    Fact,
    /// A list that the log keeps, or a field of it: nobody is asked for it.
    LogField,
    /// The records of a list.
    List,
    /// Somebody's word that a list is whole.
    Whole,
    /// A person's word.
    Confirmation,
    /// An entry of the log.
    LogEntry,
    /// A file of evidence.
    Evidence,
}

/// Why something missing is wanted.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum MissingCause {
    /// It is not recorded.
    NotRecorded,
    /// It is recorded, but too coarse to decide.
    TooCoarse(String),
    /// So many records are held against each other that it is not worked out: it would take more steps than this.
    TooManySteps(u64),
    /// The list has no records.
    NoRecords,
    /// Nobody has said whether the list is whole.
    NotSaidWhole,
    /// Somebody said so, but perhaps on a day still to come.
    WholePerhapsToCome,
    /// Somebody said so of other records.
    WholeOfOthers {
        /// Recorded, and not named.
        came: Vec<String>,
        /// Named, and not recorded.
        went: Vec<String>,
    },
    /// Somebody said so when the log had other entries.
    WholeOfOtherEntries {
        /// So many are named.
        said: usize,
        /// So many there are up to that day.
        now: usize,
    },
    /// Somebody said so before this entry.
    WholeBefore(EntryRef),
    /// Somebody said so of a part that is another since this entry, or may be.
    WholeUndone(EntryRef),
    /// It is recorded, and this entry has undone it since.
    Undone(EntryRef),
    /// It is recorded without a day, and this entry may have undone it.
    Undated(EntryRef),
    /// The part is off since this entry.
    Off(EntryRef),
    /// It was measured with this instrument, on a day that nobody wrote down.
    InstrumentWithoutDay(String),
    /// The log leaves it open.
    LogLeavesOpen,
    /// There is no recorded confirmation at all.
    NoConfirmation,
    /// No recorded confirmation settles it.
    NoneSettles,
    /// It is recorded, but perhaps for a day still to come.
    PerhapsToCome,
    /// Confirmations contradict each other, and none was certainly the last.
    Contradicting,
    /// Nobody knows whether this entry came after the confirmation.
    UnclearSince(EntryRef),
    /// What had been confirmed has lapsed.
    ConfirmationLapsed,
    /// There is no entry of the log.
    NoEntry,
    /// What the log had shown has lapsed.
    EntryLapsed,
    /// So many different people of as many as are asked.
    People {
        /// So many have.
        have: usize,
        /// So many are asked.
        asked: u32,
        /// What each of them has to note.
        points: Vec<String>,
    },
    /// The times of day of two entries would settle which came first.
    TimesOf(Vec<Place>, String),
    /// The days of entries would settle which came first.
    DaysOf(Vec<Place>),
    /// The day of an entry would settle whether it lies before the audit.
    DayBeforeAudit(Place),
    /// It rests on an instrument that is not known to have been in calibration.
    Calibration(Calibration),
    /// No such evidence is named.
    NoEvidence,
    /// Such evidence is named, but no such file is there.
    NoSuchFile(String),
    /// The project does not name that person.
    Nobody(String),
    /// Nothing of that kind has the name.
    NotKnown(Named, String),
    /// The confirmation as it stands, where that is what is asked.
    Confirmed,
    /// As a saved audit of the first form words it.
    Worded(String),
}

/// Until when an instrument is calibrated.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Calibration {
    /// The instrument.
    pub instrument: String,
    /// The last day; none if it is not recorded.
    pub until: Option<String>,
    /// The list that holds it.
    pub list: String,
}

/// An entry of the log in brief.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct EntryRef {
    /// What happened.
    pub event: String,
    /// The part.
    pub subject: String,
    /// The day.
    pub on: String,
    /// Where it is written.
    pub place: Place,
}

/// What a value that was looked at is.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ObservedValue {
    /// Nobody recorded it.
    NotRecorded,
    /// As it is written.
    Recorded(String),
    /// As it is written, and why it does not count.
    NoLonger(String, EntryState),
    /// So many records.
    Records(usize),
    /// Worked out.
    WorkedOut(String),
    /// Worked out, in no unit that has a name.
    WorkedOutWithoutUnit,
    /// It cannot be worked out yet.
    NotYet,
    /// An entry or a person's word of a day, and how it stands.
    Entry(String, EntryState),
}

/// How an entry of the log, or a person's word, stands.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum EntryState {
    /// It counts; these points are noted with it.
    Counts(Vec<String>),
    /// Nobody knows whether it came before or after this one.
    UnclearOrder(EntryRef),
    /// This entry has undone it since.
    Undone(EntryRef),
    /// It has no day, so this entry may have come after it.
    Undated(EntryRef),
    /// The part is off since this entry.
    Off(EntryRef),
    /// Nobody knows whether it lies before the audit date.
    UnclearBeforeAudit,
    /// It rests on an instrument that is not known to have been in calibration.
    Weak(Calibration),
    /// The project names nobody so.
    Nobody,
    /// No such file is there, or it is empty, or one of the project's own texts.
    NoFile,
    /// Nothing of that kind has the name.
    NotKnown(Named),
    /// The word is that it is so.
    ItIsSo,
    /// The word is that it is not so.
    ItIsNotSo,
}

/// What an expression and its values do not say.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Note {
    /// Judged for that day.
    JudgedFor(String),
    /// A month has no such day: its last day and the day after, of which either may be meant.
    EitherDay(String, String),
    /// The list is not recorded.
    ListNotRecorded(String),
    /// The list is recorded as empty, which proves nothing.
    ListEmpty(String),
    /// Nobody says that the list is whole.
    ListNotWhole(String),
    /// So many records of a list were looked at.
    LookedAt(u32, String),
    /// So many more records of a list came out alike.
    MoreRecords(usize, String),
    /// The title of the pattern.
    Pattern(String),
    /// So many different texts.
    DifferentTexts(usize),
    /// What people's words come to.
    Confirmation(ConfirmationOutcome),
    /// These have said or signed it, and are not somebody else, or nobody knows who they are.
    NotSomebodyElse(Vec<String>),
    /// Nothing in the log shows it for that part.
    NothingInLog(String),
    /// So many of as many different people as are asked.
    People(usize, u32),
    /// So many entries are no signature, made in these roles.
    NoSignature(usize, Vec<String>),
}

/// What is to be said of a finding besides its reasons.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Remark {
    /// It holds today, but not on a planned day.
    NotOnPlannedDay(Planned),
    /// Its verdict today, that on a planned day.
    OtherwiseOnPlannedDay(Verdict, Planned, Verdict),
    /// It was deferred to a test in flight, whose time is over.
    DeferralOver,
    /// What is recorded would meet it, but the evidence is not there.
    LacksEvidence,
    /// Unmet, if that list is whole: none recorded is of the kind asked for.
    UnmetIfWhole(String),
    /// Its hold point was planned for a day that has passed.
    HoldPointPassed(String),
    /// By whom leave was given, and why it does not count.
    LeaveDoesNotCount(String, NoLeave),
    /// A pack added a need.
    NeedAdded(String),
    /// The pack that wanted it away, its reason, and why it stays all the same.
    NotSetAside(String, String, NotSetAside),
    /// These parts went off with the one that was taken off.
    WentWithIt(Vec<String>),
    /// The aircraft is without what it is about, since this entry.
    GoneForGood(EntryRef),
    /// Another wording holds from that day.
    WordingFrom(String),
    /// The last wording held until that day.
    WordingUntil(String),
    /// Two wordings may be in force when it must be met; the worse verdict is told.
    EitherWording,
    /// No record is concerned.
    NoRecord,
    /// It does not apply because this fact, which nobody recorded, is taken as none until that day.
    NoneUntil(String, String),
}

/// A day to come on which what runs out must still hold.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Planned {
    /// What happens then.
    pub what: PlannedDay,
    /// The day.
    pub on: String,
}

/// What happens on a planned day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum PlannedDay {
    /// The visit.
    Visit,
    /// The first flight.
    FirstFlight,
}

/// Why a concession does not count.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum NoLeave {
    /// There is no such item.
    NoSuchItem,
    /// Nobody can concede the item.
    Forbidden,
    /// It is dated after the audit.
    DatedAfter(String),
    /// It ran out.
    RanOut(String),
    /// It runs out before the planned visit.
    RunsOut(String),
    /// What it was given for has been worked on since, by this entry.
    Undone(EntryRef),
    /// It was given to another wording of the item.
    OtherWording,
    /// Whoever gave it may give none over what is of that basis.
    MayNot(Basis),
    /// A builder gave it, over what binds the aircraft.
    ByBuilder,
}

/// Why a deferral does not count.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum NoDeferral {
    /// There is no such item.
    NoSuchItem,
    /// The item cannot wait for a flight.
    CannotWait,
    /// It is dated after the audit.
    DatedAfter,
    /// The item is not open, or contradicted by what is recorded.
    NotOpen,
    /// What it was given for has been worked on since, by this entry.
    Undone(EntryRef),
    /// It was given to another wording of the item.
    OtherWording,
}

/// How a confirmation that is dated after the audit, or may be, stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Ahead {
    /// It is after the audit.
    After,
    /// It may be.
    Perhaps,
    /// It may be, and says that it is not so.
    PerhapsNot,
}

/// Something recorded that does not count in an audit, and why.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Notice {
    /// A file of the project that was not read, and holds what no file that was read holds.
    FileNotRead(String),
    /// A fact or field whose value is written there and could not be read.
    ValueNotRead(String, Place),
    /// Packs that were compared with what they cite over a year before the audit, each with the day.
    ComparedLongAgo(Vec<(String, String)>),
    /// A concession that does not count.
    Concession(ItemRef, NoLeave),
    /// A concession that is not needed, or names no record.
    ConcessionNotNeeded(ItemRef),
    /// Of what and by whom: a confirmation that names no record.
    ConfirmationOfNoRecord(ItemRef, String),
    /// Of what and by whom: a confirmation that no item asks for.
    ConfirmationUnasked(String, String),
    /// Of what and by whom, of which day: a confirmation of a day to come.
    ConfirmationAhead(String, String, String, Ahead),
    /// Of what and by whom, of which day: a confirmation of another wording of the item.
    ConfirmationOfOtherWording(String, String, String),
    /// A deferral that does not count.
    Deferral(String, NoDeferral),
    /// An entry of the log about a part that is gone for good, by the entry that follows.
    LoggedOfGone(EntryRef, EntryRef),
    /// So many entries of the log are dated after the audit.
    LogAhead(usize),
    /// So many entries of the log are of a month or year that is not over.
    LogNotOver(usize),
    /// A file of evidence that is not there, and for what it is named.
    EvidenceNotThere(String, String),
    /// A fact that nobody recorded and that is taken as none until that day; so many findings do not apply for it.
    NoneUntil(String, String, usize),
}

/// A place made of another.
type PlaceOf = fn(&Place) -> Place;

/// What a line of a file says is the same wherever it stands.
fn nowhere(_: &Place) -> Place {
    Place::default()
}

impl Notice {
    /// Whether something that is recorded was not judged.
    #[must_use]
    pub fn is_of_something_not_judged(&self) -> bool {
        matches!(self, Self::FileNotRead(_) | Self::ValueNotRead(..))
    }
}

impl MissingCause {
    /// Whether two are the same, wherever in the files what they name is written.
    #[must_use]
    pub fn is_same(&self, other: &Self) -> bool {
        match (self, other) {
            // What a sentence says is not known, but that it is not the plainest cause.
            (Self::Worded(_), other) | (other, Self::Worded(_)) if !matches!(other, Self::Worded(_)) => {
                *other != Self::NotRecorded
            }
            _ => self.with_places(nowhere) == other.with_places(nowhere),
        }
    }

    /// The same, with other places.
    pub(crate) fn with_places(&self, of: PlaceOf) -> Self {
        let all = |places: &[Place]| places.iter().map(of).collect();
        match self {
            Self::UnclearSince(line) => Self::UnclearSince(line.with_place(of)),
            Self::WholeBefore(line) => Self::WholeBefore(line.with_place(of)),
            Self::WholeUndone(line) => Self::WholeUndone(line.with_place(of)),
            Self::Undone(line) => Self::Undone(line.with_place(of)),
            Self::Undated(line) => Self::Undated(line.with_place(of)),
            Self::Off(line) => Self::Off(line.with_place(of)),
            Self::TimesOf(places, on) => Self::TimesOf(all(places), on.clone()),
            Self::DaysOf(places) => Self::DaysOf(all(places)),
            Self::DayBeforeAudit(place) => Self::DayBeforeAudit(of(place)),
            other => other.clone(),
        }
    }
}

impl ObservedValue {
    /// Whether two are the same, wherever in the files what they name is written.
    #[must_use]
    pub fn is_same(&self, other: &Self) -> bool {
        match (self, other) {
            // The first form of a saved audit has the day and a sentence.
            (Self::Recorded(text), Self::Entry(on, _)) | (Self::Entry(on, _), Self::Recorded(text)) => {
                text.starts_with(on.as_str())
            }
            _ => self.with_places(nowhere) == other.with_places(nowhere),
        }
    }

    /// The same, with other places.
    pub(crate) fn with_places(&self, of: PlaceOf) -> Self {
        match self {
            Self::Entry(on, state) => Self::Entry(on.clone(), state.with_place(of)),
            Self::NoLonger(text, state) => Self::NoLonger(text.clone(), state.with_place(of)),
            other => other.clone(),
        }
    }
}

impl Remark {
    /// The same, with other places.
    pub(crate) fn with_places(&self, of: PlaceOf) -> Self {
        match self {
            Self::GoneForGood(by) => Self::GoneForGood(by.with_place(of)),
            Self::LeaveDoesNotCount(by, NoLeave::Undone(line)) => {
                Self::LeaveDoesNotCount(by.clone(), NoLeave::Undone(line.with_place(of)))
            }
            other => other.clone(),
        }
    }
}

impl EntryRef {
    fn with_place(&self, of: PlaceOf) -> Self {
        Self { place: of(&self.place), ..self.clone() }
    }
}

impl EntryState {
    fn with_place(&self, of: PlaceOf) -> Self {
        match self {
            Self::UnclearOrder(line) => Self::UnclearOrder(line.with_place(of)),
            Self::Undone(line) => Self::Undone(line.with_place(of)),
            Self::Undated(line) => Self::Undated(line.with_place(of)),
            Self::Off(line) => Self::Off(line.with_place(of)),
            Self::Counts(_)
            | Self::Nobody
            | Self::NoFile
            | Self::NotKnown(_)
            | Self::UnclearBeforeAudit
            | Self::Weak(_)
            | Self::ItIsSo
            | Self::ItIsNotSo => self.clone(),
        }
    }
}
