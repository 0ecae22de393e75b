//! What is told of a finding comes out as the finding did: the parts shown,
//! put together as they are shown, give its verdict.

use crate::cli::Run;
use crate::golden::{ON, said};
use crate::outside::random_audits;
use serde_json::Value;
use std::path::Path;

/// Kleene's strong logic, with `None` for undecided.
type Truth = Option<bool>;

fn all(truths: &[Truth]) -> Truth {
    if truths.contains(&Some(false)) {
        Some(false)
    } else if truths.contains(&None) {
        None
    } else {
        Some(true)
    }
}

fn any(truths: &[Truth]) -> Truth {
    let denied: Vec<Truth> = truths.iter().map(|truth| truth.map(|truth| !truth)).collect();
    all(&denied).map(|truth| !truth)
}

fn list<'v>(value: &'v Value, key: &str) -> &'v [Value] {
    value[key].as_array().map_or(&[], Vec::as_slice)
}

/// The truth of a reason as it is shown, which is also what it says of itself.
fn shown(reason: &Value) -> Truth {
    let truths = |key: &str| list(reason, key).iter().map(shown).collect::<Vec<_>>();
    let said = match reason["held"].as_str().unwrap() {
        "true" => Some(true),
        "false" => Some(false),
        "undecided" => None,
        other => panic!("{other}"),
    };
    let made = match reason["join"].as_str() {
        None => said,
        Some("any") => any(&truths("parts")),
        Some("all") => all(&truths("parts")),
        Some(other) => panic!("{other}: {reason:#}"),
    };
    assert_eq!(reason["join"].is_null(), list(reason, "parts").is_empty(), "{reason:#}");
    assert_eq!(made, said, "{reason:#}");
    assert!(!reason["expression"].as_str().unwrap().is_empty(), "{reason:#}");
    said
}

/// The verdict that the parts shown come to, by the meaning of `when` and `need`.
fn verdict(finding: &Value) -> &'static str {
    let is_when = |reason: &&Value| reason["clause"] == "when";
    let because = list(finding, "because");
    let when: Vec<Truth> = because.iter().filter(is_when).map(shown).collect();
    let need = because.iter().filter(|reason| !is_when(reason)).map(shown);
    let added = list(finding, "added").iter().flat_map(|added| {
        let parts: Vec<Truth> = list(added, "because").iter().map(shown).collect();
        let held = added["held"].as_str().unwrap();
        assert!(parts.is_empty() || all(&parts) == shown(&serde_json::json!({"held": held, "expression": "added"})));
        parts
    });
    let need: Vec<Truth> = need.chain(added).collect();
    let lacks_evidence = list(finding, "missing").iter().any(|missing| missing["kind"] == "evidence");
    match (all(&when), all(&need)) {
        (Some(false), _) => "not-applicable",
        (_, Some(true)) if lacks_evidence => "not-shown",
        (_, Some(true)) => "met",
        (Some(true), Some(false)) => "unmet",
        _ => "not-shown",
    }
}

/// The verdict without any leave.
fn bare(finding: &Value) -> &str {
    let instead =
        [&finding["concession"], &finding["set_aside"][0]].into_iter().find_map(|one| one["instead_of"].as_str());
    instead.unwrap_or_else(|| finding["verdict"].as_str().unwrap())
}

/// Looks at every finding that was judged; how many those are.
fn check(audit: &Value) -> usize {
    let mut looked_at = 0;
    for finding in list(audit, "findings") {
        // Without records there is nothing to tell; what was put off is judged by another day.
        if list(finding, "because").is_empty() || !finding["deferred"].is_null() {
            continue;
        }
        looked_at += 1;
        assert_eq!(verdict(finding), bare(finding), "{finding:#}");
    }
    looked_at
}

#[test]
fn what_is_told_of_the_demo_and_all_projects_gives_the_verdict() {
    let run = |name: &str, args: &[&str]| -> Value {
        let out = said(Run::new(&format!("explained-{name}")), args).out;
        serde_json::from_str(&out).unwrap()
    };
    let mut looked_at = check(&run("demo", &["audit", "--demo", "--on", ON, "--by", "continuing", "--format", "json"]));
    let projects = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/packs/projects");
    for folder in std::fs::read_dir(projects).unwrap() {
        let folder = folder.unwrap();
        let (name, path) = (folder.file_name(), folder.path());
        let args = ["audit", path.to_str().unwrap(), "--on", ON, "--by", "continuing", "--format", "json"];
        looked_at += check(&run(name.to_str().unwrap(), &args));
    }
    println!("{looked_at} findings looked at");
    assert!(looked_at > 2000, "{looked_at}");
}

#[test]
fn what_is_told_of_random_needs_gives_the_verdict() {
    let mut looked_at = 0;
    random_audits(|audit| {
        looked_at += check(&serde_json::from_str(&cotterpin_engine::report::json(audit)).unwrap());
    });
    println!("{looked_at} findings looked at");
    assert!(looked_at > 10_000, "{looked_at}");
}
