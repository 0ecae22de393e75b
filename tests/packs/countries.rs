//! Each country's invented projects, early and ready for the visit, audited by the command; and a
//! project in which nothing is recorded.

use crate::fixtures::folder::Run;
use cotterpin_engine::audit::Audit;
use std::path::{Path, PathBuf};

const COUNTRIES: [&str; 5] = ["au", "ca", "nz", "uk", "us"];

/// Unmet, not shown, met, not applicable.
type Counts = [u64; 4];

fn audited(run: &Run, folder: &Path) -> Counts {
    let folder = folder.to_str().expect("UTF-8");
    let ran = run.step(&["audit", folder, "--on", "2026-11-25", "--by", "continuing", "--format", "json"]);
    let out: serde_json::Value = serde_json::from_str(&ran.out).unwrap_or_else(|_| panic!("{folder}: {}", ran.err));
    assert!(ran.err.is_empty(), "{folder}: {}", ran.err);
    ["unmet", "not_shown", "met", "not_applicable"].map(|word| out["summary"][word].as_u64().expect("a count"))
}

fn invented(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/packs/projects").join(name)
}

/// `# Seen on 2026-11-25: 6 unmet, 146 not shown, 41 met, 39 not applicable.`
fn noted(folder: &Path) -> Counts {
    let text = std::fs::read_to_string(folder.join("project.toml")).expect("a project");
    let line = text.lines().find_map(|line| line.strip_prefix("# Seen on 2026-11-25: ")).expect("the counts");
    let numbers: Vec<u64> = line.split(|letter: char| !letter.is_ascii_digit()).flat_map(str::parse).collect();
    numbers.try_into().expect("four counts")
}

/// The counts stand in each project for its reader; a change of the packs changes them.
#[test]
fn invented_projects_come_out_as_noted() {
    let (run, mut wrong) = (Run::new("invented"), Vec::new());
    for country in COUNTRIES {
        let (early, ready) = (invented(&format!("{country}-early")), invented(&format!("{country}-ready")));
        let (begun, done) = (audited(&run, &early), audited(&run, &ready));
        for (folder, got) in [(&early, begun), (&ready, done)] {
            if got != noted(folder) {
                let [unmet, open, met, idle] = got;
                let name = folder.file_name().unwrap_or_default().display();
                wrong.push(format!("{name}: {unmet} unmet, {open} not shown, {met} met, {idle} not applicable"));
            }
        }
        // The faults left in on purpose are found, and being ready shows.
        assert!(begun[0] > 0 && done[0] > 0, "{country}: {begun:?} {done:?}");
        assert!(done[2] > begun[2], "{country}: {begun:?} {done:?}");
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn where_nothing_is_recorded_nothing_is_claimed() {
    for country in COUNTRIES {
        let header = format!("name = \"Nothing yet\"\ncountry = \"{country}\"\npacks = [\"workmanship\"]\n");
        let run = Run::new(&format!("nothing-{country}")).file("project.toml", header);
        let [unmet, open, met, idle] = audited(&run, run.folder());
        assert_eq!((unmet, met), (0, 0), "{country}");
        // What is not in force on the day needs no fact to be out of the way.
        assert!(idle < 10, "{country}: {idle}");
        assert!(open > 150, "{country}: {open}");
        let questions = run.step(&["questions"]).out;
        let questions = questions.lines().filter(|line| line.starts_with("# ") && line.contains(" =")).count();
        assert!(questions > 150, "{country}: {questions}");
    }
}

/// How much is to be seen to by the visit, at most, when the builder of a plain aircraft has answered what is asked
/// first; and how much is open, with what stands behind that.
const PLAIN: [(&str, usize, usize); 5] =
    [("au", 82, 129), ("ca", 87, 137), ("nz", 84, 122), ("uk", 76, 116), ("us", 82, 153)];

fn audit_of(run: &Run, folder: &Path, by: &str) -> serde_json::Value {
    let folder = folder.to_str().expect("UTF-8");
    let ran = run.step(&["audit", folder, "--on", "2026-11-29", "--by", by, "--format", "json"]);
    serde_json::from_str(&ran.out).unwrap_or_else(|_| panic!("{folder}: {}", ran.err))
}

#[test]
fn few_answers_settle_most_of_what_applies() {
    let (run, mut wrong) = (Run::new("plain"), Vec::new());
    for (country, to_see_to, open_at_most) in PLAIN {
        let folder = invented(&format!("{country}-plain"));
        let bare = run.inside(&format!("{country}-bare"));
        let header = std::fs::read_to_string(folder.join("project.toml")).expect("a project");
        let bare = bare.file("project.toml", header);
        let first: Vec<String> = first_asked(&audit_of(&run, bare.folder(), "continuing"));
        assert!((10..=16).contains(&first.len()), "{country}: {first:?}");
        let audit = audit_of(&run, &folder, "visit");
        // Nothing else is recorded, and of those only what nobody can know yet is left.
        let facts = std::fs::read_to_string(folder.join("facts.toml")).expect("facts");
        let facts: toml::Table = facts.parse().expect("TOML");
        for name in names(&facts) {
            assert!(first.contains(&name), "{country}: {name} is not asked first");
        }
        let left = first_asked(&audit_of(&run, &folder, "continuing"));
        assert!(left.iter().all(|name| name == "oplim.cites_91_205"), "{country}: {left:?}");
        let read: Audit = serde_json::from_value(audit.clone()).expect("an audit");
        let open = read.summary.unmet + read.summary.not_shown;
        let behind = read.behind().count();
        println!("{country}: {} asked first, {open} open, {behind} of them behind others", first.len());
        if open - behind > to_see_to || open > open_at_most {
            wrong.push(format!("{country}: {} to see to, {open} open", open - behind));
        }
        assert_eq!(audit["summary"]["unmet"], 0, "{country}: no answer on day one contradicts anything");
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// What is asked before all else, in its order.
fn first_asked(audit: &serde_json::Value) -> Vec<String> {
    let questions = audit["questions"].as_array().expect("questions");
    let decides = |one: &serde_json::Value| one["decides"].as_u64().is_some_and(|count| count > 0);
    let first = questions.iter().position(|one| !decides(one)).unwrap_or(questions.len());
    assert!(questions.iter().skip(first).all(|one| !decides(one)), "they come first");
    questions[..first].iter().map(|one| one["fact"].as_str().expect("a name").to_owned()).collect()
}

/// The dotted names of what a file records.
fn names(table: &toml::Table) -> Vec<String> {
    let of = |(key, value): (&String, &toml::Value)| match value {
        toml::Value::Table(inner) => names(inner).into_iter().map(|name| format!("{key}.{name}")).collect(),
        _ => vec![key.clone()],
    };
    table.iter().flat_map(of).collect()
}

/// Nobody is asked for the State of registry who has named the country; and whoever says another one is believed.
#[test]
fn the_country_says_where_it_will_be_registered_unless_the_files_say_another() {
    for (country, state) in
        COUNTRIES.into_iter().zip(["australia", "canada", "new-zealand", "united-kingdom", "united-states"])
    {
        let header = format!("name = \"Shed\"\ncountry = \"{country}\"\npacks = [\"workmanship\"]\n");
        let run = Run::new(&format!("state-{country}")).file("project.toml", header.clone());
        let why = |run: &Run| run.step(&["why", "registration.state"]).out;
        let told = format!("registration.state = {state} (project.toml:2)");
        assert!(why(&run).contains(&told), "{country}: {}", why(&run));
        assert!(!run.step(&["questions"]).out.contains("registration.state"), "{country}");
        // What is asked of another State's aircraft alone is not asked.
        assert!(run.step(&["why", "marks.elsewhere"]).out.contains("NOT APPLICABLE"), "{country}");
        // Written, the file's word counts; what is not right there is not put right by the country.
        let wrote = run.step(&["record", "registration.state", "another-state"]);
        assert!(
            wrote.out.contains(&format!("It was {state} (project.toml:2)")),
            "{country}: {} {}",
            wrote.out,
            wrote.err
        );
        assert!(run.step(&["why", "marks.elsewhere"]).out.contains("NOT SHOWN"), "{country}");
        assert_eq!(std::fs::read_to_string(run.folder().join("project.toml")).expect("the header"), header);
        let wrong =
            run.inside("wrong").file("project.toml", header).file("facts.toml", "registration.state = \"nowhere\"\n");
        assert!(why(&wrong).contains("registration.state is not recorded"), "{country}: {}", why(&wrong));
    }
    // A pack that is only listed is not the country of the project.
    let listed = Run::new("state-listed").file("project.toml", "name = \"Shed\"\npacks = [\"ca\", \"us\"]\n");
    assert!(listed.step(&["why", "registration.state"]).out.contains("is not recorded"));
}

/// A project with a visit ahead has no certificate yet, unless somebody says otherwise; that it is not said stays open.
#[test]
fn before_the_visit_the_certificate_is_not_issued_unless_somebody_says_so() {
    for country in COUNTRIES {
        let header =
            |visit: &str| format!("name = \"Shed\"\ncountry = \"{country}\"\npacks = [\"workmanship\"]\n{visit}");
        let none = Run::new(&format!("no-visit-{country}")).file("project.toml", header(""));
        let ahead = Run::new(&format!("ahead-{country}")).file("project.toml", header("visit = 2027-03-10\n"));
        let [.., without] = audited(&none, none.folder());
        let [unmet, _, met, with] = audited(&ahead, ahead.folder());
        assert_eq!((unmet, met), (0, 0), "{country}");
        assert!(with > without, "{country}: {with} {without}");
        let why = ahead.step(&["why", "papers.certificate_said", "--on", "2026-11-25"]).out;
        assert!(why.contains("NOT SHOWN on 2026-11-25."), "{country}: {why}");
        // Said or taken, no more is left out than by the answer.
        let said = ahead.inside("said").file("project.toml", header("visit = 2027-03-10\n"));
        let said = said.file("facts.toml", "certificate.issued = \"none\"\n");
        let [unmet, _, met, by_answer] = audited(&said, said.folder());
        assert_eq!((unmet, met), (0, 1), "{country}: the answer meets that it is said");
        assert!(with <= by_answer, "{country}: {with} {by_answer}");
    }
}
