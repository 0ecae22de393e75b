//! What is tried with any bytes: one function for each way in. None of them
//! may panic or run away, and the same bytes twice come to the same.
//!
//! They rest on the library alone, so that a fuzzing engine can call them too (`tests/fuzz/long`).

mod embedder;
mod shed;
mod typed;

use cotterpin_engine::audit::{Audit, Finding, Request, audit};
use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::history::{Saved, compare, standing};
use cotterpin_engine::ir::Rules;
use cotterpin_engine::lint::run_examples;
use cotterpin_engine::plan::{self, plan};
use cotterpin_engine::project::freehand::{Asked, Freehand, date as date_asked, quantity as quantity_asked};
use cotterpin_engine::project::{FileText, Record, read, read_header};
use cotterpin_engine::quantity::{Date, DateRange, Dimension, Exact, Quantity, Unit};
use cotterpin_engine::report;
use cotterpin_engine::rules::{load_packs, load_packs_to_audit};
use cotterpin_engine::source::Sources;
use cotterpin_packs::{LIBRARY, PackText, built_in};
use std::sync::LazyLock;

/// A way in, by the name of its folder in `tests/fuzz/corpus`.
pub(crate) type Target = (&'static str, fn(&[u8]));

pub(crate) const ALL: [Target; 10] = [
    ("audit", embedder::kept_audit),
    ("checklist", checklist),
    ("files", embedder::files),
    ("log", embedder::log),
    ("manifest", manifest),
    ("project", project),
    ("quantity", quantity),
    ("saved", saved),
    ("session", embedder::session),
    ("typed", typed::typed),
];

const ON: &str = "2026-11-28";

/// What comes of something, which must be the same again.
fn twice(result: impl Fn() -> String) {
    let (one, other) = (result(), result());
    assert!(one == other, "the same bytes twice:\n{one}\n\nand then:\n{other}");
}

/// Messages in words; every label points at whole characters of a file that is there.
fn told(sources: &Sources, messages: &[Diagnostic]) -> String {
    for label in messages.iter().flat_map(|message| &message.labels) {
        let file = sources.file(label.span.source).expect("a file");
        assert!(file.text.get(label.span.range()).is_some(), "{label:?} in {:?}", file.text);
    }
    format!("{messages:#?}")
}

fn request() -> Request {
    Request { project: "any".to_owned(), on: Date::parse(ON).expect("a day"), by: None, closing: None }
}

/// Packs read, with their examples run and nothing recorded.
fn loaded(packs: &[PackText]) -> String {
    match load_packs(&LIBRARY, packs) {
        Err(failed) => {
            assert!(failed.1.iter().any(Diagnostic::is_error), "refused, and nothing says why");
            told(&failed.0, &failed.1)
        }
        Ok(rules) => {
            let examples: Vec<_> = run_examples(&rules).into_iter().map(|result| result.got.word()).collect();
            let audit = audit(&rules, &Record::default(), &request());
            format!("{} {examples:?} {}", told(&rules.sources, &rules.warnings), report::json(&audit))
        }
    }
}

/// The text of a pack that builds on the common words.
fn checklist(bytes: &[u8]) {
    let mut packs = built_in(&["common"]).expect("it is built in");
    packs.push(PackText {
        name: "mine".to_owned(),
        manifest: "name='mine'\ntitle='Mine'\nedition='1'\nauthority='none'\nscope='any'\nuses=['common']".to_owned(),
        files: vec![("mine.checklist".to_owned(), String::from_utf8_lossy(bytes).into_owned().into())],
    });
    twice(|| loaded(&packs));
}

/// The text of a `pack.toml`.
fn manifest(bytes: &[u8]) {
    let text = "fact shed.open : yes or no ask \"?\"".to_owned();
    let pack = PackText {
        name: "mine".to_owned(),
        manifest: String::from_utf8_lossy(bytes).into_owned(),
        files: vec![("mine.checklist".to_owned(), text.into())],
    };
    twice(|| loaded(std::slice::from_ref(&pack)));
}

static RULES: LazyLock<Rules> = LazyLock::new(|| {
    let packs = built_in(&["us", "workmanship"]).expect("they are built in");
    load_packs_to_audit(&LIBRARY, &packs).unwrap_or_else(|failed| panic!("{:#?}", failed.1))
});

/// A project's files, each after a line `#file NAME`.
fn project(bytes: &[u8]) {
    let files = files(bytes);
    twice(|| {
        let mut sources = RULES.sources.clone();
        let Some(header) = files.iter().find(|file| file.name == "project.toml") else { return String::new() };
        let (header, mut messages) = read_header(header, &mut sources);
        let Some(header) = header else { return told(&sources, &messages) };
        let paths: Vec<String> = files.iter().map(|file| file.name.clone()).collect();
        let (record, more) = read(&files, &paths, &header, &RULES, sources);
        messages.extend(more);
        let told = told(&record.sources, &messages);
        // What the command would not judge must do no harm to an embedder who does.
        format!("{told} {}", reported(&record))
    });
}

/// Everything that is reported of a record.
fn reported(record: &Record) -> String {
    let audit = audit(&RULES, record, &request());
    let on = request().on;
    let planned = plan(&RULES, record, &audit, plan::Request { on, time: Some(120), a_day: None });
    let close_up = plan::close_up(&RULES, record, &audit, on);
    let saved = Saved::of(&audit);
    let changes = compare(&saved, &audit);
    assert!(changes.is_empty(), "an audit differs from itself: {changes:#?}");
    assert_eq!(Saved::read("saved.json", saved.to_text().as_bytes()).as_ref(), Ok(&saved));
    let findings: Vec<&Finding> = audit.findings.iter().take(20).collect();
    [
        report::json(&audit),
        report::sarif(&audit, Some(&standing(&saved, &audit))),
        report::junit(&audit),
        report::csv(&audit),
        report::text(&redacted(record, &audit), 80),
        report::text(&audit, 80),
        report::why(&audit, &findings, 80),
        report::next_text(&planned, 80),
        report::close_up_text(&close_up, 80),
        report::questions_text(&RULES, record, None),
    ]
    .concat()
}

/// The audit with stand-ins, and as many findings.
fn redacted(record: &Record, audit: &Audit) -> Audit {
    let mut redacted = audit.clone();
    report::StandIns::of(&RULES, record).put_into(&mut redacted);
    assert_eq!(redacted.findings.len(), audit.findings.len());
    redacted
}

fn files(bytes: &[u8]) -> Vec<FileText> {
    const MARK: &[u8] = b"#file ";
    let mut files: Vec<FileText> = Vec::new();
    for line in bytes.split_inclusive(|byte| *byte == b'\n') {
        match (line.strip_prefix(MARK), files.last_mut()) {
            (Some(name), _) => {
                files.push(FileText { name: String::from_utf8_lossy(name).trim().to_owned(), bytes: Vec::new() });
            }
            (None, Some(file)) => file.bytes.extend(line),
            (None, None) => {}
        }
    }
    files
}

/// A quantity, a unit, a number or a date, as a builder writes it.
fn quantity(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    let text = text.as_ref();
    twice(|| {
        if let Err(error) = Quantity::parse(text) {
            assert!(text.get(error.at.clone()).is_some(), "{error:?}");
        }
        let kinds = Dimension::names().filter_map(Dimension::named);
        let freehand: Vec<_> = kinds.map(|kind| asked(text, kind)).collect();
        if let Ok(range) = DateRange::parse(text) {
            assert_eq!(DateRange::parse(&range.to_string()), Ok(range));
        }
        if let Ok(date) = Date::parse(text) {
            assert_eq!(Date::parse(&date.to_string()), Ok(date));
        }
        format!(
            "{freehand:?} {:?} {:?} {:?} {:?} {:?} {:?}",
            date_asked(text),
            Quantity::parse(text).map(|quantity| (quantity.to_string(), quantity.range.to_interval())),
            Unit::parse(text),
            Exact::parse(text),
            Date::parse(text),
            DateRange::parse(text)
        )
    });
}

/// What a text is where a quantity of a kind is asked; its strict form is read as it stands, and means the same.
fn asked(text: &str, kind: Dimension) -> String {
    let read = quantity_asked(text, &Asked::of(kind));
    if let Ok(Freehand { value, strict: Some(strict) }) = &read {
        assert_eq!(Quantity::parse(strict).as_ref(), Ok(value), "{strict}");
    }
    read.map_or_else(|why| why.to_string(), |read| format!("{read:?}"))
}

/// An audit with nothing recorded.
static NOTHING: LazyLock<Audit> = LazyLock::new(|| audit(&RULES, &Record::default(), &request()));

/// A saved audit, compared with one of a project in which nothing is recorded.
fn saved(bytes: &[u8]) {
    twice(|| match Saved::read("saved.json", bytes) {
        Err(message) => format!("{message:?}"),
        Ok(saved) => {
            let text = saved.to_text();
            assert_eq!(Saved::read("again.json", text.as_bytes()).map(|again| again.to_text()), Ok(text));
            let changes = compare(&saved, &NOTHING);
            format!(
                "{}{}",
                report::since_text(&changes, "saved.json", 80),
                report::since_json(&changes, "saved.json", &[])
            )
        }
    });
}
