//! Mistakes that must not pass in silence: whatever the message, there is one.

use crate::fixtures::packs::load_packs;
use crate::lang::{OWN, mine, told};

const FACTS: &str = "fact shed.w : length ask \"?\"\nfact shed.name : text ask \"?\"\n";

/// Fails if the packs load without a word.
fn is_told(text: &str) {
    let packs = [mine(&format!("{FACTS}{text}"))];
    if let Ok(rules) = load_packs(&packs) {
        assert!(!rules.warnings.is_empty(), "nothing is said of: {text}");
    }
}

#[test]
fn an_item_never_vanishes() {
    // `every` of a list without naming its field: `every papers.serial` is meant.
    let text = format!(
        "list papers ask \"?\" field serial : text ask \"?\" named by serial\nitem shed.door \"t\" need alike shed.name, every papers {OWN}"
    );
    match load_packs(&[mine(&format!("{FACTS}{text}"))]) {
        Ok(rules) => assert_eq!(rules.items.len(), 1, "the item is gone, and nothing is said"),
        Err(failed) => assert!(!failed.1.is_empty(), "{:#?}", told(&failed.0, &failed.1)),
    }
}

#[test]
fn dates_in_force_stand_once() {
    is_told(&format!(
        "item shed.door \"t\" need shed.w > 1 in {OWN} in force from 2020-01-01 in force until 2021-01-01"
    ));
}

#[test]
fn dates_in_force_do_not_end_before_they_begin() {
    is_told(&format!("item shed.door \"t\" need shed.w > 1 in {OWN} in force from 2027-01-01 until 2020-01-01"));
}

#[test]
fn a_span_of_time_is_not_cut_short() {
    // 100,001 days and 100,002 days are told apart, or refused.
    is_told(&format!(
        "fact shed.day : date ask \"?\" item shed.door \"t\" need shed.day + 4000000000 days > today {OWN}"
    ));
}
