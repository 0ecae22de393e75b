//! Words after the command, exit statuses, and what goes to which stream.

use super::{ITEM, Run, WORDS, project, with_pack};
use crate::golden::named;
use crate::golden::recording::Named;
use cotterpin::command::{Status, run_with};
use cotterpin_engine::audit::REMINDER;
use std::io::{self, Write};

/// Those whose messages are golden.
pub(crate) const GOLDEN: &[Named] = named![
    an_unknown_hold_point_gets_the_nearest,
    an_unknown_item_gets_the_nearest,
    one_pack_is_set_out,
    worked_examples_are_run
];

#[test]
fn help_and_version_are_answers() {
    for args in [&["--help"][..], &["--version"], &["audit", "--help"]] {
        let ran = Run::new(&format!("help{}", args.join(""))).args(args).go();
        assert_eq!((ran.status, ran.err.as_str()), (0, ""));
        assert!(!ran.out.is_empty());
    }
}

#[test]
fn wrong_words_end_with_3() {
    let wrong: [&[&str]; 6] = [
        &[],
        &["fly"],
        &["audit", "--on", "2026-02-30"],
        &["audit", "--format", "paper"],
        &["audit", ".", "--demo"],
        &["why"],
    ];
    for (n, args) in wrong.into_iter().enumerate() {
        let ran = Run::new(&format!("usage-{n}")).args(args).go();
        assert_eq!((ran.status, ran.out.as_str()), (3, ""), "{args:?}");
        assert!(!ran.err.is_empty(), "{args:?}");
    }
}

#[test]
fn a_day_is_given_in_any_way_that_has_one_reading() {
    for on in ["28/11/2026", "Nov 28, 2026", "“2026-11-28”", "today", "yesterday"] {
        let ran = project("day", "").args(&["audit", "--on", on]).go();
        assert_ne!(ran.status, 3, "{on}: {}", ran.err);
    }
    for (on, part) in [("10/12/2026", "write 2026-12-10 or 2026-10-12"), ("Nov 2026", "one day is asked")] {
        let ran = project("day", "").args(&["audit", "--on", on]).go();
        assert!(ran.status == 3 && ran.err.contains(part), "{}", ran.err);
    }
    let ran = Run::new("time").args(&["next", "--demo", "--time", "90m", "--a-day", "1:30 h"]).go();
    assert_eq!(ran.status, 0, "{}", ran.err);
    let ran = Run::new("time").args(&["next", "--demo", "--time", "1:30"]).go();
    assert!(ran.status == 3 && ran.err.contains("write 90 min or 90 s"), "{}", ran.err);
}

#[test]
fn an_unknown_hold_point_gets_the_nearest() {
    let ran = project("hold-point", "").args(&["audit", "--by", "vist"]).go();
    ran.refuses(&["hold-point::unknown", "did you mean `visit`?"]);
}

#[test]
fn an_unknown_item_gets_the_nearest() {
    let on = ["--on", "2026-11-25"];
    let ran = project("unknown-item", "").args(&["why", "spar.lomg"]).args(&on).args(&["--format", "json"]).go();
    assert!(ran.err.contains("did you mean `spar.long`?") && ran.status == 3, "{}", ran.err);
    // A person sees which one was taken.
    project("nearly-item", "").args(&["why", "spar.lomg"]).args(&on).go().reports(&["shed/spar.long"]);
    project("number-item", "").args(&["why", "1"]).args(&on).go().reports(&["shed/spar.long"]);
    project("system-item", "").args(&["why", "spar"]).args(&on).go().reports(&["shed/spar.long"]);
    project("short-item", "").args(&["why", "long"]).args(&on).go().reports(&["shed/spar.long"]);
    // A fact is no item, and has a name as well.
    let recorded = project("fact-item", "[spar]\nspan = \"80 in\"\n").args(&["why", "spar.span"]).args(&on).go();
    recorded.reports(&["spar.span = 80 in (facts.toml:2)", "What reads it:", "unmet", "shed/spar.long", REMINDER]);
    let open = project("open-fact-item", "").args(&["why", "spar.span"]).args(&on).go();
    open.reports(&["spar.span is not recorded: cotterpin record spar.span VALUE", "not shown", REMINDER]);
    let json = project("fact-item-json", "").args(&["why", "spar.span"]).args(&on).args(&["--format", "json"]).go();
    assert!(json.err.contains("item::unknown") && json.status == 3, "{}", json.err);
    project("no-item", "").args(&["why", "tail"]).args(&on).go().refuses(&["item::unknown"]);
    project("no-number", "")
        .args(&["why", "7"])
        .args(&on)
        .go()
        .refuses(&["item::number", "no finding with the number 7"]);
}

#[test]
fn statuses_follow_the_findings() {
    let audit = ["audit", "--on", "2026-11-25"];
    let met = project("status-0", "[spar]\nspan = \"96 in\"\nevidence = [\"photo.jpg\"]\n");
    for (run, status) in [
        (project("status-1", "[spar]\nspan = \"80 in\"\n"), 1),
        (project("status-2", ""), 2),
        (project("status-2-photo", "[spar]\nspan = \"96 in\"\n"), 2),
        (with_pack("status-3", WORDS), 3),
        (met.file("photo.jpg", "light"), 0),
    ] {
        let ran = run.args(&audit).go();
        assert_eq!(ran.status, status, "{}{}", ran.out, ran.err);
    }
}

#[test]
fn the_report_names_the_value_its_place_and_the_last_word() {
    let ran = project("report", "[spar]\nspan = \"80 in\"\n").args(&["audit", "--on", "2026-11-25", "--full"]).go();
    ran.reports(&["UNMET 1. The spar is long enough.", "80 in", "facts.toml:2", REMINDER]);
    assert!(ran.out.lines().all(|line| line.chars().count() <= 80), "{}", ran.out);
    let json = project("report-json", "[spar]\nspan = \"80 in\"\n")
        .args(&["audit", "--on", "2026-11-25", "--format", "json"])
        .go();
    let parsed: serde_json::Value = serde_json::from_str(&json.out).expect("JSON");
    assert_eq!((parsed["findings"][0]["verdict"].as_str(), parsed["on"].as_str()), (Some("unmet"), Some("2026-11-25")));
}

#[test]
fn the_most_useful_questions_are_in_the_report() {
    let ran = project("open-questions", "").args(&["audit", "--on", "2026-11-25", "--full"]).go();
    ran.reports(&["1. spar.span: helps 1 finding. How long is the spar? For example: 96 in"]);
}

#[test]
fn why_tells_the_whole_reasoning() {
    let ran = project("why", "[spar]\nspan = \"80 in\"\n").args(&["why", "spar.long", "--on", "2026-11-25"]).go();
    assert_eq!(ran.status, 0, "{}", ran.err);
    ran.reports(&[
        "shed/spar.long",
        "UNMET on 2026-11-25.",
        "Needed: spar.span >= 90 in No.",
        "spar.span = 80 in (facts.toml:2)",
        REMINDER,
    ]);
}

#[test]
fn questions_are_toml_in_which_nothing_is_recorded_yet() {
    let ran = project("questions", "[spar]\nspan = \"80 in\"\n").args(&["questions"]).go();
    assert_eq!(ran.status, 0, "{}", ran.err);
    assert!(ran.out.contains("[spar]\n# What does the strain gauge read?\n# strain = \"2 V\"\n"), "{}", ran.out);
    assert!(!ran.out.contains("span"), "{}", ran.out);
    let parsed: toml::Table = ran.out.parse().expect("TOML");
    assert!(parsed.values().all(|table| table.as_table().is_some_and(toml::Table::is_empty)), "{parsed:?}");
}

#[test]
fn packs_count_what_is_built_in() {
    let ran = Run::new("packs").args(&["packs", "--format", "json"]).go();
    let parsed: serde_json::Value = serde_json::from_str(&ran.out).expect("JSON");
    assert_eq!((ran.status, parsed["schema"].as_str()), (0, Some("cotterpin-packs/2")));
    let packs = parsed["packs"].as_array().expect("packs");
    assert!(packs.iter().any(|pack| pack["name"] == "common" && pack["facts"].as_u64() > Some(0)), "{parsed}");
}

#[test]
fn one_pack_is_set_out() {
    let us = Run::new("packs-show").args(&["packs", "show", "us"]).go();
    assert_eq!((us.status, us.err.as_str()), (0, ""));
    us.reports(&["us: United States", "14 CFR 45.13, at 45.13(a)", "need"]);
    let html = Run::new("packs-show-html").args(&["packs", "show", "us", "--format", "html"]).go();
    assert!(html.status == 0 && html.out.starts_with("<!DOCTYPE html>") && html.out.ends_with("</html>\n"));
    let own = with_pack("packs-show-own", &format!("{WORDS}{ITEM}")).args(&["packs", "show", "shed"]).go();
    assert_eq!(own.status, 0, "{}", own.err);
    own.reports(&["shed: A pack for tests", "spar.span >= 90 in"]);
    let none = Run::new("packs-show-none").args(&["packs", "show", "use"]).go();
    none.refuses(&["pack::missing", "did you mean `us`?"]);
    // The counts alone are still counts.
    let wrong = Run::new("packs-show-wrong").args(&["packs", "show"]).go();
    assert_eq!((wrong.status, wrong.out.as_str()), (3, ""));
}

#[test]
fn worked_examples_are_run() {
    let whole = with_pack("try-whole", &format!("{WORDS}{ITEM}")).args(&["try", "shed"]).go();
    assert_eq!(whole.status, 0, "{}{}", whole.out, whole.err);
    whole.reports(&["Pack shed: 3 of 3 examples came out as written."]);
    let wrong = ITEM.replace("spar.span = 80 in => unmet", "spar.span = 95 in => unmet");
    let wrong = with_pack("try-wrong", &format!("{WORDS}{wrong}")).args(&["try", "shed"]).go();
    assert_eq!(wrong.status, 1, "{}{}", wrong.out, wrong.err);
    wrong.reports(&["example \"short\"", "It was to be unmet; it came out not-shown."]);
    let none = with_pack("try-none", WORDS).args(&["try", "shed"]).go();
    none.refuses(&["pack::untried"]);
}

/// A reader that has gone away, or a disk that is full.
struct Broken(io::ErrorKind);

impl Write for Broken {
    fn write(&mut self, _: &[u8]) -> io::Result<usize> {
        Err(self.0.into())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

#[test]
fn a_closed_pipe_is_quiet_and_a_full_disk_is_not() {
    let mut err = Vec::new();
    let status = run_with(["cotterpin", "--version"], &mut Broken(io::ErrorKind::BrokenPipe), &mut err, false);
    assert_eq!((status, err.len()), (Status::Settled, 0));
    let status = run_with(["cotterpin", "--version"], &mut Broken(io::ErrorKind::StorageFull), &mut err, false);
    assert_eq!(status, Status::NotDone);
    assert!(!err.is_empty());
}
