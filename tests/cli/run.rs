//! Runs the command on a project folder made for one test.

use crate::golden::recording;
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// A project folder and what to ask of it.
pub(crate) struct Run {
    folder: PathBuf,
    args: Vec<String>,
}

/// What came of it.
pub(crate) struct Ran {
    pub status: i32,
    pub out: String,
    pub err: String,
    folder: PathBuf,
    args: Vec<String>,
}

impl Run {
    /// An empty folder of that name, which no other test uses.
    pub(crate) fn new(name: &str) -> Self {
        let runs = recording::runs().unwrap_or_else(|| "cli".to_owned());
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(runs).join(name);
        if folder.exists() {
            fs::remove_dir_all(&folder).expect("the old folder goes");
        }
        fs::create_dir_all(&folder).expect("the folder comes");
        Self { folder: folder.canonicalize().expect("the folder is there"), args: Vec::new() }
    }

    /// Adds a file.
    pub(crate) fn file(self, path: &str, bytes: impl AsRef<[u8]>) -> Self {
        let path = self.folder.join(path);
        fs::create_dir_all(path.parent().expect("a parent")).expect("the folder comes");
        fs::write(path, bytes).expect("the file is written");
        self
    }

    /// Adds a file of that many zero bytes, which takes no room on disk.
    pub(crate) fn large(self, path: &str, length: u64) -> Self {
        let file = fs::File::create(self.folder.join(path)).expect("the file comes");
        file.set_len(length).expect("the file grows");
        self
    }

    /// Adds a link.
    #[cfg(unix)]
    pub(crate) fn link(self, path: &str, target: &str) -> Self {
        let path = self.folder.join(path);
        fs::create_dir_all(path.parent().expect("a parent")).expect("the folder comes");
        std::os::unix::fs::symlink(target, path).expect("the link is made");
        self
    }

    /// Adds words after `cotterpin`.
    pub(crate) fn args(mut self, args: &[&str]) -> Self {
        self.args.extend(args.iter().map(|arg| (*arg).to_owned()));
        self
    }

    /// Where the project is.
    pub(crate) fn folder(&self) -> &Path {
        &self.folder
    }

    /// Runs in the folder and keeps it, for a test of several steps.
    pub(crate) fn step(&self, args: &[&str]) -> Ran {
        Ran::new(&self.folder, args.iter().map(|arg| (*arg).to_owned()).collect())
    }

    /// Runs in the folder; no run may change a file.
    pub(crate) fn go(self) -> Ran {
        let before = snapshot(&self.folder);
        let ran = Ran::new(&self.folder, self.args);
        assert_eq!(before, snapshot(&self.folder), "a file changed");
        ran
    }
}

impl Ran {
    /// Runs with these words in the folder.
    fn new(folder: &Path, args: Vec<String>) -> Self {
        let mut command = Command::new(env!("CARGO_BIN_EXE_cotterpin"));
        let output = command.args(&args).current_dir(folder).output().expect("the command runs");
        Self {
            folder: folder.to_owned(),
            args,
            status: output.status.code().expect("it ended by itself"),
            out: String::from_utf8(output.stdout).expect("UTF-8"),
            err: String::from_utf8(output.stderr).expect("UTF-8"),
        }
    }

    /// Status 3, nothing on stdout, every part said on stderr, errors counted.
    pub(crate) fn refuses(&self, parts: &[&str]) {
        recording::note(&self.folder, &self.args, self.status, &self.err);
        let said = plain(&self.err);
        assert_eq!(self.status, 3, "{}", self.err);
        assert_eq!(self.out, "");
        assert!(!said.contains("panicked"), "{said}");
        for part in parts {
            assert!(said.contains(part), "\"{part}\" is not in:\n{}", self.err);
        }
        assert!(said.ends_with("nothing was judged."), "{said}");
    }

    /// Says each part in the report.
    pub(crate) fn reports(&self, parts: &[&str]) {
        let said = plain(&self.out);
        for part in parts {
            assert!(said.contains(part), "\"{part}\" is not in:\n{}\n{}", self.out, self.err);
        }
    }
}

/// Words without the rules and line breaks of the picture.
pub(super) fn plain(text: &str) -> String {
    text.split(|letter: char| letter.is_whitespace() || letter == '│')
        .filter(|word| !word.is_empty())
        .collect::<Vec<_>>()
        .join(" ")
}

/// Every entry with its bytes, or its length where it is large.
fn snapshot(folder: &Path) -> BTreeMap<PathBuf, String> {
    let mut entries = BTreeMap::new();
    for entry in walkdir::WalkDir::new(folder) {
        let entry = entry.expect("the folder can be walked");
        let state = match entry.file_type() {
            kind if kind.is_symlink() => {
                format!("link to {:?}", fs::read_link(entry.path()).expect("a link"))
            }
            kind if kind.is_dir() => "folder".to_owned(),
            _ if entry.metadata().expect("metadata").len() > 1_000_000 => {
                format!("{} bytes", entry.metadata().expect("metadata").len())
            }
            _ => format!("{:?}", fs::read(entry.path()).expect("the file is read")),
        };
        entries.insert(entry.path().to_owned(), state);
    }
    entries
}
