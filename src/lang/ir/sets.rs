//! Sets of words of a choice, and sets of roles.

use super::ids::RoleId;
use crate::quantity::Truth;

/// The words that something may be, and whether it may be absent.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ChoiceSet(u64);

/// Stands for "known to be absent"; a choice has fewer words than that.
const ABSENT: u64 = 1 << 63;

impl ChoiceSet {
    /// Known to be none of the words.
    pub const ABSENT: Self = Self(ABSENT);
    /// Every word, or none.
    pub const ANYTHING: Self = Self(!0);

    /// The words whose bits are set, by place in their choice.
    #[must_use]
    pub const fn of_bits(bits: u64) -> Self {
        Self(bits & !ABSENT)
    }

    /// One word, by its place in the choice. A choice has at most 60 words.
    #[must_use]
    pub fn word(place: usize) -> Self {
        Self(1 << place.min(62))
    }

    /// Yes, or no.
    #[must_use]
    pub fn yes_or_no(yes: bool) -> Self {
        Self::word(usize::from(yes))
    }

    /// The first so many words of a choice: all that it has.
    #[must_use]
    pub fn first(count: usize) -> Self {
        Self((1u64 << count.min(62)).saturating_sub(1))
    }

    /// These words and those.
    #[must_use]
    pub const fn or(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }

    /// What is in both.
    #[must_use]
    pub const fn and(self, other: Self) -> Self {
        Self(self.0 & other.0)
    }

    /// What is not in it, absence included.
    #[must_use]
    pub const fn others(self) -> Self {
        Self(!self.0)
    }

    /// These words, or none at all.
    #[must_use]
    pub const fn or_absent(self) -> Self {
        Self(self.0 | ABSENT)
    }

    /// Whether it may be known to be none of the words.
    #[must_use]
    pub const fn may_be_absent(self) -> bool {
        self.0 & ABSENT != 0
    }

    /// Whether nothing at all is in it.
    #[must_use]
    pub const fn is_empty(self) -> bool {
        self.0 == 0
    }

    /// Whether it is one word, or absence, for certain.
    #[must_use]
    pub const fn is_single(self) -> bool {
        self.0.count_ones() == 1
    }

    /// Each of its words by itself; absence is no word.
    pub fn each(self) -> impl Iterator<Item = Self> {
        let mut left = self.0 & !ABSENT;
        std::iter::from_fn(move || {
            let lowest = left & left.wrapping_neg();
            left ^= lowest;
            (lowest != 0).then_some(Self(lowest))
        })
    }

    /// Whether the possible words all, or none, are among the allowed ones.
    /// A comparison with absence is undecided, unless absence is what is asked for.
    #[inline]
    #[must_use]
    pub fn among(self, allowed: Self) -> Truth {
        if self.0 & !allowed.0 == 0 {
            Truth::True
        } else if self.0 & (allowed.0 | ABSENT) == 0 {
            Truth::False
        } else {
            Truth::Undecided
        }
    }

    /// Whether two things of one choice are the same word.
    #[must_use]
    pub fn same(self, other: Self) -> Truth {
        if self.or(other).may_be_absent() {
            Truth::Undecided
        } else if self == other && self.is_single() {
            Truth::True
        } else if self.and(other).is_empty() {
            Truth::False
        } else {
            Truth::Undecided
        }
    }
}

/// The roles in which somebody must speak or sign.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct RoleSet(u64);

/// Roles from this place on share one bit, so that none of them is the one asked for.
const SHARED: usize = 62;

impl RoleSet {
    /// No role in particular.
    pub const ANY: Self = Self(0);

    /// One role.
    #[must_use]
    pub fn of(role: RoleId) -> Self {
        let mut one = Self::ANY;
        one.add(role);
        one
    }

    /// Adds a role.
    pub fn add(&mut self, role: RoleId) {
        self.0 |= 1 << role.index().min(SHARED);
    }

    /// Whether a word in that role counts.
    #[must_use]
    pub fn hears(self, role: RoleId) -> bool {
        self == Self::ANY || self.0 & (1 << role.index().min(63)) != 0
    }

    /// Whether a role is in both sets.
    #[must_use]
    pub fn meets(self, other: Self) -> bool {
        self.0 & other.0 != 0
    }

    /// Whether a signature in that role counts. Roles that share
    /// the last bit cannot be told apart, so none of them is the one asked for.
    #[must_use]
    pub fn signs(self, role: RoleId) -> bool {
        let place = role.index();
        self == Self::ANY || place < SHARED && self.0 & (1 << place) != 0
    }
}

mod stored {
    use super::{ChoiceSet, RoleSet};
    use crate::codec::{Codec, Reader, Writer};

    impl Codec for ChoiceSet {
        fn encode(&self, to: &mut Writer<'_>) {
            self.0.encode(to);
        }

        fn decode(from: &mut Reader<'_>) -> Option<Self> {
            u64::decode(from).map(Self)
        }
    }

    impl Codec for RoleSet {
        fn encode(&self, to: &mut Writer<'_>) {
            self.0.encode(to);
        }

        fn decode(from: &mut Reader<'_>) -> Option<Self> {
            u64::decode(from).map(Self)
        }
    }
}
