//! No sentence decides. The command is built once more from sources in which
//! the letters of every sentence of `src/report` are others; verdicts, causes,
//! plans, saved audits and what changed since one are the same.

use serde_json::Value;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::{env, fs};

const DAY: &str = "2026-11-28";
const LATER: &str = "2027-08-01";

/// The letter thirteen places on, of the same case.
fn other(letter: char) -> char {
    let turned = |letter: char, first: u8| char::from((letter as u8 - first + 13) % 26 + first);
    match letter {
        'a'..='z' => turned(letter, b'a'),
        'A'..='Z' => turned(letter, b'A'),
        _ => letter,
    }
}

/// A literal as it stands between its quotes, with other letters; what is put in and what is escaped stay.
fn swapped(literal: &str) -> String {
    let mut letters = literal.chars();
    let mut out = String::new();
    while let Some(letter) = letters.next() {
        let kept_to = match letter {
            '{' => Some('}'),
            '\\' => letters.clone().next().map(|next| if next == 'u' { '}' } else { next }),
            _ => None,
        };
        out.push(other(letter));
        if let Some(end) = kept_to {
            for kept in letters.by_ref() {
                out.push(kept);
                if kept == end {
                    break;
                }
            }
        }
    }
    out
}

/// A source with its sentences swapped, and how many there were. A sentence is
/// a text with a blank in it that is no attribute's.
fn source(text: &str) -> (String, usize) {
    let (mut out, mut count) = (String::new(), 0);
    let mut rest = text;
    let push = |out: &mut String, rest: &mut &str, upto: usize| {
        out.push_str(&rest[..upto]);
        *rest = &rest[upto..];
    };
    while let Some(at) = rest.find(['"', '\'', '/', '#']) {
        push(&mut out, &mut rest, at);
        if rest.starts_with("//") {
            let end = rest.find('\n').unwrap_or(rest.len());
            push(&mut out, &mut rest, end);
        } else if rest.starts_with("#[") {
            let end = rest.find("]\n").unwrap_or(rest.len());
            push(&mut out, &mut rest, end);
        } else if rest.starts_with("'\\") || rest.chars().nth(2) == Some('\'') {
            // A letter, which may be a quote.
            let end = 2 + rest[2..].find('\'').unwrap() + 1;
            push(&mut out, &mut rest, end);
        } else if let Some(literal) = rest.strip_prefix('"') {
            let mut escaped = false;
            let end = literal.find(|letter| {
                let ends = letter == '"' && !escaped;
                escaped = letter == '\\' && !escaped;
                ends
            });
            let literal = &literal[..end.expect("a literal ends")];
            // Of a text of several lines, or of one that is only to be looked for, too.
            let is_sentence = literal.trim().contains(' ');
            count += usize::from(is_sentence);
            out.push('"');
            out.push_str(&if is_sentence { swapped(literal) } else { literal.to_owned() });
            out.push('"');
            rest = &rest[literal.len() + 2..];
        } else {
            push(&mut out, &mut rest, 1);
        }
    }
    out.push_str(rest);
    (out, count)
}

fn files(folder: &Path, into: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()) {
        if entry.is_dir() { files(&entry, into) } else { into.push(entry) }
    }
}

/// The workspace in a folder of its own, without the language, which stays where it is; and how many sentences it has.
fn copy(to: &Path) -> usize {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut all = Vec::new();
    files(&root.join("src"), &mut all);
    files(&root.join("rules"), &mut all);
    files(&root.join("tests/embed"), &mut all);
    let lang = root.join("src/lang").display().to_string().replace('\\', "/");
    let mut count = 0;
    for path in all.iter().filter(|path| !path.starts_with(root.join("src/lang"))) {
        let target = to.join(path.strip_prefix(root).unwrap());
        fs::create_dir_all(target.parent().unwrap()).unwrap();
        let mut bytes = fs::read(path).unwrap();
        if path.starts_with(root.join("src/engine/report")) {
            let (text, sentences) = source(std::str::from_utf8(&bytes).unwrap());
            count += sentences;
            bytes = text.into_bytes();
        }
        if path.file_name().is_some_and(|name| name == "Cargo.toml") {
            let text = String::from_utf8(bytes).unwrap();
            bytes = text.replace(r#"path = "../lang""#, &format!("path = {lang:?}")).into_bytes();
        }
        fs::write(target, bytes).unwrap();
    }
    fs::copy(root.join("Cargo.lock"), to.join("Cargo.lock")).unwrap();
    let manifest = fs::read_to_string(root.join("Cargo.toml")).unwrap();
    let (before, tests) = manifest.split_once("[[test]]").unwrap();
    let after = &tests[tests.find("[features]").unwrap()..];
    let manifest = format!("{before}{after}")
        .replace(r#"members = ["src/lang", "src/engine", "src/packs"]"#, r#"members = ["src/engine", "src/packs"]"#)
        .replace(r#"default-members = [".", "src/lang", "src/engine", "src/packs"]"#, "")
        .replace(r#"path = "src/lang""#, &format!("path = {lang:?}"))
        .replace("[[bin]]\nname = \"cotterpin\"", "[[bin]]\nname = \"cotterpin-swapped\"")
        .replace("default-run = \"cotterpin\"\n", "")
        // It runs for a second, so it is built in a hurry.
        .replace("[profile.dev]\n", "[profile.dev.package]\ncotterpin = { opt-level = 0 }\ncotterpin-engine = { opt-level = 0 }\n\n[profile.dev]\n");
    fs::write(to.join("Cargo.toml"), manifest).unwrap();
    count
}

/// Builds it beside what the tests were built from, so that the crates of others are not built again.
fn build(folder: &Path) -> PathBuf {
    let target = Path::new(env!("CARGO_TARGET_TMPDIR")).parent().unwrap();
    let mut cargo = Command::new(env!("CARGO"));
    cargo.current_dir(folder).args(["build", "--quiet", "--offline", "--bin", "cotterpin-swapped"]);
    let out = cargo.env("CARGO_TARGET_DIR", target).output().unwrap();
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    target.join("debug").join(format!("cotterpin-swapped{}", env::consts::EXE_SUFFIX))
}

/// What a command prints and its status.
fn run(binary: &Path, folder: &Path, args: &[&str]) -> (String, Option<i32>) {
    let out = Command::new(binary).current_dir(folder).args(args).output().unwrap();
    (String::from_utf8(out.stdout).unwrap(), out.status.code())
}

/// Alike in everything but sentences: texts that have a blank in them.
fn alike(one: &Value, two: &Value, path: &str, sentences: &mut usize) {
    match (one, two) {
        (Value::Array(a), Value::Array(b)) => {
            assert_eq!(a.len(), b.len(), "{path}");
            for (n, (a, b)) in a.iter().zip(b).enumerate() {
                alike(a, b, &format!("{path}[{n}]"), sentences);
            }
        }
        (Value::Object(a), Value::Object(b)) => {
            assert!(a.keys().eq(b.keys()), "{path}: {one} {two}");
            for (key, a) in a {
                alike(a, &b[key], &format!("{path}.{key}"), sentences);
            }
        }
        (Value::String(a), Value::String(b)) if a != b => {
            assert!(a.contains(' '), "{path}: {a} {b}");
            *sentences += 1;
        }
        _ => assert_eq!(one, two, "{path}"),
    }
}

#[test]
fn with_every_sentence_swapped_the_same_is_decided() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("swapped");
    fs::remove_dir_all(&folder).ok();
    let sentences = copy(&folder);
    assert!(sentences > 400, "only {sentences} sentences were found");
    let swapped = build(&folder);
    let plain = Path::new(env!("CARGO_BIN_EXE_cotterpin"));
    let demo = folder.join("src/command/demo");

    // The test sees a difference where there is one.
    let (text, _) = run(plain, &demo, &["audit", ".", "--on", DAY, "--full"]);
    let (other_text, _) = run(&swapped, &demo, &["audit", ".", "--on", DAY, "--full"]);
    let differ = text.lines().zip(other_text.lines()).filter(|(a, b)| a != b).count();
    assert!(differ > 400, "only {differ} lines are others");

    let mut told = 0;
    let mut compare = |args: &[&str]| {
        let ((one, status), (two, other_status)) = (run(plain, &demo, args), run(&swapped, &demo, args));
        assert_eq!(status, other_status, "{args:?}");
        let read = |text: &str| serde_json::from_str::<Value>(text).unwrap_or_else(|_| panic!("{args:?}: {text}"));
        alike(&read(&one), &read(&two), "", &mut told);
    };
    for day in [DAY, LATER] {
        compare(&["audit", ".", "--on", day, "--format", "json"]);
        compare(&["next", ".", "--on", day, "--format", "json"]);
        compare(&["next", ".", "--on", day, "--close-up", "--format", "json"]);
    }

    // What one of them saved is what the other saves, and either compares with it alike.
    let save = |binary: &Path| {
        run(binary, &demo, &["audit", ".", "--on", DAY, "--save-to", "saved.json", "--replace"]);
        fs::read_to_string(demo.join("saved.json")).expect("an audit was saved")
    };
    assert_eq!(save(plain), save(&swapped));
    for day in [DAY, LATER] {
        compare(&["since", "saved.json", ".", "--on", day, "--format", "json"]);
    }
    assert!(told > 500, "only {told} sentences were told in JSON");
}
