//! Reports of a hand-made audit: what a person and a program get to read.

mod awkward;
mod csv;
mod explained;
mod junit;
pub(crate) mod made;
mod pack_page;
mod page;
mod redact;
mod sarif;
pub(crate) mod schemas;
mod swapped;

use crate::fixtures::messages::words;
use cotterpin_engine::audit::{Audit, Finding, ObservedValue, REMINDER};
use cotterpin_engine::report::{json, page as first_page, text, why};
use cotterpin_engine::vocabulary::Verdict;
use made::audit;

/// Words that would sound like a permission; the project's rule forbids them.
const FORBIDDEN: [&str; 5] = ["airworthy", "approved", "passed", "score", "%"];

fn all_reports() -> Vec<String> {
    let audit = audit();
    let findings: Vec<&Finding> = audit.findings.iter().collect();
    vec![first_page(&audit, None, 80), text(&audit, 80), why(&audit, &findings, 80)]
}

#[test]
fn no_line_is_wider_than_the_page() {
    let audit = audit();
    for width in [40, 60, 80, 132] {
        for line in text(&audit, width).lines() {
            assert!(line.chars().count() <= width, "{width}: {line}");
        }
    }
    for line in all_reports().iter().flat_map(|report| report.lines()) {
        assert!(line.chars().count() <= 80, "{line}");
        assert_eq!(line, line.trim_end());
    }
}

#[test]
fn the_reminder_is_the_last_word_of_every_report() {
    for report in all_reports() {
        assert!(words(&report).ends_with(REMINDER), "{report}");
    }
    let empty = Audit { findings: Vec::new(), summary: Default::default(), ..audit() };
    assert!(words(&text(&empty, 80)).ends_with(REMINDER));
    assert!(words(&first_page(&empty, None, 80)).ends_with(REMINDER));
    assert!(words(&why(&empty, &[], 80)).ends_with(REMINDER));
}

#[test]
fn no_report_sounds_like_a_permission_or_a_mark() {
    for report in all_reports() {
        let lower = report.to_lowercase();
        for word in FORBIDDEN {
            assert!(!lower.contains(word), "{word}: {report}");
        }
        // The audit is made of plain letters, so anything else is an ornament.
        assert!(report.is_ascii(), "{report}");
    }
}

#[test]
fn what_can_end_the_visit_comes_first_then_hold_points_in_their_order() {
    let report = text(&audit(), 80);
    let place = |part: &str| report.find(part).unwrap_or_else(|| panic!("{part} is not in:\n{report}"));
    let order = [
        "Can end the visit",
        "UNMET 1. The serial number is the same",
        "To find out: what is recorded does not show it",
        "NOT SHOWN 2. Voltage drop stays within its allowance",
        "Not answered yet",
        "NOT SHOWN 3. Gravity feed delivers",
        "Conceded: not met",
        "Set aside by a pack",
        "Met by what is recorded",
        "Packs used",
    ];
    for pair in order.windows(2) {
        assert!(place(pair[0]) < place(pair[1]), "{} before {}", pair[0], pair[1]);
    }
}

#[test]
fn a_finding_says_what_was_asked_seen_and_written_and_what_to_do() {
    let report = words(&text(&audit(), 80));
    for part in [
        "item us/identity.serial",
        "recorded plate.serial = \"107\" (plate.toml:4)",
        "source 14 CFR 45.13, edition 1 January 2024, at 45.13(a)",
        "standing law",
        "do Have the plate made again.",
        "CAUTION Metal dust: wear glasses.",
        "(from memory, not checked: look it up)",
        "missing fuel.flow_test.rate, not recorded. How much fuel was collected? For example: 18.4 gal/h",
    ] {
        assert!(report.contains(part), "{part} is not in:\n{report}");
    }
}

#[test]
fn records_of_one_item_stand_under_one_title() {
    let report = text(&audit(), 80);
    assert_eq!(report.matches("Voltage drop stays within its allowance").count(), 1, "{report}");
    let report = words(&report);
    assert!(report.contains("in 2 places"), "{report}");
    assert!(
        report.contains("landing light. Worked out drop: 0.4 V to 0.6 V. Missing run.length, not recorded."),
        "{report}"
    );
    assert!(report.contains("pump. run.length = 20 ft to 30 ft (wires.toml:9)."), "{report}");
}

#[test]
fn a_concession_is_never_told_as_met() {
    let report = words(&text(&audit(), 80));
    let conceded = "CONCEDED. The marks are at least 12 in high. item us/marks.height reason The fin is too small. \
        granted by A. Inspector, inspector from 2026-11-01, until 2027-11-01 instead of unmet";
    assert!(report.contains(conceded), "{report}");
    let met = report.split("Met by what is recorded").nth(1).unwrap_or_default();
    assert!(!met.is_empty() && !met.contains("us/marks.height"), "{met}");
}

#[test]
fn nothing_judged_is_said_plainly() {
    let mut audit = audit();
    audit.findings.retain(|finding| finding.verdict == Verdict::NotApplicable);
    audit.summary = made::summary(&audit.findings);
    assert!(words(&text(&audit, 80)).contains("Nothing was judged"));
}

#[test]
fn recorded_text_cannot_move_the_cursor_or_hide() {
    let mut audit = audit();
    audit.findings[0].because[0].values[0].value = ObservedValue::Recorded("10\u{1b}[2K7\u{200b}".to_owned());
    let report = text(&audit, 80);
    assert!(!report.contains('\u{1b}') && !report.contains('\u{200b}'));
    assert!(report.contains("10\\u{1b}[2K7\\u{200b}"), "{report}");
}

#[test]
fn spaces_inside_a_value_are_kept() {
    let mut audit = audit();
    audit.findings[0].because[0].values[0].value = ObservedValue::Recorded("\"10  7\"".to_owned());
    assert!(text(&audit, 80).contains("\"10  7\""));
}

#[test]
fn an_audit_says_of_itself_what_made_it_and_has_the_last_word() {
    let parsed: serde_json::Value = serde_json::from_str(&json(&audit())).expect("the report is JSON");
    assert!(json(&audit()).starts_with("{\n  \"schema\": \"cotterpin-audit/2\",\n  \"engine\": {"));
    assert_eq!(parsed["engine"], serde_json::json!({"name": "cotterpin", "version": env!("CARGO_PKG_VERSION")}));
    assert_eq!(parsed["findings"][0]["because"][0]["held"], "false");
    assert_eq!(parsed["findings"][0]["subject"], serde_json::Value::Null);
    assert_eq!(parsed["findings"][1]["missing"][0]["fact"], "fuel.flow_test.rate");
    assert_eq!(parsed["findings"][1]["missing"][0]["why"], "not-recorded");
    assert_eq!(parsed["reminder"], REMINDER);
    let verdicts: Vec<&str> =
        parsed["findings"].as_array().expect("findings").iter().filter_map(|f| f["verdict"].as_str()).collect();
    for (word, count) in parsed["summary"].as_object().expect("summary") {
        let word = word.replace('_', "-");
        assert_eq!(
            verdicts.iter().filter(|verdict| **verdict == word).count() as u64,
            count.as_u64().expect("a count")
        );
    }
}
