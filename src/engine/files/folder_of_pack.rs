//! A pack of the builder's own, read from its folder.

use super::file_names::names_in;
use super::folder::bytes;
use super::in_use::{what_to_do, why};
use super::pack::{MANIFEST, RULES, Standing, by_name, not_read, states_rules};
use super::shown::shown;
use crate::diagnostic::Diagnostic;
use crate::project::encoding;
use crate::source::{MOST_BYTES, MOST_IN_ALL};
use cotterpin_lang::packs::PackText;
use std::fs;
use std::io;
use std::path::Path;
use walkdir::{DirEntry, WalkDir};

const HELP: &str = "give the folder of the pack, the one with its pack.toml in it";
const LINK: &str = "it is a link, and a pack holds its own files: put the file itself, or a copy, in its place";
/// A longer file of another name is not looked into.
const MOST_LOOKED_INTO: u64 = 1 << 18;

/// Reads a pack from a folder.
///
/// # Errors
/// A message if the folder has no `pack.toml`, or a file cannot be read.
pub fn read_pack(dir: &Path) -> Result<PackText, Diagnostic> {
    let manifest_path = dir.join(MANIFEST);
    if !is_there(dir, MANIFEST) {
        let name = shown(dir);
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
    if fs::symlink_metadata(&manifest_path).is_ok_and(|file| file.is_symlink()) {
        return Err(not_read(&shown(&manifest_path), LINK));
    }
    let mut all = 0;
    let manifest = read(&manifest_path, &shown(&manifest_path), &mut all)?;
    let mut pack = PackText { name: shown(dir), manifest, files: Vec::new() };
    let is_visible = |entry: &DirEntry| entry.depth() == 0 || !entry.file_type().is_dir() || !is_hidden(entry);
    // Below the folder as the disk has it, Windows takes no name for that of another file.
    let real = fs::canonicalize(dir).unwrap_or_else(|_| dir.to_owned());
    let named = |path: &Path| path.strip_prefix(&real).map_or_else(|_| shown(path), |inner| shown(&dir.join(inner)));
    for entry in WalkDir::new(&real).sort_by_file_name().into_iter().filter_entry(is_visible) {
        let entry = entry.map_err(|error| unreadable(&shown(dir), &error.into()))?;
        match standing(&entry) {
            Standing::Rules => {
                let name = named(entry.path());
                let text = read(entry.path(), &name, &mut all)?.into();
                pack.files.push((name, text));
            }
            Standing::Passed(why) => return Err(not_read(&named(entry.path()), why)),
            Standing::Other => {}
        }
    }
    Ok(pack)
}

/// The text of a file, which messages call by `name`; `all` counts the bytes of all of them.
fn read(path: &Path, name: &str, all: &mut usize) -> Result<String, Diagnostic> {
    let bytes = bytes(path).map_err(|problem| unreadable(name, &problem))?;
    if bytes.len() > MOST_BYTES {
        let message = format!("`{name}` is larger than {} MB", MOST_BYTES >> 20);
        let help = "rules are written in small files: take out of the pack's folder what is none, or divide it";
        return Err(Diagnostic::error("file::too-large", message).help(help));
    }
    *all = all.saturating_add(bytes.len());
    if *all > MOST_IN_ALL {
        let message = format!("the files of this pack are larger than {} MB together", MOST_IN_ALL >> 20);
        let help = format!("`{name}` is the first beyond that: divide the pack, or take out what nobody uses");
        return Err(Diagnostic::error("file::too-large", message).help(help));
    }
    encoding::text(&bytes).map(str::to_owned).map_err(|wrong| wrong.told(name))
}

fn standing(entry: &DirEntry) -> Standing {
    let name = entry.file_name().to_string_lossy().into_owned();
    let kind = entry.file_type();
    // What an editor keeps of the text before is older than the file beside it.
    let is_older = name.strip_suffix('~').is_some_and(|newer| entry.path().with_file_name(newer).is_file());
    if kind.is_dir() || entry.depth() == 0 || is_older {
        Standing::Other
    } else if kind.is_symlink() && (name.ends_with(RULES) || entry.path().is_dir()) {
        Standing::Passed(LINK)
    } else if name.ends_with(RULES) && !is_hidden(entry) && !kind.is_file() {
        Standing::Passed("it is no file: put a file in its place")
    } else {
        by_name(&name, || holds_rules(entry))
    }
}

/// Whether a short text has a line that begins as a declaration of rules does.
fn holds_rules(entry: &DirEntry) -> bool {
    let is_short = entry.metadata().is_ok_and(|file| file.is_file() && file.len() <= MOST_LOOKED_INTO);
    let bytes = is_short.then(|| fs::read(entry.path()).ok()).flatten().unwrap_or_default();
    states_rules(&bytes)
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

fn unreadable(name: &str, problem: &io::Error) -> Diagnostic {
    let message = format!("`{name}` cannot be read: {}", why(problem));
    Diagnostic::error("file::unreadable", message).help(what_to_do(problem, "check the file's name and permissions"))
}
