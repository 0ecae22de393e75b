//! Plain rules decided in one sweep over a row of comparisons.

use super::evaluate::{Evaluation, among, ordered};
use crate::ir::{End, Quick};
use crate::quantity::{Interval, Truth};

impl Evaluation<'_> {
    /// Decides a row; `None` where it has none, or where two known sides
    /// overlap, the outcome hangs on it and exact numbers must tell.
    ///
    /// Every part is looked at: a part that does not matter costs less than
    /// finding out that it does not.
    #[inline]
    pub(crate) fn quick(&self, row: &[Quick]) -> Option<Truth> {
        let (mut all, mut any, mut overlap) = (Truth::True, Truth::False, false);
        for comparison in row {
            let (truth, end) = match *comparison {
                Quick::Words { end, slot, allowed } => {
                    let words = self.facts.values.words.get(slot as usize);
                    (among(words.copied().unwrap_or(u64::MAX), allowed), end)
                }
                Quick::Constant { end, order, slot, constant } => {
                    let right = self.program.intervals.get(constant as usize);
                    let sides = (self.slot(slot), right.copied().unwrap_or(Interval::EVERYTHING));
                    (compared(order, sides, &mut overlap), end)
                }
                Quick::Slots { end, order, slot, other } => {
                    (compared(order, (self.slot(slot), self.slot(other)), &mut overlap), end)
                }
                Quick::Scaled { end, order, slot, factor, other } => {
                    let factor = self.program.intervals.get(factor as usize);
                    let right = factor.copied().unwrap_or(Interval::EVERYTHING).mul(self.slot(other));
                    (compared(order, (self.slot(slot), right), &mut overlap), end)
                }
            };
            any = any.or(truth);
            if end != End::Nothing {
                all = all.and(any);
                any = Truth::False;
            }
            if end == End::Whole {
                return (all.is_decided() || !overlap).then_some(all);
            }
        }
        None
    }

    #[inline]
    fn slot(&self, slot: u32) -> Interval {
        self.facts.values.numbers.get(slot as usize).copied().unwrap_or(Interval::EVERYTHING)
    }
}

/// The quick comparison, and whether its known sides overlap.
#[inline]
fn compared(order: crate::ir::Order, (left, right): (Interval, Interval), overlap: &mut bool) -> Truth {
    let truth = ordered(order, left, right);
    *overlap |= truth == Truth::Undecided && !left.is_everything() && !right.is_everything();
    truth
}
