//! What names of files tell: for packs and projects read from folders.

use std::path::Path;

/// The names of what stands in a folder.
pub fn names_in(dir: &Path) -> Vec<String> {
    let entries = std::fs::read_dir(dir).into_iter().flatten().flatten();
    entries.filter_map(|entry| entry.file_name().into_string().ok()).collect()
}

/// A file of a folder, given with `/`, as its name is written on the disk: itself, or the only one whose name is the same
/// but for capitals. Some disks find a file by either, and others do not.
#[must_use]
pub fn name_on_disk(folder: &Path, given: &str) -> Option<String> {
    let mut path = folder.to_owned();
    let mut parts = Vec::new();
    for part in given.split('/').filter(|part| !part.is_empty() && *part != ".") {
        let name = one_of(names_in(&path), part)?;
        path.push(&name);
        parts.push(name);
    }
    (!parts.is_empty()).then(|| parts.join("/"))
}

fn one_of(names: Vec<String>, part: &str) -> Option<String> {
    if names.iter().any(|name| name == part) {
        return Some(part.to_owned());
    }
    let wanted = part.to_lowercase();
    let mut alike = names.into_iter().filter(|name| name.to_lowercase() == wanted);
    alike.next().filter(|_| alike.next().is_none())
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
