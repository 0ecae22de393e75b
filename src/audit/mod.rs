//! Rules and a record to findings: evaluate, judge, explain.
//!
//! In: checked [`Rules`], one [`Record`], a day. Out: plain data. This room
//! reads no disk and no clock, and never sees the tree.

mod added;
mod build_finding;
mod confirmations;
mod explain;
mod finding;
mod index;
mod judge;
mod lapses;
mod notices;
mod request;
mod values;

pub(crate) use build_finding::{Standing, finding};
pub use finding::{
    AddedNeed, Audit, Cited, Clause, Conceded, Deferred, Finding, Held, Join, Lapse, Missing, Question, REMINDER,
    Reason, Seen, SetAside, Summary, Titles, Told,
};
pub use index::Index;
pub use judge::{Judge, Judged};
pub use request::{Request, audit, audit_in_brief};
