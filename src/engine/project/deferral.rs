//! An item deferred to test flying: `[[deferred]]`.

use crate::quantity::{Date, DateRange};
use crate::source::Span;

/// Leave to show something later, by a test in flight.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Deferral {
    /// The item, with or without its pack's name.
    pub item: String,
    /// The record it is about.
    pub subject: Option<String>,
    /// Why it cannot be shown before.
    pub reason: String,
    /// What must be kept to until then.
    pub limit: String,
    /// The test that will show it.
    pub test: String,
    /// Who deferred it.
    pub who: String,
    /// When.
    pub on: DateRange,
    /// The hold point by which the test must have shown it.
    pub by: String,
    /// What the test gave.
    pub result: Option<String>,
    /// The first day of the wording it was given to, where it says that.
    pub wording: Option<Date>,
    /// Where it is written.
    pub place: Span,
}
