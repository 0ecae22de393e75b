//! What an open finding wants first: work, or only that somebody says or writes something.

use super::cause::{MissingCause, MissingKind};
use super::finding::{Finding, FindingKind, Missing};
use crate::vocabulary::Verdict;
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;

/// Seconds that an answer took people who tried it: 40 answers in 20 to 25 minutes.
const AN_ANSWER: usize = 35;

/// What an open finding wants first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
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

/// What only waits for somebody to say it.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Unanswered {
    /// So many questions.
    pub questions: usize,
    /// So many words of people.
    pub words: usize,
    /// So many lists that nobody has called whole.
    pub lists: usize,
    /// About so many minutes the answers will take.
    pub minutes: usize,
}

impl Unanswered {
    /// What open findings wait for in this way; a question that several wait for is one.
    pub fn of<'f>(open: impl IntoIterator<Item = &'f Finding>) -> Self {
        let (mut asked, mut words, mut lists) = (BTreeSet::new(), 0usize, 0usize);
        for finding in open {
            match finding.wants() {
                Wants::Answer => asked.extend(finding.missing.iter().filter(|one| is_asked(one)).map(|one| &one.fact)),
                Wants::Word => words = words.saturating_add(1),
                Wants::WholeList => lists = lists.saturating_add(1),
                Wants::Work | Wants::Entry => {}
            }
        }
        let answers = asked.len().saturating_add(words).saturating_add(lists);
        Self { questions: asked.len(), words, lists, minutes: answers.saturating_mul(AN_ANSWER).div_ceil(60) }
    }
}

fn is_asked(missing: &Missing) -> bool {
    matches!(missing.kind, MissingKind::Fact | MissingKind::List)
}
