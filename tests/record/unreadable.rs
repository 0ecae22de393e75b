//! A value that cannot be read is as good as not recorded: whatever it was, no finding is decided
//! that was not decided so with it.

use crate::fixtures::dice::Dice;
use crate::fixtures::seed::with_dice;
use cotterpin::{Audit, Options, Project, Rules, Severity, Verdict, audit};
use std::collections::BTreeMap;

const ON: &str = "2026-11-25";

/// How many values are made unreadable, one or a few at a time.
const ROUNDS: usize = 150;

fn demo() -> Vec<(String, Vec<u8>)> {
    cotterpin::command::demo().into_iter().map(|(path, bytes)| (path.to_owned(), bytes.to_vec())).collect()
}

type Verdicts = BTreeMap<(String, Option<String>), Verdict>;

fn verdicts(audit: &Audit) -> Verdicts {
    let key = |one: &cotterpin::Finding| ((one.item.clone(), one.subject.clone()), one.verdict);
    audit.findings.iter().map(key).collect()
}

fn judged(rules: &Rules, files: &[(String, Vec<u8>)]) -> Option<(Project, Audit)> {
    let project = Project::from_files_with(rules, files.to_vec()).ok()?;
    let audit = audit(&project, &Options::on(ON).unwrap()).ok()?;
    Some((project, audit))
}

/// The lines of fact files that hold one value, as file and line.
fn values(files: &[(String, Vec<u8>)]) -> Vec<(usize, usize)> {
    let mut found = Vec::new();
    for (at, (name, bytes)) in files.iter().enumerate() {
        let facts = name.ends_with(".toml") && !name.contains('/') && name != "project.toml";
        let text = std::str::from_utf8(bytes).unwrap_or("");
        // Words, leave, jobs and what is said of lists are no values.
        if !facts
            || ["[[confirmed]]", "[[concession]]", "[[deferred]]", "[[job]]", "[whole]"]
                .iter()
                .any(|word| text.contains(word))
        {
            continue;
        }
        for (line, text) in text.lines().enumerate() {
            let value = text.split_once(" = ").map(|(key, value)| (key.trim(), value.trim()));
            let scalar = |value: &str| !value.starts_with(['{', '[']) && !value.is_empty();
            if value.is_some_and(|(key, value)| !key.starts_with('#') && scalar(value)) {
                found.push((at, line));
            }
        }
    }
    found
}

/// Puts something in the place of a value that its kind cannot be.
fn broken(text: &str, line: usize) -> String {
    let change = |(at, text): (usize, &str)| match text.split_once(" = ") {
        Some((key, value)) if at == line => {
            // A time of day is none of the kinds.
            let wrong = if value.trim().starts_with('"') { "07:32:00" } else { "\"??\"" };
            format!("{key} = {wrong}")
        }
        _ => text.to_owned(),
    };
    text.lines().enumerate().map(change).collect::<Vec<_>>().join("\n") + "\n"
}

#[test]
fn a_value_that_cannot_be_read_decides_nothing() {
    let whole = Project::from_files(demo()).unwrap();
    let rules = whole.rules().clone();
    let before = verdicts(&audit(&whole, &Options::on(ON).unwrap()).unwrap());
    let places = values(&demo());
    assert!(places.len() > 500, "{}", places.len());
    with_dice(&[], |dice: &mut Dice| {
        let (mut passed_over, mut refused, mut opened) = (0, 0, 0);
        for _ in 0..ROUNDS {
            let mut files = demo();
            let mut lines = Vec::new();
            for _ in 0..=dice.below(3) {
                let (file, line) = *dice.pick(&places);
                let text = String::from_utf8(files[file].1.clone()).unwrap();
                lines.push(format!("{}:{}", files[file].0, line + 1));
                files[file].1 = broken(&text, line).into_bytes();
            }
            let Some((project, audit)) = judged(&rules, &files) else {
                refused += 1;
                continue;
            };
            let told = project.warnings().iter().any(|one| one.severity == Severity::Error);
            // What is read all the same is another value.
            if !told {
                continue;
            }
            passed_over += 1;
            assert_eq!(audit.exit_status(), 3, "{lines:?}");
            for (key, now) in verdicts(&audit) {
                let was = before.get(&key).copied();
                let as_before = match now {
                    Verdict::NotShown => true,
                    // Where nobody knows whether it applies, what it needs may hold all the same.
                    Verdict::Met => matches!(was, Some(Verdict::Met | Verdict::NotApplicable)),
                    _ => was == Some(now),
                };
                assert!(as_before, "{key:?} was {was:?} and is {now:?} without {lines:?}");
                opened += usize::from(now == Verdict::NotShown && was != Some(now));
            }
        }
        println!(
            "{passed_over} times something was not read, {refused} times nothing was judged, {opened} findings open"
        );
        assert!(passed_over > ROUNDS / 3 && opened > ROUNDS / 4, "{passed_over} {refused} {opened}");
    });
}
