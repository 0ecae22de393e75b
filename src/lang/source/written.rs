//! What is written in a pack, without a copy where the pack stands in the binary.

use serde::{Serialize, Serializer};
use std::borrow::{Borrow, Cow};
use std::fmt;
use std::ops::Deref;

/// A text of a pack. That of a pack in the binary is borrowed from there, and
/// a clone of it costs nothing.
///
/// ```
/// use cotterpin_lang::source::Written;
/// let title = Written::from("The canopy has a second catch");
/// assert_eq!(title, "The canopy has a second catch");
/// assert!(title.starts_with("The canopy"));
/// ```
#[derive(Clone, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Written(Cow<'static, str>);

impl Written {
    /// The text.
    #[inline]
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl Deref for Written {
    type Target = str;

    #[inline]
    fn deref(&self) -> &str {
        &self.0
    }
}

impl Borrow<str> for Written {
    #[inline]
    fn borrow(&self) -> &str {
        &self.0
    }
}

impl AsRef<str> for Written {
    fn as_ref(&self) -> &str {
        &self.0
    }
}

impl From<&'static str> for Written {
    fn from(text: &'static str) -> Self {
        Self(Cow::Borrowed(text))
    }
}

impl From<String> for Written {
    fn from(text: String) -> Self {
        Self(Cow::Owned(text))
    }
}

impl From<Written> for String {
    fn from(written: Written) -> Self {
        written.0.into_owned()
    }
}

impl PartialEq<str> for Written {
    fn eq(&self, other: &str) -> bool {
        self.0 == other
    }
}

impl PartialEq<&str> for Written {
    fn eq(&self, other: &&str) -> bool {
        self.0 == *other
    }
}

impl PartialEq<String> for Written {
    fn eq(&self, other: &String) -> bool {
        self.0 == *other
    }
}

impl PartialEq<Written> for String {
    fn eq(&self, other: &Written) -> bool {
        *self == other.0
    }
}

impl PartialEq<Written> for str {
    fn eq(&self, other: &Written) -> bool {
        *self == other.0
    }
}

impl PartialEq<Written> for &str {
    fn eq(&self, other: &Written) -> bool {
        *self == other.0
    }
}

impl fmt::Display for Written {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(&self.0, f)
    }
}

/// As the text alone.
impl fmt::Debug for Written {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Debug::fmt(&self.0, f)
    }
}

impl Serialize for Written {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.serialize_str(self)
    }
}
