//! What an open finding wants first: work, or only that somebody says or writes something.

use super::cause::{MissingCause, MissingKind};
use super::finding::{Finding, FindingKind, Missing};
use crate::vocabulary::Verdict;

/// What an open finding wants first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Wants {
    /// Work on the aircraft or its papers: it is contradicted, was undone, or what is recorded does not do.
    Work,
    /// An inspection or a test that the log does not tell of.
    Entry,
    /// A person's word that nobody has given yet.
    Word,
    /// An answer that nobody has given yet.
    Answer,
    /// Somebody's word that a list is whole.
    WholeList,
}

impl Finding {
    /// What it wants first. A finding that is settled wants nothing, and is told as work.
    #[must_use]
    pub fn wants(&self) -> Wants {
        let new = |missing: &Missing| {
            use MissingCause::{NoConfirmation, NoEntry, NoRecords, NotRecorded, NotSaidWhole};
            let no_entry = matches!(missing.why, NoEntry | MissingCause::People { .. });
            no_entry || matches!(missing.why, NotRecorded | NoRecords | NotSaidWhole | NoConfirmation)
        };
        let any = |kind| self.missing.iter().any(|missing| missing.kind == kind);
        let lapsed = self.lapses().next().is_some();
        if self.verdict == Verdict::NotShown && self.kind == FindingKind::WholeList {
            return Wants::WholeList;
        }
        if self.verdict != Verdict::NotShown || lapsed || self.missing.is_empty() || !self.missing.iter().all(new) {
            return Wants::Work;
        }
        if any(MissingKind::Fact) || any(MissingKind::List) || any(MissingKind::Whole) {
            Wants::Answer
        } else if any(MissingKind::Confirmation) {
            Wants::Word
        } else if any(MissingKind::LogEntry) {
            Wants::Entry
        } else {
            Wants::Work
        }
    }
}
