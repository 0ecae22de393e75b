//! `[[job]]` and `[shed]` as they are read, and what is said where they are wrong.

use super::{project, read, rules};
use crate::fixtures::messages::said;
use crate::golden::named;
use crate::golden::recording::Named;
use cotterpin_engine::plan::minutes_of;

/// Those whose messages are golden.
pub(crate) const GOLDEN: &[Named] = named![what_is_wrong_with_a_job_is_told, the_working_time_of_a_day_is_read];

const ITEM: &str = "fact shed.light : yes or no ask \"?\" item shed.light \"t\" need shed.light by visit basis own cite common practice";

/// The code and all words of the only message.
fn only(header: &str, facts: &str) -> (String, String) {
    let rules = rules(ITEM);
    let messages = read(&rules, header, facts).messages;
    assert_eq!(messages.len(), 1, "{facts}: {messages:#?}");
    assert!(!messages[0].labels.is_empty(), "it points nowhere");
    (messages[0].code.to_owned(), said(&messages[0]))
}

#[test]
fn what_is_wrong_with_a_job_is_told() {
    let light = "[[job]]\nabout = \"shed.light\"\n";
    for (facts, code, words) in [
        ("job = 3\n".to_owned(), "record::form", "begin each entry with [[job]]"),
        ("[[job]]\ntakes = \"1 h\"\n".to_owned(), "record::missing", "`about` is missing"),
        ("[[job]]\nabout = \"shed.ligth\"\n".to_owned(), "job::unknown", "did you mean `shed.light`?"),
        ("[[job]]\nabout = \"snag 4\"\n".to_owned(), "job::unknown", "log it first"),
        ("[[job]]\nabout = \"own:\"\n".to_owned(), "record::form", "say what it is"),
        (format!("{light}after = [\"own: spats\"]\n"), "job::unknown", "write a [[job]] about it"),
        (format!("{light}after = 3\n"), "record::form", "expected names such as"),
        (format!("{light}takes = \"3 lb\"\n"), "record::takes", "write a time such as"),
        (format!("{light}takes = \"0 h\"\n"), "record::takes", "write a time such as"),
        (format!("{light}takes = \"at least 1 h\"\n"), "record::takes", "write a time such as"),
        (format!("{light}zone = \"tial\"\n"), "record::zone", "did you mean \"tail\"?"),
        (format!("{light}by = \"vist\"\n"), "record::hold-point", "did you mean `visit`?"),
        (format!("{light}waits = \"a lamp\"\n"), "record::form", "expected { for ="),
        (format!("{light}waits = {{ ordered = 2026-11-02 }}\n"), "record::form", "say what it waits for"),
        (
            format!("{light}waits = {{ for = \"lamp\", expectd = 2026-11-02 }}\n"),
            "record::unknown",
            "did you mean `expected`?",
        ),
        (format!("{light}waits = {{ for = \"lamp\", expected = \"soon\" }}\n"), "value::date", "`expected`"),
        (
            format!("{light}waits = {{ for = \"lamp\", ordered = 2026-11-02, expected = 2026-11-01 }}\n"),
            "record::dates",
            "expected before it was ordered",
        ),
        (format!("{light}title = \"Change the lamp\"\n"), "job::own", "only a job of your own"),
        (format!("{light}done = 2026-11-01\n"), "job::own", "record what shows the item"),
        (format!("{light}{light}"), "job::twice", "write them as one"),
        (format!("{light}abuot = \"x\"\n"), "record::unknown", "did you mean `about`?"),
        ("[[job]]\nabout = \"own: spats\"\nof = \"left\"\n".to_owned(), "job::of", "only an item has records"),
    ] {
        let (found, said) = only("", &facts);
        assert_eq!(found, code, "{facts}: {said}");
        assert!(said.contains(words), "{facts}: {said}");
    }
}

#[test]
fn an_item_of_a_pack_not_in_use_is_a_remark() {
    let facts = "[[job]]\nabout = \"elsewhere/shed.light\"\n[[job]]\nabout = \"shed.light\"\nafter = [\"elsewhere/shed.gate\"]\n\
        [[job]]\nabout = \"shed.light\"\nof = \"left\"\n";
    let notices = project(ITEM, "", facts).plan().notices;
    assert_eq!(notices.len(), 3, "{notices:?}");
    assert!(notices.iter().any(|notice| notice.contains("`elsewhere/shed.light` is left out")), "{notices:?}");
    assert!(notices.iter().any(|notice| notice.contains("`elsewhere/shed.gate` is not waited for")), "{notices:?}");
    assert!(notices.iter().any(|notice| notice.contains("of left fits no record")), "{notices:?}");
}

#[test]
fn the_working_time_of_a_day_is_read() {
    for (written, minutes) in [("2", 120), ("2.5", 150), ("\"90 min\"", 90), ("24", 1440)] {
        let project = project("", &format!("[shed]\nhours-per-day = {written}"), "");
        assert_eq!(project.record.a_day.as_ref().map(minutes_of), Some(minutes));
        let plan = project.plan();
        assert_eq!((plan.a_day, plan.a_day_assumed), (minutes, false));
    }
    let plan = project("", "", "").plan();
    assert_eq!((plan.a_day, plan.a_day_assumed), (180, true));
    for (written, words) in [
        ("hours-per-day = 0", "at most 24"),
        ("hours-per-day = 25", "at most 24"),
        ("hours-per-day = -1", "at most 24"),
        ("hours-per-day = nan", "at most 24"),
        ("hours-per-day = \"2 lb\"", "at most 24"),
        ("hours-a-day = 3", "hours-per-day"),
    ] {
        let (_, said) = only(&format!("[shed]\n{written}"), "");
        assert!(said.contains(words), "{written}: {said}");
    }
}
