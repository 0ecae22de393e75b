//! What a node costs to evaluate, known before anything runs. A named value
//! used twice is worked out twice, so doubling again and again must be seen.

use super::super::checker::Checker;
use crate::diagnostic::Diagnostic;
use crate::ir::{Condition, Key, Loop, NO_NODE, Number};
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
    pub(in crate::check) fn costs_too_much(&self, node: u32) -> bool {
        self.of_number(node) > MAX_STEPS
    }

    fn of_number(&self, node: u32) -> u64 {
        if node == NO_NODE { 0 } else { self.costs.0.get(node as usize).copied().unwrap_or(1) }
    }

    fn of_condition(&self, node: u32) -> u64 {
        if node == NO_NODE { 0 } else { self.costs.1.get(node as usize).copied().unwrap_or(1) }
    }

    fn of_loop(&self, over: Loop) -> u64 {
        self.of_condition(over.condition)
    }

    pub(super) fn number_cost(&self, number: Number) -> u64 {
        let parts = match number {
            Number::Read(_) | Number::Today => 0,
            Number::Add(a, b)
            | Number::Subtract(a, b)
            | Number::Multiply(a, b)
            | Number::Divide(a, b)
            | Number::Larger(a, b)
            | Number::Smaller(a, b) => self.of_number(a).saturating_add(self.of_number(b)),
            Number::Absolute(a) | Number::Root(a) | Number::Shift(a, _) => self.of_number(a),
            Number::Lookup { table, keys, .. } => self.of_keys(table, keys),
            Number::Gather(_, over, value, empty) => {
                self.of_loop(over).saturating_add(self.of_number(value)).saturating_add(self.of_number(empty))
            }
            Number::Mean(over, value, weight) => {
                self.of_loop(over).saturating_add(self.of_number(value)).saturating_add(self.of_number(weight))
            }
            Number::Count(over) => self.of_loop(over),
        };
        parts.saturating_add(1)
    }

    fn of_keys(&self, table: u32, keys: u32) -> u64 {
        let keys = self.rules.program.keys_of(table, keys).iter();
        keys.map(|key| if let Key::Number(node) = key { self.of_number(*node) } else { 1 }).fold(0, u64::saturating_add)
    }

    pub(super) fn condition_cost(&self, condition: Condition) -> u64 {
        let arguments = |start: u32, len: u32| self.rules.program.arguments(start, len);
        let parts = match condition {
            Condition::And { start, len } | Condition::Or { start, len } => {
                arguments(start, len).iter().map(|part| self.of_condition(*part)).fold(0, u64::saturating_add)
            }
            Condition::Not(part) => self.of_condition(part),
            Condition::Compare { left, right, .. } | Condition::Equal(left, right) => {
                self.of_number(left).saturating_add(self.of_number(right))
            }
            Condition::Every(over, body) | Condition::Some(over, body) => {
                self.of_loop(over).saturating_add(self.of_condition(body))
            }
            Condition::WithinLast(date, _) => self.of_number(date),
            Condition::Constant(_)
            | Condition::CompareConstant { .. }
            | Condition::CompareScaled { .. }
            | Condition::Words(..)
            | Condition::SameWords(..)
            | Condition::SameText(..)
            | Condition::SameLetters(..)
            | Condition::Fits(..)
            | Condition::Alike { .. }
            | Condition::Absent(..)
            | Condition::Recorded(..)
            | Condition::Confirmed { .. }
            | Condition::Logged(_) => 1,
        };
        parts.saturating_add(1)
    }
}
