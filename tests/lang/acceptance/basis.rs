//! A16: every need keeps its own kind of word.

use crate::lang::{audited, codes, finding, load, mine, pack, refused};
use cotterpin_engine::audit::{Audit, Held};
use cotterpin_engine::ir::Rules;
use cotterpin_engine::report::{json, text, why};
use cotterpin_engine::vocabulary::{Basis, Verdict};
use cotterpin_packs::PackText;

/// An item of law, to which two packs add.
fn packs() -> [PackText; 3] {
    let law = mine(
        "source book \"A book of law\" number \"L-1\" edition \"2026\" issuer \"Nobody\" mark read
         fact shed.width : length ask \"How wide?\"
         fact shed.lock : yes or no ask \"Is there a lock?\"
         item shed.door \"The door is wide enough\" need shed.width >= 2 in by visit basis law cite book, \"1\"
           check \"Measure it by law.\" remedy \"Widen it by law.\" caution \"Splinters.\"",
    );
    let kit = pack(
        "kit",
        &["mine"],
        "source manual \"The kit's manual\" number \"K-2\" edition \"7\" issuer \"The kit\" mark read
         amend shed.door need shed.width >= 5 in basis kit cite manual, \"page 9\"
           check \"Measure the frame.\" remedy \"Fit the kit's own frame.\" caution \"The frame is heavy.\"",
    );
    let club = pack(
        "club",
        &["mine"],
        "amend shed.door need shed.lock basis common practice cite common practice remedy \"Fit a lock.\"",
    );
    [law, kit, club]
}

fn rules() -> Rules {
    load(&packs())
}

fn report(facts: &str) -> Audit {
    audited(&rules(), facts, "2026-06-01", None)
}

#[test]
fn a16_a_kits_need_under_an_item_of_law_never_reads_as_law() {
    let report = report("[shed]\nwidth = \"3 in\"\nlock = true\n");
    let door = finding(&report, "mine/shed.door");
    assert_eq!((door.verdict, door.basis, door.added_by.as_deref()), (Verdict::Unmet, Basis::Kit, Some("kit")));
    assert_eq!(door.because.iter().map(|b| b.expression.as_str()).collect::<Vec<_>>(), ["shed.width >= 5 in"]);
    assert_eq!(door.sources.iter().map(|s| s.number.as_str()).collect::<Vec<_>>(), ["K-2"]);
    assert_eq!(door.check.as_deref(), Some("Measure the frame."));
    assert_eq!(door.remedy.as_deref(), Some("Fit the kit's own frame."));
    assert_eq!(door.caution.as_deref(), Some("Splinters. The frame is heavy."));
    let shown = text(&report, 120);
    assert!(shown.contains("added by    the pack `kit`, standing: the kit's own word, not law"), "{shown}");
    assert!(shown.contains("K-2, edition 7, at page 9") && !shown.contains("Widen it by law"), "{shown}");
    assert!(
        !shown.contains(" law\n") || shown.matches(" law\n").count() == shown.matches(" not law\n").count(),
        "{shown}"
    );
    let told = why(&report, &[door], 120);
    assert!(told.contains("added by the pack `kit`, standing: the kit's own word, not law"), "{told}");
    let parsed: serde_json::Value = serde_json::from_str(&json(&report)).expect("JSON");
    let one = &parsed["findings"][0];
    assert_eq!((&one["added_by"], &one["basis"]), (&serde_json::json!("kit"), &serde_json::json!("kit")));
}

#[test]
fn a16_where_both_are_open_each_need_is_told_with_its_own_word() {
    let report = report("[shed]\nwidth = \"1 in\"\n");
    let door = finding(&report, "mine/shed.door");
    assert_eq!((door.verdict, door.basis, door.added_by.as_deref()), (Verdict::Unmet, Basis::Law, None));
    assert_eq!(door.because.iter().map(|b| b.expression.as_str()).collect::<Vec<_>>(), ["shed.width >= 2 in"]);
    assert_eq!(door.sources.iter().map(|s| s.number.as_str()).collect::<Vec<_>>(), ["L-1"]);
    assert_eq!(door.check.as_deref(), Some("Measure it by law."));
    assert_eq!(door.remedy.as_deref(), Some("Widen it by law."));
    let added: Vec<_> = door.added.iter().map(|a| (a.pack.as_str(), a.basis, a.held.clone())).collect();
    let (kit, club) = (("kit", Basis::Kit, Held::False), ("club", Basis::CommonPractice, Held::Undecided));
    assert!(added == [kit.clone(), club.clone()] || added == [club, kit], "{added:?}");
    let shown = text(&report, 120);
    for words in
        ["by the pack `kit`, standing: the kit's own word, not law", "by the pack `club`, standing: common practice"]
    {
        assert!(shown.contains(words), "{shown}");
    }
}

#[test]
fn a16_what_is_not_shown_is_told_by_the_need_that_is_open() {
    let report = report("[shed]\nwidth = \"6 in\"\n");
    let door = finding(&report, "mine/shed.door");
    assert_eq!((door.verdict, door.added_by.as_deref()), (Verdict::NotShown, Some("club")));
    assert_eq!(door.basis, Basis::CommonPractice);
    assert_eq!(door.missing.iter().map(|m| m.fact.as_str()).collect::<Vec<_>>(), ["shed.lock"]);
}

#[test]
fn a16_a_met_item_is_the_items_own_word() {
    let report = report("[shed]\nwidth = \"6 in\"\nlock = true\n");
    let door = finding(&report, "mine/shed.door");
    assert_eq!((door.verdict, door.basis, door.added_by.as_deref()), (Verdict::Met, Basis::Law, None));
    assert!(door.added.iter().all(|added| added.held == Held::True) && door.added.len() == 2);
}

#[test]
fn a16_an_amendment_says_what_kind_of_word_it_is() {
    let [law, ..] = packs();
    let amend = |clauses: &str| {
        let kit = pack("kit", &["mine"], &format!("amend shed.door need shed.lock {clauses}"));
        codes(&refused(&[law.clone(), kit]).1)
    };
    assert_eq!(amend("cite common practice"), ["item::no-basis"]);
    assert_eq!(amend("basis law cite common practice"), ["item::basis"]);
    assert_eq!(amend("basis kit"), ["item::no-source"]);
    assert_eq!(amend("basis kit basis law cite common practice"), ["item::twice"]);
}
