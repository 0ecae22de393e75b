//! SARIF, read by the schema that OASIS publishes and held against the rules of the standard that no schema can say.

use super::{awkward, made};
use crate::cli::Run;
use crate::fixtures::dice::Dice;
use crate::fixtures::seed::with_dice;
use cotterpin_engine::audit::{Audit, REMINDER};
use cotterpin_engine::history::{Saved, Standing, compare, standing};
use cotterpin_engine::report::{json, sarif};
use cotterpin_engine::vocabulary::Verdict;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

/// The schema of OASIS; data/README.md says where it is from.
const SCHEMA: &str = include_str!("data/sarif-schema-2.1.0.json");

/// Reads SARIF by the schema.
struct Schema(jsonschema::Validator);

impl Schema {
    fn new() -> Self {
        // A bracket too many in the published text, which no reader of these expressions takes.
        let schema = SCHEMA.replace("-[a-zA-Z]{2}]?$", "-[a-zA-Z]{2}$");
        assert_ne!(schema, SCHEMA);
        let schema = serde_json::from_str(&schema).unwrap();
        let options = jsonschema::options().with_draft(jsonschema::Draft::Draft7).should_validate_formats(true);
        Self(options.build(&schema).expect("a schema"))
    }

    fn says(&self, log: &Value) -> Result<(), String> {
        self.0.validate(log).map_err(|error| format!("{:.600} at {}", error.to_string(), error.instance_path()))
    }

    /// The log, valid by the schema and by what the standard says besides.
    fn read(&self, text: &str) -> Value {
        let log: Value = serde_json::from_str(text).expect("it is JSON");
        if let Err(error) = self.says(&log) {
            panic!("{error}\n{text}");
        }
        besides(&log["runs"][0]);
        log
    }
}

fn list(value: &Value) -> &[Value] {
    value.as_array().map_or(&[], Vec::as_slice)
}

fn text(value: &Value) -> &str {
    value.as_str().unwrap_or_else(|| panic!("a text, not {value}"))
}

/// What the standard says, and the schema cannot.
fn besides(run: &Value) {
    let results = list(&run["results"]);
    let rules = list(&run["tool"]["driver"]["rules"]);
    let ids: BTreeSet<&str> = rules.iter().map(|rule| text(&rule["id"])).collect();
    assert_eq!(ids.len(), rules.len(), "a rule stands twice");
    for result in results {
        // 3.27.6
        let index = usize::try_from(result["ruleIndex"].as_u64().expect("an index")).unwrap();
        assert_eq!(rules[index]["id"], result["ruleId"]);
        // 3.27.10: of severity is spoken where there is a problem, and nowhere else.
        assert_eq!(result["kind"] == "fail", result["level"] != "none", "{result}");
        // 3.27.12
        assert!(list(&result["locations"]).len() <= 1, "{result}");
        // 3.27.22
        let related = list(&result["relatedLocations"]);
        assert!(related.iter().enumerate().all(|(at, one)| !related[..at].contains(one)), "{result}");
        // 3.27.23
        assert!(result["suppressions"].is_array(), "{result}");
        for location in list(&result["locations"]).iter().chain(related) {
            relative(run, &location["physicalLocation"]["artifactLocation"]);
        }
    }
    // 3.27.24
    let with_state = results.iter().filter(|result| result["baselineState"].is_string()).count();
    assert!(with_state == 0 || with_state == results.len(), "{with_state} of {}", results.len());
    // 3.20.21
    let invocation = &run["invocations"][0];
    let notifications = list(&invocation["toolExecutionNotifications"]);
    let failed = notifications.iter().any(|one| one["level"] == "error");
    assert_eq!(invocation["executionSuccessful"], !failed, "{invocation}");
    assert_eq!(invocation["exitCode"].as_u64() < Some(3), !failed, "{invocation}");
    let described = list(&run["tool"]["driver"]["notifications"]);
    for one in notifications {
        let index = usize::try_from(one["descriptor"]["index"].as_u64().expect("an index")).unwrap();
        assert_eq!(described[index]["id"], one["descriptor"]["id"]);
    }
    assert_eq!(run["properties"]["reminder"], REMINDER);
    assert!(notifications.iter().any(|one| one["message"]["text"] == REMINDER), "{invocation}");
}

/// 3.4.3 and 3.4.4: a relative reference does not begin with a slash, and has the name of what it is relative to.
fn relative(run: &Value, location: &Value) {
    let uri = text(&location["uri"]);
    match location["uriBaseId"].as_str() {
        Some(base) => {
            assert!(!uri.starts_with('/') && !uri.contains(':'), "{uri}");
            assert!(run["originalUriBaseIds"][base].is_object(), "{base} is not told of");
        }
        None => assert!(uri.starts_with("file:///"), "{uri}"),
    }
}

/// RFC 3986, 2.1.
fn decoded(uri: &str) -> String {
    let mut bytes = Vec::new();
    let mut rest = uri.bytes();
    while let Some(byte) = rest.next() {
        if byte == b'%' {
            let digits = [rest.next().unwrap(), rest.next().unwrap()];
            bytes.push(u8::from_str_radix(std::str::from_utf8(&digits).unwrap(), 16).unwrap());
        } else {
            bytes.push(byte);
        }
    }
    String::from_utf8(bytes).unwrap()
}

/// 3.11.5: the text that a reader shows.
fn shown(message: &Value) -> String {
    let text = text(&message["text"]);
    assert_eq!(text.replace("{{", "").replace("}}", "").find(['{', '}']), None, "a placeholder in {text}");
    text.replace("{{", "{").replace("}}", "}")
}

/// Kind and level, by the table in the format's own page.
fn kind(verdict: Verdict, stops: bool) -> (&'static str, &'static str) {
    match (verdict, stops) {
        (Verdict::Met, _) => ("pass", "none"),
        (Verdict::Unmet, true) => ("fail", "error"),
        (Verdict::Unmet, false) => ("fail", "warning"),
        (Verdict::NotShown, _) => ("open", "none"),
        (Verdict::NotApplicable, _) => ("notApplicable", "none"),
        (Verdict::Conceded | Verdict::SetAside, _) => panic!("leave is no kind of its own"),
    }
}

/// That a log says what an audit says, and of every finding.
fn holds(log: &Value, audit: &Audit) {
    let run = &log["runs"][0];
    let results: Vec<&Value> = list(&run["results"]).iter().filter(|one| one["baselineState"] != "absent").collect();
    assert_eq!(results.len(), audit.findings.len());
    for (result, finding) in results.iter().zip(&audit.findings) {
        assert_eq!(result["ruleId"], finding.item);
        assert_eq!(result["properties"]["item"], finding.item);
        assert_eq!(result["properties"]["subject"].as_str(), finding.subject.as_deref());
        assert_eq!(result["properties"]["verdict"], finding.verdict.word());
        let without = match finding.verdict {
            Verdict::Conceded => finding.concession.as_ref().expect("leave").instead_of,
            Verdict::SetAside => finding.set_aside[0].instead_of,
            verdict => verdict,
        };
        let (kind, level) = kind(without, finding.stops_the_visit);
        assert_eq!((&result["kind"], &result["level"]), (&kind.into(), &level.into()), "{result}");
        let leave: Vec<String> = match finding.verdict {
            Verdict::Conceded => vec![finding.concession.as_ref().expect("leave").reason.clone()],
            Verdict::SetAside => finding.set_aside.iter().map(|aside| aside.because.to_string()).collect(),
            _ => Vec::new(),
        };
        let suppressions = list(&result["suppressions"]);
        assert_eq!(suppressions.len(), leave.len());
        for (suppression, reason) in suppressions.iter().zip(&leave) {
            assert_eq!((&suppression["kind"], &suppression["status"]), (&"external".into(), &"accepted".into()));
            assert!(text(&suppression["justification"]).contains(reason.trim_end()), "{suppression}");
        }
        places(result, finding);
    }
    counts(audit, &results);
}

/// Every recorded value that was looked at has its file, line and column.
fn places(result: &Value, finding: &cotterpin_engine::audit::Finding) {
    let all = list(&result["locations"]).iter().chain(list(&result["relatedLocations"]));
    let told: Vec<(String, Option<u64>, Option<u64>)> = all
        .map(|location| {
            let physical = &location["physicalLocation"];
            let region = &physical["region"];
            let uri = decoded(text(&physical["artifactLocation"]["uri"]));
            let file = uri.strip_prefix("file://").filter(|file| file.starts_with('/')).unwrap_or(&uri).to_owned();
            (file, region["startLine"].as_u64(), region["startColumn"].as_u64())
        })
        .collect();
    let values = finding.leaves().flat_map(|reason| &reason.values);
    let places: Vec<_> = values.filter_map(|seen| seen.place.as_ref()).filter(|place| !place.file.is_empty()).collect();
    if let Some(first) = places.first() {
        assert_eq!(told[0].0, first.file);
    }
    for place in places {
        let line = (place.line > 0).then_some(u64::from(place.line));
        let column = line.map(|_| u64::from(place.column.max(1)));
        assert!(told.contains(&(place.file.clone(), line, column)), "{place:?} is not in {told:?}");
    }
}

/// What is not suppressed counts as the summary does.
fn counts(audit: &Audit, results: &[&Value]) {
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    for result in results.iter().filter(|result| list(&result["suppressions"]).is_empty()) {
        *counts.entry(text(&result["kind"])).or_default() += 1;
    }
    let count = |kind: &str| counts.get(kind).copied().unwrap_or_default();
    let sum = &audit.summary;
    assert_eq!(
        ["pass", "fail", "open", "notApplicable"].map(count),
        [sum.met, sum.unmet, sum.not_shown, sum.not_applicable]
    );
}

#[test]
fn every_verdict_is_told_by_its_kind() {
    let audit = made::audit();
    let log = Schema::new().read(&sarif(&audit, None));
    holds(&log, &audit);
    let run = &log["runs"][0];
    assert_eq!((&log["version"], run["invocations"][0]["exitCode"].as_u64()), (&"2.1.0".into(), Some(1)));
    let marks = list(&run["results"]).iter().find(|one| one["ruleId"] == "us/marks.height").expect("the marks");
    let justification = "The fin is too small. Granted by A. Inspector, inspector, from 2026-11-01 until 2027-11-01, \
        instead of unmet.";
    assert_eq!(marks["suppressions"][0]["justification"], justification);
    assert_eq!(marks["partialFingerprints"]["cotterpinFinding/v1"], "us/marks.height");
    let pump = list(&run["results"]).iter().find(|one| one["properties"]["subject"] == "pump").expect("the pump");
    assert_eq!(pump["partialFingerprints"]["cotterpinFinding/v1"], "us/electrical.drop[pump]");
    let serial = &run["results"][0];
    let rule = &run["tool"]["driver"]["rules"][0];
    assert_eq!(
        rule["help"]["text"].as_str().map(|help| {
            help.starts_with("Read the plate and each paper.\nIf it is not so: Have the plate made again.\nCAUTION: ")
        }),
        Some(true)
    );
    assert_eq!(rule["defaultConfiguration"]["level"], "error");
    for part in [
        "Unmet: The serial number",
        "recorded: plate.serial = \"107\" (plate.toml:4)",
        "do: Have the plate made",
        "CAUTION: ",
    ] {
        assert!(shown(&serial["message"]).contains(part), "{part} is not in {serial}");
    }
}

/// The schema refuses what the standard forbids, so that passing it tells something.
#[test]
fn the_schema_finds_what_is_wrong() {
    let schema = Schema::new();
    let log: Value = serde_json::from_str(&sarif(&made::audit(), None)).unwrap();
    assert_eq!(schema.says(&log), Ok(()));
    let wrong: [(&str, Value); 6] = [
        ("/version", "2.0.0".into()),
        ("/runs/0/results/0/kind", "passed".into()),
        ("/runs/0/results/0/locations/0/physicalLocation/region/startLine", 0.into()),
        ("/runs/0/results/0/locations/0/physicalLocation/artifactLocation/uri", "a b.toml".into()),
        ("/runs/0/results/0/baselineState", "gone".into()),
        ("/runs/0/invocations/0/executionSuccessful", Value::Null),
    ];
    for (at, value) in wrong {
        let mut log = log.clone();
        let (parent, name) = at.rsplit_once('/').unwrap();
        log.pointer_mut(parent).unwrap()[name] = value;
        assert!(schema.says(&log).is_err(), "{at}");
    }
}

#[test]
fn awkward_texts_come_back_as_they_were() {
    let schema = Schema::new();
    with_dice(&[], |dice| {
        for _ in 0..60 {
            let audit = awkward::audit(dice);
            let log = schema.read(&sarif(&audit, None));
            holds(&log, &audit);
            for (result, finding) in list(&log["runs"][0]["results"]).iter().zip(&audit.findings) {
                let said = shown(&result["message"]);
                assert!(!said.contains("]("), "a link in {said}");
                let expression = finding.because[0].expression.replace(['\n', '\r'], " ").replace("](", "] (");
                assert!(said.contains(&expression), "{expression:?} is not in {said:?}");
            }
        }
    });
}

/// Names of findings are unique, and stay while lines move.
#[test]
fn fingerprints_follow_the_finding() {
    let fingerprints = |audit: &Audit| -> Vec<Value> {
        let log: Value = serde_json::from_str(&sarif(audit, None)).unwrap();
        list(&log["runs"][0]["results"]).iter().map(|result| result["partialFingerprints"].clone()).collect()
    };
    with_dice(&[], |dice| {
        for _ in 0..20 {
            let mut audit = awkward::audit(dice);
            let before = fingerprints(&audit);
            let unique: BTreeSet<String> = before.iter().map(Value::to_string).collect();
            assert_eq!(unique.len(), audit.findings.len());
            for value in audit.findings.iter_mut().flat_map(|finding| &mut finding.because[0].values) {
                value.place = value.place.take().map(|place| cotterpin_engine::source::Place { line: 900, ..place });
            }
            assert_eq!(fingerprints(&audit), before);
        }
    });
}

/// An audit, and one like it in which some findings are gone, some are other, and some are new.
fn two(dice: &mut Dice) -> (Audit, Audit) {
    let was = awkward::audit(dice);
    let mut now = was.clone();
    now.findings.retain(|_| !dice.once_in(4));
    for finding in &mut now.findings {
        if dice.once_in(3) {
            finding.verdict = Verdict::Met;
        }
    }
    let mut others = awkward::audit(dice).findings;
    others.iter_mut().for_each(|finding| finding.item.push_str("-new"));
    now.findings.extend(others);
    now.summary = made::summary(&now.findings);
    (was, now)
}

#[test]
fn every_finding_has_its_state_since_a_saved_audit() {
    let schema = Schema::new();
    let mut seen: BTreeSet<String> = BTreeSet::new();
    with_dice(&[], |dice| {
        for _ in 0..40 {
            let (was, now) = two(dice);
            let saved = Saved::of(&was);
            let told: Standing = standing(&saved, &now);
            let log = schema.read(&sarif(&now, Some(&told)));
            let changes = compare(&saved, &now);
            let results = list(&log["runs"][0]["results"]);
            let count = |state: &str| results.iter().filter(|result| result["baselineState"] == state).count();
            let classes =
                |words: &[&str]| changes.findings.iter().filter(|one| words.contains(&one.class.word())).count();
            assert_eq!(count("new"), classes(&["new"]));
            assert_eq!(count("absent"), classes(&["gone"]));
            assert_eq!(count("updated"), classes(&["worse", "better", "otherwise", "other-values"]));
            assert_eq!(count("unchanged"), changes.unchanged);
            // One by one, by their names.
            for result in results {
                let key = |one: &&cotterpin_engine::history::Change| {
                    one.item == text(&result["ruleId"])
                        && one.subject.as_deref() == result["properties"]["subject"].as_str()
                };
                let class = changes.findings.iter().find(key).map_or("unchanged", |change| change.class.word());
                let state = match class {
                    "new" => "new",
                    "gone" => "absent",
                    "unchanged" => "unchanged",
                    _ => "updated",
                };
                assert_eq!(result["baselineState"], state);
                seen.insert(state.to_owned());
            }
        }
    });
    assert_eq!(seen.len(), 4, "{seen:?}");
}

#[test]
fn an_audit_that_did_not_judge_everything_failed() {
    let schema = Schema::new();
    let mut audit = made::audit();
    audit.notices.push(cotterpin_engine::audit::Notice::FileNotRead("{0}.toml".into()));
    let log = schema.read(&sarif(&audit, None));
    let invocation = &log["runs"][0]["invocations"][0];
    assert_eq!((&invocation["exitCode"], &invocation["executionSuccessful"]), (&3.into(), &false.into()));
    let told = list(&invocation["toolExecutionNotifications"]).iter().find(|one| one["level"] == "error").unwrap();
    assert!(shown(&told["message"]).starts_with("`{0}.toml` was not read."), "{told}");
    audit.notices.clear();
    audit.findings.clear();
    audit.summary = made::summary(&[]);
    let log = schema.read(&sarif(&audit, None));
    assert_eq!(log["runs"][0]["results"], serde_json::json!([]));
}

/// The demo, by the command: the same findings as in the JSON report, and the status it ends with.
#[test]
fn the_demo_is_valid_and_whole() {
    let run = Run::new("sarif-demo");
    let demo = |args: &[&str]| run.step(&[&["audit", "--demo", "--on", "2026-11-25"], args].concat());
    let saved = run.step(&["audit", "--demo", "--on", "2026-10-31", "--save-to", "saved.json"]);
    assert!(saved.err.ends_with("saved.json.\n"), "{}", saved.err);
    let ran = demo(&["--format", "sarif", "--since", "saved.json"]);
    let log = Schema::new().read(&ran.out);
    assert_eq!(log["runs"][0]["invocations"][0]["exitCode"].as_i64(), Some(i64::from(ran.status)));
    let audit: Value = serde_json::from_str(&demo(&["--by", "continuing", "--format", "json"]).out).unwrap();
    let findings = list(&audit["findings"]);
    let (absent, results): (Vec<&Value>, Vec<&Value>) =
        list(&log["runs"][0]["results"]).iter().partition(|result| result["baselineState"] == "absent");
    assert_eq!(results.len(), findings.len());
    assert!(findings.len() > 300 && absent.len() < findings.len());
    for (result, finding) in results.iter().zip(findings) {
        for key in ["item", "subject", "verdict", "by", "zone", "system", "basis", "stops_the_visit"] {
            assert_eq!(result["properties"][key], finding[key], "{key} of {}", finding["item"]);
        }
        let missing: Vec<&Value> = list(&finding["missing"]).iter().map(|one| &one["fact"]).collect();
        assert_eq!(list(&result["properties"]["missing"]).iter().collect::<Vec<_>>(), missing);
    }
    // What stands there is what was recorded, column for column.
    let serial = results.iter().find(|result| text(&result["ruleId"]).ends_with("/identity.serial")).unwrap();
    let location = &serial["locations"][0]["physicalLocation"];
    let file = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("src/command/demo");
    let file = std::fs::read_to_string(file.join(text(&location["artifactLocation"]["uri"]))).unwrap();
    let at = |key: &str| usize::try_from(location["region"][key].as_u64().unwrap()).unwrap() - 1;
    let line = file.lines().nth(at("startLine")).unwrap();
    assert!(line.chars().skip(at("startColumn")).collect::<String>().starts_with("\"0107\""), "{line}");
}

/// One key of a finding in the JSON report is one in SARIF.
#[test]
fn json_and_sarif_have_the_same_findings() {
    with_dice(&[], |dice| {
        let audit = awkward::audit(dice);
        let report: Value = serde_json::from_str(&json(&audit)).unwrap();
        let log: Value = serde_json::from_str(&sarif(&audit, None)).unwrap();
        let key = |one: &Value| (one["item"].clone(), one["subject"].clone(), one["verdict"].clone());
        let found: Vec<_> = list(&report["findings"]).iter().map(key).collect();
        let results: Vec<_> = list(&log["runs"][0]["results"]).iter().map(|one| key(&one["properties"])).collect();
        assert_eq!(results, found);
    });
}
