//! A19: off is off. A17: what puts another part in its place, and the day that a value names.

use super::state::{FACTS, of, rules, state};
use cotterpin_engine::vocabulary::Verdict::{Met, NotApplicable, NotShown};

const GOOD: &str = "2026-05-01 removed propeller for = \"good\"";

#[test]
fn a19_an_entry_that_says_how_a_part_is_fitted_puts_it_back_as_a_refit_does() {
    let rules = rules();
    let off = "2026-05-01 removed engine.lines";
    let back = "2026-05-03 measured engine.lines fit = \"final\"";
    let bench = "2026-05-02 inspected engine.lines";
    assert_eq!(of(&state(&rules, "", &[bench]), "looked"), Met);
    assert_eq!(of(&state(&rules, "", &[off, bench, back]), "looked"), NotShown);
    assert_eq!(of(&state(&rules, "", &[off, back, "2026-05-04 inspected engine.lines"]), "looked"), Met);
    // Inspected as it is put back, it is inspected in its place.
    assert_eq!(of(&state(&rules, "", &[off, "2026-05-03 inspected engine.lines fit = \"final\""]), "looked"), Met);
    // Of a month nobody knows which of two came first.
    let month = ["2026-05 inspected engine.lines fit = \"final\"", "2026-05 adjusted engine.lines"];
    assert_eq!(of(&state(&rules, "", &[off, month[0], month[1]]), "looked"), NotShown);
    for (on, verdict) in [("2026-05-02", NotShown), ("2026-05-04", Met)] {
        let facts = format!("[shed]\nleaks = false\ndated = {on}\n");
        assert_eq!(of(&state(&rules, &facts, &[off, back]), "fitted"), verdict, "{on}");
    }
    // What was not off is not put back.
    assert_eq!(of(&state(&rules, FACTS, &[back]), "fitted"), Met);
    assert_eq!(
        of(
            &state(&rules, FACTS, &["2026-03-01 removed engine.lines", "2026-03-02 refitted engine.lines", back]),
            "fitted"
        ),
        Met
    );
}

#[test]
fn a17_whatever_is_put_back_after_a_removal_for_good_is_another_one() {
    let rules = rules();
    let itself = |log: &[&str]| of(&state(&rules, FACTS, log), "itself");
    assert_eq!(itself(&["2026-05-01 removed propeller", "2026-05-03 refitted propeller"]), Met);
    assert_eq!(itself(&[GOOD, "2026-05-03 refitted propeller"]), NotShown);
    assert_eq!(itself(&[GOOD, "2026-05-03 inspected propeller fit = \"final\""]), NotShown);
    // Nothing says that it came back between the two.
    assert_eq!(itself(&[GOOD, "2026-05-02 removed propeller", "2026-05-03 refitted propeller"]), NotShown);
    let again = ["2026-04-02 removed propeller", "2026-04-03 refitted propeller"];
    assert_eq!(itself(&[&GOOD.replace("05-01", "03-01"), "2026-03-02 refitted propeller", again[0], again[1]]), Met);
}

#[test]
fn a19_without_a_part_for_good_is_only_what_no_later_entry_may_have_put_back() {
    let rules = rules();
    let itself = |log: &[&str]| of(&state(&rules, FACTS, log), "itself");
    assert_eq!(itself(&[GOOD]), NotApplicable);
    assert_eq!(itself(&[GOOD, "2026-06 removed propeller for = \"good\""]), NotApplicable);
    // Taken off again, so it must have come back.
    let month = GOOD.replace("2026-05-01", "2026-05");
    assert_eq!(itself(&[&month, "2026-05-20 removed propeller"]), Met);
    assert_eq!(itself(&["2026-05-01 removed propeller", &GOOD.replace("05-01", "05-02")]), NotApplicable);
}

#[test]
fn a17_a_value_that_is_a_day_is_of_that_day_unless_it_may_have_been_written_before() {
    let rules = rules();
    for (value, dated, verdict) in [
        ("2026-05-20", "", Met),
        ("2026-05-20", "2026-05-21", Met),
        ("2026-05-20", "2026-05-05", NotShown),
        ("2026-05-20", "\"2026-05\"", NotShown),
        ("2026-05-05", "2026-05-20", NotShown),
        // Still to come; written on a day to come, it is not known yet.
        ("2026-09-01", "", Met),
        ("\"2026-09\"", "2026-09-05", NotShown),
    ] {
        let dated = if dated.is_empty() { String::new() } else { format!("dated = {dated}\n") };
        let facts = format!("[shed]\ntested = {value}\n{dated}");
        let audit = state(&rules, &facts, &["2026-05-10 adjusted engine.lines"]);
        assert_eq!(of(&audit, "test"), verdict, "{facts}");
    }
}
