//! Rules and a record to findings: evaluate, judge, explain.
//!
//! In: checked [`Rules`], one [`Record`], a day. Out: plain data. This room
//! reads no disk and no clock, and never sees the tree.

mod added;
mod change;
mod columns;
mod conditions;
mod disturb;
mod evaluate;
mod explain;
mod facts;
mod finding;
mod heard;
mod judge;
mod kept;
mod lapse;
mod mean;
mod notices;
mod number;
mod project;
mod quick;
mod seen;
mod shown;
pub mod since;
mod smallest;
mod spoken;
mod tell;
mod wanting;

pub use change::Index;
pub(crate) use disturb::zone_of_entry;
pub use evaluate::Evaluation;
pub use facts::Facts;
pub use finding::{
    AddedNeed, Audit, Cited, Conceded, Deferred, Finding, Held, Lapse, Missing, Question, REMINDER, Reason, Seen,
    SetAside, Summary, Titles, Told,
};
pub use judge::{Judge, Judged};
pub(crate) use tell::{Standing, finding};
pub use project::{Request, audit, audit_in_brief};

