//! One sample per diagnostic of the packs: what is said, what is underlined,
//! that there is something to do about it, and that doing it helps.

mod items;
mod names;
pub(crate) mod packs;
mod silent;
mod tables;
mod types;

use super::{load, mine, note, told};
use crate::fixtures::packs::load_packs;
use crate::golden::named;
use crate::golden::recording::Named;
use cotterpin_engine::diagnostic::{Diagnostic, Severity};
use cotterpin_engine::source::Sources;
use cotterpin_packs::PackText;
use std::collections::BTreeSet;
use std::path::Path;

/// Those whose messages are golden.
pub(crate) const GOLDEN: &[Named] =
    named![every_mistake_is_told_and_underlined_and_has_help, several_mistakes_are_all_told_in_the_order_they_stand];

/// A mistake in a text, and its repair.
struct Sample {
    /// The code it is told by.
    code: &'static str,
    /// The text, with `@` where the mistake stands.
    text: String,
    /// The mistake.
    wrong: String,
    /// What the first label underlines.
    marked: String,
    /// What to write instead.
    right: String,
}

fn sample(code: &'static str, text: &str, wrong: &str, marked: &str, right: &str) -> Sample {
    let own = |text: &str| text.to_owned();
    Sample { code, text: own(text), wrong: own(wrong), marked: own(marked), right: own(right) }
}

/// All samples whose mistake stands in a text of rules.
fn samples() -> Vec<Sample> {
    [items::samples(), names::samples(), tables::samples(), types::samples()].into_iter().flatten().collect()
}

/// Everything said of packs, whether or not they load.
fn said(packs: &[PackText]) -> (Sources, Vec<Diagnostic>) {
    let (sources, messages) = match load_packs(packs) {
        Ok(rules) => (rules.sources, rules.warnings),
        Err(failed) => *failed,
    };
    if !messages.is_empty() {
        note(packs);
    }
    (sources, messages)
}

#[test]
fn every_mistake_is_told_and_underlined_and_has_help() {
    let mut faults = Vec::new();
    for sample in samples() {
        let (sources, messages) = said(&[mine(&sample.text.replace('@', &sample.wrong))]);
        let what = format!("{} `{}`", sample.code, sample.wrong.chars().take(60).collect::<String>());
        let Some(message) = messages.iter().find(|message| message.code == sample.code) else {
            faults.push(format!("{what} is not told: {:#?}", told(&sources, &messages)));
            continue;
        };
        let marked = message.labels.first().map_or("", |label| sources.text(label.span));
        if marked != sample.marked {
            faults.push(format!("{what} underlines `{marked}`, not `{}`", sample.marked));
        }
        if message.help.as_deref().is_none_or(str::is_empty) {
            faults.push(format!("{what} has no help: {}", message.message));
        }
        if message.message.is_empty() || message.message.ends_with('.') {
            faults.push(format!("{what} says `{}`", message.message));
        }
    }
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}

#[test]
fn every_repair_loads_clean() {
    let mut faults = Vec::new();
    for sample in samples() {
        let (sources, messages) = said(&[mine(&sample.text.replace('@', &sample.right))]);
        if !messages.is_empty() {
            faults.push(format!("{} repaired: {:#?}", sample.code, told(&sources, &messages)));
        }
    }
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}

#[test]
fn a_warning_does_not_stop_a_pack_and_an_error_does() {
    for sample in samples() {
        let pack = mine(&sample.text.replace('@', &sample.wrong));
        let (_, messages) = said(std::slice::from_ref(&pack));
        let stops = messages.iter().any(|message| message.severity == Severity::Error);
        assert_eq!(load_packs(&[pack]).is_err(), stops, "{}", sample.code);
    }
}

/// The codes that the sources of these rooms raise.
fn raised() -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    for room in [
        "src/lang/check",
        "src/lang/packs",
        "src/lang/syntax",
        "src/engine/lint",
        "src/engine/files/pack.rs",
        "src/engine/files/folder_of_pack.rs",
    ] {
        raised_in(&Path::new(env!("CARGO_MANIFEST_DIR")).join(room), &mut found);
    }
    found.retain(|code| code.contains("::") && !code.starts_with("internal::"));
    found
}

/// The first text in quotes after each making of a message, in a folder and those below it.
fn raised_in(folder: &Path, found: &mut BTreeSet<String>) {
    let entries =
        std::fs::read_dir(folder).map(|entries| entries.map(|entry| entry.expect("an entry").path()).collect());
    for path in entries.unwrap_or_else(|_| vec![folder.to_owned()]) {
        if path.is_dir() {
            raised_in(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            let text = std::fs::read_to_string(path).expect("a source");
            for part in text.split("Diagnostic::error(").chain(text.split("Diagnostic::warning(")) {
                if let Some((code, _)) = part.trim_start().strip_prefix('"').and_then(|rest| rest.split_once('"')) {
                    found.insert(code.to_owned());
                }
            }
        }
    }
}

#[test]
fn every_code_that_is_raised_has_a_sample() {
    let mut shown: BTreeSet<String> = samples().iter().map(|sample| sample.code.to_owned()).collect();
    shown.extend(packs::CODES.map(str::to_owned));
    let raised = raised();
    assert!(raised.len() > 30, "{raised:?}");
    let without: Vec<_> = raised.difference(&shown).collect();
    assert!(without.is_empty(), "no sample for {without:?}");
    let gone: Vec<_> = shown.difference(&raised).collect();
    assert!(gone.is_empty(), "nothing raises {gone:?} any more");
}

/// What stands behind a word that is not understood may be all that the item lacks.
#[test]
fn an_item_that_breaks_off_is_not_asked_for_what_follows() {
    let width = "fact shed.width : length ask \"?\"\n";
    let own = "by visit basis own cite common practice";
    let codes = |text: &str| {
        let (_, messages) = said(&[mine(text)]);
        messages.iter().map(|message| message.code).collect::<Vec<_>>()
    };
    for (need, told) in [("shed.width is at most 1 in", 2), ("shed.width =< 1 in", 2), ("shed.width > 1 in && 2", 1)] {
        let found = codes(&format!("{width}item shed.door \"t\" need {need} {own}"));
        assert!(found.contains(&"syntax::unexpected") && found.len() <= told, "{need}: {found:?}");
        assert!(!found.iter().any(|code| code.starts_with("item::no-")), "{need}: {found:?}");
    }
    // Whatever begins anew has nothing that belonged to the item before it.
    let found = codes(&format!("{width}item shed.door \"t\" need shed.width > 1 in\nfact aks shed.b"));
    for missing in ["item::no-basis", "item::no-source", "item::no-hold-point", "syntax::unexpected"] {
        assert!(found.contains(&missing), "{found:?}");
    }
}

#[test]
fn several_mistakes_are_all_told_in_the_order_they_stand() {
    let text = "fact shed.a : lenght ask \"?\"\nfact shed.b : number\nfact shed.c : text aks \"?\"\nfact shed.d : text ask \"?\"";
    let (sources, messages) = said(&[mine(text)]);
    let lines: Vec<u32> = messages.iter().map(|message| sources.place(message.labels[0].span).line).collect();
    assert!(lines.windows(2).all(|pair| pair[0] <= pair[1]), "{lines:?}");
    let codes: Vec<&str> = messages.iter().map(|message| message.code).collect();
    assert!(
        codes.contains(&"name::unknown") && codes.contains(&"syntax::unexpected"),
        "{:#?}",
        told(&sources, &messages)
    );
    load(&[mine("fact shed.d : text ask \"?\"")]);
}
