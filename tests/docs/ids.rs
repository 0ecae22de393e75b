//! Ids are types, and nothing stands for "none" but `None`: told from the text
//! of the sources, as far as that can tell.
//!
//! A file is looked at if it speaks of conditions, numbers, slots or rows by
//! their ids. There a name with a plain number for its type is a count, a
//! length or a set of bits, and is one of those listed here.

use std::path::{Path, PathBuf};

/// What is counted, measured or set bit by bit in those files.
const COUNTS: [&str; 70] = [
    "snag",
    "undid",
    "not_all",
    "each",
    "once",
    "nested",
    "also",
    "workers",
    "without_time",
    "line",
    "time_of",
    "entries",
    "said",
    "now",
    "index",
    "len",
    "depth",
    "people",
    "count",
    "value",
    "steps",
    "cost",
    "bits",
    "place",
    "role",
    "from",
    "end",
    "needs",
    "least",
    "told",
    "pack",
    "start",
    "began",
    "by",
    "others",
    "minutes",
    "days",
    "time",
    "a_day",
    "width",
    "number",
    "records",
    "exact",
    "prebuilt_packs",
    "ready",
    "blocks",
    "all_jobs",
    "all_minutes",
    "all_days",
    "unknown_parts",
    "in_circles",
    "minutes_there",
    "items",
    "amended",
    "set_aside",
    "facts",
    "asks",
    "examples",
    "read",
    "quoted",
    "memory",
    "common_practice",
    "law",
    "limitations",
    "advice",
    "handbook",
    "association",
    "kit",
    "practice",
    "fields",
];

/// Places of what no id stands for: of a finding's concession among those recorded, of a row as it is read.
const PLACES: [&str; 3] = ["at", "concession", "deferral"];

/// Functions that give a count or such a place.
const GIVEN: [&str; 18] = [
    "too_long",
    "how_many",
    "records_wanted",
    "records",
    "exact_comparisons",
    "severity",
    "of_number",
    "of_condition",
    "of_child",
    "number_cost",
    "condition_cost",
    "concession",
    "recorded",
    "len",
    "minutes_of",
    "minutes_said",
    "number",
    "total",
];

/// Names that once stood for "none", and ways to make up such a number.
const SENTINELS: [&str; 9] = [
    "NO_NODE",
    "UNKNOWN_TEXT",
    "ABSENT_TEXT",
    "ABSENT_WORD",
    "EVERYTHING: &str",
    "u32::MAX",
    "usize::MAX",
    "u8::MAX",
    "u64::MAX",
];

/// What makes a file one that speaks of ids.
const IDS: [&str; 19] = [
    "ConditionId",
    "NumberId",
    "SlotId",
    "ColumnId",
    "RowId",
    "PackId",
    "DocumentId",
    "HoldPointId",
    "ZoneId",
    "ItemId",
    "FactId",
    "ListId",
    "SystemId",
    "FieldId",
    "LoggedId",
    "AboutId",
    "JobId",
    "StepId",
    "IdOf",
];

const PLAIN: [&str; 5] = ["u8", "u16", "u32", "u64", "usize"];

fn sources(folder: &Path, into: &mut Vec<PathBuf>) {
    let mut entries: Vec<PathBuf> = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    entries.sort();
    for path in entries {
        if path.is_dir() {
            sources(&path, into);
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            into.push(path);
        }
    }
}

/// The lines of a source without its comments.
fn code(text: &str) -> impl Iterator<Item = (usize, &str)> {
    let lines = (1..).zip(text.lines()).filter(|(_, line)| !line.trim_start().starts_with("//"));
    lines.map(|(n, line)| (n, line.split(" // ").next().unwrap_or(line)))
}

/// The names of a line that have a plain number, or some of them, for their type.
fn plain_names(line: &str) -> Vec<&str> {
    let mut found = Vec::new();
    for (at, _) in line.match_indices(": ") {
        let (before, after) = (&line[..at], &line[at + 2..]);
        let kind = after.trim_start_matches("&mut ").trim_start_matches('&').trim_start_matches("'static ");
        let kind = ["Option<", "Vec<", "["].iter().find_map(|of| kind.strip_prefix(of)).unwrap_or(kind);
        let word = kind.split(|c: char| !c.is_alphanumeric()).next().unwrap_or("");
        // Not a field given a value, as in `len: u32::try_from(..)`, nor a path.
        let a_type = PLAIN.contains(&word) && !kind[word.len()..].starts_with("::");
        if a_type {
            found.push(before.rsplit(|c: char| !c.is_alphanumeric() && c != '_').next().unwrap_or(""));
        }
    }
    found
}

/// The name of a function that gives a plain number, where its line says so.
fn given(line: &str) -> Option<&str> {
    let (before, kind) = line.split_once(") -> ")?;
    let kind = kind.trim_start_matches("Option<").split(|c: char| !c.is_alphanumeric()).next()?;
    let name = before.split_once("fn ")?.1.split('(').next()?;
    PLAIN.contains(&kind).then_some(name)
}

/// Constants are limits.
fn is_of_constant(c: char) -> bool {
    c.is_uppercase() || c == '_'
}

#[test]
fn no_id_is_a_bare_number_and_none_is_made_up() {
    let mut all = Vec::new();
    sources(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src"), &mut all);
    let (mut looked_at, mut wrong) = (0, Vec::new());
    for path in all {
        let text = std::fs::read_to_string(&path).unwrap();
        if !IDS.iter().any(|id| text.contains(id)) {
            continue;
        }
        looked_at += 1;
        // Ids become numbers in one file.
        let makes_them = path.ends_with("ids.rs");
        for (n, line) in code(&text) {
            let names = plain_names(line);
            let known =
                |name: &&str| COUNTS.contains(name) || PLACES.contains(name) || name.chars().all(is_of_constant);
            let given = given(line).filter(|name| !GIVEN.contains(name));
            let bare = names.into_iter().chain(given).filter(|name| !known(name));
            let sentinels = SENTINELS.iter().copied().filter(|name| line.contains(name));
            if makes_them {
                continue;
            }
            wrong.extend(bare.chain(sentinels).map(|what| format!("{}:{n}: {what}", path.display())));
        }
    }
    assert!(looked_at > 20, "only {looked_at} files speak of ids");
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn what_the_lint_finds() {
    assert_eq!(plain_names("    fn sign(&self, node: u32) -> Sign {"), ["node"]);
    assert_eq!(plain_names("    pub when: Option<u32>,"), ["when"]);
    assert_eq!(plain_names("fn of(nodes: &[u32], frame: &mut Frame, len: usize)"), ["nodes", "len"]);
    assert_eq!(plain_names("let column = |field: u32| rows"), ["field"]);
    assert_eq!(given("    fn node(&self, of: Number) -> Option<u32> {"), Some("node"));
    assert_eq!(given("    fn node(&self, of: Number) -> NumberId {"), None);
    assert!(plain_names("ListValues { len: u32::try_from(n).ok() }, node: ConditionId").is_empty());
}
