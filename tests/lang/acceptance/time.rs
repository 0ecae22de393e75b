//! A5: time. The day is given; nothing here reads a clock.

use crate::lang::{OWN, audited, audited_with, come_out, comes_out, finding, header, mine, nowhere, verdict};
use cotterpin_engine::audit::{Note, Planned, PlannedDay, Remark};
use cotterpin_engine::quantity::Date;
use cotterpin_engine::vocabulary::Verdict;

const DAY: &str = "fact shed.tested : date ask \"When was it tested?\" such as \"2026-05-14\"\n";

fn not_on(what: PlannedDay) -> Remark {
    Remark::NotOnPlannedDay(Planned { what, on: "2026-06-01".into() })
}

#[test]
fn a5_the_audit_date_is_an_input() {
    let rules = comes_out(DAY, "shed.tested <= today", "try \"then\" on 2026-05-14, shed.tested = 2026-05-14 => met");
    let text = "[shed]\ntested = 2030-01-02\n";
    assert_eq!(verdict(&audited(&rules, text, "2030-01-01", None), "mine/shed.door"), Verdict::Unmet);
    assert_eq!(verdict(&audited(&rules, text, "2030-01-02", None), "mine/shed.door"), Verdict::Met);
    assert_eq!(audited(&rules, text, "2030-01-02", None).on, "2030-01-02");
}

/// 14 CFR 91.411 and 91.413 ask for tests "within the preceding 24 calendar
/// months"; that such months run to their end is how the authority reads the
/// phrase (from memory, not checked against a document).
#[test]
fn a5_calendar_months_run_to_the_end_of_the_month() {
    comes_out(
        DAY,
        "shed.tested is within the last 24 calendar months",
        "try \"last day\" on 2026-05-31, shed.tested = 2024-05-02 => met
         try \"a day too late\" on 2026-06-01, shed.tested = 2024-05-31 => unmet
         try \"month known only\" on 2026-05-31, shed.tested = 2024-05 => met
         try \"on the day\" on 2024-05-02, shed.tested = 2024-05-02 => met
         try \"not yet done\" on 2024-05-01, shed.tested = 2024-05-02 => unmet",
    );
    comes_out(
        DAY,
        "shed.tested + 24 calendar months is 2026-02-28",
        "try \"short month\" shed.tested = 2024-02-29 => met\n try \"any day of it\" shed.tested = 2024-02-01 => met",
    );
}

#[test]
fn a5_months_days_and_years_count_from_the_day() {
    comes_out(DAY, "shed.tested + 6 months is 2026-11-14", "try \"day\" shed.tested = 2026-05-14 => met");
    comes_out(DAY, "shed.tested + 30 days is 2026-03-02", "try \"days\" shed.tested = 2026-01-31 => met");
    comes_out(DAY, "shed.tested + 4 years is 2028-02-29", "try \"leap\" shed.tested = 2024-02-29 => met");
    comes_out(
        DAY,
        "today - shed.tested <= 30 days",
        "try \"30\" on 2026-01-31, shed.tested = 2026-01-01 => met\n try \"31\" on 2026-02-01, shed.tested = 2026-01-01 => unmet",
    );
    comes_out(
        DAY,
        "shed.tested is within the last 6 months",
        "try \"on it\" on 2026-11-14, shed.tested = 2026-05-14 => met
         try \"past\" on 2026-11-15, shed.tested = 2026-05-14 => unmet",
    );
}

#[test]
fn a5_where_a_month_has_no_such_day_the_sum_is_its_last_day_or_the_day_after() {
    // The day recorded, the span, the last day of that month, the day after, and the days before and behind both.
    for (day, span, around) in [
        ("2026-01-29", "1 months", ["2026-02-27", "2026-02-28", "2026-03-01", "2026-03-02"]),
        ("2026-01-30", "1 months", ["2026-02-27", "2026-02-28", "2026-03-01", "2026-03-02"]),
        ("2026-01-31", "1 months", ["2026-02-27", "2026-02-28", "2026-03-01", "2026-03-02"]),
        ("2024-01-30", "1 months", ["2024-02-28", "2024-02-29", "2024-03-01", "2024-03-02"]),
        ("2026-08-29", "6 months", ["2027-02-27", "2027-02-28", "2027-03-01", "2027-03-02"]),
        ("2026-08-31", "6 months", ["2027-02-27", "2027-02-28", "2027-03-01", "2027-03-02"]),
        ("2026-03-31", "1 months", ["2026-04-29", "2026-04-30", "2026-05-01", "2026-05-02"]),
        ("2026-05-31", "13 months", ["2027-06-29", "2027-06-30", "2027-07-01", "2027-07-02"]),
        ("2024-02-29", "1 years", ["2025-02-27", "2025-02-28", "2025-03-01", "2025-03-02"]),
        ("2024-02-29", "12 months", ["2025-02-27", "2025-02-28", "2025-03-01", "2025-03-02"]),
    ] {
        let [before, last, after, behind] = around;
        let on = |day: &str, verdict: &str| (day.to_owned(), verdict.to_owned());
        // Good for so long: to the last day surely, no longer than the day after.
        let due = [on(before, "met"), on(last, "met"), on(after, "not-shown"), on(behind, "unmet")];
        // Waited so long: from the day after surely, not before the last day.
        let waited = [on(before, "unmet"), on(last, "not-shown"), on(after, "met"), on(behind, "met")];
        for (need, verdicts) in [
            (format!("today <= shed.tested + {span}"), &due),
            (format!("shed.tested is within the last {span}"), &due),
            (format!("shed.tested + {span} <= today"), &waited),
        ] {
            let tries: Vec<String> = verdicts
                .iter()
                .map(|(today, verdict)| format!("try \"{today}\" on {today}, shed.tested = {day} => {verdict}"))
                .collect();
            comes_out(DAY, &need, &tries.join("\n"));
        }
    }
    // Back in time, and of a month known only.
    comes_out(
        DAY,
        "shed.tested - 1 months >= 2026-03-01",
        "try \"the day after\" shed.tested = 2026-04-01 => met
         try \"the last day or the day after\" shed.tested = 2026-03-31 => not-shown
         try \"before\" shed.tested = 2026-03-28 => unmet",
    );
    comes_out(
        DAY,
        "shed.tested + 1 months <= 2026-03-01",
        "try \"some day of January\" shed.tested = 2026-01 => met
         try \"some day of February\" shed.tested = 2026-02 => not-shown",
    );
}

#[test]
fn a5_the_finding_says_which_two_days_may_be_meant() {
    for (need, noted) in [
        ("shed.tested is within the last 6 months", true),
        ("today <= shed.tested + 6 months", true),
        ("today <= shed.tested + 6 calendar months + 1 days", false),
    ] {
        let rules = comes_out(DAY, need, "try \"nothing known\" => not-shown");
        let audit = audited(&rules, "[shed]\ntested = 2026-08-31\n", "2027-03-01", None);
        let door = finding(&audit, "mine/shed.door");
        let note = Note::EitherDay("2027-02-28".into(), "2027-03-01".into());
        assert_eq!(door.because[0].notes.contains(&note), noted, "{need}: {:?}", door.because);
        assert_eq!(door.verdict == Verdict::NotShown, noted, "{need}");
        assert!(door.missing.is_empty(), "{need}: {:?}", door.missing);
    }
}

#[test]
fn a5_the_rule_may_say_which_day_is_meant() {
    comes_out(
        DAY,
        "today <= shed.tested + 6 calendar months",
        "try \"last day\" on 2027-02-28, shed.tested = 2026-08-31 => met
         try \"the day after\" on 2027-03-01, shed.tested = 2026-08-31 => unmet",
    );
}

#[test]
fn a5_valid_today_not_on_the_day() {
    let rules = comes_out(
        DAY,
        "shed.tested is within the last 24 calendar months",
        "try \"both\" on 2026-05-01, visit 2026-05-31, shed.tested = 2024-05-14 => met
         try \"only today\" on 2026-05-01, visit 2026-06-01, shed.tested = 2024-05-14 => unmet",
    );
    let report = audited(&rules, "[shed]\ntested = 2024-05-14\n", "2026-05-01", Some("2026-06-01"));
    let door = finding(&report, "mine/shed.door");
    assert_eq!(door.verdict, Verdict::Unmet);
    assert!(door.notes.contains(&not_on(PlannedDay::Visit)), "{:?}", door.notes);
}

#[test]
fn a5_valid_at_the_visit_not_at_the_first_flight() {
    let rules = comes_out(
        DAY,
        "shed.tested is within the last 24 calendar months",
        "try \"good\" on 2026-05-01, shed.tested = 2024-05-14 => met",
    );
    let planned = |flight: &str| {
        let mut header = header(Some("2026-05-20"));
        header.planned.insert("first-flight".to_owned(), (Date::parse(flight).expect("a date"), nowhere()));
        audited_with(&rules, "[shed]\ntested = 2024-05-14\n", "2026-05-01", &header)
    };
    assert_eq!(finding(&planned("2026-05-31"), "mine/shed.door").verdict, Verdict::Met);
    let late = planned("2026-06-01");
    let door = finding(&late, "mine/shed.door");
    assert_eq!(door.verdict, Verdict::Unmet);
    assert!(door.notes.contains(&not_on(PlannedDay::FirstFlight)), "{:?}", door.notes);
    // A day that has passed is judged no more.
    assert_eq!(finding(&planned("2026-04-30"), "mine/shed.door").verdict, Verdict::Met);
}

#[test]
fn a5_a_visit_planned_for_some_day_of_a_month_is_judged_for_all_its_days() {
    comes_out(
        DAY,
        "shed.tested is within the last 6 months",
        "try \"runs out within it\" on 2026-10-01, visit 2026-11, shed.tested = 2026-05-14 => not-shown
         try \"good for all of it\" on 2026-10-01, visit 2026-11, shed.tested = 2026-05-30 => met
         try \"past before it\" on 2026-10-01, visit 2026-12, shed.tested = 2026-05-14 => unmet",
    );
}

#[test]
fn a5_rules_in_force_on_the_audit_date_are_used() {
    let rules = come_out(&[mine(&format!(
        "fact shed.width : length ask \"?\" such as \"2 in\"
         item shed.door \"old\" need shed.width >= 2 in {OWN} in force until 2025-12-31
           try \"then\" on 2025-12-31, shed.width = 2 in => met
         item shed.door \"new\" need shed.width >= 3 in {OWN} in force from 2026-01-01 until 2026-12-31
           try \"now\" on 2026-01-01, shed.width = 2 in => unmet
           try \"its own first day\" shed.width = 3 in => met
         item shed.door \"newest\" need shed.width >= 1 in {OWN} in force from 2027-01-01"
    ))]);
    let text = "[shed]\nwidth = \"2 in\"\n";
    for (day, title, verdict) in [
        ("2025-12-31", "old", Verdict::Met),
        ("2026-01-01", "new", Verdict::Unmet),
        ("2026-12-31", "new", Verdict::Unmet),
        ("2027-01-01", "newest", Verdict::Met),
    ] {
        let report = audited(&rules, text, day, None);
        let door = finding(&report, "mine/shed.door");
        assert_eq!((door.title.as_str(), door.verdict), (title, verdict), "{day}");
    }
}
