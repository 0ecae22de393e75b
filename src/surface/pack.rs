//! A pack of rules, as text.

#[cfg(any(feature = "packs", feature = "disk"))]
use super::message::LoadError;
use cotterpin_engine::rules::PackText;

/// A pack that has not been checked yet: its manifest and its rules.
///
/// ```
/// use cotterpin::{Pack, Rules};
///
/// let manifest = "name='mine'\ntitle='Mine'\nedition='1'\nauthority='none'\nscope='a latch'";
/// let rules = "fact cabin.latches : count ask \"How many catches has the canopy?\"";
/// let rules = Rules::new([Pack::new("mine", manifest, [("mine.checklist", rules)])])?;
/// assert_eq!(rules.facts().count(), 1);
/// # Ok::<(), cotterpin::LoadError>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pack(pub(super) PackText);

impl Pack {
    /// A pack from texts: what it is called in messages, the text of its `pack.toml`, and the names and texts of
    /// its `.checklist` files, which are read in the order of their names.
    pub fn new<N: Into<String>, T: Into<String>>(
        name: impl Into<String>,
        manifest: impl Into<String>,
        files: impl IntoIterator<Item = (N, T)>,
    ) -> Self {
        let files = files.into_iter().map(|(name, text)| (name.into(), text.into().into()));
        Self(PackText { name: name.into(), manifest: manifest.into(), files: files.collect() })
    }

    /// The packs that come with this crate, each named once, with all they build on.
    ///
    /// # Errors
    /// There is no such pack; the nearest name is told.
    #[cfg(feature = "packs")]
    pub fn built_in(names: &[&str]) -> Result<Vec<Self>, LoadError> {
        let texts = cotterpin_packs::built_in(names).map_err(|message| LoadError::one(&message))?;
        Ok(texts.into_iter().map(Self).collect())
    }

    /// The names of the packs that come with this crate.
    #[cfg(feature = "packs")]
    #[must_use]
    pub fn built_in_names() -> Vec<&'static str> {
        cotterpin_packs::built_in_names()
    }

    /// A pack from its folder.
    ///
    /// # Errors
    /// There is no pack, or a file of it cannot be read.
    #[cfg(feature = "disk")]
    pub fn from_folder(folder: impl AsRef<std::path::Path>) -> Result<Self, LoadError> {
        cotterpin_engine::files::read_pack(folder.as_ref()).map(Self).map_err(|message| LoadError::one(&message))
    }
}
