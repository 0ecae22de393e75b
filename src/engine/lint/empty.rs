//! Would a list recorded as empty let an item pass without a lint?

use crate::eval::{Evaluation, Facts};
use crate::ir::{Child, Condition, ConditionId, Item, ListId, Loop, NumberId, Origin, Program, Rules, Run};
use crate::quantity::{Date, DateRange, Truth};

/// What an empty list does to a condition, everything else granted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Empty {
    /// The condition does not lint at the list.
    Elsewhere,
    /// It holds because the list is empty.
    Passes,
    /// It does not hold, or is left open.
    Holds,
}

/// Whether the parts of an item's need that lint at a list all hold when it is
/// recorded as empty. Each part is looked at on its own, the others granted.
pub(crate) fn passes_when_empty(rules: &Rules, item: &Item, id: ListId, facts: &mut Facts) -> bool {
    let Some(day) = Date::new(2000, 1, 1).map(DateRange::day) else { return false };
    facts.set_whole(id, true);
    let evaluation = Evaluation::new(&rules.program, facts, day);
    let applies = item.when.is_none_or(|when| evaluation.decide_for(when, None) != Truth::False);
    let lint = EmptyListLint { program: &rules.program, evaluation, list: id };
    let passes = applies && lint.at(item.need) == Empty::Passes;
    facts.set_whole(id, false);
    passes
}

struct EmptyListLint<'a> {
    program: &'a Program,
    evaluation: Evaluation<'a>,
    list: ListId,
}

impl EmptyListLint<'_> {
    fn at(&self, node: ConditionId) -> Empty {
        let parts = |parts: Run<ConditionId>| self.program.arguments.get(parts).iter().map(|part| self.at(*part));
        match self.program.conditions.get(node).copied() {
            Some(Condition::And(all)) => {
                let found: Vec<Empty> = parts(all).collect();
                let any = |what: Empty| found.contains(&what);
                match (any(Empty::Holds), any(Empty::Passes)) {
                    (true, _) => Empty::Holds,
                    (false, true) => Empty::Passes,
                    (false, false) => Empty::Elsewhere,
                }
            }
            Some(Condition::Or(all)) => {
                let found: Vec<Empty> = parts(all).collect();
                let any = |what: Empty| found.contains(&what);
                match (any(Empty::Passes), any(Empty::Elsewhere)) {
                    (true, _) => Empty::Passes,
                    (false, true) => Empty::Elsewhere,
                    (false, false) => Empty::Holds,
                }
            }
            _ if !self.in_condition(node) => Empty::Elsewhere,
            _ if self.evaluation.decide_for(node, None) == Truth::True => Empty::Passes,
            _ => Empty::Holds,
        }
    }

    /// Whether a condition looks at the list.
    fn in_condition(&self, node: ConditionId) -> bool {
        let Some(condition) = self.program.conditions.get(node).copied() else { return false };
        self.program.children_of_condition(condition).any(|child| self.in_child(child))
    }

    fn in_number(&self, node: NumberId) -> bool {
        let Some(number) = self.program.numbers.get(node).copied() else { return false };
        self.program.children_of_number(number).any(|child| self.in_child(child))
    }

    fn in_child(&self, child: Child) -> bool {
        match child {
            Child::Condition(node) => self.in_condition(node),
            Child::Number(node) | Child::IfEmpty(node) => self.in_number(node),
            Child::Read(operand) => matches!(operand.origin(), Some(Origin::Field { list, .. }) if list == self.list),
            Child::Records(over) => self.in_loop(over),
            Child::Column { list, .. } => list == self.list,
        }
    }

    fn in_loop(&self, over: Loop) -> bool {
        over.list == self.list || over.condition.is_some_and(|condition| self.in_condition(condition))
    }
}
