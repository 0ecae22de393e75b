//! Golden files: whole reports, whole messages and whole audits, as the command
//! gives them. A reworded sentence shows as a difference of one line.
//!
//! `cargo test renew_golden -- --ignored` writes all of them anew; what changed
//! is then for the reviewer of the commit to read.

mod audits;
mod difference;
#[cfg(unix)]
mod messages;
pub(crate) mod recording;
mod reports;

pub(crate) use recording::named;

use crate::cli::{Ran, Run};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

/// The day of every golden file.
pub(crate) const ON: &str = "2026-11-28";

const RENEW: &str = "cargo test renew_golden -- --ignored";

/// Texts by their path below `tests/golden`.
type Texts = BTreeMap<String, String>;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden")
}

/// The command's answer, run on a folder in which nothing changes.
pub(crate) fn said(run: Run, args: &[&str]) -> Ran {
    let ran = run.args(args).go();
    assert!(!ran.err.contains("panicked"), "{args:?}: {}", ran.err);
    ran
}

/// The text without the version of the engine, which a saved audit has.
fn unversioned(text: &str) -> String {
    let version = env!("CARGO_PKG_VERSION");
    let keys = ["engine", "engine_version", "version"];
    // With a blank in what is laid out, without in what stands in a line, and as a property of XML.
    let places =
        keys.iter().flat_map(|key| [format!("\"{key}\": "), format!("\"{key}\":"), format!("\"{key}\" value=")]);
    places.fold(text.to_owned(), |text, key| {
        text.replace(&format!("{key}\"{version}\""), &format!("{key}\"of this version\""))
    })
}

/// Every text is the one that is kept under its path.
fn hold(texts: &Texts) {
    assert!(!texts.is_empty(), "nothing is compared");
    let mut wrong = Vec::new();
    for (path, text) in texts {
        let text = &unversioned(text);
        assert!(!text.contains(env!("CARGO_MANIFEST_DIR")), "{path} names a folder of this machine");
        match fs::read_to_string(folder().join(path)) {
            Ok(kept) if kept == *text => {}
            Ok(kept) => wrong.push(format!("tests/golden/{path}\n{}", difference::lines(&kept, text))),
            Err(why) => wrong.push(format!("tests/golden/{path}: {why}")),
        }
    }
    assert!(
        wrong.is_empty(),
        "what the command says is no longer what is kept (- kept, + said now):\n\n{}\nIf that is meant: {RENEW}",
        wrong.join("\n")
    );
}

#[test]
fn audits_are_as_kept() {
    hold(&audits::texts("audits"));
}

#[test]
fn reports_are_as_kept() {
    hold(&reports::texts("reports"));
}

#[test]
fn freehand_is_taken_as_kept() {
    hold(&freehand());
}

/// What people write, and what it is taken as.
fn freehand() -> Texts {
    Texts::from([("freehand.txt".to_owned(), crate::record::freehand::page())])
}

/// Links, and the system's own words, are as unix has them.
#[cfg(unix)]
#[test]
fn messages_are_as_kept() {
    hold(&messages::texts("messages"));
}

/// A file that nothing is compared with any more holds nothing.
#[cfg(unix)]
#[test]
fn every_golden_file_is_of_use() {
    let known: BTreeSet<String> = all_paths();
    let unused: Vec<String> = kept().into_iter().filter(|path| !known.contains(path)).collect();
    assert!(unused.is_empty(), "nothing is compared with {unused:?}. If that is meant: {RENEW}");
}

/// Not a test: `cargo test renew_golden -- --ignored` writes every golden file anew.
#[test]
#[ignore = "writes the files of tests/golden"]
fn renew_golden() {
    // All of them are made before any is taken away: one that cannot be made leaves all as they are.
    let mut texts = audits::texts("renewed");
    texts.extend(reports::texts("renewed"));
    texts.extend(freehand());
    #[cfg(unix)]
    texts.extend(messages::texts("renewed"));
    for path in kept() {
        fs::remove_file(folder().join(path)).unwrap();
    }
    for (path, text) in texts {
        let file = folder().join(path);
        fs::create_dir_all(file.parent().unwrap()).unwrap();
        fs::write(file, unversioned(&text)).unwrap();
    }
}

/// The paths of all texts that are compared.
fn all_paths() -> BTreeSet<String> {
    let mut paths: BTreeSet<String> = audits::paths().into_iter().chain(reports::paths()).collect();
    #[cfg(unix)]
    paths.extend(messages::paths());
    paths.extend(freehand().into_keys());
    paths
}

/// The golden files there are, by their path below `tests/golden`.
fn kept() -> Vec<String> {
    let entries = walkdir::WalkDir::new(folder()).sort_by_file_name().into_iter().map(|entry| entry.unwrap());
    let files = entries.filter(|entry| entry.file_type().is_file());
    let paths = files.map(|entry| {
        let path = entry.path().strip_prefix(folder()).unwrap();
        path.to_string_lossy().replace('\\', "/")
    });
    paths.filter(|path| !path.ends_with(".rs")).collect()
}
