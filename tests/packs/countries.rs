//! Each country's invented projects, early and ready for the visit, audited by the command; and a
//! project in which nothing is recorded.

use crate::fixtures::folder::Run;
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
