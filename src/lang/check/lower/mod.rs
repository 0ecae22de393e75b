//! Expressions to program: types and units are checked on the way down.

mod arithmetic;
mod compare;
mod cost;
mod lists;
mod names;
mod reach;
mod tables_and_formulas;

use super::checker::Checker;
use crate::diagnostic::{Diagnostic, with_article};
use crate::ir::{
    Calendar, ChoiceSet, Condition, ConditionId, FactId, Kind, ListId, Logged, Loop, Number, NumberId, Operand, PackId,
    Texts, Words,
};
use crate::quantity::{Dimension, Exact, ExactInterval, Truth};
use crate::source::{SharedText, Span};
use crate::syntax::ast::{self, Expr, ExprKind, Name, Sign, SpanUnit};
use std::collections::{BTreeMap, BTreeSet};

pub(super) use reach::Records;

/// Nodes one item may come to; formulas are written out where they are used,
/// so this bounds the cost of every pack before it runs.
const MAX_NODES: usize = 20_000;
/// How deep an expression may nest, formulas written out.
const MAX_DEPTH: usize = 128;

/// What an expression comes to.
#[derive(Debug, Clone, Copy)]
pub(super) enum Lowered {
    /// A condition.
    Truth(ConditionId),
    /// A number of a dimension, or a date (`None`).
    Number(NumberId, Option<Dimension>),
    /// Words of a choice.
    Words(Operand<Words>, Kind),
    /// A text.
    Text(Operand<Texts>),
}

/// What names mean where an expression stands.
#[derive(Debug)]
pub(super) struct Scope {
    pub(super) pack: PackId,
    /// Loop variables with their lists, outermost first.
    pub(super) loops: Vec<(SharedText, ListId)>,
    /// `let` names and formula parameters.
    pub(super) values: BTreeMap<SharedText, Lowered>,
    pub(super) reads: BTreeSet<FactId>,
    pub(super) reads_lists: BTreeSet<ListId>,
    pub(super) uses_today: bool,
    pub(super) confirm: bool,
    pub(super) depth: usize,
    pub(super) calls: Vec<SharedText>,
    /// How many nodes the program had when the item began.
    pub(super) began: usize,
}

impl Scope {
    /// Nothing but the names that a pack sees.
    pub(super) fn of(pack: PackId) -> Self {
        Self {
            pack,
            loops: Default::default(),
            values: Default::default(),
            reads: Default::default(),
            reads_lists: Default::default(),
            uses_today: Default::default(),
            confirm: Default::default(),
            depth: Default::default(),
            calls: Default::default(),
            began: Default::default(),
        }
    }
}

impl Checker {
    pub(super) fn condition_node(&mut self, mut condition: Condition, span: Span) -> ConditionId {
        let cost = self.condition_cost(condition);
        self.bounded(cost, span);
        self.costs.1.push(cost);
        let read = self.records_of_condition(condition);
        self.read_records.1.push(read);
        if let Condition::Every(over, _) | Condition::Some(over, _) = &mut condition {
            over.same = reach::sameness(read);
        }
        self.rules.program.condition_spans.push(span);
        self.rules.program.conditions.push(condition)
    }

    pub(super) fn number_node(&mut self, mut number: Number, dimension: Option<Dimension>, span: Span) -> NumberId {
        let cost = self.number_cost(number);
        self.bounded(cost, span);
        self.costs.0.push(cost);
        let read = self.records_of_number(number);
        self.read_records.0.push(read);
        match &mut number {
            Number::Aggregate(_, Loop { same, .. }, ..)
            | Number::Mean(Loop { same, .. }, ..)
            | Number::Count(Loop { same, .. })
            | Number::Lookup { same, .. } => *same = reach::sameness(read),
            _ => {}
        }
        self.rules.program.number_spans.push(span);
        self.rules.program.dimensions.push(dimension);
        self.rules.program.numbers.push(number)
    }

    pub(super) fn constant(&mut self, range: ExactInterval, dimension: Option<Dimension>, span: Span) -> NumberId {
        let interval = range.to_interval();
        let program = &mut self.rules.program;
        let bits = (interval.lo.to_bits(), interval.hi.to_bits());
        let known = self.constants.get(&bits).copied();
        // Two constants that differ may be the same in floating point.
        let n = known.filter(|n| program.ranges.get(*n) == Some(&range)).unwrap_or_else(|| {
            program.ranges.push(range);
            let n = program.intervals.push(interval);
            self.constants.insert(bits, n);
            n
        });
        self.number_node(Number::Read(Operand::Constant(n)), dimension, span)
    }

    pub(super) fn join(&mut self, parts: &[ConditionId], and: bool, span: Span) -> ConditionId {
        if let [one] = parts {
            return *one;
        }
        let parts = self.rules.program.arguments.push(parts.iter().copied());
        self.condition_node(if and { Condition::And(parts) } else { Condition::Or(parts) }, span)
    }

    fn mismatch(&mut self, span: Span, what: &str, wanted: &str) {
        self.error(
            Diagnostic::error("type::mismatch", format!("this is {what}; {wanted} is needed"))
                .at(span, format!("this is {what}"))
                .help(format!("write {wanted}")),
        );
    }

    /// An expression that must be a condition.
    pub(super) fn condition(&mut self, expr: &Expr, scope: &mut Scope) -> Option<ConditionId> {
        match self.value(expr, None, scope)? {
            Lowered::Truth(node) => Some(node),
            Lowered::Words(operand, Kind::YesNo) => {
                Some(self.condition_node(Condition::Words(operand, ChoiceSet::yes_or_no(true)), expr.span))
            }
            other => {
                let what = describe(other);
                self.mismatch(expr.span, &what, "a condition");
                None
            }
        }
    }

    /// An expression that must be a number, quantity or date.
    pub(super) fn quantity(&mut self, expr: &Expr, scope: &mut Scope) -> Option<(NumberId, Option<Dimension>)> {
        match self.value(expr, None, scope)? {
            Lowered::Number(node, dimension) => Some((node, dimension)),
            other => {
                let what = describe(other);
                self.mismatch(expr.span, &what, "a number, a quantity or a date");
                None
            }
        }
    }

    /// Any expression. `wanted` is the kind a lone word is looked up in.
    pub(super) fn value(&mut self, expr: &Expr, wanted: Option<Kind>, scope: &mut Scope) -> Option<Lowered> {
        let nodes = self.rules.program.conditions.len().saturating_add(self.rules.program.numbers.len());
        if scope.depth >= MAX_DEPTH || nodes.saturating_sub(scope.began) > MAX_NODES {
            self.error(
                Diagnostic::error(
                    "program::too-costly",
                    "this expression is too deep or too large once its formulas are written out",
                )
                .at(expr.span, "too much here")
                .help("split the item, or simplify the formulas"),
            );
            return None;
        }
        scope.depth = scope.depth.saturating_add(1);
        let lowered = self.lower(expr, wanted, scope);
        scope.depth = scope.depth.saturating_sub(1);
        lowered
    }

    fn lower(&mut self, expr: &Expr, wanted: Option<Kind>, scope: &mut Scope) -> Option<Lowered> {
        let span = expr.span;
        let truth = |node: Option<ConditionId>| node.map(Lowered::Truth);
        match &expr.kind {
            ExprKind::Or(parts) => truth(self.all_conditions(parts, scope).map(|nodes| self.join(&nodes, false, span))),
            ExprKind::And(parts) => truth(self.all_conditions(parts, scope).map(|nodes| self.join(&nodes, true, span))),
            ExprKind::Not(part) => {
                truth(self.condition(part, scope).map(|node| self.condition_node(Condition::Not(node), span)))
            }
            ExprKind::Compare(order, left, right) => truth(self.comparison(*order, left, right, span, scope)),
            ExprKind::SameLetters(left, right) => truth(self.same_letters(left, right, span, scope)),
            ExprKind::Is { left, right, negated } => {
                truth(self.is(left, std::slice::from_ref(right), *negated, span, scope))
            }
            ExprKind::OneOf { left, among, negated } => truth(self.is(left, among, *negated, span, scope)),
            ExprKind::Between(value, low, high) => {
                let low = self.comparison(ast::Order::AtLeast, value, low, span, scope);
                let high = self.comparison(ast::Order::AtMost, value, high, span, scope);
                truth(low.zip(high).map(|(low, high)| self.join(&[low, high], true, span)))
            }
            ExprKind::Within(value, distance, of) => {
                let difference = Expr { kind: ExprKind::Arithmetic(Sign::Minus, value.clone(), of.clone()), span };
                let (node, dimension) = self.quantity(&difference, scope)?;
                let absolute = self.number_node(Number::Absolute(node), dimension, span);
                let (limit, limit_dimension) = self.quantity(distance, scope)?;
                self.same_dimension(dimension, limit_dimension, value.span, distance.span)?;
                truth(Some(self.compare(ast::Order::AtMost, absolute, limit, span)))
            }
            ExprKind::WithinShare(value, share, of) => truth(self.within_share(value, share, of, span, scope)),
            ExprKind::WithinLast(date, count, unit) => {
                let (node, dimension) = self.quantity(date, scope)?;
                if dimension.is_some() {
                    self.mismatch(date.span, "no date", "a date");
                    return None;
                }
                scope.uses_today = true;
                let calendar = calendar(*count, *unit, false);
                truth(Some(self.condition_node(Condition::WithinLast(node, calendar), span)))
            }
            ExprKind::Recorded(of) => {
                truth(self.stored(of, scope).map(|operand| self.condition_node(Condition::Recorded(operand), span)))
            }
            ExprKind::IsNone(of, negated) => {
                let operand = self.stored(of, scope)?;
                let node = self.condition_node(Condition::Absent(operand), span);
                truth(Some(if *negated { self.condition_node(Condition::Not(node), span) } else { node }))
            }
            ExprKind::Fits(text, pattern) => truth(self.fits(text, pattern, span, scope)),
            ExprKind::Alike(parts) => truth(self.alike(parts, span, scope)),
            ExprKind::Quantified { every, over, body } => truth(self.quantified(*every, over, body, span, scope)),
            ExprKind::Confirmed { by, about, since } => truth(self.confirmed(by, about, since.as_deref(), span, scope)),
            ExprKind::After(later, earlier) => truth(self.is_after(later, earlier, span, scope)),
            ExprKind::SomebodyElse(person, roles) => truth(self.somebody_else(person, roles, span, scope)),
            ExprKind::Logged { event, subject, people, by, points, since } => {
                self.can_be_signed(*people, &by.roles, span);
                self.subject_known(subject);
                let since = self.day(since.as_deref(), scope)?;
                let logged = Logged {
                    event: *event,
                    subject: subject.text.to_string(),
                    people: people.unwrap_or(1).max(1),
                    roles: self.role_bits(&by.roles),
                    other_than: self.role_bits(&by.other_than),
                    points: points.iter().map(|point| point.text.to_string()).collect(),
                    since,
                };
                let n = self.rules.program.logged.push(logged);
                truth(Some(self.condition_node(Condition::Logged(n), span)))
            }
            ExprKind::Arithmetic(sign, left, right) => self.arithmetic(*sign, left, right, span, scope),
            ExprKind::Shift(date, back, count, unit) => self.shift(date, *back, *count, *unit, span, scope),
            ExprKind::PercentOf(percentage, of) => {
                let factor = self.constant(percentage.quantity.range.clone(), Some(Dimension::NUMBER), percentage.span);
                let (of, dimension) = self.has_shares(of, scope)?;
                Some(Lowered::Number(self.number_node(Number::Multiply(factor, of), dimension, span), dimension))
            }
            ExprKind::Aggregate { how, value, over, if_empty } => {
                self.gather(*how, value, over, if_empty.as_deref(), span, scope)
            }
            ExprKind::Mean { value, weight, over } => {
                let over = self.enter(over, scope)?;
                let value = self.quantity(value, scope);
                let weight = self.quantity(weight, scope);
                scope.loops.pop();
                let ((value, dimension), (weight_node, of_weight)) = value.zip(weight)?;
                if dimension.is_none() || of_weight.is_none_or(Dimension::is_point_temperature) {
                    self.mismatch(span, "a mean of or by dates", "a mean of quantities weighted by quantities");
                    return None;
                }
                let weight = weight_node;
                Some(Lowered::Number(self.number_node(Number::Mean(over, value, weight), dimension, span), dimension))
            }
            ExprKind::Count(over) => {
                let over = self.enter(over, scope)?;
                scope.loops.pop();
                let number = Some(Dimension::NUMBER);
                Some(Lowered::Number(self.number_node(Number::Count(over), number, span), number))
            }
            ExprKind::Call(name, arguments) => self.call(name, arguments, span, scope),
            ExprKind::Lookup { table, keys, column } => self.lookup(table, keys, column.as_ref(), span, scope),
            ExprKind::Measured(measured) => {
                let dimension = Some(measured.quantity.dimension());
                Some(Lowered::Number(self.constant(measured.quantity.range.clone(), dimension, span), dimension))
            }
            ExprKind::Date(date) => {
                let day = |date: crate::quantity::Date| Some(Exact::from_int(i64::from(date.days())));
                Some(Lowered::Number(
                    self.constant(ExactInterval::new(day(date.first), day(date.last)), None, span),
                    None,
                ))
            }
            ExprKind::Text(text) => Some(Lowered::Text(Operand::Constant(self.constant_text(text)))),
            ExprKind::YesNo(yes) => {
                Some(Lowered::Truth(self.condition_node(Condition::Constant(Truth::from(*yes)), span)))
            }
            ExprKind::Today => {
                scope.uses_today = true;
                Some(Lowered::Number(self.number_node(Number::Today, None, span), None))
            }
            ExprKind::Name(name) => self.named(&Name { text: name.clone(), span }, wanted, scope),
        }
    }

    /// A quantity that a share can be taken of.
    pub(super) fn has_shares(&mut self, of: &Expr, scope: &mut Scope) -> Option<(NumberId, Option<Dimension>)> {
        let (node, dimension) = self.quantity(of, scope)?;
        if dimension.is_none_or(Dimension::is_point_temperature) {
            self.mismatch(of.span, "a date or a temperature", "something a share can be taken of");
            return None;
        }
        Some((node, dimension))
    }

    fn all_conditions(&mut self, parts: &[Expr], scope: &mut Scope) -> Option<Vec<ConditionId>> {
        // Every part is looked at, so that all mistakes are reported.
        let nodes: Vec<_> = parts.iter().map(|part| self.condition(part, scope)).collect();
        nodes.into_iter().collect()
    }

    fn same_dimension(
        &mut self,
        left: Option<Dimension>,
        right: Option<Dimension>,
        left_span: Span,
        right_span: Span,
    ) -> Option<()> {
        if left == right {
            return Some(());
        }
        let (a, b) = (with_article(&kind_words(left)), with_article(&kind_words(right)));
        self.error(
            Diagnostic::error("unit::mismatch", format!("{a} and {b} cannot be compared, added or subtracted"))
                .at(left_span, format!("this is {a}"))
                .at(right_span, format!("this is {b}"))
                .help("give both sides the same kind of quantity"),
        );
        None
    }
}

fn calendar(count: u32, unit: SpanUnit, back: bool) -> Calendar {
    let count = i32::try_from(count).unwrap_or(i32::MAX).min(100_000);
    let count = if back { count.saturating_neg() } else { count };
    match unit {
        SpanUnit::CalendarMonths => Calendar::MonthEnd(count),
        SpanUnit::Months => Calendar::Months(count),
        SpanUnit::Years => Calendar::Months(count.saturating_mul(12)),
        SpanUnit::Days => Calendar::Days(count),
    }
}

fn kind_words(dimension: Option<Dimension>) -> String {
    dimension.map_or_else(|| "date".to_owned(), Dimension::describe)
}

fn describe(value: Lowered) -> String {
    match value {
        Lowered::Truth(_) => "a condition".to_owned(),
        Lowered::Number(_, dimension) => with_article(&kind_words(dimension)),
        Lowered::Words(..) => "a choice of words".to_owned(),
        Lowered::Text(_) => "a text".to_owned(),
    }
}

fn agrees(value: Lowered, kind: Kind) -> bool {
    match (value, kind) {
        (Lowered::Words(_, have), want) => have == want,
        (Lowered::Text(_), Kind::Text | Kind::Named(_)) | (Lowered::Number(_, None), Kind::Date) => true,
        (Lowered::Number(_, Some(have)), Kind::Number(want)) => have == want,
        (Lowered::Number(_, Some(have)), Kind::Count) => have == Dimension::NUMBER,
        _ => false,
    }
}
