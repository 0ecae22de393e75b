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

/// An entry with its number in the log.
type Numbered<'a> = (usize, &'a Entry);

/// What was taken off, as of a day.
#[derive(Debug, Default)]
pub(crate) struct Removals<'a> {
    /// The removals that stand, one for each part.
    standing: BTreeMap<&'a str, Removal<'a>>,
    /// The entries that put a part back, or may have, by their number in the log.
    back: BTreeMap<usize, PutBack>,
}

/// What is known of a part before the entry that put it back, or may have.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) struct PutBack {
    /// It may have been gone for good, so that what is fitted is another one.
    pub(crate) for_good: bool,
    /// It certainly was off, and it is certain whether for good.
    pub(crate) surely: bool,
}

impl<'a> Removals<'a> {
    /// What a part has a line of its own for comes back by its own line alone.
    pub(crate) fn of(record: &'a Record, today: Date) -> Self {
        let mut moved: BTreeMap<&str, (Vec<&Entry>, Vec<Numbered<'_>>)> = BTreeMap::new();
        for (number, entry) in record.log.iter().enumerate().filter(|(_, entry)| entry.on.first <= today) {
            let (removed, refitted) = moved.entry(&entry.subject).or_default();
            match entry.event {
                Event::Removed => removed.push(entry),
                Event::Refitted => refitted.push((number, entry)),
                // What is fitted, for trial or to stay, is not off.
                _ if entry.fit.is_some() => refitted.push((number, entry)),
                _ => {}
            }
        }
        let mut back = BTreeMap::new();
        for (removed, refitted) in moved.values() {
            put_back(removed, refitted, &mut back);
        }
        let standing = moved.into_iter().filter_map(|(part, (removed, refitted))| {
            let refitted = || refitted.iter().map(|(_, refit)| *refit);
            let back = |entry: &&&Entry| refitted().any(|refit| entry.before(refit) && refit.on.last <= today);
            let standing: Vec<&Entry> = removed.iter().filter(|entry| !back(entry)).copied().collect();
            let later = |entry: &Entry| standing.iter().any(|other| entry.before(other) && other.on.last <= today);
            let surely = |entry: &Entry| entry.on.last <= today && refitted().all(|refit| refit.before(entry));
            // Of those that may have been the last, one that is not for good, if there is any: it came back meanwhile.
            let last = standing.iter().copied().filter(|entry| !later(entry));
            let stands = last.max_by_key(|entry| (!entry.for_good, surely(entry), entry.on.last, entry.place))?;
            Some((part, Removal { entry: stands, surely: surely(stands) }))
        });
        Self { standing: standing.collect(), back }
    }

    /// What an entry, by its number in the log, put back, or may have.
    pub(crate) fn put_back(&self, number: usize) -> Option<PutBack> {
        self.back.get(&number).copied()
    }

    /// The removal by which a part is off, its own or that of what it is a part of.
    pub(crate) fn off(&self, part: &str) -> Option<&'a Entry> {
        let own = self.standing.get(part).map(|removal| removal.entry);
        own.or_else(|| self.standing.iter().find(|(above, _)| is_below(part, above)).map(|(_, removal)| removal.entry))
    }

    /// The entry by which the aircraft is without a part, for good.
    pub(crate) fn gone(&self, part: &str) -> Option<&'a Entry> {
        let by = |(above, removal): (&&str, &Removal<'a>)| {
            let it = removal.surely && removal.entry.for_good && (part == *above || is_below(part, above));
            it.then_some(removal.entry)
        };
        self.standing.iter().find_map(by)
    }

    /// Whether the aircraft is without any part for good.
    pub(crate) fn any_gone(&self) -> bool {
        self.standing.values().any(|removal| removal.surely && removal.entry.for_good)
    }

    /// Those that are not for good, in the order of the parts' names.
    pub(crate) fn to_come_back(&self) -> impl Iterator<Item = Removal<'a>> + '_ {
        self.standing.values().copied().filter(|removal| !(removal.surely && removal.entry.for_good))
    }

    /// Whether a part was taken off by a line of its own.
    pub(crate) fn has_its_own(&self, part: &str) -> bool {
        self.standing.contains_key(part)
    }
}

/// Of the entries about one part, those before which it may have been off: they
/// come after a removal, or may, and no other certainly put it back between.
fn put_back(removed: &[&Entry], refitted: &[Numbered<'_>], back: &mut BTreeMap<usize, PutBack>) {
    for gone in removed {
        let after: Vec<&Entry> = refitted.iter().map(|(_, refit)| *refit).filter(|refit| gone.before(refit)).collect();
        let by = after.iter().map(|refit| refit.on.last).min();
        for (number, refit) in refitted {
            let sooner = by.is_some_and(|by| by < refit.on.first) || after.iter().any(|other| other.before(refit));
            if !refit.before(gone) && !sooner {
                back.entry(*number).or_default().for_good |= gone.for_good;
            }
        }
    }
    for (number, refit) in refitted {
        let known = |gone: &&Entry| {
            let not_between = |other: &Entry| other.before(gone) || refit.before(other);
            let others = || refitted.iter().filter(|(other, _)| other != number);
            gone.before(refit) && others().all(|(_, other)| not_between(other))
        };
        if let Some(back) = back.get_mut(number) {
            back.surely = removed.iter().any(|gone| gone.for_good == back.for_good && known(gone));
        }
    }
}
