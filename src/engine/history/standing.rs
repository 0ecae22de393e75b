//! How each finding of an audit stands against one that was kept, for programs
//! that follow findings by their names.

use super::causes::Both;
use super::changes::{Class, changed, paired};
use super::saved::{Saved, SavedFinding};
use crate::audit::Audit;
use crate::vocabulary::Verdict;

/// How an audit stands against one that was kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Standing {
    /// The day of the audit that was kept, ISO 8601.
    pub since: String,
    /// The project of the audit that was kept, if it is another one by its name.
    pub of_another: Option<String>,
    /// The class of each finding of now, in the audit's order.
    pub classes: Vec<Class>,
    /// Findings of then that are there no more.
    pub gone: Vec<Gone>,
}

/// A finding of an audit that was kept, which is there no more.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Gone {
    /// The item: `us/marks.height`.
    pub item: String,
    /// The record it was about.
    pub subject: Option<String>,
    /// What is so when it is met.
    pub title: String,
    /// The hold point by which it had to be met.
    pub by: String,
    /// Open, it could end the visit.
    pub stops_the_visit: bool,
    /// What had become of it.
    pub was: Verdict,
}

/// How each finding stands: in the class in which [`super::compare`] has it.
#[must_use]
pub fn standing(was: &Saved, audit: &Audit) -> Standing {
    let now = Saved::whole(audit);
    let both = Both { was, now: &now };
    let (pairs, gone) = paired(was, &now);
    let class = |(finding, before): (&SavedFinding, Option<&SavedFinding>)| match before {
        None => Class::New,
        Some(before) => changed(both, before, finding).map_or(Class::Unchanged, |change| change.class),
    };
    Standing {
        since: was.on.clone(),
        of_another: other_project(was, audit),
        classes: pairs.into_iter().map(class).collect(),
        gone: gone.into_iter().map(of_then).collect(),
    }
}

/// The project of an audit that was kept, if that is not the one of now, by its name.
#[must_use]
pub fn other_project(was: &Saved, audit: &Audit) -> Option<String> {
    (was.project != audit.project).then(|| was.project.clone())
}

fn of_then(finding: &SavedFinding) -> Gone {
    Gone {
        item: finding.item.clone(),
        subject: finding.subject.clone(),
        title: finding.title.clone(),
        by: finding.by.clone(),
        stops_the_visit: finding.stops_the_visit,
        was: finding.verdict,
    }
}
