//! The packs of the binary, packs from folders, and the way from either to
//! checked rules with everything that can be said of them.

mod built_in;
mod folder;
mod load;

pub use built_in::{built_in, built_in_names};
pub(crate) use built_in::LIBRARY;
pub use cotterpin_lang::packs::{PackText, Words};
pub use folder::read_pack;
pub use load::{declared_words, load_packs, load_packs_to_audit};
