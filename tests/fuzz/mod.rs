//! Every way in with broken input: each text of `corpus` as it is, then as many
//! changed ones as stand below, by the seed of the run. A text that found
//! something joins the corpus.

mod mutation;
mod targets;

use crate::fixtures::seed::with_dice;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

/// Longer than any text may take, on the slowest of machines.
const LONG: Duration = Duration::from_secs(20);

/// The texts of a target by their path, sorted.
fn corpus(target: &str) -> Vec<(PathBuf, Vec<u8>)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fuzz/corpus").join(target);
    let entries = walkdir::WalkDir::new(folder).sort_by_file_name().into_iter().map(|entry| entry.unwrap());
    let files = entries.filter(|entry| entry.file_type().is_file());
    let texts: Vec<_> = files.map(|file| (file.path().to_owned(), std::fs::read(file.path()).unwrap())).collect();
    assert!(texts.len() >= 5, "{target} has {} texts", texts.len());
    texts
}

/// Shows the text if the test fails at it, and leaves it in a file.
struct Input<'a> {
    target: &'a str,
    bytes: &'a [u8],
}

impl Drop for Input<'_> {
    fn drop(&mut self) {
        if std::thread::panicking() {
            let file = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("fuzz-{}", self.target));
            let left = std::fs::write(&file, self.bytes);
            println!("{} failed at the text in {} ({left:?}):", self.target, file.display());
            println!("{}", self.bytes.escape_ascii().to_string().chars().take(4000).collect::<String>());
        }
    }
}

fn try_one(target: &str, run: fn(&[u8]), bytes: &[u8]) {
    let _input = Input { target, bytes };
    let begun = Instant::now();
    run(bytes);
    assert!(begun.elapsed() < LONG, "it took {:?}", begun.elapsed());
}

/// Each text as it is, and so many changed ones.
fn fuzz(target: &str, times: usize) {
    let (_, run) = targets::ALL.into_iter().find(|(name, _)| *name == target).expect("a target");
    let corpus = corpus(target);
    for (_, bytes) in &corpus {
        try_one(target, run, bytes);
    }
    let texts: Vec<Vec<u8>> = corpus.into_iter().map(|(_, bytes)| bytes).collect();
    with_dice(&[], |dice| {
        for _ in 0..times {
            let text: &Vec<u8> = dice.pick(&texts);
            let bytes = mutation::mutated(dice, text, &texts);
            try_one(target, run, &bytes);
        }
    });
    println!("{target}: {} texts as they are, {times} changed", texts.len());
}

#[test]
fn any_kept_audit() {
    fuzz("audit", 400);
}

#[test]
fn any_checklist() {
    fuzz("checklist", 150);
}

#[test]
fn any_files() {
    fuzz("files", 300);
}

#[test]
fn any_log() {
    fuzz("log", 600);
}

#[test]
fn any_manifest() {
    fuzz("manifest", 2000);
}

#[test]
fn any_project() {
    fuzz("project", 100);
}

#[test]
fn any_quantity() {
    fuzz("quantity", 4000);
}

#[test]
fn any_saved_audit() {
    fuzz("saved", 800);
}

#[test]
fn any_session() {
    fuzz("session", 200);
}

#[test]
fn any_typed_answer() {
    fuzz("typed", 60);
}

/// Each way in has its texts, and a test above.
#[test]
fn every_target_is_tried() {
    let folders = std::fs::read_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fuzz/corpus")).unwrap();
    let folders: BTreeSet<String> =
        folders.map(|folder| folder.unwrap().file_name().into_string().expect("a plain name")).collect();
    assert_eq!(folders, targets::ALL.iter().map(|(name, _)| (*name).to_owned()).collect());
    for (name, _) in targets::ALL {
        assert!(include_str!("mod.rs").contains(&format!("    fuzz({name:?}, ")), "no test tries {name}");
    }
}

#[test]
fn a_text_at_which_a_target_panics_is_found() {
    let caught = std::panic::catch_unwind(|| try_one("none", |bytes| assert!(bytes != b"x"), b"x"));
    assert!(caught.is_err());
}
