//! Whether a list is whole, and the log, in words.

use super::blocks::{INDENT, label};
use super::cause_sentences;
use super::phrases;
use super::wrap::Page;
use crate::audit::{Audit, Finding};
use crate::project::whole::LOG;

/// So many of what waits are named.
const NAMED: usize = 3;

/// Writes the block of one list: `NOT SHOWN 3. Are these all of them? Each fuel tank.`
pub(super) fn open(page: &mut Page, number: usize, finding: &Finding, audit: &Audit) {
    page.gap();
    page.hanging(0, INDENT, &format!("{} {number}. {}", phrases::verdict(finding.verdict), phrases::title(finding)));
    label(page, if finding.item == LOG { "of" } else { "list" }, &finding.item);
    if finding.stops_the_visit {
        label(page, "due", phrases::titled(&audit.titles.hold_points, &finding.by));
    }
    for missing in &finding.missing {
        label(page, "because", &phrases::sentence(&cause_sentences::missing_cause(&missing.why)));
    }
    let under = under(finding, audit);
    if !under.is_empty() {
        label(page, "met with it", &phrases::sentence(&phrases::listed(&under)));
    }
    label(page, "waiting", &phrases::sentence(&waiting(finding)));
    label(page, "standing", phrases::basis(finding.basis));
}

/// What the word alone would make met: told here and nowhere else, so all of it.
fn under(finding: &Finding, audit: &Audit) -> Vec<String> {
    let waits = audit.findings.iter().filter(|one| one.waits_for.as_ref() == Some(&finding.item));
    let name = |one: &Finding| match &one.subject {
        Some(subject) => format!("{} of {subject}", one.item),
        None => one.item.clone(),
    };
    waits.map(name).collect()
}

/// The items that wait for the word, the first of them by name.
fn waiting(finding: &Finding) -> String {
    let mut items: Vec<String> = Vec::new();
    for one in &finding.waiting {
        phrases::push_new(&mut items, one.item.clone());
    }
    phrases::named_at_most(items, NAMED)
}
