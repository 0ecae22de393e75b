//! A10, A12: sources, and worked examples.

use crate::fixtures::projects::audited;
use crate::lang::{OWN, codes, come_out, finding, load, mine, of_nothing, refused};
use cotterpin_engine::audit::Notice;
use cotterpin_engine::lint::run_examples;
use cotterpin_engine::project::Record;
use cotterpin_engine::report::pack_rows;
use cotterpin_engine::vocabulary::Mark;

const FACT: &str = "fact shed.width : length ask \"?\" such as \"2 in\"\n";

fn book(mark: &str) -> String {
    format!("source book \"A book of sheds\" number \"B-1\" edition \"2026\" issuer \"Nobody\" {mark}\n")
}

fn item(clauses: &str) -> String {
    format!("{FACT}item shed.door \"t\" need shed.width >= 2 in by visit {clauses}\n")
}

#[test]
fn a10_an_item_without_a_source_does_not_compile() {
    assert_eq!(codes(&refused(&[mine(&item("basis own"))]).1), ["item::no-source"]);
    let amend = crate::lang::pack("kit", &["mine"], "amend shed.door need shed.width >= 3 in basis kit");
    assert_eq!(codes(&refused(&[mine(&item("basis own cite common practice")), amend]).1), ["item::no-source"]);
    let table = "table t (w : text) gives most : length \"t\" row \"a\" : 1 in";
    assert_eq!(codes(&refused(&[mine(table)]).1), ["item::no-source"]);
}

#[test]
fn a10_a_pack_compared_with_its_sources_over_a_year_ago_is_told_once() {
    let compared = |edition: &str| {
        let mut pack = mine(&item("basis own cite common practice"));
        pack.manifest = pack.manifest.replace("edition = \"1\"", &format!("edition = \"{edition}\""));
        load(&[pack])
    };
    let told = |edition: &str, on: &str| {
        let audit = audited(&compared(edition), &Record::default(), on);
        audit.notices.iter().filter(|notice| matches!(notice, Notice::ComparedLongAgo(_))).count()
    };
    assert_eq!(told("2025-11-25", "2026-11-25"), 0);
    assert_eq!(told("2025-11-25", "2026-11-26"), 1);
    // Of an edition that is no day nobody knows.
    assert_eq!(told("1", "2026-11-26"), 0);
}

#[test]
fn a10_a_source_has_number_edition_issuer_and_mark() {
    for missing in ["number \"B-1\"", "edition \"2026\"", "issuer \"Nobody\"", "mark read"] {
        let text = format!("{}{}", book("mark read").replace(missing, ""), item("basis law cite book, \"1\""));
        assert!(codes(&refused(&[mine(&text)]).1).contains(&"source::incomplete"), "without {missing}");
    }
    let no_paragraph = format!("{}{}", book("mark read"), item("basis law cite book"));
    assert!(codes(&refused(&[mine(&no_paragraph)]).1).contains(&"syntax::unexpected"));
    let report =
        of_nothing(&load(&[mine(&format!("{}{}", book("mark read"), item("basis law cite book, \"page 3\"")))]));
    let cited = &finding(&report, "mine/shed.door").sources[0];
    let words = [&cited.title, &cited.number, &cited.edition, &cited.paragraph];
    assert_eq!(words, ["A book of sheds", "B-1", "2026", "page 3"]);
}

#[test]
fn a10_common_practice_says_so_in_the_report() {
    let report = of_nothing(&load(&[mine(&item("basis common practice cite common practice"))]));
    assert_eq!(finding(&report, "mine/shed.door").sources[0].mark, Mark::CommonPractice);
    assert!(cotterpin_engine::report::text(&report, 80).to_lowercase().contains("common practice"));
}

#[test]
fn a10_a_value_from_memory_is_marked_and_the_report_shows_the_mark() {
    for (source, cite, mark) in [
        ("mark memory", "", Mark::Memory),
        ("mark read", ", memory", Mark::Memory),
        ("mark quoted", "", Mark::Quoted),
        ("mark read on 2026-01-01", "", Mark::Read),
    ] {
        let text = format!("{}{}", book(source), item(&format!("basis law cite book, \"1\"{cite}")));
        let report = of_nothing(&load(&[mine(&text)]));
        assert_eq!(finding(&report, "mine/shed.door").sources[0].mark, mark);
        let shown = cotterpin_engine::report::text(&report, 80);
        assert_eq!(shown.contains("from memory"), mark == Mark::Memory, "{shown}");
    }
}

#[test]
fn a12_worked_examples_run_as_tests() {
    let rules = load(&[mine(&format!(
        "{} try \"right\" shed.width = 2 in => met\n try \"wrong\" shed.width = 1 in => met",
        item(OWN_TAIL)
    ))]);
    let results = run_examples(&rules);
    let told: Vec<_> = results.iter().map(|r| (r.example.as_str(), r.expected.word(), r.got.word())).collect();
    assert_eq!(told, [("right", "met", "met"), ("wrong", "met", "unmet")]);
    assert_eq!(rules.sources.place(results[1].place).file, "mine.checklist");
    assert!(results[1].because[0].expression.contains("shed.width >= 2 in"), "{:?}", results[1].because);
}

const OWN_TAIL: &str = "basis own cite common practice";

#[test]
fn a12_an_item_without_one_that_meets_it_and_one_that_fails_it_is_untried() {
    let untried = |tries: &str| {
        let rules = load(&[mine(&format!("{} {tries}", item(OWN_TAIL)))]);
        pack_rows(&rules).iter().any(|row| row.untried.iter().any(|item| item == "mine/shed.door"))
    };
    assert!(untried(""));
    assert!(untried("try \"a\" shed.width = 2 in => met"));
    assert!(untried("try \"a\" shed.width = 1 in => unmet"));
    assert!(untried("try \"a\" => not-shown"));
    assert!(!untried("try \"a\" shed.width = 2 in => met try \"b\" shed.width = 1 in => unmet"));
}

#[test]
fn a12_an_example_may_say_the_day_the_visit_and_the_evidence() {
    come_out(&[mine(&format!(
        "fact shed.day : date ask \"?\"
         item shed.door \"t\" need shed.day is within the last 12 months show photo of shed.day {OWN}
           try \"all\" on 2026-03-01, visit 2026-03-02, shed.day = 2026-01-01, photo of shed.day => met
           try \"late\" on 2026-03-01, visit 2027-03-02, shed.day = 2026-01-01, photo of shed.day => unmet"
    ))]);
}
