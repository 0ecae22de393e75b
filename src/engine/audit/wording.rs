//! The wording of the day: an item is judged by the wording that is in force
//! when it must be met, and a word holds for the wording it was given to.

use super::judge::Judge;
use crate::ir::{Item, ItemId};
use crate::project::VISIT;
use crate::quantity::{Date, DateRange};

/// The hold point of an aircraft in service, which has no day to come.
const IN_SERVICE: &str = "continuing";

impl Judge<'_> {
    /// The day on which an item must be met, as far as it is planned: today
    /// where nothing is planned, where that day has passed, and in service.
    pub(super) fn day_of_wording(&self, item: &Item) -> DateRange {
        let point = self.rules.hold_points.get(item.by).map_or("", |point| point.name.as_str());
        let planned = match point {
            IN_SERVICE => None,
            VISIT => self.record.visit,
            other => self.record.planned.get(other).map(|day| DateRange::day(*day)),
        };
        let to_come = planned.and_then(|day| DateRange::new(day.first.max(self.today.first), day.last));
        to_come.unwrap_or(self.today)
    }

    /// Whether a wording may be in force when the item must be met.
    pub(crate) fn may_be_in_force(&self, item: &Item) -> bool {
        if item.from.is_none() && item.until.is_none() {
            return true;
        }
        let day = self.day_of_wording(item);
        item.from.is_none_or(|from| from <= day.last) && item.until.is_none_or(|until| day.first <= until)
    }

    /// The other wordings of an item.
    fn others(&self, id: ItemId, item: &Item) -> impl Iterator<Item = &Item> {
        let named = self.rules.items_by_name.get(&item.name).map_or(&[][..], Vec::as_slice);
        let others = named.iter().copied().filter(move |other| *other != id);
        let pack = item.pack;
        others.filter_map(|other| self.rules.item(other)).filter(move |other| other.pack == pack)
    }

    /// Whether no wording of an item is in force when it must be met, and this
    /// one stands for all of them: the last that was, or the first to come.
    pub(super) fn stands_for_none(&self, id: ItemId, item: &Item) -> bool {
        if self.may_be_in_force(item) || self.others(id, item).any(|other| self.may_be_in_force(other)) {
            return false;
        }
        let day = self.day_of_wording(item);
        let to_come = |item: &Item| item.from.filter(|from| *from > day.last);
        let rank = |item: &Item| (to_come(item).is_none(), to_come(item), std::cmp::Reverse(item.until));
        self.others(id, item).all(|other| rank(item) <= rank(other))
    }

    /// The first day of a wording still to come after the one in force.
    pub(super) fn next_wording(&self, id: ItemId, item: &Item) -> Option<Date> {
        // One that is always in force is the only one: the dates of two of a name do not overlap.
        if item.from.is_none() && item.until.is_none() {
            return None;
        }
        let day = self.day_of_wording(item);
        let own = std::iter::once(item).chain(self.others(id, item));
        own.filter_map(|one| one.from).filter(|from| *from > day.last).min()
    }

    /// Whether a word, leave or deferral was given to this wording: it says so
    /// by the wording's first day, or else by its own day.
    pub(super) fn given_to(&self, item: &Item, wording: Option<Date>, on: DateRange) -> bool {
        match wording {
            Some(first) => item.from == Some(first),
            None => item.from.is_none_or(|from| from <= on.first) && item.until.is_none_or(|until| on.last <= until),
        }
    }
}
