//! A18: a list is whole only if somebody says so. A28: one record may stand for many.

use crate::fixtures::packs::refused;
use crate::fixtures::projects::{file, read_project, request};
use crate::fixtures::values::day;
use crate::lang::{OWN, come_out, comes_out, finding, load, mine};
use cotterpin_engine::audit::{Audit, FindingKind, MissingCause, MissingKind, ObservedValue, Remark, Request, audit};
use cotterpin_engine::ir::Rules;
use cotterpin_engine::plan::{self, plan};
use cotterpin_engine::project::{Record, Whole};
use cotterpin_engine::vocabulary::{Basis, Mark, Verdict};

const RUNS: &str = "list shed.runs ask \"Each run\"
  field name : text ask \"What?\"
  field amps : current, at least 0 A ask \"How much?\" such as \"1 A\"
  field drop : voltage ask \"How much is lost?\" such as \"0.1 V\"
  field long : yes or no ask \"Is it long?\"
  field made : text ask \"By whom?\"
  named by name\n";

/// `project.toml` of a project of two people.
const PROJECT: &str =
    "name = \"Shed\"\npacks = [\"./shed\"]\n[people]\nrosa = { name = \"Rosa Example\", role = \"builder\" }\n";

/// Judged as it is recorded, with no list taken to be whole.
fn as_recorded(rules: &Rules, facts: &str, on: &str) -> Audit {
    // A word about the log alone keeps the fixtures from saying anything of the lists.
    let text = if facts.contains("[whole]") {
        facts.to_owned()
    } else {
        format!("{facts}\n[whole]\nlog = {{ entries = 0, up_to = 2020-01-01, who = \"rosa\", on = 2020-01-01 }}\n")
    };
    let read = read_project(rules, PROJECT, &[file("facts.toml", text)], &[]).clean();
    audit(rules, &read.record, &request(on))
}

fn item(need: &str) -> Rules {
    load(&[mine(&format!("{RUNS}item shed.door \"It is so\" need {need} {OWN}"))])
}

fn door(rules: &Rules, facts: &str) -> Verdict {
    finding(&as_recorded(rules, facts, "2026-06-01"), "mine/shed.door").verdict
}

const TWO: &str = "[[shed.runs]]\nname = \"a\"\namps = \"2 A\"\ndrop = \"0.1 V\"\nlong = true\nmade = \"x\"\n\
    [[shed.runs]]\nname = \"b\"\namps = \"5 A\"\ndrop = \"0.2 V\"\nlong = false\nmade = \"x\"\n";

#[test]
fn a18_what_is_recorded_stands_for_every_list_that_has_those_records() {
    use Verdict::{Met, NotShown, Unmet};
    for (need, verdict) in [
        ("some r in shed.runs has r.amps >= 5 A", Met),
        ("some r in shed.runs has r.amps >= 6 A", NotShown),
        ("every r in shed.runs has r.amps >= 2 A", NotShown),
        ("every r in shed.runs has r.amps >= 3 A", Unmet),
        ("every r in shed.runs where r.long has r.amps >= 3 A", Unmet),
        ("every r in shed.runs where r.long has r.amps >= 2 A", NotShown),
        ("count r in shed.runs >= 2", Met),
        ("count r in shed.runs >= 3", NotShown),
        ("count r in shed.runs <= 1", Unmet),
        ("count r in shed.runs is 2", NotShown),
        ("(count r in shed.runs where r.amps > 2 A) >= 1", Met),
        ("(sum of r.amps for r in shed.runs) >= 7 A", Met),
        ("(sum of r.amps for r in shed.runs) > 7 A", NotShown),
        ("(sum of r.amps for r in shed.runs) < 7 A", Unmet),
        ("(sum of r.amps for r in shed.runs where r.long) >= 2 A", Met),
        ("(sum of 2 * r.amps for r in shed.runs) >= 14 A", Met),
        // A drop may be negative.
        ("(sum of r.drop for r in shed.runs) >= 0.3 V", NotShown),
        ("(sum of r.amps for r in shed.runs or 9 A if empty) >= 7 A", Met),
        ("(least of r.amps for r in shed.runs) <= 2 A", Met),
        ("(least of r.amps for r in shed.runs) >= 2 A", NotShown),
        ("(least of r.amps for r in shed.runs) > 2 A", Unmet),
        ("(greatest of r.amps for r in shed.runs) >= 5 A", Met),
        ("(greatest of r.amps for r in shed.runs) <= 5 A", NotShown),
        ("(greatest of r.amps for r in shed.runs) < 5 A", Unmet),
        ("(mean of r.amps weighted by 1 for r in shed.runs) is 3.5 A", NotShown),
        ("alike every shed.runs.made", NotShown),
        ("alike every shed.runs.name", Unmet),
    ] {
        let rules = item(need);
        assert_eq!(door(&rules, TWO), verdict, "{need}");
        // With the word it is decided, and never the other way.
        let word = "[whole]\n\"shed.runs\" = { records = [\"b\", \"a\"], who = \"rosa\", on = 2026-05-01 }\n";
        let whole = door(&rules, &format!("{TWO}{word}"));
        assert!(whole != NotShown && (verdict == NotShown || whole == verdict), "{need}: {whole:?}");
    }
}

#[test]
fn a18_a_list_that_nobody_began_shows_nothing() {
    for need in [
        "some r in shed.runs has r.amps >= 5 A",
        "every r in shed.runs has r.amps >= 2 A",
        "count r in shed.runs is 0",
        "(sum of r.amps for r in shed.runs) >= 0 A",
        "(sum of r.amps for r in shed.runs or 3 A if empty) is 3 A",
        "(least of r.amps for r in shed.runs) <= 2 A",
        "alike every shed.runs.made",
    ] {
        for facts in ["", "shed.runs = []\n"] {
            assert_eq!(door(&item(need), facts), Verdict::NotShown, "{need} {facts:?}");
        }
    }
}

#[test]
fn a18_whole_with_none_some_is_false_count_is_zero_and_items_per_record_do_not_apply() {
    use Verdict::{Met, NotShown, Unmet};
    let none = "[whole]\n\"shed.runs\" = { records = [], who = \"rosa\", on = 2026-05-01 }\n";
    for (need, verdict) in [
        ("some r in shed.runs has r.long", Unmet),
        ("count r in shed.runs is 0", Met),
        ("every r in shed.runs has r.long", NotShown),
        ("(least of r.amps for r in shed.runs) <= 2 A", NotShown),
        ("(greatest of r.amps for r in shed.runs) >= 0 A", NotShown),
        ("(mean of r.amps weighted by 1 for r in shed.runs) >= 0 A", NotShown),
        ("(sum of r.amps for r in shed.runs) >= 0 A", NotShown),
        ("(sum of r.amps for r in shed.runs or 3 A if empty) is 3 A", Met),
    ] {
        assert_eq!(door(&item(need), none), verdict, "{need}");
    }
    // What was said is shown: none, and not that nothing is recorded.
    let report = as_recorded(&item("count r in shed.runs >= 1"), none, "2026-06-01");
    let seen = &finding(&report, "mine/shed.door").because[0].values[0];
    assert_eq!((seen.name.as_str(), &seen.value), ("shed.runs", &ObservedValue::Records(0)));
    let rules = load(&[mine(&format!("{RUNS}item shed.run for each r in shed.runs \"It is so\" need r.long {OWN}"))]);
    let report = as_recorded(&rules, none, "2026-06-01");
    assert_eq!(finding(&report, "mine/shed.run").verdict, Verdict::NotApplicable);
    assert_eq!(report.findings.len(), 1, "the list is whole");
}

#[test]
fn a18_the_word_holds_the_records_and_says_which_came_or_went() {
    let rules = item("every r in shed.runs has r.amps >= 2 A");
    let with = |records: &str, on: &str| {
        let word = format!("{TWO}[whole]\n\"shed.runs\" = {{ records = {records}, who = \"rosa\", on = {on} }}\n");
        as_recorded(&rules, &word, "2026-06-01")
    };
    assert_eq!(finding(&with("[\"a\", \"b\"]", "2026-06-01"), "mine/shed.door").verdict, Verdict::Met);
    for (records, on, came, went) in [
        ("[\"a\"]", "2026-05-01", vec!["b"], vec![]),
        ("[\"a\", \"b\", \"c\"]", "2026-05-01", vec![], vec!["c"]),
        ("[\"a\", \"c\"]", "2026-05-01", vec!["b"], vec!["c"]),
        ("[\"a\", \"b\", \"b\"]", "2026-05-01", vec![], vec![]),
    ] {
        let report = with(records, on);
        assert_eq!(finding(&report, "mine/shed.door").verdict, Verdict::NotShown, "{records}");
        let MissingCause::WholeOfOthers { came: others_came, went: others_went } =
            &finding(&report, "shed.runs").missing[0].why
        else {
            panic!("{:#?}", finding(&report, "shed.runs"));
        };
        assert_eq!(
            (&others_came[..], &others_went[..]),
            (
                &came.iter().map(ToString::to_string).collect::<Vec<_>>()[..],
                &went.iter().map(ToString::to_string).collect::<Vec<_>>()[..]
            )
        );
    }
    // A day that may be after the audit.
    for on in ["2026-06-02", "\"2026-06\""] {
        let report = with("[\"a\", \"b\"]", on);
        assert_eq!(finding(&report, "mine/shed.door").verdict, Verdict::NotShown, "{on}");
        assert_eq!(finding(&report, "shed.runs").missing[0].why, MissingCause::WholePerhapsToCome);
    }
}

#[test]
fn a18_the_word_is_by_somebody_whom_people_names() {
    let rules = item("every r in shed.runs has r.amps >= 2 A");
    for (word, code) in [
        ("\"shed.runs\" = { records = [\"a\", \"b\"], who = \"tomas\", on = 2026-05-01 }", "log::who"),
        ("\"shed.runs\" = { records = [\"a\", \"b\"], on = 2026-05-01 }", "record::missing"),
        ("\"shed.runs\" = { records = [\"a\", \"b\"], who = \"rosa\" }", "record::missing"),
        ("\"shed.runs\" = { records = \"all\", who = \"rosa\", on = 2026-05-01 }", "record::form"),
        ("\"shed.runs\" = { records = [1, 2], who = \"rosa\", on = 2026-05-01 }", "record::form"),
        ("\"shed.runs\" = true", "record::form"),
        ("shed.runs = { records = [\"a\", \"b\"], who = \"rosa\", on = 2026-05-01 }", "record::form"),
        ("\"shed.run\" = { records = [], who = \"rosa\", on = 2026-05-01 }", "fact::unknown"),
        ("log = { entries = -1, up_to = 2026-05-01, who = \"rosa\", on = 2026-05-01 }", "record::form"),
    ] {
        let text = format!("{TWO}[whole]\n{word}\n");
        let read = read_project(&rules, PROJECT, &[file("facts.toml", &text)], &[]);
        assert_eq!(read.codes(), [code], "{word}");
        assert!(read.record.whole.values().all(|whole| *whole == Whole::Given), "{word}");
    }
    let twice = "[whole]\n\"shed.runs\" = { records = [], who = \"rosa\", on = 2026-05-01 }\n";
    let read = read_project(&rules, PROJECT, &[file("a.toml", twice), file("b.toml", twice)], &[]);
    assert_eq!(read.codes(), ["fact::twice"]);
}

/// Two items per record and one over all of them.
fn three() -> Rules {
    load(&[mine(&format!(
        "fact shed.wired : yes or no ask \"Is it wired?\"\n{RUNS}
         item shed.first for each r in shed.runs \"It is so\" when shed.wired need r.long by flight stops the visit basis own cite common practice
         item shed.second for each r in shed.runs \"It is so\" need r.amps <= 9 A {OWN}
         item shed.all \"They are so\" need every r in shed.runs has r.amps <= 9 A by flight basis own cite common practice
         item shed.any \"One is so\" need some r in shed.runs has r.amps >= 8 A by flight basis own cite common practice"
    ))])
}

#[test]
fn a18_over_a_list_with_neither_record_nor_word_items_per_record_raise_nothing_and_the_list_is_one_finding() {
    let rules = three();
    let report = as_recorded(&rules, "", "2026-06-01");
    let told: Vec<&str> = report.findings.iter().map(|finding| finding.item.as_str()).collect();
    assert_eq!(told.len(), 3, "{told:?}");
    let list = finding(&report, "shed.runs");
    assert_eq!(
        (list.kind, list.verdict, list.basis),
        (FindingKind::WholeList, Verdict::NotShown, Basis::CommonPractice)
    );
    assert_eq!(list.sources[0].mark, Mark::CommonPractice);
    // Due at the earliest of those that wait, and the visit hangs on it if it hangs on one of them.
    assert_eq!((list.by.as_str(), list.stops_the_visit), ("visit", true));
    assert_eq!(list.missing[0].kind, MissingKind::List);
    let waiting: Vec<&str> = list.waiting.iter().map(|one| one.item.as_str()).collect();
    assert_eq!(waiting, ["mine/shed.all", "mine/shed.any", "mine/shed.first", "mine/shed.second"]);
    // Of what certainly does not apply nothing is asked.
    let report = as_recorded(&rules, "shed.wired = false\n", "2026-06-01");
    let list = finding(&report, "shed.runs");
    assert!(!list.stops_the_visit && list.waiting.iter().all(|one| one.item != "mine/shed.first"));
}

#[test]
fn a18_with_records_those_are_judged_and_the_list_still_asks() {
    let rules = three();
    let report = as_recorded(&rules, &format!("shed.wired = true\n{TWO}"), "2026-06-01");
    let of = |item: &str, subject: &str| {
        let found = report.findings.iter().find(|f| f.item == item && f.subject.as_deref() == Some(subject));
        found.map(|finding| finding.verdict)
    };
    assert_eq!((of("mine/shed.first", "a"), of("mine/shed.first", "b")), (Some(Verdict::Met), Some(Verdict::Unmet)));
    assert_eq!(finding(&report, "shed.runs").missing[0].why, MissingCause::NotSaidWhole);
    // What the word alone would make met stands under the list; what it would make unmet is told by itself.
    let all = finding(&report, "mine/shed.all");
    assert_eq!((all.verdict, all.waits_for.as_deref()), (Verdict::NotShown, Some("shed.runs")));
    let any = finding(&report, "mine/shed.any");
    assert_eq!((any.verdict, any.waits_for.as_deref()), (Verdict::NotShown, None));
    assert_eq!(any.notes, [Remark::UnmetIfWhole("shed.runs".to_owned())]);
    let text = cotterpin_engine::report::text(&report, 80);
    assert!(text.contains("Are these all of them? Each run.") && text.contains("met with it mine/shed.all."), "{text}");
    assert!(!text.contains("item        mine/shed.all"), "told under the list alone: {text}");
    // Nothing waits any more: no finding.
    let word = "[whole]\n\"shed.runs\" = { records = [\"a\", \"b\"], who = \"rosa\", on = 2026-05-01 }\n";
    let report = as_recorded(&rules, &format!("{TWO}{word}"), "2026-06-01");
    assert!(report.findings.iter().all(|finding| finding.kind == FindingKind::Item));
    assert_eq!(finding(&report, "mine/shed.any").verdict, Verdict::Unmet);
}

#[test]
fn a18_what_the_word_would_make_unmet_is_told_by_itself() {
    let rules = three();
    let report = as_recorded(&rules, "", "2026-06-01");
    let any = finding(&report, "mine/shed.any");
    assert_eq!((any.verdict, any.waits_for.as_deref()), (Verdict::NotShown, None));
    let text = cotterpin_engine::report::text(&report, 80);
    assert!(text.contains("item        mine/shed.any"), "{text}");
    let none = "[whole]\n\"shed.runs\" = { records = [], who = \"rosa\", on = 2026-05-01 }\n";
    let any = finding(&as_recorded(&rules, none, "2026-06-01"), "mine/shed.any").clone();
    assert_eq!((any.verdict, any.waits_for), (Verdict::Unmet, None));
}

#[test]
fn a18_nobody_can_concede_or_set_aside_whether_a_list_is_whole() {
    let rules = three();
    let leave = "[[concession]]\nitem = \"shed.runs\"\nreason = \"few\"\ngranted_by = \"B. Inspector\"\nrole = \"inspector\"\n\
        on = 2026-05-01\nuntil = 2027-05-01\n";
    let report = as_recorded(&rules, leave, "2026-06-01");
    assert_eq!(finding(&report, "shed.runs").verdict, Verdict::NotShown);
    let told = cotterpin_engine::report::json(&report);
    assert!(report.notices.len() == 1 && told.contains("nobody can concede this"), "{:?}", report.notices);
}

#[test]
fn a18_a_list_of_an_example_is_whole_unless_it_says_and_maybe_more() {
    comes_out(
        RUNS,
        "every r in shed.runs has r.amps <= 9 A",
        "try \"all\" shed.runs = (name = \"a\", amps = 2 A) => met
         try \"perhaps not\" shed.runs = (name = \"a\", amps = 2 A) and maybe more => not-shown
         try \"one fails\" shed.runs = (name = \"a\", amps = 12 A) and maybe more => unmet
         try \"not mentioned\" => not-shown",
    );
    come_out(&[mine(&format!(
        "{RUNS}item shed.run for each r in shed.runs \"It is so\" need r.amps <= 9 A {OWN}
         try \"this one\" shed.runs = (name = \"a\", amps = 2 A) and maybe more => met
         try \"none\" shed.runs = empty => not-applicable
         try \"not mentioned\" => not-shown"
    ))]);
}

const LOG: &str = "subjects shed.web \"The web\"
list log.snags ask \"Each snag\"
  field snag : text ask \"Its number\"
  field cleared : optional date ask \"When?\"
  named by snag\n";

#[test]
fn a18_lists_the_log_keeps_are_as_whole_as_the_log() {
    let rules = load(&[mine(&format!(
        "{LOG}item shed.snags for each s in log.snags \"It is cleared\" need s.cleared is not none {OWN}
         item shed.none \"There is none\" need (count s in log.snags) is 0 {OWN}"
    ))]);
    let entry = |on: &str| {
        format!("[[log]]\non = {on}\nwhat = \"work done\"\nsubject = \"shed.web\"\nwho = \"rosa\"\nnote = \"glued\"\n")
    };
    let word = |entries: usize, up_to: &str, on: &str| {
        format!("[whole]\nlog = {{ entries = {entries}, up_to = {up_to}, who = \"rosa\", on = {on} }}\n")
    };
    let judge = |log: &str, word: &str| as_recorded(&rules, &format!("{log}{word}"), "2026-06-01");
    let one = entry("2026-05-03");
    let whole = judge(&one, &word(1, "2026-05-10", "2026-05-10"));
    assert_eq!(finding(&whole, "mine/shed.none").verdict, Verdict::Met);
    assert_eq!(finding(&whole, "mine/shed.snags").verdict, Verdict::NotApplicable);
    // One finding, whatever the number of lists.
    let unsaid = judge(&one, &word(0, "2020-01-01", "2020-01-01"));
    let list = finding(&unsaid, "log");
    assert_eq!((list.kind, list.by.as_str(), list.waiting.len()), (FindingKind::WholeList, "visit", 2));
    for (log, word, why) in [
        (entry("2026-05-11"), word(0, "2026-05-10", "2026-05-10"), "a later day"),
        (format!("{one}{}", entry("2026-05-04")), word(1, "2026-05-10", "2026-05-10"), "one added"),
        (entry("\"2026-05\""), word(1, "2026-05-10", "2026-05-10"), "some day of the month"),
        (one.clone(), word(1, "2026-05-10", "2026-06-02"), "said after the audit"),
        (one.clone(), word(1, "2026-05-20", "2026-05-10"), "said of days to come"),
    ] {
        assert_eq!(finding(&judge(&log, &word), "mine/shed.none").verdict, Verdict::NotShown, "{why}");
    }
    // What comes after the audit is not yet there.
    let later = judge(&format!("{one}{}", entry("2026-07-01")), &word(1, "2026-05-10", "2026-05-10"));
    assert_eq!(finding(&later, "mine/shed.none").verdict, Verdict::Met);
}

const SCREWS: &str = "list shed.screws ask \"Each screw\"
  field name : text ask \"Which?\"
  field grip : length, at least 0 in ask \"How long?\"
  field tight : yes or no ask \"Is it tight?\"
  named by name
  many alike\n";

#[test]
fn a28_a_record_may_stand_for_many_one_for_every_so_many_for_count() {
    let many = "shed.screws = (name = \"cover\", grip = 1 in, tight = yes, how_many = 48), (name = \"odd\", grip = 3 in, tight = yes)";
    for (need, verdict) in [
        ("count s in shed.screws is 49", "met"),
        ("count s in shed.screws is 2", "unmet"),
        ("(count s in shed.screws where s.grip < 2 in) is 48", "met"),
        ("sum of s.grip for s in shed.screws is 51 in", "met"),
        ("(mean of s.grip weighted by 1 for s in shed.screws) is 51/49 in", "met"),
        ("every s in shed.screws has s.tight", "met"),
        ("some s in shed.screws has s.grip >= 3 in", "met"),
        ("least of s.grip for s in shed.screws is 1 in", "met"),
        ("greatest of s.grip for s in shed.screws is 3 in", "met"),
        ("alike every shed.screws.name", "unmet"),
    ] {
        comes_out(SCREWS, need, &format!("try \"many\" {many} => {verdict}"));
    }
    // Of one that is not known it is known at least that there are so many.
    let open = "shed.screws = (name = \"cover\", how_many = 48) and maybe more";
    comes_out(SCREWS, "count s in shed.screws >= 48", &format!("try \"open\" {open} => met"));
    comes_out(SCREWS, "count s in shed.screws >= 49", &format!("try \"open\" {open} => not-shown"));
}

#[test]
fn a28_it_is_one_finding() {
    let rules =
        load(&[mine(&format!("{SCREWS}item shed.screw for each s in shed.screws \"It is tight\" need s.tight {OWN}"))]);
    let report = as_recorded(&rules, "[[shed.screws]]\nname = \"cover\"\ntight = true\nhow_many = 48\n", "2026-06-01");
    assert_eq!(report.findings.iter().filter(|finding| finding.item == "mine/shed.screw").count(), 1);
}

#[test]
fn a28_only_where_the_pack_allows_it_and_a_whole_number_from_one() {
    let rules = load(&[mine(&format!(
        "{SCREWS}{RUNS}item shed.screw for each s in shed.screws \"It is tight\" need s.tight {OWN}"
    ))]);
    for (list, how_many) in [
        ("shed.runs", "48"),
        ("shed.runs", "1"),
        ("shed.screws", "0"),
        ("shed.screws", "-1"),
        ("shed.screws", "2.5"),
        ("shed.screws", "\"48\""),
        ("shed.screws", "4294967296"),
    ] {
        let text = format!("[[{list}]]\nname = \"a\"\nhow_many = {how_many}\n");
        let read = read_project(&rules, PROJECT, &[file("facts.toml", &text)], &[]);
        assert_eq!(read.codes(), ["record::how-many"], "{list} {how_many}");
    }
}

#[test]
fn a28_the_word_says_for_how_many_each_stands() {
    let rules =
        load(&[mine(&format!("{SCREWS}item shed.door \"It is so\" need (count s in shed.screws) is 48 {OWN}"))]);
    let screws = "[[shed.screws]]\nname = \"cover\"\nhow_many = 48\n";
    for (record, verdict) in [
        ("{ name = \"cover\", how_many = 48 }", Verdict::Met),
        ("\"cover\"", Verdict::NotShown),
        ("{ name = \"cover\", how_many = 47 }", Verdict::NotShown),
    ] {
        let word = format!("[whole]\n\"shed.screws\" = {{ records = [{record}], who = \"rosa\", on = 2026-05-01 }}\n");
        assert_eq!(door(&rules, &format!("{screws}{word}")), verdict, "{record}");
    }
}

#[test]
fn a18_words_of_the_builders_files_are_no_names_of_a_packs() {
    for text in [
        "fact shed.part : text ask \"?\"",
        "fact whole.door : text ask \"?\"",
        "list shed.dated ask \"?\" field name : text ask \"?\" named by name",
        "list shed.l ask \"?\" field name : text ask \"?\" field instrument : text ask \"?\" named by name",
        "list shed.l ask \"?\" field name : text ask \"?\" field how_many : count ask \"?\" named by name",
    ] {
        let (_, messages) = refused(&[mine(text)]);
        assert!(messages.iter().any(|message| message.code == "name::reserved"), "{text}: {messages:#?}");
    }
}

/// What is found by trying to get a wrong answer: zones of records that are not known, names that show nothing, months.
#[test]
fn a18_a_record_that_is_not_known_may_lie_in_the_zone_that_is_closed() {
    let rules = load(&[mine(&format!(
        "list shed.ends ask \"Each end\" field name : text ask \"?\" field zone : text ask \"?\" field ok : yes or no ask \"?\" named by name
         item shed.end for each e in shed.ends \"It is so\" need e.ok {OWN}"
    ))]);
    let read = read_project(
        &rules,
        PROJECT,
        &[file("a.toml", "[whole]\nlog = { entries = 0, up_to = 2020-01-01, who = \"rosa\", on = 2020-01-01 }\n")],
        &[],
    )
    .clean();
    let closing = Request { closing: Some("cabin".to_owned()), ..request("2026-06-01") };
    assert_eq!(finding(&audit(&rules, &read.record, &closing), "shed.ends").verdict, Verdict::NotShown);
}

#[test]
fn a18_a_letter_that_shows_nothing_makes_no_other_record() {
    let rules = item("count r in shed.runs >= 2");
    for other in ["a\u{200b}", "A\u{2060}", "a\u{fe0f}", "\u{ad}a"] {
        let text = format!("[[shed.runs]]\nname = \"a\"\n[[shed.runs]]\nname = \"{other}\"\n");
        assert_eq!(
            read_project(&rules, PROJECT, &[file("a.toml", &text)], &[]).codes(),
            ["record::twice"],
            "{other:?}"
        );
    }
    let text = "[[shed.runs]]\nname = \"\u{200b}\"\n";
    assert_eq!(read_project(&rules, PROJECT, &[file("a.toml", text)], &[]).codes(), ["value::kind"]);
}

#[test]
fn a18_an_entry_of_a_month_that_is_not_over_is_in_no_list_yet() {
    let rules = load(&[mine(&format!("{LOG}item shed.some \"There is one\" need (count s in log.snags) >= 1 {OWN}"))]);
    let snag = |on: &str| {
        format!(
            "[[log]]\non = {on}\nwhat = \"snag found\"\nsubject = \"shed.web\"\nwho = \"rosa\"\nsnag = 1\nnote = \"chafed\"\n"
        )
    };
    let of = |log: String| finding(&as_recorded(&rules, &log, "2026-06-10"), "mine/shed.some").verdict;
    assert_eq!(of(snag("2026-06-09")), Verdict::Met);
    assert_eq!(of(snag("\"2026-06\"")), Verdict::NotShown);
}

#[test]
fn a18_what_to_do_next_tells_of_lists_too() {
    let rules = three();
    let report = as_recorded(&rules, "", "2026-06-01");
    let plan =
        plan(&rules, &Record::default(), &report, plan::Request { on: day("2026-06-01"), time: None, a_day: None });
    assert_eq!(plan.open_lists, ["shed.runs"]);
    let text = cotterpin_engine::report::next_text(&plan, 80);
    assert!(text.contains("1 list to call complete"), "{text}");
}

#[test]
fn a18_named_by_is_compulsory() {
    let amps = "list shed.runs ask \"Each run\" field amps : current ask \"How much?\"";
    for (fields, help) in [
        ("", "add `field name : text  ask \"Which one\"` and `named by name`"),
        ("field made : optional text ask \"?\"", "add `field name : text  ask \"Which one\"` and `named by name`"),
        ("field made : text ask \"Of what?\"", "add `named by made`"),
        (
            "field made : text ask \"Of what?\" field feeds : text ask \"To what?\"",
            "add `named by made` or `named by feeds`",
        ),
    ] {
        let pack =
            mine(&format!("{amps} {fields}\nitem shed.door \"t\" need some r in shed.runs has r.amps > 1 A {OWN}"));
        let (sources, messages) = refused(&[pack]);
        // What else the list is good for is not told with it.
        let [message] = messages.as_slice() else { panic!("{fields}: {messages:#?}") };
        let [label] = message.labels.as_slice() else { panic!("{message:#?}") };
        assert_eq!((message.code, message.help.as_deref()), ("list::nameless", Some(help)), "{fields}");
        assert_eq!(label.text, "say which of its texts names a record");
        assert_eq!(sources.text(label.span), "shed.runs");
    }
}

#[test]
fn a18_the_log_names_the_records_it_keeps() {
    let snags = |fields: &str| {
        mine(&format!(
            "subjects shed.web \"The web\"\nlist log.snags ask \"Each snag\" {fields}
             item shed.snags for each s in log.snags \"It is cleared\" need s.cleared is not none {OWN}"
        ))
    };
    let cleared = "field cleared : optional date ask \"When?\"";
    let found = |number: u32| {
        format!(
            "[[log]]\non = 2026-05-0{number}\nwhat = \"snag found\"\nsubject = \"shed.web\"\nwho = \"rosa\"\nsnag = {number}\nnote = \"split\"\n"
        )
    };
    for fields in [
        cleared,
        &format!("{cleared} field snag : text ask \"Its number\""),
        &format!("{cleared} field snag : text ask \"Its number\" named by snag"),
    ] {
        let rules = load(&[snags(fields)]);
        let report = as_recorded(&rules, &format!("{}{}", found(1), found(2)), "2026-06-01");
        let named: Vec<&str> = report.findings.iter().filter_map(|finding| finding.subject.as_deref()).collect();
        assert_eq!(named, ["snag 1", "snag 2"], "{fields}");
    }
    // Two snags of one part would share a name.
    let (_, messages) = refused(&[snags(&format!("{cleared} field part : text ask \"Of what?\" named by part"))]);
    assert_eq!(messages.iter().map(|message| message.code).collect::<Vec<_>>(), ["list::named-by"]);
}

/// Such a project is told what is wrong with it; should something audit it all the same, nothing comes of it.
#[test]
fn a18_of_records_without_a_name_of_their_own_nobody_says_that_they_are_all() {
    let rules = item("every r in shed.runs has r.amps >= 1 A");
    for (records, word, code) in [
        ("[[shed.runs]]\namps = \"2 A\"\n", "\"1\"", "record::missing"),
        ("[[shed.runs]]\namps = \"2 A\"\n", "", "record::missing"),
        (
            "[[shed.runs]]\nname = \"a\"\namps = \"2 A\"\n[[shed.runs]]\nname = \"a\"\namps = \"3 A\"\n",
            "\"a\"",
            "record::twice",
        ),
    ] {
        let text =
            format!("{records}[whole]\n\"shed.runs\" = {{ records = [{word}], who = \"rosa\", on = 2026-05-10 }}\n");
        let read = read_project(&rules, PROJECT, &[file("facts.toml", text)], &[]);
        assert_eq!(read.codes(), [code]);
        assert_eq!(finding(&read.audited("2026-06-01"), "mine/shed.door").verdict, Verdict::NotShown, "{records}");
    }
}
