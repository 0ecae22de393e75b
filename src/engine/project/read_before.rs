//! What of a record stays as it was read when a few of its files have changed: the
//! entries of every log that is plainly written, of which nothing was to be said.
//!
//! What an entry says hangs on its text, on the packs, on `project.toml` and on
//! which files there are: as long as those are the same, it says the same.

use super::{Entry, Evidence, Record};
use crate::source::SourceId;
use std::collections::BTreeMap;

/// The logs of a record that can be taken over, by the names of their files.
#[derive(Debug, Clone, Default)]
pub struct PlainLogs(BTreeMap<String, SourceId>);

impl PlainLogs {
    pub(super) fn add(&mut self, name: &str, source: SourceId) {
        self.0.insert(name.to_owned(), source);
    }

    pub(super) fn remove(&mut self, name: &str) -> Option<SourceId> {
        self.0.remove(name)
    }

    /// Leaves those whose files are as they were.
    pub fn retain(&mut self, is_as_it_was: impl Fn(&str) -> bool) {
        self.0.retain(|name, _| is_as_it_was(name));
    }
}

/// A record that was read before, against the same packs and `project.toml` and among the same files of evidence.
#[derive(Debug, Default)]
pub struct Before {
    /// What was read.
    pub record: Record,
    /// The logs of it whose files have not changed.
    pub logs: PlainLogs,
}

/// The logs that are taken over: what their texts are now, by what they were.
#[derive(Debug, Default)]
pub(super) struct TakenOver(BTreeMap<SourceId, SourceId>);

impl TakenOver {
    pub(super) fn add(&mut self, before: SourceId, now: SourceId) {
        self.0.insert(before, now);
    }

    /// Puts what `before` has of them where it would stand if it had been read.
    pub(super) fn put_into(self, record: &mut Record, before: Record) {
        if self.0.is_empty() {
            return;
        }
        let now = |source: &mut SourceId| {
            let known = self.0.get(source);
            known.map(|now| *source = *now).is_some()
        };
        let Record { mut log, mut evidence, .. } = before;
        log.retain_mut(|Entry { place, .. }| now(&mut place.source));
        evidence.retain_mut(|Evidence { place, dated, .. }| {
            dated.iter_mut().for_each(|dated| {
                dated.place.source = self.0.get(&dated.place.source).copied().unwrap_or(dated.place.source);
            });
            now(&mut place.source)
        });
        log.append(&mut record.log);
        // As they are read, file by file.
        log.sort_by_key(|entry| entry.place.source);
        record.log = log;
        record.evidence.append(&mut evidence);
    }
}
