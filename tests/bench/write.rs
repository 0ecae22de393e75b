//! What a line costs that is written into a project of 50,000 entries: how much of
//! what is on the disk is parsed and read again for it, and how long it takes beside
//! an audit of the same project.

use super::{Line, clock, make, work};
use cotterpin_engine::audit::{Request, audit_in_brief, audit_in_outline};
use cotterpin_engine::history::{Saved, compare};
use cotterpin_engine::ir::Rules;
use cotterpin_engine::project::{Before, FileText, Header, Record, is_plain_log, read_after, read_header};
use cotterpin_engine::source::Sources;
use std::collections::BTreeMap;
use std::fmt::Write;

const ENTRIES: usize = 50_000;

/// `project.toml` with the people who stand in the log.
fn header(record: &Record, sources: &mut Sources) -> Header {
    let mut text = "name = \"Shed\"\npacks = [\"./shed\"]\n[people]\n".to_owned();
    for (short, person) in &record.people {
        let _ = writeln!(text, "{short} = {{ name = \"{}\", role = \"builder\" }}", person.name);
    }
    let (header, said) = read_header(&FileText { name: "project.toml".into(), bytes: text.into_bytes() }, sources);
    header.unwrap_or_else(|| panic!("{said:?}"))
}

/// The entries as the command writes them, a file for each month.
fn files(record: &Record) -> Vec<FileText> {
    let mut months: BTreeMap<String, String> = BTreeMap::new();
    for entry in &record.log {
        let day = entry.on.to_string();
        let on = if day.len() == 10 { day.clone() } else { format!("\"{day}\"") };
        let text = months.entry(day.chars().take(7).collect()).or_default();
        let _ = write!(
            text,
            "{}[[log]]\non = {on}\nwhat = \"{}\"\nsubject = \"{}\"\nwho = \"{}\"\nnote = \"looked at by daylight\"\n",
            if text.is_empty() { "" } else { "\n" },
            entry.event.words(),
            entry.subject,
            entry.who
        );
    }
    months
        .into_iter()
        .map(|(month, text)| FileText { name: format!("log/{month}.toml"), bytes: text.into_bytes() })
        .collect()
}

fn bytes<'f>(files: impl IntoIterator<Item = &'f FileText>) -> f64 {
    files.into_iter().map(|file| file.bytes.len()).sum::<usize>() as f64
}

/// The files before a line is written and after it, with the rules they are read against.
struct Project {
    rules: Rules,
    header: Header,
    sources: Sources,
    before: Vec<FileText>,
    after: Vec<FileText>,
}

impl Project {
    fn read(&self, files: &[FileText], before: Option<Before>) -> Before {
        let (record, said, logs) =
            read_after((files, &[]), &self.header, &self.rules, self.sources.clone(), (before, 1));
        assert!(said.is_empty() && record.log.len() >= ENTRIES, "{said:?}");
        Before { record, logs }
    }

    /// What was read before, for a reading after the line was written.
    fn as_it_was(&self, mut before: Before) -> Before {
        before.logs.retain(|name| self.unchanged().any(|file| file.name == name));
        before
    }

    fn unchanged(&self) -> impl Iterator<Item = &FileText> {
        self.after.iter().filter(|file| self.before.contains(file))
    }
}

fn project() -> Project {
    let rules = make::rules(make::log_text());
    let record = make::log_record(&rules, ENTRIES, false);
    let mut sources = rules.sources.clone();
    let header = header(&record, &mut sources);
    let before = files(&record);
    let mut after = before.clone();
    if let Some(month) = after.last_mut() {
        month
            .bytes
            .extend(b"\n[[log]]\non = 2026-10-02\nwhat = \"work done\"\nsubject = \"p.a1\"\nwho = \"ann\"\n".iter());
    }
    Project { rules, header, sources, before, after }
}

/// The figures.
pub(crate) fn lines() -> Vec<Line> {
    let project = project();
    let request = Request { project: String::new(), on: work::day(), by: None, closing: None };
    let outline = |record: &Record| audit_in_outline(&project.rules, record, &request);
    let plain = project.before.iter().filter(|file| std::str::from_utf8(&file.bytes).is_ok_and(is_plain_log));
    let parsed = 100.0 * (1.0 - bytes(plain) / bytes(&project.before));
    let again = 100.0 * (1.0 - bytes(project.unchanged()) / bytes(&project.after));
    let one_read = clock::milliseconds(7, || project.read(&project.before, None));
    let audit = clock::milliseconds(7, || {
        audit_in_brief(&project.rules, &project.read(&project.before, None).record, &request)
    });
    let write = clock::milliseconds(7, || {
        let before = project.read(&project.before, None);
        let stood = Saved::whole(&outline(&before.record));
        let after = project.read(&project.after, Some(project.as_it_was(before)));
        compare(&stood, &outline(&after.record))
    });
    vec![
        Line::new("a line written, 50,000 entries before it", write, None, "ms"),
        Line::new("  beside an audit of them", write / audit, 1.7, "x an audit"),
        Line::new("  of which to read them", one_read / audit, None, "of an audit"),
        Line::new("  their text", bytes(&project.before) / 1e6, None, "MB"),
        Line::new("  of it parsed as a tree", parsed, 0.0, "%"),
        Line::new("  of it read again after the write", again, 2.0, "%"),
    ]
}
