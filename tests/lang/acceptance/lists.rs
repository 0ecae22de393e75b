//! A7: lists.

use crate::lang::{OWN, audited, come_out, comes_out, load, mine, of_nothing, verdict};
use cotterpin_engine::vocabulary::Verdict;

const RUNS: &str = "list shed.runs ask \"Each run\"
  field name : text ask \"What?\"
  field amps : current, at least 0 A ask \"How much?\" such as \"1 A\"
  field long : yes or no ask \"Is it long?\"
  named by name\n";

#[test]
fn a7_every_some_count_sum_least_greatest_over_records() {
    let two = "shed.runs = (name = \"a\", amps = 2 A, long = yes), (name = \"b\", amps = 5 A, long = no)";
    for (need, verdict) in [
        ("every r in shed.runs has r.amps >= 2 A", "met"),
        ("every r in shed.runs has r.amps >= 3 A", "unmet"),
        ("every r in shed.runs where r.long has r.amps <= 2 A", "met"),
        ("some r in shed.runs has r.amps >= 5 A", "met"),
        ("some r in shed.runs where r.long has r.amps >= 5 A", "unmet"),
        ("count r in shed.runs is 2", "met"),
        ("(count r in shed.runs where r.amps > 2 A) is 1", "met"),
        ("sum of r.amps for r in shed.runs is 7 A", "met"),
        ("(sum of r.amps for r in shed.runs where r.long) is 2 A", "met"),
        ("least of r.amps for r in shed.runs is 2 A", "met"),
        ("greatest of r.amps for r in shed.runs is 5 A", "met"),
        ("(greatest of r.amps for r in shed.runs where r.long) is 5 A", "unmet"),
        ("mean of r.amps weighted by 1 for r in shed.runs is 3.5 A", "met"),
    ] {
        comes_out(RUNS, need, &format!("try \"two\" {two} => {verdict}\n try \"none known\" => not-shown"));
    }
}

#[test]
fn a7_a_record_not_known_leaves_the_whole_open() {
    let runs = "shed.runs = (name = \"a\", amps = 2 A), (name = \"b\")";
    for need in [
        "every r in shed.runs has r.amps <= 2 A",
        "some r in shed.runs has r.amps > 2 A",
        "sum of r.amps for r in shed.runs <= 9 A",
        "greatest of r.amps for r in shed.runs <= 2 A",
        "(count r in shed.runs where r.amps > 1 A) is 2",
    ] {
        comes_out(RUNS, need, &format!("try \"open\" {runs} => not-shown"));
    }
    comes_out(RUNS, "every r in shed.runs has r.amps > 2 A", &format!("try \"one fails\" {runs} => unmet"));
}

#[test]
fn a7_an_item_is_raised_once_per_record() {
    let rules = come_out(&[mine(&format!(
        "{RUNS}item shed.run for each r in shed.runs \"t\" let twice = r.amps * 2 need twice <= 6 A {OWN}
           try \"all\" shed.runs = (name = \"a\", amps = 1 A), (name = \"b\", amps = 3 A) => met
           try \"over\" shed.runs = (name = \"a\", amps = 4 A) => unmet
           try \"list not recorded\" => not-shown"
    ))]);
    let text = "[[shed.runs]]\nname = \"a\"\namps = \"1 A\"\n[[shed.runs]]\nname = \"b\"\namps = \"4 A\"\n[[shed.runs]]\nname = \"c\"\n";
    let report = audited(&rules, text, "2026-06-01", None);
    let mut found: Vec<_> = report.findings.iter().map(|f| (f.subject.as_deref().unwrap_or(""), f.verdict)).collect();
    found.sort();
    assert_eq!(found, [("a", Verdict::Met), ("b", Verdict::Unmet), ("c", Verdict::NotShown)]);
}

#[test]
fn a7_a_list_not_recorded_is_undecided() {
    for need in
        ["every r in shed.runs has r.long", "not (some r in shed.runs has r.long)", "count r in shed.runs <= 100"]
    {
        comes_out(RUNS, need, "try \"nothing\" => not-shown");
    }
}

#[test]
fn a7_an_empty_list_proves_nothing() {
    for (need, verdict) in [
        ("every r in shed.runs has r.long", "not-shown"),
        ("sum of r.amps for r in shed.runs <= 9 A", "not-shown"),
        ("least of r.amps for r in shed.runs <= 9 A", "not-shown"),
        ("greatest of r.amps for r in shed.runs <= 9 A", "not-shown"),
        ("some r in shed.runs has r.long", "unmet"),
        ("count r in shed.runs is 0", "met"),
        ("sum of r.amps for r in shed.runs or 0 A if empty <= 9 A", "met"),
        ("least of r.amps for r in shed.runs or 0 A if empty >= 9 A", "unmet"),
    ] {
        comes_out(RUNS, need, &format!("try \"empty\" shed.runs = empty => {verdict}"));
    }
    let each = format!(
        "{RUNS}item shed.run for each r in shed.runs \"t\" need r.long {OWN} try \"empty\" shed.runs = empty => not-applicable"
    );
    come_out(&[mine(&each)]);
}

#[test]
fn a7_the_author_is_warned_where_an_empty_list_would_pass_silently() {
    let warned = |need: &str| {
        let rules = load(&[mine(&format!(
            "{RUNS}fact shed.there : yes or no ask \"?\"\nitem shed.door \"t\" need {need} {OWN}"
        ))]);
        rules.warnings.iter().filter(|warning| warning.code == "list::empty-passes").count()
    };
    assert_eq!(warned("(count r in shed.runs where r.long) <= 3"), 1);
    assert_eq!(warned("not (some r in shed.runs has r.long)"), 1);
    assert_eq!(warned("every r in shed.runs has r.long"), 0);
    assert_eq!(warned("count r in shed.runs >= 1 and count r in shed.runs <= 3"), 0);
    assert_eq!(warned("shed.there"), 0);
    // Each part is looked at on its own, everything else granted.
    assert_eq!(warned("shed.there and (count r in shed.runs where r.long) <= 3"), 1);
    assert_eq!(warned("shed.there or shed.there and (count r in shed.runs) <= 3"), 1);
    assert_eq!(warned("shed.there and not (some r in shed.runs has r.long)"), 1);
    assert_eq!(warned("count r in shed.runs >= 1 and shed.there and count r in shed.runs <= 3"), 0);
    assert_eq!(warned("(every r in shed.runs has r.long) and (count r in shed.runs) <= 3"), 0);
    assert_eq!(warned("shed.there or every r in shed.runs has r.long"), 0);
}

#[test]
fn a7_alike_over_a_list_compares_every_record() {
    let papers = "fact shed.serial : text ask \"?\" list papers ask \"?\" field serial : optional text ask \"?\" field title : text ask \"?\" named by title";
    let rules = comes_out(
        papers,
        "alike shed.serial, every papers.serial",
        "try \"same\" shed.serial = \"0107\", papers = (serial = \"0107\"), (serial = \"0107\") => met
         try \"a zero lost\" shed.serial = \"0107\", papers = (serial = \"0107\"), (serial = \"107\") => unmet
         try \"two papers differ, plate unread\" papers = (serial = \"0107\"), (serial = \"107\") => unmet
         try \"one paper unread\" shed.serial = \"0107\", papers = (serial = \"0107\"), () => not-shown
         try \"a paper without one\" shed.serial = \"0107\", papers = (serial = \"0107\"), (serial = none) => met
         try \"no paper\" shed.serial = \"0107\", papers = empty => not-shown",
    );
    assert_eq!(verdict(&of_nothing(&rules), "mine/shed.door"), Verdict::NotShown);
}
