//! Three-valued truth: the strong logic of Kleene.

use std::fmt;
use std::ops::Not;

/// What a condition can say about a set of possible values.
///
/// `True` holds for every possible value, `False` for none, `Undecided` is the
/// rest. The connectives are the strong three-valued tables of S. C. Kleene,
/// *Introduction to Metamathematics* (1952), section 64:
///
/// | `and` | F | U | T |   | `or` | F | U | T |   | `not` |   |
/// |-------|---|---|---|---|------|---|---|---|---|-------|---|
/// | **F** | F | F | F |   | **F**| F | U | T |   | **F** | T |
/// | **U** | F | U | U |   | **U**| U | U | T |   | **U** | U |
/// | **T** | F | U | T |   | **T**| T | T | T |   | **T** | F |
///
/// The order is `False < Undecided < True`, so that `and` is the lesser and
/// `or` the greater of the two.
#[repr(u8)]
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Truth {
    /// Holds for no possible value.
    False = 0,
    /// Holds for some possible values, or nothing is known.
    Undecided = 1,
    /// Holds for every possible value.
    True = 2,
}

impl Truth {
    /// Both hold: the lesser of the two.
    #[inline]
    #[must_use]
    pub const fn and(self, other: Truth) -> Truth {
        if (self as u8) < (other as u8) { self } else { other }
    }

    /// Either holds: the greater of the two.
    #[inline]
    #[must_use]
    pub const fn or(self, other: Truth) -> Truth {
        if (self as u8) > (other as u8) { self } else { other }
    }

    /// All hold; of nothing at all this is `True`.
    #[must_use]
    pub fn all(items: impl IntoIterator<Item = Truth>) -> Truth {
        let mut result = Truth::True;
        for item in items {
            result = result.and(item);
            if result == Truth::False {
                break;
            }
        }
        result
    }

    /// At least one holds; of nothing at all this is `False`.
    #[must_use]
    pub fn any(items: impl IntoIterator<Item = Truth>) -> Truth {
        let mut result = Truth::False;
        for item in items {
            result = result.or(item);
            if result == Truth::True {
                break;
            }
        }
        result
    }

    /// `True` where the first holds, `False` where the second does, else
    /// `Undecided`. Worked out without a branch, because the outcome of a
    /// comparison is what a processor cannot foresee.
    #[inline]
    pub(crate) const fn decide(holds: bool, fails: bool) -> Truth {
        match (holds as u8) << 1 | (!holds & !fails) as u8 {
            0 => Truth::False,
            1 => Truth::Undecided,
            _ => Truth::True,
        }
    }

    /// Whether this is `True` or `False`.
    #[inline]
    #[must_use]
    pub const fn is_decided(self) -> bool {
        !matches!(self, Truth::Undecided)
    }
}

impl Not for Truth {
    type Output = Truth;

    #[inline]
    fn not(self) -> Truth {
        match self {
            Truth::False => Truth::True,
            Truth::Undecided => Truth::Undecided,
            Truth::True => Truth::False,
        }
    }
}

impl From<bool> for Truth {
    #[inline]
    fn from(value: bool) -> Truth {
        if value { Truth::True } else { Truth::False }
    }
}

impl fmt::Display for Truth {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Truth::False => "false",
            Truth::Undecided => "undecided",
            Truth::True => "true",
        })
    }
}
