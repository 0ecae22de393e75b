//! Expressions to program: types and units are checked on the way down.

use super::check::{Checker, push};
use super::{FactId, Kind, ListId};
use crate::diagnostic::Diagnostic;
use crate::measure::{Dimension, Exact, Range, Truth};
use crate::program::{
    AlikePart, Calendar, Condition, Gather, Key, Logged, Loop, MAX_FRAMES, NO_NODE, Number, Operand, Order, Store,
};
use crate::source::Span;
use crate::syntax::tree::{self, Expr, ExprKind, Name, Over, Sign, SpanUnit};
use std::collections::{BTreeMap, BTreeSet};

/// Nodes one item may come to; formulas are written out where they are used,
/// so this bounds the cost of every pack before it runs.
const MAX_NODES: usize = 20_000;
/// How deep an expression may nest, formulas written out.
const MAX_DEPTH: usize = 128;

/// What an expression comes to.
#[derive(Debug, Clone, Copy)]
pub(super) enum Lowered {
    /// A condition.
    Truth(u32),
    /// A number of a dimension, or a date (`None`).
    Number(u32, Option<Dimension>),
    /// Words of a choice.
    Words(Operand, Kind),
    /// A text.
    Text(Operand),
}

/// What names mean where an expression stands.
#[derive(Debug, Default)]
pub(super) struct Scope {
    pub(super) pack: usize,
    /// Loop variables with their lists, outermost first.
    pub(super) loops: Vec<(String, ListId)>,
    /// `let` names and formula parameters.
    pub(super) values: BTreeMap<String, Lowered>,
    pub(super) reads: BTreeSet<FactId>,
    pub(super) reads_lists: BTreeSet<ListId>,
    pub(super) uses_today: bool,
    pub(super) confirm: bool,
    pub(super) depth: usize,
    pub(super) calls: Vec<String>,
    /// How many nodes the program had when the item began.
    pub(super) began: usize,
}

impl Checker<'_> {
    pub(super) fn condition_node(&mut self, condition: Condition, span: Span) -> u32 {
        self.rules.program.condition_spans.push(span);
        push(&mut self.rules.program.conditions, condition)
    }

    pub(super) fn number_node(&mut self, number: Number, dimension: Option<Dimension>, span: Span) -> u32 {
        self.rules.program.number_spans.push(span);
        self.rules.program.dimensions.push(dimension);
        push(&mut self.rules.program.numbers, number)
    }

    pub(super) fn constant(&mut self, range: Range, dimension: Option<Dimension>, span: Span) -> u32 {
        let interval = range.to_interval();
        self.rules.program.ranges.push(range);
        let n = push(&mut self.rules.program.intervals, interval);
        self.number_node(Number::Read(Operand::Constant(n)), dimension, span)
    }

    pub(super) fn join(&mut self, parts: &[u32], and: bool, span: Span) -> u32 {
        if let [one] = parts {
            return *one;
        }
        let start = u32::try_from(self.rules.program.arguments.len()).unwrap_or(u32::MAX);
        self.rules.program.arguments.extend(parts);
        let len = u32::try_from(parts.len()).unwrap_or(0);
        self.condition_node(if and { Condition::And { start, len } } else { Condition::Or { start, len } }, span)
    }

    fn mismatch(&mut self, span: Span, what: &str, wanted: &str) {
        self.error(
            Diagnostic::error("type::mismatch", format!("this is {what}; {wanted} is needed"))
                .at(span, format!("this is {what}"))
                .help(format!("write {wanted}")),
        );
    }

    /// An expression that must be a condition.
    pub(super) fn condition(&mut self, expr: &Expr, scope: &mut Scope) -> Option<u32> {
        match self.value(expr, None, scope)? {
            Lowered::Truth(node) => Some(node),
            Lowered::Words(operand, Kind::YesNo) => {
                Some(self.condition_node(Condition::Words(operand, 0b10), expr.span))
            }
            other => {
                let what = describe(other);
                self.mismatch(expr.span, &what, "a condition");
                None
            }
        }
    }

    /// An expression that must be a number, quantity or date.
    pub(super) fn quantity(&mut self, expr: &Expr, scope: &mut Scope) -> Option<(u32, Option<Dimension>)> {
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
        let truth = |node: Option<u32>| node.map(Lowered::Truth);
        match &expr.kind {
            ExprKind::Or(parts) => truth(self.all_conditions(parts, scope).map(|nodes| self.join(&nodes, false, span))),
            ExprKind::And(parts) => truth(self.all_conditions(parts, scope).map(|nodes| self.join(&nodes, true, span))),
            ExprKind::Not(part) => {
                truth(self.condition(part, scope).map(|node| self.condition_node(Condition::Not(node), span)))
            }
            ExprKind::Compare(order, left, right) => truth(self.comparison(*order, left, right, span, scope)),
            ExprKind::Is { left, right, negated } => {
                truth(self.is(left, std::slice::from_ref(right), *negated, span, scope))
            }
            ExprKind::OneOf { left, among, negated } => truth(self.is(left, among, *negated, span, scope)),
            ExprKind::Between(value, low, high) => {
                let low = self.comparison(tree::Order::AtLeast, value, low, span, scope);
                let high = self.comparison(tree::Order::AtMost, value, high, span, scope);
                truth(low.zip(high).map(|(low, high)| self.join(&[low, high], true, span)))
            }
            ExprKind::Within(value, distance, of) => {
                let difference = Expr { kind: ExprKind::Arithmetic(Sign::Minus, value.clone(), of.clone()), span };
                let (node, dimension) = self.quantity(&difference, scope)?;
                let absolute = self.number_node(Number::Absolute(node), dimension, span);
                let (limit, limit_dimension) = self.quantity(distance, scope)?;
                self.same_dimension(dimension, limit_dimension, value.span, distance.span)?;
                truth(Some(self.compare(tree::Order::AtMost, absolute, limit, span)))
            }
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
            ExprKind::Recorded(of) => truth(
                self.stored(of, scope)
                    .map(|(store, operand)| self.condition_node(Condition::Recorded(store, operand), span)),
            ),
            ExprKind::IsNone(of, negated) => {
                let (store, operand) = self.stored(of, scope)?;
                let node = self.condition_node(Condition::Absent(store, operand), span);
                truth(Some(if *negated { self.condition_node(Condition::Not(node), span) } else { node }))
            }
            ExprKind::Fits(text, pattern) => truth(self.fits(text, pattern, span, scope)),
            ExprKind::Alike(parts) => truth(self.alike(parts, span, scope)),
            ExprKind::Quantified { every, over, body } => truth(self.quantified(*every, over, body, span, scope)),
            ExprKind::Confirmed(roles) => truth(self.confirmed(roles, span, scope)),
            ExprKind::Logged(verb, subject, people) => {
                let logged = Logged { verb, subject: subject.text.clone(), people: people.unwrap_or(1).max(1) };
                let n = push(&mut self.rules.program.logged, logged);
                truth(Some(self.condition_node(Condition::Logged(n), span)))
            }
            ExprKind::Arithmetic(sign, left, right) => self.arithmetic(*sign, left, right, span, scope),
            ExprKind::Shift(date, back, count, unit) => self.shift(date, *back, *count, *unit, span, scope),
            ExprKind::PercentOf(percentage, of) => {
                let factor = self.constant(percentage.quantity.range.clone(), Some(Dimension::NUMBER), percentage.span);
                let (of, dimension) = self.quantity(of, scope)?;
                Some(Lowered::Number(self.number_node(Number::Multiply(factor, of), dimension, span), dimension))
            }
            ExprKind::Gather { how, value, over, if_empty } => {
                self.gather(*how, value, over, if_empty.as_ref(), span, scope)
            }
            ExprKind::Mean { value, weight, over } => {
                let over = self.enter(over, scope)?;
                let value = self.quantity(value, scope);
                let weight = self.quantity(weight, scope);
                scope.loops.pop();
                let ((value, dimension), (weight, _)) = value.zip(weight)?;
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
                let day = |date: crate::measure::Date| Some(Exact::from_int(i64::from(date.days())));
                Some(Lowered::Number(self.constant(Range::new(day(date.first), day(date.last)), None, span), None))
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

    fn all_conditions(&mut self, parts: &[Expr], scope: &mut Scope) -> Option<Vec<u32>> {
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
        let (a, b) = (kind_words(left), kind_words(right));
        self.error(
            Diagnostic::error("unit::mismatch", format!("a {a} and a {b} cannot be compared, added or subtracted"))
                .at(left_span, format!("this is a {a}"))
                .at(right_span, format!("this is a {b}"))
                .help("give both sides the same kind of quantity"),
        );
        None
    }

    fn comparison(
        &mut self,
        order: tree::Order,
        left: &Expr,
        right: &Expr,
        span: Span,
        scope: &mut Scope,
    ) -> Option<u32> {
        let (a, b) = (self.quantity(left, scope), self.quantity(right, scope));
        let ((a, a_dimension), (b, b_dimension)) = a.zip(b)?;
        self.same_dimension(a_dimension, b_dimension, left.span, right.span)?;
        Some(self.compare(order, a, b, span))
    }

    /// Picks the quick form of a comparison where there is one.
    fn compare(&mut self, order: tree::Order, left: u32, right: u32, span: Span) -> u32 {
        let order = match order {
            tree::Order::Less => Order::Less,
            tree::Order::AtMost => Order::AtMost,
            tree::Order::More => Order::More,
            tree::Order::AtLeast => Order::AtLeast,
        };
        let read = |this: &Self, node: u32| match this.rules.program.numbers.get(node as usize) {
            Some(Number::Read(operand)) => Some(*operand),
            _ => None,
        };
        let sides = u32::try_from(self.rules.program.arguments.len()).unwrap_or(u32::MAX);
        let condition = match (read(self, left), self.rules.program.numbers.get(right as usize).copied()) {
            (Some(Operand::Slot(slot)), Some(Number::Read(Operand::Constant(constant)))) => {
                self.rules.program.arguments.extend([left, right]);
                Condition::CompareConstant { order, slot, constant, sides }
            }
            (Some(Operand::Slot(slot)), Some(Number::Multiply(factor, other))) => {
                match (read(self, factor), read(self, other)) {
                    (Some(Operand::Constant(factor)), Some(Operand::Slot(other))) => {
                        self.rules.program.arguments.extend([factor, other, left, right]);
                        Condition::CompareScaled { order, slot, sides }
                    }
                    _ => Condition::Compare { order, left, right },
                }
            }
            _ => Condition::Compare { order, left, right },
        };
        self.condition_node(condition, span)
    }

    fn is(&mut self, left: &Expr, among: &[Expr], negated: bool, span: Span, scope: &mut Scope) -> Option<u32> {
        let subject = self.value(left, None, scope)?;
        let node = match subject {
            Lowered::Words(operand, kind) => self.is_words(operand, kind, among, span, scope)?,
            Lowered::Truth(_) => {
                self.mismatch(left.span, "a condition", "a fact to compare");
                return None;
            }
            Lowered::Text(_) | Lowered::Number(..) => {
                let nodes: Vec<_> = among.iter().map(|other| self.equal(subject, left.span, other, scope)).collect();
                let nodes: Vec<u32> = nodes.into_iter().collect::<Option<_>>()?;
                self.join(&nodes, false, span)
            }
        };
        Some(if negated { self.condition_node(Condition::Not(node), span) } else { node })
    }

    fn is_words(&mut self, operand: Operand, kind: Kind, among: &[Expr], span: Span, scope: &mut Scope) -> Option<u32> {
        let mut allowed = 0u64;
        for other in among {
            let word = match &other.kind {
                ExprKind::Name(name) => name.clone(),
                ExprKind::YesNo(yes) => (if *yes { "yes" } else { "no" }).to_owned(),
                _ => String::new(),
            };
            let words: Vec<String> = self.rules.words(kind).iter().map(|w| (*w).to_owned()).collect();
            if let Some(bit) = words.iter().position(|known| *known == word) {
                allowed |= 1u64 << bit.min(62);
                continue;
            }
            let is_value =
                scope.values.contains_key(&word) || word.contains('.') || self.rules.fact_by_name.contains_key(&word);
            if is_value {
                if let Some(Lowered::Words(second, second_kind)) = self.value(other, Some(kind), scope)
                    && second_kind == kind {
                        return Some(self.condition_node(Condition::SameWords(operand, second), span));
                    }
                self.mismatch(other.span, "another choice", &format!("one of {}", words.join(", ")));
                return None;
            }
            self.unknown(
                "word",
                &Name { text: self.rules.sources.text(other.span).to_owned(), span: other.span },
                words.iter().map(String::as_str),
            );
            return None;
        }
        Some(self.condition_node(Condition::Words(operand, allowed), span))
    }

    fn equal(&mut self, left: Lowered, left_span: Span, right: &Expr, scope: &mut Scope) -> Option<u32> {
        let other = self.value(right, None, scope)?;
        let span = left_span.to(right.span);
        match (left, other) {
            (Lowered::Text(a), Lowered::Text(b)) => Some(self.condition_node(Condition::SameText(a, b), span)),
            (Lowered::Number(a, da), Lowered::Number(b, db)) => {
                self.same_dimension(da, db, left_span, right.span)?;
                Some(self.condition_node(Condition::Equal(a, b), span))
            }
            _ => {
                let (a, b) = (describe(left), describe(other));
                self.error(
                    Diagnostic::error("type::mismatch", format!("{a} and {b} cannot be the same"))
                        .at(left_span, format!("this is {a}"))
                        .at(right.span, format!("this is {b}"))
                        .help("compare things of one kind"),
                );
                None
            }
        }
    }

    /// The store and operand of a fact or field named as such.
    fn stored(&mut self, expr: &Expr, scope: &mut Scope) -> Option<(Store, Operand)> {
        match self.value(expr, None, scope)? {
            Lowered::Words(operand, _) => Some((Store::Words, operand)),
            Lowered::Text(operand) => Some((Store::Texts, operand)),
            Lowered::Number(node, _) => match self.rules.program.numbers.get(node as usize) {
                Some(Number::Read(operand @ (Operand::Slot(_) | Operand::Field { .. }))) => {
                    Some((Store::Numbers, *operand))
                }
                _ => {
                    self.mismatch(expr.span, "worked out", "a fact");
                    None
                }
            },
            Lowered::Truth(_) => {
                self.mismatch(expr.span, "a condition", "a fact");
                None
            }
        }
    }

    fn fits(&mut self, text: &Expr, pattern: &Name, span: Span, scope: &mut Scope) -> Option<u32> {
        let value = self.value(text, None, scope)?;
        let Lowered::Text(operand) = value else {
            let what = describe(value);
            self.mismatch(text.span, &what, "a text");
            return None;
        };
        let Some(id) = self.patterns.get(&pattern.text).copied() else {
            let known: Vec<String> = self.patterns.keys().cloned().collect();
            self.unknown("pattern", pattern, known.iter().map(String::as_str));
            return None;
        };
        Some(self.condition_node(Condition::Fits(operand, id), span))
    }

    fn alike(&mut self, parts: &[(bool, Name)], span: Span, scope: &mut Scope) -> Option<u32> {
        let mut found = Vec::new();
        for (every, name) in parts {
            if *every {
                let (list, field) = name.text.rsplit_once('.')?;
                let Some(id) = self.list_named(&Name { text: list.to_owned(), span: name.span }, scope) else {
                    continue;
                };
                let column = self.rules.list(id).and_then(|list| {
                    list.fields.iter().find(|f| f.name == field && f.kind == Kind::Text).map(|f| f.slot)
                });
                match column {
                    Some(column) => found.push(AlikePart::Every { list: id.0, column }),
                    None => self.mismatch(name.span, "no text of that list", "a text field of the list"),
                }
            } else {
                match self.named(name, None, scope) {
                    Some(Lowered::Text(operand)) => found.push(AlikePart::One(operand)),
                    Some(other) => {
                        let what = describe(other);
                        self.mismatch(name.span, &what, "a text");
                    }
                    None => {}
                }
            }
        }
        let start = u32::try_from(self.rules.program.alikes.len()).unwrap_or(u32::MAX);
        let len = u32::try_from(found.len()).unwrap_or(0);
        self.rules.program.alikes.extend(found);
        Some(self.condition_node(Condition::Alike { start, len }, span))
    }

    fn confirmed(&mut self, roles: &[Name], span: Span, scope: &mut Scope) -> Option<u32> {
        scope.confirm = true;
        // A word given later than the day judged does not count on that day.
        scope.uses_today = true;
        let mut bits = 0u64;
        for role in roles {
            match self.rules.roles.iter().position(|known| known.name == role.text) {
                Some(at) => bits |= 1u64 << at.min(62),
                None => {
                    let known: Vec<String> = self.rules.roles.iter().map(|r| r.name.clone()).collect();
                    self.unknown("role", role, known.iter().map(String::as_str));
                }
            }
        }
        Some(self.condition_node(Condition::Confirmed(bits), span))
    }

    // ------------------------------------------------------------------ lists

    pub(super) fn list_named(&mut self, name: &Name, scope: &mut Scope) -> Option<ListId> {
        let found = self.rules.list_by_name.get(&name.text).copied();
        let found = found.filter(|id| self.rules.list(*id).is_some_and(|list| self.sees(scope.pack, list.pack)));
        if found.is_none() {
            let known: Vec<String> = self.rules.list_by_name.keys().cloned().collect();
            self.unknown("list", name, known.iter().map(String::as_str));
        }
        scope.reads_lists.extend(found);
        found
    }

    /// Opens a loop; the caller closes it with `scope.loops.pop()`.
    fn enter(&mut self, over: &Over, scope: &mut Scope) -> Option<Loop> {
        let list = self.list_named(&over.list, scope)?;
        if scope.loops.len() >= MAX_FRAMES {
            self.error(
                Diagnostic::error("program::too-costly", format!("lists are nested more than {MAX_FRAMES} deep"))
                    .at(over.list.span, "one too many")
                    .help("use a `let`, or two items"),
            );
            return None;
        }
        let frame = u8::try_from(scope.loops.len()).unwrap_or(u8::MAX);
        scope.loops.push((over.variable.text.clone(), list));
        let condition = match &over.condition {
            None => NO_NODE,
            Some(condition) => match self.condition(condition, scope) {
                Some(node) => node,
                None => {
                    scope.loops.pop();
                    return None;
                }
            },
        };
        Some(Loop { list: list.0, frame, condition })
    }

    fn quantified(&mut self, every: bool, over: &Over, body: &Expr, span: Span, scope: &mut Scope) -> Option<u32> {
        let over = self.enter(over, scope)?;
        let body = self.condition(body, scope);
        scope.loops.pop();
        let body = body?;
        Some(self.condition_node(if every { Condition::Every(over, body) } else { Condition::Some(over, body) }, span))
    }

    fn gather(
        &mut self,
        how: tree::Gather,
        value: &Expr,
        over: &Over,
        if_empty: Option<&tree::Measured>,
        span: Span,
        scope: &mut Scope,
    ) -> Option<Lowered> {
        let over = self.enter(over, scope)?;
        let value_node = self.quantity(value, scope);
        scope.loops.pop();
        let (node, dimension) = value_node?;
        let how = match how {
            tree::Gather::Sum => Gather::Sum,
            tree::Gather::Least => Gather::Least,
            tree::Gather::Greatest => Gather::Greatest,
        };
        if how == Gather::Sum && dimension.is_none_or(Dimension::is_point_temperature) {
            self.mismatch(value.span, "a date or a temperature", "something that can be added up");
            return None;
        }
        let empty = match if_empty {
            None => NO_NODE,
            Some(measured) => {
                self.same_dimension(dimension, Some(measured.quantity.dimension()), value.span, measured.span)?;
                self.constant(measured.quantity.range.clone(), dimension, measured.span)
            }
        };
        Some(Lowered::Number(self.number_node(Number::Gather(how, over, node, empty), dimension, span), dimension))
    }

    // ------------------------------------------------------------- arithmetic

    fn arithmetic(&mut self, sign: Sign, left: &Expr, right: &Expr, span: Span, scope: &mut Scope) -> Option<Lowered> {
        let (a, b) = (self.quantity(left, scope), self.quantity(right, scope));
        let ((a, da), (b, db)) = a.zip(b)?;
        let (number, dimension) = match (sign, da, db) {
            (Sign::Minus, None, None) => {
                let days = self.number_node(Number::Subtract(a, b), Some(Dimension::NUMBER), span);
                let day = self.constant(Range::point(Exact::from_int(86_400)), Some(Dimension::NUMBER), span);
                (Number::Multiply(days, day), Dimension::named("time"))
            }
            (Sign::Plus | Sign::Minus, None, Some(time)) if Some(time) == Dimension::named("time") => {
                let day = self.constant(Range::point(Exact::ratio(1, 86_400)?), Some(Dimension::NUMBER), right.span);
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

    fn shift(
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
                    Range::point(Exact::from_int(86_400i64.saturating_mul(i64::from(count)))),
                    Some(dimension),
                    span,
                );
                let sum = if back { Number::Subtract(node, seconds) } else { Number::Add(node, seconds) };
                return Some(Lowered::Number(self.number_node(sum, Some(dimension), span), Some(dimension)));
            }
            self.mismatch(date.span, &format!("a {}", dimension.describe()), "a date");
            return None;
        }
        let shifted = Number::Shift(node, calendar(count, unit, back));
        Some(Lowered::Number(self.number_node(shifted, None, span), None))
    }

    // --------------------------------------------------- formulas and tables

    fn call(&mut self, name: &Name, arguments: &[Expr], span: Span, scope: &mut Scope) -> Option<Lowered> {
        if let Some(built) = self.built_in_function(name, arguments, span, scope) {
            return built;
        }
        let Some((formula, owner)) = self.formulas.get(&name.text).copied() else {
            let known: Vec<String> = self
                .formulas
                .keys()
                .cloned()
                .chain(["larger", "smaller", "absolute", "root"].map(str::to_owned))
                .collect();
            self.unknown("formula", name, known.iter().map(String::as_str));
            return None;
        };
        if scope.calls.contains(&name.text) {
            self.error(
                Diagnostic::error("formula::recursion", format!("the formula `{}` uses itself", name.text))
                    .at(name.span, "here")
                    .at(formula.name.span, "the formula")
                    .help("write it without itself; every pack must come to an end"),
            );
            return None;
        }
        if arguments.len() != formula.parameters.len() {
            self.error(
                Diagnostic::error(
                    "formula::arguments",
                    format!("`{}` takes {} values, not {}", name.text, formula.parameters.len(), arguments.len()),
                )
                .at(span, "here")
                .at(formula.name.span, "the formula")
                .help("give one value for each parameter"),
            );
            return None;
        }
        let mut values = BTreeMap::new();
        for (argument, (parameter, kind)) in arguments.iter().zip(&formula.parameters) {
            let kind = self.kind(kind)?;
            let value = self.value(argument, Some(kind), scope)?;
            if !agrees(value, kind) {
                let what = describe(value);
                let wanted = self.kind_text(kind);
                self.mismatch(argument.span, &what, &wanted);
                return None;
            }
            values.insert(parameter.text.clone(), value);
        }
        let mut inner = Scope {
            pack: owner,
            values,
            loops: scope.loops.iter().map(|(_, list)| (String::new(), *list)).collect(),
            depth: scope.depth,
            calls: scope.calls.clone(),
            began: scope.began,
            ..Scope::default()
        };
        inner.calls.push(name.text.clone());
        let lowered = self.value(&formula.body, None, &mut inner);
        scope.reads.extend(inner.reads);
        scope.reads_lists.extend(inner.reads_lists);
        scope.uses_today |= inner.uses_today;
        scope.confirm |= inner.confirm;
        lowered
    }

    /// `larger`, `smaller`, `absolute`, `root`.
    fn built_in_function(
        &mut self,
        name: &Name,
        arguments: &[Expr],
        span: Span,
        scope: &mut Scope,
    ) -> Option<Option<Lowered>> {
        let of_two: fn(u32, u32) -> Number = match (name.text.as_str(), arguments.len()) {
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

    fn lookup(
        &mut self,
        table: &Name,
        keys: &[Expr],
        column: Option<&Name>,
        span: Span,
        scope: &mut Scope,
    ) -> Option<Lowered> {
        let Some((id, kinds, dimensions)) = self.tables.get(&table.text).cloned() else {
            let known: Vec<String> = self.tables.keys().cloned().collect();
            self.unknown("table", table, known.iter().map(String::as_str));
            return None;
        };
        if keys.len() != kinds.len() {
            self.error(
                Diagnostic::error(
                    "table::keys",
                    format!("the table `{}` has {} keys, not {}", table.text, kinds.len(), keys.len()),
                )
                .at(span, "here")
                .help("give one value for each key"),
            );
            return None;
        }
        let mut found = Vec::new();
        for (key, kind) in keys.iter().zip(&kinds) {
            let value = self.value(key, Some(*kind), scope)?;
            if !agrees(value, *kind) {
                let (what, wanted) = (describe(value), self.kind_text(*kind));
                self.mismatch(key.span, &what, &wanted);
                return None;
            }
            found.push(match value {
                Lowered::Words(operand, _) => Key::Words(operand),
                Lowered::Text(operand) => Key::Text(operand),
                Lowered::Number(node, _) => Key::Number(node),
                Lowered::Truth(_) => return None,
            });
        }
        let names = self.rules.program.tables.get(id as usize).map(|t| t.columns.clone()).unwrap_or_default();
        let at = match column {
            Some(column) => names.iter().position(|name| *name == column.text),
            None if names.len() == 1 => Some(0),
            None => None,
        };
        let Some(at) = at else {
            let name = column.cloned().unwrap_or_else(|| table.clone());
            self.unknown("column", &name, names.iter().map(String::as_str));
            return None;
        };
        let first = u32::try_from(self.rules.program.keys.len()).unwrap_or(u32::MAX);
        self.rules.program.keys.extend(found);
        let dimension = dimensions.get(at).copied().flatten();
        let number = Number::Lookup { table: id, column: u32::try_from(at).unwrap_or(0), keys: first };
        Some(Lowered::Number(self.number_node(number, dimension, span), dimension))
    }

    // ------------------------------------------------------------------ names

    fn named(&mut self, name: &Name, wanted: Option<Kind>, scope: &mut Scope) -> Option<Lowered> {
        if let Some(value) = scope.values.get(&name.text) {
            return Some(*value);
        }
        if let Some((variable, field)) = name.text.split_once('.')
            && let Some(at) = scope.loops.iter().rposition(|(known, _)| known == variable) {
                return self.field(name, at, field, scope);
            }
        if let Some(id) = self.rules.fact_by_name.get(&name.text).copied() {
            let fact = self.rules.fact(id)?;
            if self.sees(scope.pack, fact.pack) {
                let (kind, slot) = (fact.kind, fact.slot);
                scope.reads.insert(id);
                return Some(self.read(Operand::Slot(slot), kind, name.span));
            }
        }
        if let Some(kind) = wanted {
            let words = self.rules.words(kind);
            if let Some(bit) = words.iter().position(|word| *word == name.text) {
                let n = push(&mut self.rules.program.words, 1u64 << bit.min(62));
                return Some(Lowered::Words(Operand::Constant(n), kind));
            }
        }
        let known: Vec<String> = self.rules.fact_by_name.keys().cloned().chain(scope.values.keys().cloned()).collect();
        self.unknown("fact", name, known.iter().map(String::as_str));
        None
    }

    fn field(&mut self, name: &Name, at: usize, field: &str, scope: &Scope) -> Option<Lowered> {
        let (_, list) = scope.loops.get(at)?;
        let fields = &self.rules.list(*list)?.fields;
        let Some(fact) = fields.iter().find(|fact| fact.name == field) else {
            let known: Vec<String> = fields.iter().map(|fact| fact.name.clone()).collect();
            self.unknown("field", &Name { text: field.to_owned(), span: name.span }, known.iter().map(String::as_str));
            return None;
        };
        let operand = Operand::Field { list: list.0, column: fact.slot, frame: u8::try_from(at).unwrap_or(u8::MAX) };
        let kind = fact.kind;
        Some(self.read(operand, kind, name.span))
    }

    fn read(&mut self, operand: Operand, kind: Kind, span: Span) -> Lowered {
        match kind {
            Kind::YesNo | Kind::Choice(_) => Lowered::Words(operand, kind),
            Kind::Text => Lowered::Text(operand),
            Kind::Date => Lowered::Number(self.number_node(Number::Read(operand), None, span), None),
            Kind::Count | Kind::Number(_) => {
                let dimension = Some(if let Kind::Number(dimension) = kind { dimension } else { Dimension::NUMBER });
                Lowered::Number(self.number_node(Number::Read(operand), dimension, span), dimension)
            }
        }
    }

    fn kind_text(&self, kind: Kind) -> String {
        match kind {
            Kind::YesNo => "yes or no".to_owned(),
            Kind::Choice(_) => format!("one of {}", self.rules.words(kind).join(", ")),
            Kind::Text => "a text".to_owned(),
            Kind::Count => "a number".to_owned(),
            Kind::Number(dimension) => format!("a {}", dimension.describe()),
            Kind::Date => "a date".to_owned(),
        }
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
        Lowered::Number(_, dimension) => format!("a {}", kind_words(dimension)),
        Lowered::Words(..) => "a choice of words".to_owned(),
        Lowered::Text(_) => "a text".to_owned(),
    }
}

fn agrees(value: Lowered, kind: Kind) -> bool {
    match (value, kind) {
        (Lowered::Words(_, have), want) => have == want,
        (Lowered::Text(_), Kind::Text) | (Lowered::Number(_, None), Kind::Date) => true,
        (Lowered::Number(_, Some(have)), Kind::Number(want)) => have == want,
        (Lowered::Number(_, Some(have)), Kind::Count) => have == Dimension::NUMBER,
        _ => false,
    }
}
