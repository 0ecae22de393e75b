//! What an item says of the job that meets it.

use crate::lang::{OWN, codes, load, mine, pack, refused};
use cotterpin_engine::ir::Rules;
use cotterpin_engine::quantity::{Exact, ExactInterval};

const FACT: &str = "fact shed.width : length ask \"?\"\n";

/// The short names of what an item waits for.
fn after<'r>(rules: &'r Rules, name: &str) -> Vec<&'r str> {
    let item = rules.items.iter().find(|item| item.name == name).expect("the item");
    item.after.iter().map(|id| rules.item(*id).unwrap().name.as_str()).collect()
}

#[test]
fn a_job_takes_a_time() {
    for (written, seconds) in [("45 min", 2700), ("2 h", 7200), ("1 h ± 30 min", 5400)] {
        let rules = load(&[mine(
            &format!("{FACT}item shed.door \"t\" need shed.width >= 2 takes {written} {OWN}")
                .replace(">= 2", ">= 2 in"),
        )]);
        let takes = rules.items.first().unwrap().takes.as_ref().and_then(ExactInterval::hi);
        assert_eq!(takes, Some(&Exact::from_int(seconds)), "{written}");
    }
}

#[test]
fn a_number_before_takes_or_after_has_no_unit() {
    let facts = "fact shed.ratio : number ask \"?\"\n";
    let text = format!(
        "{facts}item shed.door \"t\" need shed.ratio >= 2 takes 1 h {OWN}\nitem shed.gate \"t\" need shed.ratio >= 3 after shed.door {OWN}"
    );
    assert_eq!(after(&load(&[mine(&text)]), "shed.gate"), ["shed.door"]);
}

#[test]
fn a_job_waits_for_items_wherever_they_stand() {
    let text = format!(
        "{FACT}item shed.door \"t\" need shed.width >= 2 in after shed.gate, shed.hinge after shed.gate {OWN}
         item shed.gate \"t\" need shed.width >= 3 in {OWN}
         item shed.hinge \"t\" need shed.width >= 4 in {OWN}"
    );
    assert_eq!(after(&load(&[mine(&text)]), "shed.door"), ["shed.gate", "shed.hinge"]);
}

#[test]
fn a_job_waits_for_every_edition_of_an_item() {
    let text = format!(
        "{FACT}item shed.door \"t\" need shed.width >= 2 in after shed.gate {OWN}
         item shed.gate \"old\" need shed.width >= 3 in {OWN} in force until 2025-12-31
         item shed.gate \"new\" need shed.width >= 4 in {OWN} in force from 2026-01-01"
    );
    assert_eq!(after(&load(&[mine(&text)]), "shed.door"), ["shed.gate", "shed.gate"]);
}

#[test]
fn a_job_waits_only_for_items_its_pack_sees() {
    let base = mine(&format!("{FACT}item shed.door \"t\" need shed.width >= 2 in {OWN}"));
    let kit = |uses: &[&str], name: &str| {
        pack(name, uses, &format!("item shed.{name} \"t\" need shed.width >= 9 in after shed.door {OWN}"))
    };
    assert_eq!(after(&load(&[base.clone(), kit(&["mine"], "kit")]), "shed.kit"), ["shed.door"]);
    let third =
        pack("third", &["mine"], &format!("item shed.third \"t\" need shed.width >= 9 in after shed.kit {OWN}"));
    let (_, messages) = refused(&[base, kit(&["mine"], "kit"), third]);
    assert_eq!(codes(&messages), ["pack::not-used"]);
}
