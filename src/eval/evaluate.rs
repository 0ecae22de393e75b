//! Conditions decided: true for every possible value, false for none, else
//! undecided. A comparison that a floating-point interval cannot decide is
//! done again in exact numbers, unless a fact it needs is not recorded.

use super::conditions::{same_text, same_words};
use super::facts::{Facts, ListValues, UNKNOWN_TEXT};
use crate::ir::{ABSENT_WORD, Condition, Frame, Loop, NO_NODE, Number, Operand, Order, Program};
use crate::quantity::{Date, DateRange, Exact, Interval, Range, Truth};
use std::cell::Cell;

/// A person's word, as far as the evaluator needs it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Word {
    /// The role, by place.
    pub(crate) role: u8,
    /// The days it may have been given on.
    pub(crate) on: DateRange,
    /// Whether it is so.
    pub(crate) holds: bool,
    /// Which of the record's confirmations it is.
    pub(crate) at: usize,
}

/// One evaluation of a program over one project, on one day.
#[derive(Debug)]
pub struct Evaluation<'a> {
    pub(crate) program: &'a Program,
    pub(crate) facts: &'a Facts,
    pub(crate) today: Interval,
    pub(crate) day: DateRange,
    pub(crate) confirmations: &'a [Word],
    /// How many comparisons were done again exactly.
    pub(crate) exactly: Cell<u64>,
}

impl<'a> Evaluation<'a> {
    /// An evaluation for a day, or for some day of a month.
    #[must_use]
    pub fn new(program: &'a Program, facts: &'a Facts, day: DateRange) -> Self {
        // Days since 1970 are small whole numbers, which floating point holds exactly.
        let today = Interval::new(f64::from(day.first.days()), f64::from(day.last.days()));
        Self { program, facts, today, day, confirmations: &[], exactly: Cell::new(0) }
    }

    /// The day as an exact number of days.
    pub(crate) fn today_exact(&self) -> Range {
        let at = |date: Date| Some(Exact::from_int(i64::from(date.days())));
        Range::new(at(self.day.first), at(self.day.last))
    }

    /// How many comparisons were done again exactly.
    #[must_use]
    pub fn exact_comparisons(&self) -> u64 {
        self.exactly.get()
    }

    /// Decides a condition that stands in no loop.
    #[must_use]
    pub fn decide(&self, node: u32) -> Truth {
        self.quick(self.program.quick(node)).unwrap_or_else(|| self.truth(node, &mut Frame::default()))
    }

    /// Decides a condition of an item raised for one record.
    #[must_use]
    pub fn decide_for(&self, node: u32, row: u32) -> Truth {
        let mut frame = Frame::default();
        if let Some(first) = frame.first_mut() {
            *first = row;
        }
        self.truth(node, &mut frame)
    }

    /// The kinds of condition that most rules are made of stand here, so that
    /// deciding them carries none of the weight of the others.
    pub(crate) fn truth(&self, node: u32, frame: &mut Frame) -> Truth {
        let Some(condition) = self.program.conditions.get(node as usize) else { return Truth::Undecided };
        match *condition {
            Condition::And { start, len } => {
                let mut all = Truth::True;
                for part in self.program.arguments(start, len) {
                    all = all.and(self.truth(*part, frame));
                    if all == Truth::False {
                        break;
                    }
                }
                all
            }
            Condition::Or { start, len } => {
                let mut any = Truth::False;
                for part in self.program.arguments(start, len) {
                    any = any.or(self.truth(*part, frame));
                    if any == Truth::True {
                        break;
                    }
                }
                any
            }
            Condition::Words(Operand::Slot(slot), allowed) => {
                let words = self.facts.values.words.get(slot as usize);
                among(words.copied().unwrap_or(u64::MAX), allowed)
            }
            Condition::CompareConstant { order, slot, constant, sides } => {
                let left = self.interval(Operand::Slot(slot), frame);
                let right = self.interval(Operand::Constant(constant), frame);
                self.settle(order, left, right, sides, frame)
            }
            Condition::CompareScaled { order, slot, sides } => {
                let &[factor, other, ..] = self.program.arguments(sides, 4) else { return Truth::Undecided };
                let left = self.interval(Operand::Slot(slot), frame);
                let right =
                    self.interval(Operand::Constant(factor), frame).mul(self.interval(Operand::Slot(other), frame));
                self.settle(order, left, right, sides.saturating_add(2), frame)
            }
            _ => self.seldom(condition, frame),
        }
    }

    /// All other conditions.
    #[inline(never)]
    fn seldom(&self, condition: &Condition, frame: &mut Frame) -> Truth {
        match *condition {
            Condition::And { .. }
            | Condition::Or { .. }
            | Condition::CompareConstant { .. }
            | Condition::CompareScaled { .. } => Truth::Undecided,
            Condition::Words(operand, allowed) => among(self.words(operand, frame), allowed),
            Condition::Compare { order, left, right } => {
                let quick = ordered(order, self.number(left, frame), self.number(right, frame));
                if quick == Truth::Undecided { self.compare_exactly(order, left, right, frame) } else { quick }
            }
            Condition::Constant(truth) => truth,
            Condition::Not(part) => !self.truth(part, frame),
            Condition::Equal(left, right) => {
                let quick = self.number::<Interval>(left, frame).equal(self.number(right, frame));
                if quick == Truth::Undecided && !self.waits(left, frame) && !self.waits(right, frame) {
                    self.exactly.set(self.exactly.get().saturating_add(1));
                    return self.number::<Range>(left, frame).equal(&self.number(right, frame));
                }
                quick
            }
            Condition::SameWords(a, b) => same_words(self.words(a, frame), self.words(b, frame)),
            Condition::SameText(a, b) => same_text(self.text(a, frame), self.text(b, frame)),
            Condition::SameLetters(a, b) => self.same_letters(self.text(a, frame), self.text(b, frame)),
            Condition::Fits(operand, pattern) => self.fits(operand, pattern, frame),
            Condition::Alike { start, len } => self.alike(start, len, frame),
            Condition::Absent(store, operand) => self.absent(store, operand, frame),
            Condition::Recorded(store, operand) => {
                if self.is_recorded(store, operand, frame) {
                    Truth::True
                } else {
                    Truth::Undecided
                }
            }
            Condition::Every(over, body) => self.every(over, body, frame),
            Condition::Some(over, body) => self.some(over, body, frame),
            Condition::WithinLast(date, span) => self.within_last(date, span, frame),
            Condition::Confirmed { roles, about } => self.confirmed(roles, about),
            // Without a log nothing is shown: undecided, never a guess.
            Condition::Logged(n) => self.facts.logged.get(n as usize).copied().unwrap_or(Truth::Undecided),
        }
    }

    /// The end of a quick comparison: exact only where both sides are known and overlap.
    #[inline]
    fn settle(&self, order: Order, left: Interval, right: Interval, sides: u32, frame: &mut Frame) -> Truth {
        let quick = ordered(order, left, right);
        if quick != Truth::Undecided || left.is_everything() || right.is_everything() {
            return quick;
        }
        let &[left, right] = self.program.arguments(sides, 2) else { return quick };
        self.compare_exactly(order, left, right, frame)
    }

    #[cold]
    #[inline(never)]
    pub(crate) fn compare_exactly(&self, order: Order, left: u32, right: u32, frame: &mut Frame) -> Truth {
        if self.waits(left, frame) || self.waits(right, frame) {
            return Truth::Undecided;
        }
        self.exactly.set(self.exactly.get().saturating_add(1));
        let (left, right): (Range, Range) = (self.number(left, frame), self.number(right, frame));
        match order {
            Order::Less => left.less(&right),
            Order::AtMost => left.at_most(&right),
            Order::More => right.less(&left),
            Order::AtLeast => right.at_most(&left),
        }
    }

    /// Whether a number is a fact nobody recorded, so that exactness cannot help.
    fn waits(&self, node: u32, frame: &Frame) -> bool {
        match self.program.numbers.get(node as usize) {
            Some(Number::Read(operand)) => {
                let value = self.interval(*operand, frame);
                value.is_everything() || value.is_absent()
            }
            _ => false,
        }
    }

    /// The value of an operand in one store: a slot, a constant, or a place in a column.
    #[inline]
    fn look<'v, T>(
        &'v self,
        operand: Operand,
        frame: &Frame,
        slots: &'v [T],
        constants: &'v [T],
        columns: impl Fn(&'v ListValues) -> &'v [Vec<T>],
    ) -> Option<&'v T> {
        match operand {
            Operand::Slot(slot) => slots.get(slot as usize),
            Operand::Constant(n) => constants.get(n as usize),
            Operand::Field { list, column, frame: at } => {
                let list = self.facts.lists.get(list as usize)?;
                columns(list).get(column as usize)?.get(row(frame, at))
            }
        }
    }

    #[inline]
    pub(crate) fn interval(&self, operand: Operand, frame: &Frame) -> Interval {
        let found =
            self.look(operand, frame, &self.facts.values.numbers, &self.program.intervals, |list| &list.numbers);
        found.copied().unwrap_or(Interval::EVERYTHING)
    }

    pub(crate) fn range(&self, operand: Operand, frame: &Frame) -> Range {
        let found = self.look(operand, frame, &self.facts.values.exact, &self.program.ranges, |list| &list.exact);
        found.cloned().unwrap_or_else(Range::everything)
    }

    #[inline]
    pub(crate) fn words(&self, operand: Operand, frame: &Frame) -> u64 {
        let found = self.look(operand, frame, &self.facts.values.words, &self.program.words, |list| &list.words);
        found.copied().unwrap_or(u64::MAX)
    }

    pub(crate) fn text(&self, operand: Operand, frame: &Frame) -> u32 {
        match operand {
            Operand::Constant(n) => n,
            Operand::Slot(slot) => self.facts.values.texts.get(slot as usize).copied().unwrap_or(UNKNOWN_TEXT),
            Operand::Field { list, column, frame: at } => self
                .facts
                .lists
                .get(list as usize)
                .and_then(|list| list.texts.get(column as usize))
                .and_then(|column| column.get(row(frame, at)))
                .copied()
                .unwrap_or(UNKNOWN_TEXT),
        }
    }

    fn every(&self, over: Loop, body: u32, frame: &mut Frame) -> Truth {
        let Some(len) = self.len(over.list) else { return Truth::Undecided };
        if len == 0 {
            // An empty list proves nothing.
            return Truth::Undecided;
        }
        if over.condition == NO_NODE {
            self.every_row(over, len, body, frame)
        } else {
            self.by_rows(over, len, body, frame)
        }
    }

    /// Row by row: whatever the condition is.
    pub(crate) fn by_rows(&self, over: Loop, len: u32, body: u32, frame: &mut Frame) -> Truth {
        let mut all = Truth::True;
        for at in 0..len {
            set_row(frame, over.frame, at);
            let holds = (!self.among(over, frame)).or(self.truth(body, frame));
            all = all.and(holds);
            if all == Truth::False {
                break;
            }
        }
        all
    }

    fn some(&self, over: Loop, body: u32, frame: &mut Frame) -> Truth {
        let Some(len) = self.len(over.list) else { return Truth::Undecided };
        let mut any = Truth::False;
        for at in 0..len {
            set_row(frame, over.frame, at);
            any = any.or(self.among(over, frame).and(self.truth(body, frame)));
            if any == Truth::True {
                break;
            }
        }
        any
    }

    #[inline]
    pub(crate) fn among(&self, over: Loop, frame: &mut Frame) -> Truth {
        if over.condition == NO_NODE { Truth::True } else { self.truth(over.condition, frame) }
    }

    pub(crate) fn len(&self, list: u32) -> Option<u32> {
        self.facts.lists.get(list as usize)?.len
    }
}

#[inline]
fn row(frame: &Frame, at: u8) -> usize {
    frame.get(usize::from(at)).copied().unwrap_or(u32::MAX) as usize
}

#[inline]
pub(crate) fn set_row(frame: &mut Frame, at: u8, row: u32) {
    if let Some(place) = frame.get_mut(usize::from(at)) {
        *place = row;
    }
}

#[inline]
pub(crate) fn ordered(order: Order, left: Interval, right: Interval) -> Truth {
    match order {
        Order::Less => left.less(right),
        Order::AtMost => left.at_most(right),
        Order::More => right.less(left),
        Order::AtLeast => right.at_most(left),
    }
}

/// Whether the possible words all, or none, are among the allowed ones.
/// A comparison with absence is undecided, unless absence is what is asked for.
#[inline]
pub(crate) fn among(possible: u64, allowed: u64) -> Truth {
    if possible & !allowed == 0 {
        Truth::True
    } else if possible & (allowed | ABSENT_WORD) == 0 {
        Truth::False
    } else {
        Truth::Undecided
    }
}
