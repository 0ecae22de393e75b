//! Every mark and address in packs, code, tests and documents is nobody's, by the published schemes.

use super::files::all;
use super::found::{Finder, Pointing};
use super::scheme::{decoded, holder, registry};
use std::collections::BTreeSet;

/// File, what is written there, and why it may stand. Nothing else may.
const EXCEPTIONS: [(&str, &str, &str); 12] = [
    ("rules/us/identity.checklist", "N100AB", RULES_OWN),
    ("rules/us/identity.checklist", "N1000A", RULES_OWN),
    ("rules/us/identity.checklist", "N10000", RULES_OWN),
    ("rules/us/identity.checklist", "N1", KEPT_BACK),
    ("rules/us/identity.checklist", "N99", KEPT_BACK),
    ("rules/nz/identity.checklist", "ZK-XXX", "a mark alone: of the form that must be met all but Q can be given"),
    ("rules/nz/identity.checklist", "ZKXXX", "the same without its hyphen, which alone is wrong with it"),
    ("rules/au/transponder.checklist", "7C0000", FIRST_OF_BLOCK),
    ("rules/international/address.checklist", "7C0000", FIRST_OF_BLOCK),
    ("tests/invented/scheme.rs", "A0_0001", ARITHMETIC),
    ("tests/invented/scheme.rs", "C0_0001", ARITHMETIC),
    ("tests/invented/scheme.rs", "7C_0000", ARITHMETIC),
];

const RULES_OWN: &str = "a mark alone, printed in 14 CFR 47.15(b) itself as an example of the form";
const KEPT_BACK: &str = "first and last of the numbers kept back, as the registry's page gives them";
const FIRST_OF_BLOCK: &str = "first of Australia's block, as the published tables give it";
const ARITHMETIC: &str = "the address with which the published arithmetic begins";

/// The exceptions are named in this file.
const HERE: &str = "tests/invented/marks.rs";

#[test]
fn no_mark_and_no_address_is_anybodys() {
    let finder = Finder::new();
    let mut used = BTreeSet::new();
    let mut wrong = Vec::new();
    for file in all().into_iter().filter(|file| file.path != HERE) {
        for Pointing { line, written, whose } in finder.pointing(&file.text) {
            // Golden files and audits saved by earlier versions quote the packs.
            let quotes = ["tests/golden/", "tests/since/data/"].iter().any(|folder| file.path.starts_with(folder));
            let quoted = |path: &str| quotes && path.starts_with("rules/");
            let is_it =
                |(path, text, _): &&(&str, &str, &str)| *text == written && (*path == file.path || quoted(path));
            let known = EXCEPTIONS.iter().find(is_it);
            match known {
                Some(exception) => _ = used.insert(exception),
                None => wrong.push(format!("{}:{line}: {written}: {whose}", file.path)),
            }
        }
    }
    println!("{} marks and addresses looked at, {} exceptions", finder.seen(), used.len());
    assert!(wrong.is_empty(), "each of these is somebody's or can be:\n{}", wrong.join("\n"));
    let idle: Vec<_> = EXCEPTIONS.iter().filter(|exception| !used.contains(exception)).collect();
    assert!(idle.is_empty(), "these stand nowhere any more: {idle:?}");
    assert!(finder.seen() > 1000, "{}", finder.seen());
}

/// Letters that no group is made of, so that a mark made of them could be anybody's.
fn three(from: u8) -> String {
    (from..from + 3).map(char::from).collect()
}

/// What would point at somebody is found in each way of writing it, and what stands beside it is not.
#[test]
fn what_points_at_somebody_is_found_however_it_is_written() {
    let finder = Finder::new();
    let finds = |text: &str, written: &str| {
        let found = finder.pointing(text);
        assert!(found.iter().any(|one| one.written == written && one.line == 2), "{text}: {found:?}");
    };
    let letters = three(b'D');
    let numbers = 700 + 65;
    for mark in [
        format!("VH-{letters}"),
        format!("VH-{}7", &letters[..2]),
        format!("ZK-{letters}"),
        format!("C-F{letters}"),
        format!("C-I{letters}"),
        format!("CF-{letters}"),
        format!("G-{letters}H"),
        format!("N{numbers}"),
        format!("N{numbers}HK"),
        format!("NX{numbers}"),
    ] {
        assert!(registry(&mark).is_some(), "{mark}");
        finds(&format!("-- one line\n-- the aircraft {mark} flew\n"), &mark);
        finds(&format!("\nmark = \"{mark}\"\n"), &mark);
        let (bare, small) = (mark.replace('-', ""), mark.to_lowercase());
        finds(&format!("\ntry \"x\" registration.mark = \"{bare}\" => met"), &bare);
        finds(&format!("\nlet facts = \"mark = \\\"{small}\\\"\";"), &small);
        finds(&format!("\nlet said = \"It flew.\\n{mark}\\n\";"), &mark);
    }
    let split = format!("\nmark_first = \"{}\"\nmark_second = \"{}\"\nmark_third = \"{}\"\n", 'D', 'E', 'F');
    finds(&split, &format!("VH{letters}"));
    let asked =
        |which: &str, letter: char| format!("fact x.mark_{which} : text\n  ask \"Which?\" such as \"{letter}\"\n");
    finds(
        &format!("\n{}{}{}", asked("first", 'D'), asked("second", 'E'), asked("third", 'F')),
        &format!("VH{letters}"),
    );

    let given = |address: &u32| holder(*address).is_some();
    let address = (0xA0_0000..).step_by(977).skip(41).find(given).expect("one of the United States");
    let listed = (0x40_0000..).step_by(977).skip(41).find(given).expect("one of the United Kingdom");
    assert!(decoded(address).is_some() && decoded(listed).is_none());
    for address in [address, listed] {
        let (large, small) = (format!("{address:06X}"), format!("{address:06x}"));
        finds(&format!("\naddress = \"{small}\"\n"), &small);
        finds(&format!("\ntry \"x\" transponder.address = \"{large}\" => met"), &large);
        finds(&format!("\naddress_decimal = {address}\n"), &address.to_string());
        finds(&format!("\nask \"Address?\" such as \"{address}\"\n"), &address.to_string());
        finds(&format!("\nin octal \"{address:08o}\"\n"), &format!("{address:08o}"));
        // Bits 26 to 85: user protocol, country 366, serial, aircraft address; or location, aircraft address.
        let user = (0b1 << 59) | (366 << 49) | (0b011_011 << 43) | (u64::from(address) << 18);
        let location = (366 << 49) | (0b0011 << 45) | (u64::from(address) << 21);
        for beacon in [user, location] {
            finds(&format!("\nhex_id = \"{beacon:015X}\"\n"), &format!("{beacon:015X}"));
        }
        finds(&format!("\nlet address = 0x{large};\n"), &large);
    }

    let nobodys = "mark = \"N00XY\"\nmark = \"VH-T0T\"\nmark = \"ZK-QQX\"\nmark = \"G-QXQX\"\nmark = \"C-FXXX\"\n\
                   address = \"A00000\"\naddress = \"AFFFFF\"\naddress = \"C87FFF\"\nhex_id = \"ADCDABFFFFC0001\"\n";
    assert_eq!(finder.pointing(nobodys), []);
}
