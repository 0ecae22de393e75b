//! What the command writes into a builder's folder: begin, log, ask.

mod ask;
mod begin;
mod log;
mod take_back;
mod together;

use crate::golden::named;
use crate::golden::recording::{self, Named};
use std::collections::BTreeMap;
use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

/// Those whose messages are golden.
pub(crate) const REFUSED: &[Named] = named![
    begin::nothing_is_ever_overwritten,
    begin::what_is_not_understood_makes_no_folder,
    log::snags_are_numbered_and_cleared_by_number,
    log::unknown_words_get_the_nearest_and_nothing_is_written,
    log::a_part_and_a_person_are_declared_in_the_same_go,
    log::a_file_that_cannot_be_read_is_never_touched,
    take_back::a_file_changed_since_stays_as_it_is,
];

/// A small pack of the tests' own.
const PACK: &str = r#"hold-points
  visit "Before the inspector's visit"
  first-flight "Before the first flight"
zones
  tail "Tail"
systems
  spar "Spar"
evidence
  photo "A photograph"
roles
  builder "The builder"
  helper "A helper"
  adviser "An adviser"
subjects
  spar.main "Main spar"
  spar.web  "Web of the spar"
  fuel.hoses "Fuel hoses"
fact spar.span : length, above 0 in
  ask "How long is the spar?" such as "96 in"
fact spar.kind : wood or metal or welded-steel
  ask "What is the spar made of?" such as "wood"
fact spar.straight : yes or no
  ask "Is it straight?"
fact spar.bolts : count
  ask "How many bolts hold it?" such as "8"
fact spar.tested : optional date
  ask "When was it tested?" such as "2026-10-04"
fact spar.maker : text
  ask "Who made it?" such as "the builder"
list spar.ribs
  ask "Each rib of the spar"
  field name : text
    ask "What is the rib called?" such as "r1"
  field chord : length, above 0 in
    ask "How long is its chord?" such as "40 in"
  field glued : yes or no
    ask "Is it glued?"
  named by name
item spar.long
  "The spar is long enough"
  need spar.span >= 90 in
  by visit basis common practice cite common practice
item spar.sound
  "The spar is sound"
  need spar.span >= 80 in and spar.kind is wood and spar.straight is yes and spar.bolts >= 6
    and spar.tested is not none and spar.maker is recorded
  by visit basis common practice cite common practice
item spar.rib for each rib in spar.ribs
  "Each rib is glued"
  need rib.glued is yes and rib.chord <= 50 in
  by visit basis common practice cite common practice
"#;

const MANIFEST: &str = "name = \"shed\"\ntitle = \"A pack for tests\"\nedition = \"2026-11-25\"\n\
                        authority = \"none: invented for tests\"\nscope = \"one spar\"\n";

/// Invented people, comments on every line that a careless writer would lose.
const PROJECT: &str = "# the bench\nname = \"Test bench\" # its name\npacks = [\"./shed\"]\n\n[people] # who\n\
                       # the builder\nrosa = { name = \"Rosa Example\", role = \"builder\" } # me\n\
                       tomas = { name = \"Tomas Sample\", roles = [\"helper\", \"adviser\"] }\n\n\
                       [parts] # mine\n# last comment\n";

/// A project folder of one test.
struct Shed {
    folder: PathBuf,
}

struct Said {
    status: Option<i32>,
    out: String,
    err: String,
}

impl Shed {
    fn empty(name: &str) -> Self {
        let runs = recording::runs().unwrap_or_else(|| "keep".to_owned());
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(runs).join(name);
        if folder.exists() {
            fs::remove_dir_all(&folder).expect("the old folder goes");
        }
        fs::create_dir_all(&folder).expect("the folder comes");
        Self { folder: folder.canonicalize().expect("there") }
    }

    /// With the pack and the people.
    fn new(name: &str) -> Self {
        Self::empty(name).file("project.toml", PROJECT).file("shed/pack.toml", MANIFEST).file("shed/r.checklist", PACK)
    }

    fn file(self, path: &str, bytes: impl AsRef<[u8]>) -> Self {
        let path = self.folder.join(path);
        fs::create_dir_all(path.parent().expect("a parent")).expect("the folder comes");
        fs::write(path, bytes).expect("written");
        self
    }

    fn command(&self, args: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_cotterpin"));
        command.args(args).current_dir(&self.folder);
        command.stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped());
        command
    }

    fn run(&self, args: &[&str]) -> Said {
        Said::new(&self.command(args).output().expect("it runs"))
    }

    /// Runs with lines to answer from.
    fn answer(&self, args: &[&str], answers: &str) -> Said {
        let mut child = self.command(args).stdin(Stdio::piped()).spawn().expect("it runs");
        let mut input = child.stdin.take().expect("a pipe");
        // A command that has ended reads no more.
        let _: std::io::Result<()> = input.write_all(answers.as_bytes());
        drop(input);
        Said::new(&child.wait_with_output().expect("it ends"))
    }

    fn text(&self, path: &str) -> String {
        fs::read_to_string(self.folder.join(path)).unwrap_or_else(|why| panic!("{path}: {why}"))
    }

    fn has(&self, path: &str) -> bool {
        self.folder.join(path).symlink_metadata().is_ok()
    }

    /// The entries of a file of the log, read by another reader than ours.
    fn entries(&self, path: &str) -> Vec<toml::Table> {
        let table: toml::Table = self.text(path).parse().unwrap_or_else(|why| panic!("{path}: {why}"));
        let entries = table.get("log").and_then(toml::Value::as_array).cloned().unwrap_or_default();
        entries.into_iter().map(|entry| entry.as_table().expect("a table").clone()).collect()
    }

    /// Every file that is not the command's own, with its bytes.
    fn snapshot(&self) -> BTreeMap<PathBuf, Vec<u8>> {
        let entries = walkdir::WalkDir::new(&self.folder).into_iter().map(|entry| entry.expect("walked"));
        let files =
            entries.filter(|entry| entry.file_type().is_file() && !entry.path().to_string_lossy().contains("/."));
        files.map(|entry| (entry.path().to_owned(), fs::read(entry.path()).expect("read"))).collect()
    }

    /// Refused with these words, and not one byte changed.
    fn refuses(&self, args: &[&str], parts: &[&str]) {
        let before = self.snapshot();
        let said = self.run(args);
        assert_eq!(self.snapshot(), before, "{args:?} changed something");
        recording::note(&self.folder, args, said.status.unwrap_or(-1), &said.err);
        said.refused(parts);
    }
}

impl Said {
    fn new(output: &Output) -> Self {
        let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).expect("UTF-8");
        Self { status: output.status.code(), out: text(&output.stdout), err: text(&output.stderr) }
    }

    fn fine(self, parts: &[&str]) -> Self {
        assert_eq!(self.status, Some(0), "{}{}", self.out, self.err);
        self.says(parts);
        self
    }

    fn says(&self, parts: &[&str]) {
        let out = words(&self.out);
        for part in parts {
            assert!(out.contains(part), "\"{part}\" is not in:\n{}\n{}", self.out, self.err);
        }
    }

    fn refused(&self, parts: &[&str]) {
        let err = words(&self.err);
        assert_eq!((self.status, self.out.as_str()), (Some(3), ""), "{}", self.err);
        assert!(err.contains("nothing was written") && !err.contains("panicked"), "{}", self.err);
        for part in parts {
            assert!(err.contains(part), "\"{part}\" is not in:\n{}", self.err);
        }
    }
}

fn words(text: &str) -> String {
    text.split(|c: char| c.is_whitespace() || c == '│').filter(|w| !w.is_empty()).collect::<Vec<_>>().join(" ")
}

/// Every line of the old text is in the new one, in the same order.
fn keeps_lines(old: &str, new: &str) {
    let mut lines = new.lines();
    for line in old.lines() {
        assert!(lines.any(|kept| kept == line), "\"{line}\" is gone from:\n{new}");
    }
}
