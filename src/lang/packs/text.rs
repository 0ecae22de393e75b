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
    /// What it builds on. A manifest that cannot be read gives none here; loading the pack says what is wrong with it.
    #[must_use]
    pub fn uses(&self) -> Vec<String> {
        let Ok(table) = self.manifest.parse::<toml::Table>() else { return Vec::new() };
        let names = table.get("uses").and_then(toml::Value::as_array);
        names.map_or_else(Vec::new, |names| names.iter().filter_map(|name| name.as_str().map(str::to_owned)).collect())
    }

    /// The name in its `pack.toml`, if that can be read.
    #[must_use]
    pub fn own_name(&self) -> Option<String> {
        let table = self.manifest.parse::<toml::Table>().ok()?;
        table.get("name").and_then(toml::Value::as_str).map(str::to_owned)
    }

    /// Its files in the order of their names, in which they are read.
    pub(super) fn sorted_files(&self) -> Vec<&(String, Cow<'static, str>)> {
        let mut files: Vec<_> = self.files.iter().collect();
        files.sort();
        files
    }
}
