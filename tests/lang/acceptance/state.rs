//! A17: what is recorded is of a day, and of a part. A22: measured with.

use crate::fixtures::messages::codes;
use crate::fixtures::packs::refused;
use crate::fixtures::projects::{file, read_project, request};
use crate::lang::{OWN, come_out, finding, load, mine};
use cotterpin_engine::audit::{
    Audit, EntryState, LineKind, MissingCause, NoDeferral, NoLeave, Notice, ObservedValue, audit,
};
use cotterpin_engine::ir::Rules;
use cotterpin_engine::vocabulary::Verdict;
use cotterpin_engine::vocabulary::Verdict::{Met, NotShown, Unmet};

/// Parts, what disturbs what, and a value of each kind: design, as fitted, in itself.
const STATE: &str = "subjects
  engine        \"Engine\"
  engine.lines  \"Fuel lines\"
  engine.mount  \"Mount\"
  propeller     \"Propeller\" can be left off
  seats         \"Seats\"
disturbing engine.mount also disturbs propeller
list measuring.equipment ask \"Each instrument\"
  field name : text ask \"What is it called?\"
  field calibrated_from : optional date ask \"From when?\"
  field calibrated_until : optional date ask \"Until when?\"
  named by name
list measuring.calibrations ask \"Each further calibration\"
  field certificate : text ask \"Number?\"
  field equipment : text ask \"Of which instrument?\"
  field from : date ask \"When?\"
  field until : date ask \"Until?\"
  field found_good : yes or no ask \"Was it good?\"
  named by certificate
fact shed.gauge : text ask \"What gauge?\"
fact shed.leaks : yes or no of engine.lines ask \"Does it leak?\"
fact shed.level : yes or no of engine.lines ask \"Is it level?\"
fact shed.balance : length, at least 0 in of propeller itself ask \"How far out of balance?\"
fact shed.tested : date of engine.lines on that day ask \"When were they tested?\"
fact shed.clean : yes or no of everything ask \"Is all clean?\"
list shed.bonds of engine ask \"Each bond\"
  field name : text ask \"Which?\"
  field ohms : resistance of its part ask \"How much?\"
  field label : text of its part itself ask \"What label?\"
  field gauge : text ask \"What gauge?\"
  named by name
item shed.design \"It is so\" need shed.gauge is \"20\" by visit basis own cite common practice
item shed.fitted \"It is so\" need shed.leaks is no by visit basis own cite common practice
item shed.written \"It is so\" need shed.leaks is recorded by visit basis own cite common practice
item shed.itself \"It is so\" need shed.balance <= 1 in by visit basis own cite common practice
item shed.test \"It is so\" need shed.tested >= 2026-01-01 by visit basis own cite common practice
item shed.all \"It is so\" need shed.clean is yes by visit basis own cite common practice
item shed.bond for each bond in shed.bonds \"It is so\" need bond.ohms <= 3 ohm and bond.gauge is \"20\" by visit basis own cite common practice
item shed.label for each bond in shed.bonds \"It is so\" need bond.label is \"x\" by visit basis own cite common practice
item shed.word \"It is so\" ask \"Is it?\" need confirmed by builder about engine.lines by visit basis own cite common practice
item shed.seen \"It is so\" need shed.level is yes show photo of shed.level by visit basis own cite common practice
item shed.looked \"It is so\" need inspected engine.lines by visit basis own cite common practice
";

pub(super) const PROJECT: &str =
    "name = \"Shed\"\npacks = [\"./shed\"]\n[people]\nrosa = { name = \"Rosa Example\", role = \"builder\" }\n";

pub(super) fn rules() -> Rules {
    load(&[mine(STATE)])
}

/// A project of these facts and this log (`2026-05-01 removed engine.lines`), audited on 1 June 2026.
pub(super) fn state(rules: &Rules, facts: &str, log: &[&str]) -> Audit {
    let files = [file("facts.toml", facts), file("log/log.toml", entries(log))];
    let read = read_project(rules, PROJECT, &files, &["evidence/a.jpg"]);
    // That an instrument is none of the list is told, and no error.
    assert!(read.messages.iter().all(|message| message.code == "value::no-such-instrument"), "{:#?}", read.messages);
    audit(rules, &read.record, &request("2026-06-01"))
}

pub(super) fn entries(log: &[&str]) -> String {
    log.iter()
        .map(|line| {
            let mut words = line.splitn(3, ' ');
            let (on, what, rest) = (words.next().unwrap(), words.next().unwrap(), words.next().unwrap());
            let (part, more) = rest.split_once(' ').unwrap_or((rest, ""));
            let on = if on.len() < 8 { format!("{on:?}") } else { on.to_owned() };
            format!(
                "[[log]]\non = {on}\nwhat = {:?}\nsubject = {part:?}\nwho = \"rosa\"\n{more}\n",
                what.replace('-', " ")
            )
        })
        .collect()
}

pub(super) fn of(audit: &Audit, item: &str) -> Verdict {
    finding(audit, &format!("mine/shed.{item}")).verdict
}

pub(super) const FACTS: &str = "[shed]\ndated = 2026-04-01\ngauge = \"20\"\nleaks = false\nbalance = \"0.5 in\"\nclean = true\n\
    [[shed.bonds]]\ndated = 2026-04-01\nname = \"a\"\nohms = \"2 ohm\"\nlabel = \"x\"\ngauge = \"20\"\n";

#[test]
fn a17_a_value_of_a_part_is_unknown_once_the_part_has_been_disturbed() {
    let rules = rules();
    let undisturbed = state(&rules, FACTS, &[]);
    for item in ["design", "fitted", "written", "itself", "all", "bond", "label"] {
        assert_eq!(of(&undisturbed, item), Met, "{item}");
    }
    for (log, undone) in [
        ("2026-05-01 adjusted engine.lines", &["fitted", "written", "all", "bond", "label"][..]),
        ("2026-05-01 removed engine.lines", &["fitted", "written", "all", "bond"]),
        ("2026-05-01 refitted engine.lines", &["fitted", "written", "all", "bond"]),
        ("2026-05-01 work-done engine", &["fitted", "written", "all", "bond", "label"]),
        ("2026-05-01 refitted engine", &["fitted", "written", "all", "bond"]),
        ("2026-05-01 adjusted propeller", &["itself", "all"]),
        ("2026-05-01 refitted propeller", &["all"]),
        ("2026-05-01 adjusted seats", &["all"]),
        // Before the value's day it undoes nothing.
        ("2026-03-31 work-done engine", &[]),
        ("2026-03 work-done engine", &[]),
        // What is only looked at stays as it is.
        ("2026-05-01 inspected engine.lines", &[]),
    ] {
        let audit = state(&rules, FACTS, &[log]);
        for item in ["design", "fitted", "written", "itself", "all", "bond", "label"] {
            let expected = if undone.contains(&item) { NotShown } else { Met };
            assert_eq!(of(&audit, item), expected, "{log}: {item}");
        }
    }
}

#[test]
fn a17_a_state_in_itself_is_undone_by_work_on_the_part_not_by_taking_it_off_nor_by_what_a_pack_says_is_disturbed() {
    let rules = rules();
    for (log, verdict) in [
        (&["2026-05-01 work-done propeller"][..], NotShown),
        (&["2026-05-01 adjusted propeller"], NotShown),
        (&["2026-05-01 snag-found propeller snag = 1", "2026-05-02 snag-cleared propeller snag = 1"], NotShown),
        (&["2026-05-01 refitted propeller"], Met),
        (&["2026-05-01 refitted propeller another = true"], NotShown),
        // The mount disturbs the propeller as it is fitted, and leaves it the same in itself.
        (&["2026-05-01 work-done engine.mount"], Met),
    ] {
        assert_eq!(of(&state(&rules, FACTS, log), "itself"), verdict, "{log:?}");
    }
    // Of what the part is a part of, and of a part of it.
    let label = |log: &str| {
        of(&state(&rules, &FACTS.replace("name = \"a\"", "part = \"engine.mount\"\nname = \"a\""), &[log]), "label")
    };
    assert_eq!(label("2026-05-01 work-done engine"), NotShown);
    assert_eq!(label("2026-05-01 work-done engine.lines"), Met);
    assert_eq!(of(&state(&rules, FACTS, &["2026-05-01 work-done engine.mount"]), "label"), NotShown);
}

#[test]
fn a17_the_finding_names_what_had_been_recorded_and_what_undid_it() {
    let rules = rules();
    let audit = state(&rules, FACTS, &["2026-05-01 removed engine.mount", "2026-05-02 refitted engine.mount"]);
    let bond = finding(&audit, "mine/shed.bond");
    let lapse = bond.lapses().next().expect("a lapse");
    assert_eq!((lapse.shown.kind, lapse.shown.on.as_str()), (LineKind::Value, "2026-04-01"));
    assert_eq!(lapse.shown.subject, "shed.bonds[a].ohms = 2 ohm");
    assert_eq!((lapse.undone_by.event.as_str(), lapse.undone_by.on.as_str()), ("removed", "2026-05-01"));
    let seen = bond.leaves().flat_map(|reason| &reason.values).find(|value| value.name == "shed.bonds[a].ohms");
    assert!(matches!(&seen.unwrap().value, ObservedValue::NoLonger(text, EntryState::Undone(_)) if text == "2 ohm"));
    let [missing] = bond.missing.as_slice() else { panic!("{:#?}", bond.missing) };
    assert!(matches!(&missing.why, MissingCause::Undone(by) if by.subject == "engine.mount"));
}

#[test]
fn a17_a_record_takes_the_part_of_its_list_if_it_names_none() {
    let rules = rules();
    let own = FACTS.replace("name = \"a\"", "part = \"engine.mount\"\nname = \"a\"");
    assert_eq!(of(&state(&rules, FACTS, &["2026-05-01 refitted engine.lines"]), "bond"), NotShown);
    assert_eq!(of(&state(&rules, &own, &["2026-05-01 refitted engine.lines"]), "bond"), Met);
    assert_eq!(of(&state(&rules, &own, &["2026-05-01 refitted engine.mount"]), "bond"), NotShown);
}

#[test]
fn a17_a_record_that_names_no_part_in_a_list_that_names_none_is_an_error() {
    let list = "list shed.l ask \"Each\" field name : text ask \"?\" field ok : yes or no of its part ask \"?\" named by name\n";
    let words = "subjects engine \"Engine\"\n";
    let rules = load(&[mine(&format!("{words}{list}item shed.i \"It is so\" need some r in shed.l has r.ok {OWN}"))]);
    let read = |facts: &str| read_project(&rules, PROJECT, &[file("facts.toml", facts)], &[]).codes().join(" ");
    assert_eq!(read("[[shed.l]]\nname = \"a\"\nok = true\n"), "record::part");
    assert_eq!(read("[[shed.l]]\nname = \"a\"\nok = true\npart = \"engine\"\n"), "");
    assert_eq!(read("[[shed.l]]\nname = \"a\"\nok = true\npart = \"engin\"\n"), "record::part record::part");
    // What is design is of no part.
    let plain = "list shed.l ask \"Each\" field name : text ask \"?\" named by name\n";
    let rules = load(&[mine(&format!("{words}{plain}item shed.i \"It is so\" need count r in shed.l > 0 {OWN}"))]);
    let reading =
        read_project(&rules, PROJECT, &[file("facts.toml", "[[shed.l]]\nname = \"a\"\npart = \"engine\"\n")], &[]);
    assert_eq!(reading.codes(), ["record::part"]);
}

#[test]
fn a17_a_fact_that_is_of_the_part_of_no_record_does_not_compile() {
    let text = format!("fact shed.a : yes or no of its part ask \"?\"\nitem shed.i \"It is so\" need shed.a {OWN}");
    assert_eq!(codes(&refused(&[mine(&text)]).1), ["state::no-record"]);
    let text = format!("fact shed.a : yes or no of engin ask \"?\"\nitem shed.i \"It is so\" need shed.a {OWN}");
    assert_eq!(codes(&refused(&[mine(&text)]).1), ["name::unknown"]);
}

#[test]
fn a17_one_day_for_a_table_holds_for_its_values_without_one_not_for_the_tables_in_it() {
    let rules = rules();
    let log = ["2026-05-01 work-done engine", "2026-05-01 work-done propeller"];
    for (facts, fitted, itself) in [
        ("[shed]\nleaks = false\nbalance = \"0.5 in\"\ndated = 2026-05-02\n", Met, Met),
        ("shed.dated = 2026-05-02\nshed.leaks = false\nshed.balance = \"0.5 in\"\n", Met, Met),
        (
            "[shed]\nleaks = { value = false, dated = 2026-05-02 }\nbalance = \"0.5 in\"\ndated = 2026-04-02\n",
            Met,
            NotShown,
        ),
        (
            "[shed]\nleaks = { value = false, dated = 2026-04-02 }\nbalance = \"0.5 in\"\ndated = 2026-05-02\n",
            NotShown,
            Met,
        ),
        ("[shed.leaks]\nvalue = false\ndated = 2026-05-02\n[shed.balance]\nvalue = \"0.5 in\"\n", Met, NotShown),
    ] {
        let audit = state(&rules, facts, &log);
        assert_eq!((of(&audit, "fitted"), of(&audit, "itself")), (fitted, itself), "{facts}");
    }
    // The records of a list are tables in the table.
    let bonds = "[shed]\ndated = 2026-05-02\nbonds = [{ name = \"a\", ohms = \"2 ohm\", gauge = \"20\" }]\n";
    assert_eq!(of(&state(&rules, bonds, &log), "bond"), NotShown);
    let own = bonds.replace("name =", "dated = 2026-05-02, name =");
    assert_eq!(of(&state(&rules, &own, &log), "bond"), Met);
    let field = bonds.replace("\"2 ohm\"", "{ value = \"2 ohm\", dated = 2026-05-02 }");
    assert_eq!(of(&state(&rules, &field, &log), "bond"), Met);
}

#[test]
fn a17_evidence_has_its_own_day_else_that_of_the_value_beside_it() {
    let rules = rules();
    let log = ["2026-05-01 adjusted engine.lines"];
    for (facts, verdict) in [
        ("[shed]\nlevel = { value = true, dated = 2026-05-02, evidence = \"evidence/a.jpg\" }\n", Met),
        (
            "[shed]\nlevel = { value = true, dated = 2026-05-02, evidence = { kind = \"photo\", file = \"evidence/a.jpg\", dated = 2026-04-02 } }\n",
            NotShown,
        ),
        (
            "[shed]\nlevel = { value = true, dated = 2026-05-02, evidence = { kind = \"photo\", file = \"evidence/a.jpg\", dated = 2026-05-03 } }\n",
            Met,
        ),
        ("[shed]\ndated = 2026-05-02\nlevel = true\nevidence = \"evidence/a.jpg\"\n", NotShown),
        ("[shed.level]\nvalue = true\ndated = 2026-05-02\n[shed]\n", NotShown),
    ] {
        // The group has values of other parts, which the photograph shows as well.
        assert_eq!(
            of(&state(&rules, facts, &log), "seen"),
            if facts.starts_with("[shed]\ndated") { NotShown } else { verdict },
            "{facts}"
        );
    }
    // A photograph of an entry is of its day.
    let audit = state(
        &rules,
        "[shed]\nlevel = { value = true, dated = 2026-05-02 }\n",
        &["2026-05-01 adjusted engine.lines evidence = \"evidence/a.jpg\""],
    );
    assert_eq!(of(&audit, "seen"), NotShown);
    let undone = finding(&state(&rules, "[shed]\nlevel = { value = true, dated = 2026-05-02, evidence = { kind = \"photo\", file = \"evidence/a.jpg\", dated = 2026-04-02 } }\n", &log), "mine/shed.seen").missing[0].why.clone();
    assert!(matches!(undone, MissingCause::Undone(_)), "{undone:?}");
}

#[test]
fn a17_known_to_the_month_a_value_is_undone_by_whatever_may_be_later() {
    let rules = rules();
    let value = |on: &str| format!("[shed]\nleaks = false\ndated = {on}\n");
    for (on, log, verdict) in [
        ("\"2026-05\"", "2026-05-03 adjusted engine.lines", NotShown),
        ("\"2026-05\"", "2026-04-30 adjusted engine.lines", Met),
        ("\"2026-05\"", "2026-05 adjusted engine.lines", NotShown),
        ("\"2026-04\"", "2026-05 adjusted engine.lines", NotShown),
        ("2026-05-03", "2026-05 adjusted engine.lines", NotShown),
        ("2026-05-03", "2026-04 adjusted engine.lines", Met),
        // Of a month that is not over, and of a day after the audit, it is not known yet.
        ("\"2026-06\"", "2026-04 adjusted engine.lines", NotShown),
        ("2026-06-02", "2026-04 adjusted engine.lines", NotShown),
        ("2026-06-01", "2026-04 adjusted engine.lines", Met),
    ] {
        assert_eq!(of(&state(&rules, &value(on), &[log]), "fitted"), verdict, "{on} {log}");
    }
    // That goes for design as well.
    for (on, verdict) in
        [("\"2026-06\"", NotShown), ("2026-06-02", NotShown), ("2026-06-01", Met), ("\"2026-05\"", Met)]
    {
        assert_eq!(
            of(&state(&rules, &format!("[shed]\ngauge = \"20\"\ndated = {on}\n"), &[]), "design"),
            verdict,
            "{on}"
        );
    }
}

#[test]
fn a17_on_the_same_day_the_order_is_not_known_unless_both_have_times() {
    let rules = rules();
    for (on, log, verdict) in [
        ("2026-05-03", "2026-05-03 adjusted engine.lines", NotShown),
        ("2026-05-03T10:00:00", "2026-05-03 adjusted engine.lines", NotShown),
        ("2026-05-03", "2026-05-03T10:00:00 adjusted engine.lines", NotShown),
        ("2026-05-03T11:00:00", "2026-05-03T10:00:00 adjusted engine.lines", Met),
        ("2026-05-03T10:00:00", "2026-05-03T10:00:00 adjusted engine.lines", NotShown),
        ("2026-05-03T09:00:00", "2026-05-03T10:00:00 adjusted engine.lines", NotShown),
    ] {
        let audit = state(&rules, &format!("[shed]\nleaks = false\ndated = {on}\n"), &[log]);
        assert_eq!(of(&audit, "fitted"), verdict, "{on} {log}");
        if verdict == NotShown && !on.contains("T09") {
            let why = &finding(&audit, "mine/shed.fitted").missing[0].why;
            assert!(
                matches!(why, MissingCause::TimesOf(places, day) if places.len() == 2 && day == "2026-05-03"),
                "{why:?}"
            );
        }
    }
}

#[test]
fn a17_a_value_without_a_day_counts_as_long_as_the_log_has_never_disturbed_its_part() {
    let rules = rules();
    let facts = "[shed]\ngauge = \"20\"\nleaks = false\n";
    for (log, verdict) in [
        (&[][..], Met),
        (&["2026-05-01 adjusted propeller"], Met),
        (&["2020-05-01 adjusted engine.lines"], NotShown),
        (&["2026-05-01 adjusted engine.lines"], NotShown),
        // Not before that month.
        (&["2026-07-01 adjusted engine.lines"], Met),
    ] {
        let audit = state(&rules, facts, log);
        assert_eq!((of(&audit, "fitted"), of(&audit, "design")), (verdict, Met), "{log:?}");
    }
    let audit = state(&rules, facts, &["2026-05-01 adjusted engine.lines"]);
    assert!(
        matches!(&finding(&audit, "mine/shed.fitted").missing[0].why, MissingCause::Undated(by) if by.on == "2026-05-01")
    );
}

#[test]
fn a17_inspections_words_values_and_evidence_lapse_by_one_notion() {
    let rules = rules();
    let facts = "[shed]\nleaks = { value = false, dated = 2026-04-01 }\nlevel = { value = true, dated = 2026-04-01, evidence = \"evidence/a.jpg\" }\n\
        [[confirmed]]\nitem = \"shed.word\"\nwho = \"Rosa Example\"\nrole = \"builder\"\non = 2026-04-01\n";
    for event in [
        "2026-05-01 adjusted engine.lines",
        "2026-04 adjusted engine.lines",
        "2026-04-01 adjusted engine",
        "2026-03-31 adjusted engine",
        "2026-05-01 adjusted propeller",
    ] {
        // Written before what it may have undone.
        let audit = state(&rules, facts, &["2026-04-01 inspected engine.lines", event]);
        let verdicts = ["fitted", "word", "seen"].map(|item| of(&audit, item));
        assert!(verdicts.iter().all(|one| *one == verdicts[0]), "{event}: {verdicts:?}");
        let looked = of(&audit, "looked");
        assert_eq!(looked, verdicts[0], "{event}");
    }
}

#[test]
fn a17_a_concession_or_deferral_lapses_when_something_the_item_asks_for_is_undone_after_it() {
    let rules = rules();
    let leave = |item: &str| {
        format!(
            "[shed]\nleaks = true\nbalance = \"2 in\"\ngauge = \"22\"\n[[concession]]\nitem = \"shed.{item}\"\nreason = \"It drips\"\ngranted_by = \"Rosa Example\"\nrole = \"builder\"\non = 2026-04-01\nuntil = 2027-04-01\n"
        )
    };
    for (item, log, verdict) in [
        ("fitted", "2026-03-01 adjusted engine", Verdict::Conceded),
        ("fitted", "2026-05-01 adjusted propeller", Verdict::Conceded),
        ("fitted", "2026-05-01 adjusted engine", NotShown),
        ("fitted", "2026-04-01 adjusted engine", NotShown),
        ("itself", "2026-05-01 refitted propeller", Verdict::Conceded),
        ("itself", "2026-05-01 adjusted propeller", NotShown),
        // Over design alone it ends on its day.
        ("design", "2026-05-01 work-done engine", Verdict::Conceded),
    ] {
        let audit = state(&rules, &leave(item), &[log]);
        assert_eq!(of(&audit, item), verdict, "{item} {log}");
        let told = audit.notices.iter().any(|notice| matches!(notice, Notice::Concession(_, NoLeave::Undone(_))));
        assert_eq!(told, verdict == NotShown, "{item} {log}: {:#?}", audit.notices);
    }
    let put_off = "[[deferred]]\nitem = \"shed.word\"\nreason = \"Rain\"\nlimit = \"Slow\"\ntest = \"Card 1\"\nwho = \"Rosa Example\"\non = 2026-04-01\nby = \"flight\"\n";
    let before = state(&rules, put_off, &["2026-03-01 adjusted engine"]);
    assert!(finding(&before, "mine/shed.word").deferred.is_some(), "{:#?}", before.notices);
    let after = state(&rules, put_off, &["2026-05-01 adjusted engine"]);
    assert!(finding(&after, "mine/shed.word").deferred.is_none());
    assert!(matches!(after.notices.as_slice(), [Notice::Deferral(_, NoDeferral::Undone(_))]), "{:#?}", after.notices);
}

#[test]
fn a17_examples_say_when_and_of_which_part() {
    come_out(&[mine(&format!("{STATE}
item shed.tried \"It is so\" need shed.leaks is no and every b in shed.bonds has b.ohms <= 3 ohm {OWN}
  try \"fresh\" shed.leaks = no, shed.bonds = (name = \"a\", ohms = 2 ohm) => met
  try \"undone\" shed.leaks = no, shed.bonds = (name = \"a\", ohms = 2 ohm), adjusted engine.lines on 2026-05-01 => not-shown
  try \"looked again\" shed.leaks = no dated 2026-05-02, shed.bonds = (name = \"a\", ohms = 2 ohm dated 2026-05-02), adjusted engine.lines on 2026-05-01 => met
  try \"of another part\" shed.leaks = no dated 2026-05-02, shed.bonds = (name = \"a\", part = \"engine.mount\", ohms = 2 ohm), adjusted engine.lines on 2026-05-01 => met
  try \"with what\" measuring.equipment = (name = \"meter\", calibrated_from = 2026-01-01, calibrated_until = 2026-12-31),
    shed.leaks = no, shed.bonds = (name = \"a\", ohms = 2 ohm dated 2026-05-02 with \"meter\") => met
"))]);
}

/// What an ohmmeter's calibrations make of a reading of that day.
fn with_instrument(on: &str, equipment: &str) -> Verdict {
    let rules = rules();
    let facts = format!(
        "[[shed.bonds]]\nname = \"a\"\nohms = {{ value = \"2 ohm\"{on}, instrument = \"meter\" }}\ngauge = \"20\"\n{equipment}"
    );
    of(&state(&rules, &facts, &[]), "bond")
}

const METER: &str =
    "[[measuring.equipment]]\nname = \"meter\"\ncalibrated_from = 2026-02-01\ncalibrated_until = 2026-05-31\n";

#[test]
fn a22_with_an_instrument_whose_calibration_had_ended_or_not_begun_or_may_have_it_is_not_recorded() {
    let on = |day: &str| format!(", dated = {day}");
    for (day, verdict) in [
        ("2026-02-01", Met),
        ("2026-05-31", Met),
        ("2026-06-01", NotShown),
        ("2026-01-31", NotShown),
        ("\"2026-05\"", Met),
        ("\"2026-06\"", NotShown),
        ("\"2026\"", NotShown),
    ] {
        assert_eq!(with_instrument(&on(day), METER), verdict, "{day}");
    }
    let month = METER.replace("2026-02-01", "\"2026-02\"").replace("2026-05-31", "\"2026-05\"");
    for (day, verdict) in [("2026-02-10", NotShown), ("2026-03-01", Met), ("2026-05-01", Met), ("2026-05-02", NotShown)]
    {
        assert_eq!(with_instrument(&on(day), &month), verdict, "{day}");
    }
    let unsaid = METER.replace("calibrated_from = 2026-02-01\n", "");
    assert_eq!(with_instrument(&on("2026-03-01"), &unsaid), NotShown, "from when is not known");
}

#[test]
fn a22_without_a_day_but_with_an_instrument_it_does_not_count() {
    assert_eq!(with_instrument("", METER), NotShown);
    let rules = rules();
    let facts = format!(
        "[[shed.bonds]]\nname = \"a\"\nohms = {{ value = \"2 ohm\", instrument = \"meter\" }}\ngauge = \"20\"\n{METER}"
    );
    let audit = state(&rules, &facts, &[]);
    assert!(
        matches!(&finding(&audit, "mine/shed.bond").missing[0].why, MissingCause::InstrumentWithoutDay(one) if one == "meter")
    );
}

#[test]
fn a22_an_instrument_found_out_of_tolerance_undoes_what_was_measured_since_it_was_last_found_good() {
    let calibration = |number: &str, from: &str, good: bool| {
        format!(
            "[[measuring.calibrations]]\ncertificate = \"{number}\"\nequipment = \"meter\"\nfrom = {from}\nuntil = 2027-01-01\nfound_good = {good}\n"
        )
    };
    let bad = calibration("3", "2026-05-20", false);
    let good = calibration("2", "2026-04-10", true);
    for (day, more, verdict) in [
        ("2026-04-01", String::new(), Met),
        ("2026-04-01", bad.clone(), NotShown),
        ("2026-05-20", bad.clone(), NotShown),
        ("2026-05-21", bad.clone(), Met),
        ("2026-04-01", format!("{good}{bad}"), Met),
        ("2026-04-09", format!("{good}{bad}"), Met),
        // On the day on which it was found good nobody knows which came first.
        ("2026-04-10", format!("{good}{bad}"), NotShown),
        ("2026-04-11", format!("{good}{bad}"), NotShown),
        // Found out, and good once it was set right the same day.
        ("2026-05-01", format!("{bad}{}", calibration("4", "2026-05-20", true)), NotShown),
        ("2026-05-21", format!("{bad}{}", calibration("4", "2026-05-20", true)), Met),
        // A calibration of no instrument of the list may be of this one.
        ("2026-04-01", bad.replace("equipment = \"meter\"", "equipment = \"Meter\""), NotShown),
        ("2026-04-01", bad.replace("equipment = \"meter\"\n", ""), NotShown),
        // Whether it was good then, nobody says.
        ("2026-04-01", bad.replace("found_good = false\n", ""), NotShown),
    ] {
        assert_eq!(with_instrument(&format!(", dated = {day}"), &format!("{METER}{more}")), verdict, "{day} {more}");
    }
}

#[test]
fn a22_an_unknown_instrument_or_one_without_a_calibration_shows_nothing_unless_it_is_said_to_need_none() {
    let on = ", dated = 2026-03-01";
    assert_eq!(with_instrument(on, ""), NotShown);
    assert_eq!(with_instrument(on, "[[measuring.equipment]]\nname = \"meter\"\n"), NotShown);
    let none = "[[measuring.equipment]]\nname = \"meter\"\ncalibrated_until = \"none\"\n";
    assert_eq!(with_instrument(on, &format!("{none}calibrated_from = \"none\"\n")), Met);
    // A sticker that is missing does not say that none is needed.
    assert_eq!(with_instrument(on, none), NotShown);
    assert_eq!(with_instrument(on, &format!("{none}calibrated_from = 2026-01-01\n")), NotShown);
    // A calibration of something that is no instrument of the list.
    let lost = "[[measuring.calibrations]]\ncertificate = \"1\"\nequipment = \"meter\"\nfrom = 2026-01-01\nuntil = 2027-01-01\nfound_good = true\n";
    assert_eq!(with_instrument(on, lost), NotShown);
    assert_eq!(of(&state(&rules(), "[shed]\nleaks = { value = true, dated = 2026-03-01 }\n", &[]), "fitted"), Unmet);
}

/// Where it is written, once for each instrument.
#[test]
fn a22_an_unknown_instrument_is_told_when_it_is_written() {
    let rules = rules();
    let told = |facts: &str| {
        let read = read_project(&rules, PROJECT, &[file("facts.toml", facts)], &[]);
        let known = |code: &str| read.messages.iter().filter(|message| message.code == code).count();
        (known("value::no-such-instrument"), read.messages.first().and_then(|message| message.help.clone()))
    };
    let value = "[shed]\ndated = 2026-03-01\ninstrument = \"meter\"\nleaks = false\n";
    let equipment = |name: &str| format!("[[measuring.equipment]]\nname = \"{name}\"\n{value}");
    let entry = "[[log]]\non = 2026-03-01\nwhat = \"measured\"\nsubject = \"engine.lines\"\nwho = \"rosa\"\ninstrument = \"meter\"\n";
    assert_eq!(told(value).0, 1);
    assert_eq!(told(&format!("{value}{entry}")).0, 1);
    assert_eq!(told(entry).0, 1);
    assert_eq!(told(&equipment("meter")).0, 0);
    let (count, help) = told(&equipment("metre"));
    assert_eq!(count, 1);
    assert!(help.is_some_and(|help| help.contains("did you mean `metre`?")));
}
