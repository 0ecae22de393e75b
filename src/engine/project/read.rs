//! All the files of a project together.

use super::Record;
use super::draft::Draft;
use super::finished::together;
use super::header::Header;
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
    let (draft, messages) = Draft::new(files, paths, header, rules, sources);
    let (record, said) = draft.into_finished(rules, paths);
    (record, together(messages, said))
}
