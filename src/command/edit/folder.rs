//! A project's folder, opened for writing.
//!
//! One process at a time holds its lock, and every file is written whole.
//! Whoever reads, and whoever pulls the plug, finds the old text or the new one.

use super::whole::{self, Others};
use crate::command::terminal::Clean;
use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::files::{bytes, is_project, name_on_disk, names_in, patiently, shown, what_to_do, why};
use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::thread::sleep;
use std::time::Duration;

/// What the command keeps for itself; hidden, so that no reader takes it for facts.
pub(in crate::command) const HIDDEN: &str = ".cotterpin";

/// So often a file is read and made anew, if another program saves it in between.
pub(in crate::command) const TRIES: usize = 8;

/// A second of trying.
const TRIES_BEFORE_TOLD: usize = 1000;
const BETWEEN: Duration = Duration::from_millis(1);

/// A project's folder, locked until it is dropped.
#[derive(Debug)]
pub(in crate::command) struct Folder {
    /// Without links.
    real: PathBuf,
    /// Held as long as the folder; none where nothing will be written.
    _lock: Option<File>,
}

impl Folder {
    /// Waits for the lock of a folder that has a `project.toml`.
    pub(in crate::command) fn open(folder: &Path) -> Result<Self, Diagnostic> {
        is_project(folder)?;
        Self::locked(folder)
    }

    /// A project to look at only: no lock, so that nothing at all is written.
    pub(in crate::command) fn look(folder: &Path) -> Result<Self, Diagnostic> {
        is_project(folder)?;
        let real = fs::canonicalize(folder).map_err(|problem| unwritable(folder, &problem))?;
        Ok(Self { real, _lock: None })
    }

    /// Waits for the lock of any folder.
    pub(in crate::command) fn locked(folder: &Path) -> Result<Self, Diagnostic> {
        let real = fs::canonicalize(folder).map_err(|problem| unwritable(folder, &problem))?;
        let hidden = real.join(HIDDEN);
        let path = hidden.join("lock");
        for path in [&hidden, &path] {
            if is_link(path) {
                return Err(outside(path));
            }
        }
        if !hidden.is_dir() {
            writable(&real)?;
            match fs::create_dir(&hidden) {
                Err(problem) if problem.kind() != io::ErrorKind::AlreadyExists => {
                    return Err(unwritable(&hidden, &problem));
                }
                _ => whole::settle(&hidden),
            }
        }
        let lock = patiently(|| OpenOptions::new().write(true).create(true).truncate(false).open(&path));
        let lock = lock.map_err(|problem| unwritable(&path, &problem))?;
        wait_for(&lock, &path).map_err(|problem| {
            Diagnostic::error("file::lock", format!("`{}` cannot be locked: {problem}", shown(&path)))
                .help("without a lock two commands could undo each other's lines; use a disk that can lock files")
        })?;
        Ok(Self { real, _lock: Some(lock) })
    }

    /// The bytes of a file of the project; none if it is not there.
    pub(in crate::command) fn read(&self, name: &str) -> Result<Option<Vec<u8>>, Diagnostic> {
        if fs::symlink_metadata(self.real.join(name)).is_err() {
            return Ok(None);
        }
        let path = self.inside(name)?;
        bytes(&path).map(Some).map_err(|problem| {
            Diagnostic::error("file::unreadable", format!("`{name}` cannot be read: {}", why(&problem)))
                .help(what_to_do(&problem, "see to it that the file is there and that you may read it"))
        })
    }

    /// The names of the files in one folder of the project, in order.
    pub(in crate::command) fn list(&self, folder: &str) -> Vec<String> {
        let mut names = names_in(&self.real.join(folder));
        names.sort();
        names
    }

    /// Makes a folder of the project, if it is not there.
    pub(in crate::command) fn folder(&self, name: &str) -> Result<(), Diagnostic> {
        let path = self.real.join(name);
        if fs::symlink_metadata(&path).is_ok() {
            return self.inside(name).map(|_| ());
        }
        writable(&self.real)?;
        fs::create_dir(&path).map_err(|problem| unwritable(&path, &problem))?;
        whole::settle(&path);
        Ok(())
    }

    /// Whether something of that name is there.
    pub(in crate::command) fn has(&self, name: &str) -> bool {
        fs::symlink_metadata(self.real.join(name)).is_ok()
    }

    /// Whether a file of exactly that name is there, on a disk too that finds it by other capitals.
    pub(in crate::command) fn has_exactly(&self, name: &str) -> bool {
        name_on_disk(&self.real, name).is_some_and(|there| there == name.strip_prefix("./").unwrap_or(name))
    }

    /// Puts `bytes` in the place of a file that says `was`, or makes it; its permissions stay. Says whether it did: an
    /// editor may have saved the file meanwhile, and then it stays as it is.
    pub(in crate::command) fn replace(&self, name: &str, was: &[u8], bytes: &[u8]) -> Result<bool, Diagnostic> {
        let path = self.inside(name)?;
        whole::replace_unchanged(&path, was, bytes, Others::LockedOut).map_err(|problem| unwritable(&path, &problem))
    }

    /// The same for what is a convenience only: nobody waits for the disk.
    pub(in crate::command) fn remember(&self, name: &str, bytes: &[u8]) -> Result<(), Diagnostic> {
        let path = self.inside(name)?;
        whole::replace_soon(&path, bytes, Others::LockedOut).map_err(|problem| unwritable(&path, &problem))
    }

    /// Makes a file that must not be there yet.
    pub(in crate::command) fn create(&self, name: &str, bytes: &[u8]) -> Result<(), Diagnostic> {
        let path = self.inside(name)?;
        whole::create(&path, bytes, Others::LockedOut).map_err(|problem| unwritable(&path, &problem))
    }

    /// Removes a file of the project, if it is there.
    pub(in crate::command) fn remove(&self, name: &str) -> Result<(), Diagnostic> {
        let path = self.inside(name)?;
        match patiently(|| fs::remove_file(&path)) {
            Err(problem) if problem.kind() != io::ErrorKind::NotFound => Err(unwritable(&path, &problem)),
            _ => Ok(()),
        }
    }

    /// The path of a file without links; it must lie in the project.
    fn inside(&self, name: &str) -> Result<PathBuf, Diagnostic> {
        let path = self.real.join(name);
        if let Some(other) = in_other_letters(&path) {
            let message = format!("`{name}` is to be written or read, and `{other}` is there");
            let help = format!("name that one `{}`: no audit reads it as it is named", last(&path));
            return Err(Diagnostic::error("file::not-read", message).help(help));
        }
        let real = if fs::symlink_metadata(&path).is_ok() {
            fs::canonicalize(&path).map_err(|_| outside(Path::new(name)))?
        } else {
            let folder = path.parent().unwrap_or(&self.real);
            let folder = fs::canonicalize(folder).map_err(|problem| unwritable(folder, &problem))?;
            folder.join(path.file_name().unwrap_or_default())
        };
        if real.starts_with(&self.real) { Ok(real) } else { Err(outside(Path::new(name))) }
    }
}

/// Locks it. Who waits longer than a second is told why.
fn wait_for(lock: &File, path: &Path) -> io::Result<()> {
    for _ in 0..TRIES_BEFORE_TOLD {
        match lock.try_lock() {
            Ok(()) => return Ok(()),
            Err(TryLockError::WouldBlock) => sleep(BETWEEN),
            // Some disks know no trying: the lock itself says what is wrong.
            Err(TryLockError::Error(_)) => return lock.lock(),
        }
    }
    let folder = path.parent().and_then(Path::parent).unwrap_or(path);
    let told = format!("Another command is writing into {}: waiting for it. Ctrl-C ends the waiting.\n", shown(folder));
    // Where nobody reads it, it waits all the same.
    let _: io::Result<()> = Clean::new(&mut io::stderr(), false).write_all(told.as_bytes());
    lock.lock()
}

/// A file was saved by another program again and again while it was to be written.
pub(in crate::command) fn changing(name: &str) -> Diagnostic {
    let message = format!("another program saves `{name}` again and again");
    Diagnostic::error("file::changing", message)
        .help("close it there, and try once more; it stays as that program saved it")
}

/// A file or folder beside the one meant, whose name is the same but for capitals: on
/// some disks it would be taken for it.
fn in_other_letters(path: &Path) -> Option<String> {
    let name = last(path);
    let names = names_in(path.parent()?);
    let is_itself = names.contains(&name);
    names.into_iter().find(|there| !is_itself && there.to_lowercase() == name.to_lowercase())
}

fn last(path: &Path) -> String {
    path.file_name().unwrap_or_default().to_string_lossy().into_owned()
}

/// Before a folder is made in another: see [`whole::writable`].
fn writable(path: &Path) -> Result<(), Diagnostic> {
    whole::writable(path).map_err(|problem| unwritable(path, &problem))
}

fn is_link(path: &Path) -> bool {
    fs::symlink_metadata(path).is_ok_and(|there| there.file_type().is_symlink())
}

fn outside(path: &Path) -> Diagnostic {
    let message = format!("`{}` is a link that leads out of the project, or nowhere", shown(path));
    Diagnostic::error("file::outside", message)
        .help("put a real file or folder in its place; nothing is written outside the project")
}

fn unwritable(path: &Path, problem: &io::Error) -> Diagnostic {
    let help = "see to it that you may write there and that the disk has room; nothing that was there has changed";
    Diagnostic::error("file::unwritable", format!("`{}` cannot be written: {}", shown(path), why(problem)))
        .help(what_to_do(problem, help))
}
