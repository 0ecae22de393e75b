//! Folders of many projects, each size in a process of its own: time and the most memory it ever had.

use super::{clock, make};
use cotterpin::command::{Status, run_with};
use std::fmt::Write;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Instant;

const ITEMS: usize = 300;

/// Prints how the work grows with projects and workers.
pub(crate) fn print() {
    println!("\n{:<44} {:>12} {:>12} {:>12}", "projects of 300 items, from their files", "ms each", "s", "MB at most");
    for projects in [100, 1_000, 4_000] {
        let folder = folder(projects);
        fill(&folder, projects);
        for workers in [1, 2] {
            let args = ["--many".to_owned(), projects.to_string(), workers.to_string()];
            let child = std::env::current_exe().and_then(|exe| Command::new(exe).args(args).output());
            let told = child.map(|output| String::from_utf8_lossy(&output.stdout).into_owned()).unwrap_or_default();
            let told: Vec<f64> = told.split_whitespace().filter_map(|word| word.parse().ok()).collect();
            if let [seconds, most] = told.as_slice() {
                let what = format!("{projects} projects, workers: {workers}");
                println!("{what:<44} {:>12.3} {seconds:>12.3} {most:>12.1}", seconds * 1e3 / projects as f64);
            }
        }
        let _: std::io::Result<()> = std::fs::remove_dir_all(folder);
    }
}

/// In a process of its own: the command on that folder, its seconds and its memory.
pub(crate) fn run(projects: usize, workers: &str) {
    let folder = folder(projects);
    let folder = folder.to_str().unwrap();
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let begun = Instant::now();
    let args = ["cotterpin", "audit", folder, "--on", "2026-11-25", "--workers", workers];
    let status = run_with(args, &mut out, &mut err, false);
    let seconds = begun.elapsed().as_secs_f64();
    let out = String::from_utf8_lossy(&out);
    // One of them is broken.
    assert!(status == Status::NotDone && err.is_empty(), "{}", String::from_utf8_lossy(&err));
    assert!(out.contains("were judged, 1 not.") && out.contains("Open in several projects"), "{out}");
    println!("{seconds} {}", clock::most_resident().unwrap_or(0.0));
}

fn folder(projects: usize) -> PathBuf {
    std::env::temp_dir().join(format!("cotterpin-bench-{projects}"))
}

/// So many projects with one pack, of which up to a fifth of the values are missing; the middle one has a mistake.
fn fill(folder: &Path, projects: usize) {
    let _: std::io::Result<()> = std::fs::remove_dir_all(folder);
    let put = |path: String, text: String| {
        let path = folder.join(path);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, text).unwrap();
    };
    let pack = make::pack(make::w1_text(ITEMS));
    put("pack/pack.toml".to_owned(), pack.manifest);
    put("pack/made.checklist".to_owned(), pack.files[0].1.to_string());
    for n in 0..projects {
        let mut facts = facts(n as u64 % 20);
        if n == projects / 2 {
            facts.push_str("nothing = 1\n");
        }
        let visit = 1 + n % 28;
        put(
            format!("p{n:04}/project.toml"),
            format!("name = \"Made {n}\"\npacks = [\"../pack\"]\nvisit = 2027-01-{visit:02}\n"),
        );
        put(format!("p{n:04}/facts.toml"), facts);
    }
}

/// The values of W1 as a builder writes them.
fn facts(missing: u64) -> String {
    let mut text = String::from("[s]\n");
    let inches = |tenths: u64| format!("\"{}.{} in\"", tenths / 10, tenths % 10);
    for (n, seen) in make::w1_values(ITEMS, missing).iter().enumerate() {
        for (name, value) in [("a", seen.a), ("b", seen.b), ("c", seen.c)] {
            if let Some(value) = value {
                let _ = writeln!(text, "{name}{n} = {}", inches(value));
            }
        }
        if let Some(mode) = seen.mode {
            let _ = writeln!(text, "m{n} = \"{}\"", ["x", "y", "z"][usize::from(mode)]);
        }
        if let Some(flag) = seen.flag {
            let _ = writeln!(text, "f{n} = {flag}");
        }
    }
    text
}
