//! Marks worked out from the published rule rather than written down, because most of them are somebody's.

use crate::fixtures::packs::load_packs;
use cotterpin_engine::audit::{Request, audit};
use cotterpin_engine::ir::Rules;
use cotterpin_engine::project::{FileText, read, read_header};
use cotterpin_engine::quantity::Date;
use cotterpin_engine::vocabulary::Verdict;
use cotterpin_packs::built_in;

fn pack(name: &str) -> Rules {
    load_packs(&built_in(&[name]).expect("it is built in")).unwrap_or_else(|failed| panic!("{:#?}", failed.1))
}

/// The verdict of one item on these facts.
fn verdict(rules: &Rules, item: &str, facts: &str) -> Verdict {
    let mut sources = rules.sources.clone();
    let header = FileText { name: "project.toml".into(), bytes: b"name = 'x'\npacks = ['common']\n".to_vec() };
    let header = read_header(&header, &mut sources).0.expect("a header");
    let file = FileText { name: "facts.toml".into(), bytes: facts.to_owned().into_bytes() };
    let (record, messages) = read(&[file], &[], &header, rules, sources);
    assert!(messages.is_empty(), "{messages:#?}");
    let on = Date::parse("2026-11-28").expect("a day");
    let done = audit(rules, &record, &Request { project: "x".into(), on, by: None, closing: None });
    let mut found = done.findings.iter().filter(|finding| finding.item == item);
    found.next().expect("a finding").verdict
}

fn of_mark(rules: &Rules, item: &str, mark: &str) -> Verdict {
    verdict(rules, item, &format!("[registration]\nmark = \"{mark}\"\n"))
}

/// 14 CFR 47.15(b), and the numbers kept back.
#[test]
fn a_number_of_the_united_states_is_one_of_the_rule() {
    let us = pack("us");
    let form = |mark: &str| of_mark(&us, "us/identity.mark.form", mark);
    for number in 1..100 {
        assert_eq!(form(&format!("N{number}")), Verdict::Unmet, "{number} is kept back");
    }
    for digits in 3..=5_u32 {
        for number in [10_u32.pow(digits - 1), 10_u32.pow(digits) - 1] {
            assert_eq!(form(&format!("N{number}")), Verdict::Met, "{number}");
            assert_eq!(form(&format!("N0{number}")), Verdict::Unmet, "a zero before {number}");
        }
    }
    assert_eq!(form(&format!("N{}", 10_u32.pow(5))), Verdict::Unmet, "six digits");
    for letter in 'A'..='Z' {
        let allowed = if "IO".contains(letter) { Verdict::Unmet } else { Verdict::Met };
        for digits in 1..=4_u32 {
            let number = 10_u32.pow(digits) - 1;
            assert_eq!(form(&format!("N{number}{letter}")), allowed);
            let two = if digits > 3 { Verdict::Unmet } else { allowed };
            assert_eq!(form(&format!("N{number}{letter}Z")), two);
            assert_eq!(form(&format!("N{number}Z{letter}")), two);
        }
        assert_eq!(form(&format!("N{}{letter}", 10_u32.pow(5) - 1)), Verdict::Unmet, "five digits and a letter");
    }
}

/// ICAO Annex 7, as quoted: every three letters made of those of the groups, after the nationality mark of a State
/// that gives three.
#[test]
fn groups_kept_for_distress_are_refused_and_the_q_code_waits_for_a_word() {
    let shared = pack("international");
    for first in "ANOPQSTX".chars() {
        for second in "ANOPQSTX".chars() {
            for third in "ANOPQSTX".chars() {
                let group: String = [first, second, third].into_iter().collect();
                let expected = match &*group {
                    "SOS" | "XXX" | "PAN" | "TTT" => Verdict::Unmet,
                    _ if first == 'Q' => Verdict::NotShown,
                    _ => Verdict::Met,
                };
                let got = of_mark(&shared, "international/identity.mark.signals", &format!("ZK-{group}"));
                assert_eq!(got, expected, "{group}");
            }
        }
    }
}

/// The registry's page: no mark that begins with Q is available.
#[test]
fn no_mark_with_a_q_code_is_met_in_new_zealand() {
    let nz = pack("nz");
    for letter in 'A'..='Z' {
        for mark in [format!("ZK-Q{letter}A"), format!("ZK-QN{letter}")] {
            assert_eq!(of_mark(&nz, "nz/identity.nz.mark", &mark), Verdict::Unmet, "{mark}");
            assert_ne!(of_mark(&nz, "international/identity.mark.signals", &mark), Verdict::Met, "{mark}");
        }
        let form = of_mark(&nz, "nz/identity.nz.mark", &format!("ZK-{letter}QA"));
        assert_eq!(form, if letter == 'Q' { Verdict::Unmet } else { Verdict::Met }, "{letter}");
    }
}

/// The remembered arithmetic, its first and last included, with the address worked out here.
#[test]
fn an_address_of_australia_agrees_with_the_letters() {
    let au = pack("au");
    let place = |letter: char| u32::from(letter) - u32::from('A');
    let verdict = |letters: [char; 3], address: u32| {
        let [first, second, third] = letters;
        let marks = format!("mark_first = \"{first}\"\nmark_second = \"{second}\"\nmark_third = \"{third}\"\n");
        let facts =
            format!("[transponder]\npresent = true\nmode = \"mode-s\"\n[au]\naddress_decimal = {address}\n{marks}");
        verdict(&au, "au/transponder.au.address.formula", &facts)
    };
    for first in ['A', 'M', 'Z'] {
        for second in ['A', 'N', 'Z'] {
            for third in ['A', 'Y', 'Z'] {
                let address = (0x1F << 18) + place(first) * 36 * 36 + place(second) * 36 + place(third);
                assert_eq!(verdict([first, second, third], address), Verdict::Met, "{first}{second}{third}");
                assert_eq!(verdict([first, second, third], address + 1), Verdict::NotShown, "one beyond");
            }
        }
    }
}
