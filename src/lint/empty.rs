//! Would a list recorded as empty let an item pass without a look?

use crate::eval::{Evaluation, Facts};
use crate::ir::{AlikePart, Condition, Loop, NO_NODE, Operand, Program, Term};
use crate::ir::{Item, ListId, Rules};
use crate::quantity::{Date, DateRange, Truth};

/// What an empty list does to a condition, everything else granted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Empty {
    /// The condition does not look at the list.
    Elsewhere,
    /// It holds because the list is empty.
    Passes,
    /// It does not hold, or is left open.
    Holds,
}

/// Whether the parts of an item's need that look at a list all hold when it is
/// recorded as empty. Each part is looked at on its own, the others granted.
pub(crate) fn passes_when_empty(rules: &Rules, item: &Item, id: ListId, facts: &mut Facts) -> bool {
    let Some(day) = Date::new(2000, 1, 1).map(DateRange::day) else { return false };
    facts.set_len(id, Some(0));
    let evaluation = Evaluation::new(&rules.program, facts, day);
    let applies = item.when.is_none_or(|when| evaluation.decide_for(when, u32::MAX) != Truth::False);
    let look = Look { program: &rules.program, evaluation, list: id.0 };
    let passes = applies && look.at(item.need) == Empty::Passes;
    facts.set_len(id, None);
    passes
}

struct Look<'a> {
    program: &'a Program,
    evaluation: Evaluation<'a>,
    list: u32,
}

impl Look<'_> {
    fn at(&self, node: u32) -> Empty {
        let parts = |start: u32, len: u32| self.program.arguments(start, len).iter().map(|part| self.at(*part));
        match self.program.conditions.get(node as usize).copied() {
            Some(Condition::And { start, len }) => {
                let found: Vec<Empty> = parts(start, len).collect();
                let any = |what: Empty| found.contains(&what);
                match (any(Empty::Holds), any(Empty::Passes)) {
                    (true, _) => Empty::Holds,
                    (false, true) => Empty::Passes,
                    (false, false) => Empty::Elsewhere,
                }
            }
            Some(Condition::Or { start, len }) => {
                let found: Vec<Empty> = parts(start, len).collect();
                let any = |what: Empty| found.contains(&what);
                match (any(Empty::Passes), any(Empty::Elsewhere)) {
                    (true, _) => Empty::Passes,
                    (false, true) => Empty::Elsewhere,
                    (false, false) => Empty::Holds,
                }
            }
            _ if !self.in_condition(node) => Empty::Elsewhere,
            _ if self.evaluation.decide_for(node, u32::MAX) == Truth::True => Empty::Passes,
            _ => Empty::Holds,
        }
    }

    /// Whether a condition looks at the list.
    fn in_condition(&self, node: u32) -> bool {
        let Some(condition) = self.program.conditions.get(node as usize).copied() else { return false };
        match condition {
            Condition::And { start, len } | Condition::Or { start, len } => {
                self.program.arguments(start, len).iter().any(|part| self.in_condition(*part))
            }
            Condition::Not(part) => self.in_condition(part),
            Condition::Compare { left, right, .. } | Condition::Equal(left, right) => {
                self.in_number(left) || self.in_number(right)
            }
            Condition::WithinLast(date, _) => self.in_number(date),
            Condition::Words(operand, _)
            | Condition::Fits(operand, _)
            | Condition::Absent(_, operand)
            | Condition::Recorded(_, operand) => self.in_operand(operand),
            Condition::SameWords(a, b) | Condition::SameText(a, b) | Condition::SameLetters(a, b) => {
                self.in_operand(a) || self.in_operand(b)
            }
            Condition::Alike { start, len } => {
                let from = start as usize;
                let parts = self.program.alikes.get(from..from.saturating_add(len as usize)).unwrap_or(&[]);
                parts.iter().any(|part| match *part {
                    AlikePart::One(operand) => self.in_operand(operand),
                    AlikePart::Every { list, .. } => list == self.list,
                })
            }
            Condition::Every(over, body) | Condition::Some(over, body) => self.in_loop(over) || self.in_condition(body),
            // These compare facts and constants, or ask people and the log.
            Condition::CompareConstant { .. }
            | Condition::CompareScaled { .. }
            | Condition::Confirmed { .. }
            | Condition::Logged(_)
            | Condition::Constant(_) => false,
        }
    }

    fn in_loop(&self, over: Loop) -> bool {
        over.list == self.list || over.condition != NO_NODE && self.in_condition(over.condition)
    }

    fn in_operand(&self, operand: Operand) -> bool {
        matches!(operand, Operand::Field { list, .. } if list == self.list)
    }

    fn in_number(&self, node: u32) -> bool {
        let Some(number) = self.program.numbers.get(node as usize).copied() else { return false };
        self.program.terms_of(number).any(|term| match term {
            Term::Read(_, operand) => self.in_operand(operand),
            Term::Number(node) => self.in_number(node),
            Term::Records(over) => self.in_loop(over),
        })
    }
}
