//! A session is changed at random, and after each change it has the findings that an audit of all of it has; and what a
//! program recorded by calls comes to what the same comes to in the builder's files.

use super::rules;
use crate::fixtures::dice::Dice;
use crate::fixtures::seed::with_dice;
use cotterpin::{
    Changed, Entry, Finding, FindingKind, Options, Project, Rules, Session, Severity, Value, Verdict, audit,
};
use std::collections::{BTreeMap, BTreeSet};

/// Says how many changes the long test makes.
const CHANGES: &str = "COTTERPIN_CHANGES";

/// What was recorded, as files say it.
#[derive(Clone, Default)]
struct Files {
    facts: BTreeMap<&'static str, String>,
    lists: BTreeMap<&'static str, Vec<String>>,
    whole: BTreeMap<&'static str, String>,
    entries: Vec<(&'static str, String)>,
    visit: Option<String>,
    shown: BTreeSet<&'static str>,
}

const PEOPLE: &str = "[people]\nrosa = { name = \"Rosa Example\", roles = [\"builder\"] }\n\
                      tomas = { name = \"Tomas Sample\", roles = [\"adviser\", \"inspector\"] }\n";

impl Files {
    fn texts(&self) -> Vec<(String, String)> {
        let visit = self.visit.iter().map(|day| format!("visit = {day}\n")).collect::<String>();
        let mut facts: String = self.facts.iter().map(|(name, value)| format!("{name:?} = {value}\n")).collect();
        for (name, rows) in &self.lists {
            facts.push_str(&format!("{name:?} = [{}]\n", rows.join(", ")));
        }
        let whole: String = self.whole.iter().map(|(name, word)| format!("{name:?} = {word}\n")).collect();
        let of = |wanted: fn(&str) -> bool| {
            let lines = self.entries.iter().filter(|(kind, _)| wanted(kind));
            lines.map(|(kind, keys)| format!("[[{kind}]]\n{keys}\n")).collect::<String>()
        };
        let mut texts = vec![
            ("project.toml".to_owned(), format!("name = \"Nosuch 2\"\npacks = [\"x\"]\n{visit}{PEOPLE}")),
            ("facts.toml".to_owned(), facts),
            ("whole.toml".to_owned(), format!("[whole]\n{whole}")),
            ("log/all.toml".to_owned(), of(|kind| kind == "log")),
            ("words.toml".to_owned(), of(|kind| kind != "log")),
        ];
        texts.extend(self.shown.iter().map(|name| ((*name).to_owned(), "a picture".to_owned())));
        texts
    }
}

/// Keys and values, for a call and for a file.
type Keys = Vec<(&'static str, Value, String)>;

fn key(name: &'static str, text: impl Into<String>) -> (&'static str, Value, String) {
    let text: String = text.into();
    (name, Value::from(text.as_str()), format!("{text:?}"))
}

fn entry(start: Entry, keys: &Keys) -> Entry {
    keys.iter().fold(start, |entry, (name, value, _)| entry.with(name, value.clone()))
}

fn inline(keys: &Keys) -> String {
    format!("{{ {} }}", keys.iter().map(|(name, _, text)| format!("{name} = {text}")).collect::<Vec<_>>().join(", "))
}

fn lines(keys: &Keys) -> String {
    keys.iter().map(|(name, _, text)| format!("{name} = {text}\n")).collect()
}

fn a_day(dice: &mut Dice) -> String {
    match dice.below(12) {
        0 => "2026-11".to_owned(),
        1 => "2027-01-05".to_owned(),
        _ => format!("2026-11-{:02}", 10 + dice.below(20)),
    }
}

/// A value of a fact, wrong now and then.
fn value(dice: &mut Dice, fact: &str) -> (Value, String) {
    let texts: &[&str] = match fact {
        "cabin.width" => &["19 in", "20 in", "508 mm", "19 in to 21 in", "3 lb", "45", "at least 2 ft"],
        "cabin.paint" => &["red", "blue", "Green", "pink", ""],
        "cabin.signed_by" => &["rosa", "tomas", "Tomas Sample", "Nobody Known", "T. Sample"],
        "cabin.placard" => &["NO STEP", "no step", "none", "STEP"],
        "fuel.pull" => &["60 lbf", "40 lbf", "49 lbf ± 3 lbf", "300 N", "60 lb", "0 lbf"],
        "fuel.leak" => &["none", "0.5 lbf", "2 lbf", "1 kg"],
        "fuel.tested" => &["2026-11-20", "2026-09-01", "2026-11", "2027-01-01", "soon"],
        "cabin.clean" => &["yes", "no", "perhaps"],
        _ => &["2", "3"],
    };
    let text = *dice.pick(texts);
    let (mut call, mut written) = match (fact, dice.below(4)) {
        ("cabin.seats", _) => {
            let count = dice.between(-1, 5);
            (Value::from(count), count.to_string())
        }
        ("cabin.clean", 0) => (Value::from(true), "true".to_owned()),
        ("cabin.width", 0) => (Value::quantity(20.5, "in"), "\"20.5 in\"".to_owned()),
        ("cabin.width", 1) => (Value::from(45), "45".to_owned()),
        _ => (Value::from(text), format!("{text:?}")),
    };
    let (dated, instrument) = (dice.once_in(3), dice.once_in(8));
    if dated || instrument {
        written = format!("value = {written}");
        if dated {
            let day = a_day(dice);
            written.push_str(&format!(", dated = {day:?}"));
            call = call.dated(day);
        }
        if instrument {
            let name = *dice.pick(&["scale", "no such"]);
            written.push_str(&format!(", instrument = {name:?}"));
            call = call.measured_with(name);
        }
        written = format!("{{ {written} }}");
    }
    (call, written)
}

fn record(dice: &mut Dice, list: &str) -> Keys {
    let mut keys = vec![key("name", *dice.pick(&["left", "right", "Left ", "middle"]))];
    match list {
        "fuel.tanks" => {
            keys.push(key("usable", *dice.pick(&["9 L", "11 L", "20 L", "10 L to 11 L", "2 kg"])));
            if dice.once_in(2) {
                keys.push(key("strap", *dice.pick(&["12 lbf", "8 lbf", "9 lbf to 11 lbf"])));
            }
        }
        "cabin.belts" => {
            keys.push(key("pull", *dice.pick(&["120 lbf", "90 lbf"])));
            if dice.once_in(3) {
                keys.push(("how_many", Value::from(2), "2".to_owned()));
            }
        }
        _ => {
            keys[0] = key("name", *dice.pick(&["scale", "gauge"]));
            keys.push(key("calibrated_from", "2026-01-01"));
            keys.push(key("calibrated_until", *dice.pick(&["2026-11-15", "2027-06-01", "none"])));
        }
    }
    keys
}

const FACTS: [&str; 9] = [
    "cabin.width",
    "cabin.seats",
    "cabin.paint",
    "cabin.clean",
    "cabin.signed_by",
    "cabin.placard",
    "fuel.pull",
    "fuel.leak",
    "fuel.tested",
];
const LISTS: [&str; 3] = ["fuel.tanks", "cabin.belts", "measuring.equipment"];
const PARTS: [&str; 3] = ["fuel.tank", "cabin.seat", "cabin.belt"];

/// One random change, by a call and in the files; the files are changed only if the call was taken.
fn change(dice: &mut Dice, session: &mut Session, files: &mut Files) -> (Result<Vec<Changed>, String>, Files) {
    let mut after = files.clone();
    let said = |answer: Result<Vec<Changed>, cotterpin::ValueError>| answer.map_err(|error| error.to_string());
    let answer = match dice.below(16) {
        0..=4 => {
            let fact = *dice.pick(&FACTS);
            let (call, written) = value(dice, fact);
            after.facts.insert(fact, written);
            said(session.set(fact, call))
        }
        5 => {
            let fact = *dice.pick(&FACTS);
            after.facts.remove(fact);
            said(session.unset(fact))
        }
        6 | 7 => {
            let list = *dice.pick(&LISTS);
            let keys = record(dice, list);
            after.lists.entry(list).or_default().push(inline(&keys));
            said(session.add(&entry(Entry::record(list), &keys)))
        }
        8 => {
            let list = *dice.pick(&LISTS);
            let all: Vec<Keys> = (0..dice.below(3)).map(|_| record(dice, list)).collect();
            after.lists.insert(list, all.iter().map(inline).collect());
            said(session.set_list(list, all.iter().map(|keys| entry(Entry::record(list), keys))))
        }
        9 => {
            let list = *dice.pick(&["fuel.tanks", "cabin.belts", "log"]);
            let (by, on) = (key("who", *dice.pick(&["rosa", "tomas", "Nobody"])), key("on", a_day(dice)));
            let what = if list == "log" {
                let many = files.entries.iter().filter(|(kind, _)| *kind == "log").count();
                let many = i64::try_from(many).unwrap() - dice.between(0, 1);
                vec![("entries", Value::from(many), many.to_string()), key("up_to", a_day(dice))]
            } else {
                let names: Vec<&str> = ["left", "right"].into_iter().filter(|_| !dice.once_in(3)).collect();
                vec![("records", Value::from(names.clone()), format!("{names:?}"))]
            };
            let keys: Keys = what.into_iter().chain([by, on]).collect();
            after.whole.insert(list, inline(&keys));
            said(session.add(&entry(Entry::whole(list), &keys)))
        }
        10..=12 => {
            let what = *dice.pick(&[
                "work done",
                "removed",
                "refitted",
                "inspected",
                "inspected",
                "snag found",
                "snag cleared",
            ]);
            let mut keys = vec![
                key("on", a_day(dice)),
                key("what", what),
                key("subject", *dice.pick(&PARTS)),
                key("who", *dice.pick(&["rosa", "rosa", "tomas"])),
            ];
            if keys[3].2.contains("tomas") {
                keys.push(key("role", *dice.pick(&["adviser", "inspector"])));
            }
            match what {
                "inspected" => {
                    let points = ["assembly", "locking"].into_iter().filter(|_| !dice.once_in(4)).collect::<Vec<_>>();
                    keys.push(("points", Value::from(points.clone()), format!("{points:?}")));
                }
                "snag found" | "snag cleared" => {
                    let number = dice.between(1, 3);
                    keys.push(("snag", Value::from(number), number.to_string()));
                }
                _ => {}
            }
            after.entries.push(("log", lines(&keys)));
            said(session.add(&entry(Entry::log(), &keys)))
        }
        13 => {
            let (start, kind, keys) = if dice.once_in(2) {
                let keys = vec![
                    key("item", *dice.pick(&["cabin.spoken", "shed/cabin.spoken", "cabin.spoke"])),
                    key("who", *dice.pick(&["Tomas Sample", "rosa", "Ida Invented"])),
                    key("role", *dice.pick(&["adviser", "inspector", "wizard"])),
                    key("on", a_day(dice)),
                    ("holds", Value::from(!dice.once_in(4)), String::new()),
                ];
                (Entry::confirmed(), "confirmed", keys)
            } else {
                let keys = vec![
                    key("item", *dice.pick(&["cabin.wide", "fuel.strong", "fuel.tight", "cabin.belts.strong"])),
                    key("reason", *dice.pick(&["as built", ""])),
                    key("granted_by", *dice.pick(&["Ida Invented", "rosa"])),
                    key("role", *dice.pick(&["inspector", "builder", "wizard"])),
                    key("on", a_day(dice)),
                    key("until", "2027-06-30"),
                ];
                (Entry::concession(), "concession", keys)
            };
            let mut keys = keys;
            for (name, value, text) in &mut keys {
                if *name == "holds" {
                    *text = if *value == Value::from(true) { "true".to_owned() } else { "false".to_owned() };
                }
            }
            after.entries.push((kind, lines(&keys)));
            said(session.add(&entry(start, &keys)))
        }
        14 => {
            let shown = "evidence/clean.jpg";
            after.facts.insert("cabin.clean", format!("{{ value = true, evidence = {shown:?} }}"));
            after.shown.insert(shown);
            // By calls evidence stands with a record or a line; of a fact the builder's files say it.
            after = files.clone();
            after.shown.insert(shown);
            said(session.change(|project| {
                project.add_file(shown, b"a picture");
                Ok(())
            }))
        }
        _ => {
            let day = a_day(dice);
            after.visit = Some(format!("{day:?}"));
            said(session.change(|project| project.set_planned("visit", day.as_str())))
        }
    };
    (answer, after)
}

type Key = (FindingKind, String, Option<String>);

fn key_of(finding: &Finding) -> Key {
    (finding.kind, finding.item.clone(), finding.subject.clone())
}

fn by_key<'f>(findings: impl IntoIterator<Item = &'f Finding>) -> BTreeMap<Key, Finding> {
    findings.into_iter().map(|finding| (key_of(finding), finding.clone())).collect()
}

fn verdicts<'f>(findings: impl IntoIterator<Item = &'f Finding>) -> BTreeMap<Key, Verdict> {
    findings.into_iter().map(|finding| (key_of(finding), finding.verdict)).collect()
}

#[derive(Debug, Default)]
struct Tally {
    changes: usize,
    refused: usize,
    changed: usize,
    new_met: usize,
    findings: usize,
}

/// A row of changes to one project.
fn row(dice: &mut Dice, rules: &Rules, many: usize, tally: &mut Tally) {
    let mut project = Project::new("Nosuch 2", rules);
    project.set_person("rosa", "Rosa Example", &["builder"]).unwrap();
    project.set_person("tomas", "Tomas Sample", &["adviser", "inspector"]).unwrap();
    let mut options = Options::on("2026-11-25").unwrap();
    let mut session = Session::new(project, &options).unwrap();
    let mut files = Files::default();
    let mut known = by_key(session.findings());
    for _ in 0..many {
        tally.changes += 1;
        let (answer, after) = if dice.once_in(20) {
            options = Options::on(&format!("2026-11-{:02}", 15 + dice.below(15))).unwrap();
            if dice.once_in(3) {
                options = options.by("visit");
            } else if dice.once_in(3) {
                options = options.closing("tail");
            }
            (session.ask(&options).map_err(|error| error.to_string()), files.clone())
        } else {
            change(dice, &mut session, &mut files)
        };
        let from_files = || Project::from_files_with(rules, after.texts());
        let changed = match answer {
            Err(why) => {
                tally.refused += 1;
                // What a call is refused, a file is refused.
                // A value that cannot be read is told there, and all else is judged.
                let is_told = |project: Project| project.warnings().iter().any(|one| one.severity == Severity::Error);
                assert!(
                    from_files().map_or(true, is_told),
                    "refused by the call and not in the file: {why}\n{:#?}",
                    after.texts()
                );
                assert_eq!(by_key(session.findings()), known, "a refused call changed something: {why}");
                continue;
            }
            Ok(changed) => changed,
        };
        files = after.clone();
        tally.changed += changed.len();
        // What it answers is what differs.
        let now = by_key(session.findings());
        let mut told = known.clone();
        for one in changed {
            let key = key_of(one.now.as_ref().or(one.before.as_ref()).expect("one of them"));
            assert_eq!(known.get(&key), one.before.as_ref(), "what it was");
            assert_ne!(one.before, one.now);
            tally.new_met += usize::from(one.now.as_ref().is_some_and(|now| now.verdict == Verdict::Met));
            match one.now {
                Some(now) => told.insert(key, now),
                None => told.remove(&key),
            };
        }
        assert!(told == now, "what was answered is not what is");
        // And it is what an audit of all of it says, word for word,
        let whole = audit(&session.project(), &options).unwrap();
        let fresh = by_key(&whole.findings);
        if fresh != now {
            for (key, finding) in &fresh {
                assert_eq!(now.get(key), Some(finding), "{key:?}\n{:#?}", files.texts());
            }
            panic!("the session has findings that an audit has not: {:?}", now.keys().collect::<Vec<_>>());
        }
        tally.findings += fresh.len();
        // and what the files say, verdict for verdict.
        let read = from_files()
            .unwrap_or_else(|error| panic!("taken by the call, not in the file: {error}\n{:#?}", after.texts()));
        let by_files = audit(&read, &options).unwrap();
        assert_eq!(verdicts(&whole.findings), verdicts(&by_files.findings), "{:#?}", files.texts());
        known = now;
    }
}

#[test]
fn a_session_has_what_an_audit_of_all_of_it_has_after_every_change() {
    let rules = rules();
    with_dice(&[], |dice| {
        let mut tally = Tally::default();
        for _ in 0..60 {
            row(dice, &rules, 50, &mut tally);
        }
        println!("{tally:?}");
        assert!(tally.refused > 300 && tally.changed > 1_000 && tally.new_met > 200, "{tally:?}");
    });
}

/// Not of every run: `COTTERPIN_CHANGES=100000 cargo test many_changes -- --ignored`. A seed of its own for each row.
#[test]
#[ignore = "takes minutes; `COTTERPIN_CHANGES` says how many changes"]
fn many_changes() {
    let many: usize = std::env::var(CHANGES).map_or(100_000, |many| many.parse().expect("a whole number"));
    let rules = rules();
    with_dice(&[], |dice| {
        let (mut tally, start) = (Tally::default(), std::time::Instant::now());
        while tally.changes < many {
            let seed = dice.next() >> 32;
            println!("seed {seed}");
            row(&mut Dice::new(seed), &rules, 60, &mut tally);
        }
        println!("{tally:?} in {:?}", start.elapsed());
    });
}
