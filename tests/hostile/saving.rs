//! Saving loses nothing, and replaces nothing but a saved audit.

use crate::cli::{ITEM, Run, WORDS, with_pack};
use std::collections::BTreeSet;
use std::fs::{self, File};
use std::process::Stdio;
use std::time::Duration;

fn shed(name: &str) -> Run {
    with_pack(name, &format!("{WORDS}{ITEM}roles\n  builder \"The builder\"\nsubjects\n  spar.main \"Main spar\"\n"))
        .file("project.toml", "name = \"Test bench\"\npacks = [\"./shed\"]\n[people]\nrosa = { name = \"Rosa Example\", role = \"builder\" }\n")
        .file("facts.toml", "[spar]\nspan = \"80 in\"\n")
}

#[test]
fn nothing_but_a_saved_audit_is_replaced() {
    let run = shed("hostile-replace").file("notes.json", "{}").file("empty.json", "");
    for file in ["project.toml", "facts.toml", "shed/rules.checklist", "notes.json", "empty.json"] {
        let before = run.text(file);
        let ran = run.step(&["audit", "--save-to", file, "--replace"]);
        assert!(ran.status == 3 && ran.err.contains("saved::other") && ran.err.contains(file), "{}", ran.err);
        assert_eq!(run.text(file), before);
    }
    assert_eq!(run.step(&["audit", "--save-to", "new.json", "--replace"]).status, 1);
    let first = run.text("new.json");
    let ran = run.file("facts.toml", "[spar]\nspan = \"81 in\"\n");
    assert_eq!(ran.step(&["audit", "--save-to", "new.json", "--replace"]).status, 1);
    assert_ne!(ran.text("new.json"), first);
}

/// Each of forty at once gets a number of its own, and none is lost.
#[test]
fn forty_save_at_once() {
    let run = shed("hostile-forty");
    let args = ["audit", "--on", "2026-11-25", "--save"];
    let all: Vec<_> = (0..40).map(|_| run.command(&args).stdout(Stdio::null()).spawn().expect("it runs")).collect();
    for child in all {
        let done = child.wait_with_output().expect("it ends");
        assert_eq!(done.status.code(), Some(1), "{}", String::from_utf8_lossy(&done.stderr));
    }
    let names = fs::read_dir(run.folder().join("audits")).expect("a folder");
    let names: BTreeSet<String> =
        names.map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned()).collect();
    let wanted: BTreeSet<String> =
        (1..=40).map(|n| if n == 1 { "2026-11-25.json".to_owned() } else { format!("2026-11-25-{n}.json") }).collect();
    assert_eq!(names, wanted);
}

/// What a killed run left goes once it is old; what is young, or has another name, stays.
#[test]
fn old_left_overs_are_cleared() {
    let run = shed("hostile-parts");
    assert_eq!(run.step(&["audit", "--save"]).status, 1);
    let now = fs::metadata(run.folder().join("facts.toml")).and_then(|file| file.modified()).expect("a time");
    let old = now - Duration::from_secs(2 * 3600);
    for (name, is_old) in [
        (".2026-11-25.json.4711.part", true),
        (".2026-11-25.json.4712.part", false),
        (".2026-11-25.json.x.part", true),
        ("2026.4711.part", true),
        (".4711.part", true),
    ] {
        let file = File::create(run.folder().join("audits").join(name)).expect("a file");
        if is_old {
            file.set_modified(old).expect("a time");
        }
    }
    assert_eq!(run.step(&["audit", "--save"]).status, 1);
    assert!(!run.has("audits/.2026-11-25.json.4711.part"));
    for stays in [".2026-11-25.json.4712.part", ".2026-11-25.json.x.part", "2026.4711.part", ".4711.part"] {
        assert!(run.has(&format!("audits/{stays}")), "{stays}");
    }
}

/// Where the answer cannot be shown, it is said that the entry is written.
#[test]
#[cfg(target_os = "linux")]
fn a_full_output_does_not_hide_what_was_written() {
    let run = shed("hostile-full");
    let full = || Stdio::from(fs::OpenOptions::new().write(true).open("/dev/full").expect("a device"));
    let args = ["log", "work", "done", "spar.main", "--on", "2026-11-25"];
    let done = run.command(&args).stdout(full()).output().expect("it runs");
    let said = String::from_utf8_lossy(&done.stderr).into_owned();
    assert!(done.status.code() == Some(3) && said.contains("is written: do not do it again"), "{said}");
    assert_eq!(run.text("log/2026-11.toml").matches("[[log]]").count(), 1);
    let done = run.command(&["audit"]).stdout(full()).output().expect("it runs");
    assert!(!String::from_utf8_lossy(&done.stderr).contains("is written:"));
}

/// Who waits for somebody else's lock is told so, and goes on once it is free.
#[test]
fn a_held_lock_is_told() {
    let run = shed("hostile-lock").file(".cotterpin/lock", "");
    let lock = File::open(run.folder().join(".cotterpin/lock")).expect("a file");
    lock.lock().expect("locked");
    let args = ["log", "work", "done", "spar.main", "--on", "2026-11-25"];
    let mut child = run.command(&args).spawn().expect("it runs");
    let mut said = std::io::BufReader::new(child.stderr.take().expect("a pipe"));
    let mut line = String::new();
    std::io::BufRead::read_line(&mut said, &mut line).expect("a line");
    assert!(line.contains("Another command is writing"), "{line}");
    assert!(!run.has("log/2026-11.toml"));
    lock.unlock().expect("free");
    assert_eq!(child.wait().expect("it ends").code(), Some(0));
    assert!(run.has("log/2026-11.toml"));
}
