//! What only the whole log tells: snags that do not fit together, and files
//! written from the latest day to the earliest.

use super::entry::Entry;
use super::job_subject::JobSubject;
use super::unread::Unread;
use crate::diagnostic::Diagnostic;
use crate::source::SourceId;
use crate::vocabulary::Event;
use std::collections::{BTreeMap, BTreeSet};

/// Looks at all entries together, and marks those whose lines say nothing of
/// the order within a day.
pub(super) fn check(log: &mut [Entry], unread: &Unread) -> Vec<Diagnostic> {
    mark_backwards(log);
    snags(log, unread)
}

/// A file whose days step back as often as on, or oftener, is not written from
/// the earliest to the latest; of two of its lines of one day nobody knows which came first.
fn mark_backwards(log: &mut [Entry]) {
    let mut lines: Vec<&Entry> = log.iter().collect();
    lines.sort_by_key(|entry| entry.place);
    let of_one_file = |one: &&Entry, other: &&Entry| one.place.source == other.place.source;
    let backwards: BTreeSet<SourceId> = lines
        .chunk_by(of_one_file)
        .filter(|lines| runs_backwards(lines))
        .filter_map(|lines| Some(lines.first()?.place.source))
        .collect();
    for entry in log {
        entry.in_order = backwards.is_empty() || !backwards.contains(&entry.place.source);
    }
}

/// Whether the lines of a file step back as often as on, or oftener.
fn runs_backwards(lines: &[&Entry]) -> bool {
    let (mut on, mut back) = (0usize, 0usize);
    let mut timed: Option<&Entry> = None;
    for (at, entry) in lines.iter().enumerate() {
        // Of one day the times tell as well, whatever stands between them.
        let last = entry.at.and_then(|_| timed.replace(entry));
        let earlier = last.is_some_and(|last| last.on == entry.on && last.at.zip(entry.at).is_some_and(|(a, b)| b < a));
        let before = at.checked_sub(1).and_then(|at| lines.get(at)).map_or(entry.on.first, |before| before.on.first);
        on = on.saturating_add(usize::from(entry.on.first > before));
        back = back.saturating_add(usize::from(earlier)).saturating_add(usize::from(entry.on.first < before));
    }
    back > 0 && back >= on
}

fn snags(log: &[Entry], unread: &Unread) -> Vec<Diagnostic> {
    let mut messages = Vec::new();
    let (mut found, mut cleared) = (BTreeMap::new(), BTreeMap::new());
    for entry in log {
        let (of_event, did) = match entry.event {
            Event::SnagFound => (&mut found, "found"),
            Event::SnagCleared => (&mut cleared, "cleared"),
            _ => continue,
        };
        let Some(number) = entry.snag else { continue };
        let Some(before) = of_event.insert(number, entry) else { continue };
        of_event.insert(number, before);
        let message = Diagnostic::error("log::snag-twice", format!("snag {number} is {did} twice"));
        let help = match entry.event {
            Event::SnagFound => "give the other snag a number of its own, in its clearing as well",
            _ => "keep one of them; what came up again is a new snag with a new number",
        };
        messages.push(message.at(entry.place, "here again").at(before.place, "first here").help(help));
    }
    for (number, entry) in &cleared {
        let Some(opened) = found.get(number) else {
            if unread.may_hold(&JobSubject::Snag(*number)) {
                continue;
            }
            let message =
                Diagnostic::error("log::snag-unknown", format!("snag {number} is cleared, and nowhere found"));
            let help = format!("log what was found, what = \"snag found\" with snag = {number}, or mend the number");
            messages.push(message.at(entry.place, "cleared here").help(help));
            continue;
        };
        if entry.subject != opened.subject {
            let message = format!("snag {number} is cleared on another part than it was found on");
            let help = "work on the one leaves the other as it was: name the same part, or mend the number";
            messages.push(
                Diagnostic::error("log::snag-part", message)
                    .at(entry.place, format!("cleared on `{}`", entry.subject))
                    .at(opened.place, format!("found on `{}`", opened.subject))
                    .help(help),
            );
        }
        if entry.on.last < opened.on.first || entry.before(opened) {
            let message = Diagnostic::error("log::snag-order", format!("snag {number} is cleared before it was found"));
            let help = "mend one of the two days, or the number; two lines of one day stand in the order of the day";
            messages.push(
                message
                    .at(entry.place, format!("cleared on {}", entry.on))
                    .at(opened.place, format!("found on {}", opened.on))
                    .help(help),
            );
        }
    }
    messages
}
