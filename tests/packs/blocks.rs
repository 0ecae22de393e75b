//! The blocks of 24-bit addresses, against another library's table.
//!
//! `data/address-blocks.csv` is the table of the Python package `traffic` 2.13; its head says how
//! it was made. Compared: for each of the five States with a pack, the verdict of
//! `transponder.address.block` on the first and last address of each of the table's 187 blocks,
//! and on the address before and after it.

use crate::fixtures::findings;
use crate::fixtures::packs::built;
use crate::fixtures::projects::read_facts;
use cotterpin_engine::ir::Rules;
use cotterpin_engine::vocabulary::Verdict;
use std::collections::BTreeSet;

const TABLE: &str = include_str!("data/address-blocks.csv");

struct Block {
    first: u32,
    last: u32,
    state: &'static str,
}

fn table() -> Vec<Block> {
    let row = |line: &'static str| {
        let mut cells = line.splitn(3, ',');
        let mut address = || u32::from_str_radix(cells.next().expect("a cell"), 16).expect("hexadecimal");
        Block { first: address(), last: address(), state: cells.next().expect("a State") }
    };
    TABLE.lines().filter(|line| !line.starts_with('#')).map(row).collect()
}

/// The annex, as quoted: the first 4, 6, 9, 12 or 14 bits stand for the State. So a block holds
/// 2 to the power of the other bits, begins at a multiple of its size, and meets no other.
#[test]
fn the_other_table_keeps_the_annexs_arithmetic() {
    let blocks = table();
    assert_eq!(blocks.len(), 187);
    let sizes = [4, 6, 9, 12, 14].map(|bits: u32| 1u32 << (24 - bits));
    for block in &blocks {
        let size = block.last - block.first + 1;
        assert!(sizes.contains(&size), "{}: {size} addresses", block.state);
        assert_eq!(block.first % size, 0, "{}", block.state);
    }
    for pair in blocks.windows(2) {
        assert!(pair[0].last < pair[1].first, "{} and {}", pair[0].state, pair[1].state);
    }
}

const STATES: [(&str, &str); 5] = [
    ("Australia", "australia"),
    ("Canada", "canada"),
    ("New Zealand", "new-zealand"),
    ("United Kingdom", "united-kingdom"),
    ("United States", "united-states"),
];

/// The verdict of one item on an address of an aircraft registered in that State.
fn verdict(rules: &Rules, item: &str, state: &str, address: &str) -> Verdict {
    let facts = format!(
        "[transponder]\npresent = true\nmode = \"mode-s\"\naddress = \"{address}\"\n[registration]\nstate = \"{state}\"\n"
    );
    findings::verdict(&read_facts(rules, &facts).audited("2026-11-25"), item)
}

#[test]
fn five_blocks_are_those_of_the_other_table() {
    let rules = built(&["international"]);
    let blocks = table();
    let mut addresses = BTreeSet::new();
    for block in &blocks {
        addresses.extend([block.first, block.last, block.first.saturating_sub(1), block.last + 1]);
    }
    let mut inside = 0;
    for (name, word) in STATES {
        let own = blocks.iter().find(|block| block.state == name).expect("the table has it");
        addresses.extend([own.first + 0xABC, (own.first + own.last) / 2]);
        for address in &addresses {
            let expected = (own.first..=own.last).contains(address);
            let expected = if expected { Verdict::Met } else { Verdict::Unmet };
            let got = verdict(&rules, "international/transponder.address.block", word, &format!("{address:06X}"));
            assert_eq!(got, expected, "{name}, {address:06X}");
            inside += u32::from(got == Verdict::Met);
        }
    }
    println!("{} addresses for each of {} States; {inside} in a block", addresses.len(), STATES.len());
    assert!(addresses.len() > 400 && inside >= 20);
}

/// Zeros and ones are nobody's, though ones lie in no State's block and zeros in none either.
#[test]
fn every_address_of_the_table_is_one_that_an_aircraft_can_have() {
    let rules = built(&["international"]);
    let form = |address: &str| verdict(&rules, "international/transponder.address.form", "canada", address);
    for block in table() {
        assert_eq!(form(&format!("{:06X}", block.first)), Verdict::Met, "{}", block.state);
        assert_eq!(form(&format!("{:06x}", block.last)), Verdict::Met, "{}", block.state);
    }
    for wrong in ["000000", "FFFFFF", "ffffff", "FfFfFf", "0", "C87FF", "C87FFFD", "C87FFG", " C87FFF", "62077777"] {
        assert_eq!(form(wrong), Verdict::Unmet, "{wrong:?}");
    }
}
