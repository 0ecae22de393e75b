//! Packs: their manifests and their order, the whole way from texts to rules,
//! and libraries of packs that are made ready when a program is built.

mod declared_words;
mod digest;
mod encode;
mod load;
mod manifest;
mod prebuilt;
mod text;

pub use declared_words::{Words, declared_words};
pub use encode::encode_prebuilt;
pub use load::{LoadError, load, load_to_audit};
pub use manifest::no_such_pack;
pub use prebuilt::{Prebuilt, PrebuiltPack};
pub use text::PackText;
