//! The text of a saved audit: older, newer, broken.

use super::{audit, finding};
use crate::cli::Run;
use crate::golden::named;
use crate::golden::recording::{self, Named};
use cotterpin_engine::audit::ObservedValue;
use cotterpin_engine::history::{Class, Saved, compare};
use cotterpin_engine::vocabulary::Verdict;

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
fn a_newer_file_is_refused() {
    let text = kept().replace("\"version\": 2", "\"version\": 3,\n  \"weather\": {\"wind\": [1, 2]}");
    let refused = Saved::read("new.json", text.as_bytes()).expect_err("it is newer");
    assert_eq!(refused.code, "saved::newer");
    assert!(refused.message.contains("version 3") && refused.message.contains("up to version 2"), "{refused:?}");
}

/// A builder may write so of a placard; only the first form has sentences in the place of values.
#[test]
fn a_text_that_reads_like_a_sentence_of_the_first_form_is_kept_as_it_is() {
    let read = |version: u32| {
        let text = format!(
            r#"{{"schema":"cotterpin-saved-audit","version":{version},"on":"2026-02-28","values":{{"a.b":"not recorded","a.c":"3 records"}}}}"#
        );
        let saved = Saved::read("saved.json", text.as_bytes()).expect("it is read");
        ["a.b", "a.c"].map(|name| saved.values[name].clone())
    };
    let texts = ["not recorded", "3 records"].map(|text| ObservedValue::Recorded(text.to_owned()));
    assert_eq!((read(2), read(1)), (texts, [ObservedValue::NotRecorded, ObservedValue::Records(3)]));
}

/// Saved by the version of 28 November 2026, which wrote sentences.
#[test]
fn a_file_of_the_first_form_says_the_same_of_the_same_audit() {
    let run = Run::new("since-first-form");
    let first = include_str!("data/first-form.json").replace("of this version", env!("CARGO_PKG_VERSION"));
    let run = run.file("first.json", &first);
    let ran = run.step(&["since", "first.json", "--demo", "--on", "2026-10-31"]);
    // Whether lists are whole was not asked then, nor of which day a value was: many of the demo's are of later days.
    assert_eq!(ran.status, 1, "{}{}", ran.err, ran.out);
    ran.reports(&["better 1", "gone 6"]);
    let told = run.step(&["since", "first.json", "--demo", "--on", "2026-10-31", "--format", "json"]).out;
    let told: serde_json::Value = serde_json::from_str(&told).expect("JSON");
    let findings = told["changes"].as_array().expect("findings");
    let worse: Vec<_> = findings.iter().filter(|finding| finding["class"] == "worse").collect();
    for finding in &worse {
        // A rule of one's own set law aside then; when the registry was last looked at was not asked.
        let aside = finding["item"] == "us/identity.mark.form" || finding["item"] == "us/identity.registered";
        assert!(aside || finding["now"] == "not-shown", "{finding:#}");
    }
    assert!(worse.len() > 100 && told["counts"]["unchanged"].as_u64().expect("a count") > 350);
    // Both forms tell the same of a later day, but for notes, which the first keeps in sentences.
    run.step(&["audit", "--demo", "--on", "2026-10-31", "--save-to", "second.json"]);
    let changes = |file: &str| -> serde_json::Value {
        let out = run.step(&["since", file, "--demo", "--on", "2026-11-28", "--format", "json"]).out;
        let mut json: serde_json::Value = serde_json::from_str(&out).expect("JSON");
        // The packs are of other editions since. Of lists the first form knows nothing, and of one with no record it has a finding for each item.
        json["changes"].as_array_mut().expect("findings").retain(|finding| {
            finding["item"].as_str().is_some_and(|item| item.contains('/'))
                && !["gone", "new"].contains(&finding["class"].as_str().unwrap_or(""))
        });
        for finding in json["changes"].as_array_mut().expect("findings") {
            let told = |cause: &serde_json::Value| {
                !["note", "asked", "day", "edition"].contains(&cause["kind"].as_str().unwrap_or(""))
            };
            finding["because"].as_array_mut().expect("causes").retain(told);
            // The first form has some causes as the sentences they are told in.
            for cause in finding["because"].as_array_mut().expect("causes") {
                let says = cause["says"].take();
                cause["was"] = says["was"].clone();
                cause["now"] = says["now"].clone();
            }
        }
        json["changes"].take()
    };
    let (first, second) = (changes("first.json"), changes("second.json"));
    // Of what was shown then as it is now; much has a day since, which the first form did not know.
    let (first, second) = (first.as_array().expect("a list"), second.as_array().expect("a list"));
    let key = |finding: &serde_json::Value| {
        (finding["item"].clone(), finding["subject"].clone(), finding["was"].clone(), finding["class"].clone())
    };
    let mut same = 0;
    for first in first {
        let seen = |finding: &&serde_json::Value| {
            // Its reasons then were those of the first form where nothing recorded has changed since.
            // Nor did it know that a value can be undone.
            let because = first["because"].to_string();
            key(finding) == key(first) && !because.contains("\"value\"") && !because.contains("undone since")
        };
        if let Some(second) = second.iter().find(seen) {
            // What an item reads now and did not then is news to the first form alone.
            let mut first = first.clone();
            let known = |cause: &serde_json::Value| {
                let news =
                    ["seen-now", "missing"].contains(&cause["kind"].as_str().unwrap_or("")) && cause["was"].is_null();
                !news || second["because"].as_array().is_some_and(|causes| causes.contains(cause))
            };
            first["because"].as_array_mut().expect("causes").retain(known);
            assert_eq!(&first, second, "{first:#}");
            same += 1;
        }
    }
    assert!(same > 5, "{same}");
}

/// A saved audit is data: no sentence of a report is in it, so none can decide.
#[test]
fn no_sentence_of_a_report_is_saved() {
    let run = Run::new("since-no-sentence");
    run.step(&["audit", "--demo", "--on", "2026-10-31", "--save-to", "saved.json"]);
    let text = std::fs::read_to_string(run.folder().join("saved.json")).expect("it is saved");
    let sentences = [
        "not recorded",
        "judged for",
        "nobody in an accepted role",
        "too coarse",
        "no log entry",
        "undone by",
        "no longer counts",
        "gave leave",
        "set it aside",
        "does not count",
        "not clear",
        "records of `",
        "holds on",
    ];
    for sentence in sentences {
        assert!(!text.contains(sentence), "{sentence}");
    }
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
        (whole.replace("\"version\": 2", "\"version\": 0"), "saved::form", "`version`"),
        (whole.replace("\"version\": 2,", ""), "saved::form", "`version`"),
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
