//! People's words: which was the last, where days are known only to the month,
//! and what somebody's word does who is not asked.

use crate::fixtures::projects::{file, read_project};
use crate::fixtures::values::nowhere;
use crate::lang::{OWN, audited, finding, load, mine, verdict};
use cotterpin_engine::audit::{Ahead, ConfirmationOutcome, Judge, MissingCause, Note, Notice, Reason};
use cotterpin_engine::ir::{ItemId, Rules};
use cotterpin_engine::project::{Confirmation, Record};
use cotterpin_engine::quantity::{Date, DateRange};
use cotterpin_engine::vocabulary::Verdict;

/// Asks the builder or the inspector; there are helpers as well.
fn asked() -> Rules {
    let item = format!("item shed.look \"t\" ask \"Is it free?\" need confirmed by builder or inspector {OWN}");
    load(&[mine(&format!("roles\n  helper \"Somebody who helps\"\n{item}"))])
}

/// One word: when, in what role, and whether it is so.
fn word(on: &str, role: &str, holds: bool) -> String {
    format!("[[confirmed]]\nitem = \"shed.look\"\nwho = \"Ada\"\nrole = \"{role}\"\non = \"{on}\"\nholds = {holds}\n")
}

fn comes_to(words: &[(&str, &str, bool)]) -> Verdict {
    let text: String = words.iter().map(|(on, role, holds)| word(on, role, *holds)).collect();
    verdict(&audited(&asked(), &text, "2026-11-25", None), "mine/shed.look")
}

#[test]
fn of_a_month_and_a_day_in_it_either_may_be_the_last() {
    for (words, expected) in [
        ([("2026-10", true), ("2026-10-10", false)], Verdict::NotShown),
        ([("2026", false), ("2026-10-10", true)], Verdict::NotShown),
        // The month is not over: the no may have been said by the 25th, the yes need not.
        ([("2026-11", false), ("2026-11-10", true)], Verdict::NotShown),
        ([("2026-11", true), ("2026-11-10", false)], Verdict::NotShown),
        ([("2026-10-10", true), ("2026-10-10", false)], Verdict::NotShown),
        ([("2026-11", true), ("2026-11", true)], Verdict::NotShown),
        // The order is certain.
        ([("2026-09", false), ("2026-10-10", true)], Verdict::Met),
        ([("2026-09", true), ("2026-10", false)], Verdict::Unmet),
        ([("2026-12", false), ("2026-11-10", true)], Verdict::Met),
        // Both say the same.
        ([("2026-10", true), ("2026-10-10", true)], Verdict::Met),
        ([("2026-11", true), ("2026-11-10", true)], Verdict::Met),
        ([("2026-11", false), ("2026-11-10", false)], Verdict::Unmet),
    ] {
        let words = words.map(|(on, holds)| (on, "builder", holds));
        assert_eq!(comes_to(&words), expected, "{words:?}");
    }
}

#[test]
fn a_no_of_somebody_not_asked_leaves_a_yes_before_it_open() {
    for (words, expected) in [
        (vec![("2026-10-10", "builder", true), ("2026-10-20", "helper", false)], Verdict::NotShown),
        (vec![("2026-10-10", "builder", true), ("2026-10", "helper", false)], Verdict::NotShown),
        (vec![("2026-10-10", "builder", true), ("2026-11", "helper", false)], Verdict::NotShown),
        // Somebody who is asked has looked again.
        (
            vec![("2026-10-10", "builder", true), ("2026-10-20", "helper", false), ("2026-10-21", "inspector", true)],
            Verdict::Met,
        ),
        (vec![("2026-10-10", "builder", true), ("2026-10-09", "helper", false)], Verdict::Met),
        // It decides nothing by itself, and a yes counts for nothing.
        (vec![("2026-10-20", "helper", false)], Verdict::NotShown),
        (vec![("2026-10-20", "helper", true)], Verdict::NotShown),
        (vec![("2026-10-10", "builder", false), ("2026-10-20", "helper", true)], Verdict::Unmet),
        (vec![("2026-10-10", "builder", false), ("2026-10-20", "helper", false)], Verdict::Unmet),
    ] {
        assert_eq!(comes_to(&words), expected, "{words:?}");
    }
}

#[test]
fn the_report_says_why_words_do_not_settle_it() {
    let says = |reason: &Reason, said: ConfirmationOutcome| reason.notes == [Note::Confirmation(said)];
    for (second, said, why) in [
        (("2026-10", "builder"), ConfirmationOutcome::Unclear, MissingCause::Contradicting),
        (("2026-10-20", "helper"), ConfirmationOutcome::Doubted, MissingCause::NoneSettles),
    ] {
        let text = word("2026-10-10", "builder", true) + &word(second.0, second.1, false);
        let audit = audited(&asked(), &text, "2026-11-25", None);
        let open = finding(&audit, "mine/shed.look");
        assert!(open.because.iter().any(|reason| says(reason, said)));
        assert!(open.missing.iter().any(|missing| missing.why == why), "{:?}", open.missing);
    }
    let audit = audited(&asked(), &word("2026-11", "builder", true), "2026-11-25", None);
    let open = finding(&audit, "mine/shed.look");
    assert_eq!(open.verdict, Verdict::NotShown);
    assert!(open.because.iter().any(|reason| says(reason, ConfirmationOutcome::NotYet)));
    assert!(open.missing.iter().any(|missing| missing.why == MissingCause::PerhapsToCome), "{:?}", open.missing);
    let text = word("2026-10-10", "builder", true) + &word("2026-11", "builder", false);
    let audit = audited(&asked(), &text, "2026-11-25", None);
    assert!(
        audit.notices.iter().any(|notice| matches!(notice, Notice::ConfirmationAhead(.., Ahead::PerhapsNot))),
        "{:?}",
        audit.notices
    );
}

/// The words of one world: each on one of its days, in one order.
fn world(said: &[(i32, bool, bool)]) -> Vec<Verdict> {
    let mut verdicts = Vec::new();
    let newest = said.iter().filter(|(_, asked, _)| *asked).map(|(day, ..)| *day).max();
    let Some(newest) = newest else { return vec![Verdict::NotShown] };
    // Of one day, any may have been the last.
    for (_, _, holds) in said.iter().filter(|(day, asked, _)| *asked && *day == newest) {
        let doubted = said.iter().any(|(day, asked, holds)| !asked && !holds && *day >= newest);
        verdicts.push(match holds {
            false => Verdict::Unmet,
            true if doubted => Verdict::NotShown,
            true => Verdict::Met,
        });
    }
    verdicts
}

/// A slow reference: three words, each of a few days, on every day that each may
/// have been said. What all these worlds agree on is the verdict, else it is open.
#[test]
fn a_verdict_stands_in_every_order_of_events() {
    let rules = asked();
    let item = ItemId::new(rules.items.len() - 1);
    let place = nowhere();
    let first = Date::new(2026, 6, 1).expect("a day").days();
    let spans = [(0, 0), (0, 2), (1, 1), (1, 3), (2, 2), (2, 4)];
    let kinds = [("builder", true), ("builder", false), ("helper", false)];
    let choices: Vec<(i32, i32, &str, bool)> =
        spans.iter().flat_map(|(a, b)| kinds.map(|(role, holds)| (*a, *b, role, holds))).collect();
    let today = 2;
    let mut seen = std::collections::BTreeMap::new();
    for one in &choices {
        for two in &choices {
            for three in &choices {
                let words = [one, two, three];
                let mut worlds: Vec<Vec<(i32, bool, bool)>> = vec![Vec::new()];
                for (from, to, role, holds) in words {
                    let mut more = Vec::new();
                    for world in &worlds {
                        for day in *from..=*to {
                            let mut world = world.clone();
                            world.extend((day <= today).then_some((day, *role == "builder", *holds)));
                            more.push(world);
                        }
                    }
                    worlds = more;
                }
                let mut all: Vec<Verdict> = worlds.iter().flat_map(|said| world(said)).collect();
                all.sort_by_key(|verdict| verdict.word());
                all.dedup();
                let expected = if let [only] = all.as_slice() { *only } else { Verdict::NotShown };
                let day = |n: i32| Date::from_days(first + n);
                let confirmations = words.map(|(from, to, role, holds)| Confirmation {
                    item: "shed.look".to_owned(),
                    subject: None,
                    who: "Ada".to_owned(),
                    role: (*role).to_owned(),
                    on: DateRange::new(day(*from), day(*to)).expect("a range"),
                    at: None,
                    holds: *holds,
                    note: None,
                    wording: None,
                    place,
                });
                let record = Record { confirmations: confirmations.to_vec(), ..Record::default() };
                let got = Judge::new(&rules, &record, day(today)).judge(item)[0].verdict;
                assert_eq!(got, expected, "{words:?}");
                *seen.entry(got.word()).or_insert(0u32) += 1;
            }
        }
    }
    assert_eq!(seen.len(), 3, "{seen:?}");
}

/// A word that fits no record would else be lost without a sound.
#[test]
fn a_word_that_names_no_record_is_remarked() {
    let seats = "list seats ask \"Each seat\" field name : text ask \"Which\" named by name\n";
    let item = format!("item shed.look for each seat in seats \"t\" ask \"?\" need confirmed by builder {OWN}");
    let rules = load(&[mine(&format!("{seats}{item}"))]);
    let said = |more: &str| {
        let text = format!("{}{more}[[seats]]\nname = \"left\"\n", word("2026-10-10", "builder", false));
        // Its reading tells of it as well, as a warning.
        let audit = read_project(&rules, "name = \"Shed\"\npacks = [\"./mine\"]\n", &[file("facts.toml", &text)], &[])
            .audited("2026-11-25");
        let remarks =
            audit.notices.iter().filter(|notice| matches!(notice, Notice::ConfirmationOfNoRecord(..))).count();
        (verdict(&audit, "mine/shed.look"), remarks)
    };
    assert_eq!(said(""), (Verdict::NotShown, 1));
    assert_eq!(said("of = \"Left\"\n"), (Verdict::NotShown, 1));
    assert_eq!(said("of = \"left\"\n"), (Verdict::Unmet, 0));
}
