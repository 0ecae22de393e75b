//! Packs: their manifests and their order, the whole way from texts to rules,
//! and libraries of packs that are made ready when a program is built.

mod declared_words;
mod encode;
mod library;
mod load;
mod manifest;
mod text;

pub use declared_words::{Words, declared_words};
pub use encode::encode_library;
pub use library::{Library, LibraryPack};
pub use load::{LoadError, load, load_to_audit};
pub use manifest::no_such_pack;
pub use text::PackText;
