//! The project that is written into: read again for every change, because an
//! editor may be open beside it.

use crate::command::edit::{self, Folder, Placed, Step, TRIES, appended, placed, steps_known};
use crate::command::messages::Messages;
use crate::command::project_rules::load_rules;
use cotterpin_engine::audit::{self, Audit, Finding};
use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::files::{ProjectFiles, read_project};
use cotterpin_engine::history::Saved;
use cotterpin_engine::ir::{ListId, Rules};
use cotterpin_engine::project::{
    self, Before, FileText, Header, JOB, JobSubject, PlainLogs, Record, jobs_of, record_names,
};
use cotterpin_engine::quantity::Date;
use cotterpin_engine::source::Sources;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// So many bytes are worth another worker.
const WORTH_A_WORKER: usize = 500_000;

/// What was written, and where.
#[derive(Debug, Clone, Default)]
pub(in crate::command) struct WrittenAt {
    pub(in crate::command) file: String,
    pub(in crate::command) line: usize,
}

/// A project with what is recorded of it now.
pub(in crate::command) struct Project {
    folder: PathBuf,
    /// As they were read last.
    files: ProjectFiles,
    pub(in crate::command) rules: Arc<Rules>,
    pub(in crate::command) record: Record,
    /// What of the record can be taken over as long as its files stay as they are.
    logs: PlainLogs,
    /// What `project.toml` says.
    pub(in crate::command) header: Header,
    /// What is wrong with what is recorded, as the errors say it.
    wrong: Vec<Diagnostic>,
    pub(in crate::command) on: Date,
    /// What this command has written, in its order.
    wrote: Vec<Written>,
}

/// What was written into one file: nothing before where it was not there.
pub(in crate::command) struct Written {
    before: Option<Vec<u8>>,
    now: FileText,
}

impl Written {
    pub(in crate::command) fn file(&self) -> &str {
        &self.now.name
    }
}

/// What the files say, what of it can be taken over, and the errors in it.
type ReadNow = (Header, Record, PlainLogs, Vec<Diagnostic>);

/// What is to be put into a file.
#[derive(Clone, Copy)]
pub(in crate::command) enum What<'a> {
    /// One value, as TOML.
    Value(&'a str),
    /// The records of a list, or entries of one kind, each with its heading.
    Records(&'a str),
}

/// One thing to put, and where it belongs.
#[derive(Clone, Copy)]
pub(in crate::command) struct Put<'a> {
    pub(in crate::command) way: &'a [Step],
    /// The file it has to stand in, where there is no choice.
    pub(in crate::command) file: Option<&'a str>,
    pub(in crate::command) what: What<'a>,
}

impl Project {
    /// Reads a project, however much of it is wrong, as long as its packs are known.
    pub(in crate::command) fn open(folder: &Path, on: Date) -> Result<Self, Messages> {
        let (files, rules) = load_rules(folder)?;
        let mut sources = Sources::default();
        let header = files.header_file.as_ref().and_then(|file| project::read_header(file, &mut sources).0);
        let Some(header) = header else { return Err(Messages::default()) };
        let (record, logs, wrong) = (Record::default(), PlainLogs::default(), Vec::new());
        let rules = rules.shared();
        let mut opened =
            Self { folder: folder.to_owned(), files, rules, record, logs, header, wrong, on, wrote: Vec::new() };
        opened.read_anew()?;
        Ok(opened)
    }

    /// The audit as it stands now, with reasons for what is open alone.
    pub(in crate::command) fn audit_of_open(&self) -> Audit {
        audit::audit_in_brief(&self.rules, &self.record, &self.request())
    }

    /// What one item comes to, by its full name, each open finding of it with its reasons.
    pub(in crate::command) fn findings_of(&self, item: &str) -> Vec<Finding> {
        audit::findings_of(&self.rules, &self.record, &self.request(), item)
    }

    /// How every finding stands now; nothing where so much is wrong that nothing is judged.
    pub(in crate::command) fn standing(&self) -> Option<Saved> {
        self.outline().as_ref().map(Saved::whole)
    }

    /// Whether not so much is wrong that nothing is judged.
    pub(in crate::command) fn judged(&self) -> bool {
        !self.wrong.iter().any(Diagnostic::stops)
    }

    /// An audit of verdicts alone, if anything can be judged.
    pub(in crate::command) fn outline(&self) -> Option<Audit> {
        self.judged().then(|| audit::audit_in_outline(&self.rules, &self.record, &self.request()))
    }

    fn request(&self) -> audit::Request {
        audit::Request { project: self.header.name.clone(), on: self.on, by: None, closing: None }
    }

    /// Whether there is a file of that name, with something in it.
    pub(in crate::command) fn has_file(&self, path: &str) -> bool {
        self.files.paths.iter().any(|known| known == path)
    }

    /// Reads the folder again.
    pub(in crate::command) fn refresh(&mut self) -> Result<(), Messages> {
        let files = self.files()?;
        self.refresh_from(files)
    }

    /// Takes over what was read from the folder since.
    pub(in crate::command) fn refresh_from(&mut self, files: ProjectFiles) -> Result<(), Messages> {
        if files != self.files {
            let before = self.taken_out(&files);
            let read = self.read(&files, before)?;
            self.put_in(read);
            self.files = files;
        }
        Ok(())
    }

    /// What is recorded, for a reading of other files: what they leave as it is need not be read again.
    fn taken_out(&mut self, files: &ProjectFiles) -> Option<Before> {
        let is_as_it_was = files.header_file == self.files.header_file && files.paths == self.files.paths;
        if !is_as_it_was {
            return None;
        }
        let (record, mut logs) = (std::mem::take(&mut self.record), std::mem::take(&mut self.logs));
        let known: BTreeMap<&str, &[u8]> =
            self.files.files.iter().map(|file| (file.name.as_str(), file.bytes.as_slice())).collect();
        let now: BTreeMap<&str, &[u8]> =
            files.files.iter().map(|file| (file.name.as_str(), file.bytes.as_slice())).collect();
        logs.retain(|name| now.get(name) == known.get(name));
        Some(Before { record, logs })
    }

    fn put_in(&mut self, (header, record, logs, wrong): ReadNow) {
        (self.header, self.record, self.logs, self.wrong) = (header, record, logs, wrong);
    }

    /// Reads the files once more as they were read last.
    fn read_anew(&mut self) -> Result<(), Messages> {
        let read = self.read(&self.files, None)?;
        self.put_in(read);
        Ok(())
    }

    /// What has been written by this command since this was asked last.
    pub(in crate::command) fn written(&mut self) -> Vec<Written> {
        std::mem::take(&mut self.wrote)
    }

    /// Takes out again what was written, the last first, as long as each file still says just that; a file that does
    /// not, and then nothing is done.
    pub(in crate::command) fn take_out(&mut self, written: &[Written]) -> Result<Option<String>, Messages> {
        let folder = Folder::open(&self.folder).map_err(Messages::one)?;
        // What each file says now, and has said before each of the writings.
        let mut says: BTreeMap<&str, Option<Vec<u8>>> = BTreeMap::new();
        for one in written.iter().rev() {
            let now = match says.get(one.file()) {
                Some(known) => known.clone(),
                None => folder.read(one.file()).map_err(Messages::one)?,
            };
            if now.as_ref() != Some(&one.now.bytes) {
                return Ok(Some(one.file().to_owned()));
            }
            says.insert(one.file(), one.before.clone());
        }
        for one in written.iter().rev() {
            if !folder
                .replace(one.file(), &one.now.bytes, one.before.as_deref().unwrap_or_default())
                .map_err(Messages::one)?
            {
                return Ok(Some(one.file().to_owned()));
            }
            // It was made for the answer, and says nothing now.
            if one.before.is_none() {
                folder.remove(one.file()).map_err(Messages::one)?;
            }
        }
        drop(folder);
        self.refresh()?;
        Ok(None)
    }

    /// Puts things where their ways lead: into their file, if that is known, or
    /// else where others of their group are; all of them, or none. Nothing is written that
    /// could not be read, or that makes wrong what was not.
    pub(in crate::command) fn put(&mut self, what: &[Put<'_>]) -> Result<Vec<WrittenAt>, Messages> {
        let folder = Folder::open(&self.folder).map_err(Messages::one)?;
        // An editor may put another record before one that is meant: it is known by its name.
        let meant: Vec<Option<String>> = what.iter().map(|put| self.record_of(put)).collect();
        let mut changing = String::new();
        for _ in 0..TRIES {
            self.refresh()?;
            if what.iter().zip(&meant).any(|(put, meant)| self.record_of(put) != *meant) {
                let message = "another program has changed these records meanwhile";
                let help = "look which one is meant, and try once more; nothing was written";
                return Err(Messages::one(Diagnostic::error("file::changing", message).help(help)));
            }
            match self.put_once(&folder, what)? {
                Ok(written) => return Ok(written),
                Err(file) => changing = file,
            }
        }
        Err(Messages::one(edit::changing(&changing)))
    }

    /// The same of one thing.
    pub(in crate::command) fn put_one(&mut self, what: Put<'_>) -> Result<WrittenAt, Messages> {
        Ok(self.put(&[what])?.into_iter().next().unwrap_or_default())
    }

    /// What the jobs of a file are about, in their order.
    pub(in crate::command) fn jobs_of(&self, file: &str) -> Vec<Option<JobSubject>> {
        self.files.files.iter().find(|known| known.name == file).map_or_else(Vec::new, jobs_of)
    }

    /// The names of a list's records, in their order.
    pub(in crate::command) fn record_names(&self, id: ListId) -> Vec<String> {
        self.record.lists.get(&id).map_or_else(Vec::new, |rows| record_names(&self.rules, id, rows))
    }

    /// The record that a way leads into, by its name, if it leads into one.
    fn record_of(&self, put: &Put<'_>) -> Option<String> {
        let way = put.way;
        let at = way.iter().position(|step| matches!(step, Step::Row(_)))?;
        let Some(Step::Row(row)) = way.get(at) else { return None };
        let keys = way.get(..at).unwrap_or(&[]).iter().filter_map(|step| match step {
            Step::Key(key) => Some(key.as_str()),
            Step::Row(_) => None,
        });
        let list = keys.collect::<Vec<_>>().join(".");
        if list == JOB {
            return self.jobs_of(put.file?).into_iter().nth(*row)?.map(|about| about.to_string());
        }
        let id = *self.rules.list_by_name.get(list.as_str())?;
        self.record_names(id).get(*row).cloned()
    }

    /// The same, or the file that another program saved meanwhile: then nothing is written.
    fn put_once(&mut self, folder: &Folder, what: &[Put<'_>]) -> Result<Result<Vec<WrittenAt>, String>, Messages> {
        let mut files = self.files.clone();
        let (mut written, mut changed): (Vec<WrittenAt>, Vec<(String, bool)>) = (Vec::new(), Vec::new());
        for put in what {
            let (name, placed) = self.tried(&files, put)?;
            let is_new = set(&mut files, &name, &placed.text);
            if !changed.iter().any(|(known, _)| *known == name) {
                changed.push((name.clone(), is_new));
            }
            written.push(WrittenAt { file: name, line: placed.line });
        }
        let before = self.taken_out(&files);
        let (header, record, logs, wrong) = self.read(&files, before)?;
        let new = new_errors(&self.wrong, &wrong);
        if !new.is_empty() {
            let mut messages = Messages::default();
            messages.add(&record.sources, new);
            self.read_anew()?;
            return Err(messages);
        }
        for (name, is_new) in changed {
            let bytes =
                |files: &ProjectFiles| files.files.iter().find(|file| file.name == name).map(|file| file.bytes.clone());
            let (was, now) = (bytes(&self.files).unwrap_or_default(), bytes(&files).unwrap_or_default());
            let done =
                if is_new { folder.create(&name, &now).map(|()| true) } else { folder.replace(&name, &was, &now) };
            if !matches!(done, Ok(true)) {
                self.read_anew()?;
                return done.map(|_| Err(name)).map_err(Messages::one);
            }
            self.wrote.push(Written { before: (!is_new).then_some(was), now: FileText { name, bytes: now } });
        }
        self.put_in((header, record, logs, wrong));
        self.files = files;
        Ok(Ok(written))
    }

    /// The first file that has room for it.
    fn tried(&self, files: &ProjectFiles, put: &Put<'_>) -> Result<(String, Placed), Messages> {
        let before = format!("replaced on {}: ", self.on);
        for name in homes(files, put.way, put.file) {
            let old = match files.files.iter().find(|file| file.name == name) {
                Some(file) => std::str::from_utf8(&file.bytes).ok(),
                // `project.toml`, or on some disks a name in other letters.
                None if self.folder.join(&name).symlink_metadata().is_ok() => None,
                None => Some(""),
            };
            // A file that is no TOML is told as that.
            if let Some(old) = old.filter(|_| put.file.is_some()) {
                edit::parsed(&name, old.as_bytes())?;
            }
            let placed = old.and_then(|old| match put.what {
                What::Value(value) => placed(old, put.way, value, &before),
                What::Records(records) => appended(old, put.way, records),
            });
            if let Some(placed) = placed {
                return Ok((name, placed));
            }
        }
        let message = "there is no place for it in the files as they are written";
        Err(Messages::one(Diagnostic::error("record::place", message).help("write it into one of them by hand")))
    }

    /// The files as they are now.
    pub(in crate::command) fn files(&self) -> Result<ProjectFiles, Messages> {
        let (files, found) = read_project(&self.folder);
        let mut messages = Messages::default();
        messages.add(&Sources::default(), found);
        if messages.any_error() { Err(messages) } else { Ok(files) }
    }

    /// What the files say, and the errors in it.
    fn read(&self, files: &ProjectFiles, before: Option<Before>) -> Result<ReadNow, Messages> {
        let mut sources = self.rules.sources.clone();
        let mut messages = Messages::default();
        let (header, found) = match &files.header_file {
            Some(file) => project::read_header(file, &mut sources),
            None => (None, Vec::new()),
        };
        let Some(header) = header else {
            messages.add(&sources, found);
            return Err(messages);
        };
        let all = (files.files.as_slice(), files.paths.as_slice());
        let bytes = files.files.iter().map(|file| file.bytes.len()).sum::<usize>();
        let cores = || std::thread::available_parallelism().map_or(1, usize::from);
        let workers = if bytes < WORTH_A_WORKER { 1 } else { cores() };
        let (record, more, logs) = project::read_after(all, &header, &self.rules, sources, (before, workers));
        let errors = found.into_iter().chain(more).filter(Diagnostic::is_error).collect();
        Ok((header, record, logs, errors))
    }
}

/// The errors that were not there before. They are told apart by what they say: their places have moved.
fn new_errors(before: &[Diagnostic], now: &[Diagnostic]) -> Vec<Diagnostic> {
    let mut known: Vec<(&str, &str)> = before.iter().map(|error| (error.code, &*error.message)).collect();
    let mut is_new = |error: &&Diagnostic| match known.iter().position(|one| *one == (error.code, &*error.message)) {
        Some(at) => {
            known.swap_remove(at);
            false
        }
        None => true,
    };
    now.iter().filter(|error| is_new(error)).cloned().collect()
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
