//! Each country's invented projects, early and ready for the visit, audited by the command; and a
//! project in which nothing is recorded.

use std::path::{Path, PathBuf};
use std::process::Command;

const COUNTRIES: [&str; 5] = ["au", "ca", "nz", "uk", "us"];

/// Unmet, not shown, met, not applicable.
type Counts = [u64; 4];

fn audited(folder: &Path) -> Counts {
    let said = Command::new(env!("CARGO_BIN_EXE_cotterpin"))
        .args(["audit", "--on", "2026-11-25", "--format", "json"])
        .arg(folder)
        .output()
        .expect("it runs");
    let told = String::from_utf8_lossy(&said.stderr);
    let out: serde_json::Value =
        serde_json::from_slice(&said.stdout).unwrap_or_else(|_| panic!("{}: {told}", folder.display()));
    assert!(told.is_empty(), "{}: {told}", folder.display());
    ["unmet", "not-shown", "met", "not-applicable"].map(|word| out["summary"][word].as_u64().expect("a count"))
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
    let mut wrong = Vec::new();
    for country in COUNTRIES {
        let (early, ready) = (invented(&format!("{country}-early")), invented(&format!("{country}-ready")));
        let (begun, done) = (audited(&early), audited(&ready));
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
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("nothing-{country}"));
        std::fs::create_dir_all(&folder).expect("a folder");
        let header = format!("name = \"Nothing yet\"\ncountry = \"{country}\"\npacks = [\"workmanship\"]\n");
        std::fs::write(folder.join("project.toml"), header).expect("a file");
        let [unmet, open, met, idle] = audited(&folder);
        assert_eq!((unmet, met), (0, 0), "{country}");
        // What is not in force on the day needs no fact to be out of the way.
        assert!(idle < 10, "{country}: {idle}");
        assert!(open > 150, "{country}: {open}");
        let asked = Command::new(env!("CARGO_BIN_EXE_cotterpin")).arg("questions").arg(&folder).output().expect("runs");
        let questions = String::from_utf8_lossy(&asked.stdout);
        let questions = questions.lines().filter(|line| line.starts_with("# ") && line.contains(" =")).count();
        assert!(questions > 150, "{country}: {questions}");
    }
}
