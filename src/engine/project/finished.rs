//! What only all of a record together tells: snags, copies, names that nothing has.

use super::copies;
use super::evidence::Files;
use super::header::Header;
use super::job;
use super::log_checks;
use super::named;
use super::no_such_record;
use super::unread::Unread;
use super::whole;
use super::{Concession, Confirmation, Record};
use crate::diagnostic::{Diagnostic, settle};
use crate::ir::Rules;
use crate::quantity::DateRange;

/// What is said while a record is gathered, and of all of it together.
#[must_use]
pub fn together(mut gathered: Vec<Diagnostic>, of_all: Vec<Diagnostic>) -> Vec<Diagnostic> {
    // That entries are gone may only follow from what could not be read.
    let follows = gathered.iter().any(Diagnostic::stops);
    gathered.extend(of_all.into_iter().filter(|message| !follows || message.code != "whole::entries-gone"));
    settle(&mut gathered);
    gathered
}

/// A record with what only all of it together tells.
pub(super) struct Finished {
    pub(super) record: Record,
    /// What is to be said of that.
    pub(super) messages: Vec<Diagnostic>,
    /// Whether every entry and every piece of evidence that was gathered is still there.
    pub(super) all_there: bool,
}

/// What only all of a record together tells.
pub(super) fn finish(
    mut record: Record,
    paths: &[String],
    header: &Header,
    rules: &Rules,
    unread: &Unread,
) -> Finished {
    let gathered = (record.log.len(), record.evidence.len());
    record.unknown_names = named::unknown(rules, &record, &Files::new(rules, paths));
    record.visit.clone_from(&header.visit);
    record.a_day.clone_from(&header.a_day);
    let mut messages = job::check(rules, &record, unread);
    messages.extend(no_such_record::check(rules, &record));
    in_order(&mut record);
    let twice = copies::once(&mut record.log);
    let some_twice = !twice.is_empty();
    messages.extend(twice);
    messages.extend(log_checks::check(&mut record.log, unread));
    messages.extend(whole::entries_gone(&record, some_twice).filter(|_| !messages.iter().any(Diagnostic::is_error)));
    settle(&mut messages);
    let all_there = (record.log.len(), record.evidence.len()) == gathered;
    Finished { record, messages, all_there }
}

/// The same record whatever the order in which entries were written.
fn in_order(record: &mut Record) {
    record
        .evidence
        .sort_by(|a, b| (&a.subject, &a.kind, &a.file, a.place).cmp(&(&b.subject, &b.kind, &b.file, b.place)));
    record.evidence.dedup_by(|a, b| (&a.subject, &a.kind, &a.file, a.dated) == (&b.subject, &b.kind, &b.file, b.dated));
    record.confirmations.sort_by(|a, b| confirmation(a).cmp(&confirmation(b)));
    record.concessions.sort_by(|a, b| concession(a).cmp(&concession(b)));
}

type Order<'a> = (&'a str, Option<&'a str>, (i32, i32), &'a str, crate::source::Span);

fn days(range: DateRange) -> (i32, i32) {
    (range.first.days(), range.last.days())
}

fn confirmation(c: &Confirmation) -> Order<'_> {
    (&c.item, c.subject.as_deref(), days(c.on), &c.who, c.place)
}

fn concession(c: &Concession) -> Order<'_> {
    (&c.item, c.subject.as_deref(), days(c.on), &c.granted_by, c.place)
}
