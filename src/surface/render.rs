//! Findings to text and to what other programs read.

use super::plan::Plan;
use cotterpin_engine::audit::{Audit, Finding};
use cotterpin_engine::report;

/// The report for a person, in lines no longer than `width`.
#[must_use]
pub fn text(audit: &Audit, width: usize) -> String {
    report::text(audit, width)
}

/// The report for a program, by the schema of audits.
#[must_use]
pub fn json(audit: &Audit) -> String {
    report::json(audit)
}

/// The whole reasoning of some findings of an audit.
#[must_use]
pub fn why(audit: &Audit, findings: &[&Finding], width: usize) -> String {
    report::why(audit, findings, width)
}

/// What to do next, for a person.
#[must_use]
pub fn plan_text(plan: &Plan, width: usize) -> String {
    report::next_text(&plan.0, width)
}

/// What to do next, for a program.
#[must_use]
pub fn plan_json(plan: &Plan) -> String {
    report::next_json(&plan.0)
}
