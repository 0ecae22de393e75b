//! A report without names: nothing that says who somebody is, or which aircraft it is, is left in any format,
//! and all else stays as it was.

use super::made;
use crate::cli::Run;
use crate::fixtures::dice::Dice;
use crate::fixtures::packs::{built, load, pack};
use crate::fixtures::projects::{file, read_project};
use crate::fixtures::seed::with_dice;
use cotterpin_engine::audit::{Audit, Finding, ObservedValue};
use cotterpin_engine::history::{Saved, standing};
use cotterpin_engine::ir::Rules;
use cotterpin_engine::project::Record;
use cotterpin_engine::report::{StandIns, csv, json, junit, sarif, text, why};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::sync::LazyLock;

const ON: &str = "2026-11-25";

static RULES: LazyLock<Rules> = LazyLock::new(|| built(&["us", "workmanship"]));

/// The audit with stand-ins.
fn redacted(rules: &Rules, record: &Record, audit: &Audit) -> Audit {
    let mut audit = audit.clone();
    StandIns::of(rules, record).put_into(&mut audit);
    audit
}

/// An audit in every format.
fn formats(audit: &Audit) -> Vec<(&'static str, String)> {
    let findings: Vec<&Finding> = audit.findings.iter().collect();
    vec![
        ("text", text(audit, 100_000)),
        ("why", why(audit, &findings, 100_000)),
        ("json", json(audit)),
        ("sarif", sarif(audit, None)),
        ("junit", junit(audit)),
        ("csv", csv(audit)),
    ]
}

/// Letters that no pack has in this order.
fn nonsense(dice: &mut Dice) -> String {
    let syllable = |dice: &mut Dice| {
        format!("{}{}", dice.pick(&["zq", "xv", "qx", "wz", "jq"]), dice.pick(&["a", "o", "ui", "e"]))
    };
    (0..3).map(|_| syllable(dice)).collect()
}

fn capital(word: &str) -> String {
    word[..1].to_uppercase() + &word[1..]
}

/// A project in which names stand wherever somebody can write them, and what must not be left of it.
struct Named {
    project: String,
    files: Vec<(String, String)>,
    paths: Vec<String>,
    identities: Vec<String>,
}

/// A word as somebody may write it.
fn somehow(dice: &mut Dice, word: &str) -> String {
    match dice.below(3) {
        0 => word.to_lowercase(),
        1 => word.to_uppercase(),
        _ => capital(&word.to_lowercase()),
    }
}

fn named(dice: &mut Dice) -> Named {
    let [first, last, short, other, inspector, agent] = [(); 6].map(|()| nonsense(dice));
    let digits = |dice: &mut Dice, count: usize| (0..count).map(|_| dice.below(10).to_string()).collect::<String>();
    let mark = format!("N{}{}", digits(dice, 2), nonsense(dice).to_uppercase());
    let serial = format!("{}-{}", nonsense(dice).to_uppercase(), digits(dice, 3));
    let number = format!("7{}", digits(dice, 7));
    let address = format!("A{}", digits(dice, 5).replace('0', "7") + "9");
    let full = format!("{}, {}", capital(&last), capital(&first));
    let turned = format!("{} {}", somehow(dice, &first), somehow(dice, &last));
    let spelt = format!("{} {}", &mark[..3], &mark[3..]);
    let project = format!(
        "name = \"The {} of {turned}, {spelt}\"\ncountry = \"us\"\npacks = [\"workmanship\"]\nvisit = 2026-12-10\n\
        [people]\n{short} = {{ name = \"{full}\", role = \"builder\" }}\n\
        toni = {{ name = \"{} {}\", role = \"adviser\" }}\n\
        [parts]\n\"cabin.{first}_box\" = {{ title = \"The box of {}\", zone = \"cabin\" }}\n",
        somehow(dice, &mark),
        capital(&other),
        capital(&last),
        capital(&first)
    );
    let evidence = format!("evidence/{}/{}_{last}-plate.jpg", somehow(dice, &first), somehow(dice, &mark));
    let facts = format!(
        "[builder]\nname = \"{}\"\n[registration]\nmark = \"{mark}\"\naddress = \"{address}\"\n\
        [plate]\npresent = true\nbuilder = \"{full}\"\nserial = \"{serial}\"\nevidence = [\"{evidence}\"]\n\
        [elt]\nhex_id = \"{number}\"\n\
        [[papers]]\ntitle = \"letter of {turned}\"\nserial = \"{number}\"\nbuilder = \"{turned}\"\nregistration = \"{spelt}\"\n\
        [[papers]]\ntitle = \"{serial}\"\nserial = \"{serial}\"\nbuilder = \"{} {}\"\nregistration = \"{mark}\"\n",
        turned,
        capital(&agent),
        capital(&other)
    );
    let log = format!(
        "[[log]]\non = 2026-08-01\nwhat = \"inspected\"\nsubject = \"controls.elevator\"\nwho = \"{short}\"\n\
        note = \"{turned} and {} held it, {spelt} on it\"\n\
        [[log]]\non = 2026-09-01\nwhat = \"adjusted\"\nsubject = \"controls.elevator\"\nwho = \"toni\"\n\
        note = \"with {}'s wrench {serial}\"\n\
        [[log]]\non = 2026-09-02\nwhat = \"removed\"\nsubject = \"cabin.{first}_box\"\nwho = \"toni\"\n",
        somehow(dice, &other),
        somehow(dice, &short)
    );
    let words = format!(
        "[[confirmed]]\nitem = \"controls.sense.elevator\"\nwho = \"{full}\"\nrole = \"builder\"\non = 2026-08-02\n\
        note = \"{} was there\"\n\
        [[concession]]\nitem = \"marks.text.same\"\nreason = \"{turned} asked, {} agreed\"\ngranted_by = \"{} of {}\"\n\
        role = \"inspector\"\non = 2026-08-02\nuntil = 2026-09-02\n",
        somehow(dice, &other),
        capital(&inspector),
        capital(&inspector),
        capital(&agent)
    );
    Named {
        project,
        files: vec![
            (format!("facts-{short}.toml"), facts),
            ("log/2026.toml".to_owned(), log),
            (format!("{}.toml", somehow(dice, &last)), words),
        ],
        paths: if dice.once_in(2) { vec![evidence] } else { Vec::new() },
        identities: vec![first, last, short, other, inspector, agent, mark, spelt, serial, number, address],
    }
}

#[test]
fn nothing_is_left_in_any_format() {
    let mut found: BTreeSet<&str> = BTreeSet::new();
    with_dice(&[], |dice| {
        for _ in 0..12 {
            let Named { project, files, paths, identities } = named(dice);
            let files: Vec<_> = files.iter().map(|(name, text)| file(name, text)).collect();
            let paths: Vec<&str> = paths.iter().map(String::as_str).collect();
            let reading = read_project(&RULES, &project, &files, &paths);
            // Names that chance makes much alike may be one person's, which is told and is no fault.
            let said = &reading.messages;
            assert!(said.iter().all(|message| message.code == "project::one-person"), "{said:?}");
            let mut audit = reading.audited(ON);
            audit.project = project.lines().next().unwrap().replace("name = ", "");
            let without = redacted(&RULES, &reading.record, &audit);
            for ((format, whole), (_, report)) in formats(&audit).into_iter().zip(formats(&without)) {
                let (whole, lower) = (whole.to_lowercase(), report.to_lowercase());
                for identity in identities.iter().map(|identity| identity.to_lowercase()) {
                    if whole.contains(&identity) {
                        found.insert(format);
                    }
                    let around =
                        lower.find(&identity).map(|at| &lower[at.saturating_sub(80)..(at + 80).min(lower.len())]);
                    assert_eq!(around, None, "{identity} is left in {format}");
                }
            }
            same_but_for_texts(&audit, &without);
            one_for_one(&audit, &without, &identities);
        }
    });
    assert_eq!(found.len(), 6, "{found:?}");
}

/// Verdicts, numbers, days and names of items stay.
fn same_but_for_texts(audit: &Audit, without: &Audit) {
    assert_eq!(audit.findings.len(), without.findings.len());
    assert_eq!((audit.summary, &audit.on, audit.exit_status()), (without.summary, &without.on, without.exit_status()));
    for (one, other) in audit.findings.iter().zip(&without.findings) {
        let kept =
            |finding: &Finding| (finding.verdict, finding.by.clone(), finding.zone.clone(), finding.stops_the_visit);
        assert_eq!((&one.item, kept(one)), (&other.item, kept(other)));
        assert_eq!(one.title.as_str().is_empty(), other.title.as_str().is_empty());
        for (seen, other) in
            one.leaves().flat_map(|leaf| &leaf.values).zip(other.leaves().flat_map(|leaf| &leaf.values))
        {
            if let (ObservedValue::Recorded(text), ObservedValue::Recorded(told)) = (&seen.value, &other.value)
                && !text.starts_with('"')
            {
                assert_eq!(text, told, "{}", seen.name);
            }
        }
    }
}

/// A value that is an identity has the same stand-in everywhere, and no other has it.
fn one_for_one(audit: &Audit, without: &Audit, identities: &[String]) {
    let (before, after): (Value, Value) =
        (serde_json::from_str(&json(audit)).unwrap(), serde_json::from_str(&json(without)).unwrap());
    let mut told: BTreeMap<String, String> = BTreeMap::new();
    pairs(&before, &after, &mut |text, other| {
        let bare = text.trim_matches('"');
        if identities.iter().any(|identity| bare.contains(identity.as_str())) && text.starts_with('"') {
            assert_ne!(text, other);
            let stand_in = told.entry(text.to_owned()).or_insert_with(|| other.to_owned());
            assert_eq!(stand_in, other, "for {text}");
        }
    });
    let unique: BTreeSet<&String> = told.values().collect();
    assert_eq!(unique.len(), told.len(), "{told:?}");
    assert!(told.len() > 3, "{told:?}");
}

/// Every text of one value beside that of another of the same form.
fn pairs(one: &Value, other: &Value, see: &mut impl FnMut(&str, &str)) {
    match (one, other) {
        (Value::String(one), Value::String(other)) => see(one, other),
        (Value::Array(one), Value::Array(other)) => {
            assert_eq!(one.len(), other.len());
            one.iter().zip(other).for_each(|(one, other)| pairs(one, other, see));
        }
        (Value::Object(one), Value::Object(other)) => {
            assert!(one.keys().eq(other.keys()));
            one.values().zip(other.values()).for_each(|(one, other)| pairs(one, other, see));
        }
        (one, other) => assert_eq!(one, other),
    }
}

/// A shed with a pack of its own, for single texts.
const PACK: &str = "\
hold-points visit \"Before the visit\"
systems shed \"Shed\"
roles builder \"Who builds\" adviser \"Who looks\"
fact shed.note : text ask \"?\"
fact shed.serial : text ask \"?\"
fact shed.mark : text ask \"?\"
fact shed.marks : text ask \"?\"
fact shed.call_sign : text ask \"?\"
fact shed.registration : text ask \"?\"
fact shed.span : length ask \"?\"
fact shed.count : count ask \"?\"
fact shed.address : count ask \"?\"
fact shed.reader : optional person ask \"?\"
item shed.told \"All of it is told\"
  need shed.note is \"x\" and shed.serial is \"x\" and shed.span > 900 in and shed.count > 900 and shed.address < 1 and shed.reader is none
  by visit basis own cite common practice
item shed.marked \"It is marked\"
  need alike shed.mark, shed.marks, shed.call_sign, shed.registration
  by visit basis own cite common practice
";

/// What becomes of a value of `shed.note`, and of all the others, in a project of these people and facts.
fn told(people: &str, facts: &str) -> BTreeMap<String, String> {
    let rules = load(&[pack("mine", &[], PACK)]);
    let project = format!("name = 'Shed'\npacks = ['./mine']\n[people]\n{people}");
    let reading = read_project(&rules, &project, &[file("facts.toml", format!("[shed]\n{facts}"))], &[]).clean();
    let audit = redacted(&rules, &reading.record, &reading.audited(ON));
    let values = audit
        .findings
        .iter()
        .flat_map(|finding| finding.leaves().flat_map(|leaf| leaf.values.clone()).collect::<Vec<_>>());
    let text = |value: ObservedValue| match value {
        ObservedValue::Recorded(text) | ObservedValue::NoLonger(text, _) => Some(text),
        _ => None,
    };
    values.filter_map(|seen| Some((seen.name, text(seen.value)?))).collect()
}

/// People of a project: each by a short name, with the full one and a role.
fn people(people: &[(&str, &str, &str)]) -> String {
    people.iter().map(|(short, name, role)| format!("{short} = {{ name = {name:?}, role = {role:?} }}\n")).collect()
}

/// Two of them.
fn two() -> String {
    people(&[("ada", "Example, Ada B.", "builder"), ("toni", "Toni Specimen", "adviser")])
}

fn note(note: &str) -> String {
    told(&two(), &format!("serial = 'F-0107'\nnote = '''{note}'''\n"))["shed.note"].clone()
}

#[test]
fn names_are_found_however_they_are_written() {
    for (written, expected) in [
        ("Example, Ada B.", "person 1"),
        ("Example, Ada B., builder", "person 1., builder"),
        ("Ada Example", "person 1"),
        ("ADA and toni", "person 1 and person 2"),
        ("Toni's wrench, Ada's file", "person 2's wrench, person 1's file"),
        ("evidence/toni_specimen/ada2.jpg", "evidence/person 2/person 12.jpg"),
        ("A\u{301}da, To\u{200b}ni", "person 1, person 2"),
        ("ToniSpecimen", "person 2"),
        ("F-0107, f 0107 and F0107", "serial 1, serial 1 and serial 1"),
        ("XF-0107, F-01070 and F-0107A", "XF-0107, F-01070 and F-0107A"),
        ("adamant canada tonic b", "adamant canada tonic b"),
        ("for example", "for person 1"),
    ] {
        assert_eq!(note(written), format!("{expected:?}"), "{written}");
    }
}

#[test]
fn kinds_and_names_of_facts_say_what_is_what() {
    let facts = "serial = '107'\nspan = '107 in'\ncount = 107\naddress = 10485760\nreader = 'toni'\nnote = '107 and 10485760'\n";
    let told = told(&two(), facts);
    let expected = [
        ("shed.serial", "\"serial 1\""),
        // A measurement stays, and so does what is counted.
        ("shed.span", "107 in"),
        ("shed.count", "107"),
        ("shed.address", "address 1"),
        ("shed.reader", "\"person 2\""),
        ("shed.note", "\"serial 1 and address 1\""),
    ];
    for (name, value) in expected {
        assert_eq!(told[name], value, "{name} of {told:?}");
    }
}

/// Words of a name that two people share say that it is one of them.
#[test]
fn a_shared_word_is_somebody() {
    let people = people(&[("ada", "Example, Ada", "builder"), ("ines", "Example, Ines", "adviser")]);
    let told = told(&people, "note = 'Ines Example and Example, not the adviser'\n");
    assert_eq!(told["shed.note"], "\"person 2 and somebody, not the adviser\"");
}

/// Two spellings of one mark are still two, and say of what.
#[test]
fn spellings_are_told_apart() {
    let written = [("mark", "N00XY"), ("marks", "N 00XY"), ("call_sign", "n00xy"), ("registration", "N00XY")];
    let facts: String = written.iter().map(|(fact, mark)| format!("{fact} = {mark:?}\n")).collect();
    let told = told(&two(), &facts);
    let expected = [
        ("shed.mark", "\"registration 1\""),
        ("shed.marks", "\"registration 1, spelling 2\""),
        ("shed.call_sign", "\"registration 1, spelling 3\""),
        ("shed.registration", "\"registration 1\""),
    ];
    for (name, value) in expected {
        assert_eq!(told[name], value, "{name} of {told:?}");
    }
}

/// Names of what published packs declare are no names of people.
#[test]
fn names_of_packs_stay() {
    let people = people(&[("mark", "Marks, Height", "builder")]);
    let project = format!("name = 'Shed'\ncountry = 'us'\n[people]\n{people}");
    let facts = "[marks]\nheight = '3 in'\n";
    let reading = read_project(&RULES, &project, &[file("facts.toml", facts)], &[]).clean();
    let audit = reading.audited(ON);
    let without = redacted(&RULES, &reading.record, &audit);
    let (one, other) = (json(&audit), json(&without));
    for (one, other) in one.lines().zip(other.lines()) {
        assert_eq!(one, other);
    }
    let mut seen = without.findings.iter().flat_map(Finding::leaves).flat_map(|leaf| &leaf.values);
    assert!(seen.any(|seen| seen.name.contains("marks.height")));
}

/// A finding that is there no more is told without names as well.
#[test]
fn what_is_gone_has_no_names() {
    let rules = load(&[pack("mine", &[], PACK)]);
    let project = format!("name = 'Shed'\npacks = ['./mine']\n[people]\n{}", two());
    let reading = read_project(&rules, &project, &[], &[]).clean();
    let mut was = reading.audited(ON);
    was.findings[0].item = "mine/shed.gone".into();
    was.findings[0].subject = Some("Ada's plane".into());
    was.findings[0].title = "Toni has seen it".into();
    let mut told = standing(&Saved::of(&was), &reading.audited(ON));
    StandIns::of(&rules, &reading.record).put_into_standing(&mut told);
    let gone: Vec<(Option<&str>, &str)> =
        told.gone.iter().map(|gone| (gone.subject.as_deref(), gone.title.as_str())).collect();
    assert_eq!(gone, [(Some("person 1's plane"), "person 2 has seen it")]);
}

/// An audit without anything recorded has nothing to hide.
#[test]
fn nothing_recorded_changes_nothing() {
    let audit = made::audit();
    assert_eq!(json(&redacted(&RULES, &Record::default(), &audit)), json(&audit));
}

/// What a folder of TOML files says of people, marks, numbers and addresses, read without the engine.
fn identities(folder: &Path) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    for entry in walkdir::WalkDir::new(folder).into_iter().map(|entry| entry.unwrap()) {
        if entry.path().extension().is_some_and(|ending| ending == "toml") && !entry.path().ends_with("pack.toml") {
            let table: toml::Table = std::fs::read_to_string(entry.path()).unwrap().parse().unwrap();
            collect("", &toml::Value::Table(table), &mut found);
        }
    }
    found
}

const PEOPLES_KEYS: [&str; 3] = ["who", "granted_by", "looked_at_by"];
const KEYS: [&str; 8] =
    ["serial", "mark", "registration", "address", "hex_id", "registry_mark", "call_sign", "coded_address"];

fn collect(key: &str, value: &toml::Value, found: &mut BTreeSet<String>) {
    match value {
        toml::Value::Table(table) if key == "people" => {
            for (short, person) in table {
                found.insert(short.clone());
                found.extend(person["name"].as_str().map(str::to_owned));
            }
        }
        toml::Value::Table(table) => table.iter().for_each(|(key, value)| collect(key, value, found)),
        toml::Value::Array(values) => values.iter().for_each(|value| collect(key, value, found)),
        toml::Value::String(text) if text != "none" && (PEOPLES_KEYS.contains(&key) || KEYS.contains(&key)) => {
            found.insert(text.clone());
        }
        _ => {}
    }
}

/// The demo and every invented project, by the command, in every format.
#[test]
fn the_demo_and_the_projects_keep_their_names_to_themselves() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut folders: Vec<_> =
        std::fs::read_dir(root.join("tests/packs/projects")).unwrap().map(|entry| entry.unwrap().path()).collect();
    folders.push(root.join("src/command/demo"));
    folders.sort();
    let run = Run::new("redact-projects");
    let mut seen = 0;
    for folder in folders {
        let identities = identities(&folder);
        for format in ["text", "json", "sarif", "junit", "csv"] {
            let args = ["audit", folder.to_str().unwrap(), "--on", ON, "--format", format];
            let (whole, report) = (run.step(&args).out, run.step(&[&args[..], &["--redact"]].concat()).out);
            assert!(!report.is_empty());
            for identity in &identities {
                seen += usize::from(stands(&whole, identity));
                assert!(!stands(&report, identity), "{identity} is left in {format} of {}", folder.display());
            }
        }
    }
    assert!(seen > 100, "{seen}");
}

/// Whether a text stands there as a whole word, whatever its letter case. A number has to stand between quotation
/// marks, for a line or a length may have the same digits; and so has the call sign of a project, which is a word.
fn stands(report: &str, text: &str) -> bool {
    let (report, text) = (report.to_lowercase(), text.to_lowercase());
    if text.chars().all(|letter| letter.is_ascii_digit()) || text == "test" {
        let quotes = ["\"", "\\\"", "\"\"", "&quot;"];
        return quotes.iter().any(|quote| report.contains(&format!("{quote}{text}{quote}")));
    }
    let touches = |letter: Option<char>| letter.is_some_and(char::is_alphanumeric);
    report
        .match_indices(&text)
        .any(|(at, _)| !touches(report[..at].chars().next_back()) && !touches(report[at + text.len()..].chars().next()))
}
