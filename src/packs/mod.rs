//! Packs as text: those of the binary, and those from folders.

mod built_in;
mod file_names;
mod folder;

pub(crate) use built_in::LIBRARY;
pub use built_in::{built_in, built_in_names, declared_words};
pub use cotterpin_lang::packs::{PackText, Words};
pub(crate) use file_names::{decoded, ending, is_left_by_a_program, is_text_by_name, names_in};
pub use folder::read_pack;
