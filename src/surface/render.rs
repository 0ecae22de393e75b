//! Findings to text and to what other programs read.

use super::snapshot::Snapshot;
use cotterpin_engine::audit::{Audit, Finding};
use cotterpin_engine::history;
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

/// An open standard in which other programs read findings.
#[derive(Debug, Clone, Copy)]
#[non_exhaustive]
pub enum Exchange<'a> {
    /// SARIF 2.1.0 (OASIS), for programs that show what others found.
    Sarif {
        /// An audit that was kept: every result then says whether it is new, unchanged, updated or absent since.
        since: Option<&'a Snapshot>,
    },
    /// JUnit XML, for programs that show how tests came out. What is not shown is an error there.
    Junit,
    /// A table with a row for each finding (RFC 4180).
    Csv,
}

/// The report by an open standard. Every finding is in each of them, under the same name.
///
/// ```
/// use cotterpin::render::{Exchange, exchange};
/// use cotterpin::{Options, Pack, Project, Rules, audit};
///
/// let rules = Rules::new(Pack::built_in(&["paper-identity"])?)?;
/// let mut project = Project::new("the N00XY", &rules);
/// project.set("registration.mark", "N00XY")?;
/// let report = audit(&project, &Options::on("2026-11-25")?)?;
/// let table = exchange(&report, Exchange::Csv);
/// assert!(table.lines().count() > report.findings.len() && table.contains("the N00XY"));
/// // To be shown to strangers.
/// assert_eq!(project.redacted(&report).project, "the registration 1");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[must_use]
pub fn exchange(audit: &Audit, by: Exchange<'_>) -> String {
    match by {
        Exchange::Sarif { since } => {
            let standing = since.map(|kept| history::standing(&kept.0, audit));
            report::sarif(audit, standing.as_ref())
        }
        Exchange::Junit => report::junit(audit),
        Exchange::Csv => report::csv(audit),
    }
}

/// The whole reasoning of some findings of an audit.
#[must_use]
pub fn why(audit: &Audit, findings: &[&Finding], width: usize) -> String {
    report::why(audit, findings, width)
}
