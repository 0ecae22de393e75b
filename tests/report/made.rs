//! An invented audit with every verdict in it.

use cotterpin_engine::audit::{
    Audit, Cited, Clause, Conceded, Finding, FindingKind, Held, ItemRef, Missing, MissingCause, MissingKind, NoLeave,
    Notice, Observed, ObservedValue, REMINDER, Reason, Remark, SetAside, Summary, Titles,
};
use cotterpin_engine::ir::Pack;
use cotterpin_engine::source::{Place, SharedText};
use cotterpin_engine::vocabulary::{Basis, Mark, Verdict};

pub(crate) fn audit() -> Audit {
    let findings =
        vec![serial(), fuel(), drop("landing light", false), drop("pump", true), marks(), aside(), met(), float()];
    Audit {
        project: "Shed Two".into(),
        on: "2026-11-25".into(),
        visit: Some("2026-12-12".into()),
        by: None,
        closing: None,
        packs: vec![Pack {
            name: "us".into(),
            title: "United States, amateur-built".into(),
            edition: "2026-11-25".into(),
            authority: "the regulations as published".into(),
            scope: "identity and marks".into(),
            not_covered: vec!["seaplanes".into()],
            uses: Vec::new(),
            asked_back: [("gal".into(), vec!["usgal".into(), "impgal".into()])].into(),
            country_means: [("registration.state".into(), "canada".into())].into(),
            digest: "00".repeat(32).into(),
        }],
        summary: summary(&findings),
        findings,
        later: Vec::new(),
        questions: Vec::new(),
        notices: vec![Notice::Concession(
            ItemRef { item: "us/plate.material".into(), subject: None },
            NoLeave::RanOut("2026-10-31".into()),
        )],
        recorded: 41,
        titles: Titles {
            hold_points: titles(&[
                ("visit", "Before the inspector's visit"),
                ("first-flight", "Before the first flight"),
            ]),
            zones: titles(&[("tail", "Tail")]),
            systems: titles(&[("identity", "Identity"), ("fuel", "Fuel"), ("electrical", "Electrical")]),
        },
        reminder: REMINDER,
    }
}

pub(crate) fn summary(findings: &[Finding]) -> Summary {
    let count = |verdict: Verdict| findings.iter().filter(|finding| finding.verdict == verdict).count();
    Summary {
        met: count(Verdict::Met),
        unmet: count(Verdict::Unmet),
        not_shown: count(Verdict::NotShown),
        not_applicable: count(Verdict::NotApplicable),
        conceded: count(Verdict::Conceded),
        set_aside: count(Verdict::SetAside),
    }
}

fn titles(pairs: &[(&'static str, &'static str)]) -> Vec<(SharedText, SharedText)> {
    pairs.iter().map(|(name, title)| ((*name).into(), (*title).into())).collect()
}

pub(crate) fn plain(item: &str, title: &'static str, verdict: Verdict) -> Finding {
    let name = item.split('/').nth(1).unwrap_or(item);
    Finding {
        kind: FindingKind::Item,
        item: item.into(),
        subject: None,
        verdict,
        title: title.into(),
        basis: Basis::Law,
        because: Vec::new(),
        worked_out: Vec::new(),
        missing: Vec::new(),
        sources: vec![cited(Mark::Read)],
        by: "visit".into(),
        zone: None,
        system: name.split('.').next().unwrap_or(name).into(),
        stops_the_visit: false,
        check: None,
        remedy: None,
        caution: None,
        concession: None,
        set_aside: Vec::new(),
        added_by: None,
        added: Vec::new(),
        deferred: None,
        notes: Vec::new(),
        after: Vec::new(),
        waits_for: None,
        waiting: Vec::new(),
        place: None,
    }
}

fn cited(mark: Mark) -> Cited {
    Cited {
        id: "plate-rule".into(),
        title: "Identification of aircraft".into(),
        number: "14 CFR 45.13".into(),
        edition: "1 January 2024".into(),
        superseded_by: None,
        paragraph: "45.13(a)".into(),
        mark,
    }
}

pub(crate) fn seen(name: &str, value: &str, place: Option<(&str, u32)>) -> Observed {
    let place = place.map(|(file, line)| Place { file: file.into(), line, column: 1, end_line: line, end_column: 2 });
    let value = match value {
        "not recorded" => ObservedValue::NotRecorded,
        text => ObservedValue::Recorded(text.to_owned()),
    };
    Observed { name: name.into(), value, typed: None, place, evidence: Vec::new() }
}

pub(crate) fn reason(expression: &str, held: Held, values: Vec<Observed>) -> Reason {
    Reason {
        clause: Clause::Need,
        expression: expression.into(),
        held,
        values,
        notes: Vec::new(),
        lapses: Vec::new(),
        join: None,
        parts: Vec::new(),
    }
}

fn serial() -> Finding {
    let values = vec![
        seen("plate.serial", "\"107\"", Some(("plate.toml", 4))),
        seen(
            "papers.serial",
            "\"0107\"",
            Some(("papers/registration/of/the/aircraft/as/issued/and/copied/by/hand.toml", 12)),
        ),
    ];
    Finding {
        because: vec![reason("alike plate.serial, every papers.serial", Held::False, values)],
        stops_the_visit: true,
        zone: Some("tail".into()),
        check: Some("Read the plate and each paper.".into()),
        remedy: Some("Have the plate made again.".into()),
        caution: Some("Metal dust: wear glasses.".into()),
        ..plain(
            "us/identity.serial",
            "The serial number is the same on the data plate and on every paper",
            Verdict::Unmet,
        )
    }
}

fn missing(fact: &str, ask: &'static str, example: &'static str) -> Missing {
    Missing {
        kind: MissingKind::Fact,
        fact: fact.into(),
        ask: ask.into(),
        example: Some(example.into()),
        why: MissingCause::NotRecorded,
    }
}

fn fuel() -> Finding {
    let values = vec![seen("fuel.flow_test.rate", "not recorded", None)];
    Finding {
        basis: Basis::Advice,
        because: vec![reason("fuel.flow_test.rate >= 18 gal/h", Held::Undecided, values)],
        missing: vec![missing("fuel.flow_test.rate", "How much fuel was collected?", "18.4 gal/h")],
        sources: vec![cited(Mark::Memory)],
        ..plain("us/fuel.flow", "Gravity feed delivers enough fuel", Verdict::NotShown)
    }
}

fn drop(record: &str, measured: bool) -> Finding {
    let value = if measured {
        seen("run.length", "20 ft to 30 ft", Some(("wires.toml", 9)))
    } else {
        seen("run.length", "not recorded", None)
    };
    let wanted = if measured { Vec::new() } else { vec![missing("run.length", "How long is the run?", "21 ft")] };
    Finding {
        subject: Some(record.into()),
        because: vec![reason("drop <= 0.5 V", Held::Undecided, vec![value])],
        worked_out: vec![seen("drop", "0.4 V to 0.6 V", None)],
        missing: wanted,
        by: "first-flight".into(),
        ..plain("us/electrical.drop", "Voltage drop stays within its allowance", Verdict::NotShown)
    }
}

fn marks() -> Finding {
    Finding {
        concession: Some(Conceded {
            reason: "The fin is too small".into(),
            granted_by: "A. Inspector".into(),
            role: "inspector".into(),
            on: "2026-11-01".into(),
            until: "2027-11-01".into(),
            instead_of: Verdict::Unmet,
        }),
        ..plain("us/marks.height", "The marks are at least 12 in high", Verdict::Conceded)
    }
}

fn aside() -> Finding {
    Finding {
        set_aside: vec![SetAside {
            pack: "kit".into(),
            because: "The kit has a header tank".into(),
            basis: None,
            sources: Vec::new(),
            instead_of: Verdict::NotShown,
            silenced: Vec::new(),
        }],
        ..plain("us/fuel.header", "The tank feeds by gravity alone", Verdict::SetAside)
    }
}

fn met() -> Finding {
    Finding {
        notes: vec![Remark::NeedAdded("kit".into())],
        ..plain("us/identity.plate", "The data plate is fixed to the aircraft", Verdict::Met)
    }
}

fn float() -> Finding {
    plain("us/gear.floats", "Floats are drained before the weighing", Verdict::NotApplicable)
}
