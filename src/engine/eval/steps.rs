//! How many steps an item takes with the records there are, known before any is
//! taken: what goes through records for each of other records grows as their
//! product, and an item that would take too many is left undecided.

use crate::ir::{
    Arena, Child, Condition, ConditionId, Item, ItemId, ListId, Number, NumberId, Program, Rules, Sameness,
};
use std::collections::BTreeSet;

/// An item that goes through records for each of other records may take so many steps: tenths of a second.
pub(crate) const MOST_STEPS: u64 = 1_000_000;
/// So many may all such items take together, in the order of the packs.
pub(crate) const MOST_OF_ALL: u64 = 20 * MOST_STEPS;

/// What a node takes.
#[derive(Debug, Clone, Copy, Default)]
struct Work {
    /// Each time that it is asked for.
    each: u64,
    /// Once, whoever asks for it.
    once: u64,
    /// How many loops stand in one another, a lookup in a table counted as one.
    nested: u32,
}

impl Work {
    fn and(self, other: Self) -> Self {
        Self {
            each: self.each.saturating_add(other.each),
            once: self.once.saturating_add(other.once),
            nested: self.nested.max(other.nested),
        }
    }

    /// Done for each of some records, or rows.
    fn times(self, records: u64) -> Self {
        Self { each: self.each.saturating_mul(records), nested: self.nested.saturating_add(1), ..self }
    }

    /// Of what comes to the same wherever it is asked for.
    fn kept(self, same: Sameness) -> Self {
        match same {
            Sameness::Never => self,
            Sameness::OnADay | Sameness::Always => Self { each: 1, once: self.once.saturating_add(self.each), ..self },
        }
    }
}

/// A count over the nodes of a program.
struct Counting<'a> {
    program: &'a Program,
    /// How many records a list has.
    records: &'a dyn Fn(ListId) -> u64,
    conditions: Arena<ConditionId, Option<Work>>,
    numbers: Arena<NumberId, Option<Work>>,
}

/// The items that would take too many steps with so many records of each list.
pub(crate) fn too_long(rules: &Rules, records: impl Fn(ListId) -> u64) -> BTreeSet<ItemId> {
    let program = &rules.program;
    let mut counting = Counting {
        program,
        records: &records,
        conditions: Arena::filled(None, program.conditions.len()),
        numbers: Arena::filled(None, program.numbers.len()),
    };
    let (mut found, mut of_all) = (BTreeSet::new(), 0u64);
    for (id, item) in rules.items.with_ids() {
        let work = counting.item(item);
        if work.nested < 2 {
            continue;
        }
        let steps = work.each.saturating_add(work.once);
        let with_others = of_all.saturating_add(steps);
        if steps > MOST_STEPS || with_others > MOST_OF_ALL {
            found.insert(id);
        } else {
            of_all = with_others;
        }
    }
    found
}

impl Counting<'_> {
    fn item(&mut self, item: &Item) -> Work {
        let when = item.when.map_or_else(Work::default, |when| self.condition(when));
        let lets = item.lets.iter().fold(when, |work, one| work.and(self.number(one.node)));
        let work = lets.and(self.condition(item.need));
        item.each.map_or(work, |list| work.times((self.records)(list).max(1)))
    }

    fn condition(&mut self, id: ConditionId) -> Work {
        if let Some(known) = self.conditions.get(id).copied().flatten() {
            return known;
        }
        let Some(condition) = self.program.conditions.get(id).copied() else { return Work::default() };
        let program = self.program;
        let parts = self.all(program.children_of_condition(condition));
        let work = match condition {
            Condition::Every(over, _) | Condition::Some(over, _) => {
                parts.times((self.records)(over.list)).kept(over.same)
            }
            _ => parts,
        };
        self.conditions.set(id, Some(work));
        work
    }

    fn number(&mut self, id: NumberId) -> Work {
        if let Some(known) = self.numbers.get(id).copied().flatten() {
            return known;
        }
        let Some(number) = self.program.numbers.get(id).copied() else { return Work::default() };
        let program = self.program;
        let parts = self.all(program.children_of_number(number));
        let work = match number {
            Number::Aggregate(_, over, ..) | Number::Mean(over, ..) | Number::Count(over) => {
                parts.times((self.records)(over.list)).kept(over.same)
            }
            Number::Lookup { table, same, .. } => {
                let rows = program.tables.get(table).map_or(0, |table| table.rows.len());
                parts.times(rows as u64).kept(same)
            }
            _ => parts,
        };
        self.numbers.set(id, Some(work));
        work
    }

    /// A step, and those of what something is made of.
    fn all(&mut self, children: impl Iterator<Item = Child>) -> Work {
        let step = Work { each: 1, ..Work::default() };
        children.fold(step, |work, child| {
            work.and(match child {
                Child::Condition(id) => self.condition(id),
                Child::Number(id) | Child::IfEmpty(id) => self.number(id),
                Child::Records(over) => over.condition.map_or_else(Work::default, |id| self.condition(id)),
                Child::Column { list, .. } => Work { each: (self.records)(list), ..Work::default() },
                Child::Read(_) => Work::default(),
            })
        })
    }
}
