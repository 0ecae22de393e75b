//! `cotterpin begin`.

use super::{PROJECT, Shed};

#[test]
fn a_project_is_begun_and_can_be_audited_and_logged_in() {
    let shed = Shed::empty("begin");
    let args = ["begin", "nosuch", "--country", "us", "--visit", "2026-12", "--who", "Rosa \"R\" Example"];
    shed.step(&args).fine(&[
        "Begun: nosuch",
        "cotterpin ask",
        "cotterpin log WHAT SUBJECT",
        "cotterpin audit",
        "cotterpin next",
    ]);
    let project: toml::Table = shed.text("nosuch/project.toml").parse().expect("TOML");
    assert_eq!(project["name"].as_str(), Some("nosuch"));
    assert_eq!(project["visit"].as_str(), Some("2026-12"));
    assert_eq!(project["people"]["rosa"]["name"].as_str(), Some("Rosa \"R\" Example"));
    assert!(shed.folder().join("nosuch/log").is_dir() && shed.folder().join("nosuch/evidence").is_dir());
    assert_eq!(shed.step(&["audit", "nosuch", "--on", "2026-11-25"]).status, 2);
    shed.step(&["log", "inspected", "controls.elevator", "--project", "nosuch"]).fine(&["Written to log/", "rosa"]);
}

#[test]
fn a_country_in_capitals_and_a_visit_in_words_are_read() {
    let shed = Shed::empty("begin-capitals");
    shed.step(&["begin", "a", "--country", "US", "--visit", "10 Dec 2026"])
        .fine(&["The visit: 2026-12-10, read from 10 Dec 2026."]);
    let project: toml::Table = shed.text("a/project.toml").parse().expect("TOML");
    assert_eq!(project["country"].as_str(), Some("us"));
    assert_eq!(project["visit"].as_datetime().map(ToString::to_string).as_deref(), Some("2026-12-10"));
    shed.step(&["begin", "b", "--visit", "December 2026"]).fine(&["The visit: 2026-12,"]);
    assert!(shed.text("b/project.toml").contains("visit = \"2026-12\"\n"));
}

#[test]
pub(super) fn nothing_is_ever_overwritten() {
    let shed = Shed::empty("begin-twice").file("project.toml", "not even TOML");
    shed.refuses(&["begin", ".", "--country", "us"], &["project::there", "stays as it is"]);
    #[cfg(unix)]
    {
        let link = Shed::empty("begin-link");
        std::os::unix::fs::symlink("nowhere", link.folder().join("project.toml")).expect("a link");
        link.step(&["begin", "."]).refuses_to_write(&["project::there"]);
        assert!(!link.has("nowhere"));
    }
}

#[test]
pub(super) fn what_is_not_understood_makes_no_folder() {
    let shed = Shed::empty("begin-wrong");
    for (args, part) in [
        (["begin", "a", "--country", "usa"], "did you mean `us`? there are packs for au, ca, nz, uk, us"),
        (["begin", "a", "--visit", "10/12/2026"], "write 2026-12-10 or 2026-10-12"),
        (["begin", "a", "--country", "workmanship"], "there are packs for au, ca, nz, uk, us"),
        (["begin", "a", "--visit", "soon"], "value::date"),
        (["begin", "a", "--who", " "], "person::name"),
    ] {
        shed.refuses(&args, &[part]);
        assert!(!shed.has("a"));
    }
}

#[test]
fn without_a_country_it_says_what_is_not_looked_at() {
    let shed = Shed::empty("begin-nowhere");
    shed.step(&["begin", "."]).fine(&["what an authority asks is not looked at", "name yourself"]);
    shed.step(&["log", "inspected", "controls.elevator"]).refuses_to_write(&["log::who", "--person"]);
    let more =
        ["log", "inspected", "controls.elevator", "--who", "ada", "--person", "Ada Example", "--role", "builder"];
    shed.step(&more).fine(&["Declared in project.toml: ada (Ada Example)."]);
    shed.step(&["log", "inspected", "controls.elevator"])
        .fine(&["ada (Ada Example), builder, because --who was not given"]);
}

/// What stands in the folder of a project is read as a part of it, wherever one stands and by whichever way one comes.
#[test]
fn no_project_begins_within_another_and_each_beside_it() {
    let shed = Shed::new("begin-inside").file("evidence/plate.jpg", "light");
    for inner in ["wing", "evidence/wing", "a/../wing", "evidence/../b/c"] {
        shed.refuses(&["begin", inner], &["project::inside", "begin it beside that project"]);
    }
    let within = shed.inside("evidence");
    within.step(&["begin", "../wing"]).refuses_to_write(&["project::inside"]);
    let beside = Shed::empty("begin-beside").file("one/project.toml", PROJECT).file("one/log/2026-01.toml", "");
    beside.step(&["begin", "two"]).fine(&["Begun: two"]);
    beside.step(&["begin", "one/../three"]).fine(&["Begun: one/../three"]);
    beside.inside("one").step(&["begin", "../four"]).fine(&["Begun: ../four"]);
    beside.inside("one/log").step(&["begin", "../../five/six"]).fine(&["Begun: ../../five/six"]);
    for made in ["two", "three", "four", "five/six"] {
        assert!(beside.has(&format!("{made}/project.toml")), "{made}");
    }
    #[cfg(unix)]
    {
        std::os::unix::fs::symlink("one/log", beside.folder().join("link")).expect("a link");
        beside.refuses(&["begin", "link/wing"], &["project::inside"]);
    }
}
