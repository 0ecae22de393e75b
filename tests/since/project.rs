//! The command on projects in two states.

use crate::cli::{ITEM, Run, WORDS, project};
use crate::golden::named;
use crate::golden::recording::Named;
use std::fs;

/// Those whose messages are golden.
pub(crate) const GOLDEN: &[Named] = named![what_cannot_be_done_ends_with_3, states_are_told_where_they_can_be];

const SAVE: [&str; 4] = ["audit", "--save", "--on", "2026-11-25"];
const SINCE: [&str; 4] = ["since", "2026-11-30", "--on", "2026-11-26"];

fn saved(name: &str, facts: &str) -> Run {
    let run = project(name, facts).file("photo.jpg", "light");
    let ran = run.step(&SAVE);
    assert!(ran.err.ends_with("The audit is saved in audits/2026-11-25.json.\n"), "{}", ran.err);
    run
}

#[test]
fn a_second_state_is_better_then_worse() {
    let run = saved("since-states", "").file("facts.toml", "[spar]\nspan = \"96 in\"\nevidence = [\"photo.jpg\"]\n");
    let ran = run.step(&SINCE);
    assert_eq!(ran.status, 0, "{}", ran.err);
    ran.reports(&[
        "Saved audit 2026-11-25, from audits/2026-11-25.json",
        "MET 1. The spar is long enough.",
        "was not shown",
        "spar.span: was not recorded, now 96 in",
    ]);
    run.step(&["audit", "--save", "--on", "2026-11-26"]);
    let run = run.file("facts.toml", "[spar]\nspan = \"80 in\"\n");
    let ran = run.step(&SINCE);
    assert_eq!(ran.status, 1, "{}", ran.err);
    ran.reports(&["from audits/2026-11-26.json", "UNMET 1.", "was met", "spar.span: was 96 in, now 80 in"]);
    // The file itself may be given, and an older day takes the older audit.
    assert_eq!(run.step(&["since", "audits/2026-11-25.json", "--on", "2026-11-26"]).status, 1);
    run.step(&["since", "2026-11-25", "--on", "2026-11-26"]).reports(&["from audits/2026-11-25.json", "was not shown"]);
}

#[test]
fn evidence_that_went_is_told_as_missing() {
    let run = saved("since-evidence", "[spar]\nspan = \"96 in\"\nevidence = [\"photo.jpg\"]\n");
    fs::remove_file(run.folder().join("photo.jpg")).expect("it goes");
    let ran = run.step(&SINCE);
    assert_eq!(ran.status, 1);
    ran.reports(&[
        "NOT SHOWN 1.",
        "missing spar.evidence, `photo.jpg` is named, but no such file is there, or it is empty",
    ]);
}

#[test]
fn a_renamed_file_and_moved_lines_change_nothing() {
    let run = saved("since-moved", "[spar]\nspan = \"80 in\"\n");
    fs::remove_file(run.folder().join("facts.toml")).expect("it goes");
    let run = run.file("more/holz über alles.toml", "# moved\n\n\n[spar]\n# down\nspan   = \"80 in\"\n");
    let ran = run.step(&SINCE);
    assert_eq!(ran.status, 0, "{}", ran.err);
    ran.reports(&["worse 0", "other values 0", "unchanged 1"]);
}

#[test]
fn nothing_saved_is_replaced_unless_asked() {
    let run = saved("since-twice", "");
    let first = fs::read(run.folder().join("audits/2026-11-25.json")).expect("it is there");
    let run = run.file("facts.toml", "[spar]\nspan = \"80 in\"\n");
    assert!(run.step(&SAVE).err.contains("audits/2026-11-25-2.json"));
    assert_eq!(fs::read(run.folder().join("audits/2026-11-25.json")).expect("still there"), first);
    let again = run.step(&["audit", "--save", "--replace", "--on", "2026-11-25"]);
    assert!(again.err.contains("audits/2026-11-25-2.json"), "{}", again.err);
    run.step(&SINCE).reports(&["from audits/2026-11-25-2.json", "unchanged 1"]);
    let to = ["audit", "--on", "2026-11-25", "--save-to", "audits/2026-11-25.json"];
    run.step(&to).refuses(&["saved::there", "--replace"]);
    assert_eq!(fs::read(run.folder().join("audits/2026-11-25.json")).expect("still there"), first);
    let files: Vec<_> = fs::read_dir(run.folder().join("audits")).expect("a folder").flatten().collect();
    assert_eq!(files.len(), 2, "no half-written file is left: {files:?}");
}

#[test]
fn what_cannot_be_done_ends_with_3() {
    let run = saved("since-refused", "");
    run.step(&["since", "2026-11-24"]).refuses(&["saved::none", "audits/ has 2026-11-25.json", "audit --save"]);
    run.step(&["since", "2026-11"]).refuses(&["saved::day", "2026-11-25"]);
    run.step(&["since", "10/08/2026"]).refuses(&["saved::day", "write 2026-08-10 or 2026-10-08"]);
    run.step(&["since", "30/02/2026"]).refuses(&["saved::day", "no day of the calendar"]);
    run.step(&["since", "25/11/26"]).refuses(&["saved::day", "year with four digits"]);
    run.step(&["since", "24 Nov 2026"]).refuses(&["saved::none", "audits/ has 2026-11-25.json"]);
    assert_eq!(run.step(&["since", "25/11/2026", "--on", "2026-11-26"]).status, 0);
    assert_eq!(run.step(&["since", "today", "--on", "2026-11-26"]).status, 0);
    run.step(&["since", "nowhere.json"]).refuses(&["file::unreadable", "`nowhere.json`"]);
    run.step(&["since", "audits"]).refuses(&["file::unreadable"]);
    run.step(&["since", "project.toml"]).refuses(&["saved::form"]);
    run.step(&["since", "2026-11-25", "--demo"]).refuses(&["saved::none", "--save-to"]);
    run.step(&["audit", "--save-to", "no/such/folder/x.json"]).refuses(&["file::unwritable"]);
    for args in [&["audit", "--replace"][..], &["audit", "--demo", "--save"], &["since"]] {
        assert_eq!(run.step(args).status, 3, "{args:?}");
    }
    let run = run.file("audits/2026-11-26.json", "{");
    // A broken newest one is not passed over for an older one.
    run.step(&SINCE).refuses(&["saved::form", "audits/2026-11-26.json"]);
    let never = project("since-never", "");
    never.step(&["since", "2026-11-30"]).refuses(&["saved::none", "audits/ has none yet"]);
}

/// With SARIF alone, and of an audit that looked at the same.
#[test]
fn states_are_told_where_they_can_be() {
    let run = saved("since-sarif", "").file("facts.toml", "[spar]\nspan = \"80 in\"\n");
    for when in ["2026-11-30", "audits/2026-11-25.json"] {
        let ran = run.step(&["audit", "--on", "2026-11-26", "--format", "sarif", "--since", when]);
        assert_eq!(ran.status, 1, "{}", ran.err);
        ran.reports(&["\"baselineState\": \"updated\"", "\"since\": \"2026-11-25\""]);
    }
    let since = ["audit", "--on", "2026-11-26", "--since", "2026-11-30"];
    run.step(&since).refuses(&["saved::format", "--format sarif"]);
    run.step(&[&since[..], &["--format", "junit"]].concat()).refuses(&["saved::format"]);
    let sarif = [&since[..], &["--format", "sarif"]].concat();
    run.step(&[&sarif[..], &["--by", "visit"]].concat()).refuses(&[
        "saved::scope",
        "looked at everything",
        "--by visit",
    ]);
    run.step(&["audit", "--format", "sarif", "--since", "2026-11-24"]).refuses(&["saved::none"]);
    run.step(&["audit", "--by", "visit", "--save", "--on", "2026-11-28"]);
    run.step(&sarif).refuses(&["saved::scope", "looked at --by visit", "looks at everything"]);
    assert_eq!(run.step(&[&sarif[..], &["--by", "visit"]].concat()).status, 1);
    // What is kept is kept whole.
    assert_eq!(run.step(&["audit", "--save", "--redact"]).status, 3);
}

#[test]
fn another_edition_and_a_new_item_are_told() {
    let run = saved("since-edition", "[spar]\nspan = \"80 in\"\n");
    let pack = fs::read_to_string(run.folder().join("shed/pack.toml")).expect("the pack");
    let second = ITEM.replace("spar.long", "spar.straight").replace("long enough", "straight");
    let run = run
        .file("shed/pack.toml", pack.replace("edition = \"2026-11-25\"", "edition = \"2026-12-24\""))
        .file("shed/rules.checklist", format!("{WORDS}{ITEM}{second}"));
    let ran = run.step(&SINCE);
    assert_eq!(ran.status, 2, "{}", ran.err);
    ran.reports(&["Pack shed: edition 2026-11-25 then, edition 2026-12-24 now.", "New UNMET 1. The spar is straight."]);
}

#[test]
fn the_demo_comes_back_unchanged_and_small() {
    let run = Run::new("since-demo");
    run.step(&["audit", "--demo", "--on", "2026-11-25", "--save-to", "kept.json"]);
    let size = fs::metadata(run.folder().join("kept.json")).expect("it is there").len();
    assert!(size < 180_000, "{size} bytes");
    let ran = run.step(&["since", "kept.json", "--demo", "--on", "2026-11-25", "--format", "json"]);
    assert_eq!(ran.status, 0, "{}", ran.err);
    let said: serde_json::Value = serde_json::from_str(&ran.out).expect("JSON");
    assert_eq!(said["changes"], serde_json::json!([]));
    assert!(said["counts"]["unchanged"].as_u64().expect("a count") > 500);
}
