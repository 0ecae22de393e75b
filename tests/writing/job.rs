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
        (&["job", "x", "--by", "vist"], &["did you mean `visit`?"]),
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
