//! A11: packs on packs.

use crate::lang::{OWN, WORDS, codes, finding, load, mine, of_nothing, pack, refused};
use cotterpin::audit::{Verdict, run_examples};
use cotterpin::report::text;
use cotterpin::rules::PackText;

fn base() -> PackText {
    mine(&format!(
        "source book \"A book\" number \"B-1\" edition \"2026\" issuer \"Nobody\" mark read
         fact shed.width : length ask \"?\"
         item shed.door \"t\" need shed.width >= 2 in by visit basis law cite book, \"1\"
           try \"two\" shed.width = 2 in => met"
    ))
}

#[test]
fn a11_a_pack_adds_items_of_its_own() {
    let kit = pack("kit", &["mine"], &format!("item shed.gate \"t\" need shed.width >= 9 in {OWN}"));
    let report = of_nothing(&load(&[kit, base()]));
    let items: Vec<&str> = report.findings.iter().map(|finding| finding.item.as_str()).collect();
    assert_eq!(items, ["kit/shed.gate", "mine/shed.door"]);
}

#[test]
fn a11_a_pack_adds_needs_to_another_packs_item() {
    let kit = pack(
        "kit",
        &["mine"],
        "amend shed.door need shed.width >= 5 in basis kit cite common practice
           try \"the law's\" shed.width = 2 in => unmet
           try \"the kit's\" shed.width = 5 in => met",
    );
    let rules = load(&[base(), kit]);
    for result in run_examples(&rules) {
        assert_eq!(result.got.word(), result.expected.word(), "{}", result.example);
    }
    let report = of_nothing(&rules);
    assert!(finding(&report, "mine/shed.door").notes.iter().any(|note| note.contains("`kit`")));
    assert_eq!(finding(&report, "mine/shed.door").sources.len(), 2);
}

#[test]
fn a11_an_amendment_holds_for_every_edition_in_force() {
    let base = mine(&format!(
        "fact shed.width : length ask \"?\"
         item shed.door \"old\" need shed.width >= 1 in {OWN} in force until 2025-12-31
         item shed.door \"new\" need shed.width >= 1 in {OWN} in force from 2026-01-01"
    ));
    let kit = pack("kit", &["mine"], "amend shed.door need shed.width >= 5 in basis kit cite common practice");
    let rules = load(&[base.clone(), kit]);
    let audit = |day: &str| crate::lang::audited(&rules, "[shed]\nwidth = \"2 in\"\n", day, None);
    assert_eq!(finding(&audit("2025-06-01"), "mine/shed.door").verdict, Verdict::Unmet);
    assert_eq!(
        finding(&audit("2026-06-01"), "mine/shed.door").verdict,
        Verdict::Unmet,
        "the kit's need is lost with the new edition"
    );
    let aside = load(&[base, pack("kit", &["mine"], "set aside shed.door because \"It has none.\"")]);
    assert!(aside.items.iter().all(|item| item.set_aside.is_some()), "only one edition is set aside");
}

#[test]
fn a11_to_relax_an_item_it_is_set_aside_with_a_reason_and_both_are_shown() {
    let kit = pack("kit", &["mine"], "set aside shed.door because \"This shed has no door.\"");
    let report = of_nothing(&load(&[base(), kit]));
    let door = finding(&report, "mine/shed.door");
    assert_eq!(door.verdict, Verdict::NotApplicable);
    let aside = door.set_aside.as_ref().expect("it says so");
    assert_eq!(
        (aside.pack.as_str(), aside.because.as_str(), aside.instead_of),
        ("kit", "This shed has no door.", Verdict::NotShown)
    );
    let shown = text(&report, 80);
    assert!(shown.contains("shed.door") && shown.contains("This shed has no door."), "{shown}");
    let silent = pack("kit", &["mine"], "set aside shed.door");
    assert!(codes(&refused(&[base(), silent]).1).iter().any(|code| code.starts_with("syntax::")));
}

#[test]
fn a11_an_item_per_record_is_set_aside_whatever_its_list_holds() {
    let base = mine(&format!(
        "list seats ask \"?\" field n : text ask \"?\" item shed.seat for each s in seats \"t\" need s.n is \"x\" {OWN}"
    ));
    let rules = load(&[base, pack("kit", &["mine"], "set aside shed.seat because \"It has none.\"")]);
    for facts in ["seats = []\n", "[[seats]]\nn = \"y\"\n", ""] {
        let report = crate::lang::audited(&rules, facts, "2026-06-01", None);
        let seat = finding(&report, "mine/shed.seat");
        assert_eq!(seat.verdict, Verdict::NotApplicable, "with {facts:?}");
    }
}

#[test]
fn a11_names_of_two_packs_do_not_collide_silently() {
    let other = |text: &str| pack("other", &[], text);
    for text in [
        "fact shed.width : length ask \"?\"",
        "source book \"Another\" number \"1\" edition \"1\" issuer \"I\" mark read",
        "hold-points visit \"Another\"",
        "roles builder \"Another\"",
    ] {
        let (sources, messages) = refused(&[base(), other(text)]);
        let twice = messages.iter().find(|message| message.code == "name::twice").expect("it is said");
        let files: Vec<String> = twice.labels.iter().map(|label| sources.place(label.span).file).collect();
        assert_eq!(files, ["other.checklist", "mine.checklist"], "{text}");
    }
    let item = pack("other", &["mine"], &format!("item shed.door \"t\" need shed.width >= 1 in {OWN}"));
    assert_eq!(codes(&refused(&[base(), item]).1), ["name::twice"]);
}

#[test]
fn a11_packs_may_come_in_any_order() {
    let kit = pack("kit", &["mine"], &format!("item shed.gate \"t\" need shed.width >= 9 in {OWN}"));
    let names = |packs: &[PackText]| load(packs).packs.iter().map(|pack| pack.name.clone()).collect::<Vec<_>>();
    assert_eq!(names(&[kit.clone(), base()]), names(&[base(), kit]));
    assert!(WORDS.contains("hold-points"));
}
