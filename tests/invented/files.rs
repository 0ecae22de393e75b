//! The texts that are looked through: packs, code with the demo, tests, and the documents.

use std::path::{Path, PathBuf};

/// A published table of the blocks themselves: every line of it is an address that some State may give.
const PUBLISHED: &str = "tests/packs/data/address-blocks.csv";

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// One text, with its path from the root of the crate.
pub(super) struct Text {
    pub(super) path: String,
    pub(super) text: String,
}

/// Every text below a folder of the crate, or that one file.
pub(super) fn below(place: &str) -> Vec<Text> {
    let paths: Vec<PathBuf> = walkdir::WalkDir::new(root().join(place))
        .sort_by_file_name()
        .into_iter()
        .map(|entry| entry.expect("it can be read"))
        .filter(|entry| entry.file_type().is_file())
        .map(walkdir::DirEntry::into_path)
        .collect();
    let read = |path: PathBuf| {
        let name = path.strip_prefix(root()).expect("below the root").to_string_lossy().replace('\\', "/");
        let bytes = std::fs::read(&path).unwrap_or_else(|error| panic!("{name}: {error}"));
        // Broken input for tests is no text; what of it is one is looked at.
        Text { text: String::from_utf8_lossy(&bytes).into_owned(), path: name }
    };
    paths.into_iter().map(read).collect()
}

/// All of them.
pub(super) fn all() -> Vec<Text> {
    let places = ["rules", "src", "tests", "grammar", "README.md", "DEVELOPERS.md", "Cargo.toml"];
    places.into_iter().flat_map(below).filter(|file| file.path != PUBLISHED).collect()
}

/// A program's text with a blank for each line's end that it writes as `\n`, so that no letter sticks to what follows.
pub(super) fn spelt_out(text: &str) -> String {
    text.replace("\\n", "  ").replace("\\t", "  ")
}
