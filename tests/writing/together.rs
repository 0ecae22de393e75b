//! Two at once, and one cut short.

use super::{PROJECT, Shed, keeps_lines};
use std::collections::BTreeSet;
use std::fs;
use std::io::Write;
use std::process::Stdio;
use std::thread;
use std::time::{Duration, Instant};

/// How many lines each of two processes writes.
const LINES: usize = 1000;
/// How many runs are killed.
const KILLS: u32 = 120;

#[test]
fn two_processes_with_a_thousand_lines_each_lose_none() {
    let shed = Shed::new("together");
    let shed = &shed;
    let write = move |name: &'static str| {
        for n in 0..LINES {
            shed.step(&["log", "work done", "spar.web", &format!("{name} {n}"), "--on", "2026-08-05"])
                .fine(&["Written to"]);
        }
    };
    thread::scope(|scope| {
        scope.spawn(move || write("left"));
        scope.spawn(move || write("right"));
    });
    let entries = shed.entries("log/2026-08.toml");
    let notes: BTreeSet<String> =
        entries.iter().map(|entry| entry["note"].as_str().expect("a note").to_owned()).collect();
    let expected = ["left", "right"].iter().flat_map(|name| (0..LINES).map(move |n| format!("{name} {n}"))).collect();
    assert_eq!(entries.len(), 2 * LINES);
    assert_eq!(notes, expected);
}

/// Two processes that record and confirm, and an editor that saves the same file meanwhile, as
/// editors do: read, changed, written beside it, renamed over it.
#[test]
fn an_editor_and_two_processes_lose_nothing() {
    let facts = "[spar]\nkind = \"wood\"\n";
    let shed = Shed::new("together-editor").file("spar.toml", facts);
    let shed = &shed;
    let path = shed.folder().join("spar.toml");
    let saves = 300;
    // A save takes no longer than an editor's; it reads and renames in one go.
    let editor = || {
        for n in 0..saves {
            let text = fs::read_to_string(&path).expect("there").to_owned() + &format!("# saved {n}\n");
            let beside = path.with_extension("swap");
            fs::write(&beside, text).expect("written");
            // Windows may refuse it while another program reads the file, and an editor tries again.
            let renamed = (0..100).find(|_| {
                let renamed = fs::rename(&beside, &path);
                assert!(cfg!(windows) || renamed.is_ok(), "{renamed:?}");
                renamed.inspect_err(|_| thread::sleep(Duration::from_millis(10))).is_ok()
            });
            assert!(renamed.is_some(), "renamed");
            thread::sleep(Duration::from_millis(10));
        }
    };
    let record = |n: usize| shed.step(&["record", "spar.ribs", &format!("name=r{n}"), "glued=yes"]);
    let rounds = 60;
    let refused: usize = thread::scope(|scope| {
        scope.spawn(editor);
        let log = scope.spawn(move || {
            (0..rounds).for_each(|n| {
                shed.step(&["log", "work done", "spar.web", &format!("line {n}"), "--on", "2026-08-05"])
                    .fine(&["Written"]);
            });
        });
        // Where the editor saved again and again, nothing was written and it is said so.
        let refused = (0..rounds).filter(|n| {
            let ran = record(*n);
            assert!(ran.status == 0 || ran.err.contains("file::changing"), "{}", ran.err);
            ran.status != 0
        });
        let refused = refused.count();
        log.join().expect("it ends");
        refused
    });
    let text = shed.text("spar.toml");
    let table: toml::Table = text.parse().expect("TOML");
    // What the editor had read before a record came is what it saves: that is the editor's to lose.
    let ribs = table["spar"]["ribs"].as_array().expect("ribs").len();
    assert_eq!(shed.entries("log/2026-08.toml").len(), rounds);
    let lost: Vec<usize> = (0..saves).filter(|n| !text.contains(&format!("# saved {n}\n"))).collect();
    println!("{saves} saves of an editor, {} lost; {rounds} records, {ribs} there, {refused} refused", lost.len());
    // Between the last look and the renaming lies a moment that no program can close.
    assert!(lost.len() <= 2 && ribs > 0, "{lost:?}");
}

#[test]
fn snags_found_at_once_have_numbers_of_their_own() {
    let shed = Shed::new("together-snags");
    let mut running: Vec<_> = (0..20)
        .map(|_| shed.command(&["log", "snag found", "spar.web", "--on", "2026-08-05"]).spawn().expect("it runs"))
        .collect();
    assert!(running.iter_mut().all(|child| child.wait().expect("it ends").success()));
    let numbers: Vec<i64> =
        shed.entries("log/2026-08.toml").iter().map(|e| e["snag"].as_integer().expect("a number")).collect();
    assert_eq!(numbers, (1..=20).collect::<Vec<i64>>());
}

/// Kills at moments spread over a run and a half.
struct Moments {
    whole: Duration,
    state: u32,
}

impl Moments {
    fn of(run: impl Fn()) -> Self {
        let begun = Instant::now();
        (0..3).for_each(|_| run());
        Self { whole: begun.elapsed() / 3, state: 1 }
    }

    /// The next of them (a linear congruential step of ISO/IEC 9899, 7.22.2).
    fn next(&mut self) -> Duration {
        self.state = self.state.wrapping_mul(1_103_515_245).wrapping_add(12345);
        self.whole.mul_f64(f64::from((self.state >> 16) & 0x7fff) / 32768.0 * 1.5)
    }
}

#[test]
fn a_kill_loses_nothing_that_was_said_to_be_written() {
    let month = "# August, with a comment\n[[log]] # the first\nwhat = \"tested\" # kept\n";
    let shed = Shed::new("killed").file("log/2026-08.toml", month);
    let args = |n: u32| -> Vec<String> {
        let name = format!("spar.web.part-{n}");
        let note = format!("line {n}");
        ["log", "work done", &name, &note, "--part", "A part", "--on", "2026-08-05"].map(str::to_owned).to_vec()
    };
    let other = Shed::new("killed-measure");
    let mut moments = Moments::of(|| {
        let (args, name) = (args(0), format!("spar.web.part-{}", other.text("project.toml").len()));
        let args: Vec<&str> =
            args.iter().map(|arg| if arg.starts_with("spar.") { name.as_str() } else { arg }).collect();
        other.step(&args).fine(&[]);
    });
    let (mut said, mut written, mut left) = (0, 0, 0);
    for n in 0..KILLS {
        let args = args(n);
        let mut child = shed.command(&args.iter().map(String::as_str).collect::<Vec<_>>()).spawn().expect("it runs");
        thread::sleep(moments.next());
        // It may have ended already.
        let _: std::io::Result<()> = child.kill();
        let output = child.wait_with_output().expect("it ends");
        let told = String::from_utf8_lossy(&output.stdout).contains("Written to log/2026-08.toml");
        let text = shed.text("log/2026-08.toml");
        assert!(text.starts_with(month), "{text}");
        keeps_lines(PROJECT, &shed.text("project.toml"));
        shed.text("project.toml").parse::<toml::Table>().expect("it parses");
        let there = shed
            .entries("log/2026-08.toml")
            .iter()
            .any(|entry| entry.get("note").and_then(toml::Value::as_str) == Some(format!("line {n}").as_str()));
        assert!(there || !told, "line {n} was said to be written");
        said += u32::from(told);
        written += u32::from(there);
        left += u32::from(!there);
    }
    println!("{KILLS} runs killed: {said} had said so, {written} had written, {left} had not");
    assert!(said > 0 && left > 0, "the moments were spread over the run: {said}, {left}");
    // Whatever was left behind, the next line is written, and an audit reads it all.
    shed.step(&["log", "tested", "spar.main", "--on", "2026-08-06"]).fine(&[]);
}

/// The same of what is recorded and of people's words.
#[test]
fn records_and_words_said_to_be_written_outlive_a_kill() {
    let facts = "# spars\n[spar] # one\nmaker = \"me\" # kept\n# the end\n";
    let other = Shed::new("killed-record-measure").file("spar.toml", facts);
    let mut moments = Moments::of(|| {
        other.step(&["record", "spar.bolts", "8"]).fine(&[]);
    });
    let shed = Shed::new("killed-record").file("spar.toml", facts);
    let (mut told, mut not) = (0, 0);
    for n in 0..80u32 {
        let name = format!("name=r{n}");
        let mut child = shed.command(&["record", "spar.ribs", &name, "glued=yes"]).spawn().expect("it runs");
        thread::sleep(moments.next());
        let _: std::io::Result<()> = child.kill();
        let output = child.wait_with_output().expect("it ends");
        let text = shed.text("spar.toml");
        keeps_lines(facts, &text);
        text.parse::<toml::Table>().unwrap_or_else(|why| panic!("run {n}: {why}"));
        let said = String::from_utf8_lossy(&output.stdout).contains("Written to spar.toml");
        let there = text.contains(&format!("name = \"r{n}\""));
        assert!(there || !said, "r{n} was said to be written");
        told += u32::from(said);
        not += u32::from(!there);
    }
    println!("80 runs killed: {told} had said so, {not} had not written");
    assert!(told > 0 && not > 0, "the moments were spread over the run: {told}, {not}");
    shed.step(&["record", "spar.bolts", "8"]).fine(&["bolts = 8"]);
}

#[test]
fn answers_said_to_be_written_outlive_a_kill() {
    let facts = "# spars\n[spar] # one\n# above\nmaker = \"me\" # kept\n# the end\n";
    let answers = "96 in\n8\nwood\n\nyes\n2026-10-04\n";
    let other = Shed::new("killed-ask-measure").file("spar.toml", facts);
    let mut moments = Moments::of(|| {
        other.answer(&["ask"], answers).fine(&[]);
    });
    let (mut told, mut kept) = (0, 0);
    for n in 0..40 {
        let shed = Shed::new("killed-ask").file("spar.toml", facts);
        let mut child = shed.command(&["ask"]).stdin(Stdio::piped()).spawn().expect("it runs");
        let mut input = child.stdin.take().expect("a pipe");
        let _: std::io::Result<()> = input.write_all(answers.as_bytes());
        thread::sleep(moments.next());
        let _: std::io::Result<()> = child.kill();
        drop(input);
        let output = child.wait_with_output().expect("it ends");
        let out = String::from_utf8_lossy(&output.stdout).into_owned();
        let text = shed.text("spar.toml");
        keeps_lines(facts, &text);
        text.parse::<toml::Table>().unwrap_or_else(|why| panic!("run {n}: {why}"));
        for line in out.lines().filter_map(|line| line.split("Written to spar.toml, line ").nth(1)) {
            let value = line.split_once(": ").expect("a value").1;
            assert!(text.lines().any(|line| line == value), "{value} is not in\n{text}");
            told += 1;
        }
        kept += text.lines().count() - facts.lines().count();
    }
    println!("40 interviews killed: {told} answers had been said to be written, {kept} were there");
    assert!(told > 0 && kept >= told);
    assert!(fs::read_dir(other.folder()).expect("there").count() > 2);
}

/// While somebody thinks about an answer, an editor puts another record before the one that is asked about.
#[test]
fn an_answer_never_lands_in_another_record() {
    let facts =
        "[spar]\nspan = \"96 in\"\nkind = \"wood\"\nstraight = true\nbolts = 8\ntested = \"none\"\nmaker = \"me\"\n";
    let ribs = "[[spar.ribs]]\nname = \"r1\"\nchord = \"40 in\"\nglued = false\n[[spar.ribs]]\nname = \"r2\"\nchord = \"40 in\"\n";
    let whole = "[whole]\n\"spar.ribs\" = { records = [\"r1\", \"r2\"], who = \"rosa\", on = 2026-11-20 }\n";
    let shed = Shed::new("together-row").file("spar.toml", facts).file("ribs.toml", ribs).file("whole.toml", whole);
    let mut child = shed.command(&["ask"]).stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().expect("it runs");
    let (mut input, mut out) = (child.stdin.take().expect("a pipe"), child.stdout.take().expect("a pipe"));
    let question = question(&mut out);
    assert!(question.contains("spar.ribs[r2].glued"), "{question}");
    let more = format!("[[spar.ribs]]\nname = \"r0\"\nchord = \"40 in\"\n{ribs}");
    fs::write(shed.folder().join("ribs.toml"), &more).expect("saved");
    input.write_all(b"yes\nstop\n").expect("answered");
    drop(input);
    let mut rest = String::new();
    std::io::Read::read_to_string(&mut out, &mut rest).expect("the rest");
    assert!(child.wait().expect("it ends").success());
    assert!(rest.contains("another program has changed these records"), "{rest}");
    assert_eq!(shed.text("ribs.toml"), more);
}

/// What is said up to the next answer.
fn question(out: &mut impl std::io::Read) -> String {
    let mut said = Vec::new();
    while !said.ends_with(b"> ") {
        let mut one = [0];
        out.read_exact(&mut one).expect("a question");
        said.push(one[0]);
    }
    String::from_utf8_lossy(&said).into_owned()
}

/// What an editor saved meanwhile is not taken out with an answer that somebody goes back from.
#[test]
fn going_back_leaves_what_an_editor_saved() {
    for meanwhile in ["[spar]\nspan = \"96 in\"\nbolts = 7 # by hand\n", ""] {
        let shed = Shed::new("together-back");
        let mut child = shed.command(&["ask"]).stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().expect("it runs");
        let (mut input, mut out) = (child.stdin.take().expect("a pipe"), child.stdout.take().expect("a pipe"));
        question(&mut out);
        input.write_all(b"96 in\n").expect("answered");
        question(&mut out);
        let saved = shed.folder().join("spar.toml");
        if !meanwhile.is_empty() {
            fs::write(&saved, meanwhile).expect("saved");
        }
        input.write_all(b"back\n").expect("answered");
        let said = question(&mut out);
        drop(input);
        assert!(child.wait().expect("it ends").success());
        if meanwhile.is_empty() {
            assert!(said.contains("Taken out of spar.toml") && !saved.exists(), "{said}");
        } else {
            assert!(said.contains("spar.toml has changed since: what was answered stays there"), "{said}");
            assert_eq!(shed.text("spar.toml"), meanwhile);
        }
    }
}
