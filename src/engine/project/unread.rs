//! What stands in entries that could not be read. Each has a message of its
//! own; that nothing has its name would only follow from it.

use super::form::Form;
use super::job_subject::JobSubject;
use super::keys::log::{SNAG, WHAT};
use super::value::snag_number;
use std::collections::BTreeSet;
use toml::de::DeTable;

/// Snags and jobs of the builder's own in entries that could not be read.
#[derive(Debug, Clone, Default)]
pub(super) struct Unread {
    named: BTreeSet<JobSubject>,
    /// Some number of a snag could not be read either.
    some_snag: bool,
    /// Some name of a job could not be read either.
    some_job: bool,
}

impl Unread {
    /// A file that is not sound TOML: it may have held anything.
    pub(super) fn file(&mut self) {
        (self.some_snag, self.some_job) = (true, true);
    }

    /// What stands in others.
    pub(super) fn join(&mut self, others: Self) {
        self.named.extend(others.named);
        self.some_snag |= others.some_snag;
        self.some_job |= others.some_job;
    }

    /// An entry of the log.
    pub(super) fn entry(&mut self, form: &Form<'_>) {
        match form.find(SNAG).map(|written| snag_number(written.get_ref())) {
            Some(Some(number)) => {
                self.named.insert(JobSubject::Snag(number));
            }
            Some(None) => self.some_snag = true,
            None => {
                let what = form.find(WHAT).and_then(|what| what.get_ref().as_str());
                self.some_snag |= what.is_none_or(|what| what.trim().to_lowercase().starts_with("snag"));
            }
        }
    }

    /// A `[[job]]`.
    pub(super) fn job(&mut self, table: &DeTable<'_>) {
        match table.get("about").and_then(|about| about.get_ref().as_str()) {
            Some(about) => {
                self.named.insert(JobSubject::parse(about));
            }
            None => self.some_job = true,
        }
    }

    /// Whether it may stand in an entry that could not be read.
    pub(super) fn may_hold(&self, about: &JobSubject) -> bool {
        match about {
            JobSubject::Snag(_) if self.some_snag => true,
            JobSubject::Own(_) if self.some_job => true,
            _ => self.named.contains(about),
        }
    }
}
