//! Conditions decided: true for every possible value, false for none, else
//! undecided. A comparison that a floating-point interval cannot decide is
//! done again in exact numbers, unless a fact it needs is not recorded.

use super::cache::{Caches, Outcome};
use super::confirmation::ConfirmationRef;
use super::facts::{Column, Facts, ListValues, Text, Values};
use crate::ir::{
    Arena, ChoiceSet, ColumnId, Condition, ConditionId, ConstantId, Frame, ListId, Logged, Loop, Number, NumberId,
    Numbers, Operand, Order, Program, RowId, Sameness, SlotId, Texts, Words,
};
use crate::quantity::{Date, DateRange, Exact, ExactInterval, Interval, Truth};
use std::cell::Cell;

/// One evaluation of a program over one project, on one day.
#[derive(Debug)]
pub struct Evaluation<'a> {
    pub(crate) program: &'a Program,
    pub(crate) facts: &'a Facts,
    /// The values of facts that are looked at.
    pub(crate) values: &'a Values,
    pub(crate) today: Interval,
    pub(crate) day: DateRange,
    pub(crate) confirmations: &'a [ConfirmationRef<'a>],
    /// What was worked out before for these facts and this day.
    caches: Caches<'a>,
    /// A list that is taken to be whole, though nobody says so: what the word alone would show.
    as_if_whole: Option<ListId>,
    /// How many comparisons were done again exactly.
    pub(crate) exactly: Cell<u64>,
}

impl<'a> Evaluation<'a> {
    /// An evaluation for a day, or for some day of a month.
    #[must_use]
    pub fn new(program: &'a Program, facts: &'a Facts, day: DateRange) -> Self {
        // Days since 1970 are small whole numbers, which floating point holds exactly.
        let today = Interval::new(f64::from(day.first.days()), f64::from(day.last.days()));
        Self {
            program,
            facts,
            values: &facts.values,
            today,
            day,
            confirmations: &[],
            caches: Caches::default(),
            as_if_whole: None,
            exactly: Cell::new(0),
        }
    }

    /// The same, that looks up what was worked out before, for these facts and this day.
    pub(crate) fn with_caches(self, caches: Caches<'a>) -> Self {
        Self { caches, ..self }
    }

    /// The same as if somebody said that a list is whole, which nobody worked out before.
    pub(crate) fn if_whole(self, list: ListId) -> Self {
        Self { as_if_whole: Some(list), caches: Caches::default(), ..self }
    }

    /// The same if facts that nobody recorded, and that are none until a day ahead, were none.
    pub(crate) fn with_none_until(self) -> Self {
        Self { values: self.facts.until(), caches: Caches::default(), ..self }
    }

    /// What a node comes to, worked out once where it comes to the same.
    pub(crate) fn once<T: Outcome>(&self, same: Sameness, node: T::Node, work_out: impl FnOnce() -> T) -> T {
        let cache = match same {
            Sameness::Never => None,
            Sameness::OnADay => self.caches.of_day,
            Sameness::Always => self.caches.of_all_days,
        };
        match cache {
            Some(cache) => cache.once(node, work_out),
            None => work_out(),
        }
    }

    /// The day as an exact number of days.
    pub(crate) fn today_exact(&self) -> ExactInterval {
        let at = |date: Date| Some(Exact::from_int(i64::from(date.days())));
        ExactInterval::new(at(self.day.first), at(self.day.last))
    }

    /// How many comparisons were done again exactly.
    #[must_use]
    pub fn exact_comparisons(&self) -> u64 {
        self.exactly.get()
    }

    /// Decides a condition that stands in no loop.
    #[must_use]
    pub fn decide(&self, node: ConditionId) -> Truth {
        self.fast_path(self.program.rows.of_facts(node)).unwrap_or_else(|| self.truth(node, &mut Frame::default()))
    }

    /// Decides a condition of an item raised for one record; without one, all of it is unknown.
    #[must_use]
    pub fn decide_for(&self, node: ConditionId, row: Option<RowId>) -> Truth {
        self.holds(node, self.program.rows.of_records(node), &mut Frame::of(row))
    }

    /// The kinds of condition that most rules are made of stand here, so that
    /// deciding them carries none of the weight of the others.
    pub(crate) fn truth(&self, node: ConditionId, frame: &mut Frame) -> Truth {
        let Some(condition) = self.program.conditions.get(node) else { return Truth::Undecided };
        match *condition {
            Condition::And(parts) => {
                let mut all = Truth::True;
                for part in self.program.arguments.get(parts) {
                    all = all.and(self.truth(*part, frame));
                    if all == Truth::False {
                        break;
                    }
                }
                all
            }
            Condition::Or(parts) => {
                let mut any = Truth::False;
                for part in self.program.arguments.get(parts) {
                    any = any.or(self.truth(*part, frame));
                    if any == Truth::True {
                        break;
                    }
                }
                any
            }
            Condition::Words(operand, allowed) => self.words(operand, frame).among(allowed),
            Condition::Compare { order, left, right } => {
                let sides = (self.value(left, frame), self.value(right, frame));
                let by_intervals = ordered(order, sides.0, sides.1);
                let waits = |this: &Self| this.waits(left, sides.0, frame) || this.waits(right, sides.1, frame);
                if by_intervals != Truth::Undecided || waits(self) {
                    return by_intervals;
                }
                self.compare_exactly(order, left, right, frame)
            }
            _ => self.slow_path(node, condition, frame),
        }
    }

    /// A side of a comparison, most often a value by itself.
    #[inline]
    pub(crate) fn value(&self, node: NumberId, frame: &mut Frame) -> Interval {
        match self.program.numbers.get(node) {
            Some(Number::Read(operand)) => self.interval(*operand, frame),
            _ => self.number(node, frame),
        }
    }

    /// All other conditions.
    #[inline(never)]
    fn slow_path(&self, node: ConditionId, condition: &Condition, frame: &mut Frame) -> Truth {
        match *condition {
            Condition::And(_) | Condition::Or(_) | Condition::Words(..) | Condition::Compare { .. } => Truth::Undecided,
            Condition::Constant(truth) => truth,
            Condition::Not(part) => !self.truth(part, frame),
            Condition::Equal(left, right) => {
                let sides = (self.value(left, frame), self.value(right, frame));
                let by_intervals = sides.0.equal(sides.1);
                let waits = self.waits(left, sides.0, frame) || self.waits(right, sides.1, frame);
                if by_intervals == Truth::Undecided && !waits {
                    self.exactly.set(self.exactly.get().saturating_add(1));
                    return self.number::<ExactInterval>(left, frame).equal(&self.number(right, frame));
                }
                by_intervals
            }
            Condition::SameWords(a, b) => self.words(a, frame).same(self.words(b, frame)),
            Condition::SameText(a, b) => self.text(a, frame).same(self.text(b, frame)),
            Condition::SameLetters(a, b) => self.same_letters(self.text(a, frame), self.text(b, frame)),
            Condition::Fits(operand, pattern) => self.fits(operand, pattern, frame),
            Condition::Alike(parts) => self.alike(parts, frame),
            Condition::Absent(operand) => self.absent(operand, frame),
            Condition::Recorded(operand) => {
                if self.is_recorded(operand, frame) {
                    Truth::True
                } else {
                    Truth::Undecided
                }
            }
            Condition::Every(over, body) => self.once(over.same, node, || self.every(over, body, frame)),
            Condition::Some(over, body) => self.once(over.same, node, || self.some(over, body, frame)),
            Condition::WithinLast(date, span) => self.within_last(date, span, frame),
            Condition::After(later, earlier) => self.after(later, earlier, frame),
            Condition::SomebodyElse(person, than) => self.facts.is_somebody_else(self.text(person, frame), than),
            Condition::Confirmed(need) => self.confirmed(need, frame),
            // Without a log nothing is shown: undecided, never a guess.
            Condition::Logged(need) => {
                match (self.facts.logged.get(need).copied().flatten(), self.program.logged.get(need)) {
                    (Some(_), Some(Logged { since: None, .. })) => Truth::True,
                    (Some(from), Some(Logged { since, .. })) if self.is_after(DateRange::day(from), *since, frame) => {
                        Truth::True
                    }
                    _ => Truth::Undecided,
                }
            }
        }
    }

    /// Whether a day is certainly later than another; of one day nobody knows.
    fn after(&self, later: NumberId, earlier: NumberId, frame: &mut Frame) -> Truth {
        match self.truth_of(Order::More, later, earlier, frame) {
            // Not later: earlier, or of the same day.
            Truth::False => match self.truth_of(Order::Less, later, earlier, frame) {
                Truth::True => Truth::False,
                _ => Truth::Undecided,
            },
            truth => truth,
        }
    }

    fn truth_of(&self, order: Order, left: NumberId, right: NumberId, frame: &mut Frame) -> Truth {
        let (left, right): (ExactInterval, ExactInterval) = (self.number(left, frame), self.number(right, frame));
        match order {
            Order::Less | Order::AtMost => left.less(&right),
            Order::More | Order::AtLeast => right.less(&left),
        }
    }

    /// Whether all days that something may be of are after another day, if one is asked for.
    pub(crate) fn is_after(&self, days: DateRange, since: Option<NumberId>, frame: &mut Frame) -> bool {
        let Some(since) = since else { return true };
        let since: ExactInterval = self.number(since, frame);
        let first = Exact::from_int(i64::from(days.first.days()));
        since.less(&ExactInterval::point(first)) == Truth::True
    }

    #[cold]
    #[inline(never)]
    fn compare_exactly(&self, order: Order, left: NumberId, right: NumberId, frame: &mut Frame) -> Truth {
        self.exactly.set(self.exactly.get().saturating_add(1));
        let (left, right): (ExactInterval, ExactInterval) = (self.number(left, frame), self.number(right, frame));
        match order {
            Order::Less => left.less(&right),
            Order::AtMost => left.at_most(&right),
            Order::More => right.less(&left),
            Order::AtLeast => right.at_most(&left),
        }
    }

    /// Whether a number, of which the value is given, is a fact nobody
    /// recorded, or such a fact times another that is not zero, so that
    /// exactness cannot help.
    #[inline]
    fn waits(&self, node: NumberId, value: Interval, frame: &Frame) -> bool {
        let open = |value: Interval| value.is_everything() || value.is_absent();
        let read = |node: NumberId| match self.program.numbers.get(node) {
            Some(Number::Read(operand)) => Some(self.interval(*operand, frame)),
            _ => None,
        };
        let not_zero = |value: Interval| value.lo > 0.0 || value.hi < 0.0;
        open(value)
            && match self.program.numbers.get(node) {
                Some(Number::Read(_)) => true,
                Some(Number::Multiply(a, b)) => {
                    read(*a).zip(read(*b)).is_some_and(|(a, b)| open(a) && not_zero(b) || open(b) && not_zero(a))
                }
                _ => false,
            }
    }

    /// The value of an operand in one store: a slot, a constant, or a place in a column.
    #[inline]
    fn look<'v, S: Copy, T>(
        &'v self,
        operand: Operand<S>,
        frame: &Frame,
        slots: &'v Arena<SlotId<S>, T>,
        constants: &'v Arena<ConstantId<S>, T>,
        columns: impl Fn(&'v ListValues) -> &'v Arena<ColumnId<S>, Column<T>>,
    ) -> Option<&'v T> {
        match operand {
            Operand::Slot(slot) => slots.get(slot),
            Operand::Constant(constant) => constants.get(constant),
            Operand::Field { list, column, frame: at } => {
                columns(self.facts.lists.get(list)?).get(column)?.get(frame.row(at)?)
            }
        }
    }

    #[inline]
    pub(crate) fn interval(&self, operand: Operand<Numbers>, frame: &Frame) -> Interval {
        let found = self.look(operand, frame, &self.values.numbers, &self.program.intervals, |list| &list.numbers);
        found.copied().unwrap_or(Interval::EVERYTHING)
    }

    pub(crate) fn range(&self, operand: Operand<Numbers>, frame: &Frame) -> ExactInterval {
        let found = self.look(operand, frame, &self.values.exact, &self.program.ranges, |list| &list.exact);
        found.cloned().unwrap_or_else(ExactInterval::everything)
    }

    #[inline]
    pub(crate) fn words(&self, operand: Operand<Words>, frame: &Frame) -> ChoiceSet {
        let found = self.look(operand, frame, &self.values.words, &self.program.words, |list| &list.words);
        found.copied().unwrap_or(ChoiceSet::ANYTHING)
    }

    pub(crate) fn text(&self, operand: Operand<Texts>, frame: &Frame) -> Text {
        let found = match operand {
            Operand::Constant(constant) => return Text::of_constant(constant),
            Operand::Slot(slot) => self.values.texts.get(slot),
            Operand::Field { list, column, frame: at } => self
                .facts
                .lists
                .get(list)
                .and_then(|list| list.texts.get(column))
                .zip(frame.row(at))
                .and_then(|(column, row)| column.get(row)),
        };
        found.copied().unwrap_or(Text::Unknown)
    }

    fn every(&self, over: Loop, body: ConditionId, frame: &mut Frame) -> Truth {
        let len = self.len(over.list);
        if len == 0 {
            // An empty list proves nothing, whole or not.
            return Truth::Undecided;
        }
        let of_known = if over.condition.is_none() {
            self.every_row(over, len, body, frame)
        } else {
            self.by_rows(over, len, body, frame)
        };
        // Others may be there, of which nothing is known.
        if of_known == Truth::True && !self.is_whole(over.list) { Truth::Undecided } else { of_known }
    }

    /// Row by row: whatever the condition is.
    pub(crate) fn by_rows(&self, over: Loop, len: u32, body: ConditionId, frame: &mut Frame) -> Truth {
        let mut all = Truth::True;
        let row = self.program.rows.of_records(body);
        for at in RowId::all(len) {
            frame.set(over.frame, at);
            let holds = (!self.among(over, frame)).or(self.holds(body, row, frame));
            all = all.and(holds);
            if all == Truth::False {
                break;
            }
        }
        all
    }

    fn some(&self, over: Loop, body: ConditionId, frame: &mut Frame) -> Truth {
        let mut any = if self.is_whole(over.list) { Truth::False } else { Truth::Undecided };
        let row = self.program.rows.of_records(body);
        for at in RowId::all(self.len(over.list)) {
            frame.set(over.frame, at);
            any = any.or(self.among(over, frame).and(self.holds(body, row, frame)));
            if any == Truth::True {
                break;
            }
        }
        any
    }

    /// Whether the record that a loop stands at is one of those meant.
    #[inline]
    pub(crate) fn among(&self, over: Loop, frame: &mut Frame) -> Truth {
        match over.condition {
            None => Truth::True,
            Some(condition) => self.holds(condition, self.program.rows.of_records(condition), frame),
        }
    }

    /// How many records of a list are known.
    pub(crate) fn len(&self, list: ListId) -> u32 {
        self.facts.lists.get(list).map_or(0, |list| list.len)
    }

    /// For how many things a record stands.
    pub(crate) fn how_many(&self, list: ListId, row: RowId) -> u32 {
        self.facts.lists.get(list).and_then(|list| list.how_many.get(row)).copied().unwrap_or(1)
    }

    /// Whether the records known of a list are all there are.
    pub(crate) fn is_whole(&self, list: ListId) -> bool {
        self.as_if_whole == Some(list) || self.facts.lists.get(list).is_some_and(|list| list.whole)
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
