//! Whether an item may apply where something that decides it is taken as none until a day ahead.

use super::judge::Judge;
use super::none_until::bears_on_none_until;
use crate::ir::{FactId, Item, ItemId};
use crate::quantity::{DateRange, Truth};

impl Judge<'_> {
    /// Whether a fact bears on whether another is taken as none until a day ahead, and so on all that reads that one.
    pub fn bears_on_none_until(&self, id: FactId) -> bool {
        bears_on_none_until(self.rules, id)
    }

    /// Whether an item may apply on a day to a record of which nothing is known.
    pub(super) fn may_apply_without_record(&self, item: &Item, day: DateRange) -> bool {
        let is_it = |id: &ItemId| self.rules.item(*id).is_some_and(|other| std::ptr::eq(other, item));
        let Some(when) = item.when.filter(|_| !self.too_long.iter().any(is_it)) else { return true };
        let evaluation = self.evaluation_without_words(day);
        match evaluation.decide_for(when, None) {
            Truth::False => false,
            Truth::True => true,
            Truth::Undecided => {
                !self.reads_none_until(item) || evaluation.with_none_until().decide_for(when, None) != Truth::False
            }
        }
    }

    /// Whether an item reads a fact that is taken as none until a day ahead.
    pub(super) fn reads_none_until(&self, item: &Item) -> bool {
        !self.none_until.is_empty() && item.reads.iter().any(|fact| self.none_until.contains_key(fact))
    }
}
