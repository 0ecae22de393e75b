//! The report for a person: what can cost the day first, then by hold point
//! and system. No colour, no symbols, no score; made to be read aloud.

use super::blocks::{self, Group};
use super::closing;
use super::outline::{Block, Part, outline};
use super::phrases;
use super::whole_lists;
use super::wrap::Page;
use crate::audit::{Audit, Behind, FindingKind};

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
        Some(by) => format!("only {}", phrases::looked_at(&audit.titles, by)),
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
    let not_yet = audit.behind().count();
    let rows = [
        ("unmet", sum.unmet, "what is recorded contradicts what is asked"),
        ("not shown", sum.not_shown.saturating_sub(not_yet), "nothing recorded shows it either way"),
        ("not yet", not_yet, "the same, and another of these comes first"),
        ("conceded", sum.conceded, "leave was given; it is still not met"),
        ("met", sum.met, "what is recorded shows it"),
        ("not applicable", sum.not_applicable, "does not concern this aircraft now"),
        ("set aside", sum.set_aside, "a pack says it does not apply here; see its reason"),
    ];
    let some = |(word, count, _): &(&str, usize, &str)| *count > 0 || !matches!(*word, "set aside" | "not yet");
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

fn open_findings(page: &mut Page, audit: &Audit) {
    let mut number = 0usize;
    let behind = audit.behind();
    for (part, blocks) in outline(audit) {
        page.heading(heading_of(part));
        for block in &blocks {
            number = number.saturating_add(1);
            match block {
                Block::Group(group) => open(page, number, group, audit, &behind),
                Block::Undone(findings) => blocks::undone(page, number, findings),
            }
        }
    }
}

/// What stands above a part of a report.
pub(super) fn heading_of(part: Part) -> &'static str {
    match part {
        Part::EndsTheVisit => "Can end the visit",
        Part::Contradicted => "Unmet: what is recorded contradicts it",
        Part::Undone => "Undone since it was shown",
        Part::Off => "Off, or about to be closed up",
        Part::ToFindOut => "To find out: what is recorded does not show it",
        Part::ToInspect => "To inspect or test, and to log",
        Part::ToConfirm => "To be said by somebody",
        Part::ToAnswer => "Not answered yet",
        Part::ToCallWhole => "Lists: are these all of them?",
        Part::Waiting => "Not yet: another of these comes first",
    }
}

fn open<'a>(page: &mut Page, number: usize, group: &Group<'a>, audit: &'a Audit, behind: &Behind<'a>) {
    match group.first() {
        Some(first) if first.kind == FindingKind::WholeList => whole_lists::open(page, number, first, audit),
        _ => {
            blocks::open(page, number, group, &audit.titles);
            blocks::order(page, group, behind);
        }
    }
}

fn quoted(text: &str) -> String {
    format!("\"{text}\"")
}
