//! What is for programs keeps to its schema, is read back as it was, and would
//! not keep to it otherwise. The validator is somebody else's.

use super::made;
use crate::cli::many::club;
use crate::cli::{ITEM, Run, WORDS, project, with_pack};
use crate::golden::{ON, said};
use crate::outside::random_audits;
use cotterpin_engine::audit::{
    Audit, EntryState, MissingCause, NoDeferral, NoLeave, Note, Notice, ObservedValue, Remark, Through, TypedValue,
};
use cotterpin_engine::report::{SCHEMAS, Schema, json};
use jsonschema::Validator;
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::{Map, Value, json};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::process::Output;
use std::sync::LazyLock;

static VALIDATORS: LazyLock<BTreeMap<&'static str, Validator>> = LazyLock::new(|| {
    let validator = |schema: &Schema| jsonschema::validator_for(&whole(schema)).expect("a schema");
    SCHEMAS.iter().map(|schema| (schema.name, validator(schema))).collect()
});

fn whole(schema: &Schema) -> Value {
    serde_json::from_str(&schema.text()).unwrap_or_else(|why| panic!("{}: {why}", schema.name))
}

/// The schema that an output names.
fn named(output: &Value) -> &'static Schema {
    let full = output["schema"].as_str().expect("an output names its schema");
    SCHEMAS.iter().find(|schema| schema.full_name() == full).unwrap_or_else(|| panic!("no schema {full}"))
}

/// The output as data, which keeps to the schema it names.
pub(crate) fn valid(text: &str) -> (Value, &'static Schema) {
    let output: Value = serde_json::from_str(text).unwrap_or_else(|why| panic!("{why}:\n{text:.400}"));
    let schema = named(&output);
    let validator = &VALIDATORS[schema.name];
    if !validator.is_valid(&output) {
        let errors: Vec<String> = validator
            .iter_errors(&output)
            .take(3)
            .map(|one| format!("{:.600}\n  at {}", one.to_string(), one.instance_path()))
            .collect();
        panic!("not valid by {}:\n{}", schema.full_name(), errors.join("\n"));
    }
    (output, schema)
}

/// Whatever a test asks the command for as JSON is valid, a refusal too. Only
/// arguments that are none leave it without a word: then nobody knows what was asked.
pub(crate) fn holds_of_a_run(args: &[&str], output: &Output) {
    let (out, err) = (String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr));
    if out.is_empty() {
        assert!(err.starts_with("error: ") && output.status.code() == Some(3), "{args:?} gives nothing: {err}");
        return;
    }
    let (_, schema) = valid(&out);
    assert!(schema.name != "messages" || output.status.code() == Some(3), "{args:?}");
}

fn projects() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/packs/projects");
    let mut found: Vec<_> = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    found.sort();
    found
}

/// What a command gives as JSON, which is valid.
fn output(run: &Run, args: &[&str]) -> String {
    // The run itself looks whether it keeps to its schema.
    run.step(&[args, &["--format", "json"]].concat()).out
}

/// Every command on the demo, on all invented projects, on an empty project, a broken one, a broken pack and more.
fn outputs() -> Vec<String> {
    let run = Run::new("schemas");
    let mut outputs = Vec::new();
    let mut add = |run: &Run, args: &[&str]| outputs.push(output(run, args));
    run.step(&["audit", "--demo", "--on", "2026-10-31", "--save-to", "saved.json"]);
    let first = include_str!("../since/data/first-form.json");
    let run = run.file("first.json", first);
    for args in [
        &["audit", "--demo", "--on", ON][..],
        &["audit", "--demo", "--on", ON, "--by", "weighing"],
        &["audit", "--demo", "--on", ON, "--by", "close:tail"],
        &["audit", "--demo", "--on", "2027-08-01"],
        &["next", "--demo", "--on", ON],
        &["next", "--demo", "--on", ON, "--time", "3h", "--a-day", "2h"],
        &["next", "--demo", "--on", ON, "--close-up"],
        &["questions", "--demo"],
        &["questions", "--demo", "--system", "fuel"],
        &["since", "saved.json", "--demo", "--on", ON],
        &["since", "first.json", "--demo", "--on", ON],
        &["since", "saved.json", "--demo", "--on", "2027-08-01"],
        &["packs"],
        &["packs", "show", "nosuch-pack"],
        &["why", "no.such.item", "--demo", "--on", ON],
        &["why", "removed", "--demo", "--on", ON],
        &["why", "log", "--demo", "--on", ON],
        &["since", "2026-11-25", "."],
        &["audit", "no-such-folder"],
        &["try", "no-such-folder"],
    ] {
        add(&run, args);
    }
    for pack in cotterpin_packs::built_in_names() {
        add(&run, &["packs", "show", pack]);
    }
    for folder in projects() {
        let folder = folder.to_str().unwrap();
        for args in [&["audit", folder, "--on", ON][..], &["next", folder, "--on", ON], &["questions", folder]] {
            add(&run, args);
        }
        add(&run, &["next", folder, "--on", ON, "--close-up"]);
        add(&run, &["since", "saved.json", folder, "--on", ON]);
    }
    for args in [&["audit", "--on", ON][..], &["audit", "--on", ON, "--by", "vist"], &["audit", "--on", ON, "--save"]] {
        add(&club("schemas-club"), args);
    }
    let shed = project("schemas-shed", "[spar]\nspan = \"90 in ± 1/3 in\"\ntested = 2026-10-04\nratio = 0.1\n");
    for args in [
        &["audit", "--on", ON][..],
        &["why", "spar.long", "--on", ON],
        &["questions"],
        &["packs", "show", "shed"],
        &["try", "shed"],
    ] {
        add(&shed, args);
    }
    // Nothing at all is recorded; something does not parse, is of no kind, or stands twice; a pack has mistakes.
    let every = [&["audit", "--on", ON][..], &["next"], &["why", "spar.long"], &["questions"], &["try", "shed"]];
    let broken = [
        ("empty", project("schemas-empty", "")),
        ("text", project("schemas-text", "[spar\n")),
        ("kind", project("schemas-kind", "[spar]\nspan = \"3 lb\"\nspam = 1\n")),
        ("header", Run::new("schemas-header").file("project.toml", "name = 3\n")),
        ("warned", with_pack("schemas-warned", &format!("{WORDS}{}", ITEM.replace("  show photo of spar\n", "")))),
        ("pack", with_pack("schemas-pack", &format!("{WORDS}item spar.long \"?\" need spar.spam >= 1 in\n"))),
        ("untried", with_pack("schemas-untried", WORDS)),
        ("wrong", with_pack("schemas-wrong", &format!("{WORDS}{}", ITEM.replace("80 in => unmet", "95 in => unmet")))),
    ];
    for (_, run) in &broken {
        every.iter().for_each(|args| add(run, args));
    }
    outputs
}

#[test]
fn every_output_of_every_command_keeps_to_its_schema_and_audits_are_read_back() {
    let mut seen: BTreeMap<&str, usize> = BTreeMap::new();
    let mut places: BTreeMap<&str, usize> = BTreeMap::new();
    let mut read_back = 0;
    for text in outputs() {
        let (output, schema) = valid(&text);
        *seen.entry(schema.name).or_default() += 1;
        *places.entry(schema.name).or_default() += places_with_ends(&output, schema);
        if schema.name == "audit" {
            let audit: Audit = serde_json::from_str(&text).unwrap();
            let again: Value = serde_json::from_str(&json(&audit)).unwrap();
            let without_messages = |mut value: Value| {
                value["messages"].take();
                value
            };
            assert!(without_messages(again) == without_messages(output), "an audit comes back as another");
            read_back += 1;
        }
    }
    println!("valid by their schemas: {seen:?}; {read_back} audits read back");
    let all: BTreeSet<&str> = SCHEMAS.iter().map(|schema| schema.name).collect();
    assert_eq!(seen.keys().copied().collect::<BTreeSet<_>>(), all, "not every schema was tried");
    let placed: Vec<&&str> = places.iter().filter(|(_, count)| **count > 0).map(|(name, _)| name).collect();
    assert_eq!(placed.len(), SCHEMAS.len() - 1, "all but the list of packs have places: {placed:?}");
    assert!(seen["messages"] > 15 && seen["audit"] > 15 && read_back > 15, "{seen:?}");
}

/// Whoever looks at the present finds where things end; only what a saved audit holds does not say it.
fn places_with_ends(output: &Value, schema: &Schema) -> usize {
    let mut places = 0;
    each_object(output, "", &mut |_, object| {
        if object.contains_key("line") {
            places += 1;
            let number = |key: &str| object.get(key).and_then(Value::as_u64).unwrap_or(0);
            let begin = (number("line"), number("column"));
            let end = (number("end_line"), number("end_column"));
            assert!(end >= begin && begin >= (1, 1) || schema.name == "since", "{}: {object:?}", schema.name);
        }
    });
    places
}

#[test]
fn random_audits_keep_to_the_schema_and_are_read_back_equal() {
    let mut count = 0;
    random_audits(|audit| {
        let text = json(audit);
        valid(&text);
        let again: Audit = serde_json::from_str(&text).unwrap();
        assert_eq!(&again, audit);
        count += 1;
    });
    assert!(count >= 60, "{count}");
    let audit = made::audit();
    assert_eq!(serde_json::from_str::<Audit>(&json(&audit)).unwrap(), audit);
}

fn each_object(value: &Value, path: &str, look: &mut impl FnMut(&str, &Map<String, Value>)) {
    match value {
        Value::Object(object) => {
            look(path, object);
            for (key, value) in object {
                each_object(value, &format!("{path}/{key}"), look);
            }
        }
        Value::Array(list) => {
            for (at, value) in list.iter().enumerate() {
                each_object(value, &format!("{path}/{at}"), look);
            }
        }
        _ => {}
    }
}

/// The path without the places in lists, and without repeats of the parts of a reason.
fn shape(path: &str) -> String {
    let kept: Vec<&str> = path.split('/').filter(|part| part.parse::<usize>().is_err() && *part != "parts").collect();
    kept.join("/")
}

/// Keys whose words are closed.
const CLOSED: [&str; 16] = [
    "schema",
    "digest",
    "verdict",
    "instead_of",
    "expected",
    "basis",
    "mark",
    "held",
    "clause",
    "join",
    "kind",
    "class",
    "event",
    "on",
    "said",
    "severity",
];

/// Numbers that may lie below zero.
const SIGNED: [&str; 3] = ["lower", "upper", "days_left"];

/// One output changed in every way that is looked at: a key taken away, one more, another word.
fn changed(output: &Value) -> Vec<(String, Value)> {
    let mut seen = BTreeSet::new();
    let mut ways = Vec::new();
    each_object(output, "", &mut |path, object| {
        let mut change = |way: String, with: &dyn Fn(&mut Map<String, Value>)| {
            if seen.insert(format!("{} {way}", shape(path))) {
                let mut other = output.clone();
                with(other.pointer_mut(path).unwrap().as_object_mut().unwrap());
                ways.push((format!("{path}: {way}"), other));
            }
        };
        change(format!("one more {:?}", object.keys().collect::<Vec<_>>()), &|object| {
            object.insert("one_more".to_owned(), json!(1));
        });
        for (key, value) in object {
            // A pack may say it or not.
            if key != "country_means" && !path.ends_with("/country_means") {
                change(format!("without {key}"), &|object| {
                    object.remove(key);
                });
            }
            if CLOSED.contains(&key.as_str()) && value.is_string() {
                change(format!("another {key}"), &|object| {
                    object.insert(key.clone(), json!("some other word"));
                });
            }
            // Of a saved audit of the first form a note is a text.
            if (value.is_array() || value.is_object()) && key != "note" {
                change(format!("{key} as a text"), &|object| {
                    object.insert(key.clone(), json!("text"));
                });
            }
            if value.is_u64() && !SIGNED.contains(&key.as_str()) {
                change(format!("{key} below zero"), &|object| {
                    object.insert(key.clone(), json!(-1));
                });
            }
        }
    });
    ways
}

#[test]
fn what_is_changed_keeps_to_the_schema_no_more() {
    let run = Run::new("schemas-changed");
    run.step(&["audit", "--demo", "--on", "2026-10-31", "--save-to", "saved.json"]);
    let shed = project("schemas-changed-shed", "[spar]\nspan = \"91 in ± 1 in\"\n");
    let wrong = project("schemas-changed-wrong", "[spar]\nspam = \"3 lb\"\n");
    let mut tried: BTreeMap<&str, usize> = BTreeMap::new();
    for text in [
        output(&shed, &["audit", "--on", ON]),
        output(&run, &["why", "weight.scales", "--demo", "--on", ON]),
        output(&run, &["why", "controls.sense.elevator", "--demo", "--on", ON]),
        output(&run, &["why", "controls.cable-size", "--demo", "--on", ON]),
        output(&run, &["next", "--demo", "--on", ON, "--time", "3h"]),
        output(&run, &["next", "--demo", "--on", ON, "--close-up"]),
        output(&shed, &["questions"]),
        output(&run, &["packs"]),
        output(&shed, &["packs", "show", "shed"]),
        output(&shed, &["try", "shed"]),
        output(&wrong, &["audit", "--on", ON]),
        output(&club("schemas-changed-club"), &["audit", "--on", ON]),
        short_since(&run),
    ] {
        let (output, schema) = valid(&text);
        for (way, other) in changed(&output) {
            // What names another schema is judged by the one it should have named.
            assert!(!VALIDATORS[schema.name].is_valid(&other), "{}: {way} is valid still", schema.name);
            *tried.entry(schema.name).or_default() += 1;
        }
    }
    println!("changes that are seen: {tried:?}");
    assert_eq!(tried.len(), SCHEMAS.len(), "{tried:?}");
    assert!(tried.values().all(|count| *count >= 15), "{tried:?}");
}

/// What changed, with a few of its changes.
fn short_since(run: &Run) -> String {
    let text = output(run, &["since", "saved.json", "--demo", "--on", ON]);
    let mut output: Value = serde_json::from_str(&text).unwrap();
    output["changes"].as_array_mut().unwrap().truncate(40);
    output.to_string()
}

/// Each schema is one by the published description of schemas, and strict: nothing but what it names, and all of it.
#[test]
fn schemas_are_strict() {
    for schema in SCHEMAS {
        let whole = whole(schema);
        assert!(jsonschema::draft202012::meta::is_valid(&whole), "{}", schema.name);
        let mut objects = 0;
        each_object(&whole, "", &mut |path, object| {
            let Some(properties) = object.get("properties").filter(|_| object.get("type") == Some(&json!("object")))
            else {
                return;
            };
            objects += 1;
            assert_eq!(object.get("additionalProperties"), Some(&json!(false)), "{path}");
            let keys: BTreeSet<&str> = properties.as_object().unwrap().keys().map(String::as_str).collect();
            let required = object["required"].as_array().unwrap();
            let required: BTreeSet<&str> = required.iter().map(|key| key.as_str().unwrap()).collect();
            let left_out: Vec<&&str> = keys.difference(&required).collect();
            assert!(
                left_out.is_empty()
                    || left_out == [&"end_column", &"end_line"]
                    || left_out == [&"evidence"]
                    || left_out == [&"asked_back", &"country_means"],
                "{path}: {left_out:?}"
            );
            for key in keys {
                let snake = |letter: char| letter.is_ascii_lowercase() || letter == '_' || letter.is_ascii_digit();
                // The one key of an object that is a word with its content is the word.
                let is_tag = required.len() == 1 && path.contains("/oneOf/");
                assert!(is_tag || key.chars().all(snake), "{path}: {key}");
            }
        });
        assert!(objects > 20, "{}: {objects}", schema.name);
    }
}

/// What stands in `$defs` under a name, as a schema of its own.
fn definition(name: &str) -> Value {
    let mut whole = whole(&SCHEMAS[0]);
    let own = whole["$defs"][name].clone();
    assert!(!own.is_null(), "{name}");
    let defs = whole["$defs"].take();
    json!({"$ref": format!("#/$defs/{name}"), "$defs": defs})
}

/// The words of a type, as it says them where it is given another.
fn words_of<T: DeserializeOwned>() -> BTreeSet<String> {
    let Err(why) = serde_json::from_value::<T>(json!("no such word")) else { panic!("it takes any word") };
    let why = why.to_string();
    let (_, words) = why.split_once(", expected ").unwrap_or_else(|| panic!("{why}"));
    words.split('`').skip(1).step_by(2).map(str::to_owned).collect()
}

/// The smallest value of a schema.
fn smallest(schema: &Value, defs: &Value) -> Value {
    if let Some(name) = schema["$ref"].as_str() {
        return smallest(&defs[name.trim_start_matches("#/$defs/")], defs);
    }
    if let Some(only) = schema.get("const") {
        return only.clone();
    }
    if let Some(words) = schema["enum"].as_array() {
        return words[0].clone();
    }
    for key in ["oneOf", "anyOf"] {
        if let Some(ways) = schema[key].as_array() {
            return smallest(&ways[0], defs);
        }
    }
    let kind = schema["type"].as_str().or_else(|| schema["type"][0].as_str());
    match kind.unwrap_or_else(|| panic!("{schema}")) {
        "string" => match schema["pattern"].as_str() {
            Some(pattern) if pattern.contains("{4}") => json!("2026-11-25"),
            Some(pattern) => panic!("{pattern}"),
            None => json!("text"),
        },
        "integer" | "number" => schema.get("minimum").cloned().unwrap_or(json!(1)),
        "boolean" => json!(true),
        "array" => match schema["prefixItems"].as_array() {
            Some(items) => items.iter().map(|item| smallest(item, defs)).collect(),
            None => json!([smallest(&schema["items"], defs)]),
        },
        "object" => {
            let of = |(key, schema): (&String, &Value)| (key.clone(), smallest(schema, defs));
            Value::Object(schema["properties"].as_object().unwrap().iter().map(of).collect())
        }
        other => panic!("{other}"),
    }
}

/// Every variant of a type is one of its schema, and every one of the schema is read as such and written again alike.
fn same_variants<T: DeserializeOwned + Serialize>(name: &str) -> usize {
    let schema = definition(name);
    let validator = jsonschema::validator_for(&schema).unwrap();
    let ways = schema["$defs"][name]["oneOf"].as_array().unwrap_or_else(|| panic!("{name}"));
    let mut words = BTreeSet::new();
    let mut values = Vec::new();
    for way in ways {
        match way["enum"].as_array() {
            Some(alone) => values.extend(alone.iter().cloned()),
            None => values.push(smallest(way, &schema["$defs"])),
        }
    }
    for value in &values {
        assert!(validator.is_valid(value), "{name}: {value}");
        let read: T = serde_json::from_value(value.clone()).unwrap_or_else(|why| panic!("{name}: {value}: {why}"));
        assert_eq!(&serde_json::to_value(read).unwrap(), value, "{name}");
        let tag = value.as_str().or_else(|| value["kind"].as_str());
        words.insert(tag.map_or_else(|| value.as_object().unwrap().keys().next().unwrap().clone(), str::to_owned));
    }
    assert_eq!(words.len(), values.len(), "{name}: a variant stands twice");
    // What has its word under `kind` names the others only there.
    if name != "typed_value" {
        assert_eq!(words, words_of::<T>(), "{name}");
    }
    words.len()
}

#[test]
fn the_causes_of_the_schemas_are_those_of_the_engine() {
    let counts = [
        same_variants::<MissingCause>("missing_cause"),
        same_variants::<ObservedValue>("observed_value"),
        same_variants::<EntryState>("entry_state"),
        same_variants::<Note>("note"),
        same_variants::<Remark>("remark"),
        same_variants::<NoLeave>("no_leave"),
        same_variants::<NoDeferral>("no_deferral"),
        same_variants::<Notice>("notice"),
        same_variants::<Through>("through"),
        same_variants::<TypedValue>("typed_value"),
    ];
    assert!(counts.iter().sum::<usize>() > 100, "{counts:?}");
}

#[test]
fn the_words_of_the_schemas_are_those_of_the_engine() {
    use cotterpin_engine::{audit, diagnostic, history, ir, plan, vocabulary};
    let in_schema = |pointer: &str| -> BTreeSet<String> {
        let found = SCHEMAS.iter().find_map(|schema| whole(schema).pointer(pointer).cloned());
        let words = found.unwrap_or_else(|| panic!("{pointer}"));
        words.as_array().unwrap().iter().filter_map(|word| word.as_str().map(str::to_owned)).collect()
    };
    let checks = [
        ("/$defs/verdict/enum", words_of::<vocabulary::Verdict>()),
        ("/$defs/basis/enum", words_of::<vocabulary::Basis>()),
        ("/$defs/mark/enum", words_of::<vocabulary::Mark>()),
        ("/$defs/held/enum", words_of::<audit::Held>()),
        ("/$defs/named/enum", words_of::<ir::Named>()),
        ("/$defs/reason/properties/clause/enum", words_of::<audit::Clause>()),
        ("/$defs/reason/properties/join/enum", words_of::<audit::Join>()),
        ("/$defs/log_line/properties/kind/enum", words_of::<audit::LineKind>()),
        ("/$defs/finding/properties/kind/enum", words_of::<audit::FindingKind>()),
        ("/$defs/missing/properties/kind/enum", words_of::<audit::MissingKind>()),
        ("/$defs/planned/properties/what/enum", words_of::<audit::PlannedDay>()),
        ("/$defs/message/properties/severity/enum", words_of::<diagnostic::Severity>()),
        ("/properties/changes/items/properties/because/items/properties/kind/enum", words_of::<history::CauseKind>()),
        ("/properties/jobs/items/properties/takes/properties/said/enum", words_of::<plan::TimeSource>()),
    ];
    for (pointer, words) in checks {
        assert!(words.len() > 1, "{pointer}");
        assert_eq!(in_schema(pointer), words, "{pointer}");
    }
    let events: BTreeSet<String> = vocabulary::Event::ALL.iter().map(|event| event.words().to_owned()).collect();
    assert_eq!(in_schema("/$defs/event/enum"), events);
}

#[test]
fn the_command_gives_out_every_schema_and_lists_them() {
    let run = Run::new("schemas-listed");
    let list = said(run.clone(), &["schema"]).fine(&[]).out;
    for schema in SCHEMAS {
        assert!(list.lines().any(|line| line.starts_with(schema.name) && line.contains(&schema.full_name())), "{list}");
        assert_eq!(said(run.clone(), &["schema", schema.name]).fine(&[]).out, schema.text());
    }
    said(run, &["schema", "adit"]).refuses(&["schema::unknown", "did you mean `audit`?"]);
}

/// A number comes back as the same number, whatever its length.
#[test]
fn numbers_are_exact() {
    for (text, in_json) in [
        ("\"96 in\"", json!({"kind": "number", "unit": "in", "lower": 96, "upper": 96})),
        ("\"0.1 m\"", json!({"kind": "number", "unit": "m", "lower": 0.1, "upper": 0.1})),
        ("\"1/3 ft\"", json!({"kind": "number", "unit": "ft", "lower": "1/3", "upper": "1/3"})),
        ("\"90 in ± 1/4 in\"", json!({"kind": "number", "unit": "in", "lower": 89.75, "upper": 90.25})),
        (
            "\"95.12345678901234567 in\"",
            json!({"kind": "number", "unit": "in", "lower": "95.12345678901234567", "upper": "95.12345678901234567"}),
        ),
    ] {
        let run = project("schemas-numbers", format!("[spar]\nspan = {text}\n"));
        let text = output(&run, &["audit", "--on", ON]);
        let (value, _) = valid(&text);
        let seen = &value["findings"][0]["because"][0]["values"][0];
        assert_eq!(seen["typed"], in_json, "{seen}");
        let audit: Audit = serde_json::from_str(&text).unwrap();
        assert_eq!(serde_json::to_value(&audit.findings[0].because[0].values[0].typed).unwrap(), in_json);
    }
}

/// The digest is the one that anybody works out with `sha256sum`.
#[cfg(unix)]
#[test]
fn digests_are_those_of_sha256sum() {
    let packs = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/packs/rules");
    let run = Run::new("schemas-digests");
    let (value, _) = valid(&output(&run, &["packs"]));
    let mut compared = 0;
    for row in value["packs"].as_array().unwrap() {
        let folder = packs.join(row["name"].as_str().unwrap());
        let command = "set -o pipefail; shopt -s nullglob; LC_ALL=C sha256sum pack.toml *.checklist | sha256sum";
        let out = std::process::Command::new("bash").args(["-c", command]).current_dir(folder).output();
        let Some(out) = out.ok().filter(|out| out.status.success()) else {
            println!("not run: there is no sha256sum here");
            return;
        };
        let text = String::from_utf8(out.stdout).unwrap();
        assert_eq!(text.split(' ').next(), row["digest"].as_str(), "{}", row["name"]);
        compared += 1;
    }
    assert!(compared > 10, "{compared}");
}
