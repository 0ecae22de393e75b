//! A19: off is off.

use super::state::{PROJECT, entries, of};
use crate::fixtures::projects::{file, read_project, request};
use crate::lang::{OWN, come_out, finding, load, mine};
use cotterpin_engine::audit::{Audit, FindingKind, MissingCause, Notice, Remark, audit};
use cotterpin_engine::ir::Rules;
use cotterpin_engine::plan::close_up;
use cotterpin_engine::vocabulary::Event;
use cotterpin_engine::vocabulary::Verdict::{self, Met, NotApplicable, NotShown, Unmet};

const PARTS: &str = "subjects
  engine        \"Engine\"        zone cabin
  engine.lines  \"Fuel lines\"
  engine.pump   \"Fuel pump\"
  heater        \"Cabin heater\"  zone cabin can be left off
  heater.valve  \"Heater valve\"
list log.fittings ask \"Each part\"
  field part : text ask \"?\"
  field fit : trial or temporary or final ask \"?\"
  named by part
list shed.hoses of engine.lines ask \"Each hose\"
  field name : text ask \"Which?\"
  field tight : yes or no of its part ask \"Tight?\"
  named by name
fact shed.leaks : yes or no of engine.lines ask \"Does it leak?\"
fact shed.serial : text of engine.lines itself ask \"Its serial?\"
fact shed.warm : yes or no of heater ask \"Does it warm?\"
item shed.fitted \"It is so\" need shed.leaks is no by visit basis own cite common practice
item shed.itself \"It is so\" need shed.serial is \"x\" by visit basis own cite common practice
item shed.word \"It is so\" ask \"Is it?\" need confirmed by builder about engine.lines, heater by visit basis own cite common practice
item shed.looked \"It is so\" need inspected engine.lines by visit basis own cite common practice
item shed.heater \"It is so\" need shed.warm by visit basis own cite common practice
item shed.final for each part in log.fittings \"It is so\" need part.fit is final by visit basis own cite common practice
item shed.hose for each hose in shed.hoses \"It is so\" need hose.tight by visit basis own cite common practice
item shed.hoses-all \"It is so\" need every h in shed.hoses has h.tight by visit basis own cite common practice
";

const FACTS: &str = "[shed]\ndated = 2026-05-20\nleaks = false\nserial = \"x\"\nwarm = true\n\
    [[confirmed]]\nitem = \"shed.word\"\nwho = \"Rosa Example\"\nrole = \"builder\"\non = 2026-05-20\n";

fn rules() -> Rules {
    load(&[mine(PARTS)])
}

fn state(rules: &Rules, facts: &str, log: &[&str]) -> Audit {
    let files = [file("facts.toml", facts), file("log/log.toml", entries(log))];
    let read = read_project(rules, PROJECT, &files, &[]).clean();
    audit(rules, &read.record, &request("2026-06-01"))
}

fn removed<'a>(audit: &'a Audit, part: &str) -> Option<&'a cotterpin_engine::audit::Finding> {
    audit.findings.iter().find(|one| one.kind == FindingKind::Removed && one.subject.as_deref() == Some(part))
}

#[test]
fn a19_a_part_that_was_removed_is_off_with_its_parts_until_it_is_refitted() {
    let rules = rules();
    let look = "2026-05-20 inspected engine.lines";
    for (log, verdict) in [
        (&[look][..], Met),
        (&["2026-05-01 removed engine.lines", look], NotShown),
        (&["2026-05-01 removed engine", look], NotShown),
        (&["2026-05-01 removed engine.pump", look], Met),
        (&["2026-05-01 removed engine", "2026-05-02 refitted engine", look], Met),
        // Nobody knows whether it was put back after that.
        (&["2026-05 removed engine", "2026-05-02 refitted engine", look], NotShown),
        (&["2026-05-01 removed engine", "2026-06 refitted engine", look], NotShown),
        // What is fitted, if only for trial, is not off.
        (&["2026-05-01 removed engine", "2026-05-02 work-done engine fit = \"trial\"", look], Met),
    ] {
        let audit = state(&rules, FACTS, log);
        for item in ["fitted", "word", "looked"] {
            assert_eq!(of(&audit, item), verdict, "{item}: {log:?}");
        }
        // In itself it is what it was.
        assert_eq!(of(&audit, "itself"), Met, "{log:?}");
    }
}

#[test]
fn a19_what_went_off_with_its_parent_comes_back_with_it_what_has_a_line_of_its_own_only_by_its_own() {
    let rules = rules();
    let both = ["2026-05-01 removed engine.lines", "2026-05-02 removed engine", "2026-05-03 refitted engine"];
    let look = "2026-05-20 inspected engine.lines";
    assert_eq!(of(&state(&rules, FACTS, &[both[0], both[1], both[2], look]), "looked"), NotShown);
    assert_eq!(of(&state(&rules, FACTS, &[both[1], both[2], look]), "looked"), Met);
    let own = [both[0], both[1], both[2], "2026-05-04 refitted engine.lines", look];
    assert_eq!(of(&state(&rules, FACTS, &own), "looked"), Met);
    // Put back onto what is off itself, it is off with it.
    let onto = [both[0], both[1], "2026-05-04 refitted engine.lines", look];
    assert_eq!(of(&state(&rules, FACTS, &onto), "looked"), NotShown);
}

#[test]
fn a19_while_it_is_off_it_is_fitted_neither_for_good_nor_for_trial() {
    let rules = rules();
    let fit = "2026-04-01 work-done engine.pump fit = \"trial\"";
    assert_eq!(of(&state(&rules, FACTS, &[fit]), "final"), Unmet);
    for log in [[fit, "2026-05-01 removed engine.pump"], [fit, "2026-05-01 removed engine"]] {
        let audit = state(&rules, FACTS, &log);
        assert!(audit.findings.iter().all(|one| one.item != "mine/shed.final" || one.subject.is_none()), "{log:?}");
    }
}

#[test]
fn a19_each_removal_that_stands_is_one_finding_that_names_what_went_with_it() {
    let rules = rules();
    let audit = state(
        &rules,
        FACTS,
        &["2026-04-01 removed engine", "2026-05-01 removed engine", "2026-05-02 removed engine.pump"],
    );
    assert_eq!(audit.findings.iter().filter(|one| one.kind == FindingKind::Removed).count(), 2);
    let engine = removed(&audit, "engine").expect("it is off");
    assert_eq!((engine.verdict, engine.by.as_str(), engine.zone.as_deref()), (Unmet, "visit", Some("cabin")));
    assert_eq!(engine.notes, [Remark::WentWithIt(vec!["engine.lines".to_owned()])]);
    assert!(matches!(&engine.missing[0].why, MissingCause::Off(by) if by.on == "2026-05-01"));
    assert!(
        removed(&state(&rules, FACTS, &["2026-05-01 removed engine", "2026-05-02 refitted engine"]), "engine")
            .is_none()
    );
    // Perhaps it is back, or perhaps not off yet.
    for log in [
        ["2026-05-01 removed engine", "2026-05 refitted engine"],
        ["2026-06 removed engine", "2026-04-01 refitted engine"],
    ] {
        assert_eq!(removed(&state(&rules, FACTS, &log), "engine").map(|one| one.verdict), Some(NotShown), "{log:?}");
    }
}

#[test]
fn a19_taken_off_for_the_visit_it_is_due_by_the_first_flight_and_stands_on_the_close_up_list() {
    let words = PARTS.replace("subjects", "hold-points first-flight \"Before the first flight\"\nsubjects");
    let rules = load(&[mine(&words)]);
    let log = ["2026-05-01 removed engine for = \"visit\"", "2026-05-02 removed engine.pump"];
    let files = [file("facts.toml", FACTS), file("log/log.toml", entries(&log))];
    let read = read_project(&rules, PROJECT, &files, &[]).clean();
    let audit = audit(&rules, &read.record, &request("2026-06-01"));
    let by = |part: &str| removed(&audit, part).map(|one| one.by.to_string());
    assert_eq!((by("engine"), by("engine.pump")), (Some("first-flight".to_owned()), Some("visit".to_owned())));
    let list = close_up(&rules, &read.record, &audit, crate::fixtures::values::day("2026-06-01"));
    let mut off: Vec<&str> = list.openings.iter().map(|one| one.what.as_str()).collect();
    off.sort_unstable();
    assert_eq!(off, ["engine", "engine.pump"]);
    assert!(list.openings.iter().all(|one| one.event == Event::Removed));
}

#[test]
fn a19_only_a_part_that_the_aircraft_can_be_without_may_be_removed_for_good() {
    let rules = rules();
    let read = |project: &str, line: &str| {
        let files = [file("log/log.toml", entries(&[line]))];
        read_project(&rules, project, &files, &[]).codes().join(" ")
    };
    assert_eq!(read(PROJECT, "2026-05-01 removed heater for = \"good\""), "");
    assert_eq!(read(PROJECT, "2026-05-01 removed engine for = \"good\""), "log::for");
    assert_eq!(read(PROJECT, "2026-05-01 opened heater for = \"good\""), "log::for");
    assert_eq!(read(PROJECT, "2026-05-01 removed heater for = \"ever\""), "log::for");
    assert_eq!(read(PROJECT, "2026-05-01 adjusted heater another = true"), "log::misplaced");
    let own = format!("{PROJECT}[parts]\n\"engine.lamp\" = {{ title = \"Lamp\", can_be_left_off = true }}\n");
    assert_eq!(read(&own, "2026-05-01 removed engine.lamp for = \"good\""), "");
}

#[test]
fn a19_removed_for_good_it_drops_out_of_about_out_of_lists_and_an_item_about_it_alone_does_not_apply() {
    let rules = rules();
    let facts = format!(
        "{FACTS}[[shed.hoses]]\nname = \"a\"\ntight = true\n[[shed.hoses]]\nname = \"b\"\npart = \"heater.valve\"\ntight = false\n[whole]\n\"shed.hoses\" = {{ records = [\"a\", \"b\"], who = \"rosa\", on = 2026-05-20 }}\n"
    );
    let good = "2026-05-25 removed heater for = \"good\"";
    let before = state(&rules, &facts, &[]);
    assert_eq!(["word", "heater", "hoses-all"].map(|item| of(&before, item)), [Met, Met, Unmet]);
    let after = state(&rules, &facts, &[good]);
    assert_eq!(["word", "heater", "hoses-all"].map(|item| of(&after, item)), [Met, NotApplicable, Met]);
    let heater = finding(&after, "mine/shed.heater");
    assert!(
        matches!(heater.notes.as_slice(), [Remark::GoneForGood(by), ..] if by.subject == "heater"),
        "{:?}",
        heater.notes
    );
    let hoses: Vec<_> = after.findings.iter().filter(|one| one.item == "mine/shed.hose").collect();
    assert_eq!(hoses.len(), 1);
    assert!(removed(&after, "heater").is_none());
    // For a while only: then all of it is asked again.
    let off = state(&rules, &facts, &["2026-05-25 removed heater"]);
    assert_eq!(["word", "heater"].map(|item| of(&off, item)), [NotShown, NotShown]);
    assert!(removed(&off, "heater").is_some());
    // Another one in its place.
    let back = state(&rules, &facts, &[good, "2026-05-26 refitted heater"]);
    assert_eq!(["word", "heater", "hoses-all"].map(|item| of(&back, item)), [NotShown, NotShown, NotShown]);
}

#[test]
fn a19_a_refit_after_removed_for_good_is_of_another_one() {
    let words = PARTS.replace("of heater ask", "of heater itself ask");
    let rules = load(&[mine(&words)]);
    for (log, verdict) in [
        (&["2026-05-25 removed heater", "2026-05-26 refitted heater"][..], Met),
        (&["2026-05-25 removed heater for = \"good\"", "2026-05-26 refitted heater"], NotShown),
        (
            &[
                "2026-05-01 removed heater for = \"good\"",
                "2026-05-02 refitted heater",
                "2026-05-25 removed heater",
                "2026-05-26 refitted heater",
            ],
            Met,
        ),
    ] {
        assert_eq!(of(&state(&rules, FACTS, log), "heater"), verdict, "{log:?}");
    }
}

#[test]
fn a19_examples_remove_for_good_and_refit_another() {
    come_out(&[mine(&format!(
        "{PARTS}
item shed.tried \"It is so\" need shed.warm {OWN}
  try \"warm\" shed.warm = yes => met
  try \"off\" shed.warm = yes, removed heater on 2026-05-01 => not-shown
  try \"off for good\" shed.warm = yes, removed heater for good on 2026-05-01 => not-applicable
  try \"another\" shed.warm = yes dated 2026-05-02, refitted heater with another on 2026-05-01 => met
"
    ))]);
    let _: Verdict = Met;
}

#[test]
fn a19_put_back_nobody_says_how_it_is_fitted_until_somebody_does() {
    let rules = rules();
    let fit = "2026-04-01 work-done engine.pump fit = \"final\"";
    let log = [fit, "2026-05-01 removed engine.pump", "2026-05-02 refitted engine.pump"];
    assert_eq!(of(&state(&rules, FACTS, &[fit]), "final"), Met);
    assert_eq!(of(&state(&rules, FACTS, &log), "final"), NotShown);
    let said = [fit, log[1], "2026-05-02 refitted engine.pump fit = \"final\""];
    assert_eq!(of(&state(&rules, FACTS, &said), "final"), Met);
}

#[test]
fn a19_what_is_logged_of_a_part_that_is_gone_for_good_is_told() {
    let rules = rules();
    let good = "2026-05-25 removed heater for = \"good\"";
    for later in ["2026-05-26 work-done heater", "2026-05-26 inspected heater", "2026-05-26 adjusted heater.valve"] {
        let audit = state(&rules, FACTS, &[good, later]);
        assert_eq!(of(&audit, "heater"), NotApplicable, "{later}");
        let told = audit.notices.iter().any(|one| matches!(one, Notice::LoggedOfGone(..)));
        assert!(told, "{later}: {:?}", audit.notices);
    }
    let before = state(&rules, FACTS, &["2026-05-24 work-done heater", good]);
    assert!(!before.notices.iter().any(|one| matches!(one, Notice::LoggedOfGone(..))), "{:?}", before.notices);
}

#[test]
fn a6_a_snag_is_cleared_on_the_part_it_was_found_on() {
    let rules = rules();
    let log = ["2026-05-01 snag-found engine.lines snag = 1", "2026-05-02 snag-cleared heater snag = 1"];
    let reading = read_project(&rules, PROJECT, &[file("log/log.toml", entries(&log))], &[]);
    assert_eq!(reading.codes(), ["log::snag-part"]);
}

#[test]
fn a17_the_picture_of_a_fault_shows_no_part_as_it_should_be() {
    let words = PARTS.replace(
        "item shed.itself",
        "item shed.shown \"It is so\" need shed.leaks is no show photo of engine.lines by visit basis own cite common practice\nitem shed.itself",
    );
    let rules = load(&[mine(&words)]);
    let shown = |line: &str| {
        let files = [file("facts.toml", FACTS), file("log/log.toml", entries(&[line]))];
        let read = read_project(&rules, PROJECT, &files, &["evidence/a.jpg"]).clean();
        of(&audit(&rules, &read.record, &request("2026-06-01")), "shown")
    };
    assert_eq!(shown("2026-05-01 inspected engine.lines evidence = \"evidence/a.jpg\""), Met);
    assert_eq!(shown("2026-05-01 snag-found engine.lines snag = 1\nevidence = \"evidence/a.jpg\""), NotShown);
}

#[test]
fn a21_a_file_whose_days_step_back_as_often_as_on_tells_no_order() {
    let rules = rules();
    let (work, look) = ("2026-05-20 adjusted engine.lines", "2026-05-20 inspected engine.lines");
    let (before, between, after) =
        ("2026-05-22 adjusted heater", "2026-05-18 adjusted heater", "2026-05-19 adjusted heater");
    assert_eq!(of(&state(&rules, FACTS, &[work, look]), "looked"), Met);
    assert_eq!(of(&state(&rules, FACTS, &[before, work, look, between, after]), "looked"), NotShown);
    // One line written late, in a file that goes on otherwise.
    assert_eq!(
        of(&state(&rules, FACTS, &[between, after, work, look, "2026-05-21 adjusted heater", after]), "looked"),
        Met
    );
}
