//! Entries of the log that stand in two files: somebody, or a disk, copied one.

use super::entry::Entry;
use crate::diagnostic::Diagnostic;
use crate::quantity::Date;
use crate::source::{SourceId, Span};
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

/// From which day to which more than one file tells: no entry of another day stands in two of them.
fn shared_days(log: &[Entry]) -> Vec<(Date, Date)> {
    let mut days: BTreeMap<SourceId, (Date, Date)> = BTreeMap::new();
    for file in log.chunk_by(|one, other| one.place.source == other.place.source) {
        let told = |entry: &Entry| entry.on.first;
        let (Some(first), Some(last)) = (file.iter().map(told).min(), file.iter().map(told).max()) else { continue };
        let Some(source) = file.first().map(|entry| entry.place.source) else { continue };
        let known = days.entry(source).or_insert((first, last));
        *known = (known.0.min(first), known.1.max(last));
    }
    let mut days: Vec<(Date, Date)> = days.into_values().collect();
    days.sort_unstable();
    let mut told_up_to: Option<Date> = None;
    let mut shared: Vec<(Date, Date)> = Vec::new();
    for (first, last) in days {
        if let Some(before) = told_up_to.filter(|before| *before >= first) {
            shared.push((first, last.min(before)));
        }
        told_up_to = told_up_to.max(Some(last));
    }
    shared
}

/// The later of two entries of two files that are alike, with where the first stands.
pub(super) fn doubles(log: &[Entry]) -> BTreeMap<usize, Span> {
    let mut doubles = BTreeMap::new();
    let shared = shared_days(log);
    let mut known: BTreeMap<_, Vec<&Entry>> = BTreeMap::new();
    let is_shared = |day: Date| shared.iter().any(|(first, last)| (*first..=*last).contains(&day));
    for (at, entry) in log.iter().enumerate().filter(|(_, entry)| is_shared(entry.on.first)) {
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

#[cfg(test)]
mod tests {
    use super::shared_days;
    use crate::project::Entry;
    use crate::quantity::{Date, DateRange};
    use crate::source::{Sources, Span};
    use crate::vocabulary::Event;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn a_day_that_two_files_tell_is_shared(all in prop::collection::vec((0..4usize, 0..30i32), 0..12)) {
            let mut sources = Sources::default();
            let files = ["a", "b", "c", "d"].map(|name| sources.add(name, ""));
            let entry = |(file, day): &(usize, i32)| {
                let on = DateRange::day(Date::from_days(20_000i32.saturating_add(*day)));
                Entry::new(Event::Inspected, "part", "rosa", on, Span::new(files[*file], 0, 0))
            };
            let log: Vec<Entry> = all.iter().map(entry).collect();
            let shared = shared_days(&log);
            for one in &log {
                let told_twice = log.iter().any(|other| other.on == one.on && other.place != one.place);
                let known = shared.iter().any(|(first, last)| (*first..=*last).contains(&one.on.first));
                prop_assert!(known || !told_twice);
                // Each file's days go from its first to its last.
                let of = |file| log.iter().filter(move |entry| entry.place.source == file).map(|entry| entry.on.first);
                let within = |file| of(file).min() <= Some(one.on.first) && of(file).max() >= Some(one.on.first);
                let tell = files.iter().filter(|file| of(**file).next().is_some() && within(**file)).count();
                prop_assert_eq!(known, tell > 1);
            }
        }
    }
}
