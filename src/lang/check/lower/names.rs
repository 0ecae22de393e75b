//! What a name means where it stands.

use super::super::checker::Checker;
use super::{Lowered, Scope};
use crate::diagnostic::with_article;
use crate::ir::{AnyOperand, ChoiceSet, InStore, Kind, LoopId, Number, Operand, Place};
use crate::quantity::Dimension;
use crate::source::Span;
use crate::syntax::ast::Name;

impl Checker {
    pub(super) fn named(&mut self, name: &Name, wanted: Option<Kind>, scope: &mut Scope) -> Option<Lowered> {
        if let Some(value) = scope.values.get(name.as_str()) {
            return Some(*value);
        }
        if let Some((variable, field)) = name.text.split_once('.')
            && let Some(at) = scope.loops.iter().rposition(|(known, _)| known == variable)
        {
            return self.field(name, at, field, scope);
        }
        if let Some(id) = self.rules.fact_by_name.get(self.kept_name(name.as_str(), scope.pack)).copied() {
            let fact = self.rules.fact(id)?;
            if self.sees(scope.pack, fact.pack) {
                let (kind, Place::Slot(slot)) = (fact.kind, fact.slot) else { return None };
                scope.reads.insert(id);
                return Some(self.read(AnyOperand::slot(slot), kind, name.span));
            }
        }
        if let Some(kind) = wanted {
            let words = self.rules.words(kind);
            if let Some(bit) = words.iter().position(|word| *word == name.text) {
                let n = self.rules.program.words.push(ChoiceSet::word(bit));
                return Some(Lowered::Words(Operand::Constant(n), kind));
            }
        }
        let known: Vec<_> = self.rules.fact_by_name.keys().cloned().collect();
        let values = scope.values.keys().map(AsRef::as_ref);
        self.unknown("fact", name, known.iter().map(AsRef::as_ref).chain(values));
        None
    }

    pub(super) fn field(&mut self, name: &Name, at: usize, field: &str, scope: &Scope) -> Option<Lowered> {
        let (_, list) = scope.loops.get(at)?;
        let fields = &self.rules.list(*list)?.fields;
        let Some(fact) = fields.iter().find(|fact| fact.name == field) else {
            let known: Vec<_> = fields.iter().map(|fact| fact.name.clone()).collect();
            self.unknown(
                "field",
                &Name { text: field.to_owned().into(), span: name.span },
                known.iter().map(AsRef::as_ref),
            );
            return None;
        };
        let (kind, Place::Column(column)) = (fact.kind, fact.slot) else { return None };
        Some(self.read(AnyOperand::field(*list, column, LoopId::new(at)), kind, name.span))
    }

    pub(super) fn read(&mut self, operand: AnyOperand, kind: Kind, span: Span) -> Lowered {
        match operand {
            InStore::Words(operand) => Lowered::Words(operand, kind),
            InStore::Texts(operand) => Lowered::Text(operand),
            InStore::Numbers(operand) => {
                let dimension = match kind {
                    Kind::Number(dimension) => Some(dimension),
                    Kind::Date => None,
                    Kind::Count | Kind::YesNo | Kind::Choice(_) | Kind::Text | Kind::Named(_) => {
                        Some(Dimension::NUMBER)
                    }
                };
                Lowered::Number(self.number_node(Number::Read(operand), dimension, span), dimension)
            }
        }
    }

    pub(super) fn kind_text(&self, kind: Kind) -> String {
        match kind {
            Kind::YesNo => "yes or no".to_owned(),
            Kind::Choice(_) => format!("one of {}", self.rules.words(kind).join(", ")),
            Kind::Text => "a text".to_owned(),
            Kind::Named(named) => with_article(named.word()),
            Kind::Count => "a number".to_owned(),
            Kind::Number(dimension) => with_article(&dimension.describe()),
            Kind::Date => "a date".to_owned(),
        }
    }
}
