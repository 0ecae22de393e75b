//! The comparison, on audits made by hand and by chance.

use super::{VERDICTS, audit, finding};
use cotterpin_engine::audit::{Audit, Finding, ObservedValue};
use cotterpin_engine::history::{CauseKind, Change, Changes, Class, Content, Saved, compare};
use cotterpin_engine::report::{since_json, since_text};
use cotterpin_engine::vocabulary::Verdict;
use proptest::prelude::*;
use std::collections::BTreeMap;

const ITEMS: [&str; 3] = ["us/marks.height", "us/fuel.flow", "shed/spar.long"];
const RECORDS: [Option<&str>; 3] = [None, Some("linke Tür"), Some("a].b")];
const NAMES: [&str; 3] = ["marks.height", "fuel.tanks[a].b].size", "spar.span"];
const VALUES: [&str; 3] = ["3 in", "12 in", "not recorded"];

fn some_finding() -> impl Strategy<Value = Finding> {
    (
        0..ITEMS.len(),
        0..RECORDS.len(),
        0..VERDICTS.len(),
        prop::collection::vec((0..NAMES.len(), 0..VALUES.len()), 0..3),
    )
        .prop_map(|(item, record, verdict, values)| {
            let values: Vec<_> = values.into_iter().map(|(name, value)| (NAMES[name], VALUES[value])).collect();
            finding(ITEMS[item], RECORDS[record], VERDICTS[verdict], &values)
        })
}

fn some_audit() -> impl Strategy<Value = Audit> {
    prop::collection::vec(some_finding(), 0..14).prop_map(audit)
}

fn by_name<'a>(names: impl Iterator<Item = (&'a str, Option<&'a str>)>) -> BTreeMap<(&'a str, Option<&'a str>), usize> {
    let mut counts = BTreeMap::new();
    for name in names {
        *counts.entry(name).or_insert(0) += 1;
    }
    counts
}

fn of_audit(audit: &Audit) -> BTreeMap<(&str, Option<&str>), usize> {
    by_name(audit.findings.iter().map(|finding| (finding.item.as_str(), finding.subject.as_deref())))
}

fn of_class(changes: &Changes, class: Class) -> BTreeMap<(&str, Option<&str>), usize> {
    by_name(changes.of(class).map(|change| (change.item.as_str(), change.subject.as_deref())))
}

proptest! {
    #![proptest_config(crate::fixtures::seed::fresh())]
    #[test]
    fn an_audit_differs_in_nothing_from_itself(now in some_audit()) {
        let changes = compare(&Saved::of(&now), &now);
        prop_assert!(changes.is_empty(), "{:?}", changes.findings);
        prop_assert_eq!(changes.unchanged, now.findings.len());
        prop_assert_eq!(changes.exit_status(), 0);
    }

    #[test]
    fn what_is_kept_comes_back_as_it_was(now in some_audit()) {
        let saved = Saved::of(&now);
        prop_assert_eq!(Saved::read("it", saved.to_text().as_bytes()), Ok(saved));
    }

    #[test]
    fn every_finding_of_either_audit_is_in_one_class(was in some_audit(), now in some_audit()) {
        let changes = compare(&Saved::of(&was), &now);
        let (before, after) = (of_audit(&was), of_audit(&now));
        let (new, gone) = (of_class(&changes, Class::New), of_class(&changes, Class::Gone));
        for name in before.keys().chain(after.keys()) {
            let count = |map: &BTreeMap<(&str, Option<&str>), usize>| map.get(name).copied().unwrap_or(0);
            prop_assert_eq!(count(&new), count(&after).saturating_sub(count(&before)));
            prop_assert_eq!(count(&gone), count(&before).saturating_sub(count(&after)));
        }
        let pairs = [Class::Worse, Class::Better, Class::Otherwise, Class::Stirred, Class::Unchanged];
        let pairs: usize = pairs.into_iter().map(|class| changes.count(class)).sum();
        prop_assert_eq!(pairs + changes.count(Class::New), now.findings.len());
        prop_assert_eq!(pairs + changes.count(Class::Gone), was.findings.len());
        prop_assert!(changes.of(Class::Better).all(|change| change.now == Some(Verdict::Met)));
        prop_assert!(changes.of(Class::Worse).all(|change| change.now != Some(Verdict::Met)));
        prop_assert!(changes.findings.iter().all(|change| !change.because.is_empty() || change.was != change.now));
        for line in since_text(&changes, "audits/2026-11-25.json", 80).lines() {
            prop_assert!(line.chars().count() <= 80, "{}", line);
        }
    }
}

fn only(was: Finding, now: Finding) -> Change {
    let changes = compare(&Saved::of(&audit(vec![was])), &audit(vec![now]));
    assert_eq!(changes.findings.len(), 1, "{changes:?}");
    changes.findings.into_iter().next().expect("one change")
}

/// Only `met` is better; leave and not applying are neither; the table is the
/// project's own rule, written out.
#[test]
fn each_turn_of_a_verdict_has_its_class() {
    use Class::{Better as B, Otherwise as O, Unchanged as U, Worse as W};
    // Rows: was; columns: now; both in the order of VERDICTS.
    let table = [[U, W, W, O, W], [B, U, O, O, O], [B, W, U, O, O], [O, W, W, U, O], [B, W, W, O, U]];
    for (was, row) in VERDICTS.into_iter().zip(table) {
        for (now, class) in VERDICTS.into_iter().zip(row) {
            let saved = Saved::of(&audit(vec![finding("us/marks.height", None, was, &[])]));
            let changes = compare(&saved, &audit(vec![finding("us/marks.height", None, now, &[])]));
            assert_eq!(changes.count(class), 1, "{was:?} to {now:?}: {changes:?}");
        }
    }
}

#[test]
fn the_value_that_changed_is_told_even_of_a_met_finding() {
    let was = finding("us/marks.height", None, Verdict::Met, &[("marks.height", "12 in")]);
    let now = finding("us/marks.height", None, Verdict::Unmet, &[("marks.height", "3 in")]);
    let change = only(was, now);
    assert_eq!((change.class, change.because[0].kind), (Class::Worse, CauseKind::Value));
    let value = |text: &str| Some(Content::Value(ObservedValue::Recorded(text.into())));
    assert_eq!((&change.because[0].was, &change.because[0].now), (&value("12 in"), &value("3 in")));
}

#[test]
fn a_fact_now_recorded_and_one_no_longer_recorded() {
    let none = finding("us/marks.height", None, Verdict::NotShown, &[("marks.height", "not recorded")]);
    let some = finding("us/marks.height", None, Verdict::Met, &[("marks.height", "12 in")]);
    assert_eq!(only(none.clone(), some.clone()).because[0].kind, CauseKind::Recorded);
    let worse = only(some, none);
    assert_eq!((worse.class, worse.because[0].kind), (Class::Worse, CauseKind::NoLongerRecorded));
    assert_eq!(worse.because.len(), 1, "it is not told as missing a second time");
}

#[test]
fn the_same_verdict_with_another_value_is_told() {
    let was = finding("us/marks.height", None, Verdict::Unmet, &[("marks.height", "2 in")]);
    let now = finding("us/marks.height", None, Verdict::Unmet, &[("marks.height", "3 in")]);
    assert_eq!(only(was, now).class, Class::Stirred);
}

#[test]
fn a_day_that_moved_is_the_cause_where_nothing_recorded_is() {
    let was = audit(vec![finding("us/papers.edition", None, Verdict::Met, &[("papers.expires", "2026-11-30")])]);
    let mut now = audit(vec![finding("us/papers.edition", None, Verdict::Unmet, &[("papers.expires", "2026-11-30")])]);
    now.on = "2026-12-02".to_owned();
    let changes = compare(&Saved::of(&was), &now);
    let cause = &changes.findings[0].because[0];
    assert_eq!(
        (cause.kind, cause.name.as_str(), &cause.now),
        (CauseKind::Day, "audit date", &Some(Content::Text("2026-12-02".into())))
    );
}

#[test]
fn packs_and_editions_are_told_and_are_causes() {
    let was = audit(vec![finding("us/marks.height", None, Verdict::Met, &[])]);
    let mut now = audit(vec![
        finding("us/marks.height", None, Verdict::Unmet, &[]),
        finding("us/marks.colour", None, Verdict::NotShown, &[]),
    ]);
    now.packs[0].edition = "2027-01-01".into();
    let changes = compare(&Saved::of(&was), &now);
    assert_eq!((changes.packs[0].name.as_str(), changes.packs[0].now.as_deref()), ("us", Some("2027-01-01")));
    assert!(changes.findings.iter().all(|change| change.because.iter().any(|cause| cause.kind == CauseKind::Edition)));
    now.packs.clear();
    now.findings.clear();
    let changes = compare(&Saved::of(&was), &now);
    assert_eq!((changes.packs[0].now.as_deref(), changes.count(Class::Gone)), (None, 1));
    assert_eq!(changes.findings[0].because[0].kind, CauseKind::Edition);
}

#[test]
fn a_new_open_finding_ends_with_2_and_a_worse_one_with_1() {
    let one = finding("us/marks.height", None, Verdict::Met, &[]);
    let new = finding("us/fuel.flow", Some("left"), Verdict::NotShown, &[]);
    let was = Saved::of(&audit(vec![one.clone()]));
    assert_eq!(compare(&was, &audit(vec![one.clone(), new.clone()])).exit_status(), 2);
    let worse = Finding { verdict: Verdict::Unmet, ..one.clone() };
    assert_eq!(compare(&was, &audit(vec![worse, new])).exit_status(), 1);
    assert_eq!(compare(&was, &audit(vec![one, finding("us/fuel.flow", None, Verdict::Met, &[])])).exit_status(), 0);
}

#[test]
fn what_can_end_the_visit_comes_first_and_the_reminder_last() {
    let mut stops = finding("us/plate.serial", None, Verdict::Unmet, &[]);
    stops.stops_the_visit = true;
    let was = [finding("us/a.first", None, Verdict::Met, &[]), finding("us/plate.serial", None, Verdict::Met, &[])];
    let now = audit(vec![finding("us/a.first", None, Verdict::Unmet, &[]), stops]);
    let changes = compare(&Saved::of(&audit(was.to_vec())), &now);
    assert_eq!(changes.findings[0].item, "us/plate.serial");
    let text = since_text(&changes, "x.json", 80);
    let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.ends_with(cotterpin_engine::audit::REMINDER), "{text}");
    assert!(words.contains("worse 2 open or contradicted now"), "{text}");
    assert!(text.contains("UNMET 1. It holds."), "{text}");
}

#[test]
fn json_has_the_documented_keys() {
    let was = Saved::of(&audit(vec![finding("us/marks.height", None, Verdict::Met, &[("marks.height", "12 in")])]));
    let now = audit(vec![finding("us/marks.height", None, Verdict::Unmet, &[("marks.height", "3 in")])]);
    let parsed: serde_json::Value =
        serde_json::from_str(&since_json(&compare(&was, &now), "x.json", &[])).expect("the comparison is JSON");
    let keys = |value: &serde_json::Value| {
        let mut keys: Vec<String> = value.as_object().expect("an object").keys().cloned().collect();
        keys.sort();
        keys.join(" ")
    };
    assert_eq!(parsed["schema"], "cotterpin-since/2");
    assert_eq!(
        keys(&parsed),
        "changed_packs changes counts engine messages now packs reminder saved schema unchanged was"
    );
    assert_eq!(keys(&parsed["counts"]), "better gone new other_values otherwise unchanged worse");
    assert_eq!(keys(&parsed["changes"][0]), "because by class item now stops_the_visit subject title was");
    assert_eq!(keys(&parsed["changes"][0]["because"][0]), "kind name now says was");
    assert_eq!(parsed["counts"]["worse"], 1);
}
