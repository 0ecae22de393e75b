//! Texts that are copied for nobody.

use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::borrow::{Borrow, Cow};
use std::cmp::Ordering;
use std::fmt;
use std::hash::{Hash, Hasher};
use std::ops::Deref;
use std::sync::Arc;

/// A text that is copied for nobody: one that came with the binary stays where
/// it is, one that was read is shared.
///
/// ```
/// use cotterpin_lang::source::SharedText;
/// let title = SharedText::from("The canopy has a second catch");
/// assert_eq!(title, "The canopy has a second catch");
/// assert!(title.starts_with("The canopy"));
/// ```
#[derive(Clone)]
pub struct SharedText(Text);

#[derive(Clone)]
enum Text {
    /// Part of the binary.
    Static(&'static str),
    /// Read from somewhere.
    Read(Arc<str>),
}

impl SharedText {
    /// A text that was read from somewhere, copied once.
    ///
    /// ```
    /// let read = String::from("x = 1");
    /// assert_eq!(cotterpin_lang::source::SharedText::copied(&read).as_str(), "x = 1");
    /// ```
    #[must_use]
    pub fn copied(text: &str) -> Self {
        Self(Text::Read(text.into()))
    }

    /// The text.
    #[inline]
    #[must_use]
    pub fn as_str(&self) -> &str {
        match &self.0 {
            Text::Static(text) => text,
            Text::Read(text) => text,
        }
    }
}

impl Default for SharedText {
    fn default() -> Self {
        Self(Text::Static(""))
    }
}

/// As the text, wherever it stands.
impl PartialEq for SharedText {
    fn eq(&self, other: &Self) -> bool {
        self.as_str() == other.as_str()
    }
}

impl Eq for SharedText {}

impl PartialOrd for SharedText {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for SharedText {
    fn cmp(&self, other: &Self) -> Ordering {
        self.as_str().cmp(other.as_str())
    }
}

impl Hash for SharedText {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.as_str().hash(state);
    }
}

impl Deref for SharedText {
    type Target = str;

    #[inline]
    fn deref(&self) -> &str {
        self.as_str()
    }
}

impl Borrow<str> for SharedText {
    #[inline]
    fn borrow(&self) -> &str {
        self.as_str()
    }
}

impl AsRef<str> for SharedText {
    fn as_ref(&self) -> &str {
        self.as_str()
    }
}

impl From<&'static str> for SharedText {
    fn from(text: &'static str) -> Self {
        Self(Text::Static(text))
    }
}

impl From<Cow<'static, str>> for SharedText {
    fn from(text: Cow<'static, str>) -> Self {
        match text {
            Cow::Borrowed(text) => text.into(),
            Cow::Owned(text) => text.into(),
        }
    }
}

impl From<String> for SharedText {
    fn from(text: String) -> Self {
        Self(Text::Read(text.into()))
    }
}

impl From<SharedText> for String {
    fn from(text: SharedText) -> Self {
        text.as_str().to_owned()
    }
}

impl PartialEq<str> for SharedText {
    fn eq(&self, other: &str) -> bool {
        self.as_str() == other
    }
}

impl PartialEq<&str> for SharedText {
    fn eq(&self, other: &&str) -> bool {
        self.as_str() == *other
    }
}

impl PartialEq<String> for SharedText {
    fn eq(&self, other: &String) -> bool {
        self.as_str() == *other
    }
}

impl PartialEq<SharedText> for String {
    fn eq(&self, other: &SharedText) -> bool {
        *self == *other.as_str()
    }
}

impl PartialEq<SharedText> for str {
    fn eq(&self, other: &SharedText) -> bool {
        self == other.as_str()
    }
}

impl PartialEq<SharedText> for &str {
    fn eq(&self, other: &SharedText) -> bool {
        *self == other.as_str()
    }
}

impl fmt::Display for SharedText {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self.as_str(), f)
    }
}

/// As the text alone.
impl fmt::Debug for SharedText {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Debug::fmt(self.as_str(), f)
    }
}

impl Serialize for SharedText {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.serialize_str(self)
    }
}

impl<'de> Deserialize<'de> for SharedText {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        String::deserialize(from).map(Self::from)
    }
}
