//! Findings to text and to what other programs read.

use super::plan::Plan;
use super::project::Project;
use super::snapshot::Snapshot;
use cotterpin_engine::audit::{Audit, Finding};
use cotterpin_engine::history;
use cotterpin_engine::report::{self, StandIns};

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

/// The report as SARIF 2.1.0 (OASIS). With an audit that was kept, every result says
/// whether it is new, unchanged, updated or absent since.
#[must_use]
pub fn sarif(audit: &Audit, since: Option<&Snapshot>) -> String {
    let standing = since.map(|kept| history::standing(&kept.0, audit));
    report::sarif(audit, standing.as_ref())
}

/// The report as JUnit XML, in which what is not shown is an error.
#[must_use]
pub fn junit(audit: &Audit) -> String {
    report::junit(audit)
}

/// The report as a table, a row for each finding (RFC 4180).
#[must_use]
pub fn csv(audit: &Audit) -> String {
    report::csv(audit)
}

/// The audit of a project with stand-ins for people, serial numbers, registrations and
/// addresses, the same for the same throughout.
///
/// ```
/// use cotterpin::{Options, Pack, Project, Rules, audit, render};
///
/// let rules = Rules::new(Pack::built_in(&["paper-identity"])?)?;
/// let mut project = Project::new("the N00XY", &rules);
/// project.set("registration.mark", "N00XY")?;
/// let report = render::redacted(&audit(&project, &Options::on("2026-11-25")?)?, &project);
/// assert_eq!(report.project, "the registration 1");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[must_use]
pub fn redacted(audit: &Audit, project: &Project) -> Audit {
    let mut audit = audit.clone();
    StandIns::of(&project.rules.checked, project.draft.record()).put_into(&mut audit);
    audit
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
