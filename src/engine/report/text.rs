//! The report for a person: what can cost the day first, then by hold point
//! and system. No colour, no symbols, no score; made to be read aloud.

use super::blocks::{self, Group};
use super::closing;
use super::phrases;
use super::whole_lists;
use super::wrap::Page;
use crate::audit::{Audit, Finding, FindingKind, LogLine};
use std::collections::BTreeMap;

/// The whole report, no line wider than `width` characters (at least 40).
///
/// It counts findings and never weighs them into one number, because a single
/// unmet item can end a visit whatever the others say.
#[must_use]
pub fn text(audit: &Audit, width: usize) -> String {
    let mut page = Page::new(width);
    heading(&mut page, audit);
    counts(&mut page, audit);
    open_findings(&mut page, audit);
    closing::conceded(&mut page, audit);
    closing::set_aside(&mut page, audit);
    closing::remarks(&mut page, audit);
    closing::questions(&mut page, audit);
    closing::settled(&mut page, audit);
    closing::packs(&mut page, audit);
    closing::reminder(&mut page, audit);
    page.finish()
}

fn heading(page: &mut Page, audit: &Audit) {
    page.line(0, &format!("Self-audit of {}", audit.project));
    page.gap();
    page.labelled(0, 16, "Audit date", &audit.on);
    page.labelled(0, 16, "Planned visit", audit.visit.as_deref().unwrap_or("not recorded"));
    let until = match &audit.by {
        Some(by) => format!("only what is due by {}", quoted(phrases::titled(&audit.titles.hold_points, by))),
        None => "what is due by any hold point".to_owned(),
    };
    let until = match &audit.closing {
        Some(zone) => format!("only {}, before it is closed", quoted(phrases::titled(&audit.titles.zones, zone))),
        None => until,
    };
    page.labelled(0, 16, "Looked at", &until);
    if audit.closing.is_some() {
        let text = "everything open in this zone; what is due later as well, as it will be out of reach then";
        page.labelled(0, 16, "Shown", text);
    }
    page.labelled(0, 16, "Recorded", &phrases::counted(audit.recorded, "value", "values"));
}

fn counts(page: &mut Page, audit: &Audit) {
    let sum = &audit.summary;
    page.heading("How it stands");
    page.line(0, &counts_sentence(audit));
    page.gap();
    let rows = [
        ("unmet", sum.unmet, "what is recorded contradicts what is asked"),
        ("not shown", sum.not_shown, "nothing recorded shows it either way"),
        ("conceded", sum.conceded, "leave was given; it is still not met"),
        ("met", sum.met, "what is recorded shows it"),
        ("not applicable", sum.not_applicable, "does not concern this aircraft now"),
        ("set aside", sum.set_aside, "a pack says it does not apply here; see its reason"),
    ];
    let some = |(word, count, _): &(&str, usize, &str)| *count > 0 || *word != "set aside";
    for (word, count, meaning) in rows.into_iter().filter(some) {
        page.labelled(2, 24, &format!("{word:<16}{count:>5}"), meaning);
    }
}

fn counts_sentence(audit: &Audit) -> String {
    let sum = &audit.summary;
    let judged = audit.findings.len().saturating_sub(sum.not_applicable).saturating_sub(sum.set_aside);
    if judged == 0 {
        return "Nothing was judged: no item applies to what is recorded. This shows nothing about the aircraft."
            .to_owned();
    }
    let ending = audit.findings.iter().filter(|f| phrases::is_open(f) && f.stops_the_visit).count();
    let open = sum.unmet.saturating_add(sum.not_shown);
    let first = format!("{} judged, {open} of them open.", phrases::counted(judged, "finding was", "findings were"));
    match ending {
        0 => first,
        _ => format!(
            "{first} {} end the visit before it begins.",
            phrases::counted(ending, "open finding can", "open findings can")
        ),
    }
}

/// What has one number.
enum Block<'a> {
    /// Findings of one item with one verdict.
    Group(Group<'a>),
    /// Findings that one and the same entry of the log undid.
    Undone(Vec<&'a Finding>),
}

fn groups<'a>(findings: &[&'a Finding]) -> Vec<Block<'a>> {
    blocks::grouped(findings).into_iter().map(Block::Group).collect()
}

/// Everything unmet or not shown, under its headings; the blocks are numbered through.
fn in_order(audit: &Audit) -> Vec<(String, Vec<Block<'_>>)> {
    let (ending, others): (Vec<&Finding>, Vec<&Finding>) =
        audit.findings.iter().filter(|f| phrases::is_told(f)).partition(|f| f.stops_the_visit);
    let (undone, others) = undone_together(&others);
    let mut all: Vec<(String, Vec<Block<'_>>)> = vec![
        ("What can end the visit".to_owned(), groups(&ending)),
        ("Undone by later work".to_owned(), undone.into_iter().map(Block::Undone).collect()),
    ];
    for (by, system, findings) in sections(audit, &others) {
        let title = phrases::titled(&audit.titles.hold_points, by);
        let heading = format!("{title}: {}", phrases::titled(&audit.titles.systems, system));
        all.push((heading, groups(&findings)));
    }
    all.retain(|(_, blocks)| !blocks.is_empty());
    all
}

fn open_findings(page: &mut Page, audit: &Audit) {
    let mut number = 0usize;
    for (heading, blocks) in in_order(audit) {
        page.heading(&heading);
        for block in &blocks {
            number = number.saturating_add(1);
            match block {
                Block::Group(group) => open(page, number, group, audit),
                Block::Undone(findings) => blocks::undone(page, number, findings),
            }
        }
    }
}

/// The findings that have this number in the report of an audit, from 1.
#[must_use]
pub fn findings_numbered(audit: &Audit, number: usize) -> Vec<&Finding> {
    let mut blocks = in_order(audit).into_iter().flat_map(|(_, blocks)| blocks);
    match number.checked_sub(1).and_then(|at| blocks.nth(at)) {
        Some(Block::Group(group)) => group.findings,
        Some(Block::Undone(findings)) => findings,
        None => Vec::new(),
    }
}

fn open(page: &mut Page, number: usize, group: &Group<'_>, audit: &Audit) {
    match group.first() {
        Some(first) if first.kind == FindingKind::WholeList => whole_lists::open(page, number, first, audit),
        _ => blocks::open(page, number, group, &audit.titles),
    }
}

/// Findings that one and the same entry of the log undid, and all others.
fn undone_together<'a>(findings: &[&'a Finding]) -> (Vec<Vec<&'a Finding>>, Vec<&'a Finding>) {
    let mut by_entry: BTreeMap<&LogLine, Vec<&Finding>> = BTreeMap::new();
    let entry = |finding: &&'a Finding| finding.lapses().next().map(|lapse| &lapse.undone_by);
    for finding in findings {
        if let Some(entry) = entry(finding) {
            by_entry.entry(entry).or_default().push(finding);
        }
    }
    by_entry.retain(|_, findings| findings.len() > 1);
    let others = findings.iter().copied().filter(|finding| entry(finding).is_none_or(|e| !by_entry.contains_key(e)));
    let others = others.collect();
    (by_entry.into_values().collect(), others)
}

/// Findings by hold point and system, both in the order of their titles.
fn sections<'a>(audit: &Audit, findings: &[&'a Finding]) -> Vec<(&'a str, &'a str, Vec<&'a Finding>)> {
    let mut sections: Vec<(&str, &str, Vec<&Finding>)> = Vec::new();
    for finding in findings {
        let (by, system) = (finding.by.as_str(), finding.system.as_str());
        match sections.iter_mut().find(|(b, s, _)| (*b, *s) == (by, system)) {
            Some((_, _, list)) => list.push(finding),
            None => sections.push((by, system, vec![finding])),
        }
    }
    let titles = &audit.titles;
    sections.sort_by_key(|(by, system, _)| {
        (phrases::rank(&titles.hold_points, by), phrases::rank(&titles.systems, system))
    });
    sections
}

fn quoted(text: &str) -> String {
    format!("\"{text}\"")
}
