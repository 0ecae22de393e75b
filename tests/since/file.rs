//! The text of a saved audit: older, newer, broken.

use super::{audit, finding};
use crate::golden::named;
use crate::golden::recording::{self, Named};
use cotterpin::history::{Class, Saved, compare};
use cotterpin::report::since_text;
use cotterpin::vocabulary::Verdict;

/// Those whose messages are golden.
pub(crate) const GOLDEN: &[Named] = named![a_broken_file_says_what_is_wrong_and_what_to_do];

fn kept() -> String {
    let findings = vec![
        finding("us/marks.height", None, Verdict::Met, &[("marks.height", "12 in")]),
        finding(
            "us/fuel.flow",
            Some("linker Flügel"),
            Verdict::Unmet,
            &[("fuel.tanks[linker Flügel].rate", "1 gal/h")],
        ),
    ];
    Saved::of(&audit(findings)).to_text()
}

#[test]
fn it_names_no_file_and_no_line_and_is_small() {
    let text = kept();
    assert!(!text.contains("facts.toml") && !text.contains("line"), "{text}");
    assert!(text.contains("\"fuel.tanks[linker Flügel]\": {\"rate\":\"1 gal/h\"}"), "{text}");
    assert!(text.len() < 1000, "{} bytes", text.len());
}

#[test]
fn an_older_file_without_later_keys_is_read() {
    let text = r#"{"schema":"cotterpin-saved-audit","version":1,"on":"2020-02-29",
        "items":[{"item":"us/marks.height","findings":[{"verdict":"met"}]}]}"#;
    let saved = Saved::read("old.json", text.as_bytes()).expect("it is read");
    let changes = compare(&saved, &audit(vec![finding("us/marks.height", None, Verdict::Unmet, &[])]));
    assert_eq!((changes.count(Class::Worse), changes.was.on.as_str()), (1, "2020-02-29"));
}

#[test]
fn a_newer_file_is_read_as_far_as_it_is_known_and_that_is_said() {
    let text = kept()
        .replace("\"version\": 1", "\"version\": 7,\n  \"weather\": {\"wind\": [1, 2]}")
        .replace("\"verdict\":\"met\"", "\"verdict\":\"met\",\"mood\":\"good\"");
    let saved = Saved::read("new.json", text.as_bytes()).expect("it is read");
    assert!(saved.newer);
    let changes = compare(&saved, &audit(vec![finding("us/marks.height", None, Verdict::Met, &[])]));
    assert_eq!((changes.count(Class::Unchanged), changes.count(Class::Gone)), (1, 1));
    let said = since_text(&changes, "new.json", 80);
    assert!(said.contains("A newer version saved that audit"), "{said}");
}

#[test]
fn a_broken_file_says_what_is_wrong_and_what_to_do() {
    let whole = kept();
    let half = whole.get(..whole.len() / 3).unwrap_or_default().to_owned();
    for (text, code, part) in [
        (String::new(), "saved::form", "line 1"),
        (half, "saved::form", "EOF"),
        ("[]".to_owned(), "saved::form", "x.json"),
        ("{}".to_owned(), "saved::schema", "it has no `schema`"),
        (whole.replace("cotterpin-saved-audit", "cotterpin-audit/1"), "saved::schema", "`cotterpin-audit/1`"),
        (whole.replace("\"version\": 1", "\"version\": 0"), "saved::form", "`version`"),
        (whole.replace("\"version\": 1,", ""), "saved::form", "`version`"),
        (whole.replace("\"on\": \"2026-11-25\"", "\"on\": \"2026-11-31\""), "saved::date", "`x.json`"),
        (whole.replace("\"on\"", "\"off\""), "saved::form", "missing field `on`"),
        (whole.replace("\"verdict\":\"met\"", "\"verdict\":\"fine\""), "saved::verdict", "`us/marks.height`"),
        (whole.replace("\"verdict\":\"met\"", "\"verdict\":3"), "saved::form", "line"),
    ] {
        recording::note_run(&[("x.json", text.as_bytes())], &["since", "x.json", "--demo", "--on", "2026-11-28"]);
        let problem = Saved::read("x.json", text.as_bytes()).expect_err(&text);
        assert_eq!(problem.code, code, "{problem:?}");
        assert!(problem.message.contains(part), "{problem:?}");
        assert!(problem.help.is_some());
    }
    assert!(Saved::read("x.json", &[0xff, 0xfe, 0x00]).is_err());
    assert!(Saved::read("x.json", "[".repeat(100_000).as_bytes()).is_err());
}

#[test]
fn no_byte_taken_away_makes_it_panic() {
    let whole = kept();
    for end in 0..whole.len() {
        let _ = Saved::read("x.json", &whole.as_bytes()[..end]);
    }
}
