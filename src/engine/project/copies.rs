//! Entries of the log that stand in two files: somebody, or a disk, copied one.

use super::entry::Entry;
use crate::diagnostic::Diagnostic;
use crate::source::Span;
use crate::vocabulary::Event;
use std::collections::BTreeMap;

/// An entry that stands in another file as well, word for word, is told: a file was copied. What it shows it shows
/// once; work that is told twice may have been done twice.
pub(super) fn once(log: &mut Vec<Entry>) -> Vec<Diagnostic> {
    let doubles = doubles(log);
    let help = "a file was copied: keep copies outside the project's folder";
    let message = |(at, before): (&usize, &Span)| {
        let message = Diagnostic::warning("log::twice", "this entry stands in another file as well, and counts once");
        Some(message.at(log.get(*at)?.place, "here again").at(*before, "first here").help(help))
    };
    let mut messages: Vec<Diagnostic> = doubles.iter().filter_map(message).collect();
    // A file copied whole is told once.
    messages.dedup_by_key(|message: &mut Diagnostic| message.labels.first().map(|label| label.span.source));
    let mut at = 0usize;
    log.retain(|entry| {
        let shows = matches!(entry.event, Event::Inspected | Event::Tested | Event::Measured);
        let stays = !shows || !doubles.contains_key(&at);
        at = at.saturating_add(1);
        stays
    });
    messages
}

/// The later of two entries of two files that are alike, with where the first stands.
pub(super) fn doubles(log: &[Entry]) -> BTreeMap<usize, Span> {
    let mut doubles = BTreeMap::new();
    let first = log.first().map(|entry| entry.place.source);
    if log.iter().all(|entry| Some(entry.place.source) == first) {
        return doubles;
    }
    let mut known: BTreeMap<_, Vec<&Entry>> = BTreeMap::new();
    for (at, entry) in log.iter().enumerate() {
        let alike = known.entry((entry.on.first, entry.at, &entry.subject)).or_default();
        let same = |other: &&&Entry| {
            let moved = Entry { place: entry.place, in_order: entry.in_order, ..(**other).clone() };
            other.place.source != entry.place.source && moved == *entry
        };
        match alike.iter().find(same) {
            Some(before) => {
                doubles.insert(at, before.place);
            }
            None => alike.push(entry),
        }
    }
    doubles
}
