//! Formulas, written out where they are used, and lookups in tables.

use super::super::checker::Checker;
use super::{Lowered, Scope, agrees, describe};
use crate::diagnostic::Diagnostic;
use crate::ir::{ChoiceSet, Key, Kind, Number, Operand, PackId, Sameness, TableColumn};
use crate::quantity::{Dimension, Exact, ExactInterval};
use crate::source::{SharedText, Span};
use crate::syntax::ast::{Expr, Name};
use std::collections::BTreeMap;

impl Checker {
    pub(super) fn call(&mut self, name: &Name, arguments: &[Expr], span: Span, scope: &mut Scope) -> Option<Lowered> {
        if let Some(built) = self.built_in_function(name, arguments, span, scope) {
            return built;
        }
        let found = self.formulas.get(name.as_str()).cloned().filter(|_| self.in_sight("formula", name));
        let Some((formula, owner)) = found else {
            let known: Vec<_> = self.formulas.keys().cloned().collect();
            self.unknown(
                "formula",
                name,
                known.iter().map(AsRef::as_ref).chain(["larger", "smaller", "absolute", "root"]),
            );
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
            values,
            loops: scope.loops.iter().map(|(_, list)| (SharedText::default(), *list)).collect(),
            depth: scope.depth,
            calls: scope.calls.clone(),
            began: scope.began,
            ..Scope::of(owner)
        };
        inner.calls.push(name.text.clone());
        let lowered = self.value(&formula.body, None, &mut inner);
        scope.reads.extend(inner.reads);
        scope.reads_lists.extend(inner.reads_lists);
        scope.uses_today |= inner.uses_today;
        scope.confirm |= inner.confirm;
        lowered
    }

    /// Checks each formula of the packs from that place on by itself, whether or
    /// not anything calls it. What that adds to the program is taken out again.
    pub(crate) fn all_formulas(&mut self, from: PackId) {
        let formulas: Vec<_> = self.formulas.values().filter(|(_, pack)| *pack >= from).cloned().collect();
        if formulas.is_empty() {
            return;
        }
        let before = (self.rules.program.clone(), self.texts.clone(), self.costs.clone(), self.read_records.clone());
        for (formula, pack) in formulas {
            let began = self.rules.program.conditions.len().saturating_add(self.rules.program.numbers.len());
            let mut scope = Scope { began, calls: vec![formula.name.text.clone()], ..Scope::of(pack) };
            for (parameter, kind) in &formula.parameters {
                self.parameter_is_free(parameter, &scope);
                if let Some(value) = self.kind(kind).map(|kind| self.stand_in(kind, parameter.span)) {
                    scope.values.insert(parameter.text.clone(), value);
                }
            }
            if scope.values.len() == formula.parameters.len() {
                self.value(&formula.body, None, &mut scope);
            }
        }
        (self.rules.program, self.texts, self.costs, self.read_records) = before;
    }

    /// Something of a kind, in place of what a formula will be given. Numbers
    /// are one: a divisor is judged where the formula is called.
    fn stand_in(&mut self, kind: Kind, span: Span) -> Lowered {
        match kind {
            Kind::YesNo | Kind::Choice(_) => {
                let n = self.rules.program.words.push(ChoiceSet::word(0));
                Lowered::Words(Operand::Constant(n), kind)
            }
            Kind::Text | Kind::Named(_) => Lowered::Text(Operand::Constant(self.constant_text(&SharedText::default()))),
            Kind::Count | Kind::Number(_) | Kind::Date => {
                let dimension = match kind {
                    Kind::Number(dimension) => Some(dimension),
                    Kind::Count => Some(Dimension::NUMBER),
                    _ => None,
                };
                Lowered::Number(self.constant(ExactInterval::point(Exact::one()), dimension, span), dimension)
            }
        }
    }

    pub(super) fn lookup(
        &mut self,
        table: &Name,
        keys: &[Expr],
        column: Option<&Name>,
        span: Span,
        scope: &mut Scope,
    ) -> Option<Lowered> {
        let found = self.tables.get(table.as_str()).cloned().filter(|_| self.in_sight("table", table));
        let Some((id, kinds, dimensions)) = found else {
            let known: Vec<_> = self.tables.keys().cloned().collect();
            self.unknown("table", table, known.iter().map(AsRef::as_ref));
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
        let names = self.rules.program.tables.get(id).map(|t| t.columns.clone()).unwrap_or_default();
        let at = match column {
            Some(column) => names.iter().position(|name| *name == column.text),
            None if names.len() == 1 => Some(0),
            None => None,
        };
        let Some(at) = at else {
            let name = column.cloned().unwrap_or_else(|| table.clone());
            self.unknown("column", &name, names.iter().map(AsRef::as_ref));
            return None;
        };
        let keys = self.rules.program.keys.push(found);
        let dimension = dimensions.get(at).copied().flatten();
        let number = Number::Lookup { table: id, column: TableColumn::new(at), keys, same: Sameness::Never };
        Some(Lowered::Number(self.number_node(number, dimension, span), dimension))
    }
}
