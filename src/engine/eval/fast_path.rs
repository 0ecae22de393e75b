//! The fast path: plain conditions decided in one sweep over a row of tests.

use super::evaluate::{Evaluation, ordered};
use crate::ir::{
    ChoiceSet, ConditionId, ConstantId, End, Frame, Numbers, OfFacts, OfRecords, Operand, Order, Site, SlotId, Test,
    Words,
};
use crate::quantity::{Interval, Truth};

/// Where the tests of a row read their values.
trait Values<S: Site> {
    fn number(&self, place: S::Number) -> Interval;
    fn words(&self, place: S::Words) -> ChoiceSet;
}

impl Values<OfFacts> for Evaluation<'_> {
    #[inline]
    fn number(&self, slot: SlotId<Numbers>) -> Interval {
        self.values.numbers.get(slot).copied().unwrap_or(Interval::EVERYTHING)
    }

    #[inline]
    fn words(&self, slot: SlotId<Words>) -> ChoiceSet {
        self.values.words.get(slot).copied().unwrap_or(ChoiceSet::ANYTHING)
    }
}

/// The records that loops stand at.
struct AtRecords<'e, 'f> {
    evaluation: &'e Evaluation<'f>,
    frame: &'e Frame,
}

impl Values<OfRecords> for AtRecords<'_, '_> {
    #[inline]
    fn number(&self, operand: Operand<Numbers>) -> Interval {
        self.evaluation.interval(operand, self.frame)
    }

    #[inline]
    fn words(&self, operand: Operand<Words>) -> ChoiceSet {
        self.evaluation.words(operand, self.frame)
    }
}

impl Evaluation<'_> {
    /// Decides a row of facts; `None` where it has none, or where two known
    /// sides overlap, the outcome hangs on it and exact numbers must tell.
    #[inline]
    pub(crate) fn fast_path(&self, row: &[Test<OfFacts>]) -> Option<Truth> {
        self.sweep(row, self)
    }

    /// Decides a condition of a record by its row, which may be none.
    #[inline]
    pub(crate) fn holds(&self, node: ConditionId, row: &[Test<OfRecords>], frame: &mut Frame) -> Truth {
        let decided = if row.is_empty() { None } else { self.sweep(row, &AtRecords { evaluation: self, frame }) };
        decided.unwrap_or_else(|| self.truth(node, frame))
    }

    /// Every part is looked at: a part that does not matter costs less than
    /// finding out that it does not.
    #[inline]
    fn sweep<S: Site>(&self, row: &[Test<S>], values: &impl Values<S>) -> Option<Truth> {
        let (mut all, mut any, mut overlap) = (Truth::True, Truth::False, false);
        for test in row {
            let (truth, end) = match *test {
                Test::Words { end, value, allowed } => (values.words(value).among(allowed), end),
                Test::Constant { end, order, left, right } => {
                    (compared(order, (values.number(left), self.constant(right)), &mut overlap), end)
                }
                Test::Values { end, order, left, right } => {
                    (compared(order, (values.number(left), values.number(right)), &mut overlap), end)
                }
                Test::Scaled { end, order, left, factor, right } => {
                    let right = self.constant(factor).mul(values.number(right));
                    (compared(order, (values.number(left), right), &mut overlap), end)
                }
            };
            any = any.or(truth);
            if end == End::Nothing {
                continue;
            }
            all = all.and(any);
            any = Truth::False;
            if end == End::Whole {
                return (all.is_decided() || !overlap).then_some(all);
            }
        }
        None
    }

    #[inline]
    pub(crate) fn constant(&self, constant: ConstantId<Numbers>) -> Interval {
        self.program.intervals.get(constant).copied().unwrap_or(Interval::EVERYTHING)
    }
}

/// The comparison by intervals, and whether its known sides overlap.
#[inline]
pub(crate) fn compared(order: Order, (left, right): (Interval, Interval), overlap: &mut bool) -> Truth {
    let truth = ordered(order, left, right);
    *overlap |= truth == Truth::Undecided && !left.is_everything() && !right.is_everything();
    truth
}
