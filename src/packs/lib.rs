//! The packs that come with cotterpin. The build script made them ready.

use cotterpin_lang::diagnostic::Diagnostic;
use cotterpin_lang::packs::{self, PrebuiltPack, Words};

pub use cotterpin_lang::packs::{PackText, Prebuilt};

include!(concat!(env!("OUT_DIR"), "/prebuilt.rs"));

/// The packs that come with cotterpin.
pub static LIBRARY: Prebuilt = Prebuilt::new(PACKS, include_bytes!(concat!(env!("OUT_DIR"), "/prebuilt.bin")));

/// The names of the packs that come with cotterpin.
#[must_use]
pub fn built_in_names() -> Vec<&'static str> {
    LIBRARY.names()
}

/// The named built-in packs with everything they build on.
///
/// # Errors
/// A message if there is no such pack.
pub fn built_in(names: &[&str]) -> Result<Vec<PackText>, Diagnostic> {
    LIBRARY.with_uses(names)
}

/// The words that packs declare, in the order they stand, found without checking the packs.
#[must_use]
pub fn declared_words(packs: &[PackText]) -> Words {
    packs::declared_words(&LIBRARY, packs)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every pack was made ready: nothing is to be said of any file of it, nor of the choices of a new project.
    #[test]
    fn every_pack_is_ready() {
        assert!(LIBRARY.has_all_trees());
        let choices = LIBRARY.choices();
        for country in ["au", "ca", "nz", "uk", "us"] {
            assert!(
                choices.iter().any(|names| names.contains(&country) && names.contains(&"workmanship")),
                "{country}"
            );
        }
        assert!(choices.iter().any(|names| names.iter().all(|name| name.len() > 2)));
    }
}
