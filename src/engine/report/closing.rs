//! What follows the open findings: concessions, items set aside, remarks,
//! questions, what needs nothing more, the packs, and the reminder.

use super::blocks::{self, Group};
use super::cause_sentences;
use super::phrases;
use super::wrap::Page;
use crate::audit::{Audit, Finding};
use crate::vocabulary::Verdict;

/// How many questions are worth showing at once: an evening's work.
const QUESTIONS: usize = 10;

pub(super) fn conceded(page: &mut Page, audit: &Audit) {
    let findings = of(audit, |f| f.verdict == Verdict::Conceded);
    if findings.is_empty() {
        return;
    }
    page.heading("Conceded: not met, and somebody gave leave");
    for finding in findings {
        blocks::conceded(page, finding);
    }
}

pub(super) fn set_aside(page: &mut Page, audit: &Audit) {
    let findings = of(audit, |f| f.verdict == Verdict::SetAside);
    if findings.is_empty() {
        return;
    }
    page.heading("Set aside by a pack");
    for finding in findings {
        blocks::set_aside(page, finding);
    }
}

pub(super) fn remarks(page: &mut Page, audit: &Audit) {
    if audit.notices.is_empty() {
        return;
    }
    page.heading("Remarks");
    for notice in &audit.notices {
        page.hanging(2, 6, &phrases::sentence(&cause_sentences::notice(notice)));
    }
}

pub(super) fn questions(page: &mut Page, audit: &Audit) {
    if audit.questions.is_empty() {
        return;
    }
    page.heading("Questions whose answers settle most");
    for (number, question) in (1usize..).zip(audit.questions.iter().take(QUESTIONS)) {
        let helped = phrases::counted(question.settles, "finding", "findings");
        let mut text = format!("{number}. {}: helps {helped}. {}", question.fact, phrases::sentence(&question.ask));
        if let Some(example) = &question.example {
            text.push_str(" For example: ");
            text.push_str(example);
        }
        page.hanging(2, 6, &text);
    }
}

/// Met, one line for each item; not applicable, counted.
pub(super) fn settled(page: &mut Page, audit: &Audit) {
    let met = of(audit, |f| f.verdict == Verdict::Met);
    if !met.is_empty() {
        page.heading("Met by what is recorded");
        by_system(page, audit, &met);
    }
    let none = of(audit, |f| f.verdict == Verdict::NotApplicable);
    if !none.is_empty() {
        page.heading("Not applicable");
        counted(page, audit, &none);
    }
}

/// Only how many: the list would bury what matters. The JSON report has each,
/// and `cotterpin why ITEM` says why.
fn counted(page: &mut Page, audit: &Audit, findings: &[&Finding]) {
    let mut systems: Vec<(&str, usize)> = Vec::new();
    for finding in findings {
        match systems.iter_mut().find(|(system, _)| *system == finding.system) {
            Some((_, count)) => *count = count.saturating_add(1),
            None => systems.push((&finding.system, 1)),
        }
    }
    systems.sort_by_key(|(system, _)| phrases::rank(&audit.titles.systems, system));
    let counts =
        systems.iter().map(|(system, count)| format!("{} {count}", phrases::titled(&audit.titles.systems, system)));
    page.hanging(0, 2, &format!("{}.", counts.collect::<Vec<_>>().join(", ")));
    page.hanging(0, 2, "`cotterpin why ITEM` says why one does not apply.");
}

fn by_system(page: &mut Page, audit: &Audit, findings: &[&Finding]) {
    let mut systems: Vec<&str> = Vec::new();
    for finding in findings {
        phrases::push_new(&mut systems, finding.system.as_str());
    }
    systems.sort_by_key(|system| phrases::rank(&audit.titles.systems, system));
    for system in systems {
        let of_system: Vec<&Finding> = findings.iter().copied().filter(|f| f.system == system).collect();
        page.hanging(0, 2, &format!("{}:", phrases::titled(&audit.titles.systems, system)));
        for group in blocks::grouped(&of_system) {
            one_line(page, &group);
        }
    }
}

fn one_line(page: &mut Page, group: &Group<'_>) {
    let Some(first) = group.first() else { return };
    let records = match group.findings.len() {
        1 => first.subject.as_ref().map_or_else(String::new, |subject| format!(" ({subject})")),
        many => format!(" ({many} records)"),
    };
    page.hanging(2, 6, &format!("{}: {}{records}", first.item, first.title));
    for remark in group.findings.iter().flat_map(|finding| &finding.notes) {
        page.hanging(6, 6, &phrases::sentence(&cause_sentences::remark(remark)));
    }
}

pub(super) fn packs(page: &mut Page, audit: &Audit) {
    page.heading("Packs used");
    if audit.packs.is_empty() {
        page.line(2, "None.");
    }
    for pack in &audit.packs {
        page.hanging(2, 6, &format!("{}: {}, edition {}.", pack.name, pack.title, pack.edition));
        if !pack.authority.is_empty() {
            page.line(6, &format!("Rests on {}", phrases::sentence(&pack.authority)));
        }
        for gap in &pack.not_covered {
            page.hanging(6, 8, &format!("Does not cover {}", phrases::sentence(gap)));
        }
    }
}

/// The last words. Those of the audit, which nothing can switch off.
pub(super) fn reminder(page: &mut Page, audit: &Audit) {
    page.gap();
    page.line(0, audit.reminder);
}

fn of(audit: &Audit, wanted: impl Fn(&Finding) -> bool) -> Vec<&Finding> {
    audit.findings.iter().filter(|finding| wanted(finding)).collect()
}
