//! The first page: at most 60 lines whatever there is, and the numbers of the whole report.

use super::{awkward, made};
use crate::fixtures::dice::Dice;
use crate::fixtures::seed::with_dice;
use cotterpin_engine::audit::{Audit, Finding};
use cotterpin_engine::report::{findings_numbered, page, text};
use cotterpin_engine::vocabulary::Verdict;

/// So many lines it has at most; of 80 characters.
const LINES: usize = 60;

/// An audit with several hundred awkward findings.
fn large(dice: &mut Dice) -> Audit {
    let mut audit = awkward::audit(dice);
    for round in 0..dice.below(60) {
        let more = awkward::audit(dice).findings.into_iter();
        audit.findings.extend(more.map(|one| Finding { item: format!("{}-{round}", one.item), ..one }));
    }
    audit.summary = made::summary(&audit.findings);
    audit
}

/// The numbers at the beginning of lines.
fn numbers(page: &str) -> Vec<usize> {
    let number = |line: &str| {
        let (first, rest) = line.trim_start().split_once("  ")?;
        (line.starts_with(' ') && !rest.is_empty()).then(|| first.parse().ok()).flatten()
    };
    page.lines().filter_map(number).collect()
}

#[test]
fn it_fits_one_page_whatever_there_is() {
    let mut told = 0;
    with_dice(&[], |dice| {
        for _ in 0..150 {
            let audit = large(dice);
            let page = page(&audit, None, 80);
            assert!(page.lines().count() <= LINES, "{} lines:\n{page}", page.lines().count());
            for line in page.lines() {
                assert!(line.chars().count() <= 80 && line == line.trim_end(), "{line}");
            }
            let open = audit.findings.iter().filter(|one| matches!(one.verdict, Verdict::Unmet | Verdict::NotShown));
            told += usize::from(open.count() > 0 && !numbers(&page).is_empty());
        }
    });
    assert!(told > 60, "{told}");
}

#[test]
fn its_numbers_are_those_of_the_whole_report() {
    let mut seen = 0;
    with_dice(&[], |dice| {
        for _ in 0..60 {
            let audit = large(dice);
            let (page, whole) = (page(&audit, None, 80), text(&audit, 80));
            for number in numbers(&page) {
                let findings = findings_numbered(&audit, number);
                assert!(!findings.is_empty(), "{number} of\n{page}");
                let verdict = if findings[0].verdict == Verdict::Unmet { "UNMET" } else { "NOT SHOWN" };
                assert!(whole.contains(&format!("{verdict} {number}.")), "{number} of\n{page}");
                seen += 1;
            }
        }
    });
    assert!(seen > 120, "{seen}");
}

#[test]
fn nothing_open_is_said_and_no_heading_stands_over_nothing() {
    let met = |one: &Finding| one.verdict == Verdict::Met;
    let findings: Vec<Finding> = made::audit().findings.into_iter().filter(met).collect();
    let audit = Audit { summary: made::summary(&findings), findings, ..made::audit() };
    let page = page(&audit, None, 80);
    for heading in ["Can end the visit", "Unmet:", "Undone", "To find out", "Still to be said", "and 0 more"] {
        assert!(!page.contains(heading), "{heading} in\n{page}");
    }
    assert!(page.contains("0 unmet, 0 not shown"), "{page}");
}
