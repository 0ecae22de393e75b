//! What only follows from a mistake is not told beside it; what is wrong in
//! itself is told for what it is.

use super::{file, read_all, read_one, read_with, said};
use crate::fixtures::packs::rules;
use crate::fixtures::projects::read_project;
use crate::golden::named;
use crate::golden::recording::Named;

/// Those whose messages are golden.
pub(crate) const GOLDEN: &[Named] = named![
    a_snag_with_a_slip_in_its_entry_is_there_all_the_same,
    a_snag_that_nothing_has_is_told,
    a_job_of_ones_own_with_a_slip_is_there_all_the_same,
    a_zone_is_no_part,
    a_hold_point_that_no_pack_knows_is_told,
    a_name_of_a_pack_not_in_use_is_told_as_that
];

const PEOPLE: &str = "[people]\nada = { name = \"Ada Example\", role = \"builder\" }\n";
const ABOUT_SNAG: &str = "[[job]]\nabout = \"snag 16\"\ntakes = \"2 h\"\n";

fn snag(what: &str, more: &str) -> String {
    format!("[[log]]\non = 2026-11-20\nwhat = \"{what}\"\nsubject = \"controls.elevator\"\nwho = \"ada\"\n{more}\n")
}

#[test]
fn a_snag_with_a_slip_in_its_entry_is_there_all_the_same() {
    let cleared = snag("snag cleared", "snag = 16");
    for (found, code) in [
        (snag("snag found", "snag = 16").replace("elevator", "elevatr"), "log::subject"),
        (snag("snag found", "snag = 16\ntakes = \"soon\""), "record::takes"),
        (snag("snag fond", "snag = 16"), "log::what"),
        (snag("snag found", "snag = 16").replace("\"ada\"", "\"adda\""), "log::who"),
        (snag("snag found", "snag = \"16\""), "log::snag"),
        (snag("snag found", ""), "record::missing"),
    ] {
        let reading = read_with(PEOPLE, &[file("log.toml", format!("{found}{cleared}{ABOUT_SNAG}"))], &[]);
        reading.only(code);
    }
    // In a file that is not sound TOML it may stand as well.
    let files = [file("a.toml", "[[log]\n"), file("b.toml", format!("{cleared}{ABOUT_SNAG}"))];
    assert!(read_with(PEOPLE, &files, &[]).codes().iter().all(|code| code.starts_with("toml::")));
}

#[test]
fn a_snag_that_nothing_has_is_told() {
    let other = snag("snag found", "snag = 15").replace("elevator", "elevatr");
    let reading = read_with(PEOPLE, &[file("log.toml", format!("{other}{ABOUT_SNAG}"))], &[]);
    let mut codes = reading.codes();
    codes.sort_unstable();
    assert_eq!(codes, ["job::unknown", "log::subject"]);
}

#[test]
fn a_job_of_ones_own_with_a_slip_is_there_all_the_same() {
    let spats = "[[job]]\nabout = \"own: spats\"\nzone = \"cabbin\"\n";
    let hang = "[[job]]\nabout = \"own: hang the door\"\nafter = [\"own: spats\"]\n";
    read_one(&format!("{spats}{hang}")).only("record::zone");
    read_one(hang).only("job::unknown");
}

#[test]
fn a_zone_is_no_part() {
    let text = snag("work done", "").replace("controls.elevator", "cabin");
    let reading = read_with(PEOPLE, &[file("log.toml", &text)], &[]);
    assert!(said(reading.only("log::subject")).contains("this is a zone, which is only opened or closed"));
    read_with(PEOPLE, &[file("log.toml", text.replace("work done", "opened"))], &[]).nothing_wrong();
}

/// Under a mistyped name the day would be lost, and what runs out before it would seem to hold.
#[test]
fn a_hold_point_that_no_pack_knows_is_told() {
    let reading = read_with("[hold-points]\nvisits = 2026-12-01\n", &[], &[]);
    assert!(said(reading.only("project::unknown")).contains("hold point `visits` |  | did you mean `visit`?"));
    read_with("[hold-points]\nvisit = 2026-12-01\n", &[], &[]).nothing_wrong();
}

/// Small packs have no roles, no evidence, no hold points: then none are counted up.
#[test]
fn where_the_packs_know_no_such_thing_that_is_told() {
    let rules = rules("fact shed.open : yes or no ask \"?\"");
    let people =
        "name = \"Shed\"\npacks = [\"mine\"]\n[people]\nrosa = { name = \"Rosa Example\", role = \"builder\" }\n";
    let reading = read_project(&rules, people, &[], &[]);
    assert!(said(reading.only("project::unknown")).ends_with("the packs know none"), "{:#?}", reading.messages);
}

/// After a change of country: nobody mistyped anything.
#[test]
fn a_name_of_a_pack_not_in_use_is_told_as_that() {
    for text in ["[nz]\naerobatic = true\n", "nz.aerobatic = true\n", "nz.restraints = []\n"] {
        let reading = read_all(&[file("facts.toml", text)], &[]);
        assert!(said(reading.only("fact::unknown")).contains("belongs to the built-in pack `nz`"), "{text}");
    }
}
