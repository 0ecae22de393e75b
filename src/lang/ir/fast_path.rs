//! The fast path: plain conditions once more, as rows of tests without
//! branches. Most rules are a few comparisons of facts or fields with
//! constants and with each other, joined by `and` with an `or` here and there.
//! Deciding them in one sweep costs less than asking after each part whether
//! the rest still matters.
//!
//! Every comparison of a row is brought to the form of a value against a
//! constant, a value, or a constant factor times a value.

use super::{
    Arena, Child, ChoiceSet, Condition, ConditionId, ConstantId, Number, NumberId, Numbers, Operand, Order, Program,
    SlotId, TestId, Words,
};
use crate::quantity::ExactInterval;
use std::fmt::Debug;

/// Where the values of a row come from.
pub trait Site {
    /// A number.
    type Number: Copy + Debug + PartialEq;
    /// Words.
    type Words: Copy + Debug + PartialEq;

    /// A number that is no constant, if it can be read here.
    fn number(operand: Operand<Numbers>) -> Option<Self::Number>;
    /// Words, if they can be read here.
    fn words(operand: Operand<Words>) -> Option<Self::Words>;
}

/// From facts alone: the row of an item that is judged once.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum OfFacts {}

/// From facts and from fields of the records that loops stand at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum OfRecords {}

impl Site for OfFacts {
    type Number = SlotId<Numbers>;
    type Words = SlotId<Words>;

    fn number(operand: Operand<Numbers>) -> Option<Self::Number> {
        if let Operand::Slot(slot) = operand { Some(slot) } else { None }
    }

    fn words(operand: Operand<Words>) -> Option<Self::Words> {
        if let Operand::Slot(slot) = operand { Some(slot) } else { None }
    }
}

impl Site for OfRecords {
    type Number = Operand<Numbers>;
    type Words = Operand<Words>;

    fn number(operand: Operand<Numbers>) -> Option<Self::Number> {
        if let Operand::Constant(_) = operand { None } else { Some(operand) }
    }

    fn words(operand: Operand<Words>) -> Option<Self::Words> {
        Some(operand)
    }
}

/// One comparison, and how it joins the next.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Test<S: Site> {
    /// Words among the allowed.
    Words {
        /// What ends with it.
        end: End,
        /// The words.
        value: S::Words,
        /// The words allowed.
        allowed: ChoiceSet,
    },
    /// A value against a constant.
    Constant {
        /// What ends with it.
        end: End,
        /// The ordering.
        order: Order,
        /// The value on the left.
        left: S::Number,
        /// The constant on the right.
        right: ConstantId<Numbers>,
    },
    /// A value against a value.
    Values {
        /// What ends with it.
        end: End,
        /// The ordering.
        order: Order,
        /// The value on the left.
        left: S::Number,
        /// The value on the right.
        right: S::Number,
    },
    /// A value against a constant times a value.
    Scaled {
        /// What ends with it.
        end: End,
        /// The ordering.
        order: Order,
        /// The value on the left.
        left: S::Number,
        /// The constant. It is not zero: zero times what is not known is no unknown.
        factor: ConstantId<Numbers>,
        /// The value on the right.
        right: S::Number,
    },
}

/// What ends with a test.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// Nothing: `or` the next one.
    Nothing,
    /// A part of the whole: `and` the next part.
    Part,
    /// The whole.
    Whole,
}

impl<S: Site> Test<S> {
    fn end_mut(&mut self) -> &mut End {
        match self {
            Self::Words { end, .. }
            | Self::Constant { end, .. }
            | Self::Values { end, .. }
            | Self::Scaled { end, .. } => end,
        }
    }

    /// What ends with it.
    pub fn end(&self) -> End {
        match self {
            Self::Words { end, .. }
            | Self::Constant { end, .. }
            | Self::Values { end, .. }
            | Self::Scaled { end, .. } => *end,
        }
    }
}

/// Rows of tests, each found by its condition.
#[derive(Debug, Clone)]
struct Layout<S: Site> {
    tests: Arena<TestId, Test<S>>,
    /// Where the row of each condition begins, if it has one.
    begins: Arena<ConditionId, Option<TestId>>,
}

impl<S: Site> Default for Layout<S> {
    fn default() -> Self {
        Self { tests: Arena::default(), begins: Arena::default() }
    }
}

impl<S: Site> Layout<S> {
    fn shrink(&mut self) {
        self.tests.shrink();
        self.begins.shrink();
    }

    /// The row of a condition and what comes after it; empty if it has none.
    #[inline]
    fn row(&self, node: ConditionId) -> &[Test<S>] {
        match self.begins.get(node) {
            Some(Some(begin)) => self.tests.from(*begin),
            _ => &[],
        }
    }
}

/// The rows of a program.
#[derive(Debug, Clone, Default)]
pub struct Rows {
    of_facts: Layout<OfFacts>,
    of_records: Layout<OfRecords>,
}

impl Rows {
    /// The row by which a condition that stands in no loop is decided, and what
    /// comes after it; empty if it has none.
    #[inline]
    pub fn of_facts(&self, node: ConditionId) -> &[Test<OfFacts>] {
        self.of_facts.row(node)
    }

    /// The same for a condition that stands in a loop.
    #[inline]
    pub fn of_records(&self, node: ConditionId) -> &[Test<OfRecords>] {
        self.of_records.row(node)
    }
}

impl Program {
    /// Lays out the rows of these conditions, where they are plain enough:
    /// those decided once, and those decided for each record; and of what loops
    /// ask of each record. Whoever changes a condition afterwards lays them out again.
    pub fn lay_out(
        &mut self,
        once: impl IntoIterator<Item = ConditionId>,
        per_record: impl IntoIterator<Item = ConditionId>,
    ) {
        let mut rows = Rows::default();
        for node in once {
            self.row(node, &mut rows.of_facts);
        }
        for node in per_record.into_iter().chain(self.asked_of_records()) {
            self.row(node, &mut rows.of_records);
        }
        rows.of_facts.shrink();
        rows.of_records.shrink();
        self.rows = rows;
    }

    /// What loops ask of each record. `every` asks each part by itself, so that
    /// a plain one can be run through all records at once.
    fn asked_of_records(&self) -> Vec<ConditionId> {
        let mut asked = Vec::new();
        for condition in &self.conditions {
            if let Condition::Every(over, body) | Condition::Some(over, body) = *condition {
                asked.extend(over.condition);
                if matches!(condition, Condition::Every(..)) && over.condition.is_none() {
                    self.parts(body, &mut asked);
                } else {
                    asked.push(body);
                }
            }
        }
        for number in &self.numbers {
            if let Number::Aggregate(..) | Number::Mean(..) | Number::Count(_) = number {
                asked.extend(self.children_of_number(*number).filter_map(|child| match child {
                    Child::Records(over) => over.condition,
                    _ => None,
                }));
            }
        }
        asked
    }

    /// Adds the parts that must all hold.
    fn parts(&self, node: ConditionId, into: &mut Vec<ConditionId>) {
        match self.conditions.get(node) {
            Some(Condition::And(parts)) => {
                self.arguments.get(*parts).iter().for_each(|part| self.parts(*part, into));
            }
            _ => into.push(node),
        }
    }

    /// Lays out one row, unless it is there already or the condition is not plain.
    fn row<S: Site>(&mut self, node: ConditionId, layout: &mut Layout<S>) {
        if matches!(layout.begins.get(node), Some(Some(_))) {
            return;
        }
        let mut tests = Vec::new();
        let plain = self.all_of(node, &mut tests);
        let Some(last) = tests.last_mut().filter(|_| plain.is_some()) else { return };
        *last.end_mut() = End::Whole;
        let begin = layout.tests.next();
        tests.into_iter().for_each(|test| {
            layout.tests.push(test);
        });
        layout.begins.reach(node, None);
        layout.begins.set(node, Some(begin));
    }

    /// Adds the parts of a condition; `None` if one is not plain.
    fn all_of<S: Site>(&mut self, node: ConditionId, into: &mut Vec<Test<S>>) -> Option<()> {
        match *self.conditions.get(node)? {
            Condition::And(parts) => {
                let parts = self.arguments.get(parts).to_vec();
                parts.into_iter().try_for_each(|part| self.all_of(part, into))
            }
            _ => {
                self.any_of(node, into)?;
                *into.last_mut()?.end_mut() = End::Part;
                Some(())
            }
        }
    }

    /// Adds tests of which one must hold.
    fn any_of<S: Site>(&mut self, node: ConditionId, into: &mut Vec<Test<S>>) -> Option<()> {
        let end = End::Nothing;
        into.push(match *self.conditions.get(node)? {
            Condition::Or(parts) => {
                let parts = self.arguments.get(parts).to_vec();
                // Of no parts none holds, which no row can say.
                parts.first()?;
                return parts.into_iter().try_for_each(|part| self.any_of(part, into));
            }
            Condition::Words(operand, allowed) => Test::Words { end, value: S::words(operand)?, allowed },
            Condition::Compare { order, left, right } => {
                let sides = (self.side::<S>(left)?, self.side::<S>(right)?);
                self.comparison(order, sides)?
            }
            _ => return None,
        });
        Some(())
    }

    /// A side of a comparison; `None` if it is not plain.
    fn side<S: Site>(&self, number: NumberId) -> Option<Side<S>> {
        match *self.numbers.get(number)? {
            Number::Read(Operand::Constant(constant)) => Some(Side::Constant(constant)),
            Number::Read(operand) => S::number(operand).map(Side::Value),
            Number::Multiply(a, b) => match (self.side::<S>(a)?, self.side::<S>(b)?) {
                (Side::Constant(factor), Side::Value(value)) | (Side::Value(value), Side::Constant(factor)) => {
                    let zero = self.ranges.get(factor)?.as_point().is_some_and(|factor| factor.signum() == 0);
                    (!zero).then_some(Side::Scaled(factor, value))
                }
                _ => None,
            },
            _ => None,
        }
    }

    /// A comparison in one of the forms that tests have.
    fn comparison<S: Site>(&mut self, order: Order, sides: (Side<S>, Side<S>)) -> Option<Test<S>> {
        let end = End::Nothing;
        Some(match sides {
            (Side::Value(left), Side::Constant(right)) => Test::Constant { end, order, left, right },
            (Side::Value(left), Side::Value(right)) => Test::Values { end, order, left, right },
            (Side::Value(left), Side::Scaled(factor, right)) => Test::Scaled { end, order, left, factor, right },
            (Side::Scaled(by, left), Side::Constant(right)) => {
                let (order, right) = self.divided(order, right, by)?;
                Test::Constant { end, order, left, right }
            }
            (Side::Scaled(by, left), Side::Scaled(factor, right)) => {
                let (order, factor) = self.divided(order, factor, by)?;
                Test::Scaled { end, order, left, factor, right }
            }
            (left @ (Side::Constant(_) | Side::Scaled(..)), right @ Side::Value(_))
            | (left @ Side::Constant(_), right @ Side::Scaled(..)) => {
                return self.comparison(order.turned(), (right, left));
            }
            (Side::Constant(_), Side::Constant(_)) => return None,
        })
    }

    /// The right side of a comparison divided by what stands on the left as a
    /// factor; dividing by a negative one turns the ordering round.
    fn divided(
        &mut self,
        order: Order,
        constant: ConstantId<Numbers>,
        by: ConstantId<Numbers>,
    ) -> Option<(Order, ConstantId<Numbers>)> {
        let by = self.ranges.get(by)?.as_point()?.clone();
        let of = self.ranges.get(constant)?;
        let order = if by.signum() < 0 { order.turned() } else { order };
        let quotient = of.div(&ExactInterval::point(by));
        self.intervals.push(quotient.to_interval());
        Some((order, self.ranges.push(quotient)))
    }
}

/// A side of a plain comparison.
enum Side<S: Site> {
    Constant(ConstantId<Numbers>),
    Value(S::Number),
    Scaled(ConstantId<Numbers>, S::Number),
}
