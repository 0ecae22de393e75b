//! A day still to come is not a day on which something was done.
//!
//! Each worked example that is met, and each date it records, in turn: that date is put off to
//! 2085. What was done, held, signed or issued on such a day has not happened, so the item is met
//! no longer. Then the whole example again, as on a day before all that it records. Excepted are
//! the dates that say until when, from when it counts, or before when; each with its reason.

use super::all;
use cotterpin_engine::audit::Judge;
use cotterpin_engine::ir::{Fact, FactId, ItemId, Kind, ListId, Rules};
use cotterpin_engine::lint::record_of;
use cotterpin_engine::project::{Record, Recorded, Value};
use cotterpin_engine::quantity::{Date, Exact, ExactInterval};
use cotterpin_engine::vocabulary::Verdict;

/// Dates that may lie ahead: the fact or the field, and why.
const AHEAD: [(&str, &str); 27] = [
    ("au.air_data_due", "it says until when"),
    ("au.beacon_registry_until", "it says until when"),
    ("au.issuer_authority_until", "it says until when"),
    ("au.maintainer_until", "it says until when"),
    ("au.release_until", "it says until when"),
    ("au.transponder_due", "it says until when"),
    ("ca.elt_test_due", "it says until when"),
    ("ca.extinguisher_until", "it says until when"),
    ("ca.insurance.ends", "it says until when"),
    ("ca.out_of_phase_due", "it says until when"),
    ("ca.survival_until", "it says until when"),
    ("certificate.expires", "it says until when"),
    ("elt.date_on_case", "it says until when"),
    ("flying.abroad_permitted_until", "it says until when"),
    ("log.snags.cleared", "the log keeps it, and takes no entry of a later day"),
    ("nz.carbon_monoxide.life_ends", "it says until when"),
    ("nz.inspection.due_on", "it says until when"),
    ("nz.review.due_early", "it says until when"),
    ("papers.edition_expires", "it says until when"),
    ("registration.expires", "it says until when"),
    ("registration.reserved_until", "it says until when"),
    ("uk.air_data.due", "it says until when"),
    ("uk.clearance.expires", "it says until when"),
    ("uk.co.good_until", "it says until when"),
    ("uk.insurance.until", "it says until when"),
    ("uk.permit.valid_until", "it says until when"),
    ("wb.scales.due", "it says until when"),
];

/// Dates that may lie ahead in one item only: the item, the fact or the field, and why.
const AHEAD_IN: [(&str, &str, &str); 7] = [
    ("beacon.nz.unserviceable", "nz.aels.unserviceable_since", "a ferry flight is not tied to days"),
    ("papers.ca.inspection.open", "ca.enclosed.closed", "seen before it is closed, whenever that is"),
    ("portion.ca.checked", "ca.construction_begun", "checked before work begins, whenever that is"),
    ("portion.ca.design", "ca.construction_begun", "shown before work begins, whenever that is"),
    ("test-flying.au.manual", "au.phase_two_issued_on", "written before phase two, whenever that is"),
    ("papers.uk.project", "uk.project.begun_on", "registered before work begins, whenever that is"),
    ("papers.uk.radio_licence", "uk.radio.licence_until", "it says until when"),
];

/// Whether a date may lie ahead in an item.
fn may_lie_ahead(item: &str, name: &str) -> bool {
    AHEAD.iter().any(|(may, _)| *may == name) || AHEAD_IN.iter().any(|(of, may, _)| *of == item && *may == name)
}

/// Where a date of a record stands.
#[derive(Clone, Copy)]
enum At {
    Fact(FactId),
    Field(ListId, usize, usize),
}

/// The dates a record holds, by name, that should be days gone by for its item.
fn days(rules: &Rules, met: &Met<'_>) -> Vec<(String, At)> {
    let mut found = Vec::new();
    let mut look = |fact: &Fact, recorded: &Recorded, name: String, at: At| {
        if fact.kind == Kind::Date && recorded.value != Value::Absent {
            found.push((name, at));
        }
    };
    for (id, recorded) in &met.record.facts {
        let fact = rules.fact(*id).expect("a fact of the rules");
        look(fact, recorded, fact.name.to_string(), At::Fact(*id));
    }
    for (id, rows) in &met.record.lists {
        let list = rules.list(*id).expect("a list of the rules");
        for (n, row) in rows.rows.iter().enumerate() {
            for (m, (field, recorded)) in list.fields.iter().zip(&row.fields).enumerate() {
                if let Some(recorded) = recorded {
                    look(field, recorded, format!("{}.{}", list.name, field.name), At::Field(*id, n, m));
                }
            }
        }
    }
    found
}

fn value(record: &Record, at: At) -> &Value {
    let recorded = match at {
        At::Fact(id) => record.facts.get(&id),
        At::Field(list, n, m) => record.lists.get(&list).and_then(|rows| rows.rows[n].fields[m].as_ref()),
    };
    &recorded.expect("it is there").value
}

/// The same record with one date put off to 2085.
fn put_off(record: &Record, at: At) -> Record {
    let far = Date::new(2085, 6, 15).expect("a day");
    let mut record = record.clone();
    let recorded = match at {
        At::Fact(id) => record.facts.get_mut(&id),
        At::Field(list, n, m) => record.lists.get_mut(&list).and_then(|rows| rows.rows[n].fields[m].as_mut()),
    };
    recorded.expect("it was there").value = Value::Number(ExactInterval::point(Exact::from_int(far.days().into())));
    record
}

/// An example that is met.
struct Met<'a> {
    item: ItemId,
    name: &'a str,
    example: &'a str,
    record: Record,
    on: Date,
}

/// All of them, each with the day on which it is judged.
fn examples(rules: &Rules) -> Vec<Met<'_>> {
    let plain = Date::new(2026, 1, 1).expect("a day");
    let mut all = Vec::new();
    for (id, item) in rules.items_with_ids() {
        for example in item.examples.iter().filter(|example| example.expect == Verdict::Met) {
            let record = record_of(rules, item, example);
            let words = record.confirmations.iter().map(|word| word.on.last);
            let told = record.log.iter().map(|entry| entry.on.last).chain(words).max();
            let on = example.on.unwrap_or_else(|| item.from.unwrap_or(plain).max(told.unwrap_or(plain)));
            let name = item.name.as_str();
            all.push(Met { item: id, name, example: &example.name, record, on });
        }
    }
    all
}

fn still_met(rules: &Rules, record: &Record, item: ItemId, on: Date) -> bool {
    // Of a wording that is not in force nothing is judged.
    let judged = Judge::new(rules, record, on).judge(item);
    !judged.is_empty() && judged.iter().all(|one| one.bare == Verdict::Met)
}

#[test]
fn what_is_put_off_to_a_day_to_come_is_not_done() {
    let rules = all();
    let (mut tried, mut wrong) = (0, Vec::new());
    for met in examples(&rules) {
        assert!(still_met(&rules, &met.record, met.item, met.on), "{} {:?}", met.name, met.example);
        for (name, at) in days(&rules, &met) {
            tried += 1;
            if still_met(&rules, &put_off(&met.record, at), met.item, met.on) && !may_lie_ahead(met.name, &name) {
                wrong.push(format!("{} {:?}: {name}", met.name, met.example));
            }
        }
    }
    println!("{tried} dates put off");
    assert!(tried > 200);
    assert!(wrong.is_empty(), "met all the same:\n{}", wrong.join("\n"));
}

/// An exception nobody needs is one that hides the next mistake.
#[test]
fn every_exception_is_needed() {
    let rules = all();
    let mut needed = std::collections::BTreeSet::new();
    for met in examples(&rules) {
        for (name, at) in days(&rules, &met) {
            if still_met(&rules, &put_off(&met.record, at), met.item, met.on) {
                needed.insert((met.name.to_owned(), name));
            }
        }
    }
    for (name, _) in AHEAD {
        assert!(needed.iter().any(|(_, needs)| needs == name), "{name}");
    }
    for (item, name, _) in AHEAD_IN {
        assert!(needed.contains(&(item.to_owned(), name.to_owned())), "{item}: {name}");
    }
}

/// What is met in 1985 all the same, of what has a date after it: the item, and why.
const LONG_AGO: [(&str, &str); 4] = [
    ("beacon.battery.date", "both its days say until when"),
    ("marks.au.size.older", "it is about marks older than a day of 2016"),
    ("papers.application.year", "no certificate is issued, and its year lies ahead"),
    ("service.uk.yearly", "the day agreed for the next inspection lies ahead"),
];

/// Every example as on a day before what it tells of.
#[test]
fn before_anything_was_done_nothing_is_met() {
    let rules = all();
    let before = Date::new(1985, 1, 1).expect("a day");
    let start = Exact::from_int(before.days().into());
    let mut wrong = Vec::new();
    for met in examples(&rules) {
        let later = |at: At| match value(&met.record, at) {
            Value::Number(range) => range.lo().is_some_and(|lo| lo > &start),
            _ => false,
        };
        let asked = days(&rules, &met).into_iter().any(|(name, at)| later(at) && !may_lie_ahead(met.name, &name));
        let excepted = LONG_AGO.iter().any(|(item, _)| *item == met.name);
        if asked && !excepted && still_met(&rules, &met.record, met.item, before) {
            wrong.push(format!("{} {:?}", met.name, met.example));
        }
    }
    assert!(wrong.is_empty(), "met in 1985:\n{}", wrong.join("\n"));
}
