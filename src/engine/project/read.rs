//! All the files of a project together.

use super::Record;
use super::draft::Draft;
use super::finished::{Finished, together};
use super::header::Header;
use super::read_before::{Before, PlainLogs};
use super::text::FileText;
use crate::diagnostic::Diagnostic;
use crate::ir::Rules;
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
    let (record, messages, _) = read_after((files, paths), header, rules, sources, (None, 1));
    (record, messages)
}

/// The same where some of the logs are known from a reading before, and have not changed: they are taken over, which
/// costs next to nothing; the others are read by so many workers at once. With the logs that can be taken over from this
/// reading.
#[must_use]
pub fn read_after(
    (files, paths): (&[FileText], &[String]),
    header: &Header,
    rules: &Rules,
    sources: Sources,
    (before, workers): (Option<Before>, usize),
) -> (Record, Vec<Diagnostic>, PlainLogs) {
    let (draft, messages, logs) = Draft::after(files, paths, header, rules, (sources, before, workers));
    let Finished { record, messages: said, all_there } = draft.into_finished(rules, paths);
    // What is taken out because it stands elsewhere as well may have to come back.
    let logs = if all_there { logs } else { PlainLogs::default() };
    (record, together(messages, said), logs)
}
