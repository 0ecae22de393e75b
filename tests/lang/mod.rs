//! The language: what each construct means, and what a mistake in it is told.
//!
//! `acceptance/` has a test named after each sentence of what the language
//! must mean; `samples` runs the page that documents it; `mistakes/` has one
//! sample per diagnostic; `limits` is what no sane pack would hold.

mod acceptance;
mod limits;
pub(crate) mod mistakes;
mod samples;

use crate::golden::recording;
use cotterpin::audit::{Audit, Finding, Request, Verdict, audit, run_examples};
use cotterpin::diagnostic::Diagnostic;
use cotterpin::measure::Date;
use cotterpin::record::{FileText, Header, Record, read};
use cotterpin::rules::{PackText, Rules, load_packs};
use cotterpin::source::{SourceId, Sources, Span};

/// Words most packs here need; every one of them is invented.
const WORDS: &str = r#"
hold-points
  visit  "Before the visit"
  flight "Before the first flight"
zones
  cabin "Cabin"
systems
  shed "Shed"
evidence
  photo       "A photograph"
  weigh-sheet "The signed sheet of readings"
roles
  builder   "The builder"
  inspector "The inspector"
"#;

/// What ends an item of the builder's own.
const OWN: &str = "by visit basis own cite common practice";

/// A pack of one file, with a good manifest.
fn pack(name: &str, uses: &[&str], text: &str) -> PackText {
    PackText {
        name: name.to_owned(),
        manifest: format!(
            "name = {name:?}\ntitle = \"Invented\"\nedition = \"1\"\nauthority = \"none\"\nscope = \"a shed\"\nuses = {uses:?}\n"
        ),
        files: vec![(format!("{name}.checklist"), text.to_owned().into())],
    }
}

/// The pack `mine`: the common words and this text.
fn mine(text: &str) -> PackText {
    pack("mine", &[], &format!("{WORDS}{text}"))
}

/// The rules of packs that must be right.
fn load(packs: &[PackText]) -> Rules {
    load_packs(packs).unwrap_or_else(|failed| panic!("{:#?}", told(&failed.0, &failed.1)))
}

/// Everything said of packs that must be wrong, with the texts it points into.
fn refused(packs: &[PackText]) -> (Sources, Vec<Diagnostic>) {
    match load_packs(packs) {
        Ok(_) => panic!("these packs load, and should not: {packs:#?}"),
        Err(failed) => {
            note(packs);
            *failed
        }
    }
}

/// Notes what the command says of packs that are wrong.
fn note(packs: &[PackText]) {
    let mut files: Vec<(String, &[u8])> = Vec::new();
    let mut named = Vec::new();
    for (n, pack) in packs.iter().enumerate() {
        let twice = packs[..n].iter().any(|other| other.name == pack.name);
        let folder = if twice { format!("{}-again", pack.name) } else { pack.name.clone() };
        files.push((format!("{folder}/pack.toml"), pack.manifest.as_bytes()));
        files.extend(pack.files.iter().map(|(file, text)| (format!("{folder}/{file}"), text.as_bytes())));
        named.push(format!("./{folder}"));
    }
    let project = format!("name = \"Shed\"\npacks = {named:?}\n");
    let mut files: Vec<(&str, &[u8])> = files.iter().map(|(path, bytes)| (path.as_str(), *bytes)).collect();
    files.push(("project.toml", project.as_bytes()));
    recording::note_project(&files);
}

/// Messages with the text each label underlines.
fn told(sources: &Sources, messages: &[Diagnostic]) -> Vec<String> {
    let labels = |message: &Diagnostic| -> Vec<String> {
        message.labels.iter().map(|label| sources.text(label.span).to_owned()).collect()
    };
    messages.iter().map(|m| format!("{}: {} {:?} help: {:?}", m.code, m.message, labels(m), m.help)).collect()
}

/// The codes of messages, each once.
fn codes(messages: &[Diagnostic]) -> Vec<&'static str> {
    let mut codes: Vec<_> = messages.iter().map(|message| message.code).collect();
    codes.sort_unstable();
    codes.dedup();
    codes
}

/// Asserts that every example comes out as written, and that there is one.
fn come_out(packs: &[PackText]) -> Rules {
    let rules = load(packs);
    let results = run_examples(&rules);
    assert!(!results.is_empty(), "no example was run");
    for result in &results {
        assert_eq!(
            result.got.word(),
            result.expected.word(),
            "{}, example {:?}: {:#?}",
            result.item,
            result.example,
            result.because
        );
    }
    rules
}

/// One item of the builder's own over these declarations, with examples that must come out.
fn comes_out(facts: &str, need: &str, tries: &str) -> Rules {
    come_out(&[mine(&format!("{facts}\nitem shed.door \"It is so\" need {need} {OWN}\n{tries}"))])
}

/// A header without a planned visit.
fn header(visit: Option<&str>) -> Header {
    let visit = visit.map(|day| cotterpin::measure::DateRange::parse(day).expect("a visit"));
    let nowhere = nowhere();
    Header {
        name: "Shed".to_owned(),
        country: None,
        packs: Vec::new(),
        visit,
        planned: Default::default(),
        closing: Default::default(),
        people: Default::default(),
        parts: Default::default(),
        a_day: None,
        place: nowhere,
    }
}

/// A span of an empty text.
fn nowhere() -> Span {
    let id: SourceId = Sources::default().add("nowhere", "");
    Span::new(id, 0, 0)
}

/// A project of one file `facts.toml`, audited; its reading must be clean.
fn audited(rules: &Rules, facts: &str, on: &str, visit: Option<&str>) -> Audit {
    audited_with(rules, facts, on, &header(visit))
}

/// The same, of a project with that header.
fn audited_with(rules: &Rules, facts: &str, on: &str, header: &Header) -> Audit {
    let mut sources = rules.sources.clone();
    let file = FileText { name: "facts.toml".to_owned(), bytes: facts.as_bytes().to_vec() };
    let paths = ["evidence/door.jpg".to_owned()];
    let (record, messages) = read(&[file], &paths, header, rules, &mut sources);
    assert!(messages.is_empty(), "{:#?}", told(&sources, &messages));
    audit(rules, &record, &sources, &request(on))
}

/// An audit with nothing recorded.
fn of_nothing(rules: &Rules) -> Audit {
    audit(rules, &Record::default(), &rules.sources, &request("2026-06-01"))
}

fn request(on: &str) -> Request {
    Request { project: "Shed".to_owned(), on: Date::parse(on).expect("a date"), by: None, closing: None }
}

/// The finding of that item; the test fails if there are several.
fn finding<'a>(audit: &'a Audit, item: &str) -> &'a Finding {
    let found: Vec<&Finding> = audit.findings.iter().filter(|finding| finding.item == item).collect();
    assert_eq!(found.len(), 1, "{item} among {:#?}", audit.findings);
    found[0]
}

/// The verdict on that item.
fn verdict(audit: &Audit, item: &str) -> Verdict {
    finding(audit, item).verdict
}
