//! What a node costs to evaluate, known before anything runs. A named value
//! used twice is worked out twice, so doubling again and again must be seen.

use super::super::checker::Checker;
use crate::diagnostic::Diagnostic;
use crate::ir::{Child, Condition, ConditionId, Number, NumberId};
use crate::source::Span;

/// Steps that one condition may come to; a list counts as one record.
const MAX_STEPS: u64 = 50_000;

impl Checker {
    /// An error the first time a node costs too much.
    pub(super) fn bounded(&mut self, cost: u64, span: Span) {
        let told = self.messages.iter().any(|message| message.code == "program::too-costly");
        if cost > MAX_STEPS && !told {
            self.error(
                Diagnostic::error("program::too-costly", format!("this takes more than {MAX_STEPS} steps to work out"))
                    .at(span, "too much here")
                    .help("a named value is worked out each time it is used; name less, or split the item"),
            );
        }
    }

    /// Whether a number costs more than any may; it has its message already.
    pub(in crate::check) fn costs_too_much(&self, node: NumberId) -> bool {
        self.of_number(node) > MAX_STEPS
    }

    fn of_number(&self, node: NumberId) -> u64 {
        self.costs.0.get(node).copied().unwrap_or(1)
    }

    fn of_condition(&self, node: ConditionId) -> u64 {
        self.costs.1.get(node).copied().unwrap_or(1)
    }

    fn of_child(&self, child: Child) -> u64 {
        match child {
            Child::Condition(node) => self.of_condition(node),
            Child::Number(node) | Child::IfEmpty(node) => self.of_number(node),
            Child::Records(over) => over.condition.map_or(0, |condition| self.of_condition(condition)),
            Child::Read(_) | Child::Column { .. } => 1,
        }
    }

    /// A step for itself, and those of what it is made of.
    pub(super) fn number_cost(&self, number: Number) -> u64 {
        let children = self.rules.program.children_of_number(number);
        // A value by itself is looked up in the one step.
        let children = children.filter(|_| !matches!(number, Number::Read(_)));
        children.map(|child| self.of_child(child)).fold(1, u64::saturating_add)
    }

    /// The same; what only looks at values takes a second step, however many they are.
    pub(super) fn condition_cost(&self, condition: Condition) -> u64 {
        let children = self.rules.program.children_of_condition(condition);
        let mut children = children.filter(|child| !matches!(child, Child::Read(_) | Child::Column { .. })).peekable();
        match children.peek() {
            None => 2,
            Some(_) => children.map(|child| self.of_child(child)).fold(1, u64::saturating_add),
        }
    }
}
