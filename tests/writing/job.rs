//! `cotterpin job`: jobs of one's own.

use super::{Shed, keeps_lines};

#[test]
fn a_job_is_written_and_done() {
    let shed = Shed::new("job");
    shed.step(&["job", "hang", "the", "left", "wing", "--takes", "4h", "--by", "visit"]).fine(&[
        "Written to jobs.toml, line 1: about = \"own: hang the left wing\" takes = \"4h\" by = \"visit\"",
        "When it is done: cotterpin job \"hang the left wing\" --done",
        "1 job of your own is open: cotterpin next",
    ]);
    let waits = ["--waits-for", "shim \"B\"", "--expected", "2026-12-20", "--after", "hang the left wing"];
    shed.step(&[&["job", "shim it", "--zone", "tail"], &waits[..]].concat()).fine(&[
        "after = [\"own: hang the left wing\"]",
        "waits = { for = \"shim \\\"B\\\"\", expected = 2026-12-20 }",
        "2 jobs of your own are open",
    ]);
    let next = shed.step(&["next", "--on", "2026-11-25", "--time", "5h"]).out;
    assert!(next.contains("YOUR OWN. Hang the left wing.") && next.contains("shim \"B\""), "{next}");
    let before = shed.text("jobs.toml");
    shed.step(&["job", "own: hang the left wing", "--done"])
        .fine(&["hang the left wing: done = ", "1 job of your own"]);
    let after = shed.text("jobs.toml");
    keeps_lines(&before, &after);
    assert!(after.contains("by = \"visit\"\ndone = "), "{after}");
    assert!(!shed.step(&["next"]).out.contains("Hang the left wing"));
    shed.step(&["job", "shim it", "--done", "--on", "2026-10-04"])
        .fine(&["done = 2026-10-04", "0 jobs of your own are open"]);
}

#[test]
pub(super) fn what_is_no_job_is_refused_and_nothing_is_written() {
    let shed = Shed::new("job-refused").file("jobs.toml", "[[job]]\nabout = \"own: hang the wing\"\ntakes = \"1 h\"\n");
    for (args, told) in [
        (&["job", "hang the wing"][..], &["there is a job `own: hang the wing` already (jobs.toml:1)", "--done"][..]),
        (&["job", " "], &["what is to be done?"]),
        (&["job", "own:"], &["what is to be done?"]),
        (&["job", "hang the wings", "--done"], &["there is no job", "did you mean `own: hang the wing`?"]),
        (&["job", "x", "--takes", "5 ft"], &["job::takes", "write a time"]),
        (&["job", "x", "--by", "vist"], &["did you mean `visit`? the hold points are visit, first-flight"]),
        (&["job", "bleed the brakes", "1h"], &["`1h` reads as the time that it takes", "--takes 1h"]),
        (&["job", "hang the wing", "--on", "2026-10-04"], &["--done or --not-needed"]),
        (&["job", "hang the wing", "--takes", "2 evenings"], &["write a time"]),
        (&["job", "x", "--zone", "tial"], &["did you mean \"tail\"?"]),
        (&["job", "x", "--after", "nothing of it"], &["nothing of it"]),
        (&["job", "x", "--waits-for", "y", "--expected", "10/12/2026"], &["more than one way"]),
        (&["job", "hang the wing", "--done", "--on", "2100-01-01"], &["2100-01-01"]),
    ] {
        shed.refuses(args, told);
    }
    let twice = Shed::new("job-twice").file("jobs.toml", "[[job]]\nabout = \"own: a\"\n[[job]]\nabout = \"own: a\"\n");
    twice.refuses(&["job", "a", "--done"], &["there are 2 jobs `own: a`: jobs.toml:1, jobs.toml:3"]);
    // A snag is a snag, whatever a job is called.
    let snag = Shed::new("job-snag");
    snag.step(&["log", "snag", "found", "spar.main", "x"]).fine(&["snag 1"]);
    snag.step(&["job", "snag 1"]).fine(&["own: snag 1"]);
    snag.step(&["job", "y", "--after", "snag 1"]).fine(&["after = [\"snag 1\"]"]);
    shed.step(&["job", "hang the wing", "--done", "--on", "2026-10-04"]).fine(&["done = 2026-10-04"]);
    shed.refuses(&["job", "hang the wing", "--done"], &["was done on 2026-10-04 already"]);
    shed.refuses(&["job", "hang the wing"], &["was done on 2026-10-04; give the new one another name"]);
}

/// One that cannot be read stands between: that one which was named is done, and no other.
#[test]
fn the_job_that_was_named_is_done() {
    let jobs =
        "[[job]]\nabout = \"own: a\"\ntakes = \"5 ft\"\n\n[[job]]\nabout = \"own: b\"\n\n[[job]]\nabout = \"own: c\"\n";
    let shed = Shed::new("job-between").file("list.toml", jobs);
    shed.step(&["job", "b", "--done", "--on", "2026-10-04"]).fine(&["Written to list.toml, line 7"]);
    assert!(shed.text("list.toml").contains("about = \"own: b\"\ndone = 2026-10-04\n\n[[job]]\nabout = \"own: c\"\n"));
}

/// A mistake is put right by saying it once more; what was said stays beside it as a comment.
#[test]
fn a_job_is_changed_by_saying_what_is_otherwise_or_is_not_needed() {
    let shed = Shed::new("job-changed");
    shed.step(&["job", "hang the wing", "--takes", "4h", "--by", "first-flight"]).fine(&[]);
    let before = shed.text("jobs.toml");
    shed.step(&["job", "hang the wing", "--by", "visit", "--zone", "tail"])
        .fine(&["own: hang the wing by = \"visit\" zone = \"tail\"", "1 job of your own is open"]);
    let after = shed.text("jobs.toml");
    assert!(
        after.contains(": by = \"first-flight\"\nby = \"visit\"\n") && after.contains("takes = \"4h\"\n"),
        "{before}{after}"
    );
    // In other capitals it is the same job.
    shed.step(&["job", "Hang the Wing", "--takes", "5h"])
        .fine(&["own: hang the wing takes = \"5h\"", "1 job of your own"]);
    // A change that is wrong changes nothing.
    shed.refuses(&["job", "hang the wing", "--by", "vist"], &["did you mean `visit`?"]);
    shed.refuses(&["job", "hang the wing"], &["there is a job", "--by taxi", "--not-needed"]);
    shed.step(&["job", "hang the wing", "--not-needed", "--on", "2026-10-04"])
        .fine(&["hang the wing: not_needed = 2026-10-04", "0 jobs of your own are open"]);
    assert!(!shed.step(&["next"]).out.contains("Hang the wing"));
    shed.refuses(&["job", "hang the wing", "--done"], &["was not needed on 2026-10-04 already"]);
    shed.refuses(
        &["job", "hang the wing", "--by", "first-flight"],
        &["it was not needed on 2026-10-04; give the new one"],
    );
    // Of what is not the builder's own the record says whether it is needed.
    let item =
        Shed::new("job-item-not-needed").file("jobs.toml", "[[job]]\nabout = \"spar.long\"\nnot_needed = 2026-10-04\n");
    let told = item.step(&["audit"]).err;
    assert!(told.contains("only a job of your own has this"), "{told}");
}

/// Nobody says by mistake that the aircraft is complete who wrote down what is still to be done on it.
#[test]
fn what_is_said_of_the_whole_aircraft_comes_after_what_is_to_be_done_on_it() {
    let pack = "zones\n  papers \"Papers\"\nitem spar.complete \"It stands complete\" ask \"Is it?\" need confirmed by builder about everything\n  \
                by visit basis common practice cite common practice\n\
                item spar.seen \"It was seen\" ask \"Was it?\" need confirmed by builder about spar.main\n  \
                by visit basis common practice cite common practice\n";
    let shed = |name: &str| Shed::new(name).file("shed/more.checklist", pack);
    for (name, first, told) in [
        ("job", &["job", "hang the wing", "--by", "visit"][..], "own: hang the wing"),
        ("sometime", &["job", "hang the wing"], "own: hang the wing"),
        ("snag", &["log", "snag", "found", "spar.main", "chafes"], "snag 1"),
    ] {
        let one = shed(&format!("complete-{name}"));
        one.step(first).fine(&[]);
        one.refuses(&["confirm", "spar.complete"], &["what is still to be done comes before this", told, "ok:"]);
        assert!(one.answer(&["ask", "--about", "spar.complete"], "yes\nstop\n").fine(&[]).out.contains(told));
        assert!(one.step(&["why", "spar.complete"]).out.contains("NOT SHOWN"));
        // Of a part at which no snag is open it may be said, and that it is not so.
        match name {
            "snag" => one.refuses(&["confirm", "spar.seen"], &["snag 1 (chafes)"]),
            _ => drop(one.step(&["confirm", "spar.seen"]).fine(&["Yes."])),
        }
        one.step(&["confirm", "spar.complete", "--not"]).fine(&["No."]);
        one.step(&["confirm", "spar.complete", "ok: it is hung, the list is old"]).fine(&["Yes."]);
    }
    for (name, first) in [
        ("later", &["job", "polish it", "--by", "first-flight"][..]),
        ("papers", &["job", "fetch the form", "--by", "visit", "--zone", "papers"]),
        ("snag-later", &["log", "snag", "found", "spar.main", "chafes", "--by", "first-flight"]),
    ] {
        let one = shed(&format!("complete-{name}"));
        one.step(first).fine(&[]);
        one.step(&["confirm", "spar.complete"]).fine(&["Yes."]);
    }
    let done = shed("complete-done");
    done.step(&["job", "hang the wing", "--by", "visit"]).fine(&[]);
    done.step(&["job", "hang the wing", "--done"]).fine(&["What was worked on is told by the log alone"]);
    done.step(&["confirm", "spar.complete"]).fine(&["Yes."]);
    // A job that somebody thinks of afterwards takes the word back.
    let told = ["It was said of the whole aircraft that all is done (spar.complete)", "confirm spar.complete --not"];
    done.step(&["job", "hang the other wing", "--by", "visit"]).fine(&told);
    assert!(!done.step(&["job", "polish it", "--by", "first-flight"]).out.contains("It was said"));
}
