//! The audit for programs, and the whole reasoning of one item. What each key
//! holds is said in the schemas, `schemas/audit.json` and `schemas/why.json`.

use super::cause_sentences;
use super::document::document;
use super::message::Message;
use super::phrases;
use super::says::FindingOut;
use super::schemas::{AUDIT, WHY};
use crate::audit::{Audit, Finding, Later, Notice, Question, Summary, Titles};
use crate::ir::Pack;
use serde::Serialize;

/// An audit, key for key, with sentences beside its data.
#[derive(Serialize)]
struct AuditOut<'a> {
    project: &'a str,
    on: &'a str,
    visit: Option<&'a str>,
    by: Option<&'a str>,
    closing: Option<&'a str>,
    packs: &'a [Pack],
    summary: &'a Summary,
    recorded: usize,
    findings: Vec<FindingOut<'a>>,
    later: &'a [Later],
    questions: &'a [Question],
    notices: &'a [Notice],
    says: AuditSays,
    titles: &'a Titles,
    reminder: &'static str,
}

/// Sentences, in the order of the data they are of.
#[derive(Serialize)]
struct AuditSays {
    notices: Vec<String>,
}

#[derive(Serialize)]
struct WhyOut<'a> {
    project: &'a str,
    on: &'a str,
    visit: Option<&'a str>,
    packs: &'a [Pack],
    asked: &'a str,
    findings: Vec<FindingOut<'a>>,
    titles: &'a Titles,
    reminder: &'static str,
}

/// The audit as pretty JSON with a line end, without messages.
#[must_use]
pub fn json(audit: &Audit) -> String {
    audit_json(audit, &[])
}

/// The same, with what was said of the project and its packs.
#[must_use]
pub fn audit_json(audit: &Audit, messages: &[Message]) -> String {
    // Each by name, so that nothing added to an audit is left out here.
    let Audit {
        project,
        on,
        visit,
        by,
        closing,
        packs,
        summary,
        findings,
        later,
        questions,
        notices,
        recorded,
        titles,
        reminder,
    } = audit;
    let sentence = |notice: &Notice| phrases::sentence(&cause_sentences::notice(notice));
    let out = AuditOut {
        project,
        on,
        visit: visit.as_deref(),
        by: by.as_deref(),
        closing: closing.as_deref(),
        packs,
        summary,
        recorded: *recorded,
        findings: findings.iter().map(FindingOut::of).collect(),
        later,
        questions,
        notices,
        says: AuditSays { notices: notices.iter().map(sentence).collect() },
        titles,
        reminder,
    };
    document(&AUDIT, &out, messages)
}

/// The whole reasoning of what was asked for, an item or a list, as pretty JSON with a line end.
#[must_use]
pub fn why_json(audit: &Audit, asked: &str, findings: &[&Finding], messages: &[Message]) -> String {
    let out = WhyOut {
        project: &audit.project,
        on: &audit.on,
        visit: audit.visit.as_deref(),
        packs: &audit.packs,
        asked,
        findings: findings.iter().map(|finding| FindingOut::of(finding)).collect(),
        titles: &audit.titles,
        reminder: audit.reminder,
    };
    document(&WHY, &out, messages)
}
