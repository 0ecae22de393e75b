//! What tests of mistakes are told, noted while they run: the golden messages
//! are of the very samples those tests try, and no sample is written twice.

use crate::cli::Run;
use std::cell::RefCell;
use std::path::Path;

/// A test by its name.
pub(crate) type Named = (&'static str, fn());

/// The named tests, for a list of those whose messages are kept.
macro_rules! named {
    ($($test:path),* $(,)?) => { &[$((stringify!($test), $test as fn())),*] };
}
pub(crate) use named;

/// A project, what was asked of the command, and what it said.
pub(super) struct Sample {
    /// The test it is of.
    pub(super) test: &'static str,
    /// The files by their path, sorted; what is not a short text is described.
    pub(super) files: Vec<(String, String)>,
    pub(super) args: String,
    pub(super) status: i32,
    pub(super) said: String,
}

struct Recording {
    test: &'static str,
    runs: String,
    samples: Vec<Sample>,
}

thread_local! {
    static RECORDING: RefCell<Option<Recording>> = const { RefCell::new(None) };
}

/// What these tests note, in their order; the folders of their runs have that name.
pub(super) fn samples(runs: &str, tests: &[Named]) -> Vec<Sample> {
    let recording = Recording { test: "", runs: runs.to_owned(), samples: Vec::new() };
    RECORDING.set(Some(recording));
    for (name, test) in tests {
        with(|recording| recording.test = name);
        test();
    }
    let samples = RECORDING.take().expect("it was begun").samples;
    for (name, _) in tests {
        assert!(samples.iter().any(|sample| sample.test == *name), "{name} is told nothing");
    }
    samples
}

fn with<T>(then: impl FnOnce(&mut Recording) -> T) -> Option<T> {
    RECORDING.with_borrow_mut(|recording| recording.as_mut().map(then))
}

/// Where the folders of runs are while something is noted, so that no other thread runs the same test there.
pub(crate) fn runs() -> Option<String> {
    with(|recording| recording.runs.clone())
}

/// Notes what the command said of a project in that folder.
pub(crate) fn note(folder: &Path, args: &[impl AsRef<str>], status: i32, said: &str) {
    with(|recording| {
        let args = args.iter().map(AsRef::as_ref).collect::<Vec<&str>>().join(" ");
        let sample = Sample { test: recording.test, files: files(folder), args, status, said: said.to_owned() };
        let same = |one: &Sample| one.files == sample.files && one.args == sample.args;
        if !recording.samples.iter().any(|one| one.test == sample.test && same(one)) {
            recording.samples.push(sample);
        }
    });
}

/// Audits a project of these files by the command, and notes what it says.
pub(crate) fn note_project(files: &[(&str, &[u8])]) {
    note_run(files, &["audit", "--on", super::ON]);
}

/// Runs the command in a folder of these files, and notes what it says.
pub(crate) fn note_run(files: &[(&str, &[u8])], args: &[&str]) {
    let Some(number) = with(|recording| recording.samples.len()) else { return };
    let mut run = Run::new(&format!("project-{number}"));
    for (path, bytes) in files {
        run = run.file(path, bytes);
    }
    let ran = run.step(args);
    note(run.folder(), args, ran.status, &ran.err);
}

/// The files below a folder as they are shown.
fn files(folder: &Path) -> Vec<(String, String)> {
    let entries = walkdir::WalkDir::new(folder).sort_by_file_name().into_iter().map(|entry| entry.unwrap());
    let files = entries.filter(|entry| !entry.file_type().is_dir());
    let path = |file: &walkdir::DirEntry| file.path().strip_prefix(folder).unwrap().to_str().unwrap().to_owned();
    // What the command remembers for itself is nothing that somebody wrote.
    files.map(|file| (path(&file), shown(&file))).filter(|(path, _)| !path.starts_with(".cotterpin/")).collect()
}

/// A short text as it is; of anything else enough to know it by.
fn shown(file: &walkdir::DirEntry) -> String {
    if file.file_type().is_symlink() {
        return format!("(a link to {})\n", std::fs::read_link(file.path()).unwrap().display());
    }
    let length = file.metadata().unwrap().len();
    if length > 1_000_000 {
        return format!("({length} bytes)\n");
    }
    let text = String::from_utf8_lossy(&std::fs::read(file.path()).unwrap()).into_owned();
    let mut short: String = text.chars().take(6000).collect();
    if short.len() < text.len() {
        short = format!("{}… ({length} bytes)", text.chars().take(200).collect::<String>());
    }
    if !short.ends_with('\n') && !short.is_empty() {
        short.push('\n');
    }
    short
}
