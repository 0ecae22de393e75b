//! Audits as data: the demo's whole, as the command writes it, and those of the
//! invented projects of each country with one line for each finding.

use super::{ON, Texts, said};
use crate::cli::Run;
use serde_json::Value;
use std::fmt::Write;
use std::path::{Path, PathBuf};

const DEMO: &str = "audits/demo.json";

/// What an audit copies from its packs as it stands there; the demo's audit holds these.
const COPIED: [(&str, &[&str]); 5] = [
    ("findings", &["title", "check", "remedy", "caution"]),
    // The demo's audit has sentences enough.
    ("says", &["title", "because", "worked_out", "missing", "sources", "added"]),
    ("sources", &["title", "number", "edition"]),
    ("packs", &["title", "authority", "scope", "not_covered", "uses", "digest"]),
    ("questions", &["ask", "example"]),
];

pub(super) fn texts(runs: &str) -> Texts {
    let run = |name: &str| Run::new(&format!("golden-{runs}-{name}"));
    let demo = said(run("demo"), &["audit", "--demo", "--on", ON, "--by", "continuing", "--format", "json"]);
    let mut texts = Texts::from([(DEMO.to_owned(), demo.out)]);
    for (name, folder) in projects() {
        let folder = folder.to_str().unwrap().to_owned();
        let ran = said(run(&name), &["audit", &folder, "--on", ON, "--by", "continuing", "--format", "json"]);
        texts.insert(path(&name), by_finding(&ran.out));
    }
    texts
}

pub(super) fn paths() -> Vec<String> {
    projects().iter().map(|(name, _)| path(name)).chain([DEMO.to_owned()]).collect()
}

fn path(name: &str) -> String {
    format!("audits/{name}.jsonl")
}

/// The invented projects by name.
fn projects() -> Vec<(String, PathBuf)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/packs/projects");
    let folders = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let mut found: Vec<_> =
        folders.map(|path| (path.file_name().unwrap().to_str().unwrap().to_owned(), path)).collect();
    found.sort();
    assert!(found.len() >= 10, "{found:?}");
    found
}

/// Each finding, pack, question and notice on a line of its own after the name of its list.
fn by_finding(json: &str) -> String {
    let audit: Value = serde_json::from_str(json).unwrap();
    let mut text = String::new();
    for (key, value) in audit.as_object().unwrap() {
        // The words of the packs for their hold points, zones and systems.
        if key == "titles" {
            continue;
        }
        let lines = value.as_array().cloned().unwrap_or_else(|| vec![value.clone()]);
        for mut line in lines {
            leave_out(key, &mut line);
            writeln!(text, "{{\"{key}\":{line}}}").unwrap();
        }
    }
    text
}

/// Takes out what is copied, of a value under that key and of all below it.
fn leave_out(key: &str, value: &mut Value) {
    match value {
        Value::Object(fields) => {
            let copied = COPIED.iter().find(|(of, _)| *of == key).map_or(&[][..], |(_, fields)| fields);
            fields.retain(|field, _| !copied.contains(&field.as_str()));
            fields.iter_mut().for_each(|(field, value)| leave_out(field, value));
        }
        Value::Array(values) => values.iter_mut().for_each(|value| leave_out(key, value)),
        _ => {}
    }
}
