//! `cotterpin next` as a person runs it.

use super::{Run, WORDS, with_pack};
use crate::golden::named;
use crate::golden::recording::Named;
use cotterpin_engine::audit::REMINDER;

/// Those whose messages are golden.
pub(crate) const GOLDEN: &[Named] = named![a_job_that_names_nothing_stops_it_with_its_place];

const ITEM: &str = "zones\n  tail \"Tail\"\nitem spar.long\n  \"The spar is long enough\"\n  need spar.span >= 90 in\n  by visit\n  zone tail\n  \
    takes 45 min\n  basis common practice\n  cite common practice\n  remedy \"Measure it again.\"\n";

fn shed(name: &str) -> Run {
    with_pack(name, &format!("{WORDS}{ITEM}")).file("facts.toml", "[spar]\nspan = \"80 in\"\n")
}

#[test]
fn next_shows_what_fits_and_why() {
    let ran = shed("next-text").args(&["next", ".", "--on", "2026-11-25", "--time", "3h"]).go();
    assert_eq!((ran.status, ran.err.as_str()), (0, ""));
    ran.reports(&[
        "What next for Test bench",
        "Wednesday 25 November 2026",
        "For 3 h: 1 job, 45 min",
        "1. UNMET. The spar is long enough.",
        "Due before the inspector's visit, for which no day is planned.",
        "45 min, the pack's rough figure",
        "Measure it again.",
        REMINDER,
    ]);
    assert!(ran.out.lines().all(|line| line.chars().count() <= 80));
    let again = shed("next-again").args(&["next", ".", "--on", "2026-11-25", "--time", "180 min"]).go();
    assert_eq!(ran.out, again.out, "the same inputs give the same bytes");
}

#[test]
fn next_is_data_for_programs() {
    let ran = shed("next-json").args(&["next", "--on", "2026-11-25", "--format", "json", "--a-day", "2h"]).go();
    let value: serde_json::Value = serde_json::from_str(&ran.out).expect("JSON");
    assert_eq!(value["schema"], "cotterpin-next/2");
    assert_eq!(value["jobs"][0]["name"], "shed/spar.long");
    assert_eq!(value["jobs"][0]["takes"]["minutes"], 45);
    assert_eq!(value["a_day"], 120);
    assert_eq!(value["sitting"], serde_json::Value::Null);
    assert_eq!(value["reminder"], REMINDER);
    let ran = shed("close-up-json").args(&["next", "--on", "2026-11-25", "--format", "json", "--close-up"]).go();
    let value: serde_json::Value = serde_json::from_str(&ran.out).expect("JSON");
    assert_eq!(
        (&value["schema"], value["openings"].as_array().map(Vec::len)),
        (&"cotterpin-close-up/2".into(), Some(0))
    );
}

#[test]
fn the_demo_has_jobs_and_closes_up() {
    let ran = Run::new("next-demo").args(&["next", "--demo", "--on", "2026-11-25", "--time", "3h"]).go();
    assert_eq!(ran.status, 0);
    ran.reports(&["For 3 h:", "Everything else, in this order", "The way to the visit", REMINDER]);
    assert!(ran.out.lines().all(|line| line.chars().count() <= 80));
    let ran = Run::new("close-up-demo").args(&["next", "--demo", "--on", "2026-11-25", "--close-up"]).go();
    ran.reports(&["To close up on", REMINDER]);
}

#[test]
fn wrong_times_are_refused() {
    for (n, args) in [
        &["next", "--time", "3 lb"][..],
        &["next", "--time", "0h"],
        &["next", "--time", "soon"],
        &["next", "--a-day", "25h"],
        &["next", "--time", "3h", "--close-up"],
    ]
    .into_iter()
    .enumerate()
    {
        let ran = shed(&format!("next-wrong-{n}")).args(args).go();
        assert_eq!((ran.status, ran.out.as_str()), (3, ""), "{args:?}");
        assert!(!ran.err.contains("panicked") && !ran.err.is_empty());
    }
}

#[test]
fn a_job_that_names_nothing_stops_it_with_its_place() {
    let ran = shed("next-unknown").file("jobs.toml", "[[job]]\nabout = \"spar.lomg\"\n").args(&["next"]).go();
    ran.refuses(&["jobs.toml:1", "there is no item `spar.lomg`", "did you mean `spar.long`?"]);
}
