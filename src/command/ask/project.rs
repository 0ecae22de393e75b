//! The project that is being asked about: read again for every answer, because
//! an editor may be open beside it.

use crate::command::args::AskArgs;
use crate::command::clock::today;
use crate::command::edit::{Folder, Placed, Step, appended, placed, steps_known};
use crate::command::messages::Messages;
use cotterpin_engine::audit::{self, Audit};
use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::files::{ProjectFiles, read_project};
use cotterpin_engine::ir::Rules;
use cotterpin_engine::project::{self, FileText, Record};
use cotterpin_engine::quantity::Date;
use cotterpin_engine::source::Sources;
use std::path::PathBuf;

/// What was written, and where.
#[derive(Debug, Clone)]
pub(super) struct WrittenAt {
    pub(super) file: String,
    pub(super) line: usize,
}

/// A project with what is recorded of it now.
pub(super) struct Project {
    pub(super) folder: PathBuf,
    pub(super) rules: Rules,
    pub(super) record: Record,
    name: String,
    pub(super) on: Date,
}

/// What is to be put into a file.
#[derive(Clone, Copy)]
pub(super) enum What<'a> {
    /// One value, as TOML.
    Value(&'a str),
    /// The records of a list, each with its heading.
    Records(&'a str),
}

impl Project {
    pub(super) fn new(args: &AskArgs, loaded: crate::command::load::Loaded) -> Result<Self, Messages> {
        let on = args.on.or_else(today).ok_or_else(|| {
            let message = Diagnostic::error("clock::unset", "the system clock says no usable date");
            Messages::one(message.help("give the day to judge: --on 2026-11-25"))
        })?;
        let crate::command::load::Loaded { name, rules, record, .. } = loaded;
        Ok(Self { folder: args.folder.clone(), rules, record, name, on })
    }

    pub(super) fn audit(&self) -> Audit {
        let request = audit::Request { project: self.name.clone(), on: self.on, by: None, closing: None };
        audit::audit(&self.rules, &self.record, &request)
    }

    /// Reads the folder again.
    pub(super) fn refresh(&mut self) -> Result<(), Messages> {
        let files = self.files()?;
        let record = self.read(&files)?;
        self.record = record;
        Ok(())
    }

    /// Puts something where the way leads: into `file`, if that is known, or
    /// else where others of its group are. Nothing is written unless the whole
    /// record can be read with it.
    pub(super) fn put(&mut self, way: &[Step], file: Option<&str>, what: What<'_>) -> Result<WrittenAt, Messages> {
        let folder = Folder::open(&self.folder).map_err(Messages::one)?;
        let mut files = self.files()?;
        let (name, placed) = self.tried(&files, way, file, what)?;
        let is_new = set(&mut files, &name, &placed.text);
        let record = self.read(&files)?;
        let write = if is_new { Folder::create } else { Folder::replace };
        write(&folder, &name, placed.text.as_bytes()).map_err(Messages::one)?;
        self.record = record;
        Ok(WrittenAt { file: name, line: placed.line })
    }

    /// The first file that has room for it.
    fn tried(
        &self,
        files: &ProjectFiles,
        way: &[Step],
        file: Option<&str>,
        what: What<'_>,
    ) -> Result<(String, Placed), Messages> {
        let before = format!("replaced on {}: ", self.on);
        for name in homes(files, way, file) {
            let old = match files.files.iter().find(|file| file.name == name) {
                Some(file) => std::str::from_utf8(&file.bytes).ok(),
                // `project.toml`, or on some disks a name in other letters.
                None if self.folder.join(&name).symlink_metadata().is_ok() => None,
                None => Some(""),
            };
            let placed = old.and_then(|old| match what {
                What::Value(value) => placed(old, way, value, &before),
                What::Records(records) => appended(old, way, records),
            });
            if let Some(placed) = placed {
                return Ok((name, placed));
            }
        }
        let message = "there is no place for it in the files as they are written";
        Err(Messages::one(Diagnostic::error("ask::place", message).help("write it into one of them by hand")))
    }

    fn files(&self) -> Result<ProjectFiles, Messages> {
        let (files, found) = read_project(&self.folder);
        let mut messages = Messages::default();
        messages.add(&Sources::default(), found);
        if messages.any_error() { Err(messages) } else { Ok(files) }
    }

    fn read(&self, files: &ProjectFiles) -> Result<Record, Messages> {
        let mut sources = self.rules.sources.clone();
        let mut messages = Messages::default();
        let (header, found) = match &files.header_file {
            Some(file) => project::read_header(file, &mut sources),
            None => (None, Vec::new()),
        };
        messages.add(&sources, found);
        let Some(header) = header else { return Err(messages) };
        let (record, found) = project::read(&files.files, &files.paths, &header, &self.rules, sources);
        messages.add(&record.sources, found);
        if messages.any_error() { Err(messages) } else { Ok(record) }
    }
}

/// The files to try, the best first: the one named; the one where most of the
/// way is already; the group's own; a new one beside it.
fn homes(files: &ProjectFiles, way: &[Step], file: Option<&str>) -> Vec<String> {
    if let Some(file) = file {
        return vec![file.to_owned()];
    }
    let mut best: Option<(usize, &str)> = None;
    for file in files.files.iter().filter(|file| !file.name.starts_with("log/")) {
        let groups = way.get(..way.len().saturating_sub(1)).unwrap_or(&[]);
        let known = std::str::from_utf8(&file.bytes).map_or(0, |text| steps_known(text, groups));
        if known > best.map_or(0, |(most, _)| most) {
            best = Some((known, &file.name));
        }
    }
    let group = match way {
        [Step::Key(group), _, ..] => group.as_str(),
        [Step::Key(only)] => only,
        _ => "facts",
    };
    let mut homes: Vec<String> = best.map(|(_, name)| name.to_owned()).into_iter().collect();
    homes.extend([format!("{group}.toml"), format!("{group}-answers.toml")]);
    homes
}

/// Changes one of the files, or adds it; whether it is a new one.
fn set(files: &mut ProjectFiles, name: &str, text: &str) -> bool {
    let bytes = text.as_bytes().to_vec();
    match files.files.iter_mut().find(|file| file.name == name) {
        Some(file) => {
            file.bytes = bytes;
            false
        }
        None => {
            files.files.push(FileText { name: name.to_owned(), bytes });
            true
        }
    }
}
