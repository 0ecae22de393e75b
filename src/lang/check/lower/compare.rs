//! Comparisons: orderings, equality, texts, words.

use super::super::checker::Checker;
use super::{Lowered, Scope, describe};
use crate::diagnostic::Diagnostic;
use crate::ir::{
    AlikePart, AnyColumn, AnyOperand, ChoiceSet, Condition, ConditionId, Confirmed, InStore, Kind, Number, NumberId,
    Operand, Order, Place, Words,
};
use crate::quantity::{Dimension, Exact, ExactInterval, Truth};
use crate::source::Span;
use crate::syntax::ast::{self, ByWhom, Expr, ExprKind, Name, PartOrAll};

impl Checker {
    pub(super) fn comparison(
        &mut self,
        order: ast::Order,
        left: &Expr,
        right: &Expr,
        span: Span,
        scope: &mut Scope,
    ) -> Option<ConditionId> {
        let (a, b) = (self.quantity(left, scope), self.quantity(right, scope));
        let ((a, a_dimension), (b, b_dimension)) = a.zip(b)?;
        self.same_dimension(a_dimension, b_dimension, left.span, right.span)?;
        Some(self.compare(order, a, b, span))
    }

    pub(super) fn compare(&mut self, order: ast::Order, left: NumberId, right: NumberId, span: Span) -> ConditionId {
        let order = match order {
            ast::Order::Less => Order::Less,
            ast::Order::AtMost => Order::AtMost,
            ast::Order::More => Order::More,
            ast::Order::AtLeast => Order::AtLeast,
        };
        self.condition_node(Condition::Compare { order, left, right }, span)
    }

    pub(super) fn is(
        &mut self,
        left: &Expr,
        among: &[Expr],
        negated: bool,
        span: Span,
        scope: &mut Scope,
    ) -> Option<ConditionId> {
        let subject = self.value(left, None, scope)?;
        let node = match subject {
            Lowered::Words(operand, kind) => self.is_words(operand, kind, among, span, scope)?,
            Lowered::Truth(_) => {
                self.mismatch(left.span, "a condition", "a fact to compare");
                return None;
            }
            Lowered::Text(_) | Lowered::Number(..) => {
                let nodes: Vec<_> = among.iter().map(|other| self.equal(subject, left.span, other, scope)).collect();
                let nodes: Vec<ConditionId> = nodes.into_iter().collect::<Option<_>>()?;
                self.join(&nodes, false, span)
            }
        };
        Some(if negated { self.condition_node(Condition::Not(node), span) } else { node })
    }

    pub(super) fn is_words(
        &mut self,
        operand: Operand<Words>,
        kind: Kind,
        among: &[Expr],
        span: Span,
        scope: &mut Scope,
    ) -> Option<ConditionId> {
        let (mut allowed, mut others) = (ChoiceSet::default(), Vec::new());
        for other in among {
            let word = match &other.kind {
                ExprKind::Name(name) => name.as_ref(),
                ExprKind::YesNo(true) => "yes",
                ExprKind::YesNo(false) => "no",
                _ => "",
            };
            let words: Vec<String> = self.rules.words(kind).iter().map(|w| (*w).to_owned()).collect();
            if let Some(bit) = words.iter().position(|known| *known == word) {
                allowed = allowed.or(ChoiceSet::word(bit));
                continue;
            }
            let is_value = scope.values.contains_key(word)
                || word.contains('.')
                || self.rules.fact_by_name.contains_key(self.kept_name(word, scope.pack));
            if is_value {
                if let Some(Lowered::Words(second, second_kind)) = self.value(other, Some(kind), scope)
                    && second_kind == kind
                {
                    others.push(self.condition_node(Condition::SameWords(operand, second), other.span));
                    continue;
                }
                self.mismatch(other.span, "another choice", &format!("one of {}", words.join(", ")));
                return None;
            }
            self.unknown(
                "word",
                &Name { text: self.rules.sources.text(other.span).to_owned().into(), span: other.span },
                words.iter().map(String::as_str),
            );
            return None;
        }
        if !allowed.is_empty() {
            others.push(self.condition_node(Condition::Words(operand, allowed), span));
        }
        Some(self.join(&others, false, span))
    }

    /// `a is within 3 % of b`: no less than 97 % of it and no more than 103 %,
    /// the other way round below zero. Each side has `b` once, so that an
    /// uncertain `b` counts once, and the answer is as narrow as it can be.
    pub(super) fn within_share(
        &mut self,
        value: &Expr,
        share: &ast::Measured,
        of: &Expr,
        span: Span,
        scope: &mut Scope,
    ) -> Option<ConditionId> {
        let (node, dimension) = self.quantity(value, scope)?;
        let (of_node, of_dimension) = self.has_shares(of, scope)?;
        self.same_dimension(dimension, of_dimension, value.span, of.span)?;
        let one = ExactInterval::point(Exact::one());
        let part = share.quantity.range.abs();
        let share_of = |checker: &mut Self, factor: ExactInterval| {
            let factor = checker.constant(factor, Some(Dimension::NUMBER), share.span);
            checker.number_node(Number::Multiply(factor, of_node), dimension, span)
        };
        let (less, more) = (share_of(self, one.sub(&part)), share_of(self, one.add(&part)));
        // Below zero the greater part is the lesser number.
        let mut low = self.number_node(Number::Smaller(less, more), dimension, span);
        let mut high = self.number_node(Number::Larger(less, more), dimension, span);
        if one.less(&part) == Truth::True {
            // Of more than the whole, zero is within whatever the sign: seen only by saying so.
            let zero = self.constant(ExactInterval::point(Exact::zero()), dimension, share.span);
            low = self.number_node(Number::Smaller(low, zero), dimension, span);
            high = self.number_node(Number::Larger(high, zero), dimension, span);
        }
        let above = self.compare(ast::Order::AtLeast, node, low, span);
        let below = self.compare(ast::Order::AtMost, node, high, span);
        Some(self.join(&[above, below], true, span))
    }

    /// `a is b ignoring capitals`, of two texts.
    pub(super) fn same_letters(
        &mut self,
        left: &Expr,
        right: &Expr,
        span: Span,
        scope: &mut Scope,
    ) -> Option<ConditionId> {
        let mut texts = Vec::new();
        for side in [left, right] {
            match self.value(side, None, scope)? {
                Lowered::Text(operand) => texts.push(operand),
                other => self.mismatch(side.span, &describe(other), "a text"),
            }
        }
        let [one, other] = texts.as_slice() else { return None };
        Some(self.condition_node(Condition::SameLetters(*one, *other), span))
    }

    pub(super) fn equal(
        &mut self,
        left: Lowered,
        left_span: Span,
        right: &Expr,
        scope: &mut Scope,
    ) -> Option<ConditionId> {
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

    /// A fact or field named as such.
    pub(super) fn stored(&mut self, expr: &Expr, scope: &mut Scope) -> Option<AnyOperand> {
        match self.value(expr, None, scope)? {
            Lowered::Words(operand, _) => Some(InStore::Words(operand)),
            Lowered::Text(operand) => Some(InStore::Texts(operand)),
            Lowered::Number(node, _) => match self.rules.program.numbers.get(node) {
                Some(Number::Read(operand @ (Operand::Slot(_) | Operand::Field { .. }))) => {
                    Some(InStore::Numbers(*operand))
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

    pub(super) fn fits(&mut self, text: &Expr, pattern: &Name, span: Span, scope: &mut Scope) -> Option<ConditionId> {
        let value = self.value(text, None, scope)?;
        let Lowered::Text(operand) = value else {
            let what = describe(value);
            self.mismatch(text.span, &what, "a text");
            return None;
        };
        let id = self.patterns.get(pattern.as_str()).copied().filter(|_| self.in_sight("pattern", pattern));
        let Some(id) = id else {
            let known: Vec<_> = self.patterns.keys().cloned().collect();
            self.unknown("pattern", pattern, known.iter().map(AsRef::as_ref));
            return None;
        };
        Some(self.condition_node(Condition::Fits(operand, id), span))
    }

    pub(super) fn alike(&mut self, parts: &[(bool, Name)], span: Span, scope: &mut Scope) -> Option<ConditionId> {
        let mut found = Vec::new();
        for (every, name) in parts {
            if *every {
                let (list, field) = name.text.rsplit_once('.')?;
                let Some(id) = self.list_named(&Name { text: list.to_owned().into(), span: name.span }, scope) else {
                    continue;
                };
                let field = self.rules.list(id).and_then(|list| list.fields.iter().find(|f| f.name == field));
                match field.map(|field| field.slot) {
                    Some(Place::Column(AnyColumn::Texts(column))) => found.push(AlikePart::Every { list: id, column }),
                    _ => self.mismatch(name.span, "no text of that list", "a text field of the list"),
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
        let parts = self.rules.program.alikes.push(found);
        Some(self.condition_node(Condition::Alike(parts), span))
    }

    pub(super) fn confirmed(
        &mut self,
        by: &ByWhom,
        about: &[PartOrAll],
        since: Option<&Expr>,
        span: Span,
        scope: &mut Scope,
    ) -> Option<ConditionId> {
        scope.confirm = true;
        // A word given later than the day judged does not count on that day.
        scope.uses_today = true;
        let (roles, other_than) = (self.role_bits(&by.roles), self.role_bits(&by.other_than));
        let since = self.day(since, scope)?;
        let parts: Vec<_> = about.iter().map(|one| self.part_or_all(one)).collect();
        let about = if parts.is_empty() { None } else { Some(self.rules.program.abouts.push(parts)) };
        let need = self.rules.program.confirmed.push(Confirmed { roles, other_than, about, since });
        Some(self.condition_node(Condition::Confirmed(need), span))
    }

    /// A day that something is to be after, if one is asked for: an error leaves `None` alone.
    pub(super) fn day(&mut self, day: Option<&Expr>, scope: &mut Scope) -> Option<Option<NumberId>> {
        let Some(day) = day else { return Some(None) };
        let (node, dimension) = self.quantity(day, scope)?;
        if dimension.is_some() {
            self.mismatch(day.span, "no date", "a date");
            return None;
        }
        Some(Some(node))
    }

    /// `a is after b`: two things that happened in an order that matters.
    pub(super) fn is_after(
        &mut self,
        later: &Expr,
        earlier: &Expr,
        span: Span,
        scope: &mut Scope,
    ) -> Option<ConditionId> {
        let (later, earlier) = (self.day(Some(later), scope), self.day(Some(earlier), scope));
        let (later, earlier) = (later??, earlier??);
        Some(self.condition_node(Condition::After(later, earlier), span))
    }

    /// `p is somebody other than builder`.
    pub(super) fn somebody_else(
        &mut self,
        person: &Expr,
        roles: &[Name],
        span: Span,
        scope: &mut Scope,
    ) -> Option<ConditionId> {
        let roles = self.role_bits(roles);
        let operand = match self.stored(person, scope)? {
            AnyOperand::Texts(operand) => operand,
            _ => {
                self.mismatch(person.span, "no person", "a fact or field of the kind `person`");
                return None;
            }
        };
        Some(self.condition_node(Condition::SomebodyElse(operand, roles), span))
    }

    /// A need of the log can be met: by somebody, and by people who sign.
    pub(super) fn can_be_signed(&mut self, people: Option<u32>, roles: &[Name], span: Span) {
        if people == Some(0) {
            let message = Diagnostic::error("log::nobody", "what nobody needs to have done shows nothing");
            self.error(message.at(span, "by 0 people").help("write how many people it takes, at least 1"));
        }
        for name in roles {
            let Some(role) = self.rules.roles.iter().find(|role| role.name == name.text && !role.signs) else {
                continue;
            };
            let message = format!("a `{}` never signs, so this could never be met", name.text);
            let message = Diagnostic::error("log::never-signs", message).at(name.span, "this role");
            self.messages.push(message.at(role.place, "declared here").help("name roles that sign, or none"));
        }
    }
}
