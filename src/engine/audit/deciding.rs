//! The facts that decide most of what applies: those that the `when` of most items reads.

use crate::ir::{Arena, Child, FactId, Item, Origin, Rules};
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

/// So many are asked before all else.
const MOST: usize = 16;
/// What fewer items read to see whether they apply can wait.
const FEWEST: usize = 3;

/// The facts, each with the number of items that may apply or not by it, in the order in which the packs declare them.
pub(super) fn deciding(rules: &Rules) -> BTreeMap<FactId, usize> {
    let mut read_by: Arena<FactId, usize> = Arena::filled(0, rules.facts.len());
    for item in &rules.items {
        for fact in read_by_when(rules, item) {
            if let Some(count) = read_by.get_mut(fact) {
                *count = count.saturating_add(1);
            }
        }
    }
    let mut most: Vec<(FactId, usize)> =
        read_by.with_ids().map(|(id, count)| (id, *count)).filter(|(_, count)| *count >= FEWEST).collect();
    most.sort_by_key(|(id, count)| (Reverse(*count), *id));
    most.truncate(MOST);
    most.into_iter().collect()
}

/// The facts that an item reads to see whether it applies.
fn read_by_when(rules: &Rules, item: &Item) -> BTreeSet<FactId> {
    let program = &rules.program;
    let mut facts = BTreeSet::new();
    let mut open: Vec<Child> = item.when.map(Child::Condition).into_iter().collect();
    while let Some(child) = open.pop() {
        match child {
            Child::Condition(node) => {
                let condition = program.conditions.get(node).copied();
                open.extend(condition.into_iter().flat_map(|one| program.children_of_condition(one)));
            }
            Child::Number(node) | Child::IfEmpty(node) => {
                let number = program.numbers.get(node).copied();
                open.extend(number.into_iter().flat_map(|one| program.children_of_number(one)));
            }
            Child::Read(operand) => {
                if let Some(Origin::Slot(slot)) = operand.origin() {
                    facts.extend(program.slots.fact(slot));
                }
            }
            Child::Records(over) => open.extend(over.condition.map(Child::Condition)),
            Child::Column { .. } => {}
        }
    }
    facts
}
