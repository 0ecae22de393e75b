//! What is open and comes after something else that is open stands behind it, and is not met by that.

use crate::fixtures::folder::Run;
use crate::fixtures::projects::{file, read_project, request};
use crate::lang::{OWN, finding, load, mine};
use cotterpin_engine::audit::{Audit, Finding, FindingKind, audit};
use cotterpin_engine::report;
use cotterpin_engine::vocabulary::Verdict;
use std::path::Path;

const PROJECT: &str =
    "name = \"Shed\"\npacks = [\"./shed\"]\n[people]\nrosa = { name = \"Rosa Example\", role = \"builder\" }\n";

const FACTS: &str = "fact shed.plate : yes or no ask \"?\"\nfact shed.legible : yes or no ask \"?\"\n\
    fact shed.riveted : yes or no ask \"?\"\n";

fn of(items: &str, recorded: &str) -> Audit {
    let rules = load(&[mine(&format!("{FACTS}{items}"))]);
    let read = read_project(&rules, PROJECT, &[file("facts.toml", recorded)], &[]).clean();
    audit(&rules, &read.record, &request("2026-06-01"))
}

fn chain() -> String {
    format!(
        "item shed.plate \"It is there\" need shed.plate {OWN}
         item shed.legible \"It can be read\" need shed.legible after shed.plate {OWN}
         item shed.riveted \"It is riveted on\" need shed.riveted after shed.legible {OWN}"
    )
}

/// The items that stand behind others, and what each stands behind.
fn behind(audit: &Audit) -> Vec<(&str, &str)> {
    let behind = audit.behind();
    audit.findings.iter().filter_map(|one| Some((one.item.as_str(), behind.comes_before(one)?))).collect()
}

#[test]
fn what_comes_after_something_open_stands_behind_it() {
    let audit = of(&chain(), "");
    assert_eq!(behind(&audit), [("mine/shed.legible", "mine/shed.plate"), ("mine/shed.riveted", "mine/shed.legible")]);
    // It stays open and counts.
    assert_eq!(audit.summary.not_shown, 3);
    let plate = finding(&audit, "mine/shed.plate");
    assert_eq!(audit.behind().later(plate).len(), 1);
    let page = report::page(&audit, None, 80);
    assert!(page.contains("1 not shown, 2 not yet (they come after others),"), "{page}");
    let text = report::text(&audit, 80);
    let (first, later) = text.split_once("Not yet: another of these comes first").expect("a part of its own");
    assert!(
        first.contains("before      mine/shed.legible") && !first.contains("item        mine/shed.legible"),
        "{text}"
    );
    assert!(later.contains("after       mine/shed.plate"), "{text}");
    let why = report::why(&audit, &[finding(&audit, "mine/shed.legible")], 80);
    assert!(why.contains("First comes mine/shed.plate, which is open."), "{why}");
    // What is asked of it comes last.
    let asked: Vec<&str> = audit.questions.iter().map(|question| question.fact.as_str()).collect();
    assert_eq!(asked, ["shed.plate", "shed.legible", "shed.riveted"]);
    // Once the first is met the next is told.
    assert_eq!(behind(&of(&chain(), "shed.plate = true\n")), [("mine/shed.riveted", "mine/shed.legible")]);
    // What is unmet is told, whatever comes before it, and so is what stands behind only that.
    assert_eq!(behind(&of(&chain(), "shed.legible = false\n")), [("mine/shed.riveted", "mine/shed.legible")]);
}

#[test]
fn in_a_circle_nothing_stands_behind_another() {
    let items = format!(
        "item shed.plate \"It is there\" need shed.plate after shed.riveted {OWN}
         item shed.legible \"It can be read\" need shed.legible after shed.plate {OWN}
         item shed.riveted \"It is riveted on\" need shed.riveted after shed.legible {OWN}"
    );
    assert_eq!(behind(&of(&items, "")), []);
    assert_eq!(behind(&of(&items, "shed.plate = false\n")).len(), 2);
}

#[test]
fn what_can_end_the_visit_stands_behind_its_like_alone() {
    let items = |stops: &str| {
        format!(
            "item shed.plate \"It is there\" need shed.plate {stops} {OWN}
             item shed.legible \"It can be read\" need shed.legible after shed.plate stops the visit {OWN}"
        )
    };
    assert_eq!(behind(&of(&items(""), "")), []);
    assert_eq!(behind(&of(&items("stops the visit"), "")), [("mine/shed.legible", "mine/shed.plate")]);
}

#[test]
fn what_asks_for_a_record_stands_behind_a_list_that_has_none() {
    let items = format!(
        "list shed.papers ask \"Each paper\"\n  field title : text ask \"?\"\n  field good : yes or no ask \"?\"\n  named by title
         item shed.paper \"There is a good paper\" need some p in shed.papers has p.good {OWN}"
    );
    let audit = of(&items, "[whole]\nlog = { entries = 0, up_to = 2020-01-01, who = \"rosa\", on = 2020-01-01 }\n");
    assert_eq!(behind(&audit), [("mine/shed.paper", "shed.papers")]);
    // With a record it is told what that one lacks.
    let audit = of(
        &items,
        "[[shed.papers]]\ntitle = \"form\"\n[whole]\nlog = { entries = 0, up_to = 2020-01-01, who = \"rosa\", on = 2020-01-01 }\n",
    );
    assert_eq!(behind(&audit), []);
    assert_eq!(finding(&audit, "mine/shed.paper").verdict, Verdict::NotShown);
}

/// Of the demo and all projects: whatever is open is told, or stands behind something that is; and what can end the
/// visit behind what can end it too.
#[test]
fn nothing_open_is_lost() {
    let top = Path::new(env!("CARGO_MANIFEST_DIR"));
    let folders = std::fs::read_dir(top.join("tests/packs/projects"))
        .expect("projects")
        .map(|entry| entry.expect("an entry").path());
    let run = Run::new("behind");
    let mut audits: Vec<Audit> = Vec::new();
    for folder in folders.chain([top.join("src/command/demo")]) {
        let folder = folder.to_str().expect("UTF-8").to_owned();
        for by in ["visit", "continuing"] {
            let ran = run.step(&["audit", &folder, "--on", "2026-11-29", "--by", by, "--format", "json"]);
            audits.push(serde_json::from_str(&ran.out).unwrap_or_else(|_| panic!("{folder}: {}", ran.err)));
        }
    }
    let mut waiting = 0;
    for audit in &audits {
        let behind = audit.behind();
        let open = |one: &&Finding| matches!(one.verdict, Verdict::Unmet | Verdict::NotShown);
        for finding in audit.findings.iter().filter(open) {
            let mut at = finding;
            let mut steps = 0;
            while let Some(name) = behind.comes_before(at) {
                let before = audit
                    .findings
                    .iter()
                    .filter(open)
                    .find(|one| one.item == name && behind.later(one).iter().any(|later| std::ptr::eq(*later, at)));
                let before = before.unwrap_or_else(|| panic!("{} stands behind {name}, which is not open", at.item));
                assert!(!at.stops_the_visit || before.stops_the_visit, "{} behind {name}", at.item);
                assert!(at.verdict == Verdict::NotShown && at.kind == FindingKind::Item, "{}", at.item);
                (at, steps) = (before, steps + 1);
                assert!(steps < audit.findings.len(), "{} stands behind itself", finding.item);
            }
            waiting += usize::from(behind.waits(finding));
        }
        assert_eq!(behind.count(), audit.findings.iter().filter(|one| behind.waits(one)).count());
    }
    assert!(waiting > 200, "{waiting}");
}
