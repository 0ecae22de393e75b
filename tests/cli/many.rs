//! `cotterpin audit` of a folder that is no project and holds some.

use super::{ITEM, MANIFEST, Ran, Run, WORDS, project};
use crate::fixtures::messages::words;
use crate::golden::named;
use crate::golden::recording::Named;
use cotterpin::command::{Status, run_with};
use cotterpin_engine::audit::REMINDER;
use serde_json::Value;

/// Those whose messages are golden.
pub(crate) const GOLDEN: &[Named] =
    named![saving_many_is_refused, a_hold_point_that_no_project_knows_is_refused, no_project_is_as_before];

const AUDIT: [&str; 3] = ["audit", "--on", "2026-11-25"];
const SHORT: &str = "[spar]\nspan = \"80 in\"\n";
const LONG: &str = "[spar]\nspan = \"96 in\"\nevidence = [\"photo.jpg\"]\n";
const BROKEN: &str = "[spar]\nspam = \"96 in\"\n\n[wing]\nspan = 2\n";

/// A folder with a pack for all projects in it.
fn shelf(name: &str) -> Run {
    Run::new(name).file("shed/pack.toml", MANIFEST).file("shed/rules.checklist", format!("{WORDS}{ITEM}"))
}

/// Adds a project of that pack; the folder says how many folders it stands in.
fn member(run: Run, folder: &str, name: &str, visit: &str, facts: &str) -> Run {
    let up = "../".repeat(folder.split('/').count());
    let visit = if visit.is_empty() { String::new() } else { format!("visit = {visit}\n") };
    let run =
        run.file(&format!("{folder}/project.toml"), format!("name = \"{name}\"\npacks = [\"{up}shed\"]\n{visit}"));
    run.file(&format!("{folder}/facts.toml"), facts).file(&format!("{folder}/photo.jpg"), "light")
}

/// One project in the common pack, one with a pack of its own and mistakes, one that stands deeper.
pub(crate) fn club(name: &str) -> Run {
    let run = member(shelf(name), "ada", "Shed 4", "2026-12-10", SHORT);
    let run = member(run, "members/Zoé", "Ö", "\"2026-12\"", "");
    let own = MANIFEST.replace("\"shed\"", "\"own\"");
    run.file("bo/project.toml", "name = \"Shed 5\"\npacks = [\"./packs/own\"]\n")
        .file("bo/packs/own/pack.toml", own)
        .file("bo/packs/own/rules.checklist", format!("{WORDS}{ITEM}"))
        .file("bo/facts.toml", BROKEN)
        .file("minutes.txt", "Coffee is out again.\n")
}

fn json(run: Run) -> (i32, Value) {
    let ran = run.args(&AUDIT).args(&["--format", "json"]).go();
    assert_eq!(ran.err, "");
    (ran.status, serde_json::from_str(&ran.out).expect("JSON"))
}

/// The folders of the projects in the report, in its order.
fn folders(parsed: &Value) -> Vec<&str> {
    parsed["projects"]
        .as_array()
        .expect("projects")
        .iter()
        .map(|one| one["folder"].as_str().expect("a folder"))
        .collect()
}

#[test]
fn each_project_has_its_line_and_a_broken_one_hides_nobody() {
    let ran = club("many-club").args(&AUDIT).go();
    assert_eq!((ran.status, ran.err.as_str()), (3, ""), "{}", ran.out);
    ran.reports(&[
        "Self-audits of 3 projects, 2026-11-25 2 were judged, 1 not.",
        "Not judged Shed 5 (bo): 2 errors, the first: ",
        "(facts.toml:2).",
        "visit can end it unmet not shown met project 2026-12 0 0 1 0 Ö (members/Zoé) 2026-12-10 0 1 0 0 Shed 4 (ada)",
        "1. In all 2: The spar is long enough. shed/spar.long: unmet in ada; not shown in members/Zoé.",
        "unmet 1 not shown 1 conceded 0 met 0 not applicable 0",
        "In 2 projects, edition 2026-11-25: shed.",
    ]);
    assert!(words(&ran.out).ends_with(REMINDER), "{}", ran.out);
    for line in ran.out.lines() {
        assert!(line.chars().count() <= 80 && line == line.trim_end(), "{line}");
    }
    let lower = ran.out.to_lowercase();
    assert!(!["airworthy", "approved", "passed", "score", "%"].iter().any(|word| lower.contains(word)), "{}", ran.out);
}

#[test]
fn programs_read_the_same() {
    let (status, parsed) = json(club("many-json"));
    assert_eq!((status, parsed["schema"].as_str()), (3, Some("cotterpin-round/1")));
    assert_eq!(folders(&parsed), ["bo", "members/Zoé", "ada"]);
    let [bo, zoe, ada] = parsed["projects"].as_array().expect("projects").as_slice() else { panic!("{parsed}") };
    assert_eq!((&bo["name"], &bo["came_to"]), (&"Shed 5".into(), &Value::Null));
    assert_eq!((&bo["not_judged"]["errors"], &bo["not_judged"]["place"]["line"]), (&2.into(), &2.into()));
    let (of_zoe, of_ada) = (&zoe["came_to"], &ada["came_to"]);
    assert_eq!((&of_zoe["visit"], &of_zoe["summary"]["not_shown"]), (&"2026-12".into(), &1.into()));
    assert_eq!((&of_ada["summary"]["unmet"], &ada["not_judged"]), (&1.into(), &Value::Null));
    let item = &parsed["items"][0];
    assert_eq!((&item["item"], &item["says"]["title"]), (&"shed/spar.long".into(), &"The spar is long enough.".into()));
    assert_eq!((&item["unmet"], &item["not_shown"]), (&serde_json::json!([2]), &serde_json::json!([1])));
    assert_eq!((&parsed["packs"][0]["name"], &parsed["packs"][0]["projects"]), (&"shed".into(), &2.into()));
    assert_eq!(parsed["summary"]["unmet"], 1);
    assert_eq!(parsed["reminder"], REMINDER);
}

#[test]
fn each_is_judged_as_it_is_alone() {
    let run = club("many-alone");
    let all = run.step(&[&AUDIT[..], &["--format", "json"]].concat());
    let parsed: Value = serde_json::from_str(&all.out).expect("JSON");
    for one in parsed["projects"].as_array().expect("projects") {
        let folder = one["folder"].as_str().expect("a folder");
        let args = ["audit", folder, "--on", "2026-11-25", "--format", "json"];
        let process = run.command(&args).env("COTTERPIN_PACKS_IN", run.folder()).output().expect("the command runs");
        let alone = run.ran(&args, process);
        if one["came_to"].is_null() {
            assert_eq!(alone.status, 3);
            let first = words(one["not_judged"]["first"].as_str().expect("the first"));
            assert!(words(&alone.err).contains(&first), "{first}\n{}", alone.err);
            continue;
        }
        let alone: Value = serde_json::from_str(&alone.out).expect("JSON");
        let verdict = |word: &str| {
            let found = alone["findings"].as_array().expect("findings");
            found.iter().filter(|finding| finding["verdict"] == word).count()
        };
        assert_eq!(one["came_to"]["summary"]["unmet"], verdict("unmet"), "{folder}");
        assert_eq!(one["came_to"]["summary"]["not_shown"], verdict("not-shown"), "{folder}");
        assert_eq!(one["name"], alone["project"]);
    }
}

#[test]
fn the_status_is_that_of_the_worst() {
    let run = |name: &str, facts: &[&str]| {
        let mut run = shelf(&format!("many-status-{name}"));
        for (number, facts) in facts.iter().enumerate() {
            run = member(run, &format!("{number}"), "Shed 4", "", facts);
        }
        run.args(&AUDIT).go().status
    };
    assert_eq!(run("0", &[LONG, LONG]), 0);
    assert_eq!(run("1", &[LONG, "", SHORT]), 1);
    assert_eq!(run("2", &[LONG, ""]), 2);
    assert_eq!(run("3", &[LONG, BROKEN, SHORT]), 3);
}

#[test]
fn what_is_not_read_of_one_is_told_and_the_rest_is_judged() {
    let run = member(shelf("many-not-read"), "ada", "Shed 4", "", LONG).file("ada/facts.toml.bak", SHORT);
    let ran = run.args(&AUDIT).go();
    assert_eq!(ran.status, 3, "{}", ran.out);
    ran.reports(&[
        "Shed 4 (ada): judged below but for this: `facts.toml.bak` is not read",
        "none planned 0 0 0 1 Shed 4",
    ]);
}

#[test]
fn a_misnamed_header_has_its_line() {
    let run = member(shelf("many-misnamed"), "ada", "Shed 4", "", LONG);
    let ran = run.file("bo/project.toml.txt", "name = 'Shed 5'\n").args(&AUDIT).go();
    assert_eq!(ran.status, 3, "{}", ran.out);
    ran.reports(&["bo: there is no project.toml in", "but there is `project.toml.txt`"]);
}

#[test]
fn no_project_is_as_before() {
    let empty = Run::new("many-empty").args(&AUDIT).go();
    empty.refuses(&["project::missing", "there is no project.toml in"]);
    let other = Run::new("many-none").file("shed/pack.toml", MANIFEST).file(".ada/project.toml", "name = 'Shed 4'\n");
    other.args(&AUDIT).go().refuses(&["project::missing"]);
    Run::new("many-nowhere").args(&["audit", "nowhere"]).go().refuses(&["there is no folder"]);
}

#[test]
fn a_project_with_a_project_in_it_is_one_as_before() {
    let inside = |run: Run, folder: &str| {
        run.file(&format!("{folder}inner/project.toml"), "name = \"Shed 5\"\npacks = [\"common\"]\n")
    };
    let alone = inside(project("many-inner-alone", SHORT), "").args(&AUDIT).go();
    assert_eq!(alone.status, 3, "{}", alone.out);
    assert!(alone.err.contains("inner/project.toml"), "{}", alone.err);
    let (status, parsed) = json(inside(member(shelf("many-inner"), "ada", "Shed 4", "", SHORT), "ada/"));
    assert_eq!((status, folders(&parsed)), (3, vec!["ada"]));
    assert_eq!(parsed["projects"][0]["not_judged"]["place"]["file"], "inner/project.toml");
    // Without the inner one the same folder is one project's, whose report it is.
    let plain = project("many-plain", SHORT).args(&AUDIT).go();
    assert_eq!(plain.status, 1, "{}", plain.err);
    plain.reports(&["Test bench, Wednesday 25 November 2026."]);
}

#[test]
fn workers_change_nothing_that_is_said() {
    let mut run = shelf("many-workers");
    for number in 0..23 {
        let facts = [SHORT, LONG, "", BROKEN][number % 4];
        run = member(run, &format!("m{number}"), "Shed 4", ["", "2026-12-10", "2027-01-02"][number % 3], facts);
    }
    let said = |workers: &str, format: &str| {
        let ran = run.step(&["audit", "--on", "2026-11-25", "--workers", workers, "--format", format]);
        assert_eq!((ran.status, ran.err.as_str()), (3, ""), "{}", ran.out);
        ran.out
    };
    for format in ["text", "json"] {
        let one = said("1", format);
        assert!(one.contains("m22") && one.contains("m3"), "{one}");
        for workers in ["2", "3", "40"] {
            assert_eq!(one, said(workers, format), "{workers}");
        }
    }
    let none = run.step(&["audit", "--workers", "0"]);
    assert_eq!((none.status, none.out.as_str()), (3, ""));
}

#[test]
fn most_is_told_and_the_rest_counted() {
    let mut run = shelf("many-bounds");
    let items: String = (0..25).map(|n| ITEM.replace("spar.long", &format!("spar.long{n:02}"))).collect();
    run = run.file("shed/rules.checklist", format!("{WORDS}{items}"));
    for number in 0..9 {
        run = member(run, &format!("m{number}"), "Shed 4", "", "");
    }
    let ran = run.args(&AUDIT).go();
    assert_eq!(ran.status, 2, "{}", ran.out);
    ran.reports(&[
        "1. In all 9: The spar is long enough. shed/spar.long00: not shown in m0, m1, m2, m3, m4 and 4 more.",
        "shed/spar.long19: ",
        "And 5 more items are open in several; `--format json` has every one.",
    ]);
    assert!(!ran.out.contains("spar.long20"), "{}", ran.out);
}

#[test]
fn hold_points_are_asked_for_as_of_one() {
    let run = member(shelf("many-by"), "ada", "Shed 4", "", SHORT);
    let later = "hold-points\n  visit \"Visit\"\n  first-flight \"First flight\"\nsystems\n  spar \"Spar\"\n\
        fact spar.span : length ask \"?\"\nitem spar.long \"Long\" need spar.span >= 90 in\n  by first-flight\n  basis own\n  cite common practice\n";
    let run = run
        .file("bo/project.toml", "name = \"Shed 5\"\npacks = [\"./own\"]\n")
        .file("bo/own/pack.toml", MANIFEST.replace("\"shed\"", "\"own\""))
        .file("bo/own/rules.checklist", later)
        .file("bo/facts.toml", SHORT);
    let by = |point: &str| run.step(&[&AUDIT[..], &["--by", point]].concat());
    let first = by("first-flight");
    assert_eq!(first.status, 3, "{}", first.out);
    first.reports(&[
        "Only what is asked by --by first-flight was looked at.",
        "Shed 4 (ada): the packs know no hold point `first-flight`",
        "none planned 0 1 0 0 Shed 5 (bo)",
    ]);
    // Nothing of bo's is due by the visit.
    let visit = by("visit");
    assert_eq!(visit.status, 3, "{}", visit.out);
    visit
        .reports(&["Shed 5 (bo): no item of its packs concerns it on 2026-11-25", "none planned 0 1 0 0 Shed 4 (ada)"]);
}

#[test]
fn a_hold_point_that_no_project_knows_is_refused() {
    let run = member(member(shelf("many-by-none"), "ada", "Shed 4", "", ""), "bo", "Shed 5", "", "");
    run.args(&["audit", "--by", "vist"]).go().refuses(&["hold-point::unknown", "the packs know no hold point `vist`"]);
}

#[test]
fn saving_many_is_refused() {
    let refused = |name: &str, save: &[&str], said: &str| {
        let run = member(member(shelf(name), "ada", "Shed 4", "", ""), "bo", "Shed 5", "", "");
        // That nothing is written, `go` sees.
        run.args(&AUDIT).args(save).go().refuses(&["saved::many", said, "it holds 2 projects"]);
    };
    refused("many-save", &["--save"], "--save keeps the audit of one project");
    refused("many-save-to", &["--save-to", "all.json"], "--save-to keeps the audit of one project");
}

#[test]
fn folders_are_looked_into_so_deep() {
    let run = member(shelf("many-deep"), "1/2/3/4/5/6", "Shed 4", "", SHORT);
    let seen = run.clone().args(&AUDIT).go();
    assert_eq!(seen.status, 1, "{}", seen.out);
    assert!(seen.out.contains("1/2/3/4/5/6") && !seen.out.contains("Remarks"), "{}", seen.out);
    let deeper = member(run, "a/b/c/d/e/f/g", "Shed 5", "", SHORT).args(&AUDIT).go();
    assert_eq!(deeper.status, 1, "{}", deeper.out);
    deeper.reports(&["Remarks a/b/c/d/e/f/g was not looked into, nor any other folder that lies as deep. Projects are looked for 6 folders deep: audit that folder by itself."]);
    assert!(!deeper.out.contains("Shed 5"), "{}", deeper.out);
}

#[cfg(unix)]
#[test]
fn links_lead_to_projects_and_nowhere_else() {
    let away = Run::new("many-away")
        .file("cy/project.toml", "name = \"Shed 5\"\npacks = [\"./shed\"]\n")
        .file("cy/shed/pack.toml", MANIFEST)
        .file("cy/shed/rules.checklist", format!("{WORDS}{ITEM}"))
        .file("cy/facts.toml", SHORT)
        .file("cy/photo.jpg", "light");
    let run = member(shelf("many-links"), "ada", "Shed 4", "", SHORT)
        .link("again", "ada")
        .link("loop", ".")
        .link("members/up", "..")
        .link("nowhere", "none")
        .link("cy", away.folder().join("cy").to_str().expect("a name"))
        .link("others", away.folder().to_str().expect("a name"));
    let (status, parsed) = json(run);
    assert_eq!((status, folders(&parsed)), (1, vec!["ada", "cy"]));
}

#[cfg(unix)]
#[test]
fn a_link_that_is_hidden_is_left_alone() {
    let run = member(shelf("many-hidden"), "ada", "Shed 4", "", SHORT);
    let run = member(run, ".attic/old", "Shed 5", "", SHORT).link(".ada", ".attic/old");
    assert_eq!(folders(&json(run).1), ["ada"]);
}

#[test]
fn progress_is_for_a_terminal_alone() {
    let run = club("many-progress");
    let said = |is_terminal: bool| {
        let (mut out, mut err) = (Vec::new(), Vec::new());
        let folder = run.folder().to_str().expect("a name");
        let args = ["cotterpin", "audit", folder, "--on", "2026-11-25"];
        assert_eq!(run_with(args, &mut out, &mut err, is_terminal), Status::NotDone);
        (String::from_utf8(out).expect("UTF-8"), String::from_utf8(err).expect("UTF-8"))
    };
    let (shown, silent) = (said(true), said(false));
    assert_eq!((&shown.0, silent.1.as_str()), (&silent.0, ""));
    let blank = " ".repeat("3 of 3 projects".len());
    assert_eq!(shown.1, format!("\r1 of 3 projects\r2 of 3 projects\r3 of 3 projects\r{blank}\r"));
    let Ran { err, .. } = run.step(&AUDIT);
    assert_eq!(err, "", "a pipe");
}
