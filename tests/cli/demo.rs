//! The demo project: its log, and the findings that its faults lead to.

use super::Run;
use crate::fixtures::messages::words;
use serde_json::Value;
use std::collections::BTreeSet;

const ON: &str = "2026-11-26";

/// The demo's audit as data, by the words after `--demo`.
fn audit(name: &str, more: &[&str]) -> Value {
    let mut args = vec!["audit", "--demo", "--on", ON, "--format", "json"];
    args.extend(more);
    if !more.contains(&"--by") {
        args.extend(["--by", "continuing"]);
    }
    let ran = Run::new(&format!("demo-{name}")).args(&args).go();
    assert_eq!((ran.status, ran.err.as_str()), (1, ""), "{}", ran.out);
    serde_json::from_str(&ran.out).expect("JSON")
}

/// The findings of an item, or of one of its records.
fn findings<'a>(audit: &'a Value, item: &str, of: Option<&str>) -> Vec<&'a Value> {
    let all = audit["findings"].as_array().expect("findings");
    all.iter().filter(|one| one["item"] == item && of.is_none_or(|of| one["subject"] == of)).collect()
}

fn verdict(audit: &Value, item: &str, of: Option<&str>) -> String {
    let found = findings(audit, item, of);
    assert_eq!(found.len(), 1, "{item} {of:?}");
    found[0]["verdict"].as_str().expect("a verdict").to_owned()
}

/// The entries of the log, as TOML.
fn entries() -> Vec<toml::Table> {
    let files = cotterpin::command::demo().into_iter().filter(|(path, _)| path.starts_with("log/"));
    let read = files.map(|(_, bytes)| std::str::from_utf8(bytes).expect("UTF-8").parse::<toml::Table>().expect("TOML"));
    let lists = read.map(|table| table["log"].as_array().expect("a list").clone());
    lists.flatten().map(|entry| entry.as_table().expect("an entry").clone()).collect()
}

/// The day, month or moment of an entry, as written.
fn on(entry: &toml::Table) -> String {
    let text = entry["on"].as_str().map(str::to_owned);
    text.or_else(|| entry["on"].as_datetime().map(ToString::to_string)).expect("a day")
}

#[test]
fn the_log_is_as_long_and_as_mixed_as_a_builders() {
    let entries = entries();
    assert!(entries.len() >= 150, "{}", entries.len());
    let months: BTreeSet<String> = entries.iter().map(|entry| on(entry).chars().take(7).collect()).collect();
    assert!(months.len() >= 14, "{months:?}");
    let with = |key: &str| entries.iter().filter(|entry| entry.contains_key(key)).count();
    assert!(with("instrument") >= 15 && with("snag") >= 30 && with("fit") >= 20);
    assert!(entries.iter().all(|entry| entry["note"].as_str().is_some_and(|note| note.len() > 3)));
    let events: BTreeSet<&str> = entries.iter().filter_map(|entry| entry["what"].as_str()).collect();
    assert_eq!(events.len(), cotterpin_engine::vocabulary::Event::ALL.len(), "every kind of entry: {events:?}");
    let known_to_the_month = entries.iter().filter(|entry| entry["on"].is_str()).count();
    let with_a_time = entries.iter().filter(|entry| on(entry).contains('T')).count();
    assert!(known_to_the_month >= 4 && with_a_time >= 10, "{known_to_the_month} {with_a_time}");
}

#[test]
fn the_demo_on_disk_and_in_the_binary_are_one() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/src/command/demo");
    let mut on_disk: Vec<(String, Vec<u8>)> = walkdir::WalkDir::new(folder)
        .into_iter()
        .map(|entry| entry.expect("it can be walked"))
        .filter(|entry| entry.file_type().is_file())
        .map(|entry| {
            let path = entry.path().strip_prefix(folder).expect("below it").to_string_lossy().replace('\\', "/");
            (path, std::fs::read(entry.path()).expect("it can be read"))
        })
        .collect();
    let embedded = cotterpin::command::demo();
    let mut embedded: Vec<(String, Vec<u8>)> =
        embedded.into_iter().map(|(path, bytes)| (path.to_owned(), bytes.to_vec())).collect();
    on_disk.sort();
    embedded.sort();
    assert_eq!(on_disk, embedded);
    let said = |args: &[&str], name: &str| Run::new(name).args(args).go().out;
    assert_eq!(
        said(&["audit", "--demo", "--on", ON], "demo-embedded"),
        said(&["audit", folder, "--on", ON], "demo-on-disk")
    );
}

#[test]
fn named_faults_lead_to_named_findings() {
    let audit = audit("faults", &[]);
    let first = &audit["findings"][0];
    assert_eq!(
        (&first["item"], &first["subject"]),
        (&"logbook/fittings.closed-over".into(), &"controls.rudder.stop".into())
    );
    for (item, of, expected) in [
        ("logbook/fittings.closed-over", Some("controls.rudder.stop"), "unmet"),
        ("logbook/fittings.final", Some("gear.main.fairing"), "unmet"),
        // Looked at after the washer; then the push rod was turned.
        ("controls/controls.sense.elevator", None, "not-shown"),
        ("controls/controls.sense.rudder", None, "not-shown"),
        ("controls/controls.sense.ailerons", None, "met"),
        ("controls/controls.cable-condition", None, "met"),
        ("before-first-flight/propeller.bolts", None, "met"),
        // The side panels came off for the visit; the hoses were looked at before.
        ("fuel-and-fluids/fluids.hose-bend", None, "not-shown"),
        ("controls/controls.second-look.elevator", None, "not-shown"),
        ("controls/controls.second-look.trim", None, "not-shown"),
        ("controls/controls.second-look.rudder", None, "not-shown"),
        // The wing came off and on again; two people have looked since.
        ("controls/controls.second-look.ailerons", None, "met"),
        ("engine-bay/engine.second-look.controls", None, "not-shown"),
        ("engine-bay/firewall.fitting", Some("fuel line"), "unmet"),
        ("controls/controls.cable-size", Some("rudder, left"), "conceded"),
        ("logbook/departures.carried-through", Some("tie-down rings in the baggage floor"), "unmet"),
        ("logbook/departures.carried-through", Some("oil cooler with ten rows"), "met"),
        ("before-first-flight/air-data.leak", None, "not-shown"),
        ("logbook/snags.cleared", Some("snag 14"), "unmet"),
        ("logbook/snags.cleared", Some("snag 13"), "met"),
        ("paper-identity/identity.serial", None, "unmet"),
        // Tested in 2024, and worked on since.
        ("us/transponder.test", None, "not-shown"),
        // The stop was adjusted since the travel was measured.
        ("controls/controls.travel.up", Some("rudder"), "not-shown"),
        ("controls/controls.travel.up", Some("elevator"), "met"),
        ("fasteners/fasteners.torque", Some("left seat belt anchor"), "not-shown"),
    ] {
        assert_eq!(verdict(&audit, item, of), expected, "{item} {of:?}");
    }
    let mark = findings(&audit, "us/identity.mark.form", None);
    // A rule of one's own does not set law aside; who wanted it away is told.
    assert_eq!((mark[0]["verdict"].as_str(), &mark[0]["set_aside"]), (Some("unmet"), &serde_json::json!([])));
    assert!(mark[0]["says"]["notes"].to_string().contains("The pack `nosuch` wanted it away"), "{}", mark[0]);
    let verdicts: BTreeSet<&str> =
        audit["findings"].as_array().expect("findings").iter().filter_map(|one| one["verdict"].as_str()).collect();
    assert_eq!(verdicts.len(), 5, "{verdicts:?}");
}

#[test]
fn the_report_tells_what_undid_what() {
    let ran = Run::new("demo-text").args(&["audit", "--demo", "--on", ON, "--by", "continuing", "--full"]).go();
    assert_eq!(ran.status, 1);
    ran.reports(&[
        "Can end the visit UNMET 1. No part with a trial or temporary fit is behind a closed panel.",
        "Undone by one entry of the log: adjusted controls.elevator.pushrod on 2026-11-14",
        "had been confirmed controls.sense.elevator on 2026-11-08 by Specimen, Toni, adviser",
        "the pack `nosuch` says that disturbing",
        "`beam wrench` was in calibration until 2025-06",
        "one entry is no signature here: made as adviser",
        "it ran out on 2026-10-31",
        "granted by Instance, Kim, licensed engineer",
        "recorded controls.cables[rudder, left].diameter = 3/32 in",
        "deferred to test flying, by Sample, Robin on 2026-11-14",
        "wanted it away, and it stays",
    ]);
    assert!(ran.out.lines().all(|line| line.chars().count() <= 80));
}

/// So much a tired person reads: a page of 60 lines, and of the demo 450 words.
#[test]
fn the_first_page_tells_what_matters_in_few_words() {
    let ran = Run::new("demo-page").args(&["audit", "--demo", "--on", ON]).go();
    assert_eq!((ran.status, ran.err.as_str()), (1, ""));
    let (lines, words) = (ran.out.lines().count(), ran.out.split_whitespace().count());
    assert!(lines <= 60 && words <= 450, "{lines} lines, {words} words:\n{}", ran.out);
    ran.reports(&[
        "The visit is in 14 days, on Thursday 10 December 2026.",
        // What the way to it waits for.
        "The way to the visit waits longest for door seal",
        "No part with a trial or temporary fit is behind a closed panel (controls.rudder.stop: temporary)",
        "application 8130-6: 2026-11-30",
        "(\"0107\", \"107\")",
        // The circuits that were looked at before somebody went at them again.
        "adjusted controls.elevator.pushrod: 2 things to look at again",
        "Left door check strap, off since 2026-11-21",
        "cotterpin audit --full",
        "The local authority's inspector has the final say.",
    ]);
}

#[test]
fn day_one_of_each_country_fits_one_page() {
    for country in ["au", "ca", "nz", "uk", "us"] {
        let run = Run::new(&format!("day-one-{country}"));
        run.step(&["begin", "shed", "--country", country, "--visit", "2027-03-10", "--who", "Rosa Example"]);
        let ran = run.step(&["audit", "shed", "--on", "2026-11-25"]);
        assert_eq!((ran.status, ran.err.as_str()), (2, ""), "{country}");
        assert!(ran.out.lines().count() <= 60, "{country}:\n{}", ran.out);
        assert!(ran.out.contains("Looked at: what is due before the inspector's visit."), "{}", ran.out);
        assert!(ran.out.contains(" questions, "), "{}", ran.out);
        let next = run.step(&["next", "shed", "--on", "2026-11-25", "--time", "2h"]);
        // No question is a job, and nothing that is only assumed is an alarm.
        assert!(next.out.contains("To say") && !next.out.contains("does not fit"), "{}", next.out);
    }
}

/// The next hold point that lies ahead is looked at: the visit, and after it what is planned next.
#[test]
fn an_audit_looks_at_the_next_hold_point() {
    let by = |on: &str| {
        let ran = Run::new("demo-next-hold-point").args(&["audit", "--demo", "--on", on, "--format", "json"]).go();
        let audit: Value = serde_json::from_str(&ran.out).expect("JSON");
        (audit["by"].as_str().map(str::to_owned), audit["later"].as_array().expect("later").len())
    };
    assert_eq!(by("2026-11-26").0.as_deref(), Some("visit"));
    assert_eq!(by("2026-12-10").0.as_deref(), Some("visit"), "the day itself");
    assert_eq!(by("2026-12-11").0.as_deref(), Some("taxi"));
    assert_eq!(by("2026-12-13").0.as_deref(), Some("first-flight"));
    assert_eq!(by("2027-01-31"), (None, 0), "nothing is planned any more: everything");
    assert!(by("2026-11-26").1 > 2);
}

/// What is counted as open later is what is open there when that is asked for.
#[test]
fn what_is_open_later_is_what_is_found_there() {
    let (visit, all) = (audit("by-visit", &["--by", "visit"]), audit("by-all", &[]));
    let items = all["findings"].as_array().expect("findings").iter().filter(|one| one["kind"] != "whole-list");
    for later in visit["later"].as_array().expect("later") {
        let of = |verdict: &str| {
            items.clone().filter(|one| one["by"] == later["by"] && one["verdict"] == verdict).count() as u64
        };
        let counted = (later["unmet"].as_u64(), later["not_shown"].as_u64());
        assert_eq!(counted, (Some(of("unmet")), Some(of("not-shown"))), "{later}");
    }
}

#[test]
fn before_the_tail_closes_all_of_the_tail_is_asked() {
    let tail = audit("tail", &["--by", "close:tail"]);
    assert_eq!(verdict(&tail, "logbook/fittings.closed-over", Some("controls.rudder.stop")), "unmet");
    let zones: BTreeSet<&str> =
        tail["findings"].as_array().expect("findings").iter().filter_map(|one| one["zone"].as_str()).collect();
    assert_eq!(zones, BTreeSet::from(["tail", "whole"]), "the tail is a part of the whole aircraft");
    for circuit in ["elevator", "rudder", "trim"] {
        assert_eq!(verdict(&tail, &format!("controls/controls.second-look.{circuit}"), None), "not-shown");
    }
    // What lies outside the tail was not looked at, so nothing can be said of it.
    let remarks = tail["notices"].to_string();
    assert!(!remarks.contains("not needed") && !remarks.contains("does not count: the item"), "{remarks}");
}

#[test]
fn three_hours_are_a_list_to_follow() {
    let args = ["next", "--demo", "--on", ON, "--time", "3h"];
    let ran = Run::new("demo-next").args(&args).go();
    assert_eq!((ran.status, ran.err.as_str()), (0, ""));
    let said = words(&ran.out);
    let (sitting, all) = said.split_once("Everything else, in this order").expect("both lists");
    let at = |part: &str| sitting.find(part).unwrap_or_else(|| panic!("\"{part}\" is not in:\n{}", ran.out));
    assert!(at("1. UNMET. No part with a trial") < at("controls.sense.elevator"), "{sitting}");
    assert!(at("controls.sense.elevator") < at("It had been confirmed on 2026-11-08"), "{sitting}");
    let place = |part: &str| all.find(part).unwrap_or_else(|| panic!("\"{part}\" is not in:\n{all}"));
    // First the way it moves, then the second look at the circuit; and no job is told twice.
    let second = "job controls/controls.second-look.elevator why";
    assert!(!all.contains("job controls/controls.sense.elevator why") && place(second) > 0, "{all}");
    assert!(place("controls.second-look.elevator") < place("controls.second-look.trim"), "{all}");
    assert!(!sitting.contains("openings.closed"), "what the inspector is to see stays open: {sitting}");
    // Of the part that is off nobody said how long it takes to put it back; all that fills the hours is known.
    let (_, listed) = sitting.split_once("For 3 h").expect("the hours");
    assert!(!listed.contains("assumed"), "{listed}");
    let (ready, waiting) = all.split_once("Waiting: these cannot be begun today").expect("some wait");
    assert!(ready.contains("Oil cooler hose chafed at the clamp"), "{ready}");
    for part in [
        "baggage placard, ordered 2026-11-16: expected by Thursday 3 December 2026",
        "It stays open for the inspector until the visit.",
        "door seal, ordered 2026-11-16",
        "drilled bolt and castle nut",
    ] {
        assert!(waiting.contains(part), "\"{part}\" is not in:\n{waiting}");
    }
}

#[test]
fn after_the_visit_it_closes_up() {
    let ran = Run::new("demo-close-up").args(&["next", "--demo", "--on", "2026-12-11", "--close-up"]).go();
    assert_eq!((ran.status, ran.err.as_str()), (0, ""));
    ran.reports(&[
        "CLOSE. engine.cowl. why opened for the visit on 2026-11-22",
        "CLOSE. firewall.",
        "CLOSE. aft-fuselage.",
        "INSPECT AGAIN. Two people have inspected the engine's control cables",
        "CONFIRM AGAIN. Nothing leaks after the first runs.",
    ]);
    let next = Run::new("demo-next-after").args(&["next", "--demo", "--on", "2026-12-11", "--time", "8h"]).go();
    assert!(!words(&next.out).contains("stays open for the inspector"), "the visit is over");
}

#[test]
fn since_october_the_log_made_things_worse_and_says_why() {
    let run = Run::new("demo-since");
    run.step(&["audit", "--demo", "--on", "2026-10-31", "--save-to", "october.json"]);
    let ran = run.step(&["since", "october.json", "--demo", "--on", ON]);
    assert_eq!(ran.status, 1, "{}", ran.err);
    ran.reports(&[
        "What changed in Nosuch 2 since 2026-10-31",
        "Worse than it was",
        "Two people have inspected the elevator circuit since it was last disturbed.",
        "No part with a trial or temporary fit is behind a closed panel.",
        "adjusted controls.elevator.pushrod",
    ]);
}
