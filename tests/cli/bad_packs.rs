//! Faults of a pack, each with its place; nothing on disk changes.

use super::{ITEM, MANIFEST, Run, WORDS, line_of, with_pack};
use crate::golden::named;
use crate::golden::recording::Named;

/// Those whose messages are golden.
pub(crate) const GOLDEN: &[Named] = named![
    a_cycle_of_packs,
    two_packs_of_one_name,
    an_item_without_a_source,
    a_table_with_a_gap,
    a_table_with_an_overlap,
    a_length_added_to_a_voltage,
    a_division_that_can_be_by_zero,
    ten_thousand_parentheses,
    a_pack_that_is_not_utf_8
];

const AUDIT: [&str; 3] = ["audit", "--on", "2026-11-25"];

fn refused(name: &str, rules: &str, at: &str, parts: &[&str]) {
    let ran = with_pack(name, rules).args(&AUDIT).go();
    ran.refuses(&[line_of(rules, at).as_str()]);
    ran.refuses(parts);
}

fn item(need: &str) -> String {
    format!(
        "{WORDS}item spar.need\n  \"It is so\"\n  need {need}\n  by visit\n  basis common practice\n  cite common practice\n"
    )
}

#[test]
fn a_cycle_of_packs() {
    let uses = |name: &str, other: &str| {
        MANIFEST.replace("\"shed\"", &format!("\"{name}\"")).replace("uses = []", &format!("uses = [\"{other}\"]"))
    };
    let ran = Run::new("pack-cycle")
        .file("project.toml", "name = \"Test bench\"\npacks = [\"./one\", \"./two\"]\n")
        .file("one/pack.toml", uses("one", "two"))
        .file("one/rules.checklist", "")
        .file("two/pack.toml", uses("two", "one"))
        .file("two/rules.checklist", "")
        .args(&AUDIT)
        .go();
    ran.refuses(&["one", "two"]);
}

#[test]
fn two_packs_of_one_name() {
    let ran = Run::new("pack-twice")
        .file("project.toml", "name = \"Test bench\"\npacks = [\"./shed\", \"./barn\"]\n")
        .file("shed/pack.toml", MANIFEST)
        .file("shed/rules.checklist", format!("{WORDS}{ITEM}"))
        .file("barn/pack.toml", MANIFEST)
        .file("barn/rules.checklist", format!("{WORDS}{ITEM}"))
        .args(&AUDIT)
        .go();
    ran.refuses(&["`shed`"]);
}

#[test]
fn an_item_without_a_source() {
    let rules = format!("{WORDS}{}", ITEM.replace("  cite common practice\n", ""));
    refused("no-source", &rules, "item spar.long", &["cite"]);
}

#[test]
fn a_table_with_a_gap() {
    let rules = format!(
        "{WORDS}choice side : left or right\n\
         table pull (thread : text, side : side) gives most : force\n  \"Invented\"\n  cite common practice\n  \
         row \"a\", left : 1 lbf\n  row \"a\", right : 2 lbf\n  row \"b\", left : 3 lbf\n"
    );
    let ran = with_pack("table-gap", &rules).args(&AUDIT).go();
    ran.refuses(&["rules.checklist:", "right"]);
}

#[test]
fn a_table_with_an_overlap() {
    let rules = format!(
        "{WORDS}table pull (thread : text) gives most : force\n  \"Invented\"\n  cite common practice\n  \
         row \"a\" : 1 lbf\n  row \"a\" : 2 lbf\n"
    );
    refused("table-overlap", &rules, "row \"a\" : 1 lbf", &["again here"]);
}

#[test]
fn a_length_added_to_a_voltage() {
    refused("length-voltage", &item("spar.span + spar.strain > 3 in"), "need spar.span", &["length", "voltage"]);
}

#[test]
fn a_division_that_can_be_by_zero() {
    refused("by-zero", &item("spar.span / spar.ratio > 3 in"), "need spar.span", &["spar.ratio"]);
}

#[test]
fn ten_thousand_parentheses() {
    let deep = item(&format!("{}spar.span > 3 in{}", "(".repeat(10_000), ")".repeat(10_000)));
    refused("parentheses", &deep, "need (", &[]);
}

#[test]
fn a_pack_that_is_not_utf_8() {
    let ran = Run::new("pack-not-utf-8")
        .file("project.toml", "name = \"Test bench\"\npacks = [\"./shed\"]\n")
        .file("shed/pack.toml", MANIFEST)
        .file("shed/rules.checklist", b"-- \xff\n")
        .args(&AUDIT)
        .go();
    ran.refuses(&["rules.checklist"]);
}
