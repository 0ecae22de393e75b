//! A23: the wording of the day.

use super::state::of;
use crate::fixtures::projects::{file, read_project, request};
use crate::lang::{OWN, finding, load, mine};
use cotterpin_engine::audit::{Audit, NoDeferral, NoLeave, Notice, Remark, audit};
use cotterpin_engine::ir::Rules;
use cotterpin_engine::vocabulary::Verdict::{self, Conceded, Met, NotApplicable, NotShown, Unmet};

/// Until the end of June 2026 one is enough, from July two are asked.
fn rules(more: &str) -> Rules {
    let item = |need: &str, force: &str, by: &str| {
        format!(
            "item shed.door \"It is so\" ask \"Is it?\" need {need} by {by} basis own cite common practice in force {force}\n"
        )
    };
    let points = "hold-points continuing \"In service\"\nfact shed.bolts : count ask \"How many?\"\nfact shed.due : date ask \"Until when?\"\n";
    let two = |by: &str| {
        let (old, new) =
            (item("shed.bolts >= 1", "until 2026-06-30", by), item("shed.bolts >= 2", "from 2026-07-01", by));
        format!("{old}{new}")
    };
    let words = format!(
        "{}{}",
        item("confirmed by builder", "until 2026-06-30", "visit").replace("shed.door", "shed.word"),
        item("confirmed by builder", "from 2026-07-01", "visit").replace("shed.door", "shed.word")
    );
    let service = two("continuing").replace("shed.door", "shed.serviced");
    let ended = item("shed.bolts >= 1", "until 2026-01-31", "visit").replace("shed.door", "shed.ended");
    let to_come = item("shed.bolts >= 1", "from 2027-01-01", "visit").replace("shed.door", "shed.come");
    load(&[mine(&format!("{points}{}{words}{service}{ended}{to_come}{more}", two("visit")))])
}

fn state(rules: &Rules, planned: &str, facts: &str, on: &str) -> Audit {
    let project = format!(
        "name = \"Shed\"\npacks = [\"./shed\"]\n{planned}\n[people]\nrosa = {{ name = \"Rosa Example\", role = \"builder\" }}\n"
    );
    let read = read_project(rules, &project, &[file("facts.toml", facts)], &[]).clean();
    audit(rules, &read.record, &request(on))
}

const ONE: &str = "shed.bolts = 1\n";

#[test]
fn a23_an_item_is_judged_by_the_wording_in_force_on_its_hold_points_planned_day() {
    let rules = rules("");
    for (planned, on, verdict) in [
        // None planned: the day of the audit.
        ("", "2026-06-30", Met),
        ("", "2026-07-01", Unmet),
        ("visit = 2026-06-30", "2026-06-01", Met),
        ("visit = 2026-07-01", "2026-06-01", Unmet),
        // A day known to the month: each that may apply.
        ("visit = \"2026-06\"", "2026-06-01", Met),
        ("visit = \"2026-07\"", "2026-06-01", Unmet),
        ("visit = \"2026\"", "2026-06-01", Unmet),
        // A day that has passed plans nothing any more.
        ("visit = 2026-06-20", "2026-07-10", Unmet),
    ] {
        assert_eq!(of(&state(&rules, planned, ONE, on), "door"), verdict, "{planned} {on}");
    }
    let both = state(&rules, "visit = \"2026\"", ONE, "2026-06-01");
    assert_eq!(both.findings.iter().filter(|one| one.item == "mine/shed.door").count(), 1);
    assert!(finding(&both, "mine/shed.door").notes.contains(&Remark::EitherWording));
    assert_eq!(of(&state(&rules, "visit = \"2026\"", "shed.bolts = 2\n", "2026-06-01"), "door"), Met);
}

#[test]
fn a23_in_service_the_day_is_that_of_the_audit() {
    let rules = rules("");
    for (on, verdict) in [("2026-06-30", Met), ("2026-07-01", Unmet)] {
        let planned = "[hold-points]\ncontinuing = 2027-05-01";
        assert_eq!(of(&state(&rules, planned, ONE, on), "serviced"), verdict, "{on}");
    }
}

#[test]
fn a23_a_wording_that_ends_before_or_begins_after_does_not_apply_and_one_to_come_is_told() {
    let rules = rules("");
    let audit = state(&rules, "visit = 2026-06-20", ONE, "2026-06-01");
    assert_eq!((of(&audit, "ended"), of(&audit, "come")), (NotApplicable, NotApplicable));
    assert_eq!(finding(&audit, "mine/shed.ended").notes, [Remark::WordingUntil("2026-01-31".into())]);
    assert_eq!(finding(&audit, "mine/shed.come").notes, [Remark::WordingFrom("2027-01-01".into())]);
    assert!(finding(&audit, "mine/shed.door").notes.contains(&Remark::WordingFrom("2026-07-01".into())));
    let after = state(&rules, "", "shed.bolts = 2\n", "2026-07-02");
    assert!(finding(&after, "mine/shed.door").notes.is_empty());
    assert_eq!(after.findings.iter().filter(|one| one.item == "mine/shed.door").count(), 1);
}

#[test]
fn a23_a_word_leave_or_deferral_holds_for_the_wording_it_was_given_to() {
    let rules = rules("");
    let word = |on: &str, more: &str| {
        format!("[[confirmed]]\nitem = \"shed.word\"\nwho = \"Rosa Example\"\nrole = \"builder\"\non = {on}\n{more}\n")
    };
    for (text, planned, verdict) in [
        (word("2026-06-20", ""), "", NotShown),
        (word("2026-06-20", ""), "visit = 2026-07-20", NotShown),
        (word("2026-07-01", ""), "", Met),
        // Given ahead to the wording of the visit.
        (word("2026-06-20", "wording = 2026-07-01"), "visit = 2026-07-20", Met),
        // Some day of a month in which the wording changed.
        (word("\"2026\"", ""), "", NotShown),
    ] {
        assert_eq!(of(&state(&rules, planned, &text, "2026-07-02"), "word"), verdict, "{text} {planned}");
    }
    let told = state(&rules, "", &word("2026-06-20", ""), "2026-07-02");
    assert!(matches!(told.notices.as_slice(), [Notice::ConfirmationOfOtherWording(..)]), "{:?}", told.notices);
    let leave = |on: &str, more: &str| {
        format!(
            "{ONE}[[concession]]\nitem = \"shed.door\"\nreason = \"r\"\ngranted_by = \"Rosa Example\"\nrole = \"builder\"\non = {on}\nuntil = 2027-01-01\n{more}\n"
        )
    };
    for (text, verdict) in [
        (leave("2026-06-20", ""), Unmet),
        (leave("2026-07-01", ""), Conceded),
        (leave("2026-06-20", "wording = 2026-07-01"), Conceded),
    ] {
        let audit = state(&rules, "", &text, "2026-07-02");
        assert_eq!(of(&audit, "door"), verdict, "{text}");
        let told = audit.notices.iter().any(|one| matches!(one, Notice::Concession(_, NoLeave::OtherWording)));
        assert_eq!(told, verdict == Unmet, "{text}");
    }
    let put_off = "[[deferred]]\nitem = \"shed.word\"\nreason = \"r\"\nlimit = \"l\"\ntest = \"t\"\nwho = \"Rosa Example\"\non = 2026-06-20\nby = \"flight\"\n";
    assert!(finding(&state(&rules, "", put_off, "2026-07-02"), "mine/shed.word").deferred.is_none());
    let ahead = format!("{put_off}wording = 2026-07-01\n");
    assert!(finding(&state(&rules, "", &ahead, "2026-07-02"), "mine/shed.word").deferred.is_some());
    let reading = read_project(
        &rules,
        "name = \"Shed\"\npacks = [\"./shed\"]\n",
        &[file("facts.toml", word("2026-06-20", "wording = 2026-07-02"))],
        &[],
    );
    assert_eq!(reading.codes(), ["record::wording"]);
    let _: NoDeferral = NoDeferral::OtherWording;
}

#[test]
fn a23_amend_and_set_aside_apply_to_every_wording() {
    let rules = rules("");
    assert!(rules.items.iter().all(|item| item.added.is_empty()));
    let other = crate::fixtures::packs::pack(
        "other",
        &["mine"],
        "amend shed.door need shed.bolts <= 5 basis own cite common practice\n\
         set aside shed.word because \"no door\" basis own",
    );
    let text = "fact shed.bolts : count ask \"How many?\"\n\
        item shed.door \"a\" need shed.bolts >= 1 by visit basis own cite common practice in force until 2026-06-30\n\
        item shed.door \"b\" need shed.bolts >= 2 by visit basis own cite common practice in force from 2026-07-01\n\
        item shed.word \"a\" need shed.bolts >= 1 by visit basis own cite common practice in force until 2026-06-30\n\
        item shed.word \"b\" need shed.bolts >= 2 by visit basis own cite common practice in force from 2026-07-01\n";
    let rules = load(&[mine(text), other]);
    for on in ["2026-06-01", "2026-07-02"] {
        let audit = state(&rules, "", "shed.bolts = 6\n", on);
        assert_eq!(of(&audit, "door"), Unmet, "{on}");
        assert!(!finding(&audit, "mine/shed.word").set_aside.is_empty(), "{on}");
    }
    let _: (&str, Verdict) = (OWN, Met);
}

#[test]
fn a23_a_visit_known_to_the_month_that_has_begun_begins_today() {
    let rules = rules(&format!(
        "item shed.valid \"It is so\" need shed.due >= today and shed.due < 2026-06-15 or shed.due >= today {OWN}"
    ));
    for (due, verdict) in [("2026-06-30", Met), ("2026-06-20", NotShown), ("2026-06-05", Unmet)] {
        let audit = state(&rules, "visit = \"2026-06\"", &format!("shed.due = {due}\n"), "2026-06-10");
        assert_eq!(of(&audit, "valid"), verdict, "{due}");
    }
}
