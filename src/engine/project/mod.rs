//! The builder's side: what is recorded of one aircraft. TOML in, never changed.

mod copies;
mod country;
mod dates;
mod deferral;
mod draft;
pub mod elsewhere;
pub mod encoding;
mod entry;
mod evidence;
mod file_pattern;
mod finished;
mod form;
pub mod freehand;
mod full_names;
mod header;
mod header_checks;
mod job;
mod job_subject;
pub mod keys;
mod known_names;
mod log;
mod log_checks;
mod named;
mod no_such_record;
mod persons;
mod plain_log;
mod planned;
mod quantity;
mod read;
mod read_before;
mod record_names;
mod rows;
mod snags;
mod statements;
pub mod taken;
mod text;
mod unread;
mod value;
mod walk;
pub mod whole;
mod words;

/// Entries that were taken back; no audit reads it.
pub const TAKEN_BACK: &str = "log/taken-back.txt";

use crate::ir::{FactId, FieldId, ListId, Named};
use crate::quantity::{Date, DateRange, ExactInterval, Unit};
use crate::source::{Sources, Span};
use std::collections::{BTreeMap, BTreeSet};
use std::num::NonZeroU32;

pub use crate::ir::Value;
pub use deferral::Deferral;
pub use draft::{Draft, NO_RECORD, Refused, Stands, whole_name};
pub use entry::{Entry, Fit};
pub use finished::together;
pub(crate) use full_names::{is_myself, is_nobody, one_name};
pub use full_names::{is_name, is_to_come};
pub use header::{Header, OwnPart, Person, read_header};
pub use job::{JOB, Job, OnOrder, jobs_of};
pub use job_subject::JobSubject;
pub(crate) use keys::header::VISIT;
pub(crate) use no_such_record::EQUIPMENT;
pub(crate) use persons::Persons;
pub(crate) use planned::FIRST_FLIGHT;
pub use read::{read, read_after};
pub use read_before::{Before, PlainLogs};
pub(crate) use record_names::record_name;
pub use record_names::record_names;
pub use record_names::said_records;
pub(crate) use rows::folded as folded_record;
pub(crate) use taken::LastDisturbed;
pub use taken::{Moment, Taken};
pub use text::FileText;
pub use whole::{SaidRecord, Whole, WholeLog, Word};
/// What the command asks of the reader before it writes.
pub use {
    evidence::{inside, kind_of as evidence_kind},
    header::{PROJECT, read_header_in_part},
    header_checks::may_stand_above,
    log::{event_named, length_of_time, lies_in_a_zone},
    plain_log::is_plain_log,
    quantity::{NotRead, read_quantity},
    snags::{Snag, snag_numbers, snags},
    text::too_deep,
    words::normal_word,
};

/// A value with where and how it was written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Recorded {
    /// What it means.
    pub value: Value,
    /// As the builder wrote it.
    pub text: String,
    /// The strict form it was read as, where that is not what was written.
    pub read_as: Option<String>,
    /// The unit it was written in.
    pub unit: Option<Unit>,
    /// When and with what it was taken, where that is said.
    pub taken: Option<Box<Taken>>,
    /// Where.
    pub place: Span,
}

impl Recorded {
    /// As the builder wrote it, with what it was read as where that says it in
    /// other words.
    #[must_use]
    pub fn told(&self) -> String {
        match &self.read_as {
            Some(strict) => format!("{}, read as {strict}", self.text),
            None => self.text.clone(),
        }
    }
}

/// One record of a list; a field not written is `None`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// Values in the order of the list's fields.
    pub fields: Vec<Option<Recorded>>,
    /// For how many things alike it stands.
    pub how_many: NonZeroU32,
    /// The part it is of, where it names its own.
    pub part: Option<String>,
    /// Where it begins.
    pub place: Span,
}

impl Row {
    /// The value of a field, if it is written.
    #[must_use]
    pub fn field(&self, id: FieldId) -> Option<&Recorded> {
        self.fields.get(id.index()).and_then(Option::as_ref)
    }
}

/// A recorded list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rows {
    /// The records, in the order written.
    pub rows: Vec<Row>,
    /// Where it begins.
    pub place: Span,
}

/// A piece of evidence.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Evidence {
    /// The dotted name it belongs to; for a record `list.name[record]`.
    pub subject: String,
    /// Its kind's name.
    pub kind: String,
    /// The file as written; the pattern if none was found.
    pub file: String,
    /// Whether the file is there.
    pub found: bool,
    /// When it was made, where that is said.
    pub dated: Option<Moment>,
    /// Where it is written.
    pub place: Span,
}

/// A person's word about an item.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Confirmation {
    /// The item, with or without its pack's name.
    pub item: String,
    /// The record it is about.
    pub subject: Option<String>,
    /// Who.
    pub who: String,
    /// In what role.
    pub role: String,
    /// When.
    pub on: DateRange,
    /// The time of day in seconds, where it was written.
    pub at: Option<u32>,
    /// Whether it is so.
    pub holds: bool,
    /// A remark.
    pub note: Option<String>,
    /// The first day of the wording it was given to, where it says that.
    pub wording: Option<Date>,
    /// Where it is written.
    pub place: Span,
}

/// Leave to use what does not conform (ISO 9000).
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Concession {
    /// The item, with or without its pack's name.
    pub item: String,
    /// The record it is about.
    pub subject: Option<String>,
    /// Why.
    pub reason: String,
    /// Who granted it.
    pub granted_by: String,
    /// In what role.
    pub role: String,
    /// When.
    pub on: DateRange,
    /// Until when.
    pub until: DateRange,
    /// The first day of the wording it was given to, where it says that.
    pub wording: Option<Date>,
    /// Where it is written.
    pub place: Span,
}

/// Everything recorded of one aircraft.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Record {
    /// The texts that all places of the record point into, those of the packs before its own.
    pub sources: Sources,
    /// Facts.
    pub facts: BTreeMap<FactId, Recorded>,
    /// Lists.
    pub lists: BTreeMap<ListId, Rows>,
    /// The words that lists are whole.
    pub whole: BTreeMap<ListId, Whole>,
    /// The word that the log is.
    pub whole_log: Option<WholeLog>,
    /// Evidence.
    pub evidence: Vec<Evidence>,
    /// Files, parts, zones and instruments that facts name, and that are not there or show nothing.
    pub unknown_names: BTreeSet<(Named, String)>,
    /// Files that hold what no file that was read holds, and were not read.
    pub not_read: Vec<String>,
    /// The facts and fields whose value is written and could not be read, and where. They are not recorded.
    pub not_taken_in: Vec<(String, Span)>,
    /// Confirmations.
    pub confirmations: Vec<Confirmation>,
    /// Concessions.
    pub concessions: Vec<Concession>,
    /// Items deferred to test flying.
    pub deferrals: Vec<Deferral>,
    /// The log, in the order of its lines within each file.
    pub log: Vec<Entry>,
    /// The people of the project, by the short name the log uses.
    pub people: BTreeMap<String, Person>,
    /// The builder's own parts, below those the packs declare.
    pub parts: BTreeMap<String, OwnPart>,
    /// What the builder says of jobs.
    pub jobs: Vec<Job>,
    /// Planned days on which zones are closed, by zone.
    pub closing: BTreeMap<String, Date>,
    /// The planned visit.
    pub visit: Option<DateRange>,
    /// Planned days of hold points, by name.
    pub planned: BTreeMap<String, Date>,
    /// Working time on an ordinary day, in seconds.
    pub a_day: Option<ExactInterval>,
}

impl Record {
    /// Keeps in mind that something is written of a fact or field, and could not be read.
    fn not_taken_in(&mut self, name: &str, at: Span) {
        self.not_taken_in.push((name.to_owned(), at));
    }

    /// The same fact, or list, is recorded anew, or not at all.
    fn forget_not_taken_in(&mut self, name: &str) {
        let is_field = |known: &str| known.strip_prefix(name).is_some_and(|rest| rest.starts_with('['));
        self.not_taken_in.retain(|(known, _)| known != name && !is_field(known));
    }
}
