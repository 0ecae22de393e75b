//! Packs as text: those of the binary, and those from folders.

mod built_in;
mod folder;

pub(crate) use built_in::LIBRARY;
pub use built_in::{built_in, built_in_names, declared_words};
pub use cotterpin_lang::packs::{PackText, Words};
pub use folder::read_pack;
pub(crate) use folder::{decoded, is_left_by_a_program};
