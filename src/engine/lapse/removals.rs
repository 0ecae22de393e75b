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
pub(super) type Numbered<'a> = (usize, &'a Entry);

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
    /// The removals in entries that are sorted by parts. What a part has a line of its own for comes back by its own line
    /// alone.
    pub(super) fn of_parts(parts: &BTreeMap<&'a str, Vec<Numbered<'a>>>, today: Date) -> Self {
        let mut back = BTreeMap::new();
        let mut standing = BTreeMap::new();
        for (part, entries) in parts {
            let removed = entries.iter().copied().filter(|(_, entry)| entry.event == Event::Removed);
            let removed: Vec<Numbered<'_>> = removed.collect();
            if removed.is_empty() {
                continue;
            }
            // What is fitted, for trial or to stay, is not off.
            let is_back =
                |entry: &Entry| entry.event == Event::Refitted || entry.event != Event::Removed && entry.fit.is_some();
            let refitted = entries.iter().copied().filter(|(_, entry)| is_back(entry)).collect();
            let (removed, refitted) = (ByDay::of(removed), ByDay::of(refitted));
            put_back(&removed, &refitted, &mut back);
            if let Some(removal) = stands(removed.in_order, &refitted, today) {
                standing.insert(*part, removal);
            }
        }
        Self { standing, back }
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

    /// The removal by which a part is off, or not all of it is there: whatever is said of it then, putting the rest back
    /// undoes. What is off for good, or for the visit alone, is no part that is still to come.
    pub(crate) fn off_in_part(&self, part: &str) -> Option<&'a Entry> {
        let to_come = |removal: &&Removal<'a>| !removal.entry.for_good && !removal.entry.for_visit;
        let below = || self.standing.iter().filter(|(below, _)| is_below(below, part)).map(|(_, removal)| removal);
        self.off(part).or_else(|| below().find(to_come).map(|removal| removal.entry))
    }

    /// An entry by which something is off that is to come back, and was not taken off for the visit.
    pub(crate) fn something_off(&self) -> Option<&'a Entry> {
        let entries = self.standing.values().map(|removal| removal.entry);
        entries.into_iter().find(|entry| !entry.for_good && !entry.for_visit)
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

/// The line by which a part is off on a day, its own or that of what it is a part of.
#[must_use]
pub fn removal_of<'a>(record: &'a Record, today: Date, part: &str) -> Option<&'a Entry> {
    Removals::of_parts(&about_parts(record, today), today).off(part)
}

/// The entries that may be of a day or of one before it, by their parts, with their numbers in the log.
pub(super) fn about_parts(record: &Record, today: Date) -> BTreeMap<&str, Vec<Numbered<'_>>> {
    let mut parts: BTreeMap<&str, Vec<Numbered<'_>>> = BTreeMap::new();
    for (number, entry) in record.log.iter().enumerate().filter(|(_, entry)| entry.on.first <= today) {
        parts.entry(&entry.subject).or_default().push((number, entry));
    }
    parts
}

/// Entries about one part, in the order of their first days, so that a few days of many years can be looked at.
#[derive(Debug)]
struct ByDay<'a> {
    in_order: Vec<Numbered<'a>>,
    /// The latest last day up to each entry.
    latest: Vec<Date>,
    /// The earliest last day from each entry on.
    earliest: Vec<Date>,
    /// All last days, in order.
    ends: Vec<Date>,
}

impl<'a> ByDay<'a> {
    fn of(mut entries: Vec<Numbered<'a>>) -> Self {
        entries.sort_by_key(|(_, entry)| entry.on.first);
        let last = |(_, entry): &Numbered<'_>| entry.on.last;
        let running = |least: &mut Option<Date>, day: Date, better: fn(Date, Date) -> Date| {
            let best = least.map_or(day, |known| better(known, day));
            *least = Some(best);
            Some(best)
        };
        let latest = entries.iter().map(last).scan(None, |most, day| running(most, day, Date::max)).collect();
        let backwards = entries.iter().rev().map(last).scan(None, |least, day| running(least, day, Date::min));
        let mut earliest: Vec<Date> = backwards.collect();
        earliest.reverse();
        let mut ends: Vec<Date> = entries.iter().map(last).collect();
        ends.sort_unstable();
        Self { in_order: entries, latest, earliest, ends }
    }

    /// Those that may be of one of these days, and perhaps some more.
    fn between(&self, first: Date, last: Date) -> &[Numbered<'a>] {
        let from = self.latest.partition_point(|end| *end < first);
        let to = self.in_order.partition_point(|(_, entry)| entry.on.first <= last);
        self.in_order.get(from..to).unwrap_or(&[])
    }

    /// The first last day of those that certainly come after an entry.
    fn first_end_after(&self, entry: &Entry) -> Option<Date> {
        let later = self.in_order.partition_point(|(_, other)| other.on.first <= entry.on.last);
        let same_day = self.between(entry.on.first, entry.on.last).iter();
        let same_day = same_day.filter(|(_, other)| entry.before(other)).map(|(_, other)| other.on.last);
        same_day.chain(self.earliest.get(later).copied()).min()
    }

    /// Whether any of them comes after an entry, for certain, and up to a day.
    fn any_after(&self, entry: &Entry, up_to: Date) -> bool {
        self.first_end_after(entry).is_some_and(|end| end <= up_to)
    }

    /// The latest last day before a day.
    fn last_end_before(&self, day: Date) -> Option<Date> {
        let before = self.ends.partition_point(|end| *end < day);
        before.checked_sub(1).and_then(|at| self.ends.get(at)).copied()
    }
}

/// The removal of one part that stands.
fn stands<'a>(removed: Vec<Numbered<'a>>, refitted: &ByDay<'_>, today: Date) -> Option<Removal<'a>> {
    let standing = removed.into_iter().filter(|(_, entry)| !refitted.any_after(entry, today));
    let standing = ByDay::of(standing.collect());
    let surely =
        |entry: &Entry| entry.on.last <= today && refitted.in_order.iter().all(|(_, refit)| refit.before(entry));
    // Of those that may have been the last, one that is not for good, if there is any: it came back meanwhile.
    let last = standing.in_order.iter().map(|(_, entry)| *entry).filter(|entry| !standing.any_after(entry, today));
    let entry = last.max_by_key(|entry| (!entry.for_good, surely(entry), entry.on.last, entry.place))?;
    Some(Removal { entry, surely: surely(entry) })
}

/// Of the entries about one part, those before which it may have been off: they
/// come after a removal, or may, and no other certainly put it back between.
fn put_back(removed: &ByDay<'_>, refitted: &ByDay<'_>, back: &mut BTreeMap<usize, PutBack>) {
    for (_, gone) in &removed.in_order {
        let by = refitted.first_end_after(gone);
        // What ended before comes before it, and after the first that put it back nothing did.
        let near = refitted.between(gone.on.first, by.unwrap_or(Date::from_days(i32::MAX)));
        for (number, refit) in near {
            let sooner = near.iter().any(|(_, other)| gone.before(other) && other.before(refit));
            if !refit.before(gone) && !sooner {
                back.entry(*number).or_default().for_good |= gone.for_good;
            }
        }
    }
    for (number, refit) in &refitted.in_order {
        let Some(back) = back.get_mut(number) else { continue };
        let known = |gone: &Entry| {
            let not_between = |other: &Entry| other.before(gone) || refit.before(other);
            let mut others = refitted.between(gone.on.first, refit.on.last).iter().filter(|(other, _)| other != number);
            gone.before(refit) && others.all(|(_, other)| not_between(other))
        };
        // One that had ended before comes before whatever was put back.
        let since = refitted.last_end_before(refit.on.first).unwrap_or(Date::from_days(i32::MIN));
        let near = removed.between(since, refit.on.first);
        back.surely = near.iter().any(|(_, gone)| gone.for_good == back.for_good && known(gone));
    }
}

#[cfg(test)]
mod tests {
    use super::{ByDay, Numbered, PutBack, Removals, about_parts, put_back};
    use crate::project::{Entry, Record};
    use crate::quantity::{Date, DateRange};
    use crate::source::{Sources, Span};
    use crate::vocabulary::Event;
    use proptest::prelude::*;
    use std::collections::BTreeMap;

    /// The meaning, word for word: every entry held against every other.
    fn put_back_slowly(removed: &[Numbered<'_>], refitted: &[Numbered<'_>], back: &mut BTreeMap<usize, PutBack>) {
        for (_, gone) in removed {
            let after = || refitted.iter().map(|(_, refit)| *refit).filter(|refit| gone.before(refit));
            for (number, refit) in refitted {
                let sooner = after().any(|other| other.on.last < refit.on.first || other.before(refit));
                if !refit.before(gone) && !sooner {
                    back.entry(*number).or_default().for_good |= gone.for_good;
                }
            }
        }
        for (number, refit) in refitted {
            let known = |gone: &Entry| {
                let not_between = |other: &Entry| other.before(gone) || refit.before(other);
                let others = || refitted.iter().filter(|(other, _)| other != number);
                gone.before(refit) && others().all(|(_, other)| not_between(other))
            };
            if let Some(back) = back.get_mut(number) {
                back.surely = removed.iter().any(|(_, gone)| gone.for_good == back.for_good && known(gone));
            }
        }
    }

    /// The removal that stands, the same way: where it stands and whether it surely does.
    fn stands_slowly(removed: &[&Entry], refitted: &[&Entry], today: Date) -> Option<(Span, bool)> {
        let back = |entry: &&&Entry| refitted.iter().any(|refit| entry.before(refit) && refit.on.last <= today);
        let standing: Vec<&Entry> = removed.iter().filter(|entry| !back(entry)).copied().collect();
        let later = |entry: &Entry| standing.iter().any(|other| entry.before(other) && other.on.last <= today);
        let surely = |entry: &Entry| entry.on.last <= today && refitted.iter().all(|refit| refit.before(entry));
        let last = standing.iter().copied().filter(|entry| !later(entry));
        let stands = last.max_by_key(|entry| (!entry.for_good, surely(entry), entry.on.last, entry.place))?;
        Some((stands.place, surely(stands)))
    }

    /// Day, length, time, event, whether its file is in order, whether for good.
    type Drawn = (i32, i32, Option<u32>, u8, bool, bool);

    /// A few days, months among them, times, two files, one of them in no order.
    fn entries() -> impl Strategy<Value = Vec<Entry>> {
        let one = (0..12i32, 0..4i32, proptest::option::of(0..3u32), 0..3u8, any::<bool>(), any::<bool>());
        proptest::collection::vec(one, 0..14).prop_map(|all| {
            let mut sources = Sources::default();
            let files = ["log/a.toml", "log/b.toml"].map(|name| sources.add(name, ""));
            let entry = |(at, (day, longer, time, what, in_order, for_good)): (usize, Drawn)| {
                let place = Span::new(if in_order { files[0] } else { files[1] }, at, at);
                let event = if what == 0 { Event::Refitted } else { Event::Removed };
                let length: i32 = if longer == 3 { 4 } else { 0 };
                let first = 20_000i32.saturating_add(day);
                let last = first.saturating_add(length);
                let on = DateRange::new(Date::from_days(first), Date::from_days(last)).expect("a range");
                let at = time.filter(|_| longer == 1);
                Entry { at, in_order, for_good: for_good && what != 0, ..Entry::new(event, "part", "rosa", on, place) }
            };
            all.into_iter().enumerate().map(entry).collect()
        })
    }

    fn entries_of<'a>(numbered: &[Numbered<'a>]) -> Vec<&'a Entry> {
        numbered.iter().map(|(_, entry)| *entry).collect()
    }

    proptest! {
        #[test]
        fn a_few_days_tell_what_all_of_them_do(log in entries(), today in 19_999..20_018i32) {
            let today = Date::from_days(today);
            let of = |event: Event| -> Vec<Numbered<'_>> {
                let known = log.iter().enumerate().filter(|(_, entry)| entry.on.first <= today);
                known.filter(|(_, entry)| entry.event == event).collect()
            };
            let (removed, refitted) = (of(Event::Removed), of(Event::Refitted));
            let (mut quick, mut slow) = (BTreeMap::new(), BTreeMap::new());
            put_back(&ByDay::of(removed.clone()), &ByDay::of(refitted.clone()), &mut quick);
            put_back_slowly(&removed, &refitted, &mut slow);
            prop_assert_eq!(&quick, &slow);
            let (removed, refitted) = (entries_of(&removed), entries_of(&refitted));
            let record = Record { log: log.clone(), ..Record::default() };
            let standing = Removals::of_parts(&about_parts(&record, today), today).standing.get("part").map(|one| (one.entry.place, one.surely));
            prop_assert_eq!(standing, stands_slowly(&removed, &refitted, today));
        }
    }
}
