//! Lists of records.

use super::{Reading, file, read_all, read_one, said};
use crate::golden::named;
use crate::golden::recording::Named;
use cotterpin_engine::project::{Rows, Value};

/// Those whose messages are golden.
pub(crate) const GOLDEN: &[Named] = named![
    a_list_in_two_files_is_an_error,
    a_record_has_a_name_of_its_own,
    capitals_and_blanks_do_not_make_another_name,
    fields_are_read_like_facts
];

fn rows<'r>(reading: &'r Reading<'_>, name: &str) -> Option<&'r Rows> {
    reading.record.lists.get(reading.rules.list_by_name.get(name)?)
}

#[test]
fn records_are_tables_or_an_array() {
    for text in [
        "[[electrical.runs]]\nname = \"radio\"\ncurrent = \"2 A\"\n[[electrical.runs]]\nname = \"strobe\"\n",
        "electrical.runs = [{ name = \"radio\", current = \"2 A\" }, { name = \"strobe\" }]",
    ] {
        let reading = read_one(text);
        reading.nothing_wrong();
        let rows = rows(&reading, "electrical.runs").expect("recorded");
        let fields: Vec<usize> = rows.rows.iter().map(|row| row.fields.iter().flatten().count()).collect();
        assert_eq!(fields, [2, 1]);
        assert_eq!(rows.rows[1].fields[0].as_ref().map(|field| &field.value), Some(&Value::Text("strobe".to_owned())));
        assert_eq!(rows.rows[1].fields[1], None);
    }
}

#[test]
fn an_empty_list_is_recorded_and_an_unwritten_one_is_not() {
    let reading = read_one("electrical.runs = []");
    reading.nothing_wrong();
    assert_eq!(rows(&reading, "electrical.runs").map(|rows| rows.rows.len()), Some(0));
    assert_eq!(rows(&reading, "loads"), None);
}

#[test]
fn a_list_in_two_files_is_an_error() {
    let text = "[[loads]]\nname = \"nose\"\nmass = \"1 lb\"\n";
    let reading = read_all(&[file("a.toml", text), file("b.toml", text)], &[]);
    let places = reading.places(reading.only("fact::twice"));
    assert_eq!(places, [("b.toml".to_owned(), 1, 3), ("a.toml".to_owned(), 1, 3)]);
}

#[test]
fn a_record_has_a_name_of_its_own() {
    let twice = read_one("electrical.runs = [{ name = \"a\" }, { name = \"a\" }]");
    let message = twice.only("record::twice");
    assert_eq!(twice.places(message), [("facts.toml".to_owned(), 1, 45), ("facts.toml".to_owned(), 1, 29)]);
    let unnamed = read_one("[[electrical.runs]]\ncurrent = \"2 A\"\n");
    assert!(said(unnamed.only("record::missing")).contains("What the wire feeds"));
    read_one("electrical.runs = [{ name = 7 }]").only("value::kind");
    read_one("loads = [{ name = \"left\", mass = \"1 lb\" }, { name = \"right\", mass = \"1 lb\" }]").nothing_wrong();
}

/// One belt recorded twice would look like belts for two seats.
#[test]
fn capitals_and_blanks_do_not_make_another_name() {
    for other in ["Left", "left ", " LEFT", "left\u{a0}"] {
        let twice = read_one(&format!("electrical.runs = [{{ name = \"left\" }}, {{ name = \"{other}\" }}]"));
        assert!(said(twice.only("record::twice")).contains("first here, as `left`"), "{other}");
    }
    read_one("electrical.runs = [{ name = \"left 1\" }, { name = \"left 11\" }]").nothing_wrong();
}

#[test]
fn fields_are_read_like_facts() {
    let reading = read_one(
        "loads = [{ name = \"a\", mass = \"1 in\" }, { name = \"b\", mass = \"-1 lb\" }, { name = \"c\", mas = \"1 lb\" }]",
    );
    assert_eq!(reading.codes(), ["unit::mismatch", "fact::limits", "fact::unknown"]);
    assert!(said(&reading.messages[0]).contains("`loads.mass`"));
    assert!(said(&reading.messages[0]).contains("Its mass"));
    assert!(said(&reading.messages[2]).contains("did you mean `mass`?"));
}
