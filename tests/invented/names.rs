//! The names of people, aircraft, kits and makers in invented data are those listed here, and no others.
//!
//! They are collected from where such names stand: in the demo and the ready projects by their keys, in worked
//! examples, tests and documents by the same keys as text. In the demo and the projects, and in the texts of the
//! worked examples, each word with a capital is held against a list as well: a place or a brand would be one.

use super::files::{Text, below, spelt_out};
use regex_lite::Regex;
use std::collections::BTreeSet;

/// As they stand in a record, and as its short names.
const PEOPLE: &str = "\
    A Builder; A. Builder; Ada; Ann Example; B. Inspector; Bo; Builder, A; Example, Ada; Example, Ada B.; Example, Ines; Example, Noor; Example, Sascha; \
    Example, Tomas; Instance, Kim; Invented, Kim; Invented, Tobin; Invented, \
    Tomas; Me; me; Nosuch Kits; Robin Sample; Rosa; Rosa Example; Sample, Maud; Sample, Rae; Sample, Robin; Specimen, Toni; \
    Tomas Invented; Toni Specimen; Zoé example; abc; ada; ann; anna; ben; cleo; ines; kim; \
    maud; noor; rae; robin; rosa; rsoa; sascha; tobin; tom; tomas; toni";

const THINGS: &str = "\
    0107 é; 0007; 0031; 007; 0107; 107; Ada Example; Ada Sample; Cy Specimen; Kim Instance; Maud Sample; Sam Sample; F-0107; N00XY; Nosuch 2; Nosuch 2, early; Nosuch \
    2, ready; Nosuch-2; Nothing yet; R. Example; Rosa Example; Rosa example; Rosa Maria Example; Shed; Shed 4; Shed 5; TEST; Test bench; The \
    Nosuch 2 of this demonstration; Tomas Invented; Tomas Sample; Vera Made-Up; Zoe; Zoe Example; Zoe Sample; authorised-person; me; \
    nobody-yet; none so far; none: invented for tests; none: kit, maker and figures are invented; nosuch; the \
    builder; Ö";

/// Words with a capital that are no names of anything, besides those of the lists above.
const WORDS: &str = "\
    AIRCRAFT AMATEUR AWG Ask Australia BEEN BUILT Beacon Borrow Bought CERTIFICATED COMPARED COMPLY Can Card \
    Carry Collected Currents DATA DOES Datum Drawing Each Early Elevator Enter Every Everything FEDERAL FLY FOR \
    Flight Fly Fuel Grandfather Greatest HAS Have Heard INTERNATIONAL INVENTED International Its January June \
    Keep Least Left Letter Level MANUAL Map Mark Measured Mode NOT Nose Not November OCCUPANT OFF OWN Occupant \
    October Oil One Opened PAN PASSENGER PERMIT Put QNH REGULATIONS REQUIREMENT RISK Ready Requirement Rudder \
    SAFETY SMOKING SOS STANDARD Seen September Standard Stay Steel Sticker THE THIS Tell Tests There This Torque \
    Transponder Travel Two Unusable VFR WARNING WITH WORDS Warning Weighed Weighing What Where Who YOUR";

/// Keys under which a person stands.
const OF_PEOPLE: [&str; 5] = ["who", "builder", "granted_by", "looked_at_by", "signed_by"];

/// Keys under which a kit, an aircraft, a maker or one thing's number stands.
const OF_THINGS: [&str; 9] =
    ["model", "kit", "maker", "make", "manufacturer", "serial", "issuer", "call_sign", "authority"];

#[derive(Default)]
struct Found {
    people: BTreeSet<String>,
    things: BTreeSet<String>,
}

impl Found {
    /// Every value of a TOML text, by its key and the table it stands in.
    fn toml(&mut self, table: &toml::Table, inside: &str) {
        for (key, value) in table {
            self.value(key, value, inside);
        }
    }

    fn value(&mut self, key: &str, value: &toml::Value, inside: &str) {
        match value {
            toml::Value::Table(table) => {
                if inside == "people" {
                    self.people.insert(key.to_owned());
                }
                let inside = if inside == "people" { "person" } else { key };
                self.toml(table, inside);
            }
            toml::Value::Array(values) => values.iter().for_each(|value| self.value(key, value, inside)),
            toml::Value::String(text) => self.text(key, text, inside),
            _ => {}
        }
    }

    fn text(&mut self, key: &str, text: &str, inside: &str) {
        let person = OF_PEOPLE.contains(&key) || key == "name" && ["person", "builder"].contains(&inside);
        let thing = OF_THINGS.contains(&key) || ["name", "title"].contains(&key) && inside.is_empty();
        // The builder's share of the tasks stands under the same key.
        let number = key == "builder" && !text.starts_with(char::is_alphabetic);
        match text.trim() {
            "none" | "" => {}
            text if person && !number => _ = self.people.insert(text.to_owned()),
            text if thing => _ = self.things.insert(text.to_owned()),
            _ => {}
        }
    }

    /// The same keys in the text of a program, a rule or a document.
    fn prose(&mut self, text: &str) {
        let keyed = Regex::new(r#"([a-z_]+(?:\.[a-z_]+)?)\s*=\s*\\?["']([^"'\\{}]+)\\?["']"#).expect("an expression");
        for found in keyed.captures_iter(text) {
            let key = &found[1];
            let (inside, key) = key.split_once('.').unwrap_or(("", key));
            // A name with a capital is somebody's, or something's.
            if key == "name" && inside != "builder" {
                let named = found[2].starts_with(char::is_uppercase);
                self.things.extend(named.then(|| found[2].to_owned()));
            } else if key != "title" {
                self.text(key, &found[2], inside);
            }
        }
        let by = Regex::new(r"\bby ([a-z]+) as [a-z]").expect("an expression");
        self.people.extend(by.captures_iter(text).map(|found| found[1].to_owned()));
        let option = Regex::new(r#"--who"?,? \\?"([^"\\]+)"#).expect("an expression");
        for found in option.captures_iter(text) {
            self.text("who", &found[1], "");
        }
    }
}

fn is_toml(file: &Text) -> bool {
    file.path.ends_with(".toml")
}

fn is_code(file: &Text) -> bool {
    file.path.ends_with(".rs") && !file.path.starts_with("tests/invented")
}

/// The demo and the ready projects, whole.
fn invented() -> Vec<Text> {
    ["src/command/demo", "tests/packs/projects"].into_iter().flat_map(below).collect()
}

/// What stands between `try` and its verdict, its name left out.
fn examples(text: &str) -> String {
    let example = Regex::new(r#"(?s)\n\s+try\s+"[^"]*"(.*?)=>"#).expect("an expression");
    example.captures_iter(text).map(|found| found[1].to_owned()).collect::<Vec<_>>().join("\n")
}

fn found() -> Found {
    let mut found = Found::default();
    for file in invented().iter().filter(|file| is_toml(file)) {
        found.toml(&file.text.parse().unwrap_or_else(|error| panic!("{}: {error}", file.path)), "");
    }
    for file in below("rules").iter().filter(|file| file.path.ends_with(".checklist")) {
        found.prose(&examples(&file.text));
    }
    for file in below("rules/kit-nosuch-2").iter().chain(&below("README.md")).chain(&below("grammar")) {
        found.prose(&file.text);
    }
    for file in below("tests").iter().chain(&below("src")).filter(|file| is_code(file)) {
        found.prose(&spelt_out(&file.text));
    }
    found
}

/// Words of three letters and more that begin with a capital; marks and addresses made of letters are another test's.
fn words(text: &str) -> BTreeSet<String> {
    let word = Regex::new(r"\b[A-Z][A-Za-z]{2,}\b").expect("an expression");
    let other = Regex::new("^((VH|ZK|CF|[FGI])?[QTVX]+|[AFO]{6})$").expect("an expression");
    word.find_iter(text).map(|word| word.as_str()).filter(|word| !other.is_match(word)).map(str::to_owned).collect()
}

fn differ(kind: &str, found: &BTreeSet<String>, listed: &BTreeSet<String>) -> String {
    let side = |one: &BTreeSet<String>, other| one.difference(other).cloned().collect::<Vec<_>>().join("\n  ");
    format!(
        "{kind} not listed:\n  {}\n{kind} listed that stand nowhere:\n  {}",
        side(found, listed),
        side(listed, found)
    )
}

fn set(listed: &str, between: &str) -> BTreeSet<String> {
    listed.split(between).map(str::to_owned).collect()
}

#[test]
fn people_kits_and_makers_are_those_listed() {
    let found = found();
    for (kind, names, listed) in
        [("people", &found.people, set(PEOPLE, "; ")), ("things", &found.things, set(THINGS, "; "))]
    {
        // An empty name, in a test of what is missing, is nobody's.
        let names: &BTreeSet<String> = &names.iter().filter(|name| !name.is_empty()).cloned().collect();
        assert!(*names == listed, "{}", differ(kind, names, &listed));
    }
}

#[test]
fn words_with_a_capital_are_those_listed() {
    let rules = below("rules");
    let quoted = Regex::new(r#""[^"]*""#).expect("an expression");
    let examples = rules.iter().map(|file| examples(&file.text)).collect::<Vec<_>>().join("\n");
    let examples = quoted.find_iter(&examples).map(|text| text.as_str().to_owned());
    let texts = invented().into_iter().map(|file| file.text).chain(examples).collect::<Vec<_>>().join("\n");
    let named = words(&[PEOPLE, THINGS].join("\n"));
    let found = words(&texts).difference(&named).cloned().collect();
    assert!(found == set(WORDS, " "), "{}", differ("words", &found, &set(WORDS, " ")));
}

/// What the lists are for: a name that is not on them is found wherever it may stand.
#[test]
fn a_name_is_found_by_its_key() {
    let mut found = Found::default();
    let facts = "name = 'Aa 1'\n[people]\nab = { name = 'Ac, Ad' }\n[builder]\nname = 'Ae'\n[[papers]]\nmodel = 'Af'\n\
                 name = 'left door'\n[[log]]\nwho = 'ag'\n[[departures]]\nlooked_at_by = 'Ah, adviser'\n[tasks]\nbuilder = '3 ± 1'\n";
    found.toml(&facts.parse().expect("TOML"), "");
    assert_eq!(found.people, set("Ac, Ad; Ae; Ah, adviser; ab; ag", "; "));
    assert_eq!(found.things, set("Aa 1; Af", "; "));
    let mut found = Found::default();
    found.prose(
        "try \"x\" plate.model = \"Ba\", builder.name = \"Bb, Bc\", inspected fuel by bd as builder => met\n\
         \"who = \\\"Be\\\"\" begin x --who \"Bf\" [\"--who\", \"Bg\"] title = \"Oil\", name = \"left\", name = \"Bh\"",
    );
    assert_eq!(found.people, set("Bb, Bc; Be; Bf; Bg; bd", "; "));
    assert_eq!(found.things, set("Ba; Bh", "; "));
    assert_eq!(words("an Example, iN A3B of Ab2, VH-TTT and ABC"), set("ABC Example", " "));
}
