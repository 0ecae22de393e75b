//! Ids: places in the arrays of [`Rules`](crate::ir::Rules), of a
//! [`Program`](super::Program) and of the facts bound to it. Each kind of
//! thing has an id of its own, and only here does an id become a number, so
//! the id of one kind cannot be looked up among another.

use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::cmp::Ordering;
use std::marker::PhantomData;
use std::num::NonZeroU32;

/// The store of numbers, quantities, dates and counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Numbers {}

/// The store of choices, yes or no among them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Words {}

/// The store of texts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Texts {}

/// A place in an [`Arena`](super::Arena).
pub trait Id: Copy {
    /// The id of a place. All places beyond some four thousand million share
    /// one id, under which nothing is found: no text is long enough for that.
    fn new(index: usize) -> Self;
    /// The place of the id.
    fn index(self) -> usize;
}

/// Ids that count from 1 inside, so that an `Option` of one is as small and as fast.
macro_rules! ids {
    ($($(#[$doc:meta])* $name:ident;)+) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(NonZeroU32);

        impl $name {
            /// The id of a place.
            #[inline]
            #[must_use]
            pub fn new(index: usize) -> Self {
                Self(NonZeroU32::MIN.saturating_add(place(index)))
            }

            /// The place of the id.
            #[inline]
            #[must_use]
            pub fn index(self) -> usize {
                self.0.get().wrapping_sub(1) as usize
            }
        }

        impl Id for $name {
            #[inline]
            fn new(index: usize) -> Self {
                Self::new(index)
            }

            #[inline]
            fn index(self) -> usize {
                self.index()
            }
        }
    )+};
}

/// Ids of one store each: those of the numbers are not those of the words.
macro_rules! ids_of_a_store {
    ($($(#[$doc:meta])* $name:ident;)+) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name<S>(u32, PhantomData<S>);

        impl<S> $name<S> {
            /// The id of a place.
            #[inline]
            #[must_use]
            pub fn new(index: usize) -> Self {
                Self(place(index), PhantomData)
            }
        }

        impl<S: Copy> Id for $name<S> {
            #[inline]
            fn new(index: usize) -> Self {
                Self::new(index)
            }

            #[inline]
            fn index(self) -> usize {
                self.0 as usize
            }
        }
    )+};
}

/// The one way from a place to a number of 32 bits.
#[inline]
fn place(index: usize) -> u32 {
    u32::try_from(index).unwrap_or(u32::MAX)
}

ids! {
    /// A fact, by place in [`Rules::facts`](crate::ir::Rules::facts).
    FactId;
    /// A list, by place in [`Rules::lists`](crate::ir::Rules::lists).
    ListId;
    /// An item, by place in [`Rules::items`](crate::ir::Rules::items).
    ItemId;
    /// A pack, by place in [`Rules::packs`](crate::ir::Rules::packs).
    PackId;
    /// A cited document.
    DocumentId;
    /// A hold point.
    HoldPointId;
    /// A zone.
    ZoneId;
    /// A kind of evidence.
    EvidenceId;
    /// A system.
    SystemId;
    /// A role.
    RoleId;
    /// A part that can be inspected or disturbed.
    PartId;
    /// A set of words.
    ChoiceId;
    /// A field of a list, by place in [`List::fields`](crate::ir::List::fields).
    FieldId;
    /// A condition of a program.
    ConditionId;
    /// A number of a program.
    NumberId;
    /// A table.
    TableId;
    /// A column of a table.
    TableColumn;
    /// A named form of text.
    PatternId;
    /// What somebody must have said.
    ConfirmedId;
    /// What the log must show.
    LoggedId;
    /// What a person's word is about.
    AboutId;
    /// A text among those of the bound facts.
    TextId;
    /// A record of a list.
    RowId;
    /// A test of the fast path.
    TestId;
}

ids_of_a_store! {
    /// A fact's slot in a store.
    SlotId;
    /// A column of a list, in a store.
    ColumnId;
    /// A constant of a store.
    ConstantId;
}

/// The id of a thing that the language itself knows nothing of, as a job of a plan.
pub struct IdOf<T>(u32, PhantomData<fn() -> T>);

impl<T> Id for IdOf<T> {
    #[inline]
    fn new(index: usize) -> Self {
        Self(place(index), PhantomData)
    }

    #[inline]
    fn index(self) -> usize {
        self.0 as usize
    }
}

/// As the place of the thing among the others, from 0.
impl<T> Serialize for IdOf<T> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        self.0.serialize(to)
    }
}

impl<'de, T> Deserialize<'de> for IdOf<T> {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        u32::deserialize(from).map(|place| Self(place, PhantomData))
    }
}

impl<T> Clone for IdOf<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T> Copy for IdOf<T> {}

impl<T> PartialEq for IdOf<T> {
    fn eq(&self, other: &Self) -> bool {
        self.0 == other.0
    }
}

impl<T> Eq for IdOf<T> {}

impl<T> PartialOrd for IdOf<T> {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl<T> Ord for IdOf<T> {
    fn cmp(&self, other: &Self) -> Ordering {
        self.0.cmp(&other.0)
    }
}

impl<T> std::fmt::Debug for IdOf<T> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "IdOf({})", self.0)
    }
}

/// The number of a loop among those that enclose a condition, from the outermost.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LoopId(u8);

impl LoopId {
    /// The loop of an item that is raised once per record.
    pub const ITEM: Self = Self(0);

    /// The loop of that depth.
    #[must_use]
    pub fn new(depth: usize) -> Self {
        Self(u8::try_from(depth).unwrap_or(u8::MAX))
    }

    /// How many loops enclose it.
    #[inline]
    #[must_use]
    pub fn index(self) -> usize {
        usize::from(self.0)
    }
}

impl RowId {
    /// The records of a list of so many.
    pub fn all(len: u32) -> impl Iterator<Item = Self> + Clone {
        (1..=len).filter_map(NonZeroU32::new).map(Self)
    }
}

impl TextId {
    /// Constant texts stand first among the texts of bound facts.
    #[inline]
    #[must_use]
    pub fn of_constant(constant: ConstantId<Texts>) -> Self {
        Self::new(constant.index())
    }
}

/// Things that stand side by side among others of their kind.
#[derive(Debug, PartialEq, Eq)]
pub struct Run<T> {
    start: u32,
    len: u32,
    of: PhantomData<fn() -> T>,
}

impl<T> Clone for Run<T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T> Copy for Run<T> {}

impl<T> Run<T> {
    /// So many from a place on.
    #[must_use]
    pub fn new(start: usize, len: usize) -> Self {
        Self { start: place(start), len: place(len), of: PhantomData }
    }

    /// The places.
    #[inline]
    #[must_use]
    pub fn range(self) -> std::ops::Range<usize> {
        let start = self.start as usize;
        start..start.saturating_add(self.len as usize)
    }
}

/// Something of one of the three stores.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum InStore<N, W, T> {
    /// Of the numbers.
    Numbers(N),
    /// Of the words.
    Words(W),
    /// Of the texts.
    Texts(T),
}

/// A fact's slot.
pub type AnySlot = InStore<SlotId<Numbers>, SlotId<Words>, SlotId<Texts>>;
/// A column of a list.
pub type AnyColumn = InStore<ColumnId<Numbers>, ColumnId<Words>, ColumnId<Texts>>;

/// Where the values of a fact or field stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// Of a fact.
    Slot(AnySlot),
    /// Of a field of a list.
    Column(AnyColumn),
}
