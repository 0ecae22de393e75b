//! Sums, products, dates moved along the calendar, built-in functions.

use super::super::checker::Checker;
use super::{Lowered, Scope, calendar};
use crate::diagnostic::with_article;
use crate::ir::{Number, NumberId};
use crate::quantity::{Dimension, Exact, ExactInterval};
use crate::source::Span;
use crate::syntax::ast::{Expr, Name, Sign, SpanUnit};

impl Checker {
    pub(super) fn arithmetic(
        &mut self,
        sign: Sign,
        left: &Expr,
        right: &Expr,
        span: Span,
        scope: &mut Scope,
    ) -> Option<Lowered> {
        let (a, b) = (self.quantity(left, scope), self.quantity(right, scope));
        let ((a, da), (b, db)) = a.zip(b)?;
        let (number, dimension) = match (sign, da, db) {
            (Sign::Minus, None, None) => {
                let days = self.number_node(Number::Subtract(a, b), Some(Dimension::NUMBER), span);
                let day = self.constant(ExactInterval::point(Exact::from_int(86_400)), Some(Dimension::NUMBER), span);
                (Number::Multiply(days, day), Dimension::named("time"))
            }
            (Sign::Plus | Sign::Minus, None, Some(time)) if Some(time) == Dimension::named("time") => {
                let day =
                    self.constant(ExactInterval::point(Exact::ratio(1, 86_400)?), Some(Dimension::NUMBER), right.span);
                let days = self.number_node(Number::Multiply(b, day), Some(Dimension::NUMBER), right.span);
                (if sign == Sign::Plus { Number::Add(a, days) } else { Number::Subtract(a, days) }, None)
            }
            (Sign::Plus, Some(x), Some(y)) if x.plus(y).is_some() => (Number::Add(a, b), x.plus(y)),
            (Sign::Minus, Some(x), Some(y)) if x.minus(y).is_some() => (Number::Subtract(a, b), x.minus(y)),
            (Sign::Times, Some(x), Some(y)) if x.times(y).is_some() => (Number::Multiply(a, b), x.times(y)),
            (Sign::Divide, Some(x), Some(y)) if x.per(y).is_some() => {
                self.divisor(b, right.span)?;
                (Number::Divide(a, b), x.per(y))
            }
            _ => {
                self.same_dimension(da, db, left.span, right.span)?;
                self.mismatch(span, "a sum or product that has no meaning", "quantities that can be combined");
                return None;
            }
        };
        Some(Lowered::Number(self.number_node(number, dimension, span), dimension))
    }

    pub(super) fn shift(
        &mut self,
        date: &Expr,
        back: bool,
        count: u32,
        unit: SpanUnit,
        span: Span,
        scope: &mut Scope,
    ) -> Option<Lowered> {
        let (node, dimension) = self.quantity(date, scope)?;
        if let Some(dimension) = dimension {
            if unit == SpanUnit::Days && Some(dimension) == Dimension::named("time") {
                let seconds = self.constant(
                    ExactInterval::point(Exact::from_int(86_400i64.saturating_mul(i64::from(count)))),
                    Some(dimension),
                    span,
                );
                let sum = if back { Number::Subtract(node, seconds) } else { Number::Add(node, seconds) };
                return Some(Lowered::Number(self.number_node(sum, Some(dimension), span), Some(dimension)));
            }
            self.mismatch(date.span, &with_article(&dimension.describe()), "a date");
            return None;
        }
        let shifted = Number::Shift(node, calendar(count, unit, back));
        Some(Lowered::Number(self.number_node(shifted, None, span), None))
    }

    /// `larger`, `smaller`, `absolute`, `root`.
    pub(super) fn built_in_function(
        &mut self,
        name: &Name,
        arguments: &[Expr],
        span: Span,
        scope: &mut Scope,
    ) -> Option<Option<Lowered>> {
        let of_two: fn(NumberId, NumberId) -> Number = match (name.as_str(), arguments.len()) {
            ("larger", 2) => Number::Larger,
            ("smaller", 2) => Number::Smaller,
            ("absolute", 1) => |a, _| Number::Absolute(a),
            ("root", 1) => |a, _| Number::Root(a),
            _ => return None,
        };
        Some((|| {
            let lowered: Vec<_> = arguments.iter().map(|argument| self.quantity(argument, scope)).collect();
            let lowered: Vec<_> = lowered.into_iter().collect::<Option<_>>()?;
            let (first, dimension) = *lowered.first()?;
            let (second, other) = *lowered.last()?;
            self.same_dimension(dimension, other, arguments.first()?.span, arguments.last()?.span)?;
            if name.text == "absolute" && dimension.is_none_or(Dimension::is_point_temperature) {
                let (what, wanted) = match dimension {
                    None => ("a date", "a difference of two dates"),
                    Some(_) => ("a temperature on a scale", "a difference of two temperatures"),
                };
                self.mismatch(arguments.first()?.span, what, wanted);
                return None;
            }
            let dimension = if name.text == "root" {
                let root = dimension.and_then(Dimension::root);
                if root.is_none() {
                    self.mismatch(span, "a quantity without a root", "a number, an area, or another square");
                    return None;
                }
                root
            } else {
                dimension
            };
            Some(Lowered::Number(self.number_node(of_two(first, second), dimension, span), dimension))
        })())
    }
}
