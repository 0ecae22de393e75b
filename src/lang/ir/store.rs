//! Where a value of one of the three stores is read from.

use super::ids::{AnyColumn, AnySlot, ColumnId, ConstantId, InStore, ListId, LoopId, Numbers, SlotId, Texts, Words};

/// Where a value of a store is read from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Operand<S> {
    /// A fact's slot.
    Slot(SlotId<S>),
    /// A column of the record that a loop stands at.
    Field {
        /// The list.
        list: ListId,
        /// The column.
        column: ColumnId<S>,
        /// The loop.
        frame: LoopId,
    },
    /// A constant of the program.
    Constant(ConstantId<S>),
}

/// Where a value of any store is read from.
pub type AnyOperand = InStore<Operand<Numbers>, Operand<Words>, Operand<Texts>>;

impl AnyOperand {
    /// A fact.
    #[must_use]
    pub fn slot(slot: AnySlot) -> Self {
        match slot {
            InStore::Numbers(slot) => Self::Numbers(Operand::Slot(slot)),
            InStore::Words(slot) => Self::Words(Operand::Slot(slot)),
            InStore::Texts(slot) => Self::Texts(Operand::Slot(slot)),
        }
    }

    /// A field of the record that a loop over a list stands at.
    #[must_use]
    pub fn field(list: ListId, column: AnyColumn, frame: LoopId) -> Self {
        match column {
            InStore::Numbers(column) => Self::Numbers(Operand::Field { list, column, frame }),
            InStore::Words(column) => Self::Words(Operand::Field { list, column, frame }),
            InStore::Texts(column) => Self::Texts(Operand::Field { list, column, frame }),
        }
    }

    /// The fact or field it reads; `None` for a constant.
    #[inline]
    #[must_use]
    pub fn origin(self) -> Option<Origin> {
        match self {
            Self::Numbers(operand) => operand.origin(InStore::Numbers, InStore::Numbers),
            Self::Words(operand) => operand.origin(InStore::Words, InStore::Words),
            Self::Texts(operand) => operand.origin(InStore::Texts, InStore::Texts),
        }
    }
}

/// What an operand that is no constant reads.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// A fact.
    Slot(AnySlot),
    /// A field of the record that a loop stands at.
    Field {
        /// The list.
        list: ListId,
        /// The column.
        column: AnyColumn,
        /// The loop.
        frame: LoopId,
    },
}

impl<S> Operand<S> {
    #[inline]
    fn origin(self, slot_of: fn(SlotId<S>) -> AnySlot, column_of: fn(ColumnId<S>) -> AnyColumn) -> Option<Origin> {
        match self {
            Self::Slot(slot) => Some(Origin::Slot(slot_of(slot))),
            Self::Field { list, column, frame } => Some(Origin::Field { list, column: column_of(column), frame }),
            Self::Constant(_) => None,
        }
    }
}
