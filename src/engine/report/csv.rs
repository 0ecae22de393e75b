//! The report as CSV: a table with a row for each finding, by RFC 4180.
//!
//! The first row has the names of the columns. Lines end with CR LF; a cell with
//! a comma, a quotation mark or a line break in it is quoted, and a quotation
//! mark in it stands twice. The text is UTF-8 (RFC 7111), without a mark of the
//! byte order; a control character other than a line break, which the grammar of
//! the RFC leaves no room for, is written out: `\u{1b}`.
//!
//! A spreadsheet takes a cell that begins with `=`, `+`, `-` or `@`, or one of
//! these in full width, for a formula and runs it. So a cell that begins with
//! one of them, or with a line break, has an apostrophe before it, and so has one that begins with an
//! apostrophe. To undo it, take the apostrophe from every cell that begins with
//! one: what is left is what was there.
//!
//! | column | what it holds |
//! |---|---|
//! | `item`, `subject`, `verdict` | as in the JSON report; `subject` is empty where the finding is about no record |
//! | `title` | what is so when it is met; of a list, what is asked |
//! | `kind` | `item`, `whole-list` or `removed` |
//! | `stops_the_visit` | `true` or `false` |
//! | `by`, `zone`, `system`, `basis`, `added_by` | as in the JSON report |
//! | `asked`, `seen`, `undone`, `notes`, `missing`, `waiting`, `deferred`, `conceded`, `set_aside`, `added`, `sources` | in the words of the text report, several with `; ` between them |
//! | `check`, `remedy`, `caution` | how to find out, what to do if it is not so, what can hurt |
//! | `project`, `on` | the project's name and the audit date, in every row |
//! | `reminder` | who has the final say, in every row |
//!
//! What is recorded and does not count is no finding and has no row: the exit
//! status tells of it, and the other formats do. An audit without a finding has
//! one row, with the last three columns alone, for no report is without the
//! reminder.

use super::lines::{self, Lines};
use crate::audit::{Audit, Finding};
use crate::source::visible_but;

const COLUMNS: [&str; 28] = [
    "item",
    "subject",
    "verdict",
    "title",
    "kind",
    "stops_the_visit",
    "by",
    "zone",
    "system",
    "basis",
    "added_by",
    "asked",
    "seen",
    "undone",
    "notes",
    "missing",
    "waiting",
    "deferred",
    "conceded",
    "set_aside",
    "added",
    "sources",
    "check",
    "remedy",
    "caution",
    "project",
    "on",
    "reminder",
];

/// The audit as CSV.
///
/// Source: RFC 4180, Common Format and MIME Type for Comma-Separated Values
/// (CSV) Files, section 2; RFC 7111, section 5.1 (UTF-8).
#[must_use]
pub fn csv(audit: &Audit) -> String {
    let mut out = String::new();
    row(&mut out, &COLUMNS.map(str::to_owned));
    for finding in &audit.findings {
        row(&mut out, &cells(audit, finding));
    }
    if audit.findings.is_empty() {
        let empty = COLUMNS.len().saturating_sub(3);
        let mut cells = vec![String::new(); empty];
        cells.extend(of_the_audit(audit));
        row(&mut out, &cells);
    }
    out
}

fn cells(audit: &Audit, finding: &Finding) -> Vec<String> {
    let text = |text: Option<&str>| text.unwrap_or_default().to_owned();
    let lines = Lines::of(finding);
    let many = |lines: &[String]| lines.join("; ");
    let mut cells = vec![
        finding.item.clone(),
        text(finding.subject.as_deref()),
        finding.verdict.word().to_owned(),
        lines::title(finding),
        word(&finding.kind),
        finding.stops_the_visit.to_string(),
        finding.by.to_string(),
        text(finding.zone.as_deref()),
        finding.system.clone(),
        word(&finding.basis),
        text(finding.added_by.as_deref()),
    ];
    cells.extend([&lines.asked, &lines.seen, &lines.undone, &lines.notes, &lines.missing].map(|lines| many(lines)));
    cells.extend([&lines.waiting, &lines.deferred, &lines.conceded, &lines.set_aside].map(|lines| many(lines)));
    cells.extend([&lines.added, &lines.sources].map(|lines| many(lines)));
    cells.extend([text(finding.check.as_deref()), text(finding.remedy.as_deref()), text(finding.caution.as_deref())]);
    cells.extend(of_the_audit(audit));
    cells
}

/// What every row says.
fn of_the_audit(audit: &Audit) -> [String; 3] {
    [audit.project.clone(), audit.on.clone(), audit.reminder.to_owned()]
}

/// The word by which a kind stands in the JSON report.
fn word(kind: &impl serde::Serialize) -> String {
    serde_json::to_value(kind).ok().and_then(|word| word.as_str().map(str::to_owned)).unwrap_or_default()
}

fn row(out: &mut String, cells: &[String]) {
    for (at, cell) in cells.iter().enumerate() {
        if at > 0 {
            out.push(',');
        }
        written(out, cell);
    }
    out.push_str("\r\n");
}

/// A cell, quoted where it has to be.
fn written(out: &mut String, text: &str) {
    let mut cell = String::with_capacity(text.len());
    if text.starts_with(['=', '+', '-', '@', '\u{ff1d}', '\u{ff0b}', '\u{ff0d}', '\u{ff20}', '\r', '\n', '\'']) {
        cell.push('\'');
    }
    cell.push_str(&visible_but(text, |letter, cell| {
        let is_kept = matches!(letter, '\r' | '\n');
        cell.extend(is_kept.then_some(letter));
        is_kept
    }));
    if cell.contains([',', '"', '\r', '\n']) {
        out.extend(["\"", &cell.replace('"', "\"\""), "\""]);
    } else {
        out.push_str(&cell);
    }
}
