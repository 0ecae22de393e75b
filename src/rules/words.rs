//! The words that packs declare, found without checking the packs.
//!
//! A line of the log must be written quickly, and even where a pack of the
//! builder's own has a mistake: what cannot be read of a pack is left out.

use super::pack::PackText;
use crate::source::{SharedText, Sources};
use crate::syntax;
use crate::syntax::tree::{Declaration, WordsKind};

/// The words of a set of packs that a line of the log may use, with their titles.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Words {
    /// Parts that can be inspected or disturbed.
    pub subjects: Vec<(String, String)>,
    /// Zones.
    pub zones: Vec<(String, String)>,
    /// Roles.
    pub roles: Vec<(String, String)>,
    /// Hold points.
    pub hold_points: Vec<(String, String)>,
}

/// The words that packs declare, in the order they stand.
///
/// ```
/// use cotterpin::rules::{PackText, declared_words};
/// let text = "subjects\n  canopy.latch \"Canopy latch\"\nitem broken".to_owned();
/// let pack = PackText { files: vec![("kit.checklist".into(), text.into())], ..PackText::default() };
/// assert_eq!(declared_words(&[pack]).subjects, [("canopy.latch".to_owned(), "Canopy latch".to_owned())]);
/// ```
#[must_use]
pub fn declared_words(packs: &[PackText]) -> Words {
    let (mut words, mut sources) = (Words::default(), Sources::default());
    for (name, text) in packs.iter().flat_map(|pack| &pack.files) {
        let text = SharedText::of(text);
        let id = sources.add(name.clone(), text.clone());
        for declaration in syntax::parse(id, &text, false, &mut Vec::new()) {
            let Declaration::Words(kind, declared) = declaration else { continue };
            let titles = match kind {
                WordsKind::Subjects => &mut words.subjects,
                WordsKind::Zones => &mut words.zones,
                WordsKind::Roles => &mut words.roles,
                WordsKind::HoldPoints => &mut words.hold_points,
                WordsKind::Systems | WordsKind::Evidence => continue,
            };
            titles.extend(declared.into_iter().map(|word| (word.name.text.into(), word.title.text.into())));
        }
    }
    words
}
