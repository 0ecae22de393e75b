//! Confirmations and concessions.

use super::{file, read_all, read_one, read_with, said};
use crate::golden::named;
use crate::golden::recording::Named;

/// Those whose messages are golden.
pub(crate) const GOLDEN: &[Named] = named![
    records_are_counted_from_one,
    what_names_no_record_is_told_at_its_place,
    what_lacks_a_key_does_not_count,
    what_is_malformed_does_not_count,
    a_person_of_the_project_speaks_in_a_role_of_theirs
];

const CONFIRMED: &str = "[[confirmed]]\nitem = \"fuel.plate\"\nwho = \"Ada\"\nrole = \"builder\"\non = 2026-10-04\n";
const CONCESSION: &str = "[[concession]]\nitem = \"fuel.run\"\nof = \"left\"\nreason = \"ordered\"\n\
     granted_by = \"Bo\"\nrole = \"Inspector\"\non = 2026-10-04\nuntil = \"2026-12\"\n";

/// The text without the line of that key.
fn without(text: &str, key: &str) -> String {
    text.lines().filter(|line| !line.starts_with(&format!("{key} "))).map(|line| format!("{line}\n")).collect()
}

#[test]
fn a_confirmation_is_read() {
    let of_each = CONFIRMED.replace("fuel.plate", "fuel.run");
    let reading = read_one(&format!("{of_each}of = 2\nholds = false\nnote = \"worn\"\n"));
    reading.nothing_wrong();
    let one = &reading.record.confirmations[0];
    assert_eq!((one.item.as_str(), one.subject.as_deref(), one.who.as_str()), ("fuel.run", Some("2"), "Ada"));
    assert_eq!((one.role.as_str(), one.holds, one.note.as_deref()), ("builder", false, Some("worn")));
    assert_eq!(one.on.first.to_string(), "2026-10-04");
    assert!(read_one(CONFIRMED).record.confirmations[0].holds);
}

/// What counts for nothing is told where it is written, before the audit.
#[test]
fn what_names_no_record_is_told_at_its_place() {
    let each = |of: &str| format!("{}{of}", CONFIRMED.replace("fuel.plate", "fuel.run"));
    let runs = "[[electrical.runs]]\nname = \"strobe\"\ncurrent = \"4 A\"\n";
    for (text, label, help) in [
        (each(""), "is judged for each record of electrical.runs", "write of = \"...\""),
        (
            format!("{}{runs}", each("")),
            "is judged for each record of electrical.runs",
            "write of = and one of \"strobe\"",
        ),
        (format!("{}{runs}", each("of = \"Strobe\"\n")), "no record is called `Strobe`", "did you mean `strobe`?"),
        (format!("{CONFIRMED}of = \"strobe\"\n"), "`of` has no meaning here", "take `of` out"),
        (format!("{CONCESSION}{runs}"), "no record is called `left`", "\"strobe\""),
    ] {
        let reading = read_one(&text);
        let message = reading.only("record::of");
        assert!(!message.is_error() && message.message.contains("does not count"), "{text}");
        let told = format!("{} {}", message.labels[0].text, message.help.as_deref().unwrap_or_default());
        assert!(told.contains(label) && told.contains(help), "{text}: {told}");
    }
    read_one(&format!("{}{runs}", each("of = \"strobe\"\n"))).nothing_wrong();
}

/// A number that no record has would else make it a word about the whole item.
#[test]
fn records_are_counted_from_one() {
    for (text, number) in
        [(CONFIRMED.to_owned(), "0"), (CONFIRMED.to_owned(), "-2"), (CONCESSION.replace("of = \"left\"\n", ""), "-1")]
    {
        let reading = read_one(&format!("{text}of = {number}\n"));
        assert!(said(reading.only("record::form")).contains("counted from 1"));
        assert!(reading.record.confirmations.is_empty() && reading.record.concessions.is_empty());
    }
}

#[test]
fn a_concession_is_read() {
    let reading = read_one(CONCESSION);
    reading.nothing_wrong();
    let one = &reading.record.concessions[0];
    assert_eq!((one.subject.as_deref(), one.granted_by.as_str(), one.role.as_str()), (Some("left"), "Bo", "inspector"));
    assert_eq!(one.until.last.to_string(), "2026-12-31");
}

#[test]
fn what_lacks_a_key_does_not_count() {
    for (text, keys) in [
        (CONFIRMED, &["item", "who", "role", "on"][..]),
        (CONCESSION, &["item", "reason", "granted_by", "role", "on", "until"][..]),
    ] {
        for key in keys {
            let reading = read_one(&without(text, key));
            assert!(said(reading.only("record::missing")).contains(&format!("its `{key}` is missing")));
            assert!(reading.record.confirmations.is_empty() && reading.record.concessions.is_empty());
        }
    }
}

#[test]
fn what_is_malformed_does_not_count() {
    for (text, code, words) in [
        (CONFIRMED.replace("\"Ada\"", "\" \""), "record::form", "this is empty"),
        (CONFIRMED.replace("\"Ada\"", "7"), "record::form", "a text in quotes"),
        (CONFIRMED.replace("builder", "buildr"), "record::role", "did you mean `builder`?"),
        (CONFIRMED.replace("2026-10-04", "\"soon\""), "value::date", "`on` is not right"),
        (format!("{CONFIRMED}holds = \"perhaps\"\n"), "record::form", "true or false"),
        (format!("{CONFIRMED}holdes = false\n"), "record::unknown", "did you mean `holds`?"),
        (CONCESSION.replace("\"2026-12\"", "2026-10-03"), "record::dates", "ends before it begins"),
        (CONFIRMED.replace("[[confirmed]]", "[confirmed]"), "record::form", "[[confirmed]]"),
        ("confirmed = [1]".to_owned(), "record::form", "[[confirmed]]"),
    ] {
        let reading = read_one(&text);
        let message = reading.only(code);
        assert!(said(message).contains(words), "`{words}` is not in: {}", said(message));
        assert!(reading.record.confirmations.is_empty() && reading.record.concessions.is_empty());
    }
}

#[test]
fn they_accumulate_over_files_in_a_fixed_order() {
    let later = CONFIRMED.replace("2026-10-04", "2026-11-01");
    let other = CONFIRMED.replace("fuel.plate", "an.item.no.pack.has");
    let reading = read_all(&[file("a.toml", format!("{later}{CONFIRMED}")), file("b.toml", other)], &[]);
    // That no pack has such an item is told.
    assert_eq!(reading.codes(), ["record::no-such-item"]);
    let order: Vec<(String, String)> =
        reading.record.confirmations.iter().map(|one| (one.item.clone(), one.on.to_string())).collect();
    let expected = [("an.item.no.pack.has", "2026-10-04"), ("fuel.plate", "2026-10-04"), ("fuel.plate", "2026-11-01")];
    assert_eq!(order, expected.map(|(item, on)| (item.to_owned(), on.to_owned())));
}

/// Somebody whom `project.toml` names speaks in a role given there, as in the log.
#[test]
fn a_person_of_the_project_speaks_in_a_role_of_theirs() {
    let confirmed = |who: &str, role: &str| CONFIRMED.replace("Ada", who).replace("builder", role);
    let granted = |who: &str, role: &str| CONCESSION.replace("Bo", who).replace("Inspector", role);
    for (who, role, fits) in [
        ("ada", "builder", true),
        ("ada", "inspector", false),
        ("Ada Example", "inspector", false),
        ("Example, ADA", "inspector", false),
        ("Ada", "inspector", false),
        ("cy", "inspector", true),
        ("Cy Specimen", "builder", true),
        // Who is not named may be anybody.
        ("Bo Inspecting", "inspector", true),
    ] {
        for text in [confirmed(who, role), granted(who, role)] {
            let reading = read_with(PEOPLE, &[file("facts.toml", &text)], &[]);
            let read = reading.record.confirmations.len() + reading.record.concessions.len();
            if fits {
                reading.nothing_wrong();
                assert_eq!(read, 1);
            } else {
                let message = said(reading.only("record::role"));
                assert!(message.contains(&format!("{who} is named in project.toml as builder")), "{message}");
                assert_eq!(read, 0);
            }
        }
    }
}

const PEOPLE: &str = "[people]\nada = { name = \"Ada Example\", role = \"builder\" }\n\
     cy = { name = \"Cy Specimen\", roles = [\"builder\", \"inspector\"] }\n";
