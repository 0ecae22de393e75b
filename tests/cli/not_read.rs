//! A25: nothing is passed over in silence. Files that look as if they were meant and are not read.

use super::{ITEM, MANIFEST, Run, WORDS, project};
use crate::fixtures::messages::words;
use crate::golden::named;
use crate::golden::recording::Named;
use cotterpin_engine::files::names_in;

/// Those whose messages are golden.
#[cfg(unix)]
pub(crate) const GOLDEN: &[Named] = named![
    a25_a_linked_rule_file_of_a_pack_is_an_error,
    a25_a_log_with_fewer_entries_than_were_said_is_refused,
    a25_a_pack_has_its_manifest_under_its_name,
    a25_the_project_has_its_header_under_its_name
];

const AUDIT: [&str; 4] = ["audit", "--on", "2026-11-25", "--full"];
const HELD: &str = "[spar]\nspan = \"96 in\"\n";

/// Names a hurried person, an editor, a copy or a disk leaves; each file holds the only value.
const MEANT: [&str; 33] = [
    "facts.TOML",
    "facts.Toml",
    "Facts.TOML",
    "facts.toml.txt",
    "facts.toml ",
    "facts.toml.",
    "facts.toml.bak",
    "facts.toml.orig",
    "facts.toml.old",
    "facts.toml.save",
    "other.toml~",
    "facts.toml.sync-conflict-20261003-101112",
    "facts.toml (copy)",
    "facts.toml (Kim's copy that disagrees)",
    "#facts.toml#",
    ".facts.toml",
    "facts",
    "facts.txt",
    "facts.tml",
    "facts.ini",
    "facts.conf",
    "facts.json",
    "facts_toml",
    "factstoml",
    "evidence/facts.txt",
    "log/.2026-11.txt",
    "notes.md",
    "spar/facts.TOML",
    "log/facts.toml.txt",
    "evidence/facts.TOML",
    "audits/facts.toml.txt",
    "project.toml.txt",
    "f\u{e4}cts.\u{ff54}\u{ff4f}\u{ff4d}\u{ff4c}",
];

/// Some disks would take a file of other letters for the one of facts.
fn without_facts(name: &str) -> Run {
    super::with_pack(name, &format!("{WORDS}{ITEM}"))
}

#[test]
fn a25_a_file_that_may_have_been_meant_is_named_and_all_else_is_judged() {
    for (n, name) in MEANT.iter().enumerate() {
        // What is named otherwise altogether is known by what it says.
        let ran = without_facts(&format!("meant-{n}")).file(name, HELD).args(&AUDIT).go();
        assert_eq!(ran.status, 3, "{name}: {}", ran.out);
        let said = words(&ran.err);
        assert!(said.contains("file::not-read") && said.contains(&format!("`{name}` is not read")), "{name}: {said}");
        assert!(said.ends_with("1 error; what stands there was not judged, the rest was."), "{name}: {said}");
        ran.reports(&["NOT SHOWN", "was not read. It holds what no file that was read holds"]);
    }
}

#[test]
fn a25_the_place_is_where_the_first_such_thing_stands() {
    let more = "# not this\n[spar]\nspan = \"96 in\"\nratio = 2\n";
    let ran = project("not-read-place", "[spar]\nratio = 2\n").file("old.TOML", more).args(&AUDIT).go();
    assert!(ran.err.contains("[old.TOML:3:8]"), "{}", ran.err);
    assert!(words(&ran.err).contains("name this one `old.toml`"), "{}", ran.err);
}

#[test]
fn a25_a_copy_that_adds_nothing_is_a_note() {
    let copy = "spar.span = '96 in'   # the same, written otherwise\n";
    for (name, told) in [("facts.toml.txt", true), ("facts.toml~", true), ("facts.txt", false), ("README", false)] {
        let text = if name == "README" { "What this folder is: the spar.\n" } else { copy };
        let ran = project("not-read-copy", HELD).file("evidence/spar.jpg", "seen").file(name, text).args(&AUDIT).go();
        assert_eq!(ran.status, 2, "{name}: {}", ran.err);
        assert_eq!(ran.err.contains("file::not-read"), told, "{name}: {}", ran.err);
    }
    // An editor's file of the text before is older than the one beside it.
    let ran = project("not-read-older", HELD).file("facts.toml~", "[spar]\nspan = \"80 in\"\n").args(&AUDIT).go();
    assert_eq!(ran.status, 2, "{}", ran.err);
    assert!(ran.err.contains("1 warning."), "{}", ran.err);
}

#[test]
fn a25_what_programs_keep_beside_a_file_is_their_own() {
    for name in [".facts.toml.swp", ".#facts.toml", "._facts.toml", ".~lock.facts.toml#", ".old/facts.toml"] {
        let ran = project("not-read-own", "").file(name, HELD).args(&AUDIT).go();
        assert_eq!((ran.status, ran.err.as_str()), (2, ""), "{name}");
    }
}

#[test]
fn a25_what_cannot_be_made_out_is_an_error_too() {
    for (n, bytes) in [&b"\xFF\xFE[\0s\0"[..], b"[spar\nspan = 1", "a.".repeat(200).as_bytes()].iter().enumerate() {
        let ran = project(&format!("not-made-out-{n}"), "").file("facts.toml.txt", bytes).args(&AUDIT).go();
        assert_eq!(ran.status, 3, "{}", ran.out);
        assert!(ran.err.contains("what it holds cannot be made out"), "{}", ran.err);
    }
}

#[test]
fn a25_status_3_goes_before_the_others_in_every_command_that_reads_a_project() {
    let shed = without_facts("not-read-status").file("facts.TOML", HELD);
    for args in [
        &["audit", ".", "--on", "2026-11-25"][..],
        &["audit", ".", "--on", "2026-11-25", "--format", "json"],
        &["next", ".", "--on", "2026-11-25"],
        &["why", "spar.long", ".", "--on", "2026-11-25"],
        &["questions", "."],
    ] {
        let ran = shed.step(args);
        assert_eq!(ran.status, 3, "{args:?}: {}", ran.err);
        assert!(!ran.out.is_empty() && ran.err.contains("`facts.TOML` is not read"), "{args:?}: {}", ran.err);
    }
    let json = shed.step(&["audit", ".", "--on", "2026-11-25", "--format", "json"]).out;
    let json: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    assert_eq!(json["notices"][0], serde_json::json!({"file-not-read": "facts.TOML"}));
    let said = json["says"]["notices"][0].as_str().expect("a sentence");
    assert!(said.starts_with("`facts.TOML` was not read."), "{said}");
    assert_eq!(json["messages"][0]["severity"], "error");
}

#[test]
fn a25_where_nothing_was_judged_it_is_said() {
    let rules = format!("{WORDS}{}", ITEM.replace("  need", "  when spar.ratio > 3\n  need"));
    let rules = rules.split("  try").next().unwrap_or_default();
    let shed = super::with_pack("nothing-judged", rules).file("facts.toml", "[spar]\nratio = 2\n").args(&AUDIT).go();
    assert_eq!(shed.status, 3);
    assert!(shed.err.contains("no item of the packs concerns this aircraft on 2026-11-25"), "{}", shed.err);
}

#[test]
fn a25_the_project_has_its_header_under_its_name() {
    let header = "name = \"Test bench\"\npacks = [\"./shed\"]\n";
    for name in ["Project.toml", "PROJECT.TOML", "project.toml.txt", "project.TOML"] {
        let ran = Run::new("header-named").file(name, header).args(&AUDIT).go();
        ran.refuses(&["project::missing", &format!("but there is `{name}`"), "name it project.toml, exactly so"]);
    }
}

#[test]
fn a25_a_pack_has_its_manifest_under_its_name() {
    for name in ["Pack.toml", "pack.TOML", "pack.toml.txt"] {
        let ran = Run::new("manifest-named")
            .file("project.toml", "name = \"Test bench\"\npacks = [\"./shed\"]\n")
            .file(&format!("shed/{name}"), MANIFEST)
            .args(&AUDIT)
            .go();
        ran.refuses(&["pack::missing", &format!("but `{name}`")]);
    }
}

#[test]
fn a25_a_rule_file_that_is_not_read_is_an_error() {
    for name in [
        "more.CHECKLIST",
        "more.Checklist",
        "more.checklist.txt",
        "more.checklist ",
        "more.checklist.bak",
        "more.checklist (copy)",
        ".more.checklist",
        "more.txt",
        "more",
        "more.checklists",
        "deeper/more.CHECKLIST",
    ] {
        let ran = project("rules-named", HELD).file(&format!("shed/{name}"), ITEM).args(&AUDIT).go();
        ran.refuses(&["pack::not-read", &format!("{name}` looks like rules of this pack and is not read")]);
    }
    for name in ["README.md", "notes.txt", ".more.checklist.swp", "rules.checklist~", ".git/more.checklist"] {
        let prose = "item by item, nothing is needed\nitem spar.long is about the spar\nitem 1. bolts\nlist of spars\n";
        let text = if name == "notes.txt" { prose } else { ITEM };
        let ran = project("rules-no-matter", HELD).file(&format!("shed/{name}"), text).args(&AUDIT).go();
        assert_eq!((ran.status, ran.err.as_str()), (2, ""), "{name}");
    }
}

#[cfg(unix)]
#[test]
fn a25_a_linked_rule_file_of_a_pack_is_an_error() {
    let shed = project("rules-linked", HELD).file("elsewhere/more.checklist", ITEM);
    let shed = shed.link("shed/more.checklist", "../elsewhere/more.checklist").args(&AUDIT);
    shed.go().refuses(&["pack::not-read", "more.checklist` looks like rules", "it is a link"]);
    // Nor what the pack says of itself.
    let shed = project("manifest-linked", HELD);
    let manifest = shed.folder().join("shed/pack.toml");
    std::fs::rename(&manifest, shed.folder().join("elsewhere.txt")).expect("it moves");
    let shed = shed.link("shed/pack.toml", "../elsewhere.txt").args(&AUDIT);
    shed.go().refuses(&["pack::not-read", "pack.toml", "it is a link"]);
    let shed = project("rules-linked-folder", HELD).file("elsewhere/more.checklist", ITEM);
    shed.link("shed/more", "../elsewhere").args(&AUDIT).go().refuses(&["pack::not-read", "it is a link"]);
}

/// UAX 14, classes CR, BK and NL: what an editor may show as the end of a line.
#[test]
fn a25_a_comment_hides_no_line_that_an_editor_shows() {
    for (n, end) in ["\r", "\u{b}", "\u{c}", "\u{85}", "\u{2028}", "\u{2029}"].iter().enumerate() {
        let rules = format!("{WORDS}-- what follows is asked{end}{}", ITEM.replace('\n', end));
        super::with_pack(&format!("line-end-{n}"), &rules).args(&AUDIT).go().refuses(&["syntax::line-break"]);
    }
    let rules = format!("{WORDS}-- what follows is asked\n{ITEM}").replace('\n', "\r\n");
    let ran = super::with_pack("line-end-crlf", &rules).args(&AUDIT).go();
    assert_eq!((ran.status, ran.err.as_str()), (2, ""));
}

#[test]
fn a25_nothing_is_written_beside_a_file_that_some_disks_take_for_it() {
    let header = "name = \"Shed\"\npacks = [\"workmanship\"]\n[people]\nrosa = { name = \"Rosa Example\", role = \"builder\" }\n";
    let shed = Run::new("log-in-other-letters").file("project.toml", header).file("log/2026-11.TOML", "# empty\n");
    let ran = shed.step(&["log", "inspected", "fuel.lines", "--on", "2026-11-25"]);
    assert_eq!(ran.status, 3, "{}", ran.out);
    assert!(
        words(&ran.err).contains("`log/2026-11.toml` is to be written or read, and `2026-11.TOML` is there"),
        "{}",
        ran.err
    );
    assert_eq!(names_in(&shed.folder().join("log")), ["2026-11.TOML"]);
    assert_eq!(shed.text("log/2026-11.TOML"), "# empty\n");
}

/// What a lost entry told would else be as if it had never been: a part that was worked on would count as shown.
#[test]
fn a25_a_log_with_fewer_entries_than_were_said_is_refused() {
    let header = "name = \"Shed\"\npacks = [\"workmanship\"]\n[people]\nrosa = { name = \"Rosa Example\", role = \"builder\" }\n";
    let entry =
        |day: &str| format!("[[log]]\non = {day}\nwhat = \"adjusted\"\nsubject = \"fuel.lines\"\nwho = \"rosa\"\n");
    let shed = |entries: &str| {
        let whole = "[whole]\nlog = { entries = 2, up_to = 2026-11-20, who = \"rosa\", on = 2026-11-21 }\n";
        let shed = Run::new("entries-gone").file("project.toml", header).file("whole.toml", whole);
        shed.file("log.toml", entries).args(&AUDIT).go()
    };
    shed(&entry("2026-11-01")).refuses(&[
        "whole::entries-gone",
        "said to have 2 entries up to 2026-11-20, and has 1",
        "whole.toml:2:",
    ]);
    shed("").refuses(&["and has 0"]);
    let later = [entry("2026-11-01"), entry("2026-11-21")].concat();
    shed(&later).refuses(&["and has 1"]);
    let more = [entry("2026-11-01"), entry("2026-11-02"), entry("2026-11-03")].concat();
    assert_eq!(shed(&more).status, 2);
    // Some day of November may be one of them.
    let month = [entry("2026-11-01"), entry("\"2026-11\"")].concat();
    assert_eq!(shed(&month).status, 2);
}

/// What is not sound, or not UTF-8, may hold an entry all the same.
#[test]
fn a25_a_text_with_an_entry_is_told_however_it_is_written() {
    let entry = "[[log]]\non = 2026-11-01\nwhat = \u{201C}adjusted\u{201D}\n";
    let utf_16: Vec<u8> = "\u{FEFF}[[log]]\non = 2026-11-01\n".encode_utf16().flat_map(u16::to_le_bytes).collect();
    for (name, bytes) in [
        ("log/2026-11.txt", entry.as_bytes()),
        ("notes.txt", entry.as_bytes()),
        ("log/2026-11", &utf_16),
        ("november", &b"[whole]\nfuel.tanks = {\xE9}\n"[..]),
        ("log/2026-11.tml", &b"[[log]]\rwhat = 1\r"[..]),
    ] {
        let ran = project("not-sound", "").file(name, bytes).args(&AUDIT).go();
        assert_eq!(ran.status, 3, "{name}");
        assert!(words(&ran.err).contains(&format!("`{name}` is not read")), "{name}: {}", ran.err);
    }
}

/// Other things that stand in a project's folder are nobody's business.
#[test]
fn a25_what_is_none_of_the_projects_own_is_left_alone() {
    for (name, text) in [
        ("evidence/BottomLongeron.jpg", "\u{FFFD}picture"),
        ("evidence/facts.toml.png", "\u{0}\u{1}"),
        ("facts.toml.zip", "PK\u{3}\u{4}"),
        ("efis-config.ini", "[display]\nbrightness = 5\n"),
        ("logger.cfg", "rate=115200\n"),
        ("weigh.py", "x = 3\n"),
        ("device.cfg", "[log]\nlevel = \"debug\"\n"),
        ("efis.ini", "[spar]\nrpm = 2500\n"),
        ("notes.txt", "[log] see page 4\n[job] buy rivets\n"),
        ("notes.txt", "# a heading\n"),
        ("letter-tomlin.txt", "Dear Mr Tomlin, the log says [[log]] nothing.\n"),
        (".facts.toml.un~", "spar.span = 1\n"),
        ("log/README.md", "What stands here.\n"),
    ] {
        let mut bytes = text.as_bytes().to_vec();
        if name.ends_with("png") || name.ends_with("jpg") {
            bytes.extend([0xFF, 0xD8, 0xFF]);
        }
        let ran = project("left-alone", "").file(name, bytes).args(&AUDIT).go();
        assert_eq!((ran.status, ran.err.as_str()), (2, ""), "{name}");
    }
}

#[test]
fn a25_in_a_pack_facts_and_other_rule_texts_are_errors() {
    let other = [
        ("facts.toml", HELD),
        ("2026-11.TOML", HELD),
        ("a.txt", "amend spar.long\n  need spar.ratio > 1\n"),
        ("b.txt", "set aside spar.long\n  because \"no\"\n"),
        ("c", "\u{FEFF}item\tspar.more \"More\"\n"),
        ("d.cheklist", "disturbing spar also disturbs wing\n"),
        ("e.checklist~", ITEM),
    ];
    for (name, text) in other {
        let ran = project("pack-other", HELD).file(&format!("shed/{name}"), text).args(&AUDIT).go();
        ran.refuses(&["pack::not-read", &format!("{name}` looks like")]);
    }
}

/// Copied by hand, or by a link: an entry is one entry.
#[test]
fn a25_an_entry_that_stands_twice_is_told_and_counts_once() {
    let header = "name = \"Shed\"\npacks = [\"workmanship\"]\n[people]\nrosa = { name = \"Rosa Example\", role = \"builder\" }\n";
    let entry =
        |what: &str| format!("[[log]]\non = 2026-11-01\nwhat = \"{what}\"\nsubject = \"fuel.lines\"\nwho = \"rosa\"\n");
    let whole = "[whole]\nlog = { entries = 2, up_to = 2026-11-20, who = \"rosa\", on = 2026-11-21 }\n";
    let shed = |first: &str, second: &str| {
        let shed = Run::new("entry-twice").file("project.toml", header).file("whole.toml", whole);
        shed.file("log/2026-11.toml", first).file("log/2026-11 (copy).toml", second).args(&AUDIT).go()
    };
    let copied = shed(&entry("inspected"), &entry("inspected"));
    copied.refuses(&["log::twice", "counts once", "whole::entries-gone", "and has 1"]);
    // Work that is told twice may have been done twice; it counts twice, and as one entry.
    shed(&entry("adjusted"), &entry("adjusted")).refuses(&["log::twice", "and has 1"]);
    assert_eq!(shed(&entry("inspected"), &entry("adjusted")).err, "");
}

/// Under another name, or by a link, it is the same text.
#[cfg(unix)]
#[test]
fn a25_a_copy_of_what_is_said_shows_nothing() {
    let named = |file: &str| format!("[spar]\nspan = \"96 in\"\nevidence = [\"{file}\"]\n");
    let facts = named("evidence/spar.jpg");
    let shed = |name: &str| project(name, &facts);
    for (name, shed) in [
        ("linked", shed("own-linked").file("evidence/note.txt", "x").link("evidence/spar.jpg", "../facts.toml")),
        (
            "rules",
            shed("own-rules").file("evidence/note.txt", "x").link("evidence/spar.jpg", "../shed/rules.checklist"),
        ),
        ("copied", shed("own-copied").file("evidence/spar.jpg", &facts)),
        ("blank", shed("own-blank").file("evidence/spar.jpg", " \n\t\n")),
        ("reserved", shed("own-reserved").file("evidence/spar.jpg", [0; 5000])),
        ("kept", shed("own-kept").file("audits/a.json", "{}").link("evidence/spar.jpg", "../audits/a.json")),
    ] {
        let ran = shed.args(&AUDIT).go();
        assert_eq!(ran.status, 2, "{name}: {}", ran.err);
        ran.reports(&["`evidence/spar.jpg`", "not there"]);
    }
}
