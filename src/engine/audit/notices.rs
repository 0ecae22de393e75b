//! What of the record does not count in an audit, and why.

use super::cause::{Ahead, NoDeferral, NoLeave, Notice, Remark};
use super::finding::Finding;
use super::item_ref::ItemRef;
use super::judge::{Judge, may_be_deferred};
use super::proof::entry_ref;
use crate::ir::{Item, Pack};
use crate::project::whole::LOG;
use crate::project::{Confirmation, Deferral, record_names};
use crate::quantity::Date;
use crate::vocabulary::{Event, Verdict};

/// Concessions and confirmations that do not count, and why. That one is not
/// needed can be said only of an audit of everything.
pub(super) fn notices(judge: &Judge<'_>, findings: &[Finding], everything: bool) -> Vec<Notice> {
    let mut notices: Vec<Notice> = judge.record.not_read.iter().cloned().map(Notice::FileNotRead).collect();
    let sources = &judge.record.sources;
    let not_taken_in = judge.record.not_taken_in.iter();
    notices.extend(not_taken_in.map(|(name, at)| Notice::ValueNotRead(name.clone(), sources.place(*at))));
    notices.extend(compared_long_ago(judge));
    notices.extend(none_until(judge, findings));
    for concession in &judge.record.concessions {
        let about = ItemRef { item: concession.item.clone(), subject: concession.subject.clone() };
        let items = judge.rules.find_items(&concession.item);
        let forbidden = items.iter().filter_map(|id| judge.rules.item(*id)).any(|item| item.no_concession);
        let used = findings.iter().any(|finding| {
            let same = finding.item == concession.item
                || finding.item.split_once('/').is_some_and(|(_, name)| name == concession.item);
            same && finding.subject == concession.subject && finding.verdict == Verdict::Conceded
        });
        let why = if is_list(judge, &concession.item) {
            Some(NoLeave::Forbidden)
        } else if items.is_empty() {
            Some(NoLeave::NoSuchItem)
        } else if forbidden {
            Some(NoLeave::Forbidden)
        } else {
            // It counts if it does for one of them.
            let judged =
                items.iter().filter(|id| judge.rules.item(**id).is_some_and(|item| judge.may_be_in_force(item)));
            let whys: Vec<Option<NoLeave>> = judged.map(|id| judge.why_not(concession, *id)).collect();
            if whys.contains(&None) { None } else { whys.into_iter().flatten().next() }
        };
        match why {
            Some(why) => notices.push(Notice::Concession(about, why)),
            None if !used && everything => notices.push(Notice::ConcessionNotNeeded(about)),
            None => {}
        }
    }
    for confirmation in &judge.record.confirmations {
        let items = judge.rules.find_items(&confirmation.item);
        let asking = || items.iter().filter_map(|id| judge.rules.item(*id)).filter(|item| item.confirm);
        if asking().next().is_some() && !asking().any(|item| is_about(judge, item, confirmation)) {
            let about = ItemRef { item: confirmation.item.clone(), subject: confirmation.subject.clone() };
            notices.push(Notice::ConfirmationOfNoRecord(about, confirmation.who.clone()));
        } else if asking().next().is_none() {
            notices.push(Notice::ConfirmationUnasked(confirmation.item.clone(), confirmation.who.clone()));
        } else if !asking()
            .any(|item| judge.may_be_in_force(item) && judge.given_to(item, confirmation.wording, confirmation.on))
            && confirmation.on.last <= judge.today.first
        {
            let (item, who) = (confirmation.item.clone(), confirmation.who.clone());
            notices.push(Notice::ConfirmationOfOtherWording(item, who, confirmation.on.to_string()));
        } else if confirmation.on.last > judge.today.first {
            let when = match (confirmation.on.first > judge.today.first, confirmation.holds) {
                (true, _) => Ahead::After,
                (false, true) => Ahead::Perhaps,
                (false, false) => Ahead::PerhapsNot,
            };
            let (item, who) = (confirmation.item.clone(), confirmation.who.clone());
            notices.push(Notice::ConfirmationAhead(item, who, confirmation.on.to_string(), when));
        }
    }
    notices.extend(deferral_notices(judge, findings, everything));
    notices.extend(log_notices(judge));
    notices.extend(logged_of_gone(judge));
    for evidence in judge.record.evidence.iter().filter(|evidence| !evidence.found) {
        notices.push(Notice::EvidenceNotThere(evidence.file.clone(), evidence.subject.clone()));
    }
    notices
}

/// Packs whose edition, where it is a day, is over a year old.
fn compared_long_ago(judge: &Judge<'_>) -> Option<Notice> {
    let day = |pack: &Pack| Date::parse(&pack.edition).ok();
    let is_old = |on: Date| on.add_months(12).is_some_and(|end| end.last < judge.today.first);
    let old = judge.rules.packs.iter().filter(|pack| day(pack).is_some_and(is_old));
    let old: Vec<_> = old.map(|pack| (pack.name.to_string(), pack.edition.to_string())).collect();
    (!old.is_empty()).then_some(Notice::ComparedLongAgo(old))
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
fn deferral_notices(judge: &Judge<'_>, findings: &[Finding], everything: bool) -> Vec<Notice> {
    let mut notices = Vec::new();
    for deferral in &judge.record.deferrals {
        let items = judge.rules.find_items(&deferral.item);
        let item = items.first().and_then(|id| judge.rules.item(*id));
        let used = findings.iter().any(|finding| {
            let name = finding.item.split_once('/').map_or("", |(_, name)| name);
            let same = finding.item == deferral.item || name == deferral.item;
            same && finding.subject == deferral.subject && finding.deferred.is_some()
        });
        let given_to_any = |deferral: &Deferral| {
            let wordings = items.iter().filter_map(|id| judge.rules.item(*id));
            wordings.clone().any(|item| judge.given_to(item, deferral.wording, deferral.on))
        };
        let undone = |deferral: &Deferral| {
            let by = items.first().and_then(|id| judge.deferral_undone(deferral, *id))?;
            Some(NoDeferral::Undone(entry_ref(judge.record, by)))
        };
        let why = match item {
            None if is_list(judge, &deferral.item) => NoDeferral::CannotWait,
            None => NoDeferral::NoSuchItem,
            Some(item) if !may_be_deferred(item) => NoDeferral::CannotWait,
            Some(_) if deferral.on.last > judge.today.first => NoDeferral::DatedAfter,
            Some(_) if !given_to_any(deferral) => NoDeferral::OtherWording,
            Some(_) => match undone(deferral) {
                Some(why) => why,
                None if used || !everything => continue,
                None => NoDeferral::NotOpen,
            },
        };
        notices.push(Notice::Deferral(deferral.item.clone(), why));
    }
    notices
}

/// Whether it is a list, or the log, of which the audit may ask whether it is whole.
fn is_list(judge: &Judge<'_>, name: &str) -> bool {
    name == LOG || judge.rules.list_by_name.contains_key(name)
}

/// What was logged later of parts that are gone for good: somebody may have put them back.
fn logged_of_gone(judge: &Judge<'_>) -> Vec<Notice> {
    let removals = judge.logbook.removals();
    if !removals.any_gone() {
        return Vec::new();
    }
    let known = judge.record.log.iter().filter(|entry| entry.on.first <= judge.today.first);
    let later = known.filter_map(|entry| {
        let gone = removals.gone(&entry.subject).filter(|gone| entry.event != Event::Removed && !entry.before(gone))?;
        Some(Notice::LoggedOfGone(entry_ref(judge.record, entry), entry_ref(judge.record, gone)))
    });
    later.collect()
}

/// Entries that the audit leaves out, and those that may be of a day to come.
fn log_notices(judge: &Judge<'_>) -> Vec<Notice> {
    let today = judge.today.first;
    let later = judge.record.log.iter().filter(|entry| entry.on.first > today).count();
    let unsure = judge.record.log.iter().filter(|entry| entry.on.first <= today && entry.on.last > today).count();
    let ahead = (later > 0).then_some(Notice::LogAhead(later));
    ahead.into_iter().chain((unsure > 0).then_some(Notice::LogNotOver(unsure))).collect()
}

/// What is taken as none until a day ahead, and how much does not apply for it.
fn none_until(judge: &Judge<'_>, findings: &[Finding]) -> Vec<Notice> {
    let told = judge.none_until.iter().filter_map(|(id, (_, day))| {
        let fact = judge.rules.fact(*id)?.name.to_string();
        let rests =
            |one: &&Finding| one.notes.iter().any(|note| matches!(note, Remark::NoneUntil(of, _) if *of == fact));
        let count = findings.iter().filter(rests).count();
        (count > 0).then(|| Notice::NoneUntil(fact.clone(), day.to_string(), count))
    });
    told.collect()
}
