//! `cotterpin log`: what is written, what is refused.

use super::{PACK, PROJECT, Shed, keeps_lines};
use cotterpin_engine::quantity::Date;
use std::fs;
#[cfg(unix)]
use std::os::unix::fs::{PermissionsExt, symlink};
use std::process::Command;

#[test]
fn a_day_and_a_time_in_other_words_are_written_as_they_were_read_and_said() {
    let shed = Shed::new("log-freehand");
    shed.step(&["log", "snag", "found", "spar.main", "--on", "25/8/2026", "--takes", "90m"]).fine(&[
        "Written to log/2026-08.toml",
        "2026-08-25, read from 25/8/2026",
        "It takes 90 min, read from 90m.",
    ]);
    assert!(shed.text("log/2026-08.toml").contains("on = 2026-08-25\n"));
    let entry = &shed.entries("log/2026-08.toml")[0];
    assert_eq!(entry["takes"].as_str(), Some("90 min"));
    shed.refuses(&["log", "tested", "spar.main", "--on", "10/8/2026"], &["write 2026-08-10 or 2026-10-08"]);
    shed.refuses(&["log", "snag", "found", "spar.main", "--takes", "1:30"], &["write 90 min or 90 s"]);
}

/// A file is written as the disk has it, by whichever way it was given; what Windows alone takes for a way is told elsewhere.
#[test]
fn evidence_is_written_as_the_disk_has_it() {
    let shed = Shed::new("log-evidence").file("evidence/Fuel/a.JPG", "light").file("evidence/fuel-2.jpg", "light");
    let whole = shed.folder().join("evidence/fuel-2.jpg");
    let given = ["Evidence/fuel/A.jpg", "./evidence/Fuel/a.JPG", whole.to_str().expect("UTF-8"), "evidence/none.jpg"];
    let written = ["evidence/Fuel/a.JPG", "evidence/Fuel/a.JPG", "evidence/fuel-2.jpg", "evidence/none.jpg"];
    for (given, written) in given.into_iter().zip(written) {
        let ran = shed.step(&["log", "tested", "spar.main", "--on", "2026-03-05", "--evidence", given]).fine(&[]);
        assert_eq!(ran.out.contains("There is no file"), written == "evidence/none.jpg", "{}", ran.out);
        let entries = shed.entries("log/2026-03.toml");
        assert_eq!(entries.last().and_then(|last| last["evidence"][0].as_str()), Some(written));
    }
    let backslashes = ["log", "tested", "spar.main", "--evidence", r"evidence\Fuel\a.JPG"];
    if cfg!(windows) {
        shed.step(&backslashes).fine(&["evidence/Fuel/a.JPG"]);
    } else {
        shed.refuses(&backslashes, &["write `evidence/Fuel/a.JPG`"]);
    }
}

#[test]
fn one_line_is_one_entry_with_its_keys_in_order() {
    let shed = Shed::new("log-keys").file("evidence/a.jpg", "light");
    let said = shed.step(&[
        "log",
        "inspected",
        "spar.main",
        "pins seen",
        "--who",
        "tomas",
        "--role",
        "adviser",
        "--on",
        "2026-08-29",
        "--points",
        "assembly,locking",
        "--fit",
        "temporary",
        "--instrument",
        "torque wrench",
        "--zone",
        "tail",
        "--evidence",
        "./evidence/a.jpg",
    ]);
    said.fine(&["Written to log/2026-08.toml, line 1", "tomas (Tomas Sample), adviser", "Main spar", "pins seen"]);
    let expected = "[[log]]\non = 2026-08-29\nwhat = \"inspected\"\nsubject = \"spar.main\"\nwho = \"tomas\"\n\
                    role = \"adviser\"\npoints = [\"assembly\", \"locking\"]\nfit = \"temporary\"\n\
                    instrument = \"torque wrench\"\nzone = \"tail\"\nevidence = [\"evidence/a.jpg\"]\nnote = \"pins seen\"\n";
    assert_eq!(shed.text("log/2026-08.toml"), expected);
    assert_eq!(shed.text("project.toml"), PROJECT);
}

#[test]
fn defaults_are_said_and_months_have_their_files() {
    let shed = Shed::new("log-defaults");
    let said = shed.step(&["log", "opened", "tail", "--for", "visit"]).fine(&["today", "because --who was not given"]);
    let file = said.out.split("Written to ").nth(1).and_then(|rest| rest.split(',').next()).expect("a file").to_owned();
    assert_eq!(shed.entries(&file)[0]["for"].as_str(), Some("visit"));
    for (on, file) in [("2025-01", "2025-01"), ("2024", "2024"), ("2023-02-03T07:05", "2023-02")] {
        shed.step(&["log", "work", "done", "spar.web", "glued", "and", "clamped", "--on", on]).fine(&[]);
        let entry = &shed.entries(&format!("log/{file}.toml"))[0];
        assert_eq!((entry["what"].as_str(), entry["note"].as_str()), (Some("work done"), Some("glued and clamped")));
        assert!(
            format!("{:?}", entry["on"]).contains(on)
                || entry["on"].as_datetime().is_some_and(|at| at.to_string().contains(on))
        );
    }
    shed.refuses(&["log", "closed", "tail", "--on", "2199-01-01"], &["value::ahead", "nobody has done or seen it yet"]);
}

#[test]
pub(super) fn snags_are_numbered_and_cleared_by_number() {
    let shed = Shed::new("log-snags").file("log/2020-01.toml", "[[log]]\nsnag = 13\n[[broken\n");
    let args = [
        "log",
        "snag-found",
        "fuel.hoses",
        "chafed",
        "--takes",
        "45 min",
        "--by",
        "first-flight",
        "--on",
        "2026-08-01",
    ];
    shed.step(&args).fine(&["snag 14", "takes 45 min"]);
    shed.step(&["log", "snag", "found", "spar.main", "--on", "2026-08-02"]).fine(&["snag 15"]);
    shed.refuses(&["log", "snag", "cleared"], &["14 (fuel.hoses), 15 (spar.main)"]);
    shed.refuses(&["log", "snag", "cleared", "--snag", "3"], &["snag::unknown"]);
    // Another part with it would be an entry that contradicts the other, and stop every audit.
    let elsewhere = ["snag 15 was found at spar.main, not at spar.web", "cotterpin log snag cleared --snag 15"];
    shed.refuses(&["log", "snag", "cleared", "spar.web", "--snag", "15"], &elsewhere);
    shed.step(&["log", "snag", "cleared", "new", "hose", "--snag", "14", "--on", "2026-08-03"])
        .fine(&["fuel.hoses", "note new hose"]);
    shed.refuses(&["log", "snag", "cleared", "--snag", "14"], &["snag::cleared"]);
    shed.refuses(&["log", "snag", "found", "spar.web", "--snag", "15"], &["snag::twice"]);
    shed.refuses(&["log", "snag", "found", "spar.web", "--takes", "45 ft"], &["log::takes"]);
}

#[test]
pub(super) fn unknown_words_get_the_nearest_and_nothing_is_written() {
    let shed = Shed::new("log-unknown");
    for (args, parts) in [
        (&["log"][..], &["log::what", "snag cleared"][..]),
        (&["log", "inspekted", "spar.main"], &["did you mean `inspected`?"]),
        (&["log", "inspected"], &["log::subject"]),
        (&["log", "inspected", "spar.mian"], &["did you mean `spar.main`?", "--part"]),
        (&["log", "inspected", "web"], &["did you mean `spar.web` (Web of the spar)?"]),
        (&["log", "inspected", "tail"], &["a zone can be opened and closed"]),
        (&["log", "inspected", "spar.main", "--who", "rsoa"], &["did you mean `rosa`?", "--person"]),
        (&["log", "inspected", "spar.main", "--who", "tomas"], &["several roles", "helper, adviser"]),
        (&["log", "inspected", "spar.main", "--role", "adviser"], &["not recorded as adviser"]),
        (&["log", "inspected", "spar.main", "--on", "2026-02-30"], &["value::date"]),
        (&["log", "inspected", "spar.main", "--zone", "tial"], &["did you mean `tail`?"]),
        (&["log", "inspected", "spar.main", "--fit", "finale"], &["did you mean `final`?"]),
        (&["log", "inspected", "spar.main", "--takes", "1 h"], &["log::option", "snag found"]),
        (&["log", "inspected", "spar.main", "--evidence", "../x.jpg"], &["evidence::outside"]),
        (&["log", "inspected", "spar.Main", "--part", "x"], &["part::name"]),
        (&["log", "inspected", "spar.main", "--part", "x"], &["part::twice"]),
        // A project in which such a part is declared is not judged any more.
        (&["log", "inspected", "spra.bolt", "--part", "x"], &["part::name", "there is no part `spra`", "`spar`?"]),
        (&["log", "inspected", "spar.main", "--who", "kim", "--person", "Kim"], &["in which role"]),
        (
            &["log", "inspected", "spar.main", "--who", "kim", "--person", "Kim", "--role", "helpr"],
            &["did you mean `helper`?"],
        ),
    ] {
        shed.refuses(args, parts);
        assert!(!shed.has("log"), "{args:?}");
    }
}

#[test]
pub(super) fn a_part_and_a_person_are_declared_in_the_same_go() {
    let shed = Shed::new("log-part");
    let args = [
        "log",
        "inspected",
        "spar.main.bolt",
        "--part",
        "Bolt \"A\"",
        "--zone",
        "tail",
        "--who",
        "zoé",
        "--person",
        "Zoé Example",
        "--role",
        "helper",
    ];
    shed.step(&args).fine(&["Declared in project.toml: the part spar.main.bolt"]);
    keeps_lines(PROJECT, &shed.text("project.toml"));
    let project: toml::Table = shed.text("project.toml").parse().expect("TOML");
    assert_eq!(project["parts"]["spar.main.bolt"]["title"].as_str(), Some("Bolt \"A\""));
    assert_eq!(project["people"]["zoé"]["role"].as_str(), Some("helper"));
    shed.step(&["log", "removed", "spar.main.bolt", "--who", "Zoé example"]).fine(&["Bolt \"A\""]);
    shed.step(&["log", "--subjects", "spar"]).fine(&["spar.web Web of the spar", "Parts of your own: spar.main.bolt"]);
    // Whatever word of it somebody has in mind.
    shed.step(&["log", "--subjects", "Bolt"]).fine(&["Parts of your own: spar.main.bolt"]);
    shed.step(&["log", "--subjects", "wing"]).fine(&["No subject has `wing` in its name or title."]);
    // An inline table leaves no room: said, and nothing written.
    let odd = Shed::new("log-part-odd")
        .file("project.toml", "name = 'x'\npacks = ['./shed']\npeople = { rosa = { role = 'builder' } }\n");
    odd.refuses(
        &["log", "inspected", "spar.main", "--who", "kim", "--person", "Kim", "--role", "helper"],
        &["project::form"],
    );
}

#[test]
fn notes_come_back_letter_for_letter() {
    let shed = Shed::new("log-notes");
    let notes = [
        "Größe \u{1f600} 測定 \u{202e}abc\u{200b}",
        "\"quoted\" and 'single' and \"\"\" three",
        "two\nlines\r\nand\ttab",
        "\u{1}\u{7f}\u{85}\u{1b}[31m",
        "back\\slash \\u0041",
        "# no comment",
        "[[log]]\non = 2020-01-01",
        "]]>{}=,",
        "'''",
    ];
    for note in notes {
        let said = shed.step(&["log", "work done", "spar.web", note, "--on", "2026-03-01"]).fine(&[]);
        assert!(!said.out.contains('\u{1b}') && !said.out.contains('\u{202e}'), "nothing moves the cursor");
    }
    let read: Vec<_> =
        shed.entries("log/2026-03.toml").iter().map(|e| e["note"].as_str().expect("a text").to_owned()).collect();
    assert_eq!(read, notes);
}

#[test]
fn what_stands_in_a_month_stays_byte_for_byte() {
    for (name, old) in [
        ("plain", "# August\n[[log]] # first\nwhat = 'x' # why\n\n# the end, without a line end"),
        ("crlf", "# August\r\n[[log]]\r\nwhat = 'x'\r\n"),
        ("other", "\u{feff}# bom\n[fuel]\nx = 1\n"),
        ("empty", ""),
    ] {
        let shed = Shed::new(&format!("log-keeps-{name}")).file("log/2026-08.toml", old);
        shed.step(&["log", "tested", "spar.main", "--on", "2026-08-05"]).fine(&[]);
        let new = shed.text("log/2026-08.toml");
        assert!(new.starts_with(old), "{new}");
        assert_eq!(new.contains("\r\n"), old.contains("\r\n"));
        assert!(!new.contains('\r') || new.matches('\r').count() == new.matches('\n').count());
        assert_eq!(shed.entries("log/2026-08.toml").last().expect("one")["what"].as_str(), Some("tested"));
        shed.step(&["log", "--take-back"]).fine(&[]);
        assert_eq!(shed.text("log/2026-08.toml"), old);
    }
}

#[test]
pub(super) fn a_file_that_cannot_be_read_is_never_touched() {
    let args = ["log", "tested", "spar.main", "--on", "2026-08-05"];
    for (name, bytes, part) in [
        ("broken", &b"[[log]\nx = \n"[..], "toml::invalid"),
        ("bytes", b"# \xff\xfe\n", "file::not-text"),
        ("single", b"log = 1\n", "toml::invalid"),
    ] {
        Shed::new(&format!("log-{name}")).file("log/2026-08.toml", bytes).refuses(&args, &[part]);
    }
    Shed::new("log-header").file("project.toml", "name = \n").refuses(&args, &["toml::invalid", "project.toml:1"]);
    Shed::empty("log-nowhere").refuses(&args, &["project::missing", "cotterpin begin"]);
    // Facts that cannot be read are no reason not to write down what was done.
    Shed::new("log-facts").file("facts.toml", "x = \n").step(&args).fine(&[]);
}

#[cfg(unix)]
#[test]
fn where_writing_is_not_allowed_nothing_changes() {
    let shed = Shed::new("log-denied").file("log/2026-08.toml", "# mine\n");
    let args = ["log", "tested", "spar.main", "--on", "2026-08-05"];
    let mode = |path: &str, mode: u32| {
        fs::set_permissions(shed.folder().join(path), fs::Permissions::from_mode(mode)).expect("a mode");
    };
    mode("log/2026-08.toml", 0o444);
    shed.refuses(&args, &["file::unwritable", "not to be written"]);
    mode("log/2026-08.toml", 0o640);
    mode("log", 0o555);
    shed.refuses(&args, &["file::unwritable"]);
    mode("log", 0o755);
    mode(".", 0o555);
    shed.step(&["log", "--subjects", "spar"]).fine(&["spar.web"]);
    mode(".", 0o755);
    shed.step(&args).fine(&[]);
    let kept = fs::metadata(shed.folder().join("log/2026-08.toml")).expect("there").permissions().mode() & 0o777;
    assert_eq!(kept, 0o640);
}

/// A limit on the size of files stands for a disk that is full (POSIX.1-2017, setrlimit).
#[cfg(unix)]
#[test]
fn a_full_disk_changes_nothing() {
    let old = format!("# {}\n", "x".repeat(4000));
    let shed = Shed::new("log-full").file("log/2026-08.toml", &old);
    let script = format!(
        "trap '' XFSZ; ulimit -f 1; exec '{}' log tested spar.main --on 2026-08-05",
        env!("CARGO_BIN_EXE_cotterpin")
    );
    let output = Command::new("sh").args(["-c", &script]).current_dir(shed.folder()).output().expect("it runs");
    shed.ran(&[&script], output).refuses_to_write(&["file::unwritable"]);
    assert_eq!(shed.text("log/2026-08.toml"), old);
    assert!(!shed.has("log/.2026-08.toml.part"));
}

#[cfg(unix)]
#[test]
fn nothing_is_written_outside_the_project() {
    let args = ["log", "tested", "spar.main", "--on", "2026-08-05"];
    let outside = Shed::empty("log-outside").file("2026-08.toml", "# theirs\n");
    for (name, link, target) in [
        ("folder", "log", outside.folder().to_owned()),
        ("dangling", "log", outside.folder().join("nowhere")),
        ("own", ".cotterpin", outside.folder().to_owned()),
    ] {
        let shed = Shed::new(&format!("log-link-{name}"));
        symlink(&target, shed.folder().join(link)).expect("a link");
        let before = outside.snapshot();
        shed.step(&args).refuses_to_write(&["file::outside"]);
        assert_eq!(outside.snapshot(), before);
        assert!(!outside.has("lock") && !outside.has("nowhere"));
    }
    let shed = Shed::new("log-link-file").file("log/other.toml", "");
    symlink(outside.folder().join("2026-08.toml"), shed.folder().join("log/2026-08.toml")).expect("a link");
    shed.step(&args).refuses_to_write(&["file::outside"]);
    assert_eq!(outside.text("2026-08.toml"), "# theirs\n");
    // Within the project a link is followed, and stays one.
    let inner = Shed::new("log-link-inner").file("diary/x", "");
    symlink("diary", inner.folder().join("log")).expect("a link");
    inner.step(&args).fine(&[]);
    assert_eq!(inner.entries("diary/2026-08.toml").len(), 1);
}

#[test]
fn a_log_can_be_kept_where_a_pack_of_ones_own_has_a_mistake() {
    let shed = Shed::new("log-pack").file("shed/more.checklist", "item half \"written\"\n  need nothing.known >=\n");
    shed.step(&["log", "tested", "spar.main", "--on", "2026-08-05"]).fine(&[]);
    assert_eq!(shed.step(&["audit"]).status, 3);
}

/// The command and the audit have one idea of what an entry may say.
#[test]
fn nothing_is_written_that_an_audit_would_refuse() {
    let project = format!("{PROJECT}\"spar.main.pin\" = \"Pin\"\n");
    let shed = Shed::new("log-as-read").file("project.toml", project);
    shed.refuses(&["log", "inspected", "spar.main", "--snag", "3"], &["log::option", "snag found, snag cleared"]);
    shed.refuses(&["log", "snag", "found", "spar.main", "--takes", "0 min"], &["log::takes", "more than none"]);
    shed.step(&["log", "removed", "spar.main.pin", "--for", "visit", "--zone", "tail"]).fine(&["Pin", "for visit"]);
    shed.step(&["log", "Inspected", "spar.main", "--fit", "Final"]).fine(&["inspected spar.main", "fit final"]);
    let audit = shed.step(&["audit"]);
    assert_ne!(audit.status, 3, "{}", audit.err);
    // No reader would take the file up, so nothing is added to it.
    let deep = format!("{}x = 1\n", "a.".repeat(40));
    Shed::new("log-deep")
        .file("log/2026-08.toml", &deep)
        .refuses(&["log", "tested", "spar.main", "--on", "2026-08-05"], &["toml::invalid", "dots"]);
}

/// What the keys of a later form mean is not known, so nothing is added to such a project.
#[test]
fn nothing_is_written_into_a_project_of_a_later_form() {
    let shed = Shed::new("log-newer").file("project.toml", format!("format = 2\n{PROJECT}"));
    shed.refuses(&["log", "inspected", "spar.main", "--on", "2026-08-05"], &["project::newer", "form 2"]);
    shed.refuses(&["log", "--subjects"], &["project::newer", "form 2"]);
    assert!(!shed.step(&["ask"]).err.is_empty());
}

/// The pack of the tests with an item that asks for two people, over a log.
fn two_people(name: &str, log: &str) -> Shed {
    let pack = PACK.to_owned()
        + "\nitem spar.looked\n  \"Two people have inspected the spar\"\n  need inspected spar.main by 2 people\n  \
           by visit basis common practice cite common practice\n";
    Shed::new(name).file("shed/r.checklist", pack).file("log/2026-09.toml", log)
}

fn entry(on: &str, what: &str, part: &str, who: &str) -> String {
    format!(
        "[[log]]\non = {on}\nwhat = \"{what}\"\nsubject = \"{part}\"\nwho = \"{who}\"\nrole = \"{}\"\n\n",
        if who == "rosa" { "builder" } else { "helper" }
    )
}

/// Whoever looks again hears that the other look counts no more, and what undid it.
#[test]
fn a_second_look_says_what_has_undone_the_first() {
    let log =
        entry("2026-09-01", "inspected", "spar.main", "rosa") + &entry("2026-09-02", "adjusted", "spar.main", "rosa");
    let again = ["log", "inspected", "spar.main", "--who", "tomas", "--role", "helper", "--on", "2026-09-03"];
    two_people("log-second-look", &log).step(&again).fine(&[
        "That makes 1 of 2 people: inspected spar.main, 2026-09-01 (log/2026-09.toml:1) no longer counts",
        "undone by adjusted spar.main, 2026-09-02 (log/2026-09.toml:8)",
    ]);
}

/// Work of the same day as an inspection, without a time in either: what it makes unknown is said at once.
#[test]
fn work_of_the_day_of_an_inspection_says_what_it_makes_unknown() {
    let work = |on: &str| {
        let log = entry("2026-09-01", "inspected", "spar.main", "rosa");
        let shed = two_people(&format!("log-same-day-{on}"), "").file("log/2026-08.toml", log);
        shed.step(&["log", "adjusted", "spar.main", "--who", "rosa", "--on", on])
    };
    work("2026-09-01").fine(&[
        "Nobody knows whether it came before or after inspected spar.main, 2026-09-01 (log/2026-08.toml:1)",
        "give the time with --on",
    ]);
    let later = work("2026-09-02");
    assert!(!later.out.contains("Nobody knows"), "{}", later.out);
}

/// A clock that stands years back would put a removal before the inspections that it undoes, unheard.
#[test]
fn a_line_before_the_newest_of_the_log_is_asked_back_or_said() {
    let ahead = "[[log]]\non = 2190-05-06\nwhat = \"inspected\"\nsubject = \"spar.main\"\nwho = \"rosa\"\n";
    let shed = Shed::new("log-clock").file("log/2190-05.toml", ahead);
    let today = ["log", "adjusted", "spar.main"];
    shed.refuses(&today, &["clock::behind", "2190-05-06", "log/2190-05.toml:1", "--on 2026-11-25"]);
    // Where so much is wrong that no line can be read, the name of the file still tells its month.
    let broken = Shed::new("log-clock-broken").file("log/2190-05.toml", "[[log]\n");
    broken.refuses(&today, &["clock::behind", "2190-05-01", "log/2190-05.toml"]);
    let elsewhere = Shed::new("log-clock-elsewhere").file("diary.toml", ahead);
    elsewhere.refuses(&today, &["clock::behind", "diary.toml:1"]);
    let said = ["Mind the day: 2183-05-06 lies before 2190-05-06", "log/2190-05.toml:1", "undoes nothing"];
    shed.step(&["log", "adjusted", "spar.main", "--on", "2183-05-06"]).fine(&said);
    shed.step(&["log", "adjusted", "spar.main", "--on", "2183"]).fine(&["Mind the day: 2183 lies before"]);
    // In order nothing is said.
    for on in ["2190-05-06", "2190-05", "2190", "2190-05-07"] {
        let ran = shed.step(&["log", "adjusted", "spar.main", "--on", on]).fine(&[]);
        assert!(!ran.out.contains("Mind the day"), "{}", ran.out);
    }
}

/// What is written as inspected, tested, measured or cleared counts as that all was well, whatever the note says.
#[test]
fn a_note_of_a_fault_is_asked_back() {
    let shed = Shed::new("log-doubt");
    let refused =
        ["log::doubt", "`missing` in the note", "cotterpin log snag found spar.main", "begin the note with ok"];
    shed.refuses(&["log", "inspected", "spar.main", "cotter pin missing at the root"], &refused);
    shed.refuses(&["log", "tested", "spar.main", "holds, will look again"], &["log::doubt", "`will`"]);
    shed.step(&["log", "inspected", "spar.main", "ok: the missing pin is in"]).fine(&["inspected spar.main"]);
    shed.step(&["log", "inspected", "spar.main", "nothing loose, no cracks"]).fine(&["inspected spar.main"]);
    shed.step(&["log", "snag", "found", "spar.main", "pin missing"]).fine(&["snag"]);
    shed.refuses(&["log", "snag", "cleared", "--snag", "1", "not done yet"], &["log::doubt", "stays open"]);
}

/// A word for oneself or a role names nobody, and would stop every audit once it stands in project.toml.
#[test]
fn nobodys_name_is_not_declared() {
    let shed = Shed::new("log-nobody");
    for name in ["Me", "the builder", "n/a", "helper"] {
        let args = ["log", "inspected", "spar.main", "--who", "me", "--person", name, "--role", "builder"];
        shed.refuses(&args, &["person::name", "is nobody's name"]);
    }
    Shed::empty("begin-nobody").refuses(&["begin", "a", "--who", "Me"], &["person::name"]);
}

/// A word of the trade is no word of the log, but it is known which one may be meant; what is put on for a while is not
/// taken for good.
#[test]
fn what_is_meant_is_asked_back() {
    let shed = Shed::new("log-meant");
    for (said, meant) in
        [("torqued", "work done"), ("found", "snag found"), ("Checked", "inspected"), ("fixed", "snag cleared")]
    {
        shed.refuses(&["log", said, "spar.main"], &[&format!("did you mean `{meant}`?"), "its words are"]);
    }
    for (what, note, fit) in [
        ("refitted", "put on for a trial fit", "trial"),
        ("refitted", "with a temporary bolt", "temporary"),
        ("work done", "hung, trial-fit only", "trial"),
    ] {
        shed.refuses(&["log", what, "spar.main", note], &[&format!("add --fit {fit}"), "counts as fitted for good"]);
        shed.step(&["log", what, "spar.main", note, "--fit", fit]).fine(&[note]);
    }
    shed.step(&["log", "work done", "spar.main", "done for now"]).fine(&["done for now"]);
}

/// Somebody declared once is the same person the next time; another role is given in the project.
#[test]
fn a_person_declared_again_is_the_same_person() {
    let shed = Shed::new("log-person-again");
    let as_helper = |name| ["log", "inspected", "spar.main", "--who", "tomas", "--person", name, "--role", "helper"];
    shed.step(&as_helper("tomas sample")).fine(&["tomas (Tomas Sample), helper"]);
    assert_eq!(shed.text("project.toml").matches("Tomas Sample").count(), 1);
    let as_builder =
        ["log", "inspected", "spar.main", "--who", "tomas", "--person", "Tomas Sample", "--role", "builder"];
    let line = ["`tomas` is not recorded as builder", "roles = [\"helper\", \"adviser\", \"builder\"] }"];
    shed.refuses(&as_builder, &line);
    shed.refuses(&as_helper("Tom Other"), &["`tomas` is the short name of somebody already"]);
}

/// A snag is found on a day: of a month that is not over no audit would raise it.
#[test]
fn a_snag_of_a_month_that_is_not_over_is_asked_for_its_day() {
    let shed = Shed::new("log-snag-month");
    let seconds = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH).expect("after 1970").as_secs();
    // Two days on, so that the year is not over where the command runs.
    let day = Date::from_days(i32::try_from(seconds / 86_400).expect("a day") + 2).to_string();
    let year = day.get(..4).expect("a year");
    let ran = shed.answer(&["log", "snag", "found", "spar.main", "a crack", "--on", year], "");
    // In the last two days of a year the next one is meant, which lies ahead.
    let ahead = ran.err.contains("value::ahead");
    let told = if ahead { &["lies ahead"][..] } else { &["raises a snag only once its day is sure", "give the day"] };
    ran.refuses_to_write(told);
}

/// Whoever found a fault and then logs a look at the same part has perhaps not mended it.
#[test]
fn a_look_at_a_part_with_an_open_snag_is_asked_back() {
    let shed = Shed::new("log-open-snag");
    let look = ["log", "inspected", "spar.main", "seen by daylight"];
    shed.step(&look).fine(&[]);
    shed.step(&["log", "snag", "found", "spar.main", "chafes"]).fine(&["snag 1"]);
    shed.refuses(&look, &["log::open-snag", "snag 1 (chafes) is open there", "begin the note with ok:"]);
    shed.step(&["log", "inspected", "spar.main", "ok: the rest of it is fine"]).fine(&[]);
    shed.step(&["log", "inspected", "spar.web"]).fine(&[]);
    shed.step(&["log", "work", "done", "spar.main", "bracket filed"]).fine(&[]);
    shed.refuses(
        &["log", "snag", "cleared", "--snag", "1", "--on", "2020-01-01"],
        &["log::snag-order", "was found on"],
    );
    shed.step(&["log", "snag", "cleared", "--snag", "1"]).fine(&[]);
    shed.step(&look).fine(&[]);
}

/// A value may be so all the same: the snag is told beside it.
#[test]
fn a_value_of_a_part_with_an_open_snag_is_told_of_it() {
    let fact = "fact spar.leaks : yes or no of spar.main ask \"Does it leak?\"\n";
    let shed = Shed::new("record-open-snag").file("shed/more.checklist", fact);
    shed.step(&["log", "snag", "found", "spar.main", "weeps"]).fine(&["snag 1"]);
    shed.step(&["record", "spar.leaks", "no"]).fine(&["Mind: snag 1 (weeps) is open there."]);
    shed.step(&["log", "snag", "cleared", "--snag", "1"]).fine(&[]);
    assert!(!shed.step(&["record", "spar.leaks", "no"]).out.contains("Mind:"));
}

/// Nothing is written after which nothing can be judged, nor a second removal that would say what the first is for.
#[test]
fn what_would_leave_the_log_unreadable_is_refused() {
    let zoned = Shed::new("log-no-zone").file("shed/more.checklist", "subjects\n  hull \"Hull\"\n");
    for event in ["opened", "removed"] {
        zoned.refuses(&["log", event, "hull", "--for", "visit"], &["log::zone", "add --zone"]);
    }
    zoned.step(&["log", "opened", "hull", "--for", "visit", "--zone", "tail"]).fine(&[]);
    let twice = Shed::new("log-off-twice");
    twice.step(&["log", "removed", "spar.main", "--on", "2026-11-20"]).fine(&[]);
    let again = ["log", "removed", "spar.main", "--for", "visit", "--zone", "tail"];
    twice.refuses(&again, &["log::off-already", "since 2026-11-20", "a part of its own"]);
    twice.step(&["log", "refitted", "spar.main", "--on", "2026-11-21"]).fine(&[]);
    twice.step(&again).fine(&[]);
    // By the times of one day, whatever the order of the lines.
    let hours = "[[log]]\non = 2026-11-20T09:00:00\nwhat = \"refitted\"\nsubject = \"spar.main\"\nwho = \"rosa\"\n\n\
                 [[log]]\non = 2026-11-20T08:00:00\nwhat = \"removed\"\nsubject = \"spar.main\"\nwho = \"rosa\"\n";
    let back = Shed::new("log-off-hours").file("log/2026-11.toml", hours);
    back.step(&["log", "removed", "spar.main", "--on", "2026-11-22"]).fine(&[]);
    let snag = Shed::new("log-snag-hour").file(
        "log/2026-11.toml",
        "[[log]]\non = 2026-11-20T21:15:00\nwhat = \"snag found\"\nsubject = \"spar.main\"\nwho = \"rosa\"\nsnag = 1\n",
    );
    let cleared = |on: &'static str| ["log", "snag", "cleared", "--snag", "1", "--on", on];
    snag.refuses(&cleared("2026-11-20T18:00"), &["log::snag-order", "is before that"]);
    snag.step(&cleared("2026-11-20T21:30")).fine(&[]);
    assert!(!snag.step(&["audit"]).err.contains("error"));
}

#[test]
fn a_note_that_names_somebody_else_is_asked_back() {
    let shed = Shed::new("log-by");
    shed.refuses(&["log", "inspected", "spar.main", "by Tomas, yesterday"], &["log::who", "add --who tomas"]);
    shed.step(&["log", "inspected", "spar.main", "by daylight, with Tomas"]).fine(&[]);
    shed.step(&["log", "inspected", "spar.main", "held by tomas", "--who", "tomas", "--role", "helper"]).fine(&[]);
}

/// Work on a part that stands below none of the packs undoes none of their inspections.
#[test]
fn a_part_beside_those_of_the_packs_is_named_below_one_of_them() {
    let shed = Shed::new("log-beside");
    let part = |name: &'static str| ["log", "inspected", name, "--part", "Rear fitting"];
    shed.refuses(&part("spar.rear"), &["part::above", "spar.main (Main spar)", "name it below one of these"]);
    shed.step(&part("spar.main.rear")).fine(&["Declared in project.toml"]);
    shed.step(&part("float")).fine(&["No part of the packs stands above `float`"]);
}
