//! Every sample of README.md and DEVELOPERS.md, and what the builder writes in grammar/README.md, run. (The Rust sample is a documentation test of the library.)

mod ids;

use crate::fixtures::folder::Run;
use crate::fixtures::packs::{built, load};
use crate::fixtures::projects::{file, read_project};
use cotterpin_engine::lint::run_examples;
use cotterpin_engine::report::{SCHEMAS, Schema};
use cotterpin_packs::{PackText, built_in, built_in_names};
use std::fs;
use std::path::Path;

const README: &str = include_str!("../../README.md");
const PAGE: &str = include_str!("../../grammar/README.md");
const DEVELOPERS: &str = include_str!("../../DEVELOPERS.md");
const CI: &str = include_str!("../../.ci/run");

/// The fenced blocks of a document whose first line is as given.
fn blocks<'a>(document: &'a str, head: &str) -> Vec<&'a str> {
    let fence = format!("```{head}\n");
    document.split(fence.as_str()).skip(1).filter_map(|rest| rest.split("```").next()).collect()
}

fn only<'a>(document: &'a str, head: &str) -> &'a str {
    let found = blocks(document, head);
    assert_eq!(found.len(), 1, "one block ```{head}");
    found[0]
}

#[test]
fn readme_rule_checks_and_its_examples_come_out() {
    let mut packs = built_in(&["common"]).expect("common is built in");
    packs.push(PackText {
        name: "latch".into(),
        manifest: only(README, "toml pack").into(),
        files: vec![("latch.checklist".into(), only(README, "checklist").into())],
    });
    let rules = load(&packs);
    let results = run_examples(&rules);
    let latch: Vec<_> = results.iter().filter(|result| result.item.starts_with("latch/")).collect();
    assert_eq!(latch.len(), 3);
    assert!(latch.iter().all(|result| result.got == result.expected));
}

/// The README's project.
fn shed(name: &str) -> Run {
    Run::new(name)
        .file("packs/latch/pack.toml", only(README, "toml pack"))
        .file("packs/latch/latch.checklist", only(README, "checklist"))
        .file("project.toml", only(README, "toml project"))
        .file("canopy.toml", only(README, "toml canopy"))
}

#[test]
fn readme_report_is_what_the_command_says() {
    let said = shed("readme-shed").step(&["why", "cabin.second-catch", ".", "--on", "2026-11-25"]);
    assert_eq!(said.out, only(README, "text"));
}

#[test]
fn readme_comparison_is_what_the_command_says() {
    let shed = shed("readme-since");
    shed.step(&["audit", "--save", "--on", "2026-11-25"]);
    let said = shed.file("canopy.toml", only(PAGE, "toml later")).step(&["since", "2026-11-30", "--on", "2026-12-02"]);
    assert_eq!(said.out, only(PAGE, "text since"));
    assert_eq!(said.status, 0);
}

#[test]
fn readme_jobs_are_what_the_command_says() {
    let shed = shed("readme-next").file("jobs.toml", only(PAGE, "toml jobs"));
    let said = shed.step(&["next", ".", "--time", "1h", "--on", "2026-11-25"]);
    assert_eq!(said.out, only(PAGE, "text next"));
}

/// The value as it is for programs, and the table of schemas.
#[test]
fn page_says_what_is_for_programs() {
    let said = shed("page-programs").step(&["why", "cabin.second-catch", "--on", "2026-11-25", "--format", "json"]);
    let said: serde_json::Value = serde_json::from_str(&said.out).expect("JSON");
    let shown: serde_json::Value = serde_json::from_str(only(PAGE, "json seen")).expect("JSON");
    assert_eq!(said["findings"][0]["because"][0]["values"][0], shown);
    let rows: Vec<String> = SCHEMAS.iter().map(|one| format!("| `{}` | {} |", one.full_name(), about(one))).collect();
    let table: Vec<&str> = PAGE.lines().filter(|line| line.starts_with("| `cotterpin-")).collect();
    assert_eq!(table, rows);
}

fn about(schema: &Schema) -> String {
    let (command, more) =
        schema.about.split_once(" of a ").map_or((schema.about, None), |(one, more)| (one, Some(more)));
    let more = more.map_or_else(String::new, |more| format!(" of a {more}"));
    if command.starts_with("cotterpin ") { format!("`{command}`{more}") } else { schema.about.to_owned() }
}

#[test]
fn readme_confirmation_is_read() {
    let project = "name = 'Shed 5'\ncountry = 'us'\npacks = ['workmanship']\n";
    let shed = Run::new("readme-confirmed").file("project.toml", project);
    let shed = shed.file("words.toml", only(PAGE, "toml confirmed"));
    let said = shed.step(&["why", "controls.free", ".", "--on", "2026-11-25"]).out;
    assert!(said.contains("MET on 2026-11-25"), "{said}");
}

/// The page's project, evidence and leave: every key is one that the record knows.
#[test]
fn page_project_and_leave_are_read() {
    let said = Run::new("page-project")
        .file("project.toml", only(PAGE, "toml whole"))
        .file("fuel.toml", only(PAGE, "toml evidence"))
        .file("leave.toml", only(PAGE, "toml leave"))
        .file("packs/mine/pack.toml", only(README, "toml pack").replace("latch", "mine"))
        .file("packs/mine/mine.checklist", only(README, "checklist"))
        .step(&["why", "transparencies.holes", ".", "--on", "2026-11-25"]);
    assert_eq!(said.status, 0, "{}", said.err);
    assert!(said.out.contains("CONCEDED on 2026-11-25"), "{}", said.out);
}

/// The block of a list's item, without its indentation.
fn inner(head: &str) -> String {
    let indented = README.split(&format!("   ```text {head}\n")).nth(1).and_then(|rest| rest.split("   ```").next());
    let lines = indented.expect("the sample").lines();
    lines.map(|line| format!("{}\n", line.strip_prefix("   ").unwrap_or(line))).collect()
}

/// The words of a line as a shell would split it.
fn shell(line: &str) -> Vec<String> {
    let parts = line.split('"').enumerate();
    parts
        .flat_map(|(n, part)| match n % 2 {
            0 => part.split_whitespace().map(str::to_owned).collect(),
            _ => vec![part.to_owned()],
        })
        .collect()
}

/// The five-minute start, step by step in one folder.
#[test]
fn readme_five_minutes_go_as_shown() {
    let place = Run::new("readme-begin");
    let shed = place.inside("nosuch");
    let line = |line: &str, folder: &Run, input: &str| {
        let words = shell(line);
        assert_eq!(words[0], "cotterpin");
        let ran = folder.answer(&words[1..], input);
        (ran.status, ran.out)
    };
    let shows = |said: &str, head: &str| {
        let shown = inner(head);
        assert!(said.contains(shown.trim_end()), "{said}\n\nis not what the README shows:\n\n{shown}");
    };
    for command in inner("begin").lines() {
        assert_eq!(line(command, &place, "").0, 0, "{command}");
    }
    let answers = inner("answers");
    assert_eq!(answers.lines().count(), 10);
    let (status, said) = line("cotterpin ask --questions 10 --on 2026-11-21", &shed, &answers);
    assert_eq!(status, 0, "{said}");
    shows(&said, "ask");
    for command in inner("log").lines() {
        assert_eq!(line(command, &shed, "").0, 0, "{command}");
    }
    let log = shed.text("log/2026-11.toml");
    assert_eq!(log, only(PAGE, "toml log"));
    let (status, said) = line("cotterpin audit --on 2026-11-21", &shed, "");
    assert_eq!(status, 1);
    shows(&said, "audit");
    let (status, said) = line("cotterpin next --time 1h --on 2026-11-21", &shed, "");
    assert_eq!(status, 0);
    shows(&said, "first");
    assert_eq!(line("cotterpin audit --save --on 2026-11-21", &shed, "").0, 1);
    assert_eq!(line("cotterpin since 2026-11-21 --on 2026-11-28", &shed, "").0, 0);
    let people: toml::Table = only(PAGE, "toml people").parse().expect("TOML");
    let project = shed.text("project.toml");
    let begun: toml::Table = project.parse().expect("TOML");
    assert_eq!(begun["people"]["rosa"], people["people"]["rosa"]);
}

/// The words that lists are whole, as the page shows them, are read.
#[test]
fn the_page_says_how_a_list_is_said_to_be_whole() {
    let rules = built(&["workmanship"]);
    let project = format!("name = \"Shed\"\npacks = [\"workmanship\"]\n{}", only(PAGE, "toml people"));
    let files = [file("whole.toml", only(PAGE, "toml words")), file("log/2026-11.toml", only(PAGE, "toml log"))];
    let read = read_project(&rules, &project, &files, &[]).clean();
    assert!(read.record.whole.len() == 2 && read.record.whole_log.is_some());
}

/// The table of what the packs rest on, counted anew.
#[test]
fn readme_counts_are_what_the_packs_hold() {
    let rules = built(&built_in_names());
    let rows = cotterpin_engine::report::pack_rows(&rules);
    let mut told = 0;
    for row in rows.iter().filter(|row| row.name.len() == 2 || row.name == "international") {
        let (basis, rests) = (row.by_basis, row.rests_on);
        let other = row.items - basis.law - basis.advice;
        let counts = [
            row.items,
            basis.law,
            basis.advice,
            other,
            rests.read,
            rests.quoted,
            rests.memory,
            rests.common_practice,
            row.examples,
            row.amended,
        ];
        assert_eq!(counts[4..8].iter().sum::<usize>(), row.items, "{}", row.name);
        let cells: Vec<String> = counts.iter().map(ToString::to_string).collect();
        let line = format!("| `{}` | {} |\n", row.name, cells.join(" | "));
        assert!(README.contains(&line), "README's table is to say:\n{line}");
        told += 1;
    }
    assert_eq!(told, 6, "five countries and what they share");
    assert!(rows.iter().filter(|row| row.name.len() == 2).all(|row| row.amended > 0));
}

#[test]
fn documents_name_the_commands_that_are_run() {
    assert_eq!(blocks(README, "console"), ["cargo run --release -- audit --demo\n", "cargo test\n"]);
    assert!(CI.contains("cargo test"), "continuous integration runs the same tests");
    assert!(only(DEVELOPERS, "console").contains("cargo test"));
    for command in ["begin", "ask", "log", "audit", "why", "since", "next", "questions", "packs", "try"] {
        assert!(README.contains(&format!("`cotterpin {command}")), "README tells of {command}");
    }
}

#[test]
fn developers_guide_names_files_that_are_there() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut seen = 0;
    for word in DEVELOPERS.split('`').skip(1).step_by(2) {
        let is_path = word.contains('/') && word.contains('.') && !word.contains(' ');
        if is_path {
            let there = [root.join(word), root.join("src").join(word), root.join("src/engine").join(word)]
                .iter()
                .any(|path| path.exists());
            assert!(there, "{word}");
            seen += 1;
        }
    }
    assert!(seen > 10, "{seen} paths named");
}

/// What is promised of a stranger's pack or project is held by tests that are there.
#[test]
fn each_promise_names_tests_that_are_there() {
    let (_, promises) = DEVELOPERS.split_once("## What is promised to whoever opens").expect("the section");
    let (promises, _) = promises.split_once("\n## ").expect("another section");
    let named: Vec<&str> = promises.split('`').skip(1).step_by(2).filter(|word| word.contains("::")).collect();
    assert!(named.len() > 20 && promises.lines().filter(|line| line.starts_with("| ")).count() > 8, "{named:?}");
    for test in named {
        let (file, name) = test.rsplit_once("::").expect("a path");
        let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests").join(file.replace("::", "/"));
        let text = fs::read_to_string(file.with_extension("rs")).or_else(|_| fs::read_to_string(file.join("mod.rs")));
        let text = text.unwrap_or_else(|problem| panic!("{test}: {problem}"));
        assert!(text.contains(&format!("fn {name}(")), "there is no test {test}");
    }
}
