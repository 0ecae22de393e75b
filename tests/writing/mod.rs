//! What the command writes into a builder's folder: begin, log, record, confirm, ask.

mod ask;
mod begin;
mod confirm;
mod job;
mod log;
mod record;
mod take_back;
mod together;

use crate::fixtures::folder::Run;
use crate::golden::named;
use crate::golden::recording::Named;
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

/// Those whose messages are golden.
pub(crate) const GOLDEN: &[Named] = named![
    begin::nothing_is_ever_overwritten,
    begin::what_is_not_understood_makes_no_folder,
    job::what_is_no_job_is_refused_and_nothing_is_written,
    log::snags_are_numbered_and_cleared_by_number,
    log::unknown_words_get_the_nearest_and_nothing_is_written,
    log::a_part_and_a_person_are_declared_in_the_same_go,
    log::a_file_that_cannot_be_read_is_never_touched,
    record::what_no_pack_asks_for_is_refused,
    record::a_value_that_cannot_be_read_is_refused_with_the_question,
    record::a_record_needs_its_name_and_fields_that_are_known,
    record::what_is_alike_is_asked_for_by_all,
    confirm::what_nobody_is_asked_about_is_refused,
    confirm::a_word_is_that_of_whom_it_is_asked_of,
    confirm::a_list_is_called_whole_plainly,
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
  builder "The builder" may concede (advice, other)
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
#[derive(Clone)]
struct Shed(Run);

impl std::ops::Deref for Shed {
    type Target = Run;

    fn deref(&self) -> &Run {
        &self.0
    }
}

impl Shed {
    fn empty(name: &str) -> Self {
        Self(Run::new(&format!("keep-{name}")))
    }

    /// With the pack and the people.
    fn new(name: &str) -> Self {
        Self::empty(name).file("project.toml", PROJECT).file("shed/pack.toml", MANIFEST).file("shed/r.checklist", PACK)
    }

    fn file(self, path: &str, bytes: impl AsRef<[u8]>) -> Self {
        Self(self.0.file(path, bytes))
    }

    /// The entries of a file of the log, read by another reader than ours.
    fn entries(&self, path: &str) -> Vec<toml::Table> {
        let table: toml::Table = self.text(path).parse().unwrap_or_else(|why| panic!("{path}: {why}"));
        let entries = table.get("log").and_then(toml::Value::as_array).cloned().unwrap_or_default();
        entries.into_iter().map(|entry| entry.as_table().expect("a table").clone()).collect()
    }

    /// Every file that is not the command's own, with its bytes.
    fn snapshot(&self) -> BTreeMap<PathBuf, Vec<u8>> {
        let entries = walkdir::WalkDir::new(self.folder()).into_iter().map(|entry| entry.expect("walked"));
        let is_own = |path: &Path| path.components().any(|part| part.as_os_str().to_string_lossy().starts_with('.'));
        let files = entries.filter(|entry| entry.file_type().is_file() && !is_own(entry.path()));
        files.map(|entry| (entry.path().to_owned(), fs::read(entry.path()).expect("read"))).collect()
    }

    /// Refused with these words, and not one byte changed.
    fn refuses(&self, args: &[&str], parts: &[&str]) {
        let before = self.snapshot();
        let ran = self.step(args);
        assert_eq!(self.snapshot(), before, "{args:?} changed something");
        ran.refuses_to_write(parts);
    }
}

/// Every line of the old text is in the new one, in the same order.
fn keeps_lines(old: &str, new: &str) {
    let mut lines = new.lines();
    for line in old.lines() {
        assert!(lines.any(|kept| kept == line), "\"{line}\" is gone from:\n{new}");
    }
}
