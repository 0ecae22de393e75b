//! The files of a project, and of the packs in it, as names and bytes.

use super::file_names::is_left_by_a_program;
use super::pack::{MANIFEST, Standing, by_name, not_read, states_rules};
use super::passed_over::{LookedInto, is_worth_a_look};
use crate::diagnostic::Diagnostic;
use crate::project::encoding::{self, decoded};
use crate::project::{FileText, Header, PROJECT, read_header};
use crate::source::{MOST_BYTES, Sources, is_unshowable};
use cotterpin_lang::packs::PackText;
use std::collections::BTreeSet;

/// How what is read as the project's own text ends.
const TOML: &str = ".toml";

/// What a project consists of.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct ProjectFiles {
    /// `project.toml`, where it could be read.
    pub header_file: Option<FileText>,
    /// Every other `*.toml`, by path.
    pub files: Vec<FileText>,
    /// Paths of all files that are not empty, relative to the project, with `/`, for evidence.
    pub paths: Vec<String>,
    /// Files that are not read and may have been meant to be.
    pub looked_into: Vec<LookedInto>,
}

/// So many bytes of a file are looked at for something else than blanks: a download reserves its room with them.
pub(super) const MOST_BLANKS: u64 = 4096;

/// Whether a pack's name in `project.toml` means a folder of the project: it
/// has a slash in it, which no name of a pack has.
#[must_use]
pub fn is_folder(name: &str) -> bool {
    name.contains('/')
}

/// Whether the head of a file has nothing that shows: blanks of any script, zeros and other control characters, the
/// mark of a text, letters without width.
pub(super) fn means_nothing(head: &[u8]) -> bool {
    let plain = |byte: &u8| byte.is_ascii_whitespace() || [0, 0xEF, 0xBB, 0xBF, 0xFE, 0xFF].contains(byte);
    let blank = |letter: char| {
        letter.is_whitespace()
            || is_unshowable(letter)
            // What only chooses how another letter looks.
            || matches!(letter, '\u{fe00}'..='\u{fe0f}')
    };
    // A letter may go on behind the head.
    let whole = match std::str::from_utf8(head) {
        Err(cut) if cut.error_len().is_none() => head.get(..cut.valid_up_to()).unwrap_or(head),
        _ => head,
    };
    head.iter().all(plain) || decoded(whole).chars().all(blank)
}

/// Whether a file can be evidence, by its path from the project, as [`plain_path`] gives it: not one of blanks alone,
/// no copy of a text that was read, no hidden one, none of a pack, and none outside.
#[must_use]
pub fn may_show(path: &str, bytes: &[u8], packs: &[String], texts: &[&[u8]]) -> bool {
    let head = bytes.get(..MOST_BLANKS as usize).unwrap_or(bytes);
    let is_left_alone = path.split('/').any(|part| part.is_empty() || part.starts_with('.'));
    // A text that is read is told to be one where it is named.
    let is_copy = || !path.ends_with(TOML) && texts.contains(&bytes);
    !is_left_alone && !packs.iter().any(|pack| path.starts_with(pack.as_str())) && !means_nothing(head) && !is_copy()
}

/// Tells the files of a project apart as a reader of folders does: hidden ones and those of its own packs are left
/// alone. Names are paths from the project, with `/`.
#[must_use]
pub fn project_from_bytes(files: &[(String, Vec<u8>)]) -> ProjectFiles {
    let mut project = ProjectFiles::default();
    let text = |(name, bytes): &(String, Vec<u8>)| FileText { name: plain_path(name), bytes: bytes.clone() };
    project.header_file = files.iter().find(|(name, _)| plain_path(name) == PROJECT).map(text);
    let packs = project.header_file.as_ref().map_or_else(Vec::new, packs_of);
    let mut sorted: Vec<&(String, Vec<u8>)> = files.iter().collect();
    sorted.sort_by(|a, b| a.0.cmp(&b.0));
    for file in sorted {
        let (name, bytes) = (plain_path(&file.0), &file.1);
        let (folders, last) = name.rsplit_once('/').unwrap_or(("", &name));
        let in_hidden = folders.split('/').any(|folder| folder.starts_with('.'));
        if in_hidden || packs.iter().any(|pack| name.starts_with(pack.as_str())) {
            continue;
        }
        let is_read = name.ends_with(TOML) && !last.starts_with('.');
        if is_read && name != PROJECT {
            project.files.push(text(file));
        } else if !is_read && !bytes.is_empty() && is_worth_a_look(&name, bytes.len() as u64) {
            let taken = if bytes.len() > MOST_BYTES {
                Err(format!("it is larger than {} MB", MOST_BYTES >> 20))
            } else {
                Ok(bytes.clone())
            };
            project.looked_into.push(LookedInto { name: name.clone(), bytes: taken });
        }
    }
    let texts: Vec<&[u8]> =
        project.header_file.iter().chain(&project.files).map(|file| file.bytes.as_slice()).collect();
    let named = files.iter().map(|(name, bytes)| (plain_path(name), bytes));
    let showing = named.filter(|(name, bytes)| may_show(name, bytes, &packs, &texts));
    let mut paths: Vec<String> = showing.map(|(name, _)| name).collect();
    paths.sort();
    project.paths = paths;
    project
}

/// The folders of packs that a `project.toml` names.
fn packs_of(file: &FileText) -> Vec<String> {
    let (header, _) = read_header(file, &mut Sources::default());
    header.as_ref().map_or_else(Vec::new, pack_folders)
}

/// The folders of packs that a header names, each with a slash behind.
#[must_use]
pub fn pack_folders(header: &Header) -> Vec<String> {
    let folders = header.packs.iter().filter(|(name, _)| is_folder(name));
    folders.map(|(name, _)| format!("{}/", plain_path(name))).collect()
}

/// A path of which two files are given, if there is one.
///
/// ```
/// let files = ["a.toml", "b.toml", "./a.toml"].map(|name| (name.to_owned(), Vec::new()));
/// assert_eq!(cotterpin_engine::files::given_twice(&files).as_deref(), Some("a.toml"));
/// ```
#[must_use]
pub fn given_twice(files: &[(String, Vec<u8>)]) -> Option<String> {
    let mut known = BTreeSet::new();
    files.iter().map(|(name, _)| plain_path(name)).find(|name| !known.insert(name.clone()))
}

/// A path from the project's folder, without what means nothing in it: `./a`, `a//b`.
#[must_use]
pub fn plain_path(name: &str) -> String {
    let parts: Vec<&str> = name.split('/').filter(|part| !part.is_empty() && *part != ".").collect();
    parts.join("/")
}

/// A pack of the project's own, from the files of its folder.
///
/// # Errors
/// There is no such pack among them, it is not text, or a file looks like rules of it and would not be read.
pub fn pack_from_bytes(files: &[(String, Vec<u8>)], folder: &str) -> Result<PackText, Diagnostic> {
    let folder = plain_path(folder);
    let text = |name: &str, bytes: &[u8]| encoding::text(bytes).map(str::to_owned).map_err(|wrong| wrong.told(name));
    let mut inner: Vec<(String, &[u8])> = files
        .iter()
        .map(|(name, bytes)| (plain_path(name), bytes.as_slice()))
        .filter(|(name, _)| name.strip_prefix(&folder).is_some_and(|rest| rest.starts_with('/')))
        .collect();
    inner.sort();
    let manifest = inner.iter().find(|(name, _)| *name == format!("{folder}/{MANIFEST}"));
    let Some((name, bytes)) = manifest else {
        let message = format!("the folder `{folder}` holds no {MANIFEST}");
        let help = "give the folder of the pack, the one with its pack.toml in it";
        return Err(Diagnostic::error("pack::missing", message).help(help));
    };
    let mut pack = PackText { name: folder.clone(), manifest: text(name, bytes)?, files: Vec::new() };
    for (name, bytes) in &inner {
        let last = name.rsplit_once('/').map_or(name.as_str(), |(_, last)| last);
        let in_hidden =
            name.get(folder.len()..).unwrap_or("").split('/').rev().skip(1).any(|part| part.starts_with('.'));
        if in_hidden || is_left_by_a_program(last) {
            continue;
        }
        match by_name(last, || states_rules(bytes)) {
            Standing::Rules => pack.files.push((name.clone(), text(name, bytes)?.into())),
            Standing::Passed(why) if *name != format!("{folder}/{MANIFEST}") => return Err(not_read(name, why)),
            Standing::Passed(_) | Standing::Other => {}
        }
    }
    Ok(pack)
}
