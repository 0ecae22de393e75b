//! Findings to text and to what other programs read.

use cotterpin_engine::audit::{Audit, Finding};
use cotterpin_engine::report::{self, Message};

/// The report for a person, in lines no longer than `width`.
#[must_use]
pub fn text(audit: &Audit, width: usize) -> String {
    report::text(audit, width)
}

/// The report for a program, by the schema `audit`, with what was said of the project and its packs.
#[must_use]
pub fn json(audit: &Audit, messages: &[Message]) -> String {
    report::audit_json(audit, messages)
}

/// The whole reasoning of some findings of an audit.
#[must_use]
pub fn why(audit: &Audit, findings: &[&Finding], width: usize) -> String {
    report::why(audit, findings, width)
}
