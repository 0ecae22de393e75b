//! A rules engine with a small checklist language, by which an amateur
//! aircraft builder audits a project before the authority's inspector visits.
//!
//! Packs of rules and what is recorded of one aircraft go in; findings come out,
//! each with its verdict, its reasons and its sources. Nothing is guessed: a fact
//! is a set of possible values, and what is not known leaves an item *not shown*.
//! Whatever a program records is read as it would be from a file of the
//! builder's, so it cannot be given a wrong fact by accident.
//!
//! ```
#![doc = include_str!("../tests/embed/shed.rs")]
//! ```
//!
//! | | holds |
//! |---|---|
//! | [`Pack`] | rules as text: from bytes, from a folder, or built in |
//! | [`Rules`] | packs checked together, and what they declare |
//! | [`Project`] | what is recorded of one aircraft |
//! | [`audit()`] | rules and record to an [`Audit`]: findings as data |
//! | [`Session`] | a project that stays judged: one change in, the findings that changed out |
//! | [`plan()`], [`Snapshot`] | what to do next; what changed since, and why |
//! | [`render`] | text and what other programs read |
//! | [`LoadError`], [`ValueError`] | [`Message`]s with places, and what to do |
//!
//! The local authority's inspector has the final say: every [`Audit`] says so in its `reminder`.
//!
//! # Features
//!
//! `packs` has the packs that come with it, `disk` reads folders, `command` is the command line. None is needed to audit.

#[cfg(feature = "command")]
#[doc(hidden)]
pub mod command;
mod surface;

pub use cotterpin_engine::audit::{
    AddedNeed, Ahead, Audit, Calibration, Changed, Cited, Clause, Conceded, ConfirmationOutcome, Deferred, EntryRef,
    EntryState, Finding, FindingKind, Held, Join, Lapse, LineKind, LogLine, Missing, MissingCause, MissingKind,
    NoDeferral, NoLeave, Note, Notice, NoticeSubject, Observed, ObservedValue, OtherEntries, OtherRecords, People,
    Planned, PlannedDay, Question, Reason, Remark, SetAside, Summary, Through, Titles, Waiting,
};
pub use cotterpin_engine::diagnostic::Severity;
pub use cotterpin_engine::ir::{Named, Pack as PackInfo};
pub use cotterpin_engine::quantity::Date;
pub use cotterpin_engine::source::{Place, SharedText};
pub use cotterpin_engine::vocabulary::{Basis, Mark, Verdict};
pub use surface::{
    Difference, Entry, FactView, ItemView, Job, Label, ListView, LoadError, Message, Options, Pack, Plan, Project,
    Rules, Session, Snapshot, Value, ValueError, audit, plan, render,
};

/// The samples of the README, run as documentation tests.
#[cfg(doctest)]
#[doc = include_str!("../README.md")]
struct Readme;
