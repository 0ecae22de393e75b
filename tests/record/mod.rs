//! The builder's files, read into a record.

pub(crate) mod consequences;
pub(crate) mod evidence;
pub(crate) mod files;
pub(crate) mod lists;
mod pack;
pub(crate) mod people;
pub(crate) mod project;
pub(crate) mod values;

use crate::golden::recording;
use cotterpin::diagnostic::Diagnostic;
use cotterpin::record::{FileText, Header, Record, Recorded, read, read_header};
use cotterpin::rules::Rules;
use cotterpin::source::Sources;

/// A project read for a test, with all that is needed to ask about it.
struct Reading {
    rules: Rules,
    sources: Sources,
    record: Record,
    messages: Vec<Diagnostic>,
}

fn file(name: &str, text: impl AsRef<[u8]>) -> FileText {
    FileText { name: name.to_owned(), bytes: text.as_ref().to_vec() }
}

const HEADER: &str = "name = \"Shed\"\npacks = [\"./shed\"]\nvisit = 2026-12-01\n";

/// Notes what the command says of such a project.
fn note(project: &str, files: &[FileText], paths: &[String]) {
    let mut all = vec![
        ("project.toml", project.as_bytes()),
        ("shed/pack.toml", pack::MANIFEST.as_bytes()),
        ("shed/shed.checklist", pack::CHECKLIST.as_bytes()),
    ];
    all.extend(paths.iter().filter(|path| *path != "project.toml").map(|path| (path.as_str(), &b"light"[..])));
    all.extend(files.iter().map(|file| (file.name.as_str(), &*file.bytes)));
    recording::note_project(&all);
}

fn header(more: &str, sources: &mut Sources) -> Header {
    let text = format!("{HEADER}{more}");
    let (header, messages) = read_header(&file("project.toml", text), sources);
    header.unwrap_or_else(|| panic!("{messages:#?}"))
}

fn read_all(files: &[FileText], paths: &[&str]) -> Reading {
    read_with("", files, paths)
}

/// The same, with more in `project.toml`.
fn read_with(project: &str, files: &[FileText], paths: &[&str]) -> Reading {
    let rules = pack::rules();
    let mut sources = rules.sources.clone();
    let header = header(project, &mut sources);
    let paths: Vec<String> = paths.iter().map(|path| (*path).to_owned()).collect();
    let (record, messages) = read(files, &paths, &header, &rules, &mut sources);
    if !messages.is_empty() {
        note(&format!("{HEADER}{project}"), files, &paths);
    }
    Reading { rules, sources, record, messages }
}

fn read_one(text: &str) -> Reading {
    read_all(&[file("facts.toml", text)], &[])
}

impl Reading {
    fn fact(&self, name: &str) -> Option<&Recorded> {
        self.record.facts.get(self.rules.fact_by_name.get(name)?)
    }

    fn codes(&self) -> Vec<&str> {
        self.messages.iter().map(|message| message.code).collect()
    }

    /// The only message; the test fails if there is none or another.
    fn only(&self, code: &str) -> &Diagnostic {
        assert_eq!(self.codes(), [code], "{:#?}", self.messages);
        &self.messages[0]
    }

    /// File, line and column of a message's labels.
    fn places(&self, message: &Diagnostic) -> Vec<(String, u32, u32)> {
        let place = |span| self.sources.place(span);
        message.labels.iter().map(|label| place(label.span)).map(|p| (p.file, p.line, p.column)).collect()
    }

    fn nothing_wrong(&self) {
        assert_eq!(self.messages, [], "{:#?}", self.messages);
    }
}

/// Everything a message says, for a search in it.
fn said(message: &Diagnostic) -> String {
    let labels: Vec<&str> = message.labels.iter().map(|label| label.text.as_str()).collect();
    format!("{} | {} | {}", message.message, labels.join(" | "), message.help.as_deref().unwrap_or(""))
}
