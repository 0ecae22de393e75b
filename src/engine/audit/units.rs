//! The unit in which a number that was worked out is told.

use super::explain::Explanation;
use crate::ir::{Child, Frame, InStore, Number, NumberId};
use crate::quantity::{Dimension, ExactInterval, Unit};

impl Explanation<'_> {
    /// The unit in which a number is told: one that somebody wrote, else the usual one.
    pub(super) fn told_in(
        &self,
        node: NumberId,
        dimension: Dimension,
        range: &ExactInterval,
        frame: &Frame,
    ) -> Option<Unit> {
        self.unit_of(node, dimension, frame).or_else(|| usual(range, dimension))
    }

    /// That in which a value of its dimension was written that it is worked out
    /// from, or one made of theirs.
    fn unit_of(&self, node: NumberId, dimension: Dimension, frame: &Frame) -> Option<Unit> {
        let same = |unit: &Unit| unit.dimension() == dimension;
        let of_terms = self.unit_of_terms(node, frame).filter(same);
        of_terms.or_else(|| self.units_read(node, frame).into_iter().find(same)).or_else(|| self.unit_made(node, frame))
    }

    /// The unit of the first term of a sum, or of what else has the unit of its parts.
    fn unit_of_terms(&self, node: NumberId, frame: &Frame) -> Option<Unit> {
        let program = &self.judge.rules.program;
        let number = program.numbers.get(node).copied()?;
        match number {
            Number::Read(operand) => {
                let read = self.operand(InStore::Numbers(operand), frame)?;
                read.recorded.and_then(|one| one.unit.clone()).or_else(|| read.fact.unit.clone())
            }
            // A mean has the unit of its values, not of their weights.
            Number::Mean(_, value, _) => self.unit_of_terms(value, frame),
            Number::Add(..)
            | Number::Subtract(..)
            | Number::Larger(..)
            | Number::Smaller(..)
            | Number::Absolute(_)
            | Number::Aggregate(..) => program.children_of_number(number).find_map(|child| match child {
                Child::Number(part) => self.unit_of_terms(part, frame),
                _ => None,
            }),
            Number::Today
            | Number::Multiply(..)
            | Number::Divide(..)
            | Number::Root(_)
            | Number::Shift(..)
            | Number::Lookup { .. }
            | Number::Count(_) => None,
        }
    }

    /// The units of all values that a number is worked out from.
    fn units_read(&self, node: NumberId, frame: &Frame) -> Vec<Unit> {
        let program = &self.judge.rules.program;
        let Some(number) = program.numbers.get(node).copied() else { return Vec::new() };
        if let Number::Read(_) = number {
            return self.unit_of_terms(node, frame).into_iter().collect();
        }
        let numbers = program.children_of_number(number).filter_map(|child| match child {
            Child::Number(part) => Some(part),
            _ => None,
        });
        numbers.flat_map(|part| self.units_read(part, frame)).collect()
    }

    /// The unit of a product or a quotient, made of those of its parts: `kg-mm`.
    fn unit_made(&self, node: NumberId, frame: &Frame) -> Option<Unit> {
        let program = &self.judge.rules.program;
        let dimension = program.dimensions.get(node).copied().flatten()?;
        let made = match program.numbers.get(node).copied()? {
            Number::Multiply(left, right) => (left, "-", right),
            Number::Divide(left, right) => (left, "/", right),
            number => {
                let parts = program.children_of_number(number);
                return parts.into_iter().find_map(|child| match child {
                    Child::Number(part) => self.unit_made(part, frame).filter(|unit| unit.dimension() == dimension),
                    _ => None,
                });
            }
        };
        let part = |node| {
            let dimension = program.dimensions.get(node).copied().flatten()?;
            self.unit_of(node, dimension, frame)
        };
        let ((left, between, right), simple) = (made, |unit: &Unit| !unit.symbol().contains(['/', '-', '·', '%']));
        let (left, right) = (part(left).filter(simple)?, part(right).filter(simple)?);
        let unit = Unit::parse(&format!("{}{between}{}", left.symbol(), right.symbol())).ok();
        unit.filter(|unit| unit.dimension() == dimension)
    }
}

/// The unit for what nobody wrote in one; a time in the largest unit of which it has two or more.
fn usual(range: &ExactInterval, dimension: Dimension) -> Option<Unit> {
    let usual = Unit::usual(&dimension)?;
    if usual.symbol() != "s" {
        return Some(usual);
    }
    let size = range.lo().into_iter().chain(range.hi()).map(|end| end.to_f64_above().abs()).fold(0.0, f64::max);
    let symbol = match size {
        days if days >= 2.0 * 86_400.0 => "days",
        hours if hours >= 2.0 * 3_600.0 => "h",
        minutes if minutes >= 120.0 => "min",
        _ => return Some(usual),
    };
    Unit::parse(symbol).ok()
}
