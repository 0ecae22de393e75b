//! The lists that the log keeps, and what packs and builders may write of them.

use super::mistakes::{only, reading, rules};
use super::story::{PROJECT, RULES, entries};
use crate::fixtures::findings;
use crate::fixtures::packs::{load, pack, refused};
use crate::golden::named;
use crate::golden::recording::Named;
use cotterpin_engine::audit::Audit;
use cotterpin_engine::report::{pack_rows, questions_text};
use cotterpin_engine::vocabulary::Verdict;
use cotterpin_packs::PackText;

/// Those whose messages are golden.
pub(crate) const GOLDEN: &[Named] = named![
    a_builder_who_writes_them_is_told,
    a_pack_declares_only_what_the_log_can_fill,
    a_need_that_nobody_could_sign_is_refused
];

const LISTS: &str = r#"
list log.snags ask "Each snag"
  field snag : text ask "Its number"
  field cleared : optional date ask "Cleared"
  named by snag
list log.fittings ask "Each fit"
  field part : text ask "The part"
  field fit : trial or temporary or final ask "Fitted how?"
  field closed : yes or no ask "Closed?"
  named by part
list log.openings ask "Each opening"
  field what : text ask "What"
  field closed : yes or no ask "Closed?"
  named by what
item controls.snags for each snag in log.snags
  "The snag is cleared" need snag.cleared is not none
  by visit basis common practice cite common practice
item controls.fit for each fitting in log.fittings
  "It is fitted for good" need fitting.fit is final
  by visit basis common practice cite common practice
item controls.hidden for each fitting in log.fittings
  "What is hidden is fitted for good" when fitting.closed is yes need fitting.fit is final
  by visit basis common practice cite common practice
item controls.shut for each opening in log.openings
  "It is closed" need opening.closed is yes
  by visit basis common practice cite common practice
"#;

fn with(text: &str) -> PackText {
    pack("shed", &[], &format!("{RULES}{text}"))
}

fn audited(log: &str, on: &str) -> Audit {
    let rules = load(&[with(LISTS)]);
    reading(&rules, PROJECT, &[("log.toml", log)]).audited(on)
}

fn verdict(audit: &Audit, item: &str) -> Verdict {
    findings::verdict(audit, &format!("shed/{item}"))
}

fn snag(on: &str, what: &str) -> String {
    let entry = entries(&[&format!("0 snag {what} engine.hoses rosa")]);
    format!("{}snag = 1\n", entry.replace("on = 0", &format!("on = {on}")))
}

#[test]
fn a_snag_is_cleared_only_when_that_day_is_over() {
    let found = snag("2026-08-01", "found");
    assert_eq!(verdict(&audited(&found, "2026-09-15"), "controls.snags"), Verdict::Unmet);
    for (cleared, expected) in [
        ("2026-09-10", Verdict::Met),
        ("\"2026-08\"", Verdict::Met),
        ("\"2026-09\"", Verdict::NotShown),
        ("2026-10-01", Verdict::Unmet),
    ] {
        let log = format!("{found}{}", snag(cleared, "cleared"));
        assert_eq!(verdict(&audited(&log, "2026-09-15"), "controls.snags"), expected, "{cleared}");
    }
}

fn fit(on: &str, fit: &str) -> String {
    let entry = entries(&["0 work done engine.hoses rosa"]).replace("on = 0", &format!("on = {on}"));
    format!("{entry}fit = \"{fit}\"\n")
}

#[test]
fn the_last_fit_counts_where_it_is_known_which_was_last() {
    let trial = fit("2026-08-01", "trial");
    for (last, expected) in [
        ("2026-09-01", Verdict::Met),
        ("\"2026-09\"", Verdict::NotShown),
        ("\"2026-08\"", Verdict::NotShown),
        ("2026-12-01", Verdict::Unmet),
    ] {
        let log = format!("{trial}{}", fit(last, "final"));
        assert_eq!(verdict(&audited(&log, "2026-09-15"), "controls.fit"), expected, "{last}");
    }
}

/// One panel closed and another one open: nobody can say that the zone is closed, nor that it is open.
#[test]
fn a_zone_is_closed_when_its_last_word_or_all_its_panels_say_so() {
    let fitted = fit("2026-08-01", "temporary");
    let cases: [(&[&str], Verdict); 6] = [
        (&["2026-08-02 closed firewall rosa"], Verdict::Unmet),
        (&["2026-08-02 closed firewall rosa", "2026-08-03 opened firewall rosa"], Verdict::NotApplicable),
        (&["2026-08-02 closed engine.cowl rosa", "2026-08-03 opened engine.hoses rosa"], Verdict::NotShown),
        (&["2026-08-02 opened engine.cowl rosa", "2026-08-03 closed firewall rosa"], Verdict::Unmet),
        (&["2026-08-02 closed engine.cowl rosa"], Verdict::Unmet),
        (&[], Verdict::NotShown),
    ];
    for (moves, expected) in cases {
        let log = format!("{fitted}{}", entries(moves));
        assert_eq!(verdict(&audited(&log, "2026-09-15"), "controls.hidden"), expected, "{moves:?}");
    }
}

#[test]
fn what_was_opened_last_by_day_counts_not_by_line() {
    let log = entries(&["2026-08-05 closed firewall rosa", "2026-08-02 opened firewall rosa"]);
    assert_eq!(verdict(&audited(&log, "2026-09-15"), "controls.shut"), Verdict::Met);
    assert_eq!(verdict(&audited(&log, "2026-08-03"), "controls.shut"), Verdict::Unmet);
}

#[test]
fn nobody_is_asked_for_what_the_log_keeps() {
    let rules = load(&[with(LISTS)]);
    let none = cotterpin_engine::project::Record::default();
    assert!(!questions_text(&rules, &none, None).contains("log."));
    assert_eq!(pack_rows(&rules)[0].facts, 0);
    let audit = audited(&format!("{}{}", fit("2026-08-01", "trial"), fit("\"2026-08\"", "final")), "2026-09-15");
    assert_eq!(verdict(&audit, "controls.fit"), Verdict::NotShown);
    assert!(audit.questions.iter().all(|question| !question.fact.starts_with("log.")), "{:#?}", audit.questions);
}

#[test]
fn a_builder_who_writes_them_is_told() {
    let rules = load(&[with(LISTS)]);
    for text in ["[[log.snags]]\nsnag = \"snag 1\"\n", "[log]\nopenings = []\n"] {
        let read = reading(&rules, PROJECT, &[("snags.toml", text)]);
        only(&read, "log::kept", "is kept from the log; nobody writes it");
    }
    let after = format!("{}[[log.fittings]]\npart = \"engine.hoses\"\n", fit("2026-08-01", "trial"));
    only(&reading(&rules, PROJECT, &[("snags.toml", &after)]), "log::kept", "`log.fittings` is kept from the log");
}

#[test]
fn a_pack_declares_only_what_the_log_can_fill() {
    let named = |list: &str, field: &str| format!("list {list} ask \"Each\"\n  field {field} ask \"?\"\n");
    for (text, words) in [
        (named("log.snag", "snag : text"), "did you mean `log.snags`?"),
        (named("log.tools", "name : text"), "the log keeps the lists log.snags, log.fittings, log.openings"),
        ("fact log.kept : yes or no ask \"?\"".to_owned(), "give others another name"),
        (named("log.snags", "number : text"), "its fields are `snag : text`, `part : text`, `found : date`"),
        (named("log.snags", "cleaned : optional date"), "did you mean `cleared`?"),
        (named("log.snags", "cleared : date"), "write `field cleared : optional date`"),
        (named("log.openings", "closed : text"), "write `field closed : yes or no`"),
        (named("log.fittings", "fit : trial or final"), "write `field fit : trial or temporary or final`"),
    ] {
        let messages = refused(&[with(&text)]).1;
        let said: Vec<String> =
            messages.iter().map(|m| format!("{} {} {}", m.code, m.message, m.help.as_deref().unwrap_or(""))).collect();
        assert!(said.iter().any(|said| said.starts_with("list::kept") && said.contains(words)), "{words}: {said:#?}");
    }
    assert!(!rules().lists.iter().any(|list| list.derived()));
}

#[test]
fn a_need_that_nobody_could_sign_is_refused() {
    let item =
        |need: &str| format!("item controls.n \"It is so\" need {need} by visit basis own cite common practice\n");
    for (need, code) in [
        ("inspected engine.hoses by 0 people", "log::nobody"),
        ("inspected engine.hoses in role builder or adviser", "log::never-signs"),
    ] {
        let messages = refused(&[with(&item(need))]).1;
        assert!(messages.iter().any(|message| message.code == code && message.help.is_some()), "{messages:#?}");
    }
    let misspelt =
        format!("{}  try \"x\" inspected engine.hosse on 2026-01-01 => not-shown\n", item("inspected engine"));
    let messages = refused(&[with(&misspelt)]).1;
    assert!(messages.iter().any(|message| message.code == "name::unknown"), "{messages:#?}");
}
