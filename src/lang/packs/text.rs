//! A pack as text, wherever it came from.

use std::borrow::Cow;

/// The texts of a pack.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct PackText {
    /// Where it came from, for messages: `us`, or a folder.
    pub name: String,
    /// The text of its `pack.toml`.
    pub manifest: String,
    /// Its `.checklist` files: name and text. That of a library's pack is borrowed from there.
    pub files: Vec<(String, Cow<'static, str>)>,
}

impl PackText {
    /// Its files in the order of their names, in which they are read.
    pub(super) fn sorted_files(&self) -> Vec<&(String, Cow<'static, str>)> {
        let mut files: Vec<_> = self.files.iter().collect();
        files.sort();
        files
    }
}
