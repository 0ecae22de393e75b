//! An audit made small, and what has changed since.

use super::message::LoadError;
use cotterpin_engine::audit::Audit;
use cotterpin_engine::history::{self, Changes, Saved};
use cotterpin_engine::report::of_another;
use cotterpin_engine::vocabulary::Verdict;

/// What a later comparison needs of an audit, and nothing else.
///
/// ```
/// use cotterpin::{Options, Pack, Project, Rules, Snapshot, audit};
///
/// let rules = Rules::new(Pack::built_in(&["workmanship"])?)?;
/// let mut project = Project::new("shed", &rules);
/// let options = Options::on("2026-11-25")?;
/// let kept = Snapshot::of(&audit(&project, &options)?).to_json();
/// project.set("elt.present", true)?;
/// let since = Snapshot::from_json(&kept)?.diff(&audit(&project, &options)?);
/// assert!(since.iter().all(|change| change.was != change.now || change.class == "other-values"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Snapshot(pub(super) Saved);

/// One finding that is not what it was.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub struct Difference {
    /// Which way it went: `worse`, `better`, `otherwise`, `new`, `gone`, `other-values`.
    pub class: &'static str,
    /// The item: `us/marks.height`.
    pub item: String,
    /// The record it is about.
    pub subject: Option<String>,
    /// What is so when it is met.
    pub title: String,
    /// The verdict then; none if there was no such finding.
    pub was: Option<Verdict>,
    /// The verdict now; none if there is no such finding any more.
    pub now: Option<Verdict>,
}

impl Snapshot {
    /// Makes an audit small.
    #[must_use]
    pub fn of(audit: &Audit) -> Self {
        Self(Saved::of(audit))
    }

    /// Reads what [`to_json`](Self::to_json) wrote, by this version or an earlier one.
    ///
    /// # Errors
    /// It is no such text, or a later version wrote it.
    pub fn from_json(text: &str) -> Result<Self, LoadError> {
        Saved::read("snapshot", text.as_bytes()).map(Self).map_err(|message| LoadError::one(&message))
    }

    /// As a file keeps it.
    #[must_use]
    pub fn to_json(&self) -> String {
        self.0.to_text()
    }

    /// What is to be said of a comparison: that the audit is of another project, by its name.
    #[must_use]
    pub fn notices(&self, now: &Audit) -> Vec<String> {
        history::other_project(&self.0, now).iter().map(|other| of_another(other)).collect()
    }

    /// What is not as it was.
    #[must_use]
    pub fn diff(&self, now: &Audit) -> Vec<Difference> {
        let changes: Changes = history::compare(&self.0, now);
        let told = changes.findings.iter().map(|change| Difference {
            class: change.class.word(),
            item: change.item.clone(),
            subject: change.subject.clone(),
            title: change.title.clone(),
            was: change.was,
            now: change.now,
        });
        told.collect()
    }
}
