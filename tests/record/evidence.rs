//! Evidence: files that are there, and files that are not.

use super::{file, read_all, said};
use crate::golden::named;
use crate::golden::recording::Named;

/// Those whose messages are golden.
pub(crate) const GOLDEN: &[Named] = named![evidence_stays_inside_the_project, malformed_evidence_does_not_count];

const FILES: [&str; 7] = [
    "evidence/fuel/1.jpg",
    "evidence/fuel/2.JPG",
    "evidence/fuel/.hidden.jpg",
    "evidence/fuel/deep/3.jpg",
    "evidence/fuel/report.pdf",
    "evidence/fuel/[4].png",
    "project.toml",
];

/// Subject, kind, file and whether it is there.
fn evidence(text: &str) -> Vec<(String, String, String, bool)> {
    let reading = read_all(&[file("facts.toml", text)], &FILES);
    reading.nothing_wrong();
    let all = reading.record.evidence.into_iter();
    all.map(|one| (one.subject, one.kind, one.file, one.found)).collect()
}

fn one(subject: &str, kind: &str, file: &str, found: bool) -> (String, String, String, bool) {
    (subject.to_owned(), kind.to_owned(), file.to_owned(), found)
}

#[test]
fn a_pattern_stands_for_its_files_in_one_folder() {
    assert_eq!(
        evidence("[fuel.flow_test]\nevidence = [\"evidence/fuel/*.jpg\"]"),
        [one("fuel.flow_test", "photo", "evidence/fuel/1.jpg", true)]
    );
    assert_eq!(
        evidence("[fuel]\nevidence = \"evidence/**/*.jpg\""),
        [one("fuel", "photo", "evidence/fuel/1.jpg", true), one("fuel", "photo", "evidence/fuel/deep/3.jpg", true)]
    );
}

/// What the builder wrote of a thing does not show it as well.
#[test]
fn no_pattern_takes_in_what_the_project_itself_keeps() {
    let paths =
        ["facts.toml", "fuel.tanks.unfinished.txt", "fuel/log.toml", "fuel/tank.jpg", "project.toml", "scales.pdf"];
    let reading = read_all(&[file("facts.toml", "[fuel]\nevidence = [\"*\", \"**/*\"]")], &paths);
    reading.nothing_wrong();
    let found: std::collections::BTreeSet<_> = reading.record.evidence.iter().map(|one| one.file.as_str()).collect();
    assert_eq!(found.into_iter().collect::<Vec<_>>(), ["fuel/tank.jpg", "scales.pdf"]);
}

#[test]
fn no_text_of_the_project_itself_is_evidence_whatever_kind_is_named() {
    let paths = [
        "facts.toml",
        "project.toml",
        "log/2026-11.toml",
        "log/taken-back.txt",
        "audits/2026-11-25.json",
        "Notes.TOML",
    ];
    for path in paths {
        let text = format!("[fuel]\nevidence = [{{ kind = \"photo\", file = \"{path}\" }}]");
        let reading = read_all(&[file("facts.toml", &text)], &paths);
        assert_eq!(reading.codes(), ["evidence::own-text"], "{path}");
        assert!(reading.record.evidence.is_empty(), "{path}");
    }
}

#[test]
fn the_ending_tells_a_photo_from_a_document() {
    assert_eq!(
        evidence(
            "[fuel]\nevidence = [\"evidence/fuel/2.JPG\", \"evidence/fuel/report.pdf\", \"./evidence/fuel/[4].png\"]"
        ),
        [
            one("fuel", "document", "evidence/fuel/report.pdf", true),
            one("fuel", "photo", "evidence/fuel/2.JPG", true),
            one("fuel", "photo", "evidence/fuel/[4].png", true),
        ]
    );
}

#[test]
fn a_table_names_the_kind() {
    let text = "[fuel]\nevidence = [{ kind = \"weigh-sheet\", file = \"evidence/fuel/report.pdf\" }]";
    assert_eq!(evidence(text), [one("fuel", "weigh-sheet", "evidence/fuel/report.pdf", true)]);
}

#[test]
fn what_is_not_there_is_kept_as_not_found() {
    assert_eq!(
        evidence("[fuel]\nevidence = [\"evidence/oil.jpg\", \"evidence/oil/*.pdf\"]"),
        [one("fuel", "document", "evidence/oil/*.pdf", false), one("fuel", "photo", "evidence/oil.jpg", false)]
    );
}

#[test]
fn facts_parts_lists_and_records_may_have_evidence() {
    for (text, subject) in [
        ("[marks.height]\nevidence = \"evidence/fuel/1.jpg\"", "marks.height"),
        ("[controls.elevator]\nevidence = \"evidence/fuel/1.jpg\"", "controls.elevator"),
        ("[controls]\nevidence = \"evidence/fuel/1.jpg\"", "controls"),
        ("[electrical.runs]\nevidence = \"evidence/fuel/1.jpg\"", "electrical.runs"),
        (
            "[[electrical.runs]]\nname = \"landing light\"\nevidence = \"evidence/fuel/1.jpg\"",
            "electrical.runs[landing light]",
        ),
        ("loads = [{ name = \"1\" }, { name = \"2\", evidence = \"evidence/fuel/1.jpg\" }]", "loads[2]"),
    ] {
        assert_eq!(evidence(text), [one(subject, "photo", "evidence/fuel/1.jpg", true)]);
    }
}

#[test]
fn evidence_stays_inside_the_project() {
    for path in ["/etc/x.jpg", "../x.jpg", "a/../../x.jpg", "C:/x.jpg", "a\\\\b.jpg", "~/x.jpg", "file://x.jpg", ""] {
        let reading = read_all(&[file("facts.toml", format!("[fuel]\nevidence = \"{path}\""))], &FILES);
        reading.only("evidence::outside");
        assert!(reading.record.evidence.is_empty());
    }
}

/// On a disk that finds a file by any capitals the verdict is the same as on one that does not.
#[test]
fn a_name_in_other_capitals_is_told_and_counts_nowhere() {
    for (written, there) in [
        ("Evidence/fuel/1.JPG", "evidence/fuel/1.jpg"),
        ("evidence/fuel/2.jpg", "evidence/fuel/2.JPG"),
        ("Evidence/Fuel/*.Jpg", "evidence/fuel/1.jpg"),
    ] {
        let reading = read_all(&[file("facts.toml", format!("[fuel]\nevidence = \"{written}\""))], &FILES);
        let message = reading.only("evidence::capitals");
        assert!(!message.is_error() && said(message).contains(&format!("`{there}`")), "{}", said(message));
        let found: Vec<_> = reading.record.evidence.iter().map(|one| (one.file.as_str(), one.found)).collect();
        assert_eq!(found, [(written, false)]);
    }
}

#[test]
fn malformed_evidence_does_not_count() {
    for (written, code, words) in [
        ("7", "evidence::form", "a file, not a whole number"),
        ("{ file = \"evidence/fuel/1.jpg\" }", "evidence::form", "its kind or its file"),
        ("{ kind = \"photo\", fil = \"x\" }", "evidence::form", "no `fil`"),
        ("{ kind = \"phot\", file = \"evidence/fuel/1.jpg\" }", "evidence::kind", "did you mean `photo`?"),
        ("\"evidence/***/x\"", "evidence::pattern", "is not a pattern"),
    ] {
        let reading = read_all(&[file("facts.toml", format!("[fuel]\nevidence = {written}"))], &FILES);
        let message = reading.only(code);
        assert!(said(message).contains(words), "`{words}` is not in: {}", said(message));
        assert!(reading.record.evidence.is_empty());
    }
}
