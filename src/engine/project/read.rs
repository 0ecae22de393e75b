//! All the files of a project together.

use super::copies;
use super::header::{Header, PROJECT};
use super::header_checks;
use super::job;
use super::log_checks;
use super::named;
use super::no_such_record;
use super::text::{FileText, open};
use super::walk::Walk;
use super::whole;
use super::{Concession, Confirmation, Record};
use crate::diagnostic::{Diagnostic, settle};
use crate::ir::Rules;
use crate::quantity::DateRange;
use crate::source::Sources;

/// Reads the builder's files against the packs.
///
/// `files` are the project's TOML files, in any order; `project.toml` among
/// them is passed over, it is the `header`. `paths` are all files of the
/// project, relative and with `/`, among which evidence is looked for. Nothing
/// is read from the disk. `sources` holds the texts of the packs and of the
/// header; the record takes it over, with the texts of the files added, and its
/// places and the messages point into it.
///
/// A record that comes with an error is for showing; it must not be audited.
#[must_use]
pub fn read(
    files: &[FileText],
    paths: &[String],
    header: &Header,
    rules: &Rules,
    sources: Sources,
) -> (Record, Vec<Diagnostic>) {
    let mut files: Vec<&FileText> = files.iter().filter(|file| file.name != PROJECT).collect();
    files.sort_by(|a, b| (&a.name, &a.bytes).cmp(&(&b.name, &b.bytes)));
    let mut walk = Walk::new(rules, paths);
    walk.record.sources = sources;
    walk.messages.extend(header_checks::take_over(header, rules, &mut walk.record));
    for file in files {
        let (page, said) = open(file, &mut walk.record.sources);
        if said.iter().any(Diagnostic::is_error) {
            walk.unread.file();
        }
        walk.messages.extend(said);
        if let Some(page) = page {
            walk.page(&page);
        }
    }
    let Walk { mut record, mut messages, unread, files, .. } = walk;
    record.unknown_names = named::unknown(rules, &record, &files);
    record.visit.clone_from(&header.visit);
    record.a_day.clone_from(&header.a_day);
    messages.extend(job::check(rules, &record, &unread));
    messages.extend(no_such_record::check(rules, &record));
    in_order(&mut record);
    let twice = copies::once(&mut record.log);
    let some_twice = !twice.is_empty();
    messages.extend(twice);
    messages.extend(log_checks::check(&mut record.log, &unread));
    messages.extend(whole::entries_gone(&record, some_twice).filter(|_| !messages.iter().any(Diagnostic::is_error)));
    settle(&mut messages);
    (record, messages)
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
