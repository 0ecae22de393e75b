//! `every` over a list, column by column: where a part of its condition
//! compares one field with a constant, the whole column is run through at
//! once. All rows of all parts must hold, so the order does not matter.

use super::evaluate::{Evaluation, among, ordered, set_row};
use crate::ir::{Condition, Frame, Loop, Number, Operand, Order};
use crate::quantity::{Interval, Truth};

impl Evaluation<'_> {
    /// Whether `body` holds for every one of `len` rows, none left out.
    pub(crate) fn every_row(&self, over: Loop, len: u32, body: u32, frame: &mut Frame) -> Truth {
        match self.program.conditions.get(body as usize) {
            Some(Condition::And { start, len: parts }) => {
                let mut all = Truth::True;
                for part in self.program.arguments(*start, *parts) {
                    all = all.and(self.every_row(over, len, *part, frame));
                    if all == Truth::False {
                        break;
                    }
                }
                all
            }
            Some(Condition::Words(Operand::Field { list, column, frame: at }, allowed)) if *at == over.frame => {
                match self.words_column(*list, *column, len) {
                    Some(column) => all_among(column, *allowed),
                    None => self.by_rows(over, len, body, frame),
                }
            }
            Some(Condition::Compare { order, left, right }) => match self.numbers_column(over, *left, *right, len) {
                Some((column, limit)) => self.all_ordered(*order, column, limit, (over, *left, *right), frame),
                None => self.by_rows(over, len, body, frame),
            },
            _ => self.by_rows(over, len, body, frame),
        }
    }

    /// The first `len` words of a column.
    fn words_column(&self, list: u32, column: u32, len: u32) -> Option<&[u64]> {
        self.facts.lists.get(list as usize)?.words.get(column as usize)?.get(..len as usize)
    }

    /// A field of this loop on the left and a constant on the right, if that is what they are.
    fn numbers_column(&self, over: Loop, left: u32, right: u32, len: u32) -> Option<(&[Interval], Interval)> {
        let read = |node: u32| match self.program.numbers.get(node as usize) {
            Some(Number::Read(operand)) => Some(*operand),
            _ => None,
        };
        let Operand::Field { list, column, frame } = read(left)? else { return None };
        let Operand::Constant(limit) = read(right)? else { return None };
        let column = self.facts.lists.get(list as usize)?.numbers.get(column as usize)?.get(..len as usize)?;
        (frame == over.frame).then_some((column, *self.program.intervals.get(limit as usize)?))
    }

    fn all_ordered(
        &self,
        order: Order,
        column: &[Interval],
        limit: Interval,
        (over, left, right): (Loop, u32, u32),
        frame: &mut Frame,
    ) -> Truth {
        let mut all = Truth::True;
        for (row, value) in (0u32..).zip(column) {
            let mut holds = ordered(order, *value, limit);
            if holds == Truth::Undecided && !value.is_everything() {
                set_row(frame, over.frame, row);
                holds = self.compare_exactly(order, left, right, frame);
            }
            all = all.and(holds);
            if all == Truth::False {
                break;
            }
        }
        all
    }
}

fn all_among(column: &[u64], allowed: u64) -> Truth {
    let mut all = Truth::True;
    for words in column {
        all = all.and(among(*words, allowed));
        if all == Truth::False {
            break;
        }
    }
    all
}
