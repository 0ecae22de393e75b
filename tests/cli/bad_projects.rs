//! Faults of a project: each is refused with its place and its repair, and
//! nothing on disk changes (which `Run::go` asserts).

use super::{ITEM, MANIFEST, Run, WORDS, project};
use crate::golden::named;
use crate::golden::recording::Named;

/// Those whose messages are golden.
#[cfg(unix)]
pub(crate) const GOLDEN: &[Named] = named![
    no_project,
    no_folder,
    a_file_that_cannot_be_read,
    invalid_toml,
    a_date_that_does_not_exist,
    a_unit_of_the_wrong_kind,
    a_unit_nobody_knows,
    a_bare_number_where_a_unit_is_needed,
    a_fact_given_twice_shows_both_places,
    a_key_no_pack_knows,
    a_pack_that_is_not_there,
    a_file_of_50_megabytes,
    text_that_is_not_utf_8,
    a_loop_of_links,
    evidence_outside_the_project,
    all_faults_of_a_run_are_told
];

const AUDIT: [&str; 4] = ["audit", "--on", "2026-11-25", "--full"];

#[test]
fn no_project() {
    let ran = Run::new("no-project").file("facts.toml", "").args(&AUDIT).go();
    ran.refuses(&["project::missing", "there is no project.toml in `.`", "begin one"]);
}

#[test]
fn no_folder() {
    Run::new("no-folder").args(&["audit", "nowhere"]).go().refuses(&["there is no folder `nowhere`"]);
}

#[cfg(unix)]
#[test]
fn a_file_that_cannot_be_read() {
    // A dangling link cannot be read by anybody, whatever the test runs as.
    let ran = project("unreadable", "").link("lost.toml", "gone.toml").args(&AUDIT).go();
    ran.refuses(&["file::unreadable", "`lost.toml` cannot be read"]);
}

#[test]
fn invalid_toml() {
    let ran = project("invalid-toml", "[spar]\nspan = \n").args(&AUDIT).go();
    ran.refuses(&["facts.toml:2:"]);
}

#[test]
fn a_date_that_does_not_exist() {
    let text = project("no-such-date-text", "[spar]\ntested = \"2026-02-30\"\n").args(&AUDIT).go();
    text.passes_over(&["facts.toml:2:", "When was the spar tested?"]);
    let bare = project("no-such-date", "[spar]\ntested = 2026-02-30\n").args(&AUDIT).go();
    bare.refuses(&["facts.toml:2:"]);
}

#[test]
fn a_unit_of_the_wrong_kind() {
    let ran = project("wrong-unit", "[spar]\nspan = \"96 lb\"\n").args(&AUDIT).go();
    ran.passes_over(&["facts.toml:2:", "How long is the spar?"]);
}

#[test]
fn a_unit_nobody_knows() {
    let ran = project("unknown-unit", "[spar]\nspan = \"96 cubits\"\n").args(&AUDIT).go();
    ran.passes_over(&["facts.toml:2:", "cubits", "How long is the spar?"]);
}

#[test]
fn a_bare_number_where_a_unit_is_needed() {
    let ran = project("bare-number", "[spar]\nspan = 96\n").args(&AUDIT).go();
    ran.passes_over(&["facts.toml:2:", "How long is the spar?"]);
}

#[test]
fn a_fact_given_twice_shows_both_places() {
    let ran = project("twice", "[spar]\nspan = \"96 in\"\n")
        .file("more/other.toml", "\n\n[spar]\nspan = \"95 in\"\n")
        .args(&AUDIT)
        .go();
    ran.refuses(&["facts.toml:2:", "more/other.toml:4:"]);
}

#[test]
fn a_key_no_pack_knows() {
    let ran = project("unknown-key", "[spar]\nspam = \"96 in\"\n").args(&AUDIT).go();
    ran.refuses(&["facts.toml:2:", "spar.span"]);
}

#[test]
fn a_pack_that_is_not_there() {
    let ran =
        Run::new("pack-missing").file("project.toml", "name = \"Test bench\"\npacks = [\"comon\"]\n").args(&AUDIT).go();
    ran.refuses(&["pack::missing", "project.toml:2:", "did you mean `common`?"]);
    let folder = Run::new("pack-folder-missing")
        .file("project.toml", "name = \"Test bench\"\npacks = [\"./gone\"]\n")
        .args(&AUDIT)
        .go();
    folder.refuses(&["project.toml:2:", "gone"]);
}

#[test]
fn a_file_of_50_megabytes() {
    let ran = project("large", "").large("large.toml", 50_000_000).args(&AUDIT).go();
    ran.refuses(&["file::too-large", "`large.toml` is larger than 16 MB"]);
}

#[test]
fn text_that_is_not_utf_8() {
    project("not-utf-8", b"[spar]\nspan = \"\xff in\"\n").args(&AUDIT).go().refuses(&["facts.toml"]);
    let header = Run::new("header-not-utf-8").file("project.toml", b"name = \"\xff\"\n").args(&AUDIT).go();
    header.refuses(&["project.toml"]);
}

#[cfg(unix)]
#[test]
fn a_loop_of_links() {
    let ran = project("loop", "").link("photos/again", "..").args(&AUDIT).go();
    ran.refuses(&["project::loop", "`photos/again` is a link back to", "remove the link"]);
}

#[cfg(unix)]
#[test]
fn evidence_outside_the_project() {
    let link = project("outside-link", "").link("photos/spar.jpg", "/dev/null").args(&AUDIT).go();
    link.refuses(&["evidence::outside", "`photos/spar.jpg` is a link that leads out of the project"]);
    let folder = project("outside-folder", "").link("photos", "/usr").args(&AUDIT).go();
    folder.refuses(&["evidence::outside", "`photos` is a link"]);
    let path = project("outside-path", "[spar]\nspan = \"96 in\"\nevidence = [\"../photo.jpg\"]\n").args(&AUDIT).go();
    path.refuses(&["facts.toml:3:"]);
}

/// What a project names outside its own folder is read only where whoever runs the command has said so.
#[test]
fn a_pack_outside_the_project() {
    let shelf = Run::new("outside-pack")
        .file("shelf/shed/pack.toml", MANIFEST)
        .file("shelf/shed/rules.checklist", format!("{WORDS}{ITEM}"))
        .file("mine/project.toml", "name = \"Shed 4\"\npacks = [\"../shelf/shed\"]\n");
    let mine = shelf.inside("mine");
    let asked = |allowed: Option<&str>, args: &[&str]| {
        let mut command = mine.command(args);
        if let Some(folder) = allowed {
            command.env("COTTERPIN_PACKS_IN", folder);
        }
        mine.ran(args, command.output().expect("the command runs"))
    };
    // A folder beside it, an empty name and its own folder allow nothing.
    for not_there in [None, Some("../shelf/she"), Some(""), Some("."), Some("../nowhere")] {
        for args in [["audit", "--on", "2026-11-25"].as_slice(), &["record", "spar.span", "96 in"], &["questions"]] {
            let ran = asked(not_there, args);
            let told =
                ["pack::outside", "the pack `../shelf/shed` lies outside the project's folder", "project.toml:2:"];
            assert_eq!((ran.status, ran.out.as_str()), (3, ""), "{not_there:?} {args:?}");
            assert!(told.iter().all(|part| ran.err.contains(part)), "{}", ran.err);
        }
    }
    for there in ["../shelf", "../shelf/shed", "..", "/nowhere:.."] {
        // In several folders, as PATH has them.
        let there = there.replace(':', if cfg!(windows) { ";" } else { ":" });
        let ran = asked(Some(&there), &AUDIT);
        assert_eq!((ran.status, ran.err.as_str()), (2, ""), "{there}");
    }
    assert_eq!(asked(Some("../shelf"), &["record", "spar.span", "96 in"]).status, 0);
}

/// A link inside the project that leads to a pack elsewhere is no way round it.
#[cfg(unix)]
#[test]
fn a_linked_pack_outside_the_project() {
    let run = Run::new("outside-pack-link")
        .file("shelf/shed/pack.toml", MANIFEST)
        .file("shelf/shed/rules.checklist", format!("{WORDS}{ITEM}"))
        .file("mine/project.toml", "name = \"Shed 4\"\npacks = [\"./shed\"]\n")
        .link("mine/shed", "../shelf/shed");
    run.inside("mine").step(&AUDIT).refuses(&["pack::outside", "the pack `./shed` lies outside"]);
}

#[test]
fn all_faults_of_a_run_are_told() {
    let ran = project("many", "[spar]\nspan = 96\ntested = \"2026-02-30\"\n")
        .file("other.toml", "[spar]\nstrain = \"2 ft\"\n")
        .large("large.toml", 20_000_000)
        .args(&AUDIT)
        .go();
    ran.refuses(&["facts.toml:2:", "facts.toml:3:", "other.toml:2:", "`large.toml`", "4 errors; nothing was judged."]);
}

#[test]
fn hidden_folders_and_pack_folders_hold_no_fact_files() {
    let ran = project("hidden", "[spar]\nspan = \"80 in\"\n").file(".trash/facts.toml", "nonsense").args(&AUDIT).go();
    assert_eq!((ran.status, ran.err.as_str()), (1, ""));
}

/// A copy that broke off leaves an empty file; a folder may be named like one.
#[test]
fn an_empty_file_and_a_folder_are_no_evidence() {
    let facts = "[spar]\nspan = \"96 in\"\nevidence = [\"spar.jpg\", \"box.jpg\"]\n";
    let run = project("empty-evidence", facts).file("spar.jpg", "").file("box.jpg/readme.txt", "none yet");
    let ran = run.step(&AUDIT);
    assert_eq!(ran.status, 2, "{}", ran.err);
    ran.reports(&[
        "no such file is there, or it is empty",
        "`spar.jpg` for spar is not there",
        "`box.jpg` for spar is not there",
    ]);
    let ran = run.file("spar.jpg", "light").step(&AUDIT);
    assert_eq!(ran.status, 0, "{}", ran.err);
}
