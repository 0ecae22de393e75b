//! What of the record does not count in an audit, and why.

use super::finding::Finding;
use super::judge::{Judge, may_be_deferred};
use crate::ir::Item;
use crate::project::{Confirmation, record_names};
use crate::vocabulary::Verdict;

/// Concessions and confirmations that do not count, and why. That one is not
/// needed can be said only of an audit of everything.
pub(super) fn notices(judge: &Judge<'_>, findings: &[Finding], everything: bool) -> Vec<String> {
    let mut notices = Vec::new();
    for concession in &judge.record.concessions {
        let about = concession
            .subject
            .as_ref()
            .map_or_else(|| concession.item.clone(), |of| format!("{} of {of}", concession.item));
        let items = judge.rules.find_items(&concession.item);
        let forbidden = items.iter().filter_map(|id| judge.rules.item(*id)).any(|item| item.no_concession);
        let used = findings.iter().any(|finding| {
            let same = finding.item == concession.item
                || finding.item.split_once('/').is_some_and(|(_, name)| name == concession.item);
            same && finding.subject == concession.subject && finding.verdict == Verdict::Conceded
        });
        let why = if items.is_empty() {
            Some("there is no such item".to_owned())
        } else if forbidden {
            Some("nobody can concede this item".to_owned())
        } else {
            judge.why_not(concession)
        };
        match why {
            Some(why) => notices.push(format!("The concession for {about} does not count: {why}.")),
            None if !used && everything => notices.push(format!(
                "The concession for {about} is not needed, or names no record of it; take it out or correct it."
            )),
            None => {}
        }
    }
    for confirmation in &judge.record.confirmations {
        let items = judge.rules.find_items(&confirmation.item);
        let asking = || items.iter().filter_map(|id| judge.rules.item(*id)).filter(|item| item.confirm);
        if asking().next().is_some() && !asking().any(|item| is_about(judge, item, confirmation)) {
            let of = confirmation.subject.as_ref().map_or_else(String::new, |of| format!(" of {of}"));
            notices.push(format!(
                "The confirmation of {}{of} by {} names no record of it, and does not count: see its `of`.",
                confirmation.item, confirmation.who
            ));
        } else if asking().next().is_none() {
            notices.push(format!(
                "The confirmation of {} by {} answers no item that asks for one.",
                confirmation.item, confirmation.who
            ));
        } else if confirmation.on.last > judge.today.first {
            let when = match (confirmation.on.first > judge.today.first, confirmation.holds) {
                (true, _) => "after the audit, and does not count yet",
                (false, true) => "which may be after the audit, and does not count yet",
                (false, false) => "which may be after the audit; it leaves open whether a yes still stands",
            };
            notices.push(format!(
                "The confirmation of {} by {} is dated {}, {when}.",
                confirmation.item, confirmation.who, confirmation.on
            ));
        }
    }
    notices.extend(deferral_notices(judge, findings, everything));
    notices.extend(log_notices(judge));
    for evidence in judge.record.evidence.iter().filter(|evidence| !evidence.found) {
        notices.push(format!(
            "The evidence `{}` for {} is not there, or is an empty file.",
            evidence.file, evidence.subject
        ));
    }
    notices
}

/// Whether a word names a record where the item is raised per record, and none where it is not.
fn is_about(judge: &Judge<'_>, item: &Item, word: &Confirmation) -> bool {
    match (item.each, &word.subject) {
        (None, of) => of.is_none(),
        (Some(list), of) => judge.rows(list).is_none_or(|rows| {
            let names = record_names(judge.rules, list, rows);
            of.as_ref().is_some_and(|of| names.contains(of))
        }),
    }
}

/// Deferrals that do not count, and why.
fn deferral_notices(judge: &Judge<'_>, findings: &[Finding], everything: bool) -> Vec<String> {
    let mut notices = Vec::new();
    for deferral in &judge.record.deferrals {
        let items = judge.rules.find_items(&deferral.item);
        let item = items.first().and_then(|id| judge.rules.item(*id));
        let used = findings.iter().any(|finding| {
            let name = finding.item.split_once('/').map_or("", |(_, name)| name);
            let same = finding.item == deferral.item || name == deferral.item;
            same && finding.subject == deferral.subject && finding.deferred.is_some()
        });
        let why = match item {
            None => "there is no such item",
            Some(item) if !may_be_deferred(item) => "this item cannot wait for a flight",
            Some(_) if deferral.on.last > judge.today.first => "it is dated after the audit",
            Some(_) if used || !everything => continue,
            Some(_) => "the item is not open, or contradicted by what is recorded, which no test in flight can mend",
        };
        notices.push(format!("The deferral of {} to test flying does not count: {why}.", deferral.item));
    }
    notices
}

/// Entries that the audit leaves out.
fn log_notices(judge: &Judge<'_>) -> Vec<String> {
    let later = judge.record.log.iter().filter(|entry| entry.on.first > judge.today.first).count();
    match later {
        0 => Vec::new(),
        1 => vec!["One entry of the log is dated after the audit and was left out.".to_owned()],
        _ => vec![format!("{later} entries of the log are dated after the audit and were left out.")],
    }
}
