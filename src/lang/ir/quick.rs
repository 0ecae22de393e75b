//! The plain rules once more, as a row of comparisons without branches: most
//! rules are a few comparisons of facts with constants, joined by `and` with an
//! `or` here and there. Deciding them in one sweep costs less than asking after
//! each part whether the rest still matters.

use super::{Condition, NO_NODE, Number, Operand, Order, Program};

/// One comparison, and how it joins the next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Quick {
    /// Words of a slot among the allowed.
    Words {
        /// What ends with it.
        end: End,
        /// The slot.
        slot: u32,
        /// The words allowed.
        allowed: u64,
    },
    /// A slot against a constant.
    Constant {
        /// What ends with it.
        end: End,
        /// The ordering.
        order: Order,
        /// The slot on the left.
        slot: u32,
        /// The constant on the right.
        constant: u32,
    },
    /// A slot against a slot.
    Slots {
        /// What ends with it.
        end: End,
        /// The ordering.
        order: Order,
        /// The slot on the left.
        slot: u32,
        /// The slot on the right.
        other: u32,
    },
    /// A slot against a slot times a constant.
    Scaled {
        /// What ends with it.
        end: End,
        /// The ordering.
        order: Order,
        /// The slot on the left.
        slot: u32,
        /// The constant.
        factor: u32,
        /// The slot on the right.
        other: u32,
    },
}

/// What ends with a comparison.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// Nothing: `or` the next one.
    Nothing,
    /// A part of the whole: `and` the next part.
    Part,
    /// The whole.
    Whole,
}

impl Quick {
    fn end_mut(&mut self) -> &mut End {
        match self {
            Self::Words { end, .. }
            | Self::Constant { end, .. }
            | Self::Slots { end, .. }
            | Self::Scaled { end, .. } => end,
        }
    }
}

/// The rows of comparisons of a program.
#[derive(Debug, Clone, Default)]
pub struct Rows {
    comparisons: Vec<Quick>,
    /// Where the row of each condition begins; [`NO_NODE`] where it has none.
    begins: Vec<u32>,
}

impl Program {
    /// Lays out the rows of these conditions, where they are plain enough.
    /// Whoever changes a condition afterwards lays them out again.
    pub fn lay_out(&mut self, conditions: impl IntoIterator<Item = u32>) {
        let mut rows = Rows::default();
        for node in conditions {
            let begin = rows.comparisons.len();
            if self.row(node, &mut rows.comparisons).is_none() || rows.comparisons.len() == begin {
                rows.comparisons.truncate(begin);
                continue;
            }
            if let Some(last) = rows.comparisons.last_mut() {
                *last.end_mut() = End::Whole;
            }
            let at = node as usize;
            if rows.begins.len() <= at {
                rows.begins.resize(at.saturating_add(1), NO_NODE);
            }
            if let (Some(place), Ok(begin)) = (rows.begins.get_mut(at), u32::try_from(begin)) {
                *place = begin;
            }
        }
        rows.comparisons.shrink_to_fit();
        rows.begins.shrink_to_fit();
        self.rows = rows;
    }

    /// The row of a condition and what comes after it; empty if it has none.
    #[inline]
    pub fn quick(&self, node: u32) -> &[Quick] {
        let begin = self.rows.begins.get(node as usize).copied().unwrap_or(NO_NODE);
        self.rows.comparisons.get(begin as usize..).unwrap_or(&[])
    }

    /// Adds the parts of a condition; `None` if one is not plain.
    fn row(&self, node: u32, into: &mut Vec<Quick>) -> Option<()> {
        match *self.conditions.get(node as usize)? {
            Condition::And { start, len } => {
                self.arguments(start, len).iter().try_for_each(|part| self.row(*part, into))
            }
            _ => {
                self.part(node, into)?;
                *into.last_mut()?.end_mut() = End::Part;
                Some(())
            }
        }
    }

    /// Adds comparisons of which one must hold.
    fn part(&self, node: u32, into: &mut Vec<Quick>) -> Option<()> {
        let end = End::Nothing;
        into.push(match *self.conditions.get(node as usize)? {
            // Of no parts none holds, which no row can say.
            Condition::Or { len: 0, .. } => return None,
            Condition::Or { start, len } => {
                return self.arguments(start, len).iter().try_for_each(|part| self.part(*part, into));
            }
            Condition::Words(Operand::Slot(slot), allowed) => Quick::Words { end, slot, allowed },
            Condition::CompareConstant { order, slot, constant, .. } => Quick::Constant { end, order, slot, constant },
            Condition::CompareScaled { order, slot, sides } => {
                let &[factor, other, ..] = self.arguments(sides, 2) else { return None };
                Quick::Scaled { end, order, slot, factor, other }
            }
            Condition::Compare { order, left, right } => {
                Quick::Slots { end, order, slot: self.slot_of(left)?, other: self.slot_of(right)? }
            }
            _ => return None,
        });
        Some(())
    }

    fn slot_of(&self, number: u32) -> Option<u32> {
        match self.numbers.get(number as usize)? {
            Number::Read(Operand::Slot(slot)) => Some(*slot),
            _ => None,
        }
    }
}
