//! Lists: quantifiers and what is gathered from records.

use super::super::checker::Checker;
use super::reach::Part;
use super::{Lowered, Scope};
use crate::diagnostic::Diagnostic;
use crate::ir::{Aggregate, Condition, ConditionId, ListId, Loop, LoopId, MAX_FRAMES, Number, Sameness};
use crate::quantity::Dimension;
use crate::source::Span;
use crate::syntax::ast::{self, Expr, Name, Over};

impl Checker {
    pub(in crate::check) fn list_named(&mut self, name: &Name, scope: &mut Scope) -> Option<ListId> {
        let found = self.rules.list_by_name.get(self.kept_name(name.as_str(), scope.pack)).copied();
        let found = found.filter(|id| self.rules.list(*id).is_some_and(|list| self.sees(scope.pack, list.pack)));
        if found.is_none() {
            let known: Vec<_> = self.rules.list_by_name.keys().cloned().collect();
            self.unknown("list", name, known.iter().map(AsRef::as_ref));
        }
        scope.reads_lists.extend(found);
        found
    }

    /// Opens a loop; the caller closes it with `scope.loops.pop()`.
    pub(super) fn enter(&mut self, over: &Over, scope: &mut Scope) -> Option<Loop> {
        let list = self.list_named(&over.list, scope)?;
        if scope.loops.len() >= MAX_FRAMES {
            self.error(
                Diagnostic::error("program::too-costly", format!("lists are nested more than {MAX_FRAMES} deep"))
                    .at(over.list.span, "one too many")
                    .help("use a `let`, or two items"),
            );
            return None;
        }
        self.variable_is_free(&over.variable, scope);
        let frame = LoopId::new(scope.loops.len());
        scope.loops.push((over.variable.text.clone(), list));
        let condition = match &over.condition {
            None => None,
            Some(condition) => match self.condition(condition, scope) {
                Some(node) => {
                    self.each_part_reads_a_record(condition, node, Part::Where, (&over.variable, scope));
                    Some(node)
                }
                None => {
                    scope.loops.pop();
                    return None;
                }
            },
        };
        // Known when all of the node is.
        Some(Loop { list, frame, condition, same: Sameness::Never })
    }

    pub(super) fn quantified(
        &mut self,
        every: bool,
        over: &Over,
        body: &Expr,
        span: Span,
        scope: &mut Scope,
    ) -> Option<ConditionId> {
        let record = &over.variable;
        let over = self.enter(over, scope)?;
        let node = self.condition(body, scope);
        if let Some(node) = node {
            self.each_part_reads_a_record(body, node, Part::Has, (record, scope));
        }
        scope.loops.pop();
        let body = node?;
        Some(self.condition_node(if every { Condition::Every(over, body) } else { Condition::Some(over, body) }, span))
    }

    pub(super) fn gather(
        &mut self,
        how: ast::Aggregate,
        value: &Expr,
        over: &Over,
        if_empty: Option<&ast::Measured>,
        span: Span,
        scope: &mut Scope,
    ) -> Option<Lowered> {
        let over = self.enter(over, scope)?;
        let value_node = self.quantity(value, scope);
        scope.loops.pop();
        let (node, dimension) = value_node?;
        let how = match how {
            ast::Aggregate::Sum => Aggregate::Sum,
            ast::Aggregate::Least => Aggregate::Least,
            ast::Aggregate::Greatest => Aggregate::Greatest,
        };
        if how == Aggregate::Sum && dimension.is_none_or(Dimension::is_point_temperature) {
            self.mismatch(value.span, "a date or a temperature", "something that can be added up");
            return None;
        }
        let empty = match if_empty {
            None => None,
            Some(measured) => {
                self.same_dimension(dimension, Some(measured.quantity.dimension()), value.span, measured.span)?;
                Some(self.constant(measured.quantity.range.clone(), dimension, measured.span))
            }
        };
        Some(Lowered::Number(self.number_node(Number::Aggregate(how, over, node, empty), dimension, span), dimension))
    }
}
