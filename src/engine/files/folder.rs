//! A project's folder, read and never written.

use super::file_names::names_in;
use super::from_bytes::{MOST_BLANKS, ProjectFiles, is_folder, means_nothing};
use super::in_use::{patiently, what_to_do, why};
use super::passed_over::{LookedInto, is_worth_a_look, meant};
use super::shown::shown;
use crate::diagnostic::Diagnostic;
use crate::project::{FileText, PROJECT, read_header};
use crate::source::{MOST_BYTES, MOST_IN_ALL, Sources};
use std::collections::BTreeSet;
use std::fs;
use std::io::{self, Read};
use std::path::{Path, PathBuf};
use walkdir::{DirEntry, WalkDir};

const UNREADABLE: &str = "see to it that the file is there and that you may read it";

/// Reads a project's folder. Hidden entries and the folders of packs named in
/// `project.toml` are left alone; links are followed, but not out of the
/// folder. What can be read is given even where messages say what cannot, so
/// that all faults of a run are reported together.
#[must_use]
pub fn read_project(folder: &Path) -> (ProjectFiles, Vec<Diagnostic>) {
    let mut reading = Reading {
        folder,
        real: folder.to_owned(),
        files: ProjectFiles::default(),
        may_show: Vec::new(),
        found: Vec::new(),
        all: 0,
    };
    if let Err(missing) = is_project(folder) {
        reading.found.push(missing);
        return (reading.files, reading.found);
    }
    match fs::canonicalize(folder) {
        Ok(real) => reading.real = real,
        Err(problem) => reading.unreadable(folder, &problem),
    }
    if reading.is_inside(&folder.join(PROJECT)) {
        reading.files.header_file = reading.text(&reading.real.join(PROJECT));
    }
    let packs = reading.pack_folders();
    reading.walk(&packs);
    reading.files.paths = reading.evidence();
    (reading.files, reading.found)
}

/// A folder being read.
struct Reading<'a> {
    folder: &'a Path,
    /// The folder without links, to tell what leads out of it. All is read below this one: Windows takes a name that ends in
    /// a blank or a point for that of another file, unless the whole path is given as the disk has it.
    real: PathBuf,
    files: ProjectFiles,
    /// Files that may be evidence, with their lengths.
    may_show: Vec<(String, u64)>,
    found: Vec<Diagnostic>,
    /// The bytes of all that is kept of it.
    all: usize,
}

impl Reading<'_> {
    /// Folders of packs within the project; their TOML is no fact file.
    fn pack_folders(&self) -> BTreeSet<PathBuf> {
        let Some(header) = &self.files.header_file else {
            return BTreeSet::new();
        };
        let (header, _) = read_header(header, &mut Sources::default());
        let packs = header.map_or_else(Vec::new, |header| header.packs);
        let folders = packs.iter().filter(|(name, _)| is_folder(name)).map(|(name, _)| self.folder.join(name));
        folders.filter_map(|folder| fs::canonicalize(folder).ok()).collect()
    }

    fn walk(&mut self, packs: &BTreeSet<PathBuf>) {
        let mut entries = WalkDir::new(&self.real).min_depth(1).follow_links(true).sort_by_file_name().into_iter();
        while let Some(entry) = entries.next() {
            let entry = match entry {
                Ok(entry) => entry,
                Err(problem) => {
                    self.fault(&problem);
                    continue;
                }
            };
            let is_folder = entry.file_type().is_dir();
            if is_hidden(&entry) && !is_folder {
                self.look_into(&entry);
            }
            let leave = is_hidden(&entry)
                || (is_folder && fs::canonicalize(entry.path()).is_ok_and(|real| packs.contains(&real)))
                || (entry.path_is_symlink() && !self.is_inside(entry.path()));
            if leave && is_folder {
                entries.skip_current_dir();
            } else if !leave && !is_folder {
                self.file(&entry);
            }
        }
    }

    fn file(&mut self, entry: &DirEntry) {
        let path = entry.path();
        let name = self.relative(path);
        let is_toml = path.extension().is_some_and(|extension| extension == "toml");
        if !is_toml {
            self.look_into(entry);
        } else if name == PROJECT {
            return;
        } else if let Some(text) = self.text(path) {
            self.files.files.push(text);
            return;
        }
        // An empty file, such as a copy that broke off, shows nothing.
        let length = entry.metadata().map_or(0, |file| file.len());
        if entry.file_type().is_file() && length > 0 && !self.is_text_of_the_project(entry) {
            self.may_show.push((name, length));
        }
    }

    /// Whether a link leads to what the project or a pack says: that shows nothing under another name either.
    fn is_text_of_the_project(&self, entry: &DirEntry) -> bool {
        entry.path_is_symlink()
            && fs::canonicalize(entry.path()).is_ok_and(|real| {
                let kept = real.strip_prefix(&self.real).ok().and_then(|inner| inner.components().next());
                let kept = kept.map(|folder| folder.as_os_str().to_string_lossy().to_lowercase()).unwrap_or_default();
                let ending = real.extension().map(|ending| ending.to_string_lossy().to_lowercase()).unwrap_or_default();
                ["log", "audits", ".cotterpin"].contains(&kept.as_str())
                    || ["toml", "checklist"].contains(&ending.as_str())
            })
    }

    /// The files that may show something: not those of blanks alone, and no copies of what was read.
    fn evidence(&mut self) -> Vec<String> {
        let read = self.files.header_file.iter().chain(&self.files.files);
        let texts: Vec<&[u8]> = read.map(|file| file.bytes.as_slice()).collect();
        let shows = |(name, length): &(String, u64)| {
            let path = self.real.join(name);
            let may_be_copy = texts.iter().any(|text| text.len() as u64 == *length);
            !(is_blank(&path) || may_be_copy && bytes(&path).is_ok_and(|bytes| texts.contains(&bytes.as_slice())))
        };
        std::mem::take(&mut self.may_show).into_iter().filter(shows).map(|(name, _)| name).collect()
    }

    /// Keeps the bytes of a file that is not read, if it may have been meant to be.
    fn look_into(&mut self, entry: &DirEntry) {
        let name = self.relative(entry.path());
        let length = entry.metadata().map_or(0, |file| file.len());
        if length > 0 && is_worth_a_look(&name, length) && self.has_room(entry.path()) {
            let bytes = match bytes(entry.path()) {
                Ok(bytes) if bytes.len() > MOST_BYTES => Err(format!("it is larger than {} MB", MOST_BYTES >> 20)),
                Ok(bytes) => {
                    self.all = self.all.saturating_add(bytes.len());
                    Ok(bytes)
                }
                Err(problem) => Err(why(&problem)),
            };
            self.files.looked_into.push(LookedInto { name, bytes });
        }
    }

    /// Whether a file is kept with the others, by its length, before it is read. The first that is not is told.
    fn has_room(&mut self, path: &Path) -> bool {
        let length = fs::metadata(path).map_or(0, |file| usize::try_from(file.len()).unwrap_or(usize::MAX));
        // One that is too large by itself is told as that.
        let has_room = self.all.saturating_add(length.min(MOST_BYTES)) <= MOST_IN_ALL;
        if !has_room && self.found.iter().all(|known| known.code != "project::too-large") {
            let message = format!("the texts of this project are larger than {} MB together", MOST_IN_ALL >> 20);
            let help = format!(
                "`{}` is the first beyond that: take out what is no fact, and old logs of another aircraft",
                self.relative(path)
            );
            self.found.push(Diagnostic::error("project::too-large", message).help(help));
        }
        has_room
    }

    /// The bytes of a file, if they can be had and are not too many.
    fn text(&mut self, path: &Path) -> Option<FileText> {
        if !self.has_room(path) {
            return None;
        }
        match bytes(path) {
            Ok(bytes) if bytes.len() > MOST_BYTES => {
                let message = format!("`{}` is larger than {} MB", self.relative(path), MOST_BYTES >> 20);
                let help = "keep facts in small files, and give large files another ending than .toml";
                self.found.push(Diagnostic::error("file::too-large", message).help(help));
                None
            }
            Ok(bytes) => {
                self.all = self.all.saturating_add(bytes.len());
                Some(FileText { name: self.relative(path), bytes })
            }
            Err(problem) => {
                self.unreadable(path, &problem);
                None
            }
        }
    }

    /// Whether a link stays within the project; says so where it does not.
    fn is_inside(&mut self, path: &Path) -> bool {
        let inside = fs::canonicalize(path).is_ok_and(|real| real.starts_with(&self.real));
        if !inside {
            let message = format!("`{}` is a link that leads out of the project", self.relative(path));
            let help = "copy what it points at into the project's folder, so that it stays with the project";
            self.found.push(Diagnostic::error("evidence::outside", message).help(help));
        }
        inside
    }

    /// A fault of the walk itself.
    fn fault(&mut self, problem: &walkdir::Error) {
        let path = problem.path().unwrap_or(&self.real).to_owned();
        if problem.depth() > 0 && is_hidden_name(&path) {
            return;
        }
        if let Some(ancestor) = problem.loop_ancestor() {
            let (link, ancestor) = (self.relative(&path), self.relative(ancestor));
            let message = format!("`{link}` is a link back to `{ancestor}`, a folder it stands in");
            let help = format!("remove the link `{link}`");
            self.found.push(Diagnostic::error("project::loop", message).help(help));
            return;
        }
        let why = problem.io_error().map_or_else(|| problem.to_string(), why);
        self.shut(&path, &why, UNREADABLE);
    }

    fn unreadable(&mut self, path: &Path, problem: &io::Error) {
        self.shut(path, &why(problem), what_to_do(problem, UNREADABLE));
    }

    fn shut(&mut self, path: &Path, why: &str, help: &str) {
        let message = format!("`{}` cannot be read: {why}", self.relative(path));
        self.found.push(Diagnostic::error("file::unreadable", message).help(help));
    }

    /// The path within the project with `/` on every system.
    fn relative(&self, path: &Path) -> String {
        let inner = path.strip_prefix(&self.real).or_else(|_| path.strip_prefix(self.folder)).unwrap_or(path);
        let name = shown(inner);
        if name.is_empty() { ".".to_owned() } else { name }
    }
}

/// Whether a file begins with nothing but blanks, zeros and the mark of a text.
fn is_blank(path: &Path) -> bool {
    let mut head = Vec::new();
    let read = fs::File::open(path).and_then(|file| file.take(MOST_BLANKS).read_to_end(&mut head));
    read.is_err() || means_nothing(&head)
}

/// The bytes of a file, at most one more than is taken; a pipe or a device is refused,
/// because reading it may never end.
///
/// # Errors
/// What the system says, or that it is no file.
pub fn bytes(path: &Path) -> io::Result<Vec<u8>> {
    let there = fs::metadata(path)?;
    if !there.is_file() {
        return Err(io::Error::other("it is not a file"));
    }
    // One more byte than there are, so that its end is seen at once.
    let room = usize::try_from(there.len()).unwrap_or(usize::MAX).min(MOST_BYTES).saturating_add(1);
    let mut bytes = Vec::with_capacity(room);
    let file = patiently(|| fs::File::open(path))?;
    file.take(MOST_BYTES.saturating_add(1) as u64).read_to_end(&mut bytes)?;
    Ok(bytes)
}

fn is_hidden(entry: &DirEntry) -> bool {
    is_hidden_name(entry.path())
}

fn is_hidden_name(path: &Path) -> bool {
    path.file_name().is_some_and(|name| name.to_string_lossy().starts_with('.'))
}

/// Whether a folder is there and has a `project.toml`.
///
/// # Errors
/// What is missing, and what to do.
pub fn is_project(folder: &Path) -> Result<(), Diagnostic> {
    let name = shown(folder);
    let (message, help) = if !folder.exists() && name.contains('"') {
        let help = "a backslash before a closing quote takes the quote in: leave out the last backslash of the folder";
        (format!("there is no folder `{name}`"), help)
    } else if !folder.exists() {
        (format!("there is no folder `{name}`"), "give the folder that has project.toml in it")
    } else if !folder.is_dir() {
        (format!("`{name}` is no folder"), "give the folder that has project.toml in it")
    } else {
        // Some disks find a file under a name in other letters, and nothing that is written there would be read.
        let names = names_in(folder);
        if names.iter().any(|there| there == PROJECT) {
            return Ok(());
        }
        if let Some(other) = meant(&names, PROJECT) {
            let message = format!("there is no {PROJECT} in `{name}`, but there is `{other}`");
            return Err(Diagnostic::error("project::missing", message).help(format!("name it {PROJECT}, exactly so")));
        }
        let message = Diagnostic::error("project::missing", format!("there is no {PROJECT} in `{name}`"));
        let below = |inner: &String| !inner.starts_with('.') && folder.join(inner).join(PROJECT).is_file();
        return Err(message.help(match names.iter().filter(|inner| below(inner)).min() {
            Some(inner) => format!("there is one just below, in `{inner}`: give that folder, or go into it"),
            None => "give the project's folder, or begin one with `cotterpin begin FOLDER --country us`".to_owned(),
        }));
    };
    Err(Diagnostic::error("project::missing", message).help(help))
}
