//! What the outside checks share: packs from text, records, dice.

use cotterpin::audit::{Audit, Request, Verdict, audit};
use cotterpin::measure::{Date, Quantity, Unit};
use cotterpin::record::{FileText, Record, Recorded, Row, Rows, Value, read, read_header};
use cotterpin::rules::{FactId, ListId, PackText, Rules, built_in, load_packs};
use cotterpin::source::{Sources, Span};

/// One pack named `mine` from the text of its rules.
pub(super) fn rules(text: &str) -> Rules {
    let pack = PackText {
        name: "mine".into(),
        manifest: "name = 'mine'\ntitle = 'Mine'\nedition = '1'\nauthority = 'none'\nscope = 'a test'".into(),
        files: vec![("mine.checklist".into(), text.to_owned().into())],
    };
    load_packs(&[pack]).unwrap_or_else(|failed| {
        let (sources, messages) = *failed;
        for message in messages.iter().filter(|message| message.is_error()).take(6) {
            let places: Vec<String> = message.labels.iter().map(|label| line_of(&sources, label.span)).collect();
            println!("{}: {places:?}", message.message);
        }
        panic!("{} mistakes in the pack", messages.len())
    })
}

/// The line a message points at.
fn line_of(sources: &Sources, span: Span) -> String {
    let line = sources.place(span).line as usize;
    let text = sources.file(span.source).map_or("", |file| &file.text);
    text.lines().skip(line.saturating_sub(1)).take(2).collect::<Vec<_>>().join(" / ")
}

/// A built-in pack with all it builds on.
pub(super) fn built(name: &str) -> Rules {
    let texts = built_in(&[name]).expect("a built-in pack");
    load_packs(&texts).unwrap_or_else(|failed| panic!("{:#?}", failed.1))
}

/// An item of the pack `mine`; its need is all that differs.
pub(super) fn item(name: &str, need: &str) -> String {
    format!("item {name} \"A need\"\n  need {need}\n  by visit basis own cite common practice\n")
}

/// The words every pack of these tests needs.
pub(super) const HEAD: &str = "hold-points visit \"Before the visit\"\nsystems a \"A\"\n";

pub(super) fn date(text: &str) -> Date {
    Date::parse(text).unwrap_or_else(|_| panic!("{text} is no date"))
}

/// The audit of a record on a day.
pub(super) fn audited(rules: &Rules, record: &Record, on: &str) -> Audit {
    let request = Request { project: "Shed".into(), on: date(on), by: None, closing: None };
    audit(rules, record, &rules.sources, &request)
}

/// TOML facts, read as the builder's file and audited on a day.
pub(super) fn audited_toml(rules: &Rules, toml: &str, on: &str) -> Audit {
    let (record, sources) = from_files(rules, &[("facts.toml", toml)]);
    let request = Request { project: "Shed".into(), on: date(on), by: None, closing: None };
    audit(rules, &record, &sources, &request)
}

/// The record of some files, which must be without a mistake.
pub(super) fn from_files(rules: &Rules, files: &[(&str, &str)]) -> (Record, Sources) {
    let mut sources = rules.sources.clone();
    let file = |name: &str, text: &str| FileText { name: name.into(), bytes: text.as_bytes().to_vec() };
    let (header, messages) =
        read_header(&file("project.toml", "name = \"Shed\"\npacks = [\"./shed\"]\n"), &mut sources);
    let header = header.unwrap_or_else(|| panic!("{messages:#?}"));
    let files: Vec<FileText> = files.iter().map(|(name, text)| file(name, text)).collect();
    let (record, messages) = read(&files, &[], &header, rules, &mut sources);
    assert_eq!(messages, [], "{messages:#?}");
    (record, sources)
}

/// The verdict on the only finding of an item.
pub(super) fn verdict(audit: &Audit, item: &str) -> Verdict {
    let found: Vec<_> = audit.findings.iter().filter(|finding| finding.item == item).collect();
    let [one] = found.as_slice() else { panic!("{item} has {} findings", found.len()) };
    one.verdict
}

/// A place for values that stand in no file.
pub(super) fn nowhere() -> Span {
    Span::new(Sources::default().add("made", ""), 0, 0)
}

pub(super) fn recorded(value: Value, unit: Option<Unit>) -> Recorded {
    Recorded { value, text: String::new(), unit, place: nowhere() }
}

/// A quantity as a builder writes it.
pub(super) fn quantity(text: &str) -> Recorded {
    let quantity = Quantity::parse(text).unwrap_or_else(|error| panic!("{text}: {error}"));
    recorded(Value::Number(quantity.range), Some(quantity.unit))
}

pub(super) fn fact(rules: &Rules, name: &str) -> FactId {
    *rules.fact_by_name.get(name).unwrap_or_else(|| panic!("no fact {name}"))
}

pub(super) fn list(rules: &Rules, name: &str) -> ListId {
    *rules.list_by_name.get(name).unwrap_or_else(|| panic!("no list {name}"))
}

/// Records of a list, field by field.
pub(super) fn rows(rows: Vec<Vec<Option<Recorded>>>) -> Rows {
    let rows = rows.into_iter().map(|fields| Row { fields, place: nowhere() }).collect();
    Rows { rows, place: nowhere() }
}
