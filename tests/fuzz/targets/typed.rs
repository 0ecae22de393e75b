//! What a person types, after a command that writes and at its questions.

use super::ON;
use super::shed::{HEADER, MANIFEST, TEXT};
use cotterpin::command::{Status, run_asking, run_with};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};

/// So many lines are typed, and as many answers.
const MOST: usize = 12;

/// A folder that goes when it is done with.
struct Folder(PathBuf);

impl Folder {
    /// A new project of the small rules.
    fn new() -> Self {
        static NEXT: AtomicUsize = AtomicUsize::new(0);
        let name = format!("cotterpin-typed-{}-{}", std::process::id(), NEXT.fetch_add(1, Ordering::Relaxed));
        let folder = Self(std::env::temp_dir().join(name));
        let files = [
            ("project.toml", HEADER),
            ("packs/shed/pack.toml", MANIFEST),
            ("packs/shed/shed.checklist", TEXT),
            ("evidence/pins.jpg", "a picture"),
        ];
        for (path, text) in files {
            let path = folder.0.join(path);
            fs::create_dir_all(path.parent().expect("a folder")).expect("a folder");
            fs::write(path, text).expect("a file");
        }
        folder
    }

    fn path(&self) -> &Path {
        &self.0
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let gone = fs::remove_dir_all(&self.0);
        debug_assert!(gone.is_ok(), "{gone:?}");
    }
}

/// Options that anybody may type, with any value. Those that name a folder to write into are not among them.
const OPTIONS: [&str; 18] = [
    "who",
    "role",
    "on",
    "points",
    "fit",
    "instrument",
    "for",
    "snag",
    "takes",
    "by",
    "zone",
    "evidence",
    "part",
    "person",
    "all-but",
    "of",
    "not",
    "all",
];

fn is_taken(word: &str) -> bool {
    let option = word.trim_start_matches('-').split('=').next().unwrap_or_default();
    OPTIONS.contains(&option)
}

/// Each line is one command with `|` between its words; what stands after a line `ask` is typed at the questions.
/// Whatever was typed, the project can be judged afterwards as before.
pub(super) fn typed(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    let folder = Folder::new();
    let project = format!("--project={}", folder.path().display());
    let (commands, answers) = text.split_once("ask\n").unwrap_or((&text, ""));
    for line in commands.lines().take(MOST) {
        let mut words = line.split('|');
        let Some(command @ ("log" | "record" | "confirm")) = words.next() else { continue };
        let (options, rest): (Vec<&str>, Vec<&str>) = words.partition(|word| word.starts_with("--"));
        let options = options.into_iter().filter(|word| is_taken(word));
        let args = ["cotterpin", command, &project].into_iter().chain(options).chain(["--"]).chain(rest);
        run(&args.collect::<Vec<_>>(), "");
    }
    judged(&folder, commands);
    let answers: String = answers.split_inclusive('\n').take(MOST).collect();
    if !answers.is_empty() {
        run(&["cotterpin", "ask", &folder.path().to_string_lossy()], &answers);
        judged(&folder, &answers);
    }
}

fn run(args: &[&str], input: &str) {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let _: Status = run_asking(args, &mut input.as_bytes(), &mut out, &mut err, false);
}

/// Nothing that was written stops an audit.
fn judged(folder: &Folder, typed: &str) {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let args = ["cotterpin", "audit", &folder.path().to_string_lossy(), "--on", ON];
    let status = run_with(args, &mut out, &mut err, false);
    assert!(status != Status::NotDone, "after {typed:?}\n{}", String::from_utf8_lossy(&err));
}
