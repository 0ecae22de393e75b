//! The fast path over a list, column by column: where a part of what `every`
//! asks is one test, it is run through all records at once. All records of all
//! parts must hold, so the order does not matter.

use super::evaluate::Evaluation;
use super::fast_path::compared;
use crate::ir::{
    ChoiceSet, Condition, ConditionId, End, Frame, Loop, Numbers, OfRecords, Operand, Order, RowId, Test, Words,
};
use crate::quantity::{Interval, Truth};

/// The values of one side, record by record.
#[derive(Clone, Copy)]
enum Side<'a> {
    /// A field of this loop's records.
    Column(&'a [Interval]),
    /// The same for all of them.
    Same(Interval),
}

/// What is run through: the loop, its records and the condition they are to meet.
#[derive(Clone, Copy)]
struct Pass {
    over: Loop,
    len: u32,
    node: ConditionId,
}

impl Evaluation<'_> {
    /// Whether `body` holds for every one of `len` records, none left out.
    pub(crate) fn every_row(&self, over: Loop, len: u32, body: ConditionId, frame: &mut Frame) -> Truth {
        if let Some(Condition::And(parts)) = self.program.conditions.get(body) {
            let mut all = Truth::True;
            for part in self.program.arguments.get(*parts) {
                all = all.and(self.every_row(over, len, *part, frame));
                if all == Truth::False {
                    break;
                }
            }
            return all;
        }
        let row = self.program.rows.of_records(body);
        let alone = row.first().filter(|test| test.end() == End::Whole);
        let by_column = alone.and_then(|test| self.by_column(test, Pass { over, len, node: body }, frame));
        by_column.unwrap_or_else(|| self.by_rows(over, len, body, frame))
    }

    /// Runs one test through all records; `None` if there is no column to run through.
    fn by_column(&self, test: &Test<OfRecords>, pass: Pass, frame: &mut Frame) -> Option<Truth> {
        match *test {
            Test::Words { value, allowed, .. } => Some(all_among(self.words_column(value, pass)?, allowed)),
            Test::Constant { order, left, right, .. } => {
                let right = Side::Same(self.constant(right));
                Some(self.all_ordered(order, (self.side(left, pass, frame)?, right), pass, frame))
            }
            Test::Values { order, left, right, .. } => {
                let sides = (self.side(left, pass, frame)?, self.side(right, pass, frame)?);
                Some(self.all_ordered(order, sides, pass, frame))
            }
            Test::Scaled { order, left, factor, right, .. } => {
                let factor = self.constant(factor);
                let sides = (self.side(left, pass, frame)?, self.side(right, pass, frame)?);
                Some(self.all_scaled(order, factor, sides, pass, frame))
            }
        }
    }

    fn words_column(&self, operand: Operand<Words>, pass: Pass) -> Option<&[ChoiceSet]> {
        match operand {
            Operand::Field { list, column, frame } if frame == pass.over.frame => {
                self.facts.lists.get(list)?.words.get(column)?.prefix(pass.len as usize)
            }
            _ => None,
        }
    }

    fn side(&self, operand: Operand<Numbers>, pass: Pass, frame: &Frame) -> Option<Side<'_>> {
        match operand {
            Operand::Field { list, column, frame: at } if at == pass.over.frame => {
                let column = self.facts.lists.get(list)?.numbers.get(column)?;
                Some(Side::Column(column.prefix(pass.len as usize)?))
            }
            _ => Some(Side::Same(self.interval(operand, frame))),
        }
    }

    fn all_ordered(&self, order: Order, sides: (Side<'_>, Side<'_>), pass: Pass, frame: &mut Frame) -> Truth {
        match sides {
            (Side::Column(left), Side::Column(right)) => {
                self.all(order, left.iter().copied().zip(right.iter().copied()), pass, frame)
            }
            (Side::Column(left), Side::Same(right)) => {
                self.all(order, left.iter().map(|left| (*left, right)), pass, frame)
            }
            (Side::Same(left), Side::Column(right)) => {
                self.all(order, right.iter().map(|right| (left, *right)), pass, frame)
            }
            // What is the same for all of them is asked of one; there is one.
            (Side::Same(left), Side::Same(right)) => self.all(order, std::iter::once((left, right)), pass, frame),
        }
    }

    fn all_scaled(
        &self,
        order: Order,
        factor: Interval,
        sides: (Side<'_>, Side<'_>),
        pass: Pass,
        frame: &mut Frame,
    ) -> Truth {
        match sides {
            (left, Side::Same(right)) => self.all_ordered(order, (left, Side::Same(factor.mul(right))), pass, frame),
            (Side::Column(left), Side::Column(right)) => {
                let right = right.iter().map(|right| factor.mul(*right));
                self.all(order, left.iter().copied().zip(right), pass, frame)
            }
            (Side::Same(left), Side::Column(right)) => {
                self.all(order, right.iter().map(|right| (left, factor.mul(*right))), pass, frame)
            }
        }
    }

    /// Whether all pairs of sides are in order; where known ones overlap, the
    /// condition is decided exactly for that record.
    #[inline]
    fn all(
        &self,
        order: Order,
        sides: impl Iterator<Item = (Interval, Interval)>,
        pass: Pass,
        frame: &mut Frame,
    ) -> Truth {
        let mut all = Truth::True;
        for (at, sides) in sides.enumerate() {
            let mut overlap = false;
            let mut holds = compared(order, sides, &mut overlap);
            if overlap {
                frame.set(pass.over.frame, RowId::new(at));
                holds = self.truth(pass.node, frame);
            }
            all = all.and(holds);
            if all == Truth::False {
                break;
            }
        }
        all
    }
}

fn all_among(column: &[ChoiceSet], allowed: ChoiceSet) -> Truth {
    let mut all = Truth::True;
    for words in column {
        all = all.and(words.among(allowed));
        if all == Truth::False {
            break;
        }
    }
    all
}
