//! Logs: read without a tree or with one, and taken over from a reading before.

use super::{PLAIN, file, pack};
use crate::fixtures::dice::Dice;
use crate::fixtures::seed::with_dice;
use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::project::{
    Before, FileText, Header, PlainLogs, Record, is_plain_log, read, read_after, read_header,
};
use cotterpin_engine::source::Sources;

const HEAD: &str = "[people]\nrosa = { name = \"Rosa Example\", role = \"builder\" }\n\
                    sam = { name = \"Sam Sample\", roles = [\"builder\", \"inspector\"] }\n\
                    [parts]\nfuel = { title = \"Fuel\" }\nwings = { title = \"Wings\" }\n";

fn header() -> (Header, Sources) {
    let mut sources = pack::RULES.sources.clone();
    let (header, said) = read_header(&file("project.toml", format!("{PLAIN}{HEAD}")), &mut sources);
    (header.unwrap_or_else(|| panic!("{said:?}")), sources)
}

fn paths() -> Vec<String> {
    ["evidence/a.jpg", "evidence/b.jpg"].map(str::to_owned).to_vec()
}

/// An entry as it may be written: right as a rule, and sometimes not.
fn entry(dice: &mut Dice) -> String {
    let mut text = "[[log]]\n".to_owned();
    let mut add = |line: String| text.push_str(&(line + "\n"));
    match dice.below(9) {
        0 => add("on = \"2026-08\"".to_owned()),
        1 => add(format!("on = 2026-08-0{}T09:3{}:00", dice.between(1, 9), dice.below(3))),
        2 => add("on = \"soon\"".to_owned()),
        _ => add(format!("on = 2026-0{}-1{}", dice.between(7, 9), dice.below(10))),
    }
    let what = *dice.pick(&["work done", "inspected", "removed", "refitted", "snag found", "snag cleared", "looked"]);
    add(format!("what = \"{what}\""));
    add(format!("subject = \"{}\"", dice.pick(&["fuel", "wings", "fuel", "wings", "fule"])));
    let who = *dice.pick(&["rosa", "rosa", "rosa", "sam", "nobody"]);
    add(format!("who = \"{who}\""));
    if who == "sam" {
        add(format!("role = \"{}\"", dice.pick(&["builder", "inspector", "adviser"])));
    }
    if what.starts_with("snag") || dice.once_in(20) {
        add(format!("snag = {}", dice.below(4)));
    }
    if dice.once_in(4) {
        add(format!("points = [\"{}\", \"locking\"]", dice.pick(&["movement", "movment"])));
    }
    if dice.once_in(4) {
        add(format!("evidence = [\"evidence/{}.jpg\"]", dice.pick(&["a", "b", "c", "*"])));
    }
    if dice.once_in(3) {
        add(format!("note = \"{}\"", dice.pick(&["pins seen", "the \\\"left\\\" one", "", "é"])));
    }
    text
}

fn log(dice: &mut Dice) -> String {
    (0..dice.between(1, 5)).map(|_| entry(dice) + "\n").collect()
}

/// A key in quotes says the same, and is not plain: nothing is longer or shorter for it but blanks.
fn with_a_tree(text: &str) -> String {
    text.replacen("on = ", "\"on\"=", 1)
}

fn places_aside(record: &Record, messages: &[Diagnostic]) -> (Record, Vec<(String, String)>) {
    let mut record = record.clone();
    let nowhere = cotterpin_engine::source::Span::new(cotterpin_engine::source::SourceId::FIRST, 0, 0);
    record.sources = Sources::default();
    for entry in &mut record.log {
        entry.place = nowhere;
    }
    for evidence in &mut record.evidence {
        evidence.place = nowhere;
        evidence.dated.iter_mut().for_each(|dated| dated.place = nowhere);
    }
    (record, messages.iter().map(|one| (one.code.to_owned(), one.message.to_string())).collect())
}

#[test]
fn a_log_says_the_same_with_a_tree_and_without() {
    with_dice(&[], |dice| {
        let (header, sources) = header();
        let mut plain = 0;
        for _ in 0..300 {
            let text = log(dice);
            let other = with_a_tree(&text);
            assert!(!is_plain_log(&other), "{other}");
            plain += usize::from(is_plain_log(&text));
            let read = |text: &str| {
                let (record, messages) =
                    read(&[file("log/a.toml", text)], &paths(), &header, &pack::RULES, sources.clone());
                // What stands before an entry has no part in whether two are in order.
                places_aside(&record, &messages)
            };
            assert_eq!(read(&text), read(&other), "{text}");
        }
        assert!(plain > 200, "{plain}");
    });
}

/// One change of the files, as an editor or the command makes it.
fn changed(files: &mut Vec<FileText>, dice: &mut Dice) {
    let at = dice.below(files.len());
    match dice.below(7) {
        0 => files[at].bytes = log(dice).into_bytes(),
        1 if files.len() > 1 => {
            files.remove(at);
        }
        2 => {
            let name = format!("log/{}.toml", dice.pick(&["a", "b", "c", "d", "e"]));
            if files.iter().all(|file| file.name != name) {
                files.push(file(&name, log(dice)));
            }
        }
        // Copied, whole or an entry.
        3 => {
            let from = files[dice.below(files.len())].bytes.clone();
            files[at].bytes.extend(from);
        }
        4 => files[at].bytes.extend(b"what = \n"),
        _ => files[at].bytes.extend(entry(dice).into_bytes()),
    }
}

#[test]
fn what_is_taken_over_is_what_would_be_read() {
    with_dice(&[], |dice| {
        let (header, sources) = header();
        let taken_over = std::cell::Cell::new(0);
        for _ in 0..60 {
            let mut files: Vec<FileText> =
                ["log/b.toml", "log/c.toml", "log/d.toml"].map(|name| file(name, log(dice))).to_vec();
            files.push(file("log.toml", log(dice)));
            let (mut record, mut logs) = (Record::default(), PlainLogs::default());
            let mut old: Vec<FileText> = Vec::new();
            for _ in 0..8 {
                logs.retain(|name| {
                    let bytes =
                        |files: &[FileText]| files.iter().find(|one| one.name == name).map(|one| one.bytes.clone());
                    let same = bytes(&files) == bytes(&old);
                    taken_over.set(taken_over.get() + usize::from(same));
                    same
                });
                let before = Before { record: std::mem::take(&mut record), logs: std::mem::take(&mut logs) };
                let rules = &*pack::RULES;
                let workers = 1 + dice.below(3);
                let (again, said, kept) =
                    read_after((&files, &paths()), &header, rules, sources.clone(), (Some(before), workers));
                let (anew, told) = read(&files, &paths(), &header, rules, sources.clone());
                assert_eq!(again, anew);
                assert_eq!(said, told);
                (record, logs) = (again, kept);
                old.clone_from(&files);
                changed(&mut files, dice);
            }
        }
        assert!(taken_over.get() > 40, "{}", taken_over.get());
    });
}
