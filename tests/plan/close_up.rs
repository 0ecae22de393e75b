//! After the visit: what is open, what is off, and what must be inspected again.

use super::{Project, day, project};
use cotterpin_engine::audit::REMINDER;
use cotterpin_engine::plan::{CloseUp, close_up};
use cotterpin_engine::report::{close_up_json, close_up_text};

const ITEMS: &str =
    "item shed.hinge \"The hinge has been inspected\" need inspected tail.hinge by first-flight zone tail
      basis own cite common practice remedy \"Look at the pin.\" caution \"Support the elevator.\"
    item shed.seat \"The seat has been inspected\" need inspected cabin.seat by first-flight zone cabin
      basis own cite common practice";

fn entry(on: &str, what: &str, subject: &str, more: &str) -> String {
    format!("[[log]]\non = {on}\nwhat = \"{what}\"\nsubject = \"{subject}\"\nwho = \"rosa\"\n{more}")
}

fn made(log: &[String]) -> (Project, CloseUp) {
    let project = project(ITEMS, "", &log.concat());
    let list = close_up(&project.rules, &project.record, &project.audit, day(super::ON));
    (project, list)
}

fn both(list: &CloseUp) -> (Vec<&str>, Vec<&str>) {
    let openings = list.openings.iter().map(|one| one.what.as_str()).collect();
    (openings, list.again.iter().map(|finding| finding.item.as_str()).collect())
}

#[test]
fn what_was_opened_for_the_visit_is_closed_and_inspected_again() {
    let before =
        [entry("2026-11-01", "inspected", "tail.hinge", ""), entry("2026-11-01", "inspected", "cabin.seat", "")];
    let opened = entry("2026-11-20", "opened", "tail", "for = \"visit\"\nnote = \"Inspection cover, left\"\n");
    let (_, list) = made(&before);
    assert_eq!(both(&list), (vec![], vec![]));
    let (_, list) = made(&[before.concat(), opened.clone()]);
    assert_eq!(both(&list), (vec!["tail"], vec!["shed/shed.hinge"]), "the seat is elsewhere");
    assert!(list.openings[0].for_visit && list.openings[0].zone.as_deref() == Some("tail"));
    let text = close_up_text(&list, 80);
    let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
    for part in [
        "INSPECT AGAIN. The hinge has been inspected.",
        "Support the elevator.",
        "Look at the pin.",
        "CLOSE. tail.",
        "Inspection cover, left.",
        "Count the tools",
        "opened for the visit on 2026-11-20 by Rosa Example",
    ] {
        assert!(words.contains(part), "{part} is not in {words}");
    }
    assert!(words.find("INSPECT AGAIN") < words.find("CLOSE."), "first look, then close");
    assert!(words.ends_with(REMINDER) && close_up_json(&list, &[]).contains(REMINDER));
    assert!(text.lines().all(|line| line.chars().count() <= 80));
    // Closed, and not looked at: it has still to be inspected again.
    let closed = entry("2026-11-22", "closed", "tail", "");
    let (_, list) = made(&[before.concat(), opened.clone(), closed.clone()]);
    assert_eq!(both(&list), (vec![], vec!["shed/shed.hinge"]));
    let again = entry("2026-11-21", "inspected", "tail.hinge", "");
    let (_, list) = made(&[before.concat(), opened, closed, again]);
    assert_eq!(both(&list), (vec![], vec![]));
}

#[test]
fn a_part_taken_off_for_the_visit_is_put_back() {
    let removed = |more: &str| entry("2026-11-20", "removed", "cabin.seat", more);
    assert_eq!(both(&made(&[removed("for = \"visit\"\n")]).1).0, ["cabin.seat"]);
    assert_eq!(both(&made(&[removed("")]).1).0, ["cabin.seat"], "off is off, whatever for");
    let refitted = entry("2026-11-21", "refitted", "cabin.seat", "");
    assert!(both(&made(&[removed("for = \"visit\"\n"), refitted]).1).0.is_empty());
}

#[test]
fn where_nobody_can_say_which_came_first_it_counts_as_open() {
    let log = [entry("\"2026-11\"", "opened", "tail", ""), entry("2026-11-10", "closed", "tail", "")];
    assert_eq!(both(&made(&log).1).0, ["tail"]);
    let tomorrow = [entry("2026-11-26", "opened", "tail", "")];
    assert!(both(&made(&tomorrow).1).0.is_empty(), "that is tomorrow");
}
