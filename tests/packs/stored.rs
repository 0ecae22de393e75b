//! What stands in the binary beside the built-in packs: their trees, and the
//! choices of packs checked beforehand. They are those of the texts, and come to
//! the same rules.

use super::all;
use crate::fixtures::packs::{load, pack};
use crate::fixtures::projects::{file, request};
use cotterpin::audit::{Audit, Request, audit, audit_in_brief};
use cotterpin::record::{Record, read, read_header};
use cotterpin::rules::{
    PackText, Rules, built_in, built_in_names, built_in_trees, load_packs_to_audit, prepared_packs,
};
use cotterpin::source::Sources;

const TREES: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/src/syntax/trees.bin");

const PREPARED: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/src/rules/prepared.bin");

/// Not a test: `cargo test renew_stored -- --ignored` makes both files anew.
#[test]
#[ignore = "writes src/syntax/trees.bin and src/rules/prepared.bin"]
fn renew_stored() {
    std::fs::write(TREES, built_in_trees()).unwrap();
    std::fs::write(PREPARED, prepared_packs().unwrap()).unwrap();
}

#[test]
fn what_is_stored_is_that_of_the_packs() {
    for (file, now) in [(TREES, built_in_trees()), (PREPARED, prepared_packs().unwrap())] {
        assert!(
            std::fs::read(file).unwrap() == now,
            "{file} is not that of the packs and the code as they stand. Nothing is wrong but that every start parses \
             or checks the packs anew. Run: cargo test renew_stored -- --ignored"
        );
    }
}

/// Every file of every pack has its tree: a text of a built-in pack has no mistakes.
#[test]
fn every_file_has_its_tree() {
    let (mut rest, mut count) = (&*built_in_trees(), 0);
    while let Some((header, others)) = rest.split_at_checked(24) {
        let len = u64::from_le_bytes(header[16..].try_into().unwrap());
        rest = &others[usize::try_from(len).unwrap()..];
        count += 1;
    }
    let files: usize = texts().iter().map(|pack| pack.files.len()).sum();
    assert_eq!((rest.len(), count), (0, files));
}

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

/// Everything but the texts.
fn without_texts(mut rules: Rules) -> String {
    rules.sources = Sources::default();
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
    for item in &mut full.items {
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
fn demo(rules: &Rules, audit: fn(&Rules, &Record, &Sources, &Request) -> Audit) -> Audit {
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
    let (record, _): (Record, _) = read(&files, &paths, &header.unwrap(), rules, &mut sources);
    audit(rules, &record, &sources, &request("2026-11-25"))
}

#[test]
fn trees_and_texts_come_to_the_same_report() {
    let bare = load_packs_to_audit(&texts()).unwrap_or_else(|failed| panic!("{:#?}", failed.1));
    let (from_trees, from_texts) = (demo(&bare, audit), demo(&parsed(), audit));
    assert!(from_trees.findings.len() > 100);
    assert_eq!(cotterpin::report::json(&from_trees), cotterpin::report::json(&from_texts));
    assert_eq!(cotterpin::report::text(&from_trees, 80), cotterpin::report::text(&from_texts, 80));
    // The text has no room for what an audit in brief leaves out.
    let brief = demo(&bare, audit_in_brief);
    assert_eq!(cotterpin::report::text(&from_trees, 80), cotterpin::report::text(&brief, 80));
}
