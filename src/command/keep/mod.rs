//! Writing into a builder's folder. Everything that is written goes through
//! [`Folder`]: whole files, one process at a time, never out of the project.

mod entry;
mod folder;
mod header;
mod known;
mod place;
mod quoted;
mod toml_file;
mod words;

pub(super) use entry::{Entry, WHATS};
pub(super) use folder::{Folder, HIDDEN};
pub(super) use header::{Header, Person};
pub(super) use known::{Known, parsed, unknown};
pub(super) use place::{Placed, Step, appended, known as steps_known, placed};
pub(super) use quoted::{key, quoted};
pub(super) use words::Word;
