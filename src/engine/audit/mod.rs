//! Rules and a record to findings: evaluate, judge, explain.
//!
//! In: checked [`Rules`], one [`Record`], a day. Out: plain data. This room
//! reads no disk and no clock, and never sees the tree.

mod added;
mod applies;
mod audited;
mod behind;
mod build_finding;
mod cause;
mod confirmations;
mod deciding;
mod either_day;
mod evidence;
mod explain;
mod finding;
mod index;
mod item_ref;
mod item_states;
mod judge;
mod leave;
mod missing;
mod next_hold_point;
mod none_until;
mod notices;
mod off;
mod part_history;
mod proof;
mod request;
mod shortfall;
mod standing;
mod titles;
mod typed;
mod undone;
mod units;
mod values;
mod wants;
mod what_counts;
mod whole_lists;
mod wording;

pub use crate::eval::ConfirmationOutcome;
pub use crate::lapse::{Through, removal_of};
pub(crate) use audited::reminder;
pub use audited::{Audit, Later, Question, REMINDER, Summary, Titles};
pub use behind::Behind;
pub(crate) use build_finding::{DueAndZone, HowMuch, finding};
pub use cause::{
    Ahead, Calibration, EntryRef, EntryState, MissingCause, MissingKind, NoDeferral, NoLeave, Note, Notice,
    ObservedValue, Planned, PlannedDay, Remark,
};
pub use finding::{
    AddedNeed, Cited, Clause, Conceded, Deferred, Finding, FindingKind, Held, Join, Lapse, LineKind, LogLine, Missing,
    Observed, Reason, SetAside,
};
pub use index::Index;
pub use item_ref::ItemRef;
pub use judge::{Judge, Judged};
pub use next_hold_point::next_hold_point;
pub use off::REMOVED;
pub use part_history::{PartEvent, PartEventKind, PartHistory, PartStanding};
pub use request::{Request, audit, audit_in_brief, audit_in_outline, findings_of};
pub use shortfall::{Shortfall, last_work_on_fact, last_work_on_field, shortfalls};
pub use standing::{Changed, Reach, Readers, Standing};
pub use typed::{ExactNumber, TypedValue};
pub use wants::{Unanswered, Wants};
