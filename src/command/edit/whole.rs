//! One file, written whole or not at all: the new text goes into a hidden file
//! beside it, reaches the disk, and takes the name in one step.

use cotterpin_engine::files::patiently;
use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::time::Duration;

/// The age at which a hidden file is nobody's any more.
const OLD: Duration = Duration::from_secs(3600);

/// Who else may be writing beside the same file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::command) enum Others {
    /// Nobody: a lock is held. What a killed run left is in nobody's use.
    LockedOut,
    /// Anybody: the hidden file has a name of this process's own.
    Possible,
}

/// Puts `bytes` in the place of a file, or makes it; its permissions stay.
pub(in crate::command) fn replace(path: &Path, bytes: &[u8], others: Others) -> io::Result<()> {
    let part = part(path, bytes, others, true)?;
    take_the_name(&part, path)?;
    settle(path);
    Ok(())
}

/// The same as long as the file still says what it was read as, or is not there and was not: whether it does. An editor
/// may have saved it while the new text was made, and knows nothing of locks.
pub(super) fn replace_unchanged(path: &Path, was: &[u8], bytes: &[u8], others: Others) -> io::Result<bool> {
    let part = part(path, bytes, others, true)?;
    let done = while_unchanged(path, was, || fs::rename(&part, path).map_err(in_use));
    match done {
        Ok(true) => settle(path),
        Ok(false) | Err(_) => remove(&part),
    }
    done
}

/// Does it if the file still says what it was read as; whether it did. Where another program is in the way, the file is
/// looked at again before every further try: that program may be saving it.
fn while_unchanged(path: &Path, was: &[u8], mut act: impl FnMut() -> io::Result<()>) -> io::Result<bool> {
    patiently(|| {
        let now = match fs::read(path) {
            Err(problem) if problem.kind() == io::ErrorKind::NotFound => Vec::new(),
            read => read?,
        };
        if now == was { act().map(|()| true) } else { Ok(false) }
    })
}

/// The same for what is a convenience only: nobody waits for the disk.
pub(super) fn replace_soon(path: &Path, bytes: &[u8], others: Others) -> io::Result<()> {
    let part = part(path, bytes, others, false)?;
    take_the_name(&part, path)
}

/// Makes a file that must not be there yet.
pub(in crate::command) fn create(path: &Path, bytes: &[u8], others: Others) -> io::Result<()> {
    let part = part(path, bytes, others, true)?;
    // A link, unlike a renaming, never takes the place of another file.
    let done = match fs::hard_link(&part, path) {
        Err(problem) if problem.kind() != io::ErrorKind::AlreadyExists && fs::symlink_metadata(path).is_err() => {
            patiently(|| fs::rename(&part, path).map_err(in_use))
        }
        done => done,
    };
    remove(&part);
    done?;
    settle(path);
    Ok(())
}

/// The new text on the disk, under a hidden name beside `path`.
fn part(path: &Path, bytes: &[u8], others: Others, sync: bool) -> io::Result<PathBuf> {
    let name = path.file_name().ok_or_else(|| io::Error::other("it names no file"))?.to_string_lossy();
    if path.is_dir() {
        return Err(io::Error::other("it is a folder"));
    }
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    writable(folder)?;
    let permissions = match fs::metadata(path) {
        Ok(there) => {
            writable(path)?;
            Some(there.permissions())
        }
        Err(_) => None,
    };
    let part = folder.join(match others {
        Others::LockedOut => format!(".{name}.part"),
        Others::Possible => format!(".{name}.{}.part", std::process::id()),
    });
    // What a killed run left.
    remove(&part);
    let write = || -> io::Result<()> {
        let mut file = OpenOptions::new().write(true).create_new(true).open(&part)?;
        file.write_all(bytes)?;
        if let Some(permissions) = permissions {
            file.set_permissions(permissions)?;
        }
        if sync { file.sync_all() } else { Ok(()) }
    };
    write().inspect_err(|_| remove(&part))?;
    if others == Others::Possible {
        clear(folder, &part);
    }
    Ok(part)
}

/// Hidden files of runs that were killed: named as [`part`] names them, and an hour older than one of now. No run takes
/// so long between making one and giving it its name.
fn clear(folder: &Path, now: &Path) {
    let made = |path: &Path| fs::symlink_metadata(path).and_then(|file| file.modified()).ok();
    let Some(now) = made(now) else { return };
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let is_ours =
            entry.file_name().to_str().is_some_and(is_part) && entry.file_type().is_ok_and(|kind| kind.is_file());
        let path = entry.path();
        if is_ours && made(&path).and_then(|then| now.duration_since(then).ok()).is_some_and(|age| age > OLD) {
            remove(&path);
        }
    }
}

/// `.2026-11-25.json.4711.part`
fn is_part(name: &str) -> bool {
    let number =
        name.strip_prefix('.').and_then(|name| name.strip_suffix(".part")).and_then(|name| name.rsplit_once('.'));
    number.is_some_and(|(file, number)| {
        !file.is_empty() && !number.is_empty() && number.bytes().all(|digit| digit.is_ascii_digit())
    })
}

fn take_the_name(part: &Path, path: &Path) -> io::Result<()> {
    patiently(|| fs::rename(part, path).map_err(in_use)).inspect_err(|_| remove(part))
}

/// Beside the file a new one could be written, and it is not marked: where Windows refuses its name all the same, another
/// program has it open.
fn in_use(problem: io::Error) -> io::Error {
    if cfg!(windows) && problem.kind() == io::ErrorKind::PermissionDenied {
        return io::Error::new(io::ErrorKind::ResourceBusy, problem);
    }
    problem
}

/// What stands against writing is said before anything is tried: renaming
/// would quietly replace a file that is marked as not to be written.
pub(super) fn writable(path: &Path) -> io::Result<()> {
    // On a folder the mark of Windows is about its looks, and says nothing of what is in it.
    if fs::metadata(path)?.permissions().readonly() && !(cfg!(windows) && path.is_dir()) {
        let message = if path.is_dir() { "its folder is marked" } else { "it is marked" };
        return Err(io::Error::other(format!("{message} as not to be written")));
    }
    Ok(())
}

/// The new name on the disk too. Not every system lets a folder be told.
pub(in crate::command) fn settle(path: &Path) {
    if let Some(folder) = path.parent().and_then(|folder| File::open(folder).ok()) {
        let _: io::Result<()> = folder.sync_all();
    }
}

/// A left-over that cannot be removed is hidden and harms nothing.
fn remove(path: &Path) {
    let _: io::Result<()> = fs::remove_file(path);
}

#[cfg(test)]
mod tests {
    use super::while_unchanged;
    use std::{env, fs, io, process};

    #[test]
    fn what_is_saved_between_two_tries_stays() {
        let path = env::temp_dir().join(format!("cotterpin-tries-{}.toml", process::id()));
        for (saves, done) in [(false, true), (true, false)] {
            fs::write(&path, "old").unwrap();
            let mut tries = 0;
            let did = while_unchanged(&path, b"old", || {
                tries += 1;
                match tries {
                    1 if saves => fs::write(&path, "of an editor").and(Err(io::ErrorKind::ResourceBusy.into())),
                    1 => Err(io::ErrorKind::ResourceBusy.into()),
                    _ => fs::write(&path, "ours"),
                }
            });
            assert_eq!(did.ok(), Some(done));
            assert_eq!(fs::read_to_string(&path).unwrap(), if saves { "of an editor" } else { "ours" });
        }
        fs::remove_file(&path).unwrap();
    }
}
