//! Mutants of the projects: each record left out in turn, each list, and each
//! word that a list is whole. What was decided may become open, and never the other.

use crate::fixtures::packs::built;
use crate::fixtures::projects::file;
use cotterpin_engine::audit::Judge;
use cotterpin_engine::files::read_project;
use cotterpin_engine::ir::{ListId, Rules};
use cotterpin_engine::project::{Record, read, read_header};
use cotterpin_engine::quantity::Date;
use cotterpin_engine::vocabulary::Verdict;
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

/// Projects that are ready for the visit, and the demo; each with its country.
pub(super) const PROJECTS: [(&str, &str); 6] = [
    ("tests/packs/projects/us-ready", "us"),
    ("tests/packs/projects/ca-ready", "ca"),
    ("tests/packs/projects/nz-ready", "nz"),
    ("tests/packs/projects/uk-ready", "uk"),
    ("tests/packs/projects/au-ready", "au"),
    ("src/command/demo", "us"),
];

/// A project of the tests, or the demo, with the packs of its country.
pub(crate) fn project(folder: &str, country: &str) -> (Rules, Record) {
    let rules = built(&[country, "workmanship"]);
    let (files, _) = read_project(&Path::new(env!("CARGO_MANIFEST_DIR")).join(folder));
    let mut sources = rules.sources.clone();
    let (header, _) = read_header(&files.header_file.expect("project.toml"), &mut sources);
    let texts: Vec<_> = files.files.iter().map(|text| file(&text.name, &text.bytes)).collect();
    let (record, _) = read(&texts, &files.paths, &header.expect("a header"), &rules, sources);
    assert!(!record.whole.is_empty(), "{folder} says of no list that it is whole");
    (rules, record)
}

pub(super) type Verdicts = BTreeMap<(String, Option<String>), Verdict>;

pub(super) fn verdicts(rules: &Rules, record: &Record) -> Verdicts {
    let judge = Judge::new(rules, record, Date::parse("2026-11-25").expect("a day"));
    let of = |one: &cotterpin_engine::audit::Judged<'_>| {
        let item = rules.item(one.item).expect("an item");
        ((rules.full_name(item), one.subject.clone()), one.bare)
    };
    judge.verdicts().iter().map(of).collect()
}

/// What turned from one decided verdict into another; counts what stays met though it reads the list.
fn turned(
    rules: &Rules,
    list: ListId,
    before: &Verdicts,
    after: &Verdicts,
    kept: &mut BTreeSet<String>,
) -> Vec<String> {
    let reads = |name: &str| {
        let ids = rules.find_items(name);
        ids.into_iter().filter_map(|id| rules.item(id)).any(|item| item.reads_lists.contains(&list))
    };
    let mut wrong = Vec::new();
    for (key, was) in before {
        let Some(now) = after.get(key) else { continue };
        let decided = |verdict: &Verdict| matches!(verdict, Verdict::Met | Verdict::Unmet | Verdict::NotApplicable);
        // Whether it applies is known no more, and what it asks for holds.
        let applies_perhaps = (*was, *now) == (Verdict::NotApplicable, Verdict::Met);
        if was != now && decided(was) && decided(now) && !applies_perhaps {
            wrong.push(format!("{key:?}: {was:?} became {now:?}"));
        }
        if (*was, *now) == (Verdict::Met, Verdict::Met) && key.1.is_none() && reads(&key.0) {
            kept.insert(key.0.clone());
        }
    }
    wrong
}

#[test]
fn a18_no_record_and_no_word_left_out_turns_a_verdict() {
    let mut tried = 0;
    let mut kept = BTreeSet::new();
    for (folder, country) in PROJECTS {
        let (rules, record) = project(folder, country);
        let before = verdicts(&rules, &record);
        let mut look = |what: String, list: ListId, mutant: &Record| {
            tried += 1;
            let wrong = turned(&rules, list, &before, &verdicts(&rules, mutant), &mut kept);
            assert!(wrong.is_empty(), "{folder}, {what}: {wrong:#?}");
        };
        for (id, rows) in &record.lists {
            let name = rules.list(*id).expect("a list").name.to_string();
            for n in 0..rows.rows.len() {
                // The word stays, and no longer counts; then it goes too.
                let mut mutant = record.clone();
                mutant.lists.get_mut(id).expect("the list").rows.remove(n);
                look(format!("{name} without record {n}"), *id, &mutant);
                mutant.whole.remove(id);
                look(format!("{name} without record {n} and word"), *id, &mutant);
            }
            let mut mutant = record.clone();
            mutant.lists.remove(id);
            look(format!("{name} left out"), *id, &mutant);
            let mut mutant = record.clone();
            mutant.whole.remove(id);
            look(format!("the word on {name} left out"), *id, &mutant);
        }
        let mut mutant = record.clone();
        mutant.whole_log = None;
        let snags = rules.list_by_name.get("log.snags").copied().expect("the list of snags");
        look("the word on the log left out".to_owned(), snags, &mutant);
    }
    // These ask for one record of a kind, or for so many at least: a record more or less takes nothing away.
    println!("{tried} mutants; met with a record of their list left out: {kept:?}");
    assert!(tried > 400, "{tried}");
}
