//! A pack of the builder's own, read from its folder.

use crate::diagnostic::Diagnostic;
use crate::packs::PackText;
use std::path::Path;

/// Reads a pack from a folder.
///
/// # Errors
/// A message if the folder has no `pack.toml`, or a file cannot be read.
pub fn read_pack(dir: &Path) -> Result<PackText, Diagnostic> {
    let read = |path: &Path| {
        let bytes = std::fs::read(path).map_err(|error| unreadable(path, &error.to_string()))?;
        String::from_utf8(bytes)
            .map_err(|error| unreadable(path, &format!("it is not UTF-8 text ({})", error.utf8_error())))
    };
    let manifest_path = dir.join("pack.toml");
    if !manifest_path.is_file() {
        let name = dir.display();
        let message = match dir.is_dir() {
            true => format!("the folder `{name}` holds no pack.toml"),
            false => format!("there is no folder `{name}`"),
        };
        return Err(Diagnostic::error("pack::missing", message)
            .help("give the folder of the pack, the one with its pack.toml in it"));
    }
    let mut pack = PackText { name: dir.display().to_string(), manifest: read(&manifest_path)?, files: Vec::new() };
    for entry in walkdir::WalkDir::new(dir).sort_by_file_name() {
        let entry = entry.map_err(|error| unreadable(dir, &error.to_string()))?;
        if entry.path().extension().is_some_and(|ending| ending == "checklist") && entry.file_type().is_file() {
            pack.files.push((entry.path().display().to_string(), read(entry.path())?.into()));
        }
    }
    Ok(pack)
}

fn unreadable(path: &Path, why: &str) -> Diagnostic {
    Diagnostic::error("file::unreadable", format!("`{}` cannot be read: {why}", path.display()))
        .help("check the file's name and permissions")
}
