//! A pack of the builder's own, read from its folder.

use super::file_names::{decoded, ending, is_left_by_a_program, is_text_by_name, names_in};
use crate::diagnostic::Diagnostic;
use cotterpin_lang::packs::PackText;
use std::path::Path;
use walkdir::{DirEntry, WalkDir};

const MANIFEST: &str = "pack.toml";
const RULES: &str = ".checklist";
const HELP: &str = "give the folder of the pack, the one with its pack.toml in it";
/// A longer file of another name is not looked into.
const MOST_LOOKED_INTO: u64 = 1 << 18;

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
    let manifest_path = dir.join(MANIFEST);
    if !is_there(dir, MANIFEST) {
        let name = dir.display();
        let (message, help) = match (dir.is_dir(), meant_for_manifest(dir)) {
            (true, Some(other)) => (
                format!("the folder `{name}` holds no {MANIFEST}, but `{other}`"),
                format!("name it {MANIFEST}, exactly so"),
            ),
            (true, None) => (format!("the folder `{name}` holds no {MANIFEST}"), HELP.to_owned()),
            (false, _) => (format!("there is no folder `{name}`"), HELP.to_owned()),
        };
        return Err(Diagnostic::error("pack::missing", message).help(help));
    }
    let mut pack = PackText { name: dir.display().to_string(), manifest: read(&manifest_path)?, files: Vec::new() };
    let is_visible = |entry: &DirEntry| entry.depth() == 0 || !entry.file_type().is_dir() || !is_hidden(entry);
    for entry in WalkDir::new(dir).sort_by_file_name().into_iter().filter_entry(is_visible) {
        let entry = entry.map_err(|error| unreadable(dir, &error.to_string()))?;
        match standing(&entry) {
            Standing::Rules => pack.files.push((entry.path().display().to_string(), read(entry.path())?.into())),
            Standing::Passed(why) => return Err(not_read(entry.path(), why)),
            Standing::Other => {}
        }
    }
    Ok(pack)
}

/// What a file of a pack is to its reader.
enum Standing {
    /// Its rules are read.
    Rules,
    /// It looks as if it held rules, and is not read: why.
    Passed(&'static str),
    /// It has nothing to do with rules.
    Other,
}

fn standing(entry: &DirEntry) -> Standing {
    let name = entry.file_name().to_string_lossy().into_owned();
    let kind = entry.file_type();
    let is_named = name.ends_with(RULES);
    // What an editor keeps of the text before is older than the file beside it.
    let is_older = name.strip_suffix('~').is_some_and(|newer| entry.path().with_file_name(newer).is_file());
    if kind.is_dir() || entry.depth() == 0 || is_left_by_a_program(&name) || is_older {
        Standing::Other
    } else if kind.is_symlink() && (is_named || entry.path().is_dir()) {
        Standing::Passed("it is a link, and a pack holds its own files: put the file itself, or a copy, in its place")
    } else if is_named && is_hidden(entry) {
        Standing::Passed("its name begins with a dot, which hides it: take the dot away, or take it out of the pack")
    } else if is_named && kind.is_file() {
        Standing::Rules
    } else if is_named {
        Standing::Passed("it is no file: put a file in its place")
    } else if name != MANIFEST && name.to_lowercase().ends_with(".toml") {
        Standing::Passed("a pack holds rules: facts, the log and words stand outside its folder, where they are read")
    } else if name.to_lowercase().contains(RULES)
        || (is_text_by_name(&name) || ending(&name).starts_with("che")) && holds_rules(entry)
    {
        Standing::Passed(
            "a rule file's name ends in `.checklist`, in small letters: name it so, or take it out of the pack",
        )
    } else {
        Standing::Other
    }
}

/// Whether a short text has a line that begins as a declaration of rules does.
fn holds_rules(entry: &DirEntry) -> bool {
    let is_short = entry.metadata().is_ok_and(|file| file.is_file() && file.len() <= MOST_LOOKED_INTO);
    let bytes = is_short.then(|| std::fs::read(entry.path()).ok()).flatten().unwrap_or_default();
    let text = decoded(&bytes);
    text.split(['\n', '\r']).any(|line| {
        let words: Vec<&str> = line.trim_start_matches('\u{FEFF}').split_whitespace().take(4).collect();
        match words.as_slice() {
            ["item" | "amend" | "list", name] | ["set", "aside", name] => name.contains('.'),
            ["item", name, next, ..] => name.contains('.') && (next.starts_with('"') || *next == "for"),
            ["set", "aside", name, next] => name.contains('.') && ["because", "basis", "cite"].contains(next),
            ["fact", name, ":", ..] => name.contains('.'),
            ["disturbing", _, "also", "disturbs"] => true,
            _ => false,
        }
    })
}

/// Some disks find a file under a name in other letters.
fn is_there(dir: &Path, name: &str) -> bool {
    dir.join(name).is_file() && names_in(dir).iter().any(|there| there == name)
}

fn meant_for_manifest(dir: &Path) -> Option<String> {
    names_in(dir).into_iter().find(|name| {
        let name = name.to_lowercase();
        name.starts_with("pack") && name.contains("toml")
    })
}

fn is_hidden(entry: &DirEntry) -> bool {
    entry.file_name().to_string_lossy().starts_with('.')
}

fn not_read(path: &Path, why: &str) -> Diagnostic {
    let message = format!("`{}` looks like rules of this pack and is not read", path.display());
    Diagnostic::error("pack::not-read", message).help(why)
}

fn unreadable(path: &Path, why: &str) -> Diagnostic {
    Diagnostic::error("file::unreadable", format!("`{}` cannot be read: {why}", path.display()))
        .help("check the file's name and permissions")
}
