//! What the log comes to for one part: a part that stands for many, and the history of a part.

use super::mistakes::reading;
use super::story::{PROJECT, RULES, entries, shed};
use crate::fixtures::findings;
use crate::fixtures::packs::{load, pack};
use cotterpin_engine::audit::{PartEventKind, PartHistory, PartStanding, Through};
use cotterpin_engine::quantity::Date;
use cotterpin_engine::vocabulary::Verdict;

const ON: &str = "2026-09-30";

/// Whoever logs work on a part that stands for many has not said on which. Disturbed with one of them it undoes no other.
#[test]
fn a_part_that_stands_for_many_undoes_them_all_where_it_is_named() {
    let rules = load(&[pack(
        "shed",
        &[],
        &RULES.replace(
            "item controls.second-look",
            "subjects ends \"Rod ends\" ends.front \"The front ones\"\n\
             disturbing controls.elevator also disturbs ends\ndisturbing engine.controls also disturbs ends\n\
             disturbing ends itself also disturbs controls.elevator, engine.controls\n\
             item controls.second-look",
        ),
    )]);
    let after = |line: &str| {
        let looked = ["2026-08-01 inspected engine.controls rosa", "2026-08-01 inspected controls.elevator rosa"];
        let more = ["2026-08-01 inspected controls.elevator tomas", line];
        let audit = reading(&rules, PROJECT, &[("log.toml", &entries(&[looked, more].concat()))]).audited(ON);
        ["controls.second-look", "engine.controls"].map(|item| findings::verdict(&audit, &format!("shed/{item}")))
    };
    let (met, open) = (Verdict::Met, Verdict::NotShown);
    assert_eq!(after("2026-08-05 inspected engine.hoses rosa"), [met, met]);
    assert_eq!(after("2026-08-05 work done ends rosa"), [open, open]);
    assert_eq!(after("2026-08-05 work done ends.front rosa"), [open, open]);
    assert_eq!(after("2026-08-05 work done controls.elevator rosa"), [open, met]);
    assert_eq!(after("2026-08-05 work done engine.controls rosa"), [met, open]);
}

/// What was looked at, by which work it was undone, and how work elsewhere came to undo it.
#[test]
fn a_part_has_a_history_that_says_what_undid_what() {
    let lines = [
        "2026-08-29 inspected controls.elevator rosa",
        "2026-09-01 inspected controls.elevator tomas",
        "2026-09-10 adjusted controls.elevator.pushrod rosa",
        "2026-09-12 inspected controls.elevator rosa",
        "2026-09-12 snag found controls.elevator rosa",
        "2026-08-30 inspected engine.hoses rosa",
        "2026-10-02 inspected controls.elevator tomas",
    ];
    let log = entries(&lines).replace("what = \"snag found\"", "snag = 1\nwhat = \"snag found\"");
    let said = "[[confirmed]]\nitem = \"controls.sense\"\nwho = \"rosa\"\nrole = \"builder\"\non = 2026-09-05\n";
    let rules = load(&[pack("shed", &[], RULES)]);
    let reading = reading(&rules, PROJECT, &[("log.toml", &log), ("said.toml", said)]);
    let record = &reading.record;
    let on = Date::parse(ON).expect("a day");
    let history = PartHistory::of(&rules, record, on, "controls.elevator");
    let told: Vec<(String, bool, &str, usize)> = history
        .events
        .iter()
        .map(|event| {
            let is_word = matches!(event.what, PartEventKind::Word(..));
            let standing = match event.standing {
                PartStanding::Stands => "stands",
                PartStanding::Undone(by) => by.event.words(),
                PartStanding::NotYet => "not yet",
                _ => "other",
            };
            (event.on.expect("a day").to_string(), is_word, standing, event.undid)
        })
        .collect();
    let expected = [
        ("2026-08-29", false, "adjusted", 0),
        ("2026-09-01", false, "adjusted", 0),
        ("2026-09-05", true, "adjusted", 0),
        ("2026-09-10", false, "stands", 3),
        ("2026-09-12", false, "snag found", 0),
        ("2026-09-12", false, "stands", 1),
        ("2026-10-02", false, "not yet", 0),
    ];
    let expected: Vec<_> =
        expected.iter().map(|(on, word, standing, undid)| ((*on).to_owned(), *word, *standing, *undid)).collect();
    assert_eq!(told, expected);
    let why = shed("part-history", &log).file("said.toml", said).args(&["why", "controls.elevator", "--on", ON]).go();
    why.reports(&[
        "What was logged, said and recorded of it, in order:",
        "2026-08-29 inspected, Rosa Example",
        "undone by adjusted controls.elevator.pushrod on 2026-09-10",
        "said to be so, Rosa Example: Stick back lifts the elevator's edge",
        "adjusted controls.elevator.pushrod, Rosa Example",
        "undid 3 of these lines",
    ]);
    assert!(!why.out.contains("engine.hoses, "), "{}", why.out);
}

/// In the packs that come with the engine: whoever lays the engine bay open for the visit by its cowl has disturbed what
/// is there, and need not say in which zone the cowl lies.
#[test]
fn a_cowl_that_is_opened_for_the_visit_lays_the_engine_bay_open() {
    let (rules, _) = crate::packs::lists::project("src/command/demo", "us");
    let looked = entries(&["2026-09-01 inspected engine.hoses rosa"]);
    for zone in ["", "zone = \"nose\"\n", "zone = \"firewall\"\n"] {
        let log = entries(&["2026-09-10 opened engine.cowl rosa"]);
        let log = format!("{looked}{log}for = \"visit\"\n{zone}");
        let read = reading(&rules, PROJECT, &[("log.toml", &log)]);
        let on = Date::parse(ON).expect("a day");
        let history = PartHistory::of(&rules, &read.record, on, "engine.hoses");
        let undone = history.events.iter().any(|event| matches!(event.standing, PartStanding::Undone(_)));
        assert!(undone, "{zone}");
        let through: Vec<_> = history.events.iter().flat_map(|event| &event.through).collect();
        let lies = |step: &&Through| matches!(step, Through::LiesIn { part, zone } if part == "engine.hoses" && zone == "firewall");
        assert!(through.into_iter().any(|step| lies(&step)), "{zone}");
    }
}
