//! What names of files tell, and how texts may have been saved: for packs and projects read from folders.

use std::path::Path;

/// The names of what stands in a folder.
pub fn names_in(dir: &Path) -> Vec<String> {
    let entries = std::fs::read_dir(dir).into_iter().flatten().flatten();
    entries.filter_map(|entry| entry.file_name().into_string().ok()).collect()
}

/// Files that editors and systems leave beside those that people write.
pub(crate) fn is_left_by_a_program(name: &str) -> bool {
    let swapped =
        [".swp", ".swo", ".swn", ".swx", ".swj", ".un~", ".kate-swp"].iter().any(|ending| name.ends_with(ending));
    name.starts_with("._") || name.starts_with(".#") || name.starts_with(".~lock") || name.starts_with('.') && swapped
}

/// Whether a text that people write by hand may have been saved under a name.
pub(crate) fn is_text_by_name(name: &str) -> bool {
    ["", "txt", "text", "list", "rule", "rules", "log", "tml", "bak", "old", "orig"].contains(&ending(name).as_str())
}

/// What stands behind the last point, in small letters.
pub(crate) fn ending(name: &str) -> String {
    name.rsplit_once('.').map_or("", |(_, ending)| ending).to_lowercase()
}

/// A text as people may have saved it: UTF-8, or UTF-16 with its mark; what fits neither is replaced.
pub(crate) fn decoded(bytes: &[u8]) -> String {
    let pair = |order: fn([u8; 2]) -> u16| {
        let units = bytes.chunks_exact(2).filter_map(|two| two.try_into().ok().map(order));
        char::decode_utf16(units).map(|letter| letter.unwrap_or(char::REPLACEMENT_CHARACTER)).collect()
    };
    match bytes {
        [0xFF, 0xFE, ..] => pair(u16::from_le_bytes),
        [0xFE, 0xFF, ..] => pair(u16::from_be_bytes),
        _ => String::from_utf8_lossy(bytes).into_owned(),
    }
}
