//! Numbers of a program, worked out twice over with one text: quickly as
//! floating-point intervals rounded outward, or exactly as rational ones.

use super::evaluate::Evaluation;
use crate::ir::{
    Aggregate, Calendar, Child, Frame, InStore, Key, KeyValue, Loop, Number, NumberId, Numbers, Operand, RowId, Run,
    Table, TableColumn, TableId,
};
use crate::quantity::{Date, ExactInterval, Interval, Truth};

/// The arithmetic both forms share. Every result contains the true one.
pub(crate) trait Arithmetic: Clone {
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
            Number::Lookup { table, column, keys } => self.lookup(table, column, keys, frame),
            Number::Aggregate(how, over, value, if_empty) => self.gather(how, over, value, if_empty, frame),
            Number::Mean(over, value, weight) => self.mean(over, value, weight, frame),
            Number::Count(over) => self.count(over, frame),
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

    /// Keys are compared exactly even on the fast_path way: a key that stands on
    /// a row must not fall beside it by rounding.
    fn lookup<N: Arithmetic>(&self, table: TableId, column: TableColumn, keys: Run<Key>, frame: &mut Frame) -> N {
        let Some(table) = self.program.tables.get(table) else { return N::everything() };
        let values: Vec<KeyValue> = self.program.keys.get(keys).iter().map(|key| self.key(*key, frame)).collect();
        N::from_range(Table::find(table, &values, column))
    }

    fn key(&self, key: Key, frame: &mut Frame) -> KeyValue {
        match key {
            Key::Words(operand) => KeyValue::Words(self.words(operand, frame)),
            Key::Text(operand) => KeyValue::Text(self.facts.string(self.text(operand, frame)).map(str::to_owned)),
            Key::Number(node) => KeyValue::Number(self.number::<ExactInterval>(node, frame)),
        }
    }

    /// Calls `each` for every record that is, or may be, among those meant.
    /// `None` if the list is not recorded, else the number of its records.
    fn records(&self, over: Loop, frame: &mut Frame, mut each: impl FnMut(&Self, &mut Frame, Truth)) -> Option<u32> {
        let len = self.len(over.list)?;
        for row in RowId::all(len) {
            frame.set(over.frame, row);
            let among = self.among(over, frame);
            if among != Truth::False {
                each(self, frame, among);
            }
        }
        Some(len)
    }

    fn gather<N: Arithmetic>(
        &self,
        how: Aggregate,
        over: Loop,
        value: NumberId,
        if_empty: Option<NumberId>,
        frame: &mut Frame,
    ) -> N {
        let (mut sum, mut open) = (N::whole(0), false);
        let (mut certain, mut possible): (Option<N>, Option<N>) = (None, None);
        let fold = |so_far: Option<N>, next: &N| {
            Some(so_far.map_or_else(
                || next.clone(),
                |so_far| match how {
                    Aggregate::Least => so_far.smaller_of(next),
                    Aggregate::Sum | Aggregate::Greatest => so_far.larger_of(next),
                },
            ))
        };
        let len = self.records(over, frame, |this, frame, among| {
            let next = this.number::<N>(value, frame);
            if how == Aggregate::Sum {
                sum = sum.plus(&if among == Truth::True { next } else { next.union(&N::whole(0)) });
                return;
            }
            open |= next.is_open();
            possible = fold(possible.take(), &next);
            if among == Truth::True {
                certain = fold(certain.take(), &next);
            }
        });
        match (len, how, certain, possible) {
            (None, ..) => N::everything(),
            // An empty list proves nothing, unless the author says what it comes to.
            (Some(0), ..) => if_empty.map_or_else(N::everything, |if_empty| self.number(if_empty, frame)),
            (Some(_), Aggregate::Sum, ..) => sum,
            (Some(_), ..) if open => N::everything(),
            (Some(_), _, Some(certain), Some(possible)) => certain.union(&possible),
            (Some(_), ..) => N::everything(),
        }
    }

    /// Worked out exactly on both ways: every weight stands above and below
    /// the line, so dividing one sum by the other would be far too wide.
    fn mean<N: Arithmetic>(&self, over: Loop, value: NumberId, weight: NumberId, frame: &mut Frame) -> N {
        let (mut rows, mut doubtful): (Vec<(ExactInterval, ExactInterval)>, bool) = (Vec::new(), false);
        self.records(over, frame, |this, frame, among| {
            rows.push((this.number(value, frame), this.number(weight, frame)));
            doubtful |= among != Truth::True;
        });
        if doubtful { N::everything() } else { N::from_range(super::mean::weighted_mean(&rows)) }
    }

    fn count<N: Arithmetic>(&self, over: Loop, frame: &mut Frame) -> N {
        let (mut certain, mut possible) = (0u32, 0u32);
        let len = self.records(over, frame, |_, _, among| {
            possible = possible.saturating_add(1);
            certain = certain.saturating_add(u32::from(among == Truth::True));
        });
        if len.is_none() { N::everything() } else { N::whole(certain).union(&N::whole(possible)) }
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
}
