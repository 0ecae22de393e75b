//! Writing for a builder. What goes into a project's record goes through
//! [`Folder`]: whole files, one process at a time, never out of the project.
//! A saved audit, which may go anywhere, is written whole in the same way.

mod entry;
mod folder;
mod header;
mod place;
mod project_names;
mod quoted;
mod toml_file;
mod whole;
mod words;

pub(super) use entry::Entry;
pub(super) use folder::{Folder, HIDDEN, TRIES, changing};
pub(super) use header::{header_of, people_of, with_part, with_person};
pub(super) use place::{Placed, Step, appended, known as steps_known, placed, value_at};
pub(super) use project_names::{ProjectNames, parsed, unknown};
pub(super) use quoted::{key, quoted};
pub(super) use whole::{Others, create, replace, settle};
pub(super) use words::Word;
