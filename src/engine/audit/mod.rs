//! Rules and a record to findings: evaluate, judge, explain.
//!
//! In: checked [`Rules`], one [`Record`], a day. Out: plain data. This room
//! reads no disk and no clock, and never sees the tree.

mod added;
mod build_finding;
mod cause;
mod confirmations;
mod either_day;
mod evidence;
mod explain;
mod finding;
mod index;
mod item_states;
mod judge;
mod leave;
mod missing;
mod notices;
mod off;
mod proof;
mod request;
mod standing;
mod titles;
mod typed;
mod undone;
mod values;
mod what_counts;
mod whole_lists;
mod wording;

pub use crate::eval::ConfirmationOutcome;
pub use crate::lapse::Through;
pub(crate) use build_finding::{DueAndZone, HowMuch, finding};
pub use cause::{
    Ahead, Calibration, EntryRef, EntryState, MissingCause, MissingKind, NoDeferral, NoLeave, Note, Notice,
    NoticeSubject, ObservedValue, OtherEntries, OtherRecords, People, Planned, PlannedDay, Remark,
};
pub(crate) use finding::reminder;
pub use finding::{
    AddedNeed, Audit, Cited, Clause, Conceded, Deferred, Finding, FindingKind, Held, Join, Lapse, LineKind, LogLine,
    Missing, Observed, Question, REMINDER, Reason, SetAside, Summary, Titles, Waiting,
};
pub use index::Index;
pub use judge::{Judge, Judged};
pub use off::REMOVED;
pub use request::{Request, audit, audit_in_brief};
pub use standing::{Changed, Reach, Readers, Standing};
pub use typed::{ExactNumber, TypedValue};
