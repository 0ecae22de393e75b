//! `cotterpin record`: facts, records and what is alike in them, each in one command.

use super::ask::{WORK, of_a_part};
use super::{Shed, keeps_lines};

const RIBS: &str = "# the ribs\n[[spar.ribs]]\nname = \"r1\" # left\nchord = \"40 in\"\nglued = false\n\n\
                    [[spar.ribs]]\nname = \"r2\"\n\n[[spar.ribs]]\nname = \"r3\"\nchord = \"41 in\"\n";

#[test]
fn a_fact_is_written_and_what_it_changed_is_told() {
    let shed = Shed::new("record-fact").file("spar.toml", "[spar]\nkind = \"wood\" # spruce\n");
    shed.step(&["record", "spar.span", "96", "in"]).fine(&[
        "Written to spar.toml, line 3: spar.span = \"96 in\"",
        "In the audit:",
        "met The spar is long enough (shed/spar.long, was not shown)",
        "Open now: 0 unmet, ",
    ]);
    let first = shed.text("spar.toml");
    assert_eq!(first, "[spar]\nkind = \"wood\" # spruce\nspan = \"96 in\"\n");
    shed.step(&["record", "spar.span", "80.5 in"]).fine(&[
        "It was 96 in (spar.toml:3); that stays as a comment.",
        "unmet The spar is long enough (shed/spar.long, was met)",
    ]);
    let second = shed.text("spar.toml");
    assert!(second.contains("\nspan = \"80.5 in\"\n") && second.contains(": span = \"96 in\"\n"), "{second}");
    shed.step(&["record", "spar.maker", "the", "builder"])
        .fine(&["spar.maker = \"the builder\"", "No finding changed."]);
    shed.step(&["record", "spar.tested", "none"]).fine(&["spar.tested = \"none\""]);
    shed.step(&["record", "spar.bolts", "8"]).fine(&["spar.bolts = 8"]);
    shed.step(&["record", "spar.straight", "y"]).fine(&["spar.straight = true"]);
}

#[test]
fn a_value_has_its_day_instrument_and_evidence() {
    let shed = Shed::new("record-beside").file("evidence/span.jpg", "light");
    let args = ["record", "spar.span", "96 in", "--on", "2026-10-04", "--instrument", "tape", "--evidence"];
    shed.step(&[&args[..], &["evidence/span.jpg"]].concat()).fine(&["evidence/span.jpg"]);
    let table: toml::Table = shed.text("spar.toml").parse().expect("TOML");
    let span = table["spar"]["span"].as_table().expect("a table");
    assert_eq!(span["value"].as_str(), Some("96 in"));
    assert_eq!(span["dated"].as_datetime().map(ToString::to_string).as_deref(), Some("2026-10-04"));
    assert_eq!(span["instrument"].as_str(), Some("tape"));
    assert_eq!(span["evidence"][0].as_str(), Some("evidence/span.jpg"));
}

#[test]
fn what_showed_one_value_does_not_show_another() {
    let shed = Shed::new("record-other-value").file("evidence/span.jpg", "light");
    shed.step(&["record", "spar.span", "80 in", "--on", "2026-10-04", "--evidence", "evidence/span.jpg"]).fine(&[]);
    shed.step(&["record", "spar.span", "80 in", "--on", "2026-10-05"]).fine(&["evidence/span.jpg"]);
    let ran = shed.step(&["record", "spar.span", "96 in", "--on", "2026-10-06", "--instrument", "tape"]);
    ran.fine(&["What showed that value does not show this one", "It does not count yet"]);
    assert!(!shed.text("spar.toml").lines().any(|line| line.starts_with("span") && line.contains("span.jpg")));
    shed.step(&["record", "spar.span", "96 in"])
        .fine(&["That was measured with tape; of this one no instrument is named"]);
    shed.step(&["record", "spar.span", "96 in", "--evidence", "evidence/none.jpg"])
        .fine(&["is not there, or is empty"]);
}

#[test]
pub(super) fn what_no_pack_asks_for_is_refused() {
    let shed = Shed::new("record-unknown");
    shed.refuses(&["record", "spar.spam", "96 in"], &["`spar.spam`", "did you mean `spar.span`?"]);
    shed.refuses(&["record", "span", "96 in"], &["did you mean spar.span?"]);
    shed.refuses(&["record", "spar.long", "yes"], &["it is an item", "cotterpin why spar.long"]);
    shed.refuses(&["record", "log", "yes"], &["cotterpin log"]);
    shed.refuses(&["record", "spar.ribs[r9].glued", "yes"], &["it has none yet"]);
}

#[test]
pub(super) fn a_value_that_cannot_be_read_is_refused_with_the_question() {
    let shed = Shed::new("record-wrong");
    shed.refuses(&["record", "spar.span", "96 lb"], &["`96 lb`", "How long is the spar?"]);
    shed.refuses(&["record", "spar.span"], &["recorded as what?", "How long is the spar?"]);
    shed.refuses(&["record", "spar.bolts", "many"], &["`many` is no value of `spar.bolts`", "A whole number"]);
    for nothing in ["?", "n/a", "TBD", "don't know", "yes", "-"] {
        shed.refuses(&["record", "spar.maker", nothing], &["says nothing", "Who made it?"]);
    }
    shed.refuses(&["record", "spar.kind", "plastic"], &["Expected one of wood, metal"]);
    shed.refuses(&["record", "spar.span", "-3", "in"], &["fact::limits"]);
}

#[test]
fn records_are_added_and_changed_by_their_name() {
    let shed = Shed::new("record-rows").file("spar.toml", RIBS);
    shed.step(&["record", "spar.ribs", "name=r4", "chord=40 in", "glued=yes"]).fine(&[
        "Written to spar.toml, line 14: record 4 of spar.ribs.",
        "Are these all? cotterpin confirm spar.ribs",
        "met Each rib is glued (shed/spar.rib of r4)",
    ]);
    keeps_lines(RIBS, &shed.text("spar.toml"));
    shed.step(&["record", "spar.ribs", "name=r2", "glued=no", "chord=42 in"]).fine(&[
        "line 9: r2, glued = no",
        "line 10: r2, chord = 42 in",
        "unmet Each rib is glued (shed/spar.rib of r2",
    ]);
    // What somebody saw is not written over in passing: the record is not named as one to be changed.
    shed.refuses(
        &["record", "spar.ribs", "name=r1", "glued=yes"],
        &["`glued` of r1 is recorded already: false (spar.toml:5)", "cotterpin record \"spar.ribs[r1].glued\" \"yes\""],
    );
    shed.refuses(&["record", "spar.ribs[r4x].glued", "yes"], &["has no record `r4x`", "did you mean `r4`?"]);
    shed.step(&["record", "spar.ribs[r3].glued", "yes"]).fine(&["met Each rib is glued (shed/spar.rib of r3"]);
    let table: toml::Table = shed.text("spar.toml").parse().expect("TOML");
    let ribs = table["spar"]["ribs"].as_array().expect("ribs");
    assert_eq!(ribs.len(), 4);
    assert_eq!((ribs[1]["glued"].as_bool(), ribs[1]["chord"].as_str()), (Some(false), Some("42 in")));
    assert_eq!((ribs[0]["glued"].as_bool(), ribs[2]["glued"].as_bool()), (Some(false), Some(true)));
}

#[test]
pub(super) fn a_record_needs_its_name_and_fields_that_are_known() {
    let shed = Shed::new("record-half").file("spar.toml", RIBS);
    shed.refuses(&["record", "spar.ribs", "glued=yes"], &["which record of `spar.ribs`?", "name="]);
    shed.refuses(&["record", "spar.ribs", "name=r5", "gleud=yes"], &["no field `gleud`", "did you mean `glued`?"]);
    shed.refuses(&["record", "spar.ribs", "name=r5", "glued"], &["`glued` says no field"]);
    shed.refuses(&["record", "spar.ribs", "name=r5", "glued="], &["`glued` is empty"]);
    shed.refuses(&["record", "spar.ribs", "name=r5", "name=r6"], &["`name` is given twice"]);
    shed.refuses(&["record", "spar.ribs", "name=R1", "glued=yes"], &["two records of `spar.ribs` are named `R1`"]);
    shed.refuses(&["record", "spar.ribs", "name=r1"], &["has a record of that name"]);
    shed.refuses(&["record", "spar.ribs", "none"], &["has records, so it is not none"]);
}

#[test]
fn none_is_said_with_the_word_of_the_builder() {
    let shed = Shed::new("record-none");
    shed.step(&["record", "spar.ribs", "none"])
        .fine(&["rosa says that the aircraft has none, not that none is done yet: Each rib of the spar"]);
    let table: toml::Table = shed.text("whole.toml").parse().expect("TOML");
    assert_eq!(table["whole"]["spar.ribs"]["who"].as_str(), Some("rosa"));
    assert_eq!(table["whole"]["spar.ribs"]["records"].as_array().map(Vec::len), Some(0));
}

#[test]
pub(super) fn what_is_alike_is_asked_for_by_all() {
    let shed = Shed::new("record-alike").file("spar.toml", RIBS);
    shed.refuses(&["record", "spar.ribs.glued", "yes"], &["of which one?", "--all for all alike"]);
    shed.refuses(&["record", "spar.ribs.name", "r", "--all"], &["is the name of each record"]);
    shed.refuses(&["record", "spar.span", "96 in", "--all"], &["is no field of all records"]);
    shed.refuses(&["record", "spar.ribs.glued", "yes", "--all-but", "r8"], &["has no record `r8`"]);
}

/// What somebody saw and wrote down otherwise is never written over in passing.
#[test]
fn all_alike_leaves_what_is_recorded_otherwise() {
    let shed = Shed::new("record-all").file("spar.toml", RIBS);
    shed.step(&["record", "spar.ribs.glued", "yes", "--all-but", "r3"]).fine(&[
        "Written to spar.toml for 1 of 3: glued = true r2.",
        "Recorded otherwise, and left as it is: r1: false (spar.toml:5)",
        "Left out: r3: nothing is recorded of it.",
    ]);
    let table: toml::Table = shed.text("spar.toml").parse().expect("TOML");
    let glued: Vec<Option<bool>> = table["spar"]["ribs"]
        .as_array()
        .expect("ribs")
        .iter()
        .map(|rib| rib.get("glued").and_then(|v| v.as_bool()))
        .collect();
    assert_eq!(glued, [Some(false), Some(true), None]);
    keeps_lines(RIBS, &shed.text("spar.toml"));
}

/// One bad value, or a file that is no TOML, stops nobody from writing down what is known.
#[test]
fn what_is_wrong_elsewhere_stops_no_write() {
    let shed = Shed::new("record-beside-wrong").file("spar.toml", "[spar]\nspan = \"96 cubits\"\n");
    shed.step(&["record", "spar.bolts", "8"]).fine(&["spar.bolts = 8", "No finding changed."]);
    shed.step(&["record", "spar.span", "96 in"]).fine(&["met The spar is long enough"]);
    let shed = Shed::new("record-no-toml").file("more.toml", "this is [ no TOML");
    shed.step(&["record", "spar.bolts", "8"]).fine(&["spar.bolts = 8", "What it changed cannot be said"]);
    shed.step(&["log", "inspected", "spar.main", "seen"]).fine(&["What it changed cannot be said"]);
}

#[test]
fn the_project_is_found_from_a_folder_inside_it() {
    let shed = Shed::new("record-inside").file("evidence/fuel/a.jpg", "light");
    let inside = shed.inside("evidence/fuel");
    inside.step(&["record", "spar.span", "96 in", "--evidence", "a.jpg"]).fine(&["evidence/fuel/a.jpg"]);
    inside.step(&["why", "spar.long", "--on", "2026-11-25"]).fine(&["The spar is long enough"]);
    inside.step(&["log", "inspected", "spar.main", "--evidence", "a.jpg"]).fine(&["evidence evidence/fuel/a.jpg"]);
    let outside = Shed::empty("record-outside").file("shed-7/project.toml", "name = \"x\"\npacks = []\n");
    outside.step(&["record", "spar.span", "96 in"]).refuses_to_write(&["just below, in `shed-7`"]);
}

/// What was measured before the work and written down after it would pass for a value of after it.
#[test]
fn a_value_of_now_says_after_which_work_it_is() {
    let shed = of_a_part("record-after-work", "", WORK);
    let after = "It is of now, after work done spar.main, 2026-11-20 (log/2026-11.toml:1). If it was so before";
    shed.step(&["record", "spar.straight", "yes"]).fine(&[after]);
    // With its day it is undone, and says so.
    let ran = shed.step(&["record", "spar.straight", "yes", "--on", "2026-11-10"]).fine(&["It does not count yet"]);
    assert!(!ran.out.contains("It is of now"), "{}", ran.out);
    for ahead in ["2199-12-05", "2199-12-05T10:00", "2199-12"] {
        shed.refuses(&["record", "spar.straight", "yes", "--on", ahead], &["value::ahead", "lies ahead"]);
    }
    of_a_part("record-before-work", "", "").step(&["record", "spar.straight", "yes"]).fine(&["spar.straight"]);
    of_a_part("ask-after-work", "", WORK).answer(&["ask"], "yes\n").fine(&["It is of now, after work done spar.main"]);
}
