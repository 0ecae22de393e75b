//! Numbers of a program, worked out twice over with one text: quickly as
//! floating-point intervals rounded outward, or exactly as rational ones.

use super::cache::Outcome;
use super::evaluate::Evaluation;
use crate::ir::{
    Aggregate, Calendar, Child, Frame, InStore, Key, KeyValue, Loop, LoopId, Number, NumberId, Numbers, Operand, RowId,
    Run, Table, TableColumn, TableId,
};
use crate::quantity::{Date, ExactInterval, Interval, Truth};

/// The arithmetic both forms share. Every result contains the true one.
pub(crate) trait Arithmetic: Outcome<Node = NumberId> {
    fn read(evaluation: &Evaluation<'_>, operand: Operand<Numbers>, frame: &Frame) -> Self;
    fn today(evaluation: &Evaluation<'_>) -> Self;
    fn everything() -> Self;
    /// Whether it can be anything at all.
    fn is_open(&self) -> bool;
    /// Whether it is zero for certain.
    fn is_zero(&self) -> bool;
    fn whole(value: u32) -> Self;
    fn from_range(range: ExactInterval) -> Self;
    fn plus(&self, other: &Self) -> Self;
    fn minus(&self, other: &Self) -> Self;
    fn times(&self, other: &Self) -> Self;
    /// The divisor is not zero: the checker has seen to it.
    fn over(&self, other: &Self) -> Self;
    fn larger_of(&self, other: &Self) -> Self;
    fn smaller_of(&self, other: &Self) -> Self;
    fn absolute(&self) -> Self;
    fn square_root(&self) -> Self;
    fn union(&self, other: &Self) -> Self;
    /// First and last whole day; `None` if open to one side.
    fn days(&self) -> Option<(i32, i32)>;
    /// It, or anything above it.
    fn or_more(&self) -> Self;
    /// It, or anything below it.
    fn or_less(&self) -> Self;
    /// What of it is not below zero, where it is known that nothing is.
    fn not_negative(&self) -> Self;
}

impl Evaluation<'_> {
    /// Works out a number.
    pub(crate) fn number<N: Arithmetic>(&self, node: NumberId, frame: &mut Frame) -> N {
        let Some(number) = self.program.numbers.get(node) else { return N::everything() };
        match *number {
            Number::Read(operand) => N::read(self, operand, frame),
            Number::Today => N::today(self),
            Number::Add(a, b) => self.number::<N>(a, frame).plus(&self.number(b, frame)),
            Number::Subtract(a, b) => self.number::<N>(a, frame).minus(&self.number(b, frame)),
            Number::Multiply(a, b) => self.product(a, b, frame),
            Number::Divide(a, b) => known(self.number(a, frame), self.number(b, frame), N::over),
            Number::Larger(a, b) => known(self.number(a, frame), self.number(b, frame), N::larger_of),
            Number::Smaller(a, b) => known(self.number(a, frame), self.number(b, frame), N::smaller_of),
            Number::Absolute(a) => known(self.number(a, frame), N::whole(0), |a: &N, _| a.absolute()),
            Number::Root(a) => known(self.number(a, frame), N::whole(0), |a: &N, _| a.square_root()),
            Number::Shift(a, by) => shift(&self.number::<N>(a, frame), by),
            Number::Lookup { table, column, keys, same } => {
                self.once(same, node, || self.lookup(table, column, keys, frame))
            }
            Number::Aggregate(how, over, value, if_empty) => {
                self.once(over.same, node, || self.gather(how, over, value, if_empty, frame))
            }
            Number::Mean(over, value, weight) => self.once(over.same, node, || self.mean(over, value, weight, frame)),
            Number::Count(over) => self.once(over.same, node, || self.count(over, frame)),
        }
    }

    /// Zero times any number is zero, though nobody recorded it; not so
    /// where it may turn out to be none, or no number at all.
    fn product<N: Arithmetic>(&self, a: NumberId, b: NumberId, frame: &mut Frame) -> N {
        let (left, right): (N, N) = (self.number(a, frame), self.number(b, frame));
        if !left.is_open() && !right.is_open() {
            left.times(&right)
        } else if left.is_zero() && self.is_a_number(b) || right.is_zero() && self.is_a_number(a) {
            N::whole(0)
        } else {
            N::everything()
        }
    }

    /// Whether there is a number, whatever the facts turn out to be.
    pub(crate) fn is_a_number(&self, node: NumberId) -> bool {
        let Some(number) = self.program.numbers.get(node).copied() else { return false };
        match number {
            Number::Read(_)
            | Number::Add(..)
            | Number::Subtract(..)
            | Number::Multiply(..)
            | Number::Larger(..)
            | Number::Smaller(..)
            | Number::Absolute(_) => self.program.children_of_number(number).all(|child| match child {
                Child::Read(InStore::Numbers(operand)) => !self.program.may_be_absent(operand),
                Child::Number(node) => self.is_a_number(node),
                _ => false,
            }),
            // Not every table has a row, not every date a day, not every list a record.
            Number::Today
            | Number::Divide(..)
            | Number::Root(_)
            | Number::Shift(..)
            | Number::Lookup { .. }
            | Number::Aggregate(..)
            | Number::Mean(..)
            | Number::Count(_) => false,
        }
    }

    /// Whether a number cannot be below zero, whatever a record of the loop holds
    /// within the limits of its fields.
    fn never_negative(&self, node: NumberId, of: LoopId) -> bool {
        let Some(number) = self.program.numbers.get(node).copied() else { return false };
        match number {
            Number::Read(operand @ Operand::Field { frame, .. }) if frame == of => self.program.never_negative(operand),
            // The same for every record.
            Number::Read(operand) => {
                self.program.never_negative(operand) || self.interval(operand, &Frame::default()).lo >= 0.0
            }
            Number::Add(a, b) | Number::Multiply(a, b) | Number::Smaller(a, b) => {
                self.never_negative(a, of) && self.never_negative(b, of)
            }
            Number::Larger(a, b) => self.never_negative(a, of) || self.never_negative(b, of),
            Number::Absolute(_) => true,
            Number::Today
            | Number::Subtract(..)
            | Number::Divide(..)
            | Number::Root(_)
            | Number::Shift(..)
            | Number::Lookup { .. }
            | Number::Aggregate(..)
            | Number::Mean(..)
            | Number::Count(_) => false,
        }
    }

    /// Keys are compared exactly even where intervals are enough for all else: a key that stands on
    /// a row must not fall beside it by rounding.
    fn lookup<N: Arithmetic>(&self, table: TableId, column: TableColumn, keys: Run<Key>, frame: &mut Frame) -> N {
        let Some(table) = self.program.tables.get(table) else { return N::everything() };
        let values: Vec<KeyValue<'_>> = self.program.keys.get(keys).iter().map(|key| self.key(*key, frame)).collect();
        N::from_range(Table::find(table, &values, column))
    }

    fn key(&self, key: Key, frame: &mut Frame) -> KeyValue<'_> {
        match key {
            Key::Words(operand) => KeyValue::Words(self.words(operand, frame)),
            Key::Text(operand) => KeyValue::Text(self.facts.string(self.text(operand, frame))),
            Key::Number(node) => KeyValue::Number(self.number::<ExactInterval>(node, frame)),
        }
    }

    /// Calls `each` for every record that is, or may be, among those meant, with the number of things it stands for.
    fn records(&self, over: Loop, frame: &mut Frame, mut each: impl FnMut(&Self, &mut Frame, Truth, u32)) {
        for row in RowId::all(self.len(over.list)) {
            frame.set(over.frame, row);
            let among = self.among(over, frame);
            if among != Truth::False {
                each(self, frame, among, self.how_many(over.list, row));
            }
        }
    }

    fn gather<N: Arithmetic>(
        &self,
        how: Aggregate,
        over: Loop,
        value: NumberId,
        if_empty: Option<NumberId>,
        frame: &mut Frame,
    ) -> N {
        let (len, whole) = (self.len(over.list), self.is_whole(over.list));
        if whole && len == 0 {
            // An empty list proves nothing, unless the author says what it comes to.
            return if_empty.map_or_else(N::everything, |if_empty| self.number(if_empty, frame));
        }
        match how {
            Aggregate::Sum => {
                let sum: N = self.sum(over, value, frame);
                match if_empty {
                    // There may be none, which comes to what the author says, or to nothing.
                    Some(if_empty) if len == 0 => sum.union(&self.number(if_empty, frame)),
                    None if len == 0 => N::everything(),
                    _ => sum,
                }
            }
            Aggregate::Least | Aggregate::Greatest => self.extreme(how == Aggregate::Least, over, value, frame),
        }
    }

    /// Of records nobody knows something is known only where no term can be negative.
    fn sum<N: Arithmetic>(&self, over: Loop, value: NumberId, frame: &mut Frame) -> N {
        let whole = self.is_whole(over.list);
        let from_zero = self.is_a_number(value) && self.never_negative(value, over.frame);
        if !whole && !from_zero {
            return N::everything();
        }
        let mut sum = N::whole(0);
        self.records(over, frame, |this, frame, among, how_many| {
            let term = this.number::<N>(value, frame);
            let term = if how_many == 1 || term.is_open() { term } else { term.times(&N::whole(how_many)) };
            let term = if from_zero { term.not_negative() } else { term };
            sum = sum.plus(&if among == Truth::True { term } else { term.union(&N::whole(0)) });
        });
        if whole { sum } else { sum.or_more() }
    }

    fn extreme<N: Arithmetic>(&self, least: bool, over: Loop, value: NumberId, frame: &mut Frame) -> N {
        let whole = self.is_whole(over.list);
        let (mut certain, mut possible, mut open): (Option<N>, Option<N>, bool) = (None, None, false);
        let fold = |so_far: Option<N>, next: &N| {
            let beyond = |so_far: N| if least { so_far.smaller_of(next) } else { so_far.larger_of(next) };
            Some(so_far.map_or_else(|| next.clone(), beyond))
        };
        self.records(over, frame, |this, frame, among, _| {
            let next = this.number::<N>(value, frame);
            open |= next.is_open();
            possible = fold(possible.take(), &next);
            if among == Truth::True {
                certain = fold(certain.take(), &next);
            }
        });
        // A value of which nobody knows whether it is a number at all, of a record known or not.
        if (open || !whole) && !self.is_a_number(value) {
            return N::everything();
        }
        match (certain, possible) {
            (Some(certain), Some(_)) if !whole => {
                if least {
                    certain.or_less()
                } else {
                    certain.or_more()
                }
            }
            (Some(certain), Some(possible)) => certain.union(&possible),
            _ => N::everything(),
        }
    }

    /// Worked out exactly on both ways: every weight stands above and below
    /// the line, so dividing one sum by the other would be far too wide.
    fn mean<N: Arithmetic>(&self, over: Loop, value: NumberId, weight: NumberId, frame: &mut Frame) -> N {
        let (mut rows, mut doubtful): (Vec<(ExactInterval, ExactInterval)>, bool) = (Vec::new(), false);
        self.records(over, frame, |this, frame, among, how_many| {
            let weight: ExactInterval = this.number(weight, frame);
            let weight = if how_many == 1 { weight } else { weight.times(&ExactInterval::whole(how_many)) };
            rows.push((this.number(value, frame), weight));
            doubtful |= among != Truth::True;
        });
        if doubtful || !self.is_whole(over.list) {
            N::everything()
        } else {
            N::from_range(super::mean::weighted_mean(&rows))
        }
    }

    fn count<N: Arithmetic>(&self, over: Loop, frame: &mut Frame) -> N {
        let (mut certain, mut possible) = (0u32, 0u32);
        self.records(over, frame, |_, _, among, how_many| {
            possible = possible.saturating_add(how_many);
            certain = certain.saturating_add(if among == Truth::True { how_many } else { 0 });
        });
        if self.is_whole(over.list) {
            N::whole(certain).union(&N::whole(possible))
        } else {
            N::whole(certain).or_more()
        }
    }
}

/// What nobody recorded may also be absent, so nothing follows from it: not
/// even that its size is no less than zero.
#[inline]
fn known<N: Arithmetic>(a: N, b: N, with: impl Fn(&N, &N) -> N) -> N {
    if a.is_open() || b.is_open() { N::everything() } else { with(&a, &b) }
}

/// A date moved along the calendar; moving never changes the order of dates,
/// so the ends of an interval stay its ends.
fn shift<N: Arithmetic>(from: &N, by: Calendar) -> N {
    let moved = |days: i32| by.after(Date::from_days(days));
    let Some((first, last)) = from.days() else { return N::everything() };
    match (moved(first), moved(last)) {
        (Some(first), Some(last)) => {
            let day = |n: i32| N::from_range(ExactInterval::point(crate::quantity::Exact::from_int(i64::from(n))));
            day(first.first.days()).union(&day(last.last.days()))
        }
        _ => N::everything(),
    }
}

impl Arithmetic for Interval {
    #[inline]
    fn read(evaluation: &Evaluation<'_>, operand: Operand<Numbers>, frame: &Frame) -> Self {
        evaluation.interval(operand, frame)
    }
    fn today(evaluation: &Evaluation<'_>) -> Self {
        evaluation.today
    }
    fn everything() -> Self {
        Self::EVERYTHING
    }
    fn is_open(&self) -> bool {
        self.is_everything()
    }
    fn is_zero(&self) -> bool {
        Self::equal(*self, Self::point(0.0)) == Truth::True
    }
    fn whole(value: u32) -> Self {
        Self::point(f64::from(value))
    }
    fn from_range(range: ExactInterval) -> Self {
        range.to_interval()
    }
    fn plus(&self, other: &Self) -> Self {
        self.add(*other)
    }
    fn minus(&self, other: &Self) -> Self {
        self.sub(*other)
    }
    fn times(&self, other: &Self) -> Self {
        self.mul(*other)
    }
    fn over(&self, other: &Self) -> Self {
        self.div_by_nonzero(*other)
    }
    fn larger_of(&self, other: &Self) -> Self {
        self.larger(*other)
    }
    fn smaller_of(&self, other: &Self) -> Self {
        self.smaller(*other)
    }
    fn absolute(&self) -> Self {
        self.abs()
    }
    fn square_root(&self) -> Self {
        self.root()
    }
    fn union(&self, other: &Self) -> Self {
        self.hull(*other)
    }
    fn days(&self) -> Option<(i32, i32)> {
        Interval::days(*self)
    }
    fn or_more(&self) -> Self {
        Self::new(self.lo, f64::INFINITY)
    }
    fn or_less(&self) -> Self {
        Self::new(f64::NEG_INFINITY, self.hi)
    }
    fn not_negative(&self) -> Self {
        Self::new(self.lo.max(0.0), self.hi.max(0.0))
    }
}

impl Arithmetic for ExactInterval {
    fn read(evaluation: &Evaluation<'_>, operand: Operand<Numbers>, frame: &Frame) -> Self {
        evaluation.range(operand, frame)
    }
    fn today(evaluation: &Evaluation<'_>) -> Self {
        evaluation.today_exact()
    }
    fn everything() -> Self {
        ExactInterval::everything()
    }
    fn is_open(&self) -> bool {
        self.is_everything()
    }
    fn is_zero(&self) -> bool {
        self.as_point().is_some_and(|value| value.signum() == 0)
    }
    fn whole(value: u32) -> Self {
        Self::point(crate::quantity::Exact::from_int(i64::from(value)))
    }
    fn from_range(range: ExactInterval) -> Self {
        range
    }
    fn plus(&self, other: &Self) -> Self {
        self.add(other)
    }
    fn minus(&self, other: &Self) -> Self {
        self.sub(other)
    }
    fn times(&self, other: &Self) -> Self {
        self.mul(other)
    }
    fn over(&self, other: &Self) -> Self {
        self.div_by_nonzero(other)
    }
    fn larger_of(&self, other: &Self) -> Self {
        self.larger(other)
    }
    fn smaller_of(&self, other: &Self) -> Self {
        self.smaller(other)
    }
    fn absolute(&self) -> Self {
        self.abs()
    }
    fn square_root(&self) -> Self {
        self.root()
    }
    fn union(&self, other: &Self) -> Self {
        self.hull(other)
    }
    fn days(&self) -> Option<(i32, i32)> {
        ExactInterval::days(self)
    }
    fn or_more(&self) -> Self {
        Self::new(self.lo().cloned(), None)
    }
    fn or_less(&self) -> Self {
        Self::new(None, self.hi().cloned())
    }
    fn not_negative(&self) -> Self {
        self.larger(&Self::whole(0))
    }
}
