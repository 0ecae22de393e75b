//! A1, A15: what is known, and what is only not known to be otherwise.

use crate::lang::{comes_out, of_nothing};
use cotterpin_engine::vocabulary::Verdict;

const WIDTH: &str = "fact shed.width : length, at least 0 in ask \"How wide?\" such as \"2 in\"";

#[test]
fn a1_a_recorded_point_is_one_value() {
    comes_out(
        WIDTH,
        "shed.width >= 2 in",
        "try \"on it\" shed.width = 2 in => met\n try \"below\" shed.width = 1.999 in => unmet",
    );
}

#[test]
fn a1_an_interval_is_all_values_between_its_ends() {
    comes_out(
        WIDTH,
        "shed.width >= 12 in",
        "try \"all of it above\" shed.width = 12.1 in ± 0.1 in => met
         try \"some of it below\" shed.width = 12.1 in ± 0.2 in => not-shown
         try \"all of it below\" shed.width = 11 in to 11.9 in => unmet
         try \"open above\" shed.width = at least 12 in => met
         try \"open above, too low\" shed.width = at least 11 in => not-shown",
    );
}

#[test]
fn a1_a_date_known_by_its_month_is_every_day_of_it() {
    comes_out(
        "fact shed.day : date ask \"When?\" such as \"2026-05\"",
        "shed.day <= 2026-05-31",
        "try \"some day of May\" shed.day = 2026-05 => met
         try \"some day of June\" shed.day = 2026-06 => unmet
         try \"some day of the year\" shed.day = 2026 => not-shown",
    );
}

#[test]
fn a1_a_fact_not_recorded_is_every_value() {
    let facts = format!(
        "{WIDTH}
         fact shed.day : date ask \"?\"
         fact shed.colour : red or blue ask \"?\"
         fact shed.there : yes or no ask \"?\"
         fact shed.name : text ask \"?\"
         fact shed.doors : count ask \"?\""
    );
    for need in [
        "shed.width >= 2 in",
        "shed.day <= 2026-01-01",
        "shed.colour is red",
        "shed.there",
        "shed.name is \"x\"",
        "shed.doors >= 1",
    ] {
        comes_out(&facts, need, "try \"nothing\" => not-shown");
        comes_out(&facts, &format!("not ({need})"), "try \"nothing\" => not-shown");
    }
}

#[test]
fn a1_a_fact_known_to_be_absent_compares_with_nothing() {
    let fact = "fact shed.width : optional length ask \"?\" such as \"none\"
                fact shed.word : optional text ask \"?\"
                fact shed.kind : optional red or blue ask \"?\"";
    for need in
        ["shed.width > 3 in", "shed.width <= 3 in", "shed.word is \"x\"", "shed.kind is red", "shed.kind is not red"]
    {
        comes_out(fact, need, "try \"none\" shed.width = none, shed.word = none, shed.kind = none => not-shown");
    }
    comes_out(
        fact,
        "shed.width is none or shed.width > 3 in",
        "try \"none\" shed.width = none => met
         try \"short\" shed.width = 2 in => unmet
         try \"unknown\" => not-shown",
    );
}

#[test]
fn a15_unmet_is_what_the_record_contradicts_and_not_shown_what_it_leaves_open() {
    let rules = comes_out(
        WIDTH,
        "shed.width >= 2 in",
        "try \"contradicted\" shed.width = 1 in => unmet
         try \"nothing recorded\" => not-shown
         try \"not precise enough\" shed.width = 2 in ± 1 in => not-shown",
    );
    let report = of_nothing(&rules);
    assert_eq!((report.summary.not_shown, report.summary.unmet, report.summary.met), (1, 0, 0));
    assert_ne!(Verdict::Unmet.word(), Verdict::NotShown.word());
}

#[test]
fn a15_an_inspection_not_logged_is_not_shown() {
    for need in ["inspected shed.roof by 2 people", "tested shed.roof", "measured shed.roof"] {
        comes_out("subjects shed.roof \"Roof\"", need, "try \"nothing logged\" => not-shown");
    }
}
