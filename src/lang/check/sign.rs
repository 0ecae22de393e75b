//! Can a divisor be zero? Signs worked out from the limits of the facts.

use super::checker::Checker;
use crate::diagnostic::Diagnostic;
use crate::ir::{Aggregate, Fact, Limits, Number, NumberId, Numbers, Operand};
use crate::quantity::Exact;
use crate::source::Span;

/// What is known of a number's sign.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Sign {
    Positive,
    NotNegative,
    Negative,
    Any,
}

impl Checker {
    /// An error unless a divisor is certainly not zero.
    pub(super) fn divisor(&mut self, node: NumberId, span: Span) -> Option<()> {
        if self.costs_too_much(node) {
            return None;
        }
        if matches!(self.sign(node), Sign::Positive | Sign::Negative) {
            return Some(());
        }
        self.error(
            Diagnostic::error("division::zero", "this divisor can be zero")
                .at(span, "divides by this")
                .help("give the fact a limit such as `above 0 lb`, or multiply the other side instead of dividing"),
        );
        None
    }

    fn sign(&self, node: NumberId) -> Sign {
        let program = &self.rules.program;
        let Some(number) = program.numbers.get(node) else { return Sign::Any };
        match *number {
            Number::Read(operand) => self.sign_of_operand(operand),
            Number::Add(a, b) => match (self.sign(a), self.sign(b)) {
                (Sign::Positive, Sign::Positive | Sign::NotNegative) | (Sign::NotNegative, Sign::Positive) => {
                    Sign::Positive
                }
                (Sign::NotNegative, Sign::NotNegative) => Sign::NotNegative,
                (Sign::Negative, Sign::Negative) => Sign::Negative,
                _ => Sign::Any,
            },
            Number::Multiply(a, b) | Number::Divide(a, b) => match (self.sign(a), self.sign(b)) {
                (Sign::Positive, Sign::Positive) | (Sign::Negative, Sign::Negative) => Sign::Positive,
                (Sign::Positive, Sign::Negative) | (Sign::Negative, Sign::Positive) => Sign::Negative,
                (Sign::Positive | Sign::NotNegative, Sign::Positive | Sign::NotNegative) => Sign::NotNegative,
                _ => Sign::Any,
            },
            Number::Larger(a, b) => match (self.sign(a), self.sign(b)) {
                (Sign::Positive, _) | (_, Sign::Positive) => Sign::Positive,
                (Sign::NotNegative, _) | (_, Sign::NotNegative) => Sign::NotNegative,
                _ => Sign::Any,
            },
            Number::Smaller(a, b) if self.sign(a) == self.sign(b) => self.sign(a),
            Number::Absolute(a) | Number::Root(a) => {
                if matches!(self.sign(a), Sign::Positive | Sign::Negative) {
                    Sign::Positive
                } else {
                    Sign::NotNegative
                }
            }
            // A sum over some records only may be of none of them.
            Number::Aggregate(Aggregate::Sum, over, value, _) if over.condition.is_some() => match self.sign(value) {
                Sign::Positive | Sign::NotNegative => Sign::NotNegative,
                Sign::Negative | Sign::Any => Sign::Any,
            },
            // An empty list comes to no value at all, unless the author names one.
            Number::Aggregate(_, _, value, None) => self.sign(value),
            Number::Aggregate(_, _, value, Some(if_empty)) if self.sign(value) == self.sign(if_empty) => {
                self.sign(value)
            }
            // With a weight below zero a mean lies outside its values.
            Number::Mean(_, value, weight) => match self.sign(weight) {
                Sign::Positive | Sign::NotNegative => self.sign(value),
                Sign::Negative | Sign::Any => Sign::Any,
            },
            Number::Count(_) => Sign::NotNegative,
            Number::Lookup { table, column, .. } => {
                let rows = program.tables.get(table).map_or(&[][..], |table| table.rows.as_slice());
                let positive = rows
                    .iter()
                    .flat_map(|row| row.cells.get(column.index()))
                    .flatten()
                    .all(|cell| cell.lo().is_some_and(|lo| lo.signum() > 0));
                if positive { Sign::Positive } else { Sign::Any }
            }
            Number::Today | Number::Subtract(..) | Number::Shift(..) | Number::Smaller(..) | Number::Aggregate(..) => {
                Sign::Any
            }
        }
    }

    fn sign_of_operand(&self, operand: Operand<Numbers>) -> Sign {
        match operand {
            Operand::Constant(n) => self
                .rules
                .program
                .ranges
                .get(n)
                .map_or(Sign::Any, |range| of_bounds(range.lo(), range.hi(), (false, false))),
            Operand::Slot(slot) => {
                let fact = self.rules.program.slots.numbers.get(slot).and_then(|one| self.rules.fact(one.of));
                of_fact(fact)
            }
            Operand::Field { list, column, .. } => {
                let field = self.rules.program.columns.get(list).and_then(|columns| columns.numbers.get(column));
                let list = self.rules.list(list);
                of_fact(list.zip(field).and_then(|(list, field)| list.fields.get(field.of)))
            }
        }
    }
}

fn of_fact(fact: Option<&Fact>) -> Sign {
    match fact.and_then(|fact| fact.limits.as_ref()) {
        Some(Limits { range, above, below, .. }) => of_bounds(range.lo(), range.hi(), (*above, *below)),
        None => Sign::Any,
    }
}

/// `above` and `below`: whether the bound itself is left out.
fn of_bounds(low: Option<&Exact>, high: Option<&Exact>, (above, below): (bool, bool)) -> Sign {
    match (low.map(Exact::signum), high.map(Exact::signum)) {
        (Some(1..), _) => Sign::Positive,
        (Some(0), _) if above => Sign::Positive,
        (Some(0), _) => Sign::NotNegative,
        (_, Some(..=-1)) => Sign::Negative,
        (_, Some(0)) if below => Sign::Negative,
        _ => Sign::Any,
    }
}
