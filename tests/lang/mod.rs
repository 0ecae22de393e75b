//! The language: what each construct means, and what a mistake in it is told.
//!
//! `acceptance/` has a test named after each sentence of what the language
//! must mean; `samples` runs the page that documents it; `mistakes/` has one
//! sample per diagnostic; `limits` is what no sane pack would hold.

mod acceptance;
mod limits;
pub(crate) mod mistakes;
mod samples;

use crate::fixtures::findings::{finding, verdict};
use crate::fixtures::messages::{codes, told};
use crate::fixtures::packs::{load, note, pack, refused};
use crate::fixtures::projects::{self, file, header, request};
use crate::fixtures::values::{all_whole, nowhere};
use cotterpin_engine::audit::{Audit, audit};
use cotterpin_engine::ir::Rules;
use cotterpin_engine::lint::run_examples;
use cotterpin_engine::project::{Header, Record, read};
use cotterpin_packs::PackText;

/// Words most packs here need; every one of them is invented.
pub(crate) const WORDS: &str = r#"
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
  builder   "The builder" may concede (advice, other)
  inspector "The inspector" may concede (law, advice, other)
"#;

/// What ends an item of the builder's own.
const OWN: &str = "by visit basis own cite common practice";

/// The pack `mine`: the common words and this text.
fn mine(text: &str) -> PackText {
    pack("mine", &[], &format!("{WORDS}{text}"))
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

/// A project of one file `facts.toml`, audited; its reading must be clean.
fn audited(rules: &Rules, facts: &str, on: &str, visit: Option<&str>) -> Audit {
    audited_with(rules, facts, on, &header(visit))
}

/// The same, of a project with that header.
fn audited_with(rules: &Rules, facts: &str, on: &str, header: &Header) -> Audit {
    let paths = ["evidence/door.jpg".to_owned()];
    let (mut record, messages) = read(&[file("facts.toml", facts)], &paths, header, rules, rules.sources.clone());
    assert!(messages.is_empty(), "{:#?}", told(&record.sources, &messages));
    all_whole(&mut record);
    audit(rules, &record, &request(on))
}

/// An audit with nothing recorded.
fn of_nothing(rules: &Rules) -> Audit {
    projects::audited(rules, &Record::default(), "2026-06-01")
}
