//! What is made ready when the crate is built: the trees of the built-in packs,
//! and the choices of packs checked beforehand. They come to the same rules as the texts.

use super::all;
use crate::fixtures::packs::load_packs_to_audit;
use crate::fixtures::packs::{load, pack};
use crate::fixtures::projects::{file, request};
use cotterpin_engine::audit::{Audit, Request, audit, audit_in_brief};
use cotterpin_engine::ir::Rules;
use cotterpin_engine::project::{Record, read, read_header};
use cotterpin_engine::source::{SharedText, Sources};
use cotterpin_packs::{PackText, built_in, built_in_names};

fn texts() -> Vec<PackText> {
    built_in(&built_in_names()).unwrap()
}

/// The built-in packs with a line more in each file, which no tree stands for.
fn parsed() -> Rules {
    let mut packs = texts();
    for (_, text) in packs.iter_mut().flat_map(|pack| &mut pack.files) {
        text.to_mut().push('\n');
    }
    load(&packs)
}

/// Everything but the texts, and from where they came.
fn without_texts(mut rules: Rules) -> String {
    rules.sources = Sources::default();
    rules.prebuilt_packs = 0;
    rules.packs.iter_mut().for_each(|pack| pack.digest = SharedText::default());
    format!("{rules:#?}")
}

#[test]
fn trees_and_texts_come_to_the_same_rules() {
    let (from_trees, from_texts) = (without_texts(all()), without_texts(parsed()));
    let differs = from_trees.lines().zip(from_texts.lines()).find(|(a, b)| a != b);
    assert!(from_trees == from_texts, "{differs:?}");
}

#[test]
fn without_examples_nothing_else_is_different() {
    let mut full = all();
    for item in full.items.iter_mut() {
        assert!(!item.examples.is_empty(), "{}", item.name);
        item.examples.clear();
    }
    let bare = load_packs_to_audit(&texts()).unwrap_or_else(|failed| panic!("{:#?}", failed.1));
    assert!(without_texts(full) == without_texts(bare));
}

/// With the packs of a country, and with a builder's own on top of them.
#[test]
fn packs_checked_beforehand_are_as_if_checked_now() {
    let text = "choice beads : glass or steel\n\
        formula half (g : wire-gauge) = wire[g].resistance / 2\n\
        fact cabin.beads : beads ask \"?\"  fact cabin.lead : wire-gauge ask \"?\"\n\
        item cabin.own \"Own\" need half(cabin.lead) < 2 ohm/1000ft need cabin.beads is glass by visit basis own \
        cite common practice\n\
        amend fuel.flow.gravity need cabin.beads is steel basis own cite common practice\n\
        set aside fuel.flow.attitude because \"a test\"\n";
    let own = pack("own", &["workmanship"], text);
    for country in ["au", "ca", "nz", "uk", "us", "workmanship"] {
        for own in [None, Some(own.clone())] {
            let mut packs = built_in(&[country, "workmanship"]).unwrap();
            packs.extend(own);
            let bare = load_packs_to_audit(&packs).unwrap_or_else(|failed| panic!("{:#?}", failed.1));
            let mut full = load(&packs);
            full.items.iter_mut().for_each(|item| item.examples.clear());
            assert_eq!(full.sources.files().len(), bare.sources.files().len());
            for (one, other) in full.sources.files().iter().zip(bare.sources.files()) {
                assert_eq!((&one.name, &*one.text), (&other.name, &*other.text));
            }
            let (bare, full) = (without_texts(bare), without_texts(full));
            let differs = bare.lines().zip(full.lines()).find(|(a, b)| a != b);
            assert!(bare == full, "{country}: {differs:?}");
        }
    }
}

/// A pack of one's own is checked with its examples whatever it is for.
#[test]
fn examples_of_other_packs_are_checked_for_an_audit_too() {
    let text = "hold-points visit \"Visit\"\nsystems s \"System\"\nfact s.f : yes or no ask \"?\"\n\
        item s.i \"I\" need s.f by visit basis own cite common practice try \"one\" s.g = yes => met\n";
    let failed = load_packs_to_audit(&[pack("made", &[], text)]).map(|_| ()).unwrap_err();
    assert!(failed.1.iter().any(|message| message.code == "name::unknown"), "{:#?}", failed.1);
}

/// The demo project's audit against rules, in full or in brief.
fn demo(rules: &Rules, audit: fn(&Rules, &Record, &Request) -> Audit) -> Audit {
    let mut sources = rules.sources.clone();
    let (mut header, mut files, mut paths) = (None, Vec::new(), Vec::new());
    for (name, bytes) in cotterpin::command::demo() {
        if name.starts_with("packs/") {
            continue;
        }
        paths.push(name.to_owned());
        let file = file(name, bytes);
        match name {
            "project.toml" => header = read_header(&file, &mut sources).0,
            _ if name.ends_with(".toml") => files.push(file),
            _ => {}
        }
    }
    let (record, _): (Record, _) = read(&files, &paths, &header.unwrap(), rules, sources);
    audit(rules, &record, &request("2026-11-25"))
}

#[test]
fn trees_and_texts_come_to_the_same_report() {
    let bare = load_packs_to_audit(&texts()).unwrap_or_else(|failed| panic!("{:#?}", failed.1));
    let (from_trees, mut from_texts) = (demo(&bare, audit), demo(&parsed(), audit));
    // A line was added to each text.
    for (one, other) in from_trees.packs.iter().zip(&mut from_texts.packs) {
        other.digest.clone_from(&one.digest);
    }
    assert!(from_trees.findings.len() > 100);
    assert_eq!(cotterpin_engine::report::json(&from_trees), cotterpin_engine::report::json(&from_texts));
    assert_eq!(cotterpin_engine::report::text(&from_trees, 80), cotterpin_engine::report::text(&from_texts, 80));
    // The text has no room for what an audit in brief leaves out.
    let brief = demo(&bare, audit_in_brief);
    assert_eq!(cotterpin_engine::report::text(&from_trees, 80), cotterpin_engine::report::text(&brief, 80));
}
