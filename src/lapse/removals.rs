//! Parts that were taken off and are not back: while a part is off, nothing
//! shown of it as fitted counts, nor of its own parts, which went with it.

use super::disturbance::is_below;
use crate::project::{Entry, Record};
use crate::quantity::Date;
use crate::vocabulary::Event;
use std::collections::BTreeMap;

/// A removal that stands.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Removal<'a> {
    /// The entry.
    pub(crate) entry: &'a Entry,
    /// Whether it certainly does: no refit may have come after it, and it is not of a day to come.
    pub(crate) surely: bool,
}

/// The removals that stand on a day, one for each part.
#[derive(Debug, Default)]
pub(crate) struct Removals<'a>(BTreeMap<&'a str, Removal<'a>>);

impl<'a> Removals<'a> {
    /// What a part has a line of its own for comes back by its own line alone.
    pub(crate) fn of(record: &'a Record, today: Date) -> Self {
        let mut moved: BTreeMap<&str, (Vec<&Entry>, Vec<&Entry>)> = BTreeMap::new();
        for entry in record.log.iter().filter(|entry| entry.on.first <= today) {
            let (removed, refitted) = moved.entry(&entry.subject).or_default();
            match entry.event {
                Event::Removed => removed.push(entry),
                Event::Refitted => refitted.push(entry),
                // What is fitted, for trial or to stay, is not off.
                _ if entry.fit.is_some() => refitted.push(entry),
                _ => {}
            }
        }
        // Of a part that is gone for good nobody logs anything more.
        let heard_of = |part: &str, gone: &Entry| {
            let about = |entry: &&Entry| entry.subject == part || is_below(&entry.subject, part);
            let later = |entry: &&Entry| entry.event != Event::Removed && !entry.before(gone);
            record.log.iter().filter(|entry| entry.on.first <= today).filter(about).any(|entry| later(&entry))
        };
        let standing = moved.into_iter().filter_map(|(part, (removed, refitted))| {
            let back = |entry: &&&Entry| refitted.iter().any(|refit| entry.before(refit) && refit.on.last <= today);
            let stands =
                removed.iter().filter(|entry| !back(entry)).max_by_key(|entry| (entry.on.last, entry.place))?;
            let perhaps_back = refitted.iter().any(|refit| !refit.before(stands));
            let perhaps_back = perhaps_back || stands.for_good && heard_of(part, stands);
            Some((part, Removal { entry: stands, surely: stands.on.last <= today && !perhaps_back }))
        });
        Self(standing.collect())
    }

    /// The removal by which a part is off, its own or that of what it is a part of.
    pub(crate) fn off(&self, part: &str) -> Option<&'a Entry> {
        let own = self.0.get(part).map(|removal| removal.entry);
        own.or_else(|| self.0.iter().find(|(above, _)| is_below(part, above)).map(|(_, removal)| removal.entry))
    }

    /// The entry by which the aircraft is without a part, for good.
    pub(crate) fn gone(&self, part: &str) -> Option<&'a Entry> {
        let by = |(above, removal): (&&str, &Removal<'a>)| {
            let it = removal.surely && removal.entry.for_good && (part == *above || is_below(part, above));
            it.then_some(removal.entry)
        };
        self.0.iter().find_map(by)
    }

    /// Whether the aircraft is without any part for good.
    pub(crate) fn any_gone(&self) -> bool {
        self.0.values().any(|removal| removal.surely && removal.entry.for_good)
    }

    /// Those that are not for good, in the order of the parts' names.
    pub(crate) fn to_come_back(&self) -> impl Iterator<Item = Removal<'a>> + '_ {
        self.0.values().copied().filter(|removal| !(removal.surely && removal.entry.for_good))
    }

    /// Whether a part was taken off by a line of its own.
    pub(crate) fn has_its_own(&self, part: &str) -> bool {
        self.0.contains_key(part)
    }
}
