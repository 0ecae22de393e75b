//! A4, A16: from truth to a verdict; evidence, people's words, concessions; what kind of word an item is.

use crate::lang::{OWN, audited, come_out, finding, load, mine, of_nothing, refused, verdict};
use cotterpin_engine::audit::Notice;
use cotterpin_engine::diagnostic::Diagnostic;
use cotterpin_engine::ir::Rules;
use cotterpin_engine::project::read;
use cotterpin_engine::vocabulary::{Basis, Mark, Verdict};

const FACTS: &str = "fact shed.open : yes or no ask \"?\" fact shed.width : length ask \"?\"\n";

/// `when` the shed is open, its width; with the given clauses.
fn widths(clauses: &str, tries: &str) -> Rules {
    come_out(&[mine(&format!(
        "{FACTS}item shed.door \"t\" when shed.open need shed.width >= 2 in {OWN} {clauses} {tries}"
    ))])
}

#[test]
fn a4_when_and_need_lead_to_the_verdict() {
    widths(
        "",
        "try \"does not apply\" shed.open = no, shed.width = 1 in => not-applicable
         try \"does not apply, nothing known\" shed.open = no => not-applicable
         try \"applies and holds\" shed.open = yes, shed.width = 2 in => met
         try \"applies and fails\" shed.open = yes, shed.width = 1 in => unmet
         try \"applies, open\" shed.open = yes => not-shown
         try \"may apply, holds\" shed.width = 2 in => met
         try \"may apply, fails\" shed.width = 1 in => not-shown
         try \"may apply, open\" => not-shown",
    );
}

#[test]
fn a4_evidence_missing_leaves_a_need_that_holds_not_shown() {
    let rules = come_out(&[mine(&format!(
        "fact roof.test.load : mass ask \"?\" fact gate.open : yes or no ask \"?\"
         item shed.roof \"t\" need roof.test.load >= 2 lb show photo or weigh-sheet of roof.test {OWN}
         try \"no evidence\" roof.test.load = 2 lb => not-shown
         try \"a photo\" roof.test.load = 2 lb, photo of roof.test => met
         try \"the other kind\" roof.test.load = 2 lb, weigh-sheet of roof.test => met
         try \"of something else\" roof.test.load = 2 lb, photo of gate => not-shown
         try \"a photo of a failure\" roof.test.load = 1 lb, photo of roof.test => unmet"
    ))]);
    let on_record =
        |evidence: &str| audited(&rules, &format!("[roof.test]\nload = \"2 lb\"\n{evidence}"), "2026-06-01", None);
    let none = on_record("");
    assert_eq!(verdict(&none, "mine/shed.roof"), Verdict::NotShown);
    assert_eq!(finding(&none, "mine/shed.roof").missing[0].fact, "roof.test.evidence");
    let gone = on_record("evidence = \"evidence/gone.jpg\"\n");
    assert_eq!(verdict(&gone, "mine/shed.roof"), Verdict::NotShown);
    assert!(
        matches!(gone.notices.as_slice(), [Notice::EvidenceNotThere(file, _)] if file == "evidence/gone.jpg"),
        "{:?}",
        gone.notices
    );
    assert_eq!(verdict(&on_record("evidence = \"evidence/door.jpg\"\n"), "mine/shed.roof"), Verdict::Met);
}

fn asked() -> Rules {
    come_out(&[mine(&format!(
        "item shed.look \"t\" ask \"Can you read it?\" need confirmed by builder or inspector {OWN}
           try \"nobody\" => not-shown
           try \"looked\" confirmed by builder => met
           try \"not so\" confirmed not by inspector => unmet
           try \"tomorrow\" on 2026-01-01, confirmed by builder on 2026-01-02 => not-shown"
    ))])
}

#[test]
fn a4_a_confirmation_needs_who_and_when() {
    let rules = asked();
    let whole = "[[confirmed]]\nitem = \"shed.look\"\nwho = \"A. Builder\"\nrole = \"builder\"\non = 2026-05-01\n";
    assert_eq!(verdict(&audited(&rules, whole, "2026-06-01", None), "mine/shed.look"), Verdict::Met);
    assert_eq!(verdict(&audited(&rules, whole, "2026-04-30", None), "mine/shed.look"), Verdict::NotShown);
    assert_eq!(verdict(&of_nothing(&rules), "mine/shed.look"), Verdict::NotShown);
    for key in ["who", "on", "role"] {
        let text: String = whole
            .lines()
            .filter(|line| !line.starts_with(&format!("{key} ")))
            .map(|line| format!("{line}\n"))
            .collect();
        let file = crate::fixtures::projects::file("facts.toml", text);
        let (record, messages) = read(&[file], &[], &crate::lang::header(None), &rules, rules.sources.clone());
        assert!(messages.iter().any(Diagnostic::is_error), "without {key}");
        assert!(record.confirmations.is_empty(), "without {key}");
    }
}

#[test]
fn a4_only_somebody_asked_can_confirm() {
    let rules = load(&[mine(&format!("item shed.look \"t\" ask \"?\" need confirmed by inspector {OWN}"))]);
    let word = "[[confirmed]]\nitem = \"shed.look\"\nwho = \"A. Builder\"\nrole = \"builder\"\non = 2026-05-01\n";
    assert_eq!(verdict(&audited(&rules, word, "2026-06-01", None), "mine/shed.look"), Verdict::NotShown);
}

/// ISO 9000:2015 3.12.5: a concession is permission to use or release what
/// does not conform (the definition from memory, not checked against the standard).
#[test]
fn a4_a_concession_shows_as_conceded_never_as_met() {
    let rules = widths("", "try \"fails\" shed.open = yes, shed.width = 1 in => unmet");
    let leave = "[[concession]]\nitem = \"shed.door\"\nreason = \"The post is in the way\"\ngranted_by = \"B. Inspector\"\n\
                 role = \"inspector\"\non = 2026-05-01\nuntil = 2026-12-31\n";
    let fails = format!("{leave}[shed]\nopen = true\nwidth = \"1 in\"\n");
    let report = audited(&rules, &fails, "2026-06-01", None);
    let conceded = finding(&report, "mine/shed.door");
    assert_eq!(conceded.verdict, Verdict::Conceded);
    let told = conceded.concession.as_ref().expect("its concession");
    assert_eq!(
        (told.reason.as_str(), told.granted_by.as_str(), told.until.as_str()),
        ("The post is in the way", "B. Inspector", "2026-12-31")
    );
    assert_eq!(told.instead_of, Verdict::Unmet);
    assert_eq!((report.summary.met, report.summary.conceded), (0, 1));
    for (day, verdict) in [("2027-01-01", Verdict::Unmet), ("2026-04-30", Verdict::Unmet)] {
        let report = audited(&rules, &fails, day, None);
        assert_eq!(finding(&report, "mine/shed.door").verdict, verdict, "{day}");
        assert!(report.notices.iter().any(|notice| matches!(notice, Notice::Concession(..))), "{:?}", report.notices);
    }
    let holds = format!("{leave}[shed]\nopen = true\nwidth = \"2 in\"\n");
    assert_eq!(verdict(&audited(&rules, &holds, "2026-06-01", None), "mine/shed.door"), Verdict::Met);
}

#[test]
fn a4_nobody_concedes_an_item_that_says_so() {
    let rules = widths("no concession", "try \"fails\" shed.open = yes, shed.width = 1 in => unmet");
    let text = "[[concession]]\nitem = \"shed.door\"\nreason = \"r\"\ngranted_by = \"Bo\"\nrole = \"inspector\"\n\
                on = 2026-05-01\nuntil = 2026-12-31\n[shed]\nopen = true\nwidth = \"1 in\"\n";
    assert_eq!(verdict(&audited(&rules, text, "2026-06-01", None), "mine/shed.door"), Verdict::Unmet);
}

#[test]
fn a16_every_item_says_what_kind_of_word_it_is() {
    let book = "source book \"A book\" number \"B-1\" edition \"2026\" issuer \"Nobody\" mark read\n";
    let item = |basis: &str, cite: &str| {
        mine(&format!("{FACTS}{book}item shed.door \"t\" need shed.open by visit {basis} cite {cite}"))
    };
    let bases = [
        ("law", Basis::Law),
        ("advice", Basis::Advice),
        ("handbook", Basis::Handbook),
        ("association", Basis::Association),
        ("kit", Basis::Kit),
        ("own", Basis::Own),
    ];
    for (word, basis) in bases {
        let report = of_nothing(&load(&[item(&format!("basis {word}"), "book, \"1\"")]));
        assert_eq!(finding(&report, "mine/shed.door").basis, basis);
    }
    assert_eq!(refused(&[item("", "book, \"1\"")]).1[0].code, "item::no-basis");
}

#[test]
fn a16_advice_never_looks_like_law() {
    let book = "source book \"A book\" number \"B-1\" edition \"2026\" issuer \"Nobody\" mark read\n";
    for basis in ["law", "advice", "handbook", "association"] {
        let text = format!("{FACTS}item shed.door \"t\" need shed.open by visit basis {basis} cite common practice");
        assert_eq!(refused(&[mine(&text)]).1[0].code, "item::basis", "{basis}");
    }
    let text =
        format!("{FACTS}{book}item shed.door \"t\" need shed.open by visit basis common practice cite book, \"1\"");
    assert_eq!(refused(&[mine(&text)]).1[0].code, "item::basis");
    let rules = load(&[mine(&format!(
        "{FACTS}item shed.door \"t\" need shed.open by visit basis common practice cite common practice"
    ))]);
    let report = of_nothing(&rules);
    let door = finding(&report, "mine/shed.door");
    assert_eq!((door.basis, door.sources[0].mark), (Basis::CommonPractice, Mark::CommonPractice));
    assert!(cotterpin_engine::report::text(&report, 80).contains("ommon practice"));
}
