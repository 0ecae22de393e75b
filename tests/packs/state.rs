//! Mutants of the projects and the demo: each part taken off, put back, worked
//! on; each instrument run out; each day known to the month only. Nothing
//! becomes met by it, and nothing that was decided turns round.

use super::lists::{PROJECTS, Verdicts, project, verdicts};
use crate::fixtures::projects::request;
use cotterpin_engine::audit::audit;
use cotterpin_engine::ir::{Fact, Rules};
use cotterpin_engine::project::{Entry, Moment, Record, Recorded, Value};
use cotterpin_engine::quantity::{Date, DateRange, Exact, ExactInterval};
use cotterpin_engine::vocabulary::{Event, Verdict};
use std::collections::BTreeMap;

fn day(text: &str) -> DateRange {
    DateRange::day(Date::parse(text).expect("a day"))
}

/// An entry on the day before the audit, in a file of its own by its place in time.
fn entry(record: &Record, event: Event, part: &str, at: u32) -> Entry {
    let who = record.people.keys().next().map_or("somebody", String::as_str);
    let place = record.facts.values().next().expect("a fact").place;
    Entry { at: Some(at), ..Entry::new(event, part, who, day("2026-11-24"), place) }
}

fn parts(rules: &Rules, record: &Record) -> Vec<String> {
    let declared = rules.subjects.iter().map(|part| part.name.to_string());
    declared.chain(record.parts.keys().cloned()).collect()
}

/// Every verdict that is better known than it was, or another one.
fn gained(before: &Verdicts, after: &Verdicts) -> Vec<String> {
    let better = |(key, now): (&(String, Option<String>), &Verdict)| {
        let was = before.get(key)?;
        // Where nobody knows any more whether it applies, a need that holds is met.
        let applies_perhaps = (*was, *now) == (Verdict::NotApplicable, Verdict::Met);
        (now != was && *now != Verdict::NotShown && !applies_perhaps)
            .then(|| format!("{key:?}: {was:?} became {now:?}"))
    };
    after.iter().filter_map(better).collect()
}

#[test]
fn a17_a19_no_part_taken_off_put_back_or_worked_on_makes_anything_met() {
    let mut tried = 0;
    let mut undone: BTreeMap<String, usize> = BTreeMap::new();
    for (folder, country) in PROJECTS {
        let (rules, record) = project(folder, country);
        let before = verdicts(&rules, &record);
        for part in parts(&rules, &record) {
            use Event::{Adjusted, Refitted, Removed, WorkDone};
            for events in [&[Removed][..], &[Removed, Refitted], &[Adjusted], &[WorkDone]] {
                let mut mutant = record.clone();
                let lines = (1..).zip(events).map(|(at, event)| entry(&record, *event, &part, at));
                mutant.log.extend(lines);
                let after = verdicts(&rules, &mutant);
                let wrong = gained(&before, &after);
                assert!(wrong.is_empty(), "{folder}, {events:?} {part}: {wrong:#?}");
                tried += 1;
                if folder.ends_with("demo") && events.len() == 2 {
                    let lost =
                        |(key, was): &(&_, &Verdict)| **was == Verdict::Met && after.get(*key) != Some(&Verdict::Met);
                    undone.insert(part.clone(), before.iter().filter(lost).count());
                }
            }
        }
    }
    println!("{tried} mutants; met findings of the demo that taking off and putting back undoes: {undone:?}");
    // A seat out and in, a floor panel, a display set up: a few minutes' work, and a few findings.
    for part in ["cabin.seats", "cabin.floor-panels", "panel.displays", "engine.cowl"] {
        assert!(undone[part] <= 12, "{part} undoes {}", undone[part]);
    }
}

#[test]
fn a22_no_instrument_that_has_run_out_makes_anything_met() {
    let mut tried = 0;
    for (folder, country) in PROJECTS {
        let (rules, record) = project(folder, country);
        let before = verdicts(&rules, &record);
        let Some(id) = rules.list_by_name.get("measuring.equipment") else { continue };
        let until = rules.list(*id).and_then(|list| list.fields.position(|field| field.name == "calibrated_until"));
        let until = until.expect("the field").index();
        for row in 0..record.lists.get(id).map_or(0, |rows| rows.rows.len()) {
            let mut mutant = record.clone();
            let rows = mutant.lists.get_mut(id).expect("the list");
            let old = rows.rows[row].fields[until].as_ref().expect("a day").clone();
            let day = Exact::from_int(i64::from(Date::parse("2020-01-01").expect("a day").days()));
            rows.rows[row].fields[until] = Some(Recorded { value: Value::Number(ExactInterval::point(day)), ..old });
            let wrong = gained(&before, &verdicts(&rules, &mutant));
            assert!(wrong.is_empty(), "{folder}, instrument {row}: {wrong:#?}");
            tried += 1;
        }
    }
    assert!(tried > 10, "{tried}");
}

#[test]
fn a17_no_day_known_to_the_month_only_makes_anything_met() {
    let month = |on: DateRange| DateRange::parse(&on.first.to_string()[..7]).expect("a month");
    let mut tried = 0;
    for (folder, country) in PROJECTS {
        let (rules, record) = project(folder, country);
        let before = verdicts(&rules, &record);
        let mut look = |what: &str, mutant: &Record| {
            // Of a log of months the lists it keeps say less, and never otherwise.
            let wrong = gained(&before, &verdicts(&rules, mutant));
            assert!(wrong.is_empty(), "{folder}, {what}: {wrong:#?}");
            tried += 1;
        };
        for at in 0..record.log.len() {
            let mut mutant = record.clone();
            let entry = &mut mutant.log[at];
            (entry.on, entry.at) = (month(entry.on), None);
            look(&format!("entry {at}"), &mutant);
        }
        let coarse = |recorded: &mut Recorded| {
            if let Some(taken) = recorded.taken.as_mut() {
                taken.on = taken.on.map(|on| Moment { on: month(on.on), at: None, ..on });
            }
        };
        let mut mutant = record.clone();
        mutant.facts.values_mut().for_each(coarse);
        look("facts", &mutant);
        for id in record.lists.keys() {
            let mut mutant = record.clone();
            let rows = &mut mutant.lists.get_mut(id).expect("the list").rows;
            rows.iter_mut().flat_map(|row| row.fields.iter_mut().flatten()).for_each(coarse);
            look(&rules.list(*id).expect("a list").name, &mutant);
        }
    }
    assert!(tried > 200, "{tried}");
}

/// The fact or field of a name as findings show it: `fuel.tanks[left].vent`.
fn fact<'r>(rules: &'r Rules, name: &str) -> Option<&'r Fact> {
    if let Some(id) = rules.fact_by_name.get(name) {
        return rules.fact(*id);
    }
    let (record, field) = name.rsplit_once("].")?;
    let list = rules.list_by_name.get(record.split_once('[')?.0)?;
    rules.list(*list)?.fields.iter().find(|known| known.name == field)
}

/// With every part off and on again the day before, what is still met rests on
/// design, on papers, or on what a part is in itself.
#[test]
fn a17_with_every_part_off_and_on_again_what_is_met_is_no_state_as_fitted() {
    let (rules, record) = project("src/command/demo", "us");
    let mut all = record.clone();
    for (n, part) in (1..).zip(parts(&rules, &record)) {
        all.log.push(entry(&record, Event::Removed, &part, 2 * n));
        all.log.push(entry(&record, Event::Refitted, &part, 2 * n + 1));
    }
    let audit = audit(&rules, &all, &request("2026-11-25"));
    let met = || audit.findings.iter().filter(|finding| finding.verdict == Verdict::Met);
    let mut by_reason: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for finding in met() {
        let mut reason = "design or paper";
        for seen in finding.leaves().flat_map(|leaf| &leaf.values) {
            match fact(&rules, &seen.name).and_then(|fact| fact.state.as_ref()) {
                None => {}
                Some(state) if state.itself => reason = "in itself",
                Some(_) if finding.leaves().count() > 1 => reason = "one way of several",
                Some(_) => panic!("{} is met by {}, which is a state as fitted", finding.item, seen.name),
            }
        }
        by_reason.entry(reason).or_default().push(&finding.item);
    }
    by_reason.values_mut().for_each(|items| items.dedup());
    println!("{by_reason:#?}");
    assert!(met().count() < 240, "{} are met", met().count());
}
