//! What changed since an earlier audit, for a person: what became worse
//! first, and in each part what can end the visit first.

use super::phrases;
use super::since_causes;
use super::wrap::Page;
use crate::history::{Change, Changes, Class};
use crate::vocabulary::Verdict;

const INDENT: usize = 4;
const COLUMN: usize = 12;

/// The whole comparison, no line wider than `width` characters (at least 40).
/// `kept` says where the earlier audit was found.
#[must_use]
pub fn since_text(changes: &Changes, kept: &str, width: usize) -> String {
    let mut page = Page::new(width);
    heading(&mut page, changes, kept);
    remarks(&mut page, changes);
    counts(&mut page, changes);
    let mut number = 0usize;
    for (class, turn, title) in [
        (Class::Worse, Some(Turn::Undone), "Worse than it was"),
        (Class::Worse, Some(Turn::FoundOut), "Known now, and unmet"),
        (Class::Worse, Some(Turn::Applies), "Applies now, and is open"),
        (Class::Better, None, "Better than it was"),
        (Class::Otherwise, None, "Another verdict, neither better nor worse"),
    ] {
        let of_turn = |change: &&Change| turn.is_none_or(|turn| turn == turn_of(change));
        let groups = grouped(changes.of(class).filter(of_turn));
        if !groups.is_empty() {
            page.heading(title);
        }
        for group in groups {
            number = number.saturating_add(1);
            block(&mut page, number, &group);
        }
    }
    new(&mut page, changes, &mut number);
    lines(&mut page, changes, Class::Gone, "Gone: there is no such finding any more");
    lines(&mut page, changes, Class::Stirred, "The same verdict, with something else recorded");
    page.gap();
    page.line(0, changes.reminder);
    page.finish()
}

/// How something came to be open that was not.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Turn {
    /// It was met, or leave was given.
    Undone,
    /// Nobody knew, and now it is known: what is true of the aircraft may be as it was.
    FoundOut,
    /// It did not concern the aircraft.
    Applies,
}

fn turn_of(change: &Change) -> Turn {
    match change.was {
        Some(Verdict::NotShown) => Turn::FoundOut,
        Some(Verdict::NotApplicable | Verdict::SetAside) => Turn::Applies,
        _ => Turn::Undone,
    }
}

fn heading(page: &mut Page, changes: &Changes, kept: &str) {
    let (was, now) = (&changes.was, &changes.now);
    page.line(0, &format!("What changed in {} since {}", now.project, was.on));
    page.gap();
    page.labelled(0, 16, "Saved audit", &format!("{}, from {kept}", was.on));
    page.labelled(0, 16, "Audit date", &now.on);
    let day = |visit: &Option<String>| visit.clone().unwrap_or_else(|| "not recorded".to_owned());
    let visit = if was.visit == now.visit {
        day(&now.visit)
    } else {
        format!("{}; it was {}", day(&now.visit), day(&was.visit))
    };
    page.labelled(0, 16, "Planned visit", &visit);
    for pack in &changes.packs {
        page.labelled(0, 16, "Pack", &phrases::sentence(&since_causes::pack(&pack.name, &pack.was, &pack.now)));
    }
}

/// What makes the two audits less alike than they should be.
fn remarks(page: &mut Page, changes: &Changes) {
    let (was, now) = (&changes.was, &changes.now);
    let mut remarks = Vec::new();
    if was.project != now.project {
        remarks.push(of_another(&was.project));
    }
    if was.on > now.on {
        remarks.push("The saved audit is dated after this one.".to_owned());
    }
    if was.by != now.by {
        let until = |by: &Option<String>| by.as_ref().map_or("any hold point".to_owned(), |by| format!("`{by}`"));
        remarks.push(format!(
            "The saved audit looked at what is due by {}, this one at what is due by {}.",
            until(&was.by),
            until(&now.by)
        ));
    }
    if !remarks.is_empty() {
        page.gap();
    }
    for remark in remarks {
        page.hanging(0, 2, &remark);
    }
}

fn counts(page: &mut Page, changes: &Changes) {
    page.heading("How it moved");
    let worse = |turn| changes.of(Class::Worse).filter(|change| turn_of(change) == turn).count();
    for (count, word, meaning) in [
        (worse(Turn::Undone), "worse", "open or contradicted now, and was not"),
        (worse(Turn::FoundOut), "found out", "known now, and unmet; nobody knew before"),
        (worse(Turn::Applies), "applies", "concerns the aircraft now, and is open"),
    ] {
        page.labelled(2, 24, &format!("{word:<16}{count:>5}"), meaning);
    }
    for (class, word, meaning) in [
        (Class::Better, "better", "met now, and was not"),
        (Class::Otherwise, "otherwise", "another verdict, neither better nor worse"),
        (Class::New, "new", "there was no such finding"),
        (Class::Gone, "gone", "there is no such finding any more"),
        (Class::Stirred, "other values", "the same verdict, with something else recorded"),
        (Class::Unchanged, "unchanged", "nothing that counts is different"),
    ] {
        page.labelled(2, 24, &format!("{word:<16}{:>5}", changes.count(class)), meaning);
    }
}

/// Changes of one item that went the same way.
fn grouped<'a>(changes: impl Iterator<Item = &'a Change>) -> Vec<Vec<&'a Change>> {
    let mut groups: Vec<Vec<&Change>> = Vec::new();
    let mut places = std::collections::BTreeMap::new();
    for change in changes {
        let next = groups.len();
        let place = *places.entry((change.item.as_str(), change.was, change.now)).or_insert(next);
        match groups.get_mut(place) {
            Some(group) => group.push(change),
            None => groups.push(vec![change]),
        }
    }
    groups
}

/// `UNMET 1. The spar is long enough`, what it was, and why.
fn block(page: &mut Page, number: usize, group: &[&Change]) {
    let Some(first) = group.first() else { return };
    page.gap();
    let now = first.now.map_or("GONE", phrases::verdict);
    page.hanging(0, INDENT, &format!("{now} {number}. {}", phrases::title_of(&first.item, &first.title)));
    page.labelled(INDENT, COLUMN, "item", &first.item);
    if first.stops_the_visit && first.now.is_some_and(is_open) {
        page.labelled(INDENT, COLUMN, "visit", "It can end the visit while it is open.");
    }
    if let Some(was) = first.was {
        page.labelled(INDENT, COLUMN, "was", phrases::verdict_within(was));
    }
    match group {
        [only] => {
            if let Some(subject) = &only.subject {
                page.labelled(INDENT, COLUMN, "record", subject);
            }
            for cause in &only.because {
                page.labelled(INDENT, COLUMN, since_causes::label(cause.kind), &since_causes::sentence(cause));
            }
        }
        many => {
            page.labelled(INDENT, COLUMN, "in", &phrases::counted(many.len(), "place", "places"));
            for change in many {
                page.hanging(INDENT, 8, &format!("{}. {}", subject(change), sentences(change)));
            }
        }
    }
}

/// New findings: what is open in full, what is met in a line, the rest counted.
fn new(page: &mut Page, changes: &Changes, number: &mut usize) {
    if changes.count(Class::New) == 0 {
        return;
    }
    page.heading("New");
    let of = |wanted: fn(Verdict) -> bool| changes.of(Class::New).filter(move |change| change.now.is_some_and(wanted));
    for group in grouped(of(is_open)) {
        *number = number.saturating_add(1);
        block(page, *number, &group);
    }
    page.gap();
    for group in grouped(of(|verdict| matches!(verdict, Verdict::Met | Verdict::Conceded))) {
        one_line(page, &group, false);
    }
    match of(|verdict| matches!(verdict, Verdict::NotApplicable | Verdict::SetAside)).count() {
        0 => {}
        1 => page.line(2, "1 new finding does not apply."),
        n => page.line(2, &format!("{n} new findings do not apply.")),
    }
}

fn lines(page: &mut Page, changes: &Changes, class: Class, title: &str) {
    let groups = grouped(changes.of(class));
    if !groups.is_empty() {
        page.heading(title);
    }
    for group in groups {
        one_line(page, &group, true);
    }
}

/// `us/marks.height: The marks are 12 in high. Was met.`, then why.
fn one_line(page: &mut Page, group: &[&Change], why: bool) {
    let Some(first) = group.first() else { return };
    let verdict = match (first.was, first.now) {
        (Some(was), Some(_)) => format!("Still {}.", phrases::verdict_within(was)),
        (Some(was), None) => format!("Was {}.", phrases::verdict_within(was)),
        (None, now) => format!("Now {}.", now.map_or("gone", phrases::verdict_within)),
    };
    let records = match group {
        [only] => only.subject.as_ref().map_or_else(String::new, |subject| format!(" ({subject})")),
        many => format!(" ({} records)", many.len()),
    };
    page.hanging(2, 6, &format!("{}{records}: {} {verdict}", first.item, phrases::title_of(&first.item, &first.title)));
    let mut told = Vec::new();
    for change in group.iter().filter(|_| why) {
        let text = sentences(change);
        phrases::push_new(&mut told, text);
    }
    for text in told {
        page.hanging(6, 8, &text);
    }
}

fn subject(change: &Change) -> &str {
    change.subject.as_deref().unwrap_or("(no name)")
}

fn sentences(change: &Change) -> String {
    let each = change.because.iter().map(since_causes::in_a_sentence);
    each.collect::<Vec<_>>().join(" ")
}

fn is_open(verdict: Verdict) -> bool {
    matches!(verdict, Verdict::Unmet | Verdict::NotShown)
}

/// Says that two audits are not of one project.
pub fn of_another(project: &str) -> String {
    format!("The saved audit is of a project named \"{project}\".")
}
