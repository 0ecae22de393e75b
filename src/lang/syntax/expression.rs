//! Expressions: pest's pairs to the tree.

use super::Rule;
use super::ast::{Aggregate, ByWhom, Expr, ExprKind, Measured, Name, Order, Over, Sign, SpanUnit};
use super::build::{Builder, Fault, Node, next, next_if, parts, unreachable_fault};
use crate::diagnostic::Diagnostic;
use crate::source::Span;
use crate::vocabulary::Event;

/// The most terms a sum or product is written with.
const MAX_TERMS: usize = 64;

impl<'i> Builder<'i> {
    /// `a or b`, down to single operands.
    pub(super) fn expression(&self, pair: Node<'i>) -> Result<Expr, Fault> {
        let span = self.span(&pair);
        match pair.as_rule() {
            Rule::expression => self.joined(pair, span, ExprKind::Or),
            Rule::conjunction => self.joined(pair, span, ExprKind::And),
            Rule::negation => {
                let (mut negated, mut body) = (false, None);
                for inner in pair.into_inner() {
                    if inner.as_rule() == Rule::kw_not {
                        negated = !negated;
                    } else {
                        body = Some(self.expression(inner)?);
                    }
                }
                let body = body.ok_or_else(unreachable_fault)?;
                Ok(if negated { Expr { kind: ExprKind::Not(Box::new(body)), span } } else { body })
            }
            Rule::comparison => {
                let mut inner = pair.into_inner();
                let left = self.expression(next(&mut inner)?)?;
                match inner.next() {
                    Some(relation) => self.relation(left, relation, span),
                    None => Ok(left),
                }
            }
            Rule::sum | Rule::product => self.arithmetic(pair),
            Rule::alternative | Rule::operand => {
                let rule = pair.as_rule();
                let inner = parts_with_values(pair).into_iter().next().ok_or_else(unreachable_fault)?;
                if rule == Rule::operand { self.operand(inner) } else { self.expression(inner) }
            }
            _ => self.operand(pair),
        }
    }

    fn joined(&self, pair: Node<'i>, span: Span, join: fn(Vec<Expr>) -> ExprKind) -> Result<Expr, Fault> {
        let mut sides = parts(pair).into_iter().map(|p| self.expression(p)).collect::<Result<Vec<_>, _>>()?;
        if sides.len() == 1 {
            return sides.pop().ok_or_else(unreachable_fault);
        }
        Ok(Expr { kind: join(sides), span })
    }

    fn relation(&self, left: Expr, pair: Node<'i>, span: Span) -> Result<Expr, Fault> {
        let mut inner = pair.into_inner();
        let form = next(&mut inner)?;
        let left = Box::new(left);
        let rule = form.as_rule();
        if rule == Rule::ordering {
            let op = next(&mut form.into_inner())?.as_rule();
            let order = match op {
                Rule::op_at_most => Order::AtMost,
                Rule::op_at_least => Order::AtLeast,
                Rule::op_less => Order::Less,
                _ => Order::More,
            };
            let right = Box::new(self.expression(next(&mut inner)?)?);
            return Ok(Expr { kind: ExprKind::Compare(order, left, right), span });
        }
        let mut operands = parts(form).into_iter();
        let mut operand = || operands.next().ok_or_else(unreachable_fault);
        let kind = match rule {
            Rule::fits => ExprKind::Fits(left, self.name(&operand()?)),
            Rule::is_between => {
                ExprKind::Between(left, Box::new(self.expression(operand()?)?), Box::new(self.expression(operand()?)?))
            }
            Rule::is_within => {
                let distance = operand()?;
                if distance.as_rule() == Rule::percentage {
                    let share = Box::new(self.measured(&distance)?);
                    ExprKind::WithinShare(left, share, Box::new(self.expression(operand()?)?))
                } else {
                    let distance = Box::new(self.expression(distance)?);
                    ExprKind::Within(left, distance, Box::new(self.expression(operand()?)?))
                }
            }
            Rule::is_within_last => {
                let count = self.whole(&operand()?)?;
                ExprKind::WithinLast(left, count, span_unit(operand()?)?)
            }
            Rule::is_after => ExprKind::After(left, Box::new(self.expression(operand()?)?)),
            Rule::is_somebody_else => ExprKind::SomebodyElse(left, self.names(operand()?)),
            Rule::is_recorded => ExprKind::Recorded(left),
            Rule::is_none => ExprKind::IsNone(left, false),
            Rule::is_not_none => ExprKind::IsNone(left, true),
            Rule::is_ignoring => ExprKind::SameLetters(left, Box::new(self.expression(operand()?)?)),
            Rule::is | Rule::is_not => {
                ExprKind::Is { left, right: Box::new(self.expression(operand()?)?), negated: rule == Rule::is_not }
            }
            _ => ExprKind::OneOf {
                left,
                among: operands.map(|p| self.expression(p)).collect::<Result<_, _>>()?,
                negated: rule == Rule::is_not_one_of,
            },
        };
        Ok(Expr { kind, span })
    }

    pub(super) fn whole(&self, pair: &Node<'_>) -> Result<u32, Fault> {
        pair.as_str().parse().ok().filter(|n| *n <= 100_000).ok_or_else(|| {
            Box::new(
                Diagnostic::error(
                    "number::too-large",
                    format!("`{}` is too large a number", pair.as_str().get(..12).unwrap_or(pair.as_str())),
                )
                .at(self.span(pair), "this number")
                .help("write a smaller one"),
            )
        })
    }

    fn arithmetic(&self, pair: Node<'i>) -> Result<Expr, Fault> {
        let mut inner = pair.into_inner();
        let mut left = self.expression(next(&mut inner)?)?;
        let mut terms = 0usize;
        while let Some(op) = inner.next() {
            terms = terms.saturating_add(1);
            if terms > MAX_TERMS {
                let message = Diagnostic::error("syntax::nesting", format!("this has more than {MAX_TERMS} terms"));
                return Err(Box::new(
                    message
                        .at(self.span(&op), "one too many")
                        .help("add up a list with `sum of`, or name parts with `let`"),
                ));
            }
            let sign = match op.as_rule() {
                Rule::op_plus => Sign::Plus,
                Rule::op_minus => Sign::Minus,
                Rule::op_times => Sign::Times,
                _ => Sign::Divide,
            };
            let right = next(&mut inner)?;
            let span = left.span.to(self.span(&right));
            left = if right.as_rule() == Rule::calendar_span {
                let mut parts = right.into_inner();
                let count = self.whole(&next(&mut parts)?)?;
                let unit = span_unit(next(&mut parts)?)?;
                Expr { kind: ExprKind::Shift(Box::new(left), sign == Sign::Minus, count, unit), span }
            } else {
                let right = self.expression(right)?;
                Expr { kind: ExprKind::Arithmetic(sign, Box::new(left), Box::new(right)), span }
            };
        }
        Ok(left)
    }

    fn logged(&self, pair: Node<'i>) -> Result<ExprKind, Fault> {
        let mut inner = pair.into_inner();
        let verb = event(next(&mut inner)?.as_rule());
        let subject = self.name(&next(&mut inner)?);
        let (mut people, mut by, mut points, mut since) = (None, ByWhom::default(), Vec::new(), None);
        for part in inner {
            match part.as_rule() {
                Rule::whole => people = Some(self.whole(&part)?),
                Rule::in_role => by.roles = self.names(part),
                Rule::other_than => by.other_than = self.names(part),
                Rule::since => since = Some(self.since(part)?),
                Rule::noting => points = parts(part).iter().map(|p| self.name(p)).collect(),
                _ => {}
            }
        }
        Ok(ExprKind::Logged { event: verb, subject, people, by, points, since })
    }

    fn confirmed(&self, pair: Node<'i>) -> Result<ExprKind, Fault> {
        let (mut by, mut about, mut since) = (ByWhom::default(), Vec::new(), None);
        for part in parts(pair) {
            match part.as_rule() {
                Rule::about => about = parts(part).iter().map(|part| self.part_or_all(part)).collect(),
                Rule::other_than => by.other_than = self.names(part),
                Rule::since => since = Some(self.since(part)?),
                _ => by.roles.push(self.name(&part)),
            }
        }
        Ok(ExprKind::Confirmed { by, about, since })
    }

    /// The names that a node is made of.
    pub(super) fn names(&self, pair: Node<'i>) -> Vec<Name> {
        parts(pair).iter().map(|part| self.name(part)).collect()
    }

    fn since(&self, pair: Node<'i>) -> Result<Box<Expr>, Fault> {
        let [date] = self.exactly(parts(pair))?;
        Ok(Box::new(self.expression(date)?))
    }

    fn operand(&self, pair: Node<'i>) -> Result<Expr, Fault> {
        let span = self.span(&pair);
        let kind = match pair.as_rule() {
            Rule::group => {
                let inner = parts(pair).into_iter().next().ok_or_else(unreachable_fault)?;
                // Its text keeps the parentheses, so that reasons read as written.
                return Ok(Expr { span, ..self.expression(inner)? });
            }
            Rule::quantified => return self.quantified(pair, span),
            Rule::aggregate | Rule::mean | Rule::count => return self.gathered(pair, span),
            Rule::alike => ExprKind::Alike(parts(pair).into_iter().filter_map(|part| self.alike_part(part)).collect()),
            Rule::confirmed => self.confirmed(pair)?,
            Rule::logged => self.logged(pair)?,
            Rule::percent_of => {
                let [percentage, of] = self.exactly(parts(pair))?;
                ExprKind::PercentOf(Box::new(self.measured(&percentage)?), Box::new(self.expression(of)?))
            }
            Rule::date => ExprKind::Date(self.date(&pair)?),
            Rule::measured => ExprKind::Measured(Box::new(self.measured(&pair)?)),
            Rule::string => ExprKind::Text(self.string(&pair).text),
            Rule::kw_yes => ExprKind::YesNo(true),
            Rule::kw_no => ExprKind::YesNo(false),
            Rule::kw_today => ExprKind::Today,
            Rule::call => {
                let mut parts = parts(pair).into_iter();
                let name = parts.next().ok_or_else(unreachable_fault)?;
                ExprKind::Call(self.name(&name), parts.map(|p| self.expression(p)).collect::<Result<_, _>>()?)
            }
            Rule::lookup => {
                let mut parts = parts(pair);
                let column = match parts.last() {
                    Some(last) if last.as_rule() == Rule::column => {
                        parts.pop().and_then(|c| c.into_inner().next()).map(|c| self.name(&c))
                    }
                    _ => None,
                };
                let mut parts = parts.into_iter();
                let table = parts.next().ok_or_else(unreachable_fault)?;
                ExprKind::Lookup {
                    table: self.name(&table),
                    keys: parts.map(|p| self.expression(p)).collect::<Result<_, _>>()?,
                    column,
                }
            }
            _ => ExprKind::Name(pair.as_str().to_owned().into()),
        };
        Ok(Expr { kind, span })
    }

    fn alike_part(&self, pair: Node<'i>) -> Option<(bool, Name)> {
        let mut inner = pair.into_inner();
        let every = next_if(&mut inner, Rule::kw_every).is_some();
        Some((every, self.name(&inner.next()?)))
    }

    fn quantified(&self, pair: Node<'i>, span: Span) -> Result<Expr, Fault> {
        let mut inner = pair.into_inner();
        let every = next(&mut inner)?.as_rule() == Rule::kw_every;
        let mut parts = inner.filter(|p| !matches!(p.as_rule(), Rule::kw_in | Rule::kw_has));
        let variable = self.name(&parts.next().ok_or_else(unreachable_fault)?);
        let list = self.name(&parts.next().ok_or_else(unreachable_fault)?);
        let (mut condition, mut body) = (None, None);
        for part in parts {
            match part.as_rule() {
                Rule::where_part => condition = self.where_part(part)?,
                _ => body = Some(Box::new(self.expression(part)?)),
            }
        }
        let body = body.ok_or_else(unreachable_fault)?;
        Ok(Expr {
            kind: ExprKind::Quantified { every, over: Box::new(Over { variable, list, condition }), body },
            span,
        })
    }

    /// The condition behind `where`.
    fn where_part(&self, pair: Node<'i>) -> Result<Option<Box<Expr>>, Fault> {
        Ok(parts(pair).into_iter().next().map(|part| self.expression(part)).transpose()?.map(Box::new))
    }

    /// `sum of`, `least of`, `greatest of`, `mean of`, `count`.
    fn gathered(&self, pair: Node<'i>, span: Span) -> Result<Expr, Fault> {
        let rule = pair.as_rule();
        let (mut values, mut names, mut condition, mut if_empty): (Vec<Expr>, Vec<Name>, _, Option<Box<Measured>>) =
            (Vec::new(), Vec::new(), None, None);
        let mut how = Aggregate::Sum;
        for part in pair.into_inner() {
            match part.as_rule() {
                Rule::kw_least_of => how = Aggregate::Least,
                Rule::kw_greatest_of => how = Aggregate::Greatest,
                Rule::sum => values.push(self.expression(part)?),
                Rule::name => names.push(self.name(&part)),
                Rule::where_part => condition = self.where_part(part)?,
                Rule::if_empty => if_empty = parts(part).first().map(|p| self.measured(p)).transpose()?.map(Box::new),
                _ => {}
            }
        }
        let (mut names, mut values) = (names.into_iter(), values.into_iter());
        let (Some(variable), Some(list)) = (names.next(), names.next()) else { return Err(unreachable_fault()) };
        let over = Box::new(Over { variable, list, condition });
        let mut value = || values.next().map(Box::new).ok_or_else(unreachable_fault);
        let kind = match rule {
            Rule::count => ExprKind::Count(over),
            Rule::mean => ExprKind::Mean { value: value()?, weight: value()?, over },
            _ => ExprKind::Aggregate { how, value: value()?, over, if_empty },
        };
        Ok(Expr { kind, span })
    }
}

/// The inner pairs of an operand: here `yes`, `no` and `today` are values, not tokens.
fn parts_with_values(pair: Node<'_>) -> Vec<Node<'_>> {
    let keep = |rule: Rule| !matches!(rule, Rule::op_open | Rule::op_close);
    pair.into_inner().filter(|inner| keep(inner.as_rule())).collect()
}

fn span_unit(pair: Node<'_>) -> Result<SpanUnit, Fault> {
    Ok(match next(&mut pair.into_inner())?.as_rule() {
        Rule::kw_calendar_months => SpanUnit::CalendarMonths,
        Rule::kw_months => SpanUnit::Months,
        Rule::kw_years => SpanUnit::Years,
        _ => SpanUnit::Days,
    })
}

/// The event of its keyword.
pub(super) fn event(keyword: Rule) -> Event {
    match keyword {
        Rule::kw_inspected => Event::Inspected,
        Rule::kw_tested => Event::Tested,
        Rule::kw_measured => Event::Measured,
        Rule::kw_removed => Event::Removed,
        Rule::kw_refitted => Event::Refitted,
        Rule::kw_adjusted => Event::Adjusted,
        Rule::kw_opened => Event::Opened,
        Rule::kw_closed => Event::Closed,
        _ => Event::WorkDone,
    }
}
